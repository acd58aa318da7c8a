//! The most that the coolers can do: the warmest sea, the greatest steady power, the smallest share of their surface.

use quantity::Kind;

use super::{
    Case, PRACTICE, SOLVED, ZERO, deg, inner, input, of_celsius, of_share, of_watts, percent,
    power, rise, settles, subject, unmeasured, verdict,
};
use crate::stages::flow::row::{Duty, MostRow};
use crate::verdict::{Basis, Grade, Margin, Verdict, Words};

/// How far the warmest sea that will do should be over her summer sea [K]. Common practice, no source.
const OVER_SUMMER: f64 = 3.0;
/// The share of the cooler's surface that should do, for what growth, mud and thick paint take. Common practice, no source.
const SURFACE: f64 = 0.8;

/// Judges the family.
pub(super) fn judge(case: &Case, out: &mut Vec<Verdict>) {
    out.extend(sea(case));
    out.extend(steady_power(case));
    out.extend(smallest(case));
}

/// What the coolant may not pass, for a sentence.
fn limit(row: &MostRow, system: quantity::System) -> String {
    format!("{} ({})", deg(row.limit.0, system), inner(&row.limit.1))
}

/// The warmest sea, by the state that bears least.
fn sea(case: &Case) -> Option<Verdict> {
    let bears = |row: &MostRow| row.sea.unwrap_or(f64::NEG_INFINITY);
    let worst = case
        .row
        .most
        .iter()
        .min_by(|a, b| bears(a).total_cmp(&bears(b)))?;
    let whole = subject("circuit", "warmest sea", &case.facts.summer_place);
    let summer = case.facts.summer;
    let because = Words::of(|system| {
        let bears = worst.sea.map_or_else(
            || "in no sea, however cold".to_owned(),
            |sea| format!("up to a sea of {}", deg(sea, system)),
        );
        let hers = summer.map_or_else(
            || "the warmest sea that she meets is not told".to_owned(),
            |summer| format!("her summer sea is {}", deg(summer, system)),
        );
        format!(
            "In {} the coolant stays within {} {bears}; {hers}.",
            worst.key,
            limit(worst, system)
        )
    });
    let mut said = match summer {
        None if worst.sea.is_some() => {
            let how = "Write the warmest sea that she meets, by a thermometer over the side in August or the harbour's own figures.";
            unmeasured(
                &whole,
                "sea",
                because,
                &settles(&case.facts.summer_place, how),
            )
        }
        _ => {
            let over = match (worst.sea, summer) {
                (Some(sea), Some(summer)) => sea - summer,
                _ => f64::NEG_INFINITY,
            };
            let (grade, remedy) = if over >= OVER_SUMMER {
                (Grade::Sound, "")
            } else if over >= 0.0 {
                (
                    Grade::Marginal,
                    "Keep the coolers clean through the summer, and watch the temperature in this state.",
                )
            } else {
                (
                    Grade::Unsound,
                    "Spare this state in summer, or add cooler: the sea that it bears is colder than hers.",
                )
            };
            verdict(&whole, "sea", grade, because, remedy)
        }
    };
    said.basis = Basis::Physics;
    if let Some(sea) = worst.sea {
        said.margin = Some(Margin {
            value: sea + ZERO,
            deviation: None,
            low: summer.map(|summer| summer + OVER_SUMMER + ZERO),
            high: None,
            kind: Kind::Temperature,
        });
    }
    if let Some(summer) = summer {
        input(
            &mut said,
            "t_s",
            "her summer sea",
            of_celsius(summer),
            "file",
        );
    }
    for row in &case.row.most {
        let words = Words::of(|system| {
            row.sea
                .map_or_else(|| "none".to_owned(), |sea| deg(sea, system))
        });
        said.step("warmest sea", row.key.as_str().into(), words);
        if let Some(share) = row.smallest {
            let text = percent(share);
            said.step(
                "share of the surface that does",
                row.key.as_str().into(),
                text.as_str().into(),
            );
        }
    }
    said.working.limit =
        Words::of(|system| format!("{} over her summer sea", rise(OVER_SUMMER, system)));
    said.source(SOLVED);
    said.source(PRACTICE);
    Some(said)
}

/// The temperature of the sea and the greatest power there: at her summer sea or the next warmer one.
fn at_summer(row: &MostRow, summer: Option<f64>) -> Option<(f64, Option<f64>)> {
    let warm = |sea: f64| summer.is_none_or(|summer| sea >= summer - 0.01);
    let all = || row.power.iter().copied();
    let next = summer.and_then(|_| {
        all()
            .filter(|(sea, _)| warm(*sea))
            .min_by(|a, b| a.0.total_cmp(&b.0))
    });
    next.or_else(|| all().max_by(|a, b| a.0.total_cmp(&b.0)))
}

/// The greatest steady power, in the state in which she moves and is driven hardest.
fn steady_power(case: &Case) -> Option<Verdict> {
    let hardest = case
        .row
        .states
        .iter()
        .filter(|state| state.duty == Duty::Moving && state.power > 0.0)
        .max_by(|a, b| a.power.total_cmp(&b.power))?;
    // Of a state that stands twice, the better figure is the one that moves.
    let (row, sea, most) = case
        .row
        .most
        .iter()
        .filter(|row| row.key == hardest.key)
        .filter_map(|row| {
            let (sea, most) = at_summer(row, case.facts.summer)?;
            Some((row, sea, most))
        })
        .max_by(|a, b| a.2.unwrap_or(0.0).total_cmp(&b.2.unwrap_or(0.0)))?;
    let whole = subject("circuit", "greatest steady power", &case.facts.power_place);
    let rated = case.facts.rated_power;
    let because = Words::of(|system| {
        let most = most.map_or_else(|| "no power at all".to_owned(), |most| power(most, system));
        let rated = rated.map_or_else(
            || "; what the engine is rated at is not told".to_owned(),
            |rated| format!("; the engine is rated at {}", power(rated, system)),
        );
        format!(
            "In {}, in a sea of {}, the coolers bear {most} for as long as one likes within {}, with the greatest heat that it may bring{rated}.",
            row.key,
            deg(sea, system),
            limit(row, system)
        )
    });
    let mut said = match rated {
        None => {
            let how = "Read the rated power on the plate of the engine, and write it.";
            unmeasured(
                &whole,
                "power",
                because,
                &settles(&case.facts.power_place, how),
            )
        }
        Some(rated) if most.is_some_and(|most| most >= rated) => {
            verdict(&whole, "power", Grade::Sound, because, "")
        }
        Some(_) => verdict(
            &whole,
            "power",
            Grade::Marginal,
            because,
            "Keep full power for minutes, and watch the temperature; for more, clean the coolers or add surface.",
        ),
    };
    said.basis = Basis::Physics;
    if let Some(most) = most {
        said.margin = Some(Margin {
            value: most,
            deviation: None,
            low: rated,
            high: None,
            kind: Kind::Power,
        });
    }
    if let Some(rated) = rated {
        input(&mut said, "P_r", "rated power", of_watts(rated), "file");
    }
    for (sea, most) in &row.power {
        said.step(
            "greatest steady power",
            Words::of(|system| format!("sea of {}", deg(*sea, system))),
            Words::of(|system| most.map_or_else(|| "none".to_owned(), |most| power(most, system))),
        );
    }
    said.working.limit = "the rated power of the engine, for as long as one likes".into();
    said.source(SOLVED);
    Some(said)
}

/// How much of the surface may be lost; silent where enough may.
fn smallest(case: &Case) -> Option<Verdict> {
    let needs = |row: &MostRow| row.smallest.unwrap_or(f64::INFINITY);
    let worst = case
        .row
        .most
        .iter()
        .max_by(|a, b| needs(a).total_cmp(&needs(b)))?;
    if needs(worst) <= SURFACE {
        return None;
    }
    let because = Words::of(|system| {
        let takes = worst.smallest.map_or_else(
            || "no surface of this kind of cooler is enough".to_owned(),
            |share| format!("it takes {} of the cooler's surface", percent(share)),
        );
        format!(
            "In {} {takes} to stay within {}; growth, mud and thick paint take {} and more.",
            worst.key,
            limit(worst, system),
            percent(1.0 - SURFACE)
        )
    });
    let (grade, remedy) = if worst.smallest.is_none() {
        (
            Grade::Unsound,
            "Fit a cooler of another kind, or spare this state.",
        )
    } else {
        (
            Grade::Marginal,
            "Clean the cooler and thin its paint, or add surface.",
        )
    };
    let whole = subject("circuit", "surface of the coolers", &case.circuit().place);
    let mut said = verdict(&whole, "surface", grade, because, remedy);
    if let Some(share) = worst.smallest {
        said.margin = Some(Margin {
            value: share,
            deviation: None,
            low: None,
            high: Some(SURFACE),
            kind: Kind::Ratio,
        });
        input(
            &mut said,
            "a",
            "share of the surface that does",
            of_share(share),
            super::COMPUTED,
        );
    }
    for row in &case.row.most {
        let text = row.smallest.map_or_else(|| "none does".to_owned(), percent);
        said.step(
            "share of the surface that does",
            row.key.as_str().into(),
            text.as_str().into(),
        );
    }
    said.working.limit = format!("no more than {} of the surface as it is", percent(SURFACE))
        .as_str()
        .into();
    said.source(SOLVED);
    said.source(PRACTICE);
    Some(said)
}
