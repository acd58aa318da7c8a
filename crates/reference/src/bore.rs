//! Bores, walls and cut ends of hose, by size and way of making.

use quantity::{Length, NominalSize};
use serde::Deserialize;

use crate::hose::HoseKind;
use crate::source::{Limits, SourceRef, Sourced, Unknown};
use crate::table::{Table, data, limits_mm, nominal};

/// What shapes a hose's bore while it is made, which decides how true the bore is.
/// Unit: none. Range: the three below. Source: EN ISO 1307:2008.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Make {
    /// Built on a steel bar: the truest.
    RigidMandrel,
    /// Built on a flexible core.
    FlexibleMandrel,
    /// Extruded without a core.
    NoMandrel,
}

/// One nominal size and the limits of its bore.
/// Unit: mm. Range: 3.2 to 100 mm. Source: EN ISO 1307:2008, by a hose maker's page.
#[derive(Clone, Debug, PartialEq)]
pub struct StandardBore {
    /// Size by name. Unit: mm. Range: 3.2 to 100 mm. Source: `source`.
    pub nominal: NominalSize,
    /// Built on a rigid mandrel. Unit: m. Range: all rows. Source: `source`.
    pub rigid_mandrel: Option<Limits<Length>>,
    /// Built on a flexible mandrel. Unit: m. Range: 4 to 40 mm. Source: `source`.
    pub flexible_mandrel: Option<Limits<Length>>,
    /// Built without one. Unit: m. Range: not all rows. Source: `source`.
    pub no_mandrel: Option<Limits<Length>>,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

impl StandardBore {
    /// Limits for one way of making. Unit: m. Range: `None` where the standard has none. Source: `source`.
    pub fn limits(&self, make: Make) -> Option<Limits<Length>> {
        match make {
            Make::RigidMandrel => self.rigid_mandrel,
            Make::FlexibleMandrel => self.flexible_mandrel,
            Make::NoMandrel => self.no_mandrel,
        }
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawBore {
    nominal: String,
    rigid_mandrel: Option<[f64; 2]>,
    flexible_mandrel: Option<[f64; 2]>,
    no_mandrel: Option<[f64; 2]>,
}

data!(static BORES: StandardBore = "hose-bores.toml", RawBore, |table, raw| StandardBore {
    nominal: nominal(table.file, &raw.nominal),
    rigid_mandrel: raw.rigid_mandrel.map(limits_mm),
    flexible_mandrel: raw.flexible_mandrel.map(limits_mm),
    no_mandrel: raw.no_mandrel.map(limits_mm),
    source: table.source(None),
});

/// All sizes of EN ISO 1307, smallest first.
/// Unit: mm. Range: 3.2 to 100 mm. Source: EN ISO 1307:2008, by a hose maker's page.
pub fn standard_bores() -> &'static [StandardBore] {
    &BORES.rows
}

/// A bore in which coolant hose is sold.
/// Unit: mm or inch. Range: 8 to 80 mm. Source: common practice; inch sizes worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct SoldBore {
    /// Size by name. Unit: mm or inch. Range: 8 to 80 mm. Source: `source`.
    pub nominal: NominalSize,
    /// The length that the name says. Unit: m. Range: 8 to 80 mm. Source: 1 in = 25.4 mm.
    pub bore: Length,
    /// The size of EN ISO 1307 whose limits it falls under. Unit: mm. Range: `None` where no row holds it. Source: `source`.
    pub row: Option<NominalSize>,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawSold {
    nominal: String,
    row: Option<String>,
    source: Option<String>,
}

data!(static SOLD: SoldBore = "hose-bores-sold.toml", RawSold, |table, raw| {
    let name = nominal(table.file, &raw.nominal);
    SoldBore {
        nominal: name,
        bore: name.as_length(),
        row: raw.row.as_deref().map(|row| nominal(table.file, row)),
        source: table.source(raw.source.as_deref()),
    }
});

/// Bores in which coolant hose is sold, metric and inch, smallest first.
/// Unit: mm or inch. Range: 8 to 80 mm. Source: common practice; inch sizes worked out.
pub fn sold_bores() -> &'static [SoldBore] {
    &SOLD.rows
}

/// The row of EN ISO 1307 for a size: its own, or the one a sold size falls under.
fn row_of(size: NominalSize) -> Option<&'static StandardBore> {
    let own = |size: NominalSize| standard_bores().iter().find(|bore| bore.nominal == size);
    own(size).or_else(|| {
        let sold = sold_bores().iter().find(|sold| sold.nominal == size)?;
        own(sold.row?)
    })
}

fn no_bore(size: NominalSize) -> Unknown {
    Unknown::new(
        format!(
            "EN ISO 1307 has no hose of {:.2} mm",
            size.as_length().to_mm()
        ),
        "the bore of the hose itself, by caliper or a stepped gauge",
    )
}

/// Between what limits the bore of a hose lies, by its nominal size and way of making.
///
/// # Errors
/// [`Unknown`] where the standard has no such size, or not made so.
///
/// Unit: m. Range: the sizes of [`standard_bores`] and the sold sizes that fall under them.
/// Source: EN ISO 1307:2008, by a hose maker's page.
pub fn bore_limits(size: NominalSize, make: Make) -> Result<Sourced<Limits<Length>>, Unknown> {
    let row = row_of(size).ok_or_else(|| no_bore(size))?;
    let value = row.limits(make).ok_or_else(|| no_bore(size))?;
    Ok(Sourced {
        value,
        source: row.source,
    })
}

/// As [`bore_limits`], where it is not known how the hose was made: the widest of the limits.
///
/// # Errors
/// [`Unknown`] where the standard has no such size.
///
/// Unit: m. Range: as [`bore_limits`]. Source: EN ISO 1307:2008, by a hose maker's page.
pub fn widest_bore_limits(size: NominalSize) -> Result<Sourced<Limits<Length>>, Unknown> {
    let row = row_of(size).ok_or_else(|| no_bore(size))?;
    let all = [row.rigid_mandrel, row.flexible_mandrel, row.no_mandrel];
    let low = all.iter().flatten().map(|limits| limits.low).min();
    let high = all.iter().flatten().map(|limits| limits.high).max();
    match (low, high) {
        (Some(low), Some(high)) => Ok(Sourced {
            value: Limits { low, high },
            source: row.source,
        }),
        _ => Err(no_bore(size)),
    }
}

/// Tolerance class of rubber built on a mandrel. The print on a hose does not name it.
/// Unit: none. Range: the three below. Source: ISO 3302-1, by a rubber supplier's page.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MandrelClass {
    /// EN1.
    Fine,
    /// EN2.
    Medium,
    /// EN3.
    Coarse,
}

struct GeneralTolerance {
    over: Length,
    to: Length,
    plus_minus: [Length; 3],
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawGeneral {
    over: f64,
    to: f64,
    plus_minus: [f64; 3],
}

data!(static GENERAL: GeneralTolerance = "hose-bores-general.toml", RawGeneral, |table, raw| GeneralTolerance {
    over: Length::mm(raw.over),
    to: Length::mm(raw.to),
    plus_minus: raw.plus_minus.map(Length::mm),
    source: table.source(None),
});

/// Plus and minus on any bore of hose built on a mandrel, for sizes that EN ISO 1307 does not list.
///
/// # Errors
/// [`Unknown`] outside the range.
///
/// Unit: m. Range: bores over 4 mm up to 63 mm. Source: ISO 3302-1, by a rubber supplier's page.
pub fn general_bore_tolerance(
    bore: Length,
    class: MandrelClass,
) -> Result<Sourced<Length>, Unknown> {
    let row = GENERAL
        .rows
        .iter()
        .find(|row| row.over < bore && bore <= row.to)
        .ok_or_else(|| {
            Unknown::new(
                format!("no general tolerance for a bore of {:.1} mm", bore.to_mm()),
                "the bore of the hose itself, by caliper or a stepped gauge",
            )
        })?;
    Ok(Sourced {
        value: row.plus_minus[class as usize],
        source: row.source,
    })
}

/// How far below the nominal size the bore of moulded coolant hose lies.
/// Unit: mm. Range: 0.1 to 2 mm below. Source: DIN 73411-1:1996; which pair goes with which bore was not legible.
#[derive(Clone, Debug, PartialEq)]
pub struct CoolantDeviation {
    /// For which clip: any, or self-tensioning. Unit: none. Range: text. Source: `source`.
    pub clip: String,
    /// Least and most below the nominal size. Unit: m. Range: 0.1 to 2 mm. Source: `source`.
    pub below: Limits<Length>,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawDeviation {
    clip: String,
    below: [f64; 2],
}

data!(static DEVIATIONS: CoolantDeviation = "hose-bores-coolant.toml", RawDeviation, |table, raw| CoolantDeviation {
    clip: raw.clip,
    below: limits_mm(raw.below),
    source: table.source(None),
});

/// Bore deviations of moulded coolant hose. They show how such hose runs; none may be picked for a bore.
/// Unit: mm. Range: 0.1 to 2 mm below. Source: DIN 73411-1:1996, from a poor scan.
pub fn coolant_deviations() -> &'static [CoolantDeviation] {
    &DEVIATIONS.rows
}

struct Wall {
    kind: HoseKind,
    bore: Option<Limits<Length>>,
    wall: Limits<Length>,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawWall {
    kind: HoseKind,
    bore: Option<[f64; 2]>,
    wall: [f64; 2],
}

data!(static WALLS: Wall = "hose-walls.toml", RawWall, |table, raw| Wall {
    kind: raw.kind,
    bore: raw.bore.map(limits_mm),
    wall: limits_mm(raw.wall),
    source: table.source(None),
});

/// The usual wall of a hose. It stands in for a measured wall only where the owner says `assume`.
/// A bore between two rows gets the span of both.
///
/// # Errors
/// [`Unknown`] for a build or a bore of which nothing usual is known.
///
/// Unit: m. Range: bores 13 to 51 mm for EPDM with fabric; every bore for silicone with fabric and
/// wire helix. Source: common practice, no source.
pub fn wall(kind: HoseKind, bore: Length) -> Result<Sourced<Limits<Length>>, Unknown> {
    let rows = || WALLS.rows.iter().filter(|row| row.kind == kind);
    let holds = |row: &&Wall| row.bore.is_none_or(|limits| limits.contains(bore));
    if let Some(row) = rows().find(holds) {
        return Ok(Sourced {
            value: row.wall,
            source: row.source,
        });
    }
    let below = rows().rfind(|row| row.bore.is_some_and(|limits| limits.high < bore));
    let above = rows().find(|row| row.bore.is_some_and(|limits| limits.low > bore));
    match (below, above) {
        (Some(below), Some(above)) => {
            let low = below.wall.low.min(above.wall.low);
            let high = below.wall.high.max(above.wall.high);
            Ok(Sourced {
                value: Limits { low, high },
                source: below.source,
            })
        }
        _ => Err(Unknown::new(
            format!(
                "no usual wall for {} of {:.1} mm bore",
                kind.name(),
                bore.to_mm()
            ),
            "the wall or the outside diameter of the hose itself",
        )),
    }
}

/// A wall of moulded coolant hose, with its tolerance.
/// Unit: mm. Range: 3.3 to 6 mm. Source: DIN 73411-1:1996, from a poor scan.
#[derive(Clone, Debug, PartialEq)]
pub struct CoolantWall {
    /// For which vehicle. Unit: none. Range: text. Source: `source`.
    pub vehicle: String,
    /// The wall. Unit: m. Range: 3.3 to 6 mm. Source: `source`.
    pub wall: Length,
    /// Plus and minus. Unit: m. Range: 0.4 to 0.8 mm. Source: `source`.
    pub plus_minus: Length,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawCoolantWall {
    vehicle: String,
    wall: f64,
    plus_minus: f64,
}

data!(static COOLANT_WALLS: CoolantWall = "hose-walls-coolant.toml", RawCoolantWall, |table, raw| CoolantWall {
    vehicle: raw.vehicle,
    wall: Length::mm(raw.wall),
    plus_minus: Length::mm(raw.plus_minus),
    source: table.source(None),
});

/// Walls of moulded coolant hose. Unit: mm. Range: 3.3 to 6 mm. Source: DIN 73411-1:1996, from a poor scan.
pub fn coolant_walls() -> &'static [CoolantWall] {
    &COOLANT_WALLS.rows
}

/// Heater hose of standard wall.
/// Unit: m. Range: bores of 5 to under 9 mm. Source: summary page of SAE J2387, type 20R3.
#[derive(Clone, Debug, PartialEq)]
pub struct HeaterHose {
    /// For these bores. Unit: m. Range: 5 to under 9 mm. Source: `source`.
    pub bore: Limits<Length>,
    /// Plus and minus on the bore. Unit: m. Range: 0.8 mm. Source: `source`.
    pub bore_plus_minus: Length,
    /// Outside diameter less the largest bore. Unit: m. Range: 7 mm. Source: `source`.
    pub od_over_bore: Length,
    /// Plus and minus on the outside diameter. Unit: m. Range: 0.8 mm. Source: `source`.
    pub od_plus_minus: Length,
    /// The wall, about. Unit: m. Range: 3.5 mm. Source: `source`.
    pub wall: Length,
    /// How far the wall may vary round one section. Unit: m. Range: 1 mm. Source: `source`.
    pub wall_variation: Length,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawHeater {
    bore: [f64; 2],
    bore_plus_minus: f64,
    od_over_bore: f64,
    od_plus_minus: f64,
    wall: f64,
    wall_variation: f64,
}

data!(static HEATERS: HeaterHose = "hose-heater.toml", RawHeater, |table, raw| HeaterHose {
    bore: limits_mm(raw.bore),
    bore_plus_minus: Length::mm(raw.bore_plus_minus),
    od_over_bore: Length::mm(raw.od_over_bore),
    od_plus_minus: Length::mm(raw.od_plus_minus),
    wall: Length::mm(raw.wall),
    wall_variation: Length::mm(raw.wall_variation),
    source: table.source(None),
});

/// The standard's row for heater hose of a bore.
/// Unit: m. Range: bores of 5 to under 9 mm; the other rows were not to be had. Source: summary page of SAE J2387, type 20R3.
pub fn heater_hose(bore: Length) -> Option<&'static HeaterHose> {
    HEATERS.rows.iter().find(|row| row.bore.contains(bore))
}

struct Cut {
    to: Option<Length>,
    plus_minus: Option<Length>,
    share: Option<f64>,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawCut {
    to: Option<f64>,
    plus_minus: Option<f64>,
    share: Option<f64>,
}

data!(static CUTS: Cut = "hose-cuts.toml", RawCut, |table, raw| Cut {
    to: raw.to.map(Length::mm),
    plus_minus: raw.plus_minus.map(Length::mm),
    share: raw.share.map(|percent| percent / 100.0),
    source: table.source(None),
});

/// Plus and minus on a length of hose cut from stock by a hose maker.
/// Unit: m. Range: every length; 1 % above 1.83 m. Source: rubber hose handbook IP-2 (2003).
pub fn cut_length_tolerance(length: Length) -> Sourced<Length> {
    let row = CUTS
        .rows
        .iter()
        .find(|row| row.to.is_none_or(|to| length <= to));
    // OK because a test checks that the last row has no end and a share.
    let row = row.expect("the last row of cut lengths has no end");
    let value = row
        .plus_minus
        .unwrap_or_else(|| length * row.share.unwrap_or_default());
    Sourced {
        value,
        source: row.source,
    }
}

struct Square {
    to_bore: Length,
    out: Length,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawSquare {
    to_bore: f64,
    out: f64,
}

data!(static SQUARENESS: Square = "hose-squareness.toml", RawSquare, |table, raw| Square {
    to_bore: Length::mm(raw.to_bore),
    out: Length::mm(raw.out),
    source: table.source(None),
});

/// How far out of square a cut end may be.
///
/// # Errors
/// [`Unknown`] over 152 mm bore.
///
/// Unit: m. Range: bores up to 152 mm. Source: rubber hose handbook IP-2 (2003).
pub fn end_squareness(bore: Length) -> Result<Sourced<Length>, Unknown> {
    let row = SQUARENESS.rows.iter().find(|row| bore <= row.to_bore);
    row.map(|row| Sourced {
        value: row.out,
        source: row.source,
    })
    .ok_or_else(|| {
        Unknown::new(
            format!(
                "the handbook gives no squareness for a bore of {:.0} mm",
                bore.to_mm()
            ),
            "the end itself, with a try square",
        )
    })
}

pub(crate) fn tables() -> Vec<&'static Table> {
    vec![
        &BORES.table,
        &SOLD.table,
        &GENERAL.table,
        &DEVIATIONS.table,
        &WALLS.table,
        &COOLANT_WALLS.table,
        &HEATERS.table,
        &CUTS.table,
        &SQUARENESS.table,
    ]
}
