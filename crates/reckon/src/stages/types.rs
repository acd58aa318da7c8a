//! Small types that several stages share. A stage never imports another stage.

use boat::{Assume, Carries, ClipWord, Key, KeyPath, Metal, SpigotForm};
use quantity::{GaugePressure, Length, Measured, NominalSize, Origin, Quantity, Temperature};
use reference::clip::ClipKind;
use reference::hose::HoseKind;
use reference::thread::{Family, ThreadSize};

use crate::verdict::{Grade, Number, Settles, Stakes, Words};

/// A value that stands, with all that a working says of it.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Value<Q: Quantity> {
    /// The value and the interval in which it surely lies.
    pub measured: Measured<Q>,
    /// Where it came from, for a reader: `caliper`, `assumed`, `table: …`.
    pub from: String,
    /// Which value of the file it was read from.
    pub place: Option<KeyPath>,
    /// What to measure, and where to write it, if it is to be known better.
    pub settles: Settles,
}

impl<Q: Quantity> Value<Q> {
    /// Whether nobody measured this very thing: a guess, an assumption, or what a print or a table
    /// says of things of its kind.
    pub fn is_guess(&self) -> bool {
        self.measured.origin.is_guess() || self.measured.origin == Origin::Table
    }
}

/// Why a value is not known.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Missing {
    /// In a few words that follow the name of the value: `not measured yet`.
    pub why: Words,
    /// What would settle it.
    pub settles: Settles,
}

/// A value, or why it is not known.
pub type Known<Q> = Result<Value<Q>, Missing>;

/// A male end: what a hose goes over.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct SpigotFacts {
    /// For people: `engine out`, `reducer in hot`.
    pub name: String,
    /// Where it stands in the file.
    pub place: KeyPath,
    /// Outside diameter behind the bead.
    pub od: Known<Length>,
    /// Outside diameter over the bead or barb.
    pub bead: Known<Length>,
    /// Straight length behind the bead.
    pub behind_bead: Known<Length>,
    /// Width of the bead along the axis.
    pub bead_width: Known<Length>,
    /// Plain, beaded or barbed, where that is known.
    pub form: Option<SpigotForm>,
    /// What it is made of, where that is known.
    pub metal: Option<Metal>,
    /// Height against today's waterline.
    pub height: Known<Length>,
    /// What a hidden spigot can be by what was measured outside, in words.
    pub inferred: Option<Words>,
}

/// The outside of a hose, by what was measured of it.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Outside {
    /// Its outside diameter.
    Over(Value<Length>),
    /// Its wall.
    Wall(Value<Length>),
}

/// A hose as it is before it is pushed on.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct HoseFacts {
    /// For people: `hose 38 wired`.
    pub name: String,
    /// Its bore by name.
    pub size: Option<NominalSize>,
    /// Which value of the file names it.
    pub place: KeyPath,
    /// Its build, and whether that is only assumed.
    pub build: Result<(HoseKind, bool), Missing>,
    /// Its bore.
    pub bore: Known<Length>,
    /// Its outside.
    pub outside: Result<Outside, Missing>,
    /// Whether it lies on the owner's shelf.
    pub own: bool,
    /// The pressure printed on it or in its sheet, and at what temperature.
    pub works_at: Option<(Measured<GaugePressure>, Option<Measured<Temperature>>)>,
}

/// A hose on the owner's shelf.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct ShelfHose {
    /// Bore by name.
    pub size: NominalSize,
    /// How much of it.
    pub length: Length,
    /// Build, where typed.
    pub build: Option<HoseKind>,
    /// Measured bore.
    pub bore: Option<Value<Length>>,
    /// Measured outside diameter.
    pub over: Option<Value<Length>>,
    /// Which entry of the file.
    pub place: KeyPath,
    /// The pressure printed on it or in its sheet, and at what temperature.
    pub works_at: Option<(Measured<GaugePressure>, Option<Measured<Temperature>>)>,
}

/// A clip as numbers and names.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct ClipFacts {
    /// Its kind.
    pub kind: ClipKind,
    /// As one writes it in the file and asks for it in a shop: `worm 32-50`.
    pub name: String,
    /// The standard or series, for a reader.
    pub series: String,
    /// Smallest diameter.
    pub closed: Length,
    /// Largest inside diameter.
    pub open: Length,
    /// Nominal size of a spring band.
    pub nominal: Option<Length>,
    /// Width of its band.
    pub band: Option<Length>,
    /// Its metal, where said.
    pub metal: Option<Metal>,
    /// Whether it lies on the owner's shelf.
    pub own: bool,
    /// Source of its sizes.
    pub source: String,
}

/// A clip as the file has it, not yet looked up.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct ClipWanted {
    /// Its kind.
    pub kind: ClipKind,
    /// Closed and open, for clips sold by range.
    pub range: Option<(Length, Length)>,
    /// The one diameter by which rings are sold.
    pub size: Option<Length>,
    /// Band width, where typed.
    pub band: Option<Length>,
    /// Its metal, where typed.
    pub metal: Option<Metal>,
}

/// What the file says of one joint.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub struct NoteFacts {
    /// The clip decided on.
    pub clip: Option<ClipWanted>,
    /// The owner looked and can't know yet which clip there is: nothing is chosen for him.
    pub clip_unknown: bool,
    /// The kind of clip asked for.
    pub clip_kind: Option<ClipKind>,
    /// How many clips were decided on.
    pub clips: Option<u32>,
    /// Outside diameter measured with the hose pushed on for trial; `None` where nobody tried.
    pub fitted_over: Option<Known<Length>>,
    /// Bore of this very hose end or cuff, where it was measured.
    pub hose_bore: Option<Known<Length>>,
    /// Outside diameter of this very hose end or cuff when free, where it was measured.
    pub hose_over: Option<Known<Length>>,
    /// The hose was pushed on for trial, and went.
    pub trial_fit: bool,
    /// The hose end is used again.
    pub reused_hose: bool,
    /// The ring goes on the bare spigot before the hose.
    pub ring_on_first: bool,
}

/// Who is judged, for ids, titles and places.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Subject {
    /// `hot.from`.
    pub key: Key,
    /// For people: `hose hot on engine out (A1)`.
    pub title: String,
    /// Which value of the file it is about.
    pub place: KeyPath,
}

/// Where a joint lies against the water.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Below {
    /// Under the waterline, with the reason.
    Yes(Words),
    /// Above it.
    No,
    /// Not known.
    Unknown(Settles),
}

/// Whether salt reaches a metal that stands in the water.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum SaltFacts {
    /// Salt or brackish water.
    Salt,
    /// Fresh water.
    Fresh,
    /// Not known.
    Unknown(Settles),
}

/// What holds for the whole boat and bears on a joint.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Terms {
    /// What the run carries.
    pub carries: Carries,
    /// What hangs on the joint.
    pub stakes: Stakes,
    /// Where it lies against the water.
    pub below: Below,
    /// The rule that asks for two clips, as the owner typed it.
    pub two_clips_rule: Option<String>,
    /// The rule that bars clips held by spring alone, as the owner typed it.
    pub no_spring_rule: Option<String>,
    /// The water outside, where it reaches this end.
    pub sea_reaches: Option<SaltFacts>,
    /// Some part of the circuit is of aluminium.
    pub aluminium_in_circuit: bool,
    /// What may be assumed.
    pub assume: Vec<Assume>,
    /// Seed of the subject's draws.
    pub seed: u64,
    /// Whether chances are sampled, or to first order only.
    pub sampled: bool,
}

impl Terms {
    /// Whether the owner lets a typical value stand in.
    pub fn may_assume(&self, what: Assume) -> bool {
        self.assume.contains(&what)
    }
}

/// A clip of another size than the chosen one, and the chance that it holds.
#[derive(Clone, Debug, PartialEq)]
pub struct Neighbour {
    /// `worm 25-40`.
    pub clip: String,
    /// The chance that it holds.
    pub chance: f64,
}

/// A value for a reader: with its tolerance, and whether anybody measured it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shown {
    /// `38.1 ± 0.1 mm`.
    pub text: Words,
    /// Where it came from: `caliper`, `assumed`, `table`.
    pub from: String,
    /// Nobody measured it: it is assumed or guessed.
    pub guessed: bool,
}

impl Shown {
    pub(crate) fn of(known: &Known<Length>) -> Option<Self> {
        known.as_ref().ok().map(Self::of_value)
    }

    pub(crate) fn of_value(value: &Value<Length>) -> Self {
        Self {
            text: Words::of(|system| quantity::show_measured(&value.measured, system)),
            from: value.from.clone(),
            guessed: value.measured.origin.is_guess(),
        }
    }
}

/// The sizes that a joint is made up by.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct JointSizes {
    /// Outside diameter of the spigot.
    pub spigot: Option<Shown>,
    /// Outside diameter over the bead.
    pub bead: Option<Shown>,
    /// Straight metal behind the bead.
    pub behind_bead: Option<Shown>,
    /// Width of the bead.
    pub bead_width: Option<Shown>,
    /// Bore of the hose.
    pub bore: Option<Shown>,
    /// Outside of the hose when free.
    pub over: Option<Shown>,
    /// Wall of the hose, where the wall is what is known.
    pub wall: Option<Shown>,
}

/// How a joint is made up by hand.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ByHand {
    /// The piece of the run that goes over, as the order names it: `hot.hose2`.
    pub piece: Option<Key>,
    /// The clip's kind by name: `worm-drive clip`.
    pub clip_kind: Option<String>,
    /// How that kind is closed, in a few words.
    pub close: Option<String>,
    /// The width of its band, as far as that is known or may be assumed.
    pub band: Option<Length>,
    /// What of the length to push on was assumed: `width of the bead`, `width of the band`.
    pub push_on_assumes: Vec<String>,
    /// Whence the torque.
    pub torque_source: Option<String>,
    /// The ring goes on the bare spigot before the hose.
    pub ring_on_first: bool,
    /// The hose end is used again.
    pub reused_hose: bool,
}

/// One joint as a row of a table.
#[derive(Clone, Debug, PartialEq)]
pub struct JointRow {
    /// Its key: `hot.from`.
    pub joint: Key,
    /// Its mark: `A1`.
    pub mark: String,
    /// The run it belongs to.
    pub run: Key,
    /// For people: `engine out`.
    pub spigot_name: String,
    /// Outside diameter of the spigot.
    pub spigot: Option<Number>,
    /// Outside diameter over the bead.
    pub bead: Option<Number>,
    /// The hose by name: `hose 38 wired`.
    pub hose: String,
    /// Its bore.
    pub bore: Option<Number>,
    /// Its outside diameter when free.
    pub over: Option<Number>,
    /// Stretch over the spigot; below zero where the hose is loose.
    pub stretch: Option<Number>,
    /// Least outside diameter on the spigot, by the models and the best values.
    pub fitted_low: Option<Number>,
    /// Greatest outside diameter on the spigot, by the models and the best values.
    pub fitted_high: Option<Number>,
    /// The clip decided on, or the one that the tool would take.
    pub clip: Option<String>,
    /// Whether the tool chose the clip.
    pub clip_chosen: bool,
    /// How many of them.
    pub clips: Option<u32>,
    /// The chance that the clip fits.
    pub chance: Option<f64>,
    /// The next sizes either side.
    pub neighbours: Vec<Neighbour>,
    /// How far the hose goes over, from its end: where to put the mark.
    pub push_on: Option<Number>,
    /// Torque in words: `3.8 to 5.2 N m`.
    pub torque: Option<Words>,
    /// The worst grade of its verdicts.
    pub grade: Grade,
    /// How the ids of its verdicts begin: `fit.hot.from`.
    pub id_prefix: String,
    /// The sizes it is made up by, each with where it came from.
    pub sizes: JointSizes,
    /// How it is made up by hand.
    pub by_hand: ByHand,
}

/// The published family of a thread of the file.
pub(crate) fn family(standard: boat::ThreadStandard) -> Family {
    match standard {
        boat::ThreadStandard::G => Family::G,
        boat::ThreadStandard::R => Family::R,
        boat::ThreadStandard::Rc => Family::Rc,
        boat::ThreadStandard::Rp => Family::Rp,
        boat::ThreadStandard::Npt => Family::Npt,
        boat::ThreadStandard::Npsm => Family::Npsm,
        boat::ThreadStandard::Metric => Family::Metric,
    }
}

/// The published sizes of a thread of the file, where a table has it.
pub(crate) fn thread_size(thread: boat::Thread) -> Option<&'static ThreadSize> {
    let pitch = thread
        .pitch_micrometres
        .map(|micrometres| Length::mm(f64::from(micrometres) / 1000.0));
    reference::thread::size(family(thread.standard), thread.size, pitch)
}

/// The build of hose, from the word in the file.
pub(crate) fn hose_kind(build: boat::HoseBuild) -> HoseKind {
    match build {
        boat::HoseBuild::Epdm => HoseKind::FabricEpdm,
        boat::HoseBuild::Wired => HoseKind::WireHelix,
        boat::HoseBuild::Silicone => HoseKind::FabricSilicone,
        boat::HoseBuild::PlainRubber => HoseKind::PlainRubber,
        boat::HoseBuild::PlainSilicone => HoseKind::PlainSilicone,
    }
}

/// The kind of clip, from the word in the file.
pub(crate) fn clip_kind(word: ClipWord) -> ClipKind {
    match word {
        ClipWord::Worm => ClipKind::WormDrive,
        ClipWord::SingleEar => ClipKind::SingleEar,
        ClipWord::TwoEar => ClipKind::TwoEar,
        ClipWord::TBolt => ClipKind::TBolt,
        ClipWord::SpringBand => ClipKind::SpringBand,
    }
}

/// The word in the file for a kind of clip.
pub(crate) fn clip_word(kind: ClipKind) -> ClipWord {
    match kind {
        ClipKind::WormDrive => ClipWord::Worm,
        ClipKind::SingleEar => ClipWord::SingleEar,
        ClipKind::TwoEar => ClipWord::TwoEar,
        ClipKind::TBolt => ClipWord::TBolt,
        ClipKind::SpringBand => ClipWord::SpringBand,
    }
}

/// `1 joint`, `12 joints`.
pub(crate) fn counted_names(count: usize, one: &str) -> String {
    let many = if count == 1 { "" } else { "s" };
    format!("{count} {one}{many}")
}
