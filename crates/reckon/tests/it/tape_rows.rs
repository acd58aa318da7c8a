//! Validation rows of places from tapes.

use reckon::solve::adjust::{
    Measure, Net, Says, Side, What, adjust, axis_width, diameter_of_girth,
};

use crate::bays::{TAPE, TUBE};
use crate::rows::{Answer, Row};

/// A net as the rows write it: `0-4:812.3 h4:310.2`.
fn net(row: &Row) -> Net {
    let sigma = |half: f64| half / 3.0_f64.sqrt();
    let measured = row
        .text("net")
        .split_whitespace()
        .map(|word| {
            let (what, value) = word.split_once(':').expect("a colon before the value");
            let value = value.parse().expect("a number");
            let point = |text: &str| text.parse().expect("a point");
            match what.strip_prefix('h') {
                Some(at) => Measure {
                    what: What::Height { at: point(at) },
                    value,
                    sigma: sigma(TUBE),
                },
                None => {
                    let (from, to) = what.split_once('-').expect("two points");
                    Measure {
                        what: What::Distance {
                            from: point(from),
                            to: point(to),
                        },
                        value,
                        sigma: sigma(TAPE),
                    }
                }
            }
        })
        .collect();
    Net {
        points: row.number("points"),
        pins: 4,
        measured,
        sides: vec![Side {
            point: 3,
            says: Says::Left([0, 1]),
        }],
    }
}

pub(crate) fn answer(row: &Row) -> Option<Answer> {
    let coordinate = |axis: usize| {
        let point: usize = row.number("point");
        Some(adjust(&net(row)).places[point]?[axis])
    };
    let deviation = |axis: usize| {
        let point: usize = row.number("point");
        Some(adjust(&net(row)).covariance(point, point)[axis][axis].sqrt())
    };
    Some(Answer::Number(match row.function.as_str() {
        "adjusted_along" => coordinate(0)?,
        "adjusted_left" => coordinate(1)?,
        "adjusted_up" => coordinate(2)?,
        "adjusted_sigma_along" => deviation(0)?,
        "adjusted_sigma_left" => deviation(1)?,
        "adjusted_sigma_up" => deviation(2)?,
        "adjusted_squares" => adjust(&net(row)).squares,
        "left_out_squares" => {
            let measure: usize = row.number("measure");
            adjust(&net(row)).tests[measure].as_ref()?.squares
        }
        "axis_sigma" => {
            let points: usize = row.number("points");
            adjust(&net(row)).axis(points - 2, points - 1)?.1
        }
        "axis_width" => axis_width(row.number("off"), row.number("apart")),
        "girth_diameter" => diameter_of_girth(row.number("girth"), row.number("u")).0,
        "girth_diameter_u" => diameter_of_girth(row.number("girth"), row.number("u")).1,
        _ => return None,
    }))
}
