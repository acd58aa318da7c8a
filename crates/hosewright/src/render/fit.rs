//! The table of joints, and one joint by itself.

use quantity::System;
use reckon::{JointRow, Number};

use super::{grade_shape, grade_word, heading};
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
    // Two tables: ten figures do not stand side by side in 80 columns, and a figure cut in two can't be read.
    heading(page, "What goes on what");
    let columns = [
        Column::words("mark"),
        Column::words("joint"),
        Column::words("hose").at_most(14),
        Column::figures("spigot"),
        Column::figures("stretch"),
        Column::figures("over it"),
    ];
    let lines: Vec<Vec<String>> = rows.iter().map(|row| pairing(row, units)).collect();
    page.table(0, &columns, &lines);

    heading(page, "How it is made up");
    let columns = [
        Column::words("mark"),
        Column::words("clip"),
        Column::figures("holds in 100"),
        Column::figures("push on"),
        Column::figures("torque"),
        Column::words("verdicts"),
    ];
    let lines: Vec<Vec<String>> = rows.iter().map(|row| making_up(row, units)).collect();
    page.table(0, &columns, &lines);
}

fn figure(number: &Option<Number>, units: System) -> String {
    number
        .as_ref()
        .map_or_else(dash, |number| number.text.in_units(units).into())
}

fn pairing(row: &JointRow, units: System) -> Vec<String> {
    let hose = row.hose.strip_prefix("hose ").unwrap_or(&row.hose);
    vec![
        row.mark.clone(),
        row.joint.clone(),
        hose.to_owned(),
        figure(&row.spigot, units),
        figure(&row.stretch, units),
        fitted(row, units),
    ]
}

fn making_up(row: &JointRow, units: System) -> Vec<String> {
    vec![
        row.mark.clone(),
        clip(row),
        row.chance.map_or_else(dash, holds),
        figure(&row.push_on, units),
        torque(row, units),
        format!("{} {}", grade_shape(row.grade), grade_word(row.grade)),
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
                format!("{low} to {high} {unit}")
            }
        }
        _ => format!("{low} to {high}"),
    }
}

/// One joint, a line a figure.
pub fn one(page: &mut Page, row: &JointRow, units: System) {
    let rows = [
        ("spigot", figure(&row.spigot, units)),
        ("hose", row.hose.clone()),
        ("stretch", figure(&row.stretch, units)),
        ("hose over it", fitted(row, units)),
        ("clip", clip(row)),
        ("push-on mark", figure(&row.push_on, units)),
        ("torque", torque(row, units)),
    ];
    let rows: Vec<Vec<String>> = rows
        .into_iter()
        .map(|(name, value)| vec![name.to_owned(), value])
        .collect();
    page.table(0, &[Column::words(""), Column::words("")], &rows);
}
