//! The clips, and where on their spigots they sit.

use boat::{ClipWord, Told, joint_path};
use quantity::{Length, Quantity, Reading};
use reference::clip::usual_band;
use reference::insertion::from_hose_end;

use super::Desk;
use crate::stages::route::ClipFact;
use crate::stages::types::JointRow;

impl Desk<'_> {
    pub(super) fn clips(&self) -> Vec<ClipFact> {
        self.rows.iter().filter_map(|row| self.clip(row)).collect()
    }

    fn clip(&self, row: &JointRow) -> Option<ClipFact> {
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
        let band = usual_band(Length::of_si(bore)).value.si();
        // The band sits as near the hose's end as it may; without a known length half a band's width behind the mouth.
        let back = row.push_on.as_ref().map_or(band, |push| {
            (push.si - from_hose_end().value.si() - band / 2.0).max(band / 2.0)
        });
        let room = boat.bay.room.iter().find(|room| room.joint == row.joint);
        let upstream = row.joint.ends_with(".from") || row.joint.ends_with(".b");
        Some(ClipFact {
            joint: row.joint.clone(),
            mark: row.mark.clone(),
            run: row.run.clone(),
            piece,
            upstream,
            title: format!("{} ({})", row.joint, row.mark),
            kind,
            od: over,
            back,
            room: room.and_then(|room| typed(&room.free)),
            across: room.and_then(|room| typed(&room.across)),
            place: joint_path(&row.joint),
        })
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
