//! Where a label finds room in a view: clear of other labels and of the hose.

use super::super::check::Extent;
use super::board::P;
use super::outline::{Window, from_segment};

/// What is taken in one view.
#[derive(Debug)]
pub(super) struct Room {
    pub(super) window: Window,
    labels: Vec<Extent>,
    /// Tubes: line and half width.
    tubes: Vec<(Vec<P>, f64)>,
}

/// How far round a place a label is looked for, and in how many directions.
const RINGS: [f64; 9] = [3.0, 4.5, 6.0, 8.0, 10.0, 13.0, 17.0, 22.0, 28.0];
const WAYS: u8 = 24;

impl Room {
    pub(super) fn within(window: Window) -> Room {
        Room {
            window,
            labels: Vec::new(),
            tubes: Vec::new(),
        }
    }

    pub(super) fn take(&mut self, label: Extent) {
        self.labels.push(label);
    }

    pub(super) fn take_tube(&mut self, line: Vec<P>, half: f64) {
        self.tubes.push((line, half));
    }

    /// Whether a label may stand so.
    pub(super) fn is_free(&self, label: Extent) -> bool {
        let own = Extent {
            left: self.window.left,
            top: self.window.top,
            right: self.window.right,
            bottom: self.window.bottom,
        };
        label.within(own, -0.6)
            && !self.labels.iter().any(|taken| label.meets(*taken, -0.5))
            && !self.tubes.iter().any(|(line, half)| {
                line.windows(2).any(|pair| match pair {
                    [a, b] => near(*a, *b, label) < *half + 0.4,
                    _ => false,
                })
            })
    }

    /// The middle of a label `wide` by `high` near a place, as near as may be; `None` where there is no room.
    pub(super) fn near(&self, (x, y): P, (wide, high): P) -> Option<P> {
        let step = std::f64::consts::TAU / f64::from(WAYS);
        let mut places = RINGS.iter().flat_map(|ring| {
            (0..WAYS).map(move |way| {
                // From the upper right round.
                let (sin, cos) = ((f64::from(way) + 0.5) * step - 0.785).sin_cos();
                (x + (ring + wide / 2.0) * cos, y + (ring + high / 2.0) * sin)
            })
        });
        places.find(|middle| self.is_free(around(*middle, (wide, high))))
    }

    /// The middle of a label somewhere in a box, as near to the middle of the box as may be.
    /// Only where `fits` says so of the middle.
    pub(super) fn inside(
        &self,
        within: Extent,
        (wide, high): P,
        fits: impl Fn(P) -> bool,
    ) -> Option<P> {
        let middle = (
            (within.left + within.right) / 2.0,
            (within.top + within.bottom) / 2.0,
        );
        let half = (
            (within.right - within.left - wide) / 2.0 - 0.8,
            (within.bottom - within.top - high) / 2.0 - 0.8,
        );
        if half.0 < 0.0 || half.1 < 0.0 {
            return None;
        }
        let shares = [0.0, -0.25, 0.25, -0.5, 0.5, -0.75, 0.75, -1.0, 1.0];
        let mut places: Vec<P> = shares
            .iter()
            .flat_map(|down| shares.map(|along| (along * half.0, down * half.1)))
            .collect();
        places.sort_by(|one, other| one.0.hypot(one.1).total_cmp(&other.0.hypot(other.1)));
        places
            .into_iter()
            .map(|(dx, dy)| (middle.0 + dx, middle.1 + dy))
            .find(|middle| fits(*middle) && self.is_free(around(*middle, (wide, high))))
    }
}

/// The box about a middle.
pub(super) fn around((x, y): P, (wide, high): P) -> Extent {
    Extent {
        left: x - wide / 2.0,
        top: y - high / 2.0,
        right: x + wide / 2.0,
        bottom: y + high / 2.0,
    }
}

/// How near a straight piece comes to a box; 0 where it goes through.
fn near(a: P, b: P, label: Extent) -> f64 {
    let window = Window {
        left: label.left,
        top: label.top,
        right: label.right,
        bottom: label.bottom,
    };
    if window.cut(a, b).is_some() || window.holds(a) {
        return 0.0;
    }
    let corners = [
        (label.left, label.top),
        (label.right, label.top),
        (label.right, label.bottom),
        (label.left, label.bottom),
    ];
    let by_corner = corners
        .iter()
        .map(|corner| from_segment(*corner, a, b))
        .fold(f64::INFINITY, f64::min);
    let by_end = [a, b]
        .iter()
        .map(|(x, y)| {
            let dx = (label.left - x).max(x - label.right).max(0.0);
            let dy = (label.top - y).max(y - label.bottom).max(0.0);
            dx.hypot(dy)
        })
        .fold(f64::INFINITY, f64::min);
    by_corner.min(by_end)
}
