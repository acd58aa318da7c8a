//! Tests of bodies and scans from outside.

mod hulls;
mod kit;
mod meshes;
mod scans;
mod shapes;
