//! Hose: kinds, stretch, temperature, pressure, softening, bends, collapse.

use quantity::{GaugePressure, Length, PressureDifference, Quantity, Ratio, Temperature, Time};
use serde::Deserialize;

pub use crate::bore::{
    CoolantDeviation, CoolantWall, HeaterHose, Make, MandrelClass, SoldBore, StandardBore,
    bore_limits, coolant_deviations, coolant_walls, cut_length_tolerance, end_squareness,
    general_bore_tolerance, heater_hose, sold_bores, standard_bores, wall, widest_bore_limits,
};
use crate::source::{Fact, Limits, RawFact, SourceRef, Sourced, Unknown, fact};
use crate::table::{Table, data, limits, limits_mm};

/// How a hose is built.
/// Unit: none. Range: the five below. Source: the trade's words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum HoseKind {
    /// EPDM rubber with fabric.
    FabricEpdm,
    /// Silicone with fabric.
    FabricSilicone,
    /// Rubber without reinforcement.
    PlainRubber,
    /// Silicone without reinforcement.
    PlainSilicone,
    /// Rubber with a wire helix that runs to the ends, so without a soft cuff.
    WireHelix,
}

impl HoseKind {
    /// All kinds. Unit: none. Range: five. Source: this crate.
    pub const ALL: [Self; 5] = [
        Self::FabricEpdm,
        Self::FabricSilicone,
        Self::PlainRubber,
        Self::PlainSilicone,
        Self::WireHelix,
    ];

    /// The name for a reader. Unit: none. Range: text. Source: the trade's words.
    pub fn name(self) -> &'static str {
        match self {
            Self::FabricEpdm => "EPDM hose with fabric",
            Self::FabricSilicone => "silicone hose with fabric",
            Self::PlainRubber => "plain rubber hose",
            Self::PlainSilicone => "plain silicone hose",
            Self::WireHelix => "hose with a wire helix",
        }
    }
}

/// How far one build of hose may be stretched over a spigot.
/// Unit: share of the bore. Range: 0 to 0.25. Source: common practice; no standard limits hand fitting.
#[derive(Clone, Debug, PartialEq)]
pub struct StretchLimits {
    /// The build. Unit: none. Range: see [`HoseKind`]. Source: `source`.
    pub kind: HoseKind,
    /// Good up to here. Unit: 1. Range: 0.01 to 0.10. Source: `source`.
    pub good_to: Ratio,
    /// With a warning up to here. Unit: 1. Range: 0.02 to 0.20. Source: `source`.
    pub warning_to: Ratio,
    /// Refused over this. Between `warning_to` and this the practice is silent.
    /// Unit: 1. Range: 0.03 to 0.25. Source: `source`.
    pub refuse_over: Ratio,
    /// Up to here where the joint was pushed together for trial and that is noted.
    /// Unit: 1. Range: 0.10 to 0.15, or none. Source: `source`.
    pub trial_fit_to: Option<Ratio>,
    /// Added to each limit where the hose only passes or holds a narrow bead.
    /// Unit: 1. Range: 0.05. Source: `source`.
    pub bead_allowance: Ratio,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawStretch {
    kind: HoseKind,
    good_to: f64,
    warning_to: f64,
    refuse_over: f64,
    trial_fit_to: Option<f64>,
    bead_allowance: f64,
}

data!(static STRETCH: StretchLimits = "hose-stretch.toml", RawStretch, |table, raw| StretchLimits {
    kind: raw.kind,
    good_to: Ratio::percent(raw.good_to),
    warning_to: Ratio::percent(raw.warning_to),
    refuse_over: Ratio::percent(raw.refuse_over),
    trial_fit_to: raw.trial_fit_to.map(Ratio::percent),
    bead_allowance: Ratio::percent(raw.bead_allowance),
    source: table.source(None),
});

/// How far a build of hose may be stretched.
/// Unit: share of the bore. Range: 0 to 0.25. Source: common practice; no standard limits hand fitting.
pub fn stretch_limits(kind: HoseKind) -> &'static StretchLimits {
    // OK because a test checks that every kind has its row.
    STRETCH
        .rows
        .iter()
        .find(|row| row.kind == kind)
        .expect("every kind has a row of stretch limits")
}

/// How much larger than its spigot a bore may be.
/// Unit: m and share of the spigot. Range: see fields. Source: common practice.
#[derive(Clone, Debug, PartialEq)]
pub struct SlackLimits {
    /// With a warning up to here. Unit: m. Range: 0.5 mm. Source: `source`.
    pub warn_to: Length,
    /// And up to this share of the spigot. Unit: 1. Range: 0.02. Source: `source`.
    pub warn_to_share: Ratio,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

impl SlackLimits {
    /// The most slack on a spigot: the less of the two limits.
    /// Unit: m. Range: 0 to 0.5 mm. Source: common practice.
    pub fn at(&self, spigot: Length) -> Length {
        self.warn_to.min(spigot * self.warn_to_share.to_f64())
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawSlack {
    warn_to: f64,
    warn_to_share: f64,
}

data!(static SLACK: SlackLimits = "hose-slack.toml", RawSlack, |table, raw| SlackLimits {
    warn_to: Length::mm(raw.warn_to),
    warn_to_share: Ratio::percent(raw.warn_to_share),
    source: table.source(None),
});

/// How much larger than its spigot a bore may be. Unit: m. Range: up to 0.5 mm. Source: common practice.
pub fn slack_limits() -> &'static SlackLimits {
    &SLACK.rows[0]
}

/// A temperature class of a coolant-hose standard.
/// Unit: K. Range: −55 to 175 °C. Source: SAE J20:2022 and DIN 73411-1:1996, in excerpt.
#[derive(Clone, Debug, PartialEq)]
pub struct TemperatureClass {
    /// The standard. Unit: none. Range: text. Source: `source`.
    pub standard: String,
    /// The class in it. Unit: none. Range: text. Source: `source`.
    pub class: String,
    /// The rubber. Unit: none. Range: text. Source: `source`.
    pub rubber: String,
    /// Builds of hose that are made of it. Unit: none. Range: see [`HoseKind`]. Source: common practice.
    pub kinds: Vec<HoseKind>,
    /// Not below. Unit: K. Range: −55 to −40 °C, or unsaid. Source: `source`.
    pub low: Option<Temperature>,
    /// Not above. Unit: K. Range: 100 to 175 °C. Source: `source`.
    pub high: Temperature,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawTemperature {
    standard: String,
    class: String,
    rubber: String,
    kinds: Vec<HoseKind>,
    low: Option<f64>,
    high: f64,
    source: Option<String>,
}

data!(static TEMPERATURES: TemperatureClass = "hose-temperature.toml", RawTemperature, |table, raw| TemperatureClass {
    standard: raw.standard,
    class: raw.class,
    rubber: raw.rubber,
    kinds: raw.kinds,
    low: raw.low.map(Temperature::celsius),
    high: Temperature::celsius(raw.high),
    source: table.source(raw.source.as_deref()),
});

/// All temperature classes. Unit: K. Range: −55 to 175 °C. Source: SAE J20:2022 and DIN 73411-1:1996, in excerpt.
pub fn temperature_classes() -> &'static [TemperatureClass] {
    &TEMPERATURES.rows
}

/// A class by its standard and name.
/// Unit: K. Range: the rows of [`temperature_classes`]. Source: as there.
pub fn temperature_class(standard: &str, class: &str) -> Option<&'static TemperatureClass> {
    temperature_classes()
        .iter()
        .find(|row| row.standard == standard && row.class == class)
}

/// The highest temperature that every class of a build stands: that of its weakest class, since
/// the class of a hose is known only from its print.
/// Unit: K. Range: 100 to 175 °C. Source: SAE J20:2022 and DIN 73411-1:1996, in excerpt.
pub fn temperature_limit(kind: HoseKind) -> Sourced<Temperature> {
    let weakest = temperature_classes()
        .iter()
        .filter(|row| row.kinds.contains(&kind))
        .min_by_key(|row| row.high);
    // OK because a test checks that every kind is of some class.
    let row = weakest.expect("every kind has a temperature class");
    Sourced {
        value: row.high,
        source: row.source,
    }
}

/// What pressure a build of hose works at.
/// Unit: m and Pa. Range: see fields. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct PressureRating {
    /// The build. Unit: none. Range: see [`HoseKind`]. Source: `source`.
    pub kind: HoseKind,
    /// For these bores. Unit: m. Range: 8 to 89 mm. Source: `source`.
    pub bore: Limits<Length>,
    /// Working pressure, cold; the low end where figures differ. Unit: Pa. Range: 1.5 to 6 bar. Source: `source`.
    pub pressure: Limits<GaugePressure>,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawPressure {
    kind: HoseKind,
    bore: [f64; 2],
    pressure: [f64; 2],
    source: Option<String>,
}

data!(static PRESSURES: PressureRating = "hose-pressure.toml", RawPressure, |table, raw| PressureRating {
    kind: raw.kind,
    bore: limits_mm(raw.bore),
    pressure: limits(raw.pressure, GaugePressure::bar),
    source: table.source(raw.source.as_deref()),
});

/// All ratings of a build. Unit: Pa. Range: empty where none is known. Source: each row's own.
pub fn pressure_ratings(kind: HoseKind) -> Vec<&'static PressureRating> {
    PRESSURES
        .rows
        .iter()
        .filter(|row| row.kind == kind)
        .collect()
}

/// The working pressure of a hose, cold: the lowest of the ratings that hold its bore. A bore on
/// the edge of two rows takes the one that was given for it.
///
/// # Errors
/// [`Unknown`] where no source gives a rating for the build or the bore.
///
/// Unit: Pa. Range: silicone with fabric, 8 to 89 mm bore. Source: from memory below 76 mm, to be checked.
pub fn working_pressure(
    kind: HoseKind,
    bore: Length,
) -> Result<Sourced<Limits<GaugePressure>>, Unknown> {
    let mut best: Option<&PressureRating> = None;
    for row in PRESSURES
        .rows
        .iter()
        .filter(|row| row.kind == kind && row.bore.contains(bore))
    {
        // The figure of a row was given for the high end of its bores; at a shared edge it is the smaller row's.
        let on_lower_edge = row.bore.low == bore && best.is_some_and(|best| best.bore.high == bore);
        if !on_lower_edge && best.is_none_or(|best| row.pressure.low < best.pressure.low) {
            best = Some(row);
        }
    }
    best.map(|row| Sourced {
        value: row.pressure,
        source: row.source,
    })
    .ok_or_else(|| {
        Unknown::new(
            format!(
                "no source gives a working pressure for {} of {:.0} mm bore",
                kind.name(),
                bore.to_mm()
            ),
            "the pressure printed on the hose or in its maker's sheet",
        )
    })
}

/// What share of its cold working pressure a hose keeps when hot.
///
/// # Errors
/// Always [`Unknown`] as yet: no source found gives the fall for rubber hose with fabric, and a
/// curve for thermoplastic hose does not hold for it.
///
/// Unit: 1. Range: none. Source: none found.
pub fn pressure_share_at(
    kind: HoseKind,
    temperature: Temperature,
) -> Result<Sourced<Ratio>, Unknown> {
    Err(Unknown::new(
        format!(
            "no source gives how the pressure of {} falls up to {:.0} °C",
            kind.name(),
            temperature.to_celsius()
        ),
        "the working pressure at that temperature in the hose maker's sheet",
    ))
}

/// Burst pressure over working pressure.
/// Unit: 1. Range: 3 to 4. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct BurstFactor {
    /// Of which hose. Unit: none. Range: text. Source: `source`.
    pub hose: String,
    /// The factor. Unit: 1. Range: 3 to 4. Source: `source`.
    pub factor: Limits<Ratio>,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawBurst {
    hose: String,
    factor: [f64; 2],
    source: Option<String>,
}

data!(static BURSTS: BurstFactor = "hose-burst.toml", RawBurst, |table, raw| BurstFactor {
    hose: raw.hose,
    factor: limits(raw.factor, Ratio::of),
    source: table.source(raw.source.as_deref()),
});

/// Burst pressure over working pressure, as published.
/// Unit: 1. Range: 3 to 4. Source: a hose maker's selection guide; a sleeve's data sheet.
pub fn burst_factors() -> &'static [BurstFactor] {
    &BURSTS.rows
}

/// How to soften a hose end.
/// Unit: K and s. Range: see fields. Source: common practice.
#[derive(Clone, Debug, PartialEq)]
pub struct Softening {
    /// Heat of the water. Unit: K. Range: 80 to 90 °C. Source: `source`.
    pub water: Limits<Temperature>,
    /// For how long. Unit: s. Range: 2 to 5 min. Source: `source`.
    pub time: Limits<Time>,
    /// What may be used to let it slide. Unit: none. Range: text. Source: `source`.
    pub lubricants: Vec<String>,
    /// What may not. Unit: none. Range: text. Source: `never_source`.
    pub never: Vec<String>,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
    /// Where the ban on oil comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub never_source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawSoftening {
    water: [f64; 2],
    minutes: [f64; 2],
    lubricants: Vec<String>,
    never: Vec<String>,
    never_source: String,
}

data!(static SOFTENING: Softening = "hose-softening.toml", RawSoftening, |table, raw| Softening {
    water: limits(raw.water, Temperature::celsius),
    time: limits(raw.minutes, |minutes| Time::s(minutes * 60.0)),
    lubricants: raw.lubricants,
    never: raw.never,
    source: table.source(None),
    never_source: table.source(Some(&raw.never_source)),
});

/// How to soften a hose end. Unit: K and s. Range: 80 to 90 °C, 2 to 5 min. Source: common practice.
pub fn softening() -> &'static Softening {
    &SOFTENING.rows[0]
}

/// To where a bend radius is measured.
/// Unit: none. Range: the three below. Source: this crate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum RadiusTo {
    /// The hose's centre line.
    CentreLine,
    /// The inside of the curve.
    Inside,
    /// The source does not say.
    Unsaid,
}

/// What a bend rule is for.
/// Unit: none. Range: the three below. Source: this crate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum BendUse {
    /// The smallest radius to bend to.
    Smallest,
    /// Where the hose folds.
    Kinks,
    /// Published for another kind of hose: shows only how the ratio runs.
    Ratio,
}

/// A bend radius as a multiple of the bore.
/// Unit: 1. Range: 2.3 to 8. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct BendRule {
    /// For these builds. Unit: none. Range: see [`HoseKind`]. Source: `source`.
    pub kinds: Vec<HoseKind>,
    /// What it is for. Unit: none. Range: see [`BendUse`]. Source: this crate.
    pub used_as: BendUse,
    /// Radius over bore. Unit: 1. Range: 2.3 to 8. Source: `source`.
    pub ratio: Limits<Ratio>,
    /// For these bores; all where none is said. Unit: m. Range: 13 to 100 mm. Source: `source`.
    pub bore: Option<Limits<Length>>,
    /// To where the radius is measured. Unit: none. Range: see [`RadiusTo`]. Source: `source`.
    pub to: RadiusTo,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawBend {
    kinds: Vec<HoseKind>,
    #[serde(rename = "use")]
    used_as: BendUse,
    ratio: [f64; 2],
    bore: Option<[f64; 2]>,
    to: RadiusTo,
    source: Option<String>,
}

data!(static BENDS: BendRule = "hose-bends.toml", RawBend, |table, raw| BendRule {
    kinds: raw.kinds,
    used_as: raw.used_as,
    ratio: limits(raw.ratio, Ratio::of),
    bore: raw.bore.map(limits_mm),
    to: raw.to,
    source: table.source(raw.source.as_deref()),
});

/// Bend rules of a build. Unit: 1. Range: at least one. Source: each row's own.
pub fn bend_rules(kind: HoseKind) -> Vec<&'static BendRule> {
    BENDS
        .rows
        .iter()
        .filter(|row| row.kinds.contains(&kind))
        .collect()
}

/// Whether rubber is cold and stiff, or at running heat.
/// Unit: none. Range: the two below. Source: this crate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Softness {
    /// As fitted.
    Cold,
    /// At running heat.
    Hot,
}

struct Stiffness {
    softness: Softness,
    modulus: f64,
    poisson: f64,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawStiffness {
    softness: Softness,
    modulus: f64,
    poisson: f64,
}

data!(static STIFFNESS: Stiffness = "hose-stiffness.toml", RawStiffness, |table, raw| Stiffness {
    softness: raw.softness,
    modulus: raw.modulus * 1e6,
    poisson: raw.poisson,
    source: table.source(None),
});

/// The pressure difference at which a long, straight, round tube of hose rubber is sucked flat.
///
/// Source: elastic ring under outside pressure. Formula: p = E/(4 (1 − ν²)) (t/r)³
/// with r the mean radius. Uncertainty: the modulus of hose rubber varies by a third either way;
/// halve the result for an oval or bent hose. Doubts: fabric helps little against going oval, so
/// the formula is used for every build without a helix.
///
/// # Errors
/// [`Unknown`] where bore or wall is not over zero, or the wall is over half the bore: no longer a thin tube.
///
/// Unit: Pa. Range: wall over 0 up to half the bore. Source: elastic ring formula, worked out.
pub fn collapse_pressure(
    bore: Length,
    wall: Length,
    softness: Softness,
) -> Result<Sourced<PressureDifference>, Unknown> {
    let zero = Length::mm(0.0);
    // OK because a test checks that both states have their row.
    let row = STIFFNESS
        .rows
        .iter()
        .find(|row| row.softness == softness)
        .expect("both states have a row");
    let thickness = wall / ((bore + wall) / 2.0);
    let value = PressureDifference::from_si(
        row.modulus / (4.0 * (1.0 - row.poisson * row.poisson)) * thickness * thickness * thickness,
    );
    match value {
        Some(value) if bore > zero && wall > zero && wall <= bore / 2.0 => Ok(Sourced {
            value,
            source: row.source,
        }),
        _ => Err(Unknown::new(
            "the ring formula holds for a thin tube only",
            "bore and wall of the hose itself",
        )),
    }
}

data!(static FACTS: Fact = "hose-facts.toml", RawFact, fact);

/// Facts about hose. Unit: none. Range: the rows of the file. Source: each row's own.
pub fn hose_facts() -> &'static [Fact] {
    &FACTS.rows
}

/// One fact by its short name. Unit: none. Range: the names in the file. Source: the row's own.
pub fn hose_fact(id: &str) -> Option<&'static Fact> {
    FACTS.rows.iter().find(|fact| fact.id == id)
}

/// Years after which a hose is renewed on age alone.
/// Unit: years. Range: 1 to 30. Source: common practice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HoseLife {
    /// From and to. Unit: years. Range: 1 to 30. Source: `source`.
    pub years: (u32, u32),
    /// Of what. Unit: none. Range: text. Source: `source`.
    pub words: String,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawLife {
    years: (u32, u32),
    words: String,
}

data!(static LIFE: HoseLife = "hose-life.toml", RawLife, |table, raw| HoseLife {
    years: raw.years,
    words: raw.words,
    source: table.source(None),
});

/// The years that are used, then those that are written elsewhere; they differ by five times.
/// Unit: years. Range: 4 to 20. Source: common practice.
pub fn hose_lives() -> &'static [HoseLife] {
    &LIFE.rows
}

pub(crate) fn tables() -> Vec<&'static Table> {
    vec![
        &LIFE.table,
        &STRETCH.table,
        &SLACK.table,
        &TEMPERATURES.table,
        &PRESSURES.table,
        &BURSTS.table,
        &SOFTENING.table,
        &BENDS.table,
        &STIFFNESS.table,
        &FACTS.table,
    ]
}
