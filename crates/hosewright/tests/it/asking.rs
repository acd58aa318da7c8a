//! What the program says back to what is typed: flags, names, suggestions, new boats.

use crate::bench::{demo_copy, root, run, run_in};
use crate::running::{offered, returns};

const DEMO: &str = "boats/dunlin";

#[cfg(target_os = "linux")]
#[test]
fn an_answer_that_can_not_be_printed_returns_3() {
    // Whatever is written to this device meets a full disk.
    let full = std::fs::OpenOptions::new()
        .write(true)
        .open("/dev/full")
        .unwrap();
    let output = std::process::Command::new(env!("CARGO_BIN_EXE_hosewright"))
        .args(["check", DEMO])
        .current_dir(root())
        .stdout(full)
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(3));
    let told = String::from_utf8(output.stderr).unwrap();
    assert!(told.contains("The answer can't be printed"), "{told}");
    assert_eq!(told.lines().count(), 1, "{told}");
}

#[test]
fn help_is_asked_for_by_word_or_by_flag() {
    for (by_word, by_flag) in [
        (vec!["help"], vec!["--help"]),
        (vec!["help", "help"], vec!["--help"]),
        (vec!["help", "fit"], vec!["fit", "--help"]),
    ] {
        let (word, flag) = (run(&by_word), run(&by_flag));
        assert_eq!((word.exit, &word.out), (0, &flag.out), "{by_word:?}");
    }
    returns(&["help", "chekc"], 2, "chekc is no command");
}

#[test]
fn a_flag_that_can_not_be_is_named() {
    let joint = |change: &[&'static str]| -> Vec<&'static str> {
        [
            &["fit", "--bore", "38", "--over", "48", "--spigot", "38.5"][..],
            change,
        ]
        .concat()
    };
    returns(
        &["fit", "--bore", "38", "--over", "36", "--spigot", "38"],
        2,
        "--over 36: the outside of a hose is wider than its bore",
    );
    returns(
        &["fit", "--bore", "38", "--over", "38", "--spigot", "38"],
        2,
        "--over 38:",
    );
    returns(
        &["fit", "--bore", "-5", "--over", "42", "--spigot", "38"],
        2,
        "--bore -5: a length over 0 is due",
    );
    for (spigot, why) in [("0", "over 0"), ("1e9", ""), ("2 m", "1000 mm at most")] {
        let told = format!("--spigot {spigot}: ");
        returns(
            &["fit", "--bore", "38", "--over", "42", "--spigot", spigot],
            2,
            &told,
        );
        returns(
            &["fit", "--bore", "38", "--over", "42", "--spigot", spigot],
            2,
            why,
        );
    }
    returns(
        &["fit", "--bore", "3 ± 4", "--over", "42", "--spigot", "35"],
        2,
        "--bore 3 ± 4:",
    );
    returns(&joint(&["--bead", "36"]), 2, "--bead 36: a bead stands out");
    returns(&joint(&["--behind-bead", "-1"]), 2, "--behind-bead -1:");
    returns(
        &joint(&["--plain", "--bead", "41"]),
        2,
        "--plain and --bead don't go together",
    );
}

#[test]
fn a_spigot_is_plain_only_where_it_is_said_to_be() {
    let judged = |more: &[&str]| {
        let words = [
            &[
                "fit", "--bore", "38", "--over", "48", "--spigot", "38.5", "--json",
            ][..],
            more,
        ]
        .concat();
        run(&words).out
    };
    let (silent, plain) = (judged(&[]), judged(&["--plain"]));
    assert_ne!(silent, plain);
    let count = |text: &str| {
        let document: serde_json::Value = serde_json::from_str(text).unwrap();
        document["summary"]["unmeasured"].as_u64().unwrap()
    };
    assert!(count(&silent) > count(&plain), "{silent}\n{plain}");
}

#[test]
fn new_wants_a_folder_and_says_so() {
    let folder = tempfile::tempdir().unwrap();
    let told = |words: &[&str], exit: i32, told: &str| {
        let run = run_in(folder.path(), "C.UTF-8", words);
        let err = run.err.split_whitespace().collect::<Vec<_>>().join(" ");
        assert_eq!(run.exit, exit, "{words:?}: {err}");
        assert!(err.contains(told), "{words:?}: {err}");
    };
    told(
        &["new", "otter/boat.toml"],
        2,
        "`hosewright new otter` starts",
    );
    told(&["new", "otter.toml"], 2, "`hosewright new otter` starts");
    told(&["new", "boat.toml"], 2, "`hosewright new .` starts");
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
    std::fs::write(folder.path().join("otter"), "mine").unwrap();
    told(&["new", "otter"], 2, "otter is the name of a file");
    told(&["new", "my otter"], 0, "");
    let run = run_in(folder.path(), "C.UTF-8", &["new", "my boat"]);
    assert!(
        run.out.contains("hosewright check 'my boat'"),
        "{}",
        run.out
    );
}

#[test]
fn a_boat_without_runs_is_told_what_to_begin_with() {
    let folder = tempfile::tempdir().unwrap();
    run_in(folder.path(), "C.UTF-8", &["new", "gull"]);
    for command in ["check", "fit"] {
        let run = run_in(folder.path(), "C.UTF-8", &[command, "gull"]);
        assert_eq!(run.exit, 0, "{}", run.err);
        assert!(
            run.out
                .contains("No runs yet: write a run with its two ends."),
            "{}",
            run.out
        );
    }
    assert!(!run(&["check", DEMO]).out.contains("No runs yet"));
}

/// The lines at the bottom that tell what can be typed.
fn suggested(text: &str) -> Vec<String> {
    let told = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let mut commands = Vec::new();
    for part in told.split('`').skip(1).step_by(2) {
        if part.starts_with("hosewright ") {
            commands.push(part.to_owned());
        }
    }
    commands
}

#[test]
fn what_is_suggested_is_about_the_worst_that_is_shown() {
    let worst = |text: &str| {
        let mut lines = text.lines().skip_while(|line| !line.starts_with('◆'));
        lines
            .find(|line| line.starts_with("  fit."))
            .map(|line| line.trim().split(' ').next().unwrap().to_owned())
            .unwrap()
    };
    let check = run(&["check", DEMO]).out;
    let worst = worst(&check);
    assert_eq!(
        suggested(&check),
        [
            format!("hosewright mend {DEMO} {worst}"),
            format!("hosewright check {DEMO} --explain {worst}"),
        ]
    );
    // What is explained needs no second explaining, and nothing else is suggested.
    let one = run(&["check", DEMO, "--explain", "fit.cold.to.clip"]).out;
    for command in suggested(&one) {
        assert!(command.contains("fit.cold.to.clip"), "{command}");
        assert!(!command.contains("--explain"), "{command}");
    }
    let sound = run(&["check", DEMO, "--explain", "fit.hot.from.bead"]).out;
    assert_eq!(suggested(&sound), Vec::<String>::new(), "{sound}");
    let named = run(&["check", DEMO, "--arrangement", "before"]).out;
    for command in suggested(&named) {
        assert!(command.ends_with(" --arrangement before"), "{command}");
    }
}

#[test]
fn a_path_with_a_space_is_quoted_where_it_is_suggested() {
    let demo = demo_copy();
    let folder = tempfile::tempdir().unwrap();
    std::fs::create_dir(folder.path().join("my boat")).unwrap();
    std::fs::copy(
        demo.path().join("boat.toml"),
        folder.path().join("my boat/boat.toml"),
    )
    .unwrap();
    let check = run_in(folder.path(), "C.UTF-8", &["check", "my boat"]).out;
    let commands = suggested(&check);
    assert!(!commands.is_empty());
    for command in commands {
        assert!(command.contains(" 'my boat' "), "{command}");
    }
}

#[test]
fn every_id_can_be_read_off_the_whole_list() {
    let check: serde_json::Value =
        serde_json::from_str(&run(&["check", DEMO, "--json"]).out).unwrap();
    let all = run(&["check", DEMO, "--all"]).out;
    let words: Vec<&str> = all.split_whitespace().collect();
    for verdict in check["verdicts"].as_array().unwrap() {
        let id = verdict["id"].as_str().unwrap();
        assert!(words.contains(&id), "{id} is not in the list");
    }
}

#[test]
fn a_joint_or_its_mark_can_be_explained() {
    let by_id = run(&["check", DEMO, "--explain", "fit.hot.from."]);
    assert_eq!(by_id.exit, 1, "{}", by_id.err);
    assert!(
        by_id.out.contains("hot on engine out (A1)"),
        "{}",
        by_id.out
    );
    for name in ["hot.from", "A1", "a1"] {
        assert_eq!(
            run(&["check", DEMO, "--explain", name]).out,
            by_id.out,
            "{name}"
        );
    }
    // A2 is not the beginning of another mark, nor of another joint.
    let tee = run(&["fit", DEMO, "--explain", "hot.tee.a"]).out;
    assert!(!tee.contains("hot on engine out"), "{tee}");
    returns(
        &["check", DEMO, "--explain", "hot.form"],
        2,
        "did you mean hot.from?",
    );
}

#[test]
fn the_reason_of_what_is_unmeasured_is_told_once() {
    let all = run(&["check", DEMO, "--explain"]).out;
    let told = all.split_whitespace().collect::<Vec<_>>().join(" ");
    let check: serde_json::Value =
        serde_json::from_str(&run(&["check", DEMO, "--json"]).out).unwrap();
    let verdicts = check["verdicts"].as_array().unwrap();
    let open = verdicts
        .iter()
        .filter(|verdict| verdict["grade"] == "unmeasured");
    let mut seen = 0;
    for verdict in open {
        let reason = verdict["because"]["metric"].as_str().unwrap();
        let same = verdicts
            .iter()
            .filter(|other| other["because"]["metric"] == reason)
            .count();
        assert!(told.matches(reason).count() <= same, "{reason}");
        // Its working stands under its own name.
        let rule = verdict["id"].as_str().unwrap().rsplit('.').next().unwrap();
        let title = format!("▫ {}, {rule}", verdict["title"].as_str().unwrap());
        assert!(told.contains(&title), "{title}");
        seen += 1;
    }
    assert!(seen > 10, "{seen}");
}

#[test]
fn line_endings_and_mark_of_the_file_outlive_mend_and_marks() {
    for command in [
        vec!["mend", ".", "fit.cold.to.clip", "--choice", "1"],
        vec!["marks", "."],
    ] {
        let (unix, other) = (demo_copy(), demo_copy());
        let file = other.path().join("boat.toml");
        let text = std::fs::read_to_string(&file).unwrap();
        std::fs::write(&file, format!("\u{feff}{}", text.replace('\n', "\r\n"))).unwrap();
        for folder in [&unix, &other] {
            let run = run_in(folder.path(), "C.UTF-8", &command);
            assert_eq!(run.exit, 0, "{}{}", run.out, run.err);
        }
        let plain = std::fs::read_to_string(unix.path().join("boat.toml")).unwrap();
        assert_ne!(plain, text);
        assert_eq!(
            std::fs::read_to_string(&file).unwrap(),
            format!("\u{feff}{}", plain.replace('\n', "\r\n"))
        );
    }
}

#[test]
fn a_new_boat_filled_in_by_its_own_examples_is_judged() {
    let start = hosewright::commands::new::start(std::path::Path::new("gull"));
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("boat.toml"), offered(&start)).unwrap();
    let run = run_in(folder.path(), "C.UTF-8", &["fit", ".", "--json"]);
    assert!(run.exit <= 1, "{}{}", run.out, run.err);
    let fit: serde_json::Value = serde_json::from_str(&run.out).unwrap();
    let joints = fit["joints"].as_array().unwrap();
    assert_eq!(joints.len(), 2, "{}", run.out);
    for joint in joints {
        // Its spigots are read; the hose is still to be chosen, and no shelf offers one.
        assert!(
            joint["spigot"].is_object() && joint["bead"].is_object(),
            "{joint}"
        );
    }
}
