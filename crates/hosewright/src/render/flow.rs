//! Flow and heat of one arrangement on one page: the states, where the head goes, what the coolers do, the hull.

use quantity::System;
use reckon::stages::flow::{
    Came, CoolerRow, Figures, FlowRow, HullRow, ItemRow, MostRow, StateRow, VolumeRow,
};

use super::{Manner, heading};
use crate::figure::{Figure, NONE, duty_words, head, state_name};
use crate::text::{Column, Page, listed};

/// How many parts are listed where not all of them are asked for.
const PARTS: usize = 10;
/// What the shares of a cooler's resistance belong to, from the inside out.
const SHARES: [&str; 5] = [
    "film inside",
    "dirt inside",
    "wall and paint",
    "dirt outside",
    "film outside",
];

/// How many parts are listed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Parts {
    /// Those that lose most.
    Largest,
    /// Every one.
    All,
}

impl Parts {
    /// How many at most, where `few` are the largest.
    pub fn most(self, few: usize) -> usize {
        match self {
            Self::Largest => few,
            Self::All => usize::MAX,
        }
    }
}

/// The whole page of an arrangement, without its head and its verdicts.
pub fn flow(page: &mut Page, row: &FlowRow, manner: &Manner, parts: Parts) {
    let units = manner.units;
    if row.states.is_empty() {
        nothing(page, row);
    } else {
        states(page, row, units);
        limits(page, row, units);
        if let Some(state) = hardest(row) {
            heads(page, row, state, units, parts);
            coolers(page, row, state, units);
        }
        beside(page, row, units);
    }
    hull(page, row, units);
    if let Some(volume) = &row.volume {
        self::volume(page, volume, units);
    }
    most(page, row, units);
    assumed(page, row, manner);
    notes(page, row, units);
}

/// Why there is not one figure. What to measure stands with the verdicts.
fn nothing(page: &mut Page, row: &FlowRow) {
    page.gap();
    if row.missing.is_empty() {
        page.paragraph(0, "No state is told: write one into `[states]`.");
        return;
    }
    page.paragraph(0, "Nothing is reckoned yet:");
    for missing in &row.missing {
        page.hanging("  – ", "    ", &missing.why);
    }
}

/// The state in which the pump gives most, as that is where head and cooler matter most.
pub fn hardest(row: &FlowRow) -> Option<&StateRow> {
    let pump = |state: &StateRow| {
        state
            .came
            .steady()
            .map_or(f64::NEG_INFINITY, |figures| figures.pump)
    };
    row.states
        .iter()
        .filter(|state| state.came.steady().is_some())
        .max_by(|a, b| pump(a).total_cmp(&pump(b)))
}

/// One row a state.
fn states(page: &mut Page, row: &FlowRow, units: System) {
    heading(page, "States");
    let columns = [
        Column::words("state").at_most(16),
        Column::figures("rpm"),
        Column::figures("kn"),
        Column::figures(head(units, "sea\n°C", "sea\n°F")),
        Column::figures(head(units, "heat\nkW", "heat\nhp")),
        Column::figures(head(units, "engine\nout °C", "engine\nout °F")),
        Column::figures(head(units, "back\n°C", "back\n°F")),
        Column::figures("stat\nopen %"),
        Column::figures(head(units, "flow\nL/min", "flow US\ngal/min")),
    ];
    let rows: Vec<Vec<String>> = row
        .states
        .iter()
        .map(|state| {
            let figures = state.came.steady();
            let of =
                |told: &dyn Fn(&Figures) -> String| figures.map_or_else(|| NONE.to_owned(), told);
            vec![
                state_name(&row.states, state),
                Figure::Revs.bare(state.revs, units),
                Figure::Way.bare(state.speed, units),
                Figure::Temperature.bare(state.sea, units),
                Figure::Heat.bare_span(state.heat, units),
                of(&|figures| Figure::Temperature.bare_span(figures.out, units)),
                of(&|figures| Figure::Temperature.bare(figures.back.mid, units)),
                of(&|figures| {
                    figures.lift.map_or_else(
                        || NONE.to_owned(),
                        |lift| Figure::Share.bare(lift.mid, units),
                    )
                }),
                of(&|figures| Figure::Flow.bare(figures.flow, units)),
            ]
        })
        .collect();
    page.table(0, &columns, &rows);
    for state in &row.states {
        if let Some(told) = came(state) {
            let name = state_name(&row.states, state);
            page.hanging("  – ", "    ", &format!("{name}: {told}"));
        }
    }
    heat_from(page, row);
}

/// What came of a state that has no figures, in words.
pub fn came(state: &StateRow) -> Option<String> {
    match &state.came {
        Came::Steady(_) => None,
        Came::NoSteadyState(why) => Some(format!("no steady state. {why}")),
        Came::Unsolvable(why) => Some(format!("no answer. {why}")),
        Came::Unmeasured(missing) => Some(format!(
            "unmeasured. {} → {}",
            missing.why, missing.settles.how
        )),
    }
}

/// Whence the heat comes, said once for all states that have it from the same place.
fn heat_from(page: &mut Page, row: &FlowRow) {
    let mut said: Vec<(&str, Vec<String>)> = Vec::new();
    for state in row
        .states
        .iter()
        .filter(|state| !state.heat_from.is_empty())
    {
        let name = state_name(&row.states, state);
        match said.iter_mut().find(|(from, _)| *from == state.heat_from) {
            Some((_, names)) => names.push(name),
            None => said.push((state.heat_from.as_str(), vec![name])),
        }
    }
    let one = said.len() == 1;
    for (from, names) in said {
        let told = if one {
            format!("heat by: {from}")
        } else {
            format!("heat in {} by: {from}", listed(&names))
        };
        page.hanging("  ", "    ", &told);
    }
}

/// Pump, suction and boiling, one row a state.
fn limits(page: &mut Page, row: &FlowRow, units: System) {
    let rows: Vec<Vec<String>> = row
        .states
        .iter()
        .filter_map(|state| {
            let figures = state.came.steady()?;
            let (hottest, open, capped) = match &figures.hottest {
                Some((_, hottest, open, capped)) => (Some(*hottest), Some(*open), *capped),
                None => (None, None, None),
            };
            let temperature = |value| Figure::Temperature.bare_or(value, units);
            Some(vec![
                state_name(&row.states, state),
                Figure::Pressure.bare(figures.pump, units),
                Figure::Pressure.bare(figures.suction, units),
                Figure::Pressure.bare(figures.suction_over_boiling, units),
                temperature(hottest),
                temperature(open),
                temperature(capped),
                Figure::Share.bare_or(figures.reserve, units),
            ])
        })
        .collect();
    if rows.is_empty() {
        return;
    }
    heading(page, "At the pump, and where it is hottest");
    let columns = [
        Column::words("state").at_most(20),
        Column::figures(head(units, "pump\nmbar", "pump\npsi")),
        Column::figures(head(units, "its inlet\nmbar", "its inlet\npsi")),
        Column::figures("over its\nboiling"),
        Column::figures(head(units, "hottest\n°C", "hottest\n°F")),
        Column::figures("boils\nno cap"),
        Column::figures("under\ncap"),
        Column::figures("sheds\n%"),
    ];
    page.table(0, &columns, &rows);
    let mut hottest: Vec<&str> = Vec::new();
    for state in &row.states {
        if let Some((spot, ..)) = state
            .came
            .steady()
            .and_then(|figures| figures.hottest.as_ref())
            && !hottest.contains(&spot.as_str())
        {
            hottest.push(spot);
        }
    }
    if !hottest.is_empty() {
        page.hanging("  ", "    ", &format!("Hottest in: {}.", listed(&hottest)));
    }
    page.hanging(
        "  ",
        "    ",
        "The pressures are with the cap holding nothing, as when its seal is worn. \
         \"Sheds\" is the heat that the circuit could shed with the thermostat fully open, \
         of the heat that there is.",
    );
}

/// Where the head goes in one state, the greatest loss first.
fn heads(page: &mut Page, row: &FlowRow, state: &StateRow, units: System, parts: Parts) {
    let Some(figures) = state.came.steady() else {
        return;
    };
    let mut losses: Vec<&ItemRow> = figures
        .items
        .iter()
        .filter(|item| !item.raw && item.drop > 0.0)
        .collect();
    if losses.is_empty() {
        return;
    }
    losses.sort_by(|a, b| b.drop.total_cmp(&a.drop));
    heading(
        page,
        &format!("Where the head goes: {}", state_name(&row.states, state)),
    );
    let shown = parts.most(PARTS);
    let columns = [
        Column::words("part").at_most(34),
        Column::figures(head(units, "loses\nmbar", "loses\npsi")),
        Column::figures(head(units, "flow\nL/min", "flow US\ngal/min")),
        Column::figures(head(units, "speed\nm/s", "speed\nft/s")),
        Column::figures(head(units, "bore\nmm", "bore\nin")),
        Column::words(""),
    ];
    let rows: Vec<Vec<String>> = losses
        .iter()
        .take(shown)
        .map(|item| {
            vec![
                item.title.clone(),
                Figure::Pressure.bare(item.drop, units),
                Figure::Flow.bare(item.flow, units),
                Figure::Speed.bare_or(item.speed, units),
                Figure::Bore.bare_or(item.bore, units),
                if item.suction { "suction" } else { "" }.to_owned(),
            ]
        })
        .collect();
    page.table(0, &columns, &rows);
    if let Some(next) = losses.get(shown) {
        let rest = match losses.len() - shown {
            1 => "1 part more loses".to_owned(),
            count => format!("{count} parts more lose, each,"),
        };
        let most = Figure::Pressure.text(next.drop, units);
        page.hanging(
            "  ",
            "    ",
            &format!("{rest} {most} at most: --all lists them."),
        );
    }
}

/// What the coolers do in one state.
fn coolers(page: &mut Page, row: &FlowRow, state: &StateRow, units: System) {
    let Some(figures) = state.came.steady() else {
        return;
    };
    if figures.coolers.is_empty() && row.areas.is_empty() {
        return;
    }
    heading(
        page,
        &format!("Coolers: {}", state_name(&row.states, state)),
    );
    cooler_table(page, &figures.coolers, units);
    for area in &row.areas {
        let mut told = vec![format!(
            "{}: {} outside",
            area.subject,
            Figure::Area.text(area.area, units)
        )];
        for (key, duty, needs) in &area.reckoned {
            told.push(format!(
                "by this reckoning {key}, {}, wants {}",
                duty_words(*duty),
                Figure::Area.text(*needs, units)
            ));
        }
        for (rule, asks, source) in &area.rules {
            told.push(format!(
                "{rule} asks {} ({source})",
                Figure::Area.text(*asks, units)
            ));
        }
        page.hanging("  – ", "    ", &told.join("; "));
    }
}

/// The coolers and stores as a table, with what holds their heat back.
pub fn cooler_table(page: &mut Page, coolers: &[CoolerRow], units: System) {
    if coolers.is_empty() {
        return;
    }
    let columns = [
        Column::words("cooler").at_most(28),
        Column::figures(head(units, "sheds\nkW", "sheds\nhp")),
        Column::figures(head(units, "in\n°C", "in\n°F")),
        Column::figures(head(units, "out\n°C", "out\n°F")),
        Column::figures("UA\nW/K"),
        Column::figures(head(units, "speed\nm/s", "speed\nft/s")),
        Column::figures("Re"),
        Column::figures(head(units, "raw out\n°C", "raw out\n°F")),
    ];
    let rows: Vec<Vec<String>> = coolers
        .iter()
        .map(|cooler| {
            let store = if cooler.store { ", a store" } else { "" };
            vec![
                format!("{}{store}", cooler.title),
                Figure::Heat.bare(cooler.heat, units),
                Figure::Temperature.bare(cooler.temperatures[0], units),
                Figure::Temperature.bare(cooler.temperatures[1], units),
                Figure::Ua.bare(cooler.ua, units),
                Figure::Speed.bare_or(cooler.speed, units),
                Figure::Reynolds.bare_or(cooler.reynolds, units),
                Figure::Temperature.bare_or(cooler.raw_out, units),
            ]
        })
        .collect();
    page.table(0, &columns, &rows);
    for cooler in coolers {
        if let Some(shares) = &cooler.shares {
            let told: Vec<String> = SHARES
                .iter()
                .zip(shares)
                .map(|(name, share)| format!("{name} {}", Figure::Share.text(*share, units)))
                .collect();
            page.hanging(
                "  – ",
                "    ",
                &format!(
                    "{} holds its heat back by {}",
                    cooler.subject,
                    listed(&told)
                ),
            );
        }
    }
}

/// What comes round without being cooled, and what stands.
fn beside(page: &mut Page, row: &FlowRow, units: System) {
    let mut lines: Vec<String> = Vec::new();
    for state in &row.states {
        let Some(figures) = state.came.steady() else {
            continue;
        };
        let name = state_name(&row.states, state);
        for (by, share) in &figures.stolen {
            lines.push(format!(
                "{name}: {} of the engine's flow comes round by {by}, past no cooler",
                Figure::Share.text(*share, units)
            ));
        }
        for standing in &figures.standing {
            // What stands, stands in every state alike; it is said once.
            let told = format!("stands still: {standing}");
            if !lines.contains(&told) {
                lines.push(told);
            }
        }
    }
    if lines.is_empty() {
        return;
    }
    heading(page, "Beside the coolers");
    for line in &lines {
        page.hanging("  – ", "    ", line);
    }
}

/// Which way a hole would leak, in words and with the pressure.
pub fn leak(pressure: f64, units: System) -> String {
    let shown = Figure::Pressure.text(pressure.abs(), units);
    let nought = !shown.contains(|digit: char| ('1'..='9').contains(&digit));
    if nought {
        "even".to_owned()
    } else if pressure > 0.0 {
        format!("coolant out, {shown}")
    } else {
        format!("sea in, {shown}")
    }
}

/// At the hull: stopped, in every state, and where it turns.
fn hull(page: &mut Page, row: &FlowRow, units: System) {
    if row.hull.is_empty() {
        return;
    }
    heading(page, "At the hull: which way it would leak");
    for place in &row.hull {
        page.hanging("  – ", "    ", &hull_line(place, units));
    }
}

fn hull_line(place: &HullRow, units: System) -> String {
    let mut told = vec![format!("stopped {}", leak(place.stopped, units))];
    for (state, revs, pressure) in &place.states {
        told.push(format!(
            "{state} at {} {}",
            Figure::Revs.text(*revs, units),
            leak(*pressure, units)
        ));
    }
    if let Some(turns) = place.turns {
        told.push(format!("it turns at {}", Figure::Revs.text(turns, units)));
    }
    if let Some(cap) = place.cap {
        told.push(format!(
            "a cap that holds adds {} outward",
            Figure::Pressure.text(cap, units)
        ));
    }
    format!(
        "{}, {} deep, {} of sea: {}",
        place.title,
        Figure::Length.text(place.depth, units),
        Figure::Pressure.text(place.sea, units),
        told.join("; ")
    )
}

/// Volume and header tank.
fn volume(page: &mut Page, volume: &VolumeRow, units: System) {
    heading(page, "Volume and header tank");
    let litres = |value: Option<f64>| {
        value.map_or_else(
            || NONE.to_owned(),
            |value| Figure::Volume.text(value, units),
        )
    };
    let whole = match volume.whole {
        Some(whole) if !volume.from.is_empty() => {
            format!("{}, {}", Figure::Volume.text(whole, units), volume.from)
        }
        whole => litres(whole),
    };
    let [cold, hot] = volume
        .temperatures
        .map(|celsius| Figure::Temperature.text(celsius, units));
    let mut rows = vec![
        vec!["circuit".to_owned(), whole],
        vec![
            "grows when hot".to_owned(),
            format!("{}, from {cold} to {hot}", litres(volume.growth)),
        ],
        vec!["room over the cold mark".to_owned(), litres(volume.room)],
        vec!["header tank".to_owned(), litres(volume.header)],
    ];
    let mut say = |name: &str, told: Option<String>| {
        if let Some(told) = told {
            rows.push(vec![name.to_owned(), told]);
        }
    };
    say(
        "level, cold and hot",
        volume.levels.map(|[cold, hot]| {
            format!(
                "{} and {}",
                Figure::Height.text(cold, units),
                Figure::Height.text(hot, units)
            )
        }),
    );
    let pressure = |value: Option<f64>| value.map(|value| Figure::Pressure.text(value, units));
    say("air over it comes to", pressure(volume.air));
    say("cap opens at", pressure(volume.cap));
    say(
        "cap lets out",
        volume.overflow.map(|lost| Figure::Volume.text(lost, units)),
    );
    page.table(0, &[Column::words(""), Column::words("")], &rows);
    if !volume.parts.is_empty() {
        let parts: Vec<String> = volume
            .parts
            .iter()
            .map(|(name, litres, from)| {
                format!("{name} {} ({from})", Figure::Volume.text(*litres, units))
            })
            .collect();
        page.hanging("  – ", "    ", &format!("in it: {}", parts.join("; ")));
    }
    for missing in &volume.missing {
        page.hanging(
            "  – ",
            "    ",
            &format!("unmeasured: {} → {}", missing.why, missing.settles.how),
        );
    }
}

/// The most that the circuit can do, a line a state.
fn most(page: &mut Page, row: &FlowRow, units: System) {
    if row.most.is_empty() {
        return;
    }
    heading(page, "The most it can do");
    for most in &row.most {
        page.hanging("  – ", "    ", &most_line(most, units));
    }
}

fn most_line(most: &MostRow, units: System) -> String {
    let temperature = |celsius: f64| Figure::Temperature.text(celsius, units);
    let (limit, why) = &most.limit;
    let sea = match most.sea {
        Some(sea) => format!("the warmest sea is {}", temperature(sea)),
        None => "no sea is cold enough".to_owned(),
    };
    let mut told = vec![sea];
    if !most.power.is_empty() {
        let power: Vec<String> = most
            .power
            .iter()
            .map(|(sea, power)| match power {
                Some(power) => format!(
                    "{} in a sea of {}",
                    Figure::Heat.text(*power, units),
                    temperature(*sea)
                ),
                None => format!("none in a sea of {}", temperature(*sea)),
            })
            .collect();
        told.push(format!("the greatest steady power {}", listed(&power)));
    }
    told.push(match most.smallest {
        Some(share) => format!(
            "{} of the cooler's surface would do here",
            Figure::Share.text(share, units)
        ),
        None => "no cooler of this kind does".to_owned(),
    });
    format!(
        "{}, up to {} ({why}): {}",
        most.key,
        temperature(*limit),
        told.join("; ")
    )
}

/// What nobody measured: the value that stands in, whence, and where a measured one goes.
fn assumed(page: &mut Page, row: &FlowRow, manner: &Manner) {
    if row.assumed.is_empty() {
        return;
    }
    heading(page, "Assumed, as nobody measured it");
    for assumed in &row.assumed {
        let place = match manner.file {
            Some(file) => format!("{} at {}", assumed.place, file.shown(&assumed.place)),
            None => assumed.place.clone(),
        };
        page.hanging(
            "  – ",
            "    ",
            &format!(
                "{}: ({}) assumed; {}. A measured one goes into {place}.",
                assumed.what,
                assumed.value.in_units(manner.units),
                assumed.source
            ),
        );
    }
}

/// What the figures leave out.
fn notes(page: &mut Page, row: &FlowRow, units: System) {
    if row.notes.is_empty() {
        return;
    }
    heading(page, "Left out of the figures");
    for note in &row.notes {
        page.hanging("  – ", "    ", note.in_units(units));
    }
}

/// Arrangements side by side: one row a state and arrangement, the states together.
pub fn side_by_side(page: &mut Page, rows: &[&FlowRow], units: System) {
    let mut names: Vec<String> = Vec::new();
    for row in rows {
        for state in &row.states {
            let name = state_name(&row.states, state);
            if !names.contains(&name) {
                names.push(name);
            }
        }
    }
    let mut table: Vec<Vec<String>> = Vec::new();
    for name in &names {
        let mut first = true;
        for row in rows {
            let Some(state) = row
                .states
                .iter()
                .find(|state| state_name(&row.states, state) == *name)
            else {
                continue;
            };
            let figures = state.came.steady();
            let temperature = |value| Figure::Temperature.bare_or(value, units);
            table.push(vec![
                if std::mem::take(&mut first) {
                    name.clone()
                } else {
                    String::new()
                },
                arrangement(row).to_owned(),
                temperature(figures.map(|figures| figures.out.mid)),
                temperature(figures.map(|figures| figures.back.mid)),
                Figure::Share.bare_or(
                    figures
                        .and_then(|figures| figures.lift)
                        .map(|lift| lift.mid),
                    units,
                ),
                Figure::Flow.bare_or(figures.map(|figures| figures.flow), units),
                Figure::Flow.bare_or(figures.map(|figures| figures.cooled), units),
                Figure::Pressure.bare_or(figures.map(|figures| figures.suction), units),
            ]);
        }
    }
    if table.is_empty() {
        return;
    }
    page.gap();
    let columns = [
        Column::words("state").at_most(18),
        Column::words("arrangement").at_most(14),
        Column::figures(head(units, "engine\nout °C", "engine\nout °F")),
        Column::figures(head(units, "back\n°C", "back\n°F")),
        Column::figures("stat\nopen %"),
        Column::figures(head(units, "flow\nL/min", "flow US\ngal/min")),
        Column::figures(head(units, "cooled\nL/min", "cooled US\ngal/min")),
        Column::figures(head(units, "inlet\nmbar", "inlet\npsi")),
    ];
    page.table(0, &columns, &table);
}

/// The arrangement in words.
pub fn arrangement(row: &FlowRow) -> &str {
    row.arrangement.as_deref().unwrap_or("as it stands")
}
