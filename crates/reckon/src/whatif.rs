//! The answer for the file with some edits: what becomes of a boat once remedies are carried out.

use boat::Boat;

use crate::verdict::{Edit, Grade, Stage, Verdict};
use crate::wire::{Answer, Input, Memo, Set, reckon};

/// A remedy that was carried out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Done {
    /// The verdict that asked for it.
    pub id: String,
    /// Why, in one sentence.
    pub because: crate::verdict::Words,
    /// The edit.
    pub edit: Edit,
}

/// A boat file after its remedies.
#[derive(Clone, Debug)]
pub struct Mended {
    /// The file's text.
    pub text: String,
    /// The boat that it tells of.
    pub boat: Boat,
    /// What was done, in order.
    pub done: Vec<Done>,
    /// What is judged of her now.
    pub answer: Answer,
}

/// How to judge while edits are tried.
#[derive(Clone, Copy, Debug)]
pub struct Ask<'a> {
    /// Which arrangement; see [`Input`].
    pub arrangement: Option<&'a str>,
    /// Seed of all sampling.
    pub seed: u64,
}

/// The boat of a text with one value changed; `None` where the edit can't be made, or leaves a file
/// that can't be judged.
pub fn edited(text: &str, place: &str, toml: &str) -> Option<(String, Boat)> {
    let text = boat::set_value(text, place, toml).ok()?;
    let (boat, _, remarks) = boat::read(&text);
    let stops = remarks
        .iter()
        .any(|remark| remark.severity == boat::Severity::Stop);
    (!stops).then_some((text, boat))
}

/// All that is judged of a boat.
pub(crate) fn judged(boat: &Boat, ask: Ask, memo: &mut Memo) -> Answer {
    let input = Input {
        boat,
        arrangement: ask.arrangement,
        seed: ask.seed,
        set: Set::All,
        flow: None,
        bay: None,
    };
    reckon(&input, memo)
}

/// Carries out, one after the other, the remedies of unsound fits that an edit can do. An edit stays
/// only if its verdict is neither unsound nor unmeasured after it and nothing else has become unsound.
pub fn mended(text: &str, boat: &Boat, ask: Ask, memo: &mut Memo) -> Mended {
    let mut now = Mended {
        text: text.to_owned(),
        boat: boat.clone(),
        done: Vec::new(),
        answer: judged(boat, ask, memo),
    };
    let mut given_up: Vec<String> = Vec::new();
    loop {
        let next = unsound(&now.answer)
            .find(|verdict| !verdict.edits.is_empty() && !given_up.contains(&verdict.id))
            .cloned();
        let Some(verdict) = next else { return now };
        // Once is enough: a remedy that did not last is not carried out again.
        given_up.push(verdict.id.clone());
        let before: Vec<String> = unsound(&now.answer)
            .map(|verdict| verdict.id.clone())
            .collect();
        for edit in &verdict.edits {
            let Some((text, boat)) = edited(&now.text, &edit.place, &edit.to) else {
                continue;
            };
            let answer = judged(&boat, ask, memo);
            // Whatever is unsound after it was so before, and the verdict itself is settled, not only
            // put off until something is measured.
            let settled = answer
                .verdicts
                .iter()
                .all(|other| other.id != verdict.id || other.grade != Grade::Unmeasured);
            let helps = settled
                && unsound(&answer)
                    .all(|other| other.id != verdict.id && before.contains(&other.id));
            if helps {
                let mut done = now.done;
                done.push(Done {
                    id: verdict.id.clone(),
                    because: verdict.because.clone(),
                    edit: edit.clone(),
                });
                now = Mended {
                    text,
                    boat,
                    done,
                    answer,
                };
                break;
            }
        }
    }
}

fn unsound(answer: &Answer) -> impl Iterator<Item = &Verdict> {
    answer
        .verdicts
        .iter()
        .filter(|verdict| verdict.stage == Stage::Fit && verdict.grade == Grade::Unsound)
}
