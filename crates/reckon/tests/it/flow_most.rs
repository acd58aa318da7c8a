//! What a circuit can do at most, held against the same circuit asked straight out.

use reckon::stages::flow::{Came, Figures, FlowRow};

use crate::boats::{edited, read};

const DUNLIN: &str = include_str!("../../../../boats/dunlin/boat.toml");

/// Dunlin on her fallback, flat out with a power [kW] in a sea [°C].
fn flat_out(power: f64, sea: f64) -> FlowRow {
    let state = format!(
        "{{ rpm = \"2600 rpm\", speed = \"7.6 kn\", sea = \"summer\", power = \"{power:.3} kW\" }}"
    );
    let summer = format!("\"{sea} °C\"");
    let changes = [
        ("states.flat-out", state.as_str()),
        ("boat.sea.summer", summer.as_str()),
    ];
    let boat = read(&edited(DUNLIN, &changes));
    let flow = reckon::flow(&boat, Some("fallback"));
    flow.expect("it has the arrangement").row
}

fn moving(row: &FlowRow) -> &Figures {
    let own = row.states.iter().find(|own| own.key == "flat-out");
    match &own.expect("it has the state").came {
        Came::Steady(figures) => figures,
        other => panic!("{other:?}"),
    }
}

/// More heat never leaves cooler: the greatest heat of each power is a solution of its own, and a search that
/// begins from a like state must not come to another.
#[test]
fn the_outlet_rises_with_the_power() {
    let mut before = 0.0;
    for step in 0..12 {
        let power = 12.9 + 0.1 * f64::from(step);
        let out = moving(&flat_out(power, 25.0)).out;
        assert!(out.high > before, "{power} kW: {out:?} after {before}");
        assert!(
            out.high - before < 2.0 || before == 0.0,
            "{power} kW: {out:?} after {before}"
        );
        before = out.high;
    }
}

/// The greatest power is one at which even the greatest heat stays under the limit, and hardly more does not.
#[test]
fn the_greatest_power_holds_with_the_greatest_heat() {
    let row = flat_out(10.0, 25.0);
    let most = row.most.iter().find(|own| own.key == "flat-out");
    let most = most.expect("she is asked for her greatest power");
    for (sea, power) in &most.power {
        let power = power.expect("there is one") / 1000.0;
        let out = |share: f64| moving(&flat_out(share * power, *sea)).out.high;
        let limit = most.limit.0;
        assert!(
            (out(1.0) - limit).abs() < 0.5,
            "{sea} °C, {power} kW: {}",
            out(1.0)
        );
        assert!(out(1.03) > limit, "{sea} °C, {power} kW: {}", out(1.03));
    }
}
