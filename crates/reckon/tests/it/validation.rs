//! Every validation row, asked of the function that it names.

use std::f64::consts::PI;
use std::path::Path;

use quantity::{AbsolutePressure, Length, Quantity};
use reckon::solve::chance::{Spread, chance_within};
use reckon::solve::fitted::{self, Fit, FitSpread};
use reckon::solve::sample::{self, Draws};
use reference::clip::ear_closed_diameter;
use reference::media::{self, Glycol, Strength, VolumeFraction};
use reference::water;

use crate::rows::{self, Answer, Row};
use crate::{mix_rows, net_rows, shop_rows, tape_rows, thread_rows};

fn fit(row: &Row) -> Fit {
    Fit {
        bore: row.number("d_i"),
        over: row.number("d_o"),
        spigot: row.number("d_s"),
    }
}

fn spreads(row: &Row) -> FitSpread {
    let fit = fit(row);
    let about = |middle: f64, half: &str| {
        let half: f64 = row.number(half);
        Spread {
            low: middle - half,
            high: middle + half,
        }
    };
    FitSpread {
        bore: about(fit.bore, "a_i"),
        over: about(fit.over, "a_o"),
        spigot: about(fit.spigot, "a_s"),
    }
}

/// Standard deviation of the diameter without slip, by draws: what the rows from integration give.
fn drawn_deviation(of: &FitSpread) -> f64 {
    let draws = Draws::of(&[of.bore, of.over, of.spigot], 8192, 1);
    sample::deviation(&draws.map(|x| {
        let (bore, over, spigot) = (x[0], x[1], x[2]);
        Fit { bore, over, spigot }.no_slip()
    }))
}

/// Smallest inside diameter of a ring whose ear is closed wholly.
fn closed_wholly(row: &Row) -> f64 {
    row.number::<f64>("open") - row.number::<f64>("ear") / PI
}

fn answer(row: &Row) -> Option<Answer> {
    Some(Answer::Number(match row.function.as_str() {
        "stretch" => fitted::stretch(row.number("d_i"), row.number("d_s")),
        "fitted_diameter_no_slip" => fit(row).no_slip(),
        "fitted_diameter_free" => fit(row).free(),
        "fitted_diameter_wall_kept" => fit(row).wall_kept(),
        "fitted_diameter_no_slip_u" => spreads(row).uncertainty_no_slip(),
        "fitted_diameter_no_slip_spread" => drawn_deviation(&spreads(row)),
        "fitted_diameter_least" => spreads(row).worst().0,
        "fitted_diameter_most" => spreads(row).worst().1,
        "slope_bore" => fit(row).slopes_no_slip()[0],
        "slope_over" => fit(row).slopes_no_slip()[1],
        "slope_spigot" => fit(row).slopes_no_slip()[2],
        "ear_closing_share" => fitted::closing_share(
            row.number("open"),
            closed_wholly(row),
            row.number("working"),
        ),
        "ear_closed_diameter" => {
            let mm = |input| Length::mm(row.number(input));
            ear_closed_diameter(mm("open"), mm("ear"), mm("ear_left")).to_mm()
        }
        "boils_at" => water::boiling_temperature(AbsolutePressure::pa(row.number("p_pa")))
            .ok()?
            .si(),
        "mix_boils_at" => {
            let glycol = match row.text("glycol") {
                "ethylene" => Glycol::Ethylene,
                "propylene" => Glycol::Propylene,
                _ => return None,
            };
            let share = VolumeFraction::of(row.number("share"))?;
            let under = AbsolutePressure::pa(row.number("p_pa"));
            media::boils_at(glycol, share, under).ok()?.value.si()
        }
        "chance_within" => chance_within(
            row.number("mean"),
            row.number("u"),
            row.number("low"),
            row.number("high"),
        ),
        _ => match mix_rows::answer(row) {
            Some(number) => number,
            None => {
                return shop_rows::answer(row)
                    .or_else(|| thread_rows::answer(row))
                    .or_else(|| tape_rows::answer(row))
                    .or_else(|| net_rows::answer(row));
            }
        },
    }))
}

#[test]
fn every_row_agrees() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("validation");
    let count = rows::walk(&folder, answer).unwrap_or_else(|wrong| panic!("{wrong}"));
    assert!(count.counted >= 60, "too few rows count: {count:?}");
    assert!(5 * count.limits <= count.counted, "{count:?}");
}

#[test]
fn a_wrong_number_is_found() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("validation");
    let wrong =
        rows::walk(&folder, |_| Some(Answer::Number(1e6))).expect_err("no answer is a million");
    assert!(wrong.contains("fitted_diameter_free gives 1000000"));
}
