//! Equilibria of a hose: from several starts, or from a shape it had before.

use super::lay::Lay;
use super::start::{self, Gap};
use super::{Around, Came, Chain, Far, Fault, Rod, Vec3, Way, Work};

/// Equilibria whose energy is this share of the bending energy above the lowest are told too.
pub(crate) const CLOSE: f64 = 0.2;

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
    // The path itself ended where the model, without the curvature of bodies, has a least point.
    let stable = round.is_empty() || work.downhill(chain, doubt, &round) == 0;
    let neutral = stable && work.downhill(chain, -doubt, &round) != 0;
    (stable, neutral)
}

/// One path from the directions in `work`, and what it came to.
pub(crate) fn one_path(work: &mut Work, chain: &Chain, around: &dyn Around) -> Option<Found> {
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

/// All equilibria from given starts, the lowest first and each once. A saddle is left downhill on
/// both sides.
pub(crate) fn equilibria(
    work: &mut Work,
    chain: &Chain,
    starts: &[Vec<Vec3>],
    around: &dyn Around,
) -> Vec<Found> {
    let mut all: Vec<Found> = Vec::new();
    let mut keep = |found: Found| {
        let scale = found.work_scale(chain);
        if !all.iter().any(|other| found.same(other, chain, scale)) {
            all.push(found);
        }
    };
    for start in starts {
        work.t.clear();
        work.t.extend_from_slice(start);
        let Some(found) = one_path(work, chain, around) else {
            continue;
        };
        if found.stable {
            keep(found);
            continue;
        }
        let mut left = false;
        for amount in [0.15, -0.15] {
            work.clone_from(&found.work);
            if !work.lowest_way(chain, -doubt(chain)) {
                continue;
            }
            work.kick(amount);
            if let Some(lower) = one_path(work, chain, around)
                && lower.stable
            {
                left = true;
                keep(lower);
            }
        }
        if !left {
            keep(found);
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

/// Where along the hose the supports hold it, or begin to: a sliding one where the hose can reach.
fn slid(rod: &Rod) -> Vec<f64> {
    const SPARE: f64 = 1.05;
    let half = rod.length / rod.edges as f64 / 2.0;
    let (mut from, mut passed) = (rod.a.at + rod.a.along * half, half);
    let mut arcs = Vec::with_capacity(rod.supports.len());
    for (index, support) in rod.supports.iter().enumerate() {
        let arc = match support.way {
            Way::Held(arc) => arc,
            Way::Slides(arc) => {
                // What the rest of the hose needs to reach the far end.
                let mut need = 0.0;
                let mut at = support.at;
                for later in rod.supports.iter().skip(index + 1) {
                    need += SPARE * (later.at - at).length();
                    at = later.at;
                }
                need += match rod.b {
                    Far::Clamped(end) => SPARE * (end.at + end.along * half - at).length() + half,
                    Far::Pinned(tip) => SPARE * (tip - at).length(),
                    Far::Free(_) => 0.0,
                };
                let least = passed + SPARE * (support.at - from).length();
                arc.min(rod.length - need)
                    .max(least)
                    .min(0.999 * rod.length)
            }
        };
        (from, passed) = (support.at, arc);
        arcs.push(arc);
    }
    arcs
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

/// Puts the given directions into a start.
fn tie(start: &mut [Vec3], rod: &Rod, arcs: &[f64]) {
    for (edge, along) in rod.given(arcs) {
        if let Some(t) = start.get_mut(edge) {
            *t = along;
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
    let mut arcs = slid(rod);
    let mut chain = rod.chain(&arcs);
    let mut starts = start::starts(&gap(rod), &chain.edges);
    for start in &mut starts {
        tie(start, rod, &arcs);
    }
    let mut work = Work::default();
    let mut found = equilibria(&mut work, &chain, &starts, around);
    let mut out = Vec::new();
    let none = Fault::NotFound {
        starts: starts.len(),
    };
    let lowest = match found.first() {
        Some(first) => (first.energy, CLOSE * first.work_scale(&chain)),
        None => return Err(none),
    };
    found.retain(|one| one.energy - lowest.0 <= lowest.1);
    for mut one in found {
        if slides(rod) {
            match slide(rod, &mut arcs, &mut chain, one, around) {
                Some(slid) => one = slid,
                None => continue,
            }
        }
        let mut lay = Lay::of(rod, &chain, &mut one, around);
        lay.least_stiffness = Some(super::least_stiffness(&mut one.work, &chain));
        out.push(lay);
    }
    out.sort_by(|a, b| b.stable.cmp(&a.stable).then(a.energy.total_cmp(&b.energy)));
    if out.is_empty() { Err(none) } else { Ok(out) }
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
    let mut arcs = slid(rod);
    let mut chain = rod.chain(&arcs);
    let mut work = Work::default();
    work.t.extend_from_slice(before.directions());
    if work.t.len() != chain.edges.len() {
        return Err(Fault::NotFound { starts: 0 });
    }
    tie(&mut work.t, rod, &arcs);
    let none = Fault::NotFound { starts: 1 };
    let mut one = one_path(&mut work, &chain, around).ok_or(none.clone())?;
    if slides(rod) {
        one = slide(rod, &mut arcs, &mut chain, one, around).ok_or(none)?;
    }
    Ok(Lay::of(rod, &chain, &mut one, around))
}

fn slides(rod: &Rod) -> bool {
    rod.supports
        .iter()
        .any(|support| matches!(support.way, Way::Slides(_)))
}

/// Force along the hose that a sliding support would have to give [N].
fn drag(found: &Found, chain: &Chain, support: usize) -> f64 {
    match (chain.holds.get(support), found.work.y.get(support)) {
        (Some(hold), Some(y)) => found.work.t.get(hold.edge).map_or(0.0, |t| t.dot(*y)),
        _ => 0.0,
    }
}

/// Shifts the hose through its sliding supports, one after the other, until none drags.
fn slide(
    rod: &Rod,
    arcs: &mut [f64],
    chain: &mut Chain,
    found: Found,
    around: &dyn Around,
) -> Option<Found> {
    let mut best = found;
    let small = 1e-6 * rod.length;
    for _ in 0..12 {
        let mut moved = 0.0_f64;
        for index in 0..rod.supports.len() {
            if !matches!(rod.supports.get(index)?.way, Way::Slides(_)) {
                continue;
            }
            let (was, now) = slide_one(rod, arcs, chain, &mut best, index, around)?;
            moved = moved.max((was - now).abs());
        }
        if moved < small {
            break;
        }
        if rod.supports.len() == 1 {
            break;
        }
    }
    Some(best)
}

/// Finds by false position where one support takes no force along the hose.
fn slide_one(
    rod: &Rod,
    arcs: &mut [f64],
    chain: &mut Chain,
    best: &mut Found,
    index: usize,
    around: &dyn Around,
) -> Option<(f64, f64)> {
    let was = *arcs.get(index)?;
    let low_wall = index
        .checked_sub(1)
        .and_then(|i| arcs.get(i))
        .copied()
        .unwrap_or(0.0);
    let high_wall = arcs.get(index + 1).copied().unwrap_or(rod.length);
    let margin = 1e-3 * rod.length;
    let mut at = |arc: f64, from: &Found| -> Option<(f64, Found, Chain)> {
        if let Some(slot) = arcs.get_mut(index) {
            *slot = arc;
        }
        let chain = rod.chain(arcs);
        let mut work = from.work.clone();
        tie(&mut work.t, rod, arcs);
        let found = one_path(&mut work, &chain, around)?;
        let drag = drag(&found, &chain, index);
        Some((drag, found, chain))
    };
    // The energy's slope by the arc is y·t (the place held slides back along the hose).
    let mut left = (was, drag(best, chain, index));
    let step = 0.01 * rod.length;
    let mut right = left;
    let way = if left.1 > 0.0 { -1.0 } else { 1.0 };
    let mut stride = step;
    for _ in 0..40 {
        let next = (right.0 + way * stride).clamp(low_wall + margin, high_wall - margin);
        if (next - right.0).abs() < 1e-9 {
            break;
        }
        left = right;
        match at(next, best) {
            Some((drag, found, new)) => {
                right = (next, drag);
                *best = found;
                *chain = new;
            }
            None => {
                stride *= 0.5;
                continue;
            }
        }
        if right.1 * left.1 <= 0.0 {
            break;
        }
        stride *= 1.5;
    }
    if right.1 * left.1 > 0.0 {
        // It slides until the next clip or the mouth stops it.
        return Some((was, right.0));
    }
    let (mut a, mut b) = (left, right);
    let mut now = right.0;
    for _ in 0..60 {
        if (a.0 - b.0).abs() < 1e-7 * rod.length || b.1 == a.1 {
            break;
        }
        let share = (a.1 / (a.1 - b.1)).clamp(0.1, 0.9);
        now = a.0 + (b.0 - a.0) * share;
        let (drag, found, new) = at(now, best)?;
        *best = found;
        *chain = new;
        if drag * a.1 > 0.0 {
            a = (now, drag);
        } else {
            b = (now, drag);
        }
    }
    Some((was, now))
}
