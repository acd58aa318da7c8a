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
    for _ in 0..90 {
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

/// Corners and triangles of a surface.
pub(crate) struct Surface {
    pub(crate) corners: Vec<Vec3>,
    pub(crate) triangles: Vec<[u32; 3]>,
}

impl Surface {
    /// The corners of every triangle.
    pub(crate) fn flat(&self) -> Vec<[Vec3; 3]> {
        let corner = |name: u32| self.corners[name as usize];
        self.triangles
            .iter()
            .map(|names| names.map(corner))
            .collect()
    }

    /// Without the triangles whose middle is where the test says.
    pub(crate) fn without(mut self, gone: impl Fn(Vec3) -> bool) -> Self {
        let flat = self.flat();
        let mut flat = flat.iter();
        self.triangles.retain(|_| {
            let [a, b, c] = flat.next().expect("as many");
            !gone((*a + *b + *c) / 3.0)
        });
        self
    }
}

/// A ball of `rings` by `around` cells whose radius waves by `wave` of itself.
pub(crate) fn ball(center: Vec3, radius: f64, wave: f64, rings: u32, around: u32) -> Surface {
    let place = |ring: u32, turn: u32| {
        let theta = std::f64::consts::PI * f64::from(ring) / f64::from(rings);
        let phi = std::f64::consts::TAU * f64::from(turn % around) / f64::from(around);
        let out = at(
            theta.sin() * phi.cos(),
            theta.sin() * phi.sin(),
            theta.cos(),
        );
        let radius = radius * (1.0 + wave * (5.0 * theta).sin() * theta.sin() * (4.0 * phi).cos());
        center + out * radius
    };
    let mut corners = vec![center + Vec3::Z * radius];
    for ring in 1..rings {
        corners.extend((0..around).map(|turn| place(ring, turn)));
    }
    corners.push(center - Vec3::Z * radius);
    let last = corners.len() as u32 - 1;
    let name = |ring: u32, turn: u32| match ring {
        0 => 0,
        ring if ring == rings => last,
        ring => 1 + (ring - 1) * around + turn % around,
    };
    let mut triangles = Vec::new();
    for ring in 0..rings {
        for turn in 0..around {
            let (a, b) = (name(ring, turn), name(ring, turn + 1));
            let (c, d) = (name(ring + 1, turn), name(ring + 1, turn + 1));
            if a != b {
                triangles.push([a, d, b]);
            }
            if c != d {
                triangles.push([a, c, d]);
            }
        }
    }
    Surface { corners, triangles }
}

/// A ring about z: `radius` to the middle of the bar, `bar` the bar's own.
pub(crate) fn ring(radius: f64, bar: f64, along: u32, around: u32) -> Surface {
    let angle = |k: u32, of: u32| std::f64::consts::TAU * f64::from(k % of) / f64::from(of);
    let mut corners = Vec::new();
    let mut triangles = Vec::new();
    for k in 0..along {
        for n in 0..around {
            let (phi, theta) = (angle(k, along), angle(n, around));
            let out = radius + bar * theta.cos();
            corners.push(at(out * phi.cos(), out * phi.sin(), bar * theta.sin()));
            let name = |k: u32, n: u32| (k % along) * around + n % around;
            let (a, b, c, d) = (
                name(k, n),
                name(k + 1, n),
                name(k, n + 1),
                name(k + 1, n + 1),
            );
            triangles.extend([[a, b, d], [a, d, c]]);
        }
    }
    Surface { corners, triangles }
}

/// The nearest point of a triangle, by which of its seven regions the point lies over.
pub(crate) fn on_triangle(p: Vec3, [a, b, c]: [Vec3; 3]) -> Vec3 {
    let (ab, ac, ap) = (b - a, c - a, p - a);
    let (d1, d2) = (ab.dot(ap), ac.dot(ap));
    if d1 <= 0.0 && d2 <= 0.0 {
        return a;
    }
    let (d3, d4) = (ab.dot(p - b), ac.dot(p - b));
    if d3 >= 0.0 && d4 <= d3 {
        return b;
    }
    let vc = d1 * d4 - d3 * d2;
    if vc <= 0.0 && d1 >= 0.0 && d3 <= 0.0 {
        return a + ab * (d1 / (d1 - d3));
    }
    let (d5, d6) = (ab.dot(p - c), ac.dot(p - c));
    if d6 >= 0.0 && d5 <= d6 {
        return c;
    }
    let vb = d5 * d2 - d1 * d6;
    if vb <= 0.0 && d2 >= 0.0 && d6 <= 0.0 {
        return a + ac * (d2 / (d2 - d6));
    }
    let va = d3 * d6 - d5 * d4;
    if va <= 0.0 && d4 >= d3 && d5 >= d6 {
        return b + (c - b) * ((d4 - d3) / ((d4 - d3) + (d5 - d6)));
    }
    let over = 1.0 / (va + vb + vc);
    a + ab * (vb * over) + ac * (vc * over)
}

/// Distance of a point to the nearest of all triangles.
pub(crate) fn brute(p: Vec3, all: &[[Vec3; 3]]) -> f64 {
    all.iter()
        .map(|triangle| on_triangle(p, *triangle).distance_squared(p))
        .fold(f64::INFINITY, f64::min)
        .sqrt()
}

/// Winding number by the excess of the angles of each spherical triangle.
pub(crate) fn brute_winding(p: Vec3, all: &[[Vec3; 3]]) -> f64 {
    let mut sum = 0.0;
    for triangle in all {
        let [x, y, z] = triangle.map(|corner| (corner - p).normalize());
        let apart = |x: Vec3, y: Vec3| x.cross(y).length().atan2(x.dot(y));
        let (a, b, c) = (apart(y, z), apart(z, x), apart(x, y));
        let s = 0.5 * (a + b + c);
        let product =
            (0.5 * s).tan() * (0.5 * (s - a)).tan() * (0.5 * (s - b)).tan() * (0.5 * (s - c)).tan();
        let sign = x.dot(y.cross(z)).signum();
        sum += sign * 4.0 * product.max(0.0).sqrt().atan();
    }
    sum / (4.0 * std::f64::consts::PI)
}

/// Numbers between zero and one that are the same each time.
pub(crate) struct Draw(pub(crate) u64);

impl Draw {
    pub(crate) fn next(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// A place in a cube about the origin.
    pub(crate) fn place(&mut self, reach: f64) -> Vec3 {
        let mut one = || (2.0 * self.next() - 1.0) * reach;
        at(one(), one(), one())
    }
}
