//! From an outcome to the result of the format.

use quantity::{AbsolutePressure, Quantity};
use reckon::solve::net::{Outcome, State};
use reference::media::{self, Glycol, MassFraction};
use reference::water;
use serde_json::{Map, Value, json};

use crate::build::Made;
use crate::case::Case;

/// Pressure of the standard atmosphere [Pa]. Source: ISO 2533.
const ATMOSPHERE: f64 = 101_325.0;

/// The result as JSON.
pub(crate) fn result(
    case: &Case,
    made: &Made,
    outcome: &Outcome,
    seconds: Option<f64>,
    warm: Option<f64>,
) -> Value {
    let mut told = match outcome {
        Outcome::Solved(state) => solved(case, made, state),
        Outcome::NoSteadyState(why) => json!({ "status": "no_steady_state", "why": why }),
        Outcome::Unsolvable(why) => json!({ "status": "unsolvable", "why": why }),
        Outcome::TooHot(t) => json!({
            "status": "unsolvable",
            "why": format!("the water would be at {t:.0} °C, over all at which its properties are known"),
        }),
        Outcome::Unmeasured(unknown) => json!({ "status": "unsolvable", "why": unknown.why }),
    };
    if let (Some(seconds), Some(object)) = (seconds, told.as_object_mut()) {
        object.insert("seconds_median".into(), json!(seconds));
    }
    if let (Some(seconds), Some(object)) = (warm, told.as_object_mut()) {
        object.insert("seconds_median_warm".into(), json!(seconds));
    }
    told
}

/// Boiling temperature [°C] of the coolant under a gauge pressure [Pa].
fn boils(glycol: Option<(Glycol, MassFraction)>, gauge: f64) -> Option<f64> {
    let under = AbsolutePressure::from_si(gauge + ATMOSPHERE)?;
    let at = match glycol {
        Some((glycol, mass)) => media::boils_at(glycol, mass, under).ok()?.value,
        None => water::boiling_temperature(under).ok()?,
    };
    Some(at.to_celsius())
}

fn solved(case: &Case, made: &Made, state: &State) -> Value {
    let heat = case.isothermal_C.is_none();
    let nodes: Map<String, Value> = made
        .nodes
        .iter()
        .enumerate()
        .map(|(i, name)| {
            let p = state.pressures[i];
            let row = json!({
                "p_gauge_Pa": p,
                "T_C": state.temperatures[i],
                "T_boil_C": p.and_then(|p| boils(made.glycol, p)),
            });
            (name.clone(), row)
        })
        .collect();
    let branches: Map<String, Value> = case
        .branches
        .iter()
        .zip(&state.runs)
        .map(|(row, run)| {
            let told = json!({
                "m_kg_s": run.flow,
                "T_in_C": run.t_in,
                "T_out_C": run.t_out,
                "dp_loss_Pa": run.loss,
            });
            (row.id.clone(), told)
        })
        .collect();
    json!({
        "status": "solved",
        "why": "",
        "nodes": nodes,
        "branches": branches,
        "thermostat_lift": (heat && case.thermostat.is_some()).then_some(state.lift),
        "steps": state.steps,
        "closure": { "mass": state.closure[0], "heat": state.closure[1] },
    })
}
