//! What must not happen in a picture: texts that overlap, things that are cut off, signs that no
//! font holds. Each fault is a sentence; a picture that is right has none.

use super::ink;
use super::shape::{Anchor, Picture, Placed, Shape, Step};
use super::text;

/// An upright box, px.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Extent {
    /// Its left edge.
    pub left: f64,
    /// Its upper edge.
    pub top: f64,
    /// Its right edge.
    pub right: f64,
    /// Its lower edge.
    pub bottom: f64,
}

impl Extent {
    fn point(x: f64, y: f64) -> Extent {
        Extent {
            left: x,
            top: y,
            right: x,
            bottom: y,
        }
    }

    fn with(self, other: Extent) -> Extent {
        Extent {
            left: self.left.min(other.left),
            top: self.top.min(other.top),
            right: self.right.max(other.right),
            bottom: self.bottom.max(other.bottom),
        }
    }

    /// Whether it lies within `outer`, give or take `slack`.
    #[must_use]
    pub fn within(self, outer: Extent, slack: f64) -> bool {
        self.left >= outer.left - slack
            && self.top >= outer.top - slack
            && self.right <= outer.right + slack
            && self.bottom <= outer.bottom + slack
    }

    /// Whether it meets `other` by more than `slack` both ways.
    #[must_use]
    pub fn meets(self, other: Extent, slack: f64) -> bool {
        self.left.max(other.left) + slack < self.right.min(other.right)
            && self.top.max(other.top) + slack < self.bottom.min(other.bottom)
    }
}

/// Half a pixel is nothing.
const SLACK: f64 = 0.5;

/// The box that a primitive takes: a text from its capitals to what hangs below its line, a curve
/// with its handles. None for a path without steps and a text without signs.
#[must_use]
pub fn extent(placed: &Placed) -> Option<Extent> {
    match &placed.shape {
        Shape::Path(steps) => steps
            .iter()
            .filter_map(|step| match *step {
                Step::To(x, y) | Step::Line(x, y) => Some(Extent::point(x, y)),
                Step::Curve(a, b, c, d, x, y) => Some(
                    Extent::point(a, b)
                        .with(Extent::point(c, d))
                        .with(Extent::point(x, y)),
                ),
                Step::Close => None,
            })
            .reduce(Extent::with),
        Shape::Circle { x, y, r } => Some(Extent {
            left: x - r,
            top: y - r,
            right: x + r,
            bottom: y + r,
        }),
        Shape::Text {
            x,
            y,
            anchor,
            face,
            size,
            text: words,
        } => {
            if words.trim().is_empty() {
                return None;
            }
            let width = text::width(words, *face, *size);
            let left = match anchor {
                Anchor::Start => *x,
                Anchor::Middle => x - width / 2.0,
                Anchor::End => x - width,
            };
            // What hangs, reaches less far than a line's own room.
            Some(Extent {
                left,
                top: y - 0.76 * size,
                right: left + width,
                bottom: y + 0.2 * size,
            })
        }
    }
}

fn words(placed: &Placed) -> Option<&str> {
    match &placed.shape {
        Shape::Text { text, .. } => Some(text),
        Shape::Path(_) | Shape::Circle { .. } => None,
    }
}

/// Each pair of texts that overlap.
#[must_use]
pub fn overlaps(picture: &Picture) -> Vec<String> {
    let mut texts: Vec<(&str, Extent)> = picture
        .placed
        .iter()
        .filter_map(|placed| Some((words(placed)?, extent(placed)?)))
        .collect();
    // From the top, so that one need only be held against those that begin above its foot.
    texts.sort_by(|one, other| one.1.top.total_cmp(&other.1.top));
    let mut faults = Vec::new();
    for (at, (one, here)) in texts.iter().enumerate() {
        let beside = texts[at + 1..]
            .iter()
            .take_while(|(_, there)| there.top < here.bottom);
        for (other, there) in beside {
            if here.meets(*there, SLACK) {
                faults.push(format!(
                    "`{one}` at {:.0}, {:.0} overlaps `{other}` at {:.0}, {:.0}",
                    here.left, here.bottom, there.left, there.bottom
                ));
            }
        }
    }
    faults
}

/// Each primitive that reaches out of the picture, as far as it leaves a trace on paper.
#[must_use]
pub fn cut_off(picture: &Picture) -> Vec<String> {
    let whole = Extent {
        left: 0.0,
        top: 0.0,
        right: picture.width,
        bottom: picture.height,
    };
    out_of(picture, whole)
}

/// Each primitive that reaches out of a box, as far as it leaves a trace on paper.
#[must_use]
pub fn out_of(picture: &Picture, outer: Extent) -> Vec<String> {
    let shown = picture
        .placed
        .iter()
        .filter(|placed| ink::of(placed.class).shows());
    shown
        .filter_map(|placed| Some((placed, extent(placed)?)))
        .filter(|(_, here)| !here.within(outer, SLACK))
        .map(|(placed, here)| {
            let what = words(placed).map_or_else(
                || format!("{:?}", placed.class),
                |words| format!("`{words}`"),
            );
            format!(
                "{what} reaches from {:.1}, {:.1} to {:.1}, {:.1}: out of {:.1} by {:.1}",
                here.left,
                here.top,
                here.right,
                here.bottom,
                outer.right - outer.left,
                outer.bottom - outer.top
            )
        })
        .collect()
}

/// Each sign that no font of ours holds, with the text it stands in.
#[must_use]
pub fn missing(picture: &Picture) -> Vec<String> {
    picture
        .placed
        .iter()
        .filter_map(words)
        .flat_map(|words| {
            text::missing(words)
                .into_iter()
                .map(move |sign| format!("no sign for {sign:?} in `{words}`"))
        })
        .collect()
}
