//! Edits of the text that keep every comment, blank line and order of the owner's.
//!
//! An edit replaces one stretch of the text by its place, so that line endings, a byte order mark
//! and keys that stand apart from their kin stay as they are. Pure text to text: reading, writing and noticing that the file was changed outside belong to
//! the program.

mod element;

use std::ops::Range;

use thiserror::Error;
use toml_edit::{Array, Document, InlineTable, Item, Key, Table, TableLike, Value};

use crate::model::KeyPath;

/// Why an edit was not made. The text stays as it was.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum EditError {
    /// The file can't be read as TOML, so no place in it can be found.
    #[error("the file can't be read as TOML, so nothing was changed: {0}")]
    Unreadable(String),
    /// The key path is no path.
    #[error("“{0}” names no place in a boat file")]
    BadPlace(String),
    /// The new value is not TOML.
    #[error("“{0}” is not a TOML value: a text stands in quotes, a number and a table don't")]
    BadValue(String),
    /// On the way to the place stands something that is no table.
    #[error("“{place}” can't be set: “{blocker}” is a single value, not a table")]
    NotATable {
        /// What was to be set.
        place: KeyPath,
        /// What stands in the way.
        blocker: KeyPath,
    },
    /// There is nothing to take out.
    #[error("“{0}” isn't in the file, so it can't be taken out")]
    Absent(KeyPath),
    /// The edit would have changed more than its place.
    #[error("setting “{0}” would have changed more than that value, so nothing was changed")]
    Overreach(KeyPath),
}

/// Sets the value at `place` to `toml_value` (TOML text: `"worm 40-60"`, `38`, `{ clips = 2 }`). A place may be an
/// element of a list that is there: `bay.lies.hot.cut[1]`.
///
/// Tables that are missing on the way are made. Every other byte stays, line endings and a byte
/// order mark among them.
///
/// # Errors
/// [`EditError`], with the text untouched: the file or the value is no TOML, the place is no
/// path, or a single value stands where a table is due.
pub fn set_value(text: &str, place: &str, toml_value: &str) -> Result<String, EditError> {
    let value: Value = toml_value
        .trim()
        .parse()
        .map_err(|_| EditError::BadValue(toml_value.to_owned()))?;
    if let Some((list, at)) = element::of(place) {
        return element::set(text, place, (list, at), &value);
    }
    let keys = keys_of(place)?;
    let (mark, body) = without_mark(text);
    let document = parsed(body)?;
    let spot = Spot::of(&document, place, &keys)?;
    let written = with_endings(
        &value.clone().decorated("", "").to_string(),
        ending_of(body),
    );
    let splice = match spot.item(&keys) {
        Some(Item::Value(old)) if !is_dotted(old) => {
            let range = old
                .span()
                .ok_or_else(|| EditError::Overreach(place.to_owned()))?;
            Splice {
                range,
                with: written,
            }
        }
        Some(item) if !item.is_none() => return Err(EditError::Overreach(place.to_owned())),
        _ => spot.insertion(body, &keys, &written),
    };
    let edited = format!("{mark}{}", splice.made_in(body));
    only_there(text, place, Some(&value), edited)
}

/// Takes the value at `place` out, with its key and with what stands beside it on its line.
///
/// # Errors
/// [`EditError`], with the text untouched, as [`set_value`]; also where nothing stands there.
pub fn remove_value(text: &str, place: &str) -> Result<String, EditError> {
    let (mark, body) = without_mark(text);
    let edited = taken_out(body, place, &keys_of(place)?)?;
    only_there(text, place, None, format!("{mark}{edited}"))
}

/// The text without what stands at a key path; a table goes value by value.
fn taken_out(body: &str, place: &str, keys: &[Key]) -> Result<String, EditError> {
    let document = parsed(body)?;
    let spot = Spot::of(&document, place, keys)?;
    let absent = || EditError::Absent(place.to_owned());
    let overreach = || EditError::Overreach(place.to_owned());
    let inner: Vec<Key> = match spot.item(keys).ok_or_else(absent)? {
        Item::None => return Err(absent()),
        Item::ArrayOfTables(_) => return Err(overreach()),
        Item::Value(value) if !is_dotted(value) => {
            let leaf = spot.leaf(keys).ok_or_else(overreach)?;
            return Ok(spot.removal(body, &leaf).made_in(body));
        }
        item => item
            .as_table_like()
            .map(|table| table.iter().map(|(key, _)| Key::new(key)).collect())
            .unwrap_or_default(),
    };
    let mut edited = body.to_owned();
    for key in inner {
        let deeper: Vec<Key> = keys.iter().cloned().chain([key]).collect();
        edited = taken_out(&edited, place, &deeper)?;
    }
    // What is left of a table with a header of its own is that header.
    let document = parsed(&edited)?;
    let header = Spot::of(&document, place, keys)?
        .item(keys)
        .and_then(Item::as_table)
        .and_then(Table::span);
    Ok(match header {
        Some(header) => Splice {
            range: line_start(&edited, header.start)..line_end(&edited, header.end),
            with: String::new(),
        }
        .made_in(&edited),
        None => edited,
    })
}

/// One stretch of the text and what comes in its place.
struct Splice {
    range: Range<usize>,
    with: String,
}

impl Splice {
    fn made_in(&self, text: &str) -> String {
        let Range { start, end } = self.range;
        format!("{}{}{}", &text[..start], self.with, &text[end..])
    }
}

/// What encloses the lines or values among which a place lies.
#[derive(Clone)]
enum Enclosure {
    /// The file itself, before its first header.
    Root,
    /// A section, with the place of its header.
    Section(Range<usize>),
    /// A table that is there only because of headers below it.
    Implied,
    /// Braces.
    Inline(Range<usize>),
}

/// Where a key path leads, as far as the file goes along with it.
struct Spot<'a> {
    /// The deepest table of the way that is there.
    group: &'a dyn TableLike,
    /// How many keys lead to it.
    depth: usize,
    enclosure: Enclosure,
    /// How many keys lead to the enclosure; the rest of them stand with dots in between.
    enclosed: usize,
}

/// A value with its key, by their places.
struct Leaf {
    key: usize,
    end: usize,
}

impl<'a> Spot<'a> {
    fn of(document: &'a Document<&str>, place: &str, keys: &[Key]) -> Result<Self, EditError> {
        let mut spot = Self {
            group: document.as_table(),
            depth: 0,
            enclosure: Enclosure::Root,
            enclosed: 0,
        };
        let way = keys.len().saturating_sub(1);
        while spot.depth < way {
            let blocked = || EditError::NotATable {
                place: place.to_owned(),
                blocker: path_of(&keys[..=spot.depth]),
            };
            let enclosure = match spot.group.get(keys[spot.depth].get()) {
                None | Some(Item::None) => break,
                Some(Item::Table(table)) if table.is_dotted() => None,
                Some(Item::Table(table)) => Some(match table.span() {
                    Some(header) if !table.is_implicit() => Enclosure::Section(header),
                    _ => Enclosure::Implied,
                }),
                Some(Item::Value(Value::InlineTable(table))) if table.is_dotted() => None,
                Some(Item::Value(Value::InlineTable(table))) => {
                    Some(Enclosure::Inline(table.span().ok_or_else(blocked)?))
                }
                Some(_) => return Err(blocked()),
            };
            spot.group = spot
                .group
                .get(keys[spot.depth].get())
                .and_then(Item::as_table_like)
                .ok_or_else(blocked)?;
            spot.depth += 1;
            if let Some(enclosure) = enclosure {
                spot.enclosure = enclosure;
                spot.enclosed = spot.depth;
            }
        }
        Ok(spot)
    }

    /// What stands at the whole path.
    fn item(&self, keys: &[Key]) -> Option<&'a Item> {
        let last = keys.last()?;
        (self.depth + 1 == keys.len())
            .then(|| self.group.get(last.get()))
            .flatten()
    }

    fn leaf(&self, keys: &[Key]) -> Option<Leaf> {
        leaf(self.group, keys.last()?.get(), self.item(keys)?)
    }

    /// The new key and value behind the last of their own kind, or under a new header.
    fn insertion(&self, body: &str, keys: &[Key], written: &str) -> Splice {
        let ending = ending_of(body);
        let section_due = match self.enclosure {
            // A section of the file gets a header of its own; anything deeper is written in line.
            Enclosure::Root => self.depth == 0 && keys.len() > 1,
            Enclosure::Implied => true,
            Enclosure::Section(_) | Enclosure::Inline(_) => false,
        };
        if section_due {
            let head = self.enclosed.max(1);
            let before = match body {
                "" => "",
                _ if body.ends_with('\n') => ending,
                _ => &ending.repeat(2),
            };
            let line = assigned(&keys[head..], 1, written);
            return Splice {
                range: body.len()..body.len(),
                with: format!("{before}[{}]{ending}{line}{ending}", path_of(&keys[..head])),
            };
        }
        let dotted = self.depth - self.enclosed + 1;
        let line = assigned(&keys[self.enclosed..], dotted, written);
        let last = leaves(self.group).into_iter().max_by_key(|leaf| leaf.end);
        let after = match (&self.enclosure, &last) {
            (Enclosure::Inline(_), Some(leaf)) => {
                return Splice {
                    range: leaf.end..leaf.end,
                    with: format!(", {line}"),
                };
            }
            (Enclosure::Inline(braces), None) => {
                let inside = braces.start + 1..braces.end - 1;
                let blank = body[inside.clone()].trim().is_empty();
                return Splice {
                    range: if blank {
                        inside
                    } else {
                        inside.start..inside.start
                    },
                    with: format!(" {line} "),
                };
            }
            (_, Some(leaf)) => line_end(body, leaf.end),
            (Enclosure::Section(header), None) => line_end(body, header.end),
            (Enclosure::Root | Enclosure::Implied, None) => 0,
        };
        let indent = last.map_or("", |leaf| {
            let before = &body[line_start(body, leaf.key)..leaf.key];
            &before[..before.len() - before.trim_start().len()]
        });
        let before = if after > 0 && !body[..after].ends_with('\n') {
            ending
        } else {
            ""
        };
        Splice {
            range: after..after,
            with: format!("{before}{indent}{line}{ending}"),
        }
    }

    /// The value's whole lines, or the value and its comma between braces.
    fn removal(&self, body: &str, leaf: &Leaf) -> Splice {
        let range = match &self.enclosure {
            Enclosure::Inline(braces) => within_braces(body, braces, leaf),
            _ => line_start(body, leaf.key)..line_end(body, leaf.end),
        };
        Splice {
            range,
            with: String::new(),
        }
    }
}

/// What goes with a value that is taken out from between braces.
fn within_braces(body: &str, braces: &Range<usize>, leaf: &Leaf) -> Range<usize> {
    let is_blank = |c: char| c == ' ' || c == '\t';
    let key = dotted_start(&body[braces.start..leaf.key]) + braces.start;
    let (before, after) = (
        &body[braces.start + 1..key],
        &body[leaf.end..braces.end - 1],
    );
    let rest = after.trim_start();
    if let Some(rest) = rest.strip_prefix(',') {
        // Its comma and what separates it from the next value, or its whole line where it has one.
        let alone = before.trim_end_matches(is_blank).ends_with('\n');
        let rest = rest.trim_start_matches(is_blank);
        let ends_line = rest.starts_with(['\n', '\r', '#']);
        if alone && ends_line {
            return line_start(body, key)..line_end(body, braces.end - 1 - rest.len());
        }
        return key..braces.end - 1 - rest.len();
    }
    // The last one: the comma before it goes too, unless a comment stands between the two.
    let start = match before.trim_end().strip_suffix(',') {
        Some(before) => braces.start + 1 + before.trim_end().len(),
        None => key,
    };
    start..leaf.end
}

/// Where the key begins whose last part begins at the end of this text: after `{ a = 1, b.` at the `b`.
fn dotted_start(before: &str) -> usize {
    let mut start = before.len();
    loop {
        let head = before[..start].trim_end_matches([' ', '\t']);
        let Some(head) = head.strip_suffix('.') else {
            return start;
        };
        let head = head.trim_end_matches([' ', '\t']);
        let quote = head.chars().next_back().filter(|c| matches!(c, '"' | '\''));
        start = match quote {
            Some(quote) => head[..head.len() - 1].rfind(quote).unwrap_or(0),
            None => head
                .trim_end_matches(|c: char| c.is_ascii_alphanumeric() || matches!(c, '_' | '-'))
                .len(),
        };
    }
}

/// The values of a table and of those whose keys stand with dots in it.
fn leaves(table: &dyn TableLike) -> Vec<Leaf> {
    let mut all = Vec::new();
    for (key, item) in table.iter() {
        match item {
            Item::Table(inner) if inner.is_dotted() => all.extend(leaves(inner)),
            Item::Value(Value::InlineTable(inner)) if inner.is_dotted() => {
                all.extend(leaves(inner));
            }
            Item::Value(_) => all.extend(leaf(table, key, item)),
            _ => {}
        }
    }
    all
}

fn leaf(table: &dyn TableLike, key: &str, item: &Item) -> Option<Leaf> {
    Some(Leaf {
        key: table.key(key)?.span()?.start,
        end: item.span()?.end,
    })
}

fn is_dotted(value: &Value) -> bool {
    value.as_inline_table().is_some_and(InlineTable::is_dotted)
}

/// `a.b = { c = value }`: the first keys with dots, the rest as tables written in line.
fn assigned(keys: &[Key], dotted: usize, written: &str) -> String {
    let value = keys[dotted..]
        .iter()
        .rev()
        .fold(written.to_owned(), |value, key| {
            format!("{{ {} = {value} }}", path_of(std::slice::from_ref(key)))
        });
    format!("{} = {value}", path_of(&keys[..dotted]))
}

fn line_start(text: &str, at: usize) -> usize {
    text[..at].rfind('\n').map_or(0, |feed| feed + 1)
}

/// Behind the line feed of the line.
fn line_end(text: &str, at: usize) -> usize {
    text[at..]
        .find('\n')
        .map_or(text.len(), |feed| at + feed + 1)
}

/// How the file ends its lines: as most of them do.
fn ending_of(text: &str) -> &'static str {
    let both = text.matches("\r\n").count();
    if both * 2 > text.matches('\n').count() {
        "\r\n"
    } else {
        "\n"
    }
}

fn with_endings(text: &str, ending: &str) -> String {
    text.replace("\r\n", "\n").replace('\n', ending)
}

/// The byte order mark that some editors put first, and the rest.
fn without_mark(text: &str) -> (&str, &str) {
    let body = text.strip_prefix('\u{feff}').unwrap_or(text);
    text.split_at(text.len() - body.len())
}

fn parsed(body: &str) -> Result<Document<&str>, EditError> {
    Document::parse(body).map_err(|error| EditError::Unreadable(error.message().to_owned()))
}

/// Checks that the edited text says the same as the old one but for the one place.
fn only_there(
    text: &str,
    place: &str,
    value: Option<&Value>,
    edited: String,
) -> Result<String, EditError> {
    let overreach = || EditError::Overreach(place.to_owned());
    let read = |text: &str| {
        let (_, body) = without_mark(text);
        body.parse::<toml::Table>().map_err(|_| overreach())
    };
    let (mut before, mut after) = (read(text)?, read(&edited)?);

    let keys = keys_of(place)?;
    let (last, way) = keys
        .split_last()
        .ok_or_else(|| EditError::BadPlace(place.to_owned()))?;
    let mut table = &mut before;
    for key in way {
        table = table
            .entry(key.get())
            .or_insert_with(|| toml::Value::Table(toml::Table::new()))
            .as_table_mut()
            .ok_or_else(overreach)?;
    }
    match value {
        Some(value) => {
            // OK because a value that was parsed prints as a value that parses.
            let plain = format!("v = {}", value.clone().decorated("", ""));
            let plain = plain
                .parse::<toml::Table>()
                .ok()
                .and_then(|mut table| table.remove("v"))
                .ok_or_else(overreach)?;
            table.insert(last.get().to_owned(), plain);
        }
        None => {
            table.remove(last.get());
            // A table of dotted keys goes with the last of them.
            prune(&mut before, way);
            prune(&mut after, way);
        }
    }
    if before == after {
        Ok(edited)
    } else {
        Err(overreach())
    }
}

/// Drops the tables along a way that hold nothing.
fn prune(table: &mut toml::Table, way: &[Key]) {
    let Some((first, rest)) = way.split_first() else {
        return;
    };
    let Some(inner) = table
        .get_mut(first.get())
        .and_then(toml::Value::as_table_mut)
    else {
        return;
    };
    prune(inner, rest);
    if inner.is_empty() {
        table.remove(first.get());
    }
}

fn keys_of(place: &str) -> Result<Vec<Key>, EditError> {
    Key::parse(place).map_err(|_| EditError::BadPlace(place.to_owned()))
}

fn path_of(keys: &[Key]) -> KeyPath {
    keys.iter()
        .map(|key| key.to_string().trim().to_owned())
        .collect::<Vec<_>>()
        .join(".")
}

/// A text as a TOML value, in quotes.
pub fn quoted(text: &str) -> String {
    Value::from(text).decorated("", "").to_string()
}

/// Several texts as a TOML array.
pub fn quoted_list<'a>(texts: impl IntoIterator<Item = &'a str>) -> String {
    texts.into_iter().collect::<Array>().to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    const FILE: &str = "\
# head down
version = 1   # the first

[joints]
\"hot.from\" = { clip = \"worm 32-50\", clips = 2 }   # from the shop

[runs]
hot = { from = \"engine.out\", to = \"hull\" }
cold.length = 610  # by tape
";

    fn check(place: &str, value: &str, line: &str) {
        let edited = set_value(FILE, place, value).unwrap();
        let changed: Vec<_> = edited
            .lines()
            .filter(|line| !FILE.lines().any(|old| old == *line))
            .collect();
        assert_eq!(changed, [line], "in\n{edited}");
        let lost = FILE
            .lines()
            .filter(|old| !edited.lines().any(|line| line == *old))
            .count();
        assert!(
            lost <= 1,
            "{lost} lines of the old text are gone from\n{edited}"
        );
    }

    #[test]
    fn a_value_is_set_and_its_comment_stays() {
        check("version", "2", "version = 2   # the first");
        check(
            "runs.cold.length",
            "\"611 mm\"",
            "cold.length = \"611 mm\"  # by tape",
        );
        check(
            "joints.\"hot.from\".clip",
            "\"worm 40-60\"",
            "\"hot.from\" = { clip = \"worm 40-60\", clips = 2 }   # from the shop",
        );
    }

    #[test]
    fn a_new_value_goes_to_the_end_of_its_table() {
        check(
            "joints.\"hot.from\".trial_fit",
            "true",
            "\"hot.from\" = { clip = \"worm 32-50\", clips = 2, trial_fit = true }   # from the shop",
        );
        check("joints.\"hot.to\".clips", "1", "\"hot.to\" = { clips = 1 }");
        check(
            "runs.hot.mark",
            "\"A\"",
            "hot = { from = \"engine.out\", to = \"hull\", mark = \"A\" }",
        );
    }

    #[test]
    fn a_new_section_gets_a_header() {
        let edited = set_value(FILE, "job.days_off", "3").unwrap();
        assert!(edited.starts_with(FILE), "{edited}");
        assert_eq!(&edited[FILE.len()..], "\n[job]\ndays_off = 3\n");
    }

    #[test]
    fn a_value_is_taken_out_alone() {
        let edited = remove_value(FILE, "joints.\"hot.from\".clips").unwrap();
        assert!(
            edited.contains("\"hot.from\" = { clip = \"worm 32-50\" }   # from the shop"),
            "{edited}"
        );
    }

    #[test]
    fn a_table_over_several_lines_stays_so() {
        let text = "[joints]\n\"hot.to\" = {\n  clips = 2,   # both\n  trial_fit = true,\n}\n";
        let edited = set_value(text, "joints.\"hot.to\".clips", "1").unwrap();
        assert_eq!(edited, text.replace("clips = 2", "clips = 1"));
        let edited = set_value(text, "joints.\"hot.to\".clip", "\"worm 32-50\"").unwrap();
        assert!(
            edited.contains("  clips = 2,   # both\n  trial_fit = true"),
            "{edited}"
        );
    }

    /// Every way to end the lines of a text, with and without a byte order mark.
    fn in_every_ending(text: &str) -> impl Iterator<Item = String> {
        let lines: Vec<&str> = text.lines().collect();
        (0..1_u32 << (lines.len() + 1)).map(move |bits| {
            let mark = if bits & 1 == 1 { "\u{feff}" } else { "" };
            let lines = lines.iter().enumerate().map(|(at, line)| {
                let ending = if bits >> (at + 1) & 1 == 1 {
                    "\r\n"
                } else {
                    "\n"
                };
                format!("{line}{ending}")
            });
            mark.to_owned() + &lines.collect::<String>()
        })
    }

    /// Lines of the old text that the new one lacks, byte for byte, from the first that differs to the last.
    fn lost<'a>(old: &'a str, new: &str) -> Vec<&'a str> {
        let (old, new): (Vec<&str>, Vec<&str>) = (
            old.split_inclusive('\n').collect(),
            new.split_inclusive('\n').collect(),
        );
        let head = old.iter().zip(&new).take_while(|(a, b)| a == b).count();
        let room = old.len().min(new.len()) - head;
        let tail = old
            .iter()
            .rev()
            .zip(new.iter().rev())
            .take(room)
            .take_while(|(a, b)| a == b)
            .count();
        old[head..old.len() - tail].to_vec()
    }

    #[test]
    fn every_other_byte_stays_whatever_ends_the_lines() {
        let plain = |text: &str| text.replace(['\r', '\u{feff}'], "");
        let edits = [
            ("version", "2", 1),
            ("joints.\"hot.from\".clip", "\"worm 40-60\"", 1),
            ("joints.\"hot.to\".clips", "1", 0),
            ("runs.cold.length", "611", 1),
            ("runs.cold.mark", "\"B\"", 0),
            ("runs.hot.mark", "\"A\"", 1),
            ("job.days_off", "3", 0),
        ];
        for text in in_every_ending(FILE) {
            for (place, value, may_go) in edits {
                let edited = set_value(&text, place, value).unwrap();
                assert_eq!(plain(&edited), set_value(FILE, place, value).unwrap());
                let gone = lost(&text, &edited);
                assert!(gone.len() <= may_go, "{place}: {gone:?} of {text:?}");
                assert_eq!(edited.starts_with('\u{feff}'), text.starts_with('\u{feff}'));
                // A line that is edited keeps its ending too.
                for old in gone {
                    let ending = |line: &str| line.ends_with("\r\n");
                    let name = &old.trim_start_matches('\u{feff}')[..3];
                    assert!(
                        edited
                            .split_inclusive('\n')
                            .any(|new| new.contains(name) && ending(new) == ending(old)),
                        "{old:?} in {edited:?}"
                    );
                }
            }
            for (place, may_go) in [
                ("version", 1),
                ("joints.\"hot.from\".clips", 1),
                ("runs.cold.length", 1),
                ("runs.hot", 1),
                ("runs.cold", 1),
            ] {
                let edited = remove_value(&text, place).unwrap();
                assert_eq!(plain(&edited), remove_value(FILE, place).unwrap());
                assert!(lost(&text, &edited).len() <= may_go, "{place} of {text:?}");
            }
        }
    }

    #[test]
    fn what_is_added_ends_its_line_as_the_file_does() {
        let text = FILE.replace('\n', "\r\n");
        for place in ["joints.\"hot.to\".clips", "job.days_off", "runs.cold.clips"] {
            let edited = set_value(&text, place, "1").unwrap();
            assert!(!edited.replace("\r\n", "").contains('\n'), "{edited:?}");
        }
    }

    #[test]
    fn keys_that_stand_apart_from_their_kin_stay_there() {
        let text = "[x]\nspigots.a = { od = 1 }\nkind = \"k\"\n\n# in\nspigots.b.od = 3\n[y]\n";
        assert_eq!(
            set_value(text, "x.kind", "\"l\"").unwrap(),
            text.replace("\"k\"", "\"l\"")
        );
        assert_eq!(
            set_value(text, "x.spigots.a.h", "2").unwrap(),
            text.replace("od = 1 }", "od = 1, h = 2 }")
        );
        assert_eq!(
            set_value(text, "x.spigots.b.h", "2").unwrap(),
            text.replace("b.od = 3\n", "b.od = 3\nspigots.b.h = 2\n")
        );
        assert_eq!(
            set_value(text, "x.spigots.c.h", "2").unwrap(),
            text.replace("b.od = 3\n", "b.od = 3\nspigots.c = { h = 2 }\n")
        );
        assert_eq!(
            remove_value(text, "x.spigots.b.od").unwrap(),
            text.replace("spigots.b.od = 3\n", "")
        );
        assert_eq!(
            remove_value(text, "x.spigots").unwrap(),
            "[x]\nkind = \"k\"\n\n# in\n[y]\n"
        );
        assert_eq!(remove_value(text, "x").unwrap(), "\n# in\n[y]\n");
    }

    #[test]
    fn what_is_taken_out_of_braces_leaves_good_braces() {
        let take = |text: &str, place: &str| remove_value(text, place).unwrap();
        let text = "t = { a = 1, b.c = 2, \"b\".d = 3, e = 4 }  # why\n";
        assert_eq!(
            take(text, "t.a"),
            "t = { b.c = 2, \"b\".d = 3, e = 4 }  # why\n"
        );
        assert_eq!(
            take(text, "t.b.d"),
            "t = { a = 1, b.c = 2, e = 4 }  # why\n"
        );
        assert_eq!(take(text, "t.b"), "t = { a = 1, e = 4 }  # why\n");
        assert_eq!(
            take(text, "t.e"),
            "t = { a = 1, b.c = 2, \"b\".d = 3 }  # why\n"
        );
        let text = "t = {\n  a = 1,  # one\n  b = 2,  # two\n}\n";
        assert_eq!(take(text, "t.b"), "t = {\n  a = 1,  # one\n}\n");
        assert_eq!(take("t = { a = 1 }\n", "t.a"), "t = {  }\n");
        assert_eq!(
            set_value("t = {  }\n", "t.a", "1").unwrap(),
            "t = { a = 1 }\n"
        );
    }

    #[test]
    fn a_file_without_a_last_line_feed_gets_what_it_needs() {
        let set = |text: &str, place: &str| set_value(text, place, "1").unwrap();
        assert_eq!(set("", "a"), "a = 1\n");
        assert_eq!(set("", "a.b"), "[a]\nb = 1\n");
        assert_eq!(set("a = 2 # two", "b"), "a = 2 # two\nb = 1\n");
        assert_eq!(set("[a]", "a.b"), "[a]\nb = 1\n");
        assert_eq!(set("[a.b]", "a.c"), "[a.b]\n\n[a]\nc = 1\n");
        assert_eq!(set("[a]\n", "b"), "b = 1\n[a]\n");
    }

    #[test]
    fn what_can_t_be_done_says_why() {
        let say = |result: Result<String, EditError>| result.unwrap_err().to_string();
        assert_eq!(
            say(set_value(FILE, "version.major", "1")),
            "“version.major” can't be set: “version” is a single value, not a table"
        );
        assert_eq!(
            say(set_value(FILE, "version", "worm")),
            "“worm” is not a TOML value: a text stands in quotes, a number and a table don't"
        );
        assert_eq!(
            say(set_value(FILE, "a..b", "1")),
            "“a..b” names no place in a boat file"
        );
        assert_eq!(
            say(remove_value(FILE, "job")),
            "“job” isn't in the file, so it can't be taken out"
        );
        assert!(matches!(
            set_value("a = ", "a", "1"),
            Err(EditError::Unreadable(_))
        ));
    }
}
