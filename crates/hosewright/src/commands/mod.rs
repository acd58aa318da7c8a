//! One module a command: from its words to what is printed and returned.

pub mod check;
pub mod fit;
pub mod marks;
pub mod mend;
pub mod new;
pub mod schema;

use clap::CommandFactory as _;

use crate::api::Summary;
use crate::cli::Line;
use crate::fault::{Exit, Fault, nearest};
use crate::run::Outcome;

/// Completions for a shell.
pub fn completions(shell: clap_complete::Shell) -> Outcome {
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut Line::command(), crate::api::TOOL, &mut script);
    Outcome::said(String::from_utf8_lossy(&script).into_owned(), Exit::Sound)
}

/// What is returned for these counts.
pub fn exit_for(summary: &Summary, strict: bool) -> Exit {
    if summary.unsound > 0 || (strict && summary.unmeasured > 0) {
        Exit::Unsound
    } else {
        Exit::Sound
    }
}

/// Refuses to explain what isn't there.
fn must_explain(explain: Option<&str>, verdicts: &[reckon::Verdict]) -> Result<(), Fault> {
    let Some(prefix) = explain else { return Ok(()) };
    if prefix.is_empty()
        || verdicts
            .iter()
            .any(|verdict| verdict.id.starts_with(prefix))
    {
        return Ok(());
    }
    let nearest = nearest(prefix, verdicts.iter().map(|verdict| verdict.id.as_str()));
    Err(Fault::NothingToExplain {
        prefix: prefix.to_owned(),
        nearest,
    })
}
