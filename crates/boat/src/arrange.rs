//! One arrangement as a boat of its own: the file as it stands, with the differences applied.

use std::collections::BTreeMap;

use quantity::Length;

use crate::model::{Arrangement, Boat, Key, KeyPath, Piece, PieceKind, RunEnd, Told};
use crate::places::{joined, run_path, thing_path};

/// A boat connected in one way.
#[derive(Clone, Debug, PartialEq)]
pub struct Arranged {
    /// The boat with the things and runs of that arrangement.
    pub boat: Boat,
    /// Spigots, caps and tees that are blanked off.
    pub blanked: Vec<String>,
    /// Valves that are shut.
    pub shut: Vec<Key>,
    /// Whether she lies as she was found, while the file tells of changes too: what was decided for those is not in
    /// her yet.
    pub as_found: bool,
    /// Where a run's way stands in the file, where that is not under `runs`.
    run_places: BTreeMap<Key, KeyPath>,
    /// Where a thing stands in the file, where that is not under `things`.
    thing_places: BTreeMap<Key, KeyPath>,
}

impl Arranged {
    /// The table of the file in which the run's way stands: `runs.hot`, `arrangements.after.replace.hot`.
    pub fn run_place(&self, run: &str) -> KeyPath {
        self.run_places
            .get(run)
            .cloned()
            .unwrap_or_else(|| run_path(run))
    }

    /// The table of the file in which a thing stands: `things.gearbox`, `arrangements.after.add.bleed`.
    pub fn thing_place(&self, thing: &str) -> KeyPath {
        self.thing_places
            .get(thing)
            .cloned()
            .unwrap_or_else(|| thing_path(thing))
    }

    /// How long the hose is to be cut that is the piece of this number of a run, and where that stands in the file;
    /// `None` where that is not decided, where the piece is no hose, or where she lies as she was found.
    pub fn cut(&self, run: &str, pieces: &[Piece], at: usize) -> Option<(Length, KeyPath)> {
        let lie = self.boat.bay.lies.iter().find(|lie| lie.run == run);
        lie.filter(|_| !self.as_found)?.cut_of(pieces, at)
    }
}

impl Boat {
    /// The boat as one of her arrangements connects her; `None` for the file as it stands.
    /// An arrangement that is not there, or that changes itself, gives `None`.
    pub fn arranged(&self, name: Option<&str>) -> Option<Arranged> {
        let changes = self.arrangements.iter().any(Arrangement::changes);
        let mut arranged = Arranged {
            as_found: changes,
            boat: self.clone(),
            blanked: Vec::new(),
            shut: Vec::new(),
            run_places: BTreeMap::new(),
            thing_places: BTreeMap::new(),
        };
        let Some(name) = name else {
            return Some(arranged);
        };
        for step in self.lineage(name)? {
            arranged.as_found &= !step.changes();
            arranged.apply(step);
        }
        settle_ends(&mut arranged.boat);
        // What a run ends on is no longer blanked off.
        let used: Vec<String> = arranged
            .boat
            .runs
            .iter()
            .flat_map(|run| [&run.from, &run.to])
            .map(|end| match end {
                RunEnd::Thing {
                    thing,
                    spigot: Some(name),
                }
                | RunEnd::Tee {
                    run: thing,
                    piece: name,
                } => {
                    format!("{thing}.{name}")
                }
                RunEnd::Thing {
                    thing,
                    spigot: None,
                } => thing.clone(),
            })
            .collect();
        arranged.blanked.retain(|blank| !used.contains(blank));
        Some(arranged)
    }

    /// The arrangement and those that it changes, the first one first; `None` where one is missing
    /// or they run in a circle.
    pub(crate) fn lineage(&self, name: &str) -> Option<Vec<&Arrangement>> {
        let mut steps: Vec<&Arrangement> = Vec::new();
        let mut next = Some(name);
        while let Some(name) = next {
            if steps.iter().any(|step| step.key == name) {
                return None;
            }
            let step = self
                .arrangements
                .iter()
                .find(|arrangement| arrangement.key == name)?;
            steps.push(step);
            next = step.from.as_deref();
        }
        steps.reverse();
        Some(steps)
    }
}

impl Arranged {
    fn apply(&mut self, step: &Arrangement) {
        let place = |way: &str, key: &str| {
            joined(&format!("{}.{way}", joined("arrangements", &step.key)), key)
        };
        let old = self.boat.things.clone();
        for thing in &step.replace_things {
            let mut new = thing.clone();
            new.take_after(&old);
            if let Some(slot) = self.boat.things.iter_mut().find(|old| old.key == thing.key) {
                // A cap that is typed anew is in force, whatever became of the old one.
                if !thing.cap.is_left_out() {
                    self.blanked.retain(|blank| *blank != cap_of(&thing.key));
                }
                new.stand_in_for(slot);
                *slot = new;
                self.thing_places
                    .insert(thing.key.clone(), place("replace", &thing.key));
            }
        }
        for thing in &step.add_things {
            let mut new = thing.clone();
            new.take_after(&old);
            self.boat.things.push(new);
            self.thing_places
                .insert(thing.key.clone(), place("add", &thing.key));
        }
        for change in &step.replace_runs {
            if let Some(run) = self.boat.runs.iter_mut().find(|run| run.key == change.key) {
                let change = change.clone();
                run.from = change.from.unwrap_or_else(|| run.from.clone());
                run.to = change.to.unwrap_or_else(|| run.to.clone());
                run.length = change.length.or(run.length.clone());
                run.bends = change.bends.or(run.bends.clone());
                run.high_at = change.high_at.or(run.high_at.clone());
                run.low_at = change.low_at.or(run.low_at.clone());
                if !change.way.is_left_out() {
                    run.way = change.way;
                    self.run_places
                        .insert(change.key.clone(), place("replace", &change.key));
                }
            }
        }
        for run in &step.add_runs {
            self.boat.runs.push(run.clone());
            self.run_places
                .insert(run.key.clone(), place("add", &run.key));
        }
        self.boat
            .things
            .retain(|thing| !step.remove.contains(&thing.key));
        self.boat.runs.retain(|run| !step.remove.contains(&run.key));
        // What is gone is neither blanked off nor shut.
        let gone = |name: &String| {
            let first = name.split('.').next().unwrap_or_default();
            step.remove.iter().any(|removed| removed == first)
        };
        self.blanked.retain(|blank| !gone(blank));
        self.shut.retain(|valve| !gone(valve));
        for thing in &mut self.boat.things {
            if step.blank.contains(&cap_of(&thing.key)) {
                thing.cap = Told::LeftOut;
                thing.cap_height = Told::LeftOut;
            }
        }
        self.blanked.extend(step.blank.iter().cloned());
        self.shut.extend(step.shut.iter().cloned());
    }
}

/// The name by which a thing's cap is blanked off.
fn cap_of(thing: &str) -> String {
    format!("{thing}.cap")
}

/// Tells tees from spigots, once all runs are known.
pub(crate) fn settle_ends(boat: &mut Boat) {
    let tees: Vec<(Key, Key)> = boat
        .runs
        .iter()
        .flat_map(|run| {
            let pieces = run.way.given().map_or(&[][..], Vec::as_slice);
            pieces
                .iter()
                .filter(|piece| matches!(piece.kind, PieceKind::Tee { .. }))
                .map(|piece| (run.key.clone(), piece.name.clone()))
        })
        .collect();
    let things: Vec<Key> = boat.things.iter().map(|thing| thing.key.clone()).collect();
    for run in &mut boat.runs {
        for end in [&mut run.from, &mut run.to] {
            if let RunEnd::Thing {
                thing,
                spigot: Some(piece),
            } = end
                && !things.contains(thing)
                && tees.iter().any(|(run, tee)| run == thing && tee == piece)
            {
                *end = RunEnd::Tee {
                    run: std::mem::take(thing),
                    piece: std::mem::take(piece),
                };
            }
        }
    }
}
