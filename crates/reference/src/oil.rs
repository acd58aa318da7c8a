//! Engine oil as a liquid, for oil coolers: one table of unused oil, straight lines between its rows.
//!
//! Oils of other grades differ by half and more in viscosity, and by a few per cent in the rest. Where the oil's
//! own sheet is to hand it goes before this table.

use quantity::{
    Density, DynamicViscosity, Quantity, SpecificHeat, Temperature, ThermalConductivity,
};
use serde::Deserialize;

use crate::fluid::Fluid;
use crate::source::{SourceRef, Unknown};
use crate::table::{Table, data};

struct Row {
    kelvin: f64,
    density: f64,
    heat: f64,
    conductivity: f64,
    log_viscosity: f64,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawRow {
    at: f64,
    density: f64,
    heat: f64,
    conductivity: f64,
    viscosity: f64,
}

data!(static ROWS: Row = "engine-oil.toml", RawRow, |_, raw| Row {
    kelvin: raw.at,
    density: raw.density,
    heat: raw.heat,
    conductivity: raw.conductivity,
    // Between two rows the logarithm runs far straighter than the viscosity itself.
    log_viscosity: (raw.viscosity / 1000.0).ln(),
});

/// Where the table comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
pub fn source() -> SourceRef {
    ROWS.table.sources[0]
}

/// The rows around a temperature, and how far it lies between them.
fn place(at: Temperature) -> Result<(&'static Row, &'static Row, f64), Unknown> {
    let (rows, kelvin) = (&ROWS.rows, at.si());
    let (coldest, hottest) = (rows[0].kelvin, rows[rows.len() - 1].kelvin);
    if !(coldest..=hottest).contains(&kelvin) {
        return Err(Unknown::new(
            format!(
                "the table of engine oil holds from {:.0} to {:.0} °C, and {:.0} °C is outside",
                coldest - 273.15,
                hottest - 273.15,
                at.to_celsius()
            ),
            "the temperature of the oil, or the oil's own sheet",
        ));
    }
    let after = rows.partition_point(|row| row.kelvin <= kelvin);
    let after = after.clamp(1, rows.len() - 1);
    let (one, other) = (&rows[after - 1], &rows[after]);
    Ok((
        one,
        other,
        (kelvin - one.kelvin) / (other.kelvin - one.kelvin),
    ))
}

fn at_place(at: Temperature, of: fn(&Row) -> f64) -> Result<f64, Unknown> {
    let (one, other, part) = place(at)?;
    Ok(of(one) + part * (of(other) - of(one)))
}

/// Density. Unit: kg/m³. Range: 273 to 430 K (0 to 157 °C). Source: Incropera and DeWitt, table A.5.
pub fn density(at: Temperature) -> Result<Density, Unknown> {
    // OK because the table holds 806 to 900, and all below are as plain.
    at_place(at, |row| row.density).map(Density::of_si)
}

/// Heat to warm it. Unit: J/(kg K). Range: 273 to 430 K (0 to 157 °C). Source: Incropera and DeWitt, table A.5.
pub fn specific_heat(at: Temperature) -> Result<SpecificHeat, Unknown> {
    at_place(at, |row| row.heat).map(SpecificHeat::of_si)
}

/// Conductivity. Unit: W/(m K). Range: 273 to 430 K (0 to 157 °C). Source: Incropera and DeWitt, table A.5.
pub fn conductivity(at: Temperature) -> Result<ThermalConductivity, Unknown> {
    at_place(at, |row| row.conductivity).map(ThermalConductivity::of_si)
}

/// Viscosity of the table's own oil; a usual multigrade is thinner by a third when hot.
/// Unit: Pa s. Range: 273 to 430 K (0 to 157 °C). Source: Incropera and DeWitt, table A.5.
pub fn viscosity(at: Temperature) -> Result<DynamicViscosity, Unknown> {
    at_place(at, |row| row.log_viscosity).map(|log| DynamicViscosity::of_si(log.exp()))
}

/// Oil at one temperature. Unit: SI. Range: 273 to 430 K (0 to 157 °C). Source: the four functions above.
pub fn fluid(at: Temperature) -> Result<Fluid, Unknown> {
    let (one, other, part) = place(at)?;
    let of = |of: fn(&Row) -> f64| of(one) + part * (of(other) - of(one));
    Ok(Fluid {
        density: Density::of_si(of(|row| row.density)),
        specific_heat: SpecificHeat::of_si(of(|row| row.heat)),
        conductivity: ThermalConductivity::of_si(of(|row| row.conductivity)),
        viscosity: DynamicViscosity::of_si(of(|row| row.log_viscosity).exp()),
    })
}

pub(crate) fn tables() -> Vec<&'static Table> {
    vec![&ROWS.table]
}
