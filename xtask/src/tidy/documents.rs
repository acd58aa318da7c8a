//! The documents: those that must be there, what they must hold, and links that lead somewhere.

use super::Project;
use crate::Fault;

/// What must be there, and what must stand in it.
const WANTED: [(&str, &[&str]); 11] = [
    (
        "README.md",
        &["cargo xtask demo", "cargo xtask test", "MIT OR Apache-2.0"],
    ),
    (
        "ARCHITECTURE.md",
        &["## Words", "## Invariants", "```edges"],
    ),
    ("DESIGN.md", &["## Why each dependency?"]),
    ("CONTRIBUTING.md", &["cargo xtask check"]),
    ("CHANGELOG.md", &["### Numbers"]),
    ("STYLE.md", &["## Grades", "## Numbers"]),
    (
        "LICENSE-MIT",
        &["Permission is hereby granted, free of charge"],
    ),
    (
        "LICENSE-APACHE",
        &["Version 2.0, January 2004", "END OF TERMS AND CONDITIONS"],
    ),
    ("docs/README.md", &["validation.md"]),
    ("docs/validation.md", &["What counts."]),
    (".ci/run", &["cargo xtask test"]),
];

/// Documents that are missing or lack what they must hold.
pub fn check(project: &Project) -> Vec<Fault> {
    let mut faults = Vec::new();
    for (path, parts) in WANTED {
        match project.text(path) {
            Ok(text) => faults.extend(
                parts
                    .iter()
                    .filter(|part| !text.contains(*part))
                    .map(|part| format!("{path}: `{part}` does not stand in it")),
            ),
            Err(fault) => faults.push(fault),
        }
    }
    if let Ok(text) = project.text("CHANGELOG.md") {
        faults.extend(releases_without_numbers(text));
    }
    faults
}

/// Releases whose part of the changelog does not say which results moved.
pub fn releases_without_numbers(text: &str) -> Vec<Fault> {
    text.split("\n## ")
        .skip(1)
        .filter(|release| !release.contains("\n### Numbers"))
        .map(|release| {
            let title = release.lines().next().unwrap_or_default();
            format!("CHANGELOG.md: `{title}` has no section Numbers")
        })
        .collect()
}

/// Lines of the boat file that the README shows and the demo boat does not have.
pub fn snippets(project: &Project) -> Vec<Fault> {
    const DOCUMENT: &str = "README.md";
    const BOAT: &str = "boats/dunlin/boat.toml";
    match (project.text(DOCUMENT), project.text(BOAT)) {
        (Ok(document), Ok(boat)) => lines_of_its_own(document, boat)
            .into_iter()
            .map(|line| format!("{DOCUMENT}: `{line}` does not stand in {BOAT}"))
            .collect(),
        (document, boat) => [document.err(), boat.err()].into_iter().flatten().collect(),
    }
}

/// The lines of a document's blocks of TOML that are no lines of a boat file. A line `…` says
/// that something was left out.
pub fn lines_of_its_own<'a>(document: &'a str, boat: &str) -> Vec<&'a str> {
    let mut inside = false;
    let mut odd = Vec::new();
    for line in document.lines() {
        if line.starts_with("```") {
            inside = line == "```toml";
        } else if inside && !matches!(line, "" | "…") && !boat.lines().any(|known| known == line)
        {
            odd.push(line);
        }
    }
    odd
}

/// Links of documents that lead to a file that is not there.
pub fn links(project: &Project) -> Vec<Fault> {
    let mut faults = Vec::new();
    for file in project
        .files
        .iter()
        // A template's links are those of the document that is made from it, which lies elsewhere.
        .filter(|file| file.path.ends_with(".md") && !file.path.ends_with(".template.md"))
    {
        let text = file.text().unwrap_or_default();
        for target in targets(text) {
            let path = joined(&file.path, target);
            let there = project
                .files
                .iter()
                .any(|file| file.path == path || file.path.starts_with(&format!("{path}/")));
            if !there {
                faults.push(format!("{}: `{target}` leads nowhere", file.path));
            }
        }
    }
    faults
}

/// The files to which a document links: what stands in round brackets after square ones, without
/// addresses of the web and without the part after `#`.
fn targets(text: &str) -> impl Iterator<Item = &str> {
    text.split("](")
        .skip(1)
        .filter_map(|rest| rest.split([')', ' ', '\n']).next())
        .filter(|target| !target.contains(':'))
        .filter_map(|target| target.split('#').next())
        .filter(|target| !target.is_empty())
}

/// A link's target from the root.
fn joined(document: &str, target: &str) -> String {
    let mut parts: Vec<&str> = document.split('/').collect();
    parts.pop();
    for part in target.split('/') {
        match part {
            "" | "." => {}
            ".." => _ = parts.pop(),
            part => parts.push(part),
        }
    }
    parts.join("/")
}
