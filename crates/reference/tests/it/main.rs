//! Tests of the size data and of what is asked of it.

mod counting;
mod docs;
mod flow;
mod flow_rows;
mod heat;
mod liquids;
mod lumped;
mod rows;
mod tables;
mod threads;
mod tools;
mod trade;
mod validation;
