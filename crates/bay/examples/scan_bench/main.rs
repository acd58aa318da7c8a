//! Times what a scan costs: distances with and without a bound, what is taken solid behind it, a
//! hand's way through it, and its import. `cargo run -p bay --example scan_bench [name …]`,
//! where a name may be that of an STL file in metres.
//! The times are those of the processor, where the system tells them.
#![allow(
    clippy::disallowed_macros,
    clippy::disallowed_methods,
    clippy::disallowed_types
)]

use std::time::{Duration, Instant};

use bay::Vec3;
use bay::access::{Flood, Hatch, Obstacle};
use bay::scan::{Raw, Unit, Wish, ready};
use bay::solid::{Behind, Bounds, Mesh, Shape};

#[path = "../plain/stl.rs"]
mod stl;

#[path = "../../tests/it/kit.rs"]
#[allow(dead_code)] // The tests' surfaces and draws; some of them are needed.
mod kit;

use kit::{Draw, Surface, at, ball};

const FREE: f64 = f64::INFINITY;

/// A watch that counts what the processor worked, so that others at work disturb it little.
struct Watch(Duration, Instant);

impl Watch {
    fn worked() -> Option<Duration> {
        let told = std::fs::read_to_string("/proc/self/schedstat").ok()?;
        Some(Duration::from_nanos(
            told.split_whitespace().next()?.parse().ok()?,
        ))
    }

    fn start() -> Self {
        Self(Self::worked().unwrap_or_default(), Instant::now())
    }

    fn elapsed(&self) -> Duration {
        Self::worked().map_or_else(|| self.1.elapsed(), |now| now - self.0)
    }
}

fn mesh(surface: &Surface) -> Mesh {
    Mesh::new(&surface.corners, &surface.triangles, Behind::Solid).expect("a mesh")
}

fn both(mut one: Surface, other: &Surface) -> Surface {
    let start = one.corners.len() as u32;
    one.corners.extend(&other.corners);
    let more = other.triangles.iter();
    one.triangles
        .extend(more.map(|names| names.map(|name| name + start)));
    one
}

/// A lumpy closed ball of 50 000 triangles, 0.9 m across.
fn engine() -> Surface {
    ball(Vec3::ZERO, 0.45, 0.3, 157, 160)
}

/// The same seen from above, in a room seen from within whose lid is off.
fn bay() -> Surface {
    let seen = ball(Vec3::ZERO, 0.45, 0.3, 120, 130).without(|p| p.z < -0.15);
    let mut room = ball(Vec3::ZERO, 1.0, 0.0, 100, 110).without(|p| p.z > 0.5);
    for names in &mut room.triangles {
        names.swap(1, 2);
    }
    both(seen, &room)
}

/// A floor of 2 m with half an engine on it, seen from above.
fn floor() -> Surface {
    let n = 150_u32;
    let mut corners = Vec::new();
    let mut triangles = Vec::new();
    for j in 0..=n {
        for i in 0..=n {
            let along = |k: u32| 2.0 * f64::from(k) / f64::from(n) - 1.0;
            let (x, y) = (along(i), along(j));
            let high = (0.2 - x * x - y * y).max(0.0).sqrt();
            corners.push(at(x, y, high));
            if i < n && j < n {
                let k = j * (n + 1) + i;
                triangles.push([k, k + 1, k + n + 2]);
                triangles.push([k, k + n + 2, k + n + 1]);
            }
        }
    }
    Surface { corners, triangles }
}

fn spread(count: usize, reach: f64) -> Vec<(Vec3, Vec3)> {
    let mut draw = Draw(11);
    (0..count)
        .map(|_| {
            let a = draw.place(reach);
            (a, a + draw.place(1.0).normalize() * 0.06)
        })
        .collect()
}

/// Pieces of 12 mm along a hose that keeps 40 mm off the surface.
fn hose(mesh: &Mesh, count: usize) -> Vec<(Vec3, Vec3)> {
    let along = |k: usize| {
        let turn = k as f64 / count as f64;
        let (phi, theta) = (4.0 * turn, 1.2 + 0.8 * turn);
        let out = at(
            theta.sin() * phi.cos(),
            theta.sin() * phi.sin(),
            theta.cos(),
        );
        let mut far = 1.0;
        for _ in 0..40 {
            far -= 0.9 * (mesh.gap(out * far, out * far, FREE).expect("no bound") - 0.04);
        }
        out * far
    };
    let points: Vec<Vec3> = (0..=count).map(along).collect();
    points.windows(2).map(|pair| (pair[0], pair[1])).collect()
}

/// Asks all pieces, at most for twenty seconds; gives how many were near and the time of each in µs.
fn each(mesh: &Mesh, pieces: &[(Vec3, Vec3)], within: f64) -> (usize, usize, f64) {
    let start = Watch::start();
    let (mut asked, mut near) = (0, 0);
    for (a, b) in pieces {
        near += usize::from(mesh.near(*a, *b, within).is_some());
        asked += 1;
        if asked % 64 == 0 && start.elapsed() > Duration::from_secs(20) {
            break;
        }
    }
    let each = start.elapsed().as_secs_f64() * 1e6 / f64::from(asked as u32);
    (asked, near, each)
}

fn told(what: &str, (asked, near, each): (usize, usize, f64)) {
    println!("{what}: {asked} asked, {near} near, {each:.2} µs each");
}

fn distances() {
    let mesh = mesh(&engine());
    let all = each(&mesh, &spread(100_000, 0.8), FREE);
    told("unbounded, all over the bay", all);
    let pieces = hose(&mesh, 1000);
    let many: Vec<_> = (0..20).flat_map(|_| pieces.iter().copied()).collect();
    told("unbounded, along the hose", each(&mesh, &many, FREE));
    for (name, within) in [("clear", 0.034), ("touching", 0.05)] {
        let found = each(&mesh, &many, within);
        told(&format!("along a {name} hose"), found);
        println!("  {:.1} times as fast as all over the bay", all.2 / found.2);
    }
}

fn solid() {
    let open = engine().without(|p| p.z < -0.15);
    for (name, surface) in [("engine", open), ("bay", bay()), ("floor", floor())] {
        let mesh = mesh(&surface);
        println!("{name}: {} triangles, level {:?}", mesh.len(), mesh.level());
        told("  capsules", each(&mesh, &spread(10_000, 0.8), 0.05));
        told(
            "  points",
            each(
                &mesh,
                &spread(10_000, 0.8)
                    .into_iter()
                    .map(|(a, _)| (a, a))
                    .collect::<Vec<_>>(),
                0.05,
            ),
        );
        let start = Watch::start();
        let mut seen = 0;
        for (a, b) in spread(2_000, 0.8) {
            seen += usize::from(!mesh.blocks(a, b + (b - a) * 5.0));
            if start.elapsed() > Duration::from_secs(20) {
                break;
            }
        }
        println!("  2000 sights, {seen} clear: {:.2?}", start.elapsed());
        let shape = Shape::Mesh(std::sync::Arc::new(mesh));
        let obstacles = [Obstacle {
            name: "scan",
            shape: &shape,
        }];
        let hatch = Hatch {
            at: at(0.0, 0.55, 0.35),
            radius: 0.2,
        };
        let box_of = Bounds::of([at(-0.8, -0.8, -0.8), at(0.8, 0.8, 0.8)]);
        let start = Watch::start();
        let flood = Flood::new(&obstacles, Some(hatch), box_of, 0.045);
        println!(
            "  flood: {:.2?}, {:?}",
            start.elapsed(),
            flood.reaches(at(0.65, 0.0, 0.3))
        );
    }
}

/// An open, lumpy and rough surface of 100 000 triangles in mm, with a thousand specks about it.
fn import() {
    let mut draw = Draw(31);
    let mut surface = ball(Vec3::ZERO, 0.45, 0.3, 261, 264).without(|p| p.z > 0.3);
    for corner in &mut surface.corners {
        *corner += draw.place(0.0005);
    }
    let mut flat = surface.flat();
    for _ in 0..1000 {
        let a = draw.place(0.6);
        flat.push([a, a + draw.place(0.003), a + draw.place(0.003)]);
    }
    let count = flat.len() as u32;
    let corners = flat.into_iter().flatten().map(|corner| corner * 1000.0);
    let scan = Raw {
        corners: corners.collect(),
        triangles: (0..count).map(|k| [3 * k, 3 * k + 1, 3 * k + 2]).collect(),
    };
    let wish = Wish::usual(Unit::Metres(0.001), Behind::Solid);
    for _ in 0..5 {
        let start = Watch::start();
        let found = ready(&scan, &wish).expect("a scan");
        println!(
            "import of {} triangles: {:.2?}, {:?}",
            found.read,
            start.elapsed(),
            found.thinned
        );
    }
}

/// A scan out of a file, taken solid behind: pieces all over its box, and a hand from above.
fn file(path: &str) {
    let bytes = std::fs::read(path).expect("a file");
    let corners = stl::corners(&bytes).expect("triangles");
    let triangles = (0..corners.len() as u32 / 3).map(|k| [3 * k, 3 * k + 1, 3 * k + 2]);
    let scan = Raw {
        triangles: triangles.collect(),
        corners,
    };
    let start = Watch::start();
    let wish = Wish::usual(Unit::Metres(1.0), Behind::Solid);
    let found = ready(&scan, &wish).expect("a scan");
    println!("{path}: {:.2?}, {:?}", start.elapsed(), found.thinned);
    let mesh = found.mesh;
    println!("  {} triangles, level {:?}", mesh.len(), mesh.level());
    let (low, high) = (found.bounds.low, found.bounds.high);
    let mut draw = Draw(12);
    let pieces: Vec<_> = (0..10_000)
        .map(|_| {
            let share = draw.place(0.5) + Vec3::splat(0.5);
            let a = low + (high - low) * share;
            (a, a + draw.place(1.0).normalize() * 0.06)
        })
        .collect();
    told("  capsules", each(&mesh, &pieces, 0.05));
    let shape = Shape::Mesh(std::sync::Arc::new(mesh));
    let obstacles = [Obstacle {
        name: "scan",
        shape: &shape,
    }];
    let middle = (low + high) * 0.5;
    let hatch = Hatch {
        at: at(middle.x, middle.y, high.z - 0.1),
        radius: 0.3,
    };
    let start = Watch::start();
    let flood = Flood::new(&obstacles, Some(hatch), found.bounds, 0.045);
    println!(
        "  flood: {:.2?}, {:?}",
        start.elapsed(),
        flood.reaches(middle)
    );
}

fn main() {
    let asked: Vec<String> = std::env::args().skip(1).collect();
    for path in asked.iter().filter(|of| of.ends_with(".stl")) {
        file(path);
    }
    let wanted = |name: &str| asked.is_empty() || asked.iter().any(|of| of == name);
    if wanted("distances") {
        distances();
    }
    if wanted("solid") {
        solid();
    }
    if wanted("import") {
        import();
    }
}
