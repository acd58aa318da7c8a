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
    /// Which branches lie on a closed way of open branches, so that water can go round in them; in a circuit
    /// with several kept pressures, or with inflow, those that may carry water for that reason too.
    pub runs: Vec<bool>,
    /// Which ring-group a node belongs to: nodes that are joined by branches of which each lies on a ring.
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
    let bridge = bridges(network);
    let open = |b: usize| network.branches[b].open;
    let piece = joined(network, open);
    let group = joined(network, |b| open(b) && !bridge[b]);
    let pieces = piece.iter().max().map_or(0, |last| last + 1);
    let mut fixed = vec![0_u32; pieces];
    let mut inflow = vec![0.0; pieces];
    let mut lets = vec![false; pieces];
    for (node, own) in network.nodes.iter().enumerate() {
        let at = piece[node];
        fixed[at] += u32::from(own.fixed.is_some());
        inflow[at] += own.inflow;
        lets[at] |= own.inflow != 0.0;
    }
    // Water that is let in somewhere and leaves elsewhere may run over any open branch of its piece.
    let through: Vec<bool> = (0..pieces).map(|p| lets[p] || fixed[p] > 1).collect();
    let runs: Vec<bool> = network
        .branches
        .iter()
        .enumerate()
        .map(|(b, own)| own.open && (!bridge[b] || through[piece[own.from]]))
        .collect();
    for (p, in_all) in inflow.iter().enumerate() {
        let size: f64 = (0..n)
            .filter(|node| piece[*node] == p)
            .map(|node| network.nodes[node].inflow.abs())
            .sum();
        if fixed[p] == 0 && in_all.abs() > 1e-9 * size {
            return Err(Outcome::Unsolvable(format!(
                "more water is let into the part with node {} than is taken out, and nothing else lets it out",
                piece.iter().position(|at| *at == p).unwrap_or(0)
            )));
        }
    }
    for (b, own) in network.branches.iter().enumerate() {
        let pumped = own.parts.iter().any(|part| matches!(part, Part::Pump(_)));
        let untied = fixed[piece[own.from]] == 0;
        if own.open && untied && (pumped || through[piece[own.from]]) {
            return Err(Outcome::Unsolvable(format!(
                "branch {b} moves water, and nothing ties its pressure to a fixed one: no header tank can be reached"
            )));
        }
    }
    if network.isothermal.is_none() {
        heat_has_a_way(network, &group, &bridge)?;
    }
    Ok(Reach {
        tied: fixed.iter().map(|count| *count > 0).collect(),
        piece,
        runs,
        group,
    })
}

/// Heat that comes in must come to a sink in the same rings, and a pump must move them.
fn heat_has_a_way(network: &Network, group: &[usize], bridge: &[bool]) -> Result<(), Outcome> {
    let groups = group.iter().max().map_or(0, |last| last + 1);
    let (mut heated, mut cooled, mut pumped) = (
        vec![false; groups],
        vec![false; groups],
        vec![false; groups],
    );
    for (b, own) in network.branches.iter().enumerate() {
        if !own.open {
            continue;
        }
        let at = group[own.from];
        for part in &own.parts {
            let heat = part.heat();
            if bridge[b] && heat != 0.0 {
                return Err(Outcome::NoSteadyState(format!(
                    "branch {b} is heated and lies on no ring: its water stands and boils"
                )));
            }
            heated[at] |= heat != 0.0 && !bridge[b];
            cooled[at] |= matches!(part, Part::Cooler(_)) && !bridge[b];
            pumped[at] |= matches!(part, Part::Pump(pump) if pump.ratio > 0.0) && !bridge[b];
        }
    }
    for own in network.branches.iter().filter(|own| !own.open) {
        if own.parts.iter().any(|part| part.heat() != 0.0) {
            return Err(Outcome::NoSteadyState(
                "what heats the water is shut off from the circuit".into(),
            ));
        }
    }
    for at in 0..groups {
        if heated[at] && !cooled[at] {
            return Err(Outcome::NoSteadyState(
                "heat comes into the water and nothing on its rings takes it away: it grows warmer until it boils"
                    .into(),
            ));
        }
        if heated[at] && !pumped[at] {
            return Err(Outcome::NoSteadyState(
                "heat comes into the water and no pump moves it".into(),
            ));
        }
    }
    Ok(())
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

/// Which open branches lie on no ring: without them two parts would not hang together. By depth first,
/// without recursion, so that a long row does not run out of room.
fn bridges(network: &Network) -> Vec<bool> {
    let n = network.nodes.len();
    let mut beside: Vec<Vec<(usize, usize)>> = vec![Vec::new(); n];
    for (b, own) in network.branches.iter().enumerate() {
        if own.open && own.from != own.to {
            beside[own.from].push((own.to, b));
            beside[own.to].push((own.from, b));
        }
    }
    let mut bridge = vec![false; network.branches.len()];
    let mut order = vec![usize::MAX; n];
    let mut low = vec![usize::MAX; n];
    let mut count = 0;
    for start in 0..n {
        if order[start] != usize::MAX {
            continue;
        }
        let mut way: Vec<(usize, usize, usize)> = vec![(start, usize::MAX, 0)];
        (order[start], low[start]) = (count, count);
        count += 1;
        while let Some((node, by, next)) = way.last_mut() {
            let (node, by) = (*node, *by);
            if let Some((to, b)) = beside[node].get(*next).copied() {
                *next += 1;
                if b == by {
                    continue;
                }
                if order[to] == usize::MAX {
                    (order[to], low[to]) = (count, count);
                    count += 1;
                    way.push((to, b, 0));
                } else {
                    low[node] = low[node].min(order[to]);
                }
            } else {
                way.pop();
                if let Some((parent, _, _)) = way.last() {
                    low[*parent] = low[*parent].min(low[node]);
                    if low[node] > order[*parent] {
                        bridge[by] = true;
                    }
                }
            }
        }
    }
    bridge
}
