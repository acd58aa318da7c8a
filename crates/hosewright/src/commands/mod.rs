//! One module a command: from its words to what is printed and returned.

pub mod check;
pub mod circuit;
pub mod fill;
pub mod fit;
pub mod flow;
pub mod marks;
pub mod mend;
pub mod new;
pub mod order;
pub mod route;
pub mod salt;
pub mod schema;
pub mod serve;
pub mod sheets;
pub mod survey;
pub mod thread;

use clap::CommandFactory as _;
use reckon::{JointRow, Verdict};

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

/// How the ids begin that are to be explained: as given, or those of the joint, mark or subject that was named.
/// Refuses to explain what isn't there.
fn explained(
    explain: Option<String>,
    joints: &[JointRow],
    verdicts: &[Verdict],
) -> Result<Option<String>, Fault> {
    let Some(given) = explain else {
        return Ok(None);
    };
    let begins = |prefix: &str| {
        verdicts
            .iter()
            .any(|verdict| verdict.id.starts_with(prefix))
    };
    if begins(&given) {
        return Ok(Some(given));
    }
    let joint = joints
        .iter()
        .find(|row| row.joint == given || row.mark.eq_ignore_ascii_case(&given));
    let of_joint = joint.map(|row| format!("{}.", row.id_prefix));
    let named = joint.map_or(given.as_str(), |row| row.joint.as_str());
    let of_subject = || {
        verdicts
            .iter()
            .find(|verdict| verdict.subject == named)
            .map(|verdict| format!("{}.{named}.", verdict.stage.key()))
    };
    let meant = of_joint
        .filter(|prefix| begins(prefix))
        .or_else(of_subject)
        .filter(|prefix| begins(prefix));
    if meant.is_some() || given.is_empty() {
        return Ok(meant.or(Some(given)));
    }
    let prefix = given.as_str();
    let nearest = nearest(
        prefix,
        joints
            .iter()
            .map(|row| row.joint.as_str())
            .chain(verdicts.iter().map(|verdict| verdict.id.as_str())),
    );
    Err(Fault::NothingToExplain {
        prefix: prefix.to_owned(),
        nearest,
    })
}
