//! The table of joints as it is sent.

use schemars::JsonSchema;
use serde::Serialize;

use super::verdict::{Text, kind_word, si_unit};

/// A number in SI with its text in both systems.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Number {
    /// In SI.
    pub value: f64,
    /// Its SI unit; `1` for a ratio.
    pub unit: String,
    /// What is measured: `length`, `gauge pressure`.
    pub kind: String,
    /// For people.
    pub text: Text,
}

impl From<reckon::Number> for Number {
    fn from(reckon::Number { kind, si, text }: reckon::Number) -> Self {
        Self { value: si, unit: si_unit(kind).to_owned(), kind: kind_word(kind).to_owned(), text: text.into() }
    }
}

/// A diameter that surely lies between two others.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Range {
    /// Surely not below.
    pub low: Number,
    /// Surely not above.
    pub high: Number,
}

/// A clip of the next size, with its chance.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Neighbour {
    /// Which.
    pub clip: String,
    /// The chance that it fits, 0 to 1.
    pub chance: f64,
}

/// One joint: one hose end on one spigot.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct JointRow {
    /// Its key: `hot.from`.
    pub joint: String,
    /// What one writes on the hose: `A1`.
    pub mark: String,
    /// Its run.
    pub run: String,
    /// The joint in words.
    pub title: String,
    /// Outside diameter of the spigot.
    pub spigot: Option<Number>,
    /// The hose.
    pub hose: String,
    /// How far the hose is stretched over the spigot.
    pub stretch: Option<Number>,
    /// Outside diameter of the hose on the spigot.
    pub fitted: Option<Range>,
    /// The clip decided on or chosen.
    pub clip: Option<String>,
    /// How many of them.
    pub clips: u32,
    /// The chance that the clip fits, 0 to 1.
    pub chance: Option<f64>,
    /// The sizes on either side, with theirs.
    pub neighbours: Vec<Neighbour>,
    /// How far the hose is pushed on.
    pub insertion: Option<Number>,
    /// How tight the clip is done up.
    pub torque: Option<Number>,
}

impl From<reckon::JointRow> for JointRow {
    fn from(row: reckon::JointRow) -> Self {
        let reckon::JointRow {
            joint,
            mark,
            run,
            title,
            spigot,
            hose,
            stretch,
            fitted,
            clip,
            clips,
            chance,
            neighbours,
            insertion,
            torque,
        } = row;
        Self {
            joint,
            mark,
            run,
            title,
            spigot: spigot.map(Number::from),
            hose,
            stretch: stretch.map(Number::from),
            fitted: fitted.map(|(low, high)| Range { low: low.into(), high: high.into() }),
            clip,
            clips,
            chance,
            neighbours: neighbours.into_iter().map(|(clip, chance)| Neighbour { clip, chance }).collect(),
            insertion: insertion.map(Number::from),
            torque: torque.map(Number::from),
        }
    }
}
