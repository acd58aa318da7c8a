//! The plain formats `access/1` and `sequence/1`: the samples, a mesh, and faults that name their field.

use std::path::Path;

use serde_json::{Value, json};

use crate::sequence_answer::Wanted;
use crate::{access_answer, plain, sequence_answer};

const ACCESS: &str = include_str!("../data/access.json");
const SEQUENCE: &str = include_str!("../data/sequence.json");

fn data() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/data"))
}

fn of_access(file: &Value) -> Result<Value, String> {
    let case: access_answer::Case = plain::parse(&file.to_string())?;
    access_answer::answer(&case, data())
}

fn of_sequence(file: &Value, wanted: Wanted) -> Result<Value, String> {
    let case: sequence_answer::Case = plain::parse(&file.to_string())?;
    sequence_answer::answer(&case, wanted, data())
}

fn read(text: &str) -> Value {
    serde_json::from_str(text).expect("the sample is JSON")
}

/// The file with one value changed.
fn with(text: &str, at: &str, value: Value) -> Value {
    let mut file = read(text);
    *file.pointer_mut(at).expect("it is there") = value;
    file
}

#[track_caller]
fn near(value: &Value, at: &str, wanted: f64) {
    let found = value.pointer(at).and_then(Value::as_f64).expect(at);
    assert!((found - wanted).abs() < 0.02, "{at}: {found}, not {wanted}");
}

#[test]
fn the_sample_of_access_is_solved() {
    let told = of_access(&read(ACCESS)).expect("an answer");
    // Closed forms of a wall 80 mm off.
    let half = (64.0 / 26_f64.hypot(231.0)).acos().to_degrees();
    let lead = 231_f64.atan2(26.0).to_degrees();
    near(&told, "/c1/straight+/widest/0", half - lead + 360.0);
    near(&told, "/c1/straight+/widest/1", 720.0 - half - lead);
    near(&told, "/c1/straight+/intervals/0/0", 0.0);
    near(&told, "/c1/straight+/intervals/0/1", 360.0 - half - lead);
    near(&told, "/c1/straight+/intervals/1/0", 360.0 + half - lead);
    near(&told, "/c1/straight+/intervals/1/1", 360.0);
    near(&told, "/c1/straight+/recommended", 180.0 - lead);
    near(&told, "/c1/straight-/recommended", 180.0 + lead);
    near(
        &told,
        "/c1/pincers/intervals/0/0",
        (66.0_f64 / 226.0).acos().to_degrees(),
    );
    assert_eq!(told["c1"]["flexible"]["reachable"], json!(true));
    assert_eq!(told["c1"]["straight"]["sense"], json!("+"));
}

#[test]
fn the_sample_of_a_sequence_is_solved() {
    let told = of_sequence(&read(SEQUENCE), Wanted::One).expect("an answer");
    assert_eq!(told, json!({"order": ["P", "Q"]}));
    let told = of_sequence(&read(SEQUENCE), Wanted::All).expect("an answer");
    assert_eq!(told["orders"], json!([["P", "Q"], ["Q", "P"]]));
}

#[test]
fn a_mesh_of_the_wall_is_the_wall() {
    let mesh = json!({"id": "wall", "shape": "mesh", "file": "wall.stl", "closed": true});
    let told = of_access(&with(ACCESS, "/obstacles/0", mesh)).expect("an answer");
    let wall = of_access(&read(ACCESS)).expect("an answer");
    for tool in ["straight+", "straight-", "pincers"] {
        let of = |told: &Value| told["c1"][tool]["widest"].clone();
        let (a, b) = (of(&told), of(&wall));
        for end in 0..2 {
            let off = a[end].as_f64().expect("a number") - b[end].as_f64().expect("a number");
            assert!(off.abs() < 0.02, "{tool}: {a} {b}");
        }
    }
}

#[test]
fn hoses_count_unless_they_are_the_clips_own_or_not_in() {
    let mut file = read(ACCESS);
    file["obstacles"] = json!([]);
    file["tools"] = json!(["pincers"]);
    file["hoses"] = json!([
        {"id": "own", "od": 40, "centerline": [[0, 0, -300], [0, 0, 300]]},
        {"id": "other", "od": 40, "centerline": [[150, 0, -300], [150, 0, 300]]},
    ]);
    file["clips"][0]["hose"] = json!("own");
    let of =
        |file: &Value| of_access(file).expect("an answer")["c1"]["pincers"]["intervals"].clone();
    // A hose upright at 150 mm: the pincers touch where 150 sin φ = 20 + 14.
    let told = of(&file);
    let edge = (34.0_f64 / 150.0).asin().to_degrees();
    near(&told, "/0/0", edge);
    near(&told, "/0/1", 360.0 - edge);
    file["clips"][0]["installed"] = json!(["own"]);
    assert_eq!(of(&file), json!([[0.0, 360.0]]));
}

#[test]
fn a_fault_names_its_field() {
    let faults = [
        ("/format", json!("access/2"), "format: "),
        ("/tools/1", json!("hammer"), "tools[1]: “hammer”"),
        ("/clips/0/axis", json!([0, 0, 0]), "clips[0].axis: "),
        ("/clips/0/od", json!(-40), "clips[0].od: -40"),
        ("/clips/0/pos", json!([0, 0]), "clips[0].pos: "),
        ("/clips/0/hose", json!("nobody"), "clips[0].hose: no hose"),
        (
            "/obstacles/0/half",
            json!([10, 0, 5]),
            "obstacles[0].half[1]: 0",
        ),
        (
            "/obstacles/0/half",
            json!(null),
            "obstacles[0].half: is missing",
        ),
        ("/obstacles/0/shape", json!("blob"), "obstacles[0].shape: "),
        ("/obstacles/0/kind", json!("soft"), "obstacles[0].kind: "),
        (
            "/obstacles/0/shape",
            json!("mesh"),
            "obstacles[0].file: is missing",
        ),
        (
            "/obstacles/0/center/1",
            json!("x"),
            "obstacles[0].center[1]: ",
        ),
    ];
    for (at, value, wanted) in faults {
        let fault = of_access(&with(ACCESS, at, value)).expect_err(at);
        assert!(fault.starts_with(wanted), "{at}: {fault}");
    }
    let line = json!([[0, 0, 0]]);
    let fault = of_sequence(&with(SEQUENCE, "/hoses/1/centerline", line), Wanted::One)
        .expect_err("one place");
    assert!(fault.starts_with("hoses[1].centerline: "), "{fault}");
    let fault =
        of_sequence(&with(SEQUENCE, "/hoses/1/id", json!("P")), Wanted::One).expect_err("twice");
    assert!(fault.starts_with("hoses[1].id: “P”"), "{fault}");
    let axis = json!([0, 0, 0]);
    let fault = of_sequence(&with(SEQUENCE, "/hoses/0/clips/0/axis", axis), Wanted::One)
        .expect_err("no axis");
    assert!(fault.starts_with("hoses[0].clips[0].axis: "), "{fault}");
}
