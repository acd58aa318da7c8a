//! Tests of the crate: shapes of hoses against tables, limits, other libraries and plain statics.

#[path = "../../../reference/tests/it/rows.rs"]
mod rows;

mod lie_air;
mod lie_runs;
mod lie_windows;
mod rod_contact;
mod rod_kit;
mod rod_limits;
mod rod_random;
mod rod_rows;
mod rod_shapes;
