//! Liquids of the circuit: glycol and water, with the strength counted by volume or by mass.
//!
//! The two ways to count are two types, [`VolumeFraction`] and [`MassFraction`], and each has
//! tables of its own: by volume those of inhibited coolant, by mass those of pure glycol. They
//! differ by up to one per cent in density at the same composition, so neither fills the other's gaps.

mod boil;
mod glycol;
mod limits;
mod mass;
mod volume;

pub use boil::{boils_at, vapour_pressure};
pub use glycol::{Glycol, MassFraction, Strength, VolumeFraction, pure_density};
pub use limits::{
    CoolantLimit, WaterLimit, coolant_facts, coolant_limit, coolant_limits, water_limits,
};

use quantity::{
    Density, DynamicViscosity, SpecificHeat, Temperature, ThermalConductivity, ThermalExpansion,
};

use crate::source::{Sourced, Unknown};
use crate::table::Table;

/// Where a mix begins to freeze: crystals of ice, which is not yet a burst casting.
/// Unit: K. Range: by volume 0 to 60 per cent, by mass 0 to 60 per cent. Source: that of the strength's tables.
pub fn freezes_at<S: Strength>(
    glycol: Glycol,
    strength: S,
) -> Result<Sourced<Temperature>, Unknown> {
    strength.freezes_at(glycol)
}

/// The weakest mix that freezes no warmer than this.
/// Unit: share. Range: 0 °C down to the end of the tables. Source: that of the strength's tables.
pub fn strength_for<S: Strength>(
    glycol: Glycol,
    freezes: Temperature,
) -> Result<Sourced<S>, Unknown> {
    S::for_frost(glycol, freezes)
}

/// Density of a mix.
/// Unit: kg/m³. Range: by volume 10 to 60 per cent, from its freezing point to 125 °C; by mass 0 to 60 per cent,
/// from its freezing point to 100 °C. Source: that of the strength's tables; by volume over 100 °C worked out from them.
pub fn density<S: Strength>(
    glycol: Glycol,
    strength: S,
    at: Temperature,
) -> Result<Sourced<Density>, Unknown> {
    strength.density(glycol, at)
}

/// Heat that a kilogram of a mix takes up for each kelvin.
/// Unit: J/(kg K). Range: as [`density`]. Source: that of the strength's tables.
pub fn specific_heat<S: Strength>(
    glycol: Glycol,
    strength: S,
    at: Temperature,
) -> Result<Sourced<SpecificHeat>, Unknown> {
    strength.specific_heat(glycol, at)
}

/// How well heat goes through a mix at rest.
/// Unit: W/(m K). Range: as [`density`]. Source: that of the strength's tables.
pub fn thermal_conductivity<S: Strength>(
    glycol: Glycol,
    strength: S,
    at: Temperature,
) -> Result<Sourced<ThermalConductivity>, Unknown> {
    strength.thermal_conductivity(glycol, at)
}

/// Dynamic viscosity of a mix.
/// Unit: Pa s. Range: as [`density`]. Source: that of the strength's tables.
pub fn viscosity<S: Strength>(
    glycol: Glycol,
    strength: S,
    at: Temperature,
) -> Result<Sourced<DynamicViscosity>, Unknown> {
    strength.viscosity(glycol, at)
}

/// By what share a mix grows for each kelvin.
/// Unit: 1/K. Range: as [`density`]. Source: the change of the density in that of the strength's tables.
pub fn expansion<S: Strength>(
    glycol: Glycol,
    strength: S,
    at: Temperature,
) -> Result<Sourced<ThermalExpansion>, Unknown> {
    strength.expansion(glycol, at)
}

pub(crate) fn tables() -> Vec<&'static Table> {
    let mut tables = volume::tables();
    tables.extend(mass::tables());
    tables.extend(glycol::tables());
    tables.extend(boil::tables());
    tables.extend(limits::tables());
    tables
}
