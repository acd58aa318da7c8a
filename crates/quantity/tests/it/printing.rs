//! Text for people. `MINUS` and `GAP` stand for U+2212 and U+202F, which look like others.

use quantity::*;

#[track_caller]
fn check(found: String, expected: &str) {
    assert_eq!(
        found,
        expected.replace('~', "\u{202f}").replace("--", "\u{2212}")
    );
}

const METRIC: System = System::Metric;
const IMPERIAL: System = System::Imperial;

fn measured(mm: f64, half: f64) -> Measured<Length> {
    Measured::plus_minus(
        Length::mm(mm),
        Length::mm(half),
        Origin::Read(Instrument::Caliper),
    )
}

#[test]
fn one_figure_of_tolerance_and_two_after_a_one() {
    let check_mm = |mm, half, expected| check(show_measured(&measured(mm, half), METRIC), expected);
    check_mm(41.8, 0.2, "41.8 ± 0.2 mm");
    check_mm(41.837, 0.24, "41.8 ± 0.2 mm");
    check_mm(41.837, 0.25, "41.8 ± 0.3 mm");
    check_mm(41.837, 0.1, "41.84 ± 0.10 mm");
    check_mm(41.837, 0.144, "41.84 ± 0.14 mm");
    check_mm(41.837, 0.196, "41.8 ± 0.2 mm");
    check_mm(41.837, 0.96, "41.8 ± 1.0 mm");
    check_mm(41.837, 0.996, "41.8 ± 1.0 mm");
    check_mm(41.25, 0.5, "41.3 ± 0.5 mm");
    check_mm(1234.0, 56.0, "1230 ± 60 mm");
    check_mm(1234.0, 120.0, "1230 ± 120 mm");
    check_mm(-410.0, 4.0, "--410 ± 4 mm");
    check_mm(-0.02, 0.3, "0.0 ± 0.3 mm");
    check_mm(12_400.0, 30.0, "12~400 ± 30 mm");
    check_mm(9_400.0, 30.0, "9400 ± 30 mm");
    // A width next to nothing gives six figures, not sixteen.
    check_mm(41.837, 1e-9, "41.8370 mm");
    check_mm(41.837, 0.0, "41.8 mm");
    let aside = Measured::new(
        Length::mm(44.3),
        Length::mm(44.5),
        Length::mm(45.0),
        Origin::Computed,
    );
    check(
        show_measured(&aside.expect("in order"), METRIC),
        "44.5 (44.3 to 45.0) mm",
    );
}

#[test]
fn a_value_alone_has_the_digits_that_its_width_justifies() {
    check(
        show(Length::mm(51.437), Some(Length::mm(0.6)), METRIC),
        "51.4 mm",
    );
    check(
        show(Length::mm(51.437), Some(Length::mm(0.1)), METRIC),
        "51.44 mm",
    );
    check(
        show(Length::mm(51.437), Some(Length::mm(3.0)), METRIC),
        "51 mm",
    );
    check(show(Length::mm(51.437), None, METRIC), "51.4 mm");
    check(show(Length::mm(38.0), None, METRIC), "38 mm");
    check(show(Length::mm(2612.4), None, METRIC), "2612 mm");
    check(show(Length::mm(0.0), None, METRIC), "0 mm");
    check(show(Ratio::of(0.09428), None, METRIC), "9.43 %");
    check(
        show(Ratio::of(0.09428), Some(Ratio::of(0.004)), METRIC),
        "9.4 %",
    );
}

#[test]
fn metric_and_imperial_units() {
    let both = |quantity: (String, String), metric: &str, imperial: &str| {
        check(quantity.0, metric);
        check(quantity.1, imperial);
    };
    fn two<Q: Quantity>(value: Q) -> (String, String) {
        (
            show(value, None, System::Metric),
            show(value, None, System::Imperial),
        )
    }
    both(two(Length::mm(41.8)), "41.8 mm", "1.65 in");
    both(two(Length::m(12.4)), "12~400 mm", "40.7 ft");
    both(two(Length::m(120.0)), "120 m", "394 ft");
    both(two(Area::mm2(1134.0)), "1134 mm²", "1.76 in²");
    both(two(Area::m2(0.5)), "0.5 m²", "5.38 ft²");
    both(two(Volume::litres(17.2)), "17.2 L", "4.54 US gal");
    both(two(Volume::litres(0.05)), "50 mL", "0.106 US pt");
    both(two(Mass::kg(4.0)), "4 kg", "8.82 lb");
    both(two(Mass::kg(0.25)), "250 g", "0.551 lb");
    both(two(Temperature::celsius(82.0)), "82 °C", "180 °F");
    both(two(TemperatureDifference::kelvin(5.0)), "5 °C", "9 °F");
    both(
        two(GaugePressure::bar(0.9)),
        "0.9 bar gauge",
        "13.1 psi gauge",
    );
    both(
        two(AbsolutePressure::bar(1.9)),
        "1.9 bar absolute",
        "27.6 psi absolute",
    );
    both(two(PressureDifference::bar(0.05)), "50 mbar", "0.725 psi");
    both(two(PressureDifference::bar(0.5)), "0.5 bar", "7.25 psi");
    both(two(Power::kw(38.0)), "38 kW", "51 hp");
    both(two(Power::w(500.0)), "500 W", "0.671 hp");
    both(
        two(VolumeFlow::litres_per_minute(60.0)),
        "60 L/min",
        "15.9 US gal/min",
    );
    both(
        two(VolumeFlow::litres_per_minute(0.25)),
        "15 L/h",
        "3.96 US gal/h",
    );
    both(two(RotationalSpeed::rpm(2600.0)), "2600 rpm", "2600 rpm");
    both(two(Speed::of_si(6.2 * 1852.0 / 3600.0)), "6.2 kn", "6.2 kn");
    both(two(Torque::n_m(5.0)), "5 N m", "44.3 lbf·in");
    both(two(Torque::n_m(50.0)), "50 N m", "36.9 lbf·ft");
    both(two(Angle::degrees(7.0)), "7°", "7°");
    both(two(Current::amperes(90.0)), "90 A", "90 A");
    both(two(Voltage::volts(14.2)), "14.2 V", "14.2 V");
    both(two(Density::kg_per_m3(1067.0)), "1067 kg/m³", "1067 kg/m³");
    both(
        two(SpecificHeat::j_per_kg_k(3600.0)),
        "3.6 kJ/(kg K)",
        "3.6 kJ/(kg K)",
    );
    both(
        two(ThermalConductivity::w_per_m_k(0.42)),
        "0.42 W/(m K)",
        "0.42 W/(m K)",
    );
    both(
        two(DynamicViscosity::mpa_s(1.23)),
        "1.23 mPa s",
        "1.23 mPa s",
    );
    both(
        two(Conductivity::ms_per_cm(42.9)),
        "42.9 mS/cm",
        "42.9 mS/cm",
    );
    both(two(Concentration::mg_per_l(150.0)), "150 mg/L", "150 mg/L");
    both(two(Concentration::kg_per_m3(19.83)), "19.8 g/L", "19.8 g/L");
    both(two(Time::s(90.0)), "90 s", "90 s");
    both(two(Time::s(1200.0)), "20 min", "20 min");
    both(two(Time::s(7.0 * 86_400.0)), "7 d", "7 d");
    let water = Unit::find(Kind::Speed, "m/s").expect("a unit");
    check(show_in(Speed::of_si(1.83), None, water), "1.83 m/s");
    // A tolerance goes into the same unit as the value; a temperature's has no offset.
    let warm = Measured::plus_minus(
        Temperature::celsius(84.0),
        TemperatureDifference::kelvin(2.0),
        Origin::Computed,
    );
    check(show_measured(&warm, IMPERIAL), "183 ± 4 °F");
    check(
        show_measured(&measured(41.8, 0.2), IMPERIAL),
        "1.646 ± 0.008 in",
    );
}

#[test]
fn a_half_width_goes_to_the_place_of_its_value() {
    let beside = |mm: f64, half: f64, system| {
        let (value, half) = (Length::mm(mm), Length::mm(half));
        (
            show(value, Some(half), system),
            show_half_width(half, value, system),
        )
    };
    let check = |found: (String, String), value: &str, half: &str| {
        assert_eq!(found, (value.to_owned(), half.to_owned()));
    };
    check(beside(42.189, 0.1, IMPERIAL), "1.661 in", "0.004 in");
    check(beside(38.5, 0.1, METRIC), "38.50 mm", "0.10 mm");
    check(beside(41.8, 0.2, METRIC), "41.8 mm", "0.2 mm");
    check(beside(1150.0, 12.0, METRIC), "1150 mm", "12 mm");
    assert_eq!(
        show_half_width(Length::mm(0.0), Length::mm(3.0), METRIC),
        "0 mm"
    );
    let cap = show_half_width(
        PressureDifference::bar(0.05),
        GaugePressure::bar(0.9),
        METRIC,
    );
    assert_eq!(cap, "0.05 bar");
}

#[test]
fn every_kind_and_size_has_its_unit() {
    fn one<Q: Quantity>() {
        for power in -12..12 {
            if let Some(value) = Q::from_si(10_f64.powi(power)) {
                for system in [System::Metric, System::Imperial] {
                    assert_eq!(display_unit(value, system).kind, Q::KIND);
                }
            }
        }
    }
    crate::round_trip::for_every_kind!(one);
}

#[test]
fn ranges() {
    check(
        show_range(Length::mm(44.32), Length::mm(44.96), METRIC),
        "44.3 to 45.0 mm",
    );
    check(
        show_range(Length::mm(44.96), Length::mm(44.32), METRIC),
        "44.3 to 45.0 mm",
    );
    check(
        show_range(Length::mm(44.32), Length::mm(44.96), IMPERIAL),
        "1.745 to 1.770 in",
    );
    check(
        show_range(Time::s(180.0), Time::s(360.0), METRIC),
        "3 to 6 min",
    );
    check(
        show_range(Length::mm(-410.0), Length::mm(-395.0), METRIC),
        "--410 to --395 mm",
    );
    check(
        show_range(Length::mm(38.0), Length::mm(38.0), METRIC),
        "38 mm",
    );
    check(
        show_range(GaugePressure::bar(0.8), GaugePressure::bar(1.0), METRIC),
        "0.80 to 1.00 bar gauge",
    );
}

#[test]
fn signed_heights() {
    check(show_signed(Length::mm(820.0), None, METRIC), "+820 mm");
    check(show_signed(Length::mm(-410.0), None, METRIC), "--410 mm");
    check(show_signed(Length::mm(0.0), None, METRIC), "0 mm");
    check(
        show_signed(Length::mm(-0.2), Some(Length::mm(4.0)), METRIC),
        "0 mm",
    );
}

#[test]
fn sixteenths_for_hose_and_tape() {
    let check_mm = |mm, expected| check(show_fraction(Length::mm(mm)), expected);
    check_mm(41.8, "1 5/8 in");
    check_mm(38.1, "1 1/2 in");
    check_mm(50.8, "2 in");
    check_mm(12.7, "1/2 in");
    check_mm(0.5, "0 in");
    check_mm(-38.1, "--1 1/2 in");
    check_mm(940.0, "37 in");
    check_mm(3048.0, "10 ft");
    check_mm(3213.1, "10 ft 6 1/2 in");
}

#[test]
fn chances_in_plain_counts() {
    let check_chance = |chance, expected| check(show_chance(chance), expected);
    check_chance(0.96, "96 in 100");
    check_chance(0.57, "57 in 100");
    // Rounded down: a chance that misses 0.95 is not printed as 95.
    check_chance(0.9499, "94 in 100");
    check_chance(0.95, "95 in 100");
    check_chance(0.99, "99 in 100");
    check_chance(0.9901, "over 99 in 100");
    check_chance(1.0, "over 99 in 100");
    check_chance(0.01, "1 in 100");
    check_chance(0.0099, "under 1 in 100");
    check_chance(0.0, "under 1 in 100");
    check_chance(f64::NAN, "an unknown chance");
}

#[test]
fn cautious_numbers_err_to_the_safe_side() {
    check(show_cautious(Time::s(359.0), METRIC), "5.9 min");
    check(show_cautious(Time::s(360.0), METRIC), "6 min");
    check(show_cautious(Time::s(47.9 * 60.0), METRIC), "47 min");
    check(
        show_cautious(VolumeFlow::litres_per_minute(41.1), METRIC),
        "42 L/min",
    );
    check(
        show_cautious(VolumeFlow::litres_per_minute(41.0), METRIC),
        "41 L/min",
    );
    check(show_cautious(Volume::litres(3.11), METRIC), "3.2 L");
    check(show_cautious(Length::mm(41.8), METRIC), "42 mm");
}

#[test]
fn values_carry_the_word_that_goes_with_them() {
    let with = |origin| {
        show_dressed(
            &Measured {
                origin,
                ..measured(51.4, 0.6)
            },
            METRIC,
        )
    };
    check(
        with(Origin::Read(Instrument::Caliper)),
        "51.4 ± 0.6 mm caliper",
    );
    check(with(Origin::Read(Instrument::Plate)), "51.4 ± 0.6 mm plate");
    check(
        with(Origin::Read(Instrument::Guessed)),
        "about 51.4 ± 0.6 mm guessed",
    );
    check(with(Origin::Assumed), "(51.4 ± 0.6 mm) assumed");
    check(with(Origin::Computed), "= 51.4 ± 0.6 mm");
    check(with(Origin::Table), "51.4 ± 0.6 mm table");
}
