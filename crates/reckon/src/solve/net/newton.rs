//! Newton's method on flows, total pressures and temperatures at once.
//!
//! The equations are those of the branches (pressure), of the nodes (mass), and of the nodes again (heat that
//! the streams bring). The thermostat's lift is no unknown of its own: it follows from the temperature that
//! its element feels, and its slope stands in the matrix. Where Newton's steps do not settle, the lift is
//! closed in between two bounds, with the same method for each trial, and let go again at the end.

use reference::Unknown;

use super::lu::{Kept, Lu};
use super::part::area;
use super::walk::{Walk, walk};
use super::{GRAVITY, Network, Outcome, Part, Reach, Run, State};

/// Most steps of one attempt.
const STEPS: u32 = 60;
/// What may be left of a balance, over the greatest of its kind.
const LEFT: f64 = 1e-10;
/// What is accepted where rounding lets no more be done.
const ACCEPTED: f64 = 5e-10;
/// Ties the temperature of standing water to what it began with [kg/s].
const STANDING: f64 = 1e-13;
/// Largest change of a temperature in one step [K].
const STRIDE: f64 = 25.0;
/// Most turns of flows and heat.
const TURNS: u32 = 60;
/// So often in a row a step is halved where it left the range of a formula.
const MOST_BACK: u32 = 8;
/// From this temperature on steps may be longer [°C].
const FAR: f64 = 200.0;
/// What is left of the pressures, over the greatest, from which on the flows follow first.
const BEHIND: f64 = 0.3;
/// Most steps in which they do.
const MOST_FOLLOWED: u32 = 30;
/// Largest change of the lift in one step.
const LIFT_STRIDE: f64 = 0.35;
/// Least share of the lift that one step leaves of it ...
const LEAST_LEFT: f64 = 0.25;
/// ... as long as it is over this.
const AJAR: f64 = 0.05;

/// How the lift is treated.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Hold {
    /// By the temperature.
    Free,
    /// Kept at a value.
    At(f64),
}

/// What is looked for, and what stays as it is.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Seek {
    /// Flows and pressures at the temperatures that stand.
    Flows,
    /// Temperatures at the flows that stand.
    Heat,
    /// All at once.
    All,
}

struct Work<'a> {
    net: &'a Network,
    reach: &'a Reach,
    lu: Lu,
    near: Vec<Vec<Option<[f64; 2]>>>,
    walks: Vec<Option<Walk>>,
    flow: Vec<f64>,
    pressure: Vec<f64>,
    temperature: Vec<f64>,
    /// Temperatures to which standing water is tied.
    standing: Vec<f64>,
    side: Vec<f64>,
    /// The last step that was gone.
    moved: Vec<f64>,
    /// Node that stands for the pressure of a piece that nothing ties.
    kept: Vec<Option<f64>>,
    /// Heat that comes in whatever the temperatures [W].
    heat_in: f64,
    /// What was left of the balances where the unknowns stand, and how it was asked; `None` once they moved.
    left: Option<(Hold, Seek, [f64; 3])>,
}

impl<'a> Work<'a> {
    fn new(net: &'a Network, reach: &'a Reach, kept: &mut Kept) -> Self {
        let (b, n) = (net.branches.len(), net.nodes.len());
        let heat = net.isothermal.is_none();
        let mut entries = Vec::new();
        let sense = net.stat.as_ref().map(|stat| stat.node);
        for (i, own) in net.branches.iter().enumerate() {
            for node in [own.from, own.to] {
                entries.push((i, b + node));
                entries.push((b + node, i));
                if heat {
                    entries.push((i, b + n + node));
                    entries.push((b + n + node, i));
                }
            }
            if heat {
                entries.push((b + n + own.from, b + n + own.to));
                let lifts = own.parts.iter().any(|part| matches!(part, Part::Lift(_)));
                if let (true, Some(sense)) = (lifts, sense) {
                    entries.push((i, b + n + sense));
                }
            }
        }
        for tee in &net.tees {
            let [x, y, z] = tee.legs;
            entries.extend([(x, y), (y, z), (x, z)]);
        }
        // A piece that nothing ties has its pressures from one of its nodes.
        let pieces = reach.tied.len();
        let mut first = vec![None; pieces];
        let fixed = (0..n)
            .map(|node| {
                let piece = reach.piece[node];
                if reach.tied[piece] {
                    net.nodes[node].fixed
                } else if first[piece].is_none() {
                    first[piece] = Some(node);
                    Some(0.0)
                } else {
                    None
                }
            })
            .collect();
        let heat_in = net
            .branches
            .iter()
            .flat_map(|own| &own.parts)
            .map(|part| part.heat().abs())
            .sum();
        Self {
            net,
            reach,
            lu: kept.take(b + 2 * n, b, entries),
            near: net
                .branches
                .iter()
                .map(|own| vec![None; own.parts.len()])
                .collect(),
            walks: (0..b).map(|_| None).collect(),
            flow: vec![0.0; b],
            pressure: vec![0.0; n],
            temperature: vec![0.0; n],
            standing: vec![0.0; n],
            side: vec![0.0; b + 2 * n],
            moved: vec![0.0; b + 2 * n],
            kept: fixed,
            heat_in,
            left: None,
        }
    }

    /// Where the search begins: half a metre a second in every branch, one temperature everywhere.
    fn begin(&mut self) {
        self.left = None;
        let sinks = self
            .net
            .branches
            .iter()
            .flat_map(|own| &own.parts)
            .filter_map(|part| match part {
                Part::Cooler(cooler) => Some(cooler.sink()),
                _ => None,
            });
        let warmest = sinks.fold(f64::NEG_INFINITY, f64::max);
        let t = match (self.net.isothermal, &self.net.stat) {
            (Some(t), _) => t,
            (None, Some(stat)) => 0.5 * (stat.opens + stat.full),
            (None, None) if warmest.is_finite() => warmest + 30.0,
            (None, None) => 60.0,
        };
        let density = self.net.medium.density(t);
        self.temperature.fill(t);
        for (i, own) in self.net.branches.iter().enumerate() {
            let bore = own.parts.iter().find_map(|part| match part {
                Part::Pipe(pipe) => Some(pipe.bore * pipe.count.sqrt()),
                Part::Loss { bore, .. } => Some(*bore),
                Part::Lift(lift) => Some(lift.bore),
                _ => None,
            });
            self.flow[i] = if self.reach.runs[i] {
                0.5 * density * area(bore.unwrap_or(0.03))
            } else {
                0.0
            };
        }
        let level: Vec<f64> = self
            .net
            .nodes
            .iter()
            .filter_map(|node| node.fixed)
            .collect();
        let mean = level.iter().sum::<f64>() / level.len().max(1) as f64;
        self.pressure.fill(mean);
        self.keep();
    }

    /// Puts the pressures that are kept where they are kept.
    fn keep(&mut self) {
        for (own, kept) in self.pressure.iter_mut().zip(&self.kept) {
            *own = kept.unwrap_or(*own);
        }
    }

    fn begin_at(&mut self, state: &State) -> bool {
        self.left = None;
        let fits = state.runs.len() == self.flow.len()
            && state.temperatures.len() == self.temperature.len();
        if fits {
            for (own, run) in self.flow.iter_mut().zip(&state.runs) {
                *own = run.flow;
            }
            match self.net.isothermal {
                Some(t) => self.temperature.fill(t),
                None => self.temperature.copy_from_slice(&state.temperatures),
            }
            for (own, p) in self.pressure.iter_mut().zip(&state.pressures) {
                *own = p.unwrap_or(0.0);
            }
            self.keep();
        }
        fits
    }

    fn lift(&self, hold: Hold) -> (f64, f64) {
        match (hold, &self.net.stat) {
            (Hold::At(x), _) => (x, 0.0),
            (Hold::Free, Some(stat)) => stat.lift(self.temperature[stat.node]),
            (Hold::Free, None) => (1.0, 0.0),
        }
    }

    /// Fills matrix and right side for a step; the right side is what is left of each equation, with the
    /// sign turned. Gives what is left of pressure, mass and heat over the greatest of each.
    fn equations(&mut self, hold: Hold, seek: Seek) -> Result<[f64; 3], Unknown> {
        let (b, n) = (self.flow.len(), self.pressure.len());
        let heat = seek != Seek::Flows;
        let (lift, lift_slope) = self.lift(hold);
        self.lu.clear();
        self.side.fill(0.0);
        let mut greatest = 1e-9_f64;
        let mut pressure_scale = 100.0_f64;
        let mut turned_over = 0.0;
        for i in 0..b {
            if !self.net.branches[i].open {
                self.lu.add(i, i, 1.0);
                self.side[i] = -self.flow[i];
                self.walks[i] = None;
                continue;
            }
            let up = if self.flow[i] >= 0.0 {
                self.net.branches[i].from
            } else {
                self.net.branches[i].to
            };
            let t = self.temperature[up];
            let walk = walk(self.net, i, self.flow[i], t, lift, &mut self.near[i])?;
            let (from, to) = (self.net.branches[i].from, self.net.branches[i].to);
            let column = self.net.column * GRAVITY;
            let (z1, z2) = (self.net.nodes[from].height, self.net.nodes[to].height);
            let left = self.pressure[from] - self.pressure[to] + column * (z1 - z2) - walk.loss[0];
            self.lu.add(i, i, -walk.loss[1].max(1e-9));
            self.lu.add(i, b + from, 1.0);
            self.lu.add(i, b + to, -1.0);
            if heat {
                self.lu.add(i, b + n + up, -walk.loss[2]);
                if let (Some(stat), true) = (&self.net.stat, walk.loss[3] != 0.0) {
                    let node = stat.node;
                    self.lu.add(i, b + n + node, -walk.loss[3] * lift_slope);
                }
            }
            self.side[i] = -left;
            greatest = greatest.max(self.flow[i].abs());
            pressure_scale = pressure_scale.max(walk.loss[0].abs());
            turned_over += (self.flow[i] * walk.gained).abs();
            self.walks[i] = Some(walk);
        }
        self.tees();
        // What is left of the branches, before the nodes write theirs.
        let worst = |some: &[f64]| some.iter().fold(0.0_f64, |most, x| most.max(x.abs()));
        let open = (0..b).filter(|i| self.net.branches[*i].open);
        let left_pressure = open.fold(0.0_f64, |most, i| most.max(self.side[i].abs()));
        self.masses();
        let left_mass = (0..n)
            .filter(|node| self.kept[*node].is_none())
            .fold(0.0_f64, |most, node| most.max(self.side[b + node].abs()));
        for node in 0..n {
            if let Some(kept) = self.kept[node] {
                self.lu.add(b + node, b + node, 1.0);
                self.side[b + node] = kept - self.pressure[node];
            }
        }
        if heat {
            self.heats();
        } else {
            for node in 0..n {
                self.lu.add(b + n + node, b + n + node, 1.0);
            }
        }
        let left_heat = worst(&self.side[b + n..]);
        if seek == Seek::Heat {
            // The rows of flows and pressures leave these where they are.
            for row in 0..b + n {
                self.lu.only(row);
                self.side[row] = 0.0;
            }
        }
        // Two coolers at odds turn heat over where none comes in; and rounding lets no balance be told more
        // closely than a share of what warms the greatest flow by a hundredth of a kelvin.
        let t = self.temperature.first().map_or(0.0, |t| *t);
        let least = 0.01 * greatest * self.net.medium.heat(t);
        let heat_scale = self.heat_in.max(turned_over).max(least);
        let flows = if seek == Seek::Heat { 0.0 } else { 1.0 };
        let left = [
            flows * left_pressure / pressure_scale,
            flows * left_mass / greatest,
            if heat { left_heat / heat_scale } else { 0.0 },
        ];
        self.left = Some((hold, seek, left));
        Ok(left)
    }

    fn tees(&mut self) {
        for tee in &self.net.tees {
            let into = |leg: usize| {
                let own = &self.net.branches[leg];
                let sign = if own.to == tee.node { 1.0 } else { -1.0 };
                (sign, if own.open { sign * self.flow[leg] } else { 0.0 })
            };
            let signed = tee.legs.map(into);
            let density = self.net.medium.density(self.temperature[tee.node]);
            let losses = tee.losses(signed.map(|(_, flow)| flow), density);
            for (leg, loss) in losses.into_iter().enumerate() {
                let row = tee.legs[leg];
                let Some(loss) = loss.filter(|_| self.net.branches[row].open) else {
                    continue;
                };
                // A drop from the leg to the node is a loss in the order of the branch where it ends there.
                let sign = signed[leg].0;
                self.side[row] += sign * loss.drop;
                self.lu.add(row, row, -sign * loss.by_own * sign);
                let whole = tee.legs[loss.whole];
                let by = -sign * loss.by_whole * signed[loss.whole].0;
                self.lu.add(row, whole, by);
                if let Some(walk) = &mut self.walks[row] {
                    walk.loss[0] += sign * loss.drop;
                }
            }
        }
    }

    fn masses(&mut self) {
        let b = self.flow.len();
        for (i, own) in self.net.branches.iter().enumerate() {
            for (node, sign) in [(own.from, -1.0), (own.to, 1.0)] {
                if self.kept[node].is_none() {
                    self.lu.add(b + node, i, sign);
                    self.side[b + node] -= sign * self.flow[i];
                }
            }
        }
        for (node, own) in self.net.nodes.iter().enumerate() {
            if self.kept[node].is_none() && own.inflow != 0.0 {
                let density = self.net.medium.density(self.temperature[node]);
                self.side[b + node] -= density * own.inflow;
            }
        }
    }

    fn heats(&mut self) {
        let (b, n) = (self.flow.len(), self.pressure.len());
        let medium = &self.net.medium;
        for node in 0..n {
            let row = b + n + node;
            let capacity = medium.heat(self.temperature[node]);
            self.lu.add(row, row, -STANDING * capacity);
            self.side[row] -= STANDING * capacity * (self.standing[node] - self.temperature[node]);
        }
        for i in 0..b {
            let Some(walk) = &self.walks[i] else { continue };
            let own = &self.net.branches[i];
            let m = self.flow[i];
            let (up, down) = if m >= 0.0 {
                (own.from, own.to)
            } else {
                (own.to, own.from)
            };
            let row = b + n + down;
            let t = self.temperature[down];
            let more = walk.out[0] - medium.enthalpy(t);
            self.side[row] -= m.abs() * more;
            self.lu
                .add(row, i, m.signum() * more + m.abs() * walk.out[1]);
            self.lu.add(row, b + n + up, m.abs() * walk.out[2]);
            self.lu.add(row, row, -m.abs() * medium.heat(t));
        }
    }

    /// How much of a step is taken.
    fn stride(&self, hold: Hold) -> f64 {
        let (b, n) = (self.flow.len(), self.pressure.len());
        let widest = self.side[b + n..]
            .iter()
            .fold(0.0_f64, |most, dt| most.max(dt.abs()));
        // Far out, where too little flow carries the heat, the way is long and the properties are those of
        // the ends of the tables.
        let far = self
            .temperature
            .iter()
            .fold(0.0_f64, |most, t| most.max(t.abs()));
        let longest = STRIDE.max(0.5 * (far - FAR));
        let mut share = if widest > longest {
            longest / widest
        } else {
            1.0
        };
        if let (Hold::Free, Some(stat)) = (hold, &self.net.stat) {
            let now = self.temperature[stat.node];
            let lift = stat.lift(now).0;
            for _ in 0..30 {
                let then = stat.lift(now + share * self.side[b + n + stat.node]).0;
                // What a way takes goes by one over the square of its lift: it shuts by degrees.
                let shuts = lift > AJAR && then < LEAST_LEFT * lift;
                if (then - lift).abs() <= LIFT_STRIDE && !shuts {
                    break;
                }
                share *= 0.7;
            }
        }
        share
    }

    /// Newton's steps from where the unknowns stand; the number of steps where they settle.
    fn settle(
        &mut self,
        hold: Hold,
        seek: Seek,
        most: u32,
        enough: f64,
    ) -> Result<Option<u32>, Unknown> {
        let mut best = f64::INFINITY;
        let mut idle = 0;
        let (mut back, mut last) = (0, f64::INFINITY);
        let mut followed = 0;
        self.moved.fill(0.0);
        for step in 0..most {
            let left = match self.equations(hold, seek) {
                Ok(left) => left,
                // On the way a formula may be asked for more than its source gives: the step was too long.
                Err(_) if back < MOST_BACK && self.moved.iter().any(|x| *x != 0.0) => {
                    back += 1;
                    self.moved.iter_mut().for_each(|x| *x *= 0.5);
                    self.go(-1.0);
                    continue;
                }
                Err(unknown) => return Err(unknown),
            };
            let worst = left.iter().fold(0.0_f64, |most, x| most.max(*x));
            if worst <= enough {
                return Ok(Some(step));
            }
            // A step that made it much worse was too long.
            if worst > 2.0 * last && back < 3 {
                back += 1;
                self.moved.iter_mut().for_each(|x| *x *= 0.5);
                self.go(-1.0);
                continue;
            }
            last = worst;
            if worst < best {
                (best, idle) = (worst, 0);
            } else {
                idle += 1;
                // Rounding lets no more be done.
                if idle > 3 && worst <= ACCEPTED.max(enough) {
                    return Ok(Some(step));
                }
            }
            // A thermostat that has moved far leaves the flows behind: they follow first, for the heat that
            // they would carry now tells nothing.
            let follow = seek == Seek::All && left[0] > BEHIND && followed < MOST_FOLLOWED;
            if follow {
                followed += 1;
                for row in self.flow.len() + self.pressure.len()..self.side.len() {
                    self.lu.only(row);
                    self.side[row] = 0.0;
                }
            }
            if !self.lu.factor() {
                return Ok(None);
            }
            self.lu.solve(&mut self.side);
            if self.side.iter().any(|x| !x.is_finite()) {
                return Ok(None);
            }
            let mut share = if seek == Seek::Flows {
                1.0
            } else {
                self.stride(hold)
            };
            // Steps that swing to and fro are cut.
            if step > 20 && idle > 0 {
                share *= 0.5;
            }
            for (moved, step) in self.moved.iter_mut().zip(&self.side) {
                *moved = share * step;
            }
            back = 0;
            self.go(1.0);
        }
        Ok(None)
    }

    /// Goes a step, or back.
    fn go(&mut self, sign: f64) {
        self.left = None;
        let unknowns = self.flow.iter_mut().chain(&mut self.pressure);
        for (own, step) in unknowns.chain(&mut self.temperature).zip(&self.moved) {
            *own += sign * step;
        }
    }

    /// Flows and heat by turns, each with the other kept, until all at once settles: slower, and surer where
    /// a flow that turns takes the temperatures with it.
    fn by_turns(&mut self, hold: Hold) -> Result<Option<u32>, Unknown> {
        let mut before = self.temperature.clone();
        for turn in 0..TURNS {
            self.settle(hold, Seek::Flows, 30, 1e-6)?;
            self.settle(hold, Seek::Heat, 30, 1e-6)?;
            // Half of each turn's change, so that what swings comes to rest.
            for (own, was) in self.temperature.iter_mut().zip(&before) {
                *own = 0.5 * (*own + was);
            }
            before.clone_from(&self.temperature);
            if turn % 6 == 5 {
                let kept = (self.flow.clone(), self.pressure.clone());
                if let Some(steps) = self.settle(hold, Seek::All, 20, LEFT)? {
                    return Ok(Some(steps));
                }
                (self.flow, self.pressure) = kept;
                self.temperature.clone_from(&before);
            }
        }
        Ok(None)
    }

    /// All at once, and by turns where that does not settle.
    fn settle_surely(&mut self, hold: Hold) -> Result<Option<u32>, Unknown> {
        if let Ok(Some(steps)) = self.settle(hold, Seek::All, STEPS, LEFT) {
            return Ok(Some(steps));
        }
        self.begin();
        self.by_turns(hold)
    }

    /// All at a lift that is kept.
    fn trial(&mut self, lift: f64) -> Result<Option<u32>, Unknown> {
        self.settle(Hold::At(lift), Seek::Flows, 12, 1e-3)?;
        self.settle_surely(Hold::At(lift))
    }

    /// The lift is closed in between two bounds.
    fn bracket(&mut self) -> Result<Option<u32>, Unknown> {
        let Some(stat) = self.net.stat else {
            return Ok(None);
        };
        let mut steps = 0;
        let (mut low, mut high) = (0.0, 1.0);
        self.begin();
        for trial in 0..60 {
            let x = match trial {
                0 => 1.0,
                1 => 0.0,
                _ => 0.5 * (low + high),
            };
            let mut found = self.trial(x);
            if !matches!(found, Ok(Some(_))) {
                // The last trial may have left all far too hot.
                self.begin();
                found = self.trial(x);
            }
            match found {
                Ok(Some(more)) => steps += more,
                // With too little lift the heat leads beyond the formulas: the answer lies further open.
                Ok(None) | Err(_) if x < 1.0 => {
                    low = x;
                    continue;
                }
                not => return not,
            }
            let wanted = stat.lift(self.temperature[stat.node]).0;
            if wanted > x {
                low = x;
            } else if wanted < x {
                high = x;
            } else {
                return Ok(Some(steps));
            }
            if trial > 8
                && high - low < 1e-3
                && let Some(more) = self.settle(Hold::Free, Seek::All, 12, LEFT)?
            {
                return Ok(Some(steps + more));
            }
        }
        self.settle(Hold::Free, Seek::All, STEPS, LEFT)
    }

    fn state(&mut self, steps: u32) -> Result<State, Unknown> {
        let heat = self.net.isothermal.is_none();
        let seek = if heat { Seek::All } else { Seek::Flows };
        let left = match self.left {
            Some((Hold::Free, asked, left)) if asked == seek => left,
            _ => self.equations(Hold::Free, seek)?,
        };
        let lift = self.lift(Hold::Free).0;
        let runs = self
            .net
            .branches
            .iter()
            .enumerate()
            .map(|(i, own)| {
                let up = if self.flow[i] >= 0.0 {
                    own.from
                } else {
                    own.to
                };
                let t_in = self.temperature[up];
                match &self.walks[i] {
                    Some(walk) => Run {
                        flow: self.flow[i],
                        t_in,
                        t_out: walk.t_out,
                        loss: walk.loss[0],
                    },
                    None => Run {
                        flow: 0.0,
                        t_in,
                        t_out: t_in,
                        loss: 0.0,
                    },
                }
            })
            .collect();
        Ok(State {
            pressures: self
                .pressure
                .iter()
                .enumerate()
                .map(|(node, p)| self.reach.tied[self.reach.piece[node]].then_some(*p))
                .collect(),
            temperatures: self.temperature.clone(),
            runs,
            lift,
            steps,
            closure: [left[1], left[2]],
        })
    }
}

/// Finds the steady state.
pub(super) fn solve(
    network: &Network,
    reach: &Reach,
    start: Option<&State>,
    enough: f64,
    kept: &mut Kept,
) -> Outcome {
    let found = solve_from(network, reach, start, enough, kept);
    if start.is_none() || !matches!(found, Outcome::TooHot(_)) {
        return found;
    }
    // A like state may lead astray, where the way from rest does not.
    solve_from(network, reach, None, enough, kept)
}

fn solve_from(
    network: &Network,
    reach: &Reach,
    start: Option<&State>,
    enough: f64,
    kept: &mut Kept,
) -> Outcome {
    let mut work = Work::new(network, reach, kept);
    let found = attempt(&mut work, start, enough);
    kept.give(work.lu);
    match found {
        Ok(Some(state)) => {
            let (low, high) = network.medium.range();
            let beyond = state
                .runs
                .iter()
                .filter(|run| run.flow != 0.0)
                .flat_map(|run| [run.t_in, run.t_out])
                .chain(network.isothermal)
                .find(|t| *t < low || *t > high);
            match beyond {
                Some(t) if t > high && network.isothermal.is_none() => Outcome::TooHot(t),
                Some(t) => Outcome::Unmeasured(Unknown {
                    why: format!(
                        "the water would be at {t:.0} °C, and its properties are known from {low:.0} to {high:.0} °C"
                    ),
                    settles: "properties of the coolant at that temperature".into(),
                }),
                None => Outcome::Solved(Box::new(state)),
            }
        }
        Ok(None) => Outcome::Unsolvable("the flows did not settle".into()),
        Err(unknown) => Outcome::Unmeasured(unknown),
    }
}

fn attempt(
    work: &mut Work<'_>,
    start: Option<&State>,
    enough: f64,
) -> Result<Option<State>, Unknown> {
    let network = work.net;
    let heat = network.isothermal.is_none();
    let seek = if heat { Seek::All } else { Seek::Flows };
    if let Some(start) = start
        && work.begin_at(start)
    {
        work.standing.clone_from(&work.temperature);
        if let Ok(Some(steps)) = work.settle(Hold::Free, seek, 20, enough.max(LEFT)) {
            return work.state(steps).map(Some);
        }
    }
    work.begin();
    work.standing.clone_from(&work.temperature);
    // First the flows alone, roughly: heat needs flows that come near to the truth.
    let rough = |work: &mut Work<'_>| {
        work.settle(Hold::Free, Seek::Flows, 8, 0.05)?;
        work.settle(Hold::Free, seek, STEPS, LEFT)
    };
    let found = if !heat {
        work.settle(Hold::Free, seek, STEPS, LEFT)?
    } else if let Ok(Some(steps)) = rough(work) {
        Some(steps)
    } else if network.stat.is_some() {
        work.bracket()?
    } else {
        work.begin();
        work.by_turns(Hold::Free)?
    };
    found.map(|steps| work.state(steps)).transpose()
}
