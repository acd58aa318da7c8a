//! Tests of the crate: shapes of hoses against tables, limits, other libraries and plain statics.

#[path = "../../../reference/tests/it/rows.rs"]
mod rows;

mod kit;

mod air;
mod contact;
mod limits;
mod random;
mod runs;
mod shapes;
mod validation;
mod windows;
