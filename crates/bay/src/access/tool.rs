//! Hand tools as envelopes: what room each one takes up about a clip, as data that may be edited.
//!
//! The room asked for is `common practice, no source`: no standard gives it. The lengths count from the
//! screw head or from the hose's surface and hold the hand. A tool that lies in front of you is measured
//! in a minute; take its own figures then.

/// Where a tool's figures come from, said beside every verdict that rests on them.
pub const SOURCE: &str = "common practice, no source";

/// How far the screw line of a worm-drive clip lies outside the hose's surface, m (common practice, no
/// source).
pub const SCREW_RISE: f64 = 0.006;

/// A piece of a tool along its line: a capsule whose centre line reaches from `from` to `to`, m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// Where the centre line begins, m from the tool's origin.
    pub from: f64,
    /// Where it ends, m.
    pub to: f64,
    /// Radius, m.
    pub radius: f64,
    /// How far it may lie aside of the line in any direction, m: a fist reaches farther on one side of a
    /// handle than on the other.
    pub aside: f64,
}

impl Part {
    /// A part whose centre line goes from `from` to `to` (m) and that lies on the tool's line.
    pub const fn on_line(from: f64, to: f64, radius: f64) -> Self {
        Self {
            from,
            to,
            radius,
            aside: 0.0,
        }
    }

    /// A part whose round ends reach from `from` to `to` (m) in all: the centre line is shorter by the
    /// radius at either end, and is a point where the part is no longer than wide.
    pub fn reaching(from: f64, to: f64, radius: f64) -> Self {
        let middle = (from + to) / 2.0;
        Self::on_line(
            (from + radius).min(middle),
            (to - radius).max(middle),
            radius,
        )
    }
}

/// Which clips a tool works.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Works {
    /// Clips closed by a screw: worm-drive, T-bolt.
    Screw,
    /// Clips closed by squeezing ears.
    Ear,
    /// Spring bands.
    Band,
}

impl Works {
    /// Such a clip, with its article.
    pub fn words(self) -> &'static str {
        match self {
            Self::Screw => "a worm-drive clip",
            Self::Ear => "an ear clip",
            Self::Band => "a spring band",
        }
    }
}

/// How a tool comes to the clip, with its measures in m and rad.
#[derive(Clone, Debug, PartialEq)]
pub enum Approach {
    /// In line with the screw, from either side.
    Screw {
        /// The parts along the line, from the screw head on.
        parts: Vec<Part>,
        /// How far the line may lean, rad.
        tilt: f64,
    },
    /// In line with the screw, then a lever that swings about that line.
    Swing {
        /// The parts along the line.
        parts: Vec<Part>,
        /// Where along the line the lever stands, m.
        at: f64,
        /// Length of the lever with the hand, m.
        lever: f64,
        /// Radius of the lever with the hand, m.
        radius: f64,
        /// The least arc in which it must swing, rad.
        arc: f64,
    },
    /// In line with the screw, then a shaft that bends as it likes, then a handle.
    Bent {
        /// The straight part at the screw.
        straight: Part,
        /// Length of the shaft that bends, m.
        length: f64,
        /// Radius of the shaft, m.
        radius: f64,
        /// Least radius of its bends, to the centre line, m.
        least_bend: f64,
        /// Length of the handle's centre line, m: it begins one radius behind the end of the shaft.
        handle: f64,
        /// Radius of the handle with what holds it, m.
        handle_radius: f64,
    },
    /// Straight out from the hose's surface. `spread` is how far apart the two legs' centre lines end.
    Radial {
        /// The parts before the legs part, from the hose's surface on.
        parts: Vec<Part>,
        /// The legs, if the tool has some.
        legs: Option<Legs>,
    },
    /// Lying along the hose, the handles away from the spigot or over it; the jaws close round the hose.
    Beside {
        /// How high above the surface the legs' centre lines lie, m.
        height: f64,
        /// The parts, from the ear on.
        parts: Vec<Part>,
        /// The legs.
        legs: Legs,
    },
}

/// The two legs of pincers, in the plane in which they open.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Legs {
    /// Where they part, m along the tool's line.
    pub from: f64,
    /// Where their centre lines end, m along the tool's line.
    pub to: f64,
    /// How far apart they end, centre line to centre line, m.
    pub spread: f64,
    /// Radius of a leg with its share of the hand, m.
    pub radius: f64,
}

/// One tool.
#[derive(Clone, Debug, PartialEq)]
pub struct Tool {
    /// Its name, as the owner says it.
    pub name: String,
    /// What it works.
    pub works: Works,
    /// How it comes to the clip.
    pub approach: Approach,
    /// How far its line lies above the hose's surface where it goes along the screw, m.
    pub rise: f64,
    /// Where its figures come from.
    pub source: String,
}

impl Tool {
    /// How long a free room the tool wants before the screw or the surface, and how wide, m.
    pub fn room(&self) -> Room {
        let along = |parts: &[Part]| {
            parts.iter().fold(Room::default(), |room, part| Room {
                length: room.length.max(part.to + part.radius),
                across: room.across.max(2.0 * part.radius),
            })
        };
        let with = |room: Room, legs: &Legs| Room {
            length: room.length.max(legs.to + legs.radius),
            across: room.across.max(legs.spread + 2.0 * legs.radius),
        };
        match &self.approach {
            Approach::Screw { parts, .. } => along(parts),
            Approach::Swing {
                parts,
                at,
                lever,
                radius,
                ..
            } => {
                let room = along(parts);
                Room {
                    length: room.length.max(at + radius),
                    across: room.across.max(lever + radius),
                }
            }
            // Bent at once behind its straight part, a quarter turn lies before the screw.
            Approach::Bent {
                straight,
                least_bend,
                handle_radius,
                ..
            } => Room {
                length: straight.to + least_bend + handle_radius,
                across: 2.0 * handle_radius,
            },
            Approach::Radial { parts, legs } => {
                let room = along(parts);
                legs.as_ref().map_or(room, |legs| with(room, legs))
            }
            Approach::Beside { parts, legs, .. } => with(along(parts), legs),
        }
    }
}

impl Tool {
    /// The same tool with the owner's own measures: how long it is from the screw or the hose to where the
    /// hand ends, and how wide it and the hand are across, m. What it works and how it comes to the clip
    /// stays; of a lever the width is twice what it swings through.
    #[must_use]
    pub fn measuring(&self, long: f64, round: f64) -> Self {
        let mut tool = self.clone();
        let more = long - self.room().length;
        let half = round / 2.0;
        match &mut tool.approach {
            Approach::Screw { parts, .. } => {
                let count = parts.len();
                for (n, part) in parts.iter_mut().enumerate() {
                    // The last part is the hand; what stands before it is the blade.
                    let last = n + 1 == count;
                    let from = if last {
                        (part.from - part.radius + more).max(0.0)
                    } else {
                        part.from - part.radius
                    };
                    let to = if last {
                        long
                    } else {
                        part.to + part.radius + more
                    };
                    let radius = if last { half } else { part.radius };
                    let aside = if last {
                        part.aside.min(0.5 * half)
                    } else {
                        part.aside
                    };
                    *part = Part {
                        aside,
                        ..Part::reaching(from, to.max(from + 1e-3), radius)
                    };
                }
            }
            Approach::Swing {
                parts,
                at,
                lever,
                radius,
                ..
            } => {
                for part in parts.iter_mut() {
                    let from = part.from - part.radius;
                    *part = Part::reaching(from, long.max(from + 1e-3), part.radius);
                }
                *at = (*at + more).max(0.0);
                *lever = (half - *radius).max(*radius);
            }
            Approach::Bent {
                straight,
                length,
                handle,
                handle_radius,
                ..
            } => {
                *handle_radius = half;
                let rest = straight.to + 2.0 * half + *handle;
                *length = (long - rest).max(0.02);
            }
            Approach::Radial {
                legs: Some(legs), ..
            }
            | Approach::Beside { legs, .. } => {
                legs.to = (long - legs.radius).max(legs.from + 1e-3);
                legs.spread = (round - 2.0 * legs.radius).max(0.0);
            }
            Approach::Radial { parts, legs: None } => {
                if let Some(part) = parts.last_mut() {
                    *part = Part::reaching(part.from - part.radius, long, half);
                }
            }
        }
        "as written".clone_into(&mut tool.source);
        tool
    }

    /// Whether its shaft bends: such a tool is taken last.
    pub fn bends(&self) -> bool {
        matches!(self.approach, Approach::Bent { .. })
    }
}

/// A free room: a length along the tool and a width across it, m.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Room {
    /// Along the tool, m.
    pub length: f64,
    /// Across it, m.
    pub across: f64,
}

/// Radius of what a hand about a driver's handle takes up, m.
const HAND: f64 = 0.055;

/// How far that round may lie aside of the driver's line, m: the handle of 32 mm stays well within it.
const HAND_ASIDE: f64 = 0.025;

fn tool(name: &str, works: Works, approach: Approach) -> Tool {
    Tool {
        name: name.to_owned(),
        works,
        approach,
        rise: SCREW_RISE,
        source: SOURCE.to_owned(),
    }
}

fn driver(blade: f64, all: f64, radius: f64, tilt_degrees: f64) -> Approach {
    // The hand clasps the handle and may slide back on it: its round stands behind the blade.
    Approach::Screw {
        parts: vec![
            Part::reaching(0.008, blade.max(0.030), radius),
            Part {
                aside: HAND_ASIDE,
                ..Part::reaching(blade.min(all - 2.0 * HAND), all, HAND)
            },
        ],
        tilt: tilt_degrees.to_radians(),
    }
}

/// The tools of the trade in the order in which one tries them, the straight ones first. All figures are
/// [`SOURCE`].
pub fn usual() -> Vec<Tool> {
    vec![
        // A blade of 150 and a hand of 100 about the handle; a slot bears 5° of lean.
        tool(
            "screwdriver",
            Works::Screw,
            driver(0.150, 0.250, 0.004, 5.0),
        ),
        // No longer than the hand is round.
        tool(
            "stubby driver",
            Works::Screw,
            driver(0.0, 0.110, 0.004, 5.0),
        ),
        tool(
            "nut driver",
            Works::Screw,
            driver(0.120, 0.230, 0.006, 10.0),
        ),
        tool(
            "ratchet and socket",
            Works::Screw,
            Approach::Swing {
                parts: vec![Part::reaching(0.008, 0.060, 0.012)],
                at: 0.050,
                lever: 0.138,
                radius: 0.012,
                arc: 30_f64.to_radians(),
            },
        ),
        tool(
            "pincers, front jaw",
            Works::Ear,
            Approach::Radial {
                parts: vec![Part::reaching(0.004, 0.080, 0.012)],
                legs: Some(Legs {
                    from: 0.075,
                    to: 0.188,
                    spread: 0.096,
                    radius: 0.012,
                }),
            },
        ),
        tool(
            "pincers, side jaw",
            Works::Ear,
            Approach::Beside {
                height: 0.030,
                parts: vec![Part::reaching(-0.012, 0.070, 0.012)],
                legs: Legs {
                    from: 0.060,
                    to: 0.170,
                    spread: 0.060,
                    radius: 0.030,
                },
            },
        ),
        tool(
            "spring-band pliers",
            Works::Band,
            Approach::Radial {
                parts: vec![Part::reaching(0.004, 0.080, 0.012)],
                legs: Some(Legs {
                    from: 0.075,
                    to: 0.188,
                    spread: 0.076,
                    radius: 0.012,
                }),
            },
        ),
        tool(
            "flexible driver",
            Works::Screw,
            Approach::Bent {
                straight: Part::reaching(0.008, 0.060, 0.005),
                length: 0.180,
                radius: 0.005,
                least_bend: 0.075,
                handle: 0.080,
                handle_radius: 0.045,
            },
        ),
    ]
}
