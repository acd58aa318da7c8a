//! The flexible driver: whether its shaft finds some bent way from the screw to a place for the handle.
//!
//! The shaft is tried as families of arcs and straights, each piece bent no tighter than it may be. What
//! is found is a real way. That none is found means none among these families: first one even bend over
//! the whole length, by 12 planes and 8 turns; then all chains of three pieces, each straight or bent
//! fully or half in one of 8 planes. Where chains of six pieces
//! drawn by the thousand know a way in crowded bays made at random, these miss it at some two angles in a
//! hundred.

use std::f64::consts::{PI, TAU};

use super::local::Local;
use super::pose::{Cap, Stand};
use crate::Vec3;

/// What bends and what stands behind it, m.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Shaft {
    /// Length that bends.
    pub length: f64,
    /// Its radius.
    pub radius: f64,
    /// Least radius of its bends.
    pub least_bend: f64,
    /// Length of the handle's centre line.
    pub handle: f64,
    /// The handle's radius.
    pub handle_radius: f64,
}

/// One piece: how much of the full curvature (0 to 1), and in which plane (rad about the line).
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Bend {
    share: f64,
    plane: f64,
}

const STRAIGHT: Bend = Bend {
    share: 0.0,
    plane: 0.0,
};

/// Pieces of a chain of arcs.
const PIECES: usize = 3;

/// How much of the full curvature a piece of a chain has, where it is not straight.
const SHARES: [f64; 2] = [1.0, 0.5];

/// Planes in which a piece of a chain bends.
const PLANES: usize = 8;

/// No piece of the polyline along an arc turns by more, rad.
const CHORD: f64 = 0.12;

/// A place on the shaft, its direction, and two directions across it that turn no more than they must.
#[derive(Clone, Copy, Debug)]
struct Tip {
    at: Vec3,
    line: Vec3,
    out: Vec3,
    side: Vec3,
}

impl Tip {
    /// The tip moved along an arc by `length`, of curvature `bend` times the fullest.
    fn along(&self, length: f64, bend: Bend, least_bend: f64) -> Self {
        let curvature = bend.share / least_bend;
        let turn = length * curvature;
        let across = self.out * bend.plane.cos() + self.side * bend.plane.sin();
        let (sin, cos) = turn.sin_cos();
        let (forth, over) = if turn.abs() < 1e-9 {
            (length, 0.0)
        } else {
            (sin / curvature, (1.0 - cos) / curvature)
        };
        // All three directions turn about the normal of the bend's plane.
        let turned = |v: Vec3| {
            let (l, a) = (v.dot(self.line), v.dot(across));
            v + self.line * (l * cos - a * sin - l) + across * (l * sin + a * cos - a)
        };
        Self {
            at: self.at + self.line * forth + across * over,
            line: turned(self.line),
            out: turned(self.out),
            side: turned(self.side),
        }
    }
}

/// A search for a bent shaft at one clip, which remembers the bends that were free last.
#[derive(Debug)]
pub(crate) struct Bender<'l, 'o> {
    local: &'l Local<'o>,
    shaft: Shaft,
    even: Vec<Bend>,
    last: Option<[Bend; PIECES]>,
}

impl<'l, 'o> Bender<'l, 'o> {
    pub(crate) fn new(local: &'l Local<'o>, shaft: Shaft) -> Self {
        let most = shaft.length / shaft.least_bend;
        let mut even = vec![STRAIGHT];
        for turns in 1..=8 {
            let turn = (PI * f64::from(turns) / 8.0).min(most);
            for plane in 0..12 {
                even.push(Bend {
                    share: turn / most,
                    plane: TAU * f64::from(plane) / 12.0,
                });
            }
            if turn >= most {
                break;
            }
        }
        Self {
            local,
            shaft,
            even,
            last: None,
        }
    }

    /// The centre line of a free shaft with its handle's two ends behind it, or `None`.
    pub(crate) fn find(&mut self, stand: &Stand, from: f64) -> Option<Vec<Cap>> {
        let tip = Tip {
            at: stand.origin + stand.line * from,
            line: stand.line,
            out: stand.out,
            side: stand.side,
        };
        if let Some(last) = self.last
            && let Some(caps) = self.chain(tip, &last)
        {
            return Some(caps);
        }
        for bend in &self.even {
            let bends = [*bend; PIECES];
            if let Some(caps) = self.chain(tip, &bends) {
                self.last = Some(bends);
                return Some(caps);
            }
        }
        let mut bends = [STRAIGHT; PIECES];
        let caps = self.search(tip, 0, &mut bends)?;
        self.last = Some(bends);
        Some(caps)
    }

    /// The whole of one chain, if it is free.
    fn chain(&self, tip: Tip, bends: &[Bend; PIECES]) -> Option<Vec<Cap>> {
        let mut caps = Vec::new();
        let mut tip = tip;
        for bend in bends {
            tip = self.piece(tip, *bend, &mut caps)?;
        }
        self.handle(tip, &mut caps)?;
        Some(caps)
    }

    /// All chains, piece by piece, leaving out what begins with a piece that is not free.
    fn search(&self, tip: Tip, n: usize, bends: &mut [Bend; PIECES]) -> Option<Vec<Cap>> {
        if n == PIECES {
            let mut caps = Vec::new();
            self.handle(tip, &mut caps)?;
            return Some(caps);
        }
        let bent = SHARES.iter().flat_map(|share| {
            (0..PLANES).map(|plane| Bend {
                share: *share,
                plane: TAU * plane as f64 / PLANES as f64,
            })
        });
        for bend in std::iter::once(STRAIGHT).chain(bent) {
            let mut caps = Vec::new();
            let Some(next) = self.piece(tip, bend, &mut caps) else {
                continue;
            };
            if let Some(slot) = bends.get_mut(n) {
                *slot = bend;
            }
            if let Some(rest) = self.search(next, n + 1, bends) {
                caps.extend(rest);
                return Some(caps);
            }
        }
        None
    }

    /// One piece as a chain of capsules, wide enough to hold the arc itself.
    fn piece(&self, tip: Tip, bend: Bend, caps: &mut Vec<Cap>) -> Option<Tip> {
        let length = self.shaft.length / PIECES as f64;
        let turn = length * bend.share / self.shaft.least_bend;
        let count = (turn / CHORD).ceil().max(1.0);
        let bulge = if turn > 0.0 {
            self.shaft.least_bend / bend.share * (1.0 - (turn / count / 2.0).cos())
        } else {
            0.0
        };
        let mut from = tip;
        for n in 1..=count as usize {
            let to = tip.along(length * n as f64 / count, bend, self.shaft.least_bend);
            let cap = Cap {
                a: from.at,
                b: to.at,
                radius: self.shaft.radius + bulge,
            };
            self.local.free(&cap, 0.0).ok()?;
            caps.push(cap);
            from = to;
        }
        Some(from)
    }

    fn handle(&self, tip: Tip, caps: &mut Vec<Cap>) -> Option<()> {
        let a = tip.at + tip.line * self.shaft.handle_radius;
        let cap = Cap {
            a,
            b: a + tip.line * self.shaft.handle,
            radius: self.shaft.handle_radius,
        };
        self.local.free(&cap, 0.0).ok()?;
        caps.push(cap);
        Some(())
    }
}
