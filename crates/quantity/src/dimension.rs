//! The quantities, one type each, SI inside.

use std::cmp::Ordering;
use std::fmt::Debug;
use std::hash::{Hash, Hasher};
use std::ops::{Add, Div, Mul, Neg, Sub};

use crate::unit::Kind;

/// What all quantities share: a kind, and a finite number in SI.
///
/// Unit: the SI unit of [`Kind`]. Range: finite. Source: BIPM SI Brochure, 9th edition.
pub trait Quantity: Copy + PartialEq + Eq + PartialOrd + Ord + Hash + Debug + Sized {
    /// Which kind of quantity this is. Unit: none. Range: one per type. Source: this crate.
    const KIND: Kind;
    /// What the difference of two of these is (for most, the same type).
    /// Unit: as the type. Range: finite. Source: this crate.
    type Difference: Quantity;
    /// The number in SI. Unit: SI. Range: finite. Source: this crate.
    fn si(self) -> f64;
    /// Made from a number in SI; `None` where it is not finite or below what is physical.
    /// Unit: SI. Range: finite; absolute scales not below zero. Source: this crate.
    fn from_si(value: f64) -> Option<Self>;
}

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, difference $diff:ident, lowest $lowest:expr) => {
        $(#[$doc])*
        #[derive(Clone, Copy)]
        pub struct $name(f64);

        impl Quantity for $name {
            const KIND: Kind = Kind::$name;
            type Difference = $diff;
            fn si(self) -> f64 {
                self.0
            }
            fn from_si(value: f64) -> Option<Self> {
                // Adding zero turns minus zero into zero, so that equal values hash alike.
                (value.is_finite() && value >= $lowest).then_some(Self(value + 0.0))
            }
        }

        impl $name {
            /// From a number that the program knows to be fit. A number that is not is a defect
            /// and panics; what a user typed goes through [`Quantity::from_si`].
            /// Unit: SI. Range: as `from_si`. Source: this crate.
            #[track_caller]
            pub fn of_si(value: f64) -> Self {
                match Self::from_si(value) {
                    Some(quantity) => quantity,
                    // OK because the value comes from the program itself, as the docs ask.
                    None => panic!(concat!(stringify!($name), " can't be {}"), value),
                }
            }
        }

        impl PartialEq for $name {
            fn eq(&self, other: &Self) -> bool {
                self.0 == other.0
            }
        }
        impl Eq for $name {}
        impl PartialOrd for $name {
            fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
                Some(self.cmp(other))
            }
        }
        impl Ord for $name {
            fn cmp(&self, other: &Self) -> Ordering {
                self.0.total_cmp(&other.0)
            }
        }
        impl Hash for $name {
            fn hash<H: Hasher>(&self, state: &mut H) {
                self.0.to_bits().hash(state);
            }
        }
        impl Debug for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                write!(f, concat!(stringify!($name), "({})"), self.0)
            }
        }
    };
}

/// Quantities that form a vector space: they add, subtract and scale.
macro_rules! linear {
    ($($name:ident),*) => {$(
        impl Add for $name { type Output = Self; fn add(self, other: Self) -> Self { Self::of_si(self.0 + other.0) } }
        impl Sub for $name { type Output = Self; fn sub(self, other: Self) -> Self { Self::of_si(self.0 - other.0) } }
        impl Neg for $name { type Output = Self; fn neg(self) -> Self { Self::of_si(-self.0) } }
        impl Mul<f64> for $name { type Output = Self; fn mul(self, factor: f64) -> Self { Self::of_si(self.0 * factor) } }
        impl Div<f64> for $name { type Output = Self; fn div(self, factor: f64) -> Self { Self::of_si(self.0 / factor) } }
        impl Div for $name { type Output = f64; fn div(self, other: Self) -> f64 { self.0 / other.0 } }
    )*};
}

/// Points on a scale: their difference is another type.
macro_rules! affine {
    ($($name:ident - $diff:ident),*) => {$(
        impl Sub for $name { type Output = $diff; fn sub(self, other: Self) -> $diff { $diff::of_si(self.0 - other.0) } }
        impl Add<$diff> for $name { type Output = Self; fn add(self, other: $diff) -> Self { Self::of_si(self.0 + other.0) } }
        impl Sub<$diff> for $name { type Output = Self; fn sub(self, other: $diff) -> Self { Self::of_si(self.0 - other.0) } }
    )*};
}

const ANY: f64 = f64::NEG_INFINITY;

quantity! {
    /// A length, a height or a diameter.
    /// Unit: m. Range: finite, may be negative (heights below the waterline). Source: BIPM SI Brochure, 9th edition.
    Length, difference Length, lowest ANY
}
quantity! {
    /// An area.
    /// Unit: m². Range: finite. Source: BIPM SI Brochure, 9th edition.
    Area, difference Area, lowest ANY
}
quantity! {
    /// A volume.
    /// Unit: m³. Range: finite. Source: BIPM SI Brochure, 9th edition.
    Volume, difference Volume, lowest ANY
}
quantity! {
    /// A mass.
    /// Unit: kg. Range: finite. Source: BIPM SI Brochure, 9th edition.
    Mass, difference Mass, lowest ANY
}
quantity! {
    /// A length of time.
    /// Unit: s. Range: finite. Source: BIPM SI Brochure, 9th edition.
    Time, difference Time, lowest ANY
}
quantity! {
    /// A temperature on the thermodynamic scale. Two of them subtract to a [`TemperatureDifference`] and never add.
    /// Unit: K. Range: 0 K and over. Source: BIPM SI Brochure, 9th edition.
    Temperature, difference TemperatureDifference, lowest 0.0
}
quantity! {
    /// A rise, a drop or an approach: the difference of two temperatures.
    /// Unit: K. Range: finite. Source: BIPM SI Brochure, 9th edition.
    TemperatureDifference, difference TemperatureDifference, lowest ANY
}
quantity! {
    /// A pressure above (or below) that of the air outside.
    /// Unit: Pa. Range: finite. Source: BIPM SI Brochure, 9th edition.
    GaugePressure, difference PressureDifference, lowest ANY
}
quantity! {
    /// A pressure above a perfect vacuum.
    /// Unit: Pa. Range: 0 Pa and over. Source: BIPM SI Brochure, 9th edition.
    AbsolutePressure, difference PressureDifference, lowest 0.0
}
quantity! {
    /// The difference of two pressures.
    /// Unit: Pa. Range: finite. Source: BIPM SI Brochure, 9th edition.
    PressureDifference, difference PressureDifference, lowest ANY
}
quantity! {
    /// A power: at the shaft, electrical, or as heat.
    /// Unit: W. Range: finite. Source: BIPM SI Brochure, 9th edition.
    Power, difference Power, lowest ANY
}
quantity! {
    /// A volume flow.
    /// Unit: m³/s. Range: finite. Source: BIPM SI Brochure, 9th edition.
    VolumeFlow, difference VolumeFlow, lowest ANY
}
quantity! {
    /// Turns of a shaft in a time.
    /// Unit: 1/s (one turn a second is 1). Range: finite. Source: this crate; the trade says rpm.
    RotationalSpeed, difference RotationalSpeed, lowest ANY
}
quantity! {
    /// A speed, of the boat or of water.
    /// Unit: m/s. Range: finite. Source: BIPM SI Brochure, 9th edition.
    Speed, difference Speed, lowest ANY
}
quantity! {
    /// A tightening torque.
    /// Unit: N m. Range: finite. Source: BIPM SI Brochure, 9th edition.
    Torque, difference Torque, lowest ANY
}
quantity! {
    /// An angle.
    /// Unit: rad. Range: finite. Source: BIPM SI Brochure, 9th edition.
    Angle, difference Angle, lowest ANY
}
quantity! {
    /// A pure ratio: a stretch, a share, a percentage.
    /// Unit: 1. Range: finite. Source: BIPM SI Brochure, 9th edition.
    Ratio, difference Ratio, lowest ANY
}
quantity! {
    /// An electric current.
    /// Unit: A. Range: finite. Source: BIPM SI Brochure, 9th edition.
    Current, difference Current, lowest ANY
}
quantity! {
    /// An electric voltage.
    /// Unit: V. Range: finite. Source: BIPM SI Brochure, 9th edition.
    Voltage, difference Voltage, lowest ANY
}
quantity! {
    /// A mass in a volume.
    /// Unit: kg/m³. Range: finite. Source: BIPM SI Brochure, 9th edition.
    Density, difference Density, lowest ANY
}
quantity! {
    /// The heat that a kilogram takes up for each kelvin.
    /// Unit: J/(kg K). Range: finite. Source: BIPM SI Brochure, 9th edition.
    SpecificHeat, difference SpecificHeat, lowest ANY
}
quantity! {
    /// How well heat goes through a substance.
    /// Unit: W/(m K). Range: finite. Source: BIPM SI Brochure, 9th edition.
    ThermalConductivity, difference ThermalConductivity, lowest ANY
}
quantity! {
    /// A dynamic viscosity.
    /// Unit: Pa s. Range: finite. Source: BIPM SI Brochure, 9th edition.
    DynamicViscosity, difference DynamicViscosity, lowest ANY
}
quantity! {
    /// How well a liquid conducts electricity.
    /// Unit: S/m. Range: finite. Source: BIPM SI Brochure, 9th edition.
    Conductivity, difference Conductivity, lowest ANY
}
quantity! {
    /// The mass of a dissolved substance in a volume of liquid.
    /// Unit: kg/m³. Range: finite. Source: BIPM SI Brochure, 9th edition.
    Concentration, difference Concentration, lowest ANY
}
quantity! {
    /// Heat through a surface, per area and difference of temperatures.
    /// Unit: W/(m² K). Range: finite. Source: BIPM SI Brochure, 9th edition.
    HeatTransferCoefficient, difference HeatTransferCoefficient, lowest ANY
}
quantity! {
    /// Heat per difference of temperatures: a cooler's UA, or what a stream carries.
    /// Unit: W/K. Range: finite. Source: BIPM SI Brochure, 9th edition.
    HeatPerKelvin, difference HeatPerKelvin, lowest ANY
}
quantity! {
    /// A mass that flows in a time.
    /// Unit: kg/s. Range: finite. Source: BIPM SI Brochure, 9th edition.
    MassFlow, difference MassFlow, lowest ANY
}
quantity! {
    /// By what share a volume grows per kelvin. Below zero for fresh water under 4 °C.
    /// Unit: 1/K. Range: finite. Source: BIPM SI Brochure, 9th edition.
    ThermalExpansion, difference ThermalExpansion, lowest ANY
}
quantity! {
    /// The heat that a body takes up for each kelvin: its mass times its specific heat.
    /// Unit: J/K. Range: finite. Source: BIPM SI Brochure, 9th edition.
    HeatCapacity, difference HeatCapacity, lowest ANY
}
quantity! {
    /// How hard a hose or a beam is to bend: the moment that bends it, times the radius that it takes.
    /// Unit: N m². Range: finite. Source: BIPM SI Brochure, 9th edition.
    BendingStiffness, difference BendingStiffness, lowest ANY
}

linear!(
    Length,
    Area,
    Volume,
    Mass,
    Time,
    TemperatureDifference,
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
    BendingStiffness
);
affine!(
    Temperature - TemperatureDifference,
    GaugePressure - PressureDifference,
    AbsolutePressure - PressureDifference
);

/// Constructor and reader in one unit: `Length::mm(38.0)` and `length.to_mm()`.
macro_rules! in_unit {
    ($name:ident: $($make:ident $read:ident $label:literal $factor:expr),+) => {
        impl $name {$(
            #[doc = concat!("From a number of ", $label, ". Unit: ", $label, ". Range: finite, else a panic. Source: the table in `unit`.")]
            #[track_caller]
            pub fn $make(value: f64) -> Self { Self::of_si(crate::unit::into_si(value, $factor)) }
            #[doc = concat!("As a number of ", $label, ". Unit: ", $label, ". Range: finite. Source: the table in `unit`.")]
            pub fn $read(self) -> f64 { crate::unit::out_of_si(self.0, $factor) }
        )+}
    };
}
in_unit!(Length: m to_m "metres" 1.0, mm to_mm "millimetres" 1e-3, inches to_inches "inches" 0.0254);
in_unit!(Area: m2 to_m2 "square metres" 1.0, mm2 to_mm2 "square millimetres" 1e-6);
in_unit!(Volume: m3 to_m3 "cubic metres" 1.0, litres to_litres "litres" 1e-3);
in_unit!(TemperatureDifference: kelvin to_kelvin "kelvins" 1.0);
in_unit!(GaugePressure: pa to_pa "pascals above the air outside" 1.0, bar to_bar "bar above the air outside" 1e5);
in_unit!(AbsolutePressure: pa to_pa "pascals above vacuum" 1.0, bar to_bar "bar above vacuum" 1e5);
in_unit!(PressureDifference: pa to_pa "pascals" 1.0, bar to_bar "bar" 1e5);
in_unit!(Power: w to_w "watts" 1.0, kw to_kw "kilowatts" 1e3);
in_unit!(Torque: n_m to_n_m "newton metres" 1.0);
in_unit!(Ratio: of to_f64 "one" 1.0, percent to_percent "per cent" 1e-2);
in_unit!(RotationalSpeed: rpm to_rpm "turns a minute" 1.0 / 60.0);
in_unit!(VolumeFlow: m3_per_s to_m3_per_s "cubic metres per second" 1.0, litres_per_minute to_litres_per_minute "litres a minute" 1e-3 / 60.0);
in_unit!(Mass: kg to_kg "kilograms" 1.0);
in_unit!(Time: s to_s "seconds" 1.0);
in_unit!(Current: amperes to_amperes "amperes" 1.0);
in_unit!(Density: kg_per_m3 to_kg_per_m3 "kilograms a cubic metre" 1.0);
in_unit!(SpecificHeat: j_per_kg_k to_j_per_kg_k "joules a kilogram and kelvin" 1.0);
in_unit!(ThermalConductivity: w_per_m_k to_w_per_m_k "watts a metre and kelvin" 1.0);
in_unit!(DynamicViscosity: pa_s to_pa_s "pascal seconds" 1.0, mpa_s to_mpa_s "millipascal seconds" 1e-3);
in_unit!(Conductivity: s_per_m to_s_per_m "siemens a metre" 1.0, ms_per_cm to_ms_per_cm "millisiemens a centimetre" 0.1);
in_unit!(Concentration: kg_per_m3 to_kg_per_m3 "kilograms a cubic metre" 1.0, mg_per_l to_mg_per_l "milligrams a litre" 1e-3);
in_unit!(Voltage: volts to_volts "volts" 1.0);
in_unit!(HeatTransferCoefficient: w_per_m2_k to_w_per_m2_k "watts per square metre and kelvin" 1.0);
in_unit!(HeatPerKelvin: w_per_k to_w_per_k "watts per kelvin" 1.0);
in_unit!(Speed: m_per_s to_m_per_s "metres per second" 1.0);
in_unit!(MassFlow: kg_per_s to_kg_per_s "kilograms per second" 1.0);
in_unit!(ThermalExpansion: per_k to_per_k "one per kelvin" 1.0);
in_unit!(BendingStiffness: n_m2 to_n_m2 "newton square metres" 1.0);
in_unit!(HeatCapacity: j_per_k to_j_per_k "joules per kelvin" 1.0);
in_unit!(Angle: rad to_rad "radians" 1.0, degrees to_degrees "degrees" std::f64::consts::PI / 180.0);

impl Temperature {
    /// From degrees Celsius. Unit: °C. Range: −273.15 and over, else a panic. Source: BIPM SI Brochure, 9th edition.
    #[track_caller]
    pub fn celsius(value: f64) -> Self {
        Self::of_si(value + 273.15)
    }
    /// In degrees Celsius. Unit: °C. Range: −273.15 and over. Source: BIPM SI Brochure, 9th edition.
    pub fn to_celsius(self) -> f64 {
        self.0 - 273.15
    }
}

impl GaugePressure {
    /// The same pressure above vacuum, given that of the air outside; `None` below vacuum.
    /// Unit: Pa. Range: 0 Pa absolute and over. Source: definition.
    pub fn above(self, air: AbsolutePressure) -> Option<AbsolutePressure> {
        AbsolutePressure::from_si(self.0 + air.0)
    }
}

impl Mul<Length> for Length {
    type Output = Area;
    fn mul(self, other: Length) -> Area {
        Area::of_si(self.0 * other.0)
    }
}
impl Mul<Voltage> for Current {
    type Output = Power;
    fn mul(self, other: Voltage) -> Power {
        Power::of_si(self.0 * other.0)
    }
}

/// Products of two quantities that are a third.
macro_rules! product {
    ($($a:ident by $b:ident = $c:ident),+) => {$(
        impl Mul<$b> for $a { type Output = $c; fn mul(self, other: $b) -> $c { $c::of_si(self.0 * other.0) } }
    )+};
}
product!(
    VolumeFlow by Density = MassFlow,
    MassFlow by SpecificHeat = HeatPerKelvin,
    Mass by SpecificHeat = HeatCapacity,
    HeatTransferCoefficient by Area = HeatPerKelvin,
    HeatPerKelvin by TemperatureDifference = Power
);
