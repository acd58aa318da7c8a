//! What one property of a liquid costs: a network asks for them thousands of times.

use divan::{Bencher, black_box};
use quantity::{AbsolutePressure, Ratio, Temperature};
use reference::media::{self, Glycol, MassFraction, Strength, VolumeFraction};
use reference::{oil, seawater, water};

fn main() {
    // The tables are read once, when they are first asked for; that is no cost of a property.
    for glycol in Glycol::ALL {
        let read = (
            media::density(glycol, by_volume(), at()).is_ok(),
            media::freezes_at(glycol, by_volume()).is_ok(),
            media::boils_at(glycol, by_mass(), AbsolutePressure::bar(1.6)).is_ok(),
            media::density(glycol, by_mass(), at()).is_ok(),
            oil::fluid(at()).is_ok(),
        );
        assert_eq!(read, (true, true, true, true, true));
    }
    divan::main();
}

fn at() -> Temperature {
    black_box(Temperature::celsius(71.3))
}

fn by_volume() -> VolumeFraction {
    black_box(VolumeFraction::of(0.43).expect("a share"))
}

fn by_mass() -> MassFraction {
    black_box(MassFraction::of(0.43).expect("a share"))
}

fn glycol() -> Glycol {
    black_box(Glycol::Ethylene)
}

/// One group of benches of all properties of one way to count the strength.
macro_rules! mixes {
    ($group:ident, $strength:ident) => {
        mod $group {
            use super::*;

            #[divan::bench]
            fn density(bencher: Bencher) {
                bencher.bench(|| media::density(glycol(), $strength(), at()));
            }
            #[divan::bench]
            fn specific_heat(bencher: Bencher) {
                bencher.bench(|| media::specific_heat(glycol(), $strength(), at()));
            }
            #[divan::bench]
            fn thermal_conductivity(bencher: Bencher) {
                bencher.bench(|| media::thermal_conductivity(glycol(), $strength(), at()));
            }
            #[divan::bench]
            fn viscosity(bencher: Bencher) {
                bencher.bench(|| media::viscosity(glycol(), $strength(), at()));
            }
            #[divan::bench]
            fn expansion(bencher: Bencher) {
                bencher.bench(|| media::expansion(glycol(), $strength(), at()));
            }
            #[divan::bench]
            fn freezes_at(bencher: Bencher) {
                bencher.bench(|| media::freezes_at(glycol(), $strength()));
            }
            #[divan::bench]
            fn boils_at(bencher: Bencher) {
                let under = black_box(AbsolutePressure::bar(1.6));
                bencher.bench(|| media::boils_at(glycol(), $strength(), under));
            }
            #[divan::bench]
            fn vapour_pressure(bencher: Bencher) {
                bencher.bench(|| media::vapour_pressure(glycol(), $strength(), at()));
            }
        }
    };
}

mixes!(volume, by_volume);
mixes!(mass, by_mass);

#[divan::bench]
fn water_fluid(bencher: Bencher) {
    bencher.bench(|| water::fluid(at()));
}

#[divan::bench]
fn water_boiling_pressure(bencher: Bencher) {
    bencher.bench(|| water::boiling_pressure(at()));
}

#[divan::bench]
fn sea_fluid(bencher: Bencher) {
    let salt = Ratio::of(0.035);
    bencher.bench(|| seawater::fluid(at(), black_box(salt)));
}

#[divan::bench]
fn oil_fluid(bencher: Bencher) {
    bencher.bench(|| oil::fluid(at()));
}
