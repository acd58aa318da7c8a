//! Things in the way, as bodies.

use bay::Vec3;
use bay::solid::{Frame, Hull, Nature, Shape};
use boat::{BayFrame, BayNature, BayPoint, BayShape, BayThing, Told};
use quantity::Quantity;

use super::Desk;
use crate::stages::route::BodyFact;

/// The clearance that a thing wants where the file says nothing [m]: a hand from what moves, a finger from what is
/// hot, next to nothing from what stands still. Common practice, no source: 25 mm to edges, 50 mm to belts.
const KEEP: [(BayNature, f64); 4] = [
    (BayNature::Moving, 0.050),
    (BayNature::Hot, 0.050),
    (BayNature::Solid, 0.010),
    (BayNature::Hull, 0.010),
];

impl Desk<'_> {
    pub(super) fn bodies(&self) -> Vec<BodyFact> {
        let things = self.boat().bay.things.iter();
        things.filter_map(|thing| self.body(thing)).collect()
    }

    fn body(&self, thing: &BayThing) -> Option<BodyFact> {
        let shape = shape(thing.shape.as_ref()?)?;
        let nature = thing.nature.given().copied().unwrap_or_default();
        let usual = KEEP.iter().find(|(of, _)| *of == nature);
        let keep = match &thing.keep {
            Told::Given(keep) => keep.value.si(),
            _ => usual.map_or(0.0, |(_, keep)| *keep),
        };
        let engine = thing.on == Told::Given(BayFrame::Engine)
            || thing.of.as_deref().is_some_and(|of| self.on_engine(of));
        Some(BodyFact {
            name: thing.key.clone(),
            title: thing.key.replace('-', " "),
            shape,
            nature: match nature {
                BayNature::Solid | BayNature::Hull => Nature::Solid,
                BayNature::Hot => Nature::Hot,
                BayNature::Moving => Nature::Moving,
            },
            hull: nature == BayNature::Hull,
            frame: if engine { Frame::Engine } else { Frame::Hull },
            keep,
            of: thing.of.clone(),
        })
    }
}

fn vector(point: &BayPoint) -> Vec3 {
    Vec3::from_array(point.si())
}

fn given(points: &[Told<BayPoint>]) -> Option<Vec<Vec3>> {
    points
        .iter()
        .map(|point| point.given().map(vector))
        .collect()
}

fn shape(told: &BayShape) -> Option<Shape> {
    match told {
        BayShape::Box { from, to, turned } => {
            let (from, to) = (vector(from.given()?), vector(to.given()?));
            let (sin, cos) = turned
                .given()
                .map_or(0.0, |turned| turned.value.si())
                .sin_cos();
            Some(Shape::Box {
                center: (from + to) * 0.5,
                half: (to - from).abs() * 0.5,
                axes: [
                    Vec3::new(cos, sin, 0.0),
                    Vec3::new(-sin, cos, 0.0),
                    Vec3::new(0.0, 0.0, 1.0),
                ],
            })
        }
        BayShape::Cylinder { from, to, across } => Some(Shape::Cylinder {
            a: vector(from.given()?),
            b: vector(to.given()?),
            radius: across.given()?.value.si() / 2.0,
        }),
        BayShape::Pipe { along, across } => Some(Shape::Tube {
            points: given(along)?,
            radius: across.given()?.value.si() / 2.0,
        }),
        BayShape::Hull(points) => Hull::new(&given(points)?, 0.0).ok().map(Shape::Hull),
    }
}
