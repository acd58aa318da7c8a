//! Validation rows of whole networks.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::{LazyLock, Mutex};

use reckon::solve::net::{Medium, Network, Node, Outcome, Part, Pipe, State, solve};

use crate::build::{Made, build};
use crate::case::Case;
use crate::net_kit::{branch, network};
use crate::rows::{Answer, Row};

const INCH: f64 = 0.0254;
const FOOT: f64 = 0.3048;
/// A US gallon a minute [m³/s].
const GALLON: f64 = 3.785_411_784e-3 / 60.0;
const CUBIC_FOOT: f64 = FOOT * FOOT * FOOT;
/// Acceleration of fall [m/s²], to turn a pressure into a head. Source: ISO 80000-3.
const FALL: f64 = 9.806_65;

/// A pipe of a printed network: its ends, bore [in] and length [ft].
type Printed = (usize, usize, f64, f64);

/// Seven pipes between six nodes; what is let in at each node is in gallons a minute.
const CHAPTER_5: ([Printed; 7], [f64; 6]) = (
    [
        (0, 1, 8.0, 1106.0),
        (2, 1, 12.0, 751.0),
        (3, 2, 10.0, 1000.0),
        (0, 3, 12.0, 500.0),
        (1, 4, 10.0, 1200.0),
        (5, 4, 6.0, 600.0),
        (5, 2, 8.0, 800.0),
    ],
    [2000.0, 0.0, -1500.0, -1000.0, -1500.0, 2000.0],
);

/// Seven pipes in two rings; what is let in at each node, in cubic feet a second, is what its first guess
/// leaves there.
const CHAPTER_7: ([Printed; 7], [f64; 6]) = (
    [
        (0, 1, 12.0, 3000.0),
        (1, 2, 14.0, 2000.0),
        (3, 2, 10.0, 3000.0),
        (0, 3, 10.0, 2000.0),
        (2, 5, 14.0, 3000.0),
        (1, 4, 10.0, 2000.0),
        (4, 5, 12.0, 3000.0),
    ],
    [3.34, 3.34, -2.67, -0.67, -0.89, -2.45],
);

fn printed(name: &str) -> Network {
    let ((pipes, inflows), unit, rough) = match name {
        "chapter 5" => (CHAPTER_5, GALLON, 0.0102),
        "chapter 7" => (CHAPTER_7, CUBIC_FOOT, 0.012),
        other => panic!("no network is called {other}"),
    };
    let ways = pipes.map(|(from, to, bore, length)| {
        let pipe = Pipe {
            bore: bore * INCH,
            length: length * FOOT,
            roughness: rough / bore,
            k: 0.0,
            count: 1.0,
            factor: None,
            times: 1.0,
        };
        branch(from, to, vec![Part::Pipe(pipe)])
    });
    // Of the liquid only the kinematic viscosity counts for the flows, and it is printed.
    let viscosity = 1000.0 * 1.217e-5 * FOOT * FOOT;
    let medium = Medium::constant(1000.0, 4000.0, 0.6, viscosity).expect("all are over zero");
    let mut made = network(medium, inflows.len(), ways.to_vec());
    made.isothermal = Some(20.0);
    for (node, inflow) in made.nodes.iter_mut().zip(inflows).skip(1) {
        *node = Node {
            inflow: inflow * unit,
            ..*node
        };
    }
    made
}

/// A case of the bench, with its branches by name, and its state.
struct Solved {
    made: Made,
    branches: Vec<String>,
    state: State,
}

#[expect(
    clippy::disallowed_methods,
    reason = "the cases of the bench are files"
)]
fn case(name: &str) -> Solved {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../bench/network/cases");
    let path = folder.join(format!("{name}.json"));
    let text = std::fs::read_to_string(&path).unwrap_or_else(|why| panic!("{name}: {why}"));
    let case: Case = serde_json::from_str(&text).unwrap_or_else(|why| panic!("{name}: {why}"));
    let made = build(&case).unwrap_or_else(|why| panic!("{name}: {why}"));
    let state = match solve(&made.network, None) {
        Outcome::Solved(state) => *state,
        other => panic!("{name}: {other:?}"),
    };
    Solved {
        made,
        branches: case.branches.into_iter().map(|row| row.id).collect(),
        state,
    }
}

/// Each case is solved once for all its rows.
static CASES: LazyLock<Mutex<BTreeMap<String, &'static Solved>>> = LazyLock::new(Mutex::default);

fn solved(name: &str) -> &'static Solved {
    let mut cases = CASES
        .lock()
        .unwrap_or_else(std::sync::PoisonError::into_inner);
    cases
        .entry(name.to_owned())
        .or_insert_with(|| Box::leak(Box::new(case(name))))
}

#[track_caller]
fn place(names: &[String], name: &str) -> usize {
    let found = names.iter().position(|own| own == name);
    found.unwrap_or_else(|| panic!("nothing is called {name}"))
}

fn of_print(row: &Row) -> (f64, f64) {
    let made = printed(row.text("network"));
    let Outcome::Solved(state) = solve(&made, None) else {
        panic!("{}: not solved", row.place)
    };
    let pipe: usize = row.number("pipe");
    let run = state.runs[pipe - 1];
    (run.flow / 1000.0, run.loss / (1000.0 * FALL))
}

pub(crate) fn answer(row: &Row) -> Option<Answer> {
    let what = || (solved(row.text("case")), row.text("what"));
    Some(Answer::Number(match row.function.as_str() {
        "looped_flow" => {
            of_print(row).0
                / match row.text("unit") {
                    "gal/min" => GALLON,
                    "ft3/s" => CUBIC_FOOT,
                    _ => return None,
                }
        }
        "looped_head" => of_print(row).1,
        "network_flow" => {
            let (solved, what) = what();
            solved.state.runs[place(&solved.branches, what)].flow
        }
        "network_pressure" => {
            let (solved, what) = what();
            solved.state.pressures[place(&solved.made.nodes, what)]?
        }
        "network_temperature" => {
            let (solved, what) = what();
            solved.state.temperatures[place(&solved.made.nodes, what)]
        }
        "network_lift" => what().0.state.lift,
        _ => return None,
    }))
}
