//! The boat file, from outside.
// Tests read the files that they are about.
#![allow(clippy::disallowed_methods)]

mod bad;
mod demo;
mod keys;
mod like;
mod mutants;
mod page;
mod schema;
