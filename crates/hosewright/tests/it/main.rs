//! Tests of the program as it is run, and of what it writes.
#![allow(
    clippy::disallowed_methods,
    clippy::disallowed_macros,
    clippy::disallowed_types
)]

mod asked_back;
mod asking;
mod bench;
mod documents;
mod filling;
mod flow;
mod mending;
mod render;
mod running;
mod scan;
mod serve;
mod serve_bay;
mod serve_guard;
mod serve_keep;
mod serve_scan;
mod sheets;
mod survey;
mod thread;
mod types;
