//! The commands that write: `mend`, `marks`, `new`. All of them on copies.

use std::fs;
use std::path::Path;

use hosewright::files;
use serde_json::Value;

use crate::binary::{copy_of_dunlin, err, out, run_in, status};

fn verdicts(folder: &Path) -> Vec<Value> {
    let output = run_in(folder, &["check", "boat.toml", "--json"]);
    let document: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    document["verdicts"].as_array().expect("verdicts").clone()
}

/// How bad a grade is.
fn badness(verdict: &Value) -> usize {
    ["sound", "unmeasured", "marginal", "unsound"]
        .iter()
        .position(|word| verdict["grade"] == *word)
        .expect("a grade")
}

/// The first unsound verdict that an edit mends.
fn mendable(folder: &Path) -> String {
    let found = verdicts(folder)
        .into_iter()
        .find(|verdict| {
            verdict["grade"] == "unsound"
                && verdict["remedy_edits"]
                    .as_array()
                    .is_some_and(|edits| !edits.is_empty())
        })
        .expect("the demo boat has something to mend");
    found["id"].as_str().expect("an id").to_owned()
}

#[test]
fn mend_changes_one_line_and_betters_the_grade() {
    let folder = copy_of_dunlin();
    let file = folder.path().join("boat.toml");
    let before = fs::read_to_string(&file).expect("the file");
    let id = mendable(folder.path());

    let dry = run_in(
        folder.path(),
        &["mend", "boat.toml", &id, "--choice", "1", "--dry-run"],
    );
    assert!(!out(&dry).is_empty(), "{}", err(&dry));
    assert_eq!(
        fs::read_to_string(&file).expect("the file"),
        before,
        "--dry-run writes nothing"
    );

    let output = run_in(folder.path(), &["mend", "boat.toml", &id, "--choice", "1"]);
    let after = fs::read_to_string(&file).expect("the file");
    assert_ne!(after, before, "{}{}", out(&output), err(&output));
    let (old, new): (Vec<&str>, Vec<&str>) =
        (before.split('\n').collect(), after.split('\n').collect());
    let ahead = old
        .iter()
        .zip(&new)
        .take_while(|(old, new)| old == new)
        .count();
    let behind = old
        .iter()
        .rev()
        .zip(new.iter().rev())
        .take_while(|(old, new)| old == new)
        .count();
    assert!(
        new.len() - ahead.min(new.len()) <= behind + 1,
        "more than one line changed:\n{after}"
    );

    let was = 3;
    let is = verdicts(folder.path())
        .iter()
        .find(|verdict| verdict["id"] == id.as_str())
        .map_or(0, badness);
    assert!(is < was, "{id} is no better after its remedy");
}

#[test]
fn a_file_that_changed_since_it_was_read_is_left_alone() {
    let folder = copy_of_dunlin();
    let file = folder.path().join("boat.toml");
    let held = files::read(&file).expect("it reads");
    let outside = format!("{}# changed by hand\n", held.text);
    fs::write(&file, &outside).expect("it is written");
    assert!(files::replace(&held, "name = \"other\"\n").is_err());
    assert_eq!(fs::read_to_string(&file).expect("the file"), outside);
}

#[test]
fn marks_are_written_once_and_then_stand() {
    let folder = copy_of_dunlin();
    let file = folder.path().join("boat.toml");
    let first = run_in(folder.path(), &["marks", "boat.toml"]);
    assert_eq!(status(&first), 0, "{}", err(&first));
    let marked = fs::read_to_string(&file).expect("the file");
    let second = run_in(folder.path(), &["marks", "boat.toml"]);
    assert_eq!(status(&second), 0, "{}", err(&second));
    assert_eq!(fs::read_to_string(&file).expect("the file"), marked);
}

#[test]
fn a_new_boat_reads_clean_and_is_never_written_over() {
    let folder = tempfile::tempdir().expect("a folder");
    let output = run_in(folder.path(), &["new", "mine"]);
    assert_eq!(status(&output), 0, "{}", err(&output));
    let file = folder.path().join("mine/boat.toml");
    let text = fs::read_to_string(&file).expect("the file");
    let (_, _, remarks) = boat::read(&text);
    assert!(remarks.is_empty(), "{remarks:?}");
    assert_eq!(status(&run_in(folder.path(), &["check", "mine"])), 0);

    fs::write(&file, "# mine\n").expect("it is written");
    let again = run_in(folder.path(), &["new", "mine"]);
    assert_eq!(status(&again), 2, "{}", out(&again));
    assert_eq!(fs::read_to_string(&file).expect("the file"), "# mine\n");
}
