//! Tests of the answer from outside: numbers against their sources, and verdicts on small boats.

#[path = "../../../reference/tests/it/rows.rs"]
mod rows;

mod bar;
mod boats;
mod boil;
mod chances;
mod circuit;
mod circuit_rules;
mod clips;
mod cover;
mod cuffs;
mod cut;
mod demo;
mod engines;
mod floors;
mod hand;
mod hoses;
mod memory;
mod metals;
mod next;
mod odd;
mod order;
mod remedies;
mod service;
mod shelf;
mod shop_rows;
mod validation;
mod whatif;
