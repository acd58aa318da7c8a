//! The lines: right angles only, from spot to spot.

use reckon::{Around, AroundSpot, AroundWay, ThingKind};

use super::ears::{Ear, is_header};
use super::place::{Plan, Rect, TANK};

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Stroke {
    Vent,
    MakeUp,
    Raw,
    Branch,
    Dead,
    Cold,
    Hot,
}

/// One line.
#[derive(Clone, Debug)]
pub(super) struct Line {
    pub(super) stroke: Stroke,
    pub(super) points: Vec<(f64, f64)>,
    /// The leg that it is; none for a way outside the hull.
    pub(super) leg: Option<usize>,
    /// The thing or run it stands for.
    pub(super) key: String,
    /// Whether anything runs in it.
    pub(super) flows: bool,
    /// Where it goes on, where it is cut short.
    pub(super) onward: Option<String>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Side {
    Up,
    Down,
    Left,
    Right,
}

#[derive(Clone, Copy, Debug)]
struct Port {
    x: f64,
    y: f64,
    side: Side,
}

fn port(x: f64, y: f64, side: Side) -> Port {
    Port { x, y, side }
}

/// The role of a spot in its ear.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Role {
    Start,
    Out,
    Stack,
    Back,
    End,
}

/// Leads all lines.
pub(super) fn lead(around: &Around, plan: &Plan) -> Vec<Line> {
    let mut lines = Vec::new();
    let mut used = vec![false; around.legs.len()];
    for ear in &plan.ears {
        of_ear(around, plan, ear, &mut used, &mut lines);
    }
    let mut vents = 0;
    for (leg, own) in around.legs.iter().enumerate() {
        if used[leg] {
            continue;
        }
        let points = match own.way {
            AroundWay::Vent => {
                vents += 1;
                vent(around, plan, own.from, own.to, f64::from(vents - 1))
            }
            _ if is_header(around, own.from) || is_header(around, own.to) => {
                head(around, plan, own.from, own.to)
            }
            _ => plain(plan, own.from, own.to),
        };
        push(around, leg, points, None, &mut lines);
    }
    lines.sort_by_key(|line| line.stroke);
    lines
}

fn stroke(way: AroundWay) -> Stroke {
    match way {
        AroundWay::Hot => Stroke::Hot,
        AroundWay::Cold => Stroke::Cold,
        AroundWay::Branch | AroundWay::BranchBack | AroundWay::Other => Stroke::Branch,
        AroundWay::MakeUp => Stroke::MakeUp,
        AroundWay::Vent => Stroke::Vent,
        AroundWay::Raw => Stroke::Raw,
        AroundWay::Dead => Stroke::Dead,
    }
}

fn push(
    around: &Around,
    leg: usize,
    points: Vec<(f64, f64)>,
    onward: Option<String>,
    lines: &mut Vec<Line>,
) {
    let own = &around.legs[leg];
    let points = tidy(points);
    if points.len() < 2 {
        return;
    }
    lines.push(Line {
        stroke: stroke(own.way),
        points,
        leg: Some(leg),
        key: own.run.clone(),
        flows: own.way != AroundWay::Dead,
        onward,
    });
}

/// Without points that change nothing.
fn tidy(points: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    let near = |a: f64, b: f64| (a - b).abs() < 0.01;
    let mut out: Vec<(f64, f64)> = Vec::new();
    for point in points {
        if out
            .last()
            .is_some_and(|last| near(last.0, point.0) && near(last.1, point.1))
        {
            continue;
        }
        if let [.., a, b] = out[..] {
            let straight =
                (near(a.0, b.0) && near(b.0, point.0)) || (near(a.1, b.1) && near(b.1, point.1));
            if straight {
                out.pop();
            }
        }
        out.push(point);
    }
    out
}

fn of_ear(around: &Around, plan: &Plan, ear: &Ear, used: &mut [bool], lines: &mut Vec<Line>) {
    let mut all: Vec<(AroundSpot, Role)> = Vec::new();
    all.extend(ear.start.map(|spot| (spot, Role::Start)));
    all.extend(ear.out.iter().map(|spot| (*spot, Role::Out)));
    all.extend(ear.stack.iter().map(|spot| (*spot, Role::Stack)));
    all.extend(ear.back.iter().map(|spot| (*spot, Role::Back)));
    all.extend(ear.end.map(|spot| (spot, Role::End)));
    let half = ear
        .stack
        .iter()
        .filter_map(|spot| plan.boxes.get(spot))
        .map(|own| own.w / 2.0)
        .fold(4.0, f64::max);
    let jog = half + 12.0;
    for pair in all.windows(2) {
        let [(a, role_a), (b, role_b)] = [pair[0], pair[1]];
        let leg = (0..around.legs.len()).find(|leg| {
            let own = &around.legs[*leg];
            !used[*leg]
                && (own.from, own.to) == (a, b)
                && !matches!(own.way, AroundWay::Vent | AroundWay::MakeUp)
                && (own.way == AroundWay::Raw) == ear.raw
        });
        let join = around.joins.iter().find(|join| {
            let (from, to) = (AroundSpot::Thing(join.from), AroundSpot::Thing(join.to));
            (from, to) == (a, b) || (from, to) == (b, a)
        });
        let heart = around.heart.map(AroundSpot::Thing);
        if let (Some(leg), true) = (leg, ear.raw && (Some(b) == heart || Some(a) == heart)) {
            used[leg] = true;
            let own = &around.legs[leg];
            let name = |thing: AroundSpot, spigot: &str| match thing {
                AroundSpot::Thing(thing) if spigot.is_empty() => around.things[thing].key.clone(),
                AroundSpot::Thing(thing) => format!("{}.{spigot}", around.things[thing].key),
                _ => String::new(),
            };
            let (points, words) = if Some(b) == heart {
                let words = format!("to {}", name(b, &own.to_spigot));
                (stub(plan, a, role_a), words)
            } else {
                let mut points = stub(plan, b, role_b);
                points.reverse();
                (points, format!("from {}", name(a, &own.from_spigot)))
            };
            push(around, leg, points, Some(words), lines);
            continue;
        }
        let (Some(from), Some(to)) = (
            leaves(plan, ear, a, role_a, b, heart),
            comes(plan, ear, b, role_b, a, heart),
        ) else {
            continue;
        };
        let column = plan.x.get(ear.slot).copied().unwrap_or(from.x);
        let points = connect(from, to, jog, column);
        if let Some(leg) = leg {
            used[leg] = true;
            push(around, leg, points, None, lines);
        } else if let Some(join) = join {
            let key = [join.from, join.to]
                .into_iter()
                .find(|thing| around.things[*thing].kind != Some(ThingKind::HullFitting))
                .map_or(String::new(), |thing| around.things[thing].key.clone());
            let flows = join.open && join.flows;
            lines.push(Line {
                stroke: outside(around, b, flows),
                points: tidy(points),
                leg: None,
                key,
                flows,
                onward: None,
            });
        }
    }
}

/// What has been cooled leaves by the fitting.
fn outside(around: &Around, to: AroundSpot, flows: bool) -> Stroke {
    let fitting = matches!(to, AroundSpot::Thing(thing)
        if around.things[thing].kind == Some(ThingKind::HullFitting));
    match (flows, fitting) {
        (false, _) => Stroke::Dead,
        (true, true) => Stroke::Cold,
        (true, false) => Stroke::Hot,
    }
}

/// A line cut short: out of the right side of a thing, or up out of a column.
fn stub(plan: &Plan, spot: AroundSpot, role: Role) -> Vec<(f64, f64)> {
    let Some(own) = plan.boxes.get(&spot) else {
        return Vec::new();
    };
    let (x, y) = own.centre();
    if role == Role::Stack {
        return vec![(x, own.y), (x, own.y - 26.0)];
    }
    vec![(own.right(), y - 9.0), (own.right() + 34.0, y - 9.0)]
}

fn leaves(
    plan: &Plan,
    ear: &Ear,
    spot: AroundSpot,
    role: Role,
    next: AroundSpot,
    heart: Option<AroundSpot>,
) -> Option<Port> {
    let own = plan.boxes.get(&spot)?;
    let (x, y) = own.centre();
    Some(match role {
        Role::Out => port(own.right(), y, Side::Right),
        Role::Back => port(own.x, y, Side::Left),
        Role::Stack if ear.raw => port(x, own.y, Side::Up),
        Role::Stack => port(x, own.bottom(), Side::Down),
        _ if Some(spot) == heart => port(own.right(), ear.lanes[0].unwrap_or(y), Side::Right),
        _ => match spot {
            AroundSpot::Tee(_) => tee(plan, own, next, ear.lanes[0]),
            _ => port(own.right(), if ear.raw { y - 9.0 } else { y }, Side::Right),
        },
    })
}

fn comes(
    plan: &Plan,
    ear: &Ear,
    spot: AroundSpot,
    role: Role,
    before: AroundSpot,
    heart: Option<AroundSpot>,
) -> Option<Port> {
    let own = plan.boxes.get(&spot)?;
    let (x, y) = own.centre();
    Some(match role {
        Role::Out => port(own.x, y, Side::Left),
        Role::Back => port(own.right(), y, Side::Right),
        Role::Stack if ear.raw => port(x, own.bottom(), Side::Down),
        Role::Stack => port(x, own.y, Side::Up),
        _ if Some(spot) == heart => port(own.right(), ear.lanes[1].unwrap_or(y), Side::Right),
        _ => match spot {
            AroundSpot::Tee(_) => tee(plan, own, before, ear.lanes[1]),
            _ => port(own.right(), if ear.raw { y + 9.0 } else { y }, Side::Right),
        },
    })
}

/// The branch of a tee, up or down to what hangs on it.
fn tee(plan: &Plan, own: &Rect, other: AroundSpot, lane: Option<f64>) -> Port {
    let (x, y) = own.centre();
    let there = lane.or_else(|| plan.boxes.get(&other).map(|other| other.centre().1));
    if there.is_some_and(|there| there < y) {
        port(x, own.y, Side::Up)
    } else {
        port(x, own.bottom(), Side::Down)
    }
}

/// A line from one port to another, which leaves and comes as they look.
fn connect(a: Port, b: Port, jog: f64, column: f64) -> Vec<(f64, f64)> {
    let (from, to) = ((a.x, a.y), (b.x, b.y));
    let same = |one: f64, other: f64| (one - other).abs() < 0.5;
    let middle = f64::midpoint(a.y, b.y);
    let inner = match (a.side, b.side) {
        (Side::Right, Side::Left) | (Side::Left, Side::Right) if same(a.y, b.y) => vec![],
        // The step stands beside what is lower.
        (Side::Right, Side::Left) => {
            let x = if b.y > a.y { b.x - 14.0 } else { a.x + 14.0 };
            vec![(x, a.y), (x, b.y)]
        }
        (Side::Left, Side::Right) => {
            let x = if b.y > a.y { b.x + 14.0 } else { a.x - 14.0 };
            vec![(x, a.y), (x, b.y)]
        }
        (Side::Right, Side::Right) => {
            let x = column.max(a.x + 14.0).max(b.x + 14.0);
            vec![(x, a.y), (x, b.y)]
        }
        (Side::Right, Side::Up) if b.y - a.y >= 6.0 => vec![(b.x, a.y)],
        (Side::Right, Side::Up) => {
            let x = b.x - jog - 6.0;
            vec![(x, a.y), (x, b.y - 12.0), (b.x, b.y - 12.0)]
        }
        (Side::Right, Side::Down) => {
            let x = b.x - jog;
            vec![(x, a.y), (x, b.y + 12.0), (b.x, b.y + 12.0)]
        }
        (Side::Down, Side::Right) if b.y >= a.y + 4.0 => vec![(a.x, b.y)],
        (Side::Down, Side::Right) => {
            let x = a.x - jog;
            vec![(a.x, a.y + 14.0), (x, a.y + 14.0), (x, b.y)]
        }
        (Side::Up, Side::Right) if b.y <= a.y - 6.0 => vec![(a.x, b.y)],
        (Side::Up, Side::Right) => {
            let x = a.x - jog;
            vec![(a.x, a.y - 12.0), (x, a.y - 12.0), (x, b.y)]
        }
        (Side::Down, Side::Up) | (Side::Up, Side::Down) if same(a.x, b.x) => vec![],
        (Side::Down, Side::Up) if b.y < a.y => {
            let x = a.x - jog;
            vec![
                (a.x, a.y + 14.0),
                (x, a.y + 14.0),
                (x, b.y - 12.0),
                (b.x, b.y - 12.0),
            ]
        }
        (Side::Down, Side::Up) | (Side::Up, Side::Down) => vec![(a.x, middle), (b.x, middle)],
        (Side::Down, Side::Down) => {
            let y = a.y.max(b.y) + 14.0;
            vec![(a.x, y), (b.x, y)]
        }
        (Side::Up, Side::Up) => {
            let y = a.y.min(b.y) - 14.0;
            vec![(a.x, y), (b.x, y)]
        }
        (Side::Down | Side::Up, Side::Left) => vec![(a.x, b.y)],
        (Side::Left, _) => vec![(b.x, a.y)],
    };
    std::iter::once(from).chain(inner).chain([to]).collect()
}

/// How far a header tank that is part of a thing stands up from it.
fn tank(around: &Around, spot: AroundSpot) -> f64 {
    match spot {
        AroundSpot::Thing(thing) if around.things[thing].header => TANK,
        _ => 0.0,
    }
}

/// A vent: up, along above the hot way, and into the tank.
fn vent(
    around: &Around,
    plan: &Plan,
    from: AroundSpot,
    to: AroundSpot,
    nth: f64,
) -> Vec<(f64, f64)> {
    let (Some(a), Some(b)) = (plan.boxes.get(&from), plan.boxes.get(&to)) else {
        return Vec::new();
    };
    let heart = |spot| around.heart.map(AroundSpot::Thing) == Some(spot);
    let top = |spot, own: &Rect| match spot {
        _ if heart(spot) => (own.right() - 18.0 - 12.0 * nth, own.y - tank(around, spot)),
        AroundSpot::Thing(_) => (own.centre().0 + (own.w / 2.0 - 8.0).clamp(0.0, 18.0), own.y),
        _ => (own.centre().0, own.y),
    };
    let (start, end) = (top(from, a), top(to, b));
    if is_header(around, to) && start.0 < b.x {
        let y = b.centre().1 + 6.0 * nth;
        return vec![start, (start.0, y), (b.x, y)];
    }
    let y = plan.vent - 6.0 * nth;
    if is_header(around, to) {
        let side = (b.right(), b.centre().1);
        return vec![start, (start.0, side.1), side];
    }
    vec![start, (start.0, y), (end.0, y), end]
}

/// A line to or from a header tank: down from its foot.
fn head(around: &Around, plan: &Plan, from: AroundSpot, to: AroundSpot) -> Vec<(f64, f64)> {
    let down = is_header(around, from);
    let (tank, other) = if down { (from, to) } else { (to, from) };
    let (Some(a), Some(b)) = (plan.boxes.get(&tank), plan.boxes.get(&other)) else {
        return Vec::new();
    };
    let start = (a.centre().0, a.bottom());
    let x = if around.heart.map(AroundSpot::Thing) == Some(other) {
        b.right() - 18.0
    } else {
        b.centre().0
    };
    let mut points = vec![start, (start.0, plan.vent), (x, plan.vent), (x, b.y)];
    if !down {
        points.reverse();
    }
    points
}

/// Whatever fits nowhere else: from middle to middle by one corner.
fn plain(plan: &Plan, from: AroundSpot, to: AroundSpot) -> Vec<(f64, f64)> {
    match (plan.boxes.get(&from), plan.boxes.get(&to)) {
        (Some(a), Some(b)) => {
            let (a, b) = ((a.right(), a.centre().1), (b.centre().0, b.y));
            vec![a, (b.0, a.1), b]
        }
        // What it was led to is gone: a short end.
        (Some(own), None) | (None, Some(own)) => {
            vec![
                (own.right(), own.centre().1),
                (own.right() + 20.0, own.centre().1),
            ]
        }
        (None, None) => Vec::new(),
    }
}
