//! What bends, valves, reducers and ends lose: loss coefficients, each on a velocity head that is named.
//!
//! A coefficient K means a loss of K ρV²/2. Those of the n·f_T kind hold for turbulent flow; at a
//! Reynolds number under 1000 they rise steeply, and [`two_k`] says how. Published coefficients of
//! one and the same 90° elbow run from 0.3 (smooth bend) to 0.95 (screwed): the kind counts.

use std::f64::consts::PI;

use quantity::{Angle, Density, Length, PressureDifference, Quantity, VolumeFlow};
use serde::Deserialize;

use crate::friction::{bore_area, fully_rough};
use crate::range::{between, degrees, within};
use crate::source::{SourceRef, Sourced, Unknown};
use crate::table::{Table, data};

const BORES: &str = "the bores on both sides";
const BEND: &str = "the bend's radius to the centre line, its angle and its bore";

/// Roughness of the clean steel pipe that f_T belongs to, in m. The source gives 0.00015 ft.
const CLEAN_STEEL: f64 = 0.000_045_72;

/// f_T: the friction factor of clean steel pipe of that bore in rough turbulence.
/// Unit: 1. Range: bores 5 to 1000 mm. Source: Crane TP-410 (2009), appendix A.
pub fn turbulent_factor(bore: Length) -> Result<f64, Unknown> {
    within("the bore in mm", bore.to_mm(), 5.0..=1000.0, "the bore")?;
    fully_rough(CLEAN_STEEL / bore.si())
}

/// A fitting whose loss is a number times f_T.
/// Unit: none. Range: those below. Source: Crane TP-410.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum FittingKind {
    /// Standard 90° elbow.
    Elbow90,
    /// Standard 45° elbow.
    Elbow45,
    /// Tee, straight through, no flow in the branch.
    TeeRun,
    /// Tee, from run to branch, all of the flow.
    TeeBranch,
    /// Close return bend.
    ReturnBend,
    /// Mitred 90° bend.
    Mitre90,
    /// Ball valve, full bore, open.
    BallValve,
    /// Gate valve, full bore, open.
    GateValve,
    /// Globe valve, open.
    GlobeValve,
    /// Angle valve, open.
    AngleValve,
    /// Swing check valve, open.
    SwingCheck,
}

impl FittingKind {
    /// All of them. Unit: none. Range: all. Source: this crate.
    pub const ALL: [Self; 11] = [
        Self::Elbow90,
        Self::Elbow45,
        Self::TeeRun,
        Self::TeeBranch,
        Self::ReturnBend,
        Self::Mitre90,
        Self::BallValve,
        Self::GateValve,
        Self::GlobeValve,
        Self::AngleValve,
        Self::SwingCheck,
    ];
}

struct Times {
    kind: FittingKind,
    n: f64,
    source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawTimes {
    kind: FittingKind,
    n: f64,
    source: Option<String>,
}

data!(static TIMES: Times = "fitting-times.toml", RawTimes, |table, raw| Times {
    kind: raw.kind,
    n: raw.n,
    source: table.source(raw.source.as_deref()),
});

/// The number that f_T is taken times. Unit: 1. Range: 3 to 340. Source: Crane TP-410, appendix A.
pub fn times(kind: FittingKind) -> Sourced<f64> {
    let row = TIMES.rows.iter().find(|row| row.kind == kind);
    // OK because a test asks for every kind.
    let row = row.unwrap_or_else(|| panic!("fitting-times.toml has no {kind:?}"));
    Sourced {
        value: row.n,
        source: row.source,
    }
}

/// Loss coefficient of a fitting, on the velocity head in its bore.
/// Unit: 1. Range: bores 5 to 1000 mm, turbulent flow. Source: Crane TP-410, appendix A.
pub fn fitting(kind: FittingKind, bore: Length) -> Result<f64, Unknown> {
    Ok(times(kind).value * turbulent_factor(bore)?)
}

/// Number times f_T of a smooth 90° bend, by its radius over its bore.
const BENDS: [(f64, f64); 12] = [
    (1.0, 20.0),
    (1.5, 14.0),
    (2.0, 12.0),
    (3.0, 12.0),
    (4.0, 14.0),
    (6.0, 17.0),
    (8.0, 24.0),
    (10.0, 30.0),
    (12.0, 34.0),
    (14.0, 38.0),
    (16.0, 42.0),
    (20.0, 50.0),
];

/// What a bend of another angle loses against one of 90°: 0.9 sin θ to 70°, from there straight to
/// one.
fn angle_factor(degrees: f64) -> f64 {
    let sine = |degrees: f64| 0.9 * degrees.to_radians().sin();
    if degrees <= 70.0 {
        sine(degrees)
    } else {
        sine(70.0) + (1.0 - sine(70.0)) * (degrees - 70.0) / 20.0
    }
}

/// Loss coefficient of a smooth bend, its own friction included, on the velocity head in its bore.
/// Between printed radii it is read on a straight line.
///
/// # Errors
/// [`Unknown`] for radii (to the centre line) under one bore or over twenty, and angles over 360°.
///
/// Unit: 1. Range: radius 1 to 20 bores, angle 0 to 360°, turbulent flow. Source: Crane TP-410, appendix A, for 90° and (as a coil) over it; under 90° by Idelchik's angle factor, from memory.
pub fn bend(bore: Length, radius: Length, angle: Angle) -> Result<f64, Unknown> {
    let (ratio, degrees) = (radius / bore, degrees(angle));
    within("radius over bore", ratio, 1.0..=20.0, BEND)?;
    within(
        "the angle of the bend in degrees",
        degrees,
        0.0..=360.0,
        BEND,
    )?;
    let f = turbulent_factor(bore)?;
    // OK because the ratio was found to lie within the table.
    let right = f * between(&BENDS, ratio).unwrap_or(f64::NAN);
    if degrees <= 90.0 {
        return Ok(right * angle_factor(degrees));
    }
    // As a coil of so many right angles: friction along each further one, and half its loss.
    let further = degrees / 90.0 - 1.0;
    Ok(right + further * (0.25 * PI * f * ratio + 0.5 * right))
}

/// Number times f_T of a mitred bend by its angle in degrees.
const MITRES: [(f64, f64); 7] = [
    (0.0, 2.0),
    (15.0, 4.0),
    (30.0, 8.0),
    (45.0, 15.0),
    (60.0, 25.0),
    (75.0, 40.0),
    (90.0, 60.0),
];

/// Loss coefficient of a mitred bend, on the velocity head in its bore.
/// Unit: 1. Range: angle 0 to 90°, turbulent flow. Source: Crane TP-410, appendix A; angles other than 90° from memory.
pub fn mitre(bore: Length, angle: Angle) -> Result<f64, Unknown> {
    let degrees = degrees(angle);
    let n = between(&MITRES, degrees).ok_or_else(|| {
        let why = format!("a mitre of {degrees}°; the source holds from 0 to 90");
        Unknown::new(why, "the angle of the mitre")
    })?;
    Ok(n * turbulent_factor(bore)?)
}

/// An end at which water enters a pipe from a tank.
/// Unit: none. Range: those below. Source: Crane TP-410.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Entrance {
    /// Flush with the wall, its edge sharp.
    Sharp,
    /// The pipe stands into the tank.
    Inward,
    /// Flush, its edge rounded by this radius over the bore.
    Rounded(f64),
}

/// Loss coefficient of an entrance, on the velocity head in the pipe.
/// Unit: 1. Range: 0.04 to 0.78. Source: Crane TP-410, appendix A; rounded edges from memory.
pub fn entrance(end: Entrance) -> Result<f64, Unknown> {
    const ROUNDED: [(f64, f64); 6] = [
        (0.0, 0.5),
        (0.02, 0.28),
        (0.04, 0.24),
        (0.06, 0.15),
        (0.10, 0.09),
        (0.15, 0.04),
    ];
    match end {
        Entrance::Sharp => Ok(0.5),
        Entrance::Inward => Ok(0.78),
        Entrance::Rounded(ratio) if ratio >= 0.15 => Ok(0.04),
        Entrance::Rounded(ratio) => between(&ROUNDED, ratio).ok_or_else(|| {
            let why = format!("an edge rounded by {ratio} of the bore");
            Unknown::new(why, "the radius of the entrance's edge")
        }),
    }
}

/// Loss coefficient of a pipe's end in a tank, of any shape, on the velocity head in the pipe.
/// Unit: 1. Range: 1. Source: Crane TP-410, appendix A; the velocity head is lost whole.
pub fn exit() -> f64 {
    1.0
}

/// Ratio of bores and sine of half the included angle, both looked at.
fn cone(beta: f64, included: Angle) -> Result<(f64, f64), Unknown> {
    within("small bore over large", beta, 0.0..=1.0, BORES)?;
    let degrees = degrees(included);
    let settles = "the included angle of the cone; 180° for a sudden step";
    within(
        "the included angle in degrees",
        degrees,
        0.0..=180.0,
        settles,
    )?;
    Ok((1.0 - beta * beta, (degrees / 2.0).to_radians().sin()))
}

/// The included angle up to which a cone counts as a gentle one.
const GENTLE: f64 = 45.0;

/// Loss coefficient where a bore widens, on the velocity head in the small bore. At 45° the source's
/// two forms are 0.5 % apart.
/// Unit: 1. Range: beta (small over large) 0 to 1, included angle 0 to 180°, 180° for a sudden step. Source: Crane TP-410, appendix A; Borda and Carnot for the sudden one.
pub fn enlargement(beta: f64, included: Angle) -> Result<f64, Unknown> {
    let (less, sine) = cone(beta, included)?;
    let sudden = less * less;
    Ok(if degrees(included) <= GENTLE {
        2.6 * sine * sudden
    } else {
        sudden
    })
}

/// Loss coefficient where a bore narrows, on the velocity head in the small bore. At 45° the source's
/// two forms are 1 % apart. Other texts give up to 30 % more for sudden ones.
/// Unit: 1. Range: beta (small over large) 0 to 1, included angle 0 to 180°, 180° for a sudden step. Source: Crane TP-410, appendix A.
pub fn contraction(beta: f64, included: Angle) -> Result<f64, Unknown> {
    let (less, sine) = cone(beta, included)?;
    Ok(if degrees(included) <= GENTLE {
        0.8 * sine * less
    } else {
        0.5 * less * sine.sqrt()
    })
}

/// Loss coefficient of a valve whose bore is smaller than the pipe's, on the velocity head in the
/// pipe. `open` is that of the valve alone, on its own bore.
///
/// # Errors
/// [`Unknown`] for a beta under 0.1 or over 1, and angles outside 0 to 180°.
///
/// Unit: 1. Range: beta (valve over pipe) 0.1 to 1. Source: Crane TP-410, appendix A, formulas 5 to 7.
pub fn reduced_valve(open: f64, beta: f64, included: Angle) -> Result<f64, Unknown> {
    within(
        "bore of the valve over that of the pipe",
        beta,
        0.1..=1.0,
        BORES,
    )?;
    let steps = contraction(beta, included)? + enlargement(beta, included)?;
    Ok((open + steps) / beta.powi(4))
}

/// The same loss on the velocity head of another bore.
/// Unit: 1. Range: both bores over 0. Source: continuity, the speed goes with the inverse of the area.
pub fn on_bore(coefficient: f64, own: Length, other: Length) -> Result<f64, Unknown> {
    let moved = coefficient * (other / own).powi(4);
    let sound = own.si() > 0.0 && other.si() > 0.0 && moved.is_finite();
    sound
        .then_some(moved)
        .ok_or_else(|| Unknown::new("both bores must be over zero", BORES))
}

/// Loss coefficient of a valve of a given Kv, on the velocity head in a bore. Kv is the flow of water of
/// 1000 kg/m³ at a drop of 1 bar.
/// Unit: 1. Range: Kv and bore over 0. Source: definition of Kv in IEC 60534-1.
pub fn by_kv(kv: VolumeFlow, bore: Length) -> Result<f64, Unknown> {
    let speed = kv.si() / bore_area(bore).si();
    let coefficient = 2.0 * 1e5 / (1000.0 * speed * speed);
    let sound = kv.si() > 0.0 && bore.si() > 0.0 && coefficient.is_finite();
    sound.then_some(coefficient).ok_or_else(|| {
        Unknown::new(
            "Kv and bore must be over zero",
            "the valve's Kv from its sheet",
        )
    })
}

/// What a part with one rated drop loses at another flow, with the sign of the flow.
///
/// # Errors
/// [`Unknown`] for exponents outside 1 to 2 and a rated flow or density that is not over zero.
///
/// Unit: Pa. Range: exponent 1 to 2, mostly 1.8 to 2. Source: common practice, no source.
pub fn rated_drop(
    rated: PressureDifference,
    rated_flow: VolumeFlow,
    rated_density: Density,
    exponent: f64,
    flow: VolumeFlow,
    density: Density,
) -> Result<PressureDifference, Unknown> {
    let settles = "the drop of the part at one flow, from its sheet or by two gauges";
    within("the exponent of a rated drop", exponent, 1.0..=2.0, settles)?;
    let share = flow / rated_flow;
    let drop = rated.si() * share.signum() * share.abs().powf(exponent) * density.si()
        / rated_density.si();
    PressureDifference::from_si(drop)
        .filter(|_| rated_flow.si() > 0.0 && rated_density.si() > 0.0)
        .ok_or_else(|| Unknown::new("rated flow and density must be over zero", settles))
}

/// A row of the two-K method.
/// Unit: 1. Range: see its fields. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct TwoK {
    /// Which fitting. Unit: none. Range: text. Source: `source`.
    pub fitting: String,
    /// What counts in laminar flow. Unit: 1. Range: 100 to 2000. Source: `source`.
    pub laminar: f64,
    /// What counts in turbulent flow and a wide bore. Unit: 1. Range: 0 to 10. Source: `source`.
    pub turbulent: f64,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawTwoK {
    fitting: String,
    laminar: f64,
    turbulent: f64,
}

data!(static TWO_K: TwoK = "fitting-two-k.toml", RawTwoK, |table, raw| TwoK {
    fitting: raw.fitting,
    laminar: raw.laminar,
    turbulent: raw.turbulent,
    source: table.source(None),
});

/// All rows of the two-K method. Unit: 1. Range: see [`TwoK`]. Source: Hooper 1981.
pub fn two_k_rows() -> &'static [TwoK] {
    &TWO_K.rows
}

/// Loss coefficient by the two-K method, for any Reynolds number over 0: K₁/Re + K∞(1 + 1 in/bore),
/// on the velocity head in the bore.
/// Unit: 1. Range: Re over 0, bores 5 to 1000 mm. Source: Hooper 1981, Chemical Engineering 88(17).
pub fn two_k(row: &TwoK, re: f64, bore: Length) -> Result<f64, Unknown> {
    let settles = "the flow, the bore and the temperature of the coolant";
    within("Re", re, f64::MIN_POSITIVE..=f64::MAX, settles)?;
    within("the bore in mm", bore.to_mm(), 5.0..=1000.0, "the bore")?;
    Ok(row.laminar / re + row.turbulent * (1.0 + 1.0 / bore.to_inches()))
}

pub(crate) fn tables() -> Vec<&'static Table> {
    vec![&TIMES.table, &TWO_K.table]
}
