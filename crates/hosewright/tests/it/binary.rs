//! The real program, run on real files: what it returns, how wide its lines are, that it repeats itself.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use hosewright::text::width;

/// The root of the project, where `boats/` and `examples/` stand.
pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// Runs the program in the root of the project, with UTF-8 and a pipe for a terminal.
pub(crate) fn run(words: &[&str]) -> Output {
    run_in(&root(), words)
}

/// Runs the program in a folder.
pub(crate) fn run_in(folder: &Path, words: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_hosewright"))
        .args(words)
        .current_dir(folder)
        .env("LC_ALL", "C.UTF-8")
        .env_remove("NO_COLOR")
        .env_remove("COLUMNS")
        .output()
        .expect("the program starts")
}

/// What it printed on standard output.
pub(crate) fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).expect("UTF-8")
}

/// What it printed on standard error.
pub(crate) fn err(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).expect("UTF-8")
}

/// The status it returned.
pub(crate) fn status(output: &Output) -> i32 {
    output.status.code().expect("it ended by itself")
}

/// Words of every command that prints for people.
const TELLING: &[&[&str]] = &[
    &["check", "boats/dunlin"],
    &["check", "boats/dunlin", "--all"],
    &["check", "boats/dunlin", "--quick"],
    &["check", "boats/dunlin", "--explain"],
    &["check", "boats/dunlin", "--explain", "--units", "imperial"],
    &["check", "boats/dunlin", "--arrangement", "nowhere"],
    &["check", "boats/nowhere"],
    &["fit", "boats/dunlin"],
    &["fit", "boats/dunlin", "--units", "imperial"],
    &[
        "fit", "--bore", "32", "--over", "42", "--spigot", "35", "--bead", "38.5", "--clip", "worm",
    ],
    &[
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
    &["fit", "--bore", "many"],
    &["mend", "boats/dunlin", "fit.nothing.at.all", "--dry-run"],
    &["marks", "boats/dunlin", "--dry-run"],
    &["--help"],
    &["check", "--help"],
    &["fit", "--help"],
    &["mend", "--help"],
];

#[test]
fn no_line_is_wider_than_80_columns_and_nothing_piped_is_dressed() {
    for words in TELLING {
        let output = run(words);
        for text in [out(&output), err(&output)] {
            assert!(
                !text.contains('\u{1b}'),
                "{words:?} prints an escape into a pipe"
            );
            for line in text.lines() {
                assert!(
                    width(line) <= 80,
                    "{words:?} prints {} columns: {line}",
                    width(line)
                );
            }
        }
        assert!(
            !out(&output).is_empty() || !err(&output).is_empty(),
            "{words:?} says nothing"
        );
    }
}

#[test]
fn plain_letters_where_the_locale_has_no_others() {
    let output = Command::new(env!("CARGO_BIN_EXE_hosewright"))
        .args(["check", "boats/dunlin"])
        .current_dir(root())
        .env("LC_ALL", "C")
        .output()
        .expect("the program starts");
    let text = out(&output);
    assert!(
        text.is_ascii(),
        "{:?}",
        text.lines().find(|line| !line.is_ascii())
    );
    assert!(text.contains("unmeasured,"));
}

#[test]
fn the_same_file_and_seed_give_the_same_bytes() {
    for words in [
        &["check", "boats/dunlin", "--all"][..],
        &["check", "boats/dunlin", "--json", "--seed", "7"],
    ] {
        assert_eq!(run(words).stdout, run(words).stdout, "{words:?}");
    }
}

#[test]
fn the_demo_boat_is_unsound_and_says_so() {
    let output = run(&["check", "boats/dunlin"]);
    assert_eq!(status(&output), 1, "{}", err(&output));
    let text = out(&output);
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
    assert_eq!(status(&output), 0, "{}", out(&output));
    let strict: Vec<&str> = sound.iter().copied().chain(["--strict"]).collect();
    let output = run(&strict);
    assert!(out(&output).contains("unmeasured"), "{}", out(&output));
    assert_eq!(status(&output), 1, "{}", out(&output));
    let unsound = [
        "fit", "--bore", "32", "--over", "42", "--spigot", "35", "--bead", "38.5", "--clip", "worm",
    ];
    assert_eq!(status(&run(&unsound)), 1);
}

#[test]
fn quick_says_that_it_is_quick_and_judges_the_same_things() {
    let count = |words: &[&str]| {
        let document: serde_json::Value = serde_json::from_slice(&run(words).stdout).expect("JSON");
        (
            document["quick"].as_bool(),
            document["verdicts"].as_array().map(Vec::len),
        )
    };
    let (slow, all) = count(&["check", "boats/dunlin", "--json"]);
    let (quick, same) = count(&["check", "boats/dunlin", "--json", "--quick"]);
    assert_eq!((slow, quick), (Some(false), Some(true)));
    assert_eq!(all, same);
}

#[test]
fn imperial_units_are_shown_and_no_metric_ones_in_the_table() {
    let text = out(&run(&["fit", "boats/dunlin", "--units", "imperial"]));
    let table: Vec<&str> = text
        .lines()
        .skip(3)
        .take_while(|line| !line.is_empty())
        .collect();
    assert!(table.iter().any(|line| line.contains(" in")), "{text}");
    assert!(!table.iter().any(|line| line.contains(" mm")), "{text}");
}

#[test]
fn wrong_input_returns_2_with_one_sentence() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| folder.path().join(name).display().to_string();
    fs::create_dir(path("empty")).expect("a folder");
    fs::write(path("bytes.toml"), b"name = \"\xff\xfe\"\n").expect("a file");
    fs::write(path("large.toml"), vec![b'#'; 4 * 1024 * 1024 + 1]).expect("a file");
    for (words, says) in [
        (vec!["check", "boats/dunlin", "--nonsense"], "--nonsense"),
        (vec!["chekc"], "check"),
        (vec!["check", &path("missing")], "missing"),
        (vec!["check", &path("empty")], "boat.toml"),
        (vec!["check", &path("bytes.toml")], "UTF-8"),
        (vec!["check", &path("large.toml")], "MiB"),
        (
            vec!["check", "boats/dunlin", "--arrangement", "aftre"],
            "after",
        ),
        (
            vec!["check", "boats/dunlin", "--explain", "fit.cold.to.clpi"],
            "fit.cold.to.clip",
        ),
        (
            vec!["fit", "--bore", "many", "--over", "42", "--spigot", "35"],
            "--bore",
        ),
        (vec!["fit", "--bore", "32"], "--over"),
        (
            vec!["mend", "boats/dunlin", "fit.cold.to.clpi"],
            "fit.cold.to.clip",
        ),
    ] {
        let output = run(&words);
        let told = err(&output);
        assert_eq!(status(&output), 2, "{words:?}: {told}");
        assert!(told.contains(says), "{words:?}: {told}");
        assert!(out(&output).is_empty(), "{words:?}");
        assert!(
            !told.contains("panicked") && !told.contains("os error"),
            "{words:?}: {told}"
        );
    }
}

#[test]
fn faults_of_a_file_are_told_with_their_place_and_several_at_once() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("boat.toml");
    fs::write(
        &file,
        "[boat]\nname = \"Test\"\n\n[runs.hot]\nfrom = 7\nto = [ \n",
    )
    .expect("a file");
    let output = run_in(folder.path(), &["check", "boat.toml"]);
    let told = err(&output);
    assert_eq!(status(&output), 2, "{told}");
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
        fs::write(folder.path().join("boat.toml"), text).expect("a file");
        let output = run_in(folder.path(), &["check", "boat.toml"]);
        let told = err(&output);
        assert_eq!(status(&output), 2, "{text}: {told}{}", out(&output));
        assert!(told.contains(place), "{text}: {told}");
        assert!(told.lines().all(|line| width(line) <= 80), "{told}");
    }
}

#[test]
fn completions_for_every_common_shell() {
    for shell in ["bash", "zsh", "fish"] {
        let output = run(&["completions", shell]);
        assert_eq!(status(&output), 0);
        assert!(out(&output).contains("check"), "{shell}");
    }
}

#[test]
fn a_reader_that_leaves_early_is_no_defect() {
    let mut child = Command::new(env!("CARGO_BIN_EXE_hosewright"))
        .args(["check", "boats/dunlin", "--json"])
        .current_dir(root())
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .expect("the program starts");
    drop(child.stdout.take());
    let output = child.wait_with_output().expect("it ends");
    assert_eq!(err(&output), "");
    assert_ne!(status(&output), 3);
}
