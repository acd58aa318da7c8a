//! The bay as the page is sent it: bodies, hoses as they hang, clips as a tool reaches them. Lengths in metres.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// A place or a direction: x, y, and z up from today's waterline [m].
pub type P3 = [f64; 3];

/// See [`super::CheckSchema`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub enum BaySchema {
    #[serde(rename = "hosewright.bay/1")]
    V1,
}

/// The bay in one arrangement.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct Bay {
    /// Name and version of this document's form.
    pub schema: BaySchema,
    /// The number of the file's change that it shows.
    pub number: u64,
    /// Where x and y point.
    pub axes: BayAxes,
    /// The least corner of all that is drawn.
    pub low: P3,
    /// The greatest corner.
    pub high: P3,
    /// The opening one gets in by.
    pub hatch: Option<BayHatch>,
    /// What stands in the way.
    pub bodies: Vec<BayBody>,
    /// The scan that was laid in.
    pub scan: Option<BayScan>,
    /// Runs as they hang.
    pub runs: Vec<BayRun>,
    /// Their clips.
    pub clips: Vec<BayClip>,
    /// Runs that can't be laid yet.
    pub missing: Vec<BayMissing>,
    /// How far the engine moves on its mounts, each way.
    pub moves: Option<P3>,
    /// The whole in one sentence, for a reader of screens.
    pub spoken: String,
}

/// Where the axes point, in words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct BayAxes {
    /// `forward`.
    pub x: String,
    /// `to port`.
    pub y: String,
}

/// The way in.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct BayHatch {
    /// Corner by corner.
    pub corners: Vec<P3>,
}

/// A thing in the way.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct BayBody {
    /// Its name in the file.
    pub name: String,
    /// For people.
    pub title: String,
    /// What it is: `solid`, `hot`, `moving` or `hull`.
    pub nature: String,
    /// Whether it moves with the `engine` or stands in the `hull`.
    pub frame: String,
    /// The clearance that it wants.
    pub keep: f64,
    /// Its outside.
    pub faces: BayFaces,
}

/// Faces and sharp edges, by the numbers of their corners.
#[derive(Clone, Debug, Default, PartialEq, Serialize, JsonSchema, TS)]
pub struct BayFaces {
    /// The corners.
    pub points: Vec<P3>,
    /// Three corners each.
    pub triangles: Vec<[u32; 3]>,
    /// Two corners each.
    pub edges: Vec<[u32; 2]>,
}

/// The scan.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct BayScan {
    /// How many triangles are reckoned with.
    pub triangles: u64,
    /// How far it may be off.
    pub error: String,
    /// By what it was laid in, and how well.
    pub laid: String,
}

/// A run.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct BayRun {
    /// Its key.
    pub run: String,
    /// Its letter.
    pub mark: String,
    /// For people.
    pub title: String,
    /// The worst of its verdicts.
    pub grade: String,
    /// Ids of its verdicts.
    pub verdicts: Vec<String>,
    /// Its pieces in order of flow.
    pub parts: Vec<BayPart>,
    /// Its centre line with the engine at the top of its movement.
    pub up: Option<Vec<P3>>,
    /// The same at the bottom.
    pub down: Option<Vec<P3>>,
    /// Its tightest bend.
    pub bend: Option<BayBend>,
    /// What it comes nearest to.
    pub gap: Option<BayGap>,
    /// Where air gathers.
    pub highs: Vec<BaySpot>,
    /// Where water stays.
    pub lows: Vec<BaySpot>,
    /// What else there is to tell.
    pub facts: Vec<BayFact>,
}

/// A piece of a run.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct BayPart {
    /// Whether it bends.
    pub kind: BayPartKind,
    /// Its centre line.
    pub line: Vec<P3>,
    /// Half its outside diameter.
    pub radius: f64,
    /// For people.
    pub title: String,
    /// How long it is cut, in words.
    pub cut: Option<String>,
}

/// Whether a piece bends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs)]
pub enum BayPartKind {
    Hose,
    Rigid,
}

/// The tightest bend.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct BayBend {
    /// Where.
    pub at: P3,
    /// The middle of its circle.
    pub centre: P3,
    /// To the centre line.
    pub radius: f64,
    /// For people.
    pub text: String,
}

/// The tightest gap.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct BayGap {
    /// On the hose.
    pub from: P3,
    /// On the other thing.
    pub to: P3,
    /// For people.
    pub text: String,
    /// The other thing.
    pub with: String,
}

/// A high or low spot.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct BaySpot {
    /// Where.
    pub at: P3,
    /// For people.
    pub text: String,
}

/// A name with words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct BayFact {
    /// `end forces`.
    pub name: String,
    /// For people.
    pub text: String,
}

/// A clip.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct BayClip {
    /// Its joint.
    pub joint: String,
    /// Which of the clips there, from the hose's end on: 1 is the first.
    pub nth: u32,
    /// How many clips there are.
    pub of: u32,
    /// Its mark.
    pub mark: String,
    /// For people.
    pub title: String,
    /// The worst of its verdicts.
    pub grade: String,
    /// The middle of its band.
    pub at: P3,
    /// Along the hose, out of the spigot.
    pub axis: P3,
    /// Where its twelve o'clock is.
    pub noon: P3,
    /// Half the diameter that it sits on.
    pub radius: f64,
    /// Where the screw's head stands.
    pub screw: Option<P3>,
    /// The clock position in words.
    pub clock: Option<String>,
    /// The tool to take.
    pub tool: Option<String>,
    /// The tool in place.
    pub way: Vec<BayWay>,
    /// Free arcs of the clock.
    pub free: Vec<BayArc>,
    /// The same in words, as on paper: `2½ to 5`.
    pub free_text: Option<String>,
    /// In one sentence.
    pub text: String,
    /// Ids of its verdicts.
    pub verdicts: Vec<String>,
}

/// A part of a tool: a capsule, end by end.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct BayWay {
    /// Its centre line.
    pub points: Vec<P3>,
    /// Its radius.
    pub radius: f64,
}

/// An arc of the clock, from noon, clockwise as seen from the open end of the spigot [degrees].
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct BayArc {
    /// Where it begins.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
}

/// A run that can't be laid yet.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct BayMissing {
    /// Its key.
    pub run: String,
    /// Its letter.
    pub mark: String,
    /// Why.
    pub why: String,
    /// What would settle it.
    pub settles: String,
}

/// What is to be measured: from a named place or a point to another.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
pub struct MeasureAsk {
    /// From here.
    pub from: MeasureEnd,
    /// To there.
    pub to: MeasureEnd,
    /// Which arrangement.
    #[serde(default)]
    #[ts(optional)]
    pub arrangement: Option<String>,
}

/// One end of what is measured.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(default)]
pub struct MeasureEnd {
    /// A mouth or a joint by its key; with a point, that on which it lies.
    #[ts(optional)]
    pub key: Option<String>,
    /// A point.
    #[ts(optional)]
    pub at: Option<P3>,
    /// What the point was picked on.
    #[ts(optional)]
    pub on: Option<MeasureOn>,
}

/// What a point was picked on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "kebab-case")]
pub enum MeasureOn {
    /// A body, a hose or a clip as drawn.
    Body,
    /// The scan.
    Scan,
}

/// How far it is.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct Measured {
    /// For people, with its tolerance.
    pub text: String,
    /// By how much it may be off, in words; or that nobody knows that.
    pub deviation: Option<String>,
}
