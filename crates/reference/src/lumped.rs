//! A mass of water that warms and cools as one lump: how long it takes, and how warm it is by then.
//!
//! A body of one temperature takes up heat and gives it to its surroundings by a UA that does not
//! change. It nears the temperature at which it gives up as much as it takes, by the same share in
//! each time constant. With no UA it warms along a straight line; both formulas below hold there
//! exactly and come to it without a step.
//!
//! A circuit is one lump only while its water goes round, or stands in one well stirred vessel. What
//! is worked out here is a mean: parts of an engine stay hotter for longer, so no time from here
//! says that a cap may be opened.

use quantity::{HeatCapacity, HeatPerKelvin, Power, Quantity, Temperature, Time};

use crate::range::within;
use crate::source::Unknown;

const CAPACITY: &str = "the mass of the water and of the metal around it";
const UA: &str = "the UA to the surroundings, or a timed cooling with no heat put in";
const HEAT: &str = "the heat put in, and the temperatures of water and surroundings";
const SPAN: &str = "the time from the start";

/// Temperatures carry their rounding into the difference between a target and where the body levels
/// off. A target nearer to that than this share of the heats that balance there is no nearer than
/// rounding: the body comes near to it and does not reach it.
const ROUNDING: f64 = 16.0 * f64::EPSILON;

/// Whether there is a body to warm and a way out for its heat, or none.
fn sound(capacity: HeatCapacity, ua: HeatPerKelvin) -> Result<(), Unknown> {
    if capacity.si() <= 0.0 {
        return Err(Unknown::new("a body that takes up no heat", CAPACITY));
    }
    within("the UA in W/K", ua.si(), 0.0..=f64::INFINITY, UA)
}

/// Heat that warms the body at a temperature: what is put in less what it gives up. In W.
fn left(heat: Power, ua: HeatPerKelvin, around: Temperature, at: Temperature) -> f64 {
    heat.si() - ua.si() * (at.si() - around.si())
}

/// Time in which a body comes nearer to where it levels off by 1 − 1/e, about 63 parts in 100.
/// `None` where it gives up nothing: then it never levels off.
///
/// # Errors
/// [`Unknown`] for a heat capacity of 0 or below, a UA below 0, and a time too long for a number.
///
/// Unit: s. Range: heat capacity over 0, UA 0 and over. Source: heat balance of a body of one temperature; Incropera, section 5.1.
pub fn time_constant(capacity: HeatCapacity, ua: HeatPerKelvin) -> Result<Option<Time>, Unknown> {
    sound(capacity, ua)?;
    if ua.si() == 0.0 {
        return Ok(None);
    }
    span(capacity.si() / ua.si()).map(Some)
}

/// Temperature of a body some time after it stood at `start`, with heat put in (below zero where it
/// is taken out) and given up to surroundings that keep their temperature.
///
/// # Errors
/// [`Unknown`] for a heat capacity of 0 or below, a UA or a time below 0, and where so much heat is
/// taken out that the body would pass the zero of the scale.
///
/// Unit: K. Range: heat capacity over 0, UA 0 and over, times of 0 and over. Source: heat balance of a body of one temperature; Incropera, sections 5.1 and 5.3.
pub fn temperature_after(
    capacity: HeatCapacity,
    heat: Power,
    ua: HeatPerKelvin,
    around: Temperature,
    start: Temperature,
    time: Time,
) -> Result<Temperature, Unknown> {
    sound(capacity, ua)?;
    within("the time in s", time.si(), 0.0..=f64::INFINITY, SPAN)?;
    let first = left(heat, ua, around, start);
    let constants = ua.si() * time.si() / capacity.si();
    let rise = if constants == 0.0 {
        first * time.si() / capacity.si()
    } else if constants < 1.0 {
        // The straight line, and how far the curve has bent from it; with digits for any UA.
        first * time.si() / capacity.si() * (-(-constants).exp_m1() / constants)
    } else {
        // All the rise that there is to come, and what has come of it; without overflow for long times.
        first / ua.si() * -(-constants).exp_m1()
    };
    Temperature::from_si(start.si() + rise).ok_or_else(|| {
        Unknown::new(
            "the body would pass the zero of the temperature scale",
            HEAT,
        )
    })
}

/// Time after which a body that stood at `start` is at `target`; the way back from
/// [`temperature_after`].
///
/// `None` where it is never there: it warms while the target is colder, or cools while the target is
/// warmer, or it levels off at the target or short of it.
///
/// # Errors
/// [`Unknown`] for a heat capacity of 0 or below, a UA below 0, and a time too long for a number.
///
/// Unit: s. Range: heat capacity over 0, UA 0 and over. Source: heat balance of a body of one temperature; Incropera, sections 5.1 and 5.3.
pub fn time_to(
    capacity: HeatCapacity,
    heat: Power,
    ua: HeatPerKelvin,
    around: Temperature,
    start: Temperature,
    target: Temperature,
) -> Result<Option<Time>, Unknown> {
    sound(capacity, ua)?;
    let gap = target.si() - start.si();
    if gap == 0.0 {
        return Ok(Some(Time::s(0.0)));
    }
    let (first, last) = (
        left(heat, ua, around, start),
        left(heat, ua, around, target),
    );
    let balanced = heat.si().abs() + ua.si() * (start.si() + target.si() + around.si());
    // At the target the body must still go the way that it goes at the start, and that way must
    // lead to the target.
    let away = gap.signum() * first <= 0.0;
    let short = gap.signum() * last <= ROUNDING * balanced;
    if away || short {
        return Ok(None);
    }
    let straight = capacity.si() * (gap / first);
    // How much of the way to where it levels off the target lies.
    let share = ua.si() * (gap / first);
    let time = if share == 0.0 {
        straight
    } else {
        straight * (-(-share).ln_1p() / share)
    };
    span(time).map(Some)
}

fn span(seconds: f64) -> Result<Time, Unknown> {
    Time::from_si(seconds).ok_or_else(|| {
        let why = "the time is too long for a number";
        Unknown::new(why, "the heat put in and the UA to the surroundings")
    })
}
