//! The loop pulled straight: the main circuit cut at its pump, in order of flow, with heights, pressures and
//! temperatures at every joint. It is plain data for the drawing of the waterline strip.
//!
//! A place on a way is told by [`At`]: the number of the piece and how much of it lies behind, so that `3.0` is the
//! joint between the third and the fourth piece. Distances and heights are SI numbers; what a reader sees is text.

mod bands;
mod boil;
mod filling;
mod proving;
mod spoken;
mod spots;
mod states;
mod trace;
mod way;

use boat::{Boat, Key};

use crate::facts::serves;
use crate::flow::{self, Flow};
use crate::loops;
use crate::solve::net::GRAVITY;
use crate::stages::circuit::plan::Plan;
use crate::verdict::{Grade, Stage, Words};
use crate::wire::Answer;

use self::trace::Axis;
use self::way::Maker;

pub use self::trace::usual_heel;

/// A place on a way: whole numbers are the ends of pieces, the rest is the share of a piece.
pub type At = f64;

/// What is asked beside the boat and her arrangement.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StripAsk {
    /// The state whose grade line, temperatures and leaks are wanted; `None` for that in which the pump works
    /// hardest.
    pub state: Option<Key>,
    /// Angles of heel [°], to starboard over 0, to port under.
    pub heel: Vec<f64>,
    /// Angles of trim [°], by the head over 0, by the stern under.
    pub trim: Vec<f64>,
}

/// The loop of one arrangement, pulled straight.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Strip {
    /// The arrangement; `None` for the file as it stands.
    pub arrangement: Option<Key>,
    /// Whether the water comes round to the pump.
    pub closed: bool,
    /// Why there is no strip, where there is none.
    pub why: Option<String>,
    /// The main circuit, from the pump's delivery to its suction.
    pub main: Way,
    /// What hangs on it: calorifier, heater, a raw-water side.
    pub branches: Vec<Branch>,
    /// The header tank.
    pub header: Option<StripHeader>,
    /// Vents, with the place on the main circuit from which they rise.
    pub vents: Vec<StripVent>,
    /// The chosen state first, then the others that have figures.
    pub states: Vec<StripState>,
    /// Traces of the waterline when she heels or trims, as asked.
    pub traces: Vec<Trace>,
    /// Which way it leaks at each place in the sea.
    pub leaks: Vec<Leak>,
    /// Where the alarm sounds [°C].
    pub alarm: Option<f64>,
    /// The same for people: `alarm 98 °C`.
    pub alarm_text: Words,
    /// Where the suction side begins on the main circuit; it ends with it.
    pub suction_from: Option<At>,
    /// What is shut.
    pub shut: Vec<Key>,
}

/// A row of pieces.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Way {
    /// In order of flow.
    pub pieces: Vec<StripPiece>,
    /// Joints: one column of the band table each.
    pub stations: Vec<StripStation>,
    /// All else that has a sign of its own.
    pub signs: Vec<StripSign>,
    /// Each run with its reach.
    pub runs: Vec<RunReach>,
    /// Rows of the band table: a cell a station.
    pub bands: Vec<Band>,
    /// Distance of each end of a piece from the beginning [m]: one more than there are pieces.
    pub along: Vec<f64>,
    /// Height of each end of a piece, where the file tells it [m].
    pub heights: Vec<Option<f64>>,
    /// Whether any height is told.
    pub measured: bool,
}

/// What a piece is, as far as the drawing goes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum PieceForm {
    /// A hose or a moulded bend.
    #[default]
    Hose,
    /// Metal between hoses.
    Pipe,
    /// The way through a thing.
    Within,
    /// The way through a thing that lies outside in the water.
    Outside,
}

/// One piece of a way.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StripPiece {
    /// `hot.hose`, `keel`.
    pub key: Key,
    /// The run it belongs to; empty for a thing.
    pub run: Key,
    /// For people: `hose 38 epdm`, `keel, keel pipes`.
    pub title: String,
    /// What it is drawn as.
    pub form: PieceForm,
    /// Length of the way through it [m]; 0 where it has none, or where nobody knows it.
    pub length: f64,
    /// Whether that length is known, or so small that it counts for none.
    pub told: bool,
    /// Share of the piece and height [m], along it; empty where no height is told at all.
    pub poly: Vec<(f64, f64)>,
    /// Its place is not measured: one of its ends has no height in the file.
    pub assumed: bool,
    /// Bore [m].
    pub bore: Option<f64>,
    /// On the suction side of the pump.
    pub suction: bool,
    /// Under less than the air's pressure in the chosen state.
    pub below_air: bool,
    /// The worst grade of what is said of it.
    pub grade: Option<Grade>,
}

/// One joint.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StripStation {
    /// Its key: `hot.from`.
    pub key: Key,
    /// What is written on it: `A1`.
    pub mark: String,
    /// Where on the way.
    pub at: At,
    /// Distance from the beginning of the way [m]; a length that nobody knows counts for none in it.
    pub s: f64,
    /// Whether the length of all that lies before it is told, so that `s` is its distance.
    pub told: bool,
    /// What the lengths that are told make of its distance at least [m].
    pub least: f64,
    /// Height over today's waterline [m], where it is told.
    pub z: Option<f64>,
    /// Half the width within which it surely lies [m].
    pub z_dev: Option<f64>,
    /// Distance from the centre line, to starboard over 0 [m], where it is told. Inside a run it lies between that of
    /// its two ends.
    pub y: Option<f64>,
    /// Under the still waterline; `None` where the height is not told.
    pub wet: Option<bool>,
    /// The height at which it is drawn is taken from its neighbours.
    pub assumed: bool,
    /// The worst grade of what is said of it.
    pub grade: Option<Grade>,
    /// One sentence for a reader of screens.
    pub spoken: Words,
}

/// What a sign stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SignKind {
    /// A valve, whether it is shut, and whether it is narrower than the hose beside it.
    Valve {
        /// Shut in this arrangement.
        shut: bool,
        /// Narrower than the way beside it.
        narrow: bool,
    },
    /// Where the way passes the hull.
    Hull,
    /// A cock that lets out air.
    Bleed,
    /// A cock that lets out water.
    Drain,
    /// A high spot, and whether its air gets away.
    High,
    /// A low spot, and whether its water gets away.
    Low,
    /// A change of bore.
    Reducer,
    /// A tee.
    Tee,
    /// The thermostat.
    Thermostat,
}

/// Something with a sign on the way.
#[derive(Clone, Debug, PartialEq)]
pub struct StripSign {
    /// Its key in the file.
    pub key: Key,
    /// What it is.
    pub kind: SignKind,
    /// Where on the way.
    pub at: At,
    /// Its own height, where that is told [m]; else it sits on the line.
    pub z: Option<f64>,
    /// The few words beside it, empty for none: `no bleed`.
    pub says: Words,
    /// How it is judged, where it is.
    pub grade: Option<Grade>,
}

/// A run on a way.
#[derive(Clone, Debug, PartialEq)]
pub struct RunReach {
    /// Its key, which is the owner's name of it.
    pub key: Key,
    /// What is written on it.
    pub mark: String,
    /// From where.
    pub from: At,
    /// To where.
    pub to: At,
}

/// One row of the band table.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// The chapter that shows it.
    pub chapter: Stage,
    /// What it tells, with the unit: `height, mm`.
    pub title: Words,
    /// A cell a station, in their order.
    pub cells: Vec<Words>,
    /// The row tells distances: a piece that is drawn longer than true is marked in it.
    pub distance: bool,
    /// Whence its figures come, where the title does not tell; empty for none.
    pub from: Words,
}

impl Default for Band {
    fn default() -> Self {
        Self {
            chapter: Stage::Survey,
            title: Words::default(),
            cells: Vec::new(),
            distance: false,
            from: Words::default(),
        }
    }
}

/// A way beside the main circuit.
#[derive(Clone, Debug, PartialEq)]
pub struct Branch {
    /// The first of its runs.
    pub key: Key,
    /// The letters of its runs, and the thing that it leads to: `F G calorifier`.
    pub title: String,
    /// What it carries, where that is not coolant: `raw water`.
    pub carries: &'static str,
    /// Where it leaves the main circuit, where it does.
    pub from: Option<At>,
    /// Where it comes back.
    pub to: Option<At>,
    /// Its own pieces and joints.
    pub way: Way,
}

/// The header tank.
#[derive(Clone, Debug, PartialEq)]
pub struct StripHeader {
    /// Its key.
    pub key: Key,
    /// For people.
    pub title: String,
    /// Where its water comes into the main circuit.
    pub joins: Option<At>,
    /// Lowest spigot, where the make-up line begins [m].
    pub foot: Option<f64>,
    /// The seat of its cap [m].
    pub cap: Option<f64>,
    /// The mark to which it is filled cold [m].
    pub level: Option<f64>,
    /// The same heights for people: cap and level.
    pub texts: [Words; 2],
    /// It is part of the thing on the main circuit.
    pub inside: bool,
}

/// A vent.
#[derive(Clone, Debug, PartialEq)]
pub struct StripVent {
    /// Its run.
    pub key: Key,
    /// From where on the main circuit it rises.
    pub from: At,
    /// How high its lower end is [m].
    pub z: Option<f64>,
    /// To what it leads.
    pub to: Key,
}

/// The figures of a state along the main circuit, at each end of a piece.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StripState {
    /// Its name in the file.
    pub key: Key,
    /// The height to which the coolant would stand in a tube there, the cap holding nothing [m].
    pub line: Vec<Option<f64>>,
    /// The same with what the speed gives: it only falls, from the pump on [m].
    pub total: Vec<Option<f64>>,
    /// How much higher with the cap at its setting [m].
    pub cap: Option<f64>,
    /// The same as a pressure, for people.
    pub cap_text: Words,
    /// What a metre of coolant presses [Pa/m].
    pub weight: f64,
    /// What the pump gives [m of coolant].
    pub pump: f64,
    /// The same for people.
    pub pump_text: Words,
    /// Temperature of the coolant [°C].
    pub temperature: Vec<Option<f64>>,
    /// Where it boils, the cap holding nothing [°C].
    pub boils: Vec<Option<f64>>,
    /// The same at both ends for people: out of the pump, and hottest.
    pub warm: [Words; 2],
    /// What the coolant is too warm for, in words: `121 °C: over the alarm; boils with the cap open`. Empty where it
    /// is neither.
    pub too_hot: Words,
    /// Temperature of the sea [°C].
    pub sea: f64,
    /// The same for people: `sea 20 °C`.
    pub sea_text: Words,
    /// How far the pump's inlet is from boiling, as the flow has it [m of coolant].
    pub over_boiling: Option<f64>,
    /// Place on the suction side and the height to which the line might sink before the coolant boils there, the cap
    /// holding nothing [m]; only where the height of the way is told.
    pub boil: Vec<(At, f64)>,
    /// Where on the suction side the line comes nearest to that, and how far over it it is [m of coolant].
    pub margin: Option<(At, f64)>,
    /// The same for people: `suction side boils 7.9 m, 77 kPa, under the grade line`. Empty without a
    /// suction side.
    pub margin_text: Words,
}

/// What a trace shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TraceKind {
    /// Heeled to starboard.
    Starboard,
    /// Heeled to port.
    Port,
    /// Trimmed.
    Trim,
}

/// The trace of the tilted sea along the main circuit.
#[derive(Clone, Debug, PartialEq)]
pub struct Trace {
    /// Which.
    pub kind: TraceKind,
    /// The angle [°].
    pub degrees: f64,
    /// Its name: `10° to port`.
    pub name: String,
    /// Place and height [m], in order of flow; a new stretch wherever a place between is unmeasured.
    pub lines: Vec<Vec<(At, f64)>>,
    /// What the file does not tell, where anything is unmeasured: `7° to port unmeasured: aside of B2 and B3.`
    pub missing: Option<String>,
    /// Joints that are dry when she floats upright and wet so, on the main circuit and then on branches.
    pub under: Vec<Key>,
    /// Of how many joints that can't be told.
    pub untold: usize,
    /// The count in words: `4 joints go under at 10° to port.` Empty where it can be told of none.
    pub says: String,
    /// The planes of the header tank, tilted as the sea; `None` where no height of it is told.
    pub header: Option<HeaderTrace>,
}

/// How high the level in the header tank and the seat of its cap stand, seen along the main circuit, when she heels or
/// trims: level planes through the tank's own place, so that the way lies over them or under.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct HeaderTrace {
    /// Of the cap's seat: place and height [m], in stretches as for the sea.
    pub cap: Vec<Vec<(At, f64)>>,
    /// Of the cold mark, likewise.
    pub level: Vec<Vec<(At, f64)>>,
    /// What the file does not tell, where there is no trace: `aside of header`.
    pub missing: Option<String>,
}

/// Which way it leaks at a place in the sea.
#[derive(Clone, Debug, PartialEq)]
pub struct Leak {
    /// The hull fitting, the cooler outside, or the joint under the waterline.
    pub key: Key,
    /// Where on the main circuit.
    pub at: At,
    /// Inside less outside when stopped, the cap holding nothing [Pa]. Outside of a joint is the air of the bilge.
    pub stopped: f64,
    /// In words: `coolant out`.
    pub stopped_text: String,
    /// The same in the chosen state.
    pub running: Option<(f64, String)>,
}

/// The loop of an arrangement pulled straight; `None` for the file as it stands. `None` comes back where the file
/// has no such arrangement. The answer and the flow are those of the same arrangement.
pub fn strip(
    boat: &Boat,
    arrangement: Option<&str>,
    ask: &StripAsk,
    answer: &Answer,
    flow: Option<&Flow>,
) -> Option<Strip> {
    let arranged = boat.arranged(arrangement)?;
    let facts = loops::facts(boat, &arranged, arrangement);
    let plan = Plan::of(&facts);
    let mut out = Strip {
        arrangement: arrangement.map(str::to_owned),
        closed: plan.pumps.iter().any(|pump| plan.comes_round(*pump)),
        shut: facts.shut.to_vec(),
        alarm: serves(&arranged)
            .alarm
            .ok()
            .map(|alarm| alarm.measured.value.to_celsius()),
        ..Strip::default()
    };
    if let Some(alarm) = out.alarm {
        let says = states::degrees(alarm);
        out.alarm_text = Words::of(|system| format!("alarm {}", says.in_units(system)));
    }
    let maker = Maker::of(&plan, answer);
    out.main = maker.main();
    if out.main.pieces.is_empty() {
        out.why = Some(if facts.runs.is_empty() {
            "No runs yet: write a run with its two ends.".to_owned()
        } else {
            "No closed way leads from a pump back to it.".to_owned()
        });
        return Some(out);
    }
    let first = out.main.pieces.iter().rposition(|piece| !piece.suction);
    // OK because a way has far fewer pieces than a float counts exactly.
    let behind = first.map_or(0.0, |at| (at + 1) as At);
    out.suction_from = (behind < out.main.pieces.len() as At).then_some(behind);
    out.branches = maker.branches(&out.main);
    out.header = maker.header(&out.main);
    out.vents = maker.vents(&out.main);
    spots::mark(&plan, answer, &mut out.main);
    for branch in &mut out.branches {
        spots::mark(&plan, answer, &mut branch.way);
    }
    if let Some(flow) = flow {
        states::fill(&mut out, &arranged, ask, &flow.row);
        if let Some(vapour) = flow::vapour(&arranged) {
            boil::mark(&mut out, vapour);
        }
    }
    let branches = out.branches.iter_mut().map(|branch| &mut branch.way);
    for way in std::iter::once(&mut out.main).chain(branches) {
        let places = trace::places(&plan, way, Axis::Aside);
        for station in &mut way.stations {
            // OK because a joint stands at the end of a piece.
            station.y = places[station.at as usize];
        }
    }
    out.traces = trace::traces(&plan, &out, ask);
    let rows = bands::Rows {
        plan: &plan,
        answer,
        figures: flow.and_then(|flow| states::chosen(&flow.row, ask)),
        state: out.states.first(),
        volume: flow.and_then(|flow| flow.row.volume.as_ref()),
        cap: serves(&arranged).cap,
        header: out.header.as_ref(),
        weight: flow::column(&arranged).map(|density| density * GRAVITY),
    };
    let wet = |carries: &str| carries.is_empty();
    out.main.bands = rows.of(&out.main, true, true);
    for branch in &mut out.branches {
        branch.way.bands = rows.of(&branch.way, false, wet(branch.carries));
    }
    Some(out)
}
