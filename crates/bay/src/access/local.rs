//! What lies within a tool's reach of one clip, looked up once, so that thousands of poses ask little.

use std::borrow::Cow;
use std::cell::Cell;

use super::arc::Look;
use super::pose::Cap;
use crate::Vec3;
use crate::clock::ClipFrame;
use crate::solid::{Bounds, Shape, Space};

/// One thing that a tool must not meet.
#[derive(Clone, Copy, Debug)]
pub struct Obstacle<'a> {
    /// Its name, for the words about what blocks.
    pub name: &'a str,
    /// Its shape.
    pub shape: &'a Shape,
}

/// The bodies of a space and the hoses that are in, but for the one whose clip it is: a tool may lie
/// against its own hose. The bodies come first, in their order.
pub fn obstacles<'a>(
    space: &'a Space,
    hoses: impl IntoIterator<Item = (&'a str, &'a Shape)>,
    own: &str,
) -> Vec<Obstacle<'a>> {
    let bodies = space.bodies().iter().map(|body| Obstacle {
        name: &body.name,
        shape: &body.shape,
    });
    let hoses = hoses
        .into_iter()
        .filter(|(name, _)| *name != own)
        .map(|(name, shape)| Obstacle { name, shape });
    bodies.chain(hoses).collect()
}

/// How much of a clip's own hose a tool may lie against, either way along it from the clip, in outside
/// diameters (common practice, no source).
const OWN_FREE: f64 = 2.0;

/// By how much a hose gives way under a tool or a hand that lies against it, m (common practice, no source).
const OWN_GIVES: f64 = 0.002;

/// What of a clip's own hose stands in a tool's way as anything else does: all that is more than two
/// outside diameters along the hose from the clip. Of a shape that is no tube nothing is left out for
/// the tool, so that nothing stands in its way.
pub fn own_beyond(shape: &Shape, clip: Vec3, od: f64) -> Vec<Shape> {
    let Shape::Tube { points, radius } = shape else {
        return Vec::new();
    };
    let mut at = 0.0;
    let mut pieces: Vec<(f64, f64, Vec3, Vec3)> = Vec::new();
    let mut nearest = (f64::INFINITY, 0.0);
    for (p, q) in points.iter().zip(points.iter().skip(1)) {
        let (way, long) = (*q - *p, (*q - *p).length());
        if long < 1e-9 {
            continue;
        }
        let along = ((clip - *p).dot(way) / long).clamp(0.0, long);
        let off = (*p + way * (along / long) - clip).length();
        if off < nearest.0 {
            nearest = (off, at + along);
        }
        pieces.push((at, at + long, *p, *q));
        at += long;
    }
    let free = OWN_FREE * od.max(2.0 * radius);
    let radius = (radius - OWN_GIVES).max(0.5 * radius);
    // What lies farther off the hose's end than the clip itself counts as less of the hose.
    let (off, middle) = nearest;
    let free = (free - off).max(0.0);
    let (before, behind) = (middle - free, middle + free);
    let part = |from: f64, to: f64| -> Option<Shape> {
        let mut points: Vec<Vec3> = Vec::new();
        for (low, high, p, q) in &pieces {
            let (a, b) = (low.max(from), high.min(to));
            if b - a <= 1e-9 {
                continue;
            }
            let on = |at: f64| *p + (*q - *p) * ((at - low) / (high - low));
            if points.is_empty() {
                points.push(on(a));
            }
            points.push(on(b));
        }
        (points.len() > 1).then_some(Shape::Tube { points, radius })
    };
    [part(0.0, before), part(behind, at)]
        .into_iter()
        .flatten()
        .collect()
}

#[derive(Debug)]
struct Item<'a> {
    number: usize,
    shape: Cow<'a, Shape>,
    bounds: Bounds,
    /// Distance of the clip's place from the shape, m.
    gap: f64,
}

/// The obstacles within reach of one clip.
#[derive(Debug)]
pub(crate) struct Local<'a> {
    at: Vec3,
    axis: Vec3,
    items: Vec<Item<'a>>,
    /// The item that was hit last: the next pose likely hits it too.
    last: Cell<usize>,
}

/// What a capsule met.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Met {
    /// The number of the obstacle.
    pub number: usize,
    /// For how much turn about the clip it surely stays met, rad.
    pub sure: f64,
}

impl<'a> Local<'a> {
    /// The obstacles no farther than `reach` m from the clip.
    pub(crate) fn new(frame: &ClipFrame, obstacles: &[Obstacle<'a>], reach: f64) -> Self {
        let at = frame.at();
        let spot = Bounds::of([at]);
        let mut items: Vec<Item<'a>> = Vec::new();
        for (number, obstacle) in obstacles.iter().enumerate() {
            if obstacle.shape.bounds().gap_squared(&spot) > reach * reach {
                continue;
            }
            let Some(near) = obstacle.shape.near(at, at, reach) else {
                continue;
            };
            for shape in cut(obstacle.shape, at, reach) {
                items.push(Item {
                    number,
                    bounds: shape.bounds(),
                    shape,
                    gap: near.distance,
                });
            }
        }
        // What is cheap to ask comes first: a hit there spares the rest.
        items.sort_by_key(|item| matches!(*item.shape, Shape::Mesh(_)));
        Self {
            at,
            axis: frame.axis(),
            items,
            last: Cell::new(0),
        }
    }

    /// Distance of a place from the clip's axis, m: how far it moves for each radian of turn.
    fn arm(&self, place: Vec3) -> f64 {
        let to = place - self.at;
        (to - self.axis * to.dot(self.axis)).length()
    }

    /// Whether a capsule is free, and for how much turn about the clip it surely stays so: at most `most`.
    pub(crate) fn free(&self, cap: &Cap, most: f64) -> Result<f64, Met> {
        let arm = self.arm(cap.a).max(self.arm(cap.b)).max(1e-9);
        let far = (cap.a - self.at).length().max((cap.b - self.at).length());
        let piece = Bounds::of([cap.a, cap.b]);
        let mut gap = arm * most;
        let count = self.items.len();
        let first = self.last.get();
        for n in 0..count {
            // The one hit last comes first and changes places with the very first.
            let n = match n {
                0 => first,
                n if n == first => 0,
                n => n,
            };
            let Some(item) = self.items.get(n) else {
                continue;
            };
            let within = cap.radius + gap;
            if item.gap > far + within || item.bounds.gap_squared(&piece) > within * within {
                continue;
            }
            if let Some(distance) = distance(&item.shape, cap, within) {
                let left = distance - cap.radius;
                if left < 0.0 {
                    self.last.set(n);
                    return Err(Met {
                        number: item.number,
                        sure: -left / arm,
                    });
                }
                gap = gap.min(left);
            }
        }
        Ok(gap / arm)
    }

    /// The number of the obstacle that was met last.
    pub(crate) fn last_met(&self) -> Option<usize> {
        self.items.get(self.last.get()).map(|item| item.number)
    }

    /// Every obstacle that meets some of these capsules, each once.
    pub(crate) fn all_met(&self, caps: &[Cap]) -> Vec<usize> {
        let mut met = Vec::new();
        for item in &self.items {
            if met.last() != Some(&item.number)
                && caps
                    .iter()
                    .any(|cap| item.shape.meets(cap.a, cap.b, cap.radius))
            {
                met.push(item.number);
            }
        }
        met
    }

    /// Whether all capsules are free: the least turn for which that stays, or what the first one met.
    pub(crate) fn all_free(&self, caps: &[Cap], most: f64) -> Result<f64, Met> {
        caps.iter()
            .try_fold(most, |sure, cap| Ok(sure.min(self.free(cap, most)?)))
    }
}

/// Distance of a capsule's centre line from a shape, if that is at most `within`. Of a mesh the surface is
/// asked first: where that is met nobody needs to know how deep, which is dear to find; nor behind it.
fn distance(shape: &Shape, cap: &Cap, within: f64) -> Option<f64> {
    if let Shape::Mesh(mesh) = shape {
        let met = mesh
            .gap(cap.a, cap.b, cap.radius + mesh.grown_by())
            .map(|gap| gap - mesh.grown_by());
        if met.is_some_and(|met| met < cap.radius) {
            return met;
        }
        return mesh.at_most(cap.a, cap.b, within);
    }
    shape.near(cap.a, cap.b, within).map(|near| near.distance)
}

/// What of a shape lies within reach of a place: of a tube the pieces near it, of others all.
fn cut<'a>(shape: &'a Shape, at: Vec3, reach: f64) -> Vec<Cow<'a, Shape>> {
    let Shape::Tube { points, radius } = shape else {
        return vec![Cow::Borrowed(shape)];
    };
    let mut pieces: Vec<Vec<Vec3>> = Vec::new();
    let mut open = false;
    for (p, q) in points.iter().zip(points.iter().skip(1)) {
        let capsule = Shape::Capsule {
            a: *p,
            b: *q,
            radius: *radius,
        };
        if capsule.near(at, at, reach).is_none() {
            open = false;
        } else if open && let Some(piece) = pieces.last_mut() {
            piece.push(*q);
        } else {
            pieces.push(vec![*p, *q]);
            open = true;
        }
    }
    if points.len() < 2 {
        return vec![Cow::Borrowed(shape)];
    }
    pieces
        .into_iter()
        .map(|points| {
            Cow::Owned(Shape::Tube {
                points,
                radius: *radius,
            })
        })
        .collect()
}

impl From<Result<f64, Met>> for Look {
    fn from(found: Result<f64, Met>) -> Self {
        match found {
            Ok(sure) => Self::Free { sure },
            Err(met) => Self::Hit { sure: met.sure },
        }
    }
}
