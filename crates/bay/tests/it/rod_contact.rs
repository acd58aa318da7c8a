//! Contact with plain bodies.

use bay::Vec3;
use bay::rod::{Around, OpenAir, Rod, Touch, settle, settle_from};
use bay::solid::{Body, Shape, Space};

use crate::rod_kit::{arch, end, near, recheck};

/// A floor at a height, and balls.
#[derive(Default)]
struct Bodies {
    floors: Vec<f64>,
    balls: Vec<(Vec3, f64)>,
    cylinders: Vec<(Vec3, Vec3, f64)>,
}

impl Around for Bodies {
    fn touch(&self, at: Vec3, within: f64, out: &mut Vec<Touch>) {
        let mut put = |body, distance, normal| {
            if distance < within {
                out.push(Touch {
                    body,
                    distance,
                    normal,
                });
            }
        };
        for (i, floor) in self.floors.iter().enumerate() {
            put(i, at.z - floor, Vec3::Z);
        }
        for (i, (middle, radius)) in self.balls.iter().enumerate() {
            let off = at - *middle;
            put(100 + i, off.length() - radius, off.normalize_or(Vec3::Z));
        }
        for (i, (middle, axis, radius)) in self.cylinders.iter().enumerate() {
            let off = at - *middle;
            let off = off - *axis * axis.dot(off);
            put(200 + i, off.length() - radius, off.normalize_or(Vec3::Z));
        }
    }
}

fn slack() -> Rod {
    let mut rod = Rod::between(
        end([0.0; 3], [1.0, 0.0, 0.0]),
        end([0.7, 0.0, 0.0], [-1.0, 0.0, 0.0]),
        0.85,
        1.0,
        17.0,
    );
    rod.radius = 0.024;
    rod
}

#[test]
fn a_floor_carries_the_hose() {
    let rod = slack();
    let air = settle(&rod, &OpenAir).expect("it settles");
    let free = air[0].sag.lowest.z;
    assert!(free < -0.15, "it hangs to {free}");
    let bodies = Bodies {
        floors: vec![-0.14],
        ..Bodies::default()
    };
    let lays = settle(&rod, &bodies).expect("it settles");
    let lay = &lays[0];
    near(lay.sag.lowest.z, -0.14 + 0.024, 1e-6, "lowest");
    near(lay.gap.expect("a floor is near"), 0.0, 1e-6, "gap");
    assert!(lay.stable);
    let carried: f64 = lay.contacts.iter().map(|contact| contact.force.z).sum();
    assert!(
        carried > 0.1 && carried < 17.0 * 0.85,
        "the floor carries {carried}"
    );
    near(
        carried - lay.force_a.z - lay.force_b.z,
        17.0 * 0.85,
        1e-4,
        "weight",
    );
    recheck(&rod, lay, 0.05).expect("the second look agrees");
}

#[test]
fn a_gap_wanted_is_kept() {
    let mut rod = slack();
    rod.gap = 0.01;
    let bodies = Bodies {
        floors: vec![-0.14],
        ..Bodies::default()
    };
    let lays = settle(&rod, &bodies).expect("it settles");
    near(lays[0].gap.expect("a floor is near"), 0.01, 1e-6, "gap");
}

#[test]
fn a_hose_hangs_over_a_pipe_and_falls_off_a_ball() {
    // Over a level pipe across it the hose stays; a ball it would slide off, or lie beside.
    let rod = slack();
    let pipe = Bodies {
        cylinders: vec![(Vec3::new(0.35, 0.0, -0.15), Vec3::Y, 0.03)],
        ..Bodies::default()
    };
    for lay in settle(&rod, &pipe).expect("it settles") {
        assert!(lay.gap.expect("near") > -1e-6);
        assert!(lay.stable);
        recheck(&rod, &lay, 0.05).expect("the second look agrees");
    }
    let ball = Bodies {
        balls: vec![(Vec3::new(0.35, 0.002, -0.1), 0.03)],
        ..Bodies::default()
    };
    let lays = settle(&rod, &ball).expect("it settles");
    let lay = &lays[0];
    assert!(lay.stable, "what is told first is stable");
    assert!(lay.gap.expect("near") > -1e-6);
    let middle = lay.place(0.425);
    assert!(middle.z < -0.12, "it lies beside the ball: {middle}");
}

#[test]
fn a_slot_pushes_from_both_sides() {
    // An arch squeezed between two levels.
    let mut rod = arch(0.9, 60);
    rod.radius = 0.02;
    let floor = Bodies {
        floors: vec![-0.05],
        ..Bodies::default()
    };
    let lays = settle(&rod, &floor).expect("it settles");
    for lay in &lays {
        assert!(lay.gap.expect("near") > -1e-6);
        assert!(lay.stable);
    }
}

#[test]
fn contact_settles_warm_too() {
    let mut rod = slack();
    let bodies = Bodies {
        floors: vec![-0.14],
        ..Bodies::default()
    };
    let lays = settle(&rod, &bodies).expect("it settles");
    rod.length += 0.01;
    let warm = settle_from(&rod, &bodies, &lays[0]).expect("it settles");
    let cold = settle(&rod, &bodies).expect("it settles");
    // On a floor without friction it may lie to either side.
    let nearest = cold
        .iter()
        .map(|lay| warm.farthest_from(lay))
        .fold(f64::INFINITY, f64::min);
    assert!(
        nearest < 1e-3 || (warm.energy - cold[0].energy).abs() < 1e-4 * cold[0].bending,
        "{nearest}, {} and {}",
        warm.energy,
        cold[0].energy
    );
}

#[test]
fn bodies_of_the_bay_carry_it_as_plain_ones_do() {
    let rod = slack();
    let plain = Bodies {
        cylinders: vec![(Vec3::new(0.35, 0.0, -0.15), Vec3::Y, 0.03)],
        ..Bodies::default()
    };
    let pipe = Shape::Capsule {
        a: Vec3::new(0.35, -1.0, -0.15),
        b: Vec3::new(0.35, 1.0, -0.15),
        radius: 0.03,
    };
    let space = Space::new(vec![Body::solid("pipe", pipe)]);
    let one = settle(&rod, &plain).expect("it settles");
    let two = settle(&rod, &space).expect("it settles");
    near(two[0].energy, one[0].energy, 1e-6, "energy");
    near(
        two[0].gap.expect("near"),
        one[0].gap.expect("near"),
        1e-6,
        "gap",
    );
}
