//! Setting the card: rows of large type in sections, filled into sides of half a sheet.

use reckon::Grade;

use crate::doc::{Head, Paper};
use crate::draw::text::{ascent, descent, fits, width};
use crate::draw::{Anchor, Class, Face, Picture, Placed, Shape, grade};

/// Width of a side, px: 172 mm, as wide as what stands in the frame of a sheet.
pub(super) const WIDTH: f64 = 172.0 * 96.0 / 25.4;
/// Room of the cut between two sides, px.
const CUT: f64 = 20.0;
/// Room round the type, px.
const INSET: f64 = 8.0;
/// Room above the first row and below the last, px.
const TOP: f64 = 4.0;
/// The first lines: 24 pt.
const LARGE: f64 = 24.0 * 96.0 / 72.0;
/// All other lines: 14 pt.
pub(super) const SMALL: f64 = 14.0 * 96.0 / 72.0;
/// From one base line to the next, in sizes of the type.
const LEADING: f64 = 1.12;
/// How far further lines of a row stand in, px.
const HANG: f64 = 24.0;
/// Room above a row, px.
const APART: f64 = 3.0;
/// Height of the line at the foot of a side, px.
const FOOT: f64 = 26.0;

/// Height of a side, px: two of them and the cut between go on a page, under its head.
pub(super) fn high(paper: Paper) -> f64 {
    match paper {
        Paper::A4 => 451.0,
        Paper::Letter => 418.0,
    }
}

/// A piece of a row.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Piece {
    /// Words.
    Text(Face, String),
    /// The shape of a grade.
    Shape(Grade),
    /// An empty box to tick.
    Box,
}

/// What is set in one go and never parted.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Row {
    height: f64,
    placed: Vec<Placed>,
}

/// Rows that belong together.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Section {
    title: Option<String>,
    rows: Vec<Row>,
    /// Whether it begins where the one before it ends, though it does not fit there whole.
    flows: bool,
}

impl Section {
    /// A section without a head, which begins the card.
    pub(super) fn bare() -> Section {
        Section::default()
    }

    /// A section under a head.
    pub(super) fn headed(title: &str) -> Section {
        Section {
            title: Some(title.to_owned()),
            ..Section::default()
        }
    }

    /// The same, begun where the one before it ends, though it does not fit there whole.
    pub(super) fn flowing(title: &str) -> Section {
        Section {
            flows: true,
            ..Section::headed(title)
        }
    }

    /// Another row at its end.
    pub(super) fn push(&mut self, row: Row) {
        self.rows.push(row);
    }

    /// Whether it fits on a side.
    pub(super) fn fits(&self, high: f64) -> bool {
        self.high() <= room(high)
    }

    fn high(&self) -> f64 {
        let head = self.head().map_or(0.0, |head| head.height);
        head + self.rows.iter().map(|row| row.height).sum::<f64>()
    }

    fn head(&self) -> Option<Row> {
        self.title.as_deref().map(Row::head)
    }

    /// Its head where it goes on upon another side.
    fn further(&self) -> Option<Row> {
        let title = self.title.as_ref()?;
        Some(Row::head(&format!("{title}, further")))
    }
}

/// Room for rows on a side, px.
fn room(high: f64) -> f64 {
    high - FOOT - 2.0 * TOP + APART
}

/// What stands on a line.
enum Set {
    Word(Face, String),
    Sign(Piece),
}

impl Set {
    fn width(&self, size: f64) -> f64 {
        match self {
            Set::Word(face, word) => width(word, *face, size),
            Set::Sign(_) => size,
        }
    }
}

impl Row {
    /// One of the first lines.
    pub(super) fn first(text: &str) -> Row {
        Row::set(&[Piece::Text(Face::Bold, text.to_owned())], LARGE, 0.0, 0.0)
    }

    /// A paragraph.
    pub(super) fn text(pieces: &[Piece]) -> Row {
        Row::set(pieces, SMALL, 0.0, 0.0)
    }

    /// Several lines, and under them what holds of all.
    pub(super) fn group(lines: &[Vec<Piece>], under: &[Piece]) -> Row {
        let mut whole = Row {
            height: 0.0,
            placed: Vec::new(),
        };
        let rows = lines.iter().map(|line| Row::hung(line));
        for (at, row) in rows.chain([Row::set(under, SMALL, HANG, 0.0)]).enumerate() {
            // What belongs together stands close.
            let y = if at == 0 { 0.0 } else { whole.height - APART };
            whole
                .placed
                .extend(row.placed.iter().map(|one| one.moved(0.0, y)));
            whole.height = y + row.height;
        }
        whole
    }

    /// A paragraph whose further lines stand in.
    pub(super) fn hung(pieces: &[Piece]) -> Row {
        Row::set(pieces, SMALL, 0.0, HANG)
    }

    /// A head, with a rule under it.
    fn head(text: &str) -> Row {
        let mut row = Row::set(&[Piece::Text(Face::Bold, text.to_owned())], SMALL, 0.0, 0.0);
        let y = row.height + 2.0;
        row.put(
            Class::Middle,
            Shape::line((0.0, y), (WIDTH - 2.0 * INSET, y)),
        );
        row.height = y + 1.0;
        row
    }

    /// A caution with its bar: what it begins with, and what it says.
    pub(super) fn caution(begins: &str, text: &str) -> Row {
        let pieces = [
            Piece::Text(Face::Bold, format!("{begins} ")),
            Piece::Text(Face::Plain, text.to_owned()),
        ];
        let mut row = Row::set(&pieces, SMALL, 16.0, 0.0);
        let height = row.height;
        row.put(
            Class::Solid,
            Shape::rectangle(0.0, APART, 6.0, height - APART),
        );
        row
    }

    fn put(&mut self, class: Class, shape: Shape) {
        self.placed.push(Placed::of(class, shape));
    }

    /// Breaks pieces into lines and sets them.
    fn set(pieces: &[Piece], size: f64, from: f64, hang: f64) -> Row {
        let room = WIDTH - 2.0 * INSET - from;
        let mut lines: Vec<Vec<(f64, Set)>> = vec![Vec::new()];
        let mut at = 0.0;
        // Whether a space stands before the next word.
        let mut spaced = false;
        let mut add = |set: Set, spaced: bool| {
            let space = match &set {
                _ if at <= 0.0 || !spaced => 0.0,
                Set::Word(face, _) => width(" ", *face, size),
                Set::Sign(_) => size * 0.3,
            };
            let own = set.width(size);
            let limit = if lines.len() > 1 { room - hang } else { room };
            if at > 0.0 && at + space + own > limit {
                lines.push(Vec::new());
                at = 0.0;
            }
            let x = if at > 0.0 { at + space } else { 0.0 };
            at = x + own;
            // OK because it begins with one line and only grows.
            lines.last_mut().expect("a line").push((x, set));
        };
        for piece in pieces {
            match piece {
                Piece::Text(face, text) => {
                    for (i, word) in text.split(' ').enumerate() {
                        spaced |= i > 0;
                        if word.is_empty() {
                            continue;
                        }
                        for part in parts(word, *face, size, room - hang) {
                            add(Set::Word(*face, part), spaced);
                            spaced = false;
                        }
                    }
                }
                Piece::Shape(_) | Piece::Box => {
                    add(Set::Sign(piece.clone()), spaced);
                    spaced = true;
                }
            }
        }
        let leading = size * LEADING;
        let mut row = Row {
            height: APART + leading * lines.len() as f64,
            placed: Vec::new(),
        };
        for (number, line) in lines.into_iter().enumerate() {
            let x = from + if number > 0 { hang } else { 0.0 };
            let top = APART + leading * number as f64;
            let base = top + (leading - ascent(size) - descent(size)) / 2.0 + ascent(size);
            row.line(line, (x, base), size);
        }
        row
    }

    /// Sets a line with its base at `at`. Words of one face that follow one another are one text.
    fn line(&mut self, line: Vec<(f64, Set)>, (x, base): (f64, f64), size: f64) {
        let mut open: Option<(f64, f64, Face, String)> = None;
        let mut done: Vec<(f64, Face, String)> = Vec::new();
        for (at, set) in line {
            match set {
                Set::Word(face, word) => {
                    let end = at + width(&word, face, size);
                    open = Some(match open.take() {
                        Some((start, to, own, mut text)) if own == face => {
                            if at > to + 0.01 {
                                text.push(' ');
                            }
                            text.push_str(&word);
                            (start, end, face, text)
                        }
                        other => {
                            done.extend(other.map(|(start, _, own, text)| (start, own, text)));
                            (at, end, face, word)
                        }
                    });
                }
                Set::Sign(piece) => {
                    done.extend(open.take().map(|(start, _, own, text)| (start, own, text)));
                    self.sign(&piece, x + at, base, size);
                }
            }
        }
        done.extend(open.map(|(start, _, own, text)| (start, own, text)));
        for (start, face, text) in done {
            self.put(
                Class::Text,
                Shape::Text {
                    x: x + start,
                    y: base,
                    anchor: Anchor::Start,
                    face,
                    size,
                    text,
                },
            );
        }
    }

    fn sign(&mut self, piece: &Piece, x: f64, base: f64, size: f64) {
        let middle = base - size * 0.36;
        match piece {
            Piece::Shape(own) => {
                self.placed
                    .extend(grade::shape(*own, x + size / 2.0, middle, None));
            }
            Piece::Box => {
                let side = size * 0.72;
                self.put(
                    Class::Thin,
                    Shape::rectangle(x + size * 0.1, middle - side / 2.0, side, side),
                );
            }
            Piece::Text(..) => {}
        }
    }
}

/// A word in parts that each go on a line.
fn parts(word: &str, face: Face, size: f64, room: f64) -> Vec<String> {
    if width(word, face, size) <= room {
        return vec![word.to_owned()];
    }
    let mut parts = vec![String::new()];
    for letter in word.chars() {
        // OK because it begins with one part and only grows.
        let last = parts.last_mut().expect("a part");
        last.push(letter);
        if width(last, face, size) > room && last.chars().count() > 1 {
            last.pop();
            parts.push(letter.to_string());
        }
    }
    parts
}

/// A side of the card.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Side {
    rows: Vec<Row>,
}

impl Side {
    /// Sections filled into sides. A row is never parted, nor a head from what it heads; nor a section that fits on
    /// a side, unless it flows. One that goes on upon another side has its head there again.
    pub(super) fn filled(sections: Vec<Section>, high: f64) -> Vec<Side> {
        let room = room(high);
        let mut sides = vec![Side::default()];
        let mut used = 0.0;
        for section in sections {
            let parts = section.flows || !section.fits(high);
            if used > 0.0 && !parts && used + section.high() > room {
                sides.push(Side::default());
                used = 0.0;
            }
            let (mut head, further) = (section.head(), section.further());
            for row in section.rows {
                let heading = head.as_ref().map_or(0.0, |head| head.height);
                if used > 0.0 && used + heading + row.height > room {
                    sides.push(Side::default());
                    used = 0.0;
                    head = head.or_else(|| further.clone());
                }
                // OK because it begins with one side and only grows.
                let side = sides.last_mut().expect("a side");
                for row in head.take().into_iter().chain([row]) {
                    used += row.height;
                    side.rows.push(row);
                }
            }
        }
        sides
    }

    fn picture(&self, high: f64, whose: &str, answer: &str) -> Picture {
        let mut picture = Picture {
            width: WIDTH,
            height: high,
            ..Picture::default()
        };
        picture.put(
            Class::Middle,
            Shape::rectangle(1.0, 1.0, WIDTH - 2.0, high - 2.0),
        );
        let mut y = TOP;
        for row in &self.rows {
            picture
                .placed
                .extend(row.placed.iter().map(|one| one.moved(INSET, y)));
            y += row.height;
        }
        let top = high - FOOT;
        picture.put(Class::Fine, Shape::line((1.0, top), (WIDTH - 1.0, top)));
        // A long name gives way; day and hash are never cut.
        let room = WIDTH - 3.0 * INSET - width(answer, Face::Plain, SMALL);
        let whose = fits(whose, Face::Bold, SMALL, room);
        for (x, anchor, face, text) in [
            (INSET, Anchor::Start, Face::Bold, whose.as_str()),
            (WIDTH - INSET, Anchor::End, Face::Plain, answer),
        ] {
            picture.put(
                Class::Text,
                Shape::Text {
                    x,
                    y: top + FOOT / 2.0 + SMALL * 0.36,
                    anchor,
                    face,
                    size: SMALL,
                    text: text.to_owned(),
                },
            );
        }
        picture
    }
}

/// Two sides a page, with the cut between them.
pub(super) fn bound(sides: &[Side], head: &Head, high: f64, cooling: &str) -> Vec<Picture> {
    let count = sides.len();
    let mut pages = Vec::new();
    for (page, pair) in sides.chunks(2).enumerate() {
        let mut picture = Picture {
            width: WIDTH,
            height: high,
            spoken: format!("Get-home card of {}, {cooling}", head.boat),
            ..Picture::default()
        };
        for (at, side) in pair.iter().enumerate() {
            let whose = format!("{} · {}", head.boat, head.arrangement);
            let answer = format!(
                "{} · {} · {} of {count}",
                head.date,
                head.hash,
                page * 2 + at + 1
            );
            let own = side.picture(high, &whose, &answer);
            picture.lay(&own, 0.0, (high + CUT) * at as f64);
        }
        if pair.len() == 2 {
            picture.height = 2.0 * high + CUT;
            cut(&mut picture, high);
        }
        pages.push(picture);
    }
    pages
}

/// The line to cut along, in strokes.
fn cut(picture: &mut Picture, high: f64) {
    let y = high + CUT / 2.0;
    let word = "cut";
    let wide = width(word, Face::Plain, SMALL);
    picture.put(
        Class::Soft,
        Shape::Text {
            x: 0.0,
            y: y + SMALL * 0.36,
            anchor: Anchor::Start,
            face: Face::Plain,
            size: SMALL,
            text: word.to_owned(),
        },
    );
    let mut x = wide + 8.0;
    while x < WIDTH {
        picture.put(Class::Fine, Shape::line((x, y), ((x + 12.0).min(WIDTH), y)));
        x += 20.0;
    }
}
