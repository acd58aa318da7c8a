//! From a reading to the interval in which the value surely lies.

use quantity::*;

#[track_caller]
fn check<Q: Quantity>(text: &str, fallback: Instrument, expected: &str) {
    let reading = parse_reading::<Q>(text, None).unwrap_or_else(|error| panic!("{text}: {error}"));
    let measured = reading.measured(&Instruments::usual(), fallback);
    let found = measured.map_or("nobody knows".to_owned(), |measured| {
        show_dressed(&measured, System::Metric)
    });
    assert_eq!(found, expected, "{text}");
}

#[test]
fn what_is_written_wins_then_the_instrument() {
    let caliper = Instrument::Caliper;
    check::<Length>("41.8 ± 0.3 mm", caliper, "41.8 ± 0.3 mm caliper");
    check::<Length>("41.8 mm", caliper, "41.80 ± 0.10 mm caliper");
    check::<Length>("41.8 mm tape", caliper, "42 ± 3 mm tape");
    check::<Length>("44.6 mm girth", caliper, "44.6 ± 0.3 mm girth");
    check::<Length>(
        "-410 mm water tube",
        caliper,
        "\u{2212}410 ± 4 mm water tube",
    );
    check::<Length>("41.8 mm ± 2 %", caliper, "41.8 ± 0.8 mm caliper");
    check::<Length>("40 to 42 mm", caliper, "41.0 ± 1.0 mm caliper");
    check::<Length>("about 42 mm", caliper, "about 42 ± 4 mm guessed");
    check::<Length>("about 4 mm", caliper, "about 4.0 ± 1.0 mm guessed");
    check::<Length>("51.6 mm maker", caliper, "51.6 ± 0.5 mm maker");
    check::<Temperature>("82 °C", Instrument::Maker, "82 ± 2 °C maker");
    check::<Power>("62 kW plate", Instrument::Guessed, "62 ± 3 kW plate");
    check::<Angle>("7°", Instrument::SpiritLevel, "7.0 ± 0.5° spirit level");
    // Nobody reads a power by tape, so nobody knows how far off it is.
    check::<Power>("62 kW tape", Instrument::Guessed, "nobody knows");
    check::<Power>("62 ± 4 kW tape", Instrument::Guessed, "62 ± 4 kW tape");
}

#[test]
fn the_owner_sets_widths() {
    let mut own = Instruments::usual();
    own.set(
        Instrument::Tape,
        HalfWidth::<Length>::parse("5", Some(Unit::mm())).expect("a width"),
    );
    own.set(
        Instrument::Guessed,
        HalfWidth::<Length>::parse("20 %", None).expect("a share"),
    );
    let half = |instrument, mm| {
        let width = own.get::<Length>(instrument).expect("a width of a length");
        (width.of(Length::mm(mm)).to_mm() * 1e9).round() / 1e9
    };
    assert_eq!(half(Instrument::Tape, 900.0), 5.0);
    assert_eq!(half(Instrument::Guessed, -100.0), 20.0);
    assert_eq!(half(Instrument::Caliper, 900.0), 0.1);
    assert_eq!(Instruments::none().get::<Length>(Instrument::Caliper), None);
    let refused = |text| {
        HalfWidth::<Length>::parse(text, Some(Unit::mm()))
            .expect_err("no width")
            .message
    };
    assert_eq!(refused("-3 mm"), "-3 mm is no tolerance: it is over 0");
    assert_eq!(refused("0 %"), "0 % is no tolerance: it is over 0");
    assert_eq!(
        refused("3 bar"),
        "bar is a pressure; a length is due: mm, cm, m, in or ft"
    );
}

/// Every kind has a width for what stands on a plate, in a drawing or a maker's sheet, and for a guess.
#[test]
fn plates_and_guesses_have_widths_for_every_kind() {
    fn one<Q: Quantity>() {
        let usual = Instruments::usual();
        let guess = usual
            .get::<Q>(Instrument::Guessed)
            .expect("a width for a guess");
        for instrument in [Instrument::Plate, Instrument::Drawing, Instrument::Maker] {
            let read = usual
                .get::<Q>(instrument)
                .expect("a width for what is printed");
            assert!(
                read.at_least <= guess.at_least && read.share <= guess.share,
                "{:?}",
                Q::KIND
            );
            assert!(
                read.at_least.si() > 0.0 || read.share.si() > 0.0,
                "{:?}",
                Q::KIND
            );
        }
    }
    crate::round_trip::for_every_kind!(one);
}

#[test]
fn intervals_are_cut_where_the_scale_ends() {
    let cold = Measured::plus_minus(
        Temperature::of_si(1.0),
        TemperatureDifference::kelvin(3.0),
        Origin::Computed,
    );
    assert_eq!((cold.low.si(), cold.high.si()), (0.0, 4.0));
    assert_eq!(cold.half_width(), TemperatureDifference::kelvin(2.0));
    let swapped = Measured::between(Length::mm(42.0), Length::mm(40.0), Origin::Computed);
    assert_eq!(
        (swapped.low, swapped.value, swapped.high),
        (Length::mm(40.0), Length::mm(41.0), Length::mm(42.0))
    );
    assert_eq!(
        Measured::new(
            Length::mm(2.0),
            Length::mm(1.0),
            Length::mm(3.0),
            Origin::Table
        ),
        None
    );
    let exact = Measured::exact(Length::mm(2.0), Origin::Table);
    assert_eq!(exact.half_width(), Length::mm(0.0));
    assert_eq!(exact.standard_uncertainty(), 0.0);
}

/// JCGM 100:2008 (GUM), 4.3.7 and its example 4.4.5: limits of half width a have the standard uncertainty a/√3.
#[test]
fn limits_have_a_rectangular_spread() {
    let measured = Measured::plus_minus(
        Length::mm(41.8),
        Length::mm(0.3),
        Origin::Read(Instrument::Caliper),
    );
    assert!((measured.standard_uncertainty() - 0.3e-3 / 3_f64.sqrt()).abs() < 1e-15);
}
