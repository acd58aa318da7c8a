//! Bodies as flat faces and sharp edges, for whoever draws them.

use std::collections::BTreeMap;
use std::f64::consts::TAU;

use super::Shape;
use crate::Vec3;

/// Sides of what is round.
const SIDES: u32 = 24;
/// Two faces that meet at a sharper angle than this have an edge between them [rad].
const SHARP: f64 = 25.0 * std::f64::consts::PI / 180.0;

/// Faces and sharp edges, by the numbers of their corners. Lengths in metres.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Faces {
    /// The corners [m].
    pub points: Vec<Vec3>,
    /// Three corners each, anticlockwise as seen from outside.
    pub triangles: Vec<[u32; 3]>,
    /// Two corners each.
    pub edges: Vec<[u32; 2]>,
}

impl Faces {
    /// A body's outside. What is round has 24 sides; a mesh gives nothing here.
    pub fn of(shape: &Shape) -> Self {
        let mut faces = Self::default();
        match shape {
            Shape::Box { center, half, axes } => faces.cuboid(*center, *half, axes),
            Shape::Cylinder { a, b, radius } => faces.lathe(&[*a, *b], *radius, true),
            Shape::Capsule { a, b, radius } => faces.lathe(&[*a, *b], *radius, true),
            Shape::Tube { points, radius } => faces.lathe(points, *radius, true),
            Shape::Hull(hull) => faces.soup(hull.triangles()),
            // A scan has far too many to be drawn as faces: its points are asked for by themselves.
            Shape::Mesh(_) => {}
        }
        faces.edges = faces.sharp();
        faces
    }

    fn corner(&self, at: u32) -> Vec3 {
        self.points.get(at as usize).copied().unwrap_or(Vec3::ZERO)
    }

    /// Triangles that share their corners where these are the same to the bit.
    fn soup(&mut self, triangles: impl Iterator<Item = [Vec3; 3]>) {
        let mut known: BTreeMap<[u64; 3], u32> = BTreeMap::new();
        for triangle in triangles {
            let numbers = triangle.map(|corner| {
                let key = corner.to_array().map(f64::to_bits);
                let next = u32::try_from(self.points.len()).unwrap_or(u32::MAX);
                let number = *known.entry(key).or_insert(next);
                if number == next {
                    self.points.push(corner);
                }
                number
            });
            self.triangles.push(numbers);
        }
    }

    fn cuboid(&mut self, center: Vec3, half: Vec3, axes: &[Vec3; 3]) {
        for corner in 0..8_u32 {
            let sign = |bit: u32| if corner >> bit & 1 == 1 { 1.0 } else { -1.0 };
            let [x, y, z] = axes;
            self.points.push(
                center
                    + *x * (sign(0) * half.x)
                    + *y * (sign(1) * half.y)
                    + *z * (sign(2) * half.z),
            );
        }
        let mirrored = axes[0].cross(axes[1]).dot(axes[2]) < 0.0; // OK because an array of three.
        for [a, b, c, d] in [
            [0, 2, 3, 1],
            [4, 5, 7, 6],
            [0, 1, 5, 4],
            [2, 6, 7, 3],
            [0, 4, 6, 2],
            [1, 3, 7, 5],
        ] {
            for [p, q, r] in [[a, b, c], [a, c, d]] {
                self.triangles
                    .push(if mirrored { [p, r, q] } else { [p, q, r] });
            }
        }
    }

    /// A round bar through points, with flat ends.
    fn lathe(&mut self, points: &[Vec3], radius: f64, ends: bool) {
        let ways: Vec<Vec3> = points
            .windows(2)
            .filter_map(|pair| (*pair.get(1)? - *pair.first()?).try_normalize())
            .collect();
        let Some(first) = ways.first().copied() else {
            return;
        };
        let mut side = first.any_orthonormal_vector();
        let count = points.len();
        for (i, point) in points.iter().enumerate() {
            let before = i.checked_sub(1).and_then(|i| ways.get(i));
            let after = ways.get(i);
            let along = match (before, after) {
                (Some(before), Some(after)) => (*before + *after).try_normalize().unwrap_or(*after),
                (Some(only), None) | (None, Some(only)) => *only,
                (None, None) => first,
            };
            side = (side - along * side.dot(along))
                .try_normalize()
                .unwrap_or_else(|| along.any_orthonormal_vector());
            let up = along.cross(side);
            for k in 0..SIDES {
                let angle = TAU * f64::from(k) / f64::from(SIDES);
                self.points
                    .push(*point + (side * angle.cos() + up * angle.sin()) * radius);
            }
        }
        let rings = u32::try_from(count).unwrap_or(0);
        for ring in 0..rings.saturating_sub(1) {
            for k in 0..SIDES {
                let next = (k + 1) % SIDES;
                let (a, b) = (ring * SIDES + k, ring * SIDES + next);
                let (c, d) = (a + SIDES, b + SIDES);
                self.triangles.push([a, b, d]);
                self.triangles.push([a, d, c]);
            }
        }
        if ends && rings > 1 {
            let last = (rings - 1) * SIDES;
            for k in 1..SIDES - 1 {
                self.triangles.push([0, k + 1, k]);
                self.triangles.push([last, last + k, last + k + 1]);
            }
        }
    }

    fn normal(&self, [a, b, c]: [u32; 3]) -> Vec3 {
        let a = self.corner(a);
        (self.corner(b) - a)
            .cross(self.corner(c) - a)
            .normalize_or_zero()
    }

    fn sharp(&self) -> Vec<[u32; 2]> {
        let mut meets: BTreeMap<[u32; 2], Vec<Vec3>> = BTreeMap::new();
        for triangle in &self.triangles {
            let normal = self.normal(*triangle);
            let [a, b, c] = *triangle;
            for (p, q) in [(a, b), (b, c), (c, a)] {
                meets.entry([p.min(q), p.max(q)]).or_default().push(normal);
            }
        }
        meets
            .into_iter()
            .filter(|(_, normals)| match normals.as_slice() {
                [one, other] => one.dot(*other) < SHARP.cos(),
                _ => true,
            })
            .map(|(edge, _)| edge)
            .collect()
    }
}
