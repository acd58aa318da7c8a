//! The loop for a drawing: what lies on which way, what is shut, what stands still.

use boat::Boat;
use reckon::{
    Around, AroundFitting, AroundSpot, AroundWay, Grade, Input, Level, Memo, Set, reckon,
};

use crate::boats::{DEMO, SMALL};

fn of(boat: &Boat, name: Option<&str>, figures: bool) -> Around {
    let input = Input {
        boat,
        arrangement: name,
        seed: 1,
        set: Set::All,
        flow: None,
        bay: None,
    };
    let answer = reckon(&input, &mut Memo::default());
    let flow = figures.then(|| reckon::flow(boat, name)).flatten();
    reckon::around(boat, &answer, flow.as_ref(), None, None).expect("an arrangement of the file")
}

fn demo(boat: usize, name: &str, figures: bool) -> Around {
    let (boat, _, _) = boat::read(DEMO[boat].1);
    of(&boat, Some(name), figures)
}

/// The names of what one passes.
fn names(one: &Around, spots: &[AroundSpot]) -> Vec<String> {
    let name = |spot: &AroundSpot| match spot {
        AroundSpot::Thing(thing) => one.things[*thing].key.clone(),
        AroundSpot::Tee(tee) => one.tees[*tee].key.clone(),
        AroundSpot::Open => "–".to_owned(),
    };
    spots.iter().map(name).collect()
}

fn turn(one: &Around) -> Vec<&str> {
    one.turn
        .iter()
        .map(|thing| one.things[*thing].key.as_str())
        .collect()
}

fn ways(one: &Around, run: &str) -> Vec<AroundWay> {
    one.legs
        .iter()
        .filter(|leg| leg.run == run)
        .map(|leg| leg.way)
        .collect()
}

#[test]
fn the_lanes_run_from_the_engine_to_where_the_water_turns_and_back() {
    let one = demo(0, "after", false);
    assert_eq!(names(&one, &one.hot), ["hot.tee"]);
    assert_eq!(turn(&one), ["keel-fwd", "keel", "keel-aft"]);
    assert_eq!(names(&one, &one.cold), ["cold.tee", "gearbox", "suck.tee"]);
    assert!(one.closed);
    assert_eq!(ways(&one, "hot"), [AroundWay::Hot, AroundWay::Hot]);
    assert_eq!(ways(&one, "suck"), [AroundWay::Cold, AroundWay::Cold]);
    assert_eq!(ways(&one, "feed"), [AroundWay::MakeUp]);
    assert_eq!(ways(&one, "vent"), [AroundWay::Vent]);
    assert_eq!(ways(&one, "cal-out"), [AroundWay::Branch]);
    assert_eq!(ways(&one, "cal-back"), [AroundWay::BranchBack]);
}

#[test]
fn a_loop_led_another_way_keeps_its_lanes_and_what_is_shut_off_is_dead() {
    let one = demo(0, "fallback", false);
    assert_eq!(names(&one, &one.hot), ["hot.tee"]);
    assert_eq!(turn(&one), ["keel-fwd", "keel-aft"]);
    assert_eq!(names(&one, &one.cold), ["cold.tee", "gearbox", "suck.tee"]);
    assert_eq!(ways(&one, "hot"), [AroundWay::Hot, AroundWay::Dead]);
    assert_eq!(ways(&one, "cold"), [AroundWay::Dead, AroundWay::Cold]);
    assert_eq!(ways(&one, "loop-out"), [AroundWay::Hot]);
    assert_eq!(ways(&one, "loop-back"), [AroundWay::Cold]);
    assert_eq!(ways(&one, "wash"), [AroundWay::Raw]);
    let shut: Vec<&str> = one
        .things
        .iter()
        .filter(|thing| thing.valve == Some(true))
        .map(|thing| thing.key.as_str())
        .collect();
    assert_eq!(shut, ["keel-fwd", "keel-aft"]);
    assert!(one.joins.is_empty(), "the keel pipes are taken off");
}

#[test]
fn what_is_between_shut_fittings_is_joined_but_does_not_flow() {
    let after = demo(1, "after", false);
    let key = |thing: usize| after.things[thing].key.as_str();
    let join = |from: &str| after.joins.iter().find(|join| key(join.from) == from);
    let used = join("skin-top").expect("a way outside");
    assert!(used.open && used.flows && key(used.to) == "skin");
    let idle = join("port-top").expect("a way outside");
    assert!(idle.open && !idle.flows);
    let tee = after
        .tees
        .iter()
        .find(|tee| tee.key == "hot.tee")
        .expect("a tee");
    assert!(tee.blanked);
}

#[test]
fn wet_and_dry_follow_the_heights_of_the_file() {
    let one = demo(0, "after", false);
    let level = |key: &str| {
        one.things
            .iter()
            .find(|thing| thing.key == key)
            .map(|own| own.level)
    };
    assert_eq!(level("keel-fwd"), Some(Level::Wet));
    assert_eq!(
        level("keel"),
        Some(Level::Wet),
        "it lies between two that are"
    );
    assert_eq!(level("gearbox"), Some(Level::Dry));
    let wenna = demo(2, "after", false);
    let strainer = wenna
        .things
        .iter()
        .find(|thing| thing.key == "strainer")
        .expect("a strainer");
    assert_eq!(strainer.level, Level::Wet);
    let (unmeasured, _, _) = boat::read(
        &DEMO[2]
            .1
            .replace("metal = \"plastic\", h = -60", "metal = \"plastic\""),
    );
    let one = of(&unmeasured, Some("after"), false);
    let strainer = one
        .things
        .iter()
        .find(|thing| thing.key == "strainer")
        .expect("a strainer");
    assert_eq!(strainer.level, Level::Unmeasured);
    assert_eq!(strainer.heights.metric, "–");
}

#[test]
fn each_joint_bears_the_worst_that_is_judged_of_it() {
    for (file, text) in DEMO {
        let (boat, _, _) = boat::read(text);
        let input = Input {
            boat: &boat,
            arrangement: Some("after"),
            seed: 1,
            set: Set::All,
            flow: None,
            bay: None,
        };
        let answer = reckon(&input, &mut Memo::default());
        let one = reckon::around(&boat, &answer, None, None, None).expect("an arrangement");
        let mut met = 0;
        for leg in &one.legs {
            for joint in leg.from_joint.iter().chain(&leg.to_joint) {
                let verdicts = answer
                    .verdicts
                    .iter()
                    .filter(|own| own.subject == joint.key);
                let worst = verdicts.map(|own| own.grade).max();
                assert!(joint.grade >= worst, "{file} {}", joint.key);
                met += usize::from(joint.grade.is_some());
            }
        }
        assert!(met >= 10, "{file}: {met}");
        let keel = one.things.iter().filter_map(|thing| thing.grade).max();
        assert!(keel.is_some_and(|grade| grade >= Grade::Marginal), "{file}");
    }
}

#[test]
fn figures_stand_where_the_loop_leaves_and_comes_back() {
    let one = demo(0, "after", true);
    assert!(one.state.is_some());
    let flag = |run: &str| {
        let mut legs = one.legs.iter().filter(|leg| leg.run == run);
        legs.find_map(|leg| leg.figures.clone())
    };
    let hot = flag("hot").expect("figures of the hot way");
    assert!(hot.flow.metric.ends_with("L/min") && hot.temperature.metric.ends_with("°C"));
    assert!(hot.temperature.imperial.ends_with("°F"));
    assert!(flag("cold").is_some() && flag("cal-out").is_some());
    assert!(flag("feed").is_none() && flag("vent").is_none());
    assert!(
        one.notes
            .iter()
            .any(|note| note.metric.contains("assumed value"))
    );
    let none = demo(0, "after", false);
    assert!(
        none.legs.iter().all(|leg| leg.figures.is_none()),
        "no figure is made here"
    );
}

#[test]
fn valves_bleeds_and_reducers_sit_in_their_legs() {
    let one = demo(0, "after", false);
    let has = |run: &str, fitting: AroundFitting| {
        let mut legs = one.legs.iter().filter(|leg| leg.run == run);
        legs.any(|leg| leg.pieces.iter().any(|piece| piece.fitting == fitting))
    };
    assert!(has(
        "cal-out",
        AroundFitting::Valve {
            shut: false,
            reduced: false
        }
    ));
    assert!(has("cal-out", AroundFitting::Bleed));
    assert!(has("cold", AroundFitting::Reducer));
}

#[test]
fn a_boat_without_a_pump_has_no_lanes_but_keeps_her_legs() {
    let (boat, _, _) = boat::read(SMALL);
    let one = of(&boat, None, false);
    assert!(!one.closed);
    assert_eq!(one.legs.len(), 2);
    assert!(one.legs.iter().all(|leg| leg.way == AroundWay::Dead));
    let (empty, _, _) = boat::read("version = 1\n");
    assert_eq!(of(&empty, None, false).legs, []);
}
