//! The header tank: room for the coolant to grow, its size, and the air that is closed in over it.

use quantity::Kind;

use super::{
    COMPUTED, Case, HOT, PRACTICE, deg, input, kpa, litres, of_celsius, of_pascals, of_volume,
    percent, subject, verdict,
};
use crate::say;
use crate::stages::flow::row::VolumeRow;
use crate::stages::types::Subject;
use crate::verdict::{Basis, Grade, Margin, Verdict, Words};

/// Room to keep beyond the growth, as a share of the whole. Common practice, no source.
const SPARE: f64 = 0.05;
/// Volume of the tank as a share of the whole: from the one, usually up to the other. Common practice, no source.
const TANK: [f64; 2] = [0.12, 0.15];
/// Whence the growth is.
const DENSITY: &str = "density of the coolant cold and hot, by the tables of the fill stage";

/// Judges the family.
pub(super) fn judge(case: &Case, out: &mut Vec<Verdict>) {
    let Some(volume) = &case.row.volume else {
        return;
    };
    let whole = subject("header", "header tank", &volume.place);
    out.extend(room(volume, &whole));
    out.extend(size(volume, &whole));
    out.extend(air(volume, &whole));
}

/// Room that is short by less than this share of the growth is not told from enough: volumes are measured no
/// better. Common practice, no source.
const NEAR_ENOUGH: f64 = 0.95;

/// Whether the coolant has room to grow; nothing where a volume is not known, which the filling asks for.
fn room(volume: &VolumeRow, whole: &Subject) -> Option<Verdict> {
    let (growth, room, all) = (volume.growth?, volume.room?, volume.whole?);
    let need = growth + SPARE * all;
    let grade = if room >= need {
        Grade::Sound
    } else if room >= NEAR_ENOUGH * growth {
        Grade::Marginal
    } else {
        Grade::Unsound
    };
    let because = Words::of(|system| {
        let grows = format!(
            "From {} to {} the {} of coolant grow by {}, and over the cold mark there is room for {}",
            deg(volume.temperatures[0], system),
            deg(volume.temperatures[1], system),
            litres(all, system),
            litres(growth, system),
            litres(room, system)
        );
        match grade {
            Grade::Unsound => format!(
                "{grows}: {} runs out at each warm-up, and as much air comes in at each cool-down.",
                litres(growth - room, system)
            ),
            Grade::Marginal => format!(
                "{grows}: {} less than is wanted with {} to spare.",
                litres(need - room, system),
                percent(SPARE)
            ),
            _ => format!("{grows}."),
        }
    });
    let remedy = match grade {
        Grade::Unsound => {
            "Fit a header tank with more room over its cold mark, or lead the overflow into a bottle that gives it back."
        }
        Grade::Marginal => {
            "Fill no higher than the cold mark and look at the level after the first hot runs; plan a larger tank."
        }
        _ => "",
    };
    let mut said = verdict(whole, "room", grade, because, remedy);
    said.basis = if room < growth {
        Basis::Physics
    } else {
        Basis::Practice
    };
    if grade != Grade::Sound {
        said.caution = Some(HOT.into());
    }
    said.margin = Some(Margin {
        value: room,
        deviation: None,
        low: Some(need),
        high: None,
        kind: Kind::Volume,
    });
    parts(volume, &mut said);
    input(&mut said, "ΔV", "growth", of_volume(growth), COMPUTED);
    input(
        &mut said,
        "V_r",
        "room over the cold mark",
        of_volume(room),
        "file",
    );
    said.step(
        "ΔV + 0.05 V",
        Words::of(|system| {
            format!(
                "{} + 0.05 × {}",
                litres(growth, system),
                litres(all, system)
            )
        }),
        Words::of(|system| litres(need, system)),
    );
    if let Some(tank) = volume.header {
        said.step(
            "V_h ÷ V",
            Words::of(|system| format!("{} ÷ {}", litres(tank, system), litres(all, system))),
            percent(tank / all).as_str().into(),
        );
    }
    if let Some(air) = volume.air {
        said.step(
            "closed air over the hot coolant",
            "pressure times volume stays, from cold to hot".into(),
            Words::of(|system| kpa(air, system)),
        );
    }
    said.working.limit = Words::of(|system| {
        format!(
            "{}: the growth and {} of the whole",
            litres(need, system),
            percent(SPARE)
        )
    });
    said.source(DENSITY);
    said.source(PRACTICE);
    Some(said)
}

/// What is in the circuit.
fn parts(volume: &VolumeRow, said: &mut Verdict) {
    for (name, part, from) in &volume.parts {
        input(said, "V_i", name, of_volume(*part), from);
    }
    if let Some(all) = volume.whole {
        input(
            said,
            "V",
            "volume of the circuit",
            of_volume(all),
            &volume.from,
        );
    }
    let [cold, hot] = volume.temperatures;
    input(said, "t_1", "filled at", of_celsius(cold), "file");
    input(said, "t_2", "hot", of_celsius(hot), COMPUTED);
}

/// A tank that is small for the circuit, as the trade has it.
fn size(volume: &VolumeRow, whole: &Subject) -> Option<Verdict> {
    let (tank, all) = (volume.header?, volume.whole?);
    let share = tank / all;
    if share >= TANK[0] {
        return None;
    }
    let because = Words::of(|system| {
        format!(
            "The tank holds {}, {} of the {} in the circuit; usual are {} to {}.",
            litres(tank, system),
            say::percent(share),
            litres(all, system),
            percent(TANK[0]),
            percent(TANK[1])
        )
    });
    let remedy = "Fit a larger header tank, or watch the level more often: what leaks out is missed the sooner the smaller it is.";
    let mut said = verdict(whole, "size", Grade::Marginal, because, remedy);
    said.margin = Some(Margin {
        value: tank,
        deviation: None,
        low: Some(TANK[0] * all),
        high: None,
        kind: Kind::Volume,
    });
    parts(volume, &mut said);
    said.step(
        "V_h ÷ V",
        Words::of(|system| format!("{} ÷ {}", litres(tank, system), litres(all, system))),
        say::percent(share).as_str().into(),
    );
    said.working.limit = format!("{} to {} of the whole", percent(TANK[0]), percent(TANK[1]))
        .as_str()
        .into();
    said.source(PRACTICE);
    Some(said)
}

/// Closed air that comes over the cap, which then lets out air and coolant.
fn air(volume: &VolumeRow, whole: &Subject) -> Option<Verdict> {
    let (air, cap) = (volume.air?, volume.cap?);
    if air <= cap {
        return None;
    }
    let because = Words::of(|system| {
        let out = volume
            .overflow
            .filter(|out| *out > 0.0)
            .map_or_else(String::new, |out| {
                format!(", and {} of coolant with it", litres(out, system))
            });
        format!(
            "The air closed in over the hot coolant comes to {}, and the cap lets it out at {}{out}.",
            kpa(air, system),
            kpa(cap, system)
        )
    });
    let remedy = "Leave more air over the cold mark, or lead the overflow into a bottle that gives the coolant back.";
    let mut said = verdict(whole, "air", Grade::Marginal, because, remedy);
    said.basis = Basis::Physics;
    said.caution = Some(HOT.into());
    said.margin = Some(Margin {
        value: air,
        deviation: None,
        low: None,
        high: Some(cap),
        kind: Kind::PressureDifference,
    });
    input(
        &mut said,
        "p_a",
        "closed air, hot",
        of_pascals(air),
        COMPUTED,
    );
    input(&mut said, "p_c", "cap", of_pascals(cap), "file");
    said.working.limit = "air that stays under the cap's figure".into();
    said.source(
        "pressure times volume of closed air is the same cold and hot, but for its warming",
    );
    Some(said)
}
