//! Several clips on one hose end: their screws stand opposite each other, or as near to it as tools let them.

use std::cmp::Reverse;
use std::f64::consts::{PI, TAU};

use bay::access::{self, Obstacle, Way};
use bay::solid::Shape;
use reference::clip::clip_fact;

use super::access::{Chosen, Found, NARROW, Put, Sweep, grade_of, told};
use crate::say;
use crate::verdict::{Grade, Verdict};

/// Screws that miss standing opposite by no more than this count as opposite [rad]. Ours: an hour of the clock.
const NEARLY: f64 = PI / 6.0;
/// More slack than this makes no place better than another [rad]. Ours: half an hour of the clock.
const ENOUGH: f64 = PI / 12.0;
/// How many places of a clip are paired, the best first. Ours: more than there are half hours.
const PLACES: usize = 36;
/// What to do where two clips are one too many.
pub(super) const ONE: &str = "Take one clip there, where no rule asks for two.";
/// What stands in the way of a second screw.
const BESIDE: &str = "the screw of the clip beside it";

/// How a clip stands to the one beside it on the same end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Stands {
    /// It is the only one that is reached.
    Alone,
    /// So far round the hose from it [rad].
    Beside(f64),
}

impl Stands {
    /// Whether it stands as two clips should, or is alone.
    fn is_good(self) -> bool {
        match self {
            Self::Alone => true,
            Self::Beside(apart) => apart >= PI - NEARLY,
        }
    }

    /// A grade, marginal at best where it does not stand as it should.
    fn lowered(self, grade: Grade) -> Grade {
        match self.is_good() {
            true => grade,
            false => grade.max(Grade::Marginal),
        }
    }

    /// Follows the place of a clip.
    pub(super) fn words(self) -> String {
        match self {
            Self::Alone => String::new(),
            Self::Beside(_) if self.is_good() => ", opposite that of the clip beside it".to_owned(),
            Self::Beside(apart) => {
                format!(
                    ", only {} round from that of the clip beside it",
                    say_round(apart)
                )
            }
        }
    }

    /// What else to do where it does not stand as it should; begins with a space.
    pub(super) fn remedy(self) -> String {
        match self.is_good() {
            true => String::new(),
            false => format!(" {ONE}"),
        }
    }

    /// Says how the place beside another was found.
    pub(super) fn work(self, verdict: &mut Verdict) {
        let Self::Beside(apart) = self else {
            return;
        };
        verdict.step(
            "of the places where each of the clips on this end is reached beside the others, those nearest to opposite",
            format!("at least {}", say_round(PI - NEARLY)).as_str().into(),
            format!("{} apart", say_round(apart)).as_str().into(),
        );
        if let Some(fact) = clip_fact("two-clips-turned") {
            verdict.source(fact.source.cite());
        }
    }
}

fn say_round(angle: f64) -> String {
    say::degrees(angle.to_degrees().round())
}

/// How far it is from one angle to another the shorter way round [rad].
pub(super) fn round(from: f64, to: f64) -> f64 {
    let turn = (to - from).rem_euclid(TAU);
    turn.min(TAU - turn)
}

/// Where a screw or ear may stand: by which of the tools found, in which way.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Spot {
    tool: usize,
    way: Way,
    angle: f64,
    slack: f64,
}

impl Found {
    /// The places that are good for the clip by itself: in each free arc its middle, and as near its ends as one cares
    /// to be.
    fn spots(&self) -> Vec<Spot> {
        let mut spots = Vec::new();
        for (tool, (_, by_hand)) in self.hands.iter().enumerate() {
            for free in &by_hand.ways {
                for arc in &free.free {
                    let inset = ENOUGH.min(arc.slack());
                    for angle in [arc.middle(), arc.from + inset, arc.to - inset] {
                        // At the hour that is told, where that is no worse.
                        let exact = self.spot(tool, free.way, angle);
                        let hour = self.spot(tool, free.way, told(angle));
                        let hour = hour.filter(|hour| {
                            exact.is_none_or(|exact| self.grade(*hour) <= self.grade(exact))
                        });
                        spots.extend(hour.or(exact));
                    }
                }
            }
        }
        spots
    }

    fn spot(&self, tool: usize, way: Way, angle: f64) -> Option<Spot> {
        let (_, by_hand) = self.hands.get(tool)?;
        let free = by_hand.ways.iter().find(|free| free.way == way)?;
        Some(Spot {
            tool,
            way,
            angle: angle.rem_euclid(TAU),
            slack: free.slack_at(angle)?,
        })
    }

    /// The roomiest place at one angle.
    fn spot_at(&self, angle: f64) -> Option<Spot> {
        let hands = self.hands.iter().enumerate();
        hands
            .flat_map(|(tool, (_, by_hand))| by_hand.ways.iter().map(move |free| (tool, free.way)))
            .filter_map(|(tool, way)| self.spot(tool, way, angle))
            .reduce(|best, next| if next.slack > best.slack { next } else { best })
    }

    /// The places by themselves, and those opposite some others.
    fn spots_for(&self, others: &[Spot]) -> Vec<Spot> {
        let mut spots = self.spots();
        let opposite = others
            .iter()
            .filter_map(|other| self.spot_at(other.angle + PI));
        spots.extend(opposite);
        // The best at each angle does for it.
        let order = |a: &Spot, b: &Spot| {
            let grades = self.grade(*a).cmp(&self.grade(*b));
            grades.then(b.slack.total_cmp(&a.slack))
        };
        spots.sort_by(|a, b| a.angle.total_cmp(&b.angle).then(order(a, b)));
        spots.dedup_by(|next, kept| round(next.angle, kept.angle) < 1e-6);
        spots.sort_by(order);
        spots.truncate(PLACES);
        spots
    }

    /// How well a place does: whether a hand comes, and whether it must not be hit closely.
    fn grade(&self, spot: Spot) -> Grade {
        let by_hand = self.hands.get(spot.tool);
        by_hand.map_or(Grade::Unsound, |(_, by_hand)| {
            grade_of(&by_hand.way_in, spot.slack)
        })
    }
}

/// What is better of two places beside each other comes first: well reached and opposite, roomy, then the farthest
/// apart.
fn rank(grade: Grade, [one, next]: [Spot; 2]) -> (Grade, Reverse<[i64; 5]>) {
    let apart = round(one.angle, next.angle);
    let stands = Stands::Beside(apart);
    let slack = one.slack.min(next.slack);
    // OK because angles are below 2π: whole hundredths of a degree.
    let whole = |angle: f64| (angle.min(TAU).to_degrees() * 100.0).round() as i64;
    (
        stands.lowered(grade),
        Reverse([
            whole(slack.min(NARROW)),
            i64::from(stands.is_good()),
            whole(slack.min(ENOUGH)),
            whole(apart),
            whole(slack),
        ]),
    )
}

impl Sweep<'_> {
    /// Sets those clips of one end that are reached beside each other: the first two, then each next beside the one
    /// before it, clear of all that are set.
    pub(super) fn oppose(&self, puts: &[Put<'_>], found: &mut [Found], others: &[usize]) {
        let reached: Vec<usize> = (0..found.len())
            .filter(|nth| found.get(*nth).is_some_and(|found| found.best.is_some()))
            .collect();
        let Some((first, rest)) = reached.split_first() else {
            return;
        };
        let (mut one, mut settled) = (*first, None);
        let mut screws: Vec<Shape> = Vec::new();
        for next in rest {
            let (Some(pair), Ok(both)) = (
                puts.get(one).zip(puts.get(*next)).map(<[_; 2]>::from),
                found.get_disjoint_mut([one, *next]),
            ) else {
                continue;
            };
            if let Some([first, second]) = self.pair(pair, both, others, (settled, &screws)) {
                if settled.is_none() {
                    screws.extend(screw(pair[0], first));
                }
                screws.extend(screw(pair[1], second));
                (one, settled) = (*next, Some(second));
            }
        }
    }

    /// Sets two clips beside each other, the first where it is settled already, and both clear of the screws that are
    /// set; gives their places. Where there are none, the second is reached no more.
    fn pair(
        &self,
        [put, beside]: [&Put<'_>; 2],
        [first, second]: [&mut Found; 2],
        others: &[usize],
        (settled, screws): (Option<Spot>, &[Shape]),
    ) -> Option<[Spot; 2]> {
        let ones = match settled {
            Some(spot) => vec![spot],
            None => first.spots_for(&second.spots()),
        };
        let nexts = second.spots_for(&ones);
        let mut pairs: Vec<[Spot; 2]> = ones
            .iter()
            .flat_map(|one| nexts.iter().map(move |next| [*one, *next]))
            .collect();
        pairs.sort_by_cached_key(|[one, next]| {
            let grade = first.grade(*one).max(second.grade(*next));
            rank(grade, [*one, *next])
        });
        for [one, next] in pairs {
            let apart = round(one.angle, next.angle);
            let mut about = screws.to_vec();
            about.extend(screw(put, one));
            let set = self.set((beside, second, next), (&about, apart), others);
            let set = set.and_then(|second_set| match settled {
                Some(_) => Some((None, second_set)),
                None => {
                    let about = screw(beside, next);
                    let set = self.set((put, first, one), (&about, apart), others)?;
                    Some((Some(set), second_set))
                }
            });
            if let Some((first_set, second_set)) = set {
                if let Some(first_set) = first_set {
                    first.best = Some(first_set);
                }
                second.best = Some(second_set);
                return Some([one, next]);
            }
        }
        second.best = None;
        second.by = vec![BESIDE.to_owned()];
        second.shut_by_next = true;
        None
    }

    /// A clip with its screw or ear at a place so far round from the one beside it; `None` where one of the screws that
    /// are set is in the way.
    fn set(
        &self,
        (put, found, spot): (&Put<'_>, &Found, Spot),
        (screws, apart): (&[Shape], f64),
        others: &[usize],
    ) -> Option<Chosen> {
        let (name, by_hand) = found.hands.get(spot.tool)?;
        let tools = self.tools_for(put.fact);
        let tool = tools.iter().find(|tool| tool.name == *name)?;
        let hand = self.hand(put.own, others);
        let mut among = self.among(put, others);
        among.extend(screws.iter().map(|shape| Obstacle {
            name: BESIDE,
            shape,
        }));
        let set = access::set_at(
            &put.clip,
            tool,
            &among,
            by_hand,
            (&hand.flood, self.own_in(put, &hand)),
            (spot.way, spot.angle),
        )?;
        let mut chosen = self.chosen(put, tool, set, &hand);
        chosen.stands = Stands::Beside(apart);
        // Both may be off, towards each other at that, and their screws still pass.
        let wide = put
            .clip
            .housing
            .map_or(0.0, |housing| (housing.length / put.clip.od).atan());
        chosen.slack = chosen.slack.min((apart / 2.0 - wide).max(0.0));
        chosen.whole = false;
        chosen.grade = chosen.stands.lowered(chosen.grade);
        Some(chosen)
    }
}

/// The body of a screw where it is set.
fn screw(put: &Put<'_>, spot: Spot) -> Vec<Shape> {
    let clip = &put.clip;
    clip.housing.map_or_else(Vec::new, |housing| {
        housing.shapes(&clip.frame, clip.od, spot.angle)
    })
}
