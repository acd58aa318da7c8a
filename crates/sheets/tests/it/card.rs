//! The card to get home by: sides of half a sheet, large type, nothing run over, this boat's own valves.

use quantity::System;
use reckon::Card;
use sheets::doc::{Block, Head, Paper, Sheet, lay};
use sheets::draw::{Face, Picture, Shape, check};
use sheets::sheet;

const BOATS: [(&str, &str); 3] = [
    ("dunlin", include_str!("../../../../boats/dunlin/boat.toml")),
    (
        "tansley",
        include_str!("../../../../boats/tansley/boat.toml"),
    ),
    ("wenna", include_str!("../../../../boats/wenna/boat.toml")),
];
/// A point of type in px.
const POINT: f64 = 96.0 / 72.0;

fn card(file: &str) -> Card {
    let (boat, _, _) = boat::read(file);
    let flow = reckon::flow(&boat, Some("after"));
    reckon::card(&boat, Some("after"), flow.as_ref(), None)
        .expect("every demo boat has that arrangement")
}

fn head(paper: Paper) -> Head {
    Head {
        boat: "A boat with quite a long name".into(),
        arrangement: "after".into(),
        date: "2027-03-14".into(),
        hash: "0123abcd".into(),
        paper,
    }
}

fn pictures(sheet: &Sheet) -> Vec<&Picture> {
    sheet
        .blocks
        .iter()
        .filter_map(|block| match block {
            Block::Picture(picture) => Some(picture),
            _ => None,
        })
        .collect()
}

/// Size, face and words of each text.
fn texts(picture: &Picture) -> Vec<(f64, Face, &str)> {
    picture
        .placed
        .iter()
        .filter_map(|placed| match &placed.shape {
            Shape::Text {
                size, face, text, ..
            } => Some((*size, *face, text.as_str())),
            _ => None,
        })
        .collect()
}

#[test]
fn nothing_runs_over_on_either_paper_in_either_units() {
    for (name, file) in BOATS {
        let card = card(file);
        for paper in [Paper::A4, Paper::Letter] {
            for units in [System::Metric, System::Imperial] {
                let head = head(paper);
                let sheet = sheet::card(&card, &head, units);
                let pages = lay(&sheet, &head);
                // A picture a page: none was pushed on to a page of its own.
                assert_eq!(pages.len(), pictures(&sheet).len(), "{name} {paper:?}");
                assert!(pages.len() <= 3, "{name} {paper:?}: {} pages", pages.len());
                for page in &pages {
                    for faults in [
                        check::overlaps(page),
                        check::cut_off(page),
                        check::missing(page),
                    ] {
                        assert!(faults.is_empty(), "{name} {paper:?} {units:?}: {faults:?}");
                    }
                }
            }
        }
    }
}

#[test]
fn first_lines_are_24_points_and_none_is_under_14() {
    for (name, file) in BOATS {
        let sheet = sheet::card(&card(file), &head(Paper::A4), System::Metric);
        for (at, picture) in pictures(&sheet).into_iter().enumerate() {
            let texts = texts(picture);
            for (size, _, text) in &texts {
                assert!(*size >= 14.0 * POINT - 0.01, "{name}: {text} at {size}");
            }
            let large: Vec<&str> = texts
                .iter()
                .filter(|(size, _, _)| (*size - 24.0 * POINT).abs() < 0.01)
                .map(|(_, _, text)| *text)
                .collect();
            if at == 0 {
                let all = large.join(" ");
                assert!(all.ends_with("Do not open the cap."), "{name}: {all}");
                assert!(all.contains("stop."), "{name}: {all}");
            } else {
                assert!(large.is_empty(), "{name}: {large:?}");
            }
        }
    }
}

#[test]
fn each_side_carries_boat_day_and_hash_once_it_is_cut_out() {
    for (name, file) in BOATS {
        let head = head(Paper::Letter);
        let sheet = sheet::card(&card(file), &head, System::Metric);
        let all = pictures(&sheet);
        let feet: Vec<String> = all
            .iter()
            .flat_map(|picture| texts(picture))
            .filter(|(_, _, text)| text.contains(&head.hash))
            .map(|(_, _, text)| text.to_owned())
            .collect();
        let count = feet.len();
        for (at, foot) in feet.iter().enumerate() {
            let wanted = format!("2027-03-14 · 0123abcd · {} of {count}", at + 1);
            assert_eq!(*foot, wanted, "{name}");
        }
        let whose = all
            .iter()
            .flat_map(|picture| texts(picture))
            .filter(|(_, _, text)| text.starts_with("A boat with quite a"));
        assert_eq!(whose.count(), count, "{name}");
        assert!(count.div_ceil(2) == all.len(), "{name}: {count} sides");
    }
}

#[test]
fn every_valve_is_there_with_its_place_or_room_to_write_it() {
    for (name, file) in BOATS {
        let card = card(file);
        let sheet = sheet::card(&card, &head(Paper::A4), System::Metric);
        let said: String = pictures(&sheet)
            .into_iter()
            .flat_map(|picture| texts(picture))
            .map(|(_, _, text)| format!("{text} "))
            .collect();
        for valve in &card.valves {
            assert!(said.contains(&valve.title), "{name}: {}", valve.title);
            match &valve.place {
                reckon::CardFact::Known(place, _) => {
                    let first = place.metric.split(' ').next().unwrap_or_default();
                    assert!(said.contains(first), "{name}: {}", place.metric);
                }
                reckon::CardFact::Unmeasured(_) => assert!(said.contains(" ____"), "{name}"),
            }
        }
    }
}

/// The words of each side, in the order in which they are set.
fn sides(sheet: &Sheet, hash: &str) -> Vec<String> {
    let mut sides: Vec<String> = Vec::new();
    for picture in pictures(sheet) {
        let mut feet: Vec<f64> = Vec::new();
        let mut all: Vec<(f64, &str)> = Vec::new();
        for placed in &picture.placed {
            if let Shape::Text { y, text, .. } = &placed.shape {
                all.push((*y, text));
                if text.contains(hash) {
                    feet.push(*y);
                }
            }
        }
        feet.sort_by(f64::total_cmp);
        let mut above = f64::NEG_INFINITY;
        for foot in feet {
            let own = all.iter().filter(|(y, _)| *y > above && *y <= foot);
            let words: Vec<&str> = own.map(|(_, text)| *text).collect();
            sides.push(words.join(" "));
            above = foot;
        }
    }
    sides
}

/// The first side is the card itself: what to do first, what never, and every valve.
#[test]
fn the_first_side_has_all_that_is_wanted_first() {
    for (name, file) in BOATS {
        let card = card(file);
        for paper in [Paper::A4, Paper::Letter] {
            let head = head(paper);
            let sides = sides(&sheet::card(&card, &head, System::Metric), &head.hash);
            let first = &sides[0];
            assert!(first.contains("Do not open the cap."), "{name}: {first}");
            assert_eq!(first.matches("Never:").count(), 1, "{name}: {first}");
            for valve in &card.valves {
                assert!(first.contains(&valve.title), "{name}: {first}");
            }
            for side in &sides[1..] {
                assert!(!side.contains("Never:"), "{name}: {side}");
                assert!(!side.contains("Caution"), "{name}: {side}");
            }
            // The second begins with what is seen.
            assert!(!first.contains("By what you see"), "{name}: {first}");
            assert!(
                sides[1].starts_with("By what you see"),
                "{name}: {}",
                sides[1]
            );
        }
    }
}

/// No section of these boats is longer than a side, so that none is parted; on A4 four sides do.
#[test]
fn no_section_is_parted_that_fits_a_side() {
    for (name, file) in BOATS {
        let card = card(file);
        for paper in [Paper::A4, Paper::Letter] {
            for units in [System::Metric, System::Imperial] {
                let head = head(paper);
                let sides = sides(&sheet::card(&card, &head, units), &head.hash);
                let all = sides.join(" ");
                assert!(
                    !all.contains(", further"),
                    "{name} {paper:?} {units:?}: {all}"
                );
                for title in ["By what you see", "Limits", "Going over to fallback"] {
                    assert_eq!(all.matches(title).count(), 1, "{name}: {title}");
                }
            }
        }
    }
}

/// More than fits a side goes on upon the next one, under its head.
#[test]
fn a_section_that_is_longer_than_a_side_has_its_head_again() {
    let mut card = card(BOATS[0].1);
    let steps = &mut card.others[0].steps;
    for at in 0..20 {
        steps.push(format!("Another step, which is the {at}th of them."));
    }
    let head = head(Paper::A4);
    let sides = sides(&sheet::card(&card, &head, System::Metric), &head.hash);
    let further = sides
        .iter()
        .filter(|side| side.contains("Going over to fallback, further"));
    assert!(further.count() > 0, "{sides:#?}");
}

/// What was found of a valve stands beside it, and no line ends in a mark that parts it from nothing.
#[test]
fn a_valve_has_its_seconds_and_what_hinders() {
    for (name, file, parts) in [
        ("dunlin", BOATS[0].1, ["70\u{a0}s", "“stiff, closes”"]),
        ("wenna", BOATS[2].1, ["35\u{a0}s", "“stiff, closes”"]),
        ("tansley", BOATS[1].1, ["40\u{a0}s", "new valve: not tried"]),
    ] {
        let head = head(Paper::A4);
        let sheet = sheet::card(&card(file), &head, System::Metric);
        let sides = sides(&sheet, &head.hash);
        for part in parts {
            assert!(sides[0].contains(part), "{name}, {part}: {}", sides[0]);
        }
        for picture in pictures(&sheet) {
            for (_, _, text) in texts(picture) {
                assert!(!text.trim_end().ends_with('·'), "{name}: {text}");
                assert!(!text.trim_start().starts_with(';'), "{name}: {text}");
            }
        }
    }
}
