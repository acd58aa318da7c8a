//! The answer: plain data and verdicts from a boat, a catalogue, a date and a seed.
//!
//! Two floors: [`solve`] knows numbers only; [`stages`] has one module a stage, each a function
//! from its input to its output. [`wire`] connects the stages and is the drawn order of the job.
#![warn(missing_docs)]

mod around;
mod blank;
mod brine;
mod card;
mod craft;
mod draft;
mod facts;
mod flow;
mod gauge;
mod job;
mod laid;
mod loops;
mod memory;
mod next;
mod pieces;
mod points;
mod pour;
mod quick;
mod say;
mod screwed;
mod seed;
mod shop;
mod sighted;
pub mod solve;
mod spots;
pub mod stages;
mod strip;
pub mod verdict;
mod whatif;
pub mod wire;

pub use around::{
    Around, AroundFigures, AroundFitting, AroundJoin, AroundJoint, AroundLeg, AroundPiece,
    AroundSpot, AroundTee, AroundThing, AroundWay, Level, around,
};
/// What a thing is, as the boat file tells it.
pub use boat::ThingKind;

pub use blank::{Entry, Holds, HowWritten, Station, SurveyBox, Written, boxes, instrument};
pub use brine::{RiseAsk, SaltAsk, SaltOutput, SaltRow, TakenInRow, brine};
pub use card::{Card, CardFact, CardLimit, CardSign, CardValve, Cooling, Exhaust, OtherLoop, card};
pub use craft::{Cited, Closing, Craft, TorqueLine, craft};
pub use flow::{Change, Compared, ComparedState, Flow, HeadRow, compare as flow_compare, flow};
pub use gauge::{Comb, CombSize, combs};
pub use laid::RawScan;
pub use loops::{Circuit, circuit};
pub use next::{Next, next};
pub use points::{Point, PointKind, points};
pub use pour::{FillAsk, filling};
pub use quick::{QuickInput, quick};
pub use say::lasts;
pub use screwed::{QuickThread, quick_thread};
pub use shop::{Blocked, Cut, FromShelf, Order, OrderAsk, Shelf, order};
pub use sighted::{Sighted, sighted};
pub use stages::circuit::listing::{Listing, Row, Side};
pub use stages::fill::{FillOutput, FillRow};
pub use stages::order::{Have, Line, Measure, OrderOutput, Waits, Ware};
pub use stages::route::{
    LaidBody, LaidClip, LaidMoment, LaidPart, LaidRun, LaidScan, LaidSpot, LayOrder, LeastBend,
    LeastGap, NotLaid, Place, Route, Stays, apart,
};
pub use stages::survey::beside::{odd as odd_beside, replaces as odd_instead};
pub use stages::survey::tape::{SpotAxis, SpotPlace, Standing, Surveyed, TapeCheck};
pub use stages::threads::{Further, Identified, RULES as THREAD_RULES, Tells, ThreadRow};
pub use stages::types::{ByHand, JointRow, JointSizes, Neighbour, Shown};
pub use strip::{
    At, Band, Branch, HeaderTrace, Leak, PieceForm, RunReach, SignKind, Strip, StripAsk,
    StripHeader, StripPiece, StripSign, StripState, StripStation, StripVent, Trace, TraceKind, Way,
    strip, usual_heel,
};
pub use verdict::*;
pub use whatif::{Ask, Done, Mended, edited, mended};
pub use wire::{Answer, BayAsk, Input, Memo, Set, marks, reckon};
