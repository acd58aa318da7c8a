//! `survey`: its three forms as text and as a document.

use hosewright::cli::Document;
use hosewright::commands::schema;
use serde_json::Value;
use unicode_width::UnicodeWidthStr as _;

use crate::bench::{demo_copy, root, run, run_in};

const BOATS: [&str; 3] = ["boats/dunlin", "boats/tansley", "boats/wenna"];
const FORMS: [&[&str]; 5] = [
    &[],
    &["--next"],
    &["--blank"],
    &["--blank", "--units", "imperial"],
    &["--next", "--arrangement", "before"],
];

fn words<'a>(boat: &'a str, form: &[&'a str]) -> Vec<&'a str> {
    [&["survey", boat], form].concat()
}

#[test]
fn no_form_is_wider_than_80_columns_and_each_ends_with_0() {
    for boat in BOATS {
        for form in FORMS {
            for locale in ["C.UTF-8", "C"] {
                let run = run_in(&root(), locale, &words(boat, form));
                assert_eq!(run.exit, 0, "{boat} {form:?}: {}", run.err);
                assert!(!run.out.is_empty());
                for line in run.out.lines() {
                    assert!(line.width() <= 80, "{boat} {form:?}: {line}");
                }
            }
        }
    }
}

#[test]
fn the_head_of_the_form() {
    let printed = run(&["survey", "boats/dunlin", "--blank"]).out;
    let head: Vec<&str> = printed.lines().take(20).collect();
    // The hash moves with every edit of the demo boat, and the count with what is judged.
    let settled: String = head
        .iter()
        .filter(|line| !line.starts_with("For boats/"))
        .map(|line| format!("{line}\n"))
        .collect();
    insta::assert_snapshot!(settled);
}

#[test]
fn the_cautions_stand_above_the_first_box() {
    for boat in BOATS {
        let printed = run(&["survey", boat, "--blank"]).out;
        let first = printed.find("[_________]").unwrap();
        for word in ["scalds", "afloat", "poison", "Local rules"] {
            let at = printed.find(word).unwrap_or(usize::MAX);
            assert!(at < first, "{boat}: {word}");
        }
        assert!(printed.contains("Date ["));
    }
}

#[test]
fn the_short_state_names_the_first_three() {
    let short = run(&["survey", "boats/dunlin"]).out;
    let document: Value =
        serde_json::from_str(&run(&["survey", "boats/dunlin", "--json"]).out).unwrap();
    let state = &document["state"];
    for (field, word) in [
        ("values", "values stand"),
        ("empty", "boxes are empty"),
        ("waiting", "verdicts wait"),
    ] {
        assert!(
            short.contains(&format!("{} {word}", state[field])),
            "{short}"
        );
    }
    assert_eq!(short.matches('▫').count(), 3, "{short}");
    for next in document["next"].as_array().unwrap().iter().take(3) {
        assert!(
            short.contains(next["place"]["path"].as_str().unwrap()),
            "{short}"
        );
    }
    assert_eq!(state["empty"], document["blank"].as_array().unwrap().len());
}

#[test]
fn a_box_that_was_looked_at_says_so_and_a_filled_one_is_gone() {
    let folder = demo_copy();
    let file = folder.path().join("boat.toml");
    let text = std::fs::read_to_string(&file).unwrap();
    let place = "engine.spigots.heat-in.bead_width";
    let blank = || run_in(folder.path(), "C.UTF-8", &["survey", "--blank"]).out;
    let marked = |printed: &str| printed.matches("looked: could not tell").count();
    let boxes = |printed: &str| printed.matches("[_________]").count();
    let before = blank();
    std::fs::write(&file, boat::set_value(&text, place, "\"?\"").unwrap()).unwrap();
    let looked = blank();
    assert_eq!(marked(&looked), marked(&before) + 1);
    assert_eq!(boxes(&looked), boxes(&before));
    std::fs::write(&file, boat::set_value(&text, place, "3").unwrap()).unwrap();
    let measured = blank();
    assert_eq!(marked(&measured), marked(&before));
    assert_eq!(boxes(&measured), boxes(&before) - 1);
    let json = run_in(folder.path(), "C.UTF-8", &["survey", "--json"]).out;
    assert!(!json.contains(&format!("\"path\": \"{place}\"")));
}

#[test]
fn the_document_keeps_to_its_schema() {
    let schema: Value = serde_json::from_str(&schema::text(Document::Survey)).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    for boat in BOATS {
        for form in [
            &["--json"][..],
            &["--next", "--json"],
            &["--blank", "--json"],
        ] {
            let printed = run(&words(boat, form)).out;
            let value: Value = serde_json::from_str(&printed).unwrap();
            let faults: Vec<String> = validator
                .iter_errors(&value)
                .map(|error| error.to_string())
                .collect();
            assert!(faults.is_empty(), "{boat}: {faults:?}");
            assert_eq!(value["schema"], "hosewright.survey/1");
            let mut bad = value.clone();
            bad["state"]["empty"] = "many".into();
            assert!(!validator.is_valid(&bad));
        }
    }
}

#[test]
fn wrong_input_ends_with_2() {
    for words in [
        vec!["survey", "no/such"],
        vec!["survey", "boats/dunlin", "--next", "--blank"],
        vec!["survey", "boats/dunlin", "--arrangement", "nowhere"],
    ] {
        assert_eq!(run(&words).exit, 2, "{words:?}");
    }
}
