//! What was printed on paper, as it is sent.

use schemars::JsonSchema;
use serde::Serialize;

use super::{About, Remark};

/// See [`super::CheckSchema`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[allow(missing_docs)]
pub enum SheetsSchema {
    #[serde(rename = "hosewright.sheets/1")]
    V1,
}

/// What `sheets --json` prints.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Sheets {
    /// Name and version of this document's form.
    pub schema: SheetsSchema,
    /// What was printed.
    #[serde(flatten)]
    pub about: About,
    /// The day that stands on the sheets.
    pub date: String,
    /// The paper: `a4` or `letter`.
    pub paper: String,
    /// Faults of the file; none of them is a stop.
    pub remarks: Vec<Remark>,
    /// Each sheet, in the order of the job.
    pub sheets: Vec<SheetFile>,
    /// The file that holds them all; null where only some were asked for.
    pub all: Option<String>,
    /// Runs that have no hose sheet, and why; left out where there are none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub without: Vec<RunWithout>,
}

/// A run of the bay that could not be laid, so that it has no hose sheet.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct RunWithout {
    /// Its key.
    pub run: String,
    /// Its mark.
    pub mark: String,
    /// Why.
    pub why: String,
    /// What would settle it; empty where that is not known.
    pub settles: String,
}

/// One sheet.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SheetFile {
    /// Its name, as `--only` takes it.
    pub name: String,
    /// Its title.
    pub title: String,
    /// How many pages it has.
    pub pages: usize,
    /// SHA-256 of what it shows, without the date, 64 hexadecimal digits; the first eight stand on each page. It
    /// does not depend on the paper.
    pub hash: String,
    /// Path of the PDF.
    pub file: String,
    /// Paths of the pages as SVG, where they were asked for.
    pub svg: Vec<String>,
}
