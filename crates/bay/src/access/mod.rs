//! Whether a tool reaches a clip, and at which position of the clock its screw should stand.
//!
//! A tool is an envelope of capsules ([`Tool`]), put to the clip at every angle about the hose; the free
//! arcs are found by [`reach`], and the middle of the widest is the place to choose. The obstacles are
//! passed in: which hoses are in place depends on the [`Moment`].

mod arc;
mod bent;
mod hand;
mod local;
mod moment;
mod pose;
mod reach;
mod room;
mod tool;
mod way_in;

pub use arc::{Arc, Fineness, Look, sweep, union, widest};
pub use hand::{ByHand, LOOK, by_hand, set_at};
pub use local::{Obstacle, obstacles, own_beyond};
pub use moment::Moment;
pub use pose::{Cap, Housing, Way};
pub use reach::{Best, Clip, How, Outcome, Reach, WayFree, Which, in_the_way, reach, reaches};
pub use room::{Better, Fits, InFront, better, room_in_front};
pub use tool::{Approach, Legs, Part, Room, SCREW_RISE, SOURCE, Tool, Works, usual};
pub use way_in::{Doubt, Flood, Hatch, Shut, WayIn};
