//! What an owner writes down: a value, how far it may be off, and with what it was read.

use crate::dimension::Quantity;
use crate::unit::Unit;

/// What a value was read with, or where it came from.
/// Unit: none. Range: the names below. Source: this crate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum Instrument {
    Caliper,
    Tape,
    /// A tape round the outside; the diameter is the girth over pi.
    Girth,
    /// A rod pushed into a spigot to show its axis.
    Dowel,
    /// A clear tube filled with water.
    WaterTube,
    SpiritLevel,
    ThreadGauge,
    /// Read off the maker's plate.
    Plate,
    /// Read off a drawing.
    Drawing,
    /// From the maker's sheet.
    Maker,
    /// Nobody measured it.
    Guessed,
}

impl Instrument {
    /// Every instrument. Unit: none. Range: all. Source: this crate.
    pub const ALL: [Self; 11] = [
        Self::Caliper,
        Self::Tape,
        Self::Girth,
        Self::Dowel,
        Self::WaterTube,
        Self::SpiritLevel,
        Self::ThreadGauge,
        Self::Plate,
        Self::Drawing,
        Self::Maker,
        Self::Guessed,
    ];

    /// The word that is printed and written into files: `caliper`, `water tube`.
    /// Unit: none. Range: text. Source: this crate.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Caliper => "caliper",
            Self::Tape => "tape",
            Self::Girth => "girth",
            Self::Dowel => "dowel",
            Self::WaterTube => "water tube",
            Self::SpiritLevel => "spirit level",
            Self::ThreadGauge => "thread gauge",
            Self::Plate => "plate",
            Self::Drawing => "drawing",
            Self::Maker => "maker",
            Self::Guessed => "guessed",
        }
    }

    /// Further words that are read.
    const fn also(self) -> &'static [&'static str] {
        match self {
            Self::Caliper => &[
                "calipers",
                "calliper",
                "callipers",
                "vernier",
                "vernier caliper",
            ],
            Self::Tape => &[
                "tape measure",
                "measuring tape",
                "ruler",
                "rule",
                "steel rule",
                "folding rule",
            ],
            Self::Girth => &[
                "string",
                "tape round",
                "tape around",
                "round it",
                "circumference",
            ],
            Self::Dowel => &["rod", "stick"],
            Self::WaterTube => &[
                "waterlevel",
                "water level",
                "water-level",
                "water hose",
                "tube",
            ],
            Self::SpiritLevel => &["level", "bubble level", "bubble"],
            Self::ThreadGauge => &["thread gage", "pitch gauge", "pitch gage", "screw gauge"],
            Self::Plate => &[
                "nameplate",
                "name plate",
                "maker's plate",
                "makers plate",
                "type plate",
            ],
            Self::Drawing => &["drawn", "plan", "plans"],
            Self::Maker => &[
                "maker's sheet",
                "makers sheet",
                "data sheet",
                "datasheet",
                "manual",
                "catalogue",
                "catalog",
            ],
            Self::Guessed => &["guess", "estimate", "estimated", "by eye", "eye"],
        }
    }

    /// All words that are read, the printed one first.
    /// Unit: none. Range: one or more. Source: this crate.
    pub fn names(self) -> impl Iterator<Item = &'static str> {
        std::iter::once(self.name()).chain(self.also().iter().copied())
    }

    /// The instrument of that name; case and the gap in a name do not count.
    /// Unit: none. Range: `None` where no instrument has the name. Source: this crate.
    pub fn parse(text: &str) -> Option<Self> {
        let text = text.trim();
        let whole = |name| crate::lex::match_name(name, text) == Some(text.len());
        Self::ALL
            .into_iter()
            .find(|instrument| instrument.names().any(whole))
    }
}

impl std::fmt::Display for Instrument {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.name())
    }
}

/// The middle of an interval, without overflow and always within it.
pub(crate) fn middle<Q: Quantity>(low: Q, high: Q) -> Q {
    let middle = (low.si() / 2.0 + high.si() / 2.0).clamp(low.si(), high.si());
    Q::from_si(middle).expect("OK because it lies between two that are fit")
}

/// How far a value may be off, as written.
/// Unit: that of the value. Range: half widths over 0. Source: this crate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Tolerance<Q: Quantity> {
    /// Nothing was written: the instrument decides.
    Unstated,
    /// `± a`: sure it lies between.
    PlusMinus(Q::Difference),
    /// `± p %` of the value, as a ratio.
    Share(crate::Ratio),
    /// `a to b`: sure it lies between.
    Between(Q, Q),
}

/// A quantity as it stands in a file: value, tolerance, instrument, unit as typed.
/// Unit: that of `Q`. Range: finite. Source: this crate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Reading<Q: Quantity> {
    /// The value (the middle where an interval was written). Unit: that of `Q`. Range: finite. Source: the file.
    pub value: Q,
    /// How far off it may be. Unit: that of `Q`. Range: see [`Tolerance`]. Source: the file.
    pub tolerance: Tolerance<Q>,
    /// With what it was read, where the text says so. Unit: none. Range: see [`Instrument`]. Source: the file.
    pub instrument: Option<Instrument>,
    /// The unit it was typed in, for writing it back. Unit: none. Range: see [`Unit`]. Source: the file.
    pub unit: &'static Unit,
}

/// Where a measured value's tolerance came from.
/// Unit: none. Range: see variants. Source: this crate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Origin {
    /// Read with an instrument, or off a plate, drawing or sheet.
    Read(Instrument),
    /// A typical value standing in, because the file says `assume`.
    Assumed,
    /// Worked out from other values.
    Computed,
    /// From a published table.
    Table,
}

/// A value that surely lies within `low` and `high`.
///
/// The standard uncertainty of such a limit is its half width over √3 (a rectangular spread).
/// Unit: that of `Q`. Range: `low ≤ value ≤ high`. Source: JCGM 100:2008 (GUM), 4.3.7.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Measured<Q: Quantity> {
    /// The best value. Unit: that of `Q`. Range: within `low` and `high`. Source: the reading.
    pub value: Q,
    /// Surely not below. Unit: that of `Q`. Range: at most `value`. Source: the reading.
    pub low: Q,
    /// Surely not above. Unit: that of `Q`. Range: at least `value`. Source: the reading.
    pub high: Q,
    /// Where it came from. Unit: none. Range: see [`Origin`]. Source: the reading.
    pub origin: Origin,
}

impl<Q: Quantity> Measured<Q> {
    /// The standard uncertainty, in SI: half the width over √3.
    /// Unit: SI. Range: 0 and over. Source: JCGM 100:2008 (GUM), 4.3.7.
    pub fn standard_uncertainty(&self) -> f64 {
        (self.high.si() - self.low.si()) / 2.0 / 3.0_f64.sqrt()
    }
}

/// Two quantities that go together: `38 kW @ 2600 rpm`, `90 A @ 14 V`.
/// Unit: those of `A` and `B`. Range: finite. Source: this crate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct At<A: Quantity, B: Quantity> {
    /// What is said. Unit: that of `A`. Range: finite. Source: the file.
    pub what: Reading<A>,
    /// At what. Unit: that of `B`. Range: finite. Source: the file.
    pub at: Reading<B>,
}
