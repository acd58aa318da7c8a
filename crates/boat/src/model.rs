//! The boat as its file tells it: typed, without places.
//!
//! Places live beside the model in a map from key path to span, so that an edit of a comment
//! leaves the model equal. Nothing here is looked up or computed: a metal is the word that was
//! typed, a size is the name by which a thing is sold.

use quantity::{
    Angle, At, Current, GaugePressure, Instruments, Length, NominalSize, Power, Quantity, Reading, RotationalSpeed,
    Temperature, Voltage, Volume,
};

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
}

/// The name of a thing, a run, a spigot: its identity in the file.
pub type Key = String;

/// The dotted way to a value in the file: `runs.hot.way[1]`.
pub type KeyPath = String;

/// One boat file.
#[derive(Clone, Debug, PartialEq)]
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
    /// How the boat is being used.
    pub states: Vec<State>,
    /// Readings of the old plumbing, one a sitting.
    pub readings: Vec<Sitting>,
    /// What is to be poured in.
    pub coolant: Coolant,
    /// The owner's own shelf.
    pub stock: Stock,
    /// What the job is, and what may be assumed.
    pub job: Job,
}

/// The boat herself: `[boat]`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct About {
    /// Her name.
    pub name: Told<String>,
    /// `motor, one hull`, `motor, two hulls`, `sail, one hull`, `sail, two hulls`.
    pub hull: Told<HullKind>,
    /// Which rules bind her, and what else her use demands.
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
    /// Its hull valve as found.
    pub valve: Option<Valve>,
    /// The pressure cap it carries.
    pub cap: Told<Reading<GaugePressure>>,
    /// Height of the cap's seat against today's waterline.
    pub cap_height: Told<Reading<Length>>,
    /// What only an engine has.
    pub engine: Option<Engine>,
    /// Everything of its kind that later stages judge.
    pub detail: Detail,
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
    /// Thread by name, where it is known: `G1-1/4 F`.
    pub thread: Told<Thread>,
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
    /// How far the engine moves on its feet, any way.
    pub moves: Told<Reading<Length>>,
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
    pub hole: Told<Reading<Length>>,
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
    pub pump_drive: Told<String>,
    pub pump_ratio: Told<f64>,
    pub pump_curve: Told<String>,
    pub gearbox_oil_normal: Told<Reading<Temperature>>,
    pub gearbox_cooler: Option<Key>,
}

/// What else a thing of its kind has. Fields that don't belong to its kind stay left out.
#[derive(Clone, Debug, Default, PartialEq)]
#[allow(missing_docs)]
pub struct Detail {
    /// Keel pipes.
    pub pipes: Option<Pipes>,
    pub depth: Told<Reading<Length>>,
    /// The two hull fittings it lies between.
    pub between: Vec<Key>,
    /// Calorifier.
    pub tank: Told<Reading<Volume>>,
    pub coil: Option<Coil>,
    /// Inner water paths of anything with more than one.
    pub paths: Vec<Path>,
}

/// `pipes = { count = 2, joined = "series", od = 60.3, wall = "?", length = 2200, metal = "steel", coat = "bitumen, thick" }`.
#[derive(Clone, Debug, Default, PartialEq)]
#[allow(missing_docs)]
pub struct Pipes {
    pub count: Told<u32>,
    pub in_series: Told<bool>,
    pub od: Told<Reading<Length>>,
    pub wall: Told<Reading<Length>>,
    pub length: Told<Reading<Length>>,
    pub metal: Told<Metal>,
    pub coat: Told<String>,
}

/// `coil = { skins = 1, bore = "?", top_h = 610 }`.
#[derive(Clone, Debug, Default, PartialEq)]
#[allow(missing_docs)]
pub struct Coil {
    pub skins: Told<u32>,
    pub bore: Told<Reading<Length>>,
    pub top_height: Told<Reading<Length>>,
}

/// What a run carries.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Carries {
    #[default]
    Coolant,
    RawWater,
    Oil,
    DomesticWater,
    Vent,
}

/// Where a run begins or ends.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum RunEnd {
    /// On a thing: `engine.out`; the spigot is empty where the thing has but one (`port-hull`).
    Thing {
        /// The thing's key.
        thing: Key,
        /// The spigot's or port's name.
        spigot: Option<Key>,
    },
    /// On a tee of another run: `suck.tee`.
    Tee {
        /// The run whose tee it is.
        run: Key,
        /// The tee's name in that run's way.
        piece: Key,
    },
}

/// All that lies between two ends.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// Its identity.
    pub key: Key,
    /// What one writes on the hose with a felt pen; `None` until it was first given.
    pub mark: Option<String>,
    /// Upstream end.
    pub from: RunEnd,
    /// Downstream end.
    pub to: RunEnd,
    /// What it carries.
    pub carries: Carries,
    /// Length along the run between the two spigot faces.
    pub length: Told<Reading<Length>>,
    /// Bends in order of flow.
    pub bends: Vec<Bend>,
    /// Pieces in order of flow.
    pub way: Told<Vec<Piece>>,
    /// Height of its highest point against today's waterline.
    pub high_at: Told<Reading<Length>>,
    /// Height of its lowest point.
    pub low_at: Told<Reading<Length>>,
}

/// One bend of a run: `90 down`, `S, 60 across`.
#[derive(Clone, Debug, PartialEq)]
pub enum Bend {
    /// A turn by an angle towards a direction.
    Turn {
        /// By how much.
        angle: Angle,
        /// Which way it goes after the turn.
        towards: Direction,
    },
    /// Two turns that leave the run parallel, set over by a distance.
    Offset {
        /// How far over.
        by: Length,
        /// Which way.
        towards: Direction,
    },
}

/// Directions aboard.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Direction {
    Up,
    Down,
    Forward,
    Aft,
    Port,
    Starboard,
    Across,
}

/// One bought thing in a run.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Its name in the run: its kind (`hose`, `reducer`, `elbow`), numbered from 2 where one repeats.
    pub name: Key,
    /// What it is.
    pub kind: PieceKind,
}

/// A size that is decided, or left to the tool.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Size {
    /// By name.
    Named(NominalSize),
    /// `choose`.
    Choose,
}

/// Kinds of piece. Hoses and moulded elbows have female ends, the others male ones.
#[derive(Clone, Debug, PartialEq)]
pub enum PieceKind {
    /// `hose 38 wired`, `hose choose`.
    Hose {
        /// Bore by name.
        size: Size,
        /// Build, if typed.
        build: Option<HoseBuild>,
    },
    /// `elbow 45 38 moulded silicone` (female ends) or `elbow 90 38 bronze` (male ends).
    Elbow {
        /// By how much it turns.
        angle: Angle,
        /// Bore by name (moulded) or spigot by name (metal).
        size: Size,
        /// Its stuff.
        stuff: Stuff,
    },
    /// `reducer 42>38 bronze`, `reducer choose>38 metal`; with male ends if of metal or plastic, cuffs if moulded.
    Reducer {
        /// Upstream end.
        from: Size,
        /// Downstream end.
        to: Size,
        /// Its stuff.
        stuff: Stuff,
    },
    /// `joiner 38 bronze`: a short pipe with male ends.
    Joiner {
        /// Outside diameter by name.
        size: Size,
        /// Its stuff.
        stuff: Stuff,
    },
    /// `valve 1/2 bronze`, `valve 38 full bronze`: male ends.
    Valve {
        /// Size of its tails by name.
        size: Size,
        /// Full bore, where typed.
        full_bore: bool,
        /// Its stuff.
        stuff: Stuff,
    },
    /// `pipe 38 copper 600 long`: rigid, male ends.
    Pipe {
        /// Outside diameter by name.
        size: Size,
        /// Its stuff.
        stuff: Stuff,
        /// Length, where typed.
        length: Option<Length>,
    },
    /// `tee 38 x 38 x 16 brass`: male ends, the third is the branch.
    Tee {
        /// Upstream, downstream, branch.
        sizes: [Size; 3],
        /// Its stuff.
        stuff: Stuff,
    },
}

/// Builds of hose.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum HoseBuild {
    /// EPDM with fabric.
    Epdm,
    /// EPDM or like with a wire helix.
    Wired,
    /// Silicone with fabric.
    Silicone,
    /// Rubber without reinforcement.
    PlainRubber,
    /// Silicone without reinforcement.
    PlainSilicone,
}

/// What a fitting is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Stuff {
    /// A named metal (or plastic): male ends.
    Metal(Metal),
    /// `metal`: some metal, not named.
    SomeMetal,
    /// `moulded`, of this build of hose: female ends.
    Moulded(HoseBuild),
}

/// What the owner decided or measured of one joint: `[joints] "hot.from" = { … }`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct JointNote {
    /// Which joint: `hot.from`, `hot.to`, `hot.reducer.a`.
    pub joint: Key,
    /// The clip decided on.
    pub clip: Told<ClipSpec>,
    /// How many of them.
    pub clips: Told<u32>,
    /// Outside diameter measured with the hose pushed on for trial.
    pub fitted_od: Told<Reading<Length>>,
    /// The hose was pushed on for trial, and went.
    pub trial_fit: Told<bool>,
    /// The hose end is used again.
    pub reused_hose: Told<bool>,
    /// A clip of a rule or taste that the owner wants: its kind only.
    pub clip_kind: Told<ClipWord>,
    /// The ring clip goes on the bare spigot before the hose.
    pub ring_on_first: Told<bool>,
}

/// Kinds of clip.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum ClipWord {
    Worm,
    SingleEar,
    TwoEar,
    TBolt,
    SpringBand,
}

/// A clip as written: `worm 32-50 316`, `single-ear 19.8`, `spring 36`.
#[derive(Clone, Debug, PartialEq)]
pub struct ClipSpec {
    /// Its kind.
    pub kind: ClipWord,
    /// Closed and open diameter, for clips sold by range.
    pub range: Option<(Length, Length)>,
    /// The one diameter by which rings are sold (open inside diameter, or d_n of a spring band).
    pub size: Option<Length>,
    /// Band width, where typed.
    pub band: Option<Length>,
    /// Its metal, where typed.
    pub metal: Option<Metal>,
}

/// What was found at one place: `[seen]`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Seen {
    /// Which run, joint or thing.
    pub subject: Key,
    /// Entries as typed: word → text.
    pub words: Vec<(String, String)>,
    /// Why it was not seen.
    pub not_seen: Option<String>,
    /// File names in `photos/`.
    pub photos: Vec<String>,
}

/// One way in which the circuit is connected, as a difference from another.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Arrangement {
    /// Its name.
    pub key: Key,
    /// From which it starts; `None` for the things and runs of the file as they stand.
    pub from: Option<Key>,
    /// Things and runs that stand in for others of the same key.
    pub replace_things: Vec<Thing>,
    /// See `replace_things`.
    pub replace_runs: Vec<RunChange>,
    /// Things that are new.
    pub add_things: Vec<Thing>,
    /// Runs that are new.
    pub add_runs: Vec<Run>,
    /// What is taken out.
    pub remove: Vec<Key>,
    /// What is blanked off.
    pub blank: Vec<String>,
    /// Valves that are shut.
    pub shut: Vec<Key>,
}

/// A run's fields that an arrangement changes; what is left out stays.
#[derive(Clone, Debug, PartialEq)]
#[allow(missing_docs)]
pub struct RunChange {
    pub key: Key,
    pub from: Option<RunEnd>,
    pub to: Option<RunEnd>,
    pub length: Told<Reading<Length>>,
    pub bends: Option<Vec<Bend>>,
    pub way: Told<Vec<Piece>>,
    pub high_at: Told<Reading<Length>>,
    pub low_at: Told<Reading<Length>>,
}

/// How the boat is being used.
#[derive(Clone, Debug, Default, PartialEq)]
#[allow(missing_docs)]
pub struct State {
    pub key: Key,
    pub rpm: Told<Reading<RotationalSpeed>>,
    pub speed: Told<Reading<quantity::Speed>>,
    pub alternator: Told<At<Current, Voltage>>,
    pub sea: Told<String>,
}

/// One sitting of readings on the old plumbing.
#[derive(Clone, Debug, Default, PartialEq)]
#[allow(missing_docs)]
pub struct Sitting {
    /// When, as typed: `2025-08-14 13:20`.
    pub when: String,
    pub state: Option<Key>,
    pub steady: Told<bool>,
    pub sea: Told<Reading<Temperature>>,
    /// Temperatures by place.
    pub temperatures: Vec<(Key, Reading<Temperature>)>,
}

/// What is to be poured in: `[coolant]`.
#[derive(Clone, Debug, Default, PartialEq)]
#[allow(missing_docs)]
pub struct Coolant {
    pub kind: Told<String>,
    pub percent: Told<Reading<quantity::Ratio>>,
    pub stand_frost: Told<Reading<Temperature>>,
    pub volume: Told<Reading<Volume>>,
    pub drained: Told<Reading<Volume>>,
}

/// The owner's own shelf.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Stock {
    /// `8 x worm 32-50 316`.
    pub clips: Vec<StockClip>,
    /// `1.8 m x 38 wired, id 38.4 od 50.2, Rmin 150 inside`.
    pub hose: Vec<StockHose>,
    /// Spares aboard, as typed.
    pub aboard: Vec<String>,
}

/// Clips in stock.
#[derive(Clone, Debug, PartialEq)]
pub struct StockClip {
    /// How many.
    pub count: u32,
    /// Which.
    pub clip: ClipSpec,
    /// Where they lie, if typed after `at`.
    pub place: Option<String>,
}

/// Hose in stock.
#[derive(Clone, Debug, PartialEq)]
pub struct StockHose {
    /// How much.
    pub length: Length,
    /// Bore by name.
    pub size: NominalSize,
    /// Build, where typed.
    pub build: Option<HoseBuild>,
    /// Measured bore.
    pub id: Option<Reading<Length>>,
    /// Measured outside diameter.
    pub od: Option<Reading<Length>>,
    /// Least bend radius, and whether to the inside of the curve.
    pub least_radius: Option<(Length, bool)>,
    /// Where it lies, if typed after `at`.
    pub place: Option<String>,
}

/// The job: `[job]`.
#[derive(Clone, Debug, Default, PartialEq)]
#[allow(missing_docs)]
pub struct Job {
    pub days_off: Told<u32>,
    pub sleep_aboard: Told<bool>,
    pub renew: Told<String>,
    /// The only places where a typical value may stand in.
    pub assume: Vec<Assume>,
}

/// What may be assumed, by the owner's word.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum Assume {
    HoseWall,
    HoseBuild,
    BeadWidth,
    BandWidth,
    PumpCurve,
    CoilBore,
    KeelWall,
    CapPressure,
}


/// A reading that says nothing of its tolerance, for tests and presets.
pub fn plain<Q: Quantity>(value: Q, unit: &'static quantity::Unit) -> Reading<Q> {
    Reading { value, tolerance: quantity::Tolerance::Unstated, instrument: None, unit }
}
