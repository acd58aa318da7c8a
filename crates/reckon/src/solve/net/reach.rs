//! What the graph of a circuit says before anything is reckoned: which water can move, what ties its
//! pressure, and whether heat that comes in has a way out.

use super::{Network, Outcome, Part};

/// What can be reached, and what can run.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Reach {
    /// Which piece of the open graph a node belongs to.
    pub piece: Vec<usize>,
    /// Whether a piece is tied to a pressure that is kept.
    pub tied: Vec<bool>,
    /// Which branches may carry water: those on a closed way of open branches through a pump that turns, or
    /// through the outside, where water is let in or several pressures are kept.
    pub runs: Vec<bool>,
    /// Which group a node belongs to: nodes that are joined by branches that may carry water.
    pub group: Vec<usize>,
}

/// Looks at the graph. The error is the outcome where there is no answer.
pub fn reach(network: &Network) -> Result<Reach, Outcome> {
    let n = network.nodes.len();
    for branch in &network.branches {
        if branch.from >= n || branch.to >= n {
            return Err(Outcome::Unsolvable(
                "a branch ends at a node that is not there".into(),
            ));
        }
    }
    let piece = joined(network, |b| network.branches[b].open);
    let pieces = piece.iter().max().map_or(0, |last| last + 1);
    let (mut tied, mut inflow, mut size) =
        (vec![false; pieces], vec![0.0; pieces], vec![0.0; pieces]);
    for (own, at) in network.nodes.iter().zip(&piece) {
        tied[*at] |= own.fixed.is_some();
        inflow[*at] += own.inflow;
        size[*at] += own.inflow.abs();
    }
    for (p, in_all) in inflow.iter().enumerate() {
        if !tied[p] && in_all.abs() > 1e-9 * size[p] {
            return Err(Outcome::Unsolvable(format!(
                "more water is let into the part with node {} than is taken out, and nothing else lets it out",
                piece.iter().position(|at| *at == p).unwrap_or(0)
            )));
        }
    }
    let (ring, runs) = rings(network);
    for (b, own) in network.branches.iter().enumerate() {
        if runs[b] && !tied[piece[own.from]] {
            return Err(Outcome::Unsolvable(format!(
                "branch {b} moves water, and nothing ties its pressure to a fixed one: no header tank can be reached"
            )));
        }
    }
    let group = joined(network, |b| runs[b]);
    if network.isothermal.is_none() {
        heat_has_a_way(network, &group, &ring, &runs)?;
    }
    Ok(Reach {
        tied,
        piece,
        runs,
        group,
    })
}

/// Heat that comes in must come into water that runs, and with it to a sink; and something must set the
/// temperature of all water that runs.
fn heat_has_a_way(
    network: &Network,
    group: &[usize],
    ring: &[bool],
    runs: &[bool],
) -> Result<(), Outcome> {
    let groups = group.iter().max().map_or(0, |last| last + 1);
    let (mut heated, mut cooled, mut moved) = (
        vec![false; groups],
        vec![false; groups],
        vec![false; groups],
    );
    for (b, own) in network.branches.iter().enumerate() {
        let at = group[own.from];
        let heat = own.parts.iter().any(|part| part.heat() != 0.0);
        if heat && !runs[b] {
            return Err(Outcome::NoSteadyState(if !own.open {
                "what heats the water is shut off from the circuit".into()
            } else if ring[b] {
                format!("heat comes into the water of branch {b}, and no pump moves it")
            } else {
                format!("branch {b} is heated and lies on no ring: its water stands and boils")
            }));
        }
        let cools = |part: &Part| matches!(part, Part::Cooler(cooler) if cooler.takes());
        heated[at] |= heat;
        moved[at] |= runs[b];
        cooled[at] |= runs[b] && own.parts.iter().any(cools);
    }
    let mut kept = vec![0_u32; groups];
    for (own, at) in network.nodes.iter().zip(group) {
        kept[*at] += u32::from(own.fixed.is_some());
        if own.inflow != 0.0 || (kept[*at] > 1 && moved[*at]) {
            return Err(Outcome::Unsolvable(
                "water may come in from outside, and how warm it is was not told".into(),
            ));
        }
    }
    if let Some(at) = (0..groups).find(|at| moved[*at] && !cooled[*at]) {
        return Err(if heated[at] {
            Outcome::NoSteadyState(
                "heat comes into the water and nothing on its rings takes it away: it grows warmer until it boils"
                    .into(),
            )
        } else {
            Outcome::Unsolvable(format!(
                "nothing sets the temperature of the water that runs by node {}",
                group.iter().position(|own| *own == at).unwrap_or(0)
            ))
        });
    }
    if !moved.contains(&true) {
        return Err(Outcome::Unsolvable(
            "no water runs, and nothing sets its temperature".into(),
        ));
    }
    let lifts = |own: &super::Branch| own.parts.iter().any(|part| matches!(part, Part::Lift(_)));
    let heard = network
        .branches
        .iter()
        .zip(runs)
        .any(|(own, runs)| *runs && lifts(own));
    match network.stat {
        Some(stat) if heard && !group.get(stat.node).is_some_and(|at| moved[*at]) => Err(
            Outcome::Unsolvable("the element of the thermostat feels water that stands".into()),
        ),
        _ => Ok(()),
    }
}

/// Numbers the parts of the graph that hang together over the branches that count.
fn joined(network: &Network, counts: impl Fn(usize) -> bool) -> Vec<usize> {
    let n = network.nodes.len();
    let mut root: Vec<usize> = (0..n).collect();
    fn find(root: &mut [usize], mut at: usize) -> usize {
        while root[at] != at {
            root[at] = root[root[at]];
            at = root[at];
        }
        at
    }
    for (b, own) in network.branches.iter().enumerate() {
        if counts(b) {
            let (one, other) = (find(&mut root, own.from), find(&mut root, own.to));
            root[one.max(other)] = one.min(other);
        }
    }
    let mut number = vec![usize::MAX; n];
    let mut next = 0;
    (0..n)
        .map(|node| {
            let top = find(&mut root, node);
            if number[top] == usize::MAX {
                number[top] = next;
                next += 1;
            }
            number[top]
        })
        .collect()
}

/// Which open branches lie on a closed way, and which of them may carry water. The closed ways through
/// the outside count too: nodes with a pressure that is kept, or with inflow, are joined there. Two
/// branches lie on a closed way together where they belong to one block of the graph; the blocks are found
/// depth first, without recursion, so that a long row does not run out of room.
fn rings(network: &Network) -> (Vec<bool>, Vec<bool>) {
    let (n, count) = (network.nodes.len(), network.branches.len());
    let outside = n;
    let mut beside: Vec<Vec<(usize, usize)>> = vec![Vec::new(); n + 1];
    let mut join = |one: usize, other: usize, edge: usize| {
        beside[one].push((other, edge));
        beside[other].push((one, edge));
    };
    for (b, own) in network.branches.iter().enumerate() {
        if own.open && own.from != own.to {
            join(own.from, own.to, b);
        }
    }
    for (node, own) in network.nodes.iter().enumerate() {
        if own.fixed.is_some() || own.inflow != 0.0 {
            join(node, outside, count + node);
        }
    }
    let turns = |b: usize| {
        let mut parts = network.branches[b].parts.iter();
        parts.any(|part| matches!(part, Part::Pump(pump) if pump.ratio > 0.0))
    };
    let (mut ring, mut runs) = (vec![false; count], vec![false; count]);
    let mut block = |edges: &[usize]| {
        let driven = edges.iter().any(|edge| *edge >= count || turns(*edge));
        for edge in edges.iter().filter(|edge| **edge < count) {
            ring[*edge] = true;
            runs[*edge] = driven;
        }
    };
    for (b, own) in network.branches.iter().enumerate() {
        if own.open && own.from == own.to {
            block(&[b]);
        }
    }
    let mut order = vec![usize::MAX; n + 1];
    let mut low = vec![usize::MAX; n + 1];
    let mut next_number = 0;
    for start in 0..=n {
        if order[start] != usize::MAX {
            continue;
        }
        let mut kept: Vec<usize> = Vec::new();
        // Node, the edge by which it was come to, which neighbour is next, and how many edges were kept.
        let mut way = vec![(start, usize::MAX, 0, 0)];
        (order[start], low[start]) = (next_number, next_number);
        next_number += 1;
        while let Some((node, by, next, before)) = way.last_mut() {
            let (node, by, before) = (*node, *by, *before);
            if let Some((to, edge)) = beside[node].get(*next).copied() {
                *next += 1;
                if edge == by {
                    continue;
                }
                if order[to] == usize::MAX {
                    (order[to], low[to]) = (next_number, next_number);
                    next_number += 1;
                    way.push((to, edge, 0, kept.len()));
                    kept.push(edge);
                } else if order[to] < order[node] {
                    low[node] = low[node].min(order[to]);
                    kept.push(edge);
                }
            } else {
                way.pop();
                if let Some((parent, _, _, _)) = way.last() {
                    low[*parent] = low[*parent].min(low[node]);
                    if low[node] >= order[*parent] {
                        // A block of one edge lies on no closed way.
                        if kept.len() - before > 1 {
                            block(&kept[before..]);
                        }
                        kept.truncate(before);
                    }
                }
            }
        }
    }
    (ring, runs)
}
