//! Hull: a valve wherever the sea can come in, nothing soft outboard of it, and metals kept apart.

use boat::{ChainKind, HullStuff, Metal, PieceKind, ThingKind, Told};

use super::{PRACTICE, SEA, missing, subject, verdict, waits};
use crate::stages::circuit::plan::Plan;
use crate::stages::types::SaltFacts;
use crate::verdict::{Basis, Grade, Verdict, Words};

/// Rules of inspected small craft that ask for a valve at the hull and a thick-walled stub outboard of it.
const SHELL: &str =
    "US rules for inspected small passenger vessels, keel coolers (46 CFR 182.422), from memory";

/// Judges the family.
pub fn judge(plan: &Plan, out: &mut Vec<Verdict>) {
    let before = out.len();
    let facts = plan.facts;
    let mut judged = 0;
    for (i, own) in facts.things.iter().enumerate() {
        if !own.is(ThingKind::HullFitting) {
            continue;
        }
        let runs: Vec<usize> = facts.on(i).map(|(run, _, _)| run).collect();
        let outside = outside_of(plan, own.key());
        if runs.is_empty() && outside.is_none() {
            continue;
        }
        let whole = subject(
            own.key(),
            own.key().to_owned(),
            format!("{}.chain", own.place),
        );
        if own.thing.chain.is_empty() {
            let missing = missing(
                "not written",
                format!("{}.chain", own.place),
                "Look at the stack from the sea inward and write it: `chain = \"stub … + ball valve … + tail …\"`.",
            );
            out.push(waits(&whole, "valve", "Its stack", &missing));
            continue;
        }
        judged += 1;
        valve(plan, i, &whole, outside, out);
        metals(plan, i, &whole, out);
    }
    between(plan, out);
    if judged > 0 && out.len() == before {
        let whole = subject("hull", "ways to the sea".into(), "things".into());
        let each = if judged == 1 {
            "The 1 hull fitting".to_owned()
        } else {
            format!("Each of the {judged} hull fittings")
        };
        let because = format!("{each} has its valve, with nothing soft outboard of it.");
        let mut said = verdict(&whole, "valves", Grade::Sound, because.as_str().into(), "");
        said.working.limit =
            "a valve at each way to the sea, and only rigid parts outboard of it".into();
        said.source(SHELL);
        said.source(PRACTICE);
        out.push(said);
    }
}

/// The cooler that lies outside a hull fitting.
fn outside_of(plan: &Plan, fitting: &str) -> Option<usize> {
    plan.facts
        .things
        .iter()
        .position(|own| own.thing.detail.between.iter().any(|key| key == fitting))
}

fn is_valve(kind: ChainKind) -> bool {
    matches!(
        kind,
        ChainKind::BallValve | ChainKind::ConeValve | ChainKind::GateValve
    )
}

/// A way to the sea without a valve of its own.
fn valve(
    plan: &Plan,
    fitting: usize,
    whole: &crate::stages::types::Subject,
    outside: Option<usize>,
    out: &mut Vec<Verdict>,
) {
    let facts = plan.facts;
    let own = &facts.things[fitting];
    let chain = &own.thing.chain;
    let valve_at = chain.iter().position(|part| is_valve(part.kind));
    let tail_at = chain.iter().position(|part| part.kind == ChainKind::Tail);
    // A tail before the valve is there to take a hose.
    let soft = matches!((tail_at, valve_at), (Some(tail), Some(valve)) if tail < valve);
    if valve_at.is_some() && !soft {
        return;
    }
    let in_run = facts.on(fitting).find_map(|(run, _, comes)| {
        let pieces = facts.runs[run].run.way.given()?;
        let mut order: Vec<usize> = (0..pieces.len()).collect();
        if comes {
            order.reverse();
        }
        let valve = order
            .iter()
            .position(|i| matches!(pieces[*i].kind, PieceKind::Valve { .. }))?;
        let hose = order[..valve]
            .iter()
            .find(|i| !pieces[**i].kind.is_male())
            .map(|i| pieces[*i].name.clone());
        Some((run, hose))
    });
    if soft || matches!(&in_run, Some((_, Some(_)))) {
        let (name, place) = match &in_run {
            Some((run, Some(hose))) if !soft => (
                format!("{hose} of {}", facts.runs[*run].run.key),
                format!("{}.way", facts.runs[*run].place),
            ),
            _ => ("a hose".to_owned(), format!("{}.chain", own.place)),
        };
        let because = format!(
            "{name} stands outboard of the only valve of {}: 1 hose and its 2 joints hold the sea out, and nothing shuts it off.",
            own.key()
        );
        let mut said = verdict(
            whole,
            "outboard",
            Grade::Unsound,
            crate::say::capital(&because).as_str().into(),
            "Have the valve set on a rigid, thick-walled stub right at the hull when she is lifted out; shut it and look at the hose at each visit until then.",
        );
        said.place = place;
        finish(&mut said);
        out.push(said);
        return;
    }
    if in_run.is_some() {
        // The valve sits on rigid parts of the run, with nothing soft outboard of it.
        return;
    }
    let skin = outside.is_some_and(|thing| facts.things[thing].is(ThingKind::SkinTank));
    let because = match outside {
        Some(thing) => {
            let cooler = &facts.things[thing];
            let all = cooler.thing.detail.between.iter();
            let with = all
                .filter_map(|key| facts.thing(key))
                .filter(|i| {
                    facts.things[*i]
                        .thing
                        .chain
                        .iter()
                        .any(|part| is_valve(part.kind))
                })
                .count();
            format!(
                "{} has no valve: of the 2 ways to {} outside, {with} can be shut, so that a hole in it lets the sea into the boat by the first hose that comes off.",
                own.key(),
                cooler.key()
            )
        }
        None => format!(
            "{} has 0 valves: nothing shuts the sea off when its hose comes off.",
            own.key()
        ),
    };
    let grade = if skin {
        Grade::Marginal
    } else {
        Grade::Unsound
    };
    let mut said = verdict(
        whole,
        "valve",
        grade,
        crate::say::capital(&because).as_str().into(),
        "Have a full-bore valve set on a rigid stub at the hull when she is lifted out.",
    );
    finish(&mut said);
    out.push(said);
}

fn finish(said: &mut Verdict) {
    said.basis = Basis::Practice;
    said.caution = Some(SEA.into());
    said.working.limit =
        "a valve at each way to the sea, and only rigid parts outboard of it".into();
    said.source(SHELL);
    said.source(PRACTICE);
}

/// Coolers outside whose two ends are not both told.
fn between(plan: &Plan, out: &mut Vec<Verdict>) {
    for own in &plan.facts.things {
        let outside = own.is(ThingKind::KeelPipes) || own.is(ThingKind::SkinTank);
        let ends = own.thing.detail.between.len();
        // Two tanks or pipes may be led to by runs of their own.
        if !outside || ends >= 2 || (ends == 0 && !own.thing.spigots.is_empty()) {
            continue;
        }
        let whole = subject(own.key(), own.key().to_owned(), own.place.clone());
        let missing = missing(
            &format!("{ends} of 2 are written"),
            format!("{}.between", own.place),
            "Find both hull fittings between which it lies and write them: `between = [\"…\", \"…\"]`.",
        );
        out.push(waits(&whole, "between", "Its hull fittings", &missing));
    }
}

/// Metals that waste a hull of steel or aluminium beside them in salt water.
pub(crate) fn is_copper_alloy(metal: Metal) -> bool {
    matches!(
        metal,
        Metal::Copper
            | Metal::CuproNickel
            | Metal::Brass
            | Metal::Dzr
            | Metal::Gunmetal
            | Metal::Bronze
            | Metal::AluminiumBronze
            | Metal::ManganeseBronze
    )
}

/// Copper alloys that stand on a metal hull without being kept apart from it.
fn metals(
    plan: &Plan,
    fitting: usize,
    whole: &crate::stages::types::Subject,
    out: &mut Vec<Verdict>,
) {
    let facts = plan.facts;
    let own = &facts.things[fitting];
    let alloy = own
        .thing
        .chain
        .iter()
        .filter_map(|part| Some((part, part.metal?)))
        .find(|(_, metal)| is_copper_alloy(*metal));
    let (Some((part, metal)), Told::Given(hull)) = (alloy, facts.hull) else {
        return;
    };
    if !matches!(hull, HullStuff::Steel | HullStuff::Aluminium)
        || !matches!(facts.salt, SaltFacts::Salt)
    {
        return;
    }
    let place = format!("{}.isolated", own.place);
    match own.thing.detail.isolated {
        Told::Given(true) => {}
        Told::Given(false) => {
            let grade = if *hull == HullStuff::Aluminium {
                Grade::Unsound
            } else {
                Grade::Marginal
            };
            let because = format!(
                "The {} of {} is of {} on a hull of {}, 2 metals joined in salt water and not isolated: the hull wastes round it.",
                part.name,
                own.key(),
                metal.word(),
                hull.word()
            );
            let mut said = verdict(
                whole,
                "isolated",
                grade,
                because.as_str().into(),
                "Have it isolated by pad, bushes and washers, or put in one of the hull's metal, when she is lifted out.",
            );
            said.place = place;
            said.basis = Basis::Physics;
            said.caution = Some(SEA.into());
            said.working.limit =
                Words::from("metals apart in the galvanic series are kept apart in salt water");
            said.source(PRACTICE);
            out.push(said);
        }
        _ => {
            let how = format!(
                "Look whether pads, bushes and washers keep the {} from the hull, and write `isolated = true` or `false`.",
                part.name
            );
            let why = format!(
                "not told whether its {} of {} is kept from the hull of {}",
                part.name,
                metal.word(),
                hull.word()
            );
            out.push(waits(
                whole,
                "isolated",
                "Metal",
                &missing(&why, place, &how),
            ));
        }
    }
}
