//! Tests of bodies and scans from outside.

#[path = "../../../reference/tests/it/rows.rs"]
mod rows;

mod hulls;
mod kit;
mod meshes;
mod scans;
mod shapes;
mod validation;
