//! The margin line: a value between its limits, placed on a line, with every figure as text.

use quantity::{
    AbsolutePressure, Angle, Area, BendingStiffness, Concentration, Conductivity, Current, Density,
    DynamicViscosity, GaugePressure, HeatCapacity, HeatPerKelvin, HeatTransferCoefficient, Kind,
    Length, Mass, MassFlow, Power, PressureDifference, Quantity, Ratio, RotationalSpeed,
    SpecificHeat, Speed, System, Temperature, TemperatureDifference, ThermalConductivity,
    ThermalExpansion, Time, Torque, Voltage, Volume, VolumeFlow, show, show_half_width,
};

use super::{MarginLine, MarginPlaces, Text};

/// Something that is done for whichever quantity a kind stands for.
pub(crate) trait ForKind {
    /// What comes of it.
    type Out;
    /// Does it.
    fn run<Q: Quantity>(self) -> Self::Out;
}

/// Does it for the quantity of a kind.
pub(crate) fn for_kind<J: ForKind>(kind: Kind, job: J) -> J::Out {
    macro_rules! each {
        ($($name:ident),+ $(,)?) => {
            match kind { $(Kind::$name => job.run::<$name>()),+ }
        };
    }
    each!(
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
    )
}

/// A value with the digits that its half width justifies.
struct Shown {
    si: f64,
    half: Option<f64>,
    system: System,
}

impl ForKind for Shown {
    type Out = String;
    fn run<Q: Quantity>(self) -> String {
        match Q::from_si(self.si) {
            Some(value) => show(
                value,
                self.half.and_then(Q::Difference::from_si),
                self.system,
            ),
            None => "–".to_owned(),
        }
    }
}

/// A half width beside its value.
struct Half {
    half: f64,
    beside: f64,
    system: System,
}

impl ForKind for Half {
    type Out = Option<String>;
    fn run<Q: Quantity>(self) -> Option<String> {
        let half = Q::Difference::from_si(self.half)?;
        Some(show_half_width(half, Q::from_si(self.beside)?, self.system))
    }
}

fn both(say: impl Fn(System) -> String) -> Text {
    Text {
        metric: say(System::Metric),
        imperial: say(System::Imperial),
    }
}

/// Both limits in words.
fn limits(low: Option<Text>, high: Option<Text>) -> Text {
    let of = |limit: &Text, system: System| match system {
        System::Metric => limit.metric.clone(),
        System::Imperial => limit.imperial.clone(),
    };
    both(|system| match (&low, &high) {
        (Some(low), Some(high)) => format!("{} to {}", of(low, system), of(high, system)),
        (Some(low), None) => format!("at least {}", of(low, system)),
        (None, Some(high)) => format!("at most {}", of(high, system)),
        (None, None) => "no limit".to_owned(),
    })
}

/// How much of the line stays free at either end, of what is drawn between.
const FREE: f64 = 0.18;

impl MarginLine {
    /// The line of a margin.
    pub fn of(margin: &reckon::Margin) -> Self {
        let reckon::Margin {
            value,
            deviation,
            low,
            high,
            kind,
        } = *margin;
        let half = deviation.unwrap_or(0.0).abs();
        let text = |si: f64| {
            both(|system| {
                let half = deviation.filter(|half| *half > 0.0);
                for_kind(kind, Shown { si, half, system })
            })
        };
        let (from, to) = (value - half, value + half);
        let ends = [Some(from), Some(to), low, high];
        let least = ends.iter().flatten().copied().fold(f64::INFINITY, f64::min);
        let most = ends
            .iter()
            .flatten()
            .copied()
            .fold(f64::NEG_INFINITY, f64::max);
        // A value on its only limit still has a line to stand on.
        let span = if most > least {
            most - least
        } else {
            value.abs().max(1e-9)
        };
        let (start, length) = (least - FREE * span, span * (1.0 + 2.0 * FREE));
        let at = |si: f64| ((si - start) / length).clamp(0.0, 1.0);
        Self {
            value: text(value),
            plus_minus: deviation.filter(|half| *half > 0.0).map(|half| {
                both(|system| {
                    let beside = value;
                    for_kind(
                        kind,
                        Half {
                            half,
                            beside,
                            system,
                        },
                    )
                    .unwrap_or_default()
                })
            }),
            low: low.map(text),
            high: high.map(text),
            words: limits(low.map(text), high.map(text)),
            at: MarginPlaces {
                value: at(value),
                from: at(from),
                to: at(to),
                low: low.map(at),
                high: high.map(at),
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn everything_stands_on_the_line_in_its_order() {
        let line = MarginLine::of(&reckon::Margin {
            value: 0.0514,
            deviation: Some(0.0006),
            low: Some(0.032),
            high: Some(0.050),
            kind: Kind::Length,
        });
        let at = line.at;
        let (low, high) = (at.low.unwrap(), at.high.unwrap());
        assert!(0.0 < low && low < high && high < at.from, "{at:?}");
        assert!(
            at.from < at.value && at.value < at.to && at.to < 1.0,
            "{at:?}"
        );
        assert_eq!(line.value.metric, "51.4 mm");
        assert_eq!(line.plus_minus.unwrap().metric, "0.6 mm");
        let (low, high) = (line.low.unwrap().metric, line.high.unwrap().metric);
        assert_eq!(line.words.metric, format!("{low} to {high}"));
    }

    #[test]
    fn a_value_alone_has_a_line_too() {
        for value in [0.0, 1.0, -3.0] {
            let line = MarginLine::of(&reckon::Margin {
                value,
                deviation: None,
                low: None,
                high: None,
                kind: Kind::Ratio,
            });
            assert!(line.at.value.is_finite() && line.plus_minus.is_none());
            assert_eq!(line.words.metric, "no limit");
        }
    }

    #[test]
    fn one_limit_alone_is_said_by_the_side_on_which_it_stands() {
        let of = |low, high| {
            let margin = reckon::Margin {
                value: 2.0,
                deviation: None,
                low,
                high,
                kind: Kind::Length,
            };
            MarginLine::of(&margin)
        };
        let (least, most) = (of(Some(1.0), None), of(None, Some(3.0)));
        let (low, high) = (least.low.unwrap(), most.high.unwrap());
        assert_eq!(least.words.metric, format!("at least {}", low.metric));
        assert_eq!(least.words.imperial, format!("at least {}", low.imperial));
        assert_eq!(most.words.metric, format!("at most {}", high.metric));
        assert_ne!(most.words.metric, most.words.imperial);
    }
}
