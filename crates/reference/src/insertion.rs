//! How far a hose goes over its spigot, and where its clips sit.

use quantity::Length;
use serde::Deserialize;

use crate::source::{Limits, SourceRef, Sourced, Unknown};
use crate::table::{Table, data, limits_mm};

struct Gap {
    what: String,
    length: Limits<Length>,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawGap {
    what: String,
    length: [f64; 2],
    source: Option<String>,
}

data!(static GAPS: Gap = "insertion.toml", RawGap, |table, raw| Gap {
    what: raw.what,
    length: limits_mm(raw.length),
    source: table.source(raw.source.as_deref()),
});

fn gap(what: &str) -> Sourced<Limits<Length>> {
    let row = GAPS.rows.iter().find(|row| row.what == what);
    // OK because every name is written in this file and a test asks for each.
    let row = row.unwrap_or_else(|| panic!("insertion.toml has no `{what}`"));
    Sourced {
        value: row.length,
        source: row.source,
    }
}

/// Least distance of the band from the hose's end. Unit: m. Range: 6 mm. Source: clip installation sheet; fitting maker's article.
pub fn from_hose_end() -> Sourced<Length> {
    let Sourced { value, source } = gap("from-hose-end");
    Sourced {
        value: value.low,
        source,
    }
}

/// Distance of the band from the bead, towards the spigot's root. Unit: m. Range: 2 to 3 mm. Source: common practice.
pub fn behind_bead() -> Sourced<Limits<Length>> {
    gap("behind-bead")
}

/// Distance between two bands. Unit: m. Range: 5 mm. Source: common practice.
pub fn between_clips() -> Sourced<Length> {
    let Sourced { value, source } = gap("between-clips");
    Sourced {
        value: value.low,
        source,
    }
}

/// Usual width of a bead along the spigot. Unit: m. Range: 3 to 5 mm. Source: common practice.
pub fn usual_bead_width() -> Sourced<Limits<Length>> {
    gap("bead-width")
}

/// Straight metal behind the bead that a number of clips needs: hose end, bands with their gaps,
/// and the distance to the bead.
/// Unit: m. Range: one clip and more. Source: sum of the gaps above, worked out.
pub fn straight_needed(clips: u32, band: Length) -> Length {
    let gaps = clips.saturating_sub(1);
    from_hose_end().value
        + band * f64::from(clips)
        + between_clips().value * f64::from(gaps)
        + behind_bead().value.high
}

/// Least insertion: the straight metal that the clips need, and the bead.
/// Unit: m. Range: one clip and more. Source: sum of the gaps above, worked out.
pub fn least_insertion(clips: u32, band: Length, bead_width: Length) -> Length {
    straight_needed(clips, band) + bead_width
}

/// How many clips the straight metal behind a bead has room for.
/// Unit: 1. Range: 0 and more. Source: [`straight_needed`].
pub fn clips_that_fit(straight: Length, band: Length) -> u32 {
    // A spigot long enough for more than three clips has no use for them.
    (1..=3)
        .take_while(|&clips| straight_needed(clips, band) <= straight)
        .last()
        .unwrap_or(0)
}

/// The shop rule for insertion: one bore, but not under 20 mm and no need of over 40 mm.
/// Unit: m. Range: 20 to 40 mm. Source: common practice.
pub fn shop_rule(bore: Length) -> Sourced<Length> {
    let Sourced { value, source } = gap("shop-rule");
    Sourced {
        value: bore.clamp(value.low, value.high),
        source,
    }
}

/// The most that a hose is pushed on by the shop's rule, whatever its bore.
/// Unit: m. Range: 40 mm. Source: common practice.
pub fn longest_shop_insertion() -> Sourced<Length> {
    let Sourced { value, source } = gap("shop-rule");
    Sourced {
        value: value.high,
        source,
    }
}

struct Bead {
    spigot: Limits<Length>,
    height: Limits<Length>,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawBead {
    spigot: [f64; 2],
    height: [f64; 2],
}

data!(static BEADS: Bead = "insertion-beads.toml", RawBead, |table, raw| Bead {
    spigot: limits_mm(raw.spigot),
    height: limits_mm(raw.height),
    source: table.source(None),
});

/// By how much a bead is usually larger than its spigot, on the diameter. It stands in for a
/// measured bead only where the owner says `assume`. A spigot between two rows gets the span of both.
///
/// # Errors
/// [`Unknown`] for spigots under 10 mm and over 60 mm.
///
/// Unit: m. Range: 1.5 to 4 mm, spigots 10 to 60 mm. Source: SAE J1231 and DIN 71550, from memory.
pub fn usual_bead_height(spigot: Length) -> Result<Sourced<Limits<Length>>, Unknown> {
    let below = BEADS.rows.iter().rfind(|row| row.spigot.low <= spigot);
    let above = BEADS.rows.iter().find(|row| spigot <= row.spigot.high);
    match (below, above) {
        (Some(below), Some(above)) => {
            let low = below.height.low.min(above.height.low);
            let high = below.height.high.max(above.height.high);
            Ok(Sourced {
                value: Limits { low, high },
                source: below.source,
            })
        }
        _ => Err(Unknown::new(
            format!("no usual bead for a spigot of {:.1} mm", spigot.to_mm()),
            "the diameter over the bead, by caliper",
        )),
    }
}

pub(crate) fn tables() -> Vec<&'static Table> {
    vec![&GAPS.table, &BEADS.table]
}
