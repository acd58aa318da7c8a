//! The raw-water side: how hard its pump has to suck, and whether its hose stands that.

use quantity::Kind;

use super::{
    COMPUTED, Case, Named, PRACTICE, SEA, by_state, input, kpa, of_pascals, subject, unmeasured,
    verdict,
};
use crate::stages::flow::row::{Figures, ItemRow, RawRow};
use crate::verdict::{Basis, Grade, Margin, Verdict, Words};

/// How far under the air a pump with a rubber impeller may stand at its inlet [Pa]: sound down to the one,
/// unsound beyond the other. New and wet it lifts as much as the second by itself. Common practice, no
/// source.
const UNDER: [f64; 2] = [-15e3, -30e3];

/// Judges the family.
pub(super) fn judge(case: &Case, out: &mut Vec<Verdict>) {
    let runs: Vec<Run> = case
        .steady()
        .filter_map(|(named, figures)| {
            let raw = figures.raw.as_ref()?;
            Some((named, figures, raw))
        })
        .collect();
    let Some((_, _, first)) = runs.first() else {
        return;
    };
    // A pump that draws by an inlet of its own has no suction side in the file.
    let Some(key) = first.pump.clone().filter(|_| has_suction(first)) else {
        return;
    };
    let place = boat::thing_path(&key);
    let whole = subject(&key, &format!("inlet of {key}"), &place);
    let known = runs.iter().filter_map(|run| Some((run, run.2.inlet?)));
    let worst = known.min_by(|a, b| a.1.total_cmp(&b.1));
    match worst {
        Some((run, inlet)) => out.push(sucked(&whole, &runs, run, inlet)),
        None => {
            if let Some(missing) = first.missing.first() {
                let why = format!(
                    "How hard the raw-water pump sucks is not known. {}",
                    missing.why
                );
                out.push(unmeasured(
                    &whole,
                    "raw-suction",
                    why.as_str().into(),
                    &missing.settles,
                ));
            }
        }
    }
}

/// A state with the raw water that runs in it.
type Run<'c> = (&'c Named<'c>, &'c Figures, &'c RawRow);

fn has_suction(raw: &RawRow) -> bool {
    raw.places.iter().any(|place| place.suction)
}

fn sucked(
    whole: &crate::stages::types::Subject,
    runs: &[Run],
    (named, figures, _): &Run,
    inlet: f64,
) -> Verdict {
    let soft: Vec<&ItemRow> = figures
        .items
        .iter()
        .filter(|item| item.raw && item.suction && item.soft)
        .collect();
    let bare = soft.first().filter(|_| inlet < 0.0);
    let grade = if inlet < UNDER[1] || bare.is_some() {
        Grade::Unsound
    } else if inlet < UNDER[0] {
        Grade::Marginal
    } else {
        Grade::Sound
    };
    let because = Words::of(|system| {
        let stands = if inlet < 0.0 {
            format!("{} under", kpa(-inlet, system))
        } else {
            format!("{} over", kpa(inlet, system))
        };
        let hose = bare.map_or_else(String::new, |item| {
            format!(", and {} has no wire to hold it open", item.title)
        });
        format!(
            "In {} the raw water at the pump's inlet stands {stands} the air outside with a clean strainer{hose}.",
            named.at(system)
        )
    });
    let remedy = match (grade, bare) {
        (Grade::Sound, _) => "",
        (_, Some(_)) => "Take hose with a wire helix between the sea and the pump.",
        _ => "Widen or shorten what lies between the sea and the pump, or set the pump lower.",
    };
    let mut said = verdict(whole, "raw-suction", grade, because, remedy);
    if let Some(item) = bare {
        said.place.clone_from(&item.place);
    }
    said.basis = Basis::Practice;
    if grade != Grade::Sound {
        said.caution = Some(SEA.into());
    }
    said.margin = Some(Margin {
        value: inlet,
        deviation: None,
        low: Some(UNDER[0]),
        high: None,
        kind: Kind::PressureDifference,
    });
    input(
        &mut said,
        "p_in",
        "at the inlet of the raw-water pump",
        of_pascals(inlet),
        COMPUTED,
    );
    for (named, _, raw) in runs {
        if let Some(inlet) = raw.inlet {
            let words = Words::of(|system| kpa(inlet, system));
            by_state(&mut said, "p_in", named, words);
        }
    }
    said.working.limit = Words::of(|system| {
        format!(
            "not more than {} under the air, and never {}",
            kpa(-UNDER[0], system),
            kpa(-UNDER[1], system)
        )
    });
    said.source(WAY);
    said.source(PRACTICE);
    said
}

/// How it was reckoned.
const WAY: &str =
    "the heights and the losses of the file from the sea to the pump, at the flow of the state";
