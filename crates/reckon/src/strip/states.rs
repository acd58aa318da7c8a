//! The figures of the states along the main circuit: how high the coolant would stand in a tube, and how warm it is.
//!
//! At the ends of runs they are those of the flow. Within a run the flow tells what each piece takes, and from there
//! on the line falls by that.

use boat::Arranged;
use quantity::{Quantity, Temperature, TemperatureDifference};

use super::{Leak, PieceForm, Strip, StripAsk, StripState, Way};
use crate::flow::column;
use crate::say;
use crate::solve::net::GRAVITY;
use crate::stages::flow::{Duty, Figures, FlowRow, ItemRow, PlaceRow, StateRow};
use crate::verdict::Words;

/// Inside and outside closer than this [Pa] are even: a finger's breadth of water. Common practice, no source.
const EVEN: f64 = 100.0;
/// How many states beside the chosen one are told.
const OTHERS: usize = 2;

/// The states with figures, the chosen one first: that which is asked for, or in which the pump works hardest.
fn with_figures<'r>(row: &'r FlowRow, ask: &StripAsk) -> Vec<(&'r StateRow, &'r Figures)> {
    let mut all: Vec<(&StateRow, &Figures)> = Vec::new();
    for state in &row.states {
        // A state in which she may lie or move stands twice; making way is what is drawn.
        if let Some(figures) = state.came.steady() {
            match all.iter_mut().find(|(known, _)| known.key == state.key) {
                Some(known) if state.duty == Duty::Moving => *known = (state, figures),
                Some(_) => {}
                None => all.push((state, figures)),
            }
        }
    }
    let asked = all
        .iter()
        .position(|(state, _)| Some(&state.key) == ask.state.as_ref());
    let hardest = (0..all.len()).max_by(|a, b| all[*a].1.pump.total_cmp(&all[*b].1.pump));
    // A state that was asked for and has no figures is not replaced by another.
    let first = match (&ask.state, asked) {
        (Some(_), None) => return Vec::new(),
        (_, asked) => asked.or(hardest),
    };
    if let Some(first) = first {
        let chosen = all.remove(first);
        all.insert(0, chosen);
    }
    all
}

/// The figures of the chosen state.
pub(super) fn chosen<'r>(row: &'r FlowRow, ask: &StripAsk) -> Option<&'r Figures> {
    with_figures(row, ask).first().map(|(_, figures)| *figures)
}

/// Fills in states and leaks.
pub(super) fn fill(strip: &mut Strip, arranged: &Arranged, ask: &StripAsk, row: &FlowRow) {
    let Some(density) = column(arranged) else {
        return;
    };
    let states = with_figures(row, ask);
    strip.states = states
        .iter()
        .take(1 + OTHERS)
        .map(|(state, figures)| along(&strip.main, state, figures, density * GRAVITY))
        .map(|state| StripState {
            too_hot: too_hot(&state, strip.alarm),
            ..state
        })
        .collect();
    if let Some(first) = strip.states.first() {
        let below = below_air(&strip.main, first);
        for (piece, below) in strip.main.pieces.iter_mut().zip(below) {
            piece.below_air = below;
        }
    }
    let sea = match arranged.boat.about.sea.salinity.given() {
        Some(salinity) if *salinity < 0.5 => "water in",
        _ => "sea in",
    };
    let words = |over: f64| {
        if over.abs() < EVEN {
            "even"
        } else if over > 0.0 {
            "coolant out"
        } else {
            sea
        }
        .to_owned()
    };
    let running = states.first().map(|(state, _)| &state.key);
    for hull in &row.hull {
        let Some(at) = strip
            .main
            .pieces
            .iter()
            .position(|piece| piece.key == hull.subject)
        else {
            continue;
        };
        if !hull.stopped.is_finite() {
            continue;
        }
        let run = hull.states.iter().find(|(key, _, _)| Some(key) == running);
        strip.leaks.push(Leak {
            key: hull.subject.clone(),
            // OK because a way has few pieces.
            at: at as f64 + 0.5,
            stopped: hull.stopped,
            stopped_text: words(hull.stopped),
            running: run.map(|(_, _, over)| (*over, words(*over))),
        });
    }
    for (stopped, leak, running) in coolers(strip) {
        strip.leaks.push(Leak {
            stopped_text: words(stopped),
            running: running.map(|over| (over, words(over))),
            ..leak
        });
    }
    let joints = joints(strip, density * GRAVITY);
    strip.leaks.extend(joints);
    strip.leaks.sort_by(|a, b| a.at.total_cmp(&b.at));
}

/// What the coolant of a state is too warm for. The line supposes a cap that holds nothing, and so does boiling.
fn too_hot(state: &StripState, alarm: Option<f64>) -> Words {
    let mut warm = state.temperature.iter().flatten();
    let over = alarm.is_some_and(|alarm| warm.any(|t| *t > alarm));
    let mut both = state.temperature.iter().zip(&state.boils);
    let boils = both.any(|(t, boils)| matches!((t, boils), (Some(t), Some(boils)) if t > boils));
    let says = match (over, boils) {
        (true, true) => "over the alarm; boils with the cap open",
        (true, false) => "over the alarm",
        (false, true) => "boils with the cap open",
        (false, false) => return Words::default(),
    };
    Words::of(|system| format!("{}: {says}", state.warm[1].in_units(system)))
}

/// Leaks at the coolers outside: as deep as the fittings on either side of each are judged, and between their
/// pressures when running. Where its depth is not told there is none.
fn coolers(strip: &Strip) -> Vec<(f64, Leak, Option<f64>)> {
    let pieces = strip.main.pieces.iter().enumerate();
    pieces
        .filter(|(_, piece)| piece.form == PieceForm::Outside && piece.poly.len() > 2)
        .filter_map(|(i, piece)| {
            let beside: Vec<&Leak> = [i.checked_sub(1), Some(i + 1)]
                .into_iter()
                .flatten()
                .filter_map(|i| strip.main.pieces.get(i))
                .filter_map(|own| strip.leaks.iter().find(|leak| leak.key == own.key))
                .collect();
            let stopped = beside.first()?.stopped;
            let all: Option<Vec<f64>> = beside
                .iter()
                .map(|leak| leak.running.as_ref().map(|(over, _)| *over))
                .collect();
            // OK because there are one or two.
            let running = all.map(|all| all.iter().sum::<f64>() / all.len() as f64);
            let leak = Leak {
                key: piece.key.clone(),
                // OK because a way has few pieces.
                at: i as f64 + 0.5,
                stopped,
                stopped_text: String::new(),
                running: None,
            };
            Some((stopped, leak, running))
        })
        .collect()
}

/// Leaks at the joints under the waterline. They lie inside the boat, so that outside of them is the air of the
/// bilge, and what runs is the coolant unless it stands below the air.
fn joints(strip: &Strip, weight: f64) -> Vec<Leak> {
    let Some(surface) = strip.header.as_ref().and_then(|header| header.level) else {
        return Vec::new();
    };
    let words = |over: f64| {
        let says = if over.abs() < EVEN {
            "even"
        } else if over > 0.0 {
            "coolant out"
        } else {
            "air in"
        };
        says.to_owned()
    };
    let wet = strip.main.stations.iter();
    wet.filter(|station| station.wet == Some(true))
        .filter_map(|station| {
            let z = station.z?;
            let stopped = weight * (surface - z);
            // OK because a joint stands at the end of a piece.
            let line = strip.states.first();
            let line = line.and_then(|state| state.line[station.at as usize]);
            let running = line.map(|line| weight * (line - z));
            Some(Leak {
                key: station.key.clone(),
                at: station.at,
                stopped,
                stopped_text: words(stopped),
                running: running.map(|over| (over, words(over))),
            })
        })
        .collect()
}

/// Which pieces lie over the grade line somewhere.
fn below_air(way: &Way, state: &StripState) -> Vec<bool> {
    way.pieces
        .iter()
        .enumerate()
        .map(|(i, piece)| {
            let (Some(a), Some(b)) = (state.line[i], state.line[i + 1]) else {
                return false;
            };
            piece.form != PieceForm::Outside
                && piece
                    .poly
                    .iter()
                    .any(|(share, z)| *z > a + share * (b - a) + 1e-6)
        })
        .collect()
}

/// One state. `weight` is what a metre of coolant presses [Pa/m].
fn along(way: &Way, state: &StateRow, figures: &Figures, weight: f64) -> StripState {
    let n = way.pieces.len();
    let place = |key: &str| figures.places.iter().find(|place| place.name == key);
    let item = |key: &str| figures.items.iter().find(|item| item.subject == key);
    // What the flow tells at each end of a piece: a place where a run begins or ends.
    let mut at: Vec<Option<&PlaceRow>> = vec![None; n + 1];
    for station in &way.stations {
        // OK because a joint stands at the end of a piece.
        let here = station.at as usize;
        at[here] = at[here].or_else(|| place(&station.key));
    }
    // Total head, which only falls; the speed's share comes off at the end.
    let mut total: Vec<Option<f64>> = at
        .iter()
        .map(|place| place.map(|place| place.height + place.total / weight))
        .collect();
    let takes =
        |i: usize| item(&way.pieces[i].key).map_or(0.0, |item: &ItemRow| item.drop / weight);
    for i in 1..n {
        // The two ends of the pump are told apart below.
        if total[i].is_none() {
            total[i] = total[i - 1].map(|before| before - takes(i - 1));
        }
    }
    let pump = figures.pump / weight;
    total[n] = total[n - 1];
    total[0] = total[n].map(|end| end + pump);
    let speed = |i: usize| -> f64 {
        if let Some(place) = at[i] {
            return (place.total - place.open) / weight;
        }
        let beside = [i.checked_sub(1), Some(i)].into_iter().flatten();
        let fastest = beside
            .filter_map(|i| item(&way.pieces.get(i)?.key)?.speed)
            .fold(0.0, f64::max);
        fastest * fastest / (2.0 * GRAVITY)
    };
    // At the pump itself nothing is known of the speed, so the head of its ends stands.
    let line = (0..=n)
        .map(|i| {
            let own = if i == 0 || i == n { 0.0 } else { speed(i) };
            total[i].map(|total| total - own).filter(|z| z.is_finite())
        })
        .collect();
    let mut temperature: Vec<Option<f64>> = at
        .iter()
        .map(|place| place.map(|place| place.temperature))
        .collect();
    for (i, own) in temperature.iter_mut().enumerate() {
        if own.is_none() {
            let before = i.checked_sub(1).and_then(|i| item(&way.pieces[i].key));
            let after = way.pieces.get(i).and_then(|piece| item(&piece.key));
            *own = before
                .map(|item| item.temperatures[1])
                .or_else(|| after.map(|item| item.temperatures[0]));
        }
    }
    (temperature[0], temperature[n]) = (Some(figures.mixed.mid), Some(figures.mixed.mid));
    let mut boils: Vec<Option<f64>> = at
        .iter()
        .map(|place| place.and_then(|place| place.boils))
        .collect();
    // Where nothing is told it is that of the place before.
    for i in 1..=n {
        boils[i] = boils[i].or(boils[i - 1]);
    }
    boils[0] = boils[0].or(boils.get(1).copied().flatten());
    let capped = figures
        .places
        .iter()
        .find_map(|place| Some(place.capped? - place.open));
    StripState {
        key: state.key.clone(),
        weight,
        line,
        total,
        cap: capped.map(|cap| cap / weight),
        cap_text: capped.map_or_else(Words::default, |cap| {
            Words::of(|system| format!("+ {}, cap", say::kpa(cap, system)))
        }),
        pump,
        pump_text: Words::of(|system| format!("pump {}", say::kpa(figures.pump, system))),
        warm: [degrees(figures.mixed.mid), degrees(figures.out.mid)],
        temperature,
        boils,
        too_hot: Words::default(),
        sea: state.sea,
        sea_text: {
            let says = degrees(state.sea);
            Words::of(|system| format!("sea {}", says.in_units(system)))
        },
        over_boiling: Some(figures.suction_over_boiling / weight).filter(|over| over.is_finite()),
        // The suction side is looked at once all states are there.
        boil: Vec::new(),
        margin: None,
        margin_text: Words::default(),
    }
}

/// `82 °C`.
pub(super) fn degrees(celsius: f64) -> Words {
    let half = TemperatureDifference::from_si(2.0);
    Words::of(|system| say::in_units(Temperature::celsius(celsius), half, ["°C", "°F"], system))
}
