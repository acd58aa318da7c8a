//! What the hoses' own low spots keep back, against what was metered as staying inside.

use quantity::{System, show};

use super::facts::FillInput;
use crate::verdict::{Basis, Grade, Stage, Verdict, Words};

/// How far what a low spot holds may be off by bore and shape, as a share. Ours.
const OFF: f64 = 0.15;

/// Whether what stayed inside is as much at least as the low spots hold.
pub(super) fn verdict(input: &FillInput) -> Option<Verdict> {
    let lows = input.lows.as_ref()?;
    let inside = input.inside.as_ref().ok()?;
    let most = inside.measured.high;
    let least = lows.volume * (1.0 - OFF);
    let short = most < least;
    let held = lows.words();
    let told = |system: System| show(inside.measured.value, None, system);
    let (grade, because, remedy) = if short {
        (
            Grade::Marginal,
            Words::of(|system| {
                format!(
                    "{}, and only {} stayed inside as it was metered: one of the two is wrong, or these hoses were drained each by itself.",
                    held.in_units(system),
                    told(system)
                )
            }),
            "Open each of these runs at its lowest place over a bucket, or meter once more what runs out.".into(),
        )
    } else {
        (
            Grade::Sound,
            Words::of(|system| {
                format!(
                    "{}; of all the circuit {} stayed inside.",
                    held.in_units(system),
                    told(system)
                )
            }),
            Words::default(),
        )
    };
    let mut verdict = input
        .subject
        .verdict(Stage::Fill, "low-spots", grade, because);
    verdict.basis = Basis::Physics;
    verdict.remedy = remedy;
    verdict.place = input.place("inside.volume");
    verdict.input("r", "inside", inside);
    let volume = lows.volume;
    verdict.step(
        "V_low = sum over the runs of what their low spots hold, upright",
        lows.runs.join(" + ").as_str().into(),
        Words::of(|system| show(volume, Some(volume * 0.1), system)),
    );
    verdict.working.limit = Words::of(|system| {
        format!(
            "no less than {} inside",
            show(least, Some(least * 0.1), system)
        )
    });
    verdict.source("filled to the lower of the brims beside each low spot");
    Some(verdict)
}
