//! Whether running water takes the air out of a pipe that leads downward.

use std::f64::consts::FRAC_PI_6;

/// Acceleration of gravity [m/s²].
const G: f64 = 9.806_65;

/// What becomes of a pocket of air behind a high spot.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Clearing {
    /// The flow takes it along.
    Clears,
    /// Sources differ.
    Doubtful,
    /// It stays.
    Stays,
    /// Steeper than was tested: bleed it, or try it with a clear piece of hose.
    Unmeasured,
}

/// Steepest slope downward to which the relations are used here [rad]: 30°.
pub const STEEPEST: f64 = FRAC_PI_6;

/// Froude number v / √(g D) from which a pocket is carried down a slope [rad] by the envelope of
/// Wisner, Mohsen and Kouwen, Removal of air from water lines by hydraulic means, J. Hydraul. Div.
/// ASCE 101 (1975), as handbooks of pumping stations quote it: 0.825 + 0.25 √sin θ.
///
/// None for a slope that is not between level and 30° down.
#[must_use]
pub fn froude_needed(slope: f64) -> Option<f64> {
    (0.0..=STEEPEST)
        .contains(&slope)
        .then(|| 0.825 + 0.25 * slope.sin().sqrt())
}

/// Froude number below which even a small pocket stays: Escarameia, Investigating hydraulic
/// removal of air from water pipelines, Proc. ICE Water Management 160 (2007), 0.56 √sin θ + a,
/// with a = 0.45 of the smallest pockets from memory.
///
/// None for a slope that is not between level and 30° down; it was tested to about 22°.
#[must_use]
pub fn froude_stays(slope: f64) -> Option<f64> {
    (0.0..=STEEPEST)
        .contains(&slope)
        .then(|| 0.45 + 0.56 * slope.sin().sqrt())
}

/// Whether a flow [m/s] in a bore [m] takes air down a slope [rad below the level].
///
/// Pipes of 25 and 38 mm were found to behave as larger ones down to 30°: May, Allen and Nelson,
/// Hydraulic investigation of air in small diameter pipes, Int. J. Hydraul. Eng. 7 (2018).
#[must_use]
pub fn clearing(speed: f64, bore: f64, slope: f64) -> Clearing {
    let froude = speed.abs() / (G * bore).sqrt();
    match (froude_needed(slope), froude_stays(slope)) {
        (Some(needed), Some(stays)) if froude.is_finite() => {
            if froude >= needed.max(stays) {
                Clearing::Clears
            } else if froude < stays.min(needed) {
                Clearing::Stays
            } else {
                Clearing::Doubtful
            }
        }
        _ => Clearing::Unmeasured,
    }
}
