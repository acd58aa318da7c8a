//! Meshes against all their triangles one by one, closed and open, with and without a bound.

use bay::Vec3;
use bay::solid::{Behind, Mesh, NoMesh, Seams};

use crate::kit::{Draw, Surface, at, ball, brute, brute_winding, least, on_triangle, ring};

const FREE: f64 = f64::INFINITY;

fn mesh(surface: &Surface, behind: Behind) -> Mesh {
    Mesh::new(&surface.corners, &surface.triangles, behind).expect("a mesh")
}

fn surfaces() -> Vec<(&'static str, Surface)> {
    let lid = |p: Vec3| p.z > 0.33;
    vec![
        ("ball", ball(at(0.1, -0.2, 0.05), 0.4, 0.15, 16, 24)),
        ("ring", ring(0.4, 0.13, 30, 14)),
        ("open ball", ball(Vec3::ZERO, 0.4, 0.1, 16, 24).without(lid)),
        ("half ring", ring(0.4, 0.13, 30, 14).without(|p| p.x > 0.1)),
    ]
}

/// A segment of a length between nothing and half a metre.
fn segment(draw: &mut Draw) -> (Vec3, Vec3) {
    let a = draw.place(0.8);
    let way = draw.place(0.3) * draw.next();
    (a, if draw.next() < 0.2 { a } else { a + way })
}

#[test]
fn unsigned_gaps_are_those_of_all_triangles() {
    let mut draw = Draw(1);
    for (name, surface) in surfaces() {
        let mesh = mesh(&surface, Behind::Free);
        let all = surface.flat();
        for _ in 0..60 {
            let (a, b) = segment(&mut draw);
            // To one triangle the distance is convex along the segment.
            let expected = all
                .iter()
                .map(|triangle| least(a, b, |p| on_triangle(p, *triangle).distance(p)))
                .fold(FREE, f64::min);
            let found = mesh.gap(a, b, FREE).expect("no bound");
            assert!(
                (found - expected).abs() < 1e-8,
                "{name}: {found} for {expected}"
            );
            // With a bound it is the same, or nothing.
            assert_eq!(
                mesh.gap(a, b, found * 1.000_001 + 1e-12),
                Some(found),
                "{name}"
            );
            if found > 1e-9 {
                assert_eq!(mesh.gap(a, b, found * 0.999_999), None, "{name}");
            }
        }
    }
}

#[test]
fn signs_of_points_are_those_of_the_winding() {
    let mut draw = Draw(2);
    for (name, surface) in surfaces() {
        let mesh = mesh(&surface, Behind::Solid);
        let all = surface.flat();
        let level = mesh.level().expect("one side is solid");
        assert!((level - 0.5).abs() < 1e-12, "{name}: {level}");
        let (mut inside, mut between) = (0, 0);
        for _ in 0..800 {
            let p = draw.place(0.6);
            let winding = brute_winding(p, &all);
            let found = mesh.winding(p);
            assert!(
                (found - winding).abs() < 0.03,
                "{name}: {found} for {winding}"
            );
            // In the shade of what was seen less will do.
            let shaded = !mesh.seams().closed() && winding > 0.02 && winding < level;
            if (winding - level).abs() < 0.03 || shaded {
                between += 1;
                continue;
            }
            let sign = if winding > level { -1.0 } else { 1.0 };
            inside += usize::from(winding > level);
            let near = mesh.near(p, p, FREE).expect("no bound");
            let expected = sign * brute(p, &all);
            assert!(
                (near.distance - expected).abs() < 1e-9,
                "{name}: {} for {expected}",
                near.distance
            );
            assert_eq!(mesh.holds(p), winding > level, "{name}");
            // What lies deep in the solid is told though no triangle is within the bound.
            assert_eq!(mesh.near(p, p, 0.01).is_some(), expected <= 0.01, "{name}");
            assert!((near.on_body + near.normal * near.distance - p).length() < 1e-9);
        }
        assert!(
            inside > 20 && between < 120,
            "{name}: {inside} inside, {between} between"
        );
    }
}

#[test]
fn signed_gaps_of_segments_are_the_least_of_their_points() {
    let mut draw = Draw(3);
    for (name, surface) in surfaces().into_iter().take(2) {
        let mesh = mesh(&surface, Behind::Solid);
        let all = surface.flat();
        let mut deep = 0;
        for _ in 0..50 {
            let (a, b) = segment(&mut draw);
            let (a, b) = (a * 0.6, b * 0.6);
            let steps = 150;
            let sampled = (0..=steps)
                .map(|k| a + (b - a) * (f64::from(k) / f64::from(steps)))
                .map(|p| {
                    brute(p, &all)
                        * if brute_winding(p, &all) > 0.5 {
                            -1.0
                        } else {
                            1.0
                        }
                })
                .fold(FREE, f64::min);
            let near = mesh.near(a, b, FREE).expect("no bound");
            // A ten-thousandth of the depth is not looked for.
            let share = 1e-4 * near.distance.abs();
            let fine = 0.5 * (b - a).length() / f64::from(steps) + 1e-7;
            assert!(
                near.distance <= sampled + 2e-7 + share,
                "{name}: {} for {sampled}",
                near.distance
            );
            assert!(
                near.distance >= sampled - fine,
                "{name}: {} for {sampled}",
                near.distance
            );
            assert!((near.on_body + near.normal * near.distance - near.on_axis).length() < 1e-9);
            deep += usize::from(near.distance < -0.01);
        }
        assert!(deep >= 5, "{name}: {deep}");
    }
}

#[test]
fn a_free_sheet_has_two_sides_and_a_solid_one_has_one() {
    let cup = || ball(Vec3::ZERO, 0.4, 0.0, 24, 36).without(|p| p.z > 0.2);
    let (free, solid) = (mesh(&cup(), Behind::Free), mesh(&cup(), Behind::Solid));
    let deep = at(0.0, 0.0, -0.1);
    assert!(free.near(deep, deep, FREE).expect("no bound").distance > 0.29);
    assert!(solid.near(deep, deep, FREE).expect("no bound").distance < -0.29);
    // Through the opening into what nobody has seen.
    let (above, within) = (at(0.0, 0.0, 0.6), at(0.0, 0.0, -0.1));
    assert!(free.near(above, within, FREE).expect("no bound").distance > 0.29);
    assert!(solid.near(above, within, 0.005).expect("behind").distance < -0.29);
    assert!(!free.blocks(above, within) && solid.blocks(above, within));
    assert!(free.blocks(within, at(0.0, 0.0, -0.6)));
}

#[test]
fn a_room_is_free_within_and_a_wall_before_it() {
    // A room: the ball seen from within, open at the top.
    let mut room = ball(Vec3::ZERO, 0.5, 0.0, 20, 30).without(|p| p.z > 0.4);
    for names in &mut room.triangles {
        names.swap(1, 2);
    }
    let room = mesh(&room, Behind::Solid);
    assert_eq!(room.level(), Some(-0.5));
    assert!(!room.holds(at(0.1, 0.1, 0.0)) && room.holds(at(0.0, 0.6, 0.0)));
    let near = room
        .near(at(0.3, 0.0, 0.0), at(0.3, 0.1, 0.0), FREE)
        .expect("no bound");
    assert!(near.distance > 0.15 && near.normal.x < -0.9, "{near:?}");
    // A wall of two triangles that faces up.
    let corners = [
        at(-1.0, -1.0, 0.0),
        at(1.0, -1.0, 0.0),
        at(1.0, 1.0, 0.0),
        at(-1.0, 1.0, 0.0),
    ];
    let wall = Mesh::new(&corners, &[[0, 1, 2], [0, 2, 3]], Behind::Solid).expect("a mesh");
    assert!(wall.level().expect("one side is solid").abs() < 1e-9);
    for (z, expected) in [(0.2, 0.2), (-0.2, -0.2), (0.001, 0.001), (-0.001, -0.001)] {
        let p = at(0.1, 0.2, z);
        assert!((wall.near(p, p, FREE).expect("no bound").distance - expected).abs() < 1e-12);
    }
}

#[test]
fn moves_change_nothing_or_at_most_as_much() {
    let mut draw = Draw(4);
    for (name, surface) in surfaces().into_iter().take(2) {
        let here = mesh(&surface, Behind::Solid);
        for _ in 0..200 {
            let (a, b) = segment(&mut draw);
            let by = draw.place(0.2);
            let there = here.near(a, b, FREE).expect("no bound").distance;
            let back = here.near(b, a, FREE).expect("no bound").distance;
            let fine = 3e-7 + 2e-4 * there.abs();
            assert!((back - there).abs() < fine, "{name}: {back} for {there}");
            let moved = here.moved(by).near(a + by, b + by, FREE).expect("no bound");
            assert!(
                (moved.distance - there).abs() < fine,
                "{name}: {} for {there}",
                moved.distance
            );
            let other = here.near(a + by, b + by, FREE).expect("no bound").distance;
            assert!((other - there).abs() <= by.length() + fine, "{name}");
            let grown = here
                .grown(0.01)
                .near(a, b, FREE)
                .expect("no bound")
                .distance;
            assert!((grown - (there - 0.01)).abs() < 1e-12, "{name}");
        }
    }
}

#[test]
fn seams_are_counted() {
    let closed = ball(Vec3::ZERO, 1.0, 0.0, 6, 8);
    assert!(Seams::of(&closed.triangles).closed());
    let mut open = closed.triangles.clone();
    open.pop();
    assert_eq!(Seams::of(&open), Seams { open: 3, odd: 0 });
    let mut turned = closed.triangles.clone();
    turned[0].swap(1, 2);
    assert_eq!(Seams::of(&turned), Seams { open: 0, odd: 3 });
    // Inside out as a whole it is still solid within.
    let mut out = closed.triangles.clone();
    for names in &mut out {
        names.swap(1, 2);
    }
    let mesh = Mesh::new(&closed.corners, &out, Behind::Free).expect("a mesh");
    assert!(mesh.turned() && mesh.holds(Vec3::ZERO) && !mesh.holds(at(1.2, 0.0, 0.0)));
}

#[test]
fn what_is_no_mesh_is_refused() {
    let corners = [Vec3::ZERO, Vec3::X, Vec3::Y];
    assert_eq!(
        Mesh::new(&corners, &[], Behind::Free).err(),
        Some(NoMesh::Empty)
    );
    let far = Mesh::new(&corners, &[[0, 1, 2], [0, 1, 3]], Behind::Free);
    assert_eq!(far.err(), Some(NoMesh::NoCorner { triangle: 1 }));
    let odd = [Vec3::ZERO, Vec3::X, Vec3::Y * f64::NAN];
    assert_eq!(
        Mesh::new(&odd, &[[0, 1, 2]], Behind::Free).err(),
        Some(NoMesh::NotFinite { corner: 2 })
    );
}
