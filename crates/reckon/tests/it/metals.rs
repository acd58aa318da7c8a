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

#[test]
fn the_parts_of_a_stack_are_judged_alone_and_in_pairs() {
    let stack = |tail: &str| {
        format!(
            "\"stub G1-1/4 male steel + ball valve G1-1/4 F F bronze bore 30 + tail G1-1/4 M x 38 barbed {tail}\""
        )
    };
    let brass = stack("brass");
    let answer = check(
        &[("things.hull.chain", &brass)],
        "fit.hull.tail.metals",
        Some(Grade::Unsound),
        "loses its zinc",
    );
    let pair = crate::boats::verdict(&answer, "fit.hull.stub-valve.galvanic");
    assert_eq!(pair.grade, Grade::Marginal);
    assert!(
        pair.because.metric.contains(" V apart"),
        "{}",
        pair.because.metric
    );
    // In fresh water neither is anything to speak of.
    check(
        &[("things.hull.chain", &brass), ("boat.sea.salinity", "0")],
        "fit.hull.tail.metals",
        None,
        "",
    );
}
