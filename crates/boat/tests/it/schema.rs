//! The schema against boat files.

use std::fs;
use std::path::Path;

use serde_json::Value;

use boat::Code;

use crate::bad::bad_files;
use crate::demo::boats;

fn schema() -> jsonschema::Validator {
    jsonschema::validator_for(&serde_json::from_str::<Value>(&boat::schema_json()).unwrap())
        .unwrap()
}

fn json(text: &str) -> Value {
    serde_json::to_value(toml::from_str::<toml::Value>(text).unwrap()).unwrap()
}

#[test]
fn the_committed_schema_is_the_one_of_the_keys() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/boat-file.schema.json");
    if std::env::var_os("HOSEWRIGHT_BLESS").is_some() {
        fs::write(&path, boat::schema_json()).unwrap();
    }
    let committed = fs::read_to_string(path).unwrap();
    assert!(
        committed == boat::schema_json(),
        "run the tests with HOSEWRIGHT_BLESS=1 and look at the change"
    );
}

#[test]
fn the_demo_boats_fit_the_schema() {
    let schema = schema();
    for (name, text) in boats() {
        let value = json(&text);
        let errors: Vec<String> = schema
            .iter_errors(&value)
            .map(|error| format!("{name}: {} at {}", error, error.instance_path()))
            .collect();
        assert_eq!(errors, Vec::<String>::new());
    }
}

#[test]
fn the_schema_knows_the_grammar_of_texts() {
    let schema = schema();
    let check = |text: &str, fits: bool| {
        let text = format!("version = 1\nlengths = \"mm\"\n{text}\n");
        assert_eq!(schema.is_valid(&json(&text)), fits, "{text}");
    };
    check("engine.spigots.out.od = 38.1", true);
    check("engine.spigots.out.od = \"41.8 ± 0.2 mm\"", true);
    check("engine.spigots.out.od = [\"41.8\", \"42.1\"]", true);
    check("engine.spigots.out.od = \"?\"", true);
    check("engine.spigots.out.od = \"about so\"", false);
    check("engine.spigots.out.od = -38", false);
    check("engine.spigots.out.diameter = 38", false);
    for (aside, fits) in [
        ("420 mm to port", true),
        ("12.5 to Starboard", true),
        ("400 to 450 mm to port", true),
        ("0", true),
        ("0 ± 5 mm", true),
        ("on the centre line", true),
        ("420 mm", false),
        ("0.5", false),
        ("-420 to port", false),
        ("to port", false),
    ] {
        check(&format!("engine.spigots.out.aside = \"{aside}\""), fits);
        let said =
            format!("version = 1\nlengths = \"mm\"\nengine.spigots.out.aside = \"{aside}\"\n");
        assert_eq!(boat::read(&said).2.is_empty(), fits, "{aside}");
    }
    check("engine.aside = [\"420 to port\", \"430 to port\"]", true);
    check("engine.aside = 420", false);
    check("engine.along = \"1.2 m ahead of amidships\"", true);
    check("engine.along = \"2.4 m abaft amidships\"", true);
    check("engine.along = \"amidships\"", true);
    check("engine.along = \"1.2 m to port\"", false);
    check("engine.alarm.at = \"98 °C\"", true);
    check("engine.alarm.at = 98", false);
    check("engine.alarm.at = \"98\"", false);
    check(
        "runs.hot = { from = \"engine.out\", to = \"keel\", way = \"hose 38 + reducer 38>32 bronze + hose 32\" }",
        true,
    );
    check(
        "runs.hot = { from = \"engine.out\", to = \"keel\", way = \"choose\" }",
        true,
    );
    check(
        "runs.hot = { from = \"engine.out\", to = \"keel\", way = \"pipework\" }",
        false,
    );
    check("runs.hot = { from = \"engine.out\" }", false);
    check(
        "joints.\"hot.from\" = { clip = \"worm 32-50 316\", clips = 2 }",
        true,
    );
    check("joints.\"hot.from\" = { clip = \"hoop 32-50\" }", false);
    check("joints.\"hot.from\" = { clips = 0 }", false);
    for (heading, fits) in [
        ("\"forward 20 up\"", true),
        ("\"Aft 12.5° down 5 deg stbd\"", true),
        ("\"up\"", true),
        ("[0, -1, 0.5]", true),
        ("\"across\"", false),
        ("\"forward 20\"", false),
        ("\"20 up\"", false),
        ("[1, 0]", false),
        ("[1, 0, \"up\"]", false),
        ("1", false),
    ] {
        let typed =
            format!("engine.spigots.out.od = 38.1\nbay.mouths.\"engine.out\".points = {heading}");
        check(&typed, fits);
        let said = format!("version = 1\nlengths = \"mm\"\n{typed}\n");
        assert_eq!(boat::read(&said).2.is_empty(), fits, "{heading}");
    }
    for (file, fits) in [
        ("bay.glb", true),
        ("scans/Bay 2.PLY", true),
        ("../bay.glb", false),
        ("/bay.glb", false),
        ("a\\\\bay.glb", false),
        ("bay.zip", false),
    ] {
        check(&format!("bay.scan.file = \"{file}\""), fits);
    }
    check("bay.scan = { unit = \"mm\" }", false);
    check("bay.hoses.\"38 epdm\".stiffness = \"1.4 N m2\"", true);
    check("bay.hoses.\"1 1/4 in\".stiffness = \"20 lbf·in²\"", true);
    check("bay.hoses.\"38 epdm\".stiffness = 1.4", false);
    check("bay.hoses.\"epdm 38\".rmin = 150", false);
    check(
        "bay.lies.hot = { cut = [\"1.145 m\"], corners = [1, 2, \"3 cm\"] }",
        true,
    );
    check("bay.lies.hot.corners = [[1, 2], [3, 4]]", false);
    check("things.a = { kind = \"Oil-cooler\" }", true);
    check("things.a = { kind = \"radiator\" }", false);
    check("things.\"a b\" = { kind = \"oil cooler\" }", false);
}

/// Faults that no schema can see: the text is no TOML at all, or is at odds with another part of
/// the file or with good sense, each part alone being well formed.
const BEYOND: [Code; 14] = [
    Code::Syntax,
    Code::NameTwice,
    Code::UnknownReference,
    Code::SeveralSpigots,
    Code::NoSpigot,
    Code::UnknownJoint,
    Code::Circle,
    Code::MarkTwice,
    Code::EndTwice,
    Code::RuleNotJudged,
    Code::MeasuredTwice,
    Code::BeadUnderSpigot,
    Code::NameAsMeasurement,
    Code::AtOdds,
];

#[test]
fn a_fault_of_shape_or_form_is_one_for_the_schema_too() {
    let schema = schema();
    let mut odd = Vec::new();
    for (code, path, text) in bad_files() {
        let seen = match toml::from_str::<toml::Value>(&text) {
            Ok(value) => !schema.is_valid(&serde_json::to_value(value).unwrap()),
            Err(_) => {
                assert_eq!(code, Code::Syntax, "{}", path.display());
                continue;
            }
        };
        // How far a length with a unit reaches no schema can see.
        let far = path.ends_with("bad-quantity.height-far.toml");
        if seen == (far || BEYOND.contains(&code)) {
            odd.push(path.file_name().unwrap().to_owned());
        }
    }
    assert_eq!(odd, Vec::<std::ffi::OsString>::new());
}
