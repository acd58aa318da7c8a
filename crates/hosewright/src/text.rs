//! Words on a page of fixed width: wrapping, columns, and plain letters where the terminal has no others.

use comfy_table::{CellAlignment, ColumnConstraint, ContentArrangement, Table as Grid, Width};
use textwrap::{Options, WordSplitter};
use unicode_width::UnicodeWidthStr;

/// What the reader's terminal can show.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Terminal {
    /// Columns to write in.
    pub width: usize,
    /// Whether letters beyond ASCII arrive.
    pub unicode: bool,
    /// Whether bold may be used.
    pub bold: bool,
}

/// Columns where nothing says otherwise: a pipe, a file, a terminal that keeps its width to itself.
pub const USUAL_WIDTH: usize = 80;
/// Wider than this, lines of prose are hard to read.
pub const WIDEST: usize = 100;
/// Narrower than this, nothing useful fits.
pub const NARROWEST: usize = 40;

impl Default for Terminal {
    fn default() -> Self {
        Self {
            width: USUAL_WIDTH,
            unicode: true,
            bold: false,
        }
    }
}

impl Terminal {
    /// What standard output is: its width if it is a terminal, the letters of the locale, bold unless `NO_COLOR` is set.
    pub fn here() -> Self {
        use std::io::IsTerminal as _;
        let screen = std::io::stdout().is_terminal();
        let width = match terminal_size::terminal_size() {
            Some((terminal_size::Width(columns), _)) if screen => {
                usize::from(columns).clamp(NARROWEST, WIDEST)
            }
            _ => USUAL_WIDTH,
        };
        let set = |name: &str| std::env::var_os(name).is_some_and(|value| !value.is_empty());
        let dumb = std::env::var_os("TERM").is_some_and(|term| term == "dumb");
        Self {
            width,
            unicode: utf8_locale(),
            bold: screen && !dumb && !set("NO_COLOR"),
        }
    }
}

/// Whether the locale writes UTF-8; POSIX asks the first that is set of these three.
fn utf8_locale() -> bool {
    if cfg!(windows) {
        return true;
    }
    ["LC_ALL", "LC_CTYPE", "LANG"]
        .iter()
        .find_map(|name| std::env::var(name).ok().filter(|value| !value.is_empty()))
        .is_some_and(|value| {
            let value = value.to_ascii_lowercase();
            value.contains("utf-8") || value.contains("utf8")
        })
}

/// A column of a table.
#[derive(Clone, Debug)]
pub struct Column {
    /// Its heading.
    pub head: &'static str,
    /// Whether figures stand in it, which line up at the right.
    pub figures: bool,
    /// Most columns it may take; `None` for as many as it needs.
    pub most: Option<u16>,
}

impl Column {
    /// A column of words.
    pub const fn words(head: &'static str) -> Self {
        Self {
            head,
            figures: false,
            most: None,
        }
    }
    /// A column of figures.
    pub const fn figures(head: &'static str) -> Self {
        Self {
            head,
            figures: true,
            most: None,
        }
    }
    /// Wraps its cells at this width.
    pub const fn at_most(mut self, columns: u16) -> Self {
        self.most = Some(columns);
        self
    }
}

/// A page that is written from top to bottom, no line wider than the terminal.
#[derive(Clone, Debug)]
pub struct Page {
    terminal: Terminal,
    text: String,
}

impl Page {
    /// An empty page.
    pub fn new(terminal: Terminal) -> Self {
        Self {
            terminal,
            text: String::new(),
        }
    }
    /// For whom it is written.
    pub fn terminal(&self) -> Terminal {
        self.terminal
    }
    /// The page as text; it ends with a line feed unless it is empty.
    pub fn finish(self) -> String {
        self.text
    }
    /// An empty line, unless the page is empty or has one already.
    pub fn gap(&mut self) {
        if !self.text.is_empty() && !self.text.ends_with("\n\n") {
            self.text.push('\n');
        }
    }
    /// A paragraph that starts `indent` columns in.
    pub fn paragraph(&mut self, indent: usize, text: &str) {
        self.hanging(&" ".repeat(indent), &" ".repeat(indent), text);
    }
    /// A paragraph whose first line begins with `first` and whose further lines begin with `further`.
    pub fn hanging(&mut self, first: &str, further: &str, text: &str) {
        for line in self.wrapped(first, further, text) {
            self.push_line(&line);
        }
    }
    /// As [`Page::hanging`], in bold where the terminal has it.
    pub fn hanging_bold(&mut self, first: &str, further: &str, text: &str) {
        for line in self.wrapped(first, further, text) {
            let line = self.bold(&line);
            self.push_line(&line);
        }
    }
    /// Words at the left and a word at the right end of the same line where both fit.
    pub fn both_ends(&mut self, first: &str, further: &str, left: &str, right: &str) {
        let right = self.letters(right);
        let room = self
            .terminal
            .width
            .saturating_sub(right.width() + 2)
            .max(NARROWEST / 2);
        let lines = self.wrapped_to(room, first, further, left);
        for (at, line) in lines.iter().enumerate() {
            let line = if at == 0 {
                let space = self
                    .terminal
                    .width
                    .saturating_sub(line.width() + right.width());
                format!("{line}{}{right}", " ".repeat(space))
            } else {
                line.clone()
            };
            let line = self.bold(&line);
            self.push_line(&line);
        }
    }
    /// A table; cells wrap where a column is too narrow.
    pub fn table(&mut self, indent: usize, columns: &[Column], rows: &[Vec<String>]) {
        let room = self
            .terminal
            .width
            .saturating_sub(indent)
            .max(NARROWEST / 2);
        let mut grid = Grid::new();
        grid.load_style(comfy_table::presets::NOTHING);
        grid.set_content_arrangement(ContentArrangement::Dynamic);
        grid.set_width(u16::try_from(room).unwrap_or(u16::MAX));
        if columns.iter().any(|column| !column.head.is_empty()) {
            grid.set_header(columns.iter().map(|column| self.cell(column.head)));
        }
        for row in rows {
            grid.add_row(row.iter().map(|cell| self.cell(cell)));
        }
        for (at, column) in columns.iter().enumerate() {
            let Some(of_grid) = grid.column_mut(at) else {
                continue;
            };
            of_grid.set_padding((0, if at + 1 == columns.len() { 0 } else { 2 }));
            if column.figures {
                of_grid.set_cell_alignment(CellAlignment::Right);
            }
            if let Some(most) = column.most {
                of_grid.set_constraint(ColumnConstraint::UpperBoundary(Width::Fixed(most + 2)));
            }
        }
        for line in grid.lines() {
            let line = format!("{}{line}", " ".repeat(indent));
            self.push_line(&line);
        }
    }
    /// A cell may hold several lines; within each of them the usual letters apply.
    fn cell(&self, text: &str) -> String {
        text.split('\n')
            .map(|line| self.letters(line))
            .collect::<Vec<_>>()
            .join("\n")
    }
    /// Text that is laid out already, line by line.
    pub fn verbatim(&mut self, text: &str) {
        for line in text.lines() {
            let line = self.letters(line);
            self.push_line(&line);
        }
    }

    fn push_line(&mut self, line: &str) {
        self.text.push_str(line.trim_end_matches(' '));
        self.text.push('\n');
    }
    fn wrapped(&self, first: &str, further: &str, text: &str) -> Vec<String> {
        self.wrapped_to(self.terminal.width, first, further, text)
    }
    fn wrapped_to(&self, width: usize, first: &str, further: &str, text: &str) -> Vec<String> {
        let (first, further, text) = (
            self.letters(first),
            self.letters(further),
            self.letters(text),
        );
        let options = Options::new(width)
            .initial_indent(&first)
            .subsequent_indent(&further)
            .word_splitter(WordSplitter::NoHyphenation)
            .break_words(true);
        textwrap::wrap(&text, options)
            .into_iter()
            .map(|line| line.into_owned())
            .collect()
    }
    fn bold(&self, line: &str) -> String {
        if self.terminal.bold {
            format!("\u{1b}[1m{}\u{1b}[0m", line.trim_end_matches(' '))
        } else {
            line.to_owned()
        }
    }
    /// The same words in letters that the terminal has; control characters, which could move its cursor, become spaces.
    pub fn letters(&self, text: &str) -> String {
        letters(text, self.terminal.unicode)
    }
}

/// See [`Page::letters`].
pub fn letters(text: &str, unicode: bool) -> String {
    let mut plain = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            _ if letter.is_control() || is_direction_mark(letter) => plain.push(' '),
            _ if unicode || letter.is_ascii() => plain.push(letter),
            _ => match spelled(letter) {
                Some(word) => plain.push_str(word),
                // Owners write names in their own letters; a reader without them gets the nearest.
                None => plain.push_str(deunicode::deunicode_char(letter).unwrap_or("?").trim()),
            },
        }
    }
    plain
}

/// Marks that turn the direction of writing could hide what a line says.
fn is_direction_mark(letter: char) -> bool {
    matches!(letter, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// How signs of formulas and of this tool are spelled in ASCII.
fn spelled(letter: char) -> Option<&'static str> {
    Some(match letter {
        '±' => "+/-",
        '°' => "deg ",
        '·' => "|",
        '−' | '–' => "-",
        '—' => "--",
        '…' => "...",
        '×' => "x",
        '÷' => "/",
        '√' => "sqrt",
        '²' => "^2",
        '³' => "^3",
        '½' => "^(1/2)",
        '⅓' => "^(1/3)",
        '≤' => "<=",
        '≥' => ">=",
        '≈' => "~",
        '≠' => "/=",
        'π' => "pi",
        'Δ' => "d",
        'µ' | 'μ' => "u",
        'η' => "eta",
        'λ' => "lambda",
        'σ' => "sigma",
        'α' => "alpha",
        'θ' => "theta",
        'ρ' => "rho",
        '→' => "->",
        '“' | '”' => "\"",
        '‘' | '’' => "'",
        '◆' => "<X>",
        '◖' => "(",
        '●' => "*",
        '▫' => "[ ]",
        '┃' => "!",
        '\u{2009}' | '\u{202f}' | '\u{a0}' => " ",
        _ => return None,
    })
}

/// Columns that a text takes.
pub fn width(text: &str) -> usize {
    text.width()
}

/// A list in words: `a`, `a and b`, `a, b and c`.
pub fn listed<S: AsRef<str>>(words: &[S]) -> String {
    let mut text = String::new();
    for (at, word) in words.iter().enumerate() {
        let before = match at {
            0 => "",
            _ if at + 1 == words.len() => " and ",
            _ => ", ",
        };
        text.push_str(before);
        text.push_str(word.as_ref());
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    fn page(unicode: bool) -> Page {
        Page::new(Terminal {
            width: 40,
            unicode,
            bold: false,
        })
    }

    #[test]
    fn nothing_is_wider_than_the_terminal() {
        let mut page = page(true);
        page.hanging("  → ", "    ", &"a word and another ".repeat(20));
        page.both_ends(
            "◆ ",
            "  ",
            &"a long title of many words ".repeat(3),
            "unsound",
        );
        page.paragraph(2, &"x".repeat(200));
        let columns = [
            Column::words("joint"),
            Column::figures("stretch"),
            Column::words("clip").at_most(10),
        ];
        page.table(
            2,
            &columns,
            &[vec![
                "hot.from ".repeat(8),
                "9.4 %".into(),
                "worm 40-60 ".repeat(4),
            ]],
        );
        for line in page.finish().lines() {
            assert!(line.width() <= 40, "{line}");
        }
    }

    #[test]
    fn plain_letters_say_the_same() {
        let mut page = page(false);
        page.paragraph(0, "D = √(41.8² ± 0.2) ≥ 3 °C, Zoë");
        assert_eq!(page.finish(), "D = sqrt(41.8^2 +/- 0.2) >= 3 deg C, Zoe\n");
    }

    #[test]
    fn a_name_can_not_move_the_cursor() {
        assert_eq!(letters("Dun\u{1b}[2Jlin\u{202e}\n", true), "Dun [2Jlin  ");
    }

    #[test]
    fn lists_read_like_a_sentence() {
        assert_eq!(listed(&["a"]), "a");
        assert_eq!(listed(&["a", "b", "c"]), "a, b and c");
    }
}
