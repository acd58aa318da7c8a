//! Whether the figures of a shape make one.

use super::Shape;
use crate::Vec3;

/// Why figures make no shape.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum NoShape {
    /// A place is no finite number.
    #[error("a place is no finite number")]
    Place,
    /// A radius or an edge is no length above nothing.
    #[error("a size of {0} m is no length above nothing")]
    Size(f64),
    /// The edges of a box are not square to each other, or not told by unit vectors.
    #[error("the edges of the box are not square to each other")]
    Axes,
    /// Both ends of a bar lie at one place.
    #[error("both ends of the bar lie at one place")]
    Short,
    /// A tube has no points.
    #[error("the tube has no points")]
    NoPoints,
}

/// How far unit vectors square to each other may be off.
const SQUARE: f64 = 1e-6;

impl Shape {
    /// Whether its figures make a shape; one that they do not is near to nothing or to anything.
    ///
    /// # Errors
    ///
    /// Where a place is no finite number, a size no length above nothing, a box askew, a bar without
    /// length, or a tube without points.
    pub fn check(&self) -> Result<(), NoShape> {
        let places = |points: &[Vec3]| {
            let finite = points.iter().all(|point| point.is_finite());
            finite.then_some(()).ok_or(NoShape::Place)
        };
        let size = |size: f64| {
            let is = size.is_finite() && size > 0.0;
            is.then_some(()).ok_or(NoShape::Size(size))
        };
        match self {
            Self::Box { center, half, axes } => {
                places(&[*center])?;
                half.to_array().into_iter().try_for_each(size)?;
                let [x, y, z] = *axes;
                let long = [x.dot(x) - 1.0, y.dot(y) - 1.0, z.dot(z) - 1.0];
                let askew = [x.dot(y), y.dot(z), z.dot(x)];
                let square = long.into_iter().chain(askew).all(|off| off.abs() <= SQUARE);
                square.then_some(()).ok_or(NoShape::Axes)
            }
            Self::Cylinder { a, b, radius } => {
                places(&[*a, *b])?;
                size(*radius)?;
                if a == b { Err(NoShape::Short) } else { Ok(()) }
            }
            Self::Capsule { a, b, radius } => {
                places(&[*a, *b])?;
                size(*radius)
            }
            Self::Tube { points, radius } => {
                places(points)?;
                size(*radius)?;
                if points.is_empty() {
                    Err(NoShape::NoPoints)
                } else {
                    Ok(())
                }
            }
            // These were looked at when they were made; of a hull all but its rounding.
            Self::Hull(hull) => {
                let round = hull.round();
                let is = round.is_finite() && round >= 0.0;
                is.then_some(()).ok_or(NoShape::Size(round))
            }
            Self::Mesh(mesh) => {
                let grown = mesh.grown_by();
                grown.is_finite().then_some(()).ok_or(NoShape::Size(grown))
            }
        }
    }
}
