//! A scan that is dropped on the page: read, pressed on, laid in by places of the boat, kept.

use std::time::Duration;

use axum::body::Body;
use axum::http::Request;
use serde_json::{Value, json};

use crate::serve::{Bench, HOST, Told};

/// The pins of the demo boat [mm], as her tapes have them.
const PINS: [(&str, [f64; 3]); 4] = [
    ("P1", [0.0, 0.0, 118.0]),
    ("P2", [1239.0, 0.0, 131.0]),
    ("P3", [1204.0, -741.0, 96.0]),
    ("P4", [33.0, -719.0, 402.0]),
];

/// A body of four faces with a corner at each pin, in mm, turned and moved as a scan is.
fn scan() -> Vec<u8> {
    let mut text = String::new();
    for (_, pin) in PINS {
        let [x, y, z] = seen(pin);
        text.push_str(&format!("v {x} {y} {z}\n"));
    }
    text.push_str("f 1 3 2\nf 1 2 4\nf 2 3 4\nf 1 4 3\n");
    text.into_bytes()
}

/// Where the scan has a place of the bay: a quarter turn about the upright, then moved.
fn seen([x, y, z]: [f64; 3]) -> [f64; 3] {
    [-y + 100.0, x - 50.0, z + 7.0]
}

fn look(bench: &Bench, query: &str, bytes: Vec<u8>) -> Told {
    let request = Request::post(format!("/api/scan?{query}"))
        .header("host", HOST)
        .header("origin", format!("http://{HOST}"))
        .header("content-type", "application/octet-stream")
        .header("x-hosewright-key", bench.key());
    bench.ask([127, 0, 0, 1], request.body(Body::from(bytes)).unwrap())
}

/// What lays that scan in by its pins.
fn ask(id: &Value, metres: f64, keep: bool) -> Value {
    let pairs: Vec<Value> = PINS
        .iter()
        .map(|(name, at)| json!({ "name": name, "scan": seen(*at), "bay": null }))
        .collect();
    json!({ "id": id, "metres_per_unit": metres, "known": null, "pairs": pairs, "behind": "free", "keep": keep })
}

fn says(answer: &Value) -> String {
    let lines = answer["says"].as_array().unwrap().iter();
    lines
        .map(|line| line.as_str().unwrap())
        .collect::<Vec<_>>()
        .join("\n")
}

#[test]
fn what_a_scan_is_and_which_places_are_known() {
    let bench = Bench::new();
    let bytes = std::fs::read(crate::bench::root().join("boats/dunlin/bay.glb")).unwrap();
    let told = look(&bench, "name=bay.glb", bytes.clone()).good();
    // Its format is in metres: the page need not ask.
    assert_eq!(told["metres_per_unit"], 1.0);
    assert!(says(&told).contains("It is open: "), "{told}");
    let spots = told["spots"].as_array().unwrap();
    let place = |name: &str| {
        let spot = spots.iter().find(|spot| spot["name"] == name);
        spot.unwrap_or_else(|| panic!("{name} in {spots:?}"))["text"]
            .as_str()
            .unwrap()
            .to_owned()
    };
    assert!(
        place("P1").starts_with("x 0 mm, y 0 mm, z 11"),
        "{}",
        place("P1")
    );
    assert_eq!(place("gearbox.b"), "x 236 mm, y −331 mm, z 60 mm");
    assert!(place("engine.out").starts_with("x "));
    let mut names: Vec<&str> = spots
        .iter()
        .map(|spot| spot["name"].as_str().unwrap())
        .collect();
    let count = names.len();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), count, "each once: {names:?}");

    let told = look(&bench, "name=bay.glb&units=imperial", bytes).good();
    let spots = told["spots"].as_array().unwrap();
    let place = spots.iter().find(|spot| spot["name"] == "P1").unwrap();
    assert!(place["text"].as_str().unwrap().contains(" in"), "{place}");
}

#[test]
fn a_scan_is_laid_in_by_pins_and_follows_them() {
    let bench = Bench::new();
    let told = look(&bench, "name=scan%20(1).obj", scan()).good();
    // As browsers name what is fetched twice.
    assert_eq!(told["name"], "scan (1).obj");
    assert_eq!(told["metres_per_unit"], Value::Null);
    let id = &told["id"];

    let laid = bench.post("/api/scan/lay", &ask(id, 0.001, false)).good();
    assert_eq!(
        (&laid["fault"], &laid["kept"]),
        (&Value::Null, &json!(false))
    );
    let words = says(&laid);
    assert!(words.starts_with("By its 4 points it lies "), "{words}");
    assert!(words.contains(" is the farthest off, by "), "{words}");
    assert!(!words.contains("in doubt"), "{words}");
    assert_eq!(laid["residuals"].as_array().unwrap().len(), 4);

    // A wrong unit is named.
    let laid = bench.post("/api/scan/lay", &ask(id, 1.0, false)).good();
    let words = says(&laid);
    assert!(
        words.contains("The unit is in doubt: ") && words.contains("one millimetre"),
        "{words}"
    );

    let inches = bench.post("/api/scan/lay?units=imperial", &ask(id, 0.001, false));
    assert!(says(&inches.good()).contains(" in off in the mean"));

    let mut line = ask(id, 0.001, false);
    line["pairs"].as_array_mut().unwrap().truncate(2);
    let laid = bench.post("/api/scan/lay", &line).good();
    assert_eq!(laid["fault"], "2 points match: three at least are due.");

    let laid = bench.post("/api/scan/lay", &ask(id, 0.001, true)).good();
    assert_eq!(laid["kept"], true);
    let text = bench.text();
    assert!(text.contains("file = \"scan (1).obj\""), "{text}");
    // The other one was in metres, which its format told, and 3 mm off; its comment stands.
    assert!(
        text.contains("unit = \"mm\"") && !text.contains("error = 3"),
        "{text}"
    );
    assert!(
        text.contains("[bay.scan]                    # the phone"),
        "{text}"
    );
    assert!(
        text.contains("is = \"P1\"") && text.contains("is = \"P4\""),
        "{text}"
    );
    assert_eq!(
        std::fs::read(bench.folder.path().join("scan (1).obj")).unwrap(),
        scan()
    );
    assert!(bench.page()["remarks"].as_array().unwrap().is_empty());
    let bay = bench.get("/api/bay").good();
    let laid = bay["scan"]["laid"].as_str().unwrap();
    assert!(laid.starts_with("laid in by 4 points"), "{laid}");
    // It was put away.
    assert_eq!(
        bench.post("/api/scan/lay", &ask(id, 0.001, false)).status,
        404
    );
}

#[test]
fn points_in_numbers_stand_beside_places() {
    let bench = Bench::new();
    let id = &look(&bench, "name=a.obj", scan()).good()["id"];
    let mut mixed = ask(id, 0.001, true);
    mixed["pairs"][3]["name"] = "a bolt".into();
    mixed["pairs"][3]["bay"] = json!([0.033, -0.719, 0.402]);
    bench.post("/api/scan/lay", &mixed).good();
    let text = bench.text();
    assert!(
        text.contains("is = [\"0.033 m\", \"-0.719 m\", \"0.402 m\"]"),
        "{text}"
    );
    assert!(text.contains("is = \"P3\""), "{text}");

    // By a known length in place of the unit, over that one.
    let id = &look(&bench, "name=a.obj", scan()).good()["id"];
    let mut taped = ask(id, 0.001, true);
    taped["known"] = json!({ "a": seen(PINS[0].1), "b": seen(PINS[1].1), "length": 1.23907 });
    bench.post("/api/scan/lay", &taped).good();
    let text = bench.text();
    assert!(
        text.contains("length = \"1.23907 m\"") && !text.contains("unit = \"mm\""),
        "{text}"
    );
    assert!(bench.page()["remarks"].as_array().unwrap().is_empty());

    // Where no scan was before, and by way of one line.
    let (before, rest) = text.split_once("[bay.scan]").unwrap();
    let (_, after) = rest.split_once("[bay.lies]").unwrap();
    bench.outside(&format!("{before}[bay.lies]{after}"));
    let id = &look(&bench, "name=a.obj", scan()).good()["id"];
    bench.post("/api/scan/lay", &ask(id, 0.001, true)).good();
    assert!(
        bench.text().contains("file = \"a.obj\""),
        "{}",
        bench.text()
    );
    let bay = bench.get("/api/bay").good();
    assert!(bay["scan"]["laid"].is_string(), "{}", bay["scan"]);

    let id = &look(&bench, "name=b.obj", scan()).good()["id"];
    let mut lost = ask(id, 0.001, false);
    lost["pairs"][0]["name"] = "P9".into();
    let told = bench.post("/api/scan/lay", &lost);
    assert_eq!(told.status, 409);
    assert!(told.text().contains("P9 has no place"), "{}", told.text());
}

#[test]
fn another_file_of_the_same_name_is_another_scan() {
    let bench = Bench::new();
    let first = look(&bench, "name=bay.obj", scan()).good()["id"].clone();
    let again = look(&bench, "name=bay.obj", scan()).good()["id"].clone();
    assert_eq!(first, again, "the same bytes are the same scan");
    let mut other = scan();
    other.extend(b"f 1 2 3\n");
    let second = look(&bench, "name=bay.obj", other).good()["id"].clone();
    assert_ne!(first, second);
    for call in ["/api/scan/lay", "/api/scan/point"] {
        let mut sent = ask(&first, 0.001, true);
        sent["from"] = json!([0, 0, 0]);
        sent["way"] = json!([0, 0, 1]);
        sent["near"] = json!(1);
        let told = bench.post(call, &sent);
        assert_eq!(told.status, 409, "{}", told.text());
        assert!(
            told.text()
                .contains("Another scan, bay.obj, was dropped since")
        );
    }
    // Leaving one that is gone leaves the other where it is.
    bench
        .post("/api/scan/leave", &json!({ "id": first }))
        .good();
    bench.app.scan_forget(Duration::from_secs(60));
    bench
        .post("/api/scan/lay", &ask(&second, 0.001, false))
        .good();
    bench
        .post("/api/scan/leave", &json!({ "id": second }))
        .good();
    let lay = || {
        bench
            .post("/api/scan/lay", &ask(&second, 0.001, false))
            .status
    };
    assert_eq!(lay(), 404);
    look(&bench, "name=bay.obj", scan()).good();
    bench.app.scan_forget(Duration::ZERO);
    assert_eq!(
        bench
            .post("/api/scan/lay", &ask(&first, 0.001, false))
            .status,
        404
    );
}

#[test]
fn a_press_is_answered_with_what_is_there() {
    let bench = Bench::new();
    // A square of two faces in the plane z = 1, and one under it.
    let mut text = String::new();
    for z in [1.0, 0.0] {
        for [x, y] in [[0, 0], [10, 0], [10, 10], [0, 10]] {
            text.push_str(&format!("v {x} {y} {z}\n"));
        }
    }
    text.push_str("f 1 2 3 4\nf 5 6 7 8\n");
    let id = &look(&bench, "name=a.obj", text.into_bytes()).good()["id"];
    let press = |from: [f64; 3], way: [f64; 3]| {
        let ray = json!({ "id": id, "from": from, "way": way, "near": 0.5 });
        bench.post("/api/scan/point", &ray).good()
    };
    let close = |told: &Value, expected: [f64; 3]| {
        for (axis, expected) in expected.into_iter().enumerate() {
            let found = told["at"][axis].as_f64().unwrap();
            assert!((found - expected).abs() < 1e-9, "{told}");
        }
    };
    // From above, whichever point of the line is named: the upper one, between its corners.
    for z in [40.0, 0.5, -9.0] {
        let told = press([3.0, 4.0, z], [0.0, 0.0, -2.0]);
        close(&told, [3.0, 4.0, 1.0]);
        assert_eq!(told["says"], "on one of its faces");
    }
    // From below the lower one; askew where the line comes in.
    close(&press([3.0, 4.0, 40.0], [0.0, 0.0, 1.0]), [3.0, 4.0, 0.0]);
    close(&press([3.0, 4.0, 2.0], [1.0, 0.0, -1.0]), [4.0, 4.0, 1.0]);
    // On the edge between the two faces of the square too.
    close(&press([5.0, 5.0, 9.0], [0.0, 0.0, -1.0]), [5.0, 5.0, 1.0]);
    // Near a corner, on the face and beside it, the corner is meant.
    for from in [[9.8, 9.7, 5.0], [10.2, 10.3, 5.0]] {
        let told = press(from, [0.0, 0.0, -1.0]);
        close(&told, [10.0, 10.0, 1.0]);
        assert_eq!(told["says"], "a corner of its faces");
    }
    let told = press([12.0, 5.0, 5.0], [0.0, 0.0, -1.0]);
    assert_eq!(told["at"], Value::Null);
    assert!(
        told["says"].as_str().unwrap().starts_with("Nothing"),
        "{told}"
    );
    let ray = json!({ "id": id, "from": [0, 0, 0], "way": [0, 0, 0], "near": 1 });
    assert_eq!(bench.post("/api/scan/point", &ray).status, 422);
}

#[test]
fn a_name_is_kept_or_made_tidy_and_told() {
    let bench = Bench::new();
    for (name, kept) in [
        ("bay.obj", "bay.obj"),
        ("Bilge%20(2).OBJ", "Bilge (2).OBJ"),
        ("k%C3%BChler.obj", "kühler.obj"),
        ("%20bay.obj", "bay.obj"),
        ("a%3Ab%3F.obj", "a-b-.obj"),
        ("..%2Fbay.obj", "-bay.obj"),
        (".obj", "scan.obj"),
    ] {
        let told = look(&bench, &format!("name={name}"), scan()).good();
        assert_eq!(told["name"], kept, "{name}");
        let changed = says(&told).contains(&format!("It is kept under the name {kept}."));
        let same = ["bay.obj", "Bilge%20(2).OBJ", "k%C3%BChler.obj"].contains(&name);
        assert_eq!(changed, !same, "{name}");
    }
    for name in ["notes.txt", "", "obj"] {
        let told = look(&bench, &format!("name={name}"), scan());
        assert_eq!(told.status, 422, "{name}");
        assert!(
            told.text().contains("no scan by its ending"),
            "{}",
            told.text()
        );
    }
}

#[test]
fn too_large_a_file_is_refused_in_words() {
    let bench = Bench::new();
    let told = look(&bench, "name=a.obj", vec![b' '; 200_000_001]);
    assert_eq!(told.status, 413);
    let why = told.json()["why"].as_str().unwrap().to_owned();
    assert!(
        why.contains("over 200 MB") && why.contains("thin it out"),
        "{why}"
    );
}
