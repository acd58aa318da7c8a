//! Things in the way, as bodies.

use bay::Vec3;
use bay::solid::{Frame, Hull, Nature, Shape};
use boat::{BayFrame, BayNature, BayPoint, BayShape, BayThing, Key, Told};
use quantity::Quantity;

use super::Desk;
use crate::shop::missing;
use crate::stages::route::BodyFact;
use crate::stages::types::Missing;

/// The clearance that a thing wants where the file says nothing [m]: a hand from what moves, a finger from what is
/// hot, next to nothing from what stands still. Common practice, no source: 25 mm to edges, 50 mm to belts.
const KEEP: [(BayNature, f64); 4] = [
    (BayNature::Moving, 0.050),
    (BayNature::Hot, 0.050),
    (BayNature::Solid, 0.010),
    (BayNature::Hull, 0.010),
];

impl Desk<'_> {
    /// The things that have a shape, and those of which something of it is not known.
    pub(super) fn bodies(&self) -> (Vec<BodyFact>, Vec<(Key, Missing)>) {
        let (mut bodies, mut shapeless) = (Vec::new(), Vec::new());
        for thing in &self.boat().bay.things {
            match self.body(thing) {
                Ok(body) => bodies.push(body),
                Err(missing) => shapeless.push((thing.key.clone(), missing)),
            }
        }
        (bodies, shapeless)
    }

    fn body(&self, thing: &BayThing) -> Result<BodyFact, Missing> {
        let without = |part: &str, why: &str| {
            let place = format!("{}{part}", thing.path());
            missing(
                why,
                &place,
                "Tape its corners or its ends from the pins, and write them.",
            )
        };
        let told = thing
            .shape
            .as_ref()
            .ok_or_else(|| without("", "its shape is not written"))?;
        let shape = shape(told).map_err(|lacks| match lacks {
            Lacks::Part(part) => without(part, "a part of its shape is not known"),
            Lacks::Room => without(".hull", "its points lie in one plane"),
        })?;
        shape.check().map_err(|odd| without("", &odd.to_string()))?;
        let nature = thing.nature.given().copied().unwrap_or_default();
        let usual = KEEP.iter().find(|(of, _)| *of == nature);
        let keep = match &thing.keep {
            Told::Given(keep) => keep.value.si(),
            _ => usual.map_or(0.0, |(_, keep)| *keep),
        };
        let engine = thing.on == Told::Given(BayFrame::Engine)
            || thing.of.as_deref().is_some_and(|of| self.on_engine(of));
        Ok(BodyFact {
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

fn given(points: &[Told<BayPoint>], part: &'static str) -> Result<Vec<Vec3>, Lacks> {
    points
        .iter()
        .map(|point| point.given().map(vector).ok_or(Lacks::Part(part)))
        .collect()
}

/// Why a shape can't be made.
enum Lacks {
    /// This key of it is not known.
    Part(&'static str),
    /// There is no room in it.
    Room,
}

fn shape(told: &BayShape) -> Result<Shape, Lacks> {
    match told {
        BayShape::Box { from, to, turned } => {
            let from = vector(from.given().ok_or(Lacks::Part(".box.from"))?);
            let to = vector(to.given().ok_or(Lacks::Part(".box.to"))?);
            let turned = match turned {
                Told::Given(turned) => turned.value.si(),
                Told::LeftOut => 0.0,
                _ => return Err(Lacks::Part(".box.turned")),
            };
            let (sin, cos) = turned.sin_cos();
            Ok(Shape::Box {
                center: (from + to) * 0.5,
                half: (to - from).abs() * 0.5,
                axes: [
                    Vec3::new(cos, sin, 0.0),
                    Vec3::new(-sin, cos, 0.0),
                    Vec3::new(0.0, 0.0, 1.0),
                ],
            })
        }
        BayShape::Cylinder { from, to, across } => Ok(Shape::Cylinder {
            a: vector(from.given().ok_or(Lacks::Part(".cylinder.from"))?),
            b: vector(to.given().ok_or(Lacks::Part(".cylinder.to"))?),
            radius: across
                .given()
                .ok_or(Lacks::Part(".cylinder.across"))?
                .value
                .si()
                / 2.0,
        }),
        BayShape::Pipe { along, across } => Ok(Shape::Tube {
            points: given(along, ".pipe.along")?,
            radius: across
                .given()
                .ok_or(Lacks::Part(".pipe.across"))?
                .value
                .si()
                / 2.0,
        }),
        BayShape::Hull(points) => Hull::new(&given(points, ".hull")?, 0.0)
            .map(Shape::Hull)
            .map_err(|_| Lacks::Room),
    }
}
