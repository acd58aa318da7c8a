//! A thing in the bay: its shape, its nature, the frame that it belongs to and the clearance it wants.

use super::near::Near;
use super::{Bounds, capsule, cuboid, cylinder};
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
        }
    }

    /// Whether the straight line `a`–`b` meets the body.
    pub fn blocks(&self, a: Vec3, b: Vec3) -> bool {
        self.near(a, b, 0.0).is_some()
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
