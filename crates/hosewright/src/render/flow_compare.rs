//! Two arrangements beside one another: the states, the parts, and the few changes that buy most.

use quantity::System;
use reckon::{Change, Compared, ComparedState};

use super::flow::Parts;
use super::heading;
use crate::figure::{Figure, NONE, head, named};
use crate::text::{Column, Page, listed};

/// How many parts are listed where not all of them are asked for.
const PARTS: usize = 8;

/// An arrangement in words.
pub fn side(name: Option<&str>) -> &str {
    name.unwrap_or("as it stands")
}

/// The whole comparison, without its head; `without` are the states that have no figures in both.
pub fn compared(
    page: &mut Page,
    compared: &Compared,
    without: &[&str],
    units: System,
    parts: Parts,
) {
    let sides = [
        side(compared.one.as_deref()),
        side(compared.other.as_deref()),
    ];
    if compared.states.is_empty() {
        page.gap();
        page.paragraph(
            0,
            "No state has figures in both; `hosewright flow` with each of them says what is missing.",
        );
        return;
    }
    states(page, compared, sides, units);
    if !without.is_empty() {
        page.hanging(
            "  – ",
            "    ",
            &format!(
                "no figures in both: {}; `hosewright flow --arrangement` with each says why.",
                listed(without)
            ),
        );
    }
    heads(page, compared, sides, units, parts);
    changes(page, compared, units);
}

fn name(compared: &Compared, state: &ComparedState) -> String {
    let twice = compared
        .states
        .iter()
        .filter(|other| other.key == state.key)
        .count()
        > 1;
    named(&state.key, twice.then_some(state.duty))
}

/// Two rows a state, or one where both are alike.
fn states(page: &mut Page, compared: &Compared, sides: [&str; 2], units: System) {
    page.gap();
    let columns = [
        Column::words("state").at_most(20),
        Column::words("arrangement").at_most(14),
        Column::figures(head(units, "flow\nL/min", "flow\nUS gal\n/min")),
        Column::figures(head(units, "cooled\nL/min", "cooled\nUS gal\n/min")),
        Column::figures(head(units, "engine\nout °C", "engine\nout °F")),
        Column::figures(head(units, "back\n°C", "back\n°F")),
        Column::figures("stat\nopen"),
        Column::figures(head(units, "inlet\nkPa", "inlet\npsi")),
    ];
    let mut rows: Vec<Vec<String>> = Vec::new();
    let mut differ = false;
    for state in &compared.states {
        let [one, other] = [0, 1].map(|at| {
            vec![
                Figure::Flow.bare(state.flows[at], units),
                Figure::Flow.bare(state.cooled[at], units),
                Figure::Temperature.bare(state.out[at], units),
                Figure::Temperature.bare(state.back[at], units),
                state.lift[at]
                    .map_or_else(|| NONE.to_owned(), |lift| Figure::Share.text(lift, units)),
                Figure::Pressure.bare(state.suction[at], units),
            ]
        });
        let named = |name: String, side: &str, cells: Vec<String>| {
            [name, side.to_owned()].into_iter().chain(cells).collect()
        };
        let own = name(compared, state);
        if one == other {
            rows.push(named(own, "both", one));
        } else {
            differ = true;
            rows.push(named(own, sides[0], one));
            rows.push(named(String::new(), sides[1], other));
        }
    }
    page.table(0, &columns, &rows);
    page.hanging(
        "  ",
        "    ",
        "Inlet: static pressure where the pump sucks, the cap holding nothing.",
    );
    if !differ {
        page.hanging(
            "  ",
            "    ",
            "Alike in all of these figures: what one changes over the other moves neither flow \
             nor temperature by as much as is shown here.",
        );
    }
}

/// What a figure shows as nothing but noughts.
fn nought(text: &str) -> bool {
    !text.contains(|digit: char| ('1'..='9').contains(&digit))
}

/// What a part or a whole run loses in both.
struct Loss<'a> {
    title: String,
    run: Option<&'a str>,
    drops: [Option<f64>; 2],
}

impl Loss<'_> {
    /// How much more it loses in the other than in the one; what is not there loses nothing.
    fn change(&self) -> f64 {
        self.drops[1].unwrap_or(0.0) - self.drops[0].unwrap_or(0.0)
    }
    /// The cells of both and of the change. The change is between what is shown, so that a reader's own sum agrees.
    fn cells(&self, units: System) -> [String; 3] {
        let [one, other] = self.drops.map(|drop| Figure::Pressure.bare_or(drop, units));
        let read = |text: &str| text.replace('−', "-").parse::<f64>().unwrap_or(0.0);
        let decimals = [&one, &other]
            .into_iter()
            .filter_map(|text| text.split_once('.'))
            .map(|(_, after)| after.len())
            .max()
            .unwrap_or(0);
        let change = read(&other) - read(&one);
        let text = format!("{change:.decimals$}").replace('-', "−");
        let text = if nought(&text) {
            text.trim_start_matches('−').to_owned()
        } else {
            text
        };
        [one, other, signed(text)]
    }
}

/// What each part loses in a state. The short list sums up a run: a tee that parts a hose in two is no change of head.
fn losses(state: &ComparedState, parts: Parts) -> Vec<Loss<'_>> {
    let mut out: Vec<Loss<'_>> = Vec::new();
    for row in &state.heads {
        // `hose2 of hot (A)`: what follows is the run with its letter.
        let run = row
            .title
            .split_once(" of ")
            .map(|(_, run)| run)
            .filter(|run| parts == Parts::Largest && run.ends_with(')'));
        let known = run.and_then(|run| out.iter_mut().find(|own| own.run == Some(run)));
        match known {
            Some(own) => {
                for (sum, drop) in own.drops.iter_mut().zip(row.drops) {
                    if let Some(drop) = drop {
                        *sum = Some(sum.unwrap_or(0.0) + drop);
                    }
                }
            }
            None => out.push(Loss {
                title: run.map_or_else(|| row.title.clone(), |run| format!("run {run}")),
                run,
                drops: row.drops,
            }),
        }
    }
    out.sort_by(|a, b| b.change().abs().total_cmp(&a.change().abs()));
    out
}

/// What each part loses in both, the greatest change first: in the state that changes most, with `--all` in each.
fn heads(page: &mut Page, compared: &Compared, sides: [&str; 2], units: System, parts: Parts) {
    let most = |state: &ComparedState| {
        losses(state, parts)
            .first()
            .map_or(0.0, |loss| loss.change().abs())
    };
    let changed: Vec<&ComparedState> = compared
        .states
        .iter()
        .filter(|state| {
            losses(state, parts)
                .iter()
                .any(|loss| !nought(&loss.cells(units)[2]))
        })
        .collect();
    if changed.is_empty() {
        heading(page, "Where the head goes");
        page.hanging(
            "  ",
            "    ",
            "Alike: no part and no run loses more or less by as much as is shown here.",
        );
        return;
    }
    if parts == Parts::All {
        for state in changed {
            heads_of(page, compared, state, sides, units, parts);
        }
    } else if let Some(state) = changed
        .into_iter()
        .max_by(|a, b| most(a).total_cmp(&most(b)))
    {
        heads_of(page, compared, state, sides, units, parts);
    }
}

fn heads_of(
    page: &mut Page,
    compared: &Compared,
    state: &ComparedState,
    sides: [&str; 2],
    units: System,
    parts: Parts,
) {
    heading(
        page,
        &format!(
            "Where the head goes: {}, {}",
            name(compared, state),
            head(units, "kPa", "psi")
        ),
    );
    // The heads of these columns are names of the owner's, so that they stand as the first row.
    let mut rows = vec![vec![
        "part".to_owned(),
        sides[0].to_owned(),
        sides[1].to_owned(),
        "change".to_owned(),
    ]];
    let losses = losses(state, parts);
    let shown = parts.most(PARTS);
    let listed: Vec<&Loss<'_>> = losses
        .iter()
        .filter(|loss| parts == Parts::All || !nought(&loss.cells(units)[2]))
        .take(shown)
        .collect();
    rows.extend(listed.iter().map(|loss| {
        std::iter::once(loss.title.clone())
            .chain(loss.cells(units))
            .collect()
    }));
    let columns = [
        Column::words("").at_most(36),
        Column::figures("").at_most(14),
        Column::figures("").at_most(14),
        Column::figures(""),
    ];
    page.table(0, &columns, &rows);
    if listed
        .iter()
        .any(|loss| loss.drops.iter().flatten().any(|drop| *drop < 0.0))
    {
        page.hanging("  ", "    ", "Below nought stands what the pump gives.");
    }
    if parts != Parts::All {
        page.hanging(
            "  ",
            "    ",
            "--all lists every state, every part and every piece of a run.",
        );
    }
}

/// The few changes that buy most; those that buy nothing are named in one line.
fn changes(page: &mut Page, compared: &Compared, units: System) {
    if compared.changes.is_empty() {
        return;
    }
    let mut states: Vec<&str> = Vec::new();
    for own in &compared.changes {
        if !states.contains(&own.state.as_str()) {
            states.push(&own.state);
        }
    }
    heading(
        page,
        &format!(
            "What buys most in {}, each tried by itself",
            listed(&states)
        ),
    );
    let gains = |own: &Change| {
        [
            signed(Figure::Flow.bare(own.flow_gain, units)),
            cooler(own.out_gain, units),
        ]
    };
    let (buys, nothing): (Vec<&Change>, Vec<&Change>) = compared.changes.iter().partition(|own| {
        !nought(&Figure::Flow.bare(own.flow_gain, units))
            || !nought(&Figure::Rise.bare(own.out_gain, units))
    });
    if !buys.is_empty() {
        let columns = [
            Column::words("change").at_most(44),
            Column::figures(head(units, "cooled\nL/min", "cooled\nUS gal\n/min")),
            Column::words("engine\nout"),
        ];
        let rows: Vec<Vec<String>> = buys
            .iter()
            .map(|own| {
                std::iter::once(own.what.in_units(units).to_owned())
                    .chain(gains(own))
                    .collect()
            })
            .collect();
        page.table(0, &columns, &rows);
    }
    if !nothing.is_empty() {
        let told: Vec<&str> = nothing.iter().map(|own| own.what.in_units(units)).collect();
        let flow = Figure::Flow.text(0.1e-3 / 60.0, units);
        let out = Figure::Rise.text(0.1, units);
        page.hanging(
            "  ",
            "    ",
            &format!("Each buys under {flow} and {out}: {}.", listed(&told)),
        );
    }
}

/// A gain with its sign.
fn signed(text: String) -> String {
    if nought(&text) || text.starts_with('−') {
        text
    } else {
        format!("+{text}")
    }
}

/// A gain of temperature in words: `1.3 °C cooler`.
fn cooler(gain: f64, units: System) -> String {
    let text = Figure::Rise.text(gain.abs(), units);
    if nought(&text) {
        "as before".to_owned()
    } else if gain > 0.0 {
        format!("{text} cooler")
    } else {
        format!("{text} warmer")
    }
}
