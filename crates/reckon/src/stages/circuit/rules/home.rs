//! Getting home: what gives the heat away, and whether the fallback was ever tried.

use boat::{Arrangement, ThingKind, Told};

use super::{DRAWN, HOT, PRACTICE, missing, place_of, say_assumed, subject, verdict, waits};
use crate::say;
use crate::stages::circuit::input::Facts;
use crate::stages::circuit::inside::Inside;
use crate::stages::circuit::plan::{Plan, Site};
use crate::verdict::{Basis, Grade, Verdict};

/// Arrangements that are no way home: how she was found, and how she is to be.
const NOT_HOME: [&str; 2] = ["before", "after"];

/// Whether the loop gives its heat to the water outside.
pub fn sink(plan: &Plan, out: &mut Vec<Verdict>) {
    let name = plan.facts.name.unwrap_or("loop");
    let whole = subject(name, format!("the loop of {name}"), place_of(plan.facts));
    let raw = plan.with_raw_water();
    let live: Vec<String> = plan
        .sinks_on_loop()
        .into_iter()
        .filter(|name| has_water(plan, name, &raw))
        .collect();
    let mut said = if live.is_empty() {
        let stores: Vec<String> = plan
            .facts
            .things
            .iter()
            .enumerate()
            .filter(|(i, own)| {
                own.is(ThingKind::Calorifier) && plan.any(Site::Thing(*i), &plan.on_loop)
            })
            .map(|(_, own)| own.key().to_owned())
            .collect();
        let store = if stores.is_empty() {
            String::new()
        } else {
            format!(
                " {} stores some and then gives nothing more away.",
                say::capital(&say::list(&stores, "and"))
            )
        };
        let because = format!(
            "The loop of {name} passes 0 coolers that have water on their other side, so that its heat goes nowhere.{store}"
        );
        verdict(
            &whole,
            "sink",
            Grade::Unsound,
            because.as_str().into(),
            "Lead the loop through keel pipes, a skin tank or a heat exchanger with water on its other side.",
        )
    } else {
        let many = if live.len() == 1 { "" } else { "s" };
        let because = format!(
            "It gives its heat away by {} cooler{many}: {}.",
            live.len(),
            say::list(&live, "and")
        );
        verdict(&whole, "sink", Grade::Sound, because.as_str().into(), "")
    };
    said.basis = Basis::Physics;
    said.working.limit = "a cooler with water on its other side on the loop".into();
    if said.grade == Grade::Unsound {
        said.caution = Some(HOT.into());
    }
    say_assumed(plan, &mut said);
    said.source(DRAWN);
    out.push(said);
}

/// Whether a cooler has water on its other side; an exchanger of which no raw water is drawn is trusted.
fn has_water(plan: &Plan, name: &str, raw: &[bool]) -> bool {
    let key = name.rsplit(' ').next().unwrap_or(name);
    let Some(thing) = plan.facts.thing(key) else {
        return true;
    };
    let own = &plan.facts.things[thing];
    if !own.is(ThingKind::Exchanger) && own.thing.engine.is_none() {
        return true;
    }
    let drawn = plan
        .facts
        .on(thing)
        .any(|(run, _, _)| plan.facts.runs[run].run.carries == boat::Carries::RawWater);
    !drawn
        || plan
            .of_site(Site::Thing(thing))
            .into_iter()
            .any(|node| raw[node] && !plan.on_loop[node])
}

/// When an arrangement was last run; nothing for those that are no way home.
pub fn tried(arrangement: &Arrangement, out: &mut Vec<Verdict>) {
    if NOT_HOME.contains(&arrangement.key.as_str()) {
        return;
    }
    let place = format!("arrangements.{}", boat::key_text(&arrangement.key));
    let name = &arrangement.key;
    let whole = subject(
        name,
        format!("arrangement {name}"),
        format!("{place}.tried"),
    );
    let never = |text: &str| text.trim().eq_ignore_ascii_case("never");
    let how = "Run her so for 15 minutes, watching the gauge, and write the day.";
    let mut said = match &arrangement.tried {
        Told::Given(text) if never(text) => verdict(
            &whole,
            "tried",
            Grade::Unsound,
            format!("{} has never been run: its valves may be seized, its hose perished, its top full of air.", say::capital(name))
                .as_str()
                .into(),
            how,
        ),
        Told::Given(text) => {
            let mut said = verdict(
                &whole,
                "tried",
                Grade::Sound,
                format!("{} was last run in {text}; one that was not run within 1 year counts for none.", say::capital(name))
                    .as_str()
                    .into(),
                "",
            );
            said.working.limit = "run within the year".into();
            said
        }
        _ => waits(
            &whole,
            "tried",
            &say::capital(name),
            &missing(
                "not told when it was last run",
                format!("{place}.tried"),
                how,
            ),
        ),
    };
    if said.grade != Grade::Unmeasured {
        said.working.limit = "run once a year".into();
    }
    if said.grade != Grade::Sound {
        said.caution = Some(HOT.into());
    }
    said.source(PRACTICE);
    out.push(said.spoken());
}

/// What matters of an arrangement while another one is judged: whether it cools at all.
pub fn other(facts: &Facts, out: &mut Vec<Verdict>) {
    let plan = Plan::of(facts);
    let known = plan
        .insides
        .iter()
        .all(|inside| !matches!(inside, Inside::Missing(_)));
    if !known || plan.pumps.is_empty() {
        return;
    }
    let mut own = Vec::new();
    sink(&plan, &mut own);
    out.extend(own.into_iter().map(Verdict::spoken));
}
