//! Where the spigots are, by tape.

use quantity::{Length, Quantity, System, show, show_signed};
use reckon::{Grade, Standing, Surveyed, Verdict};

use super::{grade_shape, heading};
use crate::text::{Column, Page};

/// Rules of the survey by tape that concern it as a whole.
const OF_ALL: [&str; 5] = ["slip", "agree", "level", "side", "reading"];

/// The places with what they may be off, where spigots point, and what is wrong with the tapes.
pub fn places(page: &mut Page, surveyed: &Surveyed, verdicts: &[Verdict], units: System) {
    heading(page, "Where the spigots are, by tape");
    let pins: Vec<&str> = surveyed
        .places
        .iter()
        .filter(|place| place.part.is_none())
        .map(|place| place.name.as_str())
        .take(2)
        .collect();
    if let [first, second] = pins.as_slice() {
        let up = if surveyed.level {
            "up from today's waterline"
        } else {
            "up from the plane of the pins"
        };
        page.paragraph(
            0,
            &format!("Along: from {first} towards {second}. Left: of that line. Up: {up}. ±: it surely lies within."),
        );
    }
    let mut columns = vec![
        Column::words("place"),
        Column::figures("along"),
        Column::figures("left"),
        Column::figures("up"),
        Column::figures("±"),
    ];
    let doubts = surveyed
        .places
        .iter()
        .any(|place| place.standing != Standing::Settled);
    if doubts {
        columns.push(Column::words(""));
    }
    let whole = |metres: f64| signed(metres, units);
    let rows: Vec<Vec<String>> = surveyed
        .places
        .iter()
        .map(|place| {
            let half = place.half.iter().copied().fold(0.0, f64::max);
            let mut row = vec![
                place.name.clone(),
                whole(place.at[0]),
                whole(place.at[1]),
                whole(place.at[2]),
                // While a reading is in doubt no width is sure.
                if place.standing == Standing::Doubtful {
                    "–".to_owned()
                } else {
                    width(half, units)
                },
            ];
            if doubts {
                let word = match place.standing {
                    Standing::Settled => "",
                    Standing::Mirrored => "or mirrored",
                    Standing::Doubtful => "in doubt",
                };
                row.push(word.to_owned());
            }
            row
        })
        .collect();
    page.table(0, &columns, &rows);
    if !surveyed.axes.is_empty() {
        page.gap();
        let columns = [
            Column::words("spigot"),
            Column::figures("points up by"),
            Column::figures("±"),
            Column::words("by"),
        ];
        let rows: Vec<Vec<String>> = surveyed
            .axes
            .iter()
            .map(|axis| {
                let rises = axis.towards[2].clamp(-1.0, 1.0).asin().to_degrees();
                vec![
                    axis.of.clone(),
                    format!("{rises:.0}°")
                        .replace('-', "\u{2212}")
                        .replace("\u{2212}0°", "0°"),
                    format!("{:.1}°", axis.half.to_degrees()),
                    if axis.by_dowel { "dowel" } else { "stub" }.to_owned(),
                ]
            })
            .collect();
        page.table(0, &columns, &rows);
    }
    let of_all = |verdict: &&Verdict| {
        verdict.id.starts_with("survey.")
            && OF_ALL
                .iter()
                .any(|rule| verdict.id.ends_with(&format!(".{rule}")))
    };
    for verdict in verdicts.iter().filter(of_all) {
        page.gap();
        let shape = format!("{} ", grade_shape(verdict.grade));
        page.hanging(&shape, "  ", verdict.because.in_units(units));
        if verdict.grade != Grade::Sound {
            page.hanging("  → ", "    ", verdict.remedy.in_units(units));
        }
    }
}

fn signed(metres: f64, units: System) -> String {
    Length::from_si(metres).map_or_else(
        || "–".to_owned(),
        |length| show_signed(length, Some(Length::mm(2.0)), units),
    )
}

fn width(metres: f64, units: System) -> String {
    Length::from_si(metres).map_or_else(
        || "–".to_owned(),
        |length| show(length, Some(Length::mm(2.0)), units),
    )
}
