//! States in which no raw water comes to the exchanger: why none comes, and how long the coolant has then.

use boat::{Key, KeyPath};
use quantity::{HeatCapacity, HeatPerKelvin, Power, Quantity, Temperature};
use reference::lumped;

use super::draw::Drawn;
use super::heat::Asked;
use super::raw::{self, Runs};
use super::state::{Coolant, Put};
use crate::solve::net::{self, GRAVITY, Medium, State};
use crate::stages::circuit::plan::Plan;
use crate::stages::circuit::rules::cools_exhaust;
use crate::stages::flow::{Came, Dry, Uncooled};

/// Outlet of an engine without a thermostat, where nothing else tells it [°C]. Common practice, no source.
const WARM: f64 = 80.0;

/// Whether a circuit has an exchanger, to which raw water has to come.
pub(super) fn wants_raw(drawn: &Drawn) -> bool {
    drawn.sinks.iter().any(|sink| {
        let part = &drawn.net.branches[sink.branch].parts[sink.part];
        matches!(part, net::Part::Cooler(cooler) if matches!(cooler.gives, net::Gives::Raw(..)))
    })
}

/// Why the exchanger gets no raw water in a state, and from where the coolant warms then; `None` where it gets
/// some or wants none. `solve` solves the state with a flow of raw water [m³/s].
pub(super) fn of(
    plan: &Plan,
    drawn: &Drawn,
    asked: &Asked,
    runs: Runs,
    coolant: Coolant,
    solve: impl Fn(f64) -> Result<(Came, Put, State), Came>,
) -> Option<Dry> {
    if runs.flow > 0.0 || !wants_raw(drawn) {
        return None;
    }
    let (why, place, shut) = reason(plan, asked, runs);
    // The water fails while she runs: what it cools to is where she begins.
    let told = asked.raw.filter(|flow| *flow > 0.0);
    let supposed = told.or(runs.gives.filter(|flow| *flow > 0.0));
    let with = supposed.and_then(|flow| solve(flow).ok());
    let figures = with.as_ref().and_then(|(came, _, _)| came.steady());
    let begins = figures.map_or_else(
        || drawn.net.stat.map_or(WARM, |stat| stat.full),
        |figures| figures.out.high,
    );
    let hottest = figures.and_then(|figures| figures.hottest.as_ref());
    let boils = hottest.map(|(_, _, open, _)| *open).or_else(|| {
        let over = drawn.surface - drawn.out_height.unwrap_or(drawn.surface);
        coolant.boils(drawn.net.column * GRAVITY * over)
    });
    Some(Dry {
        why,
        place,
        shut,
        exhaust: cools_exhaust(plan),
        begins,
        boils,
        uncooled: None,
    })
}

/// Why none comes, the value of the file that tells it, and the valves to blame.
fn reason(plan: &Plan, asked: &Asked, runs: Runs) -> (String, KeyPath, Vec<Key>) {
    let none = Vec::new();
    if raw::reaches(plan) {
        return if runs.bucket {
            let place = format!("states.{}.raw", boat::key_text(&asked.key));
            let why = format!("the file has no raw water in {}", asked.key);
            (why, place, none)
        } else {
            let why = "the raw-water pump gives nothing".to_owned();
            (why, "things".into(), none)
        };
    }
    let shut = plan.shut_in_the_way(raw::reaches);
    if shut.is_empty() {
        let why = "no way leads from the sea to the exchanger".to_owned();
        return (why, "runs".into(), none);
    }
    let place = plan.facts.name.map_or_else(
        || "runs".to_owned(),
        |name| format!("arrangements.{}.shut", boat::key_text(name)),
    );
    let verb = if shut.len() == 1 { "is" } else { "are" };
    let why = format!("{} {verb} shut", crate::say::list(&shut, "and"));
    (why, place, shut)
}

/// How long so much coolant [m³] takes from one temperature to another [°C] while no cooler takes heat [W];
/// `None` where it does not get there.
fn time(medium: &Medium, volume: f64, heat: f64, from: f64, to: f64) -> Option<f64> {
    let props = medium.at(from);
    let held = HeatCapacity::from_si(volume * props.density * props.heat)?;
    let heat = Power::from_si(heat)?;
    let nothing = HeatPerKelvin::from_si(0.0)?;
    let [from, to] = [from, to].map(Temperature::celsius);
    let time = lumped::time_to(held, heat, nothing, from, from, to).ok()?;
    time.map(|time| time.si())
}

/// How long the coolant [m³] has from a temperature [°C] when no cooler takes heat [W] any more.
pub(super) fn uncooled(
    (begins, boils): (f64, Option<f64>),
    medium: &Medium,
    volume: f64,
    heat: f64,
    alarm: Option<f64>,
) -> Uncooled {
    let until = |t: f64| time(medium, volume, heat, begins, t);
    Uncooled {
        alarm: alarm.and_then(until),
        boils: boils.and_then(until),
    }
}

/// The same for a state without raw water: where it is there already it has no time at all.
pub(super) fn left(
    dry: &Dry,
    medium: &Medium,
    volume: f64,
    heat: f64,
    alarm: Option<f64>,
) -> Uncooled {
    let until = |t: f64| {
        if t <= dry.begins {
            Some(0.0)
        } else {
            time(medium, volume, heat, dry.begins, t)
        }
    };
    Uncooled {
        alarm: alarm.and_then(until),
        boils: dry.boils.and_then(until),
    }
}
