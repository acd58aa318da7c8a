//! What the trade takes as usual: temperatures, pressures, and room in the circuit.
//!
//! Nothing here is a rule. A figure of the engine's own book goes before every one of them.

use quantity::{
    GaugePressure, Length, PressureDifference, Ratio, Temperature, TemperatureDifference,
};
use serde::Deserialize;

use crate::source::{Limits, SourceRef, Sourced};
use crate::table::{Table, data, limits};

/// Usual differences of temperature.
/// Unit: none. Range: those below. Source: the trade's words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Rise {
    /// What should be left between the hottest water, at the engine's outlet, and boiling there.
    BoilingMargin,
    /// Rise of the coolant through the engine at rated power.
    EngineRise,
    /// Rise of the raw water through a heat exchanger.
    RawRise,
    /// How far a thermostat may begin to open to either side of its stamp.
    ThermostatTolerance,
    /// From beginning to open to fully open.
    ThermostatOpensOver,
    /// How much colder it shuts than it opens.
    ThermostatHysteresis,
    /// How much colder a mix should freeze than the coldest that is expected.
    FrostMargin,
}

impl Rise {
    /// All of them. Unit: none. Range: all. Source: this crate.
    pub const ALL: [Self; 7] = [
        Self::BoilingMargin,
        Self::EngineRise,
        Self::RawRise,
        Self::ThermostatTolerance,
        Self::ThermostatOpensOver,
        Self::ThermostatHysteresis,
        Self::FrostMargin,
    ];
}

struct RiseRow {
    of: Rise,
    value: Limits<TemperatureDifference>,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawRise {
    of: Rise,
    kelvin: [f64; 2],
    source: Option<String>,
}

data!(static RISES: RiseRow = "usual-rises.toml", RawRise, |table, raw| RiseRow {
    of: raw.of,
    value: limits(raw.kelvin, TemperatureDifference::kelvin),
    source: table.source(raw.source.as_deref()),
});

/// A usual difference of temperature.
/// Unit: K. Range: 2 to 15 K. Source: common practice.
pub fn rise(of: Rise) -> Sourced<Limits<TemperatureDifference>> {
    let row = RISES.rows.iter().find(|row| row.of == of);
    // OK because a test asks for each.
    let row = row.unwrap_or_else(|| panic!("usual-rises.toml has no {of:?}"));
    Sourced {
        value: row.value,
        source: row.source,
    }
}

/// Usual temperatures.
/// Unit: none. Range: those below. Source: the trade's words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Warmth {
    /// Colder than this the water should not come back to a warm engine.
    ReturnLeast,
    /// Warmer than this it should not come back at full load.
    ReturnMost,
    /// Raw water leaves no hotter, or salt scales.
    RawDischargeMost,
    /// Stamps of thermostats in marine engines with closed circuits.
    ThermostatOpens,
    /// Where the high-temperature alarm is set.
    Alarm,
}

impl Warmth {
    /// All of them. Unit: none. Range: all. Source: this crate.
    pub const ALL: [Self; 5] = [
        Self::ReturnLeast,
        Self::ReturnMost,
        Self::RawDischargeMost,
        Self::ThermostatOpens,
        Self::Alarm,
    ];
}

struct WarmthRow {
    of: Warmth,
    value: Limits<Temperature>,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawWarmth {
    of: Warmth,
    celsius: [f64; 2],
    source: Option<String>,
}

data!(static TEMPERATURES: WarmthRow = "usual-temperatures.toml", RawWarmth, |table, raw| WarmthRow {
    of: raw.of,
    value: limits(raw.celsius, Temperature::celsius),
    source: table.source(raw.source.as_deref()),
});

/// A usual temperature.
/// Unit: K. Range: 50 to 105 °C. Source: common practice.
pub fn temperature(of: Warmth) -> Sourced<Limits<Temperature>> {
    let row = TEMPERATURES.rows.iter().find(|row| row.of == of);
    // OK because a test asks for each.
    let row = row.unwrap_or_else(|| panic!("usual-temperatures.toml has no {of:?}"));
    Sourced {
        value: row.value,
        source: row.source,
    }
}

/// Usual differences of pressure.
/// Unit: none. Range: those below. Source: the trade's words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Drop {
    /// How far under the air outside the vacuum valve of a cap opens.
    VacuumValve,
    /// What the circuit outside the engine may lose at the pump's flow, where the engine's maker says nothing.
    ExternalLoss,
}

impl Drop {
    /// All of them. Unit: none. Range: all. Source: this crate.
    pub const ALL: [Self; 2] = [Self::VacuumValve, Self::ExternalLoss];
}

struct DropRow {
    of: Drop,
    value: Limits<PressureDifference>,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawDrop {
    of: Drop,
    kpa: [f64; 2],
    source: Option<String>,
}

data!(static PRESSURES: DropRow = "usual-pressures.toml", RawDrop, |table, raw| DropRow {
    of: raw.of,
    value: limits(raw.kpa, |kpa| PressureDifference::pa(1000.0 * kpa)),
    source: table.source(raw.source.as_deref()),
});

/// A usual difference of pressure.
/// Unit: Pa. Range: 2 to 20 kPa. Source: common practice.
pub fn pressure(of: Drop) -> Sourced<Limits<PressureDifference>> {
    let row = PRESSURES.rows.iter().find(|row| row.of == of);
    // OK because a test asks for each.
    let row = row.unwrap_or_else(|| panic!("usual-pressures.toml has no {of:?}"));
    Sourced {
        value: row.value,
        source: row.source,
    }
}

/// Usual shares.
/// Unit: none. Range: those below. Source: the trade's words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Part {
    /// Room in the header for what the coolant grows, of the whole volume.
    HeaderGrowth,
    /// Reserve in the header, of the whole volume.
    HeaderReserve,
    /// The header, of the whole volume.
    HeaderWhole,
    /// Suction head that is there over what the pump needs.
    SuctionRatio,
}

impl Part {
    /// All of them. Unit: none. Range: all. Source: this crate.
    pub const ALL: [Self; 4] = [
        Self::HeaderGrowth,
        Self::HeaderReserve,
        Self::HeaderWhole,
        Self::SuctionRatio,
    ];
}

struct PartRow {
    of: Part,
    value: Limits<Ratio>,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawPart {
    of: Part,
    share: [f64; 2],
    source: Option<String>,
}

data!(static SHARES: PartRow = "usual-shares.toml", RawPart, |table, raw| PartRow {
    of: raw.of,
    value: limits(raw.share, Ratio::of),
    source: table.source(raw.source.as_deref()),
});

/// A usual share.
/// Unit: 1. Range: 0.05 to 1.3. Source: common practice; the suction's from memory of ANSI/HI 9.6.1.
pub fn part(of: Part) -> Sourced<Limits<Ratio>> {
    let row = SHARES.rows.iter().find(|row| row.of == of);
    // OK because a test asks for each.
    let row = row.unwrap_or_else(|| panic!("usual-shares.toml has no {of:?}"));
    Sourced {
        value: row.value,
        source: row.source,
    }
}

/// Usual lengths.
/// Unit: none. Range: those below. Source: the trade's words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Measure {
    /// Suction head that is there beyond what the pump needs.
    SuctionMargin,
    /// A paint system on steel, antifouling included.
    PaintThickness,
}

impl Measure {
    /// All of them. Unit: none. Range: all. Source: this crate.
    pub const ALL: [Self; 2] = [Self::SuctionMargin, Self::PaintThickness];
}

struct MeasureRow {
    of: Measure,
    value: Limits<Length>,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawMeasure {
    of: Measure,
    metres: [f64; 2],
    source: Option<String>,
}

data!(static LENGTHS: MeasureRow = "usual-lengths.toml", RawMeasure, |table, raw| MeasureRow {
    of: raw.of,
    value: limits(raw.metres, Length::m),
    source: table.source(raw.source.as_deref()),
});

/// A usual length.
/// Unit: m. Range: 0.0002 to 1 m. Source: common practice; the suction's from memory of ANSI/HI 9.6.1.
pub fn measure(of: Measure) -> Sourced<Limits<Length>> {
    let row = LENGTHS.rows.iter().find(|row| row.of == of);
    // OK because a test asks for each.
    let row = row.unwrap_or_else(|| panic!("usual-lengths.toml has no {of:?}"));
    Sourced {
        value: row.value,
        source: row.source,
    }
}

struct Cap {
    setting: GaugePressure,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawCap {
    kpa: f64,
}

data!(static CAPS: Cap = "cap-settings.toml", RawCap, |table, raw| Cap {
    setting: GaugePressure::pa(1000.0 * raw.kpa),
    source: table.source(None),
});

/// Settings of caps that are sold, lowest first.
/// Unit: Pa over the air outside. Range: 28 to 103 kPa. Source: common practice.
pub fn cap_settings() -> impl Iterator<Item = Sourced<GaugePressure>> {
    CAPS.rows.iter().map(|cap| Sourced {
        value: cap.setting,
        source: cap.source,
    })
}

pub(crate) fn tables() -> Vec<&'static Table> {
    vec![
        &RISES.table,
        &TEMPERATURES.table,
        &PRESSURES.table,
        &SHARES.table,
        &LENGTHS.table,
        &CAPS.table,
    ]
}
