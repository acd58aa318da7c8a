//! A typical engine's water pump and jacket, to stand in for an unknown one, and what sheets of engines say.
//!
//! Nothing is reckoned with it unless the owner lets it stand in. A flow measured, or the engine's sheet,
//! goes before it.

use quantity::{Density, Length, Power, PressureDifference, Quantity, Ratio, VolumeFlow};
use serde::Deserialize;

use crate::pump::{Point, STANDARD_GRAVITY};
use crate::source::{Limits, SourceRef, Sourced, Unknown};
use crate::table::{Table, data, limits};

/// Heat and flow of one engine by its sheet.
/// Unit: W and m³/s. Range: 40 to 51 kW, 90 L/min. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct EngineSheet {
    /// Heat to the coolant at rated power. Unit: W. Range: 40 to 51 kW. Source: `source`.
    pub heat: Power,
    /// Flow through the engine. Unit: m³/s. Range: 90 L/min. Source: `source`.
    pub flow: VolumeFlow,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawSheet {
    heat: f64,
    flow: f64,
}

data!(static SHEETS: EngineSheet = "engine-sheets.toml", RawSheet, |table, raw| EngineSheet {
    heat: Power::kw(raw.heat),
    flow: VolumeFlow::litres_per_minute(raw.flow),
    source: table.source(None),
});

/// What sheets of engines say. Unit: W and m³/s. Range: the rows of the file. Source: each row's own.
pub fn engine_sheets() -> &'static [EngineSheet] {
    &SHEETS.rows
}

/// A typical engine's pump and jacket at a rated power.
/// Unit: SI. Range: as each. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct TypicalEngine {
    /// Flow while the circuit outside holds back `external`. Unit: m³/s. Range: 1.6 to 2.3 L/min for each kW. Source: `source`.
    pub flow: Limits<VolumeFlow>,
    /// What the circuit outside holds back then. Unit: Pa. Range: 15 to 20 kPa. Source: `source`.
    pub external: Limits<PressureDifference>,
    /// What the engine itself loses at that flow. Unit: Pa. Range: 10 to 20 kPa. Source: `source`.
    pub inside: Limits<PressureDifference>,
    /// Pressure of the pump with no flow over that at this flow. Unit: 1. Range: 1.2 to 1.5. Source: `source`.
    pub shut_off: Limits<Ratio>,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

struct Typical {
    flow: Limits<VolumeFlow>,
    external: Limits<PressureDifference>,
    inside: Limits<PressureDifference>,
    shut_off: Limits<Ratio>,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawTypical {
    flow: [f64; 2],
    external: [f64; 2],
    inside: [f64; 2],
    shut_off: [f64; 2],
}

fn kpa(value: f64) -> PressureDifference {
    PressureDifference::pa(1000.0 * value)
}

data!(static TYPICAL: Typical = "engine-typical.toml", RawTypical, |table, raw| Typical {
    flow: limits(raw.flow, VolumeFlow::litres_per_minute),
    external: limits(raw.external, kpa),
    inside: limits(raw.inside, kpa),
    shut_off: limits(raw.shut_off, Ratio::of),
    source: table.source(None),
});

/// A typical engine of a rated power.
///
/// # Errors
/// [`Unknown`] where the power is not over 0.
///
/// Unit: SI. Range: rated power over 0; meant for 5 to 100 kW. Source: common practice.
pub fn typical(rated: Power) -> Result<TypicalEngine, Unknown> {
    if rated.si() <= 0.0 {
        return Err(Unknown::new(
            "a typical engine is scaled by the rated power, which must be over nothing",
            "the engine's rated power from its plate",
        ));
    }
    let row = &TYPICAL.rows[0];
    Ok(TypicalEngine {
        flow: Limits {
            low: row.flow.low * rated.to_kw(),
            high: row.flow.high * rated.to_kw(),
        },
        external: row.external,
        inside: row.inside,
        shut_off: row.shut_off,
        source: row.source,
    })
}

impl TypicalEngine {
    /// Three points of the bare pump's curve, through the middle of each figure: shut off, at its flow, and half way on
    /// the parabola between, level at no flow.
    ///
    /// # Errors
    /// [`Unknown`] where the density is not over 0.
    ///
    /// Unit: m³/s and m. Range: density over 0. Source: `source`; the parabola is common practice.
    pub fn pump(&self, density: Density) -> Result<Sourced<[Point; 3]>, Unknown> {
        if density.si() <= 0.0 {
            return Err(Unknown::new(
                "the density must be over zero",
                "the coolant's density",
            ));
        }
        let pressure = self.external.middle() + self.inside.middle();
        // OK because pressures of this world over densities over nothing are finite heads.
        let head = Length::of_si(pressure.si() / (density.si() * STANDARD_GRAVITY));
        let (flow, none) = (self.flow.middle(), head * self.shut_off.middle().to_f64());
        let at = |part: f64| Point {
            flow: flow * part,
            head: none - (none - head) * (part * part),
        };
        Ok(Sourced {
            value: [at(0.0), at(0.5), at(1.0)],
            source: self.source,
        })
    }
}

pub(crate) fn tables() -> Vec<&'static Table> {
    vec![&SHEETS.table, &TYPICAL.table]
}
