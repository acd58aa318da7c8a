//! The deepest point of a segment in the solid behind a surface, by branch and bound.

use super::behind::Side;
use super::tree::{Hit, Tree};
use crate::Vec3;

/// How exactly the depth is found, in m.
const FINE: f64 = 1e-7;

/// Most points looked at; far more than walls, corners and bars need.
const MOST: usize = 2000;

#[derive(Clone, Copy)]
struct Point {
    at: Vec3,
    hit: Hit,
    behind: bool,
}

#[derive(Clone, Copy)]
struct Piece {
    from: Point,
    to: Point,
    // No point of the piece is farther from the surface.
    most: f64,
}

impl Piece {
    /// A distance rises by no more than the way, and the distance to any one triangle is greatest at
    /// one of the ends, as it is convex along the piece.
    fn new(tree: &Tree, from: Point, to: Point) -> Self {
        let long = from.at.distance(to.at);
        let mut most = 0.5 * (from.hit.distance + to.hit.distance + long);
        for (here, there) in [(from, to), (to, from)] {
            if let Some(triangle) = tree.triangles().get(here.hit.triangle as usize) {
                let far = triangle.nearest_to(there.at).distance(there.at);
                most = most.min(far.max(here.hit.distance));
            }
        }
        Self { from, to, most }
    }

    /// Whether it lies before the surface from end to end: neither end reaches across.
    fn free(&self) -> bool {
        !self.from.behind
            && !self.to.behind
            && self.from.hit.distance + self.to.hit.distance >= self.from.at.distance(self.to.at)
    }
}

/// The point of the segment `a`–`b` that lies farthest from the surface among those behind it.
/// `None` where no point is.
pub(super) fn deepest(tree: &Tree, side: &Side, a: Vec3, b: Vec3) -> Option<Hit> {
    let look = |at: Vec3| {
        Some(Point {
            at,
            hit: tree.nearest(at, at, f64::INFINITY)?,
            behind: side.behind(tree, at),
        })
    };
    let (from, to) = (look(a)?, look(b)?);
    let mut best: Option<Hit> = None;
    let offer = |best: &mut Option<Hit>, point: Point| {
        if point.behind && best.is_none_or(|best| point.hit.distance > best.distance) {
            *best = Some(point.hit);
        }
    };
    offer(&mut best, from);
    offer(&mut best, to);
    let mut pieces = vec![Piece::new(tree, from, to)];
    for _ in 0..MOST {
        let deep = best.map_or(0.0, |best| best.distance);
        pieces.retain(|piece| piece.most > deep + FINE && !piece.free());
        let next = (0..pieces.len()).max_by(|x, y| {
            let most = |k: &usize| pieces.get(*k).map_or(0.0, |piece| piece.most);
            most(x).total_cmp(&most(y))
        });
        let Some(next) = next else {
            break;
        };
        let piece = pieces.swap_remove(next);
        if piece.from.at.distance(piece.to.at) < FINE {
            continue;
        }
        let middle = look((piece.from.at + piece.to.at) * 0.5)?;
        offer(&mut best, middle);
        pieces.push(Piece::new(tree, piece.from, middle));
        pieces.push(Piece::new(tree, middle, piece.to));
    }
    best
}
