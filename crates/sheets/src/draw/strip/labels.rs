//! Texts that keep clear of each other and of what they must not hide.

use reckon::Grade;

use super::super::grade;
use super::super::shape::{Anchor, Class, Face, Picture, Placed, Shape};
use super::super::text;

/// An upright box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Rect {
    pub(super) left: f64,
    pub(super) top: f64,
    pub(super) right: f64,
    pub(super) bottom: f64,
}

impl Rect {
    fn meets(&self, other: &Rect) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    fn grown(self, by: f64) -> Rect {
        Rect {
            left: self.left - by,
            top: self.top - by,
            right: self.right + by,
            bottom: self.bottom + by,
        }
    }
}

/// A place for a text: base line, and which end stands at x.
pub(super) type Place = (f64, f64, Anchor);

/// A text that looks for a place. They are served in the order of their rank, so that what matters most stays.
pub(super) struct Wanted {
    pub(super) rank: u8,
    pub(super) class: Class,
    pub(super) key: Option<String>,
    pub(super) text: String,
    /// What would do where there is no room for the whole.
    pub(super) shorter: Option<String>,
    /// The shape of a grade before it.
    pub(super) grade: Option<Grade>,
    /// The best first.
    pub(super) places: Vec<Place>,
    /// The line that it names, to which a leader is drawn from where it stands; empty where it names none.
    pub(super) leads: Vec<Vec<(f64, f64)>>,
}

/// Room of a shape before its text [px].
const LEAD: f64 = 20.0;

/// What is taken on a panel.
pub(super) struct Labels {
    within: Rect,
    /// Texts and signs.
    taken: Vec<Rect>,
    /// Lines over which a text may stand where nothing else is free.
    lines: Vec<Rect>,
    /// Hatched fields: a text in one lies on a patch of the sheet.
    hatched: Vec<Rect>,
    wanted: Vec<Wanted>,
    /// Size of the type [px].
    size: f64,
}

/// Room over and under a text [px].
const GAP: f64 = 2.0;
/// Room at its sides [px].
const SIDE: f64 = 4.0;

impl Labels {
    pub(super) fn within(within: Rect, size: f64) -> Self {
        Self {
            within,
            taken: Vec::new(),
            lines: Vec::new(),
            hatched: Vec::new(),
            wanted: Vec::new(),
            size,
        }
    }

    /// Keeps a box free of texts.
    pub(super) fn take(&mut self, rect: Rect) {
        self.taken.push(rect);
    }

    /// A field in which texts lie on a patch of the sheet.
    pub(super) fn hatch(&mut self, rect: Rect) {
        self.hatched.push(rect);
    }

    /// Whether nothing is in the way.
    pub(super) fn is_free(&self, rect: &Rect) -> bool {
        !self.taken.iter().any(|taken| taken.meets(rect))
    }

    /// Keeps what is around a point free of texts.
    pub(super) fn take_around(&mut self, x: f64, y: f64, half: f64) {
        self.take(Rect {
            left: x - half,
            top: y - half,
            right: x + half,
            bottom: y + half,
        });
    }

    /// Keeps a line free of texts: in any case, or as long as there is room beside it.
    pub(super) fn take_line(&mut self, points: &[(f64, f64)], half: f64, always: bool) {
        for pair in points.windows(2) {
            let ((xa, ya), (xb, yb)) = (pair[0], pair[1]);
            let long = (xb - xa).hypot(yb - ya);
            // OK because a panel is some thousand pixels wide.
            let steps = (long / 6.0).ceil().max(1.0) as usize;
            for step in 0..steps {
                let share = |step: usize| step as f64 / steps as f64;
                let at = |step: usize| {
                    let t = share(step);
                    (xa + t * (xb - xa), ya + t * (yb - ya))
                };
                let (a, b) = (at(step), at(step + 1));
                let rect = Rect {
                    left: a.0.min(b.0),
                    top: a.1.min(b.1),
                    right: a.0.max(b.0),
                    bottom: a.1.max(b.1),
                }
                .grown(half);
                if always {
                    self.taken.push(rect);
                } else {
                    self.lines.push(rect);
                }
            }
        }
    }

    /// Asks for a place for a text.
    pub(super) fn want(&mut self, wanted: Wanted) {
        if !wanted.text.is_empty() {
            self.wanted.push(wanted);
        }
    }

    /// The box of a text with its shape at a place.
    pub(super) fn rect(&self, wide: f64, (x, y, anchor): Place) -> Rect {
        let left = match anchor {
            Anchor::Start => x,
            Anchor::Middle => x - wide / 2.0,
            Anchor::End => x - wide,
        };
        Rect {
            left: left - SIDE,
            top: y - 0.8 * self.size - GAP,
            right: left + wide + SIDE,
            bottom: y + 0.25 * self.size + GAP,
        }
    }

    /// The first place that is free: clear of lines, else over one.
    fn place(&self, wide: f64, places: &[Place]) -> Option<Rect> {
        let inside = |rect: &Rect| {
            rect.left >= self.within.left
                && rect.top >= self.within.top
                && rect.right <= self.within.right
                && rect.bottom <= self.within.bottom
        };
        let all: Vec<Rect> = places
            .iter()
            .map(|place| self.rect(wide, *place))
            .filter(|rect| inside(rect) && self.is_free(rect))
            .collect();
        let clear = all.iter().find(|rect| self.is_clear(rect));
        clear.or(all.first()).copied()
    }

    fn is_clear(&self, rect: &Rect) -> bool {
        !self.lines.iter().any(|line| line.meets(rect))
    }

    /// Puts all texts that find a place over what is drawn so far.
    pub(super) fn settle(&mut self, picture: &mut Picture) {
        let mut wanted = std::mem::take(&mut self.wanted);
        wanted.sort_by_key(|one| one.rank);
        for one in wanted {
            let lead = if one.grade.is_some() { LEAD } else { 0.0 };
            let wide = |words: &str| lead + text::width(words, Face::Plain, self.size);
            let whole = self.place(wide(&one.text), &one.places);
            let (rect, words) = match (whole, &one.shorter) {
                (Some(rect), _) => (rect, one.text.as_str()),
                (None, Some(shorter)) => match self.place(wide(shorter), &one.places) {
                    Some(rect) => (rect, shorter.as_str()),
                    None => continue,
                },
                (None, None) => continue,
            };
            if let Some((from, to)) = leader(&rect, &one.leads) {
                picture.put(Class::Fine, Shape::line(from, to));
            }
            if !self.is_clear(&rect) || self.hatched.iter().any(|field| field.meets(&rect)) {
                let (wide, tall) = (rect.right - rect.left, rect.bottom - rect.top);
                let patch = Shape::rectangle(rect.left, rect.top, wide, tall);
                picture.put(Class::Sheet, patch);
            }
            let base = rect.bottom - GAP - 0.25 * self.size;
            if let Some(grade) = one.grade {
                let (x, y) = (rect.left + SIDE + 0.45 * LEAD, base - 0.36 * self.size);
                let shapes = grade::shape(grade, x, y, one.key.as_deref());
                picture.placed.extend(shapes);
            }
            picture.placed.push(Placed {
                class: one.class,
                key: one.key.clone(),
                spoken: None,
                shape: Shape::Text {
                    x: rect.left + SIDE + lead,
                    y: base,
                    anchor: Anchor::Start,
                    face: Face::Plain,
                    size: self.size,
                    text: words.to_owned(),
                },
            });
            self.taken.push(rect);
        }
    }
}

/// From the edge of a text's box to the nearest point of the line that it names, where the two are apart.
fn leader(rect: &Rect, lines: &[Vec<(f64, f64)>]) -> Option<((f64, f64), (f64, f64))> {
    let edge = |(x, y): (f64, f64)| {
        (
            x.clamp(rect.left, rect.right),
            y.clamp(rect.top, rect.bottom),
        )
    };
    let far = |to: (f64, f64)| {
        let from = edge(to);
        (to.0 - from.0).hypot(to.1 - from.1)
    };
    let mut nearest: Option<(f64, f64)> = None;
    for pair in lines.iter().flat_map(|line| line.windows(2)) {
        for step in 0..=20_u8 {
            let share = f64::from(step) / 20.0;
            let to = (
                pair[0].0 + share * (pair[1].0 - pair[0].0),
                pair[0].1 + share * (pair[1].1 - pair[0].1),
            );
            if nearest.is_none_or(|best| far(to) < far(best)) {
                nearest = Some(to);
            }
        }
    }
    let to = nearest.filter(|to| far(*to) > 1.0)?;
    Some((edge(to), to))
}

/// Places around a point, the nearest first: over it, under it, then farther off and to the sides.
pub(super) fn around(x: f64, y: f64, from: f64) -> Vec<Place> {
    let mut places = Vec::new();
    for step in 0..7_u8 {
        let off = from + 14.0 * f64::from(step);
        for (dy, side) in [(-off, 0.0), (off + 9.0, 0.0)] {
            places.push((x, y + dy, Anchor::Middle));
            places.push((x - 6.0 + side, y + dy, Anchor::Start));
            places.push((x + 6.0 - side, y + dy, Anchor::End));
        }
        if step == 0 {
            places.push((x + from, y + 4.0, Anchor::Start));
            places.push((x - from, y + 4.0, Anchor::End));
        }
    }
    places
}

/// Places along a line, from a side on: over it, then under it.
pub(super) fn along_line(points: &[(f64, f64)], backward: bool) -> Vec<Place> {
    let mut places = Vec::new();
    let mut on: Vec<(f64, f64)> = points.to_vec();
    if backward {
        on.reverse();
    }
    for pair in on.windows(2) {
        for share in [0.1, 0.5, 0.9] {
            let x = pair[0].0 + share * (pair[1].0 - pair[0].0);
            let y = pair[0].1 + share * (pair[1].1 - pair[0].1);
            let anchor = if backward { Anchor::End } else { Anchor::Start };
            for off in [-6.0, 16.0] {
                places.push((x, y + off, anchor));
            }
        }
    }
    places
}

/// Places all over a field, from its foot up and from the left.
pub(super) fn over(field: Rect) -> Vec<Place> {
    let mut places = Vec::new();
    let mut y = field.bottom - 5.0;
    while y > field.top + 8.0 {
        for step in 0..12_u8 {
            let x = field.left + 8.0 + f64::from(step) / 12.0 * (field.right - field.left);
            places.push((x, y, Anchor::Start));
        }
        y -= 15.0;
    }
    places
}
