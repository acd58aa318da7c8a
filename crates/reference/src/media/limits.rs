//! What coolant and the water in it may hold, and what its test instruments tell.

use quantity::{Concentration, Ratio};
use serde::Deserialize;

use crate::source::{Fact, RawFact, SourceRef, fact};
use crate::table::{Table, data};

/// A share of concentrate that bounds a mix.
/// Unit: 1. Range: 0.1 to 0.6. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct CoolantLimit {
    /// Short name. Unit: none. Range: text. Source: this crate.
    pub id: String,
    /// The share by volume. Unit: 1. Range: 0.1 to 0.6. Source: `source`.
    pub share: Ratio,
    /// What it means. Unit: none. Range: text. Source: `source`.
    pub says: String,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawLimit {
    id: String,
    percent: f64,
    says: String,
    source: Option<String>,
}

data!(from "../../data/", static LIMITS: CoolantLimit = "coolant-limits.toml", RawLimit, |table, raw| CoolantLimit {
    id: raw.id,
    share: Ratio::percent(raw.percent),
    says: raw.says,
    source: table.source(raw.source.as_deref()),
});

/// All shares that bound a mix. Unit: 1. Range: the rows of the file. Source: each row's own.
pub fn coolant_limits() -> &'static [CoolantLimit] {
    &LIMITS.rows
}

/// One of them by its short name. Unit: 1. Range: the names in the file. Source: the row's own.
pub fn coolant_limit(id: &str) -> Option<&'static CoolantLimit> {
    LIMITS.rows.iter().find(|row| row.id == id)
}

/// The most of one substance that water for mixing coolant may hold.
/// Unit: kg/m³. Range: 40 to 340 mg/L. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct WaterLimit {
    /// Which substance. Unit: none. Range: text. Source: `source`.
    pub what: String,
    /// At most so much. Unit: kg/m³. Range: 40 to 340 mg/L. Source: `source`.
    pub most: Concentration,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawWater {
    what: String,
    most: f64,
    source: Option<String>,
}

data!(from "../../data/", static WATER: WaterLimit = "coolant-water.toml", RawWater, |table, raw| WaterLimit {
    what: raw.what,
    most: Concentration::mg_per_l(raw.most),
    source: table.source(raw.source.as_deref()),
});

/// What water for mixing coolant may hold.
/// Unit: kg/m³. Range: 40 to 340 mg/L. Source: tractor maker's coolant water page; TM 5-3895-383-24.
pub fn water_limits() -> &'static [WaterLimit] {
    &WATER.rows
}

data!(from "../../data/", static FACTS: Fact = "coolant-facts.toml", RawFact, |table, raw| fact(table, raw));

/// Statements about coolant that no number holds. Unit: none. Range: text. Source: each row's own.
pub fn coolant_facts() -> &'static [Fact] {
    &FACTS.rows
}

pub(super) fn tables() -> Vec<&'static Table> {
    vec![&LIMITS.table, &WATER.table, &FACTS.table]
}
