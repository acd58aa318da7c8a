//! The raw-water side when the engine stands: whether the sea can run on by itself into the exhaust, and
//! through it into the engine.

use boat::{Carries, ThingKind};
use quantity::{Length, System};

use super::{DRAWN, PRACTICE, SEA, best, input, size, subject, verdict, waits};
use crate::stages::circuit::plan::{Plan, Site};
use crate::stages::types::Known;
use crate::verdict::{Basis, Grade, Verdict, Words};

/// The lowest height over the laden waterline at which water may be sprayed in without a break of the siphon
/// [m]. Common practice, no source.
const LOW: f64 = 0.15;
/// The height over it of a break of the siphon [m]. Common practice, no source.
const BREAK: f64 = 0.30;

/// Judges the family: where the raw water comes into an exhaust.
pub fn judge(plan: &Plan, out: &mut Vec<Verdict>) {
    let facts = plan.facts;
    let wet = plan.with_raw_water_at_best();
    let raw = |at: &usize| {
        facts.runs[*at].run.carries == Carries::RawWater && plan.any(Site::Run(*at), &wet)
    };
    let runs: Vec<usize> = (0..facts.runs.len()).filter(raw).collect();
    let source = |thing: usize| {
        runs.iter().any(|at| {
            let from = facts.end(&facts.runs[*at].run.from);
            from.is_some_and(|(from, _)| from == thing)
        })
    };
    let laden = facts.laden.unwrap_or(0.0).max(0.0);
    for at in &runs {
        let own = &facts.runs[*at];
        let Some((thing, spigot)) = facts.end(&own.run.to) else {
            continue;
        };
        let into = &facts.things[thing];
        let sprays = into.is(ThingKind::InjectionElbow) || into.thing.engine.is_some();
        if !sprays || source(thing) {
            continue;
        }
        let whole = subject(
            &format!("{}.{spigot}", into.key()),
            format!("{spigot} of {}, where raw water is sprayed in", into.key()),
            own.place.clone(),
        );
        let Some(sprayed) = facts.end_height(&own.run.to) else {
            continue;
        };
        let breaks = facts.things.iter().enumerate().filter(|(i, other)| {
            other.is(ThingKind::SiphonBreak) && plan.any(Site::Thing(*i), &wet)
        });
        let top = breaks.map(|(_, other)| highest(other)).next();
        out.push(siphon(&whole, sprayed, top, laden));
    }
}

/// The highest that is told of a break of the siphon.
fn highest<'a>(own: &'a crate::stages::circuit::input::ThingAt<'a>) -> &'a Known<Length> {
    let told = own.spigots.iter().chain([&own.height]);
    let known = told.filter(|height| height.is_ok());
    known
        .max_by(|a, b| {
            let of = |height: &Known<Length>| height.as_ref().map_or(f64::MIN, best);
            of(a).total_cmp(&of(b))
        })
        .unwrap_or(&own.height)
}

fn siphon(
    whole: &crate::stages::types::Subject,
    sprayed: &Known<Length>,
    top: Option<&Known<Length>>,
    laden: f64,
) -> Verdict {
    let at = match sprayed {
        Ok(at) => best(at) - laden,
        Err(unknown) => return waits(whole, "siphon", "Its height over the waterline", unknown),
    };
    let over = |metres: f64, system: System| {
        let side = if metres < 0.0 { "under" } else { "over" };
        format!("{} {side}", size(Length::of_si(metres.abs()), system))
    };
    let (grade, because, remedy) = if at >= LOW {
        (
            Grade::Sound,
            Words::of(|system| {
                format!(
                    "Raw water is sprayed in {} the laden waterline: what stands in the hose runs no further when the engine stops.",
                    over(at, system)
                )
            }),
            "",
        )
    } else {
        match top {
            None => (
                Grade::Unsound,
                Words::of(|system| {
                    format!(
                        "Raw water is sprayed in {} the laden waterline, and nothing breaks the siphon: past a worn impeller the sea runs on into the exhaust, and from there into the engine.",
                        over(at, system)
                    )
                }),
                "Lead the raw water up through a siphon break between the exchanger and the exhaust, and shut the inlet whenever the engine stands.",
            ),
            Some(Err(unknown)) => {
                return waits(whole, "siphon", "The height of the siphon break", unknown);
            }
            Some(Ok(top)) => {
                let top = best(top) - laden;
                let grade = if top >= BREAK {
                    Grade::Sound
                } else if top > 0.0 {
                    Grade::Marginal
                } else {
                    Grade::Unsound
                };
                (
                    grade,
                    Words::of(|system| {
                        format!(
                            "Raw water is sprayed in {} the laden waterline, and the siphon break stands {} it.",
                            over(at, system),
                            over(top, system)
                        )
                    }),
                    if grade == Grade::Sound {
                        ""
                    } else {
                        "Set the siphon break higher, and shut the inlet whenever the engine stands."
                    },
                )
            }
        }
    };
    let mut said = verdict(whole, "siphon", grade, because, remedy);
    said.basis = Basis::Practice;
    if grade != Grade::Sound {
        said.caution = Some(SEA.into());
    }
    input(&mut said, "h", "where raw water is sprayed in", sprayed);
    if let Some(top) = top {
        input(&mut said, "h_b", "top of the siphon break", top);
    }
    said.working.limit = Words::of(|system| {
        let of = |metres: f64| size(Length::of_si(metres), system);
        format!(
            "{} over the laden waterline, or a siphon break {} over it",
            of(LOW),
            of(BREAK)
        )
    });
    said.source(DRAWN);
    said.source(PRACTICE);
    said
}
