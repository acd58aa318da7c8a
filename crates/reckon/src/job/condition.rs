//! What the judging of parts as found reads of the boat: `[seen]`, the year printed on a hose, valves.

use boat::{Boat, Key, KeyPath, Run, RunEnd, Seen, Told, seen_path};

use crate::stages::circuit;
use crate::stages::condition::{ClipFound, ConditionInput, RunFound, ValveFound};

/// The boat as found: the file without any arrangement.
pub(crate) fn as_found(boat: &Boat) -> ConditionInput {
    let at = |subject: &str| boat.seen.iter().find(|seen| seen.subject == subject);
    let mut clips = Vec::new();
    let runs = boat.runs.iter().map(|run| {
        let (joints, _) = circuit::joints(run, "");
        let mut subjects: Vec<Key> = vec![run.key.clone()];
        subjects.extend(joints.iter().map(|joint| joint.key.clone()));
        let seen: Vec<&Seen> = subjects.iter().filter_map(|key| at(key)).collect();
        for joint in &joints {
            if let Some(magnet) = at(&joint.key).and_then(|seen| seen.magnet.given()) {
                clips.push(ClipFound {
                    joint: joint.key.clone(),
                    place: seen_path(&joint.key),
                    magnet: *magnet,
                    salt: circuit::at_the_sea(boat, run, joint),
                });
            }
        }
        let states = |seen: &&Seen| {
            let at = seen.subject.clone();
            seen.found
                .iter()
                .map(move |found| (*found, at.clone()))
                .collect::<Vec<_>>()
        };
        RunFound {
            run: run.key.clone(),
            place: seen
                .first()
                .map_or_else(|| boat::run_path(&run.key), |seen| seen_path(&seen.subject)),
            found: seen.iter().flat_map(states).collect(),
            made: made(boat, run, &seen),
            decided: seen.iter().find_map(|seen| seen.decided.given().copied()),
        }
    });
    let runs: Vec<RunFound> = runs.collect();
    let valves = boat.things.iter().filter_map(|thing| {
        let valve = thing.valve.as_ref()?;
        Some(ValveFound {
            thing: thing.key.clone(),
            place: format!("{}.valve", thing.path()),
            worked: valve.worked.given().cloned(),
            feels: valve.feels.given().cloned(),
        })
    });
    let not_seen = boat.seen.iter().filter_map(|seen| {
        // What is found after all was seen.
        let why = seen.not_seen.clone().filter(|_| seen.found.is_empty())?;
        Some((seen.subject.clone(), seen_path(&seen.subject), why))
    });
    ConditionInput {
        runs,
        clips,
        valves: valves.collect(),
        not_seen: not_seen.collect(),
        year: match boat.job.year {
            Told::Given(year) => Some(year),
            _ => None,
        },
    }
}

/// The year of a run's hose: as typed, or in the print of the hose that hides one of its spigots.
fn made(boat: &Boat, run: &Run, seen: &[&Seen]) -> Option<(u32, KeyPath)> {
    let typed = seen.iter().find_map(|seen| {
        let year = *seen.made.given()?;
        Some((year, format!("{}.made", seen_path(&seen.subject))))
    });
    typed.or_else(|| {
        [&run.from, &run.to].into_iter().find_map(|end| {
            let RunEnd::Thing { thing, spigot } = end else {
                return None;
            };
            let (_, found) = boat.spigot_at(end)?;
            let print = found.hidden.as_ref()?.print.given()?;
            let place = boat::spigot_path(thing, spigot.as_deref().unwrap_or("a"));
            Some((year_of_print(print)?, format!("{place}.hidden.print")))
        })
    })
}

/// The year in a print: four figures that can be one.
fn year_of_print(print: &str) -> Option<u32> {
    print
        .split(|c: char| !c.is_ascii_digit())
        .filter(|figures| figures.len() == 4)
        .filter_map(|figures| figures.parse().ok())
        .find(|year| (1950..=2100).contains(year))
}
