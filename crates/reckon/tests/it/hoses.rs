//! What is known of spigot and hose, and which hose goes on.

use reckon::{Grade, Verdict};

use crate::boats::{Change, SMALL, edited, small, verdict};

/// Checks that a verdict waits, and for which value.
#[track_caller]
fn waits(changes: &[Change], id: &str, place: &str, says: &[&str]) -> Verdict {
    let answer = small(changes);
    let verdict = verdict(&answer, id);
    let because = &verdict.because.metric;
    assert_eq!(verdict.grade, Grade::Unmeasured, "{because}");
    let settles = verdict.settles.as_ref().expect("what settles it");
    assert_eq!(settles.place, place, "{because}");
    assert!(!settles.how.is_empty());
    for said in says {
        assert!(because.contains(said), "{said} not in: {because}");
    }
    verdict.clone()
}

/// Checks the grade on the stretch over the spigot.
#[track_caller]
fn stretched(changes: &[Change], grade: Grade, says: &str) {
    let answer = small(changes);
    let verdict = verdict(&answer, "fit.dry.from.stretch");
    assert_eq!(verdict.grade, grade, "{}", verdict.because.metric);
    assert!(
        verdict.because.metric.contains(says),
        "{}",
        verdict.because.metric
    );
}

#[test]
fn a_hidden_spigot_is_told_as_an_interval_and_waits() {
    let hidden = "{ hidden = { over_hose = \"47.6 ± 0.3\", free_hose = \"47.4 ± 0.3\", print = \"38 mm EPDM\" }, metal = \"steel\", h = 330 }";
    let verdict = waits(
        &[("engine.spigots.out", hidden)],
        "fit.dry.from.spigot",
        "engine.spigots.out.od",
        &["hidden under its old hose", "lies somewhere in"],
    );
    // Free 47.4 and 47.6 mm on the spigot: it is a little larger than a bore of 37.7 to 39.3 mm.
    assert!(verdict.because.metric.contains(" mm"));
    let answer = small(&[("engine.spigots.out", hidden)]);
    let row = answer
        .joints
        .iter()
        .find(|row| row.joint == "dry.from")
        .expect("the row");
    assert!(row.spigot.is_none() && row.clip.is_none() && row.chance.is_none());
}

#[test]
fn two_readings_that_differ_are_put_to_the_owner() {
    waits(
        &[("engine.spigots.out.od", "[\"38.1\", \"38.6\"]")],
        "fit.dry.from.spigot",
        "engine.spigots.out.od",
        &["two readings differ", "38.1", "38.6"],
    );
}

#[test]
fn what_nobody_knows_and_what_nobody_looked_at_both_wait() {
    let place = "engine.spigots.out.od";
    waits(&[(place, "\"?\"")], "fit.dry.from.spigot", place, &["“?”"]);
    waits(
        &[(place, "")],
        "fit.dry.from.spigot",
        place,
        &["not measured yet"],
    );
}

#[test]
fn guesses_that_decide_make_it_unmeasured() {
    // Without a measured hose the bore is what the table says of hoses of its kind.
    let verdict = waits(
        &[("stock.hose", "[]")],
        "fit.dry.from.stretch",
        "stock.hose",
        &[],
    );
    let chance = verdict.chance.expect("a chance");
    assert!((0.02..=0.98).contains(&chance), "{chance}");
    // Where no bore of that print could hold, it is no longer a matter of guessing.
    let far = [
        ("stock.hose", "[]"),
        ("engine.spigots.out.od", "45"),
        ("engine.spigots.out.bead", "47"),
    ];
    stretched(&far, Grade::Unsound, "at most");
}

#[test]
fn nothing_is_assumed_but_what_may_be() {
    let none = ("job.assume", "[]");
    waits(
        &[none, ("stock.hose", "[]")],
        "fit.dry.from.clip",
        "stock.hose",
        &["no wall may be assumed"],
    );
    let wall = ("job.assume", "[\"hose wall\"]");
    let answer = small(&[wall, ("stock.hose", "[]")]);
    let clip = verdict(&answer, "fit.dry.from.clip");
    assert_ne!(clip.grade, Grade::Unmeasured);
    let assumed = clip
        .working
        .inputs
        .iter()
        .any(|input| input.from == "assumed");
    assert!(assumed, "{:#?}", clip.working.inputs);
    waits(
        &[none, ("engine.spigots.out.bead_width", "")],
        "fit.dry.from.insertion",
        "engine.spigots.out.bead_width",
        &["Width of the bead"],
    );
    let width = ("job.assume", "[\"bead width\"]");
    let answer = small(&[width, ("engine.spigots.out.bead_width", "")]);
    assert_eq!(
        verdict(&answer, "fit.dry.from.insertion").grade,
        Grade::Sound
    );
    waits(
        &[none, ("joints.\"dry.from\".clip", "\"worm 35-61\"")],
        "fit.dry.from.clips",
        "joints.\"dry.from\".clip",
        &["Width of the clip's band"],
    );
}

#[test]
fn a_hose_is_good_tight_or_refused_by_its_build() {
    let spigot = |od: &'static str, bead: &'static str| {
        [
            ("engine.spigots.out.od", od),
            ("engine.spigots.out.bead", bead),
        ]
    };
    stretched(&spigot("38.9", "40"), Grade::Sound, "2.9");
    stretched(&spigot("40.8", "42"), Grade::Marginal, "over 5 % is tight");
    stretched(&spigot("42.5", "43"), Grade::Unsound, "takes 10 % at most");
    stretched(
        &spigot("37.0", "38"),
        Grade::Unsound,
        "larger than its spigot",
    );
    // A hose with a wire in it gives far less.
    let wired = [
        ("runs.dry.way", "\"hose 38 wired\""),
        ("stock.hose", "[\"2 m x 38 wired, id 37.8 od 50.1\"]"),
        ("engine.spigots.out.od", "39.3"),
    ];
    stretched(&wired, Grade::Unsound, "4.0");
}

#[test]
fn a_trial_fit_lets_a_tighter_hose_pass() {
    let tight = [
        ("engine.spigots.out.od", "42.2"),
        ("engine.spigots.out.bead", "43"),
    ];
    stretched(&tight, Grade::Unsound, "11.6");
    let mut tried = tight.to_vec();
    tried.push(("joints.\"dry.from\".trial_fit", "true"));
    stretched(&tried, Grade::Marginal, "11.6");
}

#[test]
fn a_hose_left_open_is_taken_from_the_shelf_first() {
    let open = ("runs.dry.way", "\"hose choose epdm\"");
    let answer = small(&[open]);
    let row = answer
        .joints
        .iter()
        .find(|row| row.joint == "dry.from")
        .expect("the row");
    assert_eq!(row.hose, "hose 38 epdm");
    assert_eq!(verdict(&answer, "fit.dry.from.stretch").grade, Grade::Sound);
    // On a spigot of another size it is not the shelf that decides.
    let other = [
        open,
        ("engine.spigots.out.od", "25.4"),
        ("engine.spigots.out.bead", "26.5"),
        ("things.cooler.spigots.a.od", "25.4"),
        ("things.cooler.spigots.a.bead", "26.5"),
    ];
    let answer = small(&other);
    let row = answer
        .joints
        .iter()
        .find(|row| row.joint == "dry.from")
        .expect("the row");
    assert!(row.hose.starts_with("hose 25"), "{}", row.hose);
    // Nobody measured that one, so it is chosen and asked for, not called good.
    let stretch = verdict(&answer, "fit.dry.from.stretch");
    assert_eq!(stretch.grade, Grade::Unmeasured);
    assert_eq!(stretch.settles.as_ref().expect("what").place, "stock.hose");
}

#[test]
fn without_a_shelf_the_likeliest_hose_is_chosen_and_waits() {
    // By the table alone no bore is sure enough where a failure scalds; it is not refused for that.
    let answer = small(&[
        ("runs.dry.way", "\"hose choose epdm\""),
        ("stock.hose", "[]"),
    ]);
    for joint in ["dry.from", "dry.to"] {
        let row = answer.joints.iter().find(|row| row.joint == joint);
        assert_eq!(row.expect("the row").hose, "hose 38 epdm");
        let stretch = verdict(&answer, &format!("fit.{joint}.stretch"));
        assert_eq!(stretch.grade, Grade::Unmeasured);
    }
}

#[test]
fn where_no_one_hose_fits_both_ends_a_reducer_is_offered() {
    let changes = [
        ("things.cooler.spigots.a.od", "32.0"),
        ("things.cooler.spigots.a.bead", "33.5"),
    ];
    let answer = small(&changes);
    let stretch = verdict(&answer, "fit.dry.to.stretch");
    assert_eq!(stretch.grade, Grade::Unsound);
    let edit = stretch.edits.first().expect("an edit");
    assert_eq!(edit.place, "runs.dry.way");
    assert!(edit.to.contains("reducer"), "{}", edit.to);
    let mended = crate::boats::read(&edited(
        &edited(SMALL, &changes),
        &[(&edit.place, &edit.to)],
    ));
    assert_eq!(
        mended
            .run("dry")
            .expect("the run")
            .way
            .given()
            .map(Vec::len),
        Some(3)
    );
}

#[test]
fn sizes_that_can_not_be_are_not_reckoned_with() {
    for changes in [
        [
            ("engine.spigots.out.od", "38.1"),
            ("engine.spigots.out.bead", "30"),
        ],
        [
            ("engine.spigots.out.od", "0.01"),
            ("engine.spigots.out.bead", "39.4"),
        ],
        [
            ("engine.spigots.out.od", "38.1"),
            ("stock.hose", "[\"5 m x 38 epdm, id 47.8 od 37.4\"]"),
        ],
    ] {
        let answer = small(&changes);
        let sizes = verdict(&answer, "fit.dry.from.sizes");
        assert_eq!(sizes.grade, Grade::Unmeasured);
        assert!(sizes.settles.is_some());
    }
}
