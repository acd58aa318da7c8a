//! The liquids that run in and round a circuit, tabulated from the published properties.

use quantity::{Quantity, Ratio, Temperature};
use reference::media::{self, Glycol, Strength};
use reference::{Unknown, seawater, water};

use super::medium::Medium;

/// Steps of a table: 1.25 K and finer.
const STEPS: usize = 128;
/// Warmest water in a table [°C].
const WARMEST: f64 = 125.0;

/// Fresh water from 0 to 125 °C.
pub fn fresh() -> Result<Medium, Unknown> {
    let property = |t: f64| {
        let fluid = water::fluid(Temperature::celsius(t)).ok()?;
        Some([
            fluid.density.si(),
            fluid.specific_heat.si(),
            fluid.conductivity.si(),
            fluid.viscosity.si(),
        ])
    };
    made(0.0, WARMEST, property, "fresh water")
}

/// Sea water of a salinity [kg/kg] from 0 to 120 °C.
pub fn sea(salt: f64) -> Result<Medium, Unknown> {
    let salt = Ratio::from_si(salt).ok_or_else(|| Unknown {
        why: "the salinity is no number".into(),
        settles: "the salinity of the water".into(),
    })?;
    let property = |t: f64| {
        let fluid = seawater::fluid(Temperature::celsius(t), salt).ok()?;
        Some([
            fluid.density.si(),
            fluid.specific_heat.si(),
            fluid.conductivity.si(),
            fluid.viscosity.si(),
        ])
    };
    made(0.0, 120.0, property, "sea water")
}

/// A mix with glycol, from where it freezes to where its tables end.
pub fn mix<S: Strength + Copy>(glycol: Glycol, strength: S) -> Result<Medium, Unknown> {
    let freezes = media::freezes_at(glycol, strength)?.value.to_celsius();
    let property = |t: f64| {
        let at = Temperature::celsius(t);
        Some([
            media::density(glycol, strength, at).ok()?.value.si(),
            media::specific_heat(glycol, strength, at).ok()?.value.si(),
            media::thermal_conductivity(glycol, strength, at)
                .ok()?
                .value
                .si(),
            media::viscosity(glycol, strength, at).ok()?.value.si(),
        ])
    };
    // Tables begin a little above the freezing point, and end where the source does.
    let whole = |t: f64| property(t).is_some();
    let low = (0..400)
        .map(|i| (freezes + 0.25 * f64::from(i)).ceil())
        .find(|t| whole(*t));
    let high = (0..60).map(|i| WARMEST - f64::from(i)).find(|t| whole(*t));
    match (low, high) {
        (Some(low), Some(high)) if low < high => made(low, high, property, "the mix"),
        _ => Err(Unknown {
            why: "the properties of this mix are not published".into(),
            settles: "the coolant's kind and strength".into(),
        }),
    }
}

fn made(
    low: f64,
    high: f64,
    property: impl Fn(f64) -> Option<[f64; 4]>,
    what: &str,
) -> Result<Medium, Unknown> {
    Medium::tabulate(low, high, STEPS, property).ok_or_else(|| Unknown {
        why: format!("the properties of {what} are not published from {low:.0} to {high:.0} °C"),
        settles: "its kind and strength".into(),
    })
}
