//! The engine: coolant that comes back too cold, rises too much, or never warms it through.

use quantity::Kind;

use super::{Case, PRACTICE, SOLVED, ZERO, by_state, deg, input, of_celsius, rise, verdict};
use crate::stages::flow::row::Figures;
use crate::verdict::{Grade, Margin, Verdict, Words};

/// How far the stamp of a thermostat may be off [K]. Common practice, no source.
const STAMP: f64 = 2.0;
/// Coldest return into a warm engine [°C]. Common practice, no source.
const RETURN: f64 = 60.0;
/// Greatest rise in the engine [K]. Common practice, no source.
const RISE: f64 = 10.0;
/// A thermostat that lifts less than this stands on its seat.
const SHUT: f64 = 0.005;

/// Whether a thermostat stands shut while the engine is colder than where it opens.
fn cold(case: &Case, figures: &Figures) -> bool {
    let shut = figures.lift.is_some_and(|lift| lift.mid <= SHUT);
    shut && case
        .facts
        .opens
        .is_some_and(|opens| figures.out.mid < opens - STAMP)
}

/// Judges the family.
pub(super) fn judge(case: &Case, out: &mut Vec<Verdict>) {
    let before = out.len();
    out.extend(runs_cold(case));
    out.extend(comes_back(case));
    out.extend(rises(case));
    if out.len() > before {
        return;
    }
    let Some((named, figures)) = case
        .steady()
        .max_by(|a, b| (a.1.out.mid - a.1.mixed.mid).total_cmp(&(b.1.out.mid - b.1.mixed.mid)))
    else {
        return;
    };
    let because = Words::of(|system| {
        format!(
            "The coolant rises by no more than {} in the engine, from {} to {} in {}.",
            rise(figures.out.mid - figures.mixed.mid, system),
            deg(figures.mixed.mid, system),
            deg(figures.out.mid, system),
            named.at(system)
        )
    });
    let mut said = verdict(&case.engine(), "return", Grade::Sound, because, "");
    all_states(case, &mut said);
    said.working.limit = Words::of(|system| {
        format!(
            "no colder than {} into a warm engine, and a rise of no more than {}",
            deg(RETURN, system),
            rise(RISE, system)
        )
    });
    out.push(said);
}

/// In, out and rise by state.
fn all_states(case: &Case, said: &mut Verdict) {
    for (named, figures) in case.steady() {
        let words = Words::of(|system| {
            format!(
                "{} − {} = {}",
                deg(figures.out.mid, system),
                deg(figures.mixed.mid, system),
                rise(figures.out.mid - figures.mixed.mid, system)
            )
        });
        by_state(said, "t_out − t_in", named, words);
    }
    said.source(SOLVED);
    said.source(PRACTICE);
}

/// An engine that never warms through.
fn runs_cold(case: &Case) -> Option<Verdict> {
    let opens = case.facts.opens?;
    let (named, figures) = case
        .steady()
        .filter(|&(_, figures)| cold(case, figures))
        .min_by(|a, b| a.1.out.mid.total_cmp(&b.1.out.mid))?;
    let because = Words::of(|system| {
        format!(
            "In {} the thermostat stays shut and the coolant leaves the engine at {}, under the {} at which it begins to open: she runs cold.",
            named.at(system),
            deg(figures.out.mid, system),
            deg(opens, system)
        )
    });
    let remedy = "Load the engine more in this state, or keep it short: look for a thermostat that leaks or a heater that takes more than there is.";
    let mut said = verdict(&case.engine(), "cold", Grade::Marginal, because, remedy);
    input(
        &mut said,
        "t_o",
        "begins to open",
        of_celsius(opens),
        "file",
    );
    all_states(case, &mut said);
    said.working.limit = Words::of(|system| {
        format!(
            "no more than {} under where the thermostat begins to open",
            rise(STAMP, system)
        )
    });
    Some(said)
}

/// Cold coolant into a warm engine.
fn comes_back(case: &Case) -> Option<Verdict> {
    let warm = |figures: &Figures| figures.out.mid >= RETURN && !cold(case, figures);
    let (named, figures) = case
        .steady()
        .filter(|&(_, figures)| warm(figures))
        .min_by(|a, b| a.1.mixed.mid.total_cmp(&b.1.mixed.mid))?;
    if figures.mixed.mid >= RETURN {
        return None;
    }
    let because = Words::of(|system| {
        format!(
            "In {} the coolant comes to the pump at {} and leaves the engine at {}.",
            named.at(system),
            deg(figures.mixed.mid, system),
            deg(figures.out.mid, system)
        )
    });
    let remedy = "Let more of the flow come round by the by-pass, or give the loop more flow, so that the block is not chilled.";
    let mut said = verdict(&case.engine(), "return", Grade::Marginal, because, remedy);
    said.margin = Some(Margin {
        value: figures.mixed.mid + ZERO,
        deviation: None,
        low: Some(RETURN + ZERO),
        high: None,
        kind: Kind::Temperature,
    });
    all_states(case, &mut said);
    said.working.limit =
        Words::of(|system| format!("no colder than {} into a warm engine", deg(RETURN, system)));
    Some(said)
}

/// Too little flow shows as too great a rise.
fn rises(case: &Case) -> Option<Verdict> {
    let (named, figures) = case
        .steady()
        .max_by(|a, b| (a.1.out.mid - a.1.mixed.mid).total_cmp(&(b.1.out.mid - b.1.mixed.mid)))?;
    let most = figures.out.mid - figures.mixed.mid;
    if most <= RISE {
        return None;
    }
    let because = Words::of(|system| {
        format!(
            "In {} the coolant rises by {} in the engine, from {} to {}: too little of it goes round.",
            named.at(system),
            rise(most, system),
            deg(figures.mixed.mid, system),
            deg(figures.out.mid, system)
        )
    });
    let remedy = "Widen what narrows the loop, open what is shut, or renew the pump: the drops of the parts tell which takes most.";
    let mut said = verdict(&case.engine(), "rise", Grade::Marginal, because, remedy);
    said.margin = Some(Margin {
        value: most,
        deviation: None,
        low: None,
        high: Some(RISE),
        kind: Kind::TemperatureDifference,
    });
    all_states(case, &mut said);
    said.working.limit =
        Words::of(|system| format!("a rise of no more than {}", rise(RISE, system)));
    Some(said)
}
