//! Going over to another loop: what to shut, to connect and to open, in the order of doing.

use boat::{Arranged, Arrangement, Boat, Carries, Key, Run, RunEnd, Thing, ThingKind, Told};

use super::aboard::{Aboard, Wants};
use super::valves::end;
use super::{Exhaust, OtherLoop, exhaust, limits};
use crate::flow;
use crate::loops;
use crate::say;
use crate::stages::circuit::input::Facts;
use crate::stages::circuit::plan::{Plan, Site};
use crate::verdict::Grade;

/// Arrangements that are no way home: how she was found, and how she is to be.
const NOT_HOME: [&str; 2] = ["before", "after"];
/// What comes after the start, once water is known to run.
const REST: &str = "2 min, look for leaks. Load in 5 min steps by the needle.";

/// All ways to go on without what gave out, from the arrangement that runs now.
pub(super) fn of(
    boat: &Boat,
    now: &Arranged,
    facts: &Facts,
    name: Option<&str>,
    aboard: &Aboard,
) -> Vec<OtherLoop> {
    boat.arrangements
        .iter()
        .filter(|step| !NOT_HOME.contains(&step.key.as_str()) && Some(step.key.as_str()) != name)
        .filter_map(|step| one(boat, now, facts, step, aboard))
        .collect()
}

fn one(
    boat: &Boat,
    now: &Arranged,
    facts: &Facts,
    step: &Arrangement,
    aboard: &Aboard,
) -> Option<OtherLoop> {
    let then = boat.arranged(Some(&step.key))?;
    let then_facts = loops::facts(boat, &then, Some(&step.key));
    let flow = flow::flow(boat, Some(&step.key));
    let (tried, grade) = match &step.tried {
        Told::Given(text) if text.trim().eq_ignore_ascii_case("never") => {
            ("never run: count it for none".to_owned(), Grade::Unsound)
        }
        Told::Given(text) => (format!("last run {text}"), Grade::Sound),
        _ => (
            "not told when it last ran: run it for 15 minutes, write the day".to_owned(),
            Grade::Unmeasured,
        ),
    };
    let Wants { wants, lacks } = aboard.wants(&new_runs(now, &then));
    Some(OtherLoop {
        key: step.key.clone(),
        tried,
        grade,
        steps: steps(now, facts, &then, &then_facts, &exhaust(boat, &then)),
        wants,
        lacks,
        power: limits::power(flow.as_ref()),
    })
}

/// Runs that the boat does not have as she runs now, or has between other ends.
fn new_runs<'a>(now: &Arranged, then: &'a Arranged) -> Vec<&'a Run> {
    let has = |run: &Run| {
        let mut own = now.boat.runs.iter();
        own.any(|own| own.key == run.key && own.from == run.from && own.to == run.to)
    };
    then.boat.runs.iter().filter(|run| !has(run)).collect()
}

/// What to do, in order: off, shut, connect, open, fill, start, load.
fn steps(
    now: &Arranged,
    facts: &Facts,
    then: &Arranged,
    then_facts: &Facts,
    exhaust: &Exhaust,
) -> Vec<String> {
    let mut steps = Vec::new();
    let plan = Plan::of(then_facts);
    let new_runs = new_runs(now, then);
    steps.push(if !new_runs.is_empty() {
        "Engine off, and wait until it is cold: hoses come off.".to_owned()
    } else {
        "Engine off.".to_owned()
    });
    let shut: Vec<String> = then
        .shut
        .iter()
        .filter(|valve| !now.shut.contains(valve))
        .map(|valve| valve_words(facts, then_facts, valve))
        .collect();
    if !shut.is_empty() {
        steps.push(format!("Shut {}.", say::list(&shut, "and")));
    }
    let capped: Vec<String> = now
        .blanked
        .iter()
        .filter(|blank| !then.blanked.contains(blank))
        .map(|blank| blank.replace('.', " "))
        .collect();
    if !capped.is_empty() {
        steps.push(format!(
            "With a bucket under each: caps off {}.",
            say::list(&capped, "and")
        ));
    }
    let gone: Vec<String> = now
        .boat
        .runs
        .iter()
        .filter(|run| !then.boat.runs.iter().any(|own| own.key == run.key))
        .map(|run| run.key.clone())
        .collect();
    if !gone.is_empty() {
        steps.push(format!("Hoses off: {}.", say::list(&gone, "and")));
    }
    for (at, run) in new_runs.iter().enumerate() {
        let raw = if run.carries == Carries::RawWater {
            " (raw water)"
        } else {
            ""
        };
        let last = at + 1 == new_runs.len();
        let nip = if last { " Nip all clips." } else { "" };
        steps.push(format!(
            "Hose {}{raw} on, {} to {}.{nip}",
            run.key,
            end(&run.from),
            end(&run.to)
        ));
    }
    for outlet in pours_out(then, &new_runs) {
        steps.push(format!(
            "Lead {outlet} overboard: no hose is written there."
        ));
    }
    let caps: Vec<String> = then
        .blanked
        .iter()
        .filter(|blank| !now.blanked.contains(blank))
        .map(|blank| blank.replace('.', " "))
        .collect();
    if !caps.is_empty() {
        steps.push(format!("Caps on {}.", say::list(&caps, "and")));
    }
    let open = opened(now, facts, then, then_facts, &plan);
    if !open.is_empty() {
        steps.push(format!("Open {}.", say::list(&open, "and")));
    }
    let bleeds: Vec<String> = then
        .boat
        .things
        .iter()
        .filter(|thing| thing.kind.given() == Some(&ThingKind::Bleed))
        .map(bleed_words)
        .collect();
    let bleed = if bleeds.is_empty() {
        "Bleed at the highest point".to_owned()
    } else {
        format!("Bleed at {}", say::list(&bleeds, "and"))
    };
    steps.push(format!("{bleed}, top up cold."));
    let pumps = |own_inlet: bool| -> Vec<String> {
        let things = then_facts.things.iter().enumerate();
        let new = things.filter(|(at, own)| {
            own.is(ThingKind::RawWaterPump)
                && now.boat.thing(own.key()).is_none()
                && (!own_inlet || plan.own_inlet(*at))
        });
        new.map(|(_, own)| own.key().to_owned()).collect()
    };
    let (all, own) = (pumps(false), pumps(true));
    if !all.is_empty() {
        let inlet = if own.is_empty() {
            String::new()
        } else {
            format!("Open the inlet of {}. ", say::list(&own, "and"))
        };
        steps.push(format!(
            "{inlet}{} on.",
            say::capital(&say::list(&all, "and"))
        ));
    }
    let raw = super::raw_water(&then.boat, false);
    if *exhaust == Exhaust::Wet {
        steps.push("Start. Water at the exhaust within seconds, else stop.".into());
        steps.push(format!("Idle {REST}"));
    } else if raw {
        steps.push("Start. Raw water runs within seconds, else stop.".into());
        steps.push(format!("Idle {REST}"));
    } else {
        steps.push(format!("Start, idle {REST}"));
    }
    steps
}

/// Ends of raw water that comes by a new hose and that no hose leads on: spigots of things whose inner ways are told.
fn pours_out(then: &Arranged, new_runs: &[&Run]) -> Vec<String> {
    let ends_on = |run: &Run, key: &str, name: &str| {
        [&run.from, &run.to].into_iter().any(|end| match end {
            RunEnd::Thing { thing, spigot } => thing == key && spigot.as_deref() == Some(name),
            RunEnd::Tee { .. } => false,
        })
    };
    let mut outlets = Vec::new();
    let raw = new_runs
        .iter()
        .filter(|run| run.carries == Carries::RawWater);
    for run in raw {
        let RunEnd::Thing {
            thing: key,
            spigot: Some(spigot),
        } = &run.to
        else {
            continue;
        };
        let paths = then.boat.thing(key).map(|thing| &thing.detail.paths);
        let way = paths.and_then(|paths| {
            let mut paths = paths.iter();
            paths.find(|path| path.stations.first() == Some(spigot))
        });
        let Some(out) = way.and_then(|way| way.stations.last()) else {
            continue;
        };
        let name = format!("{key}.{out}");
        let led = then.boat.runs.iter().any(|run| ends_on(run, key, out));
        if !led && !then.blanked.contains(&name) {
            outlets.push(format!("{key} {out}"));
        }
    }
    outlets
}

/// Valves that have to be opened: shut until now, or on what only now belongs to the loop.
fn opened(
    now: &Arranged,
    facts: &Facts,
    then: &Arranged,
    then_facts: &Facts,
    plan: &Plan,
) -> Vec<String> {
    let before = Plan::of(facts);
    let mut open: Vec<String> = now
        .shut
        .iter()
        .filter(|valve| !then.shut.contains(valve))
        .map(|valve| valve_words(facts, then_facts, valve))
        .collect();
    for (at, own) in then_facts.things.iter().enumerate() {
        let old = facts.thing(own.key());
        let on_loop = plan.any(Site::Thing(at), &plan.on_loop)
            && !old.is_some_and(|old| before.any(Site::Thing(old), &before.on_loop));
        let feeds = |facts: &Facts, at: usize| {
            let mut runs = facts.on(at).map(|(run, ..)| facts.runs[run].run);
            runs.any(|run| run.carries == Carries::RawWater)
        };
        let newly = on_loop || (feeds(then_facts, at) && !old.is_some_and(|old| feeds(facts, old)));
        let valve = own.thing.chain.iter().find(|part| part.kind.is_valve());
        if let (true, true, Some(valve)) = (own.is(ThingKind::HullFitting), newly, valve) {
            let key = format!("{}.{}", own.key(), valve.name);
            if !then.shut.contains(&key) && !now.shut.contains(&key) {
                open.push(valve_words(facts, then_facts, &key));
            }
        }
    }
    open
}

/// A valve with where it is: `port-inlet (behind the ladder)`. Of one that is there as she runs now, the list of the
/// valves tells it.
fn valve_words(facts: &Facts, then: &Facts, valve: &Key) -> String {
    let key = valve.split('.').next().unwrap_or(valve);
    if facts.thing(key).is_some() {
        return key.to_owned();
    }
    let thing: Option<&Thing> = then.thing(key).map(|at| then.things[at].thing);
    match thing {
        Some(thing) => {
            let reach = thing
                .valve
                .as_ref()
                .and_then(|valve| valve.reach.given())
                .map_or_else(String::new, |reach| format!(" ({reach})"));
            format!("{key}{reach}")
        }
        None => valve.replace('.', " "),
    }
}

fn bleed_words(thing: &Thing) -> String {
    match &thing.detail.on_run {
        Some(run) => format!("{} in {run}", thing.key),
        None => thing.key.clone(),
    }
}
