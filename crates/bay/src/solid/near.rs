//! The answer to "how near is this piece of hose to that body".

use crate::Vec3;

/// Where a segment comes nearest to a body, or lies deepest in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Near {
    /// Least signed distance in m of the segment's points to the surface: negative inside the body.
    pub distance: f64,
    /// The point of the segment where that is, in m.
    pub on_axis: Vec3,
    /// The point of the body's surface nearest to it, in m.
    pub on_body: Vec3,
    /// Unit vector out of the body at that place: the gradient of the distance, so that a step of
    /// the segment along it widens the gap by its length.
    pub normal: Vec3,
}

impl Near {
    /// The same if it is no farther than `within` m.
    pub(crate) fn if_within(self, within: f64) -> Option<Self> {
        (self.distance <= within).then_some(self)
    }
}

/// A unit vector square to `to`, or upright where `to` has no length.
pub(crate) fn square_to(to: Vec3) -> Vec3 {
    let least = if to.x.abs() <= to.y.abs() && to.x.abs() <= to.z.abs() {
        Vec3::X
    } else if to.y.abs() <= to.z.abs() {
        Vec3::Y
    } else {
        Vec3::Z
    };
    to.cross(least).try_normalize().unwrap_or(Vec3::Z)
}

/// Cosine of 30°.
pub(crate) const ALIKE: f64 = 0.866;

/// Whether two unit vectors lie more than 30° apart.
pub(crate) fn apart(one: Vec3, other: Vec3) -> bool {
    one.dot(other) < ALIKE
}
