//! What to do first and by what is seen, in words that fit this boat. What is said here is common practice
//! without a source, and errs to the safe side: where no water moves the engine stops.

use boat::ThingKind;

use super::{CardSign, CardValve, Cooling, Exhaust, limits};
use crate::say;
use crate::stages::circuit::input::Facts;
use crate::stages::circuit::plan::{Plan, Site};
use crate::stages::flow::HullRow;
use crate::stages::types::SaltFacts;

/// What the words go by.
pub(super) struct Seen<'a> {
    pub(super) facts: &'a Facts<'a>,
    pub(super) plan: &'a Plan<'a>,
    pub(super) cooling: Cooling,
    pub(super) exhaust: &'a Exhaust,
    pub(super) valves: &'a [CardValve],
    pub(super) leaks: &'a [HullRow],
}

/// The lines that stand before all others.
pub(super) fn first(cooling: Cooling, exhaust: &Exhaust) -> Vec<String> {
    let slow = match cooling {
        Cooling::Keel | Cooling::Both => ", or slow ahead if there is sea room",
        Cooling::Exchanger | Cooling::Unknown => "",
    };
    let stop = match exhaust {
        Exhaust::Wet => "No water at the exhaust, steam, belt gone or hose burst: stop.",
        Exhaust::Dry => "Steam, belt gone or hose burst: stop.",
        // A boat cooled at the hull alone has most likely a dry one, and is asked for no water there.
        Exhaust::Unknown(_) if cooling == Cooling::Keel => "Steam, belt gone or hose burst: stop.",
        Exhaust::Unknown(_) => {
            "No water at an exhaust that has it, steam, belt gone or hose burst: stop."
        }
    };
    vec![
        format!("{stop} Otherwise idle{slow}."),
        "Do not open the cap.".into(),
    ]
}

/// Cautions that are never left out.
pub(super) fn cautions(seen: &Seen) -> Vec<String> {
    let mut cautions = vec![
        "The boat first: sea room, anchor, sail or a tow. Call early.".to_owned(),
        "Hot coolant scalds, and a cold header tank proves nothing: open nothing before the top hose is soft and the engine can be touched. No cold water into a hot engine.".into(),
        "Key out before a hand goes near the belt.".into(),
    ];
    if seen.valves.iter().any(|valve| valve.hull) {
        cautions
            .push("Before a hose comes off a hull fitting: its valve shut, a plug to hand.".into());
    }
    if *seen.exhaust == Exhaust::Wet {
        cautions.push(
            "An exhaust hose without water burns through within a minute, long before the needle moves."
                .into(),
        );
    }
    cautions
}

/// What to do by what is seen, the danger that runs fastest first. Short, for whoever reads it has no time.
pub(super) fn signs(seen: &Seen) -> Vec<CardSign> {
    let mut signs: Vec<(&str, String)> = Vec::new();
    if *seen.exhaust == Exhaust::Wet {
        signs.push(("No water at the exhaust", no_water(seen)));
    }
    signs.push((
        "Steam",
        "Engine off. All out. Hatch open a crack, no more. Wait.".into(),
    ));
    signs.push(("Belt gone", "Engine off. Key out, fit the spare.".into()));
    signs.push(("Hose burst", burst(seen)));
    signs.push(("Needle climbing", climbing(seen)));
    signs.push((
        "Needle drops at once",
        "The coolant is gone. Engine off.".into(),
    ));
    signs.push((
        "Hot only at high power",
        "Slow down to where it stands. Revs: ______".into(),
    ));
    signs.push(("Level falling", falling(seen)));
    signs.push(("Level rising", rising(seen)));
    signs.push(("Oil in the coolant", oil(seen)));
    if !matches!(seen.facts.salt, SaltFacts::Fresh) {
        signs.push((
            "Salt in the coolant",
            "Needle steady, oil clean: run home, flush within two days.".into(),
        ));
    }
    signs
        .into_iter()
        .map(|(sign, act)| CardSign {
            sign: sign.to_owned(),
            act,
        })
        .collect()
}

fn has(seen: &Seen, kind: ThingKind) -> bool {
    seen.facts.things.iter().any(|own| own.is(kind))
}

fn no_water(seen: &Seen) -> String {
    let inlet: Vec<String> = seen
        .valves
        .iter()
        .filter(|valve| valve.hull && valve.with.is_empty() && !valve.loses.is_empty())
        .map(|valve| valve.title.clone())
        .collect();
    let inlet = if inlet.is_empty() {
        "the inlet".to_owned()
    } else {
        say::list(&inlet, "and")
    };
    let clear = if has(seen, ThingKind::Strainer) {
        "clear the strainer, then look at the impeller"
    } else {
        "look at the impeller"
    };
    format!(
        "Stop as soon as she is safe: mostly weed or a bag on the intake. Shut {inlet}, {clear}, open {inlet}, start."
    )
}

fn oil(seen: &Seen) -> String {
    let gearbox = if has(seen, ThingKind::OilCooler) {
        " Milky in the gearbox: do not engage."
    } else {
        ""
    };
    format!("Engine off.{gearbox} Milky in the engine: do not run it.")
}

/// Valves at the hull by which water comes to what runs now.
fn open_valves(seen: &Seen) -> Vec<String> {
    seen.valves
        .iter()
        .filter(|valve| valve.hull && !valve.shut_now && !valve.loses.is_empty())
        .map(|valve| valve.title.clone())
        .collect()
}

fn burst(seen: &Seen) -> String {
    let valves = open_valves(seen);
    let shut = if valves.is_empty() {
        String::new()
    } else {
        format!(" Shut {}.", say::list(&valves, "and"))
    };
    format!(
        "Engine off.{shut} Keep clear of the jet. Cold: tape, or a sleeve of hose and two clips."
    )
}

fn climbing(seen: &Seen) -> String {
    let idle = match (seen.exhaust, seen.cooling) {
        (Exhaust::Wet, _) => {
            "Water at the exhaust? No: stop. Yes: idle, out of gear, keep it turning."
        }
        (_, Cooling::Keel | Cooling::Both) => "Idle, keep it turning; slow ahead beats neutral.",
        (_, Cooling::Exchanger | Cooling::Unknown) => "Idle, out of gear, keep it turning.",
    };
    format!("{idle} Look at belt, hoses, bilge. Still climbing: stop.")
}

fn falling(seen: &Seen) -> String {
    let outward = match limits::leaks(seen.leaks) {
        Some((true, false)) => " No drip inside: it leaves at the hull.",
        Some((true, true)) => " No drip inside: it leaves at the hull, or the sea comes in there.",
        _ if *seen.exhaust == Exhaust::Wet => {
            " No drip inside, sweet exhaust: it leaves by the exchanger."
        }
        _ => "",
    };
    format!("Half power.{outward} Cold: nip a weeping clip once, top up.")
}

fn rising(seen: &Seen) -> String {
    let calorifier: Vec<String> = seen
        .facts
        .things
        .iter()
        .enumerate()
        .filter(|(at, own)| {
            own.is(ThingKind::Calorifier) && seen.plan.any(Site::Thing(*at), &seen.plan.on_loop)
        })
        .map(|(_, own)| own.key().to_owned())
        .collect();
    let mut acts = vec!["Hoses hard within a minute from cold: gas, low load.".to_owned()];
    let inward = matches!(limits::leaks(seen.leaks), Some((_, true)));
    if seen.cooling == Cooling::Exchanger || seen.cooling == Cooling::Both || inward {
        acts.push("Salt: the sea comes in; when stopped, shut the valve at the hull.".into());
    }
    if !calorifier.is_empty() {
        acts.push(format!(
            "No salt: tap water from {}. Shut its coolant valves, tap pump off, nobody drinks.",
            say::list(&calorifier, "and")
        ));
    }
    acts.join(" ")
}
