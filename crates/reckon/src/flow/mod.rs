//! Flow and heat of a boat: her circuit drawn as a network, solved in every state, and told in figures.

mod compare;
mod desk;
mod draw;
mod dry;
mod heat;
mod most;
mod narrow;
mod pieces;
mod raw;
mod sinks;
mod state;
mod volume;

use std::sync::Arc;

use boat::{Arranged, Boat, Thing, ThingKind, Told};
use quantity::{Power, Quantity};
use reference::cooler_area::{self, CoolerMetal, area};
use reference::media::{Glycol, Strength, VolumeFraction};
use reference::water::ATMOSPHERE;

pub(crate) use desk::middle_of;
pub(crate) use pieces::{bores, lengths};

pub use compare::{Change, Compared, ComparedState, HeadRow, compare};

use self::desk::Desk;
use self::draw::{Drawn, draw};
use self::heat::{Asked, asked, rated};
use self::most::Back;
use self::state::{Coolant, Gauge, Put, figures, put, with_heat, without};
use crate::facts::serves;
use crate::loops;
use crate::solve::net::{self, GRAVITY, Medium, Network, Outcome, State, liquids};
use crate::stages::circuit::plan::Plan;
use crate::stages::fill::KindFacts;
use crate::stages::flow::judge::{JudgeFacts, judge};
use crate::stages::flow::{
    AreaRow, Came, Duty, FlowRow, HullRow, Missing, MostRow, Span, StateRow,
};
use crate::verdict::{Settles, Verdict};

/// Flow and heat of one arrangement.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Flow {
    /// The figures.
    pub row: FlowRow,
    /// What is judged of them.
    pub verdicts: Vec<Verdict>,
}

/// How far under the alarm the coolant is kept [K]. Common practice, no source.
const UNDER_ALARM: f64 = 5.0;
/// Steps of the engine's speed between which the turning is looked for.
const SPEEDS: u32 = 6;

/// Flow and heat of an arrangement; `None` for the file as it stands. `None` comes back where the file has no
/// such arrangement.
pub fn flow(boat: &Boat, arrangement: Option<&str>) -> Option<Flow> {
    Some(of(boat, &boat.arranged(arrangement)?, arrangement))
}

/// As [`flow`], of an arrangement that is laid out.
pub(crate) fn of(boat: &Boat, arranged: &Arranged, name: Option<&str>) -> Flow {
    let row = row(boat, arranged, name, Depth::All);
    let verdicts = judge(&judged_states(&row), &judged(arranged));
    Flow { row, verdicts }
}

/// The figures without the states that no owner wrote: making way is judged, and the same power lying still is
/// shown beside it.
fn judged_states(row: &FlowRow) -> FlowRow {
    let mut row = row.clone();
    let moving: Vec<String> = row
        .states
        .iter()
        .filter(|state| state.duty == Duty::Moving)
        .map(|state| state.key.clone())
        .collect();
    row.states
        .retain(|state| state.duty == Duty::Moving || !moving.contains(&state.key));
    row
}

/// How much is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Depth {
    /// The figures of each state alone.
    Figures,
    /// With the thermostat's reserve, the warmest sea, the greatest power and the smallest cooler.
    All,
}

/// What the verdicts read beside the figures.
fn judged(arranged: &Arranged) -> JudgeFacts {
    let boat = &arranged.boat;
    let serves = serves(arranged);
    let engine = engine(boat);
    let place = engine.map_or_else(
        || "engine".to_owned(),
        |engine| arranged.thing_place(&engine.key),
    );
    let inner = engine.and_then(|engine| engine.engine.as_ref());
    let capped = boat.things.iter().find(|thing| {
        !thing.cap.is_left_out() && !arranged.blanked.contains(&format!("{}.cap", thing.key))
    });
    JudgeFacts {
        alarm: serves.alarm,
        alarm_place: format!("{place}.alarm.at"),
        cap: serves.cap.ok().map(|cap| cap.measured.value.si()),
        cap_place: capped.map_or_else(
            || format!("{place}.cap"),
            |thing| format!("{}.cap", arranged.thing_place(&thing.key)),
        ),
        opens: inner
            .and_then(|inner| inner.stat.opens.given())
            .map(|opens| opens.value.to_celsius()),
        stat_place: format!("{place}.stat"),
        rating_place: "stock.hose".into(),
        summer: boat.about.sea.summer.given().map(|t| t.value.to_celsius()),
        summer_place: "boat.sea.summer".into(),
        rated_power: inner
            .and_then(|inner| inner.power.given())
            .map(|power| power.what.value.si()),
        power_place: format!("{place}.power"),
        salt: crate::facts::salt(boat),
    }
}

fn engine(boat: &Boat) -> Option<&Thing> {
    boat.things.iter().find(|thing| thing.engine.is_some())
}

/// The coolant to be poured in: what it is, and its properties.
fn coolant(desk: &mut Desk) -> Option<(Coolant, Medium)> {
    let told = desk.arranged.boat.coolant.clone();
    let Told::Given(kind) = &told.kind else {
        desk.miss(
            "Which coolant she gets is not written.".into(),
            "coolant.wanted.kind".into(),
            "Write it: `wanted = { kind = \"propylene, organic acid\", percent = 45 }`.",
        );
        return None;
    };
    let of = KindFacts::of(kind);
    let made = match of.glycol {
        None if of.water => liquids::fresh().map(|medium| (Coolant::Water, medium)),
        None => {
            desk.miss(
                format!("“{kind}” names no glycol that is known."),
                "coolant.wanted.kind".into(),
                "Write “ethylene” or “propylene”, as its sheet says, or “water”.",
            );
            return None;
        }
        Some(glycol) => {
            let percent = told.percent.given().map(|percent| percent.value.to_f64());
            let Some(share) = percent.and_then(VolumeFraction::of) else {
                desk.miss(
                    "How strong the coolant is to be is not written.".into(),
                    "coolant.wanted.percent".into(),
                    "Write its share of the volume: `percent = 45`.",
                );
                return None;
            };
            mixed(glycol, share)
        }
    };
    match made {
        Ok(made) => Some(made),
        Err(unknown) => {
            desk.miss(
                crate::say::capital(&format!("{}.", unknown.why)),
                "coolant.wanted.percent".into(),
                &crate::say::capital(&format!("{}.", unknown.settles)),
            );
            None
        }
    }
}

/// Density of the column of coolant by which a pressure counts as a height [kg/m³].
pub(crate) fn column(arranged: &Arranged) -> Option<f64> {
    let (_, medium) = coolant(&mut Desk::of(arranged))?;
    Some(medium.density(draw::COLUMN_AT))
}

/// The absolute pressure [Pa] at which the coolant boils, by its temperature [°C]; none beyond what is known of it.
pub(crate) fn vapour(arranged: &Arranged) -> Option<impl Fn(f64) -> Option<f64> + use<>> {
    let (coolant, _) = coolant(&mut Desk::of(arranged))?;
    Some(move |at| coolant.vapour(at))
}

fn mixed(glycol: Glycol, share: VolumeFraction) -> Result<(Coolant, Medium), reference::Unknown> {
    if share.share() == 0.0 {
        return Ok((Coolant::Water, liquids::fresh()?));
    }
    Ok((Coolant::Mix(glycol, share), liquids::mix(glycol, share)?))
}

/// The water outside.
fn sea(desk: &mut Desk) -> Option<Medium> {
    let salinity = desk.arranged.boat.about.sea.salinity.given().copied();
    let made = match salinity {
        Some(salinity) if salinity < 0.5 => liquids::fresh(),
        Some(salinity) => liquids::sea(salinity / 1000.0),
        None => {
            desk.note(
                "The salinity of her waters is not written; the sea is reckoned with 35.".into(),
            );
            liquids::sea(0.035)
        }
    };
    made.ok()
}

/// The figures of an arrangement.
fn row(boat: &Boat, arranged: &Arranged, name: Option<&str>, depth: Depth) -> FlowRow {
    let mut desk = Desk::of(arranged);
    let mut out = FlowRow {
        arrangement: name.map(str::to_owned),
        ..FlowRow::default()
    };
    let facts = loops::facts(boat, arranged, name);
    let plan = Plan::of(&facts);
    if let Some(engine) = engine(&arranged.boat).cloned() {
        fill(&mut desk, &plan, boat, &engine, depth, &mut out);
    } else {
        desk.miss(
            "There is no engine in the file.".into(),
            "engine".into(),
            "Write the engine: `[engine]`, with its power and the ways of its water.",
        );
    }
    out.assumed = desk.assumed;
    out.missing = desk.missing;
    out.notes = desk.notes;
    out
}

fn fill<'a>(
    desk: &mut Desk<'a>,
    plan: &'a Plan<'a>,
    boat: &Boat,
    engine: &Thing,
    depth: Depth,
    out: &mut FlowRow,
) {
    let sheet = rated(desk, engine);
    let coolant = coolant(desk);
    let (Some(sheet), Some((coolant, medium)), Some(sea)) = (sheet, coolant, sea(desk)) else {
        return;
    };
    let (medium, sea) = (Arc::new(medium), Arc::new(sea));
    let drawn = draw(desk, plan, Arc::clone(&medium), Arc::clone(&sea), sheet);
    let Some(drawn) = drawn else { return };
    let cap = serves(desk.arranged)
        .cap
        .ok()
        .map(|cap| cap.measured.value.si());
    let limit = limit(desk, &drawn);
    let states = desk.arranged.boat.states.clone();
    if states.is_empty() {
        desk.miss(
            "How she is used is not written.".into(),
            "states".into(),
            "Write her states: `[states]` with `cruise = { rpm = \"1900 rpm\", speed = \"6 kn\" }`.",
        );
    }
    let top = states
        .iter()
        .filter(|state| moves(state))
        .filter_map(|state| state.rpm.given().map(|rpm| rpm.value.si()))
        .max_by(f64::total_cmp);
    let mut hot: Option<f64> = None;
    let mut greatest: Option<(f64, Put, State)> = None;
    let mut near: Option<State> = None;
    let mut back: Vec<Back> = Vec::new();
    for state in &states {
        // The fastest in which she makes way stands for pushing, towing and lying aground as well.
        let own_revs = state.rpm.given().map(|rpm| rpm.value.si());
        let both: &[bool] = if moves(state) && own_revs == top {
            &[false, true]
        } else {
            &[false]
        };
        for tied in both {
            let asked = match asked(desk, engine, state, *tied) {
                Ok(asked) => asked,
                Err(missing) => {
                    if !desk.missing.contains(&missing) {
                        out.states.push(unknown(&state.key, missing));
                    }
                    break;
                }
            };
            let raw = raw::flow(desk, plan, boat, &asked);
            let with = |raw: Option<f64>| {
                let to = asks(&drawn, &asked, raw, &sea);
                (to, solved(&drawn, &asked, to, near.as_ref(), coolant, cap))
            };
            let dry = raw.and_then(|raw| {
                dry::of(plan, &drawn, &asked, raw, coolant, |flow| {
                    with(Some(flow)).1
                })
            });
            let (to, solved) = with(raw.map(|raw| raw.flow));
            if let Ok((_, _, state)) = &solved {
                near = Some(state.clone());
            }
            let came = match solved {
                Ok((mut came, to, state)) => {
                    if let Came::Steady(own) = &mut came {
                        if let Some(runs) = raw.filter(|runs| runs.flow > 0.0) {
                            let warms = raw::Warms {
                                sea: asked.sea,
                                gearbox: to.raw.map_or(0.0, |(_, warmer)| warmer),
                                coolers: &own.coolers,
                            };
                            let (side, items) = raw::side(desk, plan, &sea, runs, &warms);
                            own.items.extend(items);
                            own.raw = Some(side);
                        }
                        let mean = 0.5 * (own.out.high + own.back.high);
                        hot = Some(hot.unwrap_or(0.0).max(mean.min(limit.0)));
                        let now = own.out.mid;
                        let cooled = own.coolers.first().map_or(now, |cooler| {
                            0.5 * (cooler.temperatures[0] + cooler.temperatures[1])
                        });
                        back.push(Back {
                            row: out.states.len(),
                            to,
                            near: state.clone(),
                            now: Some((now, cooled)),
                            most: !*tied,
                            // The greatest power is told once, at the speed at which the pump gives most.
                            power: !*tied && asked.power > 0.0 && own_revs == top,
                            law: asked.law,
                        });
                    }
                    if greatest
                        .as_ref()
                        .is_none_or(|(revs, _, _)| asked.revs > *revs)
                    {
                        greatest = Some((asked.revs, to, state));
                    }
                    came
                }
                Err(came) => {
                    // What it can't bear at this power it may bear at less.
                    if !*tied
                        && own_revs == top
                        && dry.is_none()
                        && let (Came::NoSteadyState(_), Some(near)) = (&came, &near)
                    {
                        back.push(Back {
                            row: out.states.len(),
                            to,
                            near: near.clone(),
                            now: None,
                            most: true,
                            power: true,
                            law: asked.law,
                        });
                    }
                    match &dry {
                        Some(dry) => Came::NoSteadyState(format!(
                            "{}: no raw water comes to the exchanger, what stands in it takes up no heat, and the coolant boils",
                            dry.why
                        )),
                        None => came,
                    }
                }
            };
            out.states.push(StateRow {
                key: asked.key,
                duty: asked.duty,
                revs: asked.revs,
                speed: asked.speed,
                sea: asked.sea,
                power: asked.power,
                heat: asked.heat,
                heat_from: asked.heat_from,
                came,
                dry,
            });
        }
    }
    let back = if depth == Depth::All { &*back } else { &[] };
    let (hull, found) = most::beside(&drawn, back, limit.0, || {
        hull(plan, &drawn, out, greatest.as_ref(), &sea, cap)
    });
    out.hull = hull;
    for (asked, found) in back.iter().zip(found) {
        let row = &mut out.states[asked.row];
        if let Came::Steady(own) = &mut row.came {
            own.reserve = found.reserve;
        }
        if found.lost {
            let what = format!(
                "What the circuit can do at most in {} was not found: the search for it did not end.",
                row.key
            );
            desk.note(what.as_str().into());
        } else if asked.most {
            out.most.push(MostRow {
                key: row.key.clone(),
                limit: limit.clone(),
                sea: found.sea,
                power: found.power,
                smallest: found.smallest,
            });
        }
    }
    let volume = volume::row(desk, &drawn, &medium, hot, cap);
    if let (Some(air), Some(cap)) = (volume.air, cap)
        && air < cap
    {
        cap_not_reached(out, coolant, cap, air);
        desk.note(
            "The air over the hot coolant does not press as far as the cap's setting: pressures under the cap are those of the air."
                .into(),
        );
    }
    if let Some(whole) = volume.whole {
        let alarm = serves(desk.arranged).alarm.ok();
        let alarm = alarm.map(|alarm| alarm.measured.value.to_celsius());
        for state in &mut out.states {
            let heat = state.heat.high;
            if let Came::Steady(figures) = &mut state.came {
                let boils = figures.hottest.as_ref().map(|(_, _, open, _)| *open);
                let from = (figures.out.high, boils);
                figures.uncooled = Some(dry::uncooled(from, &medium, whole, heat, alarm));
            }
            if let Some(dry) = &mut state.dry {
                dry.uncooled = Some(dry::left(dry, &medium, whole, heat, alarm));
            }
        }
    }
    out.volume = Some(volume);
    if depth == Depth::All {
        out.areas = areas(desk, &drawn, out, sheet.0);
    }
}

/// Pressures under the cap are those of the closed air, where that is less than the cap's setting [Pa].
fn cap_not_reached(out: &mut FlowRow, coolant: Coolant, cap: f64, air: f64) {
    for state in &mut out.states {
        let Came::Steady(figures) = &mut state.came else {
            continue;
        };
        for place in &mut figures.places {
            place.capped = place.capped.map(|capped| capped - cap + air);
        }
        if let Some((_, _, open, capped)) = &mut figures.hottest {
            // The pressure there follows from where it boils with an open cap.
            let vapour = coolant.vapour(*open);
            *capped = vapour.and_then(|p| coolant.boils(p - ATMOSPHERE + air));
        }
    }
}

fn unknown(key: &str, missing: Missing) -> StateRow {
    StateRow {
        key: key.to_owned(),
        duty: Duty::Tied,
        revs: 0.0,
        speed: 0.0,
        sea: 0.0,
        power: 0.0,
        heat: Span::default(),
        heat_from: String::new(),
        came: Came::Unmeasured(missing),
        dry: None,
    }
}

/// The temperature that is not passed, and its name.
fn limit(desk: &Desk, drawn: &Drawn) -> (f64, String) {
    match serves(desk.arranged).alarm {
        Ok(alarm) => (
            alarm.measured.value.to_celsius() - UNDER_ALARM,
            "five degrees under the alarm".into(),
        ),
        Err(_) => match drawn.net.stat {
            Some(stat) => (stat.full, "where the thermostat is fully open".into()),
            None => (90.0, "90 °C, since no alarm is written".into()),
        },
    }
}

/// What a state puts to the network.
fn asks(drawn: &Drawn, asked: &Asked, flow: Option<f64>, sea: &Medium) -> Put {
    let density = sea.density(asked.sea);
    // A gearbox that is cooled by the raw water warms it on its way.
    let by_raw = drawn.gearbox.is_none();
    let raw = flow.map(|flow| {
        let stream = flow * density;
        let warmer = if by_raw && stream > 0.0 {
            asked.gearbox / (stream * sea.heat(asked.sea))
        } else {
            0.0
        };
        (stream, warmer)
    });
    Put {
        revs: asked.revs,
        heat: asked.heat.mid,
        gearbox: if by_raw { 0.0 } else { asked.gearbox },
        sea: asked.sea,
        speed: asked.speed,
        raw,
        surface: 1.0,
        wide: false,
        heaters: asked.heaters,
    }
}

/// Solves a state and tells its figures.
fn solved(
    drawn: &Drawn,
    asked: &Asked,
    to: Put,
    near: Option<&State>,
    coolant: Coolant,
    cap: Option<f64>,
) -> Result<(Came, Put, State), Came> {
    let unknown = drawn.heaters.iter().find(|own| own.ua.is_none());
    if let Some(heater) = unknown.filter(|_| to.heaters) {
        let item = &drawn.items[heater.item];
        return Err(Came::Unmeasured(Missing {
            why: format!("{} is on, and its `ua` or the `air` at it is not written.", crate::say::capital(&item.title)),
            settles: Settles {
                place: format!("{}.ua", item.place),
                how: "Find in its sheet the heat that it gives at two temperatures: that over their difference is its `ua`.".into(),
            },
        }));
    }
    let needs_raw = dry::wants_raw(drawn);
    if needs_raw && to.raw.is_none() {
        return Err(Came::Unmeasured(Missing {
            why: "How much raw water runs through the exchanger is not known.".into(),
            settles: Settles {
                place: format!("states.{}.raw", boat::key_text(&asked.key)),
                how: "Hold a bucket under the outlet for ten seconds: `raw = \"40 L/min\"`; or write what the raw-water pump gives.".into(),
            },
        }));
    }
    if needs_raw && to.raw.is_some_and(|(flow, _)| flow <= 0.0) {
        return Err(Came::NoSteadyState(
            "no raw water comes to the exchanger: what stands in it takes up no heat, and the coolant boils".into(),
        ));
    }
    let net = put(drawn, &to);
    let outcome = net::solve(&net, near);
    let Outcome::Solved(state) = outcome else {
        return Err(without(outcome, "engine.heat"));
    };
    let also = with_heat(drawn, &to, asked, &state);
    match figures(drawn, &net, &state, also, coolant, cap) {
        Ok(figures) => Ok((Came::Steady(Box::new(figures)), to, *state)),
        Err(unknown) => Err(without(Outcome::Unmeasured(unknown), "engine.heat")),
    }
}

/// Whether she makes way in a state.
fn moves(state: &boat::State) -> bool {
    let speed = state.speed.given();
    speed.is_some_and(|speed| speed.value.si() > 0.0)
}

/// Where the sea could come in: hull fittings that the water runs through, and coolers under water.
fn hull(
    plan: &Plan,
    drawn: &Drawn,
    out: &FlowRow,
    greatest: Option<&(f64, Put, State)>,
    sea: &Medium,
    cap: Option<f64>,
) -> Vec<HullRow> {
    let mut rows = Vec::new();
    let speeds = greatest.map_or_else(Vec::new, |(revs, to, near)| {
        by_speed(drawn, to, near, *revs)
    });
    for place in &drawn.places {
        let key = place.name.split('.').next().unwrap_or_default();
        let Some(run) = plan.facts.runs.iter().find(|own| own.run.key == key) else {
            continue;
        };
        let end = if place.name.ends_with(".to") {
            &run.run.to
        } else {
            &run.run.from
        };
        let Some((thing, _)) = plan.facts.end(end) else {
            continue;
        };
        let own = &plan.facts.things[thing];
        let (Some(height), true) = (place.height, own.is(ThingKind::HullFitting)) else {
            continue;
        };
        // What lies outside is the lowest: a cooler's own depth where it is told.
        let outside = plan.facts.things.iter().find(|other| {
            other
                .thing
                .detail
                .between
                .iter()
                .any(|key| key == own.key())
        });
        let depth = outside
            .and_then(|other| other.thing.detail.depth.given())
            .map_or(-height, |depth| depth.value.si().abs().max(-height));
        if depth <= 0.0 {
            continue;
        }
        let outside_pressure = sea.density(15.0) * GRAVITY * depth;
        let deeper = (drawn.surface + depth).max(0.0);
        let cold = drawn.net.medium.density(15.0);
        let drop = (height + depth) * GRAVITY;
        let inside =
            |open: f64, t: f64| open + drawn.net.medium.density(t) * drop - outside_pressure;
        let mut row = HullRow {
            subject: own.key().to_owned(),
            title: own.key().to_owned(),
            place: own.place.clone(),
            depth,
            sea: outside_pressure,
            stopped: cold * GRAVITY * deeper - outside_pressure,
            states: Vec::new(),
            cap,
            turns: None,
        };
        for state in &out.states {
            let Some(figures) = state.came.steady() else {
                continue;
            };
            let at = figures.places.iter().find(|own| own.name == place.name);
            if let Some(at) = at
                && !row.states.iter().any(|(key, _, _)| *key == state.key)
            {
                let over = inside(at.open, at.temperature);
                row.states.push((state.key.clone(), state.revs, over));
            }
        }
        if let Some((revs, _, _)) = greatest {
            let curve: Vec<(f64, f64)> = speeds
                .iter()
                .filter_map(|(revs, t, net, state)| {
                    let gauge = Gauge::of(drawn, net, state).ok()?;
                    Some((*revs, inside(gauge.open(place, height), *t)))
                })
                .collect();
            row.turns = most::turning(&row, *revs, &curve);
        }
        if !rows
            .iter()
            .any(|other: &HullRow| other.subject == row.subject)
        {
            rows.push(row);
        }
    }
    rows
}

/// The circuit by the speed of the engine: speed [1/s], temperature [°C], and its state in the heat of the
/// state of the greatest speed, with the thermostat as it stands there.
fn by_speed(
    drawn: &Drawn,
    to: &Put,
    near: &State,
    greatest: f64,
) -> Vec<(f64, f64, Network, State)> {
    let t = match drawn.net.stat {
        Some(stat) => near.temperatures[stat.node],
        None => 80.0,
    };
    let mut rows = Vec::new();
    let mut before: Option<State> = None;
    for step in 1..=SPEEDS {
        let revs = greatest * f64::from(step) / f64::from(SPEEDS);
        let mut net = put(drawn, &Put { revs, ..*to });
        net.isothermal = Some(t);
        if let Outcome::Solved(state) = net::solve(&net, before.as_ref()) {
            before = Some(state.as_ref().clone());
            rows.push((revs, t, net, *state));
        }
    }
    rows
}

/// The area of each cooler in the sea beside the rules of thumb.
fn areas(desk: &Desk, drawn: &Drawn, out: &FlowRow, rated: f64) -> Vec<AreaRow> {
    let mut rows = Vec::new();
    let Some(power) = Power::from_si(rated) else {
        return rows;
    };
    for sink in &drawn.sinks {
        let Some(own) = sink.area else { continue };
        let subject = drawn.items[sink.item].subject.clone();
        let thing = desk.arranged.boat.thing(&subject);
        let aluminium = thing.is_some_and(|thing| {
            let metal = thing.detail.pipes.as_ref().map(|pipes| &pipes.metal);
            let channel = thing.detail.channel.as_ref().map(|channel| &channel.metal);
            metal.or(channel).and_then(Told::given) == Some(&boat::Metal::Aluminium)
        });
        let metal = if aluminium {
            CoolerMetal::Aluminium
        } else {
            CoolerMetal::Steel
        };
        let rules = cooler_area::Duty::ALL
            .iter()
            .filter_map(|duty| {
                let rule = area(metal, *duty, power).ok()?;
                Some((duty.words().to_owned(), rule.value.si(), rule.source.cite()))
            })
            .collect();
        let reckoned = out
            .most
            .iter()
            .filter_map(|row| {
                let state = out.states.iter().find(|state| state.key == row.key)?;
                row.smallest
                    .map(|share| (row.key.clone(), state.duty, share * own))
            })
            .collect();
        rows.push(AreaRow {
            subject,
            area: own,
            rules,
            reckoned,
        });
    }
    rows
}
