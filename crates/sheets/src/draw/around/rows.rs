//! The rows: how high everything stands, above the still waterline or under it.

use std::collections::BTreeMap;

use reckon::{Around, AroundSpot, AroundWay, Level, ThingKind};

use super::ears::Ear;
use super::place::{Dress, Plan, Rect, TANK, size};
use super::{AroundForm, EDGE, LINE};

/// Between two things of a column that a hose joins.
const HOSE: f64 = 36.0;
/// Between a cooler and its hull fittings.
const JOIN: f64 = 14.0;
/// Between two level ways.
const LANE: f64 = 31.0;

/// The rows: levels of the lanes and heights of the columns.
pub(super) struct Rows {
    wet: BTreeMap<AroundSpot, bool>,
    heart_wet: [bool; 2],
    dress: Dress,
    /// Depth of the own lanes of each ear; the outermost is 0.
    depth: Vec<Option<usize>>,
}

impl Rows {
    pub(super) fn of(around: &Around, plan: &Plan, dress: Dress) -> Rows {
        let heart = around.heart.map(AroundSpot::Thing);
        let under = |height: Option<f64>| height.is_some_and(|z| z < 0.0);
        let leaves = around.legs.iter().find(|leg| {
            Some(leg.from) == heart
                && around.hot.first().is_none_or(|first| *first == leg.to)
                && matches!(leg.way, AroundWay::Hot | AroundWay::Dead)
        });
        let comes = around.legs.iter().find(|leg| {
            Some(leg.to) == heart
                && around.cold.last().is_none_or(|last| *last == leg.from)
                && matches!(leg.way, AroundWay::Cold | AroundWay::Hot | AroundWay::Dead)
        });
        let heart_wet = [
            under(leaves.and_then(|leg| leg.from_height)),
            under(comes.and_then(|leg| leg.to_height)),
        ];
        let mut wet = BTreeMap::new();
        for (thing, own) in around.things.iter().enumerate() {
            wet.insert(AroundSpot::Thing(thing), own.level == Level::Wet);
        }
        // A tee is under water where both its neighbours on the main loop are.
        if let Some(main) = plan.ears.first().filter(|_| heart.is_some()) {
            let all = main.all();
            let level = |at: usize| match all[at] {
                spot if Some(spot) == heart => Some(heart_wet[usize::from(at > 0)]),
                AroundSpot::Thing(thing) => Some(around.things[thing].level == Level::Wet),
                _ => None,
            };
            for (at, spot) in all.iter().enumerate() {
                if matches!(spot, AroundSpot::Tee(_)) {
                    let before = (0..at).rev().find_map(level).unwrap_or(false);
                    let after = (at..all.len()).find_map(level).unwrap_or(false);
                    wet.insert(*spot, before && after);
                }
            }
        }
        let mut rooted: Vec<(f64, usize)> = Vec::new();
        for (at, ear) in plan
            .ears
            .iter()
            .enumerate()
            .skip(usize::from(heart.is_some()))
        {
            let thing = |spot: Option<AroundSpot>| matches!(spot, Some(AroundSpot::Thing(_)));
            let own =
                thing(ear.start) || thing(ear.end) || !ear.out.is_empty() || !ear.back.is_empty();
            if ear.raw || !own {
                continue;
            }
            let height = around
                .legs
                .iter()
                .find(|leg| Some(leg.from) == ear.start && ear.all().get(1) == Some(&leg.to))
                .and_then(|leg| leg.from_height);
            rooted.push((height.unwrap_or(0.0), at));
        }
        rooted.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        let mut depth = vec![None; plan.ears.len()];
        for (level, (_, at)) in rooted.iter().enumerate() {
            depth[*at] = Some(level);
        }
        Rows {
            wet,
            heart_wet,
            dress,
            depth,
        }
    }

    fn is_wet(&self, spot: AroundSpot) -> bool {
        self.wet.get(&spot).copied().unwrap_or(false)
    }

    /// Whether an ear ends under water and has to come up to a tee above it.
    pub(super) fn ends_under(&self, around: &Around, ear: &Ear) -> bool {
        let last = ear.stack.last().is_some_and(|last| self.is_wet(*last));
        let tee = ear
            .end
            .is_some_and(|end| !self.is_wet(end) && matches!(end, AroundSpot::Tee(_)));
        last && tee && around.heart.is_some()
    }

    fn height(&self, around: &Around, spot: AroundSpot) -> f64 {
        match spot {
            AroundSpot::Thing(thing) => size(&around.things[thing], self.dress).1,
            _ => 8.0,
        }
    }

    /// Height of the part of a column that is above the water, or under it.
    fn tall(&self, around: &Around, stack: &[AroundSpot], wet: bool) -> f64 {
        let part: Vec<AroundSpot> = stack
            .iter()
            .copied()
            .filter(|spot| self.is_wet(*spot) == wet)
            .collect();
        let heights: f64 = part.iter().map(|spot| self.height(around, *spot)).sum();
        let gaps: f64 = part
            .windows(2)
            .map(|pair| between(around, pair[0], pair[1]))
            .sum();
        heights + gaps
    }

    /// Gives everything its place.
    pub(super) fn stand(
        &self,
        around: &Around,
        form: &AroundForm,
        plan: &mut Plan,
        of: &BTreeMap<AroundSpot, usize>,
        foot: f64,
    ) {
        let heart = around.heart.map(AroundSpot::Thing);
        let levels = self.depth.iter().flatten().count();
        let heads = around
            .things
            .iter()
            .any(|thing| thing.kind == Some(ThingKind::HeaderTank) || thing.header);
        let vents = around
            .legs
            .iter()
            .filter(|leg| leg.way == AroundWay::Vent)
            .count();
        // Heights that are needed, from the top.
        let apart = around
            .things
            .iter()
            .any(|thing| thing.kind == Some(ThingKind::HeaderTank));
        let head = match (apart, heads) {
            (true, _) => 58.0,
            (false, true) => TANK + 16.0,
            _ if vents > 0 => 16.0,
            _ => 0.0,
        };
        let lanes = f64::from(u32::try_from(levels).unwrap_or(u32::MAX)) * LANE;
        let main = |ear: &Ear| {
            let on = |spot: Option<AroundSpot>| spot.is_some_and(|spot| around.hot.contains(&spot));
            on(ear.start)
                || (ear.start == heart && ear.end == heart && ear.slot == plan.ears[0].slot)
        };
        let mut dry = 70.0_f64;
        let mut wet = 0.0_f64;
        for ear in &plan.ears {
            let tall = self.tall(around, &ear.stack, false);
            let room = if main(ear) || ear.raw {
                tall + 56.0
            } else {
                tall + 2.0 * lanes + 58.0
            };
            dry = dry.max(room);
            let under = self.tall(around, &ear.stack, true);
            if under > 0.0 {
                wet = wet.max(under + 30.0);
            }
        }
        let cold_wet = around.cold.iter().any(|spot| self.is_wet(*spot)) || self.heart_wet[1];
        let hot_wet = around.hot.iter().any(|spot| self.is_wet(*spot)) || self.heart_wet[0];
        let back = if cold_wet {
            34.0
        } else if wet > 0.0 {
            16.0
        } else {
            0.0
        };
        let top_wet = if hot_wet { 34.0 } else { 0.0 };
        let least = EDGE + LINE + head + 28.0 + dry + 30.0 + top_wet + wet + back + 12.0 + foot;
        let spare = (form.height - least).max(0.0);
        plan.height = form.height.max(least);
        let dry = dry + 0.6 * spare;
        let wet = if wet + back > 0.0 {
            wet + 0.25 * spare
        } else {
            wet
        };
        let sky = if heads { 0.1 * spare } else { 0.0 };
        let head_y = EDGE + LINE + 6.0 + 16.0;
        let hot = EDGE + LINE + head + 28.0 + sky;
        plan.vent = if heads && !apart {
            hot - 20.0 - TANK - 14.0
        } else {
            hot - 30.0
        };
        plan.floor = plan.height - foot;
        let cold = hot + dry;
        plan.water = cold + 26.0;
        let hot_under = plan.water + 28.0;
        let floor = plan.water + 24.0 + top_wet;
        let cold_under = floor + wet + 10.0;
        let level = |lane: [f64; 2], wet: bool| if wet { lane[1] } else { lane[0] };
        let (hot_y, cold_y) = ([hot, hot_under], [cold, cold_under]);
        // Lanes of the ears.
        for at in 0..plan.ears.len() {
            let first = at == 0 && heart.is_some();
            plan.ears[at].lanes = if first {
                [
                    Some(level(hot_y, self.heart_wet[0])),
                    Some(level(cold_y, self.heart_wet[1])),
                ]
            } else if let Some(depth) = self.depth[at] {
                let step = LANE * f64::from(u32::try_from(depth).unwrap_or(u32::MAX)) + LANE;
                let ear = &plan.ears[at];
                let own = |spot: Option<AroundSpot>, passed: &[AroundSpot]| {
                    matches!(spot, Some(AroundSpot::Thing(_))) || !passed.is_empty()
                };
                [
                    own(ear.start, &ear.out).then_some(hot + step),
                    own(ear.end, &ear.back).then_some(cold - step),
                ]
            } else {
                [None, None]
            };
        }
        let mut boxes: BTreeMap<AroundSpot, Rect> = BTreeMap::new();
        let x = |spot: AroundSpot| of.get(&spot).map_or(0.0, |slot| plan.x[*slot]);
        let put = |boxes: &mut BTreeMap<AroundSpot, Rect>, spot: AroundSpot, y: f64| {
            let (w, h) = match spot {
                AroundSpot::Thing(thing) => size(&around.things[thing], self.dress),
                _ => (8.0, 8.0),
            };
            boxes.insert(spot, Rect::round(x(spot), y, w, h));
        };
        for (at, ear) in plan.ears.iter().enumerate() {
            let first = at == 0 && heart.is_some();
            for (spots, lane, both) in [
                (&ear.out, ear.lanes[0], hot_y),
                (&ear.back, ear.lanes[1], cold_y),
            ] {
                for spot in spots {
                    let y = if first {
                        level(both, self.is_wet(*spot))
                    } else {
                        lane.unwrap_or(both[0])
                    };
                    put(&mut boxes, *spot, y);
                }
            }
        }
        // The heart reaches from its highest lane to its lowest.
        if let Some(heart) = heart {
            let levels: Vec<f64> = plan
                .ears
                .iter()
                .flat_map(|ear| {
                    let out = ear.lanes[0].filter(|_| ear.start == Some(heart));
                    let back = ear.lanes[1].filter(|_| ear.end == Some(heart));
                    [out, back]
                })
                .flatten()
                .collect();
            let top = levels.iter().copied().fold(hot, f64::min) - 20.0;
            let bottom = levels
                .iter()
                .copied()
                .fold(f64::MIN, f64::max)
                .max(top + 60.0)
                + 20.0;
            let (w, _) = size(&around.things[around.heart.unwrap_or(0)], self.dress);
            let w = w.max(if self.dress.wide { 76.0 } else { 68.0 });
            boxes.insert(heart, Rect::new(x(heart) - w / 2.0, top, w, bottom - top));
            plan.heart_right = x(heart) + w / 2.0;
        }
        for ear in &plan.ears {
            let start = ear.lanes[0].or_else(|| boxes.get(&ear.start?).map(|own| own.centre().1));
            let end = ear.lanes[1].or_else(|| boxes.get(&ear.end?).map(|own| own.centre().1));
            let (start, end) = if ear.raw { (None, None) } else { (start, end) };
            let from = start.unwrap_or(hot).min(plan.water - 60.0);
            let to = end.unwrap_or(cold).min(plan.water - 16.0);
            let mut order = ear.stack.clone();
            if ear.raw {
                order.reverse();
            }
            for under in [false, true] {
                let part: Vec<AroundSpot> = order
                    .iter()
                    .copied()
                    .filter(|spot| self.is_wet(*spot) == under)
                    .collect();
                let tall = self.tall(around, &order, under);
                let cools = plan
                    .ears
                    .iter()
                    .any(|other| other.raw && other.all().iter().any(|spot| part.contains(spot)));
                // Raw water keeps low, and what it cools keeps high.
                let share = if ear.raw {
                    0.92
                } else if cools {
                    0.3
                } else {
                    0.5
                };
                let mut y = if under {
                    let room = cold_under - 24.0 - floor;
                    floor + ((room - tall) * 0.5).max(0.0)
                } else {
                    let (from, to) = (from.min(to), to.max(from));
                    from + ((to - from - tall) * share)
                        .max(20.0_f64.min(((to - from - tall) / 2.0).max(4.0)))
                };
                for (i, spot) in part.iter().enumerate() {
                    let h = self.height(around, *spot);
                    put(&mut boxes, *spot, y + h / 2.0);
                    y += h + part
                        .get(i + 1)
                        .map_or(0.0, |next| between(around, *spot, *next));
                }
            }
        }
        for (thing, own) in around.things.iter().enumerate() {
            if own.kind == Some(ThingKind::HeaderTank) {
                put(&mut boxes, AroundSpot::Thing(thing), head_y);
            }
        }
        plan.boxes = boxes;
    }
}

/// How far apart two neighbours of a column stand.
fn between(around: &Around, a: AroundSpot, b: AroundSpot) -> f64 {
    let joined = around.joins.iter().any(|join| {
        let (from, to) = (AroundSpot::Thing(join.from), AroundSpot::Thing(join.to));
        (from, to) == (a, b) || (from, to) == (b, a)
    });
    if joined { JOIN } else { HOSE }
}
