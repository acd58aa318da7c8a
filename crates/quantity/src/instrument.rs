//! What a value is read with, and how far off such a reading usually is.

use std::collections::BTreeMap;
use std::hash::{Hash, Hasher};

use crate::dimension::{
    AbsolutePressure, Angle, Area, BendingStiffness, Concentration, Conductivity, Current, Density,
    DynamicViscosity, GaugePressure, HeatCapacity, HeatPerKelvin, HeatTransferCoefficient, Length,
    Mass, MassFlow, Power, PressureDifference, Quantity, Ratio, RotationalSpeed, SpecificHeat,
    Speed, Temperature, TemperatureDifference, ThermalConductivity, ThermalExpansion, Time, Torque,
    Voltage, Volume, VolumeFlow,
};
use crate::parse::{ParseError, parse};
use crate::unit::{Kind, Unit};

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

/// How far off a reading may be either way: the larger of a fixed width and a share of the value.
/// Unit: that of the difference of `Q`. Range: 0 and over. Source: the caller.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct HalfWidth<Q: Quantity> {
    /// Never less than this. Unit: that of the difference of `Q`. Range: 0 and over. Source: the caller.
    pub at_least: Q::Difference,
    /// And never less than this share of the value. Unit: 1. Range: 0 and over. Source: the caller.
    pub share: Ratio,
}

impl<Q: Quantity> HalfWidth<Q> {
    /// The same width whatever the value. Unit: that of the difference of `Q`. Range: a minus sign is dropped. Source: the caller.
    pub fn fixed(at_least: Q::Difference) -> Self {
        Self {
            at_least: size(at_least),
            share: Ratio::of_si(0.0),
        }
    }

    /// A share of the value. Unit: 1. Range: a minus sign is dropped. Source: the caller.
    pub fn share(share: Ratio) -> Self {
        Self {
            at_least: zero(),
            share: size(share),
        }
    }

    /// The half width at a value; a width that overflows is the largest that there is.
    /// Unit: that of the difference of `Q`. Range: 0 and over. Source: this crate.
    pub fn of(&self, value: Q) -> Q::Difference {
        let width = (value.si() * self.share.si()).abs().max(self.at_least.si());
        Q::Difference::from_si(width.min(f64::MAX))
            .expect("OK because a difference may be any finite number")
    }

    /// Reads what a file says about an instrument: `0.1 mm`, or `10 %` for a share of the value.
    /// `bare` is the unit of a bare number, if one may stand.
    /// Unit: that of the difference of `Q`, or %. Range: over 0. Source: the text.
    /// # Errors
    /// A [`ParseError`] that says what was read and which units fit.
    pub fn parse(text: &str, bare: Option<&'static Unit>) -> Result<Self, ParseError> {
        let share = if Q::KIND == Kind::Ratio {
            None
        } else {
            parse::<Ratio>(text, None).ok()
        };
        let (width, number) = match share {
            Some(share) => (Self::share(share), share.si()),
            None => {
                let at_least = parse::<Q::Difference>(text, bare)?;
                (Self::fixed(at_least), at_least.si())
            }
        };
        if number <= 0.0 {
            let message = format!("{} is no tolerance: it is over 0", text.trim());
            return Err(ParseError {
                span: 0..text.len(),
                kind: Q::Difference::KIND,
                message,
            });
        }
        Ok(width)
    }
}

fn size<Q: Quantity>(difference: Q) -> Q {
    Q::from_si(difference.si().abs()).expect("OK because the size of what is fit is fit")
}

fn zero<Q: Quantity>() -> Q {
    Q::from_si(0.0).expect("OK because nothing is fit on every scale")
}

/// The numbers of a [`HalfWidth`] in SI, for any kind.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Width {
    at_least: f64,
    share: f64,
}
// Both numbers come from quantities, which are never NaN.
impl Eq for Width {}
impl Hash for Width {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.at_least.to_bits().hash(state);
        self.share.to_bits().hash(state);
    }
}

/// How far off each instrument's readings usually are, for each kind that it reads.
/// Unit: none. Range: pairs of kind and instrument that make sense. Source: [`Instruments::usual`], then the owner.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Instruments {
    widths: BTreeMap<(Kind, Instrument), Width>,
}

impl Default for Instruments {
    fn default() -> Self {
        Self::usual()
    }
}

impl Instruments {
    /// A table without entries, so that every tolerance must be written.
    /// Unit: none. Range: empty. Source: this crate.
    pub fn none() -> Self {
        Self {
            widths: BTreeMap::new(),
        }
    }

    /// What owners usually reach in a cramped bay. Every width is common practice, no source:
    /// caliper 0.1 mm, tape 3 mm, girth 0.3 mm (of the diameter), water tube 4 mm, dowel 2 mm or
    /// 1°, spirit level 5 mm or 0.5°, thread gauge 0.05 mm; lengths from plate, drawing or maker
    /// 0.5 mm or 1 %, guessed 10 % and at least 1 mm. Of the other kinds, plate, drawing and maker
    /// give 2 to 10 %, and guesses 5 to 20 %; temperatures 2 K, guessed 5 K.
    /// Unit: that of each kind. Range: over 0. Source: common practice, no source.
    pub fn usual() -> Self {
        use Instrument as I;
        let mut table = Self::none();
        let mm = |width| HalfWidth::<Length>::fixed(Length::mm(width));
        table.set(I::Caliper, mm(0.1));
        table.set(I::Tape, mm(3.0));
        table.set(I::Girth, mm(0.3));
        table.set(I::Dowel, mm(2.0));
        table.set(I::WaterTube, mm(4.0));
        table.set(I::SpiritLevel, mm(5.0));
        table.set(I::ThreadGauge, mm(0.05));
        let read = HalfWidth {
            share: Ratio::percent(1.0),
            ..mm(0.5)
        };
        table.set_read::<Length>(
            read,
            HalfWidth {
                share: Ratio::percent(10.0),
                ..mm(1.0)
            },
        );

        let degrees = |width| HalfWidth::<Angle>::fixed(Angle::degrees(width));
        table.set(I::Dowel, degrees(1.0));
        table.set(I::SpiritLevel, degrees(0.5));
        table.set_read::<Angle>(degrees(1.0), degrees(5.0));

        let kelvin = |width| HalfWidth::<Temperature>::fixed(TemperatureDifference::kelvin(width));
        table.set_read::<Temperature>(kelvin(2.0), kelvin(5.0));
        let rise =
            |width| HalfWidth::<TemperatureDifference>::fixed(TemperatureDifference::kelvin(width));
        table.set_read::<TemperatureDifference>(rise(2.0), rise(5.0));

        table.set_shares::<Area>(5.0, 20.0);
        table.set_shares::<Volume>(5.0, 10.0);
        table.set_shares::<Mass>(2.0, 10.0);
        table.set_shares::<Time>(5.0, 20.0);
        table.set_shares::<GaugePressure>(10.0, 20.0);
        table.set_shares::<AbsolutePressure>(5.0, 10.0);
        table.set_shares::<PressureDifference>(10.0, 20.0);
        table.set_shares::<Power>(5.0, 10.0);
        table.set_shares::<VolumeFlow>(10.0, 20.0);
        table.set_shares::<RotationalSpeed>(2.0, 5.0);
        table.set_shares::<Speed>(5.0, 10.0);
        table.set_shares::<Torque>(10.0, 20.0);
        table.set_shares::<Ratio>(2.0, 10.0);
        table.set_shares::<Current>(5.0, 10.0);
        table.set_shares::<Voltage>(3.0, 5.0);
        table.set_shares::<Density>(1.0, 5.0);
        table.set_shares::<SpecificHeat>(2.0, 10.0);
        table.set_shares::<ThermalConductivity>(2.0, 10.0);
        table.set_shares::<DynamicViscosity>(5.0, 20.0);
        table.set_shares::<Conductivity>(2.0, 20.0);
        table.set_shares::<Concentration>(10.0, 50.0);
        table.set_shares::<HeatTransferCoefficient>(10.0, 30.0);
        table.set_shares::<HeatPerKelvin>(10.0, 20.0);
        table.set_shares::<MassFlow>(10.0, 20.0);
        table.set_shares::<ThermalExpansion>(5.0, 20.0);
        table.set_shares::<HeatCapacity>(5.0, 20.0);
        table.set_shares::<BendingStiffness>(20.0, 50.0);
        table
    }

    /// Plate, drawing and maker alike, and a guess.
    fn set_read<Q: Quantity>(&mut self, read: HalfWidth<Q>, guessed: HalfWidth<Q>) {
        for instrument in [Instrument::Plate, Instrument::Drawing, Instrument::Maker] {
            self.set(instrument, read);
        }
        self.set(Instrument::Guessed, guessed);
    }

    fn set_shares<Q: Quantity>(&mut self, read: f64, guessed: f64) {
        let share = |percent| HalfWidth::<Q>::share(Ratio::percent(percent));
        self.set_read(share(read), share(guessed));
    }

    /// Puts the owner's own width in place of the usual one.
    /// Unit: that of the difference of `Q`. Range: 0 and over. Source: the caller.
    pub fn set<Q: Quantity>(&mut self, instrument: Instrument, width: HalfWidth<Q>) {
        let width = Width {
            at_least: width.at_least.si(),
            share: width.share.si(),
        };
        self.widths.insert((Q::KIND, instrument), width);
    }

    /// How far off this kind of reading with that instrument may be; `None` where nobody reads it so.
    /// Unit: that of the difference of `Q`. Range: 0 and over. Source: the table.
    pub fn get<Q: Quantity>(&self, instrument: Instrument) -> Option<HalfWidth<Q>> {
        let width = self.widths.get(&(Q::KIND, instrument))?;
        Some(HalfWidth {
            at_least: Q::Difference::from_si(width.at_least)?,
            share: Ratio::from_si(width.share)?,
        })
    }
}
