//! Where a part of a scene stands: an affine map of points.

/// A linear part by columns, and a shift.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Place {
    columns: [[f64; 3]; 3],
    shift: [f64; 3],
}

impl Place {
    /// Where it was.
    pub(super) const SAME: Self = Self {
        columns: [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]],
        shift: [0.0; 3],
    };

    /// A matrix of four columns one after another, as glTF writes it; its last row is not looked at.
    pub(super) fn of_matrix(matrix: [f32; 16]) -> Self {
        let [a, b, c, _, d, e, f, _, g, h, i, _, x, y, z, _] = matrix.map(f64::from);
        Self {
            columns: [[a, b, c], [d, e, f], [g, h, i]],
            shift: [x, y, z],
        }
    }

    /// First scaled along the axes, then turned by a quaternion (x, y, z, w), then moved.
    pub(super) fn of_parts(moved: [f32; 3], turned: [f32; 4], scale: [f32; 3]) -> Self {
        let [x, y, z, w] = turned.map(f64::from);
        let size = x * x + y * y + z * z + w * w;
        // A quaternion is to have the length 1; one that is a little off turns and does not scale.
        let s = if size > 0.0 { 2.0 / size } else { 0.0 };
        let turned = [
            [
                1.0 - s * (y * y + z * z),
                s * (x * y + z * w),
                s * (x * z - y * w),
            ],
            [
                s * (x * y - z * w),
                1.0 - s * (x * x + z * z),
                s * (y * z + x * w),
            ],
            [
                s * (x * z + y * w),
                s * (y * z - x * w),
                1.0 - s * (x * x + y * y),
            ],
        ];
        let [a, b, c] = turned;
        let [sx, sy, sz] = scale.map(f64::from);
        Self {
            columns: [
                a.map(|part| part * sx),
                b.map(|part| part * sy),
                c.map(|part| part * sz),
            ],
            shift: moved.map(f64::from),
        }
    }

    /// The point, put there.
    pub(super) fn of(&self, point: [f64; 3]) -> [f64; 3] {
        let turned = self.turned(point);
        let ([x, y, z], [dx, dy, dz]) = (turned, self.shift);
        [x + dx, y + dy, z + dz]
    }

    fn turned(&self, [x, y, z]: [f64; 3]) -> [f64; 3] {
        let [[ax, ay, az], [bx, by, bz], [cx, cy, cz]] = self.columns;
        [
            ax * x + bx * y + cx * z,
            ay * x + by * y + cy * z,
            az * x + bz * y + cz * z,
        ]
    }

    /// Where something stands that stands so in this.
    pub(super) fn around(&self, inner: &Self) -> Self {
        Self {
            columns: inner.columns.map(|column| self.turned(column)),
            shift: self.of(inner.shift),
        }
    }

    /// Whether it turns left hands into right ones, so that faces have to be turned over.
    pub(super) fn mirrors(&self) -> bool {
        let [[ax, ay, az], [bx, by, bz], [cx, cy, cz]] = self.columns;
        let size = ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx);
        size < 0.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(found: [f64; 3], expected: [f64; 3]) {
        for (found, expected) in found.into_iter().zip(expected) {
            assert!((found - expected).abs() < 1e-7, "{found} is not {expected}");
        }
    }

    #[test]
    fn parts_act_in_the_order_of_the_standard() {
        // A quarter turn about z, to the left: x goes to y.
        let half = std::f32::consts::FRAC_1_SQRT_2;
        let place = Place::of_parts([10.0, 0.0, 0.0], [0.0, 0.0, half, half], [2.0, 1.0, 1.0]);
        near(place.of([1.0, 0.0, 0.0]), [10.0, 2.0, 0.0]);
        near(place.of([0.0, 1.0, 5.0]), [9.0, 0.0, 5.0]);
        assert!(!place.mirrors());
        let twice = place.around(&place);
        near(
            twice.of([1.0, 0.0, 0.0]),
            place.of(place.of([1.0, 0.0, 0.0])),
        );
        assert!(Place::of_parts([0.0; 3], [0.0, 0.0, 0.0, 1.0], [1.0, -1.0, 1.0]).mirrors());
        assert_eq!(
            Place::of_parts([0.0; 3], [0.0, 0.0, 0.0, 1.0], [1.0; 3]),
            Place::SAME
        );
    }
}
