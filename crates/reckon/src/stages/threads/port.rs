//! A threaded port: which thread it has, what seals its plug, and its anode.

use boat::thread_text;
use quantity::{Length, Ratio, Reading};
use reference::thread::{Family, ThreadSex, ThreadSize};

use super::anode::anode;
use super::identify::{Asked, IdentifyInput, Stated, identify};
use super::rank::ThreadLooks;
use super::seal::{in_thread, joined, on_faces};
use crate::stages::types::{Known, Subject, thread_size};
use crate::verdict::{Basis, Grade, Settles, Stage, Verdict, Words};

/// What wets a port.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Wet {
    /// Only coolant.
    Coolant,
    /// The sea, or what the file does not tell.
    Sea,
}

/// An anode as found.
#[derive(Clone, Debug, PartialEq)]
pub struct AnodeFacts {
    /// How much is left.
    pub left: Known<Ratio>,
    /// When that was seen.
    pub seen: Option<String>,
    /// Tape or paste on its thread.
    pub tape: bool,
}

/// All that is read of one port.
#[derive(Clone, Debug, PartialEq)]
pub struct PortInput {
    /// Who is judged.
    pub subject: Subject,
    /// The thread by name, as written.
    pub stated: Option<boat::Thread>,
    /// Male or female, as written or by which diameter was measured; `None` where neither tells.
    pub sex: Option<ThreadSex>,
    /// A male's diameter and a female's were both written, or one against the written sex.
    pub both_sexes: bool,
    /// The diameter as typed, and as one that surely lies between.
    pub diameter: Option<(Reading<Length>, Known<Length>)>,
    /// What else was read; `None` where the diameter is missing.
    pub looks: Option<ThreadLooks>,
    /// Whether a pitch or a taper was written.
    pub looked: bool,
    /// Its anode.
    pub anode: Option<AnodeFacts>,
    /// What wets it.
    pub wet: Wet,
    /// Whether the sea or hot coolant would come out of it.
    pub caution: String,
}

/// Judges one port.
pub fn port(input: &PortInput) -> Vec<Verdict> {
    let mut verdicts = Vec::new();
    let mut named: Option<&'static ThreadSize> = input.stated.and_then(thread_size);
    match identified(input) {
        Some(Named { verdict, only }) => {
            named = named.filter(|_| verdict.grade != Grade::Unsound).or(only);
            verdicts.push(verdict);
        }
        None => {
            if let Some(thread) = input.stated
                && named.is_none()
            {
                verdicts.push(unlisted(input, thread));
            }
        }
    }
    if let Some(size) = named {
        verdicts.push(sealed(input, size));
    }
    if let Some(facts) = &input.anode {
        verdicts.extend(anode(input, facts));
    }
    verdicts
        .into_iter()
        .map(|mut verdict| {
            let open = matches!(verdict.grade, Grade::Unsound | Grade::Marginal);
            if open && verdict.caution.is_none() {
                verdict.caution = Some(input.caution.clone());
            }
            verdict.spoken()
        })
        .collect()
}

struct Named {
    verdict: Verdict,
    only: Option<&'static ThreadSize>,
}

/// The verdict about which thread it is; `None` where it is written by name and nothing was measured.
fn identified(input: &PortInput) -> Option<Named> {
    let place = |key: &str| format!("{}.{key}", input.subject.place);
    let key = match input.sex {
        Some(ThreadSex::Male) => "male_od",
        _ => "female_id",
    };
    let asked = Asked {
        diameter: Settles {
            place: place(key),
            how: diameter_how(input.sex).to_owned(),
        },
        pitch: Settles {
            place: place("ten_pitches"),
            how: "Measure the length over ten pitches with a caliper; over fewer, times ten over their number.".into(),
        },
        taper: place("taper"),
        name: place("thread"),
    };
    let waits = |why: Words, settles: &Settles| {
        let mut verdict = input
            .subject
            .verdict(Stage::Fit, "thread", Grade::Unmeasured, why);
        verdict.settle_by(settles);
        Some(Named {
            verdict,
            only: None,
        })
    };
    if input.both_sexes {
        let why = "One port is written with two sexes: it has a largest diameter if it is male, a smallest if it is female.";
        return waits(why.into(), &asked.diameter);
    }
    match (&input.diameter, &input.looks) {
        (Some((typed, Ok(_))), Some(looks)) => {
            let identified = identify(&IdentifyInput {
                subject: input.subject.clone(),
                looks: looks.clone(),
                typed: *typed,
                stated: input.stated.map(|thread| Stated {
                    name: thread_text(&thread),
                    size: thread_size(thread),
                }),
                asked,
            });
            Some(Named {
                verdict: identified.verdict,
                only: identified.only,
            })
        }
        (Some((_, Err(missing))), _) => {
            let why = Words::of(|system| format!("Diameter: {}.", missing.why.in_units(system)));
            waits(why, &missing.settles)
        }
        _ if input.stated.is_some() && !input.looked => None,
        _ => {
            let why = "Which thread it is: neither its name nor its diameter is written.";
            waits(why.into(), &asked.diameter)
        }
    }
}

/// How the diameter is asked for.
pub(super) fn diameter_how(sex: Option<ThreadSex>) -> &'static str {
    match sex {
        Some(ThreadSex::Male) => "Measure the largest diameter over its crests with a caliper.",
        Some(ThreadSex::Female) => {
            "Measure the smallest diameter between its crests with a caliper's inner jaws."
        }
        None => {
            "Measure with a caliper the smallest diameter of a female thread (`female_id`), or the largest of a male (`male_od`)."
        }
    }
}

/// A thread that no table has.
fn unlisted(input: &PortInput, thread: boat::Thread) -> Verdict {
    let because = format!(
        "{} is written, and the tables don't have it: what seals it is not known.",
        thread_text(&thread)
    );
    let mut verdict = input.subject.verdict(
        Stage::Fit,
        "thread",
        Grade::Unmeasured,
        because.as_str().into(),
    );
    verdict.settle_by(&Settles {
        place: format!("{}.thread", input.subject.place),
        how: "Look once more which thread it is, and write it with its pitch: M22x1.5.".into(),
    });
    verdict
}

/// What seals the plug, or the cap, of a thread that is known.
fn sealed(input: &PortInput, size: &'static ThreadSize) -> Verdict {
    let mut verdict = input
        .subject
        .verdict(Stage::Fit, "seal", Grade::Sound, Words::default());
    verdict.basis = Basis::Practice;
    let name = size.designation();
    let other = match (size.family, input.sex) {
        (Family::Rc | Family::Rp, _) => "an R plug goes in".to_owned(),
        (_, Some(ThreadSex::Male)) => format!("a {name} cap goes on"),
        _ => format!("a {name} plug goes in"),
    };
    let first = Words::from(format!("{name}: {other}.").as_str());
    if input.anode.is_some() {
        let because = format!(
            "{name}: {other}, without tape or paste: the anode's current runs through the thread."
        );
        verdict.because = because.as_str().into();
        if let Some(fact) = reference::thread::thread_fact("no-tape-on-anode") {
            verdict.working.limit = fact.says.as_str().into();
            verdict.source(fact.source.cite());
        }
        return verdict;
    }
    let how = match size.family {
        Family::G | Family::Metric | Family::Unified => on_faces(&mut verdict, size),
        Family::R | Family::Rc | Family::Rp | Family::Npt => in_thread(&mut verdict, size),
        Family::Npsm => "It seals on the cone of 30°, not on its thread".into(),
    };
    verdict.because = joined(&first, &how);
    verdict
}
