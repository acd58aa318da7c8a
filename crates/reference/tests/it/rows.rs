//! Validation rows: reading the CSV files and counting what counts. One file, included by each
//! crate that has rows (and by the chore that writes the page of them), so that all follow the
//! same rules. The format is described in `crates/reference/validation/README.md`.
#![allow(dead_code, unreachable_pub)] // Not every crate that includes this file uses all of it.

use std::collections::BTreeMap;
use std::fmt::Debug;
use std::path::Path;
use std::str::FromStr;

/// At most so many rows count per function and source.
pub const MOST_PER_SOURCE: usize = 5;

/// How an expected value came to be known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Read in a printed text.
    Printed,
    /// From memory of one; does not count.
    Recalled,
    /// From another library, pinned.
    Sibling,
    /// A physical or mathematical limit.
    Limit,
    /// Our own earlier result, against change; does not count.
    Ours,
}

impl Kind {
    pub fn word(self) -> &'static str {
        match self {
            Self::Printed => "printed",
            Self::Recalled => "recalled",
            Self::Sibling => "sibling",
            Self::Limit => "limit",
            Self::Ours => "ours",
        }
    }

    fn from_word(word: &str) -> Option<Self> {
        [
            Self::Printed,
            Self::Recalled,
            Self::Sibling,
            Self::Limit,
            Self::Ours,
        ]
        .into_iter()
        .find(|kind| kind.word() == word)
    }
}

/// One row: a function, its inputs, what an outside source says it gives, and how closely.
#[derive(Clone, Debug)]
pub struct Row {
    /// File and line, for messages.
    pub place: String,
    pub function: String,
    pub kind: Kind,
    pub source: String,
    /// Input columns by name; an empty cell is left out.
    pub inputs: BTreeMap<String, String>,
    pub expected: String,
    /// A number, or empty where the expected text must match exactly.
    pub tolerance: String,
}

impl Row {
    /// An input as text.
    #[track_caller]
    pub fn text(&self, input: &str) -> &str {
        self.inputs
            .get(input)
            .unwrap_or_else(|| panic!("{}: no input `{input}`", self.place))
    }

    /// An input as a number, or as anything else that reads from text.
    #[track_caller]
    pub fn number<T: FromStr<Err: Debug>>(&self, input: &str) -> T {
        let text = self.text(input);
        text.parse()
            .unwrap_or_else(|error| panic!("{}: `{input}` is `{text}`: {error:?}", self.place))
    }

    /// Whether an answer agrees with the row: a number within the tolerance, or the same text.
    pub fn agrees(&self, answer: &Answer) -> Result<(), String> {
        match answer {
            Answer::Number(value) => {
                let read = |cell: &str, name: &str| {
                    cell.parse::<f64>()
                        .map_err(|_| format!("{}: {name} `{cell}` is no number", self.place))
                };
                let expected = read(&self.expected, "expected")?;
                let tolerance = read(&self.tolerance, "tolerance")?;
                if tolerance < 0.0 {
                    return Err(format!("{}: tolerance below zero", self.place));
                }
                // Written so that a NaN fails.
                if (value - expected).abs() <= tolerance * (1.0 + 1e-9) + 1e-12 * expected.abs() {
                    Ok(())
                } else {
                    Err(format!(
                        "{}: {} gives {value}, {expected} ± {tolerance} is due",
                        self.place, self.function
                    ))
                }
            }
            Answer::Text(text) if *text == self.expected && self.tolerance.is_empty() => Ok(()),
            Answer::Text(text) => Err(format!(
                "{}: {} gives `{text}`, `{}` is due",
                self.place, self.function, self.expected
            )),
        }
    }
}

/// What a function gave.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    Number(f64),
    Text(String),
}

/// All rows of all CSV files in a folder, in order of file name.
pub fn read(folder: &Path) -> Result<Vec<Row>, String> {
    let entries = folder
        .read_dir()
        .map_err(|error| format!("{}: {error}", folder.display()))?;
    let mut files: Vec<_> = entries
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.extension().is_some_and(|extension| extension == "csv"))
        .collect();
    files.sort();
    let mut rows = Vec::new();
    for file in files {
        let name = file
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        let mut reader = csv::ReaderBuilder::new()
            .trim(csv::Trim::All)
            .comment(Some(b'#'))
            .from_path(&file)
            .map_err(|error| format!("{name}: {error}"))?;
        let head = reader
            .headers()
            .map_err(|error| format!("{name}: {error}"))?
            .clone();
        for record in reader.records() {
            let record = record.map_err(|error| format!("{name}: {error}"))?;
            let line = record.position().map_or(0, csv::Position::line);
            rows.push(row(format!("{name}:{line}"), &head, &record)?);
        }
    }
    Ok(rows)
}

fn row(place: String, head: &csv::StringRecord, record: &csv::StringRecord) -> Result<Row, String> {
    let mut cells: BTreeMap<String, String> = head
        .iter()
        .zip(record)
        .map(|(name, cell)| (name.to_owned(), cell.to_owned()))
        .collect();
    let mut take = |name: &str| {
        cells
            .remove(name)
            .ok_or_else(|| format!("{place}: no column `{name}`"))
    };
    let (function, kind, source) = (take("function")?, take("kind")?, take("source")?);
    let (expected, tolerance) = (take("expected")?, take("tolerance")?);
    let kind = Kind::from_word(&kind).ok_or_else(|| format!("{place}: kind `{kind}`"))?;
    if function.is_empty() || source.is_empty() || expected.is_empty() {
        return Err(format!("{place}: function, source or expected is empty"));
    }
    cells.retain(|_, cell| !cell.is_empty());
    Ok(Row {
        place,
        function,
        kind,
        source,
        inputs: cells,
        expected,
        tolerance,
    })
}

/// How many rows there are of what kind, and how many of them count.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Count {
    pub all: usize,
    /// Rows that count: printed and sibling, at most five per function and source, and limits.
    pub counted: usize,
    pub printed: usize,
    pub sibling: usize,
    /// Limits that count: at most a fifth of all that count.
    pub limits: usize,
}

/// Counts by the rules: only printed, sibling and limit; at most five per function and source; of
/// the limits only so many that they make up at most a fifth.
pub fn count(rows: &[Row]) -> Count {
    let mut groups: BTreeMap<(&str, &str, Kind), usize> = BTreeMap::new();
    for row in rows {
        *groups
            .entry((&row.function, &row.source, row.kind))
            .or_default() += 1;
    }
    let of = |kind: Kind| {
        groups
            .iter()
            .filter(|((_, _, of), _)| *of == kind)
            .map(|(_, &n)| n.min(MOST_PER_SOURCE))
            .sum::<usize>()
    };
    let (printed, sibling) = (of(Kind::Printed), of(Kind::Sibling));
    // A fifth of the whole is a quarter of the rest.
    let limits = of(Kind::Limit).min((printed + sibling) / 4);
    Count {
        all: rows.len(),
        counted: printed + sibling + limits,
        printed,
        sibling,
        limits,
    }
}

/// Walks all rows of a folder: asks `answer` for each by the function's name and returns the
/// count, or every disagreement.
pub fn walk(folder: &Path, answer: impl Fn(&Row) -> Option<Answer>) -> Result<Count, String> {
    let rows = read(folder)?;
    let mut wrong = Vec::new();
    for row in &rows {
        match answer(row) {
            None => wrong.push(format!("{}: no function `{}`", row.place, row.function)),
            Some(answer) => wrong.extend(row.agrees(&answer).err()),
        }
    }
    let mut seen = BTreeMap::new();
    for row in &rows {
        if let Some(before) = seen.insert((&row.function, &row.source, &row.inputs), &row.place) {
            wrong.push(format!(
                "{}: the same question stands at {before}",
                row.place
            ));
        }
    }
    if wrong.is_empty() {
        Ok(count(&rows))
    } else {
        Err(wrong.join("\n"))
    }
}
