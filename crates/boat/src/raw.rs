//! From a byte of a TOML string's content to the byte of the file that made it.

use std::ops::Range;

/// A string of the file: what it says, and where each byte of that stands.
#[derive(Clone, Debug)]
pub(crate) struct Raw<'t> {
    /// What it says.
    pub(crate) text: &'t str,
    /// Where it stands, quotes included.
    span: Range<usize>,
    /// Start in the file of each byte of `text`, and of its end.
    starts: Starts,
}

#[derive(Clone, Debug)]
enum Starts {
    /// Byte for byte from here on.
    From(usize),
    /// With escapes in between.
    Each(Vec<usize>),
    /// It can't be told: the whole string stands for each.
    Unknown,
}

impl<'t> Raw<'t> {
    /// A string with content `text` that stands at `span` of `file`.
    pub(crate) fn new(text: &'t str, file: &str, span: Range<usize>) -> Self {
        let starts = file
            .get(span.clone())
            .and_then(|raw| starts(text, raw, span.start))
            .unwrap_or(Starts::Unknown);
        Self { text, span, starts }
    }

    /// Where these bytes of the content stand in the file.
    pub(crate) fn span(&self, within: Range<usize>) -> Range<usize> {
        let within = within.start.min(self.text.len())..within.end.min(self.text.len());
        match &self.starts {
            Starts::From(start) => start + within.start..start + within.end.max(within.start),
            Starts::Each(starts) => match (starts.get(within.start), starts.get(within.end)) {
                (Some(start), Some(end)) => *start..*end.max(start),
                _ => self.span.clone(),
            },
            Starts::Unknown => self.span.clone(),
        }
    }

    /// Where the whole of it stands, quotes included.
    pub(crate) fn whole(&self) -> Range<usize> {
        self.span.clone()
    }
}

fn starts(text: &str, raw: &str, start: usize) -> Option<Starts> {
    let quotes = if raw.starts_with("\"\"\"") || raw.starts_with("'''") {
        3
    } else {
        1
    };
    let mut inner = raw.get(quotes..raw.len().checked_sub(quotes)?)?;
    let mut at = start + quotes;
    if quotes == 3 {
        let trimmed = inner
            .strip_prefix("\r\n")
            .or_else(|| inner.strip_prefix('\n'))
            .unwrap_or(inner);
        at += inner.len() - trimmed.len();
        inner = trimmed;
    }
    if inner == text {
        return Some(Starts::From(at));
    }
    if raw.starts_with('\'') {
        return None;
    }
    let mut starts = Vec::with_capacity(text.len() + 1);
    let mut said = text.chars();
    let mut rest = inner;
    while let Some(c) = rest.chars().next() {
        let taken = if c == '\\' {
            escape_length(rest)?
        } else {
            c.len_utf8()
        };
        // A backslash at the end of a line says nothing.
        let says_nothing = c == '\\' && rest[1..].starts_with([' ', '\t', '\n', '\r']);
        if !says_nothing {
            starts.extend(std::iter::repeat_n(at, said.next()?.len_utf8()));
        }
        at += taken;
        rest = rest.get(taken..)?;
    }
    starts.push(at);
    (starts.len() == text.len() + 1).then_some(Starts::Each(starts))
}

fn escape_length(rest: &str) -> Option<usize> {
    Some(match rest.as_bytes().get(1)? {
        b'x' => 4,
        b'u' => 6,
        b'U' => 10,
        b' ' | b'\t' | b'\n' | b'\r' => 1 + rest[1..].len() - rest[1..].trim_start().len(),
        _ => 2,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(file: &str, text: &str, within: Range<usize>, expected: &str) {
        let raw = Raw::new(text, file, 0..file.len());
        assert_eq!(&file[raw.span(within)], expected);
    }

    #[test]
    fn bytes_are_found_behind_quotes_and_escapes() {
        check("\"hose 38\"", "hose 38", 5..7, "38");
        check("'hose 38'", "hose 38", 0..4, "hose");
        check("\"1\\\" hose\"", "1\" hose", 3..7, "hose");
        check("\"1\\\" hose\"", "1\" hose", 1..2, "\\\"");
        check("\"\\u00b0 hose\"", "° hose", 3..7, "hose");
        check("\"\"\"\nhose 38\"\"\"", "hose 38", 5..7, "38");
        check("\"\"\"ho\\\n   se 38\"\"\"", "hose 38", 5..7, "38");
    }
}
