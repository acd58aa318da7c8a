//! The working of the clip: inputs, the models of the fitted diameter, and how the choice fell.

use quantity::Quantity;
use reference::clip::{ClipKind, clip_fact, sizing_advice};

use super::Ctx;
use super::catalogue;
use super::clip::{Diameters, Ring, Tried, kind_wanted, reach, sound_limit};
use super::numbers::Numbers;
use crate::say;
use crate::solve::clip::{Reach, middle_of_range, nearest_open};
use crate::stages::types::Neighbour;
use crate::verdict::{Verdict, Words};

/// Inputs, models and squeezed diameter, for the working.
pub(super) fn show_diameters(ctx: &Ctx, verdict: &mut Verdict, diameters: &Diameters) {
    let (input, numbers) = (ctx.input, ctx.numbers);
    if let Ok(od) = &input.spigot.od {
        verdict.input("d_s", "spigot", od);
    }
    if let Some(Ok(trial)) = &input.note.fitted_over {
        verdict.input("D", "outside of the hose, pushed on for trial", trial);
    } else {
        if let Ok(bore) = &ctx.hose.bore {
            verdict.input("d_i", "bore of the hose", bore);
        }
        match &ctx.hose.outside {
            Ok(crate::stages::types::Outside::Over(over)) => {
                verdict.input("d_o", "outside of the free hose", over);
            }
            Ok(crate::stages::types::Outside::Wall(wall)) => {
                verdict.input("t", "wall of the hose; d_o = d_i + 2 t", wall);
            }
            Err(_) => {}
        }
        show_models(numbers, verdict);
    }
    let mean = diameters.squeezed.linear.mean;
    let share = diameters.squeeze;
    let (low, high) = numbers.fitted();
    let filled = Words::of(|system| {
        format!(
            "c = {}, D = {}",
            say::short_percent(share),
            say::mm_range(low, high, system)
        )
    });
    verdict.step(
        "D − c (D − d_s), the hose under the tightened clip",
        filled,
        Words::of(|system| say::mm(mean, system)),
    );
    if let Ring::Over(over) = &diameters.ring {
        let mean = over.linear.mean;
        if let Ok(bead) = &input.spigot.bead {
            verdict.input("d_b", "over the bead", bead);
        }
        let words = if input.note.ring_on_first {
            "the ring goes on the bare spigot first"
        } else {
            "the ring passes the hose on the bead"
        };
        verdict.step(
            "least opening of a ring",
            words.into(),
            Words::of(|system| say::mm(mean, system)),
        );
    }
}

fn show_models(numbers: &Numbers, verdict: &mut Verdict) {
    let fit = numbers.middle();
    let (a, b, c) = (fit.no_slip(), fit.free(), fit.wall_kept());
    let roots = |system| {
        let (s, o, i) = (
            say::bare_mm(fit.spigot, system),
            say::bare_mm(fit.over, system),
            say::bare_mm(fit.bore, system),
        );
        (s, o, i)
    };
    let filled = Words::of(|system| {
        let (s, o, i) = roots(system);
        format!("√({s}² + {o}² − {i}²)")
    });
    verdict.step(
        "A, no slip: D = √(d_s² + d_o² − d_i²)",
        filled,
        Words::of(|system| say::mm(a, system)),
    );
    verdict.step(
        "B, free to shorten: (D² − d_s²) m^−1/2 = d_o² − d_i², m = (D + d_s)/(d_o + d_i)",
        "by repeated steps".into(),
        Words::of(|system| say::mm(b, system)),
    );
    let filled = Words::of(|system| {
        let (s, o, i) = roots(system);
        format!("{s} + ({o} − {i})")
    });
    verdict.step(
        "C, wall unchanged: D = d_s + d_o − d_i",
        filled,
        Words::of(|system| say::mm(c, system)),
    );
    if let Some(braid) = fit.braid() {
        verdict.step(
            "braid at its neutral angle, for information",
            "l = √(3 − 2 m²)".into(),
            Words::of(|system| say::mm(braid, system)),
        );
    }
    let (low, high) = numbers.worst();
    verdict.step(
        "least by A, most by C, with what the readings may be off",
        "at the corners of the limits".into(),
        Words::of(|system| say::mm_range(low, high, system)),
    );
    verdict.source("constant volume of rubber, worked out; spigot and two walls is the rule of a fitting supplier's guide for ear clips (printed)");
}

/// Both readings of the advice, the neighbours, and what would have been picked from the free hose.
pub(super) fn show_choice(
    ctx: &Ctx,
    verdict: &mut Verdict,
    diameters: &Diameters,
    tried: &[Tried],
    neighbours: &[Neighbour],
) {
    let sound = sound_limit(ctx.input.terms.stakes);
    let passing: Vec<(usize, Reach)> = tried
        .iter()
        .enumerate()
        .filter(|(_, tried)| tried.chance >= sound)
        .map(|(i, tried)| (i, reach(&tried.clip)))
        .collect();
    let fitted = diameters.to_pass.linear.mean;
    let named = |i: usize| format!("{}, {}", tried[i].clip.name, say::chance(tried[i].chance));
    if let (Some(near), Some(middle)) = (nearest_open(&passing), middle_of_range(&passing, fitted))
    {
        verdict.step(
            "of those that hold, the open size nearest to the hose",
            "one source's advice".into(),
            named(near).as_str().into(),
        );
        verdict.step(
            "of those that hold, the hose in the middle of the range",
            "another source's advice".into(),
            named(middle).as_str().into(),
        );
        let kind = tried
            .first()
            .map_or(ClipKind::WormDrive, |tried| tried.clip.kind);
        for advice in sizing_advice(kind) {
            verdict.source(advice.source.cite());
        }
    }
    if !neighbours.is_empty() {
        let text: Vec<String> = neighbours
            .iter()
            .map(|neighbour| format!("{} holds {}", neighbour.clip, say::chance(neighbour.chance)))
            .collect();
        verdict.step(
            "the next sizes either side",
            say::list(&text, "and").as_str().into(),
            Words::default(),
        );
    }
    let Ok(_) = &ctx.hose.outside else { return };
    let free = ctx.numbers.middle().over;
    let kind = kind_wanted(ctx);
    let from_free: Vec<(usize, Reach)> = catalogue::sold(kind)
        .iter()
        .enumerate()
        .filter(|(_, clip)| clip.closed.si() <= free && free <= clip.open.si())
        .map(|(i, clip)| (i, reach(clip)))
        .collect();
    if let Some(i) = nearest_open(&from_free) {
        let clip = &catalogue::sold(kind)[i];
        let chance = diameters.judge(ctx.numbers, clip).chance.value();
        if chance < sound {
            let result = format!("{}: it would hold {}", clip.name, say::chance(chance));
            verdict.step(
                "what one would pick from the free hose",
                Words::of(|system| format!("open size nearest to {}", say::mm(free, system))),
                result.as_str().into(),
            );
        }
    }
    if let Some(fact) = clip_fact("packs-differ") {
        verdict.source(fact.source.cite());
    }
}
