//! The discrete rod: straight edges with joints between them, and its energy.
//!
//! The unknowns are the directions of the edges. Places follow by summing, so no edge can
//! stretch, and the ends are tied by three equations in all. A hose is cut so that its joints lie
//! half an edge inside its ends: then the error falls with the square of the edge.
//!
//! All loops run over the edges of one chain, so an index stays in its range.

use super::{Fault, Grip, Vec3};

/// One straight edge.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Edge {
    /// Length [m].
    pub(crate) length: f64,
    /// Weight [N].
    pub(crate) weight: f64,
    /// Moment of the weight about the edge's beginning, along it [N m].
    pub(crate) moment: f64,
    /// Whether its direction is given.
    pub(crate) fixed: bool,
}

/// What joins an edge to the next.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Joint {
    /// Hose: stiffness over the length that turns here [N m].
    Hose { k: f64, span: f64 },
    /// The corner of a rigid elbow: cosine of its angle, a stiffness [N m] that holds it, and a
    /// direction in whose plane it is kept, where its roll is given.
    Corner {
        cos: f64,
        k: f64,
        plane: Option<Vec3>,
    },
}

/// Two derivatives of a joint's energy by the cosine between its edges.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Bent {
    pub(crate) first: f64,
    pub(crate) second: f64,
}

/// Turning [rad] between two unit vectors, exact for small angles too.
pub(crate) fn turning(s: Vec3, t: Vec3) -> f64 {
    let half = (s - t).length() / 2.0;
    if half < 0.7 {
        2.0 * half.asin()
    } else {
        2.0 * half.atan2((s + t).length() / 2.0)
    }
}

impl Joint {
    /// Energy [J] alone; infinite where the edges fold back on each other.
    pub(crate) fn energy(&self, s: Vec3, t: Vec3) -> f64 {
        match *self {
            Self::Hose { k, .. } => {
                let cos = s.dot(t);
                if cos < -0.95 {
                    return f64::INFINITY;
                }
                let angle = turning(s, t);
                k * angle * angle / 2.0
            }
            Self::Corner { cos, k, plane } => {
                let off = s.dot(t) - cos;
                let out = plane.map_or(0.0, |plane| plane.dot(s.cross(t)));
                k * (off * off + out * out) / 2.0
            }
        }
    }

    /// Derivatives by the cosine.
    pub(crate) fn bent(&self, s: Vec3, t: Vec3) -> Bent {
        match *self {
            Self::Hose { k, .. } => {
                let angle = turning(s, t);
                let square = angle * angle;
                let (first, second) = if square < 4e-3 {
                    // θ / sin θ and (sin θ − θ cos θ) / sin³ θ by series, to better than 1e-12.
                    (
                        1.0 + square
                            * (1.0 / 6.0 + square * (7.0 / 360.0 + square * 31.0 / 15120.0)),
                        1.0 / 3.0 + square * (2.0 / 15.0 + square * (3.0 / 70.0)),
                    )
                } else {
                    let (sin, cos) = angle.sin_cos();
                    (angle / sin, (sin - angle * cos) / (sin * sin * sin))
                };
                Bent {
                    first: -k * first,
                    second: k * second,
                }
            }
            Self::Corner { cos, k, .. } => Bent {
                first: k * (s.dot(t) - cos),
                second: k,
            },
        }
    }
}

/// A place on the chain that is held at a place in space.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Hold {
    /// Which edge.
    pub(crate) edge: usize,
    /// How far along it [m].
    pub(crate) along: f64,
    /// Where it is held.
    pub(crate) at: Vec3,
}

/// A stretch of an edge with one radius.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Skin {
    pub(crate) edge: usize,
    /// Where on the edge it begins and ends [m].
    pub(crate) from: f64,
    pub(crate) to: f64,
    pub(crate) radius: f64,
}

/// A place of the chain that may touch bodies, and the short stretch that follows it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Sample {
    pub(crate) edge: usize,
    pub(crate) along: f64,
    /// Length of the stretch [m].
    pub(crate) long: f64,
    /// Distance of the centreline from a body's surface at which it touches [m].
    pub(crate) need: f64,
    /// Whether what carries the first mouth, or the last, doesn't count here.
    pub(crate) bare: [bool; 2],
}

/// Stretches of an edge beyond which its places are too many.
const MOST: usize = 400;

/// A whole chain.
#[derive(Debug, Clone)]
pub(crate) struct Chain {
    /// Where the first edge begins.
    pub(crate) start: Vec3,
    /// Directions given to the fixed edges stand in the state.
    pub(crate) edges: Vec<Edge>,
    pub(crate) joints: Vec<Joint>,
    pub(crate) holds: Vec<Hold>,
    pub(crate) skins: Vec<Skin>,
    /// Filled from the skins by `weigh`.
    pub(crate) samples: Vec<Sample>,
    /// Bodies that carry the mouths, by their numbers.
    pub(crate) hosts: [Vec<usize>; 2],
    /// Length at each end that may touch its host [m].
    pub(crate) bare: [f64; 2],
    /// Unit vector of gravity.
    pub(crate) down: Vec3,
    /// Force on the last edge's end [N].
    pub(crate) load: Vec3,
    /// Energy's slope by each direction that weight and load give: filled by `weigh`.
    pub(crate) pull: Vec<Vec3>,
    pub(crate) free: Vec<bool>,
}

impl Chain {
    /// Fills what follows from weights and load.
    pub(crate) fn weigh(&mut self) {
        let n = self.edges.len();
        self.pull.resize(n, Vec3::ZERO);
        self.free.clear();
        self.free.extend(self.edges.iter().map(|edge| !edge.fixed));
        let mut beyond = self.load;
        for (edge, pull) in self.edges.iter().zip(&mut self.pull).rev() {
            *pull = -(self.down * edge.moment + beyond * edge.length);
            beyond += self.down * edge.weight;
        }
        self.sample();
    }

    /// Places that are asked about contact: no farther apart than three quarters of the radius, and none on what the
    /// mouths hold, for it can't give way.
    fn sample(&mut self) {
        self.samples.clear();
        let total = self.length();
        let begun = self.free.iter().take_while(|free| !**free).count();
        let ended = self.free.len() - self.free.iter().rev().take_while(|free| !**free).count();
        let mut begin = 0.0;
        let mut edge = 0;
        for skin in &self.skins {
            while edge < skin.edge {
                begin += self.edges.get(edge).map_or(0.0, |edge| edge.length);
                edge += 1;
            }
            if skin.radius <= 0.0 || skin.edge < begun || skin.edge >= ended {
                continue;
            }
            let whole = skin.to - skin.from;
            let count = ((whole / (0.75 * skin.radius)).ceil() as usize).clamp(1, MOST);
            let long = whole / count as f64;
            for i in 0..count {
                // What is held fast at its beginning can't give way there: the first place is a little beyond.
                let fast = skin.edge == begun && begun > 0 && skin.from <= 0.0 && i == 0;
                let past = if fast { 0.25 * long } else { 0.0 };
                let (along, long) = (skin.from + long * i as f64 + past, long - past);
                let arc = begin + along;
                self.samples.push(Sample {
                    edge: skin.edge,
                    along,
                    long,
                    need: skin.radius,
                    bare: [arc < self.bare[0], arc > total - self.bare[1]],
                });
            }
        }
    }

    /// Whether a body doesn't count at a place that is bare so.
    pub(crate) fn spares(&self, bare: [bool; 2], body: usize) -> bool {
        bare.iter()
            .zip(&self.hosts)
            .any(|(bare, hosts)| *bare && hosts.contains(&body))
    }

    /// Distance of a place from the chain's beginning [m].
    pub(crate) fn arc(&self, edge: usize, along: f64) -> f64 {
        let before: f64 = self.edges.iter().take(edge).map(|edge| edge.length).sum();
        before + along
    }

    /// The holds in their order along the chain.
    pub(crate) fn order(&self) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.holds.len()).collect();
        order.sort_by(|a, b| match (self.holds.get(*a), self.holds.get(*b)) {
            (Some(a), Some(b)) => (a.edge, a.along)
                .partial_cmp(&(b.edge, b.along))
                .unwrap_or(std::cmp::Ordering::Equal),
            _ => std::cmp::Ordering::Equal,
        });
        order
    }

    /// Whether the edges between each hold and the next can span what those given leave. The first
    /// `supports` holds are supports, one more is the far end.
    ///
    /// # Errors
    ///
    /// Names the two holds that lie too far apart.
    pub(crate) fn spans(&self, given: &[Option<Vec3>], supports: usize) -> Result<(), Fault> {
        let mut first = Grip::First;
        let (mut at, mut from) = (self.start, 0.0);
        for number in self.order() {
            let Some(hold) = self.holds.get(number) else {
                continue;
            };
            let to = self.arc(hold.edge, hold.along);
            let second = if number < supports {
                Grip::Support(number)
            } else {
                Grip::Last
            };
            let mut chord = hold.at - at;
            let (mut left, mut begin) = (0.0, 0.0);
            for (edge, given) in self.edges.iter().zip(given) {
                let end = begin + edge.length;
                let long = (end.min(to) - f64::max(begin, from)).max(0.0);
                match given {
                    Some(way) => chord -= *way * long,
                    None => left += long,
                }
                begin = end;
            }
            let arc = to - from;
            if chord.length() > left * (1.0 - 1e-9) {
                let chord = chord.length() + arc - left;
                return Err(if supports == 0 {
                    Fault::TooShort { chord, length: arc }
                } else {
                    Fault::Supports {
                        first,
                        second,
                        chord,
                        arc,
                    }
                });
            }
            (first, at, from) = (second, hold.at, to);
        }
        Ok(())
    }

    /// Moments and forces are told from nought against this [N m]: what bends the hose by a radian
    /// over its length, and its weight and load at the end of its length.
    pub(crate) fn moment_scale(&self) -> f64 {
        let length = self.length();
        let joints = self.joints.len().max(1) as f64;
        self.typical() / joints + (self.weight() + self.load.length()) * length
    }

    /// Whole length [m].
    pub(crate) fn length(&self) -> f64 {
        self.edges.iter().map(|edge| edge.length).sum()
    }

    /// Whole weight [N].
    pub(crate) fn weight(&self) -> f64 {
        self.edges.iter().map(|edge| edge.weight).sum()
    }

    /// A stiffness typical of a joint of hose [N m].
    pub(crate) fn typical(&self) -> f64 {
        let (mut sum, mut count) = (0.0, 0.0_f64);
        for joint in &self.joints {
            if let Joint::Hose { k, .. } = joint {
                sum += k;
                count += 1.0;
            }
        }
        if count > 0.0 { sum / count } else { 1.0 }
    }

    /// Bending energy [J].
    pub(crate) fn bending(&self, t: &[Vec3]) -> f64 {
        self.joints
            .iter()
            .zip(t.windows(2))
            .map(|(joint, pair)| match pair {
                [s, t] => joint.energy(*s, *t),
                _ => 0.0,
            })
            .sum()
    }

    /// Energy of weight and load [J], nought where all of the chain lies at its start.
    pub(crate) fn lifted(&self, t: &[Vec3]) -> f64 {
        self.pull.iter().zip(t).map(|(pull, t)| pull.dot(*t)).sum()
    }

    /// Beginnings of all edges, and the last one's end.
    pub(crate) fn places(&self, t: &[Vec3], out: &mut Vec<Vec3>) {
        out.clear();
        let mut at = self.start;
        out.push(at);
        for (edge, t) in self.edges.iter().zip(t) {
            at += *t * edge.length;
            out.push(at);
        }
    }
}
