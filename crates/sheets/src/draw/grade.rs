//! The shapes of the four grades, and their hatch on areas: told apart in grey, from afar.

use reckon::Grade;

use super::hatch::{self, Slope};
use super::shape::{Class, Placed, Shape, Step};

/// Where a shape stands, which says how large it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// As a mark in a picture, or within a line of text.
    Mark,
    /// At the head of a list or a card.
    List,
}

/// The handle of a quarter of a circle of radius 1.
const QUARTER: f64 = 0.552_284_749_8;

/// The shape of a grade as a mark, its middle at `x`, `y`.
#[must_use]
pub fn shape(grade: Grade, x: f64, y: f64, key: Option<&str>) -> Vec<Placed> {
    shape_at(grade, Place::Mark, x, y, key)
}

/// The shape of a grade, its middle at `x`, `y`.
#[must_use]
pub fn shape_at(grade: Grade, place: Place, x: f64, y: f64, key: Option<&str>) -> Vec<Placed> {
    let half = width(grade, place) / 2.0;
    let put = |class, shape, spoken: Option<&str>| Placed {
        class,
        key: key.map(str::to_owned),
        spoken: spoken.map(str::to_owned),
        shape,
    };
    let word = Some(grade.word());
    match grade {
        Grade::Sound => vec![put(Class::Sound, Shape::Circle { x, y, r: half }, word)],
        Grade::Marginal => {
            let (foot, k) = (y + half / 2.0, half * QUARTER);
            let steps = vec![
                Step::To(x - half, foot),
                Step::Curve(x - half, foot - k, x - k, foot - half, x, foot - half),
                Step::Curve(x + k, foot - half, x + half, foot - k, x + half, foot),
                Step::Close,
            ];
            vec![put(Class::Marginal, Shape::Path(steps), word)]
        }
        Grade::Unsound => {
            let corners = [(x, y - half), (x + half, y), (x, y + half), (x - half, y)];
            // On a box of 24 the half diagonal is 10, the cross 2.4 wide; its arms stay inside.
            let (arm, thick) = (half * 0.42, half * 0.12);
            let bar = |slope: f64| {
                let at = |along: f64, across: f64| {
                    let (s, t) = (std::f64::consts::FRAC_1_SQRT_2, slope);
                    (x + s * (along - t * across), y + s * (t * along + across))
                };
                let ends = [
                    at(-arm, -thick),
                    at(arm, -thick),
                    at(arm, thick),
                    at(-arm, thick),
                ];
                put(Class::UnsoundCross, Shape::figure(&ends), None)
            };
            vec![
                put(Class::Unsound, Shape::figure(&corners), word),
                bar(1.0),
                bar(-1.0),
            ]
        }
        Grade::Unmeasured => {
            let side = 2.0 * half;
            let frame = Shape::rectangle(x - half, y - half, side, side);
            vec![put(Class::Unmeasured, frame, word)]
        }
    }
}

/// How wide the shape is, px.
#[must_use]
pub fn width(grade: Grade, place: Place) -> f64 {
    match (grade, place) {
        (Grade::Sound, Place::Mark) => 8.0,
        (Grade::Sound, Place::List) => 10.0,
        (Grade::Marginal, Place::Mark) => 12.0,
        (Grade::Marginal, Place::List) => 14.0,
        (Grade::Unsound, Place::Mark) => 18.0,
        (Grade::Unsound, Place::List) => 22.0,
        (Grade::Unmeasured, Place::Mark) => 10.0,
        (Grade::Unmeasured, Place::List) => 12.0,
    }
}

/// The hatch of a grade on an area: none, single, crossed, dots.
#[must_use]
pub fn hatch(grade: Grade, area: &[(f64, f64)], key: Option<&str>) -> Vec<Placed> {
    let put = |class: Class, shapes: Vec<Shape>| {
        shapes.into_iter().map(move |shape| Placed {
            class,
            key: key.map(str::to_owned),
            spoken: None,
            shape,
        })
    };
    match grade {
        Grade::Sound => Vec::new(),
        Grade::Marginal => put(Class::Fine, hatch::lines(area, Slope::Rising, 6.0)).collect(),
        Grade::Unsound => put(Class::Fine, hatch::lines(area, Slope::Rising, 4.0))
            .chain(put(Class::Fine, hatch::lines(area, Slope::Falling, 4.0)))
            .collect(),
        Grade::Unmeasured => put(Class::Solid, hatch::dots(area, 6.0)).collect(),
    }
}
