//! Sizes of one spigot that can't all be right, and what takes the place of another.

use quantity::Length;
use reckon::{Basis, Grade, odd_beside, odd_instead};

use crate::boats::{DEMO, DUNLIN, SMALL, answer, edited, read, small, verdict};

const OD: &str = "engine.spigots.out.od";

#[test]
fn what_lies_under_a_hose_is_smaller_than_it() {
    let place = "engine.spigots.in.od";
    let boat = read(&edited(DUNLIN, &[(place, "\"1420 mm\"")]));
    let told = odd_beside(&boat, place).unwrap();
    // 1420 / 49.4 = 28.7; in inches 55.9 and 1.94.
    assert_eq!(
        told.metric,
        "1420 mm is 29 times what the hose over it measured (49.4 mm)"
    );
    assert!(told.imperial.contains("29 times"), "{}", told.imperial);
    let found = answer(&boat, reckon::Set::Prompt);
    let said = verdict(&found, "survey.engine.in.beside");
    assert_eq!((said.grade, said.basis), (Grade::Unsound, Basis::Physics));
    assert_eq!(said.settles.as_ref().unwrap().place, place);
    let boat = read(&edited(DUNLIN, &[(place, "\"38.1 mm\"")]));
    assert_eq!(odd_beside(&boat, place), None);
}

#[test]
fn a_diameter_many_times_another_is_called_out() {
    // 394 for 39.4: a point that was lost.
    let found = small(&[("engine.spigots.out.bead", "394")]);
    let said = verdict(&found, "survey.engine.out.beside");
    assert_eq!(
        (said.grade, said.basis),
        (Grade::Unmeasured, Basis::Practice)
    );
    assert!(
        said.because.metric.contains("10 times"),
        "{}",
        said.because.metric
    );
    // A stub may be longer than it is wide, but not by ten times.
    let long = |mm: &str| {
        let boat = read(&edited(SMALL, &[("engine.spigots.out.behind_bead", mm)]));
        odd_beside(&boat, "engine.spigots.out.behind_bead").is_some()
    };
    assert!(!long("120") && long("450"));
}

#[test]
fn nothing_of_the_demo_boats_is_odd() {
    for (name, text) in DEMO {
        let found = answer(&read(text), reckon::Set::Prompt);
        let odd = found
            .verdicts
            .iter()
            .find(|own| own.id.ends_with(".beside"));
        assert!(odd.is_none(), "{name}: {odd:?}");
    }
    assert_eq!(odd_beside(&read(SMALL), OD), None);
}

#[test]
fn a_length_many_times_what_stood_there_is_odd() {
    let odd = |new, old| odd_instead(Length::mm(new), Length::mm(old)).map(|words| words.metric);
    assert_eq!(odd(900.0, 850.0), None);
    assert_eq!(odd(900.0, 180.0), None);
    let told = odd(9000.0, 900.0).unwrap();
    assert!(told.contains("10 times what stands there now"), "{told}");
    assert!(odd(7.0, 700.0).unwrap().contains("100 times that"));
    assert_eq!(odd(0.0, 700.0), None);
}
