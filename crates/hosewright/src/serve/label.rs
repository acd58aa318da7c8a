//! What a step is called: what was done and where, short enough for a title block.

use super::App;
use super::desk::{Edit, Sheet};
use super::subjects::Subjects;
use super::values::{keys_of, unquoted};

/// Longest label [characters].
pub(crate) const LONGEST: usize = 40;
/// What stands for the rest of a text that was cut.
const CUT: char = '…';

/// A label as it may stand in a title block: one line, not too long.
pub(crate) fn label_of(label: &str) -> String {
    fitted(label, "")
}

/// A label whose end must not be lost: what comes before is cut to make room.
pub(crate) fn fitted(what: &str, tail: &str) -> String {
    let plain = |text: &str| -> String {
        text.chars()
            .filter(|letter| !letter.is_control())
            .take(4 * LONGEST)
            .collect()
    };
    let (what, tail) = (plain(what), plain(tail));
    let what = match what.trim() {
        "" => "an edit",
        what => what,
    };
    let room = LONGEST.saturating_sub(tail.chars().count());
    if what.chars().count() <= room {
        return format!("{what}{tail}");
    }
    let kept: String = what.chars().take(room.saturating_sub(1)).collect();
    let whole = format!("{}{CUT}{tail}", kept.trim_end());
    // Where the end alone is too long, it is cut as well.
    whole.chars().take(LONGEST).collect()
}

impl App {
    /// A place for a label: the mark that is written on the hose there, and the key: `A2 od`.
    pub(crate) fn named(&self, sheet: &Sheet, place: &str) -> String {
        let Some(keys) = keys_of(place) else {
            return place.to_owned();
        };
        // Marks come with the answers; they are those of the very text that is edited, or none.
        let known = {
            let desk = self.desk();
            let mut answers = desk.answers.iter();
            answers.find(|own| own.number == sheet.number).cloned()
        };
        let mark = known.and_then(|own| {
            let name = own.arrangement.as_deref();
            Subjects::of(&sheet.loaded.boat, name, own.answer()).at_place(place)
        });
        where_and_what(mark, &keys)
    }

    /// What some edits do, for a label: `A2 od: 41.8 mm`.
    pub(crate) fn done(&self, sheet: &Sheet, edits: &[Edit], places: &[String]) -> String {
        match (edits, places) {
            ([edit], [place]) => {
                let to = unquoted(&edit.to);
                let to = match to.trim() {
                    "" => "taken out",
                    to => to,
                };
                format!("{}: {to}", self.named(sheet, place))
            }
            _ => format!("{} values", edits.len()),
        }
    }
}

/// The last key with where it stands: the mark where there is one, else the name of the thing, run or joint.
fn where_and_what(mark: Option<String>, keys: &[String]) -> String {
    // OK because a path has one key at least.
    let what = keys.last().map_or("", String::as_str);
    let spigot = keys.iter().position(|key| key == "spigots");
    let at = match (mark, spigot) {
        (Some(mark), _) => Some(mark),
        // `engine.out`, as the file itself names a spigot elsewhere.
        (None, Some(at)) if at > 0 && at + 2 < keys.len() => {
            Some(format!("{}.{}", keys[at - 1], keys[at + 1]))
        }
        (None, _) => keys.iter().rev().nth(1).cloned(),
    };
    match at {
        Some(at) => format!("{at} {what}"),
        None => what.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_label_is_one_short_line() {
        assert_eq!(label_of("clip\non A2"), "clipon A2");
        assert_eq!(label_of("  "), "an edit");
        let long = label_of(&"ä".repeat(500));
        assert_eq!(long.chars().count(), LONGEST);
        assert!(long.ends_with(CUT), "{long}");
        let exact = "x".repeat(LONGEST);
        assert_eq!(label_of(&exact), exact);
    }

    #[test]
    fn who_did_it_and_when_is_never_cut() {
        assert_eq!(fitted("A2 od", ", phone 1, 14:31"), "A2 od, phone 1, 14:31");
        let long = fitted(
            &"od of a thing with a long name".repeat(3),
            ", phone 12, 14:31",
        );
        assert_eq!(long.chars().count(), LONGEST);
        assert!(long.ends_with("…, phone 12, 14:31"), "{long}");
        assert_eq!(fitted("x", &"y".repeat(90)).chars().count(), LONGEST);
    }

    #[test]
    fn a_place_is_named_by_its_mark_or_by_what_it_is_part_of() {
        let named = |mark: Option<&str>, place: &str| {
            where_and_what(mark.map(str::to_owned), &keys_of(place).unwrap())
        };
        assert_eq!(named(Some("A2"), "joints.\"hot.to\".clip"), "A2 clip");
        assert_eq!(named(None, "joints.\"hot.to\".clip"), "hot.to clip");
        assert_eq!(named(None, "engine.spigots.out.od"), "engine.out od");
        assert_eq!(
            named(None, "things.header.spigots.both.od"),
            "header.both od"
        );
        assert_eq!(named(None, "states.cruise.rpm"), "cruise rpm");
        assert_eq!(named(None, "version"), "version");
    }
}
