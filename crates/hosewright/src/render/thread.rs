//! The threads that readings may be of, a line a thread.

use quantity::System;
use reckon::{Identified, Number};

use crate::text::{Column, Page};

/// The candidates in a table.
pub fn table(page: &mut Page, identified: &Identified, units: System) {
    if identified.rows.is_empty() {
        return;
    }
    let columns = [
        Column::words("thread"),
        Column::figures("in 100"),
        Column::figures("diameter"),
        Column::figures("10 pitches"),
        Column::figures("to the inch"),
        Column::figures("flanks"),
        Column::words("taper"),
    ];
    let rows: Vec<Vec<String>> = identified
        .rows
        .iter()
        .map(|row| {
            vec![
                row.thread.clone(),
                in_100(row.chance),
                range(&row.low, &row.high, units),
                row.ten_pitches.text.in_units(units).to_owned(),
                row.per_inch
                    .map_or_else(|| "–".to_owned(), |turns| format!("{turns}")),
                format!("{:.0}°", row.flanks),
                if row.tapers { "1 in 16" } else { "none" }.to_owned(),
            ]
        })
        .collect();
    page.table(0, &columns, &rows);
    page.gap();
    page.paragraph(
        0,
        "Each thread of the tables is held equally likely beforehand; how common one is on board is not counted.",
    );
}

/// A chance as a count of a hundred, never rounded up to certain.
fn in_100(chance: f64) -> String {
    let shown = quantity::show_chance(chance);
    let count = shown.strip_suffix(" in 100").unwrap_or(&shown);
    count.replace("over ", "> ").replace("under ", "< ")
}

fn range(low: &Number, high: &Number, units: System) -> String {
    let (low, high) = (low.text.in_units(units), high.text.in_units(units));
    match low.rsplit_once(' ') {
        Some((low, _)) => format!("{low} to {high}"),
        None => format!("{low} to {high}"),
    }
}
