//! Edits of the text that keep every comment, blank line and order of the owner's.
//!
//! Pure text to text: reading, writing and noticing that the file was changed outside belong to
//! the program.

use thiserror::Error;
use toml_edit::{Array, DocumentMut, InlineTable, Item, Key, Table, TableLike, Value};

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

/// Sets the value at `place` to `toml_value` (TOML text: `"worm 40-60"`, `38`, `{ clips = 2 }`).
///
/// Tables that are missing on the way are made. Everything else stays byte for byte.
///
/// # Errors
/// [`EditError`], with the text untouched: the file or the value is no TOML, the place is no
/// path, or a single value stands where a table is due.
pub fn set_value(text: &str, place: &str, toml_value: &str) -> Result<String, EditError> {
    let value: Value = toml_value
        .trim()
        .parse()
        .map_err(|_| EditError::BadValue(toml_value.to_owned()))?;
    edit(text, place, |table, key| {
        put(table, key, value.clone());
        Ok(())
    })
    .and_then(|edited| only_there(text, place, Some(&value), edited))
}

/// Takes the value at `place` out, with its key.
///
/// # Errors
/// [`EditError`], with the text untouched, as [`set_value`]; also where nothing stands there.
pub fn remove_value(text: &str, place: &str) -> Result<String, EditError> {
    edit(text, place, |table, key| {
        let closing = take_closing_space(table);
        let gone = table.remove(key.get());
        give_closing_space(table, closing);
        gone.map(|_| ())
            .ok_or_else(|| EditError::Absent(place.to_owned()))
    })
    .and_then(|edited| only_there(text, place, None, edited))
}

/// Finds the table that holds `place` (making what is missing) and lets `act` change it.
fn edit(
    text: &str,
    place: &str,
    act: impl FnOnce(&mut dyn TableLike, &Key) -> Result<(), EditError>,
) -> Result<String, EditError> {
    let mut document: DocumentMut = text
        .parse()
        .map_err(|error: toml_edit::TomlError| EditError::Unreadable(error.message().to_owned()))?;
    let keys = keys_of(place)?;
    let (last, way) = keys
        .split_last()
        .ok_or_else(|| EditError::BadPlace(place.to_owned()))?;

    let mut table: &mut dyn TableLike = document.as_table_mut();
    for (depth, key) in way.iter().enumerate() {
        if table.get(key.get()).is_none_or(Item::is_none) {
            // A section of the file gets a header of its own; anything deeper is written in line.
            if depth == 0 {
                table.insert(key.get(), Item::Table(Table::new()));
            } else {
                put(table, key, Value::InlineTable(InlineTable::new()));
            }
        }
        table = table
            .get_mut(key.get())
            .and_then(Item::as_table_like_mut)
            .ok_or_else(|| EditError::NotATable {
                place: place.to_owned(),
                blocker: path_of(&way[..=depth]),
            })?;
    }
    act(table, last)?;
    Ok(document.to_string())
}

/// Puts a value under a key: in the old one's place with the old one's comment, else at the end.
fn put(table: &mut dyn TableLike, key: &Key, mut value: Value) {
    match table.get_mut(key.get()) {
        Some(item) => {
            if let Some(old) = item.as_value() {
                *value.decor_mut() = old.decor().clone();
            }
            *item = Item::Value(value);
        }
        None => {
            let closing = take_closing_space(table);
            if closing.is_some() {
                value.decor_mut().set_prefix(" ");
            }
            table.insert(key.get(), Item::Value(value));
            give_closing_space(table, closing);
        }
    }
}

/// In `{ a = 1 }` the space before the brace belongs to the last value. Hands it over to the
/// value that is about to be last; `None` where the table is not written in line.
fn take_closing_space(table: &mut dyn TableLike) -> Option<String> {
    let decor = last_value(table)?.decor_mut();
    let suffix = decor.suffix()?.as_str()?.to_owned();
    // A comment after a value in a section is a suffix too, and stays where it is.
    if suffix.is_empty() || !suffix.chars().all(char::is_whitespace) {
        return None;
    }
    decor.set_suffix("");
    Some(suffix)
}

/// Gives the last value of a table written in line the space before the brace.
fn give_closing_space(table: &mut dyn TableLike, closing: Option<String>) {
    if let (Some(space), Some(last)) = (closing, last_value(table)) {
        last.decor_mut().set_suffix(space);
    }
}

fn last_value(table: &mut dyn TableLike) -> Option<&mut Value> {
    table
        .iter_mut()
        .last()
        .and_then(|(_, item)| item.as_value_mut())
}

/// Checks that the edited text says the same as the old one but for the one place.
fn only_there(
    text: &str,
    place: &str,
    value: Option<&Value>,
    edited: String,
) -> Result<String, EditError> {
    let overreach = || EditError::Overreach(place.to_owned());
    let read = |text: &str| text.parse::<toml::Table>().map_err(|_| overreach());
    let (mut before, after) = (read(text)?, read(&edited)?);

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
        }
    }
    if before == after {
        Ok(edited)
    } else {
        Err(overreach())
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
