//! Tests of the answer from outside: numbers against their sources, and verdicts on small boats.

#[path = "../../../reference/tests/it/rows.rs"]
mod rows;

mod bar;
mod validation;
