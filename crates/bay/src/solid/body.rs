//! A thing in the bay: its shape, its nature, the frame that it belongs to and the clearance it wants.

use std::sync::Arc;

use super::near::{Near, apart, square_to};
use super::{Bounds, Flat, Hull, Mesh, capsule, cuboid, cylinder};
use crate::Vec3;

/// What a body looks like. Lengths in m.
#[derive(Debug, Clone)]
pub enum Shape {
    /// A box at any turn.
    Box {
        /// Its middle.
        center: Vec3,
        /// Half of its edges.
        half: Vec3,
        /// The unit vectors along its edges, square to each other.
        axes: [Vec3; 3],
    },
    /// A round bar with flat ends.
    Cylinder {
        /// The middle of one end.
        a: Vec3,
        /// The middle of the other.
        b: Vec3,
        /// Its radius.
        radius: f64,
    },
    /// A round bar with half a ball at each end.
    Capsule {
        /// The middle of the ball at one end.
        a: Vec3,
        /// The middle of the ball at the other.
        b: Vec3,
        /// Its radius.
        radius: f64,
    },
    /// A chain of capsules: a hose or a pipe along its centre line.
    Tube {
        /// The corners of the centre line.
        points: Vec<Vec3>,
        /// Its radius.
        radius: f64,
    },
    /// The smallest convex body about points.
    Hull(Hull),
    /// A surface of triangles.
    Mesh(Arc<Mesh>),
}

impl Shape {
    /// A box along the axes of the frame.
    pub fn upright_box(center: Vec3, half: Vec3) -> Self {
        Self::Box {
            center,
            half,
            axes: [Vec3::X, Vec3::Y, Vec3::Z],
        }
    }

    /// The least signed distance of the segment `a`–`b` to the surface, exact to rounding: the least
    /// over the segment's points of each point's own signed distance. A point is a segment with
    /// equal ends.
    ///
    /// `None` where it is farther than `within` m; `f64::INFINITY` asks without a bound.
    pub fn near(&self, a: Vec3, b: Vec3, within: f64) -> Option<Near> {
        match self {
            Self::Box { center, half, axes } => {
                cuboid::near(a, b, *center, *half, axes).if_within(within)
            }
            Self::Cylinder {
                a: from,
                b: to,
                radius,
            } => cylinder::near(a, b, *from, *to, *radius).if_within(within),
            Self::Capsule {
                a: from,
                b: to,
                radius,
            } => capsule::near(a, b, *from, *to, *radius).if_within(within),
            Self::Tube { points, radius } => capsule::near_chain(a, b, points, *radius, within),
            Self::Hull(hull) => hull.near(a, b, within),
            Self::Mesh(mesh) => mesh.near(a, b, within),
        }
    }

    /// Whether a round piece of `radius` m about `a`–`b` reaches into the body: of a mesh far cheaper
    /// than [`Shape::near`], which also tells how deep.
    pub fn meets(&self, a: Vec3, b: Vec3, radius: f64) -> bool {
        match self {
            Self::Mesh(mesh) => mesh.meets_or_behind(a, b, radius),
            _ => self
                .near(a, b, radius)
                .is_some_and(|near| near.distance < radius),
        }
    }

    /// Calls `found` for the nearest place of the surface to a point, no farther than `within` m; on
    /// a mesh or a tube for the nearest of every face too that is seen from the point more than 30° off the nearer ones,
    /// so that the inside of a corner answers with both of its sides. On a mesh those are no farther than `press` m.
    pub fn each_face(&self, p: Vec3, within: f64, press: f64, found: &mut dyn FnMut(Near)) {
        match self {
            Self::Tube { points, radius } => {
                let mut all: Vec<Near> = points
                    .windows(2)
                    .filter_map(|pair| match pair {
                        [c, d] => capsule::near(p, p, *c, *d, *radius).if_within(within),
                        _ => None,
                    })
                    .collect();
                if points.len() < 2 {
                    all.extend(self.near(p, p, within));
                }
                all.sort_by(|a, b| a.distance.total_cmp(&b.distance));
                let mut kept: Vec<Near> = Vec::new();
                for near in all {
                    if kept.iter().all(|kept| apart(kept.normal, near.normal)) {
                        found(near);
                        kept.push(near);
                    }
                }
            }
            Self::Mesh(mesh) => mesh.each_face(p, within, press, found),
            _ => {
                if let Some(near) = self.near(p, p, within) {
                    found(near);
                }
            }
        }
    }

    /// Whether the straight line `a`–`b` meets the body.
    pub fn blocks(&self, a: Vec3, b: Vec3) -> bool {
        match self {
            Self::Mesh(mesh) => mesh.blocks(a, b),
            _ => self.near(a, b, 0.0).is_some(),
        }
    }

    /// A box along the axes that holds all points at no positive distance from it.
    pub fn bounds(&self) -> Bounds {
        match self {
            Self::Box { center, half, axes } => {
                let [x, y, z] = *axes;
                let reach = x.abs() * half.x + y.abs() * half.y + z.abs() * half.z;
                Bounds::of([*center - reach, *center + reach])
            }
            Self::Cylinder { a, b, radius } => {
                let axis = (*b - *a).try_normalize().unwrap_or(Vec3::ZERO);
                let reach = (Vec3::ONE - axis * axis).max(Vec3::ZERO).to_array();
                let reach = Vec3::from_array(reach.map(f64::sqrt)) * *radius;
                Bounds::of([*a - reach, *a + reach, *b - reach, *b + reach])
            }
            Self::Capsule { a, b, radius } => Bounds::of([*a, *b]).grown(*radius),
            Self::Tube { points, radius } => Bounds::of(points.iter().copied()).grown(*radius),
            Self::Hull(hull) => hull.bounds(),
            Self::Mesh(mesh) => mesh.bounds(),
        }
    }

    /// The same shape moved by `by` m.
    #[must_use]
    pub fn moved(&self, by: Vec3) -> Self {
        match self {
            Self::Box { center, half, axes } => Self::Box {
                center: *center + by,
                half: *half,
                axes: *axes,
            },
            Self::Cylinder { a, b, radius } => Self::Cylinder {
                a: *a + by,
                b: *b + by,
                radius: *radius,
            },
            Self::Capsule { a, b, radius } => Self::Capsule {
                a: *a + by,
                b: *b + by,
                radius: *radius,
            },
            Self::Tube { points, radius } => Self::Tube {
                points: points.iter().map(|p| *p + by).collect(),
                radius: *radius,
            },
            Self::Hull(hull) => Self::Hull(hull.moved(by)),
            Self::Mesh(mesh) => Self::Mesh(Arc::new(mesh.moved(by))),
        }
    }

    /// What the shape sweeps on its way through `places`, each in m from where it is: the convex
    /// body about it at all of them. The round of a cylinder is taken for a polygon about it of
    /// 32 sides, which stands out by half a hundredth of its radius at the corners.
    ///
    /// # Errors
    ///
    /// Where all of it lies in one plane.
    pub fn swept(&self, places: &[Vec3]) -> Result<Self, Flat> {
        let (corners, round) = self.corners();
        let still = [Vec3::ZERO];
        let places = if places.is_empty() { &still } else { places };
        let points: Vec<Vec3> = places
            .iter()
            .flat_map(|place| corners.iter().map(move |corner| *corner + *place))
            .collect();
        Hull::new(&points, round).map(Self::Hull)
    }

    /// Points whose convex body, grown by the number beside them, holds the shape.
    fn corners(&self) -> (Vec<Vec3>, f64) {
        match self {
            Self::Box { center, half, axes } => {
                let [x, y, z] = *axes;
                let corner = |k: u8| {
                    let sign = |n: u8| if k >> n & 1 == 0 { -1.0 } else { 1.0 };
                    *center + x * half.x * sign(0) + y * half.y * sign(1) + z * half.z * sign(2)
                };
                ((0..8).map(corner).collect(), 0.0)
            }
            Self::Cylinder { a, b, radius } => {
                const SIDES: u32 = 32;
                let axis = (*b - *a).try_normalize().unwrap_or(Vec3::Z);
                let u = square_to(axis);
                let v = axis.cross(u);
                let step = std::f64::consts::TAU / f64::from(SIDES);
                let reach = radius / (0.5 * step).cos();
                let ring = (0..SIDES).flat_map(|k| {
                    let (sin, cos) = (f64::from(k) * step).sin_cos();
                    let out = (u * cos + v * sin) * reach;
                    [*a + out, *b + out]
                });
                (ring.collect(), 0.0)
            }
            Self::Capsule { a, b, radius } => (vec![*a, *b], *radius),
            Self::Tube { points, radius } => (points.clone(), *radius),
            Self::Hull(hull) => (hull.points().collect(), hull.round()),
            Self::Mesh(mesh) => (mesh.triangles().flatten().collect(), mesh.grown_by()),
        }
    }
}

/// What a body does to a hose beside it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Nature {
    /// It stands and is cool.
    Solid,
    /// It radiates: it matters whether the hose sees it.
    Hot,
    /// It moves by itself, a belt or a pulley: the shape is all that it sweeps.
    Moving,
}

/// What a body is fixed to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Frame {
    /// The boat.
    Hull,
    /// The engine, which moves on its mounts.
    Engine,
}

/// A thing in the bay.
#[derive(Debug, Clone)]
pub struct Body {
    /// What it is called.
    pub name: String,
    /// What it looks like.
    pub shape: Shape,
    /// What it does to a hose beside it.
    pub nature: Nature,
    /// What it is fixed to.
    pub frame: Frame,
    /// The least gap between its surface and a hose's, in m.
    pub keep: f64,
}

impl Body {
    /// A cool body that stands in the hull and wants no clearance.
    pub fn solid(name: impl Into<String>, shape: Shape) -> Self {
        Self {
            name: name.into(),
            shape,
            nature: Nature::Solid,
            frame: Frame::Hull,
            keep: 0.0,
        }
    }
}
