//! The program's own part: the command line, files, and answers as text and as JSON.
//!
//! This is the only crate with input and output. It reads a boat file, has `boat` make a model of
//! it and `reckon` judge that, and shows what comes out; it computes nothing itself. `main.rs` only
//! calls [`main_with`], so that tests and other fronts run the same code.
#![warn(missing_docs)]
// The inner crates are kept from files, the environment and printing; somebody has to do these things, and it is this crate.
#![allow(
    clippy::disallowed_methods,
    clippy::disallowed_macros,
    clippy::disallowed_types
)]

pub mod api;
pub mod change;
pub mod cli;
pub mod commands;
pub mod fault;
mod figure;
pub mod files;
pub mod guard;
pub mod load;
pub mod render;
pub mod run;
pub mod scan;
pub mod serve;
pub mod text;
mod usage;

pub use fault::{Exit, Fault};
pub use run::{Outcome, main_with};
