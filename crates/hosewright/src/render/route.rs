//! Runs as they hang, and clips as a tool reaches them, as tables.

use quantity::{Length, System, show};
use reckon::{Grade, LaidClip, LaidPart, LayOrder, Route};

use super::heading;
use crate::text::{Column, Page, listed};

/// A length to whole millimetres.
fn mm(metres: f64, units: System) -> String {
    use quantity::Quantity as _;
    Length::from_si(metres).map_or_else(
        || "–".to_owned(),
        |length| show(length, Some(Length::mm(2.0)), units),
    )
}

/// All that was laid.
pub fn route(page: &mut Page, route: &Route, units: System) {
    if route.runs.is_empty() && route.missing.is_empty() {
        page.gap();
        page.paragraph(
            0,
            "Nothing of the bay is written: without places of the spigots no hose can be laid.",
        );
        return;
    }
    if !route.runs.is_empty() {
        heading(page, "As each hose hangs");
        let rows: Vec<Vec<String>> = route
            .runs
            .iter()
            .map(|run| {
                let cuts: Vec<String> = run
                    .parts
                    .iter()
                    .filter_map(|part| part.cut.map(|cut| mm(cut, units)))
                    .collect();
                let windows: Vec<String> = run
                    .parts
                    .iter()
                    .filter_map(|part| window(part, units))
                    .collect();
                vec![
                    run.mark.clone(),
                    run.run.clone(),
                    run.grade.word().to_owned(),
                    or_dash(cuts.join(" + ")),
                    // Each holds with the other hoses as they are.
                    or_dash(windows.join(" or ")),
                    run.bend
                        .as_ref()
                        .map_or_else(|| "–".to_owned(), |bend| mm(bend.radius, units)),
                    run.gap.as_ref().map_or_else(
                        || "–".to_owned(),
                        |gap| format!("{} to {}", mm(gap.gap, units), gap.with),
                    ),
                ]
            })
            .collect();
        page.table(
            0,
            &[
                Column::words(""),
                Column::words("run"),
                Column::words("grade"),
                Column::words("cut"),
                Column::words("bend and gaps hold"),
                Column::figures("least radius"),
                Column::words("nearest"),
            ],
            &rows,
        );
    }
    let swept = |clip: &LaidClip| clip.tool.is_some() || clip.grade != Grade::Unmeasured;
    if !route.clips.is_empty() && !route.clips.iter().any(swept) {
        page.gap();
        page.hanging(
            "",
            "  ",
            "Windows, tolerances and how each clip is reached were not looked at: they take longer.",
        );
    } else if !route.clips.is_empty() {
        heading(page, "How each clip is reached");
        let rows: Vec<Vec<String>> = route
            .clips
            .iter()
            .map(|clip| {
                vec![
                    clip.mark.clone(),
                    match clip.of {
                        1 => clip.joint.clone(),
                        of => format!("{} {} of {of}", clip.joint, clip.nth),
                    },
                    clip.grade.word().to_owned(),
                    clip.tool.clone().unwrap_or_else(|| "–".to_owned()),
                    clip.clock.clone().unwrap_or_else(|| "–".to_owned()),
                ]
            })
            .collect();
        page.table(
            0,
            &[
                Column::words(""),
                Column::words("joint"),
                Column::words("grade"),
                Column::words("tool"),
                Column::words("screw, seen from the open end"),
            ],
            &rows,
        );
        if route.clips.iter().any(|clip| clip.of > 1) {
            page.hanging(
                "",
                "  ",
                "Of several clips on one end the first is at the hose's end.",
            );
        }
    }
    match &route.order {
        Some(LayOrder::Works(order)) if order.len() > 1 => {
            page.gap();
            page.hanging(
                "",
                "  ",
                &format!(
                    "An order in which each clip is reached: {}.",
                    order.join(", ")
                ),
            );
        }
        Some(LayOrder::Blocked(blocked)) => {
            page.gap();
            page.hanging(
                "",
                "  ",
                &format!(
                    "No order reaches every clip: {} block one another.",
                    listed(blocked)
                ),
            );
        }
        _ => {}
    }
    for missing in &route.missing {
        page.gap();
        page.hanging(
            &format!("{} {}: ", missing.mark, missing.run),
            "  ",
            &format!("not laid, as {}. {}", missing.why, missing.settles.how),
        );
    }
}

fn or_dash(text: String) -> String {
    if text.is_empty() {
        "–".to_owned()
    } else {
        text
    }
}

fn window(part: &LaidPart, units: System) -> Option<String> {
    let (low, high) = part.window?;
    Some(format!("{} to {}", mm(low, units), mm(high, units)))
}
