//! Screw threads: the sizes that turn up on engines, valves and fittings, and what a caliper may
//! read on each.

mod form;

use std::collections::BTreeMap;
use std::sync::LazyLock;

use quantity::{Angle, Length, NominalSize, Ratio};
use serde::Deserialize;

pub use form::{
    metric_female_minor, metric_male_major, minor_diameter_55, minor_diameter_60, npt_e0, npt_e1,
    npt_l2, pitch_diameter_55, pitch_diameter_60, pitch_of, unified_female_minor,
    unified_male_major,
};

use crate::source::{Fact, Limits, RawFact, SourceRef, Sourced, Unknown, fact};
use crate::table::{Table, data, limits, nominal};
use form::TAPER;

/// Families of thread.
/// Unit: none. Range: the eight below. Source: the standards' letters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Family {
    /// Parallel pipe thread, 55 degrees, male and female: ISO 228-1.
    G,
    /// Taper pipe thread, 55 degrees, male: ISO 7-1.
    R,
    /// Taper pipe thread, 55 degrees, female: ISO 7-1.
    Rc,
    /// Parallel pipe thread, 55 degrees, female, for a taper male: ISO 7-1.
    Rp,
    /// Taper pipe thread, 60 degrees, male and female: ASME B1.20.1.
    Npt,
    /// Parallel pipe thread, 60 degrees, for joints with a seat: ASME B1.20.1.
    Npsm,
    /// Metric thread: ISO 261.
    Metric,
    /// Unified inch thread: ASME B1.1.
    Unified,
}

/// Male or female.
/// Unit: none. Range: the two below. Source: the trade's words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ThreadSex {
    /// The thread is outside.
    Male,
    /// The thread is inside.
    Female,
}

impl Family {
    /// All families. Unit: none. Range: eight. Source: this crate.
    pub const ALL: [Self; 8] = [
        Self::G,
        Self::R,
        Self::Rc,
        Self::Rp,
        Self::Npt,
        Self::Npsm,
        Self::Metric,
        Self::Unified,
    ];

    /// The name for a reader. Unit: none. Range: text. Source: the standards' letters.
    pub fn name(self) -> &'static str {
        match self {
            Self::G => "G",
            Self::R => "R",
            Self::Rc => "Rc",
            Self::Rp => "Rp",
            Self::Npt => "NPT",
            Self::Npsm => "NPSM",
            Self::Metric => "metric",
            Self::Unified => "unified",
        }
    }

    /// Whether the family has threads of that sex: R has only males, Rc and Rp only females.
    /// Unit: none. Range: yes or no. Source: ISO 7-1; the others have both.
    pub fn has(self, sex: ThreadSex) -> bool {
        match self {
            Self::R => sex == ThreadSex::Male,
            Self::Rc | Self::Rp => sex == ThreadSex::Female,
            Self::G | Self::Npt | Self::Npsm | Self::Metric | Self::Unified => true,
        }
    }

    /// Angle between the flanks. Unit: rad. Range: 55 or 60 degrees. Source: the standards of each family.
    pub fn flank_angle(self) -> Angle {
        match self {
            Self::G | Self::R | Self::Rc | Self::Rp => Angle::degrees(55.0),
            Self::Npt | Self::Npsm | Self::Metric | Self::Unified => Angle::degrees(60.0),
        }
    }

    /// Change of diameter over length. Unit: 1. Range: 0 or 1/16. Source: ISO 7-1; ASME B1.20.1.
    pub fn taper(self) -> Ratio {
        match self {
            Self::R | Self::Rc | Self::Npt => Ratio::of(TAPER),
            Self::G | Self::Rp | Self::Npsm | Self::Metric | Self::Unified => Ratio::of(0.0),
        }
    }
}

/// Lengths of a taper pipe thread, from its small end.
/// Unit: m. Range: 1/8 to 2 in. Source: `source`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TaperLengths {
    /// To the plane up to which it goes in by hand. Unit: m. Range: 4 to 16 mm. Source: `source`.
    pub hand_tight: Length,
    /// How far that plane may lie off, either way. Unit: m. Range: 0.9 to 2.3 mm. Source: `source`.
    pub plus_minus: Length,
    /// Thread that is cut full. Unit: m. Range: 6.5 to 23.4 mm. Source: `source`.
    pub useful: Length,
    /// What is taken up by the wrench. Unit: m. Range: 2.5 to 7.5 mm. Source: `source`.
    pub wrench: Length,
    /// Where the lengths come from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

/// One size of thread.
/// Unit: m. Range: see fields. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct ThreadSize {
    /// Its family. Unit: none. Range: see [`Family`]. Source: `source`.
    pub family: Family,
    /// The size by name. Unit: mm or in. Range: 1/8 to 2 in, 10 to 60 mm. Source: `source`.
    pub size: NominalSize,
    /// Turns to the inch; none for metric threads. Unit: 1. Range: 11 to 28. Source: `source`.
    pub per_inch: Option<f64>,
    /// Pitch. Unit: m. Range: 0.9 to 2.4 mm. Source: `source`, by [`pitch_of`] where it gives turns.
    pub pitch: Length,
    /// Basic diameter over the crests of a male, at the gauge plane of a taper.
    /// Unit: m. Range: 9.7 to 60.1 mm. Source: `source`; NPT and NPSM as said there.
    pub major: Length,
    /// Basic pitch diameter, at the gauge plane of a taper. Unit: m. Range: 9.1 to 58.8 mm. Source: `source`.
    pub pitch_diameter: Length,
    /// Basic diameter over the crests of a female, at the gauge plane of a taper.
    /// Unit: m. Range: 8.5 to 57.9 mm. Source: `source`.
    pub minor: Length,
    /// Lengths of a taper thread. Unit: m. Range: R, Rc, Rp and NPT. Source: its own.
    pub taper_lengths: Option<TaperLengths>,
    /// Where the size comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
    detail: Detail,
}

/// How the limits of a size are found, and what only its family has.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Detail {
    /// G, and R, Rc and Rp, which take their diameters from it.
    Whitworth,
    Metric,
    Npt {
        truncation: Length,
    },
    Npsm {
        major: Limits<Length>,
        minor: Limits<Length>,
    },
    Unified {
        fine: bool,
    },
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawG {
    size: String,
    per_inch: f64,
    major: f64,
    pitch_diameter: f64,
    minor: f64,
}

data!(static G: ThreadSize = "threads-g.toml", RawG, |table, raw| ThreadSize {
    family: Family::G,
    size: nominal(table.file, &raw.size),
    per_inch: Some(raw.per_inch),
    pitch: pitch_of(raw.per_inch),
    major: Length::mm(raw.major),
    pitch_diameter: Length::mm(raw.pitch_diameter),
    minor: Length::mm(raw.minor),
    taper_lengths: None,
    source: table.source(None),
    detail: Detail::Whitworth,
});

/// Tolerances of a size of G.
/// Unit: m. Range: 0.1 to 0.7 mm. Source: ISO 228-1, from memory.
#[derive(Clone, Debug, PartialEq)]
pub struct GTolerance {
    /// For threads of so many turns to the inch. Unit: 1. Range: 11 to 28. Source: `source`.
    pub per_inch: f64,
    /// By what the pitch diameter of a male may lie below basic, class A. Unit: m. Range: 0.107 to 0.180 mm. Source: `source`.
    pub pitch_a: Length,
    /// The same, class B. Unit: m. Range: 0.214 to 0.360 mm. Source: `source`.
    pub pitch_b: Length,
    /// By what the outside of a male may lie below basic. Unit: m. Range: 0.214 to 0.360 mm. Source: `source`.
    pub major: Length,
    /// By what the bore of a female may lie above basic. Unit: m. Range: 0.282 to 0.640 mm. Source: `source`.
    pub minor: Length,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawGTolerance {
    per_inch: f64,
    pitch_a: f64,
    pitch_b: f64,
    major: f64,
    minor: f64,
}

data!(static G_TOLERANCES: GTolerance = "threads-g-tolerances.toml", RawGTolerance, |table, raw| GTolerance {
    per_inch: raw.per_inch,
    pitch_a: Length::mm(raw.pitch_a),
    pitch_b: Length::mm(raw.pitch_b),
    major: Length::mm(raw.major),
    minor: Length::mm(raw.minor),
    source: table.source(None),
});

struct RLengths {
    size: NominalSize,
    lengths: TaperLengths,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawR {
    size: String,
    gauge: f64,
    plus_minus: f64,
    useful: f64,
    wrench: f64,
}

data!(static R: RLengths = "threads-r.toml", RawR, |table, raw| RLengths {
    size: nominal(table.file, &raw.size),
    lengths: TaperLengths {
        hand_tight: Length::mm(raw.gauge),
        plus_minus: Length::mm(raw.plus_minus),
        useful: Length::mm(raw.useful),
        wrench: Length::mm(raw.wrench),
        source: table.source(None),
    },
});

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawNpt {
    size: String,
    per_inch: f64,
    pipe: f64,
    e1: f64,
    l1: f64,
    truncation: f64,
}

data!(static NPT: ThreadSize = "threads-npt.toml", RawNpt, |table, raw| {
    let (pitch, e1) = (pitch_of(raw.per_inch), Length::mm(raw.e1));
    let height = pitch * constant("npt-height").value[0];
    ThreadSize {
        family: Family::Npt,
        size: nominal(table.file, &raw.size),
        per_inch: Some(raw.per_inch),
        pitch,
        major: e1 + height,
        pitch_diameter: e1,
        minor: e1 - height,
        taper_lengths: Some(TaperLengths {
            hand_tight: Length::mm(raw.l1),
            plus_minus: pitch * constant("npt-gauge-turns").value[0],
            useful: npt_l2(Length::inches(raw.pipe), pitch),
            wrench: pitch * constant("npt-wrench-turns").value[0],
            source: table.source(None),
        }),
        source: table.source(None),
        detail: Detail::Npt { truncation: Length::mm(raw.truncation) },
    }
});

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawNpsm {
    size: String,
    per_inch: f64,
    major: [f64; 2],
    minor: [f64; 2],
}

// The largest male and the smallest female stand for the basic sizes, as nothing else is known.
data!(static NPSM: ThreadSize = "threads-npsm.toml", RawNpsm, |table, raw| {
    let (pitch, major, minor) = (
        pitch_of(raw.per_inch),
        limits(raw.major, Length::inches),
        limits(raw.minor, Length::inches),
    );
    ThreadSize {
        family: Family::Npsm,
        size: nominal(table.file, &raw.size),
        per_inch: Some(raw.per_inch),
        pitch,
        major: major.high,
        pitch_diameter: pitch_diameter_60(major.high, pitch),
        minor: minor.low,
        taper_lengths: None,
        source: table.source(None),
        detail: Detail::Npsm { major, minor },
    }
});

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawMetric {
    size: String,
    pitch: f64,
}

data!(static METRIC: ThreadSize = "threads-metric.toml", RawMetric, |table, raw| {
    let (size, pitch) = (nominal(table.file, &raw.size), Length::mm(raw.pitch));
    ThreadSize {
        family: Family::Metric,
        size,
        per_inch: None,
        pitch,
        major: size.as_length(),
        pitch_diameter: pitch_diameter_60(size.as_length(), pitch),
        minor: minor_diameter_60(size.as_length(), pitch),
        taper_lengths: None,
        source: table.source(None),
        detail: Detail::Metric,
    }
});

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Series {
    Unf,
    Un,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawUnified {
    size: String,
    per_inch: f64,
    series: Series,
    source: Option<String>,
}

data!(static UNIFIED: ThreadSize = "threads-unified.toml", RawUnified, |table, raw| {
    let (size, pitch) = (nominal(table.file, &raw.size), pitch_of(raw.per_inch));
    ThreadSize {
        family: Family::Unified,
        size,
        per_inch: Some(raw.per_inch),
        pitch,
        major: size.as_length(),
        pitch_diameter: pitch_diameter_60(size.as_length(), pitch),
        minor: minor_diameter_60(size.as_length(), pitch),
        taper_lengths: None,
        source: table.source(raw.source.as_deref()),
        detail: Detail::Unified { fine: matches!(raw.series, Series::Unf) },
    }
});

pub(crate) struct Constant {
    what: String,
    pub(crate) value: [f64; 2],
    pub(crate) source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawConstant {
    what: String,
    value: [f64; 2],
    source: Option<String>,
}

data!(static CONSTANTS: Constant = "threads-constants.toml", RawConstant, |table, raw| Constant {
    what: raw.what,
    value: raw.value,
    source: table.source(raw.source.as_deref()),
});

pub(crate) fn constant(what: &str) -> &'static Constant {
    let row = CONSTANTS.rows.iter().find(|row| row.what == what);
    // OK because every name is written in this crate and a test asks for each.
    row.unwrap_or_else(|| panic!("threads-constants.toml has no `{what}`"))
}

/// All sizes by family. R, Rc and Rp take their diameters from G.
static SIZES: LazyLock<BTreeMap<Family, Vec<ThreadSize>>> = LazyLock::new(|| {
    let taper = |family: Family| {
        let of = |row: &RLengths| {
            let basic = G.rows.iter().find(|basic| basic.size == row.size);
            // OK because a test checks that every size of R is one of G.
            let basic = basic.expect("every size of R is one of G");
            ThreadSize {
                family,
                taper_lengths: Some(row.lengths),
                ..basic.clone()
            }
        };
        R.rows.iter().map(of).collect::<Vec<_>>()
    };
    BTreeMap::from(Family::ALL.map(|family| {
        let sizes = match family {
            Family::G => G.rows.clone(),
            Family::R | Family::Rc | Family::Rp => taper(family),
            Family::Npt => NPT.rows.clone(),
            Family::Npsm => NPSM.rows.clone(),
            Family::Metric => METRIC.rows.clone(),
            Family::Unified => UNIFIED.rows.clone(),
        };
        (family, sizes)
    }))
});

/// The sizes of a family, by diameter. Unit: m. Range: see [`ThreadSize`]. Source: each size's own.
pub fn sizes(family: Family) -> &'static [ThreadSize] {
    SIZES.get(&family).map_or(&[], Vec::as_slice)
}

/// One size of a family; for a metric thread its pitch must be given as well, and may be for the
/// others.
/// Unit: m. Range: the sizes of [`sizes`]. Source: the size's own.
pub fn size(
    family: Family,
    size: NominalSize,
    pitch: Option<Length>,
) -> Option<&'static ThreadSize> {
    // Pitches of one diameter differ by far more than a hundredth of a millimetre.
    let same_pitch = |found: &ThreadSize| match pitch {
        Some(pitch) => (found.pitch - pitch).to_mm().abs() < 0.01,
        None => family != Family::Metric,
    };
    sizes(family)
        .iter()
        .find(|found| found.size == size && same_pitch(found))
}

/// Tolerances of G by turns to the inch. Unit: m. Range: 11 to 28 turns. Source: ISO 228-1, from memory.
pub fn g_tolerance(per_inch: f64) -> Option<&'static GTolerance> {
    G_TOLERANCES
        .rows
        .iter()
        .find(|row| (row.per_inch - per_inch).abs() < 1e-9)
}

/// Both ways round a middle.
fn around(middle: Length, either_way: Length) -> Limits<Length> {
    Limits {
        low: middle - either_way,
        high: middle + either_way,
    }
}

impl ThreadSize {
    /// Name as it is written: `G 1/2`, `1/2 NPT`, `M22x1.5`, `7/8-14`. Unit: none. Range: text. Source: the standards.
    pub fn designation(&self) -> String {
        let shown = self.size.to_string();
        let bare = shown
            .trim_end_matches(" in")
            .trim_end_matches(" mm")
            .replace(' ', "-");
        match self.family {
            Family::G | Family::R | Family::Rc | Family::Rp => {
                format!("{} {bare}", self.family.name())
            }
            Family::Npt | Family::Npsm => format!("{bare} {}", self.family.name()),
            Family::Metric => format!("M{bare}x{}", (self.pitch.to_mm() * 1000.0).round() / 1000.0),
            Family::Unified => format!("{bare}-{}", self.per_inch.unwrap_or_default()),
        }
    }

    /// Length over ten pitches, which is what an owner measures. Unit: m. Range: 9 to 24 mm. Source: [`ThreadSize::pitch`].
    pub fn ten_pitches(&self) -> Length {
        self.pitch * 10.0
    }

    /// Outside diameter that a sound male shows at a distance from its small end; on a parallel
    /// thread the distance has no say.
    ///
    /// # Errors
    /// [`Unknown`] for families without males, and beyond the useful length of a taper thread.
    ///
    /// Unit: m. Range: 9.5 to 60.3 mm. Source: the size's own; tolerances of G, R and NPSM from
    /// memory, of metric and unified threads by their formulas.
    pub fn male_crest(&self, from_end: Length) -> Result<Sourced<Limits<Length>>, Unknown> {
        let (value, source) = match self.detail {
            Detail::Whitworth => match self.family {
                Family::Rc | Family::Rp => return Err(self.no_such_sex(ThreadSex::Male)),
                Family::R => {
                    let (lengths, at) = self.along(from_end)?;
                    let off = lengths.plus_minus * TAPER;
                    (around(self.major + at, off), lengths.source)
                }
                _ => {
                    let tolerance = self.tolerance()?;
                    let (low, high) = (self.major - tolerance.major, self.major);
                    (Limits { low, high }, tolerance.source)
                }
            },
            Detail::Npt { truncation } => {
                let (lengths, at) = self.along(from_end)?;
                let mut crest = around(self.major + at, lengths.plus_minus * TAPER);
                crest.low = crest.low - self.cut_off(truncation);
                (crest, lengths.source)
            }
            Detail::Npsm { major, .. } => (major, self.source),
            Detail::Metric => (metric_male_major(self.major, self.pitch), self.source),
            Detail::Unified { fine } => {
                let limits = unified_male_major(self.major, self.pitch, fine);
                (limits, self.source)
            }
        };
        Ok(Sourced { value, source })
    }

    /// Bore that a sound female shows at a distance from its face; on a parallel thread the
    /// distance has no say.
    ///
    /// # Errors
    /// [`Unknown`] for families without females, and beyond the useful length of a taper thread.
    ///
    /// Unit: m. Range: 8.4 to 58.2 mm. Source: as for [`ThreadSize::male_crest`].
    pub fn female_crest(&self, from_face: Length) -> Result<Sourced<Limits<Length>>, Unknown> {
        let (value, source) = match self.detail {
            Detail::Whitworth => {
                let off = constant("iso-7-female-turns");
                let either_way = self.pitch * (TAPER * off.value[0]);
                match self.family {
                    Family::R => return Err(self.no_such_sex(ThreadSex::Female)),
                    Family::Rp => (around(self.minor, either_way), off.source),
                    Family::Rc => {
                        self.along(from_face)?;
                        let at = self.minor - from_face * TAPER;
                        (around(at, either_way), off.source)
                    }
                    _ => {
                        let tolerance = self.tolerance()?;
                        let (low, high) = (self.minor, self.minor + tolerance.minor);
                        (Limits { low, high }, tolerance.source)
                    }
                }
            }
            Detail::Npt { truncation } => {
                let (lengths, _) = self.along(from_face)?;
                let at = self.minor - from_face * TAPER;
                let mut crest = around(at, lengths.plus_minus * TAPER);
                crest.high = crest.high + self.cut_off(truncation);
                (crest, lengths.source)
            }
            Detail::Npsm { minor, .. } => (minor, self.source),
            Detail::Metric => (metric_female_minor(self.major, self.pitch), self.source),
            Detail::Unified { .. } => (unified_female_minor(self.major, self.pitch), self.source),
        };
        Ok(Sourced { value, source })
    }

    /// By what more than the least truncation may be off a diameter: both crests.
    fn cut_off(&self, truncation: Length) -> Length {
        (truncation - self.pitch * constant("npt-least-truncation").value[0]) * 2.0
    }

    fn tolerance(&self) -> Result<&'static GTolerance, Unknown> {
        let found = self.per_inch.and_then(g_tolerance);
        found.ok_or_else(|| {
            Unknown::new(
                format!("no tolerance is known for {}", self.designation()),
                "the thread standard's table",
            )
        })
    }

    /// Lengths of a taper thread, and the change of its diameter from the gauge plane to a
    /// distance from the small end (or, for a female, from the face inward).
    fn along(&self, distance: Length) -> Result<(TaperLengths, Length), Unknown> {
        let lengths = self.taper_lengths.ok_or_else(|| {
            Unknown::new(
                format!("{} has no taper", self.designation()),
                "its diameter anywhere along it",
            )
        })?;
        if distance < Length::mm(0.0) || distance > lengths.useful {
            return Err(Unknown::new(
                format!(
                    "{:.1} mm along, {} is not cut full: its full thread is {:.1} mm long",
                    distance.to_mm(),
                    self.designation(),
                    lengths.useful.to_mm()
                ),
                "a diameter nearer the end",
            ));
        }
        Ok((lengths, (distance - lengths.hand_tight) * TAPER))
    }

    fn no_such_sex(&self, sex: ThreadSex) -> Unknown {
        let (none, other) = match sex {
            ThreadSex::Male => ("male", "female"),
            ThreadSex::Female => ("female", "male"),
        };
        Unknown::new(
            format!("{} names only {other} threads", self.family.name()),
            format!("the family of the {none} thread: pitch and two diameters"),
        )
    }
}

data!(static FACTS: Fact = "threads-facts.toml", RawFact, fact);

/// Facts about threads. Unit: none. Range: the rows of the file. Source: each row's own.
pub fn thread_facts() -> &'static [Fact] {
    &FACTS.rows
}

/// One fact by its short name. Unit: none. Range: the names in the file. Source: the row's own.
pub fn thread_fact(id: &str) -> Option<&'static Fact> {
    FACTS.rows.iter().find(|fact| fact.id == id)
}

pub(crate) fn tables() -> Vec<&'static Table> {
    vec![
        &G.table,
        &G_TOLERANCES.table,
        &R.table,
        &NPT.table,
        &NPSM.table,
        &METRIC.table,
        &UNIFIED.table,
        &CONSTANTS.table,
        &FACTS.table,
    ]
}
