//! What a hose has to stand: the hottest coolant and the highest pressure that reach it.

use quantity::{AbsolutePressure, GaugePressure, Length, Measured, Quantity, Temperature, show};
use reference::hose::{HoseKind, temperature_limit, working_pressure};
use reference::media::{self, Glycol, Strength, VolumeFraction};
use reference::water::ATMOSPHERE;

use crate::say;
use crate::stages::types::{HoseFacts, Known, Missing, Subject};
use crate::verdict::{Basis, Grade, Margin, Settles, Stage, Verdict, Words};

/// Pressure of a metre of half-and-half mix [Pa/m].
/// Source: worked out for a 50 % mix; common practice rounds it so.
const COLUMN: f64 = 10_200.0;

/// What the circuit does to every hose in it.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Serves {
    /// Where the alarm sounds.
    pub alarm: Known<Temperature>,
    /// The cap that governs.
    pub cap: Known<GaugePressure>,
    /// Height of its seat.
    pub cap_height: Known<Length>,
    /// What it carries.
    pub mix: Mix,
}

/// The coolant, by what counts for its boiling.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Mix {
    /// Propylene glycol; else ethylene glycol, which boils hotter.
    pub propylene: bool,
    /// Glycol by volume in thousandths, at most 600; `None` where the file does not say.
    pub thousandths: Option<u16>,
}

impl Mix {
    /// For a reader: `45 % propylene glycol`. Where nothing is said, the richest that is used.
    fn words(self) -> String {
        let kind = if self.propylene {
            "propylene"
        } else {
            "ethylene"
        };
        let richest = if self.thousandths.is_none() {
            " (nothing is written in `coolant.wanted`, so the richest that is used)"
        } else {
            ""
        };
        format!("{} % {kind} glycol{richest}", f64::from(self.most()) / 10.0)
    }

    fn most(self) -> u16 {
        self.thousandths.unwrap_or(600)
    }
}

/// All that is read for one stretch of hose.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct ServiceInput {
    /// Who is judged: `hot.hose`.
    pub subject: Subject,
    /// The hose.
    pub hose: HoseFacts,
    /// Height of its lower end.
    pub lowest: Known<Length>,
    /// What the circuit does to it.
    pub serves: Serves,
}

/// Judges temperature and pressure of one stretch of hose.
pub fn service(input: &ServiceInput) -> Vec<Verdict> {
    [temperature(input), pressure(input)]
        .into_iter()
        .map(Verdict::spoken)
        .collect()
}

/// The temperature at which the coolant boils under the cap.
fn boiling(cap: &Measured<GaugePressure>, mix: Mix) -> Option<Temperature> {
    let pressure = cap.high.above(AbsolutePressure::of_si(ATMOSPHERE))?;
    let glycol = if mix.propylene {
        Glycol::Propylene
    } else {
        Glycol::Ethylene
    };
    let share = f64::from(mix.most()) / 1000.0;
    let boils = media::boils_at(glycol, VolumeFraction::of(share)?, pressure).ok()?;
    Some(boils.value)
}

fn temperature(input: &ServiceInput) -> Verdict {
    let rule = "temperature";
    let kind = match &input.hose.build {
        Ok((kind, _)) => *kind,
        Err(missing) => {
            return input
                .subject
                .waits(Stage::Fit, rule, "Build of the hose", missing);
        }
    };
    let limit = temperature_limit(kind);
    let (alarm, cap) = match (&input.serves.alarm, &input.serves.cap) {
        (Ok(alarm), cap) => (Some(alarm), cap.as_ref().ok()),
        (Err(_), Ok(cap)) => (None, Some(cap)),
        (Err(missing), Err(_)) => {
            return input.subject.waits(
                Stage::Fit,
                rule,
                "Temperature at which the alarm sounds",
                missing,
            );
        }
    };
    let mix = input.serves.mix;
    let boils = cap.and_then(|cap| boiling(&cap.measured, mix));
    let at_alarm = alarm.map(|alarm| alarm.measured.high);
    let of = |temperature: Temperature, system| show(temperature, None, system);
    let grade = match (at_alarm, boils) {
        (Some(alarm), _) if alarm > limit.value => Grade::Unsound,
        (_, Some(boils)) if boils > limit.value => Grade::Marginal,
        _ => Grade::Sound,
    };
    let because = Words::of(|system| {
        let alarm = at_alarm.map(|alarm| format!("the alarm sounds by {}", of(alarm, system)));
        let boils =
            boils.map(|boils| format!("the coolant boils under the cap at {}", of(boils, system)));
        let heat: Vec<String> = [alarm, boils].into_iter().flatten().collect();
        format!(
            "{} stands {}; {}.",
            say::capital(kind.name()),
            of(limit.value, system),
            say::list(&heat, "and")
        )
    });
    let mut verdict = input.subject.verdict(Stage::Fit, rule, grade, because);
    verdict.basis = Basis::Practice;
    if let Some(alarm) = alarm {
        verdict.input("T_a", "alarm", alarm);
    }
    if let Some(cap) = cap {
        verdict.input("p_c", "cap", cap);
        if let Some(boils) = boils {
            verdict.step(
                "boiling point of the mix at the cap's pressure and 1.013 bar of air",
                Words::of(|system| {
                    format!("{}, {}", show(cap.measured.high, None, system), mix.words())
                }),
                Words::of(|system| of(boils, system)),
            );
            verdict.source("IAPWS R7-97(2012), equation 31, for water; Raoult's law for the mix");
        }
    }
    verdict.source(limit.source.cite());
    verdict.working.limit = Words::of(|system| format!("at most {}", of(limit.value, system)));
    let hottest = at_alarm.max(boils).unwrap_or(limit.value);
    verdict.margin = Some(Margin {
        value: hottest.si(),
        deviation: None,
        low: None,
        high: Some(limit.value.si()),
        kind: quantity::Kind::Temperature,
    });
    if grade != Grade::Sound {
        verdict.remedy = if kind == HoseKind::WireHelix {
            "Take a wired hose of a hotter class; on the suction side the wire must stay."
        } else {
            "Take a hose of a hotter class: silicone with fabric stands more."
        }
        .into();
    }
    verdict
}

fn pressure(input: &ServiceInput) -> Verdict {
    let rule = "pressure";
    let serves = &input.serves;
    let (cap, seat, lowest) = match (&serves.cap, &serves.cap_height, &input.lowest) {
        (Ok(cap), Ok(seat), Ok(lowest)) => (cap, seat, lowest),
        (Err(missing), ..) => {
            return input
                .subject
                .waits(Stage::Fit, rule, "Pressure of the cap", missing);
        }
        (_, Err(missing), _) => {
            return input
                .subject
                .waits(Stage::Fit, rule, "Height of the cap", missing);
        }
        (.., Err(missing)) => {
            return input
                .subject
                .waits(Stage::Fit, rule, "Height of the hose", missing);
        }
    };
    let head = (seat.measured.high - lowest.measured.low).to_m();
    let needed = GaugePressure::pa(cap.measured.high.to_pa() + COLUMN * head.max(0.0));
    let hottest = serves.alarm.as_ref().ok().map(|alarm| alarm.measured.high);
    let told = |system| show(needed, None, system);
    let load = |system| {
        format!(
            "{} press on it when hot: the cap and {} of coolant above it",
            told(system),
            say::whole_mm(head.max(0.0), system)
        )
    };
    let rated = rating(input);
    let (grade, because, settles, source) = match rated {
        Err(missing) => {
            let because =
                Words::of(|system| format!("{}; {}.", load(system), missing.why.in_units(system)));
            (Grade::Unmeasured, because, Some(missing.settles), None)
        }
        Ok(Rating { least, at, source }) => {
            let holds = least >= needed;
            let hot_enough = at.is_some_and(|at| hottest.is_some_and(|hottest| at >= hottest));
            let at_words = |system| {
                at.map_or_else(String::new, |at| format!(" at {}", show(at, None, system)))
            };
            let because = Words::of(|system| {
                format!(
                    "{}; it is rated at {}{}.",
                    load(system),
                    show(least, None, system),
                    at_words(system)
                )
            });
            if !holds {
                (Grade::Unsound, because, None, Some(source))
            } else if hot_enough {
                (Grade::Sound, because, None, Some(source))
            } else {
                let because = Words::of(|system| {
                    format!(
                        "{} Nothing says what is left of that hot.",
                        because.in_units(system)
                    )
                });
                let how = "Ask the hose's maker for its working pressure at the alarm's temperature and write it in `stock.hose`: `works 3 bar @ 100 °C`.";
                (
                    Grade::Unmeasured,
                    because,
                    Some(Settles {
                        place: "stock.hose".into(),
                        how: how.into(),
                    }),
                    Some(source),
                )
            }
        }
    };
    let mut verdict = input.subject.verdict(Stage::Fit, rule, grade, because);
    verdict.basis = Basis::Physics;
    verdict.input("p_c", "cap", cap);
    verdict.input("h_c", "height of the cap's seat", seat);
    verdict.input("h", "height of the hose's lower end", lowest);
    verdict.step(
        "p = p_c + 10.2 kPa/m × (h_c − h)",
        Words::of(|system| {
            format!(
                "{} + 10.2 kPa/m × {}",
                show(cap.measured.high, None, system),
                say::whole_mm(head, system)
            )
        }),
        Words::of(told),
    );
    verdict.working.limit = "the hose's working pressure at the alarm's temperature; the head of the pump comes on top and is not reckoned here".into();
    verdict.source("10.2 kPa a metre of half-and-half mix, worked out");
    if let Some(source) = source {
        verdict.source(source);
    }
    if let Some(settles) = settles {
        verdict.settle_by(&settles);
    }
    if grade == Grade::Unsound {
        verdict.remedy = "Take a hose with a higher working pressure.".into();
    }
    verdict
}

struct Rating {
    least: GaugePressure,
    at: Option<Temperature>,
    source: String,
}

fn rating(input: &ServiceInput) -> Result<Rating, Missing> {
    if let Some((works, at)) = &input.hose.works_at {
        return Ok(Rating {
            least: works.low,
            at: at.map(|at| at.value),
            source: "as printed on the hose, by the owner's word".into(),
        });
    }
    let how = "Read the working pressure printed on the hose or in its sheet and write it in `stock.hose`: `works 3 bar @ 100 °C`.";
    let settles = Settles {
        place: "stock.hose".into(),
        how: how.into(),
    };
    let (Ok((kind, _)), Ok(bore)) = (&input.hose.build, &input.hose.bore) else {
        return Err(Missing {
            why: "what it stands is not known".into(),
            settles,
        });
    };
    match working_pressure(*kind, bore.measured.value) {
        Ok(rating) => Ok(Rating {
            least: rating.value.low,
            at: None,
            source: rating.source.cite(),
        }),
        Err(unknown) => Err(Missing {
            why: unknown.why.as_str().into(),
            settles,
        }),
    }
}
