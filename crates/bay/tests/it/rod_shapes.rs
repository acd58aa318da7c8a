//! Shapes of clamped hoses against tables.

use bay::Vec3;
use bay::rod::{Far, Fault, Grip, OpenAir, Rod, Support, settle, settle_from};

use crate::rod_kit::{arch, end, like, near, recheck};

/// Chord, offset of the middle, greatest curvature, end force, all over length and stiffness, of
/// the clamped elastica: Love 1927, Timoshenko and Gere, evaluated from the elliptic integrals
/// chord = 2 E / K − 1, offset = √m / K, curvature 8 √m K, force 16 K².
const ELASTICA: [(f64, f64, f64, f64); 3] = [
    (0.95, 0.140111, 2.83682, 40.494),
    (0.90, 0.194924, 4.05153, 41.5703),
    (0.80, 0.266319, 5.84958, 43.9292),
];

fn middle_offset(lay: &bay::rod::Lay) -> f64 {
    let middle = lay.place(0.5);
    middle.y.hypot(middle.z)
}

#[test]
fn an_arch_is_the_elastica() {
    for (chord, offset, curvature, force) in ELASTICA {
        let rod = arch(chord, 60);
        let lays = settle(&rod, &OpenAir).expect("it settles");
        let lay = &lays[0];
        like(middle_offset(lay), offset, 2e-3, "offset");
        like(1.0 / lay.bend.radius, curvature, 3e-3, "curvature");
        like(-lay.force_a.x, force, 2e-3, "force");
        assert!(lay.stable && lay.neutral, "an arch turns about its axis");
        recheck(&rod, lay, 0.02).expect("the second look agrees");
    }
}

#[test]
fn the_error_falls_with_the_square_of_the_edge() {
    let error = |edges| {
        let lays = settle(&arch(0.9, edges), &OpenAir).expect("it settles");
        -lays[0].force_a.x / 41.5703 - 1.0
    };
    let (coarse, fine) = (error(30), error(60));
    near(coarse / fine, 4.0, 0.15, "ratio of errors");
}

#[test]
fn a_quarter_turn_too_long_is_tight() {
    // 250 mm by 250 mm with 420 mm of hose: least radius 158.3 mm by the elastica, integrated; the
    // length of the arc itself gives its radius all along.
    let a = end([0.0; 3], [1.0, 0.0, 0.0]);
    let b = end([0.25, 0.25, 0.0], [0.0, -1.0, 0.0]);
    let long = settle(&Rod::between(a, b, 0.42, 1.0, 0.0), &OpenAir).expect("it settles");
    like(long[0].bend.radius, 0.1583, 3e-3, "radius");
    let arc = std::f64::consts::FRAC_PI_2 * 0.25;
    let exact = settle(&Rod::between(a, b, arc, 1.0, 0.0), &OpenAir).expect("it settles");
    like(exact[0].bend.radius, 0.25, 2e-3, "radius");
    like(
        exact[0].bending,
        arc / (2.0 * 0.25 * 0.25),
        1e-3,
        "energy of an arc, EI a / 2R",
    );
}

#[test]
fn a_half_turn_is_a_half_circle() {
    // U of spacing d: a half circle at L = π d / 2, energy EI π / (2 R).
    let rod = Rod::between(
        end([0.0; 3], [1.0, 0.0, 0.0]),
        end([0.0, 0.3, 0.0], [1.0, 0.0, 0.0]),
        std::f64::consts::PI * 0.15,
        1.0,
        0.0,
    );
    let lays = settle(&rod, &OpenAir).expect("it settles");
    like(lays[0].bending, 10.472, 1e-3, "energy");
    like(lays[0].bend.radius, 0.15, 2e-3, "radius");
    like(lays[0].place(rod.length / 2.0).x, 0.15, 2e-3, "depth");
}

#[test]
fn a_helix_stays_a_helix() {
    // Radius r, rise h per radian: curvature r / (r² + h²). An untwisted rod is in equilibrium on it.
    let (r, h, turn) = (0.2_f64, 0.08_f64, 3.6_f64);
    let c = r.hypot(h);
    let at = |s: f64| [r * s.cos(), r * s.sin(), h * s];
    let way = |s: f64, sign: f64| {
        [
            -sign * r * s.sin() / c,
            sign * r * s.cos() / c,
            sign * h / c,
        ]
    };
    let rod = Rod::between(
        end(at(0.0), way(0.0, 1.0)),
        end(at(turn), way(turn, -1.0)),
        c * turn,
        2.0,
        0.0,
    );
    let lays = settle(&rod, &OpenAir).expect("it settles");
    let lay = &lays[0];
    like(
        lay.bending,
        2.0 * r * r / c.powi(4) * c * turn / 2.0,
        2e-3,
        "energy",
    );
    for i in [10, 20, 30, 40, 50] {
        let arc = lay.arcs[i];
        let wanted = Vec3::from_array(at(arc / c));
        near(
            (lay.place(arc) - wanted).length(),
            0.0,
            1e-3,
            "distance from the helix",
        );
    }
    like(lay.curvature[30], r / (c * c), 3e-3, "curvature");
}

#[test]
fn a_planar_s_leaves_its_plane_or_is_no_saddle() {
    // Facing mouths set off sideways with much spare hose: whatever is told is stable.
    let rod = Rod::between(
        end([0.0; 3], [1.0, 0.0, 0.0]),
        end([0.3, 0.1, 0.0], [-1.0, 0.0, 0.0]),
        0.7,
        1.0,
        0.0,
    );
    for lay in settle(&rod, &OpenAir).expect("it settles") {
        assert!(lay.stable);
        assert!(lay.least_stiffness.expect("asked for") > 0.0);
        recheck(&rod, &lay, 0.03).expect("the second look agrees");
    }
}

#[test]
fn mirrored_shapes_are_both_told() {
    // Stiff enough to stand up in an arch, or hang: with weight the neutral arch hangs sideways or
    // down; with a light weight upright arch is no least energy.
    let mut rod = arch(0.9, 60);
    rod.weight = 5.0;
    let lays = settle(&rod, &OpenAir).expect("it settles");
    let lay = &lays[0];
    assert!(lay.stable && !lay.neutral);
    assert!(lay.place(0.5).z < -0.19, "it hangs: {:?}", lay.place(0.5));
    recheck(&rod, lay, 0.02).expect("the second look agrees");
}

#[test]
fn too_short_is_told() {
    let rod = Rod::between(
        end([0.0; 3], [1.0, 0.0, 0.0]),
        end([0.5, 0.0, 0.0], [-1.0, 0.0, 0.0]),
        0.499,
        1.0,
        0.0,
    );
    assert!(matches!(
        settle(&rod, &OpenAir),
        Err(Fault::TooShort { .. })
    ));
    let mut wrong = arch(0.9, 60);
    wrong.stiffness = 0.0;
    assert!(matches!(
        settle(&wrong, &OpenAir),
        Err(Fault::Figure {
            what: "stiffness",
            ..
        })
    ));
    let mut bent = arch(0.9, 60);
    bent.a.along = Vec3::new(2.0, 0.0, 0.0);
    assert!(settle(&bent, &OpenAir).is_err());
}

#[test]
fn a_warm_start_comes_to_the_same_shape() {
    let mut rod = hose();
    let before = settle(&rod, &OpenAir).expect("it settles");
    rod.length += 0.01;
    rod.stiffness *= 1.3;
    let cold = settle(&rod, &OpenAir).expect("it settles");
    let warm = settle_from(&rod, &OpenAir, &before[0]).expect("it settles");
    near(warm.farthest_from(&cold[0]), 0.0, 1e-6, "distance");
    assert!(warm.stable);
    let mut finer = rod.clone();
    finer.edges = 80;
    assert!(matches!(
        settle_from(&finer, &OpenAir, &before[0]),
        Err(Fault::NotFound { starts: 0 })
    ));
}

fn hose() -> Rod {
    Rod::between(
        end([0.0; 3], [1.0, 0.0, 0.0]),
        end([0.4, 0.1, 0.15], [0.0, 0.0, 1.0]),
        0.75,
        1.2,
        17.0,
    )
}

#[test]
fn a_support_takes_its_load() {
    let mut rod = hose();
    rod.supports.push(Support {
        at: Vec3::new(0.3, 0.05, -0.05),
        arc: 0.35,
        along: None,
    });
    let lays = settle(&rod, &OpenAir).expect("it settles");
    near(
        (lays[0].place(0.35) - rod.supports[0].at).length(),
        0.0,
        1e-9,
        "distance",
    );
    recheck(&rod, &lays[0], 0.03).expect("the second look agrees");
    rod.supports[0].along = Some(Vec3::new(0.8, 0.0, 0.6));
    let lays = settle(&rod, &OpenAir).expect("it settles");
    let about = lays[0]
        .arcs
        .iter()
        .position(|arc| *arc > 0.35)
        .expect("inside");
    let way = (lays[0].points[about] - lays[0].points[about - 1]).normalize();
    near(
        (way - Vec3::new(0.8, 0.0, 0.6)).length(),
        0.0,
        1e-9,
        "direction",
    );
}

/// A place to the millimetre, as a tape tells it.
fn tape(at: Vec3) -> Vec3 {
    (at * 1000.0).round() / 1000.0
}

#[test]
fn supports_on_its_own_curve_are_held() {
    // Three clips put where the hose hangs by itself, to the millimetre, in any order.
    let rod = hose();
    let free = settle(&rod, &OpenAir).expect("it settles").remove(0);
    for arcs in [[0.2, 0.4, 0.6], [0.55, 0.15, 0.33]] {
        let mut held = rod.clone();
        held.supports = arcs
            .map(|arc| Support {
                at: tape(free.place(arc)),
                arc,
                along: None,
            })
            .to_vec();
        let lays = settle(&held, &OpenAir).expect("it settles");
        for (support, arc) in held.supports.iter().zip(arcs) {
            let off = (lays[0].place(arc) - support.at).length();
            near(off, 0.0, 1e-9, "distance");
            near(
                (lays[0].place(arc) - free.place(arc)).length(),
                0.0,
                1e-3,
                "moved",
            );
        }
        assert!(lays[0].stable);
        recheck(&held, &lays[0], 0.3).expect("the second look agrees");
    }
}

#[test]
fn supports_hold_it_away_from_where_it_would_hang() {
    // Far off its own curve: the starts lead through them.
    let mut rod = hose();
    rod.length = 0.9;
    rod.supports = [(0.3, [0.2, 0.15, 0.12]), (0.55, [0.35, -0.02, 0.05])]
        .map(|(arc, at)| Support {
            at: Vec3::from_array(at),
            arc,
            along: None,
        })
        .to_vec();
    let lays = settle(&rod, &OpenAir).expect("it settles");
    recheck(&rod, &lays[0], 0.1).expect("the second look agrees");
}

#[test]
fn supports_that_cannot_both_hold_are_named() {
    let mut rod = hose();
    let put = |arc: f64, at: [f64; 3]| Support {
        at: Vec3::from_array(at),
        arc,
        along: None,
    };
    // Told out of order: along the hose the second comes first.
    rod.supports = vec![put(0.4, [0.35, 0.05, -0.05]), put(0.3, [0.2, 0.05, -0.1])];
    let why = settle(&rod, &OpenAir).expect_err("they lie too far apart");
    let Fault::Supports {
        first,
        second,
        chord,
        arc,
    } = why.clone()
    else {
        panic!("{why}");
    };
    assert_eq!((first, second), (Grip::Support(1), Grip::Support(0)));
    near(arc, 0.1, 1e-9, "hose between");
    near(chord, 0.15_f64.hypot(0.05), 1e-9, "distance");
    assert!(
        why.to_string()
            .starts_with("support 2 and support 1 lie 0.158"),
        "{why}"
    );
    // And one too far from a mouth.
    rod.supports = vec![put(0.2, [0.3, 0.0, 0.0])];
    assert!(matches!(
        settle(&rod, &OpenAir),
        Err(Fault::Supports {
            first: Grip::First,
            second: Grip::Support(0),
            ..
        })
    ));
    rod.supports = vec![put(0.7, [0.3, 0.1, 0.0])];
    assert!(matches!(
        settle(&rod, &OpenAir),
        Err(Fault::Supports {
            first: Grip::Support(0),
            second: Grip::Last,
            ..
        })
    ));
}

#[test]
fn supports_close_to_each_other_and_to_a_mouth_are_held() {
    // Two spans of the usual joints are 25 mm; the half edge at the mouth is 6 mm.
    let mut rod = hose();
    let free = settle(&rod, &OpenAir).expect("it settles").remove(0);
    for arcs in [[0.3, 0.317], [0.006, 0.3]] {
        rod.supports = arcs
            .map(|arc| Support {
                at: free.place(arc),
                arc,
                along: None,
            })
            .to_vec();
        // A little nearer to each other than the hose between them is long.
        let way = rod.supports[0].at - rod.supports[1].at;
        rod.supports[1].at += way.normalize() * 2e-4;
        rod.supports[0].at -= rod.a.along * 1e-4;
        let lays = settle(&rod, &OpenAir).unwrap_or_else(|why| panic!("{arcs:?}: {why}"));
        for support in &rod.supports {
            let off = (lays[0].place(support.arc) - support.at).length();
            near(off, 0.0, 1e-9, "distance");
        }
    }
    rod.supports[0].arc = rod.supports[1].arc - 1e-4;
    assert!(matches!(settle(&rod, &OpenAir), Err(Fault::Figure { .. })));
}

#[test]
fn a_sag_is_told_straight_down_from_a_sloping_chord() {
    // A soft hose hung between points on a slope: under the chord it hangs by w c l / 8 H, with c
    // the chord, l its level part and H the level pull, as a shallow parabola does.
    for slope in [0.0_f64, 30.0, 60.0] {
        let (sin, cos) = slope.to_radians().sin_cos();
        let mut rod = Rod::between(
            end([0.0; 3], [cos, 0.0, sin]),
            end([cos, 0.0, sin], [-cos, 0.0, -sin]),
            1.01,
            1e-4,
            20.0,
        );
        rod.edges = 120;
        let lay = settle(&rod, &OpenAir).expect("it settles").remove(0);
        let wanted = 20.0 * 1.01 * cos / (8.0 * lay.force_a.x.abs());
        like(lay.sag.depth, wanted, 0.06, &format!("sag at {slope}°"));
    }
    let mut upright = Rod::between(
        end([0.0; 3], [0.0, 0.0, 1.0]),
        end([0.01, 0.0, 0.8], [0.0, 0.0, -1.0]),
        0.95,
        1.0,
        5.0,
    );
    upright.edges = 60;
    let lay = settle(&upright, &OpenAir).expect("it settles").remove(0);
    near(lay.sag.depth, 0.0, 0.0, "sag beside an upright chord");
}

#[test]
fn a_pinned_end_turns_freely() {
    let mut rod = hose();
    rod.b = Far::Pinned(Vec3::new(0.4, 0.1, 0.15));
    let lays = settle(&rod, &OpenAir).expect("it settles");
    let most = 1.0 / lays[0].bend.radius;
    near(
        lays[0].curvature[60],
        0.0,
        0.04 * most,
        "curvature next to the pin",
    );
    let last = lays[0].points.last().copied().expect("it has points");
    near(
        (last - Vec3::new(0.4, 0.1, 0.15)).length(),
        0.0,
        1e-9,
        "distance",
    );
}
