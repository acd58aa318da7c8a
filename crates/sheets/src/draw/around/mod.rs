//! The loop as a drawing: engine left, cooler right, hot way across the top, cold way back along the bottom.
//!
//! [`ears`] finds the ways, [`columns`] and [`rows`] give everything its place, [`path`] leads the lines,
//! [`paint`] and [`words`] draw them, and [`flags`] finds room for what is written.
//! Columns follow from what lies on what, never from chance: the same input gives the same drawing, and what
//! stands in two arrangements stands in the same order in both. Heights are in order only; the still
//! waterline parts what is under water from what is not.

mod columns;
mod ears;
mod flags;
mod foot;
mod paint;
mod path;
mod place;
mod rows;
mod words;

use quantity::System;
use reckon::Around;

use super::Picture;

/// What is asked of the drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AroundForm {
    /// Width, px.
    pub width: f64,
    /// Height, px, that is filled; where the loop needs more, the picture is higher, and never cut.
    pub height: f64,
    /// Units of the figures.
    pub units: System,
}

/// Size of all words of the drawing, px: the least on a screen.
const SIZE: f64 = 12.0;
/// Height of a line of words, px.
const LINE: f64 = 15.0;
/// Space left free along the edges, px.
const EDGE: f64 = 8.0;
/// From this width on there is room for second words.
const WIDE: f64 = 640.0;

/// Draws the loop.
#[must_use]
pub fn around(around: &Around, form: &AroundForm) -> Picture {
    let foot = foot::Foot::of(around, form);
    let plan = place::place(around, form, foot.height);
    let lines = path::lead(around, &plan);
    let mut picture = Picture {
        width: plan.width,
        height: plan.height,
        spoken: foot.spoken.clone(),
        placed: Vec::new(),
    };
    let mut room = flags::Room::of(&plan, plan.height - foot.height);
    paint::paint(around, form, &plan, &lines, &mut room, &mut picture);
    foot.put(&plan, &mut picture);
    picture
}
