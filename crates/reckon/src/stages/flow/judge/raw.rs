//! The raw-water side: how hard its pump has to suck, whether its hose stands that, and whether what was measured
//! in a bucket can have come from the pump.

use quantity::Kind;

use super::{
    COMPUTED, Case, Named, PRACTICE, RAW_WATER, SEA, by_state, flow, input, kpa, number,
    of_pascals, percent, subject, unmeasured, verdict,
};
use crate::say;
use crate::stages::flow::row::{Figures, ItemRow, RawRow};
use crate::verdict::{Basis, Grade, Margin, Verdict, Words};

/// How far under the air a pump with a rubber impeller may stand at its inlet [Pa]: sound down to the one,
/// unsound beyond the other. New and wet it lifts as much as the second by itself. Common practice, no
/// source.
const UNDER: [f64; 2] = [-15e3, -30e3];
/// What a bucket may show of what the sheet of the pump gives: over the one it can't have come from this pump,
/// under the other the pump is worn or what lies on the way is choked. Common practice, no source.
const BUCKET: [f64; 2] = [1.10, 0.70];

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
    out.extend(bucket(&runs));
    // A pump that draws by an inlet of its own has no suction side in the file.
    let Some(key) = first.pump.clone().filter(|_| has_suction(first)) else {
        return;
    };
    let place = boat::thing_path(&key);
    let whole = subject(&key, &format!("inlet of {key}"), &place);
    if let Some((fitting, height, place)) = &first.over {
        let mut said = draws_air(&whole, fitting, *height);
        said.place.clone_from(place);
        out.push(said);
        return;
    }
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

/// The inlet does not stand under the water.
fn draws_air(whole: &crate::stages::types::Subject, fitting: &str, height: f64) -> Verdict {
    let because = Words::of(|system| {
        format!(
            "{} stands {} over the waterline: the pump draws air there, and no pressure ahead of it is told.",
            say::capital(fitting),
            say::whole_mm(height, system)
        )
    });
    let remedy = "Measure its height again; where it is right, have the inlet set well under the waterline when she is lifted out.";
    let mut said = verdict(whole, "raw-suction", Grade::Unsound, because, remedy);
    said.basis = Basis::Physics;
    said.caution = Some(SEA.into());
    said.working.limit = "an inlet under the waterline".into();
    said.source("the heights of the file");
    said
}

/// The bucket against the sheet of the pump; nothing where they agree.
fn bucket(runs: &[Run]) -> Option<Verdict> {
    let held = runs.iter().filter(|(_, _, raw)| raw.bucket);
    let both = held.filter_map(|(named, _, raw)| {
        let gives = raw.gives.filter(|gives| *gives > 0.0 && raw.flow > 0.0)?;
        Some((*named, *raw, gives, raw.flow / gives))
    });
    let wrong = both.filter(|(.., share)| *share > BUCKET[0] || *share < BUCKET[1]);
    let (named, raw, gives, share) = wrong.max_by(|a, b| {
        let off = |share: f64| share.ln().abs();
        off(a.3).total_cmp(&off(b.3))
    })?;
    let key = raw.pump.as_deref()?;
    let title = format!("raw water in {}", named.name);
    let whole = subject(key, &title, &format!("{}.raw", named.place()));
    let more = share > 1.0;
    let because = Words::of(|system| {
        let off = if more {
            format!("{} more than it can", percent(share - 1.0))
        } else {
            format!("{} less than it should", percent(1.0 - share))
        };
        format!(
            "Bucket and pump disagree: in {} the file has {} of raw water, and by its sheet {key} gives {} at that speed: {off}.",
            named.at(system),
            flow(raw.flow, system),
            flow(gives, system)
        )
    });
    let remedy = if more {
        "Measure again: hold a bucket under the outlet for half a minute at that speed, and read in the pump's sheet what it gives at which speed."
    } else {
        "Measure again; where it stays so, look at the impeller, the strainer and the inlet: the pump gives less than it should."
    };
    let mut said = verdict(&whole, "bucket", Grade::Marginal, because, remedy);
    said.basis = Basis::Practice;
    said.caution = Some(RAW_WATER.into());
    said.margin = Some(Margin {
        value: raw.flow,
        deviation: None,
        low: Some(BUCKET[1] * gives),
        high: Some(BUCKET[0] * gives),
        kind: Kind::VolumeFlow,
    });
    let of_flow = |value: f64| number(Kind::VolumeFlow, value, |system| flow(value, system));
    input(&mut said, "V_b", "by the bucket", of_flow(raw.flow), "file");
    input(
        &mut said,
        "V_p",
        "by the pump's sheet, at this speed",
        of_flow(gives),
        COMPUTED,
    );
    said.working.limit = format!(
        "{} to {} of what the pump gives: an impeller pushes a volume with each turn",
        percent(BUCKET[1]),
        percent(BUCKET[0])
    )
    .as_str()
    .into();
    said.source(PRACTICE);
    Some(said)
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
