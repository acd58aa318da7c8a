//! A picture in millimetres of paper, with the few things that all pictures of a hose are made of.

use super::super::check::Extent;
use super::super::ink::PX_IN_MM;
use super::super::shape::{Anchor, Class, Face, Picture, Placed, Shape, Step};
use super::super::text;

/// A place on the paper [mm].
pub(super) type P = (f64, f64);

/// The least size of type [mm].
pub(super) const SMALL: f64 = 2.6;
/// The size of running text [mm].
pub(super) const SIZE: f64 = 3.2;
/// The size of heads [mm].
pub(super) const HEAD: f64 = 4.4;
/// From one base line to the next, in sizes of the type.
pub(super) const FEED: f64 = 1.35;

/// How a text is set: cut, size [mm], and which end stands at its place.
#[derive(Clone, Copy, Debug)]
pub(super) struct Type {
    pub(super) class: Class,
    pub(super) face: Face,
    pub(super) size: f64,
    pub(super) anchor: Anchor,
}

impl Type {
    /// Running text.
    pub(super) const PLAIN: Type = Type {
        class: Class::Text,
        face: Face::Plain,
        size: SIZE,
        anchor: Anchor::Start,
    };
    /// Bold text.
    pub(super) const BOLD: Type = Type {
        face: Face::Bold,
        ..Type::PLAIN
    };
    /// A head.
    pub(super) const HEAD: Type = Type {
        size: HEAD,
        ..Type::BOLD
    };
    /// Second text.
    pub(super) const SOFT: Type = Type {
        class: Class::Soft,
        size: SMALL,
        ..Type::PLAIN
    };
    /// Small text that counts.
    pub(super) const SMALL: Type = Type {
        size: SMALL,
        ..Type::PLAIN
    };

    pub(super) fn at(self, anchor: Anchor) -> Type {
        Type { anchor, ..self }
    }

    /// How wide words are [mm].
    pub(super) fn width(self, words: &str) -> f64 {
        text::width(words, self.face, self.size)
    }

    /// The box that words take at a place [mm].
    pub(super) fn extent(self, (x, y): P, words: &str) -> Extent {
        let width = self.width(words);
        let left = match self.anchor {
            Anchor::Start => x,
            Anchor::Middle => x - width / 2.0,
            Anchor::End => x - width,
        };
        Extent {
            left,
            top: y - text::ascent(self.size),
            right: left + width,
            bottom: y + text::descent(self.size),
        }
    }
}

/// A picture that is being drawn, in millimetres.
#[derive(Debug)]
pub(super) struct Board {
    picture: Picture,
}

impl Board {
    pub(super) fn new(width: f64, spoken: String) -> Board {
        let picture = Picture {
            width: width * PX_IN_MM,
            height: 0.0,
            spoken,
            placed: Vec::new(),
        };
        Board { picture }
    }

    /// The picture, so high.
    pub(super) fn finish(mut self, height: f64) -> Picture {
        self.picture.height = height * PX_IN_MM;
        self.picture
    }

    pub(super) fn put(&mut self, class: Class, key: Option<&str>, shape: Shape) {
        self.picture.placed.push(Placed {
            key: key.map(str::to_owned),
            ..Placed::of(class, shape)
        });
    }

    pub(super) fn line(&mut self, class: Class, from: P, to: P) {
        self.put(class, None, Shape::line(px(from), px(to)));
    }

    pub(super) fn figure(&mut self, class: Class, points: &[P]) {
        self.closed(class, None, &[points.to_vec()]);
    }

    pub(super) fn rectangle(&mut self, class: Class, (x, y): P, (wide, high): P) {
        let corners = [(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)];
        self.figure(class, &corners);
    }

    pub(super) fn circle(&mut self, class: Class, key: Option<&str>, (x, y): P, r: f64) {
        let shape = Shape::Circle {
            x: x * PX_IN_MM,
            y: y * PX_IN_MM,
            r: r * PX_IN_MM,
        };
        self.put(class, key, shape);
    }

    /// Open lines as one path; nothing where there are none.
    pub(super) fn open(&mut self, class: Class, key: Option<&str>, lines: &[Vec<P>]) {
        self.paths(class, key, lines, None);
    }

    /// Closed figures as one path; nothing where there are none.
    pub(super) fn closed(&mut self, class: Class, key: Option<&str>, figures: &[Vec<P>]) {
        self.paths(class, key, figures, Some(Step::Close));
    }

    fn paths(&mut self, class: Class, key: Option<&str>, lines: &[Vec<P>], end: Option<Step>) {
        let mut steps = Vec::new();
        for line in lines.iter().filter(|line| line.len() > 1) {
            for (at, point) in line.iter().enumerate() {
                let (x, y) = px(*point);
                steps.push(if at == 0 {
                    Step::To(x, y)
                } else {
                    Step::Line(x, y)
                });
            }
            steps.extend(end);
        }
        if !steps.is_empty() {
            self.put(class, key, Shape::Path(steps));
        }
    }

    /// One line of text.
    pub(super) fn text(&mut self, how: Type, key: Option<&str>, (x, y): P, words: &str) {
        let shape = Shape::Text {
            x: x * PX_IN_MM,
            y: y * PX_IN_MM,
            anchor: how.anchor,
            face: how.face,
            size: how.size * PX_IN_MM,
            text: words.to_owned(),
        };
        self.put(how.class, key, shape);
    }

    /// Words on as many lines as they want, from an upper edge on; gives the lower edge.
    pub(super) fn lines(&mut self, how: Type, (x, top): P, wide: f64, words: &str) -> f64 {
        let mut y = top;
        for line in wrapped(how, wide, words) {
            y += FEED * how.size;
            self.text(how, None, (x, y - 0.3 * how.size), &line);
        }
        y
    }

    /// Lays placed primitives, px.
    pub(super) fn lay(&mut self, placed: impl IntoIterator<Item = Placed>) {
        self.picture.placed.extend(placed);
    }

    /// A dimension line between two places, an arrow at each end, or arrows from outside where there is no room.
    pub(super) fn dimension(&mut self, from: P, to: P) {
        let (dx, dy) = (to.0 - from.0, to.1 - from.1);
        let long = dx.hypot(dy);
        if long < 1e-6 {
            return;
        }
        let (ux, uy) = (dx / long, dy / long);
        let roomy = long > 6.0;
        let out = if roomy { 0.0 } else { 3.5 };
        let ends = (
            (from.0 - out * ux, from.1 - out * uy),
            (to.0 + out * ux, to.1 + out * uy),
        );
        self.line(Class::Fine, ends.0, ends.1);
        let way = if roomy { -1.0 } else { 1.0 };
        self.arrow(from, (ux * way, uy * way));
        self.arrow(to, (-ux * way, -uy * way));
    }

    /// An arrow's head with its point at a place, pointing along a unit vector.
    pub(super) fn arrow(&mut self, at: P, (ux, uy): P) {
        let (long, half) = (2.2, 0.55);
        let back = (at.0 - long * ux, at.1 - long * uy);
        let corners = [
            at,
            (back.0 - half * uy, back.1 + half * ux),
            (back.0 + half * uy, back.1 - half * ux),
        ];
        self.figure(Class::Solid, &corners);
    }

    /// Words on a patch of the sheet, so that they read over lines.
    pub(super) fn patch(&mut self, how: Type, key: Option<&str>, at: P, words: &str) {
        let own = how.extent(at, words);
        let (wide, high) = (own.right - own.left, own.bottom - own.top);
        self.rectangle(
            Class::Sheet,
            (own.left - 0.4, own.top - 0.1),
            (wide + 0.8, high + 0.2),
        );
        self.text(how, key, at, words);
    }
}

/// Words as lines no wider than `wide`.
pub(super) fn wrapped(how: Type, wide: f64, words: &str) -> Vec<String> {
    let lines = text::wrap(words, how.face, how.size, wide);
    lines.into_iter().filter(|line| !line.is_empty()).collect()
}

/// How high words stand on lines no wider than `wide`.
pub(super) fn high(how: Type, wide: f64, words: &str) -> f64 {
    // OK because a paragraph has few lines.
    wrapped(how, wide, words).len() as f64 * FEED * how.size
}

fn px((x, y): P) -> P {
    (x * PX_IN_MM, y * PX_IN_MM)
}
