//! Random hoses: whatever is told passes the second look.

use bay::Vec3;
use bay::lie::{Hose, Piece, Run, lie};
use bay::rod::{Far, Fault, OpenAir, Rod, settle, settle_from};
use bay::solid::{Body, Shape, Space};
use proptest::prelude::*;

use crate::rod_kit::{end, recheck};

#[expect(
    clippy::disallowed_methods,
    reason = "the tier is told by the environment"
)]
fn count() -> u32 {
    let long = std::env::var("HOSEWRIGHT_TEST_TIER").is_ok_and(|tier| tier == "long");
    if long { 2_000 } else { 60 }
}

fn way() -> impl Strategy<Value = [f64; 3]> {
    (-1.0..1.0_f64, 0.0..std::f64::consts::TAU).prop_map(|(z, turn)| {
        let r = (1.0 - z * z).sqrt();
        [r * turn.cos(), r * turn.sin(), z]
    })
}

prop_compose! {
    fn hose()(
        to in [-0.6..0.6_f64, -0.6..0.6_f64, -0.5..0.5_f64],
        leave in way(),
        arrive in way(),
        spare in 1.02..2.2_f64,
        stiffness in -1.0..1.3_f64,
        weight in prop_oneof![Just(0.0), 1.0..25.0_f64],
    ) -> Rod {
        let a = end([0.0; 3], leave);
        let b = end(to, arrive);
        let chord = (b.at - a.at).length().max(0.12);
        Rod::between(a, b, spare * chord + 0.1, 10.0_f64.powf(stiffness), weight)
    }
}

/// Balls beside a shape: share of the way along it, way out of it, radius, and how far the hose's surface would reach in
/// as a share of its radius.
fn balls() -> impl Strategy<Value = Vec<(f64, [f64; 3], f64, f64)>> {
    let one = (0.2..0.8_f64, way(), 0.02..0.15_f64, -0.3..1.5_f64);
    proptest::collection::vec(one, 1..4)
}

const RADIUS: f64 = 0.02;

/// The hose as a run of one piece.
fn run(rod: &Rod) -> Option<Run> {
    let Far::Clamped(b) = rod.b else { return None };
    let hose = Hose {
        length: rod.length,
        stiffness: rod.stiffness,
        weight: rod.weight,
        radius: RADIUS,
        least_radius: 0.1,
    };
    Some(Run::of(rod.a, b, vec![Piece::Hose(hose)]))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: count(), ..ProptestConfig::default() })]

    #[test]
    fn a_random_hose_passes_the_second_look(rod in hose()) {
        match settle(&rod, &OpenAir) {
            Ok(lays) => {
                for lay in &lays {
                    prop_assert!(lay.stable);
                    if let Err(why) = recheck(&rod, lay, 0.12) {
                        prop_assert!(false, "{why}");
                    }
                }
                prop_assert!(lays.windows(2).all(|pair| pair[0].energy <= pair[1].energy + 1e-12));
                let again = settle_from(&rod, &OpenAir, &lays[0]).expect("its own shape");
                prop_assert!(again.farthest_from(&lays[0]) < 1e-5 * rod.length || lays[0].neutral);
            }
            Err(Fault::TooShort { chord, .. }) => {
                prop_assert!(chord > rod.length * 0.999);
            }
            Err(why) => prop_assert!(false, "{why}"),
        }
    }

    #[test]
    fn turning_the_whole_turns_the_shape(rod in hose(), turn in 0.1..6.0_f64) {
        // About the upright, so that the weight agrees.
        let spin = |v: Vec3| Vec3::new(
            v.x * turn.cos() - v.y * turn.sin(),
            v.x * turn.sin() + v.y * turn.cos(),
            v.z,
        );
        let mut other = rod.clone();
        other.a.along = spin(rod.a.along);
        if let bay::rod::Far::Clamped(b) = rod.b {
            other.b = bay::rod::Far::Clamped(bay::rod::End { at: spin(b.at), along: spin(b.along) });
        }
        if let (Ok(one), Ok(two)) = (settle(&rod, &OpenAir), settle(&other, &OpenAir)) {
            let scale = one[0].bending.abs() + 1e-6;
            prop_assert!((one[0].energy - two[0].energy).abs() < 1e-4 * scale,
                "{} and {}", one[0].energy, two[0].energy);
        }
    }

    /// A run that was led has every path followed to its end, and all that is found told: of that a search that gives up
    /// what is far above the lowest must miss nothing that it would tell.
    #[test]
    fn what_is_given_up_is_far_above_the_lowest(rod in hose(), balls in balls()) {
        let Some(mut run) = run(&rod) else { return Ok(()) };
        let Ok(air) = lie(&run, &OpenAir) else { return Ok(()) };
        let line = &air[0].lay;
        let bodies = balls.into_iter().map(|(share, out, radius, reach)| {
            let at = line.place(share * rod.length);
            let middle = at + Vec3::from_array(out) * (radius + RADIUS * (1.0 - reach));
            Body::solid("ball", Shape::Capsule { a: middle, b: middle, radius })
        });
        let space = Space::new(bodies.collect());
        let Ok(told) = lie(&run, &space) else { return Ok(()) };
        // Led along the shape told, it starts from that once more and from nothing else.
        run.led = told[0].lay.points.clone();
        let all = lie(&run, &space).expect("what was told is found again");
        let scale = told[0].lay.bending.abs() + 1e-6;
        let lowest = told[0].lay.energy;
        for one in all.iter().filter(|one| one.lay.stable) {
            prop_assert!(one.lay.energy > lowest - 1e-4 * scale, "{} under {lowest}", one.lay.energy);
            if one.lay.energy < lowest + 0.19 * scale {
                let near = |lay: &bay::lie::RunLay| (lay.lay.energy - one.lay.energy).abs() < 1e-4 * scale;
                prop_assert!(told.iter().any(near), "{} is not told beside {lowest}", one.lay.energy);
            }
        }
    }
}
