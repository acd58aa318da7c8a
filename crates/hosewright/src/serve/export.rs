//! The boat's whole folder in one file to take along: her file, all that lies beside it, every sheet and every verdict.
//!
//! Nothing that is hidden goes along, no link is followed, and what lies in a folder with a boat file of its own is
//! another boat's. Entries stand in the order of their names; each has the time at which its file was last written, and
//! what is made at this moment that of the boat file, so that the same folder gives the same bytes, but for the date
//! that stands on the sheets.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;
use std::fs;
use std::io::{Cursor, Read as _, Write as _};
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use chrono::{Datelike as _, Local, Timelike as _};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

use super::App;
use super::answers::meant;
use super::clock;
use super::refused::Refused;
use super::stages::{Print, Which};
use crate::commands::sheets;
use crate::files::BOAT_FILE;

/// Files of a folder that go along at most.
const FILES: usize = 2000;
/// So much of them at most [bytes].
const BYTES: u64 = 256 << 20;
/// Folders within folders at most.
const DEEP: usize = 8;
/// The list of what does not go along.
const LEFT_OUT: &str = "left-out.txt";
/// The folder for what is made at this moment, as the command that prints has it.
const SHEETS: &str = "sheets";

impl App {
    /// All of the folder, packed, and the name that it is kept by.
    pub(crate) fn folder(&self, print: &Print) -> Result<(String, Vec<u8>), Refused> {
        let sheet = self.sheet()?;
        let arrangement = meant(&sheet, print.arrangement.as_deref())?;
        let held = &sheet.loaded.held;
        let mut packed = Packed::new();
        let kept = written(&held.path);
        let made = |bytes: Vec<u8>| (bytes, kept);
        let named = arrangement.as_deref();
        let units = print.units.into();
        for (file, bytes) in sheets::each(&sheet.loaded, print.paper(), named, units)? {
            packed.insert(format!("{SHEETS}/{file}"), made(bytes));
        }
        let which = Which {
            arrangement: arrangement.clone(),
            ..Which::default()
        };
        packed.insert("verdicts.csv".to_owned(), made(self.table(&which)?));
        packed.insert(held.name(), made(sheet.text().as_bytes().to_vec()));
        let folder = match held.path.parent() {
            Some(folder) if folder != Path::new("") => folder,
            _ => Path::new("."),
        };
        let mut folder = Folder::of(folder)?;
        folder.take(&mut packed)?;
        if !folder.out.is_empty() {
            packed.insert(LEFT_OUT.to_owned(), made(folder.told().into_bytes()));
        }
        let name = format!(
            "{}-{}.zip",
            plain(sheet.loaded.name().unwrap_or("boat")),
            clock::day()
        );
        Ok((name, pack(&packed)?))
    }
}

/// What is packed, by name: its bytes, and when they were last written.
type Packed = BTreeMap<String, (Vec<u8>, Option<SystemTime>)>;

/// When a file was last written; `None` where the system does not tell.
fn written(path: &Path) -> Option<SystemTime> {
    fs::metadata(path).and_then(|about| about.modified()).ok()
}

/// A boat's name as part of a file's: `Girl Wenna` is `girl-wenna`.
fn plain(name: &str) -> String {
    let mut plain = String::new();
    for letter in name.chars() {
        if letter.is_ascii_alphanumeric() {
            plain.push(letter.to_ascii_lowercase());
        } else if !plain.is_empty() && !plain.ends_with('-') {
            plain.push('-');
        }
    }
    match plain.trim_end_matches('-') {
        "" => "boat".to_owned(),
        plain => plain.to_owned(),
    }
}

/// A time as the form has it: where the computer stands, from 1980 on.
fn stamped(time: Option<SystemTime>) -> DateTime {
    let told = time.and_then(|time| {
        let time = chrono::DateTime::<Local>::from(time);
        let part = |number: u32| u8::try_from(number).ok();
        DateTime::from_date_and_time(
            u16::try_from(time.year()).ok()?,
            part(time.month())?,
            part(time.day())?,
            part(time.hour())?,
            part(time.minute())?,
            part(time.second())?,
        )
        .ok()
    });
    told.unwrap_or_default()
}

/// The folder while it is gone through.
struct Folder {
    /// As the system itself names it.
    root: PathBuf,
    left: u64,
    count: usize,
    /// What does not go along, with the reason.
    out: Vec<String>,
}

impl Folder {
    fn of(folder: &Path) -> Result<Self, Refused> {
        let root = fs::canonicalize(folder).map_err(|error| unread(folder, &error))?;
        Ok(Self {
            root,
            left: BYTES,
            count: 0,
            out: Vec::new(),
        })
    }

    /// What was left out, a line each.
    fn told(&self) -> String {
        let mut out = self.out.clone();
        out.sort();
        format!("Left out of this copy:\n{}\n", out.join("\n"))
    }

    /// Adds what lies in it. What is made anew is not replaced by what was printed earlier.
    fn take(&mut self, packed: &mut Packed) -> Result<(), Refused> {
        let root = self.root.clone();
        self.within(&root, "", 0, packed)
    }

    fn within(
        &mut self,
        folder: &Path,
        before: &str,
        deep: usize,
        packed: &mut Packed,
    ) -> Result<(), Refused> {
        let entries = fs::read_dir(folder).map_err(|error| unread(folder, &error))?;
        for entry in entries {
            let entry = entry.map_err(|error| unread(folder, &error))?;
            let path = entry.path();
            // A name that is no text could not be told apart from another one.
            let name = entry.file_name().into_string().map_err(|name| {
                Refused::unfit(format!(
                    "The name of {} is no text: give that file another name.",
                    name.to_string_lossy()
                ))
            })?;
            let own = format!("{before}{name}");
            // All sheets in one, as printed earlier, would contradict those that are made now.
            if name.starts_with('.') {
                self.out.push(format!("{own}: hidden"));
                continue;
            }
            if own == format!("{SHEETS}/all.pdf") {
                self.out
                    .push(format!("{own}: each sheet lies here by itself, made anew"));
                continue;
            }
            // Of the entry itself: a link is a link here, not what it leads to.
            let kind = entry.file_type().map_err(|error| unread(&path, &error))?;
            if kind.is_dir() {
                if path.join(BOAT_FILE).exists() {
                    self.out.push(format!("{own}: another boat's folder"));
                    continue;
                }
                if deep >= DEEP {
                    return Err(Refused::unfit(format!(
                        "{own} lies more than {DEEP} folders deep: that is no boat's folder."
                    )));
                }
                self.within(&path, &format!("{own}/"), deep + 1, packed)?;
            } else if !kind.is_file() {
                self.out
                    .push(format!("{own}: a link or no file; copy what it leads to"));
            } else if let Entry::Vacant(free) = packed.entry(own.clone()) {
                // The boat file itself, and sheets that are made anew, are in it as they are now.
                let time = written(&path);
                free.insert((self.read(&path, &own)?, time));
            }
        }
        Ok(())
    }

    /// A file's bytes, where it still lies in the folder.
    fn read(&mut self, path: &Path, own: &str) -> Result<Vec<u8>, Refused> {
        let much = || {
            Refused::unfit(format!(
                "The folder holds more than {FILES} files or {} MB: that is more than a boat's folder. Copy it by hand.",
                BYTES >> 20
            ))
        };
        self.count += 1;
        if self.count > FILES {
            return Err(much());
        }
        let real = fs::canonicalize(path).map_err(|error| unread(Path::new(own), &error))?;
        if !real.starts_with(&self.root) {
            return Err(Refused::unfit(format!("{own} leads out of the folder.")));
        }
        let file = fs::File::open(&real).map_err(|error| unread(Path::new(own), &error))?;
        let mut bytes = Vec::new();
        // One byte beyond what is left is enough to know that it is passed.
        file.take(self.left + 1)
            .read_to_end(&mut bytes)
            .map_err(|error| unread(Path::new(own), &error))?;
        self.left = self.left.checked_sub(bytes.len() as u64).ok_or_else(much)?;
        Ok(bytes)
    }
}

fn unread(path: &Path, error: &std::io::Error) -> Refused {
    Refused::unfit(format!(
        "{} can't be read: {}.",
        crate::files::shown(path),
        error.to_string().to_lowercase()
    ))
}

/// Entries as one packed file.
fn pack(entries: &Packed) -> Result<Vec<u8>, Refused> {
    let mut packed = ZipWriter::new(Cursor::new(Vec::new()));
    let usual = SimpleFileOptions::default()
        .unix_permissions(0o644)
        .compression_method(CompressionMethod::Deflated);
    let defect = |_| Refused::defect();
    for (name, (bytes, time)) in entries {
        let own = usual.last_modified_time(stamped(*time));
        packed.start_file(name.as_str(), own).map_err(defect)?;
        packed.write_all(bytes).map_err(|_| Refused::defect())?;
    }
    let done = packed.finish().map_err(defect)?;
    Ok(done.into_inner())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_copy_is_named_by_the_boat() {
        assert_eq!(plain("Girl Wenna"), "girl-wenna");
        assert_eq!(plain("  “Été” II "), "t-ii");
        assert_eq!(plain("Ære"), "re");
        assert_eq!(plain("船"), "boat");
    }

    #[test]
    fn a_time_before_the_form_knows_any_is_its_first() {
        assert_eq!(stamped(Some(SystemTime::UNIX_EPOCH)), DateTime::default());
        assert_eq!(stamped(None), DateTime::default());
    }
}
