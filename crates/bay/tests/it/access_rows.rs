//! What the validation rows of tool access ask.

use bay::Vec3;
use bay::access::{Arc, Reach, Way, widest};
use bay::solid::Shape;

use crate::access::{FINE, clip, free, one, pincers, straight, wall};
use crate::kit::at;
use crate::rows::{Answer, Row};

/// Three numbers of one input, mm.
fn point(row: &Row, input: &str) -> Vec3 {
    let numbers: Vec<f64> = row
        .text(input)
        .split_whitespace()
        .map(|word| word.parse().expect("a number"))
        .collect();
    at(numbers[0], numbers[1], numbers[2]) / 1000.0
}

fn millimetres(row: &Row, input: &str) -> f64 {
    row.number::<f64>(input) / 1000.0
}

/// The body of a row.
fn body(row: &Row) -> Shape {
    match row.text("body") {
        "wall" => wall(Vec3::X, millimetres(row, "distance")),
        "box" => {
            // Turned about the upright, then about its own first edge.
            let (turn, roll): (f64, f64) = (row.number("turn"), row.number("roll"));
            let (sin, cos) = turn.to_radians().sin_cos();
            let first = at(cos, sin, 0.0);
            let level = at(-sin, cos, 0.0);
            let (sin, cos) = roll.to_radians().sin_cos();
            let second = level * cos + Vec3::Z * sin;
            Shape::Box {
                center: point(row, "at"),
                half: point(row, "size") / 2.0,
                axes: [first, second, first.cross(second)],
            }
        }
        "pipe" => Shape::Capsule {
            a: point(row, "at"),
            b: point(row, "to"),
            radius: millimetres(row, "radius"),
        },
        other => panic!("no body is called {other}"),
    }
}

fn arcs(row: &Row) -> Vec<Arc> {
    let mut clip = clip();
    clip.od = millimetres(row, "od");
    let (tool, way) = match row.text("tool") {
        "straight+" => (straight(), Way::ScrewPlus),
        "straight-" => (straight(), Way::ScrewMinus),
        "pincers" => (pincers(), Way::Radial),
        other => panic!("no tool is called {other}"),
    };
    let reach: Reach = one(&clip, &tool, &[body(row)], FINE);
    free(&reach, way)
}

/// The answer to a row, if its function is one of access.
pub(crate) fn answer(row: &Row) -> Option<Answer> {
    let widest = || widest(&arcs(row)).expect("something is free");
    Some(Answer::Number(match row.function.as_str() {
        "access_free_from" => widest().from.to_degrees(),
        "access_free_to" => widest().to.to_degrees(),
        "access_free_width" => arcs(row)
            .iter()
            .map(|arc| arc.width())
            .sum::<f64>()
            .to_degrees(),
        _ => return None,
    }))
}
