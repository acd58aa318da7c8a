//! Where to begin: rough places from the tapes themselves, several ways round.

use nalgebra::{DMatrix, DVector};

use super::least::{cross, dot, minus, plus, scaled, size};
use super::{Measure, Place, What};

/// Rough places; `None` for a point that can't be placed.
pub(super) type Rough = Vec<Option<Place>>;

/// The tapes and heights by point.
pub(super) struct Ties {
    /// For each point: the other end, the distance and its uncertainty.
    pub(super) tapes: Vec<Vec<(usize, f64, f64)>>,
    /// The height of each point, where it was measured.
    pub(super) heights: Vec<Option<f64>>,
}

impl Ties {
    pub(super) fn of(points: usize, measured: &[Measure], used: &[bool]) -> Self {
        let mut ties = Self {
            tapes: vec![Vec::new(); points],
            heights: vec![None; points],
        };
        for (measure, _) in measured.iter().zip(used).filter(|(_, used)| **used) {
            match measure.what {
                What::Distance { from, to } => {
                    ties.tapes[from].push((to, measure.value, measure.sigma));
                    ties.tapes[to].push((from, measure.value, measure.sigma));
                }
                What::Height { at } => ties.heights[at] = Some(measure.value),
                What::Slope { .. } => {}
            }
        }
        ties
    }

    fn between(&self, a: usize, b: usize) -> Option<f64> {
        self.tapes[a]
            .iter()
            .find(|(other, ..)| *other == b)
            .map(|(_, far, _)| *far)
    }
}

/// Where two circles in plan cross; where they don't, the nearest point between them.
fn circles(a: Place, ra: f64, b: Place, rb: f64) -> Vec<[f64; 2]> {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let apart = dx.hypot(dy);
    if apart < 1e-9 * (ra + rb) {
        return Vec::new();
    }
    let along = (apart * apart + ra * ra - rb * rb) / (2.0 * apart);
    let (ux, uy) = (dx / apart, dy / apart);
    let foot = [a[0] + along * ux, a[1] + along * uy];
    let aside = (ra * ra - along * along).max(0.0).sqrt();
    vec![
        [foot[0] - aside * uy, foot[1] + aside * ux],
        [foot[0] + aside * uy, foot[1] - aside * ux],
    ]
}

/// Where three spheres meet; where they don't, the nearest point in their plane.
fn spheres(at: [Place; 3], radius: [f64; 3]) -> Vec<Place> {
    let [a, b, c] = at;
    let ab = minus(b, a);
    let d = size(ab);
    let ac = minus(c, a);
    if d < 1e-9 * radius[0] {
        return Vec::new();
    }
    let ex = scaled(ab, 1.0 / d);
    let i = dot(ex, ac);
    let aside = minus(ac, scaled(ex, i));
    let j = size(aside);
    if j < 1e-6 * d {
        return Vec::new();
    }
    let ey = scaled(aside, 1.0 / j);
    let ez = cross(ex, ey);
    let x = (radius[0].powi(2) - radius[1].powi(2) + d * d) / (2.0 * d);
    let y = (radius[0].powi(2) - radius[2].powi(2) + i * i + j * j - 2.0 * i * x) / (2.0 * j);
    let z = (radius[0].powi(2) - x * x - y * y).max(0.0).sqrt();
    let foot = plus(a, plus(scaled(ex, x), scaled(ey, y)));
    vec![plus(foot, scaled(ez, z)), plus(foot, scaled(ez, -z))]
}

/// Places for one point by its tapes to points that stand, the best first. Judged by the plain
/// sum of what is left over, which one wrong tape can't turn round.
pub(super) fn places(
    tapes: &[(usize, f64, f64)],
    height: Option<f64>,
    stand: &Rough,
) -> Vec<(Place, f64)> {
    let known: Vec<(Place, f64, f64)> = tapes
        .iter()
        .filter_map(|(other, far, sigma)| Some((stand[*other]?, *far, *sigma)))
        .collect();
    let mut found: Vec<Place> = Vec::new();
    for (i, one) in known.iter().enumerate() {
        for (j, other) in known.iter().enumerate().skip(i + 1) {
            if let Some(h) = height {
                let flat = |(at, far, _): &(Place, f64, f64)| {
                    (far * far - (h - at[2]).powi(2)).max(0.0).sqrt()
                };
                let plan = circles(one.0, flat(one), other.0, flat(other));
                found.extend(plan.into_iter().map(|[x, y]| [x, y, h]));
            } else {
                for third in known.iter().skip(j + 1) {
                    found.extend(spheres(
                        [one.0, other.0, third.0],
                        [one.1, other.1, third.1],
                    ));
                }
            }
        }
    }
    let cost = |place: Place| -> f64 {
        known
            .iter()
            .map(|(at, far, sigma)| (size(minus(place, *at)) - far).abs() / sigma)
            .sum()
    };
    let mut judged: Vec<(Place, f64)> = found.into_iter().map(|p| (p, cost(p))).collect();
    judged.sort_by(|a, b| a.1.total_cmp(&b.1));
    judged
}

/// Places every further point that enough tapes reach, the best tied first.
fn grow(ties: &Ties, mut stand: Rough, level: bool) -> Rough {
    loop {
        let reached = |point: usize, stand: &Rough| {
            ties.tapes[point]
                .iter()
                .filter(|(other, ..)| stand[*other].is_some())
                .count()
        };
        let next = (0..stand.len())
            .filter(|&point| stand[point].is_none())
            .map(|point| {
                let height = ties.heights[point].filter(|_| level);
                let due = if height.is_some() { 2 } else { 3 };
                (point, height, reached(point, &stand), due)
            })
            .filter(|(_, _, has, due)| has >= due)
            .max_by_key(|(point, _, has, _)| (*has, std::cmp::Reverse(*point)));
        let Some((point, height, ..)) = next else {
            return stand;
        };
        let mut all = places(&ties.tapes[point], height, &stand);
        if all.is_empty() {
            // Those it is tied to stand in one line: it can turn about it.
            stand[point] = Some(around(&ties.tapes[point], &stand));
            continue;
        }
        // Of two mirrored places the one that lies to the left, or above, is taken: which it is
        // must be told, not found.
        let best = all[0].1;
        all.retain(|(_, cost)| *cost <= best + 1e-6 * (1.0 + best));
        let first = all
            .iter()
            .max_by(|a, b| a.0[1].total_cmp(&b.0[1]).then(a.0[2].total_cmp(&b.0[2])));
        stand[point] = first.map(|(place, _)| *place);
    }
}

/// Somewhere at the right distance from the first two that it is tied to, beside their line.
fn around(tapes: &[(usize, f64, f64)], stand: &Rough) -> Place {
    let mut known = tapes
        .iter()
        .filter_map(|(other, far, _)| Some((stand[*other]?, *far)));
    match (known.next(), known.next()) {
        (Some((a, ra)), Some((b, rb))) => {
            let flat = |p: Place| [p[0], p[1], 0.0];
            match circles(flat(a), ra, flat(b), rb).first() {
                Some([x, y]) => [*x, *y, a[2]],
                None => plus(a, [0.0, ra, 0.0]),
            }
        }
        (Some((a, ra)), _) => plus(a, [0.0, ra, 0.0]),
        _ => [0.0; 3],
    }
}

/// Rough places of all points that can be placed, from several beginnings.
pub(super) fn starts(
    points: usize,
    pins: usize,
    measured: &[Measure],
    used: &[bool],
    level: bool,
) -> Vec<Rough> {
    let ties = Ties::of(points, measured, used);
    let mut starts = Vec::new();
    // Pins first: they are tied to most.
    let mut order: Vec<usize> = (0..points).collect();
    order.sort_by_key(|&p| (p >= pins, p));
    if level {
        let mut seeds = 0;
        'pairs: for (i, &a) in order.iter().enumerate() {
            for &b in &order[i + 1..] {
                let (Some(far), Some(ha), Some(hb)) =
                    (ties.between(a, b), ties.heights[a], ties.heights[b])
                else {
                    continue;
                };
                let flat = (far * far - (hb - ha).powi(2))
                    .max((0.05 * far).powi(2))
                    .sqrt();
                let mut stand: Rough = vec![None; points];
                stand[a] = Some([0.0, 0.0, ha]);
                stand[b] = Some([flat, 0.0, hb]);
                starts.push(grow(&ties, stand, true));
                seeds += 1;
                if seeds >= 6 {
                    break 'pairs;
                }
            }
        }
    }
    let mut seeds = 0;
    'triples: for (i, &a) in order.iter().enumerate() {
        for (j, &b) in order.iter().enumerate().skip(i + 1) {
            let Some(ab) = ties.between(a, b) else {
                continue;
            };
            for &c in &order[j + 1..] {
                let (Some(ac), Some(bc)) = (ties.between(a, c), ties.between(b, c)) else {
                    continue;
                };
                let mut stand: Rough = vec![None; points];
                stand[a] = Some([0.0; 3]);
                stand[b] = Some([ab, 0.0, 0.0]);
                let Some([x, y]) = circles([0.0; 3], ac, [ab, 0.0, 0.0], bc).first().copied()
                else {
                    continue;
                };
                if y < 0.02 * ab {
                    continue;
                }
                stand[c] = Some([x, y, 0.0]);
                let grown = grow(&ties, stand, false);
                if level {
                    starts.extend(levelled(&grown, measured, used, &ties));
                } else {
                    starts.push(grown);
                }
                seeds += 1;
                if seeds >= 4 {
                    break 'triples;
                }
            }
        }
    }
    starts
}

/// The same places turned so that heights and slopes fit. Where all lie in one plane they can be
/// turned in two ways.
fn levelled(rough: &Rough, measured: &[Measure], used: &[bool], ties: &Ties) -> Vec<Rough> {
    let mut rows: Vec<([f64; 4], f64)> = Vec::new();
    for (measure, _) in measured.iter().zip(used).filter(|(_, used)| **used) {
        match measure.what {
            What::Height { at } => {
                if let Some(p) = rough[at] {
                    rows.push(([p[0], p[1], p[2], 1.0], measure.value));
                }
            }
            What::Slope { from, to } => {
                if let (Some(a), Some(b)) = (rough[from], rough[to]) {
                    let along = minus(b, a);
                    let rise = size(along) * measure.value.sin();
                    rows.push(([along[0], along[1], along[2], 0.0], rise));
                }
            }
            What::Distance { .. } => {}
        }
    }
    if rows.len() < 2 {
        return Vec::new();
    }
    let matrix = DMatrix::from_fn(rows.len(), 4, |i, j| rows[i].0[j]);
    let right = DVector::from_fn(rows.len(), |i, _| rows[i].1);
    let most = matrix.amax();
    let Ok(found) = matrix.svd(true, true).solve(&right, 1e-4 * most) else {
        return Vec::new();
    };
    let up = [found[0], found[1], found[2]];
    let placed: Vec<Place> = rough.iter().flatten().copied().collect();
    let mut ups = Vec::new();
    let own = size(up);
    if own > 0.9 {
        ups.push(scaled(up, 1.0 / own));
    }
    if own < 1.0 {
        // What lies out of the plane of the points is found from the length of the upright: one.
        let normal = across(&placed);
        let flat = minus(up, scaled(normal, dot(up, normal)));
        let rest = (1.0 - dot(flat, flat)).max(0.0).sqrt();
        ups.push(plus(flat, scaled(normal, rest)));
        ups.push(plus(flat, scaled(normal, -rest)));
    }
    ups.into_iter()
        .map(|up| {
            let mut turned: Rough = rough.iter().map(|p| p.map(|p| upright(p, up))).collect();
            let (mut sum, mut count) = (0.0, 0.0);
            for (place, height) in turned.iter().zip(&ties.heights) {
                if let (Some(place), Some(height)) = (place, height) {
                    sum += height - place[2];
                    count += 1.0;
                }
            }
            let lift = if count > 0.0 { sum / count } else { 0.0 };
            for place in turned.iter_mut().flatten() {
                place[2] += lift;
            }
            turned
        })
        .collect()
}

/// Turns a place so that `up` points upward.
fn upright(place: Place, up: Place) -> Place {
    let up = scaled(up, 1.0 / size(up).max(f64::MIN_POSITIVE));
    let aside = if up[0].abs() < 0.9 {
        [1.0, 0.0, 0.0]
    } else {
        [0.0, 1.0, 0.0]
    };
    let flat = minus(aside, scaled(up, dot(aside, up)));
    let x = scaled(flat, 1.0 / size(flat));
    let y = cross(up, x);
    [dot(place, x), dot(place, y), dot(place, up)]
}

/// The direction across which some points spread least.
pub(super) fn across(places: &[Place]) -> Place {
    let count = places.len().max(1) as f64;
    let middle = scaled(
        places.iter().fold([0.0; 3], |sum, p| plus(sum, *p)),
        1.0 / count,
    );
    let mut spread = DMatrix::<f64>::zeros(3, 3);
    for place in places {
        let d = minus(*place, middle);
        for i in 0..3 {
            for j in 0..3 {
                spread[(i, j)] += d[i] * d[j];
            }
        }
    }
    let eigen = nalgebra::SymmetricEigen::new(spread);
    let least = (0..3)
        .min_by(|&a, &b| eigen.eigenvalues[a].total_cmp(&eigen.eigenvalues[b]))
        .unwrap_or(2);
    let vector = eigen.eigenvectors.column(least);
    [vector[0], vector[1], vector[2]]
}

/// The direction in plan across which some points spread least.
pub(super) fn across_in_plan(places: &[Place]) -> Place {
    let count = places.len().max(1) as f64;
    let middle = scaled(
        places.iter().fold([0.0; 3], |sum, p| plus(sum, *p)),
        1.0 / count,
    );
    let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
    for place in places {
        let d = minus(*place, middle);
        xx += d[0] * d[0];
        xy += d[0] * d[1];
        yy += d[1] * d[1];
    }
    // The long axis lies at half the angle of the double; the short one stands across it.
    let long = 0.5 * (2.0 * xy).atan2(xx - yy);
    [-long.sin(), long.cos(), 0.0]
}
