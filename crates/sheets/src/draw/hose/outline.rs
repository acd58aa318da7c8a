//! A hose as seen on paper: the two edges of its shadow, as figures to be filled.

use super::board::P;

/// A bend tighter than so many half widths is helped out by a disc at its corner.
const TIGHT: f64 = 1.2;
/// Corners of such a disc.
const CORNERS: u8 = 24;

/// The points of a line that are needed: none left out lies further than `slack` from what is kept.
pub(super) fn simple(line: &[P], slack: f64) -> Vec<P> {
    let (Some(first), Some(last)) = (line.first(), line.last()) else {
        return Vec::new();
    };
    if line.len() < 3 {
        return line.to_vec();
    }
    let off = |p: &P| from_segment(*p, *first, *last);
    let farthest = line
        .iter()
        .enumerate()
        .max_by(|one, other| off(one.1).total_cmp(&off(other.1)));
    match farthest {
        Some((at, point)) if off(point) > slack && at > 0 && at + 1 < line.len() => {
            let mut kept = simple(line.get(..=at).unwrap_or_default(), slack);
            kept.pop();
            kept.extend(simple(line.get(at..).unwrap_or_default(), slack));
            kept
        }
        _ => vec![*first, *last],
    }
}

/// How far a point lies from a straight piece.
pub(super) fn from_segment(p: P, a: P, b: P) -> f64 {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let square = dx * dx + dy * dy;
    let t = if square > 0.0 {
        (((p.0 - a.0) * dx + (p.1 - a.1) * dy) / square).clamp(0.0, 1.0)
    } else {
        0.0
    };
    (p.0 - a.0 - t * dx).hypot(p.1 - a.1 - t * dy)
}

/// What a tube of half width `half` along a line covers, as figures all turned the same way: to be filled together.
pub(super) fn tube(line: &[P], half: f64) -> Vec<Vec<P>> {
    let line = distinct(line);
    let (Some(first), Some(last)) = (line.first(), line.last()) else {
        return Vec::new();
    };
    if line.len() < 2 {
        return vec![disc(*first, half)];
    }
    let ways: Vec<P> = line
        .windows(2)
        .filter_map(|pair| match pair {
            [a, b] => {
                let long = (b.0 - a.0).hypot(b.1 - a.1);
                Some(((b.0 - a.0) / long, (b.1 - a.1) / long))
            }
            _ => None,
        })
        .collect();
    let mut left = Vec::new();
    let mut right = Vec::new();
    let mut discs = Vec::new();
    for (at, point) in line.iter().enumerate() {
        let before = at.checked_sub(1).and_then(|at| ways.get(at));
        let after = ways.get(at);
        let (Some(one), Some(other)) = (before.or(after), after.or(before)) else {
            continue;
        };
        let (sx, sy) = (one.0 + other.0, one.1 + other.1);
        let long = sx.hypot(sy);
        // Half the turn: its cosine is half the sum's length.
        let cos = long / 2.0;
        if cos < 0.5 {
            // A corner too sharp for one edge: both pieces end here, a disc covers it.
            for way in [one, other] {
                left.push((point.0 - way.1 * half, point.1 + way.0 * half));
                right.push((point.0 + way.1 * half, point.1 - way.0 * half));
            }
            discs.push(disc(*point, half));
            continue;
        }
        let (nx, ny) = (-sy / long * half / cos, sx / long * half / cos);
        left.push((point.0 + nx, point.1 + ny));
        right.push((point.0 - nx, point.1 - ny));
        if bends_tightly(&line, at, half) {
            discs.push(disc(*point, half));
        }
    }
    right.reverse();
    left.extend(right);
    let mut figures = vec![turned(left)];
    // A tube that comes straight at the reader shows its end.
    let short = |a: &P, b: &P| (a.0 - b.0).hypot(a.1 - b.1) < 0.2 * half;
    if short(first, last) {
        figures.push(disc(*first, half));
    }
    figures.extend(discs);
    figures
}

/// Whether the line turns so tightly at a corner that its inner edge folds back.
fn bends_tightly(line: &[P], at: usize, half: f64) -> bool {
    let around = at.checked_sub(1).and_then(|from| line.get(from..=at + 1));
    let Some([a, b, c]) = around else {
        return false;
    };
    let (one, other) = ((b.0 - a.0, b.1 - a.1), (c.0 - b.0, c.1 - b.1));
    let turn = (one.0 * other.1 - one.1 * other.0)
        .atan2(one.0 * other.0 + one.1 * other.1)
        .abs();
    let along = (one.0.hypot(one.1)).min(other.0.hypot(other.1));
    turn > 1e-3 && along < TIGHT * half * turn
}

/// A line without the points that lie on their neighbour.
fn distinct(line: &[P]) -> Vec<P> {
    let mut kept: Vec<P> = Vec::with_capacity(line.len());
    for point in line {
        let near = kept
            .last()
            .is_some_and(|last| (last.0 - point.0).hypot(last.1 - point.1) < 1e-3);
        if !near {
            kept.push(*point);
        }
    }
    kept
}

/// A disc as a figure, turned as all of them.
fn disc((x, y): P, r: f64) -> Vec<P> {
    let step = std::f64::consts::TAU / f64::from(CORNERS);
    (0..CORNERS)
        .map(|n| {
            let (sin, cos) = (f64::from(n) * step).sin_cos();
            (x + r * cos, y + r * sin)
        })
        .collect()
}

/// The same figure, turned so that its area is above 0.
fn turned(mut figure: Vec<P>) -> Vec<P> {
    let next = figure.iter().cycle().skip(1);
    let area: f64 = figure
        .iter()
        .zip(next)
        .map(|(a, b)| a.0 * b.1 - a.1 * b.0)
        .sum();
    if area < 0.0 {
        figure.reverse();
    }
    figure
}

/// An upright window on the paper.
#[derive(Clone, Copy, Debug)]
pub(super) struct Window {
    pub(super) left: f64,
    pub(super) top: f64,
    pub(super) right: f64,
    pub(super) bottom: f64,
}

impl Window {
    pub(super) fn holds(&self, (x, y): P) -> bool {
        x >= self.left && x <= self.right && y >= self.top && y <= self.bottom
    }

    pub(super) fn grown(&self, by: f64) -> Window {
        Window {
            left: self.left - by,
            top: self.top - by,
            right: self.right + by,
            bottom: self.bottom + by,
        }
    }

    /// Which part of a straight piece lies within, as shares of its length.
    pub(super) fn cut(&self, a: P, b: P) -> Option<(f64, f64)> {
        let (dx, dy) = (b.0 - a.0, b.1 - a.1);
        let mut part = (0.0_f64, 1.0_f64);
        let edges = [
            (-dx, a.0 - self.left),
            (dx, self.right - a.0),
            (-dy, a.1 - self.top),
            (dy, self.bottom - a.1),
        ];
        for (way, room) in edges {
            if way.abs() < 1e-12 {
                if room < 0.0 {
                    return None;
                }
                continue;
            }
            let t = room / way;
            if way < 0.0 {
                part.0 = part.0.max(t);
            } else {
                part.1 = part.1.min(t);
            }
        }
        (part.0 < part.1).then_some(part)
    }

    /// What of a figure lies within.
    pub(super) fn clipped(&self, figure: &[P]) -> Vec<P> {
        type Inside = fn(&Window, P) -> f64;
        let sides: [Inside; 4] = [
            |w, p| p.0 - w.left,
            |w, p| w.right - p.0,
            |w, p| p.1 - w.top,
            |w, p| w.bottom - p.1,
        ];
        let mut figure = figure.to_vec();
        for side in sides {
            let mut kept = Vec::with_capacity(figure.len());
            let before = figure.iter().rev().take(1).chain(&figure);
            for (a, b) in before.zip(&figure) {
                let (from, to) = (side(self, *a), side(self, *b));
                if (from < 0.0) != (to < 0.0) {
                    let t = from / (from - to);
                    kept.push((a.0 + t * (b.0 - a.0), a.1 + t * (b.1 - a.1)));
                }
                if to >= 0.0 {
                    kept.push(*b);
                }
            }
            figure = kept;
        }
        figure
    }
}

/// Straight pieces joined where one begins at the end of the one before it.
pub(super) fn joined(lines: Vec<Vec<P>>) -> Vec<Vec<P>> {
    let mut all: Vec<Vec<P>> = Vec::new();
    for line in lines {
        let meets = match (all.last().and_then(|before| before.last()), line.first()) {
            (Some(end), Some(start)) => (end.0 - start.0).hypot(end.1 - start.1) < 0.02,
            _ => false,
        };
        match all.last_mut() {
            Some(before) if meets => before.extend(line.into_iter().skip(1)),
            _ => all.push(line),
        }
    }
    all
}
