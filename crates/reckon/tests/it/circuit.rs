//! What goes on what: joints in order of flow, marks, and what is missing between two pieces.

use std::collections::{BTreeMap, BTreeSet};

use reckon::{Grade, Input, Memo, reckon};

use crate::boats::{Change, DUNLIN, SMALL, answer, edited, read, small, verdict};
use reckon::Set;

#[test]
fn two_open_ends_need_a_joiner_that_brings_two_joints() {
    let changes = [("runs.dry.way", "\"hose 38 epdm + hose 38 epdm\"")];
    let answer = small(&changes);
    let ends = verdict(&answer, "fit.dry.hose-hose2.ends");
    assert_eq!(ends.grade, Grade::Unsound);
    assert!(ends.because.metric.contains("joiner"));
    // The edit puts it in, and it brings two joints.
    let edit = ends.edits.first().expect("an edit").clone();
    let before = answer.joints.len();
    let mended = small(&[changes[0], (&edit.place, &edit.to)]);
    assert_eq!(mended.joints.len(), before + 2);
    assert!(
        mended
            .verdicts
            .iter()
            .all(|verdict| !verdict.id.ends_with(".ends"))
    );
}

#[test]
fn two_stubs_need_a_hose() {
    let answer = small(&[(
        "runs.dry.way",
        "\"hose 38 epdm + joiner 38 bronze + reducer 38>32 bronze + hose 32 epdm\"",
    )]);
    let ends = verdict(&answer, "fit.dry.joiner-reducer.ends");
    assert_eq!(ends.grade, Grade::Unsound);
    assert!(ends.because.metric.contains("both stubs"));
    assert!(ends.edits[0].to.contains("joiner 38 bronze + hose"));
}

#[test]
fn joints_come_in_order_of_flow_and_bear_marks() {
    let answer = small(&[(
        "runs.dry.way",
        "\"hose 38 epdm + valve 38 full bronze + hose 38 epdm\"",
    )]);
    let rows: Vec<(&str, &str)> = answer
        .joints
        .iter()
        .map(|row| (row.joint.as_str(), row.mark.as_str()))
        .collect();
    assert_eq!(
        rows,
        [
            ("dry.from", "A1"),
            ("dry.valve.a", "A2"),
            ("dry.valve.b", "A3"),
            ("dry.to", "A4"),
            ("wet.from", "B1"),
            ("wet.to", "B2"),
        ]
    );
}

#[test]
fn a_mark_of_the_file_stands() {
    let boat = read(&edited(SMALL, &[("runs.wet.mark", "\"A\"")]));
    let marks = reckon::marks(&boat);
    let marks: Vec<(&str, &str)> = marks
        .iter()
        .map(|(run, mark)| (run.as_str(), mark.as_str()))
        .collect();
    assert_eq!(marks, [("dry", "B"), ("wet", "A")]);
}

#[test]
fn a_new_joint_moves_no_other_chance() {
    let one: Change = (
        "runs.spare",
        "{ from = \"gearbox.b\", to = \"calorifier.a\", length = 400, way = \"hose 32 epdm\" }",
    );
    let before = answer(&read(DUNLIN), Set::All);
    let after = answer(&read(&edited(DUNLIN, &[one])), Set::All);
    assert!(after.joints.len() > before.joints.len());
    for row in &before.joints {
        let same = after
            .joints
            .iter()
            .find(|other| other.joint == row.joint)
            .expect("the row");
        assert_eq!(
            (&row.chance, &row.neighbours, &row.clip),
            (&same.chance, &same.neighbours, &same.clip)
        );
    }
    for verdict in &before.verdicts {
        let same = after
            .verdicts
            .iter()
            .find(|other| other.id == verdict.id)
            .expect("the verdict");
        assert_eq!(verdict.chance, same.chance, "{}", verdict.id);
    }
}

#[test]
fn a_run_has_the_same_letter_in_every_arrangement() {
    for (name, text) in crate::boats::DEMO {
        let boat = read(text);
        let mut letters: BTreeMap<String, String> = BTreeMap::new();
        let steps = boat.arrangements.iter().map(|step| Some(step.key.as_str()));
        let mut runs_seen = 0;
        for arrangement in steps.chain([None]) {
            let input = Input {
                boat: &boat,
                arrangement,
                seed: 1,
                set: Set::Prompt,
                flow: None,
                bay: None,
            };
            for row in reckon(&input, &mut Memo::default()).joints {
                let mark = row.mark.trim_end_matches(|c: char| c.is_ascii_digit());
                assert!(!mark.is_empty(), "{name}: {} in {arrangement:?}", row.joint);
                let before = letters.insert(row.run.clone(), mark.to_owned());
                if let Some(before) = before {
                    assert_eq!(before, mark, "{name}: {} in {arrangement:?}", row.run);
                } else {
                    runs_seen += 1;
                }
            }
        }
        // Runs that an arrangement adds have letters of their own.
        let added: Vec<&String> = boat
            .arrangements
            .iter()
            .flat_map(|step| step.add_runs.iter().map(|run| &run.key))
            .collect();
        assert!(!added.is_empty(), "{name}");
        assert!(added.iter().all(|run| letters.contains_key(*run)), "{name}");
        let different: BTreeSet<&String> = letters.values().collect();
        assert_eq!(different.len(), runs_seen, "{name}: {letters:?}");
    }
}
