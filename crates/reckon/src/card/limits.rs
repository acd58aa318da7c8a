//! What the circuit can do and where its limits are, and what lies aboard.

use boat::{Arranged, Boat, ThingKind, Told};
use quantity::{Power, PressureDifference, Quantity, System, Temperature, Unit};

use super::{CardFact, CardLimit};
use crate::facts::serves;
use crate::flow::Flow;
use crate::stages::flow::{Came, MostRow, StateRow};
use crate::stages::types::Known;
use crate::verdict::{Settles, Words};

/// From 0 °C to the thermodynamic scale [K].
const ICE: f64 = 273.15;
/// The warmest sea that is tried [°C].
const WARMEST: f64 = 60.0;

/// The limits of an arrangement.
pub(super) fn of(arranged: &Arranged, flow: Option<&Flow>) -> Vec<CardLimit> {
    let serves = serves(arranged);
    let mut limits = vec![
        CardLimit {
            what: "Alarm sounds at".into(),
            is: known(&serves.alarm),
        },
        CardLimit {
            what: "Cap opens at".into(),
            is: known(&serves.cap),
        },
    ];
    let engine = arranged
        .boat
        .things
        .iter()
        .find_map(|thing| thing.engine.as_ref());
    let tried = engine.map_or(Told::LeftOut, |engine| engine.alarm.tried.clone());
    limits.push(CardLimit {
        what: "Alarm last tried".into(),
        is: match tried.given() {
            Some(tried) => CardFact::Known(tried.as_str().into(), "the file".into()),
            None => CardFact::Unmeasured(Settles {
                place: "engine.alarm.tried".into(),
                how: "Try the alarm with its sender in hot water, and write the day.".into(),
            }),
        },
    });
    limits.push(until_alarm(flow));
    limits.push(power(flow));
    limits.push(sea(flow));
    limits
}

/// A value of the file, or what would settle it.
fn known<Q: Quantity>(known: &Known<Q>) -> CardFact {
    match known {
        Ok(value) => CardFact::Known(
            Words::of(|system| quantity::show_measured(&value.measured, system)),
            value.from.clone(),
        ),
        Err(missing) => CardFact::Unmeasured(missing.settles.clone()),
    }
}

/// How long the coolant has until the alarm once nothing cools it, from the hardest state to the easiest, rounded
/// down.
fn until_alarm(flow: Option<&Flow>) -> CardLimit {
    let what = "Until the alarm".to_owned();
    // Where one state has a figure, what the circuit holds is known: a state without one is at the alarm already, or
    // never comes to rest.
    let states = flow.map_or(&[][..], |flow| flow.row.states.as_slice());
    let time = |state: &StateRow| match &state.came {
        Came::Steady(figures) => Some(figures.uncooled?.alarm.unwrap_or(0.0)),
        Came::NoSteadyState(_) => Some(0.0),
        Came::Unsolvable(_) | Came::Unmeasured(_) => None,
    };
    let told = states.iter().any(|state| {
        let figures = state.came.steady();
        figures.is_some_and(|figures| figures.uncooled.is_some_and(|own| own.alarm.is_some()))
    });
    let mut times: Vec<(f64, &str)> = states
        .iter()
        .filter(|_| told)
        .filter_map(|state| Some((time(state)?, state.key.as_str())))
        .collect();
    times.sort_by(|a, b| a.0.total_cmp(&b.0));
    let is = match (times.first(), times.last()) {
        (Some((short, hard)), Some((long, easy))) => {
            let (short, long) = (minutes(*short), minutes(*long));
            let told = if short == long {
                format!("{short} in {hard}")
            } else {
                format!("{short} in {hard}, {long} in {easy}")
            };
            CardFact::Known(
                format!("{told}, nothing cooling, the water still going round")
                    .as_str()
                    .into(),
                "reckoned".into(),
            )
        }
        _ => {
            let volume = flow
                .and_then(|flow| flow.row.volume.as_ref())
                .and_then(|volume| volume.missing.first());
            match volume {
                Some(missing) => CardFact::Unmeasured(missing.settles.clone()),
                None => wanting(flow),
            }
        }
    };
    CardLimit { what, is }
}

/// A time that one has, rounded down.
fn minutes(seconds: f64) -> String {
    if seconds < 10.0 {
        "none".to_owned()
    } else if seconds < 120.0 {
        format!("{:.0} s", (seconds / 10.0).floor() * 10.0)
    } else {
        format!("{:.0} min", (seconds / 60.0).floor())
    }
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
pub(super) fn power(flow: Option<&Flow>) -> CardLimit {
    let what = "Greatest steady power".to_owned();
    let most = flow.and_then(|flow| flow.row.most.iter().find(|most| !most.power.is_empty()));
    let is = match most {
        Some(most) => CardFact::Known(
            Words::of(|system| power_words(most, system)),
            format!("reckoned, up to {}", most.limit.1),
        ),
        None => wanting(flow),
    };
    CardLimit { what, is }
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
            "{} in any sea up to {}, at the revs of {}",
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

/// The warmest sea at which the worst state holds, rounded down.
fn sea(flow: Option<&Flow>) -> CardLimit {
    let what = "Warmest sea".to_owned();
    let rows = flow.map_or(&[][..], |flow| flow.row.most.as_slice());
    // A state that holds in no sea is the worst of all.
    let worst = rows.iter().min_by(|a, b| {
        let sea = |most: &MostRow| most.sea.unwrap_or(f64::NEG_INFINITY);
        sea(a).total_cmp(&sea(b))
    });
    let is = match worst {
        None => wanting(flow),
        Some(most) => CardFact::Known(
            Words::of(|system| match most.sea {
                None => format!("none: {} is too hot in any", most.key),
                Some(sea) if sea >= WARMEST - 0.01 => {
                    format!("over {} in every state", celsius(sea.floor() - 1.0, system))
                }
                Some(sea) => format!("{} in {}", celsius(sea.floor(), system), most.key),
            }),
            "reckoned".into(),
        ),
    };
    CardLimit { what, is }
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

/// What the file says is aboard.
pub(super) fn spares(boat: &Boat) -> Vec<String> {
    let mut spares = boat.stock.aboard.clone();
    let at = |place: &Option<String>| {
        place
            .as_ref()
            .map_or_else(String::new, |place| format!(", {place}"))
    };
    for part in &boat.stock.parts {
        spares.push(format!(
            "{} x {}{}",
            part.count,
            boat::piece_text(&part.kind),
            at(&part.place)
        ));
    }
    for hose in &boat.stock.hose {
        let size = boat::size_text(boat::Size::Named(hose.size));
        let long = quantity::Quantity::si(hose.length);
        let build = hose
            .build
            .map_or_else(String::new, |build| format!(" {}", build.word()));
        spares.push(format!("{long:.1} m hose {size}{build}{}", at(&hose.place)));
    }
    let clips: u32 = boat.stock.clips.iter().map(|clip| clip.count).sum();
    if clips > 0 {
        spares.push(format!("{clips} clips"));
    }
    spares
}

/// Spares that this engine would want, and that the file does not say are aboard.
pub(super) fn unsaid(boat: &Boat) -> Vec<String> {
    let aboard = boat.stock.aboard.join("; ").to_lowercase();
    let says = |words: &[&str]| words.iter().any(|word| aboard.contains(word));
    let engine = boat.things.iter().find_map(|thing| thing.engine.as_ref());
    let belt = engine.is_some_and(|engine| {
        !engine.belt.is_left_out()
            || engine
                .extra
                .pump_drive
                .given()
                .is_some_and(|drive| drive.contains("belt"))
    });
    let raw_pump = boat
        .things
        .iter()
        .any(|thing| thing.kind.given() == Some(&ThingKind::RawWaterPump));
    [
        (belt, &["belt"][..], "belt"),
        (raw_pump, &["impeller"], "impeller of the raw-water pump"),
        (true, &["stat", "thermostat"], "thermostat with its gasket"),
        (true, &["cap"], "pressure cap"),
        (
            true,
            &["coolant", "mix", "antifreeze"],
            "coolant, ready mixed",
        ),
        (true, &["tape"], "self-fusing silicone tape"),
        (
            true,
            &["plug", "bung"],
            "soft plugs tied at the hull fittings",
        ),
    ]
    .into_iter()
    .filter(|(wanted, words, _)| *wanted && !says(words))
    .map(|(_, _, name)| name.to_owned())
    .collect()
}
