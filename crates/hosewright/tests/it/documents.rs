//! The documents for programs keep to their published schemas, and the pages in `docs/` show what is printed.

use hosewright::cli::Document;
use hosewright::commands::schema;
use serde_json::Value;

use crate::bench::{root, run};

/// With this variable set, the files are written instead of compared.
const BLESS: &str = "HOSEWRIGHT_BLESS";

fn committed(path: &str, wanted: &str) {
    let file = root().join(path);
    if std::env::var_os(BLESS).is_some() {
        std::fs::write(&file, wanted).unwrap();
    }
    let found = std::fs::read_to_string(&file).unwrap_or_default();
    assert!(
        found == wanted,
        "{path} is out of date: run this test once with {BLESS}=1"
    );
}

#[test]
fn the_published_schemas_are_up_to_date() {
    for (document, path) in [
        (Document::Check, "docs/check.schema.json"),
        (Document::Fit, "docs/fit.schema.json"),
        (Document::Fill, "docs/fill.schema.json"),
        (Document::Salt, "docs/salt.schema.json"),
        (Document::Order, "docs/order.schema.json"),
        (Document::Thread, "docs/thread.schema.json"),
        (Document::Survey, "docs/survey.schema.json"),
        (Document::Circuit, "docs/circuit.schema.json"),
        (Document::Route, "docs/route.schema.json"),
        (Document::Flow, "docs/flow.schema.json"),
        (Document::Sheets, "docs/sheets.schema.json"),
        (Document::Mend, "docs/mend.schema.json"),
        (Document::Marks, "docs/marks.schema.json"),
        (Document::Page, "docs/page.schema.json"),
        (Document::Fault, "docs/fault.schema.json"),
    ] {
        committed(path, &schema::text(document));
    }
}

fn keeps_to(document: Document, words: &[&str]) -> Value {
    let schema: Value = serde_json::from_str(&schema::text(document)).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let printed = run(words).out;
    let value: Value = serde_json::from_str(&printed)
        .unwrap_or_else(|error| panic!("{words:?}: {error}: {printed}"));
    let faults: Vec<String> = validator
        .iter_errors(&value)
        .map(|error| error.to_string())
        .collect();
    assert!(faults.is_empty(), "{words:?}: {faults:?}");
    value
}

#[test]
fn what_is_printed_keeps_to_its_schema() {
    let demo = "boats/dunlin";
    let check = keeps_to(Document::Check, &["check", demo, "--json"]);
    assert_eq!(check["schema"], "hosewright.check/1");
    assert_eq!(check["file"], "boats/dunlin/boat.toml");
    keeps_to(Document::Check, &["check", demo, "--json", "--quick"]);
    keeps_to(Document::Circuit, &["circuit", demo, "--json"]);
    keeps_to(Document::Route, &["route", demo, "--quick", "--json"]);
    let all = keeps_to(Document::Circuit, &["circuit", demo, "--all", "--json"]);
    assert_eq!(all["arrangements"].as_array().unwrap().len(), 3);
    keeps_to(Document::Fit, &["fit", demo, "--json"]);
    let quick = keeps_to(
        Document::Fit,
        &[
            "fit", "--bore", "32", "--over", "42", "--spigot", "35", "--json",
        ],
    );
    assert_eq!(quick["boat"], Value::Null);
    keeps_to(Document::Fill, &["fill", "boats/wenna", "--json"]);
    let circuit = [
        "fill", "--volume", "20 L", "--wanted", "50 %", "--inside", "7 L", "--json",
    ];
    let fill = keeps_to(Document::Fill, &circuit);
    assert_eq!(fill["fill"]["pour"]["text"]["metric"], "10 L");
    let rise = [
        "salt",
        "--chloride",
        "150 mg/L",
        "--before",
        "20 mg/L",
        "--volume",
        "20 L",
        "--sea",
        "35",
        "--json",
    ];
    let salt = keeps_to(Document::Salt, &rise);
    assert_eq!(salt["taken_in"]["shown"], true);
    let sheets = keeps_to(
        Document::Sheets,
        &[
            "sheets",
            demo,
            "--dry-run",
            "--date",
            "2027-03-14",
            "--json",
        ],
    );
    assert_eq!(sheets["date"], "2027-03-14");
    keeps_to(
        Document::Mend,
        &["mend", demo, "fit.cold.to.clip", "--dry-run", "--json"],
    );
    keeps_to(Document::Marks, &["marks", demo, "--dry-run", "--json"]);
    let fault = keeps_to(Document::Fault, &["check", "no/such", "--json"]);
    assert_eq!(fault["exit"], 2);
}

#[test]
fn a_schema_refuses_what_it_should() {
    let schema: Value = serde_json::from_str(&schema::text(Document::Check)).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let good: Value = serde_json::from_str(&run(&["check", "boats/dunlin", "--json"]).out).unwrap();
    assert!(validator.is_valid(&good));
    for (pointer, wrong) in [
        ("/schema", "hosewright.check/2"),
        ("/verdicts/0/grade", "fine"),
        ("/summary/sound", "many"),
    ] {
        let mut bad = good.clone();
        *bad.pointer_mut(pointer).unwrap() = wrong.into();
        assert!(!validator.is_valid(&bad), "{pointer}");
    }
}

/// The counts stand in the summary as the verdicts have them, and each verdict has all that the design promises.
#[test]
fn a_verdict_has_all_its_fields() {
    let check: Value =
        serde_json::from_str(&run(&["check", "boats/dunlin", "--json"]).out).unwrap();
    let verdicts = check["verdicts"].as_array().unwrap();
    for grade in ["sound", "unmeasured", "marginal", "unsound"] {
        let count = verdicts
            .iter()
            .filter(|verdict| verdict["grade"] == grade)
            .count();
        assert_eq!(check["summary"][grade], count, "{grade}");
    }
    for verdict in verdicts {
        for field in [
            "id",
            "stage",
            "subject",
            "grade",
            "because",
            "remedy",
            "basis",
            "place",
            "as_of",
            "remedy_edits",
            "spoken",
            "working",
        ] {
            assert!(!verdict[field].is_null(), "{} lacks {field}", verdict["id"]);
        }
        for field in ["inputs", "steps", "limit", "sources"] {
            assert!(
                !verdict["working"][field].is_null(),
                "{} lacks working.{field}",
                verdict["id"]
            );
        }
        assert!(!verdict["because"]["imperial"].as_str().unwrap().is_empty());
        assert!(verdict["place"]["line"].as_u64().unwrap() >= 1);
    }
}

/// `docs/commands.md` is written from its template: after each line of the form `$ hosewright …` stands what that prints.
#[test]
fn the_page_of_commands_shows_what_is_printed() {
    let template =
        std::fs::read_to_string(root().join("crates/hosewright/tests/it/commands.template.md"))
            .unwrap();
    let mut page = String::new();
    for line in template.lines() {
        page.push_str(line);
        page.push('\n');
        let Some(words) = line.strip_prefix("$ hosewright") else {
            continue;
        };
        let (words, most) = match words.split_once("   # first ") {
            Some((words, most)) => (words, most.trim_end_matches(" lines").parse().unwrap()),
            None => (words, usize::MAX),
        };
        let run = run(&words.split_whitespace().collect::<Vec<_>>());
        let printed = format!("{}{}", run.out, run.err);
        for line in printed.lines().take(most) {
            page.push_str(line);
            page.push('\n');
        }
        if printed.lines().count() > most {
            page.push_str("…\n");
        }
    }
    committed("docs/commands.md", &page);
}
