//! What people type, and what is made of it.

use quantity::*;

/// A girth of 131.9 mm goes round 41.985 mm: by hand, 131.9 / 3.14159.
#[test]
fn a_girth_over_pi_is_a_diameter() {
    let bare = Unit::find(Kind::Length, "mm");
    for text in ["131.9 / pi", "131.9 mm/π", "131.9 ÷ PI ", "5.1929 in / pi"] {
        let reading = parse_reading::<Length>(text, bare).unwrap();
        assert!((reading.value.to_mm() - 41.985).abs() < 1e-3, "{text}");
        assert_eq!(reading.instrument, Some(Instrument::Girth), "{text}");
    }
    let half = |text: &str| {
        let reading = parse_reading::<Length>(text, bare).unwrap();
        let measured = reading.measured(&Instruments::usual(), Instrument::Caliper);
        measured.unwrap().half_width().to_mm()
    };
    assert!((half("131.9 ± 1 / pi") - 1.0 / std::f64::consts::PI).abs() < 1e-9);
    assert!((half("131 to 133 / pi") - 1.0 / std::f64::consts::PI).abs() < 1e-9);
    // Nothing said: a girth is good for 0.3 mm of the diameter.
    assert!((half("131.9 / pi") - 0.3).abs() < 1e-9);
    for wrong in [
        "/ pi",
        "131.9 pi",
        "131.9 / p",
        "pi",
        "131.9 / 2 pi",
        "82 °C / pi",
    ] {
        assert!(parse_reading::<Length>(wrong, bare).is_err(), "{wrong}");
    }
    assert!(parse_reading::<Temperature>("82 °C / pi", None).is_err());
}

/// A reading in plain words: value, tolerance and instrument as the debug texts have them.
fn words<Q: Quantity>(text: &str, bare: Option<&'static Unit>) -> String {
    match parse_reading::<Q>(text, bare) {
        Err(error) => format!("! {}", error.message),
        Ok(reading) => {
            let in_unit = |q: Q| round(reading.unit.from_si(q.si()));
            let mut words = vec![in_unit(reading.value), reading.unit.name.to_owned()];
            match reading.tolerance {
                Tolerance::Unstated => {}
                Tolerance::PlusMinus(half) => {
                    words.push(format!("± {}", round(half.si() / reading.unit.factor)))
                }
                Tolerance::Share(share) => words.push(format!("± {} %", round(share.to_percent()))),
                Tolerance::Between(low, high) => {
                    words.push(format!("{}..{}", in_unit(low), in_unit(high)))
                }
            }
            words.extend(
                reading
                    .instrument
                    .map(|instrument| format!("{instrument:?}")),
            );
            words.join(" ")
        }
    }
}

/// Nine digits are enough to tell readings apart and hide the last bits.
fn round(x: f64) -> String {
    let x: f64 = format!("{x:.9e}").parse().expect("a number");
    format!("{}", if x.abs() < 1e-9 { 0.0 } else { x })
}

#[track_caller]
fn check<Q: Quantity>(text: &str, expected: &str) {
    assert_eq!(words::<Q>(text, None), expected, "{text}");
}

#[test]
fn numbers() {
    let check = check::<Length>;
    check("41.8 mm", "41.8 mm");
    check("41.8mm", "41.8 mm");
    check("  41.8   mm ", "41.8 mm");
    check("41,8 mm", "41.8 mm");
    check(".5 in", "0.5 in");
    check("0,125 in", "0.125 in");
    check("+820 mm", "820 mm");
    check("-410 mm", "-410 mm");
    check("−410 mm", "-410 mm");
    check("– 410 mm", "-410 mm");
    check("12 400 mm", "12400 mm");
    check("12\u{202f}400 mm", "12400 mm");
    check("12\u{a0}400,5\u{2009}mm", "12400.5 mm");
    check("12,345.6 mm", "12345.6 mm");
    check("12.345,6 mm", "12345.6 mm");
    check("1,234,567 mm", "1234567 mm");
    check("1234,567 mm", "1234.567 mm");
    check("1.2e3 mm", "1200 mm");
    check("1.2E-3 m", "0.0012 m");
}

#[test]
fn fractions() {
    let check = check::<Length>;
    check("1 5/8 in", "1.625 in");
    check("1-5/8 in", "1.625 in");
    check("1 5/8in", "1.625 in");
    check("1 1/2\"", "1.5 in");
    check("1½\"", "1.5 in");
    check("1 ½ in", "1.5 in");
    check("1⅝ inches", "1.625 in");
    check("5⁄8 in", "0.625 in");
    check("1/2 in", "0.5 in");
    check("-1 5/8 in", "-1.625 in");
    check("1.65 in", "1.65 in");
    check("5 ft 3 in", "63 in");
    check("5' 3 1/2\"", "63.5 in");
    check("5'-3\"", "63 in");
    check("-5 ft 3 in", "-63 in");
    check("8 ft", "8 ft");
}

#[test]
fn tolerances() {
    let check = check::<Length>;
    check("41.8 ± 0.2 mm", "41.8 mm ± 0.2");
    check("41.8±0.2mm", "41.8 mm ± 0.2");
    check("41.8 mm ± 0.2", "41.8 mm ± 0.2");
    check("41.8 mm ± 0.2 mm", "41.8 mm ± 0.2");
    check("41.8 +- .2 mm", "41.8 mm ± 0.2");
    check("41.8 +/- 0.2 mm", "41.8 mm ± 0.2");
    check("41.8 mm plus or minus 0.2", "41.8 mm ± 0.2");
    check("41.8 mm ± 0.02 cm", "41.8 mm ± 0.2");
    check("1 5/8 ± 1/16 in", "1.625 in ± 0.0625");
    check("41.8 mm ± 2 %", "41.8 mm ± 2 %");
    check("41.8 mm ± 2%", "41.8 mm ± 2 %");
    check("41.8 mm ± 2 per cent", "41.8 mm ± 2 %");
    check("40 to 42 mm", "41 mm 40..42");
    check("40 mm to 42 mm", "41 mm 40..42");
    check("4 cm to 42 mm", "4.1 cm 4..4.2");
    check("40..42 mm", "41 mm 40..42");
    check("40...42 mm", "41 mm 40..42");
    check("40 in..42 in", "41 in 40..42");
    check("40–42 mm", "41 mm 40..42");
    check("40-42 mm", "41 mm 40..42");
    check("40 - 42 mm", "41 mm 40..42");
    check("between 40 and 42 mm", "41 mm 40..42");
    check("from 40 to 42 mm", "41 mm 40..42");
    check("-410 to -400 mm", "-405 mm -410..-400");
    check("1-1/2 to 1-5/8 in", "1.5625 in 1.5..1.625");
}

#[test]
fn instruments() {
    let check = check::<Length>;
    check("41.8 mm caliper", "41.8 mm Caliper");
    check("41.8 mm, caliper", "41.8 mm Caliper");
    check("41.8 mm (caliper)", "41.8 mm Caliper");
    check("41.8 mm - caliper", "41.8 mm Caliper");
    check("41.8 mm with callipers", "41.8 mm Caliper");
    check("caliper: 41.8 mm", "41.8 mm Caliper");
    check("41.8 ± 0.2 mm, caliper", "41.8 mm ± 0.2 Caliper");
    check("41.8 mm caliper ± 0.2", "41.8 mm ± 0.2 Caliper");
    check("940 mm by tape", "940 mm Tape");
    check("940 mm read off the tape", "940 mm Tape");
    check("-410 mm waterlevel", "-410 mm WaterTube");
    check("-410 mm by water tube", "-410 mm WaterTube");
    check("410 mm spirit level", "410 mm SpiritLevel");
    check("2.309 mm thread gauge", "2.309 mm ThreadGauge");
    check("44.5 mm girth", "44.5 mm Girth");
    check("about 42 mm", "42 mm Guessed");
    check("~42 mm", "42 mm Guessed");
    check("ca. 42 mm", "42 mm Guessed");
    check("42 mm guessed", "42 mm Guessed");
    check("about 42 mm guessed ± 5", "42 mm ± 5 Guessed");
    check("42 mm by eye", "42 mm Guessed");
    for instrument in Instrument::ALL {
        for name in instrument.names() {
            assert_eq!(Instrument::parse(name), Some(instrument), "{name}");
            assert_eq!(
                parse_reading::<Length>(&format!("4 mm {name}"), None).map(|r| r.instrument),
                Ok(Some(instrument))
            );
        }
    }
}

#[test]
fn bare_numbers_only_where_they_may_stand() {
    let mm = Some(Unit::mm());
    assert_eq!(words::<Length>("41.8", mm), "41.8 mm");
    assert_eq!(words::<Length>("41.8 ± 0.2", mm), "41.8 mm ± 0.2");
    assert_eq!(words::<Length>("40-42 caliper", mm), "41 mm 40..42 Caliper");
    assert_eq!(words::<Length>("1.65 in", mm), "1.65 in");
    assert_eq!(words::<Length>("41.8 ± 1/16 in", mm), "41.8 in ± 0.0625");
    assert_eq!(
        words::<Length>("1 5/8", Unit::find(Kind::Length, "in")),
        "1.625 in"
    );
    assert!(words::<Length>("41.8", None).starts_with("! 41.8 has no unit"));
}

#[test]
fn temperatures() {
    check::<Temperature>("82 °C", "82 °C");
    check::<Temperature>("82C", "82 °C");
    check::<Temperature>("82 degC", "82 °C");
    check::<Temperature>("82 deg C", "82 °C");
    check::<Temperature>("82 ° C", "82 °C");
    check::<Temperature>("82 ℃", "82 °C");
    check::<Temperature>("180 °F", "180 °F");
    check::<Temperature>("180F", "180 °F");
    check::<Temperature>("355.15 K", "355.15 K");
    check::<Temperature>("-15 °C", "-15 °C");
    check::<Temperature>("84 ± 2 °C", "84 °C ± 2");
    check::<Temperature>("84 °C ± 2 K", "84 °C ± 2");
    check::<Temperature>("180 ± 4 °F", "180 °F ± 4");
    check::<Temperature>("71 to 76 °C", "73.5 °C 71..76");
    check::<TemperatureDifference>("8 K", "8 K");
    check::<TemperatureDifference>("8 °C", "8 °C");
    check::<TemperatureDifference>("9 °F", "9 °F");
}

#[test]
fn pressures() {
    check::<GaugePressure>("0.9 bar", "0.9 bar");
    check::<GaugePressure>("0.9 barg", "0.9 bar");
    check::<GaugePressure>("0.9 bar gauge", "0.9 bar");
    check::<GaugePressure>("13 psi", "13 psi");
    check::<GaugePressure>("-0.2 bar", "-0.2 bar");
    check::<GaugePressure>("90 kPa plate", "90 kPa Plate");
    check::<AbsolutePressure>("1.9 bar absolute", "1.9 bar absolute");
    check::<AbsolutePressure>("1.9 bar abs", "1.9 bar absolute");
    check::<AbsolutePressure>("101.3 kPa abs ± 0.5 kPa", "101.3 kPa absolute ± 0.5");
    check::<AbsolutePressure>("28 psia", "28 psi absolute");
    check::<PressureDifference>("120 mbar", "120 mbar");
    check::<PressureDifference>("1.2 kg/cm2", "1.2 kgf/cm²");
}

#[test]
fn the_other_kinds() {
    check::<Area>("12 cm^2", "12 cm²");
    check::<Area>("12 sq in", "12 in²");
    check::<Volume>("12 l", "12 L");
    check::<Volume>("3.5 US gal", "3.5 US gal");
    check::<Volume>("3.5 imperial gallons", "3.5 imp gal");
    check::<Volume>("250 cc", "250 mL");
    check::<Mass>("4 lbs", "4 lb");
    check::<Time>("1 h 30 min", "90 min");
    check::<Time>("3 to 6 min", "4.5 min 3..6");
    check::<Power>("84 hp", "84 hp");
    check::<Power>("62kW plate", "62 kW Plate");
    check::<Power>("85 PS", "85 PS");
    check::<VolumeFlow>("2000 US gal/h", "2000 US gal/h");
    check::<VolumeFlow>("2000 US gallons per hour", "2000 US gal/h");
    check::<VolumeFlow>("8 usgpm", "8 US gal/min");
    check::<VolumeFlow>("40 l / min", "40 L/min");
    check::<VolumeFlow>("3 m3/h", "3 m³/h");
    check::<RotationalSpeed>("2600 rpm", "2600 rpm");
    check::<RotationalSpeed>("2600 1/min", "2600 rpm");
    check::<Speed>("6.2 kn", "6.2 kn");
    check::<Speed>("6.2 knots", "6.2 kn");
    check::<Speed>("12 km/h", "12 km/h");
    check::<Torque>("5 Nm", "5 N m");
    check::<Torque>("5 N·m", "5 N m");
    check::<Torque>("40 in-lb", "40 lbf·in");
    check::<Torque>("40 lbf in", "40 lbf·in");
    check::<Torque>("4 ft lb", "4 lbf·ft");
    check::<Angle>("45°", "45 °");
    check::<Angle>("45 deg", "45 °");
    check::<Ratio>("45 %", "45 %");
    check::<Ratio>("45 ± 2 %", "45 % ± 2");
    check::<Ratio>("45 % ± 2 % of it", "45 % ± 2 %");
    check::<Ratio>("1.1:1", "1.1 :1");
    check::<Ratio>("1.1 : 1", "1.1 :1");
    check::<Current>("90 A", "90 A");
    check::<Voltage>("14 V", "14 V");
    check::<Density>("1050 kg/m3", "1050 kg/m³");
    check::<SpecificHeat>("3.6 kJ/kgK", "3.6 kJ/(kg K)");
    check::<ThermalConductivity>("0.42 W/mK", "0.42 W/(m K)");
    check::<DynamicViscosity>("1.2 mPas", "1.2 mPa s");
    check::<Conductivity>("42.9 mS/cm", "42.9 mS/cm");
    check::<Conductivity>("800 uS/cm", "800 µS/cm");
    check::<Concentration>("150 ppm", "150 mg/L");
    check::<Concentration>("19.8 g/L", "19.8 g/L");
}

#[test]
fn two_that_go_together() {
    let power = |text: &str| parse_at::<Power, RotationalSpeed>(text, None, None);
    let both = |text: &str| {
        let at = power(text).unwrap_or_else(|error| panic!("{text}: {error}"));
        (
            at.what.value.to_kw(),
            at.at.value.to_rpm().round(),
            at.what.instrument,
            at.at.instrument,
        )
    };
    assert_eq!(both("38 kW @ 2600 rpm"), (38.0, 2600.0, None, None));
    assert_eq!(both("38kW@2600rpm"), (38.0, 2600.0, None, None));
    assert_eq!(both("38 kW at 2600 rpm"), (38.0, 2600.0, None, None));
    // At the end it covers both; before the second it is that one's.
    let plate = Some(Instrument::Plate);
    assert_eq!(both("38 kW @ 2600 rpm plate"), (38.0, 2600.0, plate, plate));
    assert_eq!(both("38 kW @ plate 2600 rpm"), (38.0, 2600.0, None, plate));
    assert_eq!(
        both("38 kW plate @ 2600 rpm guessed"),
        (38.0, 2600.0, plate, Some(Instrument::Guessed))
    );
    let current =
        parse_at::<Current, Voltage>("90 A @ 14 V", None, None).expect("a current at a voltage");
    assert_eq!(
        (current.what.value.to_amperes(), current.at.value.to_volts()),
        (90.0, 14.0)
    );
    let error = power("38 kW @ 26 bar").expect_err("a pressure is no shaft speed");
    assert_eq!((error.span, error.kind), (11..14, Kind::RotationalSpeed));
}

#[test]
fn a_prefix_leaves_the_rest() {
    let read = |text| parse_prefix::<Length>(text, Some(Unit::mm()));
    assert_eq!(read("1.8 m x 38 wired"), Ok((Length::m(1.8), 5)));
    assert_eq!(read("38 wired"), Ok((Length::mm(38.0), 2)));
    assert_eq!(read("400"), Ok((Length::mm(400.0), 3)));
    assert!(read("wired").is_err());
}
