//! What the validation rows of threads ask: the thread that a reading is taken for, and its sums.

use quantity::{Length, Reading, Tolerance, Unit};
use reckon::solve::thread::{
    Form, Look, Looks, Wears, misfit, shares, slope_deviation, told_apart, zone_density,
};
use reckon::{Identified, QuickThread, quick_thread};
use reference::thread::ThreadSex;

use crate::rows::{Answer, Row};

fn tenth(length: Length) -> Reading<Length> {
    Reading {
        tolerance: Tolerance::PlusMinus(Length::mm(0.1)),
        ..Reading::plain(length, Unit::mm())
    }
}

fn identified(row: &Row) -> Identified {
    let pitch = match row.inputs.get("per_inch") {
        Some(_) => Length::inches(1.0 / row.number::<f64>("per_inch")),
        None => Length::mm(row.number("pitch")),
    };
    let taper = row.inputs.get("taper").map(|_| {
        let along = Length::mm(8.0);
        let change = along * row.number::<f64>("taper");
        (
            Reading::plain(change, Unit::mm()),
            Reading::plain(along, Unit::mm()),
        )
    });
    quick_thread(&QuickThread {
        sex: match row.text("sex") {
            "male" => ThreadSex::Male,
            _ => ThreadSex::Female,
        },
        diameter: tenth(Length::mm(row.number("diameter"))),
        pitch: Some((tenth(pitch * 10.0), 10.0)),
        taper,
    })
}

fn look(row: &Row, value: &str, deviation: &str) -> Look {
    Look {
        value: row.number(value),
        deviation: row.number(deviation),
    }
}

pub(crate) fn answer(row: &Row) -> Option<Answer> {
    Some(match row.function.as_str() {
        "thread_named" => Answer::Text(identified(row).rows.first()?.thread.clone()),
        "thread_stands" => {
            let named = row.text("thread");
            let rows = identified(row).rows;
            let stands = rows.iter().any(|row| row.thread == named);
            Answer::Text(if stands { "yes" } else { "no" }.into())
        }
        "zone_density" => {
            let u: f64 = row.number("u");
            let (low, high) = (row.number("low"), row.number("high"));
            Answer::Number(zone_density(row.number("read"), (low, u), (high, u)))
        }
        "thread_misfit" => {
            let form = Form {
                low: row.number("low"),
                high: row.number("high"),
                pitch: row.number("own_pitch"),
                taper: 0.0,
            };
            let looks = Looks {
                diameter: look(row, "read", "u"),
                wears: Wears::Small,
                pitch: Some(look(row, "pitch", "u_pitch")),
                taper: None,
            };
            Answer::Number(misfit(&form, &looks).total())
        }
        "slope_deviation" => Answer::Number(slope_deviation(
            look(row, "change", "u_change"),
            look(row, "length", "u_length"),
        )),
        "told_apart" => Answer::Number(told_apart(row.number("deviations"))),
        "thread_share" => {
            let number = |word: &str| word.parse().expect("a likelihood");
            let all: Vec<f64> = row
                .text("likelihoods")
                .split_whitespace()
                .map(number)
                .collect();
            Answer::Number(*shares(&all).first()?)
        }
        _ => return None,
    })
}
