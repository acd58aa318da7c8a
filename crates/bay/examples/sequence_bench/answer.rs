//! Reads `sequence/1` and answers it.

use std::path::Path;

use bay::access::Fineness;
use bay::sequence::{Fitting, Hose, Order, SequenceError};
use serde::Deserialize;
use serde_json::{Map, Value, json};

use crate::plain::{self, ObstacleRow};

#[derive(Debug, Deserialize)]
pub(crate) struct Case {
    format: String,
    tools: Vec<String>,
    #[serde(default)]
    obstacles: Vec<ObstacleRow>,
    hoses: Vec<HoseRow>,
}

#[derive(Debug, Deserialize)]
struct HoseRow {
    id: String,
    od: f64,
    centerline: Vec<[f64; 3]>,
    #[serde(default)]
    clips: Vec<ClipRow>,
}

#[derive(Debug, Deserialize)]
struct ClipRow {
    id: String,
    pos: [f64; 3],
    axis: [f64; 3],
    od: f64,
}

const FINENESS: Fineness = Fineness {
    step: 2.0 * std::f64::consts::PI / 180.0,
    least: 0.25 * std::f64::consts::PI / 180.0,
    ends: 0.1 * std::f64::consts::PI / 180.0,
};

/// More orders than this are counted no further; the answer then says that there are more.
const MOST: usize = 1_000_000;

/// What is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Wanted {
    /// One order.
    One,
    /// Every order.
    All,
}

/// The answer as JSON; a fault names the path of the field.
pub(crate) fn answer(case: &Case, wanted: Wanted, beside: &Path) -> Result<Value, String> {
    plain::wanted(&case.format, "sequence/1")?;
    let tools = plain::tools(&case.tools)?;
    let space = plain::space(&case.obstacles, beside)?;
    plain::unique("hoses", case.hoses.iter().map(|hose| hose.id.as_str()))?;
    let mut hoses = Vec::with_capacity(case.hoses.len());
    for (n, row) in case.hoses.iter().enumerate() {
        let clip = |(k, clip): (usize, &ClipRow)| {
            let path = format!("hoses[{n}].clips[{k}]");
            plain::clip(&path, clip.pos, clip.axis, clip.od)
        };
        hoses.push(Hose {
            name: row.id.clone(),
            shape: plain::tube(&format!("hoses[{n}]"), row.od, &row.centerline)?,
            clips: row
                .clips
                .iter()
                .enumerate()
                .map(clip)
                .collect::<Result<_, String>>()?,
        });
    }
    let fitting = Fitting {
        space: &space,
        hoses: &hoses,
        tools: &tools,
        fineness: FINENESS,
    };
    let names = |list: &[usize]| -> Vec<&str> {
        list.iter()
            .filter_map(|n| hoses.get(*n))
            .map(|hose| hose.name.as_str())
            .collect()
    };
    let fault = |why: SequenceError| format!("hoses: {why}");
    let mut told = Map::new();
    match fitting.order().map_err(fault)? {
        Order::Found(order) => {
            told.insert("order".to_owned(), json!(names(&order)));
        }
        Order::Stuck { core, left } => {
            told.insert("blocked".to_owned(), json!(names(&core)));
            told.insert("left".to_owned(), json!(names(&left)));
            let why: Vec<Value> = fitting
                .shut(&core)
                .iter()
                .filter_map(|shut| {
                    let hose = case.hoses.get(shut.hose)?;
                    let clip = hose.clips.get(shut.clip)?;
                    Some(json!({"hose": hose.id, "clip": clip.id, "by": names(&shut.by)}))
                })
                .collect();
            told.insert("why".to_owned(), json!(why));
        }
    }
    if wanted == Wanted::All {
        let all = fitting.all_orders(MOST).map_err(fault)?;
        let orders: Vec<Vec<&str>> = all.orders.iter().map(|order| names(order)).collect();
        told.insert("orders".to_owned(), json!(orders));
        if all.more {
            told.insert("more".to_owned(), json!(true));
        }
    }
    Ok(Value::Object(told))
}
