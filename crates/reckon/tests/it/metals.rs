//! Metals in salt water, in pairs, and beside aluminium.

use reckon::{Answer, Grade};

use crate::boats::{Change, small};

/// Checks the verdict of an id; `None` where there is to be none.
#[track_caller]
fn check(changes: &[Change], id: &str, grade: Option<Grade>, says: &str) -> Answer {
    let answer = small(changes);
    let found = answer.verdicts.iter().find(|verdict| verdict.id == id);
    assert_eq!(found.map(|verdict| verdict.grade), grade, "{changes:?}");
    if let Some(verdict) = found {
        assert!(
            verdict.because.metric.contains(says),
            "{}",
            verdict.because.metric
        );
        assert!(!verdict.working.sources.is_empty() || grade == Some(Grade::Unmeasured));
    }
    answer
}

const TAIL: &str = "things.hull.spigots.tail.metal";

#[test]
fn brass_of_unknown_grade_loses_its_zinc_in_salt_water_only() {
    let id = "fit.wet.from.metals";
    let brass = (TAIL, "\"brass\"");
    check(&[brass], id, Some(Grade::Unsound), "loses its zinc");
    check(&[brass, ("boat.sea.salinity", "0")], id, None, "");
    // Brackish water is salt enough.
    check(
        &[brass, ("boat.sea.salinity", "7")],
        id,
        Some(Grade::Unsound),
        "loses its zinc",
    );
    check(
        &[brass, ("boat.sea.salinity", "\"?\"")],
        id,
        Some(Grade::Unmeasured),
        "not known",
    );
    for good in ["\"bronze\"", "\"gunmetal\"", "\"DZR\""] {
        check(&[(TAIL, good)], id, None, "");
    }
}

#[test]
fn brass_that_no_sea_reaches_is_let_be() {
    check(
        &[("engine.spigots.out.metal", "\"brass\"")],
        "fit.dry.from.metals",
        None,
        "",
    );
}

#[test]
fn copper_alloys_beside_aluminium_are_named() {
    let id = "fit.dry.from.metals";
    let copper = ("engine.spigots.out.metal", "\"copper\"");
    let aluminium = ("things.cooler.spigots.b.metal", "\"aluminium\"");
    check(&[copper], id, None, "");
    check(&[copper, aluminium], id, Some(Grade::Marginal), "aluminium");
}

/// A stack from the sea inward, of two metals.
fn stack(stub: &str, tail: &str) -> String {
    format!(
        "\"stub G1-1/4 male {stub} + ball valve G1-1/4 F F bronze bore 30 + tail G1-1/4 M x 38 barbed {tail}\""
    )
}

const RAW: Change = ("runs.wet.carries", "\"raw water\"");
const PAIR: &str = "fit.hull.stub-valve.galvanic";

#[test]
fn the_parts_of_a_stack_are_judged_alone_and_in_pairs() {
    let brass = stack("steel", "brass");
    let chain = ("things.hull.chain", brass.as_str());
    let tail = "fit.hull.tail.metals";
    for changes in [vec![chain], vec![chain, RAW]] {
        check(&changes, tail, Some(Grade::Unsound), "loses its zinc");
    }
    check(&[chain, RAW], PAIR, Some(Grade::Marginal), " V apart");
    // In fresh water neither is anything to speak of.
    let fresh = [chain, RAW, ("boat.sea.salinity", "0")];
    check(&fresh, tail, None, "");
    check(&fresh, PAIR, None, "");
}

#[test]
fn a_series_for_sea_water_says_nothing_of_coolant() {
    for stub in ["steel", "aluminium"] {
        let chain = stack(stub, "bronze");
        let answer = check(&[("things.hull.chain", &chain)], PAIR, None, "");
        let galvanic = answer
            .verdicts
            .iter()
            .find(|verdict| verdict.id.ends_with(".galvanic"));
        assert_eq!(galvanic, None);
    }
}

#[test]
fn aluminium_on_bronze_in_salt_water_is_unsound() {
    let chain = stack("aluminium", "bronze");
    let chain = ("things.hull.chain", chain.as_str());
    check(&[chain, RAW], PAIR, Some(Grade::Unsound), "aluminium");
    check(
        &[chain, RAW, ("boat.sea.salinity", "\"?\"")],
        PAIR,
        Some(Grade::Unmeasured),
        "not known",
    );
}

#[test]
fn an_aluminium_joiner_counts_for_the_copper_beside_it() {
    let way = |metal: &str| format!("\"hose 38 epdm + joiner 38 {metal} + hose 38 epdm\"");
    let copper = ("engine.spigots.out.metal", "\"copper\"");
    for (metal, carries, grade) in [
        ("aluminium", "coolant", Some(Grade::Marginal)),
        ("bronze", "coolant", None),
        // What only raw water touches shares no coolant.
        ("aluminium", "raw water", None),
    ] {
        let (way, carries) = (way(metal), format!("\"{carries}\""));
        let changes = [
            copper,
            ("runs.dry.way", way.as_str()),
            ("runs.dry.carries", carries.as_str()),
        ];
        check(&changes, "fit.dry.from.metals", grade, "aluminium");
    }
}
