//! Fixed things: engine, coolers, hull fittings, tanks, with their spigots, ports and screwed stacks.

use quantity::{
    At, GaugePressure, Length, NominalSize, Power, Ratio, Reading, RotationalSpeed, Temperature,
    Volume,
};

use super::{
    Breathing, Channel, Duty, Key, KeyPath, Manifold, Outside, PipeForm, PumpCurve, StatControl,
    Streams, Told, Tubes,
};

/// A fixed thing: engine, cooler, calorifier, hull valve, header tank.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Thing {
    /// Its identity.
    pub key: Key,
    /// What it is.
    pub kind: Told<ThingKind>,
    /// Same parts as this other thing; own measurements win.
    pub like: Option<Key>,
    /// Stubs that hoses go over.
    pub spigots: Vec<Spigot>,
    /// Holes and stubs with a thread.
    pub ports: Vec<Port>,
    /// A screwed stack, from the sea inward.
    pub chain: Vec<ChainPart>,
    /// Its height against today's waterline, where the thing has one.
    pub height: Told<Reading<Length>>,
    /// How far it lies from the centre line: to starboard over 0, to port under.
    pub aside: Told<Reading<Length>>,
    /// How far it lies from amidships: ahead over 0, abaft under.
    pub along: Told<Reading<Length>>,
    /// Its hull valve as found.
    pub valve: Option<Valve>,
    /// The pressure cap it carries.
    pub cap: Told<Reading<GaugePressure>>,
    /// Height of the cap's seat against today's waterline.
    pub cap_height: Told<Reading<Length>>,
    /// What only an engine has; a second one stands among the things.
    pub engine: Option<Engine>,
    /// Everything of its kind that later stages judge.
    pub detail: Detail,
}

impl Thing {
    /// The key of the engine.
    pub const ENGINE: &'static str = "engine";

    /// Where it stands in the file: `engine`, or `things.<key>`.
    pub fn path(&self) -> KeyPath {
        crate::places::thing_path(&self.key)
    }

    /// Its spigot of that name.
    pub fn spigot(&self, name: &str) -> Option<&Spigot> {
        self.spigots.iter().find(|spigot| spigot.name == name)
    }

    /// Its port of that name.
    pub fn port(&self, name: &str) -> Option<&Port> {
        self.ports.iter().find(|port| port.name == name)
    }
}

/// What a thing is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum ThingKind {
    Engine,
    OilCooler,
    KeelPipes,
    SkinTank,
    Exchanger,
    HullFitting,
    Calorifier,
    CabinHeater,
    HeaderTank,
    Strainer,
    SiphonBreak,
    InjectionElbow,
    RawWaterPump,
    CirculatingPump,
    Bleed,
    Drain,
}

/// A stub that a hose is pushed over.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Spigot {
    /// Its name on its thing: `out`, `a`.
    pub name: Key,
    /// Outside diameter of the cylindrical part, behind the bead.
    pub od: Told<Reading<Length>>,
    /// Outside diameter over the bead (or barb).
    pub bead: Told<Reading<Length>>,
    /// Length of the cylindrical part behind the bead.
    pub behind_bead: Told<Reading<Length>>,
    /// Width of the bead along the axis.
    pub bead_width: Told<Reading<Length>>,
    /// Plain, beaded or barbed.
    pub form: Told<SpigotForm>,
    /// Of what it is made.
    pub metal: Told<Metal>,
    /// Height of its centre against today's waterline.
    pub height: Told<Reading<Length>>,
    /// How far its mouth lies from the centre line: to starboard over 0, to port under.
    pub aside: Told<Reading<Length>>,
    /// How far its mouth lies from amidships: ahead over 0, abaft under.
    pub along: Told<Reading<Length>>,
    /// Measured through the old hose because it can't be seen.
    pub hidden: Option<Hidden>,
}

/// Form of a spigot.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum SpigotForm {
    Plain,
    Beaded,
    Barbed,
}

/// What can be measured while the old hose is still on.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Hidden {
    /// Outside diameter of the old hose where it sits on the spigot.
    pub over_hose: Told<Reading<Length>>,
    /// Outside diameter of the same hose where it is free.
    pub free_hose: Told<Reading<Length>>,
    /// What is printed on the hose.
    pub print: Told<String>,
    /// The nominal bore in that print, if there is one.
    pub print_bore: Option<NominalSize>,
}

/// The word that names what a part is made of. `reckon` maps it to published properties.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum Metal {
    CastIron,
    Steel,
    GalvanisedSteel,
    Stainless304,
    Stainless316,
    /// Stainless of unknown grade.
    Stainless,
    Aluminium,
    Copper,
    CuproNickel,
    /// Brass of unknown grade.
    Brass,
    /// Dezincification-resistant brass.
    Dzr,
    Gunmetal,
    Bronze,
    AluminiumBronze,
    /// A brass in spite of its name.
    ManganeseBronze,
    Titanium,
    Plastic,
}

/// A hole or stub with a screw thread. Which thread is found by measuring.
#[derive(Clone, Debug, Default, PartialEq)]
#[allow(missing_docs)]
pub struct Port {
    pub name: Key,
    /// Thread by name, where it is known: `G1-1/4`.
    pub thread: Told<Thread>,
    /// Male or female, where it was typed after the thread: `G1-1/4 F`.
    pub sex: Option<Sex>,
    /// Largest diameter of a male thread.
    pub male_od: Told<Reading<Length>>,
    /// Smallest diameter of a female thread.
    pub female_id: Told<Reading<Length>>,
    /// Length over ten pitches.
    pub ten_pitches: Told<Reading<Length>>,
    /// Change of diameter along the thread, as typed: `0.5 mm over 8 mm`.
    pub taper: Told<(Reading<Length>, Reading<Length>)>,
    pub metal: Told<Metal>,
    pub height: Told<Reading<Length>>,
    /// The anode that it carries.
    pub anode: Option<Anode>,
}

/// An anode on a plug, as found: `anode = { left = "60 %", seen = "2026-03", tape = false }`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Anode {
    /// How much of it is left, of a new one.
    pub left: Told<Reading<Ratio>>,
    /// When that was seen, as typed.
    pub seen: Told<String>,
    /// Whether there is tape or paste on its plug's thread.
    pub tape: Told<bool>,
}

/// A thread by its name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Thread {
    /// Which family.
    pub standard: ThreadStandard,
    /// Its size: inch for pipe threads, millimetres for metric.
    pub size: NominalSize,
    /// Pitch in micrometres, for metric threads.
    pub pitch_micrometres: Option<u32>,
}

/// Families of screw thread.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum ThreadStandard {
    G,
    R,
    Rc,
    Rp,
    Npt,
    Npsm,
    Metric,
}

/// Male or female.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Sex {
    Male,
    Female,
}

/// One part of a screwed stack; between two of them stands a screwed joint.
#[derive(Clone, Debug, PartialEq)]
pub struct ChainPart {
    /// Name within the chain: `stub`, `valve`, `tail`, numbered from 2 where one repeats.
    pub name: Key,
    /// What it is.
    pub kind: ChainKind,
    /// Threaded ends from the sea inward (one or two).
    pub ends: Vec<(Thread, Sex)>,
    /// Free bore, where it was typed.
    pub bore: Option<Length>,
    /// Of what it is made.
    pub metal: Option<Metal>,
    /// For a tail: the spigot's nominal outside diameter and form.
    pub tail: Option<(NominalSize, SpigotForm)>,
    /// Length of thread that engages with the part before it, where it was typed.
    pub engaged: Option<Length>,
    /// For a valve: how far it stands open, where it was typed. It is how it was found, no part of it.
    pub open: Option<Ratio>,
}

/// What stands in a screwed stack.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum ChainKind {
    Stub,
    BallValve,
    ConeValve,
    GateValve,
    Tail,
    Elbow,
    Bush,
    Nipple,
    Plug,
}

impl ChainKind {
    /// Whether it is a valve.
    pub const fn is_valve(self) -> bool {
        matches!(self, Self::BallValve | Self::ConeValve | Self::GateValve)
    }
}

/// A valve as found.
#[derive(Clone, Debug, Default, PartialEq)]
#[allow(missing_docs)]
pub struct Valve {
    /// When it was last worked, as typed.
    pub worked: Told<String>,
    pub feels: Told<String>,
    pub reach: Told<String>,
    pub secs: Told<f64>,
    /// Height of bilge water at which it can't be reached.
    pub drowned_at: Told<Reading<Length>>,
}

/// What only an engine has.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Engine {
    /// Power and the speed at which it is given.
    pub power: Told<At<Power, RotationalSpeed>>,
    /// Preset for its inside.
    pub layout: Told<String>,
    /// Its inner paths; they override the preset.
    pub paths: Vec<Path>,
    /// Thermostat.
    pub stat: Stat,
    /// Temperature alarm.
    pub alarm: Alarm,
    /// Heat to the coolant from the maker's sheet.
    pub heat: Told<Reading<Power>>,
    /// Heat to the coolant at tick-over.
    pub idle_heat: Told<Reading<Power>>,
    /// How it breathes.
    pub burns: Told<Breathing>,
    /// How its exhaust manifold is cooled.
    pub manifold: Told<Manifold>,
    /// How far the engine moves on its feet, any way.
    pub moves: Told<Reading<Length>>,
    /// Its belt, as printed on the old one.
    pub belt: Told<String>,
    /// Pump drive, ratio and curve, header and gearbox: later stages judge them.
    pub extra: EngineExtra,
}

/// `in > pump > block > head > stat`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Path {
    /// Stations in order of flow; a station may carry a port after a dot: `stat.hot`.
    pub stations: Vec<Key>,
}

/// Thermostat: `stat = { opens = "82 °C", … }`.
#[derive(Clone, Debug, Default, PartialEq)]
#[allow(missing_docs)]
pub struct Stat {
    pub opens: Told<Reading<Temperature>>,
    pub full: Told<Reading<Temperature>>,
    pub bypass: Told<String>,
    /// Bore of the by-pass where it is narrowest.
    pub bypass_bore: Told<Reading<Length>>,
    pub hole: Told<Reading<Length>>,
    /// Which water it feels.
    pub control: Told<StatControl>,
    /// Diameter of its free way when it is fully open.
    pub bore: Told<Reading<Length>>,
    /// Where it is shut again as the water cools.
    pub closes_at: Told<Reading<Temperature>>,
    pub gasket: Told<String>,
}

/// Temperature alarm: `alarm = { at = "98 °C", … }`.
#[derive(Clone, Debug, Default, PartialEq)]
#[allow(missing_docs)]
pub struct Alarm {
    pub at: Told<Reading<Temperature>>,
    pub senses: Told<String>,
    pub tried: Told<String>,
}

/// Parts of the engine that nothing judges yet, but that are read and held.
#[derive(Clone, Debug, Default, PartialEq)]
#[allow(missing_docs)]
pub struct EngineExtra {
    pub header_volume: Told<Reading<Volume>>,
    pub header_sight_glass: Told<bool>,
    pub header_cold_mark: Told<Reading<Length>>,
    /// What still goes in between that mark and the cap's seat.
    pub header_above_mark: Told<Reading<Volume>>,
    pub pump_drive: Told<String>,
    pub pump_ratio: Told<f64>,
    pub pump_curve: Told<PumpCurve>,
    pub gearbox_oil_normal: Told<Reading<Temperature>>,
    /// Share of the power that it turns into heat.
    pub gearbox_loses: Told<Reading<Ratio>>,
    pub gearbox_cooler: Option<Key>,
}

/// What else a thing of its kind has. Fields that don't belong to its kind stay left out.
#[derive(Clone, Debug, Default, PartialEq)]
#[allow(missing_docs)]
pub struct Detail {
    /// Keel pipes.
    pub pipes: Option<Pipes>,
    /// The way of the water in a skin tank.
    pub channel: Option<Channel>,
    /// The tubes of a heat exchanger.
    pub tubes: Option<Tubes>,
    /// How the two streams of a heat exchanger run.
    pub streams: Told<Streams>,
    /// Where a cooler lies outside the hull.
    pub outside: Outside,
    /// What a sheet or a gauge says of its flow and heat.
    pub duty: Duty,
    pub depth: Told<Reading<Length>>,
    /// The two hull fittings it lies between.
    pub between: Vec<Key>,
    /// What a calorifier holds of domestic water.
    pub tank: Told<Reading<Volume>>,
    pub coil: Option<Coil>,
    /// Inner water paths of anything with more than one.
    pub paths: Vec<Path>,
    /// What a header tank, the engine or any other thing holds of the circuit's water.
    pub volume: Told<Reading<Volume>>,
    /// A header tank whose level can be seen.
    pub sight_glass: Told<bool>,
    /// Height of the mark up to which a header tank is filled cold.
    pub cold_mark: Told<Reading<Length>>,
    /// What still goes in between that mark and the cap's seat.
    pub above_mark: Told<Reading<Volume>>,
    /// Whether a hull fitting is kept from the metal of the hull.
    pub isolated: Told<bool>,
    /// The hottest water that a pump in the circuit stands.
    pub stands: Told<Reading<Temperature>>,
    /// The run in which a bleed or a drain sits.
    pub on_run: Option<Key>,
}

/// `pipes = { count = 2, joined = "series", od = 60.3, wall = "?", length = 2200, metal = "steel", coat = "bitumen, thick" }`.
#[derive(Clone, Debug, Default, PartialEq)]
#[allow(missing_docs)]
pub struct Pipes {
    pub count: Told<u32>,
    pub in_series: Told<bool>,
    pub form: Told<PipeForm>,
    pub od: Told<Reading<Length>>,
    pub wall: Told<Reading<Length>>,
    pub length: Told<Reading<Length>>,
    pub metal: Told<Metal>,
    pub coat: Told<String>,
    /// Thickness of all that is painted on them.
    pub paint: Told<Reading<Length>>,
}

/// `coil = { skins = 1, bore = "?", top_h = 610 }`.
#[derive(Clone, Debug, Default, PartialEq)]
#[allow(missing_docs)]
pub struct Coil {
    pub skins: Told<u32>,
    pub bore: Told<Reading<Length>>,
    pub top_height: Told<Reading<Length>>,
}
