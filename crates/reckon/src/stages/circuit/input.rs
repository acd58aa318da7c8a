//! What the rules of the circuit read of one arrangement.

use boat::{Coolant, HullStuff, Key, KeyPath, Run, RunEnd, Thing, ThingKind, Told};
use quantity::{Length, Quantity, Temperature};
use reference::media::Glycol;

use crate::stages::types::{Known, SaltFacts};

/// One arrangement, with its heights as values that surely lie between.
#[derive(Clone, Debug)]
pub struct Facts<'a> {
    /// Its name; `None` for the file as it stands.
    pub name: Option<&'a str>,
    /// Things, in the order of the file.
    pub things: Vec<ThingAt<'a>>,
    /// Runs, in the order of the file.
    pub runs: Vec<RunAt<'a>>,
    /// Spigots, caps and tees that are blanked off.
    pub blanked: &'a [String],
    /// Valves that are shut.
    pub shut: &'a [Key],
    /// What this arrangement itself blanks off, where it can be added to.
    pub blanks_here: Vec<String>,
    /// Height of the waterline when she is laden, where that is told [m].
    pub laden: Option<f64>,
    /// Whether salt reaches the hull.
    pub salt: SaltFacts,
    /// Of what the hull is built.
    pub hull: &'a Told<HullStuff>,
    /// What is to be poured in.
    pub coolant: &'a Coolant,
    /// Which glycol is to be poured in.
    pub wanted: GlycolFacts,
    /// Which glycol stays inside.
    pub inside: GlycolFacts,
    /// Where the alarm sounds.
    pub alarm: Known<Temperature>,
    /// Whether a layout may stand in for the ways inside an engine.
    pub assume_inside: bool,
}

/// Which glycol is in a coolant, by the words of the file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GlycolFacts {
    /// Nothing is written of this coolant.
    NotWritten,
    /// There is none: only water, or nothing at all.
    Without,
    /// This one.
    Of(Glycol),
    /// It is written of, and the words do not tell which glycol it is.
    Unsaid,
}

/// A thing with its heights.
#[derive(Clone, Debug)]
pub struct ThingAt<'a> {
    /// As the file tells of it.
    pub thing: &'a Thing,
    /// Its table in the file.
    pub place: KeyPath,
    /// Its own height.
    pub height: Known<Length>,
    /// Height of each spigot, in their order.
    pub spigots: Vec<Known<Length>>,
    /// Height of each port, in their order.
    pub ports: Vec<Known<Length>>,
    /// Height of the seat of its cap.
    pub cap_h: Known<Length>,
    /// Height up to which a header tank is filled cold.
    pub cold_mark: Known<Length>,
    /// Height of the top of a calorifier's coil.
    pub coil_top: Known<Length>,
    /// The hottest water that a pump stands.
    pub stands: Known<Temperature>,
}

impl ThingAt<'_> {
    /// Its kind, where that is told.
    pub fn kind(&self) -> Option<ThingKind> {
        self.thing.kind.given().copied()
    }

    /// Whether it is of a kind.
    pub fn is(&self, kind: ThingKind) -> bool {
        self.kind() == Some(kind)
    }

    /// Its name.
    pub fn key(&self) -> &str {
        &self.thing.key
    }

    /// The height of what lies outside in the water, by the depth that is told [m].
    pub fn outside(&self) -> Option<f64> {
        let depth = self.thing.detail.depth.given()?;
        Some(-depth.value.si().abs())
    }
}

/// A run with its heights.
#[derive(Clone, Debug)]
pub struct RunAt<'a> {
    /// As the file tells of it.
    pub run: &'a Run,
    /// What is written on it.
    pub mark: String,
    /// The table of the file in which its way stands.
    pub place: KeyPath,
    /// Its highest point, where anything is told of it.
    pub high: Option<Known<Length>>,
    /// Its lowest point, where anything is told of it.
    pub low: Option<Known<Length>>,
}

impl<'a> Facts<'a> {
    /// The number of a thing.
    pub fn thing(&self, key: &str) -> Option<usize> {
        self.things.iter().position(|own| own.thing.key == key)
    }

    /// The number of a run.
    pub fn run(&self, key: &str) -> Option<usize> {
        self.runs.iter().position(|own| own.run.key == key)
    }

    /// The thing and the name of the spigot on which a run ends; the only spigot where none is named.
    pub fn end(&self, end: &'a RunEnd) -> Option<(usize, &'a str)> {
        let RunEnd::Thing { thing, spigot } = end else {
            return None;
        };
        let at = self.thing(thing)?;
        let own: &'a Thing = self.things[at].thing;
        let name = match (spigot, own.spigots.as_slice()) {
            (Some(name), _) => name.as_str(),
            (None, [only]) => only.name.as_str(),
            (None, _) => "",
        };
        Some((at, name))
    }

    /// The height of an end of a run on a thing; `None` for a tee, which has none in the file.
    pub fn end_height(&self, end: &'a RunEnd) -> Option<&Known<Length>> {
        let (at, name) = self.end(end)?;
        let own = &self.things[at];
        let spigot = own.thing.spigots.iter().position(|s| s.name == name);
        let port = own.thing.ports.iter().position(|p| p.name == name);
        spigot
            .map(|i| &own.spigots[i])
            .or_else(|| port.map(|i| &own.ports[i]))
            .or(Some(&own.height))
    }

    /// The runs that end on a thing: which, the name of the spigot, and whether the water comes by it.
    pub fn on(&self, thing: usize) -> impl Iterator<Item = (usize, &'a str, bool)> + '_ {
        self.runs.iter().enumerate().flat_map(move |(i, own)| {
            let run: &'a Run = own.run;
            [(&run.from, false), (&run.to, true)]
                .into_iter()
                .filter_map(move |(end, comes)| {
                    let (at, name) = self.end(end)?;
                    (at == thing).then_some((i, name, comes))
                })
        })
    }
}
