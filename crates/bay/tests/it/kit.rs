//! Signed distances of points written down once more in the plainest way, and the least of them
//! along a segment by search.

use bay::Vec3;
use bay::solid::Shape;

pub(crate) fn at(x: f64, y: f64, z: f64) -> Vec3 {
    Vec3::new(x, y, z)
}

/// Signed distance of a point to a convex shape, each face or part by itself.
pub(crate) fn signed(shape: &Shape, p: Vec3) -> f64 {
    match shape {
        Shape::Box { center, half, axes } => {
            let over: Vec<f64> = (0..3)
                .map(|k| (p - *center).dot(axes[k]).abs() - half[k])
                .collect();
            let out = over.iter().map(|x| x.max(0.0).powi(2)).sum::<f64>().sqrt();
            let most = over.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            if most > 0.0 { out } else { most }
        }
        Shape::Cylinder { a, b, radius } => {
            let u = (*b - *a).normalize();
            let z = (p - *a).dot(u);
            let off = (p - *a - u * z).length() - radius;
            let end = (-z).max(z - (*b - *a).length());
            match (off > 0.0, end > 0.0) {
                (true, true) => off.hypot(end),
                _ => off.max(end),
            }
        }
        Shape::Capsule { a, b, radius } => {
            let way = *b - *a;
            let t = ((p - *a).dot(way) / way.length_squared()).clamp(0.0, 1.0);
            (p - *a - way * t).length() - radius
        }
        _ => unreachable!("no plain form here"),
    }
}

/// The least along the segment of a function that is convex along it, by thirds.
pub(crate) fn least(a: Vec3, b: Vec3, of: impl Fn(Vec3) -> f64) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..200 {
        let (p, q) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if of(a + (b - a) * p) <= of(a + (b - a) * q) {
            high = q;
        } else {
            low = p;
        }
    }
    [low, high, 0.0, 1.0]
        .map(|t| of(a + (b - a) * t))
        .into_iter()
        .fold(f64::INFINITY, f64::min)
}
