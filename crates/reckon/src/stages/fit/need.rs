//! What the order asks of a joint: which clips hold in which of its draws, and which hose goes on.

use boat::Metal;
use quantity::Quantity;
use reference::clip::ClipKind;

use super::catalogue::look_up;
use super::clip::{best, kind_wanted, try_all};
use super::hoses::End;
use super::numbers::Numbers;
use super::stretch::{allowed_slack, goes_on_in, refused_over};
use super::{Ctx, JointInput};
use crate::stages::types::ClipFacts;

/// A clip, and in which draws it holds the joint.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// As one asks for it: `worm 32-50`.
    pub name: String,
    /// Whether it lies on the shelf.
    pub own: bool,
    /// In which draws it holds.
    pub holds: Vec<bool>,
}

/// The clips of a joint.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Clips {
    /// Those that hold in some draw: of the shelf, and of the one series that the usual one is from.
    pub candidates: Vec<Candidate>,
    /// The one to take where nothing else is known: as decided where that is as good, else the best.
    pub usual: Option<String>,
}

/// The clips of a joint whose sizes are known; nothing where they are not, where a ring must pass a
/// bead that is not measured, or where no clip holds. A draw counts only if the hose goes on in it.
pub fn clips(input: &JointInput) -> Option<Clips> {
    let (Ok(hose), Ok(spigot)) = (&input.hose, &input.spigot.od) else {
        return None;
    };
    let trial = input
        .note
        .fitted_over
        .as_ref()
        .and_then(|trial| trial.as_ref().ok());
    let numbers = Numbers::new(
        spigot,
        &input.spigot.bead,
        hose.bore.as_ref().ok(),
        hose.outside.as_ref().ok(),
        trial,
        Some((input.terms.seed, input.subject.key.as_str())),
    )
    .ok()?;
    if !numbers.knows_fitted() {
        return None;
    }
    let ctx = Ctx {
        input,
        hose,
        numbers: &numbers,
    };
    let wanted = kind_wanted(&ctx);
    let barred = wanted == ClipKind::SpringBand && input.terms.no_spring_rule.is_some();
    let goes_on = match &hose.build {
        Ok((kind, _)) if numbers.knows_stretch() => goes_on_in(&ctx, *kind),
        _ => Vec::new(),
    };
    let goes = |draw: usize| goes_on.get(draw).copied().unwrap_or(true);
    let raw = input.terms.carries == boat::Carries::RawWater;
    let of_kind = |kind: ClipKind| {
        let (diameters, tried) = try_all(&ctx, kind);
        if diameters.lacks_bead() {
            return None;
        }
        let fitted = diameters.to_pass.linear.mean;
        let best = best(&tried, fitted, input.terms.stakes).cloned()?;
        let one_series = |clip: &ClipFacts| clip.own || clip.series == best.clip.series;
        let candidates: Vec<Candidate> = tried
            .iter()
            .filter(|tried| one_series(&tried.clip) || tried.clip.name == best.clip.name)
            // On raw water only 316 throughout lasts; what the shop sells is asked for as that.
            .filter(|tried| {
                !raw || !tried.clip.own || tried.clip.metal == Some(Metal::Stainless316)
            })
            .map(|tried| Candidate {
                name: asked_for(&tried.clip, raw),
                own: tried.clip.own,
                holds: diameters
                    .holds_in(&numbers, &tried.clip)
                    .into_iter()
                    .enumerate()
                    .map(|(draw, holds)| holds && goes(draw))
                    .collect(),
            })
            .filter(|candidate| candidate.holds.contains(&true))
            .collect();
        Some((best, candidates))
    };
    let (mut best, mut candidates) = (None, Vec::new());
    if !barred && let Some((tried, all)) = of_kind(wanted) {
        (best, candidates) = (Some(tried), all);
    }
    let good = |chance: f64| crate::verdict::grade(chance, input.terms.stakes);
    let poor = best
        .as_ref()
        .is_none_or(|best| good(best.chance) == crate::verdict::Grade::Unsound);
    if poor
        && wanted != ClipKind::WormDrive
        && let Some((tried, all)) = of_kind(ClipKind::WormDrive)
    {
        (best, candidates) = (Some(tried), all);
    }
    let best = best?;
    // The clip that is written may be of another series than the best.
    let written = input
        .note
        .clip
        .as_ref()
        .filter(|_| !barred)
        .and_then(|wanted| look_up(wanted, false).ok());
    if let Some(clip) = &written
        && candidates.iter().all(|known| known.name != clip.name)
        && (!raw || clip.metal == Some(Metal::Stainless316))
    {
        let (diameters, _) = try_all(&ctx, clip.kind);
        if !diameters.lacks_bead() {
            let holds = diameters.holds_in(&numbers, clip).into_iter().enumerate();
            candidates.push(Candidate {
                name: clip.name.clone(),
                own: false,
                holds: holds.map(|(draw, holds)| holds && goes(draw)).collect(),
            });
        }
    }
    // What the owner decided on stays, where it holds as surely.
    let decided = input
        .note
        .clip
        .as_ref()
        .and_then(super::clip_name)
        .filter(|name| {
            candidates.iter().any(|candidate| {
                let holds = candidate.holds.iter().filter(|holds| **holds).count();
                let chance = holds as f64 / candidate.holds.len().max(1) as f64;
                candidate.name == *name && good(chance) <= good(best.chance)
            })
        });
    let usual = decided.unwrap_or_else(|| asked_for(&best.clip, raw));
    // The best of all may be one of the shelf that raw water would eat.
    let likeliest = || {
        candidates
            .iter()
            .max_by_key(|candidate| candidate.holds.iter().filter(|holds| **holds).count())
            .map(|candidate| candidate.name.clone())
    };
    let listed = candidates.iter().any(|candidate| candidate.name == usual);
    Some(Clips {
        usual: if listed { Some(usual) } else { likeliest() },
        candidates,
    })
}

/// A clip as one asks for it in the shop.
/// The name by which a clip is asked for: on raw water of 316 throughout, where nothing else is said.
pub(super) fn asked_for(clip: &ClipFacts, raw: bool) -> String {
    if raw && !clip.own && clip.metal.is_none() {
        format!("{} 316", clip.name)
    } else {
        clip.name.clone()
    }
}

/// The bores that go on every measured end of a hose and are held there: `[least, most]` in metres.
/// From stretch over spigot and bead, and from slack; nothing where the build or all ends are unknown.
pub fn bores_that_fit(ends: &[End], kind: reference::hose::HoseKind) -> Option<(f64, f64)> {
    let (mut least, mut most): (f64, f64) = (0.0, f64::INFINITY);
    let mut any = false;
    for end in ends {
        let Ok(od) = &end.spigot.od else { continue };
        any = true;
        let (spigot, bead) = refused_over(kind, end.tried);
        least = least.max(od.measured.high.si() / (1.0 + spigot));
        if let Ok(over) = &end.spigot.bead {
            least = least.max(over.measured.high.si() / (1.0 + bead));
        }
        let low = od.measured.low.si();
        most = most.min(low + allowed_slack(low));
    }
    any.then_some((least, most))
}
