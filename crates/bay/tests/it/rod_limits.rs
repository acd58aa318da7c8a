//! Limits that the shape must reach: beams, columns, chains, and the droop of an overhang.

use std::f64::consts::PI;

use bay::Vec3;
use bay::rod::stiffness::{NoStiffness, Wall, droop, from_droop, from_rubber, modulus};
use bay::rod::{Far, OpenAir, Rod, settle};

use crate::rod_kit::{arch, end, like, near, recheck};

fn level(chord: f64, length: f64, stiffness: f64, weight: f64) -> Rod {
    Rod::between(
        end([0.0; 3], [1.0, 0.0, 0.0]),
        end([chord, 0.0, 0.0], [-1.0, 0.0, 0.0]),
        length,
        stiffness,
        weight,
    )
}

#[test]
fn a_stiff_hose_sags_as_a_beam() {
    // Clamped at both ends, y = w x² (L − x)² / (24 EI), w L⁴ / (384 EI) at the middle. A length that
    // can't stretch fits that line where it has half the integral of its slope squared to spare,
    // w² L⁷ / (60480 EI²): then no force draws it along.
    let w = 1.0;
    let mut rod = level(1.0, 1.0 + w * w / 60480.0, 1.0, w);
    rod.edges = 200;
    let lays = settle(&rod, &OpenAir).expect("it settles");
    let lay = &lays[0];
    like(lay.sag.depth, w / 384.0, 2e-3, "sag");
    let quarter = 9.0 / 256.0 / 24.0 * w;
    like(
        -lay.place(rod.length / 4.0).z,
        quarter,
        3e-3,
        "at a quarter",
    );
    // Against what buckles it, 4 π².
    near(lay.force_a.x, 0.0, 0.01 * 4.0 * PI * PI, "force along");
    like(lay.moment_a.length(), w / 12.0, 5e-3, "moment at the mouth");
    like(-lay.force_a.z, w / 2.0, 1e-3, "half the weight");
}

#[test]
fn a_free_overhang_droops_as_a_beam() {
    // w L⁴ / (8 EI) and P L³ / (3 EI) for small droop.
    let mut rod = level(0.0, 1.0, 1.0, 0.01);
    rod.b = Far::Free(Vec3::ZERO);
    let lays = settle(&rod, &OpenAir).expect("it settles");
    like(-lays[0].points[61].z, 0.01 / 8.0, 1e-3, "droop");
    recheck(&rod, &lays[0], 0.02).expect("the second look agrees");
    rod.weight = 0.0;
    rod.b = Far::Free(Vec3::new(0.0, 0.0, -0.01));
    let lays = settle(&rod, &OpenAir).expect("it settles");
    like(-lays[0].points[61].z, 0.01 / 3.0, 1e-3, "droop");
    recheck(&rod, &lays[0], 0.02).expect("the second look agrees");
}

#[test]
fn a_tip_load_bends_as_in_the_table() {
    // Bisshopp and Drucker 1945, Mattiasson 1981: P L² / EI, drop, shortening, tip angle.
    for (p, drop, shorter, angle) in [
        (1.0, 0.301721, 0.056433, 0.461352),
        (2.0, 0.493457, 0.160642, 0.781750),
        (5.0, 0.713792, 0.387628, 1.215368),
        (10.0, 0.810609, 0.554996, 1.430286),
    ] {
        let told = droop(0.0, p);
        near(told.drop, drop, 1e-6, "drop");
        near(1.0 - told.reach, shorter, 1e-6, "shortening");
        near(told.tip, angle, 1e-6, "angle");
        let mut rod = level(0.0, 1.0, 1.0, 0.0);
        rod.b = Far::Free(Vec3::new(0.0, 0.0, -p));
        let lays = settle(&rod, &OpenAir).expect("it settles");
        near(-lays[0].points[61].z, drop, 5e-4, "drop of the rod");
        near(
            1.0 - lays[0].points[61].x,
            shorter,
            1e-3,
            "shortening of the rod",
        );
    }
}

/// Chord angle [°], drop over overhang, w L³ / EI of an overhang under its own weight.
const DROOP: [(f64, f64, f64); 10] = [
    (7.10, 0.1235, 1.0),
    (13.86, 0.2385, 2.0),
    (20.03, 0.3397, 3.0),
    (25.53, 0.4252, 4.0),
    (30.36, 0.4959, 5.0),
    (34.57, 0.5539, 6.0),
    (41.49, 0.6406, 8.0),
    (46.85, 0.7002, 10.0),
    (56.03, 0.7860, 15.0),
    (61.79, 0.8299, 20.0),
];

#[test]
fn the_bench_test_gives_the_stiffness_back() {
    for (angle, drop, g) in DROOP {
        let told = droop(g, 0.0);
        near(told.chord().to_degrees(), angle, 6e-3, "chord angle");
        near(told.drop, drop, 6e-5, "drop");
        let stiffness = from_droop(0.5, drop * 0.5, 8.0, 0.0).expect("it tells");
        like(stiffness, 8.0 * 0.125 / g, 2e-3, "stiffness");
        let mut rod = level(0.0, 1.0, 1.0, g);
        rod.b = Far::Free(Vec3::ZERO);
        let lays = settle(&rod, &OpenAir).expect("it settles");
        near(lays[0].sag.lowest.z, -drop, 6e-4, "drop of the rod");
    }
}

#[test]
fn peirce_and_the_rule_of_41_5_degrees() {
    // Peirce 1930, EI = w L³ cos(t/2) / (8 tan t): about 1 % up to 20°, 3 % at 30°; ASTM D1388
    // takes w L³ / 8 at 41.5°.
    for (angle, _, g) in DROOP {
        let half = (angle / 2.0_f64).to_radians();
        let peirce = 8.0 * (2.0 * half).tan() / half.cos();
        if angle <= 20.5 {
            like(peirce, g, 0.014, "Peirce");
        } else if angle <= 30.5 {
            like(peirce, g, 0.031, "Peirce");
        }
    }
    let told = droop(8.0, 0.0);
    near(told.chord().to_degrees(), 41.5, 0.05, "angle of the rule");
}

#[test]
fn a_load_and_a_weight_together() {
    // A load of half the weight: the stiffness that went in comes out.
    let told = droop(3.0, 1.5);
    let stiffness = from_droop(0.4, told.drop * 0.4, 3.0 / 0.064, 1.5 / 0.16).expect("it tells");
    like(stiffness, 1.0, 1e-6, "stiffness");
}

#[test]
fn what_tells_no_stiffness_is_refused() {
    assert!(matches!(
        from_droop(0.5, 0.001, 8.0, 0.0),
        Err(NoStiffness::Droop { .. })
    ));
    assert!(matches!(
        from_droop(0.5, 0.49, 8.0, 0.0),
        Err(NoStiffness::Droop { .. })
    ));
    assert!(from_droop(0.5, -0.1, 8.0, 0.0).is_err());
    assert!(from_droop(0.5, 0.1, 0.0, 0.0).is_err());
    assert!(modulus(10.0).is_err() && modulus(90.0).is_err());
    assert!(from_rubber(4e6, 0.04, 0.03, Wall::Plain).is_err());
}

#[test]
fn rubber_by_its_hardness() {
    // Gent 1958: about 3.6 MPa at 60 Shore A and 5.5 MPa at 70, from memory.
    near(modulus(60.0).expect("in range"), 3.6e6, 0.05e6, "modulus");
    near(modulus(70.0).expect("in range"), 5.5e6, 0.05e6, "modulus");
    // 25/34 mm: 0.25 to 0.7 N m² is the order of magnitude of corded hose.
    let plain = from_rubber(3.6e6, 0.025, 0.034, Wall::Plain).expect("a wall");
    let corded = from_rubber(3.6e6, 0.025, 0.034, Wall::Corded).expect("a wall");
    assert!(plain.low < 0.17 && plain.high > 0.17);
    assert!(corded.low < 0.35 && corded.high > 0.6);
}

#[test]
fn a_straight_column_buckles_at_four_pi_squared() {
    for chord in [0.9999, 0.999] {
        let lays = settle(&arch(chord, 60), &OpenAir).expect("it settles");
        like(-lays[0].force_a.x, 4.0 * PI * PI, 2.5e-3, "force");
    }
}

#[test]
fn an_upright_hose_topples_by_its_own_weight() {
    // Greenhill 1881: w L³ / EI = 7.8373, clamped at the foot, free at the top.
    let upright = |g: f64| {
        let mut rod = Rod::between(
            end([0.0; 3], [0.0, 0.0, 1.0]),
            end([0.0, 0.0, 1.0], [0.0, 0.0, -1.0]),
            1.0,
            1.0,
            g,
        );
        rod.b = Far::Free(Vec3::ZERO);
        settle(&rod, &OpenAir)
            .unwrap_or_else(|why| panic!("{g}: {why}"))
            .remove(0)
    };
    assert!(upright(7.80).points[61].z > 0.999, "it stands");
    assert!(upright(7.90).points[61].z < 0.995, "it topples");
    // The least eigenvalue goes to nought in a straight line: where it meets it is the limit.
    let (one, two) = (upright(7.0), upright(7.6));
    let (p, q) = (
        one.least_stiffness.expect("asked for"),
        two.least_stiffness.expect("asked for"),
    );
    near(7.0 + 0.6 * p / (p - q), 7.8373, 0.02, "limit");
}

#[test]
fn a_soft_hose_hangs_as_a_chain() {
    // Catenary through two points 0.6 apart, length 1: sinh(u)/u = L/d with u = d / 2a.
    let (span, length) = (0.6_f64, 1.0_f64);
    let mut low = 1e-3_f64;
    let mut high = 10.0;
    for _ in 0..80 {
        let u = (low + high) / 2.0;
        if u.sinh() / u < length / span {
            low = u
        } else {
            high = u
        }
    }
    let a = span / (2.0 * low);
    let sag = a * (low.cosh() - 1.0);
    let mut rod = Rod::between(
        end([0.0; 3], [0.0, 0.0, -1.0]),
        end([span, 0.0, 0.0], [0.0, 0.0, -1.0]),
        length,
        1e-4,
        20.0,
    );
    rod.edges = 200;
    let lays = settle(&rod, &OpenAir).expect("it settles");
    like(lays[0].sag.depth, sag, 0.01, "sag");
    // Horizontal pull w a.
    like(lays[0].force_a.x.abs(), 20.0 * a, 0.02, "pull");
}
