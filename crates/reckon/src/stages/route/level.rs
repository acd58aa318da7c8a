//! High and low spots: whether air leaves a run, and what stays in it when she is drained.

use quantity::System;

use super::hang::GRAVITY;
use super::judge::{Judge, ROD, mm};
use super::lain::HighSpot;
use crate::verdict::{Basis, Grade, Words};

/// What may stay in a run without a word [m³]. Common practice, no source.
const STAYS: f64 = 1e-4;
/// Whence the speed that carries air on.
const AIR: &str =
    "envelope of Wisner, Mohsen & Kouwen 1975, Fr = 0.825 + 0.25 √sin θ, to 30° (from memory)";

impl Judge<'_> {
    /// How a high spot stands.
    fn holds_air(&self, high: &HighSpot) -> Grade {
        // Where it is steeper than anybody tried, no less speed will do than at the steepest that was.
        let tried = high.clears.or_else(|| {
            let froude = bay::lie::froude_needed(bay::lie::STEEPEST)?;
            Some(froude * (GRAVITY * high.bore).sqrt())
        });
        match (self.run.speed, tried) {
            _ if self.run.bleed => Grade::Sound,
            (Some(speed), Some(clears)) if speed < clears => {
                if high.tilt.is_empty() {
                    Grade::Unsound
                } else {
                    Grade::Marginal
                }
            }
            (Some(_), _) if high.clears.is_some() => Grade::Sound,
            (Some(_), _) => Grade::Marginal,
            (None, _) => Grade::Unmeasured,
        }
    }

    /// High spots between the ends.
    pub(super) fn air(&mut self) {
        let worst = self.lain.highs.iter().max_by(|a, b| {
            let grades = self.holds_air(a).cmp(&self.holds_air(b));
            grades.then(a.rise.total_cmp(&b.rise))
        });
        let Some(high) = worst else {
            let mut verdict = self.verdict(
                "air",
                Grade::Sound,
                "It has no high spot of its own: air leaves it at an end.".into(),
            );
            verdict.basis = Basis::Physics;
            verdict.step(
                "rise of each place over the higher of the places beside it, upright, heeled and trimmed",
                format!("{} ways", 1 + self.input.tilts.len()).as_str().into(),
                "no high spot".into(),
            );
            verdict.working.limit = Words::of(|system| mm(super::hang::RISE, system));
            verdict.source(ROD);
            self.verdicts.push(verdict);
            return;
        };
        let at = if high.tilt.is_empty() {
            String::new()
        } else {
            format!(", {}", high.tilt)
        };
        let grade = self.holds_air(high);
        let because = Words::of(|system| {
            let rise = format!(
                "Its highest place stands {} over the higher of the places beside it{at}",
                mm(high.rise, system)
            );
            match (self.run.speed, high.clears) {
                _ if self.run.bleed => format!("{rise}; a bleed sits on it."),
                (Some(speed), Some(clears)) if speed >= clears => format!(
                    "{rise}; the slowest flow, {speed:.2} m/s, carries air on from {clears:.2} m/s."
                ),
                (Some(speed), Some(clears)) => format!(
                    "{rise}; the slowest flow, {speed:.2} m/s, leaves air there: it would take {clears:.2} m/s."
                ),
                (Some(speed), None) => {
                    let slope = high.slope.to_degrees();
                    if grade == Grade::Marginal && high.tilt.is_empty() {
                        format!(
                            "{rise} and it falls at {slope:.0}° behind it, more steeply than anybody tried: air may stay at {speed:.2} m/s."
                        )
                    } else {
                        format!(
                            "{rise} and it falls at {slope:.0}° behind it; the slowest flow, {speed:.2} m/s, would leave air at 30° already."
                        )
                    }
                }
                (None, _) => format!("{rise}; how fast the coolant runs there is not known."),
            }
        });
        let mut verdict = self.verdict("air", grade, because);
        match grade {
            Grade::Unmeasured => verdict.settle_by(&crate::shop::settles(
                "states",
                "Settle what is unmeasured of the flow, so that the speed in this run is known.",
            )),
            Grade::Sound => {}
            _ => {
                verdict.remedy = "Lead it so that it rises all the way, or put a bleed at the highest place and open it as she is filled.".into();
            }
        }
        let froude = high
            .froude
            .or_else(|| bay::lie::froude_needed(bay::lie::STEEPEST));
        if let Some(froude) = froude {
            let clears = froude * (GRAVITY * high.bore).sqrt();
            let tried = if high.froude.is_some() {
                ""
            } else {
                ", taken at 30°, the steepest that was tried"
            };
            verdict.step(
                "v = Fr √(g d)",
                Words::of(|system| {
                    format!(
                        "Fr {froude:.2}, bore {}, falling at {:.0}°{tried}",
                        mm(high.bore, system),
                        high.slope.to_degrees()
                    )
                }),
                format!("{clears:.2} m/s").as_str().into(),
            );
        }
        verdict.working.limit = "the slowest flow that she runs with is at least that".into();
        verdict.source(AIR);
        verdict.source(ROD);
        self.verdicts.push(verdict);
    }

    /// What stays in it when she is drained at its ends.
    pub(super) fn drain(&mut self) {
        let upright = self.lain.stays();
        let litres = |system: System| {
            quantity::show(
                quantity::Volume::of_si(upright),
                Some(quantity::Volume::of_si(0.1 * upright)),
                system,
            )
        };
        if upright < 1e-6 {
            let mut verdict = self.verdict(
                "drain",
                Grade::Sound,
                "It has no low spot of its own: it drains at an end.".into(),
            );
            verdict.basis = Basis::Physics;
            verdict.step(
                "V = π d²/4 · length under the lower of the two brims",
                "no low spot".into(),
                Words::of(|system| quantity::show(quantity::Volume::of_si(0.0), None, system)),
            );
            verdict.working.limit = "0.1 L (common practice, no source)".into();
            verdict.source(ROD);
            self.verdicts.push(verdict);
            return;
        }
        let grade = if self.run.drain || upright < STAYS {
            Grade::Sound
        } else {
            Grade::Marginal
        };
        let drained = if self.run.drain {
            "; a drain sits there"
        } else if self.run.wet {
            ""
        } else {
            ", and water that stays bursts what it freezes in"
        };
        let because = Words::of(|system| {
            format!(
                "{} stay in its low spot when she is drained at the ends{drained}.",
                litres(system)
            )
        });
        let mut verdict = self.verdict("drain", grade, because);
        if grade != Grade::Sound && self.run.wet {
            verdict.remedy = "Loosen it at its lowest place to drain it, blow it out, or put a drain there; what stays thins the new coolant.".into();
            verdict.caution =
                Some("Glycol is poison: catch it, and keep children and animals away.".into());
        } else if grade != Grade::Sound {
            verdict.remedy =
                "Loosen it at its lowest place before the frost, blow it out, or put a drain there."
                    .into();
            verdict.caution = Some(
                "The sea comes in where a hose of raw water is loosened: shut its valve first."
                    .into(),
            );
        }
        verdict.step(
            "V = π d²/4 · length under the lower of the two brims",
            Words::of(|system| {
                let lengths: f64 = self.lain.lows.iter().map(|low| low.length).sum();
                mm(lengths, system)
            }),
            Words::of(|system| quantity::show(quantity::Volume::of_si(upright), None, system)),
        );
        verdict.working.limit = "0.1 L (common practice, no source)".into();
        verdict.source(ROD);
        verdict.source("common practice, no source");
        self.verdicts.push(verdict);
    }
}
