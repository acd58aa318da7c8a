//! Coolers by effectiveness and transfer units, both ways.
//!
//! Effectiveness is the heat over the most that the two inlet temperatures allow. The transfer units
//! are UA over the smaller of the two streams' heat per kelvin; `ratio` is the smaller stream over
//! the larger. The open sea is a stream without end: its ratio is 0.

use quantity::{HeatPerKelvin, Power, Quantity, Temperature, TemperatureDifference};

use crate::number::Number;
use crate::range::within;
use crate::source::Unknown;

const STREAMS: &str = "the flow of both streams through the cooler";
const UNITS: &str = "the cooler's surface and its films, or its UA from the sheet";
const TEMPERATURES: &str = "the temperatures at both ends of the cooler";

/// A ratio under this is none: the formulas for it are then the same for every arrangement.
const NONE: f64 = 1e-9;

/// Streams that differ by less than this share count as equal: the formula for equal ones is the limit of
/// the other, which has no digits left there.
const EQUAL: f64 = 1e-9;

/// How the two streams of a cooler run.
/// Unit: none. Range: those below. Source: Kays and London; Incropera, table 11.3.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Arrangement {
    /// One way side by side.
    Parallel,
    /// Against each other.
    Counter,
    /// So many shells in a row, each with two, four or more passes of tubes.
    Shells(u8),
    /// Across each other, both kept in lanes.
    CrossUnmixed,
    /// Across each other, the larger stream mixed, the smaller in lanes.
    CrossLargerMixed,
    /// Across each other, the smaller stream mixed, the larger in lanes.
    CrossSmallerMixed,
}

impl Arrangement {
    /// Some of each kind, for tests and lists. Unit: none. Range: every kind. Source: this crate.
    pub const SAMPLES: [Self; 7] = [
        Self::Parallel,
        Self::Counter,
        Self::Shells(1),
        Self::Shells(2),
        Self::CrossUnmixed,
        Self::CrossLargerMixed,
        Self::CrossSmallerMixed,
    ];

    fn sound(self, ratio: f64) -> Result<(), Unknown> {
        within(
            "the smaller stream over the larger",
            ratio,
            0.0..=1.0,
            STREAMS,
        )?;
        match self {
            Self::Shells(0) => Err(Unknown::new(
                "a cooler without a shell",
                "how many shells it has",
            )),
            _ => Ok(()),
        }
    }
}

/// Transfer units that an effectiveness needs.
/// Unit: 1. Range: see its variants. Source: [`units`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Units {
    /// So many.
    Needed(f64),
    /// Not reachable with this arrangement, however large the cooler: it ends below this effectiveness.
    NotReachable {
        /// What it comes near to. Unit: 1. Range: over 0 to 1. Source: the limit of the formula.
        most: f64,
    },
}

/// Effectiveness of a cooler.
///
/// # Errors
/// [`Unknown`] for transfer units below 0, a ratio outside 0 to 1, and no shell.
///
/// Unit: 1. Range: transfer units 0 and over, ratio 0 to 1. Source: Kays and London; Incropera, table 11.3. Both unmixed is an approximation, to 1 % of the exact sum.
pub fn effectiveness<D: Number>(how: Arrangement, units: D, ratio: D) -> Result<D, Unknown> {
    how.sound(ratio.re())?;
    within("the transfer units", units.re(), 0.0..=f64::MAX, UNITS)?;
    // 1 − exp(−x), exact for small x.
    let part = |x: D| -(-x).exp_m1();
    if ratio.re() < NONE || units.re() == 0.0 {
        return Ok(part(units));
    }
    let less = -ratio + 1.0;
    Ok(match how {
        Arrangement::Parallel => part(units * (ratio + 1.0)) / (ratio + 1.0),
        Arrangement::Counter => {
            let done = part(units * less);
            if less.re().abs() < EQUAL {
                units / (units + 1.0)
            } else {
                done / (less + ratio * done)
            }
        }
        Arrangement::Shells(shells) => {
            let root = (ratio * ratio + 1.0).sqrt();
            let x = units / f64::from(shells) * root;
            // (1 + e⁻ˣ)/(1 − e⁻ˣ), with digits for small x and without overflow for large.
            let done = part(x);
            let one = D::from(2.0) / (root * (-done + 2.0) / done + ratio + 1.0);
            in_row(one, shells, ratio)
        }
        Arrangement::CrossUnmixed => {
            let inner = (-ratio * units.powf(0.78)).exp_m1();
            part(-units.powf(0.22) * inner / ratio)
        }
        Arrangement::CrossLargerMixed => part(ratio * part(units)) / ratio,
        Arrangement::CrossSmallerMixed => part(part(ratio * units) / ratio),
    })
}

/// Effectiveness of shells in a row, each with that of one.
fn in_row<D: Number>(one: D, shells: u8, ratio: D) -> D {
    let less = -ratio + 1.0;
    let n = f64::from(shells);
    if less.re().abs() < EQUAL {
        return one * n / (one * (n - 1.0) + 1.0);
    }
    let grown = ((one * less / (-one + 1.0)).ln_1p() * n).exp_m1();
    grown / (grown + less)
}

/// What an arrangement comes near to, however large the cooler.
/// Unit: 1. Range: 0.5 to 1. Source: limits of the formulas of [`effectiveness`].
pub fn most(how: Arrangement, ratio: f64) -> Result<f64, Unknown> {
    how.sound(ratio)?;
    if ratio < NONE {
        return Ok(1.0);
    }
    Ok(match how {
        Arrangement::Parallel => 1.0 / (1.0 + ratio),
        Arrangement::Counter | Arrangement::CrossUnmixed => 1.0,
        Arrangement::Shells(shells) => {
            in_row(2.0 / (1.0 + ratio + ratio.hypot(1.0)), shells, ratio)
        }
        Arrangement::CrossLargerMixed => -(-ratio).exp_m1() / ratio,
        Arrangement::CrossSmallerMixed => -(-1.0 / ratio).exp_m1(),
    })
}

/// Transfer units that an effectiveness needs; the way back from [`effectiveness`].
///
/// # Errors
/// [`Unknown`] for an effectiveness outside 0 to 1, a ratio outside 0 to 1, and no shell. That an
/// arrangement can't reach an effectiveness is an answer, no error.
///
/// Unit: 1. Range: effectiveness 0 to 1, ratio 0 to 1. Source: Kays and London; Incropera, table 11.4.
pub fn units(how: Arrangement, wanted: f64, ratio: f64) -> Result<Units, Unknown> {
    let most = most(how, ratio)?;
    within("the effectiveness", wanted, 0.0..=1.0, TEMPERATURES)?;
    if wanted >= most {
        return Ok(Units::NotReachable { most });
    }
    if ratio < NONE {
        return Ok(Units::Needed(-(-wanted).ln_1p()));
    }
    let less = 1.0 - ratio;
    let needed = match how {
        Arrangement::Parallel => -(-wanted * (1.0 + ratio)).ln_1p() / (1.0 + ratio),
        Arrangement::Counter if less == 0.0 => wanted / (1.0 - wanted),
        Arrangement::Counter => (wanted * less / (1.0 - wanted)).ln_1p() / less,
        Arrangement::Shells(shells) => {
            let n = f64::from(shells);
            let one = if less == 0.0 {
                wanted / (n - wanted * (n - 1.0))
            } else {
                let grown = ((wanted * less / (1.0 - wanted)).ln_1p() / n).exp_m1();
                grown / (grown + less)
            };
            let root = ratio.hypot(1.0);
            // Nothing wanted divides by nothing; its answer is nothing too.
            let inverse = root / (2.0 / one - (1.0 + ratio));
            n * 2.0 * inverse.atanh() / root
        }
        Arrangement::CrossUnmixed => by_halves(wanted, ratio)?,
        Arrangement::CrossLargerMixed => -((-ratio * wanted).ln_1p() / ratio).ln_1p(),
        Arrangement::CrossSmallerMixed => -(ratio * (-wanted).ln_1p()).ln_1p() / ratio,
    };
    // Within rounding of the limit the inverse has no last digit; then it is not reachable either.
    Ok(if needed.is_finite() {
        Units::Needed(needed)
    } else {
        Units::NotReachable { most }
    })
}

/// Both unmixed has no inverse in closed form: it rises with the units, so halving finds it.
fn by_halves(wanted: f64, ratio: f64) -> Result<f64, Unknown> {
    let at = |units: f64| effectiveness(Arrangement::CrossUnmixed, units, ratio);
    let (mut low, mut high) = (0.0, 1.0);
    while at(high)? < wanted {
        low = high;
        high *= 2.0;
        if high > 1e12 {
            return Ok(f64::INFINITY);
        }
    }
    for _ in 0..100 {
        let middle = low + (high - low) / 2.0;
        if at(middle)? < wanted {
            low = middle;
        } else {
            high = middle;
        }
    }
    Ok(low + (high - low) / 2.0)
}

/// Transfer units and ratio of a cooler between two streams.
/// Unit: 1. Range: see its fields. Source: definition.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Match {
    /// UA over the smaller stream. Unit: 1. Range: 0 and over. Source: definition.
    pub units: f64,
    /// The smaller stream over the larger. Unit: 1. Range: 0 to 1. Source: definition.
    pub ratio: f64,
    /// The smaller stream. Unit: W/K. Range: over 0. Source: the caller's streams.
    pub smaller: HeatPerKelvin,
}

/// How a cooler's UA matches its streams, each as flow times specific heat.
/// Unit: 1. Range: both streams over 0, UA 0 and over. Source: definition.
pub fn matched(
    ua: HeatPerKelvin,
    one: HeatPerKelvin,
    other: HeatPerKelvin,
) -> Result<Match, Unknown> {
    let (smaller, larger) = (one.min(other), one.max(other));
    if smaller.si() <= 0.0 {
        return Err(Unknown::new("a stream that stands", STREAMS));
    }
    within("the cooler's UA in W/K", ua.si(), 0.0..=f64::MAX, UNITS)?;
    Ok(Match {
        units: ua / smaller,
        ratio: smaller / larger,
        smaller,
    })
}

/// Heat that a cooler takes out of the hot stream; below zero where the cold one is the warmer.
/// Unit: W. Range: effectiveness 0 to 1. Source: definition of the effectiveness.
pub fn heat(
    effectiveness: f64,
    smaller: HeatPerKelvin,
    hot_in: Temperature,
    cold_in: Temperature,
) -> Result<Power, Unknown> {
    within("the effectiveness", effectiveness, 0.0..=1.0, TEMPERATURES)?;
    Ok(smaller * effectiveness * (hot_in - cold_in))
}

/// Mean difference of temperatures along a cooler from those at its two ends; equal ends give that one.
///
/// # Errors
/// [`Unknown`] where a difference is not over zero: the streams would cross.
///
/// Unit: K. Range: both ends over 0. Source: logarithmic mean, in any text on heat transfer.
pub fn mean_difference(
    one: TemperatureDifference,
    other: TemperatureDifference,
) -> Result<TemperatureDifference, Unknown> {
    if one.si() <= 0.0 || other.si() <= 0.0 {
        return Err(Unknown::new(
            "the streams would have to cross",
            TEMPERATURES,
        ));
    }
    // With s = (a − b)/(a + b) it is (a − b)/(2 artanh s), and artanh s goes as s + s³/3 + s⁵/5.
    let (sum, gap) = (one.si() + other.si(), one.si() - other.si());
    let s = gap / sum;
    let mean = if s.abs() < 1e-3 {
        sum / 2.0 / (1.0 + s * s / 3.0 + s.powi(4) / 5.0)
    } else {
        gap / (one / other).ln()
    };
    // OK because the mean lies between two temperatures' differences.
    Ok(TemperatureDifference::of_si(mean))
}

/// A film or a UA at another flow, from one that is known: with a power of the flow.
/// Unit: that of what goes in. Range: exponent 0 to 1, flows over 0. Source: Kern and Bell-Delaware for a shell, 0.55 to 0.6; Incropera for tubes, 0.8.
pub fn scaled(
    known: HeatPerKelvin,
    flow_over_known: f64,
    exponent: f64,
) -> Result<HeatPerKelvin, Unknown> {
    within("the exponent of the flow", exponent, 0.0..=1.0, UNITS)?;
    within(
        "the flow over that of the sheet",
        flow_over_known,
        0.0..=f64::MAX,
        STREAMS,
    )?;
    HeatPerKelvin::from_si(known.si() * flow_over_known.powf(exponent))
        .ok_or_else(|| Unknown::new("a flow without bounds", STREAMS))
}
