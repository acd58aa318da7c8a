//! The figures of flow and heat: plain numbers in SI, temperatures in °C, pressures over the atmosphere.

use boat::{Key, KeyPath};

use crate::verdict::{Settles, Words};

/// A value that surely lies between two others.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Span {
    /// Not below.
    pub low: f64,
    /// What is reckoned with.
    pub mid: f64,
    /// Not above.
    pub high: f64,
}

/// One arrangement in all its states.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FlowRow {
    /// The arrangement; `None` for the file as it stands.
    pub arrangement: Option<Key>,
    /// Every state of the file, in its order; a state in which she may lie or move stands once for each.
    pub states: Vec<StateRow>,
    /// Volume and header tank; `None` where there is no circuit.
    pub volume: Option<VolumeRow>,
    /// Where the sea could come in, stopped and at every speed.
    pub hull: Vec<HullRow>,
    /// Most that the coolers can do.
    pub most: Vec<MostRow>,
    /// Area of each cooler in the sea beside the rules of thumb.
    pub areas: Vec<AreaRow>,
    /// Typical values that stand in for what nobody measured.
    pub assumed: Vec<Assumed>,
    /// Why nothing was reckoned at all, each with what would settle it.
    pub missing: Vec<Missing>,
    /// What the figures leave out, in whole sentences.
    pub notes: Vec<Words>,
}

/// A typical value that stands in.
#[derive(Clone, Debug, PartialEq)]
pub struct Assumed {
    /// What: `pump curve`, `inside of the keel pipes`.
    pub what: String,
    /// The value for people.
    pub value: Words,
    /// Where it comes from, as a source is cited.
    pub source: String,
    /// The value of the file that would take its place.
    pub place: KeyPath,
}

/// Something without which nothing can be reckoned.
#[derive(Clone, Debug, PartialEq)]
pub struct Missing {
    /// Why, in one sentence.
    pub why: String,
    /// What to measure.
    pub settles: Settles,
}

/// Whether she moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Duty {
    /// She makes way.
    Moving,
    /// She lies still.
    Tied,
}

/// One state.
#[derive(Clone, Debug, PartialEq)]
pub struct StateRow {
    /// Its name in the file.
    pub key: Key,
    /// Whether she moves in it.
    pub duty: Duty,
    /// Speed of the engine [1/s].
    pub revs: f64,
    /// Speed through the water, or of the water past her [m/s].
    pub speed: f64,
    /// Temperature of the sea [°C].
    pub sea: f64,
    /// Power at the shaft [W]; 0 in neutral.
    pub power: f64,
    /// Heat to the coolant [W].
    pub heat: Span,
    /// Whence: `maker's sheet`, `share of the power`.
    pub heat_from: String,
    /// What came of it.
    pub came: Came,
    /// Why no raw water comes to the exchanger; `None` where it comes, or where none is wanted.
    pub dry: Option<Dry>,
}

/// No raw water comes to the exchanger in a state: why, and how long the coolant has.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Dry {
    /// Why, in words that may stand in a sentence: `sea-in.valve is shut`.
    pub why: String,
    /// The value of the file that tells it.
    pub place: KeyPath,
    /// The valves that are shut on the way of the raw water.
    pub shut: Vec<Key>,
    /// Raw water goes out by the exhaust, which it cools.
    pub exhaust: bool,
    /// Coolant out of the engine when the cooling ends [°C]: as the state has it while the raw water runs, else
    /// where the thermostat is fully open.
    pub begins: f64,
    /// Where the coolant boils at the engine's outlet, the cap holding nothing [°C].
    pub boils: Option<f64>,
    /// How long it has from there; `None` where what the circuit holds is not known.
    pub uncooled: Option<Uncooled>,
}

/// What came of a state.
#[derive(Clone, Debug, PartialEq)]
pub enum Came {
    /// A steady state.
    Steady(Box<Figures>),
    /// There is none, and why.
    NoSteadyState(String),
    /// The circuit has no answer, and why.
    Unsolvable(String),
    /// Something is not known.
    Unmeasured(Missing),
}

impl Came {
    /// The figures, where there is a steady state.
    pub fn steady(&self) -> Option<&Figures> {
        match self {
            Self::Steady(figures) => Some(figures),
            _ => None,
        }
    }
}

/// The figures of a steady state, by the middle of the heat unless said otherwise.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Figures {
    /// Everything that water runs through, in the order of flow from the pump; branches after.
    pub items: Vec<ItemRow>,
    /// Joints and ports with their pressures, in the same order.
    pub places: Vec<PlaceRow>,
    /// Coolers and what they do.
    pub coolers: Vec<CoolerRow>,
    /// Coolant out of the engine [°C], by the heat's low, middle and high.
    pub out: Span,
    /// Coolant into the engine [°C], the return of the cooler, likewise.
    pub back: Span,
    /// Coolant into the pump [°C], where the by-pass and the return have come together, likewise.
    pub mixed: Span,
    /// Lift of the thermostat, 0 to 1, likewise; `None` without a thermostat.
    pub lift: Option<Span>,
    /// Heat that the circuit could shed with the thermostat fully open and at its full-open temperature,
    /// over the heat that there is; over 1 there is a reserve. `None` where it is not known.
    pub reserve: Option<f64>,
    /// Flow through the engine [m³/s].
    pub flow: f64,
    /// Flow through the coolers of the main loop [m³/s].
    pub cooled: f64,
    /// Flow that comes round without passing a cooler, by what it goes through: name and share of the
    /// engine's flow.
    pub stolen: Vec<(String, f64)>,
    /// Head that the pump gives [Pa].
    pub pump: f64,
    /// Static pressure at the pump's inlet with the cap holding nothing [Pa].
    pub suction: f64,
    /// Absolute total pressure there over the pressure at which the coolant boils there [Pa], the cap
    /// holding nothing.
    pub suction_over_boiling: f64,
    /// Hottest water of the circuit: where, its temperature [°C], and where it boils there with the cap
    /// holding nothing, and with the cap at its setting [°C].
    pub hottest: Option<(String, f64, f64, Option<f64>)>,
    /// Water that stands: dead legs and shut-off parts, in words.
    pub standing: Vec<String>,
    /// The raw-water side, where it runs.
    pub raw: Option<RawRow>,
    /// How long she has once nothing cools the coolant any more, at this power; `None` where what the circuit
    /// holds is not known.
    pub uncooled: Option<Uncooled>,
}

/// How long the coolant takes to warm while it still runs and no cooler takes heat. The heat that the metal of
/// the engine takes up is not counted.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Uncooled {
    /// To where the alarm sounds [s], where that is told and ahead.
    pub alarm: Option<f64>,
    /// To where it boils in the hottest place, the cap holding nothing [s].
    pub boils: Option<f64>,
}

/// The raw-water side of the exchangers. What each of its parts takes stands among the items.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RawRow {
    /// Its flow [m³/s].
    pub flow: f64,
    /// The flow is the one that the state tells, by a bucket.
    pub bucket: bool,
    /// What the sheet of its pump gives at this speed [m³/s], where it is written.
    pub gives: Option<f64>,
    /// The key of its pump.
    pub pump: Option<Key>,
    /// The hull fitting by which it comes in, its height over the waterline [m] and the value of the file that
    /// tells it, where it is not under the water.
    pub over: Option<(Key, f64, KeyPath)>,
    /// Static pressure over the air at the pump's inlet [Pa], where it can be told.
    pub inlet: Option<f64>,
    /// And at its outlet [Pa].
    pub outlet: Option<f64>,
    /// Its joints in the order of flow.
    pub places: Vec<RawPlace>,
    /// What is missing for the pressures that are not told.
    pub missing: Vec<Missing>,
}

/// One joint of the raw-water side.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RawPlace {
    /// `draw.to`.
    pub name: Key,
    /// For people.
    pub title: String,
    /// Height over today's waterline [m], where it is told.
    pub height: Option<f64>,
    /// Static pressure over the air [Pa], where it can be told.
    pub pressure: Option<f64>,
    /// Temperature [°C].
    pub temperature: f64,
    /// Ahead of the pump.
    pub suction: bool,
}

/// One thing or piece that water runs through.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ItemRow {
    /// Its key: `engine`, `hot.hose`, `keel`.
    pub subject: Key,
    /// For people: `hose 38 of hot (A)`.
    pub title: String,
    /// The run it belongs to; empty for a thing.
    pub run: Key,
    /// Value of the file it is about.
    pub place: KeyPath,
    /// Flow [m³/s], in the order that the file gives.
    pub flow: f64,
    /// Drop of total pressure [Pa]; below zero for the pump.
    pub drop: f64,
    /// Temperature in and out [°C].
    pub temperatures: [f64; 2],
    /// Speed in its bore [m/s], where it has one.
    pub speed: Option<f64>,
    /// Bore [m], where it has one.
    pub bore: Option<f64>,
    /// Reynolds number, where it has a bore.
    pub reynolds: Option<f64>,
    /// What of it is metal and wet, for the limits of speed.
    pub stuff: Stuff,
    /// On the suction side of the pump.
    pub suction: bool,
    /// A hose without wire or spring.
    pub soft: bool,
    /// Carries raw water.
    pub raw: bool,
}

/// What a wet part is made of, as far as limits of speed go.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Stuff {
    /// Hose, plastic, or not told.
    #[default]
    Hose,
    /// Steel or cast iron.
    Steel,
    /// Copper.
    Copper,
    /// Copper-nickel, 90/10 or not told which.
    CuproNickel,
    /// Brass, or a metal that is not told.
    Brass,
    /// Bronze or gunmetal: which alloy is not told.
    Bronze,
    /// Aluminium bronze.
    AluminiumBronze,
    /// Aluminium.
    Aluminium,
}

/// One joint or port with its pressures.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PlaceRow {
    /// `hot.from`, `keel-fwd`, `header.foot`.
    pub name: Key,
    /// For people.
    pub title: String,
    /// Distance along the loop from the pump [m], where it lies on the loop.
    pub along: Option<f64>,
    /// Height over today's waterline [m].
    pub height: f64,
    /// Static pressure with the cap holding nothing [Pa].
    pub open: f64,
    /// Static pressure with the cap at its setting [Pa]; `None` without a cap that is known.
    pub capped: Option<f64>,
    /// Total pressure with the cap holding nothing [Pa].
    pub total: f64,
    /// Temperature [°C].
    pub temperature: f64,
    /// Where the coolant boils there, the cap holding nothing [°C].
    pub boils: Option<f64>,
    /// The pressure that the weakest part there stands [Pa], where the file tells it, and what part.
    pub rated: Option<(f64, String)>,
}

/// What a cooler does.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CoolerRow {
    /// Its key.
    pub subject: Key,
    /// What it is, for people.
    pub title: String,
    /// Heat out of the coolant [W].
    pub heat: f64,
    /// Coolant in and out [°C].
    pub temperatures: [f64; 2],
    /// UA [W/K].
    pub ua: f64,
    /// Outside surface [m²], where it has one.
    pub area: Option<f64>,
    /// Speed in its channels [m/s].
    pub speed: Option<f64>,
    /// Reynolds number in them.
    pub reynolds: Option<f64>,
    /// Films inside and outside [W/(m² K)].
    pub films: Option<[f64; 2]>,
    /// Shares of the resistance: film inside, dirt inside, wall and paint, dirt outside, film outside.
    pub shares: Option<[f64; 5]>,
    /// Raw water out [°C].
    pub raw_out: Option<f64>,
}

/// Inside against outside at a place where the sea could come in.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct HullRow {
    /// The hull fitting or cooler.
    pub subject: Key,
    /// For people.
    pub title: String,
    /// Value of the file it is about.
    pub place: KeyPath,
    /// How deep it lies under today's waterline [m].
    pub depth: f64,
    /// Pressure of the sea there [Pa].
    pub sea: f64,
    /// Inside less outside, the cap holding nothing: stopped [Pa].
    pub stopped: f64,
    /// The same by state: its name, speed of the engine [1/s], and inside less outside [Pa].
    pub states: Vec<(Key, f64, f64)>,
    /// The cap's setting, which adds to all of them when it holds [Pa].
    pub cap: Option<f64>,
    /// Speed of the engine at which it turns [1/s], where it does.
    pub turns: Option<f64>,
}

/// The most that the circuit can do in a state.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct MostRow {
    /// The state.
    pub key: Key,
    /// Temperature of the coolant that is not passed [°C], and what it is: `alarm less 5 K`.
    pub limit: (f64, String),
    /// Warmest sea at which it holds [°C]; `None` where none does.
    pub sea: Option<f64>,
    /// Greatest steady power [W] at several temperatures of the sea [°C].
    pub power: Vec<(f64, Option<f64>)>,
    /// The smallest share of the cooler's surface that would do here, 1 as it is; `None` where no cooler of
    /// this kind does.
    pub smallest: Option<f64>,
}

/// Area beside the rules of thumb.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct AreaRow {
    /// The cooler.
    pub subject: Key,
    /// Outside surface [m²].
    pub area: f64,
    /// What rules of thumb ask for: which, area [m²], source.
    pub rules: Vec<(String, f64, String)>,
    /// What is reckoned to do in the hardest state moving, and tied up: state, area [m²].
    pub reckoned: Vec<(Key, Duty, f64)>,
}

/// Volume and header tank.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct VolumeRow {
    /// What is in it: name, volume [m³], and whence.
    pub parts: Vec<(String, f64, String)>,
    /// Volume of the circuit [m³]; `None` where a part of it is not known.
    pub whole: Option<f64>,
    /// Whence: `as drained`, `by bores and lengths`.
    pub from: String,
    /// What is not known, each with what settles it.
    pub missing: Vec<Missing>,
    /// Filled at this temperature [°C], hot at that.
    pub temperatures: [f64; 2],
    /// Growth of the coolant between them [m³].
    pub growth: Option<f64>,
    /// Room in the header over its cold mark [m³].
    pub room: Option<f64>,
    /// Volume of the header [m³].
    pub header: Option<f64>,
    /// Level cold and hot over today's waterline [m], where the header's shape is told by its marks.
    pub levels: Option<[f64; 2]>,
    /// Pressure that the closed air over the hot coolant comes to [Pa over the atmosphere], before the cap.
    pub air: Option<f64>,
    /// The cap's setting [Pa].
    pub cap: Option<f64>,
    /// Coolant that the cap lets out when hot [m³].
    pub overflow: Option<f64>,
    /// Value of the file it is about.
    pub place: KeyPath,
}
