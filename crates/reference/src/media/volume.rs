//! Inhibited coolant by volume: the published tables, with straight lines between their rows.
//!
//! What is printed ends at 100 °C. The rows from there to 125 °C are worked out from it, in a file of
//! their own whose source says so; a value that leans on one of them carries that source.

use std::sync::LazyLock;

use quantity::{Temperature, ThermalExpansion};
use serde::Deserialize;

use super::Glycol;
use crate::range::celsius;
use crate::source::{SourceRef, Sourced, Unknown};
use crate::table::{Table, data};

struct Freezing {
    glycol: Glycol,
    share: f64,
    freezes: f64,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawFreezing {
    glycol: Glycol,
    percent: f64,
    freezes: f64,
    source: Option<String>,
}

data!(from "../../data/", static FREEZING: Freezing = "glycol-freezing.toml", RawFreezing, |table, raw| Freezing {
    glycol: raw.glycol,
    share: raw.percent / 100.0,
    freezes: raw.freezes,
    source: table.source(raw.source.as_deref()),
});

/// The properties of the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Property {
    Density,
    Heat,
    Conductivity,
    LogViscosity,
}

/// The shares for which the table has columns, weakest first: tenths of the volume.
const COLUMNS: [f64; 6] = [0.1, 0.2, 0.3, 0.4, 0.5, 0.6];

struct Row {
    glycol: Glycol,
    celsius: f64,
    /// The first column that is liquid and in the table.
    first: usize,
    density: [f64; 6],
    heat: [f64; 6],
    conductivity: [f64; 6],
    log_viscosity: [f64; 6],
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawRow {
    glycol: Glycol,
    at: f64,
    first: usize,
    density: Vec<f64>,
    heat: Vec<f64>,
    conductivity: Vec<f64>,
    viscosity: Vec<f64>,
}

fn row(table: &Table, raw: RawRow) -> Row {
    let first = (raw.first / 10).saturating_sub(1);
    // OK because a test reads the files: a row of the wrong length never leaves the project.
    let cells = |given: &[f64]| {
        assert_eq!(
            given.len(),
            COLUMNS.len() - first,
            "{}: a row at {} °C",
            table.file,
            raw.at
        );
        let mut cells = [f64::NAN; 6];
        cells[first..].copy_from_slice(given);
        cells
    };
    Row {
        glycol: raw.glycol,
        celsius: raw.at,
        first,
        density: cells(&raw.density),
        heat: cells(&raw.heat),
        conductivity: cells(&raw.conductivity),
        log_viscosity: cells(&raw.viscosity).map(f64::ln),
        source: table.source(None),
    }
}

data!(from "../../data/", static ROWS: Row = "glycol-volume.toml", RawRow, row);
data!(from "../../data/", static HOT: Row = "glycol-volume-hot.toml", RawRow, row);

/// The rows of one glycol, coldest first, so many kelvins apart that the row below a temperature is
/// found by dividing.
struct Sheet(Vec<&'static Row>);

const STEP: f64 = 5.0;

impl Sheet {
    fn of(glycol: Glycol) -> Self {
        let rows: Vec<&Row> = ROWS.rows.iter().chain(&HOT.rows).collect();
        let rows: Vec<&Row> = rows
            .into_iter()
            .filter(|row| row.glycol == glycol)
            .collect();
        // OK because a test asks for both glycols: files with a gap never leave the project.
        assert!(
            rows.len() > 2
                && rows
                    .windows(2)
                    .all(|pair| pair[1].celsius - pair[0].celsius == STEP),
            "the rows of {glycol:?} are not {STEP} °C apart"
        );
        Self(rows)
    }

    fn coldest(&self) -> f64 {
        self.0[0].celsius
    }

    fn hottest(&self) -> f64 {
        self.0[self.0.len() - 1].celsius
    }

    /// The rows below and above a temperature; none outside the sheet.
    fn around(&self, celsius: f64) -> Option<(&'static Row, &'static Row)> {
        if !(self.coldest()..=self.hottest()).contains(&celsius) {
            return None;
        }
        // A temperature that stands in the sheet asks for no colder row.
        let below = ((celsius - self.coldest()) / STEP) as usize;
        let below = below.min(self.0.len() - 2);
        Some((self.0[below], self.0[below + 1]))
    }
}

static ETHYLENE: LazyLock<Sheet> = LazyLock::new(|| Sheet::of(Glycol::Ethylene));
static PROPYLENE: LazyLock<Sheet> = LazyLock::new(|| Sheet::of(Glycol::Propylene));

fn sheet(glycol: Glycol) -> &'static Sheet {
    match glycol {
        Glycol::Ethylene => &ETHYLENE,
        Glycol::Propylene => &PROPYLENE,
    }
}

/// The rows of one glycol, which stand together in the file, lowest first.
fn of<T>(rows: &[T], glycol: Glycol, is: impl Fn(&T) -> Glycol) -> &[T] {
    let first = rows.partition_point(|row| is(row) < glycol);
    let end = rows.partition_point(|row| is(row) <= glycol);
    &rows[first..end]
}

fn curve(glycol: Glycol) -> &'static [Freezing] {
    of(&FREEZING.rows, glycol, |row| row.glycol)
}

/// On the straight line through two points.
fn straight(x: f64, (x0, y0): (f64, f64), (x1, y1): (f64, f64)) -> f64 {
    y0 + (x - x0) / (x1 - x0) * (y1 - y0)
}

pub(super) fn freezes_at(glycol: Glycol, share: f64) -> Result<Sourced<Temperature>, Unknown> {
    let curve = curve(glycol);
    let after = curve.partition_point(|row| row.share < share).max(1);
    let (Some(one), Some(other)) = (curve.get(after - 1), curve.get(after)) else {
        return Err(Unknown::new(
            format!(
                "the tables of {} end at 60 per cent by volume; richer mixes freeze sooner again",
                glycol.name()
            ),
            "a mix of 60 per cent at most",
        ));
    };
    let celsius = straight(
        share,
        (one.share, one.freezes),
        (other.share, other.freezes),
    );
    Ok(Sourced {
        value: Temperature::celsius(celsius),
        source: other.source,
    })
}

pub(super) fn share_for(glycol: Glycol, freezes: Temperature) -> Result<Sourced<f64>, Unknown> {
    let (curve, celsius) = (curve(glycol), freezes.to_celsius());
    if celsius >= 0.0 {
        return Ok(Sourced {
            value: 0.0,
            source: curve[0].source,
        });
    }
    let after = curve.partition_point(|row| row.freezes > celsius).max(1);
    let (Some(one), Some(other)) = (curve.get(after - 1), curve.get(after)) else {
        return Err(Unknown::new(
            format!(
                "no mix of {} stands {celsius:.0} °C: the strongest in use freezes at {:.0} °C",
                glycol.name(),
                curve.last().map_or(0.0, |row| row.freezes)
            ),
            "what the coolant's maker says of such cold, or draining the circuit for it",
        ));
    };
    let share = straight(
        celsius,
        (one.freezes, one.share),
        (other.freezes, other.share),
    );
    Ok(Sourced {
        value: share,
        source: other.source,
    })
}

/// A property between four cells of the sheet, each way on a straight line.
pub(super) fn at<Q>(
    glycol: Glycol,
    share: f64,
    at: Temperature,
    property: Property,
    unit: fn(f64) -> Q,
) -> Result<Sourced<Q>, Unknown> {
    let Sourced { value, source } = number(glycol, share, celsius(at), property)?;
    Ok(Sourced {
        value: unit(value),
        source,
    })
}

fn number(
    glycol: Glycol,
    share: f64,
    celsius: f64,
    property: Property,
) -> Result<Sourced<f64>, Unknown> {
    let column = COLUMNS
        .partition_point(|column| *column <= share)
        .clamp(1, COLUMNS.len() - 1);
    let in_columns = (COLUMNS[0]..=COLUMNS[COLUMNS.len() - 1]).contains(&share);
    let (one, other) = match sheet(glycol).around(celsius) {
        Some((one, other)) if in_columns && column > one.first.max(other.first) => (one, other),
        _ => return Err(outside(glycol, share, celsius)),
    };
    let (left, right) = (COLUMNS[column - 1], COLUMNS[column]);
    let along = |row: &Row| {
        let cells = match property {
            Property::Density => &row.density,
            Property::Heat => &row.heat,
            Property::Conductivity => &row.conductivity,
            Property::LogViscosity => &row.log_viscosity,
        };
        straight(share, (left, cells[column - 1]), (right, cells[column]))
    };
    let value = straight(
        celsius,
        (one.celsius, along(one)),
        (other.celsius, along(other)),
    );
    // A value that leans on a row that is worked out is no better than that row.
    let source = if celsius > one.celsius {
        other.source
    } else {
        one.source
    };
    Ok(Sourced { value, source })
}

/// By what share a mix grows per kelvin, from densities one step to either side: the densities follow a
/// parabola, and what the straight lines between its rows leave out is the same at each step, so
/// that differences over whole steps are free of it. At an end of the liquid the steps go one way.
pub(super) fn expansion(
    glycol: Glycol,
    share: f64,
    at: Temperature,
) -> Result<Sourced<ThermalExpansion>, Unknown> {
    let celsius = celsius(at);
    let density = |celsius| number(glycol, share, celsius, Property::Density);
    let here = density(celsius)?;
    let steps = |by: f64| (density(celsius + by), density(celsius + 2.0 * by));
    let (slope, source) = match (density(celsius - STEP), density(celsius + STEP)) {
        (Ok(below), Ok(above)) => ((above.value - below.value) / (2.0 * STEP), above.source),
        (below, _) => {
            let by = if below.is_ok() { -STEP } else { STEP };
            let (near, far) = steps(by);
            let (near, far) = (near?, far?);
            let slope = (4.0 * near.value - 3.0 * here.value - far.value) / (2.0 * by);
            (slope, here.source)
        }
    };
    // OK because the densities of the sheet lie between 900 and 1200.
    let value = ThermalExpansion::of_si(-slope / here.value);
    Ok(Sourced { value, source })
}

fn outside(glycol: Glycol, share: f64, celsius: f64) -> Unknown {
    Unknown::new(
        format!(
            "the table of inhibited {} holds liquid mixes of 10 to 60 per cent by volume from −35 to 125 °C, and \
             {:.0} per cent at {celsius:.0} °C is none of them",
            glycol.name(),
            100.0 * share
        ),
        "the coolant maker's own table, or the table of pure glycol by mass",
    )
}

pub(super) fn tables() -> Vec<&'static Table> {
    vec![&FREEZING.table, &ROWS.table, &HOT.table]
}
