//! Tests of bodies, scans and hoses from outside.

mod explore;
mod hulls;
mod kit;
mod meshes;
mod scans;
mod shapes;
