//! Where everything stands in the file.

use std::collections::BTreeMap;
use std::ops::Range;

use crate::model::{KeyPath, Thing};

/// A place for people: lines and columns count from 1, columns in characters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Position {
    /// Line.
    pub line: usize,
    /// Column.
    pub column: usize,
}

/// Where one key path stands.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
struct Spot {
    key: Option<Range<usize>>,
    value: Option<Range<usize>>,
    /// A table's value is all it holds; its name says more.
    table: bool,
}

/// From key path to place.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Places {
    spots: BTreeMap<KeyPath, Spot>,
    text: String,
    /// First byte of each line.
    lines: Vec<usize>,
}

impl Places {
    pub(crate) fn new(text: &str) -> Self {
        let after_breaks = text
            .bytes()
            .enumerate()
            .filter(|(_, byte)| *byte == b'\n')
            .map(|(at, _)| at + 1);
        Self {
            spots: BTreeMap::new(),
            text: text.to_owned(),
            lines: std::iter::once(0).chain(after_breaks).collect(),
        }
    }

    pub(crate) fn put_key(&mut self, path: &str, span: Range<usize>) {
        self.spots.entry(path.to_owned()).or_default().key = Some(span);
    }

    pub(crate) fn put_value(&mut self, path: &str, span: Range<usize>) {
        self.spots.entry(path.to_owned()).or_default().value = Some(span);
    }

    pub(crate) fn put_table(&mut self, path: &str, span: Range<usize>) {
        let spot = self.spots.entry(path.to_owned()).or_default();
        spot.value = Some(span);
        spot.table = true;
    }

    /// Makes everything under `from` known under `to` too, unless it stands there itself.
    pub(crate) fn alias(&mut self, from: &str, to: &str) {
        let begins = |path: &str| {
            path == from
                || path
                    .strip_prefix(from)
                    .is_some_and(|rest| rest.starts_with(['.', '[']))
        };
        let under: Vec<(KeyPath, Spot)> = self
            .spots
            .iter()
            .filter(|(path, _)| begins(path))
            .map(|(path, spot)| (format!("{to}{}", &path[from.len()..]), spot.clone()))
            .collect();
        for (path, spot) in under {
            self.spots.entry(path).or_insert(spot);
        }
    }

    /// Whether the file has this place.
    pub fn has(&self, path: &str) -> bool {
        self.spots.contains_key(path)
    }

    /// Every key path of the file, in order.
    pub fn paths(&self) -> impl Iterator<Item = &str> {
        self.spots.keys().map(String::as_str)
    }

    /// The bytes of the key at `path`.
    pub fn key_span(&self, path: &str) -> Option<Range<usize>> {
        self.spots.get(path)?.key.clone()
    }

    /// The bytes of the value at `path`.
    pub fn value_span(&self, path: &str) -> Option<Range<usize>> {
        self.spots.get(path)?.value.clone()
    }

    /// The bytes that stand for `path`: its value, or the name of a table; where the file does not
    /// have it, those of the nearest place around it; an empty span at the start where it has none.
    pub fn span(&self, path: &str) -> Range<usize> {
        let mut path = path;
        loop {
            if let Some(Spot { key, value, table }) = self.spots.get(path) {
                let (first, second) = if *table { (key, value) } else { (value, key) };
                if let Some(span) = first.clone().or_else(|| second.clone()) {
                    return span;
                }
            }
            match parent(path) {
                Some(above) => path = above,
                None => return 0..0,
            }
        }
    }

    /// Line and column of [`Places::span`].
    pub fn position(&self, path: &str) -> Position {
        self.position_of(self.span(path).start)
    }

    /// Line and column of a byte of the file; one beyond the end counts as the end.
    pub fn position_of(&self, byte: usize) -> Position {
        let byte = byte.min(self.text.len());
        // OK because the first line begins at 0, so at least one line begins at or before any byte.
        let line = self.lines.partition_point(|start| *start <= byte) - 1;
        let before = &self.text[self.lines[line]..self.text.floor_char_boundary(byte)];
        let column = before.chars().filter(|c| *c != '\u{feff}').count();
        Position {
            line: line + 1,
            column: column + 1,
        }
    }
}

/// The path around a path: `a.b[1]` stands in `a.b`, which stands in `a`.
fn parent(path: &str) -> Option<&str> {
    let mut quoted = false;
    let mut escaped = false;
    let mut cut = None;
    for (at, c) in path.char_indices() {
        match c {
            _ if escaped => escaped = false,
            '\\' if quoted => escaped = true,
            '"' => quoted = !quoted,
            '.' | '[' if !quoted => cut = Some(at),
            _ => {}
        }
    }
    cut.map(|at| &path[..at])
}

/// A key as it stands in a path: bare where TOML allows it, else in quotes.
pub fn key_text(key: &str) -> String {
    let bare = !key.is_empty()
        && key
            .bytes()
            .all(|b| b.is_ascii_alphanumeric() || b == b'-' || b == b'_');
    if bare {
        return key.to_owned();
    }
    let mut text = String::from("\"");
    for c in key.chars() {
        match c {
            '"' | '\\' => text.extend(['\\', c]),
            '\n' => text.push_str("\\n"),
            '\r' => text.push_str("\\r"),
            '\t' => text.push_str("\\t"),
            c if c.is_control() => text.push_str(&format!("\\u{:04X}", u32::from(c))),
            c => text.push(c),
        }
    }
    text.push('"');
    text
}

/// The path of a key in a table; the file itself is the empty path.
pub(crate) fn joined(path: &str, key: &str) -> KeyPath {
    if path.is_empty() {
        key_text(key)
    } else {
        format!("{path}.{}", key_text(key))
    }
}

/// Where a thing stands: `engine`, or `things.<key>`.
pub fn thing_path(thing: &str) -> KeyPath {
    if thing == Thing::ENGINE {
        thing.to_owned()
    } else {
        joined("things", thing)
    }
}

/// Where a spigot stands: `things.gearbox.spigots.a`.
pub fn spigot_path(thing: &str, spigot: &str) -> KeyPath {
    joined(&joined(&thing_path(thing), "spigots"), spigot)
}

/// Where a run stands: `runs.hot`.
pub fn run_path(run: &str) -> KeyPath {
    joined("runs", run)
}

/// Where the decisions about a joint stand: `joints."hot.from"`.
pub fn joint_path(joint: &str) -> KeyPath {
    joined("joints", joint)
}

/// Where what was found at a run, joint or thing stands: `seen."hot.from"`.
pub fn seen_path(subject: &str) -> KeyPath {
    joined("seen", subject)
}

/// Where a price stands: `prices."worm 32-50 316"`; the key is that of the file.
pub fn price_path(key: &str) -> KeyPath {
    joined("prices", key)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paths_nest() {
        assert_eq!(parent("runs.hot.way[1]"), Some("runs.hot.way"));
        assert_eq!(
            parent("joints.\"hot.from\".clip"),
            Some("joints.\"hot.from\"")
        );
        assert_eq!(parent("joints.\"hot.from\""), Some("joints"));
        assert_eq!(parent("joints"), None);
        assert_eq!(joint_path("hot.from"), "joints.\"hot.from\"");
        assert_eq!(spigot_path("engine", "out"), "engine.spigots.out");
        assert_eq!(spigot_path("gearbox", "a"), "things.gearbox.spigots.a");
    }

    #[test]
    fn lines_and_columns_count_characters() {
        let places = Places::new("a = 1\nb = \"°\" # x\n");
        assert_eq!(places.position_of(0), Position { line: 1, column: 1 });
        assert_eq!(places.position_of(6), Position { line: 2, column: 1 });
        assert_eq!(places.position_of(14), Position { line: 2, column: 8 });
        assert_eq!(places.position_of(999), Position { line: 3, column: 1 });
    }

    #[test]
    fn what_is_not_there_stands_where_its_table_stands() {
        let mut places = Places::new("[runs]\nhot = {}\n");
        places.put_key("runs.hot", 7..10);
        places.put_table("runs.hot", 13..15);
        assert_eq!(
            places.position("runs.hot.way[2]"),
            Position { line: 2, column: 1 }
        );
        assert_eq!(places.position("job"), Position { line: 1, column: 1 });
    }
}
