//! The hose as it is asked about, and its chain of edges.

use super::{Chain, Edge, End, Fault, Hold, Joint, Skin, Vec3};

/// Joints of a hose where nothing else is asked.
pub const EDGES: usize = 60;

/// The far end of a hose.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Far {
    /// On a spigot.
    Clamped(End),
    /// Held at a place, free to turn.
    Pinned(Vec3),
    /// Free, with a force on it [N].
    Free(Vec3),
}

/// A clip on the structure that holds the hose at a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Support {
    /// Where the centreline is held [m].
    pub at: Vec3,
    /// Which point of the hose: its distance from the first mouth along the free length [m].
    pub arc: f64,
    /// Direction of the hose there, a unit vector from the first mouth on; none lets it turn.
    pub along: Option<Vec3>,
}

/// A hose between two ends.
#[derive(Debug, Clone, PartialEq)]
pub struct Rod {
    /// The first mouth.
    pub a: End,
    /// The far end.
    pub b: Far,
    /// Free length: cut length less both insertions [m].
    pub length: f64,
    /// Bending stiffness [N m²].
    pub stiffness: f64,
    /// Weight per length with what is in it [N/m].
    pub weight: f64,
    /// Outside radius [m]: counts for contact alone.
    pub radius: f64,
    /// Length at each end that may touch what carries its mouth [m].
    pub bare: [f64; 2],
    /// Bodies that carry the mouths, by their numbers.
    pub hosts: [Vec<usize>; 2],
    /// Clips along it.
    pub supports: Vec<Support>,
    /// Joints of the discrete form, [`EDGES`] if in doubt; 8 to 400. More are taken where supports
    /// lie close to each other or to an end.
    pub edges: usize,
    /// Unit vector of gravity: −z on an even keel.
    pub down: Vec3,
}

impl Rod {
    /// A hose between two mouths in free air, on an even keel.
    #[must_use]
    pub fn between(a: End, b: End, length: f64, stiffness: f64, weight: f64) -> Self {
        Self {
            a,
            b: Far::Clamped(b),
            length,
            stiffness,
            weight,
            radius: 0.0,
            bare: [0.0; 2],
            hosts: [Vec::new(), Vec::new()],
            supports: Vec::new(),
            edges: EDGES,
            down: -Vec3::Z,
        }
    }

    /// Looks whether the figures can be.
    ///
    /// # Errors
    ///
    /// Names the first figure that can't, or that the hose is too short.
    pub fn check(&self) -> Result<(), Fault> {
        positive("free length", self.length)?;
        positive("stiffness", self.stiffness)?;
        for (what, value) in [
            ("weight", self.weight),
            ("radius", self.radius),
            ("bare length", self.bare[0]),
            ("bare length", self.bare[1]),
        ] {
            if !(value.is_finite() && value >= 0.0) {
                return Err(Fault::Figure {
                    what,
                    value,
                    want: "nought or more",
                });
            }
        }
        if !(8..=400).contains(&self.edges) {
            return Err(Fault::Figure {
                what: "number of edges",
                value: self.edges as f64,
                want: "8 to 400",
            });
        }
        unit("direction at the first mouth", self.a.along)?;
        unit("direction of gravity", self.down)?;
        finite("place of the first mouth", self.a.at)?;
        match self.b {
            Far::Clamped(end) => {
                unit("direction at the far mouth", end.along)?;
                finite("place of the far mouth", end.at)?;
            }
            Far::Pinned(at) => finite("place of the far end", at)?,
            Far::Free(load) => finite("load at the far end", load)?,
        }
        for support in &self.supports {
            finite("place of a support", support.at)?;
            if let Some(along) = support.along {
                unit("direction at a support", along)?;
            }
            if !(support.arc > 0.0 && support.arc < self.length) {
                return Err(Fault::Figure {
                    what: "place of a support along the hose",
                    value: support.arc,
                    want: "between the ends",
                });
            }
        }
        let chain = self.chain()?;
        let mut given = vec![None; chain.edges.len()];
        for (edge, way) in self.given()? {
            if let Some(slot) = given.get_mut(edge) {
                *slot = Some(way);
            }
        }
        chain.spans(&given, self.supports.len())
    }

    /// Joints, so many that supports have three spans between them.
    pub(crate) fn joints(&self) -> Result<usize, Fault> {
        let arcs = self.supports.iter().map(|support| support.arc);
        finer(self.length, arcs, self.edges)
    }

    /// Where an arc length lies: edge and distance along it.
    fn edge_at(&self, arc: f64, joints: usize) -> (usize, f64) {
        let span = self.length / joints as f64;
        let beyond = (arc - span / 2.0) / span;
        if beyond < 0.0 {
            return (0, arc);
        }
        let edge = (beyond.floor() as usize).min(joints - 1) + 1;
        (edge, arc - span * (edge as f64 - 0.5))
    }

    /// The chain of edges. Directions of fixed edges stand in [`Self::given`].
    ///
    /// # Errors
    ///
    /// Where supports lie too close to each other.
    pub(crate) fn chain(&self) -> Result<Chain, Fault> {
        let joints = self.joints()?;
        let span = self.length / joints as f64;
        let count = joints + 1;
        let mut edges = Vec::with_capacity(count);
        let mut skins = Vec::with_capacity(count);
        for e in 0..count {
            let last = e + 1 == count;
            let length = if e == 0 || last { span / 2.0 } else { span };
            edges.push(Edge {
                length,
                weight: self.weight * length,
                moment: self.weight * length * length / 2.0,
                fixed: e == 0 || (last && matches!(self.b, Far::Clamped(_))),
            });
            skins.push(Skin {
                edge: e,
                from: 0.0,
                to: length,
                radius: self.radius,
            });
        }
        let k = self.stiffness / span;
        let mut holds = Vec::new();
        for support in &self.supports {
            let (edge, along) = self.edge_at(support.arc, joints);
            holds.push(Hold {
                edge,
                along,
                at: support.at,
            });
            if let (Some(_), Some(edge)) = (support.along, edges.get_mut(edge)) {
                edge.fixed = true;
            }
        }
        let tip = match self.b {
            Far::Clamped(end) => Some(end.at),
            Far::Pinned(at) => Some(at),
            Far::Free(_) => None,
        };
        holds.extend(tip.map(|at| Hold {
            edge: count - 1,
            along: span / 2.0,
            at,
        }));
        let mut chain = Chain {
            start: self.a.at,
            edges,
            joints: vec![Joint::Hose { k, span }; joints],
            holds,
            skins,
            samples: Vec::new(),
            hosts: self.hosts.clone(),
            bare: self.bare,
            down: self.down,
            load: if let Far::Free(load) = self.b {
                load
            } else {
                Vec3::ZERO
            },
            pull: Vec::new(),
            free: Vec::new(),
        };
        chain.weigh();
        Ok(chain)
    }

    /// Directions that are given, by edge.
    ///
    /// # Errors
    ///
    /// As [`Self::chain`].
    pub(crate) fn given(&self) -> Result<Vec<(usize, Vec3)>, Fault> {
        let joints = self.joints()?;
        let mut given = vec![(0, self.a.along)];
        for support in &self.supports {
            if let Some(along) = support.along {
                given.push((self.edge_at(support.arc, joints).0, along));
            }
        }
        if let Far::Clamped(end) = self.b {
            given.push((joints, -end.along));
        }
        Ok(given)
    }
}

/// Spans that lie between two holds of one hose at least: on fewer edges the places held leave the
/// edges nothing to turn by.
const BETWEEN: f64 = 3.0;

/// Most joints of one hose.
const MOST: usize = 400;

/// Joints of a hose with holds at distances from its beginning [m]: `least`, or more where holds lie
/// close to each other or to its ends.
pub(crate) fn finer(
    length: f64,
    holds: impl Iterator<Item = f64>,
    least: usize,
) -> Result<usize, Fault> {
    let mut marks = vec![0.0, length];
    marks.extend(holds);
    if marks.len() == 2 {
        return Ok(least);
    }
    marks.sort_by(f64::total_cmp);
    let close = marks
        .windows(2)
        .map(|pair| match pair {
            [a, b] => b - a,
            _ => length,
        })
        .fold(length, f64::min);
    let wanted = (BETWEEN * length / close).ceil();
    if wanted <= MOST as f64 {
        return Ok(least.max(wanted as usize));
    }
    Err(Fault::Figure {
        what: "length of hose in metres between two supports, or a support and an end",
        value: close,
        want: "at least 1/130 of the hose",
    })
}

fn positive(what: &'static str, value: f64) -> Result<(), Fault> {
    if value.is_finite() && value > 0.0 {
        Ok(())
    } else {
        Err(Fault::Figure {
            what,
            value,
            want: "above nought",
        })
    }
}

fn unit(what: &'static str, value: Vec3) -> Result<(), Fault> {
    let length = value.length();
    if (length - 1.0).abs() < 1e-6 {
        Ok(())
    } else {
        Err(Fault::Figure {
            what,
            value: length,
            want: "of length one",
        })
    }
}

pub(crate) fn finite(what: &'static str, value: Vec3) -> Result<(), Fault> {
    if value.is_finite() {
        Ok(())
    } else {
        Err(Fault::Figure {
            what,
            value: value.length(),
            want: "a number",
        })
    }
}
