//! Sea water as a liquid, by salt and temperature. Salt is a ratio: 35 g in a kilogram is 3.5 %.

use quantity::{
    Density, DynamicViscosity, Ratio, SpecificHeat, Temperature, ThermalConductivity,
    ThermalExpansion,
};

use crate::fluid::Fluid;
use crate::range::{celsius, within};
use crate::source::Unknown;

/// Salt of the open sea. Unit: 1. Range: 0.035165 kg/kg. Source: reference composition of IOC 2010 (TEOS-10).
pub fn open_sea() -> Ratio {
    Ratio::of(0.035165)
}

/// Temperature in °C and salt in kg/kg, both looked at.
fn state(at: Temperature, salt: Ratio) -> Result<(f64, f64), Unknown> {
    let (celsius, salt) = (celsius(at), salt.to_f64());
    within(
        "the temperature of the sea in °C",
        celsius,
        0.0..=120.0,
        "the temperature of the sea",
    )?;
    within(
        "salt in kg/kg",
        salt,
        0.0..=0.12,
        "the salinity of the water",
    )?;
    Ok((celsius, salt))
}

fn raw_density(t: f64, s: f64) -> f64 {
    let fresh = 999.9 + t * (2.034e-2 + t * (-6.162e-3 + t * (2.261e-5 - t * 4.657e-8)));
    fresh + s * (802.0 + t * (-2.001 + t * (1.677e-2 - t * 3.060e-5))) - 1.613e-5 * s * s * t * t
}

/// Density. Unit: kg/m³. Range: 0 to 120 °C, salt to 0.12 kg/kg, to 0.1 %. Source: Sharqawy, Lienhard and Zubair 2010, equation 8.
pub fn density(at: Temperature, salt: Ratio) -> Result<Density, Unknown> {
    let (t, s) = state(at, salt)?;
    // OK because the fit lies between 940 and 1100 over its range, and so do all below.
    Ok(Density::of_si(raw_density(t, s)))
}

/// By what share the volume grows per kelvin. The fit is one of density, to 0.1 %, so its slope is
/// a coarse one: up to a tenth less than that of TEOS-10 between 5 and 30 °C, up to a tenth more at
/// 60 °C.
/// Unit: 1/K. Range: 0 to 120 °C, salt to 0.12 kg/kg. Source: derivative of [`density`].
pub fn expansion(at: Temperature, salt: Ratio) -> Result<ThermalExpansion, Unknown> {
    let (t, s) = state(at, salt)?;
    let fresh = 2.034e-2 + t * (-2.0 * 6.162e-3 + t * (3.0 * 2.261e-5 - t * 4.0 * 4.657e-8));
    let salty = s * (-2.001 + t * (2.0 * 1.677e-2 - t * 3.0 * 3.060e-5));
    let slope = fresh + salty - 2.0 * 1.613e-5 * s * s * t;
    Ok(ThermalExpansion::of_si(-slope / raw_density(t, s)))
}

/// Heat to warm it. Unit: J/(kg K). Range: 0 to 120 °C, salt to 0.12 kg/kg, to 0.3 %. Source: Jamieson 1969, in Sharqawy, Lienhard and Zubair 2010, equation 9.
pub fn specific_heat(at: Temperature, salt: Ratio) -> Result<SpecificHeat, Unknown> {
    let (t, s) = state(at, salt)?;
    let (k, g) = (t + 273.15, 1000.0 * s);
    let a = 5.328 + g * (-9.76e-2 + g * 4.04e-4);
    let b = -6.913e-3 + g * (7.351e-4 - g * 3.15e-6);
    let c = 9.6e-6 + g * (-1.927e-6 + g * 8.23e-9);
    let d = 2.5e-9 + g * (1.666e-9 - g * 7.125e-12);
    Ok(SpecificHeat::of_si(
        1000.0 * (a + k * (b + k * (c + k * d))),
    ))
}

/// Viscosity. Unit: Pa s. Range: 0 to 120 °C, salt to 0.12 kg/kg, to 1.5 %. Source: Sharqawy, Lienhard and Zubair 2010, equations 22 and 23.
pub fn viscosity(at: Temperature, salt: Ratio) -> Result<DynamicViscosity, Unknown> {
    let (t, s) = state(at, salt)?;
    let fresh = 4.2844e-5 + 1.0 / (0.157 * (t + 64.993).powi(2) - 91.296);
    let a = 1.541 + t * (1.998e-2 - t * 9.52e-5);
    let b = 7.974 + t * (-7.561e-2 + t * 4.724e-4);
    Ok(DynamicViscosity::of_si(fresh * (1.0 + s * (a + s * b))))
}

/// Conductivity. Unit: W/(m K). Range: 0 to 120 °C, salt to 0.12 kg/kg, to 3 %. Source: Jamieson and Tudhope 1970, in Sharqawy, Lienhard and Zubair 2010, equation 13.
pub fn conductivity(at: Temperature, salt: Ratio) -> Result<ThermalConductivity, Unknown> {
    let (t, s) = state(at, salt)?;
    let (k, g) = (t + 273.15, 1000.0 * s);
    let power =
        0.434 * (2.3 - (343.5 + 0.037 * g) / k) * (1.0 - k / (647.0 + 0.03 * g)).powf(0.333);
    let milliwatts = (240.0 + 0.0002 * g) * 10.0_f64.powf(power);
    Ok(ThermalConductivity::of_si(milliwatts / 1000.0))
}

/// Sea water at one temperature. Unit: SI. Range: 0 to 120 °C, salt to 0.12 kg/kg. Source: the functions above.
pub fn fluid(at: Temperature, salt: Ratio) -> Result<Fluid, Unknown> {
    Ok(Fluid {
        density: density(at, salt)?,
        specific_heat: specific_heat(at, salt)?,
        conductivity: conductivity(at, salt)?,
        viscosity: viscosity(at, salt)?,
    })
}
