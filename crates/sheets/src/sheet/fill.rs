//! The sheet to fill and bleed her by.

use quantity::System;
use reckon::{Answer, Circuit, FillRow, Grade, Number, Point, PointKind, Stage, Verdict};

use super::sheet;
use super::words::{
    HOT, HULL, PRACTICE, Warned, aside, bold, cell, column, figures, listed, plain, reason, soft,
    text,
};
use crate::doc::{Block, Cell, Sheet, Span, Table};

/// What is poured is poison: it stands once, over all acts that have to do with it.
const POISON: &str = "Coolant with glycol is poison and tastes sweet: catch every drip, none into the bilge, and none where a child or an animal can get at it; take the old to where local rules want it.";

/// The caution of a verdict, unless it was given before, here or at the head of the sheet.
fn caution(verdict: &Verdict, warned: &mut Warned) -> Option<Block> {
    let said = |block: &Block| matches!(block, Block::Caution(words) if words.contains("poison") || words.starts_with("Hot and under pressure"));
    warned.first(verdict).filter(|block| !said(block))
}

/// What to pour, in which order, and where air and water stay.
pub fn fill(answer: &Answer, circuit: &Circuit, points: &[Point], units: System) -> Sheet {
    let mut blocks = vec![
        Block::Caution(HOT.into()),
        Block::Caution(POISON.into()),
        Block::Head("What to pour".into()),
    ];
    match &answer.fill {
        Some(row) => blocks.push(recipe(row, units)),
        None => blocks.push(Block::Text(vec![
            Span::Grade(Grade::Unmeasured),
            plain(" The file says nothing of coolant: write which is wanted and how much the circuit holds, under `coolant`."),
        ])),
    }
    let mut warned = Warned::default();
    for verdict in answer
        .verdicts
        .iter()
        .filter(|verdict| verdict.stage == Stage::Fill && verdict.grade != Grade::Sound)
    {
        blocks.extend(caution(verdict, &mut warned));
        let mut spans = vec![Span::Grade(verdict.grade)];
        spans.extend(reason(verdict, units));
        blocks.push(Block::Text(spans));
    }
    blocks.push(Block::Head(
        "Bleeds, drains and valves, from the lowest up".into(),
    ));
    if points
        .iter()
        .any(|point| point.kind == PointKind::HullValve)
    {
        blocks.push(Block::Caution(HULL.into()));
    }
    let shown: Vec<&Point> = points
        .iter()
        .filter(|point| point.kind != PointKind::Consumer)
        .collect();
    if shown.is_empty() {
        blocks.push(text("No bleed, drain, header tank or valve is written."));
    } else {
        blocks.push(places(&shown, units));
    }
    spots(circuit, units, &mut warned, &mut blocks);
    order(points, &mut blocks);
    log(&mut blocks, units);
    sheet("fill", "Fill and bleed", blocks)
}

fn recipe(row: &FillRow, units: System) -> Block {
    let of = |number: &Option<Number>| {
        number
            .as_ref()
            .map(|number| number.text.in_units(units).to_owned())
    };
    let mut rows: Vec<Vec<Cell>> = Vec::new();
    let unmeasured = || vec![vec![Span::Grade(Grade::Unmeasured)]];
    let mut add = |name: &str, value: Option<String>, needed: bool| match value {
        Some(value) => rows.push(vec![cell(name), vec![vec![bold(value)]]]),
        None if needed => rows.push(vec![cell(name), unmeasured()]),
        None => {}
    };
    let wanted = (!row.kind.is_empty()).then(|| {
        let share = of(&row.wanted).map_or_else(String::new, |share| format!("{share} "));
        format!("{share}{}", row.kind)
    });
    add("wanted", wanted, true);
    add("the circuit holds", of(&row.volume), true);
    let inside = of(&row.inside).map(|inside| match of(&row.inside_share) {
        Some(share) => format!("{inside} at {share}"),
        None => format!("{inside}, strength not known"),
    });
    add("stays inside when she is drained", inside, true);
    let mix = of(&row.mix).map(|share| match &row.mix_why {
        Some(why) => format!("{share}: {why}"),
        None => share,
    });
    add("recipe for", mix, false);
    let flush = row
        .flushes
        .filter(|_| row.flush_first)
        .map(|times| format!("{times} ×, with water"));
    add("flush first", flush, false);
    add("drain first", of(&row.drain_first), false);
    let bought = match of(&row.product).as_deref() {
        Some("100 %") | None => "concentrate".to_owned(),
        Some(share) => format!("mix of {share}"),
    };
    add(
        "1. pour first",
        of(&row.pour).map(|pour| format!("= {pour} {bought}")),
        true,
    );
    add(
        "2. then",
        of(&row.water).map(|water| format!("= {water} de-ionised water")),
        true,
    );
    let ten = of(&row.pour_in_ten).zip(of(&row.water_in_ten));
    add(
        "each ten litres of mix",
        ten.map(|(pour, water)| format!("= {pour} {bought}, {water} water")),
        false,
    );
    add(
        "freezes at",
        of(&row.freezes).map(|at| format!("= {at}")),
        false,
    );
    add(
        "boils at, cap off",
        of(&row.boils_open).map(|at| format!("= {at}")),
        false,
    );
    add(
        "boils at, under the cap at its low end",
        of(&row.boils_under_cap).map(|at| format!("= {at}")),
        false,
    );
    let hot = row.expands_to.text.in_units(units);
    add(
        "grows when hot",
        of(&row.expands_by).map(|by| match of(&row.expands) {
            Some(all) => format!("= {by} up to {hot}, {all} in all"),
            None => format!("= {by} up to {hot}"),
        }),
        false,
    );
    Block::Table(Table {
        columns: vec![column("figure", 0.4), column("is", 0.6)],
        rows,
    })
}

fn places(points: &[&Point], units: System) -> Block {
    let rows = points.iter().map(|point| {
        let kind = match point.kind {
            PointKind::Header => "header tank, cold mark",
            PointKind::Bleed => "bleed",
            PointKind::Drain => "drain",
            PointKind::HullValve => "hull valve",
            PointKind::Valve => "valve",
            PointKind::Consumer => "takes heat",
        };
        let place = point.on.as_ref().map(|on| format!("in {on}"));
        let place = place.or_else(|| point.reach.clone()).unwrap_or_default();
        let height = match (point.height, point.kind) {
            (Some(_), _) => cell(point.height_text.in_units(units)),
            // It lies wherever its run does.
            (None, PointKind::Valve) => cell("–"),
            (None, _) => vec![vec![Span::Grade(Grade::Unmeasured)]],
        };
        let stands = match (point.kind, point.shut) {
            (PointKind::HullValve | PointKind::Valve, true) => cell("shut"),
            (PointKind::HullValve | PointKind::Valve, false) => cell("open"),
            (PointKind::Drain, _) => cell("shut to fill"),
            (PointKind::Bleed, _) => cell("open to fill"),
            (PointKind::Header | PointKind::Consumer, _) => cell("–"),
        };
        vec![
            vec![vec![Span::Tick, bold(format!(" {}", point.key))]],
            cell(kind),
            cell(place),
            height,
            stands,
        ]
    });
    Block::Table(Table {
        columns: vec![
            column("place", 0.22),
            column("what", 0.22),
            column("where", 0.24),
            figures("height", 0.14),
            column("stands", 0.18),
        ],
        rows: rows.collect(),
    })
}

/// High and low spots, as the circuit judged them.
fn spots(circuit: &Circuit, units: System, warned: &mut Warned, blocks: &mut Vec<Block>) {
    let of_spot = |verdict: &&Verdict| {
        let rule = verdict.id.rsplit('.').next().unwrap_or_default();
        matches!(rule, "bleed" | "drain" | "bleeds" | "drains" | "heights")
    };
    let spots: Vec<&Verdict> = circuit.verdicts.iter().filter(of_spot).collect();
    if spots.is_empty() {
        return;
    }
    blocks.push(Block::Head("Where air stays, and where water stays".into()));
    for verdict in spots {
        blocks.extend(caution(verdict, warned));
        let mut spans = vec![
            Span::Grade(verdict.grade),
            bold(format!(" {}:", verdict.title)),
        ];
        spans.extend(reason(verdict, units));
        blocks.push(Block::Text(spans));
    }
}

/// The order of filling. What the file does not know is said so.
fn order(points: &[Point], blocks: &mut Vec<Block>) {
    let of = |kind: PointKind| -> Vec<&Point> {
        points.iter().filter(|point| point.kind == kind).collect()
    };
    let names = |points: &[&Point]| {
        let names: Vec<&str> = points.iter().map(|point| point.key.as_str()).collect();
        listed(&names)
    };
    let (bleeds, drains, headers) = (
        of(PointKind::Bleed),
        of(PointKind::Drain),
        of(PointKind::Header),
    );
    let mark = headers.iter().find(|point| point.height.is_some());
    let mark = mark.map_or_else(
        || "the cold mark".to_owned(),
        |point| format!("the cold mark of {}", point.key),
    );
    let open = if bleeds.is_empty() {
        "No bleed is written: loosen the hose or plug at each high spot above by a turn, a rag under it, engine cold.".to_owned()
    } else {
        format!("Open the bleeds: {}.", names(&bleeds))
    };
    let shut = if drains.is_empty() {
        "Shut every drain and plug.".to_owned()
    } else {
        format!("Shut every drain and plug: {}.", names(&drains))
    };
    let consumers = of(PointKind::Consumer);
    let mut valves = of(PointKind::Valve);
    valves.retain(|valve| !valve.shut);
    let beside = match (consumers.is_empty(), valves.is_empty()) {
        (true, true) => None,
        (true, false) => Some(format!("Open the valves: {}.", names(&valves))),
        (false, true) => Some(format!(
            "Open whatever shuts the loop of {}: shut, it stays full of air.",
            names(&consumers)
        )),
        (false, false) => Some(format!(
            "Open the valves: {}. Shut, the loop of {} stays full of air.",
            names(&valves),
            names(&consumers)
        )),
    };
    let mut steps = vec![shut];
    steps.extend(beside);
    steps.extend([
        open,
        "Pour the concentrate first, then the water: water that stayed inside thins whatever is poured as ready mix.".to_owned(),
        format!("Pour slowly at the header, a litre at a time, up to {mark}: poured fast with the thermostat shut, air is locked in below it."),
        bleeding(&bleeds),
        "Squeeze the hoses by hand from the low end upward; pour again.".to_owned(),
        "Run her at idle out of gear, cap as her maker says, until the thermostat opens: the hose to the cooler grows hot. No load before that.".to_owned(),
        "Stop if the needle jumps, falls to nothing or runs away: that is air. Let her cool, bleed, pour, begin again.".to_owned(),
        format!("When she is cold again, open the cap, pour the same mix up to {mark}, and look at every joint for a weep."),
        "Nip every clip once more, cold; write the litres and the strength below.".to_owned(),
    ]);
    let mut steps = steps
        .into_iter()
        .enumerate()
        .map(|(at, step)| Block::Tick(vec![bold(format!("{}. ", at + 1)), plain(step)]));
    // The head never stands on another page than the first step.
    let mut first = vec![
        Block::Head("In this order".into()),
        aside(format!(
            "The order is {PRACTICE}; the engine maker's own goes before it."
        )),
        Block::Caution(
            "The engine turns: keep hands, sleeves and hair from belt and pulleys while she runs."
                .into(),
        ),
    ];
    first.extend(steps.next());
    blocks.push(Block::Together(first));
    blocks.extend(steps);
}

/// In which order the bleeds are shut. One of which nobody knows how high it sits has no place in it.
fn bleeding(bleeds: &[&Point]) -> String {
    let begins = "Shut each bleed when it runs without bubbles, the lowest first";
    let (told, untold): (Vec<&Point>, Vec<&Point>) = bleeds
        .iter()
        .copied()
        .partition(|point| point.height.is_some());
    let names = |points: &[&Point]| {
        let names: Vec<&str> = points.iter().map(|point| point.key.as_str()).collect();
        listed(&names)
    };
    let order = if told.len() > 1 {
        let keys: Vec<&str> = told.iter().map(|point| point.key.as_str()).collect();
        format!(": {}", keys.join(", then "))
    } else {
        String::new()
    };
    if bleeds.len() > 1 && !untold.is_empty() {
        return format!(
            "{begins}{order}. The height of {} is unmeasured: watch it from the first.",
            names(&untold)
        );
    }
    format!("{begins}{order}.")
}

/// What is written down while it is done.
fn log(blocks: &mut Vec<Block>, units: System) {
    let (litres, cold) = match units {
        System::Metric => ("L", "°C"),
        System::Imperial => ("US gal", "°F"),
    };
    let line =
        |name: &str, unit: &str| vec![cell(name), vec![vec![Span::Empty(30.0, unit.to_owned())]]];
    blocks.push(Block::Together(vec![
        Block::Head("Write down".into()),
        Block::Table(Table {
            columns: vec![column("what", 0.55), column("write here", 0.45)],
            rows: vec![
                line("ran out when she was drained", litres),
                line("concentrate poured", litres),
                line("water poured", litres),
                line("topped up after the first run", litres),
                line("protects to, by refractometer", cold),
                line("date", ""),
                line("done by", ""),
            ],
        }),
        Block::Text(vec![soft(
            "What ran out and what went in tell the volume of the circuit: type it as `coolant.volume`.",
        )]),
    ]));
}
