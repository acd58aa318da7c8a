//! Circuits at the edge: what has no answer is told so, what has one is found, and nothing panics.

use reckon::solve::net::{
    Film, Geometry, Gives, Network, Outcome, Role, Stat, Tee, coolers, liquids, solve,
};

use crate::net_kit::{
    branch, close, cooler, half, heated, lift, loss, network, pipe, plain, pump, sink, solved,
    surface,
};

/// Engine with its pump, a thermostat with a by-pass, a keel cooler.
fn boat(heat: f64, ratio: f64, leak: f64) -> Network {
    let keel = cooler(Gives::Sea(surface(Geometry::Pipe, Film::Round, 15.0, 1.5)));
    let mut made = network(
        half(),
        3,
        vec![
            branch(0, 1, vec![pump(8.0, 1e6, ratio), heated(heat)]),
            branch(1, 2, vec![lift(Role::Main, leak), pipe(0.035, 2.0)]),
            branch(2, 0, vec![keel, pipe(0.035, 1.0)]),
            branch(1, 0, vec![lift(Role::Bypass, 0.02), pipe(0.02, 0.4)]),
        ],
    );
    made.stat = Some(Stat {
        node: 1,
        opens: 74.0,
        full: 86.0,
    });
    made
}

fn beyond_the_tables(outcome: Outcome) {
    match outcome {
        Outcome::TooHot(t) => assert!(t > 100.0, "{t}"),
        Outcome::Unmeasured(why) => assert!(why.why.contains("would be at"), "{}", why.why),
        other => panic!("{other:?}"),
    }
}

fn unsolvable(made: &Network, words: &str) {
    match solve(made, None) {
        Outcome::Unsolvable(why) => assert!(why.contains(words), "{why}"),
        other => panic!("{other:?}"),
    }
}

fn no_steady_state(made: &Network, words: &str) {
    match solve(made, None) {
        Outcome::NoSteadyState(why) => assert!(why.contains(words), "{why}"),
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_tight_thermostat_opens_as_far_as_the_heat_needs() {
    for heat in [1.0, 30.0, 2000.0, 30_000.0] {
        for ratio in [0.3, 0.6, 1.0] {
            let made = boat(heat, ratio, 0.0);
            let state = solved(&made);
            assert!(
                state.temperatures[1] > 74.0 || heat < 50.0,
                "{heat} W: {state:?}"
            );
            let told = coolers(&made, &state).expect("it is reckoned")[0].2.heat;
            close(told, heat, 1e-3 * heat + 0.05);
        }
    }
}

#[test]
fn a_pump_that_hardly_turns_carries_no_heat_away() {
    for ratio in [1e-3, 1e-5] {
        beyond_the_tables(solve(&boat(20_000.0, ratio, 0.01), None));
    }
    no_steady_state(&boat(20_000.0, 0.0, 0.01), "no pump moves it");
}

#[test]
fn more_heat_than_any_cooler_takes_is_told_as_too_hot() {
    beyond_the_tables(solve(&boat(3e5, 1.0, 0.01), None));
    for heat in [1e7, 1e9] {
        let outcome = solve(&boat(heat, 1.0, 0.01), None);
        let hot = matches!(outcome, Outcome::TooHot(_) | Outcome::Unmeasured(_));
        assert!(hot, "{outcome:?}");
    }
}

#[test]
fn with_all_shut_but_the_by_pass_there_is_no_steady_state() {
    let mut made = boat(20_000.0, 1.0, 0.01);
    made.branches[2].open = false;
    no_steady_state(&made, "nothing on its rings takes it away");
    made.branches[0].open = false;
    no_steady_state(&made, "shut off");
}

#[test]
fn a_warm_sea_warms_the_water() {
    // No heat but that of the sea, which a second cooler takes out again.
    let warm = cooler(Gives::Sea(surface(
        Geometry::Upright,
        Film::FlatOneWall,
        29.0,
        0.5,
    )));
    let made = network(
        half(),
        2,
        vec![
            branch(0, 1, vec![pump(6.0, 1e6, 1.0), warm]),
            branch(1, 0, vec![pipe(0.03, 3.0), sink(500.0, 8.0)]),
        ],
    );
    let state = solved(&made);
    let told = coolers(&made, &state).expect("both are reckoned");
    assert!(told[0].2.heat < -1000.0, "{told:?}");
    close(told[0].2.heat, -told[1].2.heat, 1e-5 * told[1].2.heat);
    let all = state.temperatures.iter();
    assert!(all.clone().all(|t| *t > 8.0 && *t < 29.0), "{state:?}");
}

#[test]
fn a_cooler_works_alike_both_ways() {
    let mut made = boat(20_000.0, 1.0, 0.01);
    let ahead = solved(&made);
    for b in 1..3 {
        let own = &mut made.branches[b];
        std::mem::swap(&mut own.from, &mut own.to);
        own.parts.reverse();
    }
    let back = solved(&made);
    for b in 1..3 {
        close(back.runs[b].flow, -ahead.runs[b].flow, 1e-9);
        close(back.runs[b].t_out, ahead.runs[b].t_out, 1e-7);
        close(back.runs[b].loss, -ahead.runs[b].loss, 1e-3);
    }
    close(back.lift, ahead.lift, 1e-8);
}

#[test]
fn rings_that_share_one_node_pass_no_water_to_one_another() {
    // The sink hangs on a ring of its own without a pump: a common node alone brings no water there.
    let mut made = network(
        plain(),
        3,
        vec![
            branch(0, 1, vec![pump(6.0, 1e6, 1.0), heated(5000.0)]),
            branch(1, 0, vec![pipe(0.03, 2.0)]),
            branch(1, 2, vec![pipe(0.03, 2.0)]),
            branch(2, 1, vec![sink(800.0, 18.0)]),
        ],
    );
    no_steady_state(&made, "nothing on its rings takes it away");
    // And the other way round.
    made.branches[0].parts.remove(0);
    made.branches[2].parts.push(pump(3.0, 1e6, 1.0));
    no_steady_state(&made, "no pump moves it");
    // With a pump in each the common node passes the heat.
    made.branches[0].parts.push(pump(6.0, 1e6, 1.0));
    let state = solved(&made);
    let hot = state.temperatures[1];
    let stream = state.runs[3].flow.abs() * 4000.0;
    close(
        stream * (1.0 - (-800.0 / stream).exp()) * (state.runs[3].t_in - 18.0),
        5000.0,
        1e-4,
    );
    assert!(hot > 18.0);
}

#[test]
fn water_of_which_nothing_sets_the_temperature_has_none() {
    let mut made = network(
        plain(),
        2,
        vec![
            branch(0, 1, vec![pump(6.0, 1e6, 1.0)]),
            branch(1, 0, vec![pipe(0.03, 2.0)]),
        ],
    );
    unsolvable(&made, "nothing sets the temperature");
    made.branches[1].parts.push(sink(0.0, 20.0));
    unsolvable(&made, "nothing sets the temperature");
    made.branches[0].parts.clear();
    unsolvable(&made, "no water runs");
}

#[test]
fn an_element_in_standing_water_feels_nothing() {
    let mut made = boat(20_000.0, 1.0, 0.01);
    made.nodes.push(made.nodes[1]);
    made.branches.push(branch(1, 3, vec![pipe(0.01, 1.0)]));
    made.stat = made.stat.map(|stat| Stat { node: 3, ..stat });
    unsolvable(&made, "water that stands");
    made.stat = made.stat.map(|stat| Stat { node: 99, ..stat });
    unsolvable(&made, "water that stands");
}

#[test]
fn water_from_outside_needs_a_temperature() {
    let mut made = boat(20_000.0, 1.0, 0.01);
    made.nodes[1].inflow = 1e-5;
    unsolvable(&made, "from outside");
    made.nodes[1].inflow = 0.0;
    made.nodes[2].fixed = Some(1e4);
    unsolvable(&made, "from outside");
    made.isothermal = Some(80.0);
    solved(&made);
}

#[test]
fn a_temperature_beyond_the_tables_is_not_reckoned_with() {
    let mut made = boat(0.0, 1.0, 0.01);
    for t in [-60.0, 180.0] {
        made.isothermal = Some(t);
        beyond_the_tables(solve(&made, None));
    }
    made.isothermal = Some(60.0);
    solved(&made);
}

#[test]
fn what_stands_has_the_pressure_of_its_column() {
    let mut made = boat(0.0, 0.0, 0.01);
    made.isothermal = Some(10.0);
    made.nodes[2].height = -0.7;
    let state = solved(&made);
    assert!(
        state.runs.iter().all(|run| run.flow.abs() < 1e-9),
        "{state:?}"
    );
    let column = made.column * 9.806_65 * 0.7;
    close(
        state.pressures[2].expect("it is tied"),
        50_000.0 + column,
        1e-3,
    );
}

#[test]
fn a_circuit_that_is_not_there_is_no_panic() {
    let mut made = network(plain(), 1, Vec::new());
    unsolvable(&made, "no water runs");
    made.isothermal = Some(20.0);
    assert_eq!(solved(&made).pressures, [Some(50_000.0)]);
    made.nodes.clear();
    assert!(solved(&made).pressures.is_empty());
    made.branches.push(branch(0, 1, Vec::new()));
    unsolvable(&made, "not there");
}

#[test]
fn ways_without_a_loss_do_not_stop_the_solver() {
    let mut made = network(
        plain(),
        3,
        vec![
            branch(0, 1, vec![pump(4.0, 1e6, 1.0)]),
            branch(1, 2, Vec::new()),
            branch(1, 2, Vec::new()),
            branch(2, 0, vec![loss(0.0, 0.03)]),
            branch(1, 1, vec![pipe(0.03, 1.0)]),
        ],
    );
    made.isothermal = Some(20.0);
    let state = solved(&made);
    // The pump runs where its head is nothing: q² = 4/10⁶.
    close(state.runs[0].flow, 2.0, 1e-6);
    close(state.runs[1].flow + state.runs[2].flow, 2.0, 1e-6);
    close(state.runs[4].flow, 0.0, 1e-9);
}

#[test]
fn a_start_of_another_temperature_leaves_the_one_that_is_told() {
    let mut made = boat(0.0, 1.0, 0.01);
    made.isothermal = Some(20.0);
    let cold = solved(&made);
    made.isothermal = Some(90.0);
    let hot = solved(&made);
    let Outcome::Solved(again) = solve(&made, Some(&cold)) else {
        panic!("it was solved before")
    };
    assert_eq!(again.temperatures, hot.temperatures);
    close(again.runs[0].flow, hot.runs[0].flow, 1e-9);
    assert!((cold.runs[0].flow - hot.runs[0].flow).abs() > 1e-3);
}

#[test]
fn a_start_of_another_circuit_changes_nothing() {
    let made = boat(20_000.0, 1.0, 0.01);
    let cold = solved(&made);
    let other = network(
        plain(),
        2,
        vec![
            branch(0, 1, vec![pump(6.0, 1e6, 1.0), heated(900.0)]),
            branch(1, 0, vec![sink(300.0, 10.0)]),
        ],
    );
    let far = {
        let mut far = cold.clone();
        far.runs.iter_mut().for_each(|run| run.flow *= -3.0);
        far.temperatures.fill(119.0);
        far
    };
    for start in [solved(&other), far] {
        let Outcome::Solved(state) = solve(&made, Some(&start)) else {
            panic!("it was solved before")
        };
        for (one, again) in cold.runs.iter().zip(&state.runs) {
            close(again.flow, one.flow, 1e-7);
            close(again.t_out, one.t_out, 1e-5);
        }
    }
}

#[test]
fn a_lonely_surface_too_large_for_its_law_is_unmeasured() {
    let mut own = surface(Geometry::Under, Film::FlatOneWall, 15.0, 0.0);
    own.sea.still = 5.0;
    let mut made = boat(20_000.0, 1.0, 0.01);
    made.branches[2].parts[0] = cooler(Gives::Sea(own));
    match solve(&made, None) {
        Outcome::Unmeasured(why) => assert!(why.why.contains("Rayleigh"), "{}", why.why),
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_tee_at_which_nothing_runs_takes_nothing() {
    let mut made = boat(0.0, 0.0, 0.01);
    made.isothermal = Some(10.0);
    made.tees.push(Tee {
        node: 1,
        legs: [0, 1, 3],
        bore: 0.03,
        narrow: 0.8,
    });
    let state = solved(&made);
    assert!(
        state.runs.iter().all(|run| run.flow.abs() < 1e-9),
        "{state:?}"
    );
}

#[test]
fn a_cooler_takes_only_what_its_streams_bear() {
    // However large, a sink cools to its own temperature and no further.
    let state = solved(&network(
        plain(),
        2,
        vec![
            branch(0, 1, vec![pump(6.0, 1e6, 1.0), heated(5000.0)]),
            branch(1, 0, vec![pipe(0.03, 1.0), sink(1e9, 12.0)]),
        ],
    ));
    close(state.temperatures[0], 12.0, 1e-8);
    close(
        (state.temperatures[1] - 12.0) * state.runs[0].flow * 4000.0,
        5000.0,
        1e-4,
    );
    assert!(liquids::sea(f64::NAN).is_err());
}
