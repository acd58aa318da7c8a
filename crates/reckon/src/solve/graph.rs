//! A plain directed graph: what is reached from where, what lies on a closed way, and by which way
//! one gets from one node to another.

/// With the flow or against it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Sense {
    Ahead,
    Back,
}

/// Nodes are numbers from 0; edges lead one way.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Graph {
    ahead: Vec<Vec<usize>>,
    back: Vec<Vec<usize>>,
}

impl Graph {
    /// Adds a node.
    pub fn node(&mut self) -> usize {
        self.ahead.push(Vec::new());
        self.back.push(Vec::new());
        self.ahead.len() - 1
    }

    /// How many nodes there are.
    pub fn len(&self) -> usize {
        self.ahead.len()
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.ahead.is_empty()
    }

    /// Leads from one node to another, once.
    pub fn link(&mut self, from: usize, to: usize) {
        if !self.ahead[from].contains(&to) {
            self.ahead[from].push(to);
            self.back[to].push(from);
        }
    }

    /// The neighbours of a node in one sense.
    pub fn next(&self, node: usize, sense: Sense) -> &[usize] {
        match sense {
            Sense::Ahead => &self.ahead[node],
            Sense::Back => &self.back[node],
        }
    }

    /// Which nodes are reached from some, over nodes that may be passed. Those begun at count as reached.
    pub fn reach(&self, from: &[usize], sense: Sense, pass: impl Fn(usize) -> bool) -> Vec<bool> {
        let mut reached = vec![false; self.len()];
        let mut open: Vec<usize> = from.to_vec();
        for start in from {
            reached[*start] = true;
        }
        while let Some(node) = open.pop() {
            for next in self.next(node, sense) {
                if !reached[*next] && pass(*next) {
                    reached[*next] = true;
                    open.push(*next);
                }
            }
        }
        reached
    }

    /// Which nodes lie on a closed way through a node; none where there is no such way.
    pub fn closed(&self, through: usize, pass: impl Fn(usize) -> bool) -> Vec<bool> {
        let ahead = self.reach(&[through], Sense::Ahead, &pass);
        let back = self.reach(&[through], Sense::Back, &pass);
        let on: Vec<bool> = ahead.iter().zip(&back).map(|(a, b)| *a && *b).collect();
        if on.iter().filter(|on| **on).count() > 1 {
            on
        } else {
            vec![false; self.len()]
        }
    }

    /// All that hangs together with some nodes, whichever way the edges lead.
    pub fn together(&self, from: &[usize]) -> Vec<bool> {
        let mut reached = vec![false; self.len()];
        let mut open: Vec<usize> = from.to_vec();
        while let Some(node) = open.pop() {
            if std::mem::replace(&mut reached[node], true) {
                continue;
            }
            open.extend(self.ahead[node].iter().chain(&self.back[node]));
        }
        reached
    }

    /// A shortest way from one node to another, both included; a node leads to itself only by a closed way.
    pub fn path(&self, from: usize, to: usize, pass: impl Fn(usize) -> bool) -> Option<Vec<usize>> {
        let mut before: Vec<Option<usize>> = vec![None; self.len()];
        let mut open = std::collections::VecDeque::from([from]);
        while let Some(node) = open.pop_front() {
            for next in &self.ahead[node] {
                if before[*next].is_some() || (!pass(*next) && *next != to) {
                    continue;
                }
                before[*next] = Some(node);
                if *next == to {
                    let mut way = vec![to];
                    let mut at = node;
                    while at != from {
                        way.push(at);
                        at = before[at]?;
                    }
                    way.push(from);
                    way.reverse();
                    return Some(way);
                }
                open.push_back(*next);
            }
        }
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 0 → 1 → 2 → 0, with 1 → 3 → 2 beside it and 4 hanging on 3.
    fn ring() -> Graph {
        let mut graph = Graph::default();
        for _ in 0..5 {
            graph.node();
        }
        for (a, b) in [(0, 1), (1, 2), (2, 0), (1, 3), (3, 2), (3, 4)] {
            graph.link(a, b);
        }
        graph
    }

    #[test]
    fn what_is_closed_and_what_hangs_on_it() {
        let graph = ring();
        assert_eq!(
            graph.closed(0, |_| true),
            [true, true, true, true, false],
            "4 leads nowhere"
        );
        assert_eq!(
            graph.closed(0, |node| node != 3),
            [true, true, true, false, false]
        );
        assert_eq!(graph.closed(0, |node| node != 1), [false; 5]);
        assert_eq!(graph.together(&[4]), [true; 5]);
    }

    #[test]
    fn the_shortest_way_is_found_and_a_node_leads_to_itself_round_the_ring() {
        let graph = ring();
        assert_eq!(graph.path(0, 2, |_| true), Some(vec![0, 1, 2]));
        assert_eq!(graph.path(0, 0, |_| true), Some(vec![0, 1, 2, 0]));
        assert_eq!(graph.path(4, 0, |_| true), None);
        assert_eq!(graph.path(0, 2, |node| node != 1), None);
    }

    #[test]
    fn reach_stops_where_it_may_not_pass() {
        let graph = ring();
        let back = graph.reach(&[0], Sense::Back, |node| node != 1);
        assert_eq!(back, [true, false, true, true, false]);
    }
}
