//! Newton's way to an equilibrium of a chain, with the inertia of the matrix as guard.
//!
//! Each step solves the second-order model under the three equations of every held place. Where
//! the matrix has another count of negative eigenvalues than it has equations, the model has no
//! least point and the matrix is shifted until it has one: so the way leads to a least energy and
//! not to a saddle. After every step the held places are restored.
//!
//! All loops run over the edges of one chain, so an index stays in its range.

use super::Vec3;
use super::band::{Band, Dense, Pair, dot};
use super::chain::{Chain, Joint};
use super::touch::{Around, Contacts, Live, Touch};

/// Steps after which a path is given up.
const STEPS: usize = 120;

/// Looks around within which the energy must fall by a [`FALL`] while it is above its ceiling; else the path is given
/// up: it is caught between faces that push it to and fro.
const PATIENCE: usize = 10;

/// A fall of the energy that counts, as a share of what it is above its ceiling.
const FALL: f64 = 0.01;

/// What may be left out of balance, as a share of the moment that bends the hose by a radian over its
/// length and its weight at the end of its length: a millionth turns it by a thousandth of a degree.
const BALANCE: f64 = 1e-6;

/// How far a contact may stand off its surface, or in it [m]: less than a tape or a scan can tell.
const OFF: f64 = 1e-5;

/// Rounds in which contacts are brought to their surfaces.
const PRESSES: usize = 12;

/// Greatest turn of one edge in one step [rad].
const STRIDE: f64 = 0.5;

/// A row of the border: a direction in which a place is tied, hard or springy.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Tie {
    pub(crate) edge: usize,
    pub(crate) along: f64,
    pub(crate) way: Vec3,
    /// Inverse stiffness [m/N]; negative for what pushes away from its middle.
    pub(crate) comply: f64,
    /// How far it is off [m].
    pub(crate) off: f64,
}

/// What a path came to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Came {
    /// Forces balance.
    Balanced,
    /// They don't yet after the most steps allowed, or the places held can't be kept.
    Lost,
}

/// Memory of one solver, kept from path to path.
#[derive(Debug, Clone, Default)]
pub(crate) struct Work {
    /// Directions of the edges.
    pub(crate) t: Vec<Vec3>,
    /// Beginnings of the edges and the last end.
    pub(crate) x: Vec<Vec3>,
    /// Forces of the held places, as multipliers: the hose pulls its holder with them [N].
    pub(crate) y: Vec<Vec3>,
    pub(crate) contacts: Contacts,
    /// Energy above which a path that is caught is not followed [J].
    pub(crate) ceiling: f64,
    /// Steps of the last path.
    pub(crate) steps: usize,
    trial: Vec<Vec3>,
    places: Vec<Vec3>,
    u: Vec<Vec3>,
    v: Vec<Vec3>,
    slope: Vec<Vec3>,
    own: Vec<Vec3>,
    after: Vec<Vec3>,
    g: Vec<Pair>,
    delta: Vec<Pair>,
    ties: Vec<Tie>,
    columns: Vec<Pair>,
    solved: Vec<Pair>,
    q: Vec<f64>,
    pulls: Vec<f64>,
    pub(crate) band: Band,
    dense: Dense,
    small: Dense,
}

impl Work {
    /// Makes room for a chain.
    pub(crate) fn fit(&mut self, chain: &Chain) {
        let n = chain.edges.len();
        for list in [
            &mut self.trial,
            &mut self.u,
            &mut self.v,
            &mut self.slope,
            &mut self.own,
            &mut self.after,
        ] {
            list.resize(n, Vec3::ZERO);
        }
        self.g.resize(n, [0.0; 2]);
        self.delta.resize(n, [0.0; 2]);
        self.band.resize(n);
        self.y.resize(chain.holds.len(), Vec3::ZERO);
    }

    /// Energy without contact [J].
    pub(crate) fn energy(&self, chain: &Chain) -> f64 {
        chain.bending(&self.t) + chain.lifted(&self.t)
    }

    /// Greatest distance [m] of a held place from where it is held, with directions `t`.
    fn apart(chain: &Chain, t: &[Vec3], x: &[Vec3]) -> f64 {
        greatest(
            chain
                .holds
                .iter()
                .map(|hold| (x[hold.edge] + t[hold.edge] * hold.along - hold.at).length()),
        )
    }

    /// Turns the edges of `trial` by the least amount that brings the held places home.
    pub(crate) fn restore(&mut self, chain: &Chain, close: f64) -> bool {
        let m = chain.holds.len();
        for _ in 0..30 {
            chain.places(&self.trial, &mut self.places);
            let off = Self::apart(chain, &self.trial, &self.places);
            if off <= close || m == 0 {
                return true;
            }
            if !off.is_finite() {
                return false;
            }
            self.small.reset(3 * m);
            for (h, one) in chain.holds.iter().enumerate() {
                for (k, other) in chain.holds.iter().enumerate().take(h + 1) {
                    // Sum of (1 − t tᵀ) over the edges that move both places.
                    let [mut xx, mut xy, mut xz, mut yy, mut yz, mut zz] = [0.0; 6];
                    let last = one.edge.min(other.edge);
                    for (e, (edge, t)) in chain
                        .edges
                        .iter()
                        .zip(&self.trial)
                        .enumerate()
                        .take(last + 1)
                    {
                        if edge.fixed {
                            continue;
                        }
                        let p = reach(one.edge, one.along, e, edge.length)
                            * reach(other.edge, other.along, e, edge.length);
                        xx += p * (1.0 - t.x * t.x);
                        xy -= p * t.x * t.y;
                        xz -= p * t.x * t.z;
                        yy += p * (1.0 - t.y * t.y);
                        yz -= p * t.y * t.z;
                        zz += p * (1.0 - t.z * t.z);
                    }
                    let block = [[xx, xy, xz], [xy, yy, yz], [xz, yz, zz]];
                    for (a, row) in block.iter().enumerate() {
                        for (b, value) in row.iter().enumerate() {
                            self.small.add(3 * h + a, 3 * k + b, *value);
                        }
                    }
                }
            }
            let size = chain.edges.iter().map(|e| e.length * e.length).sum::<f64>();
            for row in 0..3 * m {
                self.small.add(row, row, 1e-13 * size);
            }
            if !self.small.factor() {
                return false;
            }
            self.pulls.clear();
            for hold in &chain.holds {
                let miss = hold.at - (self.places[hold.edge] + self.trial[hold.edge] * hold.along);
                self.pulls.extend([miss.x, miss.y, miss.z]);
            }
            self.small.solve(&mut self.pulls);
            let mut most = 0.0_f64;
            for (e, (edge, slope)) in chain.edges.iter().zip(&mut self.slope).enumerate() {
                *slope = Vec3::ZERO;
                if edge.fixed {
                    continue;
                }
                for (hold, pull) in chain.holds.iter().zip(self.pulls.chunks_exact(3)) {
                    let p = reach(hold.edge, hold.along, e, edge.length);
                    *slope += Vec3::new(pull[0], pull[1], pull[2]) * p;
                }
                let t = self.trial[e];
                *slope -= t * t.dot(*slope);
                most = most.max(slope.length());
            }
            let cut = if most > STRIDE { STRIDE / most } else { 1.0 };
            for (t, slope) in self.trial.iter_mut().zip(&self.slope) {
                *t = (*t + *slope * cut).normalize();
            }
        }
        false
    }

    /// Fills slope, frames, matrix and border at the present place.
    fn assemble(&mut self, chain: &Chain) {
        let n = chain.edges.len();
        for own in &mut self.own {
            *own = Vec3::ZERO;
        }
        for after in &mut self.after {
            *after = Vec3::ZERO;
        }
        self.ties.clear();
        for (hold, y) in chain.holds.iter().zip(&self.y) {
            let off = self.x[hold.edge] + self.t[hold.edge] * hold.along - hold.at;
            for way in AXES {
                self.ties.push(Tie {
                    edge: hold.edge,
                    along: hold.along,
                    way,
                    comply: 0.0,
                    off: way.dot(off),
                });
            }
            self.own[hold.edge] += *y * hold.along;
            self.after[hold.edge] += *y;
        }
        for live in &self.contacts.live {
            let sample = chain.samples[live.sample];
            self.ties.push(Tie {
                edge: sample.edge,
                along: live.along,
                way: live.normal,
                comply: 1.0 / self.contacts.stiffness,
                off: 0.0,
            });
            let force = -live.normal * live.force;
            self.own[sample.edge] += force * live.along;
            self.after[sample.edge] += force;
        }
        let mut run = Vec3::ZERO;
        for e in (0..n).rev() {
            self.slope[e] = chain.pull[e] + self.own[e] + run * chain.edges[e].length;
            run += self.after[e];
            let (u, v) = self.t[e].any_orthonormal_pair();
            self.u[e] = u;
            self.v[e] = v;
            self.band.diag[e] = [0.0; 3];
        }
        for (i, joint) in chain.joints.iter().enumerate() {
            let (s, t) = (self.t[i], self.t[i + 1]);
            let bent = joint.bent(s, t);
            self.slope[i] += t * bent.first;
            self.slope[i + 1] += s * bent.first;
            let (a, b) = (t.dot(self.u[i]), t.dot(self.v[i]));
            let (c, d) = (s.dot(self.u[i + 1]), s.dot(self.v[i + 1]));
            let f = bent.second;
            let left = &mut self.band.diag[i];
            left[0] += f * a * a;
            left[1] += f * a * b;
            left[2] += f * b * b;
            let right = &mut self.band.diag[i + 1];
            right[0] += f * c * c;
            right[1] += f * c * d;
            right[2] += f * d * d;
            let g = bent.first;
            self.band.off[i] = if chain.edges[i].fixed || chain.edges[i + 1].fixed {
                [0.0; 4]
            } else {
                [
                    f * a * c + g * self.u[i].dot(self.u[i + 1]),
                    f * a * d + g * self.u[i].dot(self.v[i + 1]),
                    f * b * c + g * self.v[i].dot(self.u[i + 1]),
                    f * b * d + g * self.v[i].dot(self.v[i + 1]),
                ]
            };
            if let Joint::Corner {
                k,
                plane: Some(plane),
                ..
            } = *joint
            {
                self.keep_plane(chain, i, k, plane);
            }
        }
        for e in 0..n {
            if chain.edges[e].fixed {
                self.band.diag[e] = [1.0, 0.0, 1.0];
                self.g[e] = [0.0; 2];
                continue;
            }
            let round = self.t[e].dot(self.slope[e]);
            self.band.diag[e][0] -= round;
            self.band.diag[e][2] -= round;
            self.g[e] = [self.u[e].dot(self.slope[e]), self.v[e].dot(self.slope[e])];
        }
        self.border(chain);
    }

    /// Adds what keeps a corner in a plane: the square of the product of three vectors.
    fn keep_plane(&mut self, chain: &Chain, i: usize, k: f64, plane: Vec3) {
        let (s, t) = (self.t[i], self.t[i + 1]);
        let out = plane.dot(s.cross(t));
        let (by_s, by_t) = (t.cross(plane), plane.cross(s));
        self.slope[i] += by_s * (k * out);
        self.slope[i + 1] += by_t * (k * out);
        let (a, b) = (by_s.dot(self.u[i]), by_s.dot(self.v[i]));
        let (c, d) = (by_t.dot(self.u[i + 1]), by_t.dot(self.v[i + 1]));
        for (block, p, q) in [(i, a, b), (i + 1, c, d)] {
            let block = &mut self.band.diag[block];
            block[0] += k * p * p;
            block[1] += k * p * q;
            block[2] += k * q * q;
        }
        if chain.edges[i].fixed || chain.edges[i + 1].fixed {
            return;
        }
        let mixed = |p: Vec3, q: Vec3| k * out * p.dot(q.cross(plane));
        let (u, v, x, y) = (self.u[i], self.v[i], self.u[i + 1], self.v[i + 1]);
        let block = &mut self.band.off[i];
        block[0] += k * a * c + mixed(u, x);
        block[1] += k * a * d + mixed(u, y);
        block[2] += k * b * c + mixed(v, x);
        block[3] += k * b * d + mixed(v, y);
    }

    /// Fills the columns of the border from the ties.
    fn border(&mut self, chain: &Chain) {
        let n = chain.edges.len();
        self.columns.clear();
        self.columns.resize(n * self.ties.len(), [0.0; 2]);
        for (tie, column) in self.ties.iter().zip(self.columns.chunks_exact_mut(n)) {
            for (e, slot) in column.iter_mut().enumerate().take(tie.edge + 1) {
                if chain.edges[e].fixed {
                    continue;
                }
                let reach = reach(tie.edge, tie.along, e, chain.edges[e].length);
                *slot = [
                    reach * tie.way.dot(self.u[e]),
                    reach * tie.way.dot(self.v[e]),
                ];
            }
        }
    }

    /// Factors matrix and border with a shift. Gives how many negative eigenvalues the model has
    /// on the ways left open by the equations, or nothing where a pivot vanished.
    fn factor(&mut self, chain: &Chain, shift: f64) -> Option<i64> {
        let n = chain.edges.len();
        if !self.band.factor(shift, &chain.free) {
            return None;
        }
        let m = self.ties.len();
        self.solved.clear();
        self.solved.extend_from_slice(&self.columns);
        self.band.solve_all(&mut self.solved);
        self.dense.reset(m);
        for (i, one) in self.ties.iter().enumerate() {
            self.dense.add(i, i, one.comply);
            let column = &self.columns[i * n..i * n + one.edge + 1];
            for j in 0..=i {
                let solved = &self.solved[j * n..j * n + one.edge + 1];
                self.dense.add(i, j, dot(column, solved));
            }
        }
        if !self.dense.factor() {
            return None;
        }
        let positive = i64::try_from(m - self.dense.negative).ok()?;
        let negative = i64::try_from(self.band.negative).ok()?;
        let wanted =
            i64::try_from(self.ties.iter().filter(|tie| tie.comply >= 0.0).count()).ok()?;
        Some(negative + positive - wanted)
    }

    /// Factors with the least shift, of `from` and those that follow it ten or four times as great each, with which the
    /// model has a least point: with every greater one it has one too.
    fn shifted(&mut self, chain: &Chain, from: f64) -> Option<f64> {
        if self.factor(chain, from) == Some(0) {
            return Some(from);
        }
        let typical = chain.typical();
        let greater = |shift: f64| {
            let next = shift * if shift < 1e-4 * typical { 10.0 } else { 4.0 };
            (next > shift && next <= 1e9 * typical).then_some(next)
        };
        // Where the matrix has a least point without its border, it has one with it; and that is soon told.
        let mut shifts = vec![from];
        let mut last = from;
        while last == from || !self.band.factor(last, &chain.free) || self.band.negative > 0 {
            last = greater(last)?;
            shifts.push(last);
        }
        let (mut low, mut high) = (0, shifts.len() - 1);
        while high - low > 1 {
            let middle = usize::midpoint(low, high);
            if self.factor(chain, shifts[middle]) == Some(0) {
                high = middle;
            } else {
                low = middle;
            }
        }
        let mut shift = shifts[high];
        while self.factor(chain, shift) != Some(0) {
            shift = greater(shift)?;
        }
        Some(shift)
    }

    /// The step of the last factor, into `delta` and `q`.
    fn step(&mut self, chain: &Chain) {
        let n = chain.edges.len();
        for (delta, g) in self.delta.iter_mut().zip(&self.g) {
            *delta = [-g[0], -g[1]];
        }
        self.band.solve(&mut self.delta);
        self.q.clear();
        for (tie, column) in self.ties.iter().zip(self.columns.chunks_exact(n)) {
            self.q.push(tie.off + dot(column, &self.delta));
        }
        self.dense.solve(&mut self.q);
        for (q, column) in self.q.iter().zip(self.solved.chunks_exact(n)) {
            for (delta, s) in self.delta.iter_mut().zip(column) {
                delta[0] -= q * s[0];
                delta[1] -= q * s[1];
            }
        }
    }

    /// Looks around at the present place; gives the energy [J] of what presses.
    fn look(&mut self, chain: &Chain, around: &dyn Around) -> f64 {
        let all = f64::INFINITY;
        self.contacts.look(chain, &self.t, &self.x, around, all)
    }

    /// Whether every held place is home.
    fn tied(&self, close: f64) -> bool {
        self.ties.iter().all(|tie| tie.off.abs() <= 10.0 * close)
    }

    /// Puts the multipliers where the forces of the held places balance the slope best.
    fn guess_forces(&mut self, chain: &Chain) {
        for y in &mut self.y {
            *y = Vec3::ZERO;
        }
        self.assemble(chain);
        let m = 3 * chain.holds.len();
        if m == 0 {
            return;
        }
        let n = chain.edges.len();
        self.small.reset(m);
        self.pulls.clear();
        let mut size = 0.0_f64;
        for i in 0..m {
            let one = &self.columns[i * n..(i + 1) * n];
            for j in 0..=i {
                let sum = dot(one, &self.columns[j * n..(j + 1) * n]);
                if i == j {
                    size = size.max(sum);
                }
                self.small.add(i, j, sum);
            }
            self.pulls.push(-dot(one, &self.g));
        }
        for i in 0..m {
            self.small.add(i, i, 1e-8 * size);
        }
        if self.small.factor() {
            self.small.solve(&mut self.pulls);
            for (y, pull) in self.y.iter_mut().zip(self.pulls.chunks_exact(3)) {
                *y = Vec3::new(pull[0], pull[1], pull[2]);
            }
        }
    }

    /// Greatest slope of the energy by an edge's turning, forces of what holds and presses counted:
    /// what is out of balance [N m]. No number where one of them is none.
    fn push(&self) -> f64 {
        greatest(self.g.iter().map(|g| g[0].hypot(g[1])))
    }

    /// Takes the directions in `t` to the nearest equilibrium downhill.
    ///
    /// Balanced is told only where all forces and moments balance to a [`BALANCE`] part of what they
    /// are told against, and every held place is home; a step that came out short is no sign of it.
    pub(crate) fn relax(&mut self, chain: &Chain, around: &dyn Around) -> Came {
        self.fit(chain);
        let length = chain.length();
        let close = 1e-12 * length;
        let typical = chain.typical();
        let least_shift = 1e-8 * typical;
        let balanced = BALANCE * chain.moment_scale();
        self.trial.clear();
        self.trial.extend_from_slice(&self.t);
        self.steps = 0;
        if !self.restore(chain, close) {
            return Came::Lost;
        }
        std::mem::swap(&mut self.t, &mut self.trial);
        chain.places(&self.t, &mut self.x);
        let mut energy = self.energy(chain) + self.look(chain, around);
        self.guess_forces(chain);
        let mut shift = least_shift;
        // Whether the last step was too short to go on for.
        let mut still = false;
        // The energy that the path last came down to, and looks since.
        let mut fell = (energy, 0);
        for step in 0..STEPS {
            self.steps = step + 1;
            self.assemble(chain);
            let push = self.push();
            if energy - self.ceiling < (1.0 - FALL) * (fell.0 - self.ceiling) {
                fell = (energy, 0);
            }
            if !push.is_finite() {
                return Came::Lost;
            }
            let home = energy.is_finite() && self.tied(close);
            if still && push < balanced && home {
                return Came::Balanced;
            }
            let Some(enough) = self.shifted(chain, shift) else {
                return Came::Lost;
            };
            shift = enough;
            if push < 1e-11 * typical && shift <= 1e-5 * typical && home {
                return Came::Balanced;
            }
            self.step(chain);
            let most = greatest(self.delta.iter().map(|d| d[0].hypot(d[1])));
            if !most.is_finite() {
                return Came::Lost;
            }
            let slope = dot(&self.g, &self.delta);
            let mut cut = if most > STRIDE { STRIDE / most } else { 1.0 };
            let floor = 1e-12 * (energy.abs() + typical);
            let mut taken = false;
            for _ in 0..12 {
                if energy > self.ceiling && fell.1 >= PATIENCE {
                    return Came::Lost;
                }
                fell.1 += 1;
                for (e, trial) in self.trial.iter_mut().enumerate() {
                    let d = self.delta[e];
                    *trial = (self.t[e] + (self.u[e] * d[0] + self.v[e] * d[1]) * cut).normalize();
                }
                if self.restore(chain, close) {
                    let alone = chain.bending(&self.trial) + chain.lifted(&self.trial);
                    // From a fold straight back on itself any way out is as good.
                    let most = if energy.is_finite() {
                        energy + 1e-4 * cut * slope.min(0.0) + floor - alone
                    } else {
                        f64::INFINITY
                    };
                    let (t, x) = (&self.trial, &self.places);
                    let pressed = self.contacts.look(chain, t, x, around, most);
                    if pressed <= most {
                        energy = alone + pressed;
                        taken = true;
                        break;
                    }
                }
                cut *= 0.4;
            }
            if !taken {
                chain.places(&self.t, &mut self.x);
                self.look(chain, around);
                // Rounding may hide the last step downhill.
                if most < 1e-7 && push < balanced && home {
                    return Came::Balanced;
                }
                shift = (shift * 16.0).max(1e-4 * typical);
                if shift > 1e9 * typical {
                    return Came::Lost;
                }
                continue;
            }
            std::mem::swap(&mut self.t, &mut self.trial);
            std::mem::swap(&mut self.x, &mut self.places);
            for (y, q) in self.y.iter_mut().zip(self.q.chunks_exact(3)) {
                *y += Vec3::new(q[0], q[1], q[2]) * cut;
            }
            still = most * cut < 1e-8 && shift <= 1e-5 * typical;
            if cut == 1.0 {
                shift = (shift * 0.03).max(least_shift);
            }
        }
        Came::Lost
    }

    /// Brings the contacts to their surfaces by multipliers, after a path with penalty. Lost where
    /// one of them stays farther off than [`OFF`].
    pub(crate) fn press(&mut self, chain: &Chain, around: &dyn Around) -> Came {
        let mut came = self.relax(chain, around);
        if !self.contacts.on {
            return came;
        }
        let mut before = f64::INFINITY;
        let mut stuck = 0;
        for _ in 0..PRESSES {
            if self.contacts.live.is_empty() || came == Came::Lost {
                return came;
            }
            let off = self.contacts.settle();
            if off < 2e-7 {
                return came;
            }
            if off > 0.3 * before {
                self.contacts.stiffness *= 4.0;
            }
            // Four times as stiff and hardly nearer: there is no room.
            stuck = if off > 0.8 * before { stuck + 1 } else { 0 };
            if stuck > 2 {
                return Came::Lost;
            }
            before = off;
            came = self.relax(chain, around);
        }
        let off = greatest(self.contacts.live.iter().map(|live| live.slack.abs()));
        if off < OFF { came } else { Came::Lost }
    }

    /// Ties of the curvature of what the hose lies on: it may roll off a round body.
    pub(crate) fn rounded(&mut self, chain: &Chain, around: &dyn Around, out: &mut Vec<Tie>) {
        out.clear();
        const EPS: f64 = 2e-4;
        let mut one: Vec<Touch> = Vec::new();
        let mut normal_at = |at: Vec3, live: &Live, need: f64| {
            one.clear();
            let within = 2.0 * need + 0.02;
            around.touch(at, within, within, &mut one);
            one.iter()
                .filter(|touch| touch.body == live.body)
                .map(|touch| touch.normal)
                .max_by(|a, b| a.dot(live.normal).total_cmp(&b.dot(live.normal)))
        };
        for live in &self.contacts.live {
            let sample = chain.samples[live.sample];
            let at = self.x[sample.edge] + self.t[sample.edge] * live.along;
            let (u, v) = live.normal.any_orthonormal_pair();
            let mut shape = [[0.0; 2]; 2];
            for (row, way) in [u, v].into_iter().enumerate() {
                let ahead = normal_at(at + way * EPS, live, sample.need);
                let behind = normal_at(at - way * EPS, live, sample.need);
                if let (Some(ahead), Some(behind)) = (ahead, behind) {
                    let turn = (ahead - behind) / (2.0 * EPS);
                    shape[row] = [turn.dot(u), turn.dot(v)];
                }
            }
            let mean = (shape[0][0] + shape[1][1]) / 2.0;
            let cross = (shape[0][1] + shape[1][0]) / 2.0;
            let half = (shape[0][0] - shape[1][1]) / 2.0;
            let spread = half.hypot(cross);
            let angle = cross.atan2(half) / 2.0;
            let (sin, cos) = angle.sin_cos();
            for (round, way) in [
                (mean + spread, u * cos + v * sin),
                (mean - spread, v * cos - u * sin),
            ] {
                if round.abs() * live.force > 1e-9 {
                    out.push(Tie {
                        edge: sample.edge,
                        along: live.along,
                        way,
                        comply: -1.0 / (round * live.force),
                        off: 0.0,
                    });
                }
            }
        }
    }

    /// Count of ways downhill if every edge held its direction with `shift` [N m], `more` ties added.
    pub(crate) fn downhill(&mut self, chain: &Chain, shift: f64, more: &[Tie]) -> i64 {
        self.assemble(chain);
        self.ties.extend_from_slice(more);
        self.border(chain);
        let mut shift = shift;
        for _ in 0..20 {
            if let Some(count) = self.factor(chain, shift) {
                return count;
            }
            shift += 1e-9 * chain.typical();
        }
        1
    }

    /// Puts into `trial` the directions moved along the way that is lowest, by inverse iteration
    /// about a shift; gives the greatest turn before scaling, for the caller's sign.
    pub(crate) fn lowest_way(&mut self, chain: &Chain, shift: f64) -> bool {
        self.assemble(chain);
        for tie in &mut self.ties {
            tie.off = 0.0;
        }
        if self.factor(chain, shift).is_none() {
            return false;
        }
        for (e, g) in self.g.iter_mut().enumerate() {
            let a = (e as f64 * 0.7).sin();
            let b = (e as f64 * 0.4 + 1.0).cos();
            *g = if chain.edges[e].fixed {
                [0.0; 2]
            } else {
                [a, b]
            };
        }
        for _ in 0..4 {
            self.step(chain);
            let most = greatest(self.delta.iter().map(|d| d[0].abs().max(d[1].abs())));
            if !(most > 0.0 && most.is_finite()) {
                return false;
            }
            for (g, d) in self.g.iter_mut().zip(&self.delta) {
                *g = [d[0] / most, d[1] / most];
            }
        }
        true
    }

    /// Turns the edges along the way last found, by `amount` at most [rad].
    pub(crate) fn kick(&mut self, amount: f64) {
        for (e, t) in self.t.iter_mut().enumerate() {
            let g = self.g[e];
            *t = (*t + (self.u[e] * g[0] + self.v[e] * g[1]) * amount).normalize();
        }
    }

    /// Least greatest imbalance left at an edge [N m].
    pub(crate) fn imbalance(&mut self, chain: &Chain) -> f64 {
        self.assemble(chain);
        self.push()
    }

    /// Slope of a joint's energy: moment [N m] by what lies beyond on what lies before.
    pub(crate) fn moment(chain: &Chain, joint: usize, t: &[Vec3]) -> Vec3 {
        let (s, n) = (t[joint], t[joint + 1]);
        let one: &Joint = &chain.joints[joint];
        s.cross(n) * -one.bent(s, n).first
    }
}

/// The greatest of some numbers, nought or more; no number where one of them is none.
fn greatest(all: impl Iterator<Item = f64>) -> f64 {
    all.fold(0.0, |most, one| {
        if one > most || one.is_nan() {
            one
        } else {
            most
        }
    })
}

/// Axes of space.
const AXES: [Vec3; 3] = [Vec3::X, Vec3::Y, Vec3::Z];

/// How far an edge's turning moves a place that lies `along` an edge.
fn reach(at_edge: usize, along: f64, edge: usize, length: f64) -> f64 {
    match edge.cmp(&at_edge) {
        std::cmp::Ordering::Less => length,
        std::cmp::Ordering::Equal => along,
        std::cmp::Ordering::Greater => 0.0,
    }
}
