//! Before against after: two arrangements side by side, where the head goes, and which of the changes buys
//! most, found by trying each alone.

use boat::{Arrangement, Boat, Key};

use super::Depth;
use crate::stages::flow::{Duty, Figures, FlowRow, StateRow};
use crate::verdict::Words;

/// Two arrangements side by side.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Compared {
    /// The first; `None` for the file as it stands.
    pub one: Option<Key>,
    /// The other.
    pub other: Option<Key>,
    /// The states that have an answer in either.
    pub states: Vec<ComparedState>,
    /// The changes, those that cool most first.
    pub changes: Vec<Change>,
}

/// One state in both.
#[derive(Clone, Debug, PartialEq)]
pub struct ComparedState {
    /// Its name.
    pub key: Key,
    /// Whether she moves.
    pub duty: Duty,
    /// Flow through the engine [m³/s].
    pub flows: [f64; 2],
    /// Flow through the coolers [m³/s].
    pub cooled: [f64; 2],
    /// Coolant out of the engine [°C].
    pub out: [f64; 2],
    /// Coolant back to the engine [°C].
    pub back: [f64; 2],
    /// Static pressure at the pump's inlet, the cap holding nothing [Pa].
    pub suction: [f64; 2],
    /// Lift of the thermostat.
    pub lift: [Option<f64>; 2],
    /// Where the head goes, the greatest change first.
    pub heads: Vec<HeadRow>,
}

/// What one part takes in both.
#[derive(Clone, Debug, PartialEq)]
pub struct HeadRow {
    /// Its key.
    pub subject: Key,
    /// For people.
    pub title: String,
    /// Drop of total pressure [Pa]; `None` where it is not there.
    pub drops: [Option<f64>; 2],
}

/// One change tried alone on the first arrangement.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// The thing or run that it changes.
    pub subject: Key,
    /// What it is.
    pub what: Words,
    /// In which state.
    pub state: Key,
    /// What it adds to the flow through the coolers [m³/s].
    pub flow_gain: f64,
    /// By how much cooler the engine's outlet becomes [K].
    pub out_gain: f64,
}

fn figures<'a>(row: &'a FlowRow, like: &StateRow) -> Option<&'a Figures> {
    row.states
        .iter()
        .find(|own| own.key == like.key && own.duty == like.duty)?
        .came
        .steady()
}

/// Compares two arrangements; `None` where the file has not both.
pub fn compare(boat: &Boat, one: Option<&str>, other: Option<&str>) -> Option<Compared> {
    let rows = [one, other].map(|name| {
        let arranged = boat.arranged(name)?;
        Some(super::row(boat, &arranged, name, Depth::Figures))
    });
    let [Some(first), Some(second)] = rows else {
        return None;
    };
    let mut states = Vec::new();
    for state in &first.states {
        let (Some(a), Some(b)) = (state.came.steady(), figures(&second, state)) else {
            continue;
        };
        let both = |get: &dyn Fn(&Figures) -> f64| [get(a), get(b)];
        states.push(ComparedState {
            key: state.key.clone(),
            duty: state.duty,
            flows: both(&|own| own.flow),
            cooled: both(&|own| own.cooled),
            out: both(&|own| own.out.mid),
            back: both(&|own| own.back.mid),
            suction: both(&|own| own.suction),
            lift: [a, b].map(|own| own.lift.map(|lift| lift.mid)),
            heads: heads(a, b),
        });
    }
    let changes = hardest(&first)
        .map(|state| changes(boat, one, other, &first, state))
        .unwrap_or_default();
    Some(Compared {
        one: one.map(str::to_owned),
        other: other.map(str::to_owned),
        states,
        changes,
    })
}

fn heads(a: &Figures, b: &Figures) -> Vec<HeadRow> {
    let mut rows: Vec<HeadRow> = Vec::new();
    for item in &a.items {
        let there = b.items.iter().find(|own| own.subject == item.subject);
        rows.push(HeadRow {
            subject: item.subject.clone(),
            title: item.title.clone(),
            drops: [Some(item.drop), there.map(|own| own.drop)],
        });
    }
    for item in &b.items {
        if !a.items.iter().any(|own| own.subject == item.subject) {
            rows.push(HeadRow {
                subject: item.subject.clone(),
                title: item.title.clone(),
                drops: [None, Some(item.drop)],
            });
        }
    }
    let change = |row: &HeadRow| (row.drops[1].unwrap_or(0.0) - row.drops[0].unwrap_or(0.0)).abs();
    rows.sort_by(|x, y| change(y).total_cmp(&change(x)));
    rows
}

/// The state in which the engine turns fastest and she moves.
fn hardest(row: &FlowRow) -> Option<&StateRow> {
    row.states
        .iter()
        .filter(|state| state.came.steady().is_some())
        .max_by(|a, b| {
            let moves = |state: &StateRow| state.duty == Duty::Moving;
            a.revs
                .total_cmp(&b.revs)
                .then_with(|| moves(a).cmp(&moves(b)))
        })
}

/// The name of the arrangement in which a change is tried; no owner types a blank.
const TRIED: &str = " tried";

fn changes(
    boat: &Boat,
    one: Option<&str>,
    other: Option<&str>,
    first: &FlowRow,
    state: &StateRow,
) -> Vec<Change> {
    let Some(before) = state.came.steady() else {
        return Vec::new();
    };
    let mut out = Vec::new();
    for (subject, what, alone) in single(boat, one, other) {
        let mut tried = boat.clone();
        // Only the one state is asked.
        tried.states.retain(|own| own.key == state.key);
        tried.arrangements.push(Arrangement {
            key: TRIED.into(),
            from: one.map(str::to_owned),
            ..alone
        });
        let Some(arranged) = tried.arranged(Some(TRIED)) else {
            continue;
        };
        let row = super::row(&tried, &arranged, Some(TRIED), Depth::Figures);
        let Some(after) = figures(&row, state) else {
            continue;
        };
        out.push(Change {
            subject,
            what,
            state: state.key.clone(),
            flow_gain: after.cooled - before.cooled,
            out_gain: before.out.mid - after.out.mid,
        });
    }
    let _ = first;
    out.sort_by(|a, b| {
        let by_heat = b.out_gain.total_cmp(&a.out_gain);
        let close = (b.out_gain - a.out_gain).abs() < 1e-3;
        if close {
            b.flow_gain.total_cmp(&a.flow_gain)
        } else {
            by_heat
        }
    });
    out
}

/// Each change that leads from one arrangement to the other, alone.
fn single(boat: &Boat, one: Option<&str>, other: Option<&str>) -> Vec<(Key, Words, Arrangement)> {
    // The steps of the other that the first has not taken, the nearest to it first.
    let mut steps: Vec<&Arrangement> = Vec::new();
    let mut name = other;
    while let Some(own) = name {
        if Some(own) == one {
            break;
        }
        let Some(step) = boat.arrangements.iter().find(|step| step.key == own) else {
            break;
        };
        if steps.iter().any(|taken| taken.key == step.key) {
            break;
        }
        steps.insert(0, step);
        name = step.from.as_deref();
    }
    let mut out: Vec<(Key, Words, Arrangement)> = Vec::new();
    let said = |text: String| Words::from(text.as_str());
    for step in steps {
        for thing in &step.replace_things {
            out.push((
                thing.key.clone(),
                said(format!("{} as in {}", thing.key, step.key)),
                Arrangement {
                    replace_things: vec![thing.clone()],
                    ..Arrangement::default()
                },
            ));
        }
        for run in &step.replace_runs {
            out.push((
                run.key.clone(),
                said(format!("the run {} as in {}", run.key, step.key)),
                Arrangement {
                    replace_runs: vec![run.clone()],
                    blank: step.blank.clone(),
                    ..Arrangement::default()
                },
            ));
        }
        for thing in &step.add_things {
            let runs = step
                .add_runs
                .iter()
                .filter(|run| {
                    [&run.from, &run.to].iter().any(|end| {
                        matches!(end, boat::RunEnd::Thing { thing: own, .. } if *own == thing.key)
                    })
                })
                .cloned()
                .collect();
            out.push((
                thing.key.clone(),
                said(format!("{} with its runs", thing.key)),
                Arrangement {
                    add_things: vec![thing.clone()],
                    add_runs: runs,
                    ..Arrangement::default()
                },
            ));
        }
        for valve in &step.shut {
            out.push((
                valve.clone(),
                said(format!("{valve} shut")),
                Arrangement {
                    shut: vec![valve.clone()],
                    ..Arrangement::default()
                },
            ));
        }
    }
    out
}
