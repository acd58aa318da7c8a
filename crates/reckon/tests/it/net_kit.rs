//! Small circuits for the tests of the network solver.

use quantity::Length;
use reckon::solve::net::{
    Branch, Cooler, Curve, Film, Geometry, Gives, Law, Lift, Medium, Network, Node, Outcome,
    Outside, Part, Pipe, Pump, Role, State, Surface, liquids, solve,
};
use reference::media::{Glycol, Strength, VolumeFraction};
use reference::pump::Quadratic;

/// A liquid that is the same at every temperature, so that answers stand in closed form.
pub(crate) fn plain() -> Medium {
    Medium::constant(1000.0, 4000.0, 0.5, 1e-3).expect("all are over zero")
}

/// Half ethylene glycol by volume.
pub(crate) fn half() -> Medium {
    let share = VolumeFraction::of(0.5).expect("a fraction");
    liquids::mix(Glycol::Ethylene, share.to_mass(Glycol::Ethylene)).expect("a published mix")
}

pub(crate) fn pipe(bore: f64, length: f64) -> Part {
    Part::Pipe(Pipe {
        bore,
        length,
        roughness: 1e-4,
        k: 0.0,
        count: 1.0,
        factor: None,
        times: 1.0,
    })
}

pub(crate) fn loss(k: f64, bore: f64) -> Part {
    Part::Loss {
        ahead: k,
        back: k,
        bore,
    }
}

pub(crate) fn heated(heat: f64) -> Part {
    Part::Rated {
        drop: 8000.0,
        flow: 1e-3,
        power: 2.0,
        density: 1000.0,
        heat,
    }
}

/// A pump of this head [m] shut off, that loses `square` metres per (m³/s)².
pub(crate) fn pump(head: f64, square: f64, ratio: f64) -> Part {
    Part::Pump(Pump {
        curve: Curve::Quadratic(Quadratic {
            shut_off: Length::of_si(head),
            linear: 0.0,
            square: -square,
        }),
        ratio,
    })
}

pub(crate) fn lift(role: Role, leak: f64) -> Part {
    Part::Lift(Lift {
        role,
        bore: 0.03,
        open: 5.0,
        leak,
    })
}

pub(crate) fn sink(ua: f64, temperature: f64) -> Part {
    cooler(Gives::Sink { ua, temperature })
}

pub(crate) fn cooler(gives: Gives) -> Part {
    Part::Cooler(Box::new(Cooler {
        gives,
        rated: Some((6000.0, 1e-3)),
    }))
}

/// Pipes along the keel, or a flat tank on the skin: sizes of our own.
pub(crate) fn surface(geometry: Geometry, film: Film, sea: f64, speed: f64) -> Surface {
    Surface {
        channel: 1.0e-3,
        diameter: 0.035,
        count: 2.0,
        length: 5.0,
        roughness: 1e-3,
        k: 3.0,
        connection: Some(0.038),
        film,
        inside: 1.1,
        outside: 1.2,
        wall: 2e-5,
        dirt_in: 9e-5,
        dirt_out: 1.8e-4,
        sea: Outside {
            medium: liquids::sea(0.035).expect("sea water is published").into(),
            temperature: sea,
            speed,
            length: 5.0,
            aft: 2.0,
            still: 0.06,
            geometry,
        },
    }
}

pub(crate) fn branch(from: usize, to: usize, parts: Vec<Part>) -> Branch {
    Branch {
        from,
        to,
        open: true,
        parts,
    }
}

/// A circuit of so many nodes at one height, the first of which is kept at half a bar.
pub(crate) fn network(medium: Medium, nodes: usize, branches: Vec<Branch>) -> Network {
    let mut nodes = vec![Node::default(); nodes];
    nodes[0].fixed = Some(50_000.0);
    Network {
        column: medium.density(60.0),
        medium: medium.into(),
        law: Law::Smooth,
        nodes,
        branches,
        tees: Vec::new(),
        stat: None,
        isothermal: None,
    }
}

#[track_caller]
pub(crate) fn solved(network: &Network) -> State {
    match solve(network, None) {
        Outcome::Solved(state) => *state,
        other => panic!("{other:?}"),
    }
}

#[track_caller]
pub(crate) fn close(got: f64, due: f64, tolerance: f64) {
    // Written so that a NaN fails.
    assert!(
        (got - due).abs() <= tolerance,
        "{got} for {due} ± {tolerance}"
    );
}
