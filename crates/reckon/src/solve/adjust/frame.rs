//! The frame of a net: which points fix it.

use super::Place;
use super::least::{Index, cross, dot, minus, plus, scaled, size};

/// Which points fix the frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Frame {
    /// Lies at 0, 0.
    pub origin: usize,
    /// Lies along x.
    pub along: usize,
    /// Lies in the plane of x and y, where nothing says which way is up.
    pub third: Option<usize>,
    /// Whether z is up.
    pub level: bool,
    /// Whether a height says where z begins.
    pub heights: bool,
}

/// A point nearer to another than this share of the farthest gives no direction.
const NEAR: f64 = 0.1;

impl Frame {
    /// Chosen among the points that have a place, the first that will do.
    pub(super) fn of(
        places: &[Place],
        placed: &[bool],
        level: bool,
        heights: bool,
    ) -> Option<Self> {
        let mut standing = (0..places.len()).filter(|&p| placed[p]);
        let origin = standing.next()?;
        let from = |p: usize| {
            let mut along = minus(places[p], places[origin]);
            if level {
                along[2] = 0.0;
            }
            along
        };
        let rest: Vec<usize> = standing.collect();
        let farthest = rest.iter().map(|&p| size(from(p))).fold(0.0, f64::max);
        let along = *rest.iter().find(|&&p| size(from(p)) > NEAR * farthest)?;
        let x = scaled(from(along), 1.0 / size(from(along)));
        let third = if level {
            None
        } else {
            let aside = |p: usize| {
                let step = from(p);
                size(minus(step, scaled(x, dot(step, x))))
            };
            rest.iter().copied().find(|&p| aside(p) > NEAR * farthest)
        };
        Some(Self {
            origin,
            along,
            third,
            level,
            heights,
        })
    }

    /// The same places, turned and shifted into the frame.
    pub(super) fn turned(&self, places: &[Place]) -> Vec<Place> {
        let origin = places[self.origin];
        let mut x = minus(places[self.along], origin);
        if self.level {
            x[2] = 0.0;
        }
        let x = scaled(x, 1.0 / size(x).max(f64::MIN_POSITIVE));
        let z = if self.level {
            [0.0, 0.0, 1.0]
        } else {
            let third = self.third.map_or([0.0, 0.0, 1.0], |third| {
                cross(x, minus(places[third], origin))
            });
            let far = size(third);
            if far > 0.0 {
                scaled(third, 1.0 / far)
            } else {
                let aside = if x[0].abs() < 0.9 {
                    [1.0, 0.0, 0.0]
                } else {
                    [0.0, 1.0, 0.0]
                };
                let across = cross(x, aside);
                scaled(across, 1.0 / size(across))
            }
        };
        let y = cross(z, x);
        places
            .iter()
            .map(|place| {
                let step = minus(*place, origin);
                let z = if self.level { step[2] } else { dot(step, z) };
                [dot(step, x), dot(step, y), z]
            })
            .map(|place| {
                // Heights keep their own beginning.
                if self.level && self.heights {
                    plus(place, [0.0, 0.0, origin[2]])
                } else {
                    place
                }
            })
            .collect()
    }

    /// Which coordinates are free.
    pub(super) fn index(&self, placed: &[bool]) -> Index {
        let mut next = 0;
        (0..placed.len())
            .map(|point| {
                [0, 1, 2].map(|axis| {
                    let still = match axis {
                        0 => point == self.origin,
                        1 => point == self.origin || point == self.along,
                        _ if self.level => point == self.origin && !self.heights,
                        _ => {
                            point == self.origin || point == self.along || Some(point) == self.third
                        }
                    };
                    (placed[point] && !still).then(|| {
                        next += 1;
                        next - 1
                    })
                })
            })
            .collect()
    }

    /// The same places seen in a mirror.
    pub(super) fn mirrored(&self, places: &[Place]) -> Vec<Place> {
        let axis = if self.level { 1 } else { 2 };
        places
            .iter()
            .map(|place| {
                let mut place = *place;
                place[axis] = -place[axis];
                place
            })
            .collect()
    }
}
