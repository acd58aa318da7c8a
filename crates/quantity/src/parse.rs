//! Text in.
//!
//! What may be written, in any order that people use:
//!
//! - a number: `41.8`, `41,8`, `.5`, `1 5/8`, `1-5/8`, `1⅝`, `5/8`, `12 400`, `12,345.6`, `1.2e3`,
//!   with `-`, `−` or `+` before it. `1,234` is refused, for it may be either of two numbers;
//! - a unit, with or without a gap; feet go with inches (`5 ft 3 in`) and hours with minutes;
//! - how far it may be off: `± 0.2`, `+/- 0.2 mm`, `± 2 %`, or an interval `40 to 42 mm`,
//!   `40..42`, `40–42`, `40-42`. A plain hyphen is an interval only between two numbers without
//!   sign and with the same gap on both sides, the lower one first; before a fraction it belongs
//!   to a mixed number (`1-5/8`);
//! - with what it was read, before or after: `41.8 mm caliper`, `by tape`, `(plate)`; `about` and
//!   `~` mean guessed.

use std::ops::Range;

use crate::dimension::Quantity;
use crate::lex::{Fault, Number, fault, is_space, skip_space};
use crate::reader::{Reader, Written};
use crate::reading::{At, Instrument, Reading, Tolerance};
use crate::unit::{Kind, Unit};
use crate::{Ratio, dimension};

/// Why a text is not the quantity that was due: what was read, where, and which units fit.
/// Unit: none. Range: any text. Source: this crate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ParseError {
    /// Which bytes of the text are to blame. Unit: bytes. Range: within the text. Source: the text.
    pub span: std::ops::Range<usize>,
    /// The kind that was due. Unit: none. Range: any kind. Source: the caller.
    pub kind: Kind,
    /// One sentence: what was read and what is due. Unit: none. Range: text. Source: this crate.
    pub message: String,
}

impl std::fmt::Display for ParseError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for ParseError {}

impl ParseError {
    pub(crate) fn new(kind: Kind, Fault { span, message }: Fault) -> Self {
        Self {
            span,
            kind,
            message,
        }
    }

    /// The same error with its span moved on, for a text that was cut out of a longer one.
    /// Unit: bytes. Range: the longer text. Source: the caller.
    #[must_use]
    pub fn moved(mut self, by: usize) -> Self {
        self.span = self.span.start + by..self.span.end + by;
        self
    }
}

/// Reads one plain quantity, without tolerance or instrument; `bare` is the unit of a bare number, if one may stand.
/// Unit: any of the kind. Range: finite. Source: this crate.
/// # Errors
/// A [`ParseError`] that says what was read and which units fit.
pub fn parse<Q: Quantity>(text: &str, bare: Option<&'static Unit>) -> Result<Q, ParseError> {
    let plain = || {
        let reader = Reader {
            text,
            kind: Q::KIND,
        };
        let (amount, end) = reader.first_amount(0)?;
        let rest = skip_space(text, end);
        if rest < text.len() {
            if read::<Q>(text, bare).is_ok() {
                let example = reader.example();
                return fault(
                    rest..text.len(),
                    format!("one plain value is due here, such as {example}"),
                );
            }
            return reader.trailing(rest, &amount);
        }
        let unit = reader.unit_of(&amount, bare)?;
        reader.quantity::<Q>(&amount, unit)
    };
    plain().map_err(|fault| ParseError::new(Q::KIND, fault))
}

/// Reads the plain quantity with which a text begins, and says how many bytes it took; for texts
/// that go on with something else, such as `1.8 m x 38 wired`.
/// Unit: any of the kind. Range: finite. Source: this crate.
/// # Errors
/// A [`ParseError`] that says what was read and which units fit.
pub fn parse_prefix<Q: Quantity>(
    text: &str,
    bare: Option<&'static Unit>,
) -> Result<(Q, usize), ParseError> {
    let prefix = || {
        let reader = Reader {
            text,
            kind: Q::KIND,
        };
        let Some((amount, end)) = reader.amount(skip_space(text, 0), true)? else {
            return reader.no_number(0);
        };
        let unit = reader.unit_of(&amount, bare)?;
        Ok((reader.quantity::<Q>(&amount, unit)?, end))
    };
    prefix().map_err(|fault| ParseError::new(Q::KIND, fault))
}

/// Reads what an owner writes: `41.8 ± 0.2 mm caliper`, `1 5/8 in`, `40 to 42 mm`, and
/// `131.9 ± 1 mm / pi` for a girth, which gives the diameter.
/// Unit: any of the kind. Range: finite. Source: this crate.
/// # Errors
/// A [`ParseError`] that says what was read and which units fit.
pub fn parse_reading<Q: Quantity>(
    text: &str,
    bare: Option<&'static Unit>,
) -> Result<Reading<Q>, ParseError> {
    let girth = (Q::KIND == Kind::Length).then(|| over_pi(text)).flatten();
    read(girth.unwrap_or(text), bare)
        .map(|(reading, _)| {
            if girth.is_some() {
                of_girth(reading)
            } else {
                reading
            }
        })
        .map_err(|fault| ParseError::new(Q::KIND, fault))
}

/// The girth in `131.9 / pi`, which stands for the diameter; `None` where the text ends otherwise.
fn over_pi(text: &str) -> Option<&str> {
    let text = text.trim_end();
    let before = text.strip_suffix('π').or_else(|| {
        let (before, pi) = text.split_at_checked(text.len().checked_sub(2)?)?;
        pi.eq_ignore_ascii_case("pi").then_some(before)
    })?;
    before.trim_end().strip_suffix(['/', '÷'])
}

/// A girth as the diameter of what it goes round, value and tolerance alike.
fn of_girth<Q: Quantity>(girth: Reading<Q>) -> Reading<Q> {
    // OK because a smaller length is a length: the fallback is never taken.
    let over = |value: Q| Q::from_si(value.si() / std::f64::consts::PI).unwrap_or(value);
    let tolerance = match girth.tolerance {
        Tolerance::PlusMinus(half) => {
            let narrow = Q::Difference::from_si(half.si() / std::f64::consts::PI);
            Tolerance::PlusMinus(narrow.unwrap_or(half))
        }
        Tolerance::Between(low, high) => Tolerance::Between(over(low), over(high)),
        other => other,
    };
    Reading {
        value: over(girth.value),
        tolerance,
        // Whatever it was read with, it was laid round.
        instrument: match girth.instrument {
            Some(Instrument::Guessed) => Some(Instrument::Guessed),
            _ => Some(Instrument::Girth),
        },
        unit: girth.unit,
    }
}

/// Reads two quantities that go together: `38 kW @ 2600 rpm`, `90 A at 14 V`. An instrument at the
/// very end covers both, unless the first has its own.
/// Unit: any of the kinds. Range: finite. Source: this crate.
/// # Errors
/// A [`ParseError`] of the half that is wrong, with its span in the whole text.
pub fn parse_at<A: Quantity, B: Quantity>(
    text: &str,
    bare: Option<&'static Unit>,
    bare_at: Option<&'static Unit>,
) -> Result<At<A, B>, ParseError> {
    let words = text.char_indices().filter(|(i, _)| {
        let before = text[..*i].chars().next_back().is_some_and(is_space);
        let word = text
            .get(*i..*i + 2)
            .is_some_and(|word| word.eq_ignore_ascii_case("at"));
        before
            && word
            && text
                .get(*i + 2..)
                .and_then(|rest| rest.chars().next())
                .is_some_and(is_space)
    });
    let split = text
        .find('@')
        .map(|i| (i, i + 1))
        .or_else(|| words.map(|(i, _)| (i, i + 2)).next());
    let Some((end, begin)) = split else {
        parse_reading::<A>(text, bare)?;
        let message = format!(
            "{} is not said at which {}: write {} @ and the {} in {}",
            text.trim(),
            B::KIND.noun(),
            text.trim(),
            B::KIND.noun(),
            B::KIND.usual_units_text()
        );
        return Err(ParseError {
            span: 0..text.len(),
            kind: B::KIND,
            message,
        });
    };
    let (mut what, _) =
        read::<A>(&text[..end], bare).map_err(|fault| ParseError::new(A::KIND, fault))?;
    let (at, trailing) = read::<B>(&text[begin..], bare_at)
        .map_err(|fault| ParseError::new(B::KIND, fault).moved(begin))?;
    if trailing && what.instrument.is_none() {
        what.instrument = at.instrument;
    }
    Ok(At { what, at })
}

/// Reads the whole text; also says whether the instrument stood after the value.
fn read<Q: Quantity>(text: &str, bare: Option<&'static Unit>) -> Result<(Reading<Q>, bool), Fault> {
    let reader = Reader {
        text,
        kind: Q::KIND,
    };
    let mut instruments: Vec<(Instrument, Range<usize>)> = Vec::new();
    let mut trailing = false;

    let mut at = skip_space(text, 0);
    let mut between: Option<Range<usize>> = None;
    loop {
        at = reader.skip_marks(at);
        if let Some((range, instrument)) = reader.about(at).or_else(|| reader.instrument(at)) {
            at = range.end;
            instruments.push((instrument, range));
        } else if let Some(end) = reader.word(at, &["from", "between"]) {
            between = Some(at..end);
            at = end;
        } else {
            break;
        }
    }
    let (first, end) = reader.first_amount(at)?;
    at = end;

    let mut written: Option<Written> = None;
    loop {
        let mark = reader.skip_marks(at);
        if mark == text.len() {
            break;
        }
        if let Some(end) = reader.plus_minus(mark) {
            let (tolerance, end) = reader.tolerance::<Q>(mark, end, &first)?;
            if written.is_some() {
                return fault(mark..end, "one tolerance is due, and here is a second one");
            }
            written = Some(tolerance);
            at = end;
        } else if let Some((range, instrument)) = reader.dashed_instrument(mark) {
            at = range.end;
            instruments.push((instrument, range));
            trailing = true;
        } else if written.is_none()
            && !trailing
            && let Some((second, end)) = reader.to(at, &first, between.is_some())?
        {
            written = Some(Written::To(second));
            at = end;
        } else if let Some((range, instrument)) = reader.instrument(mark) {
            at = range.end;
            instruments.push((instrument, range));
            trailing = true;
        } else {
            return reader.trailing(mark, &first);
        }
    }

    if let (Some(span), false) = (between, matches!(written, Some(Written::To(_)))) {
        let message = format!(
            "“{}” wants both ends, such as 40 to 42",
            &text[span.clone()]
        );
        return fault(span, message);
    }
    let instrument = reader.one_instrument(&instruments)?;
    let typed = match &written {
        Some(Written::PlusMinus { unit, .. }) => unit.filter(|unit| unit.kind == Q::KIND),
        Some(Written::To(second)) => second.unit,
        _ => None,
    };
    let unit = match first.unit.or(typed) {
        Some(unit) => unit,
        None => reader.unit_of(&first, bare)?,
    };
    let value = reader.quantity::<Q>(&first, unit)?;
    let reading = |value, tolerance| Reading {
        value,
        tolerance,
        instrument,
        unit,
    };
    let reading = match written {
        None => reading(value, Tolerance::Unstated),
        Some(Written::Share { ratio, span }) => {
            let share = Ratio::from_si(ratio).filter(|share| share.si() > 0.0);
            let Some(share) = share else {
                return reader.no_width(span);
            };
            reading(value, Tolerance::Share(share))
        }
        Some(Written::PlusMinus {
            number,
            unit: own,
            span,
        }) => {
            let half = Q::Difference::from_si(crate::unit::into_si(
                number.value,
                own.unwrap_or(unit).factor,
            ));
            let Some(half) = half.filter(|half| half.si() > 0.0) else {
                return reader.no_width(span);
            };
            reading(value, Tolerance::PlusMinus(half))
        }
        Some(Written::To(second)) => {
            let high = reader.quantity::<Q>(&second, second.unit.unwrap_or(unit))?;
            if value >= high {
                let whole = first.span.start..second.span.end;
                return fault(
                    whole.clone(),
                    format!("{} does not run upward: the lower one first", &text[whole]),
                );
            }
            reading(
                crate::measured::middle(value, high),
                Tolerance::Between(value, high),
            )
        }
    };
    Ok((reading, trailing))
}

/// The length that a size or a bare text stands for is read in `nominal`; this is its number.
pub(crate) fn nominal_amount(text: &str) -> Result<(Number, Option<&'static Unit>), ParseError> {
    let reader = Reader {
        text,
        kind: dimension::Length::KIND,
    };
    let amount = || {
        let (amount, end) = reader.first_amount(0)?;
        let rest = skip_space(text, end);
        if rest < text.len() {
            return reader.trailing(rest, &amount);
        }
        Ok((amount.number, amount.unit))
    };
    amount().map_err(|fault| ParseError::new(Kind::Length, fault))
}
