//! Small things that tell late: the hole in the thermostat, and a calorifier that takes the cooler's flow.

use boat::{Carries, PieceKind, RunEnd, Size, Told};
use quantity::{Length, Quantity};

use super::{DRAWN, HOT, PRACTICE, missing, size, subject, verdict, waits};
use crate::stages::circuit::plan::{Plan, Site};
use crate::stages::types::Subject;
use crate::verdict::{Basis, Grade, Verdict, Words};

/// Over this share of the main loop's bore a loop beside it takes flow from the cooler. Common practice, no
/// source.
const WIDE_SHARE: f64 = 0.5;

/// The hole by which air passes a thermostat that is shut. An owner who writes nothing of it is not asked.
pub fn hole(plan: &Plan, thing: usize, out: &mut Vec<Verdict>) {
    let own = &plan.facts.things[thing];
    let Some(engine) = &own.thing.engine else {
        return;
    };
    let place = format!("{}.stat.hole", own.place);
    let whole = subject(
        own.key(),
        format!("thermostat of {}", own.key()),
        place.clone(),
    );
    let why = match &engine.stat.hole {
        Told::LeftOut => return,
        Told::Given(hole) if hole.value.si() > 0.0 => return,
        Told::Given(_) => {
            let because = Words::of(|system| {
                format!(
                    "Its thermostat has a hole of {}: no air passes it while it is shut, and the block fills with air under it.",
                    size(Length::mm(0.0), system)
                )
            });
            let mut said = verdict(
                &whole,
                "hole",
                Grade::Marginal,
                because,
                "Fit a thermostat with a small hole or a jiggle pin, the hole uppermost; until then fill slowly and bleed at the head.",
            );
            said.basis = Basis::Practice;
            said.caution = Some(HOT.into());
            said.working.limit = "a hole to let air past the shut thermostat".into();
            said.source(PRACTICE);
            out.push(said);
            return;
        }
        Told::Two(..) => "two readings differ",
        Told::Unknown | Told::Choose => "marked “?” in the file",
    };
    let missing = missing(
        why,
        place,
        "Take the thermostat out when she is cold, look for a small hole in its plate, and write its size: `hole = 3`, 0 for none.",
    );
    out.push(waits(
        &whole,
        "hole",
        "The hole in the thermostat",
        &missing,
    ));
}

/// The narrowest hose of a run, of those on some nodes where any are asked for.
fn narrowest(plan: &Plan, run: usize, on: Option<&[bool]>) -> Option<Length> {
    let pieces = plan.facts.runs[run].run.way.given()?;
    pieces
        .iter()
        .filter_map(|piece| {
            let PieceKind::Hose {
                size: Size::Named(size),
                ..
            } = &piece.kind
            else {
                return None;
            };
            let there = on.is_none_or(|on| {
                plan.find(Site::Run(run), &piece.name)
                    .is_some_and(|node| on[node])
            });
            there.then(|| size.as_length())
        })
        .min()
}

/// A calorifier on a tee of the main loop with a loop so wide that the water goes round by it.
pub(super) fn takes(plan: &Plan, thing: usize, whole: &Subject, out: &mut Vec<Verdict>) {
    let facts = plan.facts;
    let own = &facts.things[thing];
    let feed = facts.on(thing).find_map(|(run, _, comes)| {
        let RunEnd::Tee { run: main, piece } = &facts.runs[run].run.from else {
            return None;
        };
        let tee = plan.find(Site::Run(facts.run(main)?), piece)?;
        let coolant = facts.runs[run].run.carries == Carries::Coolant;
        (comes && coolant && plan.on_main[tee]).then_some(run)
    });
    let Some(feed) = feed else {
        return;
    };
    let coil = own.thing.detail.coil.as_ref();
    let coil = coil
        .and_then(|coil| coil.bore.given())
        .map(|bore| bore.value);
    let beside = narrowest(plan, feed, None).into_iter().chain(coil).min();
    let main = (0..facts.runs.len())
        .filter_map(|run| narrowest(plan, run, Some(&plan.on_main)))
        .min();
    let (Some(beside), Some(main)) = (beside, main) else {
        return;
    };
    if beside.si() <= WIDE_SHARE * main.si() {
        return;
    }
    let key = &facts.runs[feed].run.key;
    let because = Words::of(|system| {
        format!(
            "{key} is teed from the main loop and {} wide, the main loop {}: over half as wide, it takes flow from the cooler.",
            size(beside, system),
            size(main, system)
        )
    });
    let mut said = verdict(
        whole,
        "takes",
        Grade::Marginal,
        because,
        "Put a restrictor or a throttling valve into its feed, or take it off the engine's heater connections.",
    );
    said.place = format!("{}.way", facts.runs[feed].place);
    said.basis = Basis::Practice;
    said.caution = Some(HOT.into());
    said.working.limit = "a loop beside the main one at most half as wide as that".into();
    said.source(DRAWN);
    said.source(PRACTICE);
    out.push(said);
}
