//! The two glycols, and the two ways to count how much of one is in a mix.

use std::sync::LazyLock;

use quantity::{
    Density, DynamicViscosity, SpecificHeat, Temperature, ThermalConductivity, ThermalExpansion,
};
use serde::Deserialize;

use super::{mass, volume};
use crate::source::{SourceRef, Sourced, Unknown};
use crate::table::{Table, data};

/// The glycol of a coolant.
/// Unit: none. Range: two. Source: the trade's words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Glycol {
    /// Ethylene glycol, a poison.
    Ethylene,
    /// Propylene glycol, less of one.
    Propylene,
}

impl Glycol {
    /// Both. Unit: none. Range: two. Source: this crate.
    pub const ALL: [Self; 2] = [Self::Ethylene, Self::Propylene];

    /// The name for a reader. Unit: none. Range: text. Source: the trade's words.
    pub fn name(self) -> &'static str {
        match self {
            Self::Ethylene => "ethylene glycol",
            Self::Propylene => "propylene glycol",
        }
    }
}

/// Part of a whole by volume, as measured before mixing.
/// Unit: 1. Range: 0 to 1. Source: definition.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct VolumeFraction(f64);

/// Part of a whole by mass.
/// Unit: 1. Range: 0 to 1. Source: definition.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct MassFraction(f64);

mod sealed {
    /// No other way to count has tables here. Unit: none. Range: two types. Source: this crate.
    pub trait Sealed {}
    impl Sealed for super::VolumeFraction {}
    impl Sealed for super::MassFraction {}
}

/// A share of glycol with tables of its own.
/// Unit: 1. Range: 0 to 1. Source: definition.
pub trait Strength: sealed::Sealed + Copy + Sized {
    /// From a share; `None` outside 0 to 1. Unit: 1. Range: 0 to 1. Source: definition.
    fn of(share: f64) -> Option<Self>;
    /// The share. Unit: 1. Range: 0 to 1. Source: definition.
    fn share(self) -> f64;
    /// See [`super::freezes_at`]. Unit: K. Range: see there. Source: the tables.
    fn freezes_at(self, glycol: Glycol) -> Result<Sourced<Temperature>, Unknown>;
    /// See [`super::strength_for`]. Unit: 1. Range: see there. Source: the tables.
    fn for_frost(glycol: Glycol, freezes: Temperature) -> Result<Sourced<Self>, Unknown>;
    /// See [`super::density`]. Unit: kg/m³. Range: see there. Source: the tables.
    fn density(self, glycol: Glycol, at: Temperature) -> Result<Sourced<Density>, Unknown>;
    /// See [`super::specific_heat`]. Unit: J/(kg K). Range: see there. Source: the tables.
    fn specific_heat(
        self,
        glycol: Glycol,
        at: Temperature,
    ) -> Result<Sourced<SpecificHeat>, Unknown>;
    /// See [`super::thermal_conductivity`]. Unit: W/(m K). Range: see there. Source: the tables.
    fn thermal_conductivity(
        self,
        glycol: Glycol,
        at: Temperature,
    ) -> Result<Sourced<ThermalConductivity>, Unknown>;
    /// See [`super::viscosity`]. Unit: Pa s. Range: see there. Source: the tables.
    fn viscosity(
        self,
        glycol: Glycol,
        at: Temperature,
    ) -> Result<Sourced<DynamicViscosity>, Unknown>;
    /// See [`super::expansion`]. Unit: 1/K. Range: see there. Source: the tables.
    fn expansion(
        self,
        glycol: Glycol,
        at: Temperature,
    ) -> Result<Sourced<ThermalExpansion>, Unknown>;
    /// The same mix by mass. Unit: 1. Range: 0 to 1. Source: definition.
    fn by_mass(self, glycol: Glycol) -> MassFraction;
}

fn between(share: f64) -> Option<f64> {
    (0.0..=1.0).contains(&share).then_some(share)
}

impl Strength for VolumeFraction {
    fn of(share: f64) -> Option<Self> {
        between(share).map(Self)
    }
    fn share(self) -> f64 {
        self.0
    }
    fn freezes_at(self, glycol: Glycol) -> Result<Sourced<Temperature>, Unknown> {
        volume::freezes_at(glycol, self.0)
    }
    fn for_frost(glycol: Glycol, freezes: Temperature) -> Result<Sourced<Self>, Unknown> {
        let Sourced { value, source } = volume::share_for(glycol, freezes)?;
        Ok(Sourced {
            value: Self(value),
            source,
        })
    }
    fn density(self, glycol: Glycol, at: Temperature) -> Result<Sourced<Density>, Unknown> {
        volume::at(
            glycol,
            self.0,
            at,
            volume::Property::Density,
            Density::kg_per_m3,
        )
    }
    fn specific_heat(
        self,
        glycol: Glycol,
        at: Temperature,
    ) -> Result<Sourced<SpecificHeat>, Unknown> {
        volume::at(
            glycol,
            self.0,
            at,
            volume::Property::Heat,
            SpecificHeat::j_per_kg_k,
        )
    }
    fn thermal_conductivity(
        self,
        glycol: Glycol,
        at: Temperature,
    ) -> Result<Sourced<ThermalConductivity>, Unknown> {
        volume::at(
            glycol,
            self.0,
            at,
            volume::Property::Conductivity,
            ThermalConductivity::w_per_m_k,
        )
    }
    fn viscosity(
        self,
        glycol: Glycol,
        at: Temperature,
    ) -> Result<Sourced<DynamicViscosity>, Unknown> {
        // Between two rows the logarithm runs far straighter than the viscosity itself.
        volume::at(glycol, self.0, at, volume::Property::LogViscosity, |x| {
            DynamicViscosity::mpa_s(x.exp())
        })
    }
    fn expansion(
        self,
        glycol: Glycol,
        at: Temperature,
    ) -> Result<Sourced<ThermalExpansion>, Unknown> {
        volume::expansion(glycol, self.0, at)
    }
    fn by_mass(self, glycol: Glycol) -> MassFraction {
        self.to_mass(glycol)
    }
}

impl Strength for MassFraction {
    fn of(share: f64) -> Option<Self> {
        between(share).map(Self)
    }
    fn share(self) -> f64 {
        self.0
    }
    fn freezes_at(self, glycol: Glycol) -> Result<Sourced<Temperature>, Unknown> {
        mass::freezes_at(glycol, self.0)
    }
    fn for_frost(glycol: Glycol, freezes: Temperature) -> Result<Sourced<Self>, Unknown> {
        let Sourced { value, source } = mass::share_for(glycol, freezes)?;
        Ok(Sourced {
            value: Self(value),
            source,
        })
    }
    fn density(self, glycol: Glycol, at: Temperature) -> Result<Sourced<Density>, Unknown> {
        mass::at(
            glycol,
            self.0,
            at,
            mass::Property::Density,
            Density::kg_per_m3,
        )
    }
    fn specific_heat(
        self,
        glycol: Glycol,
        at: Temperature,
    ) -> Result<Sourced<SpecificHeat>, Unknown> {
        mass::at(
            glycol,
            self.0,
            at,
            mass::Property::Heat,
            SpecificHeat::j_per_kg_k,
        )
    }
    fn thermal_conductivity(
        self,
        glycol: Glycol,
        at: Temperature,
    ) -> Result<Sourced<ThermalConductivity>, Unknown> {
        mass::at(
            glycol,
            self.0,
            at,
            mass::Property::Conductivity,
            ThermalConductivity::w_per_m_k,
        )
    }
    fn viscosity(
        self,
        glycol: Glycol,
        at: Temperature,
    ) -> Result<Sourced<DynamicViscosity>, Unknown> {
        mass::at(glycol, self.0, at, mass::Property::LogViscosity, |x| {
            DynamicViscosity::mpa_s(x.exp())
        })
    }
    fn expansion(
        self,
        glycol: Glycol,
        at: Temperature,
    ) -> Result<Sourced<ThermalExpansion>, Unknown> {
        mass::expansion(glycol, self.0, at)
    }
    fn by_mass(self, _: Glycol) -> MassFraction {
        self
    }
}

/// What a pure liquid weighs.
struct Pure {
    what: What,
    density: Density,
    source: SourceRef,
}

/// The pure liquids.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum What {
    Water,
    Ethylene,
    Propylene,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawPure {
    what: What,
    density: f64,
    source: Option<String>,
}

data!(from "../../data/", static PURE: Pure = "glycol-pure.toml", RawPure, |table, raw| Pure {
    what: raw.what,
    density: Density::kg_per_m3(raw.density),
    source: table.source(raw.source.as_deref()),
});

/// The rows in the order of [`What`], so that one is found by its place.
static IN_ORDER: LazyLock<[Sourced<Density>; 3]> = LazyLock::new(|| {
    [What::Water, What::Ethylene, What::Propylene].map(|what| {
        // OK because a test checks that every liquid has its row.
        let row = PURE.rows.iter().find(|row| row.what == what);
        let row = row.expect("every pure liquid has a row");
        Sourced {
            value: row.density,
            source: row.source,
        }
    })
});

/// Density at 20 °C of a pure glycol, or of water where none is named.
/// Unit: kg/m³. Range: 20 °C. Source: the row's own.
pub fn pure_density(glycol: Option<Glycol>) -> Sourced<Density> {
    IN_ORDER[match glycol {
        None => 0,
        Some(Glycol::Ethylene) => 1,
        Some(Glycol::Propylene) => 2,
    }]
}

impl VolumeFraction {
    /// The same mix by mass: volumes before mixing, at 20 °C.
    /// Unit: 1. Range: 0 to 1. Source: definition, with the densities of the pure liquids.
    pub fn to_mass(self, glycol: Glycol) -> MassFraction {
        let (part, water) = weights(glycol);
        let heavy = self.0 * part;
        MassFraction(heavy / (heavy + (1.0 - self.0) * water))
    }
}

impl MassFraction {
    /// The same mix by volume: volumes before mixing, at 20 °C.
    /// Unit: 1. Range: 0 to 1. Source: definition, with the densities of the pure liquids.
    pub fn to_volume(self, glycol: Glycol) -> VolumeFraction {
        let (part, water) = weights(glycol);
        let room = self.0 / part;
        VolumeFraction(room / (room + (1.0 - self.0) / water))
    }
}

fn weights(glycol: Glycol) -> (f64, f64) {
    (
        pure_density(Some(glycol)).value.to_kg_per_m3(),
        pure_density(None).value.to_kg_per_m3(),
    )
}

pub(super) fn tables() -> Vec<&'static Table> {
    vec![&PURE.table]
}
