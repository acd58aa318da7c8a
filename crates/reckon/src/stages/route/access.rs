//! Whether a tool reaches each clip, and at which position of the clock its screw should stand.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

use bay::Vec3;
use bay::access::{
    self, ByHand, Doubt, Fineness, Housing, How, Moment, Obstacle, Outcome, Reach, Shut, Tool,
    WayIn, Which, Works,
};
use bay::clock::{ClipFrame, Clock, Seen};
use bay::solid::{Bounds, Shape, Space};
use boat::{ClipWord, Key};

use super::by_hand::Hand;
use super::input::{ClipFact, RouteInput};
use super::opposite::Stands;
use super::room;
use super::types::{LaidClip, place};
use crate::say;
use crate::verdict::{Grade, Verdict};

/// Slack either way under which a position must be hit closely [rad]. Common practice, no source: half an hour of
/// the clock.
pub(super) const NARROW: f64 = 7.5 * std::f64::consts::PI / 180.0;

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

/// What the tools find at one moment.
pub(super) struct Found {
    pub(super) reaches: Vec<Reach>,
    /// Each tool that reaches, by its name, with the way of the hand to it.
    pub(super) hands: Vec<(String, ByHand)>,
    /// The tool to take, where one reaches.
    pub(super) best: Option<Chosen>,
    /// What is in the way where none does.
    pub(super) by: Vec<String>,
    /// Whether that is the screw of the clip beside it.
    pub(super) shut_by_next: bool,
}

/// A tool, where it is put, and how well that does.
pub(super) struct Chosen {
    pub(super) tool: String,
    pub(super) works: Works,
    pub(super) by_hand: ByHand,
    /// What is in the hand's way.
    pub(super) by: Vec<String>,
    /// How far the position may be off either way, less what the clip's own place may be off [rad].
    pub(super) slack: f64,
    /// Whether it may be left to whoever fits it: no other clip on its end, and nothing in the way all round.
    pub(super) whole: bool,
    pub(super) grade: Grade,
    /// How it stands to the clips beside it on the same end.
    pub(super) stands: Stands,
}

/// A clip as the tools are put to it.
pub(super) struct Put<'s> {
    pub(super) fact: &'s ClipFact,
    pub(super) clip: access::Clip,
    pub(super) beyond: Vec<Shape>,
    pub(super) own: Option<usize>,
    pub(super) half: f64,
}

/// What was found of a clip at its moments.
pub(super) struct Looked<'m> {
    /// The hoses that are in when all is.
    pub(super) others: &'m [usize],
    pub(super) all_in: Found,
    /// What was found when it is fitted, where that was looked at apart.
    early: Option<Found>,
    /// When that is.
    pub(super) when: &'m str,
}

impl Found {
    fn is_sound(&self) -> bool {
        let best = self.best.as_ref();
        best.is_some_and(|best| best.grade == Grade::Sound)
    }
}

impl Looked<'_> {
    /// What holds when it is fitted.
    pub(super) fn at_first(&self) -> &Found {
        self.early.as_ref().unwrap_or(&self.all_in)
    }
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

    /// Sweeps the clips of one hose end at their moments and judges each.
    pub(super) fn end(&self, clips: &[(&ClipFact, Seat)]) -> Vec<(LaidClip, Option<Verdict>)> {
        let mut laid: Vec<(LaidClip, Option<Verdict>)> = Vec::with_capacity(clips.len());
        let mut puts: Vec<Put<'_>> = Vec::new();
        for (fact, seat) in clips {
            let put = self.put(fact, *seat);
            laid.push((unswept(fact, *seat, put.as_ref()), None));
            puts.extend(put.filter(|_| self.input.settle));
        }
        // All clips of an end sit on one hose.
        let own = puts.first().and_then(|put| put.own);
        let others = self.others(own, Moment::AllIn).unwrap_or_default();
        let all_in = self.found_all(&puts, &others);
        // With fewer hoses in, whatever is free stays free: only what fails is looked at again.
        let fails = !all_in.iter().all(Found::is_sound);
        let before = self.others(own, Moment::Fitting);
        let early = match &before {
            Some(before) if fails && *before != others => Some(self.found_all(&puts, before)),
            Some(_) => None,
            // Without an order: with no other hose in.
            None if fails && !others.is_empty() => Some(self.found_all(&puts, &[])),
            None => None,
        };
        let when = self.when(before.as_deref());
        let mut early = early.map(Vec::into_iter);
        for (put, all_in) in puts.iter().zip(all_in) {
            let early = early.as_mut().and_then(Iterator::next);
            let sound = all_in.is_sound();
            let looked = Looked {
                others: &others,
                all_in,
                early: early.filter(|_| !sound),
                when: &when,
            };
            let own = |one: &&mut (LaidClip, _)| one.0.nth == put.fact.nth;
            if let Some((laid, found)) = laid.iter_mut().find(own) {
                let verdict = self.judge(put, &looked, laid);
                laid.grade = verdict.grade;
                laid.text = verdict.because.clone();
                *found = Some(verdict);
            }
        }
        laid
    }

    /// Puts all tools to the clips of an end while some hoses are in, and sets their screws to each other.
    fn found_all(&self, puts: &[Put<'_>], others: &[usize]) -> Vec<Found> {
        let mut all: Vec<Found> = puts.iter().map(|put| self.found(put, others)).collect();
        self.oppose(puts, &mut all, others);
        all
    }

    /// When the clips of a hose are closed that goes in after some others.
    fn when(&self, before: Option<&[usize]>) -> String {
        let Some(before) = before else {
            return "while the other hoses are out".to_owned();
        };
        let hoses = before.iter().filter_map(|hose| self.hoses.get(*hose));
        let names: Vec<String> = hoses.map(|(run, _)| run.clone()).collect();
        if names.is_empty() {
            "when it is fitted, before the others".to_owned()
        } else {
            format!("when it is fitted, after {}", say::list(&names, "and"))
        }
    }

    fn put<'s>(&self, fact: &'s ClipFact, seat: Seat) -> Option<Put<'s>> {
        let own = self.own_hose(&fact.run);
        Some(Put {
            fact,
            clip: self.framed(fact, seat)?,
            beyond: self.beyond(own, seat, fact.od),
            own,
            half: seat.half,
        })
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
    pub(super) fn among<'s>(&'s self, put: &'s Put<'_>, others: &[usize]) -> Vec<Obstacle<'s>> {
        let mut all = access::obstacles(self.space, [], "");
        all.extend(put.beyond.iter().map(own_obstacle));
        let hoses = others.iter().filter_map(|number| self.hoses.get(*number));
        all.extend(hoses.map(|(name, shape)| Obstacle { name, shape }));
        all
    }

    pub(super) fn own_tools(&self, works: Works) -> Vec<Tool> {
        let tools = self.input.tools.iter();
        tools.filter(|tool| tool.works == works).cloned().collect()
    }

    /// What may close a clip: of its own tools those that a typed room lets in, or all where it lets none in.
    pub(super) fn tools_for(&self, clip: &ClipFact) -> Vec<Tool> {
        let mut own = self.own_tools(works(clip.kind));
        let allowed = |tool: &Tool| room::allows(clip, &tool.name, &self.input.tools);
        if own.iter().any(allowed) {
            own.retain(allowed);
        }
        own
    }

    /// Puts all tools for a clip to it while some hoses are in.
    pub(super) fn found(&self, put: &Put<'_>, others: &[usize]) -> Found {
        let among = self.among(put, others);
        let tools = self.tools_for(put.fact);
        let mut reaches = access::reach(&put.clip, &tools, &among, How::default());
        let hand = self.hand(put.own, others);
        let mut hands: Vec<(String, ByHand)> = Vec::with_capacity(tools.len());
        let mut best: Option<Chosen> = None;
        let mut choose = |tool: &Tool, reach: &Reach, best: &mut Option<Chosen>| {
            let with = (&hand.flood, self.own_in(put, &hand));
            let found = access::by_hand(&put.clip, tool, &among, reach, with, Fineness::default());
            if let Some(by_hand) = found {
                let exact = self.chosen(put, tool, by_hand.clone(), &hand);
                // A screw is set to the hour that is told: that place is judged, where it is no worse.
                let (way, angle) = (by_hand.best.way, told(by_hand.best.angle));
                let next = match exact.whole {
                    true => None,
                    false => access::set_at(&put.clip, tool, &among, &by_hand, with, (way, angle)),
                };
                let next = next.map(|set| self.chosen(put, tool, set, &hand));
                let next = next
                    .filter(|next| next.grade <= exact.grade)
                    .unwrap_or(exact);
                hands.push((tool.name.clone(), by_hand));
                // A degree more is nothing to a hand.
                let better = best
                    .as_ref()
                    .is_none_or(|best| (next.grade, best.slack + 0.02) < (best.grade, next.slack));
                if better {
                    *best = Some(next);
                }
            }
        };
        for (tool, reach) in tools.iter().zip(&reaches) {
            choose(tool, reach, &mut best);
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
                choose(tool, reach, &mut best);
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
        Found {
            reaches,
            hands,
            best,
            by,
            shut_by_next: false,
        }
    }

    /// The clip's own hose as a hand meets it: its number there, and what of it lies beyond the clip.
    pub(super) fn own_in<'s>(
        &self,
        put: &'s Put<'_>,
        hand: &Hand<'_>,
    ) -> Option<(usize, &'s [Shape])> {
        let number = hand.hoses.iter().position(|hose| Some(*hose) == put.own)?;
        Some((self.space.bodies().len() + number, put.beyond.as_slice()))
    }

    /// A tool at the place that was found for it.
    pub(super) fn chosen(
        &self,
        put: &Put<'_>,
        tool: &Tool,
        by_hand: ByHand,
        hand: &Hand<'_>,
    ) -> Chosen {
        let (slack, whole, grade) = put.graded(&by_hand);
        let by = match &by_hand.way_in {
            WayIn::Blocked { by } => by
                .iter()
                .filter_map(|n| self.name(hand, *n))
                .take(2)
                .collect(),
            _ => Vec::new(),
        };
        Chosen {
            tool: tool.name.clone(),
            works: tool.works,
            by_hand,
            by,
            slack,
            whole,
            grade,
            stands: Stands::Alone,
        }
    }
}

impl Put<'_> {
    /// How well a place does: how far the position may be off either way [rad], whether any does, and the grade.
    fn graded(&self, by_hand: &ByHand) -> (f64, bool, Grade) {
        let arc = by_hand.best.arc;
        let whole = arc.width() >= std::f64::consts::TAU - 1e-6;
        let slack = if whole {
            arc.slack()
        } else {
            (arc.slack() - self.aside(by_hand)).max(0.0)
        };
        (slack, whole, grade_of(&by_hand.way_in, slack))
    }

    /// By how much turn the free arc's ends may be off since the clip's place may be [rad]: what binds there is as a
    /// rule the hand, which is farthest from the axis.
    pub(super) fn aside(&self, found: &ByHand) -> f64 {
        let Some(hand) = found.best.hand() else {
            return 0.0;
        };
        let (at, axis) = (self.clip.frame.at(), self.clip.frame.axis());
        let to = hand - at;
        let arm = (to - axis * to.dot(axis)).length().max(self.clip.od / 2.0);
        self.half / arm.max(1e-3)
    }

    /// Tells the place to choose.
    pub(super) fn lay(&self, best: &Chosen, laid: &mut LaidClip) {
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

/// The half hour nearest to an angle, as an angle [rad].
pub(super) fn told(angle: f64) -> f64 {
    let (hour, half) = Clock::of(angle, Seen::FromOpenEnd).half_hour();
    Clock::hours(hour, if half { 30 } else { 0 }, Seen::FromOpenEnd).angle()
}

/// How well a clip is reached, by the way of the hand and how far its position may be off either way [rad].
pub(super) fn grade_of(way_in: &WayIn, slack: f64) -> Grade {
    match way_in {
        WayIn::Shut(Shut::Blocked) => Grade::Unsound,
        WayIn::Blocked { .. } | WayIn::Shut(Shut::Small) | WayIn::Unknown(Doubt::Outside) => {
            Grade::Marginal
        }
        WayIn::Clear | WayIn::Unknown(_) if slack < NARROW => Grade::Marginal,
        WayIn::Clear | WayIn::Unknown(_) => Grade::Sound,
    }
}

/// A clip of which nothing is said yet but where it is.
fn unswept(fact: &ClipFact, seat: Seat, put: Option<&Put<'_>>) -> LaidClip {
    LaidClip {
        joint: fact.joint.clone(),
        nth: fact.nth,
        of: fact.of,
        mark: fact.mark.clone(),
        title: fact.whole_title(),
        grade: Grade::Unmeasured,
        at: place(seat.at),
        half: seat.half,
        axis: place(seat.axis),
        noon: put.map_or([0.0, 0.0, 1.0], |put| place(put.clip.frame.radial(0.0))),
        radius: fact.od / 2.0,
        screw: None,
        clock: None,
        tool: None,
        way: Vec::new(),
        free: Vec::new(),
        moments: Vec::new(),
        text: "Not swept yet.".into(),
    }
}

/// What its own hose does farther along.
fn own_obstacle(shape: &Shape) -> Obstacle<'_> {
    Obstacle {
        name: "its own hose farther along",
        shape,
    }
}
