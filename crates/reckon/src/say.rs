//! Numbers in sentences: the digits that make sense at a joint, in both unit systems.

use quantity::{
    Length, Measured, PressureDifference, Quantity, Ratio, System, Unit, show, show_chance,
    show_in, show_measured, show_range,
};

use crate::verdict::{Number, Words};

/// A half width that shows a diameter to a tenth of a millimetre, the finest that a caliper reads.
/// A width that begins with one would give two figures, hence the two.
fn step() -> Length {
    Length::mm(0.2)
}

/// A time that one has [s], rounded down; `None` where that is under ten seconds, and none to count on.
#[must_use]
pub fn lasts(seconds: f64) -> Option<String> {
    if seconds < 10.0 {
        None
    } else if seconds < 120.0 {
        Some(format!("{:.0} s", (seconds / 10.0).floor() * 10.0))
    } else {
        Some(format!("{:.0} min", (seconds / 60.0).floor()))
    }
}

/// A diameter or length at a joint: `44.3 mm`, `1.744 in`.
pub(crate) fn mm(metres: f64, system: System) -> String {
    Length::from_si(metres).map_or_else(
        || "no length".into(),
        |length| show(length, Some(step()), system),
    )
}

/// A length to whole millimetres, as for a mark with a felt pen: `32 mm`, `1.26 in`.
pub(crate) fn whole_mm(metres: f64, system: System) -> String {
    Length::from_si(metres).map_or_else(
        || "no length".into(),
        |length| show(length, Some(Length::mm(2.0)), system),
    )
}

/// From one diameter to another: `44.3 to 45.0 mm`.
pub(crate) fn mm_range(low: f64, high: f64, system: System) -> String {
    match (Length::from_si(low), Length::from_si(high)) {
        (Some(low), Some(high)) if high - low < Length::mm(0.05) => show(low, Some(step()), system),
        (Some(low), Some(high)) if high - low < Length::mm(0.4) => {
            // Finer digits than a caliper has would only look exact.
            let (unit_low, high) = (
                show(low, Some(step()), system),
                show(high, Some(step()), system),
            );
            if unit_low == high {
                high
            } else {
                format!("{} to {high}", number_of(&unit_low))
            }
        }
        (Some(low), Some(high)) => show_range(low, high, system),
        _ => "no length".into(),
    }
}

/// A diameter without its unit, for a formula with its numbers put in: `44.3`.
pub(crate) fn bare_mm(metres: f64, system: System) -> String {
    number_of(&mm(metres, system)).to_owned()
}

/// The number of `44.3 mm`, without its unit.
fn number_of(text: &str) -> &str {
    text.rsplit_once(' ').map_or(text, |(number, _)| number)
}

/// A share of one: `9.4 %`, `−1.2 %`.
pub(crate) fn percent(share: f64) -> String {
    Ratio::from_si(share).map_or_else(
        || "no share".into(),
        |ratio| show(ratio, Some(Ratio::percent(0.2)), System::Metric),
    )
}

/// A share of one without decimals where it has none: `5 %`, `2.5 %`.
pub(crate) fn short_percent(share: f64) -> String {
    percent(share).replace(".0 %", " %")
}

/// A share with what it may be off: `9.4 ± 0.5 %`.
pub(crate) fn percent_measured(share: f64, half: f64) -> String {
    match (Ratio::from_si(share), Ratio::from_si(half)) {
        (Some(share), Some(half)) if half.to_percent() >= 0.05 => show_measured(
            &Measured::plus_minus(share, half, quantity::Origin::Computed),
            System::Metric,
        ),
        _ => percent(share),
    }
}

/// `holds 96 in 100`.
pub(crate) fn chance(chance: f64) -> String {
    show_chance(chance)
}

/// A number with its text in both systems, to the digits that half a width justifies.
pub(crate) fn number<Q: Quantity>(value: Q, half: Option<Q::Difference>) -> Number {
    Number {
        kind: Q::KIND,
        si: value.si(),
        text: Words::of(|system| show(value, half, system)),
    }
}

/// A diameter as a number.
pub(crate) fn diameter(metres: f64) -> Option<Number> {
    Length::from_si(metres).map(|length| number(length, Some(step())))
}

/// A share as a number.
pub(crate) fn share(share: f64) -> Option<Number> {
    Ratio::from_si(share).map(|ratio| number(ratio, Some(Ratio::percent(0.2))))
}

/// Joins words as one says them: `a, b and c`.
pub(crate) fn list(words: &[String], last: &str) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [rest @ .., end] => format!("{} {last} {end}", rest.join(", ")),
    }
}

/// `one clip`, `2 clips`.
pub(crate) fn counted(count: u32, one: &str) -> String {
    match count {
        1 => format!("one {one}"),
        2 => format!("two {one}s"),
        _ => format!("{count} {one}s"),
    }
}

/// With a capital at the beginning of a sentence.
pub(crate) fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(chars).collect()
    })
}

/// An angle to half a degree: `10°`, `2.5°`.
pub(crate) fn degrees(angle: f64) -> String {
    let halves = (2.0 * angle).round() / 2.0;
    if halves.fract() == 0.0 {
        format!("{halves:.0}°")
    } else {
        format!("{halves:.1}°")
    }
}

/// A pressure [Pa] in kilopascals, to tenths below ten.
pub(crate) fn kpa(pascals: f64, system: System) -> String {
    let half = if pascals.abs() < 9950.0 {
        200.0
    } else {
        2000.0
    };
    PressureDifference::from_si(pascals).map_or_else(
        || "no pressure".to_owned(),
        |pressure| {
            in_units(
                pressure,
                Some(PressureDifference::pa(half)),
                ["kPa", "psi"],
                system,
            )
        },
    )
}

/// A value in a unit of our choice, metric and imperial.
pub(crate) fn in_units<Q: Quantity>(
    value: Q,
    half: Option<Q::Difference>,
    names: [&str; 2],
    system: System,
) -> String {
    let name = match system {
        System::Metric => names[0],
        System::Imperial => names[1],
    };
    match Unit::find(Q::KIND, name) {
        Some(unit) => show_in(value, half, unit),
        None => show(value, half, system),
    }
}
