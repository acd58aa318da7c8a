//! The boat as its file tells it: typed, without places.
//!
//! Places live beside the model in a map from key path to span, so that an edit of a comment
//! leaves the model equal. Nothing here is looked up or computed: a metal is the word that was
//! typed, a size is the name by which a thing is sold.

mod bay;
mod flow;
mod job;
mod runs;
mod survey;
mod things;

use quantity::{Instruments, Length, Quantity, Reading, Temperature, Volume};

pub use bay::*;
pub use flow::*;
pub use job::*;
pub use runs::*;
pub use survey::*;
pub use things::*;

/// What the file tells of one value. Three kinds of nothing stay apart.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Told<T> {
    /// Not looked yet.
    #[default]
    LeftOut,
    /// `"?"`: looked, can't know yet.
    Unknown,
    /// `"choose"`: the tool is to choose.
    Choose,
    /// One value.
    Given(T),
    /// Two readings that differ, until the owner says which stands.
    Two(T, T),
}

impl<T> Told<T> {
    /// The one value that stands, if one does.
    pub fn given(&self) -> Option<&T> {
        match self {
            Self::Given(value) => Some(value),
            _ => None,
        }
    }

    /// The one value that stands, taken out.
    pub fn given_owned(self) -> Option<T> {
        match self {
            Self::Given(value) => Some(value),
            _ => None,
        }
    }

    /// Whether nobody has looked yet.
    pub fn is_left_out(&self) -> bool {
        matches!(self, Self::LeftOut)
    }

    /// The same with another kind of value inside.
    pub fn map<U>(self, change: impl Fn(T) -> U) -> Told<U> {
        match self {
            Self::LeftOut => Told::LeftOut,
            Self::Unknown => Told::Unknown,
            Self::Choose => Told::Choose,
            Self::Given(value) => Told::Given(change(value)),
            Self::Two(one, other) => Told::Two(change(one), change(other)),
        }
    }

    /// This where the file says anything, else the other.
    #[must_use]
    pub fn or(self, other: Self) -> Self {
        if self.is_left_out() { other } else { self }
    }
}

/// The name of a thing, a run, a spigot: its identity in the file.
pub type Key = String;

/// The dotted way to a value in the file: `runs.hot.way[1]`.
pub type KeyPath = String;

/// One boat file.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Boat {
    /// With what things are measured, and how far each may be off.
    pub instruments: Instruments,
    /// The boat herself.
    pub about: About,
    /// The engine and all other things, in the order of the file; the engine's key is `engine`.
    pub things: Vec<Thing>,
    /// All that lies between two ends on fixed things, in the order of the file.
    pub runs: Vec<Run>,
    /// What the owner decided or measured of single joints: `[joints]`.
    pub joints: Vec<JointNote>,
    /// What was found, in the surveyor's words: `[seen]`.
    pub seen: Vec<Seen>,
    /// The ways in which the circuit is connected, as differences.
    pub arrangements: Vec<Arrangement>,
    /// Where the spigots are, by tape from datum pins: `[survey]`.
    pub survey: Survey,
    /// The engine bay in space: `[bay]`.
    pub bay: Bay,
    /// How the boat is being used.
    pub states: Vec<State>,
    /// Readings of the old plumbing, one a sitting.
    pub readings: Vec<Sitting>,
    /// What is to be poured in.
    pub coolant: Coolant,
    /// The owner's own shelf.
    pub stock: Stock,
    /// What things cost and how they are sold, in the order of the file: `[prices]`.
    pub prices: Vec<PriceEntry>,
    /// What the job is, and what may be assumed.
    pub job: Job,
}

impl Boat {
    /// The thing of that key.
    pub fn thing(&self, key: &str) -> Option<&Thing> {
        self.things.iter().find(|thing| thing.key == key)
    }

    /// The run of that key.
    pub fn run(&self, key: &str) -> Option<&Run> {
        self.runs.iter().find(|run| run.key == key)
    }

    /// The spigot on which a run ends: the one that is named, or the only one of its thing.
    /// `None` for a tee, and where the file is not clear.
    pub fn spigot_at(&self, end: &RunEnd) -> Option<(&Thing, &Spigot)> {
        let RunEnd::Thing { thing, spigot } = end else {
            return None;
        };
        let thing = self.thing(thing)?;
        let spigot = match (spigot, thing.spigots.as_slice()) {
            (Some(name), _) => thing.spigot(name)?,
            (None, [only]) => only,
            (None, _) => return None,
        };
        Some((thing, spigot))
    }
}

/// The boat herself: `[boat]`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct About {
    /// Her name.
    pub name: Told<String>,
    /// `motor, one hull`, `motor, two hulls`, `sail, one hull`, `sail, two hulls`.
    pub hull: Told<HullKind>,
    /// Of what her hull is built.
    pub hull_stuff: Told<HullStuff>,
    /// How she is used, in the owner's words.
    pub uses: Vec<String>,
    /// Which rules bind her.
    pub rules: Vec<Rule>,
    /// Where she lies now.
    pub now: Told<Berth>,
    /// Waters she lies in.
    pub sea: Sea,
    /// Her waterline against today's, when laden and when light.
    pub waterline: Waterline,
    /// The bilge under the engine.
    pub bilge: Bilge,
}

/// Hull and rig, which give the heel to reckon with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum HullKind {
    MotorOneHull,
    MotorTwoHulls,
    SailOneHull,
    SailTwoHulls,
}

/// Of what a hull is built.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum HullStuff {
    Steel,
    Aluminium,
    Glass,
    Wood,
    Cement,
}

/// A rule that binds this boat, by the owner's word.
#[derive(Clone, Debug, PartialEq)]
pub struct Rule {
    /// Which, as typed: `two clips below the waterline`, `insurer's survey`.
    pub text: String,
    /// What it governs, where the grammar knows the word.
    pub governs: Option<Governs>,
}

/// What a rule can govern that the tool judges.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Governs {
    /// Two clips at each end below the waterline.
    TwoClips,
    /// No clip that holds by spring alone.
    NoSpringClips,
}

/// Afloat or ashore.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Berth {
    Afloat,
    Ashore,
}

/// The waters: `sea = { summer = "21 °C", winter = "5 °C", salinity = 33 }`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sea {
    /// Warmest.
    pub summer: Told<Reading<Temperature>>,
    /// Coldest.
    pub winter: Told<Reading<Temperature>>,
    /// Practical salinity [-]; 0 is fresh water.
    pub salinity: Told<f64>,
}

/// `waterline = { laden = 40, light = -25 }`, heights above today's waterline.
#[derive(Clone, Debug, Default, PartialEq)]
#[allow(missing_docs)]
pub struct Waterline {
    pub laden: Told<Reading<Length>>,
    pub light: Told<Reading<Length>>,
}

/// `bilge = { floor = -380, drowns_engine = -60, free_to_there = "420 L", pump_says = "2000 US gal/h" }`.
#[derive(Clone, Debug, Default, PartialEq)]
#[allow(missing_docs)]
pub struct Bilge {
    pub floor: Told<Reading<Length>>,
    pub drowns_engine: Told<Reading<Length>>,
    pub free_to_there: Told<Reading<Volume>>,
    pub pump_says: Told<Reading<quantity::VolumeFlow>>,
}

/// A reading that says nothing of its tolerance, for tests and presets.
pub fn plain<Q: Quantity>(value: Q, unit: &'static quantity::Unit) -> Reading<Q> {
    Reading::plain(value, unit)
}
