//! Fewer triangles for the same surface. A very fine scan is first put into cells, whose corners
//! become one; then edges are drawn together, the cheapest first. What is closed stays closed.
//!
//! Corners by cells: Rossignac and Borrel, Multi-resolution 3D approximations, 1993 (from memory).

use super::Raw;
use super::collapse::collapse;
use super::planes::{Planes, planes_of};
use crate::Vec3;
use crate::solid::Bounds;

/// What thinning did.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thinned {
    /// Triangles before.
    pub before: usize,
    /// Triangles after.
    pub after: usize,
    /// Edge of the cells in m, where corners were put into cells first.
    pub cell: Option<f64>,
    /// No point of the scan as read is farther from the surface as thinned, in m: a bound, which is
    /// at most a fiftieth more than the distance of one that is there.
    pub error: f64,
}

/// The cells of a size: for each corner the number of its cell, counted as they are met.
struct Cells {
    of: Vec<u32>,
    count: usize,
}

fn cells(corners: &[Vec3], low: Vec3, cell: f64) -> Cells {
    let mut keys: Vec<(u64, u32)> = corners
        .iter()
        .map(|corner| {
            let [x, y, z] = ((*corner - low) / cell)
                .to_array()
                .map(|x| x as u64 & 0x1f_ffff);
            (x << 42) | (y << 21) | z
        })
        .zip(0..)
        .collect();
    keys.sort_unstable();
    let mut of = vec![0; corners.len()];
    let mut count = 0;
    for same in keys.chunk_by(|x, y| x.0 == y.0) {
        for (_, name) in same {
            if let Some(place) = of.get_mut(*name as usize) {
                *place = count;
            }
        }
        count += 1;
    }
    Cells {
        of,
        count: count as usize,
    }
}

impl Cells {
    fn named(&self, names: [u32; 3]) -> Option<[u32; 3]> {
        let [a, b, c] = names.map(|name| self.of.get(name as usize).copied());
        let (a, b, c) = (a?, b?, c?);
        (a != b && b != c && c != a).then_some([a, b, c])
    }

    fn left(&self, triangles: &[[u32; 3]]) -> usize {
        triangles
            .iter()
            .filter(|names| self.named(**names).is_some())
            .count()
    }
}

/// More than this many times what is wanted is put into cells first.
const FINE: usize = 4;

/// The scan with at most `most` triangles, and the edge of the cells if there were any. `None` where
/// it has no more than that already.
pub(super) fn thin(scan: &Raw, most: usize) -> Option<(Raw, Option<f64>)> {
    if scan.triangles.len() <= most {
        return None;
    }
    let coarse = by_cells(scan, most.saturating_mul(FINE));
    let (coarse, cell) = match coarse {
        Some((coarse, cell)) => (Some(coarse), Some(cell)),
        None => (None, None),
    };
    let fewer = collapse(coarse.as_ref().unwrap_or(scan), most);
    if fewer.triangles.len() <= most {
        return Some((fewer, cell));
    }
    // Edges that hang together oddly can't be drawn together: cells for what is left.
    match by_cells(&fewer, most) {
        Some((fewer, last)) => Some((fewer, Some(cell.map_or(last, |cell| cell.max(last))))),
        None => Some((fewer, cell)),
    }
}

/// The scan with at most `most` triangles by cells, and their edge. `None` where it has no more than
/// that already, or no cell leaves any.
fn by_cells(scan: &Raw, most: usize) -> Option<(Raw, f64)> {
    if scan.triangles.len() <= most {
        return None;
    }
    let bounds = scan.bounds();
    let size = (bounds.high - bounds.low).max_element();
    // Cells are counted in 21 bits along each axis.
    let (mut low, mut high) = (size / 1e6, size);
    let mut best: Option<(Cells, f64)> = None;
    for _ in 0..40 {
        if high / low < 1.02 {
            break;
        }
        let cell = (low * high).sqrt();
        let cells = cells(&scan.corners, bounds.low, cell);
        let left = cells.left(&scan.triangles);
        if left > most {
            low = cell;
        } else {
            high = cell;
            if left > 0 {
                best = Some((cells, cell));
            }
            if left * 100 >= most * 97 {
                break;
            }
        }
    }
    let (cells, cell) = best?;
    let center = (bounds.low + bounds.high) * 0.5;
    let local: Vec<Vec3> = scan.corners.iter().map(|corner| *corner - center).collect();
    let each = planes_of(&local, &scan.triangles);
    let mut sums = vec![(Planes::default(), Vec3::ZERO, 0.0, Bounds::EMPTY); cells.count];
    for ((corner, planes), group) in local.iter().zip(&each).zip(&cells.of) {
        if let Some((sum, middle, count, near)) = sums.get_mut(*group as usize) {
            *sum = sum.and(planes);
            *middle += *corner;
            *count += 1.0;
            *near = near.with(*corner);
        }
    }
    // No corner leaves the box of those that it stands for by more than a quarter of a cell.
    let corners = sums
        .iter()
        .map(|(sum, middle, count, near)| {
            let near = near.grown(0.25 * cell);
            sum.best(*middle / *count).clamp(near.low, near.high) + center
        })
        .collect();
    let triangles = scan
        .triangles
        .iter()
        .filter_map(|names| cells.named(*names))
        .collect();
    Some((Raw { corners, triangles }.compact(), cell))
}
