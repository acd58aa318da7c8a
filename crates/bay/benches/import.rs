//! From the hundred thousand triangles of a file, each with corners of its own, to a mesh that
//! answers: welded, specks out, thinned to fifty thousand, tree and sides.

use bay::Vec3;
use bay::scan::{Raw, Unit, Wish, ready};
use bay::solid::Behind;

#[path = "../tests/it/kit.rs"]
#[allow(dead_code)] // The tests' surfaces and draws; the bench needs some of them.
mod kit;

use kit::{Draw, Surface, at, ball};

fn main() {
    divan::main();
}

/// An open, lumpy and rough surface of 100 000 triangles in mm, with a thousand specks about it.
fn scan() -> Raw {
    let mut draw = Draw(31);
    let open = |p: Vec3| p.z > 0.3;
    let mut surface: Surface = ball(Vec3::ZERO, 0.45, 0.3, 261, 264).without(open);
    for corner in &mut surface.corners {
        *corner += draw.place(0.0005);
    }
    let mut flat = surface.flat();
    for _ in 0..1000 {
        let a = draw.place(0.6);
        flat.push([a, a + draw.place(0.003), a + draw.place(0.003)]);
    }
    let count = flat.len() as u32;
    let corners: Vec<Vec3> = flat
        .into_iter()
        .flatten()
        .map(|corner| corner * 1000.0)
        .collect();
    let triangles = (0..count).map(|k| [3 * k, 3 * k + 1, 3 * k + 2]).collect();
    Raw { corners, triangles }
}

#[divan::bench(sample_count = 20)]
fn hundred_thousand_triangles(bencher: divan::Bencher<'_, '_>) {
    let scan = scan();
    let wish = Wish::usual(Unit::Metres(0.001), Behind::Solid);
    let found = ready(&scan, &wish).expect("a scan");
    let thinned = found.thinned.expect("it is thinned");
    assert!(
        found.read >= 100_000 && found.specks.parts >= 1000,
        "{}",
        found.read
    );
    assert!(
        thinned.after <= 50_000 && thinned.error < 0.002,
        "{thinned:?}"
    );
    bencher.bench_local(|| ready(&scan, &wish).expect("a scan"));
}

#[divan::bench(sample_count = 20)]
fn without_thinning(bencher: divan::Bencher<'_, '_>) {
    let scan = scan();
    let wish = Wish {
        most: usize::MAX,
        ..Wish::usual(Unit::Metres(0.001), Behind::Solid)
    };
    let place = at(0.0, 0.0, 0.0);
    bencher.bench_local(|| {
        let found = ready(&scan, &wish).expect("a scan");
        found.mesh.near(place, place, f64::INFINITY)
    });
}
