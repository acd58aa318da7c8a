//! What the surveyor wrote down in his own words, and what he did not see.

use boat::{Boat, Key};

/// One place that was looked at, or not.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sighted {
    /// Which run, joint or thing.
    pub subject: Key,
    /// Word and text, in the order of the file: `hose`, `soft for 30 mm from the end`.
    pub said: Vec<(String, String)>,
    /// Names of photographs.
    pub photos: Vec<String>,
    /// Why it was not seen.
    pub not_seen: Option<String>,
}

/// Everything that was written under `seen`.
pub fn sighted(boat: &Boat) -> Vec<Sighted> {
    boat.seen
        .iter()
        .map(|seen| {
            let mut said: Vec<(String, String)> = Vec::new();
            if !seen.found.is_empty() {
                let states: Vec<&str> = seen.found.iter().map(|found| found.word()).collect();
                said.push(("found".into(), states.join(", ")));
            }
            if let Some(magnet) = seen.magnet.given() {
                said.push(("a magnet draws".into(), magnet.word().to_owned()));
            }
            if let Some(made) = seen.made.given() {
                said.push(("made".into(), made.to_string()));
            }
            said.extend(seen.words.iter().cloned());
            if let Some(decided) = seen.decided.given() {
                said.push(("decided".into(), decided.word().to_owned()));
            }
            Sighted {
                subject: seen.subject.clone(),
                said,
                photos: seen.photos.clone(),
                not_seen: seen.not_seen.clone(),
            }
        })
        .collect()
}
