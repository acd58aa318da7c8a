//! `thread`: one thread from flags, and the threads of a boat.

use hosewright::cli::Document;
use hosewright::commands::schema;
use serde_json::Value;
use unicode_width::UnicodeWidthStr as _;

use crate::bench::{root, run, run_in};

const ONE: [&str; 5] = ["thread", "--major", "20.8 ± 0.1 mm", "--per-inch", "14"];

fn with<'a>(words: &[&'a str], more: &[&'a str]) -> Vec<&'a str> {
    [words, more].concat()
}

#[test]
fn three_stand_and_two_diameters_are_asked_for() {
    let found = run(&ONE);
    assert_eq!(found.exit, 0, "{}", found.err);
    let flat = found.out.split_whitespace().collect::<Vec<_>>().join(" ");
    for thread in ["G 1/2", "R 1/2", "1/2 NPT", "two diameters 8 mm apart"] {
        assert!(flat.contains(thread), "{thread}: {}", found.out);
    }
    assert_eq!(run(&with(&ONE, &["--strict"])).exit, 1);
    // The working shows how each came out.
    let explained = run(&with(&ONE, &["--explain"])).out;
    assert!(
        explained.contains("χ²") && explained.contains("source:"),
        "{explained}"
    );
}

#[test]
fn a_size_by_name_is_caught() {
    let found = run(&["thread", "--major", "1 1/4 in", "--ten-pitches", "23.1 mm"]);
    assert!(found.out.contains("size by name"), "{}", found.out);
    assert_eq!(found.exit, 0);
}

#[test]
fn fewer_pitches_serve() {
    let found = run(&[
        "thread",
        "--minor",
        "12.5",
        "--pitches",
        "6",
        "--over",
        "9.0",
    ]);
    assert!(found.out.contains("M14x1.5"), "{}", found.out);
    assert!(found.out.contains("1 sound"), "{}", found.out);
}

#[test]
fn the_document_keeps_to_its_schema() {
    let schema: Value = serde_json::from_str(&schema::text(Document::Thread)).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let read = |words: &[&str]| -> Value {
        let printed = run(words).out;
        let value: Value = serde_json::from_str(&printed).unwrap();
        let faults: Vec<String> = validator
            .iter_errors(&value)
            .map(|error| error.to_string())
            .collect();
        assert!(faults.is_empty(), "{words:?}: {faults:?}");
        assert_eq!(value["schema"], "hosewright.thread/1");
        value
    };
    let one = read(&with(&ONE, &["--json"]));
    let chances: f64 = one["candidates"]
        .as_array()
        .unwrap()
        .iter()
        .map(|row| row["chance"].as_f64().unwrap())
        .sum();
    assert!((0.9..=1.0 + 1e-9).contains(&chances));
    assert!(one["looks"].as_array().unwrap().len() >= 2);
    for boat in ["boats/dunlin", "boats/tansley", "boats/wenna"] {
        let all = read(&["thread", boat, "--json"]);
        assert!(all["verdicts"].as_array().unwrap().len() >= 3, "{boat}");
    }
}

#[test]
fn no_line_is_wider_than_80_columns() {
    for words in [
        ONE.to_vec(),
        with(&ONE, &["--units", "imperial", "--explain"]),
        vec!["thread", "boats/dunlin", "--all"],
        vec!["thread", "boats/wenna", "--explain"],
    ] {
        for locale in ["C.UTF-8", "C"] {
            for line in run_in(&root(), locale, &words).out.lines() {
                assert!(line.width() <= 80, "{words:?}: {line}");
            }
        }
    }
}

#[test]
fn wrong_input_ends_with_2() {
    for words in [
        &["thread", "--ten-pitches", "18.1"][..],
        &["thread", "--major", "20.8", "--minor", "18.7"],
        &["thread", "--major", "-3"],
        &["thread", "--major", "20.8", "--pitches", "0", "--over", "9"],
        &["thread", "--major", "20.8", "--pitches", "6"],
        &["thread", "--major", "20.8", "--per-inch", "many"],
        &["thread", "--major", "20.8", "--taper", "much"],
        &["thread", "boats/dunlin", "--major", "20.8"],
        &["thread", "no/such"],
    ] {
        let found = run(words);
        assert_eq!(found.exit, 2, "{words:?}: {}", found.out);
        assert!(!found.err.is_empty(), "{words:?}");
    }
}
