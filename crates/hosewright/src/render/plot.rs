//! Plots of flow and heat as SVG: black lines told apart by their dashes, every axis with its unit.
//!
//! Same figures, same bytes. What rests on an assumed value says so in a dashed box, in italics and in words.

use quantity::System;
use reckon::stages::flow::{Figures, FlowRow, PlaceRow, StateRow};

use super::draw::{Anchor, Drawing, FINE, LEFT, Mark, Panel, Pen, RIGHT, Scale, Spot, THIN};
pub use super::draw::{MARK, escaped};
use super::flow::hardest;
use crate::figure::{Figure, ICE, state_name};

/// From one line of text to the next.
const LINE: f64 = 18.0;
/// Letters in a line of the foot; the usual letter is a little over half as wide as high.
const LETTERS: usize = 64;
/// Dashes of states, in order. Not among them are those that mean something: assumed 6-4, limit 6-3, sea 2-3,
/// boiling 1-2-4-2.
const KINDS: [&str; 8] = [
    "",
    "14 4",
    "10 3 2 3",
    "3 3",
    "8 2 2 2 2 2",
    "1 4",
    "20 3 5 3",
    "2 7",
];
const ASSUMED: &str = "6 4";
const LIMIT: &str = "6 3";
const SEA: &str = "2 3";
const BOILS: &str = "1 2 4 2";

/// A value of the circuit in the unit of its axis.
fn on_axis(figure: Figure, value: f64, units: System) -> f64 {
    let si = match figure {
        Figure::Temperature => value + ICE,
        _ => value,
    };
    figure.unit(units).from_si(si)
}

/// The places along the loop, from the pump on.
fn along(figures: &Figures) -> Vec<(&PlaceRow, f64)> {
    let mut places: Vec<(&PlaceRow, f64)> = figures
        .places
        .iter()
        .filter_map(|place| Some((place, place.along.filter(|along| along.is_finite())?)))
        .collect();
    places.sort_by(|(_, a), (_, b)| a.total_cmp(b));
    places
}

/// A state with its figures, as it is drawn.
struct Drawn<'a> {
    state: &'a StateRow,
    figures: &'a Figures,
    name: String,
    dash: &'static str,
}

/// The states that have figures, each with a dash of its own, and how many more there are than dashes.
fn drawn(row: &FlowRow) -> (Vec<Drawn<'_>>, usize) {
    let steady: Vec<(&StateRow, &Figures)> = row
        .states
        .iter()
        .filter_map(|state| Some((state, state.came.steady()?)))
        .collect();
    let more = steady.len().saturating_sub(KINDS.len());
    let drawn = steady
        .into_iter()
        .zip(KINDS)
        .map(|((state, figures), dash)| Drawn {
            state,
            figures,
            name: state_name(&row.states, state),
            dash,
        })
        .collect();
    (drawn, more)
}

/// Head of a plot: what it is, and what it shows. Gives the height of its last line.
fn head(drawing: &mut Drawing, title: &str, says: &str) -> f64 {
    let at = |y| Spot { x: 16.0, y };
    drawing.styled(
        at(26.0),
        Anchor::Start,
        " font-size=\"16\" font-weight=\"bold\"",
        title,
    );
    let mut y = 30.0;
    for line in textwrap::wrap(says, LETTERS) {
        y += LINE;
        drawing.text(at(y), Anchor::Start, &line);
    }
    y
}

/// A phrase as it stands within a sentence: its first letter small, unless it begins a name in capitals.
fn within(phrase: &str) -> String {
    let mut letters = phrase.chars();
    match (letters.next(), letters.clone().next()) {
        (Some(first), Some(second)) if !second.is_uppercase() => {
            first.to_lowercase().chain(letters).collect()
        }
        _ => phrase.to_owned(),
    }
}

/// Foot of a plot: what is left out, and what is assumed. Gives the height of the whole.
fn foot(drawing: &mut Drawing, row: &FlowRow, more: usize, from: f64) -> f64 {
    let mut y = from;
    if more > 0 {
        let told = format!(
            "Only the first {} states are drawn; {more} more have figures.",
            KINDS.len()
        );
        drawing.text(Spot { x: 16.0, y }, Anchor::Start, &told);
        y += LINE;
    }
    if row.assumed.is_empty() {
        return y + 8.0;
    }
    let what: Vec<String> = row
        .assumed
        .iter()
        .map(|assumed| within(&assumed.what))
        .collect();
    let told = format!("(Assumed, not measured: {}.)", what.join("; "));
    let lines = textwrap::wrap(&told, LETTERS);
    let top = y - 8.0;
    y += 10.0;
    for line in &lines {
        drawing.styled(
            Spot { x: 28.0, y },
            Anchor::Start,
            " font-style=\"italic\"",
            line,
        );
        y += LINE;
    }
    drawing.frame(
        Spot { x: 16.0, y: top },
        Spot {
            x: RIGHT,
            y: y - 6.0,
        },
        Pen::dashed(1.5, ASSUMED),
    );
    y + 10.0
}

/// A sample of a line with what it says.
fn legend(drawing: &mut Drawing, y: f64, pen: Pen, says: &str) {
    let from = Spot {
        x: 16.0,
        y: y - 4.0,
    };
    drawing.line(from, Spot { x: 48.0, ..from }, pen);
    drawing.text(Spot { x: LEFT, y }, Anchor::Start, says);
}

/// Static and total pressure over the distance round the loop, a line kind a state; below it the heights, and the
/// coolant beside where it boils. `None` where no state has figures along the loop.
pub fn grade_line_svg(row: &FlowRow, title: &str, units: System) -> Option<String> {
    let (states, more) = drawn(row);
    let states: Vec<Drawn> = states
        .into_iter()
        .filter(|drawn| along(drawn.figures).len() > 1)
        .collect();
    let first = states.first()?;
    let pressure = |value| on_axis(Figure::Pressure, value, units);
    let distance = |value| on_axis(Figure::Along, value, units);
    let x = Scale::over(
        states
            .iter()
            .flat_map(|drawn| along(drawn.figures))
            .map(|(_, at)| distance(at))
            .chain([0.0]),
        8.0,
    )?;
    let y = Scale::over(
        states
            .iter()
            .flat_map(|drawn| along(drawn.figures))
            .flat_map(|(place, _)| [place.open, place.total])
            .map(pressure)
            .chain([0.0]),
        6.0,
    )?;
    let mut drawing = Drawing::default();
    let said = head(
        &mut drawing,
        title,
        "Pressure round the loop from the pump, the cap holding nothing. Thick: static; thin: total.",
    );
    let panel = Panel {
        x,
        y,
        top: said + 34.0,
        bottom: said + 274.0,
    };
    panel.draw(&mut drawing);
    panel.name(
        &mut drawing,
        &format!("over the air, {}", Figure::Pressure.unit(units).name),
    );
    panel.across(&mut drawing, 0.0, FINE);
    for drawn in &states {
        let line = |of: fn(&PlaceRow) -> f64| -> Vec<Spot> {
            along(drawn.figures)
                .into_iter()
                .filter(|(place, _)| of(place).is_finite())
                .map(|(place, at)| panel.spot(distance(at), pressure(of(place))))
                .collect()
        };
        drawing.path(&line(|place| place.total), Pen::dashed(0.75, drawn.dash));
        drawing.path(&line(|place| place.open), Pen::dashed(2.0, drawn.dash));
    }
    let heights = heights(&mut drawing, first, x, panel.bottom, units)?;
    let heat = states
        .iter()
        .find(|drawn| hardest(row).is_some_and(|state| std::ptr::eq(state, drawn.state)))
        .unwrap_or(first);
    let last = temperatures_along(&mut drawing, heat, x, heights.bottom, units)?;
    last.draw_below(
        &mut drawing,
        &format!("distance from the pump, {}", Figure::Along.unit(units).name),
    );
    let mut y = last.bottom + 60.0;
    for drawn in &states {
        legend(&mut drawing, y, Pen::dashed(2.0, drawn.dash), &drawn.name);
        y += LINE;
    }
    legend(
        &mut drawing,
        y,
        Pen::dashed(1.5, BOILS),
        &format!("where the coolant boils in {}", heat.name),
    );
    let height = foot(&mut drawing, row, more, y + LINE + 8.0);
    Some(drawing.finish(title, height))
}

/// The heights of the loop over today's waterline, with names where there is room for them.
fn heights(
    drawing: &mut Drawing,
    drawn: &Drawn<'_>,
    x: Scale,
    above: f64,
    units: System,
) -> Option<Panel> {
    // Metres, or feet: the axis is short, and the loop a metre high.
    let height = |value| on_axis(Figure::Along, value, units);
    let distance = |value| on_axis(Figure::Along, value, units);
    let places = along(drawn.figures);
    let y = Scale::over(
        places
            .iter()
            .map(|(place, _)| height(place.height))
            .chain([0.0]),
        3.0,
    )?;
    let panel = Panel {
        x,
        y,
        top: above + 36.0,
        bottom: above + 146.0,
    };
    panel.draw(drawing);
    panel.name(
        drawing,
        &format!(
            "height over the waterline, {}",
            Figure::Along.unit(units).name
        ),
    );
    panel.across(drawing, 0.0, THIN);
    let spots: Vec<(Spot, &str)> = places
        .iter()
        .filter(|(place, _)| place.height.is_finite())
        .map(|(place, at)| {
            let spot = panel.spot(distance(*at), height(place.height));
            (spot, place.title.as_str())
        })
        .collect();
    let line: Vec<Spot> = spots.iter().map(|(spot, _)| *spot).collect();
    drawing.path(&line, Pen::dashed(3.0, ""));
    // A name that would run into the one before it is left out; the tick stays.
    let mut free = LEFT;
    for (at, (spot, name)) in spots.iter().enumerate() {
        let tick = |y| Spot { x: spot.x, y };
        drawing.line(tick(spot.y - 5.0), tick(spot.y + 5.0), FINE);
        let wide = 7.0 * name.chars().count() as f64;
        let from = (spot.x + 3.0).min(RIGHT - wide - 3.0);
        // The name keeps to that side from which the line leads away.
        let rises = spots.get(at + 1).is_some_and(|(next, _)| next.y < spot.y);
        let y = if rises { spot.y + 17.0 } else { spot.y - 8.0 };
        let y = y.clamp(panel.top + 12.0, panel.bottom - 4.0);
        if from >= free {
            drawing.label(Spot { x: from, y }, " font-size=\"11\"", name);
            free = from + wide + 8.0;
        }
    }
    Some(panel)
}

/// The coolant round the loop in one state, and where it boils.
fn temperatures_along(
    drawing: &mut Drawing,
    drawn: &Drawn<'_>,
    x: Scale,
    above: f64,
    units: System,
) -> Option<Panel> {
    let temperature = |value| on_axis(Figure::Temperature, value, units);
    let distance = |value| on_axis(Figure::Along, value, units);
    let places = along(drawn.figures);
    let boils = |place: &PlaceRow| place.boils.filter(|boils| boils.is_finite());
    let y = Scale::over(
        places.iter().flat_map(|(place, _)| {
            [Some(place.temperature), boils(place)]
                .into_iter()
                .flatten()
                .map(temperature)
        }),
        3.0,
    )?;
    let panel = Panel {
        x,
        y,
        top: above + 36.0,
        bottom: above + 146.0,
    };
    panel.draw(drawing);
    panel.name(
        drawing,
        &format!(
            "coolant in {}, {}",
            drawn.name,
            Figure::Temperature.unit(units).name
        ),
    );
    let coolant: Vec<Spot> = places
        .iter()
        .filter(|(place, _)| place.temperature.is_finite())
        .map(|(place, at)| panel.spot(distance(*at), temperature(place.temperature)))
        .collect();
    drawing.path(&coolant, Pen::dashed(2.0, drawn.dash));
    let boiling: Vec<Spot> = places
        .iter()
        .filter_map(|(place, at)| {
            boils(place).map(|boils| panel.spot(distance(*at), temperature(boils)))
        })
        .collect();
    if boiling.len() > 1 {
        drawing.path(&boiling, Pen::dashed(1.5, BOILS));
    }
    Some(panel)
}

/// Height of the band of one state.
const BAND: f64 = 54.0;

/// Engine outlet and return of every state, a band each, beside the sea, the limits and where it boils. `None`
/// where no state has figures.
pub fn temperatures_svg(row: &FlowRow, title: &str, units: System) -> Option<String> {
    let (states, more) = drawn(row);
    if states.is_empty() {
        return None;
    }
    let temperature = |value| on_axis(Figure::Temperature, value, units);
    let mut limits: Vec<(f64, &str)> = Vec::new();
    for most in &row.most {
        let (limit, why) = &most.limit;
        if !limits.iter().any(|known| known == &(*limit, why.as_str())) {
            limits.push((*limit, why.as_str()));
        }
    }
    let of_states = states.iter().flat_map(|drawn| {
        let (out, back) = (drawn.figures.out, drawn.figures.back);
        [out.low, out.high, back.low, back.high, drawn.state.sea]
            .into_iter()
            .chain(boils(drawn))
    });
    let x = Scale::over(
        of_states
            .chain(limits.iter().map(|(limit, _)| *limit))
            // A degree more on both sides keeps a mark off the frame.
            .flat_map(|celsius| [celsius - 1.0, celsius + 1.0])
            .map(temperature),
        8.0,
    )?;
    let mut drawing = Drawing::default();
    let said = head(
        &mut drawing,
        title,
        "Coolant and sea in every state, and the heat to the coolant.",
    );
    let y = Scale {
        low: 0.0,
        high: 1.0,
        step: 1.0,
    };
    // OK because there are no more states than dashes.
    let bands = states.len() as f64;
    let panel = Panel {
        x,
        y,
        top: said + 18.0,
        bottom: said + 18.0 + bands * BAND,
    };
    panel.border(&mut drawing);
    panel.hairs(&mut drawing);
    for (limit, _) in &limits {
        upright(
            &mut drawing,
            &panel,
            temperature(*limit),
            panel.top,
            panel.bottom,
            LIMIT,
        );
    }
    let mut top = panel.top;
    for drawn in &states {
        band(&mut drawing, &panel, drawn, top, units);
        top += BAND;
    }
    panel.draw_below(
        &mut drawing,
        &format!("temperature, {}", Figure::Temperature.unit(units).name),
    );
    let mut y = panel.bottom + 60.0;
    for (mark, says) in [
        (
            Mark::Out,
            "out of the engine; its bar: with the least and most heat",
        ),
        (Mark::Back, "back from the cooler, likewise"),
    ] {
        drawing.triangle(
            Spot {
                x: 28.0,
                y: y - 4.0,
            },
            mark,
        );
        drawing.text(Spot { x: LEFT, y }, Anchor::Start, says);
        y += LINE;
    }
    legend(&mut drawing, y, Pen::dashed(1.5, SEA), "the sea");
    y += LINE;
    legend(
        &mut drawing,
        y,
        Pen::dashed(1.5, BOILS),
        "where it boils at its hottest, the cap holding nothing",
    );
    y += LINE;
    for (limit, why) in &limits {
        let told = format!("{}, {why}", Figure::Temperature.text(*limit, units));
        legend(&mut drawing, y, Pen::dashed(1.0, LIMIT), &told);
        y += LINE;
    }
    let height = foot(&mut drawing, row, more, y + 8.0);
    Some(drawing.finish(title, height))
}

/// Where the hottest coolant of a state boils, the cap holding nothing.
fn boils(drawn: &Drawn<'_>) -> Option<f64> {
    drawn.figures.hottest.as_ref().map(|(_, _, open, _)| *open)
}

/// An upright line at a temperature.
fn upright(
    drawing: &mut Drawing,
    panel: &Panel,
    at: f64,
    top: f64,
    bottom: f64,
    dash: &'static str,
) {
    let x = panel.spot(at, 0.0).x;
    let width = if dash == LIMIT { 1.0 } else { 1.5 };
    drawing.line(
        Spot { x, y: top },
        Spot { x, y: bottom },
        Pen::dashed(width, dash),
    );
}

/// One state: its name and heat, below them outlet and return, each in a lane of its own, between sea and boiling.
fn band(drawing: &mut Drawing, panel: &Panel, drawn: &Drawn<'_>, top: f64, units: System) {
    if top > panel.top {
        let across = |x| Spot { x, y: top };
        drawing.line(across(LEFT), across(RIGHT), Pen::dashed(0.5, ""));
    }
    let name = format!(
        "{}: {}",
        drawn.name,
        Figure::Heat.span(drawn.state.heat, units)
    );
    let temperature = |celsius| on_axis(Figure::Temperature, celsius, units);
    let (out, back) = (drawn.figures.out, drawn.figures.back);
    let beside = Spot {
        x: LEFT + 6.0,
        y: top + 15.0,
    };
    drawing.label(beside, "", &name);
    let lanes = [(out, Mark::Out, top + 28.0), (back, Mark::Back, top + 42.0)];
    for (span, mark, y) in lanes {
        let spot = |celsius: f64| Spot {
            y,
            ..panel.spot(temperature(celsius), 0.0)
        };
        drawing.line(spot(span.low), spot(span.high), THIN);
        drawing.triangle(spot(span.mid), mark);
    }
    let (from, to) = (top + 20.0, top + BAND - 3.0);
    upright(drawing, panel, temperature(drawn.state.sea), from, to, SEA);
    if let Some(boils) = boils(drawn) {
        upright(drawing, panel, temperature(boils), from, to, BOILS);
    }
}
