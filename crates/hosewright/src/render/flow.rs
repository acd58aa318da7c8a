//! Flow and heat of one arrangement on one page: the states, where the head goes, what the coolers do, the hull.

mod limits;

use quantity::System;
use reckon::stages::flow::{
    AreaRow, Came, CoolerRow, Figures, FlowRow, ItemRow, StateRow, Uncooled,
};

use super::{Manner, heading};
use crate::figure::{Figure, NONE, head, named, state_name};
use crate::text::{Column, Page, listed};

/// How many parts are listed where not all of them are asked for.
const PARTS: usize = 8;
/// A part that loses less than this share of the greatest loss is not worth a line of the short list.
const SMALL: f64 = 0.02;
/// A share of a cooler's resistance below this is told with the rest.
const MINOR: f64 = 0.1;
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

/// Whether it is said whence a rule or an assumed value comes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sources {
    /// Value and place only.
    Left,
    /// In full.
    Named,
}

/// The whole page of an arrangement, without its head and its verdicts; `parts` and `sources` say how much of it.
pub fn flow(page: &mut Page, row: &FlowRow, manner: &Manner, parts: Parts, sources: Sources) {
    let units = manner.units;
    if row.states.is_empty() {
        nothing(page, row);
    } else {
        states(page, row, units, sources);
        pressures(page, row, units);
        if let Some(state) = hardest(row) {
            heads(page, row, state, units, parts);
            coolers(page, row, state, units, sources);
        }
        beside(page, row, units);
    }
    limits::hull(page, row, units);
    if let Some(volume) = &row.volume {
        limits::volume(page, volume, units, sources);
    }
    limits::most(page, row, units);
    rests_on(page, row, manner, sources);
}

/// What the figures rest on: the typical values that stand in, and what is left out.
pub fn rests_on(page: &mut Page, row: &FlowRow, manner: &Manner, sources: Sources) {
    limits::assumed(page, row, manner, sources);
    limits::notes(page, row, manner.units);
}

/// A table whose heads are not known before it is written, such as names of the owner's.
fn table_of(page: &mut Page, columns: &[Column], heads: Vec<String>, rows: Vec<Vec<String>>) {
    let all: Vec<Vec<String>> = std::iter::once(heads).chain(rows).collect();
    page.table(0, columns, &all);
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
fn states(page: &mut Page, row: &FlowRow, units: System, sources: Sources) {
    heading(page, "States");
    let columns = [
        Column::words("state").at_most(20),
        Column::figures("rpm"),
        Column::figures("kn"),
        Column::figures(head(units, "sea\n°C", "sea\n°F")),
        Column::figures(head(units, "heat\nkW", "heat\nhp")),
        Column::figures(head(units, "engine\nout °C", "engine\nout °F")),
        Column::figures(head(units, "back\n°C", "back\n°F")),
        Column::figures("stat\nopen"),
        Column::figures(head(units, "flow\nL/min", "flow\nUS gal\n/min")),
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
                        |lift| Figure::Share.text(lift.mid, units),
                    )
                }),
                of(&|figures| Figure::Flow.bare(figures.flow, units)),
            ]
        })
        .collect();
    page.table(0, &columns, &rows);
    without_figures(page, row);
    heat_from(page, row, sources);
}

/// Why states have no figures, each with its remedy; a remedy that serves several is said once, below them.
fn without_figures(page: &mut Page, row: &FlowRow) {
    let mut remedies: Vec<&str> = Vec::new();
    for state in &row.states {
        let name = state_name(&row.states, state);
        let told = match &state.came {
            Came::Steady(_) => continue,
            Came::NoSteadyState(_) => match came(state) {
                Some(told) => format!("{name}: {told}"),
                None => continue,
            },
            Came::Unsolvable(why) => format!("{name}: no answer. {why}"),
            Came::Unmeasured(missing) => {
                if !remedies.contains(&missing.settles.how.as_str()) {
                    remedies.push(&missing.settles.how);
                }
                format!("{name}: unmeasured. {}", missing.why)
            }
        };
        page.hanging("  – ", "    ", &told);
    }
    for remedy in remedies {
        page.hanging("  → ", "    ", remedy);
    }
}

/// What came of a state that has no figures, in words.
pub fn came(state: &StateRow) -> Option<String> {
    match &state.came {
        Came::Steady(_) => None,
        Came::NoSteadyState(why) => Some(format!("no steady state. {why}{}", without_raw(state))),
        Came::Unsolvable(why) => Some(format!("no answer. {why}")),
        Came::Unmeasured(missing) => Some(format!(
            "unmeasured. {} → {}",
            missing.why, missing.settles.how
        )),
    }
}

/// How long the coolant has without raw water, and what else is not cooled then.
fn without_raw(state: &StateRow) -> String {
    let Some(dry) = &state.dry else {
        return String::new();
    };
    let left = dry.uncooled.as_ref().map_or_else(String::new, |left| {
        let told = until(left);
        if told.is_empty() {
            String::new()
        } else {
            format!("; uncooled it has {}", listed(&told))
        }
    });
    let exhaust = if dry.exhaust {
        ". Nothing cools the exhaust: its hose burns through within a minute, and lets the gas into the boat"
    } else {
        ""
    };
    format!("{left}{exhaust}")
}

/// The times that the coolant has once nothing cools it, each with what comes then.
pub fn until(left: &Uncooled) -> Vec<String> {
    let told = [
        (left.alarm, "to the alarm"),
        (left.boils, "to boiling without a cap"),
    ];
    told.into_iter()
        .filter_map(|(seconds, what)| Some(format!("{} {what}", time(seconds?))))
        .collect()
}

/// A time that one has, rounded down.
fn time(seconds: f64) -> String {
    reckon::lasts(seconds).unwrap_or_else(|| "no time".to_owned())
}

/// Whence the heat comes, said once for all states that have it from the same place; in full also how far the engine
/// is loaded in each.
fn heat_from(page: &mut Page, row: &FlowRow, sources: Sources) {
    let mut said: Vec<(&str, Vec<&str>)> = Vec::new();
    for state in &row.states {
        // `a share of the power, at 8 % of the power` is the means, and how far the engine is loaded.
        let means = match sources {
            Sources::Named => state.heat_from.as_str(),
            Sources::Left => state.heat_from.split(", at ").next().unwrap_or_default(),
        };
        if means.is_empty() {
            continue;
        }
        match said.iter_mut().find(|(own, _)| *own == means) {
            // A state that stands twice, moving and lying, is named once.
            Some((_, keys)) if keys.contains(&state.key.as_str()) => {}
            Some((_, keys)) => keys.push(&state.key),
            None => said.push((means, vec![&state.key])),
        }
    }
    let told: Vec<String> = match said.as_slice() {
        [] => return,
        [(means, _)] => vec![format!("Heat: {means}.")],
        several => several
            .iter()
            .map(|(means, keys)| format!("Heat in {}: {means}.", listed(keys)))
            .collect(),
    };
    for line in told {
        page.hanging("  ", "    ", &line);
    }
}

/// Pump, suction and boiling, one row a state.
fn pressures(page: &mut Page, row: &FlowRow, units: System) {
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
        Column::figures(head(units, "pump\nkPa", "pump\npsi")),
        Column::figures(head(units, "its inlet\nkPa", "its inlet\npsi")),
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
        "The cap holds nothing here, as when its seal is worn. Sheds: what the coolers could shed \
         with the thermostat fully open, of the heat that there is.",
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
    let most = losses.first().map_or(0.0, |item| item.drop);
    let worth = losses
        .iter()
        .take_while(|item| item.drop >= SMALL * most)
        .count();
    let shown = parts.most(PARTS.min(worth));
    let columns = [
        Column::words("part").at_most(34),
        Column::figures(head(units, "loses\nkPa", "loses\npsi")),
        Column::figures(head(units, "flow\nL/min", "flow\nUS gal\n/min")),
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
            &format!("{rest} {most} at most: --all lists all."),
        );
    }
}

/// What the coolers do in one state.
fn coolers(page: &mut Page, row: &FlowRow, state: &StateRow, units: System, sources: Sources) {
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
        page.hanging("  – ", "    ", &area_line(row, area, units));
        if sources == Sources::Named {
            for told in area_lines(row, area, units) {
                page.hanging("      ", "        ", &told);
            }
        }
    }
}

/// The name of a state in which an area is wanted.
fn wanting(row: &FlowRow, key: &str, duty: reckon::stages::flow::Duty) -> String {
    let twice = row.states.iter().filter(|state| state.key == key).count() > 1;
    named(key, twice.then_some(duty))
}

/// Surface of a cooler in the sea, what the hardest state wants, and the spread of the rules of thumb.
fn area_line(row: &FlowRow, area: &AreaRow, units: System) -> String {
    let mut told = vec![format!(
        "{} has {} in the sea",
        area.subject,
        Figure::Area.text(area.area, units)
    )];
    let hardest = area.reckoned.iter().max_by(|a, b| a.2.total_cmp(&b.2));
    if let Some((key, duty, needs)) = hardest {
        told.push(format!(
            "by reckoning it wants {} in {}",
            Figure::Area.text(*needs, units),
            wanting(row, key, *duty)
        ));
    }
    let asked =
        |pick: fn(f64, f64) -> f64| area.rules.iter().map(|(_, asks, _)| *asks).reduce(pick);
    if let (Some(low), Some(high)) = (asked(f64::min), asked(f64::max)) {
        let mid = 0.5 * (low + high);
        let span = Figure::RuledArea.span(reckon::stages::flow::Span { low, mid, high }, units);
        told.push(format!("{span} by rules of thumb, no answer"));
    }
    told.join("; ")
}

/// Every state and every rule of a cooler's surface, with its source.
fn area_lines(row: &FlowRow, area: &AreaRow, units: System) -> Vec<String> {
    let reckoned = area.reckoned.iter().map(|(key, duty, needs)| {
        format!(
            "by reckoning it wants {} in {}",
            Figure::Area.text(*needs, units),
            wanting(row, key, *duty)
        )
    });
    let mut told: Vec<String> = reckoned.collect();
    // Rules of one source stand together, so that it is named once.
    let mut said: Vec<(&str, Vec<String>)> = Vec::new();
    for (rule, asks, source) in &area.rules {
        let rule = format!("{rule} {}", Figure::RuledArea.text(*asks, units));
        match said.iter_mut().find(|(own, _)| own == source) {
            Some((_, rules)) => rules.push(rule),
            None => said.push((source, vec![rule])),
        }
    }
    for (source, rules) in said {
        told.push(format!(
            "rules of thumb: {}; source: {source}",
            listed(&rules)
        ));
    }
    told
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
            vec![
                cooler.title.clone(),
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
            let mut held: Vec<(&str, f64)> = SHARES.into_iter().zip(*shares).collect();
            held.sort_by(|a, b| b.1.total_cmp(&a.1));
            let told: Vec<String> = held
                .iter()
                .filter(|(_, share)| *share >= MINOR)
                .map(|(name, share)| format!("{name} {}", Figure::Share.text(*share, units)))
                .collect();
            page.hanging(
                "  – ",
                "    ",
                &format!(
                    "what holds the heat of {} back: {}",
                    cooler.subject,
                    listed(&told)
                ),
            );
        }
    }
}

/// What comes round without being cooled, a line an item over all states, and what stands.
fn beside(page: &mut Page, row: &FlowRow, units: System) {
    let mut stolen: Vec<(&str, Vec<(f64, String)>)> = Vec::new();
    let mut standing: Vec<&str> = Vec::new();
    for state in &row.states {
        let Some(figures) = state.came.steady() else {
            continue;
        };
        for (by, share) in &figures.stolen {
            let own = (*share, state_name(&row.states, state));
            match stolen.iter_mut().find(|(name, _)| name == by) {
                Some((_, shares)) => shares.push(own),
                None => stolen.push((by, vec![own])),
            }
        }
        for stands in &figures.standing {
            // What stands, stands in every state alike; it is said once.
            if !standing.contains(&stands.as_str()) {
                standing.push(stands);
            }
        }
    }
    if stolen.is_empty() && standing.is_empty() {
        return;
    }
    heading(
        page,
        "Beside the coolers: flow of the engine that is not cooled",
    );
    for (by, shares) in &stolen {
        let least = shares.iter().min_by(|a, b| a.0.total_cmp(&b.0));
        let most = shares.iter().max_by(|a, b| a.0.total_cmp(&b.0));
        let (Some((low, _)), Some((high, name))) = (least, most) else {
            continue;
        };
        let mid = 0.5 * (low + high);
        let span = reckon::stages::flow::Span {
            low: *low,
            mid,
            high: *high,
        };
        let shown = Figure::Share.span(span, units);
        let told = if shown.contains(" to ") {
            format!("{by}: {shown}, most in {name}")
        } else {
            format!("{by}: {shown}")
        };
        page.hanging("  – ", "    ", &told);
    }
    for stands in standing {
        page.hanging("  – ", "    ", &format!("stands still: {stands}"));
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
                figures.and_then(|figures| figures.lift).map_or_else(
                    || NONE.to_owned(),
                    |lift| Figure::Share.text(lift.mid, units),
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
        Column::words("state").at_most(20),
        Column::words("arrangement").at_most(14),
        Column::figures(head(units, "engine\nout °C", "engine\nout °F")),
        Column::figures(head(units, "back\n°C", "back\n°F")),
        Column::figures("stat\nopen"),
        Column::figures(head(units, "flow\nL/min", "flow\nUS gal\n/min")),
        Column::figures(head(units, "cooled\nL/min", "cooled\nUS gal\n/min")),
        Column::figures(head(units, "inlet\nkPa", "inlet\npsi")),
    ];
    page.table(0, &columns, &table);
}

/// The arrangement in words.
pub fn arrangement(row: &FlowRow) -> &str {
    row.arrangement.as_deref().unwrap_or("as it stands")
}
