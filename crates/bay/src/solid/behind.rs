//! Which side of a surface a point lies on.

use super::Bounds;
use super::grid::{Cell, Grid};
use super::shade::{Lies, Shade};
use super::tree::Tree;
use super::triangle::Triangle;
use super::winding::{Winding, mean};
use crate::Vec3;

/// Least distance from the level, in windings, at which nine points of a cell speak for it all, but
/// where they differ by less among themselves.
const CLEAR: f64 = 0.1;

/// The same where they hardly differ.
const LEAST: f64 = 0.002;

/// As far as this, in m, the surface is looked for about a point on a line.
const APART: f64 = 0.2;

/// The side of every point: behind is where the surface winds more often than `level`, and what lies
/// in the shade of a part that was seen from outside.
#[derive(Debug)]
pub(crate) struct Side {
    winding: Winding,
    pub(crate) level: f64,
    closed: bool,
    shades: Vec<Shade>,
    /// Beyond it nothing is solid.
    pub(crate) reach: Bounds,
    // Of large cells and of small ones.
    near: [Grid; 2],
    far: Option<[Grid; 2]>,
}

impl Side {
    /// The side within a closed surface.
    pub(crate) fn closed(tree: &Tree) -> Self {
        Self::new(tree, Winding::new(tree), 0.5, true, Vec::new())
    }

    /// The side behind an open one, given its parts.
    pub(crate) fn open(tree: &Tree, parts: &[Vec<Triangle>]) -> Self {
        let winding = Winding::new(tree);
        let mean = mean(tree, &winding);
        let shades = match parts {
            [whole] => Shade::of_whole(whole, mean).into_iter().collect(),
            parts => parts
                .iter()
                .filter_map(|part| Shade::of_part(part))
                .collect(),
        };
        Self::new(tree, winding, level(mean), false, shades)
    }

    fn new(tree: &Tree, winding: Winding, level: f64, closed: bool, shades: Vec<Shade>) -> Self {
        let bounds = tree.bounds();
        let longest = (bounds.high - bounds.low).max_element();
        let finest = (2.0 * (tree.triangles().len() as f64).cbrt()).clamp(8.0, 80.0);
        let cell = (longest / finest).max(1e-9);
        // All of the surface lies on one side of a plane past a point out of its box, so it winds
        // there by half at most.
        let reach = if level < 0.5 {
            bounds.grown(longest)
        } else {
            bounds
        };
        Self {
            winding,
            level,
            closed,
            shades,
            reach,
            near: grids(bounds, cell, !closed),
            far: (level > -0.5 && level < 0.5).then(|| grids(reach, 3.0 * cell, !closed)),
        }
    }

    pub(crate) fn winding(&self, tree: &Tree, p: Vec3) -> f64 {
        self.winding.at(tree, p, None)
    }

    /// Whether `p` lies behind the surface.
    pub(crate) fn behind(&self, tree: &Tree, p: Vec3) -> bool {
        self.quickly(tree, p)
            .unwrap_or_else(|| self.reckoned(tree, p))
    }

    fn reckoned(&self, tree: &Tree, p: Vec3) -> bool {
        let winding = self.winding(tree, p);
        winding > self.level
            || self
                .shades
                .iter()
                .any(|shade| shade.lies(p, 0.0) != Lies::Outside && shade.over(p, winding) > 0.0)
    }

    /// The same where it can be told without reckoning, or `None`.
    pub(crate) fn quickly(&self, tree: &Tree, p: Vec3) -> Option<bool> {
        self.cell(tree, p).1
    }

    /// Whether any point of the segment lies behind, looked at in steps of `step` at least; what a
    /// whole cell tells is passed over, and so is the way to the surface.
    pub(crate) fn any_behind(&self, tree: &Tree, a: Vec3, b: Vec3, step: f64) -> bool {
        let long = a.distance(b);
        let Some(way) = (b - a).try_normalize() else {
            return self.behind(tree, a);
        };
        let step = step.max(long / 4096.0);
        let mut along = 0.0;
        while along < long {
            let p = a + way * along;
            let (cell, known) = self.cell(tree, p);
            if known.unwrap_or_else(|| self.reckoned(tree, p)) {
                return true;
            }
            let free = match (cell, known) {
                (Some(cell), Some(false)) => cell.way_out(p, way),
                _ => 0.0,
            };
            // Who passes through a hole that far from its rim is behind for about as long.
            let apart = if free < step {
                let near = tree.nearest(p, p, APART);
                near.map_or(APART, |near| near.distance)
            } else {
                0.0
            };
            along += free.max(apart).max(step);
        }
        self.behind(tree, b)
    }

    /// The cell about a point, if there is one, and its side, if it has one.
    fn cell(&self, tree: &Tree, p: Vec3) -> (Option<Cell>, Option<bool>) {
        if !self.reach.holds(p) {
            return (None, Some(false));
        }
        let grids = match (&self.far, tree.bounds().holds(p)) {
            (_, true) => &self.near,
            (Some(far), false) => far,
            // A room that is seen from within is solid all about.
            (None, false) => return (None, Some(true)),
        };
        let mut last = None;
        for grid in grids {
            last = grid.cell(p);
            if let Some(cell) = last
                && let Some(known) = grid.side(cell, || self.judge(tree, grid, cell))
            {
                return (last, Some(known));
            }
        }
        (last, None)
    }

    fn judge(&self, tree: &Tree, grid: &Grid, cell: Cell) -> Option<bool> {
        let middle = cell.middle();
        // The half diagonal, and a little for cells whose edge rounding has moved.
        let half = 0.8661 * cell.edge;
        if tree.any(middle, middle, half) {
            return None;
        }
        let here = self.winding(tree, middle);
        if self.closed {
            return Some(here > self.level);
        }
        let [a, b, c, d, e, f, g, h] = grid.corners(cell, |p| self.winding(tree, p));
        let looks = [(middle, here), a, b, c, d, e, f, g, h];
        let mut known = clear(looks.map(|(_, winding)| winding - self.level));
        for shade in &self.shades {
            if known == Some(true) {
                break;
            }
            let side = match shade.lies(middle, half) {
                Lies::Outside => continue,
                Lies::Within => clear(looks.map(|(p, winding)| shade.over(p, winding))),
                Lies::Across => None,
            };
            known = match (side, known) {
                (Some(true), _) => Some(true),
                (Some(false), known) => known,
                (None, _) => None,
            };
        }
        known
    }
}

/// How many small cells lie along the edge of a large one.
const LARGE: f64 = 4.0;

fn grids(bounds: Bounds, cell: f64, corners: bool) -> [Grid; 2] {
    [LARGE * cell, cell].map(|cell| Grid::new(bounds, cell, corners))
}

/// Whether all values lie clearly above nothing, or all clearly below.
fn clear(over: [f64; 9]) -> Option<bool> {
    let most = over.into_iter().fold(f64::NEG_INFINITY, f64::max);
    let least = over.into_iter().fold(f64::INFINITY, f64::min);
    let margin = (most - least).clamp(LEAST, CLEAR);
    if least > margin {
        Some(true)
    } else if most < -margin {
        Some(false)
    } else {
        None
    }
}

/// The winding halfway between the two sides of an open surface, by the mean over it. A thing seen
/// from outside has one half, a room seen from within minus one half, a wall none; what is clearly
/// one of the first two is taken for it.
fn level(mean: f64) -> f64 {
    if mean > 0.25 {
        0.5
    } else if mean < -0.25 {
        -0.5
    } else {
        mean
    }
}
