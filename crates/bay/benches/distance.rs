//! Distances of round pieces to a mesh of fifty thousand triangles: without a bound all over the
//! bay, and along a hose with the wanted clearance for a bound.

use bay::Vec3;
use bay::solid::{Behind, Mesh};

#[path = "../tests/it/kit.rs"]
#[allow(dead_code)] // The tests' surfaces and draws; the bench needs some of them.
mod kit;

use kit::{Draw, Surface, at, ball};

fn main() {
    divan::main();
}

/// Something like an engine: a lumpy closed ball of 50 000 triangles, 0.9 m across.
fn engine() -> Surface {
    ball(Vec3::ZERO, 0.45, 0.3, 157, 160)
}

fn mesh(surface: &Surface, behind: Behind) -> Mesh {
    Mesh::new(&surface.corners, &surface.triangles, behind).expect("a mesh")
}

const MANY: usize = 1000;

/// Pieces of 60 mm all over a bay of 1.6 m.
fn spread() -> Vec<(Vec3, Vec3)> {
    let mut draw = Draw(11);
    (0..MANY)
        .map(|_| {
            let a = draw.place(0.8);
            (a, a + draw.place(1.0).normalize() * 0.06)
        })
        .collect()
}

/// Pieces of 12 mm along a hose that lies 24 mm radius and a few mm over the surface.
fn hose(mesh: &Mesh) -> Vec<(Vec3, Vec3)> {
    let along = |k: usize| {
        let turn = k as f64 / MANY as f64;
        let (phi, theta) = (4.0 * turn, 1.2 + 0.8 * turn);
        let out = at(
            theta.sin() * phi.cos(),
            theta.sin() * phi.sin(),
            theta.cos(),
        );
        let mut far = 1.0;
        for _ in 0..40 {
            far -= 0.9
                * (mesh
                    .gap(out * far, out * far, f64::INFINITY)
                    .expect("no bound")
                    - 0.04);
        }
        out * far
    };
    let points: Vec<Vec3> = (0..=MANY).map(along).collect();
    points.windows(2).map(|pair| (pair[0], pair[1])).collect()
}

fn ask(mesh: &Mesh, pieces: &[(Vec3, Vec3)], within: f64) -> usize {
    pieces
        .iter()
        .filter(|(a, b)| mesh.near(*a, *b, within).is_some())
        .count()
}

#[divan::bench(args = ["free", "solid"])]
fn thousand_unbounded(bencher: divan::Bencher<'_, '_>, behind: &str) {
    let surface = engine();
    let behind = if behind == "free" {
        Behind::Free
    } else {
        Behind::Solid
    };
    let mesh = mesh(&surface, behind);
    let pieces = spread();
    bencher.bench_local(|| ask(&mesh, &pieces, f64::INFINITY));
}

#[divan::bench]
fn thousand_unbounded_open(bencher: divan::Bencher<'_, '_>) {
    let mesh = mesh(&engine().without(|p| p.z > 0.25), Behind::Solid);
    let pieces = spread();
    bencher.bench_local(|| ask(&mesh, &pieces, f64::INFINITY));
}

/// The hose's surface is 16 mm off, and 10 mm are wanted: 24 + 10 to the middle line.
#[divan::bench]
fn thousand_along_hose(bencher: divan::Bencher<'_, '_>) {
    let mesh = mesh(&engine(), Behind::Solid);
    let pieces = hose(&mesh);
    bencher.bench_local(|| ask(&mesh, &pieces, 0.034));
}

/// The same where the clearance is touched all along.
#[divan::bench]
fn thousand_along_touching_hose(bencher: divan::Bencher<'_, '_>) {
    let mesh = mesh(&engine(), Behind::Solid);
    let pieces = hose(&mesh);
    bencher.bench_local(|| ask(&mesh, &pieces, 0.05));
}

#[divan::bench]
fn thousand_along_touching_hose_open(bencher: divan::Bencher<'_, '_>) {
    let mesh = mesh(&engine().without(|p| p.z > 0.25), Behind::Solid);
    let pieces = hose(&mesh);
    bencher.bench_local(|| ask(&mesh, &pieces, 0.05));
}

#[divan::bench]
fn mesh_of_fifty_thousand(bencher: divan::Bencher<'_, '_>) {
    let surface = engine();
    bencher.bench_local(|| mesh(&surface, Behind::Solid));
}
