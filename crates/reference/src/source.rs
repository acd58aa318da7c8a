//! Where a value comes from, and how far it is to be trusted.

use std::sync::LazyLock;

use quantity::{Measured, Origin, Quantity};
use serde::Deserialize;

use crate::table::Table;

/// How a figure came to be known.
/// Unit: none. Range: the five below. Source: this crate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Status {
    /// Read in a public page or document.
    Printed,
    /// Worked out from a formula that is given.
    Calculated,
    /// From memory of a standard or handbook that was not to hand.
    Recalled,
    /// What the trade does; no source.
    Practice,
    /// What the owner wrote in the boat file.
    Owner,
}

impl Status {
    /// The status as readers see it. Unit: none. Range: text. Source: this crate.
    pub fn word(self) -> &'static str {
        match self {
            Self::Printed => "printed",
            Self::Calculated => "worked out",
            Self::Recalled => "from memory, to be checked",
            Self::Practice => "common practice, no source",
            Self::Owner => "as the owner wrote it",
        }
    }
}

/// One source, described in words: what it is, not who sells it.
/// Unit: none. Range: one per id. Source: the head of the data file that names it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Source {
    /// Short name, the same wherever it is cited. Unit: none. Range: text. Source: the data file.
    pub id: String,
    /// What it is. Unit: none. Range: text. Source: the data file.
    pub text: String,
    /// How it came to be known. Unit: none. Range: see [`Status`]. Source: the data file.
    pub status: Status,
    /// Edition of the document, where it is known. Unit: none. Range: text. Source: the data file.
    pub edition: Option<String>,
}

impl Source {
    /// The source in one line, for a reader. Unit: none. Range: text. Source: this crate.
    pub fn cite(&self) -> String {
        let edition = self
            .edition
            .as_ref()
            .map(|edition| format!(", {edition}"))
            .unwrap_or_default();
        match self.status {
            Status::Owner => self.text.clone(),
            status => format!("{}{edition} ({})", self.text, status.word()),
        }
    }
}

/// A source that lives as long as the program. Unit: none. Range: see [`Source`]. Source: the data files.
pub type SourceRef = &'static Source;

/// The owner's own entry in the boat file, which wins over every table.
/// Unit: none. Range: one source. Source: the boat file.
pub fn owner() -> SourceRef {
    static OWNER: LazyLock<Source> = LazyLock::new(|| Source {
        id: "owner".into(),
        text: "the owner's own entry in the boat file".into(),
        status: Status::Owner,
        edition: None,
    });
    &OWNER
}

/// A statement that no number holds, with its source.
/// Unit: none. Range: text. Source: `source`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fact {
    /// Short name. Unit: none. Range: text. Source: this crate.
    pub id: String,
    /// What it says. Unit: none. Range: text. Source: `source`.
    pub says: String,
    /// Where it comes from. Unit: none. Range: see [`Source`]. Source: the data file.
    pub source: SourceRef,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawFact {
    id: String,
    says: String,
    source: Option<String>,
}

pub(crate) fn fact(table: &Table, raw: RawFact) -> Fact {
    Fact {
        id: raw.id,
        says: raw.says,
        source: table.source(raw.source.as_deref()),
    }
}

/// A value with its source.
/// Unit: that of `T`. Range: that of `T`. Source: `source`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sourced<T> {
    /// The value. Unit: that of `T`. Range: that of `T`. Source: `source`.
    pub value: T,
    /// Where it comes from. Unit: none. Range: see [`Source`]. Source: the data file.
    pub source: SourceRef,
}

/// Two ends between which a value lies, both included.
/// Unit: that of `Q`. Range: `low ≤ high`. Source: the row that holds it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits<Q: Quantity> {
    /// Not below. Unit: that of `Q`. Range: at most `high`. Source: the row that holds it.
    pub low: Q,
    /// Not above. Unit: that of `Q`. Range: at least `low`. Source: the row that holds it.
    pub high: Q,
}

impl<Q: Quantity> Limits<Q> {
    /// Half way between. Unit: that of `Q`. Range: within the limits. Source: definition.
    pub fn middle(&self) -> Q {
        // OK because the mean of two finite numbers in a quantity's range is in that range.
        Q::from_si(self.low.si() / 2.0 + self.high.si() / 2.0).unwrap_or(self.low)
    }

    /// Whether a value lies within. Unit: none. Range: yes or no. Source: definition.
    pub fn contains(&self, value: Q) -> bool {
        self.low <= value && value <= self.high
    }

    /// The limits as a value that surely lies between them.
    /// Unit: that of `Q`. Range: within the limits. Source: JCGM 100:2008 (GUM), 4.3.7.
    pub fn measured(&self) -> Measured<Q> {
        Measured {
            value: self.middle(),
            low: self.low,
            high: self.high,
            origin: Origin::Table,
        }
    }
}

/// Nothing was published: why, and what would settle it.
/// Unit: none. Range: text. Source: this crate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unknown {
    /// What no source gives. Unit: none. Range: text. Source: this crate.
    pub why: String,
    /// The measurement or document that would settle it. Unit: none. Range: text. Source: this crate.
    pub settles: String,
}

impl Unknown {
    pub(crate) fn new(why: impl Into<String>, settles: impl Into<String>) -> Self {
        Self {
            why: why.into(),
            settles: settles.into(),
        }
    }
}
