//! The server, asked without a socket: what can hardly be is asked back, and what was written is told in words.

use serde_json::{Value, json};

use crate::bench::{demo_copy, run_in};
use crate::serve::Bench;

/// A spigot under its old hose, which was measured as 49.4 mm over it.
const HIDDEN: &str = "engine.spigots.in.od";
const B1: &str = "joints.\"cold.from\".clips";

fn reading(bench: &Bench, place: &str, text: &str, units: &str) -> Value {
    let typed = json!({ "place": place, "text": text, "units": units });
    bench.post("/api/reading", &typed).good()
}

fn sent(bench: &Bench, entry: &Value) -> Value {
    let told = bench.post("/api/entries", &json!({ "entries": [entry] }));
    told.good()["outcomes"][0].clone()
}

fn entry(id: &str, text: &str) -> Value {
    json!({ "id": id, "place": HIDDEN, "text": text, "instrument": "caliper", "by": "pad" })
}

#[test]
fn a_spigot_larger_than_the_hose_over_it_is_asked_back() {
    let bench = Bench::new();
    // 1420 / 49.4 is 28.7.
    let far = reading(&bench, HIDDEN, "1420 mm", "metric")["far"].clone();
    assert_eq!(
        far,
        "1420 mm is 29 times what the hose over it measured (49.4 mm): keep it, or type it anew?"
    );
    // A hose is stretched over its spigot: 49.4 mm under 49.4 mm can't be, 38.1 mm can.
    let far = |text: &str| reading(&bench, HIDDEN, text, "metric")["far"].clone();
    assert!(far("50 mm").as_str().unwrap().contains("is not under"));
    assert_eq!(far("38.1 mm"), Value::Null);
    // 3.81 for 38.1 is caught as well, and in inches 56 for 1 1/2.
    assert!(far("3.81 mm").as_str().unwrap().contains("13 times"));
    let inches = reading(&bench, HIDDEN, "56", "imperial")["far"].clone();
    assert!(
        inches.as_str().unwrap().starts_with("56 in is 29 times"),
        "{inches}"
    );
    // What stands there is asked about where nothing is beside it; a height may be any time another.
    let far = |place: &str, text: &str| reading(&bench, place, text, "metric")["far"].clone();
    let length = far("runs.hot.length", "7 mm");
    assert!(
        length.as_str().unwrap().contains("what stands there now"),
        "{length}"
    );
    assert_eq!(far("engine.spigots.out.h", "20 mm"), Value::Null);
}

#[test]
fn an_entry_that_can_hardly_be_waits_until_it_is_meant() {
    let bench = Bench::new();
    let before = bench.text();
    let told = sent(&bench, &entry("a", "1420 mm"));
    assert_eq!(
        (&told["kept"], &told["asks"]),
        (&json!(false), &json!(true))
    );
    assert!(told["why"].as_str().unwrap().contains("29 times"), "{told}");
    assert_eq!(bench.text(), before);
    let mut meant = entry("b", "1420 mm");
    meant["meant"] = json!(true);
    let told = sent(&bench, &meant);
    assert_eq!(
        (&told["kept"], &told["asks"]),
        (&json!(true), &json!(false))
    );
    assert!(bench.text().contains("od = \"1420 mm\""));
    // Then a verdict calls it out.
    let page = bench.page();
    let verdicts = page["verdicts"].as_array().unwrap();
    let own = verdicts
        .iter()
        .find(|verdict| verdict["id"] == "survey.engine.in.beside")
        .expect("a verdict of the survey");
    assert_eq!(own["grade"], "unsound");
    assert!(
        own["because"]["metric"]
            .as_str()
            .unwrap()
            .contains("49.4 mm")
    );
    // The same in a file that nobody sent: `check` says it too.
    let run = run_in(bench.folder.path(), "C.UTF-8", &["check", "."]);
    assert!(run.out.contains("1420 mm is 29 times"), "{}", run.out);
}

#[test]
fn entries_are_labelled_by_how_they_came() {
    let bench = Bench::new();
    let label = |bench: &Bench| bench.page()["history"]["back"].as_str().unwrap().to_owned();
    sent(&bench, &entry("a", "38.1 mm"));
    assert!(
        label(&bench).contains(", phone layout, "),
        "{}",
        label(&bench)
    );
    let mut file = entry("b", "39.6 mm");
    file["place"] = json!("engine.spigots.in.bead");
    file["by"] = json!("file");
    sent(&bench, &file);
    assert!(
        label(&bench).contains(", from a file, "),
        "{}",
        label(&bench)
    );
}

#[test]
fn a_width_in_inches_has_the_digits_that_it_is_worth() {
    let bench = Bench::new();
    let value = bench.get(&format!("/api/value?place={HIDDEN}")).good();
    let instruments = value["instruments"].as_array().unwrap();
    let caliper = instruments
        .iter()
        .find(|one| one["name"] == "caliper")
        .unwrap();
    // 0.1 mm is 0.003 94 in.
    assert_eq!(caliper["tolerance"]["metric"], "0.10 mm");
    assert_eq!(caliper["tolerance"]["imperial"], "0.004 in");
}

#[test]
fn what_was_written_and_taken_back_is_told_and_so_is_the_comment() {
    let bench = Bench::new();
    let held = |number: u64| format!("arrangement=after&held={number}&settled=false&chosen=B1");
    bench.page();
    let edits = json!([{ "place": B1, "to": "1" }]);
    let edit = json!({ "number": 1, "label": "one clip", "edits": edits });
    let page = bench.post(&format!("/api/edits?{}", held(1)), &edit).good();
    let told = page["told"].as_str().unwrap();
    assert!(told.starts_with("B1 is now sound."), "{told}");
    let comment = &page["comment"];
    assert_eq!(comment["text"], "# two, as it is under water");
    let said = comment["told"].as_str().unwrap();
    assert!(
        said.starts_with("The comment on line ") && said.contains("may no longer hold"),
        "{said}"
    );
    assert!(
        bench
            .text()
            .contains("clips = 1 }      # two, as it is under water")
    );
    let back = bench.post(&format!("/api/back?{}", held(2)), &json!({ "number": 2 }));
    let page = back.good();
    let told = page["told"].as_str().unwrap();
    assert!(
        told.starts_with("Taken back: B1 is unsound as before."),
        "{told}"
    );
    assert_eq!(page["comment"], Value::Null);
    // A page that is only looked at tells nothing of it.
    assert_eq!(bench.page()["told"], "");
}

#[test]
fn mend_shows_the_comment_and_keeps_it() {
    let folder = demo_copy();
    let id = "fit.cold.from.clips";
    let run = run_in(folder.path(), "C.UTF-8", &["mend", ".", id]);
    assert!(
        run.out
            .contains("may no longer hold: # two, as it is under water"),
        "{}",
        run.out
    );
    let text = std::fs::read_to_string(folder.path().join("boat.toml")).unwrap();
    assert!(text.contains("clips = 1 }      # two, as it is under water"));
}

#[test]
fn sliders_begin_where_the_state_stands() {
    let bench = Bench::new();
    let page = bench.page();
    let states = page["states"].as_array().unwrap();
    let idle = states
        .iter()
        .find(|state| state["key"] == "alongside")
        .unwrap();
    // Her summer is 20 °C, 68 °F; alongside takes 0.5 kW of 46 kW, a hundredth.
    assert_eq!(idle["begins"]["sea_celsius"], 20);
    assert_eq!(idle["begins"]["sea_fahrenheit"], 68);
    assert_eq!(idle["begins"]["load"], 1);
}
