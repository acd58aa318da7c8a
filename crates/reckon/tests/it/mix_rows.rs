//! What the validation rows of filling ask, and what must hold whatever the circuit.

use proptest::prelude::*;
use reckon::solve::mix::{Fill, Recipe, flushes, left_after, swap};
use reckon::solve::salt::{Kept, Rise, Uncertain, topped_up};

use crate::rows::Row;

fn fill_of(row: &Row) -> Fill {
    Fill {
        volume: row.number("volume"),
        inside: row.number("inside"),
        inside_share: row.number("inside_share"),
        wanted: row.number("wanted"),
        product: row.number("product"),
    }
}

fn poured(row: &Row) -> Option<(f64, f64)> {
    match fill_of(row).recipe()? {
        Recipe::Pour { product, water } => Some((product, water)),
        _ => None,
    }
}

fn exactly(value: f64) -> Uncertain {
    Uncertain { value, u: 0.0 }
}

fn taken_in(row: &Row, kept: Kept) -> Option<f64> {
    let rise = Rise {
        volume: exactly(row.number("volume")),
        before: exactly(row.number("before")),
        now: exactly(row.number("now")),
        sea: exactly(row.number("sea")),
    };
    rise.taken_in(kept).map(|taken| taken.volume)
}

pub(crate) fn answer(row: &Row) -> Option<f64> {
    Some(match row.function.as_str() {
        "concentrate" => poured(row)?.0,
        "water" => poured(row)?.1,
        "drain_more" => match fill_of(row).recipe()? {
            Recipe::NoRoom { drain, .. } => drain,
            _ => return None,
        },
        "swap" => swap(
            row.number("volume"),
            row.number("inside_share"),
            row.number("wanted"),
            row.number("product"),
        )?,
        "topped_up" => {
            let product: f64 = row.number("product");
            Fill {
                volume: row.number("volume"),
                inside: row.number("inside"),
                inside_share: row.number("inside_share"),
                wanted: product,
                product,
            }
            .topped_up(product)
        }
        "flushes" => f64::from(flushes(
            row.number("before"),
            row.number("fresh"),
            row.number("wanted"),
            row.number("share_drained"),
        )?),
        "left_after_three" => left_after(
            row.number("before"),
            row.number("fresh"),
            row.number("share_drained"),
            3,
        ),
        "taken_in_overflowing" => taken_in(row, Kept::Overflowed)?,
        "taken_in_kept" => taken_in(row, Kept::All)?,
        _ => return None,
    })
}

#[test]
fn what_can_be_reached_and_what_can_not() {
    let fill = |inside, inside_share, wanted, product| Fill {
        volume: 20.0,
        inside,
        inside_share,
        wanted,
        product,
    };
    let pour = |product, water| Some(Recipe::Pour { product, water });
    assert_eq!(fill(7.0, 0.0, 0.5, 1.0).recipe(), pour(10.0, 3.0));
    assert_eq!(fill(0.0, 0.0, 0.5, 1.0).recipe(), pour(10.0, 10.0));
    assert_eq!(fill(10.0, 0.0, 0.5, 1.0).recipe(), pour(10.0, 0.0));
    assert_eq!(fill(20.0, 0.5, 0.5, 1.0).recipe(), pour(0.0, 0.0));
    let no_room = Some(Recipe::NoRoom {
        drain: 1.0,
        product: 10.0,
    });
    assert_eq!(fill(11.0, 0.0, 0.5, 1.0).recipe(), no_room);
    let rich = Some(Recipe::TooRich {
        drain: 2.0,
        water: 10.0,
    });
    assert_eq!(fill(12.0, 1.0, 0.5, 1.0).recipe(), rich);
    let weak = Some(Recipe::ProductTooWeak);
    assert_eq!(fill(7.0, 0.0, 0.5, 0.4).recipe(), weak);
    assert_eq!(
        fill(7.0, 0.0, 0.5, 0.5).recipe(),
        Some(Recipe::NoRoom {
            drain: 7.0,
            product: 20.0
        })
    );
    assert_eq!(fill(21.0, 0.0, 0.5, 1.0).recipe(), None);
    assert_eq!(fill(7.0, 0.0, 1.5, 1.0).recipe(), None);
    assert_eq!(fill(f64::NAN, 0.0, 0.5, 1.0).recipe(), None);
    assert!((fill(7.0, 0.0, 0.5, 0.5).topped_up(0.5) - 0.325).abs() < 1e-12);
}

#[test]
fn flushes_that_never_come_to_an_end_are_none() {
    assert_eq!(flushes(1.0, 0.0, 0.05, 0.6), Some(4));
    assert_eq!(flushes(1.0, 0.0, 0.4, 0.6), Some(1));
    assert_eq!(flushes(0.04, 0.0, 0.05, 0.6), Some(0));
    assert_eq!(flushes(1.0, 0.0, 0.05, 1.0), Some(1));
    assert_eq!(flushes(1.0, 0.0, 0.05, 0.0), None);
    assert_eq!(flushes(300.0, 40.0, 40.0, 0.6), None);
    assert_eq!(swap(20.0, 0.5, 0.5, 1.0), None);
    assert_eq!(swap(20.0, 0.3, 0.5, 0.5), None);
}

#[test]
fn an_interval_that_reaches_nought_shows_nothing() {
    let rise = |u: f64| Rise {
        volume: Uncertain {
            value: 20.0,
            u: 0.5,
        },
        before: Uncertain { value: 20.0, u },
        now: Uncertain { value: 50.0, u },
        sea: Uncertain {
            value: 19_832.0,
            u: 500.0,
        },
    };
    assert!(
        rise(2.0)
            .taken_in(Kept::Overflowed)
            .expect("a rise")
            .is_shown()
    );
    assert!(
        !rise(15.0)
            .taken_in(Kept::Overflowed)
            .expect("a rise")
            .is_shown()
    );
    let salt = Rise {
        now: exactly(20_000.0),
        ..rise(1.0)
    };
    assert_eq!(salt.taken_in(Kept::All), None);
    assert_eq!(topped_up(20.0, 100.0, 5.0, 5.0, 20.0), Some(80.0));
    assert_eq!(topped_up(20.0, 100.0, 25.0, 5.0, 20.0), None);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    /// Whatever recipe is given, doing it gives the mix that was wanted and a full circuit.
    #[test]
    fn doing_the_recipe_gives_what_was_wanted(
        volume in 1.0..80.0_f64, part in 0.0..1.0_f64, inside_share in 0.0..0.8_f64,
        wanted in 0.05..0.6_f64, product in 0.3..1.0_f64,
    ) {
        let inside = part * volume;
        let fill = Fill { volume, inside, inside_share, wanted, product };
        let (drain, poured, water) = match fill.recipe() {
            Some(Recipe::Pour { product, water }) => (0.0, product, water),
            Some(Recipe::NoRoom { drain, product }) => (drain, product, 0.0),
            Some(Recipe::TooRich { drain, water }) => (drain, 0.0, water),
            Some(Recipe::ProductTooWeak) => {
                prop_assert!(product <= wanted + 1e-9 || product <= inside_share + 1e-9);
                return Ok(());
            }
            None => return Err(TestCaseError::fail("these are fit")),
        };
        prop_assert!(drain >= 0.0 && poured >= 0.0 && water >= 0.0);
        prop_assert!(drain <= inside * (1.0 + 1e-9));
        let left = inside - drain;
        prop_assert!((left + poured + water - volume).abs() < 1e-9 * volume);
        let share = (left * inside_share + poured * product) / volume;
        prop_assert!((share - wanted).abs() < 1e-9, "{share} for {wanted}");
    }

    /// One flush fewer leaves too much.
    #[test]
    fn the_count_of_flushes_is_the_least(
        before in 0.1..1.0_f64, wanted in 0.001..0.09_f64, drained in 0.05..0.99_f64,
    ) {
        let times = flushes(before, 0.0, wanted, drained).expect("it comes to an end");
        prop_assert!(left_after(before, 0.0, drained, times) <= wanted * (1.0 + 1e-6));
        prop_assert!(left_after(before, 0.0, drained, times - 1) > wanted * (1.0 - 1e-6));
    }
}
