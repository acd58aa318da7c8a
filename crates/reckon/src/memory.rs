//! Answers that are remembered by the hash of what they hang on.

use std::collections::BTreeMap;

/// What was found before under a key, or is found now; where `most` are kept, all are forgotten first.
pub(crate) fn remembered<K: Ord, T: Clone>(
    known: &mut BTreeMap<K, T>,
    most: usize,
    key: K,
    find: impl FnOnce() -> T,
) -> T {
    if let Some(known) = known.get(&key) {
        return known.clone();
    }
    if known.len() >= most {
        known.clear();
    }
    let found = find();
    known.insert(key, found.clone());
    found
}
