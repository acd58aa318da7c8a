//! What the stage reads and gives.

use boat::{Key, KeyPath};

use super::hoses::Sleeve;
use crate::stages::types::{
    ClipWanted, HoseFacts, JointRow, Missing, NoteFacts, SpigotFacts, Subject, Terms,
};
use crate::verdict::{Edit, Grade, Verdict};

/// All that is read for one joint.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct JointInput {
    /// Who is judged.
    pub subject: Subject,
    /// Its mark: `A1`.
    pub mark: String,
    /// The run it belongs to.
    pub run: Key,
    /// The male end.
    pub spigot: SpigotFacts,
    /// The female end: a hose, or the cuff of a moulded piece.
    pub hose: Result<HoseFacts, Missing>,
    /// What else the owner might take for the hose, the best first.
    pub other_hoses: Vec<OtherHose>,
    /// A sleeve over one of the spigots, where no one hose fits both ends.
    pub sleeve: Option<Sleeve>,
    /// What the file says of the joint.
    pub note: NoteFacts,
    /// Where that stands, or would stand.
    pub note_place: KeyPath,
    /// Clips on the owner's shelf.
    pub shelf: Vec<ClipWanted>,
    /// What holds for the whole boat and bears on it.
    pub terms: Terms,
}

/// The answer for one joint.
#[derive(Clone, Debug, PartialEq)]
pub struct JointOutput {
    /// As a row of a table.
    pub row: JointRow,
    /// What is judged of it.
    pub verdicts: Vec<Verdict>,
    /// The clip that it takes from the shelf, or is told to take, by name, and how many.
    pub takes: Option<(String, u32)>,
}

/// Another way to make up a stretch of hose, and the edit that would do it.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct OtherHose {
    /// What it is: `hose 35`, `hose 40 + reducer 40>38 metal + hose 38`.
    pub name: String,
    /// How good it is at the worse end.
    pub grade: Grade,
    /// Chance in thousandths that it goes on and holds at both ends.
    pub thousandths: u32,
    /// Whether it lies on the owner's shelf.
    pub own: bool,
    /// Writes it into the file.
    pub edit: Option<Edit>,
}
