//! What holds a hose along its run, so that its ends do not carry it.

use quantity::Length;
use serde::Deserialize;

use crate::source::{SourceRef, Sourced, Unknown};
use crate::table::{Table, data};

/// A rubber-lined support by the outside diameter that it holds.
/// Unit: m. Range: 6 to 76 mm. Source: from memory of what is sold.
#[derive(Clone, Debug, PartialEq)]
pub struct SupportClip {
    /// Outside diameter that it holds. Unit: m. Range: 6 to 76 mm. Source: `source`.
    pub holds: Length,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawClip {
    holds: f64,
}

data!(static CLIPS: SupportClip = "support-clips.toml", RawClip, |table, raw| SupportClip {
    holds: Length::mm(raw.holds),
    source: table.source(None),
});

/// How far apart the supports of a hose may stand.
/// Unit: m. Range: 0.45 and 0.15 m. Source: common practice.
#[derive(Clone, Debug, PartialEq)]
pub struct SupportSpacing {
    /// Farthest apart along the run. Unit: m. Range: 0.45 m. Source: `source`.
    pub every: Length,
    /// Farthest from the end of a fixed pipe. Unit: m. Range: 0.15 m. Source: `source`.
    pub from_fixed_pipe: Length,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawSpacing {
    every: f64,
    from_fixed_pipe: f64,
}

data!(static SPACING: SupportSpacing = "support-spacing.toml", RawSpacing, |table, raw| SupportSpacing {
    every: Length::mm(raw.every),
    from_fixed_pipe: Length::mm(raw.from_fixed_pipe),
    source: table.source(None),
});

/// How far apart a hose is held. Unit: m. Range: one row. Source: common practice.
pub fn support_spacing() -> &'static SupportSpacing {
    &SPACING.rows[0]
}

/// By how much a hose may be larger than the support that is sold for it: the lining gives.
const LINING_GIVES_MM: f64 = 0.5;

/// The size to ask for: the smallest that is sold and takes a hose of this outside diameter.
/// Unit: m. Range: 4 to 76.5 mm. Source: from memory of what is sold.
///
/// # Errors
///
/// [`Unknown`] for a hose that is larger or smaller than any that is held so.
pub fn support_clip(outside: Length) -> Result<Sourced<Length>, Unknown> {
    let mm = outside.to_mm();
    let smallest = CLIPS.rows[0].holds.to_mm() - 2.0;
    CLIPS
        .rows
        .iter()
        .find(|clip| mm >= smallest && clip.holds.to_mm() >= mm - LINING_GIVES_MM)
        .map(|clip| Sourced {
            value: clip.holds,
            source: clip.source,
        })
        .ok_or_else(|| {
            Unknown::new(
                format!("no rubber-lined support is listed for a hose of {mm:.1} mm"),
                "Ask for a support of that size.",
            )
        })
}

pub(crate) fn tables() -> Vec<&'static Table> {
    vec![&CLIPS.table, &SPACING.table]
}
