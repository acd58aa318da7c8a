//! Tests of bodies and scans from outside.

mod kit;
mod shapes;
