//! What is sent fits the schemas that are published, and the published ones are those of the program.

use std::fs;

use crate::binary::{copy_of_dunlin, err, out, root, run, run_in};

fn fits(document: &str, text: &str) {
    let schema: serde_json::Value =
        serde_json::from_str(&out(&run(&["schema", document]))).expect("a schema");
    let validator = jsonschema::validator_for(&schema).expect("a schema that can be used");
    let value: serde_json::Value = serde_json::from_str(text).expect("JSON");
    let faults: Vec<String> = validator
        .iter_errors(&value)
        .map(|fault| format!("{} at {}", fault, fault.instance_path()))
        .collect();
    assert!(faults.is_empty(), "{document}: {faults:#?}");
    assert_eq!(value["schema"], format!("hosewright.{document}/1"));
    // A schema that takes anything would prove nothing.
    assert!(
        !validator.is_valid(&serde_json::json!({ "schema": "something else" })),
        "{document}"
    );
}

#[test]
fn check_and_fit_fit_their_schemas() {
    fits("check", &out(&run(&["check", "boats/dunlin", "--json"])));
    fits("fit", &out(&run(&["fit", "boats/dunlin", "--json"])));
    fits(
        "fit",
        &out(&run(&[
            "fit", "--bore", "32", "--over", "42", "--spigot", "35", "--json",
        ])),
    );
}

#[test]
fn mend_marks_and_refusals_fit_theirs() {
    let folder = copy_of_dunlin();
    let check: serde_json::Value =
        serde_json::from_slice(&run_in(folder.path(), &["check", "boat.toml", "--json"]).stdout)
            .expect("JSON");
    let verdicts = check["verdicts"].as_array().expect("verdicts");
    let mendable = verdicts
        .iter()
        .find(|verdict| {
            verdict["remedy_edits"]
                .as_array()
                .is_some_and(|edits| !edits.is_empty())
        })
        .expect("something to mend");
    let id = mendable["id"].as_str().expect("an id");
    let mended = run_in(
        folder.path(),
        &[
            "mend",
            "boat.toml",
            id,
            "--choice",
            "1",
            "--dry-run",
            "--json",
        ],
    );
    assert_eq!(err(&mended), "");
    fits("mend", &out(&mended));
    fits(
        "marks",
        &out(&run_in(
            folder.path(),
            &["marks", "boat.toml", "--dry-run", "--json"],
        )),
    );
    fits(
        "fault",
        &out(&run_in(folder.path(), &["check", "nowhere", "--json"])),
    );
}

#[test]
fn the_published_schemas_are_those_of_the_program() {
    for document in ["check", "fit", "mend", "marks", "fault"] {
        let path = root().join(format!("docs/{document}.schema.json"));
        let now = out(&run(&["schema", document]));
        if std::env::var_os("UPDATE_SCHEMA").is_some() {
            fs::write(&path, &now).expect("it is written");
        }
        let kept = fs::read_to_string(&path).unwrap_or_default();
        assert!(
            kept == now,
            "docs/{document}.schema.json is old: UPDATE_SCHEMA=1 writes it anew"
        );
    }
}

#[test]
fn the_schema_of_the_boat_file_is_json() {
    let schema: serde_json::Value =
        serde_json::from_str(&out(&run(&["schema", "boat"]))).expect("JSON");
    jsonschema::validator_for(&schema).expect("a schema that can be used");
    assert!(schema["properties"].is_object());
}
