//! What `mend` and `marks` did to the boat file, as it is sent.

use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

use super::verdict::{Grade, RemedyEdit, Verdict};
use super::{About, MarksSchema, MendSchema};

/// Lines of the file that an edit replaced.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Change {
    /// Number of the first line that differs, from 1.
    pub line: usize,
    /// Lines as they stood.
    pub before: Vec<String>,
    /// Lines as they stand now.
    pub after: Vec<String>,
}

/// A comment of the owner's beside a value that was written over; it stays as it is.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct CommentBeside {
    /// Number of its line, from 1.
    pub line: usize,
    /// The comment, with its sign.
    pub text: String,
    /// That it may no longer hold, in a sentence.
    pub told: String,
}

/// A verdict whose grade an edit moved.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Moved {
    /// Which.
    pub id: String,
    /// Its grade before; null where the edit brought it up.
    pub before: Option<Grade>,
    /// Its grade after; null where the edit made it fall away.
    pub after: Option<Grade>,
}

/// Why an edit is not written.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct MendRefusal {
    /// Whether the verdict that was to be mended would be no better.
    pub no_better: bool,
    /// Verdicts that would become unsound and are not so now.
    pub made_unsound: Vec<String>,
    /// The same in a sentence.
    pub told: String,
}

/// What `mend --json` prints.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Mend {
    /// Name and version of this document's form.
    pub schema: MendSchema,
    /// The file before the edit.
    #[serde(flatten)]
    pub about: About,
    /// Whether the file was written; false after `--dry-run`, and where the edit would mend nothing.
    pub written: bool,
    /// Why the edit is not worth writing; null where it is.
    pub refused: Option<MendRefusal>,
    /// SHA-256 of the file's bytes with the edit.
    pub file_hash_after: String,
    /// Which of the verdict's edits was made, from 1.
    pub choice: usize,
    /// The edit.
    pub edit: RemedyEdit,
    /// The lines that it changes.
    pub change: Change,
    /// A comment beside the value, which may no longer hold and is kept; null where there is none.
    pub comment: Option<CommentBeside>,
    /// The verdict before.
    pub before: Verdict,
    /// The verdict after; null where it fell away.
    pub after: Option<Verdict>,
    /// Other verdicts whose grade moved.
    pub also: Vec<Moved>,
}

/// The mark of a run.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Mark {
    /// Key of the run.
    pub run: String,
    /// Its mark.
    pub mark: String,
    /// Whether the file had no mark for it before.
    pub new: bool,
}

/// What `marks --json` prints.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Marks {
    /// Name and version of this document's form.
    pub schema: MarksSchema,
    /// The file before the edit.
    #[serde(flatten)]
    pub about: About,
    /// Whether the file was written; false after `--dry-run` and where every run had its mark.
    pub written: bool,
    /// SHA-256 of the file's bytes after the edit.
    pub file_hash_after: String,
    /// The marks, in order of flow.
    pub marks: Vec<Mark>,
}
