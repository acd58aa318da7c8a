//! What to do first and by what is seen, in words that fit this boat. What is said here is common practice
//! without a source, and errs to the safe side: where no water moves the engine stops.

use boat::{Boat, HullKind, ThingKind};

use super::{CardFact, CardSign, CardValve, Cooling, Exhaust, limits};
use crate::say;
use crate::stages::circuit::input::Facts;
use crate::stages::circuit::plan::{Plan, Site};
use crate::stages::flow::HullRow;
use crate::stages::types::SaltFacts;
use crate::verdict::Words;

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
        Cooling::Keel | Cooling::Both => " or slow ahead",
        Cooling::Exchanger | Cooling::Unknown => "",
    };
    let stop = match exhaust {
        Exhaust::Wet => "No water at the exhaust, steam, belt gone, hose burst: stop.",
        Exhaust::Dry => "Steam, belt gone or hose burst: stop.",
        // A boat cooled at the hull alone has most likely a dry one, and is asked for no water there.
        Exhaust::Unknown(_) if cooling == Cooling::Keel => "Steam, belt gone or hose burst: stop.",
        Exhaust::Unknown(_) => {
            "No water at an exhaust that has it, steam, belt gone, hose burst: stop."
        }
    };
    vec![
        format!("{stop} Otherwise idle{slow}."),
        "Do not open the cap.".into(),
    ]
}

/// What is never done, each as it goes on after that word.
pub(super) fn never(seen: &Seen) -> Vec<String> {
    let mut never = vec![
        "a cap or hose off before the top hose is soft and cool: it scalds, and a cold header proves nothing".to_owned(),
        "cold water into a hot engine".into(),
        "a hand at the belt with the key in".into(),
    ];
    if seen.valves.iter().any(|valve| valve.hull) {
        never.push("a hose off the hull before its valve is shut and a plug to hand".into());
    }
    if *seen.exhaust == Exhaust::Wet {
        never.push(
            "running on with no water at the exhaust: its hose burns through in a minute".into(),
        );
    }
    never
}

/// What becomes of the boat, by the waters that she is used in and by whether she has sails.
pub(super) fn boat_first(boat: &Boat) -> String {
    let used = |word: &str| boat.about.uses.iter().any(|own| own.contains(word));
    let sails = matches!(
        boat.about.hull.given(),
        Some(HullKind::SailOneHull | HullKind::SailTwoHulls)
    );
    let first = match (used("inland") && !used("sea"), sails) {
        (true, _) => "clear of the fairway: bank, anchor or tow. Call early.",
        (false, true) => "sea room, sail, anchor or a tow. Call early.",
        (false, false) => "sea room, anchor or a tow. Call early.",
    };
    first.to_owned()
}

/// What to do by what is seen while she runs, the danger that runs fastest first. Short, for whoever reads it has no
/// time.
pub(super) fn signs(seen: &Seen) -> Vec<CardSign> {
    let mut signs: Vec<(&str, String)> = Vec::new();
    if *seen.exhaust == Exhaust::Wet {
        signs.push(("No water at the exhaust", no_water(seen)));
    }
    signs.push((
        "Steam",
        "engine off. All out. Hatch open a crack, no more. Wait.".into(),
    ));
    signs.push(("Belt gone", "engine off. Key out, fit the spare.".into()));
    signs.push(("Hose burst", burst(seen)));
    signs.push(("Needle climbing", climbing(seen)));
    signs.push((
        "Needle drops at once",
        "the coolant is gone. Engine off.".into(),
    ));
    signs.push((
        "Hot only at high power",
        "slow down to where it stands. Revs: ______".into(),
    ));
    told(signs)
}

/// What to do by what is found in the header, the oil and the coolant.
pub(super) fn finds(seen: &Seen) -> Vec<CardSign> {
    let mut finds: Vec<(&str, String)> = vec![
        ("Level falling", falling(seen)),
        ("Level rising", rising(seen)),
        ("Oil in the coolant", oil(seen)),
    ];
    if !matches!(seen.facts.salt, SaltFacts::Fresh) {
        finds.push((
            "Salt in the coolant",
            "needle steady, oil clean: home, flush in two days.".into(),
        ));
    }
    told(finds)
}

fn told(signs: Vec<(&str, String)>) -> Vec<CardSign> {
    signs
        .into_iter()
        .map(|(sign, act)| CardSign {
            sign: sign.to_owned(),
            act,
            still: None,
        })
        .collect()
}

/// Acts that stop the engine, whatever else they say.
const STOPS: [&str; 2] = ["engine off", "stop as soon"];

/// What the engine may still give with a sign: never the figure alone, for it holds of a boat with nothing wrong.
/// First what to do now, then the figure under its condition; `None` where the act stops her.
pub(super) fn still(sign: &CardSign, power: &CardFact) -> Option<Words> {
    let act = sign.act.to_lowercase();
    if STOPS.iter().any(|stops| act.contains(stops)) {
        return None;
    }
    let hot = sign.sign.contains("Needle") || sign.sign.contains("Hot");
    let now = if hot {
        "Now: throttle back to idle and watch the needle."
    } else {
        "Now: watch the needle; if it climbs, throttle back to idle."
    };
    Some(match power {
        CardFact::Known(known, _) => Words::of(|system| {
            format!(
                "{now} Only while everything is sound, and so not with this sign, she stands {}.",
                known.in_units(system)
            )
        }),
        CardFact::Unmeasured(_) => {
            Words::of(|_| format!("{now} What power she stands is not reckoned."))
        }
    })
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
        "clear the strainer, look at the impeller"
    } else {
        "look at the impeller"
    };
    format!("stop as soon as she is safe. Shut {inlet}, {clear}, open {inlet}, start.")
}

fn oil(seen: &Seen) -> String {
    if has(seen, ThingKind::OilCooler) {
        "engine off. Milky oil: run no engine, no gearbox.".into()
    } else {
        "engine off. Milky oil: do not run her.".into()
    }
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
        "engine off.{shut} Keep clear of the jet. Cold: tape, or a sleeve of hose and two clips."
    )
}

fn climbing(seen: &Seen) -> String {
    let idle = match (seen.exhaust, seen.cooling) {
        (Exhaust::Wet, _) => {
            "water at the exhaust? No: stop. Yes: idle, out of gear, keep it turning."
        }
        (_, Cooling::Keel | Cooling::Both) => "idle, keep it turning; slow ahead beats neutral.",
        (_, Cooling::Exchanger | Cooling::Unknown) => "idle, out of gear, keep it turning.",
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
    format!("half power.{outward} Cold: nip a weeping clip once, top up.")
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
    let mut acts = vec!["hoses hard soon from cold: gas, low load.".to_owned()];
    let inward = matches!(limits::leaks(seen.leaks), Some((_, true)));
    if seen.cooling == Cooling::Exchanger || seen.cooling == Cooling::Both || inward {
        acts.push("Salt: the sea comes in; when stopped, shut the valve at the hull.".into());
    }
    if !calorifier.is_empty() {
        let valves: Vec<String> = seen
            .valves
            .iter()
            .filter(|valve| !valve.hull && valve.loses.iter().any(|key| calorifier.contains(key)))
            .map(|valve| valve.title.clone())
            .collect();
        let calorifier = say::list(&calorifier, "and");
        acts.push(if valves.is_empty() {
            format!("No salt: tap water by {calorifier}, no valve: tap pump off, drink none.")
        } else {
            let valves = say::list(&valves, "and");
            format!("No salt: tap water by {calorifier}: shut {valves}, tap pump off, drink none.")
        });
    }
    acts.join(" ")
}
