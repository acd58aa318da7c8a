//! What can be wrong with what was asked, apart from the words of the boat file itself, and what the program then returns.

use thiserror::Error;

/// What the program returns to whoever started it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Exit {
    /// Nothing unsound.
    Sound = 0,
    /// Something unsound; with `--strict` also something unmeasured.
    Unsound = 1,
    /// The input is wrong.
    WrongInput = 2,
    /// The tool failed.
    Failed = 3,
}

/// One sentence on why nothing was done.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum Fault {
    /// No such file or folder.
    #[error(
        "There is no file or folder {path}: give the boat's folder or its {}.",
        crate::files::BOAT_FILE
    )]
    NotThere {
        /// As given.
        path: String,
    },
    /// A folder that is no boat's.
    #[error(
        "The folder {folder} holds no {}: `hosewright new {}` starts one.",
        crate::files::BOAT_FILE,
        crate::files::for_shell(folder)
    )]
    NoBoatFile {
        /// As given.
        folder: String,
    },
    /// The system refuses.
    #[error("The file {path} can't be read: {why}.")]
    Unreadable {
        /// As given.
        path: String,
        /// By the system's words.
        why: String,
    },
    /// Not UTF-8.
    #[error(
        "The file {path} is not UTF-8 text: line {line} holds a byte that is no letter. Save it as UTF-8 and run this again."
    )]
    NotText {
        /// As given.
        path: String,
        /// The first line that is not.
        line: usize,
    },
    /// Larger than any boat file.
    #[error("The file {path} is larger than 4 MiB: a boat file is typed by hand and far smaller.")]
    TooLarge {
        /// As given.
        path: String,
    },
    /// Another program wrote to it.
    #[error(
        "The file {path} was changed since it was read, so nothing is written: run this again."
    )]
    ChangedOutside {
        /// As given.
        path: String,
    },
    /// The system refuses.
    #[error("The file {path} can't be written: {why}.")]
    Unwritable {
        /// As given.
        path: String,
        /// By the system's words.
        why: String,
    },
    /// `new` overwrites nothing.
    #[error("There is a file {path} already, and it stays as it is: give another folder.")]
    ThereAlready {
        /// As given.
        path: String,
    },
    /// `sheets` overwrites only its own.
    #[error(
        "There is a file {path} that this program did not print, so nothing is written: name another folder with --out."
    )]
    InTheWay {
        /// As given.
        path: String,
    },
    /// `sheets` mixes no two boats in a folder.
    #[error(
        "The sheet {path} is another boat's, so nothing is written: name another folder with --out."
    )]
    OtherBoat {
        /// As given.
        path: String,
    },
    /// A sheet that was laid out can't be made a PDF, which is a defect of the tool.
    #[error("The sheet {path} can't be printed: {why}. This is a defect of the program.")]
    NotPrinted {
        /// As given.
        path: String,
        /// One clause.
        why: String,
    },
    /// `new` wants a folder.
    #[error(
        "{path} is the name of a file, and a boat is a folder: `hosewright new {}` starts one with its {}.",
        crate::files::for_shell(folder),
        crate::files::BOAT_FILE
    )]
    NoFolder {
        /// As given.
        path: String,
        /// What was probably meant.
        folder: String,
    },
    /// No arrangement of that name.
    #[error("The boat file has no arrangement \"{name}\": {known}.")]
    NoArrangement {
        /// As given.
        name: String,
        /// Those that it has, as words.
        known: String,
    },
    /// No verdict of that name.
    #[error(
        "There is no verdict {id}{nearest} `hosewright check {} --all` lists them.",
        crate::files::for_shell(boat)
    )]
    NoVerdict {
        /// As given.
        id: String,
        /// `: did you mean …?` or a full stop.
        nearest: String,
        /// As given.
        boat: String,
    },
    /// `--explain` found nothing.
    #[error("No verdict begins with {prefix}{nearest}")]
    NothingToExplain {
        /// As given.
        prefix: String,
        /// `: did you mean …?` or a full stop.
        nearest: String,
    },
    /// The remedy is work, not an edit.
    #[error("No edit of the file mends {id}. What mends it: {remedy}")]
    NoEdit {
        /// Of the verdict.
        id: String,
        /// In the reader's units.
        remedy: String,
    },
    /// It holds, or nothing mends it.
    #[error("{id} is {grade}: there is nothing to mend.")]
    NothingToMend {
        /// Of the verdict.
        id: String,
        /// Its grade in words.
        grade: &'static str,
    },
    /// Several ways, and none named.
    #[error("There is more than one way to mend {id}; name one with --choice:\n{ways}")]
    WhichEdit {
        /// Of the verdict.
        id: String,
        /// One a line, numbered from 1.
        ways: String,
    },
    /// No such way.
    #[error("There is no choice {choice} for {id}: it has {count}.")]
    NoChoice {
        /// Of the verdict.
        id: String,
        /// As given.
        choice: usize,
        /// How many there are.
        count: usize,
    },
    /// A value given on the command line.
    #[error("{flag} {found}: {why}")]
    Flag {
        /// `--bore`.
        flag: String,
        /// As given.
        found: String,
        /// One sentence.
        why: String,
    },
    /// Flags that don't go together, or one too few.
    #[error("{0}")]
    Flags(String),
    /// An edit that the tool itself proposed can't be made, which is a defect of the tool.
    #[error(
        "The edit for {id} can't be made: {why}. This is a defect of the program, and the file stays as it is."
    )]
    BadEdit {
        /// Of the verdict.
        id: String,
        /// One clause.
        why: String,
    },
}

impl Fault {
    /// What the program returns after it.
    pub fn exit(&self) -> Exit {
        match self {
            Self::NothingToMend { .. } => Exit::Sound,
            Self::BadEdit { .. } | Self::Unwritable { .. } | Self::NotPrinted { .. } => {
                Exit::Failed
            }
            _ => Exit::WrongInput,
        }
    }
}

/// The end of a sentence about a name that is not known: `: did you mean hot?`, or a full stop where none is near.
pub fn nearest<'a>(given: &str, known: impl IntoIterator<Item = &'a str>) -> String {
    known
        .into_iter()
        .map(|name| (strsim::normalized_damerau_levenshtein(given, name), name))
        .filter(|(likeness, _)| *likeness > 0.6)
        .max_by(|(a, _), (b, _)| a.total_cmp(b))
        .map_or_else(
            || ".".to_owned(),
            |(_, name)| format!(": did you mean {name}?"),
        )
}
