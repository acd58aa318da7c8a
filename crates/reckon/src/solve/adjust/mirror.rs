//! Mirrored solutions: points and whole nets that fit as well on the other side.

use super::least::{Index, cross, dot, least, minus, plus, scaled, size};
use super::settle::{Solved, solve_at};
use super::start::{Ties, across, across_in_plan};
use super::{Net, Place, Says, Side};

/// Two solutions whose sums of squares differ by less can't be told apart: the better is less
/// than a hundred times as likely. Source: twice the natural logarithm of 100.
pub(super) const APART: f64 = 9.21;

/// A net flatter than this share of its width has no side.
const FLAT: f64 = 0.03;

/// Points that belong together and fit as well in another place.
#[derive(Clone, Debug, PartialEq)]
pub struct Mirrored {
    /// Which points.
    pub points: Vec<usize>,
    /// The other place of each.
    pub other: Vec<Place>,
}

/// Points that hang together without the pins, each pin beyond the frame alone.
fn groups(net: &Net, solved: &Solved) -> Vec<Vec<usize>> {
    let ties = Ties::of(net.points, &net.measured, &solved.used);
    let mut seen = vec![false; net.points];
    let mut groups = Vec::new();
    for first in 0..net.points {
        if seen[first] || !solved.placed[first] {
            continue;
        }
        let mut group = vec![first];
        seen[first] = true;
        let mut at = 0;
        while first >= net.pins && at < group.len() {
            for (other, ..) in &ties.tapes[group[at]] {
                if *other >= net.pins && !seen[*other] && solved.placed[*other] {
                    seen[*other] = true;
                    group.push(*other);
                }
            }
            at += 1;
        }
        groups.push(group);
    }
    groups
}

/// The index of those coordinates alone.
fn only(index: &Index, group: &[usize]) -> Index {
    let mut next = 0;
    index
        .iter()
        .enumerate()
        .map(|(point, own)| {
            own.map(|at| {
                at.filter(|_| group.contains(&point)).map(|_| {
                    next += 1;
                    next - 1
                })
            })
        })
        .collect()
}

/// The places of a solution with one group on the other side of what it is tied to: rough ones,
/// one for each way in which it can be mirrored.
pub(super) fn reflected(net: &Net, solved: &Solved, group: &[usize]) -> Vec<Vec<Place>> {
    let ties = Ties::of(net.points, &net.measured, &solved.used);
    let places = &solved.least.places;
    let mut partners: Vec<usize> = group
        .iter()
        .flat_map(|&point| ties.tapes[point].iter().map(|(other, ..)| *other))
        .filter(|other| !group.contains(other) && solved.placed[*other])
        .collect();
    partners.sort_unstable();
    partners.dedup();
    if partners.len() < 2 {
        return Vec::new();
    }
    let at: Vec<Place> = partners.iter().map(|&p| places[p]).collect();
    let middle = scaled(
        at.iter().fold([0.0; 3], |sum, p| plus(sum, *p)),
        1.0 / at.len() as f64,
    );
    let mut normals = Vec::new();
    if solved.frame.level {
        normals.push(across_in_plan(&at));
    }
    let high = group.iter().all(|&point| ties.heights[point].is_some());
    if (!solved.frame.level || !high) && at.len() >= 3 {
        normals.push(across(&at));
    }
    normals
        .into_iter()
        .map(|normal| {
            let mut turned = places.clone();
            for &point in group {
                let off = dot(minus(turned[point], middle), normal);
                turned[point] = minus(turned[point], scaled(normal, 2.0 * off));
            }
            turned
        })
        .collect()
}

/// The group on the other side, solved alone with all else standing: sum of squares and places.
fn other_side(net: &Net, solved: &Solved, group: &[usize]) -> Option<(f64, Vec<Place>)> {
    let index = only(&solved.least.index, group);
    reflected(net, solved, group)
        .into_iter()
        .map(|start| least(&net.measured, &solved.used, &start, index.clone()))
        .map(|found| (found.squares, found.places))
        .filter(|(_, places)| {
            group.iter().any(|&point| {
                let moved = size(minus(places[point], solved.least.places[point]));
                moved > 10.0 * deviation(solved, point).max(1e-9)
            })
        })
        .min_by(|a, b| a.0.total_cmp(&b.0))
}

/// The greatest deviation of a point's coordinates.
fn deviation(solved: &Solved, point: usize) -> f64 {
    solved.least.index[point]
        .iter()
        .flatten()
        .map(|&at| solved.covariance[(at, at)].max(0.0).sqrt())
        .fold(0.0, f64::max)
}

/// Whether a point lies where it is said to; `None` where it lies on the very line.
fn holds(side: &Side, places: &[Place]) -> Option<bool> {
    let from = |a: usize, b: usize| minus(places[b], places[a]);
    let (measure, far) = match side.says {
        Says::Left([a, b]) | Says::Right([a, b]) => {
            let (line, step) = (from(a, b), from(a, side.point));
            (
                line[0] * step[1] - line[1] * step[0],
                size(line) * size(step),
            )
        }
        Says::Clockwise([a, b, c]) | Says::Anticlockwise([a, b, c]) => {
            let step = from(a, side.point);
            let normal = cross(from(a, b), from(a, c));
            (dot(normal, step), size(normal) * size(step))
        }
    };
    if measure.abs() <= 1e-9 * far {
        return None;
    }
    Some(match side.says {
        Says::Left(_) | Says::Anticlockwise(_) => measure > 0.0,
        Says::Right(_) | Says::Clockwise(_) => measure < 0.0,
    })
}

fn points_of(side: &Side) -> Vec<usize> {
    let mut points = vec![side.point];
    match side.says {
        Says::Left(of) | Says::Right(of) => points.extend(of),
        Says::Clockwise(of) | Says::Anticlockwise(of) => points.extend(of),
    }
    points
}

/// Whether a statement can be looked at: left and right mean nothing where nobody knows what is up.
fn told_of<'n>(net: &'n Net, solved: &Solved) -> Vec<(usize, &'n Side)> {
    net.sides
        .iter()
        .enumerate()
        .filter(|(_, side)| points_of(side).iter().all(|&point| solved.placed[point]))
        .filter(|(_, side)| {
            solved.frame.level || matches!(side.says, Says::Clockwise(_) | Says::Anticlockwise(_))
        })
        .collect()
}

/// Whether some points have a side at all: not all in one line in plan, or in one plane.
fn has_hand(solved: &Solved, points: &[usize]) -> bool {
    let at: Vec<Place> = points.iter().map(|&p| solved.least.places[p]).collect();
    if at.len() < 3 {
        return false;
    }
    let normal = if solved.frame.level {
        across_in_plan(&at)
    } else {
        across(&at)
    };
    let extent = |direction: &dyn Fn(Place) -> f64| {
        let all = at.iter().map(|p| direction(*p));
        let (low, high) = all.fold((f64::MAX, f64::MIN), |(low, high), x| {
            (low.min(x), high.max(x))
        });
        high - low
    };
    let wide = (0..3)
        .map(|axis| extent(&move |p: Place| p[axis]))
        .fold(0.0, f64::max);
    extent(&|p| dot(p, normal)) > FLAT * wide
}

/// The solution on the side that was told, with what no statement settles.
pub(super) fn sided(net: &Net, used: &[bool], mut solved: Solved) -> Solved {
    // A group that fits far better on its other side began on the wrong one.
    for _ in 0..net.points {
        let better = groups(net, &solved).into_iter().find_map(|group| {
            let (squares, places) = other_side(net, &solved, &group)?;
            (squares < solved.least.squares - APART).then_some(places)
        });
        let again = better
            .and_then(|places| solve_at(net, used, &places, &solved.placed, solved.frame.level));
        match again {
            Some(again) if again.least.squares < solved.least.squares => {
                solved = Solved {
                    turning: [solved.turning, again.turning.clone()].concat(),
                    ..again
                };
            }
            _ => break,
        }
    }
    let either: Vec<(Vec<usize>, Vec<Place>)> = groups(net, &solved)
        .into_iter()
        // The pins that fix the frame have no other side: the whole net has.
        .filter(|group| {
            let frame = [
                Some(solved.frame.origin),
                Some(solved.frame.along),
                solved.frame.third,
            ];
            !group.iter().any(|point| frame.contains(&Some(*point)))
        })
        .filter_map(|group| {
            let (squares, places) = other_side(net, &solved, &group)?;
            (squares < solved.least.squares + APART).then_some((group, places))
        })
        .collect();
    let firm: Vec<usize> = (0..net.points)
        .filter(|point| solved.placed[*point])
        .filter(|point| !either.iter().any(|(group, _)| group.contains(point)))
        .collect();
    let told = told_of(net, &solved);
    let mut open = has_hand(&solved, &firm);
    let mut turn = false;
    if open {
        let of_firm = |side: &Side| points_of(side).iter().all(|point| firm.contains(point));
        let firsts = told
            .iter()
            .filter(|(_, side)| of_firm(side))
            .find_map(|(_, side)| holds(side, &solved.least.places));
        if let Some(right) = firsts {
            open = false;
            turn = !right;
        }
    }
    let view = |places: &[Place]| {
        if turn {
            solved.frame.mirrored(places)
        } else {
            places.to_vec()
        }
    };
    let mut places = view(&solved.least.places);
    let mut mirrored = Vec::new();
    for (group, other) in &either {
        let other = view(other);
        let of_group =
            |side: &&(usize, &Side)| points_of(side.1).iter().any(|point| group.contains(point));
        let settled = told.iter().filter(of_group).find_map(|(_, side)| {
            let (one, two) = (holds(side, &places)?, holds(side, &other)?);
            (one != two).then_some(one)
        });
        match settled {
            Some(true) => {}
            Some(false) => {
                for &point in group {
                    places[point] = other[point];
                }
            }
            None => mirrored.push(Mirrored {
                points: group.clone(),
                other: group.iter().map(|&point| other[point]).collect(),
            }),
        }
    }
    let turning = solved.turning.clone();
    let again = solve_at(net, used, &places, &solved.placed, solved.frame.level);
    let mut solved = again.unwrap_or(solved);
    solved.turning = turning;
    solved.against = if open {
        Vec::new()
    } else {
        told.iter()
            .filter(|(_, side)| holds(side, &solved.least.places) == Some(false))
            .filter(|(_, side)| {
                !mirrored
                    .iter()
                    .any(|group| group.points.contains(&side.point))
            })
            .map(|(at, _)| *at)
            .collect()
    };
    solved.hand_open = open;
    solved.mirrored = mirrored;
    solved
}

/// The groups that hold any of these points.
pub(super) fn groups_of(net: &Net, solved: &Solved, points: &[usize]) -> Vec<Vec<usize>> {
    groups(net, solved)
        .into_iter()
        .filter(|group| group.iter().any(|point| points.contains(point)))
        .collect()
}
