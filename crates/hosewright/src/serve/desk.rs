//! The desk: the boat file as it stands on the disk, as it was last read well, and what was done to it in this run.
//!
//! The desk is locked for moments only; nothing is reckoned while it is. What is reckoned hangs on a [`Sheet`], which
//! never changes: a changed file is another sheet.

use std::collections::VecDeque;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use axum::http::StatusCode;
use ts_rs::TS;

use super::answers::Answers;
use super::clock;
use super::history::{History, Step};
use super::label::label_of;
use super::refused::Refused;
use super::values::{raw_at, typed_at, whole_only};
use super::{App, STACK};
use crate::api::{self, Locked, NewsWhy, Where as _};
use crate::change;
use crate::fault::Fault;
use crate::files::{self, Hash, Held};
use crate::load::Loaded;

/// Largest boat file that the page takes [bytes]: sixteen times that of a large boat. What is larger is no boat file,
/// and could keep the program busy for minutes.
pub(crate) const LARGEST: usize = 256 * 1024;
/// How long a change from outside is shown.
const SHOWN: Duration = Duration::from_secs(600);
/// How many changes from outside, and how many numbers with their places, are kept.
const KEPT: usize = 200;
/// Faults of a file that are sent at most.
const REMARKS: usize = 100;

/// One text of the boat file that can be judged.
#[derive(Debug)]
pub(crate) struct Sheet {
    /// The number of the change that made it.
    pub(crate) number: u64,
    /// The file, read.
    pub(crate) loaded: Loaded,
    /// Held while it is reckoned, so that two calls at once don't both do it.
    pub(crate) turn: Mutex<()>,
}

impl Sheet {
    fn of(number: u64, loaded: Loaded) -> Arc<Self> {
        Arc::new(Self {
            number,
            loaded,
            turn: Mutex::new(()),
        })
    }

    /// Its text.
    pub(crate) fn text(&self) -> &str {
        &self.loaded.held.text
    }
}

/// A file that can't be judged as it stands.
#[derive(Clone, Debug)]
pub(crate) struct Shut {
    pub(crate) locked: Locked,
    pub(crate) remarks: Vec<api::Remark>,
    /// What would fit there.
    expected: Option<String>,
    /// Her name and the hash of the file, for the title block.
    pub(crate) name: String,
    pub(crate) hash: String,
}

/// The desk.
#[derive(Debug, Default)]
pub(crate) struct Desk {
    /// How often the file has changed; 1 for the first.
    pub(crate) number: u64,
    /// The boat file; none where no boat is open.
    pub(crate) path: Option<PathBuf>,
    /// As it was last read well.
    pub(crate) sheet: Option<Arc<Sheet>>,
    /// Why it can't be read now.
    pub(crate) shut: Option<Shut>,
    /// What was done.
    pub(crate) history: History,
    /// When it was last written.
    pub(crate) kept: String,
    /// When it was last read well.
    read: String,
    /// What was reckoned of it, by arrangement.
    pub(crate) answers: Vec<Arc<Answers>>,
    /// The bytes on the disk as they were last seen or written.
    disk: Option<Hash>,
    /// Values that changed outside.
    changed: VecDeque<(String, String, Instant)>,
    /// Which places each of the last changes touched.
    touched: VecDeque<(u64, Vec<String>)>,
    /// How often in a row the file was not there.
    misses: u32,
    /// What this page wrote last.
    pub(crate) last: Option<Last>,
}

/// What was written last.
#[derive(Clone, Debug)]
pub(crate) struct Last {
    /// The number of the change that it made.
    pub(crate) number: u64,
    /// Whether it was new, or taken back, or put back.
    pub(crate) way: Came,
    /// The owner's comment beside what was written.
    pub(crate) comment: Option<api::CommentBeside>,
}

/// How a text came to be written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Came {
    /// By an edit.
    New,
    /// A step was taken back.
    Back,
    /// A step was put back.
    Forth,
}

/// One value to be written, as it was asked for.
#[derive(Clone, Debug, serde::Deserialize, TS)]
pub struct Edit {
    /// Which.
    pub(crate) place: String,
    /// As TOML; empty takes it out.
    pub(crate) to: String,
}

/// What becomes of the stack when a text is written.
#[derive(Clone, Debug)]
pub(crate) enum Way {
    /// A new step with this label.
    Step(String),
    /// The last one is taken back.
    Back,
    /// The next one is put back.
    Forth,
}

impl Desk {
    /// Opens a boat file, good or not.
    pub(crate) fn open(&mut self, path: PathBuf) -> Result<(), Fault> {
        let read = read(&path)?;
        *self = Self {
            number: self.number + 1,
            kept: clock::written(&path),
            path: Some(path),
            ..Self::default()
        };
        self.disk = Some(read.held.hash);
        self.read = clock::now();
        match shut(&read, &self.read) {
            None => self.sheet = Some(Sheet::of(self.number, read)),
            Some(shut) => self.shut = Some(shut),
        }
        Ok(())
    }

    /// The sheet to be edited.
    pub(crate) fn to_edit(&self) -> Result<Arc<Sheet>, Refused> {
        match (&self.shut, &self.sheet) {
            (Some(shut), _) => Err(Refused::new(
                StatusCode::LOCKED,
                "The boat file can't be read, so nothing is written until it is mended.",
            )
            .at((shut.locked.line, shut.locked.column))
            .found(shut.locked.found.clone())),
            (None, Some(sheet)) => Ok(Arc::clone(sheet)),
            (None, None) => Err(Refused::missing("No boat is open.")),
        }
    }

    /// The first of some places that has changed since a number.
    fn clash(&self, number: u64, places: &[String]) -> Option<String> {
        if number == self.number {
            return None;
        }
        let since = self.touched.iter().filter(|(then, _)| *then > number);
        let known = number < self.number && since.clone().count() as u64 == self.number - number;
        if !known {
            // Nobody remembers what has changed since: any of them may have.
            return places.first().cloned();
        }
        since
            .flat_map(|(_, places)| places)
            .find_map(|other| places.iter().find(|own| overlap(own, other)).cloned())
    }

    fn touch(&mut self, places: Vec<String>) {
        if self.touched.len() >= KEPT {
            self.touched.pop_front();
        }
        self.touched.push_back((self.number, places));
    }

    /// Values that changed outside in the last ten minutes.
    pub(crate) fn changed(&self) -> Vec<api::Changed> {
        self.changed
            .iter()
            .filter(|(_, _, when)| when.elapsed() < SHOWN)
            .map(|(place, at, _)| api::Changed {
                place: place.clone(),
                at: at.clone(),
            })
            .collect()
    }

    /// Takes in a file that was changed outside.
    fn take(&mut self, loaded: Loaded) -> Option<NewsWhy> {
        self.disk = Some(loaded.held.hash);
        self.misses = 0;
        if let Some(shut) = shut(&loaded, &self.read) {
            self.shut = Some(shut);
            return Some(NewsWhy::Locked);
        }
        let was_shut = self.shut.take().is_some();
        let at = clock::now();
        self.read.clone_from(&at);
        let places = match &self.sheet {
            Some(old) if old.text() == loaded.held.text => {
                return was_shut.then_some(NewsWhy::Unlocked);
            }
            Some(old) => differing(&old.loaded, &loaded),
            None => Vec::new(),
        };
        self.number += 1;
        let count = match places.len() {
            1 => "1 value".to_owned(),
            count => format!("{count} values"),
        };
        self.history.bar(format!("changed outside, {at}: {count}"));
        for place in &places {
            self.changed.retain(|(known, _, _)| known != place);
            if self.changed.len() >= KEPT {
                self.changed.pop_front();
            }
            self.changed
                .push_back((place.clone(), at.clone(), Instant::now()));
        }
        self.touch(places);
        self.kept = at;
        self.sheet = Some(Sheet::of(self.number, loaded));
        Some(if was_shut {
            NewsWhy::Unlocked
        } else {
            NewsWhy::Outside
        })
    }

    /// The file can't even be read as text.
    fn lost(&mut self, why: String) -> Option<NewsWhy> {
        let known = self
            .shut
            .as_ref()
            .is_some_and(|shut| shut.locked.why == why);
        if known {
            return None;
        }
        self.disk = None;
        let (name, hash) = match &self.sheet {
            Some(sheet) => (
                sheet.loaded.name().unwrap_or(NAMELESS).to_owned(),
                sheet.loaded.held.hash.short(),
            ),
            None => (NAMELESS.to_owned(), String::new()),
        };
        self.shut = Some(Shut {
            locked: Locked {
                why,
                line: 1,
                column: 1,
                found: String::new(),
                since: self.read.clone(),
            },
            remarks: Vec::new(),
            expected: None,
            name,
            hash,
        });
        Some(NewsWhy::Locked)
    }
}

/// A boat whose file gives no name.
pub(crate) const NAMELESS: &str = "a boat without a name";

/// Reads a file that is not too large for the page.
fn read(path: &Path) -> Result<Loaded, Fault> {
    // A size that the system gives may be wrong a moment later; the bytes that were read can't be.
    let held = files::read(path)?;
    if held.text.len() > LARGEST {
        return Err(Fault::Flags(format!(
            "The file {} is larger than {} kB, which is more than the page takes: a boat file is typed by hand and far smaller.",
            held.shown(),
            LARGEST / 1024
        )));
    }
    Ok(Loaded::from_held(held))
}

/// Why a file can't be judged, by the first fault that stops it.
fn shut(loaded: &Loaded, since: &str) -> Option<Shut> {
    let mut remarks = loaded.sent_remarks();
    let stop = remarks
        .iter()
        .find(|remark| remark.severity == api::Severity::Stop)?
        .clone();
    remarks.truncate(REMARKS);
    Some(Shut {
        locked: Locked {
            why: stop.message,
            line: stop.place.line,
            column: stop.place.column,
            found: stop.found,
            since: since.to_owned(),
        },
        remarks,
        expected: stop.expected,
        name: loaded.name().unwrap_or(NAMELESS).to_owned(),
        hash: loaded.held.hash.short(),
    })
}

/// Whether one place is the other or lies in it.
fn overlap(one: &str, other: &str) -> bool {
    let within = |inner: &str, outer: &str| {
        inner
            .strip_prefix(outer)
            .is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
    };
    within(one, other) || within(other, one)
}

/// The places whose text differs, each once: not those that only hold such a place, nor the other names by which one
/// of two spigots alike is known, nor the items of a list one by one.
fn differing(old: &Loaded, new: &Loaded) -> Vec<String> {
    let (before, after) = (old.chart.places(), new.chart.places());
    let value = |loaded: &Loaded, path: &str| raw_at(loaded, path).map(str::to_owned);
    let mut places: Vec<String> = before
        .paths()
        .chain(after.paths().filter(|path| !before.has(path)))
        .filter(|path| value(old, path) != value(new, path))
        .take(KEPT)
        .map(|path| {
            let own = without_items(path);
            // As it is typed in the newer text, and in the older one where it was taken out.
            let places = if after.has(own) { after } else { before };
            typed_at(places, own)
        })
        .collect();
    places.sort();
    places.dedup();
    let all = places.clone();
    places.retain(|path| {
        !all.iter()
            .any(|other| other != path && overlap(other, path) && other.len() > path.len())
    });
    places
}

/// The path of the list that an item stands in; the path itself where it is no item.
fn without_items(path: &str) -> &str {
    let (mut quoted, mut escaped) = (false, false);
    for (at, letter) in path.char_indices() {
        match letter {
            _ if escaped => escaped = false,
            '\\' if quoted => escaped = true,
            '"' => quoted = !quoted,
            '[' if !quoted => return &path[..at],
            _ => {}
        }
    }
    path
}

/// The text with one value set or taken out.
pub(crate) fn with(text: &str, place: &str, to: &str) -> Result<String, Refused> {
    let edited = if to.trim().is_empty() {
        boat::remove_value(text, place)
    } else {
        boat::set_value(text, place, to)
    };
    edited.map_err(|error| Refused::unfit(format!("Nothing is written: {error}.")))
}

impl App {
    /// The sheet that is judged now.
    pub(crate) fn sheet(&self) -> Result<Arc<Sheet>, Refused> {
        let desk = self.desk();
        match (&desk.sheet, &desk.shut) {
            (Some(sheet), _) => Ok(Arc::clone(sheet)),
            (None, Some(shut)) => Err(Refused::new(
                StatusCode::LOCKED,
                "The boat file can't be read, and was not read well before.",
            )
            .at((shut.locked.line, shut.locked.column))
            .found(shut.locked.found.clone())),
            (None, None) => Err(Refused::missing("No boat is open.")),
        }
    }

    /// Writes values, as one step; where no label is given, it is told by what is written.
    pub(crate) fn edit(&self, number: u64, label: &str, edits: &[Edit]) -> Result<(), Refused> {
        let sheet = self.desk().to_edit()?;
        let places: Vec<String> = edits
            .iter()
            .map(|edit| typed_at(sheet.loaded.chart.places(), &edit.place))
            .collect();
        let clash = self.desk().clash(number, &places);
        if let Some(place) = clash {
            return Err(self.conflict(&place, edits, &places));
        }
        let mut text = sheet.text().to_owned();
        for (edit, place) in edits.iter().zip(&places) {
            // One value never takes the place of several.
            if let Some(why) = whole_only(&sheet.loaded, place, &edit.to) {
                return Err(Refused::unfit(format!("Nothing is written: {why}"))
                    .at(sheet.loaded.chart.position(place)));
            }
            text = with(&text, place, &edit.to)?;
        }
        let label = match label.trim() {
            "" => self.done(&sheet, edits, &places),
            label => label.to_owned(),
        };
        let told = self.write(&sheet, text, Way::Step(label_of(&label)), places.clone());
        told.map_err(|refused| match refused.status {
            StatusCode::CONFLICT => match places.first() {
                Some(place) => self.conflict(place, edits, &places),
                None => refused,
            },
            _ => refused,
        })
    }

    /// Takes the last step back, or puts the next one back.
    pub(crate) fn turn(&self, number: u64, way: Way) -> Result<(), Refused> {
        let (sheet, text) = {
            let desk = self.desk();
            let sheet = desk.to_edit()?;
            if number != desk.number {
                return Err(Refused::conflict(
                    "Another change came in between: look at it first.",
                ));
            }
            let (text, stands) = match way {
                Way::Forth => match desk.history.next() {
                    Some(step) => (Arc::clone(&step.after), Arc::clone(&step.before)),
                    None => return Err(Refused::conflict("There is nothing to put back.")),
                },
                Way::Back | Way::Step(_) => match desk.history.last() {
                    Some(step) => (Arc::clone(&step.before), Arc::clone(&step.after)),
                    None if desk.history.is_barred() => {
                        return Err(Refused::conflict(
                            "The file was changed outside: what was done before that can be read, not taken back.",
                        ));
                    }
                    None => return Err(Refused::conflict("There is nothing to take back.")),
                },
            };
            if *stands != *sheet.text() {
                return Err(Refused::conflict(
                    "The file is not as that step left it, so it is not touched.",
                ));
            }
            (sheet, text)
        };
        self.write(&sheet, text.to_string(), way, Vec::new())
    }

    /// Puts a whole text in the place of a sheet's, on the disk first. Where no places are named, they are looked for.
    pub(crate) fn write(
        &self,
        sheet: &Arc<Sheet>,
        text: String,
        way: Way,
        mut places: Vec<String>,
    ) -> Result<(), Refused> {
        if text == sheet.text() {
            return Ok(());
        }
        if text.len() > LARGEST {
            return Err(Refused::unfit(format!(
                "Nothing is written: the boat file would be larger than {} kB.",
                LARGEST / 1024
            )));
        }
        let held = &sheet.loaded.held;
        let loaded = Loaded::from_held(Held {
            path: held.path.clone(),
            hash: Hash::of(text.as_bytes()),
            text,
        });
        if let Some(Shut {
            locked, expected, ..
        }) = shut(&loaded, "")
        {
            let why = format!("Nothing is written: {}.", locked.why);
            let mut refused = Refused::unfit(why)
                .at((locked.line, locked.column))
                .found(locked.found);
            refused.wrong.expected = expected;
            return Err(refused);
        }
        if places.is_empty() {
            places = differing(&sheet.loaded, &loaded);
        }
        // The verdicts are reckoned while the disk writes; they count only once the text stands there.
        let next = Sheet::of(sheet.number + 1, loaded);
        let (written, ahead) = std::thread::scope(|scope| {
            let ahead = std::thread::Builder::new()
                .stack_size(STACK)
                .spawn_scoped(scope, || self.judged_ahead(&next));
            let written = self.put(sheet, &next, way, places);
            // What broke there breaks again where the answer is asked for, and is told there.
            (written, ahead.ok().and_then(|ahead| ahead.join().ok()?))
        });
        written?;
        if let Some((arrangement, prompt)) = ahead {
            self.made(&next, &arrangement, prompt);
        }
        self.tell(NewsWhy::Edit);
        Ok(())
    }

    /// Puts a sheet on the disk and on the desk in the place of another.
    fn put(
        &self,
        sheet: &Sheet,
        next: &Arc<Sheet>,
        way: Way,
        places: Vec<String>,
    ) -> Result<(), Refused> {
        let (held, after) = (&sheet.loaded.held, &next.loaded.held);
        let mut desk = self.desk();
        if desk.number != sheet.number || desk.shut.is_some() {
            return Err(Refused::conflict(
                "Another change came in between: look at it first.",
            ));
        }
        if let Err(fault) = files::replace(held, &after.text) {
            drop(desk);
            // What came from outside is taken in at once, so that the answer can tell it.
            self.look();
            return Err(fault.into());
        }
        desk.disk = Some(after.hash);
        desk.number = next.number;
        desk.kept = clock::now();
        desk.read = desk.kept.clone();
        desk.changed
            .retain(|(place, _, _)| !places.iter().any(|own| overlap(own, place)));
        let came = match &way {
            Way::Step(_) => Came::New,
            Way::Back => Came::Back,
            Way::Forth => Came::Forth,
        };
        // Taking back brings the value back of which the comment was said.
        let beside = || {
            places
                .iter()
                .find_map(|place| change::comment(&next.loaded, place))
        };
        desk.last = Some(Last {
            number: next.number,
            way: came,
            comment: (came != Came::Back).then(beside).flatten(),
        });
        match way {
            Way::Step(label) => desk.history.push(Step {
                label,
                before: held.text.as_str().into(),
                after: after.text.as_str().into(),
            }),
            Way::Back => desk.history.took_back(),
            Way::Forth => desk.history.put_back(),
        }
        desk.touch(places);
        desk.sheet = Some(Arc::clone(next));
        Ok(())
    }

    /// Both readings of a value that changed meanwhile: what stands in the file now, and what was to be written.
    fn conflict(&self, place: &str, edits: &[Edit], places: &[String]) -> Refused {
        let to = places
            .iter()
            .zip(edits)
            .find(|(own, _)| overlap(own, place))
            .map_or_else(String::new, |(_, edit)| edit.to.clone());
        let refused = Refused::conflict(format!(
            "{place} was changed meanwhile, so nothing is written. Which one stands?"
        ))
        .expected(to);
        let desk = self.desk();
        let Some(sheet) = &desk.sheet else {
            return refused;
        };
        let now = raw_at(&sheet.loaded, place).unwrap_or_default().to_owned();
        refused.at(sheet.loaded.chart.position(place)).found(now)
    }

    /// Looks at the file on the disk, takes in what has changed, and tells.
    pub(crate) fn look(&self) {
        let (path, number, disk) = {
            let desk = self.desk();
            let Some(path) = desk.path.clone() else {
                return;
            };
            (path, desk.number, desk.disk)
        };
        let seen = files::read(&path);
        if seen.as_ref().is_ok_and(|held| Some(held.hash) == disk) {
            self.desk().misses = 0;
            return;
        }
        // What was read is made sense of before the desk is locked.
        let seen = seen.and_then(|held| {
            if held.text.len() > LARGEST {
                read(&path)
            } else {
                Ok(Loaded::from_held(held))
            }
        });
        let mut desk = self.desk();
        // Where the page itself wrote meanwhile, this was a look at the past.
        if desk.number != number || desk.disk != disk || desk.path.as_ref() != Some(&path) {
            return;
        }
        let news = match seen {
            Ok(loaded) => desk.take(loaded),
            Err(fault) => {
                desk.misses += 1;
                // A program that saves may take the file away for a moment.
                let gone = matches!(fault, Fault::NotThere { .. });
                if gone && desk.misses < 3 {
                    None
                } else {
                    desk.lost(fault.to_string())
                }
            }
        };
        drop(desk);
        if let Some(why) = news {
            self.tell(why);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn loaded(text: &str) -> Loaded {
        Loaded::from_held(Held {
            path: "boat.toml".into(),
            hash: Hash::of(text.as_bytes()),
            text: text.to_owned(),
        })
    }

    #[test]
    fn only_the_values_that_differ_are_named() {
        let old = "version = 1\n[boat]\nname = \"A\"\n[joints]\n\"hot.from\" = { clips = 1, clip = \"worm 32-50\" }\n";
        let new = old
            .replace("clips = 1", "clips = 2")
            .replace("\"A\"", "\"B\"");
        assert_eq!(
            differing(&loaded(old), &loaded(&new)),
            ["boat.name", "joints.\"hot.from\".clips"]
        );
        assert!(differing(&loaded(old), &loaded(&format!("# more\n{old}"))).is_empty());
    }

    #[test]
    fn an_older_number_clashes_only_where_it_touches_the_same() {
        let mut desk = Desk {
            number: 3,
            ..Desk::default()
        };
        desk.touched.push_back((2, vec!["runs.hot.length".into()]));
        desk.touched
            .push_back((3, vec!["joints.\"hot.from\".clip".into()]));
        let clash = |number, place: &str| desk.clash(number, &[place.to_owned()]).is_some();
        assert!(!clash(3, "runs.hot.length"));
        assert!(!clash(2, "runs.hot.length"));
        assert!(clash(1, "runs.hot.length"));
        assert!(clash(2, "joints.\"hot.from\""));
        assert!(!clash(1, "runs.hot.length_of_it"));
        // Nobody knows what was before, nor what is to come.
        assert!(clash(0, "boat.name"));
        assert!(clash(4, "boat.name"));
    }

    #[test]
    fn a_value_with_other_names_or_several_items_counts_once() {
        let old = "version = 1\n[things.gearbox]\nkind = \"oil cooler\"\nspigots.both = { od = \"38.1\", h = 200 }\n[boat]\nuse = [\"private\", \"sea\"]\n";
        let new = old.replace("38.1", "38.4").replace("200", "210");
        assert_eq!(
            differing(&loaded(old), &loaded(&new)),
            [
                "things.gearbox.spigots.both.h",
                "things.gearbox.spigots.both.od"
            ]
        );
        let new = old.replace("\"private\", \"sea\"", "\"hire\", \"canals\", \"sea\"");
        assert_eq!(differing(&loaded(old), &loaded(&new)), ["boat.use"]);
        // Two readings of a value are one value that changed; so is one that was taken out.
        let new = old.replace("\"38.1\"", "[\"38.1\", \"38.4\"]");
        let od = ["things.gearbox.spigots.both.od"];
        assert_eq!(differing(&loaded(old), &loaded(&new)), od);
        assert_eq!(differing(&loaded(&new), &loaded(old)), od);
        let new = old.replace("od = \"38.1\", ", "");
        assert_eq!(differing(&loaded(old), &loaded(&new)), od);
        assert_eq!(
            without_items("prices.\"a [b]\".lengths[2]"),
            "prices.\"a [b]\".lengths"
        );
    }
}
