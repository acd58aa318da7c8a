//! Answers to the rows about shapes of hoses, droop and air.

use bay::rod::stiffness::{droop, from_droop};
use bay::rod::{Far, Lay, OpenAir, Rod, settle};
use bay::{Vec3, rod};

use crate::rows::{Answer, Row};

fn vector(row: &Row, name: &str) -> Vec3 {
    let numbers: Vec<f64> = row
        .text(name)
        .split_whitespace()
        .map(|word| word.parse().expect("a number"))
        .collect();
    Vec3::new(numbers[0], numbers[1], numbers[2])
}

/// The hose that a row tells, in its lowest shape.
fn lay(row: &Row) -> Lay {
    let end = |at: &str, along: &str| rod::End {
        at: vector(row, at),
        along: vector(row, along).normalize(),
    };
    let mut rod = Rod::between(
        end("p0", "a0"),
        end("p1", "a1"),
        row.number("length"),
        row.number("stiffness"),
        row.number("weight"),
    );
    if row.text("a1") == "0 0 0" {
        rod.b = Far::Free(Vec3::ZERO);
    }
    settle(&rod, &OpenAir).expect("it settles").remove(0)
}

pub(crate) fn answer(row: &Row) -> Option<Answer> {
    let middle = |lay: &Lay| lay.place(lay.arcs.last().copied().unwrap_or(0.0) / 2.0);
    let number = match row.function.as_str() {
        "least_radius" => lay(row).bend.radius,
        "bending_energy" => lay(row).bending,
        "middle_x" => middle(&lay(row)).x,
        "middle_y" => middle(&lay(row)).y,
        "middle_z" => middle(&lay(row)).z,
        "force_x" => lay(row).force_a.x,
        "force_z" => lay(row).force_a.z,
        "moment" => lay(row).moment_a.length(),
        "arch_offset" => {
            let middle = middle(&lay(row));
            middle.y.hypot(middle.z)
        }
        "arch_force" => -lay(row).force_a.x,
        "droop" => droop(row.number("own"), row.number("load")).drop,
        "droop_reach" => droop(row.number("own"), row.number("load")).reach,
        "droop_tip" => droop(row.number("own"), row.number("load")).tip,
        "stiffness_from_droop" => from_droop(
            row.number("length"),
            row.number("drop"),
            row.number("weight"),
            row.number("load"),
        )
        .ok()?,
        "air_clears" => bay::lie::froude_needed(row.number::<f64>("slope").to_radians())?,
        _ => return None,
    };
    Some(Answer::Number(number))
}
