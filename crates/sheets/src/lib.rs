//! Answers as drawings and documents: the crate that lays out what is already reckoned.
//!
//! It holds nothing yet: the command line sets its own tables. The crate stands so that its edges
//! are drawn and checked from the beginning: it may read answers of `reckon` and computes nothing
//! of its own.
#![warn(missing_docs)]
