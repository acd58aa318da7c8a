//! Numbers that no joint has: there is an answer, it holds no nonsense, and nothing panics.

use boat::{ClipWord, HoseBuild};
use proptest::prelude::*;
use quantity::{Length, Reading, Tolerance, Unit};
use reckon::{Answer, JointRow, QuickInput, Set, Verdict, quick};

use crate::boats::{DUNLIN, SMALL, answer};

fn lengths() -> impl Strategy<Value = Reading<Length>> {
    let value = prop_oneof![
        4 => 1.0..100.0_f64,
        2 => -100.0..1000.0_f64,
        1 => prop::sample::select(vec![0.0, -0.0, 1e-9, -1e-9, 0.1, 1e4, -1e6, 1e12, 1e100, -1e300]),
    ];
    let half = prop_oneof![
        2 => Just(None),
        2 => (0.0..2.0_f64).prop_map(Some),
        1 => prop::sample::select(vec![Some(0.0), Some(50.0), Some(1e9)]),
    ];
    (value, half).prop_map(|(value, half)| Reading {
        tolerance: half.map_or(Tolerance::Unstated, |half| {
            Tolerance::PlusMinus(Length::mm(half))
        }),
        ..Reading::plain(Length::mm(value), Unit::mm())
    })
}

fn clips() -> impl Strategy<Value = Option<ClipWord>> {
    prop::option::of(prop::sample::select(vec![
        ClipWord::Worm,
        ClipWord::SingleEar,
        ClipWord::TwoEar,
        ClipWord::TBolt,
        ClipWord::SpringBand,
    ]))
}

fn builds() -> impl Strategy<Value = HoseBuild> {
    prop::sample::select(vec![
        HoseBuild::Epdm,
        HoseBuild::Wired,
        HoseBuild::Silicone,
        HoseBuild::PlainRubber,
        HoseBuild::PlainSilicone,
    ])
}

#[track_caller]
fn is_sane(verdict: &Verdict) {
    for text in [
        &verdict.because,
        &verdict.remedy,
        &verdict.spoken,
        &verdict.working.limit,
    ] {
        for text in [&text.metric, &text.imperial] {
            assert!(!text.contains("NaN") && !text.contains("inf "), "{text}");
        }
    }
    assert!(!verdict.because.metric.is_empty(), "{}", verdict.id);
    assert!(
        verdict
            .chance
            .is_none_or(|chance| (0.0..=1.0).contains(&chance)),
        "{}: {:?}",
        verdict.id,
        verdict.chance
    );
    if let Some(margin) = &verdict.margin {
        let ends = [
            Some(margin.value),
            margin.deviation,
            margin.low,
            margin.high,
        ];
        assert!(
            ends.into_iter().flatten().all(f64::is_finite),
            "{}: {margin:?}",
            verdict.id
        );
    }
}

#[track_caller]
fn is_sane_row(row: &JointRow) {
    let numbers = [
        &row.spigot,
        &row.bead,
        &row.bore,
        &row.over,
        &row.stretch,
        &row.fitted_low,
        &row.fitted_high,
        &row.push_on,
    ];
    assert!(
        numbers
            .into_iter()
            .flatten()
            .all(|number| number.si.is_finite()),
        "{row:?}"
    );
    assert!(
        row.chance
            .is_none_or(|chance| (0.0..=1.0).contains(&chance))
    );
}

#[track_caller]
fn is_sane_answer(answer: &Answer) {
    answer.verdicts.iter().for_each(is_sane);
    answer.joints.iter().for_each(is_sane_row);
}

/// Places of the small boat and of the demo boat where a reading stands.
const PLACES: [&str; 14] = [
    "engine.spigots.out.od",
    "engine.spigots.out.bead",
    "engine.spigots.out.behind_bead",
    "engine.spigots.out.bead_width",
    "engine.spigots.out.h",
    "engine.alarm.at",
    "things.header.cap",
    "things.header.cap_h",
    "boat.waterline.laden",
    "boat.sea.salinity",
    "stock.hose",
    "stock.clips",
    "joints.\"hot.from\".clip",
    "joints.\"hot.from\".clips",
];

/// Values that one would not expect there.
const VALUES: [&str; 24] = [
    "0",
    "-5",
    "1e300",
    "-1e300",
    "0.0001",
    "99999999",
    "\"?\"",
    "\"choose\"",
    "[\"1\", \"2\"]",
    "\"38 ± 500\"",
    "\"3 to 2\"",
    "\"2 to 300\"",
    "\"-300 °C\"",
    "\"900 °C\"",
    "\"500 bar\"",
    "true",
    "{}",
    "[]",
    "\"worm 60-40\"",
    "\"worm 0-0\"",
    "\"single-ear 0.1\"",
    "\"spring 9999\"",
    "[\"0 m x 38 epdm, id 0 od 0\", \"1 m x 0 epdm\"]",
    "[\"0 x worm 1-2\", \"1 x t-bolt 0-9999\"]",
];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn quick_answers_whatever_it_is_asked(
        bore in lengths(), over in lengths(), spigot in lengths(),
        bead in prop::option::of(lengths()), behind_bead in prop::option::of(lengths()),
        clip in clips(), hose in builds(), seed: u64, all: bool,
    ) {
        let set = if all { Set::All } else { Set::Prompt };
        let input = QuickInput { bore, over, spigot, bead, plain: false, behind_bead, clip, hose, seed, set };
        let (row, verdicts) = quick(&input);
        prop_assert!(!verdicts.is_empty());
        verdicts.iter().for_each(is_sane);
        is_sane_row(&row);
        let (again, _) = quick(&input);
        prop_assert_eq!(row, again);
    }

    #[test]
    fn a_boat_with_odd_values_has_an_answer(
        changes in prop::collection::vec(
            (prop::sample::select(PLACES.to_vec()), prop::sample::select(VALUES.to_vec())), 1..5),
        demo: bool,
    ) {
        let mut text = (if demo { DUNLIN } else { SMALL }).to_owned();
        for (place, value) in changes {
            // A value that can't stand at a place leaves the file as it was.
            text = boat::set_value(&text, place, value).unwrap_or(text);
        }
        let (boat, _, _) = boat::read(&text);
        is_sane_answer(&answer(&boat, Set::Prompt));
    }
}

#[test]
fn every_odd_value_at_every_place_has_an_answer() {
    for place in PLACES {
        for value in VALUES {
            let text = boat::set_value(SMALL, place, value).unwrap_or_else(|_| SMALL.to_owned());
            let (boat, _, _) = boat::read(&text);
            is_sane_answer(&answer(&boat, Set::All));
        }
    }
}

#[test]
fn an_empty_file_has_an_empty_answer() {
    let (boat, _, _) = boat::read("");
    let answer = answer(&boat, Set::All);
    assert!(answer.verdicts.is_empty() && answer.joints.is_empty());
}
