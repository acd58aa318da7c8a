//! The one table of units: each row has the name that is printed, the names that are read, and
//! the way to SI. Reading, printing and messages all use this table and nothing else.
//!
//! Names are matched by [`crate::lex`]: case does not count (but mega is never guessed from a
//! small m), a space or `·` in a name may be left out or written as a dot or hyphen, `/` may be
//! written `per`, and superscripts may be plain digits.

/// The kinds of quantity. Unit: none. Range: one per type of [`crate::dimension`]. Source: this crate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)] // Each is named for its type, which is documented.
pub enum Kind {
    Length,
    Area,
    Volume,
    Mass,
    Time,
    Temperature,
    TemperatureDifference,
    GaugePressure,
    AbsolutePressure,
    PressureDifference,
    Power,
    VolumeFlow,
    RotationalSpeed,
    Speed,
    Torque,
    Angle,
    Ratio,
    Current,
    Voltage,
    Density,
    SpecificHeat,
    ThermalConductivity,
    DynamicViscosity,
    Conductivity,
    Concentration,
    HeatTransferCoefficient,
    HeatPerKelvin,
    MassFlow,
    ThermalExpansion,
    HeatCapacity,
    BendingStiffness,
}

impl Kind {
    /// Every kind, in the order of the types. Unit: none. Range: all. Source: this crate.
    pub const ALL: [Self; 31] = [
        Self::Length,
        Self::Area,
        Self::Volume,
        Self::Mass,
        Self::Time,
        Self::Temperature,
        Self::TemperatureDifference,
        Self::GaugePressure,
        Self::AbsolutePressure,
        Self::PressureDifference,
        Self::Power,
        Self::VolumeFlow,
        Self::RotationalSpeed,
        Self::Speed,
        Self::Torque,
        Self::Angle,
        Self::Ratio,
        Self::Current,
        Self::Voltage,
        Self::Density,
        Self::SpecificHeat,
        Self::ThermalConductivity,
        Self::DynamicViscosity,
        Self::Conductivity,
        Self::Concentration,
        Self::HeatTransferCoefficient,
        Self::HeatPerKelvin,
        Self::MassFlow,
        Self::ThermalExpansion,
        Self::HeatCapacity,
        Self::BendingStiffness,
    ];

    /// What the kind is called, without article: `length`, `gauge pressure`.
    /// Unit: none. Range: text. Source: this crate.
    pub const fn noun(self) -> &'static str {
        match self {
            Self::Length => "length",
            Self::Area => "area",
            Self::Volume => "volume",
            Self::Mass => "mass",
            Self::Time => "time",
            Self::Temperature => "temperature",
            Self::TemperatureDifference => "temperature difference",
            Self::GaugePressure => "gauge pressure",
            Self::AbsolutePressure => "absolute pressure",
            Self::PressureDifference => "pressure difference",
            Self::Power => "power",
            Self::VolumeFlow => "flow",
            Self::RotationalSpeed => "shaft speed",
            Self::Speed => "speed",
            Self::Torque => "torque",
            Self::Angle => "angle",
            Self::Ratio => "ratio",
            Self::Current => "current",
            Self::Voltage => "voltage",
            Self::Density => "density",
            Self::SpecificHeat => "specific heat",
            Self::ThermalConductivity => "thermal conductivity",
            Self::DynamicViscosity => "viscosity",
            Self::Conductivity => "conductivity",
            Self::Concentration => "concentration",
            Self::HeatTransferCoefficient => "heat transfer coefficient",
            Self::HeatPerKelvin => "heat per kelvin",
            Self::MassFlow => "mass flow",
            Self::ThermalExpansion => "thermal expansion",
            Self::HeatCapacity => "heat capacity",
            Self::BendingStiffness => "bending stiffness",
        }
    }

    /// The noun with its article: `a length`, `an area`.
    /// Unit: none. Range: text. Source: this crate.
    pub fn with_article(self) -> String {
        let noun = self.noun();
        let article = if noun.starts_with(['a', 'e', 'i', 'o', 'u']) {
            "an"
        } else {
            "a"
        };
        format!("{article} {noun}")
    }

    /// The names of the units that people mostly use for this kind, for messages.
    /// Unit: none. Range: names of rows of [`UNITS`]. Source: this crate.
    pub const fn usual_units(self) -> &'static [&'static str] {
        match self {
            Self::Length => &["mm", "cm", "m", "in", "ft"],
            Self::Area => &["mm²", "cm²", "m²", "in²", "ft²"],
            Self::Volume => &["L", "mL", "m³", "US gal", "imp gal"],
            Self::Mass => &["kg", "g", "lb"],
            Self::Time => &["s", "min", "h", "d"],
            Self::Temperature => &["°C", "°F", "K"],
            Self::TemperatureDifference => &["K", "°C", "°F"],
            Self::GaugePressure => &["bar", "kPa", "psi"],
            Self::AbsolutePressure => &["bar absolute", "kPa absolute", "psi absolute"],
            Self::PressureDifference => &["bar", "mbar", "kPa", "psi"],
            Self::Power => &["kW", "W", "hp", "PS"],
            Self::VolumeFlow => &[
                "L/min",
                "L/h",
                "m³/h",
                "US gal/min",
                "US gal/h",
                "imp gal/min",
            ],
            Self::RotationalSpeed => &["rpm"],
            Self::Speed => &["kn", "m/s", "km/h", "mph"],
            Self::Torque => &["N m", "lbf·in", "lbf·ft"],
            Self::Angle => &["°", "rad"],
            Self::Ratio => &["%", ":1"],
            Self::Current => &["A"],
            Self::Voltage => &["V"],
            Self::Density => &["kg/m³", "g/cm³"],
            Self::SpecificHeat => &["kJ/(kg K)", "J/(kg K)"],
            Self::ThermalConductivity => &["W/(m K)"],
            Self::DynamicViscosity => &["mPa s", "Pa s"],
            Self::Conductivity => &["mS/cm", "µS/cm", "S/m"],
            Self::Concentration => &["mg/L", "g/L"],
            Self::HeatTransferCoefficient => &["W/(m² K)"],
            Self::HeatPerKelvin => &["W/K", "kW/K"],
            Self::MassFlow => &["kg/s", "kg/min", "kg/h"],
            Self::ThermalExpansion => &["1/K"],
            Self::HeatCapacity => &["kJ/K", "J/K"],
            Self::BendingStiffness => &["N m²", "lbf·in²"],
        }
    }

    /// [`Kind::usual_units`] as words: `mm, cm, m, in or ft`.
    /// Unit: none. Range: text. Source: this crate.
    pub fn usual_units_text(self) -> String {
        let names = self.usual_units();
        match names {
            [only] => (*only).to_owned(),
            [most @ .., last] => format!("{} or {last}", most.join(", ")),
            [] => String::new(),
        }
    }

    /// The SI unit of this kind: factor 1, offset 0, so that every value can be written in it exactly.
    /// Unit: SI. Range: a row of [`UNITS`]. Source: BIPM SI Brochure, 9th edition.
    pub fn base_unit(self) -> &'static Unit {
        UNITS
            .iter()
            .find(|unit| unit.kind == self && unit.factor == 1.0 && unit.offset == 0.0)
            .expect("OK because a test checks that each kind has its SI row")
    }

    /// The kind of the difference of two of these: temperatures and pressures have their own.
    /// Unit: none. Range: any kind. Source: this crate.
    pub const fn difference(self) -> Self {
        match self {
            Self::Temperature => Self::TemperatureDifference,
            Self::GaugePressure | Self::AbsolutePressure => Self::PressureDifference,
            other => other,
        }
    }
}

/// One unit of one kind: `si = value × factor + offset`.
/// Unit: none. Range: the rows of [`UNITS`]. Source: each row's own.
#[derive(Clone, Copy, Debug)]
pub struct Unit {
    /// What it measures. Unit: none. Range: any kind. Source: this crate.
    pub kind: Kind,
    /// The name that is printed. Unit: none. Range: text. Source: SI Brochure or NIST SP 811.
    pub name: &'static str,
    /// Further names that are read. Unit: none. Range: text. Source: common usage.
    pub also: &'static [&'static str],
    /// SI units in one of these. Unit: SI. Range: over 0. Source: SI Brochure or NIST SP 811.
    pub factor: f64,
    /// What is added after the factor (temperature scales only). Unit: SI. Range: finite. Source: SI Brochure or NIST SP 811.
    pub offset: f64,
}

// A name stands once in a kind (a test checks it), so kind and name are the identity of a unit.
impl PartialEq for Unit {
    fn eq(&self, other: &Self) -> bool {
        self.kind == other.kind && self.name == other.name
    }
}
impl Eq for Unit {}
impl std::hash::Hash for Unit {
    fn hash<H: std::hash::Hasher>(&self, state: &mut H) {
        self.kind.hash(state);
        self.name.hash(state);
    }
}

impl Unit {
    /// The unit of that kind with that name, printed or further; spelling as lenient as in reading.
    /// Unit: none. Range: `None` where no row has the name. Source: [`UNITS`].
    pub fn find(kind: Kind, name: &str) -> Option<&'static Self> {
        let name = name.trim();
        UNITS.iter().find(|unit| {
            unit.kind == kind
                && unit
                    .names()
                    .any(|known| crate::lex::match_name(known, name) == Some(name.len()))
        })
    }

    /// Millimetres, the unit of a bare length in a boat file.
    /// Unit: mm. Range: one row. Source: [`UNITS`].
    pub fn mm() -> &'static Self {
        Self::find(Kind::Length, "mm").expect("OK because the table has mm, and a test reads it")
    }

    /// All names that are read, the printed one first.
    /// Unit: none. Range: one or more. Source: [`UNITS`].
    pub fn names(&self) -> impl Iterator<Item = &'static str> + use<> {
        std::iter::once(self.name).chain(self.also.iter().copied())
    }

    /// A number of this unit in SI. Unit: SI. Range: may overflow to infinity. Source: [`UNITS`].
    pub fn to_si(&self, number: f64) -> f64 {
        let si = into_si(number, self.factor) + self.offset;
        // Absolute zero is nought on every scale, which rounding alone would miss by a hair.
        if si.abs() < self.offset * 4.0 * f64::EPSILON {
            0.0
        } else {
            si
        }
    }

    /// An SI value as a number of this unit. Unit: this one. Range: finite for finite input of this world. Source: [`UNITS`].
    pub fn from_si(&self, si: f64) -> f64 {
        out_of_si(si - self.offset, self.factor)
    }

    /// The number and the name as people write them: `41.8 mm`, but `7°` and `1.1:1`.
    /// Unit: this one. Range: text. Source: SI Brochure, 5.4.3.
    pub fn after(&self, number: &str) -> String {
        format!("{number}{}", self.suffix())
    }

    /// The name with the gap that goes before it, if one does.
    /// Unit: this one. Range: text. Source: SI Brochure, 5.4.3 (the degree of angle alone has no gap).
    pub fn suffix(&self) -> String {
        if matches!(self.name, "°" | ":1") {
            self.name.to_owned()
        } else {
            format!(" {}", self.name)
        }
    }
}

/// How many of a unit make the SI unit, where that is a whole number.
fn whole_inverse(factor: f64) -> Option<f64> {
    let inverse = (1.0 / factor).round();
    (factor < 1.0 && (inverse * factor - 1.0).abs() < 4.0 * f64::EPSILON).then_some(inverse)
}

/// Dividing by 1000 rounds once where multiplying by 0.001 rounds twice, so that `410 mm`,
/// `41 cm` and `0.41 m` are the same number.
pub(crate) fn into_si(number: f64, factor: f64) -> f64 {
    match whole_inverse(factor) {
        Some(inverse) => number / inverse,
        None => number * factor,
    }
}

/// The way back from [`into_si`].
pub(crate) fn out_of_si(si: f64, factor: f64) -> f64 {
    match whole_inverse(factor) {
        Some(inverse) => si * inverse,
        None => si / factor,
    }
}

const fn row(kind: Kind, name: &'static str, also: &'static [&'static str], factor: f64) -> Unit {
    Unit {
        kind,
        name,
        also,
        factor,
        offset: 0.0,
    }
}

const fn scale(
    name: &'static str,
    also: &'static [&'static str],
    factor: f64,
    offset: f64,
) -> Unit {
    Unit {
        kind: Kind::Temperature,
        name,
        also,
        factor,
        offset,
    }
}

// Exact by definition: NIST SP 811 (2008), appendix B.8, entries in bold.
const INCH: f64 = 0.0254;
const FOOT: f64 = 0.3048;
const POUND: f64 = 0.453_592_37;
const STANDARD_GRAVITY: f64 = 9.806_65;
const POUND_FORCE: f64 = POUND * STANDARD_GRAVITY;
const PSI: f64 = POUND_FORCE / (INCH * INCH);
const US_GALLON: f64 = 231.0 * INCH * INCH * INCH;
const IMPERIAL_GALLON: f64 = 4.546_09e-3;
/// Mechanical: 550 ft·lbf/s.
const HORSEPOWER: f64 = 550.0 * FOOT * POUND_FORCE;
/// Metric: 75 kgf·m/s.
const METRIC_HORSEPOWER: f64 = 75.0 * STANDARD_GRAVITY;
const INCH_OF_MERCURY: f64 = 3386.389;
const MINUTE: f64 = 60.0;
const HOUR: f64 = 3600.0;

/// All units. Unit: none. Range: one row a unit. Source: SI Brochure, 9th edition, tables 4, 7 and 8; NIST SP 811 (2008), appendix B, for inch, pound, gallon, horsepower and knot; the year is the Julian one of the IAU.
#[rustfmt::skip] // One row a line.
pub const UNITS: &[Unit] = &[
    row(Kind::Length, "mm", &["millimetre", "millimetres", "millimeter", "millimeters"], 1e-3),
    row(Kind::Length, "cm", &["centimetre", "centimetres", "centimeter", "centimeters"], 1e-2),
    row(Kind::Length, "m", &["metre", "metres", "meter", "meters", "mtr"], 1.0),
    row(Kind::Length, "in", &["\"", "inch", "inches", "ins", "in.", "''"], INCH),
    row(Kind::Length, "ft", &["'", "foot", "feet", "ft."], FOOT),
    row(Kind::Length, "µm", &["um", "micron", "microns", "micrometre", "micrometres", "micrometer", "micrometers"], 1e-6),
    row(Kind::Area, "mm²", &["sq mm", "square mm", "square millimetres", "square millimeters"], 1e-6),
    row(Kind::Area, "cm²", &["sq cm", "square cm", "square centimetres", "square centimeters"], 1e-4),
    row(Kind::Area, "m²", &["sq m", "square m", "square metres", "square meters"], 1.0),
    row(Kind::Area, "in²", &["sq in", "square in", "square inches"], INCH * INCH),
    row(Kind::Area, "ft²", &["sq ft", "square ft", "square feet"], FOOT * FOOT),
    row(Kind::Volume, "L", &["litre", "litres", "liter", "liters", "ltr", "dm³"], 1e-3),
    row(Kind::Volume, "mL", &["millilitre", "millilitres", "milliliter", "milliliters", "cm³", "cc", "ccm"], 1e-6),
    row(Kind::Volume, "cL", &["centilitre", "centilitres", "centiliter", "centiliters"], 1e-5),
    row(Kind::Volume, "m³", &["cubic metre", "cubic metres", "cubic meter", "cubic meters", "cu m", "cbm"], 1.0),
    row(Kind::Volume, "mm³", &["cubic millimetres", "cubic millimeters", "cu mm"], 1e-9),
    row(Kind::Volume, "in³", &["cubic inch", "cubic inches", "cu in"], INCH * INCH * INCH),
    row(Kind::Volume, "ft³", &["cubic foot", "cubic feet", "cu ft"], FOOT * FOOT * FOOT),
    row(Kind::Volume, "US gal", &["US gallon", "US gallons", "U.S. gal", "gal US", "gal (US)", "gallons US", "usg"], US_GALLON),
    row(Kind::Volume, "imp gal", &["imp. gal", "imperial gal", "imperial gallon", "imperial gallons", "imp gallons", "UK gal", "UK gallon", "UK gallons", "gal imp", "gal (imp)", "gal UK"], IMPERIAL_GALLON),
    row(Kind::Volume, "US qt", &["US quart", "US quarts", "qt US"], US_GALLON / 4.0),
    row(Kind::Volume, "imp qt", &["imperial quart", "imperial quarts", "imp quarts", "UK quart", "UK quarts", "UK qt"], IMPERIAL_GALLON / 4.0),
    row(Kind::Volume, "US pt", &["US pint", "US pints", "pt US"], US_GALLON / 8.0),
    row(Kind::Volume, "imp pt", &["imperial pint", "imperial pints", "imp pints", "UK pint", "UK pints", "UK pt"], IMPERIAL_GALLON / 8.0),
    row(Kind::Mass, "kg", &["kilo", "kilos", "kilogram", "kilograms", "kgs"], 1.0),
    row(Kind::Mass, "g", &["gram", "grams", "gr"], 1e-3),
    row(Kind::Mass, "t", &["tonne", "tonnes"], 1000.0),
    row(Kind::Mass, "lb", &["lbs", "lbm", "pound", "pounds"], POUND),
    row(Kind::Time, "s", &["sec", "secs", "second", "seconds"], 1.0),
    row(Kind::Time, "min", &["mins", "minute", "minutes"], MINUTE),
    row(Kind::Time, "h", &["hr", "hrs", "hour", "hours"], HOUR),
    row(Kind::Time, "d", &["day", "days"], 24.0 * HOUR),
    row(Kind::Time, "weeks", &["week", "wk", "wks"], 168.0 * HOUR),
    row(Kind::Time, "years", &["year", "yr", "yrs"], 8766.0 * HOUR),
    scale("°C", &["degC", "deg C", "° C", "C", "℃", "Celsius", "degrees C", "degrees Celsius", "centigrade"], 1.0, 273.15),
    scale("°F", &["degF", "deg F", "° F", "F", "℉", "Fahrenheit", "degrees F", "degrees Fahrenheit"], 5.0 / 9.0, 459.67 * 5.0 / 9.0),
    scale("K", &["kelvin", "kelvins", "°K", "degK"], 1.0, 0.0),
    row(Kind::TemperatureDifference, "K", &["kelvin", "kelvins", "°K", "degK"], 1.0),
    row(Kind::TemperatureDifference, "°C", &["degC", "deg C", "° C", "C", "℃", "Celsius", "degrees C", "degrees Celsius", "deg", "degrees", "°"], 1.0),
    row(Kind::TemperatureDifference, "°F", &["degF", "deg F", "° F", "F", "℉", "Fahrenheit", "degrees F", "degrees Fahrenheit"], 5.0 / 9.0),
    row(Kind::GaugePressure, "bar", &["bars", "bar gauge", "bar g", "bar (g)", "barg"], 1e5),
    row(Kind::GaugePressure, "mbar", &["millibar", "millibars", "mbar gauge", "mbar g", "hPa", "hPa gauge"], 100.0),
    row(Kind::GaugePressure, "kPa", &["kilopascal", "kilopascals", "kPa gauge", "kPa g"], 1000.0),
    row(Kind::GaugePressure, "MPa", &["MPa gauge", "megapascal", "megapascals"], 1e6),
    row(Kind::GaugePressure, "Pa", &["pascal", "pascals", "Pa gauge"], 1.0),
    row(Kind::GaugePressure, "psi", &["psi gauge", "psig", "lbf/in²", "lb/in²", "lb/sq in", "lbs/sq in"], PSI),
    row(Kind::GaugePressure, "kgf/cm²", &["kg/cm²", "kp/cm²", "kgf/cm² gauge"], STANDARD_GRAVITY * 1e4),
    row(Kind::GaugePressure, "inHg", &["in Hg", "inHg gauge"], INCH_OF_MERCURY),
    row(Kind::AbsolutePressure, "bar absolute", &["bar abs", "bar (abs)", "bar (a)", "bar a", "bara"], 1e5),
    row(Kind::AbsolutePressure, "mbar absolute", &["mbar abs", "mbar (abs)", "mbar a", "millibar absolute", "hPa absolute", "hPa abs"], 100.0),
    row(Kind::AbsolutePressure, "kPa absolute", &["kPa abs", "kPa (abs)", "kPa a", "kPa (a)"], 1000.0),
    row(Kind::AbsolutePressure, "MPa absolute", &["MPa abs"], 1e6),
    row(Kind::AbsolutePressure, "Pa absolute", &["Pa abs", "Pa (abs)", "Pa a"], 1.0),
    row(Kind::AbsolutePressure, "psi absolute", &["psi abs", "psi (abs)", "psia"], PSI),
    row(Kind::AbsolutePressure, "inHg absolute", &["in Hg absolute", "inHg abs"], INCH_OF_MERCURY),
    row(Kind::PressureDifference, "bar", &["bars"], 1e5),
    row(Kind::PressureDifference, "mbar", &["millibar", "millibars", "hPa"], 100.0),
    row(Kind::PressureDifference, "kPa", &["kilopascal", "kilopascals"], 1000.0),
    row(Kind::PressureDifference, "MPa", &["megapascal", "megapascals"], 1e6),
    row(Kind::PressureDifference, "Pa", &["pascal", "pascals"], 1.0),
    row(Kind::PressureDifference, "psi", &["lbf/in²", "lb/in²", "lb/sq in", "lbs/sq in", "psid"], PSI),
    row(Kind::PressureDifference, "kgf/cm²", &["kg/cm²", "kp/cm²"], STANDARD_GRAVITY * 1e4),
    row(Kind::PressureDifference, "inHg", &["in Hg"], INCH_OF_MERCURY),
    row(Kind::Power, "kW", &["kilowatt", "kilowatts"], 1000.0),
    row(Kind::Power, "W", &["watt", "watts"], 1.0),
    // Plain hp is the mechanical one (550 ft·lbf/s), also in Britain and America; the metric one
    // has its own names in the languages that use it.
    row(Kind::Power, "hp", &["bhp", "shp", "horsepower", "horse power", "mechanical hp"], HORSEPOWER),
    row(Kind::Power, "PS", &["metric hp", "hp metric", "hp (metric)", "metric horsepower", "cv", "ch", "pk", "hk"], METRIC_HORSEPOWER),
    row(Kind::VolumeFlow, "L/min", &["litres/minute", "liters/minute", "litres/min", "liters/min", "lpm"], 1e-3 / MINUTE),
    row(Kind::VolumeFlow, "L/h", &["litres/hour", "liters/hour", "litres/h", "L/hr", "L/hour", "lph"], 1e-3 / HOUR),
    row(Kind::VolumeFlow, "L/s", &["litres/second", "liters/second", "L/sec"], 1e-3),
    row(Kind::VolumeFlow, "mL/min", &["mL/minute", "cm³/min", "cc/min"], 1e-6 / MINUTE),
    row(Kind::VolumeFlow, "m³/h", &["m³/hr", "m³/hour", "cubic metres/hour", "cubic meters/hour", "cbm/h"], 1.0 / HOUR),
    row(Kind::VolumeFlow, "m³/s", &["m³/sec", "cubic metres/second", "cubic meters/second"], 1.0),
    row(Kind::VolumeFlow, "US gal/min", &["US gallons/minute", "US gallons/min", "US gal/minute", "US gpm", "gpm US", "gal/min US"], US_GALLON / MINUTE),
    row(Kind::VolumeFlow, "US gal/h", &["US gallons/hour", "US gal/hour", "US gal/hr", "US gallons/h", "US gph", "gph US", "gal/h US"], US_GALLON / HOUR),
    row(Kind::VolumeFlow, "imp gal/min", &["imp. gal/min", "imperial gallons/minute", "imp gallons/minute", "imperial gal/min", "imp gpm", "imperial gpm", "UK gal/min", "UK gallons/minute", "UK gpm"], IMPERIAL_GALLON / MINUTE),
    row(Kind::VolumeFlow, "imp gal/h", &["imp. gal/h", "imperial gallons/hour", "imp gallons/hour", "imp gal/hour", "imp gal/hr", "imperial gal/h", "imp gph", "imperial gph", "UK gal/h", "UK gallons/hour", "UK gph"], IMPERIAL_GALLON / HOUR),
    row(Kind::RotationalSpeed, "rpm", &["r/min", "rev/min", "revs/min", "revs", "turns/minute", "turns/min", "1/min", "min⁻¹", "/min", "r.p.m."], 1.0 / MINUTE),
    row(Kind::RotationalSpeed, "r/s", &["rev/s", "turns/s", "turns/second", "1/s", "rps"], 1.0),
    row(Kind::Speed, "kn", &["knot", "knots", "kt", "kts"], 1852.0 / HOUR),
    row(Kind::Speed, "m/s", &["m/sec", "metres/second", "meters/second"], 1.0),
    row(Kind::Speed, "km/h", &["kph", "kmh", "km/hr", "kilometres/hour", "kilometers/hour"], 1000.0 / HOUR),
    row(Kind::Speed, "mph", &["mi/h", "miles/hour"], 5280.0 * FOOT / HOUR),
    row(Kind::Speed, "ft/s", &["ft/sec", "feet/second"], FOOT),
    row(Kind::Torque, "N m", &["newton metre", "newton metres", "newton meter", "newton meters"], 1.0),
    row(Kind::Torque, "lbf·in", &["lb·in", "lbs·in", "in·lbf", "in·lb", "in·lbs", "inch pounds", "inch pound", "pound inches"], POUND_FORCE * INCH),
    row(Kind::Torque, "lbf·ft", &["lb·ft", "lbs·ft", "ft·lbf", "ft·lb", "ft·lbs", "foot pounds", "foot pound", "pound feet"], POUND_FORCE * FOOT),
    row(Kind::Torque, "kgf·m", &["kg·m", "kp·m", "m·kgf", "m·kg"], STANDARD_GRAVITY),
    row(Kind::Torque, "kgf·cm", &["kg·cm", "kp·cm", "cm·kgf"], STANDARD_GRAVITY * 1e-2),
    row(Kind::Angle, "°", &["deg", "degree", "degrees"], std::f64::consts::PI / 180.0),
    row(Kind::Angle, "rad", &["radian", "radians"], 1.0),
    row(Kind::Ratio, "%", &["per cent", "percent", "pct"], 1e-2),
    // A plain ratio is written as to one, so that a share and a percentage are never mixed up.
    row(Kind::Ratio, ":1", &[": 1", "to one"], 1.0),
    row(Kind::Current, "A", &["amp", "amps", "ampere", "amperes"], 1.0),
    row(Kind::Current, "mA", &["milliamp", "milliamps", "milliampere", "milliamperes"], 1e-3),
    row(Kind::Voltage, "V", &["volt", "volts", "v dc", "VDC"], 1.0),
    row(Kind::Voltage, "mV", &["millivolt", "millivolts"], 1e-3),
    row(Kind::Density, "kg/m³", &["kilograms/cubic metre"], 1.0),
    row(Kind::Density, "g/cm³", &["kg/L", "g/mL"], 1000.0),
    row(Kind::SpecificHeat, "J/(kg K)", &["J/kg K", "J/kg/K"], 1.0),
    row(Kind::SpecificHeat, "kJ/(kg K)", &["kJ/kg K", "kJ/kg/K"], 1000.0),
    row(Kind::ThermalConductivity, "W/(m K)", &["W/m K", "W/m/K"], 1.0),
    row(Kind::DynamicViscosity, "Pa s", &["pascal second", "pascal seconds"], 1.0),
    row(Kind::DynamicViscosity, "mPa s", &["cP", "centipoise"], 1e-3),
    row(Kind::Conductivity, "S/m", &["siemens/metre"], 1.0),
    row(Kind::Conductivity, "mS/cm", &["dS/m"], 0.1),
    row(Kind::Conductivity, "µS/cm", &["uS/cm"], 1e-4),
    row(Kind::Conductivity, "mS/m", &[], 1e-3),
    row(Kind::Concentration, "g/L", &["grams/litre", "kg/m³"], 1.0),
    // Test strips are printed in ppm and mean milligrams in a litre of sample.
    row(Kind::Concentration, "mg/L", &["milligrams/litre", "ppm"], 1e-3),
    row(Kind::HeatTransferCoefficient, "W/(m² K)", &["W/m² K", "W/m²K"], 1.0),
    row(Kind::HeatPerKelvin, "W/K", &["watts/kelvin"], 1.0),
    row(Kind::HeatPerKelvin, "kW/K", &["kilowatts/kelvin"], 1000.0),
    row(Kind::MassFlow, "kg/s", &["kg/sec", "kilograms/second"], 1.0),
    row(Kind::MassFlow, "kg/min", &["kg/minute"], 1.0 / MINUTE),
    row(Kind::MassFlow, "kg/h", &["kg/hr", "kg/hour"], 1.0 / HOUR),
    row(Kind::ThermalExpansion, "1/K", &["K⁻¹", "/K"], 1.0),
    row(Kind::HeatCapacity, "J/K", &["joules/kelvin"], 1.0),
    row(Kind::HeatCapacity, "kJ/K", &["kilojoules/kelvin"], 1000.0),
    row(Kind::BendingStiffness, "N m²", &["newton square metres", "newton square meters"], 1.0),
    row(Kind::BendingStiffness, "N cm²", &[], 1e-4),
    row(Kind::BendingStiffness, "N mm²", &[], 1e-6),
    row(Kind::BendingStiffness, "lbf·in²", &["lb·in²", "lbs·in²"], POUND_FORCE * INCH * INCH),
];

/// Names that two units share, so that they are asked about rather than guessed.
pub(crate) struct Shared {
    pub(crate) kind: Kind,
    pub(crate) names: &'static [&'static str],
    pub(crate) one: &'static str,
    pub(crate) other: &'static str,
}

const fn shared(
    kind: Kind,
    names: &'static [&'static str],
    one: &'static str,
    other: &'static str,
) -> Shared {
    Shared {
        kind,
        names,
        one,
        other,
    }
}

pub(crate) const SHARED: &[Shared] = &[
    shared(
        Kind::Volume,
        &["gal", "gals", "gallon", "gallons"],
        "US gal",
        "imp gal",
    ),
    shared(
        Kind::Volume,
        &["qt", "qts", "quart", "quarts"],
        "US qt",
        "imp qt",
    ),
    shared(
        Kind::Volume,
        &["pt", "pts", "pint", "pints"],
        "US pt",
        "imp pt",
    ),
    shared(
        Kind::VolumeFlow,
        &[
            "gal/min",
            "gal/minute",
            "gallons/minute",
            "gallons/min",
            "gpm",
        ],
        "US gal/min",
        "imp gal/min",
    ),
    shared(
        Kind::VolumeFlow,
        &[
            "gal/h",
            "gal/hr",
            "gal/hour",
            "gallons/hour",
            "gallons/h",
            "gph",
        ],
        "US gal/h",
        "imp gal/h",
    ),
];
