//! Flow and heat as they are sent.
//!
//! Headline figures carry their unit and text; the many figures of parts and places are plain SI numbers, kelvins and
//! pascals over the air, with one text a row.

use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

use super::{About, Number, Place, Remark, Settles, Summary, Text, Verdict};

/// See [`super::CheckSchema`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub enum FlowSchema {
    #[serde(rename = "hosewright.flow/1")]
    V1,
}

/// What `flow --json` prints.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct Flow {
    /// Name and version of this document's form.
    pub schema: FlowSchema,
    /// What was reckoned; the arrangement is null where several were.
    #[serde(flatten)]
    pub about: About,
    /// The one state that was asked for; null for all of them. States and verdicts are of it alone then.
    pub state: Option<String>,
    /// How many verdicts of each grade, over all arrangements sent.
    pub summary: Summary,
    /// Faults of the file; none of them is a stop.
    pub remarks: Vec<Remark>,
    /// One, or with `--all` every arrangement in the order of the file; none with `--compare`.
    pub arrangements: Vec<FlowArrangement>,
    /// Two arrangements beside one another; null unless `--compare` asked for them and there is something to compare.
    pub compared: Option<FlowCompared>,
    /// Plots that were written.
    pub plots: Vec<String>,
}

/// A figure that surely lies between two others, in SI.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct Spread {
    /// Not below.
    pub low: f64,
    /// What is reckoned with.
    pub middle: f64,
    /// Not above.
    pub high: f64,
    /// SI unit of all three; `1` for a ratio.
    pub unit: String,
    /// What is measured: `temperature`, `power`.
    pub kind: String,
    /// For people.
    pub text: Text,
}

/// One arrangement in all its states.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct FlowArrangement {
    /// Its name; null for the file as it stands.
    pub arrangement: Option<String>,
    /// Every state; one in which she may lie or move stands once for each.
    pub states: Vec<FlowState>,
    /// Volume and header tank; null where there is no circuit.
    pub volume: Option<FlowVolume>,
    /// Where the sea could come in.
    pub hull: Vec<FlowHull>,
    /// The most that the circuit can do.
    pub most: Vec<FlowMost>,
    /// Area of each cooler in the sea beside rules of thumb.
    pub areas: Vec<FlowArea>,
    /// Typical values that stand in for what nobody measured.
    pub assumed: Vec<FlowAssumed>,
    /// Why nothing was reckoned at all.
    pub missing: Vec<FlowMissing>,
    /// What the figures leave out.
    pub notes: Vec<Text>,
    /// The verdicts about flow and heat.
    pub verdicts: Vec<Verdict>,
}

/// What came of a state.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[serde(rename_all = "kebab-case")]
pub enum FlowCame {
    /// A steady state, with figures.
    Steady,
    /// There is none.
    NoSteadyState,
    /// The circuit has no answer.
    Unsolvable,
    /// Something is not known.
    Unmeasured,
}

/// One state.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct FlowState {
    /// Its name in the file.
    pub state: String,
    /// `moving` or `tied`.
    pub duty: String,
    /// Speed of the engine.
    pub revs: Number,
    /// Speed through the water, or of the water past her.
    pub speed: Number,
    /// Temperature of the sea.
    pub sea: Number,
    /// Power at the shaft.
    pub power: Number,
    /// Heat to the coolant.
    pub heat: Spread,
    /// Whence the heat.
    pub heat_from: String,
    /// What came of it.
    pub came: FlowCame,
    /// Why there are no figures; empty where there are.
    pub why: String,
    /// What would settle it, where something is not known.
    pub settles: Option<Settles>,
    /// The figures; null unless there is a steady state.
    pub figures: Option<FlowFigures>,
    /// Why no raw water comes to the exchanger; null where it comes, or where none is wanted.
    pub dry: Option<FlowDry>,
}

/// No raw water comes to the exchanger.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct FlowDry {
    /// Why, in words.
    pub why: String,
    /// Value of the file that tells it.
    pub place: Place,
    /// Valves that are shut on its way.
    pub shut: Vec<String>,
    /// Raw water goes out by the exhaust, which it cools.
    pub exhaust: bool,
    /// Coolant out of the engine when the cooling ends.
    pub begins: Number,
    /// How long it has from there; null where what the circuit holds is not known.
    pub uncooled: Option<FlowUncooled>,
}

/// The figures of a steady state; pressures with the cap holding nothing unless said otherwise.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct FlowFigures {
    /// Coolant out of the engine.
    pub out: Spread,
    /// Coolant into the engine.
    pub back: Spread,
    /// Coolant into the pump, where by-pass and return have come together.
    pub mixed: Spread,
    /// Lift of the thermostat, 0 to 1; null without one.
    pub lift: Option<Spread>,
    /// Heat that could be shed with the thermostat fully open, over the heat that there is.
    pub reserve: Option<Number>,
    /// Flow through the engine.
    pub flow: Number,
    /// Flow through the coolers of the main loop.
    pub cooled: Number,
    /// Flow that comes round past no cooler.
    pub stolen: Vec<FlowStolen>,
    /// What the pump gives.
    pub pump: Number,
    /// Static pressure at its inlet.
    pub suction: Number,
    /// Absolute total pressure there over that at which the coolant boils there.
    pub suction_over_boiling: Number,
    /// Hottest water of the circuit.
    pub hottest: Option<FlowHottest>,
    /// Water that stands, in words.
    pub standing: Vec<String>,
    /// Everything that water runs through, in order of flow from the pump; branches after.
    pub items: Vec<FlowItem>,
    /// Joints and ports, in the same order.
    pub places: Vec<FlowPlace>,
    /// Coolers and stores.
    pub coolers: Vec<FlowCooler>,
    /// The raw-water side of the exchangers; null where none runs.
    pub raw: Option<FlowRaw>,
    /// How long she has once nothing cools the coolant any more; null where what the circuit holds is not known.
    pub uncooled: Option<FlowUncooled>,
}

/// How long the coolant takes to warm while it runs and no cooler takes heat.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct FlowUncooled {
    /// To the alarm [s].
    pub alarm: Option<f64>,
    /// To boiling in the hottest place, the cap holding nothing [s].
    pub boils: Option<f64>,
}

/// The raw-water side. What each of its parts loses stands among `items`.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct FlowRaw {
    /// Its flow.
    pub flow: Number,
    /// The flow is the one that the state tells, by a bucket.
    pub bucket: bool,
    /// What the sheet of its pump gives at this speed of the engine; null where it is not written.
    pub gives: Option<Number>,
    /// The key of its pump.
    pub pump: Option<String>,
    /// The hull fitting by which it comes in, where that does not stand under the water; null where it does.
    pub over: Option<FlowOver>,
    /// Pressure over the air at the pump's inlet; null where it can't be told.
    pub inlet: Option<Number>,
    /// And at its outlet.
    pub outlet: Option<Number>,
    /// Its joints in the order of flow.
    pub places: Vec<FlowRawPlace>,
    /// Why pressures are not told.
    pub missing: Vec<String>,
}

/// An inlet that does not stand under the water.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct FlowOver {
    /// The hull fitting.
    pub subject: String,
    /// How high it stands over the waterline.
    pub height: Number,
    /// Value of the file that tells it.
    pub place: Place,
}

/// One joint of the raw-water side.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct FlowRawPlace {
    /// `draw.to`.
    pub name: String,
    /// For people.
    pub title: String,
    /// Height over today's waterline [m].
    pub height: Option<f64>,
    /// Static pressure over the air [Pa].
    pub pressure: Option<f64>,
    /// Temperature [K].
    pub temperature: f64,
    /// Ahead of the pump.
    pub suction: bool,
}

/// Flow past no cooler.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct FlowStolen {
    /// By what it comes round.
    pub by: String,
    /// Share of the engine's flow, 0 to 1.
    pub share: Number,
}

/// Hottest water.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct FlowHottest {
    /// Where.
    pub place: String,
    /// How hot.
    pub temperature: Number,
    /// Where it boils there, the cap holding nothing.
    pub boils_open: Number,
    /// The same with the cap at its setting; null without a cap that is known.
    pub boils_under_cap: Option<Number>,
}

/// One thing or piece that water runs through.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct FlowItem {
    /// Its key.
    pub subject: String,
    /// For people.
    pub title: String,
    /// The run it belongs to; empty for a thing.
    pub run: String,
    /// Value of the file it is about.
    pub place: Place,
    /// Flow [m³/s]; below zero against the order in which the file has it.
    pub flow: f64,
    /// Drop of total pressure [Pa]; below zero for the pump.
    pub drop: f64,
    /// Temperature in [K].
    pub temperature_in: f64,
    /// Temperature out [K].
    pub temperature_out: f64,
    /// Speed in its bore [m/s].
    pub speed: Option<f64>,
    /// Bore [m].
    pub bore: Option<f64>,
    /// Reynolds number in it.
    pub reynolds: Option<f64>,
    /// What of it is wet: `hose`, `steel`, `copper`, `cupro-nickel`, `brass`, `bronze`, `aluminium bronze` or `aluminium`.
    pub stuff: String,
    /// On the suction side of the pump.
    pub suction: bool,
    /// A hose without wire or spring.
    pub soft: bool,
    /// Carries raw water.
    pub raw: bool,
    /// Flow, drop and temperature out for people.
    pub text: Text,
}

/// One joint or port with its pressures over the air.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct FlowPlace {
    /// Its key.
    pub name: String,
    /// For people.
    pub title: String,
    /// Distance along the loop from the pump [m]; null beside the loop.
    pub along: Option<f64>,
    /// Height over today's waterline [m].
    pub height: f64,
    /// Static pressure, the cap holding nothing [Pa].
    pub open: f64,
    /// Static pressure, the cap at its setting [Pa]; null without a cap that is known.
    pub capped: Option<f64>,
    /// Total pressure, the cap holding nothing [Pa].
    pub total: f64,
    /// Temperature [K].
    pub temperature: f64,
    /// Where the coolant boils there, the cap holding nothing [K].
    pub boils: Option<f64>,
    /// The pressure that the weakest part there stands [Pa], where the file tells it.
    pub rated: Option<f64>,
    /// What part that is.
    pub weakest: Option<String>,
    /// Pressure and temperature for people.
    pub text: Text,
}

/// What a cooler does.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct FlowCooler {
    /// Its key.
    pub subject: String,
    /// For people.
    pub title: String,
    /// Heat out of the coolant.
    pub heat: Number,
    /// Coolant in.
    pub temperature_in: Number,
    /// Coolant out.
    pub temperature_out: Number,
    /// Heat per difference of temperatures.
    pub ua: Number,
    /// Outside surface.
    pub area: Option<Number>,
    /// Speed in its channels.
    pub speed: Option<Number>,
    /// Reynolds number in them.
    pub reynolds: Option<f64>,
    /// Film inside.
    pub film_inside: Option<Number>,
    /// Film outside.
    pub film_outside: Option<Number>,
    /// What holds the heat back.
    pub shares: Option<FlowShares>,
    /// Raw water out.
    pub raw_out: Option<Number>,
}

/// Shares of a cooler's resistance, 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub struct FlowShares {
    pub film_inside: f64,
    pub dirt_inside: f64,
    /// Wall and paint.
    pub wall: f64,
    pub dirt_outside: f64,
    pub film_outside: f64,
}

/// Inside against outside where the sea could come in; above zero coolant would leak out, below it the sea in.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct FlowHull {
    /// The hull fitting or cooler.
    pub subject: String,
    /// For people.
    pub title: String,
    /// Value of the file it is about.
    pub place: Place,
    /// How deep it lies under today's waterline.
    pub depth: Number,
    /// Pressure of the sea there.
    pub sea: Number,
    /// Inside less outside, stopped, the cap holding nothing.
    pub stopped: Number,
    /// The same by state.
    pub states: Vec<FlowHullState>,
    /// What a cap that holds adds to all of them.
    pub cap: Option<Number>,
    /// Speed of the engine at which it turns.
    pub turns: Option<Number>,
}

/// One state at the hull.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub struct FlowHullState {
    pub state: String,
    pub revs: Number,
    /// Inside less outside, the cap holding nothing.
    pub difference: Number,
}

/// The most that the circuit can do in a state.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct FlowMost {
    /// The state.
    pub state: String,
    /// Temperature of the coolant that is not passed.
    pub limit: Number,
    /// What that is.
    pub limit_why: String,
    /// Warmest sea at which it holds; null where none does.
    pub sea: Option<Number>,
    /// Greatest steady power in several seas.
    pub power: Vec<FlowPower>,
    /// The smallest share of the cooler's surface that would do, 1 as it is; null where no cooler of this kind does.
    pub smallest: Option<Number>,
}

/// Greatest steady power in one sea; null where none is steady.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub struct FlowPower {
    pub sea: Number,
    pub power: Option<Number>,
}

/// Area of a cooler in the sea.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct FlowArea {
    /// The cooler.
    pub subject: String,
    /// Its outside surface.
    pub area: Number,
    /// What rules of thumb ask for.
    pub rules: Vec<FlowRule>,
    /// What is reckoned to do.
    pub reckoned: Vec<FlowNeed>,
}

/// A rule of thumb.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub struct FlowRule {
    pub rule: String,
    pub area: Number,
    pub source: String,
}

/// The area that a state wants.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub struct FlowNeed {
    pub state: String,
    /// `moving` or `tied`.
    pub duty: String,
    pub area: Number,
}

/// Volume and header tank.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct FlowVolume {
    /// Value of the file it is about.
    pub place: Place,
    /// What is in it.
    pub parts: Vec<FlowPart>,
    /// Volume of the circuit; null where a part of it is not known.
    pub whole: Option<Number>,
    /// Whence.
    pub from: String,
    /// What is not known.
    pub missing: Vec<FlowMissing>,
    /// Filled at this temperature.
    pub cold: Number,
    /// Hot at this one.
    pub hot: Number,
    /// Growth of the coolant between them.
    pub growth: Option<Number>,
    /// Room in the header over its cold mark.
    pub room: Option<Number>,
    /// Volume of the header.
    pub header: Option<Number>,
    /// Level cold, over today's waterline.
    pub level_cold: Option<Number>,
    /// Level hot.
    pub level_hot: Option<Number>,
    /// Pressure that the closed air over the hot coolant comes to, before the cap.
    pub air: Option<Number>,
    /// The cap's setting.
    pub cap: Option<Number>,
    /// Coolant that the cap lets out when hot.
    pub overflow: Option<Number>,
}

/// A part of the volume.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub struct FlowPart {
    pub name: String,
    pub volume: Number,
    /// Whence.
    pub from: String,
}

/// A typical value that stands in.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct FlowAssumed {
    /// What.
    pub what: String,
    /// The value for people.
    pub value: Text,
    /// Where it comes from.
    pub source: String,
    /// The value of the file that would take its place.
    pub place: Place,
}

/// Something without which nothing can be reckoned.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
#[allow(missing_docs)]
pub struct FlowMissing {
    pub why: String,
    pub settles: Settles,
}

/// Two arrangements beside one another.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct FlowCompared {
    /// The one; null for the file as it stands.
    pub one: Option<String>,
    /// The other.
    pub other: Option<String>,
    /// States with figures in both.
    pub states: Vec<FlowBoth>,
    /// The few changes that buy most, each tried by itself.
    pub changes: Vec<FlowChange>,
}

/// A state in both arrangements.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct FlowBoth {
    /// Its name in the file.
    pub state: String,
    /// `moving` or `tied`.
    pub duty: String,
    /// In the one.
    pub one: FlowSide,
    /// In the other.
    pub other: FlowSide,
    /// What each part loses, the greatest change first.
    pub heads: Vec<FlowHead>,
}

/// A state in one of the two.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct FlowSide {
    /// Flow through the engine.
    pub flow: Number,
    /// Flow through the coolers.
    pub cooled: Number,
    /// Coolant out of the engine.
    pub out: Number,
    /// Coolant into it.
    pub back: Number,
    /// Static pressure at the pump's inlet, the cap holding nothing.
    pub suction: Number,
    /// Lift of the thermostat, 0 to 1; null without one.
    pub lift: Option<Number>,
}

/// What a part loses in both.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct FlowHead {
    /// Its key.
    pub subject: String,
    /// For people.
    pub title: String,
    /// Drop in the one; null where it has no such part.
    pub one: Option<Number>,
    /// Drop in the other.
    pub other: Option<Number>,
}

/// One change, and what it buys by itself.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, TS)]
pub struct FlowChange {
    /// The part.
    pub subject: String,
    /// What changes.
    pub what: Text,
    /// The state in which it was tried.
    pub state: String,
    /// More flow through the coolers.
    pub flow_gain: Number,
    /// By how much the engine's outlet is cooler.
    pub out_gain: Number,
}
