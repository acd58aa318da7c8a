//! Contact with plain bodies.

use bay::Vec3;
use bay::lie::{Hose, Piece, Run, Straight, lie};
use bay::rod::{Around, Fault, OpenAir, Rod, Touch, settle, settle_from};
use bay::solid::{Behind, Body, Mesh, Shape, Space};

use crate::rod_kit::{arch, end, near, recheck};

/// A floor at a height, and balls.
#[derive(Default)]
struct Bodies {
    floors: Vec<f64>,
    balls: Vec<(Vec3, f64)>,
    cylinders: Vec<(Vec3, Vec3, f64)>,
    /// Planes: the way out of them and how far along it they lie.
    planes: Vec<(Vec3, f64)>,
}

impl Around for Bodies {
    fn touch(&self, at: Vec3, within: f64, _press: f64, out: &mut Vec<Touch>) {
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
        for (i, (out, far)) in self.planes.iter().enumerate() {
            put(300 + i, at.dot(*out) - far, *out);
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
fn what_carries_a_mouth_is_spared_near_it_and_nothing_else() {
    // A floor close under both mouths: it counts all along, unless it carries them.
    let mut rod = slack();
    rod.bare = [0.45, 0.45];
    let bodies = Bodies {
        floors: vec![-0.03],
        ..Bodies::default()
    };
    let lays = settle(&rod, &bodies).expect("it settles");
    near(lays[0].gap.expect("a floor is near"), 0.0, 1e-5, "gap");
    assert!(!lays[0].contacts.is_empty());
    assert!(lays[0].sag.lowest.z > -0.03 + 0.024 - 1e-5);
    // It is body 0; another that carries the mouths changes nothing.
    rod.hosts = [vec![7], vec![7]];
    let other = settle(&rod, &bodies).expect("it settles");
    near(other[0].energy, lays[0].energy, 1e-9, "energy");
    rod.hosts = [vec![0], vec![0]];
    let spared = settle(&rod, &bodies).expect("it settles");
    let air = settle(&rod, &OpenAir).expect("it settles");
    assert!(spared[0].contacts.is_empty() && spared[0].gap.is_none());
    near(spared[0].energy, air[0].energy, 1e-9, "energy in free air");
    // At its own end only.
    rod.bare = [0.2, 0.0];
    rod.hosts = [vec![0], Vec::new()];
    let one = settle(&rod, &bodies).expect("it settles");
    assert!(!one[0].contacts.is_empty());
    assert!(one[0].contacts.iter().all(|contact| contact.arc >= 0.2));
    near(
        one[0].gap.expect("a floor is near"),
        0.0,
        1e-3,
        "gap beyond",
    );
}

#[test]
fn a_hose_rests_in_the_corner_of_one_mesh() {
    // Floor and bulkhead of one scan, in triangles of 50 mm, with the boat heeled.
    let mut rod = slack();
    rod.length = 0.706;
    rod.weight = 60.0;
    rod.down = Vec3::new(0.0, -0.6, -0.8);
    let (floor, wall) = (-0.05, -0.04);
    let (mut corners, mut triangles) = (Vec::new(), Vec::new());
    let mut sheet = |put: &dyn Fn(f64, f64) -> Vec3, turned: bool| {
        let first = u32::try_from(corners.len()).expect("few");
        for i in 0..=22_u32 {
            for j in 0..=6_u32 {
                corners.push(put(-0.2 + 0.05 * f64::from(i), 0.05 * f64::from(j)));
            }
        }
        for i in 0..22 {
            for j in 0..6 {
                let at = |i: u32, j: u32| first + i * 7 + j;
                let (a, b, c, d) = (at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j + 1));
                for [p, q, r] in [[a, b, c], [a, c, d]] {
                    triangles.push(if turned { [p, r, q] } else { [p, q, r] });
                }
            }
        }
    };
    sheet(&|x, s| Vec3::new(x, wall + s, floor), false);
    sheet(&|x, s| Vec3::new(x, wall, floor + s), true);
    for behind in [Behind::Free, Behind::Solid] {
        let mesh = Mesh::new(&corners, &triangles, behind).expect("a mesh");
        let space = Space::new(vec![Body::solid(
            "scan",
            Shape::Mesh(std::sync::Arc::new(mesh)),
        )]);
        let plain = Bodies {
            planes: vec![(Vec3::Z, floor), (Vec3::Y, wall)],
            ..Bodies::default()
        };
        let one = settle(&rod, &plain).expect("it settles").remove(0);
        let two = settle(&rod, &space).expect("it settles").remove(0);
        near(two.energy, one.energy, 1e-4 * one.bending, "energy");
        let pressed = |way: Vec3| -> f64 {
            two.contacts
                .iter()
                .filter(|contact| contact.force.normalize().dot(way) > 0.99)
                .map(|contact| contact.force.length())
                .sum()
        };
        assert!(
            pressed(Vec3::Z) > 0.3 && pressed(Vec3::Y) > 0.3,
            "{:?}",
            two.contacts
        );
        near(two.gap.expect("near"), 0.0, 2e-5, "gap");
    }
}

#[test]
fn a_tube_answers_with_each_of_its_legs() {
    let tube = Shape::Tube {
        points: vec![Vec3::Y * 0.3, Vec3::ZERO, Vec3::X * 0.3],
        radius: 0.01,
    };
    let space = Space::new(vec![Body::solid("bent pipe", tube)]);
    let mut out = Vec::new();
    space.touch(Vec3::new(0.05, 0.04, 0.0), 0.1, 0.1, &mut out);
    let mut far: Vec<f64> = out.iter().map(|touch| touch.distance).collect();
    far.sort_by(f64::total_cmp);
    assert_eq!(far.len(), 2, "{out:?}");
    near(far[0], 0.03, 1e-12, "to the leg along x");
    near(far[1], 0.04, 1e-12, "to the leg along y");
}

#[test]
fn faces_out_of_reach_are_left_out_and_no_others() {
    // Floor and wall of one mesh, which meet at a right angle.
    let corners = [[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]].map(|[along, off]| {
        [-0.5, 0.5].map(|y| Vec3::new(along, y, off)) // Both ends of each corner.
    });
    let corners = corners.concat();
    let triangles = [[0, 2, 3], [0, 3, 1], [0, 1, 5], [0, 5, 4]];
    let mesh = Mesh::new(&corners, &triangles, Behind::Free).expect("a mesh");
    let scan = Shape::Mesh(std::sync::Arc::new(mesh));
    let space = Space::new(vec![Body::solid("scan", scan)]);
    let told = |press: f64| {
        let mut out = Vec::new();
        space.touch(Vec3::new(0.03, 0.1, 0.02), 0.1, press, &mut out);
        out.iter().map(|touch| touch.distance).collect::<Vec<f64>>()
    };
    for (press, wanted) in [(0.1, 2), (0.031, 2), (0.029, 1), (0.0, 1)] {
        let far = told(press);
        assert_eq!(far.len(), wanted, "{press}: {far:?}");
        near(far[0], 0.02, 1e-12, "to the floor");
    }
}

#[test]
fn a_thin_edge_between_two_looks_is_not_sunk_into() {
    // A wire across, narrower than the places at which the hose is looked at stand apart.
    let rod = slack();
    let free = settle(&rod, &OpenAir).expect("it settles").remove(0);
    let z = free.sag.lowest.z - rod.radius + 0.01;
    for x in [0.35, 0.352, 0.3561] {
        let wire = Shape::Capsule {
            a: Vec3::new(x, -1.0, z),
            b: Vec3::new(x, 1.0, z),
            radius: 0.0005,
        };
        let space = Space::new(vec![Body::solid("wire", wire)]);
        let lay = settle(&rod, &space).expect("it settles").remove(0);
        near(lay.gap.expect("near"), 0.0, 2e-5, "gap");
        recheck(&rod, &lay, 0.1).expect("the second look agrees");
    }
}

#[test]
fn the_gap_of_a_long_pipe_is_its_own() {
    // A rigid pipe of 22 mm, 1.5 m long, that a point touches.
    let pieces = vec![
        Piece::Straight(Straight {
            length: 1.5,
            weight: 9.0,
            radius: 0.011,
        }),
        Piece::Hose(Hose {
            length: 0.5,
            stiffness: 1.0,
            weight: 5.0,
            radius: 0.011,
            least_radius: 0.1,
        }),
    ];
    let run = Run::of(
        end([0.0; 3], [1.0, 0.0, 0.0]),
        end([1.9, 0.0, 0.1], [-1.0, 0.0, 0.0]),
        pieces,
    );
    for x in [0.5, 0.711, 0.7353, 1.2] {
        let point = Shape::Capsule {
            a: Vec3::new(x, 0.0, 0.0111),
            b: Vec3::new(x, 0.0, 0.0111),
            radius: 0.0001,
        };
        let space = Space::new(vec![Body::solid("point", point)]);
        let lay = lie(&run, &space).expect("it lies").remove(0);
        near(lay.lay.gap.expect("near"), 0.0, 1e-9, "gap");
        near(lay.lay.gap_arc.expect("near"), x, 1e-6, "where");
    }
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

/// A square channel about the x axis, by half its width.
fn channel(half: f64) -> Bodies {
    Bodies {
        planes: [Vec3::Y, -Vec3::Y, Vec3::Z, -Vec3::Z]
            .map(|out| (out, -half))
            .to_vec(),
        ..Bodies::default()
    }
}

#[test]
fn a_slot_pushes_from_both_sides() {
    // An arch that would stand 195 mm off its chord, with 80 mm of room on every side.
    let mut rod = arch(0.9, 60);
    rod.radius = 0.02;
    let lays = settle(&rod, &channel(0.1)).expect("it settles");
    for lay in &lays {
        assert!(lay.gap.expect("near") > -1e-5);
        for point in &lay.points {
            assert!(point.y.abs() < 0.08 + 1e-5 && point.z.abs() < 0.08 + 1e-5);
        }
        let pushed = |way: Vec3| {
            let mut all = lay.contacts.iter();
            all.any(|contact| contact.force.dot(way) > 0.99 * contact.force.length())
        };
        let both = [Vec3::Y, Vec3::Z].map(|way| pushed(way) && pushed(-way));
        assert!(both.contains(&true), "{:?}", lay.contacts);
        recheck(&rod, lay, 0.1).expect("the second look agrees");
    }
}

#[test]
fn a_slot_narrower_than_the_hose_gives_no_shape() {
    let mut rod = arch(0.9, 10);
    rod.radius = 0.05;
    assert!(matches!(
        settle(&rod, &channel(0.045)),
        Err(Fault::NotFound { .. })
    ));
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
