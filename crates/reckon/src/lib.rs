//! The answer: plain data and verdicts from a boat, a catalogue, a date and a seed.
//!
//! Two floors: [`solve`] knows numbers only; [`stages`] has one module a stage, each a function
//! from its input to its output. [`wire`] connects the stages and is the drawn order of the job.
#![warn(missing_docs)]

mod blank;
mod brine;
mod draft;
mod facts;
mod flow;
mod job;
mod loops;
mod next;
mod pour;
mod quick;
mod say;
mod screwed;
mod seed;
mod shop;
pub mod solve;
mod spots;
pub mod stages;
pub mod verdict;
mod whatif;
pub mod wire;

pub use blank::{Entry, Holds, Station, SurveyBox, boxes};
pub use brine::{RiseAsk, SaltAsk, SaltOutput, SaltRow, TakenInRow, brine};
pub use flow::{Change, Compared, ComparedState, Flow, HeadRow, compare as flow_compare, flow};
pub use loops::{Circuit, circuit};
pub use next::{Next, next};
pub use pour::{FillAsk, filling};
pub use quick::{QuickInput, quick};
pub use screwed::{QuickThread, quick_thread};
pub use shop::{Blocked, FromShelf, Order, OrderAsk, order};
pub use stages::circuit::listing::{Listing, Row, Side};
pub use stages::fill::{FillOutput, FillRow};
pub use stages::order::{Have, Line, Measure, OrderOutput, Waits, Ware};
pub use stages::survey::tape::{SpotAxis, SpotPlace, Standing, Surveyed, TapeCheck};
pub use stages::threads::{Further, Identified, RULES as THREAD_RULES, Tells, ThreadRow};
pub use stages::types::{JointRow, Neighbour};
pub use verdict::*;
pub use whatif::{Ask, Done, Mended, edited, mended};
pub use wire::{Answer, Input, Memo, Set, marks, reckon};
