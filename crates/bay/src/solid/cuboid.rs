//! A box at any turn: its signed distance along a segment is convex, and its least has a closed form.

use super::near::Near;
use crate::Vec3;

/// Least signed distance of the segment `a`–`b` to the box about `center` with half its edges
/// `half` along the unit vectors `axes`.
pub(crate) fn near(a: Vec3, b: Vec3, center: Vec3, half: Vec3, axes: &[Vec3; 3]) -> Near {
    let [x, y, z] = *axes;
    let local = |p: Vec3| {
        Vec3::new(
            (p - center).dot(x),
            (p - center).dot(y),
            (p - center).dot(z),
        )
    };
    let global = |v: Vec3| x * v.x + y * v.y + z * v.z;
    let (start, end) = (local(a), local(b));
    let way = end - start;
    let share = match inside(start, way, half) {
        Some((from, to)) => deepest(start, way, half, from, to),
        None => nearest(start, way, half),
    };
    let p = start + way * share;
    let over = p.abs() - half;
    let sign = Vec3::new(one_of(p.x), one_of(p.y), one_of(p.z));
    let out = over.max(Vec3::ZERO);
    let far = out.length();
    let (distance, normal) = if far > 0.0 {
        (far, out / far * sign)
    } else if over.x >= over.y && over.x >= over.z {
        (over.x, Vec3::X * sign)
    } else if over.y >= over.z {
        (over.y, Vec3::Y * sign)
    } else {
        (over.z, Vec3::Z * sign)
    };
    Near {
        distance,
        on_axis: a + (b - a) * share,
        on_body: center + global(p - normal * distance),
        normal: global(normal),
    }
}

fn one_of(x: f64) -> f64 {
    if x < 0.0 { -1.0 } else { 1.0 }
}

/// The shares between which the segment lies in the box.
fn inside(start: Vec3, way: Vec3, half: Vec3) -> Option<(f64, f64)> {
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for ((p, v), h) in start
        .to_array()
        .into_iter()
        .zip(way.to_array())
        .zip(half.to_array())
    {
        if v == 0.0 {
            if p.abs() > h {
                return None;
            }
        } else {
            let (one, other) = ((-h - p) / v, (h - p) / v);
            from = from.max(one.min(other));
            to = to.min(one.max(other));
        }
    }
    (from <= to).then_some((from, to))
}

/// The share of the point deepest in the box, between two shares that lie in it: the least of the
/// greatest of six straight lines, which is at an end or where two of them cross.
fn deepest(start: Vec3, way: Vec3, half: Vec3, from: f64, to: f64) -> f64 {
    let depth = |t: f64| ((start + way * t).abs() - half).max_element();
    let (p, v, h) = (start.to_array(), way.to_array(), half.to_array());
    let lines = [0, 1, 2, 3, 4, 5].map(|k: usize| {
        let sign = if k < 3 { 1.0 } else { -1.0 };
        (sign * p[k % 3] - h[k % 3], sign * v[k % 3]) // OK because k % 3 is below three.
    });
    let mut best = from;
    let mut least = depth(from);
    let mut offer = |t: f64| {
        if t >= from && t <= to && depth(t) < least {
            least = depth(t);
            best = t;
        }
    };
    offer(to);
    for (k, (one, rise)) in lines.iter().enumerate() {
        for (other, other_rise) in lines.iter().skip(k + 1) {
            if rise != other_rise {
                offer((other - one) / (rise - other_rise));
            }
        }
    }
    best
}

/// The share of the point nearest to a box that the segment does not meet: the slope of the squared
/// distance rises along it, straight between the planes of the faces.
fn nearest(start: Vec3, way: Vec3, half: Vec3) -> f64 {
    let slope = |t: f64| {
        let p = start + way * t;
        (p - p.clamp(-half, half)).dot(way)
    };
    let (at_start, at_end) = (slope(0.0), slope(1.0));
    if at_start >= 0.0 {
        return 0.0;
    }
    if at_end <= 0.0 {
        return 1.0;
    }
    let (mut low, mut high) = ((0.0, at_start), (1.0, at_end));
    for ((p, v), h) in start
        .to_array()
        .into_iter()
        .zip(way.to_array())
        .zip(half.to_array())
    {
        if v == 0.0 {
            continue;
        }
        for t in [(-h - p) / v, (h - p) / v] {
            if t > low.0 && t < high.0 {
                let s = slope(t);
                if s < 0.0 {
                    low = (t, s);
                } else {
                    high = (t, s);
                }
            }
        }
    }
    low.0 + (high.0 - low.0) * (-low.1 / (high.1 - low.1))
}
