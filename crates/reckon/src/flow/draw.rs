//! The network of an arrangement, drawn from its things, their inner ways, its runs and their pieces.
//! Nobody types a node: each spigot, station and tee becomes one, and rows of parts without a branch between
//! them are led together into one branch.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use boat::{Assume, Carries, Head, PieceKind, RunEnd, StatControl, ThingKind, Told};
use quantity::{Density, Length, Power, Quantity, VolumeFlow};
use reference::engine::{TypicalEngine, typical};
use reference::pump::{Point, Quadratic};
use reference::usual::{Rise, rise};

use super::desk::{Desk, PRACTICE};
use super::pieces::{chain, lay, throat, wet};
use super::sinks::{self, Sink};
use crate::solve::net::{
    Branch, Curve, Law, Lift, Medium, Network, Node, Part, Pump, Role, Stat, Tee,
};
use crate::stages::circuit::input::Facts;
use crate::stages::circuit::inside::{Bypass, bypass};
use crate::stages::circuit::plan::{Plan, Site};
use crate::stages::flow::{ItemRow, Stuff};
use crate::verdict::Words;

/// Loss of an open thermostat on the velocity head in its bore. Common practice, no source.
const STAT_OPEN: f64 = 6.0;
/// Bore of a by-pass over that of the thermostat. Common practice, no source.
const BYPASS_BORE: f64 = 0.6;
/// Density by which a pump's sheet turns pressure into head [kg/m³]. Source: common practice, water.
const SHEET_DENSITY: f64 = 1000.0;

/// Where something stands in the network.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Spot {
    /// At a node.
    Node(usize),
    /// In a branch, after so many of its parts.
    Within(usize, usize),
}

/// Where a joint or port stands.
#[derive(Clone, Debug)]
pub(super) struct Place {
    pub(super) name: String,
    pub(super) title: String,
    pub(super) height: Option<f64>,
    pub(super) bore: Option<f64>,
    pub(super) spot: Spot,
    pub(super) rated: Option<(f64, String)>,
}

/// One cooler of the network.
#[derive(Clone, Debug)]
pub(super) struct DrawnSink {
    pub(super) branch: usize,
    pub(super) part: usize,
    pub(super) item: usize,
    pub(super) sees: f64,
    pub(super) area: Option<f64>,
}

/// The network with what its parts stand for.
pub(super) struct Drawn {
    pub(super) net: Network,
    pub(super) items: Vec<ItemRow>,
    /// For each branch, the item of each part.
    pub(super) tags: Vec<Vec<usize>>,
    pub(super) places: Vec<Place>,
    /// Pumps: branch, part, speed over that of the curve at one turn a second of the engine; 0 for an
    /// electric one.
    pub(super) pumps: Vec<(usize, usize, f64)>,
    /// Where the engine heats the water.
    pub(super) engine: Option<(usize, usize)>,
    /// Where the gearbox does.
    pub(super) gearbox: Option<(usize, usize)>,
    pub(super) sinks: Vec<DrawnSink>,
    /// The item through which the pump's whole flow goes.
    pub(super) pump_item: usize,
    /// Calorifiers and heaters: items that are no coolers.
    pub(super) stores: Vec<usize>,
    /// Where the coolant leaves the engine, where it comes back, and the pump's inlet.
    pub(super) out: Spot,
    pub(super) back: Spot,
    pub(super) suction: (Spot, Option<f64>),
    /// Height of the free surface in the header [m].
    pub(super) surface: f64,
    /// Volumes: name, [m³], whence.
    pub(super) volumes: Vec<(String, Option<f64>, String)>,
    /// Water that stands, in words.
    pub(super) standing: Vec<String>,
    /// Items in the order of the pump's flow.
    pub(super) order: Vec<usize>,
}

type Tagged = (Part, usize);

struct Edge {
    from: usize,
    to: usize,
    parts: Vec<Tagged>,
}

#[derive(Default)]
struct FineNode {
    height: Option<f64>,
    fixed: bool,
    kept: bool,
}

struct Maker<'a, 'b> {
    facts: &'a Facts<'a>,
    plan: &'a Plan<'a>,
    desk: &'b mut Desk<'a>,
    nodes: Vec<FineNode>,
    index: BTreeMap<(Site, String), usize>,
    edges: Vec<Edge>,
    joined: BTreeSet<(usize, usize)>,
    items: Vec<ItemRow>,
    coolers: BTreeMap<usize, (f64, Option<f64>)>,
    stores: Vec<usize>,
    engine_item: Option<usize>,
    gearbox_item: Option<usize>,
    pumps: Vec<(usize, f64)>,
    places: Vec<(
        String,
        String,
        Option<f64>,
        Option<f64>,
        usize,
        Option<(f64, String)>,
    )>,
    tees: Vec<(usize, f64, f64, [usize; 2])>,
    volumes: Vec<(String, Option<f64>, String)>,
    standing: Vec<String>,
    stat: Option<(usize, f64, f64)>,
    usual: Option<TypicalEngine>,
    sea: Arc<Medium>,
    density: f64,
    rated: (f64, f64),
}

fn si(known: &crate::stages::types::Known<Length>) -> Option<f64> {
    known.as_ref().ok().map(|value| value.measured.value.si())
}

/// Draws the network; `None` where something is missing, which stands in the desk's list.
pub(super) fn draw<'a>(
    desk: &mut Desk<'a>,
    plan: &'a Plan<'a>,
    medium: Arc<Medium>,
    sea: Arc<Medium>,
    rated: (f64, f64),
) -> Option<Drawn> {
    let density = medium.density(80.0);
    let usual = Power::from_si(rated.0).and_then(|power| typical(power).ok());
    let mut maker = Maker {
        facts: plan.facts,
        plan,
        desk,
        nodes: Vec::new(),
        index: BTreeMap::new(),
        edges: Vec::new(),
        joined: BTreeSet::new(),
        items: Vec::new(),
        coolers: BTreeMap::new(),
        stores: Vec::new(),
        engine_item: None,
        gearbox_item: None,
        pumps: Vec::new(),
        places: Vec::new(),
        tees: Vec::new(),
        volumes: Vec::new(),
        standing: Vec::new(),
        stat: None,
        usual,
        sea,
        density,
        rated,
    };
    let before = maker.desk.missing.len();
    for thing in 0..plan.facts.things.len() {
        maker.thing(thing);
    }
    for run in 0..plan.facts.runs.len() {
        maker.run(run);
    }
    let surface = maker.reference();
    if maker.desk.missing.len() > before {
        return None;
    }
    maker.finish(medium, surface?)
}

impl<'a> Maker<'a, '_> {
    fn node(&mut self, site: Site, name: &str) -> usize {
        let key = (site, name.to_owned());
        if let Some(node) = self.index.get(&key) {
            return *node;
        }
        self.nodes.push(FineNode::default());
        self.index.insert(key, self.nodes.len() - 1);
        self.nodes.len() - 1
    }

    fn edge(&mut self, from: usize, to: usize, parts: Vec<Tagged>) {
        // Two ways inside an engine may name the same step; it is one.
        if parts.is_empty() && !self.joined.insert((from, to)) {
            return;
        }
        self.edges.push(Edge { from, to, parts });
    }

    fn item(&mut self, subject: String, title: String, place: String) -> usize {
        self.items.push(ItemRow {
            subject,
            title,
            place,
            ..ItemRow::default()
        });
        self.items.len() - 1
    }

    fn key(&self, thing: usize) -> &'a str {
        self.facts.things[thing].thing.key.as_str()
    }

    fn blanked(&self, thing: usize, name: &str) -> bool {
        let own = format!("{}.{name}", self.key(thing));
        self.facts
            .blanked
            .iter()
            .any(|blank| *blank == own || *blank == self.key(thing))
    }

    /// A spigot or port of a thing: its node, with its height.
    fn spigot(&mut self, thing: usize, name: &str) -> usize {
        let node = self.node(Site::Thing(thing), name);
        let own = &self.facts.things[thing];
        let height = own
            .thing
            .spigots
            .iter()
            .position(|spigot| spigot.name == name)
            .and_then(|at| si(&own.spigots[at]))
            .or_else(|| {
                let at = own.thing.ports.iter().position(|port| port.name == name)?;
                si(&own.ports[at])
            })
            .or_else(|| si(&own.height));
        self.nodes[node].height = height;
        node
    }

    /// Where the water comes into a station, and where it leaves it: the same for a spigot.
    fn station(&mut self, thing: usize, name: &str) -> (usize, usize) {
        let own = self.facts.things[thing].thing;
        let outer = own.spigot(name).is_some()
            || own.port(name).is_some()
            || self.facts.on(thing).any(|(_, spigot, _)| spigot == name);
        if outer {
            let node = self.spigot(thing, name);
            return (node, node);
        }
        let fresh = !self
            .index
            .contains_key(&(Site::Thing(thing), format!("{name}<")));
        let into = self.node(Site::Thing(thing), &format!("{name}<"));
        let from = self.node(Site::Thing(thing), &format!("{name}>"));
        if fresh {
            let parts = self.within(thing, name, into);
            self.edge(into, from, parts);
        }
        (into, from)
    }

    /// What lies in a station inside a thing.
    fn within(&mut self, thing: usize, name: &str, into: usize) -> Vec<Tagged> {
        let own = &self.facts.things[thing];
        let base = name.trim_end_matches(|c: char| c.is_ascii_digit());
        let is_engine = own.thing.engine.is_some();
        match base {
            "pump" if is_engine => self.engine_pump(thing),
            "block" if is_engine => self.engine_block(thing),
            "head" if is_engine && !self.has_station(thing, "block") => self.engine_block(thing),
            "exchanger" if is_engine => {
                self.desk.miss(
                    format!("The exchanger inside {} has no place for its tubes in the file yet.", self.key(thing)),
                    format!("{}.paths", own.place),
                    "Write the exchanger as a thing of its own, with its `tubes` or its `ua`, and lead the engine's paths to it.",
                );
                Vec::new()
            }
            "shell" => self.cooler(thing),
            "coil" if own.is(ThingKind::Calorifier) => self.small(thing),
            "stat" if is_engine => {
                self.thermostat(thing, into);
                Vec::new()
            }
            _ => Vec::new(),
        }
    }

    fn has_station(&self, thing: usize, name: &str) -> bool {
        let paths = self.plan.insides[thing].paths();
        paths.iter().flatten().any(|station| station == name)
    }

    fn thing(&mut self, thing: usize) {
        let facts = self.facts;
        let own = &facts.things[thing];
        let paths = self.plan.insides[thing].paths().to_vec();
        if let Some(crate::stages::circuit::inside::Inside::Missing(missing)) =
            self.plan.insides.get(thing)
            && own.thing.engine.is_some()
        {
            self.desk.miss(
                missing.why.clone(),
                missing.settles.place.clone(),
                &missing.settles.how,
            );
        }
        if !paths.is_empty() {
            for path in &paths {
                if !self.is_raw(thing, path) {
                    self.path(thing, path);
                }
            }
            self.volume_of(thing);
            return;
        }
        if own.thing.engine.is_some() {
            return;
        }
        match own.kind() {
            Some(ThingKind::HullFitting) => self.fitting(thing),
            Some(ThingKind::HeaderTank) => self.header(thing),
            Some(ThingKind::Bleed | ThingKind::Drain) | None => {}
            Some(_) => self.through(thing),
        }
    }

    /// Whether a way inside a thing carries something else than the circuit's water.
    fn is_raw(&self, thing: usize, path: &[String]) -> bool {
        let other = |name: &String| {
            name.starts_with("raw")
                || self.facts.on(thing).any(|(run, spigot, _)| {
                    let carries = self.facts.runs[run].run.carries;
                    spigot == name && !matches!(carries, Carries::Coolant | Carries::Vent)
                })
        };
        path.iter().any(other)
    }

    fn path(&mut self, thing: usize, path: &[String]) {
        let mut before: Option<usize> = None;
        for (i, name) in path.iter().enumerate() {
            if self.blanked(thing, name) {
                before = None;
                continue;
            }
            let (into, from) = match name.split_once('.') {
                Some((base, port)) => {
                    let (base_in, base_out) = self.station(thing, base);
                    let node = self.node(Site::Thing(thing), name);
                    let parts = self.way_of_stat(thing, port);
                    let Some(parts) = parts else {
                        before = None;
                        continue;
                    };
                    if i == 0 {
                        self.edge_once(thing, name, base_out, node, parts);
                    } else {
                        self.edge_once(thing, name, node, base_in, parts);
                    }
                    (node, node)
                }
                None => self.station(thing, name),
            };
            if let Some(before) = before {
                self.edge(before, into, Vec::new());
            }
            before = Some(from);
        }
    }

    /// A way of the thermostat, once however often it is named.
    fn edge_once(&mut self, thing: usize, name: &str, from: usize, to: usize, parts: Vec<Tagged>) {
        let mark = self.node(Site::Thing(thing), &format!("{name} drawn"));
        if self.joined.insert((mark, mark)) {
            self.edges.push(Edge { from, to, parts });
        }
    }

    /// The thermostat's bore [m].
    fn stat_bore(&mut self, thing: usize) -> Option<f64> {
        let own = self.facts.things[thing].thing;
        let place = &self.facts.things[thing].place;
        let engine = own.engine.as_ref()?;
        if let Some(bore) = self
            .desk
            .value(&engine.stat.bore, &format!("{place}.stat.bore"))
        {
            return Some(bore);
        }
        let out = own.spigot("out").and_then(|spigot| spigot.od.given());
        let bore = out.map_or(0.035, |od| od.value.si() - 0.004);
        self.desk
            .typical(
                Assume::Stat,
                "The bore of the thermostat",
                Words::of(|system| quantity::show(Length::of_si(bore), None, system)),
                format!("as wide as the engine's outlet: {PRACTICE}"),
                &format!("{place}.stat.bore"),
                "Measure the thermostat's opening when its housing is off.",
            )
            .then_some(bore)
    }

    /// The parts of a port of the thermostat: `hot` or `cold`. `None` where nothing runs there.
    fn way_of_stat(&mut self, thing: usize, port: &str) -> Option<Vec<Tagged>> {
        let own = self.facts.things[thing].thing;
        let place = self.facts.things[thing].place.clone();
        let engine = own.engine.as_ref()?;
        let bore = self.stat_bore(thing)?;
        let told = engine.stat.bypass.given().and_then(|text| bypass(text));
        if port == "cold" {
            let role = match told {
                Some(Bypass::Blocked) => {
                    self.standing
                        .push("The by-pass is blocked: nothing runs in it.".into());
                    return None;
                }
                Some(Bypass::ShutByStat) => Role::Bypass,
                Some(Bypass::AlwaysOpen) => Role::OpenBypass,
                None => {
                    let may = self.desk.typical(
                        Assume::Stat,
                        "Whether the thermostat shuts its by-pass",
                        Words::from("shut by the thermostat's own disc"),
                        PRACTICE.into(),
                        &format!("{place}.stat.bypass"),
                        "Look at the thermostat: a second disc under it shuts the by-pass.",
                    );
                    if !may {
                        return None;
                    }
                    Role::Bypass
                }
            };
            let line = BYPASS_BORE * bore;
            let hole = engine
                .stat
                .bypass
                .given()
                .and_then(|text| hole(text))
                .filter(|_| role == Role::OpenBypass);
            let item = self.item(
                "engine.bypass".into(),
                "by-pass of the thermostat".into(),
                format!("{place}.stat"),
            );
            let open = hole.map_or(STAT_OPEN, |hole| {
                throat((hole / line).powi(2).min(1.0)) + 1.5
            });
            let lift = Part::Lift(Lift {
                role,
                bore: line,
                open,
                leak: 0.02,
            });
            self.items[item].bore = Some(line);
            return Some(vec![(lift, item)]);
        }
        let leak = match self
            .desk
            .value(&engine.stat.hole, &format!("{place}.stat.hole"))
        {
            Some(hole) => (hole / bore).powi(2),
            None => {
                let may = self.desk.typical(
                    Assume::Stat,
                    "The hole in the thermostat's plate",
                    Words::from("half a per cent of its opening"),
                    PRACTICE.into(),
                    &format!("{place}.stat.hole"),
                    "Look for the small hole or the loose pin in its plate and measure it.",
                );
                if !may {
                    return None;
                }
                0.005
            }
        };
        let item = self.item(
            "engine.stat".into(),
            "thermostat".into(),
            format!("{place}.stat"),
        );
        self.items[item].bore = Some(bore);
        let lift = Part::Lift(Lift {
            role: Role::Main,
            bore,
            open: STAT_OPEN,
            leak: leak.clamp(0.0, 1.0),
        });
        Some(vec![(lift, item)])
    }

    fn thermostat(&mut self, thing: usize, feels: usize) {
        let own = self.facts.things[thing].thing;
        let place = self.facts.things[thing].place.clone();
        let Some(engine) = &own.engine else { return };
        let opens = self
            .desk
            .value(&engine.stat.opens, &format!("{place}.stat.opens"));
        let Some(opens) = opens else {
            self.desk.miss(
                "Where the thermostat opens is not written.".into(),
                format!("{place}.stat.opens"),
                "Read the temperature stamped on the thermostat.",
            );
            return;
        };
        let over = rise(Rise::ThermostatOpensOver);
        let full = match self
            .desk
            .value(&engine.stat.full, &format!("{place}.stat.full"))
        {
            Some(full) => Some(full),
            None => self
                .desk
                .middle(
                    Assume::Stat,
                    "Over how many degrees the thermostat opens",
                    &over,
                    &format!("{place}.stat.full"),
                    "Watch it open in a pan of water with a thermometer.",
                )
                .map(|more| opens + more),
        };
        let Some(full) = full else { return };
        let node = if engine.stat.control.given() == Some(&StatControl::Inlet) {
            self.node(Site::Thing(thing), "pump<")
        } else {
            feels
        };
        self.nodes[node].kept = true;
        let zero = 273.15;
        self.stat = Some((node, opens - zero, full - zero));
    }

    fn engine_pump(&mut self, thing: usize) -> Vec<Tagged> {
        let own = self.facts.things[thing].thing;
        let place = self.facts.things[thing].place.clone();
        let Some(engine) = &own.engine else {
            return Vec::new();
        };
        let at = format!("{place}.pump.curve");
        let mut ratio = self.facts.things[thing]
            .thing
            .engine
            .as_ref()
            .and_then(|engine| engine.extra.pump_ratio.given().copied());
        let (curve, per_turn) = match engine.extra.pump_curve.given() {
            Some(told) => {
                let points: Vec<Point> = told
                    .points
                    .iter()
                    .filter_map(|(flow, head)| point(*flow, *head))
                    .collect();
                let Ok(curve) = Quadratic::through(&points) else {
                    self.desk.miss(
                        "The pump's curve has fewer than three different flows.".into(),
                        at,
                        "Write three points of its curve or more, from no flow on.",
                    );
                    return Vec::new();
                };
                let speed = match told.at {
                    Some(speed) => speed.si(),
                    None => {
                        let rated = self.rated.1;
                        let may = self.desk.typical(
                            Assume::PumpSpeed,
                            "The speed of the pump's curve",
                            Words::from("the engine's rated speed by the belt"),
                            PRACTICE.into(),
                            &at,
                            "Write the pump's own speed after its curve: `… @ 2600 rpm`.",
                        );
                        if !may {
                            return Vec::new();
                        }
                        rated * ratio.unwrap_or(1.0)
                    }
                };
                if ratio.is_none() {
                    let may = self.desk.typical(
                        Assume::PumpSpeed,
                        "How fast the pump turns against the engine",
                        Words::from("as fast as the engine"),
                        PRACTICE.into(),
                        &format!("{place}.pump.ratio"),
                        "Measure both pulleys: `ratio` is the crank's over the pump's.",
                    );
                    if !may {
                        return Vec::new();
                    }
                    ratio = Some(1.0);
                }
                (curve, ratio.unwrap_or(1.0) / speed)
            }
            None => {
                let Some(usual) = self.usual.clone() else {
                    return Vec::new();
                };
                let density = Density::from_si(self.density);
                let Some(points) = density.and_then(|density| usual.pump(density).ok()) else {
                    return Vec::new();
                };
                let value = Words::of(|system| {
                    format!(
                        "{} against {} at rated speed",
                        quantity::show(usual.flow.middle(), None, system),
                        crate::say::kpa(usual.external.middle().si(), system)
                    )
                });
                let may = self.desk.typical(
                    Assume::PumpCurve,
                    "The curve of the engine's pump",
                    value,
                    points.source.cite(),
                    &at,
                    "Find the pump's curve in its sheet, or measure its pressure shut off and at two flows.",
                );
                let Ok(curve) = Quadratic::through(&points.value) else {
                    return Vec::new();
                };
                if !may {
                    return Vec::new();
                }
                // The curve is one at the engine's rated speed, whatever the belt does.
                (curve, 1.0 / self.rated.1)
            }
        };
        let item = self.item(format!("{}.pump", own.key), "circulating pump".into(), at);
        self.pumps.push((item, per_turn));
        let pump = Part::Pump(Pump {
            curve: Curve::Quadratic(curve),
            ratio: 1.0,
        });
        vec![(pump, item)]
    }

    fn engine_block(&mut self, thing: usize) -> Vec<Tagged> {
        let own = self.facts.things[thing].thing;
        let place = self.facts.things[thing].place.clone();
        let told = own.detail.duty.drop.given();
        let (drop, flow) = match (told, self.usual.clone()) {
            (Some(at), _) => (at.what.value.si(), at.at.value.si()),
            (None, Some(usual)) => {
                let value = Words::of(|system| {
                    format!(
                        "{} at {}",
                        crate::say::kpa(usual.inside.middle().si(), system),
                        quantity::show(usual.flow.middle(), None, system)
                    )
                });
                let may = self.desk.typical(
                    Assume::EngineDrop,
                    "What the water loses inside the engine",
                    value,
                    usual.source.cite(),
                    &format!("{place}.drop"),
                    "Read it in the engine's sheet, or by two gauges: `drop = \"15 kPa @ 72 L/min\"`.",
                );
                if !may {
                    return Vec::new();
                }
                (usual.inside.middle().si(), usual.flow.middle().si())
            }
            (None, None) => return Vec::new(),
        };
        let item = self.item(own.key.clone(), "engine".into(), format!("{place}.drop"));
        self.items[item].stuff = Stuff::Steel;
        self.engine_item = Some(item);
        vec![(rated(drop, flow), item)]
    }

    fn volume_of(&mut self, thing: usize) {
        let own = &self.facts.things[thing];
        let place = format!("{}.volume", own.place);
        let volume = self.desk.value(&own.thing.detail.volume, &place);
        self.volumes
            .push((self.key(thing).to_owned(), volume, "as written".into()));
    }

    fn fitting(&mut self, thing: usize) {
        let own = self.facts.things[thing].thing;
        let names: Vec<String> = self
            .connections(thing)
            .iter()
            .map(|(name, _)| name.clone())
            .collect();
        if names.is_empty() {
            return;
        }
        let body = self.node(Site::Thing(thing), "body");
        self.nodes[body].height = si(&self.facts.things[thing].height);
        if self.plan.is_shut(&own.key) {
            self.standing.push(format!("{} is shut.", own.key));
            return;
        }
        let (parts, bore) = chain(&own.chain);
        let item = self.item(own.key.clone(), own.key.clone(), own.path());
        self.items[item].bore = bore;
        if let Some(metal) = own.chain.iter().rev().find_map(|part| part.metal) {
            self.items[item].stuff = wet(metal);
        }
        for name in names {
            if self.blanked(thing, &name) {
                continue;
            }
            let spigot = self.spigot(thing, &name);
            let comes = self
                .facts
                .on(thing)
                .any(|(_, own, comes)| own == name && comes);
            let tagged = |parts: &[Part]| parts.iter().map(|part| (part.clone(), item)).collect();
            if comes {
                self.edge(spigot, body, tagged(&parts));
            } else {
                let back: Vec<Part> = parts.iter().rev().cloned().collect();
                self.edge(body, spigot, tagged(&back));
            }
        }
    }

    fn header(&mut self, thing: usize) {
        let body = self.node(Site::Thing(thing), "body");
        for (name, comes) in self.connections(thing) {
            if self.blanked(thing, &name) {
                continue;
            }
            let spigot = self.spigot(thing, &name);
            if comes {
                self.edge(spigot, body, Vec::new());
            } else {
                self.edge(body, spigot, Vec::new());
            }
        }
    }

    /// Spigots of a thing on which runs of the circuit end, and whether the water comes by each.
    fn connections(&self, thing: usize) -> Vec<(String, bool)> {
        let mut out: Vec<(String, bool)> = Vec::new();
        for (run, name, comes) in self.facts.on(thing) {
            let carries = self.facts.runs[run].run.carries;
            if matches!(carries, Carries::Coolant | Carries::Vent)
                && !out.iter().any(|(own, _)| own == name)
            {
                out.push((name.to_owned(), comes));
            }
        }
        out
    }

    /// A thing that the water goes through in one way.
    fn through(&mut self, thing: usize) {
        let facts = self.facts;
        let own = facts.things[thing].thing;
        let mut ends: Vec<(usize, bool)> = Vec::new();
        for key in &own.detail.between {
            let Some(fitting) = facts.thing(key) else {
                continue;
            };
            let comes = self.connections(fitting).iter().any(|(_, comes)| *comes);
            let body = self.node(Site::Thing(fitting), "body");
            ends.push((body, comes));
        }
        for (name, comes) in self.connections(thing) {
            if !self.blanked(thing, &name) {
                let spigot = self.spigot(thing, &name);
                ends.push((spigot, comes));
            }
        }
        let used = !self.connections(thing).is_empty()
            || own.detail.between.iter().any(|key| {
                facts.thing(key).is_some_and(|fitting| {
                    !self.connections(fitting).is_empty() && !self.blanked(fitting, "tail")
                })
            });
        if ends.len() < 2 || !used {
            return;
        }
        let parts = match own.kind.given() {
            Some(ThingKind::KeelPipes | ThingKind::SkinTank | ThingKind::Exchanger) => {
                self.cooler(thing)
            }
            Some(ThingKind::OilCooler) => self.oil_cooler(thing),
            Some(ThingKind::Calorifier | ThingKind::CabinHeater) => self.small(thing),
            Some(ThingKind::Strainer) => self.by_drop(thing, "strainer", 1e3, None),
            Some(ThingKind::CirculatingPump) => self.own_pump(thing),
            _ => Vec::new(),
        };
        if ends.len() == 2 {
            let first = usize::from(!ends[0].1 && ends[1].1);
            self.edge(ends[first].0, ends[1 - first].0, parts);
            return;
        }
        let body = self.node(Site::Thing(thing), "body");
        self.desk.note(Words::from(
            format!("More than two runs end on {}, and its `paths` are not written: its own loss is left out.", own.key).as_str(),
        ));
        for (end, comes) in ends {
            if comes {
                self.edge(end, body, Vec::new());
            } else {
                self.edge(body, end, Vec::new());
            }
        }
    }

    /// Drop and flow of a thing, as written or typical.
    fn drop_of(
        &mut self,
        thing: usize,
        what: &str,
        usual: f64,
        flow: Option<f64>,
    ) -> Option<(f64, f64)> {
        let own = self.facts.things[thing].thing;
        let place = format!("{}.drop", self.facts.things[thing].place);
        if let Some(at) = own.detail.duty.drop.given() {
            return Some((at.what.value.si(), at.at.value.si()));
        }
        let flow = flow.or(self.usual.as_ref().map(|usual| usual.flow.middle().si()))?;
        let value = Words::of(|system| {
            format!(
                "{} at {}",
                crate::say::kpa(usual, system),
                quantity::show(VolumeFlow::of_si(flow), None, system)
            )
        });
        self.desk
            .typical(
                Assume::CoolerDrop,
                &format!("What the water loses in {} ({what})", own.key),
                value,
                PRACTICE.into(),
                &place,
                "Read it in its sheet, or by two gauges: `drop = \"4 kPa @ 60 L/min\"`.",
            )
            .then_some((usual, flow))
    }

    fn by_drop(&mut self, thing: usize, what: &str, usual: f64, flow: Option<f64>) -> Vec<Tagged> {
        let own = self.facts.things[thing].thing;
        let Some((drop, at)) = self.drop_of(thing, what, usual, flow) else {
            return Vec::new();
        };
        let item = self.item(own.key.clone(), own.key.clone(), own.path());
        self.volume_of(thing);
        vec![(rated(drop, at), item)]
    }

    fn oil_cooler(&mut self, thing: usize) -> Vec<Tagged> {
        let parts = self.by_drop(thing, "oil cooler", 4e3, None);
        if let Some((_, item)) = parts.first() {
            let named = self.facts.things.iter().find_map(|own| {
                let engine = own.thing.engine.as_ref()?;
                engine.extra.gearbox_cooler.clone()
            });
            if named.is_none_or(|named| named == self.key(thing)) {
                self.gearbox_item = Some(*item);
            }
        }
        parts
    }

    /// Calorifiers and cabin heaters: a drop. In a steady state they are hot and take nothing.
    fn small(&mut self, thing: usize) -> Vec<Tagged> {
        let ten = 10e-3 / 60.0;
        let parts = self.by_drop(thing, "coil", 10e3, Some(ten));
        if let Some((_, item)) = parts.first() {
            self.stores.push(*item);
        }
        parts
    }

    fn own_pump(&mut self, thing: usize) -> Vec<Tagged> {
        let own = self.facts.things[thing].thing;
        let place = format!("{}.curve", self.facts.things[thing].place);
        let points: Option<Vec<Point>> = own.detail.duty.curve.given().map(|told| {
            told.points
                .iter()
                .filter_map(|(flow, head)| point(*flow, *head))
                .collect()
        });
        let Some(Ok(curve)) = points.map(|points| Quadratic::through(&points)) else {
            self.desk.miss(
                format!("The curve of {} is not written.", own.key),
                place,
                "Read three points of its curve in its sheet.",
            );
            return Vec::new();
        };
        let item = self.item(own.key.clone(), own.key.clone(), place);
        self.pumps.push((item, 0.0));
        let pump = Part::Pump(Pump {
            curve: Curve::Quadratic(curve),
            ratio: 1.0,
        });
        vec![(pump, item)]
    }

    fn cooler(&mut self, thing: usize) -> Vec<Tagged> {
        let own = self.facts.things[thing].thing;
        let place = self.facts.things[thing].place.clone();
        let sea = Arc::clone(&self.sea);
        let usual = self
            .usual
            .as_ref()
            .map_or(1e-3, |usual| usual.flow.middle().si());
        let sink: Option<Sink> = match own.kind.given() {
            Some(ThingKind::KeelPipes) => sinks::keel(self.desk, own, &place, &sea),
            Some(ThingKind::SkinTank) => sinks::skin(self.desk, own, &place, &sea),
            _ => {
                let rated = self.drop_of(thing, "shell", 8e3, None);
                sinks::exchanger(self.desk, own, &place, &sea, rated, usual)
            }
        };
        let Some(sink) = sink else {
            return Vec::new();
        };
        let item = self.item(own.key.clone(), own.key.clone(), own.path());
        self.items[item].bore = sink.bore;
        self.coolers.insert(item, (sink.sees, sink.area));
        match sink.volume {
            Some(volume) => {
                self.volumes
                    .push((own.key.clone(), Some(volume), "by its sizes".into()))
            }
            None => self.volume_of(thing),
        }
        vec![(Part::Cooler(Box::new(sink.cooler)), item)]
    }

    fn end(&mut self, end: &'a RunEnd) -> Option<usize> {
        match end {
            RunEnd::Thing { .. } => {
                let (thing, name) = self.facts.end(end)?;
                if self.blanked(thing, name) {
                    return None;
                }
                Some(self.spigot(thing, name))
            }
            RunEnd::Tee { run, piece } => {
                let run = self.facts.run(run)?;
                Some(self.node(Site::Run(run), piece))
            }
        }
    }

    fn run(&mut self, at: usize) {
        let own = &self.facts.runs[at];
        let run: &'a boat::Run = own.run;
        if !matches!(run.carries, Carries::Coolant | Carries::Vent) {
            return;
        }
        let place = own.place.clone();
        let Some(laid) = lay(self.desk, run, &place) else {
            return;
        };
        let (Some(from), Some(to)) = (self.end(&run.from), self.end(&run.to)) else {
            return;
        };
        let Told::Given(pieces) = &run.way else {
            return;
        };
        let site = Site::Run(at);
        let mark = &own.mark;
        let whole: f64 = laid.iter().map(|piece| piece.volume).sum();
        self.volumes
            .push((run.key.clone(), Some(whole), "by bore and length".into()));
        let first = laid.first().and_then(|piece| piece.bore);
        let last = laid.last().and_then(|piece| piece.bore);
        let rating = self.rating(pieces);
        let place_of = |end: &str, number: &str| {
            (
                format!("{}.{end}", run.key),
                format!("{} ({mark}{number})", run.key),
            )
        };
        let (name, title) = place_of("from", "1");
        self.places.push((
            name,
            title,
            self.nodes[from].height,
            first,
            from,
            rating.clone(),
        ));
        let mut before = from;
        for (i, (piece, own)) in pieces.iter().zip(laid).enumerate() {
            let last_one = i + 1 == pieces.len();
            let tee = matches!(piece.kind, PieceKind::Tee { .. });
            let shut = piece.kind.can_be_shut()
                && self
                    .facts
                    .shut
                    .contains(&format!("{}.{}", run.key, piece.name));
            if shut {
                self.standing
                    .push(format!("{}.{} is shut.", run.key, piece.name));
            }
            let item = self.item(
                format!("{}.{}", run.key, piece.name),
                format!("{} of {} ({mark})", piece.name, run.key),
                format!("{place}.way[{i}]"),
            );
            let row = &mut self.items[item];
            (row.bore, row.stuff, row.soft) = (own.bore, own.stuff, own.soft);
            row.run.clone_from(&run.key);
            row.suction = self
                .plan
                .find(site, &piece.name)
                .is_some_and(|node| self.plan.suction[node] && self.plan.on_main[node]);
            let parts: Vec<Tagged> = own.parts.into_iter().map(|part| (part, item)).collect();
            let next = if tee {
                self.node(site, &piece.name)
            } else if last_one {
                to
            } else {
                self.node(site, &format!("{}>", piece.name))
            };
            if shut {
                // What lies behind a shut valve hangs on its other side.
                before = next;
                continue;
            }
            self.edges.push(Edge {
                from: before,
                to: next,
                parts,
            });
            if tee {
                if let PieceKind::Tee { sizes, .. } = &piece.kind {
                    let size = |at: usize| sizes[at].named().map(|named| named.as_length().si());
                    let bore = own.bore.unwrap_or(0.03);
                    let branch = size(2).unwrap_or(bore);
                    // The edge that follows is the next one to be made.
                    self.tees.push((
                        next,
                        bore,
                        (branch / bore).min(1.0),
                        [self.edges.len() - 1, self.edges.len()],
                    ));
                    self.nodes[next].kept = true;
                }
            }
            if tee && last_one {
                self.edges.push(Edge {
                    from: next,
                    to,
                    parts: Vec::new(),
                });
            }
            before = next;
        }
        let (name, title) = place_of("to", "");
        self.places
            .push((name, title, self.nodes[to].height, last, to, rating));
    }

    /// What the hose of a run stands, by the owner's shelf [Pa].
    fn rating(&self, pieces: &[boat::Piece]) -> Option<(f64, String)> {
        let stock = &self.desk.arranged.boat.stock.hose;
        pieces
            .iter()
            .filter_map(|piece| match &piece.kind {
                PieceKind::Hose { size, build } => {
                    let own = stock.iter().find(|own| {
                        Some(own.size) == size.named() && (own.build == *build || build.is_none())
                    })?;
                    let (works, _) = own.works_at.as_ref()?;
                    Some((works.value.si(), format!("hose {}", own.size)))
                }
                _ => None,
            })
            .min_by(|a, b| a.0.total_cmp(&b.0))
    }

    /// The node whose pressure is kept, and the height of the water's surface there.
    fn reference(&mut self) -> Option<f64> {
        let facts = self.facts;
        let linked = |maker: &Self, node: usize| {
            maker
                .edges
                .iter()
                .any(|edge| edge.from == node || edge.to == node)
        };
        let tank = (0..facts.things.len()).find(|thing| {
            facts.things[*thing].is(ThingKind::HeaderTank)
                && self
                    .index
                    .get(&(Site::Thing(*thing), "body".into()))
                    .is_some_and(|node| linked(self, *node))
        });
        let (thing, node) = match tank {
            Some(thing) => (thing, self.node(Site::Thing(thing), "body")),
            None => {
                let engine = (0..facts.things.len()).find(|thing| {
                    self.index
                        .contains_key(&(Site::Thing(*thing), "header<".into()))
                });
                let Some(engine) = engine else {
                    self.desk.miss(
                        "The circuit has no header tank that the file knows of, so that no pressure in it is known.".into(),
                        "things".into(),
                        "Write the header tank: a thing of its own, or `header` among the engine's paths.",
                    );
                    return None;
                };
                (engine, self.node(Site::Thing(engine), "header<"))
            }
        };
        let own = &facts.things[thing];
        let surface = si(&own.cold_mark).or_else(|| si(&own.cap_h));
        let Some(surface) = surface else {
            self.desk.miss(
                format!("How high the water stands in the header tank of {} is not measured.", own.key()),
                format!("{}.cold_mark", own.place),
                "Measure the height of the mark to which it is filled cold, with a water-filled tube.",
            );
            return None;
        };
        self.nodes[node].fixed = true;
        self.nodes[node].kept = true;
        self.nodes[node].height = Some(surface);
        Some(surface)
    }

    fn finish(self, medium: Arc<Medium>, surface: f64) -> Option<Drawn> {
        let n = self.nodes.len();
        let mut beside: Vec<Vec<usize>> = vec![Vec::new(); n];
        for (e, edge) in self.edges.iter().enumerate() {
            beside[edge.from].push(e);
            if edge.to != edge.from {
                beside[edge.to].push(e);
            }
        }
        let junction = |node: usize| {
            self.nodes[node].kept || self.nodes[node].fixed || beside[node].len() != 2
        };
        let mut spots: Vec<Option<Spot>> = vec![None; n];
        let mut nodes: Vec<Node> = Vec::new();
        for (node, spot) in spots.iter_mut().enumerate() {
            if !beside[node].is_empty() && junction(node) {
                *spot = Some(Spot::Node(nodes.len()));
                nodes.push(Node {
                    height: self.nodes[node].height.unwrap_or(surface),
                    fixed: self.nodes[node].fixed.then_some(0.0),
                    inflow: 0.0,
                });
            }
        }
        let mut branches: Vec<Branch> = Vec::new();
        let mut tags: Vec<Vec<usize>> = Vec::new();
        let mut branch_of: Vec<Option<usize>> = vec![None; self.edges.len()];
        for start in 0..n {
            let Some(Spot::Node(begin)) = spots[start] else {
                continue;
            };
            for first in &beside[start] {
                if branch_of[*first].is_some() {
                    continue;
                }
                // The chain of edges from here to the next junction, each with its sense.
                let mut row: Vec<(usize, bool)> = Vec::new();
                let mut inner: Vec<usize> = Vec::new();
                let (mut edge, mut node) = (*first, start);
                let end = loop {
                    let own = &self.edges[edge];
                    let ahead = own.from == node;
                    branch_of[edge] = Some(branches.len());
                    row.push((edge, ahead));
                    node = if ahead { own.to } else { own.from };
                    if let Some(Spot::Node(end)) = spots[node] {
                        break end;
                    }
                    inner.push(node);
                    let next = beside[node].iter().find(|next| **next != edge);
                    let Some(next) = next.filter(|next| branch_of[**next].is_none()) else {
                        break begin;
                    };
                    edge = *next;
                };
                let pump = row.iter().find(|(edge, _)| {
                    self.edges[*edge]
                        .parts
                        .iter()
                        .any(|(part, _)| matches!(part, Part::Pump(_)))
                });
                let backward = match pump {
                    Some((_, ahead)) => !ahead,
                    None => 2 * row.iter().filter(|(_, ahead)| *ahead).count() < row.len(),
                };
                let (mut from, mut to) = (begin, end);
                if backward {
                    row.reverse();
                    inner.reverse();
                    for (_, ahead) in &mut row {
                        *ahead = !*ahead;
                    }
                    (from, to) = (to, from);
                }
                let (mut parts, mut own_tags) = (Vec::new(), Vec::new());
                for (i, (edge, ahead)) in row.iter().enumerate() {
                    let own = &self.edges[*edge].parts;
                    let mut add = |(part, item): &Tagged| {
                        parts.push(if *ahead { part.clone() } else { turned(part) });
                        own_tags.push(*item);
                    };
                    if *ahead {
                        own.iter().for_each(&mut add);
                    } else {
                        own.iter().rev().for_each(&mut add);
                    }
                    if let Some(node) = inner.get(i) {
                        spots[*node] = Some(Spot::Within(branches.len(), parts.len()));
                    }
                }
                branches.push(Branch {
                    from,
                    to,
                    open: true,
                    parts,
                });
                tags.push(own_tags);
            }
        }
        let mut tees = Vec::new();
        for (node, bore, narrow, run) in &self.tees {
            let Some(Spot::Node(at)) = spots[*node] else {
                continue;
            };
            let third: Vec<usize> = beside[*node]
                .iter()
                .filter(|edge| !run.contains(edge))
                .filter_map(|edge| branch_of[*edge])
                .collect();
            let touches = |edge: usize| {
                self.edges
                    .get(edge)
                    .is_some_and(|own| own.from == *node || own.to == *node)
            };
            let legs = run.map(|edge| {
                branch_of
                    .get(edge)
                    .copied()
                    .flatten()
                    .filter(|_| touches(edge))
            });
            if let ([Some(a), Some(b)], [c]) = (legs, third.as_slice())
                && a != b
                && a != *c
                && b != *c
            {
                tees.push(Tee {
                    node: at,
                    legs: [a, b, *c],
                    bore: *bore,
                    narrow: narrow.clamp(0.1, 1.0),
                });
            }
        }
        let find = |item: usize| {
            tags.iter()
                .enumerate()
                .find_map(|(b, row)| row.iter().position(|own| *own == item).map(|p| (b, p)))
        };
        let stat = self.stat.and_then(|(node, opens, full)| match spots[node] {
            Some(Spot::Node(node)) => Some(Stat { node, opens, full }),
            _ => None,
        });
        let engine = self.engine_item.and_then(find);
        let gearbox = self.gearbox_item.and_then(find);
        let pumps: Vec<(usize, usize, f64)> = self
            .pumps
            .iter()
            .filter_map(|(item, per_turn)| find(*item).map(|(b, p)| (b, p, *per_turn)))
            .collect();
        let sinks = self
            .coolers
            .iter()
            .filter_map(|(item, (sees, area))| {
                find(*item).map(|(branch, part)| DrawnSink {
                    branch,
                    part,
                    item: *item,
                    sees: *sees,
                    area: *area,
                })
            })
            .collect();
        let (Some((engine_b, engine_p)), Some(first_pump)) = (engine, self.pumps.first()) else {
            self.desk.miss(
                "The engine's ways name no `pump` and `block`, or they lead nowhere.".into(),
                "engine.paths".into(),
                "Write the ways of the water: `paths = [\"in > pump > block > head > stat\", …]`.",
            );
            return None;
        };
        let thing = self
            .facts
            .things
            .iter()
            .position(|own| own.thing.engine.is_some())?;
        let spot = |name: &str| {
            self.index
                .get(&(Site::Thing(thing), name.to_owned()))
                .and_then(|node| spots[*node])
        };
        let out = spot("stat<")
            .or_else(|| spot("out"))
            .unwrap_or(Spot::Within(engine_b, engine_p + 1));
        let pump_in = spot("pump<").unwrap_or(Spot::Within(engine_b, 0));
        let back = spot("in").unwrap_or(pump_in);
        let inlet = self
            .index
            .get(&(Site::Thing(thing), "in".to_owned()))
            .and_then(|node| self.nodes[*node].height)
            .or_else(|| si(&self.facts.things[thing].height));
        let places = self
            .places
            .into_iter()
            .filter_map(|(name, title, height, bore, node, rated)| {
                spots[node].map(|spot| Place {
                    name,
                    title,
                    height,
                    bore,
                    spot,
                    rated,
                })
            })
            .collect();
        let net = Network {
            column: self.density,
            medium,
            law: Law::Smooth,
            nodes,
            branches,
            tees,
            stat,
            isothermal: None,
        };
        let order = order(&net, &tags, first_pump.0);
        Some(Drawn {
            net,
            items: self.items,
            places,
            pumps,
            engine,
            gearbox,
            sinks,
            pump_item: first_pump.0,
            stores: self.stores,
            out,
            back,
            suction: (pump_in, inlet),
            surface,
            volumes: self.volumes,
            standing: self.standing,
            order,
            tags,
        })
    }
}

/// Items in the order of flow from the pump: its own branch, then branch by branch as they follow.
fn order(net: &Network, tags: &[Vec<usize>], pump: usize) -> Vec<usize> {
    let mut seen = vec![false; net.branches.len()];
    let mut out: Vec<usize> = Vec::new();
    let first = tags.iter().position(|row| row.contains(&pump)).unwrap_or(0);
    let mut open = std::collections::VecDeque::from([first]);
    while let Some(b) = open.pop_front() {
        if std::mem::replace(&mut seen[b], true) {
            continue;
        }
        for item in &tags[b] {
            if !out.contains(item) {
                out.push(*item);
            }
        }
        let end = net.branches[b].to;
        open.extend((0..net.branches.len()).filter(|next| net.branches[*next].from == end));
    }
    for item in tags.iter().flatten() {
        if !out.contains(item) {
            out.push(*item);
        }
    }
    out
}

/// A part that is passed the other way round.
fn turned(part: &Part) -> Part {
    match part {
        Part::Loss { ahead, back, bore } => Part::Loss {
            ahead: *back,
            back: *ahead,
            bore: *bore,
        },
        other => other.clone(),
    }
}

fn rated(drop: f64, flow: f64) -> Part {
    Part::Rated {
        drop,
        flow,
        power: 2.0,
        density: SHEET_DENSITY,
        heat: 0.0,
    }
}

fn point(flow: VolumeFlow, head: Head) -> Option<Point> {
    let head = match head {
        Head::Metres(head) => head,
        Head::Pressure(pressure) => {
            Length::from_si(pressure.si() / (SHEET_DENSITY * crate::solve::net::GRAVITY))?
        }
    };
    Some(Point { flow, head })
}

/// The diameter of a hole in a text: `always open, a 10 mm hole` [m].
fn hole(text: &str) -> Option<f64> {
    let words: Vec<&str> = text.split([' ', ',', ';']).collect();
    words
        .windows(2)
        .find_map(|pair| quantity::parse::<Length>(&pair.join(" "), None).ok())
        .map(|length| length.si())
}
