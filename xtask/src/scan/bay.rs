//! What stands in the demo boat's engine bay, in millimetres.
//!
//! The places follow her survey by tape: pins P1 and P2 on the port bearer, P3 on the starboard one,
//! P4 on the web frame abaft the gearbox; the hull's skin goes through the heights of both hull
//! fittings. Where spigots look and where hoses can go is free.

use super::mesh::Mesh;

/// Where the centre line is: the thermostat housing is 65 to port of it.
const CENTRE: f64 = -355.0;

/// From where to where along x there is hull.
const HULL: [f64; 2] = [-250.0, 1450.0];

/// Heights of the bearers' tops at x of nought and at 1239, by the pins on them.
const PORT: [f64; 2] = [118.0, 131.0];
const STARBOARD: [f64; 2] = [83.0, 96.4];

/// The frames, web frame first.
const FRAMES: [f64; 4] = [35.0, 435.0, 835.0, 1235.0];

/// A curve through two corners that heads for a third between them.
fn curve(u: f64, from: [f64; 2], by: [f64; 2], to: [f64; 2]) -> [f64; 2] {
    let (a, b, c) = ((1.0 - u) * (1.0 - u), 2.0 * u * (1.0 - u), u * u);
    let ([ax, az], [bx, bz], [cx, cz]) = (from, by, to);
    [a * ax + b * bx + c * cx, a * az + b * bz + c * cz]
}

/// The hull's skin from keel to side: how far from the centre line, and how high.
fn skin(u: f64) -> [f64; 2] {
    if u <= 0.5 {
        curve(2.0 * u, [0.0, -420.0], [230.0, -330.0], [520.0, -20.0])
    } else {
        curve(
            2.0 * u - 1.0,
            [520.0, -20.0],
            [720.0, 194.0],
            [880.0, 650.0],
        )
    }
}

/// How high the skin is so far from the centre line.
fn height(off: f64) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..50 {
        let middle = 0.5 * (low + high);
        let [at, _] = skin(middle);
        if at < off {
            low = middle
        } else {
            high = middle
        }
    }
    let [_, z] = skin(low);
    z
}

/// How broad she is at a place along her, as a share of what she is amidships.
fn broad(x: f64) -> f64 {
    let along = (x - 500.0) / 1000.0;
    1.0 - 0.03 * along * along
}

/// The inner edge of a frame: a hand's breadth inside the skin.
fn inner(u: f64, depth: f64) -> [f64; 2] {
    let ([ax, az], [bx, bz], [x, z]) = (skin(u - 1e-3), skin(u + 1e-3), skin(u));
    let (dx, dz) = (bx - ax, bz - az);
    let size = (dx * dx + dz * dz).sqrt();
    [x - depth * dz / size, z + depth * dx / size]
}

fn hull(mesh: &mut Mesh) {
    let [aft, fore] = HULL;
    for side in [-1.0, 1.0] {
        mesh.patch(1160.0, fore - aft, |s, t| {
            let [off, z] = skin(s);
            // The seen side is inside on both sides of her.
            let x = if side > 0.0 {
                fore - t * (fore - aft)
            } else {
                aft + t * (fore - aft)
            };
            [x, CENTRE + side * off * broad(x), z]
        });
    }
}

fn frames(mesh: &mut Mesh) {
    for (i, x) in FRAMES.into_iter().enumerate() {
        for side in [-1.0, 1.0] {
            let web = i == 0 && side < 0.0;
            let edge = |u: f64| {
                let [off, z] = inner(u, 60.0);
                // The web stands in as far as the pin on it.
                if web && z > 140.0 {
                    [off.min(364.0 / broad(x)), z]
                } else {
                    [off, z]
                }
            };
            let (begin, end) = (0.3, 0.95);
            let long = 780.0;
            for (face, forward) in [(x - 4.0, false), (x + 4.0, true)] {
                let turned = forward == (side > 0.0);
                mesh.patch(long, if web { 200.0 } else { 60.0 }, |s, t| {
                    let u = begin + s * (end - begin);
                    let ([a, az], [b, bz]) = (skin(u), edge(u));
                    let t = if turned { t } else { 1.0 - t };
                    let off = a + t * (b - a);
                    [face, CENTRE + side * off * broad(face), az + t * (bz - az)]
                });
            }
            mesh.patch(long, 8.0, |s, t| {
                let u = begin + s * (end - begin);
                let [off, z] = edge(u);
                let t = if side < 0.0 { t } else { 1.0 - t };
                let face = x - 4.0 + 8.0 * t;
                [face, CENTRE + side * off * broad(x), z]
            });
        }
    }
}

/// A bearer: an upright plate with a flat bar on it.
fn bearer(mesh: &mut Mesh, y: f64, [at_pin, at_feet]: [f64; 2]) {
    let (aft, fore) = (-150.0, 1350.0);
    let top = |x: f64| at_pin + (at_feet - at_pin) * x / 1239.0;
    let x = |s: f64| aft + s * (fore - aft);
    mesh.patch(fore - aft, 50.0, |s, t| {
        [x(s), y - 25.0 + 50.0 * t, top(x(s))]
    });
    for (edge, back) in [(-25.0, false), (25.0, true)] {
        mesh.patch(fore - aft, 10.0, |s, t| {
            let x = x(if back { 1.0 - s } else { s });
            [x, y + edge, top(x) - 10.0 * (1.0 - t)]
        });
    }
    let foot = height((y - CENTRE).abs());
    for (side, back) in [(-5.0, false), (5.0, true)] {
        mesh.patch(fore - aft, 270.0, |s, t| {
            let x = x(if back { 1.0 - s } else { s });
            [x, y + side, foot + t * (top(x) - 10.0 - foot)]
        });
    }
}

fn engine(mesh: &mut Mesh) {
    // Gearbox, bell housing, sump.
    mesh.cover([-20.0, -425.0, -230.0], [360.0, -285.0, -60.0]);
    mesh.cover([360.0, -500.0, -250.0], [480.0, -210.0, -5.0]);
    mesh.cover([480.0, -510.0, -230.0], [1200.0, -200.0, -10.0]);
    // The block: abaft its middle the way to the pump's inlet is free.
    mesh.cover([480.0, -510.0, -10.0], [740.0, -395.0, 225.0]);
    mesh.cover([780.0, -510.0, -10.0], [1200.0, -200.0, 215.0]);
    // Rocker cover, thermostat housing, alternator, cover of the belt.
    mesh.cover([400.0, -480.0, 225.0], [720.0, -410.0, 300.0]);
    mesh.cover([830.0, -185.0, 215.0], [900.0, -140.0, 400.0]);
    mesh.drum([850.0, -110.0, 230.0], 140.0, 60.0);
    mesh.cover([1200.0, -440.0, -100.0], [1260.0, -270.0, 190.0]);
    // Fore feet, on the bearers.
    mesh.cover([1090.0, -200.0, 130.0], [1160.0, 20.0, 150.0]);
    mesh.cover([1090.0, -765.0, 96.0], [1160.0, -510.0, 120.0]);
}

/// The whole bay.
pub(super) fn dunlin() -> Mesh {
    let mut mesh = Mesh::default();
    hull(&mut mesh);
    frames(&mut mesh);
    bearer(&mut mesh, 0.0, PORT);
    bearer(&mut mesh, -740.0, STARBOARD);
    engine(&mut mesh);
    mesh
}

#[cfg(test)]
mod tests {
    use super::*;

    /// How far a point is from a way through others.
    fn off(point: [f64; 3], way: &[[f64; 3]]) -> f64 {
        let minus = |a: [f64; 3], b: [f64; 3]| [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
        let dot = |a: [f64; 3], b: [f64; 3]| a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
        way.windows(2)
            .map(|pair| {
                let (along, to) = (minus(pair[1], pair[0]), minus(point, pair[0]));
                let share = (dot(along, to) / dot(along, along)).clamp(0.0, 1.0);
                let off = minus(to, along.map(|part| part * share));
                dot(off, off).sqrt()
            })
            .fold(f64::INFINITY, f64::min)
    }

    fn nearest(point: [f64; 3]) -> f64 {
        let mesh = dunlin();
        mesh.points
            .iter()
            .map(|other| off(*other, &[point, point.map(|part| part + 1e-3)]))
            .fold(f64::INFINITY, f64::min)
    }

    #[test]
    fn the_scan_fits_the_survey() {
        // The pins as her tapes place them, reckoned by hand from the tapes in her file.
        for pin in [
            [0.0, 0.0, 118.0],
            [1239.0, 0.0, 131.0],
            [1204.0, -740.0, 96.0],
            [35.0, -719.0, 402.0],
        ] {
            assert!(nearest(pin) < 14.0, "{pin:?} is {} off", nearest(pin));
        }
        // The skin at the height of each hull fitting.
        assert!((height(310.0) + 230.0).abs() < 15.0, "{}", height(310.0));
        assert!((height(285.0) + 235.0).abs() < 15.0, "{}", height(285.0));
    }

    #[test]
    fn mouths_and_the_ways_of_hoses_are_free() {
        let hot = [
            [903.0, -290.0, 330.0],
            [966.0, -480.0, 330.0],
            [800.0, -652.0, 260.0],
            [640.0, -652.0, 108.0],
            [640.0, -652.0, -92.0],
        ];
        let cold = [
            [215.0, -92.0, -104.0],
            [215.0, -92.0, 70.0],
            [118.0, -331.0, 60.0],
        ];
        let suck = [[118.0, -390.0, 60.0], [650.0, -245.0, 150.0]];
        // Beside the hull fittings the bearers stand nearer, where the pins are.
        for (name, way, least) in [
            ("hot", &hot[..3], 95.0),
            ("hot, down to the fitting", &hot[2..], 55.0),
            ("cold", &cold, 55.0),
            ("suck", &suck, 95.0),
        ] {
            let mesh = dunlin();
            let (gap, point) = mesh
                .points
                .iter()
                .map(|point| (off(*point, way), point))
                .min_by(|a, b| a.0.total_cmp(&b.0))
                .unwrap();
            assert!(gap >= least, "{name}: {gap} at {point:?}");
        }
    }

    #[test]
    fn what_is_seen_looks_into_the_room() {
        let mesh = dunlin();
        // The hull's skin comes first: its faces look towards a point over the keel.
        let skins = 2 * 4000;
        let inward = mesh.triangles[..skins].iter().filter(|face| {
            let [a, b, c] = face.map(|corner| mesh.points[corner]);
            let (u, v) = (
                [b[0] - a[0], b[1] - a[1], b[2] - a[2]],
                [c[0] - a[0], c[1] - a[1], c[2] - a[2]],
            );
            let normal = [
                u[1] * v[2] - u[2] * v[1],
                u[2] * v[0] - u[0] * v[2],
                u[0] * v[1] - u[1] * v[0],
            ];
            let to = [-a[0], CENTRE - a[1], 900.0 - a[2]];
            // Along her it says nothing.
            normal[1] * to[1] + normal[2] * to[2] > 0.0
        });
        assert_eq!(inward.count(), skins);
    }

    #[test]
    fn what_is_kept_is_what_is_made_and_of_a_fit_size() {
        let mesh = dunlin();
        let faces = mesh.triangles.len();
        assert!((48_000..=52_000).contains(&faces), "{faces}");
        let bytes = super::super::made().unwrap();
        let path = crate::tree::root().join(super::super::FILE);
        let kept = std::fs::read(path).unwrap();
        assert!(
            kept == bytes,
            "run `cargo xtask scan` and look at the change"
        );
        assert!(bytes.len() <= 1_000_000, "{}", bytes.len());
    }
}
