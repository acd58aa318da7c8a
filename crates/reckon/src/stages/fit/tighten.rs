//! How far the hose is pushed on, and how tight the clip is done up.

use boat::{Assume, SpigotForm};
use quantity::{Length, Quantity};
use reference::clip::{ClipKind, clip_fact};
use reference::insertion::{least_insertion, shop_rule, usual_bead_width};
use reference::torque::{ClipForm, HoseEnd, torques};

use super::count::long_enough;
use super::{Ctx, clip};
use crate::say;
use crate::stages::types::ClipFacts;
use crate::verdict::{Basis, Grade, Number, Settles, Verdict, Words};

/// The verdict on the push-on length, and where the mark goes.
pub(super) struct Pushed {
    pub(super) verdict: Option<Verdict>,
    pub(super) mark: Option<Number>,
    /// What of it nobody measured.
    pub(super) assumes: Vec<String>,
}

/// Where to put the mark on the hose, from its end.
pub(super) fn insertion(ctx: &Ctx, chosen: Option<&ClipFacts>, clips: Option<u32>) -> Pushed {
    let input = ctx.input;
    let nothing = Pushed {
        verdict: None,
        mark: None,
        assumes: Vec::new(),
    };
    // The verdict on the clips asks for straight length, band and count already.
    let (Ok(behind), Some((band, band_from)), Some(clips)) =
        (&input.spigot.behind_bead, clip::band(ctx, chosen), clips)
    else {
        return nothing;
    };
    let plain = input.spigot.form == Some(SpigotForm::Plain);
    let (bead, bead_from) = if plain {
        (Length::mm(0.0), "no bead".to_owned())
    } else {
        match &input.spigot.bead_width {
            Ok(width) => (width.measured.value, width.from.clone()),
            Err(_) if input.terms.may_assume(Assume::BeadWidth) => {
                (usual_bead_width().value.high, "assumed".to_owned())
            }
            Err(missing) => {
                let verdict =
                    input
                        .subject
                        .waits(ctx.stage(), "insertion", "Width of the bead", missing);
                return Pushed {
                    verdict: Some(verdict),
                    ..nothing
                };
            }
        }
    };
    let least = least_insertion(clips.max(1), band, bead);
    let room = behind.measured.value + bead;
    let enough = long_enough(behind, least - bead);
    // As far as the spigot goes, but no further than the shop's rule asks where that is more.
    let rule = ctx
        .hose
        .bore
        .as_ref()
        .ok()
        .map(|bore| shop_rule(bore.measured.value));
    let wanted = rule.as_ref().map_or(least, |rule| rule.value.max(least));
    let mark = wanted.min(room).max(Length::mm(1.0));
    let because = Words::of(|system| {
        format!(
            "The hose needs {} on the spigot; there are {}, and the mark goes {} from its end.",
            say::whole_mm(least.si(), system),
            say::whole_mm(room.si(), system),
            say::whole_mm(mark.si(), system)
        )
    });
    let mut verdict = input
        .subject
        .verdict(ctx.stage(), "insertion", Grade::Sound, because);
    verdict.basis = Basis::Practice;
    verdict.by_chance(enough, input.terms.stakes, Some(&behind.settles));
    verdict.remedy = if verdict.grade == Grade::Unmeasured {
        verdict.remedy.clone()
    } else if verdict.grade == Grade::Sound {
        Words::of(|system| {
            format!(
                "Mark the hose {} from its end and push it on up to the mark.",
                say::whole_mm(mark.si(), system)
            )
        })
    } else {
        "Take fewer clips or a narrower band, or have a longer spigot fitted.".into()
    };
    verdict.input("l", "straight metal behind the bead", behind);
    verdict.step(
        "least = hose end to clip + bands + gaps + clear of the bead + bead",
        Words::of(|system| {
            let (band, bead) = (
                say::whole_mm(band.si(), system),
                say::whole_mm(bead.si(), system),
            );
            format!("{clips} × {band} band ({band_from}), bead {bead} ({bead_from})")
        }),
        Words::of(|system| say::whole_mm(least.si(), system)),
    );
    if let Some(rule) = &rule {
        verdict.step(
            "one bore, within the shop's limits",
            Words::default(),
            Words::of(|system| say::whole_mm(rule.value.si(), system)),
        );
        verdict.source(rule.source.cite());
    }
    verdict.working.limit = Words::of(|system| {
        format!(
            "at least {} on the spigot",
            say::whole_mm(least.si(), system)
        )
    });
    verdict.source(reference::insertion::from_hose_end().source.cite());
    let nobody = |from: &str| matches!(from, "assumed" | "guessed");
    let assumes = [
        ("width of the bead", nobody(&bead_from)),
        ("width of the band", nobody(band_from)),
        ("straight metal", behind.measured.origin.is_guess()),
    ];
    let assumes = assumes.into_iter().filter(|(_, guessed)| *guessed);
    Pushed {
        verdict: Some(verdict),
        mark: Some(say::number(mark, Some(Length::mm(2.0)))),
        assumes: assumes.map(|(what, _)| what.to_owned()).collect(),
    }
}

/// The verdict on the torque, and the torque for the table.
pub(super) struct Tightened {
    pub(super) verdict: Verdict,
    pub(super) shown: Option<Words>,
    pub(super) source: Option<String>,
}

/// How tight; nothing for a clip that has no screw, or where no clip is known.
pub(super) fn torque(ctx: &Ctx, chosen: Option<&ClipFacts>) -> Option<Tightened> {
    let input = ctx.input;
    let chosen = chosen?;
    if matches!(
        chosen.kind,
        ClipKind::SingleEar | ClipKind::TwoEar | ClipKind::SpringBand
    ) {
        return None;
    }
    let end = if input.note.reused_hose {
        HoseEnd::Reused
    } else {
        HoseEnd::New
    };
    let band = clip::band(ctx, Some(chosen)).map(|(band, _)| band);
    // What a worm-drive clip takes hangs on its band: without it no row is its own.
    if band.is_none() && chosen.kind == ClipKind::WormDrive {
        let missing = crate::stages::types::Missing {
            why: "not known, and the torque hangs on it".into(),
            settles: Settles {
                place: format!("{}.clip", input.note_place),
                how: "Measure the width of the clip's band and write it after the clip: `worm 32-50 band 12`.".into(),
            },
        };
        return Some(Tightened {
            verdict: input.subject.waits(
                ctx.stage(),
                "torque",
                "Width of the clip's band",
                &missing,
            ),
            shown: None,
            source: None,
        });
    }
    let diameter = Length::from_si(ctx.numbers.fitted().1)?;
    match torques(chosen.kind, ClipForm::Plain, band, diameter, end) {
        Ok(torques) => {
            let row = torques.recommended;
            let shown =
                Words::of(|system| quantity::show_range(row.torque.low, row.torque.high, system));
            let because = Words::of(|system| {
                format!(
                    "{} is done up to {}: {}.",
                    chosen.name,
                    shown.in_units(system),
                    row.words
                )
            });
            let mut verdict = input
                .subject
                .verdict(ctx.stage(), "torque", Grade::Sound, because);
            verdict.remedy =
                "Go over it once more, cold, after the first hot runs: the hose beds in.".into();
            verdict.caution =
                Some("Hot and under pressure: tighten only when the engine is cold.".into());
            verdict.source(row.source.cite());
            if let Some(fact) = clip_fact("bedding") {
                verdict.source(fact.source.cite());
            }
            for other in &torques.others {
                let range = Words::of(|system| {
                    quantity::show_range(other.torque.low, other.torque.high, system)
                });
                verdict.step("another source", other.words.as_str().into(), range);
                verdict.source(other.source.cite());
            }
            if let Some(breaks) = row.breaks_from {
                verdict.working.limit = Words::of(|system| {
                    format!("breaks from {}", quantity::show(breaks, None, system))
                });
            }
            Some(Tightened {
                verdict,
                shown: Some(shown),
                source: Some(row.source.cite()),
            })
        }
        Err(unknown) => {
            let settles = Settles {
                place: format!("{}.clip", input.note_place),
                how: unknown.settles,
            };
            let missing = crate::stages::types::Missing {
                why: unknown.why.as_str().into(),
                settles,
            };
            Some(Tightened {
                verdict: input
                    .subject
                    .waits(ctx.stage(), "torque", "Torque", &missing),
                shown: None,
                source: None,
            })
        }
    }
}
