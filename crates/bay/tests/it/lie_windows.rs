//! Windows of length, and corners of tolerance.

use bay::Vec3;
use bay::lie::{
    Corner, Hose, Limits, Piece, Run, RunLay, Straight, Tolerance, corners, corners_by, hot, lie,
    lie_from, window,
};
use bay::rod::{Around, OpenAir, Touch};

use crate::rod_kit::{end, like, near};

/// A quarter turn of 250 mm without weight.
fn quarter(length: f64, least_radius: f64) -> Run {
    Run::of(
        end([0.0; 3], [1.0, 0.0, 0.0]),
        end([0.25, 0.25, 0.0], [0.0, -1.0, 0.0]),
        vec![Piece::Hose(Hose {
            length,
            stiffness: 1.0,
            weight: 0.0,
            radius: 0.02,
            least_radius,
        })],
    )
}

fn bends(lay: &RunLay) -> bool {
    lay.bend_share() >= 1.0
}

#[test]
fn the_window_of_a_quarter_turn() {
    // 420 mm gives 158.3 mm: with that as the least radius the window ends there.
    let run = quarter(std::f64::consts::FRAC_PI_2 * 0.25, 0.1583);
    let first = lie(&run, &OpenAir).expect("it lies");
    let limits = Limits {
        low: 0.36,
        high: 0.5,
        step: 0.01,
        fine: 0.001,
    };
    let found = window(&run, &OpenAir, 0, &first[0], &limits, &bends).expect("a window");
    near(found.most, 0.42, 0.003, "longest");
    assert!(found.least > 0.36 && found.least < 0.392, "{found:?}");
    assert!(!found.open_above);
    assert!(found.solved < 40, "{found:?}");
    // From outside the window it is found too, and is the same.
    let long = quarter(0.47, 0.1583);
    let first = lie(&long, &OpenAir).expect("it lies");
    let other = window(&long, &OpenAir, 0, &first[0], &limits, &bends).expect("a window");
    near(other.most, found.most, 0.002, "longest");
    near(other.least, found.least, 0.002, "shortest");
    assert!(window(&run, &OpenAir, 0, &first[0], &limits, &|_| false).is_none());
}

#[test]
fn the_window_is_open_where_the_rules_hold_on() {
    let run = quarter(std::f64::consts::FRAC_PI_2 * 0.25, 0.05);
    let first = lie(&run, &OpenAir).expect("it lies");
    let limits = Limits {
        low: 0.385,
        high: 0.42,
        step: 0.01,
        fine: 0.001,
    };
    let found = window(&run, &OpenAir, 0, &first[0], &limits, &bends).expect("a window");
    assert!(found.open_above && found.open_below, "{found:?}");
}

struct Wall(f64);

impl Around for Wall {
    fn touch(&self, at: Vec3, within: f64, _press: f64, out: &mut Vec<Touch>) {
        let distance = self.0 - at.x;
        if distance < within {
            out.push(Touch {
                body: 0,
                distance,
                normal: -Vec3::X,
            });
        }
    }
}

#[test]
fn corners_are_worse_than_the_drawing() {
    let run = quarter(0.41, 0.15);
    let wall = Wall(0.4);
    let first = lie(&run, &wall).expect("it lies");
    let by = Tolerance::default();
    let told = corners(&run, &wall, &first[0], &by);
    assert!(told.lost.is_empty(), "{:?}", told.lost);
    assert!(told.bend.value < first[0].bend_share());
    let gap = told.gap.expect("a wall is near");
    assert!(gap.value < first[0].lay.gap.expect("a wall is near"));
    // No single tolerance is worse than the worst told.
    let longer = Corner {
        length: by.length,
        ..Corner::NONE
    }
    .of(&run);
    let alone = lie(&longer, &wall).expect("it lies");
    assert!(told.bend.value <= alone[0].bend_share() + 1e-9);
    // Without weight the stiffness changes nothing.
    let stiff = Corner {
        stiffness: 0.5,
        ..Corner::NONE
    }
    .of(&run);
    let same = lie(&stiff, &wall).expect("it lies");
    like(same[0].bend_share(), first[0].bend_share(), 1e-6, "share");
    assert!(told.solved <= 28);
}

#[test]
fn a_hot_hose_sags_and_kinks() {
    let mut run = quarter(0.45, 0.1);
    run.b = end([0.25, 0.0, -0.25], [0.0, 0.0, 1.0]);
    if let Some(Piece::Hose(hose)) = run.pieces.first_mut() {
        hose.weight = 17.0;
    }
    let cold = lie(&run, &OpenAir).expect("it lies");
    let warm = hot(&run, &OpenAir, &cold[0], bay::rod::stiffness::HOT, 1.2).expect("it lies");
    assert!(warm.lay.bend_share() < cold[0].bend_share());
    let strict = hot(&run, &OpenAir, &cold[0], bay::rod::stiffness::HOT, 3.0).expect("it lies");
    assert!(strict.kinks);
}

/// Hoses of these lengths with joiners between them.
fn joined(lengths: &[f64]) -> Run {
    let mut pieces = Vec::new();
    for length in lengths {
        if !pieces.is_empty() {
            pieces.push(Piece::Straight(Straight {
                length: 0.05,
                weight: 1.0,
                radius: 0.02,
            }));
        }
        pieces.push(Piece::Hose(Hose {
            length: *length,
            stiffness: 1.0,
            weight: 4.0,
            radius: 0.02,
            least_radius: 0.04,
        }));
    }
    let whole: f64 = lengths.iter().sum::<f64>() + 0.05 * (lengths.len() as f64 - 1.0);
    Run::of(
        end([0.0; 3], [1.0, 0.0, 0.0]),
        end([0.75 * whole, 0.1, 0.1], [-1.0, 0.0, 0.3]),
        pieces,
    )
}

#[test]
fn runs_of_several_hoses_have_windows_and_corners() {
    for lengths in [&[0.5, 0.05][..], &[0.3, 0.2, 0.25]] {
        let run = joined(lengths);
        let first = lie(&run, &OpenAir).expect("it lies").remove(0);
        let told = corners(&run, &OpenAir, &first, &Tolerance::default());
        assert!(told.lost.is_empty(), "{lengths:?}: {:?}", told.lost);
        assert!(told.jumped.is_empty(), "{lengths:?}: {:?}", told.jumped);
        for (i, length) in lengths.iter().enumerate() {
            let limits = Limits {
                low: 0.8 * length,
                high: 1.25 * length,
                step: 0.01,
                fine: 0.002,
            };
            let found = window(&run, &OpenAir, 2 * i, &first, &limits, &|lay| {
                lay.bend_share() > 0.0
            })
            .expect("a window");
            assert!(found.open_below && found.open_above, "{length}: {found:?}");
            // Another length of one hose, from its neighbour and anew: the same shape.
            for by in [-0.03, 0.04] {
                let mut other = run.clone();
                if let Some(Piece::Hose(hose)) = other.pieces.get_mut(2 * i) {
                    hose.length += by
                        * if lengths.len() == 2 && i == 1 {
                            0.2
                        } else {
                            1.0
                        };
                }
                let warm = lie_from(&other, &OpenAir, &first).expect("it lies");
                let cold = lie(&other, &OpenAir).expect("it lies").remove(0);
                like(warm.lay.energy, cold.lay.energy, 3e-3, "energy");
                let middle = other.pieces.len() as f64 * 0.1;
                let off = (warm.lay.place(middle) - cold.lay.place(middle)).length();
                near(off, 0.0, 2e-3, "distance");
                for (one, two) in warm.hoses.iter().zip(&cold.hoses) {
                    near(one.begin, two.begin, 1e-9, "where a hose begins");
                }
            }
        }
    }
}

struct Beside(f64);

impl Around for Beside {
    fn touch(&self, at: Vec3, within: f64, _press: f64, out: &mut Vec<Touch>) {
        let distance = at.y - self.0;
        if distance < within {
            out.push(Touch {
                body: 0,
                distance,
                normal: Vec3::Y,
            });
        }
    }
}

#[test]
fn a_wall_beside_the_first_mouth_counts_that_mouths_place() {
    // 10 mm clear at the first mouth, of which its place takes 5.
    let run = quarter(0.41, 0.15);
    let wall = Beside(-0.03);
    let first = lie(&run, &wall).expect("it lies");
    near(first[0].lay.gap.expect("near"), 0.01, 1e-4, "as drawn");
    let by = Tolerance {
        length: 0.0,
        place: 0.005,
        angle: 0.0,
        stiffness: 0.0,
    };
    let told = corners(&run, &wall, &first[0], &by);
    let gap = told.gap.expect("near");
    near(gap.value, 0.005, 1e-4, "worst");
    assert!(gap.corner.move_a.y < 0.0, "{:?}", gap.corner);
}

/// A quarter turn so heavy that it sags.
fn hanging(length: f64) -> Run {
    let mut run = quarter(length, 0.06);
    if let Some(Piece::Hose(hose)) = run.pieces.first_mut() {
        hose.weight = 40.0;
    }
    run
}

#[test]
fn the_window_is_the_same_from_two_starting_cuts() {
    let low = |lay: &RunLay| lay.lay.sag.depth > 0.01 && lay.bend_share() >= 1.0;
    let limits = Limits {
        low: 0.36,
        high: 0.6,
        step: 0.015,
        fine: 0.001,
    };
    let found: Vec<_> = [0.4, 0.43, 0.47, 0.55]
        .into_iter()
        .map(|length| {
            let run = hanging(length);
            let first = lie(&run, &OpenAir).expect("it lies");
            window(&run, &OpenAir, 0, &first[0], &limits, &low).expect("a window")
        })
        .collect();
    for other in &found {
        near(other.least, found[0].least, 0.0025, "shortest");
        near(other.most, found[0].most, 0.0025, "longest");
        // What a window promises, a hose that is newly cut so keeps.
        for length in [other.least, other.most] {
            let new = lie(&hanging(length), &OpenAir).expect("it lies");
            assert!(low(&new[0]), "{length}");
        }
    }
}

/// A shape that no neighbour leads to is found anew: here the former shape is of another run altogether.
#[test]
fn a_window_does_not_end_where_a_continuation_does() {
    let run = quarter(0.4, 0.1);
    let far = Run {
        pieces: [run.pieces.clone(), run.pieces.clone()].concat(),
        b: end([0.5, 0.5, 0.0], [0.0, -1.0, 0.0]),
        edges: 100,
        ..run.clone()
    };
    let other = lie(&far, &OpenAir).expect("it lies");
    assert!(lie_from(&run, &OpenAir, &other[0]).is_err());
    let limits = Limits {
        low: 0.385,
        high: 0.42,
        step: 0.01,
        fine: 0.001,
    };
    let found = window(&run, &OpenAir, 0, &other[0], &limits, &bends).expect("a window");
    assert!(found.open_above && found.open_below, "{found:?}");
}

/// A former shape with the joints of its hoses shared otherwise leads on all the same.
#[test]
fn joints_that_are_shared_otherwise_lead_on() {
    let two = |length: f64| {
        let mut run = quarter(0.2, 0.05);
        run.pieces.push(Piece::Straight(Straight {
            length: 0.04,
            weight: 0.0,
            radius: 0.02,
        }));
        run.pieces.extend(quarter(length, 0.05).pieces);
        run
    };
    let first = lie(&two(0.2), &OpenAir).expect("it lies");
    let other = lie_from(&two(0.3), &OpenAir, &first[0]).expect("it leads on");
    let anew = lie(&two(0.3), &OpenAir).expect("it lies");
    assert!(other.lay.stable);
    like(other.lay.bending, anew[0].lay.bending, 1e-3, "energy");
}

#[test]
fn corners_by_a_measure_of_the_callers() {
    let run = quarter(0.41, 0.15);
    let first = lie(&run, &OpenAir).expect("it lies");
    let left = |lay: &RunLay| Some(0.3 - lay.lay.points.iter().fold(0.0, |x: f64, p| x.max(p.x)));
    let told = corners_by(&run, &OpenAir, &first[0], &Tolerance::default(), &left);
    let worst = told.gap.expect("a measure");
    assert!(worst.value < left(&first[0]).expect("a measure") - 1e-3);
}

/// Of the two sides to which a tall arch may flop, the one by which it was led comes first.
#[test]
fn a_lead_chooses_the_shape() {
    let mut run = quarter(1.2, 0.05);
    run.a = end([0.0; 3], [0.0, 0.0, 1.0]);
    run.b = end([0.3, 0.0, 0.0], [0.0, 0.0, 1.0]);
    if let Some(Piece::Hose(hose)) = run.pieces.first_mut() {
        hose.weight = 150.0;
    }
    for side in [-1.0, 1.0] {
        run.led = vec![Vec3::new(0.15, 0.3 * side, 0.1)];
        let led = lie(&run, &OpenAir).expect("it lies");
        let middle = led[0].lay.place(0.6);
        assert!(led[0].lay.stable && middle.y * side > 0.05, "{middle:?}");
    }
}
