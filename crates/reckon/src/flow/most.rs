//! The other way round: the warmest sea, the greatest power, the smallest cooler, and the speed at which the
//! hull's pressure turns.

use std::cell::RefCell;
use std::thread::ScopedJoinHandle;

use super::draw::Drawn;
use super::heat::Law;
use super::state::{Put, outlet, put};
use crate::solve::net::{self, Kept, Outcome, State};
use crate::stages::flow::HullRow;

/// Temperatures of the sea for which the greatest power is told [°C].
const SEAS: [f64; 4] = [5.0, 15.0, 25.0, 32.0];
/// How near a temperature is found [K].
const NEAR: f64 = 0.15;
/// How far the balances are settled while searching, a share of the greatest.
const ENOUGH: f64 = 1e-4;
/// Stands for an outlet that is too hot for any answer [K over the limit].
const BOILS: f64 = 50.0;

/// A state of which the other way round is asked.
pub(super) struct Back {
    /// Its place among the states.
    pub(super) row: usize,
    pub(super) to: Put,
    /// The circuit in it, or in a state like it.
    pub(super) near: State,
    /// The coolant at the engine's outlet and in the first cooler [°C]; `None` where she never comes to rest.
    pub(super) now: Option<(f64, f64)>,
    /// Whether the warmest sea and the smallest cooler are asked as well,
    pub(super) most: bool,
    /// ... and the greatest power.
    pub(super) power: bool,
    pub(super) law: Law,
}

/// What is found the other way round.
#[derive(Default)]
pub(super) struct Found {
    pub(super) reserve: Option<f64>,
    pub(super) sea: Option<f64>,
    pub(super) smallest: Option<f64>,
    pub(super) power: Vec<(f64, Option<f64>)>,
    /// A search did not end: what it was for is not known.
    pub(super) lost: bool,
}

/// Searches the other way round from several states, all at once beside some other work.
pub(super) fn beside<T>(
    drawn: &Drawn,
    back: &[Back],
    limit: f64,
    other: impl FnOnce() -> T,
) -> (T, Vec<Found>) {
    std::thread::scope(|scope| {
        let under_way: Vec<_> = back
            .iter()
            .map(|asked| {
                let powers = (asked.power).then(|| scope.spawn(|| powers(drawn, asked, limit)));
                (scope.spawn(|| backward(drawn, asked, limit)), powers)
            })
            .collect();
        let other = other();
        let found = under_way.into_iter().map(|(own, powers)| {
            let found = joined(own);
            match powers.map(joined) {
                Some((power, lost)) => Found {
                    power,
                    lost: found.lost || lost,
                    ..found
                },
                None => found,
            }
        });
        (other, found.collect())
    })
}

/// What a thread found; its panic is the asker's.
fn joined<T>(thread: ScopedJoinHandle<'_, T>) -> T {
    match thread.join() {
        Ok(found) => found,
        Err(defect) => std::panic::resume_unwind(defect),
    }
}

/// Searches by the outlet: reserve of the thermostat, heat up to the limit, warmest sea, smallest cooler. Heat
/// goes near enough with how much warmer the coolant is than the sea, which gives each its guess.
fn backward(drawn: &Drawn, asked: &Back, limit: f64) -> Found {
    let circuit = &Circuit::of(drawn);
    let mut found = Found::default();
    let (to, near) = (&asked.to, &asked.near);
    if let Some((now, cooled)) = asked.now {
        // What all the searches begin with where the thermostat is wide open at the limit.
        let wide = Put { wide: true, ..*to };
        let (wide, near) = &match circuit.out(&wide, near) {
            Asked::At(t, state) => (t, state),
            Asked::Boils | Asked::Unknown => (now, near.clone()),
        };
        let begin = Begin {
            to,
            near,
            now,
            wide: *wide,
        };
        let over_sea = |t: f64| (t - to.sea).max(1.0);
        let full = drawn.net.stat.map(|stat| stat.full);
        found.reserve = full.and_then(|full| {
            let guess = over_sea(full) / over_sea(cooled);
            heat(circuit, &begin, full, guess).unwrap_or(None)
        });
        if asked.most {
            // By how much the heat may grow up to the limit, as a guess for the other two.
            let times = match (found.reserve, full) {
                (Some(reserve), Some(full)) => reserve * over_sea(limit) / over_sea(full),
                _ => over_sea(limit) / over_sea(now),
            };
            let sea = sea(circuit, &begin, limit, times);
            let smallest = surface(circuit, &begin, limit, times);
            found.lost = sea.is_err() || smallest.is_err();
            found.sea = sea.unwrap_or(None);
            found.smallest = smallest.unwrap_or(None);
        }
    }
    found
}

/// The greatest power at each temperature of the sea for which it is told, and whether a search was lost.
fn powers(drawn: &Drawn, asked: &Back, limit: f64) -> (Vec<(f64, Option<f64>)>, bool) {
    let circuit = &Circuit::of(drawn);
    let mut near = asked.near.clone();
    let (mut found, mut lost) = (Vec::new(), false);
    for sea in SEAS {
        let to = Put { sea, ..asked.to };
        match power(circuit, &to, &mut near, limit, &asked.law) {
            Ok(own) => found.push((sea, own)),
            Err(Lost) => lost = true,
        }
    }
    (found, lost)
}

/// Outlet temperature with something put to the circuit, from a like state.
enum Asked {
    /// So warm [°C], and the state.
    At(f64, State),
    /// It boils first, or never comes to rest.
    Boils,
    /// The search for it did not end, or a formula does not reach as far.
    Unknown,
}

/// A circuit that is asked about many times, with what its answers share.
struct Circuit<'a> {
    drawn: &'a Drawn,
    kept: RefCell<Kept>,
}

impl<'a> Circuit<'a> {
    fn of(drawn: &'a Drawn) -> Self {
        Self {
            drawn,
            kept: RefCell::default(),
        }
    }

    fn out(&self, to: &Put, near: &State) -> Asked {
        let net = put(self.drawn, to);
        match net::solve_to(&net, Some(near), ENOUGH, &mut self.kept.borrow_mut()) {
            Outcome::Solved(state) => match outlet(self.drawn, &net, &state) {
                Some(t) => Asked::At(t, *state),
                None => Asked::Unknown,
            },
            Outcome::TooHot(_) | Outcome::NoSteadyState(_) => Asked::Boils,
            Outcome::Unsolvable(_) | Outcome::Unmeasured(_) => Asked::Unknown,
        }
    }
}

/// A search for where the outlet comes to a limit, from one point that is known.
struct Search<'a> {
    circuit: &'a Circuit<'a>,
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
        let over = match self.circuit.out(to, &self.near) {
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

fn search<'a>(circuit: &'a Circuit<'a>, near: &State, limit: f64, falls: bool) -> Search<'a> {
    Search {
        circuit,
        near: near.clone(),
        limit,
        falls,
        wide: circuit.drawn.net.stat.is_none_or(|stat| limit >= stat.full),
    }
}

/// What a search begins with: a state, the outlet in it [°C], and what that were with the thermostat wide open.
struct Begin<'a> {
    to: &'a Put,
    near: &'a State,
    now: f64,
    wide: f64,
}

impl Begin<'_> {
    /// How far the outlet lies over the limit of a search [K].
    fn over(&self, search: &Search) -> f64 {
        let t = if search.wide { self.wide } else { self.now };
        t - search.limit
    }
}

/// The warmest sea [°C] from 0 to 60 °C at which the outlet stays at a limit or under; `times` by how much the
/// heat may grow there.
fn sea(circuit: &Circuit<'_>, begin: &Begin, limit: f64, times: f64) -> Result<Option<f64>, Lost> {
    let now = begin.to.sea;
    let at = |sea: f64| Put { sea, ..*begin.to };
    let mut search = search(circuit, begin.near, limit, false);
    let over = begin.over(&search);
    let guess = limit - (limit - now) / times;
    if over > 0.0 {
        return search.meet((now, over), guess, 0.0, at);
    }
    let met = search.meet((now, over), guess, 60.0, at)?;
    Ok(Some(met.unwrap_or(60.0)))
}

/// By how much the heat may grow before the outlet comes to a limit, from a hundredth to 20 times; `guess` is
/// what it may be.
fn heat(circuit: &Circuit<'_>, begin: &Begin, limit: f64, guess: f64) -> Result<Option<f64>, Lost> {
    let to = begin.to;
    let at = |times: f64| Put {
        heat: to.heat * times,
        gearbox: to.gearbox * times,
        ..*to
    };
    let mut search = search(circuit, begin.near, limit, false);
    let over = begin.over(&search);
    if over > 0.0 {
        return search.meet((1.0, over), guess, 0.01, at);
    }
    let met = search.meet((1.0, over), guess, 20.0, at)?;
    Ok(Some(met.unwrap_or(20.0)))
}

/// The greatest power [W] up to the rated one at which the outlet stays at a limit or under, with the greatest
/// heat that such power may bring; `None` where even idling is too much. `near` is any state of the circuit,
/// and becomes one near what is found.
fn power(
    circuit: &Circuit<'_>,
    to: &Put,
    near: &mut State,
    limit: f64,
    law: &Law,
) -> Result<Option<f64>, Lost> {
    let by_raw = to.gearbox == 0.0;
    let at = |power: f64| Put {
        heat: law.heat(power).high,
        gearbox: if by_raw { 0.0 } else { law.gearbox(power) },
        ..*to
    };
    let mut search = search(circuit, near, limit, false);
    let full = search.ask(&at(law.rated))?;
    if full <= 0.0 {
        *near = search.near;
        return Ok(Some(law.rated));
    }
    let share = if full < BOILS {
        (limit - to.sea) / (limit + full - to.sea)
    } else {
        0.5
    };
    let guess = law.power(share.max(0.0) * law.heat(law.rated).high);
    let met = search.meet((law.rated, full), guess, 0.0, at)?;
    *near = search.near;
    Ok(met)
}

/// The smallest share of the coolers' surface that would do, down to a twentieth; `None` where ten times as
/// much would not.
fn surface(
    circuit: &Circuit<'_>,
    begin: &Begin,
    limit: f64,
    times: f64,
) -> Result<Option<f64>, Lost> {
    let at = |surface: f64| Put {
        surface,
        ..*begin.to
    };
    let mut search = search(circuit, begin.near, limit, true);
    let over = -begin.over(&search);
    let guess = times.powf(-1.2);
    if over < 0.0 {
        return search.meet((1.0, over), guess, 10.0, at);
    }
    let met = search.meet((1.0, over), guess, 0.05, at)?;
    Ok(Some(met.unwrap_or(0.05)))
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
