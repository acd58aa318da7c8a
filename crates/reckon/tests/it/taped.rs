//! The survey by tape as it stands in a boat file: places, slips, sides, what is missing.

use reckon::{Answer, Grade, Input, Memo, Set, Verdict, reckon};

use crate::boats::DUNLIN;

const WENNA: &str = include_str!("../../../../boats/wenna/boat.toml");

fn answer(text: &str) -> Answer {
    let (boat, _, remarks) = boat::read(text);
    assert_eq!(remarks, [], "{text}");
    let input = Input {
        boat: &boat,
        arrangement: None,
        seed: 1,
        set: Set::Prompt,
        flow: None,
        bay: None,
    };
    reckon(&input, &mut Memo::default())
}

fn find<'a>(answer: &'a Answer, id: &str) -> &'a Verdict {
    let ids: Vec<&str> = answer.verdicts.iter().map(|v| v.id.as_str()).collect();
    answer
        .verdicts
        .iter()
        .find(|verdict| verdict.id == id)
        .unwrap_or_else(|| panic!("no {id} in {ids:?}"))
}

fn of_tape(answer: &Answer) -> Vec<&str> {
    let rules = [
        ".position",
        ".axis",
        ".slip",
        ".side",
        ".level",
        ".reading",
        ".agree",
    ];
    let of = |id: &&str| id.starts_with("survey.") && rules.iter().any(|rule| id.ends_with(rule));
    let ids = answer.verdicts.iter().map(|verdict| verdict.id.as_str());
    ids.filter(of).collect()
}

/// Dunlin's tapes with one line of the file as told.
fn changed(from: &str, to: &str) -> Answer {
    assert_eq!(DUNLIN.matches(from).count(), 1, "{from}");
    answer(&DUNLIN.replace(from, to))
}

#[test]
fn dunlins_tapes_agree() {
    let found = answer(DUNLIN);
    assert_eq!(find(&found, "survey.tapes.agree").grade, Grade::Sound);
    for spigot in ["engine.out", "keel-fwd.tail", "gearbox.a"] {
        let verdict = find(&found, &format!("survey.{spigot}.position"));
        assert_eq!(verdict.grade, Grade::Sound, "{}", verdict.because.metric);
    }
    let axis = find(&found, "survey.engine.out.axis");
    assert_eq!(axis.grade, Grade::Sound, "{}", axis.because.metric);
    let none = find(&found, "survey.gearbox.a.axis");
    assert_eq!(none.grade, Grade::Unmeasured);
    let surveyed = found.surveyed.unwrap();
    assert!(surveyed.level && surveyed.settled);
    // P3 was seen to starboard, and the deck knows which hand that is.
    let p3 = surveyed.places.iter().find(|p| p.name == "P3").unwrap();
    assert!(p3.at[1] < -0.6, "{:?}", p3.at);
    // What is handed on is rounded to a tenth of a millimetre.
    for place in &surveyed.places {
        for x in place.at {
            assert!((x * 1e4 - (x * 1e4).round()).abs() < 1e-6);
        }
    }
}

#[test]
fn a_hook_at_the_hundred_mark_is_named() {
    let found = changed("\"P2 engine.out\" = 486", "\"P2 engine.out\" = 586");
    let slip = find(&found, "survey.tapes.P2-engine.out.slip");
    assert_eq!(slip.grade, Grade::Unsound);
    for part in [
        "P2 to engine.out",
        "long",
        "586 mm",
        "Hook at the 100 mark?",
    ] {
        assert!(
            slip.because.metric.contains(part),
            "{}",
            slip.because.metric
        );
    }
    // It is left out, so that the place stands all the same.
    let place = find(&found, "survey.engine.out.position");
    assert_eq!(place.grade, Grade::Sound, "{}", place.because.metric);
    let surveyed = found.surveyed.unwrap();
    assert_eq!(surveyed.checks.iter().filter(|c| c.left_out).count(), 1);
    let wenna = answer(WENNA);
    let slip = find(&wenna, "survey.tapes.C-exchanger.a.slip");
    assert!(slip.because.metric.contains("Hook at the 100 mark?"));
}

#[test]
fn a_side_that_was_not_told_is_asked_for() {
    let found = changed("side = { P3 = \"right of P1 P2\" }", "");
    let side = find(&found, "survey.pins.side");
    assert_eq!(side.grade, Grade::Unmeasured);
    let how = &side.settles.as_ref().unwrap().how;
    assert!(
        how.contains("side = { P") && how.contains("left of P1 P2"),
        "{how}"
    );
    let place = find(&found, "survey.engine.out.position");
    assert_eq!(place.grade, Grade::Unmeasured);
    assert!(!found.surveyed.unwrap().settled);
    let two = changed(
        "side = { P3 = \"right of P1 P2\" }",
        "side = { P3 = \"right of P1 P2\", P4 = \"left of P1 P2\" }",
    );
    assert_eq!(find(&two, "survey.P4.told.side").grade, Grade::Unsound);
}

#[test]
fn too_little_is_said_in_words() {
    let head = "version = 1\nlengths = \"mm\"\n[engine]\nspigots.out = { od = 38, h = 250 }\nspigots.in = { od = 38 }\n[survey]\npins = { P1 = { h = 100 }, P2 = { h = 140 }, P3 = { h = 90 } }\nside = { P3 = \"left of P1 P2\" }\n";
    let pins = "tapes = { \"P1 P2\" = 1201, \"P1 P3\" = 1401, \"P2 P3\" = 803, ";
    let few = answer(&format!("{head}{pins}\"P1 engine.out\" = 603 }}\n"));
    let place = find(&few, "survey.engine.out.position");
    assert_eq!(place.grade, Grade::Unmeasured);
    assert!(
        place.because.metric.contains("One tape"),
        "{}",
        place.because.metric
    );
    assert_eq!(find(&few, "survey.tapes.agree").grade, Grade::Unmeasured);
    let enough = answer(&format!(
        "{head}{pins}\"P1 engine.out\" = 602, \"P2 engine.out\" = 769 }}\n"
    ));
    let side = find(&enough, "survey.engine.out.side");
    assert_eq!(side.grade, Grade::Unmeasured, "{}", side.because.metric);
    // Without a single height nothing is up.
    let flat = head
        .replace("{ h = 100 }", "{}")
        .replace("{ h = 140 }", "{}");
    let flat = flat.replace("{ h = 90 }", "{}").replace(", h = 250", "");
    let flat = answer(&format!(
        "{flat}{pins}\"P1 engine.out\" = 602, \"P2 engine.out\" = 769, \"P3 engine.out\" = 821 }}\n"
    ));
    assert_eq!(find(&flat, "survey.pins.level").grade, Grade::Unmeasured);
    // Two readings that differ are not taken for either.
    let two = answer(&format!(
        "{head}{pins}\"P1 engine.out\" = [602, 641], \"P2 engine.out\" = 769, \"P3 engine.out\" = 821 }}\n"
    ));
    let reading = find(&two, "survey.tapes.P1-engine.out.reading");
    assert_eq!(reading.grade, Grade::Unmeasured);
}

#[test]
fn a_stub_gives_no_axis_worth_the_name() {
    let root = DUNLIN.replace("\"engine.out\" = 400\n", "");
    let root = root.replace(
        "\"P1 engine.out dowel\" = 1249  # to the far end of a broomstick in it\n\"P2 engine.out dowel\" = 737\n\"P3 engine.out dowel\" = 317\n",
        "\"P1 engine.out root\" = 955\n\"P2 engine.out root\" = 472\n\"P3 engine.out root\" = 622\n\"P4 engine.out root\" = 979\n",
    );
    assert!(root.contains("root"));
    let found = answer(&root);
    let axis = find(&found, "survey.engine.out.axis");
    assert!(axis.grade != Grade::Sound, "{}", axis.because.metric);
    assert!(
        axis.remedy.metric.contains("dowel"),
        "{}",
        axis.remedy.metric
    );
}

#[test]
fn a_boat_without_tapes_hears_nothing_of_them() {
    let text = include_str!("../../../../boats/tansley/boat.toml");
    assert_eq!(of_tape(&answer(text)), [""; 0]);
    let pins = DUNLIN.split("[survey.tapes]").next().unwrap();
    let (boat, _, _) = boat::read(pins);
    let input = Input {
        boat: &boat,
        arrangement: None,
        seed: 1,
        set: Set::Prompt,
        flow: None,
        bay: None,
    };
    let found = reckon(&input, &mut Memo::default());
    assert_eq!(of_tape(&found), [""; 0]);
    assert_eq!(found.surveyed, None);
}
