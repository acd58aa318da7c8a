//! Open ends: the branch of a tee on which nothing is, and a hull fitting under water without its hose.

use boat::{Carries, ChainKind, PieceKind, RunEnd, ThingKind};
use quantity::{Length, Quantity};

use super::{DRAWN, HOT, SEA, best, height, subject, verdict, waits};
use crate::draft::edit;
use crate::stages::circuit::plan::Plan;
use crate::stages::types::Known;
use crate::verdict::{Basis, Grade, Verdict, Words};

/// The caution of an open way of raw water.
const RAW: &str =
    "Lets in the sea: shut the valve at the hull before a hose comes off, and stay by it.";

/// Judges the family.
pub fn judge(plan: &Plan, out: &mut Vec<Verdict>) {
    for run in 0..plan.facts.runs.len() {
        branches(plan, run, out);
    }
    for thing in 0..plan.facts.things.len() {
        if plan.facts.things[thing].is(ThingKind::HullFitting) {
            fitting(plan, thing, out);
        }
    }
}

/// Tees of a run from whose branch no run goes, and that are not blanked off.
fn branches(plan: &Plan, run: usize, out: &mut Vec<Verdict>) {
    let facts = plan.facts;
    let own = &facts.runs[run];
    let key = &own.run.key;
    if !matches!(own.run.carries, Carries::Coolant | Carries::RawWater) {
        return;
    }
    let pieces = own.run.way.given().map_or(&[][..], Vec::as_slice);
    for piece in pieces {
        if !matches!(piece.kind, PieceKind::Tee { .. }) {
            continue;
        }
        let here = |end: &RunEnd| matches!(end, RunEnd::Tee { run, piece: tee } if run == key && *tee == piece.name);
        let used = facts
            .runs
            .iter()
            .any(|other| here(&other.run.from) || here(&other.run.to));
        let name = format!("{key}.{}", piece.name);
        if used || facts.blanked.contains(&name) {
            continue;
        }
        let whole = subject(
            &name,
            format!("branch of {} in {key}", piece.name),
            format!("{}.way", own.place),
        );
        let because = format!(
            "The branch of {} in {key} is open: 0 runs go from it, and it is not blanked off.",
            piece.name
        );
        let remedy = match facts.name {
            Some(arrangement) => format!(
                "Put a plug or a cap on the branch, and add “{name}” to `blank` of the arrangement {arrangement}."
            ),
            None => format!(
                "Put a plug or a cap on the branch, and write an arrangement with `blank = [\"{name}\"]`."
            ),
        };
        let mut said = verdict(
            &whole,
            "open",
            Grade::Unsound,
            because.as_str().into(),
            &remedy,
        );
        said.basis = Basis::Physics;
        said.caution = Some(match own.run.carries {
            Carries::RawWater => RAW.into(),
            _ => HOT.into(),
        });
        said.working.limit = "a run or a blank on each branch".into();
        said.source(DRAWN);
        if let Some(arrangement) = facts.name {
            let mut blanks = facts.blanks_here.clone();
            let from = if blanks.is_empty() {
                String::new()
            } else {
                boat::quoted_list(blanks.iter().map(String::as_str))
            };
            blanks.push(name.clone());
            said.edits.push(edit(
                format!("arrangements.{}.blank", boat::key_text(arrangement)),
                from,
                boat::quoted_list(blanks.iter().map(String::as_str)),
                format!("blank {name} off"),
            ));
        }
        out.push(said);
    }
}

/// Whether a hose goes on a hull fitting.
pub(super) fn has_tail(plan: &Plan, fitting: usize) -> bool {
    let own = plan.facts.things[fitting].thing;
    let tail = own.chain.iter().any(|part| part.kind == ChainKind::Tail);
    tail || !own.spigots.is_empty()
}

/// Whether a hull fitting surely stands above the water, laden too.
pub(super) fn is_dry(plan: &Plan, fitting: usize) -> bool {
    let laden = plan.facts.laden.unwrap_or(0.0).max(0.0);
    height_of(plan, fitting)
        .as_ref()
        .is_ok_and(|at| at.measured.low.si() > laden)
}

/// The height of a hull fitting: its own, else that of its tail.
pub(super) fn height_of<'a>(plan: &'a Plan, fitting: usize) -> &'a Known<Length> {
    let own = &plan.facts.things[fitting];
    match own.spigots.iter().find(|at| at.is_ok()) {
        Some(at) if own.height.is_err() => at,
        _ => &own.height,
    }
}

/// A hull fitting that no run is on: by what, if by anything, the sea is held.
fn fitting(plan: &Plan, thing: usize, out: &mut Vec<Verdict>) {
    let facts = plan.facts;
    let own = &facts.things[thing];
    if facts.on(thing).next().is_some() || !has_tail(plan, thing) || is_dry(plan, thing) {
        return;
    }
    let blanked = |spigot: &str| facts.blanked.contains(&format!("{}.{spigot}", own.key()));
    let spigots = &own.thing.spigots;
    let capped = facts.blanked.iter().any(|name| name == own.key())
        || (spigots.is_empty() && blanked("tail"))
        || (!spigots.is_empty() && spigots.iter().all(|spigot| blanked(&spigot.name)));
    if capped {
        return;
    }
    let whole = subject(
        own.key(),
        format!("tail of {}", own.key()),
        own.place.clone(),
    );
    let at = match height_of(plan, thing) {
        Ok(at) => at,
        Err(missing) => {
            out.push(waits(
                &whole,
                "open",
                "Its height with no hose on it",
                missing,
            ));
            return;
        }
    };
    let shut = plan.is_shut(own.key());
    let cooler = facts
        .things
        .iter()
        .find(|other| {
            other
                .thing
                .detail
                .between
                .iter()
                .any(|key| key == own.key())
        })
        .map(|other| other.key());
    let because = Words::of(|system| {
        let there = height(best(at), system);
        match (shut, cooler) {
            (true, None) => format!(
                "No run is on {} at {there}: only a shut valve holds the sea.",
                own.key()
            ),
            (true, Some(cooler)) => format!(
                "No run is on {} at {there}: only a shut valve holds what is in {cooler}, and the sea if that has a hole.",
                own.key()
            ),
            (false, None) => format!(
                "No run is on {} at {there}, and none of its valves is shut: the sea comes in by its tail.",
                own.key()
            ),
            (false, Some(cooler)) => format!(
                "No run is on {} at {there}, and none of its valves is shut: what is in {cooler} runs out by its tail, and the sea comes in if that has a hole.",
                own.key()
            ),
        }
    });
    let (grade, remedy) = if shut {
        (
            Grade::Marginal,
            "Cap the tail, and name it in `blank` of the arrangement.",
        )
    } else {
        (
            Grade::Unsound,
            "Shut its valve and cap the tail, and name them in `shut` and `blank`; or write the run that is on it.",
        )
    };
    let mut said = verdict(&whole, "open", grade, because, remedy);
    said.basis = Basis::Physics;
    said.caution = Some(SEA.into());
    said.input("h", "the hull fitting", at);
    said.working.limit = "a hose or a cap on each tail under water".into();
    said.source(DRAWN);
    out.push(said);
}
