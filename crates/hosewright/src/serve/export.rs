//! The boat's whole folder in one file to take along: her file, all that lies beside it, every sheet and every verdict.
//!
//! Nothing that is hidden goes along, no link is followed, and what lies in a folder with a boat file of its own is
//! another boat's. Entries stand in the order of their names under one fixed time, so that the same folder gives the
//! same bytes, but for the date that stands on the sheets.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;
use std::fs;
use std::io::{Cursor, Read as _, Write as _};
use std::path::{Path, PathBuf};

use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

use super::App;
use super::answers::meant;
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
    /// All of the folder, packed.
    pub(crate) fn folder(&self, print: &Print) -> Result<Vec<u8>, Refused> {
        let sheet = self.sheet()?;
        let arrangement = meant(&sheet, print.arrangement.as_deref())?;
        let held = &sheet.loaded.held;
        let mut packed: BTreeMap<String, Vec<u8>> = BTreeMap::new();
        let named = arrangement.as_deref();
        let units = print.units.into();
        for (file, bytes) in sheets::each(&sheet.loaded, print.paper(), named, units)? {
            packed.insert(format!("{SHEETS}/{file}"), bytes);
        }
        let which = Which {
            arrangement: arrangement.clone(),
            ..Which::default()
        };
        packed.insert("verdicts.csv".to_owned(), self.table(&which)?);
        packed.insert(held.name(), sheet.text().as_bytes().to_vec());
        let folder = match held.path.parent() {
            Some(folder) if folder != Path::new("") => folder,
            _ => Path::new("."),
        };
        let mut folder = Folder::of(folder)?;
        folder.take(&mut packed)?;
        if !folder.out.is_empty() {
            packed.insert(LEFT_OUT.to_owned(), folder.told().into_bytes());
        }
        pack(&packed)
    }
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
    fn take(&mut self, packed: &mut BTreeMap<String, Vec<u8>>) -> Result<(), Refused> {
        let root = self.root.clone();
        self.within(&root, "", 0, packed)
    }

    fn within(
        &mut self,
        folder: &Path,
        before: &str,
        deep: usize,
        packed: &mut BTreeMap<String, Vec<u8>>,
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
                free.insert(self.read(&path, &own)?);
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
fn pack(entries: &BTreeMap<String, Vec<u8>>) -> Result<Vec<u8>, Refused> {
    let mut packed = ZipWriter::new(Cursor::new(Vec::new()));
    // The first moment that the form knows: what a copy is made of says when, not the copy.
    let usual = SimpleFileOptions::default()
        .last_modified_time(DateTime::default())
        .unix_permissions(0o644)
        .compression_method(CompressionMethod::Deflated);
    let defect = |_| Refused::defect();
    for (name, bytes) in entries {
        packed.start_file(name.as_str(), usual).map_err(defect)?;
        packed.write_all(bytes).map_err(|_| Refused::defect())?;
    }
    let done = packed.finish().map_err(defect)?;
    Ok(done.into_inner())
}
