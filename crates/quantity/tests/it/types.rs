//! The types: what they refuse, how they reckon, how they compare.

use std::hash::{Hash, Hasher};

use quantity::*;

/// Keeps what it is fed, so that two values hash alike in any hasher if they do in this one.
#[derive(Default)]
struct Fed(Vec<u8>);

impl Hasher for Fed {
    fn write(&mut self, bytes: &[u8]) {
        self.0.extend_from_slice(bytes);
    }
    fn finish(&self) -> u64 {
        self.0.len() as u64
    }
}

fn hash(value: impl Hash) -> Vec<u8> {
    let mut fed = Fed::default();
    value.hash(&mut fed);
    fed.0
}

#[test]
fn no_kind_takes_what_is_not_finite() {
    fn one<Q: Quantity>() {
        for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            assert_eq!(Q::from_si(value), None, "{:?}", Q::KIND);
        }
        let absolute = matches!(Q::KIND, Kind::Temperature | Kind::AbsolutePressure);
        assert_eq!(Q::from_si(-1.0).is_none(), absolute, "{:?}", Q::KIND);
        assert_eq!(Q::Difference::KIND, Q::KIND.difference());
        // The two zeros are one value, here and in hashes.
        let (plus, minus) = (
            Q::from_si(0.0).expect("zero"),
            Q::from_si(-0.0).expect("zero"),
        );
        assert_eq!(plus, minus);
        assert_eq!(hash(plus), hash(minus));
    }
    crate::round_trip::for_every_kind!(one);
}

#[test]
fn points_and_differences() {
    let (hot, cold) = (Temperature::celsius(82.0), Temperature::celsius(71.0));
    assert_eq!(hot - cold, TemperatureDifference::kelvin(11.0));
    assert_eq!(cold + TemperatureDifference::kelvin(11.0), hot);
    let air = AbsolutePressure::bar(1.0);
    assert_eq!(
        GaugePressure::bar(0.5).above(air),
        Some(AbsolutePressure::bar(1.5))
    );
    assert_eq!(GaugePressure::bar(-1.5).above(air), None);
    assert_eq!(
        GaugePressure::bar(1.5) - GaugePressure::bar(1.0),
        PressureDifference::bar(0.5)
    );
    assert_eq!(Length::m(2.0) * Length::m(3.0), Area::m2(6.0));
    assert_eq!(
        Current::amperes(90.0) * Voltage::volts(14.0),
        Power::w(1260.0)
    );
    assert_eq!(Length::m(3.0) / Length::m(2.0), 1.5);
}

#[test]
fn readings_hash_as_they_compare() {
    let read = |text: &str| parse_reading::<Length>(text, None).expect("a length");
    assert_eq!(hash(read("41.8 ± 0.2 mm")), hash(read("41,8mm +- .2")));
    assert_ne!(read("41.8 mm"), read("41.8 mm caliper"));
    assert_ne!(hash(Instruments::usual()), hash(Instruments::none()));
}
