//! Heat through the film at a wall: Nusselt numbers inside pipes and channels, along a hull, and in
//! water at rest.
//!
//! All are pure numbers; [`coefficient`] turns one into a heat transfer coefficient. Properties
//! belong to the mean of bulk and wall, inside to the mean of inlet and outlet.

use quantity::{
    HeatTransferCoefficient, Length, Quantity, TemperatureDifference, ThermalConductivity,
    ThermalExpansion,
};

use crate::fluid::Fluid;
use crate::pump::STANDARD_GRAVITY;
use crate::range::within;
use crate::source::Unknown;

const INSIDE: &str = "the flow, the bore and the temperature of the coolant";
const OUTSIDE: &str = "the speed of the water, where the cooler lies and the sea's temperature";
const STILL: &str = "the size of the surface, and how much warmer it is than the water";

/// Up to this Reynolds number the film inside is laminar. Unit: 1. Range: 2300. Source: Gnielinski 2013.
pub const LAMINAR_UP_TO: f64 = 2300.0;
/// From this Reynolds number the film inside is turbulent. Unit: 1. Range: 4000. Source: Gnielinski 2013.
pub const TURBULENT_FROM: f64 = 4000.0;

/// Heat transfer coefficient of a film: Nu k/L.
/// Unit: W/(m² K). Range: length over 0. Source: definition of the Nusselt number.
pub fn coefficient(
    nusselt: f64,
    conductivity: ThermalConductivity,
    length: Length,
) -> Result<HeatTransferCoefficient, Unknown> {
    HeatTransferCoefficient::from_si(nusselt * conductivity.si() / length.si())
        .filter(|_| length.si() > 0.0)
        .ok_or_else(|| Unknown::new("the length must be over zero", "the bore or the length"))
}

fn prandtl(pr: f64) -> Result<(), Unknown> {
    within("the Prandtl number", pr, 0.5..=2000.0, INSIDE)
}

/// Turbulent flow in a long smooth pipe, to 10 %.
/// Unit: 1. Range: Re 3000 to 5e6, Pr 0.5 to 2000. Source: Gnielinski 1976, friction by Petukhov 1970.
pub fn gnielinski(re: f64, pr: f64) -> Result<f64, Unknown> {
    within("Re of a turbulent film", re, 3000.0..=5e6, INSIDE)?;
    prandtl(pr)?;
    let eighth = (0.79 * re.ln() - 1.64).powi(-2) / 8.0;
    let below = 1.0 + 12.7 * eighth.sqrt() * (pr.cbrt().powi(2) - 1.0);
    Ok(eighth * (re - 1000.0) * pr / below)
}

/// Laminar flow in a pipe from its inlet on, the wall of one temperature: the mean over the length.
/// Unit: 1. Range: Re over 0 to 2300, bore over length 0 (a long pipe) to 1. Source: Hausen 1943, in Incropera.
pub fn hausen(re: f64, pr: f64, bore_over_length: f64) -> Result<f64, Unknown> {
    within("Re of a laminar film", re, 0.0..=LAMINAR_UP_TO, INSIDE)?;
    prandtl(pr)?;
    within(
        "bore over length",
        bore_over_length,
        0.0..=1.0,
        "the bore and the length of the pipe",
    )?;
    let graetz = re * pr * bore_over_length;
    Ok(3.66 + 0.0668 * graetz / (1.0 + 0.04 * graetz.cbrt().powi(2)))
}

/// Inside a pipe at any Reynolds number: laminar to 2300, turbulent from 4000, between them on a
/// straight line from the one to the other, so that no step stops a solver. In the transition the
/// film may be either. Corrections for entrance and wall are not in it.
/// Unit: 1. Range: Re 0 to 5e6, Pr 0.5 to 2000. Source: Hausen; Gnielinski 1976; between them Gnielinski 2013.
pub fn inside(re: f64, pr: f64, bore_over_length: f64) -> Result<f64, Unknown> {
    if re <= LAMINAR_UP_TO {
        return hausen(re, pr, bore_over_length);
    }
    if re >= TURBULENT_FROM {
        return gnielinski(re, pr);
    }
    let (low, high) = (
        hausen(LAMINAR_UP_TO, pr, bore_over_length)?,
        gnielinski(TURBULENT_FROM, pr)?,
    );
    within("Re", re, LAMINAR_UP_TO..=TURBULENT_FROM, INSIDE)?;
    let towards = (re - LAMINAR_UP_TO) / (TURBULENT_FROM - LAMINAR_UP_TO);
    Ok(low + (high - low) * towards)
}

/// What the short way from the inlet adds to a turbulent film. Unit: 1. Range: bore over length 0 to 1. Source: Gnielinski 1976, after Hausen.
pub fn entrance_factor(bore_over_length: f64) -> Result<f64, Unknown> {
    within(
        "bore over length",
        bore_over_length,
        0.0..=1.0,
        "the bore and the length of the pipe",
    )?;
    Ok(1.0 + bore_over_length.cbrt().powi(2))
}

/// What the temperature of the wall does to a turbulent film of a liquid: (Pr/Pr wall) to 0.11.
/// Unit: 1. Range: Pr over Pr of the wall 0.05 to 20. Source: Gnielinski 1976.
pub fn wall_factor(pr: f64, pr_wall: f64) -> Result<f64, Unknown> {
    let ratio = pr / pr_wall;
    within(
        "Pr over that at the wall",
        ratio,
        0.05..=20.0,
        "the temperature of the wall",
    )?;
    Ok(ratio.powf(0.11))
}

/// Turbulent flow in a long pipe by the older power law; 10 to 25 % off below Re 10 000, where it
/// holds no more.
/// Unit: 1. Range: Re 1e4 to 1e6, Pr 0.7 to 160. Source: Dittus and Boelter 1930, the fluid being cooled, in Incropera.
pub fn dittus_boelter_cooled(re: f64, pr: f64) -> Result<f64, Unknown> {
    within("Re of a fully turbulent film", re, 1e4..=1e6, INSIDE)?;
    within("the Prandtl number", pr, 0.7..=160.0, INSIDE)?;
    Ok(0.023 * re.powf(0.8) * pr.powf(0.3))
}

/// Laminar flow far down a channel of straight walls, all of one temperature, on the hydraulic diameter.
/// Unit: 1. Range: see its fields. Source: Shah and London 1978.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Channel {
    /// Nusselt number. Unit: 1. Range: 2.98 to 7.54. Source: Shah and London 1978.
    pub nusselt: f64,
    /// Darcy's friction factor times the Reynolds number. Unit: 1. Range: 56.9 to 96. Source: Shah and London 1978.
    pub friction_re: f64,
}

/// Laminar flow far down a rectangular channel; a flat tank has an aspect near 0.
/// Unit: 1. Range: short side over long side 0 to 1. Source: Shah and London 1978, their polynomials.
pub fn channel(short_over_long: f64) -> Result<Channel, Unknown> {
    let settles = "the width and the depth of the channel";
    within(
        "short side over long side",
        short_over_long,
        0.0..=1.0,
        settles,
    )?;
    let a = short_over_long;
    let nusselt = 1.0 + a * (-2.610 + a * (4.970 + a * (-5.119 + a * (2.702 - a * 0.548))));
    let friction = 1.0 + a * (-1.3553 + a * (1.9467 + a * (-1.7012 + a * (0.9564 - a * 0.2537))));
    Ok(Channel {
        nusselt: 7.541 * nusselt,
        friction_re: 96.0 * friction,
    })
}

/// A flat channel that gives heat on one of its two wide walls, the other insulated: a tank on a
/// ship's skin. Laminar, far down the channel, on the hydraulic diameter (twice the gap).
/// Unit: 1. Range: 4.861. Source: Shah and London 1978.
pub fn channel_one_wall() -> f64 {
    4.861
}

fn plate_prandtl(pr: f64) -> Result<(), Unknown> {
    within("the Prandtl number", pr, 0.6..=60.0, OUTSIDE)
}

/// Turbulent flow along a plate, at one place. Unit: 1. Range: Re from the leading edge 5e5 to 1e8 (published to 1e7), Pr 0.6 to 60. Source: Incropera, after Schlichting.
pub fn plate_local(re: f64, pr: f64) -> Result<f64, Unknown> {
    within("Re from the bow", re, 5e5..=1e8, OUTSIDE)?;
    plate_prandtl(pr)?;
    Ok(0.0296 * re.powf(0.8) * pr.cbrt())
}

/// Turbulent flow along a hull, the mean over a cooler that begins somewhere aft of the bow; on the
/// cooler's own length. The layer is taken as turbulent from the bow, since hulls are rough.
/// Unit: 1. Range: Re from the bow to the cooler's fore end 0 and over, to its aft end up to 1e8, Pr 0.6 to 60. Source: integral of the local law in Incropera; turbulent from the bow is common practice.
pub fn plate_between(re_fore: f64, re_aft: f64, pr: f64) -> Result<f64, Unknown> {
    within(
        "Re from the bow to the cooler's aft end",
        re_aft,
        0.0..=1e8,
        OUTSIDE,
    )?;
    within(
        "Re from the bow to the cooler's fore end",
        re_fore,
        0.0..=re_aft,
        OUTSIDE,
    )?;
    plate_prandtl(pr)?;
    Ok(0.037 * (re_aft.powf(0.8) - re_fore.powf(0.8)) * pr.cbrt())
}

/// Flow along a smooth plate from its leading edge, laminar to Re 5e5 and turbulent after; the mean.
/// Unit: 1. Range: Re over the length 0 to 1e8, Pr 0.6 to 60. Source: Incropera, section 7.2.
pub fn plate_smooth(re: f64, pr: f64) -> Result<f64, Unknown> {
    within("Re over the plate", re, 0.0..=1e8, OUTSIDE)?;
    plate_prandtl(pr)?;
    let by_re = if re <= 5e5 {
        0.664 * re.sqrt()
    } else {
        0.037 * re.powf(0.8) - 871.0
    };
    Ok(by_re * pr.cbrt())
}

/// Rayleigh number g |β ΔT| L³/(ν a): how strongly warmth stirs water at rest. Its sign is left out:
/// fresh water under 4 °C moves down where it is warmed.
/// Unit: 1. Range: 0 and over. Source: definition.
pub fn rayleigh(
    fluid: &Fluid,
    expansion: ThermalExpansion,
    warmer: TemperatureDifference,
    length: Length,
) -> Result<f64, Unknown> {
    let stirs = STANDARD_GRAVITY * (expansion.si() * warmer.si()).abs() * length.si().powi(3);
    let ra = stirs / (fluid.kinematic() * fluid.diffusivity());
    (ra.is_finite() && ra >= 0.0)
        .then_some(ra)
        .ok_or_else(|| Unknown::new("a fluid without viscosity or conductivity", STILL))
}

/// What Prandtl's number does in Churchill and Chu's two formulas.
fn churchill_chu(start: f64, middle: f64, ra: f64, pr: f64) -> Result<f64, Unknown> {
    within("the Rayleigh number", ra, 0.0..=1e12, STILL)?;
    within(
        "the Prandtl number",
        pr,
        f64::MIN_POSITIVE..=f64::MAX,
        STILL,
    )?;
    let by_prandtl = (1.0 + (middle / pr).powf(9.0 / 16.0)).powf(8.0 / 27.0);
    Ok((start + 0.387 * ra.powf(1.0 / 6.0) / by_prandtl).powi(2))
}

/// Water at rest along an upright plate, on its height. Unit: 1. Range: Ra 0 to 1e12, any Pr. Source: Churchill and Chu 1975.
pub fn still_upright(ra: f64, pr: f64) -> Result<f64, Unknown> {
    churchill_chu(0.825, 0.492, ra, pr)
}

/// Water at rest round a level pipe, on its outside diameter. Unit: 1. Range: Ra 0 to 1e12, any Pr. Source: Churchill and Chu 1975.
pub fn still_pipe(ra: f64, pr: f64) -> Result<f64, Unknown> {
    churchill_chu(0.60, 0.559, ra, pr)
}

/// Water at rest under a warm plate that faces down, on its area over its girth: a flat bottom. Much
/// weaker than an upright plate, whose formula must not stand in for it.
/// Unit: 1. Range: Ra 1e4 to 1e9, Pr 0.7 and over. Source: Incropera, 7th edition, equation 9.32; the factor 0.52 from memory.
pub fn still_under(ra: f64, pr: f64) -> Result<f64, Unknown> {
    within("the Rayleigh number", ra, 1e4..=1e9, STILL)?;
    within("the Prandtl number", pr, 0.7..=f64::MAX, STILL)?;
    Ok(0.52 * ra.powf(0.2))
}

/// As [`still_under`], by the older law, which reaches to larger surfaces.
/// Unit: 1. Range: Ra 1e5 to 1e10. Source: McAdams 1954.
pub fn still_under_older(ra: f64) -> Result<f64, Unknown> {
    within("the Rayleigh number", ra, 1e5..=1e10, STILL)?;
    Ok(0.27 * ra.powf(0.25))
}

/// Both together, where the stream runs with the warm water or across it: cubes add.
/// Unit: 1. Range: both on one length, both 0 and over. Source: Churchill 1977; Incropera, section 9.9.
pub fn mixed(forced: f64, still: f64) -> Result<f64, Unknown> {
    within("the forced Nusselt number", forced, 0.0..=f64::MAX, OUTSIDE)?;
    within("the Nusselt number at rest", still, 0.0..=f64::MAX, STILL)?;
    let (large, small) = (forced.max(still), forced.min(still));
    if large == 0.0 {
        return Ok(0.0);
    }
    Ok(large * (1.0 + (small / large).powi(3)).cbrt())
}
