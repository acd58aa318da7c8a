//! Bending stiffness of a hose: by the droop of an overhang, or from its rubber and diameters.
//!
//! The droop is that of a heavy elastica, integrated from the tip to the clamp, not the formula
//! for small angles. Measure with the natural curl sideways, turn the hose by half a turn and take
//! the mean, wait a minute: the rubber creeps.

use std::f64::consts::FRAC_PI_2;

/// Why no stiffness follows.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum NoStiffness {
    /// A measure that can't be.
    #[error("{what} is {value}; it must be above nought")]
    Figure {
        /// Which measure.
        what: &'static str,
        /// What it is.
        value: f64,
    },
    /// The droop is too small to tell a stiffness, or so large that it tells almost none.
    #[error(
        "the end drops by {share:.3} of the overhang; between {least} and {most} tells a stiffness"
    )]
    Droop {
        /// Drop over overhang.
        share: f64,
        /// Least that counts.
        least: f64,
        /// Most that counts.
        most: f64,
    },
    /// Hardness outside what the relation was made for.
    #[error("hardness {shore} is outside 20 to 80 Shore A")]
    Hardness {
        /// Shore A.
        shore: f64,
    },
    /// The outside diameter is not above the bore.
    #[error("outside diameter {outside} m is not above the bore {bore} m")]
    Wall {
        /// Bore [m].
        bore: f64,
        /// Outside diameter [m].
        outside: f64,
    },
}

/// Least drop over overhang from which a stiffness is read: below it a ruler errs too much.
pub const LEAST_DROOP: f64 = 0.02;

/// Most: beyond it the hose hangs almost straight down and its stiffness hardly shows.
pub const MOST_DROOP: f64 = 0.9;

/// What a hose's end does that sticks out level from a clamp.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Droop {
    /// Drop of the tip over the overhang.
    pub drop: f64,
    /// Level distance of the tip from the clamp over the overhang.
    pub reach: f64,
    /// Angle of the tip below the level [rad].
    pub tip: f64,
}

impl Droop {
    /// Angle below the level of the line from clamp to tip [rad].
    #[must_use]
    pub fn chord(&self) -> f64 {
        self.drop.atan2(self.reach)
    }
}

/// Steps of the integration over an overhang.
const STEPS: usize = 120;

/// Rounds at most in which a root is sought.
const ROUNDS: usize = 100;

/// How little a root may still move in a round, as a share of it.
const CLOSE: f64 = 1e-11;

/// Integrates from the tip: own weight and tip load, both over stiffness, as pure numbers
/// g = w L³ / EI and p = P L² / EI. Gives the angle at the clamp, and drop and reach; where the hose comes level before
/// the clamp, by how much of the overhang before it, below nought.
fn from_tip(g: f64, p: f64, tip: f64) -> (f64, Droop) {
    let h = 1.0 / STEPS as f64;
    let slope = |u: f64, y: [f64; 4]| {
        let (sin, cos) = y[0].sin_cos();
        [y[1], -(g * u + p) * cos, sin, cos]
    };
    let add = |y: [f64; 4], k: [f64; 4], f: f64| {
        [
            y[0] + f * k[0],
            y[1] + f * k[1],
            y[2] + f * k[2],
            y[3] + f * k[3],
        ]
    };
    let mut y = [tip, 0.0, 0.0, 0.0];
    let end = |y: [f64; 4], at_clamp: f64| {
        let droop = Droop {
            drop: y[2],
            reach: y[3],
            tip,
        };
        (at_clamp, droop)
    };
    for i in 0..STEPS {
        let u = i as f64 * h;
        let before = y[0];
        let a = slope(u, y);
        let b = slope(u + h / 2.0, add(y, a, h / 2.0));
        let c = slope(u + h / 2.0, add(y, b, h / 2.0));
        let d = slope(u + h, add(y, c, h));
        for (j, out) in y.iter_mut().enumerate() {
            *out += h / 6.0 * (a[j] + 2.0 * b[j] + 2.0 * c[j] + d[j]); // OK because all have four
        }
        if y[0] < 0.0 && i + 1 < STEPS {
            // Level before the clamp: the tip must lie deeper.
            return end(y, u + h * before / (before - y[0]) - 1.0);
        }
    }
    end(y, y[0])
}

/// Where a function that rises from below nought to above it is nought, between two numbers, by false position that
/// halves the end that stays (the Illinois rule: Dowell & Jarratt, BIT 11 (1971), from memory).
fn crossing(mut low: f64, mut high: f64, rises: impl Fn(f64) -> f64) -> f64 {
    let (mut under, mut over) = (rises(low), rises(high));
    if under >= 0.0 {
        return low;
    }
    if over <= 0.0 {
        return high;
    }
    let mut stayed = 0;
    for _ in 0..ROUNDS {
        let middle = (low * over - high * under) / (over - under);
        // As near as the numbers go.
        if !(middle > low && middle < high) {
            break;
        }
        let value = rises(middle);
        if value > 0.0 {
            let step = high - middle;
            (high, over) = (middle, value);
            under *= if stayed > 0 { 0.5 } else { 1.0 };
            stayed = 1;
            if step < CLOSE * high.abs() {
                break;
            }
        } else {
            let step = middle - low;
            (low, under) = (middle, value);
            over *= if stayed < 0 { 0.5 } else { 1.0 };
            stayed = -1;
            if step < CLOSE * high.abs() || value == 0.0 {
                break;
            }
        }
    }
    if under.abs() < over.abs() { low } else { high }
}

/// The droop of an overhang under its own weight and a load at the tip, clamped level.
///
/// `own` is w L³ / EI, `load` is P L² / EI; both nought or more. The heavy elastica: Bisshopp and
/// Drucker, Large deflection of cantilever beams, QAM 3 (1945), for the load; the same equation
/// with the weight beyond each point for the own weight.
#[must_use]
pub fn droop(own: f64, load: f64) -> Droop {
    // The angle at the clamp grows with the one at the tip; it must come out as nought.
    let tip = crossing(0.0, FRAC_PI_2, |tip| from_tip(own, load, tip).0);
    from_tip(own, load, tip).1
}

/// Stiffness [N m²] from the drop [m] of an overhang [m] under its own weight [N/m], dry or full as
/// measured, and a load at the tip [N], nought if none.
///
/// # Errors
///
/// Where a measure can't be or the droop tells too little.
pub fn from_droop(overhang: f64, drop: f64, weight: f64, load: f64) -> Result<f64, NoStiffness> {
    for (what, value) in [
        ("overhang", overhang),
        ("drop", drop),
        ("weight and load", weight * overhang + load),
    ] {
        if !(value.is_finite() && value > 0.0) {
            return Err(NoStiffness::Figure { what, value });
        }
    }
    for (what, value) in [("weight", weight), ("load", load)] {
        if !(value.is_finite() && value >= 0.0) {
            return Err(NoStiffness::Figure { what, value });
        }
    }
    let share = drop / overhang;
    if !(LEAST_DROOP..=MOST_DROOP).contains(&share) {
        return Err(NoStiffness::Droop {
            share,
            least: LEAST_DROOP,
            most: MOST_DROOP,
        });
    }
    let own = weight * overhang.powi(3);
    let tip = load * overhang.powi(2);
    // The stiffer, the less it drops: sought by the logarithm, in which the drop changes evenly.
    let (soft, stiff) = ((own + tip) * 1e-3, (own + tip) * 1e2);
    let stiffness = crossing(soft.ln(), stiff.ln(), |log| {
        let stiffness = log.exp();
        share - droop(own / stiffness, tip / stiffness).drop
    });
    Ok(stiffness.exp())
}

/// Young's modulus [Pa] of rubber from its hardness in Shore A, 20 to 80: Gent, On the relation
/// between indentation hardness and Young's modulus, Rubber Chem. Technol. 31 (1958), from memory.
///
/// # Errors
///
/// Outside its range.
pub fn modulus(shore: f64) -> Result<f64, NoStiffness> {
    if !(20.0..=80.0).contains(&shore) {
        return Err(NoStiffness::Hardness { shore });
    }
    Ok(0.0981e6 * (56.0 + 7.62336 * shore) / (0.137505 * (254.0 - 2.54 * shore)))
}

/// A stiffness known roughly [N m²].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// Least likely.
    pub low: f64,
    /// Most likely.
    pub high: f64,
}

/// What is in a hose's wall.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wall {
    /// Rubber alone.
    Plain,
    /// Cord or fabric in it.
    Corded,
}

/// Stiffness of a hose of rubber from its modulus [Pa] and diameters [m]: E π (D⁴ − d⁴) / 64, and
/// for cord 1.5 to 4 times that. The relation of hardness to modulus is good to about a fifth
/// either way; that and the factor for cord are rules of thumb, common practice, no source. A wire
/// helix holds the wall open more than it stiffens the hose: take it as corded. Measure the droop.
///
/// # Errors
///
/// Where the diameters make no wall.
pub fn from_rubber(
    modulus: f64,
    bore: f64,
    outside: f64,
    wall: Wall,
) -> Result<Range, NoStiffness> {
    if !(modulus.is_finite() && modulus > 0.0) {
        return Err(NoStiffness::Figure {
            what: "modulus",
            value: modulus,
        });
    }
    if !(bore > 0.0 && outside > bore && outside.is_finite()) {
        return Err(NoStiffness::Wall { bore, outside });
    }
    let plain = modulus * std::f64::consts::PI / 64.0 * (outside.powi(4) - bore.powi(4));
    let (low, high) = match wall {
        Wall::Plain => (0.8, 1.2),
        Wall::Corded => (0.8 * 1.5, 1.2 * 4.0),
    };
    Ok(Range {
        low: plain * low,
        high: plain * high,
    })
}

/// Stiffness at about 0 °C over that at 20 °C: rule of thumb, common practice, no source.
pub const COLD: f64 = 1.5;

/// Stiffness at about 80 °C over that at 20 °C: rule of thumb, common practice, no source.
pub const HOT: f64 = 0.6;
