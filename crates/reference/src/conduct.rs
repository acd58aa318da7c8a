//! How well walls, paint, air and oil conduct heat.

use quantity::ThermalConductivity;
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
    /// Air at rest, near 20 °C.
    Air,
    /// Mineral oil.
    Oil,
}

impl Wall {
    /// All of them. Unit: none. Range: all. Source: this crate.
    pub const ALL: [Self; 9] = [
        Self::Steel,
        Self::CopperNickel10,
        Self::CopperNickel30,
        Self::Copper,
        Self::Aluminium,
        Self::Stainless316,
        Self::Paint,
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
/// Unit: W/(m K). Range: 0.025 to 390 W/(m K), near room temperature. Source: handbooks, from memory; paint is common practice.
pub fn conductivity(wall: Wall) -> Sourced<Limits<ThermalConductivity>> {
    let row = CONDUCTS.rows.iter().find(|row| row.wall == wall);
    // OK because a test asks for every wall.
    let row = row.unwrap_or_else(|| panic!("conductivities.toml has no {wall:?}"));
    Sourced {
        value: row.conductivity,
        source: row.source,
    }
}

pub(crate) fn tables() -> Vec<&'static Table> {
    vec![&CONDUCTS.table]
}
