//! One hose of sixty joints in free air: from all starts, and from a shape it had before.

use bay::Vec3;
use bay::rod::{End, OpenAir, Rod, settle, settle_from};

fn main() {
    divan::main();
}

/// A full hose of 38 mm from a level port to one that looks up.
fn hose() -> Rod {
    Rod::between(
        End {
            at: Vec3::ZERO,
            along: Vec3::X,
        },
        End {
            at: Vec3::new(0.4, 0.1, 0.15),
            along: Vec3::Z,
        },
        0.75,
        1.2,
        17.0,
    )
}

#[divan::bench]
fn all_starts(bencher: divan::Bencher<'_, '_>) {
    let rod = hose();
    bencher.bench(|| settle(divan::black_box(&rod), &OpenAir));
}

#[divan::bench]
fn warm(bencher: divan::Bencher<'_, '_>) {
    let rod = hose();
    let Ok(lays) = settle(&rod, &OpenAir) else {
        return;
    };
    let Some(before) = lays.first() else { return };
    let mut longer = rod;
    longer.length += 0.005;
    bencher.bench(|| settle_from(divan::black_box(&longer), &OpenAir, before));
}
