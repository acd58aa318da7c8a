//! A coarse grid that remembers for whole cells on which side of a surface they lie.

use std::sync::atomic::{AtomicU8, AtomicU32, Ordering};

use super::Bounds;
use crate::Vec3;

const UNKNOWN: u8 = 0;
const FRONT: u8 = 1;
const BEHIND: u8 = 2;
const MIXED: u8 = 3;

/// Cubes side by side that fill a box.
#[derive(Debug)]
pub(crate) struct Grid {
    bounds: Bounds,
    cell: f64,
    count: [usize; 3],
    // Cells are judged when first asked about; who judges twice finds the same.
    cells: Vec<AtomicU8>,
    // What was found at the corners of the cells, which eight of them share; none as no number.
    corners: Vec<AtomicU32>,
}

/// One cell.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Cell {
    place: usize,
    at: [usize; 3],
    pub(crate) low: Vec3,
    pub(crate) edge: f64,
}

impl Cell {
    pub(crate) fn middle(&self) -> Vec3 {
        self.low + Vec3::splat(0.5 * self.edge)
    }

    /// How far it is from a point in it, along a unit vector, to its side.
    pub(crate) fn way_out(&self, p: Vec3, way: Vec3) -> f64 {
        let far = p - self.low;
        let to = |far: f64, way: f64| {
            if way > 0.0 {
                (self.edge - far) / way
            } else if way < 0.0 {
                -far / way
            } else {
                f64::INFINITY
            }
        };
        let out = to(far.x, way.x).min(to(far.y, way.y)).min(to(far.z, way.z));
        out.max(0.0)
    }
}

impl Grid {
    /// A grid over the box, with values at its corners if asked.
    pub(crate) fn new(bounds: Bounds, cell: f64, corners: bool) -> Self {
        let sides = bounds.high - bounds.low;
        let count = sides
            .to_array()
            .map(|side| ((side / cell).ceil() as usize).max(1));
        let total = count.iter().product();
        let corners = if corners {
            count.iter().map(|count| count + 1).product()
        } else {
            0
        };
        Self {
            bounds,
            cell,
            count,
            cells: (0..total).map(|_| AtomicU8::new(UNKNOWN)).collect(),
            corners: (0..corners)
                .map(|_| AtomicU32::new(f32::NAN.to_bits()))
                .collect(),
        }
    }

    /// The cell that holds the point.
    pub(crate) fn cell(&self, p: Vec3) -> Option<Cell> {
        if !self.bounds.holds(p) {
            return None;
        }
        let place = ((p - self.bounds.low) / self.cell).to_array();
        let [x, y, z] = place.map(|x| x as usize);
        let [nx, ny, nz] = self.count;
        let (x, y, z) = (x.min(nx - 1), y.min(ny - 1), z.min(nz - 1));
        Some(Cell {
            place: (z * ny + y) * nx + x,
            at: [x, y, z],
            low: self.bounds.low + Vec3::new(x as f64, y as f64, z as f64) * self.cell,
            edge: self.cell,
        })
    }

    /// The corners of a cell, each with its value: asked of `found` once for all cells that share it.
    pub(crate) fn corners(&self, cell: Cell, found: impl Fn(Vec3) -> f64) -> [(Vec3, f64); 8] {
        let [nx, ny, _] = self.count.map(|count| count + 1);
        let [x, y, z] = cell.at;
        [0, 1, 2, 3, 4, 5, 6, 7].map(|k: usize| {
            let (x, y, z) = (x + (k & 1), y + (k >> 1 & 1), z + (k >> 2 & 1));
            let p = self.bounds.low + Vec3::new(x as f64, y as f64, z as f64) * self.cell;
            let Some(known) = self.corners.get((z * ny + y) * nx + x) else {
                return (p, found(p));
            };
            let value = f32::from_bits(known.load(Ordering::Relaxed));
            if !value.is_nan() {
                return (p, f64::from(value));
            }
            let value = found(p) as f32;
            known.store(value.to_bits(), Ordering::Relaxed);
            (p, f64::from(value))
        })
    }

    /// Whether all of the cell lies behind, or none of it; asked of `judge` once.
    pub(crate) fn side(&self, cell: Cell, judge: impl FnOnce() -> Option<bool>) -> Option<bool> {
        let known = self.cells.get(cell.place)?;
        match known.load(Ordering::Relaxed) {
            FRONT => Some(false),
            BEHIND => Some(true),
            UNKNOWN => {
                let found = judge();
                let told = match found {
                    Some(false) => FRONT,
                    Some(true) => BEHIND,
                    None => MIXED,
                };
                known.store(told, Ordering::Relaxed);
                found
            }
            _ => None,
        }
    }
}
