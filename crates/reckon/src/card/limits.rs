//! What the circuit can do and where its limits are.

use boat::{Arranged, Told};
use quantity::{
    Power, PressureDifference, Quantity, Reading, System, Temperature, Tolerance, Unit, Volume,
};
use reference::media::{Strength, VolumeFraction};

use super::{CardFact, CardLimit};
use crate::facts::serves;
use crate::flow::Flow;
use crate::pour;
use crate::say;
use crate::solve::net::{Medium, liquids};
use crate::stages::fill::KindFacts;
use crate::stages::flow::{Came, Figures, FlowRow, MostRow, StateRow};
use crate::stages::types::Known;
use crate::verdict::{Settles, Words};

/// From 0 °C to the thermodynamic scale [K].
const ICE: f64 = 273.15;
/// Where no sea is warmer, how warm a sea may be is worth no line [°C]. Common practice, no source.
const WARM: f64 = 32.0;

/// The limits of an arrangement.
pub(super) fn of(arranged: &Arranged, flow: Option<&Flow>) -> Vec<CardLimit> {
    let serves = serves(arranged);
    let things = &arranged.boat.things;
    let engine = things.iter().find_map(|thing| thing.engine.as_ref());
    let alarm_at = engine.and_then(|engine| engine.alarm.at.given());
    let cap = serves.cap.as_ref().ok().map(|cap| cap.measured.value);
    let stamped = things
        .iter()
        .filter_map(|thing| thing.cap.given())
        .find(|reading| Some(reading.value) == cap);
    let tried = engine.map_or(Told::LeftOut, |engine| engine.alarm.tried.clone());
    let mut limits = vec![
        brief("Alarm sounds at", known(&serves.alarm, alarm_at)),
        brief(
            "Last tried",
            match tried.given() {
                Some(tried) => CardFact::Known(tried.as_str().into(), "the file".into()),
                None => CardFact::Unmeasured(Settles {
                    place: "engine.alarm.tried".into(),
                    how: "Try it, sender in hot water; write the day.".into(),
                }),
            },
        ),
        brief("Cap opens at", known(&serves.cap, stamped)),
        brief("Boils at", boils(arranged)),
    ];
    let held = flow.and_then(|flow| Held::of(arranged, &flow.row));
    for until in [Until::Alarm, Until::Boils] {
        limits.push(CardLimit {
            what: until.words().into(),
            is: until.told(flow, &serves.alarm, held.as_ref()),
            brief: false,
        });
    }
    limits.push(CardLimit {
        what: "Greatest steady power, all sound".into(),
        is: power(flow),
        brief: false,
    });
    limits.extend(sea(flow));
    limits
}

fn brief(what: &str, is: CardFact) -> CardLimit {
    CardLimit {
        what: what.into(),
        is,
        brief: true,
    }
}

/// A value of the file, or what would settle it. What it may be off is told only where somebody wrote it.
fn known<Q: Quantity>(known: &Known<Q>, reading: Option<&Reading<Q>>) -> CardFact {
    let typed = reading.is_some_and(|reading| !matches!(reading.tolerance, Tolerance::Unstated));
    match known {
        Ok(value) => CardFact::Known(
            Words::of(|system| {
                let measured = &value.measured;
                if typed {
                    quantity::show_measured(measured, system)
                } else {
                    quantity::show(measured.value, Some(measured.half_width()), system)
                }
            }),
            value.from.clone(),
        ),
        Err(missing) => CardFact::Unmeasured(missing.settles.clone()),
    }
}

/// Where the coolant that is to go in boils.
fn boils(arranged: &Arranged) -> CardFact {
    let row = pour::of_boat(arranged, None).map(|filling| filling.row);
    let row = row.as_ref();
    let open = row.and_then(|row| row.boils_open.as_ref());
    let under = row.and_then(|row| row.boils_under_cap.as_ref());
    match open {
        Some(open) => CardFact::Known(
            Words::of(|system| {
                let open = open.text.in_units(system);
                match under {
                    Some(under) => {
                        let under = under.text.in_units(system);
                        format!("{open} with the cap off, {under} under it")
                    }
                    None => format!("{open} with the cap off"),
                }
            }),
            "reckoned".into(),
        ),
        None => CardFact::Unmeasured(Settles {
            place: "coolant.wanted".into(),
            how: "Write which coolant goes in, and its share of the volume.".into(),
        }),
    }
}

/// To where the coolant warms once nothing cools it.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Until {
    Alarm,
    Boils,
}

/// What is known to be in the circuit, where not all that it holds is: it has at least the time of that.
struct Held {
    medium: Medium,
    /// How much [m³].
    volume: f64,
}

impl Held {
    fn of(arranged: &Arranged, row: &FlowRow) -> Option<Self> {
        let told = row
            .volume
            .as_ref()
            .filter(|volume| volume.whole.is_none())?;
        let volume: f64 = told.parts.iter().map(|(_, volume, _)| volume).sum();
        let coolant = &arranged.boat.coolant;
        let kind = KindFacts::of(coolant.kind.given()?);
        let medium = match kind.glycol {
            None if kind.water => liquids::fresh(),
            None => return None,
            Some(glycol) => {
                let share = coolant.percent.given()?.value.to_f64();
                let share = VolumeFraction::of(share)?;
                if share.share() > 0.0 {
                    liquids::mix(glycol, share)
                } else {
                    liquids::fresh()
                }
            }
        };
        let medium = medium.ok()?;
        (volume > 0.0).then_some(Self { medium, volume })
    }

    /// Seconds from one temperature [°C] to another by a heat [W].
    fn lasts(&self, from: f64, to: f64, heat: f64) -> f64 {
        let props = self.medium.at(from);
        (self.volume * props.density * props.heat * (to - from) / heat).max(0.0)
    }
}

impl Until {
    fn words(self) -> &'static str {
        match self {
            Self::Alarm => "Until the alarm",
            Self::Boils => "Until it boils",
        }
    }

    /// How long it takes in a state [s]: nothing where it is there already or never comes to rest; `None` where that
    /// can't be told.
    fn lasts(
        self,
        state: &StateRow,
        alarm: &Known<Temperature>,
        held: Option<&Held>,
    ) -> Option<f64> {
        let figures = match &state.came {
            Came::Steady(figures) => figures,
            Came::NoSteadyState(_) => return Some(0.0),
            Came::Unsolvable(_) | Came::Unmeasured(_) => return None,
        };
        let to = self.ends(figures, alarm)?;
        if state.heat.high <= 0.0 {
            return None;
        }
        match (&figures.uncooled, held) {
            (Some(told), _) => {
                let told = match self {
                    Self::Alarm => told.alarm,
                    Self::Boils => told.boils,
                };
                Some(told.unwrap_or(0.0))
            }
            (None, Some(held)) => Some(held.lasts(figures.out.high, to, state.heat.high)),
            (None, None) => None,
        }
    }

    /// At which temperature it ends [°C].
    fn ends(self, figures: &Figures, alarm: &Known<Temperature>) -> Option<f64> {
        match self {
            Self::Alarm => Some(alarm.as_ref().ok()?.measured.value.to_celsius()),
            Self::Boils => figures.hottest.as_ref().map(|(_, _, open, _)| *open),
        }
    }

    /// All states from the hardest to the easiest, rounded down. A state that is reckoned making way and lying still
    /// has the shorter of the two.
    fn told(
        self,
        flow: Option<&Flow>,
        alarm: &Known<Temperature>,
        held: Option<&Held>,
    ) -> CardFact {
        if let (Self::Alarm, Err(missing)) = (self, alarm) {
            return CardFact::Unmeasured(missing.settles.clone());
        }
        let rows = flow.map_or(&[][..], |flow| flow.row.states.as_slice());
        let mut times: Vec<(&str, Option<f64>)> = Vec::new();
        for row in rows {
            let lasts = self.lasts(row, alarm, held);
            match times.iter_mut().find(|(key, _)| *key == row.key) {
                Some((_, own)) => *own = own.zip(lasts).map(|(a, b)| a.min(b)),
                None => times.push((row.key.as_str(), lasts)),
            }
        }
        if times.iter().all(|(_, lasts)| lasts.is_none()) {
            let volume = flow.and_then(|flow| flow.row.volume.as_ref());
            return match volume.and_then(|volume| volume.missing.first()) {
                Some(missing) => CardFact::Unmeasured(missing.settles.clone()),
                None => wanting(flow),
            };
        }
        times.sort_by(|(_, a), (_, b)| {
            let lasts = |own: &Option<f64>| own.unwrap_or(f64::MAX);
            lasts(a).total_cmp(&lasts(b))
        });
        let mut groups: Vec<(String, Vec<String>)> = Vec::new();
        for (key, lasts) in &times {
            let lasts = lasts.map_or_else(|| "not known".to_owned(), rounded);
            match groups.last_mut() {
                Some((own, keys)) if *own == lasts => keys.push((*key).to_owned()),
                _ => groups.push((lasts, vec![(*key).to_owned()])),
            }
        }
        let mut told: Vec<String> = Vec::new();
        let mut at_least = held.is_some();
        for (lasts, keys) in &groups {
            let bound = at_least && lasts != NONE;
            at_least &= !bound;
            let least = if bound { "at least " } else { "" };
            told.push(format!("{least}{lasts} in {}", say::list(keys, "and")));
        }
        let told = told.join(", ");
        CardFact::Known(
            Words::of(|system| match held {
                Some(held) => {
                    // So that what is printed is no more than there is.
                    let litres = (held.volume * 1000.0).floor() / 1000.0;
                    let volume = quantity::show(Volume::of_si(litres), None, system);
                    format!("{told}, by the {volume} known")
                }
                None => told.clone(),
            }),
            "reckoned".into(),
        )
    }
}

/// For no time at all.
const NONE: &str = "no time at all";

/// A time that one has, rounded down.
fn rounded(seconds: f64) -> String {
    say::lasts(seconds).unwrap_or_else(|| NONE.to_owned())
}

/// What flow wants before it can tell the most.
fn wanting(flow: Option<&Flow>) -> CardFact {
    let missing = flow.and_then(|flow| flow.row.missing.first());
    CardFact::Unmeasured(match missing {
        Some(missing) => missing.settles.clone(),
        None => Settles {
            place: "states".into(),
            how: "Write how she is used as states with their speeds, so that the greatest power can be reckoned.".into(),
        },
    })
}

/// The greatest steady power, by the sea.
pub(super) fn power(flow: Option<&Flow>) -> CardFact {
    let most = flow.and_then(|flow| flow.row.most.iter().find(|most| !most.power.is_empty()));
    match most {
        Some(most) => CardFact::Known(
            Words::of(|system| power_words(most, system)),
            format!("reckoned, up to {}", most.limit.1),
        ),
        None => wanting(flow),
    }
}

/// The least of what is told for each sea up to the warmest at which there is any: `12 kW in any sea up to 32 °C`.
/// Powers are rounded down.
fn power_words(most: &MostRow, system: System) -> String {
    let mut seas: Vec<(f64, Option<f64>)> = most.power.clone();
    seas.sort_by(|a, b| a.0.total_cmp(&b.0));
    let holds: Vec<(f64, f64)> = seas
        .iter()
        .map_while(|(sea, power)| power.map(|power| (*sea, power)))
        .collect();
    let least = holds.iter().map(|(_, power)| *power).reduce(f64::min);
    match (least, holds.last()) {
        (Some(least), Some((warmest, _))) => format!(
            "{} in any sea up to {}, making way in {}",
            rounded_down(least, system),
            celsius(*warmest, system),
            most.key
        ),
        _ => format!("none at the revs of {}: idle only", most.key),
    }
}

/// A power rounded down to a whole one.
fn rounded_down(watts: f64, system: System) -> String {
    let name = match system {
        System::Metric => "kW",
        System::Imperial => "hp",
    };
    let Some(unit) = Unit::find(Power::KIND, name) else {
        return "–".into();
    };
    // A hair up, so that 46 kW in floating point is not 45.
    let whole = (unit.from_si(watts) + 1e-6).floor();
    Power::from_si(unit.to_si(whole))
        .map_or_else(|| "–".into(), |power| quantity::show_in(power, None, unit))
}

/// A temperature to the degree.
fn celsius(celsius: f64, system: System) -> String {
    Temperature::from_si(celsius + ICE).map_or_else(
        || "–".into(),
        |temperature| {
            quantity::show(
                temperature,
                quantity::TemperatureDifference::from_si(2.0),
                system,
            )
        },
    )
}

/// The warmest sea at which the worst state holds, rounded down, where a sea may well be warmer.
fn sea(flow: Option<&Flow>) -> Option<CardLimit> {
    let rows = flow.map_or(&[][..], |flow| flow.row.most.as_slice());
    // A state that holds in no sea is the worst of all.
    let worst = rows.iter().min_by(|a, b| {
        let sea = |most: &MostRow| most.sea.unwrap_or(f64::NEG_INFINITY);
        sea(a).total_cmp(&sea(b))
    })?;
    if worst.sea.is_some_and(|sea| sea >= WARM) {
        return None;
    }
    let words = Words::of(|system| match worst.sea {
        None => format!("none: {} is too hot in any", worst.key),
        Some(sea) => format!("{} in {}", celsius(sea.floor(), system), worst.key),
    });
    Some(CardLimit {
        what: "Warmest sea".into(),
        is: CardFact::Known(words, "reckoned".into()),
        brief: false,
    })
}

/// Which way a hole at the hull leaks, by the signs of the pressures there; `None` where nothing is reckoned.
pub(super) fn leaks(hull: &[crate::stages::flow::HullRow]) -> Option<(bool, bool)> {
    // Under a tenth of a kilopascal nothing is said of the direction.
    let even = PressureDifference::of_si(100.0).si();
    let all: Vec<f64> = hull
        .iter()
        .flat_map(|row| {
            [row.stopped]
                .into_iter()
                .chain(row.states.iter().map(|(_, _, inside)| *inside))
        })
        .collect();
    (!all.is_empty()).then(|| {
        (
            all.iter().any(|inside| *inside > even),
            all.iter().any(|inside| *inside < -even),
        )
    })
}
