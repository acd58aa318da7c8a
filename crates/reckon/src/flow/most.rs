//! The other way round: the warmest sea, the greatest power, the smallest cooler, and the speed at which the
//! hull's pressure turns.

use super::draw::Drawn;
use super::heat::Law;
use super::state::{Put, outlet, put};
use crate::solve::net::{self, Outcome, State};
use crate::stages::flow::HullRow;

/// How near a temperature is found [K].
const NEAR: f64 = 0.15;
/// How far the balances are settled while searching, a share of the greatest.
const ENOUGH: f64 = 1e-4;
/// Stands for an outlet that is too hot for any answer [K over the limit].
const BOILS: f64 = 50.0;

/// Outlet temperature with something put to the circuit, from a like state.
enum Asked {
    /// So warm [°C], and the state.
    At(f64, State),
    /// It boils first, or never comes to rest.
    Boils,
    /// The search for it did not end, or a formula does not reach as far.
    Unknown,
}

fn out(drawn: &Drawn, to: &Put, near: &State) -> Asked {
    let net = put(drawn, to);
    match net::solve_to(&net, Some(near), ENOUGH) {
        Outcome::Solved(state) => match outlet(drawn, &net, &state) {
            Some(t) => Asked::At(t, *state),
            None => Asked::Unknown,
        },
        Outcome::TooHot(_) | Outcome::NoSteadyState(_) => Asked::Boils,
        Outcome::Unsolvable(_) | Outcome::Unmeasured(_) => Asked::Unknown,
    }
}

/// A search for where the outlet comes to a limit, from one point that is known.
struct Search<'a> {
    drawn: &'a Drawn,
    near: State,
    limit: f64,
    /// Whether the outlet falls as the number grows.
    falls: bool,
    /// At the limit the thermostat is wide open; held so all the way, the outlet goes almost straight with heat
    /// and sea, and the limit is met at the same place.
    wide: bool,
}

/// A number and how far the outlet lies over the limit there.
type At = (f64, f64);

/// The search was lost on its way: nobody knows where the limit is met.
struct Lost;

impl Search<'_> {
    /// How far the outlet lies over the limit [K], turned where it falls; too hot where the water would boil.
    fn ask(&mut self, to: &Put) -> Result<f64, Lost> {
        let to = &Put {
            wide: self.wide,
            ..*to
        };
        let over = match out(self.drawn, to, &self.near) {
            Asked::At(t, state) => {
                self.near = state;
                t - self.limit
            }
            Asked::Boils => BOILS,
            Asked::Unknown => return Err(Lost),
        };
        Ok(if self.falls { -over } else { over })
    }

    /// The number at which the outlet comes to the limit, from one that is known by way of a guess, as far as
    /// `far`; `None` where it does not come to it on the way.
    fn meet(
        &mut self,
        known: At,
        guess: f64,
        far: f64,
        at: impl Fn(f64) -> Put,
    ) -> Result<Option<f64>, Lost> {
        let (least, most) = (known.0.min(far), known.0.max(far));
        let mut known = known;
        if self.wide {
            known.1 = self.ask(&at(known.0))?;
        }
        let (mut before, mut x) = (known, guess.clamp(least, most));
        for _ in 0..6 {
            let y = self.ask(&at(x))?;
            if y.abs() < NEAR {
                return Ok(Some(x));
            }
            if y * known.1 < 0.0 {
                return self.close_in(before, (x, y), &at).map(Some);
            }
            if x == far {
                return Ok(None);
            }
            // Farther along the line through the last two, and by a tenth of the way at least.
            let slope = (y - before.1) / (x - before.0);
            let tenth = x + 0.1 * (far - x);
            let line = x - 1.1 * y / slope;
            let beyond = (line - tenth) * (far - known.0) > 0.0;
            before = (x, y);
            x = if slope.is_finite() && beyond {
                line
            } else {
                tenth
            };
            x = x.clamp(least, most);
        }
        let y = self.ask(&at(far))?;
        if y * known.1 < 0.0 {
            return self.close_in(before, (far, y), &at).map(Some);
        }
        Ok(None)
    }

    /// Between two numbers of which one lies over the limit and one under.
    fn close_in(
        &mut self,
        mut one: At,
        mut other: At,
        at: &impl Fn(f64) -> Put,
    ) -> Result<f64, Lost> {
        for step in 0..24 {
            // Regula falsi with the end that stays counted half; bisection where an end is only known to boil.
            let blind = one.1.abs() >= BOILS || other.1.abs() >= BOILS;
            let x = if blind && step % 2 == 0 {
                0.5 * (one.0 + other.0)
            } else {
                (one.0 * other.1 - other.0 * one.1) / (other.1 - one.1)
            };
            let y = self.ask(&at(x))?;
            if y.abs() < NEAR || (one.0 - other.0).abs() < 1e-4 {
                return Ok(x);
            }
            if y * other.1 < 0.0 {
                (one, other) = (other, (x, y));
            } else {
                one.1 *= 0.5;
                other = (x, y);
            }
        }
        Ok(other.0)
    }
}

fn search<'a>(drawn: &'a Drawn, near: &State, limit: f64, falls: bool) -> Search<'a> {
    Search {
        drawn,
        near: near.clone(),
        limit,
        falls,
        wide: drawn.net.stat.is_none_or(|stat| limit >= stat.full),
    }
}

/// The warmest sea [°C] from 0 to 60 °C at which the outlet stays at a limit or under; `now` is the outlet at
/// the sea as it is, `times` by how much the heat may grow there.
pub(super) fn sea(
    drawn: &Drawn,
    to: &Put,
    near: &State,
    (now, limit): (f64, f64),
    times: f64,
) -> Option<f64> {
    let at = |sea: f64| Put { sea, ..*to };
    let mut search = search(drawn, near, limit, false);
    let over = now - limit;
    let guess = limit - (limit - to.sea) / times;
    if over > 0.0 {
        return search.meet((to.sea, over), guess, 0.0, at).ok().flatten();
    }
    let met = search.meet((to.sea, over), guess, 60.0, at).ok()?;
    Some(met.unwrap_or(60.0))
}

/// By how much the heat may grow before the outlet comes to a limit, from a hundredth to 20 times; `now` is the
/// outlet with the heat as it is, and `guess` what it may be.
pub(super) fn heat(
    drawn: &Drawn,
    to: &Put,
    near: &State,
    (now, limit): (f64, f64),
    guess: f64,
) -> Option<f64> {
    let at = |times: f64| Put {
        heat: to.heat * times,
        gearbox: to.gearbox * times,
        ..*to
    };
    let mut search = search(drawn, near, limit, false);
    let over = now - limit;
    if over > 0.0 {
        return search.meet((1.0, over), guess, 0.01, at).ok().flatten();
    }
    let met = search.meet((1.0, over), guess, 20.0, at).ok()?;
    Some(met.unwrap_or(20.0))
}

/// The greatest power [W] up to the rated one at which the outlet stays at a limit or under; `None` where even
/// idling is too much. `near` is any state of the circuit.
pub(super) fn power(drawn: &Drawn, to: &Put, near: &State, limit: f64, law: &Law) -> Option<f64> {
    let by_raw = to.gearbox == 0.0;
    let at = |power: f64| Put {
        heat: law.heat(power).mid,
        gearbox: if by_raw { 0.0 } else { law.gearbox(power) },
        ..*to
    };
    let mut search = search(drawn, near, limit, false);
    let idle = search.ask(&at(0.0)).ok()?;
    if idle > 0.0 {
        return None;
    }
    let full = search.ask(&at(law.rated)).ok()?;
    if full <= 0.0 {
        return Some(law.rated);
    }
    search.close_in((0.0, idle), (law.rated, full), &at).ok()
}

/// The smallest share of the coolers' surface that would do, down to a twentieth; `None` where ten times as
/// much would not. `now` is the outlet with the surface as it is.
pub(super) fn surface(
    drawn: &Drawn,
    to: &Put,
    near: &State,
    (now, limit): (f64, f64),
    times: f64,
) -> Option<f64> {
    let at = |surface: f64| Put { surface, ..*to };
    let mut search = search(drawn, near, limit, true);
    let over = limit - now;
    let guess = times.powf(-1.2);
    if over < 0.0 {
        return search.meet((1.0, over), guess, 10.0, at).ok().flatten();
    }
    let met = search.meet((1.0, over), guess, 0.05, at).ok()?;
    Some(met.unwrap_or(0.05))
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
