//! Free shapes of hoses in the plain format `shape/1`, so that any other solver can be set beside
//! this one: `cargo run --release -p bay --example shape_bench -- SHAPES.json [-o RESULT.json]`.
//!
//! Lengths are mm, stiffness N mm², weight N/mm, forces N, energies N mm, moments N mm. The energy is
//! that of bending and of the weight, nought at z = 0. A force is the hose's on what holds it.

// A program of its own beside the crate: it may read, write and print what the crate may not.
#![allow(clippy::disallowed_macros, clippy::disallowed_methods)]

use std::process::ExitCode;

use bay::Vec3;
use bay::rod::{End, Fault, Lay, OpenAir, Rod, settle};
use serde::Deserialize;
use serde_json::{Map, Value, json};

/// A hose as it stands in the file.
#[derive(Debug, Deserialize)]
struct Case {
    id: Option<String>,
    p0: [f64; 3],
    a0: [f64; 3],
    p1: [f64; 3],
    a1: [f64; 3],
    #[serde(rename = "L")]
    length: f64,
    #[serde(rename = "EI")]
    stiffness: f64,
    w: f64,
}

const USAGE: &str = "shape_bench SHAPES.json [-o RESULT.json]";

fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("{why}");
            ExitCode::from(2)
        }
    }
}

fn run() -> Result<(), String> {
    let mut words = std::env::args().skip(1);
    let (mut file, mut out) = (None, None);
    while let Some(word) = words.next() {
        match word.as_str() {
            "-o" => out = Some(words.next().ok_or(USAGE)?),
            _ if file.is_none() && !word.starts_with('-') => file = Some(word),
            other => return Err(format!("“{other}” is not known: {USAGE}")),
        }
    }
    let file = file.ok_or(USAGE)?;
    let text = std::fs::read_to_string(&file).map_err(|why| format!("{file}: {why}"))?;
    let whole: Value = serde_json::from_str(&text).map_err(|why| format!("{file}: {why}"))?;
    let mut told = Map::new();
    for (path, name, value) in entries(whole).map_err(|why| format!("{file}: {why}"))? {
        let case: Case = serde_path_to_error::deserialize(value)
            .map_err(|why| format!("{file}: {path}.{}: {}", why.path(), why.inner()))?;
        let rod = rod(&case).map_err(|(field, why)| format!("{file}: {path}.{field}: {why}"))?;
        let Some(id) = case.id.or(name) else {
            return Err(format!("{file}: {path}.id: missing"));
        };
        let answer = match settle(&rod, &OpenAir) {
            Ok(lays) => result(&lays),
            Err(why @ Fault::TooShort { .. }) => {
                json!({"status": "unsolvable", "why": why.to_string()})
            }
            Err(why) => json!({"status": "not found", "why": why.to_string()}),
        };
        if told.insert(id.clone(), answer).is_some() {
            return Err(format!("{file}: {path}.id: “{id}” stands twice"));
        }
    }
    let text = serde_json::to_string_pretty(&Value::Object(told)).map_err(|why| why.to_string())?;
    match out {
        Some(path) => std::fs::write(&path, text + "\n").map_err(|why| format!("{path}: {why}")),
        None => {
            println!("{text}");
            Ok(())
        }
    }
}

/// Each case with its path and its name, if it has one from outside.
fn entries(whole: Value) -> Result<Vec<(String, Option<String>, Value)>, String> {
    match whole {
        Value::Array(list) => Ok(list
            .into_iter()
            .enumerate()
            .map(|(i, value)| (format!("[{i}]"), None, value))
            .collect()),
        Value::Object(named) => named
            .into_iter()
            .map(
                |(name, mut value)| match value.get_mut("case").map(Value::take) {
                    Some(case) => Ok((format!("{name}.case"), Some(name), case)),
                    None => Err(format!("{name}.case: missing")),
                },
            )
            .collect(),
        _ => Err(".: a list of cases or an object of named ones".to_owned()),
    }
}

fn vector(of: [f64; 3]) -> Vec3 {
    Vec3::from_array(of)
}

fn rod(case: &Case) -> Result<Rod, (&'static str, String)> {
    for (field, way) in [("a0", case.a0), ("a1", case.a1)] {
        let length = vector(way).length();
        if (length - 1.0).abs() > 1e-3 {
            return Err((field, format!("a unit vector, not one of length {length}")));
        }
    }
    for (field, value) in [("L", case.length), ("EI", case.stiffness)] {
        if !(value > 0.0 && value.is_finite()) {
            return Err((field, format!("above nought, not {value}")));
        }
    }
    if !(case.w >= 0.0 && case.w.is_finite()) {
        return Err(("w", format!("nought or more, not {}", case.w)));
    }
    let end = |at: [f64; 3], along: [f64; 3]| End {
        at: vector(at) * 1e-3,
        along: vector(along).normalize(),
    };
    let mut rod = Rod::between(
        end(case.p0, case.a0),
        end(case.p1, case.a1),
        case.length * 1e-3,
        case.stiffness * 1e-6,
        case.w * 1e3,
    );
    // Finer than the product needs, so that a comparison sees the model and not the edges.
    rod.edges = 200;
    Ok(rod)
}

fn result(lays: &[Lay]) -> Value {
    let Some((first, others)) = lays.split_first() else {
        return json!({"status": "not found"});
    };
    let mut told = shape(first);
    if let (Some(next), Some(told)) = (others.first(), told.as_object_mut()) {
        told.insert("next".to_owned(), shape(next));
    }
    told
}

fn shape(lay: &Lay) -> Value {
    let array = |v: Vec3, unit: f64| (v * unit).to_array();
    json!({
        "mid": array(lay.place(lay.arcs.last().map_or(0.0, |arc| arc / 2.0)), 1e3),
        "r_min": if lay.bend.radius.is_finite() { json!(lay.bend.radius * 1e3) } else { Value::Null },
        "r_min_at": array(lay.bend.at, 1e3),
        "energy": lay.energy * 1e3,
        "bending_energy": lay.bending * 1e3,
        "force0": array(lay.force_a, 1.0),
        "moment0": array(lay.moment_a, 1e3),
        "force1": array(lay.force_b, 1.0),
        "moment1": array(lay.moment_b, 1e3),
        "sag": lay.sag.depth * 1e3,
        "stable": lay.stable,
        "neutral": lay.neutral,
    })
}
