//! Faults of the boat file, each with its line and the offending text underlined.

use std::fmt;
use std::ops::Range;

use miette::{
    Diagnostic, GraphicalReportHandler, GraphicalTheme, LabeledSpan, MietteError,
    MietteSpanContents,
};
use miette::{SourceCode, SourceSpan, SpanContents, ThemeCharacters, ThemeStyles};

use crate::api::{Remark, Severity};
use crate::files::Held;
use crate::text::{Page, Terminal, letters, width};

/// Columns that stay free left of the offending text when a long line is cut.
const LEAD: usize = 16;

/// One fault.
pub fn remark(page: &mut Page, held: &Held, remark: &Remark, span: Range<usize>) {
    let terminal = page.terminal();
    let fault = Shown {
        message: letters(
            &format!("{} [{}]", remark.message, remark.code),
            terminal.unicode,
        ),
        severity: remark.severity,
        help: remark
            .expected
            .as_deref()
            .map(|expected| letters(expected, terminal.unicode)),
        window: Window::of(held, span, &terminal),
    };
    let mut text = String::new();
    let drawn = GraphicalReportHandler::new_themed(theme(&terminal))
        .with_width(terminal.width)
        .with_context_lines(0)
        .with_links(false)
        .without_cause_chain()
        .with_word_splitter(textwrap::WordSplitter::NoHyphenation)
        .render_report(&mut text, &fault);
    page.gap();
    match drawn {
        Ok(()) => page.verbatim(&text),
        // A fault that can't be drawn is still told.
        Err(fmt::Error) => {
            page.paragraph(0, &format!("{}: {}", word(remark.severity), fault.message))
        }
    }
}

/// The word of a severity.
pub fn word(severity: Severity) -> &'static str {
    match severity {
        Severity::Stop => "stop",
        Severity::Check => "check",
        Severity::Note => "note",
    }
}

fn theme(terminal: &Terminal) -> GraphicalTheme {
    let characters = if terminal.unicode {
        ThemeCharacters::unicode()
    } else {
        ThemeCharacters::ascii()
    };
    GraphicalTheme {
        characters: ThemeCharacters {
            error: "stop:".into(),
            warning: "check:".into(),
            advice: "note:".into(),
            underline: if terminal.unicode { '─' } else { '^' },
            ..characters
        },
        styles: ThemeStyles::none(),
    }
}

/// A fault as the library draws it.
#[derive(Debug)]
struct Shown {
    message: String,
    severity: Severity,
    help: Option<String>,
    window: Window,
}

impl fmt::Display for Shown {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.message)
    }
}

impl std::error::Error for Shown {}

impl Diagnostic for Shown {
    fn severity(&self) -> Option<miette::Severity> {
        Some(match self.severity {
            Severity::Stop => miette::Severity::Error,
            Severity::Check => miette::Severity::Warning,
            Severity::Note => miette::Severity::Advice,
        })
    }
    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.help
            .as_ref()
            .map(|help| Box::new(help) as Box<dyn fmt::Display>)
    }
    fn source_code(&self) -> Option<&dyn SourceCode> {
        Some(&self.window)
    }
    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        let Range { start, end } = self.window.marked.clone();
        Some(Box::new(std::iter::once(
            LabeledSpan::new_primary_with_span(None, (start, end - start)),
        )))
    }
}

/// As much of the offending line as fits beside its number, in letters that the terminal has.
#[derive(Debug)]
struct Window {
    name: String,
    /// Line, from 0.
    line: usize,
    /// Column of the offending text, in characters from 0.
    column: usize,
    text: String,
    /// Bytes of `text` that are at fault.
    marked: Range<usize>,
}

impl Window {
    fn of(held: &Held, span: Range<usize>, terminal: &Terminal) -> Self {
        let whole = held.text.as_str();
        let start = floor(whole, span.start);
        let end = floor(whole, span.end).max(start);
        let line_start = whole[..start].rfind('\n').map_or(0, |at| at + 1);
        let line_end = whole[start..]
            .find(['\n', '\r'])
            .map_or(whole.len(), |at| start + at);
        let line = whole[..line_start].matches('\n').count();
        let column = whole[line_start..start].chars().count();

        let gutter = (line + 1).to_string().len() + 4;
        let room = terminal.width.saturating_sub(gutter).max(LEAD * 2);
        let mut text = String::new();
        let mut marked = 0..0;
        // Letters before the fault are dropped from the left until it stands LEAD columns in, if the line is too long.
        let all = letters(&whole[line_start..line_end], terminal.unicode);
        let before = letters(&whole[line_start..start], terminal.unicode);
        let shown_from = if width(&all) > room && width(&before) > LEAD {
            let drop = width(&before) - LEAD;
            let cut = cut_at(&whole[line_start..start], drop, terminal);
            text.push_str(if terminal.unicode { "…" } else { "..." });
            line_start + cut
        } else {
            line_start
        };
        for (at, letter) in whole[shown_from..line_end].char_indices() {
            if shown_from + at == start {
                marked.start = text.len();
            }
            let piece = letters(letter.encode_utf8(&mut [0; 4]), terminal.unicode);
            if width(&text) + width(&piece) + 3 > room
                && shown_from + at + letter.len_utf8() < line_end
            {
                text.push_str(if terminal.unicode { "…" } else { "..." });
                break;
            }
            text.push_str(&piece);
            if shown_from + at + letter.len_utf8() <= end {
                marked.end = text.len();
            }
        }
        if start >= line_end {
            marked.start = text.len();
        }
        marked.end = marked.end.max(marked.start);
        Self {
            name: held.name(),
            line,
            column,
            text,
            marked,
        }
    }
}

/// The nearest start of a letter at or before `at`.
fn floor(text: &str, at: usize) -> usize {
    (0..=at.min(text.len()))
        .rev()
        .find(|at| text.is_char_boundary(*at))
        .unwrap_or(0)
}

/// Bytes of `text` that take at least `columns` columns.
fn cut_at(text: &str, columns: usize, terminal: &Terminal) -> usize {
    let mut taken = 0;
    for (at, letter) in text.char_indices() {
        if taken >= columns {
            return at;
        }
        taken += width(&letters(letter.encode_utf8(&mut [0; 4]), terminal.unicode));
    }
    text.len()
}

impl SourceCode for Window {
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        _lines_before: usize,
        _lines_after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        // Only one line is ever shown; the library learns its true number and column from here.
        if span.offset() + span.len() > self.text.len() {
            return Err(MietteError::OutOfBounds);
        }
        Ok(Box::new(MietteSpanContents::new_named(
            self.name.clone(),
            self.text.as_bytes(),
            (0, self.text.len()).into(),
            self.line,
            self.column,
            1,
        )))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::api::Place;
    use crate::files::Hash;

    fn drawn(text: &str, found: &str, terminal: Terminal) -> String {
        let held = Held {
            path: "boats/x/boat.toml".into(),
            text: text.into(),
            hash: Hash::of(text.as_bytes()),
        };
        let start = text.find(found).unwrap();
        let told = Remark {
            code: "unknown-key".into(),
            severity: Severity::Stop,
            message: "a spigot has no key odd".into(),
            expected: Some("did you mean od?".into()),
            found: found.into(),
            place: Place {
                line: 1,
                column: 1,
                path: String::new(),
            },
        };
        let mut page = Page::new(terminal);
        remark(&mut page, &held, &told, start..start + found.len());
        page.finish()
    }

    #[test]
    fn the_offending_text_is_underlined() {
        let expected = "  stop: a spigot has no key odd [unknown-key]
   ╭─[boat.toml:2:9]
 2 │ out = { odd = \"41.8\" }
   ·         ───
   ╰────
  help: did you mean od?
";
        assert_eq!(
            drawn(
                "version = 1\nout = { odd = \"41.8\" }\n",
                "odd",
                Terminal::default()
            ),
            expected
        );
    }

    #[test]
    fn a_long_line_is_cut_around_the_fault() {
        let text = format!(
            "a = {{ {}odd = 1, {} }}",
            "é = 1, ".repeat(30),
            "c = 2, ".repeat(30)
        );
        let shown = drawn(&text, "odd", Terminal::default());
        assert!(
            shown.contains(
                "1 │ …, é = 1, é = 1, odd = 1, c = 2, c = 2, c = 2, c = 2, c = 2, c = 2, c = …\n"
            ),
            "{shown}"
        );
        assert!(
            shown.contains("  ·                  ───\n") && shown.contains("[boat.toml:1:217]"),
            "{shown}"
        );
        let shown = drawn(
            &text,
            "odd",
            Terminal {
                unicode: false,
                ..Terminal::default()
            },
        );
        assert!(
            shown.contains("1 | ..., e = 1, e = 1, odd = 1, c = 2,"),
            "{shown}"
        );
        assert!(shown.contains("^^^\n") && shown.is_ascii(), "{shown}");
    }

    #[test]
    fn a_fault_anywhere_is_drawn_within_the_width() {
        let text = "version = 1\r\n\"ü\u{202e}x\" = [\n 1, # \t…\n]\n";
        let held = Held {
            path: "b.toml".into(),
            text: text.into(),
            hash: Hash::of(text.as_bytes()),
        };
        let place = Place {
            line: 1,
            column: 1,
            path: String::new(),
        };
        let told = Remark {
            code: "syntax".into(),
            severity: Severity::Note,
            message: "m ".repeat(99),
            expected: None,
            found: String::new(),
            place,
        };
        for unicode in [true, false] {
            for start in 0..=text.len() + 1 {
                for len in [0, 1, 3, 99] {
                    let mut page = Page::new(Terminal {
                        width: 60,
                        unicode,
                        bold: false,
                    });
                    remark(&mut page, &held, &told, start..start + len);
                    let drawn = page.finish();
                    assert!(drawn.lines().all(|line| width(line) <= 60), "{drawn}");
                    assert!(drawn.contains("[b.toml:"), "{drawn}");
                }
            }
        }
    }
}
