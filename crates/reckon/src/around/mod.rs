//! The loop for a drawing: what hangs on what, which way the water runs, what is shut and what stands
//! still, as plain data without a place on any sheet.
//!
//! A *leg* is what lies between two spots of a run: things, or tees at which another run begins or ends.
//! The *lanes* are the two long sides of the drawing: the hot way from the engine to where it turns, and
//! the way back. A run goes straight on through its own tees, so that a loop that is led another way for
//! a while keeps its lanes, and what is not used stays where it was.

mod flags;
mod lanes;
mod trace;

use boat::{Boat, Key, ThingKind};

use crate::flow::Flow;
use crate::loops;
use crate::stages::circuit::plan::Plan;
use crate::verdict::{Grade, Words};
use crate::wire::Answer;

/// The loop of one arrangement, to be drawn.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Around {
    /// The arrangement; `None` for the file as it stands.
    pub arrangement: Option<Key>,
    /// The state of which figures are given.
    pub state: Option<Key>,
    /// The arrangement of which the figures in brackets are.
    pub before: Option<Key>,
    /// Whether the water comes round to a pump.
    pub closed: bool,
    /// Everything that a hose goes on, in the order of the file.
    pub things: Vec<AroundThing>,
    /// Tees at which another run begins or ends, or that are blanked off.
    pub tees: Vec<AroundTee>,
    /// What lies between two of them, in the order of the file and of flow.
    pub legs: Vec<AroundLeg>,
    /// Ways outside the hull between a cooler and its fittings.
    pub joins: Vec<AroundJoin>,
    /// The thing with the pump, from which one goes round: one of `things`.
    pub heart: Option<usize>,
    /// What one passes on the hot way before it turns.
    pub hot: Vec<AroundSpot>,
    /// What stands where it turns: fittings and cooler, in order of flow.
    pub turn: Vec<usize>,
    /// What one passes on the way back.
    pub cold: Vec<AroundSpot>,
    /// Valves that are shut, as the file names them.
    pub shut: Vec<Key>,
    /// What is blanked off.
    pub blanked: Vec<String>,
    /// What the figures rest on, and what they leave out, in whole sentences.
    pub notes: Vec<Words>,
}

/// Where a leg begins or ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum AroundSpot {
    /// On a thing.
    Thing(usize),
    /// At a tee.
    Tee(usize),
    /// On nothing: what it was led to is gone.
    Open,
}

/// On which side of the still waterline something stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Level {
    /// Above it.
    Dry,
    /// Below it.
    Wet,
    /// Nobody has measured it.
    Unmeasured,
}

/// A thing of the drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct AroundThing {
    /// Its key: `keel-fwd`.
    pub key: Key,
    /// What it is.
    pub kind: Option<ThingKind>,
    /// The same in a word for people: `hull fitting`.
    pub what: String,
    /// On which side of the waterline.
    pub level: Level,
    /// Its heights for people; `–` where none is measured.
    pub heights: Words,
    /// Whether it can be shut, and whether it is.
    pub valve: Option<bool>,
    /// Whether it is blanked off.
    pub blanked: bool,
    /// Whether a header tank is part of it.
    pub header: bool,
    /// Whether a thermostat is.
    pub thermostat: bool,
    /// Whether the pump of the circuit is.
    pub pump: bool,
    /// The worst grade of what is judged of it; `None` where nothing is.
    pub grade: Option<Grade>,
    /// For a reader of screens.
    pub spoken: Words,
}

/// A tee of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct AroundTee {
    /// `suck.tee`.
    pub key: Key,
    /// Its run.
    pub run: Key,
    /// Whether its branch is blanked off.
    pub blanked: bool,
    /// What is written on the two joints of its straight way: `C2 C3`.
    pub marks: Vec<String>,
    /// The worst grade of what is judged of it and of those joints.
    pub grade: Option<Grade>,
    /// For a reader of screens.
    pub spoken: Words,
}

/// What a leg does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum AroundWay {
    /// Part of the main loop, before the coolant is cooled.
    Hot,
    /// Part of the main loop, after that.
    Cold,
    /// Beside it, on the way to a consumer.
    Branch,
    /// Beside it, on the way back from one.
    BranchBack,
    /// From the header tank into the loop.
    MakeUp,
    /// Air finds its way out by it.
    Vent,
    /// Water from outside.
    Raw,
    /// Oil or domestic water.
    Other,
    /// Nothing runs through it.
    Dead,
}

/// Something that sits in a leg.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum AroundFitting {
    /// A valve: whether it is shut, and whether it narrows the way.
    Valve {
        /// Shut.
        shut: bool,
        /// Not of full bore.
        reduced: bool,
    },
    /// A valve that the water shuts itself.
    Check,
    /// A change of width.
    Reducer,
    /// Where air is let out.
    Bleed,
    /// Where water is let out.
    Drain,
}

/// Something that sits in a leg, with its name.
#[derive(Clone, Debug, PartialEq)]
pub struct AroundPiece {
    /// What it is.
    pub fitting: AroundFitting,
    /// `cal-out.valve`, or the key of a bleed or drain.
    pub key: Key,
    /// What is written on its joints: `B4 B5`; none on a bleed or drain.
    pub marks: Vec<String>,
    /// The worst grade of what is judged of it and of its joints.
    pub grade: Option<Grade>,
    /// For a reader of screens.
    pub spoken: Words,
}

/// One end of a leg on a thing.
#[derive(Clone, Debug, PartialEq)]
pub struct AroundJoint {
    /// `hot.from`.
    pub key: Key,
    /// What is written on it: `A1`; empty where it has no mark.
    pub mark: String,
    /// The worst grade of what is judged of it.
    pub grade: Option<Grade>,
}

/// Flow and temperature of a leg.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct AroundFigures {
    /// `62 L/min`.
    pub flow: Words,
    /// `82 °C`.
    pub temperature: Words,
}

/// What lies between two spots.
#[derive(Clone, Debug, PartialEq)]
pub struct AroundLeg {
    /// The run.
    pub run: Key,
    /// What is written on it: `A`.
    pub mark: String,
    /// Whether it is the first leg of its run.
    pub first: bool,
    /// Where it begins.
    pub from: AroundSpot,
    /// Where it ends.
    pub to: AroundSpot,
    /// The spigot it begins at; empty at a tee.
    pub from_spigot: String,
    /// The spigot it ends at; empty at a tee.
    pub to_spigot: String,
    /// Height of that beginning [m], where it is measured.
    pub from_height: Option<f64>,
    /// Height of that end [m], where it is measured.
    pub to_height: Option<f64>,
    /// What it does.
    pub way: AroundWay,
    /// What sits in it, in order of flow.
    pub pieces: Vec<AroundPiece>,
    /// Its joint where it begins on a thing.
    pub from_joint: Option<AroundJoint>,
    /// Its joint where it ends on a thing.
    pub to_joint: Option<AroundJoint>,
    /// The worst grade of what is judged of the run as a whole.
    pub grade: Option<Grade>,
    /// Its figures, where they are worth a flag.
    pub figures: Option<AroundFigures>,
    /// The same before the refit, where they differ for a reader.
    pub before: Option<AroundFigures>,
    /// For a reader of screens.
    pub spoken: Words,
}

/// A way outside the hull between a cooler and a fitting.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct AroundJoin {
    /// One of the things.
    pub from: usize,
    /// The next in order of flow.
    pub to: usize,
    /// Whether the water can run there.
    pub open: bool,
    /// Whether it does.
    pub flows: bool,
}

/// The loop of an answer's arrangement. `flow` gives the figures of a state: the one named, else the last in
/// which she makes way and comes to rest; `before` those in brackets. `None` where the file has no such
/// arrangement.
pub fn around(
    boat: &Boat,
    answer: &Answer,
    flow: Option<&Flow>,
    before: Option<&Flow>,
    state: Option<&str>,
) -> Option<Around> {
    let name = answer.arrangement.as_deref();
    let arranged = boat.arranged(name)?;
    let facts = loops::facts(boat, &arranged, name);
    let plan = Plan::of(&facts);
    let mut out = Around {
        arrangement: answer.arrangement.clone(),
        closed: plan.pumps.iter().any(|pump| plan.comes_round(*pump)),
        shut: arranged.shut.clone(),
        blanked: arranged.blanked.clone(),
        ..Around::default()
    };
    let circuit = loops::circuit(boat, name)?;
    trace::trace(&plan, answer, &circuit.listing, &mut out);
    lanes::lay(&plan, &circuit.listing, &mut out);
    flags::figures(flow, before, state, &mut out);
    Some(out)
}
