//! What is taken solid behind a scan, and which way its parts are turned.

use bay::Vec3;
use bay::solid::{Behind, Bounds, Mesh, Shape};

use crate::kit::{Draw, Surface, at, ball};

const FREE: f64 = f64::INFINITY;

/// The faces of a cube of `edge` about `center`, outwards, each of `n` by `n` squares: those of which
/// the unit vector passes the test.
fn cube(center: Vec3, edge: f64, n: u32, seen: impl Fn(Vec3) -> bool) -> Surface {
    let mut surface = Surface {
        corners: Vec::new(),
        triangles: Vec::new(),
    };
    for (u, v) in [(Vec3::X, Vec3::Y), (Vec3::Y, Vec3::Z), (Vec3::Z, Vec3::X)] {
        for side in [1.0, -1.0] {
            let out = u.cross(v) * side;
            if !seen(out) {
                continue;
            }
            let (u, v) = if side > 0.0 { (u, v) } else { (v, u) };
            for j in 0..=n {
                for i in 0..=n {
                    let along = |k: u32| 2.0 * f64::from(k) / f64::from(n) - 1.0;
                    let p = center + (out + u * along(i) + v * along(j)) * (0.5 * edge);
                    surface.corners.push(p);
                }
            }
            let start = surface.corners.len() as u32 - (n + 1) * (n + 1);
            for j in 0..n {
                for i in 0..n {
                    let k = start + j * (n + 1) + i;
                    surface
                        .triangles
                        .extend([[k, k + 1, k + n + 2], [k, k + n + 2, k + n + 1]]);
                }
            }
        }
    }
    welded(surface)
}

/// The same with corners at one place made one.
fn welded(surface: Surface) -> Surface {
    let mut corners: Vec<Vec3> = Vec::new();
    let names: Vec<u32> = surface
        .corners
        .iter()
        .map(|corner| {
            let known = corners.iter().position(|of| of.distance(*corner) < 1e-9);
            known.unwrap_or_else(|| {
                corners.push(*corner);
                corners.len() - 1
            }) as u32
        })
        .collect();
    let triangles = surface.triangles.iter();
    Surface {
        triangles: triangles.map(|of| of.map(|k| names[k as usize])).collect(),
        corners,
    }
}

fn both(mut one: Surface, other: &Surface) -> Surface {
    let start = one.corners.len() as u32;
    one.corners.extend(&other.corners);
    let more = other.triangles.iter();
    one.triangles
        .extend(more.map(|names| names.map(|name| name + start)));
    one
}

fn turned(mut surface: Surface) -> Surface {
    for names in &mut surface.triangles {
        names.swap(1, 2);
    }
    surface
}

fn mesh(surface: &Surface) -> Mesh {
    Mesh::new(&surface.corners, &surface.triangles, Behind::Solid).expect("a mesh")
}

/// Turned about an odd axis.
fn askew(p: Vec3) -> Vec3 {
    let (axis, angle) = (at(0.3, -0.5, 0.8).normalize(), 0.7_f64);
    let along = axis * p.dot(axis);
    along + (p - along) * angle.cos() + axis.cross(p) * angle.sin()
}

#[test]
fn a_thing_seen_in_part_is_solid_all_through() {
    let edge = 0.5;
    // From the front and above, and round to both sides; bottom and back were not seen.
    let most = |out: Vec3| out.z > -0.5 && out.y < 0.5;
    // The top and the front alone.
    let few = |out: Vec3| out.z > 0.5 || out.y < -0.5;
    for (name, seen) in [("four", &most as &dyn Fn(Vec3) -> bool), ("two", &few)] {
        for turn in [false, true] {
            let mut surface = cube(Vec3::ZERO, edge, 12, seen);
            let place = |p: Vec3| if turn { askew(p) } else { p };
            for corner in &mut surface.corners {
                *corner = place(*corner);
            }
            let mesh = mesh(&surface);
            // Fifty millimetres over the unseen bottom, in the middle.
            let low = place(at(0.0, 0.0, -0.2));
            assert!(mesh.winding(low) < 0.5, "{name}: {}", mesh.winding(low));
            assert!(mesh.holds(low), "{name} {turn}: told free within");
            let near = mesh.near(low, low, 0.01).expect("within");
            if name == "four" {
                assert!((near.distance + 0.25).abs() < 1e-9, "{near:?}");
            }
            let mut draw = Draw(51);
            let (mut within, mut front) = (0, 0);
            for _ in 0..3000 {
                let p = draw.place(0.6);
                let most = p.abs().max_element();
                if most < 0.249 {
                    within += 1;
                    assert!(mesh.holds(place(p)), "{name} {turn}: {p} is free");
                } else if (p.z > 0.251 || p.y < -0.251) && name == "four" {
                    front += 1;
                    assert!(!mesh.holds(place(p)), "{name} {turn}: {p} is solid");
                }
            }
            assert!(within > 150 && (front > 500 || name == "two"));
        }
    }
}

#[test]
fn a_notch_that_was_seen_stays_free() {
    // An L: two cubes' worth of faces, seen from everywhere but from below.
    let step = |p: Vec3| at(p.x, p.y, if p.x > 0.0 { 0.25 } else { 0.0 });
    let n = 20_u32;
    let along = |k: u32| f64::from(k) / f64::from(n) - 0.5;
    let mut surface = Surface {
        corners: Vec::new(),
        triangles: Vec::new(),
    };
    let mut quad = |p: [Vec3; 4]| {
        let start = surface.corners.len() as u32;
        surface.corners.extend(p);
        surface
            .triangles
            .extend([[start, start + 1, start + 2], [start, start + 2, start + 3]]);
    };
    for j in 0..n {
        let (y0, y1) = (along(j), along(j + 1));
        for i in 0..n {
            let (x0, x1) = (along(i), along(i + 1));
            let high = step(at(0.5 * (x0 + x1), 0.0, 0.0)).z;
            let corner = |x: f64, y: f64| at(x, y, high);
            quad([
                corner(x0, y0),
                corner(x1, y0),
                corner(x1, y1),
                corner(x0, y1),
            ]);
        }
        // The riser of the step faces the low side; the outer sides reach half a metre down.
        let side = |x: f64, low: f64, high: f64| {
            [
                at(x, y1, low),
                at(x, y0, low),
                at(x, y0, high),
                at(x, y1, high),
            ]
        };
        quad(side(0.0, 0.0, 0.25));
        quad(side(-0.5, -0.5, 0.0));
        let [a, b, c, d] = side(0.5, -0.5, 0.25);
        quad([d, c, b, a]);
    }
    let mesh = mesh(&welded(surface));
    let low = at(0.2, 0.0, -0.4);
    assert!(mesh.holds(low) && mesh.holds(at(0.3, 0.2, 0.2)) && mesh.holds(at(-0.3, 0.1, -0.45)));
    for p in [
        at(-0.1, 0.0, 0.05),
        at(-0.3, 0.2, 0.1),
        at(-0.02, -0.3, 0.2),
        at(0.2, 0.0, 0.3),
        at(-0.6, 0.0, -0.2),
    ] {
        assert!(!mesh.holds(p), "{p}: {}", mesh.winding(p));
    }
}

#[test]
fn each_part_is_turned_by_itself() {
    let all = |_: Vec3| true;
    let small = || cube(at(1.0, 0.0, 0.0), 0.3, 2, all);
    let large = || cube(Vec3::ZERO, 1.0, 2, all);
    let (middle, aside) = (Vec3::ZERO, at(1.0, 0.0, 0.0));
    for (surface, odd) in [
        (both(large(), &small()), false),
        (both(large(), &turned(small())), true),
        (both(turned(large()), &small()), true),
    ] {
        let mesh = mesh(&surface);
        assert!(mesh.seams().closed() && mesh.turned() == odd);
        assert!(mesh.holds(middle) && mesh.holds(aside));
        assert!(!mesh.holds(at(0.7, 0.0, 0.0)) && !mesh.holds(at(1.3, 0.0, 0.0)));
        assert!((mesh.near(aside, aside, FREE).expect("no bound").distance + 0.15).abs() < 1e-12);
    }
    // One within the other is a cavity, whichever way the whole is turned.
    let hollow = || both(large(), &turned(cube(at(0.1, 0.0, 0.0), 0.3, 2, all)));
    for surface in [hollow(), turned(hollow())] {
        let mesh = mesh(&surface);
        assert!(!mesh.holds(at(0.1, 0.0, 0.0)) && mesh.holds(at(-0.4, 0.0, 0.0)));
        assert!((mesh.gap(middle, middle, FREE).expect("no bound") - 0.05).abs() < 1e-12);
    }
    // The same shape the right way out adds nothing.
    let full = mesh(&both(large(), &cube(at(0.1, 0.0, 0.0), 0.3, 2, all)));
    assert!(full.holds(at(0.1, 0.0, 0.0)) && !full.turned());
}

fn scans() -> Vec<(&'static str, Surface)> {
    let seen = |p: Vec3| p.z < -0.15;
    let room = || turned(ball(Vec3::ZERO, 0.8, 0.0, 20, 26).without(|p| p.z > 0.4));
    let engine = || ball(Vec3::ZERO, 0.3, 0.2, 24, 30).without(seen);
    let floor = cube(at(0.0, 0.0, -0.8), 1.6, 14, |out| out.z > 0.5);
    vec![
        ("engine", engine()),
        ("room", room()),
        ("engine in a room", both(engine(), &room())),
        ("floor", floor),
        ("closed", ball(Vec3::ZERO, 0.4, 0.2, 24, 30)),
    ]
}

#[test]
fn yes_and_no_are_those_of_the_distance() {
    for (name, surface) in scans() {
        for grown in [0.0, 0.007] {
            let mesh = mesh(&surface).grown(grown);
            let mut draw = Draw(52);
            let (mut yes, mut no) = (0, 0);
            for k in 0..400 {
                let a = draw.place(0.9);
                let b = if k % 3 == 0 { a } else { a + draw.place(0.1) };
                let radius = 0.03 * draw.next();
                let near = mesh.near(a, b, radius);
                let met = near.is_some_and(|near| near.distance < radius);
                assert_eq!(mesh.meets_or_behind(a, b, radius), met, "{name} {a} {b}");
                let most = mesh.at_most(a, b, radius);
                assert_eq!(most.is_some(), near.is_some(), "{name} {a} {b}");
                if let (Some(most), Some(near)) = (most, near) {
                    let deep = near.distance.abs() * 2e-4;
                    assert!(most >= near.distance - 3e-7 - deep, "{name} {a} {b}");
                    assert!(near.distance < -grown || (most - near.distance).abs() < 1e-12);
                }
                let line = draw.place(0.9);
                assert_eq!(
                    mesh.blocks(a, line),
                    mesh.near(a, line, 0.0).is_some(),
                    "{name} {a} {line}"
                );
                yes += i32::from(met);
                no += i32::from(!met);
            }
            assert!(yes > 10 && no > 10, "{name}: {yes} {no}");
        }
    }
}

#[test]
fn far_off_nothing_is_told() {
    for (name, surface) in scans() {
        let mesh = mesh(&surface);
        let bounds = mesh.bounds();
        let about = Bounds::of(surface.corners.iter().copied());
        let longest = (about.high - about.low).max_element();
        let size = bounds.high - bounds.low;
        assert!(
            size.max_element() <= 3.0 * longest + 1e-9,
            "{name}: {bounds:?}"
        );
        let far = at(0.3, 0.2, -7.0);
        assert!(!mesh.holds(far) && mesh.near(far, far, 1.0).is_none());
        assert!(Shape::Mesh(std::sync::Arc::new(mesh)).bounds() == bounds);
    }
}
