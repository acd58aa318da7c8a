//! A scan as it was read, laid into the bay by its matching points.

use std::sync::Arc;

use bay::Vec3;
use bay::scan::{self, Raw, Scale, Unit, Wish};
use bay::solid::Behind;
use boat::{BayScan, KeyPath, ScanPlace, SpotPart, Told};
use quantity::{Length, Quantity, show};

use super::Desk;
use crate::shop::missing;
use crate::stages::route::{MouthFact, ScanFact};
use crate::stages::types::Missing;
use crate::verdict::Words;

/// How far a scan may be off where the file gives no figure [m]: what phones do in a bay. From memory: 5 to 10 mm.
const ERROR: f64 = 0.010;
/// Triangles that are kept at most.
pub(crate) const TRIANGLES: usize = 50_000;
/// The clearance that it wants on top of what it may be off [m]: as any solid thing. Common practice, no source.
const KEEP: f64 = 0.010;

/// The triangles of a scan in its own numbers, as a reader found them.
#[derive(Clone, Debug, PartialEq)]
pub struct RawScan {
    /// What it was read from, and when that was written: another scan has another.
    pub id: String,
    /// Corners in the file's own numbers.
    pub points: Vec<[f64; 3]>,
    /// Three corners each.
    pub triangles: Vec<[u32; 3]>,
    /// How many metres one of its numbers is, where its format says so.
    pub unit: Option<f64>,
}

/// What lays a scan in, and is remembered by.
#[derive(Clone, Debug)]
pub(crate) struct ScanAsk {
    pub(crate) raw: Arc<RawScan>,
    pub(crate) unit: Option<f64>,
    pub(crate) known: Option<([f64; 3], [f64; 3], f64)>,
    pub(crate) error: f64,
    pub(crate) behind: Behind,
    pub(crate) pairs: Vec<(String, [f64; 3], [f64; 3])>,
}

impl ScanAsk {
    /// By what it is known again.
    pub(crate) fn key(&self) -> String {
        format!(
            "{} {:?} {:?} {} {:?} {:?}",
            self.raw.id, self.unit, self.known, self.error, self.behind, self.pairs
        )
    }
}

impl Desk<'_> {
    /// What is asked of the scan; `None` where the file has none.
    pub(crate) fn scan(&self, mouths: &[MouthFact]) -> Option<Result<ScanAsk, Missing>> {
        let told = self.boat().bay.scan.as_ref()?;
        Some(self.scan_ask(told, mouths))
    }

    fn scan_ask(&self, told: &BayScan, mouths: &[MouthFact]) -> Result<ScanAsk, Missing> {
        let place: KeyPath = "bay.scan".into();
        let Some(raw) = self.scan else {
            return Err(missing(
                "the scan was not read",
                "bay.scan.file",
                "Put the file into the boat's folder, under the name that is written.",
            ));
        };
        let known = told.known.as_ref().and_then(|known| {
            Some((
                *known.from.given()?,
                *known.to.given()?,
                known.length.given()?.value.si(),
            ))
        });
        let unit = told.unit.given().map(|unit| unit.metres()).or(raw.unit);
        if unit.is_none() && known.is_none() {
            return Err(missing(
                "the unit of the scan's numbers is not known",
                &format!("{place}.unit"),
                "Write its unit, or one length in it that you taped: `known = { from = [0, 0, 0], to = [1, 0, 0], length = 812 }`.",
            ));
        }
        let mut pairs = Vec::new();
        for (i, pair) in told.points.iter().enumerate() {
            let (Told::Given(at), Told::Given(is)) = (&pair.scan, &pair.is) else {
                continue;
            };
            let (name, to) = match is {
                ScanPlace::At(point) => (format!("point {}", i + 1), point.si()),
                ScanPlace::Spot(spot) => {
                    let name = spot.text();
                    let at = self.spot_place(spot, mouths).ok_or_else(|| {
                        missing(
                            &format!("the scan is laid in by {name}, which has no place"),
                            &format!("{place}.points[{i}].is"),
                            "Tape it, or write its place in numbers.",
                        )
                    })?;
                    (name, at)
                }
            };
            pairs.push((name, *at, to));
        }
        if pairs.len() < 3 {
            return Err(missing(
                "three matching points at least lay a scan in",
                &format!("{place}.points"),
                "Find three pins or mouths in the scan, far apart and not in one line, and write their numbers.",
            ));
        }
        Ok(ScanAsk {
            raw: Arc::clone(raw),
            unit,
            known,
            error: told.error.given().map_or(ERROR, |error| error.value.si()),
            behind: match told.behind.given() {
                Some(boat::Behind::Free) => Behind::Free,
                _ => Behind::Solid,
            },
            pairs,
        })
    }

    fn spot_place(&self, spot: &boat::Spot, mouths: &[MouthFact]) -> Option<[f64; 3]> {
        let text = spot.text();
        let mouth = mouths.iter().find(|mouth| mouth.key == text);
        if let (Some(mouth), SpotPart::Mouth) = (mouth, spot.part) {
            return Some(mouth.at);
        }
        let survey = self
            .surveyed
            .filter(|survey| survey.level && survey.settled)?;
        let place = survey.places.iter().find(|place| place.name == text)?;
        Some(place.at)
    }
}

/// Lays it in.
pub(crate) fn lay(ask: &ScanAsk) -> Result<ScanFact, Missing> {
    let points = |why: String| {
        missing(
            &why,
            "bay.scan.points",
            "Look at the numbers of the matching points in the scan again.",
        )
    };
    let vector = |at: &[f64; 3]| Vec3::from_array(*at);
    let unit = match (ask.unit, &ask.known) {
        (_, Some((from, to, metres))) => Unit::Length {
            from: vector(from),
            to: vector(to),
            metres: *metres,
        },
        (Some(unit), None) => Unit::Metres(unit),
        (None, None) => return Err(points("the unit of the scan's numbers is not known".into())),
    };
    let metres = unit.metres().map_err(|why| {
        missing(
            &why.to_string(),
            "bay.scan.unit",
            "Write its unit, or one length in it that you taped.",
        )
    })?;
    let raw = Raw {
        corners: ask.raw.points.iter().map(vector).collect(),
        triangles: ask.raw.triangles.clone(),
    };
    let pairs: Vec<(Vec3, Vec3)> = ask
        .pairs
        .iter()
        .map(|(_, scan, bay)| (vector(scan) * metres, vector(bay)))
        .collect();
    let lay = scan::lay(&pairs, Scale::Kept).map_err(|why| points(why.to_string()))?;
    let laid = raw.scaled(metres).laid(&lay);
    let mut wish = Wish::usual(Unit::Metres(1.0), ask.behind);
    wish.error = ask.error + lay.rms;
    wish.most = TRIANGLES;
    let ready = scan::ready(&laid, &wish).map_err(|why| {
        missing(
            &why.to_string(),
            "bay.scan",
            "Look at the scan in a viewer, and at its unit.",
        )
    })?;
    let thinned = ready.thinned.as_ref().map_or(0.0, |thinned| thinned.error);
    let mm = |metres: f64, system| show(Length::of_si(metres), Some(Length::mm(1.0)), system);
    let worst = lay.residuals.iter().copied().fold(0.0, f64::max);
    Ok(ScanFact {
        mesh: ready.mesh,
        half: ask.error + thinned + lay.rms,
        error_text: Words::of(|system| {
            format!(
                "{} of the scan itself, {} from fewer triangles, {} from laying it in",
                mm(ask.error, system),
                mm(thinned, system),
                mm(lay.rms, system)
            )
        }),
        laid: Words::of(|system| {
            format!(
                "laid in by {} points, off by {} at most",
                ask.pairs.len(),
                mm(worst, system)
            )
        }),
        keep: KEEP,
    })
}
