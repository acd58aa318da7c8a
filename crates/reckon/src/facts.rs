//! What stages read of the whole boat: her waters, her caps and alarm, the stuff of her pieces.

use boat::{Arranged, Boat, HoseBuild, Piece, PieceKind, Size, Thing, Told};
use quantity::{GaugePressure, Reading};
use reference::media::Glycol;

use crate::stages::fill::KindFacts;
use crate::stages::fit::{Mix, Serves};
use crate::stages::survey;
use crate::stages::types::{ClipWanted, HoseFacts, NoteFacts, Outside, SaltFacts, clip_kind};
use crate::verdict::Settles;

/// The size by name of the hose beside a place in a way.
pub(crate) fn size_beside(pieces: &[Piece], at: usize) -> Size {
    let size = |piece: &Piece| match &piece.kind {
        PieceKind::Hose { size, .. } | PieceKind::Elbow { size, .. } => Some(*size),
        PieceKind::Reducer { to, .. } => Some(*to),
        _ => None,
    };
    at.checked_sub(1)
        .and_then(|before| pieces.get(before))
        .and_then(size)
        .or_else(|| pieces.get(at).and_then(size))
        .unwrap_or(Size::Choose)
}

pub(crate) fn build_beside(pieces: &[Piece], at: usize) -> Option<HoseBuild> {
    pieces
        .iter()
        .skip(at.saturating_sub(2))
        .find_map(|piece| match &piece.kind {
            PieceKind::Hose { build, .. } => *build,
            _ => None,
        })
}

pub(crate) fn wanted(clip: &boat::ClipSpec) -> ClipWanted {
    ClipWanted {
        kind: clip_kind(clip.kind),
        range: clip.range,
        size: clip.size,
        band: clip.band,
        metal: clip.metal,
    }
}

/// What the circuit does to its hoses: alarm, and the cap that governs.
pub(crate) fn serves(arranged: &Arranged) -> Serves {
    let boat = &arranged.boat;
    let instruments = &boat.instruments;
    let engine = boat.things.iter().find_map(|thing| thing.engine.as_ref());
    let alarm = survey::known(
        &engine.map_or(Told::LeftOut, |engine| engine.alarm.at.clone()),
        "engine.alarm.at",
        "Read what is stamped on the sender of the alarm.",
        instruments,
    );
    // A blanked cap does not govern; of several the weakest does.
    let blanked = |thing: &Thing| {
        arranged
            .blanked
            .iter()
            .any(|blank| *blank == format!("{}.cap", thing.key))
    };
    let capped = boat
        .things
        .iter()
        .filter(|thing| !thing.cap.is_left_out() && !blanked(thing))
        .min_by(|a, b| {
            let pressure = |thing: &Thing| {
                thing
                    .cap
                    .given()
                    .map(|cap| cap.value)
                    .unwrap_or(GaugePressure::of_si(f64::MAX))
            };
            pressure(a).cmp(&pressure(b))
        });
    let nothing: Told<Reading<GaugePressure>> = Told::LeftOut;
    let (cap, cap_place, seat, seat_place) = match capped {
        Some(thing) => {
            let base = arranged.thing_place(&thing.key);
            (
                &thing.cap,
                format!("{base}.cap"),
                &thing.cap_height,
                format!("{base}.cap_h"),
            )
        }
        None => (
            &nothing,
            "engine.cap".to_owned(),
            &Told::LeftOut,
            "engine.cap_h".to_owned(),
        ),
    };
    Serves {
        alarm,
        cap: survey::known(
            cap,
            &cap_place,
            "Read what is stamped on the pressure cap.",
            instruments,
        ),
        cap_height: survey::known(
            seat,
            &seat_place,
            "Measure the height of the cap's seat with a water-filled tube.",
            instruments,
        ),
        mix: mix(boat),
    }
}

/// The coolant that is wanted. A share over six tenths counts as that much: richer is not used.
fn mix(boat: &Boat) -> Mix {
    let kind = boat.coolant.kind.given().map_or("", String::as_str);
    let share = boat.coolant.percent.given();
    Mix {
        propylene: KindFacts::of(kind).glycol == Some(Glycol::Propylene),
        thousandths: share
            .map(|share| (share.value.to_f64() * 1000.0).clamp(0.0, 600.0).round() as u16),
    }
}

/// Whether she lies in salt water. Below a practical salinity of 0.5 water counts as fresh.
/// Source: Venice system (1958), limit of fresh water.
pub(crate) fn salt(boat: &Boat) -> SaltFacts {
    match boat.about.sea.salinity {
        Told::Given(salinity) if salinity < 0.5 => SaltFacts::Fresh,
        Told::Given(_) => SaltFacts::Salt,
        _ => SaltFacts::Unknown(Settles {
            place: "boat.sea.salinity".into(),
            how: "Write the salinity of her waters: 0 for fresh water, 7 for the Baltic, 35 for the open sea.".into(),
        }),
    }
}

/// Clips of the shelf less those that the file has decided on for its joints.
pub(crate) fn unspoken(boat: &Boat) -> Vec<(ClipWanted, u32)> {
    let mut shelf: Vec<(ClipWanted, u32)> = boat
        .stock
        .clips
        .iter()
        .map(|own| (wanted(&own.clip), own.count))
        .collect();
    for note in &boat.joints {
        let Some(clip) = note.clip.given() else {
            continue;
        };
        let count = note.clips.given().copied().unwrap_or(1);
        if let Some((_, left)) = shelf.iter_mut().find(|(own, _)| *own == wanted(clip)) {
            *left = left.saturating_sub(count);
        }
    }
    shelf
}

/// A hose with what was measured of this very end.
pub(crate) fn measured_end(hose: HoseFacts, note: &NoteFacts) -> HoseFacts {
    let outside = match &note.hose_over {
        Some(Ok(over)) => Ok(Outside::Over(over.clone())),
        Some(Err(missing)) => Err(missing.clone()),
        None => hose.outside,
    };
    HoseFacts {
        bore: note.hose_bore.clone().unwrap_or(hose.bore),
        outside,
        ..hose
    }
}
