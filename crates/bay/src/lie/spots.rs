//! High spots, where air stays, and low spots, where water stays, of a line at any trim and heel.

use crate::Vec3;

/// High or low.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Air gathers there.
    High,
    /// Water stays there when the line is drained.
    Low,
}

/// A place where the line is higher or lower than on both sides.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spot {
    /// High or low.
    pub kind: Kind,
    /// Where on the centreline.
    pub at: Vec3,
    /// Distance from the line's beginning [m].
    pub arc: f64,
    /// Height of the centreline against gravity [m], nought where the coordinates are nought.
    pub height: f64,
    /// How far the centreline rises (falls) to it from the nearer of the two ways out [m].
    pub depth: f64,
    /// Length of line that holds some of what is trapped [m], without what a more extreme spot holds.
    pub length: f64,
    /// Most that can be trapped [m³]: air up to where it would pass on below, or water that stays.
    /// Where the pocket of a more extreme spot reaches over this one, it is told there and is
    /// nought here: the volumes of all spots of a kind add up to what the line holds.
    pub volume: f64,
}

/// Direction of gravity in the boat's coordinates (x forward, y to port, z up): trim by the bow
/// down, heel to starboard [rad].
#[must_use]
pub fn down_at(trim: f64, heel: f64) -> Vec3 {
    let (sin_trim, cos_trim) = trim.sin_cos();
    let (sin_heel, cos_heel) = heel.sin_cos();
    Vec3::new(sin_trim, -sin_heel * cos_trim, -cos_heel * cos_trim)
}

/// All high and low spots between the ends of a line of points, for a bore [m].
///
/// A spot counts where the centreline rises or falls by more than a thousandth of the bore to it.
/// What is trapped is bounded by the nearer way out: for water the bottom of the bore at the lower
/// of the two tops on either side, for air the roof of the bore at the higher of the two bottoms, by the slope of the
/// line where such a place is its end.
/// The ends of the line count as ways out. Sections are cut square to the centreline. The line at
/// rest is meant; what moving water takes along is another question.
#[must_use]
pub fn spots(points: &[Vec3], bore: f64, down: Vec3) -> Vec<Spot> {
    let mut out = Vec::new();
    if points.len() < 3 || bore.is_nan() || bore <= 0.0 {
        return out;
    }
    let mut arcs = Vec::with_capacity(points.len());
    let mut arc = 0.0;
    let mut before: Option<Vec3> = None;
    for point in points {
        if let Some(before) = before {
            arc += (*point - before).length();
        }
        arcs.push(arc);
        before = Some(*point);
    }
    let heights: Vec<f64> = points.iter().map(|point| -point.dot(down)).collect();
    for kind in [Kind::High, Kind::Low] {
        // A low spot is a high spot upside down.
        let sign = if kind == Kind::High { 1.0 } else { -1.0 };
        let z: Vec<f64> = heights.iter().map(|height| sign * height).collect();
        // The most extreme first: what it holds is no other's, for a lesser top beside it lies in
        // the same pocket.
        let mut order = tops(&z, bore * 1e-3);
        order.sort_by(|a, b| match (z.get(*a), z.get(*b)) {
            (Some(a), Some(b)) => b.total_cmp(a),
            _ => std::cmp::Ordering::Equal,
        });
        let mut taken = vec![false; z.len()];
        for top in order {
            let (depth, length, volume) = trapped(&z, &arcs, top, bore, &mut taken);
            if let (Some(at), Some(arc), Some(height)) =
                (points.get(top), arcs.get(top), heights.get(top))
            {
                out.push(Spot {
                    kind,
                    at: *at,
                    arc: *arc,
                    height: *height,
                    depth,
                    length,
                    volume,
                });
            }
        }
    }
    out.sort_by(|a, b| a.arc.total_cmp(&b.arc));
    out
}

/// Tops that stand out by more than `least` above the valleys on both sides.
fn tops(z: &[f64], least: f64) -> Vec<usize> {
    let mut out = Vec::new();
    let mut best: Option<(usize, f64)> = None;
    let mut lowest = f64::INFINITY;
    for (i, height) in z.iter().enumerate() {
        match best {
            None => {
                lowest = lowest.min(*height);
                if *height > lowest + least {
                    best = Some((i, *height));
                }
            }
            Some((_, top)) if *height > top => best = Some((i, *height)),
            Some((at, top)) if *height < top - least => {
                out.push(at);
                best = None;
                lowest = *height;
            }
            Some(_) => {}
        }
    }
    out
}

/// Depth, length and volume of what is trapped at a top, without the pieces that are taken; takes
/// its own, each by the number of its beginning.
fn trapped(z: &[f64], arcs: &[f64], top: usize, bore: f64, taken: &mut [bool]) -> (f64, f64, f64) {
    let peak = z.get(top).copied().unwrap_or(0.0);
    // On either side the lowest place before the line rises above the top: what lies beyond is another pocket's.
    let valley = |side: &mut dyn Iterator<Item = usize>| {
        let (mut low, mut at) = (peak, top);
        for i in side {
            let Some(height) = z.get(i) else { break };
            if *height > peak {
                break;
            }
            if *height < low {
                (low, at) = (*height, i);
            }
        }
        (low, at)
    };
    let (left, first) = valley(&mut (0..top).rev());
    let (right, last) = valley(&mut (top + 1..z.len()));
    let sill = left.max(right);
    // The way out at a sill is the roof of its bore, which lies no higher than the mouth where the line ends upright.
    let level = [(left, first), (right, last)]
        .into_iter()
        .map(|(low, at)| low + bore / 2.0 * flatness(z, arcs, at))
        .fold(f64::NEG_INFINITY, f64::max);
    let mut length = 0.0;
    let mut volume = 0.0;
    for step in [1_isize, -1] {
        let mut i = top;
        loop {
            if i == if step == 1 { last } else { first } {
                break;
            }
            let next = match step {
                1 => i + 1,
                _ => match i.checked_sub(1) {
                    Some(next) => next,
                    None => break,
                },
            };
            let (Some(a), Some(b), Some(p), Some(q)) =
                (z.get(i), z.get(next), arcs.get(i), arcs.get(next))
            else {
                break;
            };
            let long = (q - p).abs();
            if long > 0.0 {
                let rise = ((b - a) / long).clamp(-1.0, 1.0);
                let cos = (1.0 - rise * rise).sqrt();
                // Three points of the piece by Gauss's weights.
                let mut any = false;
                let mut held = 0.0;
                for (share, weight) in [
                    (0.112_701_665, 5.0 / 18.0),
                    (0.5, 8.0 / 18.0),
                    (0.887_298_335, 5.0 / 18.0),
                ] {
                    let middle = a + (b - a) * share;
                    let area = segment(middle + bore / 2.0 * cos - level, bore, cos);
                    any |= area > 0.0;
                    held += area * weight * long;
                }
                if !any && middle_below(*a, *b, sill, bore) {
                    break;
                }
                if let Some(taken) = taken.get_mut(i.min(next))
                    && !std::mem::replace(taken, true)
                {
                    volume += held;
                    length += if any { long } else { 0.0 };
                }
            }
            i = next;
        }
    }
    (peak - sill, length, volume)
}

/// Cosine of the slope of an end of the line; within it a sill is level.
fn flatness(z: &[f64], arcs: &[f64], at: usize) -> f64 {
    let last = z.len().saturating_sub(1);
    let beside = match at {
        0 => 1,
        _ if at == last => last.saturating_sub(1),
        _ => return 1.0,
    };
    match (z.get(at), z.get(beside), arcs.get(at), arcs.get(beside)) {
        (Some(a), Some(b), Some(p), Some(q)) if (q - p).abs() > 0.0 => {
            let rise = ((b - a) / (q - p).abs()).clamp(-1.0, 1.0);
            (1.0 - rise * rise).sqrt()
        }
        _ => 1.0,
    }
}

fn middle_below(a: f64, b: f64, sill: f64, bore: f64) -> bool {
    (a + b) / 2.0 <= sill + bore * 1e-6
}

/// Area of a section that lies above a level, by the height of its roof above the level.
fn segment(above: f64, bore: f64, cos: f64) -> f64 {
    let radius = bore / 2.0;
    // Square to the centreline the height is stretched by the slope.
    let depth = if cos > 1e-6 {
        above / cos
    } else if above > 0.0 {
        bore
    } else {
        0.0
    };
    if depth <= 0.0 {
        return 0.0;
    }
    if depth >= bore {
        return std::f64::consts::PI * radius * radius;
    }
    let off = radius - depth;
    radius * radius * (off / radius).clamp(-1.0, 1.0).acos()
        - off * (radius * radius - off * off).max(0.0).sqrt()
}
