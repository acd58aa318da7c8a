//! The engine bay as solid geometry, and the curve that a hose takes between two spigots.
//!
//! It knows quantities, bodies and curves, and neither boats nor verdicts. Lengths are in metres,
//! forces in newtons, angles in radians; z is up.
#![warn(missing_docs)]

pub mod lie;
pub mod rod;
pub mod scan;
pub mod solid;

/// A place or a direction in space: metres, z up.
pub use parry3d_f64::math::Vector as Vec3;
