//! Writing verdicts: what every rule says in the same way.

use boat::KeyPath;
use quantity::{Quantity, System, show};

use crate::say;
use crate::solve::chance::Chance;
use crate::stages::types::{Missing, Subject, Value};
use crate::verdict::{
    Basis, Edit, Grade, Number, Settles, Stage, Stakes, Step, Verdict, Words, Working,
    WorkingInput, grade,
};

/// What a source that is none says of itself: [`reference::Status::Practice`], and rules in their own words.
const PRACTICE: &str = "common practice";

impl Subject {
    /// A verdict by one rule, to be filled in.
    pub(crate) fn verdict(
        &self,
        stage: Stage,
        rule: &str,
        grade: Grade,
        because: Words,
    ) -> Verdict {
        Verdict {
            id: format!("{}.{}.{rule}", stage.key(), self.key),
            stage,
            subject: self.key.clone(),
            title: self.title.clone(),
            grade,
            because,
            remedy: Words::default(),
            chance: None,
            basis: Basis::Practice,
            caution: None,
            place: self.place.clone(),
            margin: None,
            edits: Vec::new(),
            settles: None,
            spoken: Words::default(),
            working: Working::default(),
        }
    }

    /// A verdict that waits for a value.
    pub(crate) fn waits(&self, stage: Stage, rule: &str, name: &str, missing: &Missing) -> Verdict {
        let because = Words::of(|system| format!("{name}: {}.", missing.why.in_units(system)));
        let mut verdict = self.verdict(stage, rule, Grade::Unmeasured, because);
        verdict.settle_by(&missing.settles);
        verdict
    }
}

impl Verdict {
    /// Names the measurement that would settle it, as the remedy too where none stands yet.
    pub(crate) fn settle_by(&mut self, settles: &Settles) {
        if self.remedy.metric.is_empty() {
            self.remedy = settles.how.as_str().into();
        }
        self.settles = Some(settles.clone());
    }

    /// Takes over a chance: grades by it unless guesses decide it, and says in the working where
    /// the two methods part.
    pub(crate) fn by_chance(&mut self, chance: Chance, stakes: Stakes, settles: Option<&Settles>) {
        self.chance = Some(chance.value());
        self.grade = grade(chance.value(), stakes);
        if chance.is_guesswork()
            && let Some(settles) = settles
        {
            self.grade = Grade::Unmeasured;
            self.settle_by(settles);
        }
        self.working.steps.extend(chance_step(chance));
    }

    /// Says it in one sentence for a reader of screens, once all else stands.
    pub(crate) fn spoken(mut self) -> Self {
        self.lower_basis();
        let (title, word) = (self.title.clone(), self.grade.word());
        self.spoken = Words::of(|system| {
            let remedy = self.remedy.in_units(system);
            let gap = if remedy.is_empty() { "" } else { " " };
            format!(
                "{title}, {word}: {}{gap}{remedy}",
                self.because.in_units(system)
            )
        });
        self
    }

    /// No verdict rests on physics that rests on what the trade only does so.
    fn lower_basis(&mut self) {
        let practice = |source: &String| source.contains(PRACTICE);
        if self.basis == Basis::Physics && self.working.sources.iter().any(practice) {
            self.basis = Basis::Practice;
        }
    }

    /// Adds an input to the working.
    pub(crate) fn input<Q: Quantity>(
        &mut self,
        symbol: &str,
        name: &str,
        value: &Value<Q>,
    ) -> &mut Self {
        self.working.inputs.push(input(symbol, name, value));
        self
    }

    /// Adds a step whose numbers do not hang on the unit system.
    pub(crate) fn step(&mut self, formula: &str, filled: Words, result: Words) -> &mut Self {
        self.working.steps.push(Step {
            formula: formula.into(),
            filled,
            result,
        });
        self
    }

    /// Adds a source once.
    pub(crate) fn source(&mut self, source: impl Into<String>) -> &mut Self {
        let source = source.into();
        if !self.working.sources.contains(&source) {
            self.working.sources.push(source);
        }
        self
    }
}

/// What both methods gave, and which of them stands.
fn chance_step(chance: Chance) -> Option<Step> {
    let (first, hundred) = (say::chance(chance.first_order), "chance that it holds");
    let (formula, filled, result) = match chance.sampled {
        None => (
            format!("{hundred}, to first order"),
            "readings even within their limits; result normal".to_owned(),
            first,
        ),
        Some(sampled) if chance.parted() => (
            format!("{hundred}, by draws and to first order"),
            format!(
                "draws give {}, first order {first}: the limit is a step or the spread is not normal",
                say::chance(sampled)
            ),
            format!("{}; the draws stand", say::chance(sampled)),
        ),
        Some(sampled) => (
            format!("{hundred}, by draws and to first order"),
            format!("draws give {}, first order {first}", say::chance(sampled)),
            say::chance(sampled),
        ),
    };
    Some(Step {
        formula,
        filled: filled.as_str().into(),
        result: result.as_str().into(),
    })
}

/// An input of a working.
pub(crate) fn input<Q: Quantity>(symbol: &str, name: &str, value: &Value<Q>) -> WorkingInput {
    let half = value.measured.half_width();
    let tolerance = (half.si() > 0.0).then(|| Number {
        kind: <Q::Difference as Quantity>::KIND,
        si: half.si(),
        text: Words::of(|system| quantity::show_half_width(half, value.measured.value, system)),
    });
    let shown = |system: System| {
        show(
            value.measured.value,
            (half.si() > 0.0).then_some(half),
            system,
        )
    };
    WorkingInput {
        symbol: symbol.into(),
        name: name.into(),
        value: Number {
            kind: Q::KIND,
            si: value.measured.value.si(),
            text: Words::of(shown),
        },
        tolerance,
        from: value.from.clone(),
        place: value.place.clone(),
    }
}

/// One edit.
pub(crate) fn edit(place: impl Into<KeyPath>, from: String, to: String, label: String) -> Edit {
    Edit {
        place: place.into(),
        from,
        to,
        label,
    }
}

/// Text as TOML. The names that are put in hold neither quotes nor backslashes, and if one ever
/// should, it is escaped.
pub(crate) fn quoted(text: &str) -> String {
    boat::edit::quoted(text)
}
