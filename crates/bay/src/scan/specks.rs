//! Parts that hang together, and taking out those too small to be things.

use super::Raw;
use crate::solid::{Bounds, root};

/// What was taken out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Specks {
    /// How many parts.
    pub parts: usize,
    /// Their triangles.
    pub triangles: usize,
    /// Diagonal of the box about the largest of them, in m; nothing where none was taken out.
    pub largest: f64,
    /// How many parts are left.
    pub left: usize,
}

/// Takes out the parts whose box has a diagonal under `least` m. Parts hang together by corners, so
/// the scan is to be welded before.
pub(super) fn remove(scan: Raw, least: f64) -> (Raw, Specks) {
    let mut of: Vec<u32> = (0..scan.corners.len() as u32).collect();
    for [a, b, c] in &scan.triangles {
        for (x, y) in [(*a, *b), (*b, *c)] {
            let (x, y) = (root(&mut of, x), root(&mut of, y));
            if let Some(place) = of.get_mut(x.max(y) as usize) {
                *place = x.min(y);
            }
        }
    }
    let mut boxes = vec![Bounds::EMPTY; scan.corners.len()];
    let roots: Vec<u32> = (0..scan.corners.len() as u32)
        .map(|name| root(&mut of, name))
        .collect();
    for (corner, root) in scan.corners.iter().zip(&roots) {
        if let Some(bounds) = boxes.get_mut(*root as usize) {
            *bounds = bounds.with(*corner);
        }
    }
    let size = |name: u32| {
        let root = roots.get(name as usize).copied().unwrap_or(name);
        let bounds = boxes.get(root as usize).copied().unwrap_or(Bounds::EMPTY);
        (bounds.high - bounds.low).length()
    };
    let mut specks = Specks {
        parts: 0,
        triangles: 0,
        largest: 0.0,
        left: 0,
    };
    for (name, root) in (0..).zip(&roots) {
        if name == *root {
            if size(name) < least {
                specks.parts += 1;
                specks.largest = specks.largest.max(size(name));
            } else {
                specks.left += 1;
            }
        }
    }
    if specks.parts == 0 {
        return (scan, specks);
    }
    let before = scan.triangles.len();
    let triangles: Vec<[u32; 3]> = scan
        .triangles
        .iter()
        .copied()
        .filter(|[a, _, _]| size(*a) >= least)
        .collect();
    specks.triangles = before - triangles.len();
    let kept = Raw {
        corners: scan.corners,
        triangles,
    };
    (kept.compact(), specks)
}
