//! Plain numbers in, plain numbers out: knows no boat and no verdict.
//!
//! Lengths are in any one unit throughout a call; ratios are plain numbers, 0.05 for five per cent.
pub mod adjust;
pub mod chance;
pub mod clip;
pub mod cover;
pub mod cut;
pub mod fitted;
pub mod graph;
pub mod mix;
pub mod net;
pub mod salt;
pub mod sample;
pub mod thread;
