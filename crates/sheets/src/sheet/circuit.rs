//! The circuit on paper: waterline strip, loop drawing, and the list in order of flow.

use quantity::System;
use reckon::{At, Branch, Circuit, Grade, Row, Strip, Verdict};

use super::sheet;
use super::words::{
    Warned, bold, cell, column, figures, listed, named, nobody_measured, plain, reason, soft, text,
};
use crate::doc::{Block, Cell, Sheet, Span, Table};
use crate::draw::Picture;
use crate::draw::strip::{BandCell, BandTable, StripDrawing, StripForm, strip};

/// The strips of an arrangement.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Strips {
    /// The loop, cut at its pump.
    pub main: Option<Picture>,
    /// The figures under it, of which the picture shows those that have room.
    pub table: BandTable,
    /// Raw water, each way by its title: `M N strainer, raw-pump`.
    pub raw: Vec<(String, Picture)>,
    /// What hangs on the loop and carries its coolant: calorifier, heater.
    pub side: Vec<SideStrip>,
}

/// A way of coolant beside the loop.
#[derive(Clone, Debug, PartialEq)]
pub struct SideStrip {
    /// Its runs and what it leads to, and where it leaves the loop and comes back:
    /// `F G calorifier, from engine to engine`.
    pub title: String,
    /// Its strip; where none of its heights is told, what to measure.
    pub drawn: Result<Picture, String>,
}

/// The strips of all ways of coolant beside the loop.
pub fn sides(told: &Strip, form: &StripForm) -> Vec<SideStrip> {
    let wet = told.branches.iter().filter(|own| own.carries.is_empty());
    wet.map(|own| SideStrip {
        title: format!("{}, {}", own.title, ends(told, own)),
        drawn: if own.way.measured {
            let form = StripForm {
                branch: Some(&own.key),
                before: None,
                ..*form
            };
            Ok(strip(told, &form).picture)
        } else {
            let runs: Vec<&str> = own.way.runs.iter().map(|run| run.key.as_str()).collect();
            Err(format!(
                "No strip of {}: none of its heights is written. Measure the heights of the ends of {} with a water-filled tube.",
                own.title,
                listed(&runs)
            ))
        },
    })
    .collect()
}

/// Where a way leaves the loop and where it comes back.
fn ends(told: &Strip, own: &Branch) -> String {
    let piece = |at: Option<At>| {
        // OK because a place is never under 0.
        let piece = told.main.pieces.get(at? as usize)?;
        Some(piece.key.as_str())
    };
    match (piece(own.from), piece(own.to)) {
        (Some(from), Some(to)) => format!("from {from} to {to}"),
        (Some(from), None) => format!("from {from}, comes back off the loop drawn here"),
        (None, Some(to)) => format!("to {to}, leaves off the loop drawn here"),
        (None, None) => "both ends off the loop drawn here".to_owned(),
    }
}

impl From<Option<Picture>> for Strips {
    fn from(main: Option<Picture>) -> Self {
        Self {
            main,
            ..Self::default()
        }
    }
}

impl From<Option<StripDrawing>> for Strips {
    fn from(drawn: Option<StripDrawing>) -> Self {
        let (main, table) = drawn.map(|drawn| (drawn.picture, drawn.table)).unzip();
        Self {
            main,
            table: table.unwrap_or_default(),
            ..Self::default()
        }
    }
}

/// The strips and the loop drawing of an arrangement, the list below them, and what of the circuit is not sound.
pub fn circuit(
    circuit: &Circuit,
    strips: impl Into<Strips>,
    around: Option<Picture>,
    units: System,
) -> Sheet {
    let Circuit { listing, verdicts } = circuit;
    let Strips {
        main,
        table,
        raw,
        side,
    } = strips.into();
    let mut blocks = Vec::new();
    let loop_strip = main.map(|picture| {
        let head = "Waterline strip: the loop cut at the pump and laid out straight";
        (head.to_owned(), picture)
    });
    let raw = raw
        .into_iter()
        .map(|(title, picture)| (format!("Raw water, laid out straight: {title}"), picture));
    let around = around.map(|picture| ("The loop".to_owned(), picture));
    let side = side.into_iter().map(|own| {
        let head = format!("Beside the loop, laid out straight: {}", own.title);
        let block = match own.drawn {
            Ok(picture) => Block::Picture(picture),
            Err(why) => Block::Text(vec![
                Span::Grade(Grade::Unmeasured),
                plain(format!(" {why}")),
            ]),
        };
        (head, block)
    });
    let drawn = |(head, picture): (String, Picture)| (head, Block::Picture(picture));
    for (head, block) in loop_strip
        .into_iter()
        .map(drawn)
        .chain(side)
        .chain(raw.map(drawn))
        .chain(around.map(drawn))
    {
        blocks.push(Block::Together(vec![Block::Head(head), block]));
    }
    blocks.extend(figures_of(&table));
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
            blocks.push(list(rows, units));
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

/// All figures of the strip, joint by joint, where the picture has no room for some.
fn figures_of(band: &BandTable) -> Vec<Block> {
    let hidden = |cell: &BandCell| !cell.shown;
    if !band.rows.iter().any(|row| row.cells.iter().any(hidden)) {
        return Vec::new();
    }
    // OK because a table has few rows.
    let share = 0.88 / band.rows.len() as f64;
    let mut columns = vec![column("joint", 0.12)];
    columns.extend(band.rows.iter().map(|row| figures(&row.title, share)));
    let rows = band.columns.iter().enumerate().map(|(at, joint)| {
        let mut cells: Vec<Cell> = vec![vec![vec![bold(joint.mark.clone())]]];
        let own = band.rows.iter().map(|row| row.cells.get(at));
        cells.extend(own.map(|own| cell(own.map_or("", |own| own.text.as_str()))));
        cells
    });
    vec![
        Block::Head("The figures of the strip, joint by joint".into()),
        Block::Table(Table {
            columns,
            rows: rows.collect(),
        }),
    ]
}

fn list(rows: &[Row], units: System) -> Block {
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
