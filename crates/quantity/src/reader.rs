//! The parts of a quantity's text: value, unit, tolerance, interval, instrument; and the words
//! for what is wrong with them.

use std::ops::Range;

use crate::dimension::Quantity;
use crate::instrument::Instrument;
use crate::lex::{self, Fault, Found, Number, char_at, fault, is_space, skip_space};
use crate::unit::{Kind, Unit};

/// A number with the unit that was typed after it, if one was.
#[derive(Clone, Debug)]
pub(crate) struct Amount {
    pub(crate) number: Number,
    pub(crate) unit: Option<&'static Unit>,
    /// Number and unit.
    pub(crate) span: Range<usize>,
}

/// How far off a reading was said to be, before its unit is known.
pub(crate) enum Written {
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

pub(crate) struct Reader<'t> {
    pub(crate) text: &'t str,
    pub(crate) kind: Kind,
}

impl Reader<'_> {
    fn rest(&self, at: usize) -> &str {
        &self.text[at..]
    }

    /// Over spaces and the punctuation that people put between value and instrument.
    pub(crate) fn skip_marks(&self, mut at: usize) -> usize {
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
    pub(crate) fn word(&self, at: usize, words: &[&str]) -> Option<usize> {
        words
            .iter()
            .filter_map(|word| lex::match_name(word, self.rest(at)))
            .max()
            .map(|length| at + length)
    }

    /// `about 42 mm` is a guess, whatever else it is called.
    pub(crate) fn about(&self, at: usize) -> Option<(Range<usize>, Instrument)> {
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
    pub(crate) fn instrument(&self, at: usize) -> Option<(Range<usize>, Instrument)> {
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
    pub(crate) fn dashed_instrument(&self, at: usize) -> Option<(Range<usize>, Instrument)> {
        let dash =
            char_at(self.text, at).filter(|&c| lex::is_minus(c) || matches!(c, '–' | '—'))?;
        self.instrument(skip_space(self.text, at + dash.len_utf8()))
    }

    pub(crate) fn one_instrument(
        &self,
        named: &[(Instrument, Range<usize>)],
    ) -> Result<Option<Instrument>, Fault> {
        let Some((first, _)) = named.first() else {
            return Ok(None);
        };
        match named.iter().find(|(instrument, _)| instrument != first) {
            None => Ok(Some(*first)),
            Some((other, range)) => {
                let (first, other) = (first.name(), other.name());
                fault(
                    range.clone(),
                    format!("{first} and {other} both stand here: keep one"),
                )
            }
        }
    }

    pub(crate) fn plus_minus(&self, at: usize) -> Option<usize> {
        if let Some(end) = self.word(at, &["plus or minus", "plus/minus"]) {
            return Some(end);
        }
        let signs = ["±", "+/-", "+/−", "+-", "+−", "+ - "];
        signs
            .iter()
            .find(|sign| self.rest(at).starts_with(**sign))
            .map(|sign| at + sign.len())
    }

    pub(crate) fn first_amount(&self, at: usize) -> Result<(Amount, usize), Fault> {
        match self.amount(at, false)? {
            Some(found) => Ok(found),
            None => self.no_number(at),
        }
    }

    pub(crate) fn no_number<T>(&self, at: usize) -> Result<T, Fault> {
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

    pub(crate) fn example(&self) -> &'static str {
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
            Kind::Density => "1050 kg/m³",
            Kind::SpecificHeat => "3.6 kJ/(kg K)",
            Kind::ThermalConductivity => "0.42 W/(m K)",
            Kind::DynamicViscosity => "1.2 mPa s",
            Kind::Conductivity => "42.9 mS/cm",
            Kind::Concentration => "150 mg/L",
            Kind::HeatTransferCoefficient => "850 W/(m² K)",
            Kind::HeatPerKelvin => "900 W/K",
            Kind::MassFlow => "0.8 kg/s",
            Kind::ThermalExpansion => "0.0002 1/K",
            Kind::HeatCapacity => "80 kJ/K",
            Kind::BendingStiffness => "1.4 N m²",
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
    pub(crate) fn amount(&self, at: usize, prefix: bool) -> Result<Option<(Amount, usize)>, Fault> {
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
        // Without the word, a pressure is a gauge pressure.
        let bare = Unit::find(Kind::PressureDifference, read).is_some();
        if bare && self.kind == Kind::AbsolutePressure {
            let fits = self.kind.usual_units_text();
            let message = format!("{read} alone means gauge; an absolute pressure is due: {fits}");
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

    pub(crate) fn no_width<T>(&self, span: Range<usize>) -> Result<T, Fault> {
        let read = &self.text[span.clone()];
        fault(span, format!("{read} is no tolerance: it is over 0"))
    }

    pub(crate) fn unit_of(
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

    pub(crate) fn quantity<Q: Quantity>(&self, amount: &Amount, unit: &Unit) -> Result<Q, Fault> {
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

    pub(crate) fn trailing<T>(&self, at: usize, first: &Amount) -> Result<T, Fault> {
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
    pub(crate) fn tolerance<Q: Quantity>(
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
    pub(crate) fn to(
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
