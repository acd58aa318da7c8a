//! The table of joints as it is sent.

use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

use super::verdict::{Grade, Text, kind_word, si_unit};

/// A number in SI with its text in both systems.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
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
        Self {
            value: si,
            unit: si_unit(kind).to_owned(),
            kind: kind_word(kind).to_owned(),
            text: text.into(),
        }
    }
}

/// A diameter that surely lies between two others.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct Range {
    /// Surely not below.
    pub low: Number,
    /// Surely not above.
    pub high: Number,
}

/// A clip of the next size, with its chance.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct Neighbour {
    /// Which.
    pub clip: String,
    /// The chance that it fits, 0 to 1.
    pub chance: f64,
}

/// One joint: one hose end on one spigot.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct JointRow {
    /// Its key: `hot.from`.
    pub joint: String,
    /// What one writes on the hose: `A1`.
    pub mark: String,
    /// Its run.
    pub run: String,
    /// The male end in words: `engine out`.
    pub spigot_name: String,
    /// Outside diameter of the spigot.
    pub spigot: Option<Number>,
    /// Outside diameter over its bead.
    pub bead: Option<Number>,
    /// The hose.
    pub hose: String,
    /// Its bore.
    pub bore: Option<Number>,
    /// Its outside diameter when free.
    pub over: Option<Number>,
    /// How far the hose is stretched over the spigot; below zero where it is loose.
    pub stretch: Option<Number>,
    /// Outside diameter of the hose on the spigot, by the two models at the best values.
    pub fitted: Option<Range>,
    /// The clip decided on or chosen.
    pub clip: Option<String>,
    /// Whether the tool chose it.
    pub clip_chosen: bool,
    /// How many of them.
    pub clips: Option<u32>,
    /// The chance that the clip fits, 0 to 1.
    pub chance: Option<f64>,
    /// The sizes on either side, with theirs.
    pub neighbours: Vec<Neighbour>,
    /// How far the hose is pushed on: where the mark goes, from its end.
    pub push_on: Option<Number>,
    /// How tight the clip is done up, in words.
    pub torque: Option<Text>,
    /// The worst grade of its verdicts.
    pub grade: Grade,
    /// How the ids of its verdicts begin.
    pub id_prefix: String,
}

impl From<reckon::JointRow> for JointRow {
    fn from(row: reckon::JointRow) -> Self {
        let reckon::JointRow {
            joint,
            mark,
            run,
            spigot_name,
            spigot,
            bead,
            hose,
            bore,
            over,
            stretch,
            fitted_low,
            fitted_high,
            clip,
            clip_chosen,
            clips,
            chance,
            neighbours,
            push_on,
            torque,
            grade,
            id_prefix,
            // These are for paper.
            sizes: _,
            by_hand: _,
        } = row;
        let neighbour = |reckon::Neighbour { clip, chance }| Neighbour { clip, chance };
        Self {
            joint,
            mark,
            run,
            spigot_name,
            spigot: spigot.map(Number::from),
            bead: bead.map(Number::from),
            hose,
            bore: bore.map(Number::from),
            over: over.map(Number::from),
            stretch: stretch.map(Number::from),
            fitted: fitted_low.zip(fitted_high).map(|(low, high)| Range {
                low: low.into(),
                high: high.into(),
            }),
            clip,
            clip_chosen,
            clips,
            chance,
            neighbours: neighbours.into_iter().map(neighbour).collect(),
            push_on: push_on.map(Number::from),
            torque: torque.map(Text::from),
            grade: grade.into(),
            id_prefix,
        }
    }
}
