//! A round bar with half balls at its ends, and a chain of them.

use super::near::{Near, square_to};
use super::segment::shares_of_segments;
use crate::Vec3;

/// Least signed distance of the segment `a`–`b` to the capsule about `c`–`d`.
pub(crate) fn near(a: Vec3, b: Vec3, c: Vec3, d: Vec3, radius: f64) -> Near {
    let (s, t) = shares_of_segments(a, b, c, d);
    let on_axis = a + (b - a) * s;
    let middle = c + (d - c) * t;
    let apart = on_axis - middle;
    let far = apart.length();
    let normal = if far > 1e-12 {
        apart / far
    } else {
        // The two lines meet: out of it is square to both. Lines in one have many such ways.
        let (u, v) = (b - a, d - c);
        let both = u.cross(v);
        if both.length_squared() > 1e-12 * u.length_squared() * v.length_squared() {
            both.normalize()
        } else if v == Vec3::ZERO {
            square_to(u)
        } else {
            square_to(v)
        }
    };
    Near {
        distance: far - radius,
        on_axis,
        on_body: middle + normal * radius,
        normal,
    }
}

/// The same to a chain of capsules through `points`. Its inside is measured to the centre line, so
/// at the inner side of a bend a point in it lies at least as deep as told.
///
/// `None` without points, or where all of it is farther than `within` m.
pub(crate) fn near_chain(
    a: Vec3,
    b: Vec3,
    points: &[Vec3],
    radius: f64,
    within: f64,
) -> Option<Near> {
    if let [only] = points {
        return near(a, b, *only, *only, radius).if_within(within);
    }
    let mut best: Option<Near> = None;
    for (c, d) in points.iter().zip(points.iter().skip(1)) {
        let next = near(a, b, *c, *d, radius);
        if best.is_none_or(|best| next.distance < best.distance) {
            best = Some(next);
        }
    }
    best?.if_within(within)
}
