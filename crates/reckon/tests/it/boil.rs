//! How hot the mix boils: Raoult's law against print, and what must hold whatever the mix.

use proptest::prelude::*;
use reckon::solve::boil::{boils_at, mix_boils_at};
use reference::media::Glycol;

/// Source: ISO 2533:1975, standard atmosphere at sea level.
const AIR: f64 = 101_325.0;

fn celsius(pressure: f64, glycol: Glycol, share: f64) -> f64 {
    mix_boils_at(pressure, glycol, share).expect("within the range") - 273.15
}

#[test]
fn half_and_half_boils_as_everyone_says() {
    // The source of 108 °C stands with the row in `validation/boil_printed.csv`; 105 °C is from memory.
    let (ethylene, propylene) = (
        celsius(AIR, Glycol::Ethylene, 0.5),
        celsius(AIR, Glycol::Propylene, 0.5),
    );
    assert!((ethylene - 108.0).abs() <= 1.5, "{ethylene}");
    assert!((propylene - 105.0).abs() <= 1.5, "{propylene}");
}

#[test]
fn outside_its_range_nothing_is_said() {
    assert_eq!(mix_boils_at(AIR, Glycol::Ethylene, 0.61), None);
    assert_eq!(mix_boils_at(AIR, Glycol::Ethylene, -0.01), None);
    assert_eq!(mix_boils_at(AIR, Glycol::Ethylene, f64::NAN), None);
    assert_eq!(mix_boils_at(100.0, Glycol::Ethylene, 0.0), None);
    assert_eq!(mix_boils_at(23e6, Glycol::Ethylene, 0.3), None);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    #[test]
    fn without_glycol_it_is_water(pressure in 20e3..500e3_f64) {
        for glycol in [Glycol::Ethylene, Glycol::Propylene] {
            let water = boils_at(pressure).map_or(0.0, |kelvin| kelvin - 273.15);
            // The pressure is multiplied and divided by the same moles, which may turn its last digit.
            prop_assert!((celsius(pressure, glycol, 0.0) - water).abs() < 1e-9);
        }
    }

    #[test]
    fn more_glycol_and_more_pressure_boil_hotter(
        pressure in 20e3..500e3_f64, more in 1e3..100e3_f64,
        share in 0.0..0.55_f64, richer in 0.005..0.05_f64,
    ) {
        for glycol in [Glycol::Ethylene, Glycol::Propylene] {
            let here = celsius(pressure, glycol, share);
            prop_assert!(celsius(pressure + more, glycol, share) > here);
            prop_assert!(celsius(pressure, glycol, share + richer) > here);
        }
        // Of the lighter molecule there are more in a litre.
        if share > 0.0 {
            prop_assert!(celsius(pressure, Glycol::Ethylene, share) > celsius(pressure, Glycol::Propylene, share));
        }
    }
}
