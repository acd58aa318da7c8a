//! The survey form: blank, with boxes for a pencil in the order that settles the most, and filled.

use quantity::System;
use reckon::{Next, Station, SurveyBox, instrument};

use super::sheet;
use super::words::{
    FIRST, GLYCOL, HOT, HULL, aside, bold, cell, column, counted, entry, plain, soft, text, written,
};
use crate::doc::{Block, Cell, Sheet, Span, Table};

/// The form with its empty boxes: first what settles the most verdicts, then the rest by station.
pub fn survey_blank(boxes: &[SurveyBox], next: &[Next], units: System) -> Sheet {
    let mut blocks = heading();
    blocks.push(text(
        "Write what you read, and after ± how far off it may be: sure it lies between. Write ? where you looked and could not tell. Leave empty what you did not get at. Read twice; write the first reading that comes again.",
    ));
    blocks.push(Block::Together(vec![
        Block::Head("Take along".into()),
        text(tools(boxes)),
    ]));
    let empty: Vec<&SurveyBox> = boxes.iter().filter(|own| own.is_empty()).collect();
    if empty.is_empty() {
        blocks.push(text(
            "No box is empty: everything that the answer reads is written down.",
        ));
        return sheet("survey", "Survey, to fill in", blocks);
    }
    // What the ranking names comes first; what it does not name follows in the order of the file.
    let mut first: Vec<&SurveyBox> = Vec::new();
    let mut told: Vec<Block> = Vec::new();
    for (at, next) in next.iter().enumerate() {
        let own: Vec<&SurveyBox> = empty
            .iter()
            .copied()
            .filter(|own| {
                own.place == next.place && (next.part.is_empty() || own.part == next.part)
            })
            .filter(|own| !first.contains(own))
            .collect();
        first.extend(&own);
        told.push(Block::Together(measure(at + 1, next, &own, units)));
    }
    if !told.is_empty() {
        blocks.push(Block::Head("First, by what it settles".into()));
        blocks.extend(told);
    }
    let rest: Vec<&SurveyBox> = empty
        .into_iter()
        .filter(|own| !first.contains(own))
        .collect();
    if !rest.is_empty() {
        blocks.push(Block::Head(format!(
            "Then, station by station: {}",
            counted(rest.len(), "box").replace("boxs", "boxes")
        )));
    }
    stations(&rest, units, false, &mut blocks);
    sheet("survey", "Survey, to fill in", blocks)
}

/// The form as it is filled in: every value as it came to be, every empty box empty.
pub fn survey_filled(boxes: &[SurveyBox], units: System) -> Sheet {
    let mut blocks = heading();
    let empty = boxes.iter().filter(|own| own.is_empty()).count();
    blocks.push(text(format!(
        "{} stand, {empty} are empty. A measured value names its instrument; a ± in brackets is what that instrument usually gives, and nobody wrote it. What is wanted or planned is not measured. What nobody measured stands in a dashed box with its word; an empty box waits for a pencil.",
        counted(boxes.len() - empty, "value"),
    )));
    let all: Vec<&SurveyBox> = boxes.iter().collect();
    stations(&all, units, true, &mut blocks);
    legend(boxes, &mut blocks);
    sheet("survey-filled", "Survey, as written", blocks)
}

fn heading() -> Vec<Block> {
    vec![
        Block::Text(vec![
            plain("Date"),
            Span::Empty(32.0, String::new()),
            plain("  Measured by"),
            Span::Empty(60.0, String::new()),
        ]),
        Block::Caution(HOT.into()),
        Block::Caution(HULL.into()),
        Block::Caution(GLYCOL.into()),
        aside(FIRST),
    ]
}

/// The instruments that the empty boxes want, as one asks for them.
fn tools(boxes: &[SurveyBox]) -> String {
    let mut with: Vec<&str> = Vec::new();
    for own in boxes.iter().filter(|own| own.is_empty()) {
        if let Some(own) = own.instrument.map(instrument)
            && !with.contains(&own)
        {
            with.push(own);
        }
    }
    with.push("a torch, a mirror, a rag and this form");
    format!("{}.", capital(&with.join(", ")))
}

fn capital(words: &str) -> String {
    let mut signs = words.chars();
    signs.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(signs).collect()
    })
}

/// One measurement of the ranking: where, how, what it settles, and its boxes.
fn measure(at: usize, next: &Next, own: &[&SurveyBox], units: System) -> Vec<Block> {
    let part = if next.part.is_empty() {
        String::new()
    } else {
        format!(", {}", next.part)
    };
    let settles = if next.tried {
        format!("settles {}", next.settles())
    } else {
        format!("{} wait for it", counted(next.named_by.len(), "verdict"))
    };
    let mut blocks = vec![Block::Text(vec![
        bold(format!("{at}. {}{part}", next.station.title)),
        soft(format!("  {settles}")),
    ])];
    blocks.extend(next.how.iter().map(|how| text(how.clone())));
    if own.is_empty() {
        blocks.push(Block::Text(vec![
            soft(next.place.clone()),
            Span::Empty(60.0, String::new()),
        ]));
    } else {
        blocks.push(table(own, units, Form::Ranked));
    }
    blocks
}

/// A table of the survey.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Form {
    /// One measurement of the ranking, to be filled in.
    Ranked,
    /// A station, to be filled in: its head says where it stands in the file.
    Blank,
    /// A station as it is written.
    Filled,
}

fn stations(boxes: &[&SurveyBox], units: System, filled: bool, blocks: &mut Vec<Block>) {
    let form = if filled { Form::Filled } else { Form::Blank };
    let mut from = 0;
    while let Some(first) = boxes.get(from) {
        let count = boxes[from..]
            .iter()
            .take_while(|own| own.station == first.station)
            .count();
        let own = &boxes[from..from + count];
        from += count;
        let Station { place, title } = &first.station;
        blocks.push(Block::Head(if title == place {
            title.clone()
        } else {
            format!("{title}: {place}")
        }));
        blocks.push(table(own, units, form));
    }
}

/// What each name means, once.
fn legend(boxes: &[SurveyBox], blocks: &mut Vec<Block>) {
    let mut said: Vec<(&str, &str)> = Vec::new();
    for own in boxes {
        let pair = (own.name.as_str(), own.says.as_str());
        if !said.contains(&pair) {
            said.push(pair);
        }
    }
    blocks.push(Block::Head("The names".into()));
    blocks.push(Block::Table(Table {
        columns: vec![column("name", 0.2), column("is", 0.8)],
        rows: said
            .into_iter()
            .map(|(name, says)| vec![vec![vec![bold(name)]], vec![vec![soft(says)]]])
            .collect(),
    }));
}

/// Where a box stands in the file, below its station where the head names that: broken at points, so that
/// no long name takes the other columns' room.
fn place_of(own: &SurveyBox, form: Form) -> Cell {
    let station = format!("{}.", own.station.place);
    let below = own.place.strip_prefix(&station);
    let path = below.filter(|_| form != Form::Ranked).unwrap_or(&own.place);
    let most = if form == Form::Filled { 30 } else { 20 };
    let mut lines: Vec<String> = vec![String::new()];
    let mut quoted = false;
    let mut part = String::new();
    let mut put = |part: &mut String| {
        // OK because there is always a line.
        let last = lines.len() - 1;
        let long = lines[last].chars().count() + part.chars().count();
        if long > most && !lines[last].is_empty() {
            lines.push(std::mem::take(part));
        } else {
            lines[last].push_str(part);
            part.clear();
        }
    };
    for sign in path.chars() {
        if sign == '.' && !quoted {
            put(&mut part);
        }
        quoted ^= sign == '"';
        part.push(sign);
    }
    put(&mut part);
    lines.into_iter().map(|line| vec![soft(line)]).collect()
}

fn table(boxes: &[&SurveyBox], units: System, form: Form) -> Block {
    let filled = form == Form::Filled;
    let mut part = "";
    let mut rows: Vec<Vec<Cell>> = Vec::new();
    for own in boxes {
        let mut what: Cell = Vec::new();
        if own.part != part || !filled {
            part = &own.part;
            if !own.part.is_empty() {
                what.push(vec![plain(own.part.clone())]);
            }
        }
        what.push(vec![bold(own.name.clone())]);
        let place = place_of(own, form);
        rows.push(match filled {
            true => vec![what, vec![written(own, units)], place],
            false => vec![what, cell(how(own)), vec![blank(own, units)], place],
        });
    }
    let columns = match filled {
        true => vec![
            column("what", 0.26),
            column("as written", 0.42),
            column("stands in the file at", 0.32),
        ],
        false => vec![
            column("what", 0.2),
            column("how", 0.26),
            column("write here", 0.32),
            column("goes into the file at", 0.22),
        ],
    };
    Block::Table(Table { columns, rows })
}

fn blank(own: &SurveyBox, units: System) -> Vec<Span> {
    let mut line = entry(own, units);
    match own.holds {
        reckon::Holds::Unknown => line.push(soft("looked before: could not tell")),
        reckon::Holds::TwoReadings => line.push(soft("two readings differ: measure again")),
        reckon::Holds::Value | reckon::Holds::Nothing => {}
    }
    line
}

/// What is meant, and with what it is measured.
fn how(own: &SurveyBox) -> String {
    let with = own
        .instrument
        .map_or_else(String::new, |with| format!(" With {}.", instrument(with)));
    format!("{}{with}", own.says)
}
