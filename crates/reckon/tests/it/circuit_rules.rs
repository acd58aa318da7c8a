//! The rules of the circuit: a sound boat of which none complains, and for each rule a mutant of hers
//! that raises this one and no other.

use std::collections::BTreeSet;

use reckon::{Answer, Grade, Set, Stage};

use crate::boats::{Change, answer, edited, read, verdict};

/// The sound boat.
const SOUND: &str = include_str!("../../../../examples/sound.toml");

/// The foot of the header tank moved to the hot side, and the tee that it leaves blanked off.
const FOOT_ON_HOT: [Change; 2] = [
    ("arrangements.after.replace.feed.to", "\"hot.tee\""),
    ("arrangements.after.blank", "[\"suck.tee\"]"),
];

/// The pump of the deck wash with an inlet on which a hose goes.
const TWO_ENDED: &str = "{ kind = \"raw-water pump\", spigots.out = { od = 25.4, h = 60 }, spigots.in = { od = 25.4, h = 60 } }";

/// Ids of all that is not sound.
fn raised(answer: &Answer) -> BTreeSet<String> {
    answer
        .verdicts
        .iter()
        .filter(|verdict| verdict.grade != Grade::Sound)
        .map(|verdict| verdict.id.clone())
        .collect()
}

/// Those of the circuit.
fn of_circuit(answer: &Answer) -> Vec<String> {
    answer
        .verdicts
        .iter()
        .filter(|verdict| verdict.stage == Stage::Circuit && verdict.grade != Grade::Sound)
        .map(|verdict| verdict.id.clone())
        .collect()
}

fn mutant(changes: &[Change]) -> Answer {
    answer(&read(&edited(SOUND, changes)), Set::Prompt)
}

/// A mutant raises one rule of the circuit, of this grade, and no other.
#[track_caller]
fn check(changes: &[Change], id: &str, grade: Grade) {
    let answer = mutant(changes);
    assert_eq!(of_circuit(&answer), [id], "{changes:?}");
    let verdict = verdict(&answer, id);
    assert_eq!(verdict.grade, grade, "{id}: {}", verdict.because.metric);
    assert!(!verdict.remedy.metric.is_empty(), "{id}");
    assert!(
        !verdict.working.limit.metric.is_empty() || grade == Grade::Unmeasured,
        "{id}"
    );
    assert!(
        !verdict.working.sources.is_empty() || grade == Grade::Unmeasured,
        "{id}"
    );
    assert_eq!(
        verdict.settles.is_some(),
        grade == Grade::Unmeasured
            || id.ends_with("glycol") && verdict.because.metric.contains("nobody knows"),
        "{id}"
    );
}

#[test]
fn the_sound_boat_raises_nothing_in_any_arrangement() {
    let boat = read(SOUND);
    for arrangement in [None, Some("after"), Some("fallback")] {
        let circuit = reckon::circuit(&boat, arrangement).unwrap();
        let wrong: Vec<_> = circuit
            .verdicts
            .iter()
            .filter(|verdict| verdict.grade != Grade::Sound)
            .map(|verdict| (&verdict.id, &verdict.because.metric))
            .collect();
        assert!(wrong.is_empty(), "{arrangement:?}: {wrong:?}");
        assert!(circuit.verdicts.len() >= 10, "{arrangement:?}");
        assert!(circuit.listing.closed);
        assert!(
            circuit.listing.ring.len() >= 6,
            "{:?}",
            circuit.listing.ring
        );
    }
}

/// The five mutants, over the verdicts of all stages.
#[test]
fn five_mutants_each_raise_their_own_verdict_and_nothing_else() {
    let sound = raised(&mutant(&[]));
    let five: [(&[Change], &str, &str); 5] = [
        (&FOOT_ON_HOT, "circuit.header.foot", "runs.feed.to"),
        (
            &[("things.calorifier.coil.top_h", "900")],
            "circuit.calorifier.above-cap",
            "things.calorifier.coil.top_h",
        ),
        (
            &[("things.bleed", "")],
            "circuit.cal-out.bleed",
            "runs.cal-out.high_at",
        ),
        (
            &[("engine.stat.bypass", "\"capped\"")],
            "circuit.engine.bypass",
            "engine.stat.bypass",
        ),
        (
            &[
                (
                    "things.keel-aft.chain",
                    "\"stub G1-1/4 male steel + tail G1-1/4 F x 38 barbed bronze\"",
                ),
                ("things.keel-aft.spigots.tail.od", "38.1"),
                ("things.keel-aft.spigots.tail.bead", "39.4"),
                ("things.keel-aft.spigots.tail.behind_bead", "60"),
                ("things.keel-aft.spigots.tail.bead_width", "4"),
            ],
            "circuit.keel-aft.valve",
            "things.keel-aft.chain",
        ),
    ];
    for (changes, id, place) in five {
        let answer = mutant(changes);
        let new: Vec<String> = raised(&answer).difference(&sound).cloned().collect();
        assert_eq!(new, [id], "{changes:?}");
        let verdict = verdict(&answer, id);
        assert_eq!(verdict.grade, Grade::Unsound, "{id}");
        assert_eq!(verdict.place, place, "{id}");
    }
}

#[test]
fn header_and_vents() {
    check(
        &[("engine.spigots.out.h", "700")],
        "circuit.header.height",
        Grade::Unsound,
    );
    check(
        &[("things.header.cold_mark", ""), ("things.header.cap_h", "")],
        "circuit.header.height",
        Grade::Unmeasured,
    );
    // The seat of the cap alone proves nothing sound, but what stands above it is above the water.
    check(
        &[("things.header.cold_mark", "")],
        "circuit.header.height",
        Grade::Unmeasured,
    );
    check(
        &[
            ("things.header.cold_mark", ""),
            ("engine.spigots.out.h", "900"),
        ],
        "circuit.header.height",
        Grade::Unsound,
    );
    // The calorifier counts like any other point of the loop.
    check(
        &[("things.header.cold_mark", "500")],
        "circuit.header.height",
        Grade::Unsound,
    );
    check(&FOOT_ON_HOT, "circuit.header.foot", Grade::Unsound);
    check(
        &[
            (
                "runs.vent.way",
                "\"hose 8 epdm 300 long + tee 8 x 8 x 8 brass 40 long + hose 8 epdm\"",
            ),
            ("things.gearbox.spigots.vent", "{ od = 8.2, h = 70 }"),
            (
                "runs.vent2",
                "{ from = \"gearbox.vent\", to = \"vent.tee\", carries = \"vent\", way = \"hose 8 epdm\" }",
            ),
        ],
        "circuit.vent2.teed",
        Grade::Marginal,
    );
    check(
        &[("runs.vent.low_at", "300")],
        "circuit.vent.slope",
        Grade::Unsound,
    );
    check(
        &[("runs.vent.way", "\"hose 12 epdm\"")],
        "circuit.vent.bore",
        Grade::Marginal,
    );
    check(
        &[
            ("things.calorifier.spigots.c", "{ od = 8.2, h = 535 }"),
            ("runs.vent.to", "\"calorifier.c\""),
        ],
        "circuit.vent.end",
        Grade::Unsound,
    );
    check(
        &[("engine.cap", "\"0.9 bar\""), ("engine.cap_h", "500")],
        "circuit.engine.caps",
        Grade::Unsound,
    );
}

#[test]
fn the_height_of_the_header_tank_is_told_in_figures_and_settled_by_its_mark() {
    let low = mutant(&[("things.header.cold_mark", "500")]);
    let said = verdict(&low, "circuit.header.height");
    assert!(
        said.because.metric.contains("+540 mm") && said.because.metric.contains("40 mm too low"),
        "{}",
        said.because.metric
    );
    let unmarked = mutant(&[("things.header.cold_mark", "")]);
    let said = verdict(&unmarked, "circuit.header.height");
    assert_eq!(
        said.settles.as_ref().unwrap().place,
        "things.header.cold_mark"
    );
    // Where the calorifier stands above the cap, the tank's height is not called sound.
    let high = mutant(&[("things.calorifier.coil.top_h", "900")]);
    assert!(
        high.verdicts
            .iter()
            .all(|verdict| verdict.id != "circuit.header.height")
    );
}

#[test]
fn open_ends() {
    check(
        &[("arrangements.after.blank", "[]")],
        "circuit.hot.tee.open",
        Grade::Unsound,
    );
    // Its edit blanks it off, and keeps what is blanked off already.
    let text = edited(SOUND, &[("arrangements.after.blank", "[\"header.vent\"]")]);
    let before = answer(&read(&text), Set::Prompt);
    let edit = &verdict(&before, "circuit.hot.tee.open").edits[0];
    assert_eq!(edit.place, "arrangements.after.blank");
    let text = boat::set_value(&text, &edit.place, &edit.to).unwrap();
    let after = answer(&read(&text), Set::Prompt);
    assert!(
        after
            .verdicts
            .iter()
            .all(|verdict| verdict.id != "circuit.hot.tee.open")
    );
    assert!(text.contains("header.vent"));
    // A hull fitting without its hose: under water the sea comes in, above it it does not.
    let fitting = |h: &str, chain: &str| {
        format!(
            "{{ kind = \"hull fitting\", chain = \"{chain}\", spigots.tail = {{ od = 25.4, bead = 27.0, behind_bead = 60, bead_width = 4, h = {h} }}, h = {h}, isolated = true }}"
        )
    };
    let valve =
        "stub G1 male steel + ball valve G1 F F bronze bore 25 + tail G1 M x 25 barbed bronze";
    let low = fitting("-150", valve);
    check(
        &[("things.spare", &low)],
        "circuit.spare.open",
        Grade::Unsound,
    );
    check(
        &[
            ("things.spare", &low),
            ("arrangements.after.shut", "[\"spare.valve\"]"),
        ],
        "circuit.spare.open",
        Grade::Marginal,
    );
    let capped = mutant(&[
        ("things.spare", &low),
        ("arrangements.after.blank", "[\"hot.tee\", \"spare.tail\"]"),
    ]);
    assert_eq!(of_circuit(&capped), Vec::<String>::new());
    let unknown = fitting("\"?\"", valve);
    check(
        &[("things.spare", &unknown)],
        "circuit.spare.open",
        Grade::Unmeasured,
    );
    let high = fitting("250", valve);
    assert_eq!(
        of_circuit(&mutant(&[("things.spare", &high)])),
        Vec::<String>::new()
    );
    // A fitting without a hose wants its valve like any other.
    let bare = fitting("-150", "stub G1 male steel + tail G1 F x 25 barbed bronze");
    let bare = mutant(&[
        ("things.spare", &bare),
        ("arrangements.after.blank", "[\"hot.tee\", \"spare.tail\"]"),
    ]);
    assert_eq!(of_circuit(&bare), ["circuit.spare.valve"]);
}

#[test]
fn a_run_written_backwards_is_named() {
    let wrong = mutant(&[
        ("runs.hot.from", "\"keel-fwd\""),
        ("runs.hot.to", "\"engine.out\""),
    ]);
    let said = verdict(&wrong, "circuit.engine.loop");
    assert!(
        said.because
            .metric
            .contains("hot ends at engine.out, where water comes out"),
        "{}",
        said.because.metric
    );
    assert!(said.remedy.metric.contains("Swap"));
}

#[test]
fn a_second_cap_is_blanked_by_its_edit() {
    let text = edited(
        SOUND,
        &[("engine.cap", "\"0.9 bar\""), ("engine.cap_h", "500")],
    );
    let before = answer(&read(&text), Set::Prompt);
    let edit = &verdict(&before, "circuit.engine.caps").edits[0];
    let text = boat::set_value(&text, &edit.place, &edit.to).unwrap();
    assert_eq!(
        of_circuit(&answer(&read(&text), Set::Prompt)),
        Vec::<String>::new()
    );
}

#[test]
fn air_and_drains() {
    check(
        &[("things.bleed", "")],
        "circuit.cal-out.bleed",
        Grade::Unsound,
    );
    check(
        &[("things.bleed.h", "400")],
        "circuit.cal-out.bleed",
        Grade::Unsound,
    );
    check(
        &[("things.drain", "")],
        "circuit.cal-back.drain",
        Grade::Marginal,
    );
    check(
        &[("things.gearbox.spigots.both.h", "")],
        "circuit.air.heights",
        Grade::Unmeasured,
    );
}

#[test]
fn hull() {
    let bare = "\"stub G1-1/4 male steel + tail G1-1/4 F x 38 barbed bronze\"";
    check(
        &[("things.keel-aft.chain", bare)],
        "circuit.keel-aft.valve",
        Grade::Unsound,
    );
    check(
        &[
            ("things.keel-aft.chain", bare),
            (
                "runs.cold.way",
                "\"hose 38 wired + valve 38 full bronze + hose 38 wired\"",
            ),
        ],
        "circuit.keel-aft.outboard",
        Grade::Unsound,
    );
    check(
        &[("things.keel-aft.isolated", "false")],
        "circuit.keel-aft.isolated",
        Grade::Marginal,
    );
    check(
        &[("things.keel-aft.isolated", "\"?\"")],
        "circuit.keel-aft.isolated",
        Grade::Unmeasured,
    );
    // On a hull of glass nothing wastes.
    let glass = mutant(&[
        ("things.keel-aft.isolated", "false"),
        ("boat.hull", "\"glass\""),
    ]);
    assert_eq!(of_circuit(&glass), Vec::<String>::new());
    // Where the stack is not written, nobody knows.
    check(
        &[
            (
                "things.keel-aft.chain",
                "\"stub G1-1/4 male steel + ball valve G1-1/4 F F bronze bore 36 + tail G1-1/4 M x 38 barbed bronze\"",
            ),
            ("things.keel-fwd.chain", ""),
        ],
        "circuit.keel-fwd.valve",
        Grade::Unmeasured,
    );
}

#[test]
fn suction_and_main_loop() {
    let with = |valve: &str| {
        format!("\"stub G1-1/4 male steel + {valve} + tail G1-1/4 M x 38 barbed bronze\"")
    };
    let gate = with("gate valve G1-1/4 F F bronze bore 36");
    check(
        &[("things.keel-aft.chain", &gate)],
        "circuit.keel-aft.valve.gate",
        Grade::Marginal,
    );
    let narrow = with("ball valve G1-1/4 F F bronze bore 20");
    check(
        &[("things.keel-aft.chain", &narrow)],
        "circuit.keel-aft.valve.port",
        Grade::Marginal,
    );
    let hot = |valve: &str| format!("\"hose 38 epdm + {valve} + hose 38 epdm\"");
    for (valve, id) in [
        ("valve 38 bronze", "circuit.hot.valve.port"),
        ("valve 38 bronze bore 25", "circuit.hot.valve.port"),
        ("gate 38 bronze", "circuit.hot.gate.gate"),
        ("gate 38 full bronze", "circuit.hot.gate.gate"),
    ] {
        let way = hot(valve);
        let changes = [
            ("arrangements.after.replace.hot.way", way.as_str()),
            ("arrangements.after.blank", "[]"),
            ("joints", ""),
        ];
        check(&changes, id, Grade::Marginal);
    }
    // One whose bore is as good as the hose's, and one that only the water shuts.
    for valve in [
        "valve 38 bronze bore 37",
        "cone 38 full bronze",
        "check 38 bronze",
    ] {
        let way = hot(valve);
        let judged = mutant(&[
            ("arrangements.after.replace.hot.way", way.as_str()),
            ("arrangements.after.blank", "[]"),
            ("joints", ""),
        ]);
        assert_eq!(of_circuit(&judged), Vec::<String>::new(), "{valve}");
    }
    check(
        &[("things.keel.pipes.metal", "\"steel\"")],
        "circuit.keel.strainer",
        Grade::Marginal,
    );
    check(
        &[("runs.cold.way", "\"hose 38 epdm\"")],
        "circuit.cold.hose",
        Grade::Marginal,
    );
    check(
        &[("runs.cold.way", "\"hose 38 plain rubber\"")],
        "circuit.cold.hose",
        Grade::Unsound,
    );
    check(
        &[("runs.cold.way", "\"hose 38\"")],
        "circuit.cold.hose",
        Grade::Unmeasured,
    );
    check(
        &[(
            "runs.cold.way",
            "\"hose 42 wired + reducer 42>38 bronze + hose 38 wired\"",
        )],
        "circuit.cold.reducer.reducer",
        Grade::Marginal,
    );
}

#[test]
fn heat() {
    check(
        &[("engine.stat.bypass", "\"capped\"")],
        "circuit.engine.bypass",
        Grade::Unsound,
    );
    for told in ["\"?\"", "\"a hose somewhere\"", ""] {
        check(
            &[("engine.stat.bypass", told)],
            "circuit.engine.bypass",
            Grade::Unmeasured,
        );
    }
    check(
        &[(
            "engine.paths",
            "[\"in > pump > block > head > stat\", \"stat.hot > out\", \"stat.hot > heat-out\", \"heat-in > pump\"]",
        )],
        "circuit.engine.shut",
        Grade::Unsound,
    );
    // A way round by the calorifier is no by-pass.
    check(
        &[(
            "engine.paths",
            "[\"in > pump > block > head > stat\", \"stat.hot > out\", \"head > heat-out\", \"heat-in > pump\"]",
        )],
        "circuit.engine.bypass",
        Grade::Unmeasured,
    );
    check(
        &[
            ("runs.cold.to", "\"engine.in\""),
            ("runs.suck", ""),
            ("runs.feed.to", "\"cold.tee\""),
            ("joints", ""),
            (
                "runs.cold.way",
                "\"hose 38 wired + tee 38 x 38 x 19 bronze + hose 38 wired\"",
            ),
        ],
        "circuit.gearbox.water",
        Grade::Unsound,
    );
    check(
        &[("arrangements.after.remove", "[\"keel\"]")],
        "circuit.engine.loop",
        Grade::Unsound,
    );
    check(
        &[("engine.paths", "")],
        "circuit.engine.inside",
        Grade::Unmeasured,
    );
    check(
        &[("coolant.wanted.kind", "\"ethylene, organic acid\"")],
        "circuit.calorifier.glycol",
        Grade::Unsound,
    );
    check(
        &[
            ("coolant.wanted.kind", "\"ethylene, organic acid\""),
            ("things.calorifier.coil.skins", "\"?\""),
        ],
        "circuit.calorifier.glycol",
        Grade::Unsound,
    );
    check(
        &[("coolant.wanted.kind", "")],
        "circuit.calorifier.glycol",
        Grade::Unmeasured,
    );
    let two = mutant(&[
        ("coolant.wanted.kind", "\"ethylene, organic acid\""),
        ("things.calorifier.coil.skins", "2"),
    ]);
    assert_eq!(of_circuit(&two), Vec::<String>::new());
}

#[test]
fn calorifier_and_its_pump() {
    check(
        &[("things.calorifier.coil.top_h", "900")],
        "circuit.calorifier.above-cap",
        Grade::Unsound,
    );
    check(
        &[
            (
                "runs.cold.way",
                "\"hose 38 wired + tee 38 x 38 x 16 bronze + hose 38 wired\"",
            ),
            ("runs.cal-out.from", "\"cold.tee\""),
        ],
        "circuit.calorifier.cold-side",
        Grade::Marginal,
    );
    check(
        &[
            ("runs.hot.to", "\"calorifier.a\""),
            ("runs.hot.high_at", "540"),
            ("runs.cal-out.from", "\"calorifier.b\""),
            ("runs.cal-out.to", "\"keel-fwd\""),
            ("runs.cal-out.high_at", ""),
            ("things.bleed.in", "\"hot\""),
            ("runs.cal-back", ""),
            ("runs.cal-home", ""),
            ("things.booster", ""),
            ("things.drain", ""),
            ("arrangements.fallback", ""),
        ],
        "circuit.calorifier.series",
        Grade::Unsound,
    );
    check(
        &[("things.booster.kind", "\"raw-water pump\"")],
        "circuit.booster.heat",
        Grade::Unsound,
    );
    check(
        &[("things.booster.stands", "\"90 °C\"")],
        "circuit.booster.heat",
        Grade::Unsound,
    );
    check(
        &[("things.booster.stands", "")],
        "circuit.booster.heat",
        Grade::Unmeasured,
    );
    check(
        &[("things.booster.paths", "[\"b > wheel > a\"]")],
        "circuit.booster.direction",
        Grade::Unsound,
    );
}

#[test]
fn the_fallback() {
    check(
        &[("arrangements.fallback.tried", "\"never\"")],
        "circuit.fallback.tried",
        Grade::Unsound,
    );
    check(
        &[("arrangements.fallback.tried", "")],
        "circuit.fallback.tried",
        Grade::Unmeasured,
    );
    for (year, grade) in [
        ("2027", Grade::Sound),
        ("2028", Grade::Marginal),
        ("", Grade::Unmeasured),
        ("2025", Grade::Unmeasured),
    ] {
        let answer = mutant(&[("job.year", year)]);
        let tried = verdict(&answer, "circuit.fallback.tried");
        assert_eq!(tried.grade, grade, "{year}: {}", tried.because.metric);
        let settles = tried.settles.as_ref().map(|settles| settles.place.as_str());
        let place = match year {
            "" => Some("job.year"),
            "2025" => Some("arrangements.fallback.tried"),
            _ => None,
        };
        assert_eq!(settles, place, "{year}");
    }
    check(
        &[("arrangements.fallback.tried", "\"last spring\"")],
        "circuit.fallback.tried",
        Grade::Unmeasured,
    );
    // An exchanger of which no raw water is drawn, and one whose pump has an inlet with no hose on it.
    check(
        &[
            ("arrangements.fallback.add.wash", ""),
            ("arrangements.fallback.add.spill", ""),
        ],
        "circuit.fallback.sink",
        Grade::Unmeasured,
    );
    check(
        &[("arrangements.fallback.add.deckwash", TWO_ENDED)],
        "circuit.fallback.sink",
        Grade::Unmeasured,
    );
    // A pump that is led to by a shut valve brings nothing.
    check(
        &[
            ("arrangements.fallback.add.deckwash", TWO_ENDED),
            (
                "arrangements.fallback.add.draw",
                "{ from = \"inlet\", to = \"deckwash.in\", carries = \"raw water\", way = \"hose 25 wired\" }",
            ),
            (
                "arrangements.fallback.add.inlet",
                "{ kind = \"hull fitting\", chain = \"stub G1 male steel + ball valve G1 F F steel bore 25 + tail G1 M x 25 barbed steel\", h = -200 }",
            ),
            (
                "arrangements.fallback.shut",
                "[\"keel-fwd.valve\", \"keel-aft.valve\", \"inlet.valve\"]",
            ),
        ],
        "circuit.fallback.sink",
        Grade::Unsound,
    );
    check(
        &[
            ("arrangements.fallback.add", ""),
            ("arrangements.fallback.replace.hot.to", "\"gearbox.a\""),
            ("arrangements.fallback.replace.cold", ""),
            ("arrangements.fallback.remove", "[\"cold\"]"),
        ],
        "circuit.fallback.sink",
        Grade::Unsound,
    );
}

/// A layout stands in for the inside only where the file lets it, says so, and gives way to what is typed.
#[test]
fn a_layout_is_assumed_only_where_it_may_be() {
    let assumed = mutant(&[("engine.paths", ""), ("job.assume", "[\"engine inside\"]")]);
    assert_eq!(of_circuit(&assumed), Vec::<String>::new());
    let says = |answer: &Answer| {
        verdict(answer, "circuit.heat.water")
            .working
            .steps
            .iter()
            .any(|step| {
                step.filled
                    .metric
                    .contains("(assumed) engine: header apart")
            })
    };
    assert!(says(&assumed));
    let typed = mutant(&[("job.assume", "[\"engine inside\"]")]);
    assert!(!says(&typed));
    check(
        &[
            ("engine.paths", ""),
            ("engine.layout", "\"a big one\""),
            ("job.assume", "[\"engine inside\"]"),
        ],
        "circuit.engine.inside",
        Grade::Unmeasured,
    );
}

/// Nothing is offered at the hull that one could be tempted to do afloat.
#[test]
fn no_edit_is_offered_at_the_hull() {
    let bare = "\"stub G1-1/4 male steel + tail G1-1/4 F x 38 barbed bronze\"";
    let answer = mutant(&[("things.keel-aft.chain", bare)]);
    let verdict = verdict(&answer, "circuit.keel-aft.valve");
    assert!(verdict.edits.is_empty());
    assert!(verdict.remedy.metric.contains("lifted out"));
    assert!(verdict.caution.as_ref().unwrap().contains("afloat"));
}

/// Keel pipes without hull fittings: the valve must then stand in the runs, with no hose outboard of it.
const DIRECT: [Change; 7] = [
    ("things.keel.between", ""),
    (
        "things.keel.spigots.both",
        "{ od = 38.1, bead = 39.4, behind_bead = 45, bead_width = 4, form = \"beaded\", metal = \"316\", h = -300 }",
    ),
    ("runs.hot.to", "\"keel.a\""),
    ("runs.cold.from", "\"keel.b\""),
    ("things.keel-aft", ""),
    ("things.keel-fwd", ""),
    ("arrangements.fallback", ""),
];

#[test]
fn keel_pipes_that_are_led_to_directly_want_a_valve_too() {
    check(&DIRECT, "circuit.keel.valve", Grade::Unsound);
    let valve = "\"hose 38 wired + valve 38 full bronze + hose 38 wired\"";
    let mut soft = DIRECT.to_vec();
    soft.extend([
        ("runs.cold.way", valve),
        ("arrangements.after.replace.hot.way", valve),
        ("arrangements.after.blank", "[]"),
        ("joints", ""),
    ]);
    check(&soft, "circuit.keel.outboard", Grade::Unsound);
}

#[test]
fn a_copper_alloy_on_aluminium_is_unsound_isolated_or_not() {
    let ids = ["circuit.keel-fwd.isolated", "circuit.keel-aft.isolated"];
    let aluminium = mutant(&[("boat.hull", "\"aluminium\"")]);
    assert_eq!(of_circuit(&aluminium), ids);
    let untold = mutant(&[("boat.hull", "")]);
    assert_eq!(of_circuit(&untold), ids);
    for id in ids {
        let said = verdict(&aluminium, id);
        assert_eq!(said.grade, Grade::Unsound, "{id}");
        assert!(!said.remedy.metric.contains("pad"), "{id}");
        let said = verdict(&untold, id);
        assert_eq!(said.grade, Grade::Unmeasured, "{id}");
        assert_eq!(said.settles.as_ref().unwrap().place, "boat.hull", "{id}");
    }
    let waters = [
        ("boat.sea.salinity", ""),
        ("things.keel-aft.isolated", "false"),
    ];
    check(&waters, "circuit.keel-aft.isolated", Grade::Unmeasured);
    let fresh = mutant(&[
        ("boat.sea.salinity", "0"),
        ("things.keel-aft.isolated", "false"),
    ]);
    assert_eq!(of_circuit(&fresh), Vec::<String>::new());
}

#[test]
fn old_ethylene_glycol_is_poison_behind_one_skin_whatever_is_wanted() {
    for inside in [
        "{ volume = \"2 L\", kind = \"ethylene, organic acid\" }",
        "{ volume = \"2 L\", kind = \"?\" }",
        "{ volume = \"2 L\" }",
    ] {
        check(
            &[("coolant.inside", inside)],
            "circuit.calorifier.old-glycol",
            Grade::Unsound,
        );
    }
    for inside in [
        "{ kind = \"water\" }",
        "{ volume = \"2 L\", kind = \"propylene, organic acid\" }",
    ] {
        let flushed = mutant(&[("coolant.inside", inside)]);
        assert_eq!(of_circuit(&flushed), Vec::<String>::new(), "{inside}");
    }
    let two = mutant(&[
        ("coolant.inside", "{ kind = \"ethylene, organic acid\" }"),
        ("things.calorifier.coil.skins", "2"),
    ]);
    assert_eq!(of_circuit(&two), Vec::<String>::new());
}

#[test]
fn the_words_of_the_coolant_are_read_and_kept_as_the_owner_wrote_them() {
    let free = mutant(&[("coolant.wanted.kind", "\"propylene, free of ethylene\"")]);
    assert_ne!(
        verdict(&free, "circuit.calorifier.glycol").grade,
        Grade::Unsound
    );
    let capital = mutant(&[("coolant.wanted.kind", "\"Ethylene, Organic Acid\"")]);
    let edit = &verdict(&capital, "circuit.calorifier.glycol").edits[0];
    assert_eq!(edit.to, "\"Propylene, Organic Acid\"");
}

#[test]
fn a_vent_rises_only_if_it_surely_does() {
    check(
        &[("things.header.spigots.vent.h", "368")],
        "circuit.vent.slope",
        Grade::Marginal,
    );
    check(
        &[("things.header.spigots.vent.h", "340")],
        "circuit.vent.slope",
        Grade::Unsound,
    );
}

#[test]
fn bleeds_and_drains_of_unknown_height_are_not_in_place() {
    check(
        &[("things.bleed.h", "")],
        "circuit.cal-out.bleed",
        Grade::Unmeasured,
    );
    check(
        &[("things.drain.h", "\"?\"")],
        "circuit.cal-back.drain",
        Grade::Unmeasured,
    );
    let port = |h: &str| {
        let text = edited(
            SOUND,
            &[("arrangements.fallback.add.exchanger.ports.drain.h", h)],
        );
        let circuit = reckon::circuit(&read(&text), Some("fallback")).unwrap();
        let said = circuit
            .verdicts
            .iter()
            .find(|said| said.id == "circuit.exchanger.drain");
        said.map(|said| said.grade)
    };
    assert_eq!(port("12"), None);
    assert_eq!(port("\"?\""), Some(Grade::Unmeasured));
    assert_eq!(port("90"), Some(Grade::Marginal));
}

#[test]
fn a_way_left_to_the_tool_is_no_wired_hose() {
    check(
        &[("runs.cold.way", "\"choose\"")],
        "circuit.cold.hose",
        Grade::Unmeasured,
    );
}

#[test]
fn a_layout_that_is_denied_is_not_assumed() {
    let assume = ("job.assume", "[\"engine inside\"]");
    check(
        &[
            ("engine.paths", ""),
            ("engine.layout", "\"no header tank on the engine\""),
            assume,
        ],
        "circuit.engine.inside",
        Grade::Unmeasured,
    );
    let assumed = mutant(&[("engine.paths", ""), assume]);
    let because = &verdict(&assumed, "circuit.heat.water").because.metric;
    assert!(because.ends_with(", by the assumed layout."), "{because}");
}

#[test]
fn the_hole_in_the_thermostat_and_a_wide_loop_beside_the_main_one() {
    check(
        &[("engine.stat.hole", "0")],
        "circuit.engine.hole",
        Grade::Marginal,
    );
    check(
        &[("engine.stat.hole", "\"?\"")],
        "circuit.engine.hole",
        Grade::Unmeasured,
    );
    let tee = "\"hose 38 epdm 500 long + tee 38 x 38 x 38 bronze 100 long + hose 38 epdm\"";
    let wide = |way: &'static str, coil: &'static str| {
        [
            ("runs.hot.way", tee),
            ("arrangements.after.replace.hot.way", tee),
            ("arrangements.after.blank", "[]"),
            ("runs.cal-out.from", "\"hot.tee\""),
            ("runs.cal-out.way", way),
            ("things.calorifier.coil.bore", coil),
        ]
    };
    check(
        &wide("\"hose 38 epdm\"", "32"),
        "circuit.calorifier.takes",
        Grade::Marginal,
    );
    // A narrow hose or coil throttles it.
    for (way, coil) in [("\"hose 16 epdm\"", "32"), ("\"hose 38 epdm\"", "14")] {
        let narrow = mutant(&wide(way, coil));
        assert_eq!(of_circuit(&narrow), Vec::<String>::new(), "{way} {coil}");
    }
}

/// Two engines that share no water: neither the tank nor the cooler of one helps the other.
#[test]
fn each_circuit_is_judged_by_its_own_tank_and_cooler() {
    let two = include_str!("../../../../examples/engines/two-engines.toml");
    let low = edited(
        two,
        &[
            ("things.port-header.cold_mark", "120"),
            ("things.port-header.cap_h", "200"),
        ],
    );
    let judged = answer(&read(&low), Set::Prompt);
    let grade = |judged: &Answer, id: &str| verdict(judged, id).grade;
    assert_eq!(grade(&judged, "circuit.port-header.height"), Grade::Unsound);
    assert_eq!(grade(&judged, "circuit.header.height"), Grade::Sound);
    assert_eq!(
        grade(&judged, "circuit.calorifier.above-cap"),
        Grade::Unsound
    );
    let uncooled = edited(
        two,
        &[
            ("runs.port-hot", ""),
            ("runs.port-cold.from", "\"port-engine.out\""),
            ("things.port-keel", ""),
            ("things.port-keel-fwd", ""),
            ("things.port-keel-aft", ""),
        ],
    );
    let judged = answer(&read(&uncooled), Set::Prompt);
    assert_eq!(grade(&judged, "circuit.loop.sink"), Grade::Sound);
    assert_eq!(
        grade(&judged, "circuit.loop.port-engine-pump.sink"),
        Grade::Unsound
    );
}

#[test]
fn a_trial_that_works_the_hull_valves_says_what_to_have_ready() {
    let never = mutant(&[("arrangements.fallback.tried", "\"never\"")]);
    let said = verdict(&never, "circuit.fallback.tried");
    assert!(said.caution.as_ref().unwrap().contains("second person"));
    let open = mutant(&[
        ("arrangements.fallback.tried", "\"never\""),
        ("arrangements.fallback.shut", "[]"),
    ]);
    let said = verdict(&open, "circuit.fallback.tried");
    assert!(!said.caution.as_ref().unwrap().contains("second person"));
}

/// Paths that know no hot side of the thermostat do not hide a capped by-pass.
#[test]
fn a_capped_by_pass_is_told_however_the_paths_are_written() {
    let bare =
        "[\"in > pump > block > head > stat > out\", \"head > heat-out\", \"heat-in > pump\"]";
    let capped = mutant(&[("engine.paths", bare), ("engine.stat.bypass", "\"capped\"")]);
    let said = verdict(&capped, "circuit.engine.bypass");
    assert_eq!(said.grade, Grade::Unsound);
    let vague = mutant(&[("engine.stat.bypass", "\"open question\"")]);
    let said = verdict(&vague, "circuit.engine.bypass");
    assert_eq!(said.grade, Grade::Unmeasured);
}
