//! Single values of the file: what stands there, how a typed one is read, and with what it could be measured.

use boat::Places;
use boat::keys::{Form, KeyRow, ROOT, TableRow};
use quantity::{
    HalfWidth, Instrument, Instruments, Kind, Length, Quantity, Reading, System, Unit, file_text,
    parse_reading, show, show_half_width, show_measured,
};
use serde::Deserialize;
use ts_rs::TS;

use super::App;
use super::desk::{Sheet, with};
use super::refused::Refused;
use crate::api::{
    ForKind, ReadingAnswer, Text, ValueAnswer, ValueInstrument, ValueKind, Where as _, for_kind,
};
use crate::load::Loaded;

/// Longest text of a value that is read.
const LONGEST: usize = 4000;

/// The TOML that stands at a place, where anything does.
pub(crate) fn raw_at<'a>(loaded: &'a Loaded, place: &str) -> Option<&'a str> {
    let span = loaded.chart.places().value_span(place)?;
    loaded.held.text.get(span)
}

/// Where a value is typed: two spigots alike are typed as `both`.
pub(crate) fn typed_at(places: &Places, place: &str) -> String {
    let both = ["a", "b"].into_iter().find_map(|name| {
        let (thing, rest) = place.split_once(&format!(".spigots.{name}"))?;
        let both = format!("{thing}.spigots.both");
        let whole = rest.is_empty() || rest.starts_with('.');
        (whole && places.has(&both)).then(|| format!("{both}{rest}"))
    });
    both.unwrap_or_else(|| place.to_owned())
}

/// The keys of a path, unquoted; `None` where it is no path to a value with a key.
pub(crate) fn keys_of(path: &str) -> Option<Vec<String>> {
    let mut keys = Vec::new();
    let mut key = String::new();
    let mut letters = path.chars().peekable();
    while let Some(letter) = letters.next() {
        match letter {
            '"' => loop {
                match letters.next()? {
                    '"' => break,
                    '\\' => key.push(letters.next()?),
                    letter => key.push(letter),
                }
            },
            '.' => keys.push(std::mem::take(&mut key)),
            '[' => return None,
            letter => key.push(letter),
        }
    }
    keys.push(key);
    let whole = keys.iter().all(|key| !key.is_empty());
    whole.then_some(keys)
}

/// The row of the table of keys for a path.
pub(crate) fn row_of(path: &str) -> Option<&'static KeyRow> {
    let keys = keys_of(path)?;
    let (last, way) = keys.split_last()?;
    row_in(&ROOT, way, last)
}

fn row_in(table: &'static TableRow, way: &[String], last: &str) -> Option<&'static KeyRow> {
    let Some((key, rest)) = way.split_first() else {
        return table.key(last);
    };
    let form = match (table.key(key), &table.free) {
        (Some(row), _) => row.form,
        (None, Some(free)) => free.form,
        (None, None) => return None,
    };
    match form {
        Form::Table(inner) => row_in(inner, rest, last),
        // Whichever of the two knows the rest of the way.
        Form::ThingOrRun(thing, run) => {
            row_in(thing, rest, last).or_else(|| row_in(run, rest, last))
        }
        _ => None,
    }
}

/// The kind of quantity that may stand after a key; none for words, counts and what has a grammar of its own.
fn kind_of(form: &Form) -> Option<Kind> {
    match form {
        Form::Length | Form::LengthOrZero | Form::PlainLength | Form::Height => Some(Kind::Length),
        Form::Quantity(kind, _) => Some(*kind),
        Form::Percent => Some(Kind::Ratio),
        _ => None,
    }
}

/// The unit of a bare length in a file.
pub(crate) fn bare_unit(loaded: &Loaded) -> Option<&'static Unit> {
    let told = raw_at(loaded, "lengths")?;
    Unit::find(Kind::Length, told.trim_matches(['"', '\'']))
}

/// The units in which an owner writes.
pub(crate) fn own_system(loaded: &Loaded) -> System {
    match bare_unit(loaded) {
        Some(unit) if matches!(unit.name, "in" | "ft") => System::Imperial,
        _ => System::Metric,
    }
}

/// The unit of a bare number after a key.
fn bare_for(form: &Form, loaded: &Loaded) -> Option<&'static Unit> {
    match kind_of(form)? {
        Kind::Length => bare_unit(loaded),
        Kind::Ratio => Unit::find(Kind::Ratio, "%"),
        _ => None,
    }
}

/// The text of a TOML value without its quotes.
pub(crate) fn unquoted(raw: &str) -> String {
    let raw = raw.trim();
    // A file of one key is the shortest way to have a value read as TOML reads it.
    let table: Option<toml::Table> = format!("x = {raw}").parse().ok();
    match table.as_ref().and_then(|table| table.get("x")) {
        Some(toml::Value::String(text)) => text.clone(),
        _ => raw.to_owned(),
    }
}

/// What stands at a place that is more than one value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Several {
    /// Keys of its own.
    Table,
    /// As many values as one likes, or an item of these.
    List,
    /// Two readings that wait for one to be chosen.
    Pair,
}

/// What more than one value stands at a place, and why nothing is written there as one.
///
/// A slip writes one value. At such a place it would write over all the others, so that it is told where each is
/// written instead.
pub(crate) fn several(loaded: &Loaded, place: &str) -> Option<(Several, String)> {
    let row = row_of(place);
    let raw = raw_at(loaded, place).map(str::trim);
    let within = |open: char| {
        loaded.chart.places().paths().any(|path| {
            path.strip_prefix(place)
                .is_some_and(|rest| rest.starts_with(open))
        })
    };
    let begins = |open: char| raw.is_some_and(|raw| raw.starts_with(open));
    let form = row.map(|row| row.form);
    let table = matches!(form, Some(Form::Table(_) | Form::ThingOrRun(..)));
    let list = matches!(form, Some(Form::List(_)));
    let some = raw.is_some_and(|raw| !matches!(unquoted(raw).trim(), "" | "?"));
    let what = if table || within('.') || begins('{') {
        Several::Table
    } else if place.ends_with(']') || (list && some) {
        Several::List
    } else if within('[') || begins('[') {
        match super::survey::readings(loaded, place) {
            Some(_) => Several::Pair,
            None => Several::List,
        }
    } else {
        return None;
    };
    let (line, _) = loaded.chart.position(place);
    let why = match what {
        Several::Table => format!(
            "{place} holds values of its own: each is written at its own key, in line {line} of the boat file or under it."
        ),
        Several::List => format!(
            "{place} holds a list, and one value would write over all of it: write this one into the list, in line {line} of the boat file."
        ),
        Several::Pair => format!(
            "Two readings stand at {place}: settle in the chapter Survey which one holds, then write another."
        ),
    };
    Some((what, why))
}

/// Why something may not be written at a place where more than one value stands. A list may take the place of a list
/// and a table that of a table; nothing keeps anybody from taking them out.
pub(crate) fn whole_only(loaded: &Loaded, place: &str, to: &str) -> Option<String> {
    let to = to.trim_start();
    if to.is_empty() {
        return None;
    }
    let (what, why) = several(loaded, place)?;
    let alike = match what {
        Several::Table => to.starts_with('{'),
        Several::List => to.starts_with('[') && !place.ends_with(']'),
        Several::Pair => false,
    };
    (!alike).then_some(why)
}

/// A value as TOML, from what was typed.
///
/// A bare number where a length is due gets the unit of the reader's choice, so that none is ever silent.
pub(crate) fn toml_of(row: Option<&KeyRow>, text: &str, units: System) -> String {
    let text = text.trim();
    let form = row.map(|row| row.form);
    let number = text
        .replace(',', ".")
        .parse::<f64>()
        .is_ok_and(f64::is_finite);
    match form {
        Some(Form::Number(..) | Form::Count | Form::Whole | Form::Version) if number => {
            text.replace(',', ".")
        }
        Some(Form::Bool) => match text.to_lowercase().as_str() {
            "yes" | "true" => "true".into(),
            "no" | "false" => "false".into(),
            _ => boat::quoted(text),
        },
        Some(form) if kind_of(&form) == Some(Kind::Length) => {
            let unit = match units {
                System::Metric => "mm",
                System::Imperial => "in",
            };
            boat::quoted(&with_unit(text, unit))
        }
        // A list is written as one, and stands where several values do.
        Some(Form::List(_)) if text.starts_with('[') => text.to_owned(),
        _ => boat::quoted(text),
    }
}

/// A length with the unit that its reader chose, where it says none: a number, a fraction, a span, with or without
/// the instrument it was read with. What is no such length stays as it is.
fn with_unit(text: &str, unit: &str) -> String {
    let own = Unit::find(Kind::Length, unit);
    let read = |text: &str, bare| parse_reading::<Length>(text, bare).ok();
    let Some(meant) = read(text, own).filter(|_| read(text, None).is_none()) else {
        return text.to_owned();
    };
    let behind = format!("{text} {unit}");
    if read(&behind, None).as_ref() == Some(&meant) {
        behind
    } else {
        // The unit belongs before the instrument, or to one number of two.
        file_text(&meant)
    }
}

/// What a text is read as, dressed for people.
struct Dressed<'a> {
    text: &'a str,
    bare: Option<&'static Unit>,
    usual: Instrument,
    instruments: &'a Instruments,
    system: System,
}

/// The same, taken apart.
struct Read {
    /// `41.8 ± 0.2 mm`
    shown: String,
    /// As it would be typed, with its unit.
    typed: String,
    instrument: Instrument,
    /// Half width and value [SI].
    si: f64,
}

impl ForKind for Dressed<'_> {
    type Out = Option<Read>;
    fn run<Q: Quantity>(self) -> Option<Read> {
        let reading: Reading<Q> = parse_reading(self.text, self.bare).ok()?;
        let measured = reading.measured(self.instruments, self.usual);
        Some(Read {
            shown: match &measured {
                Some(measured) => show_measured(measured, self.system),
                None => show(reading.value, None, self.system),
            },
            typed: file_text(&reading),
            instrument: reading.instrument.unwrap_or(self.usual),
            si: reading.value.si(),
        })
    }
}

/// The instruments that read a kind of quantity, each with its half width at a value.
struct Known<'a> {
    instruments: &'a Instruments,
    at: Option<f64>,
}

impl ForKind for Known<'_> {
    type Out = Vec<ValueInstrument>;
    fn run<Q: Quantity>(self) -> Vec<ValueInstrument> {
        let value = self.at.and_then(Q::from_si);
        let tolerance = |width: HalfWidth<Q>, system: System| match value {
            Some(value) => show_half_width(width.of(value), value, system),
            // Without a value it is told as beside one of a hundred times that.
            None if width.at_least.si() > 0.0 => match Q::from_si(100.0 * width.at_least.si()) {
                Some(value) => show_half_width(width.at_least, value, system),
                None => show(width.at_least, None, system),
            },
            // A share of a value is all that can be told without one.
            None => show(width.share, None, system),
        };
        Instrument::ALL
            .into_iter()
            .filter_map(|instrument| {
                let width = self.instruments.get::<Q>(instrument)?;
                Some(ValueInstrument {
                    name: instrument.name().to_owned(),
                    tolerance: Text {
                        metric: tolerance(width, System::Metric),
                        imperial: tolerance(width, System::Imperial),
                    },
                })
            })
            .collect()
    }
}

fn read(loaded: &Loaded, place: &str, text: &str, system: System) -> Option<Read> {
    let row = row_of(place)?;
    let usual = row
        .instrument
        .or_else(|| boat::instrument_of(place))
        .unwrap_or(Instrument::Maker);
    for_kind(
        kind_of(&row.form)?,
        Dressed {
            text,
            bare: bare_for(&row.form, loaded),
            usual,
            instruments: &loaded.boat.instruments,
            system,
        },
    )
}

/// A typed value.
#[derive(Clone, Debug, Deserialize, TS)]
pub struct ReadingAsk {
    pub(crate) place: String,
    pub(crate) text: String,
    #[serde(default)]
    pub(crate) units: Units,
}

/// The reader's units.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, TS)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs)]
pub enum Units {
    #[default]
    Metric,
    Imperial,
}

impl From<Units> for System {
    fn from(units: Units) -> Self {
        match units {
            Units::Metric => Self::Metric,
            Units::Imperial => Self::Imperial,
        }
    }
}

/// How a typed value is read: by the very reader of the file, on a copy of its text.
pub(crate) fn reading(sheet: &Sheet, typed: &ReadingAsk) -> ReadingAnswer {
    let place = typed_at(sheet.loaded.chart.places(), &typed.place);
    let row = row_of(&place);
    let expected = row.map_or_else(String::new, |row| row.example.to_owned());
    let bad = |why: String, expected: String| ReadingAnswer::Bad {
        ok: false,
        why,
        expected,
    };
    if typed.text.trim().is_empty() {
        return bad("Nothing is written.".into(), expected);
    }
    if typed.text.len() > LONGEST {
        return bad("That is longer than any value.".into(), expected);
    }
    if let Some((_, why)) = several(&sheet.loaded, &place) {
        return bad(why, String::new());
    }
    let system = typed.units.into();
    let toml = toml_of(row, &typed.text, system);
    let text = match with(sheet.text(), &place, &toml) {
        Ok(text) => text,
        Err(refused) => return bad(refused.wrong.why, expected),
    };
    let (boat, _, remarks) = boat::read(&text);
    // What was wrong elsewhere before is not this value's fault.
    let new: Vec<&boat::Remark> = remarks
        .iter()
        .filter(|remark| {
            !sheet
                .loaded
                .remarks
                .iter()
                .any(|old| old.message == remark.message)
        })
        .collect();
    let stop = |remark: &&&boat::Remark| remark.severity == boat::Severity::Stop;
    if let Some(fault) = new.iter().find(stop) {
        let expected = fault.expected.clone().unwrap_or(expected);
        return bad(fault.message.clone(), expected);
    }
    let own = unquoted(&toml);
    let read = read(&sheet.loaded, &place, &own, system);
    let odd = new.first().map(|remark| remark.message.clone());
    let remark = odd.or_else(|| coarse(row, &own));
    let far = far(&sheet.loaded, &boat, &place, &own, system);
    let shown = match (own.as_str(), read) {
        ("?", _) => "looked, can't be known yet".to_owned(),
        (_, Some(read)) => format!("{}, {}", read.shown, read.instrument.name()),
        _ => own,
    };
    ReadingAnswer::Good {
        ok: true,
        toml,
        shown,
        remark,
        far,
    }
}

/// That a length can hardly be, beside what else the file says of its place and what stood there: it is asked back
/// before it is kept. `edited` is the boat with that length alone at the place.
pub(crate) fn far(
    loaded: &Loaded,
    edited: &boat::Boat,
    place: &str,
    own: &str,
    system: System,
) -> Option<String> {
    let row = row_of(place)?;
    // A height may be next to nothing, and many times that on another day.
    if !matches!(
        row.form,
        Form::Length | Form::LengthOrZero | Form::PlainLength
    ) {
        return None;
    }
    let length = |text: &str, system| {
        let read = read(loaded, place, text, system)?;
        Length::from_si(read.si)
    };
    let instead = || {
        let old = unquoted(raw_at(loaded, place)?);
        let (new, old) = (length(own, system)?, length(&old, own_system(loaded))?);
        reckon::odd_instead(new, old)
    };
    let words = reckon::odd_beside(edited, place).or_else(instead)?;
    Some(format!(
        "{}: keep it, or type it anew?",
        words.in_units(system)
    ))
}

/// A reading to the nearest five millimetres where a caliper is wanted is hardly one by caliper.
fn coarse(row: Option<&KeyRow>, text: &str) -> Option<String> {
    let row = row.filter(|row| row.instrument == Some(Instrument::Caliper))?;
    if kind_of(&row.form) != Some(Kind::Length) {
        return None;
    }
    let number = text.strip_suffix("mm")?.trim();
    let round = number
        .parse::<u32>()
        .is_ok_and(|mm| mm >= 10 && mm.is_multiple_of(5));
    round.then(|| {
        format!("{number} mm is to the nearest 5 mm; a caliper reads tenths. With a tape? Say so.")
    })
}

/// What stands at a place, and what may.
pub(crate) fn value(loaded: &Loaded, place: &str) -> Result<ValueAnswer, Refused> {
    let place = typed_at(loaded.chart.places(), place);
    let row = row_of(&place);
    let raw = raw_at(loaded, &place);
    if row.is_none() && raw.is_none() {
        return Err(Refused::missing(format!(
            "{place} names no value of a boat file."
        )));
    }
    let kind = row.and_then(|row| kind_of(&row.form));
    let own = raw.map(unquoted);
    let read = own
        .as_deref()
        .and_then(|own| read(loaded, &place, own, own_system(loaded)));
    let stands = match (own.as_deref().map(str::trim), &read) {
        (None | Some(""), _) => ValueKind::Empty,
        (Some("?"), _) => ValueKind::Unknown,
        (Some("choose"), _) => ValueKind::Choose,
        (_, Some(read)) => match read.instrument {
            Instrument::Guessed => ValueKind::Guessed,
            Instrument::Plate | Instrument::Drawing | Instrument::Maker => ValueKind::Plate,
            _ => ValueKind::Measured,
        },
        _ => ValueKind::Text,
    };
    let mut units: Vec<String> = kind.map_or_else(Vec::new, |kind| {
        let usual = kind.usual_units().iter();
        usual.map(|unit| (*unit).to_owned()).collect()
    });
    // The owner's own comes first.
    let bare = row.and_then(|row| bare_for(&row.form, loaded));
    if let Some(at) = bare.and_then(|bare| units.iter().position(|unit| unit == bare.name)) {
        units[..=at].rotate_right(1);
    }
    let instruments = kind.map_or_else(Vec::new, |kind| {
        let at = read.as_ref().map(|read| read.si);
        let instruments = &loaded.boat.instruments;
        for_kind(kind, Known { instruments, at })
    });
    Ok(ValueAnswer {
        text: match &read {
            Some(read) => Some(read.typed.clone()),
            None => own,
        },
        toml: raw.unwrap_or_default().to_owned(),
        kind: stands,
        instrument: read.map(|read| read.instrument.name().to_owned()),
        units,
        instruments,
        title: title(&place),
        says: row.map_or_else(String::new, |row| row.doc.to_owned()),
        closed: several(loaded, &place).map(|(_, why)| why),
        place,
    })
}

/// A place for people: `od of engine, spigots, out`.
pub(crate) fn title(place: &str) -> String {
    match keys_of(place) {
        Some(mut keys) => {
            // OK because a path has one key at least.
            let last = keys.pop().unwrap_or_default();
            if matches!(
                keys.first().map(String::as_str),
                Some("things" | "runs" | "joints")
            ) {
                keys.remove(0);
            }
            match keys.as_slice() {
                [] => last,
                keys => format!("{last} of {}", keys.join(", ")),
            }
        }
        None => place.to_owned(),
    }
}

impl App {
    /// How a typed value is read.
    pub(crate) fn reading(&self, typed: &ReadingAsk) -> Result<ReadingAnswer, Refused> {
        let sheet = self.sheet()?;
        Ok(reading(&sheet, typed))
    }

    /// What stands at a place.
    pub(crate) fn value(&self, place: &str) -> Result<ValueAnswer, Refused> {
        value(&self.sheet()?.loaded, place)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_is_taken_apart_with_its_quotes() {
        assert_eq!(
            keys_of("joints.\"hot.from\".clip").unwrap(),
            ["joints", "hot.from", "clip"]
        );
        assert_eq!(keys_of("a.\"b\\\"c\"").unwrap(), ["a", "b\"c"]);
        for wrong in ["", "a..b", "a.", "stock.hose[1]", "a.\"b"] {
            assert!(keys_of(wrong).is_none(), "{wrong}");
        }
    }

    #[test]
    fn the_table_of_keys_is_found_from_a_path() {
        let name = |path: &str| row_of(path).map(|row| row.name);
        assert_eq!(name("engine.spigots.out.od"), Some("od"));
        assert_eq!(name("things.gearbox.spigots.a.h"), Some("h"));
        assert_eq!(name("joints.\"hot.from\".clip"), Some("clip"));
        assert_eq!(name("arrangements.after.replace.hot.way"), Some("way"));
        assert_eq!(name("arrangements.after.replace.keel-aft.h"), Some("h"));
        assert_eq!(name("no.such.key"), None);
    }

    #[test]
    fn a_bare_length_never_goes_without_its_unit() {
        let od = row_of("engine.spigots.out.od");
        assert_eq!(toml_of(od, "41.8", System::Metric), "\"41.8 mm\"");
        assert_eq!(toml_of(od, "41,8", System::Metric), "\"41,8 mm\"");
        assert_eq!(toml_of(od, "1.65", System::Imperial), "\"1.65 in\"");
        assert_eq!(toml_of(od, "1 5/8", System::Imperial), "\"1 5/8 in\"");
        assert_eq!(toml_of(od, "41 to 43", System::Metric), "\"41 to 43 mm\"");
        assert_eq!(
            toml_of(od, "41.8 ± 0.2", System::Metric),
            "\"41.8 ± 0.2 mm\""
        );
        assert_eq!(toml_of(od, "41.8 tape", System::Metric), "\"41.8 mm tape\"");
        assert_eq!(toml_of(od, "1 5/8 in", System::Metric), "\"1 5/8 in\"");
        assert_eq!(toml_of(od, "?", System::Metric), "\"?\"");
        let count = row_of("joints.\"hot.from\".clips");
        assert_eq!(toml_of(count, "2", System::Metric), "2");
        let glass = row_of("things.header.sight_glass");
        assert_eq!(toml_of(glass, "yes", System::Metric), "true");
    }

    #[test]
    fn a_round_number_is_asked_about_where_a_caliper_is_wanted() {
        let od = row_of("engine.spigots.out.od");
        assert!(coarse(od, "40 mm").is_some());
        assert!(coarse(od, "40.0 mm").is_none() && coarse(od, "42 mm").is_none());
        assert!(coarse(row_of("runs.hot.length"), "900 mm").is_none());
    }

    #[test]
    fn one_value_never_takes_the_place_of_several() {
        use crate::files::{Hash, Held};
        let text = "version = 1\n[engine]\nspigots.out = { od = [\"38.1\", \"38.4\"], h = 200 }\n[stock]\nclips = [\"8 x worm 32-50 316\"]\nhose = \"1.8 m x 38 wired\"\naboard = \"?\"\n";
        let loaded = Loaded::from_held(Held {
            path: "boat.toml".into(),
            hash: Hash::of(text.as_bytes()),
            text: text.to_owned(),
        });
        let what = |place: &str| several(&loaded, place).map(|(what, _)| what);
        assert_eq!(what("stock.clips"), Some(Several::List));
        assert_eq!(what("stock.clips[0]"), Some(Several::List));
        // One alone, where a second would be written over it.
        assert_eq!(what("stock.hose"), Some(Several::List));
        assert_eq!(what("stock.parts"), None);
        assert_eq!(what("stock.aboard"), None);
        assert_eq!(what("stock"), Some(Several::Table));
        assert_eq!(what("engine.spigots.out"), Some(Several::Table));
        assert_eq!(what("engine.spigots.out.od"), Some(Several::Pair));
        assert_eq!(what("engine.spigots.out.h"), None);
        // A table that is not there yet is none the less one.
        assert_eq!(what("boat.waterline"), Some(Several::Table));

        let (_, why) = several(&loaded, "stock.clips").unwrap();
        assert!(why.contains("line 5"), "{why}");
        let why = |place: &str, to: &str| whole_only(&loaded, place, to);
        assert!(why("stock.clips", "\"2 x worm 40-60\"").is_some());
        assert!(why("stock.clips", "[\"2 x worm 40-60\"]").is_none());
        assert!(why("stock.clips", "").is_none());
        assert!(why("engine.spigots.out", "{ od = 38 }").is_none());
        assert!(why("engine.spigots.out", "38").is_some());
        assert!(why("engine.spigots.out.od", "\"38.1\"").is_some());
        assert!(why("engine.spigots.out.h", "210").is_none());
    }
}
