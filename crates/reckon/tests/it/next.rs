//! What to measure next, and the boxes of a survey: checked by writing values into the demo boats.

use std::collections::BTreeSet;

use boat::{Boat, Severity};
use reckon::{
    Ask, Entry, Grade, Holds, Input, Memo, Next, Set, SurveyBox, boxes, edited, next, reckon,
};

use crate::boats::{DEMO, DUNLIN, SMALL, read};

const ASK: Ask = Ask {
    arrangement: None,
    seed: 1,
};

fn ranked(text: &str) -> Vec<Next> {
    next(text, &read(text), ASK, &mut Memo::default())
}

fn all_boxes(text: &str) -> Vec<SurveyBox> {
    let (boat, places, _) = boat::read(text);
    boxes(&boat, &places, None)
}

/// Ids of the verdicts, those that wait and the others.
fn ids(boat: &Boat) -> [BTreeSet<String>; 2] {
    let input = Input {
        boat,
        arrangement: None,
        seed: 1,
        set: Set::Prompt,
        flow: None,
        bay: None,
    };
    let answer = reckon(&input, &mut Memo::default());
    let of = |waits: bool| {
        let verdicts = answer.verdicts.iter();
        let chosen = verdicts.filter(|verdict| (verdict.grade == Grade::Unmeasured) == waits);
        chosen.map(|verdict| verdict.id.clone()).collect()
    };
    [of(true), of(false)]
}

/// How many verdicts a value that is typed really gives: fewer that wait, and more that don't.
fn gain(text: &str, place: &str, toml: &str) -> usize {
    let (_, after) = edited(text, place, toml).unwrap_or_else(|| panic!("{place} = {toml}"));
    let [waited, given] = ids(&read(text));
    let [waits, gives] = ids(&after);
    let settled = waited.difference(&waits).count();
    let new = gives
        .difference(&given)
        .filter(|id| !waited.contains(*id))
        .count();
    settled + new
}

/// Diameters as one would read them at Dunlin's open spigots; they are not those that the ranking tries.
fn read_at(place: &str) -> Option<&'static str> {
    Some(match place {
        "engine.spigots.in.od" => "38.3",
        "engine.spigots.heat-in.od" => "16.3",
        "things.header.spigots.vent.od" => "8.3",
        "joints.\"feed.to\".od" => "19.3",
        place if place.contains("cal-out.valve") => "16.3",
        "joints.\"cold.reducer.b\".od" => "32.2",
        place if place.contains("suck.tee.a") => "32.2",
        place if place.ends_with(".od") => "38.3",
        _ => return None,
    })
}

#[test]
fn the_first_settles_as_many_as_any_other() {
    let mut text = DUNLIN.to_owned();
    for place in [
        "engine.spigots.heat-in.od",
        "things.header.spigots.vent.od",
        "joints.\"suck.tee.b\".od",
        "joints.\"cold.reducer.b\".od",
        "joints.\"feed.to\".od",
    ] {
        text = boat::set_value(&text, place, "\"?\"").unwrap();
    }
    let text = text.as_str();
    let all: Vec<Next> = ranked(text)
        .into_iter()
        .filter(|next| next.place.ends_with(".od") || next.place == "stock.hose")
        .collect();
    let mut tried = 0;
    let gains: Vec<(String, usize, usize)> = all
        .iter()
        .filter_map(|next| {
            let toml = read_at(&next.place)?;
            tried += 1;
            Some((
                next.place.clone(),
                gain(text, &next.place, toml),
                next.settles(),
            ))
        })
        .collect();
    // What the circuit asks for is told in a word, not by a diameter.
    let words = |place: &str| place.ends_with(".tried") || place.ends_with(".isolated");
    let sizes = all.iter().filter(|next| !words(&next.place)).count();
    assert!(tried * 2 > sizes, "{tried} of {sizes}");
    let first = &gains[0];
    for other in &gains {
        assert!(first.1 >= other.1, "{first:?} {other:?}");
        // A true reading settles what the likely one said it would.
        assert_eq!(other.1, other.2, "{other:?}");
    }
    // The first of those with a diameter is the first of all, or the shelf is.
    assert!(all[0].settles() >= first.2);
}

#[test]
fn the_ranking_falls_and_names_every_verdict_that_waits() {
    for (name, text) in DEMO {
        let all = ranked(text);
        assert!(
            all.windows(2)
                .all(|pair| pair[0].settles() >= pair[1].settles()),
            "{name}"
        );
        let named: BTreeSet<String> = all.iter().flat_map(|next| next.named_by.clone()).collect();
        assert_eq!(named, ids(&read(text))[0], "{name}");
        let mut seen = BTreeSet::new();
        for next in &all {
            assert!(seen.insert((&next.place, &next.part)), "{name} {next:?}");
            assert!(!next.how.is_empty(), "{name} {next:?}");
        }
    }
}

#[test]
fn a_value_is_tried_at_every_place_of_the_demo_boats_and_settles_what_names_it() {
    for (name, text) in DEMO {
        for next in ranked(text) {
            // A hose that is still to be chosen can't be put on the shelf for a trial.
            // No more can one tape be tried alone.
            let chosen_yet = !next.part.contains(" of run ") && !next.place.starts_with("survey.");
            assert_eq!(next.tried, chosen_yet, "{name} {next:?}");
            let names = next.named_by.iter();
            let missed: Vec<_> = names.filter(|id| !next.settled.contains(id)).collect();
            assert!(missed.is_empty(), "{name} {}: {missed:?}", next.place);
        }
    }
}

#[test]
fn every_place_that_a_verdict_waits_for_is_a_box() {
    for (name, text) in DEMO {
        let boxes = all_boxes(text);
        for next in ranked(text) {
            let own = boxes
                .iter()
                .filter(|own| own.place == next.place && own.part == next.part);
            // A tape is read from several pins, for which no form has one box.
            if next.place.starts_with("survey.") {
                continue;
            }
            // What is left to the tool to choose has no box before it is chosen.
            if next.place == "stock.hose" && own.clone().next().is_none() {
                continue;
            }
            assert!(own.clone().any(SurveyBox::is_empty), "{name} {next:?}");
        }
    }
}

#[test]
fn a_missing_spigot_opens_the_verdicts_of_its_joint() {
    let bare = boat::remove_value(SMALL, "engine.spigots.out.od").unwrap();
    let all = ranked(&bare);
    let next = all
        .iter()
        .find(|next| next.place == "engine.spigots.out.od")
        .unwrap();
    assert_eq!(next.settled, ["fit.dry.from.spigot"]);
    for rule in ["stretch", "clip", "torque"] {
        let id = format!("fit.dry.from.{rule}");
        assert!(next.opened.contains(&id), "{id}: {next:?}");
    }
    // Of the small boat no loop is drawn: only her engine's inside, the stack in her hull and what was
    // seen are asked for.
    let asked = ["engine.paths", "things.hull.chain"];
    let others = ranked(SMALL);
    assert!(
        others.iter().all(|next| {
            asked.contains(&next.place.as_str()) || next.place.starts_with("seen.")
        })
    );
}

/// What one would type for a box.
fn typed(own: &SurveyBox) -> &'static str {
    match (own.name.as_str(), own.entry) {
        ("form", _) => "\"beaded\"",
        ("found", _) => "[\"good\"]",
        ("worked", _) => "\"2027-02\"",
        ("feels", _) => "\"free\"",
        ("metal", _) => "\"bronze\"",
        ("way" | "clip", _) => "\"choose\"",
        ("kind", _) => "\"water\"",
        ("volume" | "drained" | "above_mark", _) => "\"20 L\"",
        ("print", _) => "\"38 EPDM\"",
        ("thread", _) => "\"G1/2 F\"",
        ("taper", _) => "\"0 mm over 8 mm\"",
        ("tried", _) => "\"2026-05\"",
        ("isolated", _) => "true",
        ("bypass", _) => "\"shut by the stat's own disc\"",
        (_, Entry::Length) => "\"38 mm\"",
        (_, Entry::Temperature) => "\"98 °C\"",
        (_, Entry::Pressure) => "\"0.7 bar\"",
        (_, Entry::Number) => "31",
        other => panic!("nothing to type for {other:?}"),
    }
}

#[test]
fn once_every_box_is_filled_in_none_is_left() {
    for (name, text) in DEMO {
        let mut text = text.to_owned();
        let mut hoses: Vec<String> = Vec::new();
        let empty: Vec<SurveyBox> = all_boxes(&text)
            .into_iter()
            .filter(SurveyBox::is_empty)
            .collect();
        assert!(empty.len() > 10, "{name}: {}", empty.len());
        for own in &empty {
            if own.place == "stock.hose" {
                let hose = own.part.strip_prefix("hose ").unwrap();
                hoses.push(boat::quoted(&format!(
                    "3 m x {hose}, id 38 mm od 48 mm, works 3 bar @ 100 °C"
                )));
                continue;
            }
            let (with, _) = edited(&text, &own.place, typed(own))
                .unwrap_or_else(|| panic!("{name}: {} can't be typed", own.place));
            text = with;
        }
        let (with, _) = edited(&text, "stock.hose", &format!("[{}]", hoses.join(", ")))
            .unwrap_or_else(|| panic!("{name}: the shelf can't be typed: {hoses:?}"));
        let (_, _, remarks) = boat::read(&with);
        assert!(
            remarks
                .iter()
                .all(|remark| remark.severity != Severity::Stop)
        );
        let left: Vec<String> = all_boxes(&with)
            .into_iter()
            .filter(SurveyBox::is_empty)
            .filter(|own| own.place != "stock.hose")
            .map(|own| own.place)
            .collect();
        assert!(left.is_empty(), "{name}: {left:?}");
    }
}

#[test]
fn a_box_tells_why_it_is_empty() {
    let holds = |text: &str, place: &str| {
        let all = all_boxes(text);
        let own = all.iter().find(|own| own.place == place);
        own.map(|own| own.holds)
    };
    let two = boat::set_value(DUNLIN, "engine.spigots.heat-in.od", "[\"16.2\", \"16.6\"]");
    assert_eq!(
        holds(&two.unwrap(), "engine.spigots.heat-in.od"),
        Some(Holds::TwoReadings)
    );
    assert_eq!(
        holds(DUNLIN, "engine.spigots.heat-in.bead_width"),
        Some(Holds::Nothing)
    );
    assert_eq!(holds(DUNLIN, "engine.spigots.out.od"), Some(Holds::Value));
    let looked = boat::set_value(SMALL, "things.cooler.spigots.a.bead", "\"?\"").unwrap();
    assert_eq!(
        holds(&looked, "things.cooler.spigots.a.bead"),
        Some(Holds::Unknown)
    );
    // A plain end has no bead to measure, and nothing judges the pump's curve.
    let plain = boat::set_value(SMALL, "things.cooler.spigots.a.form", "\"plain\"").unwrap();
    assert_eq!(holds(&plain, "things.cooler.spigots.a.bead"), None);
    assert_eq!(holds(DUNLIN, "engine.pump.curve"), None);
}
