//! A liquid as far as flow and heat need it: four properties at one temperature.

use quantity::{Density, DynamicViscosity, Quantity, SpecificHeat, ThermalConductivity};

/// A liquid at one temperature.
/// Unit: SI. Range: each over 0, or the functions that divide by them give nothing. Source: the function that made it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fluid {
    /// Mass per volume. Unit: kg/m³. Range: over 0. Source: the function that made it.
    pub density: Density,
    /// Heat per mass and kelvin. Unit: J/(kg K). Range: over 0. Source: the function that made it.
    pub specific_heat: SpecificHeat,
    /// Conductivity for heat. Unit: W/(m K). Range: over 0. Source: the function that made it.
    pub conductivity: ThermalConductivity,
    /// Dynamic viscosity. Unit: Pa s. Range: over 0. Source: the function that made it.
    pub viscosity: DynamicViscosity,
}

impl Fluid {
    /// Prandtl number µ cp/k. Unit: 1. Range: over 0. Source: definition.
    pub fn prandtl(&self) -> f64 {
        self.viscosity.si() * self.specific_heat.si() / self.conductivity.si()
    }

    /// Kinematic viscosity µ/ρ, m²/s.
    pub(crate) fn kinematic(&self) -> f64 {
        self.viscosity.si() / self.density.si()
    }

    /// Thermal diffusivity k/(ρ cp), m²/s.
    pub(crate) fn diffusivity(&self) -> f64 {
        self.conductivity.si() / (self.density.si() * self.specific_heat.si())
    }
}
