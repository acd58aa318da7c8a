//! The verdicts of flow and heat, one module a family: each looks at the figures of all states, says what it finds and names the worst state.
//!
//! A family that finds nothing wrong says once that it looked; what trips seldom speaks only when it trips.

mod boiling;
mod coolers;
mod engine;
mod header;
mod heat;
mod hull;
mod most;
mod pressure;
mod raw;
mod speed;
mod stolen;
mod suction;

use boat::KeyPath;
use quantity::{
    Kind, Length, Power, Quantity, RotationalSpeed, Speed, System, Temperature,
    TemperatureDifference, Volume, VolumeFlow, show, show_range,
};

use super::row::{Duty, Figures, FlowRow, Missing, StateRow};
use crate::say::{self, in_units, kpa};
use crate::stages::types::{Known, SaltFacts, Subject};
use crate::verdict::{Grade, Number, Settles, Stage, Verdict, Words, WorkingInput};

/// A figure or a habit of the trade that nobody published to our knowledge.
const PRACTICE: &str = "common practice, no source";
/// What follows from the solved circuit alone.
const SOLVED: &str = "the circuit of the file, solved for flow and heat at once";
/// The caution of every act on the hot side.
const HOT: &str = "Hot and under pressure: open the cap only when the engine is cold.";
/// The caution of every act at the hull.
const SEA: &str = "Lets in the sea: open or renew nothing under water while she floats; that is work for ashore, under the rules that bind her.";
/// The caution of every act on the hoses of the raw water.
const RAW_WATER: &str = "Lets in the sea: shut the valve at the hull before a hose of it comes off; what is under water is work for ashore, under the rules that bind her.";
/// The caution where no raw water cools the exhaust.
const EXHAUST: &str = "Hot exhaust gas: without raw water its hose burns through within a minute and lets the gas into the boat; stop the engine first.";
/// Nought on the scale of Celsius [K]. Source: BIPM SI Brochure, 9th edition.
const ZERO: f64 = 273.15;

/// What the verdicts read beside the figures.
#[derive(Clone, Debug)]
pub struct JudgeFacts {
    /// Where the alarm sounds.
    pub alarm: Known<Temperature>,
    /// The value of the file that tells it.
    pub alarm_place: KeyPath,
    /// The cap's setting [Pa].
    pub cap: Option<f64>,
    /// The value of the file that tells it.
    pub cap_place: KeyPath,
    /// Where the thermostat begins to open [°C].
    pub opens: Option<f64>,
    /// The value of the file that tells of the thermostat.
    pub stat_place: KeyPath,
    /// The value of the file where the pressure that a hose stands would be written.
    pub rating_place: KeyPath,
    /// Warmest sea that she meets [°C].
    pub summer: Option<f64>,
    /// The value of the file that tells it.
    pub summer_place: KeyPath,
    /// Rated power of the engine [W].
    pub rated_power: Option<f64>,
    /// The value of the file that tells it.
    pub power_place: KeyPath,
    /// What she floats in.
    pub salt: SaltFacts,
}

/// Whatever is to be done about a verdict is done on a hot engine or at the hull.
fn cautious(mut said: Verdict) -> Verdict {
    let to_do = matches!(said.grade, Grade::Marginal | Grade::Unsound);
    if said.caution.is_none() && to_do {
        let at_hull = ["paint", "surface", "cooler"]
            .iter()
            .any(|word| said.remedy.metric.contains(word));
        said.caution = Some(if at_hull { SEA } else { HOT }.into());
    }
    said
}

/// Judges one arrangement.
pub fn judge(row: &FlowRow, facts: &JudgeFacts) -> Vec<Verdict> {
    let case = Case::of(row, facts);
    let mut out = Vec::new();
    for (at, missing) in row.missing.iter().enumerate() {
        let whole = case.circuit();
        out.push(waits(&whole, &(at + 1).to_string(), missing));
    }
    heat::judge(&case, &mut out);
    engine::judge(&case, &mut out);
    boiling::judge(&case, &mut out);
    suction::judge(&case, &mut out);
    raw::judge(&case, &mut out);
    speed::judge(&case, &mut out);
    coolers::judge(&case, &mut out);
    hull::judge(&case, &mut out);
    stolen::judge(&case, &mut out);
    pressure::judge(&case, &mut out);
    header::judge(&case, &mut out);
    most::judge(&case, &mut out);
    out.into_iter().map(cautious).map(Verdict::spoken).collect()
}

/// All that a family looks at.
struct Case<'a> {
    row: &'a FlowRow,
    facts: &'a JudgeFacts,
    states: Vec<Named<'a>>,
}

/// A state with the name by which one tells it from the others.
struct Named<'a> {
    row: &'a StateRow,
    /// For ids: `cruise`, or `cruise.tied` where it stands twice.
    key: String,
    /// For people: `cruise`, or `cruise (tied up)`.
    name: String,
}

impl<'a> Case<'a> {
    fn of(row: &'a FlowRow, facts: &'a JudgeFacts) -> Self {
        let states = row.states.iter().map(|state| {
            let twice = row.states.iter().filter(|other| other.key == state.key);
            let (mut key, mut name) = (state.key.clone(), state.key.clone());
            if twice.count() > 1 {
                let (short, long) = match state.duty {
                    Duty::Moving => ("moving", "making way"),
                    Duty::Tied => ("tied", "tied up"),
                };
                key.push_str(&format!(".{short}"));
                name.push_str(&format!(" ({long})"));
            }
            Named {
                row: state,
                key,
                name,
            }
        });
        Self {
            row,
            facts,
            states: states.collect(),
        }
    }

    /// The states that come to rest, with their figures.
    fn steady(&self) -> impl Iterator<Item = (&Named<'a>, &'a Figures)> {
        self.states
            .iter()
            .filter_map(|named| Some((named, named.row.came.steady()?)))
    }

    /// The circuit as a whole.
    fn circuit(&self) -> Subject {
        let place = self.row.arrangement.as_ref().map_or_else(
            || "runs".to_owned(),
            |name| format!("arrangements.{}", boat::key_text(name)),
        );
        subject("circuit", "circuit", &place)
    }

    /// The engine as a whole.
    fn engine(&self) -> Subject {
        subject("engine", "engine", &boat::thing_path("engine"))
    }
}

impl Named<'_> {
    /// With the speed of the engine: `cruise at 1900 rpm`.
    fn at(&self, system: System) -> String {
        format!("{} at {}", self.name, rpm(self.row.revs, system))
    }

    /// Where it stands in the file.
    fn place(&self) -> KeyPath {
        format!("states.{}", boat::key_text(&self.row.key))
    }
}

/// A subject of the stage.
fn subject(key: &str, title: &str, place: &str) -> Subject {
    Subject {
        key: key.to_owned(),
        title: title.to_owned(),
        place: place.to_owned(),
    }
}

/// A verdict, to be filled in.
fn verdict(
    subject: &Subject,
    rule: &str,
    grade: Grade,
    because: Words,
    remedy: impl Into<Words>,
) -> Verdict {
    let mut verdict = subject.verdict(Stage::Flow, rule, grade, because);
    verdict.remedy = remedy.into();
    verdict
}

/// A verdict that waits for a measurement.
fn waits(subject: &Subject, rule: &str, missing: &Missing) -> Verdict {
    let because = sentence(&missing.why);
    unmeasured(subject, rule, because.as_str().into(), &missing.settles)
}

/// A verdict that can't be told, with its reason and what settles it.
fn unmeasured(subject: &Subject, rule: &str, because: Words, settles: &Settles) -> Verdict {
    let mut verdict = verdict(subject, rule, Grade::Unmeasured, because, "");
    verdict.settle_by(settles);
    verdict
}

/// What to measure, and where to write it.
fn settles(place: &str, how: &str) -> Settles {
    Settles {
        place: place.to_owned(),
        how: how.to_owned(),
    }
}

/// Text as a whole sentence.
fn sentence(text: &str) -> String {
    format!("{}.", say::capital(text.trim().trim_end_matches('.')))
}

/// Text without the stop at its end, to stand inside a sentence.
fn inner(text: &str) -> &str {
    text.trim().trim_end_matches('.')
}

/// Adds what one state gives to the working.
fn by_state(verdict: &mut Verdict, what: &str, named: &Named, result: Words) {
    let filled = Words::of(|system| named.at(system));
    verdict.step(what, filled, result);
}

/// Adds an input to the working.
fn input(verdict: &mut Verdict, symbol: &str, name: &str, value: Number, from: &str) {
    verdict.working.inputs.push(WorkingInput {
        symbol: symbol.to_owned(),
        name: name.to_owned(),
        value,
        tolerance: None,
        from: from.to_owned(),
        place: None,
    });
}

/// The figure of the working that the solver gave.
const COMPUTED: &str = "computed";

/// A number with its text.
fn number(kind: Kind, si: f64, text: impl Fn(System) -> String) -> Number {
    Number {
        kind,
        si,
        text: Words::of(text),
    }
}

/// A temperature [°C] as a number.
fn of_celsius(celsius: f64) -> Number {
    number(Kind::Temperature, celsius + ZERO, |system| {
        deg(celsius, system)
    })
}

/// A pressure over or under the air outside [Pa] as a number.
fn of_pascals(pascals: f64) -> Number {
    number(Kind::PressureDifference, pascals, |system| {
        kpa(pascals, system)
    })
}

/// A share of one as a number.
fn of_share(share: f64) -> Number {
    number(Kind::Ratio, share, |_| percent(share))
}

/// A volume [m³] as a number.
fn of_volume(volume: f64) -> Number {
    number(Kind::Volume, volume, |system| litres(volume, system))
}

/// A speed of water [m/s] as a number.
fn of_speed(speed: f64) -> Number {
    number(Kind::Speed, speed, |system| flowing(speed, system))
}

/// A power [W] as a number.
fn of_watts(watts: f64) -> Number {
    number(Kind::Power, watts, |system| power(watts, system))
}

/// A temperature [°C] to whole degrees.
fn deg(celsius: f64, system: System) -> String {
    Temperature::from_si(celsius + ZERO).map_or_else(
        || "no temperature".to_owned(),
        |temperature| {
            show(
                temperature,
                Some(TemperatureDifference::kelvin(2.0)),
                system,
            )
        },
    )
}

/// From one temperature [°C] to another, or the one where they are the same to people.
fn deg_range(low: f64, high: f64, system: System) -> String {
    if deg(low, system) == deg(high, system) {
        return deg(low, system);
    }
    match (
        Temperature::from_si(low + ZERO),
        Temperature::from_si(high + ZERO),
    ) {
        (Some(low), Some(high)) => show_range(low, high, system),
        _ => "no temperature".to_owned(),
    }
}

/// A rise, a drop or a margin [K] to tenths.
fn rise(kelvins: f64, system: System) -> String {
    TemperatureDifference::from_si(kelvins).map_or_else(
        || "no rise".to_owned(),
        |rise| show(rise, Some(TemperatureDifference::kelvin(0.2)), system),
    )
}

/// Speed of water [m/s].
fn flowing(speed: f64, system: System) -> String {
    Speed::from_si(speed).map_or_else(
        || "no speed".to_owned(),
        |speed| in_units(speed, Some(Speed::m_per_s(0.02)), ["m/s", "ft/s"], system),
    )
}

/// A head [m], or a length that is told in metres.
fn metres(length: f64, system: System) -> String {
    Length::from_si(length).map_or_else(
        || "no length".to_owned(),
        |length| in_units(length, Some(Length::mm(200.0)), ["m", "ft"], system),
    )
}

/// Speed of the engine [1/s].
fn rpm(revs: f64, system: System) -> String {
    RotationalSpeed::from_si(revs)
        .map_or_else(|| "no speed".to_owned(), |revs| show(revs, None, system))
}

/// A power or a heat [W].
fn power(watts: f64, system: System) -> String {
    Power::from_si(watts).map_or_else(|| "no power".to_owned(), |power| show(power, None, system))
}

/// From one power or heat [W] to another.
fn power_range(low: f64, high: f64, system: System) -> String {
    match (Power::from_si(low), Power::from_si(high)) {
        (Some(low), Some(high)) => show_range(low, high, system),
        _ => "no power".to_owned(),
    }
}

/// A flow [m³/s].
fn flow(flow: f64, system: System) -> String {
    VolumeFlow::from_si(flow).map_or_else(|| "no flow".to_owned(), |flow| show(flow, None, system))
}

/// A volume [m³].
fn litres(volume: f64, system: System) -> String {
    Volume::from_si(volume).map_or_else(
        || "no volume".to_owned(),
        |volume| show(volume, None, system),
    )
}

/// A share to whole per cent: `46 %`.
fn percent(share: f64) -> String {
    say::short_percent((share * 100.0).round() / 100.0)
}
