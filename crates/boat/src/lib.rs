//! The boat file: TOML with exact places in, a typed model and remarks out. Computes nothing.
#![warn(missing_docs)]

pub mod edit;
pub mod model;

pub use model::*;
