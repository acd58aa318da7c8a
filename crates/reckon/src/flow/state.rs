//! One state of a drawn circuit: what is done to it, and the figures that come of it.

use quantity::{AbsolutePressure, Quantity};
use reference::media::{self, Glycol, VolumeFraction};
use reference::water::{self, ATMOSPHERE};

use super::draw::{Drawn, Place, Spot};
use super::heat::Asked;
use crate::solve::net::{self, Gives, Network, Outcome, Part, Report, State};
use crate::stages::flow::{Came, CoolerRow, Figures, ItemRow, Missing, PlaceRow, Span};
use crate::verdict::Settles;

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
    /// The thermostat is held wide open: as it stands wherever the outlet is no colder than where it is so.
    pub(super) wide: bool,
    /// The cabin heaters are on.
    pub(super) heaters: bool,
}

/// The network as a state has it.
pub(super) fn put(drawn: &Drawn, to: &Put) -> Network {
    let mut net = drawn.net.clone();
    if to.wide {
        let parts = net.branches.iter_mut().flat_map(|own| &mut own.parts);
        for part in parts {
            if let Part::Lift(way) = part {
                *way = way.wide();
            }
        }
    }
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
    for heater in drawn.heaters.iter().filter(|_| to.heaters) {
        if let Part::Cooler(cooler) = &mut net.branches[heater.branch].parts[heater.part]
            && let (Gives::Sink { ua, .. }, Some(own)) = (&mut cooler.gives, heater.ua)
        {
            *ua = own;
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

/// A solved state with a gauge and a thermometer that can be put on any spot of it.
pub(super) struct Gauge<'a> {
    drawn: &'a Drawn,
    net: &'a Network,
    state: &'a State,
    /// What each part of each branch takes [Pa], and the temperature before and after it [°C].
    along: Vec<Vec<[f64; 3]>>,
}

impl<'a> Gauge<'a> {
    pub(super) fn of(
        drawn: &'a Drawn,
        net: &'a Network,
        state: &'a State,
    ) -> Result<Self, reference::Unknown> {
        let along = (0..net.branches.len())
            .map(|b| net::along(net, state, b))
            .collect::<Result<_, _>>()?;
        Ok(Self {
            drawn,
            net,
            state,
            along,
        })
    }

    /// Temperature [°C].
    fn temperature(&self, spot: Spot) -> f64 {
        match spot {
            Spot::Node(node) => self.state.temperatures[node],
            Spot::Within(b, after) => {
                let run = self.state.runs[b];
                let parts = &self.along[b];
                let upstream = if run.flow >= 0.0 {
                    after.checked_sub(1)
                } else {
                    Some(after)
                };
                let part = upstream.and_then(|at| parts.get(at));
                part.map_or(run.t_in, |part| part[2])
            }
        }
    }

    /// Total pressure [Pa] at a height [m].
    fn total(&self, spot: Spot, height: f64) -> f64 {
        let (node, lost) = match spot {
            Spot::Node(node) => (node, 0.0),
            Spot::Within(b, after) => {
                let parts = self.along[b].iter().take(after);
                let lost: f64 = parts.map(|part| part[0]).sum();
                (self.net.branches[b].from, lost + self.at_tee(b))
            }
        };
        let column = self.net.column * net::GRAVITY;
        let kept = self.state.pressures[node].unwrap_or(0.0);
        kept + column * (self.net.nodes[node].height - height) - lost
    }

    /// Static pressure at a place [Pa], at its height [m].
    pub(super) fn open(&self, place: &Place, height: f64) -> f64 {
        let run = place.name.split('.').next().unwrap_or_default();
        let flow = match place.spot {
            Spot::Within(b, _) => self.state.runs[b].flow.abs(),
            // At a node it is the flow of the run's own branch.
            Spot::Node(node) => (0..self.net.branches.len())
                .filter(|b| {
                    let own = &self.net.branches[*b];
                    own.from == node || own.to == node
                })
                .filter(|b| {
                    let mut tags = self.drawn.tags[*b].iter();
                    tags.any(|item| self.drawn.items[*item].run == run)
                })
                .map(|b| self.state.runs[b].flow.abs())
                .fold(0.0, f64::max),
        };
        let density = self.net.medium.density(self.temperature(place.spot));
        let speed = place.bore.map_or(0.0, |bore| {
            flow / (density * std::f64::consts::PI / 4.0 * bore * bore)
        });
        self.total(place.spot, height) - 0.5 * density * speed * speed
    }

    /// What the tee at the beginning of a branch takes of it [Pa]: what the branch loses beyond its own parts,
    /// where its tee stands at its beginning.
    fn at_tee(&self, b: usize) -> f64 {
        let own = &self.net.branches[b];
        let tee = |node: usize| {
            let mut tees = self.net.tees.iter();
            tees.any(|tee| tee.node == node && tee.legs.contains(&b))
        };
        if !tee(own.from) {
            return 0.0;
        }
        let parts: f64 = self.along[b].iter().map(|part| part[0]).sum();
        let beyond = self.state.runs[b].loss - parts;
        // With one at each end, half of it is taken for either.
        if tee(own.to) { 0.5 * beyond } else { beyond }
    }
}

/// Outlet, return and mixed temperature, and lift of a state.
pub(super) fn ends(drawn: &Drawn, net: &Network, state: &State) -> Option<[f64; 4]> {
    let gauge = Gauge::of(drawn, net, state).ok()?;
    Some([
        gauge.temperature(drawn.out),
        gauge.temperature(drawn.back),
        gauge.temperature(drawn.suction.0),
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

/// What came of a state that has no answer.
pub(super) fn without(outcome: Outcome, engine: &str) -> Came {
    match outcome {
        Outcome::Solved(_) => Came::Unsolvable("the state was solved".into()),
        Outcome::NoSteadyState(why) => Came::NoSteadyState(why),
        // That the search did not end says nothing of the boat.
        Outcome::Unsolvable(why) if why.contains("did not settle") => Came::Unmeasured(Missing {
            why: "The search for this state did not come to an end.".into(),
            settles: Settles {
                place: "engine.stat".into(),
                how: "Look at the thermostat's temperatures, at the pump's curve and at the bores in the file: one of them may be mistyped.".into(),
            },
        }),
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
    let state = &with_standing(net, state);
    let gauge = Gauge::of(drawn, net, state)?;
    let along = &gauge.along;
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
    let mut places = Vec::new();
    // The least static pressure along the suction runs.
    let mut lowest = f64::INFINITY;
    for place in &drawn.places {
        let Some(height) = place.height else { continue };
        let t = gauge.temperature(place.spot);
        let total = gauge.total(place.spot, height);
        let open = gauge.open(place, height);
        if place.suction {
            lowest = lowest.min(open);
        }
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
    // A heater that is off is no cooler.
    let coolers = reports
        .iter()
        .filter(|(b, p, _)| match &net.branches[*b].parts[*p] {
            Part::Cooler(cooler) => cooler.takes(),
            _ => true,
        })
        .map(|(b, p, report)| cooler_row(drawn, *b, *p, report))
        .collect();
    let out = gauge.temperature(drawn.out);
    let back = gauge.temperature(drawn.back);
    let inlet = drawn.suction.1.unwrap_or(drawn.surface);
    let total_in = gauge.total(drawn.suction.0, inlet);
    let suction = lowest.min(total_in);
    let t_suction = gauge.temperature(drawn.suction.0);
    let through = |item: usize| {
        let row = &items[item];
        row.flow.abs()
    };
    let whole = through(drawn.pump_item);
    // What passes the thermostat's open way goes to the coolers; without one, what passes the greatest of them.
    let by_stat = items.iter().position(|row| row.subject == "engine.stat");
    let cooled = by_stat.map_or_else(
        || {
            let each = drawn.sinks.iter().map(|sink| through(sink.item));
            each.fold(0.0, f64::max)
        },
        through,
    );
    let in_line = |item: usize| {
        drawn.tags.iter().enumerate().any(|(b, tags)| {
            tags.contains(&item) && drawn.sinks.iter().any(|sink| sink.branch == b)
        })
    };
    let mut stolen: Vec<(String, f64)> = Vec::new();
    for (item, row) in items.iter().enumerate() {
        let beside = drawn.stores.contains(&item) || row.subject == "engine.bypass";
        // What stands in line with a cooler steals nothing from it.
        if beside && !in_line(item) && whole > 0.0 && row.flow.abs() > 1e-3 * whole {
            stolen.push((row.title.clone(), row.flow.abs() / whole));
        }
    }
    // The engine's outlet is the hottest, with the greatest heat that there may be.
    let outlet = out.max(also[1][0]);
    let at_out = drawn.out_height.unwrap_or(drawn.surface);
    let p_out = gauge.total(drawn.out, at_out);
    let hottest = coolant.boils(p_out).map(|open| {
        let capped = cap.and_then(|cap| coolant.boils(p_out + cap));
        ("the engine's outlet".to_owned(), outlet, open, capped)
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
            .map_or(f64::NAN, |vapour| total_in + ATMOSPHERE - vapour),
        hottest,
        standing: drawn.standing.clone(),
        raw: None,
        uncooled: None,
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
    let mut heaters = drawn.heaters.iter();
    let heater = heaters.find(|own| (own.branch, own.part) == (b, p));
    let item = sink.map(|sink| sink.item).or(heater.map(|own| own.item));
    let item = item.map(|item| &drawn.items[item]);
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
    }
}

/// Where nothing settles with the greatest heat, the outlet counts as this hot [°C]: over every alarm.
const NEVER: f64 = 150.0;

/// The lower and the upper heat beside the middle one, each solved from the state of the middle. Heat that
/// finds no steady state counts as far too hot, so that it is never taken for the middle.
pub(super) fn with_heat(drawn: &Drawn, to: &Put, asked: &Asked, state: &State) -> [[f64; 4]; 2] {
    [asked.heat.low, asked.heat.high].map(|heat| {
        let net = put(drawn, &Put { heat, ..*to });
        let hot = |t: f64| [t, t, t, 1.0];
        match net::solve(&net, Some(state)) {
            Outcome::Solved(state) => ends(drawn, &net, &state).unwrap_or(hot(NEVER)),
            Outcome::TooHot(t) => hot(t),
            _ => hot(NEVER),
        }
    })
}

/// The state with the water that stands at the temperature of the nearest that runs: none of its own is known.
fn with_standing(net: &Network, state: &State) -> State {
    let mut out = state.clone();
    let most = state
        .runs
        .iter()
        .fold(0.0_f64, |most, run| most.max(run.flow.abs()));
    let runs = |b: usize| state.runs[b].flow.abs() > 1e-6 * most;
    let mut known = vec![false; net.nodes.len()];
    for (b, own) in net.branches.iter().enumerate() {
        if runs(b) {
            known[own.from] = true;
            known[own.to] = true;
        }
    }
    for _ in 0..net.nodes.len() {
        for own in &net.branches {
            for (from, to) in [(own.from, own.to), (own.to, own.from)] {
                if known[from] && !known[to] {
                    out.temperatures[to] = out.temperatures[from];
                    known[to] = true;
                }
            }
        }
    }
    for (b, own) in net.branches.iter().enumerate() {
        if !runs(b) {
            let t = out.temperatures[own.from];
            (out.runs[b].t_in, out.runs[b].t_out) = (t, t);
        }
    }
    out
}
