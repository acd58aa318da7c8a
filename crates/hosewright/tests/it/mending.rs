//! `mend` on a copy of the demo boat.

use serde_json::Value;

use crate::bench::{demo_copy, run_in};

/// Ids of verdicts that the demo boat offers an edit for, with their grades.
fn mendable(folder: &std::path::Path) -> Vec<(String, String)> {
    let run = run_in(folder, "C.UTF-8", &["check", "--json"]);
    let answer: Value = serde_json::from_str(&run.out).unwrap();
    let verdicts = answer["verdicts"].as_array().unwrap();
    verdicts
        .iter()
        .filter(|verdict| !verdict["remedy_edits"].as_array().unwrap().is_empty())
        .map(|verdict| {
            (
                verdict["id"].as_str().unwrap().to_owned(),
                verdict["grade"].as_str().unwrap().to_owned(),
            )
        })
        .collect()
}

fn rank(grade: &str) -> usize {
    ["sound", "unmeasured", "marginal", "unsound"]
        .iter()
        .position(|known| *known == grade)
        .unwrap()
}

#[test]
fn every_unsound_verdict_that_an_edit_mends_is_better_afterwards() {
    let all = mendable(demo_copy().path());
    let unsound: Vec<_> = all.iter().filter(|(_, grade)| grade == "unsound").collect();
    assert!(unsound.len() >= 2, "{all:?}");
    for (id, _) in unsound {
        let folder = demo_copy();
        let file = folder.path().join("boat.toml");
        let before = std::fs::read_to_string(&file).unwrap();
        let run = run_in(
            folder.path(),
            "C.UTF-8",
            &["mend", ".", id, "--choice", "1", "--json"],
        );
        let told: Value = serde_json::from_str(&run.out).unwrap();
        let after = std::fs::read_to_string(&file).unwrap();
        assert_eq!(run.exit, 0, "{id}: {}", run.out);
        assert_eq!(told["written"], true);
        assert_eq!(told["refused"], Value::Null);
        assert_eq!(
            told["file_hash_after"],
            hosewright::files::Hash::of(after.as_bytes()).long()
        );

        // Only the lines that are told differ; every other byte stays.
        let line = usize::try_from(told["change"]["line"].as_u64().unwrap()).unwrap();
        let gone = told["change"]["before"].as_array().unwrap().len();
        let come = told["change"]["after"].as_array().unwrap().len();
        let (old, new): (Vec<&str>, Vec<&str>) = (
            before.split_inclusive('\n').collect(),
            after.split_inclusive('\n').collect(),
        );
        assert!(
            gone + come > 0 && gone <= 2 && come <= 4,
            "{id} changes {gone} lines to {come}"
        );
        assert_eq!(old[..line - 1], new[..line - 1]);
        assert_eq!(old[line - 1 + gone..], new[line - 1 + come..]);

        let now: Value =
            serde_json::from_str(&run_in(folder.path(), "C.UTF-8", &["check", "--json"]).out)
                .unwrap();
        let grade = now["verdicts"]
            .as_array()
            .unwrap()
            .iter()
            .find(|verdict| verdict["id"] == *id);
        // A verdict that is gone is mended only if what it was about is gone too.
        let Some(grade) = grade.map(|verdict| verdict["grade"].as_str().unwrap()) else {
            let subject = &told["before"]["subject"];
            let about = |verdict: &Value| verdict["subject"] == *subject;
            assert!(
                !now["verdicts"].as_array().unwrap().iter().any(about),
                "{id} is gone, and {subject} is not"
            );
            continue;
        };
        assert!(rank(grade) < rank("unsound"), "{id} is still {grade}");
    }
}

#[test]
fn a_dry_run_writes_nothing() {
    let folder = demo_copy();
    let file = folder.path().join("boat.toml");
    let before = std::fs::read_to_string(&file).unwrap();
    for (id, _) in mendable(folder.path()).iter().take(5) {
        let run = run_in(
            folder.path(),
            "C.UTF-8",
            &["mend", ".", id, "--choice", "1", "--dry-run"],
        );
        assert!(run.exit <= 1, "{id}: {}", run.err);
        assert!(
            run.out.contains("With this edit (nothing is written)"),
            "{}",
            run.out
        );
        assert_eq!(std::fs::read_to_string(&file).unwrap(), before);
    }
}

#[test]
fn a_sound_verdict_wants_no_mending() {
    let folder = demo_copy();
    let run = run_in(folder.path(), "C.UTF-8", &["check", "--json"]);
    let answer: Value = serde_json::from_str(&run.out).unwrap();
    let verdicts = answer["verdicts"].as_array().unwrap();
    let plain = verdicts
        .iter()
        .find(|verdict| {
            verdict["grade"] == "sound" && verdict["remedy_edits"].as_array().unwrap().is_empty()
        })
        .unwrap();
    let run = run_in(
        folder.path(),
        "C.UTF-8",
        &["mend", ".", plain["id"].as_str().unwrap()],
    );
    assert_eq!(run.exit, 0, "{}", run.err);
    assert!(run.err.contains("nothing to mend"), "{}", run.err);
}
