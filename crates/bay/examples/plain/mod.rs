//! What the plain formats `access/1` and `sequence/1` have in common: millimetres, z up.

// Part of programs beside the crate: they may read and write what the crate may not.
#![allow(clippy::disallowed_macros, clippy::disallowed_methods)]

mod stl;

use std::path::Path;
use std::sync::Arc;

use bay::Vec3;
use bay::access::{Approach, Clip, Part, SCREW_RISE, Tool, Works};
use bay::clock::ClipFrame;
use bay::solid::{Behind, Body, Mesh, Shape, Space};
use serde::Deserialize;
use serde::de::DeserializeOwned;

/// A thing in the way. What its shape needs is asked for by `space`, so that a fault names its field.
#[derive(Debug, Deserialize)]
pub(crate) struct ObstacleRow {
    pub id: String,
    pub shape: ShapeName,
    /// Solid, hot or moving: a tool is used when the engine stands and is cold, so all are alike to it.
    #[serde(rename = "kind")]
    pub _kind: Option<Kind>,
    /// What a hose keeps off; a tool may touch.
    #[serde(rename = "clearance")]
    pub _clearance: Option<f64>,
    pub center: Option<[f64; 3]>,
    pub half: Option<[f64; 3]>,
    pub axes: Option<[[f64; 3]; 3]>,
    pub a: Option<[f64; 3]>,
    pub b: Option<[f64; 3]>,
    pub radius: Option<f64>,
    pub file: Option<String>,
    pub closed: Option<bool>,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(crate) enum Kind {
    Solid,
    Hot,
    Moving,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(crate) enum ShapeName {
    Box,
    Cylinder,
    Mesh,
}

/// The folder in which the files stand that a file names.
pub(crate) fn beside(file: &Path) -> &Path {
    file.parent().unwrap_or(Path::new("."))
}

/// Reads a text; a fault names the path of the field.
pub(crate) fn parse<T: DeserializeOwned>(text: &str) -> Result<T, String> {
    let mut reader = serde_json::Deserializer::from_str(text);
    let read = serde_path_to_error::deserialize(&mut reader)
        .map_err(|why| format!("{}: {}", why.path(), why.inner()))?;
    reader.end().map_err(|why| why.to_string())?;
    Ok(read)
}

/// Reads a file; a fault names the file and the path of the field.
pub(crate) fn read<T: DeserializeOwned>(file: &str) -> Result<T, String> {
    let text = std::fs::read_to_string(file).map_err(|why| format!("{file}: {why}"))?;
    parse(&text).map_err(|why| format!("{file}: {why}"))
}

/// Writes the answer where it was asked for.
pub(crate) fn write(out: Option<&str>, told: &serde_json::Value) -> Result<(), String> {
    let text = serde_json::to_string_pretty(told).map_err(|why| why.to_string())? + "\n";
    match out {
        Some(path) => std::fs::write(path, text).map_err(|why| format!("{path}: {why}")),
        None => {
            print!("{text}");
            Ok(())
        }
    }
}

/// Refuses another format than the one wanted.
pub(crate) fn wanted(format: &str, want: &str) -> Result<(), String> {
    if format == want {
        Ok(())
    } else {
        Err(format!("format: “{format}” is not read here, but {want}"))
    }
}

fn finite(path: &str, numbers: &[f64]) -> Result<(), String> {
    // JSON knows no other numbers, but 1e999 is read as one.
    if numbers.iter().all(|n| n.is_finite()) {
        Ok(())
    } else {
        Err(format!("{path}: a number is beyond all measure"))
    }
}

pub(crate) fn place(path: &str, mm: [f64; 3]) -> Result<Vec3, String> {
    finite(path, &mm)?;
    Ok(Vec3::from_array(mm) / 1000.0)
}

fn positive(path: &str, mm: f64) -> Result<f64, String> {
    if mm.is_finite() && mm > 0.0 {
        Ok(mm / 1000.0)
    } else {
        Err(format!("{path}: {mm} is not above 0"))
    }
}

pub(crate) fn unique<'a>(path: &str, ids: impl Iterator<Item = &'a str>) -> Result<(), String> {
    let mut seen = std::collections::BTreeSet::new();
    for (n, id) in ids.enumerate() {
        if !seen.insert(id) {
            return Err(format!("{path}[{n}].id: “{id}” stands there twice"));
        }
    }
    Ok(())
}

/// The bodies of the file.
pub(crate) fn space(rows: &[ObstacleRow], beside: &Path) -> Result<Space, String> {
    unique("obstacles", rows.iter().map(|row| row.id.as_str()))?;
    let mut bodies = Vec::with_capacity(rows.len());
    for (n, row) in rows.iter().enumerate() {
        let shape = shape(&format!("obstacles[{n}]"), row, beside)?;
        bodies.push(Body::solid(row.id.clone(), shape));
    }
    Ok(Space::new(bodies))
}

/// Corners at the very same place made one, so that triangles share their edges.
fn welded(places: &[Vec3], triangles: &[[u32; 3]]) -> (Vec<Vec3>, Vec<[u32; 3]>) {
    let mut known = std::collections::BTreeMap::new();
    let mut kept: Vec<Vec3> = Vec::new();
    let numbers: Vec<u32> = places
        .iter()
        .map(|place| {
            // Plus nought: a corner at −0 is one at 0.
            let key = place.to_array().map(|x| (x + 0.0).to_bits());
            *known.entry(key).or_insert_with(|| {
                kept.push(*place);
                kept.len() as u32 - 1
            })
        })
        .collect();
    let triangles = triangles
        .iter()
        .map(|corners| corners.map(|n| numbers[n as usize]))
        .filter(|[a, b, c]| a != b && b != c && c != a)
        .collect();
    (kept, triangles)
}

fn there<T>(path: String, value: Option<T>) -> Result<(String, T), String> {
    match value {
        Some(value) => Ok((path, value)),
        None => Err(format!("{path}: is missing")),
    }
}

fn shape(path: &str, row: &ObstacleRow, beside: &Path) -> Result<Shape, String> {
    let point = |field: &str, value: Option<[f64; 3]>| {
        let (path, value) = there(format!("{path}.{field}"), value)?;
        place(&path, value)
    };
    match row.shape {
        ShapeName::Box => {
            let (at, half) = there(format!("{path}.half"), row.half)?;
            for (k, edge) in half.iter().enumerate() {
                positive(&format!("{at}[{k}]"), *edge)?;
            }
            Ok(Shape::Box {
                center: point("center", row.center)?,
                half: Vec3::from_array(half) / 1000.0,
                axes: match &row.axes {
                    None => [Vec3::X, Vec3::Y, Vec3::Z],
                    Some(rows) => square(&format!("{path}.axes"), rows)?,
                },
            })
        }
        ShapeName::Cylinder => {
            let (a, b) = (point("a", row.a)?, point("b", row.b)?);
            if (b - a).length() < 1e-9 {
                return Err(format!("{path}.b: the same place as a"));
            }
            let (at, radius) = there(format!("{path}.radius"), row.radius)?;
            Ok(Shape::Cylinder {
                a,
                b,
                radius: positive(&at, radius)?,
            })
        }
        ShapeName::Mesh => {
            let (at, name) = there(format!("{path}.file"), row.file.as_deref())?;
            let file = beside.join(name);
            let bytes = std::fs::read(&file).map_err(|why| format!("{at}: {name}: {why}"))?;
            let corners = stl::corners(&bytes).map_err(|why| format!("{at}: {name}: {why}"))?;
            // What lies behind an open surface nobody knows: it is a sheet with two free sides.
            let behind = match row.closed {
                Some(true) => Behind::Solid,
                _ => Behind::Free,
            };
            let numbers: Vec<[u32; 3]> = (0..corners.len() as u32 / 3)
                .map(|n| [3 * n, 3 * n + 1, 3 * n + 2])
                .collect();
            let places: Vec<Vec3> = corners.iter().map(|mm| *mm / 1000.0).collect();
            let (places, numbers) = welded(&places, &numbers);
            let mesh = Mesh::new(&places, &numbers, behind)
                .map_err(|why| format!("{at}: {name}: {why}"))?;
            if row.closed == Some(true) && !mesh.seams().closed() {
                return Err(format!("{path}.closed: {name} has open edges"));
            }
            Ok(Shape::Mesh(Arc::new(mesh)))
        }
    }
}

/// Three unit vectors square to each other, from rows that are nearly so.
fn square(path: &str, rows: &[[f64; 3]; 3]) -> Result<[Vec3; 3], String> {
    let fault = || format!("{path}: the rows are no unit vectors square to each other");
    finite(path, rows.as_flattened())?;
    let [x, y, z] = rows.map(Vec3::from_array);
    let near = |value: f64, want: f64| (value - want).abs() < 1e-3;
    let units = [x, y, z].iter().all(|v| near(v.length(), 1.0));
    if !units || !near(x.dot(y), 0.0) || !near(x.dot(z), 0.0) || !near(y.dot(z), 0.0) {
        return Err(fault());
    }
    let x = x.normalize();
    let y = (y - x * x.dot(y)).normalize();
    let up = x.cross(y);
    Ok([x, y, if up.dot(z) < 0.0 { -up } else { up }])
}

/// A hose as a body.
pub(crate) fn tube(path: &str, od: f64, centerline: &[[f64; 3]]) -> Result<Shape, String> {
    if centerline.len() < 2 {
        return Err(format!("{path}.centerline: at least two places are wanted"));
    }
    let points = centerline
        .iter()
        .enumerate()
        .map(|(n, point)| place(&format!("{path}.centerline[{n}]"), *point))
        .collect::<Result<Vec<Vec3>, String>>()?;
    Ok(Shape::Tube {
        points,
        radius: positive(&format!("{path}.od"), od)? / 2.0,
    })
}

/// A clip; only its tool counts here, so it has no housing.
pub(crate) fn clip(path: &str, pos: [f64; 3], axis: [f64; 3], od: f64) -> Result<Clip, String> {
    finite(&format!("{path}.axis"), &axis)?;
    let frame = ClipFrame::new(
        place(&format!("{path}.pos"), pos)?,
        Vec3::from_array(axis),
        Vec3::X,
    )
    .map_err(|why| format!("{path}.axis: {why}"))?;
    Ok(Clip {
        frame,
        od: positive(&format!("{path}.od"), od)?,
        housing: None,
        works: None,
    })
}

/// The format's own tools.
pub(crate) fn tool(path: &str, name: &str) -> Result<Tool, String> {
    let (works, approach) = match name {
        "straight" => (
            Works::Screw,
            Approach::Screw {
                parts: vec![
                    Part::on_line(0.012, 0.132, 0.004),
                    Part::on_line(0.148, 0.231, 0.016),
                ],
                tilt: 0.0,
            },
        ),
        "pincers" => (
            Works::Ear,
            Approach::Radial {
                parts: vec![Part::on_line(0.020, 0.206, 0.014)],
                legs: None,
            },
        ),
        "flexible" => (
            Works::Screw,
            Approach::Bent {
                straight: Part::on_line(0.012, 0.042, 0.005),
                length: 0.180,
                radius: 0.005,
                least_bend: 0.060,
                handle: 0.083,
                handle_radius: 0.016,
            },
        ),
        other => {
            return Err(format!(
                "{path}: “{other}” is no tool: straight, flexible, pincers"
            ));
        }
    };
    Ok(Tool {
        name: name.to_owned(),
        works,
        approach,
        rise: SCREW_RISE,
        source: "the plain format".to_owned(),
    })
}

pub(crate) fn tools(names: &[String]) -> Result<Vec<Tool>, String> {
    names
        .iter()
        .enumerate()
        .map(|(n, name)| tool(&format!("tools[{n}]"), name))
        .collect()
}
