//! Which lines of a text an edit changed.

use crate::api::{Change, CommentBeside};
use crate::load::Loaded;
use crate::text::Page;

/// The lines that differ, from the first to the last that does.
pub fn between(before: &str, after: &str) -> Change {
    let (old, new): (Vec<&str>, Vec<&str>) = (before.lines().collect(), after.lines().collect());
    let same = |pairs: &mut dyn Iterator<Item = (&&str, &&str)>| {
        pairs.take_while(|(old, new)| old == new).count()
    };
    let head = same(&mut old.iter().zip(&new));
    let room = old.len().min(new.len()) - head;
    let tail = same(&mut old.iter().rev().zip(new.iter().rev())).min(room);
    let lines = |all: &[&str]| {
        all[head..all.len() - tail]
            .iter()
            .map(|line| (*line).to_owned())
            .collect()
    };
    Change {
        line: head + 1,
        before: lines(&old),
        after: lines(&new),
    }
}

/// The owner's comment beside a value that was just written: it was said of what stood there before.
pub fn comment(edited: &Loaded, place: &str) -> Option<CommentBeside> {
    let places = edited.chart.places();
    let (line, text) = boat::comment_beside(&edited.held.text, places, place)?;
    Some(CommentBeside {
        line,
        text: text.to_owned(),
        told: format!("The comment on line {line} may no longer hold: {text}"),
    })
}

/// The lines before, each after a minus, and the lines now, each after a plus.
pub fn write(page: &mut Page, change: &Change) {
    let Change {
        line,
        before,
        after,
    } = change;
    let last = line + before.len().max(after.len()).saturating_sub(1);
    let gutter = last.to_string().len();
    for (sign, lines) in [('−', before), ('+', after)] {
        for (at, text) in lines.iter().enumerate() {
            let number = line + at;
            let further = " ".repeat(gutter + 5);
            page.hanging(&format!("  {number:gutter$} {sign} "), &further, text);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(before: &str, after: &str, line: usize, gone: &[&str], come: &[&str]) {
        let change = between(before, after);
        assert_eq!(
            (change.line, change.before, change.after),
            (
                line,
                gone.iter().map(|l| l.to_string()).collect(),
                come.iter().map(|l| l.to_string()).collect()
            )
        );
    }

    #[test]
    fn only_lines_that_differ_are_told() {
        check("a\nb\nc\n", "a\nB\nc\n", 2, &["b"], &["B"]);
        check("a\nc\n", "a\nb\nc\n", 2, &[], &["b"]);
        check("a\na\n", "a\na\na\n", 3, &[], &["a"]);
        check("a\nb\n", "a\n", 2, &["b"], &[]);
        check("", "a\n", 1, &[], &["a"]);
        check("a\n", "a\n", 2, &[], &[]);
    }
}
