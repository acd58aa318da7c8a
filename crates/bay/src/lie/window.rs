//! The window of cut lengths in which given rules hold.

use super::run::{Piece, Run, RunLay, lie_as, lie_from};
use crate::rod::Around;

/// Between what lengths, and how finely, a window is sought.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// Least free length asked about [m].
    pub low: f64,
    /// Greatest [m].
    pub high: f64,
    /// Step of the march [m]: a gap in the window shorter than this may be stepped over.
    pub step: f64,
    /// To what the ends are found [m].
    pub fine: f64,
}

impl Limits {
    /// A fifth shorter to a fifth longer than a length, in steps of 10 mm, to 1 mm.
    #[must_use]
    pub fn about(length: f64) -> Self {
        Self {
            low: 0.8 * length,
            high: 1.2 * length,
            step: 0.01,
            fine: 0.001,
        }
    }
}

/// Free lengths in which the rules hold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Window {
    /// Least [m].
    pub least: f64,
    /// Greatest [m].
    pub most: f64,
    /// Whether the rules still hold at the least length that was asked about.
    pub open_below: bool,
    /// Whether they still hold at the greatest.
    pub open_above: bool,
    /// Shapes solved.
    pub solved: usize,
}

/// A run with one hose cut to another free length.
#[must_use]
pub fn cut(run: &Run, piece: usize, length: f64) -> Run {
    let mut other = run.clone();
    let mut scale = 1.0;
    if let Some(Piece::Hose(hose)) = other.pieces.get_mut(piece) {
        scale = length / hose.length;
        hose.length = length;
    }
    for held in &mut other.held {
        if held.piece == piece {
            held.arc *= scale;
        }
    }
    other
}

struct March<'a> {
    run: &'a Run,
    around: &'a dyn Around,
    piece: usize,
    first: &'a RunLay,
    rules: &'a dyn Fn(&RunLay) -> bool,
    solved: usize,
}

impl March<'_> {
    fn holds(&self, lay: &RunLay) -> bool {
        lay.lay.stable && (self.rules)(lay)
    }

    /// The shape at a length, and whether it is stable and the rules hold. Where the neighbour leads to none that
    /// rests, it is sought anew.
    fn at(&mut self, length: f64, from: &RunLay) -> (Option<RunLay>, bool) {
        self.solved += 1;
        let run = cut(self.run, self.piece, length);
        match lie_from(&run, self.around, from) {
            Ok(lay) if lay.lay.stable => {
                let holds = self.holds(&lay);
                (Some(lay), holds)
            }
            _ => self.anew(length),
        }
    }

    /// The shape that a hose cut to this length would hang in, from many starts.
    fn anew(&mut self, length: f64) -> (Option<RunLay>, bool) {
        self.solved += 1;
        let run = cut(self.run, self.piece, length);
        let found = lie_as(&run, self.around, self.first).ok();
        let lay = found.and_then(|shapes| shapes.into_iter().next());
        let holds = lay.as_ref().is_some_and(|lay| self.holds(lay));
        (lay, holds)
    }

    /// A length at which the rules hold, looked for anew in wide steps.
    fn here_and_there(&mut self, limits: &Limits) -> Option<(f64, RunLay)> {
        // From the middle out, as one would rather not cut far off what was drawn.
        for share in [0.5, 0.35, 0.65, 0.2, 0.8, 0.05, 0.95] {
            let length = limits.low + (limits.high - limits.low) * share;
            if let (Some(lay), true) = self.anew(length) {
                return Some((length, lay));
            }
        }
        None
    }

    /// Marches from a length where the rules hold to the last where they do. What the neighbours led to counts only
    /// where a hose cut so would hang so.
    fn edge(&mut self, begin: f64, lay: &RunLay, wall: f64, limits: &Limits) -> (f64, bool) {
        let way = if wall > begin { 1.0 } else { -1.0 };
        let mut good = (begin, lay.clone());
        let mut broke: Option<RunLay> = None;
        for _ in 0..ANEW {
            let mut bad = loop {
                if (wall - good.0) * way <= limits.fine * 1e-3 {
                    break None;
                }
                let next = good.0 + way * limits.step.min((wall - good.0) * way);
                match self.at(next, &good.1) {
                    (Some(lay), true) => good = (next, lay),
                    (lay, _) => {
                        broke = lay;
                        break Some(next);
                    }
                }
            };
            while let Some(end) = bad
                && (end - good.0).abs() > limits.fine
            {
                let middle = (end + good.0) / 2.0;
                match self.at(middle, &good.1) {
                    (Some(lay), true) => good = (middle, lay),
                    (lay, _) => {
                        broke = lay;
                        bad = Some(middle);
                    }
                }
            }
            match bad.map(|end| (end, self.anew(end))) {
                // Another shape goes on where this one broke a rule.
                Some((end, (Some(lay), true))) => good = (end, lay),
                // A new hose lies there as the neighbours led it, and so it does one step before.
                Some((_, (Some(lay), false)))
                    if broke.as_ref().is_some_and(|led| like(led, &lay)) =>
                {
                    return (good.0, false);
                }
                _ => break,
            }
        }
        let open = (wall - good.0) * way <= limits.fine * 1e-3;
        if (good.0 - begin).abs() <= limits.fine || self.anew(good.0).1 {
            return (good.0, open);
        }
        // The shape that the neighbours led to is not the one that a new hose takes there: halve by new ones.
        let (mut holds, mut breaks) = (begin, good.0);
        while (breaks - holds).abs() > limits.fine {
            let middle = (breaks + holds) / 2.0;
            if self.anew(middle).1 {
                holds = middle;
            } else {
                breaks = middle;
            }
        }
        (holds, false)
    }
}

/// Whether two shapes of a run are one.
fn like(one: &RunLay, other: &RunLay) -> bool {
    let whole = one.lay.arcs.last().copied().unwrap_or(0.0);
    one.lay.points.len() == other.lay.points.len()
        && one.lay.farthest_from(&other.lay) < LIKE * whole
}

/// Shapes nowhere farther apart than this share of the run's length are one. Ours.
const LIKE: f64 = 0.02;

/// How often a march goes on in another shape.
const ANEW: usize = 4;

/// The window of free lengths of one hose in which the rules hold and the shape is stable: the one
/// that holds the hose's own length, or if the rules fail there, the nearest found in steps.
///
/// `first` is the run's shape as it is. Every shape is sought from its neighbour; the ends are looked
/// at from many starts too, so that the window does not hang on the length it was sought from. None
/// where the rules hold at no length asked about, or the piece is no hose.
#[must_use]
pub fn window(
    run: &Run,
    around: &dyn Around,
    piece: usize,
    first: &RunLay,
    limits: &Limits,
    rules: &dyn Fn(&RunLay) -> bool,
) -> Option<Window> {
    let Some(Piece::Hose(hose)) = run.pieces.get(piece) else {
        return None;
    };
    if !(limits.step > 0.0 && limits.fine > 0.0 && limits.low > 0.0 && limits.high >= limits.low) {
        return None;
    }
    let length = hose.length.clamp(limits.low, limits.high);
    let mut march = March {
        run,
        around,
        piece,
        first,
        rules,
        solved: 0,
    };
    let (begin, lay) = if let (Some(at), true) = march.at(length, first) {
        (length, at)
    } else {
        let mut up = (length, Some(first.clone()));
        let mut down = (length, Some(first.clone()));
        let found = 'seek: loop {
            let mut moved = false;
            for (side, way) in [(&mut up, 1.0), (&mut down, -1.0)] {
                let next = side.0 + way * limits.step;
                let Some(from) = side.1.clone() else { continue };
                if next > limits.high || next < limits.low {
                    side.1 = None;
                    continue;
                }
                moved = true;
                let (lay, holds) = march.at(next, &from);
                side.0 = next;
                if holds {
                    break 'seek lay.map(|lay| (next, lay));
                }
                // Where nothing was found the former shape serves for the next step too.
                side.1 = lay.or(Some(from));
            }
            if !moved {
                break None;
            }
        };
        match found {
            Some((at, lay)) if march.anew(at).1 => (at, lay),
            // Neighbours may all have been of a shape that no new hose takes: here and there anew.
            _ => march.here_and_there(limits)?,
        }
    };
    let (least, open_below) = march.edge(begin, &lay, limits.low, limits);
    let (most, open_above) = march.edge(begin, &lay, limits.high, limits);
    Some(Window {
        least,
        most,
        open_below,
        open_above,
        solved: march.solved,
    })
}
