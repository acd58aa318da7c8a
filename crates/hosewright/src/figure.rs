//! Figures of flow and heat as text: from plain SI numbers to what people read, once for page, document and plot.
//!
//! Each width beside a kind is what the reckoning stands behind: a degree, a tenth of a kilopascal, a tenth of a litre.

use quantity::{
    Area, HeatPerKelvin, HeatTransferCoefficient, Kind, Length, Power, PressureDifference,
    Quantity, Ratio, RotationalSpeed, Speed, System, Temperature, TemperatureDifference, Unit,
    Volume, VolumeFlow, show_in, show_signed,
};
use reckon::stages::flow::{Duty, Span, StateRow};

/// What stands in a table where a figure is not known.
pub(crate) const NONE: &str = "–";

/// From 0 °C to the thermodynamic scale [K].
pub(crate) const ICE: f64 = 273.15;

/// What a figure of the circuit is: it settles unit and digits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Figure {
    /// In °C.
    Temperature,
    /// A difference of temperatures [K].
    Rise,
    /// Of the circuit, over the air [Pa], or a difference of two.
    Pressure,
    /// [m³/s]
    Flow,
    /// [W]
    Heat,
    /// Of water in a bore [m/s].
    Speed,
    /// Of the boat [m/s].
    Way,
    /// Of the engine [1/s].
    Revs,
    /// Along the loop [m].
    Along,
    /// Over the waterline [m].
    Height,
    /// A length to the millimetre [m].
    Length,
    /// A diameter [m].
    Bore,
    /// 0 to 1, or more.
    Share,
    /// [m³]
    Volume,
    /// [m²]
    Area,
    /// What a rule of thumb asks for [m²]: no more digits than such a rule has.
    RuledArea,
    /// UA [W/K].
    Ua,
    /// [W/(m² K)]
    Film,
    /// Reynolds number.
    Reynolds,
}

impl Figure {
    /// The unit in which it is shown: the same for all of a column.
    pub(crate) fn unit(self, units: System) -> &'static Unit {
        let (kind, metric, imperial) = match self {
            Self::Temperature => (Kind::Temperature, "°C", "°F"),
            Self::Rise => (Kind::TemperatureDifference, "°C", "°F"),
            Self::Pressure => (Kind::PressureDifference, "kPa", "psi"),
            Self::Flow => (Kind::VolumeFlow, "L/min", "US gal/min"),
            Self::Heat => (Kind::Power, "kW", "hp"),
            Self::Speed => (Kind::Speed, "m/s", "ft/s"),
            Self::Way => (Kind::Speed, "kn", "kn"),
            Self::Revs => (Kind::RotationalSpeed, "rpm", "rpm"),
            Self::Along => (Kind::Length, "m", "ft"),
            Self::Height | Self::Length | Self::Bore => (Kind::Length, "mm", "in"),
            Self::Share => (Kind::Ratio, "%", "%"),
            Self::Volume => (Kind::Volume, "L", "US gal"),
            Self::Area | Self::RuledArea => (Kind::Area, "m²", "ft²"),
            Self::Ua => (Kind::HeatPerKelvin, "W/K", "W/K"),
            Self::Film => (Kind::HeatTransferCoefficient, "W/(m² K)", "W/(m² K)"),
            Self::Reynolds => (Kind::Ratio, ":1", ":1"),
        };
        let name = match units {
            System::Metric => metric,
            System::Imperial => imperial,
        };
        Unit::find(kind, name).unwrap_or_else(|| kind.base_unit())
    }

    /// The value with its unit: `82 °C`.
    pub(crate) fn text(self, value: f64, units: System) -> String {
        let unit = self.unit(units);
        match self {
            Self::Temperature => shown::<Temperature>(value + ICE, Some(2.0), unit),
            Self::Rise => shown::<TemperatureDifference>(value, Some(0.2), unit),
            Self::Pressure => shown::<PressureDifference>(value, Some(200.0), unit),
            Self::Flow => shown::<VolumeFlow>(value, Some(0.2e-3 / 60.0), unit),
            Self::Heat => shown::<Power>(value, Some(200.0), unit),
            Self::Speed => shown::<Speed>(value, Some(0.02), unit),
            // A fifth of a knot shows a tenth of one.
            Self::Way => shown::<Speed>(value, Some(0.103), unit),
            Self::Revs => shown::<RotationalSpeed>(value, None, unit),
            Self::Along => shown::<Length>(value, Some(0.02), unit),
            Self::Height => height(value, units),
            Self::Length => shown::<Length>(value, Some(2e-3), unit),
            Self::Bore => shown::<Length>(value, Some(0.2e-3), unit),
            Self::Share => shown::<Ratio>(value, Some(0.02), unit),
            Self::Volume => shown::<Volume>(value, Some(0.2e-3), unit),
            Self::Area => shown::<Area>(value, None, unit),
            Self::RuledArea => shown::<Area>(value, Some(0.2), unit),
            Self::Ua => shown::<HeatPerKelvin>(value, Some(2.0), unit),
            Self::Film => shown::<HeatTransferCoefficient>(value, Some(2.0), unit),
            Self::Reynolds => reynolds(value),
        }
    }

    /// The number alone, for a column whose head names the unit.
    pub(crate) fn bare(self, value: f64, units: System) -> String {
        let text = self.text(value, units);
        let suffix = self.unit(units).suffix();
        match text.strip_suffix(suffix.as_str()) {
            Some(number) => number.to_owned(),
            None => text,
        }
    }

    /// As [`Figure::bare`], a dash where it is not known.
    pub(crate) fn bare_or(self, value: Option<f64>, units: System) -> String {
        value.map_or_else(|| NONE.to_owned(), |value| self.bare(value, units))
    }

    /// From one to the other where the digits differ: `81 to 88`.
    pub(crate) fn bare_span(self, span: Span, units: System) -> String {
        let (low, high) = (self.bare(span.low, units), self.bare(span.high, units));
        if low == high {
            self.bare(span.mid, units)
        } else {
            format!("{low} to {high}")
        }
    }

    /// The same with the unit: `81 to 88 °C`.
    pub(crate) fn span(self, span: Span, units: System) -> String {
        let unit = self.unit(units);
        match self {
            Self::Reynolds | Self::Height => self.bare_span(span, units),
            _ => unit.after(&self.bare_span(span, units)),
        }
    }
}

/// A value in one unit; what no quantity of this kind can be is shown as not known.
fn shown<Q: Quantity>(si: f64, half: Option<f64>, unit: &Unit) -> String {
    let half = half.and_then(Q::Difference::from_si);
    Q::from_si(si).map_or_else(|| NONE.to_owned(), |value| show_in(value, half, unit))
}

/// A height over today's waterline with its sign: `−230 mm`.
fn height(metres: f64, units: System) -> String {
    Length::from_si(metres).map_or_else(
        || NONE.to_owned(),
        |height| show_signed(height, Some(Length::mm(2.0)), units),
    )
}

/// A number without a unit, to no more digits than it deserves, with the thin gap of large numbers.
fn reynolds(number: f64) -> String {
    if !number.is_finite() || number.abs() >= 1e12 {
        return NONE.to_owned();
    }
    let step = if number.abs() < 1000.0 { 10.0 } else { 100.0 };
    // OK because it is a whole number below 1e12; its sign tells nothing.
    let whole = ((number.abs() / step).round() * step) as u64;
    let digits = whole.to_string();
    if digits.len() < 5 {
        return digits;
    }
    let mut text = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            text.push('\u{202f}');
        }
        text.push(digit);
    }
    text
}

/// The head of a column in one of the two systems.
pub(crate) const fn head(
    units: System,
    metric: &'static str,
    imperial: &'static str,
) -> &'static str {
    match units {
        System::Metric => metric,
        System::Imperial => imperial,
    }
}

/// Whether she moves, in words.
pub(crate) fn duty_words(duty: Duty) -> &'static str {
    match duty {
        Duty::Moving => "making way",
        Duty::Tied => "tied up",
    }
}

/// The key of a duty, as ids and documents have it.
pub(crate) fn duty_key(duty: Duty) -> &'static str {
    match duty {
        Duty::Moving => "moving",
        Duty::Tied => "tied",
    }
}

/// A state by name; one that stands in the list for lying and for moving says which.
pub(crate) fn state_name(states: &[StateRow], state: &StateRow) -> String {
    let twice = states.iter().filter(|other| other.key == state.key).count() > 1;
    named(&state.key, twice.then_some(state.duty))
}

/// `charging`, or `charging, tied up` where she may also move in it and the duty is to be told.
pub(crate) fn named(key: &str, duty: Option<Duty>) -> String {
    match duty {
        Some(duty) => format!("{key}, {}", duty_words(duty)),
        None => key.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_have_the_digits_that_the_reckoning_stands_behind() {
        let metric = |figure: Figure, value: f64| figure.text(value, System::Metric);
        assert_eq!(metric(Figure::Temperature, 82.4), "82 °C");
        assert_eq!(metric(Figure::Rise, 7.04), "7.0 °C");
        assert_eq!(metric(Figure::Pressure, -1234.0), "−1.2 kPa");
        assert_eq!(metric(Figure::Pressure, -40.0), "0.0 kPa");
        assert_eq!(metric(Figure::Flow, 63.44e-3 / 60.0), "63.4 L/min");
        assert_eq!(metric(Figure::Heat, 41_560.0), "41.6 kW");
        assert_eq!(metric(Figure::Revs, 1900.0 / 60.0), "1900 rpm");
        assert_eq!(metric(Figure::Height, -0.23), "−230 mm");
        assert_eq!(metric(Figure::Reynolds, 18_234.0), "18\u{202f}200");
        assert_eq!(
            Figure::Temperature.text(82.0, System::Imperial),
            "180 °F",
            "179.6 goes to the nearest degree"
        );
        assert_eq!(metric(Figure::Heat, f64::NAN), NONE);
    }

    #[test]
    fn every_figure_finds_its_unit() {
        for units in [System::Metric, System::Imperial] {
            for (figure, name) in [
                (Figure::Temperature, ["°C", "°F"]),
                (Figure::Pressure, ["kPa", "psi"]),
                (Figure::Flow, ["L/min", "US gal/min"]),
                (Figure::Heat, ["kW", "hp"]),
                (Figure::Speed, ["m/s", "ft/s"]),
                (Figure::Along, ["m", "ft"]),
                (Figure::Volume, ["L", "US gal"]),
                (Figure::Area, ["m²", "ft²"]),
            ] {
                assert_eq!(figure.unit(units).name, name[units as usize]);
            }
        }
    }

    #[test]
    fn a_span_that_shows_no_width_is_one_number() {
        let span = |low, mid, high| Span { low, mid, high };
        let out = Figure::Temperature;
        assert_eq!(
            out.bare_span(span(81.0, 84.0, 88.0), System::Metric),
            "81 to 88"
        );
        assert_eq!(out.bare_span(span(81.0, 81.2, 81.4), System::Metric), "81");
        assert_eq!(
            out.span(span(81.0, 84.0, 88.0), System::Metric),
            "81 to 88 °C"
        );
    }
}
