//! Flow that comes round without passing a cooler, and water that stands.

use quantity::Kind;

use super::{
    COMPUTED, Case, Named, PRACTICE, SOLVED, by_state, flow, inner, input, number, of_share,
    percent, subject, verdict,
};
use crate::say;
use crate::stages::flow::row::Figures;
use crate::stages::types::counted_names;
use crate::verdict::{Grade, Margin, Verdict, Words};

/// The greatest share that may come round uncooled while the thermostat is fully open. Common practice, no source.
const STOLEN: f64 = 0.20;
/// A thermostat that is open so far is fully open.
const OPEN: f64 = 0.99;

/// Judges the family.
pub(super) fn judge(case: &Case, out: &mut Vec<Verdict>) {
    out.extend(stolen(case));
    out.extend(standing(case));
}

/// What comes round uncooled, of the flow of the engine.
fn sum(figures: &Figures) -> f64 {
    figures.stolen.iter().map(|(_, share)| share).sum()
}

/// Whether all that can go to the coolers goes there.
fn open(figures: &Figures) -> bool {
    figures.lift.is_none_or(|lift| lift.mid >= OPEN)
}

/// Flow that is taken from the coolers when they need all of it.
fn stolen(case: &Case) -> Option<Verdict> {
    let whole = case.circuit();
    let asked = case.steady().filter(|&(_, figures)| open(figures));
    let worst = asked.max_by(|a, b| sum(a.1).total_cmp(&sum(b.1)));
    let Some((named, figures)) = worst else {
        return never_open(case);
    };
    let all = sum(figures);
    let names: Vec<String> = figures
        .stolen
        .iter()
        .map(|(name, share)| format!("{} by {name}", percent(*share)))
        .collect();
    let because = Words::of(|system| {
        let ways = if names.is_empty() {
            String::new()
        } else {
            format!(": {}", say::list(&names, "and"))
        };
        format!(
            "In {}, with all open to the coolers, {} of the {} through the engine comes round without passing one{ways}.",
            named.at(system),
            percent(all),
            flow(figures.flow, system)
        )
    });
    let (grade, remedy) = if all > STOLEN {
        (
            Grade::Marginal,
            "Throttle the way that takes most, or shut it when she is driven hard: what it takes the coolers lack.",
        )
    } else {
        (Grade::Sound, "")
    };
    let mut said = verdict(&whole, "stolen", grade, because, remedy);
    said.margin = Some(Margin {
        value: all,
        deviation: None,
        low: None,
        high: Some(STOLEN),
        kind: Kind::Ratio,
    });
    let through = number(Kind::VolumeFlow, figures.flow, |system| {
        flow(figures.flow, system)
    });
    input(
        &mut said,
        "V_e",
        "flow through the engine",
        through,
        COMPUTED,
    );
    let cooled = number(Kind::VolumeFlow, figures.cooled, |system| {
        flow(figures.cooled, system)
    });
    input(
        &mut said,
        "V_c",
        "flow through the coolers",
        cooled,
        COMPUTED,
    );
    input(
        &mut said,
        "s",
        "share that comes round",
        of_share(all),
        COMPUTED,
    );
    by_all(case, &mut said);
    said.working.limit = format!(
        "no more than {} while the thermostat is fully open",
        percent(STOLEN)
    )
    .as_str()
    .into();
    said.source(SOLVED);
    said.source(PRACTICE);
    Some(said)
}

/// No state opens the thermostat fully, so that what comes round is what the thermostat wants.
fn never_open(case: &Case) -> Option<Verdict> {
    let lift = |figures: &Figures| figures.lift.map_or(1.0, |lift| lift.mid);
    let (named, figures): (&Named, &Figures) = case
        .steady()
        .max_by(|a, b| lift(a.1).total_cmp(&lift(b.1)))?;
    let because = Words::of(|system| {
        format!(
            "No state opens the thermostat fully: at its most, {} in {}, {} of the flow comes round uncooled, as the thermostat wants it.",
            percent(lift(figures)),
            named.at(system),
            percent(sum(figures))
        )
    });
    let mut said = verdict(&case.circuit(), "stolen", Grade::Sound, because, "");
    by_all(case, &mut said);
    said.working.limit = format!(
        "no more than {} while the thermostat is fully open",
        percent(STOLEN)
    )
    .as_str()
    .into();
    said.source(SOLVED);
    Some(said)
}

/// What comes round in every state.
fn by_all(case: &Case, said: &mut Verdict) {
    for (named, figures) in case.steady() {
        let lift = figures
            .lift
            .map_or_else(String::new, |lift| format!(", lift {}", percent(lift.mid)));
        let text = format!("{}{lift}", percent(sum(figures)));
        by_state(said, "s", named, text.as_str().into());
    }
}

/// Water that stands: in every state it ages, in some it is what a shut valve does.
fn standing(case: &Case) -> Option<Verdict> {
    let states = case.steady().count();
    let mut parts: Vec<(&str, usize)> = Vec::new();
    for (_, figures) in case.steady() {
        for part in &figures.standing {
            let part = inner(part);
            match parts.iter().position(|(known, _)| *known == part) {
                Some(at) => parts[at].1 += 1,
                None => parts.push((part, 1)),
            }
        }
    }
    if parts.is_empty() {
        return None;
    }
    let always: Vec<String> = named(&parts, |count| count == states);
    let sometimes: Vec<String> = named(&parts, |count| count < states);
    let whole = subject("circuit", "water that stands", &case.circuit().place);
    let (grade, because, remedy) = if always.is_empty() {
        (
            Grade::Sound,
            format!(
                "Water stands in {} of {states} states in {}, and moves in the others.",
                parts.iter().map(|(_, count)| *count).max().unwrap_or(0),
                say::list(&sometimes, "and")
            ),
            "",
        )
    } else {
        (
            Grade::Marginal,
            format!(
                "Water stands in {states} of {} in {}: its inhibitor is used up and never renewed there.",
                counted_names(states, "state"),
                say::list(&always, "and")
            ),
            "Open it for some minutes in each month, or take it out and blank both ends; leave no shut part without a way to grow when it warms.",
        )
    };
    let mut said = verdict(&whole, "standing", grade, because.as_str().into(), remedy);
    for (part, count) in &parts {
        let text = format!("{count} of {states} states");
        said.step("stands in", (*part).into(), text.as_str().into());
    }
    said.working.limit = "no part in which the water never moves".into();
    said.source(SOLVED);
    said.source(PRACTICE);
    Some(said)
}

/// Names of the parts that stand in so many states.
fn named(parts: &[(&str, usize)], when: impl Fn(usize) -> bool) -> Vec<String> {
    parts
        .iter()
        .filter(|(_, count)| when(*count))
        .map(|(part, _)| (*part).to_owned())
        .collect()
}
