//! Scans are read from each format, and whatever is broken is refused without a panic.

use hosewright::scan::{RawScan, ScanFault, read_bytes, read_file};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;
use serde_json::json;

/// Corners of a cube with edges of 2 about a middle.
fn corners(middle: [f64; 3]) -> Vec<[f64; 3]> {
    (0..8)
        .map(|i| {
            let side = |bit: usize| if i >> bit & 1 == 1 { 1.0 } else { -1.0 };
            [0, 1, 2].map(|axis| middle[axis] + side(axis))
        })
        .collect()
}

/// Its faces with four corners, outward to the left hand's turn of who looks at them.
const QUADS: [[u32; 4]; 6] = [
    [0, 4, 6, 2],
    [1, 3, 7, 5],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 2, 3, 1],
    [4, 5, 7, 6],
];

fn triangles() -> Vec<[u32; 3]> {
    QUADS
        .iter()
        .flat_map(|[a, b, c, d]| [[*a, *b, *c], [*a, *c, *d]])
        .collect()
}

/// What the faces hold, by the theorem of Gauss: over 0 where they look outward.
fn volume(scan: &RawScan) -> f64 {
    let corner = |i: u32| scan.points[i as usize];
    scan.triangles
        .iter()
        .map(|[a, b, c]| {
            let ([ax, ay, az], [bx, by, bz], [cx, cy, cz]) = (corner(*a), corner(*b), corner(*c));
            (ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx)) / 6.0
        })
        .sum()
}

/// The corners of the box around all points.
fn extent(scan: &RawScan) -> [[f64; 3]; 2] {
    let mut around = [[f64::INFINITY; 3], [f64::NEG_INFINITY; 3]];
    for point in &scan.points {
        for axis in 0..3 {
            around[0][axis] = around[0][axis].min(point[axis]);
            around[1][axis] = around[1][axis].max(point[axis]);
        }
    }
    around
}

fn alone(_: &str) -> Option<Vec<u8>> {
    None
}

fn read(name: &str, bytes: &[u8]) -> Result<RawScan, ScanFault> {
    read_bytes(name, bytes, &alone)
}

/// The one helper of what must be a cube about a middle, with faces outward.
fn check(name: &str, bytes: &[u8], middle: [f64; 3], unit: Option<f64>) {
    let scan = read(name, bytes).unwrap();
    assert_eq!(scan.unit, unit, "{name}");
    assert_eq!(scan.triangles.len(), 12, "{name}");
    assert!(
        (volume(&scan) - 8.0).abs() < 1e-4,
        "{name}: {}",
        volume(&scan)
    );
    let expected = [middle.map(|part| part - 1.0), middle.map(|part| part + 1.0)];
    for (found, expected) in extent(&scan)
        .as_flattened()
        .iter()
        .zip(expected.as_flattened())
    {
        assert!(
            (found - expected).abs() < 1e-5,
            "{name}: {found} is not {expected}"
        );
    }
}

/// The one helper of what is refused: with which words of what was found.
fn refuse(name: &str, bytes: &[u8], words: &str) {
    let fault = read(name, bytes).unwrap_err();
    assert!(fault.found.contains(words), "{name}: {fault}");
    assert!(!fault.expected.is_empty(), "{fault}");
    assert_eq!(fault.file, name);
}

const MIDDLE: [f64; 3] = [3.0, -2.0, 0.5];

fn obj() -> String {
    let mut text = String::from("# a cube\nmtllib none.mtl\no cube\n");
    for [x, y, z] in corners(MIDDLE) {
        text.push_str(&format!("v {x} {y} {z}\n"));
    }
    for [a, b, c, d] in QUADS {
        text.push_str(&format!("f {} {} {} {}\n", a + 1, b + 1, c + 1, d + 1));
    }
    text
}

fn ply_head(form: &str, number: &str) -> String {
    format!(
        "ply\nformat {form} 1.0\ncomment a cube\nelement vertex 8\nproperty {number} x\nproperty {number} y\nproperty {number} z\nproperty uchar red\nelement face 6\nproperty list uchar int vertex_indices\nend_header\n"
    )
}

fn ply_text() -> String {
    let mut text = ply_head("ascii", "float");
    for [x, y, z] in corners(MIDDLE) {
        text.push_str(&format!("{x} {y} {z} 200\n"));
    }
    for [a, b, c, d] in QUADS {
        text.push_str(&format!("4 {a} {b} {c} {d}\n"));
    }
    text
}

fn ply_binary(big: bool) -> Vec<u8> {
    let form = if big {
        "binary_big_endian"
    } else {
        "binary_little_endian"
    };
    let mut bytes = ply_head(form, "double").into_bytes();
    for point in corners(MIDDLE) {
        for part in point {
            bytes.extend(if big {
                part.to_be_bytes()
            } else {
                part.to_le_bytes()
            });
        }
        bytes.push(200);
    }
    for quad in QUADS {
        bytes.push(4);
        for corner in quad {
            let corner = corner as i32;
            bytes.extend(if big {
                corner.to_be_bytes()
            } else {
                corner.to_le_bytes()
            });
        }
    }
    bytes
}

fn stl_text() -> String {
    let points = corners(MIDDLE);
    let mut text = String::from("solid\n");
    for (i, face) in triangles().into_iter().enumerate() {
        if i == 6 {
            text.push_str("endsolid\nsolid second\n");
        }
        text.push_str("  facet normal -nan 0 0\n    outer loop\n");
        for corner in face {
            let [x, y, z] = points[corner as usize];
            text.push_str(&format!("      vertex {x} {y} {z}\n"));
        }
        text.push_str("    endloop\n  endfacet\n");
    }
    text.push_str("endsolid second\n");
    text
}

fn stl_binary(head: &str) -> Vec<u8> {
    let mut bytes = vec![b' '; 80];
    bytes[..head.len()].copy_from_slice(head.as_bytes());
    bytes.extend(12_u32.to_le_bytes());
    let points = corners(MIDDLE);
    for face in triangles() {
        bytes.extend([0; 12]);
        for corner in face {
            for part in points[corner as usize] {
                bytes.extend((part as f32).to_le_bytes());
            }
        }
        bytes.extend([0; 2]);
    }
    bytes
}

/// The points and the faces of a cube about nought, as bytes.
fn buffer() -> Vec<u8> {
    let points = corners([0.0; 3]).into_iter().flatten();
    let mut bytes: Vec<u8> = points
        .flat_map(|part| (part as f32).to_le_bytes())
        .collect();
    bytes.extend(
        triangles()
            .into_iter()
            .flatten()
            .flat_map(|corner| (corner as u16).to_le_bytes()),
    );
    bytes
}

/// A scene of nodes that show the one cube.
fn gltf(nodes: serde_json::Value) -> serde_json::Value {
    let nodes = nodes.as_array().unwrap().clone();
    json!({
        "asset": { "version": "2.0" },
        "scene": 0,
        "scenes": [{ "nodes": [0] }],
        "nodes": nodes,
        "meshes": [{ "primitives": [{ "attributes": { "POSITION": 0 }, "indices": 1 }] }],
        "accessors": [
            { "bufferView": 0, "componentType": 5126, "count": 8, "type": "VEC3", "min": [-1, -1, -1], "max": [1, 1, 1] },
            { "bufferView": 1, "componentType": 5123, "count": 36, "type": "SCALAR" },
        ],
        "bufferViews": [
            { "buffer": 0, "byteLength": 96 },
            { "buffer": 0, "byteOffset": 96, "byteLength": 72 },
        ],
        "buffers": [{ "byteLength": 168 }],
    })
}

fn glb(scene: &serde_json::Value, binary: &[u8]) -> Vec<u8> {
    let mut text = scene.to_string().into_bytes();
    text.resize(text.len().next_multiple_of(4), b' ');
    let long = 12 + 8 + text.len() + 8 + binary.len();
    let mut bytes = b"glTF".to_vec();
    bytes.extend(2_u32.to_le_bytes());
    bytes.extend((long as u32).to_le_bytes());
    bytes.extend((text.len() as u32).to_le_bytes());
    bytes.extend(b"JSON");
    bytes.extend(text);
    bytes.extend((binary.len() as u32).to_le_bytes());
    bytes.extend(b"BIN\0");
    bytes.extend(binary);
    bytes
}

fn at_middle() -> serde_json::Value {
    gltf(json!([{ "mesh": 0, "translation": MIDDLE }]))
}

#[test]
fn a_cube_of_each_format_is_read() {
    check("cube.obj", obj().as_bytes(), MIDDLE, None);
    check("cube.ply", ply_text().as_bytes(), MIDDLE, None);
    check("cube.PLY", &ply_binary(true), MIDDLE, None);
    check("cube.ply", &ply_binary(false), MIDDLE, None);
    check("cube.stl", stl_text().as_bytes(), MIDDLE, None);
    check("cube.stl", &stl_binary("a cube"), MIDDLE, None);
    // Some programs begin a binary file as a text begins.
    check("cube.stl", &stl_binary("solid cube"), MIDDLE, None);
    check("cube.glb", &glb(&at_middle(), &buffer()), MIDDLE, Some(1.0));
    let points = read("cube.stl", &stl_binary("a cube")).unwrap().points;
    assert_eq!(points.len(), 8, "corners of faces are not made one");
}

#[test]
fn gltf_may_have_its_bytes_beside_it_or_in_itself() {
    let mut scene = at_middle();
    scene["buffers"][0]["uri"] = "the%20cube.bin".into();
    let text = scene.to_string();
    let beside = |name: &str| (name == "the cube.bin").then(buffer);
    let scan = read_bytes("cube.gltf", text.as_bytes(), &beside).unwrap();
    assert!((volume(&scan) - 8.0).abs() < 1e-4);
    refuse(
        "cube.gltf",
        text.as_bytes(),
        "the cube.bin, which is not there",
    );

    let folder = tempfile::tempdir().unwrap();
    let inner = folder.path().join("bay");
    std::fs::create_dir(&inner).unwrap();
    std::fs::write(inner.join("cube.gltf"), &text).unwrap();
    std::fs::write(inner.join("the cube.bin"), buffer()).unwrap();
    assert_eq!(read_file(&inner.join("cube.gltf")).unwrap(), scan);
    // What lies outside of its folder is not looked for.
    std::fs::write(folder.path().join("out.bin"), buffer()).unwrap();
    scene["buffers"][0]["uri"] = "../out.bin".into();
    std::fs::write(inner.join("out.gltf"), scene.to_string()).unwrap();
    assert!(read_file(&inner.join("out.gltf")).is_err());
    assert!(
        read_file(&inner.join("none.glb"))
            .unwrap_err()
            .found
            .contains("can't be opened")
    );
    assert!(read_file(&inner).unwrap_err().found.contains("no file"));

    // Base 64 by the table of RFC 4648: the cube's bytes, three by three.
    let letters: Vec<char> = ('A'..='Z')
        .chain('a'..='z')
        .chain('0'..='9')
        .chain("+/".chars())
        .collect();
    let mut data = String::from("data:application/octet-stream;base64,");
    for three in buffer().chunks(3) {
        let held = three
            .iter()
            .fold(0_usize, |held, byte| held << 8 | usize::from(*byte));
        data.extend((0..4).rev().map(|i| letters[held >> (6 * i) & 63]));
    }
    scene["buffers"][0]["uri"] = data.into();
    check("cube.gltf", scene.to_string().as_bytes(), MIDDLE, Some(1.0));
}

#[test]
fn nodes_stand_in_nodes() {
    // A quarter turn to the left about z, then scaled by 2 along what was x, 3, 4, then moved: the cube's
    // own x lies along y after that.
    let half = std::f64::consts::FRAC_1_SQRT_2;
    let scene = gltf(json!([
        { "children": [1], "translation": [10, 0, 0] },
        { "children": [2], "rotation": [0, 0, half, half] },
        { "mesh": 0, "scale": [2, 3, 4], "translation": [1, 0, 0] },
    ]));
    let scan = read("cube.glb", &glb(&scene, &buffer())).unwrap();
    assert!((volume(&scan) - 8.0 * 24.0).abs() < 1e-3);
    let expected = [[7.0, -1.0, -4.0], [13.0, 3.0, 4.0]];
    for (found, expected) in extent(&scan)
        .as_flattened()
        .iter()
        .zip(expected.as_flattened())
    {
        assert!((found - expected).abs() < 1e-5, "{found} is not {expected}");
    }
    // The same by a matrix of columns, and one that mirrors: the faces look outward still.
    let scene = gltf(json!([
        { "mesh": 0, "matrix": [0, 2, 0, 0, 3, 0, 0, 0, 0, 0, 4, 0, 10, 1, 0, 1] },
    ]));
    let scan = read("cube.glb", &glb(&scene, &buffer())).unwrap();
    assert!(
        (volume(&scan) - 8.0 * 24.0).abs() < 1e-3,
        "{}",
        volume(&scan)
    );
    assert_eq!(extent(&scan)[1], [13.0, 3.0, 4.0]);
}

#[test]
fn coordinates_may_be_whole_numbers() {
    let mut scene = gltf(json!([{ "mesh": 0, "scale": [1, 1, 1], "translation": MIDDLE }]));
    scene["extensionsUsed"] = json!(["KHR_mesh_quantization"]);
    scene["extensionsRequired"] = json!(["KHR_mesh_quantization"]);
    scene["accessors"][0] = json!({ "bufferView": 0, "componentType": 5122, "normalized": true, "count": 8, "type": "VEC3" });
    scene["bufferViews"][0] = json!({ "buffer": 0, "byteLength": 64, "byteStride": 8 });
    scene["bufferViews"][1] = json!({ "buffer": 0, "byteOffset": 64, "byteLength": 72 });
    let mut bytes: Vec<u8> = Vec::new();
    for point in corners([0.0; 3]) {
        for part in point {
            // The least one stands for −1 too, as the standard has it.
            let whole = if part > 0.0 { i16::MAX } else { i16::MIN };
            bytes.extend(whole.to_le_bytes());
        }
        bytes.extend([9, 9]);
    }
    bytes.extend(&buffer()[96..]);
    check("cube.glb", &glb(&scene, &bytes), MIDDLE, Some(1.0));
}

#[test]
fn strips_and_fans_are_faces_too() {
    let mut scene = at_middle();
    // The two triangles of a square: as a strip 0 1 2 3, as a fan 0 1 3 2.
    for (mode, order) in [(5, [4_u16, 5, 6, 7]), (6, [4, 5, 7, 6])] {
        scene["meshes"][0]["primitives"][0]["mode"] = mode.into();
        scene["accessors"][1]["count"] = 4.into();
        let mut bytes = buffer();
        bytes.splice(96..104, order.into_iter().flat_map(u16::to_le_bytes));
        let scan = read("cube.glb", &glb(&scene, &bytes)).unwrap();
        assert_eq!(scan.triangles.len(), 2);
        for [a, b, c] in &scan.triangles {
            let [a, b, c] = [a, b, c].map(|corner| scan.points[*corner as usize]);
            // Seen from above they go round to the left.
            let turn = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
            assert!(turn > 0.0, "mode {mode}: {turn}");
        }
    }
}

#[test]
fn what_is_no_scan_is_refused_in_words() {
    refuse("cube.zip", &[1], "ending");
    refuse("cube.glb", &[], "empty");
    refuse("cube.stl", b"not much", "8 bytes");
    refuse("cube.glb", b"hello", "JSON");
    let whole = glb(&at_middle(), &buffer());
    for cut in [7, 11, 13, 40, whole.len() - 1] {
        assert!(read("cube.glb", &whole[..cut]).is_err(), "{cut}");
    }
    refuse("cube.glb", &whole[..whole.len() - 1], "says that it has");
    let stl = stl_binary("a cube");
    refuse(
        "cube.stl",
        &stl[..stl.len() - 1],
        "says that it has 12 faces, and has 11",
    );
    let text = stl_text();
    refuse(
        "cube.stl",
        &text.as_bytes()[..text.len() - 20],
        "ends before the end of a solid",
    );
    refuse("cube.ply", &ply_binary(false)[..400], "ends in the middle");
    let text = ply_text();
    refuse(
        "cube.ply",
        &text.as_bytes()[..text.len() - 10],
        "ends in the middle",
    );
    refuse(
        "cube.ply",
        text.replace("vertex 8", "vertex 7000000000").as_bytes(),
        "7000000000 of vertex",
    );
    refuse(
        "cube.ply",
        text.replace("4 0 4 6 2", "4 0 4 6 -2").as_bytes(),
        "below 0",
    );
    refuse(
        "cube.ply",
        text.replace("4 0 4 6 2", "4 0 4 6 8").as_bytes(),
        "1 of 12 faces",
    );
    refuse(
        "cube.ply",
        text.replace("property float x\n", "property float w\n")
            .as_bytes(),
        "no x, y and z",
    );
    refuse(
        "cube.obj",
        obj().replace("f 1 ", "f 9 ").as_bytes(),
        "can't be read",
    );
    let points: String = obj()
        .lines()
        .filter(|line| line.starts_with("v "))
        .map(|line| format!("{line}\n"))
        .collect();
    refuse("cube.obj", points.as_bytes(), "points and no face");
    refuse("cube.obj", b"# nothing\n", "nothing to see");
}

#[test]
fn a_coordinate_that_is_no_number_is_refused() {
    refuse(
        "cube.obj",
        obj().replace("v 2 -3 ", "v NaN -3 ").as_bytes(),
        "no number",
    );
    refuse(
        "cube.ply",
        ply_text().replacen("2 -3 ", "inf -3 ", 1).as_bytes(),
        "line 12 of it",
    );
    refuse(
        "cube.stl",
        stl_text().replacen("vertex 2", "vertex nan", 1).as_bytes(),
        "a face of it",
    );
    let mut ply = ply_binary(false);
    let begin = ply_head("binary_little_endian", "double").len();
    ply[begin..begin + 8].copy_from_slice(&f64::NAN.to_le_bytes());
    refuse(
        "cube.ply",
        &ply,
        "1 of 8 points have a coordinate that is no number",
    );
    let mut stl = stl_binary("a cube");
    stl[84 + 12..84 + 16].copy_from_slice(&f32::NAN.to_le_bytes());
    refuse(
        "cube.stl",
        &stl,
        "1 of 9 points have a coordinate that is no number",
    );
    let mut bytes = buffer();
    bytes[..4].copy_from_slice(&f32::INFINITY.to_le_bytes());
    refuse("cube.glb", &glb(&at_middle(), &bytes), "1 of 8 points");
}

#[test]
fn a_scene_that_can_not_be_is_refused() {
    let change = |path: &str, value: serde_json::Value| {
        let mut scene = at_middle();
        *scene.pointer_mut(path).unwrap() = value;
        glb(&scene, &buffer())
    };
    let mut squeezed = at_middle();
    squeezed["extensionsRequired"] = json!(["KHR_draco_mesh_compression"]);
    refuse(
        "cube.glb",
        &glb(&squeezed, &buffer()),
        "compressed (KHR_draco_mesh_compression)",
    );
    squeezed["extensionsRequired"] = json!(["EXT_meshopt_compression"]);
    refuse(
        "cube.glb",
        &glb(&squeezed, &buffer()),
        "compressed (EXT_meshopt_compression)",
    );
    squeezed["extensionsRequired"] = json!(["XYZ_curved_space"]);
    refuse(
        "cube.glb",
        &glb(&squeezed, &buffer()),
        "asks for XYZ_curved_space",
    );
    squeezed["extensionsRequired"] = json!(["KHR_materials_unlit"]);
    check("cube.glb", &glb(&squeezed, &buffer()), MIDDLE, Some(1.0));
    refuse(
        "cube.glb",
        &change("/asset/version", "1.0".into()),
        "version 1.0",
    );
    refuse("cube.glb", &change("/scene", 3.into()), "a scene is named");
    refuse(
        "cube.glb",
        &change("/scenes/0/nodes/0", 9.into()),
        "a node is named",
    );
    refuse(
        "cube.glb",
        &change("/nodes/0/mesh", 9.into()),
        "a mesh is named",
    );
    refuse(
        "cube.glb",
        &change("/accessors/0/count", 9.into()),
        "ends before the last number",
    );
    refuse(
        "cube.glb",
        &change("/accessors/0/count", u64::MAX.into()),
        "",
    );
    refuse(
        "cube.glb",
        &change("/accessors/1/count", 35.into()),
        "35 corners",
    );
    refuse(
        "cube.glb",
        &change("/accessors/0/type", "VEC2".into()),
        "three numbers each",
    );
    refuse(
        "cube.glb",
        &change("/accessors/1/componentType", 5126.into()),
        "ends before the last number",
    );
    refuse(
        "cube.glb",
        &change("/bufferViews/0/byteLength", u64::MAX.into()),
        "ends before the last number",
    );
    refuse(
        "cube.glb",
        &change(
            "/bufferViews/0",
            json!({ "buffer": 0, "byteLength": 96, "byteStride": 4 }),
        ),
        "overlap",
    );
    refuse(
        "cube.glb",
        &change("/nodes/0", json!({ "mesh": 0, "children": [0] })),
        "stands in itself",
    );
    let mut bytes = buffer();
    bytes[96] = 8;
    refuse(
        "cube.glb",
        &glb(&at_middle(), &bytes),
        "names a point that is not there",
    );
    let mut bare = at_middle();
    bare["accessors"][0]
        .as_object_mut()
        .unwrap()
        .remove("bufferView");
    refuse("cube.glb", &glb(&bare, &buffer()), "left out");
    refuse(
        "cube.glb",
        &change(
            "/meshes/0/primitives/0",
            json!({ "attributes": {}, "indices": 1 }),
        ),
        "no points",
    );
    refuse(
        "cube.glb",
        &change("/meshes/0/primitives/0/attributes", json!({ "NORMAL": 0 })),
        "no points",
    );
}

/// Files that say or hold more than any scan, and would be held many times over by who reads them.
#[test]
fn what_would_take_all_memory_is_refused_before_it_is_held() {
    let most = hosewright::scan::MAX_TRIANGLES;
    let points = hosewright::scan::MAX_POINTS;
    // PLY: an element that nobody asks for, a face of too many corners, a head and a line without an end.
    let junk = |count: usize| {
        let head = ply_head("binary_little_endian", "double");
        let (before, after) = head.split_once("element vertex").unwrap();
        let head = format!("{before}element junk {count}\nproperty uchar a\nelement vertex{after}");
        let mut bytes = head.into_bytes();
        bytes.resize(bytes.len() + count, 7);
        bytes.extend(&ply_binary(false)[ply_head("binary_little_endian", "double").len()..]);
        bytes
    };
    refuse("a.ply", &junk(points + 1), "more than are read of anything");
    check("a.ply", &junk(10_000), MIDDLE, None);
    let mut large = b"ply\nformat binary_little_endian 1.0\nelement face 1\nproperty list uint uchar vertex_indices\nend_header\n".to_vec();
    large.extend((points as u32 + 1).to_le_bytes());
    large.resize(large.len() + points + 1, 0);
    refuse("a.ply", &large, "faces are in it");
    let endless = format!("ply\nformat ascii 1.0\n{}", "comment\n".repeat(200_000));
    refuse("a.ply", endless.as_bytes(), "head does not end");
    let line = ply_text().replace("4 0 4 6 2", &format!("4 0 4 6 2{}", " 1".repeat(600_000)));
    refuse("a.ply", line.as_bytes(), "a line of it has over");
    // OBJ: faces, points, a face of too many corners; not what is no part of it.
    refuse(
        "a.obj",
        "f 1 1 1\n".repeat(most + 1).as_bytes(),
        "faces are in it",
    );
    refuse(
        "a.obj",
        "v 0 0 0\n".repeat(points + 1).as_bytes(),
        "points are in it",
    );
    let wide = format!("f{}\n", " 1".repeat(most + 3));
    refuse("a.obj", wide.as_bytes(), "faces are in it");
    let names = "vt 0 0\nvn 0 0 1\no \u{e4}\nusemtl a\n".repeat(1000);
    let full = obj().replace("f ", &format!("{names}f "));
    let full: String = full
        .lines()
        .map(|line| match line.strip_prefix("f ") {
            Some(corners) => {
                let corners = corners.split(' ').map(|corner| format!(" {corner}/1/-1"));
                format!("f{}\n", corners.collect::<String>())
            }
            None => format!("{line}\n"),
        })
        .collect();
    check("a.obj", full.as_bytes(), MIDDLE, None);
    // STL: a text of bare beginnings.
    let bare = format!("solid\n{}", "facet\n".repeat(most + 1));
    refuse("a.stl", bare.as_bytes(), "faces are in it");
    // glTF: a strip of bytes, a list of nodes, one mesh shown over and over.
    let mut scene = at_middle();
    scene["meshes"][0]["primitives"][0]["mode"] = 5.into();
    scene["accessors"][1]["count"] = (points + 1).into();
    scene["accessors"][1]["componentType"] = 5121.into();
    scene["bufferViews"][1]["byteLength"] = (points + 1).into();
    let mut bytes = buffer();
    bytes.resize(96 + points + 1, 0);
    refuse("a.glb", &glb(&scene, &bytes), "faces are in it");
    let nodes = format!(
        "{{\"asset\":{{\"version\":\"2.0\"}},\"nodes\":[{{}}{}]}}",
        ",{}".repeat(700_000)
    );
    refuse("a.gltf", nodes.as_bytes(), "JSON tells of more parts");
    let mut scene = gltf(serde_json::Value::Array(vec![json!({ "mesh": 0 }); 1000]));
    scene.as_object_mut().unwrap().remove("scene");
    scene.as_object_mut().unwrap().remove("scenes");
    scene["accessors"][0]["count"] = 0.into();
    let none = json!({ "attributes": { "POSITION": 0 } });
    scene["meshes"][0]["primitives"] = serde_json::Value::Array(vec![none; 300]);
    refuse("a.glb", &glb(&scene, &buffer()), "parts are in it");
}

#[test]
fn broken_bytes_are_read_or_refused() {
    let long = std::env::var("HOSEWRIGHT_TEST_TIER").is_ok_and(|tier| tier == "long");
    let count = if long { 40_000 } else { 2_000 };
    let mut nested = gltf(json!([
        { "children": [1, 2] },
        { "mesh": 0, "rotation": [0, 0, 0, 1] },
        { "mesh": 0, "matrix": [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 5, 0, 0, 1] },
    ]));
    nested["extensionsRequired"] = json!(["KHR_mesh_quantization"]);
    let whole: [(&str, Vec<u8>); 9] = [
        ("cube.obj", obj().into_bytes()),
        ("cube.ply", ply_text().into_bytes()),
        ("cube.ply", ply_binary(true)),
        ("cube.ply", ply_binary(false)),
        ("cube.stl", stl_text().into_bytes()),
        ("cube.stl", stl_binary("a cube")),
        ("cube.glb", glb(&at_middle(), &buffer())),
        ("cube.glb", glb(&nested, &buffer())),
        ("cube.gltf", nested.to_string().into_bytes()),
    ];
    let beside = |_: &str| Some(buffer());
    let mut rng = Pcg64::seed_from_u64(0x5ca9);
    let (mut fine, mut refused) = (0, 0);
    for i in 0..count {
        let (name, bytes) = &whole[i % whole.len()];
        let mut bytes = bytes.clone();
        for _ in 0..rng.random_range(1..5) {
            let at = rng.random_range(0..bytes.len());
            let to = (at + rng.random_range(0..9)).min(bytes.len());
            match rng.random_range(0..6) {
                0 => bytes[at] = rng.random_range(0..=255),
                1 => bytes[at] ^= 1 << rng.random_range(0..8),
                2 => drop(bytes.drain(at..to)),
                3 => {
                    let bit = bytes[at..to].to_vec();
                    bytes.splice(to..to, bit);
                }
                4 => {
                    let bit: &[u8] = [
                        &b"-1"[..],
                        b"99999999999",
                        b"nan",
                        b"\n",
                        b"\0",
                        b"1e400",
                        b"{",
                        b"[0]",
                    ][rng.random_range(0..8)];
                    bytes.splice(at..to, bit.iter().copied());
                }
                _ => bytes.truncate(at),
            }
            if bytes.is_empty() {
                break;
            }
        }
        match read_bytes(name, &bytes, &beside) {
            Ok(scan) => {
                fine += 1;
                let most = scan.points.len();
                assert!(
                    scan.points
                        .as_flattened()
                        .iter()
                        .all(|part| part.is_finite())
                );
                assert!(
                    scan.triangles
                        .as_flattened()
                        .iter()
                        .all(|corner| (*corner as usize) < most)
                );
            }
            Err(fault) => {
                refused += 1;
                assert!(
                    !fault.found.is_empty() && !fault.expected.is_empty(),
                    "{fault:?}"
                );
            }
        }
    }
    assert!(fine > 0 && refused > 0, "{fine} read, {refused} refused");
}
