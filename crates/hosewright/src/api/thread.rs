//! What `thread` sends.

use schemars::JsonSchema;
use serde::Serialize;

use super::fit::{Number, Range};
use super::verdict::Verdict;
use super::{About, Remark, Summary};

/// Name and version of the document's form.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[allow(missing_docs)]
pub enum ThreadSchema {
    #[serde(rename = "hosewright.thread/1")]
    V1,
}

/// A thread that the readings may be of.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Candidate {
    /// Its name: `G 1/2`.
    pub thread: String,
    /// Its chance, 0 to 1, each thread of the tables being as likely beforehand.
    pub chance: f64,
    /// Where the diameter of a sound one may lie, anywhere along it.
    pub diameter: Range,
    /// Length over ten pitches.
    pub ten_pitches: Number,
    /// Turns to the inch; null for metric threads.
    pub per_inch: Option<f64>,
    /// Angle between the flanks, in degrees.
    pub flanks: f64,
    /// Whether it tapers, 1 in 16.
    pub tapers: bool,
    /// Squared misfit of the readings; 0 is all that they should be.
    pub misfit: f64,
}

impl From<reckon::ThreadRow> for Candidate {
    fn from(row: reckon::ThreadRow) -> Self {
        let reckon::ThreadRow {
            thread,
            chance,
            low,
            high,
            ten_pitches,
            per_inch,
            flanks,
            tapers,
            misfit,
        } = row;
        Self {
            thread,
            chance,
            diameter: Range {
                low: low.into(),
                high: high.into(),
            },
            ten_pitches: ten_pitches.into(),
            per_inch,
            flanks,
            tapers,
            misfit,
        }
    }
}

/// A further look that parts the candidates.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Look {
    /// What to do.
    pub act: String,
    /// The candidates by what the look would show; within a group it does not tell them apart.
    pub groups: Vec<Vec<String>>,
}

impl From<reckon::Tells> for Look {
    fn from(tells: reckon::Tells) -> Self {
        let act = tells.look.act();
        let reckon::Tells { look: _, groups } = tells;
        Self { act, groups }
    }
}

/// What `thread --json` prints.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Thread {
    /// Name and version of this document's form.
    pub schema: ThreadSchema,
    /// What was judged.
    #[serde(flatten)]
    pub about: About,
    /// How many of each grade.
    pub summary: Summary,
    /// Faults of the file; none of them is a stop.
    pub remarks: Vec<Remark>,
    /// The threads that the readings of the flags may be of, the likeliest first; empty with a boat.
    pub candidates: Vec<Candidate>,
    /// The looks that would part them; empty with a boat.
    pub looks: Vec<Look>,
    /// The verdicts about threads.
    pub verdicts: Vec<Verdict>,
}
