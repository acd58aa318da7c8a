//! The tilted sea along the way: where it stands at each joint when she heels or trims, and which joints go under.
//!
//! She is taken to turn about the line in which the still waterline meets her centre line, or her midships: small
//! angles, and no change of displacement. A point at y to starboard is then wet where its still height is under
//! y·tan(heel), one at x ahead of amidships where it is under x·tan(trim).

use boat::{Boat, HullKind, Key, RunEnd, Spigot, Thing, ThingKind, Told};
use quantity::{Length, Quantity, Reading};

use super::{At, HeaderTrace, Strip, StripAsk, StripHeader, Trace, TraceKind, Way};
use crate::flow::{lengths, middle_of};
use crate::say;
use crate::stages::circuit::input::Facts;
use crate::stages::circuit::plan::Plan;

/// Heel to reckon with in a boat with motor or with two hulls [°].
/// Source: ISO 9093:2020, heeled waterline, from memory.
const STIFF: f64 = 7.0;
/// The same in a sailing boat with one hull [°]. Her sheer may go under before: the file does not tell it.
/// Source: ISO 9093:2020, heeled waterline, from memory.
const SAILING: f64 = 30.0;

/// The angles of heel to reckon with in an arrangement [°], to starboard over 0. None where the file tells neither hull
/// nor rig, or of nothing how far it lies from the centre line.
/// Unit: degree. Range: 0 to 30 to either side. Source: ISO 9093:2020, from memory.
pub fn usual_heel(boat: &Boat, arrangement: Option<&str>) -> Vec<f64> {
    let told = boat.arranged(arrangement).is_some_and(|arranged| {
        arranged.boat.things.iter().any(|thing| {
            let spigots = thing.spigots.iter().map(|spigot| &spigot.aside);
            spigots
                .chain([&thing.aside])
                .any(|own| own.given().is_some())
        })
    });
    let Some(hull) = boat.about.hull.given().filter(|_| told) else {
        return Vec::new();
    };
    let heel = match hull {
        HullKind::SailOneHull => SAILING,
        HullKind::MotorOneHull | HullKind::MotorTwoHulls | HullKind::SailTwoHulls => STIFF,
    };
    vec![heel, -heel]
}

/// Along which of her axes something lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Axis {
    /// From the centre line, to starboard over 0.
    Aside,
    /// From amidships, ahead over 0.
    Along,
}

impl Axis {
    /// The key of the file.
    fn key(self) -> &'static str {
        match self {
            Self::Aside => "aside",
            Self::Along => "along",
        }
    }

    fn of_thing(self, thing: &Thing) -> &Told<Reading<Length>> {
        match self {
            Self::Aside => &thing.aside,
            Self::Along => &thing.along,
        }
    }

    fn of_spigot(self, spigot: &Spigot) -> &Told<Reading<Length>> {
        match self {
            Self::Aside => &spigot.aside,
            Self::Along => &spigot.along,
        }
    }
}

/// The one value that stands; of two that differ neither does.
fn given(told: &Told<Reading<Length>>) -> Option<f64> {
    told.given().map(|reading| reading.value.si())
}

/// Where the end of a run lies: its spigot, or the thing where that has no place of its own.
fn of_end<'a>(facts: &Facts<'a>, end: &'a RunEnd, axis: Axis) -> Option<f64> {
    let (thing, name) = facts.end(end)?;
    let own = facts.things[thing].thing;
    let spigot = own.spigot(name).map(|spigot| axis.of_spigot(spigot));
    given(
        spigot
            .filter(|told| !told.is_left_out())
            .unwrap_or_else(|| axis.of_thing(own)),
    )
}

/// Where each end of a piece lies [m]. Inside a run it is taken to lie between the run's two ends, by the distance
/// along it: no piece in it has a place in the file.
pub(super) fn places(plan: &Plan, way: &Way, axis: Axis) -> Vec<Option<f64>> {
    let facts = plan.facts;
    let n = way.pieces.len();
    let mut places = vec![None; n + 1];
    let mut settled = vec![false; n + 1];
    for reach in &way.runs {
        let Some(run) = facts.run(&reach.key).map(|at| facts.runs[at].run) else {
            continue;
        };
        let ends = [&run.from, &run.to].map(|end| of_end(facts, end, axis));
        let pieces = run.way.given().map_or(&[][..], Vec::as_slice);
        let length = middle_of(&run.length);
        let long = lengths(pieces, length.unwrap_or(0.0));
        // OK because both are whole numbers of pieces.
        let (first, last) = (reach.from as usize, reach.to as usize);
        if first >= last {
            continue;
        }
        // Without a length of the run nobody knows how far along it a piece begins.
        let told = length.is_some() || pieces.iter().all(|own| own.long.is_some());
        let whole: f64 = long.iter().sum();
        let measured = told && whole > 0.0;
        // A way that comes in by a tee leaves out what lies before it.
        let key = |name: &str| format!("{}.{name}", run.key);
        let skipped = pieces
            .iter()
            .position(|own| way.pieces[first].key == key(&own.name))
            .unwrap_or(0);
        let before: f64 = long.iter().take(skipped).sum();
        let ends_here = pieces
            .last()
            .is_none_or(|own| way.pieces[last - 1].key == key(&own.name));
        for node in first..=last {
            let far = before + way.along[node] - way.along[first];
            let share = if measured {
                Some(far / whole)
            } else if node == first && skipped == 0 {
                Some(0.0)
            } else if node == last && ends_here {
                Some(1.0)
            } else {
                None
            };
            places[node] = share.and_then(|share| between(ends, share));
            settled[node] = true;
        }
    }
    // The pump itself has no place in the file; it is taken to be that of its inlet.
    if n > 1 && way.pieces[0].key == way.pieces[n - 1].key {
        places[0] = places[n - 1];
        places[n] = places[n - 1];
        settled[0] = true;
        settled[n] = true;
    }
    // Between two things it is the fitting that the hull has there.
    for fitting in [true, false] {
        for (i, piece) in way.pieces.iter().enumerate() {
            let thing = facts.thing(&piece.key).filter(|_| piece.run.is_empty());
            let Some(own) = thing.map(|at| &facts.things[at]) else {
                continue;
            };
            if own.is(ThingKind::HullFitting) != fitting {
                continue;
            }
            for node in [i, i + 1] {
                if !settled[node] && places[node].is_none() {
                    places[node] = given(axis.of_thing(own.thing));
                }
            }
        }
    }
    places
}

/// A place between two ends, where as many of them are told as it takes.
fn between(ends: [Option<f64>; 2], share: f64) -> Option<f64> {
    match ends {
        [from, _] if share < 1e-9 => from,
        [_, to] if share > 1.0 - 1e-9 => to,
        [Some(from), Some(to)] => Some(from + share * (to - from)),
        _ => None,
    }
}

/// The tilted waterlines that were asked for.
pub(super) fn traces(plan: &Plan, strip: &Strip, ask: &StripAsk) -> Vec<Trace> {
    let tilted = |angle: &&f64| **angle != 0.0;
    let heel = ask.heel.iter().filter(tilted).map(|angle| {
        let (kind, side) = if *angle > 0.0 {
            (TraceKind::Starboard, "starboard")
        } else {
            (TraceKind::Port, "port")
        };
        (kind, Axis::Aside, *angle, "to", side)
    });
    let trim = ask.trim.iter().filter(tilted).map(|angle| {
        let end = if *angle > 0.0 {
            "the head"
        } else {
            "the stern"
        };
        (TraceKind::Trim, Axis::Along, *angle, "by", end)
    });
    heel.chain(trim)
        .map(|(kind, axis, degrees, by, end)| {
            let name = format!("{} {by} {end}", say::degrees(degrees.abs()));
            trace(plan, strip, axis, kind, degrees, name)
        })
        .collect()
}

fn trace(
    plan: &Plan,
    strip: &Strip,
    axis: Axis,
    kind: TraceKind,
    degrees: f64,
    name: String,
) -> Trace {
    let slope = degrees.to_radians().tan();
    let main = places(plan, &strip.main, axis);
    let missing = missing(plan, &strip.main, &main);
    let lines = stretches(&main, slope);
    let header = strip
        .header
        .as_ref()
        .and_then(|header| of_header(plan, header, axis, &main, slope));
    let mut under: Vec<Key> = Vec::new();
    let mut untold = 0;
    let branches = strip
        .branches
        .iter()
        .map(|branch| (&branch.way, places(plan, &branch.way, axis)));
    for (way, places) in [(&strip.main, main)].into_iter().chain(branches) {
        for station in &way.stations {
            // OK because a joint stands at the end of a piece.
            match (station.z, places[station.at as usize]) {
                (Some(z), Some(off)) if z >= 0.0 && z < off * slope => {
                    under.push(station.key.clone());
                }
                (Some(_), Some(_)) => {}
                _ => untold += 1,
            }
        }
    }
    let all: usize = strip
        .branches
        .iter()
        .map(|branch| branch.way.stations.len())
        .sum();
    let nothing = untold == all + strip.main.stations.len();
    Trace {
        kind,
        degrees,
        missing: said_missing(&name, axis, &missing, lines.is_empty()),
        says: if nothing {
            String::new()
        } else {
            said_under(&name, under.len(), untold)
        },
        name,
        lines,
        under,
        untold,
        header,
    }
}

/// The tilted sea at each place that is told; where one is not, the line stops.
fn stretches(places: &[Option<f64>], slope: f64) -> Vec<Vec<(At, f64)>> {
    let told = |(i, place): (usize, &Option<f64>)| {
        // OK because a way has far fewer pieces than a float counts exactly.
        place.map(|off| (i as At, off * slope))
    };
    let points: Vec<Option<(At, f64)>> = places.iter().enumerate().map(told).collect();
    points
        .split(Option::is_none)
        .map(|stretch| stretch.iter().copied().flatten().collect::<Vec<_>>())
        .filter(|stretch| stretch.len() > 1)
        .collect()
}

/// The planes of the header tank as the way meets them. Its water stays level: where the way lies as far off the tank
/// as y to the side that goes down, the plane stands y·tan(heel) higher in the boat's own frame.
fn of_header(
    plan: &Plan,
    header: &StripHeader,
    axis: Axis,
    places: &[Option<f64>],
    slope: f64,
) -> Option<HeaderTrace> {
    if header.cap.is_none() && header.level.is_none() {
        return None;
    }
    let tank = plan.facts.thing(&header.key);
    // A tank that is part of a thing has no place of its own in the file: it lies where that does.
    let tank = tank.and_then(|at| given(axis.of_thing(plan.facts.things[at].thing)));
    let Some(tank) = tank else {
        return Some(HeaderTrace {
            missing: Some(format!("{} of {}", axis.key(), header.key)),
            ..HeaderTrace::default()
        });
    };
    let off: Vec<Option<f64>> = places
        .iter()
        .map(|place| place.map(|place| place - tank))
        .collect();
    let plane = |height: Option<f64>| -> Vec<Vec<(At, f64)>> {
        let Some(height) = height else {
            return Vec::new();
        };
        let mut lines = stretches(&off, slope);
        for (_, z) in lines.iter_mut().flatten() {
            *z += height;
        }
        lines
    };
    let (cap, level) = (plane(header.cap), plane(header.level));
    let nowhere = cap.is_empty() && level.is_empty();
    Some(HeaderTrace {
        cap,
        level,
        missing: nowhere.then(|| format!("{} of the joints", axis.key())),
    })
}

/// What has no place of its own in the file, in order of flow: the marks of joints on things, and things.
fn missing(plan: &Plan, way: &Way, places: &[Option<f64>]) -> Vec<String> {
    let n = way.pieces.len();
    let mut out: Vec<String> = Vec::new();
    for (node, place) in places.iter().enumerate() {
        // The pump is told by its inlet, which is asked for already.
        if place.is_some() || node == 0 || node == n {
            continue;
        }
        // OK because a joint stands at the end of a piece.
        let here = way.stations.iter().find(|own| own.at as usize == node);
        let of_run = [&way.pieces[node - 1], &way.pieces[node]]
            .iter()
            .any(|piece| !piece.run.is_empty());
        let name = match here {
            Some(own) if own.key.ends_with(".from") || own.key.ends_with(".to") => own.mark.clone(),
            _ if of_run => continue,
            _ => {
                let beside = [&way.pieces[node - 1], &way.pieces[node]];
                let fitting = |key: &str| {
                    let thing = plan.facts.thing(key).map(|at| &plan.facts.things[at]);
                    thing.is_some_and(|own| own.is(ThingKind::HullFitting))
                };
                let named = beside.iter().find(|piece| fitting(&piece.key));
                named.unwrap_or(&beside[0]).key.clone()
            }
        };
        if !out.contains(&name) {
            out.push(name);
        }
    }
    out
}

/// `7° to port unmeasured in part: aside of B2 and B3.`
fn said_missing(name: &str, axis: Axis, missing: &[String], whole: bool) -> Option<String> {
    let list = match missing {
        [] => return None,
        [one] => one.clone(),
        [one, other] => format!("{one} and {other}"),
        [one, other, rest @ ..] => format!("{one}, {other} and {} more", rest.len()),
    };
    let part = if whole { "" } else { " in part" };
    Some(format!(
        "{name} unmeasured{part}: {} of {list}.",
        axis.key()
    ))
}

/// `4 joints go under at 7° to port; 9 unmeasured.`
fn said_under(name: &str, under: usize, untold: usize) -> String {
    let joints = match under {
        0 => "No joint goes".to_owned(),
        1 => "1 joint goes".to_owned(),
        _ => format!("{under} joints go"),
    };
    let rest = match untold {
        0 => String::new(),
        _ => format!("; {untold} unmeasured"),
    };
    format!("{joints} under at {name}{rest}.")
}
