//! The program run for real: what it prints fits the page, and it returns what it promises.

use hosewright::text::width;
use unicode_width::UnicodeWidthStr as _;

use crate::bench::{demo_copy, root, run, run_in};

const DEMO: &str = "boats/dunlin";
const QUICK: [&str; 9] = [
    "fit", "--bore", "32", "--over", "42", "--spigot", "35", "--bead", "38.5",
];

/// The hash of the demo boat's file changes with every word in it; a snapshot should not.
fn settled(text: &str) -> String {
    let file = std::fs::read(root().join("boats/dunlin/boat.toml")).unwrap();
    text.replace(&hosewright::files::Hash::of(&file).short(), "[hash]")
}

/// A screen's worth of a page.
fn screen(text: &str) -> String {
    let mut lines: Vec<&str> = text.lines().take(48).collect();
    lines.push("");
    settled(&lines.join("\n"))
}

#[test]
fn check_on_the_demo_boat() {
    let run = run(&["check", DEMO]);
    assert_eq!(run.exit, 1, "{}", run.err);
    insta::assert_snapshot!(screen(&run.out));
}

#[test]
fn check_in_imperial_units() {
    insta::assert_snapshot!(screen(&run(&["check", DEMO, "--units", "imperial"]).out));
}

#[test]
fn fit_on_the_demo_boat() {
    insta::assert_snapshot!(screen(&run(&["fit", DEMO]).out));
}

#[test]
fn one_joint_from_flags() {
    let run = run(&QUICK);
    assert_eq!(run.exit, 1, "{}", run.err);
    insta::assert_snapshot!(run.out);
}

#[test]
fn the_working_of_one_verdict() {
    let run = run(&["fit", DEMO, "--explain", "fit.cold.to.clip"]);
    let (_, from) = run
        .out
        .split_once("◆ cold on gearbox a")
        .expect("the verdict is shown");
    insta::assert_snapshot!(screen(from));
}

#[test]
fn mend_without_writing() {
    insta::assert_snapshot!(settled(
        &run(&["mend", DEMO, "fit.cold.to.clip", "--dry-run"]).out
    ));
}

/// Each demo boat goes through every command: read, judged, told in 80 columns, never refused.
#[test]
fn every_demo_boat_goes_through_every_command() {
    for boat in ["boats/dunlin", "boats/tansley", "boats/wenna"] {
        let mut commands: Vec<Vec<&str>> = vec![
            vec!["check", boat],
            vec!["check", boat, "--all", "--explain"],
            vec!["check", boat, "--arrangement", "before"],
            vec!["fit", boat],
            vec!["marks", boat, "--dry-run"],
            vec!["fill", boat],
            vec!["survey", boat],
            vec!["survey", boat, "--next"],
            vec!["survey", boat, "--blank"],
            vec!["order", boat],
            vec!["order", boat, "--all", "--explain"],
            vec!["order", boat, "--list"],
            vec!["sheets", boat, "--dry-run"],
        ];
        let judged: serde_json::Value =
            serde_json::from_str(&run(&["check", boat, "--json"]).out).unwrap();
        let mendable: Vec<String> = judged["verdicts"]
            .as_array()
            .unwrap()
            .iter()
            .filter(|verdict| verdict["grade"] == "unsound")
            .filter(|verdict| {
                verdict["remedy_edits"]
                    .as_array()
                    .is_some_and(|edits| !edits.is_empty())
            })
            .map(|verdict| verdict["id"].as_str().unwrap().to_owned())
            .collect();
        assert!(!mendable.is_empty(), "{boat}");
        commands.extend(
            mendable
                .iter()
                .map(|id| vec!["mend", boat, id.as_str(), "--choice", "1", "--dry-run"]),
        );
        for words in commands {
            let outcome = run(&words);
            assert!((outcome.exit as u8) <= 1, "{words:?}: {outcome:?}");
            assert!(!outcome.out.is_empty(), "{words:?}");
            for line in outcome.out.lines() {
                assert!(width(line) <= 80, "{words:?}: {line}");
            }
        }
        let table = run(&["order", boat, "--csv"]).out;
        let fields = table.lines().next().unwrap_or_default().split(',').count();
        assert_eq!(fields, 16, "{boat}");
    }
}

#[test]
fn nothing_is_wider_than_80_columns() {
    let bad: Vec<String> = std::fs::read_dir(root().join("examples/bad"))
        .map(|folder| {
            folder
                .map(|file| file.unwrap().path().display().to_string())
                .collect()
        })
        .unwrap_or_default();
    let mut lines: Vec<Vec<&str>> = vec![
        vec!["check", DEMO],
        vec!["check", DEMO, "--all", "--explain"],
        vec!["check", DEMO, "--units", "imperial", "--explain"],
        vec!["check", DEMO, "--all"],
        vec!["check", DEMO, "--quick"],
        vec!["check", DEMO, "--explain", "A1"],
        vec!["check", DEMO, "--arrangement", "nowhere"],
        vec!["check", DEMO, "--explain", "nothing.like.it"],
        vec!["fit", DEMO, "--units", "imperial"],
        vec!["fit", DEMO, "--all"],
        vec!["fit", "--bore", "thirty"],
        vec!["fit", "--bore", "32", "--over", "42", "--spigot", "1 bar"],
        vec!["fit", DEMO, "--bore", "32"],
        vec![
            "fit", "--bore", "32", "--over", "42", "--spigot", "35", "--plain",
        ],
        vec![
            "fit",
            "--bore",
            "1 1/4 in",
            "--over",
            "1.65 in",
            "--spigot",
            "35",
            "--units",
            "imperial",
            "--explain",
        ],
        QUICK.to_vec(),
        vec!["mend", DEMO, "fit.cold.to.clip", "--dry-run"],
        vec!["mend", DEMO, "fit.cold.to.clap"],
        vec!["marks", DEMO, "--dry-run"],
        vec!["check", "--no-such-flag"],
        vec!["check", "boats"],
        vec!["check", "no/such/folder"],
        vec!["new", "otter.toml"],
        vec!["help"],
        vec!["help", "fit"],
        vec!["--help"],
        vec!["check", "--help"],
        vec!["fit", "--help"],
        vec!["mend", "--help"],
        vec![],
    ];
    lines.extend(bad.iter().map(|file| vec!["check", file.as_str()]));
    for words in lines {
        for locale in ["C.UTF-8", "C"] {
            let run = run_in(&root(), locale, &words);
            for line in run.out.lines().chain(run.err.lines()) {
                assert!(
                    line.width() <= 80,
                    "{words:?} prints {} columns: {line}",
                    line.width()
                );
            }
            assert!(!run.out.contains('\u{1b}'), "{words:?} colours a pipe");
            let help = words.contains(&"--help") || words.contains(&"help") || words.is_empty();
            if locale == "C" && !help {
                assert!(
                    run.out.is_ascii() && run.err.is_ascii(),
                    "{words:?}: {}{}",
                    run.out,
                    run.err
                );
            }
        }
    }
}

#[track_caller]
pub(crate) fn returns(words: &[&str], exit: i32, told: &str) {
    let run = run(words);
    assert_eq!(run.exit, exit, "{words:?}: {}{}", run.out, run.err);
    let all = format!("{}{}", run.out, run.err)
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    assert!(all.contains(told), "{words:?} says {all}");
    assert!(
        !all.contains("panicked") && !all.contains("os error"),
        "{words:?} says {all}"
    );
    if exit == 2 {
        assert_eq!(run.out, "", "{words:?} answers although it can't");
    }
}

#[test]
fn the_exit_status_is_what_was_promised() {
    returns(&["check", DEMO], 1, "unsound");
    returns(&["--version"], 0, "hosewright ");
    returns(
        &["check", "no/such"],
        2,
        "There is no file or folder no/such",
    );
    returns(&["check", "boats"], 2, "holds no boat.toml");
    returns(
        &["check", "--units", "furlongs"],
        2,
        "is no value of --units",
    );
    returns(&["chekc"], 2, "chekc is no command");
    returns(
        &["check", DEMO, "--explain", "zz"],
        2,
        "No verdict begins with zz.",
    );
    returns(
        &["check", DEMO, "--arrangement", "aftr"],
        2,
        "did you mean after",
    );
    returns(&["fit", "--bore", "32"], 2, "--over is missing");
    returns(
        &["fit", "--bore", "1 bar", "--over", "42", "--spigot", "35"],
        2,
        "--bore 1 bar:",
    );
    returns(
        &["mend", DEMO, "fit.cold.to.clap"],
        2,
        "did you mean fit.cold.to.clip?",
    );
    returns(
        &[
            "mend",
            DEMO,
            "fit.cold.to.clip",
            "--choice",
            "9",
            "--dry-run",
        ],
        2,
        "There is no choice 9",
    );
}

#[test]
fn what_is_no_boat_file_is_refused_in_one_sentence() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("boat.toml");
    let told = |what: &[u8], exit: i32, words: &str| {
        std::fs::write(&file, what).unwrap();
        let run = run_in(folder.path(), "C.UTF-8", &["check"]);
        assert_eq!(run.exit, exit, "{}{}", run.out, run.err);
        let err = run.err.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(err.contains(words), "{err}");
    };
    told(
        b"version = 1\nx = \"\xff\"\n",
        2,
        "line 2 holds a byte that is no letter",
    );
    told(&vec![b' '; 4 * 1024 * 1024 + 1], 2, "larger than 4 MiB");
    told(b"version = 99\n", 2, "99");
    told(
        b"version = 1\n[boat\nname = 3\n",
        2,
        "must be mended before anything is judged",
    );
}

#[test]
fn the_same_run_prints_the_same() {
    for words in [
        vec!["check", DEMO, "--json"],
        vec!["check", DEMO, "--json", "--seed", "7"],
        vec!["fit", DEMO, "--all", "--explain"],
    ] {
        let (one, other) = (run(&words), run(&words));
        assert_eq!(one.out, other.out);
    }
}

#[test]
fn a_reader_who_stops_reading_is_no_defect() {
    use std::io::Read as _;
    let mut child = std::process::Command::new(env!("CARGO_BIN_EXE_hosewright"))
        .args(["check", DEMO, "--json"])
        .current_dir(root())
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let mut err = String::new();
    child
        .stderr
        .take()
        .unwrap()
        .read_to_string(&mut err)
        .unwrap();
    assert_eq!(child.wait().unwrap().code(), Some(1), "{err}");
    assert_eq!(err, "");
}

#[test]
fn a_new_boat_reads_clean_and_is_never_overwritten() {
    let folder = tempfile::tempdir().unwrap();
    let run = |words: &[&str]| run_in(folder.path(), "C.UTF-8", words);
    assert_eq!(run(&["new", "gull"]).exit, 0);
    let file = folder.path().join("gull/boat.toml");
    let text = std::fs::read_to_string(&file).unwrap();
    assert!(text.contains("name = \"Gull\""), "{text}");
    let (_, _, remarks) = boat::read(&text);
    assert!(remarks.is_empty(), "{remarks:?}");
    assert_eq!(run(&["check", "gull"]).exit, 0);
    let again = run(&["new", "gull"]);
    assert_eq!(
        (again.exit, std::fs::read_to_string(&file).unwrap()),
        (2, text)
    );
}

#[test]
fn every_line_that_a_new_boat_offers_reads_clean() {
    let start = hosewright::commands::new::start(std::path::Path::new("gull"));
    let (_, _, remarks) = boat::read(&offered(&start));
    assert!(remarks.is_empty(), "{remarks:?}");
}

/// A new boat file with everything in it that it offers as a comment.
pub(crate) fn offered(start: &str) -> String {
    start
        .lines()
        .map(|line| match line.strip_prefix("# ") {
            // A line of prose has no key before its equals sign.
            Some(key)
                if key.starts_with('[') || (key.contains(" = ") && !key.contains("  \"?\"")) =>
            {
                key
            }
            _ => line,
        })
        .map(|line| format!("{line}\n"))
        .collect()
}

#[test]
fn marks_are_written_once_and_stay() {
    let folder = demo_copy();
    let run = |words: &[&str]| run_in(folder.path(), "C.UTF-8", words);
    let before = std::fs::read_to_string(folder.path().join("boat.toml")).unwrap();
    assert_eq!(run(&["marks", "--dry-run"]).exit, 0);
    assert_eq!(
        std::fs::read_to_string(folder.path().join("boat.toml")).unwrap(),
        before
    );
    let first = run(&["marks"]);
    assert_eq!(first.exit, 0, "{}", first.err);
    let after = std::fs::read_to_string(folder.path().join("boat.toml")).unwrap();
    let (boat, _, remarks) = boat::read(&after);
    assert!(boat.runs.iter().all(|run| run.mark.is_some()), "{after}");
    assert!(
        remarks
            .iter()
            .all(|remark| remark.severity != boat::Severity::Stop),
        "{remarks:?}"
    );
    let again = run(&["marks"]);
    assert!(
        again.out.contains("Every run has its mark"),
        "{}",
        again.out
    );
    assert_eq!(
        std::fs::read_to_string(folder.path().join("boat.toml")).unwrap(),
        after
    );
}

#[test]
fn the_demo_boat_is_unsound_and_says_so() {
    let output = run(&["check", DEMO]);
    assert_eq!(output.exit, 1, "{}", output.err);
    let text = &output.out;
    let mut lines = text.lines();
    assert!(lines.next().is_some_and(|line| {
        line.starts_with("Dunlin · arrangement after · boats/dunlin/boat.toml ")
    }));
    assert!(
        lines
            .next()
            .is_some_and(|line| line.contains(" unmeasured, ") && line.contains(" unsound, "))
    );
    let first = |word: &str| {
        text.find(word)
            .unwrap_or_else(|| panic!("no {word} in {text}"))
    };
    assert!(
        first("\n◆ ") < first("\n◖ ")
            && first("\n◖ ") < first("\n▫ ")
            && first("\n▫ ") < first("\n● ")
    );
}

#[test]
fn a_joint_from_flags_returns_by_its_worst_grade() {
    let sound = [
        "fit", "--bore", "38", "--over", "48", "--spigot", "38.2", "--clip", "worm",
    ];
    let output = run(&sound);
    assert_eq!(output.exit, 0, "{}", output.out);
    let strict: Vec<&str> = sound.iter().copied().chain(["--strict"]).collect();
    let output = run(&strict);
    assert!(output.out.contains("unmeasured"), "{}", output.out);
    assert_eq!(output.exit, 1, "{}", output.out);
    let unsound = [
        "fit", "--bore", "32", "--over", "42", "--spigot", "35", "--bead", "38.5", "--clip", "worm",
    ];
    assert_eq!(run(&unsound).exit, 1);
}

#[test]
fn quick_says_that_it_is_quick_and_judges_the_same_things() {
    let told = |words: &[&str]| {
        let document: serde_json::Value = serde_json::from_str(&run(words).out).expect("JSON");
        let verdicts = document["verdicts"].as_array().expect("verdicts");
        let ids = verdicts.iter().map(|verdict| verdict["id"].as_str());
        let ids: std::collections::BTreeSet<String> = ids.flatten().map(str::to_owned).collect();
        (document["quick"].as_bool(), ids)
    };
    let (slow, all) = told(&["check", DEMO, "--json"]);
    let (quick, same) = told(&["check", DEMO, "--json", "--quick"]);
    assert_eq!((slow, quick), (Some(false), Some(true)));
    assert!(same.is_subset(&all));
    // What takes long in the bay is left out, and nothing else.
    let long = |id: &String| {
        let rule = id.rsplit('.').next().unwrap_or_default();
        id.starts_with("route.")
            && (rule.starts_with("window")
                || rule.starts_with("access")
                || ["tolerance", "order", "way-in"].contains(&rule))
    };
    assert!(all.difference(&same).all(long));
    assert!(all.iter().any(long) && !same.iter().any(long));
}

#[test]
fn imperial_units_are_shown_and_no_metric_ones_in_the_table() {
    let text = run(&["fit", DEMO, "--units", "imperial"]).out;
    let table: Vec<&str> = text
        .lines()
        .skip(3)
        .take_while(|line| !line.is_empty())
        .collect();
    assert!(table.iter().any(|line| line.contains(" in")), "{text}");
    assert!(!table.iter().any(|line| line.contains(" mm")), "{text}");
}

#[test]
fn faults_of_a_file_are_told_with_their_place_and_several_at_once() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("boat.toml");
    std::fs::write(
        &file,
        "[boat]\nname = \"Test\"\n\n[runs.hot]\nfrom = 7\nto = [ \n",
    )
    .expect("a file");
    let output = run_in(folder.path(), "C.UTF-8", &["check", "boat.toml"]);
    let told = &output.err;
    assert_eq!(output.exit, 2, "{told}");
    assert!(told.contains("boat.toml:"), "{told}");
    assert!(told.lines().all(|line| width(line) <= 80), "{told}");
}

/// Files with a fault, and words that the remark about it must hold.
const BAD: &[(&str, &str)] = &[
    ("name = \n", "boat.toml:1:"),
    ("[boat]\nname = \"A\nlength = 7\n", "boat.toml:2:"),
    ("[engine]\n[engine]\n", "boat.toml:2:"),
    ("[runs.hot]\nfrom = 7\n", "boat.toml:2:"),
    ("version = 99\n", "boat.toml:1:"),
];

#[test]
fn every_bad_file_is_told_with_line_and_column() {
    for (text, place) in BAD {
        let folder = tempfile::tempdir().expect("a folder");
        std::fs::write(folder.path().join("boat.toml"), text).expect("a file");
        let output = run_in(folder.path(), "C.UTF-8", &["check", "boat.toml"]);
        let told = &output.err;
        assert_eq!(output.exit, 2, "{text}: {told}{}", output.out);
        assert!(told.contains(place), "{text}: {told}");
        assert!(told.lines().all(|line| width(line) <= 80), "{told}");
    }
}

#[test]
fn completions_for_every_common_shell() {
    for shell in ["bash", "zsh", "fish"] {
        let output = run(&["completions", shell]);
        assert_eq!(output.exit, 0);
        assert!(output.out.contains("check"), "{shell}");
    }
}
