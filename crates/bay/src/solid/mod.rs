//! Bodies in the bay and the least distance of a straight piece of hose to each of them.

mod behind;
mod body;
mod bounds;
mod capsule;
mod cuboid;
mod cylinder;
mod deepest;
mod faces;
mod figures;
mod grid;
mod hull;
mod mesh;
mod near;
mod parts;
mod segment;
mod shade;
mod space;
mod tree;
mod triangle;
mod winding;

pub use body::{Body, Frame, Nature, Shape};
pub use bounds::Bounds;
pub use faces::Faces;
pub use figures::NoShape;
pub use hull::{Flat, Hull};
pub use mesh::{Behind, Mesh, NoMesh, Seams};
pub use near::Near;
pub(crate) use parts::root;
pub use space::Space;
