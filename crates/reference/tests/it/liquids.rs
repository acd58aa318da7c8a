//! Coolant and sea water: what validation rows ask, what must hold whatever the mix, and where the tables end.

use quantity::{AbsolutePressure, Concentration, Conductivity, Quantity, Ratio, Temperature};
use reference::media::{
    self, Glycol, MassFraction, Strength, VolumeFraction, boils_at, density, expansion, freezes_at,
    specific_heat, strength_for, thermal_conductivity, vapour_pressure, viscosity,
};
use reference::salt::{self, PracticalSalinity};
use reference::{Status, water};

use crate::rows::{Answer, Row};

fn glycol(row: &Row) -> Glycol {
    match row.text("glycol") {
        "ethylene" => Glycol::Ethylene,
        "propylene" => Glycol::Propylene,
        other => panic!("{}: glycol `{other}`", row.place),
    }
}

fn share<S: Strength>(row: &Row) -> S {
    S::of(row.number("share")).expect("a share")
}

fn at(row: &Row) -> Temperature {
    Temperature::celsius(row.number("celsius"))
}

fn salinity(row: &Row) -> PracticalSalinity {
    PracticalSalinity::of(row.number("salinity")).expect("a salinity")
}

pub(crate) fn answer(row: &Row) -> Option<Answer> {
    Some(Answer::Number(match row.function.as_str() {
        "freezes_by_mass" => freezes_at(glycol(row), share::<MassFraction>(row))
            .ok()?
            .value
            .to_celsius(),
        "freezes_by_volume" => freezes_at(glycol(row), share::<VolumeFraction>(row))
            .ok()?
            .value
            .to_celsius(),
        "density_by_mass" => density(glycol(row), share::<MassFraction>(row), at(row))
            .ok()?
            .value
            .to_kg_per_m3(),
        "density_by_volume" => density(glycol(row), share::<VolumeFraction>(row), at(row))
            .ok()?
            .value
            .to_kg_per_m3(),
        "heat_by_mass" => specific_heat(glycol(row), share::<MassFraction>(row), at(row))
            .ok()?
            .value
            .to_j_per_kg_k(),
        "heat_by_volume" => specific_heat(glycol(row), share::<VolumeFraction>(row), at(row))
            .ok()?
            .value
            .to_j_per_kg_k(),
        "conductivity_by_mass" => {
            thermal_conductivity(glycol(row), share::<MassFraction>(row), at(row))
                .ok()?
                .value
                .to_w_per_m_k()
        }
        "conductivity_by_volume" => {
            thermal_conductivity(glycol(row), share::<VolumeFraction>(row), at(row))
                .ok()?
                .value
                .to_w_per_m_k()
        }
        "viscosity_by_mass" => viscosity(glycol(row), share::<MassFraction>(row), at(row))
            .ok()?
            .value
            .to_mpa_s(),
        "viscosity_by_volume" => viscosity(glycol(row), share::<VolumeFraction>(row), at(row))
            .ok()?
            .value
            .to_mpa_s(),
        "mix_boils_at" => {
            let under = AbsolutePressure::bar(row.number("bar"));
            boils_at(glycol(row), share::<VolumeFraction>(row), under)
                .ok()?
                .value
                .to_celsius()
        }
        "mass_share" => share::<VolumeFraction>(row).to_mass(glycol(row)).share(),
        "salinity" => {
            let conductivity = Conductivity::ms_per_cm(row.number("ms_per_cm"));
            salt::salinity(conductivity, at(row)).ok()?.value.number()
        }
        "conductivity" => salt::conductivity(salinity(row), at(row))
            .ok()?
            .value
            .to_ms_per_cm(),
        "salt_density" => salt::sea_density(salinity(row), at(row))
            .ok()?
            .value
            .to_kg_per_m3(),
        "chloride" => salt::chloride(salinity(row), at(row))
            .ok()?
            .value
            .to_mg_per_l(),
        "chloride_by_mass" => salt::chloride_share(salinity(row)).value.to_f64() * 1e6,
        "chlorinity" => salt::chlorinity(salinity(row)).value.to_f64() * 1e3,
        _ => return None,
    }))
}

fn volume(share: f64) -> VolumeFraction {
    VolumeFraction::of(share).expect("a share")
}

fn mass(share: f64) -> MassFraction {
    MassFraction::of(share).expect("a share")
}

/// Freezing falls with strength all the way, and the way back gives the same share.
fn falls_and_turns_round<S: Strength>() {
    for glycol in Glycol::ALL {
        let mut before = f64::INFINITY;
        for step in 1..60 {
            let share = f64::from(step) / 100.0;
            let strength = S::of(share).expect("a share");
            let freezes = freezes_at(glycol, strength).expect("in the tables").value;
            assert!(freezes.to_celsius() < before, "{glycol:?} {share}");
            before = freezes.to_celsius();
            let back = strength_for::<S>(glycol, freezes)
                .expect("in the tables")
                .value;
            assert!(
                (back.share() - share).abs() < 1e-6,
                "{glycol:?} {share}: {}",
                back.share()
            );
        }
    }
}

#[test]
fn stronger_freezes_colder_and_the_way_back_is_the_same() {
    falls_and_turns_round::<VolumeFraction>();
    falls_and_turns_round::<MassFraction>();
}

#[test]
fn by_volume_and_by_mass_are_one_mix() {
    for glycol in Glycol::ALL {
        for step in 0..=100 {
            let share = volume(f64::from(step) / 100.0);
            let back = share.to_mass(glycol).to_volume(glycol);
            assert!((back.share() - share.share()).abs() < 1e-12);
            // Glycol is heavier than water.
            assert!(share.to_mass(glycol).share() >= share.share() - 1e-12);
        }
        // One table is of inhibited coolant, the other of pure glycol: close, and not the same.
        let at = Temperature::celsius(60.0);
        let share = volume(0.45);
        let one = density(glycol, share, at).expect("in the table").value;
        let other = density(glycol, share.to_mass(glycol), at)
            .expect("in the table")
            .value;
        let apart = one / other - 1.0;
        assert!((0.0..0.012).contains(&apart), "{glycol:?}: {apart}");
    }
}

#[test]
fn where_the_tables_end_nothing_is_said() {
    let warm = Temperature::celsius(60.0);
    for glycol in Glycol::ALL {
        assert!(freezes_at(glycol, volume(0.61)).is_err());
        assert!(freezes_at(glycol, mass(0.61)).is_err());
        assert!(strength_for::<VolumeFraction>(glycol, Temperature::celsius(-60.0)).is_err());
        assert!(strength_for::<MassFraction>(glycol, Temperature::celsius(-70.0)).is_err());
        assert_eq!(
            strength_for::<VolumeFraction>(glycol, Temperature::celsius(3.0))
                .map(|s| s.value.share()),
            Ok(0.0)
        );
        // Weaker than the table, stronger than it, hotter, colder, and ice.
        assert!(density(glycol, volume(0.09), warm).is_err());
        assert!(density(glycol, volume(0.61), warm).is_err());
        assert!(density(glycol, volume(0.4), Temperature::celsius(125.1)).is_err());
        assert!(density(glycol, volume(0.6), Temperature::celsius(-36.0)).is_err());
        assert!(density(glycol, volume(0.2), Temperature::celsius(-20.0)).is_err());
        assert!(density(glycol, mass(0.2), Temperature::celsius(-20.0)).is_err());
        assert!(density(glycol, mass(0.4), Temperature::celsius(101.0)).is_err());
        // The corners are in.
        assert!(density(glycol, volume(0.1), Temperature::celsius(0.0)).is_ok());
        assert!(density(glycol, volume(0.6), Temperature::celsius(125.0)).is_ok());
        assert!(density(glycol, volume(0.6), Temperature::celsius(-25.0)).is_ok());
        assert!(density(glycol, mass(0.0), Temperature::celsius(20.0)).is_ok());
    }
    assert!(VolumeFraction::of(1.01).is_none() && MassFraction::of(f64::NAN).is_none());
}

/// Half of a printed digit, and what the fit may add to it.
fn digits(worst: f64, printed: f64) {
    assert!(worst <= 2.0 * printed, "{worst}, printed to {printed}");
}

#[test]
fn what_is_worked_out_over_100_degrees_continues_what_is_printed() {
    for glycol in Glycol::ALL {
        for tenths in 1..=6 {
            let share = volume(f64::from(tenths) / 10.0);
            let at = |step: i32| Temperature::celsius(100.0 + 5.0 * f64::from(step));
            let third = |of: &dyn Fn(i32) -> f64, step: i32| {
                of(step + 3) - 3.0 * of(step + 2) + 3.0 * of(step + 1) - of(step)
            };
            let dense = |step| density(glycol, share, at(step)).expect("in").value.si();
            let heat = |step| {
                specific_heat(glycol, share, at(step))
                    .expect("in")
                    .value
                    .si()
            };
            let conducts = |step| {
                let found = thermal_conductivity(glycol, share, at(step));
                found.expect("in").value.si()
            };
            let thick = |step| {
                let found = viscosity(glycol, share, at(step));
                found.expect("in").value.to_mpa_s()
            };
            for step in -6..=2 {
                // Eight halves of the last digit may meet in a third difference, four in a second.
                digits(third(&dense, step).abs(), 4.0 * 0.005);
                digits(third(&conducts, step).abs(), 4.0 * 0.0005);
                let bend = heat(step + 2) - 2.0 * heat(step + 1) + heat(step);
                digits(bend.abs(), 2.0 * 0.5);
                assert!(thick(step + 1) < thick(step), "{glycol:?} {tenths}");
            }
            let status = |celsius| {
                let found = density(glycol, share, Temperature::celsius(celsius));
                found.expect("in").source.status
            };
            assert_eq!(status(100.0), Status::Printed);
            assert_eq!(status(100.1), Status::Calculated);
        }
    }
}

#[test]
fn a_mix_grows_as_its_density_says() {
    for glycol in Glycol::ALL {
        for celsius in [3.0, 21.0, 60.0, 97.0] {
            let at = Temperature::celsius(celsius);
            for tenths in [1.0, 3.5, 5.0, 6.0] {
                let by_volume = volume(tenths / 10.0);
                let by_mass = mass(tenths / 10.0);
                let grows = [
                    (
                        expansion(glycol, by_volume, at),
                        density(glycol, by_volume, at),
                    ),
                    (expansion(glycol, by_mass, at), density(glycol, by_mass, at)),
                ];
                for (grows, dense) in grows {
                    let (grows, dense) = (grows.expect("in").value, dense.expect("in").value);
                    assert!((5e-5..1.1e-3).contains(&grows.si()), "{grows:?} {dense:?}");
                }
            }
            // Over ten kelvins from a row to a row the growth is the mean of the slopes, to rounding.
            let dense = |celsius| {
                let found = density(glycol, volume(0.5), Temperature::celsius(celsius));
                found.expect("in").value.si()
            };
            let at = |celsius| {
                let found = expansion(glycol, volume(0.5), Temperature::celsius(celsius));
                found.expect("in").value.si()
            };
            let mean = (at(50.0) * dense(50.0) + at(60.0) * dense(60.0)) / 2.0 * 10.0;
            assert!((mean - (dense(50.0) - dense(60.0))).abs() < 0.02);
        }
        // The ends of the liquid take their steps inwards.
        for celsius in [0.0, 125.0] {
            assert!(expansion(glycol, volume(0.1), Temperature::celsius(celsius)).is_ok());
        }
        assert!(expansion(glycol, volume(0.1), Temperature::celsius(-1.0)).is_err());
        assert!(expansion(glycol, mass(0.3), Temperature::celsius(100.5)).is_err());
        // By mass, the derivative against the difference.
        let dense = |celsius| {
            let found = density(glycol, mass(0.4), Temperature::celsius(celsius));
            found.expect("in").value.si()
        };
        let grows = expansion(glycol, mass(0.4), Temperature::celsius(70.0));
        let expected = (dense(69.9) - dense(70.1)) / 0.2 / dense(70.0);
        assert!((grows.expect("in").value.si() / expected - 1.0).abs() < 1e-6);
    }
}

#[test]
fn more_glycol_and_more_pressure_boil_hotter() {
    // Source: ISO 2533:1975, standard atmosphere at sea level.
    let air = AbsolutePressure::pa(101_325.0);
    let bar = AbsolutePressure::bar;
    let hot = |glycol, share: f64, under| {
        let found = boils_at(glycol, volume(share), under);
        found.expect("in").value.si()
    };
    for glycol in Glycol::ALL {
        for tenths in 2..50 {
            let under = bar(f64::from(tenths) / 10.0);
            let water = water::boiling_temperature(under).expect("water").si();
            assert!((hot(glycol, 0.0, under) - water).abs() < 1e-9);
            for percent in (0..60).step_by(5) {
                let share = f64::from(percent) / 100.0;
                assert!(hot(glycol, share + 0.01, under) > hot(glycol, share, under));
                assert!(hot(glycol, share, bar(under.to_bar() + 0.05)) > hot(glycol, share, under));
            }
            // Of the lighter molecule there are more in a litre.
            assert!(hot(Glycol::Ethylene, 0.3, under) > hot(Glycol::Propylene, 0.3, under));
        }
        // The same mix counted by mass boils at the same temperature.
        let by_mass = volume(0.45).to_mass(glycol);
        let one = boils_at(glycol, by_mass, air).expect("in").value.si();
        assert!((one - hot(glycol, 0.45, air)).abs() < 1e-9);
        // What boils at a temperature has the pressure of its vapour there.
        let at = boils_at(glycol, volume(0.4), air).expect("in").value;
        let back = vapour_pressure(glycol, volume(0.4), at).expect("in").value;
        assert!((back.si() / air.si() - 1.0).abs() < 1e-8, "{back:?}");
        assert!(boils_at(glycol, volume(0.61), air).is_err());
        assert!(boils_at(glycol, mass(0.61), air).is_err());
        assert!(boils_at(glycol, volume(0.0), AbsolutePressure::pa(100.0)).is_err());
        assert!(boils_at(glycol, volume(0.3), AbsolutePressure::pa(23e6)).is_err());
        assert!(vapour_pressure(glycol, volume(0.3), Temperature::celsius(151.0)).is_err());
        assert!(vapour_pressure(glycol, volume(0.3), Temperature::celsius(-1.0)).is_err());
    }
}

#[test]
fn a_misprint_of_the_table_is_mended() {
    let of = |celsius| {
        let found = density(Glycol::Ethylene, volume(0.1), Temperature::celsius(celsius));
        found.expect("in the table").value.to_kg_per_m3()
    };
    let bend = of(25.0) - 2.0 * of(30.0) + of(35.0);
    assert!(bend.abs() < 0.2, "{bend}");
}

#[test]
fn limits_and_facts_of_coolant() {
    let percent = |id| {
        media::coolant_limit(id)
            .expect("a limit")
            .share
            .to_percent()
    };
    assert_eq!((percent("least"), percent("most")), (33.0, 60.0));
    assert_eq!(media::water_limits().len(), 4);
    for id in [
        "families",
        "waterless",
        "wrong-scale",
        "sea-reads-as-glycol",
        "hot-hydrometer",
        "after-the-stat",
    ] {
        assert!(
            media::coolant_facts().iter().any(|fact| fact.id == id),
            "{id}"
        );
    }
}

#[test]
fn salinity_and_conductivity_turn_round() {
    for celsius in [-1.0, 5.0, 15.0, 25.0, 34.0] {
        let at = Temperature::celsius(celsius);
        for tenths in 0..=420 {
            let wanted = PracticalSalinity::of(f64::from(tenths) / 10.0).expect("a salinity");
            let conductivity = salt::conductivity(wanted, at).expect("in the scale").value;
            let back = salt::salinity(conductivity, at);
            let Ok(back) = back else {
                // The very end of the scale may be missed by a hair.
                assert!(tenths == 420, "{tenths} at {celsius}");
                continue;
            };
            // Where the two formulas meet at 2 there is a step of a few thousandths.
            let close = if (19..=21).contains(&tenths) {
                0.01
            } else {
                1e-6
            };
            let found = back.value.number();
            assert!(
                (found - wanted.number()).abs() < close,
                "{tenths} at {celsius}: {found}"
            );
        }
    }
}

#[test]
fn chloride_and_salinity_turn_round() {
    let at = Temperature::celsius(20.0);
    for number in [0.0, 1.0, 7.0, 20.0, 35.0, 41.0] {
        let wanted = PracticalSalinity::of(number).expect("a salinity");
        let chloride = salt::chloride(wanted, at).expect("in range").value;
        let back = salt::salinity_of_chloride(chloride, at)
            .expect("in range")
            .value;
        assert!((back.number() - number).abs() < 1e-6);
        let chlorinity = salt::chlorinity(wanted).value;
        let back = salt::salinity_of_chlorinity(chlorinity)
            .expect("in range")
            .value;
        assert!((back.number() - number).abs() < 1e-9);
    }
    assert!(salt::salinity_of_chloride(Concentration::mg_per_l(30_000.0), at).is_err());
    assert!(salt::salinity_of_chlorinity(Ratio::of(0.03)).is_err());
}

#[test]
fn outside_the_scale_nothing_is_said() {
    let sea = Conductivity::ms_per_cm(42.9);
    assert!(salt::salinity(sea, Temperature::celsius(36.0)).is_err());
    assert!(salt::salinity(sea, Temperature::celsius(-3.0)).is_err());
    assert!(salt::salinity(Conductivity::ms_per_cm(80.0), Temperature::celsius(15.0)).is_err());
    assert!(salt::salinity(Conductivity::ms_per_cm(-1.0), Temperature::celsius(15.0)).is_err());
    assert!(PracticalSalinity::of(42.1).is_none());
    // Below 2 another source stands for it.
    let brackish = salt::salinity(Conductivity::ms_per_cm(2.0), Temperature::celsius(15.0));
    assert_eq!(brackish.expect("in the scale").source.id, "hill");
}

#[test]
fn every_formula_and_limit_of_sea_water_has_its_row() {
    assert_eq!(salt::standard_conductivity().value.to_ms_per_cm(), 42.914);
    assert!(salt::look_into_chloride().value.high < salt::act_on_chloride().value.low);
    for area in salt::sea_areas() {
        assert!(area.low < area.high, "{}", area.name);
    }
    assert_eq!(media::pure_density(None).value.to_kg_per_m3(), 998.2);
}
