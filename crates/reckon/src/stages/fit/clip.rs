//! Which clip holds the hose as fitted, and how surely.

use boat::{Assume, Metal, SpigotForm};
use quantity::{Kind, Length, Quantity};
use reference::clip::{
    ClipKind, ear_closing_share, ear_interval_share, sizing_advice, squeeze, usual_squeeze,
    worm_best_share,
};
use reference::hose::HoseKind;

use super::Ctx;
use super::catalogue::{self, look_up};
use super::choice::{show_choice, show_diameters};
use super::numbers::{Derived, Judged, Limit, Numbers};
use crate::draft::{edit, quoted};
use crate::say;
use crate::solve::clip::Reach;
use crate::solve::fitted::closing_share;
use crate::stages::types::{ClipFacts, Missing, Neighbour};
use crate::verdict::{Basis, Grade, Margin, Settles, Stakes, Verdict, Words, grade};

/// What came out for the row of the joint and for the rules that follow.
#[derive(Default)]
pub(super) struct Chosen {
    pub(super) clip: Option<ClipFacts>,
    /// Whether the tool chose it.
    pub(super) by_tool: bool,
    pub(super) chance: Option<f64>,
    pub(super) neighbours: Vec<Neighbour>,
    /// The clip of the shelf that is offered in place of one that does not hold.
    pub(super) offered_own: Option<String>,
}

/// The diameters that decide, worked out once for all clips of a kind.
pub(super) struct Diameters {
    pub(super) to_pass: Derived,
    pub(super) squeezed: Derived,
    /// What a ring must pass over: the hose on the bead, or the bare bead.
    pub(super) ring: Ring,
    pub(super) squeeze: f64,
    squeeze_source: String,
}

pub(super) enum Ring {
    /// Opens and closes round the hose; or there is no bead.
    Free,
    Over(Derived),
    /// The bead is not known.
    Unknown,
}

impl Diameters {
    fn of(ctx: &Ctx, kind: ClipKind, ring_on_first: bool) -> Self {
        let numbers = ctx.numbers;
        let sourced = squeeze(kind).unwrap_or_else(|_| usual_squeeze());
        let share = sourced.value.to_f64();
        let ring = if !kind.is_ring() || ctx.input.spigot.form == Some(SpigotForm::Plain) {
            Ring::Free
        } else if ring_on_first {
            if ctx.input.spigot.bead.is_ok() {
                Ring::Over(numbers.bare_bead())
            } else {
                Ring::Unknown
            }
        } else if numbers.knows_over_bead() {
            Ring::Over(numbers.over_bead())
        } else {
            Ring::Unknown
        };
        Self {
            to_pass: numbers.to_pass(),
            squeezed: numbers.squeezed(share),
            ring,
            squeeze: share,
            squeeze_source: sourced.source.cite(),
        }
    }

    /// Between what the squeezed hose must lie for a clip, in metres.
    fn window(clip: &ClipFacts) -> (f64, Option<f64>) {
        let (closed, open) = (clip.closed.si(), clip.open.si());
        match clip.kind {
            ClipKind::WormDrive | ClipKind::TBolt | ClipKind::SpringBand => (closed, None),
            ClipKind::SingleEar | ClipKind::TwoEar => {
                let share = ear_closing_share().value;
                let travel = open - closed;
                (
                    open - share.high.to_f64() * travel,
                    Some(open - share.low.to_f64() * travel),
                )
            }
        }
    }

    pub(super) fn judge(&self, numbers: &Numbers, clip: &ClipFacts) -> Judged {
        numbers.judge(&self.limits(clip))
    }

    /// Whether a ring must pass a bead that nobody measured.
    pub(super) fn lacks_bead(&self) -> bool {
        matches!(self.ring, Ring::Unknown)
    }

    /// In which draws a clip holds.
    pub(super) fn holds_in(&self, numbers: &Numbers, clip: &ClipFacts) -> Vec<bool> {
        numbers.holds_in(&self.limits(clip))
    }

    fn limits(&self, clip: &ClipFacts) -> Vec<Limit<'_>> {
        let (least, most) = Self::window(clip);
        let open = clip.open.si();
        let mut limits = vec![
            Limit::AtMost(&self.to_pass, open),
            Limit::AtLeast(&self.squeezed, least),
        ];
        if let Some(most) = most {
            limits.push(Limit::AtMost(&self.squeezed, most));
        }
        if let Ring::Over(over) = &self.ring {
            limits.push(Limit::AtMost(over, open));
        }
        limits
    }

    /// Whether a clip has any chance worth sampling.
    fn may_hold(&self, clip: &ClipFacts) -> bool {
        let wide = |derived: &Derived| 6.0 * derived.linear.deviation() + 1e-9;
        let (least, _) = Self::window(clip);
        clip.open.si() >= self.to_pass.linear.mean - wide(&self.to_pass)
            && least <= self.squeezed.linear.mean + wide(&self.squeezed)
    }
}

/// A candidate with its chance.
#[derive(Clone)]
pub(super) struct Tried {
    pub(super) clip: ClipFacts,
    pub(super) chance: f64,
}

pub(super) fn reach(clip: &ClipFacts) -> Reach {
    Reach {
        closed: clip.closed.si(),
        open: clip.open.si(),
    }
}

pub(super) fn sound_limit(stakes: Stakes) -> f64 {
    // The least chance that `grade` calls sound, so that there is one place where it is written.
    if grade(0.99, stakes) == Grade::Sound && grade(0.95, stakes) == Grade::Sound {
        0.95
    } else {
        0.99
    }
}

/// The best of several tried clips. Those that hold surely come first; among them the owner's own,
/// then the one in whose range the hose sits well, then the one that opens least.
pub(super) fn best(tried: &[Tried], fitted: f64, stakes: Stakes) -> Option<&Tried> {
    let sound = sound_limit(stakes);
    let share = worm_best_share().value;
    let off_nominal = |clip: &ClipFacts| {
        clip.nominal
            .map_or(0.0, |nominal| (nominal.si() - fitted).abs())
    };
    let sits_well = |clip: &ClipFacts| match clip.kind {
        ClipKind::WormDrive => {
            (share.low.to_f64()..=share.high.to_f64()).contains(&reach(clip).share(fitted))
        }
        _ => true,
    };
    let surely: Vec<&Tried> = tried.iter().filter(|tried| tried.chance >= sound).collect();
    if surely.is_empty() {
        return tried
            .iter()
            .filter(|tried| tried.chance > 0.0)
            .max_by(|a, b| {
                a.chance
                    .total_cmp(&b.chance)
                    .then(a.clip.own.cmp(&b.clip.own))
                    .then(b.clip.open.cmp(&a.clip.open))
            });
    }
    surely.into_iter().min_by(|a, b| {
        b.clip
            .own
            .cmp(&a.clip.own)
            .then(off_nominal(&a.clip).total_cmp(&off_nominal(&b.clip)))
            .then(sits_well(&b.clip).cmp(&sits_well(&a.clip)))
            .then(rank(&a.clip).cmp(&rank(&b.clip)))
            .then(a.clip.open.cmp(&b.clip.open))
    })
}

/// Sizes that were read in print before those from memory.
fn rank(clip: &ClipFacts) -> u8 {
    u8::from(!clip.source.contains("(printed)"))
}

/// The next size either side in the series of a clip, with its chance.
fn neighbours(ctx: &Ctx, diameters: &Diameters, clip: &ClipFacts) -> Vec<Neighbour> {
    let all = catalogue::sold(clip.kind);
    // A clip of the owner's is set among the first series that has its sizes on both sides.
    let series = all
        .iter()
        .find(|sold| sold.closed == clip.closed && sold.open == clip.open)
        .or_else(|| all.iter().find(|sold| sold.series == clip.series))
        .or(all.first())
        .map(|sold| sold.series.clone());
    let mut of_series: Vec<&ClipFacts> = all
        .iter()
        .filter(|sold| Some(&sold.series) == series.as_ref())
        .collect();
    of_series.sort_by_key(|sold| (sold.open, sold.closed));
    let below = of_series.iter().rfind(|sold| sold.open < clip.open);
    let above = of_series.iter().find(|sold| sold.open > clip.open);
    [below, above]
        .into_iter()
        .flatten()
        .map(|sold| Neighbour {
            clip: sold.name.clone(),
            chance: diameters.judge(ctx.numbers, sold).chance.value(),
        })
        .collect()
}

/// The kind to take where the file decides none.
pub(super) fn kind_wanted(ctx: &Ctx) -> ClipKind {
    let note = &ctx.input.note;
    note.clip
        .as_ref()
        .map(|clip| clip.kind)
        .or(note.clip_kind)
        .unwrap_or(ClipKind::WormDrive)
}

fn candidates(ctx: &Ctx, kind: ClipKind) -> Vec<ClipFacts> {
    let own = ctx
        .input
        .shelf
        .iter()
        .filter(|wanted| wanted.kind == kind)
        .filter_map(|wanted| look_up(wanted, true).ok());
    let mut all: Vec<ClipFacts> = own.collect();
    all.extend(catalogue::sold(kind));
    all
}

/// Every clip of a kind that may hold, with its chance.
pub(super) fn try_all(ctx: &Ctx, kind: ClipKind) -> (Diameters, Vec<Tried>) {
    try_with(ctx, kind, ctx.input.note.ring_on_first)
}

/// The same, with a ring that goes over the bare bead before the hose does, or after it.
fn try_with(ctx: &Ctx, kind: ClipKind, ring_on_first: bool) -> (Diameters, Vec<Tried>) {
    let diameters = Diameters::of(ctx, kind, ring_on_first);
    let tried = candidates(ctx, kind)
        .into_iter()
        .filter(|clip| diameters.may_hold(clip))
        .map(|clip| Tried {
            chance: diameters.judge(ctx.numbers, &clip).chance.value(),
            clip,
        })
        .collect();
    (diameters, tried)
}

/// The verdict on the clip, and the clip itself.
pub(super) fn clip(ctx: &Ctx) -> (Verdict, Chosen) {
    let (input, numbers) = (ctx.input, ctx.numbers);
    let kind = kind_wanted(ctx);
    let decided = input
        .note
        .clip
        .as_ref()
        .map(|wanted| look_up(wanted, false));
    if !numbers.knows_fitted() {
        let missing = ctx
            .hose
            .bore
            .as_ref()
            .err()
            .or(ctx.hose.outside.as_ref().err());
        let name = if ctx.hose.bore.is_err() {
            "Bore of the hose"
        } else {
            "Outside diameter of the hose"
        };
        let chosen = Chosen {
            clip: decided.and_then(Result::ok),
            ..Chosen::default()
        };
        let verdict = match missing {
            Some(missing) => input.subject.waits(ctx.stage(), "clip", name, missing),
            // OK because the diameter is known where neither of the two is missing.
            None => input
                .subject
                .verdict(ctx.stage(), "clip", Grade::Unmeasured, Words::default()),
        };
        return (verdict, chosen);
    }
    let (diameters, tried) = try_all(ctx, kind);
    let fitted = diameters.to_pass.linear.mean;
    let stakes = input.terms.stakes;
    let unlikely =
        |best: Option<&Tried>| best.is_none_or(|best| grade(best.chance, stakes) == Grade::Unsound);
    let mut offered = best(&tried, fitted, stakes).cloned();
    let judged_by_tool = offered.clone();
    // Where no clip of the kind holds or a rule bars it, a worm-drive clip is what is left to offer.
    let barred = kind == ClipKind::SpringBand && input.terms.no_spring_rule.is_some();
    if kind != ClipKind::WormDrive && (barred || unlikely(offered.as_ref())) {
        let (_, worms) = try_all(ctx, ClipKind::WormDrive);
        offered = best(&worms, fitted, stakes).cloned();
    }
    let offered = offered.filter(|best| !unlikely(Some(best)));
    let best = offered.as_ref();
    let first = ring_first(ctx, kind).filter(|first| !unlikely(Some(first)));
    let judged = match decided {
        Some(Ok(clip)) => Some((clip, false)),
        Some(Err(unlisted)) => {
            let settles = Settles {
                place: format!("{}.clip", input.note_place),
                how: unlisted.how,
            };
            let missing = Missing {
                why: unlisted.why.as_str().into(),
                settles,
            };
            let mut verdict = input.subject.waits(ctx.stage(), "clip", "Clip", &missing);
            offer(ctx, &mut verdict, best);
            return (verdict, Chosen::default());
        }
        None if input.note.clip_unknown => {
            let settles = Settles {
                place: format!("{}.clip", input.note_place),
                how: "Read the range printed on the clip's band, or write `\"choose\"` to have one chosen.".into(),
            };
            let missing = Missing {
                why: "marked “?” in the file".into(),
                settles,
            };
            let mut verdict = input.subject.waits(ctx.stage(), "clip", "Clip", &missing);
            offer(ctx, &mut verdict, best);
            return (verdict, Chosen::default());
        }
        None => judged_by_tool.map(|tried| (tried.clip, true)),
    };
    let Some((clip, by_tool)) = judged else {
        let mut verdict = none_fits(ctx, kind, &diameters);
        if let Some(first) = &first {
            offer_first(ctx, &mut verdict, first);
        }
        return (verdict, Chosen::default());
    };
    let held = diameters.judge(numbers, &clip);
    let neighbours = neighbours(ctx, &diameters, &clip);
    let mut verdict = describe(ctx, &diameters, &clip, by_tool, &held);
    if let Ring::Unknown = diameters.ring
        && verdict.grade != Grade::Unsound
    {
        verdict.grade = Grade::Unmeasured;
        verdict.because = Words::of(|_| {
            format!(
                "A {} is a closed ring, and the bead that it must pass is not measured.",
                clip.kind.name()
            )
        });
        if let Err(missing) = &input.spigot.bead {
            verdict.remedy = Words::default();
            verdict.settle_by(&missing.settles);
        }
    }
    bar(ctx, &mut verdict, &clip);
    show_choice(ctx, &mut verdict, &diameters, &tried, &neighbours);
    let wrong = matches!(verdict.grade, Grade::Marginal | Grade::Unsound);
    let better = best.filter(|best| {
        best.clip.name != clip.name && (barred || best.chance > held.chance.value())
    });
    let mut offered_own = None;
    if by_tool && verdict.grade == Grade::Sound {
        offer(ctx, &mut verdict, best);
    } else if wrong {
        // A kind that was wished for stays where its ring only has to go on before the hose.
        let first = first.filter(|first| {
            (by_tool || first.clip.name == clip.name) && first.chance > held.chance.value()
        });
        if let Some(first) = &first {
            offer_first(ctx, &mut verdict, first);
        }
        let plain = verdict.remedy.clone();
        offer(ctx, &mut verdict, better);
        if first.is_some() {
            verdict.remedy = plain;
        }
        offered_own = better
            .filter(|better| better.clip.own)
            .map(|better| better.clip.name.clone());
    }
    if verdict.grade == Grade::Marginal && verdict.settles.is_none() {
        advise_trial(ctx, &mut verdict, &clip);
    }
    let chosen = Chosen {
        clip: Some(clip),
        by_tool,
        chance: Some(held.chance.value()),
        neighbours,
        offered_own,
    };
    (verdict, chosen)
}

/// The best ring of a kind, if it went over the bare bead before the hose.
fn ring_first(ctx: &Ctx, kind: ClipKind) -> Option<Tried> {
    let beaded = kind.is_ring() && ctx.input.spigot.bead.is_ok();
    if !beaded || ctx.input.note.ring_on_first {
        return None;
    }
    let (diameters, tried) = try_with(ctx, kind, true);
    let fitted = diameters.to_pass.linear.mean;
    let decided = ctx.input.note.clip.as_ref();
    let decided = decided.and_then(|wanted| look_up(wanted, false).ok());
    match decided {
        Some(clip) => tried.into_iter().find(|tried| tried.clip.name == clip.name),
        None => best(&tried, fitted, ctx.input.terms.stakes).cloned(),
    }
}

/// Offers to put the ring on before the hose.
fn offer_first(ctx: &Ctx, verdict: &mut Verdict, first: &Tried) {
    verdict.remedy = format!(
        "Slip {} over the bare bead before the hose goes on and write `ring_on_first = true`: it holds {} then.",
        first.clip.name,
        say::chance(first.chance)
    )
    .as_str()
    .into();
    let first = edit(
        format!("{}.ring_on_first", ctx.input.note_place),
        String::new(),
        "true".into(),
        "put the ring on first".into(),
    );
    verdict.edits.insert(0, first);
}

fn none_fits(ctx: &Ctx, kind: ClipKind, diameters: &Diameters) -> Verdict {
    let (low, high) = ctx.numbers.fitted();
    let because = Words::of(|system| {
        format!(
            "The hose is {} over this spigot; no {} is sold for that.",
            say::mm_range(low, high, system),
            kind.name()
        )
    });
    let mut verdict = ctx
        .input
        .subject
        .verdict(ctx.stage(), "clip", Grade::Unsound, because);
    verdict.basis = Basis::Physics;
    verdict.chance = Some(0.0);
    verdict.remedy = match kind {
        ClipKind::WormDrive => "Write a clip from your own shelf with its range.".into(),
        _ => "Take a worm-drive clip.".into(),
    };
    show_diameters(ctx, &mut verdict, diameters);
    if kind != ClipKind::WormDrive {
        let to = quoted(crate::stages::types::clip_word(ClipKind::WormDrive).word());
        let place = format!("{}.clip_kind", ctx.input.note_place);
        verdict.edits.push(edit(
            place,
            String::new(),
            to,
            "take a worm-drive clip".into(),
        ));
    }
    verdict
}

/// Whether a clip looks right on the free hose and is wrong on the fitted one.
fn picked_from_free(ctx: &Ctx, clip: &ClipFacts) -> Option<f64> {
    let free = ctx.numbers.middle().over;
    let known = ctx.hose.outside.is_ok();
    (known && clip.closed.si() <= free && free <= clip.open.si()).then_some(free)
}

fn describe(
    ctx: &Ctx,
    diameters: &Diameters,
    clip: &ClipFacts,
    by_tool: bool,
    held: &Judged,
) -> Verdict {
    let (input, numbers) = (ctx.input, ctx.numbers);
    let (low, high) = numbers.fitted();
    let (closed, open) = (clip.closed.si(), clip.open.si());
    let tight = diameters.squeezed.linear.mean;
    let (least, most) = Diameters::window(clip);
    let passes = diameters.to_pass.linear.at_most(open);
    let closes = diameters.squeezed.linear.at_least(least);
    let over = match &diameters.ring {
        Ring::Over(over) => Some((over.linear.mean, over.linear.at_most(open))),
        Ring::Free | Ring::Unknown => None,
    };
    let shape = grade(held.chance.value(), input.terms.stakes);
    let name = &clip.name;
    let hose = |system| {
        format!(
            "The hose is {} over this spigot",
            say::mm_range(low, high, system)
        )
    };
    // A loose hose is as large as it is when free until the clip closes on it.
    let (pass, is_loose) = (
        diameters.to_pass.linear.mean,
        numbers.middle().spigot < numbers.middle().bore,
    );
    let hose_to_pass = |system| {
        if is_loose && !numbers.is_tried() {
            format!(
                "The hose is loose on this spigot and {} when free",
                say::mm(pass, system)
            )
        } else {
            hose(system)
        }
    };
    let because = if shape == Grade::Sound {
        let own = if clip.own { " from your shelf" } else { "" };
        let lead = if by_tool {
            format!("{name}{own}, chosen,")
        } else {
            name.clone()
        };
        Words::of(|system| {
            format!(
                "{}; {lead} closes to {} and opens to {}.",
                hose(system),
                say::mm(closed, system),
                say::mm(open, system)
            )
        })
    } else if let Some((bead, _)) = over.filter(|(_, chance)| *chance < passes.min(closes)) {
        let what = if input.note.ring_on_first {
            "the bare bead"
        } else {
            "the hose where it rides the bead"
        };
        Words::of(|system| {
            format!(
                "{name} is a closed ring of {}; {what} is {}.",
                say::mm(open, system),
                say::mm(bead, system)
            )
        })
    } else if passes <= closes {
        let free = picked_from_free(ctx, clip);
        Words::of(|system| {
            let trap = free.map_or_else(String::new, |free| {
                format!(
                    " It suits the free hose of {}, which is not what it has to hold.",
                    say::mm(free, system)
                )
            });
            format!(
                "{}; the clip opens to {}.{trap}",
                hose_to_pass(system),
                say::mm(open, system)
            )
        })
    } else {
        let share = say::short_percent(diameters.squeeze);
        Words::of(|system| {
            format!(
                "Squeezed by {share} of its wall the hose is {} over this spigot; {name} closes to {}.",
                say::mm(tight, system),
                say::mm(closed, system)
            )
        })
    };
    let mut because = because;
    if let (Some(most), true) = (most, shape != Grade::Sound) {
        let share = closing_share(open, closed, tight);
        if passes > 0.5 && (tight > most || share > ear_closing_share().value.high.to_f64()) {
            let limits = ear_closing_share().value;
            because = Words::of(|system| {
                format!(
                    "On the hose of {} {name} would be closed by {} of its ear; {} to {} is right.",
                    say::mm_range(low, high, system),
                    say::short_percent((share * 100.0).round() / 100.0),
                    say::short_percent(limits.low.to_f64()),
                    say::short_percent(limits.high.to_f64())
                )
            });
        }
    }
    let mut verdict = input.subject.verdict(ctx.stage(), "clip", shape, because);
    verdict.basis = Basis::Physics;
    show_diameters(ctx, &mut verdict, diameters);
    let limit = Words::of(|system| {
        let ear = most.map_or_else(String::new, |most| {
            format!(
                "; hose under the clip between {} and {}",
                say::mm(least, system),
                say::mm(most, system)
            )
        });
        format!(
            "{name}: opens to {}, closes to {}{ear}",
            say::mm(open, system),
            say::mm(closed, system)
        )
    });
    verdict.working.limit = limit;
    verdict
        .source(&clip.source)
        .source(&diameters.squeeze_source);
    if most.is_some() {
        verdict.source(ear_closing_share().source.cite());
    }
    verdict.by_chance(held.chance, input.terms.stakes, held.settles.as_ref());
    let deviation = diameters.to_pass.linear.deviation() * 3.0_f64.sqrt();
    verdict.margin = Some(Margin {
        value: diameters.to_pass.linear.mean,
        deviation: Some(deviation),
        low: Some(closed),
        high: Some(open),
        kind: Kind::Length,
    });
    if let Some(nominal) = clip.nominal
        && verdict.grade == Grade::Sound
        && (nominal.si() < low - 0.000_5 || nominal.si() > high + 0.000_5)
    {
        verdict.grade = Grade::Marginal;
        verdict.because = Words::of(|system| {
            format!(
                "{}; {name} is made for a hose of {}.",
                hose(system),
                say::mm(nominal.si(), system)
            )
        });
        verdict.basis = Basis::Practice;
        verdict.source(
            sizing_advice(ClipKind::SpringBand)
                .first()
                .map_or_else(String::new, |advice| advice.source.cite()),
        );
    }
    verdict
}

/// Refuses clips that a rule bars, and notes what the material wants.
fn bar(ctx: &Ctx, verdict: &mut Verdict, clip: &ClipFacts) {
    let input = ctx.input;
    if let (Some(rule), ClipKind::SpringBand) = (&input.terms.no_spring_rule, clip.kind) {
        verdict.source(format!("rule of this boat, by the owner's word: {rule}"));
        verdict.grade = Grade::Unsound;
        verdict.basis = Basis::Rule;
        verdict.chance = None;
        verdict.because = format!(
            "{} holds by its spring alone, which this boat's rule bars: {rule}.",
            clip.name
        )
        .as_str()
        .into();
        verdict.remedy = "Take a worm-drive clip.".into();
    }
    let raw = input.terms.carries == boat::Carries::RawWater;
    let poor = matches!(
        clip.metal,
        Some(Metal::Steel | Metal::GalvanisedSteel | Metal::Stainless304)
    );
    if raw && poor && verdict.grade < Grade::Marginal {
        verdict.grade = Grade::Marginal;
        verdict.basis = Basis::Practice;
        verdict.because = format!(
            "{} rusts on raw water: band, housing and screw are to be of 316 there.",
            clip.name
        )
        .as_str()
        .into();
        verdict.remedy = "Take a clip that is marked 316 or W5 throughout, and try all three parts with a magnet.".into();
        if let Some(fact) = reference::metal::metal_fact("clips-all-316") {
            verdict.source(fact.source.cite());
        }
    }
    // A clip that the tool offers is bought of 316; one that is there may be of anything.
    let untold = matches!(clip.metal, None | Some(Metal::Stainless)) && input.note.clip.is_some();
    if raw && untold && verdict.grade < Grade::Unmeasured {
        let settles = Settles {
            place: format!("{}.clip", input.note_place),
            how: "Try band, housing and screw with a magnet, read the mark (316, W5) and write the metal after the clip: `worm 32-50 316`.".into(),
        };
        verdict.grade = Grade::Unmeasured;
        verdict.basis = Basis::Practice;
        verdict.because = format!(
            "{} is on raw water, and of which stainless it is made is not known.",
            clip.name
        )
        .as_str()
        .into();
        verdict.remedy = Words::default();
        verdict.settle_by(&settles);
        if let Some(fact) = reference::metal::metal_fact("clips-all-316") {
            verdict.source(fact.source.cite());
        }
    }
    let silicone = matches!(
        ctx.hose.build,
        Ok((HoseKind::FabricSilicone | HoseKind::PlainSilicone, _))
    );
    if silicone && clip.kind == ClipKind::WormDrive && verdict.remedy.metric.is_empty() {
        verdict.remedy =
            "On silicone take it with a smooth or lined band: a slotted one cuts.".into();
        if let Some(fact) = reference::hose::hose_fact("silicone-clip") {
            verdict.source(fact.source.cite());
        }
    }
}

/// Offers the best clip as a remedy that the file can carry out.
fn offer(ctx: &Ctx, verdict: &mut Verdict, best: Option<&Tried>) {
    let Some(best) = best else {
        if verdict.remedy.metric.is_empty() && verdict.grade == Grade::Unsound {
            verdict.remedy = "No clip that is sold is sure to hold it: take another hose.".into();
        }
        return;
    };
    let raw = ctx.input.terms.carries == boat::Carries::RawWater;
    let name = &super::need::asked_for(&best.clip, raw);
    let place = format!("{}.clip", ctx.input.note_place);
    let from = ctx
        .input
        .note
        .clip
        .as_ref()
        .and_then(|wanted| look_up(wanted, false).ok());
    let from = from.map_or_else(String::new, |clip| quoted(&clip.name));
    let own = if best.clip.own {
        " from your shelf"
    } else {
        ""
    };
    let chance = say::chance(best.chance);
    if verdict.grade == Grade::Sound {
        verdict
            .edits
            .push(edit(place, from, quoted(name), format!("decide on {name}")));
        return;
    }
    if verdict.remedy.metric.is_empty()
        || verdict.grade == Grade::Unsound && verdict.basis != Basis::Rule
    {
        verdict.remedy = format!("Use {name}{own}: it holds {chance}.")
            .as_str()
            .into();
    }
    verdict
        .edits
        .push(edit(place, from, quoted(name), format!("use {name}")));
}

/// A clip that only may fit wants the joint measured with the hose pushed on.
fn advise_trial(ctx: &Ctx, verdict: &mut Verdict, clip: &ClipFacts) {
    if ctx.numbers.is_tried() {
        return;
    }
    let place = format!("{}.fitted_od", ctx.input.note_place);
    let how = "Push the hose on for trial and measure its outside with a tape round it.".to_owned();
    let settles = Settles {
        place,
        how: how.clone(),
    };
    let (low, high) = ctx.numbers.worst();
    if let ClipKind::SingleEar | ClipKind::TwoEar = clip.kind {
        let travel = (clip.open - clip.closed).si();
        let share = ear_interval_share();
        if (high - low) / 2.0 > share.value.to_f64() * travel {
            verdict.source(share.source.cite());
        }
    }
    if verdict.remedy.metric.is_empty() {
        verdict.remedy = how.as_str().into();
    } else {
        verdict.remedy = Words::of(|system| format!("{} {how}", verdict.remedy.in_units(system)));
    }
    verdict.settles = Some(settles);
}

/// The width of the band: as typed or from the table, else the usual one where that may be assumed.
pub(super) fn band(ctx: &Ctx, clip: Option<&ClipFacts>) -> Option<(Length, &'static str)> {
    if let Some(band) = clip.and_then(|clip| clip.band) {
        return Some((band, "clip"));
    }
    let bore = ctx.hose.bore.as_ref().ok()?.measured.value;
    let kind = clip.map_or_else(|| kind_wanted(ctx), |clip| clip.kind);
    let worm = kind == ClipKind::WormDrive;
    (worm && ctx.input.terms.may_assume(Assume::BandWidth))
        .then(|| (reference::clip::usual_band(bore).value, "assumed"))
}
