//! What a hose has to stand: heat and pressure.

use reckon::Grade;

use crate::boats::{Change, small, verdict, works_out};

/// Checks grade and reason of one verdict on the dry hose.
#[track_caller]
fn check(changes: &[Change], rule: &str, grade: Grade, says: &[&str]) {
    let answer = small(changes);
    let verdict = verdict(&answer, &format!("fit.dry.hose.{rule}"));
    let because = &verdict.because.metric;
    assert_eq!(verdict.grade, grade, "{because}");
    for said in says {
        assert!(because.contains(said), "{said} not in: {because}");
    }
    assert_eq!(verdict.settles.is_some(), grade == Grade::Unmeasured);
    let says_what_to_do = !verdict.remedy.metric.is_empty();
    assert_eq!(says_what_to_do, grade != Grade::Sound, "{because}");
}

const ALARM: &str = "engine.alarm.at";
const CAP: &str = "things.header.cap";

/// The coolant of this boat, without which the richest mix is reckoned with.
const MIX: Change = (
    "coolant.wanted",
    "{ kind = \"ethylene, silicate\", percent = 40 }",
);

#[test]
fn a_hose_must_stand_the_alarm_and_should_stand_boiling() {
    let rule = "temperature";
    // Water at 0.77 bar over the air boils at 117 °C; two fifths of ethylene lift that by 6 K.
    check(&[MIX], rule, Grade::Sound, &["125 °C", "at 123 °C"]);
    check(
        &[MIX, (ALARM, "\"130 °C\"")],
        rule,
        Grade::Unsound,
        &["125 °C"],
    );
    // Water at 2.2 bar over the air boils at about 136 °C.
    check(
        &[MIX, (CAP, "\"2 bar\"")],
        rule,
        Grade::Marginal,
        &["boils under the cap at"],
    );
    check(
        &[(ALARM, ""), (CAP, "")],
        rule,
        Grade::Unmeasured,
        &["not measured yet"],
    );
    let build = ("runs.dry.way", "\"hose 38\"");
    check(&[build], rule, Grade::Unmeasured, &["Build"]);
}

#[test]
fn glycol_boils_hotter_than_water() {
    let rule = "temperature";
    let boils = |mix: &str| {
        let answer = small(&[("coolant.wanted", mix)]);
        let verdict = verdict(&answer, "fit.dry.hose.temperature");
        verdict.margin.as_ref().expect("a margin").value - 273.15
    };
    let water = boils("{ kind = \"ethylene\", percent = 0 }");
    // Water at 1.783 bar absolute boils between 116 and 117 °C (IAPWS R7-97(2012), equation 31).
    assert!((116.0..117.5).contains(&water), "{water}");
    let (some, half) = (
        boils("{ kind = \"ethylene\", percent = 25 }"),
        boils("{ kind = \"ethylene\", percent = 50 }"),
    );
    let propylene = boils("{ kind = \"propylene\", percent = 50 }");
    assert!(water + 2.0 < some && some + 3.0 < half && propylene + 1.5 < half);
    assert!(propylene > water + 4.0);
    // Where nothing is written the richest mix is reckoned with, and the working says so.
    check(&[], rule, Grade::Marginal, &["at 129 °C"]);
    let answer = small(&[]);
    let working = verdict(&answer, "fit.dry.hose.temperature");
    assert!(works_out(
        working,
        "60 % ethylene glycol (nothing is written"
    ));
}

#[test]
fn a_hose_must_stand_cap_and_column() {
    let rule = "pressure";
    // 0.7 bar with a tenth on top, and 508 mm of coolant: 0.77 + 0.052 bar. The print of 3 bar is good
    // to a tenth, and what stands is its low end.
    check(
        &[],
        rule,
        Grade::Sound,
        &["0.822 bar", "508 mm", "rated at 2.7 bar"],
    );
    // 2.6 bar and a tenth are 2.86: under the print of 3, over its low end of 2.7.
    for cap in ["\"2.6 bar\"", "\"3 bar\""] {
        check(&[(CAP, cap)], rule, Grade::Unsound, &["rated at 2.7 bar"]);
    }
    check(
        &[("things.header.cap_h", "")],
        rule,
        Grade::Unmeasured,
        &["Height of the cap"],
    );
}

#[test]
fn a_lowest_point_needs_both_ends_or_a_reading_of_its_own() {
    let rule = "pressure";
    for place in ["engine.spigots.out.h", "things.cooler.spigots.a.h"] {
        let open = (place, "");
        check(&[open], rule, Grade::Unmeasured, &["Height of the hose"]);
        // Its lowest point was measured: 700 + 7 + 100 + 4 mm.
        check(
            &[open, ("runs.dry.low_at", "-100")],
            rule,
            Grade::Sound,
            &["of coolant above it"],
        );
    }
    // A low point that nobody can know is no better than none.
    check(
        &[
            ("things.cooler.spigots.a.h", ""),
            ("runs.dry.low_at", "\"?\""),
        ],
        rule,
        Grade::Unmeasured,
        &["Height of the hose"],
    );
}

#[test]
fn a_rating_for_colder_water_or_none_at_all_does_not_do() {
    let rule = "pressure";
    let cold = (
        "stock.hose",
        "[\"5 m x 38 epdm, id 37.8 od 47.4, works 3 bar @ 20 °C\"]",
    );
    check(&[cold], rule, Grade::Unmeasured, &["Nothing says"]);
    let none = ("stock.hose", "[\"5 m x 38 epdm, id 37.8 od 47.4\"]");
    check(&[none], rule, Grade::Unmeasured, &["working pressure"]);
}
