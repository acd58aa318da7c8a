//! The boat as she will be built: with the list's remedies done and its clips taken.

use boat::Key;

use crate::job::Kept;
use crate::stages::order::{Line, Ware};
use crate::verdict::Words;
use crate::whatif::{self, Mended};
use crate::wire::{Answer, Memo};

/// A piece of hose that is cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// Its key: `hot.hose2`; more than one where pieces share a length of their run and only its sum is known.
    pub pieces: Vec<Key>,
    /// How long it is cut [m].
    pub length: f64,
    /// Whether that is the most that it can want: it is offered up and cut in place.
    pub at_most: bool,
    /// The length of the owner's from which it is cut; `None` where hose is bought for it.
    pub from: Option<Shelf>,
    /// Where hose is bought: the bores that go on its ends and hold, for people: `36.5 to 38.5 mm`.
    pub bore: Option<Words>,
}

/// A length on the owner's shelf.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shelf {
    /// Where it lies, where that is written.
    pub place: Option<String>,
}

impl Cut {
    /// Whether it is cut for a piece of a run.
    pub fn is_for(&self, piece: &str) -> bool {
        self.pieces.iter().any(|own| own == piece)
    }
}

/// What is judged of the boat once each joint has the clip that the list takes for it.
pub(super) fn built(
    kept: &Kept,
    mended: &Mended,
    lines: &[Line],
    ask: whatif::Ask,
    memo: &mut Memo,
) -> Answer {
    let mut now = (mended.text.clone(), mended.boat.clone());
    for line in lines.iter().filter(|line| line.ware == Ware::Clip) {
        for joint in &line.wanted_by {
            let mut joints = kept.joints.iter();
            let Some((input, row)) = joints.find(|(_, row)| row.joint == *joint) else {
                continue;
            };
            if row.clip.as_deref() == Some(line.name.as_str()) {
                continue;
            }
            let place = format!("{}.clip", input.note_place);
            if let Some(then) = whatif::edited(&now.0, &place, &boat::quoted(&line.name)) {
                now = then;
            }
        }
    }
    whatif::judged(&now.1, ask, memo)
}
