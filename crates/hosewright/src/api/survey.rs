//! What is still to be measured, as it is sent.

use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

use super::About;
use super::verdict::{Place, Where};
use crate::api::Remark;

/// See [`super::CheckSchema`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub enum SurveySchema {
    #[serde(rename = "hosewright.survey/1")]
    V1,
}

/// What `survey --json` prints, with `--next` and `--blank` too.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct Survey {
    /// Name and version of this document's form.
    pub schema: SurveySchema,
    /// What was looked at.
    #[serde(flatten)]
    pub about: About,
    /// Faults of the file; none of them is a stop.
    pub remarks: Vec<Remark>,
    /// How it stands.
    pub state: SurveyState,
    /// What is missing, the measurement that settles the most first.
    pub next: Vec<Next>,
    /// The boxes that are still empty, in the order of the file.
    pub blank: Vec<Blank>,
    /// Where the spigots are; null where the file has no survey by tape.
    pub taped: Option<super::Taped>,
}

/// How a survey stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct SurveyState {
    /// Boxes that hold a value.
    pub values: usize,
    /// Boxes that hold none, or two that differ.
    pub empty: usize,
    /// Verdicts that wait for a measurement.
    pub waiting: usize,
}

/// Where one stands in the boat.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct Station {
    /// Its table in the file: `engine`, `things.header`, `runs.hot`.
    pub path: String,
    /// For people.
    pub title: String,
}

impl From<reckon::Station> for Station {
    fn from(station: reckon::Station) -> Self {
        let reckon::Station { place, title } = station;
        Self { path: place, title }
    }
}

/// One missing measurement, and what it would settle.
///
/// A likely value was put there and everything reckoned again; the value itself is not sent, since
/// nobody measured it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct Next {
    /// Where it goes in the file.
    pub place: Place,
    /// Where one stands to take it.
    pub station: Station,
    /// Of what: `spigot out`, `hose 38 epdm`; empty where the place says it.
    pub part: String,
    /// What to do with which instrument, one sentence each.
    pub how: Vec<String>,
    /// How many verdicts it would settle: those in `settled` and in `opened`.
    pub settles: usize,
    /// Ids of the verdicts that name it.
    pub named_by: Vec<String>,
    /// Ids of the verdicts that wait now and would not.
    pub settled: Vec<String>,
    /// Ids of the verdicts that there are none of yet and that could be given at once.
    pub opened: Vec<String>,
    /// Whether a likely value was tried; where none is at hand, `settled` holds what names it.
    pub tried: bool,
}

impl Next {
    /// As it is sent.
    pub fn of(next: reckon::Next, chart: &dyn Where) -> Self {
        let settles = next.settles();
        let reckon::Next {
            place,
            station,
            part,
            how,
            named_by,
            settled,
            opened,
            tried,
        } = next;
        Self {
            place: chart.place(place),
            station: station.into(),
            part,
            how,
            settles,
            named_by,
            settled,
            opened,
            tried,
        }
    }
}

/// What is written into a box.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs)]
pub enum Entry {
    Length,
    Pressure,
    PressureAtTemperature,
    Temperature,
    Number,
    Text,
}

/// What an empty box holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[serde(rename_all = "kebab-case")]
pub enum Holds {
    /// A value; no box of the form holds one.
    Value,
    /// Nothing: not looked yet.
    Nothing,
    /// `"?"`: looked, could not tell.
    Unknown,
    /// Two readings that differ.
    TwoReadings,
}

/// One box of the form.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct Blank {
    /// Where it goes in the file.
    pub place: Place,
    /// Where one stands.
    pub station: Station,
    /// Of what: `spigot out`; empty for what is of the whole station.
    pub part: String,
    /// Its name: the last key of the place, or for hose on the shelf the word of its line.
    pub name: String,
    /// What is written into it.
    pub entry: Entry,
    /// What it says.
    pub says: String,
    /// With what it is measured where nothing else is said.
    pub instrument: Option<String>,
    /// Why it is on the form.
    pub holds: Holds,
}

impl Blank {
    /// As it is sent.
    pub fn of(own: reckon::SurveyBox, chart: &dyn Where) -> Self {
        Self {
            place: chart.place(own.place),
            station: own.station.into(),
            part: own.part,
            name: own.name,
            entry: match own.entry {
                reckon::Entry::Length => Entry::Length,
                reckon::Entry::Pressure => Entry::Pressure,
                reckon::Entry::PressureAtTemperature => Entry::PressureAtTemperature,
                reckon::Entry::Temperature => Entry::Temperature,
                reckon::Entry::Number => Entry::Number,
                reckon::Entry::Text => Entry::Text,
            },
            says: own.says,
            instrument: own
                .instrument
                .map(|instrument| instrument.name().to_owned()),
            holds: match own.holds {
                reckon::Holds::Value => Holds::Value,
                reckon::Holds::Nothing => Holds::Nothing,
                reckon::Holds::Unknown => Holds::Unknown,
                reckon::Holds::TwoReadings => Holds::TwoReadings,
            },
        }
    }
}
