//! Threads: which one a port has, what mates with what, what seals it, and the anode on its plug.

mod anode;
mod further;
mod identify;
mod port;
mod rank;
mod screwed;
mod seal;

pub use further::{Further, Tells};
pub use identify::{Asked, Identified, IdentifyInput, Stated, ThreadRow, identify};
pub use port::{AnodeFacts, PortInput, Wet, port};
pub use rank::{Candidate, PitchLook, Ranking, TaperLook, ThreadLooks, rank, zone};
pub use screwed::{End, PartFacts, StackInput, stack};

/// The last parts of the ids of verdicts about threads.
pub const RULES: [&str; 5] = ["thread", "engaged", "seal", "anode", "anode-tape"];
