//! Hose of the shelf: when it is the one that is written, and when it is not.

use reckon::Grade;

use crate::boats::{Change, small, verdict};

/// Checks whether the hose of the shelf with this bore is taken for the dry run.
#[track_caller]
fn taken(changes: &[Change], bore: Option<f64>) {
    let answer = small(changes);
    let row = answer.joints.iter().find(|row| row.joint == "dry.from");
    let found = row.expect("the row").bore.as_ref().expect("a bore").si * 1000.0;
    let stretch = verdict(&answer, "fit.dry.from.stretch");
    match bore {
        Some(bore) => {
            assert!((found - bore).abs() < 0.05, "{found}");
            assert_ne!(stretch.grade, Grade::Unmeasured);
        }
        // By the table alone nobody knows.
        None => assert_eq!(stretch.grade, Grade::Unmeasured, "{found}"),
    }
}

#[test]
fn a_remnant_shorter_than_the_run_is_not_taken() {
    let long = |length: &str| format!("[\"{length} x 38 epdm, id 37.8 od 47.4\"]");
    taken(&[("stock.hose", &long("0.4 m"))], None);
    taken(&[("stock.hose", &long("0.5 m"))], Some(37.8));
    // Of two hoses in one run each has its own length, where it is typed.
    let way = (
        "runs.dry.way",
        "\"hose 38 epdm 300 mm long + joiner 38 bronze + hose 38 epdm 200 mm long\"",
    );
    taken(&[way, ("stock.hose", &long("0.4 m"))], Some(37.8));
    taken(&[way, ("stock.hose", &long("0.2 m"))], None);
}

#[test]
fn of_two_entries_of_a_size_the_one_that_suits_is_taken() {
    let (wide, good) = (
        "\"5 m x 38 epdm, id 40.5 od 50.1\"",
        "\"5 m x 38 epdm, id 37.8 od 47.4\"",
    );
    for stock in [format!("[{wide}, {good}]"), format!("[{good}, {wide}]")] {
        let stock = ("stock.hose", stock.as_str());
        taken(&[stock], Some(37.8));
        let thick = [
            stock,
            ("engine.spigots.out.od", "41"),
            ("engine.spigots.out.bead", "42.5"),
            ("things.cooler.spigots.a.od", "41"),
            ("things.cooler.spigots.a.bead", "42.5"),
        ];
        taken(&thick, Some(40.5));
    }
    // What suits but is too short is no choice.
    let short = "[\"5 m x 38 epdm, id 37.2 od 46.8\", \"0.3 m x 38 epdm, id 37.8 od 47.4\"]";
    taken(&[("stock.hose", short)], Some(37.2));
}

#[test]
fn an_entry_without_a_build_is_not_taken_for_one_with_a_build() {
    let bare = ("stock.hose", "[\"5 m x 38, id 37.8 od 47.4\"]");
    taken(&[bare], None);
    // For a hose whose build is not written either it stands; the build is what waits then.
    let answer = small(&[bare, ("runs.dry.way", "\"hose 38\"")]);
    let row = answer.joints.iter().find(|row| row.joint == "dry.from");
    let bore = row.expect("the row").bore.as_ref().expect("a bore");
    assert!((bore.si - 0.0378).abs() < 5e-5, "{bore:?}");
    let other = ("stock.hose", "[\"5 m x 38 silicone, id 37.8 od 47.4\"]");
    taken(&[other], None);
}

#[test]
fn millimetres_on_the_shelf_serve_a_way_in_inches() {
    taken(&[("runs.dry.way", "\"hose 1 1/2 in epdm\"")], Some(37.8));
    let inches = ("stock.hose", "[\"5 m x 1 1/2 in epdm, id 37.8 od 47.4\"]");
    taken(&[inches], Some(37.8));
    // The next size by name is another hose.
    taken(
        &[("stock.hose", "[\"5 m x 40 epdm, id 37.8 od 47.4\"]")],
        None,
    );
}

#[test]
fn a_way_left_to_the_tool_takes_the_best_hose_of_the_shelf() {
    let choose = ("runs.dry.way", "\"choose\"");
    let (epdm, silicone) = (
        "[\"5 m x 38 silicone, id 36.0 od 46.0\", \"5 m x 38 epdm, id 37.8 od 47.4\"]",
        "[\"5 m x 38 silicone, id 37.8 od 47.4\", \"5 m x 38 epdm, id 40.5 od 50.0\"]",
    );
    for (stock, hose) in [(epdm, "hose 38 epdm"), (silicone, "hose 38 silicone")] {
        let answer = small(&[choose, ("stock.hose", stock)]);
        for joint in ["dry.from", "dry.to"] {
            let row = answer.joints.iter().find(|row| row.joint == joint);
            assert_eq!(row.expect("the row").hose, hose);
            let stretch = verdict(&answer, &format!("fit.{joint}.stretch"));
            assert_eq!(stretch.grade, Grade::Sound);
        }
    }
    // Where nothing on the shelf goes on, nothing is made up, and the build is asked for.
    let none = "[\"5 m x 25 epdm, id 25.0 od 34.0\"]";
    let answer = small(&[choose, ("stock.hose", none)]);
    let hose = verdict(&answer, "fit.dry.from.hose");
    assert_eq!(hose.grade, Grade::Unmeasured);
    assert_eq!(
        hose.settles.as_ref().expect("what settles it").place,
        "runs.dry.way"
    );
}
