//! The loop as a list in order of flow, and arrangements side by side.

use quantity::System;
use reckon::{Circuit, Grade, Listing, Row};

use super::heading;
use crate::text::{Column, Page, listed};

/// The ring, then what hangs on it.
pub fn list(page: &mut Page, listing: &Listing, units: System) {
    if listing.ring.is_empty() && listing.beside.is_empty() {
        page.paragraph(0, "No runs yet: write a run with its two ends.");
        return;
    }
    if listing.ring.is_empty() {
        page.gap();
        page.paragraph(0, "No closed way leads from a pump back to it.");
    } else {
        // With the main loop open the ring is a small one, by a heater or the like, and no cooler is on it.
        heading(
            page,
            if listing.closed {
                "Round the loop, in order of flow"
            } else {
                "The loop is open; what still goes round"
            },
        );
        for row in &listing.ring {
            line(page, row, units);
        }
        if listing.closed {
            page.paragraph(0, "and round again");
        }
    }
    if !listing.beside.is_empty() {
        heading(page, "Beside it");
        for row in &listing.beside {
            line(page, row, units);
        }
    }
    for (names, what) in [(&listing.shut, "shut"), (&listing.blanked, "blanked off")] {
        if !names.is_empty() {
            page.gap();
            page.hanging("", "  ", &format!("{what}: {}", listed(names)));
        }
    }
    for assumed in &listing.assumed {
        page.gap();
        page.hanging("", "  ", &format!("(inside of {assumed}) assumed"));
    }
}

fn line(page: &mut Page, row: &Row, units: System) {
    let heights = row.heights.in_units(units);
    if row.is_run {
        let first = format!("  {:<3} ", row.mark);
        page.both_ends(
            &first,
            "      ",
            &format!("{} {}, {}", row.key, row.ends, row.side.word()),
            heights,
        );
        page.hanging("      ", "        ", &row.what);
    } else {
        let what = if row.what.is_empty() || row.what == row.key {
            String::new()
        } else {
            format!(", {}", row.what)
        };
        page.both_ends("○ ", "  ", &format!("{}{what}", row.key), heights);
    }
}

/// One column a question, one row an arrangement.
pub fn side_by_side(page: &mut Page, circuits: &[Circuit]) {
    page.gap();
    let rows: Vec<Vec<String>> = circuits
        .iter()
        .map(|circuit| {
            let count = |grade: Grade| {
                circuit
                    .verdicts
                    .iter()
                    .filter(|verdict| verdict.grade == grade)
                    .count()
                    .to_string()
            };
            let list = |names: &[String]| {
                if names.is_empty() {
                    "–".to_owned()
                } else {
                    names.join(", ")
                }
            };
            let listing = &circuit.listing;
            vec![
                listing
                    .arrangement
                    .clone()
                    .unwrap_or_else(|| "as it stands".to_owned()),
                if listing.closed { "closed" } else { "open" }.to_owned(),
                list(&listing.coolers),
                list(&listing.shut),
                count(Grade::Unsound),
                count(Grade::Marginal),
                count(Grade::Unmeasured),
            ]
        })
        .collect();
    page.table(
        0,
        &[
            Column::words("arrangement"),
            Column::words("loop"),
            Column::words("cooled by"),
            Column::words("shut"),
            Column::figures("unsound"),
            Column::figures("marginal"),
            Column::figures("unmeasured"),
        ],
        &rows,
    );
}
