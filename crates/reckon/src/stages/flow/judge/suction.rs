//! The suction of the pump: hose that can be sucked flat, and water that boils at the inlet.

use quantity::{Kind, System};

use super::{
    COMPUTED, Case, HOT, PRACTICE, SOLVED, by_state, input, kpa, metres, of_pascals, settles,
    subject, unmeasured, verdict,
};
use crate::stages::flow::row::{Figures, ItemRow};
use crate::stages::types::Subject;
use crate::verdict::{Basis, Grade, Margin, Number, Verdict, Words};

/// What one metre of cold water weighs on its foot [Pa]: 1000 kg/m³ times standard gravity. Hot coolant
/// weighs a few per cent less, so that the heads are a little too small, on the safe side.
const METRE: f64 = 9806.65;
/// Heads over boiling at the inlet [m]: sound from the one, unsound under the other.
const HEADS: [f64; 2] = [1.0, 0.5];
/// Whence they are.
const HEAD_SOURCE: &str = "margin over the head that a pump needs, 0.5 to 1 m (ANSI/HI 9.6.1, from memory); what a small engine pump needs is seldom published, so the whole head over boiling is held against it";

/// Judges the family.
pub(super) fn judge(case: &Case, out: &mut Vec<Verdict>) {
    let pump = subject("pump", "inlet of the pump", &boat::thing_path("engine"));
    out.extend(suction(case, &pump));
    out.extend(boiling(case, &pump));
}

/// Hoses of the suction side that nothing holds open.
fn soft(figures: &Figures) -> Vec<&ItemRow> {
    let all = figures.items.iter();
    all.filter(|item| item.suction && item.soft && !item.raw)
        .collect()
}

fn graded(figures: &Figures) -> Grade {
    if figures.suction >= 0.0 {
        Grade::Sound
    } else if soft(figures).is_empty() {
        Grade::Marginal
    } else {
        Grade::Unsound
    }
}

/// Whether the inlet stands under the air outside when the cap holds nothing.
fn suction(case: &Case, pump: &Subject) -> Option<Verdict> {
    let (named, figures) = case
        .steady()
        .min_by(|a, b| a.1.suction.total_cmp(&b.1.suction))?;
    let grade = graded(figures);
    let bare = soft(figures);
    let because = Words::of(|system| {
        let stands = if figures.suction < 0.0 {
            format!("{} under", kpa(-figures.suction, system))
        } else {
            format!("{} over", kpa(figures.suction, system))
        };
        let hose = match (grade, bare.first()) {
            (Grade::Unsound, Some(item)) => {
                format!(", and {} has no wire to hold it open", item.title)
            }
            (Grade::Marginal, _) => ", and only the wire of its hose holds it open".to_owned(),
            _ => String::new(),
        };
        format!(
            "In {} the coolant at the inlet of the pump stands {stands} the air outside with a cap that holds nothing{hose}.",
            named.at(system)
        )
    });
    let remedy = match grade {
        Grade::Unsound => {
            "Take hose with a wire helix between the last cooler and the pump, and make it wider or shorter."
        }
        Grade::Marginal => {
            "Widen or shorten the suction side, or set the header tank higher; watch the hose at full speed until then."
        }
        _ => "",
    };
    let mut said = verdict(pump, "suction", grade, because, remedy);
    if let (Grade::Unsound, Some(item)) = (grade, bare.first()) {
        said.place.clone_from(&item.place);
    }
    said.basis = Basis::Physics;
    if grade != Grade::Sound {
        said.caution = Some(HOT.into());
    }
    said.margin = Some(Margin {
        value: figures.suction,
        deviation: None,
        low: Some(0.0),
        high: None,
        kind: Kind::PressureDifference,
    });
    input(
        &mut said,
        "p_in",
        "at the inlet, cap failed",
        of_pascals(figures.suction),
        COMPUTED,
    );
    for (named, figures) in case.steady() {
        let words = Words::of(|system| kpa(figures.suction, system));
        by_state(&mut said, "p_in", named, words);
        let words = Words::of(|system| head(figures, system));
        by_state(&mut said, "head over boiling at the inlet", named, words);
    }
    said.working.limit =
        "not under the air outside at any speed, hot and with the cap failed".into();
    said.source(SOLVED);
    said.source(PRACTICE);
    Some(said)
}

/// Head over boiling at the inlet.
fn head(figures: &Figures, system: System) -> String {
    metres(figures.suction_over_boiling / METRE, system)
}

/// Whether the water boils in the inlet; silent where the head will do.
fn boiling(case: &Case, pump: &Subject) -> Option<Verdict> {
    case.steady().next()?;
    // Where no table tells how the coolant boils, there is no figure.
    let known = case
        .steady()
        .filter(|(_, figures)| figures.suction_over_boiling.is_finite());
    let worst = known.min_by(|a, b| {
        let (one, other) = (a.1.suction_over_boiling, b.1.suction_over_boiling);
        one.total_cmp(&other)
    });
    let Some((named, figures)) = worst else {
        let because = "At what pressure the coolant boils at the inlet of the pump is not known.";
        let how = "Write the kind of the coolant and its share of concentrate.";
        return Some(unmeasured(
            pump,
            "boiling",
            because.into(),
            &settles("coolant.wanted", how),
        ));
    };
    let metre = figures.suction_over_boiling / METRE;
    if metre >= HEADS[0] {
        return None;
    }
    let grade = if metre >= HEADS[1] {
        Grade::Marginal
    } else {
        Grade::Unsound
    };
    let because = Words::of(|system| {
        format!(
            "In {} the coolant at the inlet of the pump is {}, a head of {}, from boiling there with a cap that holds nothing.",
            named.at(system),
            kpa(figures.suction_over_boiling, system),
            head(figures, system)
        )
    });
    let remedy = "Widen or shorten the suction side, set the header tank higher, or bring the coolant into the engine colder: a pump that boils at its inlet moves steam.";
    let mut said = verdict(pump, "boiling", grade, because, remedy);
    said.basis = Basis::Physics;
    said.caution = Some(HOT.into());
    said.margin = Some(Margin {
        value: figures.suction_over_boiling,
        deviation: None,
        low: Some(HEADS[0] * METRE),
        high: None,
        kind: Kind::PressureDifference,
    });
    let pressure: Number = of_pascals(figures.suction_over_boiling);
    input(
        &mut said,
        "p − p_b",
        "total pressure over that of boiling",
        pressure,
        COMPUTED,
    );
    for (named, figures) in case.steady() {
        let words = Words::of(|system| head(figures, system));
        by_state(&mut said, "(p − p_b) ÷ (ρ g)", named, words);
    }
    said.working.limit = Words::of(|system| {
        format!(
            "{}, and never under {}",
            metres(HEADS[0], system),
            metres(HEADS[1], system)
        )
    });
    said.source(SOLVED);
    said.source(HEAD_SOURCE);
    Some(said)
}
