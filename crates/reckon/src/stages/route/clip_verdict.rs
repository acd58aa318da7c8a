//! What is said of a clip: with which tool it is reached, at which position of the clock, and when.

use bay::Vec3;
use bay::access::{self, Better, Doubt, Housing, How, Moment, Outcome, Shut, WayIn, Works};
use bay::clock::{Clock, Seen, free_words, sides};
use quantity::{Length, Quantity};

use super::access::{Chosen, Looked, NARROW, Put, Sweep, told, works};
use super::input::ClipFact;
use super::opposite::{self, Stands};
use super::types::{LaidClip, LaidMoment};
use crate::say;
use crate::stages::types::Subject;
use crate::verdict::{Grade, Settles, Stage, Verdict, Words, WorkingInput};

/// What a clip that nobody reaches does.
pub(super) const CAUTION: &str = "A clip that nobody reaches is never tightened again: hot coolant under pressure leaks from it first.";

/// As what a clip was taken whose kind nobody wrote; begins with a space.
pub(super) fn kind_words(clip: &ClipFact) -> &'static str {
    match clip.kind {
        Some(_) => "",
        None => " Its kind is not written: it is taken as worm-drive.",
    }
}

/// A tool with its article: `the pincers (front jaw)`.
pub(super) fn the(tool: &str) -> String {
    match tool.split_once(", ") {
        Some((tool, part)) => format!("the {tool} ({part})"),
        None => format!("the {tool}"),
    }
}

/// A verdict on whether a clip is reached; each clip of an end has one of its own.
pub(super) fn of(clip: &ClipFact, grade: Grade, because: Words) -> Verdict {
    let subject = Subject {
        key: clip.joint.clone(),
        title: clip.whole_title(),
        place: clip.place.clone(),
    };
    subject.verdict(Stage::Route, &LaidClip::rule(clip.nth), grade, because)
}

impl Sweep<'_> {
    /// Judges one clip at its three moments.
    pub(super) fn judge(&self, put: &Put<'_>, looked: &Looked, laid: &mut LaidClip) -> Verdict {
        let (all_in, when) = (&looked.all_in, looked.when);
        let at_first = looked.at_first();
        let mut verdict = match &all_in.best {
            Some(best) => self.reached(put, best, looked),
            None => self.blocked(put, looked),
        };
        if let Some(best) = &all_in.best {
            put.lay(best, laid);
        }
        verdict
            .working
            .inputs
            .extend(measure("D", "diameter under the clip", put.fact.od, None));
        if put.half > 0.0 {
            verdict.working.inputs.extend(measure(
                "δ",
                "how far its place may be off",
                put.half,
                None,
            ));
        }
        for reach in &all_in.reaches {
            let (arcs, result) = match &reach.outcome {
                Outcome::Spared => continue,
                Outcome::Blocked { .. } => ("none".to_owned(), "it reaches nowhere".to_owned()),
                Outcome::Reached(best) => (
                    arcs(&reach.free),
                    format!(
                        "widest about {}, {} either way",
                        Clock::of(best.angle, Seen::FromOpenEnd).short(),
                        say::degrees(best.slack().to_degrees())
                    ),
                ),
            };
            verdict.step(
                &format!(
                    "{} put to the clip all round when all is in, and kept where it meets nothing",
                    the(&reach.tool)
                ),
                arcs.as_str().into(),
                result.as_str().into(),
            );
        }
        if let Some(best) = all_in.best.as_ref().filter(|best| !best.whole) {
            slack_step(put, best, &mut verdict);
        }
        if let Some(best) = &all_in.best {
            best.stands.work(&mut verdict);
        }
        let moments = [
            (when, Some(at_first)),
            (Moment::AllIn.words(), Some(all_in)),
            // All others are in then as well, and this one's far end still is.
            (Moment::OutAlone.words(), Some(all_in)),
        ];
        for (when, found) in moments {
            let moment = moment(when, found.and_then(|found| found.best.as_ref()), put.fact);
            verdict.step(when, moment.text.clone(), moment.grade.word().into());
            laid.moments.push(moment);
        }
        verdict.working.limit = "one free arc at least, to which a fist comes".into();
        verdict.source(access::SOURCE);
        verdict.source(super::judge::DISTANCE);
        verdict
    }

    /// A clip that is reached when all is in.
    fn reached(&self, put: &Put<'_>, best: &Chosen, looked: &Looked) -> Verdict {
        let (at_first, when) = (looked.at_first(), looked.when);
        let kind = kind_words(put.fact);
        let arc = best.by_hand.best.arc;
        let earlier = at_first
            .best
            .as_ref()
            .filter(|early| early.grade < best.grade);
        let more = match &best.by_hand.way_in {
            WayIn::Blocked { .. } => {
                let by = if best.by.is_empty() {
                    "what stands before it is".to_owned()
                } else {
                    are(&best.by)
                };
                let then = earlier.map_or_else(String::new, |early| {
                    format!("; {when} it does, {}", position(early, self.ahead))
                });
                format!(" A fist does not come there from the hatch: {by} in the way{then}.")
            }
            WayIn::Shut(Shut::Blocked) => " No hand comes in by the hatch: something stands in it.".into(),
            WayIn::Shut(Shut::Small) => " The hatch is too narrow for a fist.".into(),
            WayIn::Unknown(Doubt::Outside) => {
                " Whether a hand comes there from the hatch is not known: it lies outside what was looked at.".into()
            }
            WayIn::Clear | WayIn::Unknown(_) if best.slack < NARROW => {
                " That must be hit closely: set it before the hose is tight.".to_owned()
            }
            WayIn::Clear | WayIn::Unknown(_) => String::new(),
        };
        let because = format!(
            "When all is in, it is reached {}{}.{more}{kind}",
            position(best, self.ahead),
            best.stands.words()
        );
        let mut verdict = of(put.fact, best.grade, because.as_str().into());
        verdict.remedy = match (&best.by_hand.way_in, best.grade) {
            (_, Grade::Sound) => return verdict,
            (WayIn::Blocked { .. }, _) => "Try it with your own hand before the hose is cut; else tighten it before what is in the way goes in.".into(),
            (WayIn::Shut(_), _) => "Look where the hatch is and how large, and what stands in it; or open another one.".into(),
            (WayIn::Unknown(Doubt::Outside), _) => {
                verdict.settles = Some(Settles {
                    place: "bay.hatch".into(),
                    how: "Try it with your own hand from the hatch.".into(),
                });
                "Try it with your own hand from the hatch.".into()
            }
            _ => format!(
                "Mark the position on the hose with a felt pen: {}.{}",
                free_words(arc.from, arc.to, Seen::FromOpenEnd),
                best.stands.remedy()
            )
            .as_str()
            .into(),
        };
        if matches!(best.by_hand.way_in, WayIn::Blocked { .. } | WayIn::Shut(_)) {
            verdict.caution = Some(CAUTION.into());
        }
        verdict
    }

    /// A clip that no tool reaches when all is in.
    fn blocked(&self, put: &Put<'_>, looked: &Looked) -> Verdict {
        let (all_in, at_first, when) = (&looked.all_in, looked.at_first(), looked.when);
        let (fact, works) = (put.fact, works(put.fact.kind));
        let kind = kind_words(fact);
        let by = if all_in.by.is_empty() {
            String::new()
        } else {
            format!(": {} in the way", are(&all_in.by))
        };
        // Another kind of clip in its place.
        let other = match works {
            Works::Screw => Works::Ear,
            Works::Ear | Works::Band => Works::Screw,
        };
        let among = self.among(put, looked.others);
        let instead = access::Clip {
            housing: (other == Works::Screw).then(Housing::default),
            works: Some(other),
            ..put.clip.clone()
        };
        let mut both = all_in.reaches.clone();
        both.extend(access::reach(
            &instead,
            &self.own_tools(other),
            &among,
            How::default(),
        ));
        let better = access::better(&both, works, other);
        let (grade, because, remedy) = match &at_first.best {
            Some(early) => {
                let hand = match early.by_hand.way_in {
                    WayIn::Clear | WayIn::Unknown(_) => "",
                    _ => ", where a fist does not come from the hatch",
                };
                (
                    early.grade.max(Grade::Marginal),
                    format!(
                        "When all is in, or to take this hose alone out, no tool reaches it{by}; {when}, it is reached {}{hand}.{kind}",
                        position(early, self.ahead)
                    ),
                    "Tighten it before the hoses in its way go in, and look at it again when they are out.",
                )
            }
            None => (
                Grade::Unsound,
                format!("No tool reaches it at any position of the clock{by}.{kind}"),
                "Move the joint or what stands before it, or tighten it before that thing goes in.",
            ),
        };
        let mut verdict = of(fact, grade, because.as_str().into());
        verdict.remedy = remedy.into();
        if better == Better::Second {
            verdict.remedy = format!("{}.", say::capital(&better.words(works, other)))
                .as_str()
                .into();
        }
        if better == Better::Neither && grade == Grade::Unsound {
            verdict.remedy = format!(
                "{remedy} With all in, {} is not reached there either.",
                other.words()
            )
            .as_str()
            .into();
        }
        if all_in.shut_by_next {
            verdict.remedy = Words::of(|system| {
                format!("{} {}", opposite::ONE, verdict.remedy.in_units(system))
            });
        }
        verdict.caution = Some(CAUTION.into());
        verdict
    }
}

impl Chosen {
    /// `at`, or `close to` where the place is no half hour and the nearest one is not free.
    fn near(&self) -> &'static str {
        let angle = self.by_hand.best.angle;
        match opposite::round(angle, told(angle)) < 1e-6 {
            true => "at ",
            false => "close to ",
        }
    }

    /// How far the position may be off.
    fn room(&self) -> String {
        format!("{} either way", say::degrees(self.slack.to_degrees()))
    }
}

/// How the slack of a position came about.
fn slack_step(put: &Put<'_>, best: &Chosen, verdict: &mut Verdict) {
    let told = |angle: f64| say::degrees(angle.to_degrees());
    let (arc, aside) = (best.by_hand.best.arc.slack(), put.aside(&best.by_hand));
    let (formula, figures) = match best.stands {
        Stands::Beside(apart) if best.slack < arc - aside - 1e-9 => (
            "slack = half the way to the screw beside it − half its housing",
            format!("{} − {}", told(apart / 2.0), told(apart / 2.0 - best.slack)),
        ),
        _ if put.half > 0.0 => (
            "slack = to the nearer end of the free arc − δ / the hand's distance from the hose's axis",
            format!("{} − {}", told(arc), told(aside)),
        ),
        _ => return,
    };
    verdict.step(
        formula,
        figures.as_str().into(),
        told(best.slack).as_str().into(),
    );
}

/// With what and where a clip is reached: `with the screwdriver, its screw head at 4 o'clock …`.
fn position(best: &Chosen, ahead: Vec3) -> String {
    let tool = the(&best.tool);
    let once = match best.by_hand.way_in {
        WayIn::Unknown(Doubt::NoHatch | Doubt::TooLarge) => "once a hand is there, ",
        _ => "",
    };
    if best.whole {
        return format!("{once}with {tool} at any position of the clock");
    }
    let head = match best.works {
        Works::Screw => "screw head",
        Works::Ear => "ear",
        Works::Band => "tangs",
    };
    let side = best
        .by_hand
        .best
        .comes_from()
        .and_then(|from| sides(from, ahead))
        .filter(|side| !side.is_empty())
        .map_or_else(String::new, |side| format!(", from {side}"));
    format!(
        "{once}with {tool}, the {head} {}{}{side}, {}",
        best.near(),
        Clock::of(best.by_hand.best.angle, Seen::FromOpenEnd).words(),
        best.room()
    )
}

/// What holds at one moment.
fn moment(when: &str, best: Option<&Chosen>, fact: &ClipFact) -> LaidMoment {
    let Some(best) = best else {
        return LaidMoment {
            when: when.to_owned(),
            grade: Grade::Unsound,
            tool: None,
            clock: None,
            text: format!("no tool for {} reaches it", works(fact.kind).words())
                .as_str()
                .into(),
        };
    };
    let way = match &best.by_hand.way_in {
        WayIn::Clear => "a fist comes there from the hatch",
        WayIn::Blocked { .. } => "a fist does not come there from the hatch",
        WayIn::Shut(_) => "no hand comes in by the hatch",
        WayIn::Unknown(_) => "whether a hand comes there is not known",
    };
    let clock = Clock::of(best.by_hand.best.angle, Seen::FromOpenEnd).short();
    let at = if best.whole {
        "at any position".to_owned()
    } else {
        format!("{}{clock}, {}", best.near(), best.room())
    };
    LaidMoment {
        when: when.to_owned(),
        grade: best.grade,
        tool: Some(best.tool.clone()),
        clock: Some(clock),
        text: format!("{} {at}; {way}", the(&best.tool)).as_str().into(),
    }
}

/// Free arcs in clock words.
pub(super) fn arcs(arcs: &[access::Arc]) -> String {
    let seen = format!(" {}", Seen::FromOpenEnd.words());
    let words: Vec<String> = arcs
        .iter()
        .map(|arc| free_words(arc.from, arc.to, Seen::FromOpenEnd).replace(&seen, ""))
        .collect();
    say::list(&words, "and")
}

/// An input of a working.
pub(super) fn measure(
    symbol: &str,
    name: &str,
    metres: f64,
    at: Option<&str>,
) -> Option<WorkingInput> {
    let value = say::number(Length::from_si(metres)?, Some(Length::mm(0.5)));
    Some(WorkingInput {
        symbol: symbol.into(),
        name: name.into(),
        value,
        tolerance: None,
        from: at.map_or("computed", |_| "as written").into(),
        place: at.map(str::to_owned),
    })
}

fn are(names: &[String]) -> String {
    let verb = if names.len() == 1 { "is" } else { "are" };
    format!("{} {verb}", say::list(names, "and"))
}
