//! What can be taken back: the texts of the file before and after each edit of this run.

use std::sync::Arc;

use crate::api::PageHistory;

/// How many steps are kept.
const KEPT: usize = 100;

/// One edit.
#[derive(Clone, Debug)]
pub(crate) struct Step {
    /// What it did, in a few words.
    pub(crate) label: String,
    /// The whole text before it.
    pub(crate) before: Arc<str>,
    /// The whole text after it.
    pub(crate) after: Arc<str>,
}

/// What happened.
#[derive(Clone, Debug)]
enum Entry {
    Step(Step),
    /// A change from outside: steps behind it can be read, not taken back.
    Bar(String),
}

/// The stack of one boat and run.
#[derive(Clone, Debug, Default)]
pub(crate) struct History {
    done: Vec<Entry>,
    undone: Vec<Step>,
}

impl History {
    /// An edit that was made. What had been taken back before it is gone.
    pub(crate) fn push(&mut self, step: Step) {
        self.undone.clear();
        self.add(Entry::Step(step));
    }

    /// A change from outside.
    pub(crate) fn bar(&mut self, label: String) {
        self.undone.clear();
        self.add(Entry::Bar(label));
    }

    fn add(&mut self, entry: Entry) {
        if self.done.len() >= KEPT {
            self.done.remove(0);
        }
        self.done.push(entry);
    }

    /// The step to take back; none behind a change from outside.
    pub(crate) fn last(&self) -> Option<&Step> {
        match self.done.last()? {
            Entry::Step(step) => Some(step),
            Entry::Bar(_) => None,
        }
    }

    /// Whether a change from outside keeps the last step from being taken back.
    pub(crate) fn is_barred(&self) -> bool {
        matches!(self.done.last(), Some(Entry::Bar(_)))
    }

    /// The step to put back.
    pub(crate) fn next(&self) -> Option<&Step> {
        self.undone.last()
    }

    /// The last step was taken back.
    pub(crate) fn took_back(&mut self) {
        if let Some(Entry::Step(step)) = self.done.pop_if(|last| matches!(last, Entry::Step(_))) {
            self.undone.push(step);
        }
    }

    /// The next step was put back.
    pub(crate) fn put_back(&mut self) {
        if let Some(step) = self.undone.pop() {
            self.add(Entry::Step(step));
        }
    }

    /// As the page is sent it.
    pub(crate) fn sent(&self) -> PageHistory {
        let label = |entry: &Entry| match entry {
            Entry::Step(step) => step.label.clone(),
            Entry::Bar(label) => label.clone(),
        };
        PageHistory {
            back: self.last().map(|step| step.label.clone()),
            forth: self.next().map(|step| step.label.clone()),
            steps: self.done.iter().map(label).collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn step(label: &str) -> Step {
        Step {
            label: label.into(),
            before: "a".into(),
            after: "b".into(),
        }
    }

    #[test]
    fn steps_go_back_and_forth_until_another_edit() {
        let mut history = History::default();
        history.push(step("one"));
        history.push(step("two"));
        history.took_back();
        assert_eq!(history.last().unwrap().label, "one");
        assert_eq!(history.next().unwrap().label, "two");
        history.put_back();
        assert_eq!(history.last().unwrap().label, "two");
        history.took_back();
        history.push(step("three"));
        assert!(history.next().is_none());
        assert_eq!(history.sent().steps, ["one", "three"]);
    }

    #[test]
    fn nothing_is_taken_back_behind_a_change_from_outside() {
        let mut history = History::default();
        history.push(step("one"));
        history.bar("changed outside".into());
        assert!(history.last().is_none() && history.is_barred());
        history.took_back();
        assert_eq!(history.sent().steps.len(), 2);
        history.push(step("two"));
        assert_eq!(history.sent().back.as_deref(), Some("two"));
    }

    #[test]
    fn the_stack_has_a_bottom() {
        let mut history = History::default();
        for _ in 0..KEPT + 5 {
            history.push(step("x"));
        }
        assert_eq!(history.sent().steps.len(), KEPT);
    }
}
