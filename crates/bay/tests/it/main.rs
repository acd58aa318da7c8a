//! Tests of bodies, scans, hoses and tools from outside: against tables, limits, other libraries and plain statics.

#[path = "../../../reference/tests/it/rows.rs"]
mod rows;

// The bench programs' readers, so that the plain formats are asked of what the programs ask.
#[path = "../../examples/access_bench/answer.rs"]
mod access_answer;
#[path = "../../examples/plain/mod.rs"]
#[allow(dead_code)] // Files are read and written by the programs alone.
mod plain;
#[path = "../../examples/sequence_bench/answer.rs"]
mod sequence_answer;

mod access;
mod access_rows;
mod access_sweep;
mod body_rows;
mod clock;
mod formats;
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
mod sequence;
mod shapes;
mod sides;
mod validation;
mod way_in;
