//! The one table of keys. It drives the reading of the file, the nearest-name hints, the schema
//! and the key reference in `docs/boat-file.md`; nothing else knows which keys there are.

mod bay;
mod page;
mod survey;
mod tables;

use quantity::{Instrument, Kind};

pub use page::key_reference;
pub use tables::ROOT;
pub(crate) use tables::{RUN, RUN_CHANGE, SEEN_AT};

use crate::words::WordList;

/// What may stand after a key.
#[derive(Clone, Copy, Debug)]
pub enum Form {
    /// A length over 0: a diameter, a distance. Bare where the file says `lengths`.
    Length,
    /// A length of 0 or more: a loss. Bare where the file says `lengths`.
    LengthOrZero,
    /// A length over 0 that is a name more than a measurement, so that it has no tolerance.
    PlainLength,
    /// A height against today's waterline, of either sign. Bare where the file says `lengths`.
    Height,
    /// A quantity of another kind, with its unit; over 0 or of any sign.
    Quantity(Kind, Sign),
    /// How far off an instrument may be: a length, or a share in per cent.
    Spread,
    /// A power at a shaft speed.
    PowerAtSpeed,
    /// A current at a voltage.
    CurrentAtVoltage,
    /// A loss of pressure over 0 at a flow over 0.
    DropAtFlow,
    /// A flow over 0, and at a shaft speed where that counts.
    FlowAtSpeed,
    /// A percentage from 0 to 100; a bare number is one.
    Percent,
    /// A bare number, from and up to.
    Number(f64, f64),
    /// A whole number from 1.
    Count,
    /// A whole number from 0.
    Whole,
    /// `true` or `false`.
    Bool,
    /// Free text.
    Text,
    /// One of some words.
    Words(&'static WordList),
    /// A text with a grammar of its own.
    Grammar(Grammar),
    /// A point of the bay: three lengths of either sign. Bare where the file says `lengths`.
    Point,
    /// Three bare numbers: a point in a scan's own numbers.
    Triple,
    /// A direction: a text with a grammar of its own, or three bare numbers.
    Heading,
    /// A place of the survey by tape, or a point of the bay.
    Spotted,
    /// The file of a scan, in the boat's own folder or below.
    File,
    /// The name of something else in the file.
    Name(Names),
    /// The version of the file's form.
    Version,
    /// A table with these keys.
    Table(&'static TableRow),
    /// A table of a thing or of a run: whichever has that name, or whichever its keys fit.
    ThingOrRun(&'static TableRow, &'static TableRow),
    /// Several of these in a list; one alone may stand without brackets.
    List(&'static Form),
}

impl Form {
    /// Whether three numbers in a list are one of it.
    pub(crate) const fn is_triple(&self) -> bool {
        matches!(
            self,
            Self::Point | Self::Triple | Self::Heading | Self::Spotted
        )
    }

    /// Whether two readings of it may stand side by side.
    pub(crate) fn can_differ(&self) -> bool {
        matches!(
            self,
            Self::Length
                | Self::LengthOrZero
                | Self::Height
                | Self::Quantity(..)
                | Self::Percent
                | Self::PowerAtSpeed
                | Self::CurrentAtVoltage
                | Self::DropAtFlow
                | Self::FlowAtSpeed
                | Self::Grammar(Grammar::Aside | Grammar::Along)
        )
    }
}

/// Which signs a quantity may have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sign {
    /// Over 0.
    Over,
    /// 0 and over.
    NotUnder,
    /// Any.
    Any,
}

/// The texts that have a grammar.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)] // Each is named for the key or section of the page that describes it.
pub enum Grammar {
    Way,
    Chain,
    Bends,
    Path,
    Thread,
    Clip,
    StockClip,
    StockHose,
    StockPart,
    Taper,
    Price,
    Curve,
    End,
    Mark,
    Side,
    Aside,
    Along,
}

/// What a name may name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Names {
    /// A thing.
    Thing,
    /// A run.
    Run,
    /// A thing or a run.
    Either,
    /// A state.
    State,
    /// An arrangement.
    Arrangement,
    /// A spigot, a cap or a tee: `header.cap`.
    Blank,
    /// A valve: of a thing, or in a run.
    Valve,
}

/// One key.
#[derive(Clone, Copy, Debug)]
pub struct KeyRow {
    /// Its name in the file.
    pub name: &'static str,
    /// What may stand after it.
    pub form: Form,
    /// What it says, in one sentence.
    pub doc: &'static str,
    /// A value as typed, in TOML.
    pub example: &'static str,
    /// With what it was read where nothing is said.
    pub instrument: Option<Instrument>,
    /// The table makes no sense without it.
    pub required: bool,
    /// `"choose"` may stand.
    pub may_choose: bool,
    /// `"?"` may not stand.
    pub must_be_said: bool,
}

/// Keys that the owner names: things, runs, spigots.
#[derive(Clone, Copy, Debug)]
pub struct FreeRow {
    /// What the key names: `thing`.
    pub what: &'static str,
    /// Which texts can be that name.
    pub naming: Naming,
    /// What may stand after it.
    pub form: Form,
    /// What it says.
    pub doc: &'static str,
    /// A whole line as typed, in TOML.
    pub example: (&'static str, &'static str),
}

/// Which texts can be a name that the owner gives.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Naming {
    /// Letters, digits, `-` and `_`.
    Plain,
    /// A plain name, or several with dots between.
    Dotted,
    /// An instrument.
    Instrument,
    /// A place of a tape survey: a pin, or a spigot with `dowel` or `root` after it.
    Spot,
    /// Two places of a tape survey.
    Tape,
    /// A hose by its bore, and by its build if that counts.
    Hose,
    /// Any text that says something.
    Title,
    /// A day, with an hour if it is known.
    Moment,
    /// What is bought, as one writes it in the file: any text that says something.
    Ware,
}

/// One table of the file.
#[derive(Debug)]
pub struct TableRow {
    /// What it is called in the page and in messages: `spigot`.
    pub name: &'static str,
    /// What it holds.
    pub doc: &'static str,
    /// Its keys.
    pub keys: &'static [KeyRow],
    /// Keys that the owner names.
    pub free: Option<FreeRow>,
}

impl TableRow {
    /// Its key of that name.
    pub fn key(&self, name: &str) -> Option<&'static KeyRow> {
        self.keys.iter().find(|row| row.name == name)
    }
}

const fn key(name: &'static str, form: Form, doc: &'static str, example: &'static str) -> KeyRow {
    KeyRow {
        name,
        form,
        doc,
        example,
        instrument: None,
        required: false,
        may_choose: false,
        must_be_said: false,
    }
}

impl KeyRow {
    const fn by(mut self, instrument: Instrument) -> Self {
        self.instrument = Some(instrument);
        self
    }
    const fn required(mut self) -> Self {
        self.required = true;
        self.must_be_said = true;
        self
    }
    const fn may_choose(mut self) -> Self {
        self.may_choose = true;
        self
    }
    const fn must_be_said(mut self) -> Self {
        self.must_be_said = true;
        self
    }
}

/// With what the value at a key path was read where the file doesn't say; `None` where the path is
/// no key or nobody's usual instrument.
pub fn instrument_of(path: &str) -> Option<Instrument> {
    let keys = toml_edit::Key::parse(path.split('[').next()?).ok()?;
    let mut table: &TableRow = &ROOT;
    let (last, way) = keys.split_last()?;
    for key in way {
        let form = match (table.key(key.get()), &table.free) {
            (Some(row), _) => row.form,
            (None, Some(free)) => free.form,
            (None, None) => return None,
        };
        table = match form {
            Form::Table(row) | Form::ThingOrRun(row, _) => row,
            _ => return None,
        };
    }
    table.key(last.get())?.instrument
}

/// Other words for keys, for hints only.
pub(crate) const MEANT: &[(&str, &str)] = &[
    ("diameter", "od"),
    ("outside", "od"),
    ("outer", "od"),
    ("outside_diameter", "od"),
    ("dia", "od"),
    ("height", "h"),
    ("z", "h"),
    ("y", "aside"),
    ("offset", "aside"),
    ("x", "along"),
    ("clamp", "clip"),
    ("clamps", "clips"),
    ("material", "metal"),
    ("thermostat", "stat"),
    ("hoses", "hose"),
    ("elbows", "bends"),
    ("route", "way"),
    ("type", "kind"),
    ("title", "name"),
    ("label", "mark"),
    ("notes", "seen"),
    ("units", "lengths"),
    ("unit", "lengths"),
    ("start", "from"),
    ("end", "to"),
    ("pressure_cap", "cap"),
    ("cap_height", "cap_h"),
    ("straight", "behind_bead"),
    ("price", "each"),
    ("cost", "each"),
    ("delivery", "days"),
    ("loss", "drop"),
    ("pressure_drop", "drop"),
    ("rating", "works_at"),
    ("flow", "gives"),
    ("idle", "idle_heat"),
    ("thickness", "wall"),
    ("growth", "fouling"),
    ("unit", "per"),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_usual_instrument_is_found_by_path() {
        let of = instrument_of;
        assert_eq!(of("engine.spigots.out.od"), Some(Instrument::Caliper));
        assert_eq!(
            of("things.gearbox.spigots.a.h"),
            Some(Instrument::WaterTube)
        );
        assert_eq!(of("runs.hot.length"), Some(Instrument::Tape));
        assert_eq!(of("things.keel-fwd.aside"), Some(Instrument::Tape));
        assert_eq!(of("joints.\"hot.from\".fitted_od"), Some(Instrument::Girth));
        assert_eq!(of("boat.waterline.laden"), Some(Instrument::WaterTube));
        assert_eq!(of("runs.hot.way[1]"), None);
        assert_eq!(of("no.such.thing"), None);
    }
}
