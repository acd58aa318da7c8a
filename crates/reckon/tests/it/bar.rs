//! The joint that everyone remembers, and what the demo boat is there to show.

use boat::Boat;
use quantity::{Length, Unit, parse_reading};
use reckon::{Answer, Grade, Input, Memo, QuickInput, Set, Verdict, quick, reckon};

use crate::boats::{DUNLIN, read};

fn mm(text: &str) -> quantity::Reading<Length> {
    parse_reading(text, Some(Unit::mm())).unwrap()
}

fn joint(bore: &str, over: &str, spigot: &str, bead: Option<&str>) -> QuickInput {
    QuickInput {
        bore: mm(bore),
        over: mm(over),
        spigot: mm(spigot),
        bead: bead.map(mm),
        plain: false,
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

fn answer(boat: &Boat, memo: &mut Memo) -> Answer {
    reckon(
        &Input {
            boat,
            arrangement: None,
            seed: 0,
            set: Set::All,
            flow: None,
            bay: None,
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
fn of_the_demo_boat_two_joints_are_unsound() {
    let answer = answer(&read(DUNLIN), &mut Memo::default());
    assert!(answer.verdicts.len() > 50);
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
fn two_open_ends_want_a_joiner() {
    let text = "version = 1\nlengths = \"mm\"\n\
        [engine]\nspigots.out = { od = 38 }\n[things.cooler]\nkind = \"oil cooler\"\nspigots.a = { od = 38 }\n\
        [runs]\nhot = { from = \"engine.out\", to = \"cooler\", way = \"hose 38 epdm + elbow 90 38 moulded epdm + hose 38 epdm\" }\n";
    let (boat, _, remarks) = boat::read(text);
    assert_eq!(remarks, []);
    let answer = answer(&boat, &mut Memo::default());
    let ends = find(&answer.verdicts, "fit.hot.hose-elbow.ends");
    assert_eq!(ends.grade, Grade::Unsound);
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
