//! Everything that is said of the demo boat: every verdict has its reason, its edits apply.

use std::collections::BTreeSet;

use boat::Severity;
use reckon::{Answer, Basis, Grade, Input, Memo, Set, Stage, Verdict, Words, reckon};

use crate::boats::{DEMO, DUNLIN, answer, read, verdict};

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
                bay: None,
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

/// The three demo boats in every arrangement.
fn all_boats() -> impl Iterator<Item = (&'static str, Verdict)> {
    DEMO.into_iter().flat_map(|(name, text)| {
        let boat = read(text);
        let steps = boat.arrangements.iter().map(|step| step.key.clone());
        let arrangements: Vec<String> = steps.collect();
        let answers = arrangements.into_iter().map(move |arrangement| {
            let input = Input {
                boat: &boat,
                arrangement: Some(&arrangement),
                seed: 1,
                set: Set::All,
                flow: None,
                bay: None,
            };
            reckon(&input, &mut Memo::default())
        });
        answers.flat_map(move |answer| answer.verdicts.into_iter().map(move |own| (name, own)))
    })
}

#[test]
fn no_verdict_rests_on_physics_over_common_practice() {
    let mut physics = 0;
    for (name, verdict) in all_boats().filter(|(_, own)| own.basis == Basis::Physics) {
        physics += 1;
        for source in &verdict.working.sources {
            assert!(
                !source.contains("common practice"),
                "{name}: {} rests on physics over {source}",
                verdict.id
            );
        }
    }
    // The rule must not have emptied the word.
    assert!(physics >= 20, "only {physics}");
}

#[test]
fn whatever_waits_on_any_of_the_boats_names_one_measurement() {
    for (name, verdict) in all_boats().filter(|(_, own)| own.grade == Grade::Unmeasured) {
        let settles = verdict.settles.as_ref();
        let settles = settles.unwrap_or_else(|| panic!("{name}: {} has none", verdict.id));
        assert!(!settles.how.is_empty(), "{name}: {}", verdict.id);
        // It is told in the remedy too, so that nobody has to look for it.
        assert!(!verdict.remedy.metric.is_empty(), "{name}: {}", verdict.id);
    }
}

#[test]
fn the_straight_metal_that_two_clips_need_can_be_added_up() {
    let answer = answer(&read(DUNLIN), Set::All);
    let b1 = verdict(&answer, "fit.cold.from.clips");
    let step = &b1
        .working
        .steps
        .iter()
        .find(|step| step.formula.starts_with("needed"))
        .unwrap();
    // 6 from the end, two bands of 12, one gap of 5, 3 clear of the bead.
    assert_eq!(
        step.filled.metric,
        "6 mm from the end + 2 × 12 mm band (clip) + 5 mm gap + 3 mm clear of the bead"
    );
    assert_eq!(step.result.metric, "38 mm");
    assert_eq!(6 + 2 * 12 + 5 + 3, 38);
    assert_eq!(b1.basis, Basis::Practice);
}
