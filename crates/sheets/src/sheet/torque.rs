//! How tight: every clip with a screw by its torque, and every screwed joint with what seals it.

use quantity::System;
use reckon::{Answer, Grade, JointRow, Stage, Verdict};

use super::joints::Sources;
use super::sheet;
use super::words::{HOT, HULL, bold, cell, column, plain, reason, soft, text};
use crate::doc::{Block, Cell, Sheet, Span, Table};

/// Torques and seals of the boat as she is to be built.
pub fn torque(answer: &Answer, units: System) -> Sheet {
    let sources = Sources::of(answer);
    let mut blocks = vec![
        Block::Caution(HOT.into()),
        text(
            "Tighten cold and dry, once when the joint is made and once more, cold, after the first hot runs: hose beds in. Write the day of each.",
        ),
        Block::Head("Clips, as the order list takes them".into()),
        Block::Table(Table {
            columns: vec![
                column("joint", 0.2),
                column("clip", 0.22),
                column("torque", 0.3),
                column("made", 0.14),
                column("again", 0.14),
            ],
            rows: answer
                .joints
                .iter()
                .map(|row| line(row, &sources, units))
                .collect(),
        }),
    ];
    blocks.extend(sources.told());
    blocks.push(Block::Head("Screwed joints".into()));
    blocks.push(Block::Caution(HULL.into()));
    let screwed = screwed(&answer.verdicts);
    if screwed.is_empty() {
        blocks.push(text("No screwed joint or port is written for this boat."));
        return sheet("torque", "Torque and seals", blocks);
    }
    blocks.push(text(
        "A parallel thread seals on its washer between two flat faces; a taper thread seals on itself. No source gives a torque for these: take the maker's, write it here. Too tight cracks a casting.",
    ));
    let rows = screwed.into_iter().map(|verdict| {
        let mut says: Cell = vec![vec![bold(verdict.title.clone())]];
        let mut why = vec![Span::Grade(verdict.grade)];
        why.extend(reason(verdict, units));
        says.push(why);
        let sources = &verdict.working.sources;
        if !sources.is_empty() {
            says.push(vec![soft(sources.join("; "))]);
        }
        vec![
            says,
            vec![
                vec![Span::Grade(Grade::Unmeasured)],
                vec![Span::Empty(16.0, torque_unit(units).to_owned())],
            ],
            vec![vec![Span::Tick]],
        ]
    });
    blocks.push(Block::Table(Table {
        columns: vec![
            column("joint, and what seals it", 0.72),
            column("torque", 0.2),
            column("made", 0.08),
        ],
        rows: rows.collect(),
    }));
    sheet("torque", "Torque and seals", blocks)
}

fn torque_unit(units: System) -> &'static str {
    match units {
        System::Metric => "N m",
        System::Imperial => "lbf in",
    }
}

fn line(row: &JointRow, sources: &Sources, units: System) -> Vec<Cell> {
    let clip = match &row.clip {
        Some(clip) => {
            let count = row.clips.filter(|count| *count > 1);
            let count = count.map_or_else(String::new, |count| format!("{count} × "));
            cell(format!("{count}{clip}"))
        }
        None => vec![vec![Span::Grade(Grade::Unmeasured)]],
    };
    let close = row.by_hand.close.as_deref();
    let tight: Cell = match &row.torque {
        Some(torque) => {
            let source = row.by_hand.torque_source.as_deref();
            let source = source.map(|source| soft(format!(" source {}", sources.letter(source))));
            let told = bold(torque.in_units(units));
            vec![std::iter::once(told).chain(source).collect()]
        }
        None => match close {
            Some(close) if !close.starts_with("tighten") => vec![vec![plain(close)]],
            _ => vec![vec![Span::Grade(Grade::Unmeasured)]],
        },
    };
    let unsound = row.grade == Grade::Unsound;
    let again = match close {
        _ if unsound => Cell::new(),
        Some(close) if !close.starts_with("tighten") => vec![vec![soft("not again")]],
        _ => vec![vec![Span::Empty(16.0, String::new())]],
    };
    vec![
        vec![vec![
            bold(format!("{} ", row.mark)),
            plain(row.spigot_name.clone()),
        ]],
        clip,
        if unsound { Cell::new() } else { tight },
        if unsound {
            vec![vec![
                Span::Grade(row.grade),
                plain(" mend first: see the joint list"),
            ]]
        } else {
            vec![vec![Span::Empty(16.0, String::new())]]
        },
        again,
    ]
}

/// What was judged of threads: of ports and of the joints of stacks.
fn screwed(verdicts: &[Verdict]) -> Vec<&Verdict> {
    let of_thread = |verdict: &&Verdict| {
        let rule = verdict.id.rsplit('.').next().unwrap_or_default();
        verdict.stage == Stage::Fit && reckon::THREAD_RULES.contains(&rule)
    };
    verdicts.iter().filter(of_thread).collect()
}
