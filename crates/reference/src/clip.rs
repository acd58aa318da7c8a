//! Clips: the sizes sold, and the shares and rules that decide which one fits.

use std::collections::BTreeMap;
use std::f64::consts::PI;
use std::sync::LazyLock;

use quantity::{Length, Ratio};
use serde::Deserialize;

use crate::source::{Fact, Limits, RawFact, SourceRef, Sourced, Unknown, fact, owner};
use crate::table::{Table, data, limits, limits_mm};

/// Kinds of clip.
/// Unit: none. Range: the five below. Source: the trade's words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ClipKind {
    /// A band drawn through its housing by a screw.
    WormDrive,
    /// A closed ring with one ear that pincers close.
    SingleEar,
    /// A closed ring with two ears.
    TwoEar,
    /// A band drawn together by one bolt.
    TBolt,
    /// A sprung ring that pliers open.
    SpringBand,
}

impl ClipKind {
    /// All kinds. Unit: none. Range: five. Source: this crate.
    pub const ALL: [Self; 5] = [
        Self::WormDrive,
        Self::SingleEar,
        Self::TwoEar,
        Self::TBolt,
        Self::SpringBand,
    ];

    /// The name for a reader. Unit: none. Range: text. Source: the trade's words.
    pub fn name(self) -> &'static str {
        match self {
            Self::WormDrive => "worm-drive clip",
            Self::SingleEar => "single-ear clip",
            Self::TwoEar => "two-ear clip",
            Self::TBolt => "T-bolt clip",
            Self::SpringBand => "spring band",
        }
    }

    /// Whether the clip is a closed ring: it can't be opened and must pass over the hose, bead and
    /// all, or go on the bare spigot first. Unit: none. Range: yes or no. Source: worked out from its build.
    pub fn is_ring(self) -> bool {
        matches!(self, Self::SingleEar | Self::TwoEar | Self::SpringBand)
    }
}

/// One size of clip.
/// Unit: m. Range: 8 to 127 mm. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct Clip {
    /// Its kind. Unit: none. Range: see [`ClipKind`]. Source: `source`.
    pub kind: ClipKind,
    /// The standard or series that it is of. Unit: none. Range: text. Source: `source`.
    pub standard: &'static str,
    /// The name under which it is sold within the series. Unit: none. Range: text. Source: `source`.
    pub designation: String,
    /// Smallest diameter that it closes to. For a single ear, open less ear over pi; for a spring
    /// band, as delivered. Unit: m. Range: under `open`. Source: `source`.
    pub closed: Length,
    /// Largest inside diameter. For a spring band, fully open. Unit: m. Range: over `closed`. Source: `source`.
    pub open: Length,
    /// Nominal size of a spring band: the hose as fitted. Unit: m. Range: between `closed` and `open`. Source: `source`.
    pub nominal: Option<Length>,
    /// Width of the band, where the source gives it. Unit: m. Range: 7 to 25 mm. Source: `source`.
    pub band: Option<Length>,
    /// Inner width of one ear, for single-ear clips. Unit: m. Range: 5.5 to 10 mm. Source: `source`.
    pub ear: Option<Length>,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

impl Clip {
    /// From closed to open. Unit: m. Range: as the fields. Source: `source`.
    pub fn range(&self) -> Limits<Length> {
        Limits {
            low: self.closed,
            high: self.open,
        }
    }

    /// A clip of the owner's, by the range printed on it. `None` unless it closes below where it opens.
    /// Unit: m. Range: 0 and over. Source: the boat file.
    pub fn of_owner(
        kind: ClipKind,
        closed: Length,
        open: Length,
        band: Option<Length>,
    ) -> Option<Self> {
        (Length::mm(0.0) <= closed && closed < open).then(|| Self {
            kind,
            standard: "own stock",
            designation: format!("{}-{}", short_mm(closed), short_mm(open)),
            closed,
            open,
            nominal: None,
            band,
            ear: None,
            source: owner(),
        })
    }

    /// Where in its range a diameter sits: 0 closed, 1 open; outside where it does not fit.
    /// Unit: 1. Range: any. Source: definition.
    pub fn share_of_range(&self, diameter: Length) -> f64 {
        (diameter - self.closed) / (self.open - self.closed)
    }

    /// How far an ear clip's ear is closed when the clip is at a working diameter.
    /// `None` for a clip whose ear is not known.
    /// Unit: 1. Range: 0 open, 1 closed; outside where it does not fit. Source: fixed length of the ring, worked out.
    pub fn ear_closing_share(&self, working: Length) -> Option<Ratio> {
        self.ear
            .map(|ear| Ratio::of(ear_closing_share_at(self.open, ear, working)))
    }
}

/// Millimetres as a size is written: to a tenth, without a trailing zero.
fn short_mm(length: Length) -> String {
    let tenths = (length.to_mm() * 10.0).round() / 10.0;
    format!("{tenths}")
}

/// Inside diameter of an ear clip whose ear is closed from `ear` to `ear_left`: the ring keeps its
/// length, so its girth shrinks by what the ear closes.
/// Unit: m. Range: `ear_left` from 0 to `ear`. Source: geometry, worked out.
pub fn ear_closed_diameter(open: Length, ear: Length, ear_left: Length) -> Length {
    open - (ear - ear_left) / PI
}

fn ear_closing_share_at(open: Length, ear: Length, working: Length) -> f64 {
    PI * ((open - working) / ear)
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawClip {
    designation: String,
    closed: Option<f64>,
    open: f64,
    nominal: Option<f64>,
    band: Option<f64>,
    ear: Option<f64>,
    source: Option<String>,
}

/// Makes a clip from its row. A single-ear row has no closed diameter: the ear gives it.
fn clip(kind: ClipKind, standard: &'static str, table: &Table, raw: RawClip) -> Clip {
    let open = Length::mm(raw.open);
    let ear = raw.ear.map(Length::mm);
    let closed = match (raw.closed, ear) {
        (Some(closed), _) => Length::mm(closed),
        (None, Some(ear)) => ear_closed_diameter(open, ear, Length::mm(0.0)),
        // OK because a test reads every table: such a row never leaves the project.
        (None, None) => panic!(
            "{}: {} has neither closed diameter nor ear",
            table.file, raw.designation
        ),
    };
    Clip {
        kind,
        standard,
        designation: raw.designation,
        closed,
        open,
        nominal: raw.nominal.map(Length::mm),
        band: raw.band.map(Length::mm),
        ear,
        source: table.source(raw.source.as_deref()),
    }
}

data!(static WORM_METRIC: Clip = "clips-worm-metric.toml", RawClip, |table, raw| {
    clip(ClipKind::WormDrive, "DIN 3017-1 form A", table, raw)
});
data!(static WORM_INCH: Clip = "clips-worm-inch.toml", RawClip, |table, raw| {
    clip(ClipKind::WormDrive, "SAE J1508 type F", table, raw)
});
data!(static WORM_LETTERS: Clip = "clips-worm-letters.toml", RawClip, |table, raw| {
    clip(ClipKind::WormDrive, "older British sizes", table, raw)
});
data!(static T_BOLT: Clip = "clips-t-bolt.toml", RawClip, |table, raw| {
    clip(ClipKind::TBolt, "single-bolt series, narrow steps", table, raw)
});
data!(static T_BOLT_DIN: Clip = "clips-t-bolt-din.toml", RawClip, |table, raw| {
    clip(ClipKind::TBolt, "DIN 3017-3", table, raw)
});
data!(static SPRING_BAND: Clip = "clips-spring-band.toml", RawClip, |table, raw| {
    clip(ClipKind::SpringBand, "DIN 3021", table, raw)
});
data!(static SINGLE_EAR: Clip = "clips-single-ear.toml", RawClip, |table, raw| {
    clip(ClipKind::SingleEar, "usual single-ear sizes", table, raw)
});
data!(static TWO_EAR: Clip = "clips-two-ear.toml", RawClip, |table, raw| {
    clip(ClipKind::TwoEar, "usual two-ear sizes", table, raw)
});

static STANDARD_CLIPS: LazyLock<BTreeMap<ClipKind, Vec<Clip>>> = LazyLock::new(|| {
    let all = [
        &WORM_METRIC,
        &WORM_INCH,
        &WORM_LETTERS,
        &T_BOLT,
        &T_BOLT_DIN,
        &SPRING_BAND,
        &SINGLE_EAR,
        &TWO_EAR,
    ];
    let mut by_kind: BTreeMap<ClipKind, Vec<Clip>> = BTreeMap::new();
    for clip in all.into_iter().flat_map(|held| held.rows.iter()) {
        by_kind.entry(clip.kind).or_default().push(clip.clone());
    }
    for clips in by_kind.values_mut() {
        clips.sort_by(|a, b| (a.open, a.closed, a.standard).cmp(&(b.open, b.closed, b.standard)));
    }
    by_kind
});

/// All standard clips of a kind, of every series, by open diameter.
/// Unit: m. Range: 8 to 127 mm. Source: each clip's own; see its status.
pub fn standard_clips(kind: ClipKind) -> &'static [Clip] {
    STANDARD_CLIPS.get(&kind).map_or(&[], Vec::as_slice)
}

/// How near a size must be to be taken for a standard one.
const SAME_SIZE: f64 = 0.05;

fn same(a: Length, b: Length) -> bool {
    (a - b).to_mm().abs() <= SAME_SIZE
}

/// The standard clip of a kind that closes and opens to these diameters, within 0.05 mm. Where
/// two series have it, the one whose band is known.
/// Unit: m. Range: the sizes of [`standard_clips`]. Source: the clip's own.
pub fn clip_by_range(kind: ClipKind, closed: Length, open: Length) -> Option<&'static Clip> {
    let fits = |clip: &&Clip| same(clip.closed, closed) && same(clip.open, open);
    standard_clips(kind)
        .iter()
        .filter(fits)
        .min_by_key(|clip| clip.band.is_none())
}

/// The standard ring clip sold under one diameter, within 0.05 mm: the open diameter of a
/// single-ear clip, the nominal size of a spring band.
/// Unit: m. Range: the sizes of [`standard_clips`]; no other kind is sold so. Source: the clip's own.
pub fn clip_by_size(kind: ClipKind, size: Length) -> Option<&'static Clip> {
    let sold_as = |clip: &Clip| match kind {
        ClipKind::SingleEar => Some(clip.open),
        ClipKind::SpringBand => clip.nominal,
        ClipKind::WormDrive | ClipKind::TwoEar | ClipKind::TBolt => None,
    };
    standard_clips(kind)
        .iter()
        .find(|clip| sold_as(clip).is_some_and(|sold| same(sold, size)))
}

struct Share {
    what: String,
    share: Limits<Ratio>,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawShare {
    what: String,
    share: [f64; 2],
    source: Option<String>,
}

data!(static SHARES: Share = "clip-shares.toml", RawShare, |table, raw| Share {
    what: raw.what,
    share: limits(raw.share, Ratio::percent),
    source: table.source(raw.source.as_deref()),
});

fn share(what: &str) -> Sourced<Limits<Ratio>> {
    let row = SHARES.rows.iter().find(|row| row.what == what);
    // OK because every name is written in this file and a test asks for each.
    let row = row.unwrap_or_else(|| panic!("clip-shares.toml has no `{what}`"));
    Sourced {
        value: row.share,
        source: row.source,
    }
}

/// By what share of the fitted wall a clip must still be able to squeeze the hose.
///
/// # Errors
/// [`Unknown`] for ring clips: ears are judged by their closing share, spring bands by their nominal size.
///
/// Unit: 1. Range: 0.20 for worm drive, 0.10 for T-bolt. Source: common practice.
pub fn squeeze(kind: ClipKind) -> Result<Sourced<Ratio>, Unknown> {
    let what = match kind {
        ClipKind::WormDrive => "worm-squeeze",
        ClipKind::TBolt => "t-bolt-squeeze",
        ClipKind::SingleEar | ClipKind::TwoEar | ClipKind::SpringBand => {
            return Err(Unknown::new(
                format!("no squeeze is given for a {}", kind.name()),
                "the clip maker's range for the hose as fitted",
            ));
        }
    };
    let Sourced { value, source } = share(what);
    Ok(Sourced {
        value: value.low,
        source,
    })
}

/// How much a tightened clip squeezes the wall, as a share of it. Unit: 1. Range: 0.10 to 0.30. Source: common practice.
pub fn squeeze_range() -> Sourced<Limits<Ratio>> {
    share("squeeze")
}

/// The usual squeeze of a tightened clip. Unit: 1. Range: 0.20. Source: common practice.
pub fn usual_squeeze() -> Sourced<Ratio> {
    let Sourced { value, source } = share("squeeze-usual");
    Sourced {
        value: value.low,
        source,
    }
}

/// How far an ear must be closed, and may be. Unit: 1. Range: 0.40 to 0.95. Source: a fitting supplier's notes.
pub fn ear_closing_share() -> Sourced<Limits<Ratio>> {
    share("ear-closing")
}

/// If the half-width of the fitted diameter's interval is over this share of ear/pi, the joint is
/// to be measured on trial before an ear clip is bought. Unit: 1. Range: 0.25. Source: worked out from the travel.
pub fn ear_interval_share() -> Sourced<Ratio> {
    let Sourced { value, source } = share("ear-interval");
    Sourced {
        value: value.low,
        source,
    }
}

/// Where in a worm-drive clip's range the hose best sits. Unit: 1. Range: 0.30 to 0.80. Source: common practice.
pub fn worm_best_share() -> Sourced<Limits<Ratio>> {
    share("worm-range")
}

/// What share of the new torque a hose end takes that is used again.
/// Unit: 1. Range: 0.57 to 0.67. Source: an engine maker's torque page, worked out from its rows.
pub fn reused_torque_share() -> Sourced<Limits<Ratio>> {
    share("reused-torque")
}

/// Which of several fitting clips a source would take.
/// Unit: none. Range: the four below. Source: this crate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Preference {
    /// The smallest open diameter that passes.
    NearestOpen,
    /// The hose in the middle of the range.
    MiddleOfRange,
    /// The hose within a share of the range.
    ShareOfRange,
    /// The nominal size at the fitted diameter.
    Nominal,
}

/// One source's advice on which of several fitting clips to take. Sources disagree: show all.
/// Unit: none. Range: the rows of the file. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct Advice {
    /// For this kind. Unit: none. Range: see [`ClipKind`]. Source: `source`.
    pub kind: ClipKind,
    /// What it prefers. Unit: none. Range: see [`Preference`]. Source: `source`.
    pub prefers: Preference,
    /// The advice in words. Unit: none. Range: text. Source: `source`.
    pub says: String,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawAdvice {
    kind: ClipKind,
    prefers: Preference,
    says: String,
    source: Option<String>,
}

data!(static ADVICE: Advice = "clip-advice.toml", RawAdvice, |table, raw| Advice {
    kind: raw.kind,
    prefers: raw.prefers,
    says: raw.says,
    source: table.source(raw.source.as_deref()),
});

/// What each source advises for a kind of clip. Unit: none. Range: empty for T-bolt. Source: each row's own.
pub fn sizing_advice(kind: ClipKind) -> Vec<&'static Advice> {
    ADVICE.rows.iter().filter(|row| row.kind == kind).collect()
}

struct Band {
    to_bore: Option<Length>,
    band: Length,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawBand {
    to_bore: Option<f64>,
    band: f64,
}

data!(static BANDS: Band = "clip-bands.toml", RawBand, |table, raw| Band {
    to_bore: raw.to_bore.map(Length::mm),
    band: Length::mm(raw.band),
    source: table.source(None),
});

/// The band of worm-drive clip that is usual on a bore. Unit: m. Range: 9 mm to 20 mm bore, 12 mm above. Source: common practice.
pub fn usual_band(bore: Length) -> Sourced<Length> {
    let row = BANDS
        .rows
        .iter()
        .find(|row| row.to_bore.is_none_or(|to| bore <= to));
    // OK because a test checks that the last row has no end.
    let row = row.expect("the last row of bands has no end");
    Sourced {
        value: row.band,
        source: row.source,
    }
}

/// What a clip's parts are made of.
/// Unit: none. Range: the rows of the file. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct ClipMaterial {
    /// The mark on the clip. Unit: none. Range: text. Source: `source`.
    pub mark: String,
    /// Material of the band. Unit: none. Range: text. Source: `source`.
    pub band: String,
    /// Material of the housing. Unit: none. Range: text. Source: `source`.
    pub housing: String,
    /// Material of the screw. Unit: none. Range: text. Source: `source`.
    pub screw: String,
    /// What a magnet says. Unit: none. Range: text. Source: `source`.
    pub magnet: String,
    /// Fit for the raw side and wet bilges. Unit: none. Range: yes or no. Source: `source`.
    pub salt_water: bool,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawMaterial {
    mark: String,
    band: String,
    housing: String,
    screw: String,
    magnet: String,
    salt_water: bool,
    source: Option<String>,
}

data!(static MATERIALS: ClipMaterial = "clip-materials.toml", RawMaterial, |table, raw| ClipMaterial {
    mark: raw.mark,
    band: raw.band,
    housing: raw.housing,
    screw: raw.screw,
    magnet: raw.magnet,
    salt_water: raw.salt_water,
    source: table.source(raw.source.as_deref()),
});

/// Materials of clips by their mark. Unit: none. Range: the rows of the file. Source: each row's own.
pub fn clip_materials() -> &'static [ClipMaterial] {
    &MATERIALS.rows
}

/// Housing and screw of a worm-drive clip.
/// Unit: m. Range: see fields. Source: a clip maker's page of SAE J1508 type F.
#[derive(Clone, Debug, PartialEq)]
pub struct Housing {
    /// The standard. Unit: none. Range: text. Source: `source`.
    pub standard: String,
    /// Along the band. Unit: m. Range: 19.3 mm. Source: `source`.
    pub length: Length,
    /// Across the band. Unit: m. Range: 20.57 mm. Source: `source`.
    pub width: Length,
    /// Above the band. Unit: m. Range: 14.45 mm. Source: `source`.
    pub height: Length,
    /// Hexagon of the screw. Unit: m. Range: 7.75 to 7.93 mm. Source: `source`.
    pub across_flats: Limits<Length>,
    /// Slot of the screw. Unit: m. Range: 1.42 to 1.94 mm. Source: `source`.
    pub slot: Limits<Length>,
    /// Longest screw. Unit: m. Range: 34.29 mm. Source: `source`.
    pub screw_up_to: Length,
    /// Thickness of the band. Unit: m. Range: 0.53 to 0.79 mm. Source: `source`.
    pub band_thickness: Limits<Length>,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawHousing {
    standard: String,
    length: f64,
    width: f64,
    height: f64,
    across_flats: [f64; 2],
    slot: [f64; 2],
    screw_up_to: f64,
    band_thickness: [f64; 2],
}

data!(static HOUSINGS: Housing = "clip-housing.toml", RawHousing, |table, raw| Housing {
    standard: raw.standard,
    length: Length::mm(raw.length),
    width: Length::mm(raw.width),
    height: Length::mm(raw.height),
    across_flats: limits_mm(raw.across_flats),
    slot: limits_mm(raw.slot),
    screw_up_to: Length::mm(raw.screw_up_to),
    band_thickness: limits_mm(raw.band_thickness),
    source: table.source(None),
});

/// Housing and screw of the inch worm-drive clip. Unit: m. Range: one row. Source: a clip maker's page of SAE J1508 type F.
pub fn worm_housing() -> &'static Housing {
    &HOUSINGS.rows[0]
}

data!(static FACTS: Fact = "clip-facts.toml", RawFact, fact);

/// Facts about clips. Unit: none. Range: the rows of the file. Source: each row's own.
pub fn clip_facts() -> &'static [Fact] {
    &FACTS.rows
}

/// One fact by its short name. Unit: none. Range: the names in the file. Source: the row's own.
pub fn clip_fact(id: &str) -> Option<&'static Fact> {
    FACTS.rows.iter().find(|fact| fact.id == id)
}

pub(crate) fn tables() -> Vec<&'static Table> {
    vec![
        &WORM_METRIC.table,
        &WORM_INCH.table,
        &WORM_LETTERS.table,
        &T_BOLT.table,
        &T_BOLT_DIN.table,
        &SPRING_BAND.table,
        &SINGLE_EAR.table,
        &TWO_EAR.table,
        &SHARES.table,
        &ADVICE.table,
        &BANDS.table,
        &MATERIALS.table,
        &HOUSINGS.table,
        &FACTS.table,
    ]
}
