//! The way of a hand from the hatch to where it must hold the tool.
//!
//! A first model: a ball as large as a hand is led over a lattice from the hatch to every place that it
//! reaches; a clip's hand place is reached where a straight line from one of these leads to it, and the
//! tool can be drawn straight back off the screw. The arm behind the hand is not looked at, and between
//! two places of the lattice the ball may find a tenth less room than it wants.

use std::collections::VecDeque;

use super::local::Obstacle;
use super::pose::Cap;
use crate::Vec3;
use crate::solid::{Bounds, Shape};

/// The level opening through which the hand comes, m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hatch {
    /// Its middle.
    pub at: Vec3,
    /// How far about it the hand may begin, m.
    pub radius: f64,
}

/// Why nothing can be said of a way in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Doubt {
    /// No hatch was given.
    NoHatch,
    /// The bay is larger than the lattice bears at this size of hand.
    TooLarge,
    /// The place lies outside the bay that was looked at.
    Outside,
}

/// Why no hand comes in at all.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shut {
    /// The hatch is narrower than the hand.
    Small,
    /// Something stands in the hatch itself.
    Blocked,
}

/// Whether a hand comes from the hatch to the tool.
#[derive(Clone, Debug, PartialEq)]
pub enum WayIn {
    /// It does.
    Clear,
    /// It does not, in this model.
    Blocked {
        /// The numbers of the obstacles on the straight line to the hatch, or that hold the tool fast on
        /// the screw, from the clip on.
        by: Vec<usize>,
    },
    /// No hand comes in at all.
    Shut(Shut),
    /// It can't be told.
    Unknown(Doubt),
}

/// Most places of the lattice: a limit of work.
const MOST: usize = 400_000;

/// How far a driver is drawn straight back off the screw, m (common practice, no source).
const WITHDRAWN: f64 = 0.015;

/// Share of the hand's radius with which the last straight line is tried.
const SLIM: f64 = 0.9;

/// All places that a hand reaches from the hatch, found once for a set of obstacles.
#[derive(Debug)]
pub struct Flood<'a> {
    obstacles: Vec<(Obstacle<'a>, Bounds)>,
    hatch: Hatch,
    hand: f64,
    low: Vec3,
    step: f64,
    counts: [usize; 3],
    reached: Result<Vec<bool>, WayIn>,
}

impl<'a> Flood<'a> {
    /// Leads a hand of radius `hand` (m; 0.045 is a fist, common practice, no source) from the hatch
    /// through `bay`, the box in which clips and handles lie.
    pub fn new(obstacles: &[Obstacle<'a>], hatch: Option<Hatch>, bay: Bounds, hand: f64) -> Self {
        let hand = hand.max(0.005);
        let start = hatch.unwrap_or(Hatch {
            at: Vec3::ZERO,
            radius: 0.0,
        });
        let bay = bay.with(start.at).grown(hand);
        let mut flood = Self {
            obstacles: obstacles
                .iter()
                .map(|obstacle| (*obstacle, obstacle.shape.bounds()))
                .collect(),
            hatch: start,
            hand,
            low: bay.low,
            step: 0.8 * hand,
            counts: [0; 3],
            reached: Err(WayIn::Unknown(Doubt::NoHatch)),
        };
        if hatch.is_none() {
            return flood;
        }
        if start.radius < hand {
            flood.reached = Err(WayIn::Shut(Shut::Small));
            return flood;
        }
        let size = (bay.high - bay.low) / flood.step;
        let counts = [size.x, size.y, size.z].map(|n| n.ceil() + 1.0);
        let all = counts.iter().product::<f64>();
        if !(all.is_finite() && all <= MOST as f64) {
            flood.reached = Err(WayIn::Unknown(Doubt::TooLarge));
            return flood;
        }
        flood.counts = counts.map(|n| n as usize);
        flood.reached = flood.spread();
        flood
    }

    /// Whether the hand fits at a place.
    fn fits(&self, at: Vec3) -> bool {
        self.in_the_way(at, at, self.hand).is_none()
    }

    /// The first obstacle that a ball of `radius` meets between two places.
    fn in_the_way(&self, a: Vec3, b: Vec3, radius: f64) -> Option<usize> {
        let piece = Bounds::of([a, b]);
        self.obstacles.iter().position(|(obstacle, bounds)| {
            bounds.gap_squared(&piece) <= radius * radius && obstacle.shape.meets(a, b, radius)
        })
    }

    fn index(&self, cell: [usize; 3]) -> usize {
        let [x, y, z] = cell;
        let [nx, ny, _] = self.counts;
        (z * ny + y) * nx + x
    }

    fn place(&self, cell: [usize; 3]) -> Vec3 {
        let [x, y, z] = cell.map(|n| n as f64 * self.step);
        self.low + Vec3::new(x, y, z)
    }

    /// The cells within `reach` of a place.
    fn about(&self, at: Vec3, reach: f64) -> Vec<[usize; 3]> {
        let range = |low: f64, at: f64, count: usize| {
            let from = ((at - reach - low) / self.step).ceil().max(0.0) as usize;
            let to = ((at + reach - low) / self.step).floor();
            let to = if to < 0.0 { 0 } else { to as usize + 1 };
            from..to.min(count)
        };
        let [nx, ny, nz] = self.counts;
        let mut cells = Vec::new();
        for z in range(self.low.z, at.z, nz) {
            for y in range(self.low.y, at.y, ny) {
                for x in range(self.low.x, at.x, nx) {
                    if (self.place([x, y, z]) - at).length() <= reach {
                        cells.push([x, y, z]);
                    }
                }
            }
        }
        cells
    }

    fn spread(&self) -> Result<Vec<bool>, WayIn> {
        let [nx, ny, nz] = self.counts;
        let mut seen = vec![false; nx * ny * nz];
        let mut reached = vec![false; nx * ny * nz];
        let mut queue = VecDeque::new();
        let visit = |cell: [usize; 3],
                     seen: &mut Vec<bool>,
                     reached: &mut Vec<bool>,
                     queue: &mut VecDeque<[usize; 3]>| {
            let index = self.index(cell);
            if let (Some(seen), Some(reached)) = (seen.get_mut(index), reached.get_mut(index))
                && !*seen
            {
                *seen = true;
                if self.fits(self.place(cell)) {
                    *reached = true;
                    queue.push_back(cell);
                }
            }
        };
        // In the opening itself, not below it: what stands there shuts it.
        for cell in self.about(self.hatch.at, self.hatch.radius.max(self.step)) {
            if (self.place(cell).z - self.hatch.at.z).abs() <= self.step {
                visit(cell, &mut seen, &mut reached, &mut queue);
            }
        }
        if queue.is_empty() {
            return Err(WayIn::Shut(Shut::Blocked));
        }
        while let Some([x, y, z]) = queue.pop_front() {
            let mut near = Vec::with_capacity(6);
            if x + 1 < nx {
                near.push([x + 1, y, z]);
            }
            if y + 1 < ny {
                near.push([x, y + 1, z]);
            }
            if z + 1 < nz {
                near.push([x, y, z + 1]);
            }
            near.extend(x.checked_sub(1).map(|x| [x, y, z]));
            near.extend(y.checked_sub(1).map(|y| [x, y, z]));
            near.extend(z.checked_sub(1).map(|z| [x, y, z]));
            for cell in near {
                visit(cell, &mut seen, &mut reached, &mut queue);
            }
        }
        Ok(reached)
    }

    /// What holds for every place alike: that no hand comes in, or that it can't be told.
    pub fn of_all(&self) -> Option<&WayIn> {
        self.reached.as_ref().err()
    }

    /// What stands in the hatch, by the numbers of the obstacles.
    pub fn in_the_hatch(&self) -> Vec<usize> {
        let (at, numbers) = (self.hatch.at, 0..self.obstacles.len());
        numbers
            .filter(|number| {
                let obstacle = self.obstacles.get(*number);
                obstacle.is_some_and(|(obstacle, _)| {
                    let near = obstacle.shape.near(at, at, self.hand);
                    near.is_some_and(|near| near.distance < self.hand)
                })
            })
            .collect()
    }

    /// Whether a hand comes to a place.
    pub fn reaches(&self, at: Vec3) -> WayIn {
        let reached = match &self.reached {
            Ok(reached) => reached,
            Err(whole) => return whole.clone(),
        };
        let cells = self.about(at, 1.8 * self.step);
        if cells.is_empty() {
            return WayIn::Unknown(Doubt::Outside);
        }
        let slim = SLIM * self.hand;
        let clear = cells.iter().any(|cell| {
            reached.get(self.index(*cell)) == Some(&true)
                && self.in_the_way(at, self.place(*cell), slim).is_none()
        });
        if clear {
            return WayIn::Clear;
        }
        WayIn::Blocked {
            by: self.between(at),
        }
    }

    /// The obstacles on the straight line from a place to the hatch, from the place on.
    fn between(&self, at: Vec3) -> Vec<usize> {
        let to = self.hatch.at - at;
        let mut met: Vec<(f64, usize)> = self
            .obstacles
            .iter()
            .enumerate()
            .filter_map(|(number, (obstacle, _))| {
                let near = obstacle.shape.near(at, self.hatch.at, self.hand)?;
                let along = (near.on_axis - at).dot(to);
                (near.distance < self.hand).then_some((along, number))
            })
            .collect();
        met.sort_by(|a, b| a.0.total_cmp(&b.0));
        met.into_iter().map(|(_, number)| number).collect()
    }

    /// Whether the tool as it lies can be brought: drawn straight back by 15 mm, and a hand comes from the
    /// hatch to its far end. `own` are the clip's own hose, where it is among the obstacles, by its number,
    /// and what of it counts for the tool: see [`own_beyond`](super::own_beyond).
    pub fn way_in(&self, caps: &[Cap], own: Option<(usize, &[Shape])>) -> WayIn {
        let (Some(first), Some(last)) = (caps.first(), caps.last()) else {
            return WayIn::Unknown(Doubt::Outside);
        };
        let (hand, comes_from) = (last.b, last.b - first.a);
        // The line of the first part is the line of the screw; a part that is a point has none.
        let back = caps
            .iter()
            .map(|cap| cap.b - cap.a)
            .find(|line| line.length() > 1e-6)
            .unwrap_or(comes_from)
            .normalize_or_zero()
            * WITHDRAWN;
        let held: Vec<usize> = self
            .obstacles
            .iter()
            .enumerate()
            .filter(|(number, (obstacle, bounds))| {
                let counts = match own {
                    Some((own, beyond)) if own == *number => beyond,
                    _ => std::slice::from_ref(obstacle.shape),
                };
                caps.iter().any(|cap| {
                    let Cap { a, b, radius } = cap.moved(back);
                    let met = |shape: &Shape| shape.meets(a, b, radius);
                    bounds.gap_squared(&Bounds::of([a, b])) <= radius * radius
                        && counts.iter().any(met)
                })
            })
            .map(|(number, _)| number)
            .collect();
        if !held.is_empty() {
            return WayIn::Blocked { by: held };
        }
        self.reaches(hand)
    }
}
