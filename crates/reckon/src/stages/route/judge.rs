//! What is judged of a run as it hangs: bend, support, the engine's movement, by what it was led, how else it hangs.

use quantity::{Kind, System};

use super::input::{HoseFact, PieceFact, PieceForm, RouteInput, RunFact};
use super::lain::Lain;
use crate::say;
use crate::stages::types::Subject;
use crate::verdict::{Basis, Grade, Margin, Stage, Verdict, Words};

/// By how much tighter than its folding radius a hose may still be bent when it is cold and not fold when it is hot:
/// none; rubber at running heat is about 0.6 as stiff, and a hose wants a tenth more radius. Common practice, no source.
pub(super) const HOT_MARGIN: f64 = 1.1;
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

    pub(super) fn verdict(&self, rule: &str, grade: Grade, because: Words) -> Verdict {
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
        }
        if self.run.wet || self.run.raw {
            self.drain();
        }
        self.led();
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
                verdict.settle_by(&least_radius(piece));
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

    /// The longest stretch that nothing holds.
    fn supports(&mut self) {
        for (number, support) in self.lain.supports.iter().enumerate() {
            let Some(why) = support.dropped else { continue };
            let rule = format!("support-{}", number + 1);
            let mut verdict = self.verdict(
                &rule,
                Grade::Unmeasured,
                format!(
                    "Its support {} holds nothing as it is written: {why}.",
                    number + 1
                )
                .as_str()
                .into(),
            );
            verdict.settle_by(&crate::shop::settles(
                &support.place,
                "Measure along the run from its upstream mouth to the clip, and write it: `after = 430`.",
            ));
            self.verdicts.push(verdict);
        }
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
        for (number, support) in self.lain.supports.iter().enumerate() {
            let Some(along) = support.along else { continue };
            let taken = if support.guessed {
                "taken to hold there, by its share of the way; nothing says so"
            } else {
                "as written"
            };
            verdict.step(
                &format!("support {} along the run", number + 1),
                taken.into(),
                Words::of(|system| mm(along, system)),
            );
        }
        verdict.step(
            "longest stretch between mouths and supports",
            format!(
                "{} supports",
                self.lain
                    .supports
                    .iter()
                    .filter(|support| support.along.is_some())
                    .count()
            )
            .as_str()
            .into(),
            Words::of(|system| mm(longest, system)),
        );
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
                let verdict = Verdict {
                    caution: Some(super::MOVES_CAUTION.into()),
                    ..verdict
                };
                self.verdicts.push(verdict);
                return;
            }
        };
        let Some(ways) = &self.lain.moved else {
            return;
        };
        // A hose of which nobody knows where it folds can't be told to keep from folding.
        let unknown = self.hoses().find(|(_, _, hose)| hose.kinks.is_none());
        if let Some((_, piece, _)) = unknown {
            let settles = least_radius(piece);
            let mut verdict = self.verdict(
                "slack",
                Grade::Unmeasured,
                Words::of(|system| {
                    format!(
                        "Whether it folds as the engine moves {} either way: nothing says at which radius {} folds.",
                        mm(moves, system),
                        piece.title
                    )
                }),
            );
            verdict.settle_by(&settles);
            self.verdicts.push(verdict);
            return;
        }
        // Each hose against its own folding radius; where it folds at rest, that is told already.
        let mut worst: Option<(f64, f64, &PieceFact)> = None;
        for way in ways {
            for (i, piece, hose) in self.hoses() {
                let Some((kinks, _)) = &hose.kinks else {
                    continue;
                };
                let least = way.least.get(&i).copied().unwrap_or(f64::INFINITY);
                let rest = self.lain.parts.get(i).and_then(|part| part.least);
                let rest = rest.map_or(f64::INFINITY, |bend| bend.radius);
                let folds = (kinks * HOT_MARGIN).min(0.98 * rest);
                if worst.is_none_or(|(r, f, _)| least / folds < r / f) {
                    worst = Some((least, folds, piece));
                }
            }
        }
        let pull = ways.iter().map(|way| way.taut).fold(0.0, f64::max);
        let fits = pull < PULL && worst.is_none_or(|(least, folds, _)| least >= folds);
        let grade = if fits { Grade::Sound } else { Grade::Unsound };
        let least = |system: System| match worst {
            Some((least, folds, piece)) if least.is_finite() => format!(
                "the least radius of {} is {} then, and it folds under {}",
                piece.title,
                mm(least, system),
                mm(folds, system)
            ),
            _ => "it stays straight".to_owned(),
        };
        let because = Words::of(|system| {
            let moves = mm(moves, system);
            if !pull.is_finite() {
                format!(
                    "As the engine moves {moves} either way it reaches no more, or finds no rest."
                )
            } else if fits {
                format!(
                    "It gives as the engine moves {moves} either way: {}, and it pulls with {pull:.0} N at most.",
                    least(system)
                )
            } else {
                format!(
                    "As the engine moves {moves} either way it does not give enough: {}, and it pulls with {pull:.0} N.",
                    least(system)
                )
            }
        });
        let mut verdict = self.verdict("slack", grade, because);
        if !fits {
            verdict.remedy =
                "Give it more length and one bend more, so that it can follow the engine.".into();
        }
        self.movement(&mut verdict);
        verdict.step(
            "the rod solved again with the engine's end moved along x, y and z, both ways",
            Words::of(|system| format!("± {}", mm(moves, system))),
            Words::of(|system| match worst {
                Some((least, ..)) if least.is_finite() => mm(least, system),
                _ => "straight".to_owned(),
            }),
        );
        verdict.working.limit = format!(
            "each hose over {HOT_MARGIN} × its folding radius, and under {PULL:.0} N on the spigot"
        )
        .as_str()
        .into();
        verdict.source(ROD);
        verdict.source("pull: common practice, no source");
        self.verdicts.push(verdict);
    }

    /// Whether it keeps to the points that it was led by.
    fn led(&mut self) {
        let Some(off) = self.lain.off_lead else {
            return;
        };
        let count = self.run.corners.len();
        let most = self.pieces.iter().map(|piece| piece.od).fold(0.0, f64::max) * LED;
        let grade = if off <= most {
            Grade::Sound
        } else {
            Grade::Marginal
        };
        let because = Words::of(|system| {
            if grade == Grade::Sound {
                format!(
                    "Of all its shapes the one nearest to the {count} points it is led by stays within {} of them.",
                    mm(off, system)
                )
            } else {
                format!(
                    "Of all its shapes the one nearest to the {count} points it is led by stays {} off one of them: left alone it does not lie there.",
                    mm(off, system)
                )
            }
        });
        let mut verdict = self.verdict("led", grade, because);
        verdict.place = format!("{}.corners", self.run.place);
        if grade != Grade::Sound {
            verdict.remedy =
                "Hold it with a support at that point, cut it to another length, or lead it anew."
                    .into();
        }
        verdict.step(
            "greatest distance of a point from the centre line, over all shapes found, one start led through the points",
            format!("{count} points").as_str().into(),
            Words::of(|system| mm(off, system)),
        );
        verdict.working.limit =
            Words::of(|system| format!("{LED:.0} outside diameters, {}", mm(most, system)));
        verdict.source(ROD);
        verdict.source("three diameters: common practice, no source");
        self.verdicts.push(verdict);
    }

    /// Whether it may hang in another way at nearly the same cost.
    fn snap(&mut self) {
        let Some(more) = self.lain.next else { return };
        let because = if more.abs() < TIE {
            if self.lain.others.is_empty() {
                "It may hang on any side at the same cost: nothing tells which.".to_owned()
            } else {
                "It may hang on either side at the same cost: nothing tells which.".to_owned()
            }
        } else if more > 0.0 {
            format!(
                "It has another way to hang that asks only {:.0} % more energy: it may snap over.",
                more * 100.0
            )
        } else {
            format!(
                "It has another way to hang that asks {:.0} % less energy: it will snap over if it is let.",
                -more * 100.0
            )
        };
        let mut verdict = self.verdict("snap", Grade::Marginal, because.as_str().into());
        verdict.remedy = "Hold it with a support where you want it to lie.".into();
        verdict.step(
            "(E₂ − E₁) / B: energy of bending and weight of the nearest other stable shape, less that of this one, over this one's energy of bending",
            format!("{} other shapes", self.lain.others.len()).as_str().into(),
            format!("{:.1} %", more * 100.0).as_str().into(),
        );
        verdict.working.limit = "20 % (common practice, no source)".into();
        verdict.source(ROD);
        self.verdicts.push(verdict);
    }
}

/// What settles how tightly a hose may be bent.
pub(super) fn least_radius(piece: &PieceFact) -> crate::verdict::Settles {
    crate::shop::settles(
        &format!(
            "bay.hoses.{}.rmin",
            boat::key_text(piece.title.trim_start_matches("hose "))
        ),
        "Read its least radius in the maker's sheet, or bend a piece by hand until it begins to flatten and measure the inside of the bend.",
    )
}

/// How far from the points that it is led by a run may lie, in outside diameters. Common practice, no source.
const LED: f64 = 3.0;
/// Shapes whose cost differs by less than this share of the energy of bending are as good as one another. Ours: what
/// stiffness and weight are known to is far more.
pub(super) const TIE: f64 = 0.01;

/// Whence the shape.
pub(super) const ROD: &str =
    "clamped elastic rod with its weight, discrete elastic rods (Bergou et al. 2008, from memory)";
/// Whence distances.
pub(super) const DISTANCE: &str = "exact least distance of bodies, geometry";

fn first(three: [f64; 3]) -> f64 {
    let [likely, _, _] = three;
    likely
}

fn last(key: &str) -> &str {
    key.rsplit('.').next().unwrap_or(key)
}
