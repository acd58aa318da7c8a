//! Text out for files: exact, so that reading it again gives the same bits.

use crate::dimension::{Length, Quantity, Ratio};
use crate::instrument::Instrument;
use crate::reading::{At, Reading, Tolerance};
use crate::unit::{Kind, UNITS, Unit, into_si, out_of_si};

/// The text for a file: exact, reads back to the same value, tolerance and instrument.
///
/// The unit is the one that was typed; a value that no number of that unit gives is written in
/// SI. Of an interval the ends are written, and the value is read back as their middle. Inches in
/// sixty-fourths are written as fractions, unless they were read with a caliper.
/// Unit: as typed. Range: finite; half widths over 0, intervals not empty. Source: this crate.
pub fn file_text<Q: Quantity>(reading: &Reading<Q>) -> String {
    let unit = if reading.unit.kind == Q::KIND {
        reading.unit
    } else {
        Q::KIND.base_unit()
    };
    // A caliper reads decimals, and so does a gauge with metric leaves.
    let decimals = matches!(
        reading.instrument,
        Some(Instrument::Caliper | Instrument::ThreadGauge)
    );
    let style = if decimals {
        Style::Decimal
    } else {
        Style::Fractions
    };
    let mut text = match reading.tolerance {
        Tolerance::Unstated => value(reading.value, unit, style),
        Tolerance::Between(low, high) => {
            // Both ends in one unit, and in SI that is always possible.
            let ends = |unit, style| Some((number(low, unit, style)?, number(high, unit, style)?));
            let base = Q::KIND.base_unit();
            let (unit, (low, high)) = match ends(unit, style) {
                Some(ends) => (unit, ends),
                None => (base, (plain(low.si()), plain(high.si()))),
            };
            unit.after(&format!("{low} to {high}"))
        }
        Tolerance::PlusMinus(half) => plus_minus(reading.value, half, unit, style),
        Tolerance::Share(share) => {
            // To a percentage, `± 2 %` would be two points.
            let of = if Q::KIND == Kind::Ratio { " of it" } else { "" };
            let percent = Unit::find(Kind::Ratio, "%").unwrap_or(Kind::Ratio.base_unit());
            format!(
                "{} ± {}{of}",
                value(reading.value, unit, style),
                value::<Ratio>(share, percent, Style::Decimal)
            )
        }
    };
    if let Some(instrument) = reading.instrument {
        text.push(' ');
        text.push_str(instrument.name());
    }
    text
}

/// The text for a file of one plain value: exact, in `unit` where a number of it gives the value, else in SI.
/// Unit: `unit`. Range: finite. Source: this crate.
pub fn file_value<Q: Quantity>(value: Q, unit: &'static Unit) -> String {
    let unit = if unit.kind == Q::KIND {
        unit
    } else {
        Q::KIND.base_unit()
    };
    self::value(value, unit, Style::Fractions)
}

/// The text for a file of two quantities that go together: `38 kW @ 2600 rpm`.
/// Unit: as typed. Range: as [`file_text`]. Source: this crate.
pub fn file_text_at<A: Quantity, B: Quantity>(at: &At<A, B>) -> String {
    let second = match (at.what.instrument, at.at.instrument) {
        // At the very end it would cover both.
        (None, Some(instrument)) => {
            format!(
                "{instrument} {}",
                file_text(&Reading {
                    instrument: None,
                    ..at.at
                })
            )
        }
        _ => file_text(&at.at),
    };
    format!("{} @ {second}", file_text(&at.what))
}

#[derive(Clone, Copy, PartialEq)]
enum Style {
    Decimal,
    Fractions,
}

fn value<Q: Quantity>(value: Q, unit: &Unit, style: Style) -> String {
    match number(value, unit, style) {
        Some(number) => unit.after(&number),
        None => Q::KIND.base_unit().after(&plain(value.si())),
    }
}

fn number<Q: Quantity>(value: Q, unit: &Unit, style: Style) -> Option<String> {
    let target = value.si();
    if style == Style::Fractions
        && Q::KIND == Length::KIND
        && unit.name == "in"
        && let Some(text) = sixty_fourths(target)
    {
        return Some(text);
    }
    // Read back through the type, which makes one zero of the two.
    let back = |x: f64| Q::from_si(unit.to_si(x)).map(Quantity::si);
    shortest(target, unit.from_si(target), back).map(plain)
}

fn plus_minus<Q: Quantity>(middle: Q, half: Q::Difference, unit: &Unit, style: Style) -> String {
    /// More digits than this say that another unit was meant, as for half a millimetre in inches.
    const READABLE: usize = 8;
    let target = half.si();
    let unit = if number(middle, unit, style).is_some() {
        unit
    } else {
        Q::KIND.base_unit()
    };
    let in_unit = |unit: &Unit| {
        if style == Style::Fractions
            && unit.kind == Kind::Length
            && unit.name == "in"
            && let Some(text) = sixty_fourths(target)
        {
            return Some(text);
        }
        let back = |x: f64| Some(into_si(x, unit.factor)).filter(|si| si.is_finite());
        shortest(target, out_of_si(target, unit.factor), back).map(plain)
    };
    let value_text = number(middle, unit, style);
    let own = in_unit(unit).filter(|text| text.len() <= READABLE);
    match (value_text, own) {
        (Some(value), Some(own)) => unit.after(&format!("{value} ± {own}")),
        _ => {
            let (text, other) = UNITS
                .iter()
                .filter(|unit| unit.kind == Q::Difference::KIND)
                .filter_map(|unit| Some((in_unit(unit)?, unit)))
                .min_by_key(|(text, _)| text.len())
                .unwrap_or_else(|| (plain(target), Q::Difference::KIND.base_unit()));
            format!("{} ± {}", value(middle, unit, style), other.after(&text))
        }
    }
}

/// `1 5/8` where the length is a whole number of sixty-fourths of an inch, and one that a rule has.
fn sixty_fourths(target: f64) -> Option<String> {
    let inches = target / 0.0254;
    let count = (inches * 64.0).round();
    let unit = Unit::find(Kind::Length, "in")?;
    if count == 0.0 || count.abs() > 1e6 || unit.to_si(count / 64.0).to_bits() != target.to_bits() {
        return None;
    }
    let sign = if count < 0.0 { "-" } else { "" };
    Some(format!("{sign}{}", fraction_text(count.abs() as u64, 64)))
}

/// `1 5/8`, `5/8` or `2` from a count of parts.
pub(crate) fn fraction_text(count: u64, parts: u64) -> String {
    let (whole, mut over, mut under) = (count / parts, count % parts, parts);
    while over != 0 && over % 2 == 0 && under % 2 == 0 {
        over /= 2;
        under /= 2;
    }
    match (whole, over) {
        (whole, 0) => whole.to_string(),
        (0, over) => format!("{over}/{under}"),
        (whole, over) => format!("{whole} {over}/{under}"),
    }
}

/// The number with the fewest digits that reads back to `target`, near `guess`.
fn shortest(target: f64, guess: f64, back: impl Fn(f64) -> Option<f64>) -> Option<f64> {
    let hits = |x: f64| back(x).is_some_and(|si| si.to_bits() == target.to_bits());
    for digits in 0..17 {
        let rounded: f64 = format!("{guess:.digits$e}").parse().ok()?;
        if hits(rounded) {
            return Some(rounded);
        }
    }
    // The way there and back rounds twice, so the number may lie a few steps aside.
    let (mut below, mut above) = (guess, guess);
    for _ in 0..4 {
        (below, above) = (below.next_down(), above.next_up());
        if let Some(found) = [below, above].into_iter().find(|x| hits(*x)) {
            return Some(found);
        }
    }
    None
}

/// Digits that read back to the same number, without exponent unless it saves many zeros.
fn plain(number: f64) -> String {
    let size = number.abs();
    if number == 0.0 || (1e-6..1e15).contains(&size) {
        format!("{number}")
    } else {
        format!("{number:e}")
    }
}
