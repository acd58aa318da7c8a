//! What a hose has to stand: heat and pressure.

use reckon::Grade;

use crate::boats::{Change, small, verdict};

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

#[test]
fn a_hose_must_stand_the_alarm_and_should_stand_boiling() {
    let rule = "temperature";
    check(&[], rule, Grade::Sound, &["125 °C", "117 °C"]);
    check(&[(ALARM, "\"130 °C\"")], rule, Grade::Unsound, &["125 °C"]);
    // Water at 2.01 bar over the air boils at about 134 °C.
    check(&[(CAP, "\"2 bar\"")], rule, Grade::Marginal, &["boils at"]);
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
fn a_hose_must_stand_cap_and_column() {
    let rule = "pressure";
    // 0.7 bar with a tenth on top, and 508 mm of coolant: 0.77 + 0.052 bar.
    check(
        &[],
        rule,
        Grade::Sound,
        &["0.822 bar", "508 mm", "rated at 3 bar"],
    );
    check(
        &[(CAP, "\"3 bar\"")],
        rule,
        Grade::Unsound,
        &["rated at 3 bar"],
    );
    check(
        &[("things.header.cap_h", "")],
        rule,
        Grade::Unmeasured,
        &["Height of the cap"],
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
