//! `flow` run for real: its page, its document, its plots, and what it says of wrong input.

use hosewright::cli::Document;
use hosewright::commands::schema;
use hosewright::render::plot;
use serde_json::Value;
use unicode_width::UnicodeWidthStr as _;

use crate::bench::{Run, root, run, run_in};

const BOATS: [&str; 3] = ["boats/dunlin", "boats/tansley", "boats/wenna"];
const DEMO: &str = BOATS[0];

/// The hash of the demo boat's file changes with every word in it; a snapshot should not.
fn settled(text: &str) -> String {
    let file = std::fs::read(root().join("boats/dunlin/boat.toml")).unwrap();
    text.replace(&hosewright::files::Hash::of(&file).short(), "[hash]")
}

fn screen(text: &str, lines: usize) -> String {
    let mut shown: Vec<&str> = text.lines().take(lines).collect();
    shown.push("");
    settled(&shown.join("\n"))
}

fn flat(run: &Run) -> String {
    format!("{}{}", run.out, run.err)
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}

fn document(words: &[&str]) -> Value {
    let schema: Value = serde_json::from_str(&schema::text(Document::Flow)).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let printed = run(words);
    let value: Value = serde_json::from_str(&printed.out)
        .unwrap_or_else(|error| panic!("{words:?}: {error}: {}{}", printed.out, printed.err));
    let faults: Vec<String> = validator
        .iter_errors(&value)
        .map(|error| format!("{}: {error}", error.instance_path()))
        .collect();
    assert!(faults.is_empty(), "{words:?}: {faults:?}");
    assert_eq!(value["schema"], "hosewright.flow/1");
    value
}

/// The states of the first arrangement that have figures.
fn steady(document: &Value) -> Vec<&Value> {
    document["arrangements"][0]["states"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|state| state["came"] == "steady")
        .collect()
}

#[test]
fn the_page_of_the_demo_boat() {
    let found = run(&["flow", DEMO]);
    assert!(found.exit < 2, "{}", found.err);
    insta::assert_snapshot!(screen(&found.out, 60));
}

#[test]
fn two_arrangements_of_the_demo_boat() {
    let found = run(&["flow", DEMO, "--compare", "before", "after"]);
    assert_eq!(found.exit, 0, "{}", found.err);
    insta::assert_snapshot!(screen(&found.out, 48));
}

#[test]
fn every_page_fits_and_needs_no_other_letters() {
    for boat in BOATS {
        for more in [
            vec![],
            vec!["--all"],
            vec!["--explain"],
            vec!["--units", "imperial"],
            vec!["--arrangement", "before"],
            vec!["--compare", "before", "after"],
            vec![
                "--compare",
                "before",
                "after",
                "--all",
                "--units",
                "imperial",
            ],
        ] {
            let words = [vec!["flow", boat], more].concat();
            for locale in ["C.UTF-8", "C"] {
                let found = run_in(&root(), locale, &words);
                assert!(found.exit < 2, "{words:?}: {}", found.err);
                assert!(!found.out.is_empty(), "{words:?}");
                for line in found.out.lines() {
                    assert!(line.width() <= 80, "{words:?}: {line}");
                }
                if locale == "C" {
                    assert!(found.out.is_ascii(), "{words:?}: {}", found.out);
                }
            }
        }
    }
}

#[test]
fn the_document_keeps_to_its_schema() {
    for boat in BOATS {
        document(&["flow", boat, "--json"]);
        let all = document(&["flow", boat, "--all", "--json"]);
        assert!(all["arrangements"].as_array().unwrap().len() > 1, "{boat}");
        let both = document(&["flow", boat, "--compare", "before", "after", "--json"]);
        assert_eq!(both["arrangements"].as_array().unwrap().len(), 0, "{boat}");
    }
    let schema: Value = serde_json::from_str(&schema::text(Document::Flow)).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let mut wrong = document(&["flow", DEMO, "--json"]);
    wrong["arrangements"][0]["states"][0]["came"] = "fine".into();
    assert!(!validator.is_valid(&wrong));
}

/// What is told of a steady state hangs together: the figures are in SI, and the texts say the same.
#[test]
fn the_figures_of_a_state_hang_together() {
    let found = document(&["flow", DEMO, "--json"]);
    let states = steady(&found);
    assert!(!states.is_empty(), "no state of the demo boat is steady");
    for state in states {
        let figures = &state["figures"];
        let number = |pointer: &str| figures.pointer(pointer).unwrap().as_f64().unwrap();
        let (out, back) = (number("/out/middle"), number("/back/middle"));
        assert!(out > back && back > 273.15 && out < 400.0, "{state}");
        assert!(
            number("/out/low") <= out && out <= number("/out/high"),
            "{state}"
        );
        let celsius = format!("{:.0} °C", number("/hottest/temperature/value") - 273.15);
        assert_eq!(figures["hottest"]["temperature"]["text"]["metric"], celsius);
        assert_eq!(figures["flow"]["unit"], "m³/s");
        assert_eq!(figures["suction"]["kind"], "gauge pressure");
        assert!(
            number("/cooled/value") <= number("/flow/value") * 1.0001,
            "{state}"
        );
    }
}

#[test]
fn one_state_is_shown_in_full() {
    let whole = document(&["flow", DEMO, "--json"]);
    let state = steady(&whole)[0]["state"].as_str().unwrap().to_owned();
    let found = run(&["flow", DEMO, "--state", &state]);
    assert!(found.exit < 2, "{}", found.err);
    for told in [
        "Every part, in order of flow",
        "Every place",
        "at its inlet",
    ] {
        assert!(found.out.contains(told), "{told}: {}", found.out);
    }
    for line in found.out.lines() {
        assert!(line.width() <= 80, "{line}");
    }
    let one = document(&["flow", DEMO, "--state", &state, "--json"]);
    let left = one["arrangements"][0]["states"].as_array().unwrap();
    assert!(left.iter().all(|own| own["state"] == state.as_str()) && !left.is_empty());
    // It is judged alone: no verdict is about another state.
    let others: Vec<String> = whole["arrangements"][0]["states"]
        .as_array()
        .unwrap()
        .iter()
        .map(|own| own["state"].as_str().unwrap().to_owned())
        .filter(|own| *own != state)
        .collect();
    assert!(!others.is_empty());
    let verdicts = one["arrangements"][0]["verdicts"].as_array().unwrap();
    assert!(verdicts.len() > 1);
    for verdict in verdicts {
        let because = verdict["because"]["metric"].as_str().unwrap();
        for other in &others {
            assert!(!because.starts_with(&format!("In {other} at")), "{verdict}");
            assert!(
                !verdict["id"]
                    .as_str()
                    .unwrap()
                    .starts_with(&format!("flow.{other}.")),
                "{verdict}"
            );
        }
    }
}

/// The boat with an exchanger, with words of her file changed.
fn wenna(folder: &tempfile::TempDir, old: &str, new: &str) -> String {
    let text = std::fs::read_to_string(root().join(BOATS[2]).join("boat.toml")).unwrap();
    assert!(text.contains(old), "{old}");
    let path = folder.path().join("boat.toml");
    std::fs::write(&path, text.replace(old, new)).unwrap();
    path.to_str().unwrap().to_owned()
}

#[test]
fn a_state_alone_tells_what_is_wrong_in_it_and_what_it_rests_on() {
    let folder = tempfile::tempdir().unwrap();
    let boat = wenna(&folder, "raw = \"52 ± 4 L/min\"", "raw = \"200 L/min\"");
    let found = run(&["flow", boat.as_str(), "--state", "steaming"]);
    assert_eq!(found.exit, 1, "{}{}", found.out, found.err);
    for told in [
        "flow.rawpump.raw-suction",
        "flow.rawpump.bucket",
        "6.79 m/s",
        "200.0 L/min by the bucket",
        "Assumed, as nobody measured it",
        "Left out of the figures",
    ] {
        assert!(flat(&found).contains(told), "{told}: {}", found.out);
    }
    let strainer = found.out.lines().find(|line| line.starts_with("strainer"));
    let strainer = strainer.expect("it stands among the parts");
    assert!(
        strainer.contains('(') && strainer.contains(')'),
        "{strainer}"
    );
    for line in found.out.lines() {
        assert!(line.width() <= 80, "{line}");
    }
}

#[test]
fn a_shut_valve_is_named_on_the_page_and_in_the_document() {
    let folder = tempfile::tempdir().unwrap();
    let boat = wenna(
        &folder,
        "[arrangements.after] ",
        "[arrangements.after]\nshut = [\"sea-in.valve\"] ",
    );
    for more in [vec![], vec!["--state", "steaming"]] {
        let found = run(&[vec!["flow", boat.as_str()], more].concat());
        assert_eq!(found.exit, 1, "{}{}", found.out, found.err);
        for told in [
            "sea-in.valve is shut",
            "to the alarm",
            "Nothing cools the exhaust",
        ] {
            assert!(flat(&found).contains(told), "{told}: {}", found.out);
        }
    }
    let found = document(&["flow", boat.as_str(), "--state", "steaming", "--json"]);
    let dry = &found["arrangements"][0]["states"][0]["dry"];
    assert_eq!(dry["shut"][0], "sea-in.valve");
    assert_eq!(dry["exhaust"], true);
    assert!(dry["uncooled"]["alarm"].as_f64().is_some(), "{dry}");
}

#[test]
fn a_working_is_shown_alone() {
    let whole = document(&["flow", DEMO, "--json"]);
    let verdicts = whole["arrangements"][0]["verdicts"].as_array().unwrap();
    let with_source = verdicts
        .iter()
        .find(|verdict| !verdict["working"]["sources"].as_array().unwrap().is_empty())
        .expect("a verdict names its source");
    let id = with_source["id"].as_str().unwrap();
    let explained = run(&["flow", DEMO, "--explain", id]);
    assert!(explained.exit < 2, "{}", explained.err);
    assert!(explained.out.contains(id), "{}", explained.out);
    assert!(explained.out.contains("source:"), "{}", explained.out);
    let other = verdicts
        .iter()
        .map(|verdict| verdict["id"].as_str().unwrap())
        .find(|other| !other.starts_with(id))
        .expect("there is another verdict");
    assert!(
        !explained.out.lines().any(|line| line.trim() == other),
        "{other}"
    );
}

#[test]
fn wrong_input_is_told() {
    for (words, told) in [
        (vec!["--state", "cruse"], "did you mean cruise"),
        (vec!["--state", "xyzzy"], "no such state; it has alongside"),
        (vec!["--state", "cruise.sideways"], "cruise.sideways"),
        (vec!["--arrangement", "aftr"], "did you mean after"),
        (vec!["--compare", "before", "aftr"], "did you mean after"),
        (
            vec!["--explain", "flow.nothing.like.it"],
            "No verdict begins with",
        ),
    ] {
        let found = run(&[vec!["flow", DEMO], words].concat());
        assert_eq!(found.exit, 2, "{}{}", found.out, found.err);
        assert_eq!(found.out, "");
        assert!(flat(&found).contains(told), "{told}: {}", found.err);
    }
    let both = run(&["flow", DEMO, "--all", "--compare", "before"]);
    assert_eq!(both.exit, 2, "{}", both.out);
}

/// Every opened element is closed in order, every attribute is quoted, and no sign of XML stands loose in a text.
fn well_formed(text: &str) {
    let mut rest = text;
    let mut open: Vec<&str> = Vec::new();
    while let Some(at) = rest.find('<') {
        let (before, from) = rest.split_at(at);
        assert!(!before.contains('>'), "a loose sign in: {before}");
        for (at, _) in before.match_indices('&') {
            let entity = before[at..].split_inclusive(';').next().unwrap();
            assert!(
                ["&amp;", "&lt;", "&gt;", "&quot;", "&apos;"].contains(&entity),
                "{entity}"
            );
        }
        if let Some(comment) = from.strip_prefix("<!--") {
            let (inside, after) = comment.split_once("-->").expect("a comment ends");
            assert!(!inside.contains("--"), "{inside}");
            rest = after;
            continue;
        }
        let (tag, after) = from[1..].split_once('>').expect("a tag ends");
        rest = after;
        if tag.starts_with('?') {
            assert!(open.is_empty() && tag.ends_with('?'), "{tag}");
            continue;
        }
        assert_eq!(
            tag.matches('"').count() % 2,
            0,
            "a quote is left open: {tag}"
        );
        if let Some(name) = tag.strip_prefix('/') {
            assert_eq!(open.pop(), Some(name), "closed in order");
        } else if !tag.ends_with('/') {
            open.push(tag.split_whitespace().next().unwrap());
        }
    }
    assert!(open.is_empty(), "{open:?}");
    assert_eq!(rest.trim(), "");
}

#[test]
fn a_drawing_that_is_not_well_formed_is_caught() {
    well_formed("<a x=\"1\"><b/>c &amp; d</a>\n");
    for broken in ["<a><b></a></b>", "<a>b & c</a>", "<a x=\"1>b</a>", "<a>"] {
        assert!(
            std::panic::catch_unwind(|| well_formed(broken)).is_err(),
            "{broken}"
        );
    }
}

#[test]
fn plots_are_drawn_written_anew_and_overwrite_nothing_else() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("plots");
    let shown = out.to_str().unwrap();
    let words = ["flow", DEMO, "--plots", shown];
    let found = run(&words);
    assert!(found.exit < 2, "{}", found.err);
    let mut names: Vec<String> = std::fs::read_dir(&out)
        .unwrap()
        .map(|file| file.unwrap().file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    assert_eq!(names, ["after-grade-line.svg", "after-temperatures.svg"]);
    let read = |name: &str| std::fs::read_to_string(out.join(name)).unwrap();
    for name in &names {
        let text = read(name);
        well_formed(&text);
        assert!(text.contains(plot::MARK), "{name}");
        assert!(text.contains("width=\"520\""), "{name}");
        assert!(!text.contains("NaN") && !text.contains("inf\""), "{name}");
        // Black on white only.
        for colour in text.split("stroke=\"").skip(1) {
            assert!(
                colour.starts_with("black\"") || colour.starts_with("white\""),
                "{name}"
            );
        }
    }
    let grade = read("after-grade-line.svg");
    for axis in [
        "over the air, kPa",
        "distance from the pump, m",
        "height over the waterline, m",
    ] {
        assert!(grade.contains(axis), "{axis}");
    }
    // What rests on assumed values says so, in a box of its own dashes.
    assert!(grade.contains("Assumed, not measured") && grade.contains("stroke-dasharray=\"6 4\""));
    let document = document(&["flow", DEMO, "--plots", shown, "--json"]);
    assert_eq!(document["plots"].as_array().unwrap().len(), 2);
    assert_eq!(read("after-grade-line.svg"), grade, "the same again");
    // A file that somebody else drew stays, and so does the other one beside it.
    std::fs::write(out.join("after-temperatures.svg"), "<svg/>\n").unwrap();
    std::fs::remove_file(out.join("after-grade-line.svg")).unwrap();
    let refused = run(&words);
    assert_eq!(refused.exit, 2, "{}", refused.out);
    assert!(flat(&refused).contains("stays as it is"), "{}", refused.err);
    assert_eq!(read("after-temperatures.svg"), "<svg/>\n");
    assert!(!out.join("after-grade-line.svg").exists());
}

#[test]
fn the_same_run_prints_the_same() {
    for more in [
        vec!["--json"],
        vec!["--all"],
        vec!["--compare", "before", "after"],
    ] {
        let words = [vec!["flow", DEMO], more].concat();
        assert_eq!(run(&words).out, run(&words).out, "{words:?}");
    }
}

#[test]
fn a_boat_without_states_is_asked_for_them() {
    let folder = tempfile::tempdir().unwrap();
    let boat = folder.path().join("boat.toml");
    std::fs::write(&boat, "version = 1\n").unwrap();
    let found = run(&["flow", boat.to_str().unwrap()]);
    assert!(found.exit < 2, "{}", found.err);
    assert!(found.out.contains("No runs yet"), "{}", found.out);
    let state = run(&["flow", boat.to_str().unwrap(), "--state", "cruise"]);
    assert_eq!(state.exit, 2, "{}", state.out);
    assert!(flat(&state).contains("has no state"), "{}", state.err);
}
