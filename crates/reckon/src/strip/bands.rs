//! The rows of the band table: a cell a joint, by chapter.

use quantity::{GaugePressure, Length, Quantity, Speed, System};

use super::{At, Band, StripHeader, StripState, StripStation, Way, proving};
use crate::say;
use crate::stages::circuit::plan::Plan;
use crate::stages::circuit::rules::height;
use crate::stages::flow::{Figures, VolumeRow};
use crate::stages::types::{JointRow, Known};
use crate::verdict::{Stage, Words};
use crate::wire::Answer;

/// What stands where nothing is known.
pub(super) const NONE: &str = "–";

/// What the rows are read from.
pub(super) struct Rows<'a> {
    pub(super) plan: &'a Plan<'a>,
    pub(super) answer: &'a Answer,
    /// Of the chosen state.
    pub(super) figures: Option<&'a Figures>,
    pub(super) state: Option<&'a StripState>,
    /// What each part holds.
    pub(super) volume: Option<&'a VolumeRow>,
    /// The cap that governs.
    pub(super) cap: Known<GaugePressure>,
    pub(super) header: Option<&'a StripHeader>,
    /// What a metre of coolant presses [Pa/m].
    pub(super) weight: Option<f64>,
}

/// The text without its unit, which stands at the head of the row.
fn bare(text: &str) -> String {
    text.rsplit_once(' ')
        .map_or(text, |(number, _)| number)
        .to_owned()
}

pub(super) fn both(metric: &str, imperial: &str) -> Words {
    Words {
        metric: metric.into(),
        imperial: imperial.into(),
    }
}

impl Rows<'_> {
    /// All rows of a way. `main`: it comes round to where it begins. `wet`: it carries coolant.
    pub(super) fn of(&self, way: &Way, main: bool, wet: bool) -> Vec<Band> {
        let along = || self.row(way, both("distance, m", "distance, ft"), true, distance);
        let high = || {
            self.row(way, both("height, mm", "height, in"), false, |own| {
                of_height(own.z)
            })
        };
        let joint = |title: &str, cell: &dyn Fn(&JointRow) -> Option<Words>| {
            self.row(way, title.into(), false, |own| {
                let row = self.answer.joints.iter().find(|row| row.joint == own.key)?;
                cell(row)
            })
        };
        let mut out = Vec::new();
        let mut add = |chapter: Stage, rows: Vec<Band>| {
            out.extend(rows.into_iter().map(|row| Band { chapter, ..row }));
        };
        let how = self.row(way, "measured".into(), false, |own| self.how(own));
        add(Stage::Survey, vec![along(), high(), how]);
        add(
            Stage::Fit,
            vec![
                joint("spigot", &|row| Some(row.spigot.as_ref()?.text.clone())),
                joint("hose", &|row| {
                    Some(row.hose.strip_prefix("hose ").unwrap_or(&row.hose).into())
                }),
                joint("clip", &|row| Some(row.clip.as_deref()?.into())),
                joint("push on", &|row| Some(row.push_on.as_ref()?.text.clone())),
                joint("torque", &|row| row.torque.clone()),
            ],
        );
        let mut flow = vec![along(), high()];
        if let Some(figures) = self.figures {
            flow.push(
                self.row(way, both("speed, m/s", "speed, ft/s"), false, |own| {
                    speed(way, own, figures)
                }),
            );
            if main && let Some(state) = self.state {
                flow.push(self.row(way, both("loss, kPa", "loss, psi"), false, |own| {
                    lost(way, own, state)
                }));
                flow.push(
                    self.row(way, both("in hose, kPa", "in hose, psi"), false, |own| {
                        inside(own, figures, state)
                    }),
                );
            }
        }
        add(Stage::Flow, flow);
        let spot = self.row(way, "air and drain".into(), false, |own| spot(way, own));
        let mut fill = vec![along(), high(), spot];
        if wet {
            fill.extend(self.filling(way));
        }
        add(Stage::Fill, fill);
        add(Stage::Prove, self.proving(way, main, wet));
        if let Some(figures) = self.figures {
            let place =
                |own: &StripStation| figures.places.iter().find(|place| place.name == own.key);
            add(
                Stage::Prove,
                vec![
                    self.row(
                        way,
                        both("under cap, kPa", "under cap, psi"),
                        false,
                        |own| Some(pressure(place(own)?.capped?)),
                    ),
                    self.row(way, both("stands, kPa", "stands, psi"), false, |own| {
                        let (rated, _) = place(own)?.rated.as_ref()?;
                        Some(pressure(*rated))
                    }),
                ],
            );
        }
        let shut = self.row(way, "shut by".into(), false, |own| {
            self.shut_by(way, own, main)
        });
        add(Stage::Home, vec![shut]);
        out
    }

    pub(super) fn row(
        &self,
        way: &Way,
        title: Words,
        distance: bool,
        cell: impl Fn(&StripStation) -> Option<Words>,
    ) -> Band {
        Band {
            title,
            cells: way
                .stations
                .iter()
                .map(|station| cell(station).unwrap_or_else(|| NONE.into()))
                .collect(),
            distance,
            ..Band::default()
        }
    }

    /// With what a height was measured.
    fn how(&self, own: &StripStation) -> Option<Words> {
        let facts = self.plan.facts;
        let run = own.key.split('.').next()?;
        let run = &facts.runs[facts.run(run)?].run;
        let end = if own.key == format!("{}.from", run.key) {
            &run.from
        } else if own.key == format!("{}.to", run.key) {
            &run.to
        } else {
            return None;
        };
        let known = facts.end_height(end)?.as_ref().ok()?;
        Some(known.from.as_str().into())
    }

    /// The nearest valves on either side along the way; round the pump on a way that comes round.
    fn shut_by(&self, way: &Way, own: &StripStation, round: bool) -> Option<Words> {
        let mut names: Vec<&str> = proving::sides(way, own, round)
            .into_iter()
            .flatten()
            .map(|(key, _)| key)
            .collect();
        names.dedup();
        (!names.is_empty()).then(|| names.join(", ").as_str().into())
    }
}

/// Of each end of a piece whether its distance is told, and what it is at least [m].
pub(super) fn distances(way: &Way, wholes: &[(usize, usize)]) -> Vec<(bool, f64)> {
    let mut out = vec![(true, 0.0)];
    for (i, piece) in way.pieces.iter().enumerate() {
        let (told, least) = out[i];
        let own = if piece.told { piece.length } else { 0.0 };
        let mut end = (told && piece.told, least + own);
        if let Some((from, to)) = wholes.iter().find(|(_, to)| *to == i + 1) {
            let (told, least) = out[*from];
            end = (told, least + way.along[*to] - way.along[*from]);
        }
        out.push(end);
    }
    out
}

fn distance(own: &StripStation) -> Option<Words> {
    let half = Length::from_si(0.02);
    let figure =
        |length: Length, system: System| bare(&say::in_units(length, half, ["m", "ft"], system));
    if own.told {
        let length = Length::from_si(own.s)?;
        return Some(Words::of(|system| figure(length, system)));
    }
    // Less than a hand's breadth is no distance that one could look for.
    let least = Length::from_si(own.least).filter(|least| least.si() > 0.1)?;
    Some(Words::of(|system| {
        format!("over {}", figure(least, system))
    }))
}

fn of_height(z: Option<f64>) -> Option<Words> {
    let z = z?;
    Some(Words::of(|system| bare(&height(z, system))))
}

pub(super) fn pressure(pascals: f64) -> Words {
    Words::of(|system: System| bare(&say::kpa(pascals, system)))
}

/// Speed in the hose that goes on the joint.
fn speed(way: &Way, own: &StripStation, figures: &Figures) -> Option<Words> {
    // OK because a joint stands at the end of a piece.
    let here = own.at as usize;
    let beside = [here.checked_sub(1), Some(here)].into_iter().flatten();
    let speed = beside
        .filter_map(|i| way.pieces.get(i))
        .filter(|piece| piece.form == super::PieceForm::Hose)
        .find_map(|piece| {
            let item = figures
                .items
                .iter()
                .find(|item| item.subject == piece.key)?;
            item.speed
        })?;
    let value = Speed::from_si(speed)?;
    let half = Speed::from_si(0.02);
    Some(Words::of(|system| {
        bare(&say::in_units(value, half, ["m/s", "ft/s"], system))
    }))
}

/// What the water has lost since the joint before, or since the pump.
fn lost(way: &Way, own: &StripStation, state: &StripState) -> Option<Words> {
    let before = way
        .stations
        .iter()
        .rev()
        .find(|other| other.at < own.at)
        .map_or(0.0, |before| before.at);
    // OK because a joint stands at the end of a piece.
    let head = |at: At| state.total.get(at as usize).copied().flatten();
    Some(pressure((head(before)? - head(own.at)?) * state.weight))
}

/// Static pressure in the hose, the cap holding nothing.
fn inside(own: &StripStation, figures: &Figures, state: &StripState) -> Option<Words> {
    if let Some(place) = figures.places.iter().find(|place| place.name == own.key) {
        return Some(pressure(place.open));
    }
    // OK because a joint stands at the end of a piece.
    let stands = state.line.get(own.at as usize).copied().flatten()? - own.z?;
    Some(pressure(stands * state.weight))
}

/// The cock or the spot that lies nearest to a joint, by name.
fn spot(way: &Way, own: &StripStation) -> Option<Words> {
    let near = way
        .signs
        .iter()
        .filter(|sign| (sign.at - own.at).abs() <= 0.5);
    let words: Vec<&str> = near
        .filter_map(|sign| match sign.kind {
            super::SignKind::Bleed => Some("bleed"),
            super::SignKind::Drain => Some("drain"),
            super::SignKind::High => Some("high spot"),
            super::SignKind::Low => Some("low spot"),
            _ => None,
        })
        .collect();
    (!words.is_empty()).then(|| words.join(", ").as_str().into())
}
