//! A clock face for each clip: where its screw stands, which arcs are free, and how the driver comes to it.

use reckon::{Grade, JointRow, LaidClip, Place};

use super::super::grade;
use super::super::ink::PX_IN_MM;
use super::super::shape::{Anchor, Class, Picture};
use super::board::{Board, FEED, HEAD, P, SIZE, SMALL, Type, high};
use super::look::{Bearings, cross, dot, minus, times, unit};
use super::{HoseForm, WIDE};

/// Half the width of a face [mm].
const FACE: f64 = 17.0;
/// The hose as a ring: outside and bore [mm].
const OUTSIDE: f64 = 9.5;
const BORE: f64 = 7.4;
/// The ticks of the hours [mm].
const TICK: (f64, f64) = (10.6, 12.4);
/// The band of free arcs [mm].
const BAND: (f64, f64) = (13.4, 15.0);
/// Width of what stands about one clip [mm].
const COLUMN: f64 = WIDE / 2.0;
/// Where its words begin, and how wide they may be [mm].
const WORDS: (f64, f64) = (2.0 * FACE + 5.0, COLUMN - 2.0 * FACE - 9.0);
/// A spigot within this of upright has its noon at the bow: the cosine of 8°.
const UPRIGHT: f64 = 0.990_268;

/// The faces of the run's clips, two a row, each row as a picture; none where it has no clips.
#[must_use]
pub fn clocks(form: &HoseForm<'_>) -> Vec<Picture> {
    let mut rows: Vec<Vec<&LaidClip>> = Vec::new();
    for clip in form.clips() {
        match rows.last_mut() {
            // The clips of one end stand side by side here too.
            Some(row) if row.len() < 2 && !(clip.of > 1 && clip.nth == 1) => row.push(clip),
            _ => rows.push(vec![clip]),
        }
    }
    rows.iter()
        .enumerate()
        .map(|(at, pair)| row(form, pair, at == 0))
        .collect()
}

fn row(form: &HoseForm<'_>, pair: &[&LaidClip], first: bool) -> Picture {
    let mut marks: Vec<&str> = pair.iter().map(|clip| clip.mark.as_str()).collect();
    marks.dedup();
    let spoken = format!("Clock faces of the clips at {}", marks.join(" and "));
    let mut board = Board::new(WIDE, spoken);
    let mut top = 0.0;
    if first {
        let head = "Clip clocks";
        board.text(Type::BOLD, None, (0.0, FEED * SIZE - 0.3 * SIZE), head);
        let lead = Type::BOLD.width(head) + 3.0;
        let words = "As you look at the spigot from the hose; in a mirror the clock runs backwards. Black band: free when all is in.";
        let foot = board.lines(
            Type::SOFT,
            (lead, FEED * (SIZE - SMALL)),
            WIDE - lead,
            words,
        );
        top = foot.max(FEED * SIZE) + 1.2;
    }
    let mut foot = top + 2.0 * FACE;
    let mut x = 0.0;
    for clip in pair {
        let own = form.joints.iter().find(|row| row.joint == clip.joint);
        face(&mut board, (x + FACE, top + FACE), clip);
        foot = foot.max(words(&mut board, (x + WORDS.0, top), form, clip, own));
        x += COLUMN;
    }
    board.finish(foot + 0.8)
}

/// A place of the face: so far from its middle, at an angle from noon clockwise [degrees].
fn on((x, y): P, r: f64, degrees: f64) -> P {
    let (sin, cos) = degrees.to_radians().sin_cos();
    (x + r * sin, y - r * cos)
}

/// What is right and what is up on the face of a clip.
fn faced(clip: &LaidClip) -> Option<(Place, Place)> {
    let axis = unit(clip.axis)?;
    // What of noon lies across the axis.
    let noon = unit(minus(clip.noon, times(axis, dot(clip.noon, axis))))?;
    Some((cross(noon, axis), noon))
}

/// Where on the clock a place stands about a clip, from noon clockwise as seen from the open end [degrees]; `None`
/// where it lies on the axis.
fn clockwise(clip: &LaidClip, place: Place) -> Option<f64> {
    let (right, noon) = faced(clip)?;
    let way = minus(place, clip.at);
    let (x, y) = (dot(way, right), dot(way, noon));
    (x.hypot(y) > 1e-9).then(|| x.atan2(y).to_degrees().rem_euclid(360.0))
}

fn face(board: &mut Board, middle: P, clip: &LaidClip) {
    let key = Some(clip.joint.as_str());
    board.circle(Class::Loop, key, middle, OUTSIDE);
    board.circle(Class::Fine, None, middle, BORE);
    for hour in 0..12_u8 {
        let degrees = f64::from(hour) * 30.0;
        let quarter = hour % 3 == 0;
        let from = if quarter { TICK.0 } else { TICK.0 + 0.7 };
        let class = if quarter { Class::Middle } else { Class::Fine };
        board.line(
            class,
            on(middle, from, degrees),
            on(middle, TICK.1, degrees),
        );
        if quarter {
            let name = if hour == 0 {
                "12".to_owned()
            } else {
                hour.to_string()
            };
            let (x, y) = on(middle, 5.0, degrees);
            board.text(
                Type::SMALL.at(Anchor::Middle),
                None,
                (x, y + 0.36 * SMALL),
                &name,
            );
        }
    }
    for (from, to) in &clip.free {
        let key = format!("{}.free", clip.joint);
        board.closed(Class::Solid, Some(&key), &arc(middle, *from, *to));
    }
    let Some(screw) = clip.screw else { return };
    let Some(hour) = clockwise(clip, screw) else {
        return;
    };
    // The housing stands on the hose.
    let corner = |r: f64, aside: f64| {
        let (x, y) = on(middle, r, hour);
        let (sin, cos) = hour.to_radians().sin_cos();
        (x + aside * cos, y + aside * sin)
    };
    let block = [
        corner(OUTSIDE - 0.2, -2.6),
        corner(OUTSIDE + 3.2, -2.6),
        corner(OUTSIDE + 3.2, 2.6),
        corner(OUTSIDE - 0.2, 2.6),
    ];
    let key = format!("{}.screw", clip.joint);
    board.closed(Class::Sheet, None, &[grown(&block)]);
    board.closed(Class::Solid, Some(&key), &[block.to_vec()]);
    driver(board, middle, clip, (corner(OUTSIDE + 1.5, 0.0), hour));
}

/// A block with a white edge round it, so that it parts from the band.
fn grown(block: &[P; 4]) -> Vec<P> {
    let sum = block
        .iter()
        .fold((0.0, 0.0), |sum, p| (sum.0 + p.0, sum.1 + p.1));
    let middle = (sum.0 / 4.0, sum.1 / 4.0);
    block
        .iter()
        .map(|p| {
            let (dx, dy) = (p.0 - middle.0, p.1 - middle.1);
            let long = dx.hypot(dy).max(1e-9);
            (p.0 + 0.8 * dx / long, p.1 + 0.8 * dy / long)
        })
        .collect()
}

/// A band of the face between two angles, as figures: one, or two halves where it goes all round.
fn arc(middle: P, from: f64, to: f64) -> Vec<Vec<P>> {
    let wide = (to - from).clamp(0.0, 360.0);
    let halves = if wide > 350.0 { 2 } else { 1 };
    let part = wide / f64::from(halves);
    (0..halves)
        .map(|half| {
            let start = from + f64::from(half) * part;
            // OK because a part is 360° at most.
            let steps = (part / 5.0).ceil().max(1.0) as u32;
            let at = |r: f64, n: u32| on(middle, r, start + part * f64::from(n) / f64::from(steps));
            let out = (0..=steps).map(|n| at(BAND.1, n));
            out.chain((0..=steps).rev().map(|n| at(BAND.0, n)))
                .collect()
        })
        .collect()
}

/// The tool along its true way: an arrow with its point at the screw, or a ring where it comes along the hose.
fn driver(board: &mut Board, middle: P, clip: &LaidClip, (screw, hour): (P, f64)) {
    let Some(way) = tool_way(clip) else { return };
    let Some((right, noon)) = faced(clip) else {
        return;
    };
    let (x, y) = (dot(way, right), -dot(way, noon));
    let across = x.hypot(y);
    let key = format!("{}.tool", clip.joint);
    if across < 0.35 {
        // It comes along the hose: a ring with a point in it from the reader's side, with a cross from behind.
        let at = (middle.0 + 0.72 * FACE, middle.1 - 0.86 * FACE);
        board.circle(Class::Thin, Some(&key), at, 1.6);
        if dot(way, clip.axis) > 0.0 {
            board.circle(Class::Solid, None, at, 0.5);
        } else {
            for (dx, dy) in [(1.1, 1.1), (1.1, -1.1)] {
                board.line(Class::Thin, (at.0 - dx, at.1 - dy), (at.0 + dx, at.1 + dy));
            }
        }
        return;
    }
    let (ux, uy) = (x / across, y / across);
    // The point touches the housing from outside.
    let (sin, cos) = hour.to_radians().sin_cos();
    let (radial, along) = (ux * sin - uy * cos, ux * cos + uy * sin);
    let edge = (1.7 / radial.abs().max(1e-9)).min(2.6 / along.abs().max(1e-9)) + 0.4;
    let tip = (screw.0 + edge * ux, screw.1 + edge * uy);
    // As far as the face goes that way.
    let room = |at: f64, middle: f64, way: f64| {
        let edge = middle + FACE * way.signum();
        if way.abs() < 1e-9 {
            f64::INFINITY
        } else {
            (edge - at) / way
        }
    };
    let long = room(tip.0, middle.0, ux)
        .min(room(tip.1, middle.1, uy))
        .clamp(5.0, 16.0);
    let head = (tip.0 + 1.4 * ux, tip.1 + 1.4 * uy);
    let tail = (tip.0 + long * ux, tip.1 + long * uy);
    board.line(Class::Halo, tail, head);
    board.open(Class::Middle, Some(&key), &[vec![tail, head]]);
    board.arrow(tip, (-ux, -uy));
}

/// From the screw along the tool, as a unit vector.
fn tool_way(clip: &LaidClip) -> Option<Place> {
    let screw = clip.screw?;
    let ends = clip.way.iter().flat_map(|(points, _)| points);
    let far = |place: &&Place| {
        let way = minus(**place, screw);
        dot(way, way)
    };
    let farthest = ends.max_by(|one, other| far(one).total_cmp(&far(other)))?;
    unit(minus(*farthest, screw))
}

/// The words beside a face; gives their lower edge.
fn words(
    board: &mut Board,
    (x, top): P,
    form: &HoseForm<'_>,
    clip: &LaidClip,
    row: Option<&JointRow>,
) -> f64 {
    let wide = WORDS.1;
    let base = top + 1.05 * HEAD;
    board.text(Type::HEAD, Some(&clip.joint), (x, base), &clip.mark);
    let shape = grade::width(clip.grade, grade::Place::Mark) / PX_IN_MM;
    let at = x + Type::HEAD.width(&clip.mark) + 2.0;
    let middle = (
        (at + shape / 2.0) * PX_IN_MM,
        (base - 0.36 * HEAD) * PX_IN_MM,
    );
    board.lay(grade::shape(
        clip.grade,
        middle.0,
        middle.1,
        Some(&clip.joint),
    ));
    board.text(
        Type::PLAIN,
        None,
        (at + shape + 1.2, base),
        clip.grade.word(),
    );
    let mut y = top + FEED * HEAD;
    let name = row.map_or(clip.title.as_str(), |row| row.spigot_name.as_str());
    y = board.lines(Type::SMALL, (x, y), wide, name);
    if clip.of > 1 {
        let nth = format!("clip {} of {} from the hose’s end", clip.nth, clip.of);
        y = board.lines(Type::SMALL, (x, y), wide, &nth);
    }
    if let Some(which) = row.and_then(which) {
        y = board.lines(Type::PLAIN, (x, y), wide, &which);
    }
    if let Some(clock) = &clip.clock {
        let screw = if row.is_some_and(|row| !screws(row)) {
            "its head"
        } else {
            "screw"
        };
        y = board.lines(Type::BOLD, (x, y), wide, &format!("{screw} at {clock}"));
    }
    let tool = clip.tool.as_ref().map(|tool| format!("with {tool}"));
    let free = free_of(clip).map(|free| format!("free: {free}"));
    let both: Vec<String> = tool.into_iter().chain(free).collect();
    y = board.lines(Type::SMALL, (x, y), wide, &both.join("; "));
    if let Some(look) = looking(form, clip) {
        y = board.lines(Type::SMALL, (x, y), wide, &look);
    }
    let text = clip.text.in_units(form.units);
    if high(Type::SOFT, wide, text) > 0.0 {
        y = board.lines(Type::SOFT, (x, y + 0.5), wide, text);
    }
    y
}

/// How many clips and which: `2 × worm 32-50`.
fn which(row: &JointRow) -> Option<String> {
    let clip = row.clip.as_ref()?;
    Some(match row.clips {
        Some(1) => clip.clone(),
        Some(many) => format!("{many} × {clip}"),
        None => format!("{clip}, how many is unmeasured"),
    })
}

/// Whether its clip has a screw.
pub(super) fn screws(row: &JointRow) -> bool {
    let close = row.by_hand.close.as_deref();
    close.is_none_or(|close| close.starts_with("tighten"))
}

/// Which way one looks at the spigot, and where noon is.
fn looking(form: &HoseForm<'_>, clip: &LaidClip) -> Option<String> {
    let bearings = Bearings::of(&form.route.axes)?;
    let axis = unit(clip.axis)?;
    let (_, noon) = faced(clip)?;
    let ahead = bearings.words(times(axis, -1.0));
    let noon = match dot(axis, [0.0, 0.0, 1.0]).abs() > UPRIGHT {
        true => match bearings.words(noon).as_str() {
            "forward" => "12 is the bow".to_owned(),
            other => format!("12 is {other}"),
        },
        false => format!("12 is {}", bearings.words(noon)),
    };
    Some(format!("You look {ahead}; {noon}."))
}

/// Where a clip is free when all is in, in words: `2½ to 5`. `None` where nobody knows.
#[must_use]
pub fn free_of(clip: &LaidClip) -> Option<String> {
    match (free_words(&clip.free), clip.grade) {
        (Some(free), _) => Some(free),
        (None, Grade::Marginal | Grade::Unsound) => Some("nowhere when all is in".to_owned()),
        (None, _) => None,
    }
}

/// Free arcs in words, each rounded inward to half hours: `2½ to 5`. Arcs run from noon clockwise [degrees].
/// `None` where nothing is free.
#[must_use]
pub fn free_words(free: &[(f64, f64)]) -> Option<String> {
    let said: Vec<String> = free
        .iter()
        .filter(|(from, to)| to > from)
        .map(|(from, to)| {
            if to - from >= 359.9 {
                return "all round".to_owned();
            }
            // A hair's breadth is no half hour.
            let (first, last) = ((from / 15.0 - 1e-6).ceil(), (to / 15.0 + 1e-6).floor());
            if last > first {
                format!("{} to {}", hour(first), hour(last))
            } else if last == first {
                format!("{} only", hour(first))
            } else {
                format!("a little by {}", hour(((from + to) / 30.0).round()))
            }
        })
        .collect();
    (!said.is_empty()).then(|| said.join(", "))
}

/// So many half hours after noon on the face: `2½`, `12`.
fn hour(halves: f64) -> String {
    // OK because of the remainder.
    let halves = halves.rem_euclid(24.0) as u32;
    let whole = match halves / 2 {
        0 => 12,
        whole => whole,
    };
    let half = if halves % 2 == 1 { "½" } else { "" };
    format!("{whole}{half}")
}
