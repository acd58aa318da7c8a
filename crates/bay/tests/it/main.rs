//! Tests of bodies and scans from outside.

#[path = "../../../reference/tests/it/rows.rs"]
mod rows;

mod access;
mod access_rows;
mod access_sweep;
mod clock;
mod hulls;
mod kit;
mod meshes;
mod sequence;
mod shapes;
mod way_in;
