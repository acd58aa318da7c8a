//! What to measure next, and the form to take along.

use quantity::System;
use reckon::{Entry, Holds, Next, SurveyBox, instrument};

use super::heading;
use crate::api::SurveyState;
use crate::files::Held;
use crate::text::Page;

/// The cautions at the head of what sends somebody into the bilge.
const CAUTIONS: [&str; 3] = [
    "Hot coolant is under pressure and scalds: touch cap, hose or clip only when the engine is cold.",
    "Hull fittings hold the sea out: while she is afloat look at them and measure them, undo nothing.",
    "Coolant with glycol is poison and tastes sweet: catch every drip, none into the bilge, and none where a child or an animal can get at it.",
];
const WHO_GOES_FIRST: &str =
    "Local rules and the work of licensed people go before anything on this page.";

/// How many of the ranked measurements the short state names.
const FIRST: usize = 3;

/// How it stands, and what to begin with.
pub fn state(page: &mut Page, state: SurveyState, next: &[Next], boat: &str) {
    counts(page, state);
    if !next.is_empty() {
        heading(page, "Measure first");
        for next in next.iter().take(FIRST) {
            missing(page, next);
        }
    }
    page.gap();
    if next.len() > FIRST {
        let all = next.len();
        page.hanging(
            "",
            "  ",
            &format!("`hosewright survey {boat} --next` lists all {all}, the best first."),
        );
    }
    if state.empty > 0 {
        page.hanging(
            "",
            "  ",
            &format!("`hosewright survey {boat} --blank` prints a form with the empty boxes."),
        );
    }
}

/// Every missing measurement, by where one stands.
pub fn next(page: &mut Page, state: SurveyState, next: &[Next]) {
    counts(page, state);
    if next.is_empty() {
        return;
    }
    page.gap();
    cautions(page);
    // The ranking stands from the best to the least, so that a station comes where its best does.
    let mut stations = Vec::new();
    for next in next {
        if !stations.contains(&&next.station) {
            stations.push(&next.station);
        }
    }
    for station in stations {
        heading(page, &station.title);
        for next in next.iter().filter(|next| next.station == *station) {
            missing(page, next);
        }
    }
}

fn counts(page: &mut Page, state: SurveyState) {
    let SurveyState {
        values,
        empty,
        waiting,
    } = state;
    let boxes = if empty == 1 {
        "1 box is empty".to_owned()
    } else {
        format!("{empty} boxes are empty")
    };
    let verdicts = if waiting == 1 {
        "1 verdict waits".to_owned()
    } else {
        format!("{waiting} verdicts wait")
    };
    let stand = if values == 1 {
        "1 value stands".to_owned()
    } else {
        format!("{values} values stand")
    };
    page.paragraph(
        0,
        &format!("{stand}, {boxes}, {verdicts} for a measurement."),
    );
}

fn missing(page: &mut Page, next: &Next) {
    let part = if next.part.is_empty() {
        String::new()
    } else {
        format!("{}: ", next.part)
    };
    let settles = match (next.settles(), next.tried) {
        (count, true) => format!("settles {count}"),
        // Without a trial only the verdicts that name it are known.
        (count, false) => format!("{count} name it"),
    };
    page.both_ends("▫ ", "  ", &format!("{part}{}", next.place), &settles);
    for how in &next.how {
        page.hanging("  → ", "    ", how);
    }
}

fn cautions(page: &mut Page) {
    for caution in CAUTIONS {
        page.hanging("┃ Caution: ", "┃ ", caution);
    }
    page.paragraph(0, WHO_GOES_FIRST);
}

/// The form: heading, cautions, what each box wants, and a block for each place with empty boxes.
pub fn blank(
    page: &mut Page,
    boat: Option<&str>,
    arrangement: Option<&str>,
    held: &Held,
    units: System,
    boxes: &[SurveyBox],
) {
    let name = boat.unwrap_or("a boat without a name");
    page.hanging("", "  ", &format!("SURVEY OF {name}"));
    page.gap();
    page.verbatim("Date [____________________]   Measured by [______________________________]");
    page.gap();
    let arrangement = arrangement.map_or_else(
        || "as the file stands".to_owned(),
        |name| format!("arrangement {name}"),
    );
    let count = match boxes.len() {
        0 => "no box is empty".to_owned(),
        1 => "1 box is empty".to_owned(),
        count => format!("{count} boxes are empty"),
    };
    page.paragraph(
        0,
        &format!(
            "For {} {}, {arrangement}: {count}.",
            held.shown(),
            held.hash.short()
        ),
    );
    if boxes.is_empty() {
        return;
    }
    page.gap();
    cautions(page);
    page.gap();
    page.paragraph(
        0,
        "Write what you read, and after ± how far off it may be. Write ? where you looked and could not tell. Leave empty what you did not get at. Type each value into the file with its unit, at the place that stands at the right.",
    );
    legend(page, boxes);
    let mut station = None;
    let mut part = "";
    for own in boxes {
        if station != Some(&own.station) {
            page.gap();
            page.both_ends("", "  ", &own.station.title, &own.station.place);
            (station, part) = (Some(&own.station), "");
        }
        if own.part != part {
            let place = own.place.strip_suffix(&format!(".{}", own.name));
            let place = place.unwrap_or(&own.place);
            page.both_ends("  ", "    ", &own.part, place);
            part = &own.part;
        }
        line(page, own, units);
    }
}

/// What each box wants, once.
fn legend(page: &mut Page, boxes: &[SurveyBox]) {
    page.gap();
    let mut said: Vec<(&str, &str)> = Vec::new();
    for own in boxes {
        if said.contains(&(&own.name, &own.says)) {
            continue;
        }
        said.push((&own.name, &own.says));
        let with = own
            .instrument
            .map_or_else(String::new, |with| format!(" With {}.", instrument(with)));
        page.hanging(
            &format!("{:<12} ", own.name),
            &" ".repeat(13),
            &format!("{}{with}", own.says),
        );
    }
}

/// One box: `od .............. [_______] mm  ± [____]`.
fn line(page: &mut Page, own: &SurveyBox, units: System) {
    let [length, pressure, temperature] = match units {
        System::Metric => ["mm", "bar", "°C"],
        System::Imperial => ["in", "psi", "°F"],
    };
    let measured = |unit: &str| format!("[_________] {unit}  ± [_____]");
    let entry = match own.entry {
        Entry::Length => measured(length),
        Entry::Temperature => measured(temperature),
        Entry::Pressure => format!("[_________] {pressure}"),
        Entry::PressureAtTemperature => {
            format!("[_________] {pressure} @ [______] {temperature}")
        }
        Entry::Number => "[_________]".to_owned(),
        Entry::Text => format!("[{}]", "_".repeat(48)),
    };
    let dots = ".".repeat(20_usize.saturating_sub(own.name.chars().count()));
    page.verbatim(&format!("    {} {dots} {entry}", own.name));
    let why = match own.holds {
        Holds::Unknown => "looked: could not tell",
        Holds::TwoReadings => "two readings differ: measure again, write one",
        Holds::Value | Holds::Nothing => return,
    };
    page.hanging("      ", "      ", why);
}
