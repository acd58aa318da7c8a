//! Where the spigots are, as it is sent.

use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

use super::verdict::{Place, Where};

/// What the survey by tape found. The frame: x from the first pin towards the second, level where
/// heights say what is level; y to the left of it; z upward, from today's waterline where heights
/// were measured. Lengths in metres, angles in radians.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct Taped {
    /// Whether z is up: heights or slopes say so.
    pub level: bool,
    /// Whether left is left: nothing may be mirrored.
    pub settled: bool,
    /// Measurements beyond those that the places need.
    pub spare: usize,
    /// Where everything is that has a place.
    pub places: Vec<SpotPlace>,
    /// Where spigots point.
    pub axes: Vec<SpotAxis>,
    /// Each measurement against all the others.
    pub checks: Vec<TapeCheck>,
}

/// How far a place may be trusted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[serde(rename_all = "kebab-case")]
pub enum Standing {
    /// It stands.
    Settled,
    /// It may be the mirrored one.
    Mirrored,
    /// It hangs on which of several measurements is wrong.
    Doubtful,
}

/// Where one spot is.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct SpotPlace {
    /// As it is written in the file: `P1`, `engine.out`, `engine.out dowel`.
    pub name: String,
    /// For people.
    pub title: String,
    /// The spigot, or the pin itself.
    pub of: String,
    /// x, y, z [m].
    pub at: [f64; 3],
    /// Half widths of x, y, z [m]: it surely lies within.
    pub half: [f64; 3],
    /// Covariance of x, y, z [m²].
    pub covariance: [[f64; 3]; 3],
    /// How far it may be trusted.
    pub standing: Standing,
}

/// Where one spigot points.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct SpotAxis {
    /// The spigot.
    pub of: String,
    /// Direction out of its mouth, of length one.
    pub towards: [f64; 3],
    /// How far it may point aside [rad].
    pub half: f64,
    /// Whether a dowel showed it, or only the stub.
    pub by_dowel: bool,
}

/// One measurement against all the others.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct TapeCheck {
    /// What was measured.
    pub title: String,
    /// Where it stands in the file.
    pub place: Place,
    /// Read less what all others give [m; rad for a slope]; null where nothing checks it.
    pub off: Option<f64>,
    /// Half width of that.
    pub half: Option<f64>,
    /// Whether it was left out as wrong.
    pub left_out: bool,
}

impl Taped {
    /// As it is sent.
    pub fn of(surveyed: reckon::Surveyed, chart: &dyn Where) -> Self {
        let reckon::Surveyed {
            level,
            settled,
            places,
            axes,
            checks,
            spare,
        } = surveyed;
        Self {
            level,
            settled,
            spare,
            places: places.into_iter().map(Into::into).collect(),
            axes: axes.into_iter().map(Into::into).collect(),
            checks: checks
                .into_iter()
                .map(|check| {
                    let reckon::TapeCheck {
                        title,
                        place,
                        off,
                        half,
                        left_out,
                    } = check;
                    TapeCheck {
                        title,
                        place: chart.place(place),
                        off,
                        half,
                        left_out,
                    }
                })
                .collect(),
        }
    }
}

impl From<reckon::SpotPlace> for SpotPlace {
    fn from(place: reckon::SpotPlace) -> Self {
        let reckon::SpotPlace {
            name,
            title,
            // The name says it.
            part: _,
            of,
            at,
            half,
            covariance,
            standing,
        } = place;
        Self {
            name,
            title,
            of,
            at,
            half,
            covariance,
            standing: match standing {
                reckon::Standing::Settled => Standing::Settled,
                reckon::Standing::Mirrored => Standing::Mirrored,
                reckon::Standing::Doubtful => Standing::Doubtful,
            },
        }
    }
}

impl From<reckon::SpotAxis> for SpotAxis {
    fn from(axis: reckon::SpotAxis) -> Self {
        let reckon::SpotAxis {
            of,
            towards,
            half,
            by_dowel,
        } = axis;
        Self {
            of,
            towards,
            half,
            by_dowel,
        }
    }
}
