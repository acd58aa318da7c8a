//! Boxes, cylinders, capsules and tubes: distances by hand, and against the search along the segment.

use bay::Vec3;
use bay::solid::{Body, Frame, Hull, NoShape, Shape, Space};
use proptest::prelude::*;

use crate::kit::{at, least, signed};

const FREE: f64 = f64::INFINITY;

fn distance(shape: &Shape, a: Vec3, b: Vec3) -> f64 {
    shape.near(a, b, FREE).expect("no bound").distance
}

#[test]
fn distances_worked_by_hand() {
    let cube = Shape::upright_box(Vec3::ZERO, at(1.0, 1.0, 1.0));
    let bar = Shape::Cylinder {
        a: at(0.0, 0.0, -1.0),
        b: at(0.0, 0.0, 1.0),
        radius: 1.0,
    };
    let pill = Shape::Capsule {
        a: at(0.0, 0.0, -1.0),
        b: at(0.0, 0.0, 1.0),
        radius: 1.0,
    };
    let p = |x, y, z| at(x, y, z);
    let rows = [
        // The corner of the box, an edge, a face, the middle, a point just in.
        (&cube, p(2.0, 3.0, 3.0), p(2.0, 3.0, 3.0), 3.0),
        (&cube, p(4.0, 5.0, 0.2), p(4.0, 5.0, 9.0), 5.0),
        (&cube, p(0.3, 0.2, 1.5), p(0.9, 0.1, 2.5), 0.5),
        (&cube, Vec3::ZERO, Vec3::ZERO, -1.0),
        (&cube, p(0.75, 0.0, 0.0), p(0.75, 0.1, 0.0), -0.25),
        // A line past the corner at right angles to its diagonal: |3 - 1.5 * 1 ...| = sqrt 3 / 2.
        (&cube, p(4.5, -1.5, 1.5), p(-1.5, 4.5, 1.5), 0.75_f64.sqrt()),
        // Right through the middle: the deepest point is the middle.
        (&cube, p(-3.0, 0.0, 0.0), p(3.0, 0.0, 0.0), -1.0),
        // The rim of the cylinder: 3 out and 4 up.
        (&bar, p(4.0, 0.0, 5.0), p(4.0, 0.0, 5.0), 5.0),
        (&bar, p(3.0, -9.0, 0.0), p(3.0, 9.0, 0.0), 2.0),
        (&bar, p(0.5, 0.0, 3.0), p(0.5, 0.5, 7.0), 2.0),
        (&bar, p(0.0, 0.0, 0.9), p(0.0, 0.0, 4.0), -0.1),
        (&bar, p(-9.0, 0.0, 0.0), p(9.0, 0.0, 0.0), -1.0),
        // A line at 45 degrees over the rim in the plane of the axis: (3.5 - 2) / sqrt 2 ... of x + z = 4.
        (&bar, p(4.0, 0.0, 0.0), p(0.0, 0.0, 4.0), 2.0_f64.sqrt()),
        // The capsule: beside, over the end, in it.
        (&pill, p(4.0, -3.0, 0.5), p(4.0, 3.0, 0.5), 3.0),
        (&pill, p(3.0, 0.0, 5.0), p(3.0, 0.0, 5.0), 4.0),
        (&pill, p(0.0, -1.0, 0.0), p(0.0, 1.0, 0.0), -1.0),
    ];
    for (row, (shape, a, b, expected)) in rows.into_iter().enumerate() {
        let found = distance(shape, a, b);
        assert!(
            (found - expected).abs() < 1e-12,
            "row {row}: {found} for {expected}"
        );
    }
}

#[test]
fn a_bound_only_leaves_out() {
    let bar = Shape::Capsule {
        a: Vec3::ZERO,
        b: at(1.0, 0.0, 0.0),
        radius: 0.1,
    };
    let (a, b) = (at(0.5, 0.5, 0.0), at(0.5, 2.0, 0.0));
    assert_eq!(bar.near(a, b, 0.39), None);
    assert_eq!(bar.near(a, b, 0.41), bar.near(a, b, FREE));
}

#[test]
fn a_tube_is_its_nearest_piece() {
    let points = vec![Vec3::ZERO, at(1.0, 0.0, 0.0), at(1.0, 1.0, 0.0)];
    let tube = Shape::Tube {
        points: points.clone(),
        radius: 0.05,
    };
    let (a, b) = (at(0.6, 0.3, 0.0), at(0.6, 0.3, 1.0));
    assert!((distance(&tube, a, b) - 0.25).abs() < 1e-12);
    let empty = Shape::Tube {
        points: Vec::new(),
        radius: 0.05,
    };
    assert_eq!(empty.near(a, b, FREE), None);
}

#[test]
fn two_bodies_are_two_constraints() {
    let wall = |x: f64| Shape::upright_box(at(x, 0.0, 0.0), at(0.1, 1.0, 1.0));
    let mut engine = Body::solid("right", wall(0.3));
    engine.frame = Frame::Engine;
    engine.keep = 0.05;
    let space = Space::new(vec![
        Body::solid("left", wall(-0.3)),
        engine,
        Body::solid("far", wall(4.0)),
    ]);
    let (a, b) = (at(0.01, 0.0, -0.5), at(0.01, 0.0, 0.5));
    let near = space.near(a, b, 0.02, 0.5);
    let gaps: Vec<(usize, f64)> = near.iter().map(|(n, near)| (*n, near.distance)).collect();
    assert_eq!(gaps.len(), 2);
    assert!(
        (gaps[0].1 - 0.19).abs() < 1e-12 && (gaps[1].1 - 0.17).abs() < 1e-12,
        "{gaps:?}"
    );
    assert!((near[0].1.normal - Vec3::X).length() < 1e-12);
    assert!((near[1].1.normal + Vec3::X).length() < 1e-12);
    assert_eq!(space.nearest(a, b, 0.02, 1.0).map(|(n, _)| n), Some(1));
    let (number, left, _) = space.tightest(a, b, 0.02, 1.0, &[]).expect("one is near");
    assert!(number == 1 && (left - 0.12).abs() < 1e-12);
    assert_eq!(
        space.tightest(a, b, 0.02, 1.0, &[1]).map(|(n, ..)| n),
        Some(0)
    );
    // The engine's wall comes over by 80 mm, the hull's stays.
    let moved = space.moved(at(-0.08, 0.0, 0.0)).near(a, b, 0.02, 0.5);
    assert!((moved[0].1.distance - 0.19).abs() < 1e-12);
    assert!((moved[1].1.distance - 0.09).abs() < 1e-12);
}

#[test]
fn sight_is_blocked_by_what_stands_between() {
    let post = Shape::Cylinder {
        a: at(0.0, 0.0, -1.0),
        b: at(0.0, 0.0, 1.0),
        radius: 0.1,
    };
    let space = Space::new(vec![Body::solid("post", post)]);
    let (from, to) = (at(-1.0, 0.05, 0.0), at(1.0, 0.05, 0.0));
    assert!(!space.sees(from, to, &[]));
    assert!(space.sees(from, to, &[0]));
    assert!(space.sees(from + Vec3::Y, to + Vec3::Y, &[]));
    assert!(space.sees(from + Vec3::Z * 1.2, to + Vec3::Z * 1.2, &[]));
}

fn vector(reach: f64) -> impl Strategy<Value = Vec3> {
    (-reach..reach, -reach..reach, -reach..reach).prop_map(|(x, y, z)| at(x, y, z))
}

fn turned() -> impl Strategy<Value = [Vec3; 3]> {
    (vector(1.0), vector(1.0)).prop_filter_map("three axes", |(u, v)| {
        let x = u.try_normalize()?;
        let y = (v - x * v.dot(x)).try_normalize()?;
        Some([x, y, x.cross(y)])
    })
}

fn shape() -> impl Strategy<Value = Shape> {
    let half = (0.02..0.6, 0.02..0.6, 0.02..0.6).prop_map(|(x, y, z)| at(x, y, z));
    let ends = || {
        (vector(0.6), vector(0.6)).prop_filter("some length", |(a, b)| (*b - *a).length() > 0.01)
    };
    prop_oneof![
        (vector(0.5), half, turned()).prop_map(|(center, half, axes)| Shape::Box {
            center,
            half,
            axes
        }),
        (ends(), 0.02..0.5).prop_map(|((a, b), radius)| Shape::Cylinder { a, b, radius }),
        (ends(), 0.02..0.5).prop_map(|((a, b), radius)| Shape::Capsule { a, b, radius }),
    ]
}

/// Segments at random, and those in line with the shape or square to it where forms may fail.
fn segment(shape: &Shape, a: Vec3, b: Vec3, kind: u8) -> (Vec3, Vec3) {
    let axis = match shape {
        Shape::Box { axes, .. } => axes[0],
        Shape::Cylinder { a, b, .. } | Shape::Capsule { a, b, .. } => (*b - *a).normalize(),
        _ => Vec3::X,
    };
    let start = match shape {
        Shape::Box { center, .. } => *center,
        Shape::Cylinder { a, .. } | Shape::Capsule { a, .. } => *a,
        _ => a,
    };
    match kind {
        0 => (a, a + axis * (b - a).length()),
        1 => (a, a + (b - a) - axis * (b - a).dot(axis)),
        2 => (start, start + axis * b.x),
        3 => (a, a),
        4 => (start + (a - start) * 0.2, start - (a - start) * 0.2),
        _ => (a, b),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 4000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_least_along_the_segment_is_found(shape in shape(), a in vector(1.5), b in vector(1.5), kind in 0u8..12) {
        let (a, b) = segment(&shape, a, b, kind);
        let near = shape.near(a, b, FREE).expect("no bound");
        let expected = least(a, b, |p| signed(&shape, p));
        prop_assert!((near.distance - expected).abs() < 2e-9, "{} for {expected}", near.distance);
        // What is told belongs together.
        prop_assert!((signed(&shape, near.on_axis) - near.distance).abs() < 1e-9);
        prop_assert!(signed(&shape, near.on_body).abs() < 1e-9);
        prop_assert!((near.on_body + near.normal * near.distance - near.on_axis).length() < 1e-9);
        prop_assert!((near.normal.length() - 1.0).abs() < 1e-9);
        // A step along the normal widens the gap by as much.
        let out = signed(&shape, near.on_axis + near.normal * 1e-4) - near.distance;
        prop_assert!((out - 1e-4).abs() < 1e-7, "{out}");
    }

    #[test]
    fn moves_change_nothing_or_at_most_as_much(shape in shape(), a in vector(1.5), b in vector(1.5), by in vector(0.3)) {
        let there = distance(&shape, a, b);
        prop_assert!((distance(&shape, b, a) - there).abs() < 1e-12);
        prop_assert!((distance(&shape.moved(by), a + by, b + by) - there).abs() < 1e-12);
        let other = distance(&shape, a + by, b + by);
        prop_assert!((other - there).abs() <= by.length() + 1e-12);
        // Nothing at no positive distance lies outside the bounds.
        let bounds = shape.bounds();
        let gap = bounds.gap_squared(&bay::solid::Bounds::of([a, b])).sqrt();
        prop_assert!(gap <= there.max(0.0) + 1e-12);
    }
}

#[test]
fn figures_that_make_no_shape_are_told() {
    let (a, b) = (at(0.0, 0.0, 0.0), at(0.3, 0.0, 0.0));
    let odd = f64::NAN;
    let bar = |a, b, radius| Shape::Cylinder { a, b, radius };
    let tube = |points, radius| Shape::Tube { points, radius };
    let skewed = Shape::Box {
        center: a,
        half: at(0.1, 0.1, 0.1),
        axes: [Vec3::X, Vec3::X, Vec3::Z],
    };
    let shapes = vec![
        (Shape::upright_box(a, at(0.1, 0.2, 0.3)), None),
        (
            Shape::upright_box(a, at(0.1, -0.2, 0.3)),
            Some(NoShape::Size(-0.2)),
        ),
        (
            Shape::upright_box(at(odd, 0.0, 0.0), b),
            Some(NoShape::Place),
        ),
        (skewed, Some(NoShape::Axes)),
        (bar(a, b, 0.02), None),
        (bar(a, b, -0.02), Some(NoShape::Size(-0.02))),
        (bar(a, a, 0.02), Some(NoShape::Short)),
        (
            Shape::Capsule { a, b, radius: 0.0 },
            Some(NoShape::Size(0.0)),
        ),
        (tube(vec![a, b], 0.02), None),
        (tube(vec![], 0.02), Some(NoShape::NoPoints)),
        (tube(vec![a, at(0.0, odd, 0.0)], 0.02), Some(NoShape::Place)),
    ];
    let bodies = shapes
        .iter()
        .map(|(shape, _)| Body::solid("thing", shape.clone()))
        .collect();
    let told: Vec<(usize, NoShape)> = Space::new(bodies).odd().collect();
    let meant: Vec<(usize, NoShape)> = (0..)
        .zip(&shapes)
        .filter_map(|(number, (_, why))| Some((number, (*why)?)))
        .collect();
    assert_eq!(told, meant);
    // A size that is no number is not equal to itself.
    for shape in [bar(a, b, odd), Shape::upright_box(a, at(0.1, odd, 0.1))] {
        assert!(matches!(shape.check(), Err(NoShape::Size(_))));
    }
    let hull = Hull::new(&[a, b, at(0.0, 0.2, 0.0), at(0.0, 0.0, 0.2)], -0.01);
    assert_eq!(
        Shape::Hull(hull.expect("a body")).check(),
        Err(NoShape::Size(-0.01))
    );
}
