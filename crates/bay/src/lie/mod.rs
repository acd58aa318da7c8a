//! How a whole run lies between two mouths: hoses with rigid pieces between them.
//!
//! Every hose of the run and every rigid piece is solved at once. A straight rigid piece is one
//! edge of the chain and exact. An elbow is two edges whose corner is held by a spring some
//! thousand times stiffer than the hose: its angle errs by the moment over that stiffness, and the
//! greatest error is told with the shape. A plain hose is turned until untwisted, so an elbow
//! between two hoses rolls freely to where the least energy is, unless its roll is given.

mod air;
mod chained;
mod corners;
mod run;
mod spots;
mod window;

pub use air::{Clearing, STEEPEST, clearing, froude_needed, froude_stays};
pub use corners::{Corner, Corners, Hot, Tolerance, Worst, corners, corners_by, hot};
pub use run::{
    Elbow, Held, Hose, HoseLay, Piece, Roll, Run, RunLay, Straight, lie, lie_from, next_to,
};
pub use spots::{Kind, Spot, down_at, spots};
pub use window::{Limits, Window, cut, window};
