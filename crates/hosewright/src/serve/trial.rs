//! Trials: what would become of a state with another sea, load or dirt. Nothing is written.

use std::collections::BTreeMap;
use std::sync::Arc;

use boat::ThingKind;
use quantity::{Quantity, System, Temperature};
use reckon::stages::flow::StateRow;
use reckon::{Grade, Input, Memo, Set, Stage};
use serde::Deserialize;

use super::App;
use super::answers::{Answers, SEED, meant};
use super::desk::{Sheet, with};
use super::page::sent_verdict;
use super::refused::Refused;
use super::subjects::Subjects;
use crate::api::{Text, Trial, TrialRow};
use crate::figure::Figure;
use crate::files::{Hash, Held};
use crate::load::Loaded;

/// What sits on a cooler, from nothing to the worst that the file has a word for.
const FOULING: [&str; 5] = ["clean", "slime", "silt", "scale", "growth"];

/// What is tried.
#[derive(Clone, Debug, Deserialize)]
pub(crate) struct TrialAsk {
    #[serde(default)]
    arrangement: Option<String>,
    #[serde(default)]
    state: Option<String>,
    /// Temperature of the sea: `28 °C`.
    #[serde(default)]
    sea: Option<String>,
    /// Share of the engine's power, 0 to 1.
    #[serde(default)]
    load: Option<f64>,
    /// 0 clean, 1 slime, 2 silt, 3 scale, 4 growth.
    #[serde(default)]
    fouling: Option<f64>,
}

impl App {
    /// The figures and verdicts of a trial beside those that are kept.
    pub(crate) fn trial(&self, ask: &TrialAsk) -> Result<Trial, Refused> {
        let sheet = self.sheet()?;
        let arrangement = meant(&sheet, ask.arrangement.as_deref())?;
        let answers = self.answers(&sheet, &arrangement);
        let states = &sheet.loaded.boat.states;
        let state = match ask.state.as_deref().filter(|state| !state.is_empty()) {
            Some(named) => states.iter().find(|state| state.key == named),
            None => states.first(),
        };
        let state = state.map(|state| state.key.clone()).ok_or_else(|| {
            Refused::unfit("The boat file has no such state: write one into [states].")
        })?;
        let text = tried(&sheet, arrangement.as_deref(), &state, ask)?;
        let trial = Loaded::from_held(Held {
            path: sheet.loaded.held.path.clone(),
            hash: Hash::of(text.as_bytes()),
            text,
        });
        if let Some(stop) = trial
            .remarks
            .iter()
            .find(|remark| remark.severity == boat::Severity::Stop)
        {
            return Err(Refused::unfit(format!("{}.", stop.message)));
        }
        Ok(beside(&sheet, &answers, &trial, &state))
    }
}

/// The text with what is tried in it.
fn tried(
    sheet: &Sheet,
    arrangement: Option<&str>,
    state: &str,
    ask: &TrialAsk,
) -> Result<String, Refused> {
    let mut text = sheet.text().to_owned();
    let base = format!("states.{}", boat::key_text(state));
    if let Some(sea) = ask.sea.as_deref().filter(|sea| !sea.trim().is_empty()) {
        let sea: Temperature = quantity::parse(sea, None)
            .map_err(|error| Refused::unfit(format!("{}.", error.message)))?;
        // The state is put into the summer, and the summer is as warm as is tried.
        text = with(&text, &format!("{base}.sea"), "\"summer\"")?;
        let warm = boat::quoted(&format!("{} °C", sea.to_celsius()));
        text = with(&text, "boat.sea.summer", &warm)?;
    }
    if let Some(load) = ask.load {
        if !(0.0..=1.0).contains(&load) {
            return Err(Refused::unfit("A load from 0 to 1 is due."));
        }
        let engine = sheet
            .loaded
            .boat
            .things
            .iter()
            .find_map(|thing| thing.engine.as_ref());
        let full = engine
            .and_then(|engine| engine.power.given())
            .map(|power| power.what.value.si())
            .ok_or_else(|| {
                Refused::unfit("The engine's power is not written, so no share of it can be tried.")
            })?;
        let power = boat::quoted(&format!("{} W", (full * load).round()));
        text = with(&text, &format!("{base}.power"), &power)?;
    }
    if let Some(fouling) = ask.fouling {
        if !fouling.is_finite() || !(0.0..=4.0).contains(&fouling) {
            return Err(Refused::unfit(
                "A state from 0, clean, to 4, growth, is due.",
            ));
        }
        // OK because it lies within the list.
        let word = boat::quoted(FOULING[fouling.round() as usize]);
        if let Some(arranged) = sheet.loaded.boat.arranged(arrangement) {
            for thing in &arranged.boat.things {
                let cooler = [
                    ThingKind::KeelPipes,
                    ThingKind::SkinTank,
                    ThingKind::Exchanger,
                ];
                if thing.kind.given().is_some_and(|kind| cooler.contains(kind)) {
                    let place = format!("{}.fouling", arranged.thing_place(&thing.key));
                    text = with(&text, &place, &word)?;
                }
            }
        }
    }
    Ok(text)
}

fn beside(sheet: &Arc<Sheet>, answers: &Answers, trial: &Loaded, state: &str) -> Trial {
    let name = answers.arrangement.as_deref();
    let input = Input {
        boat: &trial.boat,
        arrangement: name,
        seed: SEED,
        set: Set::Prompt,
    };
    let answer = reckon::reckon(&input, &mut Memo::default());
    let flow = reckon::flow(&trial.boat, name);
    let before: BTreeMap<&str, Grade> = answers
        .answer()
        .verdicts
        .iter()
        .map(|verdict| (verdict.id.as_str(), verdict.grade))
        .collect();
    let of_state = format!("flow.{state}.");
    let subjects = Subjects::of(&trial.boat, name, &answer);
    let verdicts = answer
        .verdicts
        .iter()
        .filter(|verdict| {
            let own = verdict.stage == Stage::Flow && verdict.id.starts_with(&of_state);
            own || before.get(verdict.id.as_str()) != Some(&verdict.grade)
        })
        .map(|verdict| sent_verdict(verdict, &trial.chart, &subjects, sheet.number))
        .collect();
    let row = |flow: Option<&reckon::Flow>| {
        let states = flow
            .map(|flow| flow.row.states.as_slice())
            .unwrap_or_default();
        states.iter().find(|row| row.key == state).cloned()
    };
    Trial {
        verdicts,
        rows: rows(
            row(answers.flow.as_deref()).as_ref(),
            row(flow.as_ref()).as_ref(),
        ),
    }
}

/// A figure of a state, where it has one.
type Take = fn(&StateRow) -> Option<f64>;

/// The figures that a trial is about.
const FIGURES: [(&str, Figure, Take); 8] = [
    ("sea", Figure::Temperature, |row| Some(row.sea)),
    ("power at the shaft", Figure::Heat, |row| Some(row.power)),
    ("heat to the coolant", Figure::Heat, |row| {
        Some(row.heat.mid)
    }),
    ("coolant out of the engine", Figure::Temperature, |row| {
        Some(row.came.steady()?.out.mid)
    }),
    ("coolant into the engine", Figure::Temperature, |row| {
        Some(row.came.steady()?.back.mid)
    }),
    ("flow through the engine", Figure::Flow, |row| {
        Some(row.came.steady()?.flow)
    }),
    ("pressure at the pump's inlet", Figure::Pressure, |row| {
        Some(row.came.steady()?.suction)
    }),
    (
        "heat that could be shed, of what there is",
        Figure::Share,
        |row| row.came.steady()?.reserve,
    ),
];

fn rows(now: Option<&StateRow>, trial: Option<&StateRow>) -> Vec<TrialRow> {
    let text = |figure: Figure, value: Option<f64>| {
        let say = |system: System| match value {
            Some(value) => figure.text(value, system),
            None => "–".to_owned(),
        };
        Text {
            metric: say(System::Metric),
            imperial: say(System::Imperial),
        }
    };
    FIGURES
        .iter()
        .filter_map(|(title, figure, take)| {
            let (now, trial) = (now.and_then(take), trial.and_then(take));
            (now.is_some() || trial.is_some()).then(|| TrialRow {
                title: (*title).to_owned(),
                now: text(*figure, now),
                trial: text(*figure, trial),
                grade: None,
            })
        })
        .collect()
}
