//! The outside diameter of a hose once it is pushed over a spigot.
//!
//! Rubber keeps its volume: with bore `d_i`, outside `d_o`, spigot `d_s` and axial ratio `l` on the
//! spigot (under 1 where the hose shortens), `(D² − d_s²) l = d_o² − d_i²`. What `l` is depends on
//! the build of the hose, so the answer is an interval between two models, never one number.
//! Source of the models: constant volume, worked out; that `spigot and two walls` (model C) is the
//! shop rule: selection guide of a fitting supplier for ear clips.

use super::chance::Spread;

/// A hose end and its spigot: three diameters in one unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fit {
    /// Bore of the free hose.
    pub bore: f64,
    /// Outside diameter of the free hose.
    pub over: f64,
    /// Outside diameter of the spigot, or of its bead.
    pub spigot: f64,
}

/// How much the bore is stretched: 0.05 is five per cent, negative where the hose is loose.
pub fn stretch(bore: f64, spigot: f64) -> f64 {
    (spigot - bore) / bore
}

/// How many steps the free model may take; it gains about a digit a step.
const STEPS: u32 = 64;

impl Fit {
    /// Whether a hose of these sizes can exist and sit on this spigot.
    pub fn is_sane(&self) -> bool {
        self.bore > 0.0
            && self.over > self.bore
            && self.spigot > 0.0
            && self.over.is_finite()
            && self.spigot.is_finite()
    }

    fn section(&self) -> f64 {
        self.over * self.over - self.bore * self.bore
    }

    /// Model A, no axial slip: the smallest diameter.
    pub fn no_slip(&self) -> f64 {
        (self.spigot * self.spigot + self.section()).max(0.0).sqrt()
    }

    /// Model B, a plain ring free to shorten: axial ratio is the mean hoop stretch to the power −1/2.
    ///
    /// Solved by fixed-point steps from model A. They contract, since a larger `D` moves the
    /// square root of the mean stretch by far less; where the sizes are insane the last step stands.
    pub fn free(&self) -> f64 {
        let mut diameter = self.no_slip();
        for _ in 0..STEPS {
            let next = (self.spigot * self.spigot
                + self.section() * self.mean_stretch(diameter).max(0.0).sqrt())
            .max(0.0)
            .sqrt();
            if (next - diameter).abs() <= 1e-14 * next {
                return next;
            }
            diameter = next;
        }
        diameter
    }

    /// Model C, wall unchanged: spigot and two walls.
    pub fn wall_kept(&self) -> f64 {
        self.spigot + (self.over - self.bore)
    }

    /// The extreme: a braid at its neutral angle, whose wall even thickens. `None` where the braid
    /// locks. For information only: no clip is chosen by it.
    pub fn braid(&self) -> Option<f64> {
        // sin²a m² + cos²a l² = 1 with tan²a = 2, so l² = 3 − 2 m²; solved by the same steps as `free`.
        let mut diameter = self.wall_kept();
        for _ in 0..4 * STEPS {
            let m = self.mean_stretch(diameter);
            let left = 3.0 - 2.0 * m * m;
            if left <= 0.0 {
                return None;
            }
            let next = (self.spigot * self.spigot + self.section() / left.sqrt())
                .max(0.0)
                .sqrt();
            if !next.is_finite() || next > 4.0 * self.wall_kept() {
                return None;
            }
            if (next - diameter).abs() <= 1e-12 * next {
                return Some(next);
            }
            diameter = next;
        }
        None
    }

    /// Mean hoop stretch of the wall when the outside is `diameter`.
    pub fn mean_stretch(&self, diameter: f64) -> f64 {
        (diameter + self.spigot) / (self.over + self.bore)
    }

    /// Between model A (position 0) and model C (position 1).
    pub fn at(&self, position: f64) -> f64 {
        let (a, c) = (self.no_slip(), self.wall_kept());
        a + position * (c - a)
    }

    /// The smallest opening that passes over the hose end as pushed on. A hose that is loose on its
    /// spigot is still as large as it is when free.
    pub fn to_pass(&self, position: f64) -> f64 {
        if self.spigot < self.bore {
            self.over
        } else {
            self.at(position)
        }
    }

    /// How model A moves with bore, outside diameter and spigot: `∂D/∂d_i`, `∂D/∂d_o`, `∂D/∂d_s`.
    pub fn slopes_no_slip(&self) -> [f64; 3] {
        let diameter = self.no_slip();
        [
            -self.bore / diameter,
            self.over / diameter,
            self.spigot / diameter,
        ]
    }

    /// The same where the wall was measured and not the outside: `∂D/∂d_i`, `∂D/∂t`, `∂D/∂d_s`.
    pub fn slopes_no_slip_by_wall(&self) -> [f64; 3] {
        let diameter = self.no_slip();
        let wall = (self.over - self.bore) / 2.0;
        [
            2.0 * wall / diameter,
            2.0 * self.over / diameter,
            self.spigot / diameter,
        ]
    }

    /// Diameter of the hose under a tightened clip that squeezes the wall by `squeeze` of itself,
    /// when the outside was `diameter` before.
    pub fn squeezed(&self, diameter: f64, squeeze: f64) -> f64 {
        diameter - squeeze * (diameter - self.spigot)
    }

    /// The spigot under a hose whose outside is `diameter` when pushed on, by model A.
    /// `None` where no spigot gives that.
    pub fn spigot_by_no_slip(bore: f64, over: f64, diameter: f64) -> Option<f64> {
        let square = diameter * diameter - (over * over - bore * bore);
        (square > 0.0).then(|| square.sqrt())
    }

    /// The same by model C. `None` where no spigot gives that.
    pub fn spigot_by_wall_kept(bore: f64, over: f64, diameter: f64) -> Option<f64> {
        let spigot = diameter - (over - bore);
        (spigot > 0.0).then_some(spigot)
    }
}

/// Three spreads that make a fit uncertain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FitSpread {
    /// Bore of the free hose.
    pub bore: Spread,
    /// Outside diameter of the free hose.
    pub over: Spread,
    /// Outside diameter of the spigot.
    pub spigot: Spread,
}

impl FitSpread {
    /// The best values.
    pub fn middle(&self) -> Fit {
        Fit {
            bore: self.bore.middle(),
            over: self.over.middle(),
            spigot: self.spigot.middle(),
        }
    }

    /// Least and greatest diameter that can be: `D` rises with spigot and outside and falls with
    /// the bore, so both lie at corners; low by the lower model there, high by the higher.
    pub fn worst(&self) -> (f64, f64) {
        let low = Fit {
            bore: self.bore.high,
            over: self.over.low,
            spigot: self.spigot.low,
        };
        let high = Fit {
            bore: self.bore.low,
            over: self.over.high,
            spigot: self.spigot.high,
        };
        (
            low.no_slip().min(low.wall_kept()),
            high.no_slip().max(high.wall_kept()),
        )
    }

    /// Standard uncertainty of model A by first order.
    pub fn uncertainty_no_slip(&self) -> f64 {
        let slopes = self.middle().slopes_no_slip();
        [self.bore, self.over, self.spigot]
            .iter()
            .zip(slopes)
            .map(|(spread, slope)| (slope * spread.standard_uncertainty()).powi(2))
            .sum::<f64>()
            .sqrt()
    }
}

/// What spigot can be under an old hose: outside of the hose where it sits on the spigot, outside
/// where it is free, and its bore from the print. The volume law turned round, at the corners, with
/// both models. `None` where no spigot gives these.
pub fn hidden_spigot(on_spigot: Spread, free: Spread, bore: Spread) -> Option<Spread> {
    let mut ends = Vec::new();
    for diameter in [on_spigot.low, on_spigot.high] {
        for over in [free.low, free.high] {
            for bore in [bore.low, bore.high] {
                ends.extend(Fit::spigot_by_no_slip(bore, over, diameter));
                ends.extend(Fit::spigot_by_wall_kept(bore, over, diameter));
            }
        }
    }
    let low = ends.iter().copied().reduce(f64::min)?;
    let high = ends.iter().copied().reduce(f64::max)?;
    Some(Spread { low, high })
}

/// How far an ear is closed: 0 as sold, 1 with its legs touching. `open` is the ring's inside
/// diameter as sold, `closed` the smallest that is possible (for one ear of inner width `s`,
/// `open − s/π`), `working` the diameter under the tightened clip.
pub fn closing_share(open: f64, closed: f64, working: f64) -> f64 {
    (open - working) / (open - closed)
}
