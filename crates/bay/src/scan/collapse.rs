//! Fewer triangles by drawing the two ends of an edge into one corner, the cheapest edge first.
//!
//! What a corner costs is its mean squared distance to the planes that it stands for (Garland and
//! Heckbert, Surface simplification using quadric error metrics, 1997; from memory).

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::Raw;
use super::planes::{Planes, planes_of};
use crate::Vec3;

struct Corner {
    at: Vec3,
    planes: Planes,
    triangles: Vec<u32>,
    // Counts its changes; a waiting edge from before one is out of date.
    age: u32,
    gone: bool,
}

/// A waiting edge: its cost as bits, which rise with it, the two corners and their ages.
type Edge = Reverse<(u64, u32, u32, u32, u32)>;

struct Surface {
    corners: Vec<Corner>,
    triangles: Vec<[u32; 3]>,
    alive: Vec<bool>,
    left: usize,
    waiting: BinaryHeap<Edge>,
}

// Names are places in the lists throughout: welding and `new` see to that.
impl Surface {
    fn new(scan: &Raw, middle: Vec3) -> Self {
        let local: Vec<Vec3> = scan.corners.iter().map(|corner| *corner - middle).collect();
        let planes = planes_of(&local, &scan.triangles);
        let mut corners: Vec<Corner> = local
            .into_iter()
            .zip(planes)
            .map(|(at, planes)| Corner {
                at,
                planes,
                triangles: Vec::new(),
                age: 0,
                gone: false,
            })
            .collect();
        for (number, names) in (0..).zip(&scan.triangles) {
            for name in names {
                corners[*name as usize].triangles.push(number); // OK because a name is a place.
            }
        }
        Self {
            corners,
            triangles: scan.triangles.clone(),
            alive: vec![true; scan.triangles.len()],
            left: scan.triangles.len(),
            waiting: BinaryHeap::new(),
        }
    }

    fn corner(&self, name: u32) -> &Corner {
        &self.corners[name as usize] // OK because a name is a place.
    }

    fn names(&self, triangle: u32) -> [u32; 3] {
        self.triangles[triangle as usize] // OK because a triangle's number is a place.
    }

    /// The corners that share a triangle with this one, each once and in order.
    fn neighbours(&self, name: u32, into: &mut Vec<u32>) {
        into.clear();
        for triangle in &self.corner(name).triangles {
            into.extend(
                self.names(*triangle)
                    .into_iter()
                    .filter(|other| *other != name),
            );
        }
        into.sort_unstable();
        into.dedup();
    }

    /// Where the ends of an edge go, and what it costs.
    fn target(&self, one: u32, other: u32) -> (Vec3, f64) {
        let (p, q) = (self.corner(one), self.corner(other));
        let planes = p.planes.and(&q.planes);
        let middle = (p.at + q.at) * 0.5;
        let long = p.at.distance_squared(q.at);
        let best = planes.best(middle);
        // A corner far off its edge is no mean of it.
        let at = if best.distance_squared(middle) > long {
            middle
        } else {
            best
        };
        // Among edges that cost nothing the shortest first.
        (at, planes.mean_square(at) + 1e-6 * long)
    }

    fn edge(&self, one: u32, other: u32) -> Edge {
        let (_, cost) = self.target(one, other);
        let (p, q) = (self.corner(one).age, self.corner(other).age);
        Reverse((cost.max(0.0).to_bits(), one, other, p, q))
    }

    /// Whether drawing the edge together tears, folds or pinches nothing.
    fn sound(&self, one: u32, other: u32, at: Vec3, near: &[u32], far: &[u32]) -> bool {
        let shared: Vec<u32> = self
            .corner(one)
            .triangles
            .iter()
            .copied()
            .filter(|triangle| self.names(*triangle).contains(&other))
            .collect();
        let common = near
            .iter()
            .filter(|name| far.binary_search(name).is_ok())
            .count();
        // Each of the one or two triangles at the edge gives one common neighbour; more is a pinch.
        if shared.is_empty() || shared.len() > 2 || common != shared.len() {
            return false;
        }
        // An inner edge between two rims would close the way between them.
        if shared.len() == 2 && self.on_rim(one, near) && self.on_rim(other, far) {
            return false;
        }
        [one, other].into_iter().all(|name| {
            self.corner(name)
                .triangles
                .iter()
                .filter(|triangle| !shared.contains(triangle))
                .all(|triangle| {
                    let names = self.names(*triangle);
                    let before = names.map(|name| self.corner(name).at);
                    let after = names.map(|of| if of == name { at } else { self.corner(of).at });
                    upright(before, after)
                })
        })
    }

    /// Whether a corner has a neighbour with which it shares but one triangle.
    fn on_rim(&self, name: u32, neighbours: &[u32]) -> bool {
        neighbours.iter().any(|other| {
            let triangles = self.corner(name).triangles.iter();
            triangles
                .filter(|triangle| self.names(**triangle).contains(other))
                .count()
                != 2
        })
    }

    /// Draws `other` into `one`.
    fn draw(&mut self, one: u32, other: u32, at: Vec3, neighbours: &mut Vec<u32>) {
        let moved = std::mem::take(&mut self.corners[other as usize].triangles); // OK because a name is a place.
        for triangle in moved {
            let names = &mut self.triangles[triangle as usize]; // OK because a triangle's number is a place.
            if names.contains(&one) {
                self.alive[triangle as usize] = false; // OK because there are as many.
                self.left -= 1;
                let names = *names;
                for name in names.into_iter().filter(|name| *name != other) {
                    let corner = &mut self.corners[name as usize]; // OK because a name is a place.
                    corner.triangles.retain(|of| *of != triangle);
                }
            } else {
                for name in names.iter_mut().filter(|name| **name == other) {
                    *name = one;
                }
                self.corners[one as usize].triangles.push(triangle); // OK because a name is a place.
            }
        }
        let planes = self.corner(one).planes.and(&self.corner(other).planes);
        self.corners[other as usize].gone = true; // OK because a name is a place.
        let corner = &mut self.corners[one as usize]; // OK because a name is a place.
        corner.planes = planes;
        corner.at = at;
        corner.age += 1;
        self.neighbours(one, neighbours);
        for name in neighbours.iter() {
            let edge = self.edge(one, *name);
            self.waiting.push(edge);
        }
    }
}

/// Whether a triangle keeps its face and does not become a sliver.
fn upright([a, b, c]: [Vec3; 3], [p, q, r]: [Vec3; 3]) -> bool {
    let (before, after) = ((b - a).cross(c - a), (q - p).cross(r - p));
    let longest = p
        .distance_squared(q)
        .max(q.distance_squared(r))
        .max(r.distance_squared(p));
    let was = before.length();
    // A triangle without area has no face to keep.
    was == 0.0
        || (before.dot(after) > 0.3 * was * after.length() && after.length() > 0.02 * longest)
}

/// Draws edges together until at most `most` triangles are left, or no edge can be.
pub(super) fn collapse(scan: &Raw, most: usize) -> Raw {
    let bounds = scan.bounds();
    let middle = (bounds.low + bounds.high) * 0.5;
    let mut surface = Surface::new(scan, middle);
    let (mut near, mut far) = (Vec::new(), Vec::new());
    let mut edges = Vec::with_capacity(3 * scan.corners.len());
    for one in 0..surface.corners.len() as u32 {
        surface.neighbours(one, &mut near);
        let others = near.iter().filter(|other| **other > one);
        edges.extend(others.map(|other| surface.edge(one, *other)));
    }
    surface.waiting = BinaryHeap::from(edges);
    while surface.left > most {
        let Some(Reverse((_, one, other, p, q))) = surface.waiting.pop() else {
            break;
        };
        let (first, second) = (surface.corner(one), surface.corner(other));
        if first.gone || second.gone || (first.age, second.age) != (p, q) {
            continue;
        }
        let (at, _) = surface.target(one, other);
        surface.neighbours(one, &mut near);
        surface.neighbours(other, &mut far);
        if surface.sound(one, other, at, &near, &far) {
            surface.draw(one, other, at, &mut near);
        }
    }
    let corners = surface.corners.iter().map(|corner| corner.at + middle);
    let triangles = surface.triangles.iter().zip(&surface.alive);
    Raw {
        corners: corners.collect(),
        triangles: triangles
            .filter(|(_, alive)| **alive)
            .map(|(names, _)| *names)
            .collect(),
    }
    .compact()
}
