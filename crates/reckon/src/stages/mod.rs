//! One module a stage, each a function from its input to its output.
pub mod circuit;
pub mod condition;
pub mod cut;
pub mod fill;
pub mod fit;
pub mod flow;
pub mod order;
pub mod route;
pub mod survey;
pub mod threads;
pub mod types;
