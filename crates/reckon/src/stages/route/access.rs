//! Whether a tool reaches each clip, and at which position of the clock its screw should stand.

use std::cell::OnceCell;

use bay::Vec3;
use bay::access::{
    self, Best, Better, Fineness, Flood, Hatch, Housing, How, InFront, Obstacle, Outcome, Reach,
    Tool, WayIn, Works,
};
use bay::clock::{ClipFrame, Clock, Seen, free_words, sides};
use bay::solid::{Bounds, Shape, Space};
use boat::{ClipWord, Key};

use super::input::{ClipFact, RouteInput};
use super::judge::mm;
use super::types::{LaidClip, place};
use crate::say;
use crate::stages::types::Subject;
use crate::verdict::{Grade, Stage, Verdict, Words};

/// A fist that holds a handle [m]. Common practice, no source.
const HAND: f64 = 0.045;
/// Slack either way under which a position must be hit closely [rad]. Common practice, no source: half an hour of
/// the clock.
const NARROW: f64 = 7.5 * std::f64::consts::PI / 180.0;

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
    pub(super) tools: Vec<Tool>,
    /// Where a hand comes when all is in, found once for all clips.
    pub(super) flood: OnceCell<Option<Flood<'a>>>,
}

/// What closes a kind of clip.
fn works(kind: Option<ClipWord>) -> Works {
    match kind {
        Some(ClipWord::SingleEar | ClipWord::TwoEar) => Works::Ear,
        Some(ClipWord::SpringBand) => Works::Band,
        Some(ClipWord::Worm | ClipWord::TBolt) | None => Works::Screw,
    }
}

fn subject(clip: &ClipFact) -> Subject {
    Subject {
        key: clip.joint.clone(),
        title: clip.title.clone(),
        place: clip.place.clone(),
    }
}

fn verdict(clip: &ClipFact, grade: Grade, because: String) -> Verdict {
    subject(clip).verdict(Stage::Route, "access", grade, because.as_str().into())
}

/// What a typed room in front of the screw says.
pub(super) fn by_room(clip: &ClipFact, tools: &[Tool]) -> Option<Verdict> {
    let room = clip.room?;
    let works = works(clip.kind);
    let own: Vec<Tool> = tools
        .iter()
        .filter(|tool| tool.works == works)
        .cloned()
        .collect();
    let fits = access::room_in_front(
        InFront {
            length: room,
            across: None,
        },
        &own,
    );
    let fitting: Vec<String> = fits
        .iter()
        .filter(|fit| fit.holds())
        .map(|fit| fit.tool.clone())
        .collect();
    let shortest = fits
        .iter()
        .map(|fit| fit.wants.length)
        .fold(f64::INFINITY, f64::min);
    let grade = if fitting.is_empty() {
        Grade::Unsound
    } else {
        Grade::Sound
    };
    let because = Words::of(|system| {
        if fitting.is_empty() {
            format!(
                "{} are free in front of it; the shortest tool for it wants {}.",
                mm(room, system),
                mm(shortest, system)
            )
        } else {
            format!(
                "{} are free in front of it: room for {}.",
                mm(room, system),
                say::list(&fitting, "or")
            )
        }
    });
    let mut verdict = subject(clip).verdict(Stage::Route, "access", grade, because);
    if fitting.is_empty() {
        verdict.remedy =
            "Turn the clip so that its screw points where there is more room, and write how much that is."
                .into();
    }
    verdict.step(
        "left = room in front − what the tool wants",
        Words::of(|system| format!("{} − {}", mm(room, system), mm(shortest, system))),
        Words::of(|system| say::mm(room - shortest, system)),
    );
    verdict.working.limit = "over 0 for one tool at least".into();
    verdict.source(access::SOURCE);
    Some(verdict)
}

impl<'a> Sweep<'a> {
    /// Sweeps one clip and judges it.
    pub(super) fn clip(&self, fact: &ClipFact, seat: Seat) -> (LaidClip, Vec<Verdict>) {
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
            text: "Not swept yet.".into(),
        };
        let Ok(frame) = ClipFrame::new(seat.at, seat.axis, self.ahead) else {
            return (laid, Vec::new());
        };
        laid.noon = place(frame.radial(0.0));
        if !self.input.settle {
            return (laid, Vec::new());
        }
        let works = works(fact.kind);
        let clip = access::Clip {
            frame,
            od: fact.od,
            housing: (works == Works::Screw).then(Housing::default),
        };
        let hoses = self.hoses.iter().map(|(run, shape)| (run.as_str(), shape));
        let all = access::obstacles(self.space, hoses, &fact.run);
        let reaches = access::reach(&clip, &self.own(works), &all, How::default());
        let best = reaches
            .iter()
            .find_map(|reach| Some((reach, reach.best()?)));
        let verdict = match best {
            Some((reach, best)) => self.reached(fact, &mut laid, &frame, reach, best),
            None => self.blocked(fact, &clip, works, &reaches, &all),
        };
        laid.grade = verdict.grade;
        laid.text = verdict.because.clone();
        (laid, vec![verdict])
    }

    /// A clip as the order of fitting wants it, where some tool reaches it with no other hose in.
    pub(super) fn reachable_alone(&self, fact: &ClipFact, seat: Seat) -> Option<access::Clip> {
        let frame = ClipFrame::new(seat.at, seat.axis, self.ahead).ok()?;
        let works = works(fact.kind);
        let clip = access::Clip {
            frame,
            od: fact.od,
            housing: (works == Works::Screw).then(Housing::default),
        };
        let bodies = access::obstacles(self.space, [], "");
        let reached = access::reaches(&clip, &self.own(works), &bodies, Fineness::default());
        reached.then_some(clip)
    }

    fn own(&self, works: Works) -> Vec<Tool> {
        let tools = self.tools.iter();
        tools.filter(|tool| tool.works == works).cloned().collect()
    }

    /// The name of a thing by its number: bodies, then hoses.
    fn name(&self, number: usize) -> Option<String> {
        let bodies = self.space.bodies();
        match bodies.get(number) {
            Some(body) => Some(body.name.clone()),
            None => {
                let (run, _) = self.hoses.get(number - bodies.len())?;
                Some(run.clone())
            }
        }
    }

    /// Where a hand comes in.
    fn way_in(&self, fact: &ClipFact, best: &Best) -> WayIn {
        let Some(flood) = self.flood.get_or_init(|| self.flood()) else {
            return WayIn::Clear;
        };
        // A tool may lie against its own hose.
        let own = self.hoses.iter().position(|(run, _)| *run == fact.run);
        let own: Vec<usize> = own
            .map(|own| self.space.bodies().len() + own)
            .into_iter()
            .collect();
        flood.way_in(best, &own)
    }

    fn flood(&self) -> Option<Flood<'a>> {
        let hatch = self.input.hatch.map(|(at, [long, broad])| Hatch {
            at: Vec3::from_array(at),
            radius: long.min(broad) / 2.0,
        });
        let hoses = self.hoses.iter().map(|(run, shape)| (run.as_str(), shape));
        let every = access::obstacles(self.space, hoses, "");
        let bay = every
            .iter()
            .map(|obstacle| obstacle.shape.bounds())
            .reduce(Bounds::and)?;
        Some(Flood::new(&every, hatch, bay, HAND))
    }

    fn reached(
        &self,
        fact: &ClipFact,
        laid: &mut LaidClip,
        frame: &ClipFrame,
        reach: &Reach,
        best: &Best,
    ) -> Verdict {
        let clock = Clock::of(best.angle, Seen::FromOpenEnd);
        let side = best
            .comes_from()
            .and_then(|from| sides(from, self.ahead))
            .map_or_else(String::new, |side| format!(", from {side}"));
        let head = match reach.works {
            Works::Screw => "screw head",
            Works::Ear => "ear",
            Works::Band => "tangs",
        };
        laid.clock = Some(clock.short());
        laid.tool = Some(reach.tool.clone());
        laid.screw = Some(place(
            frame.at() + frame.radial(best.angle) * (fact.od / 2.0 + access::SCREW_RISE),
        ));
        laid.way = best
            .caps
            .iter()
            .map(|cap| (vec![place(cap.a), place(cap.b)], cap.radius))
            .collect();
        laid.free = reach
            .free
            .iter()
            .map(|arc| {
                // The clock runs against the angle as seen from the open end.
                let degrees = |angle: f64| -angle.to_degrees();
                (degrees(arc.to), degrees(arc.from))
            })
            .collect();
        let slack = best.slack();
        let whole = best.arc.width() >= std::f64::consts::TAU - 1e-6;
        let way_in = self.way_in(fact, best);
        let (grade, more) = match &way_in {
            WayIn::Blocked { by } => {
                let names: Vec<String> = by
                    .iter()
                    .filter_map(|number| self.name(*number))
                    .take(2)
                    .collect();
                let by = if names.is_empty() {
                    "what stands before it".to_owned()
                } else {
                    say::list(&names, "and")
                };
                (
                    Grade::Marginal,
                    format!(" A fist does not come there from the hatch: {by} is in the way."),
                )
            }
            WayIn::Clear | WayIn::Unknown(_) if whole => (Grade::Sound, String::new()),
            WayIn::Clear | WayIn::Unknown(_) if slack < NARROW => (
                Grade::Marginal,
                " That must be hit closely: set it before the hose is tight.".to_owned(),
            ),
            WayIn::Clear | WayIn::Unknown(_) => (Grade::Sound, String::new()),
        };
        let because = if whole {
            format!(
                "When all is in, a {} reaches it at any position of the clock{side}.{more}",
                reach.tool
            )
        } else {
            format!(
                "When all is in, a {} reaches it with the {head} at {}{side}, {} either way.{more}",
                reach.tool,
                clock.words(),
                say::degrees(slack.to_degrees())
            )
        };
        let mut verdict = verdict(fact, grade, because);
        if grade == Grade::Marginal {
            verdict.remedy = match way_in {
                WayIn::Blocked { .. } => {
                    "Try it with your own hand before the hose is cut; else tighten it before what is in the way goes in.".into()
                }
                _ => format!(
                    "Mark the position on the hose with a felt pen: {}.",
                    free_words(best.arc.from, best.arc.to, Seen::FromOpenEnd)
                )
                .as_str()
                .into(),
            };
        }
        verdict.step(
            "the tool's envelope is put to the clip all round, and kept where it meets nothing",
            format!("{} arcs free", reach.free.len()).as_str().into(),
            free_words(best.arc.from, best.arc.to, Seen::FromOpenEnd)
                .as_str()
                .into(),
        );
        verdict.working.limit = "one free arc at least".into();
        verdict.source(access::SOURCE);
        verdict.source(super::judge::DISTANCE);
        verdict
    }

    fn blocked(
        &self,
        fact: &ClipFact,
        clip: &access::Clip,
        works: Works,
        reaches: &[Reach],
        all: &[Obstacle<'_>],
    ) -> Verdict {
        let mut names: Vec<String> = Vec::new();
        for reach in reaches {
            if let Outcome::Blocked { by } = &reach.outcome {
                for name in by.iter().filter_map(|number| all.get(*number)) {
                    let name = name.name.to_owned();
                    if !names.contains(&name) {
                        names.push(name);
                    }
                }
            }
        }
        names.truncate(3);
        let by = if names.is_empty() {
            String::new()
        } else {
            format!(": {} in the way", are(&names))
        };
        // Before the other hoses are in.
        let early: Vec<Obstacle<'_>> = all
            .iter()
            .take(self.space.bodies().len())
            .copied()
            .collect();
        let early = access::reach(clip, &self.own(works), &early, How::default());
        let at_first = early.iter().find_map(|reach| Some((reach, reach.best()?)));
        // Another kind of clip in its place.
        let other = match works {
            Works::Screw => Works::Ear,
            Works::Ear | Works::Band => Works::Screw,
        };
        let mut both = reaches.to_vec();
        both.extend(access::reach(clip, &self.own(other), all, How::default()));
        let better = access::better(&both, works, other);
        let mut verdict = match at_first {
            Some((reach, best)) => {
                let mut verdict = verdict(
                    fact,
                    Grade::Marginal,
                    format!(
                        "When all is in, no tool reaches it{by}; while the other hoses are out, a {} does, with its head at {}.",
                        reach.tool,
                        Clock::of(best.angle, Seen::FromOpenEnd).words()
                    ),
                );
                verdict.remedy = "Tighten it before the hoses in its way go in, and look at it again when they are out.".into();
                verdict
            }
            None => {
                let mut verdict = verdict(
                    fact,
                    Grade::Unsound,
                    format!("No tool reaches it at any position of the clock{by}."),
                );
                verdict.remedy = "Move the joint or what stands before it, or tighten it before that thing goes in.".into();
                verdict
            }
        };
        if better == Better::Second {
            verdict.remedy = format!("{}.", say::capital(&better.words(works, other)))
                .as_str()
                .into();
        }
        verdict.caution = Some(
            "A clip that nobody reaches is never tightened again: hot coolant under pressure leaks from it first."
                .into(),
        );
        verdict.step(
            "each tool's envelope is put to the clip all round",
            "both ways of the screw".into(),
            "none is free".into(),
        );
        verdict.working.limit = "one free arc at least".into();
        verdict.source(access::SOURCE);
        verdict.source(super::judge::DISTANCE);
        verdict
    }
}

fn are(names: &[String]) -> String {
    let verb = if names.len() == 1 { "is" } else { "are" };
    format!("{} {verb}", say::list(names, "and"))
}
