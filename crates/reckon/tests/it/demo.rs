//! Everything that is said of the demo boat: every verdict has its reason, its edits apply.

use std::collections::BTreeSet;

use boat::Severity;
use reckon::{Answer, Grade, Input, Memo, Set, Stage, Verdict, Words, reckon};

use crate::boats::{DUNLIN, answer, read};

/// Her answers, in every arrangement.
fn answers() -> Vec<(Option<&'static str>, Answer)> {
    let boat = read(DUNLIN);
    [None, Some("before"), Some("after"), Some("fallback")]
        .into_iter()
        .map(|arrangement| {
            let input = Input {
                boat: &boat,
                arrangement,
                seed: 1,
                set: Set::All,
                flow: None,
                scan: None,
            };
            (arrangement, reckon(&input, &mut Memo::default()))
        })
        .collect()
}

fn verdicts() -> impl Iterator<Item = Verdict> {
    answers()
        .into_iter()
        .flat_map(|(_, answer)| answer.verdicts)
}

fn both(words: &Words) -> [&str; 2] {
    [&words.metric, &words.imperial]
}

#[test]
fn she_has_verdicts_of_every_grade_in_every_arrangement() {
    for (arrangement, answer) in answers() {
        let grades: BTreeSet<Grade> = answer
            .verdicts
            .iter()
            .map(|verdict| verdict.grade)
            .collect();
        assert_eq!(grades.len(), 4, "{arrangement:?}");
        assert!(answer.joints.len() >= 14, "{arrangement:?}");
    }
    // Without a word from the caller, the arrangement that the job is about is judged.
    let all = answers();
    assert_eq!(all[0].1, all[2].1);
    assert_eq!(all[0].1.arrangement.as_deref(), Some("after"));
    assert_ne!(all[1].1.verdicts, all[2].1.verdicts);
}

#[test]
fn every_reason_has_a_number_or_names_what_it_is_about() {
    // What a reason may name where there is no number to give.
    let names = [
        "Spigot: ",
        "Hose: ",
        "Bore of the hose: ",
        "Metal: ",
        "bead: ",
        "Build of the hose: ",
        "both ",
        "shares its coolant",
        "in salt water",
        "Height of ",
        "Width of ",
        "Working ",
        "Torque: ",
        "What the old coolant was: ",
        "as you decided",
        "Undecided: ",
        "Renew: ",
        "Nobody saw it: ",
        "A magnet draws ",
        "“",
        "when it was last run",
        "has never been run",
        "No strainer stands",
        "No by-pass is open",
        "No path of ",
        "Nothing runs through ",
    ];
    for verdict in verdicts() {
        for because in both(&verdict.because) {
            let number = because.chars().any(|c| c.is_ascii_digit());
            let named = names.iter().any(|name| because.contains(name));
            assert!(number || named, "{}: {because}", verdict.id);
            assert!(because.ends_with('.'), "{}: {because}", verdict.id);
        }
    }
}

#[test]
fn nothing_said_is_empty_or_no_number() {
    for verdict in verdicts() {
        let working = &verdict.working;
        let steps = working
            .steps
            .iter()
            .flat_map(|step| [&step.filled, &step.result]);
        let words = [
            &verdict.because,
            &verdict.remedy,
            &verdict.spoken,
            &working.limit,
        ];
        for text in words.into_iter().chain(steps).flat_map(both) {
            for bad in ["NaN", "inf ", "  ", "no length", "no share"] {
                assert!(!text.contains(bad), "{}: {text}", verdict.id);
            }
            assert_eq!(text.trim(), text, "{}", verdict.id);
        }
        for spoken in both(&verdict.spoken) {
            assert!(spoken.starts_with(&format!("{}, {}: ", verdict.title, verdict.grade.word())));
        }
        assert!(
            !verdict.title.is_empty() && !verdict.place.is_empty(),
            "{}",
            verdict.id
        );
        if let Some(chance) = verdict.chance {
            assert!((0.0..=1.0).contains(&chance), "{}: {chance}", verdict.id);
        }
    }
}

#[test]
fn what_is_unmeasured_says_what_would_settle_it() {
    for verdict in verdicts().filter(|verdict| verdict.grade == Grade::Unmeasured) {
        let settles = verdict.settles.as_ref();
        let settles = settles.unwrap_or_else(|| panic!("{} has none", verdict.id));
        assert!(
            !settles.how.is_empty() && !settles.place.is_empty(),
            "{}",
            verdict.id
        );
    }
}

#[test]
fn what_is_wrong_says_what_to_do() {
    for verdict in verdicts().filter(|verdict| verdict.grade == Grade::Unsound) {
        for remedy in both(&verdict.remedy) {
            assert!(!remedy.is_empty(), "{}", verdict.id);
        }
    }
}

#[test]
fn no_id_stands_twice() {
    for (arrangement, answer) in answers() {
        let mut ids = BTreeSet::new();
        for verdict in &answer.verdicts {
            assert!(
                ids.insert(&verdict.id),
                "{} twice in {arrangement:?}",
                verdict.id
            );
            assert!(verdict.id.starts_with(&format!(
                "{}.{}.",
                verdict.stage.key(),
                verdict.subject
            )));
        }
        for row in &answer.joints {
            let own = answer
                .verdicts
                .iter()
                .filter(|verdict| verdict.stage == Stage::Fit && verdict.subject == row.joint);
            assert_eq!(
                own.map(|verdict| verdict.grade).max(),
                Some(row.grade),
                "{}",
                row.joint
            );
        }
    }
}

#[test]
fn every_edit_applies_and_reads_again() {
    let mut count = 0;
    for verdict in verdicts() {
        for edit in &verdict.edits {
            let (place, to) = (&edit.place, &edit.to);
            let text = boat::set_value(DUNLIN, place, to)
                .unwrap_or_else(|error| panic!("{}: {place} = {to}: {error}", verdict.id));
            assert_ne!(
                text, DUNLIN,
                "{}: {place} = {to} changes nothing",
                verdict.id
            );
            let (_, _, remarks) = boat::read(&text);
            let stops: Vec<_> = remarks
                .iter()
                .filter(|remark| remark.code.severity() == Severity::Stop)
                .map(|remark| &remark.message)
                .collect();
            assert!(
                stops.is_empty(),
                "{}: {place} = {to}: {stops:?}",
                verdict.id
            );
            assert!(!edit.label.is_empty());
            count += 1;
        }
    }
    assert!(count >= 10, "only {count} edits");
}

#[test]
fn twice_the_same_question_has_the_same_answer() {
    let boat = read(DUNLIN);
    for set in [Set::Prompt, Set::All] {
        assert_eq!(answer(&boat, set), answer(&boat, set));
    }
}
