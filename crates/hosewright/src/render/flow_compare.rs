//! Two arrangements beside one another: the states, the parts, and the few changes that buy most.

use quantity::System;
use reckon::{Change, Compared, ComparedState};

use super::flow::Parts;
use super::heading;
use crate::figure::{Figure, head, named};
use crate::text::{Column, Page};

/// How many parts are listed where not all of them are asked for.
const PARTS: usize = 8;

/// An arrangement in words.
pub fn side(name: Option<&str>) -> &str {
    name.unwrap_or("as it stands")
}

/// The whole comparison, without its head.
pub fn compared(page: &mut Page, compared: &Compared, units: System, parts: Parts) {
    let sides = [
        side(compared.one.as_deref()),
        side(compared.other.as_deref()),
    ];
    if compared.states.is_empty() {
        page.gap();
        page.paragraph(
            0,
            "No state has figures in both; `hosewright flow` with each of them says what is missing.",
        );
        return;
    }
    states(page, compared, sides, units);
    for state in &compared.states {
        heads(page, compared, state, sides, units, parts);
    }
    changes(page, &compared.changes, units);
}

fn name(compared: &Compared, state: &ComparedState) -> String {
    let twice = compared
        .states
        .iter()
        .filter(|other| other.key == state.key)
        .count()
        > 1;
    named(&state.key, twice.then_some(state.duty))
}

/// Two rows a state.
fn states(page: &mut Page, compared: &Compared, sides: [&str; 2], units: System) {
    page.gap();
    let columns = [
        Column::words("state").at_most(18),
        Column::words("arrangement").at_most(14),
        Column::figures(head(units, "flow\nL/min", "flow US\ngal/min")),
        Column::figures(head(units, "cooled\nL/min", "cooled US\ngal/min")),
        Column::figures(head(units, "engine\nout °C", "engine\nout °F")),
        Column::figures(head(units, "back\n°C", "back\n°F")),
        Column::figures("stat\nopen %"),
        Column::figures(head(units, "inlet\nmbar", "inlet\npsi")),
    ];
    let mut rows: Vec<Vec<String>> = Vec::new();
    for state in &compared.states {
        for (at, side) in sides.iter().enumerate() {
            rows.push(vec![
                if at == 0 {
                    name(compared, state)
                } else {
                    String::new()
                },
                (*side).to_owned(),
                Figure::Flow.bare(state.flows[at], units),
                Figure::Flow.bare(state.cooled[at], units),
                Figure::Temperature.bare(state.out[at], units),
                Figure::Temperature.bare(state.back[at], units),
                Figure::Share.bare_or(state.lift[at], units),
                Figure::Pressure.bare(state.suction[at], units),
            ]);
        }
    }
    page.table(0, &columns, &rows);
    page.hanging(
        "  ",
        "    ",
        "Inlet: static pressure where the pump sucks, the cap holding nothing.",
    );
}

/// What each part loses in both, the greatest change first.
fn heads(
    page: &mut Page,
    compared: &Compared,
    state: &ComparedState,
    sides: [&str; 2],
    units: System,
    parts: Parts,
) {
    if state.heads.is_empty() {
        return;
    }
    heading(
        page,
        &format!(
            "Where the head goes: {}, {}",
            name(compared, state),
            head(units, "mbar", "psi")
        ),
    );
    let shown = parts.most(PARTS);
    // The heads of these columns are names of the owner's, so that they stand as the first row.
    let mut rows = vec![vec![
        "part".to_owned(),
        sides[0].to_owned(),
        sides[1].to_owned(),
    ]];
    rows.extend(state.heads.iter().take(shown).map(|row| {
        vec![
            row.title.clone(),
            Figure::Pressure.bare_or(row.drops[0], units),
            Figure::Pressure.bare_or(row.drops[1], units),
        ]
    }));
    let columns = [
        Column::words("").at_most(44),
        Column::figures("").at_most(14),
        Column::figures("").at_most(14),
    ];
    page.table(0, &columns, &rows);
    if state
        .heads
        .iter()
        .take(shown)
        .any(|row| row.drops.iter().flatten().any(|drop| *drop < 0.0))
    {
        page.hanging("  ", "    ", "Below nought stands what the pump gives.");
    }
    let rest = state.heads.len().saturating_sub(shown);
    if rest > 0 {
        let told = match rest {
            1 => "1 part more changes less: --all lists it.".to_owned(),
            count => format!("{count} parts more change less: --all lists them."),
        };
        page.hanging("  ", "    ", &told);
    }
}

/// The few changes that buy most.
fn changes(page: &mut Page, changes: &[Change], units: System) {
    if changes.is_empty() {
        return;
    }
    heading(page, "What buys most, each tried by itself");
    for change in changes {
        page.hanging(
            "  – ",
            "    ",
            &format!(
                "{}: {} through the coolers, engine out {}, in {}",
                change.what.in_units(units),
                signed(Figure::Flow.text(change.flow_gain, units)),
                cooler(change.out_gain, units),
                change.state
            ),
        );
    }
}

/// A gain with its sign.
fn signed(text: String) -> String {
    let nought = !text.contains(|digit: char| ('1'..='9').contains(&digit));
    if nought || text.starts_with('−') {
        text
    } else {
        format!("+{text}")
    }
}

/// A gain of temperature in words: `1.3 °C cooler`.
fn cooler(gain: f64, units: System) -> String {
    let text = Figure::Rise.text(gain.abs(), units);
    let nought = !text.contains(|digit: char| ('1'..='9').contains(&digit));
    if nought {
        "as before".to_owned()
    } else if gain > 0.0 {
        format!("{text} cooler")
    } else {
        format!("{text} warmer")
    }
}
