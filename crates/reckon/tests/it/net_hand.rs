//! Circuits whose answer stands in closed form.

use std::f64::consts::PI;

use reckon::solve::net::{Medium, Network, Part, Stat};

use crate::net_kit::{branch, close, half, heated, loss, network, pipe, plain, pump, sink, solved};

const GRAVITY: f64 = 9.806_65;

/// Two nodes with a pressure each, and ways between them.
fn between(medium: Medium, drop: f64, ways: Vec<Vec<Part>>) -> Network {
    let ways = ways.into_iter().map(|parts| branch(0, 1, parts)).collect();
    let mut made = network(medium, 2, ways);
    made.nodes[1].fixed = Some(50_000.0 - drop);
    made.isothermal = Some(20.0);
    made
}

#[test]
fn laminar_pipes_share_by_the_fourth_power_of_the_bore() {
    let oil = Medium::constant(900.0, 2000.0, 0.15, 0.1).expect("all are over zero");
    let state = solved(&between(
        oil,
        3000.0,
        vec![vec![pipe(0.02, 3.0)], vec![pipe(0.03, 2.0)]],
    ));
    // Hagen and Poiseuille: m = π ρ d⁴ Δp/(128 µ l).
    for (run, (bore, length)) in state.runs.iter().zip([(0.02_f64, 3.0), (0.03, 2.0)]) {
        let due = PI * 900.0 * bore.powi(4) * 3000.0 / (128.0 * 0.1 * length);
        close(run.flow, due, 1e-9 * due);
    }
    close(
        state.runs[1].flow / state.runs[0].flow,
        1.5_f64.powi(4) * 1.5,
        1e-9,
    );
}

#[test]
fn losses_in_a_row_add() {
    let bore = 0.03_f64;
    let area = PI / 4.0 * bore * bore;
    let row = vec![loss(3.0, bore), loss(4.5, bore), loss(0.5, bore)];
    let state = solved(&between(plain(), 16_000.0, vec![row]));
    // Δp = 8 ρ v²/2: v = 2 m/s, but for the little that keeps a standing loss regular.
    close(state.runs[0].flow, 2.0 * area * 1000.0, 1e-8);
}

#[test]
fn a_pump_works_where_its_curve_meets_the_loss() {
    use quantity::Length;
    use reckon::solve::net::{Curve, Pump};
    use reference::pump::Quadratic;
    let (a, b, c) = (7.0, -400.0, -1.2e6);
    for ratio in [0.4_f64, 1.0, 1.3] {
        let own = Part::Pump(Pump {
            curve: Curve::Quadratic(Quadratic {
                shut_off: Length::of_si(a),
                linear: b,
                square: c,
            }),
            ratio,
        });
        let k = 9.0;
        let mut made = network(
            plain(),
            2,
            vec![branch(0, 1, vec![own]), branch(1, 0, vec![loss(k, 0.025)])],
        );
        made.isothermal = Some(20.0);
        let state = solved(&made);
        // n² a + n b q + c q² = k q²/(2 g A²), solved for q.
        let area = PI / 4.0 * 0.025_f64.powi(2);
        let (two, one, none) = (
            c - k / (2.0 * GRAVITY * area * area),
            ratio * b,
            ratio * ratio * a,
        );
        let q = (-one - (one * one - 4.0 * two * none).sqrt()) / (2.0 * two);
        close(state.runs[0].flow, 1000.0 * q, 1e-7 * q * 1000.0);
        close(state.runs[1].flow, 1000.0 * q, 1e-7 * q * 1000.0);
        close(
            state.runs[0].loss,
            -state.runs[1].loss,
            1e-9 * state.runs[1].loss,
        );
    }
}

/// A ring of a pump, an engine and a sink.
fn warmed(heat: f64, ua: f64) -> Network {
    network(
        plain(),
        3,
        vec![
            branch(0, 1, vec![pump(6.0, 1e6, 1.0), heated(heat)]),
            branch(1, 2, vec![pipe(0.03, 2.0), sink(ua, 18.0)]),
            branch(2, 0, vec![pipe(0.03, 1.0)]),
        ],
    )
}

#[test]
fn a_sink_cools_by_its_transfer_units() {
    for (heat, ua) in [(20_000.0, 900.0), (500.0, 3000.0), (6000.0, 150.0)] {
        let state = solved(&warmed(heat, ua));
        let m = state.runs[0].flow;
        let stream = m * 4000.0;
        let hot = 18.0 + heat / (stream * (1.0 - (-ua / stream).exp()));
        close(state.temperatures[1], hot, 1e-8 * hot);
        close(state.temperatures[2], hot - heat / stream, 1e-8 * hot);
        close(state.runs[1].t_out, state.temperatures[0], 1e-8 * hot);
    }
}

#[test]
fn streams_mix_by_their_flows() {
    // Two sinks side by side; behind them the water is of the mean that their flows give.
    let made = network(
        plain(),
        3,
        vec![
            branch(0, 1, vec![pump(6.0, 1e6, 1.0), heated(15_000.0)]),
            branch(1, 2, vec![pipe(0.02, 2.0), sink(400.0, 10.0)]),
            branch(1, 2, vec![pipe(0.03, 4.0), sink(900.0, 25.0)]),
            branch(2, 0, vec![pipe(0.03, 1.0)]),
        ],
    );
    let state = solved(&made);
    let (one, other) = (state.runs[1], state.runs[2]);
    let mean = (one.flow * one.t_out + other.flow * other.t_out) / (one.flow + other.flow);
    close(state.temperatures[2], mean, 1e-9 * mean);
    for (run, ua, sea) in [(one, 400.0, 10.0), (other, 900.0, 25.0)] {
        let out = sea + (run.t_in - sea) * (-ua / (run.flow * 4000.0_f64)).exp();
        close(run.t_out, out, 1e-8 * out);
    }
}

#[test]
fn a_thermostat_lifts_as_far_as_its_temperature_says() {
    // Main way and by-pass of one size leave the sum of both areas as it is; what goes to the sink is found
    // from the temperatures, and the lift from the element's.
    let mut made = warmed(6000.0, 2000.0);
    made.branches[1].parts.insert(
        0,
        crate::net_kit::lift(reckon::solve::net::Role::Main, 0.01),
    );
    made.branches.push(branch(
        1,
        0,
        vec![crate::net_kit::lift(reckon::solve::net::Role::Bypass, 0.01)],
    ));
    made.stat = Some(Stat {
        node: 1,
        opens: 70.0,
        full: 82.0,
    });
    let state = solved(&made);
    let hot = state.temperatures[1];
    close(state.lift, (hot - 70.0) / 12.0, 1e-12);
    assert!(state.lift > 0.0 && state.lift < 1.0, "{}", state.lift);
    let main = state.runs[1].flow;
    let stream = main * 4000.0;
    close(
        stream * (1.0 - (-2000.0 / stream).exp()) * (hot - 18.0),
        6000.0,
        1e-4,
    );
    // Each way by hand: the loss of its share of the area.
    let area = PI / 4.0 * 0.03_f64.powi(2);
    let of = |share: f64, m: f64| 5.0 / (share * share) * 0.5 / 1000.0 * (m / area).powi(2);
    let by = 1.0 - state.lift * 0.99;
    close(
        state.runs[3].loss,
        of(by, state.runs[3].flow),
        1e-3 * state.runs[3].loss,
    );
}

/// Header, make-up point at the outlet of the engine, and a keel cooler on the way to the pump that stands
/// 22 kPa under the make-up point when the pump runs at 2400 a minute.
fn low_cooler(speed: f64, raised: f64) -> Network {
    let mix = half();
    let density = mix.density(80.0);
    let bore = 0.032_f64;
    let area = PI / 4.0 * bore * bore;
    let q = 1.2e-3;
    let head = density / 2.0 * (q / area).powi(2);
    let pump_gain = density * GRAVITY * (6.0 - 1e6 * q * q);
    let mut made = network(
        mix,
        4,
        vec![
            branch(3, 1, vec![pump(6.0, 1e6, speed / 2400.0)]),
            branch(1, 2, vec![loss(22_000.0 / head, bore)]),
            branch(2, 3, vec![loss((pump_gain - 22_000.0) / head, bore)]),
            branch(0, 1, vec![pipe(0.019, 1.0)]),
        ],
    );
    made.isothermal = Some(80.0);
    made.column = density;
    // The header under a cap that does not hold; make-up point, cooler, pump.
    made.nodes[0].fixed = Some(0.0);
    for (node, height) in made.nodes.iter_mut().zip([0.8 + raised, 0.7, -0.5, 0.1]) {
        node.height = height;
    }
    made
}

#[test]
fn a_low_cooler_leaks_out_when_stopped_and_takes_in_the_sea_when_fast() {
    let outside = 1025.0 * GRAVITY * 0.5;
    let over = |speed: f64, raised: f64| {
        let state = solved(&low_cooler(speed, raised));
        state.pressures[2].expect("the header ties it") - outside
    };
    let column = half().density(80.0) * GRAVITY * 1.3;
    // 13.1 kPa of mix inside and 5.0 kPa of sea outside.
    close(column, 13_100.0, 150.0);
    close(outside, 5_026.0, 1.0);
    close(over(0.0, 0.0), column - outside, 1e-3);
    close(over(0.0, 0.0), 8_000.0, 200.0);
    close(over(2400.0, 0.0), column - outside - 22_000.0, 1.0);
    close(over(2400.0, 0.0), -14_000.0, 200.0);
    // The losses go by the square of the speed, and so does the turning point.
    let (mut low, mut high) = (600.0, 2400.0);
    while high - low > 1e-3 {
        let middle = 0.5 * (low + high);
        if over(middle, 0.0) > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    close(
        low,
        2400.0 * ((column - outside) / 22_000.0_f64).sqrt(),
        0.5,
    );
    close(low, 1470.0, 25.0);
}

#[test]
fn a_higher_header_adds_its_column_everywhere_and_moves_no_water() {
    let (low, high) = (
        solved(&low_cooler(2400.0, 0.0)),
        solved(&low_cooler(2400.0, 0.3)),
    );
    let more = half().density(80.0) * GRAVITY * 0.3;
    close(more, 3_060.0, 60.0);
    for node in 1..4 {
        let p =
            |state: &reckon::solve::net::State| state.pressures[node].expect("the header ties it");
        close(p(&high) - p(&low), more, 1e-6);
    }
    for (one, other) in low.runs.iter().zip(&high.runs) {
        close(one.flow, other.flow, 1e-10);
    }
}

#[test]
fn heights_cancel_round_a_ring() {
    let level = warmed(9000.0, 800.0);
    let mut steep = level.clone();
    for (node, height) in steep.nodes.iter_mut().zip([0.3, 1.4, -0.6]) {
        node.height = height;
    }
    let (one, other) = (solved(&level), solved(&steep));
    for (a, b) in one.runs.iter().zip(&other.runs) {
        close(a.flow, b.flow, 1e-9);
        close(a.t_out, b.t_out, 1e-7);
    }
    let column = level.column * GRAVITY;
    let p = |state: &reckon::solve::net::State| state.pressures[2].expect("it is tied");
    close(p(&other) - p(&one), column * 0.9, 1e-3);
}
