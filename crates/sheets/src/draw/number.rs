//! How a number looks by where it comes from: measured, read off, assumed, guessed, computed,
//! chosen, not looked at yet and not to be known never look alike. The texts themselves come
//! formatted; nothing is rounded here.

use super::shape::{Anchor, Class, Face, Placed, Shape};
use super::text;
use crate::doc::Span;

/// Where a number comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Origin {
    /// Measured with an instrument, which follows: `caliper`.
    Measured(String),
    /// Read off a plate, a drawing or a maker's sheet, whose word follows: `plate`.
    Read(String),
    /// A value that is usual, by leave of the file.
    Assumed,
    /// A guess of the owner's.
    Guessed,
    /// Reckoned from others.
    Computed,
    /// Chosen by us or by the owner.
    Chosen,
    /// Left out: nobody has looked yet. The text is the unit that follows the empty box.
    LeftOut,
    /// Looked for, and not to be known yet. The text is the reason, or empty.
    Unknown,
}

/// The width of a box for a pencil, mm.
const BOX: f64 = 16.0;

/// A number as pieces of a line.
#[must_use]
pub fn spans(text: &str, origin: &Origin) -> Vec<Span> {
    match origin {
        Origin::Measured(with) | Origin::Read(with) => {
            let mut spans = vec![Span::Plain(text.to_owned())];
            if !with.is_empty() {
                spans.push(Span::Soft(with.clone()));
            }
            spans
        }
        Origin::Assumed => vec![Span::Assumed(format!("{} assumed", bracketed(text)))],
        Origin::Guessed => vec![Span::Assumed(format!("{} guessed", bracketed(text)))],
        Origin::Computed => vec![Span::Plain(equals(text))],
        Origin::Chosen if text.is_empty() => vec![Span::Unknown("choose".to_owned())],
        Origin::Chosen => vec![Span::Plain(equals(text)), Span::Soft("chosen".to_owned())],
        Origin::LeftOut => vec![Span::Empty(BOX, text.to_owned())],
        Origin::Unknown if text.is_empty() => vec![Span::Unknown("?".to_owned())],
        Origin::Unknown => vec![Span::Unknown("?".to_owned()), Span::Soft(text.to_owned())],
    }
}

fn bracketed(text: &str) -> String {
    if text.starts_with(['(', '[']) || text.starts_with("about ") {
        text.to_owned()
    } else {
        format!("({text})")
    }
}

fn equals(text: &str) -> String {
    if text.starts_with('=') {
        text.to_owned()
    } else {
        format!("= {text}")
    }
}

/// A number set into a picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Set {
    /// The primitives, its left end at the place asked for.
    pub placed: Vec<Placed>,
    /// How wide it is, px.
    pub width: f64,
}

/// A number in a picture: its left end at `x`, its base line at `y`.
#[must_use]
pub fn placed(text: &str, origin: &Origin, x: f64, y: f64, size: f64) -> Set {
    let mut pen = Pen {
        x,
        y,
        size,
        placed: Vec::new(),
    };
    for (at, span) in spans(text, origin).iter().enumerate() {
        if at > 0 {
            pen.x += text::width(" ", Face::Plain, size);
        }
        match span {
            Span::Assumed(words) => {
                let (value, word) = word_of(words);
                pen.boxed(Class::Assumed, value, Face::Italic, &word);
            }
            Span::Unknown(sign) => pen.boxed(Class::Assumed, sign, Face::Plain, ""),
            Span::Empty(_, unit) => {
                let (high, wide) = (1.2 * size, 3.0 * size);
                let frame = Shape::rectangle(pen.x, y - 0.36 * size - high / 2.0, wide, high);
                pen.put(Class::Unmeasured, frame);
                pen.x += wide + text::width(" ", Face::Plain, size);
                pen.words(unit, Face::Plain, Class::Soft);
            }
            Span::Soft(words) => pen.words(words, Face::Plain, Class::Soft),
            Span::Plain(words) => pen.words(words, Face::Plain, Class::Text),
            Span::Bold(words) => pen.words(words, Face::Bold, Class::Text),
            // No number holds these.
            Span::Grade(_) | Span::Tick => {}
        }
    }
    Set {
        width: pen.x - x,
        placed: pen.placed,
    }
}

/// An assumed value taken apart: what stands in italic, and the word that says so with what
/// follows it. A value that brings no word is *assumed*.
#[must_use]
pub fn word_of(assumed: &str) -> (&str, String) {
    let at = ["assumed", "guessed"]
        .iter()
        .filter_map(|word| assumed.find(word))
        .min();
    match at {
        Some(at) => (
            assumed[..at].trim_end(),
            assumed[at..].trim_end().to_owned(),
        ),
        None => (assumed.trim_end(), "assumed".to_owned()),
    }
}

/// The place where the next sign goes.
struct Pen {
    x: f64,
    y: f64,
    size: f64,
    placed: Vec<Placed>,
}

impl Pen {
    fn put(&mut self, class: Class, shape: Shape) {
        self.placed.push(Placed::of(class, shape));
    }

    fn words(&mut self, words: &str, face: Face, class: Class) {
        if words.is_empty() {
            return;
        }
        let shape = Shape::Text {
            x: self.x,
            y: self.y,
            anchor: Anchor::Start,
            face,
            size: self.size,
            text: words.to_owned(),
        };
        self.put(class, shape);
        self.x += text::width(words, face, self.size);
    }

    /// Words in a dashed box, with a bold word after them in the same box.
    fn boxed(&mut self, class: Class, words: &str, face: Face, word: &str) {
        let (start, size, inset) = (self.x, self.size, 0.25 * self.size);
        self.x += inset;
        self.words(words, face, Class::Text);
        if !word.is_empty() {
            if !words.is_empty() {
                self.x += text::width(" ", Face::Plain, size);
            }
            self.words(word, Face::Bold, Class::Text);
        }
        self.x += inset;
        let high = 1.3 * size;
        let frame = Shape::rectangle(
            start,
            self.y - 0.3 * size - high / 2.0,
            self.x - start,
            high,
        );
        self.put(class, frame);
    }
}
