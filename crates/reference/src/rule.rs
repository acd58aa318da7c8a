//! Rules on how many clips a hose end wants: whom each binds, and what is only opinion.

use quantity::GaugePressure;
use serde::Deserialize;

use crate::clip::ClipKind;
use crate::source::SourceRef;
use crate::table::{Table, data};

/// One rule or opinion.
/// Unit: none. Range: the rows of the file. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct ClipRule {
    /// Short name. Unit: none. Range: text. Source: this crate.
    pub id: String,
    /// Whom it binds. Unit: none. Range: text. Source: `source`.
    pub binds: String,
    /// What it says. Unit: none. Range: text. Source: `source`.
    pub says: String,
    /// How many clips it wants at each end. Unit: 1. Range: 1 to 2, or unsaid. Source: `source`.
    pub clips: Option<u32>,
    /// How many it wants on an end with a bead, where it says. Unit: 1. Range: 1, or unsaid. Source: `source`.
    pub clips_on_bead: Option<u32>,
    /// Only below this pressure. Unit: Pa. Range: 5 bar, or unsaid. Source: `source`.
    pub pressure_below: Option<GaugePressure>,
    /// Allows no clip where a failure may let in the sea. Unit: none. Range: yes or no. Source: `source`.
    pub none_where_it_floods: bool,
    /// Kinds that it refuses. Unit: none. Range: see [`ClipKind`]. Source: `source`.
    pub bars: Vec<ClipKind>,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawRule {
    id: String,
    binds: String,
    says: String,
    clips: Option<u32>,
    clips_on_bead: Option<u32>,
    pressure_below: Option<f64>,
    #[serde(default)]
    none_where_it_floods: bool,
    #[serde(default)]
    bars: Vec<ClipKind>,
    source: Option<String>,
}

data!(static RULES: ClipRule = "clip-rules.toml", RawRule, |table, raw| ClipRule {
    id: raw.id,
    binds: raw.binds,
    says: raw.says,
    clips: raw.clips,
    clips_on_bead: raw.clips_on_bead,
    pressure_below: raw.pressure_below.map(GaugePressure::bar),
    none_where_it_floods: raw.none_where_it_floods,
    bars: raw.bars,
    source: table.source(raw.source.as_deref()),
});

/// All rules and opinions. Unit: none. Range: the rows of the file. Source: each row's own.
pub fn clip_rules() -> &'static [ClipRule] {
    &RULES.rows
}

/// One rule by its short name. Unit: none. Range: the names in the file. Source: the row's own.
pub fn clip_rule(id: &str) -> Option<&'static ClipRule> {
    RULES.rows.iter().find(|rule| rule.id == id)
}

pub(crate) fn tables() -> Vec<&'static Table> {
    vec![&RULES.table]
}
