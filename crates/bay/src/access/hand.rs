//! Where a tool reaches a clip and a hand comes to hold it there, all round.
//!
//! The tool's free arcs are cut into cells no wider than 30°, and the way in is tried at the middle of each:
//! what lies between two cells that a hand comes to counts as reached too.

use std::f64::consts::TAU;

use super::arc::{Arc, Fineness};
use super::local::Obstacle;
use super::pose::{Cap, Way};
use super::reach::{Best, Clip, Reach, WayFree, lying, lying_free};
use super::tool::Tool;
use super::way_in::{Flood, WayIn};
use crate::solid::Shape;

/// The way in is tried at least this often, rad.
pub const LOOK: f64 = TAU / 12.0;

/// Where a clip is reached with one tool, and the way of the hand to it.
#[derive(Clone, Debug, PartialEq)]
pub struct ByHand {
    /// The place to choose.
    pub best: Best,
    /// The way in there.
    pub way_in: WayIn,
    /// The arcs in which both are free, each way of the tool apart; the tool's own arcs where no hand comes
    /// to any.
    pub ways: Vec<WayFree>,
    /// The same over all ways.
    pub free: Vec<Arc>,
}

/// One cell of an arc.
struct Cell {
    from: f64,
    to: f64,
    way_in: WayIn,
    passes: bool,
    caps: Vec<Cap>,
}

/// Whether nothing is known against a way in: it is clear, or of none can anything be told.
fn passes(flood: &Flood<'_>, way_in: &WayIn) -> bool {
    match way_in {
        WayIn::Clear => true,
        WayIn::Unknown(_) => flood.of_all() == Some(way_in),
        WayIn::Blocked { .. } | WayIn::Shut(_) => false,
    }
}

/// Tries the way in over a tool's free arcs and takes the widest stretch to which a hand comes; where it
/// comes to none, the tool's own best place with what is in the way there. `own` is as for
/// [`Flood::way_in`]. `None` where the tool reaches nowhere.
pub fn by_hand(
    clip: &Clip,
    tool: &Tool,
    among: &[Obstacle<'_>],
    reach: &Reach,
    (flood, own): (&Flood<'_>, Option<(usize, &[Shape])>),
    fineness: Fineness,
) -> Option<ByHand> {
    let whole = reach.best()?;
    let mut lies = lying(clip, tool, among, fineness);
    let mut chosen: Option<Best> = None;
    let mut clear: Vec<WayFree> = Vec::with_capacity(reach.ways.len());
    let mut refused: Option<WayIn> = None;
    for way in &reach.ways {
        let mut free = Vec::new();
        for arc in &way.free {
            let cells = cells(*arc, way.way, flood, own, &mut lies);
            if refused.is_none() && way.way == whole.way && *arc == whole.arc {
                let middle = cells.get(cells.len() / 2);
                refused = middle.map(|cell| cell.way_in.clone());
            }
            let runs = runs(*arc, &cells);
            for run in &runs {
                let wider = chosen
                    .as_ref()
                    .is_none_or(|best| best.arc.width() + 4.0 * fineness.ends < run.width());
                if wider && let Some(best) = placed(*run, way.way, &cells, flood, own, &mut lies) {
                    chosen = Some(best);
                }
            }
            free.extend(runs);
        }
        clear.push(WayFree { way: way.way, free });
    }
    Some(match chosen {
        Some(best) => ByHand {
            best,
            way_in: flood.of_all().cloned().unwrap_or(WayIn::Clear),
            free: super::arc::union(clear.iter().map(|way| way.free.as_slice())),
            ways: clear,
        },
        None => ByHand {
            best: whole.clone(),
            way_in: match flood.of_all() {
                Some(shut @ WayIn::Shut(_)) => shut.clone(),
                _ => refused.unwrap_or_else(|| flood.way_in(&whole.caps, own)),
            },
            ways: reach.ways.clone(),
            free: reach.free.clone(),
        },
    })
}

/// The same clip with its screw or ear at another angle (rad), the tool coming in a way in which it is reached there:
/// the tool as it lies and how far one may be off. `None` where something is in the way of tool or housing, or no hand
/// comes there though one comes to what was found before.
pub fn set_at(
    clip: &Clip,
    tool: &Tool,
    among: &[Obstacle<'_>],
    found: &ByHand,
    (flood, own): (&Flood<'_>, Option<(usize, &[Shape])>),
    (way, angle): (Way, f64),
) -> Option<ByHand> {
    let own_way = found.ways.iter().find(|free| free.way == way)?;
    let slack = own_way.slack_at(angle)?;
    let caps = lying_free(clip, tool, among, (way, angle), Fineness::default())?;
    let way_in = match flood.of_all() {
        Some(alike) => alike.clone(),
        None => flood.way_in(&caps, own),
    };
    if passes(flood, &found.way_in) && !passes(flood, &way_in) {
        return None;
    }
    // So much to both sides, or all of a whole turn.
    let arc = if slack < TAU {
        let from = (angle - slack).rem_euclid(TAU);
        Arc {
            from,
            to: from + 2.0 * slack,
        }
    } else {
        Arc::WHOLE
    };
    Some(ByHand {
        best: Best {
            way,
            angle,
            arc,
            caps,
        },
        way_in,
        ..found.clone()
    })
}

/// The cells of an arc.
fn cells(
    arc: Arc,
    way: Way,
    flood: &Flood<'_>,
    own: Option<(usize, &[Shape])>,
    lies: &mut impl FnMut(Way, f64) -> Vec<Cap>,
) -> Vec<Cell> {
    let count = (arc.width() / LOOK - 1e-9).ceil().max(1.0);
    let wide = arc.width() / count;
    (0..count as usize)
        .map(|n| {
            let from = arc.from + wide * n as f64;
            let caps = lies(way, from + wide / 2.0);
            let way_in = flood.way_in(&caps, own);
            Cell {
                from,
                to: from + wide,
                passes: passes(flood, &way_in),
                way_in,
                caps,
            }
        })
        .collect()
}

/// The stretches of an arc to whose cells a hand comes; over the ends where it is a whole turn.
fn runs(arc: Arc, cells: &[Cell]) -> Vec<Arc> {
    let mut runs: Vec<Arc> = Vec::new();
    let mut open = false;
    for cell in cells {
        let clear = cell.passes;
        match runs.last_mut() {
            Some(last) if clear && open => last.to = cell.to,
            _ if clear => runs.push(Arc {
                from: cell.from,
                to: cell.to,
            }),
            _ => {}
        }
        open = clear;
    }
    if arc.width() >= TAU && runs.len() > 1 {
        let ends = |cell: Option<&Cell>| cell.is_some_and(|cell| cell.passes);
        if ends(cells.first()) && ends(cells.last()) {
            let first = runs.remove(0);
            if let Some(last) = runs.last_mut() {
                last.to = first.to + TAU;
            }
        }
    }
    for run in &mut runs {
        let from = run.from.rem_euclid(TAU);
        *run = Arc {
            from,
            to: from + run.width(),
        };
    }
    runs
}

/// The middle of a stretch with the tool as it lies there; where that falls between two cells and no hand
/// comes there, the middle of the cell beside it.
fn placed(
    run: Arc,
    way: Way,
    cells: &[Cell],
    flood: &Flood<'_>,
    own: Option<(usize, &[Shape])>,
    lies: &mut impl FnMut(Way, f64) -> Vec<Cap>,
) -> Option<Best> {
    let middle = run.middle();
    let caps = lies(way, middle);
    if passes(flood, &flood.way_in(&caps, own)) {
        return Some(Best {
            way,
            angle: middle,
            arc: run,
            caps,
        });
    }
    let off = |cell: &&Cell| {
        let off = ((cell.from + cell.to) / 2.0 - middle).rem_euclid(TAU);
        off.min(TAU - off)
    };
    let beside = cells
        .iter()
        .filter(|cell| cell.passes)
        .min_by(|a, b| off(a).total_cmp(&off(b)))?;
    Some(Best {
        way,
        angle: ((beside.from + beside.to) / 2.0).rem_euclid(TAU),
        arc: Arc {
            from: beside.from.rem_euclid(TAU),
            to: beside.from.rem_euclid(TAU) + beside.to - beside.from,
        },
        caps: beside.caps.clone(),
    })
}
