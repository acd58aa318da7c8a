//! How well walls, paint, air and oil conduct heat, and what dirt on them takes.

use quantity::{HeatTransferCoefficient, ThermalConductivity};
use serde::Deserialize;

use crate::source::{Limits, SourceRef, Sourced};
use crate::table::{Table, data, limits};

/// What heat goes through.
/// Unit: none. Range: those below. Source: this crate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Wall {
    /// Mild steel, the skin of a hull.
    Steel,
    /// Copper-nickel with 10 % nickel.
    CopperNickel10,
    /// Copper-nickel with 30 % nickel.
    CopperNickel30,
    /// Copper, deoxidised.
    Copper,
    /// Marine aluminium.
    Aluminium,
    /// Stainless steel 316.
    Stainless316,
    /// Paint, antifouling included.
    Paint,
    /// Bitumen.
    Bitumen,
    /// Air at rest, near 20 °C.
    Air,
    /// Mineral oil.
    Oil,
}

impl Wall {
    /// All of them. Unit: none. Range: all. Source: this crate.
    pub const ALL: [Self; 10] = [
        Self::Steel,
        Self::CopperNickel10,
        Self::CopperNickel30,
        Self::Copper,
        Self::Aluminium,
        Self::Stainless316,
        Self::Paint,
        Self::Bitumen,
        Self::Air,
        Self::Oil,
    ];
}

struct Conducts {
    wall: Wall,
    conductivity: Limits<ThermalConductivity>,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawConducts {
    wall: Wall,
    conductivity: [f64; 2],
    source: Option<String>,
}

data!(static CONDUCTS: Conducts = "conductivities.toml", RawConducts, |table, raw| Conducts {
    wall: raw.wall,
    conductivity: limits(raw.conductivity, ThermalConductivity::w_per_m_k),
    source: table.source(raw.source.as_deref()),
});

/// Conductivity of a wall.
/// Unit: W/(m K). Range: 0.025 to 390 W/(m K), near room temperature. Source: handbooks, from memory; paint is
/// common practice; bitumen by EN ISO 10456:2007.
pub fn conductivity(wall: Wall) -> Sourced<Limits<ThermalConductivity>> {
    let row = CONDUCTS.rows.iter().find(|row| row.wall == wall);
    // OK because a test asks for every wall.
    let row = row.unwrap_or_else(|| panic!("conductivities.toml has no {wall:?}"));
    Sourced {
        value: row.conductivity,
        source: row.source,
    }
}

/// What runs along a wall and leaves its dirt there.
/// Unit: none. Range: those below. Source: this crate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Dirt {
    /// Sea water up to 50 °C at the wall.
    SeaCool,
    /// Sea water over 50 °C at the wall.
    SeaWarm,
    /// Treated water in a closed circuit.
    Closed,
    /// River, brackish or silty water.
    River,
}

impl Dirt {
    /// All of them. Unit: none. Range: all. Source: this crate.
    pub const ALL: [Self; 4] = [Self::SeaCool, Self::SeaWarm, Self::Closed, Self::River];
}

struct Fouls {
    dirt: Dirt,
    layer: Limits<HeatTransferCoefficient>,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawFouls {
    dirt: Dirt,
    resistance: [f64; 2],
}

data!(static FOULS: Fouls = "fouling.toml", RawFouls, |table, raw| {
    let [least, most] = raw.resistance;
    Fouls {
        dirt: raw.dirt,
        layer: limits([1.0 / most, 1.0 / least], HeatTransferCoefficient::w_per_m2_k),
        source: table.source(None),
    }
});

/// Heat through the layer of dirt that a design allows for; its resistance is one over this. Marine
/// growth on a cooler outboard knows no bound and is not in it.
/// Unit: W/(m² K). Range: 2000 to 11 111 W/(m² K). Source: TEMA and Incropera, table 11.1, from memory.
pub fn fouling(dirt: Dirt) -> Sourced<Limits<HeatTransferCoefficient>> {
    let row = FOULS.rows.iter().find(|row| row.dirt == dirt);
    // OK because a test asks for every kind of dirt.
    let row = row.unwrap_or_else(|| panic!("fouling.toml has no {dirt:?}"));
    Sourced {
        value: row.layer,
        source: row.source,
    }
}

pub(crate) fn tables() -> Vec<&'static Table> {
    vec![&CONDUCTS.table, &FOULS.table]
}
