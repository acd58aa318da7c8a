//! Tests of the answer from outside: numbers against their sources, and verdicts on small boats.

#[path = "../../../reference/tests/it/rows.rs"]
mod rows;

mod bar;
mod boats;
mod chances;
mod circuit;
mod clips;
mod demo;
mod floors;
mod hoses;
mod memory;
mod metals;
mod odd;
mod service;
mod validation;
