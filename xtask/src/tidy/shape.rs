//! The shape of the code: length of files, their docs, what domain crates must not touch.

use super::Project;
use super::edges::DOMAIN;
use crate::Fault;

/// A longer file has taken on a second duty.
const MOST_LINES: usize = 800;

/// Files that may be longer, each with the reason.
const LONGER: [(&str, &str); 1] = [(
    "crates/boat/src/keys/tables.rs",
    "the one table of keys, data by nature: a key takes several lines",
)];

/// The stages of the job, each a module of `reckon::stages`.
const STAGES: [&str; 15] = [
    "survey", "circuit", "shape", "route", "flow", "fit", "air", "access", "order", "drain",
    "build", "fill", "prove", "watch", "home",
];

/// Files of source that are too long.
pub fn length(project: &Project) -> Vec<Fault> {
    project
        .sources()
        .map(|(path, text)| (path, text.lines().count()))
        .filter(|(path, lines)| {
            *lines > MOST_LINES && !LONGER.iter().any(|(longer, _)| longer == path)
        })
        .map(|(path, lines)| format!("{path}: {lines} lines; over {MOST_LINES} it has two duties"))
        .collect()
}

/// Files of source that do not begin by saying what they are for.
pub fn module_docs(project: &Project) -> Vec<Fault> {
    project
        .sources()
        .filter(|(_, text)| !text.trim_start().starts_with("//! "))
        .map(|(path, _)| format!("{path}: does not begin with `//!` and a sentence"))
        .collect()
}

/// The lines of a file that are code and no test, numbered from 1. A module of tests stands at
/// the end of its file.
fn code_lines(text: &str) -> impl Iterator<Item = (usize, &str)> {
    text.lines()
        .enumerate()
        .map(|(n, line)| (n + 1, line))
        .take_while(|(_, line)| line.trim() != "#[cfg(test)]")
        .filter(|(_, line)| !line.trim_start().starts_with("//"))
}

/// The domain crate that a file belongs to.
fn domain_crate(path: &str) -> Option<&str> {
    let name = path.strip_prefix("crates/")?.split('/').next()?;
    DOMAIN.contains(&name).then_some(name)
}

/// Places where a domain crate reads files, the clock or the environment, prints, or knows JSON.
/// The lints ban most of it by name; this holds for what they cannot name.
pub fn input_and_output(project: &Project) -> Vec<Fault> {
    const BANNED: [&str; 10] = [
        "std::fs",
        "std::env",
        "std::io",
        "std::net",
        "std::process",
        "std::time",
        "println!",
        "print!(",
        "serde_json",
        "env!(\"CARGO_MANIFEST_DIR\")",
    ];
    let mut faults = Vec::new();
    for (path, text) in project.sources() {
        if domain_crate(path).is_none() {
            continue;
        }
        for (n, line) in code_lines(text) {
            for banned in BANNED.iter().filter(|banned| line.contains(*banned)) {
                faults.push(format!("{path}:{n}: `{banned}` in a domain crate"));
            }
        }
    }
    faults
}

/// Places where the program might panic without saying why it cannot.
pub fn unwraps(project: &Project) -> Vec<Fault> {
    let mut faults = Vec::new();
    for (path, text) in project
        .sources()
        .filter(|(path, _)| path.starts_with("crates/"))
    {
        let lines: Vec<&str> = text.lines().collect();
        for (n, line) in code_lines(text) {
            let risky = [".unwrap()", ".expect(", "unreachable!(", "panic!("]
                .iter()
                .any(|call| line.contains(call));
            // The reason stands on the line or in the few above it.
            let explained = lines[n.saturating_sub(6)..n]
                .iter()
                .any(|line| line.contains("OK because"));
            if risky && !explained {
                faults.push(format!(
                    "{path}:{n}: no `OK because …` at a call that can panic"
                ));
            }
        }
    }
    faults
}

/// Imports that break the floors of `reckon`: `solve` knows no boat and no verdict, and a stage
/// never imports another.
pub fn floors(project: &Project) -> Vec<Fault> {
    project
        .sources()
        .flat_map(|(path, text)| floor_faults(path, text))
        .collect()
}

/// The same for one file.
pub fn floor_faults(path: &str, text: &str) -> Vec<Fault> {
    let fault = |n: usize, what: &str| format!("{path}:{n}: {what}");
    let mut faults = Vec::new();
    if path.starts_with("crates/reckon/src/solve/") || path == "crates/reckon/src/solve.rs" {
        for (n, line) in code_lines(text) {
            for banned in [
                "boat::",
                "stages",
                "crate::verdict",
                "crate::wire",
                "Verdict",
            ] {
                if line.contains(banned) {
                    faults.push(fault(n, &format!("`{banned}` in solve")));
                }
            }
        }
    }
    let stage = path
        .strip_prefix("crates/reckon/src/stages/")
        .and_then(|rest| rest.split(['/', '.']).next())
        .filter(|stage| STAGES.contains(stage));
    if let Some(stage) = stage {
        for (n, line) in code_lines(text) {
            for other in STAGES.iter().filter(|other| **other != stage) {
                if line.contains(&format!("stages::{other}"))
                    || line.contains(&format!("super::{other}::"))
                        && !path.contains(&format!("/{stage}/"))
                {
                    faults.push(fault(n, &format!("stage {stage} imports stage {other}")));
                }
            }
            if line.contains("crate::wire") {
                faults.push(fault(n, &format!("stage {stage} imports wire")));
            }
        }
    }
    faults
}

/// Test programs beside the one of each crate: every further one is linked anew.
pub fn test_programs(project: &Project) -> Vec<Fault> {
    project
        .files
        .iter()
        .map(|file| file.path.as_str())
        .filter(|path| {
            path.ends_with(".rs")
                && path
                    .split_once("/tests/")
                    .is_some_and(|(_, rest)| !rest.contains('/'))
        })
        .map(|path| format!("{path}: put it into tests/it/, the one test program of its crate"))
        .collect()
}
