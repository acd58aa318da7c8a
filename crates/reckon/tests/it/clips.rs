//! Which clip and how many: rules, practice and physics kept apart.

use reckon::{Basis, Grade, Verdict};

use crate::boats::{Change, small, verdict, works_out};

/// Checks grade and basis of one verdict, and what its reason says.
#[track_caller]
fn check(changes: &[Change], id: &str, grade: Grade, basis: Basis, says: &[&str]) -> Verdict {
    let answer = small(changes);
    let verdict = verdict(&answer, id);
    let because = &verdict.because.metric;
    assert_eq!((verdict.grade, verdict.basis), (grade, basis), "{because}");
    for said in says {
        assert!(because.contains(said), "{said} not in: {because}");
    }
    verdict.clone()
}

/// Checks that the first edit of a verdict makes it sound.
#[track_caller]
fn mends(changes: &[Change], id: &str) {
    let before = small(changes);
    let edit = verdict(&before, id).edits.first().expect("an edit").clone();
    let mut changes = changes.to_vec();
    changes.push((&edit.place, &edit.to));
    let after = small(&changes);
    let mended = verdict(&after, id);
    assert_eq!(
        mended.grade,
        Grade::Sound,
        "{}: {}",
        edit.to,
        mended.because.metric
    );
}

const RULE: Change = ("boat.rules", "[\"two clips below the waterline\"]");
const ONE_CLIP: Change = ("joints.\"wet.from\".clips", "1");
const SHORT: Change = ("things.hull.spigots.tail.behind_bead", "25");

#[test]
fn a_second_clip_off_the_metal_is_unsound() {
    check(
        &[SHORT],
        "fit.wet.from.clips",
        Grade::Unsound,
        Basis::Practice,
        &["38 mm", "25 mm", "not wholly on metal"],
    );
    mends(&[SHORT], "fit.wet.from.clips");
}

#[test]
fn a_third_clip_wants_still_more_metal() {
    let three = [
        ("joints.\"wet.from\".clips", "3"),
        ("things.hull.spigots.tail.behind_bead", "45"),
    ];
    check(
        &three,
        "fit.wet.from.clips",
        Grade::Unsound,
        Basis::Practice,
        &["45 mm"],
    );
}

#[test]
fn a_rule_asks_for_two_clips_below_the_waterline() {
    let changes = [RULE, ONE_CLIP];
    check(
        &changes,
        "fit.wet.from.clips",
        Grade::Unsound,
        Basis::Rule,
        &["two clips below the waterline", "260 mm"],
    );
    mends(&changes, "fit.wet.from.clips");
    // Above the water the same rule asks for nothing.
    check(
        &changes,
        "fit.dry.from.clips",
        Grade::Sound,
        Basis::Practice,
        &[],
    );
}

#[test]
fn a_rule_that_the_metal_can_not_keep_asks_for_a_longer_spigot() {
    let changes = [RULE, ONE_CLIP, SHORT];
    let verdict = check(
        &changes,
        "fit.wet.from.clips",
        Grade::Unsound,
        Basis::Rule,
        &[],
    );
    assert!(verdict.remedy.metric.contains("longer spigot"));
    assert!(verdict.edits.is_empty());
}

#[test]
fn without_a_rule_two_clips_below_the_waterline_are_practice() {
    check(
        &[ONE_CLIP],
        "fit.wet.from.clips",
        Grade::Marginal,
        Basis::Practice,
        &["good practice", "260 mm"],
    );
    mends(&[ONE_CLIP], "fit.wet.from.clips");
    // Where there is no room for two, one is right.
    check(
        &[ONE_CLIP, SHORT],
        "fit.wet.from.clips",
        Grade::Sound,
        Basis::Practice,
        &["25 mm"],
    );
}

#[test]
fn a_number_of_clips_left_open_is_chosen() {
    let open = ("joints.\"wet.from\".clips", "");
    for (changes, clips) in [(vec![open], 2), (vec![open, SHORT], 1)] {
        let answer = small(&changes);
        let row = answer.joints.iter().find(|row| row.joint == "wet.from");
        assert_eq!(row.expect("the row").clips, Some(clips));
    }
}

#[test]
fn a_rule_bars_clips_that_hold_by_spring_alone() {
    let spring = ("joints.\"dry.from\".clip", "\"spring 48\"");
    let barred = [spring, ("boat.rules", "[\"no spring clips\"]")];
    check(
        &barred,
        "fit.dry.from.clip",
        Grade::Unsound,
        Basis::Rule,
        &["spring 48", "no spring clips"],
    );
    mends(&barred, "fit.dry.from.clip");
    check(
        &[spring],
        "fit.dry.from.clip",
        Grade::Sound,
        Basis::Practice,
        &["47.6 to 47.7 mm"],
    );
}

/// A hose of 15.9 mm bore and 23.1 mm outside on a spigot of 16.2 mm: fitted 23.3 to 23.4 mm.
const THIN: [Change; 5] = [
    ("engine.spigots.out.od", "16.2"),
    ("engine.spigots.out.bead", "17.2"),
    ("things.cooler.spigots.a.od", "16.2"),
    ("runs.dry.way", "\"hose 16 epdm\""),
    ("stock.hose", "[\"7 m x 16 epdm, id 15.9 od 23.1\"]"),
];

fn thin<'a>(more: &[Change<'a>]) -> Vec<Change<'a>> {
    let mut changes = THIN.to_vec();
    changes.push(("things.cooler.spigots.a.bead", "17.2"));
    changes.extend(more);
    changes
}

#[test]
fn a_ring_must_pass_the_bead() {
    let ring = ("joints.\"dry.from\".clip", "\"single-ear 24.1\"");
    let first = ("joints.\"dry.from\".ring_on_first", "true");
    let fat = ("engine.spigots.out.bead", "18.6");
    check(
        &thin(&[ring, fat]),
        "fit.dry.from.clip",
        Grade::Unsound,
        Basis::Practice,
        &["single-ear 24.1", "24.1 mm", "rides the bead"],
    );
    // Put on the bare spigot first, it need only pass the bead itself.
    check(
        &thin(&[ring, fat, first]),
        "fit.dry.from.clip",
        Grade::Sound,
        Basis::Practice,
        &[],
    );
    let huge = ("engine.spigots.out.bead", "24.6");
    check(
        &thin(&[ring, huge, first]),
        "fit.dry.from.clip",
        Grade::Unsound,
        Basis::Practice,
        &["the bare bead", "24.6 mm"],
    );
}

#[test]
fn a_ring_that_only_has_to_go_on_first_is_kept() {
    let kind = ("joints.\"dry.from\".clip_kind", "\"single-ear\"");
    let fat = ("engine.spigots.out.bead", "18.6");
    let none = ("joints.\"dry.from\".clip", "");
    for wanted in [
        [("joints.\"dry.from\".clip", "\"single-ear 24.1\""); 2],
        [none, kind],
    ] {
        let [one, other] = wanted;
        let answer = small(&thin(&[one, other, fat]));
        let clip = verdict(&answer, "fit.dry.from.clip");
        assert_ne!(clip.grade, Grade::Sound);
        assert!(
            clip.remedy.metric.contains("bare bead"),
            "{:?}",
            clip.remedy
        );
        let edit = &clip.edits[0];
        assert_eq!(
            (edit.place.as_str(), edit.to.as_str()),
            ("joints.\"dry.from\".ring_on_first", "true")
        );
        let mended = small(&thin(&[one, other, fat, (&edit.place, &edit.to)]));
        let after = verdict(&mended, "fit.dry.from.clip");
        assert_eq!(after.grade, Grade::Sound, "{}", after.because.metric);
    }
}

#[test]
fn a_ring_over_an_unmeasured_bead_waits_for_it() {
    let ring = ("joints.\"dry.from\".clip", "\"single-ear 24.1\"");
    let answer = small(&thin(&[ring, ("engine.spigots.out.bead", "")]));
    let clip = verdict(&answer, "fit.dry.from.clip");
    assert_eq!(clip.grade, Grade::Unmeasured);
    let settles = clip.settles.as_ref().expect("what settles it");
    assert_eq!(settles.place, "engine.spigots.out.bead");
}

#[test]
fn an_ear_is_closed_by_its_share() {
    // Ear of 10 mm on a ring of 25.6 mm: round 22.7 mm squeezed, it is closed by about 90 %.
    let first = ("joints.\"dry.from\".ring_on_first", "true");
    for (clip, grade) in [
        ("\"single-ear 24.1\"", Grade::Sound),
        ("\"single-ear 27.1\"", Grade::Unsound),
    ] {
        let verdict = check(
            &thin(&[("joints.\"dry.from\".clip", clip), first]),
            "fit.dry.from.clip",
            grade,
            Basis::Practice,
            &[],
        );
        assert!(works_out(&verdict, "hose under the clip between"));
        if grade == Grade::Unsound {
            for said in ["of its ear", "40 % to 95 % is right"] {
                assert!(
                    verdict.because.metric.contains(said),
                    "{}",
                    verdict.because.metric
                );
            }
        }
    }
}

#[test]
fn both_neighbours_stand_beside_a_clip_with_their_chances() {
    let answer = small(&[("joints.\"dry.from\".clip", "\"worm 32-50\"")]);
    let row = answer.joints.iter().find(|row| row.joint == "dry.from");
    let beside: Vec<(&str, bool)> = row
        .expect("the row")
        .neighbours
        .iter()
        .map(|beside| (beside.clip.as_str(), beside.chance > 0.95))
        .collect();
    assert_eq!(beside, [("worm 30-45", false), ("worm 40-60", true)]);
    let clip = verdict(&answer, "fit.dry.from.clip");
    assert!(works_out(clip, "worm 30-45 holds under 1 in 100"));
    assert!(works_out(clip, "the open size nearest to the hose"));
    assert!(works_out(clip, "the hose in the middle of the range"));
}

#[test]
fn a_clip_that_does_not_close_far_enough_is_unsound() {
    let changes = [("joints.\"dry.from\".clip", "\"worm 50-70\"")];
    check(
        &changes,
        "fit.dry.from.clip",
        Grade::Unsound,
        Basis::Practice,
        &["worm 50-70 closes to 50.0 mm"],
    );
    mends(&changes, "fit.dry.from.clip");
}

#[test]
fn a_loose_hose_must_pass_as_it_is_when_free() {
    let changes = [
        ("engine.spigots.out.od", "37.5"),
        ("joints.\"dry.from\".clip", "\"worm 35-47\""),
    ];
    check(
        &changes,
        "fit.dry.from.clip",
        Grade::Unsound,
        Basis::Practice,
        &["loose", "47.4 mm when free", "opens to 47.0 mm"],
    );
    mends(&changes, "fit.dry.from.clip");
}

#[test]
fn a_clip_that_stands_in_no_table_is_asked_for() {
    let answer = small(&[("joints.\"dry.from\".clip", "\"single-ear 99\"")]);
    let clip = verdict(&answer, "fit.dry.from.clip");
    assert_eq!(clip.grade, Grade::Unmeasured);
    assert_eq!(
        clip.settles.as_ref().expect("what settles it").place,
        "joints.\"dry.from\".clip"
    );
}

#[test]
fn own_clips_are_chosen_before_those_of_a_shop() {
    let open = ("joints.\"dry.from\".clip", "");
    let shelf = (
        "stock.clips",
        "[\"2 x worm 38-57 316\", \"9 x worm 16-27 316\"]",
    );
    for (changes, own) in [(vec![open], false), (vec![open, shelf], true)] {
        let answer = small(&changes);
        let row = answer
            .joints
            .iter()
            .find(|row| row.joint == "dry.from")
            .expect("the row");
        assert!(row.clip_chosen);
        assert_eq!(
            row.clip.as_deref() == Some("worm 38-57 316"),
            own,
            "{:?}",
            row.clip
        );
        let clip = verdict(&answer, "fit.dry.from.clip");
        assert_eq!(clip.because.metric.contains("from your shelf"), own);
    }
}

#[test]
fn a_trial_fit_narrows_the_choice() {
    // By the models alone nobody knows whether it opens far enough; measured, it does.
    let tight = ("joints.\"dry.from\".clip", "\"worm 35-47.7\"");
    let answer = small(&[tight]);
    let before = verdict(&answer, "fit.dry.from.clip");
    assert_ne!(before.grade, Grade::Sound);
    let tried = [tight, ("joints.\"dry.from\".fitted_od", "\"47.5 ± 0.1\"")];
    let answer = small(&tried);
    let after = verdict(&answer, "fit.dry.from.clip");
    assert_eq!(after.grade, Grade::Sound, "{}", after.because.metric);
    let width = |verdict: &Verdict| verdict.margin.as_ref().and_then(|margin| margin.deviation);
    assert!(width(after) < width(before));
}

#[test]
fn a_hose_used_again_takes_less_torque() {
    let torque = |changes: &[Change]| {
        let answer = small(changes);
        verdict(&answer, "fit.dry.from.torque")
            .because
            .metric
            .clone()
    };
    assert!(torque(&[]).contains("3.8 to 5.2 N m"));
    let again = torque(&[("joints.\"dry.from\".reused_hose", "true")]);
    assert!(again.contains("2.5 to 3.5 N m"), "{again}");
}

#[test]
fn the_clip_that_the_tool_chooses_holds_on_the_fitted_hose() {
    // Hose 32/42 on 35 mm: 42 mm when free, 44.3 to 45.0 mm when fitted.
    let thick = [
        ("engine.spigots.out.od", "35"),
        ("engine.spigots.out.bead", "36.5"),
        ("runs.dry.way", "\"hose 32 epdm\""),
        ("stock.hose", "[\"3 m x 32 epdm, id 32.0 od 42.0\"]"),
        ("joints.\"dry.from\".clip", ""),
    ];
    for kind in ["worm", "t-bolt", "spring"] {
        let quoted = format!("\"{kind}\"");
        let mut changes = thick.to_vec();
        changes.push(("joints.\"dry.from\".clip_kind", &quoted));
        let answer = small(&changes);
        let row = answer
            .joints
            .iter()
            .find(|row| row.joint == "dry.from")
            .expect("the row");
        assert!(row.clip_chosen);
        assert!(
            row.clip.as_deref().expect("a clip").starts_with(kind),
            "{:?}",
            row.clip
        );
        assert!(row.chance.expect("a chance") >= 0.95, "{:?}", row.clip);
        let clip = verdict(&answer, "fit.dry.from.clip");
        assert_eq!(clip.grade, Grade::Sound, "{}", clip.because.metric);
        for said in ["44.3 to 45.0 mm", "chosen"] {
            assert!(
                clip.because.metric.contains(said),
                "{}",
                clip.because.metric
            );
        }
    }
    // What one would pick from the free hose is shown beside it, with what it would come to.
    let mut changes = thick.to_vec();
    changes.push(("joints.\"dry.from\".clip_kind", "\"t-bolt\""));
    let answer = small(&changes);
    let clip = verdict(&answer, "fit.dry.from.clip");
    assert!(works_out(clip, "pick from the free hose"));
    assert!(
        works_out(clip, "t-bolt 40-43: it would hold under 1 in 100"),
        "{:#?}",
        clip.working.steps
    );
}

const FREE: Change = ("job.assume", "[\"hose wall\", \"bead width\"]");

#[test]
fn the_torque_of_a_worm_clip_of_unknown_band_is_not_known() {
    let wide = ("joints.\"dry.from\".clip", "\"worm 35-61\"");
    let answer = small(&[FREE, wide]);
    let torque = verdict(&answer, "fit.dry.from.torque");
    assert_eq!(torque.grade, Grade::Unmeasured);
    assert!(!torque.because.metric.contains("N m"));
    let settles = torque.settles.as_ref().expect("what settles it");
    assert_eq!(settles.place, "joints.\"dry.from\".clip");
    assert!(settles.how.contains("band"));
    let row = answer.joints.iter().find(|row| row.joint == "dry.from");
    assert_eq!(row.expect("the row").torque, None);
    // With its band written it is known.
    let banded = ("joints.\"dry.from\".clip", "\"worm 35-61 band 12\"");
    let answer = small(&[FREE, banded]);
    let torque = verdict(&answer, "fit.dry.from.torque");
    assert_eq!(torque.grade, Grade::Sound, "{}", torque.because.metric);
    assert!(torque.because.metric.contains("3.8 to 5.2 N m"));
}

const TAIL_HEIGHT: Change = ("things.hull.spigots.tail.h", "");
const TAIL_BEHIND: Change = ("things.hull.spigots.tail.behind_bead", "");

#[test]
fn a_rule_for_below_the_waterline_waits_for_the_height() {
    let verdict = check(
        &[RULE, ONE_CLIP, TAIL_HEIGHT],
        "fit.wet.from.clips",
        Grade::Unmeasured,
        Basis::Rule,
        &["two clips below the waterline"],
    );
    let settles = verdict.settles.as_ref().expect("what settles it");
    assert_eq!(settles.place, "things.hull.spigots.tail.h");
    assert_eq!(verdict.chance, None);
    // Two clips keep the rule wherever it lies, and without the rule one is enough until it is known.
    for changes in [vec![RULE, TAIL_HEIGHT], vec![ONE_CLIP, TAIL_HEIGHT]] {
        check(
            &changes,
            "fit.wet.from.clips",
            Grade::Sound,
            Basis::Practice,
            &[],
        );
    }
}

#[test]
fn one_clip_breaks_a_rule_however_long_the_spigot_is() {
    let verdict = check(
        &[RULE, ONE_CLIP, TAIL_BEHIND],
        "fit.wet.from.clips",
        Grade::Unsound,
        Basis::Rule,
        &["two clips below the waterline", "260 mm"],
    );
    assert!(verdict.remedy.metric.contains("measure it"));
    assert_eq!(verdict.edits, []);
    // Without the rule the length is all that is asked.
    let answer = small(&[ONE_CLIP, TAIL_BEHIND]);
    let waits = crate::boats::verdict(&answer, "fit.wet.from.clips");
    assert_eq!(waits.grade, Grade::Unmeasured);
    let settles = waits.settles.as_ref().expect("what settles it");
    assert_eq!(settles.place, "things.hull.spigots.tail.behind_bead");
}

const TWO: Change = ("joints.\"dry.from\".clips", "2");

/// The verdict on two clips on a spigot whose straight length is known so far: they need 38 mm.
fn two_on(behind: &str, carries: &str) -> Verdict {
    let (behind, carries) = (format!("\"{behind}\""), format!("\"{carries}\""));
    let answer = small(&[
        TWO,
        ("engine.spigots.out.behind_bead", &behind),
        ("runs.dry.carries", &carries),
    ]);
    verdict(&answer, "fit.dry.from.clips").clone()
}

#[test]
fn one_reading_is_even_and_not_normal() {
    // From 35.5 to 45.5 mm, of which 7.5 mm lie over 38 mm; a normal spread would make it 0.81.
    for carries in ["coolant", "vent"] {
        let chance = two_on("40.5 ± 5", carries).chance.expect("a chance");
        assert!((chance - 0.75).abs() < 1e-6, "{chance}");
    }
    // Beyond its limits an even spread has nothing.
    assert_eq!(two_on("43.1 ± 5", "coolant").chance, Some(1.0));
    assert_eq!(two_on("32.9 ± 5", "coolant").chance, Some(0.0));
}

#[test]
fn what_scalds_or_lets_in_the_sea_is_graded_more_strictly() {
    for (behind, chance, high, usual) in [
        ("40.5 ± 5", 0.75, Grade::Unsound, Grade::Marginal),
        ("42.7 ± 5", 0.97, Grade::Marginal, Grade::Sound),
        ("42.95 ± 5", 0.995, Grade::Sound, Grade::Sound),
        ("37.9 ± 5", 0.49, Grade::Unsound, Grade::Unsound),
        ("41.2 ± 5", 0.82, Grade::Marginal, Grade::Marginal),
    ] {
        for (carries, grade) in [
            ("coolant", high),
            ("raw water", high),
            ("vent", usual),
            ("domestic water", usual),
        ] {
            let verdict = two_on(behind, carries);
            assert!((verdict.chance.expect("a chance") - chance).abs() < 1e-6);
            assert_eq!(verdict.grade, grade, "{behind} of {carries}");
        }
    }
}

#[test]
fn a_guess_that_decides_the_straight_length_is_no_measurement() {
    // A guess is good to a tenth: 36.5 to 44.6 mm, where 38 mm are needed.
    let guessed = two_on("40.5 mm guessed", "coolant");
    assert_eq!(guessed.grade, Grade::Unmeasured, "{guessed:?}");
    let settles = guessed.settles.as_ref().expect("what settles it");
    assert_eq!(settles.place, "engine.spigots.out.behind_bead");
    // Where no guess could be so far off, it is as good as a reading.
    assert_eq!(two_on("60 mm guessed", "coolant").grade, Grade::Sound);
    assert_eq!(two_on("20 mm guessed", "coolant").grade, Grade::Unsound);
}

#[test]
fn two_readings_of_the_fitted_hose_are_put_to_the_owner() {
    let place = "joints.\"dry.from\".fitted_od";
    let answer = small(&[(place, "[\"47.6\", \"48.4\"]")]);
    let sizes = verdict(&answer, "fit.dry.from.sizes");
    assert_eq!(sizes.grade, Grade::Unmeasured);
    for said in ["two readings differ", "47.6", "48.4"] {
        assert!(
            sizes.because.metric.contains(said),
            "{}",
            sizes.because.metric
        );
    }
    assert_eq!(
        sizes.settles.as_ref().expect("what settles it").place,
        place
    );
    // Until then no clip is judged on sizes of which one is wrong.
    let clip = answer
        .verdicts
        .iter()
        .find(|verdict| verdict.id == "fit.dry.from.clip");
    assert_eq!(clip, None);
}

#[test]
fn a_fitted_hose_smaller_than_its_spigot_can_not_be_right() {
    let place = "joints.\"dry.from\".fitted_od";
    for wrong in ["25", "60"] {
        let answer = small(&[(place, wrong)]);
        let sizes = verdict(&answer, "fit.dry.from.sizes");
        assert_eq!(sizes.grade, Grade::Unmeasured);
        assert!(sizes.remedy.metric.contains("can't be right"));
        assert_eq!(
            sizes.settles.as_ref().expect("what settles it").place,
            place
        );
    }
    let answer = small(&[(place, "47.7")]);
    let sizes = answer
        .verdicts
        .iter()
        .find(|verdict| verdict.id.ends_with(".sizes"));
    assert_eq!(sizes, None);
}

#[test]
fn a_clip_on_raw_water_is_of_316_or_waits() {
    let raw = ("runs.wet.carries", "\"raw water\"");
    for (clip, grade) in [
        ("\"worm 40-60 316\"", Grade::Sound),
        ("\"worm 40-60\"", Grade::Unmeasured),
        ("\"worm 40-60 stainless\"", Grade::Unmeasured),
        ("\"worm 40-60 304\"", Grade::Marginal),
        ("\"worm 40-60 steel\"", Grade::Marginal),
    ] {
        let change = ("joints.\"wet.from\".clip", clip);
        let answer = small(&[raw, change]);
        let on_raw = verdict(&answer, "fit.wet.from.clip");
        assert_eq!(on_raw.grade, grade, "{clip}");
        if grade == Grade::Unmeasured {
            let settles = on_raw.settles.as_ref().expect("what settles it");
            assert_eq!(settles.place, change.0);
            assert!(settles.how.contains("magnet"));
        }
        // Coolant asks for no such thing.
        let answer = small(&[change]);
        let on_coolant = verdict(&answer, "fit.wet.from.clip");
        assert_eq!(on_coolant.grade, Grade::Sound, "{clip}");
    }
    // One that does not hold is no better for being of unknown metal.
    let small_one = ("joints.\"wet.from\".clip", "\"worm 20-32\"");
    let answer = small(&[raw, small_one]);
    assert_eq!(verdict(&answer, "fit.wet.from.clip").grade, Grade::Unsound);
}

#[test]
fn a_clip_that_nobody_can_know_is_not_chosen_but_offered() {
    let place = "joints.\"dry.from\".clip";
    let answer = small(&[(place, "\"?\"")]);
    let clip = verdict(&answer, "fit.dry.from.clip");
    assert_eq!(clip.grade, Grade::Unmeasured);
    assert_eq!(clip.settles.as_ref().expect("what settles it").place, place);
    let row = answer.joints.iter().find(|row| row.joint == "dry.from");
    let row = row.expect("the row");
    assert_eq!((row.clip.as_deref(), row.clip_chosen), (None, false));
    let edit = clip.edits.first().expect("one is offered");
    let mended = small(&[(place, &edit.to)]);
    assert_eq!(verdict(&mended, "fit.dry.from.clip").grade, Grade::Sound);
    for left in ["", "\"choose\""] {
        let answer = small(&[(place, left)]);
        let row = answer.joints.iter().find(|row| row.joint == "dry.from");
        let row = row.expect("the row");
        assert!(row.clip.is_some() && row.clip_chosen, "{left}");
        assert_eq!(verdict(&answer, "fit.dry.from.clip").grade, Grade::Sound);
    }
}

#[test]
fn a_spigot_without_a_bead_is_marginal() {
    let plain = [
        ("engine.spigots.out.form", "\"plain\""),
        ("engine.spigots.out.bead", ""),
        ("engine.spigots.out.bead_width", ""),
    ];
    let verdict = check(
        &plain,
        "fit.dry.from.bead",
        Grade::Marginal,
        Basis::Practice,
        &["no bead"],
    );
    assert!(verdict.remedy.metric.contains("bead rolled"));
    check(&[], "fit.dry.from.bead", Grade::Sound, Basis::Practice, &[]);
}

#[test]
fn one_clip_of_the_shelf_goes_to_one_joint() {
    let own = "worm 38-57 316";
    let places = ["joints.\"dry.from\".clip", "joints.\"dry.to\".clip"];
    for count in [1, 2] {
        let shelf = format!("[\"{count} x {own}\"]");
        // Left to the tool, it is chosen for so many.
        let open = places.map(|place| (place, ""));
        let mut changes = open.to_vec();
        changes.push(("stock.clips", &shelf));
        let answer = small(&changes);
        let rows = answer.joints.iter();
        let took = rows.filter(|row| row.clip.as_deref() == Some(own)).count();
        assert_eq!(took, count);
        // Decided wrongly, it is offered to so many.
        let wrong = places.map(|place| (place, "\"worm 50-70\""));
        let mut changes = wrong.to_vec();
        changes.push(("stock.clips", &shelf));
        let answer = small(&changes);
        let offered = answer
            .verdicts
            .iter()
            .filter(|verdict| verdict.edits.iter().any(|edit| edit.to.contains(own)));
        assert_eq!(offered.count(), count);
    }
    // One that the file has given to another joint is not there any more.
    let changes = [
        ("stock.clips", "[\"1 x worm 38-57 316\"]"),
        (places[0], "\"worm 38-57 316\""),
        (places[1], ""),
    ];
    let answer = small(&changes);
    let took: Vec<&str> = answer
        .joints
        .iter()
        .filter(|row| row.clip.as_deref() == Some(own))
        .map(|row| row.joint.as_str())
        .collect();
    assert_eq!(took, ["dry.from"]);
}
