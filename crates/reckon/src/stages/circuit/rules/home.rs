//! Getting home: what gives the heat away, and whether the fallback was ever tried.

use boat::{Arrangement, Carries, ThingKind, Told};

use super::{DRAWN, HOT, PRACTICE, missing, place_of, say_assumed, subject, verdict, waits};
use crate::say;
use crate::stages::circuit::input::Facts;
use crate::stages::circuit::inside::Inside;
use crate::stages::circuit::plan::{Plan, Site};
use crate::stages::types::Subject;
use crate::verdict::{Basis, Grade, Verdict};

/// Arrangements that are no way home: how she was found, and how she is to be.
const NOT_HOME: [&str; 2] = ["before", "after"];

/// Whether each loop gives its heat to the water outside. The first one has the name of the arrangement;
/// one that shares no water with it has that of its engine or pump besides.
pub fn sink(plan: &Plan, out: &mut Vec<Verdict>) {
    let name = plan.facts.name.unwrap_or("loop");
    let mut seen = vec![false; plan.nodes.len()];
    let mut first = true;
    for pump in &plan.pumps {
        if !plan.on_loop[*pump] || seen[*pump] {
            continue;
        }
        let within = plan.graph.together(&[*pump]);
        for (seen, on) in seen.iter_mut().zip(&within) {
            *seen |= *on;
        }
        // A loop without an engine has no heat to give away but what another one lends it.
        let heated = plan.facts.things.iter().enumerate().any(|(thing, own)| {
            own.thing.engine.is_some() && plan.any(Site::Thing(thing), &within)
        });
        if !heated {
            continue;
        }
        let (key, title) = if first {
            (name.to_owned(), format!("the loop of {name}"))
        } else {
            let pump = super::node_name(plan, *pump);
            (
                format!("{name}.{}", pump.replace(' ', "-")),
                format!("the loop of {pump}"),
            )
        };
        first = false;
        let whole = subject(&key, title, place_of(plan.facts));
        sink_of(plan, &whole, &within, out);
    }
    // Where no water comes round it cools nothing.
    if first {
        let whole = subject(name, format!("the loop of {name}"), place_of(plan.facts));
        sink_of(plan, &whole, &plan.on_loop, out);
    }
}

/// Whether the loop within some nodes gives its heat to the water outside.
fn sink_of(plan: &Plan, whole: &Subject, within: &[bool], out: &mut Vec<Verdict>) {
    let (raw, at_best) = (plan.with_raw_water(), plan.with_raw_water_at_best());
    let mut live: Vec<String> = Vec::new();
    let mut undrawn: Vec<String> = Vec::new();
    for name in plan.sinks_within(within) {
        match other_side(plan, &name, &raw, &at_best) {
            OtherSide::Wet => live.push(name),
            OtherSide::NotDrawn => undrawn.push(name),
            OtherSide::Dry => {}
        }
    }
    if live.is_empty() && !undrawn.is_empty() {
        let which = say::list(&undrawn, "and");
        let missing = missing(
            "what cools it is not drawn",
            "runs".into(),
            &format!(
                "Trace the raw water from the sea through {which} and out again, and write each hose as a run that carries raw water."
            ),
        );
        out.push(waits(whole, "sink", &say::capital(&which), &missing));
        return;
    }
    let mut said = if live.is_empty() {
        let stores: Vec<String> = plan
            .facts
            .things
            .iter()
            .enumerate()
            .filter(|(i, own)| {
                own.is(ThingKind::Calorifier)
                    && plan.any(Site::Thing(*i), &plan.on_loop)
                    && plan.any(Site::Thing(*i), within)
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
        let shut = plan.shut_in_the_way(|plan| {
            let (raw, at_best) = (plan.with_raw_water(), plan.with_raw_water_at_best());
            let wet =
                |name: &String| matches!(other_side(plan, name, &raw, &at_best), OtherSide::Wet);
            plan.sinks_within(within).iter().any(wet)
        });
        let valves = say::list(&shut, "and");
        let (why, remedy) = match shut.len() {
            0 => (
                String::new(),
                "Lead the loop through keel pipes, a skin tank or a heat exchanger with water on its other side.".to_owned(),
            ),
            count => {
                let verb = if count == 1 { "is" } else { "are" };
                (
                    format!(" while {valves} {verb} shut"),
                    format!("Open {valves} before the engine runs."),
                )
            }
        };
        let because = format!(
            "{} passes 0 coolers that have water on their other side{why}, so that its heat goes nowhere.{store}",
            say::capital(&whole.title)
        );
        verdict(
            whole,
            "sink",
            Grade::Unsound,
            because.as_str().into(),
            &remedy,
        )
    } else {
        let many = if live.len() == 1 { "" } else { "s" };
        // A pump whose own inlet lies outside the file is said to be one.
        let outside: Vec<String> = (0..plan.facts.things.len())
            .filter(|thing| plan.own_inlet(*thing))
            .map(|thing| plan.facts.things[thing].key().to_owned())
            .collect();
        let by = if outside.is_empty() || !live.iter().any(|name| wants_raw(plan, name)) {
            String::new()
        } else {
            format!(
                "; {} brings raw water by an inlet that is not written",
                say::list(&outside, "and")
            )
        };
        let because = format!(
            "It gives its heat away by {} cooler{many}: {}{by}.",
            live.len(),
            say::list(&live, "and")
        );
        verdict(whole, "sink", Grade::Sound, because.as_str().into(), "")
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

/// What is known of the other side of a cooler.
enum OtherSide {
    /// Water runs there.
    Wet,
    /// It is drawn, and no water comes to it.
    Dry,
    /// No run tells what comes to it.
    NotDrawn,
}

/// The thing that a cooler's name stands for, where raw water has to be led to its other side.
fn raw_sided(plan: &Plan, name: &str) -> Option<usize> {
    let key = name.rsplit(' ').next().unwrap_or(name);
    let thing = plan.facts.thing(key)?;
    let own = &plan.facts.things[thing];
    (own.is(ThingKind::Exchanger) || own.thing.engine.is_some()).then_some(thing)
}

fn wants_raw(plan: &Plan, name: &str) -> bool {
    raw_sided(plan, name).is_some()
}

/// Whether a cooler has water on its other side: what lies outside the hull has, and an exchanger where
/// raw water is led to it.
fn other_side(plan: &Plan, name: &str, raw: &[bool], at_best: &[bool]) -> OtherSide {
    let Some(thing) = raw_sided(plan, name) else {
        return OtherSide::Wet;
    };
    let comes = |wet: &[bool]| {
        plan.of_site(Site::Thing(thing))
            .into_iter()
            .any(|node| wet[node] && !plan.on_loop[node])
    };
    let drawn = plan
        .facts
        .on(thing)
        .any(|(run, _, _)| plan.facts.runs[run].run.carries == Carries::RawWater);
    if comes(raw) {
        OtherSide::Wet
    } else if !drawn || comes(at_best) {
        OtherSide::NotDrawn
    } else {
        OtherSide::Dry
    }
}

/// The year with which a text begins.
fn year_of(text: &str) -> Option<u32> {
    let text = text.trim();
    let digits: String = text.chars().take_while(char::is_ascii_digit).collect();
    if digits.len() == 4 {
        digits.parse().ok()
    } else {
        None
    }
}

/// The caution of a trial for which valves at the hull are worked.
const TRIAL: &str = "Lets in the sea if a hull valve fails, and the loop is hot and under pressure: try it ashore, or alongside with a plug to hand and a second person ready.";

/// When an arrangement was last run; nothing for those that are no way home. `hull` tells that valves at the
/// hull are shut or opened for it.
pub fn tried(arrangement: &Arrangement, job_year: &Told<u32>, hull: bool, out: &mut Vec<Verdict>) {
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
        Told::Given(text) => match (year_of(text), job_year.given()) {
            (None, _) => waits(
                &whole,
                "tried",
                &say::capital(name),
                &missing(
                    &format!("“{text}” does not begin with the year in which it was last run"),
                    format!("{place}.tried"),
                    "Write the year first: `tried = \"2026-05, alongside\"`.",
                ),
            ),
            (_, None) => waits(
                &whole,
                "tried",
                &say::capital(name),
                &missing(
                    &format!("it was last run in {text}, and the year of the job is not told"),
                    "job.year".into(),
                    "Write the year in which the job is done.",
                ),
            ),
            (Some(run), Some(now)) if run > *now => waits(
                &whole,
                "tried",
                &say::capital(name),
                &missing(
                    &format!("“{text}” lies after {now}, the year of the job"),
                    format!("{place}.tried"),
                    "Write the day on which it was last run, the year first.",
                ),
            ),
            (Some(run), Some(now)) => aged(&whole, name, text, (run, *now), how),
        },
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
        said.caution = Some(if hull { TRIAL } else { HOT }.into());
    }
    said.source(PRACTICE);
    out.push(said.spoken());
}

/// Whether an arrangement was run within the year: by the year alone, for a text need not tell the month.
fn aged(
    whole: &crate::stages::types::Subject,
    name: &str,
    text: &str,
    (run, now): (u32, u32),
    how: &str,
) -> Verdict {
    let years = now - run;
    let ago = say::counted(years, "year");
    let (grade, because, remedy) = if years > 1 {
        (
            Grade::Marginal,
            format!(
                "{} was last run in {text}, {ago} before the job in {now}: in more than 1 year valves seize, hose perishes and air gathers.",
                say::capital(name)
            ),
            how,
        )
    } else {
        (
            Grade::Sound,
            format!(
                "{} was last run in {text}; the job is in {now}, and one that was not run within 1 year counts for none.",
                say::capital(name)
            ),
            "",
        )
    };
    let mut said = verdict(whole, "tried", grade, because.as_str().into(), remedy);
    said.step(
        "year of the job − year of the last run",
        format!("{now} − {run}").as_str().into(),
        ago.as_str().into(),
    );
    said
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
