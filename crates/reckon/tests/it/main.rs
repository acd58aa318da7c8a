//! Tests of the answer from outside: numbers against their sources, and verdicts on small boats.

#[path = "../../../reference/tests/it/rows.rs"]
mod rows;

mod adjust;
mod bar;
mod bays;
mod boats;
mod chances;
mod circuit;
mod circuit_rules;
mod clips;
mod condition;
mod cover;
mod cuffs;
mod cut;
mod demo;
mod engines;
mod fill;
mod floors;
mod hand;
mod hoses;
mod memory;
mod metals;
mod mix_rows;
mod next;
mod odd;
mod order;
mod remedies;
mod service;
mod shelf;
mod shop_rows;
mod tape_rows;
mod taped;
mod thread_rows;
mod threads;
mod validation;
mod whatif;
