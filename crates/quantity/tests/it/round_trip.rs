//! What the file printer writes is read back bit for bit, and no text stops a reader.

use proptest::prelude::*;
use quantity::unit::UNITS;
use quantity::*;

/// Calls a generic function once for each kind.
macro_rules! for_every_kind {
    ($function:ident $(, $argument:expr)*) => {{
        $function::<quantity::Length>($($argument),*);
        $function::<quantity::Area>($($argument),*);
        $function::<quantity::Volume>($($argument),*);
        $function::<quantity::Mass>($($argument),*);
        $function::<quantity::Time>($($argument),*);
        $function::<quantity::Temperature>($($argument),*);
        $function::<quantity::TemperatureDifference>($($argument),*);
        $function::<quantity::GaugePressure>($($argument),*);
        $function::<quantity::AbsolutePressure>($($argument),*);
        $function::<quantity::PressureDifference>($($argument),*);
        $function::<quantity::Power>($($argument),*);
        $function::<quantity::VolumeFlow>($($argument),*);
        $function::<quantity::RotationalSpeed>($($argument),*);
        $function::<quantity::Speed>($($argument),*);
        $function::<quantity::Torque>($($argument),*);
        $function::<quantity::Angle>($($argument),*);
        $function::<quantity::Ratio>($($argument),*);
        $function::<quantity::Current>($($argument),*);
        $function::<quantity::Voltage>($($argument),*);
        $function::<quantity::Density>($($argument),*);
        $function::<quantity::SpecificHeat>($($argument),*);
        $function::<quantity::ThermalConductivity>($($argument),*);
        $function::<quantity::DynamicViscosity>($($argument),*);
        $function::<quantity::Conductivity>($($argument),*);
        $function::<quantity::Concentration>($($argument),*);
        $function::<quantity::HeatTransferCoefficient>($($argument),*);
        $function::<quantity::HeatPerKelvin>($($argument),*);
        $function::<quantity::MassFlow>($($argument),*);
        $function::<quantity::ThermalExpansion>($($argument),*);
        $function::<quantity::HeatCapacity>($($argument),*);
        $function::<quantity::BendingStiffness>($($argument),*);
    }};
}
pub(crate) use for_every_kind;

/// The usual number of cases, or forty times as many in the long tier of the tests.
#[allow(clippy::disallowed_methods)] // The ban binds the crate, not the tests.
fn config(usual: u32) -> ProptestConfig {
    let long = std::env::var("HOSEWRIGHT_TEST_TIER").is_ok_and(|tier| tier == "long");
    let cases = if long { 40 * usual } else { usual };
    ProptestConfig {
        cases,
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

/// The shape of a reading, from which one of any kind can be made.
#[derive(Clone, Debug)]
struct Seed {
    /// In SI or in the unit, whichever `typed` says.
    value: f64,
    width: f64,
    typed: bool,
    unit: prop::sample::Index,
    tolerance: u8,
    instrument: Option<Instrument>,
}

fn seed() -> impl Strategy<Value = Seed> {
    let numbers = prop_oneof![
        4 => (-400_000..4_000_000_i64).prop_map(|n| n as f64 / 100.0),
        2 => (-640..64_000_i64).prop_map(|n| n as f64 / 64.0),
        2 => -1e6..1e6_f64,
        1 => any::<f64>().prop_filter("of this world", |x| x.is_finite() && x.abs() < 1e290),
    ];
    let widths = prop_oneof![
        (1..10_000_u32).prop_map(|n| f64::from(n) / 1000.0),
        1e-9..1e3_f64
    ];
    let instrument = prop::option::of(prop::sample::select(Instrument::ALL.to_vec()));
    (
        numbers,
        widths,
        any::<bool>(),
        any::<prop::sample::Index>(),
        0..4_u8,
        instrument,
    )
        .prop_map(|(value, width, typed, unit, tolerance, instrument)| Seed {
            value,
            width,
            typed,
            unit,
            tolerance,
            instrument,
        })
}

/// A reading of that kind, if the seed's numbers are fit for it.
fn reading<Q: Quantity>(seed: &Seed) -> Option<Reading<Q>> {
    let units: Vec<&'static Unit> = UNITS.iter().filter(|unit| unit.kind == Q::KIND).collect();
    let unit = units[seed.unit.index(units.len())];
    let si = |x: f64| Q::from_si(if seed.typed { unit.to_si(x) } else { x });
    let value = si(seed.value)?;
    let width = if seed.typed {
        seed.width * unit.factor
    } else {
        seed.width
    };
    let plain = Reading {
        instrument: seed.instrument,
        ..Reading::plain(value, unit)
    };
    Some(match seed.tolerance {
        1 => {
            let half = Q::Difference::from_si(width).filter(|half| half.si() > 0.0)?;
            Reading {
                tolerance: Tolerance::PlusMinus(half),
                ..plain
            }
        }
        // A share of a temperature says nothing and is refused.
        2 if Q::KIND != Kind::Temperature => Reading {
            tolerance: Tolerance::Share(Ratio::from_si(seed.width)?),
            ..plain
        },
        3 => {
            let high = si(seed.value + seed.width).filter(|high| *high > value)?;
            let middle = Measured::between(value, high, Origin::Computed).value;
            Reading {
                value: middle,
                tolerance: Tolerance::Between(value, high),
                ..plain
            }
        }
        _ => plain,
    })
}

fn comes_back<Q: Quantity>(seed: &Seed) {
    let Some(reading) = reading::<Q>(seed) else {
        return;
    };
    let text = file_text(&reading);
    let back = parse_reading::<Q>(&text, None).unwrap_or_else(|error| panic!("{text}: {error}"));
    assert_eq!(
        back.value.si().to_bits(),
        reading.value.si().to_bits(),
        "{text}"
    );
    assert_eq!(back.tolerance, reading.tolerance, "{text}");
    assert_eq!(back.instrument, reading.instrument, "{text}");
    assert_eq!(file_text(&back), text, "the second printing differs");
    let plain = file_value(reading.value, reading.unit);
    assert_eq!(parse::<Q>(&plain, None), Ok(reading.value), "{plain}");
}

/// Every reader at one text: none may panic, and a fault lies within the text.
fn no_panic(text: &str) {
    fn one<Q: Quantity>(text: &str) {
        let within = |error: ParseError| {
            assert!(
                error.span.start <= error.span.end && error.span.end <= text.len(),
                "{text}: {error:?}"
            );
            assert!(
                text.is_char_boundary(error.span.start) && text.is_char_boundary(error.span.end),
                "{text}"
            );
            assert!(!error.message.is_empty());
        };
        for bare in [None, Some(Q::KIND.base_unit())] {
            parse::<Q>(text, bare).map_err(within).ok();
            let prefix = parse_prefix::<Q>(text, bare).map_err(within);
            assert!(prefix.is_err() || prefix.is_ok_and(|(_, end)| text.is_char_boundary(end)));
            HalfWidth::<Q>::parse(text, bare).map_err(within).ok();
            if let Ok(reading) = parse_reading::<Q>(text, bare).map_err(within) {
                assert!(reading.value.si().is_finite());
                // What was read is written so that it reads the same.
                let again = file_text(&reading);
                let back = parse_reading::<Q>(&again, None)
                    .unwrap_or_else(|error| panic!("{text} → {again}: {error}"));
                assert_eq!(
                    (back.value, back.tolerance),
                    (reading.value, reading.tolerance),
                    "{text} → {again}"
                );
            }
        }
        parse_at::<Q, Length>(text, None, None).map_err(within).ok();
        parse_at::<Length, Q>(text, None, None).map_err(within).ok();
    }
    for_every_kind!(one, text);
    let _ = NominalSize::parse(text);
    let _ = Instrument::parse(text);
}

/// Texts that are read, to be bent out of shape.
const FIT: &[&str] = &[
    "41.8 ± 0.2 mm caliper",
    "1 5/8 in",
    "1-1/2\" by tape",
    "5 ft 3 1/2 in",
    "40 to 42 mm",
    "40–42 mm",
    "12 345,6 mm",
    "1,234,567 mm ± 2 %",
    "−15 °C",
    "180 ± 4 °F plate",
    "0.9 bar gauge",
    "1.9 bar absolute ± 0.1 bar",
    "2000 US gal/h",
    "38 kW @ 2600 rpm",
    "90 A at 14 V",
    "1 h 30 min 5 s",
    "45 % ± 2 % of it",
    "1.1:1",
    "about 42 mm guessed ± 5",
    "40 lbf·in",
    "1e-3 m³/s",
    "⅝ in",
];

/// A fit text with some characters dropped, doubled, swapped or put in.
fn bent() -> impl Strategy<Value = String> {
    let odd = prop::sample::select(
        "0159.,-+−±/%°\"'½ \u{202f}mMkbaE@():…e²·"
            .chars()
            .collect::<Vec<_>>(),
    );
    let cut = (any::<prop::sample::Index>(), 0..4_u8, odd);
    (
        prop::sample::select(FIT.to_vec()),
        prop::collection::vec(cut, 1..5),
    )
        .prop_map(|(text, cuts)| {
            let mut chars: Vec<char> = text.chars().collect();
            for (index, act, odd) in cuts {
                if chars.is_empty() {
                    break;
                }
                let at = index.index(chars.len());
                match act {
                    0 => drop(chars.remove(at)),
                    1 => chars.insert(at, chars[at]),
                    2 => {
                        let next = (at + 1) % chars.len();
                        chars.swap(at, next);
                    }
                    _ => chars.insert(at, odd),
                }
            }
            chars.into_iter().collect()
        })
}

proptest! {
    #![proptest_config(config(300))]

    #[test]
    fn what_is_written_is_read_back(seed in seed()) {
        for_every_kind!(comes_back, &seed);
    }

    #[test]
    fn pairs_are_read_back(one in seed(), two in seed()) {
        if let (Some(what), Some(at)) = (reading::<Power>(&one), reading::<RotationalSpeed>(&two)) {
            let pair = At { what, at };
            let text = file_text_at(&pair);
            let back = parse_at::<Power, RotationalSpeed>(&text, None, None);
            let back = back.unwrap_or_else(|error| panic!("{text}: {error}"));
            prop_assert_eq!((back.what.value, back.what.tolerance, back.what.instrument), (what.value, what.tolerance, what.instrument));
            prop_assert_eq!((back.at.value, back.at.tolerance, back.at.instrument), (at.value, at.tolerance, at.instrument));
        }
    }

    #[test]
    fn printing_for_people_never_stops(seed in seed()) {
        fn one<Q: Quantity>(seed: &Seed) {
            let Some(reading) = reading::<Q>(seed) else { return };
            let measured = reading.measured(&Instruments::usual(), Instrument::Guessed);
            for system in [System::Metric, System::Imperial] {
                let half = Q::Difference::from_si(seed.width);
                assert!(!show(reading.value, half, system).contains('-'), "a hyphen for a minus");
                show_cautious(reading.value, system);
                show_signed(reading.value, half, system);
                if let Some(measured) = measured {
                    assert!(measured.low <= measured.value && measured.value <= measured.high);
                    show_dressed(&measured, system);
                    show_range(measured.high, measured.low, system);
                }
            }
        }
        for_every_kind!(one, &seed);
        if let Some(length) = Length::from_si(seed.value) {
            show_fraction(length);
        }
    }
}

proptest! {
    #![proptest_config(config(150))]

    #[test]
    fn no_text_stops_a_reader(text in "\\PC{0,24}") {
        no_panic(&text);
    }

    #[test]
    fn no_text_of_digits_and_signs_stops_a_reader(text in "[0-9.,/+\\-± \"'½%e]{0,12}( ?(mm|in|ft|°C|to|bar|US gal|caliper|@))?[0-9., ]{0,4}") {
        no_panic(&text);
    }

    #[test]
    fn no_bent_text_stops_a_reader(text in bent()) {
        no_panic(&text);
    }
}

#[test]
fn the_fit_texts_are_fit() {
    let mut count = 0;
    for text in FIT {
        let mut fit = parse_at::<Power, RotationalSpeed>(text, None, None).is_ok();
        fit |= parse_at::<Current, Voltage>(text, None, None).is_ok();
        fn one<Q: Quantity>(text: &str, fit: &mut bool) {
            *fit |= parse_reading::<Q>(text, None).is_ok();
        }
        for_every_kind!(one, text, &mut fit);
        assert!(fit, "{text} is read by nobody");
        count += usize::from(fit);
    }
    assert_eq!(count, FIT.len());
}

/// What the file keeps as it was typed.
#[track_caller]
fn check<Q: Quantity>(text: &str, expected: &str) {
    let reading = parse_reading::<Q>(text, None).unwrap_or_else(|error| panic!("{text}: {error}"));
    assert_eq!(file_text(&reading), expected, "{text}");
}

#[test]
fn files_keep_what_was_typed() {
    for text in [
        "41.8 mm",
        "41.8 ± 0.2 mm",
        "41.8 ± 0.2 mm caliper",
        "940 mm tape",
        "1 5/8 in",
        "1 5/8 ± 1/16 in tape",
        "-410 mm water tube",
        "40 to 42 mm guessed",
        "41.8 mm ± 2 %",
        "1.65 in caliper",
        "0.0418 m",
    ] {
        check::<Length>(text, text);
    }
    check::<Length>("1-5/8\"", "1 5/8 in");
    check::<Length>("1.625 in caliper", "1.625 in caliper");
    check::<Length>("1.625 in", "1 5/8 in");
    check::<Length>("about 42 mm", "42 mm guessed");
    check::<Length>("41,8mm+-.2", "41.8 ± 0.2 mm");
    check::<Length>("5 ft 3 in", "63 in");
    // Half a millimetre in inches would take 17 digits.
    check::<Length>("1 1/2 in ± 0.5 mm", "1 1/2 in ± 0.5 mm");
    check::<Temperature>("84 ± 2 °C", "84 ± 2 °C");
    check::<Temperature>("180 ± 4 °F", "180 ± 4 °F");
    check::<Temperature>("82.4 °F", "82.4 °F");
    check::<GaugePressure>("0.9 bar", "0.9 bar");
    check::<GaugePressure>("13 psig", "13 psi");
    check::<AbsolutePressure>("1.9 bar abs ± 0.1 bar", "1.9 ± 0.1 bar absolute");
    check::<VolumeFlow>("2000 US gallons per hour", "2000 US gal/h");
    check::<Angle>("45 degrees", "45°");
    check::<Ratio>("45 % ± 2 % of it", "45 % ± 2 % of it");
    check::<Ratio>("1.1 : 1", "1.1:1");
    check::<Torque>("5 Nm", "5 N m");
}
