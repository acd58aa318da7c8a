//! A verdict as it is sent.

use quantity::Kind;
use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

/// A sentence or number in both systems of units.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct Text {
    /// With metric units.
    pub metric: String,
    /// With imperial units.
    pub imperial: String,
}

impl From<reckon::Words> for Text {
    fn from(reckon::Words { metric, imperial }: reckon::Words) -> Self {
        Self { metric, imperial }
    }
}

/// How good it is; the worst is the greatest.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, JsonSchema, TS)]
#[serde(rename_all = "kebab-case")]
pub enum Grade {
    /// Holds.
    Sound,
    /// Cannot be judged until something is measured.
    Unmeasured,
    /// May or may not hold.
    Marginal,
    /// Must be mended.
    Unsound,
}

impl From<reckon::Grade> for Grade {
    fn from(grade: reckon::Grade) -> Self {
        match grade {
            reckon::Grade::Sound => Self::Sound,
            reckon::Grade::Unmeasured => Self::Unmeasured,
            reckon::Grade::Marginal => Self::Marginal,
            reckon::Grade::Unsound => Self::Unsound,
        }
    }
}

impl Grade {
    /// The word for a reader: `sound`.
    pub fn word(self) -> &'static str {
        match self {
            Self::Sound => reckon::Grade::Sound.word(),
            Self::Unmeasured => reckon::Grade::Unmeasured.word(),
            Self::Marginal => reckon::Grade::Marginal.word(),
            Self::Unsound => reckon::Grade::Unsound.word(),
        }
    }
}

/// On what a verdict rests.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[serde(rename_all = "kebab-case")]
pub enum Basis {
    /// A rule that the file says binds this boat.
    Rule,
    /// Good practice.
    Practice,
    /// Physics or geometry.
    Physics,
}

impl From<reckon::Basis> for Basis {
    fn from(basis: reckon::Basis) -> Self {
        match basis {
            reckon::Basis::Rule => Self::Rule,
            reckon::Basis::Practice => Self::Practice,
            reckon::Basis::Physics => Self::Physics,
        }
    }
}

/// A stage of the job.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[serde(rename_all = "kebab-case")]
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

impl From<reckon::Stage> for Stage {
    fn from(stage: reckon::Stage) -> Self {
        match stage {
            reckon::Stage::Survey => Self::Survey,
            reckon::Stage::Circuit => Self::Circuit,
            reckon::Stage::Route => Self::Route,
            reckon::Stage::Fit => Self::Fit,
            reckon::Stage::Flow => Self::Flow,
            reckon::Stage::Order => Self::Order,
            reckon::Stage::Drain => Self::Drain,
            reckon::Stage::Build => Self::Build,
            reckon::Stage::Fill => Self::Fill,
            reckon::Stage::Prove => Self::Prove,
            reckon::Stage::Watch => Self::Watch,
            reckon::Stage::Home => Self::Home,
        }
    }
}

/// A place in the boat file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct Place {
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// Dotted way of keys to the value; it may lead to a value that is not in the file yet, and
    /// then line and column are those of the nearest part that is.
    pub path: String,
}

/// Where the key paths of a file lie in its text.
pub trait Where {
    /// Line and column of a key path or of the nearest part of it that the file has.
    fn position(&self, path: &str) -> (usize, usize);

    /// The place as it is sent.
    fn place(&self, path: String) -> Place {
        let (line, column) = self.position(&path);
        Place { line, column, path }
    }
}

/// How far the value is from its limits, in SI.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct Margin {
    /// The value.
    pub value: f64,
    /// Half width: sure that it lies within.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub deviation: Option<f64>,
    /// Lower limit.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub low: Option<f64>,
    /// Upper limit.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub high: Option<f64>,
    /// SI unit of all four; `1` for a ratio.
    pub unit: String,
    /// What is measured: `length`, `gauge pressure`.
    pub kind: String,
}

/// An edit of the boat file that carries a remedy out.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct RemedyEdit {
    /// Which value.
    pub place: Place,
    /// As it stands now, as TOML; empty where nothing stands.
    pub from: String,
    /// As it should be, as TOML.
    pub to: String,
    /// What the edit does, in a few words.
    pub label: String,
}

/// The missing measurement that would settle a verdict.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct Settles {
    /// Which value of the file.
    pub place: Place,
    /// What to measure, with what.
    pub how: String,
}

/// One input of a working.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct WorkingInput {
    /// Symbol in the formulas.
    pub symbol: String,
    /// Name.
    pub name: String,
    /// Value in SI.
    pub value: f64,
    /// SI unit of value and tolerance; `1` for a ratio.
    pub unit: String,
    /// What is measured: `length`, `gauge pressure`.
    pub kind: String,
    /// Half width in SI: sure that it lies within.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub tolerance: Option<f64>,
    /// Where it came from: an instrument, `assumed`, `table`.
    pub from: String,
    /// The value for people.
    pub text: Text,
    /// The tolerance for people.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub tolerance_text: Option<Text>,
    /// The value in the file that it was read from.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub place: Option<Place>,
}

/// One step of a working.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
pub struct WorkingStep {
    /// In symbols.
    pub formula: String,
    /// With the numbers put in.
    pub filled: Text,
    /// What comes out.
    pub result: Text,
}

/// Inputs, formula, numbers put in, result, limit, sources.
#[derive(Clone, Debug, Default, PartialEq, Serialize, JsonSchema, TS)]
pub struct Working {
    /// What went in.
    pub inputs: Vec<WorkingInput>,
    /// What was done.
    pub steps: Vec<WorkingStep>,
    /// Against which limit.
    pub limit: Text,
    /// Whence formula and limit.
    pub sources: Vec<String>,
}

/// A judgement about one subject.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct Verdict {
    /// Stable name: `stage.subject.rule`.
    pub id: String,
    /// Which stage judged.
    pub stage: Stage,
    /// About what.
    pub subject: String,
    /// The same for people.
    pub title: String,
    /// How good it is.
    pub grade: Grade,
    /// Why, with its numbers.
    pub because: Text,
    /// What to do about it; empty where nothing needs doing.
    pub remedy: Text,
    /// The chance that it holds, 0 to 1, where it is a matter of chance.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub chance: Option<f64>,
    /// On what it rests.
    pub basis: Basis,
    /// What can hurt someone at this work.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub caution: Option<String>,
    /// The value of the file that it is about; missing where the numbers came from flags.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub place: Option<Place>,
    /// How far from the limits.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub margin: Option<Margin>,
    /// Number of the edit that this answers; 0 for the file as it was read.
    pub as_of: u64,
    /// Edits of the file that carry the remedy out; each is one way to do it.
    pub remedy_edits: Vec<RemedyEdit>,
    /// The missing measurement that would settle it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub settles: Option<Settles>,
    /// One sentence for a reader of screens.
    pub spoken: Text,
    /// The whole working.
    pub working: Working,
}

impl Verdict {
    /// The verdict as sent; `file` finds its places, and is `None` where the numbers came from flags.
    pub fn of(verdict: reckon::Verdict, file: Option<&dyn Where>) -> Self {
        let reckon::Verdict {
            id,
            stage,
            subject,
            title,
            grade,
            because,
            remedy,
            chance,
            basis,
            caution,
            place,
            margin,
            edits,
            settles,
            spoken,
            working,
        } = verdict;
        Self {
            id,
            stage: stage.into(),
            subject,
            title,
            grade: grade.into(),
            because: because.into(),
            remedy: remedy.into(),
            chance,
            basis: basis.into(),
            caution,
            place: file.map(|file| file.place(place)),
            margin: margin.map(Margin::from),
            as_of: 0,
            remedy_edits: file.map_or_else(Vec::new, |file| {
                edits
                    .into_iter()
                    .map(|edit| RemedyEdit::of(edit, file))
                    .collect()
            }),
            settles: match (settles, file) {
                (Some(reckon::Settles { place, how }), Some(file)) => Some(Settles {
                    place: file.place(place),
                    how,
                }),
                _ => None,
            },
            spoken: spoken.into(),
            working: Working::of(working, file),
        }
    }
}

impl From<reckon::Margin> for Margin {
    fn from(
        reckon::Margin {
            value,
            deviation,
            low,
            high,
            kind,
        }: reckon::Margin,
    ) -> Self {
        Self {
            value,
            deviation,
            low,
            high,
            unit: si_unit(kind).to_owned(),
            kind: kind_word(kind).to_owned(),
        }
    }
}

impl RemedyEdit {
    /// The edit as sent, with its place in the file.
    pub fn of(
        reckon::Edit {
            place,
            from,
            to,
            label,
        }: reckon::Edit,
        file: &dyn Where,
    ) -> Self {
        Self {
            place: file.place(place),
            from,
            to,
            label,
        }
    }
}

impl Working {
    fn of(
        reckon::Working {
            inputs,
            steps,
            limit,
            sources,
        }: reckon::Working,
        file: Option<&dyn Where>,
    ) -> Self {
        Self {
            inputs: inputs
                .into_iter()
                .map(|input| WorkingInput::of(input, file))
                .collect(),
            steps: steps
                .into_iter()
                .map(
                    |reckon::Step {
                         formula,
                         filled,
                         result,
                     }| WorkingStep {
                        formula,
                        filled: filled.into(),
                        result: result.into(),
                    },
                )
                .collect(),
            limit: limit.into(),
            sources,
        }
    }
}

impl WorkingInput {
    fn of(input: reckon::WorkingInput, file: Option<&dyn Where>) -> Self {
        let reckon::WorkingInput {
            symbol,
            name,
            value,
            tolerance,
            from,
            place,
        } = input;
        let reckon::Number { kind, si, text } = value;
        let (tolerance, tolerance_text) = match tolerance {
            // A tolerance is of the same kind as its value, or a difference of it: both have one SI unit.
            Some(reckon::Number { kind: _, si, text }) => (Some(si), Some(text.into())),
            None => (None, None),
        };
        Self {
            symbol,
            name,
            value: si,
            unit: si_unit(kind).to_owned(),
            kind: kind_word(kind).to_owned(),
            tolerance,
            from,
            text: text.into(),
            tolerance_text,
            place: place.and_then(|place| file.map(|file| file.place(place))),
        }
    }
}

/// The SI unit in which a kind of quantity is sent; ratios have none, and are sent as `1`.
pub(super) fn si_unit(kind: Kind) -> &'static str {
    match kind {
        Kind::Length => "m",
        Kind::Area => "m²",
        Kind::Volume => "m³",
        Kind::Mass => "kg",
        Kind::Time => "s",
        Kind::Temperature | Kind::TemperatureDifference => "K",
        Kind::GaugePressure | Kind::AbsolutePressure | Kind::PressureDifference => "Pa",
        Kind::Power => "W",
        Kind::VolumeFlow => "m³/s",
        Kind::RotationalSpeed => "1/s",
        Kind::Speed => "m/s",
        Kind::Torque => "N m",
        Kind::Angle => "rad",
        Kind::Ratio => "1",
        Kind::Current => "A",
        Kind::Voltage => "V",
        Kind::Density | Kind::Concentration => "kg/m³",
        Kind::SpecificHeat => "J/(kg K)",
        Kind::ThermalConductivity => "W/(m K)",
        Kind::DynamicViscosity => "Pa s",
        Kind::Conductivity => "S/m",
        Kind::HeatTransferCoefficient => "W/(m² K)",
        Kind::HeatPerKelvin => "W/K",
        Kind::MassFlow => "kg/s",
        Kind::ThermalExpansion => "1/K",
        Kind::HeatCapacity => "J/K",
        Kind::BendingStiffness => "N m²",
    }
}

/// The kind of a quantity in words.
pub(super) fn kind_word(kind: Kind) -> &'static str {
    match kind {
        Kind::Length => "length",
        Kind::Area => "area",
        Kind::Volume => "volume",
        Kind::Mass => "mass",
        Kind::Time => "time",
        Kind::Temperature => "temperature",
        Kind::TemperatureDifference => "temperature difference",
        Kind::GaugePressure => "gauge pressure",
        Kind::AbsolutePressure => "absolute pressure",
        Kind::PressureDifference => "pressure difference",
        Kind::Power => "power",
        Kind::VolumeFlow => "volume flow",
        Kind::RotationalSpeed => "rotational speed",
        Kind::Speed => "speed",
        Kind::Torque => "torque",
        Kind::Angle => "angle",
        Kind::Ratio => "ratio",
        Kind::Current => "current",
        Kind::Voltage => "voltage",
        Kind::Density => "density",
        Kind::SpecificHeat => "specific heat",
        Kind::ThermalConductivity => "thermal conductivity",
        Kind::DynamicViscosity => "viscosity",
        Kind::Conductivity => "conductivity",
        Kind::Concentration => "concentration",
        Kind::HeatTransferCoefficient => "heat transfer coefficient",
        Kind::HeatPerKelvin => "heat per kelvin",
        Kind::MassFlow => "mass flow",
        Kind::ThermalExpansion => "thermal expansion",
        Kind::HeatCapacity => "heat capacity",
        Kind::BendingStiffness => "bending stiffness",
    }
}
