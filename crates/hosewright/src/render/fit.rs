//! The table of joints, and one joint by itself.

use quantity::System;
use reckon::{JointRow, Number};

use crate::text::{Column, Page};

/// Every joint on a line.
pub fn table(page: &mut Page, rows: &[JointRow], units: System) {
    if rows.is_empty() {
        page.gap();
        page.paragraph(0, "The file tells of no joint yet: a run with two ends makes two.");
        return;
    }
    let columns = [
        Column::words("mark"),
        Column::words("joint").at_most(14),
        Column::figures("spigot"),
        Column::words("hose").at_most(9),
        Column::figures("stretch"),
        Column::figures("over it"),
        Column::words("clip").at_most(12),
        Column::figures("holds"),
        Column::figures("push"),
        Column::figures("torque"),
    ];
    let lines: Vec<Vec<String>> = rows.iter().map(|row| line(row, units)).collect();
    page.gap();
    page.table(0, &columns, &lines);
}

fn line(row: &JointRow, units: System) -> Vec<String> {
    let figure = |number: &Option<Number>| number.as_ref().map_or_else(dash, |number| number.text.in_units(units).into());
    vec![
        row.mark.clone(),
        row.joint.clone(),
        figure(&row.spigot),
        row.hose.clone(),
        figure(&row.stretch),
        fitted(row, units),
        clip(row),
        row.chance.map_or_else(dash, |chance| format!("{:.0}", chance * 100.0)),
        figure(&row.push_on),
        torque(row, units),
    ]
}

fn torque(row: &JointRow, units: System) -> String {
    row.torque.as_ref().map_or_else(dash, |torque| torque.in_units(units).to_owned())
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
        (Some((low, unit)), Some((high, same))) if unit == same => format!("{low} to {high} {unit}"),
        _ => format!("{low} to {high}"),
    }
}

/// One joint, a line a figure.
pub fn one(page: &mut Page, row: &JointRow, units: System) {
    let figure = |number: &Option<Number>| number.as_ref().map_or_else(dash, |number| number.text.in_units(units).into());
    let rows = [
        ("spigot", figure(&row.spigot)),
        ("hose", row.hose.clone()),
        ("stretch", figure(&row.stretch)),
        ("hose over it", fitted(row, units)),
        ("clip", clip(row)),
        ("push-on mark", figure(&row.push_on)),
        ("torque", torque(row, units)),
    ];
    let rows: Vec<Vec<String>> = rows.into_iter().map(|(name, value)| vec![name.to_owned(), value]).collect();
    page.table(0, &[Column::words(""), Column::words("")], &rows);
}
