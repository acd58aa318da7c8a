//! The clips, and where on their spigots they sit.

use boat::{ClipWord, Told, joint_path};
use quantity::{Length, Quantity, Reading};
use reference::clip::usual_band;
use reference::insertion::{between_clips, from_hose_end};

use super::Desk;
use crate::stages::route::ClipFact;
use crate::stages::types::JointRow;

/// More clips than anybody puts on one end. Ours.
const MOST: u32 = 4;

impl Desk<'_> {
    pub(super) fn clips(&self) -> Vec<ClipFact> {
        self.rows
            .iter()
            .flat_map(|row| self.on_end(row).unwrap_or_default())
            .collect()
    }

    /// The clips of one hose end, from the hose's end on.
    fn on_end(&self, row: &JointRow) -> Option<Vec<ClipFact>> {
        let piece = row.by_hand.piece.clone()?;
        // How large it is when it sits on the hose; a hose that is not known has no clip yet.
        let over = row
            .fitted_high
            .as_ref()
            .or(row.over.as_ref())
            .map(|number| number.si)?;
        let boat = self.boat();
        let note = boat.joints.iter().find(|note| note.joint == row.joint);
        let word = row.clip.as_deref().and_then(|name| name.split(' ').next());
        let kind = word
            .and_then(clip_word)
            .or_else(|| Some(note?.clip.given()?.kind))
            .or_else(|| note?.clip_kind.given().copied());
        let bore = row.bore.as_ref().map_or(over, |bore| bore.si);
        let usual = || usual_band(Length::of_si(bore)).value;
        let band = row.by_hand.band.unwrap_or_else(usual).si();
        let apart = band + between_clips().value.si();
        // The first band sits as near the hose's end as it may. Without a known length, as where the metal is too short
        // for all of them, one is laid, half a band's width behind the mouth.
        let (of, first) = match &row.push_on {
            Some(push) => (
                row.clips.unwrap_or(1).max(1),
                push.si - from_hose_end().value.si() - band / 2.0,
            ),
            None => (1, band),
        };
        let back = |nth: u32| (first - apart * f64::from(nth - 1)).max(band / 2.0);
        let room = boat.bay.room.iter().find(|room| room.joint == row.joint);
        let upstream = row.joint.ends_with(".from") || row.joint.ends_with(".b");
        let clip = |nth: u32| ClipFact {
            joint: row.joint.clone(),
            nth,
            of,
            mark: row.mark.clone(),
            run: row.run.clone(),
            piece: piece.clone(),
            upstream,
            title: format!("{} ({})", row.joint, row.mark),
            kind,
            od: over,
            back: back(nth),
            room: room.and_then(|room| typed(&room.free)),
            across: room.and_then(|room| typed(&room.across)),
            place: joint_path(&row.joint),
        };
        Some((1..=of.min(MOST)).map(clip).collect())
    }
}

/// A length that was typed [m]; of two readings that differ none counts yet.
fn typed(told: &Told<Reading<Length>>) -> Option<f64> {
    told.given().map(|one| one.value.si())
}

/// The kind by the first word of a clip's name.
fn clip_word(word: &str) -> Option<ClipWord> {
    Some(match word {
        "worm" => ClipWord::Worm,
        "single-ear" => ClipWord::SingleEar,
        "two-ear" => ClipWord::TwoEar,
        "t-bolt" => ClipWord::TBolt,
        "spring" => ClipWord::SpringBand,
        _ => return None,
    })
}
