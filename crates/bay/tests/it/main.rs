//! Tests of bodies and scans from outside.

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
mod clock;
mod formats;
mod hulls;
mod kit;
mod meshes;
mod scans;
mod sequence;
mod shapes;
mod validation;
mod way_in;
