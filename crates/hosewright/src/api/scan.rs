//! A scan that is dropped on the page.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::bay::P3;

/// What was found in a scan.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct ScanLook {
    /// What tells it from every other one: bytes that differ give another.
    pub id: String,
    /// The name by which it is kept.
    pub name: String,
    /// Its triangles.
    pub triangles: u64,
    /// Its points.
    pub points: u64,
    /// How long one of its numbers is [m], where its format tells.
    pub metres_per_unit: Option<f64>,
    /// How large it is, in its own numbers.
    pub size: P3,
    /// What is to be said of it.
    pub says: Vec<String>,
    /// Places of the boat that are known, by which it can be laid in.
    pub spots: Vec<ScanSpot>,
    /// Some of its points in its own numbers, x, y, z one after the other.
    pub preview: Vec<f64>,
}

/// A pin or a mouth whose place is known.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct ScanSpot {
    /// As it is written in the file: `P1`, `engine.out`.
    pub name: String,
    /// For people.
    pub title: String,
    /// Where it is, in words.
    pub text: String,
}

/// A press on a scan: what is nearest to the eye along a line, in the scan's own numbers.
#[derive(Clone, Debug, PartialEq, Deserialize, TS)]
pub struct ScanRay {
    /// Which scan.
    pub id: String,
    /// A point of the line.
    pub from: P3,
    /// Which way one looks along it.
    pub way: P3,
    /// How far from the line a corner is still meant.
    pub near: f64,
}

/// What was pressed.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct ScanPoint {
    /// Where it is, in the scan's own numbers; none where nothing is.
    pub at: Option<P3>,
    /// What it is.
    pub says: String,
}

/// A scan that is not wanted any more.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
pub struct ScanLeave {
    /// Which one.
    pub id: String,
}

/// How a scan is laid in.
#[derive(Clone, Debug, PartialEq, Deserialize, TS)]
pub struct LayAsk {
    /// Which scan.
    pub id: String,
    /// How long one of its numbers is [m].
    pub metres_per_unit: Option<f64>,
    /// Two points of it whose distance is known.
    pub known: Option<ScanKnown>,
    /// Points that match.
    pub pairs: Vec<ScanPair>,
    /// What is taken to lie behind it.
    pub behind: ScanBehind,
    /// Whether it is kept with the boat.
    pub keep: bool,
}

/// A known length.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize, TS)]
pub struct ScanKnown {
    /// One end, in the scan's numbers.
    pub a: P3,
    /// The other.
    pub b: P3,
    /// How far they are apart [m].
    pub length: f64,
}

/// A point of a scan and what it is.
#[derive(Clone, Debug, PartialEq, Deserialize, TS)]
pub struct ScanPair {
    /// What it is called: one of the known places where it has no place of its own.
    pub name: String,
    /// In the scan's numbers.
    pub scan: P3,
    /// In the bay [m]; none for one of the known places, which is written by its name.
    pub bay: Option<P3>,
}

/// What is taken to lie behind a scan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, TS)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs)]
pub enum ScanBehind {
    Solid,
    Free,
}

impl ScanBehind {
    /// The word in the boat file.
    pub fn word(self) -> &'static str {
        match self {
            Self::Solid => "solid",
            Self::Free => "free",
        }
    }
}

/// How well it lies.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct ScanLaid {
    /// Each point with how far it is off.
    pub residuals: Vec<ScanResidual>,
    /// How well it lies, whether its unit is in doubt, and what became of it.
    pub says: Vec<String>,
    /// Why it can't be laid in so.
    pub fault: Option<String>,
    /// Whether it was kept.
    pub kept: bool,
}

/// How far one point is off.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct ScanResidual {
    /// What it is called.
    pub name: String,
    /// How far off.
    pub text: String,
}
