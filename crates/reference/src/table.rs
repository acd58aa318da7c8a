//! Reading the data files. Each is parsed once, when it is first asked for; what is read lives as
//! long as the program, so that rows can be handed out by reference with their source.

use std::sync::LazyLock;

use quantity::{Length, NominalSize, Quantity};
use serde::Deserialize;
use serde::de::DeserializeOwned;

use crate::source::{Limits, Source, SourceRef, Status};

/// The head of a data file.
/// Unit: none. Range: one per file. Source: the file.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// Name of the file in `data`. Unit: none. Range: text. Source: this crate.
    pub file: &'static str,
    /// What it holds. Unit: none. Range: text. Source: the file.
    pub title: String,
    /// Where its rows come from; the first is that of all rows that name no other.
    /// Unit: none. Range: at least one. Source: the file.
    pub sources: Vec<SourceRef>,
    /// How many rows it has. Unit: 1. Range: over 0. Source: the file.
    pub rows: usize,
}

impl Table {
    /// The source that a row names, or the table's own where it names none.
    pub(crate) fn source(&self, id: Option<&str>) -> SourceRef {
        match id {
            None => self.sources[0],
            // OK because a test reads every table: such a row never leaves the project.
            Some(id) => self
                .sources
                .iter()
                .find(|source| source.id == id)
                .unwrap_or_else(|| panic!("{}: no source `{id}` in the head", self.file)),
        }
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File<R> {
    title: String,
    source: Vec<Head>,
    row: Vec<R>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Head {
    id: String,
    text: String,
    status: String,
    edition: Option<String>,
}

/// Reads one data file. The data is compiled in and a test reads every file, so a defect in it
/// never reaches a user; it panics with the file's name.
pub(crate) fn read<R: DeserializeOwned>(file: &'static str, text: &'static str) -> (Table, Vec<R>) {
    // OK because a test reads every file.
    let parsed: File<R> = toml::from_str(text).unwrap_or_else(|error| panic!("{file}: {error}"));
    assert!(
        !parsed.source.is_empty() && !parsed.row.is_empty(),
        "{file}: no source or no row"
    );
    let sources = parsed
        .source
        .into_iter()
        .map(|head| {
            let status = match head.status.as_str() {
                "printed" => Status::Printed,
                "calculated" => Status::Calculated,
                "recalled" => Status::Recalled,
                "practice" => Status::Practice,
                // OK because a test reads every file.
                other => panic!("{file}: status `{other}`"),
            };
            let source = Source {
                id: head.id,
                text: head.text,
                status,
                edition: head.edition,
            };
            &*Box::leak(Box::new(source))
        })
        .collect();
    (
        Table {
            file,
            title: parsed.title,
            sources,
            rows: parsed.row.len(),
        },
        parsed.row,
    )
}

/// A data file as it is held: its head and its rows.
pub(crate) struct Held<T> {
    pub(crate) table: Table,
    pub(crate) rows: Vec<T>,
}

/// Declares one lazily read data file: `data!(static BORES: StandardBore = "bores.toml", Raw, convert)`.
/// A module in a folder of its own says where the data lie from there: `data!(from "../../data/", static …)`.
macro_rules! data {
    (from $folder:literal, $(#[$doc:meta])* static $name:ident: $row:ty = $file:literal, $raw:ty, $convert:expr) => {
        $(#[$doc])*
        static $name: std::sync::LazyLock<crate::table::Held<$row>> = std::sync::LazyLock::new(|| {
            let (table, raw) =
                crate::table::read::<$raw>($file, include_str!(concat!($folder, $file)));
            let convert: fn(&crate::table::Table, $raw) -> $row = $convert;
            let rows = raw.into_iter().map(|row| convert(&table, row)).collect();
            crate::table::Held { table, rows }
        });
    };
    ($(#[$doc:meta])* static $name:ident: $row:ty = $file:literal, $raw:ty, $convert:expr) => {
        crate::table::data!(from "../data/", $(#[$doc])* static $name: $row = $file, $raw, $convert);
    };
}
pub(crate) use data;

/// A size by name as the data files write it: `38`, `12.5`, `1 1/4 in`.
pub(crate) fn nominal(file: &str, text: &str) -> NominalSize {
    // OK because a test reads every file.
    NominalSize::parse(text).unwrap_or_else(|error| panic!("{file}: {error}"))
}

/// Limits from two numbers in some unit.
pub(crate) fn limits<Q: Quantity>(ends: [f64; 2], unit: fn(f64) -> Q) -> Limits<Q> {
    assert!(ends[0] <= ends[1], "limits {ends:?} run backwards");
    Limits {
        low: unit(ends[0]),
        high: unit(ends[1]),
    }
}

/// Limits of a length from two numbers of millimetres.
pub(crate) fn limits_mm(ends: [f64; 2]) -> Limits<Length> {
    limits(ends, Length::mm)
}

static TABLES: LazyLock<Vec<&'static Table>> = LazyLock::new(|| {
    let mut tables = Vec::new();
    tables.extend(crate::bending::tables());
    tables.extend(crate::bore::tables());
    tables.extend(crate::hose::tables());
    tables.extend(crate::clip::tables());
    tables.extend(crate::torque::tables());
    tables.extend(crate::metal::tables());
    tables.extend(crate::insertion::tables());
    tables.extend(crate::rule::tables());
    tables.extend(crate::thread::tables());
    tables.extend(crate::mate::tables());
    tables.extend(crate::seal::tables());
    tables.extend(crate::tool::tables());
    tables.extend(crate::support::tables());
    tables.extend(crate::media::tables());
    tables.extend(crate::salt::tables());
    tables.extend(crate::friction::tables());
    tables.extend(crate::fitting::tables());
    tables.extend(crate::conduct::tables());
    tables.extend(crate::oil::tables());
    tables.extend(crate::heat::tables());
    tables.extend(crate::cooler_area::tables());
    tables.extend(crate::speed_limits::tables());
    tables.extend(crate::usual::tables());
    tables.extend(crate::engine::tables());
    tables
});

/// The heads of all data files. Unit: none. Range: one per file. Source: the files.
pub fn tables() -> &'static [&'static Table] {
    &TABLES
}
