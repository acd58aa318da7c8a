//! What the hand does at every joint, with its source: where a clip sits, how its kind is closed,
//! how an end is softened, and how tight the sources say.

use quantity::{Length, Quantity, System, show, show_range};
use reference::clip::{ClipKind, clip_fact, ear_closing_share};
use reference::hose::softening;
use reference::insertion::{behind_bead, between_clips, from_hose_end};
use reference::torque::{ClipForm, TorqueRow, TorqueUse, torque_rows};

use crate::say;
use crate::verdict::Words;

/// A sentence with its source.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cited {
    /// What to do, or what holds.
    pub says: Words,
    /// Whence, in one line.
    pub source: String,
}

/// How one kind of clip is closed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Closing {
    /// The kind by name: `single-ear clip`.
    pub kind: String,
    /// In a few words, for a list: `close the ear with pincers`.
    pub short: String,
    /// All that is to be minded, in order.
    pub steps: Vec<Cited>,
    /// What each source gives to tighten it to; empty for a clip without a screw.
    pub torques: Vec<TorqueLine>,
}

/// A torque of one source.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TorqueLine {
    /// For which band and hose end.
    pub words: String,
    /// The torque.
    pub torque: Words,
    /// From where the clip breaks, where the source says.
    pub breaks_from: Option<Words>,
    /// Whence.
    pub source: String,
}

/// What holds for every joint.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Craft {
    /// Where the clip sits.
    pub place: Vec<Cited>,
    /// How a tight end is made to go on.
    pub soften: Vec<Cited>,
    /// Each kind of clip.
    pub closing: Vec<Closing>,
}

/// All of it.
pub fn craft() -> Craft {
    Craft {
        place: place(),
        soften: soften(),
        closing: ClipKind::ALL.into_iter().map(closing).collect(),
    }
}

fn fact(id: &str) -> Option<Cited> {
    clip_fact(id).map(|fact| Cited {
        says: format!("{}.", say::capital(&fact.says)).as_str().into(),
        source: fact.source.cite(),
    })
}

fn place() -> Vec<Cited> {
    let short = |length: Length, system: System| say::whole_mm(length.si(), system);
    let (end, behind, between) = (from_hose_end(), behind_bead(), between_clips());
    let mut all = vec![
        Cited {
            says: Words::of(|system| {
                format!(
                    "Leave {} or more of hose outside the band.",
                    short(end.value, system)
                )
            }),
            source: end.source.cite(),
        },
        Cited {
            says: Words::of(|system| {
                let gap = show_range(behind.value.low, behind.value.high, system);
                format!("Set the band {gap} clear of the bead, on the straight metal.")
            }),
            source: behind.source.cite(),
        },
        Cited {
            says: Words::of(|system| {
                format!("Keep two bands {} apart.", short(between.value, system))
            }),
            source: between.source.cite(),
        },
    ];
    all.extend(
        ["behind-the-bead", "two-clips-turned", "packs-differ"]
            .map(fact)
            .into_iter()
            .flatten(),
    );
    all
}

fn soften() -> Vec<Cited> {
    let row = softening();
    let minutes = |system: System| {
        let (low, high) = (row.time.low, row.time.high);
        show_range(low, high, system)
    };
    let water = |system: System| show_range(row.water.low, row.water.high, system);
    vec![
        Cited {
            says: Words::of(|system| {
                format!(
                    "Stand the end in water of {} for {}; wet it with {}.",
                    water(system),
                    minutes(system),
                    say::list(&row.lubricants, "or")
                )
            }),
            source: row.source.cite(),
        },
        Cited {
            says: format!("Never {}.", say::list(&row.never, "and"))
                .as_str()
                .into(),
            source: row.never_source.cite(),
        },
    ]
}

/// How a kind is closed, in a few words.
pub(crate) fn in_short(kind: ClipKind) -> &'static str {
    match kind {
        ClipKind::WormDrive | ClipKind::TBolt => "tighten the screw",
        ClipKind::SingleEar => "close the ear with pincers, once",
        ClipKind::TwoEar => "close both ears with pincers, once",
        ClipKind::SpringBand => "open it with pliers, let it close by itself",
    }
}

fn closing(kind: ClipKind) -> Closing {
    let own = |says: &str| Cited {
        says: says.into(),
        source: "common practice, no source".to_owned(),
    };
    let steps = match kind {
        ClipKind::WormDrive | ClipKind::TBolt => {
            let mut steps = vec![own(
                "Turn the screw so that a driver reaches it when all is back in place.",
            )];
            steps.extend(["bedding", "heat-set"].map(fact).into_iter().flatten());
            steps
        }
        ClipKind::SingleEar | ClipKind::TwoEar => {
            let share = ear_closing_share();
            let closed = say::short_percent(share.value.low.to_f64());
            let mut steps = vec![Cited {
                says: format!(
                    "Close the ear by at least {closed} of its width with pincers held square on it."
                )
                .as_str()
                .into(),
                source: share.source.cite(),
            }];
            steps.extend(
                ["ear-block", "ear-once", "no-room"]
                    .map(fact)
                    .into_iter()
                    .flatten(),
            );
            steps
        }
        ClipKind::SpringBand => {
            let mut steps = vec![own(
                "Open it with band pliers, set it behind the bead and let it close; nothing is tightened.",
            )];
            steps.extend(fact("spring-scope"));
            steps
        }
    };
    let own_row = |row: &&TorqueRow| {
        row.kind == kind && row.used_as == TorqueUse::Tighten && row.form == ClipForm::Plain
    };
    let torques = torque_rows().iter().filter(own_row).map(|row| TorqueLine {
        words: row.words.clone(),
        torque: Words::of(|system| show_range(row.torque.low, row.torque.high, system)),
        breaks_from: row
            .breaks_from
            .map(|breaks| Words::of(|system| show(breaks, None, system))),
        source: row.source.cite(),
    });
    Closing {
        kind: kind.name().to_owned(),
        short: in_short(kind).to_owned(),
        steps,
        torques: torques.collect(),
    }
}
