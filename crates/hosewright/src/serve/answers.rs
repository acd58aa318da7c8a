//! What was reckoned of a sheet: first the verdicts that follow an edit at once, then all with their sampled chances.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, OnceLock, PoisonError};
use std::time::Duration;

use reckon::{Answer, Flow, Input, Memo, Set, Verdict};

use super::App;
use super::desk::Sheet;
use super::refused::Refused;
use crate::api::{NewsWhy, PageVerdict};

/// Seed of all sampling, as other commands have it where none is given.
pub(crate) const SEED: u64 = 1;
/// How long nothing must be edited before sampled chances are reckoned, and how long is waited before that is tried
/// again where it did not come to its end.
const WAITS: [Duration; 3] = [
    Duration::from_millis(600),
    Duration::from_secs(10),
    Duration::from_secs(60),
];
/// The arrangement that the job is about.
const AFTER: &str = "after";

/// The answers about one arrangement of one sheet.
#[derive(Clone, Debug)]
pub(crate) struct Answers {
    /// The number of the sheet.
    pub(crate) number: u64,
    /// The arrangement; `None` for the file as it stands.
    pub(crate) arrangement: Option<String>,
    /// The verdicts that follow an edit at once.
    prompt: Arc<Answer>,
    /// All of them; none while they are still being reckoned.
    all: Option<Arc<Answer>>,
    /// Those to be shown: where the sampled chance of a verdict that did not change is known from before, it stands.
    shown: Arc<Answer>,
    /// Ids of verdicts whose sampled chance is still to come.
    pub(crate) waiting: BTreeSet<String>,
    /// The verdicts as they are sent, once they were.
    sent: OnceLock<Arc<[PageVerdict]>>,
    /// Those of the answer before.
    before: Option<Before>,
}

/// The answer before, as it was sent.
#[derive(Clone, Debug)]
struct Before {
    number: u64,
    settled: bool,
    sent: Arc<[PageVerdict]>,
}

impl Answers {
    /// The verdicts as they are sent.
    pub(crate) fn sent(&self, make: impl FnOnce() -> Vec<PageVerdict>) -> Arc<[PageVerdict]> {
        Arc::clone(self.sent.get_or_init(|| make().into()))
    }

    /// The verdicts of the answer before, where it is the one that is meant by number and by whether it was settled.
    pub(crate) fn before(&self, held: (u64, bool)) -> Option<&[PageVerdict]> {
        let before = self.before.as_ref()?;
        ((before.number, before.settled) == held).then_some(&*before.sent)
    }

    /// The verdicts of the change just before, as they were sent.
    pub(crate) fn old(&self) -> Option<&[PageVerdict]> {
        let before = self.before.as_ref()?;
        (before.number + 1 == self.number).then_some(&*before.sent)
    }

    /// What is shown.
    pub(crate) fn answer(&self) -> &Answer {
        self.all.as_ref().unwrap_or(&self.shown)
    }

    /// The verdicts that follow an edit at once, none of them sampled.
    pub(crate) fn prompt(&self) -> &Answer {
        &self.prompt
    }

    /// Flow and heat, which do not wait for sampled chances.
    pub(crate) fn flow(&self) -> Option<&Flow> {
        self.prompt.flow.as_deref()
    }

    /// Whether nothing is still to come.
    pub(crate) fn settled(&self) -> bool {
        self.all.is_some()
    }
}

/// The arrangement that is meant: the one that is named, else that which the job is about, else the file as it stands.
pub(crate) fn meant(sheet: &Sheet, named: Option<&str>) -> Result<Option<String>, Refused> {
    match named.filter(|name| !name.is_empty()) {
        Some(name) => {
            sheet.loaded.has_arrangement(name)?;
            Ok(Some(name.to_owned()))
        }
        None => {
            let steps = &sheet.loaded.boat.arrangements;
            let usual = steps.iter().find(|step| step.key == AFTER);
            Ok(usual.map(|step| step.key.clone()))
        }
    }
}

impl App {
    /// The answers about an arrangement, reckoned where they are not at hand.
    pub(crate) fn answers(&self, sheet: &Arc<Sheet>, arrangement: &Option<String>) -> Arc<Answers> {
        if let Some(known) = self.known(sheet, arrangement) {
            return known;
        }
        let _turn = sheet.turn.lock().unwrap_or_else(PoisonError::into_inner);
        // Another call may have had the turn before.
        if let Some(known) = self.known(sheet, arrangement) {
            return known;
        }
        let name = arrangement.as_deref();
        // The memory is taken out, so that a reckoning that never ends keeps nobody from it.
        let mut memo = std::mem::take(&mut *lock(&self.prompt));
        let prompt = judged(sheet, name, Set::Prompt, None, &mut memo);
        *lock(&self.prompt) = memo;
        self.made(sheet, arrangement, prompt)
    }

    /// What follows at once of a text that is only being written, about the arrangement that was last reckoned.
    pub(crate) fn judged_ahead(&self, sheet: &Sheet) -> Option<(Option<String>, Answer)> {
        let arrangement = self.desk().answers.last()?.arrangement.clone();
        if let Some(name) = &arrangement {
            sheet.loaded.has_arrangement(name).ok()?;
        }
        let mut memo = std::mem::take(&mut *lock(&self.prompt));
        let name = arrangement.as_deref();
        let prompt = judged(sheet, name, Set::Prompt, None, &mut memo);
        *lock(&self.prompt) = memo;
        Some((arrangement, prompt))
    }

    /// Keeps what follows at once, mixed with what is known from before.
    pub(crate) fn made(
        &self,
        sheet: &Sheet,
        arrangement: &Option<String>,
        prompt: Answer,
    ) -> Arc<Answers> {
        let mut desk = self.desk();
        let before = desk
            .answers
            .iter()
            .find(|answers| answers.arrangement == *arrangement)
            .cloned();
        let (shown, waiting) = mixed(&prompt, before.as_deref());
        let before = before.and_then(|before| {
            Some(Before {
                number: before.number,
                settled: before.settled(),
                sent: before.sent.get().map(Arc::clone)?,
            })
        });
        let made = Arc::new(Answers {
            number: sheet.number,
            arrangement: arrangement.clone(),
            prompt: Arc::new(prompt),
            all: None,
            shown: Arc::new(shown),
            waiting,
            sent: OnceLock::new(),
            before,
        });
        desk.keep(&made);
        made
    }

    fn known(&self, sheet: &Sheet, arrangement: &Option<String>) -> Option<Arc<Answers>> {
        let desk = self.desk();
        let known = desk
            .answers
            .iter()
            .find(|answers| answers.number == sheet.number && answers.arrangement == *arrangement);
        known.cloned()
    }

    /// Reckons all verdicts of an arrangement behind the first answer, and tells when they are there.
    pub(crate) fn settle_later(self: &Arc<Self>, answers: &Answers) {
        if answers.settled() {
            return;
        }
        let wanted = (answers.number, answers.arrangement.clone());
        if !lock(&self.settling).insert(wanted.clone()) {
            return;
        }
        let (app, inner) = (Arc::clone(self), Arc::clone(self));
        let (number, arrangement) = wanted.clone();
        tokio::spawn(async move {
            for wait in WAITS {
                // Who edits on at once is not kept waiting by chances that the next edit makes old.
                tokio::time::sleep(wait).await;
                let (inner, arrangement) = (Arc::clone(&inner), arrangement.clone());
                let done = app
                    .lanes
                    .settle
                    .run(move || {
                        inner.settle(number, &arrangement);
                        Ok(())
                    })
                    .await;
                match done {
                    Ok(()) => break,
                    Err(refused) => tracing::debug!(why = refused.wrong.why, "not settled"),
                }
            }
            lock(&app.settling).remove(&wanted);
        });
    }

    fn settle(&self, number: u64, arrangement: &Option<String>) {
        let Some(sheet) = self.desk().sheet.clone() else {
            return;
        };
        // What has changed meanwhile is settled in its own turn.
        if sheet.number != number {
            return;
        }
        let flow = self.known(&sheet, arrangement);
        let flow = flow.and_then(|known| known.prompt.flow.clone());
        let mut memo = std::mem::take(&mut *lock(&self.all));
        let all = judged(&sheet, arrangement.as_deref(), Set::All, flow, &mut memo);
        *lock(&self.all) = memo;
        let mut desk = self.desk();
        let known = desk
            .answers
            .iter()
            .find(|answers| answers.number == number && answers.arrangement == *arrangement);
        let Some(known) = known.cloned() else { return };
        let settled = Arc::new(Answers {
            all: Some(Arc::new(all)),
            waiting: BTreeSet::new(),
            sent: OnceLock::new(),
            before: None,
            ..(*known).clone()
        });
        desk.keep(&settled);
        drop(desk);
        self.tell(NewsWhy::Settled);
    }
}

impl super::desk::Desk {
    /// Keeps the answers of an arrangement in place of older ones.
    fn keep(&mut self, made: &Arc<Answers>) {
        let newer = |known: &Arc<Answers>| {
            known.arrangement == made.arrangement && known.number > made.number
        };
        if self.answers.iter().any(newer) {
            return;
        }
        self.answers
            .retain(|known| known.arrangement != made.arrangement);
        // A boat has a few arrangements; a file that has hundreds shall not fill the memory.
        if self.answers.len() >= 8 {
            self.answers.remove(0);
        }
        self.answers.push(Arc::clone(made));
    }
}

fn judged(
    sheet: &Sheet,
    arrangement: Option<&str>,
    set: Set,
    flow: Option<Arc<Flow>>,
    memo: &mut Memo,
) -> Answer {
    let input = Input {
        boat: &sheet.loaded.boat,
        arrangement,
        seed: SEED,
        set,
        bay: Some(sheet.loaded.bay()),
        flow,
    };
    reckon::reckon(&input, memo)
}

/// The answer with the sampled verdicts of before where nothing about them changed, and the ids of those that are
/// still to be sampled.
fn mixed(prompt: &Answer, before: Option<&Answers>) -> (Answer, BTreeSet<String>) {
    let old =
        before.and_then(|before| Some((by_id(&before.prompt), by_id(before.all.as_deref()?))));
    let mut shown = prompt.clone();
    let mut waiting = BTreeSet::new();
    for verdict in &mut shown.verdicts {
        let stands = old.as_ref().and_then(|(prompt, all)| {
            let same = prompt.get(verdict.id.as_str()) == Some(&&*verdict);
            all.get(verdict.id.as_str()).copied().filter(|_| same)
        });
        match stands {
            Some(sampled) => *verdict = sampled.clone(),
            None if verdict.chance.is_some() => _ = waiting.insert(verdict.id.clone()),
            None => {}
        }
    }
    (shown, waiting)
}

/// The verdicts of an answer by their ids.
fn by_id(answer: &Answer) -> BTreeMap<&str, &Verdict> {
    let verdicts = answer.verdicts.iter();
    verdicts
        .map(|verdict| (verdict.id.as_str(), verdict))
        .collect()
}

/// The guard of a lock. What a defect left behind it is whole: nothing is half written under one.
pub(crate) fn lock<T>(mutex: &std::sync::Mutex<T>) -> std::sync::MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::{Hash, Held};
    use crate::load::Loaded;

    #[test]
    fn what_did_not_change_keeps_its_sampled_chance() {
        let text = include_str!("../../../../boats/dunlin/boat.toml");
        let of = |number: u64, text: String| Sheet {
            number,
            loaded: Loaded::from_held(Held {
                path: "boat.toml".into(),
                hash: Hash::of(text.as_bytes()),
                text,
            }),
            turn: std::sync::Mutex::new(()),
        };
        let old = of(1, text.to_owned());
        let judge =
            |sheet: &Sheet, set| judged(sheet, Some(AFTER), set, None, &mut Memo::default());
        let (prompt, all) = (judge(&old, Set::Prompt), judge(&old, Set::All));
        let (shown, waiting) = mixed(&prompt, None);
        assert_eq!(shown, prompt);
        assert!(!waiting.is_empty());
        let all_waited = waiting.len();
        let before = Answers {
            number: 1,
            arrangement: Some(AFTER.into()),
            prompt: Arc::new(prompt),
            all: Some(Arc::new(all.clone())),
            shown: Arc::new(shown),
            waiting,
            sent: OnceLock::new(),
            before: None,
        };
        let changed = text.replace("\"t-bolt 40-43\"", "\"worm 32-50 316\"");
        assert_ne!(changed, text);
        let new = of(2, changed);
        let (shown, waiting) = mixed(&judge(&new, Set::Prompt), Some(&before));
        assert!(2 * waiting.len() < all_waited, "{waiting:?}");
        let of_id = |answer: &Answer, id: &str| {
            let found = answer.verdicts.iter().find(|verdict| verdict.id == id);
            found.cloned()
        };
        assert_eq!(
            of_id(&shown, "fit.hot.from.clip"),
            of_id(&all, "fit.hot.from.clip")
        );
    }
}
