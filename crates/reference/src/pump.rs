//! Pumps: a curve through the maker's points, the same pump at another speed, and what its suction needs.

use quantity::{
    AbsolutePressure, Density, Length, PressureDifference, Quantity, RotationalSpeed, VolumeFlow,
};

use crate::source::Unknown;

/// Standard gravity. Unit: m/s². Range: 9.80665. Source: BIPM SI Brochure, 9th edition.
pub const STANDARD_GRAVITY: f64 = 9.806_65;

const CURVE: &str = "points of the pump's curve from its sheet, or flow and pressure measured";

/// A point of a pump's curve.
/// Unit: m³/s and m. Range: finite. Source: the pump's sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Point {
    /// Flow. Unit: m³/s. Range: 0 and over. Source: the pump's sheet.
    pub flow: VolumeFlow,
    /// Head, as a column of what is pumped. Unit: m. Range: finite. Source: the pump's sheet.
    pub head: Length,
}

/// Head and how it changes with the flow.
/// Unit: m and s/m². Range: finite. Source: the curve that gives it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Head {
    /// The head. Unit: m. Range: finite. Source: the curve.
    pub head: Length,
    /// Metres of head per m³/s. Unit: s/m². Range: finite, below 0 on a sound curve. Source: the curve.
    pub slope: f64,
}

/// The point at another speed: flow goes with the speed, head with its square. Weakens at low speed.
/// Unit: m³/s and m. Range: both speeds over 0. Source: affinity laws, Crane TP-410 and any text on pumps.
pub fn at_speed(
    point: Point,
    from: RotationalSpeed,
    to: RotationalSpeed,
) -> Result<Point, Unknown> {
    let ratio = speed_ratio(from, to)?;
    Ok(Point {
        flow: point.flow * ratio,
        head: point.head * (ratio * ratio),
    })
}

fn speed_ratio(from: RotationalSpeed, to: RotationalSpeed) -> Result<f64, Unknown> {
    let ratio = to / from;
    (from.si() > 0.0 && to.si() > 0.0 && ratio.is_finite())
        .then_some(ratio)
        .ok_or_else(|| Unknown::new("a pump that stands", "the pump's speed"))
}

/// Shaft power at another speed over that at the first: the cube of the speeds' ratio.
/// Unit: 1. Range: both speeds over 0. Source: affinity laws, at constant efficiency.
pub fn power_ratio(from: RotationalSpeed, to: RotationalSpeed) -> Result<f64, Unknown> {
    Ok(speed_ratio(from, to)?.powi(3))
}

/// A curve h = a + b q + c q².
/// Unit: m, s/m², s²/m⁵. Range: finite. Source: least squares, or the caller.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quadratic {
    /// Head with the flow shut off. Unit: m. Range: finite. Source: the fit.
    pub shut_off: Length,
    /// The linear part. Unit: m per m³/s. Range: finite. Source: the fit.
    pub linear: f64,
    /// The square part. Unit: m per (m³/s)². Range: finite. Source: the fit.
    pub square: f64,
}

impl Quadratic {
    /// The curve that lies nearest to the points, by least squares.
    ///
    /// # Errors
    /// [`Unknown`] for fewer than three different flows.
    ///
    /// Unit: m. Range: three different flows or more. Source: least squares.
    pub fn through(points: &[Point]) -> Result<Self, Unknown> {
        let mut flows: Vec<VolumeFlow> = points.iter().map(|point| point.flow).collect();
        flows.sort_unstable();
        flows.dedup();
        let few = || Unknown::new("a curve needs three different flows", CURVE);
        let (Some(first), Some(last)) = (flows.first(), flows.last()) else {
            return Err(few());
        };
        if flows.len() < 3 {
            return Err(few());
        }
        // Centred and scaled flows keep the sums well apart.
        let (middle, half) = (
            (first.si() + last.si()) / 2.0,
            (last.si() - first.si()) / 2.0,
        );
        let mut sums = [0.0; 5];
        let mut sides = [0.0; 3];
        for point in points {
            let u = (point.flow.si() - middle) / half;
            let mut power = 1.0;
            for (k, sum) in sums.iter_mut().enumerate() {
                *sum += power;
                if let Some(side) = sides.get_mut(k) {
                    *side += power * point.head.si();
                }
                power *= u;
            }
        }
        let [a, b, c] = solve_three(sums, sides).ok_or_else(few)?;
        // Back from the scaled flow to the flow itself.
        let (linear, square) = (b / half, c / (half * half));
        let shut_off = Length::from_si(a - linear * middle + square * middle * middle);
        Ok(Self {
            shut_off: shut_off.ok_or_else(few)?,
            linear: linear - 2.0 * square * middle,
            square,
        })
    }

    /// Head at a flow. Unit: m and s/m². Range: finite flows. Source: the curve.
    pub fn at(&self, flow: VolumeFlow) -> Head {
        let q = flow.si();
        // OK because a curve of finite parts at a flow of this world is finite.
        let head = Length::of_si(self.shut_off.si() + q * (self.linear + q * self.square));
        Head {
            head,
            slope: self.linear + 2.0 * self.square * q,
        }
    }

    /// The curve at another speed. Unit: as [`Quadratic`]. Range: both speeds over 0. Source: affinity laws.
    pub fn at_speed(&self, from: RotationalSpeed, to: RotationalSpeed) -> Result<Self, Unknown> {
        let ratio = speed_ratio(from, to)?;
        Ok(Self {
            shut_off: self.shut_off * (ratio * ratio),
            linear: self.linear * ratio,
            square: self.square,
        })
    }

    /// Whether head rises with flow there: a pump so drawn has no one working point.
    /// Unit: none. Range: yes or no. Source: common practice, no source.
    pub fn rises_at(&self, flow: VolumeFlow) -> bool {
        self.at(flow).slope > 0.0
    }
}

/// The normal equations of a parabola, by Cramer's rule.
fn solve_three(s: [f64; 5], r: [f64; 3]) -> Option<[f64; 3]> {
    let det = |m: [[f64; 3]; 3]| {
        m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1])
            - m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0])
            + m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0])
    };
    let rows = [[s[0], s[1], s[2]], [s[1], s[2], s[3]], [s[2], s[3], s[4]]];
    let whole = det(rows);
    let with = |column: usize| {
        let mut changed = rows;
        for (row, side) in changed.iter_mut().zip(r) {
            row[column] = side;
        }
        det(changed) / whole
    };
    let found = [with(0), with(1), with(2)];
    found.iter().all(|x| x.is_finite()).then_some(found)
}

/// A curve through every point that never swings beyond them: cubic pieces whose slopes at the
/// points are chosen so that it rises and falls only where the points do.
/// Unit: m over m³/s. Range: between its first and last flow. Source: Fritsch and Butland 1984, as in the PCHIP routines.
#[derive(Clone, Debug, PartialEq)]
pub struct Monotone {
    flows: Vec<f64>,
    heads: Vec<f64>,
    slopes: Vec<f64>,
}

impl Monotone {
    /// The curve through points, whose order does not count.
    ///
    /// # Errors
    /// [`Unknown`] for fewer than two points, or two of one flow.
    ///
    /// Unit: m over m³/s. Range: two points or more. Source: Fritsch and Butland 1984.
    pub fn through(points: &[Point]) -> Result<Self, Unknown> {
        let mut points = points.to_vec();
        points.sort_unstable_by_key(|point| point.flow);
        let rising = points.windows(2).all(|pair| pair[0].flow < pair[1].flow);
        if points.len() < 2 || !rising {
            return Err(Unknown::new(
                "a curve needs two points of different flow",
                CURVE,
            ));
        }
        let flows: Vec<f64> = points.iter().map(|point| point.flow.si()).collect();
        let heads: Vec<f64> = points.iter().map(|point| point.head.si()).collect();
        let slopes = slopes(&flows, &heads);
        Ok(Self {
            flows,
            heads,
            slopes,
        })
    }

    /// Head at a flow.
    ///
    /// # Errors
    /// [`Unknown`] outside the first and last point: the curve is not drawn on.
    ///
    /// Unit: m and s/m². Range: between the first and the last flow. Source: the points.
    pub fn at(&self, flow: VolumeFlow) -> Result<Head, Unknown> {
        let q = flow.si();
        let beyond = || {
            let ends = |q: &f64| VolumeFlow::of_si(*q).to_litres_per_minute();
            let (first, last) = (self.flows.first().map(ends), self.flows.last().map(ends));
            let why = format!(
                "the pump's curve runs from {:.1} to {:.1} L/min; {:.1} L/min lies outside",
                first.unwrap_or_default(),
                last.unwrap_or_default(),
                flow.to_litres_per_minute(),
            );
            Unknown::new(why, CURVE)
        };
        let after = self.flows.iter().skip(1).position(|end| q <= *end);
        let i = after.filter(|_| q >= self.flows[0]).ok_or_else(beyond)?;
        let width = self.flows[i + 1] - self.flows[i];
        let t = (q - self.flows[i]) / width;
        let rise = self.heads[i + 1] - self.heads[i];
        let (begins, ends) = (self.slopes[i] * width, self.slopes[i + 1] * width);
        let square = 3.0 * rise - 2.0 * begins - ends;
        let cube = begins + ends - 2.0 * rise;
        let head = self.heads[i] + t * (begins + t * (square + t * cube));
        Ok(Head {
            // OK because a piece between two finite points is finite.
            head: Length::of_si(head),
            slope: (begins + t * (2.0 * square + 3.0 * t * cube)) / width,
        })
    }
}

/// Slopes at the points: nought where the points turn, else the weighted harmonic mean of the two
/// chords; at the ends the three-point formula, held back so that it does not overshoot.
fn slopes(x: &[f64], y: &[f64]) -> Vec<f64> {
    let widths: Vec<f64> = x.windows(2).map(|pair| pair[1] - pair[0]).collect();
    let chords: Vec<f64> = y
        .windows(2)
        .zip(&widths)
        .map(|(pair, width)| (pair[1] - pair[0]) / width)
        .collect();
    if let [only] = chords[..] {
        return vec![only; 2];
    }
    let inner = |(w, c): (&[f64], &[f64])| {
        if c[0] * c[1] <= 0.0 {
            return 0.0;
        }
        let (one, other) = (2.0 * w[1] + w[0], w[1] + 2.0 * w[0]);
        (one + other) / (one / c[0] + other / c[1])
    };
    let n = chords.len();
    let mut found = vec![end(widths[0], widths[1], chords[0], chords[1])];
    found.extend(widths.windows(2).zip(chords.windows(2)).map(inner));
    found.push(end(
        widths[n - 1],
        widths[n - 2],
        chords[n - 1],
        chords[n - 2],
    ));
    found
}

fn end(w0: f64, w1: f64, c0: f64, c1: f64) -> f64 {
    let slope = ((2.0 * w0 + w1) * c0 - w0 * c1) / (w0 + w1);
    if slope * c0 <= 0.0 {
        0.0
    } else if c0 * c1 <= 0.0 && slope.abs() > 3.0 * c0.abs() {
        3.0 * c0
    } else {
        slope
    }
}

/// Pressure that a head is, in a liquid. Unit: Pa. Range: finite. Source: hydrostatics, p = ρ g h.
pub fn pressure(head: Length, density: Density) -> PressureDifference {
    // OK because heads and densities of this world are far from overflow.
    PressureDifference::of_si(density.si() * STANDARD_GRAVITY * head.si())
}

/// Head between the total pressure at a pump's inlet and that at which the liquid boils: what the
/// suction has to spend before vapour forms.
///
/// # Errors
/// [`Unknown`] for a density that is not over zero.
///
/// Unit: m. Range: below 0 where it boils already. Source: definition, ANSI/HI 9.6.1 and Crane TP-410.
pub fn suction_head(
    inlet: AbsolutePressure,
    boils_at: AbsolutePressure,
    density: Density,
) -> Result<Length, Unknown> {
    let spare = (inlet - boils_at).si() / (density.si() * STANDARD_GRAVITY);
    Length::from_si(spare)
        .filter(|_| density.si() > 0.0)
        .ok_or_else(|| Unknown::new("the density must be over zero", "the kind of coolant"))
}
