//! The two long sides of the drawing and where the water turns.

use boat::ThingKind;

use super::{Around, AroundSpot, AroundWay};
use crate::stages::circuit::listing::Listing;
use crate::stages::circuit::plan::Plan;

/// Finds the thing with the pump, both lanes and what stands where they meet.
pub(super) fn lay(plan: &Plan, listing: &Listing, out: &mut Around) {
    let first = listing.ring.first().filter(|row| !row.is_run);
    let of_ring = first.and_then(|row| plan.facts.thing(&row.key));
    let engine = out
        .things
        .iter()
        .position(|thing| thing.kind == Some(ThingKind::Engine));
    let pump = out.things.iter().position(|thing| thing.pump);
    let Some(heart) = of_ring.or(engine).or(pump) else {
        return;
    };
    out.heart = Some(heart);
    let (hot, mut turn) = walk(out, heart, true, &[]);
    let (mut cold, mut back) = walk(out, heart, false, &hot);
    cold.reverse();
    back.reverse();
    for thing in back {
        if !turn.contains(&thing) {
            turn.push(thing);
        }
    }
    (out.hot, out.turn, out.cold) = (hot, turn, cold);
}

/// Whether the way turns at a thing.
fn turns(kind: Option<ThingKind>) -> bool {
    matches!(
        kind,
        Some(ThingKind::KeelPipes)
            | Some(ThingKind::SkinTank)
            | Some(ThingKind::Exchanger)
            | Some(ThingKind::HullFitting)
            | Some(ThingKind::HeaderTank)
            | Some(ThingKind::Calorifier)
            | Some(ThingKind::CabinHeater)
    )
}

/// Goes straight on from the heart, with the flow or against it, until the way turns.
fn walk(
    out: &Around,
    heart: usize,
    ahead: bool,
    taken: &[AroundSpot],
) -> (Vec<AroundSpot>, Vec<usize>) {
    let ends = |leg: usize| {
        let own = &out.legs[leg];
        if ahead {
            (own.from, own.to)
        } else {
            (own.to, own.from)
        }
    };
    let mut used = vec![false; out.legs.len()];
    // The main loop before what stands still, and that before the branches.
    let rank = |leg: usize| match out.legs[leg].way {
        AroundWay::Hot | AroundWay::Cold => Some(0),
        AroundWay::Dead => Some(1),
        AroundWay::Branch | AroundWay::BranchBack => Some(2),
        _ => None,
    };
    let best = |spot: AroundSpot, used: &[bool], most: usize| {
        (0..out.legs.len())
            .filter(|leg| !used[*leg] && ends(*leg).0 == spot)
            .filter_map(|leg| Some((rank(leg)?, leg)))
            .filter(|(rank, _)| *rank <= most)
            .min()
            .map(|(_, leg)| leg)
    };
    let (mut lane, mut turn) = (Vec::new(), Vec::new());
    let mut next = best(AroundSpot::Thing(heart), &used, 1);
    while let Some(leg) = next {
        used[leg] = true;
        let spot = ends(leg).1;
        if lane.contains(&spot) || taken.contains(&spot) {
            break;
        }
        next = match spot {
            AroundSpot::Open => None,
            AroundSpot::Thing(thing) if thing == heart => None,
            AroundSpot::Thing(thing) if turns(out.things[thing].kind) => {
                turn = stack(out, thing, ahead);
                None
            }
            AroundSpot::Thing(_) => {
                lane.push(spot);
                best(spot, &used, 1)
            }
            AroundSpot::Tee(_) => {
                lane.push(spot);
                // Straight on in the same run; else as the water goes.
                let straight = (0..out.legs.len()).find(|other| {
                    !used[*other]
                        && ends(*other).0 == spot
                        && out.legs[*other].run == out.legs[leg].run
                });
                straight.or_else(|| best(spot, &used, 1))
            }
        };
    }
    (lane, turn)
}

/// What stands where the way turns: from a hull fitting through what lies outside to the other.
fn stack(out: &Around, thing: usize, ahead: bool) -> Vec<usize> {
    let mut stack = vec![thing];
    while let Some(last) = stack.last().copied() {
        let next = out.joins.iter().find_map(|join| {
            let (from, to) = if ahead {
                (join.from, join.to)
            } else {
                (join.to, join.from)
            };
            (from == last && !stack.contains(&to)).then_some(to)
        });
        let Some(next) = next else { break };
        stack.push(next);
    }
    stack
}
