//! Answers as text for people. Everything here takes an answer and writes on a [`Page`]; nothing is reckoned.

pub mod circuit;
mod draw;
pub mod fill;
pub mod fit;
pub mod flow;
pub mod flow_compare;
pub mod flow_state;
pub mod head;
pub mod order;
pub mod places;
pub mod plot;
pub mod remarks;
pub mod route;
pub mod sheets;
pub mod survey;
pub mod thread;
pub mod verdict;
pub mod working;

use quantity::System;
use reckon::{Basis, Grade, Stakes, Verdict};

use crate::files::Held;
use crate::text::Page;

/// What a rendering needs to know besides the answer.
#[derive(Clone, Copy, Debug)]
pub struct Manner<'a> {
    /// In which units.
    pub units: System,
    /// The boat file and its places; `None` where the numbers came from flags.
    pub file: Option<FilePlaces<'a>>,
}

/// A boat file with the places of its values.
#[derive(Clone, Copy)]
pub struct FilePlaces<'a> {
    /// The file.
    pub held: &'a Held,
    /// Its places.
    pub places: &'a dyn crate::api::Where,
}

impl std::fmt::Debug for FilePlaces<'_> {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter
            .debug_struct("FilePlaces")
            .field("path", &self.held.path)
            .finish_non_exhaustive()
    }
}

impl FilePlaces<'_> {
    /// `boat.toml:41:9`.
    pub fn shown(&self, path: &str) -> String {
        let (line, column) = self.places.position(path);
        format!("{}:{line}:{column}", self.held.name())
    }
}

/// The word of a grade.
pub fn grade_word(grade: Grade) -> &'static str {
    match grade {
        Grade::Sound => "sound",
        Grade::Unmeasured => "unmeasured",
        Grade::Marginal => "marginal",
        Grade::Unsound => "unsound",
    }
}

/// The shape of a grade: all four differ without colour.
pub fn grade_shape(grade: Grade) -> &'static str {
    match grade {
        Grade::Sound => "●",
        Grade::Unmeasured => "▫",
        Grade::Marginal => "◖",
        Grade::Unsound => "◆",
    }
}

/// On what a verdict rests, in words.
pub fn basis_word(basis: Basis) -> &'static str {
    match basis {
        Basis::Rule => "a rule that binds this boat",
        Basis::Practice => "good practice",
        Basis::Physics => "physics",
    }
}

/// The chance that a verdict holds, for people; `None` where it is no matter of chance. Where it is as good as sure and
/// yet not sound, something else than the chance makes it so, and that is said.
pub fn chance_words(verdict: &Verdict) -> Option<String> {
    let chance = verdict.chance?;
    let holds = format!("holds {}", quantity::show_chance(chance));
    let sure = reckon::grade(chance, Stakes::High) == Grade::Sound;
    let worse = matches!(verdict.grade, Grade::Marginal | Grade::Unsound);
    Some(if sure && worse {
        format!(
            "{holds}; {} not by that chance but by what is said above",
            grade_word(verdict.grade)
        )
    } else {
        holds
    })
}

/// A heading with its line.
pub fn heading(page: &mut Page, text: &str) {
    page.gap();
    page.hanging_bold("", "", text);
}
