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
/// How many pairs of places are tried, the best first. Ours.
const TRIED: usize = 60;
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
    /// Whether it is the clip beside it that leaves it no room.
    pub(super) fn is_shut_by_the_next(&self) -> bool {
        self.by.iter().any(|by| by == BESIDE)
    }

    /// The places that are good for the clip by itself: in each free arc its middle, and as near its ends as one cares
    /// to be.
    fn spots(&self) -> Vec<Spot> {
        let mut spots = Vec::new();
        for (tool, (_, by_hand)) in self.hands.iter().enumerate() {
            for free in &by_hand.ways {
                for arc in &free.free {
                    let inset = ENOUGH.min(arc.slack());
                    for angle in [arc.middle(), arc.from + inset, arc.to - inset] {
                        // At the hour that is told, where it is reached there.
                        let hour = self.spot(tool, free.way, told(angle));
                        spots.extend(hour.or_else(|| self.spot(tool, free.way, angle)));
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
    /// before it.
    pub(super) fn oppose(&self, puts: &[Put<'_>], found: &mut [Found], others: &[usize]) {
        let reached: Vec<usize> = (0..found.len())
            .filter(|nth| found.get(*nth).is_some_and(|found| found.best.is_some()))
            .collect();
        let mut settled: Option<Spot> = None;
        for pair in reached.windows(2) {
            let &[one, next] = pair else { continue };
            let (Some([put, beside]), Ok([first, second])) = (
                puts.get(one).zip(puts.get(next)).map(<[_; 2]>::from),
                found.get_disjoint_mut([one, next]),
            ) else {
                continue;
            };
            settled = self.pair([put, beside], [first, second], others, settled);
        }
    }

    /// Sets two clips beside each other, the first where it is settled already; gives the place of the second.
    fn pair(
        &self,
        puts: [&Put<'_>; 2],
        [first, second]: [&mut Found; 2],
        others: &[usize],
        settled: Option<Spot>,
    ) -> Option<Spot> {
        let ones = match settled {
            Some(spot) => vec![spot],
            None => first.spots_for(&second.spots()),
        };
        let nexts = second.spots_for(&ones);
        let [put, beside] = puts;
        let mut pairs: Vec<[Spot; 2]> = ones
            .iter()
            .flat_map(|one| nexts.iter().map(move |next| [*one, *next]))
            .collect();
        pairs.sort_by_cached_key(|[one, next]| {
            let grade = first.grade(*one).max(second.grade(*next));
            rank(grade, [*one, *next])
        });
        for [one, next] in pairs.into_iter().take(TRIED) {
            let set = self
                .set((put, first, one), (beside, next), others)
                .zip(self.set((beside, second, next), (put, one), others));
            if let Some((one_set, next_set)) = set {
                first.best = Some(one_set);
                second.best = Some(next_set);
                return Some(next);
            }
        }
        // The second finds no room beside the first.
        second.best = None;
        second.by = vec![BESIDE.to_owned()];
        None
    }

    /// A clip with its screw or ear at a place beside another's; `None` where that one is in the way.
    fn set(
        &self,
        (put, found, spot): (&Put<'_>, &Found, Spot),
        (beside, other): (&Put<'_>, Spot),
        others: &[usize],
    ) -> Option<Chosen> {
        let (name, by_hand) = found.hands.get(spot.tool)?;
        let tools = self.tools_for(put.fact);
        let tool = tools.iter().find(|tool| tool.name == *name)?;
        let hand = self.hand(put.own, others);
        let clip = &beside.clip;
        let screw: Vec<Shape> = clip.housing.map_or_else(Vec::new, |housing| {
            housing.shapes(&clip.frame, clip.od, other.angle)
        });
        let mut among = self.among(put, others);
        among.extend(screw.iter().map(|shape| Obstacle {
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
        chosen.stands = Stands::Beside(round(spot.angle, other.angle));
        chosen.grade = chosen.stands.lowered(chosen.grade);
        Some(chosen)
    }
}
