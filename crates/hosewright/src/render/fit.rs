//! The table of joints, and one joint by itself.

use quantity::System;
use reckon::{JointRow, Number};

use crate::text::{Column, Page};

/// Every joint on a line.
pub fn table(page: &mut Page, rows: &[JointRow], units: System) {
    if rows.is_empty() {
        page.gap();
        page.paragraph(
            0,
            "The file tells of no joint yet: a run with two ends makes two.",
        );
        return;
    }
    // Two lines a joint: ten figures don't stand side by side in 80 columns, and a figure cut in two can't be read.
    let columns = [
        Column::words("mark"),
        Column::words("joint\nhose").at_most(15),
        Column::figures("spigot\npush on"),
        Column::figures("stretch"),
        Column::figures("over it"),
        Column::words("clip\ntorque").at_most(18),
        Column::figures("holds"),
    ];
    let lines: Vec<Vec<String>> = rows.iter().map(|row| line(row, units)).collect();
    page.gap();
    page.table(0, &columns, &lines);
}

fn line(row: &JointRow, units: System) -> Vec<String> {
    let figure = |number: &Option<Number>| {
        number
            .as_ref()
            .map_or_else(dash, |number| number.text.in_units(units).into())
    };
    let hose = row.hose.strip_prefix("hose ").unwrap_or(&row.hose);
    vec![
        row.mark.clone(),
        format!("{}\n{hose}", row.joint),
        format!("{}\n{}", figure(&row.spigot), figure(&row.push_on)),
        figure(&row.stretch),
        fitted(row, units),
        format!("{}\n{}", clip(row), torque(row, units)),
        row.chance.map_or_else(dash, holds),
    ]
}

/// In how many of 100 the clip holds, never rounded up to certain or down to hopeless.
fn holds(chance: f64) -> String {
    let shown = quantity::show_chance(chance);
    let count = shown.strip_suffix(" in 100").unwrap_or(&shown);
    count.replace("over ", "> ").replace("under ", "< ")
}

fn torque(row: &JointRow, units: System) -> String {
    row.torque
        .as_ref()
        .map_or_else(dash, |torque| torque.in_units(units).to_owned())
}

fn fitted(row: &JointRow, units: System) -> String {
    match (&row.fitted_low, &row.fitted_high) {
        (Some(low), Some(high)) => range(low, high, units),
        _ => dash(),
    }
}

/// What isn't known has a mark of its own, so that no cell looks forgotten.
fn dash() -> String {
    "–".into()
}

fn clip(row: &JointRow) -> String {
    match &row.clip {
        Some(clip) => match row.clips {
            Some(clips) if clips > 1 => format!("{clips} × {clip}"),
            _ => clip.clone(),
        },
        None => dash(),
    }
}

fn range(low: &Number, high: &Number, units: System) -> String {
    let (low, high) = (low.text.in_units(units), high.text.in_units(units));
    match (low.rsplit_once(' '), high.rsplit_once(' ')) {
        (Some((low, unit)), Some((high, same))) if unit == same => {
            if low == high {
                format!("{low} {unit}")
            } else {
                format!("{low}–{high} {unit}")
            }
        }
        _ => format!("{low}–{high}"),
    }
}

/// One joint, a line a figure.
pub fn one(page: &mut Page, row: &JointRow, units: System) {
    let figure = |number: &Option<Number>| {
        number
            .as_ref()
            .map_or_else(dash, |number| number.text.in_units(units).into())
    };
    let rows = [
        ("spigot", figure(&row.spigot)),
        ("hose", row.hose.clone()),
        ("stretch", figure(&row.stretch)),
        ("hose over it", fitted(row, units)),
        ("clip", clip(row)),
        ("push-on mark", figure(&row.push_on)),
        ("torque", torque(row, units)),
    ];
    let rows: Vec<Vec<String>> = rows
        .into_iter()
        .map(|(name, value)| vec![name.to_owned(), value])
        .collect();
    page.table(0, &[Column::words(""), Column::words("")], &rows);
}
