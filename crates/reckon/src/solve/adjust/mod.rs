//! Places from tapes: least squares over distances, heights and slopes, with what each is worth.
//!
//! Points are numbers; the first of them are the datum pins. Lengths are in one unit throughout a
//! call, slopes in radians. The frame is the net's own: the first pin is the origin, the second
//! lies along x, z is up where heights or slopes say so, and y is to the left of x.
//! Source of the method: C. F. Gauss, Theoria combinationis observationum (1823); W. Baarda, A
//! testing procedure for use in geodetic networks (1968), both from memory.

mod doubt;
mod frame;
mod girth;
mod least;
mod mirror;
mod settle;
mod start;

pub use doubt::{Blunder, Doubt, LeftOut, SURE};
pub use frame::Frame;
pub use girth::{axis_width, diameter_of_girth};
pub use mirror::Mirrored;

use nalgebra::DMatrix;

/// A place: along x, to the left, up.
pub type Place = [f64; 3];

/// What was measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    /// The straight distance between two points.
    Distance {
        /// One end.
        from: usize,
        /// The other.
        to: usize,
    },
    /// The height of a point over the common level.
    Height {
        /// Which point.
        at: usize,
    },
    /// How steeply the line between two points rises, by inclinometer.
    Slope {
        /// Lower where the slope is over 0.
        from: usize,
        /// The other end.
        to: usize,
    },
}

impl What {
    /// The points it ties.
    pub fn points(&self) -> Vec<usize> {
        match *self {
            Self::Distance { from, to } | Self::Slope { from, to } => vec![from, to],
            Self::Height { at } => vec![at],
        }
    }
}

/// One measurement.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measure {
    /// Of what.
    pub what: What,
    /// What was read.
    pub value: f64,
    /// Its standard uncertainty, over 0.
    pub sigma: f64,
}

/// Where a point was seen to lie, which of two mirrored places it has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Says {
    /// To the left of the line from one point to another, seen from above.
    Left([usize; 2]),
    /// To the right of it.
    Right([usize; 2]),
    /// Seen from the point, three others go round clockwise.
    Clockwise([usize; 3]),
    /// Seen from the point, they go round the other way.
    Anticlockwise([usize; 3]),
}

/// A side that was told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Side {
    /// Of which point.
    pub point: usize,
    /// Which side.
    pub says: Says,
}

/// All that was measured.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Net {
    /// How many points there are.
    pub points: usize,
    /// The first so many are pins.
    pub pins: usize,
    /// What was measured of them.
    pub measured: Vec<Measure>,
    /// Sides that were told.
    pub sides: Vec<Side>,
}

/// Why a point has no place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Lack {
    /// Too few tapes reach it from points that have a place.
    TooFew {
        /// So many do.
        has: usize,
        /// So many would do.
        due: usize,
    },
    /// The points it is tied to stand in one line, or nearly, so that it can turn about it.
    Turns {
        /// Those points.
        about: Vec<usize>,
    },
}

/// All that follows from what was measured.
#[derive(Clone, Debug, Default)]
pub struct Adjusted {
    /// Whether heights or slopes say which way is up.
    pub level: bool,
    /// The frame; `None` where no point could be placed.
    pub frame: Option<Frame>,
    /// The place of each point, where it has one.
    pub places: Vec<Option<Place>>,
    /// Of all coordinates, three a point; 0 where one stands still or has no place.
    covariance: DMatrix<f64>,
    /// Sum of the squares of what is left over, each over its uncertainty.
    pub squares: f64,
    /// How many measurements there are beyond those that the places need.
    pub spare: usize,
    /// Whether each measurement was used.
    pub used: Vec<bool>,
    /// What is left over of each that was used: read less reckoned.
    pub left: Vec<Option<f64>>,
    /// Points without a place, and why.
    pub lacks: Vec<(usize, Lack)>,
    /// Nothing says which of two mirrored nets is the true one.
    pub hand_open: bool,
    /// Points with two places that fit as well, where no side was told that settles it.
    pub mirrored: Vec<Mirrored>,
    /// Sides that were told and agree with no solution that agrees with the others.
    pub against: Vec<usize>,
    /// Each measurement left out and all solved again; `None` where nothing checks it.
    pub tests: Vec<Option<LeftOut>>,
    /// Measurements that are wrong beyond doubt and were left out.
    pub blunders: Vec<Blunder>,
    /// Measurements of which one is wrong, and it can't be told which.
    pub doubt: Option<Doubt>,
}

impl Adjusted {
    /// The covariance of two points' coordinates.
    pub fn covariance(&self, one: usize, other: usize) -> [[f64; 3]; 3] {
        let at = |i: usize, j: usize| {
            self.covariance
                .get((3 * one + i, 3 * other + j))
                .copied()
                .unwrap_or(0.0)
        };
        [0, 1, 2].map(|i| [0, 1, 2].map(|j| at(i, j)))
    }

    /// The greatest standard uncertainty of a point, and in which direction it lies.
    pub fn weakest(&self, point: usize) -> (f64, Place) {
        greatest(self.covariance(point, point))
    }

    /// The direction from one point to another, and the standard uncertainty of that direction
    /// across itself [rad]; `None` where either has no place.
    pub fn axis(&self, from: usize, to: usize) -> Option<(Place, f64)> {
        let along = least::minus((*self.places.get(to)?)?, (*self.places.get(from)?)?);
        let far = least::size(along);
        if far <= 0.0 {
            return None;
        }
        let unit = least::scaled(along, 1.0 / far);
        let spread = self.apart(from, to);
        // Only what lies across the axis turns it.
        let mut across = [[0.0; 3]; 3];
        for (i, row) in across.iter_mut().enumerate() {
            for (j, entry) in row.iter_mut().enumerate() {
                for (k, spread_row) in spread.iter().enumerate() {
                    for (l, value) in spread_row.iter().enumerate() {
                        let keep =
                            |a: usize, b: usize| f64::from(u8::from(a == b)) - unit[a] * unit[b];
                        *entry += keep(i, k) * value * keep(l, j);
                    }
                }
            }
        }
        Some((unit, greatest(across).0 / far))
    }

    /// Whether what is left over is no more than the uncertainties of the readings explain.
    pub fn agrees(&self) -> bool {
        self.squares <= chi_square_limit(self.spare)
    }

    /// The covariance of the step from one point to another.
    fn apart(&self, from: usize, to: usize) -> [[f64; 3]; 3] {
        let (a, b) = (self.covariance(from, from), self.covariance(to, to));
        let (ab, ba) = (self.covariance(from, to), self.covariance(to, from));
        [0, 1, 2].map(|i| [0, 1, 2].map(|j| a[i][j] + b[i][j] - ab[i][j] - ba[i][j]))
    }
}

/// The sum of squares that so many spare readings pass once in a thousand times only. Wilson and
/// Hilferty's cube root; source: M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions,
/// 26.4.17, from memory.
fn chi_square_limit(spare: usize) -> f64 {
    if spare == 0 {
        return f64::INFINITY;
    }
    let k = spare as f64;
    let spread = 2.0 / (9.0 * k);
    k * (1.0 - spread + 3.09 * spread.sqrt()).powi(3)
}

/// The greatest deviation of a covariance of three, and its direction.
fn greatest(covariance: [[f64; 3]; 3]) -> (f64, Place) {
    let eigen = nalgebra::SymmetricEigen::new(DMatrix::from_fn(3, 3, |i, j| covariance[i][j]));
    let most = (0..3)
        .max_by(|&a, &b| eigen.eigenvalues[a].total_cmp(&eigen.eigenvalues[b]))
        .unwrap_or(0);
    let vector = eigen.eigenvectors.column(most);
    (
        eigen.eigenvalues[most].max(0.0).sqrt(),
        [vector[0], vector[1], vector[2]],
    )
}

/// Finds the places that fit best, tests each measurement by leaving it out, and leaves out for
/// good what is wrong beyond doubt.
pub fn adjust(net: &Net) -> Adjusted {
    let mut used = vec![true; net.measured.len()];
    let mut blunders = Vec::new();
    loop {
        let Some(solved) = settle::settle(net, &used) else {
            return settle::nothing(net);
        };
        let tests = doubt::leave_each_out(net, &solved);
        match doubt::find(net, &solved, &tests) {
            doubt::Found::One(blunder) if blunders.len() < doubt::MOST => {
                used[blunder.measure] = false;
                blunders.push(blunder);
            }
            // So many wrong tapes are no slips of the hand any more: nothing is left out further, and the
            // sum of squares tells that what is left does not agree.
            doubt::Found::One(_) => return settle::told(net, solved, tests, blunders, None),
            doubt::Found::Several(doubt) => {
                return settle::told(net, solved, tests, blunders, Some(doubt));
            }
            doubt::Found::Nothing => {
                return settle::told(net, solved, tests, blunders, None);
            }
        }
    }
}
