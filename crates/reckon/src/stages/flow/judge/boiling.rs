//! Boiling: how far the hottest water stays from it, with the cap holding and with the cap failed.

use quantity::Kind;

use super::{
    COMPUTED, Case, HOT, Named, PRACTICE, SOLVED, by_state, deg, input, of_celsius, of_pascals,
    rise, settles, verdict,
};
use crate::verdict::{Basis, Grade, Margin, Verdict, Words};

/// Least margin to boiling [K]: the metal is hotter than the water. Common practice, no source.
const MARGIN: f64 = 10.0;
/// What the margin is for, beside its figure.
const SOAK: &str =
    "for metal that is hotter than the water, and for the heat that soaks in after stopping";

/// The hottest water of one state.
struct Hottest<'c> {
    named: &'c Named<'c>,
    at: &'c str,
    temperature: f64,
    /// Where it boils with the cap failed [°C].
    open: f64,
    /// Where it boils with the cap at its setting [°C].
    capped: Option<f64>,
    grade: Grade,
}

impl Hottest<'_> {
    fn margin(&self) -> f64 {
        self.open - self.temperature
    }
}

/// Judges the family.
pub(super) fn judge(case: &Case, out: &mut Vec<Verdict>) {
    let all: Vec<Hottest> = case
        .steady()
        .filter_map(|(named, figures)| {
            let (at, temperature, open, capped) = figures.hottest.as_ref()?;
            Some(Hottest {
                named,
                at,
                temperature: *temperature,
                open: *open,
                capped: *capped,
                grade: graded(open - temperature, capped.map(|boils| boils - temperature)),
            })
        })
        .collect();
    // The worst grade first, and among its like the one with the least left.
    let worst = all.iter().max_by(|a, b| {
        let grade = a.grade.cmp(&b.grade);
        grade.then(b.margin().total_cmp(&a.margin()))
    });
    let Some(worst) = worst else {
        return;
    };
    let mut whole = case.engine();
    whole.place.clone_from(&case.facts.cap_place);
    let because = Words::of(|system| {
        let capped = worst.capped.map_or_else(
            || "; what the cap holds is not known".to_owned(),
            |boils| {
                format!(
                    ", and {} under it with a cap that holds",
                    rise(boils - worst.temperature, system)
                )
            },
        );
        let open = if worst.margin() < 0.0 {
            format!("{} over", rise(-worst.margin(), system))
        } else {
            format!("{} under", rise(worst.margin(), system))
        };
        format!(
            "The hottest water, {} at {} in {}, is {open} boiling with a cap that holds nothing{capped}.",
            worst.at,
            deg(worst.temperature, system),
            worst.named.at(system)
        )
    });
    let remedy = match worst.grade {
        Grade::Marginal => {
            "Test the cap against its figure and renew it if it falls short: it alone keeps this water from boiling."
        }
        Grade::Unsound => {
            "Slow down until more flow or more cooler brings the hottest water down: a cap of a higher figure only where every part stands it."
        }
        _ => "",
    };
    let mut said = verdict(&whole, "boiling", worst.grade, because, remedy);
    said.basis = Basis::Physics;
    if worst.grade != Grade::Sound {
        said.caution = Some(HOT.into());
    }
    if worst.grade == Grade::Unmeasured {
        said.settle_by(&settles(
            &case.facts.cap_place,
            "Read the figure on the cap when the engine is cold, and write it.",
        ));
    }
    said.margin = Some(Margin {
        value: worst.margin(),
        deviation: None,
        low: Some(MARGIN),
        high: None,
        kind: Kind::TemperatureDifference,
    });
    input(
        &mut said,
        "t",
        worst.at,
        of_celsius(worst.temperature),
        COMPUTED,
    );
    input(
        &mut said,
        "t_b",
        "boils there, cap failed",
        of_celsius(worst.open),
        COMPUTED,
    );
    if let Some(boils) = worst.capped {
        input(
            &mut said,
            "t_c",
            "boils there, cap holding",
            of_celsius(boils),
            COMPUTED,
        );
    }
    if let Some(cap) = case.facts.cap {
        input(&mut said, "p_c", "cap", of_pascals(cap), "file");
    }
    for own in &all {
        let words = Words::of(|system| {
            format!(
                "{} − {} = {}",
                deg(own.open, system),
                deg(own.temperature, system),
                rise(own.margin(), system)
            )
        });
        by_state(&mut said, "t_b − t", own.named, words);
    }
    said.working.limit =
        Words::of(|system| format!("{} with the cap failed, {SOAK}", rise(MARGIN, system)));
    said.source(SOLVED);
    said.source(PRACTICE);
    out.push(said);
}

/// The grade by what is left to boiling, with the cap failed and with the cap holding.
fn graded(open: f64, capped: Option<f64>) -> Grade {
    if open >= MARGIN {
        return Grade::Sound;
    }
    match capped {
        None => Grade::Unmeasured,
        Some(capped) if capped >= MARGIN => Grade::Marginal,
        Some(_) => Grade::Unsound,
    }
}
