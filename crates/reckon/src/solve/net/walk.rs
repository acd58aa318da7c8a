//! One branch, gone through with the water: what it takes of the pressure and what the water gains on the way.

use reference::Unknown;

use super::part::Taken;
use super::{Network, Part};

/// A flow under which heat counts as carried by this much [kg/s].
pub(super) const TRICKLE: f64 = 1e-6;

/// What one branch does at its present flow.
pub(super) struct Walk {
    /// Loss [Pa], and by flow, temperature upstream and lift.
    pub(super) loss: [f64; 4],
    /// Enthalpy where the water goes out [J/kg], and by flow and temperature upstream.
    pub(super) out: [f64; 3],
    /// What a kilogram gains on the way [J/kg].
    pub(super) gained: f64,
    pub(super) t_out: f64,
}

/// Water on its way through a branch.
struct Warm {
    /// Its temperature [°C].
    t: f64,
    /// How that goes with the flow of the branch and the temperature upstream.
    by: [f64; 2],
}

/// Adds what is taken to a loss and its slopes by flow, temperature upstream and lift; `slopes` are those of
/// density and viscosity by the temperature there, which goes with the first two by `by`.
fn add(loss: &mut [f64; 4], taken: &Taken, slopes: &[f64; 2], by: [f64; 2]) {
    let by_t = taken.by_density * slopes[0] + taken.by_viscosity * slopes[1];
    loss[0] += taken.drop;
    loss[1] += taken.by_flow + by_t * by[0];
    loss[2] += by_t * by[1];
    loss[3] += taken.by_lift;
}

/// Goes through branch `i` with a flow `m` [kg/s] of water that comes in at `t_up` [°C]; `near` holds where the
/// coolers in it stood the last time. Each figure on the way is kept with its slopes by the flow of the
/// branch and by the temperature upstream.
pub(super) fn walk(
    net: &Network,
    i: usize,
    m: f64,
    t_up: f64,
    lift: f64,
    near: &mut [Option<[f64; 2]>],
) -> Result<Walk, Unknown> {
    let own = &net.branches[i];
    let ahead = m >= 0.0;
    let medium = &net.medium;
    let carried = (m * m + TRICKLE * TRICKLE).sqrt();
    let by_m = m / carried;
    let mut t = Warm {
        t: t_up,
        by: [0.0, 1.0],
    };
    let begins = medium.enthalpy(t.t);
    let mut h = begins;
    let mut loss = [0.0; 4];
    let mut there = medium.with_slopes(t.t);
    let mut run = Taken::default();
    let count = own.parts.len();
    for step in 0..count {
        let at = if ahead { step } else { count - 1 - step };
        let part = &own.parts[at];
        let given = match part {
            Part::Cooler(cooler) => {
                let near = &mut near[at];
                let (q, [by_flow, by_t], _) = cooler.heat(medium, carried, t.t, near)?;
                Some((-q, -by_flow, -by_t))
            }
            _ => {
                let heat = part.heat();
                (heat != 0.0).then_some((heat, 0.0, 0.0))
            }
        };
        let Some((q, by_flow, by_t)) = given.filter(|_| net.isothermal.is_none()) else {
            run += part.loss(net.law, m, &there.0, lift)?;
            continue;
        };
        add(&mut loss, &run, &there.1, t.by);
        // What a kilogram gains, and by flow and temperature.
        let gained = q / carried;
        let more = [
            ((by_flow - gained) * by_m + by_t * t.by[0]) / carried,
            by_t * t.by[1] / carried,
        ];
        let heat = there.0.heat;
        h += gained;
        let out = medium.temperature(h, t.t + gained / heat);
        let after = medium.with_slopes(out);
        let by = [0, 1].map(|k| (heat * t.by[k] + more[k]) / after.0.heat);
        let mean = medium.with_slopes(0.5 * (t.t + out));
        let between = [0, 1].map(|k| 0.5 * (t.by[k] + by[k]));
        let taken = part.loss(net.law, m, &mean.0, lift)?;
        add(&mut loss, &taken, &mean.1, between);
        (t, there, run) = (Warm { t: out, by }, after, Taken::default());
    }
    add(&mut loss, &run, &there.1, t.by);
    let heat = there.0.heat;
    Ok(Walk {
        loss,
        out: [h, heat * t.by[0], heat * t.by[1]],
        gained: h - begins,
        t_out: t.t,
    })
}
