//! Trials: what would become of a state with another sea, load or dirt. Nothing is written.

use std::collections::BTreeMap;
use std::sync::Arc;

use boat::{Boat, Fouling, ThingKind};
use quantity::{Quantity, System, Temperature};
use reckon::stages::flow::{Duty, StateRow};
use reckon::{Flow, Grade, Input, Memo, Set, Stage, Verdict};
use serde::Deserialize;
use ts_rs::TS;

use super::App;
use super::answers::{Answers, SEED, meant};
use super::desk::{Sheet, with};
use super::keep::Kept;
use super::page::sent_verdict;
use super::refused::Refused;
use super::subjects::Subjects;
use crate::api::{self, Text, Trial, TrialBegins, TrialKeep, TrialRow};
use crate::figure::Figure;
use crate::files::{Hash, Held};
use crate::load::Loaded;

/// What sits on a cooler, from nothing to the worst that the file has a word for.
const FOULING: [&str; 5] = ["clean", "slime", "silt", "scale", "growth"];

/// What is tried.
#[derive(Clone, Debug, Default, Deserialize, TS)]
#[ts(optional_fields = nullable)]
pub struct TrialAsk {
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
    pub(crate) fouling: Option<f64>,
}

impl TrialAsk {
    /// The arrangement that is named.
    pub(crate) fn arrangement(&self) -> Option<&str> {
        self.arrangement.as_deref()
    }

    /// The state that is tried.
    pub(crate) fn state(&self, sheet: &Sheet) -> Result<String, Refused> {
        let states = &sheet.loaded.boat.states;
        let state = match self.state.as_deref().filter(|state| !state.is_empty()) {
            Some(named) => states.iter().find(|state| state.key == named),
            None => states.first(),
        };
        state.map(|state| state.key.clone()).ok_or_else(|| {
            Refused::unfit("The boat file has no such state: write one into [states].")
        })
    }

    /// The sea of the trial as it was typed, and how warm that is.
    pub(crate) fn sea(&self) -> Result<Option<(&str, Temperature)>, Refused> {
        let Some(sea) = self.sea.as_deref().map(str::trim) else {
            return Ok(None);
        };
        if sea.is_empty() {
            return Ok(None);
        }
        let warm: Temperature = quantity::parse(sea, None)
            .map_err(|error| Refused::unfit(format!("{}.", error.message)))?;
        Ok(Some((sea, warm)))
    }

    /// The power at the shaft that the load of the trial comes to, as TOML.
    pub(crate) fn power(&self, sheet: &Sheet) -> Result<Option<String>, Refused> {
        let Some(load) = self.load else {
            return Ok(None);
        };
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
        // To the watt, in the unit that owners write.
        let kilowatts = (full * load).round() / 1000.0;
        Ok(Some(boat::quoted(&format!("{kilowatts} kW"))))
    }
}

/// Where the sliders of a trial of a state begin: at what is reckoned with in it.
pub(crate) fn begins(boat: &Boat, state: &str, flow: Option<&Flow>) -> TrialBegins {
    let rows = flow.map_or(&[][..], |flow| flow.row.states.as_slice());
    let row = rows.iter().find(|row| row.key == state);
    let engine = boat.things.iter().find_map(|thing| thing.engine.as_ref());
    let full = engine
        .and_then(|engine| engine.power.given())
        .map(|power| power.what.value.si());
    let whole = |value: f64| value.round() as i32;
    let dirt = |own: &Fouling| match own {
        Fouling::Clean => 0,
        Fouling::Slime => 1,
        Fouling::Silt => 2,
        Fouling::Scale => 3,
        Fouling::Growth => 4,
    };
    let things = boat.things.iter();
    TrialBegins {
        sea_celsius: row.map(|row| whole(row.sea)),
        sea_fahrenheit: row.map(|row| whole(row.sea * 1.8 + 32.0)),
        load: row
            .zip(full.filter(|full| *full > 0.0))
            .map(|(row, full)| whole(row.power / full * 100.0).clamp(0, 100)),
        fouling: things
            .filter_map(|thing| thing.detail.outside.fouling.given())
            .map(dirt)
            .max(),
    }
}

impl App {
    /// The figures and verdicts of a trial beside those that are kept.
    pub(crate) fn trial(&self, ask: &TrialAsk) -> Result<Trial, Refused> {
        let sheet = self.sheet()?;
        let arrangement = meant(&sheet, ask.arrangement.as_deref())?;
        let answers = self.answers(&sheet, &arrangement);
        let state = ask.state(&sheet)?;
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
        Ok(Trial {
            keep: Kept::of(&sheet, ask)?.sent(),
            ..beside(&sheet, &answers, &trial, &state)
        })
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
    if let Some((_, sea)) = ask.sea()? {
        // The state is put into the summer, and the summer is as warm as is tried.
        text = with(&text, &format!("{base}.sea"), "\"summer\"")?;
        let warm = boat::quoted(&format!("{} °C", sea.to_celsius()));
        text = with(&text, "boat.sea.summer", &warm)?;
    }
    if let Some(power) = ask.power(sheet)? {
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
        flow: None,
        bay: None,
    };
    let answer = reckon::reckon(&input, &mut Memo::default());
    // Like is set beside like: the trial is not sampled either.
    let before: BTreeMap<&str, Grade> = answers
        .prompt()
        .verdicts
        .iter()
        .map(|verdict| (verdict.id.as_str(), verdict.grade))
        .collect();
    let of_state = format!("flow.{state}.");
    let others: Vec<String> = trial
        .boat
        .states
        .iter()
        .filter(|other| other.key != state)
        .map(|other| format!("flow.{}.", other.key))
        .collect();
    let subjects = Subjects::of(&trial.boat, name, &answer);
    let verdicts = answer
        .verdicts
        .iter()
        .filter(|verdict| {
            let own = verdict.stage == Stage::Flow && verdict.id.starts_with(&of_state);
            // A sea that is tried is the summer of all states; what that does to others was not asked.
            own || (before.get(verdict.id.as_str()) != Some(&verdict.grade)
                && !others.iter().any(|other| verdict.id.starts_with(other)))
        })
        .map(|verdict| sent_verdict(verdict, &trial.chart, &subjects, sheet.number))
        .collect();
    let row = |flow: Option<&reckon::Flow>| {
        let states = flow
            .map(|flow| flow.row.states.as_slice())
            .unwrap_or_default();
        states.iter().find(|row| row.key == state).cloned()
    };
    let tried = row(answer.flow.as_deref());
    let twice = {
        let states = answer.flow.iter().flat_map(|flow| &flow.row.states);
        states.filter(|row| row.key == state).count() > 1
    };
    let own = own_key(state, tried.as_ref().filter(|_| twice));
    let judge = |judged, value| grade(judged, &own, value, &answer.verdicts);
    Trial {
        verdicts,
        rows: rows(row(answers.flow()).as_ref(), tried.as_ref(), judge),
        keep: TrialKeep::default(),
    }
}

/// A state as ids of verdicts name it: one that stands twice is told apart by whether she moves.
fn own_key(state: &str, twice: Option<&StateRow>) -> String {
    match twice.map(|row| row.duty) {
        Some(Duty::Moving) => format!("{state}.moving"),
        Some(Duty::Tied) => format!("{state}.tied"),
        None => state.to_owned(),
    }
}

/// By which verdict a figure is judged.
#[derive(Clone, Copy, Debug)]
enum Judged {
    /// By none.
    No,
    /// By that of its state under this rule.
    Own(&'static str),
    /// By one about the worst of all states.
    Worst(&'static str),
}

/// How a figure [SI] is judged, where a verdict is about this very figure.
fn grade(
    judged: Judged,
    state: &str,
    value: Option<f64>,
    verdicts: &[Verdict],
) -> Option<api::Grade> {
    let of = |id: &str| verdicts.iter().find(|verdict| verdict.id == id);
    let verdict = match judged {
        Judged::No => None,
        Judged::Own(rule) => of(&format!("flow.{state}.{rule}")),
        Judged::Worst(id) => {
            let value = value?;
            let same = |worst: f64| (worst - value).abs() <= 1e-6 * worst.abs().max(1.0);
            // Where the worst is sound, all are. What is wrong with another state is not this one's fault.
            of(id).filter(|verdict| {
                let margin = verdict.margin.as_ref();
                verdict.grade == Grade::Sound || margin.is_some_and(|own| same(own.value))
            })
        }
    };
    verdict.map(|verdict| verdict.grade.into())
}

/// A figure of a state, where it has one.
type Take = fn(&StateRow) -> Option<f64>;

/// The figures that a trial is about.
const FIGURES: [(&str, Figure, Take, Judged); 8] = [
    ("sea", Figure::Temperature, |row| Some(row.sea), Judged::No),
    (
        "power at the shaft",
        Figure::Heat,
        |row| Some(row.power),
        Judged::No,
    ),
    (
        "heat to the coolant",
        Figure::Heat,
        |row| Some(row.heat.mid),
        Judged::No,
    ),
    (
        "coolant out of the engine",
        Figure::Temperature,
        |row| Some(row.came.steady()?.out.mid),
        Judged::Own("heat"),
    ),
    (
        "coolant into the engine",
        Figure::Temperature,
        |row| Some(row.came.steady()?.back.mid),
        Judged::No,
    ),
    (
        "flow through the engine",
        Figure::Flow,
        |row| Some(row.came.steady()?.flow),
        Judged::No,
    ),
    (
        "pressure at the pump's inlet",
        Figure::Pressure,
        |row| Some(row.came.steady()?.suction),
        Judged::Worst("flow.pump.suction"),
    ),
    (
        "heat that could be shed, of what there is",
        Figure::Share,
        |row| row.came.steady()?.reserve,
        Judged::Worst("flow.thermostat.reserve"),
    ),
];

/// The figures of both, each with what judges that of the trial.
fn rows(
    now: Option<&StateRow>,
    trial: Option<&StateRow>,
    judge: impl Fn(Judged, Option<f64>) -> Option<api::Grade>,
) -> Vec<TrialRow> {
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
        .filter_map(|(title, figure, take, judged)| {
            let (now, trial) = (now.and_then(take), trial.and_then(take));
            (now.is_some() || trial.is_some()).then(|| TrialRow {
                title: (*title).to_owned(),
                now: text(*figure, now),
                trial: text(*figure, trial),
                grade: judge(*judged, trial),
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::Hash;

    #[test]
    fn a_figure_is_judged_by_what_is_about_it_alone() {
        let text = include_str!("../../../../boats/dunlin/boat.toml").to_owned();
        let loaded = Loaded::from_held(Held {
            path: "boat.toml".into(),
            hash: Hash::of(text.as_bytes()),
            text,
        });
        let input = Input {
            boat: &loaded.boat,
            arrangement: Some("after"),
            seed: SEED,
            set: Set::Prompt,
            flow: None,
            bay: None,
        };
        let verdicts = reckon::reckon(&input, &mut Memo::default()).verdicts;
        let of = |id: &str| verdicts.iter().find(|verdict| verdict.id == id).unwrap();
        let heat = grade(Judged::Own("heat"), "cruise", None, &verdicts);
        assert_eq!(heat, Some(of("flow.cruise.heat").grade.into()));
        assert_eq!(grade(Judged::Own("heat"), "none", None, &verdicts), None);
        assert_eq!(grade(Judged::No, "cruise", Some(1.0), &verdicts), None);

        // The verdict about the worst of all states judges that state's figure, and any other only where it is sound.
        let id = "flow.pump.suction";
        let worst = of(id).margin.as_ref().unwrap().value;
        let mut bad = of(id).clone();
        for (own, other) in [(Grade::Marginal, None), (Grade::Sound, Some(Grade::Sound))] {
            bad.grade = own;
            let judged = |value| {
                let all = std::slice::from_ref(&bad);
                grade(Judged::Worst(id), "cruise", Some(value), all)
            };
            assert_eq!(judged(worst), Some(own.into()));
            assert_eq!(judged(worst + 500.0), other.map(Into::into));
        }
    }
}
