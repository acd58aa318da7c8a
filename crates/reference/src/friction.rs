//! Friction of a full pipe: the published friction factors, and one law of them that runs smoothly
//! from standstill to rough turbulence.
//!
//! A friction factor is Darcy's: the loss is f L/D · ρV²/2. `re` is the Reynolds number and
//! `roughness` the height of the roughness over the bore; both are pure numbers.

use std::f64::consts::PI;

use quantity::{
    Area, Density, DynamicViscosity, Length, PressureDifference, Quantity, Speed, VolumeFlow,
};
use serde::Deserialize;

use crate::range::within;
use crate::source::{Limits, SourceRef, Sourced, Unknown};
use crate::table::{Table, data, limits};

/// Up to this Reynolds number a pipe is taken as laminar. Unit: 1. Range: 2000. Source: Moody 1944 (2000 to 2300 in textbooks).
pub const LAMINAR_UP_TO: f64 = 2000.0;
/// From this Reynolds number a pipe is taken as turbulent. Unit: 1. Range: 4000. Source: Moody 1944.
pub const TURBULENT_FROM: f64 = 4000.0;
/// Highest Reynolds number of the published diagram. Unit: 1. Range: 1e8. Source: Moody 1944.
const HIGHEST: f64 = 1e8;
/// Roughest pipe of the published diagram. Unit: 1. Range: 0.05. Source: Moody 1944.
const ROUGHEST: f64 = 0.05;

const SPEED_AND_BORE: &str = "the flow, the bore and the temperature of the coolant";
const BORE: &str = "the bore, and what its wall is like inside";

/// Which kind of flow a pipe has. In the transition no factor is certain: it may be either.
/// Unit: none. Range: the three below. Source: Moody 1944.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Regime {
    /// Re up to 2000.
    Laminar,
    /// Re between 2000 and 4000: the factor is interpolated, nothing was published.
    Transition,
    /// Re from 4000 on.
    Turbulent,
}

impl Regime {
    /// The kind of flow at a Reynolds number. Unit: none. Range: any. Source: Moody 1944.
    pub fn at(re: f64) -> Self {
        if re <= LAMINAR_UP_TO {
            Self::Laminar
        } else if re < TURBULENT_FROM {
            Self::Transition
        } else {
            Self::Turbulent
        }
    }
}

/// A number and how it changes with the Reynolds number.
/// Unit: 1. Range: finite. Source: the function that gives it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slope {
    /// The number. Unit: 1. Range: finite. Source: the function that gives it.
    pub value: f64,
    /// Its derivative by the Reynolds number. Unit: 1. Range: finite. Source: the function that gives it.
    pub slope: f64,
}

/// Reynolds number ρVD/µ. Unit: 1. Range: finite for a viscosity over 0. Source: definition.
pub fn reynolds(
    density: Density,
    speed: Speed,
    bore: Length,
    viscosity: DynamicViscosity,
) -> Result<f64, Unknown> {
    let re = density.si() * speed.si() * bore.si() / viscosity.si();
    let sound = viscosity.si() > 0.0 && bore.si() > 0.0 && re.is_finite();
    sound
        .then_some(re)
        .ok_or_else(|| Unknown::new("bore and viscosity must be over zero", SPEED_AND_BORE))
}

/// Area of a round bore. Unit: m². Range: 0 and over. Source: definition.
pub fn bore_area(bore: Length) -> Area {
    bore * bore * (PI / 4.0)
}

/// Mean speed of a flow in a round bore. Unit: m/s. Range: bore over 0. Source: definition.
pub fn mean_speed(flow: VolumeFlow, bore: Length) -> Result<Speed, Unknown> {
    let speed = Speed::from_si(flow.si() / bore_area(bore).si()).filter(|_| bore.si() > 0.0);
    speed.ok_or_else(|| Unknown::new("the bore must be over zero", SPEED_AND_BORE))
}

/// Hydraulic diameter 4A/P of a channel that is not round. Unit: m. Range: wetted girth over 0. Source: definition.
pub fn hydraulic_diameter(area: Area, wetted: Length) -> Result<Length, Unknown> {
    let diameter = Length::from_si(4.0 * area.si() / wetted.si()).filter(|_| wetted.si() > 0.0);
    diameter.ok_or_else(|| Unknown::new("the wetted girth must be over zero", BORE))
}

/// Velocity head ρV²/2, always positive. Unit: Pa. Range: finite. Source: definition.
pub fn velocity_head(density: Density, speed: Speed) -> PressureDifference {
    // OK because densities and speeds of this world are far from overflow.
    PressureDifference::of_si(density.si() * speed.si() * speed.si() / 2.0)
}

/// Laminar factor 64/Re. Unit: 1. Range: Re over 0 and up to 2300. Source: Hagen and Poiseuille, in any text on pipes.
pub fn laminar(re: f64) -> Result<f64, Unknown> {
    within(
        "Re of a laminar pipe",
        re,
        f64::MIN_POSITIVE..=2300.0,
        SPEED_AND_BORE,
    )?;
    Ok(64.0 / re)
}

fn turbulent(re: f64, roughness: f64) -> Result<(), Unknown> {
    within(
        "Re of a turbulent pipe",
        re,
        TURBULENT_FROM..=HIGHEST,
        SPEED_AND_BORE,
    )?;
    within("roughness over bore", roughness, 0.0..=ROUGHEST, BORE)
}

/// Turbulent factor by Colebrook's equation, solved until it stands, and its slope.
/// Unit: 1. Range: Re 4000 to 1e8, roughness 0 to 0.05. Source: Colebrook 1939.
pub fn colebrook(re: f64, roughness: f64) -> Result<Slope, Unknown> {
    turbulent(re, roughness)?;
    Ok(solved(re, roughness))
}

/// 1/√f = −2 log₁₀(e/3.7 + 2.51/(Re √f)), by Newton in x = 1/√f. The left side less the right one
/// rises and is concave in x, so from Haaland's x a few steps reach the last digit.
fn solved(re: f64, roughness: f64) -> Slope {
    let log = |a: f64| 2.0 / std::f64::consts::LN_10 * a.ln();
    let mut x = haaland_root(re, roughness);
    for _ in 0..20 {
        let a = roughness / 3.7 + 2.51 * x / re;
        let steep = 1.0 + 2.0 / std::f64::consts::LN_10 * 2.51 / (re * a);
        let step = (x + log(a)) / steep;
        x -= step;
        if step.abs() < 1e-14 * x {
            break;
        }
    }
    let a = roughness / 3.7 + 2.51 * x / re;
    let part = 2.0 / std::f64::consts::LN_10 * 2.51 / (re * a);
    let by_re = part * x / re / (1.0 + part);
    Slope {
        value: 1.0 / (x * x),
        slope: -2.0 * by_re / (x * x * x),
    }
}

fn haaland_root(re: f64, roughness: f64) -> f64 {
    -1.8 * ((roughness / 3.7).powf(1.11) + 6.9 / re).log10()
}

/// Turbulent factor by Haaland's explicit formula, within 2 % of Colebrook's.
/// Unit: 1. Range: Re 4000 to 1e8, roughness 0 to 0.05. Source: Haaland 1983.
pub fn haaland(re: f64, roughness: f64) -> Result<f64, Unknown> {
    turbulent(re, roughness)?;
    Ok(haaland_root(re, roughness).powi(-2))
}

/// Factor for all Reynolds numbers by Churchill's one formula; in the transition it is a guess as any other.
/// Unit: 1. Range: Re over 0 to 1e8, roughness 0 to 0.05. Source: Churchill 1977, Chemical Engineering 84(24).
pub fn churchill(re: f64, roughness: f64) -> Result<f64, Unknown> {
    within("Re", re, f64::MIN_POSITIVE..=HIGHEST, SPEED_AND_BORE)?;
    within("roughness over bore", roughness, 0.0..=ROUGHEST, BORE)?;
    if re < 1.0 {
        // The sixteenth power of what is added to this is lost in rounding long before.
        return Ok(64.0 / re);
    }
    let a = (2.457 * (1.0 / ((7.0 / re).powf(0.9) + 0.27 * roughness)).ln()).powi(16);
    let b = (37_530.0 / re).powi(16);
    Ok(8.0 * ((8.0 / re).powi(12) + (a + b).powf(-1.5)).powf(1.0 / 12.0))
}

/// Factor of rough turbulence, where the Reynolds number counts no more.
/// Unit: 1. Range: roughness over 0 to 0.05. Source: von Kármán, in Moody 1944.
pub fn fully_rough(roughness: f64) -> Result<f64, Unknown> {
    within(
        "roughness over bore",
        roughness,
        f64::MIN_POSITIVE..=ROUGHEST,
        BORE,
    )?;
    Ok(0.25 * (roughness / 3.7).log10().powi(-2))
}

/// The one law: 64/Re up to 2000, Colebrook from 4000, between them a cubic that meets both in
/// value and slope. The cubic is our own bridge; nothing was published for the transition.
/// Unit: 1. Range: Re over 0 to 1e8, roughness 0 to 0.05. Source: Hagen and Poiseuille; Colebrook 1939; the bridge is common practice.
pub fn factor(re: f64, roughness: f64) -> Result<Slope, Unknown> {
    within("Re", re, f64::MIN_POSITIVE..=HIGHEST, SPEED_AND_BORE)?;
    within("roughness over bore", roughness, 0.0..=ROUGHEST, BORE)?;
    Ok(match Regime::at(re) {
        Regime::Laminar => laminar_slope(re),
        Regime::Turbulent => solved(re, roughness),
        Regime::Transition => bridge(
            re,
            laminar_slope(LAMINAR_UP_TO),
            solved(TURBULENT_FROM, roughness),
        ),
    })
}

fn laminar_slope(re: f64) -> Slope {
    Slope {
        value: 64.0 / re,
        slope: -64.0 / (re * re),
    }
}

/// The cubic over the transition.
fn bridge(re: f64, from: Slope, to: Slope) -> Slope {
    let width = TURBULENT_FROM - LAMINAR_UP_TO;
    let t = (re - LAMINAR_UP_TO) / width;
    let (rise, begins, ends) = (to.value - from.value, from.slope * width, to.slope * width);
    // Hermite's cubic: value, then begins·t, then what is left for the second and third power.
    let square = 3.0 * rise - 2.0 * begins - ends;
    let cube = begins + ends - 2.0 * rise;
    Slope {
        value: from.value + t * (begins + t * (square + t * cube)),
        slope: (begins + t * (2.0 * square + 3.0 * t * cube)) / width,
    }
}

/// f Re |Re|: the loss freed of the fluid, regular at standstill and of the sign of the flow, so that
/// a network can be solved with it. The loss of a pipe is this times µ² L/(2 ρ D³).
/// Unit: 1. Range: |Re| up to 1e8, roughness 0 to 0.05. Source: [`factor`].
pub fn reduced_loss(re: f64, roughness: f64) -> Result<Slope, Unknown> {
    let size = re.abs();
    if size <= LAMINAR_UP_TO {
        within("roughness over bore", roughness, 0.0..=ROUGHEST, BORE)?;
        return Ok(Slope {
            value: 64.0 * re,
            slope: 64.0,
        });
    }
    let f = factor(size, roughness)?;
    Ok(Slope {
        value: f.value * re * size,
        slope: f.slope * size * size + 2.0 * f.value * size,
    })
}

/// As [`reduced_loss`], with a straight line in Re between the two laws in place of the cubic: it meets
/// both in value and not in slope.
/// Unit: 1. Range: as [`reduced_loss`]. Source: Hagen and Poiseuille; Colebrook 1939; the line is common practice.
pub fn reduced_loss_by_line(re: f64, roughness: f64) -> Result<Slope, Unknown> {
    let size = re.abs();
    if Regime::at(size) != Regime::Transition {
        return reduced_loss(re, roughness);
    }
    let from = laminar_slope(LAMINAR_UP_TO).value;
    let rise = colebrook(TURBULENT_FROM, roughness)?.value - from;
    let slope = rise / (TURBULENT_FROM - LAMINAR_UP_TO);
    let f = from + slope * (size - LAMINAR_UP_TO);
    Ok(Slope {
        value: f * re * size,
        slope: slope * size * size + 2.0 * f * size,
    })
}

/// What a straight round pipe loses, with the sign of the flow.
/// Unit: Pa. Range: as [`reduced_loss`]. Source: Darcy and Weisbach, with [`factor`].
pub fn pipe_loss(
    density: Density,
    viscosity: DynamicViscosity,
    flow: VolumeFlow,
    bore: Length,
    length: Length,
    roughness: Length,
) -> Result<PressureDifference, Unknown> {
    let speed = mean_speed(flow, bore)?;
    let re = reynolds(density, speed, bore, viscosity)?;
    let reduced = reduced_loss(re, roughness / bore)?;
    let scale = viscosity.si().powi(2) * length.si() / (2.0 * density.si() * bore.si().powi(3));
    PressureDifference::from_si(reduced.value * scale)
        .ok_or_else(|| Unknown::new("the density must be over zero", SPEED_AND_BORE))
}

/// What the inside of a pipe or hose is like.
/// Unit: none. Range: those below. Source: Moody 1944, and the trade.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Surface {
    /// Drawn tube of copper, brass or copper-nickel; smooth rubber and plastic hose.
    DrawnOrHose,
    /// Commercial steel pipe, new.
    NewSteel,
    /// Galvanised steel.
    Galvanised,
    /// Cast iron.
    CastIron,
    /// Steel that has rusted.
    RustedSteel,
}

impl Surface {
    /// All of them. Unit: none. Range: all. Source: this crate.
    pub const ALL: [Self; 5] = [
        Self::DrawnOrHose,
        Self::NewSteel,
        Self::Galvanised,
        Self::CastIron,
        Self::RustedSteel,
    ];
}

struct Rough {
    surface: Surface,
    height: Limits<Length>,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawRough {
    surface: Surface,
    height: [f64; 2],
    source: Option<String>,
}

data!(static ROUGHNESS: Rough = "roughness.toml", RawRough, |table, raw| Rough {
    surface: raw.surface,
    height: limits(raw.height, Length::mm),
    source: table.source(raw.source.as_deref()),
});

/// Height of the roughness. A hose with a wire helix that shows inside is no smooth hose: its
/// friction is two to four times that of a smooth one.
/// Unit: m. Range: 0.0015 to 3 mm. Source: Moody 1944; rusted steel is common practice.
pub fn roughness(surface: Surface) -> Sourced<Limits<Length>> {
    let row = ROUGHNESS.rows.iter().find(|row| row.surface == surface);
    // OK because a test asks for every surface.
    let row = row.unwrap_or_else(|| panic!("roughness.toml has no {surface:?}"));
    Sourced {
        value: row.height,
        source: row.source,
    }
}

pub(crate) fn tables() -> Vec<&'static Table> {
    vec![&ROUGHNESS.table]
}
