//! Hull: a valve wherever the sea can come in, nothing soft outboard of it, and metals kept apart.

use boat::{Carries, ChainKind, HullStuff, Metal, Piece, ThingKind, Told};

use super::{PRACTICE, SEA, missing, subject, verdict, waits};
use crate::say;
use crate::stages::circuit::plan::Plan;
use crate::stages::types::{Missing, SaltFacts};
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
        // What no hose and no cooler is on may still be a way to the sea.
        let idle = runs.is_empty() && outside.is_none();
        if idle && (!super::ends::has_tail(plan, i) || super::ends::is_dry(plan, i)) {
            continue;
        }
        let whole = subject(
            own.key(),
            own.key().to_owned(),
            format!("{}.chain", own.place),
        );
        inlet(plan, i, out);
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

/// An inlet of raw water that does not stand under the water she floats in.
fn inlet(plan: &Plan, fitting: usize, out: &mut Vec<Verdict>) {
    let own = &plan.facts.things[fitting];
    let draws = plan
        .facts
        .on(fitting)
        .any(|(run, _, comes)| !comes && plan.facts.runs[run].run.carries == Carries::RawWater);
    let told = super::ends::height_of(plan, fitting);
    let Some(at) = told.as_ref().ok().map(super::best).filter(|_| draws) else {
        return;
    };
    if at < 0.0 {
        return;
    }
    let whole = subject(own.key(), own.key().to_owned(), format!("{}.h", own.place));
    let because = Words::of(|system| {
        format!(
            "{} stands {} over the waterline, and raw water is drawn by it: what comes in is air.",
            say::capital(own.key()),
            say::whole_mm(at, system)
        )
    });
    let mut said = verdict(
        &whole,
        "inlet",
        Grade::Unsound,
        because,
        "Measure its height again; where it is right, have the inlet set well under the waterline when she is lifted out.",
    );
    finish(&mut said);
    super::input(&mut said, "h", "height of the inlet", told);
    said.basis = Basis::Physics;
    said.working.limit = "an inlet of raw water under the waterline".into();
    said.working.sources.clear();
    said.source(super::DRAWN);
    out.push(said);
}

/// The cooler that lies outside a hull fitting.
fn outside_of(plan: &Plan, fitting: &str) -> Option<usize> {
    plan.facts
        .things
        .iter()
        .position(|own| own.thing.detail.between.iter().any(|key| key == fitting))
}

/// The first valve of a way that one can shut, as one comes from the sea, by the hose that stands outboard of it; `None` where
/// it has no valve at all. `comes` says that the way ends at the sea.
fn first_valve(pieces: &[Piece], comes: bool) -> Option<Option<String>> {
    let mut order: Vec<usize> = (0..pieces.len()).collect();
    if comes {
        order.reverse();
    }
    let valve = order.iter().position(|i| pieces[*i].kind.can_be_shut())?;
    let hose = order[..valve]
        .iter()
        .find(|i| !pieces[**i].kind.is_male())
        .map(|i| pieces[*i].name.clone());
    Some(hose)
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
    let valve_at = chain.iter().position(|part| part.kind.is_valve());
    let tail_at = chain.iter().position(|part| part.kind == ChainKind::Tail);
    // A tail before the valve is there to take a hose.
    let soft = matches!((tail_at, valve_at), (Some(tail), Some(valve)) if tail < valve);
    if valve_at.is_some() && !soft {
        return;
    }
    let in_run = facts.on(fitting).find_map(|(run, _, comes)| {
        let pieces = facts.runs[run].run.way.given()?;
        Some((run, first_valve(pieces, comes)?))
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
                        .any(|part| part.kind.is_valve())
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
    for (i, own) in plan.facts.things.iter().enumerate() {
        let outside = own.is(ThingKind::KeelPipes) || own.is(ThingKind::SkinTank);
        let ends = own.thing.detail.between.len();
        if !outside || ends >= 2 {
            continue;
        }
        let led_to = ends == 0 && !own.thing.spigots.is_empty();
        // A tank that is built into the hull is led to by runs of its own: its wall is the hull.
        if led_to && own.is(ThingKind::SkinTank) {
            continue;
        }
        let runs: Vec<(usize, bool)> = plan
            .facts
            .on(i)
            .filter(|(run, _, _)| plan.facts.runs[*run].run.carries == Carries::Coolant)
            .map(|(run, _, comes)| (run, comes))
            .collect();
        if led_to && !runs.is_empty() {
            direct(plan, i, &runs, out);
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

/// Keel pipes to which runs lead with no hull fitting between: then each run has to have the valve.
fn direct(plan: &Plan, thing: usize, runs: &[(usize, bool)], out: &mut Vec<Verdict>) {
    let facts = plan.facts;
    let own = &facts.things[thing];
    let whole = subject(own.key(), own.key().to_owned(), own.place.clone());
    let place = |run: usize| format!("{}.way", facts.runs[run].place);
    let mut bare: Vec<usize> = Vec::new();
    let mut soft: Option<(usize, String)> = None;
    let mut unknown: Option<usize> = None;
    for (run, comes) in runs {
        let Some(pieces) = facts.runs[*run].run.way.given() else {
            unknown = unknown.or(Some(*run));
            continue;
        };
        match first_valve(pieces, *comes) {
            None => bare.push(*run),
            Some(Some(hose)) if soft.is_none() => soft = Some((*run, hose)),
            Some(_) => {}
        }
    }
    let (rule, at, because, remedy) = if let Some(first) = bare.first() {
        let names: Vec<String> = bare
            .iter()
            .map(|run| facts.runs[*run].run.key.clone())
            .collect();
        (
            "valve",
            *first,
            format!(
                "{} is led to directly, and of its {} runs {} without a valve, {}: a hole in the pipes outside lets the sea into the boat by the first hose that comes off.",
                own.key(),
                runs.len(),
                bare.len(),
                say::list(&names, "and")
            ),
            "Look what stands at the hull and write it as hull fittings with their stacks, `between = [\"…\", \"…\"]`; where there is no valve, have a full-bore one set on a rigid stub at the hull when she is lifted out.",
        )
    } else if let Some((run, hose)) = &soft {
        (
            "outboard",
            *run,
            format!(
                "{hose} of {} stands between {} and the only valve: 1 hose and its 2 joints hold the sea out, and nothing shuts it off.",
                facts.runs[*run].run.key,
                own.key()
            ),
            "Have the valve set on a rigid, thick-walled stub right at the hull when she is lifted out; shut it and look at the hose at each visit until then.",
        )
    } else if let Some(run) = unknown {
        let missing = missing(
            "not written",
            place(run),
            "Write the way of the run with its valve: `way = \"valve 38 full bronze + hose 38 wired\"`.",
        );
        let name = format!("The way of {}", facts.runs[run].run.key);
        out.push(waits(&whole, "valve", &name, &missing));
        return;
    } else {
        return;
    };
    let mut said = verdict(
        &whole,
        rule,
        Grade::Unsound,
        say::capital(&because).as_str().into(),
        remedy,
    );
    said.place = place(at);
    finish(&mut said);
    out.push(said);
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
    let Some((part, metal)) = alloy else {
        return;
    };
    if matches!(facts.salt, SaltFacts::Fresh) {
        return;
    }
    let Told::Given(hull) = facts.hull else {
        let why = format!(
            "{} of its {}, and not told of what the hull is",
            metal.word(),
            part.name
        );
        let missing = missing(
            &why,
            "boat.hull".into(),
            "Write of what the hull is built: `hull = \"steel\"`, `\"aluminium\"`, `\"glass\"`, `\"wood\"` or `\"cement\"`.",
        );
        out.push(waits(whole, "isolated", "Metal", &missing));
        return;
    };
    let aluminium = *hull == HullStuff::Aluminium;
    if !aluminium && *hull != HullStuff::Steel {
        return;
    }
    // Whether salt reaches it matters where the two metals may waste each other.
    if let SaltFacts::Unknown(settles) = &facts.salt
        && (aluminium || matches!(own.thing.detail.isolated, Told::Given(false)))
    {
        let why = format!(
            "{} of its {} on a hull of {}, and not told whether salt water wets them",
            metal.word(),
            part.name,
            hull.word()
        );
        let missing = Missing {
            why: why.as_str().into(),
            settles: settles.clone(),
        };
        out.push(waits(whole, "isolated", "Metal", &missing));
        return;
    }
    let place = format!("{}.isolated", own.place);
    // Pads and bushes keep the two apart, but the copper that the sea carries off still pits aluminium.
    if aluminium {
        let because = format!(
            "The {} of {} is of {}, 1 copper alloy on a hull of aluminium in salt water: it wastes the hull round it, isolated or not.",
            part.name,
            own.key(),
            metal.word()
        );
        let mut said = verdict(
            whole,
            "isolated",
            Grade::Unsound,
            because.as_str().into(),
            "Have it replaced when she is lifted out, by one of reinforced plastic made for hull fittings or of her own metal.",
        );
        said.place = format!("{}.chain", own.place);
        said.basis = Basis::Physics;
        said.caution = Some(SEA.into());
        said.working.limit = "no copper alloy on a hull of aluminium in salt water".into();
        said.source(PRACTICE);
        out.push(said);
        return;
    }
    match own.thing.detail.isolated {
        Told::Given(true) => {}
        Told::Given(false) => {
            let because = format!(
                "The {} of {}, of {}, touches the hull of {}, not isolated, and sea or bilge water wets both: of the 2 metals the hull wastes round it.",
                part.name,
                own.key(),
                metal.word(),
                hull.word()
            );
            let mut said = verdict(
                whole,
                "isolated",
                Grade::Marginal,
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
