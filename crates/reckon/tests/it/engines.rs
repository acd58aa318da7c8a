//! Engines as people own them: each way of building one as a small boat file that is judged.

use reckon::{Grade, Set, Stage};

use crate::boats::{answer, edited, read, verdict};

/// The boats by name, each with what its loop is cooled by.
const ENGINES: [(&str, &str, &[&str]); 7] = [
    (
        "header-apart",
        include_str!("../../../../examples/engines/header-apart.toml"),
        &["keel"],
    ),
    (
        "in-one",
        include_str!("../../../../examples/engines/in-one.toml"),
        &["the exchanger in engine"],
    ),
    (
        "in-one-keel-cooled",
        include_str!("../../../../examples/engines/in-one-keel-cooled.toml"),
        &["keel"],
    ),
    (
        "manifold-on-raw-water",
        include_str!("../../../../examples/engines/manifold-on-raw-water.toml"),
        &["keel"],
    ),
    (
        "combined-oil-coolers",
        include_str!("../../../../examples/engines/combined-oil-coolers.toml"),
        &["keel"],
    ),
    (
        "two-circuits",
        include_str!("../../../../examples/engines/two-circuits.toml"),
        &["keel", "skin"],
    ),
    (
        "two-engines",
        include_str!("../../../../examples/engines/two-engines.toml"),
        &["keel", "port-keel"],
    ),
];

#[test]
fn each_engine_is_read_and_its_circuit_holds() {
    for (name, text, coolers) in ENGINES {
        let boat = read(text);
        let circuit = reckon::circuit(&boat, None).unwrap();
        let wrong: Vec<_> = circuit
            .verdicts
            .iter()
            .filter(|verdict| verdict.grade != Grade::Sound)
            .map(|verdict| (&verdict.id, &verdict.because.metric))
            .collect();
        assert!(wrong.is_empty(), "{name}: {wrong:?}");
        assert_eq!(circuit.listing.coolers, coolers, "{name}");
        assert!(circuit.listing.closed, "{name}");
        // The layout is said to be assumed, in the list and in a working.
        assert!(!circuit.listing.assumed.is_empty(), "{name}");
        let said = circuit
            .verdicts
            .iter()
            .flat_map(|verdict| &verdict.working.steps)
            .any(|step| step.filled.metric.starts_with("(assumed) "));
        assert!(said, "{name}");
        // What is judged as a whole holds the same verdicts.
        let whole = answer(&boat, Set::Prompt);
        let of_circuit = whole
            .verdicts
            .iter()
            .filter(|verdict| verdict.stage == Stage::Circuit)
            .count();
        assert_eq!(of_circuit, circuit.verdicts.len(), "{name}");
    }
}

#[test]
fn without_leave_to_assume_the_inside_is_asked_for() {
    for (name, text, _) in ENGINES {
        let answer = answer(&read(&edited(text, &[("job.assume", "[]")])), Set::Prompt);
        let inside = verdict(&answer, "circuit.engine.inside");
        assert_eq!(inside.grade, Grade::Unmeasured, "{name}");
        assert_eq!(
            inside.settles.as_ref().unwrap().place,
            "engine.paths",
            "{name}"
        );
    }
}

#[test]
fn each_of_two_engines_is_judged_by_itself() {
    let (_, text, _) = ENGINES[6];
    let capped = edited(text, &[("things.port-engine.stat.bypass", "\"capped\"")]);
    let answer = answer(&read(&capped), Set::Prompt);
    let wrong: Vec<&String> = answer
        .verdicts
        .iter()
        .filter(|verdict| verdict.stage == Stage::Circuit && verdict.grade != Grade::Sound)
        .map(|verdict| &verdict.id)
        .collect();
    assert_eq!(wrong, ["circuit.port-engine.bypass"]);
}

#[test]
fn an_exchanger_without_raw_water_cools_nothing() {
    let (_, text, _) = ENGINES[1];
    let dry = edited(
        text,
        &[
            ("things.rawpump", ""),
            ("things.sea-in", ""),
            ("runs.sea", ""),
            ("runs.push", ""),
        ],
    );
    let judged = answer(&read(&dry), Set::Prompt);
    assert_eq!(verdict(&judged, "circuit.loop.sink").grade, Grade::Unsound);
    // With no hose of raw water drawn at all nobody knows what cools it.
    let undrawn = edited(&dry, &[("runs.spray", "")]);
    let judged = answer(&read(&undrawn), Set::Prompt);
    let sink = verdict(&judged, "circuit.loop.sink");
    assert_eq!(sink.grade, Grade::Unmeasured, "{}", sink.because.metric);
    assert_eq!(sink.settles.as_ref().unwrap().place, "runs");
}

#[test]
fn a_raw_water_pump_behind_a_shut_valve_brings_nothing() {
    let (_, text, _) = ENGINES[1];
    let shut = edited(text, &[("arrangements.after.shut", "[\"sea-in.valve\"]")]);
    let judged = answer(&read(&shut), Set::Prompt);
    assert_eq!(verdict(&judged, "circuit.after.sink").grade, Grade::Unsound);
}
