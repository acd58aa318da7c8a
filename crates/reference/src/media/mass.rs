//! Pure glycol and water by mass: the published polynomials.

use std::sync::LazyLock;

use quantity::{Temperature, ThermalExpansion};
use serde::Deserialize;

use super::Glycol;
use crate::source::{SourceRef, Sourced, Unknown};
use crate::table::{Table, data};

struct Coefficients {
    glycol: Glycol,
    i: usize,
    j: usize,
    freezing: f64,
    density: f64,
    heat: f64,
    conductivity: f64,
    viscosity: f64,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawCoefficients {
    glycol: Glycol,
    i: usize,
    j: usize,
    freezing: f64,
    density: f64,
    heat: f64,
    conductivity: f64,
    viscosity: f64,
}

data!(from "../../data/", static ROWS: Coefficients = "glycol-mass.toml", RawCoefficients, |table, raw| Coefficients {
    glycol: raw.glycol,
    i: raw.i,
    j: raw.j,
    freezing: raw.freezing,
    density: raw.density,
    heat: raw.heat,
    conductivity: raw.conductivity,
    viscosity: raw.viscosity,
    source: table.source(None),
});

/// The properties of the polynomials.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Property {
    Density,
    Heat,
    Conductivity,
    LogViscosity,
}

const POWERS_OF_SHARE: usize = 6;
const POWERS_OF_TEMPERATURE: usize = 4;

/// Coefficients by power of the share, then of the temperature; those that are not given are nought.
type Grid = [[f64; POWERS_OF_TEMPERATURE]; POWERS_OF_SHARE];

/// The polynomials of one glycol, laid out for quick use.
#[derive(Clone, Copy)]
struct Polynomials {
    freezing: Grid,
    density: Grid,
    heat: Grid,
    conductivity: Grid,
    viscosity: Grid,
    source: SourceRef,
}

fn laid_out(glycol: Glycol) -> Polynomials {
    let grid = |of: fn(&Coefficients) -> f64| {
        let mut grid: Grid = [[0.0; POWERS_OF_TEMPERATURE]; POWERS_OF_SHARE];
        for row in ROWS.rows.iter().filter(|row| row.glycol == glycol) {
            // OK because a test reads the file, whose powers lie within the grid.
            grid[row.i][row.j] = of(row);
        }
        grid
    };
    let mut freezing = grid(|row| row.freezing);
    for powers in &mut freezing {
        // A freezing point is asked for no temperature: what the fit left there is noise.
        powers[1..].fill(0.0);
    }
    Polynomials {
        freezing,
        density: grid(|row| row.density),
        heat: grid(|row| row.heat),
        conductivity: grid(|row| row.conductivity),
        viscosity: grid(|row| row.viscosity),
        source: ROWS.rows[0].source,
    }
}

static ETHYLENE: LazyLock<Polynomials> = LazyLock::new(|| laid_out(Glycol::Ethylene));
static PROPYLENE: LazyLock<Polynomials> = LazyLock::new(|| laid_out(Glycol::Propylene));

fn polynomials(glycol: Glycol) -> &'static Polynomials {
    match glycol {
        Glycol::Ethylene => &ETHYLENE,
        Glycol::Propylene => &PROPYLENE,
    }
}

/// The middle of the data, in per cent by mass and °C, from which the powers are counted.
/// Source: as the coefficients, see the head of the file.
const fn centre(glycol: Glycol) -> (f64, f64) {
    match glycol {
        Glycol::Ethylene => (30.8462, 31.728),
        Glycol::Propylene => (30.7031, 32.7083),
    }
}

/// The strongest mix that the polynomials hold for, by mass.
const STRONGEST: f64 = 0.6;
/// The hottest [°C].
const HOTTEST: f64 = 100.0;

fn sum(grid: &Grid, x: f64, t: f64) -> f64 {
    let of_temperature =
        |powers: &[f64; POWERS_OF_TEMPERATURE]| powers.iter().rev().fold(0.0, |sum, c| sum * t + c);
    grid.iter()
        .rev()
        .fold(0.0, |sum, powers| sum * x + of_temperature(powers))
}

fn celsius_of_freezing(glycol: Glycol, share: f64) -> f64 {
    sum(
        &polynomials(glycol).freezing,
        100.0 * share - centre(glycol).0,
        0.0,
    )
}

pub(super) fn freezes_at(glycol: Glycol, share: f64) -> Result<Sourced<Temperature>, Unknown> {
    if share > STRONGEST {
        return Err(too_strong(glycol, share));
    }
    Ok(Sourced {
        value: Temperature::celsius(celsius_of_freezing(glycol, share)),
        source: polynomials(glycol).source,
    })
}

fn too_strong(glycol: Glycol, share: f64) -> Unknown {
    Unknown::new(
        format!(
            "the figures for {} end at 60 per cent by mass, and {:.0} per cent are asked for",
            glycol.name(),
            100.0 * share
        ),
        "a mix of 60 per cent by mass at most",
    )
}

pub(super) fn share_for(glycol: Glycol, freezes: Temperature) -> Result<Sourced<f64>, Unknown> {
    let source = polynomials(glycol).source;
    let celsius = freezes.to_celsius();
    let (mut weak, mut strong) = (0.0, STRONGEST);
    if celsius >= celsius_of_freezing(glycol, weak) {
        return Ok(Sourced { value: 0.0, source });
    }
    if celsius < celsius_of_freezing(glycol, strong) {
        return Err(Unknown::new(
            format!(
                "no mix of {} up to 60 per cent by mass stands {celsius:.0} °C",
                glycol.name()
            ),
            "what the coolant's maker says of such cold, or draining the circuit for it",
        ));
    }
    // The curve falls all the way, so that halving finds the one share; forty halvings leave nothing.
    for _ in 0..40 {
        let middle = 0.5 * (weak + strong);
        if celsius_of_freezing(glycol, middle) > celsius {
            weak = middle;
        } else {
            strong = middle;
        }
    }
    Ok(Sourced {
        value: strong,
        source,
    })
}

/// Whether the polynomials hold for a mix at a temperature.
fn liquid(glycol: Glycol, share: f64, celsius: f64) -> Result<(), Unknown> {
    if share > STRONGEST {
        return Err(too_strong(glycol, share));
    }
    // A hair below freezing is rounding, not ice.
    if celsius > HOTTEST || celsius < celsius_of_freezing(glycol, share) - 0.5 {
        return Err(Unknown::new(
            format!(
                "the figures for {} hold from the freezing point to 100 °C, and {celsius:.0} °C is outside",
                glycol.name()
            ),
            "a temperature at which the mix is liquid, up to 100 °C",
        ));
    }
    Ok(())
}

pub(super) fn at<Q>(
    glycol: Glycol,
    share: f64,
    at: Temperature,
    property: Property,
    unit: fn(f64) -> Q,
) -> Result<Sourced<Q>, Unknown> {
    let celsius = at.to_celsius();
    liquid(glycol, share, celsius)?;
    let polynomials = polynomials(glycol);
    let grid = match property {
        Property::Density => &polynomials.density,
        Property::Heat => &polynomials.heat,
        Property::Conductivity => &polynomials.conductivity,
        Property::LogViscosity => &polynomials.viscosity,
    };
    let (x0, t0) = centre(glycol);
    Ok(Sourced {
        value: unit(sum(grid, 100.0 * share - x0, celsius - t0)),
        source: polynomials.source,
    })
}

/// By what share a mix grows per kelvin: the derivative of the polynomial of the density.
pub(super) fn expansion(
    glycol: Glycol,
    share: f64,
    at: Temperature,
) -> Result<Sourced<ThermalExpansion>, Unknown> {
    let celsius = at.to_celsius();
    liquid(glycol, share, celsius)?;
    let polynomials = polynomials(glycol);
    let (x0, t0) = centre(glycol);
    let (x, t) = (100.0 * share - x0, celsius - t0);
    let by_temperature = |powers: &[f64; POWERS_OF_TEMPERATURE]| {
        let powers = powers.iter().enumerate().skip(1).rev();
        powers.fold(0.0, |sum, (n, c)| sum * t + c * n as f64)
    };
    let slope = polynomials
        .density
        .iter()
        .rev()
        .fold(0.0, |sum, powers| sum * x + by_temperature(powers));
    Ok(Sourced {
        // OK because the densities of the fit lie between 900 and 1200.
        value: ThermalExpansion::of_si(-slope / sum(&polynomials.density, x, t)),
        source: polynomials.source,
    })
}

pub(super) fn tables() -> Vec<&'static Table> {
    vec![&ROWS.table]
}
