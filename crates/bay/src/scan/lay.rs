//! Laying a scan into the boat's frame by points that both know.
//!
//! The turn is the unit quaternion that belongs to the greatest eigenvalue of a symmetric matrix of
//! the points' products (Horn, Closed-form solution of absolute orientation using unit quaternions,
//! 1987; from memory), so it is never a mirror.

use crate::Vec3;

/// Whether the sizes of scan and boat are to agree.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scale {
    /// They do: the scan has its unit.
    Kept,
    /// The factor between them is to be found as well.
    Found,
}

/// How a scan lies in the boat.
#[derive(Debug, Clone, PartialEq)]
pub struct Lay {
    /// The rows of the turn.
    pub turn: [Vec3; 3],
    /// Where the scan's origin comes to lie, in m.
    pub shift: Vec3,
    /// The factor of sizes: one where it was kept.
    pub scale: f64,
    /// The factor that would fit best: far from one, the unit is in doubt.
    pub best_scale: f64,
    /// How far each point lies from its partner, in m.
    pub residuals: Vec<f64>,
    /// Root of the mean square of these, in m.
    pub rms: f64,
}

/// Why points lay no scan.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum NoLay {
    /// Fewer than three pairs.
    #[error("{0} matching points: three or more are needed")]
    TooFew(usize),
    /// A coordinate is no finite number.
    #[error("matching point {0} has a coordinate that is no finite number")]
    NotFinite(usize),
    /// They lie in one line, or so near to it that the turn about it stays open.
    #[error(
        "the matching points lie within {off:.4} m of one line {long:.3} m long: the scan could turn about it; take one well off it"
    )]
    Collinear {
        /// The greatest distance of a point to the line, in m.
        off: f64,
        /// How far they reach along it, in m.
        long: f64,
    },
    /// They fit far better in a mirror.
    #[error(
        "the points fit within {rms:.4} m, mirrored within {mirrored:.4} m: one of the frames is left-handed, or two points are changed over"
    )]
    Mirrored {
        /// Root mean square as they are, in m.
        rms: f64,
        /// The same in a mirror, in m.
        mirrored: f64,
    },
}

impl Lay {
    /// Where a point of the scan lies in the boat, in m.
    pub fn place(&self, p: Vec3) -> Vec3 {
        self.way(p) * self.scale + self.shift
    }

    /// Which way a direction of the scan points in the boat.
    pub fn way(&self, v: Vec3) -> Vec3 {
        let [x, y, z] = self.turn;
        Vec3::new(x.dot(v), y.dot(v), z.dot(v))
    }
}

/// A point off its line by less than this share of the line's length settles no turn.
const THIN: f64 = 0.02;

/// The least squares fit of points of the scan, in m, to the same points in the boat.
///
/// # Errors
///
/// Where there are fewer than three pairs, they lie in one line, or they fit in a mirror only. Three
/// points, or more in one plane, fit as well in a mirror: there nothing can be told of it.
pub fn lay(pairs: &[(Vec3, Vec3)], scale: Scale) -> Result<Lay, NoLay> {
    if pairs.len() < 3 {
        return Err(NoLay::TooFew(pairs.len()));
    }
    let odd = |(p, q): &(Vec3, Vec3)| !p.is_finite() || !q.is_finite();
    if let Some(number) = pairs.iter().position(odd) {
        return Err(NoLay::NotFinite(number));
    }
    for points in [
        pairs.iter().map(|pair| pair.0).collect::<Vec<_>>(),
        pairs.iter().map(|pair| pair.1).collect(),
    ] {
        let (off, long) = off_line(&points);
        if off <= THIN * long {
            return Err(NoLay::Collinear { off, long });
        }
    }
    let found = fit(pairs, scale);
    let mirror = |p: Vec3| Vec3::new(-p.x, p.y, p.z);
    let turned: Vec<(Vec3, Vec3)> = pairs.iter().map(|(p, q)| (mirror(*p), *q)).collect();
    let mirrored = fit(&turned, scale).rms;
    // A thousandth of a millimetre is as good as nothing.
    if mirrored + 1e-6 < 0.5 * found.rms {
        return Err(NoLay::Mirrored {
            rms: found.rms,
            mirrored,
        });
    }
    Ok(found)
}

/// The greatest distance of points to the line through the two farthest apart, and their distance.
fn off_line(points: &[Vec3]) -> (f64, f64) {
    let mut best = (Vec3::ZERO, Vec3::ZERO);
    for (k, p) in points.iter().enumerate() {
        for q in points.iter().skip(k + 1) {
            if p.distance_squared(*q) > best.0.distance_squared(best.1) {
                best = (*p, *q);
            }
        }
    }
    let way = (best.1 - best.0).normalize_or_zero();
    let off = points.iter().map(|p| (*p - best.0).cross(way).length());
    (off.fold(0.0, f64::max), best.0.distance(best.1))
}

fn fit(pairs: &[(Vec3, Vec3)], scale: Scale) -> Lay {
    let count = pairs.len() as f64;
    let middle = |of: &dyn Fn(&(Vec3, Vec3)) -> Vec3| pairs.iter().map(of).sum::<Vec3>() / count;
    let (from, to) = (middle(&|pair| pair.0), middle(&|pair| pair.1));
    // The sums of products: column by the scan's axis, row within it by the boat's.
    let (mut x, mut y, mut z) = (Vec3::ZERO, Vec3::ZERO, Vec3::ZERO);
    for (p, q) in pairs {
        let (p, q) = (*p - from, *q - to);
        x += q * p.x;
        y += q * p.y;
        z += q * p.z;
    }
    let matrix = [
        [x.x + y.y + z.z, y.z - z.y, z.x - x.z, x.y - y.x],
        [y.z - z.y, x.x - y.y - z.z, x.y + y.x, z.x + x.z],
        [z.x - x.z, x.y + y.x, y.y - x.x - z.z, y.z + z.y],
        [x.y - y.x, z.x + x.z, y.z + z.y, z.z - x.x - y.y],
    ];
    let [w, i, j, k] = greatest(matrix);
    let turn = [
        Vec3::new(
            w * w + i * i - j * j - k * k,
            2.0 * (i * j - w * k),
            2.0 * (i * k + w * j),
        ),
        Vec3::new(
            2.0 * (i * j + w * k),
            w * w - i * i + j * j - k * k,
            2.0 * (j * k - w * i),
        ),
        Vec3::new(
            2.0 * (i * k - w * j),
            2.0 * (j * k + w * i),
            w * w - i * i - j * j + k * k,
        ),
    ];
    let mut lay = Lay {
        turn,
        shift: Vec3::ZERO,
        scale: 1.0,
        best_scale: 1.0,
        residuals: Vec::new(),
        rms: 0.0,
    };
    let along: f64 = pairs
        .iter()
        .map(|(p, q)| lay.way(*p - from).dot(*q - to))
        .sum();
    let size: f64 = pairs
        .iter()
        .map(|(p, _)| (*p - from).length_squared())
        .sum();
    if size > 0.0 && along > 0.0 {
        lay.best_scale = along / size;
    }
    if scale == Scale::Found {
        lay.scale = lay.best_scale;
    }
    lay.shift = to - lay.way(from) * lay.scale;
    lay.residuals = pairs
        .iter()
        .map(|(p, q)| lay.place(*p).distance(*q))
        .collect();
    let squares: f64 = lay.residuals.iter().map(|far| far * far).sum();
    lay.rms = (squares / count).sqrt();
    lay
}

/// The unit eigenvector of the greatest eigenvalue of a symmetric matrix, by turns that clear one
/// pair of places after the other.
fn greatest(mut m: [[f64; 4]; 4]) -> [f64; 4] {
    let mut vectors = [
        [1.0, 0.0, 0.0, 0.0],
        [0.0, 1.0, 0.0, 0.0],
        [0.0, 0.0, 1.0, 0.0],
        [0.0, 0.0, 0.0, 1.0],
    ];
    // OK because all places below are under four.
    for _ in 0..60 {
        let mut off = 0.0;
        for p in 0..4 {
            for q in p + 1..4 {
                off += m[p][q] * m[p][q];
                if m[p][q] == 0.0 {
                    continue;
                }
                let theta = (m[q][q] - m[p][p]) / (2.0 * m[p][q]);
                let t = theta.signum() / (theta.abs() + theta.hypot(1.0));
                let c = 1.0 / t.hypot(1.0);
                let s = t * c;
                for row in &mut m {
                    (row[p], row[q]) = (c * row[p] - s * row[q], s * row[p] + c * row[q]);
                }
                let (up, down) = (m[p], m[q]);
                m[p] = [0, 1, 2, 3].map(|k| c * up[k] - s * down[k]);
                m[q] = [0, 1, 2, 3].map(|k| s * up[k] + c * down[k]);
                for row in &mut vectors {
                    (row[p], row[q]) = (c * row[p] - s * row[q], s * row[p] + c * row[q]);
                }
            }
        }
        if off == 0.0 {
            break;
        }
    }
    let mut best = 0;
    for k in 1..4 {
        if m[k][k] > m[best][best] {
            best = k;
        }
    }
    let vector = vectors.map(|row| row[best]);
    let length = vector.iter().map(|x| x * x).sum::<f64>().sqrt();
    vector.map(|x| x / length)
}
