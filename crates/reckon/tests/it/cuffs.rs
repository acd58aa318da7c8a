//! Moulded pieces and hose ends: which cuff is judged on which spigot, and what was measured of it.

use reckon::{Answer, Grade, JointRow};

use crate::boats::{Change, small, verdict};

const THIN: [Change; 2] = [
    ("things.cooler.spigots.a.od", "32.1"),
    ("things.cooler.spigots.a.bead", "33.6"),
];

fn with<'a>(changes: &[Change<'a>]) -> Vec<Change<'a>> {
    let mut all = THIN.to_vec();
    all.extend(changes);
    all
}

#[track_caller]
fn row<'a>(answer: &'a Answer, joint: &str) -> &'a JointRow {
    let row = answer.joints.iter().find(|row| row.joint == joint);
    row.unwrap_or_else(|| panic!("no row {joint}"))
}

fn bore(answer: &Answer, joint: &str) -> f64 {
    let bore = row(answer, joint).bore.as_ref().expect("a bore");
    bore.si * 1000.0
}

fn over(answer: &Answer, joint: &str) -> Option<f64> {
    row(answer, joint)
        .over
        .as_ref()
        .map(|over| over.si * 1000.0)
}

fn near(one: f64, other: f64) -> bool {
    (one - other).abs() < 0.05
}

#[test]
fn a_moulded_reducer_has_its_own_cuff_at_each_end() {
    let right = small(&with(&[("runs.dry.way", "\"reducer 38>32 moulded epdm\"")]));
    let (from, to) = (bore(&right, "dry.from"), bore(&right, "dry.to"));
    assert!((37.0..40.0).contains(&from), "{from}");
    assert!((31.0..33.5).contains(&to), "{to}");
    for joint in ["dry.from", "dry.to"] {
        let stretch = verdict(&right, &format!("fit.{joint}.stretch"));
        assert_eq!(stretch.grade, Grade::Unmeasured, "{:?}", stretch.because);
    }
    let turned = small(&with(&[("runs.dry.way", "\"reducer 32>38 moulded epdm\"")]));
    let tight = verdict(&turned, "fit.dry.from.stretch");
    assert_eq!(tight.grade, Grade::Unsound);
    assert!(tight.because.metric.contains("at most"));
    let loose = verdict(&turned, "fit.dry.to.stretch");
    assert_eq!(loose.grade, Grade::Unsound);
    assert!(loose.because.metric.contains("larger than its spigot"));
}

#[test]
fn a_moulded_reducer_is_sound_once_its_cuffs_are_measured() {
    let answer = small(&with(&[
        ("runs.dry.way", "\"reducer 38>32 moulded epdm\""),
        ("joints.\"dry.from\".hose_bore", "37.8"),
        ("joints.\"dry.to\".hose_bore", "31.8"),
    ]));
    assert!(near(bore(&answer, "dry.from"), 37.8));
    assert!(near(bore(&answer, "dry.to"), 31.8));
    for joint in ["dry.from", "dry.to"] {
        let stretch = verdict(&answer, &format!("fit.{joint}.stretch"));
        assert_eq!(stretch.grade, Grade::Sound, "{:?}", stretch.because);
    }
}

const ELBOW: Change = ("runs.dry.way", "\"elbow 90 38 moulded epdm\"");

#[test]
fn a_moulded_elbow_is_no_length_of_the_hose_on_the_shelf() {
    let answer = small(&[ELBOW]);
    for joint in ["dry.from", "dry.to"] {
        assert!(!near(bore(&answer, joint), 37.8), "the bore of the shelf");
        assert_eq!(over(&answer, joint), None);
        let stretch = verdict(&answer, &format!("fit.{joint}.stretch"));
        assert_eq!(stretch.grade, Grade::Unmeasured);
        let how = &stretch.settles.as_ref().expect("what settles it").how;
        assert!(how.contains("hose_bore"), "{how}");
    }
    // Nor does it work at the pressure that is printed on that hose.
    let pressure = verdict(&answer, "fit.dry.elbow.pressure");
    assert_eq!(pressure.grade, Grade::Unmeasured);
    assert!(!pressure.because.metric.contains("2.7 bar"));
}

#[test]
fn what_was_measured_of_one_cuff_is_used_there_only() {
    let bare = small(&[ELBOW]);
    let answer = small(&[
        ELBOW,
        ("joints.\"dry.from\".hose_bore", "37.9"),
        ("joints.\"dry.from\".hose_over", "47.5"),
    ]);
    assert!(near(bore(&answer, "dry.from"), 37.9));
    assert_eq!(
        over(&answer, "dry.from").map(|over| near(over, 47.5)),
        Some(true)
    );
    assert!(near(bore(&answer, "dry.to"), bore(&bare, "dry.to")));
    assert_eq!(over(&answer, "dry.to"), None);
    let grade = |joint: &str| verdict(&answer, &format!("fit.{joint}.stretch")).grade;
    assert_eq!(
        (grade("dry.from"), grade("dry.to")),
        (Grade::Sound, Grade::Unmeasured)
    );
    // The same for the end of a straight hose, which the shelf knows in general.
    let worn = small(&[
        ("joints.\"dry.from\".hose_bore", "40.2"),
        ("joints.\"dry.from\".hose_over", "49.5"),
    ]);
    assert_eq!(verdict(&worn, "fit.dry.from.stretch").grade, Grade::Unsound);
    assert_eq!(verdict(&worn, "fit.dry.to.stretch").grade, Grade::Sound);
    assert!(near(bore(&worn, "dry.to"), 37.8));
    // One that nobody can know is not made up for by the shelf.
    let unknown = small(&[("joints.\"dry.from\".hose_bore", "\"?\"")]);
    let waits = verdict(&unknown, "fit.dry.from.stretch");
    assert_eq!(waits.grade, Grade::Unmeasured);
    let settles = waits.settles.as_ref().expect("what settles it");
    assert_eq!(settles.place, "joints.\"dry.from\".hose_bore");
}
