//! Readings that a phone kept while it was cut off: each is taken once, none overwrites what it did not see.

use std::collections::BTreeSet;
use std::net::IpAddr;

use quantity::{Instrument, System};
use serde::Deserialize;
use ts_rs::TS;

use axum::http::StatusCode;

use super::App;
use super::answers::lock;
use super::clock;
use super::desk::{Way, with};
use super::label::fitted;
use super::page::{file_name, folder};
use super::refused::Refused;
use super::survey::readings;
use super::values::{
    Several, far, own_system, raw_at, row_of, several, toml_of, typed_at, unquoted,
};
use crate::api::{EntryOutcome, Outcomes};
use crate::files::{Hash, Held};
use crate::load::Loaded;

/// Entries of one call at most.
const MOST: usize = 200;
/// Longest text of an entry, and of its name.
const LONGEST: (usize, usize) = (500, 80);
/// Names of entries that are remembered.
const REMEMBERED: usize = 20_000;

/// One reading as a phone sends it.
#[derive(Clone, Debug, Deserialize, TS)]
#[ts(optional_fields = nullable)]
pub struct SentEntry {
    /// Its own random name.
    id: String,
    /// Which boat it was taken of, by folder and file; not told by what reads a saved file in at the desk.
    #[serde(default)]
    boat: Option<String>,
    place: String,
    text: String,
    #[serde(default)]
    instrument: Option<String>,
    #[serde(default)]
    note: Option<String>,
    /// When it was kept, by the phone's clock; shown to nobody, since the phone's clock may be wrong.
    #[serde(default, rename = "at")]
    _at: Option<String>,
    /// What stood there when it was taken: as TOML, as text, or the hash of either.
    #[serde(default)]
    saw: Option<String>,
    /// Whoever took it was asked back, and means it.
    #[serde(default)]
    #[ts(as = "Option<bool>")]
    meant: bool,
    /// How it was entered; nothing where it was typed at the desk's own sheet.
    #[serde(default)]
    by: Option<EntryBy>,
}

/// How an entry came.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, TS)]
#[serde(rename_all = "kebab-case")]
pub enum EntryBy {
    /// On the pad of the phone layout, wherever that is open.
    Pad,
    /// From a file into which a phone had written what waited on it.
    File,
}

impl SentEntry {
    /// Whether it brings a note along.
    fn says(&self) -> bool {
        let note = self.note.as_deref();
        note.is_some_and(|note| !note.trim().is_empty())
    }
}

/// What became of one entry.
enum Came {
    /// It is in this text.
    Written(String, Option<String>),
    /// It stands there already.
    Stands,
    /// It can't be taken.
    Refused(String),
    /// It can hardly be: it is taken where it is meant.
    AskedBack(String),
}

impl App {
    /// Takes readings in, as one step for all of a call. `from` tells the devices apart.
    pub(crate) fn entries(
        &self,
        entries: &[SentEntry],
        from: Option<IpAddr>,
    ) -> Result<Outcomes, Refused> {
        if entries.len() > MOST {
            return Err(Refused::unfit(format!(
                "At most {MOST} entries are taken at once: send the rest after these."
            )));
        }
        // Where the file is changed at the very same moment it is tried again with the new text.
        for _ in 0..3 {
            match self.try_entries(entries, from) {
                Err(refused) if refused.status == 409 => {}
                done => return done,
            }
        }
        Err(Refused::conflict(
            "The boat file keeps changing: try again.",
        ))
    }

    fn try_entries(
        &self,
        entries: &[SentEntry],
        from: Option<IpAddr>,
    ) -> Result<Outcomes, Refused> {
        let sheet = self.desk().to_edit()?;
        let path = &sheet.loaded.held.path;
        let open = format!("{}/{}", folder(path), file_name(path));
        let other = |entry: &&SentEntry| entry.boat.as_ref().is_some_and(|boat| *boat != open);
        if let Some(other) = entries.iter().find(other) {
            return Err(Refused::new(
                StatusCode::PRECONDITION_FAILED,
                "These readings are of another boat: they wait until she is open here.",
            )
            .found(other.boat.clone().unwrap_or_default())
            .expected(open));
        }
        // The file as it stands with the entries so far: what one of them brought, the next one sees.
        let mut current: Option<Loaded> = None;
        let mut places = Vec::new();
        let mut names = Vec::new();
        let mut outcomes = Vec::new();
        for entry in entries {
            let outcome = |kept: bool, why: Option<String>| EntryOutcome {
                id: entry.id.clone(),
                kept,
                why,
                asks: false,
            };
            let repeated = lock(&self.taken).contains(&entry.id) || names.contains(&entry.id);
            if repeated {
                outcomes.push(outcome(true, None));
                continue;
            }
            let loaded = current.as_ref().unwrap_or(&sheet.loaded);
            match take(loaded, entry) {
                Came::Written(text, why) => {
                    places.push(typed_at(loaded.chart.places(), &entry.place));
                    places.extend(note_place(&entry.place).filter(|_| entry.says()));
                    current = Some(Loaded::from_held(Held {
                        path: sheet.loaded.held.path.clone(),
                        hash: Hash::of(text.as_bytes()),
                        text,
                    }));
                    names.push(entry.id.clone());
                    outcomes.push(outcome(true, why));
                }
                Came::Stands => {
                    names.push(entry.id.clone());
                    outcomes.push(outcome(true, None));
                }
                Came::Refused(why) => outcomes.push(outcome(false, Some(why))),
                Came::AskedBack(why) => outcomes.push(EntryOutcome {
                    asks: true,
                    ..outcome(false, Some(why))
                }),
            }
        }
        let by = entries.first().and_then(|entry| entry.by);
        let device = match (from, by) {
            (Some(from), _) => self.device(from),
            (None, Some(EntryBy::Pad)) => "phone layout".to_owned(),
            (None, Some(EntryBy::File)) => "from a file".to_owned(),
            (None, None) => "this desk".to_owned(),
        };
        if let Some(loaded) = current {
            let what = match places.as_slice() {
                [one] => self.named(&sheet, one),
                all => format!("{} readings", all.len()),
            };
            let label = fitted(&what, &format!(", {device}, {}", clock::now()));
            self.write(&sheet, loaded.held.text, Way::Step(label), places)?;
        }
        // A name counts as taken only once what it brought is on the disk.
        let kept = names.len();
        remember(&mut lock(&self.taken), names);
        if let Some(from) = from {
            self.kept_from(from, kept);
        }
        Ok(Outcomes { outcomes })
    }
}

fn remember(taken: &mut BTreeSet<String>, names: Vec<String>) {
    if taken.len() > REMEMBERED {
        taken.clear();
    }
    taken.extend(names);
}

/// One entry on a file that may hold others of the same call.
fn take(loaded: &Loaded, entry: &SentEntry) -> Came {
    let refused = |why: &str| Came::Refused(why.to_owned());
    if entry.id.is_empty() || entry.id.len() > LONGEST.1 {
        return refused("An entry wants a name of its own.");
    }
    if entry.text.len() > LONGEST.0
        || entry
            .note
            .as_ref()
            .is_some_and(|note| note.len() > LONGEST.0)
    {
        return refused("That is longer than any reading.");
    }
    if entry.text.trim().is_empty() {
        return refused("Nothing is written.");
    }
    let place = typed_at(loaded.chart.places(), &entry.place);
    let Some(row) = row_of(&place) else {
        return refused("That names no value of a boat file.");
    };
    let toml = match with_instrument(row, entry, own_system(loaded)) {
        Ok(toml) => toml,
        Err(why) => return Came::Refused(why),
    };
    let now = raw_at(loaded, &place);
    let same = |raw: &str| raw.trim() == toml || unquoted(raw) == unquoted(&toml);
    if now.is_some_and(same) {
        return Came::Stands;
    }
    if readings(loaded, &place).is_some_and(|two| two.iter().any(|raw| same(raw))) {
        return Came::Stands;
    }
    // A list or a table is more than one reading, whatever the phone saw of it.
    if let Some((Several::List | Several::Table, why)) = several(loaded, &place) {
        return Came::Refused(why);
    }
    if !entry.meant
        && let Some(why) = far_off(loaded, &place, &toml)
    {
        return Came::AskedBack(why);
    }
    let (written, why) = match now {
        // An empty box, "?" and "choose" are no readings that could be lost.
        None => (toml, None),
        Some(now) if matches!(unquoted(now).trim(), "" | "?" | "choose") => (toml, None),
        Some(now) if now.trim_start().starts_with('[') => {
            // Somebody who could not take one has nothing to say to either.
            if unquoted(&toml).trim() == "?" {
                return Came::Stands;
            }
            return refused("Two readings wait there to be settled at the desk.");
        }
        Some(now) if saw(entry.saw.as_deref(), now, loaded, &place) => (toml, None),
        // Nor is a reading lost by somebody who could not take one.
        Some(_) if unquoted(&toml).trim() == "?" => return Came::Stands,
        Some(now) => (
            format!("[{}, {toml}]", now.trim()),
            Some("The desk has another reading: both stand there until one is chosen.".to_owned()),
        ),
    };
    let edited = with(&loaded.held.text, &place, &written).map_err(|refused| refused.wrong.why);
    let checked = edited.and_then(|text| judged(&text, loaded).map(|()| text));
    match checked {
        Ok(text) => Came::Written(noted(&text, loaded, &place, entry), why),
        Err(why) => Came::Refused(why),
    }
}

/// That a reading can hardly be, beside what the file says.
fn far_off(loaded: &Loaded, place: &str, toml: &str) -> Option<String> {
    let alone = with(&loaded.held.text, place, toml).ok()?;
    let (boat, _, _) = boat::read(&alone);
    far(loaded, &boat, place, &unquoted(toml), own_system(loaded))
}

/// The value as TOML, with the instrument that it was read with where that is not the usual one.
fn with_instrument(
    row: &boat::keys::KeyRow,
    entry: &SentEntry,
    units: System,
) -> Result<String, String> {
    let text = entry.text.trim();
    let plain = toml_of(Some(row), text, units);
    let Some(name) = entry
        .instrument
        .as_deref()
        .map(str::trim)
        .filter(|name| !name.is_empty())
    else {
        return Ok(plain);
    };
    let Some(instrument) = Instrument::parse(name) else {
        return Err(format!("{name} is no instrument."));
    };
    let quantity = row.instrument.is_some();
    let says_it = instrument_in(&plain).is_some();
    if !quantity || says_it || row.instrument == Some(instrument) || matches!(text, "?" | "choose")
    {
        return Ok(plain);
    }
    Ok(boat::quoted(&format!(
        "{} {}",
        unquoted(&plain),
        instrument.name()
    )))
}

/// The instrument with which a text ends.
fn instrument_in(toml: &str) -> Option<Instrument> {
    let text = unquoted(toml);
    let words: Vec<&str> = text.split_whitespace().collect();
    (1..=2).rev().find_map(|count| {
        let from = words.len().checked_sub(count)?;
        Instrument::parse(&words[from..].join(" "))
    })
}

/// Why a text can't stand, by a fault that was not there before.
fn judged(text: &str, before: &Loaded) -> Result<(), String> {
    let (_, _, remarks) = boat::read(text);
    let new = remarks.iter().find(|remark| {
        let known = &before.remarks;
        remark.severity == boat::Severity::Stop
            && !known.iter().any(|old| old.message == remark.message)
    });
    match new {
        Some(fault) => Err(match &fault.expected {
            Some(expected) => format!("{}: {expected}", fault.message),
            None => fault.message.clone(),
        }),
        None => Ok(()),
    }
}

/// Whether what a phone saw is what stands there: the value as TOML, as text, as shown, or the hash of one of these.
fn saw(saw: Option<&str>, now: &str, loaded: &Loaded, place: &str) -> bool {
    let Some(saw) = saw.map(str::trim).filter(|saw| !saw.is_empty()) else {
        return false;
    };
    let mut forms = vec![now.trim().to_owned(), unquoted(now)];
    if let Ok(value) = super::values::value(loaded, place) {
        forms.extend(value.text);
    }
    let boxes = reckon::boxes(&loaded.boat, loaded.chart.places(), None);
    let shown = boxes.into_iter().find(|own| own.place == place);
    if let Some(written) = shown.and_then(|own| own.written) {
        forms.extend([written.text.metric, written.text.imperial]);
    }
    forms.iter().any(|form| {
        let hash = Hash::of(form.as_bytes());
        saw == form || saw == hash.long() || saw == hash.short()
    })
}

/// Where a note about a value stands.
fn note_place(place: &str) -> Option<String> {
    let keys = super::values::keys_of(place)?;
    let subject = match keys.as_slice() {
        [first, ..] if first == "engine" => "engine",
        [first, name, ..] if matches!(first.as_str(), "things" | "runs" | "joints") => name,
        _ => return None,
    };
    Some(format!("{}.note", boat::seen_path(subject)))
}

/// The text with an entry's note in `[seen]`, where the file has a place for it.
fn noted(text: &str, loaded: &Loaded, place: &str, entry: &SentEntry) -> String {
    let note = entry.note.as_deref().map(str::trim).unwrap_or_default();
    let note: String = note.chars().filter(|letter| !letter.is_control()).collect();
    let (Some(at), false) = (note_place(place), note.is_empty()) else {
        return text.to_owned();
    };
    let old = raw_at(loaded, &at).map(unquoted);
    let whole = match old {
        // The same note sent twice stands once.
        Some(old) if old.contains(&note) => return text.to_owned(),
        Some(old) => format!("{old}; {note}"),
        None => note,
    };
    match with(text, &at, &boat::quoted(&whole)) {
        Ok(with) if judged(&with, loaded).is_ok() => with,
        // A note that has no place is no reason to lose the reading.
        _ => text.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn entry(text: &str, instrument: Option<&str>) -> SentEntry {
        SentEntry {
            id: "a".into(),
            boat: None,
            place: "engine.spigots.out.od".into(),
            text: text.into(),
            instrument: instrument.map(str::to_owned),
            note: None,
            _at: None,
            saw: None,
            meant: false,
            by: None,
        }
    }

    #[test]
    fn an_instrument_is_written_where_it_is_not_the_usual_one() {
        let row = row_of("engine.spigots.out.od").unwrap();
        let toml = |text, with| with_instrument(row, &entry(text, with), System::Metric).unwrap();
        assert_eq!(toml("41.8 mm", Some("caliper")), "\"41.8 mm\"");
        assert_eq!(toml("41.8 mm", Some("tape")), "\"41.8 mm tape\"");
        assert_eq!(toml("41.8 mm tape", Some("tape")), "\"41.8 mm tape\"");
        assert_eq!(toml("41.8", None), "\"41.8 mm\"");
        assert_eq!(toml("?", Some("tape")), "\"?\"");
        assert!(with_instrument(row, &entry("1 mm", Some("sextant")), System::Metric).is_err());
    }
}
