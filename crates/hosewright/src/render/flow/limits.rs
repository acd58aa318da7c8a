//! The lower half of the page of flow: the hull, the volume, the most that it can do, and what is assumed.

use quantity::System;
use reckon::stages::flow::{FlowRow, HullRow, MostRow, VolumeRow};

use super::{Sources, table_of};
use crate::figure::{Figure, NONE, head};
use crate::render::{Manner, heading};
use crate::text::{Column, Page, listed};

/// How many states stand beside one another at the hull; more of them go into a further table.
const ABREAST: usize = 4;
/// The warmest sea that is tried [°C].
const WARMEST: f64 = 60.0;
/// The smallest share of the surface that is tried.
const SMALLEST: f64 = 0.05;
/// A volume below this [m³] shows as nothing and is not listed.
const DROP: f64 = 0.05e-3;

/// Which way a hole would leak, in a word and with the pressure.
fn leak(pressure: f64, units: System) -> String {
    let shown = Figure::Pressure.bare(pressure.abs(), units);
    let nought = !shown.contains(|digit: char| ('1'..='9').contains(&digit));
    if nought {
        "even".to_owned()
    } else if pressure > 0.0 {
        format!("{shown} out")
    } else {
        format!("{shown} in")
    }
}

/// At the hull: stopped, in every state, and where it turns.
pub(super) fn hull(page: &mut Page, row: &FlowRow, units: System) {
    if row.hull.is_empty() {
        return;
    }
    let unit = head(units, "kPa", "psi");
    heading(
        page,
        &format!("At the hull: which way it would leak, {unit}"),
    );
    let mut keys: Vec<&str> = Vec::new();
    for (key, ..) in row.hull.iter().flat_map(|place| &place.states) {
        if !keys.contains(&key.as_str()) {
            keys.push(key);
        }
    }
    let turns = row.hull.iter().any(|place| place.turns.is_some());
    let chunks: Vec<&[&str]> = if keys.is_empty() {
        vec![&[]]
    } else {
        keys.chunks(ABREAST).collect()
    };
    let last = chunks.len() - 1;
    for (at, states) in chunks.into_iter().enumerate() {
        hull_table(page, &row.hull, states, at == 0, turns && at == last, units);
    }
    let mut caps: Vec<String> = Vec::new();
    for cap in row.hull.iter().filter_map(|place| place.cap) {
        let cap = Figure::Pressure.text(cap, units);
        if !caps.contains(&cap) {
            caps.push(cap);
        }
    }
    let cap = if caps.is_empty() {
        String::new()
    } else {
        format!("; one that holds adds {} outward", listed(&caps))
    };
    page.hanging(
        "  ",
        "    ",
        &format!(
            "Out: coolant into the sea. In: sea into the coolant. The cap holds nothing{cap}."
        ),
    );
}

fn hull_table(
    page: &mut Page,
    hull: &[HullRow],
    states: &[&str],
    first: bool,
    turns: bool,
    units: System,
) {
    let mut heads = vec!["place".to_owned()];
    let mut columns = vec![Column::words("").at_most(16)];
    let mut column = |told: String| {
        heads.push(told);
        columns.push(Column::figures("").at_most(10));
    };
    if first {
        column(head(units, "mm deep", "in deep").to_owned());
        column("stopped".to_owned());
    }
    for key in states {
        column((*key).to_owned());
    }
    if turns {
        column("turns at\nrpm".to_owned());
    }
    // Places at which all is the same share a row.
    let mut rows: Vec<(Vec<&str>, Vec<String>)> = Vec::new();
    for place in hull {
        let mut cells = Vec::new();
        if first {
            cells.push(Figure::Length.bare(place.depth, units));
            cells.push(leak(place.stopped, units));
        }
        for key in states {
            let own = place.states.iter().find(|(own, ..)| own == key);
            cells.push(own.map_or_else(|| NONE.to_owned(), |(_, _, own)| leak(*own, units)));
        }
        if turns {
            cells.push(Figure::Revs.bare_or(place.turns, units));
        }
        match rows.iter_mut().find(|(_, own)| *own == cells) {
            Some((names, _)) => names.push(&place.title),
            None => rows.push((vec![&place.title], cells)),
        }
    }
    let rows = rows
        .into_iter()
        .map(|(names, cells)| std::iter::once(listed(&names)).chain(cells).collect())
        .collect();
    table_of(page, &columns, heads, rows);
}

/// Volume and header tank.
pub(super) fn volume(page: &mut Page, volume: &VolumeRow, units: System, sources: Sources) {
    heading(page, "Volume and header tank");
    let litres = |value: f64| Figure::Volume.text(value, units);
    let known: f64 = volume.parts.iter().map(|(_, litres, _)| litres).sum();
    let mut rows = vec![vec![
        "circuit".to_owned(),
        match volume.whole {
            Some(whole) if !volume.from.is_empty() => {
                format!("{}, {}", litres(whole), volume.from)
            }
            Some(whole) => litres(whole),
            None => format!("{NONE}, {} of it known", litres(known)),
        },
    ]];
    let mut say = |name: &str, told: Option<String>| {
        if let Some(told) = told {
            rows.push(vec![name.to_owned(), told]);
        }
    };
    let [cold, hot] = volume
        .temperatures
        .map(|celsius| Figure::Temperature.text(celsius, units));
    say(
        "grows when hot",
        volume
            .growth
            .map(|growth| format!("{}, from {cold} to {hot}", litres(growth))),
    );
    say("room over the cold mark", volume.room.map(litres));
    say("header tank", volume.header.map(litres));
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
        volume.overflow.filter(|lost| *lost >= DROP).map(litres),
    );
    page.table(0, &[Column::words(""), Column::words("")], &rows);
    if let Some(told) = contents(volume, units) {
        page.hanging("  – ", "    ", &told);
    }
    missing(page, volume, sources);
}

/// What is in it, by whence it is known.
fn contents(volume: &VolumeRow, units: System) -> Option<String> {
    let mut said: Vec<(&str, Vec<String>)> = Vec::new();
    for (name, litres, from) in volume.parts.iter().filter(|(_, litres, _)| *litres >= DROP) {
        let told = format!("{name} {}", Figure::Volume.text(*litres, units));
        match said.iter_mut().find(|(own, _)| own == from) {
            Some((_, parts)) => parts.push(told),
            None => said.push((from, vec![told])),
        }
    }
    let told: Vec<String> = said
        .iter()
        .map(|(from, parts)| format!("{}, {from}", listed(parts)))
        .collect();
    (!told.is_empty()).then(|| format!("in it: {}", told.join("; ")))
}

/// What is not known, in one line, and the remedy that settles most of it; in full the others too.
fn missing(page: &mut Page, volume: &VolumeRow, sources: Sources) {
    let mut told: Vec<&str> = Vec::new();
    let mut remedies: Vec<&str> = Vec::new();
    for missing in &volume.missing {
        let place = missing.settles.place.as_str();
        let of_parts = place == "coolant.drained" || place.ends_with(".volume");
        // What single parts hold does not matter where the whole was metered.
        if of_parts && volume.whole.is_some() {
            continue;
        }
        told.push(if place.ends_with(".above_mark") {
            "the header up to its mark"
        } else {
            // A sentence of this kind comes down to what it names; any other stands as it is.
            let why = missing.why.trim_end_matches('.');
            why.strip_prefix("the volume of ")
                .and_then(|why| why.strip_suffix(" is not written"))
                .unwrap_or(why)
        });
        if !remedies.contains(&missing.settles.how.as_str()) {
            remedies.push(&missing.settles.how);
        }
    }
    if told.is_empty() {
        return;
    }
    let told = told.join("; ");
    page.hanging("  – ", "    ", &format!("volumes not written: {told}"));
    let shown = match sources {
        Sources::Left => 1,
        Sources::Named => remedies.len(),
    };
    for remedy in remedies.iter().take(shown) {
        page.hanging("  → ", "    ", remedy);
    }
}

/// The most that the circuit can do, a row a state.
pub(super) fn most(page: &mut Page, row: &FlowRow, units: System) {
    if row.most.is_empty() {
        return;
    }
    heading(page, "The most it can do");
    let mut limits: Vec<(String, &str)> = Vec::new();
    for most in &row.most {
        let limit = limit_of(most, units);
        if !limits.contains(&limit) {
            limits.push(limit);
        }
    }
    let one = limits.len() == 1;
    let mut heads = vec!["\nstate".to_owned()];
    let mut columns = vec![Column::words("").at_most(20)];
    let mut column = |told: String| {
        heads.push(told);
        columns.push(Column::figures("").at_most(10));
    };
    if !one {
        column(head(units, "up to\n°C", "up to\n°F").to_owned());
    }
    column(head(units, "warmest\nsea °C", "warmest\nsea °F").to_owned());
    column("surface\nneeded".to_owned());
    let rows = row
        .most
        .iter()
        .map(|most| most_cells(most, one, units))
        .collect();
    table_of(page, &columns, heads, rows);
    let told: Vec<String> = limits
        .iter()
        .map(|(limit, why)| format!("{limit} ({why})"))
        .collect();
    page.hanging(
        "  ",
        "    ",
        &format!(
            "With the coolant out of the engine up to {}.",
            listed(&told)
        ),
    );
    for most in row.most.iter().filter(|most| !most.power.is_empty()) {
        page.hanging("  ", "    ", &power_line(most, units));
    }
}

/// The greatest steady power in several seas, no greater than the rated one; where it is the same in all, once.
fn power_line(most: &MostRow, units: System) -> String {
    let temperature = |celsius| Figure::Temperature.text(celsius, units);
    let power = |power: Option<f64>| {
        power.map_or_else(
            || "none".to_owned(),
            |power| Figure::Heat.text(power, units),
        )
    };
    let told: Vec<(String, String)> = most
        .power
        .iter()
        .map(|(sea, own)| (power(*own), temperature(*sea)))
        .collect();
    let by_sea = match told.as_slice() {
        [(first, _), .., (last, warmest)] if told.iter().all(|(own, _)| own == first) => {
            format!("{last} up to {warmest}")
        }
        _ => {
            let each: Vec<String> = told
                .iter()
                .map(|(own, sea)| format!("{own} at {sea}"))
                .collect();
            listed(&each)
        }
    };
    format!(
        "Greatest steady power in {}, with the greatest heat that it may bring and the rated one at most, by the sea: {by_sea}.",
        most.key
    )
}

fn limit_of(most: &MostRow, units: System) -> (String, &str) {
    let (limit, why) = &most.limit;
    (Figure::Temperature.text(*limit, units), why)
}

fn most_cells(most: &MostRow, one: bool, units: System) -> Vec<String> {
    let mut cells = vec![most.key.clone()];
    if !one {
        cells.push(Figure::Temperature.bare(most.limit.0, units));
    }
    cells.push(match most.sea {
        // Nothing warmer is tried.
        Some(sea) if sea >= WARMEST - 0.01 => {
            format!("≥ {}", Figure::Temperature.bare(sea, units))
        }
        Some(sea) => Figure::Temperature.bare(sea, units),
        None => "none".to_owned(),
    });
    cells.push(match most.smallest {
        Some(share) if share <= SMALLEST + 1e-4 => {
            format!("≤ {}", Figure::Share.text(share, units))
        }
        Some(share) => Figure::Share.text(share, units),
        None => "none does".to_owned(),
    });
    cells
}

/// What nobody measured: the value that stands in, and where a measured one goes.
pub(super) fn assumed(page: &mut Page, row: &FlowRow, manner: &Manner, sources: Sources) {
    if row.assumed.is_empty() {
        return;
    }
    // The name of the file stands in the heading, so that a value and its place fit on one line.
    let goes = match manner.file {
        Some(file) => format!(" · a measured one goes into {} at", file.held.name()),
        None => String::new(),
    };
    heading(page, &format!("Assumed, as nobody measured it{goes}"));
    for assumed in &row.assumed {
        let place = match manner.file {
            Some(file) => {
                let shown = file.shown(&assumed.place);
                let line = shown.strip_prefix(&format!("{}:", file.held.name()));
                line.unwrap_or(&shown).to_owned()
            }
            None => assumed.place.clone(),
        };
        let value = assumed.value.in_units(manner.units);
        let mut told = format!("{}: ({value}) · {place}", assumed.what);
        if sources == Sources::Named {
            told = format!("{told}, {}; source: {}", assumed.place, assumed.source);
        }
        page.hanging("  ", "    ", &told);
    }
}

/// What the figures leave out.
pub(super) fn notes(page: &mut Page, row: &FlowRow, units: System) {
    if row.notes.is_empty() {
        return;
    }
    heading(page, "Left out of the figures");
    for note in &row.notes {
        page.hanging("  – ", "    ", note.in_units(units));
    }
}
