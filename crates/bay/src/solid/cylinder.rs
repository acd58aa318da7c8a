//! A round bar with flat ends: its signed distance along a segment is convex, and its least lies on
//! the side, on a flat or at a rim.

use super::capsule;
use super::near::{Near, square_to};
use crate::Vec3;

/// Which part of the surface a point is measured to.
#[derive(Clone, Copy, PartialEq)]
enum Part {
    Side,
    Flat,
    Rim,
}

/// A segment as a cylinder sees it: along its axis, and square to it.
struct Seen {
    radius: f64,
    half: f64,
    along: f64,
    along_way: f64,
    out: Vec3,
    out_way: Vec3,
    // The square of the distance off the axis is a t² + 2 b t + c.
    a: f64,
    b: f64,
    c: f64,
}

/// A point of the segment.
struct At {
    part: Part,
    off: f64,
    over_side: f64,
    over_flat: f64,
    sign: f64,
}

impl At {
    fn distance(&self) -> f64 {
        match self.part {
            Part::Side => self.over_side,
            Part::Flat => self.over_flat,
            Part::Rim => self.over_side.hypot(self.over_flat),
        }
    }
}

impl Seen {
    fn at(&self, t: f64) -> At {
        let off = (self.out + self.out_way * t).length();
        let along = self.along + self.along_way * t;
        let (over_side, over_flat) = (off - self.radius, along.abs() - self.half);
        let part = if over_side > 0.0 && over_flat > 0.0 {
            Part::Rim
        } else if over_side >= over_flat {
            Part::Side
        } else {
            Part::Flat
        };
        At {
            part,
            off,
            over_side,
            over_flat,
            sign: if along < 0.0 { -1.0 } else { 1.0 },
        }
    }

    /// Slope of the distance off the axis at a point.
    fn parting(&self, t: f64, off: f64) -> f64 {
        if off > 0.0 {
            (self.a * t + self.b) / off
        } else {
            0.0
        }
    }

    /// A number with the sign of the slope of the signed distance.
    fn slope(&self, t: f64) -> f64 {
        let at = self.at(t);
        let flat = at.sign * self.along_way;
        match at.part {
            Part::Side => self.parting(t, at.off),
            Part::Flat => flat,
            Part::Rim => at.over_side * self.parting(t, at.off) + at.over_flat * flat,
        }
    }

    /// The shares where the nearest part may change, or the distance has a kink.
    fn changes(&self) -> [f64; 10] {
        let plane = |z: f64| (z - self.along) / self.along_way;
        let [in_side, out_side] = roots(self.a, self.b, self.c - self.radius * self.radius);
        // As far under the side as under the flat: off = k ± along.
        let k = self.radius - self.half;
        let even = |sign: f64| {
            let (from, way) = (k + sign * self.along, sign * self.along_way);
            roots(
                self.a - way * way,
                self.b - from * way,
                self.c - from * from,
            )
        };
        let ([p, q], [r, s]) = (even(1.0), even(-1.0));
        [
            plane(-self.half),
            plane(0.0),
            plane(self.half),
            in_side,
            out_side,
            -self.b / self.a,
            p,
            q,
            r,
            s,
        ]
    }

    /// The share of the least signed distance.
    fn least(&self) -> f64 {
        if self.slope(0.0) >= 0.0 {
            return 0.0;
        }
        if self.slope(1.0) <= 0.0 {
            return 1.0;
        }
        let (mut low, mut high) = (0.0, 1.0);
        for t in self.changes() {
            // Shares that do not exist are not numbers or infinite, and fall out here.
            if t > low && t < high {
                if self.slope(t) < 0.0 {
                    low = t;
                } else {
                    high = t;
                }
            }
        }
        let middle = 0.5 * (low + high);
        let within = match self.at(middle).part {
            Part::Side if self.a > 0.0 => (-self.b / self.a).clamp(low, high),
            Part::Rim => self.least_at_rim(low, high),
            _ => low,
        };
        [low, high].into_iter().fold(within, |best, t| {
            if self.at(t).distance() < self.at(best).distance() {
                t
            } else {
                best
            }
        })
    }

    /// Newton's steps on the slope of half the squared distance to a rim, kept between two shares
    /// at which it has either sign.
    fn least_at_rim(&self, mut low: f64, mut high: f64) -> f64 {
        let mut t = 0.5 * (low + high);
        for _ in 0..80 {
            let slope = self.slope(t);
            if slope < 0.0 {
                low = t;
            } else {
                high = t;
            }
            let at = self.at(t);
            let parting = self.parting(t, at.off);
            let bend = if at.off > 0.0 {
                (self.a - parting * parting) / at.off
            } else {
                0.0
            };
            let steep = parting * parting + at.over_side * bend + self.along_way * self.along_way;
            let next = t - slope / steep;
            let next = if next > low && next < high {
                next
            } else {
                0.5 * (low + high)
            };
            if (next - t).abs() <= 1e-16 * t.abs() || high - low <= f64::EPSILON * high {
                return next;
            }
            t = next;
        }
        t
    }
}

/// The two roots of `a t² + 2 b t + c`, or where it comes nearest to having one: rounding must not
/// lose a double root.
fn roots(a: f64, b: f64, c: f64) -> [f64; 2] {
    let root = (b * b - a * c).max(0.0).sqrt();
    let q = -(b + root.copysign(b));
    [q / a, c / q]
}

/// Least signed distance of the segment `a`–`b` to the cylinder with flat ends about `from`–`to`.
/// One of no length is a flat disc with no inside.
pub(crate) fn near(a: Vec3, b: Vec3, from: Vec3, to: Vec3, radius: f64) -> Near {
    let Some(axis) = (to - from).try_normalize() else {
        return capsule::near(a, b, from, to, radius);
    };
    let center = (from + to) * 0.5;
    let split = |v: Vec3| {
        let along = v.dot(axis);
        (along, v - axis * along)
    };
    let (along, out) = split(a - center);
    let (along_way, out_way) = split(b - a);
    let seen = Seen {
        radius,
        half: 0.5 * (to - from).length(),
        along,
        along_way,
        out,
        out_way,
        a: out_way.length_squared(),
        b: out.dot(out_way),
        c: out.length_squared(),
    };
    let t = seen.least();
    let at = seen.at(t);
    let on_axis = a + (b - a) * t;
    let outwards = seen.out + seen.out_way * t;
    let outwards = if at.off > 1e-12 {
        outwards / at.off
    } else if seen.a > 1e-12 * (b - a).length_squared() {
        // The segment crosses the axis: out is square to both.
        out_way.cross(axis).normalize()
    } else {
        square_to(axis)
    };
    let endwards = axis * at.sign;
    let distance = at.distance();
    let normal = match at.part {
        Part::Side => outwards,
        Part::Flat => endwards,
        Part::Rim => (outwards * at.over_side + endwards * at.over_flat) / distance,
    };
    Near {
        distance,
        on_axis,
        on_body: on_axis - normal * distance,
        normal,
    }
}
