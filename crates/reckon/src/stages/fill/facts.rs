//! What the stage reads, and the figures that it gives.

use boat::{Key, KeyPath};
use quantity::{GaugePressure, Ratio, Temperature, Volume, show};
use reference::media::Glycol;

use crate::say;
use crate::stages::types::{Known, Missing, Subject, Value};
use crate::verdict::{Number, Settles, Words};

/// What a text says of a coolant's kind.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct KindFacts {
    /// As it was typed.
    pub words: String,
    /// Which glycol, where it says.
    pub glycol: Option<Glycol>,
    /// Which family of inhibitor, where it says.
    pub family: Option<&'static str>,
    /// It is water.
    pub water: bool,
    /// It is a coolant that holds no water.
    pub waterless: bool,
}

/// Words of each family of inhibitor, as they stand on cans. A hybrid names the others too, so it comes first.
const FAMILIES: [(&str, &[&str]); 3] = [
    ("hybrid", &["hybrid", "si-oat", "lobrid"]),
    ("organic acid", &["organic", "oat"]),
    (
        "conventional",
        &["conventional", "silicate", "nitrite", "phosphate", "iat"],
    ),
];

impl KindFacts {
    /// Reads it.
    pub fn of(text: &str) -> Self {
        let low = text.to_lowercase();
        let words: Vec<&str> = low
            .split(|sign: char| !(sign.is_alphanumeric() || sign == '-'))
            .collect();
        let says = |word: &str| words.contains(&word);
        let waterless = says("waterless") || low.contains("without water");
        let glycol = match (
            low.contains("propylene"),
            low.replace("propylene", "").contains("ethylene"),
        ) {
            (true, false) => Some(Glycol::Propylene),
            (false, true) => Some(Glycol::Ethylene),
            // Both or neither: not said.
            _ => None,
        };
        let family = FAMILIES
            .iter()
            .find(|(_, names)| names.iter().any(|name| says(name)));
        Self {
            words: text.to_owned(),
            glycol,
            family: family.map(|(name, _)| *name),
            water: says("water") && words.iter().all(|word| plain_water(word)),
            waterless,
        }
    }
}

/// Whether a word may stand beside `water` where nothing but water is meant.
fn plain_water(word: &str) -> bool {
    const WORDS: [&str; 13] = [
        "",
        "water",
        "fresh",
        "plain",
        "tap",
        "clean",
        "rain",
        "demineralised",
        "de-ionised",
        "deionised",
        "distilled",
        "flushed",
        "only",
    ];
    WORDS.contains(&word)
}

/// With what the old coolant was tested.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Tester {
    Refractometer,
    Hydrometer,
}

impl Tester {
    /// The word for a reader.
    pub fn word(self) -> &'static str {
        match self {
            Self::Refractometer => "refractometer",
            Self::Hydrometer => "hydrometer",
        }
    }
}

/// The old coolant by an instrument.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct ReadingFacts {
    /// With what.
    pub tester: Tester,
    /// The freezing point that it shows.
    pub shows: Known<Temperature>,
    /// For which glycol its scale is.
    pub scale: Result<Glycol, Missing>,
    /// How warm the sample was, where that is known.
    pub at: Option<Value<Temperature>>,
    /// Whether the thermostat had opened; where it is not known, what to write.
    pub stat_opened: Result<bool, Settles>,
}

/// Whether what is inside goes together with what is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Together {
    /// Nothing is inside, or water, or nobody said what is wanted.
    Nothing,
    /// One glycol and one family.
    Yes,
    /// Another glycol, another family, or the one without water and the other with it.
    No,
    /// The words do not tell.
    Unsaid,
    /// What is inside is not known at all.
    Unknown,
}

/// What the low spots of the hoses hold as they hang.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Lows {
    /// All of them together.
    pub volume: Volume,
    /// The runs that have some.
    pub runs: Vec<Key>,
}

impl Lows {
    /// For people: how much, and where.
    pub(super) fn words(&self) -> Words {
        Words::of(|system| {
            format!(
                "By their shape the low spots of {} hold {}",
                say::list(&self.runs, "and"),
                show(self.volume, Some(self.volume * 0.1), system)
            )
        })
    }
}

/// All that the stage reads.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct FillInput {
    /// Who is judged.
    pub subject: Subject,
    /// The kind that is wanted.
    pub kind: Result<KindFacts, Missing>,
    /// The share of concentrate that is wanted: a decision, so without a tolerance.
    pub wanted: Result<Ratio, Missing>,
    /// The frost that it must stand; `None` where nobody asks.
    pub frost: Option<Known<Temperature>>,
    /// What the circuit holds.
    pub volume: Known<Volume>,
    /// Why what is written of the volumes can't be right, and what would settle it.
    pub wrong: Option<Missing>,
    /// What stays inside.
    pub inside: Known<Volume>,
    /// What the hoses' low spots hold by their shape; `None` where the bay was not laid or they have none.
    pub lows: Option<Lows>,
    /// Share of concentrate in what stays inside.
    pub inside_share: Known<Ratio>,
    /// What it is; where it is not known, what would settle it.
    pub inside_kind: Result<KindFacts, Missing>,
    /// Share of concentrate in what is bought; `None` for concentrate.
    pub product: Option<Value<Ratio>>,
    /// The least share that its maker asks for.
    pub least: Option<Value<Ratio>>,
    /// Room in the header over the cold mark; `None` where nobody asks.
    pub room: Option<Known<Volume>>,
    /// Where the alarm sounds.
    pub hottest: Option<Value<Temperature>>,
    /// The cap that governs.
    pub cap: Option<Value<GaugePressure>>,
    /// The old coolant by an instrument.
    pub reading: Option<ReadingFacts>,
}

impl FillInput {
    /// Where a value of the coolant stands in the file; nothing where there is none.
    pub(super) fn place(&self, key: &str) -> KeyPath {
        if self.subject.place.is_empty() {
            KeyPath::new()
        } else {
            format!("{}.{key}", self.subject.place)
        }
    }

    /// Whether numbers are asked for without a boat: nothing can be written into a file then.
    pub(super) fn without_boat(&self) -> bool {
        self.subject.place.is_empty()
    }

    /// Whether the coolant that is wanted holds no water.
    pub(super) fn waterless(&self) -> bool {
        self.kind.as_ref().is_ok_and(|kind| kind.waterless)
    }

    /// Whether old and new go together.
    pub(super) fn together(&self) -> Together {
        let dry = self
            .inside
            .as_ref()
            .is_ok_and(|inside| inside.measured.value == Volume::of_si(0.0));
        let Ok(new) = &self.kind else {
            return Together::Nothing;
        };
        let old = match &self.inside_kind {
            // In a dry circuit there is nothing to go together with.
            _ if dry => return Together::Nothing,
            Ok(old) if old.water => return Together::Nothing,
            Ok(old) => old,
            Err(_) => return Together::Unknown,
        };
        let same_glycol = old.glycol.zip(new.glycol).map(|(old, new)| old == new);
        let same_family = old.family.zip(new.family).map(|(old, new)| old == new);
        let mixed = old.waterless != new.waterless;
        if mixed || same_glycol == Some(false) || same_family == Some(false) {
            Together::No
        } else if same_glycol == Some(true) && same_family == Some(true) {
            Together::Yes
        } else {
            Together::Unsaid
        }
    }
}

/// The figures of a filling. What is not known is left out.
#[derive(Clone, Debug, PartialEq)]
pub struct FillRow {
    /// The kind that is wanted, as typed.
    pub kind: String,
    /// Share of concentrate wanted, by volume.
    pub wanted: Option<Number>,
    /// Share of concentrate in what is bought.
    pub product: Option<Number>,
    /// What the circuit holds.
    pub volume: Option<Number>,
    /// What stays inside.
    pub inside: Option<Number>,
    /// Share of concentrate in that.
    pub inside_share: Option<Number>,
    /// The share that recipe and figures are for: what is wanted, unless a verdict calls that unsound.
    pub mix: Option<Number>,
    /// Why that is another one than what is wanted.
    pub mix_why: Option<String>,
    /// The recipe holds once the old coolant is flushed out, so that water stays inside.
    pub flush_first: bool,
    /// To be drained before anything is poured.
    pub drain_first: Option<Number>,
    /// Product to be poured, first.
    pub pour: Option<Number>,
    /// Water to be poured after it.
    pub water: Option<Number>,
    /// Product in ten litres of mix.
    pub pour_in_ten: Option<Number>,
    /// Water in ten litres of mix.
    pub water_in_ten: Option<Number>,
    /// Share that would come out with a ready mix of the share wanted.
    pub ready_mix: Option<Number>,
    /// Where that would freeze.
    pub ready_mix_freezes: Option<Number>,
    /// Where that mix freezes.
    pub freezes: Option<Number>,
    /// Where it boils with the cap off, at sea level.
    pub boils_open: Option<Number>,
    /// Where it boils under the cap, at the least that the cap surely holds.
    pub boils_under_cap: Option<Number>,
    /// By how much what is poured is smaller when mixed.
    pub shrinks: Option<Number>,
    /// By which share it grows from cold to hot.
    pub expands_by: Option<Number>,
    /// The same for the whole circuit.
    pub expands: Option<Number>,
    /// Up to which heat.
    pub expands_to: Number,
    /// Share of the circuit that runs out at each draining.
    pub drains: Option<Number>,
    /// Drainings and fillings with water before another family goes in.
    pub flushes: Option<u32>,
}
