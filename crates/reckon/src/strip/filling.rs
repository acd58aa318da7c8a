//! Rows for filling and draining: in which order the bleeds are shut, and what stays in the low spots.

use boat::{Carries, ThingKind};
use quantity::{Quantity, System, Volume, show};

use super::bands::{NONE, Rows};
use super::{At, Band, PieceForm, SignKind, StripSign, Way};
use crate::verdict::{Grade, Words};

const UNMEASURED: &str = "unmeasured";

impl Rows<'_> {
    /// `bleed order` and `stays`.
    pub(super) fn filling(&self, way: &Way) -> Vec<Band> {
        let bleeds = self.bleeds();
        let order = Band {
            from: "the lowest bleed is shut first, when it runs without bubbles. Common practice, no source.".into(),
            ..by_station(way, "bleed order", |sign| bled(&bleeds, sign))
        };
        let inside = self
            .answer
            .fill
            .as_ref()
            .and_then(|row| row.inside.as_ref());
        let from = match inside {
            Some(_) => {
                "at most what stays in all of her when she is drained. What lies outside stays full of what its sizes hold."
            }
            None => {
                "how much stays is unmeasured: meter what runs out when she is drained, and what goes in when she is filled."
            }
        };
        let most = inside.map(|inside| inside.text.clone());
        let stays = Band {
            from: from.into(),
            ..by_station(way, "stays", |sign| self.stays(way, sign, most.as_ref()))
        };
        vec![order, stays]
    }

    /// Every bleed of the coolant with its height, the lowest first, those of unknown height last.
    fn bleeds(&self) -> Vec<(&str, Option<f64>)> {
        let facts = self.plan.facts;
        let wet = |run: &str| {
            facts.run(run).is_some_and(|run| {
                matches!(
                    facts.runs[run].run.carries,
                    Carries::Coolant | Carries::Vent
                )
            })
        };
        let own = facts.things.iter().filter(|own| own.is(ThingKind::Bleed));
        let mut all: Vec<(&str, Option<f64>)> = own
            .filter(|own| own.thing.detail.on_run.as_deref().is_none_or(wet))
            .map(|own| {
                let height = own.height.as_ref().ok();
                (own.key(), height.map(|height| height.measured.value.si()))
            })
            .collect();
        all.sort_by(|a, b| {
            let high = |height: Option<f64>| height.unwrap_or(f64::INFINITY);
            high(a.1).total_cmp(&high(b.1))
        });
        all
    }

    /// What stays at a low spot. Of one that nothing drains only the most is known that it may be.
    fn stays(&self, way: &Way, sign: &StripSign, most: Option<&Words>) -> Option<Words> {
        if sign.kind != SignKind::Low {
            return None;
        }
        if sign.says.metric == super::spots::FULL {
            let parts = self.volume.map_or(&[][..], |row| row.parts.as_slice());
            // The spot may bear the name of a fitting beside it.
            let lies = outside(way, sign.at).unwrap_or(&sign.key);
            let part = parts.iter().find(|(name, _, _)| name == lies);
            let holds = part.and_then(|(_, holds, _)| Volume::from_si(*holds));
            return Some(Words::of(|system: System| match holds {
                Some(holds) => format!("full, {}", show(holds, Volume::from_si(1e-4), system)),
                None => format!("full, {UNMEASURED}"),
            }));
        }
        Some(match (sign.grade, most) {
            (Some(Grade::Unsound | Grade::Marginal), Some(most)) => {
                Words::of(|system| format!("at most {}", most.in_units(system)))
            }
            (Some(Grade::Unsound | Grade::Marginal | Grade::Unmeasured), _) => UNMEASURED.into(),
            (Some(Grade::Sound) | None, _) => "drained".into(),
        })
    }
}

/// `2. bleed`, or why there is no number. A high spot without a bleed says so.
fn bled(bleeds: &[(&str, Option<f64>)], sign: &StripSign) -> Option<Words> {
    match sign.kind {
        SignKind::Bleed => {
            let at = bleeds.iter().position(|(key, _)| *key == sign.key)?;
            // One bleed is the first whatever its height is.
            let told = bleeds.len() == 1 || bleeds[at].1.is_some();
            Some(if told {
                format!("{}. {}", at + 1, sign.key).as_str().into()
            } else {
                format!("{}: {UNMEASURED}", sign.key).as_str().into()
            })
        }
        SignKind::High if !sign.says.metric.is_empty() => Some(sign.says.clone()),
        _ => None,
    }
}

/// A row with what is said of each sign at the joint nearest to it.
fn by_station(way: &Way, title: &str, says: impl Fn(&StripSign) -> Option<Words>) -> Band {
    let mut cells: Vec<Option<Words>> = vec![None; way.stations.len()];
    for sign in &way.signs {
        let (Some(at), Some(words)) = (nearest(way, sign.at), says(sign)) else {
            continue;
        };
        cells[at] = Some(match cells[at].take() {
            Some(before) => Words::of(|system| {
                format!("{}, {}", before.in_units(system), words.in_units(system))
            }),
            None => words,
        });
    }
    let cells = cells.into_iter();
    Band {
        title: title.into(),
        cells: cells
            .map(|cell| cell.unwrap_or_else(|| NONE.into()))
            .collect(),
        ..Band::default()
    }
}

/// The joint that lies nearest to a place, the first of two.
fn nearest(way: &Way, at: At) -> Option<usize> {
    let far = |i: &usize| (way.stations[*i].at - at).abs();
    (0..way.stations.len()).min_by(|a, b| far(a).total_cmp(&far(b)))
}

/// What lies outside the nearest to a place, by its key.
fn outside(way: &Way, at: At) -> Option<&str> {
    let lies = way.pieces.iter().enumerate();
    // OK because a way has far fewer pieces than a float counts exactly.
    let far = |i: usize| (i as At + 0.5 - at).abs();
    lies.filter(|(_, piece)| piece.form == PieceForm::Outside)
        .min_by(|a, b| far(a.0).total_cmp(&far(b.0)))
        .map(|(_, piece)| piece.key.as_str())
}
