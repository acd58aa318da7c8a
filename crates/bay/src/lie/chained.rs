//! The chain of edges of a run.

use super::run::{Elbow, Piece, Roll, Run};
use crate::Vec3;
use crate::rod::{Chain, Edge, Fault, Hold, Joint, Lay, Skin, finer, finite};

/// The joints of one hose.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Part {
    pub(crate) piece: usize,
    pub(crate) first: usize,
    pub(crate) count: usize,
    /// Length for each joint [m].
    pub(crate) span: f64,
}

/// A run's chain and what it was made of.
#[derive(Debug, Clone)]
pub(crate) struct Chained {
    pub(crate) chain: Chain,
    pub(crate) hoses: Vec<Part>,
    /// Joints that are corners of elbows, with their piece.
    pub(crate) corners: Vec<(usize, usize)>,
    /// Directions that are given, by edge.
    pub(crate) given: Vec<Option<Vec3>>,
    /// How many edges at the beginning are given.
    pub(crate) prefix: usize,
    /// How many at the end.
    pub(crate) suffix: usize,
}

impl Chained {
    pub(crate) fn has_corners(&self) -> bool {
        !self.corners.is_empty()
    }

    /// Whether every elbow between hoses whose roll is given leans toward its direction. What keeps it
    /// in its plane holds it as well when it leans away.
    pub(crate) fn leans(&self, t: &[Vec3]) -> bool {
        self.corners.iter().all(|(joint, _)| {
            let plane = match self.chain.joints.get(*joint) {
                Some(Joint::Corner { plane, .. }) => *plane,
                _ => None,
            };
            match (plane, t.get(*joint), t.get(joint + 1)) {
                (Some(way), Some(s), Some(t)) => (*t - *s * s.dot(*t)).dot(way) > 0.0,
                _ => true,
            }
        })
    }

    /// Turns what follows an elbow between hoses, whose roll is given, to where it leans.
    pub(crate) fn lean(&self, run: &Run, start: &mut [Vec3]) {
        const EASED: usize = 6;
        for (joint, piece) in &self.corners {
            let (
                Some(Joint::Corner {
                    plane: Some(way), ..
                }),
                Some(Piece::Elbow(elbow)),
                Some(first),
            ) = (
                self.chain.joints.get(*joint),
                run.pieces.get(*piece),
                start.get(*joint).copied(),
            )
            else {
                continue;
            };
            let Ok(second) = bent(first, *way, elbow) else {
                continue;
            };
            for (number, t) in start.iter_mut().skip(joint + 1).take(EASED).enumerate() {
                let share = number as f64 / EASED as f64;
                *t = (second * (1.0 - share) + *t * share).normalize_or(second);
            }
        }
        self.tie(start);
    }

    /// Puts the directions given into a start.
    pub(crate) fn tie(&self, start: &mut [Vec3]) {
        for (given, t) in self.given.iter().zip(start) {
            if let Some(given) = given {
                *t = *given;
            }
        }
    }

    /// The centreline with the corners of elbows rounded to their bends.
    pub(crate) fn rounded(&self, run: &Run, lay: &Lay) -> Vec<Vec3> {
        let mut out = Vec::with_capacity(lay.points.len() + 8 * self.corners.len());
        for (index, at) in lay.points.iter().enumerate() {
            let corner = self.corners.iter().find(|corner| corner.0 + 1 == index);
            let Some((joint, piece)) = corner else {
                out.push(*at);
                continue;
            };
            let (Some(Piece::Elbow(elbow)), Some(s), Some(t)) = (
                run.pieces.get(*piece),
                lay.directions().get(*joint),
                lay.directions().get(joint + 1),
            ) else {
                out.push(*at);
                continue;
            };
            let tangent = elbow.bend * (elbow.angle / 2.0).tan();
            let across = (*t - *s * s.dot(*t)).normalize_or_zero();
            let begin = *at - *s * tangent;
            for i in 0..=8 {
                let (sin, cos) = (elbow.angle * f64::from(i) / 8.0).sin_cos();
                out.push(begin + (*s * sin + across * (1.0 - cos)) * elbow.bend);
            }
        }
        out
    }
}

/// An edge while pieces are added to it.
#[derive(Debug, Default)]
struct Growing {
    length: f64,
    weight: f64,
    moment: f64,
    /// What lies on it, for contact.
    skins: Vec<Skin>,
}

impl Growing {
    fn add(&mut self, length: f64, weight: f64, radius: f64) {
        self.moment += weight * (self.length + length / 2.0);
        self.weight += weight;
        let from = self.length;
        self.length += length;
        match self.skins.last_mut() {
            Some(last) if last.radius == radius => last.to = self.length,
            _ => self.skins.push(Skin {
                edge: 0,
                from,
                to: self.length,
                radius,
            }),
        }
    }
}

#[derive(Debug, Default)]
struct Builder {
    edges: Vec<Edge>,
    joints: Vec<Joint>,
    skins: Vec<Skin>,
    now: Growing,
}

impl Builder {
    fn close(&mut self, joint: Option<Joint>) {
        let now = std::mem::take(&mut self.now);
        let edge = self.edges.len();
        self.edges.push(Edge {
            length: now.length,
            weight: now.weight,
            moment: now.moment,
            fixed: false,
        });
        self.skins
            .extend(now.skins.into_iter().map(|skin| Skin { edge, ..skin }));
        self.joints.extend(joint);
    }
}

fn above(what: &'static str, value: f64) -> Result<(), Fault> {
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

fn nought(what: &'static str, value: f64) -> Result<(), Fault> {
    if value.is_finite() && value >= 0.0 {
        Ok(())
    } else {
        Err(Fault::Figure {
            what,
            value,
            want: "nought or more",
        })
    }
}

fn check(run: &Run) -> Result<f64, Fault> {
    let mut hose_length = 0.0;
    for piece in &run.pieces {
        match piece {
            Piece::Hose(hose) => {
                above("free length of a hose", hose.length)?;
                above("stiffness of a hose", hose.stiffness)?;
                nought("weight of a hose", hose.weight)?;
                nought("radius of a hose", hose.radius)?;
                above("least radius of a hose", hose.least_radius)?;
                hose_length += hose.length;
            }
            Piece::Straight(straight) => {
                above("length of a rigid piece", straight.length)?;
                nought("weight of a rigid piece", straight.weight)?;
                nought("radius of a rigid piece", straight.radius)?;
            }
            Piece::Elbow(elbow) => {
                let most = 170.0_f64.to_radians();
                if !(elbow.angle > 0.0 && elbow.angle <= most + 1e-9) {
                    return Err(Fault::Figure {
                        what: "angle of an elbow",
                        value: elbow.angle,
                        want: "above nought, at most 170°",
                    });
                }
                above("bend of an elbow", elbow.bend)?;
                nought("leg of an elbow", elbow.leg_in)?;
                nought("leg of an elbow", elbow.leg_out)?;
                nought("weight of an elbow", elbow.weight)?;
                nought("radius of an elbow", elbow.radius)?;
                if let Roll::Toward(way) = elbow.roll {
                    above("direction that an elbow is rolled toward", way.length())?;
                }
            }
        }
    }
    above("free length of all hoses", hose_length)?;
    for (what, value) in [
        ("direction at the first mouth", run.a.along.length()),
        ("direction at the last mouth", run.b.along.length()),
        ("direction of gravity", run.down.length()),
    ] {
        if (value - 1.0).abs() > 1e-6 || !value.is_finite() {
            return Err(Fault::Figure {
                what,
                value,
                want: "of length one",
            });
        }
    }
    finite("place of the first mouth", run.a.at)?;
    finite("place of the last mouth", run.b.at)?;
    for bare in run.bare {
        nought("bare length", bare)?;
    }
    for held in &run.held {
        finite("place of a clip", held.at)?;
        above("place of a clip along its hose", held.arc)?;
    }
    if !(8..=400).contains(&run.edges) {
        return Err(Fault::Figure {
            what: "number of edges",
            value: run.edges as f64,
            want: "8 to 400",
        });
    }
    Ok(hose_length)
}

/// Joints of each hose: shared by length, more where clips lie close to each other.
fn counts(run: &Run, hose_length: f64) -> Result<Vec<usize>, Fault> {
    let mut out = Vec::new();
    for (index, piece) in run.pieces.iter().enumerate() {
        let Piece::Hose(hose) = piece else { continue };
        let share = (run.edges as f64 * hose.length / hose_length).round() as usize;
        let clips = run.held.iter().filter(|held| held.piece == index);
        out.push(finer(
            hose.length,
            clips.map(|held| held.arc),
            share.max(8),
        )?);
    }
    Ok(out)
}

/// Makes the chain of a run. Where `joints` tells of each hose how many it has, it has as many:
/// directions of a former shape fit only a chain of the same joints.
pub(crate) fn chained(run: &Run, joints: Option<&[usize]>) -> Result<Chained, Fault> {
    let hose_length = check(run)?;
    let joints = match joints {
        Some(joints) => joints.to_vec(),
        None => counts(run, hose_length)?,
    };
    let kinds = run.pieces.iter();
    if kinds
        .filter(|piece| matches!(piece, Piece::Hose(_)))
        .count()
        != joints.len()
    {
        return Err(Fault::NotFound { starts: 0 });
    }
    let mut joints = joints.into_iter();
    let mut build = Builder::default();
    let mut hoses = Vec::new();
    let mut corners = Vec::new();
    for (index, piece) in run.pieces.iter().enumerate() {
        match piece {
            Piece::Hose(hose) => {
                let count = joints.next().unwrap_or(8).max(2);
                let span = hose.length / count as f64;
                hoses.push(Part {
                    piece: index,
                    first: build.joints.len(),
                    count,
                    span,
                });
                for _ in 0..count {
                    build
                        .now
                        .add(span / 2.0, hose.weight * span / 2.0, hose.radius);
                    build.close(Some(Joint::Hose {
                        k: hose.stiffness / span,
                        span,
                    }));
                    build
                        .now
                        .add(span / 2.0, hose.weight * span / 2.0, hose.radius);
                }
            }
            Piece::Straight(straight) => {
                build
                    .now
                    .add(straight.length, straight.weight, straight.radius);
            }
            Piece::Elbow(elbow) => {
                let tangent = elbow.bend * (elbow.angle / 2.0).tan();
                let (first, second) = (elbow.leg_in + tangent, elbow.leg_out + tangent);
                let each = elbow.weight / (first + second);
                build.now.add(first, each * first, elbow.radius);
                corners.push((build.joints.len(), index));
                build.close(Some(Joint::Corner {
                    cos: elbow.angle.cos(),
                    k: 1.0,
                    plane: None,
                }));
                build.now.add(second, each * second, elbow.radius);
            }
        }
    }
    build.close(None);
    let given = give(run, &mut build, &corners)?;
    let prefix = given.iter().take_while(|way| way.is_some()).count();
    let suffix = given.iter().rev().take_while(|way| way.is_some()).count();
    let mut holds = holds(run, &hoses)?;
    let last = build.edges.len() - 1;
    let tip = build.edges.last().map_or(0.0, |edge| edge.length);
    holds.push(Hold {
        edge: last,
        along: tip,
        at: run.b.at,
    });
    let mut chain = Chain {
        start: run.a.at,
        edges: build.edges,
        joints: build.joints,
        holds,
        skins: build.skins,
        samples: Vec::new(),
        hosts: run.hosts.clone(),
        bare: run.bare,
        down: run.down,
        load: Vec3::ZERO,
        pull: Vec::new(),
        free: Vec::new(),
    };
    chain.weigh();
    chain.spans(&given, run.held.len())?;
    Ok(Chained {
        chain,
        hoses,
        corners,
        given,
        prefix,
        suffix,
    })
}

/// Directions that follow from the mouths and from elbows rolled on them; the planes of elbows
/// rolled elsewhere go into their joints.
fn give(
    run: &Run,
    build: &mut Builder,
    corners: &[(usize, usize)],
) -> Result<Vec<Option<Vec3>>, Fault> {
    let count = build.edges.len();
    let mut given = vec![None; count];
    let rolled = |piece: usize| match run.pieces.get(piece) {
        Some(Piece::Elbow(elbow)) => match elbow.roll {
            Roll::Toward(way) => Some((*elbow, way)),
            Roll::Free => None,
        },
        _ => None,
    };
    if let Some(slot) = given.first_mut() {
        *slot = Some(run.a.along);
    }
    let mut planes = Vec::new();
    for (joint, piece) in corners {
        let Some((elbow, way)) = rolled(*piece) else {
            continue;
        };
        match given.get(*joint).copied().flatten() {
            Some(before) => {
                if let Some(slot) = given.get_mut(joint + 1) {
                    *slot = Some(bent(before, way, &elbow)?);
                }
            }
            None => planes.push((*joint, elbow, way)),
        }
    }
    if let Some(slot) = given.last_mut() {
        *slot = Some(-run.b.along);
    }
    for (joint, elbow, way) in planes.into_iter().rev() {
        if let Some(after) = given.get(joint + 1).copied().flatten() {
            if let Some(slot) = given.get_mut(joint) {
                *slot = Some(before(after, way, &elbow)?);
            }
        } else if let Some(Joint::Corner { plane, .. }) = build.joints.get_mut(joint) {
            *plane = Some(way);
        }
    }
    for (edge, given) in build.edges.iter_mut().zip(&given) {
        edge.fixed = given.is_some();
    }
    Ok(given)
}

/// The part of a direction across a leg, as a unit vector.
fn across(leg: Vec3, way: Vec3) -> Result<Vec3, Fault> {
    let part = (way - leg * leg.dot(way)) / way.length();
    if part.length() > ACROSS {
        return Ok(part.normalize());
    }
    Err(Fault::Figure {
        what: "part across its leg of the direction that an elbow is rolled toward",
        value: part.length(),
        want: "more than a thousandth of the direction",
    })
}

/// Below it a direction is along the leg that an elbow is rolled about, and tells no roll.
const ACROSS: f64 = 1e-3;

/// Direction after an elbow whose second leg leans toward `way`.
pub(crate) fn bent(before: Vec3, way: Vec3, elbow: &Elbow) -> Result<Vec3, Fault> {
    let (sin, cos) = elbow.angle.sin_cos();
    Ok((before * cos + across(before, way)? * sin).normalize())
}

/// Direction before an elbow whose second leg has a given direction, while its first leg, seen from
/// there, leans toward `way`.
fn before(after: Vec3, way: Vec3, elbow: &Elbow) -> Result<Vec3, Fault> {
    let (sin, cos) = elbow.angle.sin_cos();
    Ok((after * cos - across(after, way)? * sin).normalize())
}

fn holds(run: &Run, hoses: &[Part]) -> Result<Vec<Hold>, Fault> {
    let mut holds = Vec::new();
    for held in &run.held {
        let wrong = Fault::Figure {
            what: "place of a clip along its hose",
            value: held.arc,
            want: "between the ends of a hose of the run",
        };
        let Some(part) = hoses.iter().find(|part| part.piece == held.piece) else {
            return Err(wrong);
        };
        let place = held.arc / part.span - 0.5;
        if !(held.arc > part.span / 2.0 && place < part.count as f64 - 1.0) {
            return Err(wrong);
        }
        let whole = place.floor();
        holds.push(Hold {
            edge: part.first + whole as usize + 1,
            along: (place - whole) * part.span,
            at: held.at,
        });
    }
    Ok(holds)
}
