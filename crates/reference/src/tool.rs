//! The free room that hand tools need at a clip.

use quantity::{Angle, Length};
use serde::Deserialize;

use crate::clip::{ClipKind, worm_housing};
use crate::source::{Limits, SourceRef};
use crate::table::{Table, data, limits_mm};

/// Tools that close a clip.
/// Unit: none. Range: the nine below. Source: the trade's words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Tool {
    /// Flat or hexagon screwdriver.
    Screwdriver,
    /// The same with a short blade.
    StubbyDriver,
    /// Nut driver of 7 or 8 mm.
    NutDriver,
    /// Driver with a flexible shaft.
    FlexibleDriver,
    /// Ratchet of 1/4 in with a socket to suit the screw or nut.
    Ratchet,
    /// Pincers that close an ear from the front.
    PincersFront,
    /// Pincers whose jaws lie beside the handles.
    PincersSide,
    /// Pliers for spring bands.
    BandPliers,
    /// Pliers for spring bands, worked through a cable.
    CablePliers,
}

impl Tool {
    /// All tools. Unit: none. Range: nine. Source: this crate.
    pub const ALL: [Self; 9] = [
        Self::Screwdriver,
        Self::StubbyDriver,
        Self::NutDriver,
        Self::FlexibleDriver,
        Self::Ratchet,
        Self::PincersFront,
        Self::PincersSide,
        Self::BandPliers,
        Self::CablePliers,
    ];

    /// The name for a reader. Unit: none. Range: text. Source: the trade's words.
    pub fn name(self) -> &'static str {
        match self {
            Self::Screwdriver => "screwdriver",
            Self::StubbyDriver => "stubby screwdriver",
            Self::NutDriver => "nut driver",
            Self::FlexibleDriver => "flexible driver",
            Self::Ratchet => "1/4 in ratchet with socket",
            Self::PincersFront => "pincers, front jaw",
            Self::PincersSide => "pincers, side jaw",
            Self::BandPliers => "spring-band pliers",
            Self::CablePliers => "spring-band pliers with cable",
        }
    }
}

/// From where a tool comes to the clip.
/// Unit: none. Range: the three below. Source: this crate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Approach {
    /// Along the screw: tangent to the hose, beside it.
    AlongScrew,
    /// Straight at the hose's centre line; jaws close along the circumference.
    Radial,
    /// Handles lie along the hose or tangent to it; jaws close along the circumference.
    AlongHose,
}

/// The free room that a tool needs.
/// Unit: m and rad. Range: see fields. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct Envelope {
    /// The tool. Unit: none. Range: see [`Tool`]. Source: `source`.
    pub tool: Tool,
    /// Kinds of clip that it closes. Unit: none. Range: see [`ClipKind`]. Source: `source`.
    pub kinds: Vec<ClipKind>,
    /// From where it comes. Unit: none. Range: see [`Approach`]. Source: `source`.
    pub approach: Approach,
    /// Along its axis from the clip, the hand included; for a flexible driver and a ratchet only
    /// what stands straight at the screw. Unit: m. Range: 40 to 250 mm. Source: `source`.
    pub length: Length,
    /// How much of that is a thin blade. Unit: m. Range: 150 mm, or unsaid. Source: `source`.
    pub blade: Option<Length>,
    /// Across its axis: the round hand, or the spread of the handles from closed to open.
    /// Unit: m. Range: 40 to 120 mm; a ratchet has its swing instead. Source: `source`.
    pub across: Option<Limits<Length>>,
    /// Above the hose, where handles lie along it. Unit: m. Range: 40 to 60 mm, or unsaid. Source: `source`.
    pub height: Option<Length>,
    /// By how much it may point beside the screw. Unit: rad. Range: 10 degrees, or unsaid. Source: `source`.
    pub off_axis: Option<Angle>,
    /// Least bend of a flexible shaft. Unit: m. Range: 75 to 100 mm, or unsaid. Source: `source`.
    pub bend_radius: Option<Limits<Length>>,
    /// How far from the clip the handle of a flexible driver may be. Unit: m. Range: 250 mm, or unsaid. Source: `source`.
    pub handle_within: Option<Length>,
    /// Radius that a ratchet's handle sweeps. Unit: m. Range: 150 mm, or unsaid. Source: `source`.
    pub swing: Option<Length>,
    /// Least arc of that sweep. Unit: rad. Range: 30 degrees, or unsaid. Source: `source`.
    pub least_arc: Option<Angle>,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawEnvelope {
    tool: Tool,
    kinds: Vec<ClipKind>,
    approach: Approach,
    length: f64,
    blade: Option<f64>,
    across: Option<[f64; 2]>,
    height: Option<f64>,
    off_axis: Option<f64>,
    bend_radius: Option<[f64; 2]>,
    handle_within: Option<f64>,
    swing: Option<f64>,
    least_arc: Option<f64>,
}

data!(static ENVELOPES: Envelope = "tool-envelopes.toml", RawEnvelope, |table, raw| Envelope {
    tool: raw.tool,
    kinds: raw.kinds,
    approach: raw.approach,
    length: Length::mm(raw.length),
    blade: raw.blade.map(Length::mm),
    across: raw.across.map(limits_mm),
    height: raw.height.map(Length::mm),
    off_axis: raw.off_axis.map(Angle::degrees),
    bend_radius: raw.bend_radius.map(limits_mm),
    handle_within: raw.handle_within.map(Length::mm),
    swing: raw.swing.map(Length::mm),
    least_arc: raw.least_arc.map(Angle::degrees),
    source: table.source(None),
});

/// The rooms of all tools. Unit: m and rad. Range: nine tools. Source: common practice.
pub fn envelopes() -> &'static [Envelope] {
    &ENVELOPES.rows
}

/// The room of one tool. Unit: m and rad. Range: every tool. Source: common practice.
pub fn envelope(tool: Tool) -> &'static Envelope {
    let row = ENVELOPES.rows.iter().find(|row| row.tool == tool);
    // OK because a test asks for every tool.
    row.expect("every tool stands in the file")
}

/// The tools that close a kind of clip. Unit: m and rad. Range: at least one for each kind. Source: common practice.
pub fn tools_for(kind: ClipKind) -> Vec<&'static Envelope> {
    ENVELOPES
        .rows
        .iter()
        .filter(|row| row.kinds.contains(&kind))
        .collect()
}

impl Envelope {
    /// The free room along the tool's axis, and across it: the hand, the handles when open, or
    /// the reach of a ratchet's handle from the screw. A flexible driver needs its straight
    /// length at the screw, and room for its handle anywhere within the given distance.
    /// Unit: m. Range: 40 to 250 mm along, 40 to 150 mm across. Source: worked out from its sizes.
    pub fn needed_room(&self) -> NeededRoom {
        NeededRoom {
            along: self.length,
            across: self.swing.or(self.across.map(|across| across.high)),
            handle_within: self.handle_within,
        }
    }
}

/// The free room of a tool in three figures.
/// Unit: m. Range: 40 to 250 mm. Source: [`Envelope::needed_room`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NeededRoom {
    /// Along the axis, from the clip. Unit: m. Range: 40 to 250 mm. Source: the envelope.
    pub along: Length,
    /// Across the axis; none for a flexible shaft, whose handle may lie anywhere. Unit: m. Range: 40 to 150 mm. Source: the envelope.
    pub across: Option<Length>,
    /// Where the handle of a flexible shaft must find room. Unit: m. Range: 250 mm, or none. Source: the envelope.
    pub handle_within: Option<Length>,
}

/// How far the axis of a worm-drive clip's screw lies from the hose's centre line.
/// Unit: m. Range: hoses of 8 to 130 mm. Source: common practice, half the hose as fitted and 6 mm.
pub fn screw_offset(fitted: Length) -> Length {
    fitted / 2.0 + Length::mm(6.0)
}

/// How far a worm-drive clip's housing reaches from the hose's centre line.
/// Unit: m. Range: hoses of 8 to 130 mm. Source: a clip maker's page of SAE J1508 type F.
pub fn housing_reach(fitted: Length) -> Length {
    fitted / 2.0 + worm_housing().height
}

/// An opening that a hand needs.
/// Unit: m. Range: 55 to 265 mm. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct Opening {
    /// Short name. Unit: none. Range: text. Source: this crate.
    pub id: String,
    /// What passes. Unit: none. Range: text. Source: `source`.
    pub says: String,
    /// Width. Unit: m. Range: 55 to 265 mm. Source: `source`.
    pub width: Length,
    /// Height. Unit: m. Range: 100 to 203 mm. Source: `source`.
    pub height: Length,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawOpening {
    what: String,
    width: f64,
    height: f64,
    says: String,
}

data!(static OPENINGS: Opening = "tool-openings.toml", RawOpening, |table, raw| Opening {
    id: raw.what,
    says: raw.says,
    width: Length::mm(raw.width),
    height: Length::mm(raw.height),
    source: table.source(None),
});

/// Openings that a hand needs, bare or with a tool. Unit: m. Range: the rows of the file. Source: MIL-STD-1472, from memory.
pub fn openings() -> &'static [Opening] {
    &OPENINGS.rows
}

pub(crate) fn tables() -> Vec<&'static Table> {
    vec![&ENVELOPES.table, &OPENINGS.table]
}
