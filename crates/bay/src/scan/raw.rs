//! Triangles as a file holds them, in a unit that the file does not tell.

use super::Lay;
use crate::Vec3;
use crate::solid::Bounds;

/// Triangles in the file's own unit.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Raw {
    /// The corners.
    pub corners: Vec<Vec3>,
    /// Three corners by their places in the list, counter-clockwise seen from outside.
    pub triangles: Vec<[u32; 3]>,
}

/// How long a unit of the file is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Unit {
    /// So many m: 0.001 for a file in mm.
    Metres(f64),
    /// By one length measured aboard between two points that the scan shows.
    Length {
        /// One end, in the file's unit.
        from: Vec3,
        /// The other.
        to: Vec3,
        /// Their distance in m.
        metres: f64,
    },
}

/// A unit that cannot be.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum NoUnit {
    /// Not a length above nothing.
    #[error("a unit of {0} m is no length above nothing")]
    Size(f64),
    /// The two points of the known length are one.
    #[error("the two ends of the known length are the same point of the scan")]
    SamePoint,
}

impl Unit {
    /// How many m a unit of the file is.
    ///
    /// # Errors
    ///
    /// Where that is no length above nothing.
    pub fn metres(&self) -> Result<f64, NoUnit> {
        let metres = match self {
            Self::Metres(metres) => *metres,
            Self::Length { from, to, metres } => {
                let apart = from.distance(*to);
                if apart == 0.0 {
                    return Err(NoUnit::SamePoint);
                }
                metres / apart
            }
        };
        if metres.is_finite() && metres > 0.0 {
            Ok(metres)
        } else {
            Err(NoUnit::Size(metres))
        }
    }
}

impl Raw {
    /// The box about all corners, in the file's unit: what shows whether a unit can be right.
    pub fn bounds(&self) -> Bounds {
        Bounds::of(self.corners.iter().copied())
    }

    /// The same with all lengths times a factor.
    #[must_use]
    pub fn scaled(&self, by: f64) -> Self {
        Self {
            corners: self.corners.iter().map(|corner| *corner * by).collect(),
            triangles: self.triangles.clone(),
        }
    }

    /// The same laid into the boat's frame.
    #[must_use]
    pub fn laid(&self, lay: &Lay) -> Self {
        Self {
            corners: self
                .corners
                .iter()
                .map(|corner| lay.place(*corner))
                .collect(),
            triangles: self.triangles.clone(),
        }
    }

    /// The same with corners at one place made one, as files that repeat them for each triangle
    /// need, and without triangles that then have two corners in one or name a corner that is not
    /// there. Corners that no triangle names are left out.
    #[must_use]
    pub fn welded(&self) -> Self {
        // Keys that rise with the coordinates; adding nothing makes one of the two zeros.
        let key = |x: f64| {
            let bits = (x + 0.0).to_bits();
            if bits >> 63 == 0 {
                bits | 1 << 63
            } else {
                !bits
            }
        };
        let mut order: Vec<([u64; 3], u32)> = self
            .corners
            .iter()
            .map(|corner| corner.to_array().map(key))
            .zip(0..)
            .collect();
        order.sort_unstable();
        let mut first = vec![0_u32; self.corners.len()];
        for same in order.chunk_by(|x, y| x.0 == y.0) {
            let Some((_, least)) = same.first() else {
                continue;
            };
            for (_, name) in same {
                if let Some(place) = first.get_mut(*name as usize) {
                    *place = *least;
                }
            }
        }
        let triangles: Vec<[u32; 3]> = self
            .triangles
            .iter()
            .filter_map(|names| {
                let [a, b, c] = names.map(|name| first.get(name as usize).copied());
                Some([a?, b?, c?])
            })
            .filter(|[a, b, c]| a != b && b != c && c != a)
            .collect();
        Self {
            corners: self.corners.clone(),
            triangles,
        }
        .compact()
    }

    /// The same without corners that no triangle names.
    pub(super) fn compact(self) -> Self {
        const GONE: u32 = u32::MAX;
        let mut named = vec![GONE; self.corners.len()];
        let mut corners = Vec::new();
        let mut name_of = |name: u32| {
            let place = named.get_mut(name as usize)?;
            if *place == GONE {
                *place = corners.len() as u32;
                corners.push(*self.corners.get(name as usize)?);
            }
            Some(*place)
        };
        let triangles = self
            .triangles
            .iter()
            .filter_map(|[a, b, c]| Some([name_of(*a)?, name_of(*b)?, name_of(*c)?]))
            .collect();
        Self { corners, triangles }
    }
}
