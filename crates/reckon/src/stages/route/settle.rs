//! What is reckoned behind the first answer: between which cut lengths all rules hold, and what tolerances do.

use bay::lie::{self, Limits, RunLay, Tolerance, Window};
use bay::rod::{Around, OpenAir};
use bay::solid::Space;
use quantity::Kind;

use super::input::{HoseFact, PieceFact, PieceForm, RouteInput};
use super::judge::{ROD, mm};
use super::lay::Laid;
use crate::say;
use crate::stages::types::Subject;
use crate::verdict::{Grade, Margin, Stage, Verdict, Words};

/// How far a cut may be off before a window is called narrow [m]: what a knife and a push-on mark do together. Common
/// practice, no source.
const NARROW: f64 = 0.010;
/// How far shorter and longer than drawn is looked at [m].
const LOOK: f64 = 0.120;

/// Windows of cut lengths by piece.
pub(super) fn windows(found: &Laid, space: &Space) -> Vec<(usize, Window)> {
    let Ok(pieces) = &found.run.pieces else {
        return Vec::new();
    };
    hoses(pieces)
        .filter_map(|(at, hose)| {
            let limits = Limits {
                low: (hose.free - LOOK).max(0.5 * hose.free),
                high: hose.free + LOOK,
                step: 0.015,
                fine: 0.002,
            };
            let rules = |shape: &RunLay| {
                let own = shape.hoses.iter().find(|lay| lay.piece == at);
                own.is_none_or(|lay| lay.bend.radius >= lay.least_radius)
                    && shape.lay.gap.is_none_or(|gap| gap >= -1e-4)
            };
            let window = lie::window(
                &found.hung.asked,
                around(found, space),
                at,
                &found.hung.shape,
                &limits,
                &rules,
            )?;
            Some((at, window))
        })
        .collect()
}

/// What presses on a run.
fn around<'a>(found: &Laid, space: &'a Space) -> &'a dyn Around {
    if found.hung.pressed { space } else { &OpenAir }
}

fn hoses(pieces: &[PieceFact]) -> impl Iterator<Item = (usize, &HoseFact)> {
    pieces
        .iter()
        .enumerate()
        .filter_map(|(at, piece)| match &piece.form {
            PieceForm::Hose(hose) => Some((at, &**hose)),
            PieceForm::Rigid { .. } => None,
        })
}

/// A window of free lengths as one of cut lengths [m].
pub(super) fn as_cut(hose: &HoseFact, window: &Window) -> Option<(f64, f64)> {
    let [up, down] = hose.pushed?;
    Some((window.least + up + down, window.most + up + down))
}

/// What windows and tolerances say of a run.
pub(super) fn judge(
    _input: &RouteInput,
    found: &Laid,
    space: &Space,
    windows: &[(usize, Window)],
) -> Vec<Verdict> {
    let Ok(pieces) = &found.run.pieces else {
        return Vec::new();
    };
    let mut verdicts = Vec::new();
    let subject = Subject {
        key: found.run.key.clone(),
        title: found.run.title.clone(),
        place: found.run.place.clone(),
    };
    let alone = hoses(pieces).count() == 1;
    for (at, hose) in hoses(pieces) {
        let Some(piece) = pieces.get(at) else {
            continue;
        };
        let name = piece.key.rsplit('.').next().unwrap_or_default();
        let rule = if alone {
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
        let window = windows.iter().find(|(of, _)| *of == at);
        let subject = Subject {
            place: hose.place.clone(),
            ..subject.clone()
        };
        let mut verdict = match window {
            Some((_, window)) => {
                let (least, most) = (window.least + over, window.most + over);
                let inside = cut >= least - 1e-4 && cut <= most + 1e-4;
                let slack = (cut - least).min(most - cut);
                let grade = if !inside {
                    Grade::Unsound
                } else if slack < NARROW {
                    Grade::Marginal
                } else {
                    Grade::Sound
                };
                let because = Words::of(|system| {
                    let from = if window.open_below { "under " } else { "" };
                    let to = if window.open_above { " and more" } else { "" };
                    let lengths =
                        format!("{from}{} to {}{to}", mm(least, system), mm(most, system));
                    if inside {
                        format!(
                            "At {lengths} {word} it keeps every rule; it is {}.",
                            mm(cut, system)
                        )
                    } else {
                        format!(
                            "At {} {word} it does not keep every rule; at {lengths} it would.",
                            mm(cut, system)
                        )
                    }
                });
                let mut verdict = subject.verdict(Stage::Route, &rule, grade, because);
                if grade != Grade::Sound {
                    verdict.remedy = Words::of(|system| {
                        let middle = mm((least + most) / 2.0, system);
                        match hose.pushed {
                            Some(_) => format!("Cut it {middle} long."),
                            None => format!("Leave {middle} of it free between the mouths."),
                        }
                    });
                    if hose.decided && verdict.place.contains("bay.lies") {
                        let to = ((least + most) / 2.0 * 1000.0).round();
                        verdict.edits.push(crate::draft::edit(
                            verdict.place.clone(),
                            format!("{:.0}", cut * 1000.0),
                            format!("{to:.0}"),
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
                    Grade::Unsound,
                    Words::of(|system| {
                        format!(
                            "At no length {word} within {} of {} does it keep every rule.",
                            mm(LOOK, system),
                            mm(cut, system)
                        )
                    }),
                );
                verdict.remedy = "Another length alone does not help: hold it with a support, turn a piece, or put a moulded elbow in.".into();
                verdict
            }
        };
        verdict.step(
            "the rod solved again at other lengths, each from its neighbour",
            Words::of(|system| format!("to {}", mm(0.002, system))),
            Words::of(|system| mm(cut, system)),
        );
        verdict.working.limit = "bend and bodies".into();
        verdict.source(ROD);
        verdicts.push(verdict);
    }
    verdicts.extend(tolerances(found, pieces, space, &subject));
    verdicts
}

/// The corners of what may be off.
fn tolerances(
    found: &Laid,
    pieces: &[PieceFact],
    space: &Space,
    subject: &Subject,
) -> Option<Verdict> {
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
    let came = lie::corners(
        &found.hung.asked,
        around(found, space),
        &found.hung.shape,
        &by,
    );
    let share = came.bend.value;
    // Where the drawn shape itself breaks a rule, that is told already.
    if found.hung.shape.bend_share() < 1.0 {
        return None;
    }
    let grade = if came.lost.is_empty() && came.jumped.is_empty() && share >= 1.0 {
        Grade::Sound
    } else {
        Grade::Marginal
    };
    let because = Words::of(|system| {
        let off = format!(
            "cut {}, mouths {} and {}, stiffness {}",
            mm(by.length, system),
            mm(by.place, system),
            say::degrees(by.angle.to_degrees()),
            say::short_percent(by.stiffness)
        );
        if !came.lost.is_empty() {
            format!("With all that may be off ({off}) it may become too short or find no rest.")
        } else if !came.jumped.is_empty() {
            format!("With all that may be off ({off}) it may hang in quite another way.")
        } else if share < 1.0 {
            format!(
                "With all that may be off ({off}) its tightest bend comes to {} of what it takes.",
                say::short_percent(share)
            )
        } else {
            format!("With all that may be off ({off}) it still keeps its bend.")
        }
    });
    let mut verdict = subject.verdict(Stage::Route, "tolerance", grade, because);
    if grade != Grade::Sound {
        verdict.remedy =
            "Measure again what may be off most, or choose a length in the middle of its window."
                .into();
        let untried = hoses(pieces).find_map(|(_, hose)| hose.stiffness_missing.as_ref());
        verdict.settles = untried.map(|missing| missing.settles.clone());
    }
    verdict.step(
        "each tolerance alone both ways, then all that were worse together",
        format!("{} shapes", came.solved).as_str().into(),
        say::short_percent(share.min(9.99)).as_str().into(),
    );
    verdict.working.limit = "least radius at least what the hose takes".into();
    verdict.source(ROD);
    Some(verdict)
}
