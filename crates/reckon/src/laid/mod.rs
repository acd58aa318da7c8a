//! Takes out of the boat what the route stage reads: mouths, things in the way, pieces with their feel, clips.

mod bodies;
mod clips;
mod mouths;
mod pieces;
mod scan;
mod tools;

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use bay::rod::stiffness::{NoStiffness, from_droop};
use boat::{Arranged, Boat, Carries, Direction, Facing, Key, Run, RunEnd, Told};
use quantity::Quantity;

use self::mouths::Mouths;
pub use self::scan::RawScan;
pub(crate) use self::scan::{ScanAsk, lay};
use crate::job::Kept;
use crate::memory::remembered;
use crate::pieces::Pieces;
use crate::seed::hash_of;
use crate::shop::{missing, settles};
use crate::stages::flow::StateRow;
use crate::stages::route::{EndFact, RouteInput, RunFact, SupportFact};
use crate::stages::survey::{self, tape::Surveyed};
use crate::stages::types::{JointRow, Missing};

/// Heel that a run is looked at under besides upright [°]. Ours, as the strip has it.
const HEEL: f64 = 10.0;
/// Trim likewise [°]. Ours.
const TRIM: f64 = 3.0;
/// Density of coolant where the bay reckons with its weight [kg/m³]: half glycol, half water at 15 °C, within 3 %
/// of every usual mix. From memory.
const COOLANT: f64 = 1060.0;
/// Density of sea water and of domestic water, and of oil [kg/m³]. From memory.
const OTHER: [f64; 3] = [1025.0, 1000.0, 880.0];

/// What is at hand of one arrangement.
pub(crate) struct Desk<'a> {
    pub(crate) base: &'a Boat,
    pub(crate) arranged: &'a Arranged,
    pub(crate) name: Option<&'a str>,
    pub(crate) kept: &'a Kept,
    pub(crate) rows: &'a [JointRow],
    pub(crate) marks: &'a [(Key, String)],
    pub(crate) surveyed: Option<&'a Surveyed>,
    pub(crate) states: &'a [StateRow],
    pub(crate) scan: Option<&'a Arc<RawScan>>,
    pub(crate) droops: &'a Droops,
}

/// Stiffnesses that follow from droops, found before: by overhang and drop [m] and weight [N/m].
#[derive(Clone, Debug, Default)]
pub(crate) struct Droops(RefCell<BTreeMap<[u64; 3], Result<f64, NoStiffness>>>);

impl Droops {
    /// Droop tests that are kept: of some hoses, before and after an edit.
    const KEPT: usize = 64;

    fn stiffness(&self, overhang: f64, drop: f64, weight: f64) -> Result<f64, NoStiffness> {
        let key = [overhang, drop, weight].map(f64::to_bits);
        remembered(&mut self.0.borrow_mut(), Self::KEPT, key, || {
            from_droop(overhang, drop, weight, 0.0)
        })
    }
}

/// Whether the file says anything of the bay.
pub(crate) fn is_told(boat: &Boat) -> bool {
    boat.bay != boat::Bay::default()
}

/// What the route stage reads; the scan is laid in by the caller, who remembers it.
pub(crate) fn of(desk: &Desk, settle: bool) -> RouteInput {
    let boat = &desk.arranged.boat;
    let facing = boat.bay.x.given().copied().unwrap_or_default();
    let mouths = Mouths::of(desk, facing);
    let ahead = facing.vector(Direction::Forward).unwrap_or([1.0, 0.0, 0.0]);
    let file_order = boat.runs.iter().map(|run| run.key.clone()).collect();
    let mut runs: Vec<RunFact> = boat.runs.iter().map(|run| desk.run(run, &mouths)).collect();
    in_order(&mut runs);
    let clips = desk.clips();
    let hatch = boat.bay.hatch.as_ref().and_then(|hatch| {
        let at = hatch.at.given()?.si();
        match hatch.size.as_slice() {
            [Told::Given(long), Told::Given(broad)] => {
                Some((at, [long.value.si(), broad.value.si()]))
            }
            _ => None,
        }
    });
    let (bodies, shapeless) = desk.bodies();
    let mut input = RouteInput {
        around_key: 0,
        arrangement: desk.name.map(str::to_owned),
        axes: axes(facing),
        ahead,
        hatch,
        moves: desk.moves(),
        bodies,
        shapeless,
        scan: None,
        scan_missing: None,
        mouths: mouths.all,
        runs,
        file_order,
        clips,
        tools: tools::of(&boat.bay.tools),
        tilts: tilts(facing),
        settle,
    };
    input.around_key = hash_of(&format!(
        "{:?} {:?} {:?} {:?}",
        input.bodies, input.moves, input.tilts, input.ahead
    ));
    input
}

/// Where x and y point, in words.
fn axes(facing: Facing) -> [String; 2] {
    let [x, y] = match facing {
        Facing::Forward => ["forward", "to port"],
        Facing::Aft => ["aft", "to starboard"],
        Facing::Port => ["to port", "aft"],
        Facing::Starboard => ["to starboard", "forward"],
    };
    [x.to_owned(), y.to_owned()]
}

/// Up as the boat has it when she heels or trims: name and the direction of up in the bay.
fn tilts(facing: Facing) -> Vec<(String, [f64; 3])> {
    let tilted = |towards: Direction, degrees: f64| {
        let side = facing.vector(towards)?;
        let (sin, cos) = degrees.to_radians().sin_cos();
        // Who heels to starboard has up leaning to port as seen in the boat.
        Some([-side[0] * sin, -side[1] * sin, cos]) // OK because an array of three.
    };
    [
        ("heeled to port", Direction::Port, HEEL),
        ("heeled to starboard", Direction::Starboard, HEEL),
        ("down by the head", Direction::Forward, TRIM),
        ("down by the stern", Direction::Aft, TRIM),
    ]
    .into_iter()
    .filter_map(|(name, towards, by)| Some((format!("{by:.0}° {name}"), tilted(towards, by)?)))
    .collect()
}

/// Puts each run after those whose tees it hangs on.
fn in_order(runs: &mut Vec<RunFact>) {
    let keys: BTreeSet<Key> = runs.iter().map(|run| run.key.clone()).collect();
    let mut done: BTreeSet<Key> = BTreeSet::new();
    let mut ordered: Vec<RunFact> = Vec::new();
    while !runs.is_empty() {
        let ready = runs.iter().position(|run| {
            run.ends.iter().all(|end| match end {
                Ok(EndFact::Tee { run, .. }) => done.contains(run) || !keys.contains(run),
                _ => true,
            })
        });
        // Runs that hang on one another in a circle come as they stand.
        let next = runs.remove(ready.unwrap_or(0));
        done.insert(next.key.clone());
        ordered.push(next);
    }
    *runs = ordered;
}

impl Desk<'_> {
    fn boat(&self) -> &Boat {
        &self.arranged.boat
    }

    fn mark(&self, run: &str) -> String {
        let mark = self.marks.iter().find(|(key, _)| key == run);
        mark.map(|(_, mark)| mark.clone()).unwrap_or_default()
    }

    /// How far the engine moves.
    fn moves(&self) -> Result<f64, Missing> {
        let engine = self
            .boat()
            .things
            .iter()
            .find(|thing| thing.engine.is_some());
        let how = "Clamp a rule to the bearer beside the engine before she runs; hands, sleeves and tape clear of belt and shaft, let another start and stop her, read it from outside, and write how far she moves either way.";
        let Some((engine, told)) =
            engine.and_then(|thing| Some((thing, &thing.engine.as_ref()?.moves)))
        else {
            return Err(missing("there is no engine", "engine.moves", how));
        };
        let place = format!("{}.moves", self.arranged.thing_place(&engine.key));
        survey::known(told, &place, how, &self.boat().instruments)
            .map(|value| value.measured.value.si())
    }

    fn run(&self, run: &Run, mouths: &Mouths) -> RunFact {
        let mark = self.mark(&run.key);
        let lie = self.boat().bay.lies.iter().find(|lie| lie.run == run.key);
        let place = lie.map_or_else(|| self.arranged.run_place(&run.key), boat::BayLie::path);
        let pieces = Pieces {
            arranged: self.arranged,
            base: self.base,
            kept: self.kept,
        };
        let pieces = pieces.of_run(run, &mark).map_or_else(
            || {
                let how = "Write its pieces in order of flow.";
                Err(missing(
                    "its pieces are not written",
                    &format!("{}.way", self.arranged.run_place(&run.key)),
                    how,
                ))
            },
            |input| self.pieces(run, lie, &input),
        );
        let speeds = self.states.iter().filter_map(|state| {
            let items = &state.came.steady()?.items;
            let own = items.iter().filter(|item| item.run == run.key);
            own.filter_map(|item| item.speed).reduce(f64::min)
        });
        let on_it = |kind: boat::ThingKind| {
            let mut things = self.boat().things.iter();
            things.any(|thing| {
                thing.kind.given() == Some(&kind)
                    && thing.detail.on_run.as_deref() == Some(run.key.as_str())
            })
        };
        RunFact {
            key: run.key.clone(),
            title: format!("{} ({mark})", run.key),
            mark,
            place,
            ends: [
                mouths.end(self, &run.from, run, true),
                mouths.end(self, &run.to, run, false),
            ],
            pieces,
            supports: lie.map_or_else(Vec::new, |lie| {
                lie.supports
                    .iter()
                    .enumerate()
                    .map(|(i, support)| {
                        let at = support.at.given().map(boat::BayPoint::si);
                        let part = if at.is_some() { "after" } else { "at" };
                        SupportFact {
                            at,
                            after: support.after.given().map(|after| after.value.si()),
                            place: format!("{}.supports[{i}].{part}", lie.path()),
                        }
                    })
                    .collect()
            }),
            corners: lie.map_or_else(Vec::new, |lie| {
                let corners = lie.corners.iter();
                corners.filter_map(|at| Some(at.given()?.si())).collect()
            }),
            density: match run.carries {
                Carries::Coolant => COOLANT,
                Carries::RawWater => OTHER[0], // OK because an array of three.
                Carries::DomesticWater => OTHER[1], // OK because an array of three.
                Carries::Oil => OTHER[2],      // OK because an array of three.
                Carries::Vent => 0.0,
            },
            wet: run.carries == Carries::Coolant,
            raw: run.carries == Carries::RawWater,
            speed: speeds.reduce(f64::min),
            bleed: on_it(boat::ThingKind::Bleed),
            drain: on_it(boat::ThingKind::Drain),
        }
    }
}

/// The end that has no place.
fn no_place(what: &str, key: &str, how: &str) -> Missing {
    Missing {
        why: what.into(),
        settles: settles(key, how),
    }
}

/// The thing and the spigot of an end as one writes them.
fn end_key(end: &RunEnd) -> Key {
    match end {
        RunEnd::Thing {
            thing,
            spigot: Some(name),
        }
        | RunEnd::Tee {
            run: thing,
            piece: name,
        } => format!("{thing}.{name}"),
        RunEnd::Thing {
            thing,
            spigot: None,
        } => thing.clone(),
    }
}

/// How far a reading may be off by what is written, in SI; `None` where nothing is.
fn half_of<Q: Quantity>(reading: &quantity::Reading<Q>) -> Option<f64> {
    let value = reading.value.si();
    match reading.tolerance {
        quantity::Tolerance::Unstated => None,
        quantity::Tolerance::PlusMinus(half) => Some(half.si()),
        quantity::Tolerance::Share(share) => Some(share.si() * value.abs()),
        quantity::Tolerance::Between(low, high) => Some((high.si() - low.si()) / 2.0),
    }
}
