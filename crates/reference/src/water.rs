//! Fresh water as a liquid: density, heat, conductivity, viscosity, and when it boils.
//!
//! The first four are polynomials of the temperature alone, fitted to the IAPWS formulations at
//! 3 bar absolute. Between 1 and 3 bar the pressure changes the density by under 0.01 % and the
//! others by under 0.03 %. Boiling is the saturation equation of IAPWS-IF97 as it was released.

use quantity::{
    AbsolutePressure, Density, DynamicViscosity, Quantity, SpecificHeat, Temperature,
    ThermalConductivity, ThermalExpansion,
};

use crate::fluid::Fluid;
use crate::range::{celsius, within};
use crate::source::Unknown;

const TEMPERATURE: &str = "the temperature of the water";

/// Each in u = (t − 65 °C)/65 K, lowest power first. Fitted by least squares at Chebyshev's points;
/// the largest difference from the release over the whole range stands beside each.
///
/// kg/m³, 0.000 2 %.
const DENSITY: [f64; 8] = [
    980.638889,
    -35.3126871,
    -11.9387705,
    2.23930151,
    -0.93239346,
    0.324141901,
    -0.369945805,
    0.201617263,
];
/// J/(kg K), 0.001 %.
const SPECIFIC_HEAT: [f64; 9] = [
    4186.8912, 33.377697, 31.276899, 2.5648524, 14.204988, -7.1389385, 2.5928558, -7.3060257,
    4.9631964,
];
/// W/(m K), 0.001 %.
const CONDUCTIVITY: [f64; 9] = [
    0.655679189,
    0.0568983547,
    -0.0330536302,
    0.00456818908,
    -0.00191276666,
    0.00103967595,
    -0.000754020523,
    0.00107669294,
    -0.000573269835,
];
/// Natural logarithm of Pa s, 0.002 % of the viscosity.
const LN_VISCOSITY: [f64; 9] = [
    -7.74487875,
    -0.934938064,
    0.297747222,
    -0.101582518,
    0.043393557,
    -0.0188452095,
    0.00950209159,
    -0.00945085909,
    0.00460012587,
];

/// The place in the fit's range.
fn place(at: Temperature) -> Result<f64, Unknown> {
    let celsius = celsius(at);
    within(
        "the temperature of the water in °C",
        celsius,
        0.0..=130.0,
        TEMPERATURE,
    )?;
    Ok((celsius - 65.0) / 65.0)
}

fn polynomial(coefficients: &[f64], u: f64) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, c| sum * u + c)
}

/// Its derivative by u.
fn slope(coefficients: &[f64], u: f64) -> f64 {
    let powers = coefficients.iter().enumerate().skip(1).rev();
    powers.fold(0.0, |sum, (n, c)| sum * u + c * n as f64)
}

/// Density of liquid water. Unit: kg/m³. Range: 0 to 130 °C, to 0.0002 % of the release at 3 bar. Source: fitted to IAPWS-95.
pub fn density(at: Temperature) -> Result<Density, Unknown> {
    // OK because the fit lies between 930 and 1000 over its range, and so do all below.
    place(at).map(|u| Density::of_si(polynomial(&DENSITY, u)))
}

/// Heat to warm liquid water. Unit: J/(kg K). Range: 0 to 130 °C, to 0.001 % of the release at 3 bar. Source: fitted to IAPWS-95.
pub fn specific_heat(at: Temperature) -> Result<SpecificHeat, Unknown> {
    place(at).map(|u| SpecificHeat::of_si(polynomial(&SPECIFIC_HEAT, u)))
}

/// Conductivity of liquid water. Unit: W/(m K). Range: 0 to 130 °C, to 0.001 % of the release at 3 bar. Source: fitted to IAPWS R15-11.
pub fn conductivity(at: Temperature) -> Result<ThermalConductivity, Unknown> {
    place(at).map(|u| ThermalConductivity::of_si(polynomial(&CONDUCTIVITY, u)))
}

/// Viscosity of liquid water. Unit: Pa s. Range: 0 to 130 °C, to 0.002 % of the release at 3 bar. Source: fitted to IAPWS R12-08.
pub fn viscosity(at: Temperature) -> Result<DynamicViscosity, Unknown> {
    place(at).map(|u| DynamicViscosity::of_si(polynomial(&LN_VISCOSITY, u).exp()))
}

/// By what share liquid water grows per kelvin; below zero under 4 °C.
/// Unit: 1/K. Range: 0 to 130 °C. Source: derivative of the fit to IAPWS-95.
pub fn expansion(at: Temperature) -> Result<ThermalExpansion, Unknown> {
    place(at).map(|u| {
        let rises = slope(&DENSITY, u) / 65.0;
        ThermalExpansion::of_si(-rises / polynomial(&DENSITY, u))
    })
}

/// Water at one temperature. Unit: SI. Range: 0 to 130 °C. Source: the four functions above.
pub fn fluid(at: Temperature) -> Result<Fluid, Unknown> {
    Ok(Fluid {
        density: density(at)?,
        specific_heat: specific_heat(at)?,
        conductivity: conductivity(at)?,
        viscosity: viscosity(at)?,
    })
}

/// Pressure of the standard atmosphere. Unit: Pa. Range: 101 325. Source: ISO 2533.
pub const ATMOSPHERE: f64 = 101_325.0;

/// The ten coefficients of region 4.
const SATURATION: [f64; 10] = [
    1167.0521452767,
    -724213.16703206,
    -17.073846940092,
    12020.82470247,
    -3232555.0322333,
    14.91510861353,
    -4823.2657361591,
    405113.40542057,
    -0.23855557567849,
    650.17534844798,
];

/// Pressure at which water boils at a temperature.
/// Unit: Pa. Range: 273.15 to 647.096 K. Source: IAPWS-IF97, equation 30.
pub fn boiling_pressure(at: Temperature) -> Result<AbsolutePressure, Unknown> {
    let kelvin = at.si();
    within(
        "the temperature of the water in K",
        kelvin,
        273.15..=647.096,
        TEMPERATURE,
    )?;
    let n = &SATURATION;
    let theta = kelvin + n[8] / (kelvin - n[9]);
    let a = theta * theta + n[0] * theta + n[1];
    let b = n[2] * theta * theta + n[3] * theta + n[4];
    let c = n[5] * theta * theta + n[6] * theta + n[7];
    let root = 2.0 * c / (-b + (b * b - 4.0 * a * c).sqrt());
    // OK because the equation gives 611 Pa to 22 MPa over its range.
    Ok(AbsolutePressure::of_si(1e6 * root.powi(4)))
}

/// Temperature at which water boils under a pressure.
/// Unit: K. Range: 611.213 Pa to 22.064 MPa. Source: IAPWS-IF97, equation 31.
pub fn boiling_temperature(under: AbsolutePressure) -> Result<Temperature, Unknown> {
    let settles = "the absolute pressure on the water";
    within(
        "the absolute pressure in Pa",
        under.si(),
        611.213..=22.064e6,
        settles,
    )?;
    let n = &SATURATION;
    let beta = (under.si() / 1e6).powf(0.25);
    let e = beta * beta + n[2] * beta + n[5];
    let f = n[0] * beta * beta + n[3] * beta + n[6];
    let g = n[1] * beta * beta + n[4] * beta + n[7];
    let d = 2.0 * g / (-f - (f * f - 4.0 * e * g).sqrt());
    let sum = n[9] + d;
    let kelvin = (sum - (sum * sum - 4.0 * (n[8] + n[9] * d)).sqrt()) / 2.0;
    // OK because the equation gives 273 to 647 K over its range.
    Ok(Temperature::of_si(kelvin))
}
