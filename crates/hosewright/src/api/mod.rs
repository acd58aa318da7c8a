//! What the program sends to other programs: one JSON document a command, each with a published schema.
//!
//! Every type here is made by taking a type of the inner crates apart field by field, so that a
//! field added there does not compile here until someone decides whether it is sent. Numbers are
//! SI; wherever a sentence or a number reads differently in metric and imperial, both are sent.

mod bay;
mod circuit;
mod edits;
mod fill;
mod fit;
mod flow;
mod flow_from;
mod order;
mod page;
mod page_card;
mod page_draw;
mod page_line;
mod page_survey;
mod places;
mod route;
mod scan;
mod sheets;
mod survey;
mod thread;
mod verdict;

use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

pub use self::sheets::{RunWithout, SheetFile, Sheets, SheetsSchema};
pub use bay::{
    Bay, BayArc, BayAxes, BayBend, BayBody, BayClip, BayFaces, BayFact, BayGap, BayHatch,
    BayMissing, BayPart, BayPartKind, BayRun, BayScan, BaySchema, BaySpot, BayWay, MeasureAsk,
    MeasureEnd, MeasureOn, Measured, P3,
};
pub use circuit::{Circuit, CircuitSchema, Loop, LoopRow};
pub use edits::{Change, CommentBeside, Mark, Marks, Mend, MendRefusal, Moved};
pub use fill::{Fill, FillRow, FillSchema, Salt, SaltSchema, TakenIn};
pub use fit::{JointRow, Neighbour, Number, Range};
pub use flow::{
    Flow, FlowArea, FlowArrangement, FlowAssumed, FlowBoth, FlowCame, FlowChange, FlowCompared,
    FlowCooler, FlowFigures, FlowHead, FlowHottest, FlowHull, FlowHullState, FlowItem, FlowMissing,
    FlowMost, FlowNeed, FlowPart, FlowPlace, FlowPower, FlowRule, FlowSchema, FlowShares, FlowSide,
    FlowState, FlowStolen, FlowVolume, Spread,
};
pub use order::{Order, OrderSchema, measure};
pub use page::{
    Act, BoatAsk, BoatChoice, Boats, Changed, Chapter, Choice, DemoBoat, Device, EntryOutcome,
    Locked, MarginLine, MarginPlaces, MarkKind, News, NewsWhy, Outcomes, Page, PageBoat, PageDuty,
    PageHistory, PageMark, PageSchema, PageState, PageVerdict, ReadingAnswer, Share, Spot, Trial,
    TrialBegins, TrialKeep, TrialRow, ValueAnswer, ValueInstrument, ValueKind, VerdictAt, Wrong,
};
pub use page_card::{Card, CardFact, CardLimit, CardOther, CardSign, CardValve};
pub use page_draw::{
    Drawing, DrawingCell, DrawingColumn, DrawingMark, DrawingRow, DrawingTable, DrawingTee,
    DrawingTilt, PageAnchor, PageFace, PagePlaced, PageShape, PageText,
};
pub(crate) use page_line::{ForKind, for_kind};
pub use page_survey::{
    SurveyBox, SurveyEnd, SurveyNext, SurveyPage, SurveyPair, SurveyPicture, SurveyStation,
};
pub use places::{SpotAxis, SpotPlace, Standing, TapeCheck, Taped};
pub use route::{
    Route, RouteClip, RouteFact, RouteGap, RouteMissing, RoutePart, RouteRun, RouteSchema,
};
pub use scan::{
    LayAsk, ScanBehind, ScanKnown, ScanLaid, ScanLeave, ScanLook, ScanPair, ScanPoint, ScanRay,
    ScanResidual, ScanSpot,
};
pub use survey::{Blank, Entry, Holds, Next, Station, Survey, SurveySchema, SurveyState};
pub use thread::{Candidate, Look, Thread, ThreadSchema};
pub use verdict::{
    Basis, Grade, Margin, Place, RemedyEdit, Settles, Stage, Text, Verdict, Where, Working,
    WorkingInput, WorkingStep,
};

/// The name of this program, as sent.
pub const TOOL: &str = "hosewright";
/// Its version, as sent.
pub const VERSION: &str = env!("CARGO_PKG_VERSION");

/// Name and version of a document's form; a change that breaks readers raises the number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub enum CheckSchema {
    #[serde(rename = "hosewright.check/1")]
    V1,
}

/// See [`CheckSchema`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub enum FitSchema {
    #[serde(rename = "hosewright.fit/1")]
    V1,
}

/// See [`CheckSchema`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub enum MendSchema {
    #[serde(rename = "hosewright.mend/1")]
    V1,
}

/// See [`CheckSchema`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub enum MarksSchema {
    #[serde(rename = "hosewright.marks/1")]
    V1,
}

/// See [`CheckSchema`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub enum FaultSchema {
    #[serde(rename = "hosewright.fault/1")]
    V1,
}

/// Which boat file was judged, and how.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct About {
    /// Name of the program.
    pub tool: String,
    /// Version of the program.
    pub version: String,
    /// The boat's name, where the file gives one.
    pub boat: Option<String>,
    /// Path of the boat file as it was given; null where the numbers came from flags.
    pub file: Option<String>,
    /// SHA-256 of the file's bytes, 64 hexadecimal digits; null where there is no file.
    pub file_hash: Option<String>,
    /// Which arrangement was judged; null for the file as it stands.
    pub arrangement: Option<String>,
}

/// How many verdicts of each grade.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct Summary {
    /// Cannot be judged until something is measured.
    pub unmeasured: usize,
    /// Must be mended.
    pub unsound: usize,
    /// May or may not hold.
    pub marginal: usize,
    /// Holds.
    pub sound: usize,
}

impl Summary {
    /// Counts grades.
    pub fn of(grades: impl IntoIterator<Item = reckon::Grade>) -> Self {
        let mut summary = Self::default();
        for grade in grades {
            match grade {
                reckon::Grade::Unmeasured => summary.unmeasured += 1,
                reckon::Grade::Unsound => summary.unsound += 1,
                reckon::Grade::Marginal => summary.marginal += 1,
                reckon::Grade::Sound => summary.sound += 1,
            }
        }
        summary
    }
}

/// How much a remark matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs)]
pub enum Severity {
    /// Nothing is judged until it is mended.
    Stop,
    /// Worth a look.
    Check,
    /// Good to know.
    Note,
}

/// A fault of the boat file itself.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct Remark {
    /// Short stable name of the fault: `unknown-key`.
    pub code: String,
    /// How much it matters.
    pub severity: Severity,
    /// What is wrong, in one sentence.
    pub message: String,
    /// What was expected, or what to do.
    pub expected: Option<String>,
    /// The offending text of the file.
    pub found: String,
    /// Where.
    pub place: Place,
}

/// What `check --json` prints.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct Check {
    /// Name and version of this document's form.
    pub schema: CheckSchema,
    /// What was judged.
    #[serde(flatten)]
    pub about: About,
    /// Whether only the quick verdicts were asked for.
    pub quick: bool,
    /// Seed of all sampling.
    pub seed: u64,
    /// How many of each grade.
    pub summary: Summary,
    /// Faults of the file; none of them is a stop, for with one `hosewright.fault/1` is printed instead.
    pub remarks: Vec<Remark>,
    /// Every verdict, in the order of the job, then of the file.
    pub verdicts: Vec<Verdict>,
}

/// What `fit --json` prints.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct Fit {
    /// Name and version of this document's form.
    pub schema: FitSchema,
    /// What was judged.
    #[serde(flatten)]
    pub about: About,
    /// Whether only the quick verdicts were asked for.
    pub quick: bool,
    /// Seed of all sampling.
    pub seed: u64,
    /// How many verdicts of each grade.
    pub summary: Summary,
    /// Faults of the file; none of them is a stop.
    pub remarks: Vec<Remark>,
    /// Every joint, in order of flow.
    pub joints: Vec<JointRow>,
    /// The verdicts about joints.
    pub verdicts: Vec<Verdict>,
}

/// What is printed instead where nothing could be done.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct Refusal {
    /// Name and version of this document's form.
    pub schema: FaultSchema,
    /// Name of the program.
    pub tool: String,
    /// Version of the program.
    pub version: String,
    /// Why, in one sentence.
    pub fault: String,
    /// Exit status that goes with it.
    pub exit: u8,
    /// Faults of the boat file, where they are the reason.
    pub remarks: Vec<Remark>,
}

/// The JSON of a document, as printed.
pub fn to_json<T: Serialize>(document: &T) -> String {
    // OK because every sent type is a plain struct with text keys, which serialise without fail.
    let mut text = serde_json::to_string_pretty(document).expect("sent types are plain data");
    text.push('\n');
    text
}

/// The published schema of a document, as printed and as kept in `docs/`.
pub fn schema_of<T: JsonSchema>() -> String {
    let schema = schemars::generate::SchemaSettings::draft2020_12()
        // What is sent, not what would be read: a field that is always written is required.
        .for_serialize()
        .into_generator()
        .into_root_schema_for::<T>();
    to_json(&schema)
}
