//! Room for words: what stands already, and the first place where a text meets none of it.

use super::EDGE;
use super::place::{Plan, Rect};

/// Directions in which one looks for room, level ones first.
const ROUND: [(f64, f64); 12] = [
    (0.0, -0.7),
    (0.0, 0.7),
    (1.0, 0.0),
    (-1.0, 0.0),
    (0.7, -0.5),
    (-0.7, -0.5),
    (0.7, 0.5),
    (-0.7, 0.5),
    (0.9, -0.25),
    (-0.9, -0.25),
    (0.9, 0.25),
    (-0.9, 0.25),
];

/// What is taken.
pub(super) struct Room {
    bounds: Rect,
    /// Boxes, signs and words: nothing is set over them.
    hard: Vec<Rect>,
    /// Lines: a text over one would have to break it.
    lines: Vec<(usize, Rect)>,
}

impl Room {
    pub(super) fn of(plan: &Plan, floor: f64) -> Room {
        Room {
            bounds: Rect::new(EDGE / 2.0, EDGE / 2.0, plan.width - EDGE, floor - EDGE),
            hard: Vec::new(),
            lines: Vec::new(),
        }
    }

    /// Takes a place for a box, a sign or a word.
    pub(super) fn take(&mut self, rect: Rect) {
        self.hard.push(rect);
    }

    /// Gives the place that was taken last back.
    pub(super) fn give(&mut self, rect: &Rect) {
        if self.hard.last() == Some(rect) {
            self.hard.pop();
        }
    }

    /// Takes the way of a line.
    pub(super) fn line(&mut self, id: usize, points: &[(f64, f64)]) {
        for pair in points.windows(2) {
            let (a, b) = (pair[0], pair[1]);
            let (w, h) = ((a.0 - b.0).abs() + 5.0, (a.1 - b.1).abs() + 5.0);
            let own = Rect::new(a.0.min(b.0) - 2.5, a.1.min(b.1) - 2.5, w, h);
            self.lines.push((id, own));
        }
    }

    /// Whether nothing that is solid stands there.
    pub(super) fn free(&self, rect: &Rect) -> bool {
        let inside = rect.x >= self.bounds.x
            && rect.y >= self.bounds.y
            && rect.right() <= self.bounds.right()
            && rect.bottom() <= self.bounds.bottom();
        inside && !self.hard.iter().any(|own| own.meets(rect, 2.0))
    }

    /// Whether nothing at all stands there.
    pub(super) fn clear(&self, rect: &Rect) -> bool {
        self.clear_but(rect, None)
    }

    /// Whether nothing stands there but one line.
    pub(super) fn clear_but(&self, rect: &Rect, but: Option<usize>) -> bool {
        let met = |(id, own): &(usize, Rect)| Some(*id) != but && own.meets(rect, 0.5);
        self.free(rect) && !self.lines.iter().any(met)
    }

    /// Whether a leader from a place to a point runs over nothing that is solid.
    fn leads(&self, rect: &Rect, at: (f64, f64)) -> bool {
        points(rect, at).into_iter().all(|(x, y)| {
            let dot = Rect::round(x, y, 1.0, 1.0);
            !self.hard.iter().any(|own| own.meets(&dot, 1.0))
        })
    }

    /// Takes the way of a leader.
    pub(super) fn leader(&mut self, rect: &Rect, at: (f64, f64)) {
        for (x, y) in points(rect, at) {
            self.lines.push((usize::MAX, Rect::round(x, y, 4.0, 4.0)));
        }
    }

    /// The first of some places where nothing stands; it is taken.
    pub(super) fn first(&mut self, rects: impl IntoIterator<Item = Rect>) -> Option<Rect> {
        let found = rects.into_iter().find(|rect| self.clear(rect))?;
        self.take(found);
        Some(found)
    }

    /// The nearest place round a point where nothing stands, and to which a leader runs over nothing solid;
    /// it is taken.
    pub(super) fn led(&mut self, w: f64, h: f64, at: (f64, f64), most: i32) -> Option<Rect> {
        self.search(w, h, at, most, |room, rect| {
            room.clear(rect) && room.leads(rect, at)
        })
    }

    /// The nearest place round a point where nothing stands, else nothing but lines; it is taken.
    pub(super) fn near(&mut self, w: f64, h: f64, at: (f64, f64), most: i32) -> Option<Rect> {
        let clear = self.search(w, h, at, most, |room, rect| room.clear(rect));
        if clear.is_some() || most < 20 {
            return clear;
        }
        self.search(w, h, at, most, Self::free)
    }

    fn search(
        &mut self,
        w: f64,
        h: f64,
        at: (f64, f64),
        most: i32,
        open: impl Fn(&Self, &Rect) -> bool,
    ) -> Option<Rect> {
        for ring in 1..most {
            let r = f64::from(ring) * 6.0;
            for (dx, dy) in ROUND {
                let x = at.0 + (r + w / 2.0) * dx;
                let y = at.1 + (r + h / 2.0) * dy;
                let rect = Rect::round(x, y, w, h);
                if open(self, &rect) {
                    self.take(rect);
                    return Some(rect);
                }
            }
        }
        None
    }
}

/// Points along a leader, from the edge of a place to shortly before its point.
fn points(rect: &Rect, at: (f64, f64)) -> Vec<(f64, f64)> {
    let x = at.0.clamp(rect.x, rect.right());
    let y = at.1.clamp(rect.y, rect.bottom());
    let long = (x - at.0).abs().max((y - at.1).abs());
    let mut out = Vec::new();
    let mut done = 3.0;
    while done < long - 8.0 {
        let share = done / long;
        out.push((x + (at.0 - x) * share, y + (at.1 - y) * share));
        done += 3.0;
    }
    out
}
