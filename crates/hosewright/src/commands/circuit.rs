//! `circuit`: the loop in order of flow, and what is judged of it.

use super::{exit_for, explained};
use crate::api::{self, CircuitSchema, Summary, Where};
use crate::cli;
use crate::fault::Fault;
use crate::load::{Loaded, meant};
use crate::render::{circuit as lines, head, verdict};
use crate::run::Outcome;
use crate::text::{Page, Terminal};

/// Runs it.
pub fn run(circuit: cli::Circuit, terminal: Terminal) -> Result<Outcome, Fault> {
    let cli::Circuit {
        boat,
        arrangement,
        all,
        explain,
        showing,
    } = circuit;
    let (boat, explain) = meant(boat, explain);
    let loaded = Loaded::from_path(&boat)?;
    if loaded.stopped() {
        return Ok(loaded.refusal(showing.json, terminal));
    }
    if let Some(name) = &arrangement {
        loaded.has_arrangement(name)?;
    }
    let steps = &loaded.boat.arrangements;
    let usual = steps
        .iter()
        .map(|step| step.key.as_str())
        .find(|name| *name == "after");
    let names: Vec<Option<&str>> = if all && !steps.is_empty() {
        steps.iter().map(|step| Some(step.key.as_str())).collect()
    } else {
        vec![arrangement.as_deref().or(usual)]
    };
    let circuits: Vec<reckon::Circuit> = names
        .iter()
        .filter_map(|name| reckon::circuit(&loaded.boat, *name))
        .collect();
    let verdicts: Vec<reckon::Verdict> = circuits
        .iter()
        .flat_map(|circuit| circuit.verdicts.clone())
        .collect();
    let explain = explained(explain, &[], &verdicts)?;
    let summary = Summary::of(verdicts.iter().map(|verdict| verdict.grade));
    let exit = exit_for(&summary, false);
    let named = match names.as_slice() {
        [only] if !all => *only,
        _ => None,
    };
    if showing.json {
        let chart: &dyn Where = &loaded.chart;
        let document = api::Circuit {
            schema: CircuitSchema::V1,
            about: loaded.about(named),
            summary,
            remarks: loaded.sent_remarks(),
            arrangements: circuits
                .into_iter()
                .map(|circuit| api::Loop::of(circuit, chart))
                .collect(),
        };
        return Ok(Outcome::said(api::to_json(&document), exit));
    }
    let units = showing.units.into();
    let mut page = Page::new(terminal);
    let show = verdict::Show { all: true, explain };
    if all {
        head::head(&mut page, loaded.name(), None, &loaded.held);
        lines::side_by_side(&mut page, &circuits);
    }
    for circuit in &circuits {
        if all {
            page.gap();
        }
        head::head(
            &mut page,
            loaded.name(),
            circuit.listing.arrangement.as_deref(),
            &loaded.held,
        );
        let own = Summary::of(circuit.verdicts.iter().map(|verdict| verdict.grade));
        head::summary(&mut page, &own);
        lines::list(&mut page, &circuit.listing, units);
        verdict::verdicts(&mut page, &circuit.verdicts, &show, &loaded.manner(units));
    }
    loaded.write_remarks(&mut page);
    Ok(Outcome::said(page.finish(), exit))
}
