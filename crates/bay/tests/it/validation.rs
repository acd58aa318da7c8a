//! Every validation row, asked of the function that it names.

use std::path::Path;
use std::sync::Arc;

use bay::Vec3;
use bay::scan::{Lay, Scale, lay};
use bay::solid::{Behind, Body, Hull, Mesh, Shape, Space};

use crate::kit::{at, ring};
use crate::rod_rows;
use crate::rows::{self, Answer, Row};

/// Places as the rows write them: `x y z; x y z`.
fn places(row: &Row, column: &str) -> Vec<Vec3> {
    let numbers = |place: &str| -> Vec<f64> {
        let words = place.split_whitespace();
        words.map(|word| word.parse().expect("a number")).collect()
    };
    let place = |place: &str| match numbers(place)[..] {
        [x, y, z] => at(x, y, z),
        _ => panic!("{}: three numbers", row.place),
    };
    row.text(column).split(';').map(place).collect()
}

/// The unit vectors of a frame turned by a rotation vector.
fn axes(turn: Vec3) -> [Vec3; 3] {
    let (axis, angle) = (turn.normalize(), turn.length());
    [Vec3::X, Vec3::Y, Vec3::Z].map(|v| {
        let along = axis * v.dot(axis);
        along + (v - along) * angle.cos() + axis.cross(v) * angle.sin()
    })
}

fn mesh(row: &Row) -> Arc<Mesh> {
    let words: Vec<f64> = row
        .text("size")
        .split_whitespace()
        .map(|word| word.parse().expect("a number"))
        .collect();
    let surface = ring(words[0], words[1], words[2] as u32, words[3] as u32);
    Arc::new(Mesh::new(&surface.corners, &surface.triangles, Behind::Free).expect("a mesh"))
}

fn shape(row: &Row) -> Shape {
    let family = row.function.split('_').next().unwrap_or_default();
    let body = || places(row, "body");
    let turned = || Shape::Box {
        center: body()[0],
        half: body()[1],
        axes: axes(body()[2]),
    };
    match family {
        "box" => turned(),
        "cylinder" => Shape::Cylinder {
            a: body()[0],
            b: body()[1],
            radius: row.number("size"),
        },
        "capsule" => Shape::Capsule {
            a: body()[0],
            b: body()[1],
            radius: row.number("size"),
        },
        "tube" => Shape::Tube {
            points: body(),
            radius: row.number("size"),
        },
        "hull" => Shape::Hull(Hull::new(&body(), 0.0).expect("a body")),
        "swept" => turned().swept(&places(row, "size")).expect("a body"),
        _ => Shape::Mesh(mesh(row)),
    }
}

/// The gap as the space tells it, where every body is asked through its bounds first.
fn gap(row: &Row) -> f64 {
    let piece = places(row, "piece");
    let space = Space::new(vec![Body::solid("thing", shape(row))]);
    let near = space.near(piece[0], piece[1], row.number("radius"), f64::INFINITY);
    near[0].1.distance
}

fn laid(row: &Row, scale: Scale) -> Lay {
    let points = places(row, "pairs");
    let (scan, boat) = points.split_at(points.len() / 2);
    let pairs: Vec<(Vec3, Vec3)> = scan.iter().copied().zip(boat.iter().copied()).collect();
    lay(&pairs, scale).expect("a lay")
}

fn answer(row: &Row) -> Option<Answer> {
    let point = || places(row, "point")[0];
    let there = || laid(row, Scale::Kept).place(point());
    Some(Answer::Number(match row.function.as_str() {
        "box_gap" | "cylinder_gap" | "capsule_gap" | "tube_gap" | "hull_gap" | "swept_gap"
        | "mesh_gap" | "box_depth" | "hull_depth" => gap(row),
        "mesh_depth" => mesh(row).near(point(), point(), f64::INFINITY)?.distance,
        "mesh_blocks" => {
            let line = places(row, "piece");
            let space = Space::new(vec![Body::solid("ring", Shape::Mesh(mesh(row)))]);
            f64::from(u8::from(!space.sees(line[0], line[1], &[])))
        }
        "lay_rms" => laid(row, Scale::Kept).rms,
        "lay_worst" => laid(row, Scale::Kept)
            .residuals
            .into_iter()
            .fold(0.0, f64::max),
        "laid_x" => there().x,
        "laid_y" => there().y,
        "laid_z" => there().z,
        "lay_scale" => laid(row, Scale::Found).scale,
        _ => return rod_rows::answer(row),
    }))
}

#[test]
fn every_row_agrees() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("validation");
    let count = rows::walk(&folder, answer).unwrap_or_else(|wrong| panic!("{wrong}"));
    assert!(count.counted >= 130, "too few rows count: {count:?}");
    assert!(5 * count.limits <= count.counted, "{count:?}");
}

#[test]
fn a_wrong_number_is_found() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("validation");
    let wrong =
        rows::walk(&folder, |_| Some(Answer::Number(1e6))).expect_err("no answer is a million");
    assert!(wrong.contains("box_gap gives 1000000"));
}
