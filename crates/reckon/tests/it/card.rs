//! The card to get home by: its first line, this boat's valves, and what is not known.

use boat::Boat;
use reckon::{
    Card, CardFact, CardValve, Cooling, Exhaust, Grade, Memo, Order, OrderAsk, card, flow, order,
};

use crate::boats::{Change, DEMO, DUNLIN, edited, read};

fn of(boat: &Boat, arrangement: Option<&str>) -> Card {
    let flow = flow(boat, arrangement);
    card(boat, arrangement, flow.as_ref(), None).expect("the arrangement is there")
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
                "Steam, belt gone or hose burst: stop. Otherwise idle or slow ahead.",
                "Do not open the cap.",
            ],
            "{name}"
        );
        let words = [
            card.first.clone(),
            card.never.clone(),
            card.signs
                .iter()
                .chain(&card.finds)
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
    assert_eq!(small.costs, "Stops calorifier.");
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
        at("Shut skin-top and skin-foot") < at("Open port-top"),
        "{:#?}",
        other.steps
    );
    assert!(at("Open port-top") < at("Start, idle 2 min"));
    assert_eq!(at("Start, idle 2 min"), other.steps.len() - 1);
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
    // Nobody wrote what plate and cap may be off, so nobody is told: 10 psi are 68.9 kPa.
    assert_eq!(known(&card, "Alarm sounds at"), "98 °C");
    assert_eq!(known(&card, "Cap opens at"), "0.69 bar gauge");
    assert!(known(&card, "Greatest steady power, all sound").contains("kW"));
    let boils = known(&card, "Boils at");
    assert!(boils.contains("°C with the cap off"), "{boils}");
    assert!(boils.contains("°C under it"), "{boils}");
    assert_eq!(known(&demo("wenna", &[]), "Alarm sounds at"), "101 ± 2 °C");
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

fn limit(card: &Card, what: &str) -> Option<CardFact> {
    let mut limits = card.limits.iter();
    let limit = limits.find(|limit| limit.what == what)?;
    Some(limit.is.clone())
}

fn told(card: &Card, what: &str) -> String {
    match limit(card, what) {
        Some(CardFact::Known(words, _)) => words.metric,
        other => panic!("{what}: {other:?}"),
    }
}

/// Every state has its time until the alarm and until it boils, rounded down; one that is there already has none.
#[test]
fn every_state_has_its_time_until_the_alarm_and_until_it_boils() {
    let (_, text) = DEMO
        .iter()
        .find(|(name, _)| *name == "wenna")
        .expect("wenna");
    let boat = read(text);
    let flow = flow(&boat, Some("after")).expect("a flow");
    let card = card(&boat, Some("after"), Some(&flow), None).expect("a card");
    let (alarm, boils) = (
        told(&card, "Until the alarm"),
        told(&card, "Until it boils"),
    );
    for state in ["flat-out", "steaming", "hauling"] {
        assert!(alarm.contains(state), "{state}: {alarm}");
        assert!(boils.contains(state), "{state}: {boils}");
    }
    assert!(alarm.starts_with("no time at all in flat-out, "), "{alarm}");
    let steaming = flow
        .row
        .states
        .iter()
        .filter(|state| state.key == "steaming")
        .filter_map(|state| state.came.steady()?.uncooled)
        .filter_map(|own| own.alarm.zip(own.boils))
        .reduce(|a, b| (a.0.min(b.0), a.1.min(b.1)))
        .expect("a steady state");
    // Tens of seconds under two minutes: 19 s are printed as 10.
    let tens = |seconds: f64| format!("{:.0} s in steaming", (seconds / 10.0).floor() * 10.0);
    assert!(steaming.0 >= 10.0 && steaming.1 < 120.0, "{steaming:?}");
    assert!(alarm.contains(&tens(steaming.0)), "{alarm}: {steaming:?}");
    assert!(boils.contains(&tens(steaming.1)), "{boils}: {steaming:?}");
}

/// Where not all that the circuit holds is known, what is known gives a time that one has at least.
#[test]
fn a_volume_that_is_known_in_part_gives_a_time_at_least() {
    let boat = read(DUNLIN);
    let flow = flow(&boat, Some("after")).expect("a flow");
    let card = card(&boat, Some("after"), Some(&flow), None).expect("a card");
    let volume = flow.row.volume.as_ref().expect("a volume");
    assert_eq!(volume.whole, None);
    let litres: f64 = volume.parts.iter().map(|(_, part, _)| part * 1000.0).sum();
    let words = told(&card, "Until the alarm");
    assert!(words.contains("at least "), "{words}");
    let seconds: f64 = words
        .split(", ")
        .find_map(|part| {
            part.strip_prefix("at least ")
                .unwrap_or(part)
                .strip_suffix(" s in cruise")
        })
        .and_then(|seconds| seconds.parse().ok())
        .expect(&words);
    let states = &flow.row.states;
    let cruise = states.iter().find(|state| state.key == "cruise");
    let cruise = cruise.expect("that state");
    let out = cruise.came.steady().expect("it comes to rest").out.high;
    // Heat that all that is known takes up on its way to 98 °C, over the heat of that state. A litre of coolant takes
    // up between 3.5 and 4.2 kJ/K, which is water.
    let by = |kilojoules: f64| litres * kilojoules * 1000.0 * (98.0 - out) / cruise.heat.high;
    assert!(seconds <= by(4.2), "{words}: {}", by(4.2));
    assert!(seconds > by(3.5) - 10.0, "{words}: {}", by(3.5));
    assert!(words.ends_with(" L known"), "{words}");
    assert!(told(&card, "Until it boils").contains("at least "));
}

/// A sea warmer than any that she will meet is worth no line.
#[test]
fn the_warmest_sea_is_told_only_where_a_sea_may_be_warmer() {
    assert_eq!(limit(&demo("dunlin", &[]), "Warmest sea"), None);
    let wenna = told(&demo("wenna", &[]), "Warmest sea");
    assert!(wenna.starts_with("none: flat-out"), "{wenna}");
}

fn valve<'a>(card: &'a Card, key: &str) -> &'a CardValve {
    let mut valves = card.valves.iter();
    valves.find(|valve| valve.key == key).expect(key)
}

/// Another tail leaves the valve as it was; another valve was never tried, and is where the old one was.
#[test]
fn what_was_found_of_a_valve_stays_while_the_valve_does() {
    let dunlin = demo("dunlin", &[]);
    let aft = valve(&dunlin, "keel-aft.valve");
    assert_eq!(aft.secs, Some(70.0));
    assert_eq!(aft.feels.as_deref(), Some("stiff, closes"));
    assert!(!aft.untried);
    let wenna = demo("wenna", &[]);
    let sea = valve(&wenna, "sea-in.valve");
    assert_eq!(sea.secs, Some(35.0));
    assert_eq!(sea.feels.as_deref(), Some("stiff, closes"));
    assert!(!sea.untried);
    // A ball valve comes for the gate.
    let tansley = demo("tansley", &[]);
    let foot = valve(&tansley, "skin-foot.valve");
    assert!(foot.untried);
    assert_eq!((foot.secs, &foot.feels, &foot.worked), (None, &None, &None));
    assert!(
        matches!(&foot.place, CardFact::Known(place, _) if place.metric == "under the floor plates, on my belly"),
        "{:?}",
        foot.place
    );
    assert!(foot.drowned_at.is_some());
    assert!(!valve(&tansley, "skin-top.valve").untried);
    // The same with another bore is another valve.
    let wider = DUNLIN.replace(
        "bore 30 + tail G1-1/4 M x 38 barbed gunmetal",
        "bore 32 + tail G1-1/4 M x 38 barbed gunmetal",
    );
    assert_ne!(wider, DUNLIN);
    let wider = of(&read(&wider), Some("after"));
    let aft = valve(&wider, "keel-aft.valve");
    assert!(aft.untried);
    assert_eq!((aft.secs, &aft.feels), (None, &None));
    // As found nothing is new.
    let found = of(&read(DUNLIN), Some("before"));
    assert!(found.valves.iter().all(|valve| !valve.untried));
}

fn ordered(name: &str, arrangement: &str) -> (Card, Order) {
    let (_, text) = DEMO
        .iter()
        .find(|(own, _)| *own == name)
        .expect("a demo boat");
    let boat = read(text);
    let ask = OrderAsk {
        arrangement: Some(arrangement),
        seed: 1,
        risk: None,
    };
    let order = order(text, &boat, ask, &mut Memo::default());
    let flow = flow(&boat, Some(arrangement));
    let card = card(&boat, Some(arrangement), flow.as_ref(), Some(&order)).expect("a card");
    (card, order)
}

/// What the refit takes off the shelf, and what lies ashore, is not aboard.
#[test]
fn aboard_is_what_the_refit_leaves() {
    let (card, order) = ordered("dunlin", "after");
    assert!(card.refitted);
    let has = |card: &Card, words: &str| card.spares.iter().any(|own| own.contains(words));
    // Of 1.3 m some 98 mm are left; the only tee is built in. 28 clips lay there.
    let left = order.shelf.iter().find(|cut| cut.hose == "hose 38 epdm");
    let left = left.expect("it is cut").left;
    assert!(left < 0.11, "{left}");
    assert!(!has(&card, "1.3 m hose 38 epdm"), "{:?}", card.spares);
    assert!(!has(&card, "tee 38"), "{:?}", card.spares);
    assert!(has(&card, "1 x joiner 38 bronze"), "{:?}", card.spares);
    assert!(has(&card, "0.9 m hose 38 wired"), "{:?}", card.spares);
    let lines = order
        .list
        .lines
        .iter()
        .filter(|line| line.ware.word() == "clip");
    let taken: f64 = lines
        .flat_map(|line| &line.have)
        .map(|have| have.amount)
        .sum();
    let clips = format!("{} clips", 28.0 - taken);
    assert!(card.spares.contains(&clips), "{clips}: {:?}", card.spares);
    let (found, _) = ordered("dunlin", "before");
    assert!(!found.refitted);
    assert!(has(&found, "1.3 m hose 38 epdm"), "{:?}", found.spares);
    let (wenna, _) = ordered("wenna", "after");
    assert!(!has(&wenna, "ashore"), "{:?}", wenna.spares);
    assert!(!has(&wenna, "joiner 16"), "{:?}", wenna.spares);
}

/// Hose for the other loop, by the lengths of its runs: 1.6 and 1.4 m of 32 are 3 m, of which the 1.7 m left of the
/// shelf give the longer; 2.2 m of 19 are not there at all.
#[test]
fn the_other_loop_says_which_hose_it_wants_and_lacks() {
    let (dunlin, _) = ordered("dunlin", "after");
    let other = &dunlin.others[0];
    assert_eq!(other.wants, ["2.2 m hose 19 epdm", "3 m hose 32 epdm"]);
    // The shelf gives a piece to cold and one to suck, and what is left is too short for either.
    assert_eq!(other.lacks, ["2.2 m hose 19 epdm", "3 m hose 32 epdm"]);
    let (wenna, _) = ordered("wenna", "after");
    let other = &wenna.others[0];
    assert_eq!(other.wants, ["2.1 m hose 25 epdm"]);
    assert_eq!(other.lacks, ["2.1 m hose 25 epdm"]);
}

/// After the start raw water is looked for before anything else, and a pump's own inlet is opened before it.
#[test]
fn raw_water_is_looked_for_first_after_the_start() {
    let steps = |card: &Card| card.others[0].steps.clone();
    let at = |steps: &[String], part: &str| {
        let at = steps.iter().position(|step| step.contains(part));
        at.unwrap_or_else(|| panic!("{part}: {steps:#?}"))
    };
    let wenna = steps(&demo("wenna", &[]));
    let start = at(&wenna, "Start.");
    assert!(wenna[start].contains("Water at the exhaust within seconds, else stop"));
    assert!(at(&wenna, "Open the inlet of deckwash") < start);
    assert_eq!(at(&wenna, "Idle 2 min"), start + 1);
    let dunlin = steps(&demo("dunlin", &[]));
    let start = at(&dunlin, "Start.");
    assert!(!dunlin[start].contains("exhaust"), "{}", dunlin[start]);
    assert!(at(&dunlin, "Lead exchanger raw-out overboard") < start);
}

/// The words fit the boat: what a valve feeds and not the name of its run, no sails inland, and the valve by name.
#[test]
fn the_words_fit_the_boat() {
    let wenna = demo("wenna", &[]);
    assert_eq!(
        valve(&wenna, "sea-in.valve").shuts,
        "Shuts the sea off from strainer."
    );
    let tansley = demo("tansley", &[]);
    let words = [
        tansley.first.clone(),
        tansley.never.clone(),
        vec![tansley.boat_first.clone()],
    ]
    .concat()
    .join(" ");
    for word in ["sea", "sail"] {
        assert!(!words.contains(word), "{word}: {words}");
    }
    assert!(!wenna.boat_first.contains("sail"), "{}", wenna.boat_first);
    let sails = demo("dunlin", &[("boat.kind", "\"sail, one hull\"")]);
    assert!(sails.boat_first.contains("sail"), "{}", sails.boat_first);
    let dunlin = demo("dunlin", &[]);
    let rising = dunlin.finds.iter().find(|own| own.sign == "Level rising");
    let rising = &rising.expect("that sign").act;
    assert!(rising.contains("shut cal-out valve"), "{rising}");
}

#[test]
fn every_arrangement_of_every_demo_boat_has_a_card() {
    for (name, text) in DEMO {
        let boat = read(text);
        for arrangement in [None, Some("before"), Some("after"), Some("fallback")] {
            let card = of(&boat, arrangement);
            assert!(!card.valves.is_empty(), "{name} {arrangement:?}");
            let signs = card.signs.len() + card.finds.len();
            assert!(signs >= 9, "{name} {arrangement:?}: {signs}");
            assert_eq!(card.first[1], "Do not open the cap.");
            let all = said(&card);
            assert!(!all.contains("  "), "{name}: {all}");
        }
    }
    assert!(card(&read(DUNLIN), Some("nowhere"), None, None).is_none());
}

#[test]
fn no_sign_of_trouble_is_followed_by_a_bare_power() {
    for (name, _) in DEMO {
        let card = demo(name, &[]);
        for sign in card.signs.iter().chain(&card.finds) {
            let stops = sign.act.contains("ngine off") || sign.act.contains("stop as soon");
            match &sign.still {
                None => assert!(stops, "{name}: {}", sign.sign),
                Some(still) => {
                    assert!(!stops, "{name}: {}", sign.sign);
                    let said = &still.metric;
                    assert!(said.starts_with("Now: "), "{name}: {said}");
                    assert!(said.contains("throttle back to idle"), "{name}: {said}");
                    let power = said.find(" kW");
                    let condition = said.find("Only while everything is sound");
                    assert!(power.is_none() || condition < power, "{name}: {said}");
                    assert!(power.is_none() || condition.is_some(), "{name}: {said}");
                }
            }
        }
        let climbing = card
            .signs
            .iter()
            .find(|sign| sign.sign == "Needle climbing");
        let still = climbing.unwrap().still.as_ref().unwrap();
        assert!(
            still
                .metric
                .starts_with("Now: throttle back to idle and watch the needle.")
        );
    }
}
