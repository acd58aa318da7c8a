//! A closed circuit in a steady state: flows, total pressures, temperatures and the lift of the thermostat,
//! all found together.
//!
//! A [`Network`] has nodes and branches; a branch has parts in the order of flow. All numbers are SI, with
//! temperatures in °C and pressures over the atmosphere. A node's pressure is the total one: static and the
//! velocity head. The columns of water stand on one density, so that heights cancel round every ring.
//!
//! [`solve`] looks at the graph first and says in words what has no answer; then Newton's method runs on all
//! unknowns at once, with the exact derivatives that the parts carry along.

mod cooler;
pub mod liquids;
mod lu;
mod medium;
mod newton;
mod part;
mod reach;
mod tee;
mod told;
mod walk;

pub use cooler::{Cooler, Film, Geometry, Gives, Outside, Rated, Raw, Report, Surface, Tubes, Ua};
pub use lu::Kept;
pub use medium::{Medium, Props};
pub use part::{Curve, Law, Lift, Part, Pipe, Pump, Role, Stat, Taken};
pub use reach::{Reach, reach};
pub use tee::Tee;

use reference::Unknown;

/// Acceleration of fall [m/s²]. Source: ISO 80000-3.
pub const GRAVITY: f64 = reference::pump::STANDARD_GRAVITY;

/// Where branches meet.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Node {
    /// Height [m].
    pub height: f64,
    /// Total pressure over the atmosphere that is kept there [Pa].
    pub fixed: Option<f64>,
    /// Volume that is let in there [m³/s]; below zero it is taken out. Only without heat.
    pub inflow: f64,
}

/// A way from one node to another.
#[derive(Clone, Debug, PartialEq)]
pub struct Branch {
    /// The node at which it begins.
    pub from: usize,
    /// The node at which it ends.
    pub to: usize,
    /// Whether water can run in it.
    pub open: bool,
    /// What lies in it, in the order of flow.
    pub parts: Vec<Part>,
}

/// A circuit.
#[derive(Clone, Debug, PartialEq)]
pub struct Network {
    /// What runs in it.
    pub medium: std::sync::Arc<Medium>,
    /// How friction goes through the transition.
    pub law: Law,
    /// Where branches meet.
    pub nodes: Vec<Node>,
    /// The ways between.
    pub branches: Vec<Branch>,
    /// Tees, whose losses go by how the flow is shared.
    pub tees: Vec<Tee>,
    /// The thermostat's element.
    pub stat: Option<Stat>,
    /// Density of the standing columns [kg/m³].
    pub column: f64,
    /// The one temperature of a circuit without heat [°C].
    pub isothermal: Option<f64>,
}

/// What runs in one branch.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Run {
    /// Flow from its first node to its last [kg/s].
    pub flow: f64,
    /// Temperature where the water comes in [°C].
    pub t_in: f64,
    /// Temperature where it goes out [°C].
    pub t_out: f64,
    /// Loss of total pressure from first node to last, gains of pumps taken off [Pa].
    pub loss: f64,
}

/// A steady state.
#[derive(Clone, Debug, PartialEq)]
pub struct State {
    /// Total pressure over the atmosphere at each node [Pa]; `None` where nothing ties it to a fixed one.
    pub pressures: Vec<Option<f64>>,
    /// Temperature of each node [°C].
    pub temperatures: Vec<f64>,
    /// What runs in each branch.
    pub runs: Vec<Run>,
    /// Lift of the thermostat, 0 shut to 1 open; 1 without one.
    pub lift: f64,
    /// Steps of Newton's method.
    pub steps: u32,
    /// What is left of the balances: mass over the greatest flow, and heat over the greatest.
    pub closure: [f64; 2],
}

/// What came of it.
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// A steady state.
    Solved(Box<State>),
    /// Heat comes in and none goes out, or nothing carries it to where it could.
    NoSteadyState(String),
    /// The question has no answer, and why.
    Unsolvable(String),
    /// The water would have to stand at this temperature [°C], over all at which its properties are known.
    TooHot(f64),
    /// A formula was asked for what nobody published.
    Unmeasured(Unknown),
}

/// Solves a network, from the state of a like one where that is given.
pub fn solve(network: &Network, start: Option<&State>) -> Outcome {
    solve_to(network, start, 0.0, &mut Kept::default())
}

/// As [`solve`], and from the state of a like one only as far as that what is left of the balances is a share
/// `enough` of the greatest of each: for a search that asks many times, and keeps from one question to the next
/// what they share.
pub fn solve_to(network: &Network, start: Option<&State>, enough: f64, kept: &mut Kept) -> Outcome {
    let reach = match reach(network) {
        Ok(reach) => reach,
        Err(none) => return none,
    };
    newton::solve(network, &reach, start, enough, kept)
}

/// Tells of every cooler in a state: which branch, which part of it, and what it does.
pub fn coolers(network: &Network, state: &State) -> Result<Vec<(usize, usize, Report)>, Unknown> {
    told::coolers(network, state)
}

/// Total pressure before and after each part of a branch, in the order of its parts [Pa], without the
/// columns of water: what each part takes, pumps below zero; and the temperature between the parts [°C].
pub fn along(network: &Network, state: &State, branch: usize) -> Result<Vec<[f64; 3]>, Unknown> {
    told::along(network, state, branch)
}
