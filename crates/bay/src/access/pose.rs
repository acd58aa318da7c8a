//! A tool put to the clip: the capsules that it fills in space, at one angle and in one way.

use super::tool::{Approach, Legs, Part, Tool};
use crate::Vec3;
use crate::clock::ClipFrame;
use crate::solid::Shape;

/// A capsule of a tool in space, m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cap {
    /// One end of the centre line.
    pub a: Vec3,
    /// The other end.
    pub b: Vec3,
    /// Radius, m.
    pub radius: f64,
}

impl Cap {
    /// The same moved by `by`.
    pub(super) fn moved(self, by: Vec3) -> Self {
        Self {
            a: self.a + by,
            b: self.b + by,
            radius: self.radius,
        }
    }
}

/// The way in which a tool comes to the clip at an angle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Way {
    /// Along the screw, the tool lying on the side to which the angle grows.
    ScrewPlus,
    /// Along the screw, from the other side: the clip is put on the other way round.
    ScrewMinus,
    /// Straight out from the hose.
    Radial,
    /// Beside the hose, the handles pointing away from the spigot.
    AlongHose,
    /// Beside the hose, the handles pointing over the spigot.
    OverSpigot,
}

impl Way {
    /// The ways in which a tool may come.
    pub fn of(tool: &Tool) -> &'static [Self] {
        match tool.approach {
            Approach::Screw { .. } | Approach::Swing { .. } | Approach::Bent { .. } => {
                &[Self::ScrewPlus, Self::ScrewMinus]
            }
            Approach::Radial { .. } => &[Self::Radial],
            Approach::Beside { .. } => &[Self::AlongHose, Self::OverSpigot],
        }
    }
}

/// Where a tool stands at one angle: its origin, its line, and two directions across it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stand {
    /// The tool's origin: the screw head, or the hose's surface under the ear.
    pub(super) origin: Vec3,
    /// The direction in which the tool lies.
    pub(super) line: Vec3,
    /// Across the line: away from the hose, or for a radial tool round it.
    pub(super) out: Vec3,
    /// Across both.
    pub(super) side: Vec3,
}

impl Stand {
    /// The stand of a tool at a clip on a hose of outside diameter `od` (m) at `angle` (rad).
    pub(super) fn new(tool: &Tool, frame: &ClipFrame, od: f64, way: Way, angle: f64) -> Self {
        let (e, round, axis) = (frame.radial(angle), frame.tangent(angle), frame.axis());
        let at = |rise: f64| frame.at() + e * (od / 2.0 + rise);
        let beside = match tool.approach {
            Approach::Beside { height, .. } => height,
            _ => 0.0,
        };
        let (rise, line, out) = match way {
            Way::ScrewPlus => (tool.rise, round, e),
            Way::ScrewMinus => (tool.rise, -round, e),
            Way::Radial => (0.0, e, round),
            Way::AlongHose => (beside, axis, e),
            Way::OverSpigot => (beside, -axis, e),
        };
        Self {
            origin: at(rise),
            line,
            out,
            side: line.cross(out),
        }
    }

    fn along(&self, s: f64) -> Vec3 {
        self.origin + self.line * s
    }

    /// A part in line with the tool.
    pub(super) fn part(&self, part: &Part) -> Cap {
        Cap {
            a: self.along(part.from),
            b: self.along(part.to),
            radius: part.radius,
        }
    }

    /// The stand leant by `tilt` (rad) towards `across`, about the tool's origin.
    fn leant(&self, across: Vec3, tilt: f64) -> Self {
        Self {
            line: self.line * tilt.cos() + across * tilt.sin(),
            ..*self
        }
    }

    /// A unit direction across the line: the `n`th of `count`, from `out` on.
    pub(super) fn across(&self, n: usize, count: usize) -> Vec3 {
        let turn = std::f64::consts::TAU * n as f64 / count as f64;
        self.out * turn.cos() + self.side * turn.sin()
    }
}

/// How many directions a lean is tried in.
const LEANS: usize = 8;

/// How many poses [`straight`] has.
pub(super) fn poses(parts: &[Part], tilt: f64) -> usize {
    if tilt > 0.0 || parts.iter().any(|part| part.aside > 0.0) {
        1 + LEANS
    } else {
        1
    }
}

/// The `n`th pose of a straight tool: upright first, then leant each way by `tilt` (rad). A part that may
/// lie aside lies aside the way the tool leans.
pub(super) fn straight(stand: &Stand, parts: &[Part], tilt: f64, n: usize) -> Vec<Cap> {
    let Some(n) = n.checked_sub(1) else {
        return parts.iter().map(|part| stand.part(part)).collect();
    };
    let across = stand.across(n, LEANS);
    let leant = stand.leant(across, tilt.max(0.0));
    parts
        .iter()
        .map(|part| leant.part(part).moved(across * part.aside.max(0.0)))
        .collect()
}

/// The two legs of pincers, which open along `opens` either way: round the hose, so that the jaws close
/// round it.
pub(super) fn legs(stand: &Stand, legs: &Legs, opens: Vec3) -> [Cap; 2] {
    let root = stand.along(legs.from);
    let end = stand.along(legs.to);
    [1.0, -1.0].map(|sign| Cap {
        a: root,
        b: end + opens * (sign * legs.spread / 2.0),
        radius: legs.radius,
    })
}

/// The housing of a worm-drive clip: a block with rounded edges on the band.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Housing {
    /// Height above the hose's surface, m.
    pub height: f64,
    /// Length along the screw, m.
    pub length: f64,
    /// Width along the hose, m.
    pub width: f64,
}

impl Default for Housing {
    /// 15 mm above the band, 20 mm long and wide (common practice, no source; a printed drawing of a band
    /// of 12.7 mm has 14.5, 19.3 and 20.6).
    fn default() -> Self {
        Self {
            height: 0.015,
            length: 0.020,
            width: 0.020,
        }
    }
}

impl Housing {
    /// The body that it is for whatever else comes there: its capsules at an angle (rad) of a clip on a hose of
    /// outside diameter `od` (m).
    pub fn shapes(&self, frame: &ClipFrame, od: f64, angle: f64) -> Vec<Shape> {
        let caps = self.caps(frame, od, angle);
        let capsule = |Cap { a, b, radius }| Shape::Capsule { a, b, radius };
        caps.into_iter().map(capsule).collect()
    }

    /// The capsules that fill it at an angle (rad), edges rounded by half the height, side by side no
    /// farther apart than their radius.
    pub(super) fn caps(&self, frame: &ClipFrame, od: f64, angle: f64) -> Vec<Cap> {
        let radius = (self.height / 2.0)
            .min(self.length / 2.0)
            .min(self.width / 2.0);
        let middle = frame.at() + frame.radial(angle) * (od / 2.0 + self.height / 2.0);
        let half = frame.tangent(angle) * (self.length / 2.0 - radius);
        let wide = self.width - 2.0 * radius;
        let gaps = (wide / radius.max(1e-4)).ceil().clamp(1.0, 16.0);
        (0..=gaps as usize)
            .map(|n| {
                let at = middle + frame.axis() * (wide * (n as f64 / gaps - 0.5));
                Cap {
                    a: at - half,
                    b: at + half,
                    radius,
                }
            })
            .collect()
    }
}
