//! The crates and the one direction of dependency, as ARCHITECTURE.md draws them, against cargo.

use std::collections::{BTreeMap, BTreeSet};

use super::Project;
use crate::Fault;

const DOCUMENT: &str = "ARCHITECTURE.md";

/// Opens the block of lines `crate: crate it depends on, …`.
const OPENING: &str = "```edges";

/// What only the outermost crate may know: JSON, the command line, files, the network.
const OUTER_ONLY: [&str; 12] = [
    "axum",
    "clap",
    "comfy-table",
    "indicatif",
    "miette",
    "rusqlite",
    "schemars",
    "serde_json",
    "tempfile",
    "tokio",
    "tracing-subscriber",
    "wait4",
];

/// The crates that read no files and no clock, print nothing and know no JSON.
pub const DOMAIN: [&str; 6] = ["quantity", "reference", "boat", "bay", "reckon", "sheets"];

/// Every crate or edge that stands in one and not in the other.
pub fn check(project: &Project) -> Vec<Fault> {
    match project.text(DOCUMENT).and_then(drawn) {
        Ok(drawn) => differences(&drawn, &project.metadata.edges()),
        Err(fault) => vec![fault],
    }
}

/// The edges as the document draws them.
pub fn drawn(text: &str) -> Result<BTreeMap<String, BTreeSet<String>>, Fault> {
    let block: Vec<&str> = text
        .lines()
        .skip_while(|line| *line != OPENING)
        .skip(1)
        .take_while(|line| !line.starts_with("```"))
        .collect();
    if block.is_empty() {
        return Err(format!("{DOCUMENT}: no block that opens with {OPENING}"));
    }
    block
        .into_iter()
        .map(|line| {
            let (name, to) = line
                .split_once(':')
                .ok_or_else(|| format!("{DOCUMENT}: `{line}` is no edge"))?;
            let to = to
                .split(',')
                .map(|name| name.trim().to_owned())
                .filter(|name| !name.is_empty())
                .collect();
            Ok((name.trim().to_owned(), to))
        })
        .collect()
}

/// What stands in one and not in the other.
pub fn differences(
    drawn: &BTreeMap<String, BTreeSet<String>>,
    real: &BTreeMap<String, BTreeSet<String>>,
) -> Vec<Fault> {
    let mut faults = Vec::new();
    let names: BTreeSet<&String> = drawn.keys().chain(real.keys()).collect();
    for name in names {
        match (drawn.get(name), real.get(name)) {
            (Some(drawn), Some(real)) => {
                for to in real.difference(drawn) {
                    faults.push(format!(
                        "{name} depends on {to}, which {DOCUMENT} does not draw"
                    ));
                }
                for to in drawn.difference(real) {
                    faults.push(format!(
                        "{DOCUMENT} draws {name} on {to}, which cargo does not know"
                    ));
                }
            }
            (None, _) => faults.push(format!("{DOCUMENT} does not draw the crate {name}")),
            (_, None) => faults.push(format!(
                "{DOCUMENT} draws the crate {name}, which is not there"
            )),
        }
    }
    faults
}

/// Every dependency of a domain crate that only the outermost crate may have.
pub fn domain_dependencies(project: &Project) -> Vec<Fault> {
    let mut faults = Vec::new();
    for package in project.metadata.members() {
        if !DOMAIN.contains(&package.name.as_str()) {
            continue;
        }
        for dependency in &package.dependencies {
            if dependency.kind.is_none() && OUTER_ONLY.contains(&dependency.name.as_str()) {
                faults.push(format!("{} depends on {}", package.name, dependency.name));
            }
        }
    }
    faults
}
