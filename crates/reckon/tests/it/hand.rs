//! Twenty joints of the demo boats, worked out by hand from the numbers that stand in their files.
//!
//! Each sum stands in the comment of its test. `i` is the bore of the free hose, `o` its outside, `s` the
//! spigot, all in mm; the fitted outside lies between √(s² + o² − i²), the rubber keeping its section,
//! and s + o − i, the wall keeping its thickness. Common practice, no source: a clip squeezes a fifth of
//! the wall, a bolted band a tenth, so that it must close to D − c (D − s); an ear is to be closed by
//! 0.40 to 0.95. The mark stands at one bore, not under 20 mm nor over 40 mm, or further where the clip wants
//! it (6 mm to the band, the band, 3 mm clear, the bead), or at the end of the metal where that comes first
//! (straight length and bead).

use std::sync::OnceLock;

use reckon::{Answer, Grade, Input, Memo, Set, reckon};

use crate::boats::{DEMO, answer, read};

/// What the answer for a boat is, reckoned once.
fn of(name: &str) -> &'static Answer {
    static ANSWERS: OnceLock<Vec<(&str, Answer)>> = OnceLock::new();
    let answers = ANSWERS.get_or_init(|| {
        let after = |(name, text): (&'static str, &str)| (name, answer(&read(text), Set::All));
        let as_found = |(name, text): (&'static str, &str)| {
            let boat = read(text);
            let input = Input {
                boat: &boat,
                arrangement: Some("before"),
                seed: 0,
                set: Set::All,
                flow: None,
                bay: None,
            };
            (name, reckon(&input, &mut Memo::default()))
        };
        let found = DEMO.into_iter().map(|(name, text)| {
            let name = match name {
                "tansley" => "tansley as found",
                "wenna" => "wenna as found",
                _ => "dunlin as found",
            };
            as_found((name, text))
        });
        DEMO.into_iter().map(after).chain(found).collect()
    });
    let found = answers.iter().find(|(of, _)| *of == name);
    found.map(|(_, answer)| answer).expect("a demo boat")
}

/// A joint by hand: millimetres, and per cent of stretch.
struct Hand {
    stretch: f64,
    least: f64,
    most: f64,
    /// Where the mark goes, where the comment works it out.
    mark: Option<f64>,
    /// Rule and grade.
    grades: &'static [(&'static str, Grade)],
}

/// Checks a joint against the sum of its comment: diameters to a hundredth of a millimetre, half the last
/// digit of the hand, stretch to a hundredth of a per cent.
#[track_caller]
fn check(boat: &str, joint: &str, hand: Hand) {
    let answer = of(boat);
    let row = answer.joints.iter().find(|row| row.joint == joint);
    let row = row.unwrap_or_else(|| panic!("{boat} has no {joint}"));
    let near =
        |name: &str, number: &Option<reckon::Number>, scale: f64, by_hand: f64, within: f64| {
            let found = number.as_ref().map(|number| number.si * scale);
            let is_near = found.is_some_and(|found| (found - by_hand).abs() <= within);
            assert!(
                is_near,
                "{boat}, {joint}: {name} {found:?}, {by_hand} by hand"
            );
        };
    near("stretch", &row.stretch, 100.0, hand.stretch, 0.006);
    near("least", &row.fitted_low, 1000.0, hand.least, 0.006);
    near("most", &row.fitted_high, 1000.0, hand.most, 0.006);
    if let Some(mark) = hand.mark {
        near("mark", &row.push_on, 1000.0, mark, 0.05);
    }
    for (rule, grade) in hand.grades {
        let id = format!("fit.{joint}.{rule}");
        let verdict = answer.verdicts.iter().find(|verdict| verdict.id == id);
        let verdict = verdict.unwrap_or_else(|| panic!("{boat} has no {id}"));
        assert_eq!(
            verdict.grade, *grade,
            "{boat}, {id}: {}",
            verdict.because.metric
        );
    }
}

/// i 37.8, o 47.4, s 38.1. Stretch 0.3/37.8 = 0.79 %. √(1451.61 + 2246.76 − 1428.84) = √2269.53 = 47.64;
/// 38.1 + 9.6 = 47.70. Squeezed, 47.70 − 0.2 × 9.60 = 45.78: a worm drive of 40 to 60 closes and opens
/// enough. Metal: 32 + 4 = 36, less than a bore of 37.8, so the mark is at 36.
#[test]
fn dunlin_hot_from() {
    check(
        "dunlin",
        "hot.from",
        Hand {
            stretch: 0.79,
            least: 47.64,
            most: 47.7,
            mark: Some(36.0),
            grades: &[("clip", Grade::Sound), ("stretch", Grade::Sound)],
        },
    );
}

/// i 37.8, o 47.4, s 38.3. Stretch 0.5/37.8 = 1.32 %. √(1466.89 + 2246.76 − 1428.84) = √2284.81 = 47.80;
/// 38.3 + 9.6 = 47.90. Squeezed 47.90 − 0.2 × 9.60 = 45.98, within 40 to 60.
#[test]
fn dunlin_hot_to() {
    check(
        "dunlin",
        "hot.to",
        Hand {
            stretch: 1.32,
            least: 47.8,
            most: 47.9,
            mark: None,
            grades: &[("clip", Grade::Sound), ("stretch", Grade::Sound)],
        },
    );
}

/// i 37.8, o 47.4, s 38.2. Stretch 0.4/37.8 = 1.06 %. √(1459.24 + 2246.76 − 1428.84) = √2277.16 = 47.72;
/// 38.2 + 9.6 = 47.80. Metal 36 + 4 = 40, more than a bore: the mark is at 37.8.
#[test]
fn dunlin_hot_tee_a() {
    check(
        "dunlin",
        "hot.tee.a",
        Hand {
            stretch: 1.06,
            least: 47.72,
            most: 47.8,
            mark: Some(37.8),
            grades: &[("clip", Grade::Sound), ("stretch", Grade::Sound)],
        },
    );
}

/// i 37.8, o 47.4, s 38.1: as at the engine, 0.79 %, 47.64 and 47.70. Metal: 38 of straight length alone is
/// more than a bore, so the mark is at 37.8.
#[test]
fn dunlin_cold_reducer_a() {
    check(
        "dunlin",
        "cold.reducer.a",
        Hand {
            stretch: 0.79,
            least: 47.64,
            most: 47.7,
            mark: Some(37.8),
            grades: &[("clip", Grade::Sound), ("stretch", Grade::Sound)],
        },
    );
}

/// i 31.9, o 41.7, s 32.1. Stretch 0.2/31.9 = 0.63 %. √(1030.41 + 1738.89 − 1017.61) = √1751.69 = 41.85;
/// 32.1 + 9.8 = 41.90. Metal: 34 of straight length is more than a bore: the mark is at 31.9.
#[test]
fn dunlin_cold_reducer_b() {
    check(
        "dunlin",
        "cold.reducer.b",
        Hand {
            stretch: 0.63,
            least: 41.85,
            most: 41.9,
            mark: Some(31.9),
            grades: &[("clip", Grade::Sound), ("stretch", Grade::Sound)],
        },
    );
}

/// i 31.9, o 41.7, s 34.0. Stretch 2.1/31.9 = 6.58 %: over 5 %, under 10 %. √(1156.00 + 1738.89 − 1017.61)
/// = √1877.28 = 43.33; 34.0 + 9.8 = 43.80. A bolted band of 40 to 43 does not start on 43.33; at its least
/// the hose is √(33.9² + 41.6² − 32.0²) = √1855.77 = 43.08, still more than 43. Such a band is 20
/// wide: 6 + 20 + 3 + 4 = 33 is more than a bore, and less than the metal of 30 + 4, so the mark is at 33.
#[test]
fn dunlin_cold_to() {
    check(
        "dunlin",
        "cold.to",
        Hand {
            stretch: 6.58,
            least: 43.33,
            most: 43.8,
            mark: Some(33.0),
            grades: &[("clip", Grade::Unsound), ("stretch", Grade::Marginal)],
        },
    );
}

/// The same hose on the same cooler, i 31.9, o 41.7, s 34.0: 6.58 %, 43.33 and 43.80. A worm drive of 32 to 50
/// opens enough, and closes to 43.80 − 0.2 × 9.80 = 41.84. The mark is at a bore, 31.9 of 34.
#[test]
fn dunlin_suck_from() {
    check(
        "dunlin",
        "suck.from",
        Hand {
            stretch: 6.58,
            least: 43.33,
            most: 43.8,
            mark: Some(31.9),
            grades: &[("clip", Grade::Sound), ("stretch", Grade::Marginal)],
        },
    );
}

/// i 15.9, o 23.1, s 16.2. Stretch 0.3/15.9 = 1.89 %. √(262.44 + 533.61 − 252.81) = √543.24 = 23.31;
/// 16.2 + 7.2 = 23.40. Squeezed 23.40 − 0.2 × 7.20 = 21.96, within 16 to 27.
#[test]
fn dunlin_cal_out_from() {
    check(
        "dunlin",
        "cal-out.from",
        Hand {
            stretch: 1.89,
            least: 23.31,
            most: 23.4,
            mark: None,
            grades: &[("clip", Grade::Sound)],
        },
    );
}

/// i 15.9, o 23.1, s 16.6. Stretch 0.7/15.9 = 4.40 %, under 5 %. √(275.56 + 533.61 − 252.81) = √556.36 =
/// 23.59; 16.6 + 7.2 = 23.80. Squeezed 23.80 − 0.2 × 7.20 = 22.36, within 16 to 27.
#[test]
fn dunlin_cal_out_to() {
    check(
        "dunlin",
        "cal-out.to",
        Hand {
            stretch: 4.4,
            least: 23.59,
            most: 23.8,
            mark: None,
            grades: &[("clip", Grade::Sound)],
        },
    );
}

/// i 1.49 in = 37.846, o 1.88 in = 47.752, s 1.502 in = 38.151. Stretch 0.012/1.49 = 0.81 %.
/// √(1455.48 + 2280.25 − 1432.32) = √2303.41 = 47.99; 38.151 + 9.906 = 48.06. Squeezed 48.06 − 0.2 × 9.906 =
/// 46.08; a worm drive of 32 to 50 holds. Metal 1.25 + 0.19 = 1.44 in = 36.576, less than a bore.
#[test]
fn tansley_hot_from() {
    check(
        "tansley",
        "hot.from",
        Hand {
            stretch: 0.81,
            least: 47.99,
            most: 48.06,
            mark: Some(36.576),
            grades: &[("clip", Grade::Sound), ("stretch", Grade::Sound)],
        },
    );
}

/// i 37.846, o 47.752, s 1.498 in = 38.049. Stretch 0.008/1.49 = 0.54 %. √(1447.74 + 2280.25 − 1432.32) =
/// √2295.67 = 47.91; 38.049 + 9.906 = 47.96. Metal: 1.5 in = 38.1 of straight length alone is more than a
/// bore: the mark is at 37.846.
#[test]
fn tansley_hot_elbow_a() {
    check(
        "tansley",
        "hot.elbow.a",
        Hand {
            stretch: 0.54,
            least: 47.913,
            most: 47.955,
            mark: Some(37.846),
            grades: &[("stretch", Grade::Sound)],
        },
    );
}

/// i 37.846, o 47.752, s 1.497 in = 38.024. Stretch 0.007/1.49 = 0.47 %. √(1445.81 + 2280.25 − 1432.32) =
/// √2293.74 = 47.89; 38.024 + 9.906 = 47.93: a worm drive of 32 to 50 opens enough.
#[test]
fn tansley_hot_to() {
    check(
        "tansley",
        "hot.to",
        Hand {
            stretch: 0.47,
            least: 47.893,
            most: 47.93,
            mark: None,
            grades: &[("clip", Grade::Sound), ("stretch", Grade::Sound)],
        },
    );
}

/// Wired hose, i 1.25 in = 31.75, o 1.69 in = 42.926, s 33.5. Stretch 1.75/31.75 = 5.51 %, where wire lets
/// 3 % pass at most. √(1122.25 + 1842.64 − 1008.06) = √1956.83 = 44.24; 33.5 + 11.176 = 44.68.
#[test]
fn tansley_suck_from() {
    check(
        "tansley as found",
        "suck.from",
        Hand {
            stretch: 5.51,
            least: 44.236,
            most: 44.676,
            mark: None,
            grades: &[("stretch", Grade::Unsound)],
        },
    );
}

/// i 0.626 in = 15.900, o 0.91 in = 23.114, s 16.1. Stretch 0.1996/15.9004 = 1.26 %. √(259.21 + 534.26 −
/// 252.82) = √540.65 = 23.25; 16.1 + 7.2136 = 23.31.
#[test]
fn tansley_cal_out_from() {
    check(
        "tansley",
        "cal-out.from",
        Hand {
            stretch: 1.255,
            least: 23.252,
            most: 23.314,
            mark: None,
            grades: &[("clip", Grade::Sound)],
        },
    );
}

/// i 15.900, o 23.114, s 15.0: the hose is 0.90 too large, −0.9004/15.9004 = −5.66 %, where 2 % of the
/// spigot, 0.30, can be taken up. Drawn in it would be √(225.00 + 534.26 − 252.82) = √506.44 = 22.50 by the
/// section and 15.0 + 7.2136 = 22.21 by the wall: for a loose hose the wall gives the less.
#[test]
fn tansley_cal_out_to() {
    check(
        "tansley as found",
        "cal-out.to",
        Hand {
            stretch: -5.663,
            least: 22.214,
            most: 22.504,
            mark: None,
            grades: &[("stretch", Grade::Unsound)],
        },
    );
}

/// i 15.9004, o 23.114, s 15.9: no stretch, −0.0004/15.9004 = 0.00 %, and 23.11 by both. Squeezed 23.114 −
/// 0.2 × 7.2136 = 21.67. An ear of 10 mm closes 10/π = 3.183 at most, so of a ring of 27.1 it would close
/// (27.1 − 21.67)/3.183 = 1.71 of its travel: it never grips.
#[test]
fn tansley_heat_out_to() {
    check(
        "tansley",
        "heat-out.to",
        Hand {
            stretch: -0.003,
            least: 23.114,
            most: 23.114,
            mark: None,
            grades: &[("clip", Grade::Unsound)],
        },
    );
}

/// Wired hose, i 25.2, o 35.0, s 25.4. Stretch 0.2/25.2 = 0.79 %. √(645.16 + 1225.00 − 635.04) = √1235.12 =
/// 35.14; 25.4 + 9.8 = 35.20. Squeezed 35.20 − 0.2 × 9.80 = 33.24, within 25 to 40.
#[test]
fn wenna_sea_from() {
    check(
        "wenna as found",
        "sea.from",
        Hand {
            stretch: 0.794,
            least: 35.144,
            most: 35.2,
            mark: None,
            grades: &[("clip", Grade::Sound)],
        },
    );
}

/// i 25.1, o 34.0, s 25.4. Stretch 0.3/25.1 = 1.20 %. √(645.16 + 1156.00 − 630.01) = √1171.15 = 34.22;
/// 25.4 + 8.9 = 34.30.
#[test]
fn wenna_push_from() {
    check(
        "wenna",
        "push.from",
        Hand {
            stretch: 1.195,
            least: 34.222,
            most: 34.3,
            mark: None,
            grades: &[("stretch", Grade::Sound)],
        },
    );
}

/// i 25.1, o 34.0, s 25.3. Stretch 0.2/25.1 = 0.80 %. √(640.09 + 1156.00 − 630.01) = √1166.08 = 34.15;
/// 25.3 + 8.9 = 34.20. Metal: 44 of straight length is more than a bore, so the mark is at 25.1, or further
/// where the clips want more.
#[test]
fn wenna_oil_raw_to() {
    check(
        "wenna",
        "oil-raw.to",
        Hand {
            stretch: 0.797,
            least: 34.148,
            most: 34.2,
            mark: None,
            grades: &[("stretch", Grade::Sound)],
        },
    );
}

/// i 15.9, o 23.0, s 16.2. Stretch 0.3/15.9 = 1.89 %. √(262.44 + 529.00 − 252.81) = √538.63 = 23.21;
/// 16.2 + 7.1 = 23.30: a worm drive of 16 to 27 closes to 23.30 − 0.2 × 7.10 = 21.88.
#[test]
fn wenna_heat_back_to() {
    check(
        "wenna",
        "heat-back.to",
        Hand {
            stretch: 1.887,
            least: 23.208,
            most: 23.3,
            mark: None,
            grades: &[("stretch", Grade::Sound)],
        },
    );
}
