//! Tees and wyes: what the run and the branch lose, as a function of how the flow is shared.
//!
//! Each coefficient is on the velocity head of the leg that carries the whole flow. `share` is the
//! flow of the branch over the whole; `beta` the bore of the branch over that of the run, which is
//! taken to be one on both sides; the angle is that between branch and run, a right one for a tee.
//! A coefficient may be below zero: the faster stream drags the slower one along.

use quantity::Angle;

use crate::number::Number;
use crate::range::{between, degrees, within};
use crate::source::Unknown;

const FLOWS: &str = "the flow through each leg of the tee";
const SHAPE: &str = "the bores of the tee's legs, and the angle of its branch";

/// The published table for the angle of a branch that joins.
const JOINING: [(f64, f64); 4] = [(30.0, 1.74), (45.0, 1.41), (60.0, 1.0), (90.0, 0.0)];
/// Degrees over which an angle counts as a right one; wyes end at 60°.
const RIGHT: std::ops::RangeInclusive<f64> = 85.0..=95.0;

/// What a tee is, as far as its losses go.
enum Shape {
    Wye { degrees: f64 },
    Tee,
}

fn shape(share: f64, beta: f64, angle: Angle) -> Result<Shape, Unknown> {
    within("the branch's share of the flow", share, 0.0..=1.0, FLOWS)?;
    within(
        "bore of the branch over that of the run",
        beta,
        0.1..=1.0,
        SHAPE,
    )?;
    let degrees = degrees(angle);
    if RIGHT.contains(&degrees) {
        return Ok(Shape::Tee);
    }
    within(
        "the angle of the branch in degrees",
        degrees,
        30.0..=60.0,
        SHAPE,
    )?;
    Ok(Shape::Wye { degrees })
}

/// The number, or the least that is published where it lies below.
fn at_least<D: Number>(number: D, least: f64) -> D {
    if number.re() > least {
        number
    } else {
        D::from(least)
    }
}

/// Where flows join: what the branch loses.
///
/// The source changes from 0.9(1 − share) to 0.55 at a share of 0.4, with a step of 0.01; here the
/// larger of both holds, which has no step and differs by less than that.
///
/// # Errors
/// [`Unknown`] for shares outside 0 to 1, a branch wider than the run, and angles that are neither
/// 30° to 60° nor a right one.
///
/// Unit: 1. Range: share 0 to 1, beta 0.1 to 1. Source: Crane TP-410 (2009), chapter 2, with its errata.
pub fn joining_branch<D: Number>(share: D, beta: f64, angle: Angle) -> Result<D, Unknown> {
    let factor = match shape(share.re(), beta, angle)? {
        // OK because `shape` has looked that the angle lies within the table.
        Shape::Wye { degrees } => between(&JOINING, degrees).unwrap_or(0.0),
        Shape::Tee => 0.0,
    };
    let area = beta * beta;
    let c = if area <= 0.35 {
        D::from(1.0)
    } else {
        at_least((-share + 1.0) * 0.9, 0.55)
    };
    let (speed, rest) = (share / area, -share + 1.0);
    Ok(c * (speed * speed - rest * rest * 2.0 - share * share * (factor / area) + 1.0))
}

/// Where flows join: what the run loses.
///
/// # Errors
/// As [`joining_branch`].
///
/// Unit: 1. Range: share 0 to 1, beta 0.1 to 1. Source: Crane TP-410 (2009), chapter 2.
pub fn joining_run<D: Number>(share: D, beta: f64, angle: Angle) -> Result<D, Unknown> {
    Ok(match shape(share.re(), beta, angle)? {
        Shape::Tee => share * (-share + 1.55),
        Shape::Wye { degrees } => {
            // OK because `shape` has looked that the angle lies within the table.
            let factor = between(&JOINING, degrees).unwrap_or(0.0);
            let rest = -share + 1.0;
            -rest * rest - share * share * (factor / (beta * beta)) + 1.0
        }
    })
}

/// Where the flow parts: what the branch loses.
///
/// The factor of a wye steps in the source, by 0.03 at a share of 0.4 for a narrow branch and by
/// 0.04 at 0.6 for a wide one; here the larger of line and constant holds. For tees the source has one form up to beta² = 2/3 and one for equal bores; between them this goes straight
/// from one to the other.
///
/// # Errors
/// As [`joining_branch`].
///
/// Unit: 1. Range: share 0 to 1, beta 0.1 to 1. Source: Crane TP-410 (2009), chapter 2, with its errata.
pub fn parting_branch<D: Number>(share: D, beta: f64, angle: Angle) -> Result<D, Unknown> {
    let area = beta * beta;
    let speed = share / area;
    Ok(match shape(share.re(), beta, angle)? {
        Shape::Wye { degrees } => {
            let g = if area <= 0.35 {
                at_least(-share * 0.7 + 1.1, 0.85)
            } else {
                at_least(-share * 0.6 + 1.0, 0.6)
            };
            g * (speed * speed - speed * (2.0 * degrees.to_radians().cos()) + 1.0)
        }
        Shape::Tee => {
            let narrow = speed * speed + 1.0;
            let wide = (share * share * 0.3 + 1.0) * (speed * speed * 0.3 + 1.0);
            let towards = ((area - 2.0 / 3.0) * 3.0).clamp(0.0, 1.0);
            narrow + (wide - narrow) * towards
        }
    })
}

/// Where the flow parts: what the run loses.
///
/// # Errors
/// As [`joining_branch`].
///
/// Unit: 1. Range: share 0 to 1, beta 0.1 to 1. Source: Crane TP-410 (2009), chapter 2.
pub fn parting_run<D: Number>(share: D, beta: f64, angle: Angle) -> Result<D, Unknown> {
    shape(share.re(), beta, angle)?;
    let more = share * 2.0 - 1.0;
    let m = if beta * beta <= 0.4 {
        D::from(0.4)
    } else if share.re() <= 0.5 {
        more * 2.0
    } else {
        more * 0.3
    };
    Ok(m * share * share)
}
