//! Sea water: practical salinity, conductivity, chloride, and what the seas hold.
//!
//! Practical salinity is a scale of its own without a unit: about the grams of salt in a kilogram.

use quantity::{Concentration, Conductivity, Density, Ratio, Temperature};
use serde::Deserialize;

use crate::source::{Limits, SourceRef, Sourced, Unknown};
use crate::table::{Table, data};

/// A practical salinity.
/// Unit: none, by definition. Range: 0 to 42. Source: PSS-78.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct PracticalSalinity(f64);

impl PracticalSalinity {
    /// From its number; `None` outside 0 to 42. Unit: none. Range: 0 to 42. Source: PSS-78.
    pub fn of(number: f64) -> Option<Self> {
        (0.0..=MOST).contains(&number).then_some(Self(number))
    }
    /// Its number. Unit: none. Range: 0 to 42. Source: PSS-78.
    pub fn number(self) -> f64 {
        self.0
    }
}

/// The saltiest water that the scale holds for.
const MOST: f64 = 42.0;
/// Below this the scale is continued by another formula.
const LEAST: f64 = 2.0;
/// The coldest and the hottest water that the scale holds for [°C].
const COLDEST: f64 = -2.0;
const HOTTEST: f64 = 35.0;

struct Formula {
    id: String,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawFormula {
    id: String,
    source: Option<String>,
}

data!(static FORMULAS: Formula = "sea-formulas.toml", RawFormula, |table, raw| Formula {
    id: raw.id,
    source: table.source(raw.source.as_deref()),
});

fn source(id: &str) -> SourceRef {
    // OK because every name is written in this file and a test asks for each.
    let row = FORMULAS.rows.iter().find(|row| row.id == id);
    row.unwrap_or_else(|| panic!("sea-formulas.toml has no `{id}`"))
        .source
}

/// Conductivity of sea water of practical salinity 35 at 15 °C on the scale of 1968.
/// Unit: S/m. Range: 4.2914 S/m. Source: TEOS-10 page of the constant.
pub fn standard_conductivity() -> Sourced<Conductivity> {
    Sourced {
        value: Conductivity::ms_per_cm(42.914),
        source: source("standard-conductivity"),
    }
}

/// Temperature on the scale of 1968, in which the formulas of that time are written [°C].
fn t68(at: Temperature) -> f64 {
    at.to_celsius() * 1.000_24
}

/// Polynomial with its coefficients from the constant one upward.
fn polynomial(x: f64, coefficients: &[f64]) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, c| sum * x + c)
}

const A: [f64; 6] = [0.0080, -0.1692, 25.3851, 14.0941, -7.0261, 2.7081];
const B: [f64; 6] = [0.0005, -0.0056, -0.0066, -0.0375, 0.0636, -0.0144];
const K: f64 = 0.0162;
const C: [f64; 5] = [
    0.676_609_7,
    2.005_64e-2,
    1.104_259e-4,
    -6.9698e-7,
    1.0031e-9,
];

/// How much of the difference from 15 °C counts.
fn warmth(t: f64) -> f64 {
    (t - 15.0) / (1.0 + K * (t - 15.0))
}

/// The salinity of PSS-78 by the root of the ratio R_t.
fn by_ratio(root: f64, t: f64) -> f64 {
    polynomial(root, &A) + warmth(t) * polynomial(root, &B)
}

/// What is taken off below 2, where PSS-78 alone is not valid.
/// Source: Hill, Dauphinee and Woods 1986.
fn thin(root: f64, t: f64) -> f64 {
    let ratio = root * root;
    let (x, y) = (400.0 * ratio, 100.0 * ratio);
    let flat = A[0] / (1.0 + 1.5 * x + x * x);
    let warm = B[0] * warmth(t) / (1.0 + y.sqrt() + y + y * y.sqrt());
    flat + warm
}

fn salinity_of_root(root: f64, t: f64) -> f64 {
    let plain = by_ratio(root, t);
    if plain < LEAST {
        plain - thin(root, t)
    } else {
        plain
    }
}

fn within(at: Temperature) -> Result<(), Unknown> {
    let celsius = at.to_celsius();
    if (COLDEST..=HOTTEST).contains(&celsius) {
        return Ok(());
    }
    Err(Unknown::new(
        format!(
            "the practical salinity scale holds from −2 to 35 °C, and the water has {celsius:.0} °C"
        ),
        "the conductivity of the same water between −2 and 35 °C, best near 15",
    ))
}

/// Practical salinity of water by its conductivity at the surface.
/// Unit: none. Range: 0 to 42, −2 to 35 °C. Source: PSS-78; below 2 as continued by Hill, Dauphinee and Woods 1986.
pub fn salinity(
    conductivity: Conductivity,
    at: Temperature,
) -> Result<Sourced<PracticalSalinity>, Unknown> {
    within(at)?;
    let t = t68(at);
    let ratio = conductivity / standard_conductivity().value / polynomial(t, &C);
    let unknown = || {
        Unknown::new(
            "water of that conductivity lies outside 0 to 42 on the practical salinity scale",
            "the conductivity once more, of the water diluted with as much distilled water",
        )
    };
    if ratio < 0.0 {
        return Err(unknown());
    }
    let number = salinity_of_root(ratio.sqrt(), t).max(0.0);
    let value = PracticalSalinity::of(number).ok_or_else(unknown)?;
    Ok(Sourced {
        value,
        source: source(if number < LEAST { "hill" } else { "pss-78" }),
    })
}

/// Conductivity of water by its practical salinity, at the surface.
/// Unit: S/m. Range: 0 to 42, −2 to 35 °C. Source: PSS-78 turned round by Newton's method.
pub fn conductivity(
    salinity: PracticalSalinity,
    at: Temperature,
) -> Result<Sourced<Conductivity>, Unknown> {
    within(at)?;
    let t = t68(at);
    let wanted = salinity.0;
    // Nearly S = 35 R, and a slope from close by: eight steps reach the last digit.
    let mut root = (wanted / 35.0).sqrt();
    for _ in 0..8 {
        let step = 1e-6;
        let slope = (salinity_of_root(root + step, t) - salinity_of_root(root, t)) / step;
        let next = root - (salinity_of_root(root, t) - wanted) / slope;
        // The root of a ratio is not below nought; where a step goes there, half way will do.
        root = if next > 0.0 { next } else { root / 2.0 };
    }
    Ok(Sourced {
        value: standard_conductivity().value * (root * root * polynomial(t, &C)),
        source: source(if wanted < LEAST { "hill" } else { "pss-78" }),
    })
}

/// Chlorinity over practical salinity.
const SALINITY_OVER_CHLORINITY: f64 = 1.806_55;

/// Chlorinity: grams of chlorine-equivalent halides in a kilogram, as a share.
/// Unit: 1 (kg/kg). Range: 0 to 0.0233. Source: S = 1.80655 Cl.
pub fn chlorinity(salinity: PracticalSalinity) -> Sourced<Ratio> {
    Sourced {
        value: Ratio::of(salinity.0 / SALINITY_OVER_CHLORINITY / 1000.0),
        source: source("chlorinity"),
    }
}

/// Practical salinity of sea water by its chlorinity.
/// Unit: none. Range: 0 to 42. Source: S = 1.80655 Cl.
pub fn salinity_of_chlorinity(chlorinity: Ratio) -> Result<Sourced<PracticalSalinity>, Unknown> {
    let number = chlorinity.to_f64() * 1000.0 * SALINITY_OVER_CHLORINITY;
    let value = PracticalSalinity::of(number).ok_or_else(|| {
        Unknown::new(
            "water of that chlorinity lies outside 0 to 42 on the practical salinity scale",
            "the sample once more, diluted with as much distilled water",
        )
    })?;
    Ok(Sourced {
        value,
        source: source("chlorinity"),
    })
}

/// Salt in reference sea water of practical salinity 35 [kg/kg]. Source: Millero and others 2008.
const REFERENCE_SALT: f64 = 35.165_04e-3;
/// Share of chloride in the salt of reference sea water. Source: Millero and others 2008, from memory.
const CHLORIDE_IN_SALT: f64 = 0.550_34;

/// Chloride in sea water by mass.
/// Unit: 1 (kg/kg). Range: 0 to 0.0233. Source: reference sea water, Millero and others 2008.
pub fn chloride_share(salinity: PracticalSalinity) -> Sourced<Ratio> {
    Sourced {
        value: Ratio::of(CHLORIDE_IN_SALT * REFERENCE_SALT * salinity.0 / 35.0),
        source: source("reference-sea"),
    }
}

/// Density of sea water at the surface.
/// Unit: kg/m³. Range: 0 to 42, −2 to 40 °C. Source: UNESCO 1981, equation of state at one atmosphere.
pub fn sea_density(
    salinity: PracticalSalinity,
    at: Temperature,
) -> Result<Sourced<Density>, Unknown> {
    let celsius = at.to_celsius();
    if !(COLDEST..=40.0).contains(&celsius) {
        return Err(Unknown::new(
            format!(
                "the equation of state of sea water holds from −2 to 40 °C, not at {celsius:.0} °C"
            ),
            "the density at a temperature within",
        ));
    }
    let (t, s) = (t68(at), salinity.0);
    let water = polynomial(
        t,
        &[
            999.842_594,
            6.793_952e-2,
            -9.095_290e-3,
            1.001_685e-4,
            -1.120_083e-6,
            6.536_332e-9,
        ],
    );
    let a = polynomial(
        t,
        &[8.244_93e-1, -4.0899e-3, 7.6438e-5, -8.2467e-7, 5.3875e-9],
    );
    let b = polynomial(t, &[-5.724_66e-3, 1.0227e-4, -1.6546e-6]);
    Ok(Sourced {
        value: Density::kg_per_m3(water + a * s + b * s * s.sqrt() + 4.8314e-4 * s * s),
        source: source("eos-80"),
    })
}

/// Chloride in a litre of sea water.
/// Unit: kg/m³. Range: 0 to 42, −2 to 40 °C. Source: reference sea water and its density at that temperature.
pub fn chloride(
    salinity: PracticalSalinity,
    at: Temperature,
) -> Result<Sourced<Concentration>, Unknown> {
    let density = sea_density(salinity, at)?.value;
    let Sourced { value, source } = chloride_share(salinity);
    Ok(Sourced {
        value: Concentration::kg_per_m3(value.to_f64() * density.to_kg_per_m3()),
        source,
    })
}

/// Practical salinity of sea water by the chloride in a litre of it.
/// Unit: none. Range: 0 to 42, −2 to 40 °C. Source: as [`chloride`], turned round.
pub fn salinity_of_chloride(
    chloride: Concentration,
    at: Temperature,
) -> Result<Sourced<PracticalSalinity>, Unknown> {
    let unknown = || {
        Unknown::new(
            "water with so much chloride lies outside 0 to 42 on the practical salinity scale",
            "the sample once more, diluted with as much distilled water",
        )
    };
    let of = |number: f64| PracticalSalinity::of(number).ok_or_else(unknown);
    let per_unit = CHLORIDE_IN_SALT * REFERENCE_SALT / 35.0;
    // The density hardly moves with the salinity, so that six rounds leave nothing.
    let mut number = chloride.to_kg_per_m3() / per_unit / 1030.0;
    for _ in 0..6 {
        let density = sea_density(of(number)?, at)?.value;
        number = chloride.to_kg_per_m3() / per_unit / density.to_kg_per_m3();
    }
    Ok(Sourced {
        value: of(number)?,
        source: source("reference-sea"),
    })
}

/// A sea and how salt its surface is.
/// Unit: none. Range: 2 to 41. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct SeaArea {
    /// Its name. Unit: none. Range: text. Source: this crate.
    pub name: String,
    /// From this practical salinity. Unit: none. Range: 2 to 40. Source: `source`.
    pub low: PracticalSalinity,
    /// To this. Unit: none. Range: 4 to 41. Source: `source`.
    pub high: PracticalSalinity,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawArea {
    name: String,
    salinity: [f64; 2],
    source: Option<String>,
}

data!(static AREAS: SeaArea = "sea-areas.toml", RawArea, |table, raw| SeaArea {
    name: raw.name,
    low: PracticalSalinity(raw.salinity[0]),
    high: PracticalSalinity(raw.salinity[1]),
    source: table.source(raw.source.as_deref()),
});

/// Seas and how salt their surface is; an estuary has to be measured.
/// Unit: none. Range: the rows of the file. Source: each row's own.
pub fn sea_areas() -> &'static [SeaArea] {
    &AREAS.rows
}

struct Service {
    id: String,
    chloride: [f64; 2],
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawService {
    id: String,
    chloride: [f64; 2],
    source: Option<String>,
}

data!(static SERVICE: Service = "coolant-chloride.toml", RawService, |table, raw| Service {
    id: raw.id,
    chloride: raw.chloride,
    source: table.source(raw.source.as_deref()),
});

fn service(id: &str) -> Sourced<Limits<Concentration>> {
    // OK because every name is written in this file and a test asks for each.
    let row = SERVICE.rows.iter().find(|row| row.id == id);
    let row = row.unwrap_or_else(|| panic!("coolant-chloride.toml has no `{id}`"));
    Sourced {
        value: crate::table::limits(row.chloride, Concentration::mg_per_l),
        source: row.source,
    }
}

/// Chloride in coolant in service above which one looks for where it comes from.
/// Unit: kg/m³. Range: 50 to 60 mg/L. Source: common practice.
pub fn look_into_chloride() -> Sourced<Limits<Concentration>> {
    service("look")
}

/// Chloride in coolant in service above which it is changed and the leak found.
/// Unit: kg/m³. Range: 100 mg/L. Source: common practice.
pub fn act_on_chloride() -> Sourced<Limits<Concentration>> {
    service("act")
}

pub(crate) fn tables() -> Vec<&'static Table> {
    vec![&FORMULAS.table, &AREAS.table, &SERVICE.table]
}
