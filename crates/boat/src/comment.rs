//! The comment that an owner wrote beside a value, on its line.

use crate::places::Places;

/// The comment behind the value at a key path, from its `#` to the end of the line, and the number of that line from
/// 1; `None` where nothing stands there or no comment beside it.
pub fn comment_beside<'a>(text: &'a str, places: &Places, path: &str) -> Option<(usize, &'a str)> {
    let end = places.value_span(path)?.end;
    let rest = text.get(end..)?.lines().next()?;
    let mut quote = None;
    let mut escaped = false;
    for (at, letter) in rest.char_indices() {
        match (letter, quote) {
            _ if escaped => escaped = false,
            ('\\', Some('"')) => escaped = true,
            (letter, Some(open)) if letter == open => quote = None,
            (_, Some(_)) => {}
            ('"' | '\'', None) => quote = Some(letter),
            ('#', None) => {
                let line = text.get(..end)?.matches('\n').count() + 1;
                return Some((line, rest.get(at..)?.trim_end()));
            }
            _ => {}
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(text: &str, path: &str, found: Option<(usize, &str)>) {
        let (_, places, _) = crate::read(text);
        assert_eq!(comment_beside(text, &places, path), found);
    }

    #[test]
    fn a_comment_is_that_of_the_line_of_the_value() {
        let text = "version = 1\n# above\n[joints]\n\"hot.from\" = { clip = \"worm 32-50\", clips = 1 } # too small\n\"hot.to\" = { clip = \"worm 32-50\" }\n";
        check(text, "joints.\"hot.from\".clip", Some((4, "# too small")));
        check(text, "joints.\"hot.from\".clips", Some((4, "# too small")));
        check(text, "joints.\"hot.to\".clip", None);
        check(text, "joints.\"hot.to\".clips", None);
    }

    #[test]
    fn a_sign_within_a_text_begins_no_comment() {
        let text = "version = 1\n[runs]\nhot = { length = 900, note = \"no # here, \\\" nor # here\" } # but here\r\n";
        check(text, "runs.hot.length", Some((3, "# but here")));
        let text = "version = 1\n[runs]\nhot = { length = 900, note = 'no # here' }\n";
        check(text, "runs.hot.length", None);
    }
}
