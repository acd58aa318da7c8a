//! What a state says of the coolers and of the way along a branch, part by part.

use reference::Unknown;

use super::cooler::Report;
use super::walk::TRICKLE;
use super::{Network, Part, Run, State};

/// What every cooler does in a state.
pub(super) fn coolers(
    network: &Network,
    state: &State,
) -> Result<Vec<(usize, usize, Report)>, Unknown> {
    let mut out = Vec::new();
    each(network, state, |b, p, part, run| {
        if let Part::Cooler(cooler) = part {
            let flow = run.flow.abs().max(TRICKLE);
            let (_, _, mut report) = cooler.heat(&network.medium, flow, run.t_in, &mut None)?;
            report.temperatures = [run.t_in, run.t_out];
            out.push((b, p, report));
        }
        Ok(())
    })?;
    Ok(out)
}

/// What each part of a branch takes [Pa], and the temperature before and after it [°C].
pub(super) fn along(
    network: &Network,
    state: &State,
    branch: usize,
) -> Result<Vec<[f64; 3]>, Unknown> {
    let own = &network.branches[branch];
    let mut out = vec![[0.0; 3]; own.parts.len()];
    each(network, state, |b, p, part, run| {
        if b == branch {
            let props = network.medium.at(0.5 * (run.t_in + run.t_out));
            let loss = part.loss(network.law, run.flow, &props, state.lift)?.drop;
            out[p] = [loss, run.t_in, run.t_out];
        }
        Ok(())
    })?;
    Ok(out)
}

/// Goes through every part that water runs through, with its own inlet and outlet.
fn each(
    network: &Network,
    state: &State,
    mut look: impl FnMut(usize, usize, &Part, Run) -> Result<(), Unknown>,
) -> Result<(), Unknown> {
    let medium = &network.medium;
    for (b, own) in network.branches.iter().enumerate() {
        let run = state.runs[b];
        let ahead = run.flow >= 0.0;
        let flow = (run.flow * run.flow + TRICKLE * TRICKLE).sqrt();
        let mut t = run.t_in;
        for step in 0..own.parts.len() {
            let at = if ahead {
                step
            } else {
                own.parts.len() - 1 - step
            };
            let part = &own.parts[at];
            let heat = match part {
                Part::Cooler(cooler) => -cooler.heat(medium, flow, t, &mut None)?.0,
                _ => part.heat(),
            };
            let out = if heat != 0.0 && network.isothermal.is_none() {
                medium.temperature(medium.enthalpy(t) + heat / flow, t)
            } else {
                t
            };
            let own = Run {
                flow: run.flow,
                t_in: t,
                t_out: out,
                loss: 0.0,
            };
            look(b, at, part, own)?;
            t = out;
        }
    }
    Ok(())
}
