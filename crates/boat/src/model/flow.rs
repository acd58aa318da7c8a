//! What flow and heat need of the parts: pumps, what water loses on its way, what cools it.

use quantity::{
    Length, PressureDifference, Ratio, Reading, RotationalSpeed, Temperature, VolumeFlow,
};

use super::{Metal, Told};

/// A pump's curve: `0 L/min 9.5 m, 60 L/min 7 m, 90 L/min 4 m @ 2600 rpm`.
#[derive(Clone, Debug, PartialEq)]
pub struct PumpCurve {
    /// Three points or more, by rising flow, the first from 0 on.
    pub points: Vec<(VolumeFlow, Head)>,
    /// The speed of the pump itself, where it was typed.
    pub at: Option<RotationalSpeed>,
}

/// By how much a pump lifts the water, as its sheet gives it; 0 or more.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Head {
    /// As a height of water.
    Metres(Length),
    /// As a rise of pressure.
    Pressure(PressureDifference),
}

/// What a pump gives, as its sheet has it: `70 L/min @ 2600 rpm`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Gives {
    /// How much water.
    pub flow: Reading<VolumeFlow>,
    /// At which speed of the engine, where it was typed: an electric pump has none.
    pub at: Option<Reading<RotationalSpeed>>,
}

/// How an engine breathes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Breathing {
    /// With a turbocharger.
    Turbo,
    /// By itself.
    Natural,
}

/// How an engine's exhaust manifold is cooled.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Manifold {
    /// By a jacket of water.
    Wet,
    /// By the air round it.
    Dry,
}

/// Which water a thermostat feels.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum StatControl {
    /// What leaves the engine.
    Outlet,
    /// What comes back to it.
    Inlet,
}

/// The section of a keel pipe.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum PipeForm {
    Round,
    /// Half a pipe, welded to the shell.
    HalfRound,
    /// Square, oblong or of an angle bar.
    Box,
}

/// Where a cooler lies on the hull.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Lies {
    /// On an upright side of hull or keel.
    Side,
    /// Under a flat bottom.
    Bottom,
    /// In a recess of the hull or behind a fin.
    Recess,
}

/// What sits on the outside of a cooler.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Fouling {
    /// Nothing: no layer.
    Clean,
    /// The slime of cool sea water.
    Slime,
    /// The silt of river, brackish or muddy water.
    Silt,
    /// The scale of sea water on a hot wall.
    Scale,
    /// Weed, barnacles, mussels: a layer that knows no bound.
    Growth,
}

/// How the two streams of a cooler run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Streams {
    /// Against each other.
    Counter,
    /// One way, side by side.
    Parallel,
    /// One shell, with two, four or more passes of tubes.
    OneShell,
    /// Across each other.
    Cross,
}

/// The way of the water in a skin tank: `channel = { width = 180, depth = 40, length = "5.6 m", wall = 6, metal = "steel", paint = 0.3 }`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Channel {
    /// Along the hull's skin.
    pub width: Told<Reading<Length>>,
    /// From the skin inward.
    pub depth: Told<Reading<Length>>,
    /// Along the flow, all lanes between baffles together.
    pub length: Told<Reading<Length>>,
    /// Of the hull's skin.
    pub wall: Told<Reading<Length>>,
    /// Of the hull's skin.
    pub metal: Told<Metal>,
    /// On the outside of the skin.
    pub paint: Told<Reading<Length>>,
}

/// The tubes of a heat exchanger: `tubes = { count = 40, passes = 2, od = 8, wall = 0.7, length = 300, metal = "cupro-nickel" }`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tubes {
    /// How many there are in all.
    pub count: Told<u32>,
    /// How often the water in them goes through.
    pub passes: Told<u32>,
    /// Outside diameter.
    pub od: Told<Reading<Length>>,
    /// Thickness of the wall.
    pub wall: Told<Reading<Length>>,
    /// Length of one.
    pub length: Told<Reading<Length>>,
    /// Of what they are made.
    pub metal: Told<Metal>,
}

/// Where a cooler lies outside the hull and what the water finds there. It belongs to the place.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Outside {
    /// On which part of the hull.
    pub lies: Told<Lies>,
    /// How far its fore end is from where the water first meets the hull.
    pub aft_of_bow: Told<Reading<Length>>,
    /// What sits on it.
    pub fouling: Told<Fouling>,
    /// Share of the boat's speed that the water has along it.
    pub sees_speed: Told<Reading<Ratio>>,
}

/// What a sheet, a gauge or the owner says of a thing's flow and heat.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Duty {
    /// What the water loses in it; of an engine from inlet to outlet, without the thermostat.
    pub drop: Told<quantity::At<PressureDifference, VolumeFlow>>,
    /// What the raw water loses in the tubes of an exchanger.
    pub raw_drop: Told<quantity::At<PressureDifference, VolumeFlow>>,
    /// Bore of the jet by which raw water comes into the exhaust.
    pub nozzle: Told<Reading<Length>>,
    /// Heat that it passes on for each kelvin between its two waters.
    pub ua: Told<Reading<quantity::HeatPerKelvin>>,
    /// Heat that a calorifier or a cabin heater takes when it is cold.
    pub takes: Told<Reading<quantity::Power>>,
    /// The air at a cabin heater.
    pub air: Told<Reading<Temperature>>,
    /// The pressure that it is rated for.
    pub works_at: Told<Reading<quantity::GaugePressure>>,
    /// What a pump gives.
    pub gives: Told<Gives>,
    /// A pump's curve.
    pub curve: Told<PumpCurve>,
}
