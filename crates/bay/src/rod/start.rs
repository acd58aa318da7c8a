//! Starts from which equilibria are sought: several, for one finds one shape only.

use super::{Edge, Vec3};

/// Points along a start's curve.
const FINE: usize = 160;

/// What a start has to join.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Gap {
    pub(crate) from: Vec3,
    pub(crate) leave: Vec3,
    pub(crate) to: Vec3,
    pub(crate) arrive: Vec3,
    pub(crate) length: f64,
    pub(crate) down: Vec3,
}

impl Gap {
    fn chord(&self) -> Vec3 {
        self.to - self.from
    }

    /// Two directions across the chord: the first in the plane that the ends like best.
    fn across(&self) -> (Vec3, Vec3, Vec3) {
        let chord = self.chord();
        let mut along = chord.normalize_or_zero();
        if chord.length() < 1e-6 * self.length {
            along = self.leave.any_orthonormal_vector();
        }
        for likely in [
            self.leave - self.arrive,
            self.leave,
            self.down,
            self.leave + self.arrive,
        ] {
            let part = likely - along * along.dot(likely);
            if part.length() > 1e-3 {
                let first = part.normalize();
                return (along, first, along.cross(first));
            }
        }
        let first = along.any_orthonormal_vector();
        (along, first, along.cross(first))
    }

    /// A cubic with given speed at both ends, and a bump across it.
    fn curve(&self, speed: f64, bump: Vec3, out: &mut Vec<Vec3>) {
        out.clear();
        for i in 0..=FINE {
            let s = i as f64 / FINE as f64;
            let (q, r) = (s * s, s * s * s);
            let at = self.from * (2.0 * r - 3.0 * q + 1.0)
                + self.leave * (speed * (r - 2.0 * q + s))
                + self.to * (3.0 * q - 2.0 * r)
                + self.arrive * (speed * (r - q));
            let wave = (std::f64::consts::PI * s).sin();
            out.push(at + bump * (wave * wave));
        }
    }

    /// The speed at which the plain cubic has the length, if there is one.
    fn speed(&self, points: &mut Vec<Vec3>) -> Option<f64> {
        let mut low = 0.3 * self.chord().length().max(0.05 * self.length);
        let mut high = 9.0 * self.length;
        self.curve(low, Vec3::ZERO, points);
        if length(points) > self.length {
            return None;
        }
        self.curve(high, Vec3::ZERO, points);
        if length(points) < self.length {
            return None;
        }
        for _ in 0..20 {
            let middle = (low + high) / 2.0;
            self.curve(middle, Vec3::ZERO, points);
            if length(points) < self.length {
                low = middle;
            } else {
                high = middle;
            }
        }
        Some(low)
    }

    /// A cubic with so much bump that it has the length.
    fn bumped(&self, way: Vec3, points: &mut Vec<Vec3>) {
        let mut speed = self.chord().length().max(0.3 * self.length);
        self.curve(speed, Vec3::ZERO, points);
        while length(points) > self.length && speed > 0.02 * self.length {
            speed *= 0.6;
            self.curve(speed, Vec3::ZERO, points);
        }
        let (mut low, mut high) = (0.0, self.length);
        for _ in 0..20 {
            let middle = (low + high) / 2.0;
            self.curve(speed, way * middle, points);
            if length(points) < self.length {
                low = middle;
            } else {
                high = middle;
            }
        }
    }
}

fn length(points: &[Vec3]) -> f64 {
    points
        .windows(2)
        .map(|pair| match pair {
            [a, b] => (*b - *a).length(),
            _ => 0.0,
        })
        .sum()
}

/// Directions of edges along a line of points, which is stretched to their length.
pub(crate) fn directions(points: &[Vec3], edges: &[Edge], out: &mut Vec<Vec3>) {
    out.clear();
    let scale = length(points) / edges.iter().map(|edge| edge.length).sum::<f64>();
    let mut pairs = points.windows(2).peekable();
    let mut passed = 0.0;
    let mut arc = 0.0;
    let mut way = Vec3::X;
    for edge in edges {
        let middle = (arc + edge.length / 2.0) * scale;
        arc += edge.length;
        while let Some([a, b]) = pairs.peek() {
            let long = (*b - *a).length();
            way = (*b - *a).normalize_or(way);
            if passed + long >= middle {
                break;
            }
            passed += long;
            pairs.next();
        }
        out.push(way);
    }
}

/// Kinds of starts: the plain cubic, four with a bump, two with a loop.
const KINDS: usize = 7;

impl Gap {
    /// Puts the curve of a kind into `points`, if there is one of it.
    fn shaped(&self, kind: usize, points: &mut Vec<Vec3>) -> bool {
        let (along, first, second) = self.across();
        match kind {
            0 => match self.speed(points) {
                Some(speed) => self.curve(speed, Vec3::ZERO, points),
                None => return false,
            },
            1 => self.bumped(first, points),
            2 => self.bumped(-first, points),
            3 => self.bumped(second, points),
            4 => self.bumped(-second, points),
            _ if self.length <= 1.2 * self.chord().length() => return false,
            5 => *points = looped(self, along, first),
            _ => *points = looped(self, along, second),
        }
        true
    }
}

/// A place at which the hose is held on its way.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Stop {
    pub(crate) at: Vec3,
    /// Distance from where the gap begins [m].
    pub(crate) arc: f64,
    /// Direction of the hose there, if it is given.
    pub(crate) along: Option<Vec3>,
}

/// The gaps between the stops, which stand in order: there the line goes as the neighbours lie.
fn cut(gap: &Gap, stops: &[Stop]) -> Vec<Gap> {
    let mut out = Vec::with_capacity(stops.len() + 1);
    let (mut from, mut leave, mut passed) = (gap.from, gap.leave, 0.0);
    for (number, stop) in stops.iter().enumerate() {
        let next = stops.get(number + 1).map_or(gap.to, |next| next.at);
        let way = stop
            .along
            .unwrap_or_else(|| (next - from).normalize_or(leave));
        out.push(Gap {
            from,
            leave,
            to: stop.at,
            arrive: way,
            length: stop.arc - passed,
            down: gap.down,
        });
        (from, leave, passed) = (stop.at, way, stop.arc);
    }
    out.push(Gap {
        from,
        leave,
        length: gap.length - passed,
        ..*gap
    });
    out
}

/// All starts for a gap with stops in it, each as directions of the edges that span it. A start has
/// the same kind of curve between every two stops, or where there is none of it the plain one.
pub(crate) fn piecewise(gap: &Gap, stops: &[Stop], edges: &[Edge]) -> Vec<Vec<Vec3>> {
    let gaps = cut(gap, stops);
    let mut points = Vec::with_capacity(FINE + 1);
    let mut all = Vec::new();
    for kind in 0..KINDS {
        let mut line: Vec<Vec3> = Vec::with_capacity(gaps.len() * FINE + 1);
        let mut any = false;
        for gap in &gaps {
            if gap.shaped(kind, &mut points) {
                any = true;
            } else if gaps.len() > 1 && !gap.shaped(0, &mut points) {
                gap.bumped(gap.across().1, &mut points);
            }
            line.pop();
            line.append(&mut points);
        }
        if any {
            let mut out = Vec::with_capacity(edges.len());
            directions(&line, edges, &mut out);
            all.push(out);
        }
    }
    for (number, start) in all.iter_mut().enumerate() {
        ripple(start, number);
    }
    all
}

/// A start along given points.
pub(crate) fn led(points: &[Vec3], edges: &[Edge]) -> Vec<Vec3> {
    let mut out = Vec::with_capacity(edges.len());
    directions(points, edges, &mut out);
    ripple(&mut out, points.len());
    out
}

/// A line that makes one whole turn about an axis on its way.
fn looped(gap: &Gap, along: Vec3, axis: Vec3) -> Vec<Vec3> {
    let left = (gap.length - gap.chord().length()).max(0.2 * gap.length);
    let radius = left / std::f64::consts::TAU;
    let side = axis.cross(along);
    (0..=FINE)
        .map(|i| {
            let s = i as f64 / FINE as f64;
            let (sin, cos) = (std::f64::consts::TAU * s).sin_cos();
            gap.from
                + gap.chord() * s
                + (along * sin + side * (1.0 - cos)) * radius
                + axis * (0.2 * radius * (std::f64::consts::PI * s).sin())
        })
        .collect()
}

/// Disturbs a start a little out of every plane, so that no symmetry keeps it on a saddle.
fn ripple(start: &mut [Vec3], number: usize) {
    let phase = number as f64 * 0.9 + 0.3;
    for (e, t) in start.iter_mut().enumerate() {
        let s = e as f64;
        let off = Vec3::new(
            (s * 0.31 + phase).sin(),
            (s * 0.17 + 2.0 * phase).cos(),
            (s * 0.23 + 3.0 * phase).sin(),
        );
        *t = (*t + off * 4e-3).normalize_or(*t);
    }
}
