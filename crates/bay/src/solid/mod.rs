//! Bodies in the bay and the least distance of a straight piece of hose to each of them.

mod body;
mod bounds;
mod capsule;
mod cuboid;
mod cylinder;
mod near;
mod segment;
mod space;

pub use body::{Body, Frame, Nature, Shape};
pub use bounds::Bounds;
pub use near::Near;
pub use space::Space;
