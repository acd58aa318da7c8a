//! The other way round: the warmest sea, the greatest power, the smallest cooler, and the speed at which the
//! hull's pressure turns.

use super::draw::Drawn;
use super::state::{Put, outlet, put};
use crate::solve::net::{self, Outcome, State};
use crate::stages::flow::HullRow;

/// How near a temperature is found [K].
const NEAR: f64 = 0.02;

/// Outlet temperature with something put to the circuit, from a like state.
fn out(drawn: &Drawn, to: &Put, near: &State) -> Option<(f64, State)> {
    let net = put(drawn, to);
    match net::solve(&net, Some(near)) {
        Outcome::Solved(state) => Some((outlet(drawn, &net, &state)?, *state)),
        _ => None,
    }
}

/// Finds where the outlet comes to a limit as a number grows from one end to another. The outlet must rise
/// with it, or fall with it where `falls`. `None` where the limit does not lie between.
fn meets(
    drawn: &Drawn,
    near: &State,
    limit: f64,
    ends: [f64; 2],
    falls: bool,
    at: impl Fn(f64) -> Put,
) -> Option<f64> {
    let sign = if falls { -1.0 } else { 1.0 };
    let mut near = near.clone();
    let mut ask = |x: f64| {
        let (t, state) = out(drawn, &at(x), &near)?;
        near = state;
        Some(sign * (t - limit))
    };
    let [mut low, mut high] = ends;
    // Where nothing settles it is too hot: the water would boil.
    let (mut below, mut above) = (ask(low).unwrap_or(sign * 50.0), ask(high).unwrap_or(sign * 50.0));
    if below > 0.0 || above < 0.0 {
        return None;
    }
    for _ in 0..24 {
        // Regula falsi, with the end that stays counted half, so that both close in.
        let x = (low * above - high * below) / (above - below);
        let y = ask(x).unwrap_or(50.0);
        if y.abs() < NEAR {
            return Some(x);
        }
        if y > 0.0 {
            (high, above) = (x, y);
            below *= 0.5;
        } else {
            (low, below) = (x, y);
            above *= 0.5;
        }
    }
    Some(0.5 * (low + high))
}

/// The warmest sea [°C] up to 60 °C at which the outlet stays at a limit or under.
pub(super) fn sea(drawn: &Drawn, to: &Put, near: &State, limit: f64) -> Option<f64> {
    let at = |sea: f64| Put { sea, ..*to };
    match out(drawn, &at(60.0), near) {
        Some((t, _)) if t <= limit => Some(60.0),
        _ => meets(drawn, near, limit, [0.0, 60.0], false, at),
    }
}

/// By how much the heat may grow before the outlet comes to a limit, up to 20 times.
pub(super) fn heat(drawn: &Drawn, to: &Put, near: &State, limit: f64) -> Option<f64> {
    let at = |times: f64| Put {
        heat: to.heat * times,
        gearbox: to.gearbox * times,
        ..*to
    };
    match out(drawn, &at(20.0), near) {
        Some((t, _)) if t <= limit => Some(20.0),
        _ => meets(drawn, near, limit, [0.01, 20.0], false, at),
    }
}

/// The smallest share of the coolers' surface that would do, down to a twentieth; `None` where ten times as
/// much would not.
pub(super) fn surface(drawn: &Drawn, to: &Put, near: &State, limit: f64) -> Option<f64> {
    let at = |surface: f64| Put { surface, ..*to };
    match out(drawn, &at(0.05), near) {
        Some((t, _)) if t <= limit => Some(0.05),
        _ => meets(drawn, near, limit, [0.05, 10.0], true, at),
    }
}

/// The speed [1/s] at which inside and outside are alike at a place of the hull, up to a greatest; `None`
/// where they never are. `inside` gives inside less outside by speed.
pub(super) fn turning(row: &HullRow, greatest: f64, inside: &[(f64, f64)]) -> Option<f64> {
    let mut before = (0.0, row.stopped);
    for (revs, over) in inside {
        if before.1 * over < 0.0 && *revs <= greatest * 1.0001 {
            // Losses go by the square of the speed, near enough between two that are near.
            let (a, b) = (before.0 * before.0, revs * revs);
            let square = a + (b - a) * before.1 / (before.1 - over);
            return Some(square.sqrt());
        }
        before = (*revs, *over);
    }
    None
}
