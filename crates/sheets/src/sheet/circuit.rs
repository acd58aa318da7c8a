//! The circuit on paper: waterline strip, loop drawing, and the list in order of flow.

use quantity::System;
use reckon::{Circuit, Grade, Row, Verdict};

use super::sheet;
use super::words::{
    Warned, bold, cell, column, figures, listed, named, nobody_measured, plain, reason, soft, text,
};
use crate::doc::{Block, Cell, Sheet, Span, Table};
use crate::draw::Picture;

/// The strip and the loop drawing of an arrangement, the list below them, and what of the circuit is not sound.
pub fn circuit(
    circuit: &Circuit,
    strip: Option<Picture>,
    around: Option<Picture>,
    units: System,
) -> Sheet {
    let Circuit { listing, verdicts } = circuit;
    let mut blocks = Vec::new();
    for (picture, head) in [
        (
            strip,
            "Waterline strip: the loop cut at the pump and laid out straight",
        ),
        (around, "The loop"),
    ] {
        blocks.extend(picture.map(|picture| {
            Block::Together(vec![Block::Head(head.into()), Block::Picture(picture)])
        }));
    }
    if listing.ring.is_empty() && listing.beside.is_empty() {
        blocks.push(text("No runs yet: write a run with its two ends."));
    }
    if !listing.closed {
        blocks.push(Block::Text(vec![
            bold("The loop is open: "),
            plain("no closed way leads from a pump back to it."),
        ]));
    }
    for (rows, head) in [
        (&listing.ring, "Round the loop, in order of flow"),
        (&listing.beside, "Beside it"),
    ] {
        if !rows.is_empty() {
            blocks.push(Block::Head(head.into()));
            blocks.push(table(rows, units));
        }
    }
    for (names, what) in [(&listing.shut, "Shut"), (&listing.blanked, "Blanked off")] {
        if !names.is_empty() {
            blocks.push(text(format!("{what}: {}.", listed(names))));
        }
    }
    for assumed in &listing.assumed {
        blocks.push(Block::Text(vec![
            plain("Inside of"),
            nobody_measured(assumed, "assumed"),
        ]));
    }
    let faults = verdicts
        .iter()
        .filter(|verdict| verdict.grade != Grade::Sound);
    let mut faults: Vec<&Verdict> = faults.collect();
    faults.sort_by_key(|verdict| std::cmp::Reverse(verdict.grade));
    if !faults.is_empty() {
        blocks.push(Block::Head("What of it is not sound".into()));
    }
    let mut warned = Warned::default();
    for verdict in faults {
        blocks.extend(warned.first(verdict));
        let mut spans = vec![
            Span::Grade(verdict.grade),
            bold(format!(" {}:", named(verdict))),
        ];
        spans.extend(reason(verdict, units));
        blocks.push(Block::Text(spans));
    }
    sheet("circuit", "Circuit", blocks)
}

fn table(rows: &[Row], units: System) -> Block {
    Block::Table(Table {
        columns: vec![
            column("", 0.06),
            column("thing or run", 0.2),
            column("of", 0.4),
            column("side", 0.12),
            figures("height", 0.22),
        ],
        rows: rows
            .iter()
            .map(|row| {
                let mut what: Cell = Vec::new();
                if !row.what.is_empty() && row.what != row.key {
                    what.push(vec![plain(row.what.clone())]);
                }
                if !row.ends.is_empty() {
                    what.push(vec![soft(row.ends.clone())]);
                }
                let height = match row.reach {
                    Some(_) => cell(row.heights.in_units(units)),
                    None => vec![vec![Span::Grade(Grade::Unmeasured)]],
                };
                vec![
                    vec![vec![bold(row.mark.clone())]],
                    vec![vec![if row.is_run {
                        plain(row.key.clone())
                    } else {
                        bold(row.key.clone())
                    }]],
                    what,
                    cell(row.side.word()),
                    height,
                ]
            })
            .collect(),
    })
}
