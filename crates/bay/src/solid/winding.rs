//! How often a surface winds about a point: the solid angle that it fills there over the whole round.
//!
//! Near triangles count exactly; a group of them that is more than 2.7 of its own radii away counts
//! by the first two terms of its series (Barill, Dickson, Schmidt, Levin and Jacobson, Fast winding
//! numbers for soups and clouds, 2018; from memory).

use super::tree::{Child, Tree};
use super::triangle::Triangle;
use crate::Vec3;

/// A group nearer than this many of its radii is looked into.
const FAR: f64 = 2.7;

/// The series of one group.
#[derive(Debug, Clone, Copy)]
struct Group {
    middle: Vec3,
    far_squared: f64,
    area: Vec3,
    // Moments of the areas about the middle: xx, yy, zz, and the sums xy + yx, yz + zy, zx + xz.
    even: Vec3,
    mixed: Vec3,
}

/// The series of all nodes of a tree.
#[derive(Debug, Clone)]
pub(crate) struct Winding {
    groups: Vec<Group>,
}

fn moments(apart: Vec3, area: Vec3) -> (Vec3, Vec3) {
    let turned = Vec3::new(apart.y, apart.z, apart.x);
    let area_turned = Vec3::new(area.y, area.z, area.x);
    (apart * area, apart * area_turned + turned * area)
}

impl Winding {
    pub(crate) fn new(tree: &Tree) -> Self {
        #[derive(Clone, Copy)]
        struct Sum {
            weight: f64,
            place: Vec3,
            area: Vec3,
        }
        let nothing = Sum {
            weight: 0.0,
            place: Vec3::ZERO,
            area: Vec3::ZERO,
        };
        let sum_of = |triangle: &Triangle| {
            let area = triangle.twice_area() * 0.5;
            let weight = area.length();
            Sum {
                weight,
                place: triangle.middle() * weight,
                area,
            }
        };
        let count = tree.nodes().len();
        let mut sums = vec![nothing; count];
        let mut groups = vec![
            Group {
                middle: Vec3::ZERO,
                far_squared: f64::INFINITY,
                area: Vec3::ZERO,
                even: Vec3::ZERO,
                mixed: Vec3::ZERO,
            };
            count
        ];
        // Those below come before those above. OK because children are places in the lists.
        for (place, node) in tree.nodes().iter().enumerate().rev() {
            let mut sum = nothing;
            for child in node.children() {
                let part = match child {
                    Child::Node(child) => sums[child as usize],
                    Child::Triangle(number) => sum_of(&tree.triangles()[number as usize]),
                };
                sum.weight += part.weight;
                sum.place += part.place;
                sum.area += part.area;
            }
            sums[place] = sum;
            let middle = if sum.weight > 0.0 {
                sum.place / sum.weight
            } else {
                Vec3::ZERO
            };
            let mut group = Group {
                middle,
                far_squared: 0.0,
                area: sum.area,
                even: Vec3::ZERO,
                mixed: Vec3::ZERO,
            };
            let mut radius = 0.0_f64;
            for child in node.children() {
                let (apart, area, even, mixed) = match child {
                    Child::Node(child) => {
                        let below = groups[child as usize];
                        let apart = below.middle - middle;
                        radius = radius.max(apart.length() + below.far_squared.sqrt() / FAR);
                        (apart, below.area, below.even, below.mixed)
                    }
                    Child::Triangle(number) => {
                        let triangle = &tree.triangles()[number as usize];
                        for corner in triangle.corners() {
                            radius = radius.max(corner.distance(middle));
                        }
                        let apart = triangle.middle() - middle;
                        (apart, triangle.twice_area() * 0.5, Vec3::ZERO, Vec3::ZERO)
                    }
                };
                let (more_even, more_mixed) = moments(apart, area);
                group.even += even + more_even;
                group.mixed += mixed + more_mixed;
            }
            group.far_squared = (FAR * radius).powi(2);
            groups[place] = group;
        }
        Self { groups }
    }

    /// How often the tree's surface winds about `p`, without the triangle `except`.
    pub(crate) fn at(&self, tree: &Tree, p: Vec3, except: Option<u32>) -> f64 {
        let mut series = 0.0;
        let mut exact = 0.0;
        let mut waiting = [0_u32; 96];
        let mut count = 1;
        while count > 0 {
            count -= 1;
            // OK because count was above zero, and nodes are places in both lists.
            let place = waiting[count] as usize;
            let group = &self.groups[place];
            let apart = group.middle - p;
            let square = apart.length_squared();
            if square > group.far_squared {
                let over = 1.0 / square;
                let cube = over * over.sqrt();
                let turned = Vec3::new(apart.y, apart.z, apart.x);
                let trace = group.even.element_sum();
                let along = (apart * apart).dot(group.even) + (apart * turned).dot(group.mixed);
                series += cube * (apart.dot(group.area) + trace - 3.0 * along * over);
                continue;
            }
            for child in tree.nodes()[place].children() {
                match child {
                    Child::Node(child) if count < waiting.len() => {
                        waiting[count] = child; // OK because count is below the length.
                        count += 1;
                    }
                    Child::Triangle(number) if except != Some(number) => {
                        exact += tree.triangles()[number as usize].winding(p); // OK because leaves are places in the list.
                    }
                    _ => {}
                }
            }
        }
        exact + series / (2.0 * std::f64::consts::TAU)
    }
}

/// The mean winding over a surface, of what of it lies elsewhere.
pub(crate) fn mean(tree: &Tree, winding: &Winding) -> f64 {
    const SAMPLES: usize = 256;
    let step = tree.triangles().len().div_ceil(SAMPLES).max(1);
    let (mut sum, mut weight) = (0.0, 0.0);
    for (number, triangle) in (0..).zip(tree.triangles()).step_by(step) {
        let area = triangle.twice_area().length();
        sum += area * winding.at(tree, triangle.middle(), Some(number));
        weight += area;
    }
    if weight > 0.0 { sum / weight } else { 0.0 }
}
