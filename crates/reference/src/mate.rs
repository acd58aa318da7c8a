//! Which threads mate, and what seals between them.

use serde::Deserialize;

use crate::source::{SourceRef, Unknown};
use crate::table::{Table, data};
use crate::thread::{Family, ThreadSex};

/// What seals a screwed joint.
/// Unit: none. Range: the six below. Source: this crate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum SealsOn {
    /// The thread itself, with tape, paste or anaerobic sealant.
    Thread,
    /// The thread, but makers warn against the pair.
    ThreadInDoubt,
    /// Flat faces with a washer between them.
    Face,
    /// A seat beside the thread.
    Seat,
    /// Nothing: it screws in and leaks.
    Nothing,
    /// The two never belong together.
    Never,
}

/// What two families of thread make of each other.
/// Unit: none. Range: the rows of the file. Source: `source`.
#[derive(Clone, Debug, PartialEq)]
pub struct Mating {
    /// Families of the male. Unit: none. Range: see [`Family`]. Source: `source`.
    pub male: Vec<Family>,
    /// Families of the female. Unit: none. Range: see [`Family`]. Source: `source`.
    pub female: Vec<Family>,
    /// What seals. Unit: none. Range: see [`SealsOn`]. Source: `source`.
    pub seal: SealsOn,
    /// The law in words. Unit: none. Range: text. Source: `source`.
    pub says: String,
    /// Where it comes from. Unit: none. Range: see [`crate::Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawMating {
    male: Vec<Family>,
    female: Vec<Family>,
    seal: SealsOn,
    says: String,
    source: Option<String>,
}

data!(static MATES: Mating = "threads-mates.toml", RawMating, |table, raw| Mating {
    male: raw.male,
    female: raw.female,
    seal: raw.seal,
    says: raw.says,
    source: table.source(raw.source.as_deref()),
});

/// What seals between a male of one family and a female of another. Size and pitch must agree as
/// well, which is for the caller to see.
///
/// # Errors
/// [`Unknown`] where the family has no males or no females: R has only males, Rc and Rp only females.
///
/// Unit: none. Range: every male with every female. Source: each row's own.
pub fn mates(male: Family, female: Family) -> Result<&'static Mating, Unknown> {
    for (family, sex, word) in [
        (male, ThreadSex::Male, "male"),
        (female, ThreadSex::Female, "female"),
    ] {
        if !family.has(sex) {
            return Err(Unknown::new(
                format!("{} names no {word} thread", family.name()),
                format!("the family of the {word} thread: pitch and two diameters"),
            ));
        }
    }
    let row = MATES
        .rows
        .iter()
        .find(|row| row.male.contains(&male) && row.female.contains(&female));
    // OK because a test asks for every male with every female.
    Ok(row.expect("every male with every female stands in the file"))
}

/// All rows. Unit: none. Range: the rows of the file. Source: each row's own.
pub fn matings() -> &'static [Mating] {
    &MATES.rows
}

pub(crate) fn tables() -> Vec<&'static Table> {
    vec![&MATES.table]
}
