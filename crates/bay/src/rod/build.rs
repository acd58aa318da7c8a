//! The hose as it is asked about, and its chain of edges.

use super::{Chain, Edge, End, Fault, Hold, Joint, Sample, Vec3};

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

/// How a support holds the hose along its length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Way {
    /// At this distance from the first mouth along the free length [m].
    Held(f64),
    /// The hose slides through; the guess of where it begins [m].
    Slides(f64),
}

/// A clip on the structure that holds the hose at a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Support {
    /// Where the centreline is held [m].
    pub at: Vec3,
    /// Which point of the hose.
    pub way: Way,
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
    /// Gap wanted between the hose's surface and bodies [m].
    pub gap: f64,
    /// Length at each end that may touch what carries the mouth [m].
    pub bare: f64,
    /// Clips along it.
    pub supports: Vec<Support>,
    /// Joints of the discrete form, [`EDGES`] if in doubt; 8 to 400.
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
            gap: 0.0,
            bare: 0.0,
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
            ("gap", self.gap),
            ("bare length", self.bare),
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
            let (Way::Held(arc) | Way::Slides(arc)) = support.way;
            if !(arc > 0.0 && arc < self.length) {
                return Err(Fault::Figure {
                    what: "place of a support along the hose",
                    value: arc,
                    want: "between the ends",
                });
            }
        }
        self.reach()
    }

    /// Whether the hose is long enough.
    fn reach(&self) -> Result<(), Fault> {
        let half = self.length / self.edges as f64 / 2.0;
        let begin = self.a.at + self.a.along * half;
        let (end, left) = match self.b {
            Far::Clamped(end) => (end.at + end.along * half, self.length - 2.0 * half),
            Far::Pinned(at) => (at, self.length - half),
            Far::Free(_) => return Ok(()),
        };
        let chord = (end - begin).length();
        if chord > left * (1.0 - 1e-9) {
            return Err(Fault::TooShort {
                chord: chord + self.length - left,
                length: self.length,
            });
        }
        Ok(())
    }

    /// Where an arc length lies: edge and distance along it.
    pub(crate) fn edge_at(&self, arc: f64) -> (usize, f64) {
        let span = self.length / self.edges as f64;
        let beyond = (arc - span / 2.0) / span;
        if beyond < 0.0 {
            return (0, arc);
        }
        let edge = (beyond.floor() as usize).min(self.edges - 1) + 1;
        (edge, arc - span * (edge as f64 - 0.5))
    }

    /// The chain of edges. Directions of fixed edges stand in [`Self::given`].
    pub(crate) fn chain(&self, arcs: &[f64]) -> Chain {
        let span = self.length / self.edges as f64;
        let count = self.edges + 1;
        let mut edges = Vec::with_capacity(count);
        for e in 0..count {
            let last = e + 1 == count;
            let length = if e == 0 || last { span / 2.0 } else { span };
            edges.push(Edge {
                length,
                weight: self.weight * length,
                moment: self.weight * length * length / 2.0,
                fixed: e == 0 || (last && matches!(self.b, Far::Clamped(_))),
            });
        }
        let k = self.stiffness / span;
        let joints = vec![Joint::Hose { k, span }; self.edges];
        let mut holds = Vec::new();
        for (support, arc) in self.supports.iter().zip(arcs) {
            let (edge, along) = self.edge_at(*arc);
            holds.push(Hold {
                edge,
                along,
                at: support.at,
            });
            if let (Some(_), Some(edge)) = (support.along, edges.get_mut(edge)) {
                edge.fixed = true;
            }
        }
        let tip = span / 2.0;
        match self.b {
            Far::Clamped(end) => holds.push(Hold {
                edge: count - 1,
                along: tip,
                at: end.at,
            }),
            Far::Pinned(at) => holds.push(Hold {
                edge: count - 1,
                along: tip,
                at,
            }),
            Far::Free(_) => {}
        }
        let mut chain = Chain {
            start: self.a.at,
            edges,
            joints,
            holds,
            samples: self.samples(),
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
        chain
    }

    /// Directions that are given, by edge.
    pub(crate) fn given(&self, arcs: &[f64]) -> Vec<(usize, Vec3)> {
        let mut given = vec![(0, self.a.along)];
        for (support, arc) in self.supports.iter().zip(arcs) {
            if let Some(along) = support.along {
                given.push((self.edge_at(*arc).0, along));
            }
        }
        if let Far::Clamped(end) = self.b {
            given.push((self.edges, -end.along));
        }
        given
    }

    /// Points that are asked about contact: no farther apart than half the radius.
    fn samples(&self) -> Vec<Sample> {
        let mut samples = Vec::new();
        if self.radius <= 0.0 {
            return samples;
        }
        let span = self.length / self.edges as f64;
        let each = ((span / (self.radius / 2.0)).ceil() as usize).clamp(1, 8);
        let need = self.radius + self.gap;
        for e in 1..=self.edges {
            let begin = span * (e as f64 - 0.5);
            for i in 0..each {
                let along = span * i as f64 / each as f64;
                let arc = begin + along;
                if arc >= self.bare && arc <= self.length - self.bare && arc < self.length {
                    samples.push(Sample {
                        edge: e,
                        along,
                        need,
                    });
                }
            }
        }
        samples
    }
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

fn finite(what: &'static str, value: Vec3) -> Result<(), Fault> {
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
