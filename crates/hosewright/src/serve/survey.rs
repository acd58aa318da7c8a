//! The survey, station by station, and the readings that a phone sends of it.

use std::sync::Arc;

use reckon::{Ask, Memo, SurveyBox};

use super::App;
use super::answers::{SEED, lock, meant};
use super::desk::{Sheet, Way, with};
use super::label::fitted;
use super::refused::Refused;
use super::stages::Which;
use super::subjects::Subjects;
use super::values::{Several, own_system, raw_at, several, typed_at, unquoted};
use crate::api::{
    self, Blank, SurveyEnd, SurveyNext, SurveyPage, SurveyPair, SurveyPicture, SurveyStation, Where,
};
use crate::load::Loaded;

/// The measurements to take next of one sheet and arrangement: finding them takes a trial each.
#[derive(Debug)]
pub(crate) struct Ranked {
    number: u64,
    arrangement: Option<String>,
    next: Vec<reckon::Next>,
}

impl App {
    /// What stands in the boxes, and what to measure next.
    pub(crate) fn survey(&self, which: &Which) -> Result<SurveyPage, Refused> {
        let sheet = self.sheet()?;
        let arrangement = meant(&sheet, which.name())?;
        let answers = self.answers(&sheet, &arrangement);
        let name = arrangement.as_deref();
        let loaded = &sheet.loaded;
        let subjects = Subjects::of(&loaded.boat, name, answers.answer());
        let boxes = reckon::boxes(&loaded.boat, loaded.chart.places(), name);
        let empty = boxes.iter().filter(|own| own.is_empty()).count();
        let pairs = boxes
            .iter()
            .filter(|own| own.holds == reckon::Holds::TwoReadings)
            .filter_map(|own| {
                Some(SurveyPair {
                    place: own.place.clone(),
                    readings: readings(loaded, &own.place)?
                        .into_iter()
                        .map(|raw| unquoted(&raw))
                        .collect(),
                })
            })
            .collect();
        let ranked = self.ranked(&sheet, &arrangement);
        let chart: &dyn Where = &loaded.chart;
        let next = ranked
            .next
            .iter()
            .map(|next| SurveyNext {
                mark: subjects.at_place(&next.place),
                next: api::Next::of(next.clone(), chart),
            })
            .collect();
        Ok(SurveyPage {
            number: sheet.number,
            values: boxes.len() - empty,
            empty,
            stations: stations(boxes, &sheet, &subjects),
            next,
            pairs,
        })
    }

    fn ranked(&self, sheet: &Arc<Sheet>, arrangement: &Option<String>) -> Arc<Ranked> {
        let fits = |ranked: &Arc<Ranked>| {
            ranked.number == sheet.number && ranked.arrangement == *arrangement
        };
        let known = lock(&self.ranked).clone().filter(fits);
        if let Some(known) = known {
            return known;
        }
        let ask = Ask {
            arrangement: arrangement.as_deref(),
            seed: SEED,
        };
        let next = reckon::next(sheet.text(), &sheet.loaded.boat, ask, &mut Memo::default());
        let made = Arc::new(Ranked {
            number: sheet.number,
            arrangement: arrangement.clone(),
            next,
        });
        *lock(&self.ranked) = Some(Arc::clone(&made));
        made
    }

    /// Lets one of two readings stand.
    pub(crate) fn settle_pair(&self, number: u64, place: &str, keep: &str) -> Result<(), Refused> {
        let sheet = self.desk().to_edit()?;
        if number != sheet.number {
            return Err(Refused::conflict(
                "Another change came in between: look at it first.",
            ));
        }
        let place = typed_at(sheet.loaded.chart.places(), place);
        // A list of two things is no pair of readings.
        let pair = matches!(several(&sheet.loaded, &place), Some((Several::Pair, _)));
        let two = readings(&sheet.loaded, &place)
            .filter(|_| pair)
            .ok_or_else(|| Refused::unfit(format!("{place} does not hold two readings.")))?;
        let kept = two
            .iter()
            .find(|raw| unquoted(raw) == keep || raw.as_str() == keep)
            .ok_or_else(|| {
                let both: Vec<String> = two.iter().map(|raw| unquoted(raw)).collect();
                Refused::unfit(format!("{keep} is neither of the two readings."))
                    .expected(both.join(" or "))
            })?;
        let text = with(sheet.text(), &place, kept)?;
        let label = fitted(
            &format!("{}: {}", self.named(&sheet, &place), unquoted(kept)),
            " stands",
        );
        self.write(&sheet, text, Way::Step(label), vec![place])
    }
}

/// The two readings of a value as TOML, where it holds two.
pub(crate) fn readings(loaded: &Loaded, place: &str) -> Option<Vec<String>> {
    let each = ["[0]", "[1]"].map(|at| raw_at(loaded, &format!("{place}{at}")).map(str::to_owned));
    let [Some(one), Some(other)] = each else {
        return None;
    };
    let third = raw_at(loaded, &format!("{place}[2]")).is_some();
    (!third).then(|| vec![one, other])
}

fn stations(boxes: Vec<SurveyBox>, sheet: &Sheet, subjects: &Subjects) -> Vec<SurveyStation> {
    let mut stations: Vec<SurveyStation> = Vec::new();
    for own in boxes {
        let station = match stations
            .iter()
            .position(|station| station.path == own.station.place)
        {
            Some(at) => &mut stations[at],
            None => {
                stations.push(SurveyStation {
                    path: own.station.place.clone(),
                    title: own.station.title.clone(),
                    ends: Vec::new(),
                });
                let last = stations.len() - 1;
                &mut stations[last]
            }
        };
        let end = match station.ends.iter().position(|end| end.part == own.part) {
            Some(at) => &mut station.ends[at],
            None => {
                station.ends.push(SurveyEnd {
                    part: own.part.clone(),
                    mark: subjects.at_place(&own.place),
                    boxes: Vec::new(),
                });
                let last = station.ends.len() - 1;
                &mut station.ends[last]
            }
        };
        end.boxes.push(sent(own, sheet));
    }
    stations
}

fn sent(own: SurveyBox, sheet: &Sheet) -> api::SurveyBox {
    let units = own_system(&sheet.loaded);
    let text = own
        .written
        .as_ref()
        .map(|written| written.text.in_units(units).to_owned());
    let picture = match own.name.as_str() {
        "od" | "over_hose" | "free_hose" | "fitted_od" => SurveyPicture::Outside,
        "bead" | "bead_width" => SurveyPicture::Bead,
        "behind_bead" => SurveyPicture::Straight,
        "metal" => SurveyPicture::Material,
        "way" => SurveyPicture::Way,
        "length" => SurveyPicture::Length,
        _ => SurveyPicture::Other,
    };
    let Blank {
        place,
        station: _,
        part: _,
        name,
        entry,
        says,
        instrument,
        holds,
    } = Blank::of(own, &sheet.loaded.chart);
    api::SurveyBox {
        place: place.path,
        name,
        says,
        entry,
        instrument,
        holds,
        text,
        picture,
    }
}
