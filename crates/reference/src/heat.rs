//! Heat that an engine and what hangs on it give to the coolant, where no sheet of the engine says so.
//!
//! All of it is wide. The heat rejection sheet of the engine goes before every figure here.

use quantity::{Power, Quantity, Ratio, RotationalSpeed};
use serde::Deserialize;

use crate::range::within;
use crate::source::{Limits, SourceRef, Sourced, Unknown};
use crate::table::{Table, data, limits};

/// What a share is of.
/// Unit: none. Range: those below. Source: the trade's words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ShareOf {
    /// Heat to the coolant over brake power, of an engine of which nothing is known.
    Coolant,
    /// The same, small, naturally aspirated or older.
    CoolantOlder,
    /// The same, modern with turbocharger.
    CoolantTurbo,
    /// What a wet manifold or turbine housing adds, over brake power.
    WetManifold,
    /// What a charge air cooler on the circuit adds, over brake power.
    ChargeAir,
    /// Heat to the coolant while idling over that at full load.
    Idle,
    /// Loss of a gearbox over the power through it.
    Gearbox,
    /// Electrical power of an alternator over the shaft power that it takes.
    Alternator,
}

impl ShareOf {
    /// All of them. Unit: none. Range: all. Source: this crate.
    pub const ALL: [Self; 8] = [
        Self::Coolant,
        Self::CoolantOlder,
        Self::CoolantTurbo,
        Self::WetManifold,
        Self::ChargeAir,
        Self::Idle,
        Self::Gearbox,
        Self::Alternator,
    ];
}

struct Share {
    of: ShareOf,
    share: Limits<Ratio>,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawShare {
    of: ShareOf,
    share: [f64; 2],
}

data!(static SHARES: Share = "heat-shares.toml", RawShare, |table, raw| Share {
    of: raw.of,
    share: limits(raw.share, Ratio::of),
    source: table.source(None),
});

/// A share. Unit: 1. Range: 0.02 to 1. Source: common practice.
pub fn share(of: ShareOf) -> Sourced<Limits<Ratio>> {
    let row = SHARES.rows.iter().find(|row| row.of == of);
    // OK because a test asks for every share.
    let row = row.unwrap_or_else(|| panic!("heat-shares.toml has no {of:?}"));
    Sourced {
        value: row.share,
        source: row.source,
    }
}

/// Heat that goes with no rated power.
/// Unit: none. Range: those below. Source: the trade's words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
pub enum HeatOf {
    /// An idling engine of 30 kW, to its coolant.
    #[serde(rename = "idling-30-kw")]
    Idling30Kw,
    /// The coil of a calorifier full of cold water; near nothing once it is hot, so never to be counted as a cooler.
    #[serde(rename = "calorifier-cold")]
    CalorifierCold,
}

impl HeatOf {
    /// Both. Unit: none. Range: two. Source: this crate.
    pub const ALL: [Self; 2] = [Self::Idling30Kw, Self::CalorifierCold];
}

struct Heat {
    of: HeatOf,
    power: Limits<Power>,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawHeat {
    of: HeatOf,
    kw: [f64; 2],
}

data!(static HEATS: Heat = "heat-powers.toml", RawHeat, |table, raw| Heat {
    of: raw.of,
    power: limits(raw.kw, Power::kw),
    source: table.source(None),
});

/// Such heat. Unit: W. Range: 2 to 6 kW. Source: common practice.
pub fn heat(of: HeatOf) -> Sourced<Limits<Power>> {
    let row = HEATS.rows.iter().find(|row| row.of == of);
    // OK because a test asks for both.
    let row = row.unwrap_or_else(|| panic!("heat-powers.toml has no {of:?}"));
    Sourced {
        value: row.power,
        source: row.source,
    }
}

/// Where the heat of the fuel goes at full power.
/// Unit: 1. Range: 0.03 to 0.38. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct Balance {
    /// Short name. Unit: none. Range: text. Source: this crate.
    pub id: String,
    /// To the shaft. Unit: 1. Range: 0.30 to 0.38. Source: `source`.
    pub brake: Limits<Ratio>,
    /// To the coolant. Unit: 1. Range: 0.16 to 0.35. Source: `source`.
    pub coolant: Limits<Ratio>,
    /// Out with the exhaust. Unit: 1. Range: 0.22 to 0.35. Source: `source`.
    pub exhaust: Limits<Ratio>,
    /// To the engine room and the oil. Unit: 1. Range: 0.03 to 0.10. Source: `source`.
    pub rest: Limits<Ratio>,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

impl Balance {
    /// Heat to the coolant over brake power, each at its end.
    /// Unit: 1. Range: 0.42 to 1.03. Source: quotient of the balance's shares.
    pub fn coolant_over_brake(&self) -> Limits<Ratio> {
        Limits {
            low: Ratio::of(self.coolant.low / self.brake.high),
            high: Ratio::of(self.coolant.high / self.brake.low),
        }
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawBalance {
    id: String,
    brake: [f64; 2],
    coolant: [f64; 2],
    exhaust: [f64; 2],
    rest: [f64; 2],
    source: Option<String>,
}

data!(static BALANCES: Balance = "heat-balance.toml", RawBalance, |table, raw| Balance {
    id: raw.id,
    brake: limits(raw.brake, Ratio::percent),
    coolant: limits(raw.coolant, Ratio::percent),
    exhaust: limits(raw.exhaust, Ratio::percent),
    rest: limits(raw.rest, Ratio::percent),
    source: table.source(raw.source.as_deref()),
});

/// The balances. Unit: 1. Range: two rows. Source: Heywood 1988, table 12.1, from memory; a trade magazine.
pub fn balances() -> &'static [Balance] {
    &BALANCES.rows
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Law {
    PartLoad,
    Propeller,
}

struct Exponent {
    law: Law,
    exponent: Limits<Ratio>,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawLaw {
    law: Law,
    exponent: [f64; 2],
    source: Option<String>,
}

data!(static LAWS: Exponent = "heat-laws.toml", RawLaw, |table, raw| Exponent {
    law: raw.law,
    exponent: limits(raw.exponent, Ratio::of),
    source: table.source(raw.source.as_deref()),
});

fn exponent(law: Law) -> &'static Exponent {
    let row = LAWS.rows.iter().find(|row| row.law == law);
    // OK because a test asks for both laws.
    row.unwrap_or_else(|| panic!("heat-laws.toml has no {law:?}"))
}

/// Heat to the coolant at part load over that at full load: it falls more slowly than the power, and an engine
/// that idles still gives its idling share.
///
/// # Errors
/// [`Unknown`] for loads outside 0 to 1.
///
/// Unit: 1. Range: load 0 to 1. Source: common practice: the load to the power of 0.7 to 0.8, not below the share while idling.
pub fn part_load(load: Ratio) -> Result<Sourced<Limits<Ratio>>, Unknown> {
    let part = load.to_f64();
    within(
        "the load over full load",
        part,
        0.0..=1.0,
        "the power taken, by speed and propeller or by what is driven",
    )?;
    let law = exponent(Law::PartLoad);
    let idle = share(ShareOf::Idle).value;
    let of =
        |exponent: Ratio, idle: Ratio| Ratio::of(part.powf(exponent.to_f64()).max(idle.to_f64()));
    Ok(Sourced {
        // The larger exponent gives the smaller heat.
        value: Limits {
            low: of(law.exponent.high, idle.low),
            high: of(law.exponent.low, idle.high),
        },
        source: law.source,
    })
}

/// Power that a propeller takes over that at rated speed.
///
/// # Errors
/// [`Unknown`] where the rated speed is not over 0 or the speed is below 0.
///
/// Unit: 1. Range: speeds of 0 and over. Source: common practice: the cube of the speed, for displacement hulls.
pub fn propeller_load(
    speed: RotationalSpeed,
    rated: RotationalSpeed,
) -> Result<Sourced<Ratio>, Unknown> {
    let ratio = speed / rated;
    if !(rated.si() > 0.0 && ratio >= 0.0 && ratio.is_finite()) {
        return Err(Unknown::new(
            "the speed of the shaft and its rated speed must be known",
            "both speeds in turns a minute",
        ));
    }
    let law = exponent(Law::Propeller);
    Ok(Sourced {
        value: Ratio::of(ratio.powf(law.exponent.low.to_f64())),
        source: law.source,
    })
}

/// Heat of an alternator's load on the engine: the shaft power that its output takes.
/// Unit: W. Range: outputs of 0 and over. Source: common practice, by [`ShareOf::Alternator`].
pub fn alternator_takes(output: Power) -> Result<Sourced<Power>, Unknown> {
    let efficiency = share(ShareOf::Alternator);
    let taken = Power::from_si(output.si() / efficiency.value.low.to_f64());
    let taken = taken.filter(|_| output.si() >= 0.0);
    let value = taken.ok_or_else(|| {
        Unknown::new(
            "the output of an alternator is not below nothing",
            "its current and voltage",
        )
    })?;
    Ok(Sourced {
        value,
        source: efficiency.source,
    })
}

pub(crate) fn tables() -> Vec<&'static Table> {
    vec![&SHARES.table, &HEATS.table, &BALANCES.table, &LAWS.table]
}
