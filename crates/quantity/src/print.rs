//! Text out for people: rounded to the digits that the tolerance justifies.
//!
//! A tolerance is given one significant figure, two if it begins with 1, and the value goes to
//! the same place (JCGM 100:2008, 7.2.6, asks for at most two). Without tolerance three figures
//! are shown and no digit before the point is rounded away. The minus is U+2212; thousands stand
//! apart by a thin no-break gap (U+202F) from 10 000; between number and unit goes a plain space.
//!
//! Units, metric / imperial: lengths mm, from 100 m on m / in, from 10 ft on ft; areas mm², from
//! 0.01 m² on m² / in², from 1 ft² on ft²; volumes L, below 0.1 L mL / US gal, below a quarter US pt;
//! masses kg, below 1 kg g / lb; times s, min, h, d or years alike; temperatures and their
//! differences °C / °F; pressures bar, differences below 0.1 bar mbar / psi, with the word gauge
//! or absolute; powers kW, below 1 kW W / mechanical hp, below 0.1 hp W; flows L/min, below 1 L/min
//! L/h / US gal/min, below a tenth US gal/h; torques N m / lbf·in, from 20 lbf·ft on lbf·ft;
//! bending stiffnesses N m² / lbf·in²;
//! boat's speeds kn in both; concentrations mg/L, from 10 g/L on g/L, in both. Gallons are the US ones and say so; imperial gallons, the speed of
//! water and plain ratios go through [`show_in`].

use crate::dimension::{Length, Quantity};
use crate::instrument::Instrument;
use crate::measured::{Measured, Origin};
use crate::unit::{Kind, Unit, out_of_si};

/// In which units people want to read. Unit: none. Range: two. Source: this crate.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum System {
    #[default]
    Metric,
    Imperial,
}

impl System {
    /// `metric` or `imperial`. Unit: none. Range: text. Source: this crate.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Metric => "metric",
            Self::Imperial => "imperial",
        }
    }
}

/// Which way the last digit goes.
#[derive(Clone, Copy, PartialEq)]
enum Toward {
    Nearest,
    Down,
    Up,
}

/// The unit in which a value of that size is shown; the module's head lists them.
/// Unit: a row of the table. Range: any value. Source: this crate.
pub fn display_unit<Q: Quantity>(value: Q, system: System) -> &'static Unit {
    unit_for(Q::KIND, value.si().abs(), system)
}

fn unit_for(kind: Kind, size: f64, system: System) -> &'static Unit {
    // Slightly below each bound, so that rounding in the last bit does not change the unit.
    let from = |bound: f64| size >= bound * (1.0 - 1e-9);
    let metric = system == System::Metric;
    let name = match kind {
        Kind::Length if metric => {
            if from(100.0) {
                "m"
            } else {
                "mm"
            }
        }
        Kind::Length => {
            if from(120.0 * 0.0254) {
                "ft"
            } else {
                "in"
            }
        }
        Kind::Area if metric => {
            if from(0.01) {
                "m²"
            } else {
                "mm²"
            }
        }
        Kind::Area => {
            if from(0.3048 * 0.3048) {
                "ft²"
            } else {
                "in²"
            }
        }
        Kind::Volume if metric => {
            if from(1e-4) || size == 0.0 {
                "L"
            } else {
                "mL"
            }
        }
        Kind::Volume => {
            if from(0.003785411784 / 4.0) || size == 0.0 {
                "US gal"
            } else {
                "US pt"
            }
        }
        Kind::Mass if metric => {
            if from(1.0) || size == 0.0 {
                "kg"
            } else {
                "g"
            }
        }
        Kind::Mass => "lb",
        Kind::Time => match () {
            () if from(2.0 * 31_557_600.0) => "years",
            () if from(48.0 * 3600.0) => "d",
            () if from(2.0 * 3600.0) => "h",
            () if from(120.0) => "min",
            () => "s",
        },
        Kind::Temperature | Kind::TemperatureDifference => {
            if metric {
                "°C"
            } else {
                "°F"
            }
        }
        Kind::GaugePressure => {
            if metric {
                "bar"
            } else {
                "psi"
            }
        }
        Kind::AbsolutePressure => {
            if metric {
                "bar absolute"
            } else {
                "psi absolute"
            }
        }
        Kind::PressureDifference if metric => {
            if from(1e4) || size == 0.0 {
                "bar"
            } else {
                "mbar"
            }
        }
        Kind::PressureDifference => "psi",
        Kind::Power if metric => {
            if from(1000.0) || size == 0.0 {
                "kW"
            } else {
                "W"
            }
        }
        Kind::Power => {
            if from(74.57) || size == 0.0 {
                "hp"
            } else {
                "W"
            }
        }
        Kind::VolumeFlow if metric => {
            if from(1e-3 / 60.0) || size == 0.0 {
                "L/min"
            } else {
                "L/h"
            }
        }
        Kind::VolumeFlow => {
            if from(0.003785411784 / 600.0) || size == 0.0 {
                "US gal/min"
            } else {
                "US gal/h"
            }
        }
        Kind::RotationalSpeed => "rpm",
        Kind::Speed => "kn",
        Kind::Torque if metric => "N m",
        Kind::Torque => {
            if from(20.0 * 1.3558179) {
                "lbf·ft"
            } else {
                "lbf·in"
            }
        }
        Kind::Angle => "°",
        Kind::Ratio => "%",
        Kind::Current => "A",
        Kind::Voltage => "V",
        Kind::Density => "kg/m³",
        Kind::SpecificHeat => "kJ/(kg K)",
        Kind::ThermalConductivity => "W/(m K)",
        Kind::DynamicViscosity => "mPa s",
        Kind::Conductivity => "mS/cm",
        Kind::Concentration => {
            if from(10.0) {
                "g/L"
            } else {
                "mg/L"
            }
        }
        Kind::HeatTransferCoefficient => "W/(m² K)",
        Kind::HeatPerKelvin => "W/K",
        Kind::MassFlow => "kg/s",
        Kind::ThermalExpansion => "1/K",
        Kind::HeatCapacity => "kJ/K",
        Kind::BendingStiffness if metric => "N m²",
        Kind::BendingStiffness => "lbf·in²",
    };
    Unit::find(kind, name).expect("OK because a test asks for every kind and size")
}

/// A computed value for people, with the digits that `half_width` justifies (or three without).
/// The half width itself is not printed; [`show_measured`] does that.
/// Unit: of `system`. Range: finite. Source: JCGM 100:2008 (GUM), 7.2.6.
pub fn show<Q: Quantity>(value: Q, half_width: Option<Q::Difference>, system: System) -> String {
    show_in(value, half_width, display_unit(value, system))
}

/// As [`show`], in a unit of the caller's choice: `m/s` for water, `imp gal`, `:1` for a plain ratio.
/// A unit of another kind is not used; the SI unit stands in.
/// Unit: `unit`. Range: finite. Source: JCGM 100:2008 (GUM), 7.2.6.
pub fn show_in<Q: Quantity>(value: Q, half_width: Option<Q::Difference>, unit: &Unit) -> String {
    let unit = if unit.kind == Q::KIND {
        unit
    } else {
        Q::KIND.base_unit()
    };
    let number = unit.from_si(value.si());
    let half = half_width
        .map(|half| out_of_si(half.si().abs(), unit.factor))
        .filter(|half| *half > 0.0);
    with_unit(&show_number(number, half), unit)
}

/// A value for people that errs to the safe side, with two figures: times down; volumes and flows
/// up, as when water comes in. Other kinds go to the nearest.
/// Unit: of `system`. Range: finite. Source: this crate.
pub fn show_cautious<Q: Quantity>(value: Q, system: System) -> String {
    let unit = display_unit(value, system);
    let toward = match Q::KIND {
        Kind::Time => Toward::Down,
        Kind::Volume | Kind::VolumeFlow => Toward::Up,
        _ => Toward::Nearest,
    };
    let number = unit.from_si(value.si());
    let decimals = (1 - exponent(number)).max(0);
    with_unit(
        &without_zeros(&dressed(&rounded(number, decimals, toward))),
        unit,
    )
}

/// A measured value for people: `41.8 ± 0.2 mm`, or `44.6 (44.3 to 45.0) mm` where it lies aside of the middle.
/// Unit: of `system`. Range: finite. Source: JCGM 100:2008 (GUM), 7.2.6.
pub fn show_measured<Q: Quantity>(measured: &Measured<Q>, system: System) -> String {
    let unit = display_unit(measured.value, system);
    let half = out_of_si(measured.half_width().si(), unit.factor);
    let number = |value: Q| unit.from_si(value.si());
    if half <= 0.0 {
        return with_unit(&show_number(number(measured.value), None), unit);
    }
    let decimals = place(half, number(measured.value));
    let digits = |x: f64| dressed(&rounded(x, decimals, Toward::Nearest));
    if !digits(half).contains(|c: char| ('1'..='9').contains(&c)) {
        // A width that no digit shows is not worth a `± 0`.
        return with_unit(&digits(number(measured.value)), unit);
    }
    let aside = (number(measured.high) - number(measured.value)) / half - 1.0;
    let text = if aside.abs() < 0.05 {
        format!("{} ± {}", digits(number(measured.value)), digits(half))
    } else {
        let (value, low, high) = (measured.value, measured.low, measured.high);
        format!(
            "{} ({} to {})",
            digits(number(value)),
            digits(number(low)),
            digits(number(high))
        )
    };
    with_unit(&text, unit)
}

/// The half width of a value for people, in the value's unit and to the place to which [`show`] gives
/// the value beside it: `0.10 mm` beside `38.50 mm`, `0.004 in` beside `1.661 in`.
/// Unit: of `system`. Range: finite. Source: JCGM 100:2008 (GUM), 7.2.6.
pub fn show_half_width<Q: Quantity>(half: Q::Difference, beside: Q, system: System) -> String {
    let unit = display_unit(beside, system);
    let half = out_of_si(half.si().abs(), unit.factor);
    let number = if half > 0.0 {
        let decimals = place(half, unit.from_si(beside.si()));
        dressed(&rounded(half, decimals, Toward::Nearest))
    } else {
        "0".to_owned()
    };
    unit.after(&number)
}

/// A measured value with the word that always goes with it: `41.8 ± 0.2 mm caliper`,
/// `(4.5 ± 0.5 mm) assumed`, `about 42 ± 5 mm guessed`, `= 51.4 ± 0.6 mm` for a computed one.
/// Unit: of `system`. Range: finite. Source: this crate.
pub fn show_dressed<Q: Quantity>(measured: &Measured<Q>, system: System) -> String {
    let text = show_measured(measured, system);
    match measured.origin {
        Origin::Computed => format!("= {text}"),
        Origin::Assumed => format!("({text}) assumed"),
        Origin::Read(Instrument::Guessed) => format!("about {text} guessed"),
        Origin::Read(_) | Origin::Table => format!("{text} {}", measured.origin.word()),
    }
}

/// An interval for people: `44.3 to 45.0 mm`, in either order.
/// Unit: of `system`. Range: finite. Source: JCGM 100:2008 (GUM), 7.2.6.
pub fn show_range<Q: Quantity>(one: Q, other: Q, system: System) -> String {
    let (low, high) = (one.min(other), one.max(other));
    let size = low.si().abs().max(high.si().abs());
    let unit = unit_for(Q::KIND, size, system);
    let (from, to) = (unit.from_si(low.si()), unit.from_si(high.si()));
    let half = to / 2.0 - from / 2.0;
    if half <= 0.0 {
        return show(low, None, system);
    }
    let decimals = place(half, unit.from_si(size));
    let digits = |x: f64| dressed(&rounded(x, decimals, Toward::Nearest));
    let (mut from, mut to) = (digits(from), digits(to));
    // `3 to 6 min` rather than `3.0 to 6.0 min`.
    let (short_from, short_to) = (without_zeros(&from), without_zeros(&to));
    if !short_from.contains('.') && !short_to.contains('.') {
        (from, to) = (short_from, short_to);
    }
    with_unit(&format!("{from} to {to}"), unit)
}

/// A height with its sign: `+820 mm`, `−410 mm`; the still waterline is `0 mm`.
/// Unit: of `system`. Range: finite. Source: this crate.
pub fn show_signed<Q: Quantity>(
    value: Q,
    half_width: Option<Q::Difference>,
    system: System,
) -> String {
    let text = show(value, half_width, system);
    let nought = !text.contains(|c: char| ('1'..='9').contains(&c));
    if nought || text.starts_with('\u{2212}') {
        text
    } else {
        format!("+{text}")
    }
}

/// A length in inches to the nearest sixteenth, as a tape or a hose shop has it: `1 5/8 in`,
/// `12 ft 3 1/2 in` from ten feet on.
/// Unit: in, ft. Range: finite. Source: this crate.
pub fn show_fraction(length: Length) -> String {
    let count = (length.to_inches() * 16.0 * (1.0 + 1e-12)).round();
    let minus = if count < 0.0 { "\u{2212}" } else { "" };
    let count = count.abs();
    const TEN_FEET: f64 = 120.0 * 16.0;
    if count >= 1e15 {
        // A float this large has no sixteenths.
        return show(length, None, System::Imperial);
    }
    // OK because it is a whole number below 1e15.
    let whole = count as u64;
    if count < TEN_FEET {
        return format!("{minus}{} in", crate::file::fraction_text(whole, 16));
    }
    let feet = grouped(&(whole / 192).to_string());
    match whole % 192 {
        0 => format!("{minus}{feet} ft"),
        rest => format!(
            "{minus}{feet} ft {} in",
            crate::file::fraction_text(rest, 16)
        ),
    }
}

/// A chance in plain counts: `96 in 100`, `over 99 in 100`, `under 1 in 100`.
///
/// Counts are rounded down, so that what is printed never reaches a limit that the chance misses.
/// Unit: none. Range: 0 to 1, else the nearer end; not a number is `an unknown chance`. Source: this crate.
pub fn show_chance(chance: f64) -> String {
    if chance.is_nan() {
        return "an unknown chance".to_owned();
    }
    // A hair up, for a chance of 0.57 is 56.99999 hundredths in binary.
    let hundredths = chance.clamp(0.0, 1.0) * 100.0 + 1e-9;
    if hundredths > 99.0 + 2e-9 {
        "over 99 in 100".to_owned()
    } else if hundredths < 1.0 {
        "under 1 in 100".to_owned()
    } else {
        format!("{} in 100", hundredths.floor())
    }
}

/// The number and the unit, with the word gauge where that is meant.
fn with_unit(number: &str, unit: &Unit) -> String {
    let text = unit.after(number);
    if unit.kind == Kind::GaugePressure {
        format!("{text} gauge")
    } else {
        text
    }
}

fn show_number(number: f64, half: Option<f64>) -> String {
    match half {
        Some(half) => dressed(&rounded(number, place(half, number), Toward::Nearest)),
        None => {
            let decimals = (2 - exponent(number)).max(0);
            without_zeros(&dressed(&rounded(number, decimals, Toward::Nearest)))
        }
    }
}

/// The power of ten of the first digit.
fn exponent(number: f64) -> i32 {
    if number == 0.0 {
        return 0;
    }
    power_of(&format!("{number:e}"))
}

/// How many decimals a half width justifies; below zero, how many digits before the point are
/// noughts. A width that is next to nothing beside its value gives it six figures.
fn place(half: f64, value: f64) -> i32 {
    let text = format!("{:.1e}", half * (1.0 + 1e-12));
    let begins_with_one = text.starts_with('1');
    let power = power_of(&text);
    let decimals = i32::from(begins_with_one) - power;
    if value == 0.0 {
        decimals
    } else {
        decimals.min(5 - exponent(value))
    }
}

/// The exponent of a number written with one.
fn power_of(text: &str) -> i32 {
    text.rsplit('e')
        .next()
        .and_then(|power| power.parse().ok())
        .unwrap_or(0)
}

/// The number to that many decimals, halves away from zero.
fn rounded(number: f64, decimals: i32, toward: Toward) -> String {
    let turn = |x: f64| match toward {
        // Binary numbers miss a half or a whole by a hair; a billionth is no difference to people.
        Toward::Nearest => (x * (1.0 + 1e-12)).round(),
        Toward::Down => (x + x.abs() * 1e-9).floor(),
        Toward::Up => (x - x.abs() * 1e-9).ceil(),
    };
    let step = 10_f64.powi(decimals.abs());
    let (number, shown) = if decimals >= 0 {
        (turn(number * step) / step, decimals as usize)
    } else {
        (turn(number / step) * step, 0)
    };
    if !number.is_finite() || number.abs() >= 1e15 {
        return format!("{number:.2e}");
    }
    format!("{number:.shown$}")
}

/// With U+2212, thin gaps, and no sign before nought.
fn dressed(digits: &str) -> String {
    let nought = !digits.contains(|c: char| ('1'..='9').contains(&c));
    match digits.strip_prefix('-') {
        Some(digits) if nought => grouped(digits),
        Some(digits) => format!("\u{2212}{}", grouped(digits)),
        None => grouped(digits),
    }
}

fn grouped(digits: &str) -> String {
    let whole_end = digits.find(['.', 'e']).unwrap_or(digits.len());
    let (whole, rest) = digits.split_at(whole_end);
    if whole.len() < 5 {
        return digits.to_owned();
    }
    let mut text = String::new();
    for (index, c) in whole.chars().enumerate() {
        if index > 0 && (whole.len() - index).is_multiple_of(3) {
            text.push('\u{202f}');
        }
        text.push(c);
    }
    text + rest
}

fn without_zeros(digits: &str) -> String {
    if digits.contains('.') && !digits.contains('e') {
        digits
            .trim_end_matches('0')
            .trim_end_matches('.')
            .to_owned()
    } else {
        digits.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_place_follows_the_width() {
        assert_eq!(place(0.2, 41.8), 1);
        assert_eq!(place(0.1, 41.8), 2);
        assert_eq!(place(0.0996, 41.8), 2);
        assert_eq!(place(3.0, 41.8), 0);
        assert_eq!(place(56.0, 1234.0), -1);
        assert_eq!(place(120.0, 1234.0), -1);
        assert_eq!(place(1e-9, 41.8), 4);
        assert_eq!(place(0.2, 0.0), 1);
    }

    #[test]
    fn halves_go_away_from_zero_and_wholes_stay() {
        assert_eq!(rounded(41.25, 1, Toward::Nearest), "41.3");
        assert_eq!(rounded(-41.25, 1, Toward::Nearest), "-41.3");
        assert_eq!(rounded(1234.0, -1, Toward::Nearest), "1230");
        // 0.3 of a minute in binary is a hair under 18 s.
        assert_eq!(rounded(0.3 * 60.0 - 1e-12, 0, Toward::Down), "18");
        assert_eq!(rounded(-0.4, 0, Toward::Nearest), "-0");
        assert_eq!(dressed("-0"), "0");
        assert_eq!(grouped("1234567.25"), "1\u{202f}234\u{202f}567.25");
        assert_eq!(grouped("9999"), "9999");
    }
}
