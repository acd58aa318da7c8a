//! The card to get home by: what is known so far of one boat, as plain data.
//!
//! It says what to do first, which valve shuts what, where it is and which way, what the circuit can do,
//! and how one goes over to another loop. Nothing is guessed: what the file does not tell stands there as
//! unmeasured, with what to find out.

mod aboard;
mod limits;
mod other;
mod signs;
mod valves;

use boat::{Arranged, Boat, Carries, Key, RunEnd, ThingKind};

use crate::circuit;
use crate::flow::Flow;
use crate::loops;
use crate::shop::Order;
use crate::stages::circuit::input::Facts;
use crate::stages::circuit::plan::Plan;
use crate::verdict::{Grade, Settles, Words};

/// The arrangement as found: nothing of the order is done in it.
const BEFORE: &str = "before";
/// What the trade does without a source.
const PRACTICE: &str = "common practice, no source";

/// The card of one arrangement.
#[derive(Clone, Debug, PartialEq)]
pub struct Card {
    /// The arrangement; `None` for the file as it stands.
    pub arrangement: Option<Key>,
    /// What takes the heat away.
    pub cooling: Cooling,
    /// What becomes of the exhaust.
    pub exhaust: Exhaust,
    /// What to do before all else, the first line first.
    pub first: Vec<String>,
    /// What is never done, each as it goes on after that word. None is ever left out.
    pub never: Vec<String>,
    /// What becomes of the boat, before anybody looks at the engine.
    pub boat_first: String,
    /// What to do by what is seen while she runs.
    pub signs: Vec<CardSign>,
    /// What to do by what is found in the header, the oil and the coolant.
    pub finds: Vec<CardSign>,
    /// All that shuts, hull fittings first.
    pub valves: Vec<CardValve>,
    /// What the circuit can do, and where its limits are.
    pub limits: Vec<CardLimit>,
    /// Ways to go on without what gave out, in the order of the file.
    pub others: Vec<OtherLoop>,
    /// What the file says is aboard, less what lies ashore, and less what the refit takes where `refitted`.
    pub spares: Vec<String>,
    /// Whether what the order takes off the shelf is taken off `spares`.
    pub refitted: bool,
    /// Spares that this engine would want, and that the file does not say are aboard.
    pub spares_unsaid: Vec<String>,
}

/// What takes the heat of the loop away.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cooling {
    /// Pipes or tanks at the hull.
    Keel,
    /// A heat exchanger with raw water.
    Exchanger,
    /// Both.
    Both,
    /// The loop passes no cooler that the file tells of.
    Unknown,
}

impl Cooling {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Keel => "cooled at the hull",
            Self::Exchanger => "cooled by raw water in an exchanger",
            Self::Both => "cooled at the hull and by raw water in an exchanger",
            Self::Unknown => "no cooler on the loop",
        }
    }
}

/// What becomes of the exhaust.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Exhaust {
    /// Raw water is led into it.
    Wet,
    /// No raw water is aboard in one of her arrangements.
    Dry,
    /// The file does not tell.
    Unknown(Settles),
}

/// What to do when something is seen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CardSign {
    /// What is seen: `Needle climbing`.
    pub sign: String,
    /// What to do, in the order of doing.
    pub act: String,
    /// What the engine may still give, behind what to do first and with the condition under which it holds; `None`
    /// where the act stops her.
    pub still: Option<Words>,
}

/// Something known, or what would settle it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CardFact {
    /// Known, and from where: the instrument, `the file`, or that it is common practice.
    Known(Words, String),
    /// Not known yet.
    Unmeasured(Settles),
}

/// A valve, or a hull fitting without one.
#[derive(Clone, Debug, PartialEq)]
pub struct CardValve {
    /// `keel-fwd.valve`; of a hull fitting without a valve its own name.
    pub key: Key,
    /// For people: `keel-fwd`, `cal-out valve`.
    pub title: String,
    /// What it is: `ball valve`; `None` where no valve is written.
    pub kind: Option<String>,
    /// What is written on the runs that it stands in.
    pub marks: Vec<String>,
    /// Whether it is at the hull.
    pub hull: bool,
    /// Where it is, in the file's words.
    pub place: CardFact,
    /// Which way is shut.
    pub way: CardFact,
    /// Whether it is shut as the boat now runs.
    pub shut_now: bool,
    /// How it felt, as typed.
    pub feels: Option<String>,
    /// When it was last worked, as typed.
    pub worked: Option<String>,
    /// Seconds to get there and shut it.
    pub secs: Option<f64>,
    /// Whether it is another valve than the one that was found there, and nobody has tried it yet.
    pub untried: bool,
    /// Height of bilge water at which it can't be reached.
    pub drowned_at: Option<Words>,
    /// What it shuts, in one sentence.
    pub shuts: String,
    /// Others that have to be shut with it, so that what lies between is cut off.
    pub with: Vec<Key>,
    /// What then is cut off: the cooler outside the hull.
    pub cuts_off: Option<Key>,
    /// Things that get no more water when it is shut.
    pub loses: Vec<Key>,
    /// What that costs, in one sentence.
    pub costs: String,
}

/// A limit of the circuit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CardLimit {
    /// Of what: `alarm`, `cap`.
    pub what: String,
    /// The limit.
    pub is: CardFact,
    /// Whether it is said in a few words, so that several go on a line.
    pub brief: bool,
}

/// Another way to go on.
#[derive(Clone, Debug, PartialEq)]
pub struct OtherLoop {
    /// The arrangement.
    pub key: Key,
    /// When it was last run, in words.
    pub tried: String,
    /// How good that is.
    pub grade: Grade,
    /// What to do, in order.
    pub steps: Vec<String>,
    /// The hose that it takes and that is not on the boat as she runs now: `3 m hose 32 epdm`.
    pub wants: Vec<String>,
    /// What of that no length aboard gives.
    pub lacks: Vec<String>,
    /// The greatest steady power on it.
    pub power: CardFact,
}

/// The card of an arrangement, `None` for the file as it stands; `flow` and `order` are that arrangement's. With
/// an order the shelf is told as the refit leaves it, unless nothing is refitted: in the file as it stands, and as
/// found. `None` comes back where the file has no such arrangement.
pub fn card(
    boat: &Boat,
    arrangement: Option<&str>,
    flow: Option<&Flow>,
    order: Option<&Order>,
) -> Option<Card> {
    let arranged = boat.arranged(arrangement)?;
    let facts = loops::facts(boat, &arranged, arrangement);
    let plan = Plan::of(&facts);
    let cooling = cooling(&plan);
    let exhaust = exhaust(boat, &arranged);
    let valves = valves::of(&facts, boat);
    let order = order.filter(|order| {
        arrangement.is_some_and(|name| name != BEFORE)
            && order.arrangement.as_deref() == arrangement
    });
    let aboard = aboard::Aboard::of(boat, order);
    let listing = circuit(boat, arrangement)?.listing;
    let seen = signs::Seen {
        facts: &facts,
        plan: &plan,
        cooling,
        exhaust: &exhaust,
        valves: &valves,
        leaks: flow
            .map(|flow| flow.row.hull.as_slice())
            .unwrap_or_default(),
    };
    let power = limits::power(flow);
    let still = |signs: Vec<CardSign>| -> Vec<CardSign> {
        let told = |own: CardSign| CardSign {
            still: signs::still(&own, &power),
            ..own
        };
        signs.into_iter().map(told).collect()
    };
    Some(Card {
        arrangement: listing.arrangement,
        first: signs::first(cooling, &exhaust),
        never: signs::never(&seen),
        boat_first: signs::boat_first(&arranged.boat),
        signs: still(signs::signs(&seen)),
        finds: still(signs::finds(&seen)),
        limits: limits::of(&arranged, flow),
        others: other::of(boat, &arranged, &facts, arrangement, &aboard),
        spares: aboard.spares(),
        refitted: order.is_some(),
        spares_unsaid: aboard::unsaid(&arranged.boat),
        cooling,
        exhaust,
        valves,
    })
}

/// What takes the heat away, by the coolers on the loop.
fn cooling(plan: &Plan) -> Cooling {
    let on = |kinds: &[ThingKind]| {
        (0..plan.nodes.len()).any(|node| {
            plan.on_loop[node] && plan.kind(node).is_some_and(|kind| kinds.contains(&kind))
        })
    };
    let hull = on(&[ThingKind::KeelPipes, ThingKind::SkinTank]);
    // An exchanger may be cast into the engine.
    let raw = on(&[ThingKind::Exchanger])
        || (0..plan.nodes.len())
            .any(|node| plan.on_loop[node] && plan.is_station(node, "exchanger"));
    match (hull, raw) {
        (true, false) => Cooling::Keel,
        (false, true) => Cooling::Exchanger,
        (true, true) => Cooling::Both,
        (false, false) => Cooling::Unknown,
    }
}

/// Whether raw water that comes to a thing goes into the exhaust.
fn sprays(thing: &boat::Thing) -> bool {
    thing.engine.is_some() || thing.kind.given() == Some(&ThingKind::InjectionElbow)
}

/// Whether any run of a boat carries raw water; with `to_exhaust` only one that ends on an engine or its
/// injection elbow.
fn raw_water(boat: &Boat, to_exhaust: bool) -> bool {
    boat.runs
        .iter()
        .filter(|run| run.carries == Carries::RawWater)
        .any(|run| {
            let exhaust = matches!(&run.to, RunEnd::Thing { thing, .. }
                if boat.thing(thing).is_some_and(sprays));
            exhaust || !to_exhaust
        })
}

/// What becomes of the exhaust. The engine is the same in all arrangements: where raw water is led to it in
/// one of them it is wet, and where she runs without raw water in one of them it is dry.
fn exhaust(boat: &Boat, arranged: &Arranged) -> Exhaust {
    let mut all: Vec<Arranged> = vec![arranged.clone()];
    all.extend(boat.arranged(None));
    all.extend(
        boat.arrangements
            .iter()
            .filter_map(|step| boat.arranged(Some(&step.key))),
    );
    if all.iter().any(|one| raw_water(&one.boat, true)) {
        return Exhaust::Wet;
    }
    let pumped = |boat: &Boat| {
        boat.things
            .iter()
            .any(|thing| thing.kind.given() == Some(&ThingKind::RawWaterPump))
    };
    let cooled_dry = |boat: &Boat| {
        let hull = boat.things.iter().any(|thing| {
            matches!(
                thing.kind.given(),
                Some(ThingKind::KeelPipes | ThingKind::SkinTank)
            )
        });
        hull && !pumped(boat) && !raw_water(boat, false)
    };
    if all.iter().any(|one| cooled_dry(&one.boat)) {
        return Exhaust::Dry;
    }
    Exhaust::Unknown(Settles {
        place: "runs".into(),
        how: "Look whether water leaves with the exhaust, and write the hose that leads it there as a run that carries raw water and ends on the engine.".into(),
    })
}

/// A thing's name with its kind where the name does not say it: `gearbox (oil cooler)`.
fn named(facts: &Facts, key: &str) -> String {
    let kind = facts
        .thing(key)
        .and_then(|at| facts.things[at].kind())
        .map(ThingKind::word);
    match kind {
        Some(kind) if !kind.contains(key) && !key.contains(kind) => format!("{key} ({kind})"),
        _ => key.to_owned(),
    }
}
