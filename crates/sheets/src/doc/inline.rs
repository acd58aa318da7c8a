//! Spans set into lines: measured, broken at blanks, each line as high as what stands in it.

use crate::doc::Span;
use crate::draw::ink::PX_IN_MM;
use crate::draw::shape::{Anchor, Class, Face, Placed, Shape};
use crate::draw::{grade, number, text};

/// A line that is set: its primitives relative to its upper left corner.
#[derive(Clone, Debug, Default)]
pub(super) struct Line {
    pub(super) placed: Vec<Placed>,
    pub(super) width: f64,
    pub(super) height: f64,
    /// How far its base line lies under its upper edge.
    pub(super) base: f64,
}

/// How a text is set.
#[derive(Clone, Copy, Debug)]
pub(super) struct Style {
    /// The size of the type, px.
    pub(super) size: f64,
    /// The cut of what is plain.
    pub(super) face: Face,
}

/// What can't be parted.
#[derive(Clone, Debug)]
enum Atom {
    Word {
        words: String,
        face: Face,
        class: Class,
    },
    /// Words in a dashed box, and a bold word after them.
    Boxed {
        words: String,
        face: Face,
        word: String,
    },
    Grade(reckon::Grade),
    /// An empty box, px wide.
    Empty(f64),
    Tick,
}

/// An atom, and what stands before it.
#[derive(Clone, Debug)]
struct Token {
    atom: Atom,
    /// Whether a blank stands before it.
    blank: bool,
    /// Whether a line may end before it.
    breaks: bool,
}

/// Units that are never parted from their number.
const UNITS: [&str; 37] = [
    "mm", "cm", "m", "in", "ft", "bar", "mbar", "kPa", "psi", "L", "gal", "qt", "pt", "L/min",
    "gpm", "kW", "W", "hp", "°C", "°F", "%", "rpm", "kg", "lb", "h", "min", "s", "m/s", "N·m",
    "Nm", "lbf·ft", "lbf·in", "W/K", "K", "ft/s", "N", "lbf",
];

/// The size of second text, px.
const SOFT: f64 = super::page::LEAST;
/// Height of a box for a pencil, px.
const EMPTY_HIGH: f64 = 6.2 * PX_IN_MM;
/// Side of a box to tick, px.
const TICK: f64 = 4.0 * PX_IN_MM;

impl Atom {
    fn width(&self, style: Style) -> f64 {
        match self {
            Atom::Word { words, face, class } => text::width(words, *face, style.of(*class)),
            Atom::Boxed { words, face, word } => {
                let blank = if word.is_empty() || words.is_empty() {
                    0.0
                } else {
                    style.blank()
                };
                2.0 * style.inset()
                    + text::width(words, *face, style.size)
                    + blank
                    + text::width(word, Face::Bold, style.size)
            }
            Atom::Grade(grade) => grade::width(*grade, grade::Place::Mark),
            Atom::Empty(wide) => *wide,
            Atom::Tick => TICK,
        }
    }

    /// How far it reaches above and below the base line.
    fn reach(&self, style: Style) -> (f64, f64) {
        let middle = 0.36 * style.size;
        let about = |high: f64| (high / 2.0 + middle + 1.5, high / 2.0 - middle + 1.5);
        match self {
            Atom::Word { .. } => (0.97 * style.size, 0.38 * style.size),
            Atom::Boxed { .. } => about(style.box_high()),
            Atom::Grade(grade) => about(grade::width(*grade, grade::Place::Mark)),
            Atom::Empty(_) => about(EMPTY_HIGH),
            Atom::Tick => about(TICK),
        }
    }

    /// Its parts, each no wider than `width`. Only texts can be parted.
    fn parted(self, style: Style, width: f64) -> Vec<Atom> {
        match self {
            Atom::Word { words, face, class } => text::wrap(&words, face, style.of(class), width)
                .into_iter()
                .map(|words| Atom::Word { words, face, class })
                .collect(),
            Atom::Boxed { words, face, word } => {
                let inner = (width - 2.0 * style.inset()).max(style.size);
                let mut parts: Vec<Atom> = text::wrap(&words, face, style.size, inner)
                    .into_iter()
                    .filter(|words| !words.is_empty())
                    .map(|words| Atom::Boxed {
                        words,
                        face,
                        word: String::new(),
                    })
                    .collect();
                // The word goes beside the last part where it fits, else under it.
                for (n, line) in text::wrap(&word, Face::Bold, style.size, inner)
                    .into_iter()
                    .enumerate()
                {
                    if line.is_empty() {
                        continue;
                    }
                    if n == 0
                        && let Some(Atom::Boxed { words, word, .. }) = parts.last_mut()
                    {
                        let both = text::width(words, face, style.size)
                            + style.blank()
                            + text::width(&line, Face::Bold, style.size);
                        if both <= inner {
                            *word = line;
                            continue;
                        }
                    }
                    parts.push(Atom::Boxed {
                        words: String::new(),
                        face,
                        word: line,
                    });
                }
                parts
            }
            Atom::Empty(wide) => vec![Atom::Empty(wide.min(width))],
            other => vec![other],
        }
    }

    /// Draws it with its left end at `x` on a base line.
    fn draw(&self, style: Style, x: f64, base: f64, placed: &mut Vec<Placed>) {
        let middle = base - 0.36 * style.size;
        match self {
            Atom::Word { words, face, class } => {
                let size = style.of(*class);
                placed.push(Placed::of(*class, set(words, *face, size, x, base)));
            }
            Atom::Boxed { words, face, word } => {
                let mut at = x + style.inset();
                if !words.is_empty() {
                    placed.push(Placed::of(
                        Class::Text,
                        set(words, *face, style.size, at, base),
                    ));
                    at += text::width(words, *face, style.size) + style.blank();
                }
                if !word.is_empty() {
                    placed.push(Placed::of(
                        Class::Text,
                        set(word, Face::Bold, style.size, at, base),
                    ));
                }
                let high = style.box_high();
                let frame = Shape::rectangle(x, middle - high / 2.0, self.width(style), high);
                placed.push(Placed::of(Class::Assumed, frame));
            }
            Atom::Grade(grade) => {
                let half = grade::width(*grade, grade::Place::Mark) / 2.0;
                placed.extend(grade::shape(*grade, x + half, middle, None));
            }
            Atom::Empty(wide) => {
                let frame = Shape::rectangle(x, middle - EMPTY_HIGH / 2.0, *wide, EMPTY_HIGH);
                placed.push(Placed::of(Class::Empty, frame));
            }
            Atom::Tick => {
                let frame = Shape::rectangle(x, middle - TICK / 2.0, TICK, TICK);
                placed.push(Placed::of(Class::Empty, frame));
            }
        }
    }
}

impl Style {
    fn blank(self) -> f64 {
        text::width(" ", Face::Plain, self.size)
    }

    /// The size of a class: second text is smaller.
    fn of(self, class: Class) -> f64 {
        if class == Class::Soft {
            self.size.min(SOFT)
        } else {
            self.size
        }
    }

    fn inset(self) -> f64 {
        0.25 * self.size
    }

    fn box_high(self) -> f64 {
        1.3 * self.size
    }
}

/// One line of text, its left end on a base line.
pub(super) fn set(words: &str, face: Face, size: f64, x: f64, y: f64) -> Shape {
    Shape::Text {
        x,
        y,
        anchor: Anchor::Start,
        face,
        size,
        text: words.to_owned(),
    }
}

/// Spans taken apart into what can't be parted.
fn tokens(spans: &[Span], style: Style) -> Vec<Token> {
    let mut tokens: Vec<Token> = Vec::new();
    for span in spans {
        match span {
            Span::Plain(words) => words_of(words, style.face, Class::Text, &mut tokens),
            Span::Bold(words) => words_of(words, Face::Bold, Class::Text, &mut tokens),
            Span::Soft(words) => words_of(words, style.face, Class::Soft, &mut tokens),
            Span::Assumed(words) => {
                let (value, word) = number::word_of(words);
                let atom = Atom::Boxed {
                    words: value.to_owned(),
                    face: Face::Italic,
                    word,
                };
                push(&mut tokens, atom, true);
            }
            Span::Unknown(sign) => {
                let word = String::new();
                let atom = Atom::Boxed {
                    words: sign.clone(),
                    face: Face::Plain,
                    word,
                };
                push(&mut tokens, atom, true);
            }
            Span::Grade(grade) => {
                push(&mut tokens, Atom::Grade(*grade), true);
                let words = grade.word().to_owned();
                let atom = Atom::Word {
                    words,
                    face: style.face,
                    class: Class::Text,
                };
                push(&mut tokens, atom, false);
            }
            Span::Empty(wide, unit) => {
                push(&mut tokens, Atom::Empty(wide * PX_IN_MM), true);
                if !unit.is_empty() {
                    let words = unit.clone();
                    let atom = Atom::Word {
                        words,
                        face: style.face,
                        class: Class::Soft,
                    };
                    push(&mut tokens, atom, false);
                }
            }
            Span::Tick => push(&mut tokens, Atom::Tick, true),
        }
    }
    tokens
}

fn push(tokens: &mut Vec<Token>, atom: Atom, breaks: bool) {
    let first = tokens.is_empty();
    tokens.push(Token {
        atom,
        blank: !first,
        breaks: breaks && !first,
    });
}

/// Splits a span into its words.
fn words_of(span: &str, face: Face, class: Class, tokens: &mut Vec<Token>) {
    // A closing sign stands close to what is before it, even out of another span.
    let closes = |c: char| matches!(c, '.' | ',' | ';' | ':' | ')' | ']');
    let mut first = true;
    for word in span
        .split([' ', '\n', '\t'])
        .filter(|word| !word.is_empty())
    {
        let opened = tokens.last().is_some_and(|before| match &before.atom {
            Atom::Word { words, .. } => words.ends_with(['(', '[']),
            _ => false,
        });
        let close = first && (opened || span.starts_with(closes)) && !tokens.is_empty();
        let glued = tokens.last().is_some_and(|before| holds(before, word));
        let is_first = tokens.is_empty();
        tokens.push(Token {
            atom: Atom::Word {
                words: word.to_owned(),
                face,
                class,
            },
            blank: !close && !is_first,
            breaks: !close && !glued && !is_first,
        });
        first = false;
    }
}

/// Whether a word is held to the one before it: a unit to its number, a tolerance to its value.
fn holds(before: &Token, word: &str) -> bool {
    let Atom::Word { words, .. } = &before.atom else {
        return false;
    };
    let bare = word.trim_end_matches([',', '.', ';', ':', ')']);
    let number = words.ends_with(|c: char| c.is_ascii_digit());
    // A torque is written in two words.
    let torque = matches!(words.as_str(), "N" | "lbf") && matches!(bare, "m" | "ft" | "in");
    torque || word == "±" || words == "±" || words == "=" || number && UNITS.contains(&bare)
}

/// Spans as lines none of which is wider than `width`.
pub(super) fn lines(spans: &[Span], style: Style, width: f64) -> Vec<Line> {
    let tokens = tokens(spans, style);
    let mut rows: Vec<Vec<Token>> = Vec::new();
    let mut row: Vec<Token> = Vec::new();
    let mut filled = 0.0;
    let mut at = 0;
    while at < tokens.len() {
        let mut end = at + 1;
        while end < tokens.len() && !tokens[end].breaks {
            end += 1;
        }
        let cluster = &tokens[at..end];
        at = end;
        let wide = measure(cluster, style);
        let before = if row.is_empty() || !cluster[0].blank {
            0.0
        } else {
            style.blank()
        };
        if filled + before + wide <= width {
            filled += before + wide;
            row.extend_from_slice(cluster);
            continue;
        }
        if !row.is_empty() {
            rows.push(std::mem::take(&mut row));
            filled = 0.0;
        }
        if wide <= width {
            filled = wide;
            row.extend_from_slice(cluster);
            continue;
        }
        // Too wide for any line: parted between its atoms, and inside one where need be.
        for token in cluster {
            for (n, atom) in token
                .atom
                .clone()
                .parted(style, width)
                .into_iter()
                .enumerate()
            {
                let before = if n == 0 && token.blank && !row.is_empty() {
                    style.blank()
                } else {
                    0.0
                };
                let wide = atom.width(style);
                if n > 0 || !row.is_empty() && filled + before + wide > width {
                    rows.push(std::mem::take(&mut row));
                    filled = wide;
                } else {
                    filled += before + wide;
                }
                row.push(Token {
                    atom,
                    blank: n == 0 && token.blank,
                    breaks: true,
                });
            }
        }
    }
    if !row.is_empty() {
        rows.push(row);
    }
    rows.retain(|row| !row.is_empty());
    rows.iter().map(|row| draw(row, style)).collect()
}

/// How wide tokens are side by side; a blank before the first does not count.
fn measure(tokens: &[Token], style: Style) -> f64 {
    let blanks = tokens.iter().skip(1).filter(|token| token.blank).count();
    let widths: f64 = tokens.iter().map(|token| token.atom.width(style)).sum();
    widths + style.blank() * blanks as f64
}

/// The widest of what can't be parted without breaking a word.
pub(super) fn least(spans: &[Span], style: Style) -> f64 {
    let tokens = tokens(spans, style);
    let mut widest: f64 = 0.0;
    let mut at = 0;
    while at < tokens.len() {
        let mut end = at + 1;
        while end < tokens.len() && !tokens[end].breaks {
            end += 1;
        }
        widest = widest.max(measure(&tokens[at..end], style));
        at = end;
    }
    widest
}

/// Draws one row of tokens. Words of one kind in a row are one text, so that it can be searched.
fn draw(row: &[Token], style: Style) -> Line {
    let mut merged: Vec<(Atom, bool)> = Vec::new();
    for (n, token) in row.iter().enumerate() {
        let blank = token.blank && n > 0;
        if let (
            Some((Atom::Word { words, face, class }, _)),
            Atom::Word {
                words: next,
                face: next_face,
                class: next_class,
            },
        ) = (merged.last_mut(), &token.atom)
            && face == next_face
            && class == next_class
        {
            if blank {
                words.push(' ');
            }
            words.push_str(next);
            continue;
        }
        merged.push((token.atom.clone(), blank));
    }
    let mut above = 0.97 * style.size;
    let mut below = 0.38 * style.size;
    for (atom, _) in &merged {
        let (up, down) = atom.reach(style);
        above = above.max(up);
        below = below.max(down);
    }
    let mut line = Line {
        placed: Vec::new(),
        width: 0.0,
        height: above + below,
        base: above,
    };
    for (atom, blank) in &merged {
        if *blank {
            line.width += style.blank();
        }
        atom.draw(style, line.width, above, &mut line.placed);
        line.width += atom.width(style);
    }
    line
}
