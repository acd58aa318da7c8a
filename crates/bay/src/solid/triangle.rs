//! One triangle: its nearest point to a point or a segment, and the solid angle that it fills.

use super::segment::{share_of_point, shares_of_segments};
use crate::Vec3;

/// A triangle; counter-clockwise seen from outside.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Triangle {
    pub(crate) a: Vec3,
    pub(crate) b: Vec3,
    pub(crate) c: Vec3,
}

/// The nearest points of a segment and a triangle.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Pair {
    pub(crate) squared: f64,
    pub(crate) on_segment: Vec3,
    pub(crate) on_triangle: Vec3,
}

impl Pair {
    fn of(on_segment: Vec3, on_triangle: Vec3) -> Self {
        Self {
            squared: on_segment.distance_squared(on_triangle),
            on_segment,
            on_triangle,
        }
    }

    fn or_nearer(self, other: Self) -> Self {
        if other.squared < self.squared {
            other
        } else {
            self
        }
    }
}

impl Triangle {
    /// A vector outwards, twice as long as the triangle is large in m².
    pub(crate) fn twice_area(&self) -> Vec3 {
        (self.b - self.a).cross(self.c - self.a)
    }

    pub(crate) fn middle(&self) -> Vec3 {
        (self.a + self.b + self.c) / 3.0
    }

    pub(crate) fn corners(&self) -> [Vec3; 3] {
        [self.a, self.b, self.c]
    }

    /// The nearest point to `p`: which corner, edge or face that is follows from the shares of the
    /// corners in the foot of the perpendicular.
    pub(crate) fn nearest_to(&self, p: Vec3) -> Vec3 {
        let normal = self.twice_area();
        let square = normal.length_squared();
        if square > 0.0 && self.holds_foot(p, normal) {
            return p - normal * ((p - self.a).dot(normal) / square);
        }
        let on = |from: Vec3, to: Vec3| from + (to - from) * share_of_point(p, from, to);
        let [x, y, z] = [on(self.a, self.b), on(self.b, self.c), on(self.c, self.a)];
        let nearer = |x: Vec3, y: Vec3| {
            if p.distance_squared(y) < p.distance_squared(x) {
                y
            } else {
                x
            }
        };
        nearer(nearer(x, y), z)
    }

    /// Whether the foot of the perpendicular from `p` lies in the triangle.
    fn holds_foot(&self, p: Vec3, normal: Vec3) -> bool {
        let left = |from: Vec3, to: Vec3| (to - from).cross(p - from).dot(normal) >= 0.0;
        left(self.a, self.b) && left(self.b, self.c) && left(self.c, self.a)
    }

    /// Whether a plane square to the way from the segment to the triangle's middle parts the two by
    /// more than the root of `bound`: far cheaper than the distance itself, and seldom undecided.
    fn clearly_beyond(&self, a: Vec3, b: Vec3, bound: f64) -> bool {
        let way = b - a;
        let middle = self.middle() - a;
        let along = middle.dot(way) / way.length_squared();
        let out = middle - way * along.clamp(0.0, 1.0);
        let near = (self.a - a)
            .dot(out)
            .min((self.b - a).dot(out))
            .min((self.c - a).dot(out));
        let gap = near - way.dot(out).max(0.0);
        gap > 0.0 && gap * gap > bound * out.length_squared() * (1.0 + 1e-12)
    }

    /// The nearest points of the triangle and the segment `a`–`b`, or anything that is not nearer
    /// than the root of `bound` where the two are not.
    pub(crate) fn nearest_to_segment(&self, a: Vec3, b: Vec3, bound: f64) -> Option<Pair> {
        if self.clearly_beyond(a, b, bound) {
            return None;
        }
        let normal = self.twice_area();
        let square = normal.length_squared();
        if square > 0.0 {
            let (high_a, high_b) = ((a - self.a).dot(normal), (b - self.a).dot(normal));
            if high_a * high_b <= 0.0 {
                if high_a != high_b {
                    let cut = a + (b - a) * (high_a / (high_a - high_b));
                    if self.holds_foot(cut, normal) {
                        return Some(Pair {
                            squared: 0.0,
                            on_segment: cut,
                            on_triangle: cut,
                        });
                    }
                }
            } else {
                let (nearer, high) = if high_a.abs() <= high_b.abs() {
                    (a, high_a)
                } else {
                    (b, high_b)
                };
                // Nothing is nearer than the plane.
                if high * high >= bound * square {
                    return None;
                }
                if self.holds_foot(nearer, normal) {
                    return Some(Pair::of(nearer, nearer - normal * (high / square)));
                }
            }
        }
        let with = |from: Vec3, to: Vec3| {
            let (s, t) = shares_of_segments(a, b, from, to);
            Pair::of(a + (b - a) * s, from + (to - from) * t)
        };
        let mut best = with(self.a, self.b)
            .or_nearer(with(self.b, self.c))
            .or_nearer(with(self.c, self.a));
        if square > 0.0 {
            for end in [a, b] {
                if self.holds_foot(end, normal) {
                    let high = (end - self.a).dot(normal) / square;
                    best = best.or_nearer(Pair::of(end, end - normal * high));
                }
            }
        }
        Some(best)
    }

    /// The solid angle seen from `p` as a share of the whole round, positive from behind.
    pub(crate) fn winding(&self, p: Vec3) -> f64 {
        let (a, b, c) = (self.a - p, self.b - p, self.c - p);
        let (x, y, z) = (a.length(), b.length(), c.length());
        let above = a.dot(b.cross(c));
        let below = x * y * z + a.dot(b) * z + b.dot(c) * x + c.dot(a) * y;
        above.atan2(below) / std::f64::consts::TAU
    }
}
