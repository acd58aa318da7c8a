//! Tests of the program as it is run, and of what it writes.
#![allow(
    clippy::disallowed_methods,
    clippy::disallowed_macros,
    clippy::disallowed_types
)]

mod binary;
mod render;
mod schemas;
mod writing;
