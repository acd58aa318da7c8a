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
use crate::lex::{self, Fault, Found, Number, char_at, fault, is_space, skip_space};
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
                let example = &text[amount.span.clone()];
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

/// Reads what an owner writes: `41.8 ± 0.2 mm caliper`, `1 5/8 in`, `40 to 42 mm`.
/// Unit: any of the kind. Range: finite. Source: this crate.
/// # Errors
/// A [`ParseError`] that says what was read and which units fit.
pub fn parse_reading<Q: Quantity>(
    text: &str,
    bare: Option<&'static Unit>,
) -> Result<Reading<Q>, ParseError> {
    read(text, bare)
        .map(|(reading, _)| reading)
        .map_err(|fault| ParseError::new(Q::KIND, fault))
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

/// A number with the unit that was typed after it, if one was.
#[derive(Clone, Debug)]
struct Amount {
    number: Number,
    unit: Option<&'static Unit>,
    /// Number and unit.
    span: Range<usize>,
    /// More than one part (`5 ft 3 in`), already in the smallest unit.
    compound: bool,
}

/// How far off a reading was said to be, before its unit is known.
enum Written {
    PlusMinus {
        number: Number,
        unit: Option<&'static Unit>,
        span: Range<usize>,
    },
    Share {
        ratio: f64,
        span: Range<usize>,
    },
    To(Amount),
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
                crate::reading::middle(value, high),
                Tolerance::Between(value, high),
            )
        }
    };
    Ok((reading, trailing))
}

struct Reader<'t> {
    text: &'t str,
    kind: Kind,
}

impl Reader<'_> {
    fn rest(&self, at: usize) -> &str {
        &self.text[at..]
    }

    /// Over spaces and the punctuation that people put between value and instrument.
    fn skip_marks(&self, mut at: usize) -> usize {
        while let Some(c) =
            char_at(self.text, at).filter(|&c| is_space(c) || matches!(c, ',' | ';' | ':'))
        {
            // `:1` is a ratio and `,5` a number.
            if matches!(c, ':' | ',')
                && self
                    .text
                    .as_bytes()
                    .get(at + 1)
                    .is_some_and(u8::is_ascii_digit)
            {
                break;
            }
            at += c.len_utf8();
        }
        at
    }

    /// One of these words at `at`: where it ends.
    fn word(&self, at: usize, words: &[&str]) -> Option<usize> {
        words
            .iter()
            .filter_map(|word| lex::match_name(word, self.rest(at)))
            .max()
            .map(|length| at + length)
    }

    /// `about 42 mm` is a guess, whatever else it is called.
    fn about(&self, at: usize) -> Option<(Range<usize>, Instrument)> {
        let words = &[
            "about",
            "approximately",
            "approx.",
            "approx",
            "roughly",
            "circa",
            "ca.",
            "ca",
            "~",
            "≈",
            "around",
        ];
        self.word(at, words)
            .map(|end| (at..end, Instrument::Guessed))
    }

    /// `caliper`, `by tape`, `with the tape`, `(plate)`: where it stands, and which it is.
    fn instrument(&self, at: usize) -> Option<(Range<usize>, Instrument)> {
        let mut begin = at;
        let bracket = self.rest(begin).starts_with('(');
        begin += usize::from(bracket);
        for _ in 0..3 {
            begin = skip_space(self.text, begin);
            let Some(end) = self.word(
                begin,
                &["by", "with", "from", "off", "on", "read", "the", "a", "an"],
            ) else {
                break;
            };
            begin = end;
        }
        begin = skip_space(self.text, begin);
        let (length, instrument) = Instrument::ALL
            .iter()
            .flat_map(|instrument| instrument.names().map(move |name| (name, *instrument)))
            .filter_map(|(name, instrument)| {
                Some((lex::match_name(name, self.rest(begin))?, instrument))
            })
            .max_by_key(|(length, _)| *length)?;
        let mut end = begin + length;
        if bracket {
            end = skip_space(self.text, end);
            if !self.rest(end).starts_with(')') {
                return None;
            }
            end += 1;
        }
        Some((at..end, instrument))
    }

    /// `41.8 mm - caliper`: a dash that is neither a minus nor an interval.
    fn dashed_instrument(&self, at: usize) -> Option<(Range<usize>, Instrument)> {
        let dash =
            char_at(self.text, at).filter(|&c| lex::is_minus(c) || matches!(c, '–' | '—'))?;
        self.instrument(skip_space(self.text, at + dash.len_utf8()))
    }

    fn one_instrument(
        &self,
        named: &[(Instrument, Range<usize>)],
    ) -> Result<Option<Instrument>, Fault> {
        let Some((first, _)) = named.first() else {
            return Ok(None);
        };
        match named.iter().find(|(instrument, _)| instrument != first) {
            None => Ok(Some(*first)),
            Some((other, range)) => fault(
                range.clone(),
                format!("read by {} or by {}: name one", first.name(), other.name()),
            ),
        }
    }

    fn plus_minus(&self, at: usize) -> Option<usize> {
        if let Some(end) = self.word(at, &["plus or minus", "plus/minus"]) {
            return Some(end);
        }
        let signs = ["±", "+/-", "+/−", "+-", "+−", "+ - "];
        signs
            .iter()
            .find(|sign| self.rest(at).starts_with(**sign))
            .map(|sign| at + sign.len())
    }

    fn first_amount(&self, at: usize) -> Result<(Amount, usize), Fault> {
        match self.amount(at, false)? {
            Some(found) => Ok(found),
            None => self.no_number(at),
        }
    }

    fn no_number<T>(&self, at: usize) -> Result<T, Fault> {
        let at = skip_space(self.text, at);
        let due = self.kind.with_article();
        let example = self.example();
        let Some(word) = Some(self.unknown(at)).filter(|word| !word.is_empty()) else {
            return fault(
                0..self.text.len(),
                format!("no number stands here; {due} is due, such as {example}"),
            );
        };
        let read = &self.text[word.clone()];
        fault(
            word,
            format!("“{read}” is no number; {due} is due, such as {example}"),
        )
    }

    fn example(&self) -> &'static str {
        match self.kind {
            Kind::Length => "41.8 mm",
            Kind::Area => "12 cm²",
            Kind::Volume => "12 L",
            Kind::Mass => "4 kg",
            Kind::Time => "20 min",
            Kind::Temperature => "82 °C",
            Kind::TemperatureDifference => "8 K",
            Kind::GaugePressure => "0.9 bar",
            Kind::AbsolutePressure => "1.9 bar absolute",
            Kind::PressureDifference => "0.2 bar",
            Kind::Power => "38 kW",
            Kind::VolumeFlow => "60 L/min",
            Kind::RotationalSpeed => "2600 rpm",
            Kind::Speed => "6.2 kn",
            Kind::Torque => "5 N m",
            Kind::Angle => "45°",
            Kind::Ratio => "45 %",
            Kind::Current => "90 A",
            Kind::Voltage => "14 V",
        }
    }

    /// The stretch at `at` up to a space or mark, as something that nobody knows.
    fn unknown(&self, at: usize) -> Range<usize> {
        let length: usize = self
            .rest(at)
            .chars()
            .take_while(|&c| !(is_space(c) || matches!(c, ',' | ';' | '(' | ')' | '±' | '@')))
            .map(char::len_utf8)
            .sum();
        let one = char_at(self.text, at).map_or(0, char::len_utf8);
        at..at + length.max(one)
    }

    /// A number and its unit, if one follows. `prefix` leaves a word that is no unit to the caller.
    fn amount(&self, at: usize, prefix: bool) -> Result<Option<(Amount, usize)>, Fault> {
        let Some(number) = lex::number(self.text, at)? else {
            return Ok(None);
        };
        let mut end = number.span.end;
        let unit = self.unit(end, &[self.kind], prefix)?;
        if let Some((_, range)) = &unit {
            end = range.end;
        }
        let span = number.span.start..end;
        let amount = Amount {
            number,
            unit: unit.map(|(unit, _)| unit),
            span,
            compound: false,
        };
        Ok(Some(self.compound(amount)))
    }

    /// Adds the smaller parts: `5 ft 3 in`, `5' 3"`, `1 h 30 min`.
    fn compound(&self, mut amount: Amount) -> (Amount, usize) {
        let smaller: fn(&str) -> &'static [&'static str] = |name| match name {
            "ft" => &["in"],
            "d" => &["h", "min", "s"],
            "h" => &["min", "s"],
            "min" => &["s"],
            _ => &[],
        };
        while let Some(unit) = amount.unit {
            let mut at = skip_space(self.text, amount.span.end);
            if unit.name == "ft"
                && let Some(c) = char_at(self.text, at).filter(|&c| lex::is_minus(c))
            {
                at += c.len_utf8();
            }
            let part = lex::number(self.text, at)
                .ok()
                .flatten()
                .filter(|part| !part.signed);
            let Some(part) = part else { break };
            let Found::Due(small, range) = lex::unit(self.text, part.span.end, &[self.kind]) else {
                break;
            };
            if !smaller(unit.name).contains(&small.name) {
                break;
            }
            // The larger ones are whole multiples of the smaller, so that no digit is lost.
            let times = (unit.factor / small.factor).round();
            let sign = if amount.number.value.is_sign_negative() {
                -1.0
            } else {
                1.0
            };
            amount.number.value = amount.number.value * times + sign * part.value;
            amount.unit = Some(small);
            amount.compound = true;
            amount.span.end = range.end;
        }
        let end = amount.span.end;
        (amount, end)
    }

    /// The unit at `at`, or none where something else that may stand there does.
    fn unit(
        &self,
        at: usize,
        due: &[Kind],
        prefix: bool,
    ) -> Result<Option<(&'static Unit, Range<usize>)>, Fault> {
        let begin = skip_space(self.text, at);
        match lex::unit(self.text, begin, due) {
            Found::Due(unit, range) => return Ok(Some((unit, range))),
            Found::Other(_, range)
                if prefix
                    || self
                        .instrument(begin)
                        .is_some_and(|(i, _)| i.end >= range.end) =>
            {
                return Ok(None);
            }
            Found::Other(unit, range) => return self.wrong_kind(unit, range),
            Found::Shared(shared, range) if due.contains(&shared.kind) => {
                let read = &self.text[range.clone()];
                return fault(
                    range,
                    format!(
                        "{read} may be US or imperial: write {} or {}",
                        shared.one, shared.other
                    ),
                );
            }
            Found::Shared(shared, range) => {
                let read = &self.text[range.clone()];
                return fault(range, self.of_other_kind(read, shared.kind));
            }
            Found::Nothing => {}
        }
        let next = self.skip_marks(begin);
        let may_stand = prefix
            || next == self.text.len()
            || next != begin
            || self.plus_minus(begin).is_some()
            || self.instrument(begin).is_some()
            || self.interval_mark(begin).is_some()
            || self.word(begin, &["and"]).is_some()
            || char_at(self.text, begin)
                .is_some_and(|c| c.is_ascii_digit() || lex::is_minus(c) || c == '+');
        if may_stand {
            return Ok(None);
        }
        let word = self.unknown(begin);
        let read = &self.text[word.clone()];
        let kind = self.kind.noun();
        let fits = self.kind.usual_units_text();
        let message = match (lex::nearest_unit(read, self.kind), self.kind.usual_units()) {
            (Some(near), [_]) => format!("“{read}” is no unit of {kind}; did you mean {near}?"),
            (Some(near), _) => {
                format!("“{read}” is no unit of {kind}; did you mean {near}? ({fits})")
            }
            (None, _) => format!("“{read}” is no unit of {kind}: {fits}"),
        };
        fault(word, message)
    }

    fn wrong_kind<T>(&self, unit: &Unit, range: Range<usize>) -> Result<T, Fault> {
        let read = &self.text[range.clone()];
        let pressure = matches!(unit.kind, Kind::GaugePressure | Kind::PressureDifference);
        if pressure && self.kind == Kind::AbsolutePressure {
            let name = unit.name;
            let message = format!(
                "{read} alone is a gauge pressure; write {name} absolute, or put the air outside on top of it"
            );
            return fault(range, message);
        }
        fault(range, self.of_other_kind(read, unit.kind))
    }

    fn of_other_kind(&self, read: &str, kind: Kind) -> String {
        let pressure = matches!(kind, Kind::GaugePressure | Kind::PressureDifference);
        let within = matches!(
            self.kind,
            Kind::GaugePressure | Kind::AbsolutePressure | Kind::PressureDifference
        );
        let is = if pressure && !within {
            "a pressure".to_owned()
        } else {
            kind.with_article()
        };
        format!(
            "{read} is {is}; {} is due: {}",
            self.kind.with_article(),
            self.kind.usual_units_text()
        )
    }

    fn no_unit<T>(&self, amount: &Amount) -> Result<T, Fault> {
        let read = &self.text[amount.span.clone()];
        let (due, fits) = (self.kind.with_article(), self.kind.usual_units_text());
        fault(
            amount.span.clone(),
            format!("{read} has no unit; {due} is due: {fits}"),
        )
    }

    fn no_width<T>(&self, span: Range<usize>) -> Result<T, Fault> {
        let read = &self.text[span.clone()];
        fault(span, format!("{read} is no tolerance: it is over 0"))
    }

    fn unit_of(
        &self,
        amount: &Amount,
        bare: Option<&'static Unit>,
    ) -> Result<&'static Unit, Fault> {
        match amount.unit.or(bare) {
            // A bare `1 5/8` where lengths are in mm is a size in inches, 25 times as large.
            Some(unit) if amount.number.fraction && amount.unit.is_none() && unit.name != "in" => {
                let (read, name) = (&self.text[amount.span.clone()], unit.name);
                let message = format!(
                    "{read} has no unit, and {name} are seldom halved: write {read} in or {read} {name}"
                );
                fault(amount.span.clone(), message)
            }
            Some(unit) => Ok(unit),
            None => self.no_unit(amount),
        }
    }

    fn quantity<Q: Quantity>(&self, amount: &Amount, unit: &Unit) -> Result<Q, Fault> {
        let si = unit.to_si(amount.number.value);
        if let Some(quantity) = Q::from_si(si) {
            return Ok(quantity);
        }
        let read = &self.text[amount.span.clone()];
        let message = match Q::KIND {
            _ if !si.is_finite() => format!("{read} is too large"),
            Kind::Temperature => format!("{read} is below absolute zero, \u{2212}273.15 °C"),
            Kind::AbsolutePressure => format!("{read} is below vacuum, 0 bar absolute"),
            kind => format!("{read} is no {}", kind.noun()),
        };
        fault(amount.span.clone(), message)
    }

    fn trailing<T>(&self, at: usize, first: &Amount) -> Result<T, Fault> {
        let word = self.unknown(at);
        let read = &self.text[word.clone()];
        let value = &self.text[first.span.clone()];
        let nearest = Instrument::ALL
            .iter()
            .flat_map(|instrument| instrument.names())
            .filter_map(|name| Some((lex::near(&read.to_lowercase(), name)?, name)))
            .min();
        if let Some((_, near)) = nearest {
            return fault(
                word,
                format!("“{read}” after {value} is no instrument; did you mean {near}?"),
            );
        }
        if lex::number(self.text, at)?.is_some() {
            let message = format!(
                "“{read}” after {value} is a second number; for limits write “40 to 42” or “41 ± 1”"
            );
            return fault(word, message);
        }
        fault(
            word,
            format!(
                "“{read}” after {value} is neither a tolerance (± …) nor an instrument (caliper, tape …)"
            ),
        )
    }

    /// What follows a `±`: a number with or without unit, or a share.
    fn tolerance<Q: Quantity>(
        &self,
        sign: usize,
        at: usize,
        first: &Amount,
    ) -> Result<(Written, usize), Fault> {
        let Some(number) = lex::number(self.text, at)? else {
            return fault(sign..at, "± wants a number after it, such as ± 0.2");
        };
        if number.value <= 0.0 {
            return self.no_width(sign..number.span.end);
        }
        let after = number.span.end;
        if let Found::Due(unit, range) = lex::unit(self.text, after, &[Kind::Ratio]) {
            let of = self.word(
                skip_space(self.text, range.end),
                &[
                    "of it",
                    "of value",
                    "of the value",
                    "of reading",
                    "of the reading",
                ],
            );
            // To a percentage `± 2 %` adds and takes two points; `± 2 % of it` is a share of it.
            if Q::KIND != Kind::Ratio || of.is_some() {
                let end = of.unwrap_or(range.end);
                if Q::KIND == Kind::Temperature {
                    let read = &self.text[sign..end];
                    return fault(
                        sign..end,
                        format!("{read} of a temperature says nothing: write it in K, °C or °F"),
                    );
                }
                return Ok((
                    Written::Share {
                        ratio: unit.to_si(number.value),
                        span: sign..end,
                    },
                    end,
                ));
            }
        }
        let unit = self.unit(after, &[Q::KIND, Q::Difference::KIND], false)?;
        let end = unit.as_ref().map_or(after, |(_, range)| range.end);
        if number.signed {
            return fault(
                sign..end,
                "± has its sign already: the number after it goes without",
            );
        }
        // The value must have its own unit where the tolerance's says nothing about it.
        if let Some((unit, range)) = &unit
            && first.unit.is_none()
            && unit.kind != Q::KIND
        {
            return self.wrong_kind(unit, range.clone());
        }
        Ok((
            Written::PlusMinus {
                number,
                unit: unit.map(|(unit, _)| unit),
                span: sign..end,
            },
            end,
        ))
    }

    /// The words and signs between the ends of an interval, other than a plain hyphen.
    fn interval_mark(&self, at: usize) -> Option<usize> {
        let signs = ["...", "..", "…", "–", "—"];
        let sign = signs
            .iter()
            .find(|sign| self.rest(at).starts_with(**sign))
            .map(|sign| at + sign.len());
        sign.or_else(|| self.word(at, &["to"]))
    }

    /// The upper end of an interval, if what stands at `at` leads to one.
    fn to(
        &self,
        at: usize,
        first: &Amount,
        between: bool,
    ) -> Result<Option<(Amount, usize)>, Fault> {
        let begin = skip_space(self.text, at);
        let mut end = self.interval_mark(begin);
        if between {
            end = end.or_else(|| self.word(begin, &["and"]));
        }
        if end.is_none() {
            end = char_at(self.text, begin)
                .filter(|&c| lex::is_minus(c))
                .map(|c| begin + c.len_utf8());
            let Some(end) = end else { return Ok(None) };
            let even = (begin == at) == (skip_space(self.text, end) == end);
            let second = lex::number(self.text, end)?;
            if !even || first.number.signed || second.as_ref().is_none_or(|second| second.signed) {
                let whole = first.span.start..second.map_or(end, |second| second.span.end);
                let read = &self.text[whole.clone()];
                return fault(
                    whole,
                    format!("{read} may be limits or a minus sign: for limits write “40 to 42”"),
                );
            }
        }
        let Some(end) = end else { return Ok(None) };
        match self.amount(end, false)? {
            Some((second, end)) => Ok(Some((second, end))),
            None => {
                let read = &self.text[begin..end];
                fault(
                    begin..end,
                    format!("“{read}” wants a second number after it, such as 40 to 42"),
                )
            }
        }
    }
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
