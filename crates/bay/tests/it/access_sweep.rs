//! The sweep itself, and free arcs in bays made at random: against plain dense looks, with something taken
//! away, in a mirror and turned.

use std::f64::consts::{PI, TAU};

use bay::Vec3;
use bay::access::{Arc, Fineness, Look, Tool, Way, sweep, union, widest};
use bay::clock::ClipFrame;
use bay::solid::Shape;
use proptest::prelude::*;

use crate::access::{FINE, clip, free, named, one, pincers, straight};
use crate::kit::{at, least, signed};

const fn degrees(value: f64) -> f64 {
    value * PI / 180.0
}

#[test]
fn a_sweep_finds_arcs_of_every_width_down_to_its_least() {
    let fineness = Fineness {
        step: degrees(5.0),
        least: degrees(0.5),
        ends: degrees(0.01),
    };
    for width in [0.6, 2.0, 4.9, 40.0, 200.0, 355.0, 359.3] {
        for from in [0.0, 1.3, 77.7, 180.0, 359.0] {
            let arc = Arc {
                from: degrees(from),
                to: degrees(from + width),
            };
            // A look that knows nothing beyond its own angle.
            let found = sweep(fineness, |angle| match arc.holds(angle) {
                true => Look::Free { sure: 0.0 },
                false => Look::Hit { sure: 0.0 },
            });
            assert_eq!(found.len(), 1, "{from} {width}: {found:?}");
            let off = |a: f64, b: f64| ((a - b + PI).rem_euclid(TAU) - PI).abs();
            assert!(off(found[0].from, arc.from) <= degrees(0.011), "{found:?}");
            assert!(off(found[0].to, arc.to) <= degrees(0.011), "{found:?}");
            // The ends lie on the free side.
            assert!(arc.holds(found[0].from + 1e-12) && arc.holds(found[0].to - 1e-12));
        }
    }
}

#[test]
fn a_sweep_asks_little_where_looks_are_sure() {
    let mut asked = 0;
    let found = sweep(Fineness::default(), |_| {
        asked += 1;
        Look::Free { sure: 1.0 }
    });
    assert_eq!(found, [Arc::WHOLE]);
    assert_eq!(asked, 72);
    assert!(sweep(Fineness::default(), |_| Look::Hit { sure: 1.0 }).is_empty());
}

#[test]
fn how_far_an_angle_lies_from_the_end_of_its_arc() {
    let arc = Arc {
        from: degrees(350.0),
        to: degrees(390.0),
    };
    let close = |angle: f64, to: f64| {
        arc.within(degrees(angle))
            .is_some_and(|found| (found - degrees(to)).abs() < 1e-9)
    };
    assert!(close(355.0, 5.0) && close(10.0, 20.0) && close(25.0, 5.0));
    assert_eq!(arc.within(degrees(40.0)), None);
    assert_eq!(Arc::WHOLE.within(1.0), Some(f64::INFINITY));
}

#[test]
fn arcs_are_put_together_where_they_touch() {
    let arc = |from: f64, to: f64| Arc {
        from: degrees(from),
        to: degrees(to),
    };
    let near = |a: &[Arc], b: &[Arc]| {
        a.len() == b.len()
            && a.iter()
                .zip(b)
                .all(|(a, b)| (a.from - b.from).abs() < 1e-9 && (a.to - b.to).abs() < 1e-9)
    };
    let of = |a: &[Arc], b: &[Arc]| union([a, b]);
    assert!(near(
        &of(&[arc(10.0, 30.0)], &[arc(20.0, 50.0), arc(60.0, 70.0)]),
        &[arc(10.0, 50.0), arc(60.0, 70.0)]
    ));
    // Through nought from both sides.
    assert!(near(
        &of(&[arc(350.0, 365.0)], &[arc(3.0, 20.0)]),
        &[arc(350.0, 380.0)]
    ));
    assert!(near(
        &of(&[arc(300.0, 480.0)], &[arc(90.0, 310.0)]),
        &[Arc::WHOLE]
    ));
    assert!(of(&[], &[]).is_empty());
    assert_eq!(
        widest(&[arc(0.0, 5.0), arc(10.0, 30.0)]),
        Some(arc(10.0, 30.0))
    );
    assert_eq!(widest(&[]), None);
    assert!(arc(350.0, 370.0).holds(degrees(5.0)) && !arc(350.0, 370.0).holds(degrees(11.0)));
}

/// A body about the clip, none of which holds the clip's own place.
fn body() -> impl Strategy<Value = Shape> {
    let place = (0.0..TAU, 0.07..0.30_f64, -0.15..0.15_f64)
        .prop_map(|(turn, off, z)| at(off * turn.cos(), off * turn.sin(), z));
    let way = (-1.0..1.0_f64, -1.0..1.0_f64, -1.0..1.0_f64).prop_filter_map(
        "no direction",
        |(x, y, z)| {
            let way = at(x, y, z);
            (way.length() > 0.1).then(|| way.normalize())
        },
    );
    let sizes = (0.01..0.12_f64, 0.01..0.12_f64, 0.01..0.12_f64);
    (place, way, sizes, 0..3).prop_map(|(place, way, (a, b, c), kind)| match kind {
        0 => {
            let side = way.cross(at(0.3, -0.5, 0.8)).normalize();
            Shape::Box {
                center: place,
                half: at(a, b, c) * 0.6,
                axes: [way, side, way.cross(side)],
            }
        }
        1 => Shape::Cylinder {
            a: place - way * a,
            b: place + way * a,
            radius: b * 0.5,
        },
        _ => Shape::Capsule {
            a: place - way * (2.0 * a),
            b: place + way * (2.0 * a),
            radius: b * 0.3,
        },
    })
}

/// Gap of a tool's centre lines at an angle, each worked out here by itself: m.
fn gap(shapes: &[Shape], way: Way, angle: f64) -> f64 {
    let (e, round) = (
        at(angle.cos(), angle.sin(), 0.0),
        at(-angle.sin(), angle.cos(), 0.0),
    );
    let lines: Vec<(Vec3, Vec3, f64)> = match way {
        Way::Radial => vec![(e * 0.040, e * 0.226, 0.014)],
        _ => {
            let d = if way == Way::ScrewPlus { round } else { -round };
            let head = e * 0.026;
            vec![
                (head + d * 0.012, head + d * 0.132, 0.004),
                (head + d * 0.148, head + d * 0.231, 0.016),
            ]
        }
    };
    let mut worst = f64::INFINITY;
    for shape in shapes {
        for (a, b, radius) in &lines {
            worst = worst.min(least(*a, *b, |p| signed(shape, p)) - radius);
        }
    }
    worst
}

fn ways() -> Vec<(Tool, Way)> {
    vec![
        (straight(), Way::ScrewPlus),
        (straight(), Way::ScrewMinus),
        (pincers(), Way::Radial),
    ]
}

fn held(arcs: &[Arc], angle: f64) -> bool {
    arcs.iter().any(|arc| arc.holds(angle))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn arcs_are_those_of_plain_dense_looks(shapes in prop::collection::vec(body(), 1..5)) {
        for (tool, way) in ways() {
            let arcs = free(&one(&clip(), &tool, &shapes, FINE), way);
            let looks: Vec<f64> = (0..720).map(|n| gap(&shapes, way, TAU * f64::from(n) / 720.0)).collect();
            for (n, here) in looks.iter().enumerate() {
                // At 0.257 m from the axis half a degree moves by 2.3 mm.
                let sure = here.abs() > 1e-5;
                if sure {
                    let angle = TAU * n as f64 / 720.0;
                    let narrow = here.abs() < 0.26 * FINE.fineness.least;
                    prop_assert!(
                        narrow || held(&arcs, angle) == (*here > 0.0),
                        "{way:?} at {:.2}°: gap {here}, {arcs:?}", angle.to_degrees()
                    );
                }
            }
        }
    }

    #[test]
    fn taking_something_away_never_shrinks_an_arc(
        shapes in prop::collection::vec(body(), 1..6),
        which in 0..6_usize,
    ) {
        let mut fewer = shapes.clone();
        fewer.remove(which % shapes.len());
        for (tool, way) in ways() {
            let before = free(&one(&clip(), &tool, &shapes, FINE), way);
            let after = free(&one(&clip(), &tool, &fewer, FINE), way);
            let margin = FINE.fineness.least;
            for arc in before {
                let mut angle = arc.from + margin;
                while angle < arc.to - margin {
                    prop_assert!(held(&after, angle), "{angle} in {arc:?} is not in {after:?}");
                    angle += 0.02;
                }
            }
        }
    }

    #[test]
    fn a_mirror_turns_the_clock_about(shapes in prop::collection::vec(body(), 1..4)) {
        let flip = |v: Vec3| at(v.x, -v.y, v.z);
        let mirrored: Vec<Shape> = shapes.iter().map(|shape| mapped(shape, flip)).collect();
        for (tool, way, other) in [
            (straight(), Way::ScrewPlus, Way::ScrewMinus),
            (pincers(), Way::Radial, Way::Radial),
        ] {
            let here = free(&one(&clip(), &tool, &shapes, FINE), way);
            let there = free(&one(&clip(), &tool, &mirrored, FINE), other);
            let back: Vec<Arc> = there.iter().map(|arc| arc.mirrored()).collect();
            same(&here, &back)?;
        }
    }

    #[test]
    fn a_bay_that_turns_takes_the_arcs_along(
        shapes in prop::collection::vec(body(), 1..4),
        turn in 0.0..TAU,
    ) {
        let (sin, cos) = turn.sin_cos();
        let about = |v: Vec3| at(v.x * cos - v.y * sin, v.x * sin + v.y * cos, v.z);
        let turned: Vec<Shape> = shapes.iter().map(|shape| mapped(shape, about)).collect();
        // The same again with the frame turned along: nothing may change.
        let along = bay::access::Clip {
            frame: ClipFrame::new(Vec3::ZERO, Vec3::Z, about(Vec3::X)).expect("a frame"),
            ..clip()
        };
        for (tool, way) in ways() {
            let here = free(&one(&clip(), &tool, &shapes, FINE), way);
            let there = free(&one(&clip(), &tool, &turned, FINE), way);
            let back: Vec<Arc> = there
                .iter()
                .map(|arc| {
                    let from = (arc.from - turn).rem_euclid(TAU);
                    Arc { from, to: from + arc.width() }
                })
                .collect();
            same(&here, &back)?;
            same(&here, &free(&one(&along, &tool, &turned, FINE), way))?;
        }
    }
}

fn mapped(shape: &Shape, map: impl Fn(Vec3) -> Vec3) -> Shape {
    match shape {
        Shape::Box { center, half, axes } => Shape::Box {
            center: map(*center),
            half: *half,
            axes: axes.map(&map),
        },
        Shape::Cylinder { a, b, radius } => Shape::Cylinder {
            a: map(*a),
            b: map(*b),
            radius: *radius,
        },
        Shape::Capsule { a, b, radius } => Shape::Capsule {
            a: map(*a),
            b: map(*b),
            radius: *radius,
        },
        other => other.clone(),
    }
}

/// Two lists of arcs hold the same angles, but for slits at their ends and ones below the least width.
fn same(a: &[Arc], b: &[Arc]) -> Result<(), TestCaseError> {
    let edge = |angle: f64| {
        a.iter().chain(b).any(|arc| {
            [arc.from, arc.to]
                .iter()
                .any(|end| ((angle - end + PI).rem_euclid(TAU) - PI).abs() < FINE.fineness.least)
        })
    };
    for n in 0..1440 {
        let angle = TAU * f64::from(n) / 1440.0;
        if held(a, angle) != held(b, angle) && !edge(angle) && a.len() + b.len() > 0 {
            prop_assert!(false, "at {:.2}°: {a:?} and {b:?}", angle.to_degrees());
        }
    }
    Ok(())
}

#[test]
fn what_blocks_is_told_by_name_most_frequent_first() {
    let around: Vec<Shape> = (0..3)
        .map(|n| {
            let radius = 0.08 + 0.02 * f64::from(n);
            let plate = at(radius + 0.01, 0.0, 0.0);
            Shape::upright_box(plate, at(0.01, 0.25, 0.2))
        })
        .chain([
            Shape::upright_box(at(-0.06, 0.0, 0.0), at(0.01, 0.25, 0.2)),
            Shape::upright_box(at(0.0, 0.2, 0.0), at(0.2, 0.05, 0.2)),
            Shape::upright_box(at(0.0, -0.2, 0.0), at(0.2, 0.05, 0.2)),
        ])
        .collect();
    let found = one(&clip(), &pincers(), &around, FINE);
    assert!(found.free.is_empty());
    let names = found.blocked_by(&named(&around));
    // The nearest plates on each side stand in the way; those behind are never met first by all.
    for name in ["d", "e", "f"] {
        assert!(names.contains(&name), "{names:?}");
    }
    assert!(
        names.iter().any(|name| ["a", "b", "c"].contains(name)),
        "{names:?}"
    );
}
