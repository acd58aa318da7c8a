//! Every key of the table reaches the model: a boat with it differs from the same boat without.

use boat::keys::{Form, FreeRow, ROOT, TableRow};
use boat::{Boat, key_text};

/// A boat that has every name of which the examples of the table speak, and little more.
const BASE: &str = r#"
version = 1
lengths = "mm"
[engine]
spigots.out = { od = 38.1 }
spigots.in = { od = 38.1 }
spigots.heat-out = { od = 16.2 }
[things.gearbox]
kind = "oil cooler"
spigots.both = { od = 38.2 }
[things.skin]
kind = "skin tank"
spigots.both = { od = 38.2 }
[things.keel]
kind = "keel pipes"
[things.keel-fwd]
kind = "hull fitting"
valve = { feels = "free" }
spigots.tail = { od = 38.3 }
[things.keel-aft]
kind = "hull fitting"
spigots.tail = { od = 38.3 }
[things.calorifier]
kind = "calorifier"
spigots.both = { od = 16.6 }
[runs]
hot = { from = "engine.out", to = "keel-fwd", way = "hose 38" }
cold = { from = "keel-aft", to = "skin.a", way = "hose 38 + reducer 38>32 bronze + hose 32" }
suck = { from = "skin.b", to = "engine.in", way = "hose 38 + tee 38 x 38 x 19 bronze + hose 38" }
cal-out = { from = "engine.heat-out", to = "calorifier.a", way = "hose 16" }
[arrangements.after]
[arrangements.fallback]
replace.gearbox = { kind = "oil cooler" }
replace.hot = {}
add.bleed = { kind = "bleed" }
add.loop = { from = "calorifier.b", to = "keel-fwd" }
[states]
cruise = {}
[survey]
pins = { P1 = {}, P2 = {}, P3 = {} }
[bay.scan]
file = "hull.ply"
"#;

/// Keys that say how the file is to be read and nothing of the boat.
const ABOUT_THE_FILE: [&str; 1] = ["version"];

/// Reads a file that must be without remarks, but that an example may lead two hoses to one end, and that
/// it is not the whole of a body or of a scan.
fn clean(text: &str) -> Boat {
    let (boat, _, remarks) = boat::read(text);
    let expected = [boat::Code::EndTwice, boat::Code::AtOdds];
    let remarks = remarks.iter().filter(|r| !expected.contains(&r.code));
    let said: Vec<String> = remarks.map(|r| r.message.clone()).collect();
    assert_eq!(said, Vec::<String>::new(), "{text}");
    boat
}

/// The keys that were looked at, and those that don't reach the model.
#[derive(Default)]
struct Looked {
    tables: Vec<&'static TableRow>,
    keys: usize,
    lost: Vec<String>,
}

impl Looked {
    fn table(&mut self, row: &'static TableRow, path: &str) {
        if self.tables.iter().any(|known| std::ptr::eq(*known, row)) {
            return;
        }
        self.tables.push(row);
        for key in row.keys {
            let place = under(path, key.name);
            self.key(&place, key.example);
            self.inner(&key.form, &place);
        }
        if let Some(free) = &row.free {
            let (name, example) = free.example;
            self.key(&format!("{path}.{name}"), example);
            for name in names(path, free) {
                self.inner(&free.form, &format!("{path}.{name}"));
            }
        }
    }

    fn inner(&mut self, form: &Form, path: &str) {
        match form {
            Form::Table(row) => self.table(row, path),
            Form::ThingOrRun(thing, run) if path.ends_with(".hot") || path.ends_with(".loop") => {
                let _ = thing;
                self.table(run, path);
            }
            Form::ThingOrRun(thing, _) => self.table(thing, path),
            Form::List(item) => self.inner(item, path),
            _ => {}
        }
    }

    fn key(&mut self, place: &str, example: &str) {
        self.keys += 1;
        let example: toml::Table = toml::from_str(&format!("it = {example}")).unwrap();
        let with = put(BASE, place, &example["it"]);
        let without = boat::remove_value(&with, place).unwrap();
        let (boat, _, _) = boat::read(&without);
        if clean(&with) == boat && !ABOUT_THE_FILE.contains(&place) {
            self.lost.push(place.to_owned());
        }
    }
}

/// Sets a value; what stands in a table already stays beside what is new.
fn put(text: &str, place: &str, value: &toml::Value) -> String {
    match value.as_table() {
        Some(table) if !table.is_empty() => {
            table.iter().fold(text.to_owned(), |text, (key, value)| {
                put(&text, &under(place, key), value)
            })
        }
        _ => boat::set_value(text, place, &value.to_string()).unwrap(),
    }
}

fn under(path: &str, key: &str) -> String {
    if path.is_empty() {
        key_text(key)
    } else {
        format!("{path}.{}", key_text(key))
    }
}

/// Under which names of the owner's the keys of a table are tried.
fn names(path: &str, free: &FreeRow) -> Vec<&'static str> {
    match free.what {
        // The example of `from` names the other one.
        "arrangement" => vec!["fallback"],
        // The end of a bought piece, whose size is measured with the joint.
        "joint" => vec!["\"cold.reducer.a\""],
        "thing or run" if path.ends_with("replace") => vec!["gearbox", "hot"],
        "thing or run" => vec!["bleed", "loop"],
        _ => vec![free.example.0],
    }
}

#[test]
fn every_key_reaches_the_model() {
    let mut looked = Looked::default();
    looked.table(&ROOT, "");
    assert_eq!(looked.lost, Vec::<String>::new());
    assert!(looked.keys > 150, "only {} keys were tried", looked.keys);
}
