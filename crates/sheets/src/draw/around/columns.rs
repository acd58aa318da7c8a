//! The columns: which there are, and which stands left of which.

use std::collections::BTreeMap;

use reckon::{Around, AroundSpot, AroundWay, ThingKind};

use super::EDGE;
use super::place::{Plan, reach};
use super::rows::Rows;

/// Columns and what must stand left of what.
#[derive(Default)]
pub(super) struct Columns {
    /// How far each reaches left and right of its middle.
    pub(super) reach: Vec<(f64, f64)>,
    before: Vec<(usize, usize)>,
    /// Drawn into another.
    gone: Vec<usize>,
    pub(super) of: BTreeMap<AroundSpot, usize>,
}

impl Columns {
    fn another(&mut self) -> usize {
        self.reach.push((7.0, 7.0));
        self.reach.len() - 1
    }

    fn put(&mut self, spot: AroundSpot, slot: usize, reach: (f64, f64)) {
        self.of.insert(spot, slot);
        let own = &mut self.reach[slot];
        *own = (own.0.max(reach.0), own.1.max(reach.1));
    }

    fn reaches(&self, from: usize, to: usize) -> bool {
        let mut open = vec![from];
        let mut seen = vec![false; self.reach.len()];
        while let Some(slot) = open.pop() {
            if slot == to {
                return true;
            }
            if std::mem::replace(&mut seen[slot], true) {
                continue;
            }
            open.extend(
                self.before
                    .iter()
                    .filter(|(a, _)| *a == slot)
                    .map(|(_, b)| *b),
            );
        }
        false
    }

    /// Asks for an order; not where the other one holds already.
    fn order(&mut self, left: usize, right: usize) {
        if left != right && !self.reaches(right, left) && !self.before.contains(&(left, right)) {
            self.before.push((left, right));
        }
    }

    /// Makes one column of two, where nothing keeps them apart.
    fn join(&mut self, keep: usize, drop: usize) -> bool {
        if keep == drop || self.reaches(keep, drop) || self.reaches(drop, keep) {
            return keep == drop;
        }
        for pair in &mut self.before {
            for end in [&mut pair.0, &mut pair.1] {
                if *end == drop {
                    *end = keep;
                }
            }
        }
        for slot in self.of.values_mut() {
            if *slot == drop {
                *slot = keep;
            }
        }
        let gone = self.reach[drop];
        let own = &mut self.reach[keep];
        *own = (own.0.max(gone.0), own.1.max(gone.1));
        self.reach[drop] = (0.0, 0.0);
        self.gone.push(drop);
        true
    }

    /// The leftmost place of each column with a gap between neighbours, and the width that needs.
    pub(super) fn leftmost(&self, gap: f64) -> (Vec<f64>, f64) {
        let mut x: Vec<f64> = self.reach.iter().map(|reach| EDGE + reach.0).collect();
        for _ in 0..self.reach.len() {
            for (a, b) in &self.before {
                x[*b] = x[*b].max(x[*a] + self.reach[*a].1 + gap + self.reach[*b].0);
            }
        }
        let width = (0..x.len())
            .filter(|slot| !self.gone.contains(slot))
            .map(|slot| x[slot] + self.reach[slot].1 + EDGE)
            .fold(0.0, f64::max);
        (x, width)
    }

    pub(super) fn rightmost(&self, gap: f64, width: f64) -> Vec<f64> {
        let mut x: Vec<f64> = self
            .reach
            .iter()
            .map(|reach| width - EDGE - reach.1)
            .collect();
        for _ in 0..self.reach.len() {
            for (a, b) in &self.before {
                x[*a] = x[*a].min(x[*b] - self.reach[*b].0 - gap - self.reach[*a].1);
            }
        }
        x
    }
}

/// The rank of raw water among what stands upright, and that of the main column.
const RAW: usize = 4;
const MAIN: usize = 5;

/// Which columns there are, and in which order.
pub(super) fn settle(around: &Around, plan: &mut Plan, columns: &mut Columns, rows: &Rows) {
    let dress = plan.dress;
    let of = |spot: AroundSpot| match spot {
        AroundSpot::Thing(thing) => {
            reach(&around.things[thing], dress, around.turn.contains(&thing))
        }
        _ => (9.0, 9.0),
    };
    let heart = around.heart.map(AroundSpot::Thing);
    if let Some(heart) = heart {
        let slot = columns.another();
        let (l, r) = of(heart);
        let least = if dress.wide { 38.0 } else { 34.0 };
        columns.put(heart, slot, (l.max(least), r.max(least)));
    }
    let mut uprights: Vec<(usize, usize)> = Vec::new();
    for at in 0..plan.ears.len() {
        let ear = plan.ears[at].clone();
        let on_tee = |spot: Option<AroundSpot>| matches!(spot, Some(AroundSpot::Tee(_)));
        let column = columns.another();
        let stacks = ear.stack.iter().fold((7.0_f64, 7.0_f64), |reach, spot| {
            let own = of(*spot);
            (reach.0.max(own.0), reach.1.max(own.1))
        });
        columns.reach[column] = stacks;
        for spot in &ear.stack {
            columns.put(*spot, column, of(*spot));
        }
        let mut before = ear.start.and_then(|start| columns.of.get(&start).copied());
        for spot in &ear.out {
            let slot = columns.another();
            columns.put(*spot, slot, of(*spot));
            if let Some(before) = before {
                columns.order(before, slot);
            }
            before = Some(slot);
        }
        let mut after = ear.end.and_then(|end| columns.of.get(&end).copied());
        for spot in ear.back.iter().rev() {
            let slot = columns.another();
            columns.put(*spot, slot, of(*spot));
            if let Some(after) = after {
                columns.order(after, slot);
            }
            after = Some(slot);
        }
        let mut own = column;
        let (out, back) = (ear.out.is_empty(), ear.back.is_empty());
        let joined = |columns: &mut Columns, tee: Option<usize>, own: &mut usize| {
            let Some(tee) = tee else { return false };
            let joined = columns.join(tee, *own);
            if joined {
                *own = tee;
            }
            joined
        };
        let rises = rows.ends_under(around, &ear);
        let top = !ear.raw && out && on_tee(ear.start) && joined(columns, before, &mut own);
        let foot =
            !ear.raw && back && on_tee(ear.end) && !rises && joined(columns, after, &mut own);
        if let (false, Some(before)) = (top, before) {
            columns.order(before, own);
        }
        if let (false, Some(after), false) = (foot, after, ear.raw) {
            columns.order(after, own);
        }
        plan.ears[at].slot = own;
        for ear in &mut plan.ears[..at] {
            // A column that was drawn into another is that one.
            if ear.slot == column {
                ear.slot = own;
            }
        }
        let main = |spot: Option<AroundSpot>| {
            spot.is_some_and(|spot| around.hot.contains(&spot) || around.cold.contains(&spot))
        };
        let rank = match () {
            () if at == 0 && heart.is_some() => MAIN,
            () if ear.raw => RAW,
            () if ear.stack.len() == 1 && ear.start.is_none() && ear.end.is_none() => 6,
            () if ear.start.is_none() && ear.end.is_none() => 3,
            () if main(ear.start) || main(ear.end) => 2,
            () => 1,
        };
        uprights.push((rank, at));
    }
    heads(around, columns, &mut uprights, plan);
}

/// Header tanks over what they feed, then the order of everything upright.
fn heads(around: &Around, columns: &mut Columns, uprights: &mut [(usize, usize)], plan: &Plan) {
    let heart = around.heart.map(AroundSpot::Thing);
    let mut slots: Vec<usize> = Vec::new();
    for (thing, own) in around.things.iter().enumerate() {
        let spot = AroundSpot::Thing(thing);
        if own.kind != Some(ThingKind::HeaderTank) || columns.of.contains_key(&spot) {
            continue;
        }
        let fed = around.legs.iter().find_map(|leg| {
            let other = if leg.from == spot {
                leg.to
            } else if leg.to == spot {
                leg.from
            } else {
                return None;
            };
            (leg.way != AroundWay::Vent && Some(other) != heart).then_some(other)
        });
        let slot = fed
            .and_then(|fed| columns.of.get(&fed).copied())
            .unwrap_or_else(|| {
                let slot = columns.another();
                if let Some(heart) = heart.and_then(|heart| columns.of.get(&heart).copied()) {
                    columns.order(heart, slot);
                }
                slot
            });
        columns.of.insert(spot, slot);
        slots.push(slot);
    }
    uprights.sort_by_key(|(rank, at)| (*rank, std::cmp::Reverse(*at)));
    // Raw water stands right of what it cools.
    let main = plan.ears.first().map(|ear| ear.slot);
    let mut beyond: Vec<usize> = Vec::new();
    for (rank, at) in uprights.iter() {
        let slot = plan.ears[*at].slot;
        let cools = [plan.ears[*at].end, plan.ears[*at].start];
        let cools = cools
            .into_iter()
            .flatten()
            .filter(|spot| Some(*spot) != heart)
            .find_map(|spot| columns.of.get(&spot).copied());
        match cools {
            // The main column is not in the list yet.
            Some(cools) if *rank == RAW && Some(cools) == main => beyond.push(slot),
            Some(cools) if *rank == RAW => {
                columns.order(cools, slot);
                let at = slots.iter().position(|own| *own == cools);
                slots.insert(at.map_or(slots.len(), |at| at + 1), slot);
            }
            _ => slots.push(slot),
        }
        if *rank == MAIN {
            slots.append(&mut beyond);
        }
    }
    slots.append(&mut beyond);
    for (i, left) in slots.iter().enumerate() {
        for right in &slots[i + 1..] {
            columns.order(*left, *right);
        }
    }
}
