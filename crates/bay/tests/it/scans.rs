//! Scans on their way to a mesh: units, specks, thinning, error, and laying them in by points.

use bay::Vec3;
use bay::scan::{Lay, NoLay, NoScan, NoUnit, Raw, Scale, Unit, Wish, lay, ready};
use bay::solid::{Behind, NoMesh, Seams};

use crate::kit::{Draw, Surface, at, ball, brute};

const FREE: f64 = f64::INFINITY;

fn raw(surface: &Surface) -> Raw {
    Raw {
        corners: surface.corners.clone(),
        triangles: surface.triangles.clone(),
    }
}

/// The triangles with corners of their own, as some files hold them.
fn loose(surface: &Surface) -> Raw {
    let corners: Vec<Vec3> = surface.flat().into_iter().flatten().collect();
    let triangles = (0..surface.triangles.len() as u32)
        .map(|k| [3 * k, 3 * k + 1, 3 * k + 2])
        .collect();
    Raw { corners, triangles }
}

fn with(mut one: Raw, other: &Raw) -> Raw {
    let start = one.corners.len() as u32;
    one.corners.extend(&other.corners);
    let more = other
        .triangles
        .iter()
        .map(|names| names.map(|name| name + start));
    one.triangles.extend(more);
    one
}

fn wish(unit: f64) -> Wish {
    Wish::usual(Unit::Metres(unit), Behind::Solid)
}

#[test]
fn the_unit_is_told_or_measured() {
    let in_mm = loose(&ball(Vec3::ZERO, 400.0, 0.0, 12, 16));
    let told = ready(&in_mm, &wish(0.001)).expect("a scan");
    assert!((told.bounds.high.z - 0.4).abs() < 1e-12);
    let measured = Unit::Length {
        from: at(0.0, 0.0, 400.0),
        to: at(0.0, 0.0, -400.0),
        metres: 0.8,
    };
    let measured = ready(
        &in_mm,
        &Wish {
            unit: measured,
            ..wish(1.0)
        },
    )
    .expect("a scan");
    assert!((measured.metres - 0.001).abs() < 1e-15);
    for odd in [0.0, -1.0, f64::NAN, FREE] {
        let found = ready(&in_mm, &wish(odd)).err();
        assert!(
            matches!(found, Some(NoScan::Unit(NoUnit::Size(_)))),
            "{found:?}"
        );
    }
    let same = Unit::Length {
        from: Vec3::X,
        to: Vec3::X,
        metres: 1.0,
    };
    assert_eq!(same.metres(), Err(NoUnit::SamePoint));
    // In m instead of mm everything is a speck, and that is said.
    let small = raw(&ball(Vec3::ZERO, 4.0, 0.0, 6, 8));
    assert_eq!(
        ready(&small, &wish(0.001)).err(),
        Some(NoScan::AllSpecks { speck: 0.02 })
    );
}

#[test]
fn loose_triangles_are_welded_and_closed() {
    let surface = ball(Vec3::ZERO, 0.4, 0.0, 12, 16);
    let scan = ready(&loose(&surface), &wish(1.0)).expect("a scan");
    assert!(scan.seams.closed() && scan.mesh.seams().closed());
    assert_eq!((scan.read, scan.empty, scan.mesh.len()), (352, 0, 352));
    let mut with_empty = raw(&surface);
    with_empty.triangles.extend([[0, 0, 1], [3, 4, 3]]);
    let scan = ready(&with_empty, &wish(1.0)).expect("a scan");
    assert_eq!((scan.read, scan.empty), (354, 2));
    let open = surface.without(|p| p.z > 0.38);
    let scan = ready(&loose(&open), &wish(1.0)).expect("a scan");
    assert_eq!(scan.seams, Seams { open: 16, odd: 0 });
}

#[test]
fn specks_go_and_parts_stay() {
    let thing = loose(&ball(Vec3::ZERO, 0.2, 0.0, 10, 12));
    let speck = |x: f64, size: f64| raw(&ball(at(x, 0.0, 0.0), size / 2.0, 0.0, 4, 6));
    // A ball of 11 mm has a box of 11 * sqrt 3 = 19 mm at most, one of 14 mm has one over 20 mm.
    let scan = with(
        with(with(thing, &speck(0.5, 0.011)), &speck(0.6, 0.005)),
        &speck(0.7, 0.014),
    );
    let found = ready(&scan, &wish(1.0)).expect("a scan");
    assert_eq!((found.specks.parts, found.specks.left), (2, 2));
    assert_eq!(found.specks.triangles, 2 * 36);
    assert!(found.specks.largest > 0.015 && found.specks.largest < 0.02);
    assert!(
        found
            .mesh
            .gap(at(0.7, 0.0, 0.0), at(0.7, 0.0, 0.0), FREE)
            .expect("no bound")
            < 0.008
    );
    assert!(
        found
            .mesh
            .gap(at(0.5, 0.0, 0.0), at(0.5, 0.0, 0.0), FREE)
            .expect("no bound")
            > 0.15
    );
}

#[test]
fn thinning_tells_its_error() {
    for (surface, closed) in [
        (ball(Vec3::ZERO, 0.4, 0.1, 60, 80), true),
        (
            ball(Vec3::ZERO, 0.4, 0.1, 60, 80).without(|p| p.x > 0.2),
            false,
        ),
    ] {
        let scan = ready(
            &raw(&surface),
            &Wish {
                most: 3000,
                ..wish(1.0)
            },
        )
        .expect("a scan");
        let thinned = scan.thinned.expect("it had more");
        assert!(thinned.after <= 3000 && thinned.after > 2000, "{thinned:?}");
        assert_eq!(
            (thinned.after, thinned.before),
            (scan.mesh.len(), surface.triangles.len())
        );
        // A bound: no point all over the triangles is farther, and one is about as far.
        let flat = surface.flat();
        let steps = 12_u32;
        let all_over = flat.iter().flat_map(|[a, b, c]| {
            (0..=steps).flat_map(move |i| {
                (0..=steps - i).map(move |j| {
                    let share = |k: u32| f64::from(k) / f64::from(steps);
                    *a + (*b - *a) * share(i) + (*c - *a) * share(j)
                })
            })
        });
        let mut error = 0.0;
        for p in all_over {
            if scan.mesh.gap(p, p, error).is_none() {
                error = scan.mesh.gap(p, p, FREE).expect("no bound");
            }
        }
        assert!(
            thinned.error >= error - 1e-12 && thinned.error < 1.1 * error + 2e-6,
            "{error} for {}",
            thinned.error
        );
        // Far under an edge of the thinned triangles, which are 25 mm; what was closed is so still.
        assert!(thinned.error < 0.003, "{thinned:?}");
        assert_eq!(thinned.cell, None);
        assert_eq!(scan.mesh.seams().closed(), closed);
        // Told gaps are at most those of the scan as read.
        let all = surface.flat();
        let mut draw = Draw(21);
        for _ in 0..50 {
            let p = draw.place(0.8);
            let near = scan.mesh.near(p, p, FREE).expect("no bound").distance;
            let read = brute(p, &all);
            assert!(near.abs() > scan.offset * 4.0 || near < read + 1e-9);
            if near > 0.0 {
                assert!(
                    near <= read + 1e-9 && near > read - 4.0 * scan.offset,
                    "{near} for {read}"
                );
            }
        }
    }
}

#[test]
fn a_very_fine_scan_goes_through_cells() {
    let surface = ball(Vec3::ZERO, 0.4, 0.1, 100, 140);
    let scan = ready(
        &raw(&surface),
        &Wish {
            most: 1500,
            ..wish(1.0)
        },
    )
    .expect("a scan");
    let thinned = scan.thinned.expect("it had more");
    assert!(thinned.after <= 1500 && thinned.after > 1000, "{thinned:?}");
    assert!(
        thinned.cell.is_some_and(|cell| thinned.error < 0.5 * cell),
        "{thinned:?}"
    );
    assert!(scan.mesh.seams().closed());
    assert!(thinned.error < 0.006, "{thinned:?}");
}

#[test]
fn a_corner_stays_sharp() {
    // A box of many triangles: thinning puts corners where the faces meet.
    let mut scan = Raw::default();
    let n = 20_u32;
    for (u, v) in [(Vec3::X, Vec3::Y), (Vec3::Y, Vec3::Z), (Vec3::Z, Vec3::X)] {
        for side in [-1.0, 1.0] {
            let place = |i: u32, j: u32| {
                let along = |k: u32| 2.0 * f64::from(k) / f64::from(n) - 1.0;
                (u.cross(v) * side + u * along(i) + v * along(j)) * 0.3
            };
            for i in 0..n {
                for j in 0..n {
                    let start = scan.corners.len() as u32;
                    let (p, q) = if side > 0.0 { (i + 1, i) } else { (i, i + 1) };
                    scan.corners.extend([
                        place(p, j),
                        place(p, j + 1),
                        place(q, j + 1),
                        place(q, j),
                    ]);
                    scan.triangles.push([start, start + 1, start + 2]);
                    scan.triangles.push([start, start + 2, start + 3]);
                }
            }
        }
    }
    let found = ready(
        &scan,
        &Wish {
            most: 1250,
            ..wish(1.0)
        },
    )
    .expect("a scan");
    let thinned = found.thinned.expect("it had more");
    assert!(found.mesh.seams().closed() && !found.mesh.turned());
    assert!(thinned.error < 1e-5, "{thinned:?}");
}

#[test]
fn the_error_of_a_scan_is_an_offset() {
    let surface = ball(Vec3::ZERO, 0.4, 0.0, 30, 40);
    let plain = ready(&raw(&surface), &wish(1.0)).expect("a scan");
    let off = ready(
        &raw(&surface),
        &Wish {
            error: 0.007,
            ..wish(1.0)
        },
    )
    .expect("a scan");
    assert_eq!((plain.offset, off.offset), (0.0, 0.007));
    for p in [at(0.6, 0.1, 0.0), at(0.1, 0.1, 0.1), at(0.402, 0.0, 0.0)] {
        let gap = |scan: &bay::scan::Ready| scan.mesh.near(p, p, FREE).expect("no bound").distance;
        assert!((gap(&plain) - 0.007 - gap(&off)).abs() < 1e-12);
    }
    assert!(matches!(
        ready(
            &raw(&surface),
            &Wish {
                error: -0.001,
                ..wish(1.0)
            }
        )
        .err(),
        Some(NoScan::Error(_))
    ));
    assert_eq!(
        ready(&Raw::default(), &wish(1.0)).err(),
        Some(NoScan::Mesh(NoMesh::Empty))
    );
}

/// A turn about an axis, written as a sum of projections.
fn turned(p: Vec3, axis: Vec3, angle: f64) -> Vec3 {
    let along = axis * p.dot(axis);
    along + (p - along) * angle.cos() + axis.cross(p) * angle.sin()
}

fn points() -> Vec<Vec3> {
    vec![
        at(0.1, 0.2, 0.0),
        at(1.2, 0.1, 0.1),
        at(0.9, 0.8, 0.5),
        at(0.2, 0.7, -0.3),
        at(0.6, 0.1, 0.4),
    ]
}

#[test]
fn points_lay_a_scan_in() {
    let axis = at(0.3, -0.5, 0.8).normalize();
    for (angle, size) in [
        (0.4, 1.0),
        (3.0, 1.0),
        (-2.2, 1.0),
        (1.0, 1.02),
        (std::f64::consts::PI, 1.0),
    ] {
        let place = |p: Vec3| turned(p, axis, angle) * size + at(0.4, -2.0, 0.7);
        for count in [3, 5] {
            let pairs: Vec<(Vec3, Vec3)> = points()
                .into_iter()
                .take(count)
                .map(|p| (p, place(p)))
                .collect();
            let found = lay(&pairs, Scale::Found).expect("a lay");
            assert!(
                (found.scale - size).abs() < 1e-9 && found.rms < 1e-9,
                "{found:?}"
            );
            let other = at(2.0, 3.0, -1.0);
            assert!(
                found.place(other).distance(place(other)) < 1e-8,
                "{angle} {count}"
            );
            let kept = lay(&pairs, Scale::Kept).expect("a lay");
            assert!((kept.scale - 1.0).abs() == 0.0 && (kept.best_scale - size).abs() < 1e-9);
        }
    }
}

#[test]
fn residuals_point_at_the_blunder() {
    let mut pairs: Vec<(Vec3, Vec3)> = points().into_iter().map(|p| (p, p + Vec3::X)).collect();
    pairs[2].1.z += 0.05;
    let found = lay(&pairs, Scale::Kept).expect("a lay");
    let worst = (0..5).max_by(|x, y| found.residuals[*x].total_cmp(&found.residuals[*y]));
    assert_eq!(worst, Some(2));
    let squares: f64 = found.residuals.iter().map(|far| far * far).sum();
    assert!((found.rms - (squares / 5.0).sqrt()).abs() < 1e-15);
    // Least squares: no small move or turn fits better.
    let rms = |lay: &Lay| {
        let squares: f64 = pairs
            .iter()
            .map(|(p, q)| lay.place(*p).distance_squared(*q))
            .sum();
        (squares / 5.0).sqrt()
    };
    for axis in [Vec3::X, Vec3::Y, Vec3::Z] {
        for by in [-1e-3, 1e-3] {
            let moved = Lay {
                shift: found.shift + axis * by,
                ..found.clone()
            };
            assert!(rms(&moved) > found.rms);
            let turn = found.turn.map(|row| turned(row, axis, by));
            assert!(
                rms(&Lay {
                    turn,
                    ..found.clone()
                }) > found.rms
            );
        }
    }
}

#[test]
fn points_that_settle_nothing_are_refused() {
    let same = |points: &[Vec3]| points.iter().map(|p| (*p, *p)).collect::<Vec<_>>();
    assert_eq!(
        lay(&same(&points()[..2]), Scale::Kept),
        Err(NoLay::TooFew(2))
    );
    let line: Vec<Vec3> = [0.0, 0.3, 0.7, 1.0]
        .map(|t| at(t, 0.5 * t, 0.001 * (7.0 * t).sin()))
        .to_vec();
    assert!(matches!(
        lay(&same(&line), Scale::Kept),
        Err(NoLay::Collinear { .. })
    ));
    let odd = [at(0.0, 0.0, 0.0), at(1.0, f64::NAN, 0.0), at(0.0, 1.0, 0.0)];
    assert_eq!(lay(&same(&odd), Scale::Kept), Err(NoLay::NotFinite(1)));
    // The boat's frame left-handed: said so, and not laid in as best it goes.
    let mirrored: Vec<(Vec3, Vec3)> = points().iter().map(|p| (*p, at(p.x, -p.y, p.z))).collect();
    assert!(matches!(
        lay(&mirrored, Scale::Kept),
        Err(NoLay::Mirrored { .. })
    ));
    // In one plane a mirror cannot be told: a half turn does the same.
    let plane: Vec<(Vec3, Vec3)> = points()
        .iter()
        .map(|p| (at(p.x, p.y, 0.0), at(p.x, -p.y, 0.0)))
        .collect();
    assert!(lay(&plane, Scale::Kept).expect("a lay").rms < 1e-9);
}

#[test]
fn a_laid_scan_answers_in_the_boat() {
    let surface = ball(Vec3::ZERO, 0.2, 0.0, 20, 30);
    let axis = at(0.2, 0.9, -0.1).normalize();
    let place = |p: Vec3| turned(p, axis, 1.1) + at(1.0, 0.0, 0.0);
    let pairs: Vec<(Vec3, Vec3)> = points().into_iter().map(|p| (p, place(p))).collect();
    let laid = raw(&surface).laid(&lay(&pairs, Scale::Kept).expect("a lay"));
    let scan = ready(&laid, &wish(1.0)).expect("a scan");
    let plain = ready(&raw(&surface), &wish(1.0)).expect("a scan");
    let p = at(0.5, 0.1, 0.2);
    let here = plain.mesh.near(p, p, FREE).expect("no bound").distance;
    let there = scan
        .mesh
        .near(place(p), place(p), FREE)
        .expect("no bound")
        .distance;
    assert!((here - there).abs() < 1e-9);
}
