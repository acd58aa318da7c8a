//! All tools about all clips of a bay as large as a boat's: 15 hoses with a clip at each end, among a scan
//! of fifty thousand triangles, a hull of plates and a few pipes.

use bay::Vec3;
use bay::access::{Clip, Flood, Hatch, Housing, How, Tool, Which, obstacles, reach, usual};
use bay::clock::ClipFrame;
use bay::sequence::{Fitting, Hose};
use bay::solid::{Behind, Body, Bounds, Mesh, Shape, Space};

#[path = "../tests/it/kit.rs"]
#[allow(dead_code)] // The tests' surfaces and draws; the bench needs some of them.
mod kit;

use kit::{Draw, at, ball};

fn main() {
    divan::main();
}

struct Bay {
    space: Space,
    hoses: Vec<Hose>,
}

fn bay(behind: Behind) -> Bay {
    let surface = ball(Vec3::ZERO, 0.40, 0.3, 157, 160);
    let mesh = Mesh::new(&surface.corners, &surface.triangles, behind).expect("a mesh");
    let mut bodies = vec![Body::solid(
        "engine",
        Shape::Mesh(std::sync::Arc::new(mesh)),
    )];
    for (name, x, y) in [
        ("fore", 0.9, 0.0),
        ("aft", -0.9, 0.0),
        ("port", 0.0, 0.75),
        ("starboard", 0.0, -0.75),
    ] {
        bodies.push(Body::solid(
            name,
            Shape::upright_box(
                at(x, y, 0.0),
                if y == 0.0 {
                    at(0.02, 0.8, 0.6)
                } else {
                    at(0.9, 0.02, 0.6)
                },
            ),
        ));
    }
    let mut draw = Draw(5);
    for n in 0..12 {
        let middle = draw.place(1.0).normalize() * 0.62;
        let way = draw.place(1.0).normalize() * 0.3;
        bodies.push(Body::solid(
            format!("pipe {n}"),
            Shape::Cylinder {
                a: middle - way,
                b: middle + way,
                radius: 0.02,
            },
        ));
    }
    let hoses = (0..15)
        .map(|n| {
            // From the engine out, over and to the hull.
            let from = draw.place(1.0).normalize() * 0.55;
            let out = from.normalize();
            let to = draw.place(1.0).normalize() * 0.60;
            let points: Vec<Vec3> = (0..=60)
                .map(|k| {
                    let t = f64::from(k) / 60.0;
                    let along = (from * (1.0 - t) + to * t).normalize();
                    along * (0.55 + 0.08 * (t * std::f64::consts::PI).sin())
                })
                .collect();
            let clip = |at: Vec3, axis: Vec3| Clip {
                frame: ClipFrame::new(at, axis, Vec3::X).expect("a frame"),
                od: 0.044,
                housing: Some(Housing::default()),
                works: None,
            };
            Hose {
                name: format!("hose {n}"),
                clips: vec![
                    clip(from, out),
                    clip(to, (points[58] - points[60]).normalize()),
                ],
                shape: Shape::Tube {
                    points,
                    radius: 0.022,
                },
            }
        })
        .collect();
    Bay {
        space: Space::new(bodies),
        hoses,
    }
}

fn sweeps(bay: &Bay, tools: &[Tool], which: Which) -> [usize; 2] {
    let how = How {
        which,
        ..How::default()
    };
    let mut counts = [0; 2];
    for hose in &bay.hoses {
        let among = obstacles(
            &bay.space,
            bay.hoses
                .iter()
                .map(|hose| (hose.name.as_str(), &hose.shape)),
            &hose.name,
        );
        for clip in &hose.clips {
            for reach in reach(clip, tools, &among, how) {
                counts[usize::from(reach.best().is_some())] += 1;
            }
        }
    }
    counts
}

#[divan::bench(args = ["free", "solid"], sample_count = 3)]
fn every_clip(bencher: divan::Bencher<'_, '_>, behind: &str) {
    let bay = bay(if behind == "free" {
        Behind::Free
    } else {
        Behind::Solid
    });
    bencher.bench_local(|| sweeps(&bay, &usual(), Which::FlexibleLast));
}

#[divan::bench(sample_count = 3)]
fn every_clip_every_tool(bencher: divan::Bencher<'_, '_>) {
    let bay = bay(Behind::Solid);
    bencher.bench_local(|| sweeps(&bay, &usual(), Which::Every));
}

#[divan::bench(args = 0..usual().len(), sample_count = 3)]
fn every_clip_one_tool(bencher: divan::Bencher<'_, '_>, number: usize) {
    let bay = bay(Behind::Solid);
    let tools = usual();
    let tools = tools.get(number..=number).expect("a tool");
    bencher.bench_local(|| sweeps(&bay, tools, Which::Every));
}

#[divan::bench(sample_count = 3)]
fn an_order_of_fitting(bencher: divan::Bencher<'_, '_>) {
    let bay = bay(Behind::Solid);
    let tools = usual();
    let fitting = Fitting {
        space: &bay.space,
        hoses: &bay.hoses,
        tools: &tools,
        fineness: How::default().fineness,
    };
    bencher.bench_local(|| fitting.order());
}

#[divan::bench(sample_count = 3)]
fn a_hand_from_the_hatch(bencher: divan::Bencher<'_, '_>) {
    let bay = bay(Behind::Solid);
    let among = obstacles(
        &bay.space,
        bay.hoses
            .iter()
            .map(|hose| (hose.name.as_str(), &hose.shape)),
        "",
    );
    let hatch = Hatch {
        at: at(0.0, 0.0, 0.85),
        radius: 0.1,
    };
    let bounds = Bounds::of([at(-0.9, -0.75, -0.6), at(0.9, 0.75, 0.9)]);
    bencher.bench_local(|| Flood::new(&among, Some(hatch), bounds, 0.045));
}
