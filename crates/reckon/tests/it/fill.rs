//! The verdicts of filling: a case for each grade, on a small boat and from a few numbers.

use quantity::{Ratio, Reading, System, parse_reading};
use reckon::{FillAsk, FillOutput, Grade, RiseAsk, SaltAsk, SaltOutput, brine, filling};
use reference::salt::PracticalSalinity;

use crate::boats::{Change, small, verdict, works_out};

fn reading<Q: quantity::Quantity>(text: &str) -> Reading<Q> {
    parse_reading(text, None).unwrap_or_else(|error| panic!("{text}: {error}"))
}

/// Twenty litres at 50 % with some water inside.
fn twenty(inside: &str) -> FillOutput {
    filling(&FillAsk {
        volume: Some(reading("20 L")),
        wanted: Some(Ratio::percent(50.0)),
        inside: Some(reading(inside)),
        ..FillAsk::default()
    })
}

fn of<'a>(output: &'a FillOutput, rule: &str) -> &'a reckon::Verdict {
    let id = format!("fill.coolant.{rule}");
    let found = output.verdicts.iter().find(|verdict| verdict.id == id);
    found.unwrap_or_else(|| panic!("no {id} among {:#?}", output.verdicts))
}

#[test]
fn the_bar_of_twenty_litres() {
    let seven = twenty("7 L");
    let text = |number: &Option<reckon::Number>| {
        number
            .as_ref()
            .expect("a figure")
            .text
            .in_units(System::Metric)
            .to_owned()
    };
    assert_eq!(text(&seven.row.pour), "10 L");
    assert_eq!(text(&seven.row.water), "3 L");
    assert_eq!(text(&seven.row.ready_mix), "32.5 %");
    assert_eq!(text(&seven.row.ready_mix_freezes), "−18 °C");
    let recipe = of(&seven, "recipe");
    assert_eq!(recipe.grade, Grade::Sound);
    let because = &recipe.because.metric;
    for said in [
        "10 L of concentrate first",
        "then 3 L",
        "32.5 %",
        "−18 °C",
        "too little inhibitor",
    ] {
        assert!(because.contains(said), "{said} not in: {because}");
    }
    assert!(recipe.caution.is_some());

    let eleven = twenty("11 L");
    let recipe = of(&eleven, "recipe");
    assert_eq!(recipe.grade, Grade::Unsound);
    assert!(
        recipe.because.metric.contains("can't be reached"),
        "{}",
        recipe.because.metric
    );
    assert!(
        recipe.remedy.metric.contains("Drain 1 L more"),
        "{}",
        recipe.remedy.metric
    );
}

/// What a small boat says of her coolant, all of it measured and sound.
const WHOLE: [Change; 4] = [
    (
        "coolant.wanted",
        "{ kind = \"ethylene, organic acid\", percent = 50, stand_frost = \"-20 °C\" }",
    ),
    ("coolant.volume", "\"20 ± 0.5 L\""),
    (
        "coolant.inside",
        "{ volume = \"3 ± 0.3 L\", percent = 0, kind = \"water\" }",
    ),
    ("things.header.above_mark", "\"2.5 ± 0.1 L\""),
];

/// Checks grade and reason of one verdict of a boat whose coolant is all known, with some changes.
#[track_caller]
fn check(changes: &[Change], rule: &str, grade: Grade, says: &[&str]) {
    let changes: Vec<Change> = WHOLE.iter().chain(changes).copied().collect();
    let answer = small(&changes);
    let verdict = verdict(&answer, &format!("fill.coolant.{rule}"));
    let because = &verdict.because.metric;
    assert_eq!(verdict.grade, grade, "{because}");
    for said in says {
        assert!(because.contains(said), "{said} not in: {because}");
    }
    assert_eq!(
        verdict.settles.is_some(),
        grade == Grade::Unmeasured,
        "{because}"
    );
    let says_what_to_do = !verdict.remedy.metric.is_empty();
    assert_eq!(says_what_to_do, grade != Grade::Sound, "{because}");
}

fn wanted(text: &str) -> Change<'_> {
    ("coolant.wanted", text)
}

#[test]
fn a_mix_must_stand_the_frost_by_any_table() {
    let rule = "frost";
    check(&[], rule, Grade::Sound, &["50 %", "−37 °C", "−20 °C"]);
    let close = "{ kind = \"ethylene\", percent = 36, stand_frost = \"-20 °C\" }";
    check(&[wanted(close)], rule, Grade::Marginal, &["−21 °C"]);
    let thin = "{ kind = \"propylene\", percent = 33, stand_frost = \"-20 °C\" }";
    check(&[wanted(thin)], rule, Grade::Unsound, &["−15 °C"]);
    let unsaid = "{ kind = \"blue\", percent = 33, stand_frost = \"-20 °C\" }";
    check(
        &[wanted(unsaid)],
        rule,
        Grade::Unmeasured,
        &["which glycol"],
    );
    let open = "{ kind = \"ethylene\", percent = 50 }";
    check(&[wanted(open)], rule, Grade::Unmeasured, &["Frost"]);
    // With the frost alone it says what to take.
    let changes = [wanted("{ kind = \"ethylene\", stand_frost = \"-20 °C\" }")];
    let answer = small(&changes);
    let verdict = verdict(&answer, "fill.coolant.frost");
    assert!(
        verdict.remedy.metric.contains("Take 39 %"),
        "{}",
        verdict.remedy.metric
    );
}

#[test]
fn a_mix_must_hold_enough_inhibitor_and_not_too_much() {
    let rule = "inhibitor";
    check(&[], rule, Grade::Sound, &["50 %", "33 to 60 %"]);
    let at = |percent: &str| {
        format!("{{ kind = \"ethylene\", percent = {percent}, stand_frost = \"-5 °C\" }}")
    };
    check(&[wanted(&at("31"))], rule, Grade::Marginal, &["31 %"]);
    check(&[wanted(&at("25"))], rule, Grade::Unsound, &["25 %"]);
    check(&[wanted(&at("65"))], rule, Grade::Unsound, &["65 %"]);
    // What the maker asks for wins over the usual.
    check(
        &[("coolant.product", "{ least = 52 }")],
        rule,
        Grade::Unsound,
        &["52 to 60 %"],
    );
}

fn litres(number: &Option<reckon::Number>) -> f64 {
    number.as_ref().expect("a figure").si * 1000.0
}

#[test]
fn no_recipe_speaks_against_a_verdict() {
    let at = |percent: f64| {
        filling(&FillAsk {
            volume: Some(reading("20 L")),
            wanted: Some(Ratio::percent(percent)),
            inside: Some(reading("3 L")),
            ..FillAsk::default()
        })
    };
    // Over 60 % the recipe is for 60 %, which has a freezing point too.
    let rich = at(65.0);
    assert_eq!(of(&rich, "inhibitor").grade, Grade::Unsound);
    assert!((litres(&rich.row.pour) - 12.0).abs() < 1e-6);
    assert!((litres(&rich.row.water) - 5.0).abs() < 1e-6);
    assert!(rich.row.freezes.is_some() && rich.row.mix_why.is_some());
    let because = &of(&rich, "recipe").because.metric;
    assert!(because.contains("60 % instead of 65 %"), "{because}");
    // Too thin for its inhibitor it is for the least that is right; wanted and right, for what is wanted.
    let thin = at(20.0);
    assert!((litres(&thin.row.pour) - 6.6).abs() < 1e-6);
    assert!(at(50.0).row.mix_why.is_none());

    // Another family inside: water stays after flushing, and the recipe is for that.
    let changes: Vec<Change> = WHOLE
        .iter()
        .copied()
        .chain([(
            "coolant.inside",
            "{ volume = \"4 ± 0.2 L\", percent = 40, kind = \"ethylene, silicate\" }",
        )])
        .collect();
    let answer = small(&changes);
    assert_eq!(
        verdict(&answer, "fill.coolant.inside").grade,
        Grade::Unsound
    );
    let because = &verdict(&answer, "fill.coolant.recipe").because.metric;
    for said in [
        "After flushing twice",
        "4 L of water inside",
        "pour 10 L of concentrate first, then 6 L",
    ] {
        assert!(because.contains(said), "{said} not in: {because}");
    }
    let row = answer.fill.as_ref().expect("a filling");
    assert!(row.flush_first && (litres(&row.pour) - 10.0).abs() < 1e-6);
}

#[test]
fn more_can_t_run_out_than_she_holds() {
    let changes: Vec<Change> = WHOLE
        .iter()
        .copied()
        .chain([
            ("coolant.volume", "\"19 L\""),
            ("coolant.drained", "\"20 L\""),
            ("coolant.inside", "{ percent = 0, kind = \"water\" }"),
        ])
        .collect();
    let answer = small(&changes);
    let recipe = verdict(&answer, "fill.coolant.recipe");
    assert_eq!(recipe.grade, Grade::Unmeasured);
    let because = &recipe.because.metric;
    assert!(
        because.contains("20 L ran out of a circuit of 19 L: one of the two is wrong"),
        "{because}"
    );
    assert!(!because.contains("pour"), "{because}");
    let row = answer.fill.as_ref().expect("a filling");
    assert!(row.pour.is_none() && row.water.is_none() && row.inside.is_none());
}

#[test]
fn ready_mix_that_does_not_do_says_what_concentrate_would() {
    let weak = filling(&FillAsk {
        volume: Some(reading("20 L")),
        wanted: Some(Ratio::percent(50.0)),
        inside: Some(reading("7 L")),
        product_strength: Some(reading("50 %")),
        ..FillAsk::default()
    });
    let recipe = of(&weak, "recipe");
    assert_eq!(recipe.grade, Grade::Unsound);
    for said in [
        "Drain 7 L more",
        "or take concentrate: 10 L of it first, then 3 L of de-ionised water",
    ] {
        let remedy = &recipe.remedy.metric;
        assert!(remedy.contains(said), "{said} not in: {remedy}");
    }
}

#[test]
fn a_frost_alone_is_answered_with_a_share() {
    let against = |frost: &str| {
        filling(&FillAsk {
            volume: Some(reading("20 L")),
            inside: Some(reading("3 L")),
            frost: Some(reading(frost)),
            ..FillAsk::default()
        })
    };
    let hard = against("-30 °C");
    assert_eq!(of(&hard, "frost").grade, Grade::Sound);
    let share = hard.row.mix.as_ref().expect("a share").si;
    assert!((0.45..0.55).contains(&share), "{share}");
    assert!((litres(&hard.row.pour) - 20.0 * share).abs() < 1e-6);
    // However mild the frost, there is enough inhibitor.
    let mild = against("-2 °C");
    assert!((mild.row.mix.as_ref().expect("a share").si - 0.33).abs() < 1e-9);
    // And no recipe where nothing in use stands it.
    let bitter = against("-70 °C");
    assert_eq!(of(&bitter, "frost").grade, Grade::Unsound);
    assert!(bitter.row.mix.is_none() && bitter.row.pour.is_none());
}

#[test]
fn a_recipe_wants_volume_residue_and_strength() {
    let rule = "recipe";
    check(
        &[],
        rule,
        Grade::Sound,
        &["10 L of concentrate first", "then 7 L"],
    );
    check(
        &[("coolant.volume", "\"?\"")],
        "volume",
        Grade::Unmeasured,
        &["Each 10 L", "5 L of concentrate"],
    );
    let unknown = ("coolant.inside", "{ kind = \"ethylene\" }");
    check(
        &[unknown],
        rule,
        Grade::Unmeasured,
        &["no more than 10 L", "pour 10 L of concentrate first"],
    );
    // What was drained tells what stayed.
    check(
        &[
            ("coolant.inside", "{ percent = 0 }"),
            ("coolant.drained", "\"16 ± 0.2 L\""),
        ],
        rule,
        Grade::Sound,
        &["then 6 L"],
    );
    check(
        &[("coolant.inside", "{ volume = \"3 L\" }")],
        rule,
        Grade::Unmeasured,
        &["Strength of what stayed inside"],
    );
    check(
        &[("coolant.inside", "{ volume = \"12 ± 0.2 L\", percent = 0 }")],
        rule,
        Grade::Unsound,
        &["can't be reached"],
    );
    check(
        &[(
            "coolant.inside",
            "{ volume = \"12 ± 0.2 L\", percent = 90 }",
        )],
        rule,
        Grade::Unsound,
        &["richer"],
    );
    check(
        &[("coolant.product", "{ percent = 40 }")],
        rule,
        Grade::Unsound,
        &["ready mix of 40 %", "weaker"],
    );
    check(
        &[("coolant.inside", "{ volume = \"25 L\", percent = 0 }")],
        rule,
        Grade::Unmeasured,
        &["one of the two is wrong"],
    );
    // Volumes that are sure to a third leave it open what comes out.
    check(
        &[
            ("coolant.volume", "\"20 ± 7 L\""),
            wanted("{ kind = \"ethylene\", percent = 40, stand_frost = \"-5 °C\" }"),
        ],
        rule,
        Grade::Marginal,
        &["it comes out at"],
    );
    let answer = small(&WHOLE);
    assert!(works_out(
        verdict(&answer, "fill.coolant.recipe"),
        "chloride 40 mg/L"
    ));
}

#[test]
fn coolant_without_water_wants_a_dry_circuit() {
    let kind = wanted("{ kind = \"waterless\" , percent = 100, stand_frost = \"-20 °C\" }");
    check(
        &[kind],
        "recipe",
        Grade::Unsound,
        &["truly dry", "3 L stayed"],
    );
    check(
        &[kind, ("coolant.inside", "{ volume = \"0 L\" }")],
        "recipe",
        Grade::Marginal,
        &["truly dry"],
    );
}

#[test]
fn old_and_new_must_go_together() {
    let rule = "inside";
    let inside = |text: &'static str| ("coolant.inside", text);
    check(
        &[inside(
            "{ volume = \"8 L\", percent = 40, kind = \"ethylene, organic acid\" }",
        )],
        rule,
        Grade::Sound,
        &["one glycol and one family"],
    );
    check(
        &[inside(
            "{ volume = \"8 L\", percent = 40, kind = \"ethylene, silicate\" }",
        )],
        rule,
        Grade::Unsound,
        &["do not go together"],
    );
    check(
        &[inside(
            "{ volume = \"8 L\", percent = 40, kind = \"propylene, organic acid\" }",
        )],
        rule,
        Grade::Unsound,
        &["do not go together"],
    );
    check(
        &[inside(
            "{ volume = \"8 L\", percent = 40, kind = \"pink once\" }",
        )],
        rule,
        Grade::Unmeasured,
        &["does not stand in those words"],
    );
    check(
        &[inside("{ volume = \"8 L\", percent = 40, kind = \"?\" }")],
        rule,
        Grade::Unmeasured,
        &["“?”"],
    );
    // Four tenths left each time: four flushes.
    let changes: Vec<Change> = WHOLE
        .iter()
        .copied()
        .chain([inside("{ volume = \"8 L\", percent = 40, kind = \"?\" }")])
        .collect();
    let answer = small(&changes);
    let remedy = &verdict(&answer, "fill.coolant.inside").remedy.metric;
    assert!(
        remedy.contains("4 times") && remedy.contains("60 %"),
        "{remedy}"
    );
    // Water asks for nothing.
    let answer = small(&WHOLE);
    assert!(
        answer
            .verdicts
            .iter()
            .all(|verdict| verdict.id != "fill.coolant.inside")
    );
}

#[test]
fn the_header_must_have_room_for_the_heat() {
    let rule = "header";
    check(&[], rule, Grade::Sound, &["100 °C", "2.5 L"]);
    check(
        &[("things.header.above_mark", "\"1.5 ± 0.1 L\"")],
        rule,
        Grade::Marginal,
        &["1.5 L"],
    );
    // It has room for what grows, if for too little air: nothing is said to be lost.
    let changes: Vec<Change> = WHOLE
        .iter()
        .copied()
        .chain([("things.header.above_mark", "\"1.5 ± 0.1 L\"")])
        .collect();
    let answer = small(&changes);
    let header = verdict(&answer, "fill.coolant.header");
    assert!(
        !header.remedy.metric.contains("through the cap"),
        "{}",
        header.remedy.metric
    );
    assert!(
        header.because.metric.contains("1 L of air"),
        "{}",
        header.because.metric
    );
    check(
        &[("things.header.above_mark", "\"0.4 ± 0.1 L\"")],
        rule,
        Grade::Unsound,
        &["0.4 L"],
    );
    check(
        &[("things.header.above_mark", "\"?\"")],
        rule,
        Grade::Unmeasured,
        &["Room in the header"],
    );
}

#[test]
fn a_reading_says_what_it_means_and_when_it_means_nothing() {
    let rule = "reading";
    let inside = (
        "coolant.inside",
        "{ volume = \"3 L\", kind = \"ethylene, organic acid\" }",
    );
    let reading = |text: &'static str| ("coolant.reading", text);
    let good =
        reading("{ refractometer = \"-30 ± 2 °C\", scale = \"ethylene\", stat_opened = true }");
    check(
        &[inside, good],
        rule,
        Grade::Sound,
        &["45 % of ethylene glycol", "6 to 7 %"],
    );
    let close =
        reading("{ refractometer = \"-21 ± 2 °C\", scale = \"ethylene\", stat_opened = true }");
    check(&[inside, close], rule, Grade::Marginal, &["36 %"]);
    let weak =
        reading("{ refractometer = \"-12 ± 2 °C\", scale = \"ethylene\", stat_opened = true }");
    check(&[inside, weak], rule, Grade::Unsound, &["25 %"]);
    let early = reading("{ refractometer = \"-30 °C\", scale = \"ethylene\" }");
    check(&[inside, early], rule, Grade::Unmeasured, &["thermostat"]);
    let unsaid = reading("{ refractometer = \"-30 °C\", stat_opened = true }");
    check(
        &[inside, unsaid],
        rule,
        Grade::Unmeasured,
        &["45 % of ethylene", "of propylene"],
    );
    let wrong =
        reading("{ refractometer = \"-30 °C\", scale = \"propylene\", stat_opened = true }");
    check(&[inside, wrong], rule, Grade::Unmeasured, &["wrong scale"]);
    let hot = reading(
        "{ hydrometer = \"-18 °C\", scale = \"ethylene\", stat_opened = true, at = \"70 °C\" }",
    );
    check(&[inside, hot], rule, Grade::Unmeasured, &["weak when hot"]);
    // A good reading also tells how strong what stays is.
    check(
        &[inside, good],
        "recipe",
        Grade::Sound,
        &["45 % mix inside"],
    );
}

#[test]
fn a_boat_that_says_nothing_of_coolant_hears_nothing() {
    let answer = small(&[]);
    assert!(answer.fill.is_none());
    assert!(
        answer
            .verdicts
            .iter()
            .all(|verdict| !verdict.id.starts_with("fill."))
    );
}

fn sea(salinity: f64, rise: Option<RiseAsk>) -> SaltOutput {
    brine(&SaltAsk {
        sea: PracticalSalinity::of(salinity),
        rise,
        ..SaltAsk::default()
    })
    .expect("in range")
}

fn rise(before: &str, now: &str) -> RiseAsk {
    RiseAsk {
        now: reading(now),
        before: reading(before),
        volume: reading("20 L"),
        kept: false,
    }
}

#[test]
fn sea_water_taken_in_is_shown_or_not() {
    let shown = sea(35.0, Some(rise("20 mg/L", "150 mg/L")));
    let taken = shown.row.taken_in.as_ref().expect("asked for");
    // 20 L · 130 / 19 700, by hand.
    assert!(
        taken.shown && (taken.volume.si - 1.316e-4).abs() < 2e-6,
        "{taken:?}"
    );
    assert_eq!(shown.verdicts[0].grade, Grade::Unsound);
    assert!(shown.verdicts[0].because.metric.contains("came in"));

    let hidden = sea(35.0, Some(rise("40 mg/L", "45 mg/L")));
    let taken = hidden.row.taken_in.as_ref().expect("asked for");
    assert!(!taken.shown && taken.low.si < 0.0, "{taken:?}");
    assert!(hidden.verdicts[0].because.metric.contains("not shown"));
    assert_eq!(hidden.verdicts[0].grade, Grade::Sound);

    let some = sea(35.0, Some(rise("5 ± 2 mg/L", "70 ± 5 mg/L")));
    assert_eq!(some.verdicts[0].grade, Grade::Marginal);
    // In brackish water the same rise is five times as much.
    let brackish = sea(7.0, Some(rise("5 ± 2 mg/L", "70 ± 5 mg/L")));
    let litres = |output: &SaltOutput| output.row.taken_in.as_ref().expect("asked for").volume.si;
    assert!((litres(&brackish) / litres(&some) - 5.1).abs() < 0.1);
}

#[test]
fn chloride_alone_is_held_against_what_is_borne() {
    let level = |text: &str| {
        brine(&SaltAsk {
            level: Some(reading(text)),
            ..SaltAsk::default()
        })
        .expect("a level")
    };
    assert_eq!(level("20 mg/L").verdicts[0].grade, Grade::Sound);
    assert_eq!(level("70 mg/L").verdicts[0].grade, Grade::Marginal);
    let high = level("150 mg/L");
    assert_eq!(high.verdicts[0].grade, Grade::Unsound);
    assert!(high.row.salinity.is_none());
    // Fresh water brings no chloride, so that none can tell of it.
    let fresh = brine(&SaltAsk {
        sea: PracticalSalinity::of(0.0),
        rise: Some(rise("5 mg/L", "7 mg/L")),
        ..SaltAsk::default()
    });
    let why = fresh.expect_err("no chloride").why;
    assert!(why.contains("no chloride to tell by"), "{why}");
}

#[test]
fn salinity_by_conductivity() {
    let by = |text: &str, celsius: f64| {
        brine(&SaltAsk {
            conductivity: Some(reading(text)),
            at: Some(quantity::Temperature::celsius(celsius)),
            ..SaltAsk::default()
        })
    };
    let sea = by("42.9 mS/cm", 15.0).expect("in range");
    let salinity = sea.row.salinity.expect("told");
    assert!((salinity - 34.99).abs() < 0.02, "{salinity}");
    assert!(by("42.9 mS/cm", 60.0).is_err());
    assert!(brine(&SaltAsk::default()).is_err());
}
