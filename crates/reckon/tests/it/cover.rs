//! What to have in the bag, against every way of handing out the parts.

use proptest::prelude::*;
use reckon::solve::cover::{Place, cover, share};

/// The share of draws in which all places are served, every way of handing out parts tried.
fn by_trial(places: &[Place], bag: &[u32], draws: usize) -> f64 {
    fn served(needs: &[usize], places: &[Place], left: &mut [u32], draw: usize) -> bool {
        let Some((place, rest)) = needs.split_first() else {
            return true;
        };
        places[*place].serves.iter().any(|(kind, serves)| {
            if left[*kind] == 0 || !serves[draw] {
                return false;
            }
            left[*kind] -= 1;
            let all = served(rest, places, left, draw);
            left[*kind] += 1;
            all
        })
    }
    let needs: Vec<usize> = (0..places.len())
        .flat_map(|at| vec![at; places[at].needs as usize])
        .collect();
    let count = (0..draws)
        .filter(|&draw| served(&needs, places, &mut bag.to_vec(), draw))
        .count();
    count as f64 / draws as f64
}

/// A small case: places, what is owned, what each kind costs.
#[derive(Clone, Debug)]
struct Case {
    places: Vec<Place>,
    owned: Vec<u32>,
    cost: Vec<f64>,
}

const DRAWS: usize = 12;
const KINDS: usize = 4;

fn cases() -> impl Strategy<Value = Case> {
    let serves = prop::collection::vec(prop::collection::vec(any::<bool>(), DRAWS), KINDS);
    let place = (1..3_u32, serves, prop::option::of(0..KINDS), 0..16_u8).prop_map(
        |(needs, serves, usual, listed)| Place {
            needs,
            serves: serves
                .into_iter()
                .enumerate()
                .filter(|(kind, _)| listed & (1 << kind) == 0)
                .collect(),
            usual,
        },
    );
    (
        prop::collection::vec(place, 1..4),
        prop::collection::vec(0..3_u32, KINDS),
        prop::collection::vec(prop::sample::select(vec![1.0, 2.0, 5.5]), KINDS),
    )
        .prop_map(|(places, owned, cost)| Case {
            places,
            owned,
            cost,
        })
}

fn bag(buy: &[u32], owned: &[u32]) -> Vec<u32> {
    buy.iter().zip(owned).map(|(buy, own)| buy + own).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn matching_is_the_best_of_all_ways(case in cases()) {
        let found = share(&case.places, &case.owned, DRAWS);
        prop_assert_eq!(found, by_trial(&case.places, &case.owned, DRAWS));
    }

    #[test]
    fn one_part_more_never_serves_fewer(case in cases(), kind in 0..KINDS) {
        let mut more = case.owned.clone();
        more[kind] += 1;
        prop_assert!(
            share(&case.places, &more, DRAWS) >= share(&case.places, &case.owned, DRAWS)
        );
    }

    #[test]
    fn what_is_bought_reaches_the_target_where_it_can_be(case in cases(), target in 0.0..1.0_f64) {
        let wanted: u32 = case.places.iter().map(|place| place.needs).sum();
        let everything = vec![wanted; KINDS];
        let possible = share(&case.places, &everything, DRAWS);
        let bought = cover(&case.places, &case.owned, &case.cost, DRAWS, target);
        let full = bag(&bought.buy, &case.owned);
        prop_assert_eq!(bought.share, share(&case.places, &full, DRAWS));
        prop_assert!(bought.share <= possible);
        // A target that lies beyond all parts of the world is met as far as it can be.
        prop_assert!(
            bought.share + 1e-9 >= target.min(possible),
            "{} of {target}, {possible} possible",
            bought.share
        );
        for kind in 0..KINDS {
            prop_assert!(bought.spare[kind] <= bought.buy[kind]);
        }
    }

    #[test]
    fn no_part_is_bought_in_vain(case in cases(), target in 0.0..1.0_f64) {
        let bought = cover(&case.places, &case.owned, &case.cost, DRAWS, target);
        for kind in 0..KINDS {
            if bought.buy[kind] == 0 {
                continue;
            }
            let mut less = bought.buy.clone();
            less[kind] -= 1;
            let without = share(&case.places, &bag(&less, &case.owned), DRAWS);
            prop_assert!(
                without < target || without < bought.share,
                "{less:?} would do: {without}"
            );
        }
    }

    #[test]
    fn the_same_question_has_the_same_answer(case in cases()) {
        let ask = || cover(&case.places, &case.owned, &case.cost, DRAWS, 0.95);
        prop_assert_eq!(ask(), ask());
    }
}

/// One place that takes either of two kinds, each of which serves in its own share of the draws.
fn either(first: usize) -> Place {
    Place {
        needs: 1,
        serves: vec![
            (0, (0..100).map(|draw| draw < first).collect()),
            (1, (0..100).map(|draw| draw >= first).collect()),
        ],
        usual: Some(0),
    }
}

#[test]
fn a_spare_is_bought_only_where_the_usual_part_is_not_sure_enough() {
    // The usual part serves in 96 of 100 draws: that is enough for 0.95, not for 0.99.
    let places = [either(96)];
    let enough = cover(&places, &[0, 0], &[1.0, 1.0], 100, 0.95);
    assert_eq!((enough.buy, enough.spare), (vec![1, 0], vec![0, 0]));
    assert_eq!((enough.share, enough.naive), (0.96, 0.96));
    let sure = cover(&places, &[0, 0], &[1.0, 1.0], 100, 0.99);
    assert_eq!((sure.buy, sure.spare), (vec![1, 1], vec![0, 1]));
    assert_eq!((sure.share, sure.naive), (1.0, 0.96));
    // What is owned is not bought again.
    let owned = cover(&places, &[1, 1], &[1.0, 1.0], 100, 0.99);
    assert_eq!((owned.buy, owned.share), (vec![0, 0], 1.0));
}

#[test]
fn one_spare_guards_two_places_that_fail_apart() {
    // The usual parts fail in draws 0 to 4 at the one place and 5 to 9 at the other: one spare that
    // serves either is enough, since it is never wanted twice.
    let place = |fails: std::ops::Range<usize>, usual: usize| Place {
        needs: 1,
        serves: vec![
            (usual, (0..100).map(|draw| !fails.contains(&draw)).collect()),
            (2, vec![true; 100]),
        ],
        usual: Some(usual),
    };
    let apart = [place(0..5, 0), place(5..10, 1)];
    let bought = cover(&apart, &[0; 3], &[1.0; 3], 100, 1.0);
    assert_eq!((bought.buy, bought.share), (vec![1, 1, 1], 1.0));
    assert!((bought.naive - 0.90).abs() < 1e-12);
    // Where both fail together, it takes two.
    let together = [place(0..5, 0), place(0..5, 1)];
    let bought = cover(&together, &[0; 3], &[1.0; 3], 100, 1.0);
    assert_eq!(bought.share, 1.0);
    assert_eq!(bought.buy[2], 2);
}

#[test]
fn two_in_one_draw_are_bought_where_one_alone_mends_none() {
    // A place that needs two of a kind nobody thought of: the first alone serves no draw wholly.
    let place = Place {
        needs: 2,
        serves: vec![(1, vec![true; 10])],
        usual: Some(0),
    };
    let bought = cover(&[place], &[0, 0], &[1.0, 1.0], 10, 0.9);
    assert_eq!((bought.buy, bought.share), (vec![0, 2], 1.0));
}

#[test]
fn nothing_wanted_costs_nothing() {
    let bought = cover(&[], &[1], &[1.0], 10, 0.9);
    assert_eq!((bought.buy, bought.share), (vec![0], 1.0));
    assert_eq!(share(&[], &[1], 0), 0.0);
}
