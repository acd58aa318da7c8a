//! The documents: those that must be there, what they must hold, and links that lead somewhere.

use super::Project;
use crate::Fault;
use crate::tree::File;

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

/// Lines of boat files that the README and the manual show and no demo boat has.
pub fn snippets(project: &Project) -> Vec<Fault> {
    let boats: Vec<&str> = project
        .files
        .iter()
        .filter(|file| file.path.starts_with("boats/") && file.path.ends_with("/boat.toml"))
        .filter_map(File::text)
        .collect();
    let boats = boats.join("\n");
    project
        .files
        .iter()
        .filter(|file| file.path == "README.md" || is_page(&file.path))
        .flat_map(|file| {
            lines_of_its_own(file.text().unwrap_or_default(), &boats)
                .into_iter()
                .map(|line| format!("{}: `{line}` stands in no demo boat's file", file.path))
        })
        .collect()
}

/// Whether a file is a page of the manual: Markdown in `docs/` itself.
fn is_page(path: &str) -> bool {
    path.strip_prefix("docs/")
        .is_some_and(|name| name.ends_with(".md") && !name.contains('/') && name != CONTENTS)
}

/// The list of the manual's pages.
const CONTENTS: &str = "SUMMARY.md";

/// Pages that the manual's table of contents lacks or has twice: they would be missing in the book.
pub fn pages(project: &Project) -> Vec<Fault> {
    let contents = match project.text(&format!("docs/{CONTENTS}")) {
        Ok(contents) => contents,
        Err(fault) => return vec![fault],
    };
    let paths = project.files.iter().map(|file| file.path.as_str());
    let pages: Vec<&str> = paths
        .filter(|path| is_page(path))
        .filter_map(|path| path.strip_prefix("docs/"))
        .collect();
    astray(contents, &pages)
        .into_iter()
        .map(|fault| format!("docs/{CONTENTS}: {fault}"))
        .collect()
}

/// What a table of contents lacks, or has twice, of some pages.
pub fn astray(contents: &str, pages: &[&str]) -> Vec<Fault> {
    pages
        .iter()
        .filter_map(|page| {
            let count = targets(contents).filter(|(path, _)| path == page).count();
            match count {
                0 => Some(format!("`{page}` does not stand in it")),
                1 => None,
                _ => Some(format!("`{page}` stands in it {count} times")),
            }
        })
        .collect()
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
    for (document, text) in linking(project) {
        for (target, _) in targets(text).filter(|(target, _)| !target.is_empty()) {
            let path = joined(document, target);
            let there = project
                .files
                .iter()
                .any(|file| file.path == path || file.path.starts_with(&format!("{path}/")));
            if !there {
                faults.push(format!("{document}: `{target}` leads nowhere"));
            }
        }
    }
    faults
}

/// Links to a heading that the other document does not have.
pub fn headings(project: &Project) -> Vec<Fault> {
    let mut faults = Vec::new();
    for (document, text) in linking(project) {
        for (target, heading) in targets(text) {
            let Some(heading) = heading.filter(|heading| !heading.is_empty()) else {
                continue;
            };
            let path = if target.is_empty() {
                document.to_owned()
            } else {
                joined(document, target)
            };
            // A file that is not there is the fault of another rule.
            let Ok(other) = project.text(&path) else {
                continue;
            };
            if path.ends_with(".md") && !anchors(other).any(|anchor| anchor == heading) {
                faults.push(format!(
                    "{document}: `{target}#{heading}` leads to no heading"
                ));
            }
        }
    }
    faults
}

/// The documents whose links are looked at.
fn linking(project: &Project) -> impl Iterator<Item = (&str, &str)> {
    project
        .files
        .iter()
        // A template's links are those of the document that is made from it, which lies elsewhere.
        .filter(|file| file.path.ends_with(".md") && !file.path.ends_with(".template.md"))
        .filter_map(|file| Some((file.path.as_str(), file.text()?)))
}

/// The names by which a document's headings can be linked to: small letters, a hyphen for a blank,
/// no signs. That is how mdBook and most hosts of Markdown make them.
pub fn anchors(text: &str) -> impl Iterator<Item = String> {
    let mut inside = false;
    text.lines()
        .filter(move |line| {
            if line.starts_with("```") {
                inside = !inside;
            }
            !inside && line.starts_with('#')
        })
        .map(|line| {
            line.trim_start_matches('#')
                .trim()
                .to_lowercase()
                .chars()
                .filter(|c| c.is_alphanumeric() || matches!(c, ' ' | '-' | '_'))
                .map(|c| if c == ' ' { '-' } else { c })
                .collect()
        })
}

/// The files to which a document links, each with the part after `#`: what stands in round
/// brackets after square ones, without addresses of the web.
fn targets(text: &str) -> impl Iterator<Item = (&str, Option<&str>)> {
    text.split("](")
        .skip(1)
        .filter_map(|rest| rest.split([')', ' ', '\n']).next())
        .filter(|target| !target.contains(':'))
        .map(|target| match target.split_once('#') {
            Some((path, heading)) => (path, Some(heading)),
            None => (target, None),
        })
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
