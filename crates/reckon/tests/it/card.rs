//! The card to get home by: its first line, this boat's valves, and what is not known.

use boat::Boat;
use reckon::{Card, CardFact, Cooling, Exhaust, Grade, card, flow};

use crate::boats::{Change, DEMO, DUNLIN, edited, read};

fn of(boat: &Boat, arrangement: Option<&str>) -> Card {
    let flow = flow(boat, arrangement);
    card(boat, arrangement, flow.as_ref()).expect("the arrangement is there")
}

fn demo(name: &str, changes: &[Change]) -> Card {
    let (_, text) = DEMO
        .iter()
        .find(|(own, _)| *own == name)
        .expect("a demo boat");
    of(&read(&edited(text, changes)), Some("after"))
}

/// All that a card says.
fn said(card: &Card) -> String {
    format!("{card:?}")
}

#[test]
fn a_boat_cooled_at_the_hull_is_not_asked_for_water_at_the_exhaust() {
    for name in ["dunlin", "tansley"] {
        let card = demo(name, &[]);
        assert_eq!(card.cooling, Cooling::Keel, "{name}");
        assert_eq!(card.exhaust, Exhaust::Dry, "{name}");
        assert_eq!(
            card.first,
            [
                "Steam, belt gone or hose burst: stop. Otherwise idle, or slow ahead if there is sea room.",
                "Do not open the cap.",
            ],
            "{name}"
        );
        let words = [
            card.first.clone(),
            card.cautions.clone(),
            card.signs
                .iter()
                .map(|sign| format!("{} {}", sign.sign, sign.act))
                .collect(),
        ]
        .concat()
        .join(" ");
        assert!(!words.to_lowercase().contains("exhaust"), "{words}");
    }
}

#[test]
fn a_wet_exhaust_comes_before_all_else() {
    let card = demo("wenna", &[]);
    assert_eq!(card.cooling, Cooling::Exchanger);
    assert_eq!(card.exhaust, Exhaust::Wet);
    assert!(
        card.first[0].starts_with("No water at the exhaust"),
        "{:?}",
        card.first
    );
    assert!(
        card.first[0].ends_with("Otherwise idle."),
        "{:?}",
        card.first
    );
    assert_eq!(card.signs[0].sign, "No water at the exhaust");
    assert!(
        card.signs[0].act.contains("sea-in"),
        "{}",
        card.signs[0].act
    );
}

#[test]
fn an_exchanger_whose_raw_water_ends_nowhere_leaves_the_exhaust_unknown() {
    let (_, text) = DEMO[2];
    let without = edited(text, &[("runs.spray", "")]);
    let card = of(&read(&without), None);
    assert!(
        matches!(card.exhaust, Exhaust::Unknown(_)),
        "{:?}",
        card.exhaust
    );
    assert!(
        card.first[0].contains("exhaust that has it"),
        "{:?}",
        card.first
    );
}

/// What is lost with a valve is what falls dry in the circuit when it is shut.
#[test]
fn each_valve_says_what_is_lost() {
    let dunlin = demo("dunlin", &[]);
    let keys: Vec<&str> = dunlin
        .valves
        .iter()
        .map(|valve| valve.key.as_str())
        .collect();
    assert_eq!(keys, ["keel-fwd.valve", "keel-aft.valve", "cal-out.valve"]);
    for valve in &dunlin.valves[..2] {
        assert!(valve.hull);
        assert!(valve.loses.contains(&"keel".to_owned()), "{valve:?}");
        assert!(
            valve.costs.starts_with("Engine off first"),
            "{}",
            valve.costs
        );
        assert_eq!(valve.with.len(), 1);
    }
    let small = &dunlin.valves[2];
    assert_eq!(small.loses, ["calorifier"]);
    assert!(small.costs.contains("still cooled"), "{}", small.costs);
    assert!(
        matches!(&small.place, CardFact::Known(place, _) if place.metric.contains("from engine heat-out"))
    );
    let wenna = demo("wenna", &[]);
    let sea = wenna
        .valves
        .iter()
        .find(|valve| valve.key == "sea-in.valve")
        .expect("sea-in");
    for lost in ["strainer", "rawpump", "gearbox", "exchanger", "engine"] {
        assert!(
            sea.loses.iter().any(|own| own == lost),
            "{lost}: {:?}",
            sea.loses
        );
    }
    assert!(sea.costs.contains("no raw water"), "{}", sea.costs);
    assert!(sea.costs.contains("the exhaust"), "{}", sea.costs);
}

#[test]
fn where_a_valve_is_comes_from_the_file_or_is_unmeasured() {
    let card = demo("dunlin", &[]);
    assert!(
        matches!(&card.valves[0].place, CardFact::Known(place, _) if place.metric == "under sole board 4")
    );
    let card = demo("dunlin", &[("things.keel-fwd.valve.reach", "")]);
    assert!(
        matches!(&card.valves[0].place, CardFact::Unmeasured(settles) if settles.place == "things.keel-fwd.valve.reach"),
        "{:?}",
        card.valves[0].place
    );
}

#[test]
fn going_over_begins_with_the_engine_off_and_ends_with_a_trial() {
    let tansley = demo("tansley", &[]);
    let [other] = tansley.others.as_slice() else {
        panic!("{:?}", tansley.others);
    };
    assert_eq!(other.key, "fallback");
    assert_eq!(other.grade, Grade::Unsound, "never tried");
    let at = |part: &str| {
        other
            .steps
            .iter()
            .position(|step| step.contains(part))
            .unwrap_or_else(|| panic!("{part}: {:#?}", other.steps))
    };
    assert_eq!(at("Engine off"), 0);
    // Shut first, for a cooler that leaks; then open the other; then start.
    assert!(
        at("Shut skin-top (behind the coal box)") < at("Open port-top"),
        "{:#?}",
        other.steps
    );
    assert!(at("Open port-top") < at("Start, idle two minutes"));
    assert_eq!(at("Start, idle two minutes"), other.steps.len() - 1);
    let dunlin = demo("dunlin", &[]);
    assert_eq!(
        dunlin.others[0].grade,
        Grade::Unmeasured,
        "not told when it was run"
    );
    let wenna = demo("wenna", &[]);
    assert_eq!(wenna.others[0].grade, Grade::Sound);
    assert!(
        wenna.others[0]
            .steps
            .iter()
            .any(|step| step.starts_with("Hoses off")),
        "{:#?}",
        wenna.others[0].steps
    );
}

#[test]
fn limits_are_the_files_or_unmeasured() {
    let known = |card: &Card, what: &str| -> String {
        let limit = card.limits.iter().find(|limit| limit.what == what);
        match &limit.expect("a limit").is {
            CardFact::Known(words, _) => words.metric.clone(),
            CardFact::Unmeasured(settles) => format!("unmeasured {}", settles.place),
        }
    };
    let card = demo("dunlin", &[]);
    assert!(
        known(&card, "Alarm sounds at").starts_with("98 "),
        "{}",
        known(&card, "Alarm sounds at")
    );
    assert!(known(&card, "Greatest steady power").contains("kW"));
    let card = demo(
        "dunlin",
        &[("engine.alarm.at", "\"?\""), ("things.header.cap", "")],
    );
    assert_eq!(
        known(&card, "Alarm sounds at"),
        "unmeasured engine.alarm.at"
    );
    assert!(known(&card, "Cap opens at").starts_with("unmeasured"));
}

/// What the circuit holds settles how long it takes; a state that is at the alarm already has no time.
#[test]
fn the_time_until_the_alarm_is_that_of_flow_or_unmeasured() {
    let until = |card: &Card| {
        let limit = card
            .limits
            .iter()
            .find(|limit| limit.what == "Until the alarm");
        limit.expect("a limit").is.clone()
    };
    let dunlin = demo("dunlin", &[]);
    assert!(
        matches!(until(&dunlin), CardFact::Unmeasured(_)),
        "her volume is not known"
    );
    let CardFact::Known(words, _) = until(&demo("wenna", &[])) else {
        panic!("her volume is known");
    };
    assert!(
        words.metric.contains("none in flat-out"),
        "{}",
        words.metric
    );
    assert!(
        words.metric.contains("water still going round"),
        "{}",
        words.metric
    );
}

#[test]
fn every_arrangement_of_every_demo_boat_has_a_card() {
    for (name, text) in DEMO {
        let boat = read(text);
        for arrangement in [None, Some("before"), Some("after"), Some("fallback")] {
            let card = of(&boat, arrangement);
            assert!(!card.valves.is_empty(), "{name} {arrangement:?}");
            assert!(card.signs.len() >= 8, "{name} {arrangement:?}");
            assert_eq!(card.first[1], "Do not open the cap.");
            let all = said(&card);
            assert!(!all.contains("  "), "{name}: {all}");
        }
    }
    assert!(card(&read(DUNLIN), Some("nowhere"), None).is_none());
}
