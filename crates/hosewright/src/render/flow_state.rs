//! One state in full: every part with its flow and loss, every place with its pressure.

use quantity::System;
use reckon::stages::flow::{Figures, FlowRow, ItemRow, PlaceRow, RawRow, StateRow};

use super::flow::{came, cooler_table, until};
use super::{Manner, heading};
use crate::figure::{Figure, NONE, head, state_name};
use crate::text::{Column, Page};

/// All that is known of the states at hand.
pub fn states(page: &mut Page, row: &FlowRow, manner: &Manner) {
    for state in &row.states {
        self::state(page, row, state, manner.units);
    }
}

fn state(page: &mut Page, row: &FlowRow, state: &StateRow, units: System) {
    heading(page, &format!("State {}", state_name(&row.states, state)));
    let mut rows = vec![
        vec![
            "engine".to_owned(),
            format!(
                "{}, {} at the shaft",
                Figure::Revs.text(state.revs, units),
                Figure::Heat.text(state.power, units)
            ),
        ],
        vec![
            "water past her".to_owned(),
            Figure::Way.text(state.speed, units),
        ],
        vec!["sea".to_owned(), Figure::Temperature.text(state.sea, units)],
        vec![
            "heat".to_owned(),
            if state.heat_from.is_empty() {
                Figure::Heat.span(state.heat, units)
            } else {
                format!(
                    "{}, by: {}",
                    Figure::Heat.span(state.heat, units),
                    state.heat_from
                )
            },
        ],
    ];
    if let Some(figures) = state.came.steady() {
        rows.extend(headline(figures, units));
    }
    page.table(0, &[Column::words(""), Column::words("")], &rows);
    if let Some(told) = came(state) {
        page.hanging("  – ", "    ", &told);
    }
    if let Some(figures) = state.came.steady() {
        items(page, row, figures, units);
        places(page, &figures.places, units);
        if !figures.coolers.is_empty() {
            heading(page, "Coolers");
            cooler_table(page, &figures.coolers, units);
        }
        if let Some(raw) = &figures.raw {
            raw_side(page, raw, units);
        }
        for standing in &figures.standing {
            page.hanging("  – ", "    ", &format!("stands still: {standing}"));
        }
    }
}

/// The raw water, joint by joint from the sea.
fn raw_side(page: &mut Page, raw: &RawRow, units: System) {
    heading(
        page,
        "Raw water, from the sea outward: pressure over the air",
    );
    let columns = [
        Column::words("place").at_most(30),
        Column::figures(head(units, "height\nmm", "height\nin")),
        Column::figures(head(units, "pressure\nkPa", "pressure\npsi")),
        Column::figures(head(units, "water\n°C", "water\n°F")),
    ];
    let rows: Vec<Vec<String>> = raw
        .places
        .iter()
        .map(|place| {
            vec![
                place.title.clone(),
                Figure::Height.bare_or(place.height, units),
                Figure::Pressure.bare_or(place.pressure, units),
                Figure::Temperature.bare(place.temperature, units),
            ]
        })
        .collect();
    page.table(0, &columns, &rows);
    if let Some(gives) = raw.gives.filter(|_| raw.bucket) {
        page.hanging(
            "  – ",
            "    ",
            &format!(
                "{} by the bucket; the sheet of the pump gives {} at this speed",
                Figure::Flow.text(raw.flow, units),
                Figure::Flow.text(gives, units)
            ),
        );
    }
    for missing in &raw.missing {
        let told = format!("{} {}", missing.why, missing.settles.how);
        page.hanging("  – ", "    ", &told);
    }
}

/// The figures of the circuit as a whole.
fn headline(figures: &Figures, units: System) -> Vec<Vec<String>> {
    let row = |name: &str, told: String| vec![name.to_owned(), told];
    let lift = match figures.lift {
        Some(lift) => Figure::Share.span(lift, units),
        None => "no thermostat".to_owned(),
    };
    let mut rows = vec![
        row("engine out", Figure::Temperature.span(figures.out, units)),
        row("back", Figure::Temperature.span(figures.back, units)),
        row("stat open", lift),
        row(
            "flow",
            format!(
                "{} through the engine, {} through the coolers",
                Figure::Flow.text(figures.flow, units),
                Figure::Flow.text(figures.cooled, units)
            ),
        ),
        row(
            "pump",
            format!(
                "gives {}; at its inlet {}, {} over boiling there, the cap holding nothing",
                Figure::Pressure.text(figures.pump, units),
                Figure::Pressure.text(figures.suction, units),
                Figure::Pressure.text(figures.suction_over_boiling, units)
            ),
        ),
    ];
    if let Some((spot, hottest, open, capped)) = &figures.hottest {
        let temperature = |celsius: f64| Figure::Temperature.text(celsius, units);
        let under = match capped {
            Some(capped) => format!(", under the cap at {}", temperature(*capped)),
            None => String::new(),
        };
        rows.push(row(
            "hottest",
            format!(
                "{} in {spot}; it boils there at {} without a cap{under}",
                temperature(*hottest),
                temperature(*open)
            ),
        ));
    }
    if let Some(reserve) = figures.reserve {
        rows.push(row(
            "could shed",
            format!(
                "{} of this heat with the thermostat fully open",
                Figure::Share.text(reserve, units)
            ),
        ));
    }
    if let Some(uncooled) = &figures.uncooled {
        let told = until(uncooled);
        if !told.is_empty() {
            rows.push(row(
                "uncooled",
                format!(
                    "{}, were no heat shed any more at this power and the coolant ran on; what the metal takes up is not counted",
                    told.join(", ")
                ),
            ));
        }
    }
    for (by, share) in &figures.stolen {
        rows.push(row(
            "past no cooler",
            format!(
                "{} of the engine's flow, by {by}",
                Figure::Share.text(*share, units)
            ),
        ));
    }
    rows
}

/// Whether a typical value stands in for what a part loses.
fn is_assumed(row: &FlowRow, figures: &Figures, item: &ItemRow) -> bool {
    let cools = figures
        .coolers
        .iter()
        .any(|cooler| cooler.subject == item.subject);
    // What the raw water loses in an exchanger has a key of its own.
    let key = if item.raw && cools {
        "raw_drop"
    } else {
        "drop"
    };
    let place = format!("{}.{key}", item.place);
    row.assumed.iter().any(|assumed| assumed.place == place)
}

/// Every part, in the order of flow.
fn items(page: &mut Page, row: &FlowRow, figures: &Figures, units: System) {
    let items = &figures.items;
    if items.is_empty() {
        return;
    }
    heading(page, "Every part, in order of flow; branches after");
    let columns = [
        Column::words("part").at_most(30),
        Column::figures(head(units, "flow\nL/min", "flow\nUS gal\n/min")),
        Column::figures(head(units, "loses\nkPa", "loses\npsi")),
        Column::figures(head(units, "in\n°C", "in\n°F")),
        Column::figures(head(units, "out\n°C", "out\n°F")),
        Column::figures(head(units, "speed\nm/s", "speed\nft/s")),
        Column::figures("Re"),
    ];
    let rows: Vec<Vec<String>> = items
        .iter()
        .map(|item| {
            let raw = if item.raw { ", raw water" } else { "" };
            let loses = Figure::Pressure.bare(item.drop, units);
            vec![
                format!("{}{raw}", item.title),
                Figure::Flow.bare(item.flow, units),
                if is_assumed(row, figures, item) {
                    format!("({loses})")
                } else {
                    loses
                },
                Figure::Temperature.bare(item.temperatures[0], units),
                Figure::Temperature.bare(item.temperatures[1], units),
                Figure::Speed.bare_or(item.speed, units),
                Figure::Reynolds.bare_or(item.reynolds, units),
            ]
        })
        .collect();
    page.table(0, &columns, &rows);
    let pumped = items.iter().any(|item| item.drop < 0.0);
    let backward = items.iter().any(|item| item.flow < 0.0);
    if items.iter().any(|item| is_assumed(row, figures, item)) {
        page.hanging(
            "  ",
            "    ",
            "A loss in brackets is by a typical value, as nobody measured it.",
        );
    }
    if pumped {
        page.hanging("  ", "    ", "A loss below nought is what the pump gives.");
    }
    if backward {
        page.hanging(
            "  ",
            "    ",
            "A flow below nought runs against the order in which the file has it.",
        );
    }
}

/// Every joint and port, in the same order.
fn places(page: &mut Page, places: &[PlaceRow], units: System) {
    if places.is_empty() {
        return;
    }
    heading(page, "Every place: pressure over the air");
    let rated = places.iter().any(|place| place.rated.is_some());
    let mut columns = vec![
        Column::words("place").at_most(26),
        Column::figures(head(units, "along\nm", "along\nft")),
        Column::figures(head(units, "height\nmm", "height\nin")),
        Column::figures(head(units, "capped\nkPa", "capped\npsi")),
        Column::figures(head(units, "open\nkPa", "open\npsi")),
        Column::figures(head(units, "water\n°C", "water\n°F")),
        Column::figures(head(units, "boils\n°C", "boils\n°F")),
    ];
    if rated {
        columns.push(Column::figures(head(units, "stands\nkPa", "stands\npsi")));
    }
    let rows: Vec<Vec<String>> = places
        .iter()
        .map(|place| {
            let mut row = vec![
                place.title.clone(),
                Figure::Along.bare_or(place.along, units),
                Figure::Height.bare(place.height, units),
                Figure::Pressure.bare_or(place.capped, units),
                Figure::Pressure.bare(place.open, units),
                Figure::Temperature.bare(place.temperature, units),
                Figure::Temperature.bare_or(place.boils, units),
            ];
            if rated {
                row.push(place.rated.as_ref().map_or_else(
                    || NONE.to_owned(),
                    |(stands, _)| Figure::Pressure.bare(*stands, units),
                ));
            }
            row
        })
        .collect();
    page.table(0, &columns, &rows);
    page.hanging(
        "  ",
        "    ",
        "Capped: the cap at its setting. Open, and boils: the cap holding nothing.",
    );
}
