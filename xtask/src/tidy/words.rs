//! Words that may not stand anywhere; the list is `xtask/words.toml`.

use serde::Deserialize;

use super::Project;
use crate::Fault;

const LIST: &str = "xtask/words.toml";

/// The list.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Banned {
    /// Whole words, in any case.
    pub words: Vec<String>,
    /// Parts of text, in this very form.
    pub parts: Vec<String>,
    /// Files that are not looked at.
    pub skipped: Vec<String>,
}

/// Every place where such a word stands.
pub fn check(project: &Project) -> Vec<Fault> {
    let list = project
        .text(LIST)
        .and_then(|text| toml::from_str::<Banned>(text).map_err(|e| format!("{LIST}: {e}")));
    let banned = match list {
        Ok(banned) => banned,
        Err(fault) => return vec![fault],
    };
    project
        .files
        .iter()
        .filter(|file| !banned.skipped.contains(&file.path))
        .filter_map(|file| Some((file.path.as_str(), file.text()?)))
        .flat_map(|(path, text)| found(&banned, path, text))
        .collect()
}

/// The banned words of one text, each with its line.
pub fn found(banned: &Banned, path: &str, text: &str) -> Vec<Fault> {
    let mut faults = Vec::new();
    for (n, line) in std::iter::once(path).chain(text.lines()).enumerate() {
        // The name of the file counts as its line 0.
        let mut fault = |word: &str| faults.push(format!("{path}:{n}: `{word}`"));
        for part in banned.parts.iter().filter(|part| line.contains(*part)) {
            fault(part);
        }
        for word in line.split(|c: char| !c.is_alphanumeric()) {
            if banned.words.iter().any(|b| b.eq_ignore_ascii_case(word)) {
                fault(word);
            }
        }
    }
    faults
}
