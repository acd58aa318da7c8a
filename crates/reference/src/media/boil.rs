//! When a mix boils: the glycol hardly evaporates, so that the water in it does by its share of the moles.

use std::sync::LazyLock;

use quantity::{AbsolutePressure, Quantity, Temperature};
use serde::Deserialize;

use super::{Glycol, Strength};
use crate::range::within;
use crate::source::{SourceRef, Sourced, Unknown};
use crate::table::{Table, data};
use crate::water;

/// The liquids of a mix.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum What {
    Water,
    Ethylene,
    Propylene,
}

struct Mole {
    what: What,
    grams: f64,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawMole {
    what: What,
    grams: f64,
}

data!(from "../../data/", static MOLES: Mole = "glycol-moles.toml", RawMole, |table, raw| Mole {
    what: raw.what,
    grams: raw.grams,
    source: table.source(None),
});

/// Grams of a mole of water, ethylene glycol and propylene glycol.
static GRAMS: LazyLock<[f64; 3]> = LazyLock::new(|| {
    [What::Water, What::Ethylene, What::Propylene].map(|what| {
        // OK because a test asks for the boiling of both glycols.
        let row = MOLES.rows.iter().find(|row| row.what == what);
        row.expect("every liquid has a row").grams
    })
});

/// The strongest mix that the law is used for, by volume or by mass as the strength is counted.
const STRONGEST: f64 = 0.6;
/// The hottest [°C] that the pressure of a mix is asked for.
const HOTTEST: f64 = 150.0;

/// The water's share of the moles.
fn water_in_moles<S: Strength>(glycol: Glycol, strength: S) -> Result<f64, Unknown> {
    within(
        "the share of glycol",
        strength.share(),
        0.0..=STRONGEST,
        "a mix of 60 per cent at most",
    )?;
    let mass = strength.by_mass(glycol).share();
    let [water, ethylene, propylene] = *GRAMS;
    let heavy = match glycol {
        Glycol::Ethylene => ethylene,
        Glycol::Propylene => propylene,
    };
    let (water, other) = ((1.0 - mass) / water, mass / heavy);
    Ok(water / (water + other))
}

/// Temperature at which a mix boils under a pressure; without glycol that of water.
/// Unit: K. Range: 0 to 60 per cent, 611.213 Pa to 22.064 MPa over the water's share of the moles; within 1 to 2 K of
/// the usual figures for half-and-half mixes. Source: Raoult's law, with [`water::boiling_temperature`].
pub fn boils_at<S: Strength>(
    glycol: Glycol,
    strength: S,
    under: AbsolutePressure,
) -> Result<Sourced<Temperature>, Unknown> {
    let water = water_in_moles(glycol, strength)?;
    // OK because the share of the moles is over a half for every mix that is let through.
    let over_water = AbsolutePressure::of_si(under.si() / water);
    Ok(Sourced {
        value: water::boiling_temperature(over_water)?,
        source: MOLES.rows[0].source,
    })
}

/// Pressure of the vapour over a mix, below which it boils.
/// Unit: Pa. Range: 0 to 60 per cent, 0 to 150 °C. Source: Raoult's law, with [`water::boiling_pressure`].
pub fn vapour_pressure<S: Strength>(
    glycol: Glycol,
    strength: S,
    at: Temperature,
) -> Result<Sourced<AbsolutePressure>, Unknown> {
    let water = water_in_moles(glycol, strength)?;
    within(
        "the temperature of the mix in °C",
        crate::range::celsius(at),
        0.0..=HOTTEST,
        "the temperature of the coolant",
    )?;
    let alone = water::boiling_pressure(at)?;
    Ok(Sourced {
        // OK because a share of a pressure is a pressure.
        value: AbsolutePressure::of_si(alone.si() * water),
        source: MOLES.rows[0].source,
    })
}

pub(super) fn tables() -> Vec<&'static Table> {
    vec![&MOLES.table]
}
