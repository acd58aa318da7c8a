//! What lies in the shade of a part that was seen from outside. The winding of what was seen falls
//! off towards what was not: half of it holds a film over the hole, and a thing of which a third is
//! missing would be free on the near side of that film. So within the flat sides about such a part
//! everything is solid that sees more of its back than of its front.

use super::tree::Tree;
use super::triangle::Triangle;
use super::winding::{Winding, mean};
use crate::Vec3;

/// A part whose mean winding is above this is seen from outside; where it winds by more, its back is
/// what is seen of it. More than what the far parts of a winding may be off.
pub(crate) const SEEN: f64 = 0.05;

/// Most directions in which a part is measured.
const MOST: usize = 32;

/// Ways apart by less than this cosine's angle are one.
const ALIKE: f64 = 0.97;

/// One part with the flat sides about it.
#[derive(Debug)]
pub(crate) struct Shade {
    // None where the part is all of the surface.
    own: Option<(Tree, Winding)>,
    // Unit vectors, and between where the part lies along them.
    slabs: Vec<(Vec3, f64, f64)>,
}

/// How a cell lies to the flat sides.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Lies {
    Within,
    Across,
    Outside,
}

impl Shade {
    /// The shade of a part with a tree of its own, if it was seen from outside.
    pub(crate) fn of_part(triangles: &[Triangle]) -> Option<Self> {
        let slabs = slabs(triangles)?;
        let tree = Tree::new(triangles);
        let winding = Winding::new(&tree);
        (mean(&tree, &winding) > SEEN).then_some(Self {
            own: Some((tree, winding)),
            slabs,
        })
    }

    /// The same of the only part there is.
    pub(crate) fn of_whole(triangles: &[Triangle], mean: f64) -> Option<Self> {
        let slabs = (mean > SEEN).then(|| slabs(triangles))??;
        Some(Self { own: None, slabs })
    }

    /// By how much its back is seen from `p`, given the winding of the whole surface there.
    pub(crate) fn over(&self, p: Vec3, whole: f64) -> f64 {
        let winding = match &self.own {
            Some((tree, winding)) => winding.at(tree, p, None),
            None => whole,
        };
        winding - SEEN
    }

    /// How a ball lies to its flat sides; a point is one without radius.
    pub(crate) fn lies(&self, middle: Vec3, radius: f64) -> Lies {
        let mut lies = Lies::Within;
        for (way, low, high) in &self.slabs {
            let along = way.dot(middle);
            if along + radius < *low || along - radius > *high {
                return Lies::Outside;
            }
            if along - radius < *low || along + radius > *high {
                lies = Lies::Across;
            }
        }
        lies
    }
}

/// The flat sides about triangles: square to the faces, and to two of them for a side where none
/// was seen. `None` where all of them face one way.
fn slabs(triangles: &[Triangle]) -> Option<Vec<(Vec3, f64, f64)>> {
    const SAMPLES: usize = 512;
    let step = triangles.len().div_ceil(SAMPLES).max(1);
    let mut ways: Vec<Vec3> = Vec::new();
    let differs = |ways: &[Vec3], way: Vec3| ways.iter().all(|of| of.dot(way).abs() < ALIKE);
    for triangle in triangles.iter().step_by(step) {
        if let Some(way) = triangle.twice_area().try_normalize()
            && ways.len() < MOST
            && differs(&ways, way)
        {
            ways.push(way);
        }
    }
    let first = *ways.first()?;
    // The way most nearly square to the first gives the third side.
    let square = |way: &&Vec3| way.dot(first).abs();
    let second = *ways
        .iter()
        .skip(1)
        .min_by(|x, y| square(x).total_cmp(&square(y)))?;
    let third = first.cross(second).try_normalize()?;
    if differs(&ways, third) {
        ways.push(third);
    }
    let measured = ways.into_iter().map(|way| {
        let along = triangles.iter().flat_map(|triangle| {
            let [a, b, c] = triangle.corners();
            [a.dot(way), b.dot(way), c.dot(way)]
        });
        let (low, high) = along.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| {
            (low.min(x), high.max(x))
        });
        (way, low, high)
    });
    Some(measured.collect())
}
