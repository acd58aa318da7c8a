//! Going over to another loop: what to shut, to connect and to open, in the order of doing.

use boat::{Arrangement, Boat, Carries, Key, Thing, ThingKind, Told};

use super::valves::end;
use super::{OtherLoop, limits};
use crate::flow;
use crate::loops;
use crate::say;
use crate::stages::circuit::input::Facts;
use crate::stages::circuit::plan::{Plan, Site};
use crate::verdict::Grade;

/// Arrangements that are no way home: how she was found, and how she is to be.
const NOT_HOME: [&str; 2] = ["before", "after"];

/// All ways to go on without what gave out, from the arrangement that runs now.
pub(super) fn of(
    boat: &Boat,
    now: &boat::Arranged,
    facts: &Facts,
    name: Option<&str>,
) -> Vec<OtherLoop> {
    boat.arrangements
        .iter()
        .filter(|step| !NOT_HOME.contains(&step.key.as_str()) && Some(step.key.as_str()) != name)
        .filter_map(|step| one(boat, now, facts, step))
        .collect()
}

fn one(boat: &Boat, now: &boat::Arranged, facts: &Facts, step: &Arrangement) -> Option<OtherLoop> {
    let then = boat.arranged(Some(&step.key))?;
    let then_facts = loops::facts(boat, &then, Some(&step.key));
    let flow = flow::flow(boat, Some(&step.key));
    let (tried, grade) = match &step.tried {
        Told::Given(text) if text.trim().eq_ignore_ascii_case("never") => {
            ("never run: count it for none".to_owned(), Grade::Unsound)
        }
        Told::Given(text) => (format!("last run {text}"), Grade::Sound),
        _ => (
            "not told when it was last run: run it once, 15 minutes, and write the day".to_owned(),
            Grade::Unmeasured,
        ),
    };
    Some(OtherLoop {
        key: step.key.clone(),
        tried,
        grade,
        steps: steps(now, facts, &then, &then_facts),
        power: limits::power(flow.as_ref()).is,
    })
}

/// What to do, in order: off, shut, connect, open, fill, start, load.
fn steps(
    now: &boat::Arranged,
    facts: &Facts,
    then: &boat::Arranged,
    then_facts: &Facts,
) -> Vec<String> {
    let mut steps = Vec::new();
    let plan = Plan::of(then_facts);
    let new_runs: Vec<&boat::Run> = then
        .boat
        .runs
        .iter()
        .filter(|run| {
            !now.boat
                .runs
                .iter()
                .any(|own| own.key == run.key && own.from == run.from && own.to == run.to)
        })
        .collect();
    let hoses = !new_runs.is_empty();
    steps.push(if hoses {
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
    for run in new_runs {
        let raw = if run.carries == Carries::RawWater {
            " (raw water)"
        } else {
            ""
        };
        steps.push(format!(
            "Hose {}{raw} on from {} to {}, clips nipped.",
            run.key,
            end(&run.from),
            end(&run.to)
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
    let pumps: Vec<String> = then
        .boat
        .things
        .iter()
        .filter(|thing| {
            thing.kind.given() == Some(&ThingKind::RawWaterPump)
                && now.boat.thing(&thing.key).is_none()
        })
        .map(|thing| thing.key.clone())
        .collect();
    let with = if pumps.is_empty() {
        String::new()
    } else {
        format!("{} on. ", say::capital(&say::list(&pumps, "and")))
    };
    steps.push(format!(
        "{with}Start, idle two minutes, look for leaks. Load in steps, five minutes each, watching the needle."
    ));
    steps
}

/// Valves that have to be opened: shut until now, or on what only now belongs to the loop.
fn opened(
    now: &boat::Arranged,
    facts: &Facts,
    then: &boat::Arranged,
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
        let newly = plan.any(Site::Thing(at), &plan.on_loop)
            && !facts
                .thing(own.key())
                .is_some_and(|old| before.any(Site::Thing(old), &before.on_loop));
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

/// A valve with where it is: `keel-fwd (under sole board 4)`.
fn valve_words(facts: &Facts, then: &Facts, valve: &Key) -> String {
    let key = valve.split('.').next().unwrap_or(valve);
    let thing: Option<&Thing> = facts
        .thing(key)
        .map(|at| facts.things[at].thing)
        .or_else(|| then.thing(key).map(|at| then.things[at].thing));
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
