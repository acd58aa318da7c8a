//! The network solver alone: a boat's circuit with heat, and a looped grid of five hundred ways with and
//! without, each from nothing and from a state like it.

use quantity::Length;
use reckon::solve::net::{
    Branch, Cooler, Curve, Gives, Law, Lift, Network, Node, Outcome, Part, Pipe, Pump, Role, Stat,
    State, liquids, solve,
};
use reference::media::{Glycol, Strength, VolumeFraction};
use reference::pump::Quadratic;

fn main() {
    divan::main();
}

fn pipe(bore: f64, length: f64) -> Part {
    Part::Pipe(Pipe {
        bore,
        length,
        roughness: 1e-4,
        k: 1.0,
        count: 1.0,
        factor: None,
        times: 1.0,
    })
}

fn pump() -> Part {
    Part::Pump(Pump {
        curve: Curve::Quadratic(Quadratic {
            shut_off: Length::of_si(9.0),
            linear: 0.0,
            square: -1e6,
        }),
        ratio: 1.0,
    })
}

fn heated(heat: f64) -> Part {
    Part::Rated {
        drop: 12_000.0,
        flow: 1e-3,
        power: 2.0,
        density: 1000.0,
        heat,
    }
}

fn sink(ua: f64) -> Part {
    Part::Cooler(Box::new(Cooler {
        gives: Gives::Sink {
            ua,
            temperature: 15.0,
        },
        rated: None,
    }))
}

fn way(role: Role) -> Part {
    Part::Lift(Lift {
        role,
        bore: 0.032,
        open: 6.0,
        leak: 0.01,
    })
}

fn branch(from: usize, to: usize, parts: Vec<Part>) -> Branch {
    Branch {
        from,
        to,
        open: true,
        parts,
    }
}

fn network(nodes: usize, branches: Vec<Branch>) -> Network {
    let share = VolumeFraction::of(0.5).expect("a fraction");
    let medium =
        liquids::mix(Glycol::Ethylene, share.to_mass(Glycol::Ethylene)).expect("a published mix");
    let mut nodes = vec![Node::default(); nodes];
    nodes[0].fixed = Some(30_000.0);
    Network {
        column: medium.density(80.0),
        medium: medium.into(),
        law: Law::Smooth,
        nodes,
        branches,
        tees: Vec::new(),
        stat: None,
        isothermal: None,
    }
}

/// Engine, thermostat with by-pass, cooler, header with a vent.
fn boat() -> Network {
    let mut made = network(
        5,
        vec![
            branch(1, 2, vec![pump(), heated(30_000.0)]),
            branch(2, 3, vec![way(Role::Main), pipe(0.038, 2.0)]),
            branch(3, 4, vec![pipe(0.038, 3.0), sink(900.0)]),
            branch(4, 1, vec![pipe(0.038, 2.0)]),
            branch(2, 1, vec![way(Role::Bypass)]),
            branch(0, 1, vec![pipe(0.019, 1.0)]),
            branch(2, 0, vec![pipe(0.006, 1.5)]),
        ],
    );
    made.stat = Some(Stat {
        node: 2,
        opens: 76.0,
        full: 88.0,
    });
    made
}

/// Sixteen by sixteen nodes, joined along and across, and twenty slanting ways: five hundred in all.
fn grid(heat: bool) -> Network {
    let side = 16;
    let at = |r: usize, c: usize| r * side + c;
    let mut own = Vec::new();
    let mut drawn = 7_u32;
    let mut add = |from, to| {
        drawn = drawn.wrapping_mul(1_103_515_245).wrapping_add(12_345);
        let bore = [0.02, 0.025, 0.032, 0.04][(drawn >> 16) as usize % 4];
        own.push(branch(
            from,
            to,
            vec![pipe(bore, 1.0 + f64::from(drawn >> 24) / 64.0)],
        ));
    };
    for r in 0..side {
        for c in 0..side {
            if c + 1 < side {
                add(at(r, c), at(r, c + 1));
            }
            if r + 1 < side {
                add(at(r, c), at(r + 1, c));
            }
        }
    }
    for i in 0..20 {
        let (r, c) = (i % 15, 7 * i % 15);
        add(at(r, c), at(r + 1, c + 1));
    }
    assert_eq!(own.len(), 500);
    for (k, i) in (30..500).step_by(61).enumerate() {
        own[i].parts.push(pump());
        own[i]
            .parts
            .push(heated(if heat && k % 2 == 0 { 4000.0 } else { 0.0 }));
    }
    for i in (10..500).step_by(25) {
        own[i].parts.push(sink(400.0));
    }
    let mut made = network(side * side, own);
    made.isothermal = (!heat).then_some(60.0);
    made
}

fn state(made: &Network) -> State {
    match solve(made, None) {
        Outcome::Solved(state) => *state,
        other => panic!("{other:?}"),
    }
}

/// A state like it: every flow a hundredth more, every temperature a kelvin less.
fn near(made: &Network) -> State {
    let mut near = state(made);
    near.runs.iter_mut().for_each(|run| run.flow *= 1.01);
    near.temperatures.iter_mut().for_each(|t| *t -= 1.0);
    near
}

fn cold(bencher: divan::Bencher, made: &Network) {
    state(made);
    bencher.bench_local(|| solve(divan::black_box(made), None));
}

fn warm(bencher: divan::Bencher, made: &Network) {
    let near = near(made);
    bencher.bench_local(|| solve(divan::black_box(made), Some(&near)));
}

#[divan::bench]
fn boat_cold(bencher: divan::Bencher) {
    cold(bencher, &boat());
}

#[divan::bench]
fn boat_warm(bencher: divan::Bencher) {
    warm(bencher, &boat());
}

#[divan::bench(sample_count = 20, sample_size = 1)]
fn grid_cold(bencher: divan::Bencher) {
    cold(bencher, &grid(false));
}

#[divan::bench(sample_count = 20, sample_size = 1)]
fn grid_warm(bencher: divan::Bencher) {
    warm(bencher, &grid(false));
}

#[divan::bench(sample_count = 20, sample_size = 1)]
fn heated_grid_cold(bencher: divan::Bencher) {
    cold(bencher, &grid(true));
}

#[divan::bench(sample_count = 20, sample_size = 1)]
fn heated_grid_warm(bencher: divan::Bencher) {
    warm(bencher, &grid(true));
}
