//! What is reckoned behind the first answer: between which cut lengths bend and clearances hold, and what tolerances do.

use bay::lie::{self, Corner, Limits, RunLay, Tolerance, Window};
use bay::rod::{Around, OpenAir};
use bay::solid::Space;
use quantity::{Kind, System};

use super::hang::{self, limit};
use super::input::{HoseFact, PieceFact, PieceForm};
use super::judge::{DISTANCE, HOT_MARGIN, ROD, least_radius, mm};
use super::lain::{Gap, Swing, gaps};
use super::lay::{Laid, Neighbour, beside};
use super::near::{CLEARLY, Kept, known};
use crate::draft::{edit, quoted};
use crate::say;
use crate::stages::types::{Missing, Subject};
use crate::verdict::{Grade, Margin, Settles, Stage, Verdict, Words};

/// How far a cut may be off before a window is called narrow [m]: what a knife and a push-on mark do together. Common
/// practice, no source.
const NARROW: f64 = 0.010;
/// How far shorter and longer than drawn is looked at [m].
const LOOK: f64 = 0.120;

/// What every shape of a run is held against, in windows and corners as in the verdicts of bend and clearance.
pub(super) struct Rules<'a> {
    pub(super) found: &'a Laid<'a>,
    pub(super) pieces: &'a [PieceFact],
    pub(super) space: &'a Space,
    pub(super) neighbours: &'a [Neighbour],
    pub(super) moves: &'a Result<f64, Missing>,
}

/// A rule that a shape breaks.
#[derive(Clone, Debug)]
struct Breach {
    grade: Grade,
    /// What is broken, after `it`.
    what: Words,
}

impl Rules<'_> {
    /// What a shape comes near to, as it swings.
    fn gaps(&self, shape: &RunLay, swing: Option<&Swing>) -> Vec<Gap> {
        let parts = hang::parts(self.pieces, shape);
        let on_engine = self.found.mouths.map(|mouth| mouth.on_engine);
        let moves = known(self.moves);
        // A place swings twice as far as the engine moves at the most, along each axis; what moves with it as far.
        let reach = moves.map_or(CLEARLY, |moves| 6.0 * moves);
        let exempt = &self.found.exempt;
        let mut gaps = gaps(self.space, &parts, exempt, on_engine, swing, reach);
        gaps.extend(beside(self.neighbours, &parts, moves));
        gaps
    }

    /// The worst rule of bend or clearance that a shape breaks, if it swings as the run as drawn.
    fn breach(&self, shape: &RunLay) -> Option<Breach> {
        self.breached(shape, self.found.hung.lain.swing.as_ref())
    }

    /// The worst rule of bend or clearance that a shape breaks.
    fn breached(&self, shape: &RunLay, swing: Option<&Swing>) -> Option<Breach> {
        let bends = hoses(self.pieces).filter_map(|(at, hose)| {
            let lay = shape.hoses.iter().find(|lay| lay.piece == at)?;
            let ((kinks, _), piece) = (hose.kinks.as_ref()?, self.pieces.get(at)?);
            let (radius, takes) = (lay.bend.radius, limit(hose)?);
            let folds = radius < kinks * HOT_MARGIN;
            (radius < takes).then(|| Breach {
                grade: if folds {
                    Grade::Unsound
                } else {
                    Grade::Marginal
                },
                what: Words::of(|system| {
                    format!(
                        "{} bends to {} where it takes {}",
                        piece.title,
                        mm(radius, system),
                        mm(takes, system)
                    )
                }),
            })
        });
        let moves = known(self.moves);
        let gaps = self.gaps(shape, swing).into_iter().filter_map(|gap| {
            let kept = gap.kept(moves);
            (kept != Kept::Wide).then(|| Breach {
                grade: kept.grade(),
                what: near(&gap, moves),
            })
        });
        let mut all: Vec<Breach> = bends.chain(gaps).collect();
        all.sort_by_key(|breach| std::cmp::Reverse(breach.grade));
        all.into_iter().next()
    }

    /// What is left of the tightest clearance of a shape [m], and of what.
    fn tightest(&self, shape: &RunLay) -> Option<(f64, Gap)> {
        let moves = known(self.moves);
        self.gaps(shape, self.found.hung.lain.swing.as_ref())
            .into_iter()
            .map(|gap| (gap.left(moves) - gap.keep, gap))
            .min_by(|a, b| a.0.total_cmp(&b.0))
    }

    /// What presses on a run.
    fn around(&self) -> &dyn Around {
        if self.found.hung.pressed {
            self.space
        } else {
            &OpenAir
        }
    }

    /// What must be known before any of it can be told.
    fn missing(&self) -> Option<(Words, Settles)> {
        let unknown = hoses(self.pieces).find(|(_, hose)| limit(hose).is_none());
        let piece = self.pieces.get(unknown?.0)?;
        let why = format!("nothing says how tightly {} may be bent", piece.title);
        Some((why.as_str().into(), least_radius(piece)))
    }
}

/// What is near, after `it`.
fn near(gap: &Gap, moves: Option<f64>) -> Words {
    Words::of(|system: System| {
        let left = gap.left(moves);
        if left < 0.0 {
            format!("it meets {}", gap.title)
        } else if gap.kept(moves) == Kept::Rays {
            format!("it lies in sight of {}, which is hot", gap.title)
        } else {
            format!("{} are left to {}", mm(left, system), gap.title)
        }
    })
}

/// Windows of cut lengths by piece, each as far as there is one; nothing where what they hang on is not known.
pub(super) fn windows(rules: &Rules) -> Vec<(usize, Option<Window>)> {
    if rules.missing().is_some() {
        return Vec::new();
    }
    let found = rules.found;
    hoses(rules.pieces)
        .map(|(at, hose)| {
            let limits = Limits {
                low: shortest(hose),
                high: hose.free + LOOK,
                step: 0.03,
                fine: 0.002,
            };
            let window = lie::window(
                &found.hung.asked,
                rules.around(),
                at,
                &found.hung.shape,
                &limits,
                &|shape| rules.breach(shape).is_none(),
            );
            let drawn = hose.free;
            (
                at,
                window.and_then(|window| tightened(rules, (at, drawn), window)),
            )
        })
        .collect()
}

/// A window in which the rules hold as a hose of another length swings with the engine, which the march took to be as
/// this one does: about the drawn length, or else the next of five looked at in which they hold. `None` where they hold
/// in none of those.
fn tightened(rules: &Rules, (at, drawn): (usize, f64), window: Window) -> Option<Window> {
    let found = rules.found;
    if found.hung.lain.swing.is_none() {
        return Some(window);
    }
    let holds = |length: f64| {
        let run = lie::cut(&found.hung.asked, at, length);
        let lay = lie::next_to(&run, rules.around(), &found.hung.shape).ok();
        lay.filter(|lay| lay.lay.stable).is_some_and(|lay| {
            let moves = known(rules.moves);
            let swing = hang::swing_of(moves, &run, &lay, found.mouths, rules.around());
            rules.breached(&lay, swing.as_ref()).is_none()
        })
    };
    let span = window.most - window.least;
    let shares = [0.5, 0.25, 0.75, 0.0, 1.0].into_iter();
    let within = shares.map(|share| window.least + share * span);
    let first = std::iter::once(drawn.clamp(window.least, window.most));
    let inside = first.chain(within).find(|length| holds(*length))?;
    let end = |end: f64| {
        if holds(end) {
            return (end, true);
        }
        let (mut good, mut bad) = (inside, end);
        while (bad - good).abs() > 1e-3 {
            let middle = (good + bad) / 2.0;
            if holds(middle) {
                good = middle;
            } else {
                bad = middle;
            }
        }
        (good, false)
    };
    let ((least, below), (most, above)) = (end(window.least), end(window.most));
    Some(Window {
        least,
        most,
        open_below: window.open_below && below,
        open_above: window.open_above && above,
        ..window
    })
}

/// Down to which free length is looked [m].
fn shortest(hose: &HoseFact) -> f64 {
    (hose.free - LOOK).max(0.5 * hose.free)
}

/// The hoses among the pieces, with their places.
pub(super) fn hoses(pieces: &[PieceFact]) -> impl Iterator<Item = (usize, &HoseFact)> {
    pieces
        .iter()
        .enumerate()
        .filter_map(|(at, piece)| match &piece.form {
            PieceForm::Hose(hose) => Some((at, &**hose)),
            PieceForm::Rigid { .. } => None,
        })
}

/// A window of free lengths as one of cut lengths [m], to whole millimetres within it.
pub(super) fn as_cut(hose: &HoseFact, window: &Window) -> Option<(f64, f64)> {
    let [up, down] = hose.pushed?;
    Some(within(window.least + up + down, window.most + up + down))
}

/// A span to whole millimetres, none of them outside it [m].
fn within(least: f64, most: f64) -> (f64, f64) {
    let (low, high) = ((least * 1e3 - 1e-6).ceil(), (most * 1e3 + 1e-6).floor());
    if low > high {
        return (least, most);
    }
    (low / 1e3, high / 1e3)
}

/// What windows and tolerances say of a run.
pub(super) fn judge(rules: &Rules, windows: &[(usize, Option<Window>)]) -> Vec<Verdict> {
    let (found, pieces) = (rules.found, rules.pieces);
    let missing = rules.missing();
    // How badly it stands as drawn is how bad another length is.
    let drawn = rules.breach(&found.hung.shape);
    let mut verdicts = Vec::new();
    let subject = Subject {
        key: found.run.key.clone(),
        title: found.run.title.clone(),
        place: found.run.place.clone(),
    };
    let alone = hoses(pieces).count() == 1;
    let none = windows.iter().all(|(_, window)| window.is_none()) && missing.is_none();
    for (number, (at, hose)) in hoses(pieces).enumerate() {
        let Some(piece) = pieces.get(at) else {
            continue;
        };
        // What no hose of the run can mend is told once.
        if none && number > 0 {
            break;
        }
        let name = piece.key.rsplit('.').next().unwrap_or_default();
        let rule = if alone || none {
            "window".to_owned()
        } else {
            format!("window-{name}")
        };
        // Where nobody knows how far it goes over, the free length is spoken of.
        let (over, word) = match hose.pushed {
            Some([up, down]) => (up + down, "cut"),
            None => (0.0, "left free"),
        };
        let cut = hose.free + over;
        let window = windows
            .iter()
            .find_map(|(of, window)| window.as_ref().filter(|_| *of == at));
        let mut holds = found.hung.asked.held.iter();
        let held = holds.any(|held| held.piece == at);
        let mut subject = subject.clone();
        if alone || !none {
            subject.place.clone_from(&hose.place);
        }
        if let Some((why, settles)) = &missing {
            let mut verdict = subject.verdict(
                Stage::Route,
                &rule,
                Grade::Unmeasured,
                Words::of(|system| {
                    format!(
                        "Between which lengths it would do is not told: {}.",
                        why.in_units(system)
                    )
                }),
            );
            verdict.settle_by(settles);
            verdicts.push(verdict);
            continue;
        }
        let mut verdict = match window {
            Some(window) => {
                let (least, most) = within(window.least + over, window.most + over);
                // Whole millimetres are for people: what holds goes by the window itself.
                let (from, to) = (window.least + over, window.most + over);
                let inside = cut >= from - 1e-4 && cut <= to + 1e-4;
                let slack = (cut - from).min(to - cut);
                let grade = if !inside {
                    drawn.as_ref().map_or(Grade::Marginal, |drawn| drawn.grade)
                } else if slack < NARROW {
                    Grade::Marginal
                } else {
                    Grade::Sound
                };
                let because = Words::of(|system| {
                    let (low, high) = (mm(least, system), mm(most, system));
                    let lengths = match (window.open_below, window.open_above) {
                        (false, false) => format!("{low} to {high}"),
                        (true, false) => format!("{high} and less (looked at down to {low})"),
                        (false, true) => format!("{low} and more (looked at up to {high})"),
                        (true, true) => format!("every length looked at ({low} to {high})"),
                    };
                    if inside {
                        format!(
                            "At {lengths} {word} it keeps its bend and its clearances; it is {}.",
                            mm(cut, system)
                        )
                    } else {
                        format!(
                            "At {} {word} {}; at {lengths} it would keep its bend and its clearances.",
                            mm(cut, system),
                            broken(drawn.as_ref(), system)
                        )
                    }
                });
                let mut verdict = subject.verdict(Stage::Route, &rule, grade, because);
                if grade != Grade::Sound {
                    verdict.remedy = Words::of(|system| {
                        let middle = mm((least + most) / 2.0, system);
                        let cut = match hose.pushed {
                            Some(_) => format!("Cut it {middle} long"),
                            None => format!("Leave {middle} of it free between the mouths"),
                        };
                        let rest = if alone {
                            ""
                        } else {
                            ", and leave the other hoses of the run as they are"
                        };
                        let slid = if held {
                            " Its supports then hold it a little farther on or less far: write their `after` anew, each by as many hundredths more or less as the hose."
                        } else {
                            ""
                        };
                        format!("{cut}{rest}.{slid}")
                    });
                    // Where supports hold it, its length alone does not settle it.
                    if hose.decided && !held && verdict.place.contains("bay.lies") {
                        let to = ((least + most) / 2.0 * 1000.0).round();
                        verdict.edits.push(edit(
                            verdict.place.clone(),
                            quoted(&format!("{:.0} mm", cut * 1000.0)),
                            quoted(&format!("{to:.0} mm")),
                            format!("cut {piece} {to:.0} mm long", piece = piece.title),
                        ));
                    }
                }
                verdict.margin = Some(Margin {
                    value: cut,
                    deviation: Some(hose.free_half),
                    low: (!window.open_below).then_some(least),
                    high: (!window.open_above).then_some(most),
                    kind: Kind::Length,
                });
                verdict
            }
            None => {
                let mut verdict = subject.verdict(
                    Stage::Route,
                    &rule,
                    drawn.as_ref().map_or(Grade::Marginal, |drawn| drawn.grade),
                    Words::of(|system| {
                        let lengths = if alone {
                            let (low, high) = (shortest(hose) + over, hose.free + LOOK + over);
                            format!(
                                "At no length {word} from {} to {} does it",
                                mm(low, system),
                                mm(high, system)
                            )
                        } else {
                            format!(
                                "With no one of its hoses {word} longer by up to {look}, or shorter by as much or half its length, does the run",
                                look = mm(LOOK, system)
                            )
                        };
                        format!(
                            "{lengths} keep its bend and its clearances; as it is, {}.",
                            broken(drawn.as_ref(), system)
                        )
                    }),
                );
                verdict.settles = drawn
                    .as_ref()
                    .filter(|drawn| drawn.grade == Grade::Unmeasured)
                    .and(rules.moves.as_ref().err())
                    .map(|missing| missing.settles.clone());
                verdict.remedy = "Another length alone does not help: hold it with a support, turn a piece, or put a moulded elbow in.".into();
                verdict
            }
        };
        verdict.step(
            "the rod solved again at other lengths, each from its neighbour, and from many starts at the ends",
            Words::of(|system| format!("to {}", mm(0.002, system))),
            Words::of(|system| mm(cut, system)),
        );
        verdict.working.limit =
            "bend and clearances as they are judged, over the engine's movement".into();
        verdict.source(ROD);
        verdict.source(DISTANCE);
        verdicts.push(verdict);
    }
    verdicts.extend(tolerances(rules, &subject));
    verdicts
}

/// What is broken as drawn.
fn broken(drawn: Option<&Breach>, system: System) -> String {
    drawn.map_or_else(
        || "it may slip into another shape".to_owned(),
        |drawn| drawn.what.in_units(system).to_owned(),
    )
}

/// The corners of what may be off.
fn tolerances(rules: &Rules, subject: &Subject) -> Option<Verdict> {
    let (found, pieces) = (rules.found, rules.pieces);
    // A run that lies deep in a thing has no shape of which to tell how far it may be off.
    if !found.hung.pressed {
        return None;
    }
    let free = hoses(pieces)
        .map(|(_, hose)| hose.free_half)
        .fold(0.0, f64::max);
    let stiffness = hoses(pieces)
        .map(|(_, hose)| {
            let [likely, low, _] = hose.stiffness;
            1.0 - low / likely
        })
        .fold(0.0, f64::max);
    let by = Tolerance {
        length: free,
        place: found
            .mouths
            .iter()
            .map(|mouth| mouth.half)
            .fold(0.0, f64::max),
        angle: found
            .mouths
            .iter()
            .map(|mouth| mouth.aside)
            .fold(0.0, f64::max),
        stiffness: stiffness.clamp(0.0, 0.9),
    };
    let shape = &found.hung.shape;
    let missing = rules.missing();
    // Where the drawn shape itself breaks a rule, that is told already.
    let bend_told = missing.is_some() || shape.bend_share() < 1.0;
    let drawn = rules.tightest(shape).map(|(left, _)| left);
    let gap_told = drawn.is_none_or(|left| left < 0.0);
    if bend_told && gap_told && missing.is_none() {
        return None;
    }
    let left = |shape: &RunLay| {
        // What nothing was near to as drawn has more left than was looked at.
        Some(rules.tightest(shape).map_or(CLEARLY, |(left, _)| left))
    };
    let came = lie::corners_by(&found.hung.asked, rules.around(), shape, &by, &left);
    let share = came.bend.value;
    let off = |system: System| {
        format!(
            "cut {}, mouths {} and {}, stiffness {}",
            mm(by.length, system),
            mm(by.place, system),
            say::degrees(by.angle.to_degrees()),
            say::short_percent(by.stiffness)
        )
    };
    let tight = !bend_told && share < 1.0;
    let worst = came.gap.filter(|worst| worst.value < 0.0);
    let dies = worst
        .filter(|_| drawn.is_none_or(|left| left >= 0.0))
        .and_then(|worst| {
            // Of what, is asked of that corner again.
            let at = worst.corner;
            let run = at.of(&found.hung.asked);
            let shape = (at != Corner::NONE)
                .then(|| lie::next_to(&run, rules.around(), shape).ok())
                .flatten();
            rules.tightest(shape.as_ref().unwrap_or(&found.hung.shape))
        });
    let falls = !came.lost.is_empty() || !came.jumped.is_empty() || tight || dies.is_some();
    let grade = match (falls, &missing) {
        (true, _) => Grade::Marginal,
        (false, Some(_)) => Grade::Unmeasured,
        (false, None) => Grade::Sound,
    };
    let moves = known(rules.moves);
    let because = Words::of(|system| {
        let off = off(system);
        if !came.lost.is_empty() {
            return format!(
                "With all that may be off ({off}) it may become too short or find no rest."
            );
        }
        if !came.jumped.is_empty() {
            return format!("With all that may be off ({off}) it may hang in quite another way.");
        }
        let bend = tight.then(|| {
            format!(
                "its tightest bend comes to {} of what it takes",
                say::short_percent(share)
            )
        });
        let gap = dies.as_ref().map(|(_, gap)| {
            format!(
                "its least clearance is lost: {}, and {} are wanted",
                near(gap, moves).in_units(system),
                mm(gap.keep, system)
            )
        });
        let lost: Vec<String> = bend.into_iter().chain(gap).collect();
        match (lost.is_empty(), &missing) {
            (false, _) => format!("With all that may be off ({off}) {}.", lost.join(", and ")),
            (true, Some((why, _))) => format!(
                "With all that may be off ({off}) it keeps its clearances; of its bend {}.",
                why.in_units(system)
            ),
            (true, None) => {
                let keeps = match (bend_told, gap_told && drawn.is_some()) {
                    (false, false) => "its bend and its clearances",
                    (false, true) => "its bend",
                    (true, _) => "its clearances",
                };
                format!("With all that may be off ({off}) it still keeps {keeps}.")
            }
        }
    });
    let mut verdict = subject.verdict(Stage::Route, "tolerance", grade, because);
    if let (Grade::Unmeasured, Some((_, settles))) = (grade, &missing) {
        verdict.settle_by(settles);
    } else if grade != Grade::Sound {
        verdict.remedy =
            "Measure again what may be off most, or choose a length in the middle of its window."
                .into();
        let untried = hoses(pieces).find_map(|(_, hose)| hose.stiffness_missing.as_ref());
        verdict.settles = untried.map(|missing| missing.settles.clone());
    }
    verdict.step(
        "each tolerance alone both ways, then all that were worse together, for the bend and for the clearance",
        format!("{} shapes", came.solved).as_str().into(),
        if missing.is_some() {
            "bend not measured".into()
        } else {
            say::short_percent(share.min(9.99)).as_str().into()
        },
    );
    if let Some(worst) = came.gap {
        verdict.step(
            "left of the least clearance, over what is wanted and the engine's movement",
            "at the worst of those shapes".into(),
            Words::of(|system| mm(worst.value, system)),
        );
    }
    verdict.working.limit =
        "least radius at least what the hose takes, and the clearance that each thing wants".into();
    verdict.source(ROD);
    verdict.source(DISTANCE);
    Some(verdict)
}

#[cfg(test)]
mod tests {
    use super::within;

    #[test]
    fn a_window_is_shown_in_millimetres_that_hold() {
        assert_eq!(within(0.9001, 0.9506), (0.901, 0.950));
        assert_eq!(within(0.9, 0.95), (0.9, 0.95));
        // With none between, it is shown as it is.
        assert_eq!(within(0.9001, 0.9004), (0.9001, 0.9004));
    }
}
