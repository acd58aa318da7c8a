//! Where one stands when she is filled or drained: bleeds, drains, tanks and valves of the coolant, by height.

use boat::{Arranged, Boat, Carries, Key, RunEnd, Thing, ThingKind, Told};
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
    /// A valve in a run.
    Valve,
    /// What takes heat beside the loop and fills with it: a calorifier, a cabin heater.
    Consumer,
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
        // A cock in a run of raw water plays no part.
        let on = thing.detail.on_run.as_ref();
        let wet = on.is_none_or(|run| carries_coolant(&arranged, run));
        let kind = match thing.kind.given() {
            Some(ThingKind::HeaderTank) => PointKind::Header,
            Some(ThingKind::Bleed) if wet => PointKind::Bleed,
            Some(ThingKind::Drain) if wet => PointKind::Drain,
            Some(ThingKind::HullFitting) if thing.valve.is_some() => {
                if !holds_coolant(&arranged, thing) {
                    continue;
                }
                PointKind::HullValve
            }
            Some(ThingKind::Calorifier | ThingKind::CabinHeater) => {
                points.extend(ports(thing));
                PointKind::Consumer
            }
            _ => {
                points.extend(header_within(thing));
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
    points.extend(valves(&arranged));
    points.sort_by(|a, b| {
        let at = |point: &Point| point.height.unwrap_or(f64::MAX);
        at(a).total_cmp(&at(b))
    });
    points
}

/// Whether a run carries coolant, or the air out of it.
fn carries_coolant(arranged: &Arranged, run: &str) -> bool {
    let run = arranged.boat.run(run);
    run.is_some_and(|run| matches!(run.carries, Carries::Coolant | Carries::Vent))
}

/// Whether coolant stands in a hull fitting: a run of it ends there, or a cooler lies between it and another.
fn holds_coolant(arranged: &Arranged, fitting: &Thing) -> bool {
    let ends = |end: &RunEnd| matches!(end, RunEnd::Thing { thing, .. } if *thing == fitting.key);
    let mut runs = arranged.boat.runs.iter();
    let mut things = arranged.boat.things.iter();
    runs.any(|run| run.carries == Carries::Coolant && (ends(&run.from) || ends(&run.to)))
        || things.any(|thing| thing.detail.between.contains(&fitting.key))
}

/// The header of an engine that has its own.
fn header_within(thing: &Thing) -> Option<Point> {
    let extra = &thing.engine.as_ref()?.extra;
    if extra.header_cold_mark.is_left_out() && extra.header_volume.is_left_out() {
        return None;
    }
    Some(Point {
        on: Some(thing.key.clone()),
        ..point("header", PointKind::Header, &extra.header_cold_mark)
    })
}

/// Valves in the runs of coolant; one that the water shuts itself needs nobody.
fn valves(arranged: &Arranged) -> Vec<Point> {
    let mut points = Vec::new();
    let runs = arranged.boat.runs.iter();
    for run in runs.filter(|run| run.carries == Carries::Coolant) {
        for piece in run.way.given().map_or(&[][..], Vec::as_slice) {
            if !piece.kind.can_be_shut() {
                continue;
            }
            let key = format!("{}.{}", run.key, piece.name);
            points.push(Point {
                on: Some(run.key.clone()),
                shut: arranged.shut.contains(&key),
                ..point(&key, PointKind::Valve, &Told::LeftOut)
            });
        }
    }
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
