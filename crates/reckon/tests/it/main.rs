//! Tests of the answer from outside: numbers against their sources, and verdicts on small boats.

#[path = "../../../reference/tests/it/rows.rs"]
mod rows;

// The bench's reader of cases, so that its rows are asked of what the bench asks.
#[allow(dead_code)]
#[path = "../../examples/network_bench/build.rs"]
mod build;
#[allow(dead_code)]
#[path = "../../examples/network_bench/case.rs"]
mod case;

mod adjust;
mod around;
mod bar;
mod bays;
mod beside;
mod boats;
mod card;
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
mod flow_judge;
mod flow_most;
mod flow_raw;
mod hand;
mod hoses;
mod memory;
mod metals;
mod mix_rows;
mod net_hand;
mod net_kit;
mod net_odd;
mod net_parts;
mod net_random;
mod net_rows;
mod next;
mod odd;
mod order;
mod remedies;
mod route;
mod route_access;
mod route_demo;
mod route_judge;
mod route_on;
mod service;
mod shelf;
mod shop_rows;
mod strip;
mod strip_rows;
mod tape_rows;
mod taped;
mod thread_rows;
mod threads;
mod validation;
mod whatif;
