//! Bodies as one sees them: their edges and outlines without what is hidden, and the hatch of keep-outs.

use std::collections::BTreeMap;

use reckon::{LaidBody, Place};

use super::board::P;
use super::look::Look;
use super::outline::Window;

/// A place as it lies on the paper, and how near it is [m].
pub(super) type Spot = (P, f64);

/// From the bay to the paper of one view.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sight {
    pub(super) look: Look,
    pub(super) window: Window,
    /// What stands in the middle of the window, right and up [m].
    pub(super) middle: P,
    /// Millimetres of paper a metre.
    pub(super) scale: f64,
}

impl Sight {
    pub(super) fn spot(&self, place: Place) -> Spot {
        let [right, up, near] = self.look.at(place);
        let window = &self.window;
        let x = (window.left + window.right) / 2.0 + (right - self.middle.0) * self.scale;
        let y = (window.top + window.bottom) / 2.0 - (up - self.middle.1) * self.scale;
        ((x, y), near)
    }

    pub(super) fn at(&self, place: Place) -> P {
        self.spot(place).0
    }
}

/// How much nearer something must be to hide [m].
const SLACK: f64 = 0.0015;
/// How densely a line is looked at [mm of paper].
const STEP: f64 = 0.6;
/// Side of a cell of the table of triangles [mm of paper].
const CELL: f64 = 5.0;
/// Two corners nearer than this are one [m].
const WELD: f64 = 1e-5;

/// What hides.
#[derive(Debug)]
pub(super) struct Hiders {
    /// Each with the number of its body.
    triangles: Vec<(usize, [Spot; 3])>,
    cells: BTreeMap<(i32, i32), Vec<usize>>,
}

impl Hiders {
    /// The faces of bodies that hide what is behind them: all but the hull, through which one looks.
    pub(super) fn of(bodies: &[&LaidBody], sight: &Sight) -> Hiders {
        let mut hiders = Hiders {
            triangles: Vec::new(),
            cells: BTreeMap::new(),
        };
        let solid = bodies.iter().enumerate();
        for (number, body) in solid.filter(|(_, body)| body.nature != "hull") {
            for triangle in faces(body, sight) {
                hiders.add(number, triangle, &sight.window);
            }
        }
        hiders
    }

    fn add(&mut self, body: usize, triangle: [Spot; 3], window: &Window) {
        let xs = triangle.map(|(p, _)| p.0);
        let ys = triangle.map(|(p, _)| p.1);
        let least = |of: [f64; 3]| of.into_iter().fold(f64::INFINITY, f64::min);
        let most = |of: [f64; 3]| of.into_iter().fold(f64::NEG_INFINITY, f64::max);
        let (left, right) = (least(xs).max(window.left), most(xs).min(window.right));
        let (top, bottom) = (least(ys).max(window.top), most(ys).min(window.bottom));
        if left > right || top > bottom {
            return;
        }
        let number = self.triangles.len();
        self.triangles.push((body, triangle));
        let (from, to) = (cell((left, top)), cell((right, bottom)));
        for column in from.0..=to.0 {
            for row in from.1..=to.1 {
                self.cells.entry((column, row)).or_default().push(number);
            }
        }
    }

    /// Whether nothing stands before a spot.
    pub(super) fn shows(&self, (p, near): Spot) -> bool {
        let Some(over) = self.cells.get(&cell(p)) else {
            return true;
        };
        !over
            .iter()
            .filter_map(|number| self.triangles.get(*number))
            .any(|(_, triangle)| depth(triangle, p).is_some_and(|depth| depth > near + SLACK))
    }

    /// Which body one sees at a place of the paper, by its number; `None` where none of those that hide.
    pub(super) fn owner(&self, p: P) -> Option<usize> {
        let over = self.cells.get(&cell(p))?;
        over.iter()
            .filter_map(|number| self.triangles.get(*number))
            .filter_map(|(body, triangle)| Some((*body, depth(triangle, p)?)))
            .max_by(|one, other| one.1.total_cmp(&other.1))
            .map(|(body, _)| body)
    }

    /// The parts of a straight line that are within the window and seen, as shares of its length.
    pub(super) fn seen(&self, a: Spot, b: Spot, window: &Window) -> Vec<(f64, f64)> {
        let Some((from, to)) = window.cut(a.0, b.0) else {
            return Vec::new();
        };
        let at = |t: f64| {
            let mix = |a: f64, b: f64| a + t * (b - a);
            ((mix(a.0.0, b.0.0), mix(a.0.1, b.0.1)), mix(a.1, b.1))
        };
        let long = (b.0.0 - a.0.0).hypot(b.0.1 - a.0.1) * (to - from);
        // OK because a page is some hundred steps wide.
        let steps = (long / STEP).ceil().clamp(1.0, 2000.0) as u32;
        let share = |n: u32| from + (to - from) * (f64::from(n) + 0.5) / f64::from(steps);
        let edge = |mut shown: f64, mut hidden: f64| {
            for _ in 0..7 {
                let middle = (shown + hidden) / 2.0;
                if self.shows(at(middle)) {
                    shown = middle;
                } else {
                    hidden = middle;
                }
            }
            shown
        };
        let mut parts = Vec::new();
        let mut begun: Option<f64> = None;
        let mut before: Option<(f64, bool)> = None;
        for n in 0..steps {
            let t = share(n);
            let shows = self.shows(at(t));
            match (before, shows, begun) {
                (None, true, _) => begun = Some(from),
                (Some((last, false)), true, _) => begun = Some(edge(t, last)),
                (Some((last, true)), false, Some(start)) => {
                    parts.push((start, edge(last, t)));
                    begun = None;
                }
                _ => {}
            }
            before = Some((t, shows));
        }
        parts.extend(begun.map(|start| (start, to)));
        parts
    }

    /// The same parts as lines on the paper.
    pub(super) fn lines(&self, a: Spot, b: Spot, window: &Window) -> Vec<Vec<P>> {
        let at = |t: f64| (a.0.0 + t * (b.0.0 - a.0.0), a.0.1 + t * (b.0.1 - a.0.1));
        let parts = self.seen(a, b, window).into_iter();
        parts
            .map(|(from, to)| vec![at(from), at(to)])
            .filter(|line| match line.as_slice() {
                [a, b] => (a.0 - b.0).hypot(a.1 - b.1) > 0.2,
                _ => false,
            })
            .collect()
    }
}

fn cell((x, y): P) -> (i32, i32) {
    // OK because places on paper are a few hundred millimetres.
    ((x / CELL).floor() as i32, (y / CELL).floor() as i32)
}

/// How near a triangle is at a place of the paper; `None` beside it.
fn depth(triangle: &[Spot; 3], p: P) -> Option<f64> {
    let [(a, da), (b, db), (c, dc)] = triangle;
    let area = (b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0);
    // One that is seen on its edge hides nothing.
    if area.abs() < 1e-6 {
        return None;
    }
    let u = ((p.0 - a.0) * (c.1 - a.1) - (p.1 - a.1) * (c.0 - a.0)) / area;
    let v = ((b.0 - a.0) * (p.1 - a.1) - (b.1 - a.1) * (p.0 - a.0)) / area;
    let inside = u > 1e-6 && v > 1e-6 && u + v < 1.0 - 1e-6;
    inside.then(|| da + u * (db - da) + v * (dc - da))
}

/// The faces of a body on the paper.
fn faces(body: &LaidBody, sight: &Sight) -> Vec<[Spot; 3]> {
    let spots: Vec<Spot> = body.points.iter().map(|point| sight.spot(*point)).collect();
    let get = |at: u32| spots.get(at as usize).copied();
    let faces = body.triangles.iter();
    faces
        .filter_map(|[a, b, c]| Some([get(*a)?, get(*b)?, get(*c)?]))
        .collect()
}

/// The lines of a body: its sharp edges, and where its surface turns away.
pub(super) fn edges(body: &LaidBody, sight: &Sight) -> Vec<(Spot, Spot)> {
    let key = |place: &Place| place.map(|along| (along / WELD).round() as i64);
    // Corners that are one, whatever their numbers.
    let mut first: BTreeMap<[i64; 3], u32> = BTreeMap::new();
    let mut welded = Vec::with_capacity(body.points.len());
    for (at, point) in body.points.iter().enumerate() {
        // OK because corners are numbered in 32 bits.
        welded.push(*first.entry(key(point)).or_insert(at as u32));
    }
    let weld = |at: u32| welded.get(at as usize).copied();
    let pair = |a: u32, b: u32| if a < b { (a, b) } else { (b, a) };
    let mut lines: BTreeMap<(u32, u32), ()> = BTreeMap::new();
    for [a, b] in &body.edges {
        if let (Some(a), Some(b)) = (weld(*a), weld(*b)) {
            lines.insert(pair(a, b), ());
        }
    }
    // The way each side of an edge faces.
    let mut sides: BTreeMap<(u32, u32), Vec<f64>> = BTreeMap::new();
    for [a, b, c] in &body.triangles {
        let (Some(a), Some(b), Some(c)) = (weld(*a), weld(*b), weld(*c)) else {
            continue;
        };
        let at = |n: u32| body.points.get(n as usize).map(|point| sight.at(*point));
        let (Some(p), Some(q), Some(r)) = (at(a), at(b), at(c)) else {
            continue;
        };
        let area = (q.0 - p.0) * (r.1 - p.1) - (q.1 - p.1) * (r.0 - p.0);
        for (from, to) in [(a, b), (b, c), (c, a)] {
            sides.entry(pair(from, to)).or_default().push(area);
        }
    }
    for (edge, areas) in sides {
        let turns = match areas.as_slice() {
            [one, other] => (*one > 1e-9) != (*other > 1e-9),
            [_] => true,
            _ => false,
        };
        if turns {
            lines.insert(edge, ());
        }
    }
    let spot = |n: u32| body.points.get(n as usize).map(|point| sight.spot(*point));
    lines
        .into_keys()
        .filter(|(a, b)| a != b)
        .filter_map(|(a, b)| Some((spot(a)?, spot(b)?)))
        .collect()
}

/// Hatch on what is seen of a body, falling or rising lines `apart` from each other.
pub(super) fn hatch(body: &LaidBody, sight: &Sight, hiders: &Hiders, apart: f64) -> Vec<Vec<P>> {
    let half = std::f64::consts::FRAC_1_SQRT_2;
    // Along and across lines that rise to the right.
    let turn = |(x, y): P| ((x - y) * half, (x + y) * half);
    let back = |(s, t): P| ((s + t) * half, (t - s) * half);
    let mut rows: BTreeMap<i64, Vec<(f64, f64)>> = BTreeMap::new();
    for triangle in faces(body, sight) {
        let corners = triangle.map(|(p, near)| (turn(p), near));
        let levels = corners.map(|(p, _)| p.1 / apart);
        let low = levels.into_iter().fold(f64::INFINITY, f64::min).ceil();
        let high = levels.into_iter().fold(f64::NEG_INFINITY, f64::max).floor();
        if !(low.is_finite() && high.is_finite()) || high - low > 4000.0 {
            continue;
        }
        let mut row = low as i64;
        while row as f64 <= high {
            // Off the round places, where corners like to lie.
            let level = (row as f64 + 0.013) * apart;
            let mut cuts: Vec<Spot> = Vec::new();
            let next = corners.iter().cycle().skip(1);
            for (a, b) in corners.iter().zip(next) {
                if (a.0.1 <= level) != (b.0.1 <= level) {
                    let t = (level - a.0.1) / (b.0.1 - a.0.1);
                    let along = a.0.0 + t * (b.0.0 - a.0.0);
                    cuts.push((back((along, level)), a.1 + t * (b.1 - a.1)));
                }
            }
            if let [a, b] = cuts.as_slice() {
                for (from, to) in hiders.seen(*a, *b, &sight.window) {
                    let at =
                        |t: f64| turn((a.0.0 + t * (b.0.0 - a.0.0), a.0.1 + t * (b.0.1 - a.0.1))).0;
                    let (one, other) = (at(from), at(to));
                    rows.entry(row)
                        .or_default()
                        .push((one.min(other), one.max(other)));
                }
            }
            row += 1;
        }
    }
    let mut lines = Vec::new();
    for (row, mut parts) in rows {
        parts.sort_by(|one, other| one.0.total_cmp(&other.0));
        let level = (row as f64 + 0.013) * apart;
        let mut whole: Vec<(f64, f64)> = Vec::new();
        for part in parts {
            match whole.last_mut() {
                Some(last) if part.0 <= last.1 + 0.1 => last.1 = last.1.max(part.1),
                _ => whole.push(part),
            }
        }
        for (from, to) in whole {
            if to - from > 0.3 {
                lines.push(vec![back((from, level)), back((to, level))]);
            }
        }
    }
    lines
}
