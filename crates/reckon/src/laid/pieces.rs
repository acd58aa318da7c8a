//! The pieces of a run as the bay needs them: free lengths, stiffness, weight, least radius.

use std::f64::consts::PI;

use boat::{Assume, BayLie, Key, Piece, PieceKind, Run, Told};
use quantity::Quantity;
use reference::hose::HoseKind;

use super::{Desk, half_of};
use crate::pieces::tenths;
use crate::shop::{missing, settles};
use crate::stages::cut::{self, CutInput, CutPiece, Shape};
use crate::stages::route::{HoseFact, PieceFact, PieceForm};
use crate::stages::types::Missing;

/// Density of hose rubber with its fabric [kg/m³]. From memory: EPDM compounds run from 1,050 to 1,250.
const RUBBER: f64 = 1150.0;
/// Density of the bronze and brass of fittings [kg/m³]. From memory.
const BRONZE: f64 = 8700.0;
/// Wall of a bronze fitting where only its weight is asked [m]. Common practice, no source.
const WALL: f64 = 0.003;
/// How far the free length of a hose may be off beyond its tape: what a knife does [m]. Common practice, no source.
const KNIFE: f64 = 0.005;
/// Share by which a droop test may be off either way: three lengths spread by a quarter. From memory.
const DROOP_SHARE: f64 = 0.25;

impl Desk<'_> {
    /// All pieces of a run, or the first thing that is missing.
    pub(super) fn pieces(
        &self,
        run: &Run,
        lie: Option<&BayLie>,
        input: &CutInput,
    ) -> Result<Vec<PieceFact>, Missing> {
        let pieces = run.way.given().map_or(&[][..], Vec::as_slice);
        let mut hose = 0;
        input
            .pieces
            .iter()
            .enumerate()
            .map(|(i, piece)| {
                let own = pieces.get(i);
                let form = match &piece.shape {
                    Shape::Hose { .. } => {
                        let told = lie.and_then(|lie| lie.cut.get(hose));
                        let decided = match told {
                            Some(Told::Given(cut)) => Some(cut.value.si()),
                            _ => None,
                        };
                        let place = lie.filter(|_| told.is_some()).map_or_else(
                            || input.place.clone(),
                            |lie| format!("{}.cut[{hose}]", lie.path()),
                        );
                        hose += 1;
                        self.hose(input, piece, decided, place)?
                    }
                    _ => self.rigid(lie, input, piece, own)?,
                };
                let (od, bore) = self.across(piece, own)?;
                Ok(PieceFact {
                    key: piece.key.clone(),
                    title: piece.name.clone(),
                    od,
                    bore,
                    form,
                })
            })
            .collect()
    }

    /// Outside diameter and bore [m].
    fn across(&self, piece: &CutPiece, own: Option<&Piece>) -> Result<(f64, f64), Missing> {
        match (&piece.shape, own) {
            (
                Shape::Hose {
                    bore: Some(bore),
                    over: Some(over),
                    ..
                },
                _,
            ) => Ok((over.si(), bore.si())),
            (Shape::Hose { .. }, _) => Err(missing(
                &format!("bore or outside of {} is not known", piece.name),
                &piece.key,
                "Measure bore and outside of the hose, and write them with the stock.",
            )),
            (_, Some(own)) => {
                let size = largest(&own.kind).ok_or_else(|| {
                    missing(
                        &format!("the size of {} is left open", piece.name),
                        &piece.key,
                        "Decide its size.",
                    )
                })?;
                // A moulded piece goes over a spigot of its size; a metal one is as large as its name.
                let moulded = matches!(piece.shape, Shape::Elbow { .. });
                Ok(if moulded {
                    (size + 0.010, size)
                } else {
                    (size, (size - 2.0 * WALL).max(size / 2.0))
                })
            }
            _ => Err(missing("its pieces are not written", &piece.key, "")),
        }
    }

    fn hose(
        &self,
        input: &CutInput,
        piece: &CutPiece,
        decided: Option<f64>,
        place: Key,
    ) -> Result<PieceForm, Missing> {
        let Shape::Hose {
            build, bore, over, ..
        } = &piece.shape
        else {
            return Err(missing("it is no hose", &piece.key, ""));
        };
        let pushed = |end: usize| -> Result<f64, Missing> {
            match piece.pushed.get(end).and_then(Option::as_ref) {
                Some(Ok(pushed)) => Ok(pushed.measured.value.si()),
                Some(Err(missing)) => Err(missing.clone()),
                None => Ok(0.0),
            }
        };
        // A free length that is known hangs as it does, however far its ends go over.
        let ends = pushed(0).and_then(|up| Ok([up, pushed(1)?]));
        let (free, free_half) = match decided {
            Some(cut) => {
                let over_ends: f64 = ends.clone()?.iter().sum();
                (cut - over_ends, KNIFE)
            }
            None => {
                let between = cut::free_length(input, piece)?;
                let measured = between.measured;
                (measured.value.si(), measured.half_width().si().max(KNIFE))
            }
        };
        if free <= 0.0 {
            return Err(missing(
                &format!(
                    "{} is cut shorter than what goes over its two spigots",
                    piece.name
                ),
                &place,
                "Read the cut length again.",
            ));
        }
        let (bore, over) = match (bore, over) {
            (Some(bore), Some(over)) => (bore.si(), over.si()),
            _ => {
                return Err(missing(
                    &format!("bore or outside of {} is not known", piece.name),
                    &piece.key,
                    "Measure bore and outside of the hose, and write them with the stock.",
                ));
            }
        };
        let feel = self.feel(piece, *build, bore, over)?;
        let radii = cut::radii(&piece.shape);
        let told = self.told_radius(piece, bore, over);
        let (least, kinks) = match (told, radii) {
            (Some(told), _) => (Some(told.clone()), Some(told)),
            (None, Some((least, kinks))) => (
                Some((least.metres, least.source)),
                Some((kinks.metres, kinks.source)),
            ),
            (None, None) => (None, None),
        };
        Ok(PieceForm::Hose(Box::new(HoseFact {
            free,
            free_half,
            pushed: ends.ok(),
            decided: decided.is_some(),
            stiffness: feel.stiffness,
            stiffness_from: feel.from,
            stiffness_missing: feel.missing,
            mass: feel.mass,
            least,
            kinks,
            place,
        })))
    }

    /// What the file says of a hose of this bore and build.
    fn told(&self, piece: &CutPiece, bore: f64) -> Option<&boat::BayHose> {
        let build = match &piece.shape {
            Shape::Hose { build, .. } => *build,
            _ => None,
        };
        self.boat().bay.hoses.iter().find(|hose| {
            let kind = hose.build.map(crate::stages::types::hose_kind);
            let size = hose.size.map(|size| size.as_length().si());
            // By name: a bore that was measured differs a little from its name.
            size.is_some_and(|size| (size - bore).abs() < 0.0015)
                && (kind.is_none() || kind == build)
        })
    }

    fn told_radius(&self, piece: &CutPiece, bore: f64, over: f64) -> Option<(f64, String)> {
        let hose = self.told(piece, bore)?;
        let radius = hose.least_radius.given()?.value.si();
        let to_centre = match hose.radius_to.given() {
            Some(boat::RadiusTo::Centre) => 0.0,
            // Catalogues mostly tell the inside of the bend.
            _ => over / 2.0,
        };
        Some((
            radius + to_centre,
            "its maker's least radius, as written".into(),
        ))
    }

    fn feel(
        &self,
        piece: &CutPiece,
        build: Option<HoseKind>,
        bore: f64,
        over: f64,
    ) -> Result<Feel, Missing> {
        let rubber = PI / 4.0 * (over.powi(2) - bore.powi(2)) * RUBBER;
        let told = self.told(piece, bore);
        if let Some(hose) = told {
            if let Some(stiffness) = hose.stiffness.given() {
                let value = stiffness.value.si();
                let half = half_of(stiffness).unwrap_or(value * DROOP_SHARE);
                return Ok(Feel {
                    stiffness: [value, (value - half).max(value / 10.0), value + half],
                    from: "written".into(),
                    missing: None,
                    mass: rubber,
                });
            }
            if let Some(droop) = &hose.droop
                && let (Some(overhang), Some(drop), Some(sample), Some(weighs)) = (
                    droop.overhang.given(),
                    droop.drop.given(),
                    droop.sample.given(),
                    droop.weighs.given(),
                )
            {
                let mass = weighs.value.si() / sample.value.si();
                let weight = mass * reference::pump::STANDARD_GRAVITY;
                return match self
                    .droops
                    .stiffness(overhang.value.si(), drop.value.si(), weight)
                {
                    Ok(value) => Ok(Feel {
                        stiffness: [
                            value,
                            value * (1.0 - DROOP_SHARE),
                            value * (1.0 + DROOP_SHARE),
                        ],
                        from: "droop test".into(),
                        missing: None,
                        mass,
                    }),
                    Err(why) => Err(missing(
                        &format!("the droop test of {} says nothing: {why}", piece.name),
                        &format!("{}.droop", hose.path()),
                        "Hold it over a table's edge again with 15 to 20 outside diameters of overhang, curl sideways, and read the drop after a minute.",
                    )),
                };
            }
        }
        let how = "Hold a piece over a table's edge, curl sideways, read overhang and drop after a minute, and weigh a piece: `droop = { overhang = 700, drop = 180, sample = 450, weighs = \"410 g\" }`.";
        let name = piece.name.trim_start_matches("hose ").to_owned();
        let place = format!("bay.hoses.{}", boat::key_text(&name));
        let open = Missing {
            why: format!("how stiff {} is was not tried", piece.name)
                .as_str()
                .into(),
            settles: settles(&place, how),
        };
        if !self.boat().job.assume.contains(&Assume::HoseStiffness) {
            return Err(open);
        }
        let usual = reference::bending::usual_stiffness(
            build,
            quantity::Length::m(bore),
            quantity::Length::m(over),
        );
        match usual {
            Ok(usual) => {
                let (low, high) = (usual.value.low.si(), usual.value.high.si());
                Ok(Feel {
                    // The middle of a range of factors.
                    stiffness: [(low * high).sqrt(), low, high],
                    from: format!("assumed: {}", usual.source.cite()),
                    missing: Some(open),
                    mass: rubber,
                })
            }
            Err(_) => Err(open),
        }
    }

    fn rigid(
        &self,
        lie: Option<&BayLie>,
        input: &CutInput,
        piece: &CutPiece,
        own: Option<&Piece>,
    ) -> Result<PieceForm, Missing> {
        let name = own.map_or("", |own| own.name.as_str());
        let roll = lie
            .and_then(|lie| lie.roll.iter().find(|(of, _)| of == name))
            .and_then(|(_, roll)| roll.given())
            .map(|roll| roll.value.si());
        let size = own.and_then(|own| largest(&own.kind)).unwrap_or(0.0);
        let mass = |long: f64| PI * (size - WALL).max(0.0) * WALL * BRONZE * long;
        let elbow = match own.map(|own| &own.kind) {
            Some(PieceKind::Elbow {
                angle,
                legs,
                radius,
                ..
            }) => Some((angle.to_degrees(), *legs, *radius)),
            _ => None,
        };
        if let Some((angle, legs, radius)) = elbow {
            let (Some(legs), Some(radius)) = (legs, radius) else {
                return Err(missing(
                    &format!("legs and radius of {} are not written", piece.name),
                    &input.place,
                    "Measure the elbow's legs and its radius and write them after it: `legs 150 x 100 radius 57`.",
                ));
            };
            let turn = f64::from(tenths(angle)).to_radians() / 10.0;
            let taken = radius.si() * (turn / 2.0).tan();
            let over = |end: usize| match piece.pushed.get(end).and_then(Option::as_ref) {
                Some(Ok(pushed)) => pushed.measured.value.si(),
                _ => 0.0,
            };
            let [first, second] = legs;
            let straight = [first.si() - taken - over(0), second.si() - taken - over(1)];
            if straight.iter().any(|leg| *leg < 0.0) {
                return Err(missing(
                    &format!(
                        "a leg of {} is shorter than its bend and what goes over the spigot",
                        piece.name
                    ),
                    &input.place,
                    "Measure its legs again, from the ends to where the centre lines cross.",
                ));
            }
            let long = straight.iter().sum::<f64>() + radius.si() * turn;
            return Ok(PieceForm::Rigid {
                long,
                turn: Some((turn, radius.si())),
                legs: straight,
                roll,
                mass: mass(long),
            });
        }
        let long = cut::takes(input, piece)?;
        Ok(PieceForm::Rigid {
            long,
            turn: None,
            legs: [long, 0.0],
            roll,
            mass: mass(long),
        })
    }
}

/// How a hose bends and weighs.
struct Feel {
    stiffness: [f64; 3],
    from: String,
    missing: Option<Missing>,
    mass: f64,
}

/// The largest of a piece's sizes [m].
fn largest(kind: &PieceKind) -> Option<f64> {
    let sizes: Vec<boat::Size> = match kind {
        PieceKind::Hose { size, .. }
        | PieceKind::Elbow { size, .. }
        | PieceKind::Joiner { size, .. }
        | PieceKind::Valve { size, .. }
        | PieceKind::Pipe { size, .. } => vec![*size],
        PieceKind::Reducer { from, to, .. } => vec![*from, *to],
        PieceKind::Tee { sizes, .. } => sizes.to_vec(),
    };
    sizes
        .into_iter()
        .filter_map(|size| size.named().map(|size| size.as_length().si()))
        .reduce(f64::max)
}
