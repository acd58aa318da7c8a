//! Ranges of published formulas: outside them nothing was published, and a function says so.

use std::ops::RangeInclusive;

use quantity::{Angle, Temperature};

use crate::source::Unknown;

/// Whether a number lies where a source published; a number that is none lies nowhere.
pub(crate) fn within(
    what: &str,
    value: f64,
    range: RangeInclusive<f64>,
    settles: &str,
) -> Result<(), Unknown> {
    if range.contains(&value) {
        return Ok(());
    }
    let (low, high) = (range.start(), range.end());
    let why = if high.is_infinite() {
        format!("{what} is {value}, and the source begins at {low}")
    } else {
        format!("{what} is {value}, and the source holds from {low} to {high}")
    };
    Err(Unknown::new(why, settles))
}

/// The place of a number in rows that rise by their first number, read on the straight line between
/// two neighbours; none outside the rows.
pub(crate) fn between(rows: &[(f64, f64)], at: f64) -> Option<f64> {
    let after = rows.iter().position(|row| row.0 >= at)?;
    let (x1, y1) = rows[after];
    if x1 == at {
        return Some(y1);
    }
    let (x0, y0) = *rows.get(after.checked_sub(1)?)?;
    Some(y0 + (y1 - y0) * (at - x0) / (x1 - x0))
}

/// An angle in degrees, to a thousand-millionth: the way through radians leaves a last digit that must
/// not put a plain 45° on the wrong side of a source's edge.
pub(crate) fn degrees(angle: Angle) -> f64 {
    (angle.to_degrees() * 1e9).round() / 1e9
}

/// A temperature in degrees Celsius, to a thousand-millionth, for the like reason.
pub(crate) fn celsius(at: Temperature) -> f64 {
    (at.to_celsius() * 1e9).round() / 1e9
}
