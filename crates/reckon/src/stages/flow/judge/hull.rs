//! Which way it would leak: the coolant against the sea at every place under water, stopped and running.

use quantity::{Kind, System};

use super::{
    COMPUTED, Case, SEA, SOLVED, input, kpa, number, of_pascals, rpm, settles, subject, unmeasured,
    verdict,
};
use crate::say;
use crate::stages::flow::row::HullRow;
use crate::stages::types::SaltFacts;
use crate::verdict::{Basis, Grade, Margin, Verdict, Words};

/// Judges the family.
pub(super) fn judge(case: &Case, out: &mut Vec<Verdict>) {
    for hull in &case.row.hull {
        out.extend(way(case, hull));
    }
}

/// What is outside, with its article.
fn outside(case: &Case) -> &'static str {
    match case.facts.salt {
        SaltFacts::Fresh => "the water outside",
        SaltFacts::Salt | SaltFacts::Unknown(_) => "the sea",
    }
}

/// One place; nothing where it lies over the water.
fn way(case: &Case, hull: &HullRow) -> Option<Verdict> {
    let whole = subject(&hull.subject, &hull.title, &hull.place);
    let known = [hull.depth, hull.sea, hull.stopped];
    if known.iter().any(|figure| !figure.is_finite()) {
        let because = "How high it stands, or the header tank, is not known, so that nothing tells which way it would leak.";
        let how = "Measure the height of this place and of the cold mark of the header tank against the waterline, with a water tube.";
        return Some(unmeasured(
            &whole,
            "leak",
            because.into(),
            &settles(&hull.place, how),
        ));
    }
    if hull.depth <= 0.0 {
        return None;
    }
    let sea = outside(case);
    let least = hull.states.iter().min_by(|a, b| a.2.total_cmp(&b.2));
    let lowest = least.map_or(hull.stopped, |least| hull.stopped.min(least.2));
    let because = Words::of(|system| {
        let stopped = if hull.stopped < 0.0 {
            format!(
                "{} under {sea}, which comes in by a hole there",
                kpa(-hull.stopped, system)
            )
        } else {
            format!(
                "{} over {sea}, and a hole there lets coolant out",
                kpa(hull.stopped, system)
            )
        };
        let running = least.map_or_else(String::new, |(state, revs, inside)| {
            let stands = if *inside < 0.0 {
                format!("it is {} under, and {sea} comes in", kpa(-inside, system))
            } else {
                format!("it is still {} over", kpa(*inside, system))
            };
            format!("; in {state} at {} {stands}", rpm(*revs, system))
        });
        let turns = hull.turns.map_or_else(String::new, |revs| {
            format!("; it turns near {}", rpm(revs, system))
        });
        format!(
            "Stopped, the coolant {} down stands {stopped}{running}{turns}.",
            say::whole_mm(hull.depth, system)
        )
    });
    let (grade, remedy) = if lowest < 0.0 {
        (
            Grade::Marginal,
            "Dip a chloride strip into the coolant after each hard run, and set the header tank higher where the coolant is to stand over the water at every speed.",
        )
    } else {
        (Grade::Sound, "")
    };
    let mut said = verdict(&whole, "leak", grade, because, remedy);
    said.basis = Basis::Physics;
    if grade != Grade::Sound {
        said.caution = Some(SEA.into());
    }
    said.margin = Some(Margin {
        value: lowest,
        deviation: None,
        low: Some(0.0),
        high: None,
        kind: Kind::PressureDifference,
    });
    working(hull, &mut said);
    Some(said)
}

/// What stands on both sides, state by state.
fn working(hull: &HullRow, said: &mut Verdict) {
    let depth = number(Kind::Length, hull.depth, |system: System| {
        say::whole_mm(hull.depth, system)
    });
    input(said, "d", "depth under the waterline", depth, "file");
    input(said, "p_s", "water outside", of_pascals(hull.sea), COMPUTED);
    said.step(
        "p − p_s, cap failed",
        "stopped".into(),
        Words::of(|system| kpa(hull.stopped, system)),
    );
    for (state, revs, inside) in &hull.states {
        said.step(
            "p − p_s, cap failed",
            Words::of(|system| format!("{state} at {}", rpm(*revs, system))),
            Words::of(|system| kpa(*inside, system)),
        );
    }
    if let Some(cap) = hull.cap {
        said.step(
            "p − p_s, cap holding",
            "to each of them".into(),
            Words::of(|system| format!("{} more", kpa(cap, system))),
        );
    }
    said.working.limit =
        "the coolant over the water outside, stopped and at every speed, with the cap failed"
            .into();
    said.source(SOLVED);
    said.source("pressure of water at rest: density, gravity and depth");
}
