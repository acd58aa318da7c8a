//! Convex bodies about points, and what a moving part sweeps.

use bay::Vec3;
use bay::solid::{Flat, Hull, Shape};

use crate::kit::{Draw, at, least, signed};

const FREE: f64 = f64::INFINITY;

fn distance(shape: &Shape, a: Vec3, b: Vec3) -> f64 {
    shape.near(a, b, FREE).expect("no bound").distance
}

#[test]
fn the_hull_of_a_box_is_the_box() {
    let cube = Shape::upright_box(at(0.2, 0.0, -0.1), at(0.3, 0.2, 0.1));
    let hull = cube.swept(&[]).expect("a body");
    let mut draw = Draw(5);
    let mut deep = 0;
    for _ in 0..3000 {
        let (a, b) = (draw.place(0.6), draw.place(0.6));
        let expected = distance(&cube, a, b);
        assert!((distance(&hull, a, b) - expected).abs() < 1e-12);
        deep += usize::from(expected < 0.0);
    }
    assert!(deep > 100);
}

#[test]
fn a_hull_is_the_greatest_of_its_planes_within() {
    let mut draw = Draw(6);
    for _ in 0..40 {
        let points: Vec<Vec3> = (0..30).map(|_| draw.place(0.4)).collect();
        let hull = Hull::new(&points, 0.0).expect("a body");
        let faces: Vec<[Vec3; 3]> = hull.triangles().collect();
        let over = |p: Vec3| {
            let planes = faces.iter().map(|[a, b, c]| {
                let normal = (*b - *a).cross(*c - *a).normalize();
                (p - *a).dot(normal)
            });
            planes.fold(f64::NEG_INFINITY, f64::max)
        };
        for point in &points {
            assert!(over(*point) < 1e-9);
        }
        for _ in 0..50 {
            let (a, b) = (draw.place(0.4), draw.place(0.4));
            let most = least(a, b, over);
            let near = hull.near(a, b, FREE).expect("no bound");
            if most < -1e-9 {
                assert!(
                    (near.distance - most).abs() < 1e-9,
                    "{} for {most}",
                    near.distance
                );
            } else {
                assert!(near.distance > most - 1e-9);
            }
            assert!((near.on_body + near.normal * near.distance - near.on_axis).length() < 1e-9);
        }
    }
}

#[test]
fn a_swept_capsule_is_a_rounded_plate() {
    let pill = Shape::Capsule {
        a: Vec3::ZERO,
        b: at(0.0, 0.0, 0.2),
        radius: 0.05,
    };
    let swept = pill
        .swept(&[Vec3::ZERO, at(0.3, 0.0, 0.0)])
        .expect("a body");
    let mut draw = Draw(7);
    for _ in 0..300 {
        let (a, b) = (draw.place(0.5), draw.place(0.5));
        // Beside its plate it is a box of no thickness, grown by its radius.
        let plate = Shape::upright_box(at(0.15, 0.0, 0.1), at(0.15, 0.0, 0.1));
        let expected = distance(&plate, a, b) - 0.05;
        assert!((distance(&swept, a, b) - expected).abs() < 1e-9);
        // It is no farther than the part at any of its places.
        for k in 0..=6 {
            let there = pill.moved(at(0.05 * f64::from(k), 0.0, 0.0));
            let far = least(a, b, |p| signed(&there, p));
            assert!(distance(&swept, a, b) <= far + 1e-9);
        }
    }
}

#[test]
fn a_swept_pulley_holds_the_pulley() {
    let pulley = Shape::Cylinder {
        a: Vec3::ZERO,
        b: at(0.0, 0.03, 0.0),
        radius: 0.08,
    };
    let hull = pulley.swept(&[]).expect("a body");
    let mut draw = Draw(8);
    for _ in 0..500 {
        let (a, b) = (draw.place(0.3), draw.place(0.3));
        let (round, cut) = (distance(&pulley, a, b), distance(&hull, a, b));
        assert!(
            cut <= round + 1e-12 && cut >= round - 0.005 * 0.08,
            "{cut} for {round}"
        );
    }
}

#[test]
fn flat_points_span_nothing() {
    let plate = [
        Vec3::ZERO,
        Vec3::X,
        Vec3::Y,
        at(1.0, 1.0, 0.0),
        at(0.4, 0.2, 0.0),
    ];
    assert_eq!(Hull::new(&plate, 0.0).err(), Some(Flat));
    assert_eq!(Hull::new(&[], 0.1).err(), Some(Flat));
    assert!(Hull::new(&plate, 0.1).is_ok());
    // One point with a rounding is a ball.
    let ball = Hull::new(&[Vec3::X], 0.1).expect("a ball");
    assert!(
        (ball
            .near(Vec3::ZERO, Vec3::ZERO, FREE)
            .expect("no bound")
            .distance
            - 0.9)
            .abs()
            < 1e-12
    );
}
