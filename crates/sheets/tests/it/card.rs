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
    reckon::card(&boat, Some("after"), flow.as_ref()).expect("every demo boat has that arrangement")
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
        let mut room = 0;
        for valve in &card.valves {
            assert!(said.contains(&valve.title), "{name}: {}", valve.title);
            match &valve.place {
                reckon::CardFact::Known(place, _) => {
                    let first = place.metric.split(' ').next().unwrap_or_default();
                    assert!(said.contains(first), "{name}: {}", place.metric);
                }
                reckon::CardFact::Unmeasured(_) => room += 1,
            }
        }
        assert_eq!(said.matches("it is ____").count(), room, "{name}: {said}");
    }
}
