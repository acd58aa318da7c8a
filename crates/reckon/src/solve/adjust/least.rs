//! Least squares: the places that fit all measurements best, with their covariance.

use nalgebra::{Cholesky, DMatrix, DVector, SymmetricEigen};

use super::{Measure, Place, What};

/// Which number of the solution each coordinate of each point is; `None` where it stands still.
pub(super) type Index = Vec<[Option<usize>; 3]>;

/// A step smaller than this share of the usual distance moves nothing that could be read.
const STILL: f64 = 1e-11;
/// More steps than any sane bay needs; beyond them the best so far stands.
const MOST_STEPS: usize = 200;
/// Eigenvalues of the scaled normal matrix below this say that nothing holds that direction.
const LOOSE: f64 = 1e-9;

/// The best places, and what is known of them.
#[derive(Clone, Debug)]
pub(super) struct Least {
    pub(super) places: Vec<Place>,
    /// Sum of the squares of what is left over, each over its uncertainty.
    pub(super) squares: f64,
    /// The normal matrix there.
    normal: DMatrix<f64>,
    pub(super) index: Index,
}

pub(super) fn minus(a: Place, b: Place) -> Place {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

pub(super) fn dot(a: Place, b: Place) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

pub(super) fn cross(a: Place, b: Place) -> Place {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

pub(super) fn size(a: Place) -> f64 {
    dot(a, a).sqrt()
}

pub(super) fn scaled(a: Place, by: f64) -> Place {
    [a[0] * by, a[1] * by, a[2] * by]
}

pub(super) fn plus(a: Place, b: Place) -> Place {
    [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
}

/// What a measurement would read at these places.
pub(super) fn reads(what: &What, places: &[Place]) -> f64 {
    match *what {
        What::Distance { from, to } => size(minus(places[to], places[from])),
        What::Height { at } => places[at][2],
        What::Slope { from, to } => {
            let along = minus(places[to], places[from]);
            along[2].atan2(along[0].hypot(along[1]))
        }
    }
}

/// How the reading changes as each point moves: the points with their three slopes.
pub(super) fn slopes(what: &What, places: &[Place]) -> Vec<(usize, Place)> {
    match *what {
        What::Distance { from, to } => {
            let along = minus(places[to], places[from]);
            let far = size(along).max(f64::MIN_POSITIVE);
            let unit = scaled(along, 1.0 / far);
            vec![(to, unit), (from, scaled(unit, -1.0))]
        }
        What::Height { at } => vec![(at, [0.0, 0.0, 1.0])],
        What::Slope { from, to } => {
            let along = minus(places[to], places[from]);
            let flat = along[0].hypot(along[1]).max(f64::MIN_POSITIVE);
            let square = dot(along, along).max(f64::MIN_POSITIVE);
            let level = -along[2] / square / flat;
            let slope = [level * along[0], level * along[1], flat / square];
            vec![(to, slope), (from, scaled(slope, -1.0))]
        }
    }
}

/// The normal matrix, the right-hand side and the sum of squares at these places.
fn normal(
    measured: &[Measure],
    used: &[bool],
    places: &[Place],
    index: &Index,
    count: usize,
) -> (DMatrix<f64>, DVector<f64>, f64) {
    let mut matrix = DMatrix::zeros(count, count);
    let mut side = DVector::zeros(count);
    let mut squares = 0.0;
    let mut row: Vec<(usize, f64)> = Vec::with_capacity(6);
    for measure in measured
        .iter()
        .zip(used)
        .filter_map(|(m, used)| used.then_some(m))
    {
        let weight = 1.0 / (measure.sigma * measure.sigma);
        let left = measure.value - reads(&measure.what, places);
        squares += weight * left * left;
        row.clear();
        for (point, slope) in slopes(&measure.what, places) {
            for axis in 0..3 {
                if let Some(at) = index[point][axis] {
                    row.push((at, slope[axis]));
                }
            }
        }
        for &(i, a) in &row {
            side[i] += weight * a * left;
            for &(j, b) in &row {
                matrix[(i, j)] += weight * a * b;
            }
        }
    }
    (matrix, side, squares)
}

fn moved(places: &[Place], index: &Index, step: &DVector<f64>) -> Vec<Place> {
    let mut moved = places.to_vec();
    for (place, own) in moved.iter_mut().zip(index) {
        for axis in 0..3 {
            if let Some(at) = own[axis] {
                place[axis] += step[at];
            }
        }
    }
    moved
}

/// The best places near a start. Only coordinates with an index move.
///
/// Source: Levenberg's and Marquardt's damping of Gauss's and Newton's steps, from memory.
pub(super) fn least(measured: &[Measure], used: &[bool], start: &[Place], index: Index) -> Least {
    let count = index.iter().flatten().flatten().count();
    let far = measured
        .iter()
        .filter(|measure| matches!(measure.what, What::Distance { .. }))
        .map(|measure| measure.value.abs())
        .fold(1e-6, f64::max);
    let mut places = start.to_vec();
    let (mut matrix, mut side, mut squares) = normal(measured, used, &places, &index, count);
    let mut damping = 1e-4;
    for _ in 0..MOST_STEPS {
        let mut damped = matrix.clone();
        for i in 0..count {
            // A coordinate that nothing holds stays where it is.
            let own = damped[(i, i)];
            damped[(i, i)] = if own > 0.0 {
                own * (1.0 + damping)
            } else {
                1.0
            };
        }
        let Some(factors) = Cholesky::new(damped) else {
            damping = f64::max(damping * 10.0, 1e-6);
            if damping > 1e12 {
                break;
            }
            continue;
        };
        let step = factors.solve(&side);
        let next = moved(&places, &index, &step);
        let (next_matrix, next_side, next_squares) = normal(measured, used, &next, &index, count);
        if next_squares.is_finite() && next_squares <= squares {
            let still = step.amax() < STILL * far;
            (places, matrix, side, squares) = (next, next_matrix, next_side, next_squares);
            damping = f64::max(damping / 10.0, 1e-14);
            if still {
                break;
            }
        } else {
            if step.amax() < STILL * far {
                break;
            }
            damping *= 10.0;
            if damping > 1e12 {
                break;
            }
        }
    }
    Least {
        places,
        squares,
        normal: matrix,
        index,
    }
}

impl Least {
    /// The number of coordinates that were free.
    pub(super) fn count(&self) -> usize {
        self.normal.nrows()
    }

    /// The covariance of the free coordinates, or the points that nothing holds in some direction.
    pub(super) fn covariance(&self) -> Result<DMatrix<f64>, Vec<usize>> {
        let count = self.count();
        if count == 0 {
            return Ok(DMatrix::zeros(0, 0));
        }
        // Scaled so that its diagonal is one: then an eigenvalue says how firmly a direction is held.
        let scale: Vec<f64> = (0..count)
            .map(|i| 1.0 / self.normal[(i, i)].max(f64::MIN_POSITIVE).sqrt())
            .collect();
        let mut matrix = self.normal.clone();
        for i in 0..count {
            for j in 0..count {
                matrix[(i, j)] *= scale[i] * scale[j];
            }
            if self.normal[(i, i)] <= 0.0 {
                matrix[(i, i)] = 0.0;
            }
        }
        let eigen = SymmetricEigen::new(matrix);
        let mut loose: Vec<usize> = Vec::new();
        for (which, value) in eigen.eigenvalues.iter().enumerate() {
            if *value > LOOSE {
                continue;
            }
            let vector = eigen.eigenvectors.column(which);
            let most = vector.amax();
            for (point, own) in self.index.iter().enumerate() {
                let moves = own
                    .iter()
                    .flatten()
                    .any(|at| vector[*at].abs() > 0.1 * most);
                if moves && !loose.contains(&point) {
                    loose.push(point);
                }
            }
        }
        if !loose.is_empty() {
            loose.sort_unstable();
            return Err(loose);
        }
        let mut inverse = DMatrix::zeros(count, count);
        for (which, value) in eigen.eigenvalues.iter().enumerate() {
            let vector = eigen.eigenvectors.column(which);
            inverse += (vector * vector.transpose()) / *value;
        }
        for i in 0..count {
            for j in 0..count {
                inverse[(i, j)] *= scale[i] * scale[j];
            }
        }
        Ok(inverse)
    }

    /// The variance of what a measurement would read, from the places alone.
    pub(super) fn variance(&self, covariance: &DMatrix<f64>, what: &What) -> f64 {
        let mut row: Vec<(usize, f64)> = Vec::new();
        for (point, slope) in slopes(what, &self.places) {
            for (at, slope) in self.index[point].iter().zip(slope) {
                row.extend(at.map(|at| (at, slope)));
            }
        }
        let mut sum = 0.0;
        for &(i, a) in &row {
            for &(j, b) in &row {
                sum += a * b * covariance[(i, j)];
            }
        }
        sum
    }
}
