//! Heat: whether each state comes to rest under the alarm, and what the thermostat still has in hand.

use quantity::Kind;

use super::{
    COMPUTED, Case, EXHAUST, HOT, Named, PRACTICE, SOLVED, ZERO, by_state, deg, deg_range, inner,
    input, number, of_celsius, of_share, of_watts, percent, power, power_range, rise, settles,
    subject, unmeasured, verdict, waits,
};
use crate::say;
use crate::stages::flow::row::{Came, Dry, Figures, Span, StateRow};
use crate::stages::types::Subject;
use crate::verdict::{Basis, Grade, Margin, Number, Verdict, Words, WorkingInput};

/// How far under the alarm the outlet of the engine should stay [K]. Common practice, no source.
const UNDER_ALARM: f64 = 5.0;
/// The reserve below which a little more dirt or a little warmer sea uses it up. Common practice, no source.
const RESERVE: f64 = 1.2;

/// Judges the family.
pub(super) fn judge(case: &Case, out: &mut Vec<Verdict>) {
    for named in &case.states {
        out.extend(state(case, named));
    }
    out.extend(no_alarm(case));
    out.extend(reserve(case));
}

/// One state; nothing where it comes to rest and no alarm is known to hold it against.
fn state(case: &Case, named: &Named) -> Option<Verdict> {
    let title = format!("heat in {}", named.name);
    let whole = subject(&named.key, &title, &named.place());
    let state = named.row;
    let mut said = match (&state.came, &state.dry) {
        (Came::Steady(figures), _) => steady(case, named, figures)?,
        (Came::NoSteadyState(_), Some(dry)) => without_raw_water(&whole, state, dry),
        (Came::NoSteadyState(why), None) => {
            let because = Words::of(|system| {
                format!(
                    "At a sea of {} the coolant takes up {} and never comes to rest: {}.",
                    deg(state.sea, system),
                    power(state.heat.mid, system),
                    inner(why)
                )
            });
            let remedy = if why.contains("boils") {
                "Slow down or stop before it boils; the circuit wants more cooler: clean it, thin its paint or add surface when she is ashore."
            } else {
                "Open a way to a cooler before the engine runs: a calorifier is a store, not a cooler."
            };
            let mut said = verdict(&whole, "heat", Grade::Unsound, because, remedy);
            said.basis = Basis::Physics;
            said.caution = Some(HOT.into());
            said.working.limit = "as much heat out of the coolant as goes in".into();
            said
        }
        (Came::Unsolvable(why), _) => {
            let because = Words::of(|system| {
                format!(
                    "With {} of heat and a sea of {} the circuit has no answer: {}.",
                    power(state.heat.mid, system),
                    deg(state.sea, system),
                    inner(why)
                )
            });
            let remedy =
                "Trace the ways of the water again, and mend in the file what does not lead round.";
            let mut said = verdict(&whole, "heat", Grade::Unsound, because, remedy);
            said.basis = Basis::Physics;
            said.working.limit = "flows and temperatures that agree all the way round".into();
            said
        }
        (Came::Unmeasured(missing), _) => return Some(waits(&whole, "heat", missing)),
    };
    working(case, named, &mut said);
    said.source(SOLVED);
    Some(said)
}

/// A state in which no raw water comes to the exchanger.
fn without_raw_water(whole: &Subject, state: &StateRow, dry: &Dry) -> Verdict {
    let because = Words::of(|system| {
        let left = dry.uncooled.map_or_else(String::new, |left| {
            let alarm = left
                .alarm
                .map(|time| format!("{} to the alarm", long(time)));
            let boils = left
                .boils
                .map(|time| format!("{} to boiling without a cap", long(time)));
            let told: Vec<String> = alarm.into_iter().chain(boils).collect();
            if told.is_empty() {
                String::new()
            } else {
                let from = deg(dry.begins, system);
                format!("; from {from} it has {}", say::list(&told, "and"))
            }
        });
        format!(
            "{}: no raw water comes to the exchanger, and the coolant takes up {}{left}.",
            say::capital(&dry.why),
            power(state.heat.high, system)
        )
    });
    let exhaust = if dry.exhaust {
        ", and stop it at once where none comes out of the exhaust"
    } else {
        ""
    };
    let remedy = if dry.shut.is_empty() {
        format!("Bring raw water to the exchanger before the engine runs{exhaust}.")
    } else {
        let valves = say::list(&dry.shut, "and");
        format!("Open {valves} before the engine runs{exhaust}.")
    };
    let mut said = verdict(whole, "heat", Grade::Unsound, because, remedy.as_str());
    said.place.clone_from(&dry.place);
    said.basis = Basis::Physics;
    said.caution = Some(if dry.exhaust { EXHAUST } else { HOT }.into());
    if let Some(left) = dry.uncooled {
        for (what, time) in [("alarm", left.alarm), ("boiling", left.boils)] {
            if let Some(time) = time {
                said.step(
                    "heat that the coolant takes up ÷ heat to it",
                    Words::of(|system| format!("from {} to {what}", deg(dry.begins, system))),
                    long(time).as_str().into(),
                );
            }
        }
    }
    said.working.limit = "raw water at the exchanger while the engine runs".into();
    said.source(PRACTICE);
    said
}

/// A time that one has, rounded down.
fn long(seconds: f64) -> String {
    say::lasts(seconds).unwrap_or_else(|| "no time".to_owned())
}

/// A state that comes to rest, held against the alarm.
fn steady(case: &Case, named: &Named, figures: &Figures) -> Option<Verdict> {
    let alarm_value = case.facts.alarm.as_ref().ok()?;
    let alarm = alarm_value.measured.value.to_celsius();
    let (state, outlet) = (named.row, figures.out);
    let limit = alarm - UNDER_ALARM;
    let grade = if outlet.mid > alarm {
        Grade::Unsound
    } else if outlet.high <= limit {
        Grade::Sound
    } else {
        Grade::Marginal
    };
    let because = Words::of(|system| {
        let between = if deg(outlet.low, system) == deg(outlet.high, system) {
            String::new()
        } else {
            format!(
                ", {} for what the heat may be",
                deg_range(outlet.low, outlet.high, system)
            )
        };
        format!(
            "With {} of heat ({}) and a sea of {} the coolant leaves the engine at {}{between}; the alarm sounds at {}.",
            power_range(state.heat.low, state.heat.high, system),
            state.heat_from,
            deg(state.sea, system),
            deg(outlet.mid, system),
            deg(alarm, system)
        )
    });
    let remedy = match grade {
        Grade::Unsound => {
            "Slow down until there is more cooler, a cleaner one or more flow: the alarm sounds before she comes to rest."
        }
        Grade::Marginal => {
            "Hold this speed for half an hour with a thermometer on the outlet before you rely on it."
        }
        _ => "",
    };
    let title = format!("heat in {}", named.name);
    let whole = subject(&named.key, &title, &named.place());
    let mut said = verdict(&whole, "heat", grade, because, remedy);
    said.chance = Some(chance(state.heat, outlet, alarm));
    if outlet.mid > alarm {
        said.basis = Basis::Physics;
        said.caution = Some(HOT.into());
    }
    said.margin = Some(Margin {
        value: outlet.mid + ZERO,
        deviation: Some(((outlet.high - outlet.low) / 2.0).max(0.0)),
        low: None,
        high: Some(limit + ZERO),
        kind: Kind::Temperature,
    });
    said.input("t_a", "alarm", alarm_value);
    said.step(
        "t_a − t_out, by the greatest heat",
        Words::of(|system| format!("{} − {}", deg(alarm, system), deg(outlet.high, system))),
        Words::of(|system| rise(alarm - outlet.high, system)),
    );
    said.step(
        "chance that t_out stays under t_a",
        Words::of(|system| {
            format!(
                "heat even between {}; t_out in straight lines between {}, {} and {}",
                power_range(state.heat.low, state.heat.high, system),
                deg(outlet.low, system),
                deg(outlet.mid, system),
                deg(outlet.high, system)
            )
        }),
        say::chance(chance(state.heat, outlet, alarm))
            .as_str()
            .into(),
    );
    said.working.limit = Words::of(|system| {
        format!(
            "{}, the alarm less {}",
            deg(limit, system),
            rise(UNDER_ALARM, system)
        )
    });
    said.source(PRACTICE);
    Some(said)
}

/// The chance that the outlet stays under the alarm: the heat lies anywhere between its ends alike, and
/// the outlet runs in straight lines between the three heats that were reckoned.
fn chance(heat: Span, outlet: Span, alarm: f64) -> f64 {
    let wide = heat.high - heat.low;
    if wide <= 0.0 {
        return if outlet.mid <= alarm { 1.0 } else { 0.0 };
    }
    if outlet.high <= alarm {
        return 1.0;
    }
    if outlet.low > alarm {
        return 0.0;
    }
    let along = |from: f64, to: f64, begins: f64, ends: f64| {
        let share = if ends > begins {
            (alarm - begins) / (ends - begins)
        } else {
            1.0
        };
        from + share * (to - from)
    };
    let turns = if alarm < outlet.mid {
        along(heat.low, heat.mid, outlet.low, outlet.mid)
    } else {
        along(heat.mid, heat.high, outlet.mid, outlet.high)
    };
    ((turns - heat.low) / wide).clamp(0.0, 1.0)
}

/// What went into a state, and what typical values stand in.
fn working(case: &Case, named: &Named, said: &mut Verdict) {
    let state = named.row;
    let half = (state.heat.high - state.heat.low) / 2.0;
    said.working.inputs.push(WorkingInput {
        symbol: "Q".into(),
        name: "heat to the coolant".into(),
        value: of_watts(state.heat.mid),
        tolerance: (half > 0.0).then(|| of_watts(half)),
        from: state.heat_from.clone(),
        place: Some(named.place()),
    });
    input(
        said,
        "P",
        "power at the shaft",
        of_watts(state.power),
        COMPUTED,
    );
    input(said, "n", "speed of the engine", revs(state.revs), "file");
    input(said, "t_s", "sea", of_celsius(state.sea), "file");
    for assumed in &case.row.assumed {
        said.step(
            &format!("{}, assumed", assumed.what),
            assumed.source.as_str().into(),
            assumed.value.clone(),
        );
    }
}

/// Speed of the engine [1/s] as a number.
fn revs(revs: f64) -> Number {
    number(Kind::RotationalSpeed, revs, |system| {
        super::rpm(revs, system)
    })
}

/// The states come to rest, but nobody knows where the alarm sounds.
fn no_alarm(case: &Case) -> Option<Verdict> {
    let missing = case.facts.alarm.as_ref().err()?;
    let (named, figures) = case
        .steady()
        .max_by(|a, b| a.1.out.mid.total_cmp(&b.1.out.mid))?;
    let because = Words::of(|system| {
        format!(
            "The coolant leaves the engine at {} in {}, the hottest state; where the alarm sounds: {}.",
            deg(figures.out.mid, system),
            named.at(system),
            missing.why.in_units(system)
        )
    });
    let mut whole = case.engine();
    whole.place.clone_from(&case.facts.alarm_place);
    let mut said = unmeasured(&whole, "alarm", because, &missing.settles);
    working(case, named, &mut said);
    for (named, figures) in case.steady() {
        let outlet = Words::of(|system| deg(figures.out.mid, system));
        by_state(&mut said, "t_out", named, outlet);
    }
    said.source(SOLVED);
    Some(said)
}

/// What the coolers could shed beyond the heat that there is: the thermostat hides it.
fn reserve(case: &Case) -> Option<Verdict> {
    let whole = subject("thermostat", "thermostat", &case.facts.stat_place);
    let known = case
        .steady()
        .filter_map(|(named, figures)| Some((named, figures, figures.reserve?)));
    let Some((named, figures, reserve)) = known.min_by(|a, b| a.2.total_cmp(&b.2)) else {
        return unknown_reserve(case);
    };
    let grade = if reserve < 1.0 {
        Grade::Unsound
    } else if reserve < RESERVE {
        Grade::Marginal
    } else {
        Grade::Sound
    };
    let lift = figures.lift.map_or_else(String::new, |lift| {
        format!("the thermostat stands {} open, and ", percent(lift.mid))
    });
    let because = Words::of(|system| {
        let much = if reserve < 1.0 {
            format!(
                "the coolers fall {} short of the heat when it is fully open",
                percent(1.0 - reserve)
            )
        } else {
            format!(
                "fully open it would let the coolers shed {} more than there is",
                percent(reserve - 1.0)
            )
        };
        format!("In {} {lift}{much}.", named.at(system))
    });
    let remedy = match grade {
        Grade::Sound => "",
        _ => {
            "Clean the coolers, thin their paint or add surface: the temperature hides how little is left until the thermostat is wide open."
        }
    };
    let mut said = verdict(&whole, "reserve", grade, because, remedy);
    if reserve < 1.0 {
        said.basis = Basis::Physics;
    }
    said.margin = Some(Margin {
        value: reserve,
        deviation: None,
        low: Some(RESERVE),
        high: None,
        kind: Kind::Ratio,
    });
    if let Some(lift) = figures.lift {
        input(
            &mut said,
            "x",
            "lift of the thermostat",
            of_share(lift.mid),
            COMPUTED,
        );
    }
    for (named, figures) in case.steady() {
        if let Some(reserve) = figures.reserve {
            let share = percent(reserve);
            by_state(&mut said, "Q_most ÷ Q", named, share.as_str().into());
        }
    }
    said.working.limit =
        "100 % of the heat at the least, 120 % for what dirt and summer take".into();
    said.source(SOLVED);
    said.source(PRACTICE);
    Some(said)
}

/// There is a thermostat, but where it is fully open nobody knows.
fn unknown_reserve(case: &Case) -> Option<Verdict> {
    let lifts = case
        .steady()
        .filter_map(|(named, figures)| Some((named, figures.lift?.mid)));
    let (named, lift) = lifts.max_by(|a, b| a.1.total_cmp(&b.1))?;
    let whole = subject("thermostat", "thermostat", &case.facts.stat_place);
    let because = Words::of(|system| {
        format!(
            "In {} the thermostat stands {} open; what it would have left in hand when fully open is not known.",
            named.at(system),
            percent(lift)
        )
    });
    let how = "Read on the thermostat or in its sheet where it begins to open and where it is fully open, or warm it in a pan beside a thermometer.";
    Some(unmeasured(
        &whole,
        "reserve",
        because,
        &settles(&case.facts.stat_place, how),
    ))
}
