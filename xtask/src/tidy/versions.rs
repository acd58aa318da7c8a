//! Versions: what each crate says of itself, and what the dependencies ask for.

use super::Project;
use crate::Fault;

/// Crates that differ from the workspace, and dependencies that ask for a newer compiler than
/// the project does.
pub fn check(project: &Project) -> Vec<Fault> {
    let mut faults = Vec::new();
    let members = project.metadata.members();
    let Some(ours) = members
        .iter()
        .find(|package| package.name == "hosewright")
        .and_then(|package| package.rust_version.as_deref())
    else {
        return vec!["hosewright states no rust-version".to_owned()];
    };
    for package in &members {
        if package.rust_version.as_deref() != Some(ours) {
            faults.push(format!(
                "{}: its rust-version is to be {ours}",
                package.name
            ));
        }
        if package.publish.as_ref().is_none_or(|to| !to.is_empty()) {
            faults.push(format!("{}: `publish = false` is wanted", package.name));
        }
        if package.edition != "2024" {
            faults.push(format!("{}: its edition is to be 2024", package.name));
        }
    }
    for package in &project.metadata.packages {
        if let Some(theirs) = &package.rust_version
            && numbers(theirs) > numbers(ours)
        {
            faults.push(format!(
                "{} {} asks for rust {theirs}; the project states {ours}",
                package.name, package.version
            ));
        }
        let from_elsewhere = package
            .source
            .as_ref()
            .is_some_and(|source| !source.starts_with("registry+"));
        if from_elsewhere {
            faults.push(format!("{} comes from no registry", package.name));
        }
    }
    faults
}

/// A version as numbers, to compare.
fn numbers(version: &str) -> Vec<u32> {
    version
        .split('.')
        .map(|part| part.parse().unwrap_or(0))
        .collect()
}
