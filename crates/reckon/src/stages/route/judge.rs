//! What is judged of a run as it hangs: bend, clearance, heat, chafe, support, the engine's movement, air, what stays.

use bay::solid::Nature;
use quantity::{Kind, System};

use super::input::{HoseFact, PieceFact, PieceForm, RouteInput, RunFact};
use super::lain::{Gap, Lain};
use crate::say;
use crate::stages::types::Subject;
use crate::verdict::{Basis, Grade, Margin, Stage, Verdict, Words};

/// By how much tighter than its folding radius a hose may still be bent when it is cold and not fold when it is hot:
/// none; rubber at running heat is about 0.6 as stiff, and a hose wants a tenth more radius. Common practice, no source.
const HOT_MARGIN: f64 = 1.1;
/// What a P-clip spans at most is in `reference::support`; a span is a little longer than that before it is unsound.
const SPAN_UNSOUND: f64 = 2.0;
/// A run that stands closer to another than this will rub it once the engine shakes [m]. Common practice, no source.
pub(super) const HOSES_APART: f64 = 0.010;
/// End force that a hose puts on a spigot of the engine before it is looked at [N]. Common practice, no source.
const PULL: f64 = 60.0;

pub(super) fn mm(metres: f64, system: System) -> String {
    say::whole_mm(metres, system)
}

pub(super) struct Judge<'a> {
    pub(super) input: &'a RouteInput,
    pub(super) run: &'a RunFact,
    pub(super) pieces: &'a [PieceFact],
    pub(super) lain: &'a Lain,
    pub(super) verdicts: Vec<Verdict>,
}

impl Judge<'_> {
    fn subject(&self) -> Subject {
        Subject {
            key: self.run.key.clone(),
            title: self.run.title.clone(),
            place: self.run.place.clone(),
        }
    }

    fn verdict(&self, rule: &str, grade: Grade, because: Words) -> Verdict {
        self.subject().verdict(Stage::Route, rule, grade, because)
    }

    fn hoses(&self) -> impl Iterator<Item = (usize, &PieceFact, &HoseFact)> {
        self.pieces
            .iter()
            .enumerate()
            .filter_map(|(i, piece)| match &piece.form {
                PieceForm::Hose(hose) => Some((i, piece, &**hose)),
                PieceForm::Rigid { .. } => None,
            })
    }

    /// All rules of the shape itself.
    pub(super) fn shape(&mut self) {
        self.bend();
        self.clearance();
        self.supports();
        self.slack();
        if self.run.wet {
            self.air();
            self.drain();
        }
        self.snap();
    }

    /// The tightest bend of each hose against its least radius.
    fn bend(&mut self) {
        let mut found = Vec::new();
        for (i, piece, hose) in self.hoses() {
            let Some(bend) = self.lain.parts.get(i).and_then(|part| part.least) else {
                continue;
            };
            let rule = format!("bend-{}", last(&piece.key));
            let rule = if self.hoses().count() == 1 {
                "bend"
            } else {
                &rule
            };
            let (Some((least, least_from)), Some((kinks, _))) = (&hose.least, &hose.kinks) else {
                let mut verdict = self.verdict(
                    rule,
                    Grade::Unmeasured,
                    Words::of(|system| {
                        format!(
                            "{} bends to a radius of {}, and nothing says what it takes.",
                            say::capital(&piece.title),
                            mm(bend.radius, system)
                        )
                    }),
                );
                verdict.settle_by(&crate::shop::settles(
                    &format!("bay.hoses.{}.rmin", boat::key_text(piece.title.trim_start_matches("hose "))),
                    "Read its least radius in the maker's sheet, or bend a piece by hand until it begins to flatten and measure the inside of the bend.",
                ));
                found.push(verdict);
                continue;
            };
            let folds = kinks * HOT_MARGIN;
            let grade = if bend.radius >= *least && bend.radius >= folds {
                Grade::Sound
            } else if bend.radius >= folds {
                Grade::Marginal
            } else {
                Grade::Unsound
            };
            let because = Words::of(|system| {
                let radius = mm(bend.radius, system);
                match grade {
                    Grade::Sound => format!(
                        "{} bends to a radius of {radius}, and takes {}.",
                        say::capital(&piece.title),
                        mm(*least, system)
                    ),
                    Grade::Marginal => format!(
                        "{} bends to a radius of {radius}, tighter than the {} that it is made for.",
                        say::capital(&piece.title),
                        mm(*least, system)
                    ),
                    _ => format!(
                        "{} bends to a radius of {radius}; hot, it folds under {}.",
                        say::capital(&piece.title),
                        mm(folds, system)
                    ),
                }
            });
            let mut verdict = self.verdict(rule, grade, because);
            verdict.basis = Basis::Practice;
            if grade != Grade::Sound {
                verdict.remedy = "Cut it to another length, turn a piece of the run, hold it with a support, or put a moulded elbow at the bend.".into();
                verdict.caution = Some(
                    "A hose that folds stops the water: the engine boils, and hot coolant scalds."
                        .into(),
                );
            }
            verdict.margin = Some(Margin {
                value: bend.radius,
                deviation: None,
                low: Some(least.max(folds)),
                high: None,
                kind: Kind::Length,
            });
            verdict.step(
                "R = least radius of the centre line of the hanging hose",
                Words::of(|system| {
                    format!(
                        "EI {:.2} N m² ({}), {} free, clamped at both ends, own weight and coolant",
                        first(hose.stiffness),
                        hose.stiffness_from,
                        mm(hose.free, system)
                    )
                }),
                Words::of(|system| mm(bend.radius, system)),
            );
            verdict.working.limit = Words::of(|system| {
                format!(
                    "{} to the centre line; hot it folds under {} × {HOT_MARGIN} = {}",
                    mm(*least, system),
                    mm(*kinks, system),
                    mm(folds, system)
                )
            });
            verdict.source(ROD);
            verdict.source(least_from.clone());
            verdict.source("hot margin: common practice, no source");
            found.push(verdict);
        }
        self.verdicts.extend(found);
    }

    /// Each thing that it comes too near to, and one verdict where it comes too near to none.
    fn clearance(&mut self) {
        let mut found = Vec::new();
        for gap in &self.lain.gaps {
            let wants = gap.keep;
            if gap.gap >= wants && !(gap.nature == Nature::Hot && gap.gap < 2.0 * wants && gap.seen)
            {
                continue;
            }
            let rubs = gap.gap < self.shake(gap);
            let grade = if rubs || gap.gap < wants / 2.0 {
                Grade::Unsound
            } else {
                Grade::Marginal
            };
            let (rule, what) = match gap.nature {
                _ if rubs && gap.nature != Nature::Hot => ("chafe", "rubs on"),
                Nature::Hot => ("heat", "lies close to"),
                Nature::Moving | Nature::Solid => ("clearance", "comes close to"),
            };
            let rule = format!("{rule}-{}", gap.with);
            let because = Words::of(|system| {
                if gap.gap <= 0.0005 && gap.gap > -0.0005 {
                    format!("It {what} {}: it lies against it.", gap.title)
                } else if gap.gap <= 0.0 {
                    format!(
                        "It {what} {}: as drawn it would lie {} inside it.",
                        gap.title,
                        mm(-gap.gap, system)
                    )
                } else if rubs {
                    format!(
                        "It {what} {}: {} lie between them, and the engine moves {} either way.",
                        gap.title,
                        mm(gap.gap, system),
                        mm(self.shake(gap), system)
                    )
                } else if gap.gap >= wants {
                    format!(
                        "It lies in sight of {}, which is hot: {} lie between them, and its rays reach so far.",
                        gap.title,
                        mm(gap.gap, system)
                    )
                } else {
                    format!(
                        "It {what} {}: {} lie between them, and {} are wanted.",
                        gap.title,
                        mm(gap.gap, system),
                        mm(wants, system)
                    )
                }
            });
            let mut verdict = self.verdict(&rule, grade, because);
            verdict.remedy = match gap.nature {
                Nature::Hot => "Lead it another way or hold it off with a support; where it can't be, put a heat shield between.",
                Nature::Moving => "Lead it another way or hold it off with a support.",
                Nature::Solid => "Cut it to another length or hold it off with a support; at the least put a split hose over the touching place.",
            }
            .into();
            if gap.nature == Nature::Hot {
                verdict.caution = Some(
                    "Exhaust parts stay hot enough to burn for an hour: work on them cold.".into(),
                );
            }
            verdict.margin = Some(Margin {
                value: gap.gap,
                deviation: None,
                low: Some(wants),
                high: None,
                kind: Kind::Length,
            });
            verdict.step(
                "gap = distance of the centre line to its surface − D/2",
                Words::of(|system| {
                    format!(
                        "{} − {}",
                        mm(gap.gap + gap.radius, system),
                        mm(gap.radius, system)
                    )
                }),
                Words::of(|system| mm(gap.gap, system)),
            );
            verdict.working.limit =
                Words::of(|system| format!("{} as that thing wants it", mm(wants, system)));
            verdict.source(DISTANCE);
            verdict.source("clearances: common practice, no source");
            found.push(verdict);
        }
        if found.is_empty() {
            let nearest = self
                .lain
                .gaps
                .iter()
                .min_by(|a, b| (a.gap - a.keep).total_cmp(&(b.gap - b.keep)));
            let because = match nearest {
                Some(gap) => Words::of(|system| {
                    format!(
                        "It keeps clear of everything; nearest is {}, {} away.",
                        gap.title,
                        mm(gap.gap, system)
                    )
                }),
                None if self.input.bodies.is_empty() && self.input.scan.is_none() => {
                    let mut verdict = self.verdict(
                        "clearance",
                        Grade::Unmeasured,
                        "Nothing in the way is written, so that nobody can say what it touches."
                            .into(),
                    );
                    verdict.settle_by(&crate::shop::settles(
                        "bay.things",
                        "Write what stands in the way as boxes and pipes, or lay in a scan.",
                    ));
                    self.verdicts.push(verdict);
                    return;
                }
                None => "It keeps clear of everything.".into(),
            };
            let mut verdict = self.verdict("clearance", Grade::Sound, because);
            verdict.basis = Basis::Physics;
            verdict.source(DISTANCE);
            found.push(verdict);
        }
        self.verdicts.extend(found);
    }

    /// How far two things that do not move together come nearer when the engine moves [m].
    fn shake(&self, gap: &Gap) -> f64 {
        if gap.moves {
            self.input.moves.as_ref().copied().unwrap_or(0.0)
        } else {
            0.0
        }
    }

    /// The longest stretch that nothing holds.
    fn supports(&mut self) {
        let spacing = reference::support::support_spacing();
        let (every, longest) = (
            quantity::Quantity::si(spacing.every),
            self.lain.longest_span,
        );
        if longest <= 0.0 {
            return;
        }
        let grade = if longest <= every {
            Grade::Sound
        } else if longest <= every * SPAN_UNSOUND {
            Grade::Marginal
        } else {
            Grade::Unsound
        };
        let because = Words::of(|system| {
            format!(
                "The longest stretch that nothing holds is {}; a hose is held every {}.",
                mm(longest, system),
                mm(every, system)
            )
        });
        let mut verdict = self.verdict("support", grade, because);
        if grade != Grade::Sound {
            verdict.remedy = format!(
                "Hold it with a rubber-lined P-clip and write where: `supports = [{{ at = [x, y, z] }}]` under bay.lies.{}.",
                self.run.key
            )
            .as_str()
            .into();
        }
        verdict.margin = Some(Margin {
            value: longest,
            deviation: None,
            low: None,
            high: Some(every),
            kind: Kind::Length,
        });
        verdict.working.limit = Words::of(|system| mm(every, system));
        verdict.source(spacing.source.cite());
        self.verdicts.push(verdict);
    }

    /// Whether it gives as the engine moves.
    fn slack(&mut self) {
        let ends = self.run.ends.iter().filter(
            |end| matches!(end, Ok(super::input::EndFact::Mouth(mouth)) if mouth.on_engine),
        );
        if ends.count() != 1 {
            return;
        }
        let moves = match &self.input.moves {
            Ok(moves) => *moves,
            Err(missing) => {
                let verdict = self.subject().waits(
                    Stage::Route,
                    "slack",
                    "How far the engine moves",
                    missing,
                );
                self.verdicts.push(verdict);
                return;
            }
        };
        let Some(ways) = &self.lain.moved else {
            return;
        };
        // Where it folds at rest, that is told already.
        let drawn = self.lain.parts.iter().filter_map(|part| part.least);
        let drawn = drawn.map(|bend| bend.radius).fold(f64::INFINITY, f64::min);
        let fits = ways
            .iter()
            .all(|way| way.least >= way.folds.min(0.98 * drawn) && way.taut < PULL);
        let worst = ways
            .iter()
            .map(|way| way.least)
            .fold(f64::INFINITY, f64::min);
        let pull = ways.iter().map(|way| way.taut).fold(0.0, f64::max);
        let grade = if fits { Grade::Sound } else { Grade::Unsound };
        let because = Words::of(|system| {
            if !pull.is_finite() {
                return format!(
                    "As the engine moves {} either way it reaches no more, or finds no rest.",
                    mm(moves, system)
                );
            }
            let least = if worst.is_finite() {
                format!("its least radius is {} then", mm(worst, system))
            } else {
                "it stays straight".to_owned()
            };
            if fits {
                format!(
                    "It gives as the engine moves {} either way: {least}, and it pulls with {pull:.0} N at most.",
                    mm(moves, system)
                )
            } else {
                format!(
                    "As the engine moves {} either way it does not give enough: {least}, and it pulls with {pull:.0} N.",
                    mm(moves, system)
                )
            }
        });
        let mut verdict = self.verdict("slack", grade, because);
        if !fits {
            verdict.remedy =
                "Give it more length and one bend more, so that it can follow the engine.".into();
        }
        verdict.step(
            "the rod solved again with the engine's end moved up and down",
            Words::of(|system| format!("± {}", mm(moves, system))),
            Words::of(|system| {
                if worst.is_finite() {
                    mm(worst, system)
                } else {
                    "straight".to_owned()
                }
            }),
        );
        verdict.working.limit = format!("no fold, and under {PULL:.0} N on the spigot")
            .as_str()
            .into();
        verdict.source(ROD);
        verdict.source("pull: common practice, no source");
        self.verdicts.push(verdict);
    }

    /// High spots between the ends.
    fn air(&mut self) {
        let worst = self
            .lain
            .highs
            .iter()
            .max_by(|a, b| a.rise.total_cmp(&b.rise));
        let Some(high) = worst else {
            let mut verdict = self.verdict(
                "air",
                Grade::Sound,
                "It has no high spot of its own: air leaves it at an end.".into(),
            );
            verdict.basis = Basis::Physics;
            verdict.source(ROD);
            self.verdicts.push(verdict);
            return;
        };
        let at = if high.tilt.is_empty() {
            String::new()
        } else {
            format!(", {}", high.tilt)
        };
        let grade = match (self.run.speed, high.clears) {
            _ if self.run.bleed => Grade::Sound,
            (Some(speed), Some(clears)) if speed >= clears => Grade::Sound,
            (Some(_), Some(_)) if high.tilt.is_empty() => Grade::Unsound,
            (Some(_), Some(_)) => Grade::Marginal,
            (Some(_), None) => Grade::Marginal,
            (None, _) => Grade::Unmeasured,
        };
        let because = Words::of(|system| {
            let rise = format!(
                "Its highest place stands {} over its lower end{at}",
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
                (Some(_), None) => format!(
                    "{rise} and it falls at {:.0}° behind it, more steeply than anybody tried: air may stay.",
                    high.slope.to_degrees()
                ),
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
        if let (Some(froude), Some(clears)) = (high.froude, high.clears) {
            verdict.step(
                "v = Fr √(g d)",
                Words::of(|system| {
                    format!(
                        "Fr {froude:.2}, bore {}, falling at {:.0}°",
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
    fn drain(&mut self) {
        let upright: f64 = self.lain.lows.iter().map(|low| low.volume).sum();
        if upright < 1e-6 {
            let mut verdict = self.verdict(
                "drain",
                Grade::Sound,
                "It has no low spot of its own: it drains at an end.".into(),
            );
            verdict.basis = Basis::Physics;
            verdict.source(ROD);
            self.verdicts.push(verdict);
            return;
        }
        let grade = if self.run.drain || upright < STAYS {
            Grade::Sound
        } else {
            Grade::Marginal
        };
        let because = Words::of(|system| {
            let litres = quantity::show(
                quantity::Volume::of_si(upright),
                Some(quantity::Volume::of_si(0.1 * upright)),
                system,
            );
            format!("{litres} stay in its low spot when she is drained at the ends.")
        });
        let mut verdict = self.verdict("drain", grade, because);
        if grade != Grade::Sound {
            verdict.remedy = "Loosen it at its lowest place to drain it, blow it out, or put a drain there; what stays thins the new coolant.".into();
            verdict.caution =
                Some("Glycol is poison: catch it, and keep children and animals away.".into());
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

    /// Whether it may hang in another way at nearly the same cost.
    fn snap(&mut self) {
        let Some(more) = self.lain.next else { return };
        let mut verdict = self.verdict(
            "snap",
            Grade::Marginal,
            format!(
                "It has another way to hang that asks only {:.0} % more energy: it may snap over.",
                more * 100.0
            )
            .as_str()
            .into(),
        );
        verdict.remedy = "Hold it with a support where you want it to lie.".into();
        verdict.step(
            "second least energy of all stable shapes over the least",
            format!("{:.2}", 1.0 + more).as_str().into(),
            format!("{:.0} % more", more * 100.0).as_str().into(),
        );
        verdict.working.limit = "20 % (common practice, no source)".into();
        verdict.source(ROD);
        self.verdicts.push(verdict);
    }
}

/// What may stay in a run without a word [m³]. Common practice, no source.
const STAYS: f64 = 1e-4;

/// Whence the shape.
pub(super) const ROD: &str =
    "clamped elastic rod with its weight, discrete elastic rods (Bergou et al. 2008, from memory)";
/// Whence the speed that carries air on.
const AIR: &str =
    "envelope of Wisner, Mohsen & Kouwen 1975, Fr = 0.825 + 0.25 √sin θ, to 30° (from memory)";
/// Whence distances.
pub(super) const DISTANCE: &str = "exact least distance of bodies, geometry";

fn first(three: [f64; 3]) -> f64 {
    let [likely, _, _] = three;
    likely
}

fn last(key: &str) -> &str {
    key.rsplit('.').next().unwrap_or(key)
}
