//! The engine bay as solid geometry: the crate for bodies, and for the curve that a hose takes
//! between two spigots.
//!
//! It holds nothing yet: no verdict of today needs a position, and a boat whose runs are told by
//! length and bends alone stays complete. The crate stands so that its one edge is drawn and
//! checked from the beginning: it knows quantities, and neither boats nor verdicts.
#![warn(missing_docs)]
