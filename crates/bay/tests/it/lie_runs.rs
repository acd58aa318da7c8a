//! Whole runs: hoses with rigid pieces between them.

use std::f64::consts::FRAC_PI_2;

use bay::Vec3;
use bay::lie::{Elbow, Held, Hose, Piece, Roll, Run, Straight, lie, lie_from};
use bay::rod::{Fault, Grip, OpenAir, Rod, settle};

use crate::rod_kit::{end, like, near};

fn hose(length: f64) -> Hose {
    Hose {
        length,
        stiffness: 1.2,
        weight: 17.0,
        radius: 0.024,
        least_radius: 0.15,
    }
}

fn elbow(roll: Roll) -> Elbow {
    Elbow {
        angle: FRAC_PI_2,
        bend: 0.05,
        leg_in: 0.06,
        leg_out: 0.06,
        weight: 3.0,
        radius: 0.024,
        roll,
    }
}

fn joiner(length: f64) -> Straight {
    Straight {
        length,
        weight: 1.0,
        radius: 0.022,
    }
}

#[test]
fn a_hose_alone_lies_as_a_rod() {
    let a = end([0.0; 3], [1.0, 0.0, 0.0]);
    let b = end([0.4, 0.1, 0.15], [0.0, 0.0, 1.0]);
    let rod = settle(&Rod::between(a, b, 0.75, 1.2, 17.0), &OpenAir).expect("it settles");
    let run = lie(&Run::of(a, b, vec![Piece::Hose(hose(0.75))]), &OpenAir).expect("it lies");
    near(run[0].lay.farthest_from(&rod[0]), 0.0, 1e-6, "distance");
    like(
        run[0].hoses[0].bend.radius,
        rod[0].bend.radius,
        0.01,
        "radius",
    );
    near(run[0].lay.energy, rod[0].energy, 1e-9, "energy");
}

#[test]
fn a_joiner_is_straight_and_two_hoses_meet_it() {
    // A hose cut in two with almost nothing between lies as the whole.
    let a = end([0.0; 3], [1.0, 0.0, 0.0]);
    let b = end([0.4, 0.1, 0.15], [0.0, 0.0, 1.0]);
    let whole = lie(&Run::of(a, b, vec![Piece::Hose(hose(0.75))]), &OpenAir).expect("it lies");
    let tiny = Straight {
        length: 1e-6,
        weight: 0.0,
        radius: 0.0,
    };
    let pieces = vec![
        Piece::Hose(hose(0.375)),
        Piece::Straight(tiny),
        Piece::Hose(hose(0.375)),
    ];
    let cut = lie(&Run::of(a, b, pieces), &OpenAir).expect("it lies");
    near(
        (cut[0].lay.place(0.3) - whole[0].lay.place(0.3)).length(),
        0.0,
        1e-4,
        "distance",
    );
    // With a long joiner its line is straight.
    let pieces = vec![
        Piece::Hose(hose(0.3)),
        Piece::Straight(joiner(0.12)),
        Piece::Hose(hose(0.3)),
    ];
    let run = Run::of(a, b, pieces);
    let lies = lie(&run, &OpenAir).expect("it lies");
    let (p, q) = (lies[0].lay.place(0.3), lies[0].lay.place(0.42));
    near((q - p).length(), 0.12, 1e-9, "length of the joiner");
    assert_eq!(lies[0].hoses.len(), 2);
    near(lies[0].hoses[0].end, 0.3, 1e-9, "end of the first hose");
    near(
        lies[0].hoses[1].begin,
        0.42,
        1e-9,
        "beginning of the second",
    );
    // Weight is carried by both mouths.
    let carried = lies[0].lay.force_a.z + lies[0].lay.force_b.z;
    near(carried, -(17.0 * 0.6 + 1.0), 1e-6, "weight");
}

#[test]
fn an_elbow_keeps_its_angle() {
    let a = end([0.0; 3], [1.0, 0.0, 0.0]);
    let b = end([0.45, 0.0, 0.5], [0.0, 0.0, -1.0]);
    let pieces = vec![
        Piece::Hose(hose(0.3)),
        Piece::Elbow(elbow(Roll::Free)),
        Piece::Hose(hose(0.4)),
    ];
    let run = Run::of(a, b, pieces);
    let lies = lie(&run, &OpenAir).expect("it lies");
    let lay = &lies[0];
    assert!(lay.elbow_error < 2e-3, "{}", lay.elbow_error);
    assert!(lay.lay.stable);
    // The rounded line is nowhere bent sharper than the elbow.
    let most = lay
        .centreline
        .windows(3)
        .map(|p| {
            let (s, t) = (p[1] - p[0], p[2] - p[1]);
            s.angle_between(t)
        })
        .fold(0.0_f64, f64::max);
    assert!(most < 0.3, "{most}");
    let carried = lay.lay.force_a.z + lay.lay.force_b.z;
    near(carried, -(17.0 * 0.7 + 3.0), 1e-6, "weight");
    let again = lie_from(&run, &OpenAir, lay).expect("it lies");
    near(again.lay.farthest_from(&lay.lay), 0.0, 1e-6, "distance");
}

#[test]
fn an_elbow_on_a_mouth_is_a_mouth_elsewhere() {
    // Exact: the elbow's far end is known from its roll, so the hose sees another mouth.
    let a = end([0.0; 3], [1.0, 0.0, 0.0]);
    let b = end([0.3, 0.2, 0.4], [0.3, 0.1, -1.0]);
    let pieces = vec![
        Piece::Elbow(elbow(Roll::Toward(Vec3::new(0.3, 0.0, 1.0)))),
        Piece::Hose(hose(0.6)),
    ];
    let run = lie(&Run::of(a, b, pieces), &OpenAir).expect("it lies");
    let moved = end([0.06 + 0.05, 0.0, 0.05 + 0.06], [0.0, 0.0, 1.0]);
    let rod = settle(&Rod::between(moved, b, 0.6, 1.2, 17.0), &OpenAir).expect("it settles");
    // The edges differ: the elbow's leg and the first half edge are one.
    like(run[0].lay.bending, rod[0].bending, 1e-3, "energy");
    near(
        (run[0].lay.place(0.22 + 0.3) - rod[0].place(0.3)).length(),
        0.0,
        1e-3,
        "distance",
    );
    // At the last mouth: mirrored, the same shape backward.
    let back = vec![
        Piece::Hose(hose(0.6)),
        Piece::Elbow(elbow(Roll::Toward(Vec3::new(0.3, 0.0, 1.0)))),
    ];
    let reverse = lie(&Run::of(b, a, back), &OpenAir).expect("it lies");
    like(
        reverse[0].lay.energy,
        run[0].lay.energy,
        1e-4,
        "energy backward",
    );
}

#[test]
fn a_roll_between_hoses_is_kept() {
    let a = end([0.0; 3], [1.0, 0.0, 0.0]);
    let b = end([0.45, 0.0, 0.5], [0.0, 0.0, -1.0]);
    let toward = Vec3::new(0.0, 0.5, 1.0);
    let pieces = vec![
        Piece::Hose(hose(0.35)),
        Piece::Elbow(elbow(Roll::Toward(toward))),
        Piece::Hose(hose(0.45)),
    ];
    let free = vec![
        Piece::Hose(hose(0.35)),
        Piece::Elbow(elbow(Roll::Free)),
        Piece::Hose(hose(0.45)),
    ];
    let held = lie(&Run::of(a, b, pieces), &OpenAir).expect("it lies");
    let loose = lie(&Run::of(a, b, free), &OpenAir).expect("it lies");
    assert!(
        held[0].lay.energy >= loose[0].lay.energy - 1e-6,
        "holding it costs energy"
    );
    let corner = held[0]
        .lay
        .directions()
        .windows(2)
        .max_by(|a, b| a[0].dot(a[1]).total_cmp(&b[0].dot(b[1])).reverse())
        .expect("it has a corner");
    let out = corner[0]
        .cross(corner[1])
        .normalize()
        .dot(toward.normalize());
    near(out, 0.0, 3e-3, "out of the plane");
}

#[test]
fn a_roll_between_hoses_tells_up_from_down() {
    let a = end([0.0; 3], [1.0, 0.0, 0.0]);
    let b = end([0.5, 0.1, 0.0], [-1.0, 0.0, 0.0]);
    let mut bent = elbow(Roll::Free);
    bent.angle = 0.6;
    for toward in [Vec3::Z, -Vec3::Z, Vec3::Y, -Vec3::Y] {
        bent.roll = Roll::Toward(toward);
        let pieces = vec![
            Piece::Hose(hose(0.35)),
            Piece::Elbow(bent),
            Piece::Hose(hose(0.35)),
        ];
        let lies = lie(&Run::of(a, b, pieces), &OpenAir).expect("it lies");
        for lay in &lies {
            let corner = lay
                .lay
                .directions()
                .windows(2)
                .max_by(|a, b| a[0].dot(a[1]).total_cmp(&b[0].dot(b[1])).reverse())
                .expect("it has a corner");
            let across = (corner[1] - corner[0] * corner[0].dot(corner[1])).normalize();
            assert!(across.dot(toward) > 0.3, "{toward}: {across}");
        }
    }
}

#[test]
fn a_roll_along_the_leg_is_refused() {
    let a = end([0.0; 3], [1.0, 0.0, 0.0]);
    let b = end([0.3, 0.2, 0.4], [0.3, 0.1, -1.0]);
    for (way, first) in [(a.along, true), (b.along, false), (Vec3::ZERO, true)] {
        let mut pieces = vec![
            Piece::Elbow(elbow(Roll::Toward(way))),
            Piece::Hose(hose(0.6)),
        ];
        if !first {
            pieces.reverse();
        }
        let found = lie(&Run::of(a, b, pieces), &OpenAir);
        assert!(matches!(found, Err(Fault::Figure { .. })), "{found:?}");
    }
}

#[test]
fn places_that_are_no_numbers_are_refused() {
    let a = end([0.0; 3], [1.0, 0.0, 0.0]);
    let b = end([0.5, 0.0, 0.0], [-1.0, 0.0, 0.0]);
    let good = Run::of(a, b, vec![Piece::Hose(hose(0.6))]);
    assert!(lie(&good, &OpenAir).is_ok());
    let nan = Vec3::new(f64::NAN, 0.0, 0.0);
    let mut wrong = vec![good.clone(); 5];
    wrong[0].a.at = nan;
    wrong[1].b.at = nan;
    wrong[2].bare = [0.0, f64::NAN];
    wrong[3].held.push(Held {
        piece: 0,
        arc: 0.3,
        at: nan,
    });
    wrong[4].held.push(Held {
        piece: 0,
        arc: f64::NAN,
        at: Vec3::ZERO,
    });
    for run in wrong {
        assert!(matches!(lie(&run, &OpenAir), Err(Fault::Figure { .. })));
    }
}

#[test]
fn clips_of_a_run_that_cannot_hold_are_named() {
    let a = end([0.0; 3], [1.0, 0.0, 0.0]);
    let b = end([0.7, 0.0, 0.0], [-1.0, 0.0, 0.0]);
    let pieces = vec![
        Piece::Hose(hose(0.35)),
        Piece::Straight(joiner(0.1)),
        Piece::Hose(hose(0.35)),
    ];
    let mut run = Run::of(a, b, pieces);
    let clip = |piece: usize, arc: f64, at: [f64; 3]| Held {
        piece,
        arc,
        at: Vec3::from_array(at),
    };
    run.held = vec![
        clip(2, 0.05, [0.49, 0.0, -0.05]),
        clip(0, 0.2, [0.19, 0.02, -0.04]),
    ];
    assert!(matches!(
        lie(&run, &OpenAir),
        Err(Fault::Supports {
            first: Grip::Support(1),
            second: Grip::Support(0),
            ..
        })
    ));
    // On its own curve, to the millimetre, three of them hold.
    run.held.clear();
    let free = lie(&run, &OpenAir).expect("it lies").remove(0);
    let tape = |arc: f64| (free.lay.place(arc) * 1000.0).round() / 1000.0;
    run.held = [(0, 0.13, 0.13), (0, 0.27, 0.27), (2, 0.15, 0.6)]
        .map(|(piece, arc, along)| Held {
            piece,
            arc,
            at: tape(along),
        })
        .to_vec();
    let lies = lie(&run, &OpenAir).expect("it lies");
    assert!(lies[0].lay.stable);
    for (held, along) in run.held.iter().zip([0.13, 0.27, 0.6]) {
        near(
            (lies[0].lay.place(along) - held.at).length(),
            0.0,
            1e-9,
            "distance",
        );
    }
    // Close to each other and to the mouth: finer joints hold them.
    run.held = vec![
        clip(0, 0.007, [0.0069, 0.0, -0.0004]),
        clip(0, 0.2, [0.19, 0.03, -0.04]),
        clip(0, 0.215, [0.204, 0.031, -0.043]),
    ];
    let lies = lie(&run, &OpenAir).expect("it lies");
    near(
        (lies[0].lay.place(0.215) - run.held[2].at).length(),
        0.0,
        1e-9,
        "distance",
    );
}

#[test]
fn a_clip_holds_a_run() {
    let a = end([0.0; 3], [1.0, 0.0, 0.0]);
    let b = end([0.7, 0.0, 0.0], [-1.0, 0.0, 0.0]);
    let pieces = vec![
        Piece::Hose(hose(0.35)),
        Piece::Straight(joiner(0.1)),
        Piece::Hose(hose(0.35)),
    ];
    let mut run = Run::of(a, b, pieces);
    let at = Vec3::new(0.19, 0.03, -0.04);
    run.held.push(Held {
        piece: 0,
        arc: 0.2,
        at,
    });
    let lies = lie(&run, &OpenAir).expect("it lies");
    near(
        (lies[0].lay.place(0.2) - at).length(),
        0.0,
        1e-9,
        "distance",
    );
    run.held[0].piece = 1;
    assert!(matches!(lie(&run, &OpenAir), Err(Fault::Figure { .. })));
}

#[test]
fn no_hose_is_no_run() {
    let a = end([0.0; 3], [1.0, 0.0, 0.0]);
    let b = end([0.1, 0.0, 0.0], [-1.0, 0.0, 0.0]);
    assert!(lie(&Run::of(a, b, vec![Piece::Straight(joiner(0.1))]), &OpenAir).is_err());
    assert!(matches!(
        lie(
            &Run::of(
                a,
                end([1.0, 0.0, 0.0], [-1.0, 0.0, 0.0]),
                vec![Piece::Hose(hose(0.5))]
            ),
            &OpenAir
        ),
        Err(Fault::TooShort { .. })
    ));
}
