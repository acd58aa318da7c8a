//! What is wrong with a boat file, and where.

use std::fmt;
use std::ops::Range;

use crate::model::KeyPath;

/// How much a remark matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Something can't be read, or says nothing certain: nothing is judged until it is mended.
    Stop,
    /// It reads, but something in it is hardly meant.
    Check,
    /// Worth knowing.
    Note,
}

impl Severity {
    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Stop => "stop",
            Self::Check => "check",
            Self::Note => "note",
        }
    }
}

macro_rules! codes {
    ($($(#[$doc:meta])+ $name:ident $word:literal $severity:ident),+ $(,)?) => {
        /// Which fault it is: the stable short name that programs and tests know.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Code {
            $($(#[$doc])+ $name),+
        }

        impl Code {
            /// Every code.
            pub const ALL: &'static [Self] = &[$(Self::$name),+];

            /// Its name: `unknown-key`.
            pub const fn word(self) -> &'static str {
                match self { $(Self::$name => $word),+ }
            }

            /// How much it matters.
            pub const fn severity(self) -> Severity {
                match self { $(Self::$name => Severity::$severity),+ }
            }
        }
    };
}

codes! {
    /// The text is no TOML at that place.
    Syntax "syntax" Stop,
    /// No `version` stands in the file.
    VersionMissing "version-missing" Stop,
    /// The file was written for a later version.
    VersionNewer "version-newer" Stop,
    /// No such key in that table.
    UnknownKey "unknown-key" Stop,
    /// A number where a text is due, a table where a value is due.
    WrongType "wrong-type" Stop,
    /// A quantity that can't be read, or that no such thing can have.
    BadQuantity "bad-quantity" Stop,
    /// A structured text that breaks its grammar.
    BadForm "bad-form" Stop,
    /// A word that is none of those to choose from.
    UnknownWord "unknown-word" Stop,
    /// A name that can't be one.
    BadName "bad-name" Stop,
    /// One name for two things.
    NameTwice "name-twice" Stop,
    /// A key that must be there is not.
    MissingKey "missing-key" Stop,
    /// A name that stands nowhere else.
    UnknownReference "unknown-reference" Stop,
    /// A run ends on a thing that has several spigots.
    SeveralSpigots "several-spigots" Stop,
    /// A run ends on a thing that has none.
    NoSpigot "no-spigot" Stop,
    /// `[joints]` speaks of a joint that isn't there.
    UnknownJoint "unknown-joint" Stop,
    /// `"choose"` where the tool has no choice.
    NothingToChoose "nothing-to-choose" Stop,
    /// `"?"` where the answer decides what the file means.
    MustBeSaid "must-be-said" Stop,
    /// Something is defined by itself.
    Circle "circle" Stop,
    /// One mark for two runs.
    MarkTwice "mark-twice" Check,
    /// Two hose ends on one spigot.
    EndTwice "end-twice" Check,
    /// A spigot measured in two places.
    MeasuredTwice "measured-twice" Check,
    /// Parts of the bay that are well formed each and can't be together: a box without room in it,
    /// two lengths for three hoses.
    AtOdds "at-odds" Stop,
    /// Nothing stands between the quotes.
    EmptyText "empty-text" Check,
    /// A spigot thicker than its own bead.
    BeadUnderSpigot "bead-under-spigot" Note,
    /// A size by name where a measurement is due.
    NameAsMeasurement "name-as-measurement" Note,
    /// A rule that is printed but not judged, though one that is reads much like it.
    RuleNotJudged "rule-not-judged" Check,
}

impl fmt::Display for Code {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

/// One fault of a boat file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Remark {
    /// Which fault.
    pub code: Code,
    /// How much it matters.
    pub severity: Severity,
    /// The offending bytes of the file.
    pub span: Range<usize>,
    /// The key path nearest to it.
    pub place: KeyPath,
    /// What is wrong, in one sentence.
    pub message: String,
    /// What was expected, where a list or an example helps.
    pub expected: Option<String>,
    /// The offending text.
    pub found: String,
}

/// A fault of one text, before its place in the file is known.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Fault {
    pub(crate) code: Code,
    /// Bytes of the text.
    pub(crate) span: Range<usize>,
    pub(crate) message: String,
    pub(crate) expected: Option<String>,
}

impl Fault {
    pub(crate) fn new(code: Code, span: Range<usize>, message: impl Into<String>) -> Self {
        Self {
            code,
            span,
            message: message.into(),
            expected: None,
        }
    }

    #[must_use]
    pub(crate) fn expecting(mut self, expected: impl Into<String>) -> Self {
        self.expected = Some(expected.into());
        self
    }

    /// The same fault of a text from which this one was cut.
    #[must_use]
    pub(crate) fn moved(mut self, by: usize) -> Self {
        self.span = self.span.start + by..self.span.end + by;
        self
    }
}

impl From<quantity::ParseError> for Fault {
    fn from(error: quantity::ParseError) -> Self {
        Self::new(Code::BadQuantity, error.span, error.message)
    }
}

/// What a text was read as, and what is wrong with it.
pub(crate) type Faulty<T> = Result<T, Vec<Fault>>;
