//! The rules of the circuit, one module a family: each looks at the plan and says what it finds.
//!
//! A family that finds nothing wrong says once that it looked, so that its silence is no guess.

pub mod air;
pub mod ends;
pub mod header;
pub mod heat;
pub mod home;
pub mod hull;
pub mod siphon;
pub mod small;
pub mod suction;

use boat::{Carries, KeyPath, ThingKind};
use quantity::{Length, Quantity, System, show};

use super::input::Facts;
use super::inside::Inside;
use super::plan::{Plan, Site};
use crate::say;
use crate::stages::types::{Known, Missing, Subject, Value};
use crate::verdict::{Grade, Settles, Stage, Verdict, Words};

/// A figure or a habit of the trade that nobody published to our knowledge.
pub(super) const PRACTICE: &str = "common practice, no source";
/// What follows from the drawing of the circuit alone.
pub(super) const DRAWN: &str = "the runs and paths of the file, followed from end to end";
/// The caution of every act on the hot side.
pub(super) const HOT: &str = "Hot and under pressure: open nothing before the engine is cold.";
/// How the reason of a verdict ends that rests on a layout which stands in for the paths.
const BY_LAYOUT: &str = ", by the assumed layout";
/// The caution of what stands behind the drinking water.
pub(super) const POISON: &str = "Ethylene glycol is poison and tastes sweet; used coolant of any kind is none to drink. Local rules for drinking water go before this.";
/// The caution of every act at the hull.
pub(super) const SEA: &str = "Lets in the sea: never open or renew a hull fitting afloat; that is work for ashore, under the rules that bind her.";

/// The caution where no raw water cools the exhaust.
pub(super) const EXHAUST: &str = "Hot exhaust gas: without raw water its hose burns through within a minute and lets the gas into the boat; stop the engine first.";

/// Judges one arrangement.
pub fn judge(facts: &Facts) -> Vec<Verdict> {
    let plan = Plan::of(facts);
    let mut out = Vec::new();
    // Where there is nothing to follow, one verdict says so and the rest keep silent.
    if facts.runs.is_empty() {
        return out;
    }
    let missing = missing_insides(&plan);
    let whole = missing.is_empty();
    out.extend(missing);
    hull::judge(&plan, &mut out);
    siphon::judge(&plan, &mut out);
    ends::judge(&plan, &mut out);
    if whole && closed(&plan, &mut out) {
        header::judge(&plan, &mut out);
        suction::judge(&plan, &mut out);
        heat::judge(&plan, &mut out);
        air::judge(&plan, &mut out);
    }
    heat::glycol(&plan, &mut out);
    heat::pumps(&plan, &mut out);
    out.into_iter().map(Verdict::spoken).collect()
}

/// A subject of the circuit.
pub(super) fn subject(key: &str, title: String, place: KeyPath) -> Subject {
    Subject {
        key: key.to_owned(),
        title,
        place,
    }
}

/// A verdict with the source of its rule.
pub(super) fn verdict(
    subject: &Subject,
    rule: &str,
    grade: Grade,
    because: Words,
    remedy: &str,
) -> Verdict {
    let mut verdict = subject.verdict(Stage::Circuit, rule, grade, because);
    verdict.remedy = remedy.into();
    verdict
}

/// A verdict that waits.
pub(super) fn waits(subject: &Subject, rule: &str, name: &str, missing: &Missing) -> Verdict {
    subject.waits(Stage::Circuit, rule, name, missing)
}

/// Why something is not known, and what settles it.
pub(super) fn missing(why: &str, place: KeyPath, how: &str) -> Missing {
    Missing {
        why: why.into(),
        settles: Settles {
            place,
            how: how.into(),
        },
    }
}

/// A height against the waterline, signed: `+330 mm`, `−230 mm`.
pub(crate) fn height(metres: f64, system: System) -> String {
    let text = say::whole_mm(metres, system);
    if metres > 0.0 && !text.starts_with('0') {
        format!("+{text}")
    } else {
        text
    }
}

/// The best value of a height [m].
pub(super) fn best(value: &Value<Length>) -> f64 {
    value.measured.value.si()
}

/// A length with its unit and no sign.
pub(super) fn size(length: Length, system: System) -> String {
    show(length, Some(Length::mm(2.0)), system)
}

/// Adds a height to the working.
pub(super) fn input(verdict: &mut Verdict, symbol: &str, name: &str, value: &Known<Length>) {
    if let Ok(value) = value {
        verdict.input(symbol, name, value);
    }
}

/// Engines whose inside is not known.
fn missing_insides(plan: &Plan) -> Vec<Verdict> {
    let mut out = Vec::new();
    for (thing, inside) in plan.insides.iter().enumerate() {
        let own = &plan.facts.things[thing];
        // An engine to which no water is led needs no inside.
        if plan.facts.on(thing).next().is_none() {
            continue;
        }
        let subject = subject(
            own.key(),
            format!("inside of {}", own.key()),
            own.place.clone(),
        );
        match inside {
            Inside::Missing(missing) => {
                let mut verdict = verdict(
                    &subject,
                    "inside",
                    Grade::Unmeasured,
                    missing.why.as_str().into(),
                    "",
                );
                verdict.settle_by(&missing.settles);
                out.push(verdict);
            }
            Inside::Typed(_) | Inside::Assumed(..) => {
                let loose = loose_ends(plan, thing);
                if let Some(name) = loose.first() {
                    let because = format!(
                        "{} of {} stands in none of its paths, so that nothing tells where its water goes.",
                        say::list(&loose, "and"),
                        own.key()
                    );
                    let mut verdict = verdict(
                        &subject,
                        "inside",
                        Grade::Unmeasured,
                        because.as_str().into(),
                        "",
                    );
                    verdict.settle_by(&Settles {
                        place: format!("{}.paths", own.place),
                        how: format!("Find out where {name} leads inside and add it to `paths`."),
                    });
                    out.push(verdict);
                }
            }
            Inside::Through => {}
        }
    }
    out
}

/// Spigots on which coolant is led and of which no path tells.
fn loose_ends(plan: &Plan, thing: usize) -> Vec<String> {
    let paths = plan.insides[thing].paths();
    let mut loose: Vec<String> = Vec::new();
    for (run, name, _) in plan.facts.on(thing) {
        let coolant = plan.facts.runs[run].run.carries == Carries::Coolant;
        let told = paths.iter().flatten().any(|station| station == name);
        if coolant && !told && !loose.iter().any(|known| known == name) {
            loose.push(name.to_owned());
        }
    }
    loose
}

/// Whether the water comes round to a pump again; says what is the matter where it does not.
fn closed(plan: &Plan, out: &mut Vec<Verdict>) -> bool {
    let coolant = plan
        .facts
        .runs
        .iter()
        .any(|own| own.run.carries == Carries::Coolant);
    if !coolant {
        return false;
    }
    let name = plan.facts.name.unwrap_or("loop");
    let whole = subject(name, "the loop".into(), place_of(plan.facts));
    if plan.pumps.is_empty() {
        let engine = engine_place(plan);
        let missing = missing(
            "no path names one",
            format!("{engine}.paths"),
            "Type where the pump sits in `paths`: `in > pump > block > head > stat`.",
        );
        out.push(waits(&whole, "pump", "The pump of the circuit", &missing));
        return false;
    }
    for pump in &plan.pumps {
        if plan.comes_round(*pump) {
            continue;
        }
        let Site::Thing(thing) = plan.nodes[*pump].site else {
            continue;
        };
        let own = &plan.facts.things[thing];
        let reached = plan
            .graph
            .reach(&[*pump], crate::solve::graph::Sense::Ahead, |node| {
                plan.passes(node)
            });
        // How far it gets: the things that it reaches and that lie on no way back.
        let mut far: Vec<String> = Vec::new();
        for node in (0..plan.nodes.len()).filter(|node| reached[*node] && !plan.on_loop[*node]) {
            let name = match plan.nodes[node].site {
                Site::Thing(other) if other != thing => plan.facts.things[other].key().to_owned(),
                Site::Thing(_) => continue,
                Site::Run(run) => plan.facts.runs[run].run.key.clone(),
            };
            if !far.contains(&name) {
                far.push(name);
            }
        }
        let wrong = backwards(plan);
        let because = if !wrong.is_empty() {
            format!(
                "With the thermostat open the water that leaves the pump of {} has 0 ways back to it: {}.",
                own.key(),
                wrong.join("; ")
            )
        } else if far.is_empty() {
            format!(
                "With the thermostat open the water that leaves the pump of {} has 0 ways back to it.",
                own.key()
            )
        } else {
            format!(
                "With the thermostat open the water that leaves the pump of {} has 0 ways back to it: it gets as far as {}.",
                own.key(),
                say::list(&far, "and")
            )
        };
        let subject = subject(
            own.key(),
            format!("the loop through {}", own.key()),
            own.place.clone(),
        );
        let remedy = if wrong.is_empty() {
            "Trace the hoses from there on and write each as a run, or open what is shut."
        } else {
            "Swap `from` and `to` of each run that is written against the flow."
        };
        let mut verdict = verdict(
            &subject,
            "loop",
            Grade::Unsound,
            because.as_str().into(),
            remedy,
        );
        verdict.basis = crate::verdict::Basis::Physics;
        verdict.working.limit = "a closed way from the pump back to the pump".into();
        verdict.source(DRAWN);
        out.push(verdict);
    }
    plan.pumps.iter().any(|pump| plan.comes_round(*pump))
}

/// Runs of coolant that are written against the flow: they end where the paths of a thing let water out,
/// or begin where they take it in.
fn backwards(plan: &Plan) -> Vec<String> {
    let mut wrong = Vec::new();
    for (thing, own) in plan.facts.things.iter().enumerate() {
        let paths = plan.insides[thing].paths();
        for (run, name, comes) in plan.facts.on(thing) {
            let run = plan.facts.runs[run].run;
            if run.carries != Carries::Coolant {
                continue;
            }
            let begins = paths
                .iter()
                .any(|path| path.first().is_some_and(|station| station == name));
            let ends = paths
                .iter()
                .any(|path| path.last().is_some_and(|station| station == name));
            if comes && ends && !begins {
                wrong.push(format!(
                    "{} ends at {}.{name}, where water comes out",
                    run.key,
                    own.key()
                ));
            } else if !comes && begins && !ends {
                wrong.push(format!(
                    "{} begins at {}.{name}, where water goes in",
                    run.key,
                    own.key()
                ));
            }
        }
    }
    wrong
}

/// A source of heat without water: a thing, or a station in it. Valves that are shut on its way are named.
pub(super) fn no_water(
    plan: &Plan,
    thing: usize,
    station: Option<&str>,
    whole: &Subject,
) -> Verdict {
    let shut = plan.shut_in_the_way(|plan| {
        let raw = plan.with_raw_water_at_best();
        let mut nodes = plan.of_site(Site::Thing(thing)).into_iter();
        nodes.any(|at| {
            let named = station.is_none_or(|name| plan.nodes[at].name == name);
            named && (plan.on_loop[at] || raw[at])
        })
    });
    if shut.is_empty() {
        let because = format!(
            "Nothing runs through {}: it lies on no closed way of the coolant and on none of the raw water.",
            whole.title
        );
        return verdict(
            whole,
            "water",
            Grade::Unsound,
            because.as_str().into(),
            "Lead both its ends into the loop, or write the runs that do.",
        );
    }
    let valves = say::list(&shut, "and");
    let verb = if shut.len() == 1 { "is" } else { "are" };
    let because = format!(
        "Nothing runs through {}: {valves} {verb} shut.",
        whole.title
    );
    let remedy = format!("Open {valves} before the engine runs.");
    let mut said = verdict(
        whole,
        "water",
        Grade::Unsound,
        because.as_str().into(),
        &remedy,
    );
    said.place = place_of(plan.facts);
    said.caution = Some(if cools_exhaust(plan) { EXHAUST } else { HOT }.into());
    said
}

/// Whether raw water goes out by an exhaust, which it cools: into an engine, or into an elbow for it.
pub(crate) fn cools_exhaust(plan: &Plan) -> bool {
    plan.facts.runs.iter().any(|own| {
        let ends = plan.facts.end(&own.run.to).is_some_and(|(thing, _)| {
            let into = &plan.facts.things[thing];
            into.thing.engine.is_some() || into.is(ThingKind::InjectionElbow)
        });
        own.run.carries == Carries::RawWater && ends
    })
}

/// A node for people: `engine out`, `tee in suck`.
pub(crate) fn node_name(plan: &Plan, node: usize) -> String {
    let own = &plan.nodes[node];
    match own.site {
        Site::Thing(thing) => {
            let key = plan.facts.things[thing].key();
            if own.name == "body" || own.name.is_empty() {
                key.to_owned()
            } else {
                format!("{key} {}", own.name)
            }
        }
        Site::Run(run) => {
            let key = &plan.facts.runs[run].run.key;
            if own.name == "way" {
                key.clone()
            } else {
                format!("{} in {key}", own.name)
            }
        }
    }
}

/// Where an arrangement stands in the file.
pub(super) fn place_of(facts: &Facts) -> KeyPath {
    facts.name.map_or_else(
        || "runs".to_owned(),
        |name| format!("arrangements.{}", boat::key_text(name)),
    )
}

/// The table of the first engine.
pub(super) fn engine_place(plan: &Plan) -> KeyPath {
    plan.facts
        .things
        .iter()
        .find(|own| own.is(ThingKind::Engine))
        .map_or_else(|| "engine".to_owned(), |own| own.place.clone())
}

/// Says in the reason and in the working that the inside of an engine is only assumed.
pub(super) fn say_assumed(plan: &Plan, verdict: &mut Verdict) {
    for (thing, inside) in plan.insides.iter().enumerate() {
        if let Inside::Assumed(layout, _) = inside {
            let because = &mut verdict.because;
            for text in [&mut because.metric, &mut because.imperial] {
                if !text.contains(BY_LAYOUT) {
                    let bare = text.trim_end_matches('.').len();
                    text.truncate(bare);
                    text.push_str(BY_LAYOUT);
                    text.push('.');
                }
            }
            verdict.step(
                "ways inside the engine",
                format!(
                    "(assumed) {}: {}",
                    plan.facts.things[thing].key(),
                    layout.words[0]
                )
                .as_str()
                .into(),
                layout.paths.join("; ").as_str().into(),
            );
        }
    }
}
