//! Route: how each hose hangs, what it touches, and whether a tool reaches its clips.
//!
//! [`lay`] takes plain facts and gives shapes and verdicts. It hangs every run between its mouths ([`hang`]), looks
//! what it comes near to ([`lain`]), judges the shape ([`judge`]) and sweeps the tools about its clips ([`access`], those of one end
//! [`opposite`] each other, in an order of fitting that [`reach`] finds, beside what was typed of the [`room`] before
//! them; [`clip_verdict`] says it);
//! what takes longer ([`settle`], the sweeps) is left out of the prompt set.

mod access;
mod by_hand;
mod clip_verdict;
mod hang;
mod input;
mod judge;
mod lain;
mod lay;
mod level;
mod near;
mod opposite;
mod reach;
mod room;
mod settle;
mod types;

pub(crate) use input::{
    BodyFact, ClipFact, EndFact, HoseFact, MouthFact, PieceFact, PieceForm, RouteInput, RunFact,
    ScanFact, SupportFact,
};
pub(crate) use lay::Known;
pub use types::{
    LaidBody, LaidClip, LaidMoment, LaidPart, LaidRun, LaidScan, LaidSpot, LayOrder, LeastBend,
    LeastGap, NotLaid, Place, Route, Stays, apart,
};

/// Above watching the engine move.
pub(crate) const MOVES_CAUTION: &str = "A running engine takes fingers, sleeves and tape into belt and shaft: keep all of them clear of it, and let another start her.";

/// Lays all runs and judges them; those that hang as they did before are taken from there.
pub(crate) fn lay(input: &RouteInput, known: &mut Known) -> Route {
    lay::lay(input, known)
}
