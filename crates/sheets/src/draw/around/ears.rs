//! The ways of the drawing: the main loop, then every way that leaves it and comes back, and what hangs apart.

use reckon::{Around, AroundSpot, AroundWay, ThingKind};

/// A way that leaves what is placed already and comes back to it; the first is the main loop itself.
#[derive(Clone, Debug, Default)]
pub(super) struct Ear {
    /// Where it leaves; `None` where nothing is there.
    pub(super) start: Option<AroundSpot>,
    /// Where it comes back.
    pub(super) end: Option<AroundSpot>,
    /// What lies on its level way out.
    pub(super) out: Vec<AroundSpot>,
    /// What stands in its column, in order of flow.
    pub(super) stack: Vec<AroundSpot>,
    /// What lies on its level way back.
    pub(super) back: Vec<AroundSpot>,
    /// Its column.
    pub(super) slot: usize,
    /// It carries raw water: its column runs upwards.
    pub(super) raw: bool,
    /// Height on the sheet of its own way out and back, where it has them.
    pub(super) lanes: [Option<f64>; 2],
}

impl Ear {
    /// All that it passes, its ends included.
    pub(super) fn all(&self) -> Vec<AroundSpot> {
        let inner = self.out.iter().chain(&self.stack).chain(&self.back);
        self.start
            .iter()
            .chain(inner)
            .chain(&self.end)
            .copied()
            .collect()
    }
}

pub(super) fn is_header(around: &Around, spot: AroundSpot) -> bool {
    matches!(spot, AroundSpot::Thing(thing) if around.things[thing].kind == Some(ThingKind::HeaderTank))
}

fn is_raw(way: AroundWay) -> bool {
    way == AroundWay::Raw
}

/// Whether a leg is drawn as part of an ear: neither a vent nor on a header tank.
fn in_ear(around: &Around, leg: usize, raw: bool) -> bool {
    let own = &around.legs[leg];
    !matches!(own.way, AroundWay::Vent | AroundWay::MakeUp)
        && is_raw(own.way) == raw
        && !is_header(around, own.from)
        && !is_header(around, own.to)
}

/// Finds the ears: the main loop, then what hangs on it, in the order of the file.
pub(super) fn ears(around: &Around) -> Vec<Ear> {
    let Some(heart) = around.heart.map(AroundSpot::Thing) else {
        return rest(
            around,
            vec![false; around.legs.len()],
            Vec::new(),
            Vec::new(),
        );
    };
    let main = Ear {
        start: Some(heart),
        end: Some(heart),
        out: around.hot.clone(),
        stack: around
            .turn
            .iter()
            .map(|thing| AroundSpot::Thing(*thing))
            .collect(),
        back: around.cold.clone(),
        ..Ear::default()
    };
    let mut used = vec![false; around.legs.len()];
    let mut placed = main.all();
    for pair in main.all().windows(2) {
        let leg = (0..around.legs.len()).find(|leg| {
            let own = &around.legs[*leg];
            in_ear(around, *leg, false) && (own.from, own.to) == (pair[0], pair[1])
        });
        if let Some(leg) = leg {
            used[leg] = true;
        }
    }
    placed.dedup();
    rest(around, used, placed, vec![main])
}

fn rest(
    around: &Around,
    mut used: Vec<bool>,
    mut placed: Vec<AroundSpot>,
    mut ears: Vec<Ear>,
) -> Vec<Ear> {
    for raw in [false, true] {
        // What leaves the placed, what leads to it, and what hangs together apart from it.
        for pass in 0..4 {
            loop {
                let known = |spot: AroundSpot| placed.contains(&spot);
                let comes = |spot: AroundSpot| {
                    around.legs.iter().enumerate().any(|(leg, own)| {
                        in_ear(around, leg, raw) && own.to == spot && spot != AroundSpot::Open
                    })
                };
                let next = (0..around.legs.len()).find(|leg| {
                    let own = &around.legs[*leg];
                    !used[*leg]
                        && in_ear(around, *leg, raw)
                        && match (pass, raw) {
                            (0, false) | (1, true) => known(own.from),
                            (1, false) => known(own.to),
                            (0, true) => !known(own.from) && !comes(own.from),
                            (2, _) => !comes(own.from),
                            _ => true,
                        }
                });
                let Some(leg) = next else { break };
                let ahead = pass != 1 || raw;
                let ear = walk(around, leg, ahead, raw, &mut used, &mut placed);
                ears.push(ear);
            }
        }
    }
    // What hangs on no hose at all, but on a cooler outside.
    for join in &around.joins {
        let (from, to) = (AroundSpot::Thing(join.from), AroundSpot::Thing(join.to));
        if placed.contains(&from) || placed.contains(&to) {
            continue;
        }
        let mut stack = vec![from];
        beyond(around, &mut stack, &placed, true);
        placed.extend(&stack);
        ears.push(Ear {
            stack,
            ..Ear::default()
        });
    }
    // What nothing hangs on: a shut hull fitting, a pump that lies ready.
    for (thing, own) in around.things.iter().enumerate() {
        let spot = AroundSpot::Thing(thing);
        let apart = !matches!(own.kind, Some(ThingKind::HeaderTank) | None);
        if apart && !placed.contains(&spot) {
            ears.push(Ear {
                stack: vec![spot],
                ..Ear::default()
            });
        }
    }
    ears
}

/// Goes on through what lies outside between hull fittings.
fn beyond(around: &Around, stack: &mut Vec<AroundSpot>, placed: &[AroundSpot], ahead: bool) {
    while let Some(last) = stack.last().copied() {
        let next = around.joins.iter().find_map(|join| {
            let (a, b) = if ahead {
                (join.from, join.to)
            } else {
                (join.to, join.from)
            };
            let (a, b) = (AroundSpot::Thing(a), AroundSpot::Thing(b));
            (a == last && !stack.contains(&b) && !placed.contains(&b)).then_some(b)
        });
        let Some(next) = next else { return };
        stack.push(next);
    }
}

/// Follows a leg until it comes to what is placed, or to an end.
fn walk(
    around: &Around,
    leg: usize,
    ahead: bool,
    raw: bool,
    used: &mut [bool],
    placed: &mut Vec<AroundSpot>,
) -> Ear {
    let ends = |leg: usize| {
        let own = &around.legs[leg];
        if ahead {
            (own.from, own.to)
        } else {
            (own.to, own.from)
        }
    };
    let start = ends(leg).0;
    let mut seq: Vec<AroundSpot> = Vec::new();
    let known = placed.contains(&start);
    if !known && start != AroundSpot::Open {
        seq.push(start);
    }
    let mut next = Some(leg);
    let mut end = None;
    while let Some(leg) = next {
        used[leg] = true;
        let spot = ends(leg).1;
        if spot == AroundSpot::Open {
            break;
        }
        if placed.contains(&spot) || seq.contains(&spot) {
            end = Some(spot);
            break;
        }
        seq.push(spot);
        beyond(around, &mut seq, placed, ahead);
        let last = *seq.last().unwrap_or(&spot);
        let open = |other: &usize| !used[*other] && in_ear(around, *other, raw);
        let from = |other: &usize| ends(*other).0 == last;
        let straight = (0..around.legs.len()).find(|other| {
            open(other) && from(other) && around.legs[*other].run == around.legs[leg].run
        });
        next = straight.or_else(|| (0..around.legs.len()).find(|other| open(other) && from(other)));
    }
    placed.extend(&seq);
    let mut start = known.then_some(start);
    if !ahead {
        seq.reverse();
        std::mem::swap(&mut start, &mut end);
    }
    let thing = |spot: &AroundSpot| matches!(spot, AroundSpot::Thing(_));
    let first = seq.iter().position(thing).unwrap_or(seq.len());
    let last = seq
        .iter()
        .rposition(thing)
        .map_or(seq.len(), |last| last + 1);
    Ear {
        start,
        end,
        out: seq[..first].to_vec(),
        stack: seq[first..last].to_vec(),
        back: seq[last..].to_vec(),
        raw,
        ..Ear::default()
    }
}
