//! Equilibria of a hose: from several starts, or from a shape it had before.

use super::lay::Lay;
use super::start::{Gap, Stop, piecewise};
use super::{Around, Came, Chain, Far, Fault, Rod, Vec3, Work};

/// Equilibria whose energy is this share of the bending energy above the lowest are told too.
pub(crate) const CLOSE: f64 = 0.2;

/// A path that is caught so many times the bending energy above the lowest equilibrium is not followed: ten times
/// what is told beside it.
const FAR: f64 = 10.0 * CLOSE;

/// An equilibrium of a chain.
#[derive(Debug, Clone)]
pub(crate) struct Found {
    pub(crate) work: Work,
    pub(crate) energy: f64,
    pub(crate) stable: bool,
    pub(crate) neutral: bool,
}

impl Found {
    pub(crate) fn same(&self, other: &Self, chain: &Chain, scale: f64) -> bool {
        if (self.energy - other.energy).abs() > 1e-5 * scale {
            return false;
        }
        if self.neutral && other.neutral {
            return true;
        }
        let far = self
            .work
            .x
            .iter()
            .zip(&other.work.x)
            .fold(0.0_f64, |most, (a, b)| most.max((*a - *b).length()));
        far < 3e-3 * chain.length()
    }
}

/// A shift that tells a true way downhill from rounding [N m].
fn doubt(chain: &Chain) -> f64 {
    1e-6 * chain.typical()
}

/// Stiffness of contact's penalty [N/m], far above the hose's own.
fn penalty(chain: &Chain) -> f64 {
    let length = chain.length();
    let n = chain.edges.len() as f64;
    let stiffness = chain.typical() * length / n;
    (2e4 * stiffness / length.powi(3)).max(200.0 * chain.weight() / length)
}

/// Looks whether the equilibrium in `work` is one of least energy: stable, and neutral.
fn judge(work: &mut Work, chain: &Chain, around: &dyn Around) -> (bool, bool) {
    let mut round = Vec::new();
    if work.contacts.on && !work.contacts.live.is_empty() {
        work.rounded(chain, around, &mut round);
    }
    let doubt = doubt(chain);
    let stable = work.downhill(chain, doubt, &round) == 0;
    let neutral = stable && work.downhill(chain, -doubt, &round) != 0;
    (stable, neutral)
}

/// One path from the directions in `work`, and what it came to.
pub(crate) fn one_path(work: &mut Work, chain: &Chain, around: &dyn Around) -> Option<Found> {
    path_under(work, chain, around, f64::INFINITY)
}

/// As [`one_path`], but given up where it is caught at more energy than `ceiling` [J].
fn path_under(work: &mut Work, chain: &Chain, around: &dyn Around, ceiling: f64) -> Option<Found> {
    work.ceiling = ceiling;
    work.contacts.reset(
        chain,
        penalty(chain),
        !around.is_empty() && !chain.samples.is_empty(),
    );
    if work.press(chain, around) == Came::Lost {
        return None;
    }
    let (stable, neutral) = judge(work, chain, around);
    Some(Found {
        energy: work.energy(chain),
        stable,
        neutral,
        work: work.clone(),
    })
}

/// All equilibria from given starts, the lowest first and each once; those far above the lowest only if `every` one is
/// wanted. A saddle is left downhill on both sides.
pub(crate) fn equilibria(
    work: &mut Work,
    chain: &Chain,
    starts: &[Vec<Vec3>],
    around: &dyn Around,
    every: bool,
) -> Vec<Found> {
    let mut all: Vec<Found> = Vec::new();
    let keep = |all: &mut Vec<Found>, found: Found| {
        let scale = found.work_scale(chain);
        if !all.iter().any(|other| found.same(other, chain, scale)) {
            all.push(found);
        }
    };
    // Above what energy a path is not followed, by what is known so far.
    let ceiling = |all: &[Found]| {
        let known = all.iter().filter(|found| found.stable && !every);
        known
            .map(|found| found.energy + FAR * found.work_scale(chain))
            .fold(f64::INFINITY, f64::min)
    };
    for start in starts {
        work.t.clear();
        work.t.extend_from_slice(start);
        let Some(found) = path_under(work, chain, around, ceiling(&all)) else {
            continue;
        };
        if found.stable {
            keep(&mut all, found);
            continue;
        }
        let mut left = false;
        for amount in [0.15, -0.15] {
            work.clone_from(&found.work);
            if !work.lowest_way(chain, -doubt(chain)) {
                continue;
            }
            work.kick(amount);
            if let Some(lower) = path_under(work, chain, around, ceiling(&all))
                && lower.stable
            {
                left = true;
                keep(&mut all, lower);
            }
        }
        if !left {
            keep(&mut all, found);
        }
    }
    all.sort_by(|a, b| b.stable.cmp(&a.stable).then(a.energy.total_cmp(&b.energy)));
    all
}

impl Found {
    /// An energy to compare others with [J].
    pub(crate) fn work_scale(&self, chain: &Chain) -> f64 {
        chain.bending(&self.work.t) + 1e-3 * chain.typical()
    }
}

fn gap(rod: &Rod) -> Gap {
    let (to, arrive) = match rod.b {
        Far::Clamped(end) => (end.at, -end.along),
        Far::Pinned(at) => (at, (at - rod.a.at).normalize_or(rod.a.along)),
        Far::Free(_) => (rod.a.at + rod.a.along * (0.999 * rod.length), rod.a.along),
    };
    Gap {
        from: rod.a.at,
        leave: rod.a.along,
        to,
        arrive,
        length: rod.length,
        down: rod.down,
    }
}

/// Where the supports hold the hose, in their order along it.
fn stops(rod: &Rod) -> Vec<Stop> {
    let mut stops: Vec<Stop> = rod
        .supports
        .iter()
        .map(|support| Stop {
            at: support.at,
            arc: support.arc,
            along: support.along,
        })
        .collect();
    stops.sort_by(|a, b| a.arc.total_cmp(&b.arc));
    stops
}

/// Puts the given directions into a start.
fn tie(start: &mut [Vec3], given: &[(usize, Vec3)]) {
    for (edge, along) in given {
        if let Some(t) = start.get_mut(*edge) {
            *t = *along;
        }
    }
}

/// The equilibria of a hose: the lowest first, then those within a fifth of its bending energy,
/// into which a knock may throw it.
///
/// # Errors
///
/// Where a figure can't be, the hose is too short, or nothing was found.
pub fn settle(rod: &Rod, around: &dyn Around) -> Result<Vec<Lay>, Fault> {
    rod.check()?;
    let chain = rod.chain()?;
    let given = rod.given()?;
    let mut gap = gap(rod);
    let stops = stops(rod);
    if let (Far::Free(_), Some(last)) = (rod.b, stops.last()) {
        // What lies beyond the last support starts straight on.
        let way = (last.at - rod.a.at).normalize_or(rod.a.along);
        gap.to = last.at + way * (0.999 * (rod.length - last.arc));
        gap.arrive = way;
    }
    let mut starts = piecewise(&gap, &stops, &chain.edges);
    for start in &mut starts {
        tie(start, &given);
    }
    let mut work = Work::default();
    let mut found = equilibria(&mut work, &chain, &starts, around, false);
    let none = Fault::NotFound {
        starts: starts.len(),
    };
    let lowest = match found.first() {
        Some(first) => (first.energy, CLOSE * first.work_scale(&chain)),
        None => return Err(none),
    };
    found.retain(|one| one.energy - lowest.0 <= lowest.1);
    let mut out = Vec::with_capacity(found.len());
    for mut one in found {
        let mut lay = Lay::of(rod, &chain, &mut one, around);
        lay.least_stiffness = Some(super::least_stiffness(&mut one.work, &chain));
        out.push(lay);
    }
    out.sort_by(|a, b| b.stable.cmp(&a.stable).then(a.energy.total_cmp(&b.energy)));
    Ok(out)
}

/// The equilibrium next to a shape that the hose, or one like it, had before: one path.
///
/// The hose may differ in every figure but its number of edges and supports.
///
/// # Errors
///
/// As [`settle`]; a former shape of another number of edges counts as no start.
pub fn settle_from(rod: &Rod, around: &dyn Around, before: &Lay) -> Result<Lay, Fault> {
    rod.check()?;
    let chain = rod.chain()?;
    let mut work = Work::default();
    work.t.extend_from_slice(before.directions());
    if work.t.len() != chain.edges.len() {
        return Err(Fault::NotFound { starts: 0 });
    }
    tie(&mut work.t, &rod.given()?);
    let mut one = one_path(&mut work, &chain, around).ok_or(Fault::NotFound { starts: 1 })?;
    Ok(Lay::of(rod, &chain, &mut one, around))
}
