//! Columns and rows: where everything stands.

use std::collections::BTreeMap;

use reckon::{Around, AroundSpot, AroundThing, Grade, ThingKind};

use super::columns::{Columns, settle};
use super::ears::{self, Ear};
use super::rows::Rows;
use super::{AroundForm, LINE, SIZE, WIDE};
use crate::draw::grade::{self, Place as GradePlace};
use crate::draw::{Face, text};

/// An upright rectangle.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Rect {
    pub(super) x: f64,
    pub(super) y: f64,
    pub(super) w: f64,
    pub(super) h: f64,
}

impl Rect {
    pub(super) fn new(x: f64, y: f64, w: f64, h: f64) -> Rect {
        Rect { x, y, w, h }
    }

    pub(super) fn round(x: f64, y: f64, w: f64, h: f64) -> Rect {
        Rect {
            x: x - w / 2.0,
            y: y - h / 2.0,
            w,
            h,
        }
    }

    pub(super) fn right(&self) -> f64 {
        self.x + self.w
    }

    pub(super) fn bottom(&self) -> f64 {
        self.y + self.h
    }

    pub(super) fn centre(&self) -> (f64, f64) {
        (self.x + self.w / 2.0, self.y + self.h / 2.0)
    }

    pub(super) fn meets(&self, other: &Rect, gap: f64) -> bool {
        self.x < other.right() + gap
            && other.x < self.right() + gap
            && self.y < other.bottom() + gap
            && other.y < self.bottom() + gap
    }
}

/// Where everything stands.
#[derive(Clone, Debug, Default)]
pub(super) struct Plan {
    pub(super) width: f64,
    pub(super) height: f64,
    pub(super) ears: Vec<Ear>,
    /// The still waterline.
    pub(super) water: f64,
    /// Boxes of things, bow-ties of hull fittings, points of tees.
    pub(super) boxes: BTreeMap<AroundSpot, Rect>,
    /// Middle of each column.
    pub(super) x: Vec<f64>,
    /// The level on which vents go, above the hot way.
    pub(super) vent: f64,
    /// The right side of the thing with the pump.
    pub(super) heart_right: f64,
    /// Where the drawing ends and the foot begins.
    pub(super) floor: f64,
    /// How much is written.
    pub(super) dress: Dress,
}

/// How much is written.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Dress {
    /// Figures on one line, names of fittings beside them.
    pub(super) wide: bool,
    /// What a thing is under its name.
    pub(super) words: bool,
    /// The widest that a name may be [px].
    pub(super) most: f64,
}

/// Height of a hull fitting's bow-tie.
pub(super) const TIE: f64 = 16.0;
/// Height of a header tank that stands on an engine.
pub(super) const TANK: f64 = 22.0;
/// The widest name and second words of a thing [px], the first with which the drawing keeps its width: longer ones are
/// cut short, for one long name would push all else off the sheet.
const WORDS: [f64; 4] = [180.0, 110.0, 70.0, 48.0];

/// The name of a thing, as far as there is room for it.
pub(super) fn name(thing: &AroundThing, dress: Dress) -> String {
    cut(&thing.key, Face::Bold, dress)
}

fn cut(words: &str, face: Face, dress: Dress) -> String {
    text::fits(words, face, SIZE, dress.most)
}

/// The words of a thing's box: its name, and what it is where there is room and that tells more.
pub(super) fn words(thing: &AroundThing, dress: Dress) -> (String, Option<String>) {
    let second =
        (dress.words && thing.what != thing.key && thing.kind != Some(ThingKind::HullFitting))
            .then(|| cut(&thing.what, Face::Plain, dress));
    (name(thing, dress), second)
}

/// The grade whose shape is drawn on a thing: where there is little room, none for what is sound.
pub(super) fn sign(thing: &AroundThing, dress: Dress) -> Option<Grade> {
    thing
        .grade
        .filter(|grade| dress.wide || *grade != Grade::Sound)
}

/// The size of a thing's box.
pub(super) fn size(thing: &AroundThing, dress: Dress) -> (f64, f64) {
    if thing.kind == Some(ThingKind::HullFitting) {
        return (TIE, TIE);
    }
    let (name, second) = words(thing, dress);
    let sign = sign(thing, dress);
    let sign = sign.map_or(0.0, |grade| grade::width(grade, GradePlace::Mark) + 5.0);
    let first = text::width(&name, Face::Bold, SIZE) + sign;
    let width = second.as_ref().map_or(first, |second| {
        text::width(second, Face::Plain, SIZE).max(first)
    });
    let lines = if second.is_some() { 2.0 } else { 1.0 };
    (
        width + if dress.wide { 16.0 } else { 11.0 },
        lines * LINE + 13.0,
    )
}

/// How far a thing reaches left and right of its column.
pub(super) fn reach(thing: &AroundThing, dress: Dress, last: bool) -> (f64, f64) {
    let (w, _) = size(thing, dress);
    if thing.kind == Some(ThingKind::HullFitting) {
        if !dress.wide && !last {
            // Its name finds room on either side.
            return (w / 2.0 + 4.0, w / 2.0 + 8.0);
        }
        let sign = sign(thing, dress);
        let sign = sign.map_or(0.0, |grade| grade::width(grade, GradePlace::Mark) + 4.0);
        let name = text::width(&name(thing, dress), Face::Bold, SIZE);
        return (w / 2.0 + 4.0, w / 2.0 + 6.0 + sign + name);
    }
    (w / 2.0, w / 2.0)
}

/// Places everything; where the height or the width does not do for second words, without them.
pub(super) fn place(around: &Around, form: &AroundForm, foot: f64) -> Plan {
    let wide = form.width >= WIDE;
    let dress = |words, most| Dress { wide, words, most };
    let [first, shorter @ ..] = WORDS;
    let full = placed(around, form, foot, dress(wide, first));
    if full.height <= form.height && full.width <= form.width {
        return full;
    }
    let mut plan = placed(around, form, foot, dress(false, first));
    for most in shorter {
        if plan.width <= form.width {
            break;
        }
        plan = placed(around, form, foot, dress(false, most));
    }
    plan
}

fn placed(around: &Around, form: &AroundForm, foot: f64, dress: Dress) -> Plan {
    let mut plan = Plan {
        dress,
        width: form.width,
        ears: ears::ears(around),
        ..Plan::default()
    };
    let mut columns = Columns::default();
    let rows = Rows::of(around, &plan, dress);
    settle(around, &mut plan, &mut columns, &rows);
    let mut gap = if dress.wide { 8.0 } else { 5.0 };
    let (mut x, mut needed) = columns.leftmost(gap);
    // The widest gap with which it still fits.
    let (mut low, mut high) = (gap, form.width);
    for _ in 0..40 {
        let middle = f64::midpoint(low, high);
        if columns.leftmost(middle).1 <= form.width {
            low = middle;
        } else {
            high = middle;
        }
    }
    if needed <= form.width {
        gap = low;
        (x, needed) = columns.leftmost(gap);
    }
    plan.width = form.width.max(needed);
    let right = columns.rightmost(gap, plan.width);
    let heart = around
        .heart
        .and_then(|heart| columns.of.get(&AroundSpot::Thing(heart)));
    plan.x = x
        .iter()
        .zip(&right)
        .enumerate()
        .map(|(slot, (left, right))| {
            if Some(&slot) == heart {
                *left
            } else {
                f64::midpoint(*left, *right)
            }
        })
        .collect();
    rows.stand(around, form, &mut plan, &columns.of, foot);
    plan
}
