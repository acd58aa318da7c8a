//! What the compiler cannot check: each rule takes the project and gives what offends against it.

use std::path::Path;

use crate::Fault;
use crate::metadata::{self, Metadata};
use crate::tree::{self, File};

pub mod documents;
pub mod edges;
pub mod reasons;
pub mod shape;
pub mod versions;
pub mod words;

/// All that the rules look at.
#[derive(Clone, Debug)]
pub struct Project {
    /// Every file that somebody wrote.
    pub files: Vec<File>,
    /// What cargo knows.
    pub metadata: Metadata,
}

impl Project {
    /// The project that stands at `root`.
    pub fn read(root: &Path) -> Result<Self, Fault> {
        Ok(Self {
            files: tree::files(root)?,
            metadata: metadata::read(root)?,
        })
    }

    /// The text of one file.
    pub fn text(&self, path: &str) -> Result<&str, Fault> {
        self.files
            .iter()
            .find(|file| file.path == path)
            .and_then(File::text)
            .ok_or_else(|| format!("{path}: there is no such file"))
    }

    /// The Rust sources of programs and libraries, with their text.
    pub fn sources(&self) -> impl Iterator<Item = (&str, &str)> {
        self.files
            .iter()
            .filter(|file| file.is_source())
            .filter_map(|file| Some((file.path.as_str(), file.text()?)))
    }
}

/// A rule: its name, and what offends against it.
pub type Rule = (&'static str, fn(&Project) -> Vec<Fault>);

/// Every rule.
pub const RULES: [Rule; 16] = [
    ("words", words::check),
    ("edges", edges::check),
    ("no JSON below", edges::domain_dependencies),
    ("reasons", reasons::check),
    ("length", shape::length),
    ("module docs", shape::module_docs),
    ("input and output", shape::input_and_output),
    ("unwraps", shape::unwraps),
    ("floors of reckon", shape::floors),
    ("one test program", shape::test_programs),
    ("links", documents::links),
    ("headings", documents::headings),
    ("pages of the manual", documents::pages),
    ("documents", documents::check),
    ("boat files in documents", documents::snippets),
    ("versions", versions::check),
];

/// Runs every rule.
pub fn check(root: &Path) -> Result<(), Fault> {
    let project = Project::read(root)?;
    let faults: Vec<Fault> = RULES
        .iter()
        .flat_map(|(name, rule)| {
            rule(&project)
                .into_iter()
                .map(move |fault| format!("{name}: {fault}"))
        })
        .collect();
    if faults.is_empty() {
        println!(
            "   {} rules over {} files",
            RULES.len(),
            project.files.len()
        );
        Ok(())
    } else {
        Err(faults.join("\n"))
    }
}
