//! The boat file, from outside.
mod bad;
mod demo;
mod mutants;
mod schema;
