//! Orders of fitting: against every permutation tried out, and hoses that shut each other's clips.

use std::collections::BTreeSet;

use bay::Vec3;
use bay::access::{Clip, Fineness, Works, own_beyond};
use bay::clock::ClipFrame;
use bay::sequence::{Fitting, Hose, Items, Order, SequenceError, all_orders, order};
use bay::solid::{Body, Shape, Space};
use proptest::prelude::*;

use crate::access::{pincers, straight};
use crate::kit::at;

/// Each item may be shut by any of some sets of others, all of which must be in: a monotone rule.
#[derive(Clone, Debug)]
struct Rule(Vec<Vec<u64>>);

impl Rule {
    fn can(&self, item: usize, others: Items) -> bool {
        let inside: u64 = others.iter().map(|n| 1_u64 << n).sum();
        !self.0[item].iter().any(|shut| shut & !inside == 0)
    }
}

fn rule(most: usize) -> impl Strategy<Value = Rule> {
    (2..=most).prop_flat_map(|count| {
        let one = move |item: usize| {
            prop::collection::vec(1..(1_u64 << count), 0..3).prop_map(move |sets| {
                sets.into_iter()
                    .map(|set| set & !(1 << item))
                    .filter(|set| *set != 0)
                    .collect::<Vec<u64>>()
            })
        };
        (0..count).map(one).collect::<Vec<_>>().prop_map(Rule)
    })
}

/// Every order that holds, by trying all of them.
fn tried(rule: &Rule) -> BTreeSet<Vec<usize>> {
    fn go(rule: &Rule, so_far: &mut Vec<usize>, found: &mut BTreeSet<Vec<usize>>) {
        if so_far.len() == rule.0.len() {
            found.insert(so_far.clone());
        }
        for item in 0..rule.0.len() {
            if !so_far.contains(&item) {
                let inside: Items = so_far.iter().copied().collect();
                if rule.can(item, inside) {
                    so_far.push(item);
                    go(rule, so_far, found);
                    so_far.pop();
                }
            }
        }
    }
    let mut found = BTreeSet::new();
    go(rule, &mut Vec::new(), &mut found);
    found
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn orders_are_those_of_all_permutations(rule in rule(6)) {
        let all = tried(&rule);
        let found = all_orders(rule.0.len(), usize::MAX, |item, others| rule.can(item, others)).expect("few items");
        prop_assert!(!found.more);
        let listed: BTreeSet<Vec<usize>> = found.orders.iter().cloned().collect();
        prop_assert_eq!(listed.len(), found.orders.len());
        prop_assert_eq!(&listed, &all);
        match order(rule.0.len(), |item, others| rule.can(item, others)).expect("few items") {
            Order::Found(order) => prop_assert!(all.contains(&order)),
            Order::Stuck { core, left } => {
                prop_assert!(all.is_empty());
                let set: Items = core.iter().copied().collect();
                prop_assert!(!set.is_empty() && set.is_in(left.iter().copied().collect()));
                // None of it can come out; and without any one of it some other can.
                for item in set.iter() {
                    prop_assert!(!rule.can(item, set.without(item)));
                }
                for spared in set.iter() {
                    let mut rest = set.without(spared);
                    while let Some(next) =
                        rest.iter().find(|item| rule.can(*item, rest.without(*item)))
                    {
                        rest = rest.without(next);
                    }
                    prop_assert!(rest.is_empty());
                }
            }
        }
    }
}

#[test]
fn more_orders_than_asked_for_are_said_to_be_more() {
    let found = all_orders(5, 100, |_, _| true).expect("few items");
    assert_eq!(found.orders.len(), 100);
    assert!(found.more);
    let found = all_orders(5, 120, |_, _| true).expect("few items");
    assert_eq!((found.orders.len(), found.more), (120, false));
    assert_eq!(order(65, |_, _| true), Err(SequenceError::TooMany(65)));
    assert_eq!(order(0, |_, _| true), Ok(Order::Found(vec![])));
    // 64 hoses are not too many, and keep to the list where all may.
    let Ok(Order::Found(order)) = order(64, |_, _| true) else {
        panic!("every order holds");
    };
    assert_eq!(order, (0..64).collect::<Vec<usize>>());
}

const FINENESS: Fineness = Fineness {
    step: 0.05,
    least: 0.005,
    ends: 0.002,
};

fn upright(name: &str, x: f64, y: f64, clips: &[f64]) -> Hose {
    let clip = |z: &f64| Clip {
        frame: ClipFrame::new(at(x, y, *z), Vec3::Z, Vec3::X).expect("a frame"),
        od: 0.040,
        housing: None,
        works: None,
    };
    Hose {
        name: name.to_owned(),
        shape: Shape::Tube {
            points: vec![at(x, y, -0.3), at(x, y, 0.3)],
            radius: 0.020,
        },
        clips: clips.iter().map(clip).collect(),
    }
}

/// A shaft open to +x alone, as wide as a driver of 231 mm wants it.
fn dead_end() -> Vec<Body> {
    vec![
        Body::solid(
            "back",
            Shape::upright_box(at(-0.10, 0.0, 0.0), at(0.01, 0.2, 0.5)),
        ),
        Body::solid(
            "left",
            Shape::upright_box(at(0.3, 0.10, 0.0), at(0.5, 0.01, 0.5)),
        ),
        Body::solid(
            "right",
            Shape::upright_box(at(0.3, -0.10, 0.0), at(0.5, 0.01, 0.5)),
        ),
    ]
}

#[test]
fn what_lies_deepest_goes_in_first() {
    // In a dead end whose only room for a driver is towards +x the hose behind must be clipped first.
    let space = Space::new(dead_end());
    let curtain = Hose {
        shape: Shape::Tube {
            points: (0..13)
                .map(|n| {
                    at(
                        0.11,
                        if n % 2 == 0 { -0.075 } else { 0.075 },
                        -0.09 + 0.015 * f64::from(n),
                    )
                })
                .collect(),
            radius: 0.012,
        },
        ..upright("curtain", 0.11, 0.0, &[])
    };
    let hoses = [curtain, upright("deep", 0.0, 0.0, &[0.0])];
    let tools = [straight()];
    let fitting = Fitting {
        space: &space,
        hoses: &hoses,
        tools: &tools,
        fineness: FINENESS,
    };
    assert_eq!(fitting.order(), Ok(Order::Found(vec![1, 0])));
    let all = fitting.all_orders(10).expect("few hoses");
    assert_eq!(all.orders, [[1, 0]]);
}

#[test]
fn two_hoses_that_shut_each_other_are_both_named() {
    // Each has its one clip in a pocket whose mouth the other closes.
    let pocket = |sign: f64| -> Vec<Body> {
        let z = 0.6 * sign;
        let plate = |name: &str, center: Vec3, half: Vec3| {
            Body::solid(format!("{name} {sign}"), Shape::upright_box(center, half))
        };
        vec![
            plate("back", at(-0.10, 0.0, z), at(0.01, 0.12, 0.2)),
            plate("left", at(0.3, 0.10, z), at(0.5, 0.01, 0.2)),
            plate("right", at(0.3, -0.10, z), at(0.5, 0.01, 0.2)),
        ]
    };
    let space = Space::new([pocket(1.0), pocket(-1.0)].concat());
    let hose = |name: &str, sign: f64| {
        let curtain = (0..13).map(|n| {
            at(
                0.11,
                if n % 2 == 0 { -0.075 } else { 0.075 },
                -0.6 * sign - 0.09 + 0.015 * f64::from(n),
            )
        });
        let mut points = vec![
            at(0.0, 0.0, 0.6 * sign + 0.1),
            at(0.0, 0.0, 0.6 * sign - 0.1),
        ];
        points.push(at(0.0, 0.3, 0.0));
        points.push(at(0.11, 0.3, -0.6 * sign));
        points.extend(curtain);
        let mut hose = upright(name, 0.0, 0.0, &[0.6 * sign]);
        hose.shape = Shape::Tube {
            points,
            radius: 0.012,
        };
        hose
    };
    let free = upright("free", 1.5, 0.0, &[0.0]);
    let hoses = [hose("upper", 1.0), free, hose("lower", -1.0)];
    let tools = [straight()];
    let fitting = Fitting {
        space: &space,
        hoses: &hoses,
        tools: &tools,
        fineness: FINENESS,
    };
    // Alone each can be fitted.
    assert!(fitting.can(0, Items::default()));
    assert!(fitting.can(2, Items::default()));
    let Ok(Order::Stuck { core, left }) = fitting.order() else {
        panic!("they shut each other");
    };
    assert_eq!(core, [0, 2]);
    assert_eq!(left, [0, 2]);
    let shut = fitting.shut(&core);
    assert_eq!(shut.len(), 2, "{shut:?}");
    for (one, hose, by) in [(&shut[0], 0, 2), (&shut[1], 2, 0)] {
        assert_eq!((one.hose, one.clip), (hose, 0));
        assert_eq!(one.by, [by], "{shut:?}");
    }
    assert_eq!(fitting.all_orders(10).expect("few hoses").orders.len(), 0);
}

#[test]
fn a_clip_that_something_fixed_shuts_names_no_hose() {
    let mut bodies = dead_end();
    bodies.push(Body::solid(
        "front",
        Shape::upright_box(at(0.10, 0.0, 0.0), at(0.01, 0.2, 0.5)),
    ));
    let space = Space::new(bodies);
    let hoses = [
        upright("deep", 0.0, 0.0, &[0.0]),
        upright("far", 2.0, 0.0, &[0.0]),
    ];
    let tools = [straight()];
    let fitting = Fitting {
        space: &space,
        hoses: &hoses,
        tools: &tools,
        fineness: FINENESS,
    };
    let Ok(Order::Stuck { core, left }) = fitting.order() else {
        panic!("it cannot be clipped");
    };
    assert_eq!((core.as_slice(), left.as_slice()), (&[0][..], &[0][..]));
    let shut = fitting.shut(&core);
    assert_eq!(shut.len(), 1);
    assert!(shut[0].by.is_empty());
}

#[test]
fn a_clip_is_worked_by_its_own_tools_alone() {
    // A thin hose stands between the pincers and the ear; a driver would pass beside it.
    let space = Space::new(dead_end());
    let mut thin = upright("thin", 0.06, 0.0, &[]);
    thin.shape = Shape::Tube {
        points: vec![at(0.06, 0.0, -0.3), at(0.06, 0.0, 0.3)],
        radius: 0.008,
    };
    let eared = |works: Option<Works>| {
        let mut deep = upright("deep", 0.0, 0.0, &[0.0]);
        deep.clips[0].works = works;
        deep
    };
    let tools = [straight(), pincers()];
    for (works, wanted) in [
        (None, [0, 1]),
        (Some(Works::Screw), [0, 1]),
        (Some(Works::Ear), [1, 0]),
    ] {
        let hoses = [thin.clone(), eared(works)];
        let fitting = Fitting {
            space: &space,
            hoses: &hoses,
            tools: &tools,
            fineness: FINENESS,
        };
        assert_eq!(
            fitting.order(),
            Ok(Order::Found(wanted.to_vec())),
            "{works:?}"
        );
    }
    // With no tool for it nothing works it.
    let hoses = [eared(Some(Works::Ear))];
    let fitting = Fitting {
        space: &space,
        hoses: &hoses,
        tools: &tools[..1],
        fineness: FINENESS,
    };
    assert!(!fitting.can(0, Items::default()));
    assert_eq!(fitting.shut(&[0]).len(), 1);
}

#[test]
fn a_hose_that_comes_back_shuts_its_own_clip() {
    let space = Space::new(dead_end());
    let curtain = (0..13).map(|n| {
        at(
            0.11,
            if n % 2 == 0 { -0.075 } else { 0.075 },
            0.09 - 0.015 * f64::from(n),
        )
    });
    let mut hose = upright("deep", 0.0, 0.0, &[0.0]);
    let stem = vec![at(0.0, 0.0, 0.0), at(0.0, 0.0, 0.3), at(0.11, 0.0, 0.3)];
    let tools = [straight()];
    for (points, wanted) in [
        (stem.clone(), true),
        (stem.into_iter().chain(curtain).collect(), false),
    ] {
        hose.shape = Shape::Tube {
            points,
            radius: 0.012,
        };
        let hoses = [hose.clone()];
        let fitting = Fitting {
            space: &space,
            hoses: &hoses,
            tools: &tools,
            fineness: FINENESS,
        };
        assert_eq!(fitting.can(0, Items::default()), wanted);
        // Its own hose is as fixed as a wall: no order helps.
        assert!(fitting.shut(&[0]).iter().all(|shut| shut.by.is_empty()));
    }
}

#[test]
fn of_the_own_hose_two_diameters_are_left_out() {
    let tube = Shape::Tube {
        points: (0..=10).map(|n| at(0.0, 0.0, 0.1 * f64::from(n))).collect(),
        radius: 0.020,
    };
    let ends = |clip: f64| -> Vec<(f64, f64)> {
        let parts = own_beyond(&tube, at(0.0, 0.0, clip), 0.040);
        let end = |shape: &Shape| match shape {
            Shape::Tube { points, .. } => (points[0].z, points[points.len() - 1].z),
            _ => panic!("a tube"),
        };
        parts.iter().map(end).collect()
    };
    // 2 · 40 mm from the clip, which sits 20 mm behind the hose's end.
    let near = |a: &[(f64, f64)], b: &[(f64, f64)]| {
        let pairs = a.iter().zip(b);
        a.len() == b.len()
            && pairs
                .into_iter()
                .all(|(a, b)| (a.0 - b.0).abs() < 1e-9 && (a.1 - b.1).abs() < 1e-9)
    };
    assert!(near(&ends(-0.02), &[(0.06, 1.0)]), "{:?}", ends(-0.02));
    assert!(near(&ends(1.02), &[(0.0, 0.94)]), "{:?}", ends(1.02));
    assert!(
        near(&ends(0.5), &[(0.0, 0.42), (0.58, 1.0)]),
        "{:?}",
        ends(0.5)
    );
}
