//! The way of a hand from the hatch to the tool.

use std::f64::consts::PI;

use bay::Vec3;
use bay::access::{Clip, Doubt, Flood, Hatch, Housing, Shut, Way, WayIn, by_hand, reach, set_at};
use bay::solid::{Bounds, Shape};

use crate::access::{FINE, clip, named, straight};
use crate::kit::at;

const HAND: f64 = 0.045;

fn bay() -> Bounds {
    Bounds {
        low: at(-0.5, -0.5, -0.5),
        high: at(1.0, 0.5, 0.5),
    }
}

fn hatch() -> Option<Hatch> {
    Some(Hatch {
        at: at(0.9, 0.0, 0.0),
        radius: 0.05,
    })
}

/// A wall across the bay at x = 0.5 with a round-about square hole of half width `half` at y = 0.3.
fn holed(half: f64) -> Vec<Shape> {
    let plate = |y0: f64, y1: f64, z0: f64, z1: f64| {
        Shape::upright_box(
            at(0.5, (y0 + y1) / 2.0, (z0 + z1) / 2.0),
            at(0.01, (y1 - y0) / 2.0, (z1 - z0) / 2.0),
        )
    };
    let (low, high) = (0.3 - half, 0.3 + half);
    vec![
        plate(-0.7, low, -0.7, 0.7),
        plate(high, 0.7, -0.7, 0.7),
        plate(low, high, half, 0.7),
        plate(low, high, -0.7, -half),
    ]
}

#[test]
fn a_hand_goes_through_a_hole_that_is_wide_enough() {
    for (half, wanted) in [(0.10, true), (0.065, true), (0.042, false)] {
        let shapes = holed(half);
        let among = named(&shapes);
        let flood = Flood::new(&among, hatch(), bay(), HAND);
        let way = flood.reaches(at(0.0, 0.0, 0.0));
        assert_eq!(way == WayIn::Clear, wanted, "{half}: {way:?}");
        if !wanted {
            // What stands between is the plate on the straight line.
            assert_eq!(way, WayIn::Blocked { by: vec![0] });
        }
    }
}

#[test]
fn a_hand_goes_round_a_corner() {
    // A wall that ends at z = 0.2: over it there is room.
    let shapes = [Shape::upright_box(at(0.5, 0.0, -0.4), at(0.01, 0.9, 0.6))];
    let among = named(&shapes);
    let flood = Flood::new(&among, hatch(), bay(), HAND);
    assert_eq!(flood.reaches(at(0.0, 0.0, -0.2)), WayIn::Clear);
}

#[test]
fn what_cannot_be_told_is_said() {
    let none = Flood::new(&[], None, bay(), HAND);
    assert_eq!(none.reaches(Vec3::ZERO), WayIn::Unknown(Doubt::NoHatch));
    let vast = Bounds {
        low: at(-50.0, -50.0, -50.0),
        high: at(50.0, 50.0, 50.0),
    };
    let large = Flood::new(&[], hatch(), vast, HAND);
    assert_eq!(large.reaches(Vec3::ZERO), WayIn::Unknown(Doubt::TooLarge));
    let plug = [Shape::upright_box(at(0.9, 0.0, 0.0), at(0.2, 0.2, 0.2))];
    let among = named(&plug);
    let plugged = Flood::new(&among, hatch(), bay(), HAND);
    assert_eq!(plugged.reaches(Vec3::ZERO), WayIn::Shut(Shut::Blocked));
    assert_eq!(plugged.in_the_hatch(), [0]);
    // Narrower than the hand.
    let slit = Hatch {
        at: at(0.9, 0.0, 0.0),
        radius: 0.040,
    };
    let narrow = Flood::new(&[], Some(slit), bay(), HAND);
    assert_eq!(narrow.reaches(Vec3::ZERO), WayIn::Shut(Shut::Small));
    let open = Flood::new(&[], hatch(), bay(), HAND);
    assert_eq!(
        open.reaches(at(9.0, 0.0, 0.0)),
        WayIn::Unknown(Doubt::Outside)
    );
    assert_eq!(open.reaches(Vec3::ZERO), WayIn::Clear);
}

#[test]
fn a_driver_must_be_drawn_back_off_the_screw() {
    let tools = [straight()];
    let found = reach(&clip(), &tools, &[], FINE);
    let best = found[0].best().expect("it reaches");
    let hand = best.hand().expect("a hand");
    let line = best.comes_from().expect("a line").normalize();
    // A plate 20 mm behind the handle's round end lets it back by 15 mm, one at 10 mm does not.
    for (gap, clear) in [(0.020, true), (0.010, false)] {
        let middle = hand + line * (0.016 + gap + 0.002);
        let side = line.cross(Vec3::Z);
        let plate = Shape::Box {
            center: middle,
            half: at(0.002, 0.03, 0.03),
            axes: [line, side, Vec3::Z],
        };
        let shapes = [plate];
        let among = named(&shapes);
        // A slim hand, so that the plate is nothing to it.
        let near = Bounds::of([at(-0.3, -0.3, -0.2), at(0.3, 0.3, 0.2)]);
        let flood = Flood::new(&among, hatch(), near, 0.016);
        let way = flood.way_in(&best.caps, None);
        assert_eq!(way == WayIn::Clear, clear, "{gap}: {way:?}");
        if !clear {
            assert_eq!(way, WayIn::Blocked { by: vec![0] });
            assert_eq!(flood.way_in(&best.caps, Some((0, &[]))), WayIn::Clear);
        }
    }
}

#[test]
fn a_hand_is_sought_all_round() {
    // On the side of −y a tool goes between two plates and a hand does not.
    let plate = |z: f64| Shape::upright_box(at(0.0, -0.28, z), at(0.6, 0.26, 0.005));
    let shapes = [plate(0.035), plate(-0.035)];
    let among = named(&shapes);
    let tools = [straight()];
    let found = reach(&clip(), &tools, &among, FINE);
    let whole = found[0].best().expect("it reaches");
    assert!(whole.arc.width() > 6.2, "{:?}", whole.arc);
    let bay = Bounds::of([at(-0.4, -0.4, -0.2), at(0.4, 0.4, 0.2)]);
    let hatch = Some(Hatch {
        at: at(0.0, 0.40, 0.0),
        radius: 0.06,
    });
    let flood = Flood::new(&among, hatch, bay, HAND);
    // At the one angle in the middle of the arc no hand comes.
    assert!(matches!(
        flood.way_in(&whole.caps, None),
        WayIn::Blocked { .. }
    ));
    let seen = by_hand(
        &clip(),
        &tools[0],
        &among,
        &found[0],
        (&flood, None),
        FINE.fineness,
    );
    let seen = seen.expect("it reaches");
    assert_eq!(seen.way_in, WayIn::Clear);
    let hand = seen.best.hand().expect("a hand");
    assert!(hand.y > 0.0, "{hand:?}");
    let width = seen.best.arc.width().to_degrees();
    assert!((120.0..240.0).contains(&width), "{width}");
    // Set elsewhere, in the way that is free there, it has the tool as it lies there.
    let set = |way: Way, angle: f64| {
        let with = (&flood, None);
        set_at(&clip(), &tools[0], &among, &seen, with, (way, angle))
    };
    for hour in 0..12 {
        let angle = f64::from(hour) * 0.5;
        let mut any = false;
        for free in &seen.ways {
            let found = set(free.way, angle);
            assert_eq!(found.is_some(), free.slack_at(angle).is_some(), "{angle}");
            any |= found.is_some();
            if let Some(found) = found {
                assert!(found.best.hand().expect("a hand").y > 0.0, "{found:?}");
                // No more slack than to the nearer end of that way's own arc.
                let slack = free.slack_at(angle).expect("free");
                assert!((found.best.slack() - slack).abs() < 1e-9, "{found:?}");
                assert!((found.best.angle - angle).abs() < 1e-12);
            }
        }
        assert!(any, "{angle}");
    }
    // What stands where the screw's housing would is in the way too.
    let housed = Clip {
        housing: Some(Housing::default()),
        ..clip()
    };
    let angle = seen.best.angle;
    let (frame, od) = (&housed.frame, housed.od);
    for (turn, free) in [(0.0, false), (PI, true)] {
        let screw = Housing::default().shapes(frame, od, angle + turn);
        let beside = [named(&shapes), named(&screw)].concat();
        let with = (&flood, None);
        let way = (seen.best.way, angle);
        let found = set_at(&housed, &tools[0], &beside, &seen, with, way);
        assert_eq!(found.is_some(), free, "{turn}");
    }
    // Where no hatch is told all that the tool reaches stands, with the doubt.
    let none = Flood::new(&among, None, bay, HAND);
    let told = by_hand(
        &clip(),
        &tools[0],
        &among,
        &found[0],
        (&none, None),
        FINE.fineness,
    );
    let told = told.expect("it reaches");
    assert_eq!(told.way_in, WayIn::Unknown(Doubt::NoHatch));
    assert!(told.best.arc.width() > 6.2);
}
