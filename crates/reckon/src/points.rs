//! Where one stands when she is filled or drained: bleeds, drains, tanks and hull valves, by height.

use boat::{Boat, Key, Thing, ThingKind, Told};
use quantity::{Length, Quantity, Reading, show_signed};

use crate::blank::arranged;
use crate::verdict::Words;

/// What is done there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[allow(missing_docs)]
pub enum PointKind {
    Header,
    Bleed,
    Drain,
    HullValve,
}

/// One place.
#[derive(Clone, Debug, PartialEq)]
pub struct Point {
    /// Its name in the file.
    pub key: Key,
    /// What it is.
    pub kind: PointKind,
    /// The run that it sits in, where it does.
    pub on: Option<Key>,
    /// Height against today's waterline [m], where that is known.
    pub height: Option<f64>,
    /// The same for people; `unmeasured` where nobody took it.
    pub height_text: Words,
    /// Where one reaches it, in the owner's words.
    pub reach: Option<String>,
    /// Whether it is shut in this arrangement.
    pub shut: bool,
}

/// The places of one arrangement, the lowest first.
pub fn points(boat: &Boat, arrangement: Option<&str>) -> Vec<Point> {
    let Some(arranged) = arranged(boat, arrangement) else {
        return Vec::new();
    };
    let mut points: Vec<Point> = Vec::new();
    for thing in &arranged.boat.things {
        let kind = match thing.kind.given() {
            Some(ThingKind::HeaderTank) => PointKind::Header,
            Some(ThingKind::Bleed) => PointKind::Bleed,
            Some(ThingKind::Drain) => PointKind::Drain,
            Some(ThingKind::HullFitting) if thing.valve.is_some() => PointKind::HullValve,
            _ => {
                // A port that is called a drain is one.
                points.extend(ports(thing));
                continue;
            }
        };
        let told = match kind {
            PointKind::Header => &thing.detail.cold_mark,
            _ => &thing.height,
        };
        let valve = format!("{}.valve", thing.key);
        points.push(Point {
            on: thing.detail.on_run.clone(),
            shut: arranged.shut.contains(&valve) || arranged.shut.contains(&thing.key),
            reach: thing
                .valve
                .as_ref()
                .and_then(|valve| valve.reach.given().cloned()),
            ..point(&thing.key, kind, told)
        });
    }
    points.sort_by(|a, b| {
        let at = |point: &Point| point.height.unwrap_or(f64::MAX);
        at(a).total_cmp(&at(b))
    });
    points
}

fn ports(thing: &Thing) -> Vec<Point> {
    let drains = thing
        .ports
        .iter()
        .filter(|port| port.name.contains("drain"));
    drains
        .map(|port| Point {
            on: Some(thing.key.clone()),
            ..point(&port.name, PointKind::Drain, &port.height)
        })
        .collect()
}

fn point(key: &str, kind: PointKind, told: &Told<Reading<Length>>) -> Point {
    let height = told.given().map(|reading| reading.value);
    Point {
        key: key.to_owned(),
        kind,
        on: None,
        height: height.map(|height| height.si()),
        height_text: Words::of(|system| match height {
            Some(height) => show_signed(height, Some(Length::mm(4.0)), system),
            None => "unmeasured".to_owned(),
        }),
        reach: None,
        shut: false,
    }
}
