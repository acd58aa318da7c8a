//! Heat through the film at a wall: Nusselt numbers inside pipes and channels, along a hull, and in
//! water at rest.
//!
//! All are pure numbers; [`coefficient`] turns one into a heat transfer coefficient. Properties
//! belong to the mean of bulk and wall, inside to the mean of inlet and outlet. Each takes plain numbers, or
//! such as carry their derivatives.

use quantity::{
    HeatTransferCoefficient, Length, Quantity, TemperatureDifference, ThermalConductivity,
    ThermalExpansion,
};

use crate::fluid::Fluid;
use crate::number::Number;
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

fn prandtl<D: Number>(pr: D) -> Result<(), Unknown> {
    within("the Prandtl number", pr.re(), 0.5..=2000.0, INSIDE)
}

/// Turbulent flow in a long smooth pipe, to 10 %.
/// Unit: 1. Range: Re 3000 to 5e6, Pr 0.5 to 2000. Source: Gnielinski 1976, friction by Petukhov 1970.
pub fn gnielinski<D: Number>(re: D, pr: D) -> Result<D, Unknown> {
    within("Re of a turbulent film", re.re(), 3000.0..=5e6, INSIDE)?;
    prandtl(pr)?;
    let eighth = (re.ln() * 0.79 - 1.64).powi(-2) / 8.0;
    let below = eighth.sqrt() * (pr.cbrt().powi(2) - 1.0) * 12.7 + 1.0;
    Ok(eighth * (re - 1000.0) * pr / below)
}

/// Laminar flow in a pipe from its inlet on, the wall of one temperature: the mean over the length.
/// Unit: 1. Range: Re over 0 to 2300, bore over length 0 (a long pipe) to 1. Source: Hausen 1943, in Incropera.
pub fn hausen<D: Number>(re: D, pr: D, bore_over_length: f64) -> Result<D, Unknown> {
    within("Re of a laminar film", re.re(), 0.0..=LAMINAR_UP_TO, INSIDE)?;
    prandtl(pr)?;
    within(
        "bore over length",
        bore_over_length,
        0.0..=1.0,
        "the bore and the length of the pipe",
    )?;
    let graetz = re * pr * bore_over_length;
    // The cube root has no slope at nothing, where the term is nothing too.
    if graetz.re() < 1e-12 {
        return Ok(graetz * 0.0668 + 3.66);
    }
    Ok(graetz * 0.0668 / (graetz.cbrt().powi(2) * 0.04 + 1.0) + 3.66)
}

/// Inside a pipe at any Reynolds number: laminar to 2300, turbulent from 4000, between them on a
/// straight line from the one to the other, so that no step stops a solver. In the transition the
/// film may be either. Corrections for entrance and wall are not in it.
/// Unit: 1. Range: Re 0 to 5e6, Pr 0.5 to 2000. Source: Hausen; Gnielinski 1976; between them Gnielinski 2013.
pub fn inside<D: Number>(re: D, pr: D, bore_over_length: f64) -> Result<D, Unknown> {
    if re.re() <= LAMINAR_UP_TO {
        return hausen(re, pr, bore_over_length);
    }
    if re.re() >= TURBULENT_FROM {
        return gnielinski(re, pr);
    }
    let (low, high) = (
        hausen(D::from(LAMINAR_UP_TO), pr, bore_over_length)?,
        gnielinski(D::from(TURBULENT_FROM), pr)?,
    );
    within("Re", re.re(), LAMINAR_UP_TO..=TURBULENT_FROM, INSIDE)?;
    let towards = (re - LAMINAR_UP_TO) / (TURBULENT_FROM - LAMINAR_UP_TO);
    Ok(low + (high - low) * towards)
}

/// As [`inside`], in a flat channel that gives heat on one of its two wide walls: in laminar flow the film is
/// the one of such a channel far down it, 4.861 in place of 3.66, and what the inlet adds is that of a pipe.
/// Unit: 1. Range: as [`inside`]. Source: Shah and London 1978; the inlet's share by Hausen is common practice.
pub fn inside_flat<D: Number>(re: D, pr: D, bore_over_length: f64) -> Result<D, Unknown> {
    let more = channel_one_wall() - 3.66;
    if re.re() <= LAMINAR_UP_TO {
        return Ok(hausen(re, pr, bore_over_length)? + more);
    }
    if re.re() >= TURBULENT_FROM {
        return gnielinski(re, pr);
    }
    let low = hausen(D::from(LAMINAR_UP_TO), pr, bore_over_length)? + more;
    let high = gnielinski(D::from(TURBULENT_FROM), pr)?;
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

fn plate_prandtl<D: Number>(pr: D) -> Result<(), Unknown> {
    within("the Prandtl number", pr.re(), 0.6..=60.0, OUTSIDE)
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
pub fn plate_between<D: Number>(re_fore: D, re_aft: D, pr: D) -> Result<D, Unknown> {
    within(
        "Re from the bow to the cooler's aft end",
        re_aft.re(),
        0.0..=1e8,
        OUTSIDE,
    )?;
    within(
        "Re from the bow to the cooler's fore end",
        re_fore.re(),
        0.0..=re_aft.re(),
        OUTSIDE,
    )?;
    plate_prandtl(pr)?;
    // A power under one has no slope at nothing; a hull at rest, or a cooler at the bow, needs none.
    let to = |re: D| {
        if re.re() > 0.0 {
            re.powf(0.8)
        } else {
            D::from(0.0)
        }
    };
    Ok((to(re_aft) - to(re_fore)) * pr.cbrt() * 0.037)
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
fn churchill_chu<D: Number>(start: f64, middle: f64, ra: D, pr: D) -> Result<D, Unknown> {
    within("the Rayleigh number", ra.re(), 0.0..=1e12, STILL)?;
    within(
        "the Prandtl number",
        pr.re(),
        f64::MIN_POSITIVE..=f64::MAX,
        STILL,
    )?;
    if ra.re() == 0.0 {
        return Ok(D::from(start * start));
    }
    let by_prandtl = ((D::from(middle) / pr).powf(9.0 / 16.0) + 1.0).powf(8.0 / 27.0);
    Ok((ra.powf(1.0 / 6.0) * 0.387 / by_prandtl + start).powi(2))
}

/// Water at rest along an upright plate, on its height. Unit: 1. Range: Ra 0 to 1e12, any Pr. Source: Churchill and Chu 1975.
pub fn still_upright<D: Number>(ra: D, pr: D) -> Result<D, Unknown> {
    churchill_chu(0.825, 0.492, ra, pr)
}

/// Water at rest round a level pipe, on its outside diameter. Unit: 1. Range: Ra 0 to 1e12, any Pr. Source: Churchill and Chu 1975.
pub fn still_pipe<D: Number>(ra: D, pr: D) -> Result<D, Unknown> {
    churchill_chu(0.60, 0.559, ra, pr)
}

/// Water at rest under a warm plate that faces down, on its area over its girth: a flat bottom. Much
/// weaker than an upright plate, whose formula must not stand in for it.
/// Unit: 1. Range: Ra 1e4 to 1e9, Pr 0.7 and over. Source: Incropera, 7th edition, equation 9.32; the factor 0.52 from memory.
pub fn still_under<D: Number>(ra: D, pr: D) -> Result<D, Unknown> {
    within("the Rayleigh number", ra.re(), 1e4..=1e9, STILL)?;
    within("the Prandtl number", pr.re(), 0.7..=f64::MAX, STILL)?;
    Ok(ra.powf(0.2) * 0.52)
}

/// As [`still_under`], down to no difference of temperature: under its range the film stays that of the
/// range's end, since there is little to carry and no law of it.
/// Over its range, up to 1e10, the same law goes on: the older one, [`still_under_older`], gives more there, and
/// the smaller of the two is kept.
/// Unit: 1. Range: Ra 0 to 1e10, Pr 0.7 and over. Source: [`still_under`]; under Ra 1e4 and over 1e9 common practice.
pub fn still_bottom<D: Number>(ra: D, pr: D) -> Result<D, Unknown> {
    if ra.re() >= 0.0 && ra.re() < 1e4 {
        return still_under(D::from(1e4), pr);
    }
    if ra.re() > 1e9 && ra.re() <= 1e10 {
        return Ok(ra.powf(0.2) * 0.52);
    }
    still_under(ra, pr)
}

/// As [`still_under`], by the older law, which reaches to larger surfaces.
/// Unit: 1. Range: Ra 1e5 to 1e10. Source: McAdams 1954.
pub fn still_under_older<D: Number>(ra: D) -> Result<D, Unknown> {
    within("the Rayleigh number", ra.re(), 1e5..=1e10, STILL)?;
    Ok(ra.powf(0.25) * 0.27)
}

/// Both together, where the stream runs with the warm water or across it: cubes add.
/// Unit: 1. Range: both on one length, both 0 and over. Source: Churchill 1977; Incropera, section 9.9.
pub fn mixed<D: Number>(forced: D, still: D) -> Result<D, Unknown> {
    within(
        "the forced Nusselt number",
        forced.re(),
        0.0..=f64::MAX,
        OUTSIDE,
    )?;
    within(
        "the Nusselt number at rest",
        still.re(),
        0.0..=f64::MAX,
        STILL,
    )?;
    let (large, small) = if forced.re() > still.re() {
        (forced, still)
    } else {
        (still, forced)
    };
    if large.re() == 0.0 {
        return Ok(D::from(0.0));
    }
    Ok(large * ((small / large).powi(3) + 1.0).cbrt())
}
