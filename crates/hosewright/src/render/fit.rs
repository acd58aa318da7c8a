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
        row.fitted.as_ref().map_or_else(dash, |(low, high)| range(low, high, units)),
        clip(row),
        row.chance.map_or_else(dash, |chance| format!("{:.0}", chance * 100.0)),
        figure(&row.insertion),
        figure(&row.torque),
    ]
}

/// What isn't known has a mark of its own, so that no cell looks forgotten.
fn dash() -> String {
    "–".into()
}

fn clip(row: &JointRow) -> String {
    match &row.clip {
        Some(clip) if row.clips > 1 => format!("{} × {clip}", row.clips),
        Some(clip) => clip.clone(),
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
        ("fitted diameter", row.fitted.as_ref().map_or_else(dash, |(low, high)| range(low, high, units))),
        ("clip", clip(row)),
        ("push-on mark", figure(&row.insertion)),
        ("torque", figure(&row.torque)),
    ];
    let rows: Vec<Vec<String>> = rows.into_iter().map(|(name, value)| vec![name.to_owned(), value]).collect();
    page.table(0, &[Column::words(""), Column::words("")], &rows);
}
