//! What was found, the ways of connecting and using her, readings, coolant, stock and the job.

use quantity::{
    At, Current, GaugePressure, Length, NominalSize, Power, Reading, RotationalSpeed, Temperature,
    Voltage, Volume, VolumeFlow,
};

use super::{Bend, ClipSpec, HoseBuild, Key, KeyPath, Piece, PieceKind, Run, RunEnd, Thing, Told};

/// What was found at one place: `[seen]`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Seen {
    /// Which run, joint or thing.
    pub subject: Key,
    /// Entries as typed: word → text.
    pub words: Vec<(String, String)>,
    /// The state that it was found in.
    pub found: Vec<Found>,
    /// Year printed on the hose.
    pub made: Told<u32>,
    /// What of the clip a magnet draws.
    pub magnet: Told<Magnet>,
    /// What the owner has decided.
    pub decided: Told<Decided>,
    /// Why it was not seen.
    pub not_seen: Option<String>,
    /// File names in `photos/`.
    pub photos: Vec<String>,
}

/// States in which a hose or another part is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum Found {
    Good,
    SoftEnds,
    Cracked,
    Hard,
    Bulged,
    Oval,
    Kinked,
    Chafed,
    Oily,
    Crusted,
}

/// What of a clip a magnet draws.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum Magnet {
    Nothing,
    Screw,
    Band,
    All,
}

/// What the owner has decided of a part as found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum Decided {
    Keep,
    Renew,
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
    /// When she was last run so, as typed.
    pub tried: Told<String>,
}

impl Arrangement {
    /// Whether things or runs are others in it than in that from which it starts.
    pub fn changes(&self) -> bool {
        !(self.replace_things.is_empty()
            && self.replace_runs.is_empty()
            && self.add_things.is_empty()
            && self.add_runs.is_empty()
            && self.remove.is_empty())
    }
}

/// A run's fields that an arrangement changes; what is left out stays.
#[derive(Clone, Debug, PartialEq)]
#[allow(missing_docs)]
pub struct RunChange {
    pub key: Key,
    pub from: Option<RunEnd>,
    pub to: Option<RunEnd>,
    pub length: Told<Reading<Length>>,
    pub bends: Told<Vec<Bend>>,
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
    /// At the shaft, where it is known better than the propeller tells.
    pub power: Told<Reading<Power>>,
    /// Water that runs past her when she is tied up.
    pub tide: Told<Reading<quantity::Speed>>,
    /// Raw water through the heat exchanger.
    pub raw: Told<Reading<VolumeFlow>>,
    /// Whether the cabin heaters are on: taps open, fans running.
    pub heaters: Told<bool>,
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
    pub product: Product,
    pub inside: Inside,
    pub reading: CoolantReading,
}

/// What is bought to be poured in: `product = { percent = 100, least = 33 }`.
#[derive(Clone, Debug, Default, PartialEq)]
#[allow(missing_docs)]
pub struct Product {
    pub percent: Told<Reading<quantity::Ratio>>,
    pub least: Told<Reading<quantity::Ratio>>,
}

/// What stays inside when the circuit is drained: `inside = { volume = "2.5 L", percent = 0 }`.
#[derive(Clone, Debug, Default, PartialEq)]
#[allow(missing_docs)]
pub struct Inside {
    pub volume: Told<Reading<Volume>>,
    pub percent: Told<Reading<quantity::Ratio>>,
    pub kind: Told<String>,
}

/// The old coolant by an instrument: `reading = { refractometer = "-19 °C", scale = "ethylene" }`.
#[derive(Clone, Debug, Default, PartialEq)]
#[allow(missing_docs)]
pub struct CoolantReading {
    pub refractometer: Told<Reading<Temperature>>,
    pub hydrometer: Told<Reading<Temperature>>,
    pub scale: Told<String>,
    pub at: Told<Reading<Temperature>>,
    pub stat_opened: Told<bool>,
}

/// The owner's own shelf.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Stock {
    /// `8 x worm 32-50 316`.
    pub clips: Vec<StockClip>,
    /// `1.8 m x 38 wired, id 38.4 od 50.2, Rmin 150 inside`.
    pub hose: Vec<StockHose>,
    /// `2 x joiner 38 bronze`: pieces of a way, anything but hose.
    pub parts: Vec<StockPart>,
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
    /// The pressure printed on it or in its sheet, and at what temperature if that is said.
    pub works_at: Option<(Reading<GaugePressure>, Option<Reading<Temperature>>)>,
    /// Where it lies, if typed after `at`.
    pub place: Option<String>,
}

/// Pieces in stock.
#[derive(Clone, Debug, PartialEq)]
pub struct StockPart {
    /// How many.
    pub count: u32,
    /// Which; never a hose, and no size of it is left to choose.
    pub kind: PieceKind,
    /// Its length along the run, where typed.
    pub long: Option<Length>,
    /// Where they lie, if typed after `at`.
    pub place: Option<String>,
}

/// What a thing costs and how it is sold: `[prices]`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PriceEntry {
    /// What is bought, as typed: the key in the file.
    pub key: Key,
    /// What is bought, with single spaces between its words: `worm 32-50 316`.
    pub name: String,
    /// The price of one of `per`.
    pub each: Told<Price>,
    /// What `each` is the price of.
    pub per: Told<PricePer>,
    /// Sold only in packs of so many.
    pub pack: Told<u32>,
    /// Days until it is delivered; 0 is today.
    pub days: Told<u32>,
    /// Whether the shop takes it back.
    pub returnable: Told<bool>,
    /// Kind or name of the shop.
    pub shop: Told<String>,
    /// The lengths in which a hose is sold; none where nothing is said.
    pub lengths: Vec<Length>,
}

impl PriceEntry {
    /// Where it stands in the file: `prices."worm 32-50 316"`.
    pub fn path(&self) -> KeyPath {
        crate::places::price_path(&self.key)
    }
}

/// A price: `2.40 EUR`, `€ 2.40`.
#[derive(Clone, Debug, PartialEq)]
pub struct Price {
    /// How much [currency], 0 or more.
    pub amount: f64,
    /// Of what, as typed: three capital letters, or one of €, £ and $.
    pub currency: String,
}

/// By what a thing is sold.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum PricePer {
    Piece,
    Metre,
    Litre,
}

/// The job: `[job]`.
#[derive(Clone, Debug, Default, PartialEq)]
#[allow(missing_docs)]
pub struct Job {
    pub days_off: Told<u32>,
    /// The year in which the job is done; ages are reckoned to it.
    pub year: Told<u32>,
    pub sleep_aboard: Told<bool>,
    pub renew: Told<String>,
    /// The risk that the owner accepts that a size bought turns out wrong [-], 0 to 1.
    pub misfit_risk: Told<Reading<quantity::Ratio>>,
    /// Length lost at each cut, 0 or more.
    pub kerf: Told<Reading<Length>>,
    /// What is renewed beside hose and clips.
    pub also: Vec<Renewal>,
    /// The only places where a typical value may stand in.
    pub assume: Vec<Assume>,
}

/// Parts that a refit of hose and clips renews as well, where the owner wants it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Renewal {
    /// The pressure cap.
    Cap,
    /// The thermostat with its gasket.
    Stat,
    /// The belt of the pump.
    Belt,
}

/// What may be assumed, by the owner's word.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum Assume {
    HoseWall,
    HoseBuild,
    BeadWidth,
    BandWidth,
    BeadHeight,
    PumpCurve,
    CoilBore,
    KeelWall,
    EngineInside,
    /// The share of the power that goes into the water.
    HeatShare,
    /// What the water loses in the engine.
    EngineDrop,
    /// Where the thermostat is fully open, its bore, what it feels, where it shuts.
    Stat,
    /// What the water loses in a cooler or another thing.
    CoolerDrop,
    /// The thickness of paint on a cooler.
    Paint,
    /// What sits on a cooler.
    Fouling,
    /// Where a cooler lies, and the water that it sees.
    CoolerPlace,
    /// How fast a pump turns.
    PumpSpeed,
    /// How hard hose is to bend.
    HoseStiffness,
}
