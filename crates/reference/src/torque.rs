//! How hard a clip is tightened. Sources differ by more than twice, so all are kept: one row is
//! recommended and the others stand beside it.

use std::f64::consts::PI;

use quantity::{Length, PressureDifference, Quantity, Ratio, Torque};
use serde::Deserialize;

use crate::clip::ClipKind;
use crate::source::{Limits, SourceRef, Unknown};
use crate::table::{Table, data, limits, limits_mm};

/// Whether a hose end is new. Rubber that has taken a set wants less torque.
/// Unit: none. Range: the two below. Source: an engine maker's torque page.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum HoseEnd {
    /// Fitted for the first time.
    New,
    /// Fitted again.
    Reused,
}

/// Whether a clip has springs that keep its tension.
/// Unit: none. Range: the two below. Source: the trade's words.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ClipForm {
    /// Screw or bolt alone.
    #[default]
    Plain,
    /// With disc springs under the screw: constant tension.
    DiscSpring,
}

/// What a torque is for.
/// Unit: none. Range: the two below. Source: this crate.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum TorqueUse {
    /// To tighten to.
    #[default]
    Tighten,
    /// What the clip must stand on a steel mandrel: no torque for a hose.
    Survive,
}

/// One source's torque.
/// Unit: N m. Range: 0.5 to 12 N m. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct TorqueRow {
    /// For this kind. Unit: none. Range: see [`ClipKind`]. Source: `source`.
    pub kind: ClipKind,
    /// With or without disc springs. Unit: none. Range: see [`ClipForm`]. Source: `source`.
    pub form: ClipForm,
    /// What it is for. Unit: none. Range: see [`TorqueUse`]. Source: `source`.
    pub used_as: TorqueUse,
    /// What the source says it is for. Unit: none. Range: text. Source: `source`.
    pub words: String,
    /// For these bands; any where none is said. Unit: m. Range: 5 to 30 mm. Source: `source`.
    pub band: Option<Limits<Length>>,
    /// For these diameters; any where none is said. Unit: m. Range: 6 to 232 mm. Source: `source`.
    pub diameter: Option<Limits<Length>>,
    /// For a new or a reused end; either where none is said. Unit: none. Range: see [`HoseEnd`]. Source: `source`.
    pub hose: Option<HoseEnd>,
    /// The torque, with its plus and minus. Unit: N m. Range: 0.5 to 12 N m. Source: `source`.
    pub torque: Limits<Torque>,
    /// From here the clip breaks. Unit: N m. Range: 6.8 N m, or unsaid. Source: `source`.
    pub breaks_from: Option<Torque>,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawTorque {
    kind: ClipKind,
    words: String,
    #[serde(default)]
    form: ClipForm,
    #[serde(default, rename = "use")]
    used_as: TorqueUse,
    band: Option<[f64; 2]>,
    diameter: Option<[f64; 2]>,
    hose: Option<HoseEnd>,
    torque: [f64; 2],
    breaks_from: Option<f64>,
    source: Option<String>,
}

data!(static TORQUES: TorqueRow = "clip-torques.toml", RawTorque, |table, raw| TorqueRow {
    kind: raw.kind,
    form: raw.form,
    used_as: raw.used_as,
    words: raw.words,
    band: raw.band.map(limits_mm),
    diameter: raw.diameter.map(limits_mm),
    hose: raw.hose,
    torque: limits(raw.torque, Torque::n_m),
    breaks_from: raw.breaks_from.map(Torque::n_m),
    source: table.source(raw.source.as_deref()),
});

/// All rows. Unit: N m. Range: 0.5 to 12 N m. Source: each row's own.
pub fn torque_rows() -> &'static [TorqueRow] {
    &TORQUES.rows
}

/// What the sources say for one clip.
/// Unit: N m. Range: 0.5 to 12 N m. Source: each row's own.
#[derive(Clone, Debug, PartialEq)]
pub struct Torques {
    /// The row that says most about this very clip. Unit: N m. Range: 0.5 to 12 N m. Source: its own.
    pub recommended: &'static TorqueRow,
    /// The other rows that hold for it. Unit: N m. Range: 0.5 to 12 N m. Source: their own.
    pub others: Vec<&'static TorqueRow>,
}

/// The torques that sources give for a clip.
///
/// Recommended is the row that names both the state of the hose end and the band; after that one
/// that names the end, the band, or neither; among equals the one that stands first in the file.
/// A row that names a band holds only for a clip whose band is known.
///
/// # Errors
/// [`Unknown`] for clips that are closed by pincers or by their own spring, and where no row holds.
///
/// Unit: N m. Range: worm drive with bands 5 to 30 mm or up to 102 mm; T-bolt of any size. Source: each row's own.
pub fn torques(
    kind: ClipKind,
    form: ClipForm,
    band: Option<Length>,
    diameter: Length,
    hose: HoseEnd,
) -> Result<Torques, Unknown> {
    match kind {
        ClipKind::WormDrive | ClipKind::TBolt => {}
        ClipKind::SingleEar | ClipKind::TwoEar => {
            return Err(Unknown::new(
                format!("a {} is closed by pincers, not by torque", kind.name()),
                "how far the ear is closed",
            ));
        }
        ClipKind::SpringBand => {
            return Err(Unknown::new(
                "a spring band holds by its own spring",
                "its size against the hose as fitted",
            ));
        }
    }
    let holds = |row: &&TorqueRow| {
        row.kind == kind
            && row.form == form
            && row.used_as == TorqueUse::Tighten
            && row.hose.is_none_or(|end| end == hose)
            && row
                .band
                .is_none_or(|limits| band.is_some_and(|band| limits.contains(band)))
            && row.diameter.is_none_or(|limits| limits.contains(diameter))
    };
    let mut rows: Vec<&'static TorqueRow> = torque_rows().iter().filter(holds).collect();
    // A stable sort keeps the order of the file among equals.
    rows.sort_by_key(|row| (row.hose.is_none(), row.band.is_none()));
    let mut rows = rows.into_iter();
    match rows.next() {
        Some(recommended) => Ok(Torques {
            recommended,
            others: rows.collect(),
        }),
        None => Err(Unknown::new(
            format!("no source gives a torque for this {}", kind.name()),
            "the torque in the clip maker's sheet, or the width of the band",
        )),
    }
}

/// What a clip of a band must stand on a steel mandrel, by its screw. Nothing to tighten a hose to.
/// Unit: N m. Range: empty where no standard says. Source: SAE J1508 type F, by a clip maker's page.
pub fn must_survive(kind: ClipKind, band: Length) -> Vec<&'static TorqueRow> {
    let holds = |row: &&TorqueRow| {
        row.kind == kind
            && row.used_as == TorqueUse::Survive
            && row.band.is_none_or(|limits| limits.contains(band))
    };
    torque_rows().iter().filter(holds).collect()
}

/// Pressure between band and hose under a tightened worm-drive clip.
///
/// Source: work of the screw against the band, worked out. Formula: T = 2π η M / lead, p = 2 T/(D b).
/// Uncertainty: the efficiency η of a dry worm is 0.1 to 0.2, so the result is an order of
/// magnitude. Doubts: friction between band and hose, which lowers it away from the screw, is left out.
///
/// # Errors
/// [`Unknown`] where lead, diameter or band is not over zero.
///
/// Unit: Pa. Range: over 0. Source: worked out.
pub fn contact_pressure(
    torque: Torque,
    lead: Length,
    efficiency: Ratio,
    diameter: Length,
    band: Length,
) -> Result<PressureDifference, Unknown> {
    let zero = Length::mm(0.0);
    let pressure = || {
        let tension = 2.0 * PI * efficiency.to_f64() * torque.to_n_m() / lead.to_m();
        PressureDifference::from_si(2.0 * tension / (diameter * band).to_m2())
    };
    let sound = lead > zero && diameter > zero && band > zero;
    sound.then(pressure).flatten().ok_or_else(|| {
        Unknown::new(
            "lead, diameter and band must be over zero",
            "the clip's band and the pitch of its slots",
        )
    })
}

pub(crate) fn tables() -> Vec<&'static Table> {
    vec![&TORQUES.table]
}
