//! What something written moved, in the few words that are read out after it.

use std::collections::BTreeMap;

use super::desk::Came;
use crate::api::{Grade, PageMark, PageVerdict};

/// What moved from the verdicts of the change before to those of this one: the chosen mark first, else the first that
/// moved; empty where nothing did.
pub(crate) fn told(
    came: Came,
    old: &[PageVerdict],
    new: &[PageVerdict],
    marks: &[PageMark],
    chosen: Option<&str>,
) -> String {
    let before = worst(old);
    let moved: Vec<&PageMark> = marks
        .iter()
        .filter(|mark| {
            let was = before.get(mark.key.as_str());
            was.is_some_and(|was| Some(*was) != mark.grade)
        })
        .collect();
    let one = moved
        .iter()
        .find(|mark| Some(mark.mark.as_str()) == chosen)
        .or(moved.first());
    let first = one.map(|mark| {
        let grade = mark.grade.map_or("not judged", Grade::word);
        match came {
            Came::New => format!("{} is now {grade}.", mark.mark),
            Came::Back => format!("Taken back: {} is {grade} as before.", mark.mark),
            Came::Forth => format!("Put back: {} is {grade} again.", mark.mark),
        }
    });
    let more = match (moved.len(), came) {
        (0 | 1, _) => None,
        (count, Came::New | Came::Forth) => Some(format!("{} more changed.", count - 1)),
        (2, Came::Back) => Some("1 more is as before.".to_owned()),
        (count, Came::Back) => Some(format!("{} more are as before.", count - 1)),
    };
    let unsound = |all: &[PageVerdict]| {
        let grades = all.iter().map(|own| own.verdict.grade);
        grades.filter(|grade| *grade == Grade::Unsound).count()
    };
    let left = match (unsound(old), unsound(new)) {
        (was, now) if was == now => None,
        (_, 0) => Some("No unsound left.".to_owned()),
        (was, now) if came == Came::Back && now > was => Some(format!("{now} unsound as before.")),
        (_, now) => Some(format!("{now} unsound left.")),
    };
    let parts: Vec<String> = [first, more, left].into_iter().flatten().collect();
    parts.join(" ")
}

/// The worst grade of each key that something is judged of.
fn worst(verdicts: &[PageVerdict]) -> BTreeMap<&str, Grade> {
    let mut worst: BTreeMap<&str, Grade> = BTreeMap::new();
    for own in verdicts {
        if let Some(key) = own.key.as_deref() {
            let slot = worst.entry(key).or_insert(own.verdict.grade);
            *slot = (*slot).max(own.verdict.grade);
        }
    }
    worst
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::load::Loaded;
    use crate::serve::page::sent_verdict;
    use crate::serve::subjects::Subjects;
    use reckon::{Answer, Input, Memo, Set, reckon};

    const TEXT: &str = include_str!("../../../../boats/dunlin/boat.toml");
    const B1: &str = "joints.\"cold.from\".clips";

    /// Verdicts and marks of a text.
    fn of(text: &str) -> (Vec<PageVerdict>, Vec<PageMark>) {
        let loaded = Loaded::from_held(crate::files::Held {
            path: "boat.toml".into(),
            hash: crate::files::Hash::of(text.as_bytes()),
            text: text.to_owned(),
        });
        let input = Input {
            boat: &loaded.boat,
            arrangement: Some("after"),
            seed: 1,
            set: Set::Prompt,
            flow: None,
            bay: None,
        };
        let answer: Answer = reckon(&input, &mut Memo::default());
        let subjects = Subjects::of(&loaded.boat, Some("after"), &answer);
        let sent = answer.verdicts.iter();
        let sent = sent.map(|own| sent_verdict(own, &loaded.chart, &subjects, 1));
        (sent.collect(), subjects.list(&answer, None))
    }

    #[test]
    fn what_is_taken_back_reads_as_no_fresh_damage() {
        let mended = boat::set_value(TEXT, B1, "1").unwrap();
        let (before, marks_before) = of(TEXT);
        let (after, marks_after) = of(&mended);
        let new = told(Came::New, &before, &after, &marks_after, Some("B1"));
        assert!(new.starts_with("B1 is now sound."), "{new}");
        assert!(new.ends_with("unsound left."), "{new}");
        let back = told(Came::Back, &after, &before, &marks_before, Some("B1"));
        assert!(
            back.starts_with("Taken back: B1 is unsound as before."),
            "{back}"
        );
        assert!(!back.contains("now") && !back.contains("left"), "{back}");
        let forth = told(Came::Forth, &before, &after, &marks_after, None);
        assert!(forth.starts_with("Put back: "), "{forth}");
        assert_eq!(told(Came::New, &after, &after, &marks_after, None), "");
    }
}
