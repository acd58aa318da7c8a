//! The one type of verdict, for all stages.

use boat::KeyPath;
use quantity::{Kind, System};

/// A sentence in both unit systems.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub struct Words {
    /// With metric units.
    pub metric: String,
    /// With imperial units.
    pub imperial: String,
}

impl Words {
    /// Says the same in both systems.
    pub fn of(say: impl Fn(System) -> String) -> Self {
        Self {
            metric: say(System::Metric),
            imperial: say(System::Imperial),
        }
    }
    /// The sentence in one system.
    pub fn in_units(&self, system: System) -> &str {
        match system {
            System::Metric => &self.metric,
            System::Imperial => &self.imperial,
        }
    }
}

impl From<&str> for Words {
    /// A sentence without numbers that depend on the system.
    fn from(text: &str) -> Self {
        Self {
            metric: text.into(),
            imperial: text.into(),
        }
    }
}

/// How good it is. The worst is the greatest.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum Grade {
    Sound,
    Unmeasured,
    Marginal,
    Unsound,
}

impl Grade {
    /// The word for a reader: `sound`.
    pub fn word(self) -> &'static str {
        match self {
            Self::Sound => "sound",
            Self::Unmeasured => "unmeasured",
            Self::Marginal => "marginal",
            Self::Unsound => "unsound",
        }
    }
}

/// What hangs on it, which moves the limits of the grades.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stakes {
    /// A failure costs coolant and time.
    Usual,
    /// A failure lets in the sea, or scalds.
    High,
}

/// Turns the chance that it holds into a grade: sound at 0.95 and over, unsound under 0.50;
/// with high stakes at 0.99 and 0.80.
pub fn grade(chance: f64, stakes: Stakes) -> Grade {
    let (sound, unsound) = match stakes {
        Stakes::Usual => (0.95, 0.50),
        Stakes::High => (0.99, 0.80),
    };
    if chance >= sound {
        Grade::Sound
    } else if chance < unsound {
        Grade::Unsound
    } else {
        Grade::Marginal
    }
}

/// On what a verdict rests.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Basis {
    /// A rule that the file says binds this boat.
    Rule,
    /// Good practice.
    Practice,
    /// Physics or geometry.
    Physics,
}

/// The stages of the job.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum Stage {
    Survey,
    Circuit,
    Route,
    Fit,
    Flow,
    Order,
    Drain,
    Build,
    Fill,
    Prove,
    Watch,
    Home,
}

impl Stage {
    /// How ids of its verdicts begin: `fit`.
    pub fn key(self) -> &'static str {
        match self {
            Self::Survey => "survey",
            Self::Circuit => "circuit",
            Self::Route => "route",
            Self::Fit => "fit",
            Self::Flow => "flow",
            Self::Order => "order",
            Self::Drain => "drain",
            Self::Build => "build",
            Self::Fill => "fill",
            Self::Prove => "prove",
            Self::Watch => "watch",
            Self::Home => "home",
        }
    }
}

/// A number in SI with its text in both systems.
#[derive(Clone, Debug, PartialEq)]
pub struct Number {
    /// The kind of quantity.
    pub kind: Kind,
    /// In SI.
    pub si: f64,
    /// For people.
    pub text: Words,
}

/// How far the value is from its limits, for the margin line.
#[derive(Clone, Debug, PartialEq)]
pub struct Margin {
    /// The value [SI of `kind`].
    pub value: f64,
    /// Its half width, sure it lies within [SI].
    pub deviation: Option<f64>,
    /// Lower limit [SI].
    pub low: Option<f64>,
    /// Upper limit [SI].
    pub high: Option<f64>,
    /// The kind of quantity.
    pub kind: Kind,
}

/// An edit of the boat file that carries out a remedy.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Edit {
    /// Which value.
    pub place: KeyPath,
    /// As it stands now, as TOML; empty where nothing stands.
    pub from: String,
    /// As it should be, as TOML.
    pub to: String,
    /// What the edit does, in a few words for a button.
    pub label: String,
}

/// Which missing measurement would settle a verdict.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Settles {
    /// Which value of the file.
    pub place: KeyPath,
    /// What to measure, with what, in one sentence.
    pub how: String,
}

/// One input of a working.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkingInput {
    /// Symbol in the formulas: `d_s`.
    pub symbol: String,
    /// Name: `spigot`.
    pub name: String,
    /// Value.
    pub value: Number,
    /// Half width, where there is one.
    pub tolerance: Option<Number>,
    /// Where it came from: `caliper`, `assumed`, `table`, …
    pub from: String,
    /// The value in the file that it was read from.
    pub place: Option<KeyPath>,
}

/// One step of a working.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Step {
    /// In symbols: `D = √(d_s² + d_o² − d_i²)`.
    pub formula: String,
    /// With the numbers put in.
    pub filled: Words,
    /// What comes out.
    pub result: Words,
}

/// Inputs, formula, numbers put in, result, limit, source.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Working {
    /// What went in.
    pub inputs: Vec<WorkingInput>,
    /// What was done.
    pub steps: Vec<Step>,
    /// Against which limit.
    pub limit: Words,
    /// Whence the formula and the limit.
    pub sources: Vec<String>,
}

/// A judgement about one subject, with its reason, its remedy and its working.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    /// Stable: `stage.subject.rule`, `fit.hot.from.stretch`.
    pub id: String,
    /// Which stage judged.
    pub stage: Stage,
    /// About what: `hot.from`.
    pub subject: String,
    /// The same for people: `hose hot on the engine's outlet (A1)`.
    pub title: String,
    /// How good it is.
    pub grade: Grade,
    /// Why, in one sentence, with its numbers.
    pub because: Words,
    /// What to do about it; empty where nothing needs doing.
    pub remedy: Words,
    /// The chance that it holds, where it is a matter of chance.
    pub chance: Option<f64>,
    /// On what it rests.
    pub basis: Basis,
    /// The usual caution, where the work can hurt someone.
    pub caution: Option<String>,
    /// Which value of the file it is about.
    pub place: KeyPath,
    /// How far from the limits.
    pub margin: Option<Margin>,
    /// Edits of the file that carry the remedy out; each is one way to do it.
    pub edits: Vec<Edit>,
    /// What would settle it.
    pub settles: Option<Settles>,
    /// One sentence for a reader of screens.
    pub spoken: Words,
    /// The whole working.
    pub working: Working,
}
