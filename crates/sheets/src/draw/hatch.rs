//! Hatch: an area filled with lines or dots, cut at its edge here so that no back end has to clip.

use super::shape::Shape;

/// Which way the lines run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Slope {
    /// Up to the right, at 45°.
    Rising,
    /// Down to the right, at 45°.
    Falling,
    /// Level.
    Level,
}

/// Lines `apart` from each other over an area, which may have any number of corners. They lie on
/// one grid for the whole picture, so that neighbours meet.
#[must_use]
pub fn lines(area: &[(f64, f64)], slope: Slope, apart: f64) -> Vec<Shape> {
    let half = std::f64::consts::FRAC_1_SQRT_2;
    // Along and across the lines.
    let (along, across) = match slope {
        Slope::Rising => ((half, -half), (half, half)),
        Slope::Falling => ((half, half), (half, -half)),
        Slope::Level => ((1.0, 0.0), (0.0, 1.0)),
    };
    let turned: Vec<(f64, f64)> = area
        .iter()
        .map(|&(x, y)| (x * along.0 + y * along.1, x * across.0 + y * across.1))
        .collect();
    let mut shapes = Vec::new();
    for level in levels(turned.iter().map(|point| point.1), apart) {
        let cuts = crossings(&turned, level);
        for pair in cuts.chunks_exact(2) {
            // A speck is no line.
            if pair[1] - pair[0] < 0.5 {
                continue;
            }
            let back = |s: f64| {
                (
                    s * along.0 + level * across.0,
                    s * along.1 + level * across.1,
                )
            };
            shapes.push(Shape::line(back(pair[0]), back(pair[1])));
        }
    }
    shapes
}

/// Dots `apart` from each other over an area.
#[must_use]
pub fn dots(area: &[(f64, f64)], apart: f64) -> Vec<Shape> {
    let mut shapes = Vec::new();
    for y in levels(area.iter().map(|point| point.1), apart) {
        for pair in crossings(area, y).chunks_exact(2) {
            let mut x = (pair[0] / apart).ceil() * apart;
            while x <= pair[1] {
                shapes.push(Shape::Circle { x, y, r: 0.8 });
                x += apart;
            }
        }
    }
    shapes
}

/// The levels of the grid that lie between the lowest and the highest of `values`.
fn levels(values: impl Iterator<Item = f64> + Clone, apart: f64) -> Vec<f64> {
    let low = values.clone().fold(f64::INFINITY, f64::min);
    let high = values.fold(f64::NEG_INFINITY, f64::max);
    let mut levels = Vec::new();
    // Half a step off the round places, where corners like to lie.
    let mut level = ((low / apart - 0.5).ceil() + 0.5) * apart;
    while level < high {
        levels.push(level);
        level += apart;
    }
    levels
}

/// Where the edge of an area crosses a level, from left to right.
fn crossings(area: &[(f64, f64)], level: f64) -> Vec<f64> {
    let ends = area.iter().zip(area.iter().cycle().skip(1));
    let mut cuts: Vec<f64> = ends
        .filter(|(a, b)| (a.1 <= level) != (b.1 <= level))
        .map(|(a, b)| a.0 + (level - a.1) / (b.1 - a.1) * (b.0 - a.0))
        .collect();
    cuts.sort_by(f64::total_cmp);
    cuts
}
