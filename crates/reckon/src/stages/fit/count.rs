//! One clip or two: what metal there is, what a rule wants, what is good practice.

use quantity::{Kind, Length, Quantity, System};
use reference::insertion::{behind_bead, between_clips, from_hose_end, straight_needed};
use reference::rule::clip_rule;

use super::{Ctx, clip};
use crate::draft::edit;
use crate::say;
use crate::solve::chance::{Chance, Spread};
use crate::stages::types::{Below, ClipFacts, Value};
use crate::verdict::{Basis, Grade, Margin, Settles, Verdict, Words, grade};

/// The verdict, and how many clips the joint gets.
pub(super) struct Counted {
    pub(super) verdict: Verdict,
    pub(super) clips: Option<u32>,
}

/// The chance that a measured length is at least what is needed: of one reading by itself, so that
/// it follows its even spread and no normal one. Where a guess decides it, that is said.
pub(super) fn long_enough(value: &Value<Length>, needed: Length) -> Chance {
    let spread = Spread {
        low: value.measured.low.si(),
        high: value.measured.high.si(),
    };
    Chance {
        first_order: spread.at_least(needed.si()),
        sampled: None,
        guessed: if value.is_guess() { 1.0 } else { 0.0 },
    }
}

/// Judges how many clips the joint has or gets.
pub(super) fn clips(ctx: &Ctx, chosen: Option<&ClipFacts>) -> Counted {
    let input = ctx.input;
    let subject = &input.subject;
    let below = matches!(input.terms.below, Below::Yes(_));
    let behind = match &input.spigot.behind_bead {
        Ok(behind) => behind,
        Err(missing) => {
            let mut verdict = subject.waits(
                ctx.stage(),
                "clips",
                "Straight metal behind the bead",
                missing,
            );
            // A rule that asks for two is broken by one, however long the spigot is.
            if input.note.clips == Some(1) {
                let place = format!("{}.clips", input.note_place);
                by_rule(ctx, &mut verdict, 1, None, &place, "1");
            }
            return Counted {
                verdict,
                clips: input.note.clips,
            };
        }
    };
    let Some((band, band_from)) = clip::band(ctx, chosen) else {
        let place = format!("{}.clip", input.note_place);
        let how = "Measure the width of the clip's band and write it after the clip: `worm 32-50 band 12`.".to_owned();
        let missing = crate::stages::types::Missing {
            why: "not known".into(),
            settles: Settles { place, how },
        };
        let verdict = subject.waits(ctx.stage(), "clips", "Width of the clip's band", &missing);
        return Counted {
            verdict,
            clips: input.note.clips,
        };
    };
    let two = straight_needed(2, band);
    let one = straight_needed(1, band);
    let two_fit = long_enough(behind, two).value();
    let one_fits = long_enough(behind, one);
    let stakes = input.terms.stakes;
    let surely = |chance: f64| grade(chance, stakes) == Grade::Sound;
    let wants_two = below && (input.terms.two_clips_rule.is_some() || surely(two_fit));
    let clips = input
        .note
        .clips
        .unwrap_or(if wants_two && surely(two_fit) { 2 } else { 1 });

    let (needed, chance) = if clips >= 2 {
        let needed = straight_needed(clips, band);
        (needed, long_enough(behind, needed))
    } else {
        (one, one_fits)
    };
    let straight = behind.measured.value;
    let mut verdict = if clips >= 2 {
        let because = Words::of(|system| {
            format!(
                "{} of {} want {} of straight metal behind the bead; there are {}.",
                say::capital(&say::counted(clips, "clip")),
                say::whole_mm(band.si(), system),
                say::whole_mm(needed.si(), system),
                say::whole_mm(straight.si(), system)
            )
        });
        subject.verdict(ctx.stage(), "clips", Grade::Sound, because)
    } else {
        let because = Words::of(|system| {
            format!(
                "One clip of {} wants {} of straight metal behind the bead; there are {}.",
                say::whole_mm(band.si(), system),
                say::whole_mm(needed.si(), system),
                say::whole_mm(straight.si(), system)
            )
        });
        subject.verdict(ctx.stage(), "clips", Grade::Sound, because)
    };
    verdict.basis = Basis::Physics;
    verdict.by_chance(chance, stakes, Some(&behind.settles));
    verdict.margin = Some(Margin {
        value: straight.si(),
        deviation: Some(behind.measured.half_width().si()),
        low: Some(needed.si()),
        high: None,
        kind: Kind::Length,
    });
    verdict.input("l", "straight metal behind the bead", behind);
    verdict.step(
        "needed = from the hose end + bands + gaps + clear of the bead",
        Words::of(|system| addends(clips, band, band_from, system)),
        Words::of(|system| say::whole_mm(needed.si(), system)),
    );
    verdict.working.limit =
        Words::of(|system| format!("at least {}", say::whole_mm(needed.si(), system)));
    verdict.source(from_hose_end().source.cite());
    if clips >= 2 {
        verdict.source(between_clips().source.cite());
    }
    verdict.source(behind_bead().source.cite());
    let place = format!("{}.clips", input.note_place);
    let from = input
        .note
        .clips
        .map_or_else(String::new, |clips| clips.to_string());
    if clips >= 2 && verdict.grade >= Grade::Marginal {
        verdict.because = Words::of(|system| {
            format!(
                "{} A clip that is not wholly on metal distorts the hose and helps push it off.",
                verdict.because.in_units(system)
            )
        });
        if let Some(rule) = clip_rule("short-spigot") {
            verdict.source(rule.source.cite());
        }
        if surely(one_fits.value()) {
            verdict.remedy = "Take one good clip, close behind the bead.".into();
            verdict.edits.push(edit(
                place.clone(),
                from.clone(),
                "1".into(),
                "take one clip".into(),
            ));
        } else {
            verdict.remedy =
                "Have a longer spigot fitted, or take a clip with a narrower band.".into();
        }
    } else if clips == 1 && verdict.grade >= Grade::Marginal {
        verdict.remedy = "Take a clip with a narrower band, or have a longer spigot fitted.".into();
    }
    by_rule(ctx, &mut verdict, clips, Some(two_fit), &place, &from);
    if verdict.grade == Grade::Sound && clips >= 2 {
        verdict.remedy = "Set the two screws on opposite sides.".into();
        if let Some(fact) = reference::clip::clip_fact("two-clips-turned") {
            verdict.source(fact.source.cite());
        }
    }
    Counted {
        verdict,
        clips: Some(clips),
    }
}

/// Every part of the straight metal that a number of clips needs, as [`straight_needed`] adds them up.
fn addends(clips: u32, band: Length, band_from: &str, system: System) -> String {
    let mm = |length: Length| say::whole_mm(length.si(), system);
    let count = |number: u32| match number {
        1 => String::new(),
        number => format!("{number} × "),
    };
    let gaps = match clips.saturating_sub(1) {
        0 => String::new(),
        gaps => format!("{}{} gap + ", count(gaps), mm(between_clips().value)),
    };
    format!(
        "{} from the end + {}{} band ({band_from}) + {gaps}{} clear of the bead",
        mm(from_hose_end().value),
        count(clips),
        mm(band),
        mm(behind_bead().value.high)
    )
}

/// What a rule of this boat, or good practice below the waterline, says of a single clip. `two_fit`
/// is the chance that two find room, where the straight length is known.
fn by_rule(
    ctx: &Ctx,
    verdict: &mut Verdict,
    clips: u32,
    two_fit: Option<f64>,
    place: &str,
    from: &str,
) {
    let input = ctx.input;
    if clips >= 2 || verdict.grade == Grade::Unsound {
        return;
    }
    let room = two_fit.is_some_and(|chance| grade(chance, input.terms.stakes) == Grade::Sound);
    match (&input.terms.below, &input.terms.two_clips_rule) {
        (Below::No, _) | (Below::Unknown(_), None) => return,
        (Below::Unknown(settles), Some(rule)) => {
            verdict.grade = Grade::Unmeasured;
            verdict.basis = Basis::Rule;
            verdict.chance = None;
            verdict.because = format!(
                "One clip; this boat's rule asks for two below the waterline, and whether this joint lies there is not known: {rule}."
            )
            .as_str()
            .into();
            verdict.remedy = Words::default();
            verdict.settle_by(settles);
            return;
        }
        (Below::Yes(where_), Some(rule)) => {
            verdict.grade = Grade::Unsound;
            verdict.basis = Basis::Rule;
            verdict.chance = None;
            verdict.settles = None;
            verdict.because = Words::of(|system| {
                format!(
                    "One clip {}, where this boat's rule asks for two: {rule}.",
                    where_.in_units(system)
                )
            });
            verdict.remedy = match (room, two_fit) {
                (true, _) => "Take two clips.",
                (false, Some(_)) => "Have a longer spigot fitted: there is no room for two.",
                (false, None) => {
                    "Take two clips, if the straight metal behind the bead takes them: measure it."
                }
            }
            .into();
        }
        (Below::Yes(where_), None) if room && verdict.grade < Grade::Marginal => {
            verdict.grade = Grade::Marginal;
            verdict.basis = Basis::Practice;
            verdict.chance = None;
            verdict.because = Words::of(|system| {
                format!(
                    "One clip {}; the spigot has room for two, which is good practice there.",
                    where_.in_units(system)
                )
            });
            verdict.remedy = "Take two clips.".into();
        }
        (Below::Yes(_), None) => return,
    }
    if let Some(rule) = clip_rule("below-waterline") {
        verdict.source(rule.source.cite());
    }
    if room {
        verdict.edits.push(edit(
            place,
            from.to_owned(),
            "2".into(),
            "take two clips".into(),
        ));
    }
}
