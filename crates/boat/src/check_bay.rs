//! Whether the bay speaks of what there is, and of bodies and points that can be.

use crate::check::{Names, due, known_joints};
use crate::check_survey::{Known, settle};
use crate::model::{
    Arrangement, Bay, BayLie, BayPoint, BayScan, BayShape, BayThing, Boat, PieceKind, Run,
    ScanPlace, Told,
};
use crate::places::joined;
use crate::remark::Code;
use crate::walk::Walk;
use crate::words::{listed, nearest};

/// Points nearer than this are one point [m].
const SAME: f64 = 1e-6;

/// How many corners a run may be led by.
const CORNERS: usize = 8;

/// Adds remarks, and gives each mouth of a thing with one spigot that spigot's name.
pub(crate) fn bay(walk: &mut Walk, boat: &mut Boat, names: &Names) {
    let mut bay = std::mem::take(&mut boat.bay);
    hatch(walk, &bay);
    hoses(walk, &bay);
    mouths(walk, boat, &mut bay);
    for thing in &bay.things {
        in_the_way(walk, thing, names);
    }
    if let Some(scan) = &mut bay.scan {
        of_scan(walk, boat, scan);
    }
    for lie in &bay.lies {
        of_run(walk, boat, lie, names);
    }
    if !bay.room.is_empty() {
        let joints = known_joints(boat);
        for room in &bay.room {
            let table = match room.free {
                Told::LeftOut => "bay.room_across",
                _ => "bay.room",
            };
            let place = joined(table, &room.joint);
            if joints.contains(&room.joint) {
                if matches!((&room.free, &room.across), (Told::LeftOut, Told::Given(_))) {
                    let message = "how wide the room is stands here, and not how far it reaches: write that under bay.room";
                    at_odds(walk, &place, message, None);
                }
                continue;
            }
            let message = match nearest(&room.joint, joints.iter().map(String::as_str)) {
                Some(near) => format!("no joint is called “{}”; did you mean {near}?", room.joint),
                None => format!("no joint is called “{}”", room.joint),
            };
            let span = walk.places.key_span(&place).unwrap_or_default();
            walk.remark(Code::UnknownJoint, span, &place, message, None);
        }
    }
    boat.bay = bay;
}

/// A remark on parts that can't go together, at a place or at the table in which it should stand.
fn at_odds(walk: &mut Walk, place: &str, message: impl Into<String>, expected: Option<&str>) {
    let span = walk.places.span(place);
    walk.remark(
        Code::AtOdds,
        span,
        place,
        message,
        expected.map(str::to_owned),
    );
}

fn hatch(walk: &mut Walk, bay: &Bay) {
    if let Some(hatch) = &bay.hatch
        && !matches!(hatch.size.len(), 0 | 2)
    {
        let message = format!(
            "{} here; a hatch has two sizes: how long along x, and how broad along y",
            counted(hatch.size.len(), "length stands", "lengths stand")
        );
        at_odds(walk, "bay.hatch.size", message, Some("size = [900, 600]"));
    }
}

fn counted(count: usize, one: &str, several: &str) -> String {
    match count {
        1 => format!("1 {one}"),
        _ => format!("{count} {several}"),
    }
}

fn hoses(walk: &mut Walk, bay: &Bay) {
    for (i, hose) in bay.hoses.iter().enumerate() {
        let before = bay.hoses.get(..i).unwrap_or_default();
        let again = before
            .iter()
            .find(|other| (other.size, other.build) == (hose.size, hose.build));
        if let Some(other) = again {
            let place = hose.path();
            let span = walk.places.key_span(&place).unwrap_or_default();
            let message = format!("“{}” is the hose “{}” once more", hose.key, other.key);
            walk.remark(Code::NameTwice, span, &place, message, None);
        }
    }
}

/// A mouth may be that of a thing which an arrangement brings.
fn mouths(walk: &mut Walk, boat: &Boat, bay: &mut Bay) {
    for mouth in &mut bay.mouths {
        let place = mouth.path();
        let first = &mouth.spot.first;
        let added = |step: &Arrangement| step.add_things.iter().any(|thing| thing.key == *first);
        let step = boat.arrangements.iter().find(|step| added(step));
        let arranged = match (boat.thing(first), step) {
            (None, Some(step)) => boat.arranged(Some(&step.key)),
            _ => None,
        };
        let boat = arranged.as_ref().map_or(boat, |arranged| &arranged.boat);
        settle(walk, boat, Known::Spigots, &mut mouth.spot, &place);
    }
    for (i, mouth) in bay.mouths.iter().enumerate() {
        let before = bay.mouths.get(..i).unwrap_or_default();
        if let Some(other) = before.iter().find(|other| other.spot == mouth.spot) {
            let place = mouth.path();
            let span = walk.places.key_span(&place).unwrap_or_default();
            let message = format!("“{}” is the mouth “{}” once more", mouth.key, other.key);
            walk.remark(Code::NameTwice, span, &place, message, None);
        }
    }
}

fn in_the_way(walk: &mut Walk, thing: &BayThing, names: &Names) {
    let place = thing.path();
    let shapes: Vec<&str> = ["box", "cylinder", "pipe", "hull"]
        .into_iter()
        .filter(|key| walk.places.has(&format!("{place}.{key}")))
        .collect();
    if shapes.is_empty() {
        let message = format!("{} has no shape: where is it, and how large?", thing.key);
        at_odds(
            walk,
            &place,
            message,
            Some("box = { from = [0, 180, -60], to = [900, 260, 60] }"),
        );
    } else if let [_, second, ..] = shapes.as_slice() {
        let message = format!(
            "{} has the shapes {}; a thing has one, and a part of another shape is a thing of its own",
            thing.key,
            listed(shapes.iter().copied(), "and")
        );
        at_odds(walk, &format!("{place}.{second}"), message, None);
    } else if let Some(shape) = &thing.shape {
        body(walk, &place, shape);
    }
    if let Some(of) = &thing.of {
        let things = names.things.iter().map(String::as_str).collect();
        due(walk, &format!("{place}.of"), "thing", of, things);
    }
}

fn body(walk: &mut Walk, place: &str, shape: &BayShape) {
    match shape {
        BayShape::Box { from, to, .. } => {
            let (Some(from), Some(to)) = (from.given(), to.given()) else {
                return;
            };
            let flat: Vec<&str> = from
                .si()
                .iter()
                .zip(to.si())
                .zip(["x", "y", "z"])
                .filter(|((from, to), _)| (*from - to).abs() < SAME)
                .map(|(_, axis)| axis)
                .collect();
            if !flat.is_empty() {
                let message = format!(
                    "both corners have the same {}: a box without room in it",
                    listed(flat, "and")
                );
                at_odds(walk, &format!("{place}.box.to"), message, None);
            }
        }
        BayShape::Cylinder { from, to, .. } => {
            if let (Some(from), Some(to)) = (from.given(), to.given())
                && distance(from.si(), to.si()) < SAME
            {
                let message = "both ends are at one point: a cylinder without length";
                at_odds(walk, &format!("{place}.cylinder.to"), message, None);
            }
        }
        BayShape::Pipe { along, .. } => {
            let at = format!("{place}.pipe.along");
            if along.len() == 1 {
                let message = "1 point stands here; a pipe leads from one to another";
                at_odds(walk, &at, message, None);
            }
            for (i, pair) in along.windows(2).enumerate() {
                if let [Told::Given(one), Told::Given(other)] = pair
                    && distance(one.si(), other.si()) < SAME
                {
                    let message = "the pipe stays where it was: this point is the one before";
                    at_odds(walk, &format!("{at}[{}]", i + 1), message, None);
                }
            }
        }
        BayShape::Hull(points) => {
            let at = format!("{place}.hull");
            let known: Vec<[f64; 3]> = points
                .iter()
                .filter_map(|point| point.given().map(BayPoint::si))
                .collect();
            if points.len() < 4 {
                let message = format!(
                    "{} here; four at least hold a room",
                    counted(points.len(), "point stands", "points stand")
                );
                at_odds(walk, &at, message, None);
            } else if known.len() == points.len() && !is_solid(&known) {
                let message = "all these points lie in one plane: a hull without room in it";
                at_odds(walk, &at, message, None);
            }
        }
    }
}

fn distance(a: [f64; 3], b: [f64; 3]) -> f64 {
    length(minus(a, b))
}

fn minus(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    let ([ax, ay, az], [bx, by, bz]) = (a, b);
    [ax - bx, ay - by, az - bz]
}

fn length([x, y, z]: [f64; 3]) -> f64 {
    x.hypot(y).hypot(z)
}

fn cross([ax, ay, az]: [f64; 3], [bx, by, bz]: [f64; 3]) -> [f64; 3] {
    [ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx]
}

/// The two points that are farthest from each other: a line through all, if there is one.
fn farthest(points: &[[f64; 3]]) -> Option<([f64; 3], [f64; 3], f64)> {
    let first = *points.first()?;
    let far = |from: [f64; 3]| {
        let by_distance =
            |a: &&[f64; 3], b: &&[f64; 3]| distance(from, **a).total_cmp(&distance(from, **b));
        points.iter().copied().max_by(|a, b| by_distance(&a, &b))
    };
    let one = far(first)?;
    let other = far(one)?;
    Some((one, other, distance(one, other)))
}

/// Two points far from each other, and the one that is farthest from the line through them.
struct Widest {
    one: [f64; 3],
    other: [f64; 3],
    third: [f64; 3],
    /// How far the third is from that line [m].
    off: f64,
}

/// The point that is farthest from the line through two, and how far.
fn off_line(points: &[[f64; 3]]) -> Option<Widest> {
    let (one, other, apart) = farthest(points)?;
    if apart < SAME {
        return None;
    }
    let off = |point: [f64; 3]| length(cross(minus(point, one), minus(other, one))) / apart;
    let third = points
        .iter()
        .copied()
        .max_by(|a, b| off(*a).total_cmp(&off(*b)))?;
    Some(Widest {
        one,
        other,
        third,
        off: off(third),
    })
}

/// Whether points hold a room: not all of them in a plane, within what a ten-thousandth of their size is.
fn is_solid(points: &[[f64; 3]]) -> bool {
    let Some(Widest {
        one,
        other,
        third,
        off,
    }) = off_line(points)
    else {
        return false;
    };
    let least = (1e-4 * distance(one, other)).max(SAME);
    let normal = cross(minus(other, one), minus(third, one));
    let size = length(normal);
    if off < least || size <= 0.0 {
        return false;
    }
    points.iter().any(|point| {
        let ([x, y, z], [nx, ny, nz]) = (minus(*point, one), normal);
        (x * nx + y * ny + z * nz).abs() / size >= least
    })
}

/// Whether points lie on a line, within what a hundredth of their distance is: then they leave open
/// how a scan is turned about it.
fn in_line(points: &[[f64; 3]]) -> bool {
    match off_line(points) {
        Some(Widest {
            one, other, off, ..
        }) => off < 0.01 * distance(one, other),
        None => true,
    }
}

fn of_scan(walk: &mut Walk, boat: &Boat, scan: &mut BayScan) {
    if !scan.unit.is_left_out() && scan.known.is_some() {
        let message =
            "the scan has a unit and a known length, which may differ; one of the two is enough";
        at_odds(walk, "bay.scan.known", message, None);
    }
    if let Some(known) = &scan.known
        && let (Some(from), Some(to)) = (known.from.given(), known.to.given())
        && distance(*from, *to) <= 0.0
    {
        let message = "both are one point, which is 0 long in any unit";
        at_odds(walk, "bay.scan.known.to", message, None);
    }
    for (i, pair) in scan.points.iter_mut().enumerate() {
        let item = format!("bay.scan.points[{i}].is");
        let place = if walk.places.has(&item) {
            item
        } else {
            "bay.scan.points.is".to_owned()
        };
        if let Told::Given(ScanPlace::Spot(spot)) = &mut pair.is {
            settle(walk, boat, Known::PinsAndSpigots, spot, &place);
        }
    }
    let example = Some("{ scan = [0.12, 0.4, -0.3], is = \"P1\" }");
    let whole = scan
        .points
        .iter()
        .filter(|pair| !pair.scan.is_left_out() && !pair.is.is_left_out())
        .count();
    if whole < 3 {
        let message = format!(
            "{}; three at least say how the scan lies in the bay",
            match whole {
                1 => "1 point says what it is, and not more".to_owned(),
                _ => format!("{whole} points say what they are"),
            }
        );
        at_odds(walk, "bay.scan.points", message, example);
        return;
    }
    let own: Vec<[f64; 3]> = scan
        .points
        .iter()
        .filter_map(|pair| pair.scan.given().copied())
        .collect();
    let all_known = own.len() == scan.points.len();
    if all_known && in_line(&own) {
        let message = "these points of the scan lie in a line, about which it can turn; take one more off that line";
        at_odds(walk, "bay.scan.points", message, example);
    }
}

/// The ways that a run has, in the file as it stands and in the arrangements.
fn ways(boat: &Boat, key: &str) -> Vec<Run> {
    let names =
        std::iter::once(None).chain(boat.arrangements.iter().map(|step| Some(step.key.as_str())));
    let mut ways: Vec<Run> = Vec::new();
    for arranged in names.filter_map(|name| boat.arranged(name)) {
        if let Some(run) = arranged.boat.run(key)
            && !ways.contains(run)
        {
            ways.push(run.clone());
        }
    }
    ways
}

fn of_run(walk: &mut Walk, boat: &Boat, lie: &BayLie, names: &Names) {
    let place = lie.path();
    if !names.runs.contains(&lie.run) {
        let span = walk.places.key_span(&place).unwrap_or_default();
        let runs: Vec<&str> = names.runs.iter().map(String::as_str).collect();
        let message = match nearest(&lie.run, runs.iter().copied()) {
            Some(near) => format!("no run is called “{}”; did you mean {near}?", lie.run),
            None => format!("no run is called “{}”", lie.run),
        };
        let expected = (!runs.is_empty()).then(|| listed(runs.into_iter().take(12), "or"));
        walk.remark(Code::UnknownReference, span, &place, message, expected);
        return;
    }
    let runs = ways(boat, &lie.run);
    let known: Vec<_> = runs.iter().filter_map(|run| run.way.given()).collect();
    // A way that is not known may have any pieces.
    let all_known = known.len() == runs.len();
    if !lie.cut.is_empty() && all_known {
        let mut counts: Vec<usize> = known
            .iter()
            .map(|way| {
                let hoses = way
                    .iter()
                    .filter(|piece| matches!(piece.kind, PieceKind::Hose { .. }));
                hoses.count()
            })
            .collect();
        counts.sort_unstable();
        counts.dedup();
        if !counts.contains(&lie.cut.len()) {
            let written: Vec<String> = counts.iter().map(usize::to_string).collect();
            let message = format!(
                "{} here; {} has {} in its way",
                counted(lie.cut.len(), "length stands", "lengths stand"),
                lie.run,
                match counts.as_slice() {
                    [1] => "1 hose".to_owned(),
                    _ => format!("{} hoses", listed(written.iter().map(String::as_str), "or")),
                },
            );
            at_odds(walk, &format!("{place}.cut"), message, None);
        }
    }
    let pieces: Vec<&str> = known
        .iter()
        .flat_map(|way| way.iter())
        .filter(|piece| !matches!(piece.kind, PieceKind::Hose { .. }))
        .map(|piece| piece.name.as_str())
        .collect();
    for (piece, _) in lie.roll.iter().filter(|_| all_known) {
        let at = joined(&format!("{place}.roll"), piece);
        if pieces.contains(&piece.as_str()) {
            continue;
        }
        let message = match nearest(piece, pieces.iter().copied()) {
            Some(near) => format!(
                "the way of {} has no rigid piece called “{piece}”; did you mean {near}?",
                lie.run
            ),
            None => format!("the way of {} has no rigid piece called “{piece}”", lie.run),
        };
        let expected = (!pieces.is_empty()).then(|| listed(pieces.iter().copied(), "or"));
        let span = walk.places.key_span(&at).unwrap_or_default();
        walk.remark(Code::UnknownReference, span, &at, message, expected);
    }
    if lie.corners.len() > CORNERS {
        let message = format!(
            "{} corners stand here; a run is led by {CORNERS} at most",
            lie.corners.len()
        );
        at_odds(walk, &format!("{place}.corners"), message, None);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hull_is_solid_and_points_are_in_line() {
        let corner = [[0.0; 3], [1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];
        assert!(is_solid(&corner));
        let flat = [
            [0.0, 0.0, 1.0],
            [1.0, 0.0, 1.0],
            [0.0, 1.0, 1.0],
            [1.0, 1.0, 1.0],
        ];
        assert!(!is_solid(&flat));
        assert!(!is_solid(&[[1.0, 2.0, 3.0]; 4]));
        assert!(in_line(&[[0.0; 3], [1.0, 1.0, 1.0], [3.0, 3.0, 3.0001]]));
        assert!(in_line(&[[2.0; 3]; 3]));
        assert!(!in_line(&[[0.0; 3], [1.0, 0.0, 0.0], [0.5, 0.2, 0.0]]));
    }
}
