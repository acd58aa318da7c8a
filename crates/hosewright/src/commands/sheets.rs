//! `sheets`: the boat on paper, a PDF a sheet.

mod content;
mod day;

use std::path::{Path, PathBuf};

use ::sheets::doc::pdf::Part;
use ::sheets::doc::{self, Head, Sheet};
use ::sheets::draw::Picture;
use quantity::System;
use tracing::debug;

use self::content::Content;
use crate::api::{self, SheetFile, SheetsSchema};
use crate::cli;
use crate::fault::{Exit, Fault, nearest};
use crate::files::{self, Hash};
use crate::load::{Loaded, meant};
use crate::render::{head, sheets as lines};
use crate::run::Outcome;
use crate::text::{Page, Terminal, listed};

/// The folder beside the boat file that takes the sheets where none is named.
const FOLDER: &str = "sheets";
/// The file that holds all of them.
const ALL: &str = "all.pdf";
/// By this an earlier sheet of the program's own is known, in PDF and SVG alike: on its last line, as a comment, and
/// behind it which boat's it is.
const MARK: &str = "hosewright-sheet";

/// Runs it.
pub fn run(sheets: cli::Sheets, terminal: Terminal) -> Result<Outcome, Fault> {
    let cli::Sheets {
        boat,
        only,
        out,
        paper,
        svg,
        dry_run,
        date,
        arrangement,
        showing,
    } = sheets;
    let date = day::of(date.as_deref())?;
    let (boat, _) = meant(boat, None);
    let loaded = Loaded::from_path(&boat)?;
    if loaded.stopped() {
        return Ok(loaded.refusal(showing.json, terminal));
    }
    if let Some(name) = &arrangement {
        loaded.has_arrangement(name)?;
    }
    let folder = folder(out, &loaded)?;
    let units: System = showing.units.into();
    let content = Content::of(&loaded, arrangement.as_deref(), units)?;
    let named = content.arrangement();
    let head = Head {
        boat: loaded.name().unwrap_or("a boat without a name").to_owned(),
        arrangement: named.map_or_else(|| "as the file stands".to_owned(), str::to_owned),
        date: date.clone(),
        hash: String::new(),
        paper: paper.into(),
    };
    let made = made(&content, &head, &only)?;
    debug!(sheets = made.len(), "laid out");

    let written = Written::of(&head.boat, &made, &folder, svg, only.is_empty())?;
    if !dry_run {
        written.write()?;
    }
    let shown_paper = match paper {
        cli::Paper::A4 => ("a4", "A4"),
        cli::Paper::Letter => ("letter", "Letter"),
    };
    if showing.json {
        let document = api::Sheets {
            schema: SheetsSchema::V1,
            about: loaded.about(named),
            date,
            paper: shown_paper.0.to_owned(),
            remarks: loaded.sent_remarks(),
            sheets: written.sheets,
            all: written.all,
            without: content.without(),
        };
        return Ok(Outcome::said(api::to_json(&document), Exit::Sound));
    }
    let mut page = Page::new(terminal);
    head::head(&mut page, loaded.name(), named, &loaded.held);
    if dry_run {
        page.paragraph(0, "Nothing is written; without --dry-run there would be:");
    }
    lines::written(
        &mut page,
        &written.sheets,
        written.all.as_deref(),
        (&files::shown(&folder), shown_paper.1, &date),
    );
    lines::without(&mut page, &content.without());
    loaded.write_remarks(&mut page);
    Ok(Outcome::said(page.finish(), Exit::Sound))
}

/// The bytes of one sheet by its name, or of all of them by `all`, for whoever wants no files; `None` where there is
/// no sheet of that name.
pub(crate) fn bytes(
    loaded: &Loaded,
    name: &str,
    paper: cli::Paper,
    arrangement: Option<&str>,
    units: System,
) -> Result<Option<Vec<u8>>, Fault> {
    let (boat, mut made) = unwritten(loaded, paper, arrangement, units)?;
    if format!("{name}.pdf") != ALL {
        made.retain(|one| one.name == name);
    }
    if made.is_empty() {
        return Ok(None);
    }
    let parts: Vec<Part> = made.iter().map(Made::part).collect();
    let of = Hash::of(boat.as_bytes()).short();
    let file = format!("{name}.pdf");
    pdf((&boat, &of), &parts, Path::new(&file)).map(Some)
}

/// Every sheet by the name of its file, each with its bytes, for whoever wants no files.
pub(crate) fn each(
    loaded: &Loaded,
    paper: cli::Paper,
    arrangement: Option<&str>,
    units: System,
) -> Result<Vec<(String, Vec<u8>)>, Fault> {
    let (boat, made) = unwritten(loaded, paper, arrangement, units)?;
    let of = Hash::of(boat.as_bytes()).short();
    made.iter()
        .map(|one| {
            let file = format!("{}.pdf", one.name);
            let bytes = pdf((&boat, &of), &[one.part()], Path::new(&file))?;
            Ok((file, bytes))
        })
        .collect()
}

/// All sheets of today, laid out, and the boat's name.
fn unwritten(
    loaded: &Loaded,
    paper: cli::Paper,
    arrangement: Option<&str>,
    units: System,
) -> Result<(String, Vec<Made>), Fault> {
    let content = Content::of(loaded, arrangement, units)?;
    let head = Head {
        boat: loaded.name().unwrap_or("a boat without a name").to_owned(),
        arrangement: content
            .arrangement()
            .map_or_else(|| "as the file stands".to_owned(), str::to_owned),
        date: day::of(None)?,
        hash: String::new(),
        paper: paper.into(),
    };
    let made = made(&content, &head, &[])?;
    Ok((head.boat, made))
}

/// The folder for the sheets: the one that is named, else the one beside the boat file.
fn folder(out: Option<PathBuf>, loaded: &Loaded) -> Result<PathBuf, Fault> {
    let folder = out.unwrap_or_else(|| {
        let beside = loaded.held.path.parent().unwrap_or_else(|| Path::new(""));
        beside.join(FOLDER)
    });
    // What is not there yet is made; what stands in its way is told before anything is laid out.
    match folder.ancestors().find(|step| step.exists()) {
        Some(step) if !step.is_dir() => Err(Fault::Flag {
            flag: "--out".into(),
            found: files::shown(&folder),
            why: format!(
                "{} is a file, and the sheets go into a folder: name another",
                files::shown(step)
            ),
        }),
        _ => Ok(folder),
    }
}

/// A sheet, laid out.
struct Made {
    name: String,
    title: String,
    hash: Hash,
    pages: Vec<Picture>,
}

impl Made {
    fn part(&self) -> Part {
        Part {
            title: self.title.clone(),
            pages: self.pages.clone(),
        }
    }
}

/// The sheets that are wanted, each under the hash of what it shows.
fn made(content: &Content<'_>, head: &Head, only: &[String]) -> Result<Vec<Made>, Fault> {
    // What a sheet is about does not change with the day or the paper, so neither does its hash.
    let bare = Head {
        date: String::new(),
        hash: String::new(),
        paper: doc::Paper::A4,
        ..head.clone()
    };
    let sheets = content.sheets(&bare);
    let wanted = wanted(only, &sheets)?;
    let mut made = Vec::new();
    for sheet in sheets {
        if !wanted.contains(&sheet.name) {
            continue;
        }
        let mut shown = String::new();
        for page in doc::lay(&sheet, &bare) {
            shown.push_str(&doc::svg::write(&page));
        }
        let hash = Hash::of(shown.as_bytes());
        let head = Head {
            hash: hash.short(),
            ..head.clone()
        };
        let sheet = content.dated(sheet, &head);
        let pages = doc::lay(&sheet, &head);
        made.push(Made {
            name: sheet.name,
            title: sheet.title,
            hash,
            pages,
        });
    }
    Ok(made)
}

/// The names that are asked for; all where none is.
fn wanted(only: &[String], sheets: &[Sheet]) -> Result<Vec<String>, Fault> {
    let names: Vec<&str> = sheets.iter().map(|sheet| sheet.name.as_str()).collect();
    if only.is_empty() {
        return Ok(names.into_iter().map(str::to_owned).collect());
    }
    only.iter()
        .map(|name| {
            let name = name.trim();
            if name.is_empty() {
                return Err(Fault::Flag {
                    flag: "--only".into(),
                    found: "''".into(),
                    why: format!("it names no sheet; the sheets are {}", listed(&names)),
                });
            }
            names
                .iter()
                .copied()
                .find(|own| own.eq_ignore_ascii_case(name))
                .map(str::to_owned)
                .ok_or_else(|| Fault::Flag {
                    flag: "--only".into(),
                    found: name.into(),
                    why: unknown(name, &names),
                })
        })
        .collect()
}

/// Why there is no sheet of a name.
fn unknown(name: &str, names: &[&str]) -> String {
    let near = nearest(name, names.iter().copied());
    let near = match near.as_str() {
        "." => "there is no such sheet".to_owned(),
        near => near
            .trim_start_matches(": ")
            .trim_end_matches('?')
            .to_owned(),
    };
    format!("{near}; the sheets are {}", listed(names))
}

/// Files to be written, and how they are told.
struct Written {
    files: Vec<(PathBuf, Vec<u8>)>,
    sheets: Vec<SheetFile>,
    all: Option<String>,
    folder: PathBuf,
    /// The sign of the boat.
    of: String,
    svg: bool,
}

impl Written {
    fn of(boat: &str, made: &[Made], folder: &Path, svg: bool, whole: bool) -> Result<Self, Fault> {
        let mut files: Vec<(PathBuf, Vec<u8>)> = Vec::new();
        let mut sheets = Vec::new();
        let of = Hash::of(boat.as_bytes()).short();
        for one in made {
            let name = one.name.as_str();
            let file = folder.join(format!("{name}.pdf"));
            files.push((file.clone(), pdf((boat, &of), &[one.part()], &file)?));
            let mut drawn = Vec::new();
            if svg {
                for (at, page) in one.pages.iter().enumerate() {
                    let file = folder.join(format!("{name}-{}.svg", at + 1));
                    drawn.push(files::shown(&file));
                    files.push((file, svg_file(page, &of).into_bytes()));
                }
            }
            sheets.push(SheetFile {
                name: name.to_owned(),
                title: one.title.clone(),
                pages: one.pages.len(),
                hash: one.hash.long(),
                file: files::shown(&file),
                svg: drawn,
            });
        }
        let all = if whole {
            let file = folder.join(ALL);
            let each: Vec<Part> = made.iter().map(Made::part).collect();
            files.push((file.clone(), pdf((boat, &of), &each, &file)?));
            Some(files::shown(&file))
        } else {
            None
        };
        Ok(Self {
            files,
            sheets,
            all,
            folder: folder.to_owned(),
            of,
            svg,
        })
    }

    /// Writes them, or none where somebody else's file or another boat's sheet is in the way; pages of earlier and
    /// longer sheets go.
    fn write(&self) -> Result<(), Fault> {
        if let Some((path, _)) = self
            .files
            .iter()
            .find(|(path, _)| !files::may_be_placed(path, is_ours))
        {
            return Err(Fault::InTheWay {
                path: files::shown(path),
            });
        }
        let before = self.before();
        // A sheet whose boat is not told was printed before that was written on it.
        if let Some((path, _)) = before
            .iter()
            .find(|(_, of)| !of.is_empty() && *of != self.of)
        {
            return Err(Fault::OtherBoat {
                path: files::shown(path),
            });
        }
        for (path, bytes) in &self.files {
            files::place(path, bytes, is_ours)?;
        }
        for (path, _) in before.iter().filter(|(path, _)| self.left_over(path)) {
            files::remove(path)?;
        }
        Ok(())
    }

    /// The sheets that lie in the folder already, each with the sign of its boat, in the order of their names.
    fn before(&self) -> Vec<(PathBuf, String)> {
        let Ok(folder) = std::fs::read_dir(&self.folder) else {
            return Vec::new();
        };
        let mut before: Vec<(PathBuf, String)> = folder
            .flatten()
            .map(|file| self.folder.join(file.file_name()))
            .filter(|path| {
                path.extension()
                    .is_some_and(|kind| kind == "pdf" || kind == "svg")
            })
            .filter_map(|path| {
                let of = printed_of(&path)?;
                Some((path, of))
            })
            .collect();
        before.sort();
        before
    }

    /// Whether a file is a drawn page beyond the last of a sheet that is drawn anew.
    fn left_over(&self, path: &Path) -> bool {
        let name = path
            .file_name()
            .map_or_else(String::new, |name| name.to_string_lossy().into_owned());
        self.svg
            && self.sheets.iter().any(|sheet| {
                let page = name
                    .strip_prefix(sheet.name.as_str())
                    .and_then(|rest| rest.strip_prefix('-'))
                    .and_then(|rest| rest.strip_suffix(".svg"))
                    .and_then(|page| page.parse::<usize>().ok());
                page.is_some_and(|page| page > sheet.pages)
            })
    }
}

/// The sign of the boat of a sheet that this program printed: nothing where it tells none; `None` for a file of
/// anybody else's.
fn printed_of(path: &Path) -> Option<String> {
    let line = files::last_line(path)?;
    let comment = line.strip_prefix("% ").or_else(|| {
        line.strip_prefix("<!-- ")
            .and_then(|rest| rest.strip_suffix(" -->"))
    })?;
    let rest = comment.strip_prefix(MARK)?;
    if rest.is_empty() {
        return Some(String::new());
    }
    let of = rest.strip_prefix(' ')?;
    let sign = of.len() == 8 && of.bytes().all(|digit| digit.is_ascii_hexdigit());
    sign.then(|| of.to_owned())
}

fn is_ours(path: &Path) -> bool {
    printed_of(path).is_some()
}

fn pdf((boat, of): (&str, &str), parts: &[Part], file: &Path) -> Result<Vec<u8>, Fault> {
    let mut bytes = doc::pdf::of_pages(boat, parts).map_err(|why| Fault::NotPrinted {
        path: files::shown(file),
        why: why.to_string(),
    })?;
    // A line after the end is a comment in a PDF.
    if !bytes.ends_with(b"\n") {
        bytes.push(b'\n');
    }
    bytes.extend(format!("% {MARK} {of}\n").bytes());
    Ok(bytes)
}

/// A page as an SVG file that brings its type along, with the mark by which it is known again.
fn svg_file(page: &Picture, of: &str) -> String {
    let mut text = doc::svg::alone(page);
    if !text.ends_with('\n') {
        text.push('\n');
    }
    text.push_str(&format!("<!-- {MARK} {of} -->\n"));
    text
}
