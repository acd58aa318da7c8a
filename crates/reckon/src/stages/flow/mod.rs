//! Flow and heat: will the pump push enough, and will the cooler shed it, in every state.

pub mod judge;
pub mod row;

pub use row::*;
