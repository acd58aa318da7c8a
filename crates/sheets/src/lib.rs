//! Answers as drawings and documents: the crate that lays out what is already reckoned.
//!
//! [`draw`] holds the pictures, [`doc`] the one document tree with its pages, and [`sheet`] what
//! stands on each. It reads answers of `reckon` and computes nothing of its own.
#![warn(missing_docs)]

pub mod doc;
pub mod draw;
pub mod sheet;
