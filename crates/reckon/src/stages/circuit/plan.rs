//! The plan: the graph of one arrangement, and which of its nodes lie on the loop, on the suction side
//! of the pump and on its delivery.
//!
//! The *loop* is every closed way of the water through a pump. The *main loop* is what is left of it
//! without calorifiers, cabin heaters, header tanks, vents and the by-pass. The *suction side* is all from
//! which the water comes to the pump without passing a cooler, a calorifier or heater, a header tank or
//! the inside of an engine: on the main loop, everything from the outlet of the last cooler to the pump.
//! The *delivery* is all to which the pump sends the water before it passes such a cooler.

use std::collections::BTreeMap;

use boat::{Carries, RunEnd, ThingKind};

use super::input::Facts;
use super::inside::{self, Inside};
use crate::solve::graph::{Graph, Sense};

/// What a node belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Site {
    /// A thing, by its number.
    Thing(usize),
    /// A run, by its number.
    Run(usize),
}

/// One node.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Node {
    /// What it belongs to.
    pub site: Site,
    /// Its name there: a spigot, a station, a piece, or empty for the body of a thing.
    pub name: String,
    /// Whether it is a station inside a thing, that no hose goes on.
    pub station: bool,
}

/// The graph with what it stands for.
#[derive(Clone, Debug)]
pub struct Plan<'a> {
    /// What it was made from.
    pub facts: &'a Facts<'a>,
    /// How the water runs.
    pub graph: Graph,
    /// What each node is.
    pub nodes: Vec<Node>,
    /// The inside of each thing.
    pub insides: Vec<Inside>,
    /// The pumps of the circuit.
    pub pumps: Vec<usize>,
    /// On a closed way through a pump.
    pub on_loop: Vec<bool>,
    /// On the main loop.
    pub on_main: Vec<bool>,
    /// On the suction side.
    pub suction: Vec<bool>,
    /// On the delivery.
    pub delivery: Vec<bool>,
    index: BTreeMap<(Site, String, bool), usize>,
}

/// Kinds that give the heat of the circuit away.
pub fn is_sink(kind: ThingKind) -> bool {
    matches!(
        kind,
        ThingKind::KeelPipes | ThingKind::SkinTank | ThingKind::Exchanger
    )
}

/// Kinds that take a little heat beside the main loop.
pub fn is_small(kind: ThingKind) -> bool {
    matches!(kind, ThingKind::Calorifier | ThingKind::CabinHeater)
}

/// Stations at which the suction side of a pump ends.
const ENDS_SUCTION: [&str; 6] = ["stat", "block", "head", "bypass", "manifold", "header"];

impl<'a> Plan<'a> {
    /// Makes the plan of an arrangement.
    pub fn of(facts: &'a Facts<'a>) -> Self {
        let insides: Vec<Inside> = facts
            .things
            .iter()
            .map(|own| inside::of(own.thing, &own.place, facts.assume_inside))
            .collect();
        let mut plan = Plan {
            facts,
            graph: Graph::default(),
            nodes: Vec::new(),
            insides,
            pumps: Vec::new(),
            on_loop: Vec::new(),
            on_main: Vec::new(),
            suction: Vec::new(),
            delivery: Vec::new(),
            index: BTreeMap::new(),
        };
        for thing in 0..facts.things.len() {
            plan.thing(thing);
        }
        for thing in 0..facts.things.len() {
            plan.between(thing);
        }
        for run in 0..facts.runs.len() {
            plan.run(run);
        }
        plan.sides();
        plan
    }

    fn node(&mut self, site: Site, name: &str, station: bool) -> usize {
        let key = (site, name.to_owned(), station);
        if let Some(known) = self.index.get(&key) {
            return *known;
        }
        let node = self.graph.node();
        self.nodes.push(Node {
            site,
            name: name.to_owned(),
            station,
        });
        self.index.insert(key, node);
        node
    }

    /// The node of a spigot, a piece or a body, where there is one.
    pub fn find(&self, site: Site, name: &str) -> Option<usize> {
        self.index.get(&(site, name.to_owned(), false)).copied()
    }

    fn both(&mut self, a: usize, b: usize) {
        self.graph.link(a, b);
        self.graph.link(b, a);
    }

    /// The node of a station of a path: a spigot or port where the thing has one of that name.
    fn station(&mut self, thing: usize, name: &str) -> usize {
        let own = self.facts.things[thing].thing;
        let outside = own.spigot(name).is_some() || own.port(name).is_some();
        let used = self.facts.on(thing).any(|(_, spigot, _)| spigot == name);
        self.node(Site::Thing(thing), name, !(outside || used))
    }

    fn thing(&mut self, thing: usize) {
        let facts = self.facts;
        let own = &facts.things[thing];
        let site = Site::Thing(thing);
        let blanked = |name: &str| facts.blanked.contains(&format!("{}.{name}", own.key()));
        let paths = self.insides[thing].paths().to_vec();
        for path in &paths {
            let mut before: Option<usize> = None;
            for (i, name) in path.iter().enumerate() {
                if blanked(name) {
                    before = None;
                    continue;
                }
                let node = self.station(thing, name);
                if let Some((base, _)) = name.split_once('.') {
                    let base = self.station(thing, base);
                    if i == 0 {
                        self.graph.link(base, node);
                    } else {
                        self.graph.link(node, base);
                    }
                }
                if let Some(before) = before {
                    self.graph.link(before, node);
                }
                before = Some(node);
                if name.starts_with("pump") && !self.pumps.contains(&node) {
                    self.pumps.push(node);
                }
            }
        }
        if !paths.is_empty() || own.thing.engine.is_some() {
            return;
        }
        // What water of one kind comes to, water of that kind leaves: a cooler of two sides has two bodies.
        let on: Vec<(usize, &str)> = facts.on(thing).map(|(run, name, _)| (run, name)).collect();
        for (run, name) in on {
            let spigot = self.node(site, name, false);
            let body = match facts.runs[run].run.carries {
                _ if own.is(ThingKind::HullFitting) => "body",
                Carries::Coolant | Carries::Vent => "body",
                Carries::RawWater => "raw water",
                Carries::Oil => "oil",
                Carries::DomesticWater => "domestic water",
            };
            let body = self.node(site, body, true);
            if !blanked(name) {
                self.both(spigot, body);
            }
            if own.is(ThingKind::CirculatingPump)
                && facts.runs[run].run.carries == Carries::Coolant
                && !self.pumps.contains(&body)
            {
                self.pumps.push(body);
            }
        }
    }

    /// Water runs from one hull fitting through what lies outside to the other, unless a valve is shut.
    fn between(&mut self, thing: usize) {
        let facts = self.facts;
        let own = &facts.things[thing];
        if own.thing.detail.between.is_empty() {
            return;
        }
        let body = self.node(Site::Thing(thing), "body", true);
        for key in &own.thing.detail.between {
            let Some(fitting) = facts.thing(key) else {
                continue;
            };
            let open = !self.is_shut(key);
            let outside = self.node(Site::Thing(fitting), "body", true);
            if open {
                self.both(outside, body);
            }
        }
    }

    /// Whether a valve of a thing or run is shut.
    pub fn is_shut(&self, key: &str) -> bool {
        let of = |valve: &String| valve.split('.').next() == Some(key);
        self.facts.shut.iter().any(of)
    }

    /// The shut valves but for which something would hold: each that keeps it from holding by itself, else all
    /// where only all of them open would do. None where it holds, or would not hold with all of them open.
    pub fn shut_in_the_way(&self, holds: impl Fn(&Plan) -> bool) -> Vec<String> {
        let with = |shut: &[String]| {
            let facts = Facts {
                shut,
                ..self.facts.clone()
            };
            holds(&Plan::of(&facts))
        };
        let shut = self.facts.shut;
        if shut.is_empty() || holds(self) {
            return Vec::new();
        }
        let alone = |at: &usize| {
            let others: Vec<String> = shut
                .iter()
                .enumerate()
                .filter(|(other, _)| other != at)
                .map(|(_, valve)| valve.clone())
                .collect();
            with(&others)
        };
        let each: Vec<String> = (0..shut.len())
            .filter(alone)
            .map(|at| shut[at].clone())
            .collect();
        if !each.is_empty() {
            return each;
        }
        if with(&[]) { shut.to_vec() } else { Vec::new() }
    }

    /// The node of an end of a run.
    fn end(&mut self, end: &'a RunEnd) -> Option<usize> {
        match end {
            RunEnd::Thing { .. } => {
                let (thing, name) = self.facts.end(end)?;
                Some(self.node(Site::Thing(thing), name, false))
            }
            RunEnd::Tee { run, piece } => {
                let run = self.facts.run(run)?;
                Some(self.node(Site::Run(run), piece, false))
            }
        }
    }

    fn run(&mut self, run: usize) {
        let facts = self.facts;
        let own: &'a boat::Run = facts.runs[run].run;
        let pieces = own.way.given().map_or(&[][..], Vec::as_slice);
        let names: Vec<String> = if pieces.is_empty() {
            vec!["way".to_owned()]
        } else {
            pieces.iter().map(|piece| piece.name.clone()).collect()
        };
        let mut before = self.end(&own.from);
        for (i, name) in names.iter().enumerate() {
            let node = self.node(Site::Run(run), name, false);
            let valve = pieces.get(i).is_some_and(|piece| piece.kind.can_be_shut());
            let shut = valve && facts.shut.contains(&format!("{}.{name}", own.key));
            if let Some(before) = before.filter(|_| !shut) {
                self.graph.link(before, node);
            }
            before = Some(node);
        }
        if let (Some(before), Some(to)) = (before, self.end(&own.to)) {
            self.graph.link(before, to);
        }
    }

    /// The kind of the thing that a node belongs to.
    pub fn kind(&self, node: usize) -> Option<ThingKind> {
        match self.nodes[node].site {
            Site::Thing(thing) => self.facts.things[thing].kind(),
            Site::Run(_) => None,
        }
    }

    /// Whether a node belongs to a vent.
    fn is_vent(&self, node: usize) -> bool {
        matches!(self.nodes[node].site, Site::Run(run) if self.facts.runs[run].run.carries == Carries::Vent)
    }

    /// Whether the water of the loop may pass: not through a header tank that stands apart, nor a vent.
    pub fn passes(&self, node: usize) -> bool {
        self.kind(node) != Some(ThingKind::HeaderTank) && !self.is_vent(node)
    }

    /// Whether it is a station of that name, whatever its port or number: `stat.hot`, `pump2`.
    pub fn is_station(&self, node: usize, name: &str) -> bool {
        let own = &self.nodes[node];
        let base = own.name.split('.').next().unwrap_or_default();
        own.station && base.trim_end_matches(|c: char| c.is_ascii_digit()) == name
    }

    /// Whether the thermostat opens this way only while it is cold.
    pub fn is_cold_way(&self, node: usize) -> bool {
        self.nodes[node].station
            && (self.nodes[node].name.ends_with(".cold") || self.nodes[node].name == "bypass")
    }

    /// Whether a node gives the heat of the loop away.
    pub fn sinks(&self, node: usize) -> bool {
        self.kind(node).is_some_and(is_sink) || self.is_station(node, "exchanger")
    }

    /// Whether a node is on the main way of the water.
    pub fn mainly(&self, node: usize) -> bool {
        self.passes(node) && !self.kind(node).is_some_and(is_small) && !self.is_cold_way(node)
    }

    fn sides(&mut self) {
        let none = vec![false; self.graph.len()];
        (self.on_loop, self.on_main) = (none.clone(), none.clone());
        (self.suction, self.delivery) = (none.clone(), none);
        for pump in self.pumps.clone() {
            let on = self.graph.closed(pump, |node| self.passes(node));
            merge(&mut self.on_loop, &on);
            let on = self.graph.closed(pump, |node| self.mainly(node));
            merge(&mut self.on_main, &on);
            let ends = |node: usize| {
                node != pump && ENDS_SUCTION.iter().any(|name| self.is_station(node, name))
            };
            let back = self.graph.reach(&[pump], Sense::Back, |node| {
                self.mainly(node) && !self.sinks(node) && !ends(node)
            });
            let ahead = self.graph.reach(&[pump], Sense::Ahead, |node| {
                self.mainly(node) && !self.sinks(node)
            });
            merge(&mut self.suction, &back);
            merge(&mut self.delivery, &ahead);
        }
        for node in 0..self.graph.len() {
            let pump = self.pumps.contains(&node);
            self.delivery[node] &= !self.suction[node] && !pump;
        }
    }

    /// Whether the water comes round to a pump with the thermostat open: through its hot way, where the
    /// engine has one.
    pub fn comes_round(&self, pump: usize) -> bool {
        let ahead = self
            .graph
            .reach(&[pump], Sense::Ahead, |node| self.passes(node));
        let mut hot = (0..self.nodes.len())
            .filter(|node| ahead[*node] && self.nodes[*node].site == self.nodes[pump].site)
            .filter(|node| {
                self.is_station(*node, "stat") && self.nodes[*node].name.ends_with(".hot")
            })
            .peekable();
        if hot.peek().is_none() {
            return self.on_loop[pump];
        }
        hot.any(|hot| {
            let open = |node: usize| self.passes(node) && !self.is_cold_way(node);
            self.graph.closed(hot, open)[pump]
        })
    }

    /// Whether any node of a run or thing is in a set.
    pub fn any(&self, site: Site, set: &[bool]) -> bool {
        self.nodes
            .iter()
            .zip(set)
            .any(|(node, on)| *on && node.site == site)
    }

    /// All nodes of a run or thing.
    pub fn of_site(&self, site: Site) -> Vec<usize> {
        (0..self.nodes.len())
            .filter(|node| self.nodes[*node].site == site)
            .collect()
    }

    /// The things of kinds that give the heat away and lie on the loop, and exchangers inside engines.
    pub fn sinks_on_loop(&self) -> Vec<String> {
        self.sinks_within(&self.on_loop)
    }

    /// Those of them that lie within some nodes of the loop.
    pub fn sinks_within(&self, within: &[bool]) -> Vec<String> {
        let mut names: Vec<String> = Vec::new();
        for (node, within) in within.iter().enumerate() {
            if !within || !self.on_loop[node] || !self.sinks(node) {
                continue;
            }
            let Site::Thing(thing) = self.nodes[node].site else {
                continue;
            };
            let own = &self.facts.things[thing];
            let name = match own.kind() {
                Some(ThingKind::Engine) => format!("the exchanger in {}", own.key()),
                _ => own.key().to_owned(),
            };
            if !names.contains(&name) {
                names.push(name);
            }
        }
        names
    }

    /// Nodes to which raw water comes: ahead of an open hull fitting that has nothing closed outside it,
    /// or of a raw-water pump with an inlet of its own.
    pub fn with_raw_water(&self) -> Vec<bool> {
        self.raw_from(|thing| self.own_inlet(thing))
    }

    /// Nodes to which raw water would come if each pump were fed whose inlet hose is not written.
    pub fn with_raw_water_at_best(&self) -> Vec<bool> {
        self.raw_from(|thing| !self.facts.on(thing).any(|(_, _, comes)| comes))
    }

    /// Whether a raw-water pump draws by an inlet that is no spigot of the file: a run leaves each of its
    /// spigots, and none comes.
    pub fn own_inlet(&self, thing: usize) -> bool {
        let own = &self.facts.things[thing];
        let on: Vec<(&str, bool)> = self
            .facts
            .on(thing)
            .map(|(_, name, comes)| (name, comes))
            .collect();
        let leaves = |name: &str| on.iter().any(|(own, comes)| *own == name && !comes);
        own.is(ThingKind::RawWaterPump)
            && !on.is_empty()
            && !on.iter().any(|(_, comes)| *comes)
            && own.thing.spigots.iter().all(|spigot| leaves(&spigot.name))
    }

    fn raw_from(&self, pump: impl Fn(usize) -> bool) -> Vec<bool> {
        let closed: Vec<&String> = self
            .facts
            .things
            .iter()
            .flat_map(|own| &own.thing.detail.between)
            .collect();
        let sources: Vec<usize> = (0..self.nodes.len())
            .filter(|node| match self.nodes[*node].site {
                Site::Thing(thing) => {
                    let own = &self.facts.things[thing];
                    let fitting = own.is(ThingKind::HullFitting)
                        && !closed.iter().any(|key| *key == own.key())
                        && !self.is_shut(own.key());
                    fitting || (own.is(ThingKind::RawWaterPump) && pump(thing))
                }
                Site::Run(_) => false,
            })
            .collect();
        self.graph.reach(&sources, Sense::Ahead, |_| true)
    }

    /// The nodes of the circuit that a run or thing belongs to: all to which the same water can come.
    pub fn circuit_of(&self, site: Site) -> Vec<bool> {
        self.graph.together(&self.of_site(site))
    }

    /// Whether a thing has a header tank in it, or is one.
    pub fn has_header(&self, thing: usize) -> bool {
        let own = &self.facts.things[thing];
        let Some(engine) = &own.thing.engine else {
            return own.is(ThingKind::HeaderTank);
        };
        let told = !engine.extra.header_volume.is_left_out()
            || !engine.extra.header_cold_mark.is_left_out()
            || !own.thing.cap.is_left_out()
            || !own.thing.cap_height.is_left_out();
        let station = self.insides[thing]
            .paths()
            .iter()
            .flatten()
            .any(|name| name == "header");
        let layout = matches!(self.insides[thing], Inside::Assumed(layout, _) if layout.header);
        told || station || layout
    }

    /// The things that have a header tank in them or are one.
    pub fn headers(&self) -> Vec<usize> {
        (0..self.facts.things.len())
            .filter(|thing| self.has_header(*thing))
            .collect()
    }
}

fn merge(into: &mut [bool], from: &[bool]) {
    for (into, from) in into.iter_mut().zip(from) {
        *into |= from;
    }
}
