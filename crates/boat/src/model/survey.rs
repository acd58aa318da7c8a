//! The survey by tape: datum pins, tapes between them and the spigots, dowels, sides.

use quantity::{Angle, Length, Reading};

use super::{Key, KeyPath, Told};
use crate::places::joined;

/// `[survey]`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Survey {
    /// Datum pins, in the order of the file: the first is the origin, the second lies along x.
    pub pins: Vec<Pin>,
    /// Tapes, each between two places.
    pub tapes: Vec<Tape>,
    /// How far dowels stand out of their spigots.
    pub dowels: Vec<SpotLength>,
    /// Heights of places that have no `h` of their own.
    pub heights: Vec<SpotLength>,
    /// Slopes by inclinometer.
    pub slopes: Vec<Slope>,
    /// On which side a place was seen to lie.
    pub sides: Vec<SideNote>,
}

/// A datum pin.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Pin {
    /// Its name.
    pub name: Key,
    /// Its height against today's waterline.
    pub height: Told<Reading<Length>>,
    /// On what it sits, in the owner's words.
    pub on: Told<String>,
}

impl Pin {
    /// Where it stands in the file.
    pub fn path(&self) -> KeyPath {
        joined("survey.pins", &self.name)
    }
}

/// Which place of a spigot.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SpotPart {
    /// The middle of its mouth.
    #[default]
    Mouth,
    /// The far end of the dowel in it.
    Dowel,
    /// The middle of its foot, where it leaves its thing.
    Root,
}

/// A place that a tape can begin or end on.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Spot {
    /// The pin, or the thing.
    pub first: Key,
    /// The spigot; `None` for a pin, and where the thing's only one was left out.
    pub second: Option<Key>,
    /// Which place of the spigot.
    pub part: SpotPart,
}

impl Spot {
    /// As one writes it: `P1`, `engine.out`, `engine.out dowel`.
    pub fn text(&self) -> String {
        let part = match self.part {
            SpotPart::Mouth => "",
            SpotPart::Dowel => " dowel",
            SpotPart::Root => " root",
        };
        match &self.second {
            Some(second) => format!("{}.{second}{part}", self.first),
            None => format!("{}{part}", self.first),
        }
    }
}

/// A tape between two places.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tape {
    /// As typed.
    pub key: String,
    /// One end.
    pub from: Spot,
    /// The other.
    pub to: Spot,
    /// What it read.
    pub length: Told<Reading<Length>>,
}

impl Tape {
    /// Where it stands in the file.
    pub fn path(&self) -> KeyPath {
        joined("survey.tapes", &self.key)
    }
}

/// A length or a height of one place.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SpotLength {
    /// As typed.
    pub key: String,
    /// Of which place.
    pub spot: Spot,
    /// What was read.
    pub length: Told<Reading<Length>>,
}

/// How steeply the line between two places rises.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Slope {
    /// As typed.
    pub key: String,
    /// One end.
    pub from: Spot,
    /// The other, higher one where the slope is over 0.
    pub to: Spot,
    /// What was read.
    pub rises: Told<Reading<Angle>>,
}

/// A side, as typed.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum SideWord {
    /// `left of P1 P2`: left of the line from the first to the second, seen from above.
    Left([Spot; 2]),
    /// `right of P1 P2`.
    Right([Spot; 2]),
    /// `clockwise P1 P2 P3`: seen from the place, those three go round clockwise.
    Clockwise([Spot; 3]),
    /// `anticlockwise P1 P2 P3`.
    Anticlockwise([Spot; 3]),
}

impl SideWord {
    /// The places it speaks of.
    pub fn spots(&self) -> &[Spot] {
        match self {
            Self::Left(of) | Self::Right(of) => of,
            Self::Clockwise(of) | Self::Anticlockwise(of) => of,
        }
    }

    pub(crate) fn spots_mut(&mut self) -> &mut [Spot] {
        match self {
            Self::Left(of) | Self::Right(of) => of,
            Self::Clockwise(of) | Self::Anticlockwise(of) => of,
        }
    }
}

/// On which side a place was seen to lie.
#[derive(Clone, Debug, PartialEq)]
pub struct SideNote {
    /// As typed.
    pub key: String,
    /// Of which place.
    pub spot: Spot,
    /// Where it lies.
    pub says: Told<SideWord>,
}

impl SideNote {
    /// Where it stands in the file.
    pub fn path(&self) -> KeyPath {
        joined("survey.side", &self.key)
    }
}
