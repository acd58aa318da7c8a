//! What becomes of a boat once remedies are carried out.

use std::collections::BTreeSet;

use reckon::{Answer, Ask, Done, Grade, Input, Memo, Set, Stage, Verdict, edited, mended, reckon};

use crate::boats::{DEMO, SMALL, read, verdict};

/// Arrangements of a boat; `None` for the one that the job is about.
fn arrangements(boat: &boat::Boat) -> Vec<Option<&str>> {
    let steps = boat.arrangements.iter().map(|step| Some(step.key.as_str()));
    steps.chain([None]).collect()
}

fn judged(boat: &boat::Boat, arrangement: Option<&str>, memo: &mut Memo) -> Answer {
    let input = Input {
        boat,
        arrangement,
        seed: 1,
        set: Set::All,
        flow: None,
        bay: None,
    };
    reckon(&input, memo)
}

fn unsound(answer: &Answer) -> BTreeSet<String> {
    let of_fit =
        |verdict: &&Verdict| verdict.stage == Stage::Fit && verdict.grade == Grade::Unsound;
    let unsound = answer.verdicts.iter().filter(of_fit);
    unsound.map(|verdict| verdict.id.clone()).collect()
}

#[test]
fn every_remedy_that_stays_helps_and_breaks_nothing() {
    let mut done = 0;
    for (name, text) in DEMO {
        let boat = read(text);
        let memo = &mut Memo::default();
        for arrangement in arrangements(&boat) {
            let ask = Ask {
                arrangement,
                seed: 1,
            };
            let mended = mended(text, &boat, ask, memo);
            // The edits again, one by one.
            let mut now = text.to_owned();
            let mut before = unsound(&judged(&boat, arrangement, memo));
            for Done { id, edit, because } in &mended.done {
                assert!(
                    before.contains(id),
                    "{name}, {arrangement:?}: {id} was not unsound"
                );
                assert!(!because.metric.is_empty());
                let (text, boat) = edited(&now, &edit.place, &edit.to).expect("it applied before");
                let after = unsound(&judged(&boat, arrangement, memo));
                assert!(
                    !after.contains(id),
                    "{name}, {arrangement:?}: {id} is still unsound"
                );
                let new: Vec<&String> = after.difference(&before).collect();
                assert!(
                    new.is_empty(),
                    "{name}, {arrangement:?}: {id} breaks {new:?}"
                );
                (now, before) = (text, after);
                done += 1;
            }
            assert_eq!(now, mended.text, "{name}, {arrangement:?}");
            assert_eq!(read(&mended.text), mended.boat);
            assert_eq!(judged(&mended.boat, arrangement, memo), mended.answer);
            assert_eq!(unsound(&mended.answer), before);
        }
    }
    assert!(done >= 6, "{done}");
}

#[test]
fn mending_twice_gives_the_same_text() {
    for (name, text) in DEMO {
        let boat = read(text);
        let ask = Ask {
            arrangement: None,
            seed: 1,
        };
        let once = mended(text, &boat, ask, &mut Memo::default());
        let again = mended(text, &boat, ask, &mut Memo::default());
        assert_eq!(
            (&once.text, &once.done),
            (&again.text, &again.done),
            "{name}"
        );
        // What is mended stays so: there is nothing left that an edit could do.
        let further = mended(&once.text, &once.boat, ask, &mut Memo::default());
        assert_eq!(further.text, once.text, "{name}");
        assert_eq!(further.done, [], "{name}");
    }
}

#[test]
fn a_sound_boat_is_left_as_she_is() {
    let boat = read(SMALL);
    let ask = Ask {
        arrangement: None,
        seed: 1,
    };
    let mended = mended(SMALL, &boat, ask, &mut Memo::default());
    assert_eq!((mended.text.as_str(), mended.done), (SMALL, vec![]));
}

#[test]
fn a_clip_too_small_is_mended_and_the_comments_stay() {
    let text = boat::set_value(SMALL, "joints.\"dry.from\".clip", "\"worm 25-40 316\"")
        .expect("an edit")
        .replace("[joints]", "[joints] # as bought");
    let boat = read(&text);
    let ask = Ask {
        arrangement: None,
        seed: 1,
    };
    let mended = mended(&text, &boat, ask, &mut Memo::default());
    let ids: Vec<&str> = mended.done.iter().map(|done| done.id.as_str()).collect();
    assert_eq!(ids, ["fit.dry.from.clip"]);
    let clip = verdict(&mended.answer, "fit.dry.from.clip");
    assert_eq!(clip.grade, Grade::Sound);
    assert!(mended.text.contains("[joints] # as bought"));
}

#[test]
fn no_edit_makes_its_own_verdict_worse() {
    let mut wrong = Vec::new();
    let mut count = 0;
    for (name, text) in DEMO {
        let boat = read(text);
        let memo = &mut Memo::default();
        for arrangement in arrangements(&boat) {
            let before = judged(&boat, arrangement, memo);
            for verdict in &before.verdicts {
                for edit in &verdict.edits {
                    count += 1;
                    let what = format!(
                        "{name}, {arrangement:?}: {} by {} = {}",
                        verdict.id, edit.place, edit.to
                    );
                    let Some((_, boat)) = edited(text, &edit.place, &edit.to) else {
                        wrong.push(format!("{what}: does not apply"));
                        continue;
                    };
                    let after = judged(&boat, arrangement, memo);
                    let same = after.verdicts.iter().find(|other| other.id == verdict.id);
                    if let Some(after) = same
                        && after.grade > verdict.grade
                    {
                        wrong.push(format!(
                            "{what}: {:?} of {:?}: {}",
                            after.grade, verdict.grade, after.because.metric
                        ));
                    }
                }
            }
        }
    }
    assert!(wrong.is_empty(), "of {count} edits:\n{}", wrong.join("\n"));
    assert!(count >= 30, "{count}");
}
