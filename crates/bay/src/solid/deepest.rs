//! The deepest point of a segment in the solid behind a surface, by branch and bound.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

use super::behind::Side;
use super::tree::{Hit, Tree};
use crate::Vec3;

/// How exactly the depth is found, in m, and as a share of it.
const FINE: f64 = 1e-7;
const SHARE: f64 = 1e-4;

/// Most points looked at; far more than walls, corners and bars need.
const MOST: usize = 2000;

/// The deepest point of a segment.
#[derive(Debug, Clone, Copy)]
pub(super) struct Deepest {
    pub(super) hit: Hit,
    /// How deep it lies at most: by more than what is wanted where the looks did not suffice.
    pub(super) most: f64,
}

#[derive(Clone, Copy)]
struct Point {
    at: Vec3,
    hit: Hit,
    // Not asked where it is less deep than another.
    behind: Option<bool>,
}

#[derive(Clone, Copy)]
struct Piece {
    from: Point,
    to: Point,
    // No point of the piece is farther from the surface.
    most: f64,
}

impl PartialEq for Piece {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for Piece {}

impl PartialOrd for Piece {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Piece {
    fn cmp(&self, other: &Self) -> Ordering {
        self.most.total_cmp(&other.most)
    }
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
        self.from.behind == Some(false)
            && self.to.behind == Some(false)
            && self.from.hit.distance + self.to.hit.distance >= self.from.at.distance(self.to.at)
    }
}

/// A bound with more than what rounding may have taken from it.
fn reached(within: f64) -> f64 {
    within * (1.0 + 1e-9) + 1e-12
}

/// The point of the segment `a`–`b` that lies farthest from the surface among those behind it.
/// `None` where no point is.
pub(super) fn deepest(tree: &Tree, side: &Side, a: Vec3, b: Vec3) -> Option<Deepest> {
    let mut best: Option<Hit> = None;
    let look = |best: &mut Option<Hit>, at: Vec3, within: f64| {
        let hit = tree.nearest(at, at, within)?;
        let deeper = best.is_none_or(|best| hit.distance > best.distance);
        let behind = deeper.then(|| side.behind(tree, at));
        if behind == Some(true) {
            *best = Some(hit);
        }
        Some(Point { at, hit, behind })
    };
    let from = look(&mut best, a, f64::INFINITY)?;
    if a == b {
        return best.map(|hit| Deepest {
            hit,
            most: hit.distance,
        });
    }
    // The other end is no farther from the surface than this one and the way to it.
    let to = reached(from.hit.distance + a.distance(b));
    let to = look(&mut best, b, to)?;
    let mut pieces = BinaryHeap::from([Piece::new(tree, from, to)]);
    let mut capped = 0.0;
    for looks in 0..=MOST {
        let deep = best.map_or(0.0, |best| best.distance);
        let Some(piece) = pieces.pop() else {
            break;
        };
        if piece.most <= deep + FINE.max(SHARE * deep) {
            break;
        }
        if looks == MOST {
            capped = piece.most;
            break;
        }
        let long = piece.from.at.distance(piece.to.at);
        if piece.free() || long < FINE {
            continue;
        }
        // And so is the middle.
        let within = piece.from.hit.distance.min(piece.to.hit.distance) + 0.5 * long;
        let middle = (piece.from.at + piece.to.at) * 0.5;
        let middle = look(&mut best, middle, reached(within))?;
        pieces.push(Piece::new(tree, piece.from, middle));
        pieces.push(Piece::new(tree, middle, piece.to));
    }
    best.map(|hit| Deepest {
        hit,
        most: hit.distance.max(capped),
    })
}
