//! High and low spots on a way, with the few words that stand beside them.

use boat::ThingKind;

use super::{At, PieceForm, SignKind, StripSign, Way};
use crate::stages::circuit::plan::{Plan, Site};
use crate::stages::circuit::rules::air::{DrawnSpot, Look, drawn};
use crate::verdict::{Grade, Words};
use crate::wire::Answer;

/// Heights closer than this are one [m]: as near as a bleed has to be. Common practice, no source.
const CLOSE: f64 = 0.025;

/// What is said of what lies outside, and nothing drains while she floats.
pub(super) const FULL: &str = "stays full";

/// Puts the spots that lie on a way among its signs.
pub(super) fn mark(plan: &Plan, answer: &Answer, way: &mut Way) {
    if !way.measured {
        return;
    }
    for look in [Look::Up, Look::Down] {
        for spot in drawn(plan, look) {
            let Some(at) = place(plan, way, &spot, look) else {
                continue;
            };
            let (kind, rule) = match look {
                Look::Up => (SignKind::High, "bleed"),
                Look::Down => (SignKind::Low, "drain"),
            };
            let id = format!("circuit.{}.{rule}", spot.lead);
            let said = answer.verdicts.iter().find(|verdict| verdict.id == id);
            let grade = said.map(|verdict| verdict.grade);
            let outside = spot
                .sites
                .iter()
                .any(|site| matches!(site, Site::Thing(i) if plan.facts.things[*i].is(ThingKind::KeelPipes)));
            let says = match (look, grade) {
                (Look::Up, Some(Grade::Unsound | Grade::Marginal)) => "no bleed",
                (Look::Down, Some(Grade::Unsound | Grade::Marginal)) => "no drain",
                (Look::Up, Some(Grade::Unmeasured)) => "bleed unmeasured",
                (Look::Down, Some(Grade::Unmeasured)) => "drain unmeasured",
                (Look::Up, _) if spot.tank => "into the header",
                (Look::Down, _) if outside => FULL,
                // With a cock of its own the sign of that says it.
                _ => "",
            };
            way.signs.push(StripSign {
                key: spot.lead.clone(),
                kind,
                at,
                // What lies outside is drawn where it lies, not where its fittings are.
                z: Some(spot.height).filter(|_| !outside),
                says: Words::from(says),
                grade: grade.or((!outside).then_some(Grade::Sound)),
            });
        }
    }
}

/// Where on the way it lies: the farthest point of those pieces that belong to it.
fn place(plan: &Plan, way: &Way, spot: &DrawnSpot, look: Look) -> Option<At> {
    let names = |site: &Site| match site {
        Site::Run(i) => plan.facts.runs[*i].run.key.clone(),
        Site::Thing(i) => plan.facts.things[*i].key().to_owned(),
    };
    let lead = spot.sites.first().map(names)?;
    let mut best: Option<(f64, At, bool)> = None;
    for (i, piece) in way.pieces.iter().enumerate() {
        let of = if piece.run.is_empty() {
            &piece.key
        } else {
            &piece.run
        };
        // The name that leads is one of those that are equally high.
        if *of != lead && *of != spot.lead {
            continue;
        }
        for (share, z) in &piece.poly {
            let far = match look {
                Look::Up => *z,
                Look::Down => -*z,
            };
            // A thing has its spot in its middle; OK because a way has few pieces.
            let at = i as At
                + if matches!(piece.form, PieceForm::Within | PieceForm::Outside) {
                    0.55
                } else {
                    *share
                };
            if best.is_none_or(|(known, _, _)| far > known + 1e-6) {
                best = Some((far, at, !piece.run.is_empty()));
            }
        }
    }
    let (far, at, of_run) = best?;
    // A spot of a run may lie on a leg of it that the way does not go through.
    let height = match look {
        Look::Up => spot.height,
        Look::Down => -spot.height,
    };
    (!of_run || (far - height).abs() < CLOSE).then_some(at)
}
