//! Heat: no steps where regimes meet, both ways agree, and nothing past the sources.

use quantity::{
    AbsolutePressure, HeatPerKelvin, Length, Quantity, Ratio, Temperature, TemperatureDifference,
    ThermalConductivity, ThermalExpansion,
};
use reference::Unknown;
use reference::conduct::{self, Dirt, Wall};
use reference::exchanger::{self, Arrangement, Units};
use reference::{film, seawater, water};

#[track_caller]
fn near(a: f64, b: f64, share: f64) {
    let away = (a - b).abs();
    assert!(
        away <= share * a.abs().max(b.abs()),
        "{a} and {b} are {away} apart"
    );
}

#[track_caller]
fn unknown<T: std::fmt::Debug>(answer: Result<T, Unknown>) {
    let unknown = answer.expect_err("nothing was published there");
    assert!(!unknown.why.is_empty() && !unknown.settles.is_empty());
}

fn kelvin(value: f64) -> TemperatureDifference {
    TemperatureDifference::kelvin(value)
}

#[test]
fn the_film_inside_has_no_step() {
    for (pr, short) in [(2.0, 0.0), (12.0, 0.02), (120.0, 0.1)] {
        let at = |re| film::inside(re, pr, short).expect("a film");
        for edge in [film::LAMINAR_UP_TO, film::TURBULENT_FROM] {
            near(at(edge * (1.0 - 1e-10)), at(edge * (1.0 + 1e-10)), 1e-8);
        }
        assert_eq!(at(0.0), 3.66);
    }
    unknown(film::inside(f64::NAN, 7.0, 0.0));
    unknown(film::inside(6e6, 7.0, 0.0));
    unknown(film::inside(3000.0, 0.4, 0.0));
    unknown(film::hausen(2301.0, 7.0, 0.0));
    unknown(film::gnielinski(2999.0, 7.0));
    unknown(film::dittus_boelter_cooled(9e3, 7.0));
    unknown(film::entrance_factor(1.5));
    unknown(film::wall_factor(7.0, 0.0));
    unknown(film::channel(1.01));
}

#[test]
fn a_flat_channel_is_no_pipe() {
    let flat = film::channel(0.0).expect("a channel");
    assert_eq!((flat.nusselt, flat.friction_re), (7.541, 96.0));
    let square = film::channel(1.0).expect("a channel");
    assert!(square.nusselt < 3.66 && film::channel_one_wall() > 3.66);
}

#[test]
fn coolers_one_behind_the_other_are_one_cooler() {
    let between = |fore, aft| film::plate_between(fore, aft, 9.0).expect("a film");
    near(
        between(0.0, 2e6) + between(2e6, 5e6),
        between(0.0, 5e6),
        1e-12,
    );
    // A cooler far aft has the thicker layer: less than one at the bow.
    assert!(between(5e6, 6e6) < 0.8 * between(0.0, 1e6));
    // A short piece far aft is the local law.
    let local = film::plate_local(5e6, 9.0).expect("a film");
    near(
        between(5e6 - 500.0, 5e6 + 500.0) * 5e6 / 1000.0,
        local,
        1e-6,
    );
    unknown(film::plate_between(3e6, 2e6, 9.0));
    unknown(film::plate_between(-1.0, 2e6, 9.0));
    unknown(film::plate_between(0.0, 2e8, 9.0));
    unknown(film::plate_local(1e5, 9.0));
}

#[test]
fn a_smooth_plate_steps_by_a_thousandth_at_most() {
    let at = |re| film::plate_smooth(re, 7.0).expect("a film");
    near(at(5e5), at(5e5 * (1.0 + 1e-9)), 1.5e-3);
    unknown(film::plate_smooth(-1.0, 7.0));
}

#[test]
fn still_water_under_a_flat_bottom_takes_much_less() {
    for ra in [1e6, 1e7, 1e8, 1e9] {
        let upright = film::still_upright(ra, 9.0).expect("a film");
        let under = film::still_under(ra, 9.0).expect("a film");
        let older = film::still_under_older(ra).expect("a film");
        assert!(under < 0.6 * upright && older < 0.6 * upright, "{ra}");
    }
    unknown(film::still_under(9e3, 9.0));
    unknown(film::still_under_older(2e10));
    unknown(film::still_upright(1.1e12, 9.0));
    unknown(film::still_pipe(-1.0, 9.0));
    unknown(film::still_pipe(1e5, 0.0));
}

#[test]
fn two_causes_are_never_less_than_the_stronger() {
    let both = |a, b| film::mixed(a, b).expect("a film");
    assert_eq!(both(0.0, 0.0), 0.0);
    assert_eq!(both(80.0, 0.0), 80.0);
    near(both(80.0, 80.0), 80.0 * 2.0_f64.cbrt(), 1e-12);
    near(both(30.0, 40.0), both(40.0, 30.0), 1e-15);
    unknown(film::mixed(-1.0, 2.0));
}

#[test]
fn warmth_stirs_with_the_cube_of_the_size() {
    let sea = seawater::fluid(Temperature::celsius(15.0), seawater::open_sea()).expect("sea");
    let beta = ThermalExpansion::per_k(2e-4);
    let of = |mm| film::rayleigh(&sea, beta, kelvin(20.0), Length::mm(mm)).expect("a number");
    near(of(100.0), 8.0 * of(50.0), 1e-12);
    let other = film::rayleigh(&sea, beta, kelvin(-20.0), Length::mm(50.0)).expect("a number");
    assert_eq!(other, of(50.0));
    let conductivity = ThermalConductivity::w_per_m_k(0.6);
    unknown(film::coefficient(5.0, conductivity, Length::mm(0.0)));
    let h = film::coefficient(3.66, conductivity, Length::mm(30.0)).expect("a film");
    near(h.to_w_per_m2_k(), 73.2, 1e-12);
}

#[test]
fn effectiveness_goes_both_ways() {
    for how in Arrangement::SAMPLES {
        for ratio in [0.0, 1e-6, 0.2, 0.5, 0.9, 0.999_999, 1.0] {
            let most = exchanger::most(how, ratio).expect("a limit");
            let mut before = -1.0;
            for units in [0.0, 1e-6, 0.05, 0.3, 1.0, 1.8, 3.0, 4.5] {
                let eps = exchanger::effectiveness(how, units, ratio).expect("an effectiveness");
                assert!(
                    eps > before && eps <= most,
                    "{how:?} {ratio} {units}: {eps}"
                );
                before = eps;
                match exchanger::units(how, eps, ratio) {
                    Ok(Units::Needed(back)) => {
                        // Near its limit the curve is flat and the way back loses digits.
                        let lost = 1e-9 + 1e-14 * units.exp().powi(2) / (most - eps).max(1e-12);
                        assert!(
                            (back - units).abs() < lost.max(1e-9),
                            "{how:?} {ratio} {units}: {back}"
                        );
                    }
                    other => panic!("{how:?} {ratio} {units}: {other:?}"),
                }
            }
        }
    }
}

#[test]
fn equal_streams_are_no_step() {
    for how in Arrangement::SAMPLES {
        for units in [0.2, 1.0, 3.0] {
            let at = |ratio| exchanger::effectiveness(how, units, ratio).expect("an effectiveness");
            near(at(1.0), at(1.0 - 1e-9), 1e-7);
            near(at(1e-10), at(1e-8), 1e-6);
        }
    }
}

#[test]
fn what_no_cooler_reaches_is_said_so() {
    let cases = [
        (Arrangement::Parallel, 0.5, 0.7, 2.0 / 3.0),
        (
            Arrangement::Shells(1),
            1.0,
            0.6,
            2.0 / (2.0 + 2.0_f64.sqrt()),
        ),
        (
            Arrangement::CrossLargerMixed,
            1.0,
            0.65,
            1.0 - (-1.0_f64).exp(),
        ),
        (Arrangement::Counter, 0.4, 1.0, 1.0),
    ];
    for (how, ratio, wanted, limit) in cases {
        match exchanger::units(how, wanted, ratio) {
            Ok(Units::NotReachable { most }) => near(most, limit, 1e-12),
            other => panic!("{how:?}: {other:?}"),
        }
        let below = exchanger::units(how, limit * 0.99, ratio);
        assert!(matches!(below, Ok(Units::Needed(units)) if units.is_finite()));
    }
    unknown(exchanger::units(Arrangement::Counter, 1.1, 0.5));
    unknown(exchanger::effectiveness(Arrangement::Counter, -0.1, 0.5));
    unknown(exchanger::effectiveness(Arrangement::Counter, 1.0, 1.5));
    unknown(exchanger::effectiveness(
        Arrangement::Counter,
        f64::NAN,
        0.5,
    ));
    unknown(exchanger::effectiveness(Arrangement::Shells(0), 1.0, 0.5));
}

#[test]
fn more_shells_come_nearer_to_counter_flow() {
    let at = |how| exchanger::effectiveness(how, 3.0, 0.8).expect("an effectiveness");
    let (one, two, four) = (
        at(Arrangement::Shells(1)),
        at(Arrangement::Shells(2)),
        at(Arrangement::Shells(4)),
    );
    assert!(one < two && two < four && four < at(Arrangement::Counter));
}

#[test]
fn heat_and_mean_difference_agree_for_counter_flow() {
    let (hot, cold) = (
        HeatPerKelvin::w_per_k(3000.0),
        HeatPerKelvin::w_per_k(4200.0),
    );
    let ua = HeatPerKelvin::w_per_k(2500.0);
    let matched = exchanger::matched(ua, cold, hot).expect("a match");
    assert_eq!(matched.smaller, hot);
    let eps = exchanger::effectiveness(Arrangement::Counter, matched.units, matched.ratio);
    let (hot_in, cold_in) = (Temperature::celsius(85.0), Temperature::celsius(20.0));
    let heat = exchanger::heat(eps.expect("one"), hot, hot_in, cold_in).expect("heat");
    let hot_out = hot_in - kelvin(heat.to_w() / 3000.0);
    let cold_out = cold_in + kelvin(heat.to_w() / 4200.0);
    let mean = exchanger::mean_difference(hot_in - cold_out, hot_out - cold_in).expect("a mean");
    near((ua * mean).to_w(), heat.to_w(), 1e-12);
    unknown(exchanger::matched(ua, hot, HeatPerKelvin::w_per_k(0.0)));
    unknown(exchanger::mean_difference(kelvin(5.0), kelvin(0.0)));
    unknown(exchanger::heat(1.2, hot, hot_in, cold_in));
    let half = exchanger::scaled(ua, 0.5, 0.6).expect("a UA");
    near(half.to_w_per_k(), 2500.0 * 0.5_f64.powf(0.6), 1e-12);
    unknown(exchanger::scaled(ua, -0.5, 0.6));
}

#[test]
fn equal_ends_have_no_step_in_their_mean() {
    let at = |other| exchanger::mean_difference(kelvin(10.0), kelvin(other)).expect("a mean");
    assert_eq!(at(10.0).to_kelvin(), 10.0);
    // Where the series hands over to the logarithm.
    let edge = 10.0 * (1.0 - 1e-3) / (1.0 + 1e-3);
    near(
        at(edge * (1.0 - 1e-9)).si(),
        at(edge * (1.0 + 1e-9)).si(),
        2e-9,
    );
}

#[test]
fn water_boils_at_the_pressure_at_which_it_boils() {
    for tenths in 0..3700 {
        let at = Temperature::celsius(f64::from(tenths) / 10.0 + 0.01);
        let under = water::boiling_pressure(at).expect("a pressure");
        let back = water::boiling_temperature(under).expect("a temperature");
        assert!((back - at).to_kelvin().abs() < 1e-7, "{at:?} {back:?}");
    }
    unknown(water::boiling_pressure(Temperature::celsius(-1.0)));
    unknown(water::boiling_pressure(Temperature::celsius(375.0)));
    unknown(water::boiling_temperature(AbsolutePressure::pa(600.0)));
    unknown(water::boiling_temperature(AbsolutePressure::bar(221.0)));
}

#[test]
fn expansion_is_the_slope_of_density() {
    for tenths in 1..1300 {
        let celsius = f64::from(tenths) / 10.0;
        let at = |away| Temperature::celsius(celsius + away);
        let fresh = |away| water::density(at(away)).expect("a density").si();
        let slope = (fresh(-0.01) - fresh(0.01)) / 0.02 / fresh(0.0);
        let beta = water::expansion(at(0.0)).expect("an expansion").si();
        assert!((slope - beta).abs() < 1e-9, "{celsius}: {slope} {beta}");
        if celsius < 119.0 {
            let salt = Ratio::of(0.03);
            let sea = |away| seawater::density(at(away), salt).expect("a density").si();
            let slope = (sea(-0.01) - sea(0.01)) / 0.02 / sea(0.0);
            let beta = seawater::expansion(at(0.0), salt)
                .expect("an expansion")
                .si();
            assert!((slope - beta).abs() < 1e-9, "{celsius}: {slope} {beta}");
        }
    }
    // Fresh water is heaviest near 4 °C.
    let beta = |celsius| {
        water::expansion(Temperature::celsius(celsius))
            .expect("one")
            .si()
    };
    assert!(beta(3.5) < 0.0 && beta(4.5) > 0.0);
}

#[test]
fn water_ends_where_its_fits_end() {
    for celsius in [-0.1, 130.1] {
        unknown(water::fluid(Temperature::celsius(celsius)));
    }
    unknown(seawater::fluid(
        Temperature::celsius(-1.0),
        Ratio::of(0.035),
    ));
    unknown(seawater::fluid(Temperature::celsius(10.0), Ratio::of(0.13)));
    unknown(seawater::density(
        Temperature::celsius(10.0),
        Ratio::of(-0.01),
    ));
    let water = water::fluid(Temperature::celsius(80.0)).expect("water");
    near(water.prandtl(), 2.22, 0.01);
}

#[test]
fn every_wall_has_its_row() {
    for wall in Wall::ALL {
        let row = conduct::conductivity(wall);
        assert!(row.value.low.si() > 0.0 && row.value.low <= row.value.high);
    }
    let low = |wall| conduct::conductivity(wall).value.low;
    assert!(low(Wall::Copper) > low(Wall::Steel) && low(Wall::Steel) > low(Wall::Paint));
}

#[test]
fn every_dirt_has_its_row_and_more_dirt_lets_less_through() {
    let low = |dirt| conduct::fouling(dirt).value.low;
    for dirt in Dirt::ALL {
        assert!(low(dirt).si() > 0.0);
    }
    assert!(low(Dirt::River) < low(Dirt::SeaWarm) && low(Dirt::SeaWarm) < low(Dirt::SeaCool));
}

#[test]
fn the_ends_of_a_range_belong_to_it() {
    for celsius in [0.0, 130.0] {
        assert!(water::fluid(Temperature::celsius(celsius)).is_ok());
    }
    for celsius in [0.0, 120.0] {
        assert!(seawater::fluid(Temperature::celsius(celsius), Ratio::of(0.12)).is_ok());
    }
}
