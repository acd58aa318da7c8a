//! Rules of thumb for the outside area of a keel cooler or skin tank by installed power.
//!
//! They lie four to one apart, because they hide paint, fouling, speed and how much of the power is used. They
//! cross-check a reckoned cooler; they don't replace it.

use quantity::{Area, Power, Quantity};
use serde::Deserialize;

use crate::source::{Limits, SourceRef, Sourced, Unknown};
use crate::table::{Table, data};

/// What the cooler is made of.
/// Unit: none. Range: those below. Source: the trade's words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum CoolerMetal {
    /// Painted steel.
    Steel,
    /// Painted aluminium.
    Aluminium,
}

/// Where the boat works hardest.
/// Unit: none. Range: those below. Source: the sources of the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
pub enum Duty {
    /// Lying still: a generating set, or charging at anchor.
    #[serde(rename = "stationary")]
    Stationary,
    /// Slow: towing.
    #[serde(rename = "slow")]
    Slow,
    /// Running free, under 8 knots.
    #[serde(rename = "free-under-8-kn")]
    FreeUnder8Knots,
    /// Running free, over 8 knots.
    #[serde(rename = "free-over-8-kn")]
    FreeOver8Knots,
    /// On canals, where seldom a third of the power is used.
    #[serde(rename = "canal")]
    Canal,
}

impl Duty {
    /// All of them. Unit: none. Range: all. Source: this crate.
    pub const ALL: [Self; 5] = [
        Self::Stationary,
        Self::Slow,
        Self::FreeUnder8Knots,
        Self::FreeOver8Knots,
        Self::Canal,
    ];

    /// In words, for a reader. Unit: none. Range: text. Source: this crate.
    pub fn words(self) -> &'static str {
        match self {
            Self::Stationary => "lying still",
            Self::Slow => "slow, towing",
            Self::FreeUnder8Knots => "running free under 8 kn",
            Self::FreeOver8Knots => "running free over 8 kn",
            Self::Canal => "on canals",
        }
    }
}

struct Rule {
    metal: CoolerMetal,
    duty: Duty,
    square_metres_per_kw: f64,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawRule {
    metal: CoolerMetal,
    duty: Duty,
    area: f64,
    source: Option<String>,
}

data!(static RULES: Rule = "cooler-areas.toml", RawRule, |table, raw| Rule {
    metal: raw.metal,
    duty: raw.duty,
    square_metres_per_kw: raw.area,
    source: table.source(raw.source.as_deref()),
});

impl Rule {
    fn for_power(&self, installed: Power) -> Area {
        // OK because a share of a power of this world is a finite area.
        Area::m2(self.square_metres_per_kw * installed.to_kw())
    }
}

fn powered(installed: Power) -> Result<(), Unknown> {
    (installed.si() > 0.0).then_some(()).ok_or_else(|| {
        Unknown::new(
            "a cooler is sized by the installed power, which must be over nothing",
            "the engine's rated power from its plate",
        )
    })
}

/// The area that a rule of thumb asks for. External pipe counts by its outside diameter, half-round and channel
/// by the outside face only.
///
/// # Errors
/// [`Unknown`] where no rule was found for the metal and the duty, or the power is not over 0.
///
/// Unit: m². Range: power over 0; steel for every duty, aluminium lying still and on canals. Source: the row's own.
pub fn area(metal: CoolerMetal, duty: Duty, installed: Power) -> Result<Sourced<Area>, Unknown> {
    powered(installed)?;
    let row = RULES
        .rows
        .iter()
        .find(|row| row.metal == metal && row.duty == duty);
    let row = row.ok_or_else(|| {
        Unknown::new(
            "no rule of thumb was found for that metal and duty",
            "the cooler reckoned by its heat, water and wall",
        )
    })?;
    Ok(Sourced {
        value: row.for_power(installed),
        source: row.source,
    })
}

/// The least and the most that any rule of thumb asks for in a metal, whatever the duty: how far they lie apart.
///
/// # Errors
/// [`Unknown`] where the power is not over 0.
///
/// Unit: m². Range: power over 0. Source: the rows of the table.
pub fn spread(metal: CoolerMetal, installed: Power) -> Result<Limits<Area>, Unknown> {
    powered(installed)?;
    let areas = || {
        let rows = RULES.rows.iter().filter(|row| row.metal == metal);
        rows.map(|row| row.for_power(installed))
    };
    // OK because a test asks for both metals.
    let (low, high) = areas().min().zip(areas().max()).expect("a metal has rows");
    Ok(Limits { low, high })
}

pub(crate) fn tables() -> Vec<&'static Table> {
    vec![&RULES.table]
}
