//! The engine bay as solid geometry, and the shape that a hose takes in it.
#![warn(missing_docs)]

pub mod lie;
pub mod rod;

pub use parry3d_f64::math::Vector as Vec3;
