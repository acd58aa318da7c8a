//! What stands on each sheet: answers of `reckon` in, one [`Sheet`] out.
//!
//! A sheet never words a verdict and never makes a number: it chooses, orders and sets what it is given.

mod card;
mod card_set;
mod circuit;
mod clips;
mod fill;
mod gauge;
mod hose;
mod joints;
mod order;
mod report;
mod ruler;
mod survey;
mod tape;
mod torque;
pub mod words;

pub use card::card;
pub use circuit::{SideStrip, Strips, circuit, sides};
pub use clips::clips;
pub use fill::fill;
pub use gauge::gauge;
pub use hose::hose;
pub use joints::joints;
pub use order::order;
pub use report::{Working, report};
pub use survey::{survey_blank, survey_filled};
pub use tape::tape;
pub use torque::torque;

use crate::doc::{Block, Sheet};

/// A sheet by its name and title.
fn sheet(name: &str, title: &str, blocks: Vec<Block>) -> Sheet {
    Sheet {
        name: name.to_owned(),
        title: title.to_owned(),
        blocks,
    }
}
