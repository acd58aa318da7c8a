//! The numbers of one joint: spreads, the relations between them, and chances by both methods.

use quantity::{Length, Quantity};

use crate::seed::seed_of;
use crate::solve::chance::{Chance, Linear, Spread, opposite};
use crate::solve::fitted::{Fit, FitSpread};
use crate::solve::sample::{self, Draws};
use crate::stages::types::{Known, Outside, Value};
use crate::verdict::Settles;

/// Places of the inputs in a row of numbers.
const BORE: usize = 0;
const OUTSIDE: usize = 1;
const SPIGOT: usize = 2;
const BEAD: usize = 3;
/// Where between the two models of a fitted hose the truth lies, 0 to 1.
const POSITION: usize = 4;
const TRIAL: usize = 5;
const COUNT: usize = 6;

/// What may be wrong with sizes, so that nothing can be reckoned from them.
pub(super) enum Broken {
    /// A size is not over a tenth of a millimetre, or over ten metres.
    OutOfReach(&'static str, f64),
    /// The hose is not larger outside than inside.
    InsideOut,
    /// The bead is not larger than the spigot.
    BeadUnderSpigot,
    /// What was measured on trial can't be this hose on this spigot.
    TrialOff(f64),
}

/// All that is known in numbers of one joint.
pub(super) struct Numbers {
    inputs: Vec<Spread>,
    guesses: Vec<bool>,
    settles: Vec<Option<Settles>>,
    bore: bool,
    outside: Option<ByWhat>,
    bead: bool,
    trial: bool,
    draws: Option<Draws>,
}

#[derive(Clone, Copy, PartialEq)]
enum ByWhat {
    Over,
    Wall,
}

/// A result that hangs on the inputs: to first order, and in draws.
#[derive(Clone)]
pub(super) struct Derived {
    pub(super) linear: Linear,
    pub(super) drawn: Option<Vec<f64>>,
}

/// One side of an event.
pub(super) enum Limit<'a> {
    AtMost(&'a Derived, f64),
    AtLeast(&'a Derived, f64),
}

/// A chance, and what would settle it where guesses decide.
pub(super) struct Judged {
    pub(super) chance: Chance,
    /// The guessed input that adds most to the spread of the limit that is most likely broken.
    pub(super) settles: Option<Settles>,
}

fn spread(value: &Value<Length>) -> Spread {
    Spread {
        low: value.measured.low.si(),
        high: value.measured.high.si(),
    }
}

impl Numbers {
    /// From what is known of spigot, hose and trial fit. Unknown parts are simply not there.
    pub(super) fn new(
        spigot: &Value<Length>,
        bead: &Known<Length>,
        bore: Option<&Value<Length>>,
        outside: Option<&Outside>,
        trial: Option<&Value<Length>>,
        draw: Option<(u64, &str)>,
    ) -> Result<Self, Broken> {
        let mut numbers = Self {
            inputs: vec![Spread::exact(1.0); COUNT],
            guesses: vec![false; COUNT],
            settles: vec![None; COUNT],
            bore: bore.is_some(),
            outside: outside.map(|outside| match outside {
                Outside::Over(_) => ByWhat::Over,
                Outside::Wall(_) => ByWhat::Wall,
            }),
            bead: bead.is_ok(),
            trial: trial.is_some(),
            draws: None,
        };
        numbers.inputs[POSITION] = Spread {
            low: 0.0,
            high: 1.0,
        };
        let mut set = |at: usize, name: &'static str, value: &Value<Length>| {
            let (low, high) = (value.measured.low.to_mm(), value.measured.high.to_mm());
            if low < 0.1 || high > 10_000.0 {
                return Err(Broken::OutOfReach(name, value.measured.value.si()));
            }
            numbers.inputs[at] = spread(value);
            numbers.guesses[at] = value.is_guess();
            numbers.settles[at] = Some(value.settles.clone());
            Ok(())
        };
        set(SPIGOT, "spigot", spigot)?;
        if let Some(bore) = bore {
            set(BORE, "bore", bore)?;
        }
        match outside {
            Some(Outside::Over(over)) => set(OUTSIDE, "outside of the hose", over)?,
            Some(Outside::Wall(wall)) => set(OUTSIDE, "wall of the hose", wall)?,
            None => {}
        }
        if let Ok(bead) = bead {
            set(BEAD, "bead", bead)?;
            if bead.measured.value < spigot.measured.value {
                return Err(Broken::BeadUnderSpigot);
            }
        }
        if let Some(trial) = trial {
            set(TRIAL, "hose as fitted for trial", trial)?;
        }
        if let (true, Some(ByWhat::Over)) = (numbers.bore, numbers.outside)
            && numbers.inputs[OUTSIDE].low <= numbers.inputs[BORE].high
        {
            return Err(Broken::InsideOut);
        }
        if let Some(trial) = trial {
            numbers.can_be(trial, spigot)?;
        }
        if let Some((seed, key)) = draw {
            numbers.draws = Some(Draws::of(
                &numbers.inputs,
                sample::DRAWS,
                seed_of(seed, key),
            ));
        }
        Ok(numbers)
    }

    /// Whether a hose measured on trial can be this hose on this spigot: larger than the spigot, and
    /// within half a wall of what the models give. A braid that locks, or a wall that varies round the
    /// hose, moves it less than that; ours, no source.
    fn can_be(&self, trial: &Value<Length>, spigot: &Value<Length>) -> Result<(), Broken> {
        let off = Err(Broken::TrialOff(trial.measured.value.si()));
        if trial.measured.high <= spigot.measured.low {
            return off;
        }
        if !(self.bore && self.outside.is_some()) {
            return Ok(());
        }
        let middle = self.middle();
        let slip = (middle.over - middle.bore) / 2.0;
        let untried = Self {
            trial: false,
            draws: None,
            inputs: self.inputs.clone(),
            guesses: self.guesses.clone(),
            settles: self.settles.clone(),
            ..*self
        };
        let (low, high) = untried.worst();
        // A loose hose stays as large as it is when free.
        let (low, high) = (low.min(middle.over), high.max(middle.over));
        if trial.measured.high.si() < low - slip || trial.measured.low.si() > high + slip {
            return off;
        }
        Ok(())
    }

    /// Whether the stretch over the spigot can be told.
    pub(super) fn knows_stretch(&self) -> bool {
        self.bore
    }

    /// Whether the stretch over the bead can be told.
    pub(super) fn knows_bead_stretch(&self) -> bool {
        self.bore && self.bead
    }

    /// Whether the diameter of the hose as fitted can be told.
    pub(super) fn knows_fitted(&self) -> bool {
        self.trial || (self.bore && self.outside.is_some())
    }

    /// Whether the diameter of the hose where it rides the bead can be told.
    pub(super) fn knows_over_bead(&self) -> bool {
        self.bead && self.bore && self.outside.is_some()
    }

    /// Whether the fitted diameter was measured on trial.
    pub(super) fn is_tried(&self) -> bool {
        self.trial
    }

    fn fit_at(&self, x: &[f64]) -> Fit {
        let over = match self.outside {
            Some(ByWhat::Wall) => x[BORE] + 2.0 * x[OUTSIDE],
            Some(ByWhat::Over) | None => x[OUTSIDE],
        };
        Fit {
            bore: x[BORE],
            over,
            spigot: x[SPIGOT],
        }
    }

    /// Best values of hose and spigot.
    pub(super) fn middle(&self) -> Fit {
        let middle: Vec<f64> = self.inputs.iter().map(Spread::middle).collect();
        self.fit_at(&middle)
    }

    /// Best value of the bead.
    pub(super) fn bead(&self) -> f64 {
        self.inputs[BEAD].middle()
    }

    /// Best value and half width of the outside diameter of the free hose.
    pub(super) fn spreads(&self) -> FitSpread {
        let bore = self.inputs[BORE];
        let over = match self.outside {
            Some(ByWhat::Wall) => Spread {
                low: bore.low + 2.0 * self.inputs[OUTSIDE].low,
                high: bore.high + 2.0 * self.inputs[OUTSIDE].high,
            },
            Some(ByWhat::Over) | None => self.inputs[OUTSIDE],
        };
        FitSpread {
            bore,
            over,
            spigot: self.inputs[SPIGOT],
        }
    }

    /// Least and greatest fitted diameter by the two models at the best values, or what was
    /// measured on trial.
    pub(super) fn fitted(&self) -> (f64, f64) {
        if self.trial {
            return (self.inputs[TRIAL].low, self.inputs[TRIAL].high);
        }
        let middle = self.middle();
        let (one, other) = (middle.no_slip(), middle.wall_kept());
        (one.min(other), one.max(other))
    }

    /// Least and greatest fitted diameter that can be, with what every reading may be off.
    pub(super) fn worst(&self) -> (f64, f64) {
        if self.trial {
            return (self.inputs[TRIAL].low, self.inputs[TRIAL].high);
        }
        match self.outside {
            Some(ByWhat::Wall) => {
                let (bore, wall, spigot) =
                    (self.inputs[BORE], self.inputs[OUTSIDE], self.inputs[SPIGOT]);
                // With the wall known apart from the bore, the diameter rises with all three.
                let fit = |bore: f64, wall: f64, spigot: f64| Fit {
                    bore,
                    over: bore + 2.0 * wall,
                    spigot,
                };
                let low = fit(bore.low, wall.low, spigot.low);
                let high = fit(bore.high, wall.high, spigot.high);
                (
                    low.no_slip().min(low.wall_kept()),
                    high.no_slip().max(high.wall_kept()),
                )
            }
            Some(ByWhat::Over) | None => self.spreads().worst(),
        }
    }

    fn derive(&self, relation: impl Fn(&[f64]) -> f64) -> Derived {
        Derived {
            linear: Linear::of(&self.inputs, &relation),
            drawn: self.draws.as_ref().map(|draws| draws.map(&relation)),
        }
    }

    /// Stretch over the spigot.
    pub(super) fn stretch(&self) -> Derived {
        self.derive(|x| (x[SPIGOT] - x[BORE]) / x[BORE])
    }

    /// By how much the slack keeps within what is allowed at the spigot; below zero where it does not.
    pub(super) fn slack_left(&self, allowed: impl Fn(f64) -> f64) -> Derived {
        self.derive(|x| allowed(x[SPIGOT]) - (x[BORE] - x[SPIGOT]))
    }

    /// Stretch over the bead.
    pub(super) fn bead_stretch(&self) -> Derived {
        self.derive(|x| (x[BEAD] - x[BORE]) / x[BORE])
    }

    /// What a clip must open to, to start on the fitted hose.
    pub(super) fn to_pass(&self) -> Derived {
        self.derive(|x| {
            if self.trial {
                x[TRIAL]
            } else {
                self.fit_at(x).to_pass(x[POSITION])
            }
        })
    }

    /// Diameter of the hose under a clip that squeezes its wall by a share of it.
    pub(super) fn squeezed(&self, squeeze: f64) -> Derived {
        self.derive(|x| {
            let fit = self.fit_at(x);
            let diameter = if self.trial {
                x[TRIAL]
            } else {
                fit.at(x[POSITION])
            };
            fit.squeezed(diameter, squeeze)
        })
    }

    /// Diameter of the hose where it rides the bead.
    pub(super) fn over_bead(&self) -> Derived {
        self.derive(|x| {
            let fit = self.fit_at(x);
            Fit {
                spigot: x[BEAD],
                ..fit
            }
            .to_pass(x[POSITION])
        })
    }

    /// The bare bead, over which a ring must pass that goes on before the hose.
    pub(super) fn bare_bead(&self) -> Derived {
        self.derive(|x| x[BEAD])
    }

    /// In which draws every limit is kept; empty where nothing is drawn.
    pub(super) fn holds_in(&self, limits: &[Limit]) -> Vec<bool> {
        if self.draws.is_none() {
            return Vec::new();
        }
        let holds = |row: usize| {
            limits.iter().all(|limit| match limit {
                Limit::AtMost(derived, most) => derived
                    .drawn
                    .as_ref()
                    .is_none_or(|drawn| drawn[row] <= *most),
                Limit::AtLeast(derived, least) => derived
                    .drawn
                    .as_ref()
                    .is_none_or(|drawn| drawn[row] >= *least),
            })
        };
        (0..sample::DRAWS).map(holds).collect()
    }

    /// The chance that every limit is kept. To first order, limits on the same side fail together
    /// and limits on opposite sides fail apart; draws know what goes with what.
    pub(super) fn judge(&self, limits: &[Limit]) -> Judged {
        let one = |limit: &Limit| match limit {
            Limit::AtMost(derived, most) => derived.linear.at_most(*most),
            Limit::AtLeast(derived, least) => derived.linear.at_least(*least),
        };
        let above = limits
            .iter()
            .filter(|limit| matches!(limit, Limit::AtMost(..)))
            .map(one)
            .fold(1.0, f64::min);
        let below = limits
            .iter()
            .filter(|limit| matches!(limit, Limit::AtLeast(..)))
            .map(one)
            .fold(1.0, f64::min);
        let weakest =
            limits
                .iter()
                .min_by(|a, b| one(a).total_cmp(&one(b)))
                .map(|limit| match limit {
                    Limit::AtMost(derived, _) | Limit::AtLeast(derived, _) => &derived.linear,
                });
        let sampled = self.draws.as_ref().map(|_| {
            let holds = self.holds_in(limits);
            sample::share(sample::DRAWS, |row| holds[row])
        });
        Judged {
            chance: Chance {
                first_order: opposite(above, below),
                sampled,
                guessed: weakest.map_or(0.0, |linear| linear.share_of(&self.guesses)),
            },
            settles: weakest
                .and_then(|linear| linear.greatest(&self.guesses))
                .and_then(|i| self.settles[i].clone()),
        }
    }
}
