//! A scan that is dropped on the page.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::bay::P3;

/// What was found in a scan.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct ScanLook {
    /// Its file.
    pub name: String,
    /// Its triangles.
    pub triangles: u64,
    /// Its points.
    pub points: u64,
    /// The unit of its numbers, where its format tells one.
    pub units: Option<String>,
    /// How large it is, in its own numbers.
    pub size: P3,
    /// Parts that are left out as specks; told once the unit is known.
    pub specks: u64,
    /// Edges with one face only; told once the unit is known.
    pub open_edges: u64,
    /// What is to be said of it.
    pub says: Vec<String>,
    /// Some of its points in its own numbers, x, y, z one after the other.
    pub preview: Vec<f64>,
}

/// How a scan is laid in.
#[derive(Clone, Debug, PartialEq, Deserialize, TS)]
pub struct LayAsk {
    /// The file that was looked at.
    pub name: String,
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

/// A point of a scan and where it is in the bay.
#[derive(Clone, Debug, PartialEq, Deserialize, TS)]
pub struct ScanPair {
    /// In the scan's numbers.
    pub scan: P3,
    /// In the bay [m].
    pub bay: P3,
    /// What it is called.
    pub name: String,
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
    /// Root of their mean square, in words.
    pub rms: String,
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
