//! Places from tapes: what is found, what is told to be missing, which tape is wrong.
// The share of slips that are named is worth a line: it is the bar itself.
#![allow(clippy::disallowed_macros)]

use reckon::solve::adjust::{
    Adjusted, Lack, Measure, Net, Place, Says, Side, What, adjust, axis_width,
};

use crate::bays::{self, Bay, Heights, bay, blunder};

fn far(a: Place, b: Place) -> f64 {
    ((a[0] - b[0]).powi(2) + (a[1] - b[1]).powi(2) + (a[2] - b[2]).powi(2)).sqrt()
}

/// The greatest difference between a distance of the solution and the true one.
fn worst_distance(found: &Adjusted, truth: &[Place]) -> f64 {
    let mut worst = 0.0_f64;
    for (i, a) in truth.iter().enumerate() {
        for (j, b) in truth.iter().enumerate().skip(i + 1) {
            let (p, q) = (found.places[i].unwrap(), found.places[j].unwrap());
            worst = worst.max((far(p, q) - far(*a, *b)).abs());
        }
    }
    worst
}

#[test]
fn a_bay_is_found_as_it_is() {
    for seed in 0..20 {
        for heights in [Heights::Measured, Heights::None] {
            let Bay { net, truth } = bay(seed, heights);
            let found = adjust(&net);
            assert_eq!(found.level, heights == Heights::Measured, "{seed}");
            let told = (&found.blunders, &found.doubt, found.hand_open);
            assert!(
                found.blunders.is_empty() && found.doubt.is_none(),
                "{seed}: {told:?}"
            );
            assert!(!found.hand_open, "{seed}");
            // Pins nearly in one plane leave a mouth two places where heights don't settle it.
            if !found.level && !found.mirrored.is_empty() {
                continue;
            }
            assert!(found.mirrored.is_empty(), "{seed}: {:?}", found.mirrored);
            let worst = worst_distance(&found, &truth);
            // Without heights thin triangles carry a tape's few millimetres a long way.
            let limit = if found.level { 15.0 } else { 100.0 };
            assert!(worst < limit, "{seed}: {worst}");
            let spare = if found.level { 40 - 27 } else { 30 - 24 };
            assert_eq!(found.spare, spare, "{seed}");
        }
    }
}

/// The bar of the survey: with heights at least 95 of 100 blunders are named, alone or in a pair.
#[test]
fn a_blunder_is_named_in_at_least_95_of_100_bays() {
    let (mut alone, mut pairs, mut wrong, mut open) = (0, 0, 0, 0);
    for seed in 0..200 {
        let mut bay = bay(seed, Heights::Measured);
        let (which, off) = blunder(&mut bay, seed);
        let found = adjust(&bay.net);
        match (&found.blunders[..], &found.doubt) {
            ([first, ..], _) if first.measure == which => {
                alone += 1;
                assert!((first.off - off).abs() < 5.0 * first.sigma, "{seed}");
            }
            ([_, ..], _) => wrong += 1,
            ([], Some(doubt)) if doubt.among.len() == 2 => {
                if doubt.among.iter().any(|b| b.measure == which) {
                    pairs += 1;
                } else {
                    wrong += 1;
                }
            }
            _ => open += 1,
        }
    }
    println!("alone {alone}, in a pair {pairs}, wrongly {wrong}, not told {open}, of 200");
    assert!(alone + pairs >= 190, "{alone} {pairs} {wrong} {open}");
    assert!(wrong <= 2, "{wrong}");
}

#[test]
fn without_heights_it_says_that_it_cannot_tell() {
    let (mut held, mut said, mut alone, mut astray) = (0, 0, 0, 0);
    for seed in 0..60 {
        let mut bay = bay(seed, Heights::None);
        let (which, _) = blunder(&mut bay, seed);
        let found = adjust(&bay.net);
        // A tape between two pins shows in every mouth, and can be named without heights.
        let What::Distance { from, to } = bay.net.measured[which].what else {
            unreachable!("only tapes get blunders");
        };
        if from < 4 && to < 4 {
            astray += usize::from(found.blunders.iter().any(|b| b.measure != which));
            continue;
        }
        // A tape so wrong that the others meet nowhere beside it is named all the same.
        if let [first, ..] = found.blunders.as_slice() {
            astray += usize::from(first.measure != which);
            alone += 1;
        }
        let Some(doubt) = &found.doubt else { continue };
        assert!(doubt.among.iter().any(|b| b.measure == doubt.repeat));
        said += 1;
        held += usize::from(doubt.among.iter().any(|b| b.measure == which));
    }
    // One in sixty is told astray; with heights none but two in two hundred may be.
    assert!(astray <= 1, "{astray}");
    println!("can't tell {said}, the wrong one among them {held}, told alone {alone}, of 60");
    assert!(
        said >= 25 && held + 1 >= said && alone < said,
        "{held} of {said}, {alone}"
    );
}

#[test]
fn honest_tapes_are_not_called_wrong() {
    let wrong = (0..200)
        .filter(|seed| {
            let found = adjust(&bay(1000 + seed, Heights::Measured).net);
            !found.blunders.is_empty() || found.doubt.is_some()
        })
        .count();
    assert!(wrong <= 4, "{wrong} of 200");
}

/// Three pins and one point, all exact.
fn exact(places: &[Place], pins: usize, ties: &[(usize, usize)], heights: &[usize]) -> Net {
    let mut measured: Vec<Measure> = ties
        .iter()
        .map(|&(from, to)| Measure {
            what: What::Distance { from, to },
            value: far(places[from], places[to]),
            sigma: 1.7,
        })
        .collect();
    measured.extend(heights.iter().map(|&at| Measure {
        what: What::Height { at },
        value: places[at][2],
        sigma: 2.3,
    }));
    Net {
        points: places.len(),
        pins,
        measured,
        sides: Vec::new(),
    }
}

const PINS: [Place; 4] = [
    [0.0, 0.0, 100.0],
    [1200.0, 0.0, 140.0],
    [1150.0, 800.0, 90.0],
    [40.0, 760.0, 420.0],
];
const BETWEEN: [(usize, usize); 6] = [(0, 1), (0, 2), (0, 3), (1, 2), (1, 3), (2, 3)];

fn with(point: Place, tied: &[usize], heights: &[usize]) -> Net {
    let mut places = PINS.to_vec();
    places.push(point);
    let mut ties = BETWEEN.to_vec();
    ties.extend(tied.iter().map(|&pin| (pin, 4)));
    exact(&places, 4, &ties, heights)
}

#[test]
fn too_few_exactly_enough_and_more() {
    let mouth = [500.0, 300.0, 250.0];
    let left = Side {
        point: 3,
        says: Says::Left([0, 1]),
    };
    let solve = |tied: &[usize], heights: &[usize]| {
        let mut net = with(mouth, tied, heights);
        net.sides.push(left);
        adjust(&net)
    };
    let few = solve(&[0], &[0, 1, 2, 3, 4]);
    assert_eq!(few.lacks, [(4, Lack::TooFew { has: 1, due: 2 })]);
    let few = solve(&[0, 1], &[0, 1, 2, 3]);
    assert_eq!(few.lacks, [(4, Lack::TooFew { has: 2, due: 3 })]);
    // Three tapes without a height are exactly enough, but for the other side of the three pins.
    let enough = solve(&[0, 1, 3], &[0, 1, 2, 3]);
    assert!(enough.lacks.is_empty());
    for tape in 6..9 {
        assert_eq!(enough.tests[tape], None, "nothing checks tape {tape}");
    }
    let more = solve(&[0, 1, 2, 3], &[0, 1, 2, 3, 4]);
    assert!(more.mirrored.is_empty() && !more.hand_open);
    assert!(more.tests[6..].iter().flatten().count() >= 5);
    assert!(far(more.places[4].unwrap(), mouth) < 1e-6);
    assert!(more.weakest(4).0 < enough.weakest(4).0);
}

#[test]
fn three_pins_in_one_line_leave_two_sides() {
    let places = [
        [0.0, 0.0, 100.0],
        [600.0, 0.0, 140.0],
        [1300.0, 0.0, 90.0],
        [500.0, 300.0, 250.0],
    ];
    let ties = [(0, 1), (0, 2), (1, 2), (0, 3), (1, 3), (2, 3)];
    let mut net = exact(&places, 3, &ties, &[0, 1, 2, 3]);
    let open = adjust(&net);
    assert_eq!(open.mirrored.len(), 1, "{open:?}");
    assert_eq!(open.mirrored[0].points, [3]);
    assert!((open.mirrored[0].other[0][1] + open.places[3].unwrap()[1]).abs() < 1e-3);
    net.sides.push(Side {
        point: 3,
        says: Says::Right([0, 1]),
    });
    let told = adjust(&net);
    assert!(told.mirrored.is_empty());
    assert!((told.places[3].unwrap()[1] + 300.0).abs() < 1e-3);
    // Without heights a second point can turn about the line against the first: it has no place.
    let mut two = places.to_vec();
    for pin in &mut two[..3] {
        pin[2] = 100.0;
    }
    two.push([700.0, -250.0, 310.0]);
    let ties = [&ties[..], &[(0, 4), (1, 4), (2, 4)]].concat();
    let turning = adjust(&exact(&two, 3, &ties, &[]));
    assert!(turning.places[4].is_none());
    let about = vec![0, 1, 2];
    // A pin on the line itself is held across it by nothing but the others, and may be told loose too.
    assert!(turning.lacks.contains(&(4, Lack::Turns { about })));
}

#[test]
fn a_told_side_settles_the_mirror() {
    let mouth = [500.0, 300.0, 250.0];
    let mut net = with(mouth, &[0, 1, 2, 3], &[0, 1, 2, 3, 4]);
    assert!(adjust(&net).hand_open);
    let say = |net: &mut Net, says| {
        net.sides = vec![Side { point: 3, says }];
        adjust(net)
    };
    let left = say(&mut net, Says::Left([0, 1]));
    assert!(!left.hand_open && left.against.is_empty());
    assert!((left.places[4].unwrap()[1] - 300.0).abs() < 1e-6);
    let right = say(&mut net, Says::Right([0, 1]));
    assert!((right.places[4].unwrap()[1] + 300.0).abs() < 1e-6);
    // A second statement that can't be true beside the first is told.
    net.sides.push(Side {
        point: 4,
        says: Says::Left([0, 1]),
    });
    assert_eq!(adjust(&net).against, [1]);
    // Two tapes and a height: on either side of the line between the two pins.
    let mut net = with(mouth, &[0, 1], &[0, 1, 2, 3, 4]);
    net.sides.push(Side {
        point: 3,
        says: Says::Left([0, 1]),
    });
    assert_eq!(adjust(&net).mirrored.len(), 1);
    net.sides.push(Side {
        point: 4,
        says: Says::Left([0, 1]),
    });
    let told = adjust(&net);
    assert!(told.mirrored.is_empty());
    assert!(far(told.places[4].unwrap(), mouth) < 1e-6);
}

#[test]
fn a_dowel_goes_over_with_its_mouth() {
    // The mouth hangs on two pins and its height, the dowel on the mouth and two pins.
    let mut places = PINS.to_vec();
    places.extend([[500.0, 300.0, 250.0], [500.0, 600.0, 400.0]]);
    let mut ties = BETWEEN.to_vec();
    ties.extend([(0, 4), (1, 4), (4, 5), (0, 5), (1, 5)]);
    let mut net = exact(&places, 4, &ties, &[0, 1, 2, 3, 4, 5]);
    net.sides.push(Side {
        point: 3,
        says: Says::Left([0, 1]),
    });
    let open = adjust(&net);
    assert_eq!(open.mirrored.len(), 1);
    assert_eq!(open.mirrored[0].points, [4, 5]);
    net.sides.push(Side {
        point: 4,
        says: Says::Left([0, 1]),
    });
    let told = adjust(&net);
    assert!(told.mirrored.is_empty());
    let (axis, sigma) = told.axis(4, 5).unwrap();
    assert!((axis[1] - 300.0 / 300.0_f64.hypot(150.0)).abs() < 1e-6);
    assert!(sigma > 0.002 && sigma < 0.05, "{sigma}");
}

#[test]
fn an_inclinometer_gives_the_upright() {
    let mouth = [500.0, 300.0, 250.0];
    let mut net = with(mouth, &[0, 1, 2, 3], &[]);
    let rise = |from: usize, to: usize| {
        let (a, b): (Place, Place) = (PINS[from], PINS[to]);
        (b[2] - a[2]).atan2((b[0] - a[0]).hypot(b[1] - a[1]))
    };
    for (from, to) in [(0, 1), (0, 3), (1, 2)] {
        net.measured.push(Measure {
            what: What::Slope { from, to },
            value: rise(from, to),
            sigma: 0.005,
        });
    }
    net.sides.push(Side {
        point: 3,
        says: Says::Left([0, 1]),
    });
    let found = adjust(&net);
    assert!(found.level && !found.hand_open);
    let up = found.places[4].unwrap()[2] - found.places[0].unwrap()[2];
    assert!((up - 150.0).abs() < 1e-3, "{up}");
    // One slope alone says nothing of the other way.
    net.measured.truncate(net.measured.len() - 2);
    assert!(!adjust(&net).level);
}

#[test]
fn the_uncertainty_is_honest() {
    // Over many bays the squares of what is off, over the variances told, make one on average.
    let (mut sum, mut count) = (0.0, 0.0);
    for seed in 300..360 {
        let Bay { net, truth } = bay(seed, Heights::Measured);
        let found = adjust(&net);
        for (point, truth) in truth.iter().enumerate().take(10).skip(4) {
            let place = found.places[point].unwrap();
            let off = place[2] - truth[2];
            sum += off * off / found.covariance(point, point)[2][2];
            count += 1.0;
        }
    }
    let mean: f64 = sum / count;
    assert!((0.75..1.25).contains(&mean), "{mean}");
}

#[test]
fn nothing_measured_gives_nothing() {
    for net in [
        Net::default(),
        Net {
            points: 3,
            pins: 3,
            ..Net::default()
        },
        exact(&PINS, 4, &[(0, 1)], &[0, 1]),
    ] {
        let found = adjust(&net);
        assert!(found.places.iter().flatten().count() <= 2);
        assert!(found.blunders.is_empty() && found.doubt.is_none());
    }
}

/// Three millimetres at either end of a stub of 35 mm turn its axis by about 7°, over a dowel of
/// 400 mm by 0.6°. Hand calculation: √2 · 3/35 = 0.1212 = 6.9°; √2 · 3/400 = 0.0106 = 0.61°.
#[test]
fn a_dowel_shows_the_axis_and_a_stub_does_not() {
    let degrees = |apart| axis_width(bays::TAPE, apart).to_degrees();
    assert!((degrees(35.0) - 6.9).abs() < 0.05);
    assert!((degrees(400.0) - 0.61).abs() < 0.005);
}
