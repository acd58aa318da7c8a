//! Parts of a surface that hang together by edges, and which of them are inside out.

use super::Bounds;
use super::tree::Tree;
use super::triangle::Triangle;
use super::winding::Winding;

/// The first of what a thing hangs together with, with the ways to it shortened.
pub(crate) fn root(of: &mut [u32], mut name: u32) -> u32 {
    loop {
        let up = of.get(name as usize).copied().unwrap_or(name);
        if up == name {
            return name;
        }
        let further = of.get(up as usize).copied().unwrap_or(up);
        if let Some(place) = of.get_mut(name as usize) {
            *place = further;
        }
        name = further;
    }
}

/// For each triangle the number of its part, counted from zero as they are met.
pub(super) struct Parts {
    of: Vec<u32>,
    count: usize,
}

impl Parts {
    /// Triangles hang together by the edges that they share.
    pub(super) fn of(triangles: &[[u32; 3]]) -> Self {
        let key = |p: u32, q: u32| u64::from(p.min(q)) << 32 | u64::from(p.max(q));
        let mut edges: Vec<(u64, u32)> = triangles
            .iter()
            .zip(0..)
            .flat_map(|([a, b, c], number)| {
                [(*a, *b), (*b, *c), (*c, *a)].map(|(p, q)| (key(p, q), number))
            })
            .collect();
        edges.sort_unstable();
        let mut up: Vec<u32> = (0..triangles.len() as u32).collect();
        for pair in edges.windows(2) {
            if let [(edge, one), (same, other)] = pair
                && edge == same
            {
                let (one, other) = (root(&mut up, *one), root(&mut up, *other));
                if let Some(place) = up.get_mut(one.max(other) as usize) {
                    *place = one.min(other);
                }
            }
        }
        let mut of = Vec::with_capacity(triangles.len());
        let mut count = 0;
        for number in 0..triangles.len() as u32 {
            let first = root(&mut up, number);
            // The first of a part stands before the others, so its number is known to them.
            let part = of.get(first as usize).copied().unwrap_or_else(|| {
                count += 1;
                count - 1
            });
            of.push(part);
        }
        Self {
            of,
            count: count as usize,
        }
    }

    /// The triangles of each part.
    pub(super) fn split(&self, triangles: &[Triangle]) -> Vec<Vec<Triangle>> {
        let mut parts = vec![Vec::new(); self.count];
        for (triangle, part) in triangles.iter().zip(&self.of) {
            if let Some(list) = parts.get_mut(*part as usize) {
                list.push(*triangle);
            }
        }
        parts
    }

    /// Turns the closed parts that are inside out, and tells whether there were any: each by its own
    /// volume, but a part that lies within another as that one, for it may be a cavity.
    pub(super) fn turn(&self, triangles: &mut [Triangle]) -> bool {
        let odd = inside_out(&self.split(triangles));
        for (triangle, part) in triangles.iter_mut().zip(&self.of) {
            if odd.get(*part as usize) == Some(&true) {
                std::mem::swap(&mut triangle.b, &mut triangle.c);
            }
        }
        odd.contains(&true)
    }
}

/// A part that lies in no other.
struct Outer<'a> {
    triangles: &'a [Triangle],
    bounds: Bounds,
    odd: bool,
    tree: Option<(Tree, Winding)>,
}

impl Outer<'_> {
    fn about(&mut self, bounds: &Bounds, part: &[Triangle]) -> bool {
        const LOOKS: usize = 7;
        if !(self.bounds.holds(bounds.low) && self.bounds.holds(bounds.high)) {
            return false;
        }
        let (tree, winding) = self.tree.get_or_insert_with(|| {
            let tree = Tree::new(self.triangles);
            let winding = Winding::new(&tree);
            (tree, winding)
        });
        // Several looks, for a part that touches the other's surface here or there.
        let step = part.len().div_ceil(LOOKS).max(1);
        let looks: Vec<bool> = part
            .iter()
            .step_by(step)
            .map(|triangle| winding.at(tree, triangle.middle(), None).abs() > 0.5)
            .collect();
        2 * looks.iter().filter(|within| **within).count() > looks.len()
    }
}

fn inside_out(parts: &[Vec<Triangle>]) -> Vec<bool> {
    let volume = |part: &[Triangle]| -> f64 { part.iter().map(|t| t.a.dot(t.b.cross(t.c))).sum() };
    let mut order: Vec<(f64, usize)> = parts.iter().map(|part| volume(part)).zip(0..).collect();
    order.sort_by(|x, y| y.0.abs().total_cmp(&x.0.abs()).then(x.1.cmp(&y.1)));
    let mut odd = vec![false; parts.len()];
    let mut outer: Vec<Outer<'_>> = Vec::new();
    for (volume, number) in order {
        let (Some(part), Some(place)) = (parts.get(number), odd.get_mut(number)) else {
            continue;
        };
        let bounds = Bounds::of(part.iter().flat_map(Triangle::corners));
        let around = outer.iter_mut().find_map(|outer| {
            let within = outer.about(&bounds, part);
            within.then_some(outer.odd)
        });
        *place = around.unwrap_or(volume < 0.0);
        if around.is_none() {
            outer.push(Outer {
                triangles: part,
                bounds,
                odd: *place,
                tree: None,
            });
        }
    }
    odd
}
