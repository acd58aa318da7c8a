//! Which side of a surface a point lies on, with a coarse grid that remembers it for whole cells.

use std::sync::atomic::{AtomicU8, Ordering};

use super::tree::Tree;
use super::winding::Winding;
use crate::Vec3;

const UNKNOWN: u8 = 0;
const FRONT: u8 = 1;
const BEHIND: u8 = 2;
const MIXED: u8 = 3;

/// Least distance from the level, in windings, at which the corners of a cell speak for it all.
const CLEAR: f64 = 0.1;

/// The side of every point: behind is where the surface winds more often than `level`.
#[derive(Debug)]
pub(crate) struct Side {
    winding: Winding,
    pub(crate) level: f64,
    closed: bool,
    low: Vec3,
    cell: f64,
    count: [usize; 3],
    // Cells are judged when first asked about; who judges twice finds the same.
    cells: Vec<AtomicU8>,
}

impl Side {
    pub(crate) fn new(tree: &Tree, closed: bool) -> Self {
        let winding = Winding::new(tree);
        let level = if closed { 0.5 } else { level(tree, &winding) };
        let bounds = tree.bounds();
        let sides = bounds.high - bounds.low;
        let finest = (2.0 * (tree.triangles().len() as f64).cbrt()).clamp(8.0, 80.0);
        let cell = (sides.max_element() / finest).max(1e-9);
        let count = sides
            .to_array()
            .map(|side| ((side / cell).ceil() as usize).max(1));
        let total = count.iter().product();
        Self {
            winding,
            level,
            closed,
            low: bounds.low,
            cell,
            count,
            cells: (0..total).map(|_| AtomicU8::new(UNKNOWN)).collect(),
        }
    }

    pub(crate) fn winding(&self, tree: &Tree, p: Vec3) -> f64 {
        self.winding.at(tree, p, None)
    }

    /// Whether `p` lies behind the surface.
    pub(crate) fn behind(&self, tree: &Tree, p: Vec3) -> bool {
        self.quickly(tree, p)
            .unwrap_or_else(|| self.winding(tree, p) > self.level)
    }

    /// The same where it can be told without reckoning, or `None`.
    pub(crate) fn quickly(&self, tree: &Tree, p: Vec3) -> Option<bool> {
        if !tree.bounds().holds(p) {
            // All of the surface lies on one side of a plane past `p`, so it winds by half at most.
            return if self.level >= 0.5 {
                Some(false)
            } else if self.level <= -0.5 {
                Some(true)
            } else {
                None
            };
        }
        let place = ((p - self.low) / self.cell).to_array();
        let [x, y, z] = place.map(|x| x as usize);
        let [nx, ny, nz] = self.count;
        let (x, y, z) = (x.min(nx - 1), y.min(ny - 1), z.min(nz - 1));
        let cell = self.cells.get((z * ny + y) * nx + x)?;
        let mut known = cell.load(Ordering::Relaxed);
        if known == UNKNOWN {
            known = self.judge(tree, Vec3::new(x as f64, y as f64, z as f64));
            cell.store(known, Ordering::Relaxed);
        }
        match known {
            FRONT => Some(false),
            BEHIND => Some(true),
            _ => None,
        }
    }

    fn judge(&self, tree: &Tree, cell: Vec3) -> u8 {
        let corner = self.low + cell * self.cell;
        let middle = corner + Vec3::splat(0.5 * self.cell);
        // The half diagonal, and a little for cells whose edge rounding has moved.
        let half = 0.8661 * self.cell;
        if tree.nearest(middle, middle, half).is_some() {
            return MIXED;
        }
        let over = |p: Vec3| self.winding(tree, p) - self.level;
        let here = over(middle);
        if !self.closed {
            let corners = [0, 1, 2, 3, 4, 5, 6, 7].map(|k: u8| {
                let bit = |n: u8| f64::from(k >> n & 1) * self.cell;
                over(corner + Vec3::new(bit(0), bit(1), bit(2)))
            });
            let clear = |x: f64| x.abs() > CLEAR && (x > 0.0) == (here > 0.0);
            if !clear(here) || !corners.into_iter().all(clear) {
                return MIXED;
            }
        }
        if here > 0.0 { BEHIND } else { FRONT }
    }
}

/// The winding halfway between the two sides of an open surface, as the mean over it. A thing seen
/// from outside has one half, a room seen from within minus one half, a wall none; what is clearly
/// one of the first two is taken for it.
fn level(tree: &Tree, winding: &Winding) -> f64 {
    const SAMPLES: usize = 256;
    let step = tree.triangles().len().div_ceil(SAMPLES).max(1);
    let (mut sum, mut weight) = (0.0, 0.0);
    for (number, triangle) in (0..).zip(tree.triangles()).step_by(step) {
        let area = triangle.twice_area().length();
        sum += area * winding.at(tree, triangle.middle(), Some(number));
        weight += area;
    }
    let mean = if weight > 0.0 { sum / weight } else { 0.0 };
    if mean > 0.25 {
        0.5
    } else if mean < -0.25 {
        -0.5
    } else {
        mean
    }
}
