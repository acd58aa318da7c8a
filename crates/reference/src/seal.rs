//! What is put between threads and faces: washers, tape, sealant, and how much of each.

use quantity::{Length, NominalSize, Ratio};
use serde::Deserialize;

use crate::metal::Alloy;
use crate::source::{Limits, SourceRef, Sourced, Unknown};
use crate::table::{Table, data, limits, limits_mm, nominal};
use crate::thread::{Family, ThreadSize, constant};

/// Where a seal works.
/// Unit: none. Range: the two below. Source: this crate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum SealPlace {
    /// Between two flat faces.
    Face,
    /// In the thread.
    Thread,
}

/// One kind of seal.
/// Unit: none. Range: the rows of the file. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct Seal {
    /// Short name. Unit: none. Range: text. Source: this crate.
    pub id: String,
    /// Name for a reader. Unit: none. Range: text. Source: the trade's words.
    pub name: String,
    /// Where it works. Unit: none. Range: see [`SealPlace`]. Source: `source`.
    pub place: SealPlace,
    /// What to mind. Unit: none. Range: text. Source: `source`.
    pub says: String,
    /// Not for hot coolant. Unit: none. Range: yes or no. Source: `source`.
    pub cold_only: bool,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawSeal {
    id: String,
    name: String,
    by: SealPlace,
    says: String,
    #[serde(default)]
    cold_only: bool,
}

data!(static SEALS: Seal = "threads-seals.toml", RawSeal, |table, raw| Seal {
    id: raw.id,
    name: raw.name,
    place: raw.by,
    says: raw.says,
    cold_only: raw.cold_only,
    source: table.source(None),
});

/// Kinds of seal for a place. Unit: none. Range: the rows of the file. Source: common practice.
pub fn seals(place: SealPlace) -> Vec<&'static Seal> {
    SEALS.rows.iter().filter(|row| row.place == place).collect()
}

/// A flat copper washer for a thread.
/// Unit: m. Range: G 1/8 to 1 1/2, M10 to M48. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct Washer {
    /// Family of its thread. Unit: none. Range: G or metric. Source: `source`.
    pub family: Family,
    /// Size of its thread. Unit: mm or in. Range: G 1/8 to 1 1/2, M10 to M48. Source: `source`.
    pub size: NominalSize,
    /// Hole by name; the true one is a few tenths larger. Unit: m. Range: 10 to 48 mm. Source: `source`.
    pub hole: Limits<Length>,
    /// Outside. Unit: m. Range: 13.5 to 55 mm. Source: `source`.
    pub outside: Length,
    /// Thickness. Unit: m. Range: 1 to 2 mm. Source: `source`.
    pub thickness: Length,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

impl Washer {
    /// Width of its ring, by the largest hole. Unit: m. Range: 1.7 to 3.5 mm. Source: worked out from its sizes.
    pub fn seating(&self) -> Length {
        (self.outside - self.hole.high) / 2.0
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawWasher {
    family: Family,
    size: String,
    hole: [f64; 2],
    outside: f64,
    thickness: f64,
}

data!(static WASHERS: Washer = "threads-washers.toml", RawWasher, |table, raw| Washer {
    family: raw.family,
    size: nominal(table.file, &raw.size),
    hole: limits_mm(raw.hole),
    outside: Length::mm(raw.outside),
    thickness: Length::mm(raw.thickness),
    source: table.source(None),
});

/// All flat copper washers. Unit: m. Range: see [`Washer`]. Source: DIN 7603, from memory.
pub fn washers() -> &'static [Washer] {
    &WASHERS.rows
}

/// The flat copper washer of a parallel thread.
///
/// # Errors
/// [`Unknown`] for taper threads, which want none, and for sizes without a row.
///
/// Unit: m. Range: G 1/8 to 1 1/2, M10 to M48. Source: DIN 7603, from memory.
pub fn washer(thread: &ThreadSize) -> Result<&'static Washer, Unknown> {
    let fits = |row: &&Washer| row.family == thread.family && row.size == thread.size;
    WASHERS.rows.iter().find(fits).ok_or_else(|| {
        Unknown::new(
            format!("no flat washer is listed for {}", thread.designation()),
            "the outside diameter of the male thread and the width of the faces, by caliper",
        )
    })
}

fn length(what: &str) -> Sourced<Limits<Length>> {
    let row = constant(what);
    Sourced {
        value: limits_mm(row.value),
        source: row.source,
    }
}

fn turns(what: &str) -> Sourced<Limits<Ratio>> {
    let row = constant(what);
    Sourced {
        value: limits(row.value, Ratio::of),
        source: row.source,
    }
}

/// Hole that a bonded washer wants for a male thread. Unit: m. Range: 0.3 to 0.5 mm over the thread. Source: common practice.
pub fn bonded_washer_hole(male: Length) -> Sourced<Limits<Length>> {
    let Sourced { value, source } = length("bonded-clearance-mm");
    Sourced {
        value: Limits {
            low: male + value.low,
            high: male + value.high,
        },
        source,
    }
}

/// Least width of the flat faces on which a washer seals. Unit: m. Range: 2 mm. Source: common practice.
pub fn least_seating() -> Sourced<Length> {
    let Sourced { value, source } = length("least-seating-mm");
    Sourced {
        value: value.low,
        source,
    }
}

/// Turns past hand-tight of a taper thread. Unit: 1. Range: 1.5 to 3, fewer into cast aluminium. Source: common practice.
pub fn turns_past_hand_tight() -> Sourced<Limits<Ratio>> {
    turns("turns-past-hand-tight")
}

/// Share of a new anode at which it is renewed. Unit: 1. Range: half. Source: common practice.
pub fn anode_renew_at() -> Sourced<Ratio> {
    let Sourced { value, source } = turns("anode-renew-at");
    Sourced {
        value: value.low,
        source,
    }
}

/// Turns of tape that one source gives.
/// Unit: 1. Range: 2 to 8. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct TapeTurns {
    /// From this size. Unit: in. Range: 1/8 in and over. Source: `source`.
    pub from: NominalSize,
    /// Up to and with this size; any larger where none is said. Unit: in. Range: over `from`. Source: `source`.
    pub to: Option<NominalSize>,
    /// Turns round the thread. Unit: 1. Range: 2 to 8. Source: `source`.
    pub turns: Limits<Ratio>,
    /// For what. Unit: none. Range: text. Source: `source`.
    pub says: String,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawTape {
    from: String,
    to: Option<String>,
    turns: [f64; 2],
    says: String,
    source: Option<String>,
}

data!(static TAPE: TapeTurns = "threads-tape.toml", RawTape, |table, raw| TapeTurns {
    from: nominal(table.file, &raw.from),
    to: raw.to.map(|to| nominal(table.file, &to)),
    turns: limits(raw.turns, Ratio::of),
    says: raw.says,
    source: table.source(raw.source.as_deref()),
});

/// Turns of tape on a taper thread: the usual shop figure first, then what other sources give.
/// Unit: 1. Range: from 1/8 in; empty below. Source: common practice first; then each row's own.
pub fn tape_turns(size: NominalSize) -> Vec<&'static TapeTurns> {
    let holds = |row: &&TapeTurns| {
        row.from.by_length(size).is_le() && row.to.is_none_or(|to| size.by_length(to).is_le())
    };
    TAPE.rows.iter().filter(holds).collect()
}

/// Least engagement of a parallel thread in a boss.
///
/// # Errors
/// [`Unknown`] for metals other than aluminium, brass and steel.
///
/// Unit: m. Range: 0.6 to 1 diameter. Source: common practice.
pub fn least_engagement(boss: Alloy, diameter: Length) -> Result<Sourced<Length>, Unknown> {
    let what = match boss {
        Alloy::Aluminium => "engagement-aluminium",
        Alloy::Brass | Alloy::Dzr | Alloy::NavalBrass => "engagement-brass",
        Alloy::Steel => "engagement-steel",
        _ => {
            return Err(Unknown::new(
                "practice gives the engagement only in aluminium, brass and steel",
                "the fitting maker's engagement for that metal",
            ));
        }
    };
    let row = constant(what);
    Ok(Sourced {
        value: diameter * row.value[0],
        source: row.source,
    })
}

/// Engagement of a made-up taper thread: the hand-tight length and two to three turns.
///
/// # Errors
/// [`Unknown`] for parallel threads.
///
/// Unit: m. Range: R and NPT of 1/8 to 2 in. Source: common practice.
pub fn taper_engagement(thread: &ThreadSize) -> Result<Sourced<Limits<Length>>, Unknown> {
    let lengths = thread.taper_lengths.ok_or_else(|| {
        Unknown::new(
            format!("{} has no taper", thread.designation()),
            "the metal of the boss",
        )
    })?;
    let row = constant("taper-engagement-turns");
    let [low, high] = row
        .value
        .map(|turns| lengths.hand_tight + thread.pitch * turns);
    Ok(Sourced {
        value: Limits { low, high },
        source: row.source,
    })
}

pub(crate) fn tables() -> Vec<&'static Table> {
    vec![&SEALS.table, &WASHERS.table, &TAPE.table]
}
