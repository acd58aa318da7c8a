//! The temperature at which water boils, by pressure.

use reference::media::{Glycol, pure_density};

/// Coefficients n1 to n10 of the saturation equation.
/// Source: IAPWS R7-97(2012), table 34.
const N: [f64; 10] = [
    0.116_705_214_527_67e4,
    -0.724_213_167_032_06e6,
    -0.170_738_469_400_92e2,
    0.120_208_247_024_70e5,
    -0.323_255_503_223_33e7,
    0.149_151_086_135_30e2,
    -0.482_326_573_615_91e4,
    0.405_113_405_420_57e6,
    -0.238_555_575_678_49,
    0.650_175_348_447_98e3,
];

/// Boiling temperature [K] of pure water at an absolute pressure [Pa]; `None` outside 611.213 Pa to
/// 22.064 MPa. Coolant with glycol boils some degrees higher.
/// Source: IAPWS R7-97(2012), equation 31.
pub fn boils_at(pressure: f64) -> Option<f64> {
    if !(611.213..=22.064e6).contains(&pressure) {
        return None;
    }
    let beta = (pressure / 1e6).powf(0.25);
    let e = beta * beta + N[2] * beta + N[5];
    let f = N[0] * beta * beta + N[3] * beta + N[6];
    let g = N[1] * beta * beta + N[4] * beta + N[7];
    let d = 2.0 * g / (-f - (f * f - 4.0 * e * g).sqrt());
    let root = ((N[9] + d).powi(2) - 4.0 * (N[8] + N[9] * d)).sqrt();
    Some((N[9] + d - root) / 2.0)
}

/// Mass of a mole of water, ethylene glycol and propylene glycol [kg/mol].
/// Source: IUPAC atomic weights for H2O, C2H6O2 and C3H8O2.
fn molar_mass(glycol: Option<Glycol>) -> f64 {
    match glycol {
        None => 0.018_015,
        Some(Glycol::Ethylene) => 0.062_07,
        Some(Glycol::Propylene) => 0.076_09,
    }
}

/// Boiling temperature [K] of a mix with glycol at an absolute pressure [Pa]: the glycol hardly
/// evaporates, so the water in it boils at p / x, x being its share of the moles. `volume_share` is the
/// glycol's share of the volume, 0 to 0.6.
/// Source: Raoult's law; good to 1 or 2 K against the usual figures for half-and-half mixes.
pub fn mix_boils_at(pressure: f64, glycol: Glycol, volume_share: f64) -> Option<f64> {
    if !(0.0..=0.6).contains(&volume_share) {
        return None;
    }
    let moles = |part: Option<Glycol>, share: f64| {
        share * pure_density(part).value.to_kg_per_m3() / molar_mass(part)
    };
    let (water, other) = (
        moles(None, 1.0 - volume_share),
        moles(Some(glycol), volume_share),
    );
    boils_at(pressure * (water + other) / water)
}
