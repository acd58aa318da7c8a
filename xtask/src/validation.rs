//! `docs/validation.md`: every row against which the numbers are checked, as one page to read.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;

use crate::{Fault, tree};

#[path = "../../crates/reference/tests/it/rows.rs"]
mod rows;

use rows::{Kind, MOST_PER_SOURCE, Row};

const PAGE: &str = "docs/validation.md";

/// So many rows must count over sizes, fit, clips and torques: the crates that hold them.
const LEAST: usize = 40;

/// A crate whose rows do not count towards that: units are no sizes.
const UNITS: &str = "quantity";

/// Writes the page.
pub fn write() -> Result<(), Fault> {
    let root = tree::root();
    std::fs::write(root.join(PAGE), page(&root)?).map_err(|e| format!("{PAGE}: {e}"))
}

/// Whether the page stands as it would be written now, and enough rows count.
pub fn check(root: &Path) -> Result<(), Fault> {
    let counted = counted(root)?;
    println!("   {counted} rows count over sizes, fit, clips and torques");
    if counted < LEAST {
        return Err(format!("{counted} rows count; {LEAST} are wanted"));
    }
    if tree::read(root, PAGE)? == page(root)? {
        Ok(())
    } else {
        Err(format!(
            "{PAGE} is out of date: run `cargo xtask validation`"
        ))
    }
}

/// How many rows count over sizes, fit, clips and torques.
pub fn counted(root: &Path) -> Result<usize, Fault> {
    let all: Vec<Row> = read(root)?
        .into_iter()
        .filter(|(name, _)| name != UNITS)
        .flat_map(|(_, rows)| rows)
        .collect();
    Ok(rows::count(&all).counted)
}

/// The rows of every crate that has some.
fn read(root: &Path) -> Result<BTreeMap<String, Vec<Row>>, Fault> {
    let crates = root.join("crates");
    let entries = std::fs::read_dir(&crates).map_err(|e| format!("crates: {e}"))?;
    let mut found = BTreeMap::new();
    for entry in entries {
        let entry = entry.map_err(|e| format!("crates: {e}"))?;
        let folder = entry.path().join("validation");
        if folder.is_dir() {
            let name = entry.file_name().to_string_lossy().into_owned();
            let rows =
                rows::read(&folder).map_err(|fault| format!("crates/{name}/validation/{fault}"))?;
            found.insert(name, rows);
        }
    }
    Ok(found)
}

/// The page as text.
pub fn page(root: &Path) -> Result<String, Fault> {
    let crates = read(root)?;
    let all: Vec<Row> = crates.values().flatten().cloned().collect();
    let total = rows::count(&all);
    let mut page = String::from(
        "<!-- Written by `cargo xtask validation` from crates/*/validation/*.csv. -->\n\
         # What the numbers are checked against\n\n\
         Each row below is a question to a function of the program, and an answer that, but for rows\n\
         of kind `ours`, does not come from the program. A test asks every question and compares.\n\
         `cargo xtask test` also asks the sibling libraries again.\n\n",
    );
    let share = MOST_PER_SOURCE;
    _ = writeln!(
        page,
        "**What counts.** Only what was read in print, given by another library (a sibling, at a\n\
         pinned version) or follows from a physical or mathematical limit. Of one function and one\n\
         source at most {share} rows count, and limits make up at most a fifth. Rows recalled from\n\
         memory and rows of our own stand as guards against change and never count.\n"
    );
    page.push_str("| crate | rows | printed | sibling | limit | recalled | ours |\n");
    page.push_str("| --- | ---: | ---: | ---: | ---: | ---: | ---: |\n");
    for (name, rows) in &crates {
        let of = |kind| rows.iter().filter(|row| row.kind == kind).count();
        _ = writeln!(
            page,
            "| `{name}` | {} | {} | {} | {} | {} | {} |",
            rows.len(),
            of(Kind::Printed),
            of(Kind::Sibling),
            of(Kind::Limit),
            of(Kind::Recalled),
            of(Kind::Ours),
        );
    }
    _ = writeln!(
        page,
        "\n**{} rows, of which {} count**: {} printed, {} sibling, {} limits.",
        total.all, total.counted, total.printed, total.sibling, total.limits
    );
    for (name, rows) in &crates {
        _ = writeln!(page, "\n## `{name}`");
        let mut functions: BTreeMap<&str, Vec<&Row>> = BTreeMap::new();
        for row in rows {
            functions.entry(&row.function).or_default().push(row);
        }
        for (function, rows) in functions {
            _ = writeln!(page, "\n### {function}\n");
            page.push_str("| kind | source | inputs | expected | tolerance | row |\n");
            page.push_str("| --- | --- | --- | ---: | ---: | --- |\n");
            for row in rows {
                let inputs: Vec<String> = row
                    .inputs
                    .iter()
                    .map(|(name, value)| format!("{name} {value}"))
                    .collect();
                _ = writeln!(
                    page,
                    "| {} | {} | {} | {} | {} | {} |",
                    row.kind.word(),
                    cell(&row.source),
                    cell(&inputs.join(", ")),
                    cell(&row.expected),
                    cell(&row.tolerance),
                    cell(&row.place),
                );
            }
        }
    }
    Ok(page)
}

/// Text that cannot break out of its cell.
fn cell(text: &str) -> String {
    text.replace('|', "\\|")
}
