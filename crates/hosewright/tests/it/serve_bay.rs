//! What the page is sent of the bay, and asks of it.

use serde_json::{Value, json};

use crate::bench::{demo_copy, root};
use crate::serve::Bench;

type P3 = [f64; 3];

fn p3(value: &Value) -> P3 {
    serde_json::from_value(value.clone()).unwrap()
}

fn list(value: &Value) -> &[Value] {
    value.as_array().unwrap()
}

fn dot(a: P3, b: P3) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

fn cross(a: P3, b: P3) -> P3 {
    let part = |i: usize, j: usize| a[i] * b[j] - a[j] * b[i];
    [part(1, 2), part(2, 0), part(0, 1)]
}

/// The demo boat with her scan beside her file.
fn scanned() -> Bench {
    let folder = demo_copy();
    std::fs::copy(
        root().join("boats/dunlin/bay.glb"),
        folder.path().join("bay.glb"),
    )
    .unwrap();
    Bench::of(folder, false)
}

#[test]
fn the_screw_of_each_clip_lies_in_a_free_arc_of_its_own() {
    let bench = Bench::new();
    // Which tool reaches a clip is looked for behind the first answer.
    for _ in 0..600 {
        if bench.page()["settled"] == true {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(100));
    }
    let bay = bench.get("/api/bay").good();
    let mut reached = 0;
    for clip in list(&bay["clips"]) {
        if clip["screw"].is_null() {
            continue;
        }
        let (at, axis, noon) = (p3(&clip["at"]), p3(&clip["axis"]), p3(&clip["noon"]));
        let screw = p3(&clip["screw"]);
        let off = [0, 1, 2].map(|i| screw[i] - at[i]);
        // Whoever looks at the open end looks against the axis; with noon upright his right hand is noon x axis.
        let hand = dot(off, cross(noon, axis));
        let degrees = hand.atan2(dot(off, noon)).to_degrees();
        let inside = list(&clip["free"]).iter().any(|arc| {
            let (from, to) = (arc["from"].as_f64().unwrap(), arc["to"].as_f64().unwrap());
            (degrees - from).rem_euclid(360.0) <= to - from + 1e-6
        });
        assert!(inside, "{}: {degrees} in {}", clip["mark"], clip["free"]);
        assert!(clip["free_text"].is_string(), "{}", clip["mark"]);
        reached += 1;
    }
    assert!(reached > 3, "{reached} clips are reached");
}

#[test]
fn the_box_holds_hatch_and_scan() {
    let bay = scanned().get("/api/bay").good();
    let (low, high) = (p3(&bay["low"]), p3(&bay["high"]));
    let inside = |point: P3| (0..3).all(|i| low[i] <= point[i] && point[i] <= high[i]);
    for corner in list(&bay["hatch"]["corners"]) {
        assert!(inside(p3(corner)), "the hatch's {corner}");
    }
    assert!(bay["scan"].is_object());
    // The scan of the demo boat goes farther down than any body and any hose.
    let bare = Bench::new().get("/api/bay").good();
    assert!(low[2] < p3(&bare["low"])[2] - 1e-3, "{low:?}");
}

#[test]
fn a_distance_says_how_far_it_is_known() {
    let bench = scanned();
    let bay = bench.get("/api/bay").good();
    let clip = &bay["clips"][0];
    let ask = |from: Value, to: Value| {
        let told = bench.post("/api/measure", &json!({ "from": from, "to": to }));
        told.good()["deviation"].as_str().unwrap().to_owned()
    };
    let [near, far] = [json!([0.1, 0.2, 0.3]), json!([0.4, 0.2, 0.3])];
    let (joint, screw) = (&clip["joint"], &clip["at"]);
    let marks = ask(json!({ "key": joint }), json!({ "key": joint }));
    assert!(marks.starts_with('±'), "{marks}");
    let scan = json!({ "at": near, "on": "scan" });
    let scans = ask(scan.clone(), json!({ "at": far, "on": "scan" }));
    assert!(scans.starts_with('±'), "{scans}");
    // A point on a clip is off as its clip is.
    let clips = ask(
        scan.clone(),
        json!({ "at": screw, "key": joint, "on": "body" }),
    );
    assert!(clips.starts_with('±'), "{clips}");
    let body = json!({ "at": far, "on": "body" });
    assert_eq!(ask(scan, body.clone()), "tolerance not known");
    assert_eq!(ask(json!({ "key": joint }), body), "tolerance not known");
    assert_eq!(
        ask(json!({ "at": near }), json!({ "at": far })),
        "tolerance not known"
    );
}

#[test]
fn a_distance_is_told_in_the_units_that_are_asked_for() {
    let bench = Bench::new();
    let ask = json!({ "from": { "at": [0, 0, 0] }, "to": { "at": [0.254, 0, 0] } });
    let text = |path: &str| {
        bench.post(path, &ask).good()["text"]
            .as_str()
            .unwrap()
            .to_owned()
    };
    assert_eq!(text("/api/measure?units=metric"), "254 mm");
    assert_eq!(text("/api/measure?units=imperial"), "10.00 in");
}

#[test]
fn the_spoken_bay_is_whole_sentences() {
    let bay = Bench::new().get("/api/bay").good();
    let spoken = bay["spoken"].as_str().unwrap();
    assert!(
        spoken.ends_with('.') && !spoken.contains(" 0 runs"),
        "{spoken}"
    );
}
