//! A tree of boxes over triangles, four to a node, for the nearest of them to a segment or a point.

use super::triangle::{Pair, Triangle};
use super::{Bounds, triangle};
use crate::Vec3;

const LEAF: u32 = 1 << 31;
const NONE: u32 = u32::MAX;

/// Four boxes side by side: middles and half edges, in single precision and rounded outwards.
#[derive(Debug, Clone)]
#[repr(align(64))]
pub(crate) struct Node {
    middle: [[f32; 4]; 3],
    half: [[f32; 4]; 3],
    child: [u32; 4],
}

/// What a node's place holds.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Child {
    /// Another node.
    Node(u32),
    /// A triangle by its place in the tree's order.
    Triangle(u32),
}

/// The nearest triangle.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Hit {
    pub(crate) distance: f64,
    pub(crate) on_segment: Vec3,
    pub(crate) on_mesh: Vec3,
    /// Place of the triangle in the tree's order.
    pub(crate) triangle: u32,
}

/// The tree with its triangles, in its own order.
#[derive(Debug, Clone)]
pub(crate) struct Tree {
    nodes: Vec<Node>,
    triangles: Vec<Triangle>,
    bounds: Bounds,
}

/// A segment in the single precision of the boxes.
struct Asked {
    middle: [f32; 3],
    half: [f32; 3],
    way: [f32; 3],
    long: f32,
    // More than all that rounding may have done to a distance.
    slack: f32,
}

fn single(v: Vec3) -> [f32; 3] {
    v.to_array().map(|x| x as f32)
}

impl Asked {
    fn new(a: Vec3, b: Vec3, reach: f64) -> Self {
        let (middle, half) = ((a + b) * 0.5, (b - a) * 0.5);
        let long = half.length();
        let way = if long > 0.0 { half / long } else { Vec3::ZERO };
        Self {
            middle: single(middle),
            half: single(half.abs()),
            way: single(way),
            long: long as f32,
            slack: ((reach + middle.abs().max_element() + long) * 2e-6) as f32,
        }
    }
}

impl Node {
    /// For each of the four boxes a distance that the segment is not nearer than, but for rounding:
    /// the gap along the axes, or the gap along the perpendicular to the middle of the box.
    fn gaps(&self, asked: &Asked) -> [f32; 4] {
        let mut gaps = [0.0; 4];
        for (k, gap) in gaps.iter_mut().enumerate() {
            // OK because k is below four and the axes are three.
            let apart = |axis: usize| self.middle[axis][k] - asked.middle[axis];
            let half = |axis: usize| self.half[axis][k];
            let (x, y, z) = (apart(0), apart(1), apart(2));
            let over = |apart: f32, axis: usize| {
                let over = apart.abs() - (half(axis) + asked.half[axis]);
                if over > 0.0 { over } else { 0.0 }
            };
            let (p, q, r) = (over(x, 0), over(y, 1), over(z, 2));
            let [u, v, w] = asked.way;
            let along = x * u + y * v + z * w;
            let along = if along > asked.long {
                asked.long
            } else {
                along
            };
            let along = if along < -asked.long {
                -asked.long
            } else {
                along
            };
            let (x, y, z) = (x - along * u, y - along * v, z - along * w);
            let square = x * x + y * y + z * z;
            let reach = x.abs() * half(0) + y.abs() * half(1) + z.abs() * half(2);
            let off = (square - reach) / (square.sqrt() + f32::MIN_POSITIVE);
            let straight = (p * p + q * q + r * r).sqrt();
            *gap = if off > straight { off } else { straight };
        }
        gaps
    }

    /// What the four places hold.
    pub(crate) fn children(&self) -> impl Iterator<Item = Child> + '_ {
        self.child
            .iter()
            .filter(|child| **child != NONE)
            .map(|child| {
                if child & LEAF == 0 {
                    Child::Node(*child)
                } else {
                    Child::Triangle(child & !LEAF)
                }
            })
    }
}

impl Tree {
    /// A tree over the triangles.
    pub(crate) fn new(triangles: &[Triangle]) -> Self {
        let bounds = Bounds::of(triangles.iter().flat_map(Triangle::corners));
        let mut parts: Vec<(Vec3, u32)> = triangles.iter().map(Triangle::middle).zip(0..).collect();
        let mut builder = Builder {
            triangles,
            nodes: Vec::with_capacity(triangles.len() / 2 + 1),
        };
        builder.node(&mut parts, 0);
        Self {
            nodes: builder.nodes,
            triangles: parts
                .iter()
                .filter_map(|(_, number)| triangles.get(*number as usize).copied())
                .collect(),
            bounds,
        }
    }

    pub(crate) fn bounds(&self) -> Bounds {
        self.bounds
    }

    /// The nodes; a node stands before those below it, and the first is the root.
    pub(crate) fn nodes(&self) -> &[Node] {
        &self.nodes
    }

    /// The triangles in the tree's order.
    pub(crate) fn triangles(&self) -> &[Triangle] {
        &self.triangles
    }

    /// The nearest triangle to the segment `a`–`b` if it is no farther than `within`.
    pub(crate) fn nearest(&self, a: Vec3, b: Vec3, within: f64) -> Option<Hit> {
        self.found(a, b, within, 0.0)
    }

    /// Whether any triangle is no farther from the segment than `within`.
    pub(crate) fn any(&self, a: Vec3, b: Vec3, within: f64) -> bool {
        self.found(a, b, within, f64::INFINITY).is_some()
    }

    /// The nearest triangle, or one that is nearer than the root of `enough`.
    fn found(&self, a: Vec3, b: Vec3, within: f64, enough: f64) -> Option<Hit> {
        if a == b {
            self.search(a, a, within, enough, |triangle, _| {
                let on_triangle = triangle.nearest_to(a);
                Some(Pair {
                    squared: a.distance_squared(on_triangle),
                    on_segment: a,
                    on_triangle,
                })
            })
        } else {
            self.search(a, b, within, enough, |triangle, bound| {
                triangle.nearest_to_segment(a, b, bound)
            })
        }
    }

    fn search(
        &self,
        a: Vec3,
        b: Vec3,
        within: f64,
        enough: f64,
        ask: impl Fn(&triangle::Triangle, f64) -> Option<Pair>,
    ) -> Option<Hit> {
        let reach = self
            .bounds
            .low
            .abs()
            .max(self.bounds.high.abs())
            .max_element();
        let asked = Asked::new(a, b, reach);
        // The bound a hair wider, so that what lies just on it is found.
        let mut bound = within;
        let mut squared = within * within * (1.0 + 4.0 * f64::EPSILON);
        let mut limit = bound as f32 + asked.slack;
        let mut best: Option<(Pair, u32)> = None;
        // A node leaves at most three behind for each level below it, and a thousand million triangles
        // have fifteen.
        let mut waiting = [(0.0_f32, 0_u32); 64];
        let mut count = 1;
        while count > 0 && (best.is_none() || squared > enough) {
            count -= 1;
            let (gap, node) = waiting[count]; // OK because count was above zero and at most the length.
            if gap > limit {
                continue;
            }
            let node = &self.nodes[node as usize]; // OK because children are places in the list.
            let gaps = node.gaps(&asked);
            let mut order = [(0.0_f32, NONE); 4];
            let mut places = 0;
            for (gap, child) in gaps.into_iter().zip(node.child) {
                if gap <= limit && child != NONE {
                    let mut place = places;
                    // OK because at most four are put in.
                    while place > 0 && order[place - 1].0 > gap {
                        order[place] = order[place - 1];
                        place -= 1;
                    }
                    order[place] = (gap, child);
                    places += 1;
                }
            }
            for (gap, child) in &order[..places] {
                if child & LEAF == 0 || *gap > limit {
                    continue;
                }
                let number = child & !LEAF;
                let triangle = &self.triangles[number as usize]; // OK because leaves are places in the list.
                let Some(pair) = ask(triangle, squared) else {
                    continue;
                };
                if pair.squared < squared || (best.is_none() && pair.squared <= squared) {
                    best = Some((pair, number));
                    squared = pair.squared;
                    bound = squared.sqrt();
                    limit = bound as f32 + asked.slack;
                }
            }
            for (gap, child) in order[..places].iter().rev() {
                if child & LEAF == 0 && *gap <= limit && count < waiting.len() {
                    waiting[count] = (*gap, *child); // OK because count is below the length.
                    count += 1;
                }
            }
        }
        best.map(|(pair, triangle)| Hit {
            distance: bound,
            on_segment: pair.on_segment,
            on_mesh: pair.on_triangle,
            triangle,
        })
    }

    /// Calls `found` for every triangle that is `wanted` and no farther from a point than `within`,
    /// with its place nearest to the point and how far that is.
    pub(crate) fn each_within(
        &self,
        p: Vec3,
        within: f64,
        wanted: impl Fn(&Triangle) -> bool,
        found: &mut dyn FnMut(&Triangle, Vec3, f64),
    ) {
        let reach = self
            .bounds
            .low
            .abs()
            .max(self.bounds.high.abs())
            .max_element();
        let asked = Asked::new(p, p, reach);
        let limit = within as f32 + asked.slack;
        let mut waiting = vec![0_u32];
        while let Some(node) = waiting.pop() {
            let Some(node) = self.nodes.get(node as usize) else {
                continue;
            };
            for (gap, child) in node.gaps(&asked).into_iter().zip(node.child) {
                if gap > limit || child == NONE {
                    continue;
                }
                if child & LEAF == 0 {
                    waiting.push(child);
                } else if let Some(triangle) = self.triangles.get((child & !LEAF) as usize)
                    && wanted(triangle)
                {
                    let on = triangle.nearest_to(p);
                    let far = p.distance(on);
                    if far <= within {
                        found(triangle, on, far);
                    }
                }
            }
        }
    }
}

struct Builder<'a> {
    triangles: &'a [Triangle],
    nodes: Vec<Node>,
}

impl Builder<'_> {
    fn bounds(&self, parts: &[(Vec3, u32)]) -> Bounds {
        Bounds::of(
            parts
                .iter()
                .filter_map(|(_, number)| self.triangles.get(*number as usize))
                .flat_map(Triangle::corners),
        )
    }

    /// Makes the node over these triangles, whose first stands at `first` in the whole order.
    fn node(&mut self, parts: &mut [(Vec3, u32)], first: usize) -> u32 {
        let place = self.nodes.len();
        self.nodes.push(Node {
            // Far enough never to be near, near enough for its square.
            middle: [[1e15; 4]; 3],
            half: [[0.0; 4]; 3],
            child: [NONE; 4],
        });
        for (k, cut) in quarters(parts).into_iter().enumerate() {
            let (from, to) = cut;
            let part = &mut parts[from..to]; // OK because the cuts lie in the list and rise.
            if part.is_empty() {
                continue;
            }
            let bounds = self.bounds(part);
            let child = if part.len() == 1 {
                LEAF | (first + from) as u32
            } else {
                self.node(part, first + from)
            };
            let node = &mut self.nodes[place]; // OK because it was pushed above.
            let middle = (bounds.low + bounds.high) * 0.5;
            for axis in 0..3 {
                // OK because k is below four and the axes are three.
                let rounded = middle[axis] as f32;
                let half = (bounds.high[axis] - f64::from(rounded))
                    .max(f64::from(rounded) - bounds.low[axis]);
                node.middle[axis][k] = rounded;
                node.half[axis][k] = (half as f32).next_up();
            }
            node.child[k] = child;
        }
        place as u32
    }
}

/// Cuts a list into at most four parts along its longest sides, and a short one into its items.
fn quarters(parts: &mut [(Vec3, u32)]) -> [(usize, usize); 4] {
    let count = parts.len();
    if count <= 4 {
        return [0, 1, 2, 3].map(|k: usize| (k.min(count), (k + 1).min(count)));
    }
    let middle = halve(parts);
    let (low, high) = parts.split_at_mut(middle);
    let (one, other) = (halve(low), middle + halve(high));
    [(0, one), (one, middle), (middle, other), (other, count)]
}

/// Sorts the list so that its first half lies lower along the longest side, and tells where it ends:
/// at a whole number of fours, so that the lowest nodes are full.
fn halve(parts: &mut [(Vec3, u32)]) -> usize {
    if parts.len() <= 4 {
        return parts.len();
    }
    let bounds = Bounds::of(parts.iter().map(|(middle, _)| *middle));
    let sides = bounds.high - bounds.low;
    let axis = if sides.x >= sides.y && sides.x >= sides.z {
        0
    } else if sides.y >= sides.z {
        1
    } else {
        2
    };
    let middle = (parts.len().div_ceil(8) * 4).min(parts.len() - 1);
    // OK because the axis is below three.
    parts.select_nth_unstable_by(middle, |x, y| {
        x.0[axis].total_cmp(&y.0[axis]).then(x.1.cmp(&y.1))
    });
    middle
}
