//! The anode on a port's plug: on the right side of the cooler, without tape, and enough of it left.

use quantity::Ratio;
use reference::seal::anode_renew_at;
use reference::thread::thread_fact;

use super::port::{AnodeFacts, PortInput, Wet};
use crate::say;
use crate::stages::types::Subject;
use crate::verdict::{Basis, Grade, Stage, Verdict, Words};

const OPENS: &str =
    "The plug opens the cooler: shut the seacock first, engine cold, and know how much runs out.";

/// At so little nothing of it works any more: a share of a new one. Common practice, no source.
const GONE: f64 = 0.05;

/// Judges the anode of a port.
pub(super) fn anode(input: &PortInput, facts: &AnodeFacts) -> Vec<Verdict> {
    if input.wet == Wet::Coolant {
        return vec![misplaced(&input.subject)];
    }
    let taped = facts.tape.then(|| taped(&input.subject));
    let condition = condition(input, facts);
    // One verdict an id: what is wrong with the thread goes before what is left of it.
    let mut verdicts = vec![condition];
    verdicts.extend(taped);
    for verdict in &mut verdicts {
        verdict.basis = Basis::Practice;
        verdict.caution = Some(OPENS.to_owned());
    }
    verdicts
}

fn with_fact(verdict: &mut Verdict, id: &str) {
    if let Some(fact) = thread_fact(id) {
        verdict.working.limit = fact.says.as_str().into();
        verdict.source(fact.source.cite());
    }
}

fn misplaced(subject: &Subject) -> Verdict {
    let because = "An anode is written for a port that only coolant wets; none belongs there, and its crumbs go into the circuit.";
    let mut verdict = subject.verdict(Stage::Fit, "anode", Grade::Unsound, because.into());
    verdict.remedy = "Put a plain plug there; an anode belongs where the sea runs through.".into();
    verdict.caution =
        Some("Hot and under pressure: open it only when the engine is cold.".to_owned());
    with_fact(&mut verdict, "no-anode-in-coolant");
    verdict
}

fn taped(subject: &Subject) -> Verdict {
    let because = "There is tape or paste on the thread of the anode's plug: with even one turn of it the current has no sure path, and the anode does nothing.";
    let mut verdict = subject.verdict(Stage::Fit, "anode-tape", Grade::Marginal, because.into());
    verdict.remedy = "Take it off and clean the thread bright; or show with a meter that plug and body have contact.".into();
    with_fact(&mut verdict, "no-tape-on-anode");
    verdict
}

fn condition(input: &PortInput, facts: &AnodeFacts) -> Verdict {
    let renew = anode_renew_at();
    let seen = facts
        .seen
        .as_ref()
        .map_or_else(String::new, |seen| format!(" when seen in {seen}"));
    let percent = |share: Ratio| say::short_percent(share.to_f64());
    let limit = percent(renew.value);
    let mut verdict = match &facts.left {
        Err(missing) => {
            let because = Words::of(|system| {
                format!(
                    "What is left of the anode: {}; at {limit} of a new one it is renewed.",
                    missing.why.in_units(system)
                )
            });
            let mut verdict =
                input
                    .subject
                    .verdict(Stage::Fit, "anode", Grade::Unmeasured, because);
            verdict.settle_by(&missing.settles);
            verdict
        }
        Ok(left) => {
            let grade = if left.measured.low > renew.value {
                Grade::Sound
            } else if left.measured.high > Ratio::of(GONE) {
                Grade::Marginal
            } else {
                Grade::Unsound
            };
            let because = format!(
                "{} of the anode was left{seen}; at {limit} of a new one it is renewed.",
                percent(left.measured.value)
            );
            let mut verdict =
                input
                    .subject
                    .verdict(Stage::Fit, "anode", grade, because.as_str().into());
            if grade != Grade::Sound {
                verdict.remedy =
                    "Renew it, shake the crumbs out, and leave the thread without tape.".into();
            }
            verdict.input("a", "left of the anode", left);
            verdict
        }
    };
    verdict.working.limit = format!("over {limit} of a new one").as_str().into();
    verdict.source(renew.source.cite());
    verdict
}
