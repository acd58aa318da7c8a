//! Flow and temperature of the legs that are worth a flag.

use boat::Key;
use quantity::{Quantity, System, Temperature, TemperatureDifference, VolumeFlow, show};

use super::{Around, AroundFigures, AroundSpot, AroundWay};
use crate::flow::Flow;
use crate::stages::flow::{Came, Duty, Figures, ItemRow};
use crate::verdict::Words;

/// Puts the figures of a state on the legs.
pub(super) fn figures(
    flow: Option<&Flow>,
    before: Option<&Flow>,
    state: Option<&str>,
    out: &mut Around,
) {
    let Some(flow) = flow else { return };
    let Some(key) = state.map(str::to_owned).or_else(|| usual(flow)) else {
        return;
    };
    let Some(now) = steady(flow, &key) else {
        let row = flow.row.states.iter().find(|row| row.key == key);
        if let Some(Came::NoSteadyState(why) | Came::Unsolvable(why)) = row.map(|row| &row.came) {
            out.notes.push(
                format!("No figures of {key}: no steady state, {why}.")
                    .as_str()
                    .into(),
            );
        } else if let Some(Came::Unmeasured(missing)) = row.map(|row| &row.came) {
            out.notes.push(
                format!("Figures of {key} unmeasured: {}", missing.why)
                    .as_str()
                    .into(),
            );
        }
        return;
    };
    out.state = Some(key.clone());
    let then = before.and_then(|before| steady(before, &key));
    if then.is_some() {
        out.before = before.and_then(|before| before.row.arrangement.clone());
    }
    let assumed = flow.row.assumed.len();
    let rest = match assumed {
        0 => String::new(),
        1 => ", on one assumed value".to_owned(),
        _ => format!(", on {assumed} assumed values"),
    };
    out.notes.push(
        format!("Figures of {key}, by the middle of its heat{rest}.")
            .as_str()
            .into(),
    );
    let flagged: Vec<usize> = (0..out.legs.len())
        .filter(|leg| flagged(out, *leg))
        .collect();
    for leg in flagged {
        let own = &out.legs[leg];
        let names: Vec<&str> = own.pieces.iter().map(|piece| piece.key.as_str()).collect();
        let last = own.way == AroundWay::Cold && is_heart(out, own.to);
        let found = item(now, &own.run, &names, last).and_then(told);
        let was = then
            .and_then(|then| item(then, &own.run, &names, last))
            .and_then(told);
        let leg = &mut out.legs[leg];
        leg.before = was.filter(|was| found.as_ref() != Some(was));
        leg.figures = found;
    }
    // What comes to the engine as it left the cooler is told once.
    let (hot, cold): (Vec<_>, Vec<_>) = (0..out.legs.len())
        .filter(|leg| out.legs[*leg].way == AroundWay::Cold && out.legs[*leg].figures.is_some())
        .partition(|leg| is_heart(out, out.legs[*leg].to));
    for end in hot {
        let same = |leg: &usize| *leg != end && out.legs[*leg].figures == out.legs[end].figures;
        if cold.iter().any(same) {
            (out.legs[end].figures, out.legs[end].before) = (None, None);
        }
    }
}

fn is_heart(out: &Around, spot: AroundSpot) -> bool {
    out.heart
        .is_some_and(|heart| spot == AroundSpot::Thing(heart))
}

/// The last state in which she makes way and comes to rest; else the last that comes to rest.
fn usual(flow: &Flow) -> Option<Key> {
    let steady = flow
        .row
        .states
        .iter()
        .filter(|row| row.came.steady().is_some());
    let moving = steady.clone().rfind(|row| row.duty == Duty::Moving);
    moving
        .or_else(|| steady.clone().next_back())
        .map(|row| row.key.clone())
}

fn steady<'a>(flow: &'a Flow, key: &str) -> Option<&'a Figures> {
    let rows = || flow.row.states.iter().filter(|row| row.key == key);
    let moving = rows().find(|row| row.duty == Duty::Moving && row.came.steady().is_some());
    moving
        .or_else(|| rows().next())
        .and_then(|row| row.came.steady())
}

/// Whether a leg gets a flag: where the loop leaves and comes back to the engine, where it leaves the cooler,
/// where a branch begins, and where raw water comes to what it cools.
fn flagged(out: &Around, leg: usize) -> bool {
    let own = &out.legs[leg];
    match own.way {
        AroundWay::Hot => is_heart(out, own.from),
        AroundWay::Cold => {
            let before = out
                .legs
                .iter()
                .any(|other| other.to == own.from && other.way == AroundWay::Cold);
            is_heart(out, own.to) || !before
        }
        AroundWay::Branch => own.first,
        AroundWay::Raw => {
            let before = out
                .legs
                .iter()
                .any(|other| other.to == own.from && other.way == AroundWay::Raw);
            !before
        }
        _ => false,
    }
}

/// A part of a run that has figures: the last where that is asked, else the first.
fn item<'a>(figures: &'a Figures, run: &str, names: &[&str], last: bool) -> Option<&'a ItemRow> {
    let mut own = figures.items.iter().filter(|item| item.run == run);
    let named = own
        .clone()
        .find(|item| names.contains(&item.subject.as_str()));
    if last {
        own.next_back()
    } else {
        named.or_else(|| own.next())
    }
}

/// The same for people; `None` where nothing runs.
fn told(item: &ItemRow) -> Option<AroundFigures> {
    let flow = VolumeFlow::from_si(item.flow.abs())?;
    let litres = flow.to_litres_per_minute();
    if litres < 0.05 {
        return None;
    }
    let half = if litres < 10.0 { 0.2 } else { 2.0 };
    let finest = VolumeFlow::litres_per_minute(half);
    let t = Temperature::celsius(item.temperatures[0]);
    let rise = TemperatureDifference::from_si(2.0)?;
    Some(AroundFigures {
        flow: Words::of(|system: System| show(flow, Some(finest), system)),
        temperature: Words::of(|system: System| show(t, Some(rise), system)),
    })
}
