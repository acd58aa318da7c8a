//! How hard a hose is to bend, where nobody tried it.

use quantity::{BendingStiffness, Length, Quantity};
use serde::Deserialize;

use crate::hose::HoseKind;
use crate::source::{Limits, SourceRef, Sourced, Unknown};
use crate::table::{Table, data};

struct Felt {
    bore: f64,
    over: f64,
    stiffness: [f64; 2],
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawFelt {
    bore: f64,
    over: f64,
    stiffness: [f64; 2],
}

data!(static FELT: Felt = "hose-bending.toml", RawFelt, |table, raw| Felt {
    bore: raw.bore / 1000.0,
    over: raw.over / 1000.0,
    stiffness: raw.stiffness,
    source: table.source(None),
});

/// EI of a coolant hose with fabric at 20 °C, by the order of magnitude of the nearest that was felt, turned to its
/// own section by the second moment of area: EI ∝ D⁴ − d⁴.
///
/// # Errors
/// [`Unknown`] for a hose with a helix or of another build than rubber with fabric, whose stiffness bore and wall
/// say little of, and for bores outside the table's.
///
/// Unit: N m². Range: bores of 8 to 60 mm, fabric EPDM or silicone. Source: common practice; scaled by the second
/// moment of area.
pub fn usual_stiffness(
    kind: Option<HoseKind>,
    bore: Length,
    over: Length,
) -> Result<Sourced<Limits<BendingStiffness>>, Unknown> {
    let wants = "a droop test of the hose itself";
    if !matches!(
        kind,
        Some(
            HoseKind::FabricEpdm
                | HoseKind::FabricSilicone
                | HoseKind::PlainRubber
                | HoseKind::PlainSilicone
        )
    ) {
        return Err(Unknown::new(
            "nobody's figure is known for hose of this build",
            wants,
        ));
    }
    let (bore, over) = (bore.si(), over.si());
    if !(0.008..=0.060).contains(&bore) || over <= bore {
        return Err(Unknown::new("the table has no hose near this bore", wants));
    }
    let area = |bore: f64, over: f64| over.powi(4) - bore.powi(4);
    let nearest = FELT
        .rows
        .iter()
        .min_by(|a, b| (a.bore - bore).abs().total_cmp(&(b.bore - bore).abs()));
    let Some(row) = nearest else {
        return Err(Unknown::new("the table is empty", wants));
    };
    let share = area(bore, over) / area(row.bore, row.over);
    let [low, high] = row.stiffness;
    Ok(Sourced {
        value: Limits {
            low: BendingStiffness::n_m2(low * share),
            high: BendingStiffness::n_m2(high * share),
        },
        source: row.source,
    })
}

pub(crate) fn tables() -> Vec<&'static Table> {
    vec![&FELT.table]
}
