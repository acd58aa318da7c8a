//! Walks the file by the table of keys: typed values out, with a remark for each that can't be read.

use std::ops::Range;

use quantity::{
    At, HalfWidth, Instrument, Kind, Length, PressureDifference, Quantity, Unit, VolumeFlow,
};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::grammar;
use crate::keys::{Form, Grammar, KeyRow, MEANT, Naming, RUN, Sign, TableRow};
use crate::model::{Gives, ScanPlace};
use crate::places::{Places, joined, key_text};
use crate::raw::Raw;
use crate::remark::{Code, Fault, Faulty, Remark};
use crate::value::{Datum, Node, Said};
use crate::words::{Word, listed, nearest};

mod triple;

/// The walk over one file.
pub(crate) struct Walk<'t> {
    pub(crate) text: &'t str,
    pub(crate) places: Places,
    pub(crate) remarks: Vec<Remark>,
    /// The unit of a bare length.
    bare: Option<&'static Unit>,
    /// The names of the runs of the file, which tell a changed run from a changed thing.
    runs: Vec<String>,
}

impl<'t> Walk<'t> {
    pub(crate) fn new(text: &'t str, file: &DeTable) -> Self {
        let lengths = file
            .get("lengths")
            .and_then(|value| value.get_ref().as_str());
        let unit = lengths
            .and_then(crate::words::BareLength::from_word)
            .map(|bare| match bare {
                crate::words::BareLength::Millimetre => "mm",
                crate::words::BareLength::Centimetre => "cm",
                crate::words::BareLength::Inch => "in",
            });
        let runs = file
            .get("runs")
            .and_then(|value| value.get_ref().as_table());
        Self {
            text,
            places: Places::new(text),
            remarks: Vec::new(),
            bare: unit.and_then(|unit| Unit::find(Kind::Length, unit)),
            runs: runs.map_or_else(Vec::new, |runs| {
                runs.keys().map(|key| key.get_ref().to_string()).collect()
            }),
        }
    }

    /// Adds a remark about some bytes of the file.
    pub(crate) fn remark(
        &mut self,
        code: Code,
        span: Range<usize>,
        place: &str,
        message: impl Into<String>,
        expected: Option<String>,
    ) {
        let found = self
            .text
            .get(span.clone())
            .unwrap_or_default()
            .lines()
            .next()
            .unwrap_or_default()
            .to_owned();
        self.remarks.push(Remark {
            code,
            severity: code.severity(),
            span,
            place: place.to_owned(),
            message: message.into(),
            expected,
            found,
        });
    }

    /// Adds a remark about what stands at a place.
    pub(crate) fn remark_at(&mut self, code: Code, place: &str, message: impl Into<String>) {
        let span = self.places.span(place);
        self.remark(code, span, place, message, None);
    }

    fn faults(&mut self, raw: &Raw, path: &str, faults: Vec<Fault>) {
        for fault in faults {
            let span = if fault.span.is_empty() {
                raw.whole()
            } else {
                raw.span(fault.span)
            };
            self.remark(fault.code, span, path, fault.message, fault.expected);
        }
    }

    /// A table by its row.
    pub(crate) fn table(
        &mut self,
        row: &'static TableRow,
        table: &DeTable,
        path: &str,
        span: Range<usize>,
    ) -> Node {
        let mut keys: Vec<_> = table.iter().collect();
        keys.sort_by_key(|(key, _)| key.span().start);
        let mut entries = Vec::new();
        for (key, value) in keys {
            let name = key.get_ref().to_string();
            let place = joined(path, &name);
            self.places.put_key(&place, key.span());
            if let Some(known) = row.key(&name) {
                let node = self.value(&known.form, Some(known), value, &place);
                entries.push((name, node));
                continue;
            }
            let Some(free) = &row.free else {
                self.unknown_key(row, &name, key.span(), &place);
                continue;
            };
            if let Err(fault) = named(free.naming, &name) {
                let fits = match free.naming {
                    // A slip in a key is likelier than a strange name.
                    Naming::Instrument | Naming::Plain if !row.keys.is_empty() => {
                        nearest(&name, row.keys.iter().map(|key| key.name))
                    }
                    _ => None,
                };
                let message = fits.map_or(fault.message.clone(), |near| {
                    format!("{}; did you mean {near}?", fault.message)
                });
                self.remark(fault.code, key.span(), &place, message, fault.expected);
                continue;
            }
            let node = self.value(&free.form, None, value, &place);
            entries.push((name, node));
        }
        for known in row.keys.iter().filter(|known| known.required) {
            if !entries.iter().any(|(name, _)| name == known.name) {
                let (code, message) = if matches!(known.form, Form::Version) {
                    (
                        Code::VersionMissing,
                        "the file does not say which version of the form it has".to_owned(),
                    )
                } else {
                    let of = if path.is_empty() {
                        row.name.to_owned()
                    } else {
                        format!("{} {}", row.name, last_key(path))
                    };
                    (
                        Code::MissingKey,
                        format!("{} is missing in the {of}", known.name),
                    )
                };
                let at = if path.is_empty() {
                    0..0
                } else {
                    self.places.key_span(path).unwrap_or(span.clone())
                };
                self.remark(
                    code,
                    at,
                    path,
                    message,
                    Some(format!("{} = {}", known.name, known.example)),
                );
            }
        }
        Node {
            said: Said::Table(row, entries),
        }
    }

    fn unknown_key(&mut self, row: &'static TableRow, name: &str, span: Range<usize>, place: &str) {
        let lower = name.to_lowercase();
        let meant = MEANT
            .iter()
            .find(|(other, key)| *other == lower && row.key(key).is_some())
            .map(|(_, key)| *key);
        let near = meant.or_else(|| nearest(name, row.keys.iter().map(|key| key.name)));
        let message = match near {
            Some(near) => format!(
                "“{name}” is no key of the {}; did you mean {near}?",
                row.name
            ),
            None => format!("“{name}” is no key of the {}", row.name),
        };
        let keys = listed(row.keys.iter().map(|key| key.name), "or");
        self.remark(Code::UnknownKey, span, place, message, Some(keys));
    }

    /// A value by its form; `row` is its key, where it is one of the table's.
    fn value(
        &mut self,
        form: &Form,
        row: Option<&'static KeyRow>,
        value: &Spanned<DeValue>,
        path: &str,
    ) -> Node {
        let node = |said| Node { said };
        let span = value.span();
        match form {
            Form::Table(_) | Form::ThingOrRun(..) => self.places.put_table(path, span.clone()),
            _ => self.places.put_value(path, span.clone()),
        }
        if let Some(said) = self.nothing(form, row, value, path) {
            return node(said);
        }
        match (form, value.get_ref()) {
            (Form::Table(table), DeValue::Table(inner)) => self.table(table, inner, path, span),
            (Form::ThingOrRun(thing, run), DeValue::Table(inner)) => {
                let is_run = if std::ptr::eq(*run, &RUN) {
                    ["from", "to", "way"]
                        .iter()
                        .any(|key| inner.contains_key(*key))
                        && !inner.contains_key("kind")
                } else {
                    self.runs
                        .iter()
                        .any(|name| path.ends_with(&format!(".{}", key_text(name))))
                };
                self.table(if is_run { run } else { thing }, inner, path, span)
            }
            (form, DeValue::Array(array)) if form.is_triple() => {
                node(self.triple(form, row, array, span, path))
            }
            // One point alone may stand without a second pair of brackets.
            (Form::List(item), DeValue::Array(array))
                if item.is_triple()
                    && !array.is_empty()
                    && !array.iter().any(|value| value.get_ref().is_array()) =>
            {
                let one = self.triple(item, row, array, span, path);
                node(Said::List(vec![Node { said: one }]))
            }
            (Form::List(item), DeValue::Array(array)) => {
                let items = array
                    .iter()
                    .enumerate()
                    .map(|(i, value)| self.value(item, row, value, &format!("{path}[{i}]")))
                    .collect();
                node(Said::List(items))
            }
            (Form::List(item), _) => {
                let one = self.value(item, row, value, path);
                node(Said::List(vec![one]))
            }
            (form, DeValue::Array(array)) if form.can_differ() && array.len() == 2 => {
                let mut both = array.iter().enumerate().map(|(i, value)| {
                    let place = format!("{path}[{i}]");
                    self.places.put_value(&place, value.span());
                    self.datum(form, row, value, &place)
                });
                match (both.next().flatten(), both.next().flatten()) {
                    (Some(one), Some(other)) => node(Said::Two(one, other)),
                    _ => node(Said::Unreadable),
                }
            }
            _ => node(
                self.datum(form, row, value, path)
                    .map_or(Said::Unreadable, Said::One),
            ),
        }
    }

    /// `"?"`, `"choose"` and empty texts.
    fn nothing(
        &mut self,
        form: &Form,
        row: Option<&'static KeyRow>,
        value: &Spanned<DeValue>,
        path: &str,
    ) -> Option<Said> {
        let text = value.get_ref().as_str()?;
        if matches!(form, Form::Table(_) | Form::ThingOrRun(..) | Form::List(_)) {
            return None;
        }
        let example = row.map(|row| row.example.to_owned());
        match text.trim() {
            "?" if row.is_some_and(|row| row.must_be_said) => {
                self.remark(
                    Code::MustBeSaid,
                    value.span(),
                    path,
                    "“?” can't stand here: the answer decides what the file means",
                    example,
                );
                Some(Said::Unreadable)
            }
            "?" => Some(Said::Unknown),
            "choose" if row.is_some_and(|row| row.may_choose) => Some(Said::Choose),
            "choose" => {
                let message = "“choose” can't stand here: this is measured or decided by you, “?” if it can't be known yet";
                self.remark(Code::NothingToChoose, value.span(), path, message, example);
                Some(Said::Unreadable)
            }
            "" => {
                let message = "nothing stands between the quotes; it counts as left out";
                self.remark(Code::EmptyText, value.span(), path, message, example);
                Some(Said::Unreadable)
            }
            _ => None,
        }
    }

    /// One value of a form.
    fn datum(
        &mut self,
        form: &Form,
        row: Option<&'static KeyRow>,
        value: &Spanned<DeValue>,
        path: &str,
    ) -> Option<Datum> {
        let span = value.span();
        let file = self.text;
        let plain = file.get(span.clone()).unwrap_or_default();
        let (text, quoted) = match value.get_ref() {
            DeValue::String(text) => (text.as_ref(), true),
            DeValue::Integer(_)
            | DeValue::Float(_)
            | DeValue::Boolean(_)
            | DeValue::Datetime(_) => (plain, false),
            DeValue::Array(_) | DeValue::Table(_) => {
                self.wrong_type(form, row, value, path);
                return None;
            }
        };
        let read = match form {
            Form::Table(_) | Form::ThingOrRun(..) => {
                self.wrong_type(form, row, value, path);
                return None;
            }
            Form::Bool => match value.get_ref() {
                DeValue::Boolean(yes) => Ok(Datum::Bool(*yes)),
                _ => {
                    self.wrong_type(form, row, value, path);
                    return None;
                }
            },
            Form::Number(..) | Form::Count | Form::Whole | Form::Version => {
                match self.number(form, value, text, quoted) {
                    Some(read) => read,
                    None => {
                        self.wrong_type(form, row, value, path);
                        return None;
                    }
                }
            }
            Form::Text => Ok(Datum::Text(text.to_owned())),
            Form::Words(list) => {
                // `metal = 316` is as good as `metal = "316"`.
                list.find(text).map(Datum::Choice).ok_or_else(|| {
                    let words = listed(list.printed(), "or");
                    let message = match nearest(text, list.printed()) {
                        Some(near) => format!("“{text}” is no {}; did you mean {near}?", list.what),
                        None => format!("“{text}” is no {}", list.what),
                    };
                    vec![Fault::new(Code::UnknownWord, 0..text.len(), message).expecting(words)]
                })
            }
            _ if matches!(value.get_ref(), DeValue::Boolean(_) | DeValue::Datetime(_)) => {
                self.wrong_type(form, row, value, path);
                return None;
            }
            Form::Grammar(grammar) if quoted || *grammar == Grammar::Mark => {
                self.grammar(*grammar, text, path, value)
            }
            Form::Grammar(_) | Form::Name(_) | Form::Heading | Form::Spotted | Form::File
                if !quoted =>
            {
                self.wrong_type(form, row, value, path);
                return None;
            }
            Form::Point | Form::Triple => {
                self.wrong_type(form, row, value, path);
                return None;
            }
            Form::Heading => grammar::heading(text).map(Datum::Heading),
            Form::Spotted => grammar::spot(text).map(|spot| Datum::Spotted(ScanPlace::Spot(spot))),
            Form::File => grammar::scan_file(text).map(Datum::Text),
            Form::Name(_) => grammar::dotted(text).map(|(first, second)| Datum::End(first, second)),
            _ => quantity_of(form, text, self.bare),
        };
        match read {
            Ok(datum) => {
                self.note_names(form, row, text, &datum, span, path);
                Some(datum)
            }
            Err(faults) => {
                let raw = Raw::new(text, file, span);
                self.faults(&raw, path, faults);
                None
            }
        }
    }

    fn number(
        &mut self,
        form: &Form,
        value: &Spanned<DeValue>,
        text: &str,
        quoted: bool,
    ) -> Option<Faulty<Datum>> {
        let number = match value.get_ref() {
            DeValue::Integer(integer) => {
                i64::from_str_radix(integer.as_str(), integer.radix()).ok()? as f64
            }
            DeValue::Float(float) => float.as_str().parse::<f64>().ok()?,
            _ if quoted => text.trim().parse::<f64>().ok()?,
            _ => return None,
        };
        let whole = 0..text.len();
        let bad =
            |message: String| Err(vec![Fault::new(Code::BadQuantity, whole.clone(), message)]);
        Some(match form {
            Form::Version if number == 1.0 && !quoted => Ok(Datum::Count(1)),
            Form::Version if number > 1.0 => {
                let message = format!(
                    "this file has version {text}; this program reads version 1: take a newer program"
                );
                Err(vec![Fault::new(Code::VersionNewer, whole, message)])
            }
            Form::Version => bad(format!(
                "{text} is no version: this program reads version 1"
            )),
            Form::Number(low, high) if (*low..=*high).contains(&number) => {
                Ok(Datum::Number(number))
            }
            Form::Number(low, high) => {
                bad(format!("{text} is out of range: {low} to {high} is due"))
            }
            Form::Count if number.fract() == 0.0 && (1.0..=1e6).contains(&number) => {
                Ok(Datum::Count(number as u32))
            }
            Form::Whole if number.fract() == 0.0 && (0.0..=1e6).contains(&number) => {
                Ok(Datum::Count(number as u32))
            }
            Form::Whole => bad(format!(
                "{text} is no whole number: one from 0 upward is due"
            )),
            _ => bad(format!("{text} is no count: a whole number from 1 is due")),
        })
    }

    fn grammar(
        &mut self,
        kind: Grammar,
        text: &str,
        path: &str,
        value: &Spanned<DeValue>,
    ) -> Faulty<Datum> {
        let raw = Raw::new(text, self.text, value.span());
        let mut items: Vec<Range<usize>> = Vec::new();
        let bare = self.bare;
        let read = match kind {
            Grammar::Way => {
                grammar::way(text, bare).map(|pieces| Datum::Way(kept(pieces, &mut items)))
            }
            Grammar::Chain => {
                grammar::chain(text).map(|parts| Datum::Chain(kept(parts, &mut items)))
            }
            Grammar::Bends if text.trim().eq_ignore_ascii_case("none") => {
                Ok(Datum::Bends(Vec::new()))
            }
            Grammar::Bends => {
                grammar::bends(text, bare).map(|bends| Datum::Bends(kept(bends, &mut items)))
            }
            Grammar::Path => grammar::path(text).map(|(path, spans)| {
                items = spans;
                Datum::Path(path)
            }),
            Grammar::Thread => {
                grammar::thread(text).map(|(thread, sex)| Datum::Thread(thread, sex))
            }
            Grammar::Clip => grammar::clip(text).map(Datum::Clip),
            Grammar::StockClip => grammar::stock_clip(text).map(Datum::StockClip),
            Grammar::StockHose => grammar::stock_hose(text, bare).map(Datum::StockHose),
            Grammar::StockPart => grammar::stock_part(text, bare).map(Datum::StockPart),
            Grammar::Price => grammar::price(text).map(Datum::Price),
            Grammar::Curve => grammar::curve(text).map(Datum::Curve),
            Grammar::Taper => grammar::taper(text, bare).map(|(by, over)| Datum::Taper(by, over)),
            Grammar::End => grammar::dotted(text).map(|(first, second)| Datum::End(first, second)),
            Grammar::Mark => grammar::mark(text).map(Datum::Text),
            Grammar::Side => grammar::side(text).map(Datum::Side),
            Grammar::Aside => grammar::aside(text, bare).map(Datum::Length),
            Grammar::Along => grammar::along(text, bare).map(Datum::Length),
        };
        for (i, span) in items.into_iter().enumerate() {
            self.places
                .put_value(&format!("{path}[{i}]"), raw.span(span));
        }
        read
    }

    fn wrong_type(
        &mut self,
        form: &Form,
        row: Option<&'static KeyRow>,
        value: &Spanned<DeValue>,
        path: &str,
    ) {
        let found = match value.get_ref() {
            DeValue::String(_) => "a text",
            DeValue::Integer(_) | DeValue::Float(_) => "a bare number",
            DeValue::Boolean(_) => "true or false",
            DeValue::Datetime(_) => "a date",
            DeValue::Array(_) => "a list",
            DeValue::Table(_) => "a table",
        };
        let message = format!("{} is due here, not {found}", due(form));
        let expected = row.map(|row| format!("{} = {}", row.name, row.example));
        self.remark(Code::WrongType, value.span(), path, message, expected);
    }

    /// Notes a size by name where a caliper's reading is due.
    fn note_names(
        &mut self,
        form: &Form,
        row: Option<&'static KeyRow>,
        text: &str,
        datum: &Datum,
        span: Range<usize>,
        path: &str,
    ) {
        let calipered = row.is_some_and(|row| row.instrument == Some(Instrument::Caliper));
        if let (Form::Length, Datum::Length(reading)) = (form, datum)
            && calipered
            && text.contains('/')
            && reading.instrument.is_none()
            && reading.tolerance == quantity::Tolerance::Unstated
        {
            let message = format!(
                "“{text}” looks like a size by name; what a caliper reads is due (a 1 1/4 in pipe thread is 41.9 mm)"
            );
            self.remark(
                Code::NameAsMeasurement,
                span,
                path,
                message,
                Some("41.9, or 1.65 in".into()),
            );
        }
    }
}

fn kept<T>(items: Vec<(T, Range<usize>)>, spans: &mut Vec<Range<usize>>) -> Vec<T> {
    items
        .into_iter()
        .map(|(item, span)| {
            spans.push(span);
            item
        })
        .collect()
}

fn last_key(path: &str) -> &str {
    path.rsplit_once('.')
        .map_or(path, |(_, key)| key)
        .trim_matches('"')
}

fn named(naming: Naming, name: &str) -> Result<(), Fault> {
    let bad = |message: String| Err(Fault::new(Code::BadName, 0..name.len(), message));
    match naming {
        Naming::Plain => grammar::name(name),
        Naming::Dotted => match name.split('.').find_map(|part| grammar::name(part).err()) {
            Some(_) => bad(format!(
                "“{name}” is no name: one has letters, digits, “-” and “_”, with dots between"
            )),
            None => Ok(()),
        },
        Naming::Instrument => match Instrument::parse(name) {
            Some(_) => Ok(()),
            None => {
                let names = Instrument::ALL.map(Instrument::name);
                let message = match nearest(name, names) {
                    Some(near) => format!("“{name}” is no instrument; did you mean {near}?"),
                    None => format!("“{name}” is no instrument"),
                };
                Err(Fault::new(Code::BadName, 0..name.len(), message)
                    .expecting(listed(names, "or")))
            }
        },
        Naming::Ware if name.trim().is_empty() => {
            bad("a price is that of something: its name says nothing".to_owned())
        }
        Naming::Ware => Ok(()),
        Naming::Title if name.trim().is_empty() => bad("this name says nothing".to_owned()),
        Naming::Title => Ok(()),
        Naming::Hose => grammar::hose_name(name).map(|_| ()),
        Naming::Spot => grammar::spot(name).map(|_| ()).map_err(first_fault),
        Naming::Tape => grammar::tape(name).map(|_| ()).map_err(first_fault),
        Naming::Moment => grammar::moment(name).map(|_| ()).map_err(|mut faults| {
            // OK because a moment that is refused says why.
            let mut fault = faults
                .pop()
                .unwrap_or_else(|| Fault::new(Code::BadName, 0..name.len(), "no moment"));
            fault.code = Code::BadName;
            fault
        }),
    }
}

/// The first of several faults of one name.
fn first_fault(faults: Vec<Fault>) -> Fault {
    let first = faults.into_iter().next();
    // OK because what is refused says why.
    first.unwrap_or_else(|| Fault::new(Code::BadName, 0..0, "no place"))
}

/// What is due, in words.
fn due(form: &Form) -> &'static str {
    match form {
        Form::Length | Form::LengthOrZero | Form::PlainLength | Form::Height => "a length",
        Form::Quantity(..) | Form::Percent => "a quantity with its unit",
        Form::Spread => "how far off it may be",
        Form::PowerAtSpeed => "a power at a speed",
        Form::CurrentAtVoltage => "a current at a voltage",
        Form::DropAtFlow => "a loss of pressure at a flow",
        Form::FlowAtSpeed => "a flow, at a speed if that counts",
        Form::Number(..) => "a bare number",
        Form::Count | Form::Whole | Form::Version => "a whole number",
        Form::Bool => "true or false",
        Form::Point => "a point in brackets",
        Form::Triple => "three numbers in brackets",
        Form::Heading => "a direction in quotes, or three numbers in brackets",
        Form::Spotted => "a place in quotes, or a point in brackets",
        Form::File => "the name of a file in quotes",
        Form::Text | Form::Grammar(_) => "a text in quotes",
        Form::Words(_) => "a word in quotes",
        Form::Name(_) => "a name in quotes",
        Form::Table(_) | Form::ThingOrRun(..) => "a table",
        Form::List(_) => "a list",
    }
}

/// No part of a boat's piping lies farther from the waterline than this [m].
const HIGHEST: f64 = 100.0;

fn quantity_of(form: &Form, text: &str, bare: Option<&'static Unit>) -> Faulty<Datum> {
    fn reading<Q: Quantity>(
        text: &str,
        bare: Option<&'static Unit>,
    ) -> Faulty<quantity::Reading<Q>> {
        quantity::parse_reading(text, bare).map_err(|error| vec![error.into()])
    }
    let wrap = |error: quantity::ParseError| vec![Fault::from(error)];
    let (datum, sign) = match form {
        Form::Length => (reading(text, bare).map(Datum::Length), Sign::Over),
        Form::LengthOrZero => (reading(text, bare).map(Datum::Length), Sign::NotUnder),
        Form::PlainLength => (
            quantity::parse(text, bare)
                .map(Datum::PlainLength)
                .map_err(wrap),
            Sign::Over,
        ),
        Form::Height => (reading(text, bare).map(Datum::Length), Sign::Any),
        Form::Spread => {
            return HalfWidth::<Length>::parse(text, bare)
                .map(Datum::Spread)
                .map_err(wrap);
        }
        Form::PowerAtSpeed => {
            return quantity::parse_at(text, None, None)
                .map(Datum::PowerAt)
                .map_err(wrap);
        }
        Form::CurrentAtVoltage => {
            return quantity::parse_at(text, None, None)
                .map(Datum::CurrentAt)
                .map_err(wrap);
        }
        Form::DropAtFlow => return drop_at(text),
        Form::FlowAtSpeed => return gives(text),
        Form::Percent => (
            reading(text, Unit::find(Kind::Ratio, "%")).map(Datum::Ratio),
            Sign::NotUnder,
        ),
        Form::Quantity(kind, sign) => {
            let datum = match kind {
                Kind::Temperature => reading(text, None).map(Datum::Temperature),
                Kind::Volume => reading(text, None).map(Datum::Volume),
                Kind::GaugePressure => reading(text, None).map(Datum::GaugePressure),
                Kind::Power => reading(text, None).map(Datum::Power),
                Kind::VolumeFlow => reading(text, None).map(Datum::VolumeFlow),
                Kind::RotationalSpeed => reading(text, None).map(Datum::RotationalSpeed),
                Kind::Speed => reading(text, None).map(Datum::Speed),
                Kind::Angle => reading(text, None).map(Datum::Angle),
                Kind::HeatPerKelvin => reading(text, None).map(Datum::HeatPerKelvin),
                Kind::Mass => reading(text, None).map(Datum::Mass),
                Kind::BendingStiffness => reading(text, None).map(Datum::Stiffness),
                _ => reading(text, None).map(Datum::Ratio),
            };
            (datum, *sign)
        }
        _ => (reading(text, bare).map(Datum::Length), Sign::Any),
    };
    let datum = datum?;
    let bad = |due: &str| {
        let message = format!("{} is out of range: {due} is due", text.trim());
        Err(vec![Fault::new(Code::BadQuantity, 0..text.len(), message)])
    };
    match (sign, datum.si()) {
        (Sign::Over, Some(si)) if si <= 0.0 => bad("a value over 0"),
        (Sign::NotUnder, Some(si)) if si < 0.0 => bad("0 or more"),
        (_, Some(si)) if si > 1.0 && matches!(form, Form::Percent) => bad("at most 100 %"),
        (_, Some(si)) if si.abs() > HIGHEST && matches!(form, Form::Height) => {
            bad("at most 100 m over or under the waterline")
        }
        _ => Ok(datum),
    }
}

/// What water loses, at which flow: both are over 0.
fn drop_at(text: &str) -> Faulty<Datum> {
    let read: At<PressureDifference, VolumeFlow> =
        quantity::parse_at(text, None, None).map_err(|error| vec![error.into()])?;
    over_zero(text, read.what.value.si().min(read.at.value.si()))?;
    Ok(Datum::DropAt(read))
}

/// What a pump gives, and at which speed where one is typed.
fn gives(text: &str) -> Faulty<Datum> {
    let typed = text.contains('@') || text.to_ascii_lowercase().contains(" at ");
    let read: Result<Gives, quantity::ParseError> = if typed {
        quantity::parse_at(text, None, None).map(|read| Gives {
            flow: read.what,
            at: Some(read.at),
        })
    } else {
        quantity::parse_reading(text, None).map(|flow| Gives { flow, at: None })
    };
    let read = read.map_err(|error| vec![Fault::from(error)])?;
    let speed = read.at.map_or(f64::INFINITY, |at| at.value.si());
    over_zero(text, read.flow.value.si().min(speed))?;
    Ok(Datum::Gives(read))
}

/// Refuses a text whose smallest value is not over 0.
fn over_zero(text: &str, least: f64) -> Faulty<()> {
    if least > 0.0 {
        return Ok(());
    }
    let message = format!("{} is out of range: values over 0 are due", text.trim());
    Err(vec![Fault::new(Code::BadQuantity, 0..text.len(), message)])
}
