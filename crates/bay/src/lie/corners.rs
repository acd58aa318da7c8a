//! Whether a run still lies well when cut, mouths and stiffness are off by their tolerances.

use super::run::{Piece, Run, RunLay, next_to};
use super::window::cut;
use crate::Vec3;
use crate::rod::{Around, Fault};

/// How far things may be off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tolerance {
    /// Of each hose's length [m].
    pub length: f64,
    /// Of a mouth's place, in any direction [m].
    pub place: f64,
    /// Of a mouth's direction [rad].
    pub angle: f64,
    /// Of the stiffness, as a share of it: below one.
    pub stiffness: f64,
}

impl Default for Tolerance {
    /// 5 mm of cut and place, 2°, half the stiffness: common practice, no source.
    fn default() -> Self {
        Self {
            length: 0.005,
            place: 0.005,
            angle: 2.0_f64.to_radians(),
            stiffness: 0.5,
        }
    }
}

/// How a run is off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Corner {
    /// Added to each hose's length [m].
    pub length: f64,
    /// Share by which the stiffness is changed.
    pub stiffness: f64,
    /// Shift of the first mouth [m].
    pub move_a: Vec3,
    /// Shift of the last mouth [m].
    pub move_b: Vec3,
    /// Turn of the first mouth, as a vector along its axis [rad].
    pub turn_a: Vec3,
    /// Turn of the last mouth [rad].
    pub turn_b: Vec3,
}

impl Corner {
    /// As drawn.
    pub const NONE: Self = Self {
        length: 0.0,
        stiffness: 0.0,
        move_a: Vec3::ZERO,
        move_b: Vec3::ZERO,
        turn_a: Vec3::ZERO,
        turn_b: Vec3::ZERO,
    };

    /// A run that is off so.
    #[must_use]
    pub fn of(&self, run: &Run) -> Run {
        let mut other = run.clone();
        for index in 0..other.pieces.len() {
            if let Some(Piece::Hose(hose)) = run.pieces.get(index)
                && self.length != 0.0
            {
                other = cut(&other, index, hose.length + self.length);
            }
            if let Some(Piece::Hose(hose)) = other.pieces.get_mut(index) {
                hose.stiffness *= 1.0 + self.stiffness;
            }
        }
        other.a.at += self.move_a;
        other.b.at += self.move_b;
        other.a.along = turned(other.a.along, self.turn_a);
        other.b.along = turned(other.b.along, self.turn_b);
        other
    }
}

fn turned(way: Vec3, turn: Vec3) -> Vec3 {
    (way + turn.cross(way)).normalize_or(way)
}

/// A worst corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Worst {
    /// For bends the least of radius over least radius allowed; for gaps the least gap [m].
    pub value: f64,
    /// Where it was found.
    pub corner: Corner,
}

/// What the corners came to.
#[derive(Debug, Clone, PartialEq)]
pub struct Corners {
    /// The tightest bend.
    pub bend: Worst,
    /// What is left of the least clearance, where a body is near.
    pub gap: Option<Worst>,
    /// Corners at which the run is too short, unstable, or found no shape.
    pub lost: Vec<Corner>,
    /// Corners at which the shape is another than near the former: a tenth of its length away.
    pub jumped: Vec<Corner>,
    /// Shapes solved.
    pub solved: usize,
}

struct Tried {
    bend: f64,
    gap: Option<f64>,
}

/// Tries every tolerance alone in both directions, then all together, each in the direction that
/// was worse alone: once for the bend and once for the gap. That finds the worst corner where
/// effects add, as small ones do; it is no proof for large ones.
#[must_use]
pub fn corners(run: &Run, around: &dyn Around, first: &RunLay, by: &Tolerance) -> Corners {
    corners_by(run, around, first, by, &|lay| lay.lay.gap)
}

/// As [`corners`], with the caller's own measure [m] of what is left of a shape's clearances.
#[must_use]
pub fn corners_by(
    run: &Run,
    around: &dyn Around,
    first: &RunLay,
    by: &Tolerance,
    left: &dyn Fn(&RunLay) -> Option<f64>,
) -> Corners {
    let drawn = Tried {
        bend: first.bend_share(),
        gap: left(first),
    };
    let mut out = Corners {
        bend: Worst {
            value: drawn.bend,
            corner: Corner::NONE,
        },
        gap: drawn.gap.map(|value| Worst {
            value,
            corner: Corner::NONE,
        }),
        lost: Vec::new(),
        jumped: Vec::new(),
        solved: 0,
    };
    let asked = Attempt {
        run,
        around,
        first,
        left,
    };
    let mut for_bend = Corner::NONE;
    let mut for_gap = Corner::NONE;
    for (plus, minus) in pairs(run, by) {
        let one = attempt(&asked, &plus, &mut out);
        let other = attempt(&asked, &minus, &mut out);
        join(
            &mut for_bend,
            &plus,
            &minus,
            worse(one.as_ref(), other.as_ref(), drawn.bend, |t| Some(t.bend)),
        );
        if let Some(gap) = drawn.gap {
            join(
                &mut for_gap,
                &plus,
                &minus,
                worse(one.as_ref(), other.as_ref(), gap, |t| t.gap),
            );
        }
    }
    for mut together in [for_bend, for_gap] {
        for (shift, most) in [
            (&mut together.move_a, by.place),
            (&mut together.move_b, by.place),
            (&mut together.turn_a, by.angle),
            (&mut together.turn_b, by.angle),
        ] {
            *shift = shift.normalize_or_zero() * most;
        }
        together.length = together.length.signum()
            * if together.length == 0.0 {
                0.0
            } else {
                by.length
            };
        together.stiffness = together.stiffness.signum()
            * if together.stiffness == 0.0 {
                0.0
            } else {
                by.stiffness
            };
        if together != Corner::NONE {
            attempt(&asked, &together, &mut out);
        }
    }
    out
}

/// Every tolerance alone, in both directions.
fn pairs(run: &Run, by: &Tolerance) -> Vec<(Corner, Corner)> {
    let mut all = Vec::new();
    let mut both = |make: &dyn Fn(f64) -> Corner| all.push((make(1.0), make(-1.0)));
    both(&|sign| Corner {
        length: sign * by.length,
        ..Corner::NONE
    });
    both(&|sign| Corner {
        stiffness: sign * by.stiffness,
        ..Corner::NONE
    });
    for axis in [Vec3::X, Vec3::Y, Vec3::Z] {
        both(&|sign| Corner {
            move_a: axis * (sign * by.place),
            ..Corner::NONE
        });
        both(&|sign| Corner {
            move_b: axis * (sign * by.place),
            ..Corner::NONE
        });
    }
    for (along, first) in [(run.a.along, true), (run.b.along, false)] {
        let (u, v) = along.normalize_or(Vec3::X).any_orthonormal_pair();
        for axis in [u, v] {
            both(&|sign| {
                let turn = axis * (sign * by.angle);
                if first {
                    Corner {
                        turn_a: turn,
                        ..Corner::NONE
                    }
                } else {
                    Corner {
                        turn_b: turn,
                        ..Corner::NONE
                    }
                }
            });
        }
    }
    all
}

/// What each corner is tried with.
struct Attempt<'a> {
    run: &'a Run,
    around: &'a dyn Around,
    first: &'a RunLay,
    left: &'a dyn Fn(&RunLay) -> Option<f64>,
}

fn attempt(asked: &Attempt, corner: &Corner, out: &mut Corners) -> Option<Tried> {
    out.solved += 1;
    let first = asked.first;
    let other = corner.of(asked.run);
    let lay = match next_to(&other, asked.around, first) {
        Ok(lay) if lay.lay.stable => lay,
        _ => {
            out.lost.push(*corner);
            return None;
        }
    };
    let length = first.lay.arcs.last().copied().unwrap_or(0.0);
    if lay.lay.farthest_from(&first.lay) > 0.1 * length {
        out.jumped.push(*corner);
    }
    let tried = Tried {
        bend: lay.bend_share(),
        gap: (asked.left)(&lay),
    };
    if tried.bend < out.bend.value {
        out.bend = Worst {
            value: tried.bend,
            corner: *corner,
        };
    }
    if let Some(value) = tried.gap
        && out.gap.is_none_or(|worst| value < worst.value)
    {
        out.gap = Some(Worst {
            value,
            corner: *corner,
        });
    }
    Some(tried)
}

/// By how much plus is worse than minus: half the difference, positive where plus is worse.
fn worse(
    plus: Option<&Tried>,
    minus: Option<&Tried>,
    drawn: f64,
    of: impl Fn(&Tried) -> Option<f64>,
) -> f64 {
    let plus = plus.and_then(&of).unwrap_or(drawn);
    let minus = minus.and_then(&of).unwrap_or(drawn);
    (minus - plus) / 2.0
}

/// Adds the worse of two to what is gathered, weighed by how much worse it is.
fn join(into: &mut Corner, plus: &Corner, minus: &Corner, worse: f64) {
    let (from, weight) = if worse >= 0.0 {
        (plus, worse)
    } else {
        (minus, -worse)
    };
    into.length += from.length * weight;
    into.stiffness += from.stiffness * weight;
    into.move_a += from.move_a * weight;
    into.move_b += from.move_b * weight;
    into.turn_a += from.turn_a * weight;
    into.turn_b += from.turn_b * weight;
}

/// The run hot.
#[derive(Debug, Clone, PartialEq)]
pub struct Hot {
    /// Its shape.
    pub lay: RunLay,
    /// Least of radius over the radius asked of a hot hose.
    pub share: f64,
    /// Whether a hose is bent tighter than that: it may kink.
    pub kinks: bool,
}

/// The shape with all hoses softened by heat, against a least radius with a margin.
///
/// `softer` multiplies the stiffness ([`crate::rod::stiffness::HOT`] in doubt), `margin` the least
/// radius of every hose: the caller's.
///
/// # Errors
///
/// As [`super::lie`].
pub fn hot(
    run: &Run,
    around: &dyn Around,
    cold: &RunLay,
    softer: f64,
    margin: f64,
) -> Result<Hot, Fault> {
    let corner = Corner {
        stiffness: softer - 1.0,
        ..Corner::NONE
    };
    let mut warm = corner.of(run);
    for piece in &mut warm.pieces {
        if let Piece::Hose(hose) = piece {
            hose.least_radius *= margin;
        }
    }
    let lay = next_to(&warm, around, cold)?;
    let share = lay.bend_share();
    Ok(Hot {
        lay,
        share,
        kinks: share < 1.0,
    })
}
