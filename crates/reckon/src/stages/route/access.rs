//! Whether a tool reaches each clip, and at which position of the clock its screw should stand.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

use bay::Vec3;
use bay::access::{
    self, Better, ByHand, Doubt, Fineness, Housing, How, Moment, Obstacle, Outcome, Reach, Shut,
    Tool, WayIn, Which, Works,
};
use bay::clock::{ClipFrame, Clock, Seen, free_words, sides};
use bay::solid::{Bounds, Shape, Space};
use boat::{ClipWord, Key};
use quantity::{Length, Quantity};

use super::by_hand::Hand;
use super::input::{ClipFact, RouteInput};
use super::room;
use super::types::{LaidClip, LaidMoment, place};
use crate::say;
use crate::stages::types::Subject;
use crate::verdict::{Grade, Settles, Stage, Verdict, WorkingInput};

/// Slack either way under which a position must be hit closely [rad]. Common practice, no source: half an hour of
/// the clock.
const NARROW: f64 = 7.5 * std::f64::consts::PI / 180.0;
/// What a clip that nobody reaches does.
pub(super) const CAUTION: &str = "A clip that nobody reaches is never tightened again: hot coolant under pressure leaks from it first.";

/// Where a clip sits.
#[derive(Clone, Copy, Debug)]
pub(super) struct Seat {
    /// The middle of the band.
    pub(super) at: Vec3,
    /// Out of the spigot, into the hose.
    pub(super) axis: Vec3,
    /// How far that may be off [m].
    pub(super) half: f64,
}

/// What the sweep of one clip needs.
pub(super) struct Sweep<'a> {
    pub(super) input: &'a RouteInput,
    pub(super) space: &'a Space,
    /// Hoses as they hang, by run.
    pub(super) hoses: &'a [(Key, Shape)],
    pub(super) ahead: Vec3,
    /// The order of fitting, by the numbers of the hoses; `None` where there is none.
    pub(super) order: Option<Vec<usize>>,
    /// Where the clips are.
    pub(super) seats: Option<Bounds>,
    /// Where a hand comes, by which hoses are in; each found once for all clips.
    pub(super) floods: RefCell<BTreeMap<Vec<usize>, Rc<Hand<'a>>>>,
}

/// What closes a kind of clip.
pub(super) fn works(kind: Option<ClipWord>) -> Works {
    match kind {
        Some(ClipWord::SingleEar | ClipWord::TwoEar) => Works::Ear,
        Some(ClipWord::SpringBand) => Works::Band,
        Some(ClipWord::Worm | ClipWord::TBolt) | None => Works::Screw,
    }
}

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

pub(super) fn subject(clip: &ClipFact) -> Subject {
    Subject {
        key: clip.joint.clone(),
        title: clip.title.clone(),
        place: clip.place.clone(),
    }
}

/// What the tools find at one moment.
struct Found {
    reaches: Vec<Reach>,
    /// The tool to take, where one reaches.
    best: Option<Chosen>,
    /// What is in the way where none does.
    by: Vec<String>,
}

/// A tool, where it is put, and how well that does.
struct Chosen {
    tool: String,
    works: Works,
    by_hand: ByHand,
    /// What is in the hand's way.
    by: Vec<String>,
    /// How far the position may be off either way, less what the clip's own place may be off [rad].
    slack: f64,
    whole: bool,
    grade: Grade,
}

/// A clip as the tools are put to it.
struct Put<'s> {
    fact: &'s ClipFact,
    clip: access::Clip,
    beyond: Vec<Shape>,
    own: Option<usize>,
    half: f64,
}

impl<'a> Sweep<'a> {
    /// A clip as bay wants it.
    fn framed(&self, fact: &ClipFact, seat: Seat) -> Option<access::Clip> {
        let works = works(fact.kind);
        Some(access::Clip {
            frame: ClipFrame::new(seat.at, seat.axis, self.ahead).ok()?,
            od: fact.od,
            housing: (works == Works::Screw).then(Housing::default),
            works: Some(works),
        })
    }

    /// Its own hose, by its number.
    fn own_hose(&self, run: &str) -> Option<usize> {
        self.hoses.iter().position(|(own, _)| own == run)
    }

    fn beyond(&self, own: Option<usize>, seat: Seat, od: f64) -> Vec<Shape> {
        let shape = own.and_then(|own| self.hoses.get(own));
        shape.map_or_else(Vec::new, |(_, shape)| {
            access::own_beyond(shape, seat.at, od)
        })
    }

    /// A clip as the order of fitting wants it, where some tool reaches it with no other hose in.
    pub(super) fn reachable_alone(&self, fact: &ClipFact, seat: Seat) -> Option<access::Clip> {
        let clip = self.framed(fact, seat)?;
        let beyond = self.beyond(self.own_hose(&fact.run), seat, fact.od);
        let mut bodies = access::obstacles(self.space, [], "");
        bodies.extend(beyond.iter().map(own_obstacle));
        let reached = access::reaches(&clip, &self.input.tools, &bodies, Fineness::default());
        reached.then_some(clip)
    }

    /// Sweeps one clip and judges it.
    pub(super) fn clip(&self, fact: &ClipFact, seat: Seat) -> (LaidClip, Option<Verdict>) {
        let mut laid = LaidClip {
            joint: fact.joint.clone(),
            mark: fact.mark.clone(),
            title: fact.title.clone(),
            grade: Grade::Unmeasured,
            at: place(seat.at),
            half: seat.half,
            axis: place(seat.axis),
            noon: [0.0, 0.0, 1.0],
            radius: fact.od / 2.0,
            screw: None,
            clock: None,
            tool: None,
            way: Vec::new(),
            free: Vec::new(),
            moments: Vec::new(),
            text: "Not swept yet.".into(),
        };
        let Some(clip) = self.framed(fact, seat) else {
            return (laid, None);
        };
        laid.noon = place(clip.frame.radial(0.0));
        if !self.input.settle {
            return (laid, None);
        }
        let own = self.own_hose(&fact.run);
        let put = Put {
            fact,
            clip,
            beyond: self.beyond(own, seat, fact.od),
            own,
            half: seat.half,
        };
        let verdict = self.judge(&put, &mut laid);
        laid.grade = verdict.grade;
        laid.text = verdict.because.clone();
        (laid, Some(verdict))
    }

    /// The hoses that are in when a clip of `own` is worked; `None` where no order tells.
    fn others(&self, own: Option<usize>, moment: Moment) -> Option<Vec<usize>> {
        let own = own.unwrap_or(usize::MAX);
        match moment {
            Moment::Fitting => Some(moment.others(own, self.order.as_ref()?)),
            _ => {
                let all: Vec<usize> = (0..self.hoses.len()).collect();
                Some(moment.others(own, &all))
            }
        }
    }

    /// The bodies, what the own hose does farther along, and some of the other hoses.
    fn among<'s>(&'s self, put: &'s Put<'_>, others: &[usize]) -> Vec<Obstacle<'s>> {
        let mut all = access::obstacles(self.space, [], "");
        all.extend(put.beyond.iter().map(own_obstacle));
        let hoses = others.iter().filter_map(|number| self.hoses.get(*number));
        all.extend(hoses.map(|(name, shape)| Obstacle { name, shape }));
        all
    }

    fn own_tools(&self, works: Works) -> Vec<Tool> {
        let tools = self.input.tools.iter();
        tools.filter(|tool| tool.works == works).cloned().collect()
    }

    /// What may close a clip: of its own tools those that a typed room lets in, or all where it lets none in.
    fn tools_for(&self, clip: &ClipFact) -> Vec<Tool> {
        let mut own = self.own_tools(works(clip.kind));
        let allowed = |tool: &Tool| room::allows(clip, &tool.name, &self.input.tools);
        if own.iter().any(allowed) {
            own.retain(allowed);
        }
        own
    }

    /// Puts all tools for a clip to it while some hoses are in.
    fn found(&self, put: &Put<'_>, others: &[usize]) -> Found {
        let among = self.among(put, others);
        let tools = self.tools_for(put.fact);
        let mut reaches = access::reach(&put.clip, &tools, &among, How::default());
        let hand = self.hand(put.own, others);
        let mut best: Option<Chosen> = None;
        for (tool, reach) in tools.iter().zip(&reaches) {
            self.choose(put, tool, reach, &among, &hand, &mut best);
        }
        // What bends was spared for a tool that reaches: where no hand comes to that one it is tried too.
        let refused =
            |best: &Chosen| !matches!(best.by_hand.way_in, WayIn::Clear | WayIn::Unknown(_));
        let all_alike = hand.flood.of_all().is_some();
        if !all_alike && best.as_ref().is_some_and(refused) {
            for (tool, reach) in tools.iter().zip(&mut reaches) {
                if reach.outcome != Outcome::Spared {
                    continue;
                }
                let how = How {
                    which: Which::Every,
                    ..How::default()
                };
                if let Some(tried) =
                    access::reach(&put.clip, std::slice::from_ref(tool), &among, how).pop()
                {
                    *reach = tried;
                }
                self.choose(put, tool, reach, &among, &hand, &mut best);
            }
        }
        let mut by: Vec<String> = Vec::new();
        if best.is_none() {
            for name in reaches.iter().flat_map(|reach| reach.blocked_by(&among)) {
                if !by.iter().any(|known| known == name) {
                    by.push(name.to_owned());
                }
            }
            by.truncate(3);
        }
        Found { reaches, best, by }
    }

    /// Takes a tool where it does better than the best before: by grade, then by slack.
    fn choose(
        &self,
        put: &Put<'_>,
        tool: &Tool,
        reach: &Reach,
        among: &[Obstacle<'_>],
        hand: &Hand<'_>,
        best: &mut Option<Chosen>,
    ) {
        let own = put.own.and_then(|own| {
            let number = hand.hoses.iter().position(|hose| *hose == own)?;
            Some((self.space.bodies().len() + number, put.beyond.as_slice()))
        });
        let with = (&hand.flood, own);
        let found = access::by_hand(&put.clip, tool, among, reach, with, Fineness::default());
        let Some(by_hand) = found else {
            return;
        };
        let arc = by_hand.best.arc;
        let whole = arc.width() >= std::f64::consts::TAU - 1e-6;
        let slack = if whole {
            arc.slack()
        } else {
            (arc.slack() - put.aside(&by_hand)).max(0.0)
        };
        let grade = match &by_hand.way_in {
            WayIn::Shut(Shut::Blocked) => Grade::Unsound,
            WayIn::Blocked { .. } | WayIn::Shut(Shut::Small) | WayIn::Unknown(Doubt::Outside) => {
                Grade::Marginal
            }
            WayIn::Clear | WayIn::Unknown(Doubt::NoHatch | Doubt::TooLarge) if whole => {
                Grade::Sound
            }
            WayIn::Clear | WayIn::Unknown(_) if slack < NARROW => Grade::Marginal,
            WayIn::Clear | WayIn::Unknown(_) => Grade::Sound,
        };
        let better = best.as_ref().is_none_or(|best| {
            // A degree more is nothing to a hand.
            (grade, best.slack + 0.02) < (best.grade, slack)
        });
        if better {
            let by = match &by_hand.way_in {
                WayIn::Blocked { by } => by
                    .iter()
                    .filter_map(|n| self.name(hand, *n))
                    .take(2)
                    .collect(),
                _ => Vec::new(),
            };
            *best = Some(Chosen {
                tool: tool.name.clone(),
                works: tool.works,
                by_hand,
                by,
                slack,
                whole,
                grade,
            });
        }
    }

    /// Judges one clip at its three moments.
    fn judge(&self, put: &Put<'_>, laid: &mut LaidClip) -> Verdict {
        let others = self.others(put.own, Moment::AllIn).unwrap_or_default();
        let all_in = self.found(put, &others);
        // With fewer hoses in, whatever is free stays free: only what fails is looked at again.
        let fails = all_in
            .best
            .as_ref()
            .is_none_or(|best| best.grade != Grade::Sound);
        let before = self.others(put.own, Moment::Fitting);
        let early = match &before {
            Some(before) if fails && *before != others => Some(self.found(put, before)),
            Some(_) => None,
            // Without an order: with no other hose in.
            None if fails && !others.is_empty() => Some(self.found(put, &[])),
            None => None,
        };
        let at_first = early.as_ref().unwrap_or(&all_in);
        let when = match &before {
            Some(before) => {
                let names: Vec<String> = before
                    .iter()
                    .filter_map(|hose| self.hoses.get(*hose))
                    .map(|(run, _)| run.clone())
                    .collect();
                if names.is_empty() {
                    "when it is fitted, before the others".to_owned()
                } else {
                    format!("when it is fitted, after {}", say::list(&names, "and"))
                }
            }
            None => "while the other hoses are out".to_owned(),
        };
        let mut verdict = match &all_in.best {
            Some(best) => self.reached(put, best, at_first, &when),
            None => self.blocked(put, &all_in, &others, at_first, &when),
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
        if let Some(best) = &all_in.best
            && !best.whole
            && put.half > 0.0
        {
            verdict.step(
                "slack = half the arc − δ / the hand's distance from the hose's axis",
                format!(
                    "{} − {}",
                    say::degrees(best.by_hand.best.arc.slack().to_degrees()),
                    say::degrees(put.aside(&best.by_hand).to_degrees())
                )
                .as_str()
                .into(),
                say::degrees(best.slack.to_degrees()).as_str().into(),
            );
        }
        let moments = [
            (when.as_str(), Some(at_first)),
            (Moment::AllIn.words(), Some(&all_in)),
            // All others are in then as well, and this one's far end still is.
            (Moment::OutAlone.words(), Some(&all_in)),
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
    fn reached(&self, put: &Put<'_>, best: &Chosen, at_first: &Found, when: &str) -> Verdict {
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
            WayIn::Clear | WayIn::Unknown(_) if best.grade == Grade::Marginal => {
                " That must be hit closely: set it before the hose is tight.".to_owned()
            }
            WayIn::Clear | WayIn::Unknown(_) => String::new(),
        };
        let because = format!(
            "When all is in, it is reached {}.{more}{kind}",
            position(best, self.ahead)
        );
        let mut verdict =
            subject(put.fact).verdict(Stage::Route, "access", best.grade, because.as_str().into());
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
                "Mark the position on the hose with a felt pen: {}.",
                free_words(arc.from, arc.to, Seen::FromOpenEnd)
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
    fn blocked(
        &self,
        put: &Put<'_>,
        all_in: &Found,
        others: &[usize],
        at_first: &Found,
        when: &str,
    ) -> Verdict {
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
        let among = self.among(put, others);
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
        let mut verdict =
            subject(fact).verdict(Stage::Route, "access", grade, because.as_str().into());
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
        verdict.caution = Some(CAUTION.into());
        verdict
    }
}

impl Put<'_> {
    /// By how much turn the free arc's ends may be off since the clip's place may be [rad]: what binds there is as a
    /// rule the hand, which is farthest from the axis.
    fn aside(&self, found: &ByHand) -> f64 {
        let Some(hand) = found.best.hand() else {
            return 0.0;
        };
        let (at, axis) = (self.clip.frame.at(), self.clip.frame.axis());
        let to = hand - at;
        let arm = (to - axis * to.dot(axis)).length().max(self.clip.od / 2.0);
        self.half / arm.max(1e-3)
    }

    /// Tells the place to choose.
    fn lay(&self, best: &Chosen, laid: &mut LaidClip) {
        let (frame, place_of) = (&self.clip.frame, &best.by_hand.best);
        laid.clock = Some(Clock::of(place_of.angle, Seen::FromOpenEnd).short());
        laid.tool = Some(best.tool.clone());
        let rise = self.clip.od / 2.0 + access::SCREW_RISE;
        laid.screw = Some(place(frame.at() + frame.radial(place_of.angle) * rise));
        laid.way = place_of
            .caps
            .iter()
            .map(|cap| (vec![place(cap.a), place(cap.b)], cap.radius))
            .collect();
        laid.free = best
            .by_hand
            .free
            .iter()
            .map(|arc| {
                // The clock runs against the angle as seen from the open end.
                let degrees = |angle: f64| -angle.to_degrees();
                (degrees(arc.to), degrees(arc.from))
            })
            .collect();
    }
}

/// What its own hose does farther along.
fn own_obstacle(shape: &Shape) -> Obstacle<'_> {
    Obstacle {
        name: "its own hose farther along",
        shape,
    }
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
        "{once}with {tool}, the {head} at {}{side}, {} either way",
        Clock::of(best.by_hand.best.angle, Seen::FromOpenEnd).words(),
        say::degrees(best.slack.to_degrees())
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
        format!(
            "at {clock}, {} either way",
            say::degrees(best.slack.to_degrees())
        )
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
fn arcs(arcs: &[access::Arc]) -> String {
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
