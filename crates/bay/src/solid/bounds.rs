//! Boxes along the axes, for leaving out early what is far off.

use crate::Vec3;

/// A box along the axes of the frame, in m. An empty one has `low` above `high`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// The least x, y and z.
    pub low: Vec3,
    /// The greatest x, y and z.
    pub high: Vec3,
}

impl Bounds {
    /// Holds nothing.
    pub const EMPTY: Self = Self {
        low: Vec3::INFINITY,
        high: Vec3::NEG_INFINITY,
    };

    /// Holds all of space.
    pub const ALL: Self = Self {
        low: Vec3::NEG_INFINITY,
        high: Vec3::INFINITY,
    };

    /// The smallest that holds all the points.
    pub fn of(points: impl IntoIterator<Item = Vec3>) -> Self {
        points.into_iter().fold(Self::EMPTY, Self::with)
    }

    /// The smallest that holds this one and the point.
    #[must_use]
    pub fn with(self, point: Vec3) -> Self {
        Self {
            low: self.low.min(point),
            high: self.high.max(point),
        }
    }

    /// The smallest that holds this one and the other.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self {
            low: self.low.min(other.low),
            high: self.high.max(other.high),
        }
    }

    /// Grown by `by` m on every side.
    #[must_use]
    pub fn grown(self, by: f64) -> Self {
        Self {
            low: self.low - Vec3::splat(by),
            high: self.high + Vec3::splat(by),
        }
    }

    /// Moved by `by` m.
    #[must_use]
    pub fn moved(self, by: Vec3) -> Self {
        Self {
            low: self.low + by,
            high: self.high + by,
        }
    }

    /// Whether the point lies in it or on its edge.
    pub fn holds(&self, point: Vec3) -> bool {
        point.cmpge(self.low).all() && point.cmple(self.high).all()
    }

    /// Square of the gap to another box in m²: zero where they meet.
    pub fn gap_squared(&self, other: &Self) -> f64 {
        (self.low - other.high)
            .max(other.low - self.high)
            .max(Vec3::ZERO)
            .length_squared()
    }
}
