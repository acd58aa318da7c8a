//! The joint that everyone remembers, the whole demo boat, and what must hold of every answer.

use std::fs;
use std::path::Path;

use boat::Boat;
use quantity::{Length, Unit, parse_reading};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;
use reckon::{Answer, Grade, Input, Memo, QuickInput, Set, Verdict, quick, reckon};

fn mm(text: &str) -> quantity::Reading<Length> {
    parse_reading(text, Some(Unit::mm())).unwrap()
}

fn joint(bore: &str, over: &str, spigot: &str, bead: Option<&str>) -> QuickInput {
    QuickInput {
        bore: mm(bore),
        over: mm(over),
        spigot: mm(spigot),
        bead: bead.map(mm),
        behind_bead: None,
        clip: None,
        hose: boat::HoseBuild::Epdm,
        seed: 0,
        set: Set::All,
    }
}

fn find<'a>(verdicts: &'a [Verdict], id: &str) -> &'a Verdict {
    verdicts
        .iter()
        .find(|verdict| verdict.id == id)
        .unwrap_or_else(|| panic!("no verdict {id}"))
}

fn dunlin() -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../boats/dunlin/boat.toml");
    fs::read_to_string(path).unwrap()
}

fn answer(boat: &Boat, memo: &mut Memo) -> Answer {
    reckon(
        &Input {
            boat,
            arrangement: None,
            seed: 0,
            set: Set::All,
        },
        memo,
    )
}

/// Hand calculation: stretch (35 − 32)/32 = 9.4 %; over the bead (38.5 − 32)/32 = 20.3 %, where
/// 15 % is the most; √(35² + 42² − 32²) = √1965 = 44.33 and 35 + 42 − 32 = 45.0.
#[test]
fn the_stretched_hose_is_what_the_clip_must_hold() {
    let (row, verdicts) = quick(&joint("32", "42", "35", Some("38.5")));
    let stretch = find(&verdicts, "fit.joint.stretch");
    assert_eq!(stretch.grade, Grade::Marginal);
    assert!(
        stretch.because.metric.contains("9.4"),
        "{}",
        stretch.because.metric
    );
    assert_eq!(find(&verdicts, "fit.joint.bead").grade, Grade::Unsound);
    let mm = |number: &Option<reckon::Number>| {
        number
            .as_ref()
            .map(|number| (number.si * 10_000.0).round() / 10.0)
    };
    assert_eq!(
        (mm(&row.fitted_low), mm(&row.fitted_high)),
        (Some(44.3), Some(45.0))
    );
    let clip = find(&verdicts, "fit.joint.clip");
    assert_eq!(clip.grade, Grade::Sound, "{}", clip.because.metric);
    assert!(clip.chance.unwrap() > 0.95);
}

#[test]
fn a_clip_chosen_from_the_free_hose_is_refused() {
    let text = "version = 1\nlengths = \"mm\"\n[boat]\nwaterline = { laden = 0 }\n\
        [engine]\nspigots.out = { od = 35, bead = 38.5, behind_bead = 40, form = \"beaded\", h = 300 }\n\
        [things.cooler]\nkind = \"oil cooler\"\nspigots.a = { od = 35, bead = 38.5, behind_bead = 40, form = \"beaded\", h = 300 }\n\
        [runs]\nhot = { from = \"engine.out\", to = \"cooler\", way = \"hose 32 epdm\" }\n\
        [joints]\n\"hot.from\" = { clip = \"t-bolt 40-43\", clips = 1 }\n\
        [stock]\nhose = [\"1 m x 32 epdm, id 32 od 42\"]\n";
    let (boat, _, remarks) = boat::read(text);
    assert_eq!(remarks, []);
    let answer = answer(&boat, &mut Memo::default());
    let clip = find(&answer.verdicts, "fit.hot.from.clip");
    assert_eq!(clip.grade, Grade::Unsound, "{}", clip.because.metric);
    assert!(
        clip.because.metric.contains("free hose of 42.0 mm"),
        "{}",
        clip.because.metric
    );
    assert!(
        clip.because.metric.contains("44.3 to 45.0 mm"),
        "{}",
        clip.because.metric
    );
    // The remedy is an edit, and with it the joint holds.
    let edit = &clip.edits[0];
    let mended = boat::set_value(text, &edit.place, &edit.to).unwrap();
    let (boat, _, remarks) = boat::read(&mended);
    assert_eq!(remarks, []);
    let after = self::answer(&boat, &mut Memo::default());
    assert_eq!(
        find(&after.verdicts, "fit.hot.from.clip").grade,
        Grade::Sound
    );
}

#[test]
fn every_verdict_explains_itself_and_every_edit_applies() {
    let text = dunlin();
    let (boat, _, _) = boat::read(&text);
    let answer = answer(&boat, &mut Memo::default());
    assert!(answer.verdicts.len() > 50);
    let mut ids: Vec<&str> = answer
        .verdicts
        .iter()
        .map(|verdict| verdict.id.as_str())
        .collect();
    ids.sort_unstable();
    let count = ids.len();
    ids.dedup();
    assert_eq!(ids.len(), count, "an id stands twice");
    for verdict in &answer.verdicts {
        let id = &verdict.id;
        assert!(
            !verdict.because.metric.is_empty() && !verdict.because.imperial.is_empty(),
            "{id}"
        );
        assert!(!verdict.spoken.metric.is_empty(), "{id}");
        assert_eq!(
            verdict.grade == Grade::Unmeasured,
            verdict.settles.is_some() && verdict.grade == Grade::Unmeasured,
            "{id}"
        );
        if let Some(chance) = verdict.chance {
            assert!((0.0..=1.0).contains(&chance), "{id}: {chance}");
        }
        for edit in &verdict.edits {
            let edited = boat::set_value(&text, &edit.place, &edit.to)
                .unwrap_or_else(|error| panic!("{id}: {error}"));
            let (_, _, remarks) = boat::read(&edited);
            let stops: Vec<_> = remarks
                .iter()
                .filter(|remark| remark.severity == boat::Severity::Stop)
                .collect();
            assert!(
                stops.is_empty(),
                "{id}: {} = {} gives {stops:?}",
                edit.place,
                edit.to
            );
        }
    }
    let unsound: Vec<&str> = answer
        .verdicts
        .iter()
        .filter(|verdict| verdict.grade == Grade::Unsound)
        .map(|verdict| verdict.id.as_str())
        .collect();
    assert_eq!(unsound, ["fit.cold.from.clips", "fit.cold.to.clip"]);
    let hidden = find(&answer.verdicts, "fit.suck.to.spigot");
    assert_eq!(hidden.grade, Grade::Unmeasured);
}

#[test]
fn two_open_ends_want_a_joiner_that_is_counted() {
    let text = "version = 1\nlengths = \"mm\"\n\
        [engine]\nspigots.out = { od = 38 }\n[things.cooler]\nkind = \"oil cooler\"\nspigots.a = { od = 38 }\n\
        [runs]\nhot = { from = \"engine.out\", to = \"cooler\", way = \"hose 38 epdm + elbow 90 38 moulded epdm + hose 38 epdm\" }\n";
    let (boat, _, remarks) = boat::read(text);
    assert_eq!(remarks, []);
    let answer = answer(&boat, &mut Memo::default());
    let ends = find(&answer.verdicts, "fit.hot.hose-elbow.ends");
    assert_eq!(ends.grade, Grade::Unsound);
    let joiners: u32 = answer
        .counts
        .iter()
        .filter(|count| count.kind == reckon::PartKind::Joiner)
        .map(|count| count.count)
        .sum();
    assert_eq!(joiners, 2);
    let mended = boat::set_value(text, &ends.edits[0].place, &ends.edits[0].to).unwrap();
    let (boat, _, remarks) = boat::read(&mended);
    assert_eq!(remarks, []);
    let after = self::answer(&boat, &mut Memo::default());
    assert!(
        after
            .verdicts
            .iter()
            .all(|verdict| verdict.id != "fit.hot.hose-elbow.ends")
    );
}

/// After random edits the answer with what was remembered equals the answer without.
#[test]
fn memory_changes_no_answer() {
    let long = std::env::var("HOSEWRIGHT_TEST_TIER").is_ok_and(|tier| tier == "long");
    let mut rng = Pcg64::seed_from_u64(7);
    let mut text = dunlin();
    let mut memo = Memo::default();
    let places = [
        ("engine.spigots.out.od", 36.0, 42.0),
        ("engine.spigots.out.bead", 39.0, 44.0),
        ("things.gearbox.spigots.both.od", 31.0, 36.0),
        ("things.keel-fwd.spigots.tail.behind_bead", 18.0, 60.0),
        ("things.header.cap_h", 300.0, 900.0),
        ("boat.waterline.laden", 0.0, 90.0),
        ("joints.\"hot.from\".fitted_od", 44.0, 50.0),
    ];
    let clips = [
        "\"worm 40-60 316\"",
        "\"t-bolt 43-47\"",
        "\"spring 47\"",
        "\"single-ear 45.5\"",
        "\"choose\"",
    ];
    for _ in 0..if long { 1000 } else { 120 } {
        text = if rng.random_range(0..4) == 0 {
            boat::set_value(
                &text,
                "joints.\"hot.to\".clip",
                clips[rng.random_range(0..clips.len())],
            )
            .unwrap()
        } else {
            let (place, low, high) = places[rng.random_range(0..places.len())];
            boat::set_value(&text, place, &format!("{:.1}", rng.random_range(low..high))).unwrap()
        };
        let (boat, _, _) = boat::read(&text);
        assert_eq!(
            answer(&boat, &mut memo),
            answer(&boat, &mut Memo::default())
        );
    }
}

#[test]
fn odd_sizes_are_answered_without_panic() {
    for size in [
        "0.0001", "0.2", "5", "38", "900", "20000", "1e12", "38 ± 40",
    ] {
        for other in ["0.0001", "4", "38", "5000", "1e12", "45 ± 60"] {
            let (_, verdicts) = quick(&joint(size, other, size, Some(other)));
            assert!(!verdicts.is_empty());
            let (_, verdicts) = quick(&joint(other, size, "35", None));
            assert!(!verdicts.is_empty());
        }
    }
}
