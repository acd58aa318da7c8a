//! Circuit: which end goes on which, in order of flow; what is missing between two pieces; where
//! the sea can come in; and whether the loop as a whole does what a loop must.
//!
//! [`joints`] takes a run apart. [`input`] is what is known of one arrangement, [`inside`] how the
//! water runs inside an engine, [`plan`] the graph that both make. Each family of [`rules`] judges
//! that plan, and [`listing`] tells it in order of flow.

pub mod input;
pub mod inside;
pub mod joints;
pub mod listing;
pub mod plan;
pub mod rules;

pub use joints::*;
