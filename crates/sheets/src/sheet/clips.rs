//! Clips by size: which joints each goes on, and how its kind is closed.

use std::collections::BTreeMap;

use quantity::System;
use reckon::{Answer, Craft, Grade, JointRow};

use super::sheet;
use super::words::{HOT, bold, cell, cited, column, figures, plain, soft, text};
use crate::doc::{Block, Cell, Sheet, Span, Table};

/// The clips of the boat as she is to be built.
pub fn clips(answer: &Answer, craft: &Craft, units: System) -> Sheet {
    let mut blocks = vec![
        Block::Caution(HOT.into()),
        text(
            "Lay the clips out by size before the first hose is pushed on; tick each as it is set.",
        ),
        Block::Head("By size".into()),
        Block::Table(by_size(answer, units)),
    ];
    let none: Vec<&JointRow> = answer
        .joints
        .iter()
        .filter(|row| row.clip.is_none())
        .collect();
    if !none.is_empty() {
        let marks: Vec<&str> = none.iter().map(|row| row.mark.as_str()).collect();
        blocks.push(Block::Text(vec![
            plain("No clip yet: "),
            bold(marks.join(", ")),
            plain(" "),
            Span::Grade(Grade::Unmeasured),
            plain(" The joint list says what to measure."),
        ]));
    }
    blocks.push(Block::Head("Where the band sits".into()));
    blocks.extend(
        craft
            .place
            .iter()
            .map(|says| Block::Text(cited(says, units))),
    );
    for closing in &craft.closing {
        let used = answer
            .joints
            .iter()
            .any(|row| row.by_hand.clip_kind.as_deref() == Some(closing.kind.as_str()));
        if !used {
            continue;
        }
        let mut together = vec![Block::Head(format!("{}: {}", closing.kind, closing.short))];
        together.extend(
            closing
                .steps
                .iter()
                .map(|says| Block::Text(cited(says, units))),
        );
        blocks.push(Block::Together(together));
        if closing.torques.is_empty() {
            continue;
        }
        blocks.push(Block::Table(Table {
            columns: vec![
                column("for", 0.36),
                figures("torque", 0.17),
                figures("breaks from", 0.13),
                column("source", 0.34),
            ],
            rows: closing
                .torques
                .iter()
                .map(|line| {
                    vec![
                        cell(line.words.clone()),
                        cell(line.torque.in_units(units)),
                        cell(
                            line.breaks_from
                                .as_ref()
                                .map_or("–", |from| from.in_units(units)),
                        ),
                        vec![vec![soft(line.source.clone())]],
                    ]
                })
                .collect(),
        }));
    }
    sheet("clips", "Clips", blocks)
}

fn by_size(answer: &Answer, units: System) -> Table {
    let mut sizes: BTreeMap<&str, Vec<&JointRow>> = BTreeMap::new();
    for row in &answer.joints {
        if let Some(clip) = &row.clip {
            sizes.entry(clip).or_default().push(row);
        }
    }
    let rows = sizes.into_iter().map(|(clip, rows)| {
        let count: u32 = rows.iter().map(|row| row.clips.unwrap_or(1)).sum();
        let joints: Cell = rows
            .iter()
            .map(|row| {
                let many = row.clips.filter(|clips| *clips > 1);
                let many = many.map_or_else(String::new, |clips| format!(" ({clips})"));
                let own = match row.grade {
                    Grade::Sound => vec![],
                    other => vec![plain(" "), Span::Grade(other)],
                };
                let mut spans = vec![
                    Span::Tick,
                    bold(format!(" {}{many} ", row.mark)),
                    plain(row.spigot_name.clone()),
                ];
                spans.extend(own);
                spans
            })
            .collect();
        vec![
            vec![
                vec![bold(clip)],
                vec![soft(rows[0].by_hand.clip_kind.clone().unwrap_or_default())],
            ],
            cell(count.to_string()),
            joints,
            tight(&rows, units),
        ]
    });
    Table {
        columns: vec![
            column("clip", 0.24),
            figures("in all", 0.08),
            column("joints", 0.4),
            column("tighten", 0.28),
        ],
        rows: rows.collect(),
    }
}

/// How tight, once for those that are alike.
fn tight(rows: &[&JointRow], units: System) -> Cell {
    let mut said: Vec<(String, Vec<&str>)> = Vec::new();
    for row in rows {
        let how = match (&row.torque, &row.by_hand.close) {
            (Some(torque), _) => torque.in_units(units).to_owned(),
            (None, Some(close)) if close.starts_with("tighten") => "torque unmeasured".to_owned(),
            (None, Some(close)) => close.clone(),
            (None, None) => "unmeasured".to_owned(),
        };
        match said.iter_mut().find(|(known, _)| *known == how) {
            Some((_, marks)) => marks.push(&row.mark),
            None => said.push((how, vec![&row.mark])),
        }
    }
    let alone = said.len() == 1;
    said.into_iter()
        .map(|(how, marks)| match alone {
            true => vec![bold(how)],
            false => vec![bold(how), soft(format!(" {}", marks.join(", ")))],
        })
        .collect()
}
