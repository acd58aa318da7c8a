//! Sizes by name.

use std::cmp::Ordering;

use proptest::prelude::*;
use quantity::NominalSize;

#[track_caller]
fn check(text: &str, expected: Result<&str, &str>) {
    let found = NominalSize::parse(text);
    let found = found
        .as_ref()
        .map(ToString::to_string)
        .map_err(|error| error.message.clone());
    assert_eq!(
        found,
        expected.map(str::to_owned).map_err(str::to_owned),
        "{text}"
    );
}

#[test]
fn sizes_as_the_trade_writes_them() {
    check("38", Ok("38 mm"));
    check("38 mm", Ok("38 mm"));
    check("38mm", Ok("38 mm"));
    check("12.5", Ok("12.5 mm"));
    check("12,5", Ok("12.5 mm"));
    check("1 1/2 in", Ok("1 1/2 in"));
    check("1-1/2in", Ok("1 1/2 in"));
    check("1½\"", Ok("1 1/2 in"));
    check("1/2\"", Ok("1/2 in"));
    check("1.5 in", Ok("1 1/2 in"));
    check("2 in", Ok("2 in"));
    // A bare fraction is of an inch; nobody sells hose by half millimetres in fractions.
    check("1/2", Ok("1/2 in"));
    check("1-1/4", Ok("1 1/4 in"));
    check(
        "1.65 in",
        Err("1.65 in is no size by name: sizes in inches go in sixty-fourths, such as 1 5/8 in"),
    );
    check(
        "1.23456",
        Err("1.23456 mm is no size by name: sizes in mm have at most three decimals"),
    );
    check("0", Err("0 is no size: one is over 0 and at most 4000 mm"));
    check(
        "-38",
        Err("-38 is no size: one is over 0 and at most 4000 mm"),
    );
    check(
        "1e300",
        Err("1e300 is no size: one is over 0 and at most 4000 mm"),
    );
    check(
        "3 cm",
        Err("3 cm is no size by name: sizes are in mm or in"),
    );
    check(
        "3 bar",
        Err("bar is a pressure; a length is due: mm, cm, m, in or ft"),
    );
    check(
        "",
        Err("no number stands here; a length is due, such as 41.8 mm"),
    );
    check(
        "38 wired",
        Err("“wired” is no unit of length: mm, cm, m, in or ft"),
    );
}

#[test]
fn order_by_length_is_exact() {
    let size = |text| NominalSize::parse(text).expect("a size");
    assert_eq!(size("1 in").by_length(size("25.4")), Ordering::Equal);
    assert_ne!(size("1 in"), size("25.4"));
    assert_eq!(size("1 1/2 in").by_length(size("38")), Ordering::Greater);
    assert_eq!(size("38").by_length(size("1 5/8 in")), Ordering::Less);
    assert_eq!(size("1 1/2 in").as_length(), quantity::Length::inches(1.5));
    assert_eq!(NominalSize::mm(38), size("38"));
    assert_eq!(NominalSize::sixty_fourths(96), size("1 1/2 in"));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn printed_sizes_are_read_back(micrometres in 1..4_000_000_u32, sixty_fourths in 1..10_000_u32) {
        for size in [NominalSize::Metric { micrometres }, NominalSize::Inch { sixty_fourths }] {
            prop_assert_eq!(NominalSize::parse(&size.to_string()), Ok(size));
        }
    }

    #[test]
    fn no_text_stops_it(text in "\\PC{0,24}") {
        let _ = NominalSize::parse(&text);
    }
}
