//! Parts as found: hoses kept, renewed or undecided, clips that rust, valves, what nobody saw.

use reckon::{Grade, Verdict};

use crate::boats::{Change, small, verdict};

/// What is judged of the hose `dry` where this was seen of it, and what else was typed.
fn hose(seen: &str, more: &[Change]) -> Verdict {
    let mut changes = vec![("seen.dry", seen)];
    changes.extend(more);
    verdict(&small(&changes), "survey.dry.condition").clone()
}

const YEAR: Change = ("job.year", "2027");

#[track_caller]
fn check(seen: &str, more: &[Change], grade: Grade, says: &[&str]) {
    let verdict = hose(seen, more);
    assert_eq!(verdict.grade, grade, "{seen}: {}", verdict.because.metric);
    for part in says {
        let all = format!("{} {}", verdict.because.metric, verdict.remedy.metric);
        assert!(all.contains(part), "{seen}: {all}");
    }
}

#[test]
fn a_hose_is_kept_where_it_is_good_and_young() {
    check(
        "{ found = [\"good\"], made = 2024 }",
        &[YEAR],
        Grade::Sound,
        &["Keep", "3 years old"],
    );
    // Five years are the usual end; the working tells what else is written.
    check(
        "{ found = [\"good\"], made = 2022 }",
        &[YEAR],
        Grade::Marginal,
        &["Renew: it is 5 years old"],
    );
    let old = hose("{ found = [\"good\"], made = 2022 }", &[YEAR]);
    assert!(old.working.limit.metric.contains("10 to 20 years"));
}

#[test]
fn a_hose_that_lets_go_is_unsound_until_the_owner_renews_it() {
    check(
        "{ found = [\"soft ends\"] }",
        &[YEAR],
        Grade::Unsound,
        &["soft at its end (dry)"],
    );
    check(
        "{ found = [\"hard\"] }",
        &[YEAR],
        Grade::Marginal,
        &["hard (dry)"],
    );
    check(
        "{ found = [\"cracked\"], decided = \"renew\" }",
        &[YEAR],
        Grade::Sound,
        &["Renewed, as you decided", "cracked"],
    );
    check(
        "{ found = [\"cracked\"], decided = \"keep\" }",
        &[YEAR],
        Grade::Unsound,
        &["You keep it, though it is cracked"],
    );
    assert!(hose("{ found = [\"cracked\"] }", &[]).caution.is_some());
}

#[test]
fn what_is_not_known_is_asked_for_and_not_guessed() {
    let nothing = small(&[YEAR]);
    let dry = verdict(&nothing, "survey.dry.condition");
    assert_eq!(dry.grade, Grade::Unmeasured);
    let settles = dry.settles.as_ref().expect("what settles it");
    assert_eq!(settles.place, "seen.dry.found");
    check(
        "{ found = [\"good\"] }",
        &[YEAR],
        Grade::Marginal,
        &["its age is not known", "made = 2019"],
    );
    // Without the year of the job no age is reckoned, whatever year it is today.
    check(
        "{ found = [\"good\"], made = 2024 }",
        &[],
        Grade::Marginal,
        &["year = 2027"],
    );
    check(
        "{ found = [\"crusted\"] }",
        &[YEAR],
        Grade::Marginal,
        &["crust at dry"],
    );
}

#[test]
fn the_year_is_read_from_the_print_of_a_hose_that_hides_its_spigot() {
    let hidden = (
        "engine.spigots.out",
        "{ hidden = { over_hose = \"49.4 ± 0.5\", free_hose = \"47.6 ± 0.5\", print = \"38 mm EPDM 2011\" }, h = 330 }",
    );
    let answer = small(&[hidden, YEAR]);
    let dry = verdict(&answer, "survey.dry.condition");
    assert_eq!(dry.grade, Grade::Marginal);
    assert!(
        dry.because.metric.contains("16 years old"),
        "{}",
        dry.because.metric
    );
}

#[test]
fn a_magnet_tells_of_a_clip_that_rusts() {
    let of = |magnet: &str| {
        let seen = format!("{{ magnet = \"{magnet}\" }}");
        let answer = small(&[("seen.\"dry.from\"", &seen)]);
        answer
            .verdicts
            .iter()
            .find(|verdict| verdict.id == "survey.dry.from.magnet")
            .map(|verdict| verdict.grade)
    };
    assert_eq!(of("nothing"), None);
    assert_eq!(of("screw"), Some(Grade::Marginal));
}

#[test]
fn a_valve_is_judged_by_when_it_was_worked_and_how_it_felt() {
    let of = |valve: &str| {
        let answer = small(&[("things.hull.valve", valve), YEAR]);
        verdict(&answer, "survey.hull.works").clone()
    };
    for (valve, grade) in [
        ("{ worked = \"2027-02\", feels = \"free\" }", Grade::Sound),
        (
            "{ worked = \"2024-02\", feels = \"free\" }",
            Grade::Marginal,
        ),
        (
            "{ worked = \"2027-02\", feels = \"stiff\" }",
            Grade::Marginal,
        ),
        (
            "{ worked = \"2027-02\", feels = \"seized open\" }",
            Grade::Unsound,
        ),
        ("{ feels = \"free\" }", Grade::Unmeasured),
        (
            "{ worked = \"never\", feels = \"free\" }",
            Grade::Unmeasured,
        ),
        (
            "{ worked = \"2027-02\", feels = \"can't be freed\" }",
            Grade::Unsound,
        ),
        (
            "{ worked = \"2027-02\", feels = \"not free\" }",
            Grade::Marginal,
        ),
        (
            "{ worked = \"2027-02\", feels = \"no good\" }",
            Grade::Marginal,
        ),
        (
            "{ worked = \"?\", feels = \"wheel turns and turns\" }",
            Grade::Unsound,
        ),
    ] {
        let verdict = of(valve);
        assert_eq!(verdict.grade, grade, "{valve}: {}", verdict.because.metric);
        assert_eq!(verdict.caution.is_some(), grade != Grade::Sound, "{valve}");
    }
}

#[test]
fn what_was_not_seen_stays_until_somebody_looks() {
    let at = "seen.\"dry.to\"";
    let blind = small(&[(at, "{ not_seen = \"behind the starter\" }")]);
    let line = verdict(&blind, "survey.dry.to.not-seen");
    assert_eq!(line.grade, Grade::Unmeasured);
    assert!(line.because.metric.contains("behind the starter"));
    let seen = small(&[(
        at,
        "{ not_seen = \"behind the starter\", found = [\"good\"] }",
    )]);
    assert!(
        seen.verdicts
            .iter()
            .all(|verdict| verdict.id != "survey.dry.to.not-seen")
    );
}
