//! The thread gauge: combs of every pitch and bars of every diameter, at full size.

use quantity::System;
use reckon::{Comb, CombSize};

use super::ruler::{SMALL, line, measure_me, picture, words};
use super::sheet;
use super::words::{aside, text};
use crate::doc::{Block, Sheet};
use crate::draw::ink::PX_IN_MM;
use crate::draw::{Anchor, Class, Face, Picture, Shape, text as type_};

/// How wide the pictures are [mm].
const WIDE: f64 = 170.0;
/// How long a comb is, at most [mm].
const COMB: f64 = 42.0;

/// The gauge for these combs.
pub fn gauge(combs: &[Comb], units: System) -> Sheet {
    let mut blocks = vec![Block::Head("Thread gauge".into())];
    blocks.extend(measure_me());
    blocks.push(Block::Head("Pitch: hold the thread on the comb".into()));
    blocks.push(text(
        "Cut along the teeth or fold the sheet there, and lay the comb along a male thread against the light. The right comb meets every crest over its whole length; a wrong one is out after a few turns. 55° and 60° differ too little for paper: a steel gauge tells them apart.",
    ));
    for comb in combs {
        blocks.push(Block::Picture(row(comb, units)));
    }
    blocks.push(Block::NewPage);
    blocks.push(Block::Head(
        "Diameter: stand the male end on its bar".into(),
    ));
    blocks.push(text(
        "The bar is as long as the thread is wide over its crests, new and at its gauge plane. Worn threads are smaller, and a taper thread is smaller at its end. The size by name is no measure: G 1/2 is 21 mm wide.",
    ));
    let mut sizes: Vec<&CombSize> = combs.iter().flat_map(|comb| &comb.sizes).collect();
    sizes.sort_by(|a, b| a.male.total_cmp(&b.male));
    for pair in sizes.chunks(2) {
        blocks.push(Block::Picture(bars(pair)));
    }
    let mut sources: Vec<&str> = Vec::new();
    for size in &sizes {
        if !sources.contains(&size.source.as_str()) {
            sources.push(&size.source);
        }
    }
    blocks.push(aside(format!("Sizes: {}.", sources.join("; "))));
    sheet("gauge", "Thread gauge", blocks)
}

/// One comb, drawn as the profile of its thread, its name and its sizes beside it.
fn row(comb: &Comb, units: System) -> Picture {
    let pitch = comb.pitch * 1000.0;
    let teeth = (COMB / pitch).floor();
    let names: Vec<&str> = comb.sizes.iter().map(|size| size.name.as_str()).collect();
    let right = COMB + 8.0;
    let name = format!("{}, {:.0}°", comb.name.in_units(units), comb.angle);
    let lines = type_::wrap(
        &names.join(" · "),
        Face::Plain,
        SMALL,
        (WIDE - right) * PX_IN_MM,
    );
    // The standards cut the sharp tips off: so much of a thread's height is left.
    let deep = pitch * 0.6;
    let high = 5.0 + 4.0 * lines.len() as f64;
    let mut drawn = picture(
        WIDE,
        high.max(deep + 6.0),
        &format!("Comb of {name}, full size"),
    );
    let top = 2.0;
    let flank = deep * (comb.angle.to_radians() / 2.0).tan();
    let flat = (pitch - 2.0 * flank).max(0.0) / 2.0;
    let mut points: Vec<(f64, f64)> = Vec::new();
    for tooth in 0..(teeth as usize) {
        let x = 1.0 + tooth as f64 * pitch;
        for (dx, dy) in [
            (0.0, deep),
            (flat, deep),
            (flat + flank, 0.0),
            (2.0 * flat + flank, 0.0),
            (pitch, deep),
        ] {
            points.push(((x + dx) * PX_IN_MM, (top + dy) * PX_IN_MM));
        }
    }
    drawn.put(Class::Thin, Shape::through(&points));
    words(
        &mut drawn,
        (right, 3.5),
        Anchor::Start,
        (Face::Bold, SMALL),
        &name,
    );
    for (at, names) in lines.iter().enumerate() {
        let y = 7.5 + 4.0 * at as f64;
        words(
            &mut drawn,
            (right, y),
            Anchor::Start,
            (Face::Plain, SMALL),
            names,
        );
    }
    drawn
}

/// Two bars side by side.
fn bars(pair: &[&CombSize]) -> Picture {
    let names: Vec<&str> = pair.iter().map(|size| size.name.as_str()).collect();
    let mut drawn = picture(WIDE, 5.2, &format!("Full size: {}", names.join(", ")));
    for (at, size) in pair.iter().enumerate() {
        let left = 1.0 + at as f64 * (WIDE / 2.0);
        let long = size.male * 1000.0;
        let label = left + 22.0;
        let name = type_::fits(&size.name, Face::Bold, SMALL, 21.0 * PX_IN_MM);
        words(
            &mut drawn,
            (left, 3.4),
            Anchor::Start,
            (Face::Bold, SMALL),
            &name,
        );
        line(&mut drawn, Class::Middle, (label, 2.4), (label + long, 2.4));
        for end in [label, label + long] {
            line(&mut drawn, Class::Thin, (end, 0.4), (end, 4.4));
        }
    }
    drawn
}
