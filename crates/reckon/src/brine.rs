//! Salt from a few numbers: practical salinity, what the sea holds, and how much of it came into the coolant.

use quantity::{
    Concentration, Conductivity, Instrument, Instruments, Measured, Origin, Quantity, Reading,
    Temperature, Tolerance, Volume, show,
};
use reference::salt::{self, PracticalSalinity};
use reference::{Sourced, Unknown};

use crate::say;
use crate::solve::salt::{Kept, Rise, TakenIn, Uncertain};
use crate::stages::types::{Subject, Value};
use crate::verdict::{Basis, Grade, Margin, Number, Settles, Stage, Verdict, Words};

/// What is known of the sea and of the coolant.
#[derive(Clone, Debug, Default)]
pub struct SaltAsk {
    /// Conductivity of the sea.
    pub conductivity: Option<Reading<Conductivity>>,
    /// How warm that sample was.
    pub at: Option<Temperature>,
    /// Practical salinity of the sea, where it is known otherwise.
    pub sea: Option<PracticalSalinity>,
    /// The rise of chloride in the coolant.
    pub rise: Option<RiseAsk>,
    /// Chloride in the coolant, where nothing is known of before.
    pub level: Option<Reading<Concentration>>,
}

/// A rise of chloride in the coolant.
#[derive(Clone, Debug)]
pub struct RiseAsk {
    /// Chloride now.
    pub now: Reading<Concentration>,
    /// Chloride before.
    pub before: Reading<Concentration>,
    /// What the circuit holds.
    pub volume: Reading<Volume>,
    /// Nothing went out through the cap.
    pub kept: bool,
}

/// The figures.
#[derive(Clone, Debug, PartialEq)]
pub struct SaltRow {
    /// Practical salinity, which has no unit; `None` where nobody told of the sea.
    pub salinity: Option<f64>,
    /// The same for people.
    pub salinity_text: Option<String>,
    /// Conductivity of that sea at 15 °C.
    pub conductivity: Option<Number>,
    /// Chloride in a litre of it at 20 °C.
    pub chloride: Option<Number>,
    /// Sea water taken in; `None` where nobody asks.
    pub taken_in: Option<TakenInRow>,
}

/// Sea water taken in.
#[derive(Clone, Debug, PartialEq)]
pub struct TakenInRow {
    /// How much, by the readings.
    pub volume: Number,
    /// Not less, 95 in 100; below nought where it may be none.
    pub low: Number,
    /// Not more, 95 in 100.
    pub high: Number,
    /// Whether the interval stays clear of nought.
    pub shown: bool,
}

/// Figures and verdicts.
#[derive(Clone, Debug, PartialEq)]
pub struct SaltOutput {
    /// The figures.
    pub row: SaltRow,
    /// The verdict about the coolant, where its chloride was given.
    pub verdicts: Vec<Verdict>,
}

/// How far off a strip is where no tolerance is written; from memory of such strips' leaflets.
const STRIP: f64 = 0.20;
/// How far off a volume is where no tolerance is written; common practice, no source.
const VOLUME: f64 = 0.05;
/// How far the salinity of a sea moves with rain and season where none was measured; common practice, no source.
const SEA: f64 = 0.05;

/// Reckons salt.
pub fn brine(ask: &SaltAsk) -> Result<SaltOutput, Unknown> {
    let fifteen = Temperature::celsius(15.0);
    let twenty = Temperature::celsius(20.0);
    let Sourced {
        value: sea,
        source: of_sea,
    } = match (ask.conductivity, ask.sea) {
        (Some(conductivity), _) => salt::salinity(conductivity.value, ask.at.unwrap_or(twenty))?,
        (None, Some(sea)) => Sourced {
            value: sea,
            source: reference::source::owner(),
        },
        (None, None) if ask.rise.is_none() && ask.level.is_some() => {
            return Ok(SaltOutput {
                row: SaltRow {
                    salinity: None,
                    salinity_text: None,
                    conductivity: None,
                    chloride: None,
                    taken_in: None,
                },
                verdicts: ask.level.iter().map(level).collect(),
            });
        }
        (None, None) => {
            return Err(Unknown {
                why: "how salt the sea is, is not known".into(),
                settles: "its conductivity with its temperature, or its practical salinity".into(),
            });
        }
    };
    let chloride = salt::chloride(sea, twenty)?;
    let conductivity = salt::conductivity(sea, fifteen)?;
    let mut row = SaltRow {
        salinity: Some(sea.number()),
        salinity_text: Some(figure(sea.number())),
        conductivity: Some(say::number(conductivity.value, None)),
        chloride: Some(say::number(chloride.value, None)),
        taken_in: None,
    };
    let mut verdicts = Vec::new();
    if let Some(rise) = &ask.rise {
        let (taken, verdict) = risen(rise, sea, chloride, ask.conductivity.is_none())?;
        row.taken_in = taken;
        let mut verdict = verdict;
        if ask.conductivity.is_some() {
            verdict.source(of_sea.cite());
        }
        verdicts.push(verdict.spoken());
    } else {
        verdicts.extend(ask.level.iter().map(level));
    }
    Ok(SaltOutput { row, verdicts })
}

/// How the coolant is called where there is no boat.
fn coolant() -> Subject {
    Subject {
        key: "coolant".into(),
        title: "the coolant".into(),
        place: String::new(),
    }
}

/// Chloride by itself, against what is borne in service.
fn level(reading: &Reading<Concentration>) -> Verdict {
    let how =
        "Read the chloride again with a fresh strip, and fresh coolant of the same kind beside it.";
    let now = usually(reading, "--chloride", STRIP, how);
    let (look, act) = (salt::look_into_chloride(), salt::act_on_chloride());
    let found = now.measured.value;
    let grade = if found > act.value.high {
        Grade::Unsound
    } else if found > look.value.low {
        Grade::Marginal
    } else {
        Grade::Sound
    };
    let because = Words::of(|system| {
        format!(
            "{} of chloride; above {} one looks for the leak, above {} one changes the coolant.",
            show(found, None, system),
            show(look.value.low, None, system),
            show(act.value.high, None, system)
        )
    });
    let mut verdict = coolant().verdict(Stage::Watch, "salt", grade, because);
    verdict.input("c", "chloride now", &now);
    limits(&mut verdict, &now);
    if grade != Grade::Sound {
        remedy(&mut verdict, found > act.value.high);
    }
    verdict.spoken()
}

/// Against which limits chloride is held, and how far it is from them.
fn limits(verdict: &mut Verdict, now: &Value<Concentration>) {
    let (look, act) = (salt::look_into_chloride(), salt::act_on_chloride());
    verdict.working.limit = Words::of(|system| {
        format!(
            "look for the leak above {}, change it above {}",
            show(look.value.low, None, system),
            show(act.value.high, None, system)
        )
    });
    verdict.source(look.source.cite());
    verdict.margin = Some(Margin {
        value: now.measured.value.si(),
        deviation: Some(now.measured.half_width().si()),
        low: None,
        high: Some(act.value.high.si()),
        kind: Concentration::KIND,
    });
}

/// What to do about chloride in the coolant.
fn remedy(verdict: &mut Verdict, act: bool) {
    verdict.remedy = if act {
        "Find where the sea comes in, drain, flush until a strip reads like the water you flush with, and fill anew."
    } else {
        "Read it again with a fresh strip in some days: a rise between two dated readings tells when it comes in."
    }
    .into();
    verdict.caution =
        Some("Hot and under pressure: open the cap only when the engine is cold.".into());
}

/// Four figures at most.
fn figure(number: f64) -> String {
    let text = format!("{number:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    text.to_owned()
}

/// A reading with the tolerance that was written, else with the one that is usual for it.
fn usually<Q: Quantity>(reading: &Reading<Q>, flag: &str, share: f64, how: &str) -> Value<Q> {
    let stated = !matches!(reading.tolerance, Tolerance::Unstated) || reading.instrument.is_some();
    let measured = reading
        .measured(&Instruments::usual(), Instrument::Maker)
        .filter(|_| stated);
    let half = reading.value.si().abs() * share;
    let ends = Q::from_si(reading.value.si() - half).zip(Q::from_si(reading.value.si() + half));
    let (measured, from) = match (measured, ends) {
        (Some(measured), _) => (measured, "as given".to_owned()),
        (None, Some((low, high))) => (
            Measured::new(low, reading.value, high, Origin::Assumed)
                .unwrap_or(Measured::exact(reading.value, Origin::Assumed)),
            "assumed".to_owned(),
        ),
        (None, None) => (
            Measured::exact(reading.value, Origin::Assumed),
            "assumed".to_owned(),
        ),
    };
    Value {
        measured,
        from,
        place: None,
        settles: Settles {
            place: flag.to_owned(),
            how: how.to_owned(),
        },
    }
}

fn risen(
    rise: &RiseAsk,
    sea: PracticalSalinity,
    in_sea: Sourced<Concentration>,
    sea_told: bool,
) -> Result<(Option<TakenInRow>, Verdict), Unknown> {
    if sea.number() <= 0.0 {
        return Err(Unknown {
            why: "fresh water has no chloride to tell by".into(),
            settles: "a test of the heat exchanger by pressure, with the engine cold".into(),
        });
    }
    let how =
        "Read the chloride again with a fresh strip, and fresh coolant of the same kind beside it.";
    let now = usually(&rise.now, "--chloride", STRIP, how);
    let before = usually(&rise.before, "--before", STRIP, how);
    let volume = usually(&rise.volume, "--volume", VOLUME, crate::pour::METER);
    let uncertain = |value: f64, u: f64| Uncertain { value, u };
    let sea_share = if sea_told { SEA } else { 0.01 };
    let sum = Rise {
        volume: uncertain(
            volume.measured.value.si(),
            volume.measured.standard_uncertainty(),
        ),
        before: uncertain(
            before.measured.value.si(),
            before.measured.standard_uncertainty(),
        ),
        now: uncertain(now.measured.value.si(), now.measured.standard_uncertainty()),
        sea: uncertain(
            in_sea.value.si(),
            in_sea.value.si() * sea_share / 3.0_f64.sqrt(),
        ),
    };
    let kept = if rise.kept {
        Kept::All
    } else {
        Kept::Overflowed
    };
    let taken = sum.taken_in(kept).ok_or_else(|| Unknown {
        why: format!(
            "coolant with more chloride than the sea of salinity {} is no coolant",
            figure(sea.number())
        ),
        settles: "the chloride once more, diluted with nine parts of distilled water".into(),
    })?;
    let row = taken_row(&taken);
    let (look, act) = (salt::look_into_chloride(), salt::act_on_chloride());
    let level = now.measured.value;
    let grade = if level > act.value.high {
        Grade::Unsound
    } else if level > look.value.low || taken.is_shown() {
        Grade::Marginal
    } else {
        Grade::Sound
    };
    let because = Words::of(|system| {
        let rise = format!(
            "Chloride went from {} to {}",
            show(before.measured.value, None, system),
            show(level, None, system)
        );
        let litres = |cubic: f64| {
            Volume::from_si(cubic).map_or_else(String::new, |volume| show(volume, None, system))
        };
        let (low, high) = taken.interval();
        if taken.is_shown() {
            format!(
                "{rise}: {} of sea water came in, {} to {} with 95 in 100.",
                litres(taken.volume),
                litres(low),
                litres(high)
            )
        } else if taken.volume > 0.0 {
            format!(
                "{rise}: sea water taken in is not shown; the readings allow for none, and for {} at most.",
                litres(high)
            )
        } else {
            format!(
                "{rise}: sea water taken in is not shown, since chloride did not rise; the readings allow for {} at most.",
                litres(high.max(0.0))
            )
        }
    });
    let mut verdict = coolant().verdict(Stage::Watch, "salt", grade, because);
    verdict.basis = Basis::Practice;
    verdict
        .input("V", "circuit", &volume)
        .input("c0", "chloride before", &before)
        .input("c", "chloride now", &now);
    let formula = match kept {
        Kept::All => "v = V (c − c0) / (cs − c), nothing lost",
        Kept::Overflowed => "v = V ln((cs − c0) / (cs − c)), as much out through the cap",
    };
    verdict.step(
        formula,
        Words::of(|system| {
            format!(
                "V = {}, cs = {} at salinity {}",
                show(volume.measured.value, None, system),
                show(in_sea.value, None, system),
                figure(sea.number())
            )
        }),
        row.volume.text.clone(),
    );
    verdict.step(
        "u² = (v/V)² u_V² + (V/cs)² (u_c² + u_c0²) + (v/cs)² u_cs²; 95 in 100 within 2 u",
        Words::default(),
        Words::of(|system| {
            Volume::from_si(taken.u).map_or_else(String::new, |u| show(u, None, system))
        }),
    );
    verdict.source(in_sea.source.cite());
    limits(&mut verdict, &now);
    if grade != Grade::Sound {
        remedy(&mut verdict, level > act.value.high);
    }
    Ok((Some(row), verdict))
}

fn taken_row(taken: &TakenIn) -> TakenInRow {
    let number = |cubic: f64| say::number(Volume::of_si(cubic), None);
    let (low, high) = taken.interval();
    TakenInRow {
        volume: number(taken.volume),
        low: number(low),
        high: number(high),
        shown: taken.is_shown(),
    }
}
