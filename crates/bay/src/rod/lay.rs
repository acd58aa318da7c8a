//! What is read off an equilibrium: centreline, bends, sag, forces.

use super::settle::Found;
use super::{Around, Chain, Far, Joint, Passing, Rod, Vec3, Work, turning};

/// The tightest bend.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bend {
    /// Radius of the centreline [m]; infinite in a straight hose.
    pub radius: f64,
    /// Distance from the first mouth along the centreline [m].
    pub arc: f64,
    /// Where.
    pub at: Vec3,
}

/// How a hose hangs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sag {
    /// Greatest depth under the straight line between the ends, from that line straight down [m];
    /// nought where the line stands within 5° of upright.
    pub depth: f64,
    /// Where that is.
    pub at: Vec3,
    /// The lowest point.
    pub lowest: Vec3,
    /// The highest point.
    pub highest: Vec3,
}

/// A body that presses on the hose.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pressing {
    /// Which body, as [`Touch`] numbers it.
    pub body: usize,
    /// Distance from the first mouth along the centreline [m].
    pub arc: f64,
    /// Where the centreline is.
    pub at: Vec3,
    /// Force on the hose [N].
    pub force: Vec3,
}

/// A shape that a hose can keep.
#[derive(Debug, Clone, PartialEq)]
pub struct Lay {
    /// The centreline, from mouth to mouth: points between which it is taken as straight.
    pub points: Vec<Vec3>,
    /// Distance of each point from the first mouth along the centreline [m].
    pub arcs: Vec<f64>,
    /// Curvature at each point [1/m]; nought where rigid.
    pub curvature: Vec<f64>,
    /// The tightest bend.
    pub bend: Bend,
    /// How it hangs.
    pub sag: Sag,
    /// Force of the hose on what holds its first end [N].
    pub force_a: Vec3,
    /// Moment of the hose on what holds its first end, about that end [N m].
    pub moment_a: Vec3,
    /// Force of the hose on what holds its far end [N].
    pub force_b: Vec3,
    /// Moment of the hose on what holds its far end, about that end [N m].
    pub moment_b: Vec3,
    /// Force of the hose on each support [N].
    pub on_supports: Vec<Vec3>,
    /// Bending energy [J].
    pub bending: f64,
    /// Energy of the weight, nought at height nought [J].
    pub weight: f64,
    /// Both together [J], less the work of a load on a free end from the first mouth on.
    pub energy: f64,
    /// Whether it stays there when disturbed a little.
    pub stable: bool,
    /// Whether it may be turned without effort, as an arch between mouths on one axis.
    pub neutral: bool,
    /// What presses on it.
    pub contacts: Vec<Pressing>,
    /// Least gap between the hose's surface and a body [m], where one is near; none else.
    pub gap: Option<f64>,
    /// Where the least gap is, along the centreline [m].
    pub gap_arc: Option<f64>,
    /// Greatest imbalance left at an edge [N m].
    pub residual: f64,
    /// Least eigenvalue of the energy's second variation by the direction of the centreline [N],
    /// contacts as springs; none where only one path was asked for.
    pub least_stiffness: Option<f64>,
    directions: Vec<Vec3>,
}

impl Lay {
    /// Directions of the edges, for a warm start.
    #[must_use]
    pub fn directions(&self) -> &[Vec3] {
        &self.directions
    }

    /// The point at a distance from the first mouth along the centreline [m].
    #[must_use]
    pub fn place(&self, arc: f64) -> Vec3 {
        place(&self.arcs, &self.points, arc)
    }

    /// Greatest distance [m] between points of this shape and another of as many.
    #[must_use]
    pub fn farthest_from(&self, other: &Self) -> f64 {
        self.points
            .iter()
            .zip(&other.points)
            .fold(0.0_f64, |most, (a, b)| most.max((*a - *b).length()))
    }

    pub(crate) fn of(rod: &Rod, chain: &Chain, found: &mut Found, around: &dyn Around) -> Self {
        let tip = match rod.b {
            Far::Clamped(end) => Some(end.at),
            _ => None,
        };
        let supports = rod.supports.len();
        read(chain, found, around, &Asked { tip, supports })
    }
}

/// What to read of a chain.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Asked {
    /// The far end's place, where it is clamped.
    pub(crate) tip: Option<Vec3>,
    /// How many of the chain's holds are supports; they come first.
    pub(crate) supports: usize,
}

/// Reads a found equilibrium of any chain.
pub(crate) fn read(chain: &Chain, found: &mut Found, around: &dyn Around, asked: &Asked) -> Lay {
    let work = &mut found.work;
    let residual = work.imbalance(chain);
    let (t, x) = (&work.t, &work.x);
    let mut arc = 0.0;
    let mut arcs = vec![0.0];
    for edge in &chain.edges {
        arc += edge.length;
        arcs.push(arc);
    }
    let forces = forces(chain, work, asked);
    let mut curvature = vec![0.0; x.len()];
    for (joint, (pair, out)) in chain
        .joints
        .iter()
        .zip(t.windows(2).zip(curvature.iter_mut().skip(1)))
    {
        if let (Joint::Hose { span, .. }, [s, t]) = (joint, pair) {
            *out = turning(*s, *t) / span;
        }
    }
    // The ends bend by the moment that balances there.
    if let (Some(Joint::Hose { k, span }), Some(out)) =
        (chain.joints.first(), curvature.first_mut())
    {
        *out = bending_part(forces.moment_a, t.first()) / (k * span);
    }
    if let (Some(Joint::Hose { k, span }), Some(out)) = (chain.joints.last(), curvature.last_mut())
        && asked.tip.is_some()
    {
        *out = bending_part(forces.moment_b, t.last()) / (k * span);
    }
    let bend = tightest(&curvature, &arcs, x);
    let base = chain.start.dot(chain.down) * chain.weight();
    let bending = chain.bending(t);
    let worked = x
        .last()
        .map_or(0.0, |tip| chain.load.dot(*tip - chain.start));
    let weight = chain.lifted(t) + worked - base;
    let (gap, gap_arc) = least_gap(chain, work, around);
    let work = &found.work;
    let contacts = work
        .contacts
        .live
        .iter()
        .filter_map(|live| {
            let sample = chain.samples.get(live.sample)?;
            let at = *work.x.get(sample.edge)? + *work.t.get(sample.edge)? * live.along;
            Some(Pressing {
                body: live.body,
                arc: arcs.get(sample.edge)? + live.along,
                at,
                force: live.normal * live.force,
            })
        })
        .collect();
    Lay {
        sag: sag(&work.x, chain.down),
        points: work.x.clone(),
        arcs,
        curvature,
        bend,
        force_a: forces.force_a,
        moment_a: forces.moment_a,
        force_b: forces.force_b,
        moment_b: forces.moment_b,
        on_supports: work.y.iter().take(asked.supports).copied().collect(),
        bending,
        weight,
        energy: bending + weight - worked,
        stable: found.stable,
        neutral: found.neutral,
        contacts,
        gap,
        gap_arc,
        residual,
        least_stiffness: None,
        directions: work.t.clone(),
    }
}

fn bending_part(moment: Vec3, t: Option<&Vec3>) -> f64 {
    t.map_or(0.0, |t| (moment - *t * t.dot(moment)).length())
}

struct Forces {
    force_a: Vec3,
    moment_a: Vec3,
    force_b: Vec3,
    moment_b: Vec3,
}

/// End forces from the multipliers and the balance of the whole; end moments from the outermost
/// joints and what acts on the half edges outside them.
fn forces(chain: &Chain, work: &Work, asked: &Asked) -> Forces {
    let (t, x) = (&work.t, &work.x);
    let mut force_a = chain.down * chain.weight() + chain.load;
    for y in &work.y {
        force_a -= *y;
    }
    for live in &work.contacts.live {
        force_a += live.normal * live.force;
    }
    let force_b = work.y.get(asked.supports).copied().unwrap_or(Vec3::ZERO);
    let mut moment_a = Vec3::ZERO;
    let mut moment_b = Vec3::ZERO;
    if let (Some(edge), Some(way), Some(from), Some(to)) =
        (chain.edges.first(), t.first(), x.first(), x.get(1))
    {
        // What passes the first joint: all that acts on the hose, less what acts on its first edge.
        let passes = force_a - chain.down * edge.weight - on_edge(chain, work, 0).0;
        moment_a = Work::moment(chain, 0, t)
            + (*to - *from).cross(passes)
            + (*way * edge.moment).cross(chain.down)
            + on_edge(chain, work, 0).1;
    }
    let last = chain.edges.len().saturating_sub(1);
    if let (Some(tip), Some(edge), Some(from), Some(way), true) = (
        asked.tip,
        chain.edges.last(),
        x.get(last),
        t.get(last),
        last > 0,
    ) {
        let (pressed, turned) = on_edge(chain, work, last);
        let passes = force_b - chain.down * edge.weight - pressed;
        let weight_at = if edge.weight > 0.0 {
            edge.moment / edge.weight
        } else {
            0.0
        };
        moment_b = -Work::moment(chain, last - 1, t)
            + (*from - tip).cross(passes)
            + (*from + *way * weight_at - tip).cross(chain.down * edge.weight)
            + turned
            + (*from - tip).cross(pressed);
    }
    Forces {
        force_a,
        moment_a,
        force_b,
        moment_b,
    }
}

/// Force and moment about its beginning that bodies give to one edge.
fn on_edge(chain: &Chain, work: &Work, edge: usize) -> (Vec3, Vec3) {
    let (mut force, mut moment) = (Vec3::ZERO, Vec3::ZERO);
    for live in &work.contacts.live {
        if let (Some(sample), Some(t)) = (chain.samples.get(live.sample), work.t.get(edge))
            && sample.edge == edge
        {
            force += live.normal * live.force;
            moment += (*t * live.along).cross(live.normal * live.force);
        }
    }
    (force, moment)
}

/// The tightest bend, between the points too: by the parabola through the three about it.
fn tightest(curvature: &[f64], arcs: &[f64], x: &[Vec3]) -> Bend {
    let mut best = (0.0, 0.0, 0);
    for (i, k) in curvature.iter().enumerate() {
        if *k > best.0 {
            best = (*k, arcs.get(i).copied().unwrap_or(0.0), i);
        }
    }
    let (mut most, mut arc, i) = best;
    let here = |list: &[f64], j: usize| list.get(j).copied();
    if i > 0
        && let (Some(p), Some(q), Some(a), Some(b), Some(c)) = (
            here(curvature, i - 1),
            here(curvature, i + 1),
            here(arcs, i - 1),
            here(arcs, i),
            here(arcs, i + 1),
        )
        && p > 0.0
        && q > 0.0
        && (c - b - (b - a)).abs() < 1e-9
    {
        let bow = p - 2.0 * most + q;
        if bow < 0.0 {
            let off = (p - q) / (2.0 * bow);
            if off.abs() <= 1.0 {
                arc += off * (b - a);
                most -= (p - q) * off / 4.0;
            }
        }
    }
    Bend {
        radius: if most > 1e-9 {
            1.0 / most
        } else {
            f64::INFINITY
        },
        arc,
        at: place(arcs, x, arc),
    }
}

/// The point of a line at a distance along it.
pub(crate) fn place(arcs: &[f64], x: &[Vec3], arc: f64) -> Vec3 {
    for (a, p) in arcs.windows(2).zip(x.windows(2)) {
        if let ([low, high], [from, to]) = (a, p)
            && arc <= *high
        {
            let long = high - low;
            let share = if long > 0.0 {
                ((arc - low) / long).clamp(0.0, 1.0)
            } else {
                0.0
            };
            return *from + (*to - *from) * share;
        }
    }
    x.last().copied().unwrap_or(Vec3::ZERO)
}

/// A chord stands upright where its level part is less than this share of it: 5°.
const UPRIGHT: f64 = 0.087;

fn sag(x: &[Vec3], down: Vec3) -> Sag {
    let (from, to) = match (x.first(), x.last()) {
        (Some(from), Some(to)) => (*from, *to),
        _ => (Vec3::ZERO, Vec3::ZERO),
    };
    let chord = to - from;
    let level = chord - down * chord.dot(down);
    let square = level.length_squared();
    // Beside an upright chord nothing hangs under it.
    let upright = square <= (UPRIGHT * chord.length()).powi(2);
    let mut sag = Sag {
        depth: 0.0,
        at: from,
        lowest: from,
        highest: from,
    };
    for p in x {
        let share = if upright {
            0.0
        } else {
            ((*p - from).dot(level) / square).clamp(0.0, 1.0)
        };
        let depth = (*p - from - chord * share).dot(down);
        if !upright && depth > sag.depth {
            sag.depth = depth;
            sag.at = *p;
        }
        if p.dot(down) > sag.lowest.dot(down) {
            sag.lowest = *p;
        }
        if p.dot(down) < sag.highest.dot(down) {
            sag.highest = *p;
        }
    }
    sag
}

/// Least gap of the surface, edge by edge, looked at from a quarter of a metre on. What carries a
/// mouth counts from where the hose is no longer bare.
fn least_gap(chain: &Chain, work: &Work, around: &dyn Around) -> (Option<f64>, Option<f64>) {
    if around.is_empty() {
        return (None, None);
    }
    let mut best: Option<(f64, f64)> = None;
    let mut passings: Vec<Passing> = Vec::new();
    let total = chain.length();
    let [first, last] = chain.bare;
    let mut begin = 0.0;
    let mut edge = 0;
    for skin in &chain.skins {
        while edge < skin.edge {
            begin += chain.edges.get(edge).map_or(0.0, |edge| edge.length);
            edge += 1;
        }
        let (Some(x), Some(t)) = (work.x.get(skin.edge), work.t.get(skin.edge)) else {
            continue;
        };
        if skin.radius <= 0.0 {
            continue;
        }
        let mut cuts = [
            skin.from,
            (first - begin).clamp(skin.from, skin.to),
            (total - last - begin).clamp(skin.from, skin.to),
            skin.to,
        ];
        cuts.sort_by(f64::total_cmp);
        for pair in cuts.windows(2) {
            let [from, to] = pair else { continue };
            if to <= from {
                continue;
            }
            let middle = begin + (from + to) / 2.0;
            let bare = [middle < first, middle > total - last];
            passings.clear();
            let within = best.map_or(0.25, |best| best.0) + skin.radius;
            around.pass(*x + *t * *from, *x + *t * *to, within, &mut passings);
            for pass in &passings {
                let gap = pass.distance - skin.radius;
                if best.is_none_or(|best| gap < best.0) && !chain.spares(bare, pass.body) {
                    best = Some((gap, begin + from + (to - from) * pass.share));
                }
            }
        }
    }
    (best.map(|best| best.0), best.map(|best| best.1))
}

/// Least eigenvalue of the second variation [N], by counting those below a shift.
pub(crate) fn least_stiffness(work: &mut Work, chain: &Chain) -> f64 {
    let typical = chain.typical();
    let edge = chain.length() / chain.edges.len() as f64;
    let mut below = |value: f64| work.downhill(chain, -value, &[]) != 0;
    let sign = if below(0.0) { -1.0 } else { 1.0 };
    let (mut low, mut high) = (1e-9_f64, 1e2_f64);
    for _ in 0..24 {
        let middle = (low * high).sqrt();
        let is_below = below(sign * middle * typical);
        if (sign > 0.0) == is_below {
            high = middle;
        } else {
            low = middle;
        }
    }
    sign * (low * high).sqrt() * typical / edge
}
