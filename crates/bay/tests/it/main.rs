//! Tests of bodies, scans and shapes of hoses from outside.

#[path = "../../../reference/tests/it/rows.rs"]
mod rows;

mod hulls;
mod kit;
mod lie_air;
mod lie_runs;
mod lie_windows;
mod meshes;
mod rod_contact;
mod rod_kit;
mod rod_limits;
mod rod_random;
mod rod_rows;
mod rod_shapes;
mod scans;
mod shapes;
mod validation;
