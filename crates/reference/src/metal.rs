//! Metals: their families, what salt water does to them, and how far apart two of them are.

use quantity::Voltage;
use serde::Deserialize;

use crate::source::{Fact, Limits, RawFact, SourceRef, Unknown, fact};
use crate::table::{Held, Table, data, limits};

/// What a part is made of.
/// Unit: none. Range: the words below. Source: the trade's words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs)] // Each is named for its metal; `Metal::name` says it in full.
pub enum Alloy {
    CastIron,
    Steel,
    GalvanisedSteel,
    #[serde(rename = "stainless-304")]
    Stainless304,
    #[serde(rename = "stainless-316")]
    Stainless316,
    StainlessUnknown,
    Aluminium,
    Copper,
    CuproNickel,
    /// Common brass with over some 15 % zinc.
    Brass,
    BrassUnknown,
    /// Dezincification-resistant brass.
    Dzr,
    NavalBrass,
    AdmiraltyBrass,
    AluminiumBrass,
    Gunmetal,
    /// Bronze of unknown grade.
    Bronze,
    SiliconBronze,
    AluminiumBronze,
    /// A brass in spite of its name.
    ManganeseBronze,
    Titanium,
    NickelCopper,
    Zinc,
    Plastic,
}

impl Alloy {
    /// All of them. Unit: none. Range: 24. Source: this crate.
    pub const ALL: [Self; 24] = [
        Self::CastIron,
        Self::Steel,
        Self::GalvanisedSteel,
        Self::Stainless304,
        Self::Stainless316,
        Self::StainlessUnknown,
        Self::Aluminium,
        Self::Copper,
        Self::CuproNickel,
        Self::Brass,
        Self::BrassUnknown,
        Self::Dzr,
        Self::NavalBrass,
        Self::AdmiraltyBrass,
        Self::AluminiumBrass,
        Self::Gunmetal,
        Self::Bronze,
        Self::SiliconBronze,
        Self::AluminiumBronze,
        Self::ManganeseBronze,
        Self::Titanium,
        Self::NickelCopper,
        Self::Zinc,
        Self::Plastic,
    ];
}

/// Families of metal.
/// Unit: none. Range: the words below. Source: the trade's words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs)]
pub enum Family {
    Iron,
    Stainless,
    Aluminium,
    Copper,
    Brass,
    Bronze,
    CuproNickel,
    Nickel,
    Titanium,
    Zinc,
    Plastic,
}

impl Family {
    /// Whether copper is its main part. Unit: none. Range: yes or no. Source: definition.
    pub fn is_copper_alloy(self) -> bool {
        matches!(
            self,
            Self::Copper | Self::Brass | Self::Bronze | Self::CuproNickel
        )
    }
}

/// Whether a metal is prone to something.
/// Unit: none. Range: the three below. Source: this crate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Proneness {
    /// Not prone.
    No,
    /// Prone.
    Yes,
    /// It depends on the grade, which is not known.
    Unknown,
}

/// A metal and what salt water does to it.
/// Unit: none. Range: one per [`Alloy`]. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct Metal {
    /// Which. Unit: none. Range: see [`Alloy`]. Source: this crate.
    pub alloy: Alloy,
    /// Its name for a reader. Unit: none. Range: text. Source: the trade's words.
    pub name: String,
    /// Its family. Unit: none. Range: see [`Family`]. Source: `source`.
    pub family: Family,
    /// Whether salt water takes the zinc out of it. Unit: none. Range: see [`Proneness`]. Source: `source`.
    pub dezincifies: Proneness,
    /// Whether it rots unseen under bands and wet lagging. Unit: none. Range: see [`Proneness`]. Source: `source`.
    pub crevice: Proneness,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawMetal {
    alloy: Alloy,
    name: String,
    family: Family,
    dezincifies: Proneness,
    crevice: Proneness,
    source: Option<String>,
}

data!(static METALS: Metal = "metals.toml", RawMetal, |table, raw| Metal {
    alloy: raw.alloy,
    name: raw.name,
    family: raw.family,
    dezincifies: raw.dezincifies,
    crevice: raw.crevice,
    source: table.source(raw.source.as_deref()),
});

/// What is known of a metal. Unit: none. Range: every [`Alloy`]. Source: the row's own.
pub fn metal(alloy: Alloy) -> &'static Metal {
    // OK because a test checks that every alloy has its row.
    METALS
        .rows
        .iter()
        .find(|row| row.alloy == alloy)
        .expect("every alloy has a row of metals")
}

/// The galvanic tables. They differ by up to 0.1 V: compare inside one table only.
/// Unit: none. Range: the three below. Source: each table's own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum GalvanicTable {
    /// Flowing sea water against saturated calomel, single values.
    FlowingCalomel,
    /// Sea water against silver chloride, ranges; stainless active.
    SilverChloride,
    /// Flowing sea water against saturated calomel, ranges; stainless passive and active.
    FlowingRanges,
}

impl GalvanicTable {
    /// All tables. Unit: none. Range: three. Source: this crate.
    pub const ALL: [Self; 3] = [
        Self::FlowingCalomel,
        Self::SilverChloride,
        Self::FlowingRanges,
    ];

    fn held(self) -> &'static Held<Potential> {
        match self {
            Self::FlowingCalomel => &FLOWING,
            Self::SilverChloride => &SILVER,
            Self::FlowingRanges => &RANGES,
        }
    }

    /// What the table is. Unit: none. Range: text. Source: the file.
    pub fn title(self) -> &'static str {
        &self.held().table.title
    }
}

/// State of a stainless surface: passive under its film of oxide, active where air is shut out.
/// Unit: none. Range: the two below. Source: the galvanic tables.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Surface {
    /// Bright, in moving water.
    Passive,
    /// In crevices and still water.
    Active,
}

/// A metal's potential in one table.
/// Unit: V. Range: −1.03 to 0.25 V. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct Potential {
    /// Name in the table. Unit: none. Range: text. Source: `source`.
    pub name: String,
    /// The metals of [`Alloy`] for which it stands. Unit: none. Range: may be none. Source: this crate.
    pub alloys: Vec<Alloy>,
    /// State of the surface, where the table says. Unit: none. Range: see [`Surface`]. Source: `source`.
    pub state: Option<Surface>,
    /// The potential. Unit: V. Range: −1.03 to 0.25 V. Source: `source`.
    pub range: Limits<Voltage>,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawPotential {
    name: String,
    volts: [f64; 2],
    alloys: Vec<Alloy>,
    state: Option<Surface>,
}

fn potential(table: &Table, raw: RawPotential) -> Potential {
    Potential {
        name: raw.name,
        alloys: raw.alloys,
        state: raw.state,
        range: limits(raw.volts, Voltage::volts),
        source: table.source(None),
    }
}

data!(static FLOWING: Potential = "galvanic-flowing.toml", RawPotential, potential);
data!(static SILVER: Potential = "galvanic-silver.toml", RawPotential, potential);
data!(static RANGES: Potential = "galvanic-flowing-ranges.toml", RawPotential, potential);

/// All rows of one table, as the table has them. Unit: V. Range: −1.03 to 0.25 V. Source: the table's own.
pub fn galvanic_rows(table: GalvanicTable) -> &'static [Potential] {
    &table.held().rows
}

/// The rows of one table that stand for a metal. Unit: V. Range: empty where the table has none. Source: the table's own.
pub fn potentials(alloy: Alloy, table: GalvanicTable) -> Vec<&'static Potential> {
    galvanic_rows(table)
        .iter()
        .filter(|row| row.alloys.contains(&alloy))
        .collect()
}

/// How far apart two metals are in sea water.
/// Unit: V. Range: 0 and over. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct Gap {
    /// At least. Unit: V. Range: 0 and over. Source: `source`.
    pub least: Voltage,
    /// At most. Unit: V. Range: at least `least`. Source: `source`.
    pub most: Voltage,
    /// The one that wastes away; `None` where the ranges overlap. Unit: none. Range: one of the two. Source: `source`.
    pub wastes: Option<Alloy>,
    /// In which table. Unit: none. Range: see [`GalvanicTable`]. Source: this crate.
    pub table: GalvanicTable,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

/// How far apart two metals are in one table, over all that the table has for each: both states
/// of a stainless, and the whole spread of a metal of unknown grade.
///
/// # Errors
/// [`Unknown`] where the table lacks one of them.
///
/// Unit: V. Range: 0 to 1.3 V. Source: the table's own; it holds in sea water and does not rank metals in coolant.
pub fn galvanic_gap(a: Alloy, b: Alloy, table: GalvanicTable) -> Result<Gap, Unknown> {
    let span = |alloy: Alloy| {
        let rows = potentials(alloy, table);
        let low = rows.iter().map(|row| row.range.low).min();
        let high = rows.iter().map(|row| row.range.high).max();
        match (low, high, rows.first()) {
            (Some(low), Some(high), Some(row)) => Ok((low, high, row.source)),
            _ => Err(Unknown::new(
                format!("the table has no {}", metal(alloy).name),
                "another table, or the potential measured against a reference cell",
            )),
        }
    };
    let (a_low, a_high, source) = span(a)?;
    let (b_low, b_high, _) = span(b)?;
    let zero = Voltage::of_si(0.0);
    let least = (a_low - b_high).max(b_low - a_high).max(zero);
    let most = (a_high - b_low).max(b_high - a_low);
    let wastes = if a_high < b_low {
        Some(a)
    } else if b_high < a_low {
        Some(b)
    } else {
        None
    };
    Ok(Gap {
        least,
        most,
        wastes,
        table,
        source,
    })
}

/// How far apart two metals in contact may be.
/// Unit: V. Range: 0.15 to 0.5 V. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct GapLimit {
    /// Where it holds. Unit: none. Range: text. Source: `source`.
    pub place: String,
    /// The limit. Unit: V. Range: 0.15 to 0.5 V. Source: `source`.
    pub limit: Voltage,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawGapLimit {
    place: String,
    limit: f64,
    source: Option<String>,
}

data!(static GAP_LIMITS: GapLimit = "galvanic-limits.toml", RawGapLimit, |table, raw| GapLimit {
    place: raw.place,
    limit: Voltage::volts(raw.limit),
    source: table.source(raw.source.as_deref()),
});

/// Limits on the gap, the first of them for metals under water. Unit: V. Range: 0.15 to 0.5 V. Source: each row's own.
pub fn gap_limits() -> &'static [GapLimit] {
    &GAP_LIMITS.rows
}

data!(static FACTS: Fact = "metal-facts.toml", RawFact, fact);

/// Facts about metals in a cooling circuit. Unit: none. Range: the rows of the file. Source: each row's own.
pub fn metal_facts() -> &'static [Fact] {
    &FACTS.rows
}

/// One fact by its short name. Unit: none. Range: the names in the file. Source: the row's own.
pub fn metal_fact(id: &str) -> Option<&'static Fact> {
    FACTS.rows.iter().find(|fact| fact.id == id)
}

pub(crate) fn tables() -> Vec<&'static Table> {
    vec![
        &METALS.table,
        &FLOWING.table,
        &SILVER.table,
        &RANGES.table,
        &GAP_LIMITS.table,
        &FACTS.table,
    ]
}
