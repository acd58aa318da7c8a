//! One state of a drawn circuit: what is done to it, and the figures that come of it.

use std::sync::Arc;

use quantity::{AbsolutePressure, Quantity};
use reference::media::{self, Glycol, VolumeFraction};
use reference::water;

use super::draw::{Drawn, Spot};
use super::heat::Asked;
use crate::solve::net::{self, Gives, Network, Outcome, Part, Report, State};
use crate::stages::flow::{Came, CoolerRow, Figures, ItemRow, Missing, PlaceRow, Span};
use crate::verdict::Settles;

/// Pressure of the standard atmosphere [Pa]. Source: ISO 2533.
pub(super) const ATMOSPHERE: f64 = 101_325.0;

/// The coolant that is reckoned with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Coolant {
    Water,
    Mix(Glycol, VolumeFraction),
}

impl Coolant {
    /// Where it boils [°C] under a pressure over the atmosphere [Pa].
    pub(super) fn boils(self, gauge: f64) -> Option<f64> {
        let under = AbsolutePressure::from_si(gauge + ATMOSPHERE)?;
        let at = match self {
            Self::Water => water::boiling_temperature(under).ok()?,
            Self::Mix(glycol, share) => media::boils_at(glycol, share, under).ok()?.value,
        };
        Some(at.to_celsius())
    }

    /// The absolute pressure at which it boils at a temperature [°C].
    pub(super) fn vapour(self, at: f64) -> Option<f64> {
        let at = quantity::Temperature::celsius(at);
        Some(match self {
            Self::Water => water::boiling_pressure(at).ok()?.si(),
            Self::Mix(glycol, share) => media::vapour_pressure(glycol, share, at).ok()?.value.si(),
        })
    }
}

/// What is done to the network.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Put {
    pub(super) revs: f64,
    pub(super) heat: f64,
    pub(super) gearbox: f64,
    pub(super) sea: f64,
    pub(super) speed: f64,
    /// Raw water [kg/s] and how much warmer than the sea it comes [K].
    pub(super) raw: Option<(f64, f64)>,
    /// Surface of the coolers over what it is.
    pub(super) surface: f64,
}

/// The network as a state has it.
pub(super) fn put(drawn: &Drawn, to: &Put) -> Network {
    let mut net = drawn.net.clone();
    for (b, p, per_turn) in &drawn.pumps {
        if let Part::Pump(pump) = &mut net.branches[*b].parts[*p]
            && *per_turn > 0.0
        {
            pump.ratio = per_turn * to.revs;
        }
    }
    for (at, watts) in [(drawn.engine, to.heat), (drawn.gearbox, to.gearbox)] {
        if let Some((b, p)) = at
            && let Part::Rated { heat, .. } = &mut net.branches[b].parts[p]
        {
            *heat = watts;
        }
    }
    for sink in &drawn.sinks {
        let Part::Cooler(cooler) = &mut net.branches[sink.branch].parts[sink.part] else {
            continue;
        };
        match &mut cooler.gives {
            Gives::Sea(surface) => {
                surface.sea.temperature = to.sea;
                surface.sea.speed = to.speed * sink.sees;
                surface.inside *= to.surface;
                surface.outside *= to.surface;
                surface.wall /= to.surface;
            }
            Gives::Raw(_, ua, raw) => {
                if let Some((flow, warmer)) = to.raw {
                    raw.flow = flow;
                    raw.temperature = to.sea + warmer;
                }
                match ua {
                    net::Ua::Told(ua) => *ua *= to.surface,
                    net::Ua::Tubes(tubes) => tubes.count *= to.surface,
                }
            }
            Gives::Sink { .. } => {}
        }
    }
    net
}

/// Temperature at a spot of a state [°C].
fn temperature(net: &Network, state: &State, along: &[Vec<[f64; 3]>], spot: Spot) -> f64 {
    match spot {
        Spot::Node(node) => state.temperatures[node],
        Spot::Within(b, after) => {
            let run = state.runs[b];
            let parts = &along[b];
            if run.flow >= 0.0 {
                after.checked_sub(1).map_or(run.t_in, |before| {
                    parts.get(before).map_or(run.t_in, |own| own[2])
                })
            } else {
                let _ = net;
                parts.get(after).map_or(run.t_in, |own| own[2])
            }
        }
    }
}

/// Outlet, return and mixed temperature, and lift of a state.
pub(super) fn ends(drawn: &Drawn, net: &Network, state: &State) -> Option<[f64; 4]> {
    let along = all_along(net, state).ok()?;
    Some([
        temperature(net, state, &along, drawn.out),
        temperature(net, state, &along, drawn.back),
        temperature(net, state, &along, drawn.suction.0),
        state.lift,
    ])
}

/// The temperature of the coolant out of the engine, quickly.
pub(super) fn outlet(drawn: &Drawn, net: &Network, state: &State) -> Option<f64> {
    match drawn.out {
        Spot::Node(node) => Some(state.temperatures[node]),
        Spot::Within(..) => ends(drawn, net, state).map(|ends| ends[0]),
    }
}

fn all_along(net: &Network, state: &State) -> Result<Vec<Vec<[f64; 3]>>, reference::Unknown> {
    (0..net.branches.len())
        .map(|b| net::along(net, state, b))
        .collect()
}

/// What came of a state that has no answer.
pub(super) fn without(outcome: Outcome, engine: &str) -> Came {
    match outcome {
        Outcome::Solved(_) => Came::Unsolvable("the state was solved".into()),
        Outcome::NoSteadyState(why) => Came::NoSteadyState(why),
        Outcome::Unsolvable(why) => Came::Unsolvable(why),
        Outcome::TooHot(t) => Came::NoSteadyState(format!(
            "the coolers shed the heat only once the coolant stands at some {:.0} °C, and it boils before that",
            (t / 10.0).round() * 10.0
        )),
        Outcome::Unmeasured(unknown) => Came::Unmeasured(Missing {
            why: crate::say::capital(&format!("{}.", unknown.why)),
            settles: Settles {
                place: engine.into(),
                how: crate::say::capital(&format!("{}.", unknown.settles)),
            },
        }),
    }
}

/// All figures of a state; `also` holds outlet, return and lift with the least and the most heat.
pub(super) fn figures(
    drawn: &Drawn,
    net: &Network,
    state: &State,
    also: [[f64; 4]; 2],
    coolant: Coolant,
    cap: Option<f64>,
) -> Result<Figures, reference::Unknown> {
    let along = all_along(net, state)?;
    let reports = net::coolers(net, state)?;
    let density = |t: f64| net.medium.density(t);
    let mut items: Vec<ItemRow> = drawn.items.clone();
    let mut met = vec![false; items.len()];
    for (b, tags) in drawn.tags.iter().enumerate() {
        let run = state.runs[b];
        for (p, item) in tags.iter().enumerate() {
            let [loss, t_in, t_out] = along[b][p];
            let row = &mut items[*item];
            row.flow = run.flow / density(t_in);
            row.drop += loss;
            row.temperatures = if met[*item] && run.flow >= 0.0 {
                [row.temperatures[0], t_out]
            } else {
                [t_in, t_out]
            };
            met[*item] = true;
        }
    }
    for (item, row) in items.iter_mut().enumerate() {
        if let Some(bore) = row.bore.filter(|_| met[item]) {
            let t = 0.5 * (row.temperatures[0] + row.temperatures[1]);
            let props = net.medium.at(t);
            let speed = row.flow.abs() / (std::f64::consts::PI / 4.0 * bore * bore);
            row.speed = Some(speed);
            row.reynolds = Some(speed * bore * props.density / props.viscosity);
        }
    }
    let total_at = |spot: Spot, height: f64| -> f64 {
        match spot {
            Spot::Node(node) => {
                let own = &net.nodes[node];
                let kept = state.pressures[node].unwrap_or(0.0);
                kept + net.column * net::GRAVITY * (own.height - height)
            }
            Spot::Within(b, after) => {
                let own = &net.branches[b];
                let from = &net.nodes[own.from];
                let lost: f64 = along[b].iter().take(after).map(|part| part[0]).sum();
                state.pressures[own.from].unwrap_or(0.0)
                    + net.column * net::GRAVITY * (from.height - height)
                    - lost
            }
        }
    };
    let speed_at = |spot: Spot, bore: Option<f64>| -> f64 {
        let flow = match spot {
            Spot::Within(b, _) => state.runs[b].flow,
            Spot::Node(node) => {
                let own = net.branches.iter().zip(&state.runs);
                own.filter(|(branch, _)| branch.from == node || branch.to == node)
                    .map(|(_, run)| run.flow.abs())
                    .fold(0.0, f64::max)
            }
        };
        bore.map_or(0.0, |bore| {
            flow.abs() / (net.column * std::f64::consts::PI / 4.0 * bore * bore)
        })
    };
    let mut places = Vec::new();
    for place in &drawn.places {
        let Some(height) = place.height else { continue };
        let t = temperature(net, state, &along, place.spot);
        let total = total_at(place.spot, height);
        let open = total - 0.5 * density(t) * speed_at(place.spot, place.bore).powi(2);
        places.push(PlaceRow {
            name: place.name.clone(),
            title: place.title.clone(),
            along: place.along,
            height,
            open,
            capped: cap.map(|cap| open + cap),
            total,
            temperature: t,
            boils: coolant.boils(open),
            rated: place.rated.clone(),
        });
    }
    let coolers = reports
        .iter()
        .map(|(b, p, report)| cooler_row(drawn, *b, *p, report))
        .collect();
    let out = temperature(net, state, &along, drawn.out);
    let back = temperature(net, state, &along, drawn.back);
    let inlet = drawn.suction.1.unwrap_or(drawn.surface);
    let suction = total_at(drawn.suction.0, inlet);
    let t_suction = temperature(net, state, &along, drawn.suction.0);
    let through = |item: usize| {
        let row = &items[item];
        row.flow.abs()
    };
    let whole = through(drawn.pump_item);
    let cooled: f64 = drawn.sinks.iter().map(|sink| through(sink.item)).sum();
    let mut stolen: Vec<(String, f64)> = Vec::new();
    for (item, row) in items.iter().enumerate() {
        let beside = drawn.stores.contains(&item) || row.subject == "engine.bypass";
        if beside && whole > 0.0 && row.flow.abs() > 1e-3 * whole {
            stolen.push((row.title.clone(), row.flow.abs() / whole));
        }
    }
    let hottest = state
        .temperatures
        .iter()
        .enumerate()
        .filter(|(node, _)| state.pressures[*node].is_some())
        .max_by(|a, b| a.1.total_cmp(b.1))
        .map(|(node, t)| (node, *t));
    let hottest = hottest.and_then(|(node, t)| {
        // Where no height is told the pressure is that at the header's level, the least that it can be.
        let p = state.pressures[node]?;
        let open = coolant.boils(p.min(total_at(Spot::Node(node), drawn.surface)))?;
        let capped = cap.and_then(|cap| coolant.boils(p + cap));
        Some(("the engine's outlet".to_owned(), t.max(out), open, capped))
    });
    let ordered = drawn
        .order
        .iter()
        .filter(|item| met[**item])
        .map(|item| items[*item].clone())
        .collect();
    let pump = items[drawn.pump_item].drop;
    Ok(Figures {
        items: ordered,
        places,
        coolers,
        out: span(also[0][0], out, also[1][0]),
        back: span(also[0][1], back, also[1][1]),
        mixed: span(also[0][2], t_suction, also[1][2]),
        lift: net
            .stat
            .is_some()
            .then(|| span(also[0][3], state.lift, also[1][3])),
        reserve: None,
        flow: whole,
        cooled,
        stolen,
        pump: -pump,
        suction,
        suction_over_boiling: coolant
            .vapour(t_suction)
            .map_or(f64::NAN, |vapour| suction + ATMOSPHERE - vapour),
        hottest,
        standing: drawn.standing.clone(),
    })
}

fn span(low: f64, mid: f64, high: f64) -> Span {
    Span {
        low: low.min(mid),
        mid,
        high: high.max(mid),
    }
}

fn cooler_row(drawn: &Drawn, b: usize, p: usize, report: &Report) -> CoolerRow {
    let sink = drawn
        .sinks
        .iter()
        .find(|sink| (sink.branch, sink.part) == (b, p));
    let item = sink.map(|sink| &drawn.items[sink.item]);
    CoolerRow {
        subject: item.map_or_else(String::new, |item| item.subject.clone()),
        title: item.map_or_else(String::new, |item| item.title.clone()),
        heat: report.heat,
        temperatures: report.temperatures,
        ua: report.ua,
        area: sink.and_then(|sink| sink.area),
        speed: report.speed,
        reynolds: report.reynolds,
        films: report.film_in.zip(report.film_out).map(|(a, b)| [a, b]),
        shares: report.shares,
        raw_out: report.raw_out,
        store: false,
    }
}

/// The lower and the upper heat beside the middle one, each solved from the state of the middle.
pub(super) fn with_heat(drawn: &Drawn, to: &Put, asked: &Asked, state: &State) -> [[f64; 4]; 2] {
    [asked.heat.low, asked.heat.high].map(|heat| {
        let net = put(drawn, &Put { heat, ..*to });
        match net::solve(&net, Some(state)) {
            Outcome::Solved(state) => ends(drawn, &net, &state).unwrap_or([f64::NAN; 4]),
            _ => [f64::NAN; 4],
        }
    })
}

/// Shares the medium of a network that is asked again and again.
pub(super) fn shared(medium: net::Medium) -> Arc<net::Medium> {
    Arc::new(medium)
}
