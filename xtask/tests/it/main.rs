//! The rules over the real project, and for each rule a case that it must catch: a rule that
//! never bites would let anything pass.
#![allow(clippy::disallowed_methods, clippy::disallowed_macros)] // Tests read files.

mod examples;
mod licences;
mod page;
mod tidy;
mod tree;
mod validation;
