//! Sums of squared distances to planes: how far a corner strays from the surface that it stands for.

use crate::Vec3;

/// Planes with their weights: the sum of their squared distances to x is x·Ax − 2 b·x + c.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Planes {
    // xx, yy, zz and xy, yz, zx of A.
    even: Vec3,
    mixed: Vec3,
    b: Vec3,
    c: f64,
}

impl Planes {
    /// Adds the plane through `p` square to the unit vector `normal`.
    pub(super) fn add(&mut self, normal: Vec3, p: Vec3, weight: f64) {
        let high = normal.dot(p);
        let turned = Vec3::new(normal.y, normal.z, normal.x);
        self.even += normal * normal * weight;
        self.mixed += normal * turned * weight;
        self.b += normal * (high * weight);
        self.c += high * high * weight;
    }

    /// Both sums in one.
    pub(super) fn and(&self, other: &Self) -> Self {
        Self {
            even: self.even + other.even,
            mixed: self.mixed + other.mixed,
            b: self.b + other.b,
            c: self.c + other.c,
        }
    }

    fn turned(&self, x: Vec3) -> Vec3 {
        let (xy, yz, zx) = (self.mixed.x, self.mixed.y, self.mixed.z);
        Vec3::new(
            self.even.x * x.x + xy * x.y + zx * x.z,
            xy * x.x + self.even.y * x.y + yz * x.z,
            zx * x.x + yz * x.y + self.even.z * x.z,
        )
    }

    /// The mean of the squared distances of `x`, in m².
    pub(super) fn mean_square(&self, x: Vec3) -> f64 {
        // The squares of a unit vector's parts make one, so these make the sum of the weights.
        let weight = self.even.element_sum();
        if weight > 0.0 {
            ((x.dot(self.turned(x)) - 2.0 * self.b.dot(x) + self.c) / weight).max(0.0)
        } else {
            0.0
        }
    }

    /// Where the sum is least, drawn a little to `toward`, which settles what the planes leave open.
    pub(super) fn best(&self, toward: Vec3) -> Vec3 {
        let weight = self.even.element_sum();
        if weight <= 0.0 {
            return toward;
        }
        let even = self.even + Vec3::splat(1e-5 * weight);
        let (xy, yz, zx) = (self.mixed.x, self.mixed.y, self.mixed.z);
        let rest = self.b - self.turned(toward);
        let (p, q, r) = (
            Vec3::new(even.x, xy, zx),
            Vec3::new(xy, even.y, yz),
            Vec3::new(zx, yz, even.z),
        );
        let whole = p.dot(q.cross(r));
        if whole <= 0.0 {
            return toward;
        }
        let step = Vec3::new(
            rest.dot(q.cross(r)),
            rest.dot(r.cross(p)),
            rest.dot(p.cross(q)),
        );
        toward + step / whole
    }
}

/// For each corner the planes of its triangles, weighted by their areas, and upright ones along open
/// edges, which hold the rim where it is.
pub(super) fn planes_of(corners: &[Vec3], triangles: &[[u32; 3]]) -> Vec<Planes> {
    let mut planes = vec![Planes::default(); corners.len()];
    let mut edges: Vec<(u32, u32, Vec3)> = Vec::with_capacity(3 * triangles.len());
    for names in triangles {
        let [Some(a), Some(b), Some(c)] = names.map(|name| corners.get(name as usize)) else {
            continue;
        };
        let area = (*b - *a).cross(*c - *a);
        let Some(normal) = area.try_normalize() else {
            continue;
        };
        let [p, q, r] = *names;
        for (from, to) in [(p, q), (q, r), (r, p)] {
            edges.push((from.min(to), from.max(to), normal));
            if let Some(sum) = planes.get_mut(from as usize) {
                sum.add(normal, *a, area.length());
            }
        }
    }
    edges.sort_unstable_by_key(|edge| (edge.0, edge.1));
    for same in edges.chunk_by(|x, y| (x.0, x.1) == (y.0, y.1)) {
        let [(from, to, normal)] = same else { continue };
        let (Some(p), Some(q)) = (corners.get(*from as usize), corners.get(*to as usize)) else {
            continue;
        };
        let way = *q - *p;
        let Some(upright) = way.cross(*normal).try_normalize() else {
            continue;
        };
        for name in [from, to] {
            if let Some(sum) = planes.get_mut(*name as usize) {
                sum.add(upright, *p, 2.0 * way.length_squared());
            }
        }
    }
    planes
}
