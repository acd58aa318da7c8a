//! The table of units against itself and against the outside world.

use std::collections::BTreeMap;

use quantity::unit::UNITS;
use quantity::*;

#[test]
fn a_name_belongs_to_one_unit_of_a_kind() {
    let mut owners: BTreeMap<(Kind, String), &str> = BTreeMap::new();
    for unit in UNITS {
        for name in unit.names() {
            // As lenient as reading is: case, gaps, superscripts and micro signs do not count.
            let folded: String = name
                .to_lowercase()
                .chars()
                .filter(|c| !matches!(c, ' ' | '·'))
                .map(|c| match c {
                    '²' => '2',
                    '³' => '3',
                    'μ' => 'µ',
                    c => c,
                })
                .collect();
            let owner = owners.insert((unit.kind, folded), unit.name);
            assert!(
                owner.is_none_or(|owner| owner == unit.name),
                "{name} is a name of {} and of {}",
                owner.unwrap_or_default(),
                unit.name
            );
        }
    }
}

fn reads_back<Q: Quantity>() {
    for unit in UNITS.iter().filter(|unit| unit.kind == Q::KIND) {
        for name in unit.names() {
            for text in [
                format!("2 {name}"),
                format!("2{name}"),
                format!("2 {}", name.to_lowercase()),
            ] {
                // A small m is never read as mega, and a digit does not begin a name.
                let mega = name.starts_with('M') && !text.contains('M');
                let digit = name.starts_with(|c: char| c.is_ascii_digit() || c == '/')
                    && !text.contains(' ');
                if mega || digit {
                    continue;
                }
                match parse_reading::<Q>(&text, None) {
                    Ok(reading) => {
                        assert_eq!(reading.unit, unit, "{text}");
                        assert_eq!(
                            reading.value.si().to_bits(),
                            (unit.to_si(2.0) + 0.0).to_bits(),
                            "{text}"
                        );
                    }
                    Err(error) => panic!("{text}: {error}"),
                }
            }
        }
    }
    let base = Q::KIND.base_unit();
    assert_eq!((base.factor, base.offset), (1.0, 0.0));
    for name in Q::KIND.usual_units() {
        assert!(
            Unit::find(Q::KIND, name).is_some_and(|unit| unit.name == *name),
            "{name}"
        );
    }
}

#[test]
fn every_name_is_read_as_its_unit() {
    crate::round_trip::for_every_kind!(reads_back);
}

/// One of a unit in SI, to the digits that the source prints.
#[track_caller]
fn check(kind: Kind, name: &str, printed: &str) {
    let unit = Unit::find(kind, name).unwrap_or_else(|| panic!("no {name}"));
    let expected: f64 = printed.parse().expect("a number");
    let digits = printed
        .split('e')
        .next()
        .map_or(0, |m| m.chars().filter(char::is_ascii_digit).count());
    let half_a_digit = 0.5 * 10_f64.powi(expected.abs().log10().floor() as i32 + 1 - digits as i32);
    let found = unit.factor;
    assert!(
        (found - expected).abs() <= half_a_digit * 1.000001,
        "{name}: {found} is not {printed}"
    );
}

/// NIST SP 811 (2008), appendix B.8, seven digits (exact ones in full): recalled from memory, the
/// horsepower and the pound-force inch also seen quoted from there. What counts as validation are
/// the rows of another library in `validation/units.csv`.
#[test]
fn factors_are_those_of_nist_sp_811() {
    check(Kind::Length, "in", "2.54e-2");
    check(Kind::Length, "ft", "3.048e-1");
    check(Kind::Area, "in²", "6.4516e-4");
    check(Kind::Area, "ft²", "9.290304e-2");
    check(Kind::Volume, "US gal", "3.785412e-3");
    check(Kind::Volume, "imp gal", "4.54609e-3");
    check(Kind::Volume, "US qt", "9.463529e-4");
    check(Kind::Volume, "US pt", "4.731765e-4");
    check(Kind::Volume, "in³", "1.638706e-5");
    check(Kind::Volume, "ft³", "2.831685e-2");
    check(Kind::Mass, "lb", "4.535924e-1");
    check(Kind::GaugePressure, "psi", "6.894757e3");
    check(Kind::AbsolutePressure, "psi absolute", "6.894757e3");
    check(Kind::PressureDifference, "psi", "6.894757e3");
    check(Kind::PressureDifference, "inHg", "3.386389e3");
    check(Kind::PressureDifference, "kgf/cm²", "9.80665e4");
    check(Kind::PressureDifference, "mbar", "1.0e2");
    check(Kind::Power, "hp", "7.456999e2");
    check(Kind::Power, "metric hp", "7.354988e2");
    check(Kind::VolumeFlow, "US gal/min", "6.309020e-5");
    check(Kind::Speed, "kn", "5.144444e-1");
    check(Kind::Speed, "mph", "4.4704e-1");
    check(Kind::Speed, "km/h", "2.777778e-1");
    check(Kind::Torque, "lbf·in", "1.129848e-1");
    check(Kind::Torque, "lbf·ft", "1.355818");
    check(Kind::Torque, "kgf·m", "9.80665");
    check(Kind::Angle, "°", "1.745329e-2");
}

/// Fixed points of the scales: water freezes at 32 °F (NIST SP 811, 8.5), absolute zero is
/// −273.15 °C (SI Brochure, 9th edition, 2.3.1) and −459.67 °F; −40 is the same on both.
#[test]
fn scales_meet_their_fixed_points() {
    let same = |one: &str, other: &str| {
        let read = |text| {
            parse::<Temperature>(text, None)
                .expect("a temperature")
                .si()
        };
        assert!(
            (read(one) - read(other)).abs() < 1e-9,
            "{one} is not {other}"
        );
    };
    same("32 °F", "0 °C");
    same("-40 °F", "-40 °C");
    same("212 °F", "100 °C");
    same("-459.67 °F", "0 K");
    same("0 K", "-273.15 °C");
    let rise = parse::<TemperatureDifference>("9 °F", None).expect("a difference");
    assert!((rise.to_kelvin() - 5.0).abs() < 1e-12);
}

#[test]
fn makers_and_the_table_agree() {
    assert_eq!(parse::<Length>("41.8 mm", None), Ok(Length::mm(41.8)));
    assert_eq!(parse::<Length>("1 5/8 in", None), Ok(Length::inches(1.625)));
    assert_eq!(parse::<Area>("12 mm²", None), Ok(Area::mm2(12.0)));
    assert_eq!(parse::<Volume>("3.1 L", None), Ok(Volume::litres(3.1)));
    assert_eq!(
        parse::<Temperature>("82.5 °C", None),
        Ok(Temperature::celsius(82.5))
    );
    assert_eq!(
        parse::<GaugePressure>("0.9 bar", None),
        Ok(GaugePressure::bar(0.9))
    );
    assert_eq!(parse::<Power>("38.3 kW", None), Ok(Power::kw(38.3)));
    assert_eq!(parse::<Ratio>("9.4 %", None), Ok(Ratio::percent(9.4)));
    assert_eq!(
        parse::<RotationalSpeed>("2600 rpm", None),
        Ok(RotationalSpeed::rpm(2600.0))
    );
    assert_eq!(
        parse::<VolumeFlow>("61 L/min", None),
        Ok(VolumeFlow::litres_per_minute(61.0))
    );
    assert_eq!(parse::<Angle>("45°", None), Ok(Angle::degrees(45.0)));
}

#[test]
fn one_length_typed_in_three_units_is_one_number() {
    let read = |text: &str| {
        parse::<Length>(text, None)
            .expect("a length")
            .si()
            .to_bits()
    };
    for mm in 1..20_000_u32 {
        let mm = f64::from(mm);
        let texts = [
            format!("{mm} mm"),
            format!("{} cm", mm / 10.0),
            format!("{} m", mm / 1000.0),
        ];
        assert_eq!(read(&texts[0]), read(&texts[2]), "{texts:?}");
        if mm % 10.0 == 0.0 {
            assert_eq!(read(&texts[0]), read(&texts[1]), "{texts:?}");
        }
    }
}
