//! Each dependency from outside has its reason: one line of the table in DESIGN.md.

use std::collections::{BTreeMap, BTreeSet};

use super::Project;
use crate::Fault;

const DOCUMENT: &str = "DESIGN.md";

/// The heading over the table.
const HEADING: &str = "## Why each dependency?";

/// Every dependency without a reason, and every reason without a dependency.
pub fn check(project: &Project) -> Vec<Fault> {
    let reasons = match project.text(DOCUMENT) {
        Ok(text) => given(text),
        Err(fault) => return vec![fault],
    };
    let members: BTreeSet<&str> = project
        .metadata
        .members()
        .iter()
        .map(|package| package.name.as_str())
        .collect();
    let used: BTreeSet<&str> = project
        .metadata
        .members()
        .iter()
        .flat_map(|package| &package.dependencies)
        .map(|dependency| dependency.name.as_str())
        .filter(|name| !members.contains(name))
        .collect();
    differences(&reasons, &used)
}

/// Name and reason of each row of the table.
pub fn given(text: &str) -> BTreeMap<&str, &str> {
    text.lines()
        .skip_while(|line| *line != HEADING)
        .skip(1)
        .take_while(|line| !line.starts_with("## "))
        .filter_map(|line| {
            let mut cells = line.trim_matches('|').split('|').map(str::trim);
            let name = cells.next()?.strip_prefix('`')?.strip_suffix('`')?;
            Some((name, cells.next()?))
        })
        .collect()
}

/// What stands in one and not in the other.
pub fn differences(reasons: &BTreeMap<&str, &str>, used: &BTreeSet<&str>) -> Vec<Fault> {
    let without = used
        .iter()
        .filter(|name| reasons.get(*name).is_none_or(|reason| reason.is_empty()))
        .map(|name| format!("{DOCUMENT} gives no reason for `{name}`"));
    let unused = reasons
        .keys()
        .filter(|name| !used.contains(*name))
        .map(|name| format!("{DOCUMENT} gives a reason for `{name}`, which no crate uses"));
    without.chain(unused).collect()
}
