//! All that shuts: where it is, which way, and what is lost by it, found by shutting it in the graph.

use boat::{Boat, ChainKind, Key, Piece, PieceKind, RunEnd, Thing, ThingKind, Told, ValveForm};
use quantity::Length;

use super::{CardFact, CardValve, PRACTICE, named};
use crate::say;
use crate::stages::circuit::input::Facts;
use crate::stages::circuit::plan::{Plan, Site};
use crate::stages::circuit::rules::height;
use crate::stages::survey;
use crate::stages::types::SaltFacts;
use crate::verdict::{Settles, Words};

/// What shuts in a valve.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Shuts {
    /// A quarter turn.
    Quarter,
    /// A screw.
    Screw,
}

/// All valves of an arrangement and the hull fittings without one, hull fittings first; `found` is the boat as
/// her file stands without any arrangement.
pub(super) fn of(facts: &Facts, found: &Boat) -> Vec<CardValve> {
    let mut valves = Vec::new();
    for (at, own) in facts.things.iter().enumerate() {
        if own.is(ThingKind::HullFitting) {
            valves.push(at_hull(facts, at, found));
        }
    }
    for (at, own) in facts.runs.iter().enumerate() {
        let pieces = own.run.way.given().map_or(&[][..], Vec::as_slice);
        for (piece, valve) in pieces.iter().enumerate() {
            if valve.kind.can_be_shut() {
                valves.push(in_run(facts, at, piece));
            }
        }
    }
    valves
}

/// A hull fitting with what the file tells of its valve.
fn at_hull(facts: &Facts, at: usize, found: &Boat) -> CardValve {
    let own = &facts.things[at];
    let key = own.key().to_owned();
    let part = own.thing.chain.iter().find(|part| part.kind.is_valve());
    let told = own.thing.valve.as_ref();
    let valve_key = match part {
        Some(part) => format!("{key}.{}", part.name),
        None if told.is_some() => format!("{key}.valve"),
        None => key.clone(),
    };
    let has = part.is_some() || told.is_some();
    let place = format!("{}.valve", own.place);
    let where_it_is = match told.and_then(|valve| valve.reach.given()) {
        Some(reach) => CardFact::Known(reach.as_str().into(), "the file".into()),
        None => CardFact::Unmeasured(Settles {
            place: format!("{place}.reach"),
            how: format!("Go to {key} with a lamp and write how one gets at it."),
        }),
    };
    let shuts = part.map(|part| match part.kind {
        ChainKind::GateValve => Shuts::Screw,
        _ => Shuts::Quarter,
    });
    let drowned_at = told.and_then(|valve| {
        survey::known(
            &valve.drowned_at,
            &format!("{place}.drowned_at"),
            "",
            &quantity::Instruments::default(),
        )
        .ok()
        .map(|value| {
            let metres = quantity::Quantity::si(value.measured.value);
            Words::of(|system| height(metres, system))
        })
    });
    let marks = marks_on(facts, at);
    let (with, outside) = beside(facts, &key);
    let effect = Effect::of(facts, &valve_key);
    let text = |told: Option<&String>| told.cloned();
    CardValve {
        title: key.clone(),
        kind: has
            .then(|| part.map_or_else(|| "valve".to_owned(), |part| part.kind.word().to_owned())),
        marks,
        hull: true,
        place: where_it_is,
        way: way(shuts, &valve_key),
        shut_now: Plan::of(facts).is_shut(&key),
        feels: text(told.and_then(|valve| valve.feels.given())),
        worked: text(told.and_then(|valve| valve.worked.given())),
        secs: told.and_then(|valve| valve.secs.given().copied()),
        untried: part.is_some() && found.thing(&key).is_some_and(|old| is_new(own.thing, old)),
        drowned_at,
        shuts: hull_shuts(facts, at, &with, outside.as_deref()),
        cuts_off: outside,
        costs: if has {
            effect.costs(facts)
        } else {
            "No valve is written here: only a plug shuts it.".into()
        },
        loses: effect.loses,
        with,
        key: valve_key,
    }
}

/// Whether a fitting has another valve than the one that was found there: another part, or one of which nothing
/// is told any more.
fn is_new(own: &Thing, old: &Thing) -> bool {
    let felt = |thing: &Thing| {
        let valve = thing.valve.as_ref();
        valve.is_some_and(|valve| valve.feels != Told::LeftOut || valve.worked != Told::LeftOut)
    };
    !felt(own) && (felt(old) || !own.has_valve_of(old))
}

/// A valve in a run.
fn in_run(facts: &Facts, at: usize, piece: usize) -> CardValve {
    let own = &facts.runs[at];
    let pieces = own.run.way.given().map_or(&[][..], Vec::as_slice);
    let key = format!("{}.{}", own.run.key, pieces[piece].name);
    let (shuts, kind) = match &pieces[piece].kind {
        PieceKind::Valve {
            form: ValveForm::Gate,
            ..
        } => (Shuts::Screw, "gate valve"),
        PieceKind::Valve {
            form: ValveForm::Cone,
            ..
        } => (Shuts::Quarter, "cone valve"),
        _ => (Shuts::Quarter, "ball valve"),
    };
    let effect = Effect::of(facts, &key);
    let mark = (!own.mark.is_empty()).then(|| own.mark.clone());
    CardValve {
        title: format!("{} {}", own.run.key, pieces[piece].name),
        kind: Some(kind.to_owned()),
        marks: mark.into_iter().collect(),
        hull: false,
        place: CardFact::Known(along(own.run, pieces, piece), "the file".into()),
        way: way(Some(shuts), &key),
        shut_now: facts.shut.contains(&key),
        feels: None,
        worked: None,
        secs: None,
        untried: false,
        drowned_at: None,
        shuts: format!(
            "Shuts the run {} from {} to {}.",
            own.run.key,
            end(&own.run.from),
            end(&own.run.to)
        ),
        with: Vec::new(),
        cuts_off: None,
        costs: effect.costs(facts),
        loses: effect.loses,
        key,
    }
}

/// Which way is shut. The file has no word for it, so that it is what the trade builds, to be tried once.
fn way(shuts: Option<Shuts>, key: &str) -> CardFact {
    let words = match shuts {
        Some(Shuts::Quarter) => "handle across shuts, along opens",
        Some(Shuts::Screw) => "wheel clockwise shuts",
        None => {
            return CardFact::Unmeasured(Settles {
                place: key.to_owned(),
                how: "Work it once and write on this card which way is shut.".into(),
            });
        }
    };
    CardFact::Known(words.into(), PRACTICE.into())
}

/// Where along its run a valve sits, as far as lengths are typed.
fn along(run: &boat::Run, pieces: &[Piece], piece: usize) -> Words {
    let before: Option<f64> = pieces[..piece]
        .iter()
        .map(|piece| piece.long.map(quantity::Quantity::si))
        .sum();
    match before {
        Some(metres) if metres > 0.0 => Words::of(|system| {
            let length = quantity::Quantity::from_si(metres).map_or_else(
                || "some way".to_owned(),
                |length: Length| quantity::show(length, Some(Length::mm(200.0)), system),
            );
            format!("{length} from {}", end(&run.from))
        }),
        _ => format!("between {} and {}", end(&run.from), end(&run.to))
            .as_str()
            .into(),
    }
}

/// An end of a run for people: `engine out`.
pub(super) fn end(end: &RunEnd) -> String {
    match end {
        RunEnd::Thing {
            thing,
            spigot: Some(spigot),
        } => format!("{thing} {spigot}"),
        RunEnd::Thing {
            thing,
            spigot: None,
        } => thing.clone(),
        RunEnd::Tee { run, piece } => format!("{piece} in {run}"),
    }
}

/// What is written on the runs that end on a thing.
fn marks_on(facts: &Facts, at: usize) -> Vec<String> {
    let mut marks: Vec<String> = Vec::new();
    for (run, ..) in facts.on(at) {
        let mark = &facts.runs[run].mark;
        if !mark.is_empty() && !marks.contains(mark) {
            marks.push(mark.clone());
        }
    }
    marks
}

/// The other hull fittings of the cooler that lies outside this one, and that cooler.
fn beside(facts: &Facts, key: &str) -> (Vec<Key>, Option<Key>) {
    let outside = facts
        .things
        .iter()
        .find(|own| own.thing.detail.between.iter().any(|own| own == key));
    match outside {
        Some(own) => (
            own.thing
                .detail
                .between
                .iter()
                .filter(|other| *other != key)
                .cloned()
                .collect(),
            Some(own.key().to_owned()),
        ),
        None => (Vec::new(), None),
    }
}

/// What a valve at the hull shuts.
fn hull_shuts(facts: &Facts, at: usize, with: &[Key], outside: Option<&str>) -> String {
    if let Some(outside) = outside {
        let outside = named(facts, outside);
        return if with.is_empty() {
            format!("Shuts {outside}.")
        } else {
            format!(
                "Shuts one end of {outside}; with {} it is cut off.",
                say::list(with, "and")
            )
        };
    }
    // What stands at the far end of each run, for a run's own name tells nobody what it feeds.
    let mut fed: Vec<String> = Vec::new();
    for (run, _, comes) in facts.on(at) {
        let run = facts.runs[run].run;
        let far = if comes { &run.from } else { &run.to };
        let name = match far {
            RunEnd::Thing { thing, .. } => thing.clone(),
            tee @ RunEnd::Tee { .. } => end(tee),
        };
        if !fed.contains(&name) {
            fed.push(name);
        }
    }
    let outside = match facts.salt {
        SaltFacts::Fresh => "the water outside",
        _ => "the sea",
    };
    if fed.is_empty() {
        format!("Shuts nothing that is connected; behind it may be {outside}.")
    } else {
        format!("Shuts {outside} off from {}.", say::list(&fed, "and"))
    }
}

/// Whether a thing only passes water on.
fn passes_on(facts: &Facts, key: &str) -> bool {
    facts.thing(key).is_some_and(|at| {
        let own = &facts.things[at];
        own.is(ThingKind::Strainer)
            || own.is(ThingKind::RawWaterPump)
            || own.is(ThingKind::SiphonBreak)
    })
}

/// What is lost when a valve is shut.
struct Effect {
    /// Things that get no more water.
    loses: Vec<Key>,
    /// Whether the loop then passes no cooler.
    no_cooler: bool,
    /// Whether the pump then moves nothing round.
    stands: bool,
    /// Whether raw water is lost.
    raw: bool,
}

impl Effect {
    /// Shuts the valve in the graph, and sees what falls dry.
    fn of(facts: &Facts, valve: &str) -> Self {
        let others: Vec<Key> = facts
            .shut
            .iter()
            .filter(|own| *own != valve)
            .cloned()
            .collect();
        let with: Vec<Key> = others.iter().cloned().chain([valve.to_owned()]).collect();
        let (open, shut) = (
            Facts {
                shut: &others,
                ..facts.clone()
            },
            Facts {
                shut: &with,
                ..facts.clone()
            },
        );
        let (open, shut) = (Plan::of(&open), Plan::of(&shut));
        let (raw_open, raw_shut) = (open.with_raw_water(), shut.with_raw_water());
        let mut loses = Vec::new();
        let mut raw = false;
        for (at, own) in facts.things.iter().enumerate() {
            if own.is(ThingKind::HullFitting) {
                continue;
            }
            let site = Site::Thing(at);
            let loop_lost = open.any(site, &open.on_loop) && !shut.any(site, &shut.on_loop);
            let raw_lost = open.any(site, &raw_open) && !shut.any(site, &raw_shut);
            raw |= raw_lost;
            if loop_lost || raw_lost {
                loses.push(own.key().to_owned());
            }
        }
        let round = |plan: &Plan| plan.pumps.iter().any(|pump| plan.on_loop[*pump]);
        Self {
            loses,
            no_cooler: !open.sinks_on_loop().is_empty() && shut.sinks_on_loop().is_empty(),
            stands: round(&open) && !round(&shut),
            raw,
        }
    }

    /// What that costs, in one sentence or two.
    fn costs(&self, facts: &Facts) -> String {
        let engine = |key: &Key| {
            facts
                .thing(key)
                .is_some_and(|at| super::sprays(facts.things[at].thing))
        };
        let mut names: Vec<String> = Vec::new();
        for key in &self.loses {
            // What only passes raw water on is no loss by itself.
            if self.raw && passes_on(facts, key) {
                continue;
            }
            let name = if self.raw && engine(key) {
                "the exhaust".to_owned()
            } else {
                key.clone()
            };
            if !names.contains(&name) {
                names.push(name);
            }
        }
        if self.raw {
            return format!(
                "Engine off first: no raw water to {}.",
                say::list(&names, "or")
            );
        }
        if self.stands {
            return "Engine off first: the water stands still.".into();
        }
        if self.no_cooler {
            return "Engine off first: nothing cools.".into();
        }
        if names.is_empty() {
            return "Nothing that runs now is lost.".into();
        }
        format!("Stops {}.", say::list(&names, "and"))
    }
}
