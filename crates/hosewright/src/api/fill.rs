//! What `fill --json` and `salt --json` print.

use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

use super::{About, Number, Remark, Summary, Verdict};

/// See [`super::CheckSchema`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub enum FillSchema {
    #[serde(rename = "hosewright.fill/1")]
    V1,
}

/// See [`super::CheckSchema`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub enum SaltSchema {
    #[serde(rename = "hosewright.salt/1")]
    V1,
}

/// The figures of a filling; what is not known is null.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct FillRow {
    /// The kind that is wanted, as typed.
    pub kind: String,
    /// Share of concentrate wanted, by volume.
    pub wanted: Option<Number>,
    /// Share of concentrate in what is bought.
    pub product: Option<Number>,
    /// What the circuit holds.
    pub volume: Option<Number>,
    /// What stays inside when it is drained.
    pub inside: Option<Number>,
    /// Share of concentrate in that.
    pub inside_share: Option<Number>,
    /// The share that recipe and figures are for: what is wanted, unless a verdict calls that unsound.
    pub mix: Option<Number>,
    /// Why that is another one than what is wanted.
    pub mix_why: Option<String>,
    /// Whether the recipe holds only once the old coolant is flushed out and water stays inside.
    pub flush_first: bool,
    /// To be drained before anything is poured.
    pub drain_first: Option<Number>,
    /// Product to be poured, first.
    pub pour: Option<Number>,
    /// Water to be poured after it.
    pub water: Option<Number>,
    /// Product in ten litres of mix.
    pub pour_in_ten: Option<Number>,
    /// Water in ten litres of mix.
    pub water_in_ten: Option<Number>,
    /// Share that would come out with a ready mix of the share wanted.
    pub ready_mix: Option<Number>,
    /// Where that would freeze.
    pub ready_mix_freezes: Option<Number>,
    /// Where that mix freezes.
    pub freezes: Option<Number>,
    /// Where it boils with the cap off, at sea level.
    pub boils_open: Option<Number>,
    /// Where it boils under the cap, at the least that the cap surely holds.
    pub boils_under_cap: Option<Number>,
    /// By how much what is poured is smaller when mixed.
    pub shrinks: Option<Number>,
    /// By which share it grows from 15 °C up to `expands_to`.
    pub expands_by: Option<Number>,
    /// The same for the whole circuit.
    pub expands: Option<Number>,
    /// Up to which heat.
    pub expands_to: Number,
    /// Share of the circuit that runs out at each draining.
    pub drains: Option<Number>,
    /// Drainings and fillings with water before another family goes in.
    pub flushes: Option<u32>,
}

impl From<reckon::FillRow> for FillRow {
    fn from(row: reckon::FillRow) -> Self {
        let reckon::FillRow {
            kind,
            wanted,
            product,
            volume,
            inside,
            inside_share,
            mix,
            mix_why,
            flush_first,
            drain_first,
            pour,
            water,
            pour_in_ten,
            water_in_ten,
            ready_mix,
            ready_mix_freezes,
            freezes,
            boils_open,
            boils_under_cap,
            shrinks,
            expands_by,
            expands,
            expands_to,
            drains,
            flushes,
        } = row;
        let sent = |number: Option<reckon::Number>| number.map(Number::from);
        Self {
            kind,
            wanted: sent(wanted),
            product: sent(product),
            volume: sent(volume),
            inside: sent(inside),
            inside_share: sent(inside_share),
            mix: sent(mix),
            mix_why,
            flush_first,
            drain_first: sent(drain_first),
            pour: sent(pour),
            water: sent(water),
            pour_in_ten: sent(pour_in_ten),
            water_in_ten: sent(water_in_ten),
            ready_mix: sent(ready_mix),
            ready_mix_freezes: sent(ready_mix_freezes),
            freezes: sent(freezes),
            boils_open: sent(boils_open),
            boils_under_cap: sent(boils_under_cap),
            shrinks: sent(shrinks),
            expands_by: sent(expands_by),
            expands: sent(expands),
            expands_to: expands_to.into(),
            drains: sent(drains),
            flushes,
        }
    }
}

/// What `fill --json` prints.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct Fill {
    /// Name and version of this document's form.
    pub schema: FillSchema,
    /// What was judged.
    #[serde(flatten)]
    pub about: About,
    /// How many verdicts of each grade.
    pub summary: Summary,
    /// Faults of the file; none of them is a stop.
    pub remarks: Vec<Remark>,
    /// The figures; null where the file says nothing of coolant.
    pub fill: Option<FillRow>,
    /// The verdicts about the coolant.
    pub verdicts: Vec<Verdict>,
}

/// Sea water taken into the coolant.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct TakenIn {
    /// How much, by the readings.
    pub volume: Number,
    /// Not less, 95 in 100; below nought where it may be none.
    pub low: Number,
    /// Not more, 95 in 100.
    pub high: Number,
    /// Whether the interval stays clear of nought.
    pub shown: bool,
}

/// What `salt --json` prints.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct Salt {
    /// Name and version of this document's form.
    pub schema: SaltSchema,
    /// Name of the program.
    pub tool: String,
    /// Version of the program.
    pub version: String,
    /// How many verdicts of each grade.
    pub summary: Summary,
    /// Practical salinity of the sea, which has no unit; null where nobody told of the sea.
    pub salinity: Option<f64>,
    /// Conductivity of that sea at 15 °C.
    pub conductivity: Option<Number>,
    /// Chloride in a litre of it at 20 °C.
    pub chloride: Option<Number>,
    /// Sea water taken in; null where nobody asked.
    pub taken_in: Option<TakenIn>,
    /// The verdict about the coolant, where its chloride was given.
    pub verdicts: Vec<Verdict>,
}

impl Salt {
    /// The document of an answer.
    pub fn of(row: reckon::SaltRow, summary: Summary, verdicts: Vec<Verdict>) -> Self {
        let reckon::SaltRow {
            salinity,
            salinity_text: _,
            conductivity,
            chloride,
            taken_in,
        } = row;
        let taken = |taken: reckon::TakenInRow| {
            let reckon::TakenInRow {
                volume,
                low,
                high,
                shown,
            } = taken;
            TakenIn {
                volume: volume.into(),
                low: low.into(),
                high: high.into(),
                shown,
            }
        };
        Self {
            schema: SaltSchema::V1,
            tool: super::TOOL.into(),
            version: super::VERSION.into(),
            summary,
            salinity,
            conductivity: conductivity.map(Number::from),
            chloride: chloride.map(Number::from),
            taken_in: taken_in.map(taken),
            verdicts,
        }
    }
}
