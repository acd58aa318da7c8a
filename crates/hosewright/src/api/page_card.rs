//! The card to get home by, as it is sent.

use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

use super::{Grade, Settles, Text, Where};

/// What is known so far of one boat, to get home by.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct Card {
    /// The number of the file's change that it shows.
    pub number: u64,
    /// The arrangement; null for the file as it stands.
    pub arrangement: Option<String>,
    /// What takes the heat away, in words.
    pub cooling: String,
    /// What becomes of the exhaust: `wet`, `dry` or `unknown`.
    pub exhaust: String,
    /// What would tell, where it is not known.
    pub exhaust_settles: Option<Settles>,
    /// What to do before all else, the first line first.
    pub first: Vec<String>,
    /// What to do by what is seen.
    pub signs: Vec<CardSign>,
    /// Cautions, which are never left out.
    pub cautions: Vec<String>,
    /// All that shuts, hull fittings first.
    pub valves: Vec<CardValve>,
    /// What the circuit can do, and where its limits are.
    pub limits: Vec<CardLimit>,
    /// Ways to go on without what gave out.
    pub others: Vec<CardOther>,
    /// What the file says is aboard.
    pub spares: Vec<String>,
    /// Whether what the order takes off the shelf is taken off `spares`.
    pub refitted: bool,
    /// Spares that this engine would want and the file does not name.
    pub spares_unsaid: Vec<String>,
}

/// What to do when something is seen.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub struct CardSign {
    pub sign: String,
    pub act: String,
    /// What the engine may still give, behind what to do first; null where the act stops her.
    pub still: Option<Text>,
}

/// Something known, or what would settle it: one of the two is null.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct CardFact {
    /// What is known.
    pub known: Option<Text>,
    /// Where it comes from.
    pub from: Option<String>,
    /// What to find out.
    pub settles: Option<Settles>,
}

/// A valve, or a hull fitting without one.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct CardValve {
    /// `keel-fwd.valve`.
    pub key: String,
    /// For people.
    pub title: String,
    /// What it is; null where no valve is written.
    pub kind: Option<String>,
    /// What is written on the runs that it stands in.
    pub marks: Vec<String>,
    /// Whether it is at the hull.
    pub hull: bool,
    /// Where it is, in the owner's words.
    pub place: CardFact,
    /// Which way is shut.
    pub way: CardFact,
    /// Whether it is shut as the boat now runs.
    pub shut_now: bool,
    /// How it felt.
    pub feels: Option<String>,
    /// When it was last worked.
    pub worked: Option<String>,
    /// Seconds to get there and shut it.
    pub secs: Option<f64>,
    /// Whether it is another than the one that was found there, and nobody has tried it yet.
    pub untried: bool,
    /// Height of bilge water at which it can't be reached.
    pub drowned_at: Option<Text>,
    /// What it shuts.
    pub shuts: String,
    /// Others that have to be shut with it.
    pub with: Vec<String>,
    /// What then is cut off.
    pub cuts_off: Option<String>,
    /// Things that get no more water.
    pub loses: Vec<String>,
    /// What that costs.
    pub costs: String,
}

/// A limit of the circuit.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub struct CardLimit {
    pub what: String,
    pub is: CardFact,
}

/// Another way to go on.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct CardOther {
    /// The arrangement.
    pub key: String,
    /// When it was last run, in words.
    pub tried: String,
    /// How good that is.
    pub grade: Grade,
    /// What to do, in order.
    pub steps: Vec<String>,
    /// The hose that it takes and that is not on the boat as she runs now.
    pub wants: Vec<String>,
    /// What of that no length aboard gives.
    pub lacks: Vec<String>,
    /// The greatest steady power on it.
    pub power: CardFact,
}

impl CardFact {
    fn of(fact: reckon::CardFact, chart: &dyn Where) -> Self {
        match fact {
            reckon::CardFact::Known(known, from) => Self {
                known: Some(known.into()),
                from: Some(from),
                settles: None,
            },
            reckon::CardFact::Unmeasured(settles) => Self {
                known: None,
                from: None,
                settles: Some(sent(settles, chart)),
            },
        }
    }
}

fn sent(settles: reckon::Settles, chart: &dyn Where) -> Settles {
    let reckon::Settles { place, how } = settles;
    Settles {
        place: chart.place(place),
        how,
    }
}

impl CardValve {
    fn of(valve: reckon::CardValve, chart: &dyn Where) -> Self {
        let reckon::CardValve {
            key,
            title,
            kind,
            marks,
            hull,
            place,
            way,
            shut_now,
            feels,
            worked,
            secs,
            untried,
            drowned_at,
            shuts,
            with,
            cuts_off,
            loses,
            costs,
        } = valve;
        Self {
            key,
            title,
            kind,
            marks,
            hull,
            place: CardFact::of(place, chart),
            way: CardFact::of(way, chart),
            shut_now,
            feels,
            worked,
            secs,
            untried,
            drowned_at: drowned_at.map(Text::from),
            shuts,
            with,
            cuts_off,
            loses,
            costs,
        }
    }
}

impl Card {
    /// As it is sent.
    pub fn of(number: u64, card: reckon::Card, chart: &dyn Where) -> Self {
        let reckon::Card {
            arrangement,
            cooling,
            exhaust,
            first,
            never,
            boat_first,
            signs,
            finds,
            valves,
            limits,
            others,
            spares,
            refitted,
            spares_unsaid,
        } = card;
        let (exhaust, exhaust_settles) = match exhaust {
            reckon::Exhaust::Wet => ("wet", None),
            reckon::Exhaust::Dry => ("dry", None),
            reckon::Exhaust::Unknown(settles) => ("unknown", Some(sent(settles, chart))),
        };
        let sign = |reckon::CardSign { sign, act, still }: reckon::CardSign| CardSign {
            sign,
            act,
            still: still.map(Text::from),
        };
        let limit = |reckon::CardLimit { what, is, brief: _ }: reckon::CardLimit| CardLimit {
            what,
            is: CardFact::of(is, chart),
        };
        let other = |other: reckon::OtherLoop| {
            let reckon::OtherLoop {
                key,
                tried,
                grade,
                steps,
                wants,
                lacks,
                power,
            } = other;
            CardOther {
                key,
                tried,
                grade: grade.into(),
                steps,
                wants,
                lacks,
                power: CardFact::of(power, chart),
            }
        };
        Self {
            number,
            arrangement,
            cooling: cooling.words().to_owned(),
            exhaust: exhaust.to_owned(),
            exhaust_settles,
            first,
            signs: signs.into_iter().chain(finds).map(sign).collect(),
            cautions: [
                (!never.is_empty()).then(|| format!("Never: {}.", never.join("; "))),
                Some(format!("The boat first: {boat_first}")),
                // As the card on paper has it under its times.
                Some(
                    "Times: nothing cooling, water moving. Standing still: none, stop.".to_owned(),
                ),
            ]
            .into_iter()
            .flatten()
            .collect(),
            valves: valves
                .into_iter()
                .map(|valve| CardValve::of(valve, chart))
                .collect(),
            limits: limits.into_iter().map(limit).collect(),
            others: others.into_iter().map(other).collect(),
            spares,
            refitted,
            spares_unsaid,
        }
    }
}
