//! The project's chores as a library, so that tests can call them.
//!
//! [`chores`] holds what can be asked for, [`tidy`] what the compiler cannot check. The bans of
//! the domain crates (no files, no environment, no printing) are lifted here: doing just that is
//! what a chore is for, and nothing of this crate goes into the program.
#![allow(
    clippy::disallowed_methods,
    clippy::disallowed_macros,
    clippy::disallowed_types
)]

pub mod bench;
pub mod book;
pub mod chores;
pub mod debian;
pub mod examples;
pub mod fonts;
pub mod licences;
pub mod metadata;
pub mod page;
pub mod python;
pub mod scan;
pub mod steps;
pub mod tidy;
pub mod tree;
pub mod validation;

/// What went wrong, in words for whoever ran the chore.
pub type Fault = String;
