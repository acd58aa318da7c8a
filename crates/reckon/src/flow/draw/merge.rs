//! Rows of parts without a branch between them are led together into one branch.

use std::sync::Arc;

use super::{Drawn, DrawnSink, Heater, Maker, Place, Spot, Tagged, si};
use crate::solve::net::{Branch, Gives, Law, Medium, Network, Node, Part, Stat, Tee};
use crate::stages::circuit::plan::Site;

impl Maker<'_, '_> {
    pub(super) fn finish(self, medium: Arc<Medium>, surface: f64) -> Option<Drawn> {
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
        let heaters = self
            .heaters
            .iter()
            .filter_map(|(item, ua)| {
                find(*item).map(|(branch, part)| Heater {
                    branch,
                    part,
                    item: *item,
                    ua: *ua,
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
        let out_height = self
            .index
            .get(&(Site::Thing(thing), "out".to_owned()))
            .and_then(|node| self.nodes[*node].height);
        let inlet = self
            .index
            .get(&(Site::Thing(thing), "in".to_owned()))
            .and_then(|node| self.nodes[*node].height)
            .or_else(|| si(&self.facts.things[thing].height));
        let pump_node = match pump_in {
            Spot::Node(node) => node,
            Spot::Within(b, _) => branches[b].from,
        };
        let reached = distances(&branches, pump_node);
        let places = self
            .places
            .into_iter()
            .filter_map(|joint| {
                let spot = spots[joint.node]?;
                Some(Place {
                    along: joint
                        .main
                        .then(|| distance(&branches, &reached, spot))
                        .flatten(),
                    name: joint.name,
                    title: joint.title,
                    height: joint.height,
                    bore: joint.bore,
                    spot,
                    suction: joint.suction,
                    rated: joint.rated,
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
            heaters,
            out,
            back,
            suction: (pump_in, inlet),
            out_height,
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

/// Length of the way through a part [m].
fn length(part: &Part) -> f64 {
    match part {
        Part::Pipe(pipe) => pipe.length,
        Part::Cooler(cooler) => match &cooler.gives {
            Gives::Sea(surface) => surface.length,
            _ => 0.0,
        },
        _ => 0.0,
    }
}

/// How far each node lies from a first one, the shortest way with the flow [m].
fn distances(branches: &[Branch], first: usize) -> Vec<Option<f64>> {
    let nodes = branches.iter().map(|own| own.from.max(own.to) + 1).max();
    let mut out: Vec<Option<f64>> = vec![None; nodes.unwrap_or(0)];
    if let Some(first) = out.get_mut(first) {
        *first = Some(0.0);
    }
    // As often as there are branches is enough for every way to have been gone.
    for _ in 0..branches.len() {
        for own in branches {
            let Some(from) = out[own.from] else { continue };
            let there = from + own.parts.iter().map(length).sum::<f64>();
            if out[own.to].is_none_or(|known| there < known) {
                out[own.to] = Some(there);
            }
        }
    }
    out
}

/// How far a spot lies from the pump [m].
fn distance(branches: &[Branch], reached: &[Option<f64>], spot: Spot) -> Option<f64> {
    match spot {
        Spot::Node(node) => reached[node],
        Spot::Within(b, after) => {
            let own = &branches[b];
            let on_way: f64 = own.parts.iter().take(after).map(length).sum();
            reached[own.from].map(|from| from + on_way)
        }
    }
}
