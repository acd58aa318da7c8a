//! Reads `access/1` and answers it.
//!
//! Intervals lie between 0 and 360; one that goes through 0 is told as two, and whole as `widest`.

use std::f64::consts::TAU;
use std::path::Path;

use bay::access::{
    Arc, Fineness, How, Obstacle, Outcome, Reach, Way, Which, obstacles, reach, widest,
};
use bay::solid::Shape;
use serde::Deserialize;
use serde_json::{Map, Value, json};

use crate::plain::{self, ObstacleRow};

#[derive(Debug, Deserialize)]
pub(crate) struct Case {
    format: String,
    tools: Vec<String>,
    #[serde(default)]
    obstacles: Vec<ObstacleRow>,
    #[serde(default)]
    hoses: Vec<HoseRow>,
    clips: Vec<ClipRow>,
}

#[derive(Debug, Deserialize)]
struct ClipRow {
    id: String,
    pos: [f64; 3],
    axis: [f64; 3],
    od: f64,
    hose: Option<String>,
    installed: Option<Vec<String>>,
}

#[derive(Debug, Deserialize)]
struct HoseRow {
    id: String,
    od: f64,
    centerline: Vec<[f64; 3]>,
}

/// Closer than the product sweeps: nothing wider than a quarter degree is missed.
const FINENESS: Fineness = Fineness {
    step: 2.0 * std::f64::consts::PI / 180.0,
    least: 0.25 * std::f64::consts::PI / 180.0,
    ends: 0.01 * std::f64::consts::PI / 180.0,
};

/// The answer as JSON; a fault names the path of the field.
pub(crate) fn answer(case: &Case, beside: &Path) -> Result<Value, String> {
    plain::wanted(&case.format, "access/1")?;
    let tools = plain::tools(&case.tools)?;
    let space = plain::space(&case.obstacles, beside)?;
    plain::unique("hoses", case.hoses.iter().map(|hose| hose.id.as_str()))?;
    let tubes = case
        .hoses
        .iter()
        .enumerate()
        .map(|(n, hose)| plain::tube(&format!("hoses[{n}]"), hose.od, &hose.centerline))
        .collect::<Result<Vec<Shape>, String>>()?;
    let known = |path: &str, id: &str| {
        let there = case.hoses.iter().any(|hose| hose.id == id);
        if there {
            Ok(())
        } else {
            Err(format!("{path}: no hose is called “{id}”"))
        }
    };
    let mut told = Map::new();
    for (n, row) in case.clips.iter().enumerate() {
        let path = format!("clips[{n}]");
        let clip = plain::clip(&path, row.pos, row.axis, row.od)?;
        if let Some(hose) = &row.hose {
            known(&format!("{path}.hose"), hose)?;
        }
        for (k, id) in row.installed.iter().flatten().enumerate() {
            known(&format!("{path}.installed[{k}]"), id)?;
        }
        // Without a list all hoses are in.
        let inside = case.hoses.iter().zip(&tubes).filter(|(hose, _)| {
            row.installed
                .as_ref()
                .is_none_or(|list| list.contains(&hose.id))
        });
        let among = obstacles(
            &space,
            inside.map(|(hose, shape)| (hose.id.as_str(), shape)),
            row.hose.as_deref().unwrap_or_default(),
        );
        let how = How {
            fineness: FINENESS,
            which: Which::Every,
        };
        let mut of_clip = Map::new();
        for reach in reach(&clip, &tools, &among, how) {
            tell(&reach, &among, &mut of_clip);
        }
        if told
            .insert(row.id.clone(), Value::Object(of_clip))
            .is_some()
        {
            return Err(format!("{path}.id: “{}” stands there twice", row.id));
        }
    }
    Ok(Value::Object(told))
}

/// A tool along the screw has an entry for each side, and one for both together.
fn tell(reach: &Reach, among: &[Obstacle<'_>], told: &mut Map<String, Value>) {
    for way in &reach.ways {
        let sign = match way.way {
            Way::ScrewPlus => "+",
            Way::ScrewMinus => "-",
            _ => continue,
        };
        let entry = arcs(&way.free, widest(&way.free));
        told.insert(format!("{}{sign}", reach.tool), Value::Object(entry));
    }
    let mut entry = arcs(&reach.free, reach.best().map(|best| best.arc));
    match &reach.outcome {
        Outcome::Reached(best) => {
            let sense = match best.way {
                Way::ScrewPlus => Some("+"),
                Way::ScrewMinus => Some("-"),
                _ => None,
            };
            if let Some(sense) = sense {
                entry.insert("sense".to_owned(), json!(sense));
            }
        }
        Outcome::Blocked { .. } => {
            entry.insert("blocked_by".to_owned(), json!(reach.blocked_by(among)));
        }
        Outcome::Spared => {}
    }
    told.insert(reach.tool.clone(), Value::Object(entry));
}

fn arcs(free: &[Arc], widest: Option<Arc>) -> Map<String, Value> {
    let degrees = |angle: f64| (angle.to_degrees() * 1e4).round() / 1e4;
    let mut intervals: Vec<[f64; 2]> = Vec::new();
    for arc in free {
        let (from, to) = (degrees(arc.from), degrees(arc.to));
        if to > 360.0 {
            intervals.push([0.0, degrees(arc.to - TAU)]);
            intervals.push([from, 360.0]);
        } else {
            intervals.push([from, to]);
        }
    }
    intervals.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut entry = Map::new();
    entry.insert("reachable".to_owned(), json!(!free.is_empty()));
    entry.insert("intervals".to_owned(), json!(intervals));
    entry.insert(
        "recommended".to_owned(),
        json!(widest.map(|arc| degrees(arc.middle()))),
    );
    if let Some(arc) = widest {
        entry.insert(
            "widest".to_owned(),
            json!([degrees(arc.from), degrees(arc.to)]),
        );
        entry.insert("slack".to_owned(), json!(degrees(arc.slack())));
    }
    entry
}
