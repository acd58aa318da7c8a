//! Tests of the crate.

mod explore;
