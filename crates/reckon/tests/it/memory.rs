//! What is remembered never changes an answer.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;
use reckon::{Memo, Set};

use crate::boats::{DUNLIN, answer, answer_with};

#[expect(
    clippy::disallowed_methods,
    reason = "the tier is told by the environment"
)]
fn edits() -> usize {
    let long = std::env::var("HOSEWRIGHT_TEST_TIER").is_ok_and(|tier| tier == "long");
    if long { 1000 } else { 200 }
}

/// Lengths of the demo boat, with what they are about.
const LENGTHS: [(&str, f64); 12] = [
    ("engine.spigots.out.od", 38.1),
    ("engine.spigots.out.bead", 40.7),
    ("engine.spigots.heat-out.od", 16.2),
    ("things.gearbox.spigots.both.od", 34.0),
    ("things.keel-fwd.spigots.tail.od", 38.3),
    ("things.keel-aft.spigots.tail.behind_bead", 22.0),
    ("things.header.spigots.foot.od", 19.2),
    ("things.calorifier.spigots.a.od", 16.6),
    ("things.keel-fwd.spigots.tail.behind_bead", 46.0),
    ("things.header.cap_h", 760.0),
    ("boat.waterline.laden", 35.0),
    ("joints.\"hot.from\".fitted_od", 47.8),
];

/// Choices that she offers, as TOML.
const CHOICES: [(&str, &[&str]); 8] = [
    (
        "joints.\"hot.from\".clip",
        &[
            "\"worm 40-60 316\"",
            "\"worm 32-50 316\"",
            "\"t-bolt 47-51\"",
            "\"spring 48\"",
            "\"choose\"",
        ],
    ),
    (
        "joints.\"cold.to\".clip",
        &[
            "\"t-bolt 40-43\"",
            "\"t-bolt 43-47\"",
            "\"worm 32-50 316\"",
            "\"choose\"",
        ],
    ),
    ("joints.\"cold.from\".clips", &["1", "2", "3"]),
    ("joints.\"cal-back.from\".ring_on_first", &["true", "false"]),
    (
        "runs.suck.way",
        &[
            "\"hose 32 epdm + tee 32 x 38 x 19 bronze + hose choose epdm\"",
            "\"hose 32 wired + tee 32 x 38 x 19 bronze + hose 38 epdm\"",
            "\"choose\"",
        ],
    ),
    (
        "runs.feed.way",
        &[
            "\"hose 19 epdm\"",
            "\"hose 20 silicone\"",
            "\"hose choose epdm\"",
        ],
    ),
    ("boat.sea.salinity", &["0", "7", "31", "\"?\""]),
    (
        "boat.rules",
        &[
            "[]",
            "[\"two clips below the waterline\"]",
            "[\"no spring clips\"]",
        ],
    ),
];

fn random_edit(rng: &mut Pcg64, text: &str) -> String {
    let which = rng.random_range(0..LENGTHS.len() + CHOICES.len());
    let (place, value) = match LENGTHS.get(which) {
        Some((place, usual)) => {
            // Tenths, so that some values come up again and are remembered.
            let moved = usual + f64::from(rng.random_range(-8..=8_i32)) / 10.0;
            (*place, format!("{moved:.1}"))
        }
        None => {
            let (place, choices) = CHOICES[which - LENGTHS.len()];
            (
                place,
                choices[rng.random_range(0..choices.len())].to_owned(),
            )
        }
    };
    boat::set_value(text, place, &value)
        .unwrap_or_else(|error| panic!("{place} = {value}: {error}"))
}

#[test]
fn an_answer_with_memory_is_the_answer_without() {
    let mut rng = Pcg64::seed_from_u64(20_26);
    let mut text = DUNLIN.to_owned();
    let mut memo = Memo::default();
    for step in 0..edits() {
        text = random_edit(&mut rng, &text);
        let (boat, _, _) = boat::read(&text);
        // One memory for both ways of judging: what one leaves there must not serve the other.
        let set = if step % 8 == 0 { Set::All } else { Set::Prompt };
        let remembered = answer_with(&boat, set, &mut memo);
        assert!(
            remembered == answer(&boat, set),
            "after {step} edits:\n{text}"
        );
    }
}

#[test]
fn a_memory_of_one_boat_serves_another() {
    let mut memo = Memo::default();
    let (dunlin, _, _) = boat::read(DUNLIN);
    let (small, _, _) = boat::read(crate::boats::SMALL);
    answer_with(&dunlin, Set::All, &mut memo);
    assert_eq!(
        answer_with(&small, Set::All, &mut memo),
        answer(&small, Set::All)
    );
}
