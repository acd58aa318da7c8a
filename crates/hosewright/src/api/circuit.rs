//! The loop in order of flow, as it is sent.

use schemars::JsonSchema;
use serde::Serialize;

use super::{About, Remark, Summary, Text, Verdict, Where};

/// See [`super::CheckSchema`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[allow(missing_docs)]
pub enum CircuitSchema {
    #[serde(rename = "hosewright.circuit/1")]
    V1,
}

/// What `circuit --json` prints.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Circuit {
    /// Name and version of this document's form.
    pub schema: CircuitSchema,
    /// What was followed; the arrangement is null where all were.
    #[serde(flatten)]
    pub about: About,
    /// How many verdicts of each grade, over all arrangements sent.
    pub summary: Summary,
    /// Faults of the file; none of them is a stop.
    pub remarks: Vec<Remark>,
    /// One, or with `--all` every arrangement in the order of the file.
    pub arrangements: Vec<Loop>,
}

/// One arrangement.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Loop {
    /// Its name; null for the file as it stands.
    pub arrangement: Option<String>,
    /// Whether the water comes round to a pump.
    pub closed: bool,
    /// What gives the heat away.
    pub coolers: Vec<String>,
    /// Layouts that stand in for the inside of an engine.
    pub assumed: Vec<String>,
    /// Round the main loop, from the pump's thing on.
    pub ring: Vec<LoopRow>,
    /// All other runs, in the order of the file.
    pub beside: Vec<LoopRow>,
    /// Valves that are shut.
    pub shut: Vec<String>,
    /// What is blanked off.
    pub blanked: Vec<String>,
    /// The verdicts about the circuit.
    pub verdicts: Vec<Verdict>,
}

/// One thing or run of a loop.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LoopRow {
    /// What is written on the run; empty for a thing.
    pub mark: String,
    /// The thing or the run.
    pub key: String,
    /// Whether it is a run.
    pub is_run: bool,
    /// Kind of the thing, or the pieces of the run.
    pub what: String,
    /// Where a run begins and ends; empty for a thing.
    pub ends: String,
    /// Lowest point that is told, above today's waterline [m].
    pub low: Option<f64>,
    /// Highest point that is told [m].
    pub high: Option<f64>,
    /// The same for people.
    pub heights: Text,
    /// On which side of the pump it lies; empty for a thing.
    pub side: String,
}

impl LoopRow {
    fn of(row: reckon::Row) -> Self {
        let reckon::Row {
            mark,
            key,
            is_run,
            what,
            ends,
            reach,
            heights,
            side,
        } = row;
        Self {
            mark,
            key,
            is_run,
            what,
            ends,
            low: reach.map(|(low, _)| low),
            high: reach.map(|(_, high)| high),
            heights: heights.into(),
            side: side.word().to_owned(),
        }
    }
}

impl Loop {
    /// As it is sent.
    pub fn of(circuit: reckon::Circuit, chart: &dyn Where) -> Self {
        let reckon::Circuit { listing, verdicts } = circuit;
        let reckon::Listing {
            arrangement,
            closed,
            coolers,
            assumed,
            ring,
            beside,
            shut,
            blanked,
        } = listing;
        Self {
            arrangement,
            closed,
            coolers,
            assumed,
            ring: ring.into_iter().map(LoopRow::of).collect(),
            beside: beside.into_iter().map(LoopRow::of).collect(),
            shut,
            blanked,
            verdicts: verdicts
                .into_iter()
                .map(|verdict| Verdict::of(verdict, Some(chart)))
                .collect(),
        }
    }
}
