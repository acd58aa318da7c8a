//! The smallest convex body about points, with a round edge if asked: what a moving part sweeps.

use std::sync::Arc;

use parry3d_f64::transformation::try_convex_hull;

use super::Bounds;
use super::near::{Near, square_to};
use super::tree::Tree;
use super::triangle::Triangle;
use crate::Vec3;

/// Points that span no body.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("the points span no body: there must be four that lie in no plane")]
pub struct Flat;

#[derive(Debug)]
struct Core {
    tree: Tree,
    // Unit vectors outwards, none for a plate, and how far out the planes lie along them.
    planes: Vec<(Vec3, f64)>,
    points: Vec<Vec3>,
}

/// A convex body about points. Copies share the points.
#[derive(Debug, Clone)]
pub struct Hull {
    core: Arc<Core>,
    at: Vec3,
    round: f64,
}

impl Hull {
    /// The convex body about points in m, grown by `round` m all about: its edges are round then.
    ///
    /// # Errors
    ///
    /// Where the points span no body and there is no rounding to make one.
    pub fn new(points: &[Vec3], round: f64) -> Result<Self, Flat> {
        let bounds = Bounds::of(points.iter().copied());
        let at = (bounds.low + bounds.high) * 0.5;
        let size = bounds.high - bounds.low;
        if points.is_empty() || !size.is_finite() {
            return Err(Flat);
        }
        let local: Vec<Vec3> = points.iter().map(|point| *point - at).collect();
        let Some((corners, triangles)) = body(&local, size.length()) else {
            // What is flat has a body only by its rounding.
            if round <= 0.0 {
                return Err(Flat);
            }
            return Ok(Self {
                core: Arc::new(Core {
                    tree: Tree::new(&plate(&local)),
                    planes: Vec::new(),
                    points: local,
                }),
                at,
                round,
            });
        };
        let planes = triangles
            .iter()
            .filter_map(|triangle| {
                let normal = triangle.twice_area().try_normalize()?;
                // The outermost corner: no rounding may cut into the body.
                let out = corners.iter().map(|corner| corner.dot(normal));
                Some((normal, out.fold(f64::NEG_INFINITY, f64::max)))
            })
            .collect();
        Ok(Self {
            core: Arc::new(Core {
                tree: Tree::new(&triangles),
                planes,
                points: corners,
            }),
            at,
            round,
        })
    }

    /// The same moved by `by` m.
    #[must_use]
    pub fn moved(&self, by: Vec3) -> Self {
        Self {
            at: self.at + by,
            ..self.clone()
        }
    }

    /// Its corners in m, before rounding.
    pub fn points(&self) -> impl Iterator<Item = Vec3> + '_ {
        self.core.points.iter().map(|point| *point + self.at)
    }

    /// The corners of its faces in m, before rounding.
    pub fn triangles(&self) -> impl Iterator<Item = [Vec3; 3]> + '_ {
        let at = self.at;
        let triangles = self.core.tree.triangles().iter();
        triangles.map(move |triangle| triangle.corners().map(|corner| corner + at))
    }

    /// By how many m it is grown all about.
    pub fn round(&self) -> f64 {
        self.round
    }

    /// A box that holds it.
    pub fn bounds(&self) -> Bounds {
        self.core.tree.bounds().moved(self.at).grown(self.round)
    }

    /// Least signed distance of the segment to the surface, exact to rounding. A segment that goes
    /// through a rounded hull is measured to its faces and the rounding added.
    pub fn near(&self, a: Vec3, b: Vec3, within: f64) -> Option<Near> {
        let (a, b) = (a - self.at, b - self.at);
        let within = within + self.round;
        let near = match self.inside(a, b) {
            Some((from, to)) => self.deepest(a, b, from, to)?,
            None => {
                let hit = self.core.tree.nearest(a, b, within)?;
                let way = hit.on_segment - hit.on_mesh;
                let normal = way.try_normalize().or_else(|| {
                    let triangle = self.core.tree.triangles().get(hit.triangle as usize)?;
                    triangle.twice_area().try_normalize()
                })?;
                Near {
                    distance: hit.distance,
                    on_axis: hit.on_segment,
                    on_body: hit.on_mesh,
                    normal,
                }
            }
        };
        Near {
            distance: near.distance - self.round,
            on_axis: near.on_axis + self.at,
            on_body: near.on_body + near.normal * self.round + self.at,
            normal: near.normal,
        }
        .if_within(within - self.round)
    }

    /// The shares between which the segment lies in the hull before rounding.
    fn inside(&self, a: Vec3, b: Vec3) -> Option<(f64, f64)> {
        if self.core.planes.is_empty() {
            return None;
        }
        let (mut from, mut to) = (0.0_f64, 1.0_f64);
        for (normal, out) in &self.core.planes {
            let (start, rise) = (a.dot(*normal) - out, (b - a).dot(*normal));
            if rise > 0.0 {
                to = to.min(-start / rise);
            } else if rise < 0.0 {
                from = from.max(-start / rise);
            } else if start > 0.0 {
                return None;
            }
            if from > to {
                return None;
            }
        }
        Some((from, to))
    }

    /// The point deepest in the hull between two shares: the least of the greatest of straight
    /// lines, one a plane, closed in by where the two that govern at the ends cross.
    fn deepest(&self, a: Vec3, b: Vec3, from: f64, to: f64) -> Option<Near> {
        let way = b - a;
        let governing = |t: f64, rising: bool| {
            let p = a + way * t;
            self.core
                .planes
                .iter()
                .map(|(normal, out)| (p.dot(*normal) - out, way.dot(*normal), *normal))
                .max_by(|x, y| {
                    let slope = if rising {
                        x.1.total_cmp(&y.1)
                    } else {
                        y.1.total_cmp(&x.1)
                    };
                    x.0.total_cmp(&y.0).then(slope)
                })
        };
        let mut low = (from, governing(from, true)?);
        let mut high = (to, governing(to, false)?);
        let mut best = if low.1.0 <= high.1.0 { low } else { high };
        if low.1.1 < 0.0 && high.1.1 > 0.0 {
            // Each round drops one plane, so there are no more rounds than planes.
            for _ in 0..=self.core.planes.len() {
                let ((t, one), (u, other)) = (low, high);
                let cross = (one.0 - one.1 * t - other.0 + other.1 * u) / (other.1 - one.1);
                let cross = cross.clamp(t, u);
                let here = governing(cross, true)?;
                if here.0 < best.1.0 {
                    best = (cross, here);
                }
                let foreseen = one.0 + one.1 * (cross - t);
                if here.0 <= foreseen + 1e-15 || here.1 == 0.0 {
                    break;
                }
                if here.1 < 0.0 {
                    low = (cross, here);
                } else {
                    high = (cross, here);
                }
            }
        }
        let (t, (distance, _, normal)) = best;
        let on_axis = a + way * t;
        Some(Near {
            distance,
            on_axis,
            on_body: on_axis - normal * distance,
            normal,
        })
    }
}

/// The corners and faces of the convex body about points that span one.
fn body(points: &[Vec3], size: f64) -> Option<(Vec<Vec3>, Vec<Triangle>)> {
    if points.len() < 4 || thickness(points) <= 1e-9 * size {
        return None;
    }
    let (corners, faces) = try_convex_hull(points).ok()?;
    let triangles: Vec<Triangle> = faces
        .iter()
        .filter_map(|names| {
            let [a, b, c] = names.map(|name| corners.get(name as usize).copied());
            let (a, b, c) = (a?, b?, c?);
            Some(Triangle { a, b, c })
        })
        .collect();
    Some((corners, triangles))
}

/// Two directions in which the points reach out far, the first and the one square to it.
fn spread(points: &[Vec3]) -> (Vec3, Vec3, Vec3) {
    let start = points.first().copied().unwrap_or(Vec3::ZERO);
    let farthest = |of: &dyn Fn(Vec3) -> Vec3| {
        let ways = points.iter().map(|point| of(*point - start));
        let most = ways.max_by(|x, y| x.length_squared().total_cmp(&y.length_squared()));
        most.and_then(Vec3::try_normalize)
    };
    let along = farthest(&|way| way).unwrap_or(Vec3::X);
    let across = farthest(&|way| way - along * way.dot(along));
    (start, along, across.unwrap_or_else(|| square_to(along)))
}

/// How far points reach out of the plane of their greatest spread.
fn thickness(points: &[Vec3]) -> f64 {
    let (start, along, across) = spread(points);
    let normal = along.cross(across).normalize_or_zero();
    let heights = points
        .iter()
        .map(|point| (*point - start).dot(normal).abs());
    heights.fold(0.0, f64::max)
}

/// A fan of triangles over the convex outline of points in one plane or line.
fn plate(points: &[Vec3]) -> Vec<Triangle> {
    let (start, along, across) = spread(points);
    let mut flat: Vec<(f64, f64, Vec3)> = points
        .iter()
        .map(|point| {
            (
                (*point - start).dot(along),
                (*point - start).dot(across),
                *point,
            )
        })
        .collect();
    flat.sort_by(|x, y| x.0.total_cmp(&y.0).then(x.1.total_cmp(&y.1)));
    let mut outline: Vec<(f64, f64, Vec3)> = Vec::new();
    let mut side = |next: &mut dyn Iterator<Item = (f64, f64, Vec3)>| {
        let first = outline.len();
        for point in next {
            while let [.., p, q] = outline.get(first..).unwrap_or_default() {
                let left = (q.0 - p.0) * (point.1 - p.1) - (q.1 - p.1) * (point.0 - p.0);
                if left > 0.0 {
                    break;
                }
                outline.pop();
            }
            outline.push(point);
        }
    };
    side(&mut flat.iter().copied());
    side(&mut flat.iter().rev().copied());
    let corners: Vec<Vec3> = outline.iter().map(|point| point.2).collect();
    let corner = |k: usize| corners.get(k).or(corners.last()).copied();
    (1..corners.len().max(3) - 1)
        .filter_map(|k| {
            Some(Triangle {
                a: corner(0)?,
                b: corner(k)?,
                c: corner(k + 1)?,
            })
        })
        .collect()
}
