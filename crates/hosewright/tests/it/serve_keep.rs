//! The server, asked without a socket: keeping a trial, taking the folder along, and what one value may not overwrite.

use std::collections::BTreeMap;
use std::io::{Cursor, Read as _};

use axum::body::Body;
use axum::http::Request;
use serde_json::{Value, json};
use zip::{DateTime, ZipArchive};

use crate::bench::demo_copy;
use crate::serve::{Bench, query};

const PHONE: [u8; 4] = [192, 168, 1, 50];
const SHARED: &str = "192.168.1.20:4177";

/// What was sent, with more in it.
fn and(mut sent: Value, more: &Value) -> Value {
    let map = sent.as_object_mut().unwrap();
    map.extend(more.as_object().unwrap().clone());
    sent
}

#[test]
fn a_trial_is_kept_as_a_state_by_one_step() {
    let bench = Bench::new();
    let before = bench.text();
    let ask = json!({ "arrangement": "after", "state": "cruise", "sea": "68 °F", "load": 0.4 });
    let keep = &bench.post("/api/trial", &ask).good()["keep"];
    // 68 °F are the 20 °C of her summer; 0.4 of 46 kW are told to the watt.
    assert_eq!(
        keep["holds"],
        json!(["sea = \"summer\"", "power = \"18.4 kW\""])
    );
    assert_eq!((&keep["left"], &keep["summer"]), (&json!([]), &Value::Null));
    assert_eq!(bench.text(), before);

    let named = and(ask.clone(), &json!({ "number": 1, "name": "warm-run" }));
    let page = bench.post("/api/keep", &named).good();
    let line = "warm-run = { rpm = \"1900 rpm\", speed = \"6.5 kn\", sea = \"summer\", power = \"18.4 kW\" }";
    assert!(bench.text().contains(line), "{}", bench.text());
    assert_eq!(bench.text().replace(&format!("{line}\n"), ""), before);
    let states = page["states"].as_array().unwrap();
    assert!(states.iter().any(|state| state["key"] == "warm-run"));
    assert_eq!(page["history"]["back"], "new state warm-run");
    // What is kept is what was tried.
    let tried = bench.post("/api/trial", &ask).good();
    let again = json!({ "arrangement": "after", "state": "warm-run" });
    let again = bench.post("/api/trial", &again).good();
    for (tried, kept) in tried["rows"]
        .as_array()
        .unwrap()
        .iter()
        .zip(again["rows"].as_array().unwrap())
    {
        assert_eq!(tried["trial"], kept["now"], "{tried} {kept}");
    }
    bench.post("/api/back", &json!({ "number": 2 })).good();
    assert_eq!(bench.text(), before);
}

#[test]
fn a_trial_is_kept_in_its_own_state() {
    let bench = Bench::new();
    let before = bench.text();
    let ask = json!({ "number": 1, "arrangement": "after", "state": "flat-out", "sea": "4 °C" });
    let page = bench.post("/api/keep", &ask).good();
    let line = "flat-out = { rpm = \"2600 rpm\", speed = \"7.6 kn\", sea = ";
    assert_eq!(
        bench.text(),
        before.replace(&format!("{line}\"summer\""), &format!("{line}\"winter\""))
    );
    assert_ne!(bench.text(), before);
    assert_eq!(page["history"]["back"], "state flat-out: sea");
}

#[test]
fn what_no_state_can_hold_is_told_and_not_written() {
    let bench = Bench::new();
    let before = bench.text();
    let ask = json!({ "arrangement": "after", "state": "cruise", "sea": "28 °C", "fouling": 3 });
    let keep = &bench.post("/api/trial", &ask).good()["keep"];
    assert_eq!(keep["holds"], json!([]));
    let left = keep["left"].as_array().unwrap();
    assert_eq!(left.len(), 2, "{keep}");
    assert!(
        left[0]["metric"]
            .as_str()
            .unwrap()
            .contains("28 °C is neither"),
        "{keep}"
    );
    assert!(
        left[1]["metric"].as_str().unwrap().contains("fouling"),
        "{keep}"
    );
    assert!(
        keep["summer"]["imperial"]
            .as_str()
            .unwrap()
            .contains("82 °F"),
        "{keep}"
    );
    let plain = and(ask.clone(), &json!({ "number": 1 }));
    assert_eq!(bench.post("/api/keep", &plain).status, 422);
    assert_eq!(bench.text(), before);

    // By the owner's word it becomes the warmest that she meets.
    let summer = and(plain, &json!({ "summer": true }));
    bench.post("/api/keep", &summer).good();
    let after = bench.text();
    assert!(
        after.contains("sea = { summer = \"28 °C\", winter"),
        "{after}"
    );
    assert!(
        after.contains("speed = \"6.5 kn\", sea = \"summer\" }"),
        "{after}"
    );
    assert!(!after.contains("fouling = \"scale\""), "{after}");
    bench.post("/api/back", &json!({ "number": 2 })).good();
    assert_eq!(bench.text(), before);
}

#[test]
fn a_new_state_has_a_name_of_its_own() {
    let bench = Bench::new();
    let before = bench.text();
    let ask = json!({ "number": 1, "state": "cruise", "load": 0.5 });
    let told = |name: &str| bench.post("/api/keep", &and(ask.clone(), &json!({ "name": name })));
    assert_eq!(told("charging").status, 422);
    let odd = told("warm run");
    assert_eq!(odd.status, 422);
    assert_eq!(odd.json()["expected"], "warm-run");
    assert_eq!(told(&"x".repeat(41)).status, 422);
    assert_eq!(told("a]\nb = 1\n[c").status, 422);
    assert_eq!(bench.text(), before);
    let none = json!({ "number": 1, "state": "cruise", "name": "same" });
    assert_eq!(bench.post("/api/keep", &none).status, 422);
}

#[test]
fn the_rows_of_a_trial_are_graded_where_a_verdict_is_about_them() {
    let bench = Bench::new();
    let ask = json!({ "arrangement": "after", "state": "cruise", "sea": "28 °C" });
    let trial = bench.post("/api/trial", &ask).good();
    let rows = trial["rows"].as_array().unwrap();
    let row = |title: &str| rows.iter().find(|row| row["title"] == title).unwrap();
    let heat = trial["verdicts"]
        .as_array()
        .unwrap()
        .iter()
        .find(|verdict| {
            let id = verdict["id"].as_str().unwrap();
            id.starts_with("flow.cruise.") && id.ends_with(".heat")
        });
    assert_eq!(
        row("coolant out of the engine")["grade"],
        heat.unwrap()["grade"]
    );
    assert_eq!(row("sea")["grade"], Value::Null);
}

/// The entries of a packed file, each with its time.
fn unpacked(bytes: &[u8]) -> BTreeMap<String, (Vec<u8>, Option<DateTime>)> {
    let mut packed = ZipArchive::new(Cursor::new(bytes)).unwrap();
    (0..packed.len())
        .map(|at| {
            let mut entry = packed.by_index(at).unwrap();
            let mut bytes = Vec::new();
            entry.read_to_end(&mut bytes).unwrap();
            (entry.name().to_owned(), (bytes, entry.last_modified()))
        })
        .collect()
}

#[test]
fn the_whole_folder_goes_along_and_nothing_else() {
    let bench = Bench::of(demo_copy(), true);
    let (folder, elsewhere) = (bench.folder.path(), tempfile::tempdir().unwrap());
    let write = |path: &str, text: &str| {
        let path = folder.join(path);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, text).unwrap();
    };
    write("log.toml", "# first day afloat\n");
    write("photos/A2/before.jpg", "not really a photo");
    // As a camera wrote it some years ago.
    let taken = std::time::UNIX_EPOCH + std::time::Duration::from_secs(1_750_000_000);
    let photo = std::fs::File::options()
        .write(true)
        .open(folder.join("photos/A2/before.jpg"));
    photo.unwrap().set_modified(taken).unwrap();
    write(".key", "secret");
    write(".git/config", "secret");
    write("photos/.thumb", "secret");
    write("other/boat.toml", "version = 1\n");
    write("other/log.toml", "another boat's");
    // Printed earlier: what is made now takes their place.
    write("sheets/joints.pdf", "old");
    write("sheets/all.pdf", "old");
    write("sheets/mine.txt", "my own note");
    std::fs::write(elsewhere.path().join("letter.txt"), "secret").unwrap();
    #[cfg(unix)]
    {
        use std::os::unix::fs::symlink;
        let letter = elsewhere.path().join("letter.txt");
        symlink(letter, folder.join("letter.txt")).unwrap();
        symlink(elsewhere.path(), folder.join("photos/more")).unwrap();
    }

    let told = bench.get("/api/export/folder.zip");
    assert_eq!(told.status, 200, "{}", told.text());
    assert_eq!(told.headers["content-type"], "application/zip");
    let name = told.headers["content-disposition"].to_str().unwrap();
    let day = name
        .strip_prefix("attachment; filename=\"dunlin-20")
        .and_then(|rest| rest.strip_suffix(".zip\""));
    let day = day.unwrap_or_else(|| panic!("{name}"));
    assert!(
        day.len() == 8 && day.split('-').count() == 3,
        "a day such as 27-03-14: {name}"
    );
    let entries = unpacked(&told.bytes);
    let own: Vec<&str> = entries
        .keys()
        .map(String::as_str)
        .filter(|name| !name.ends_with(".pdf"))
        .collect();
    assert_eq!(
        own,
        [
            "boat.toml",
            "left-out.txt",
            "log.toml",
            "photos/A2/before.jpg",
            "sheets/mine.txt",
            "verdicts.csv"
        ]
    );
    let bytes = |name: &str| entries[name].0.as_slice();
    assert_eq!(bytes("boat.toml"), bench.text().as_bytes());
    assert_eq!(bytes("photos/A2/before.jpg"), b"not really a photo");
    // What stays behind is told, and only by its name.
    let out = String::from_utf8(bytes("left-out.txt").to_vec()).unwrap();
    for name in [
        ".git: ",
        ".key: ",
        "other: ",
        "photos/.thumb: ",
        "sheets/all.pdf: ",
    ] {
        assert!(out.contains(name), "{name}: {out}");
    }
    assert!(cfg!(not(unix)) || out.contains("letter.txt: "), "{out}");
    assert!(!out.contains("secret"));
    assert!(bytes("verdicts.csv").starts_with(b"id,stage,subject"));
    let sheets: Vec<&String> = entries
        .keys()
        .filter(|name| name.ends_with(".pdf"))
        .collect();
    assert!(sheets.len() >= 10, "{sheets:?}");
    for name in &sheets {
        assert!(bytes(name).starts_with(b"%PDF"), "{name}");
    }
    let joints = bench.get("/api/sheets/joints.pdf");
    assert_eq!(bytes("sheets/joints.pdf"), joints.bytes);
    assert!(!entries.contains_key("sheets/all.pdf"));
    // 1 750 000 000 s after 1970 is 15 June 2025, 15:06:40 UTC: by any clock of the world that day or the next.
    let time = |name: &str| entries[name].1.unwrap();
    let photo = time("photos/A2/before.jpg");
    assert_eq!((photo.year(), photo.month()), (2025, 6));
    assert!((15..=16).contains(&photo.day()));
    assert_eq!(photo.second(), 40);
    // What is made now has the time of the boat file.
    assert_ne!(time("boat.toml"), DateTime::default());
    assert_eq!(time("verdicts.csv"), time("boat.toml"));
    assert_eq!(time("sheets/joints.pdf"), time("boat.toml"));

    // A phone is not given what lies about in the folder.
    let key = bench.app.scanned().unwrap();
    let (_, key) = key.split_once("/#k=").unwrap();
    let request = Request::get("/api/export/folder.zip")
        .header("host", SHARED)
        .header("x-hosewright-key", key);
    let request = request.body(Body::empty()).unwrap();
    assert_eq!(bench.ask(PHONE, request).status, 403);
}

#[test]
fn one_value_never_takes_the_place_of_a_list() {
    let bench = Bench::new();
    let before = bench.text();
    for place in [
        "stock.hose",
        "stock.hose[1]",
        "stock.clips",
        "engine.spigots.out",
    ] {
        let value = bench
            .get(&format!("/api/value?place={}", query(place)))
            .good();
        let closed = value["closed"].as_str().unwrap();
        assert!(closed.contains("line "), "{closed}");
        let typed = json!({ "place": place, "text": "41.8 mm", "units": "metric" });
        let read = bench.post("/api/reading", &typed).good();
        assert_eq!(
            (&read["ok"], &read["why"]),
            (&json!(false), &value["closed"])
        );
        let edits = json!([{ "place": place, "to": "\"1 m x 38 epdm\"" }]);
        let edit = json!({ "number": 1, "label": "", "edits": edits });
        assert_eq!(bench.post("/api/edits", &edit).status, 422, "{place}");
        // Whatever a phone believes to have seen.
        let entry = json!({ "id": place, "place": place, "text": "41.8 mm", "instrument": null,
                            "note": null, "at": "2027-03-14T10:00:00Z", "saw": value["toml"] });
        let told = bench
            .post("/api/entries", &json!({ "entries": [entry] }))
            .good();
        assert_eq!(told["outcomes"][0]["kept"], false, "{place}");
    }
    assert_eq!(bench.text(), before);
    let place = query("engine.spigots.out.od");
    let value = bench.get(&format!("/api/value?place={place}")).good();
    assert_eq!(value["closed"], Value::Null);
    // A whole list may still take the place of a list.
    let edits = json!([{ "place": "stock.clips", "to": "[\"8 x worm 40-60 316\"]" }]);
    let edit = json!({ "number": 1, "label": "clips counted", "edits": edits });
    bench.post("/api/edits", &edit).good();
    assert!(bench.text().contains("clips = [\"8 x worm 40-60 316\"]"));
}

#[test]
fn a_step_is_named_by_what_and_where() {
    let bench = Bench::new();
    bench.page();
    let edits = json!([{ "place": "joints.\"cold.to\".clip", "to": "\"worm 32-50 316\"" }]);
    let edit = json!({ "number": 1, "label": "", "edits": edits });
    let page = bench.post("/api/edits", &edit).good();
    assert_eq!(page["history"]["back"], "B6 clip: worm 32-50 316");
    let edits =
        json!([{ "place": "boat.name", "to": "\"Dunlin of the long and windy northern shore\"" }]);
    let edit = json!({ "number": 2, "label": "", "edits": edits });
    let page = bench.post("/api/edits", &edit).good();
    let label = page["history"]["back"].as_str().unwrap();
    assert!(
        label.starts_with("boat name: Dunlin of") && label.ends_with('…'),
        "{label}"
    );
    assert_eq!(label.chars().count(), 40);
}

#[test]
fn what_changes_outside_is_counted_by_values() {
    let bench = Bench::new();
    bench.page();
    let theirs = bench
        .text()
        .replace("od = \"34.0 ± 0.1\"", "od = \"34.2 ± 0.1\"")
        .replace("\"t-bolt 40-43\"", "\"t-bolt 43-47\"");
    bench.outside(&theirs);
    let page = bench.page();
    let steps = page["history"]["steps"].as_array().unwrap();
    let last = steps.last().unwrap().as_str().unwrap();
    assert!(last.ends_with(": 2 values"), "{last}");
    let changed: Vec<&str> = page["changed"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| one["place"].as_str().unwrap())
        .collect();
    assert_eq!(
        changed,
        ["joints.\"cold.to\".clip", "things.gearbox.spigots.both.od"]
    );
}
