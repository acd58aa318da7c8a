//! How fast water may run in pipes, hoses and coolers, and how slowly.

use quantity::Speed;
use serde::Deserialize;

use crate::source::{Limits, SourceRef};
use crate::table::{Table, data, limits};

/// What runs, and in what.
/// Unit: none. Range: those below. Source: the sources of the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
pub enum Service {
    /// Fresh inhibited water in steel or hose.
    #[serde(rename = "fresh-loop")]
    FreshLoop,
    /// Passages of a keel cooler or skin tank: under the least they silt up and run laminar.
    #[serde(rename = "keel-cooler")]
    KeelCooler,
    /// The line to a pump's suction.
    #[serde(rename = "pump-suction")]
    PumpSuction,
    /// Cold aerated fresh water in copper tube.
    #[serde(rename = "copper-cold")]
    CopperCold,
    /// The same up to 60 °C.
    #[serde(rename = "copper-to-60")]
    CopperTo60,
    /// The same over 60 °C.
    #[serde(rename = "copper-hot")]
    CopperHot,
    /// Sea water in 25 mm tube of deoxidised copper.
    #[serde(rename = "sea-copper")]
    SeaCopper,
    /// Sea water in 25 mm tube of inhibited admiralty brass.
    #[serde(rename = "sea-admiralty-brass")]
    SeaAdmiraltyBrass,
    /// Sea water in 25 mm tube of aluminium brass.
    #[serde(rename = "sea-aluminium-brass")]
    SeaAluminiumBrass,
    /// Sea water in 25 mm tube of copper-nickel with 10 % nickel.
    #[serde(rename = "sea-copper-nickel10")]
    SeaCopperNickel10,
    /// Sea water in 25 mm tube of copper-nickel with 30 % nickel.
    #[serde(rename = "sea-copper-nickel30")]
    SeaCopperNickel30,
    /// Sea water in pipe of 100 mm and over, 10 % nickel.
    #[serde(rename = "sea-pipe-copper-nickel10")]
    SeaPipeCopperNickel10,
    /// Sea water in pipe of 100 mm and over, 30 % nickel.
    #[serde(rename = "sea-pipe-copper-nickel30")]
    SeaPipeCopperNickel30,
    /// Sea water in condenser tube, 10 % nickel.
    #[serde(rename = "sea-condenser-copper-nickel10")]
    SeaCondenserCopperNickel10,
    /// Sea water in condenser tube, 30 % nickel.
    #[serde(rename = "sea-condenser-copper-nickel30")]
    SeaCondenserCopperNickel30,
}

impl Service {
    /// All of them. Unit: none. Range: all. Source: this crate.
    pub const ALL: [Self; 15] = [
        Self::FreshLoop,
        Self::KeelCooler,
        Self::PumpSuction,
        Self::CopperCold,
        Self::CopperTo60,
        Self::CopperHot,
        Self::SeaCopper,
        Self::SeaAdmiraltyBrass,
        Self::SeaAluminiumBrass,
        Self::SeaCopperNickel10,
        Self::SeaCopperNickel30,
        Self::SeaPipeCopperNickel10,
        Self::SeaPipeCopperNickel30,
        Self::SeaCondenserCopperNickel10,
        Self::SeaCondenserCopperNickel30,
    ];
}

/// How fast water may run there.
/// Unit: m/s. Range: 0.6 to 4.6 m/s. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct SpeedLimit {
    /// What runs, and in what. Unit: none. Range: see [`Service`]. Source: `source`.
    pub service: Service,
    /// Slower than this dirt settles; `None` where the source names no such speed. Unit: m/s. Range: 0.6 to 1 m/s. Source: `source`.
    pub least: Option<Speed>,
    /// The recommended maximum, between the two ends that the source gives. Unit: m/s. Range: 0.6 to 4.6 m/s. Source: `source`.
    pub most: Limits<Speed>,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawLimit {
    service: Service,
    least: Option<f64>,
    most: [f64; 2],
    source: Option<String>,
}

data!(static LIMITS: SpeedLimit = "speed-limits.toml", RawLimit, |table, raw| SpeedLimit {
    service: raw.service,
    least: raw.least.map(Speed::m_per_s),
    most: limits(raw.most, Speed::m_per_s),
    source: table.source(raw.source.as_deref()),
});

/// How fast water may run, and how slowly. Unit: m/s. Range: 0.6 to 4.6 m/s. Source: the row's own.
pub fn speed_limit(service: Service) -> &'static SpeedLimit {
    let row = LIMITS.rows.iter().find(|row| row.service == service);
    // OK because a test asks for every service.
    row.unwrap_or_else(|| panic!("speed-limits.toml has no {service:?}"))
}

pub(crate) fn tables() -> Vec<&'static Table> {
    vec![&LIMITS.table]
}
