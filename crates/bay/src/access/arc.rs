//! Free arcs of a whole turn, found by a sweep that leaves nothing out unseen.
//!
//! Each look at an angle also says how far about it the same must hold: what is free by a gap of `c` stays
//! free while the farthest point of the tool, at a distance `ρ` from the axis, moves by less than `c`, that
//! is for `c/ρ` of turn; and what is hit by a depth stays hit likewise. Between two looks the sweep goes on
//! halving until these ranges meet, or until what might hide there is narrower than [`Fineness::least`].

use std::f64::consts::TAU;

/// What is found at one angle, and for how much turn either way it must hold at least, rad.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Look {
    /// Nothing is in the way.
    Free {
        /// The turn for which that holds, rad.
        sure: f64,
    },
    /// Something is.
    Hit {
        /// The turn for which that holds, rad.
        sure: f64,
    },
}

impl Look {
    /// Whether nothing is in the way.
    pub fn is_free(self) -> bool {
        matches!(self, Self::Free { .. })
    }

    fn sure(self) -> f64 {
        match self {
            Self::Free { sure } | Self::Hit { sure } => sure,
        }
    }
}

/// How finely a turn is looked at, rad.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fineness {
    /// The first looks stand this far apart.
    pub step: f64,
    /// A window or a thing in the way narrower than this may be missed; nothing wider is.
    pub least: f64,
    /// The ends of an arc are right to this.
    pub ends: f64,
}

impl Default for Fineness {
    /// Looks at 5°, nothing wider than 2.5° missed, ends to a quarter of a degree: nobody sets a screw
    /// closer than that.
    fn default() -> Self {
        Self {
            step: 5_f64.to_radians(),
            least: 2.5_f64.to_radians(),
            ends: 0.25_f64.to_radians(),
        }
    }
}

/// A range of angles, from `from` (0 to 2π) as the angle grows to `to` (up to `from` + 2π), rad.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arc {
    /// Where it begins, rad, 0 to 2π.
    pub from: f64,
    /// Where it ends, rad, not less than `from`; over 2π where the arc goes through nought.
    pub to: f64,
}

impl Arc {
    /// The whole turn.
    pub const WHOLE: Self = Self { from: 0.0, to: TAU };

    /// Its width, rad.
    pub fn width(self) -> f64 {
        self.to - self.from
    }

    /// Its middle, rad, 0 to 2π. Of the whole turn that is half past: no angle is better than another.
    pub fn middle(self) -> f64 {
        let middle = ((self.from + self.to) / 2.0).rem_euclid(TAU);
        if middle < TAU { middle } else { 0.0 }
    }

    /// How far one may be off the middle either way, rad.
    pub fn slack(self) -> f64 {
        self.width() / 2.0
    }

    /// Whether an angle (rad) lies in it.
    pub fn holds(self, angle: f64) -> bool {
        self.width() >= TAU || (angle - self.from).rem_euclid(TAU) <= self.width()
    }

    /// How far an angle (rad) in it lies from its nearer end, rad; `None` of one outside it. In a whole turn nothing
    /// ends.
    pub fn within(self, angle: f64) -> Option<f64> {
        if self.width() >= TAU {
            return Some(f64::INFINITY);
        }
        let past = (angle - self.from).rem_euclid(TAU);
        (past <= self.width()).then(|| past.min(self.width() - past))
    }

    /// The same turned the other way round, as seen in a mirror.
    pub fn mirrored(self) -> Self {
        if self.width() >= TAU {
            return Self::WHOLE;
        }
        let from = (-self.to).rem_euclid(TAU);
        Self {
            from,
            to: from + self.width(),
        }
    }
}

/// The free arcs of a whole turn, in the order of their beginnings, by `look` at single angles (rad).
pub fn sweep(fineness: Fineness, mut look: impl FnMut(f64) -> Look) -> Vec<Arc> {
    let step = fineness.step.clamp(1e-3, TAU / 3.0);
    let fineness = Fineness {
        step,
        least: fineness.least.max(1e-5),
        ends: fineness.ends.max(1e-7),
    };
    let count = (TAU / step).ceil() as usize;
    let angle = |n: usize| TAU * n as f64 / count as f64;
    let first = look(0.0);
    let mut changes = Vec::new();
    let mut before = (0.0, first);
    for n in 1..=count {
        let here = if n == count {
            (TAU, first)
        } else {
            (angle(n), look(angle(n)))
        };
        between(fineness, before, here, &mut look, &mut changes);
        before = here;
    }
    arcs(first.is_free(), &changes)
}

/// Finds the changes between two looks. Each is told by the angle on its free side.
fn between(
    fineness: Fineness,
    low: (f64, Look),
    high: (f64, Look),
    look: &mut impl FnMut(f64) -> Look,
    changes: &mut Vec<f64>,
) {
    let width = high.0 - low.0;
    let same = low.1.is_free() == high.1.is_free();
    if same && (low.1.sure() + high.1.sure() >= width || width <= fineness.least) {
        return;
    }
    if !same && width <= fineness.ends {
        changes.push(if low.1.is_free() { low.0 } else { high.0 });
        return;
    }
    let at = (low.0 + high.0) / 2.0;
    let middle = (at, look(at));
    between(fineness, low, middle, look, changes);
    between(fineness, middle, high, look, changes);
}

/// Arcs from where free turns to hit and back, in order.
fn arcs(free_at_nought: bool, changes: &[f64]) -> Vec<Arc> {
    let (Some(&first), Some(&last)) = (changes.first(), changes.last()) else {
        return if free_at_nought {
            vec![Arc::WHOLE]
        } else {
            Vec::new()
        };
    };
    let inner = if free_at_nought {
        changes.get(1..changes.len() - 1).unwrap_or_default()
    } else {
        changes
    };
    let mut found: Vec<Arc> = inner
        .chunks_exact(2)
        .map(|pair| Arc {
            from: pair[0], // OK because `chunks_exact(2)` gives two
            to: pair[1],   // OK because `chunks_exact(2)` gives two
        })
        .collect();
    if free_at_nought {
        found.push(Arc {
            from: last,
            to: first + TAU,
        });
    }
    found
}

/// The arcs that lie in any of several lists, put together where they touch.
pub fn union<'a>(lists: impl IntoIterator<Item = &'a [Arc]>) -> Vec<Arc> {
    let all: Vec<Arc> = lists.into_iter().flatten().copied().collect();
    if all.iter().any(|arc| arc.width() >= TAU) {
        return vec![Arc::WHOLE];
    }
    // Cut open at nought, sorted, joined, and closed again.
    let mut cut: Vec<(f64, f64)> = Vec::with_capacity(all.len() + 1);
    for arc in all {
        if arc.to > TAU {
            cut.push((arc.from, TAU));
            cut.push((0.0, arc.to - TAU));
        } else {
            cut.push((arc.from, arc.to));
        }
    }
    cut.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut joined: Vec<(f64, f64)> = Vec::with_capacity(cut.len());
    for (from, to) in cut {
        match joined.last_mut() {
            Some(last) if from <= last.1 => last.1 = last.1.max(to),
            _ => joined.push((from, to)),
        }
    }
    let (first, last) = (joined.first().copied(), joined.last().copied());
    if let (Some(first), Some(last)) = (first, last)
        && first.0 <= 0.0
        && last.1 >= TAU
    {
        if joined.len() == 1 {
            return vec![Arc::WHOLE];
        }
        joined.remove(0);
        if let Some(end) = joined.last_mut() {
            end.1 = TAU + first.1;
        }
    }
    joined
        .into_iter()
        .map(|(from, to)| Arc { from, to })
        .collect()
}

/// The widest of some arcs; of equal ones the first.
pub fn widest(arcs: &[Arc]) -> Option<Arc> {
    arcs.iter().copied().fold(None, |best: Option<Arc>, arc| {
        if best.is_some_and(|best| best.width() >= arc.width()) {
            best
        } else {
            Some(arc)
        }
    })
}
