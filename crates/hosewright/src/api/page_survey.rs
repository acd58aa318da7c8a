//! The survey as a phone walks it: station by station, end by end, box by box.

use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

use super::Next;
use super::survey::{Entry, Holds};

/// What stands in the boxes, and what to measure next.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct SurveyPage {
    /// The number of the file's change that it shows.
    pub number: u64,
    /// Boxes that hold a value.
    pub values: usize,
    /// Boxes that hold none, or two that differ.
    pub empty: usize,
    /// In the order in which one goes round.
    pub stations: Vec<SurveyStation>,
    /// The measurement that settles the most first.
    pub next: Vec<SurveyNext>,
    /// Values of which two readings stand.
    pub pairs: Vec<SurveyPair>,
}

/// Where one stands.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub struct SurveyStation {
    pub path: String,
    pub title: String,
    pub ends: Vec<SurveyEnd>,
}

/// One end, or what is of the whole station.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct SurveyEnd {
    /// `spigot out`; empty for what is of the whole station.
    pub part: String,
    /// What is written on the hose there.
    pub mark: Option<String>,
    /// Its boxes.
    pub boxes: Vec<SurveyBox>,
}

/// Which dimension the picture shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs)]
pub enum SurveyPicture {
    Outside,
    Bead,
    Straight,
    Material,
    Way,
    Length,
    Other,
}

/// One box.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct SurveyBox {
    /// Where it goes in the file.
    pub place: String,
    /// Its key.
    pub name: String,
    /// What it says.
    pub says: String,
    /// What is written into it.
    pub entry: Entry,
    /// With what it is measured where nothing else is said.
    pub instrument: Option<String>,
    /// What it holds.
    pub holds: Holds,
    /// That for people.
    pub text: Option<String>,
    /// Which dimension the picture shows.
    pub picture: SurveyPicture,
}

/// A measurement to take next, with the mark that it belongs to.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct SurveyNext {
    /// The measurement.
    #[serde(flatten)]
    pub next: Next,
    /// What is written on the hose there.
    pub mark: Option<String>,
}

/// Two readings of one value.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub struct SurveyPair {
    pub place: String,
    pub readings: Vec<String>,
}
