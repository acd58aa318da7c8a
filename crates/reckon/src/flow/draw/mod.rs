//! The network of an arrangement, drawn from its things, their inner ways, its runs and their pieces.
//! Nobody types a node: each spigot, station and tee becomes one, and rows of parts without a branch between
//! them are led together into one branch.

mod engine;
mod merge;
mod runs;
mod things;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use boat::{Carries, ThingKind};
use quantity::{Length, Power, Quantity};
use reference::engine::{TypicalEngine, typical};

use super::desk::Desk;
use crate::solve::net::{Medium, Network, Part};
use crate::stages::circuit::input::Facts;
use crate::stages::circuit::inside::Inside;
use crate::stages::circuit::plan::{Plan, Site};
use crate::stages::flow::ItemRow;

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
    /// Distance from the pump in the direction of flow [m], on the main loop.
    pub(super) along: Option<f64>,
    /// On the suction side of the pump.
    pub(super) suction: bool,
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

/// A cabin heater of the network.
#[derive(Clone, Debug)]
pub(super) struct Heater {
    pub(super) branch: usize,
    pub(super) part: usize,
    pub(super) item: usize,
    /// Its UA when it is on [W/K]; `None` where that or the air's temperature is not written.
    pub(super) ua: Option<f64>,
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
    /// Cabin heaters.
    pub(super) heaters: Vec<Heater>,
    /// Where the coolant leaves the engine, where it comes back, and the pump's inlet.
    pub(super) out: Spot,
    pub(super) back: Spot,
    pub(super) suction: (Spot, Option<f64>),
    /// Height of the engine's outlet [m], where it is told.
    pub(super) out_height: Option<f64>,
    /// Height of the free surface in the header [m].
    pub(super) surface: f64,
    /// Volumes: name, [m³], whence.
    pub(super) volumes: Vec<(String, Option<f64>, String)>,
    /// Water that stands, in words.
    pub(super) standing: Vec<String>,
    /// Items in the order of the pump's flow.
    pub(super) order: Vec<usize>,
}

/// The temperature [°C] at which the column of coolant is weighed.
pub(super) const COLUMN_AT: f64 = 80.0;

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

/// A joint before its spot is known.
struct Joint {
    name: String,
    title: String,
    height: Option<f64>,
    bore: Option<f64>,
    node: usize,
    main: bool,
    suction: bool,
    rated: Option<(f64, String)>,
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
    heaters: Vec<(usize, Option<f64>)>,
    engine_item: Option<usize>,
    gearbox_item: Option<usize>,
    pumps: Vec<(usize, f64)>,
    places: Vec<Joint>,
    tees: Vec<(usize, f64, f64, [usize; 2])>,
    volumes: Vec<(String, Option<f64>, String)>,
    standing: Vec<String>,
    stat: Option<(usize, f64, f64)>,
    usual: Option<TypicalEngine>,
    sea: Arc<Medium>,
    density: f64,
    rated: (f64, f64),
}

pub(super) fn si(known: &crate::stages::types::Known<Length>) -> Option<f64> {
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
    let density = medium.density(COLUMN_AT);
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
        heaters: Vec::new(),
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
        if let Some(Inside::Missing(missing)) = self.plan.insides.get(thing)
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
}
