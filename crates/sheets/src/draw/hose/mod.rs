//! The pictures of a hose sheet: the mark to copy, the hose straight as cut, the run as it lies in
//! three views, and a clock face for each clip.
//!
//! All are drawn at a scale of paper: lengths in here are millimetres of paper unless said otherwise.

mod board;
mod clock;
mod head;
mod lies;
mod look;
mod outline;
mod room;
mod seen;
mod straight;
mod told;

pub use clock::{clocks, free_of, free_words};
pub use head::head;
pub use lies::{lies, lies_least};
pub use look::{Bearings, Look, View};
pub use straight::straight;

use quantity::System;
use reckon::{JointRow, LaidClip, LaidPart, LaidRun, Route};

/// Width of every picture of a hose sheet: what stands in the frame [mm].
pub const WIDE: f64 = 172.0;

/// What a hose sheet is drawn from.
#[derive(Clone, Copy, Debug)]
pub struct HoseForm<'a> {
    /// The bay.
    pub route: &'a Route,
    /// The run that the sheet is about.
    pub run: &'a LaidRun,
    /// The joints of the boat; those of other runs are passed over.
    pub joints: &'a [JointRow],
    /// Where the run begins and ends, in words; empty where that is not listed.
    pub ends: &'a str,
    /// On which side of the pump it lies, in a word; empty where that is not listed.
    pub side: &'a str,
    /// The units of what is printed.
    pub units: System,
}

impl<'a> HoseForm<'a> {
    /// The joints of the run in order of flow.
    pub fn own(&self) -> Vec<&'a JointRow> {
        let own = self.joints.iter().filter(|row| row.run == self.run.run);
        own.collect()
    }

    /// The clips of the run, in order of flow where its joints are known.
    pub fn clips(&self) -> Vec<&'a LaidClip> {
        let own = self.own();
        let rank = |clip: &LaidClip| own.iter().position(|row| row.joint == clip.joint);
        let of_run = |clip: &&LaidClip| {
            let rest = clip.joint.strip_prefix(self.run.run.as_str());
            rank(clip).is_some() || rest.is_some_and(|rest| rest.starts_with('.'))
        };
        let mut clips: Vec<&LaidClip> = self.route.clips.iter().filter(of_run).collect();
        clips.sort_by_key(|clip| rank(clip).unwrap_or(usize::MAX));
        clips
    }

    /// The pieces of the run that are cut off a length of hose.
    pub fn hoses(&self) -> Vec<&'a LaidPart> {
        self.run.parts.iter().filter(|part| part.bends).collect()
    }

    /// The joints at the two ends of a piece, upstream first.
    pub fn ends_of(&self, part: &LaidPart) -> [Option<&'a JointRow>; 2] {
        let own = self.own();
        let goes = |row: &&&JointRow| row.by_hand.piece.as_deref() == Some(part.key.as_str());
        let of_it: Vec<&JointRow> = own.iter().filter(goes).copied().collect();
        match of_it.as_slice() {
            [] => [None, None],
            [one] => {
                // At the end of the piece that its clip is nearer to.
                let clips = self.route.clips.iter();
                let mut at = clips.filter(|clip| clip.joint == one.joint);
                let last = match (at.next(), part.line.first(), part.line.last()) {
                    (Some(clip), Some(first), Some(last)) => {
                        look::apart(clip.at, *last) < look::apart(clip.at, *first)
                    }
                    _ => own.last().is_some_and(|row| row.joint == one.joint) && own.len() > 1,
                };
                if last {
                    [None, Some(one)]
                } else {
                    [Some(one), None]
                }
            }
            [first, .., last] => [Some(first), Some(last)],
        }
    }
}
