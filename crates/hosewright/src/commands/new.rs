//! `new`: a boat folder to start from.

use std::path::{Path, PathBuf};

use crate::cli;
use crate::fault::{Exit, Fault};
use crate::files::{self, BOAT_FILE};
use crate::run::Outcome;
use crate::text::{Page, Terminal};

/// What a new boat file says; `NAME` stands where the boat's name goes.
const START: &str = include_str!("new.toml");

/// Runs it.
pub fn run(new: &cli::New, terminal: Terminal) -> Result<Outcome, Fault> {
    if let Some(folder) = meant(&new.folder) {
        return Err(Fault::NoFolder {
            path: files::shown(&new.folder),
            folder: files::shown(&folder),
        });
    }
    let file = new.folder.join(BOAT_FILE);
    files::create(&file, &start(&new.folder))?;
    let mut page = Page::new(terminal);
    let folder = files::shown(&new.folder);
    page.hanging("", "  ", &format!("{} is started.", files::shown(&file)));
    page.hanging(
        "",
        "  ",
        &format!(
            "Write in what you have measured, then `hosewright check {}`.",
            files::for_shell(&folder)
        ),
    );
    Ok(Outcome::said(page.finish(), Exit::Sound))
}

/// The folder that was meant where a file was named: `otter` for `otter/boat.toml` and for `otter.toml`.
fn meant(given: &Path) -> Option<PathBuf> {
    let named = given
        .extension()
        .is_some_and(|ending| ending.eq_ignore_ascii_case("toml"));
    if given.is_dir() || !(named || given.is_file()) {
        return None;
    }
    let above = given.parent().filter(|above| *above != Path::new(""));
    Some(match above {
        Some(above) if given.ends_with(BOAT_FILE) => above.to_owned(),
        _ if given.ends_with(BOAT_FILE) => PathBuf::from("."),
        _ if named => given.with_extension(""),
        _ => given.with_extension("boat"),
    })
}

/// A new boat file; the boat is named after her folder, with a capital.
pub fn start(folder: &Path) -> String {
    let folder = std::path::absolute(folder).unwrap_or_else(|_| folder.to_owned());
    let name = folder
        .file_name()
        .map_or_else(String::new, |name| name.to_string_lossy().into_owned());
    let mut letters = name.chars();
    let name: String = letters
        .next()
        .into_iter()
        .flat_map(char::to_uppercase)
        .chain(letters)
        .collect();
    START.replacen("\"NAME\"", &boat::quoted(&name), 1)
}
