//! All bodies of the bay, and what is near to a straight piece of hose.

use super::{Body, Bounds, Frame, Near, NoShape};
use crate::Vec3;

/// The bodies of the bay. Each of them answers for itself, so that a hose between two of them has
/// two constraints and not one.
#[derive(Debug, Clone, Default)]
pub struct Space {
    bodies: Vec<Body>,
    bounds: Vec<Bounds>,
}

impl Space {
    /// A space with these bodies; their places in the list are their numbers.
    pub fn new(bodies: Vec<Body>) -> Self {
        let bounds = bodies.iter().map(|body| body.shape.bounds()).collect();
        Self { bodies, bounds }
    }

    /// The numbers of the bodies whose figures make no shape, and why: no gap to one of them is true,
    /// and none may be told at all.
    pub fn odd(&self) -> impl Iterator<Item = (usize, NoShape)> + '_ {
        let checked = self.bodies.iter().map(|body| body.shape.check()).zip(0..);
        checked.filter_map(|(checked, number)| Some((number, checked.err()?)))
    }

    /// The bodies by their numbers.
    pub fn bodies(&self) -> &[Body] {
        &self.bodies
    }

    /// Adds a body and gives its number.
    pub fn add(&mut self, body: Body) -> usize {
        self.bounds.push(body.shape.bounds());
        self.bodies.push(body);
        self.bodies.len() - 1
    }

    /// Calls `found` for every body whose gap to the round piece `a`–`b` of `radius` m is at most
    /// `within` m, in the order of their numbers. `distance` is the gap between the two surfaces;
    /// `on_axis` is the point on the middle line of the piece.
    pub fn each_near(
        &self,
        a: Vec3,
        b: Vec3,
        radius: f64,
        within: f64,
        mut found: impl FnMut(usize, Near),
    ) {
        let reach = (within + radius).max(0.0);
        let piece = Bounds::of([a, b]);
        for (number, (body, bounds)) in self.bodies.iter().zip(&self.bounds).enumerate() {
            if bounds.gap_squared(&piece) > reach * reach {
                continue;
            }
            if let Some(near) = body.shape.near(a, b, within + radius) {
                let distance = near.distance - radius;
                found(number, Near { distance, ..near });
            }
        }
    }

    /// Calls `found` for every body that is no farther from a point than `within` m, and for every face of one that is
    /// not convex that is no farther than `press` m: see [`Shape::each_face`].
    pub fn each_face(&self, at: Vec3, within: f64, press: f64, mut found: impl FnMut(usize, Near)) {
        let reach = within.max(0.0);
        let point = Bounds::of([at]);
        for (number, (body, bounds)) in self.bodies.iter().zip(&self.bounds).enumerate() {
            if bounds.gap_squared(&point) <= reach * reach {
                body.shape
                    .each_face(at, within, press, &mut |near| found(number, near));
            }
        }
    }

    /// The bodies whose gap to the round piece `a`–`b` of `radius` m is at most `within` m, one
    /// entry each with its number. `distance` is the gap between the two surfaces.
    pub fn near(&self, a: Vec3, b: Vec3, radius: f64, within: f64) -> Vec<(usize, Near)> {
        let mut all = Vec::new();
        self.each_near(a, b, radius, within, |number, near| {
            all.push((number, near));
        });
        all
    }

    /// The body with the least gap to the round piece, if that is at most `within` m.
    pub fn nearest(&self, a: Vec3, b: Vec3, radius: f64, within: f64) -> Option<(usize, Near)> {
        let piece = Bounds::of([a, b]);
        let mut order: Vec<(f64, usize)> = self
            .bounds
            .iter()
            .map(|bounds| bounds.gap_squared(&piece).sqrt())
            .zip(0..)
            .filter(|(gap, _)| *gap <= (within + radius).max(0.0))
            .collect();
        order.sort_by(|x, y| x.0.total_cmp(&y.0));
        let mut best: Option<(usize, Near)> = None;
        let mut bound = within + radius;
        for (gap, number) in order {
            if gap > bound.max(0.0) {
                break;
            }
            let Some(body) = self.bodies.get(number) else {
                continue;
            };
            if let Some(near) = body.shape.near(a, b, bound)
                && best.is_none_or(|(_, least)| near.distance < least.distance)
            {
                bound = near.distance;
                best = Some((number, near));
            }
        }
        best.map(|(number, near)| {
            let distance = near.distance - radius;
            (number, Near { distance, ..near })
        })
    }

    /// What is missing or left over at the tightest place, in m: the least of each body's gap less
    /// the clearance that it wants, and whose. Bodies with more than `within` m left are not told.
    pub fn tightest(
        &self,
        a: Vec3,
        b: Vec3,
        radius: f64,
        within: f64,
        except: &[usize],
    ) -> Option<(usize, f64, Near)> {
        let piece = Bounds::of([a, b]);
        let mut best: Option<(usize, f64, Near)> = None;
        let mut bound = within;
        for (number, (body, bounds)) in self.bodies.iter().zip(&self.bounds).enumerate() {
            let reach = bound + radius + body.keep;
            if bounds.gap_squared(&piece) > reach.max(0.0).powi(2) || except.contains(&number) {
                continue;
            }
            if let Some(near) = body.shape.near(a, b, reach) {
                let distance = near.distance - radius;
                let left = distance - body.keep;
                if best.is_none_or(|(_, least, _)| left < least) {
                    bound = left;
                    best = Some((number, left, Near { distance, ..near }));
                }
            }
        }
        best
    }

    /// The same bay with everything on the engine moved by `offset` m.
    #[must_use]
    pub fn moved(&self, offset: Vec3) -> Self {
        let mut moved = self.clone();
        for (body, bounds) in moved.bodies.iter_mut().zip(&mut moved.bounds) {
            if body.frame == Frame::Engine {
                body.shape = body.shape.moved(offset);
                *bounds = bounds.moved(offset);
            }
        }
        moved
    }

    /// Whether nothing stands in the straight line from one point to the other, the bodies numbered
    /// in `except` left out.
    pub fn sees(&self, from: Vec3, to: Vec3, except: &[usize]) -> bool {
        let line = Bounds::of([from, to]);
        !self
            .bodies
            .iter()
            .zip(&self.bounds)
            .enumerate()
            .any(|(number, (body, bounds))| {
                bounds.gap_squared(&line) <= 0.0
                    && !except.contains(&number)
                    && body.shape.blocks(from, to)
            })
    }
}
