//! Patches of a grid joined to one mesh, and that mesh as binary glTF.

use serde_json::json;

use crate::Fault;

/// Triangles in millimetres.
#[derive(Debug, Default)]
pub(super) struct Mesh {
    pub(super) points: Vec<[f64; 3]>,
    pub(super) triangles: Vec<[usize; 3]>,
}

/// How far apart the points of a patch are at most [mm].
const STEP: f64 = 19.6;

/// How far a point of the scan is off along each axis at most [mm].
const NOISE: f64 = 1.5;

fn steps(length: f64) -> usize {
    (length / STEP).ceil().max(1.0) as usize
}

/// A number from −1 to 1 that looks like chance and is always the same at one place.
fn chance(point: [f64; 3], axis: u64) -> f64 {
    let mut mixed = axis.wrapping_add(0x9E37_79B9_7F4A_7C15);
    for part in point {
        // A tenth of a millimetre is one place.
        mixed ^= ((part * 10.0).round() as i64) as u64;
        mixed = (mixed ^ mixed >> 30).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ mixed >> 27).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^= mixed >> 31;
    }
    (mixed >> 11) as f64 / (1_u64 << 52) as f64 - 1.0
}

impl Mesh {
    /// A patch over u and v from 0 to 1, `long` and `broad` [mm]. Its seen side is that from which
    /// u goes round to v to the left.
    pub(super) fn patch(&mut self, long: f64, broad: f64, at: impl Fn(f64, f64) -> [f64; 3]) {
        let (nu, nv) = (steps(long), steps(broad));
        let begin = self.points.len();
        for i in 0..=nu {
            for j in 0..=nv {
                let point = at(i as f64 / nu as f64, j as f64 / nv as f64);
                let [x, y, z] = point;
                self.points.push([
                    x + NOISE * chance(point, 1),
                    y + NOISE * chance(point, 2),
                    z + NOISE * chance(point, 3),
                ]);
            }
        }
        for i in 0..nu {
            for j in 0..nv {
                let corner = begin + i * (nv + 1) + j;
                let (right, up, both) = (corner + nv + 1, corner + 1, corner + nv + 2);
                self.triangles.push([corner, right, both]);
                self.triangles.push([corner, both, up]);
            }
        }
    }

    /// A level or upright rectangle from a corner along two edges.
    pub(super) fn sheet(&mut self, corner: [f64; 3], u: [f64; 3], v: [f64; 3]) {
        let length = |[x, y, z]: [f64; 3]| (x * x + y * y + z * z).sqrt();
        self.patch(length(u), length(v), |s, t| {
            let ([x, y, z], [ux, uy, uz], [vx, vy, vz]) = (corner, u, v);
            [
                x + s * ux + t * vx,
                y + s * uy + t * vy,
                z + s * uz + t * vz,
            ]
        });
    }

    /// A box without its bottom, which nobody sees.
    pub(super) fn cover(&mut self, [x, y, z]: [f64; 3], [a, b, c]: [f64; 3]) {
        let (long, broad, high) = ([a - x, 0.0, 0.0], [0.0, b - y, 0.0], [0.0, 0.0, c - z]);
        self.sheet([x, y, c], long, broad);
        self.sheet([x, y, z], long, high);
        self.sheet([a, y, z], broad, high);
        self.sheet([a, b, z], [x - a, 0.0, 0.0], high);
        self.sheet([x, b, z], [0.0, y - b, 0.0], high);
    }

    /// A drum along x with its fore end.
    pub(super) fn drum(&mut self, [x, y, z]: [f64; 3], long: f64, radius: f64) {
        let around = 6.3 * radius;
        self.patch(around, long, |s, t| {
            let (across, up) = circle(s);
            [x + long * t, y - radius * across, z + radius * up]
        });
        self.patch(radius, around, |s, t| {
            let (across, up) = circle(t);
            let radius = radius * (0.05 + 0.95 * s);
            [x + long, y + radius * across, z + radius * up]
        });
    }
}

/// A point of the circle of radius 1, once round as `s` goes from 0 to 1: each quarter by the sum
/// of squares of t² + 1.
fn circle(s: f64) -> (f64, f64) {
    let quarter = (s * 4.0).floor().min(3.0);
    let t = s * 4.0 - quarter;
    let (a, b) = ((1.0 - t * t) / (1.0 + t * t), 2.0 * t / (1.0 + t * t));
    match quarter as u8 {
        0 => (a, b),
        1 => (-b, a),
        2 => (-a, -b),
        _ => (b, -a),
    }
}

/// The mesh as binary glTF 2.0, in metres.
///
/// Source: glTF 2.0 specification (ISO/IEC 12113:2022), sections 3.6, 3.7 and 4.4.
pub(super) fn glb(mesh: &Mesh) -> Result<Vec<u8>, Fault> {
    let mut binary = Vec::new();
    let (mut low, mut high) = ([f32::INFINITY; 3], [f32::NEG_INFINITY; 3]);
    for point in &mesh.points {
        for ((part, low), high) in point.iter().zip(&mut low).zip(&mut high) {
            // A tenth of a millimetre is more than a scan knows.
            let metres = ((part * 10.0).round() / 1e4) as f32;
            *low = low.min(metres);
            *high = high.max(metres);
            binary.extend(metres.to_le_bytes());
        }
    }
    let points = binary.len();
    for corner in mesh.triangles.as_flattened() {
        let corner = u16::try_from(*corner).map_err(|_| "the scan has over 65,536 points")?;
        binary.extend(corner.to_le_bytes());
    }
    let faces = binary.len() - points;
    let rest = binary.len().next_multiple_of(4);
    binary.resize(rest, 0);
    let scene = json!({
        "asset": { "version": "2.0", "generator": "cargo xtask scan" },
        "scene": 0,
        "scenes": [{ "nodes": [0] }],
        "nodes": [{ "mesh": 0, "name": "engine bay" }],
        "meshes": [{ "primitives": [{ "attributes": { "POSITION": 0 }, "indices": 1 }] }],
        "accessors": [
            { "bufferView": 0, "componentType": 5126, "count": mesh.points.len(), "type": "VEC3", "min": low, "max": high },
            { "bufferView": 1, "componentType": 5123, "count": mesh.triangles.len() * 3, "type": "SCALAR" },
        ],
        "bufferViews": [
            { "buffer": 0, "byteLength": points, "target": 34962 },
            { "buffer": 0, "byteOffset": points, "byteLength": faces, "target": 34963 },
        ],
        "buffers": [{ "byteLength": binary.len() }],
    });
    let mut text = scene.to_string().into_bytes();
    text.resize(text.len().next_multiple_of(4), b' ');
    let long = 12 + 8 + text.len() + 8 + binary.len();
    let word = |number: usize| {
        let number = u32::try_from(number).map_err(|_| "the scan is too large for glTF")?;
        Ok::<_, Fault>(number.to_le_bytes())
    };
    let mut bytes = b"glTF".to_vec();
    bytes.extend(word(2)?);
    bytes.extend(word(long)?);
    bytes.extend(word(text.len())?);
    bytes.extend(b"JSON");
    bytes.extend(text);
    bytes.extend(word(binary.len())?);
    bytes.extend(b"BIN\0");
    bytes.extend(binary);
    Ok(bytes)
}
