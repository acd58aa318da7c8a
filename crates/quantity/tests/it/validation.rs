//! What owners type, against the same in SI by another library.

use std::path::Path;

use quantity::{
    Angle, Area, Current, GaugePressure, Length, Mass, Power, Quantity, Ratio, RotationalSpeed,
    Speed, Temperature, TemperatureDifference, Time, Torque, Voltage, Volume, VolumeFlow, parse,
};

#[path = "../../../reference/tests/it/rows.rs"]
mod rows;

use rows::{Answer, Row};

fn si<Q: Quantity>(row: &Row) -> Answer {
    match parse::<Q>(row.text("text"), None) {
        Ok(quantity) => Answer::Number(quantity.si()),
        Err(error) => Answer::Text(error.message),
    }
}

fn answer(row: &Row) -> Option<Answer> {
    Some(match row.function.as_str() {
        "parse_length" => si::<Length>(row),
        "parse_area" => si::<Area>(row),
        "parse_volume" => si::<Volume>(row),
        "parse_mass" => si::<Mass>(row),
        "parse_time" => si::<Time>(row),
        "parse_temperature" => si::<Temperature>(row),
        "parse_temperature_difference" => si::<TemperatureDifference>(row),
        "parse_gauge_pressure" => si::<GaugePressure>(row),
        "parse_power" => si::<Power>(row),
        "parse_flow" => si::<VolumeFlow>(row),
        "parse_rotation" => si::<RotationalSpeed>(row),
        "parse_speed" => si::<Speed>(row),
        "parse_torque" => si::<Torque>(row),
        "parse_angle" => si::<Angle>(row),
        "parse_ratio" => si::<Ratio>(row),
        "parse_current" => si::<Current>(row),
        "parse_voltage" => si::<Voltage>(row),
        _ => return None,
    })
}

#[test]
fn every_row_agrees() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("validation");
    let count = rows::walk(&folder, answer).unwrap_or_else(|wrong| panic!("{wrong}"));
    assert!(count.counted >= 40, "too few rows count: {count:?}");
}
