//! Nearest points of segments, points and triangles: closed forms.

use crate::Vec3;

/// The share along `a`–`b`, 0 to 1, of its point nearest to `p`.
pub(crate) fn share_of_point(p: Vec3, a: Vec3, b: Vec3) -> f64 {
    let way = b - a;
    let square = way.length_squared();
    if square > 0.0 {
        ((p - a).dot(way) / square).clamp(0.0, 1.0)
    } else {
        0.0
    }
}

/// The shares along `a`–`b` and `c`–`d`, each 0 to 1, of the points where the two come nearest.
pub(crate) fn shares_of_segments(a: Vec3, b: Vec3, c: Vec3, d: Vec3) -> (f64, f64) {
    let (u, v, w) = (b - a, d - c, a - c);
    let (uu, vv, uv) = (u.length_squared(), v.length_squared(), u.dot(v));
    let (uw, vw) = (u.dot(w), v.dot(w));
    let square = uu * vv - uv * uv;
    if square > 1e-12 * uu * vv {
        let s = ((uv * vw - vv * uw) / square).clamp(0.0, 1.0);
        let t = (uv * s + vw) / vv;
        if t < 0.0 {
            ((-uw / uu).clamp(0.0, 1.0), 0.0)
        } else if t > 1.0 {
            (((uv - uw) / uu).clamp(0.0, 1.0), 1.0)
        } else {
            (s, t)
        }
    } else {
        // Parallel, or one of them a point: the nearest pair has an end of one of them.
        let pairs = [
            (0.0, share_of_point(a, c, d)),
            (1.0, share_of_point(b, c, d)),
            (share_of_point(c, a, b), 0.0),
            (share_of_point(d, a, b), 1.0),
        ];
        let apart = |(s, t): (f64, f64)| (w + u * s - v * t).length_squared();
        let [first, rest @ ..] = pairs;
        rest.into_iter().fold(first, |best, pair| {
            if apart(pair) < apart(best) {
                pair
            } else {
                best
            }
        })
    }
}
