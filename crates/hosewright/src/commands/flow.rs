//! `flow`: flow, pressure and heat in every state, two arrangements beside one another, and plots of them.

use std::path::{Path, PathBuf};

use quantity::System;
use reckon::stages::flow::{Duty, FlowRow};

use super::{exit_for, explained};
use crate::api::{self, FlowSchema, Summary};
use crate::cli;
use crate::fault::{Exit, Fault, nearest};
use crate::figure::duty_key;
use crate::files;
use crate::load::{Loaded, meant};
use crate::render::flow::{Parts, Sources};
use crate::render::{flow as lines, flow_compare, flow_state, head, plot, verdict};
use crate::run::Outcome;
use crate::text::{Page, Terminal, listed};

/// Runs it.
pub fn run(flow: cli::Flow, terminal: Terminal) -> Result<Outcome, Fault> {
    let cli::Flow {
        boat,
        arrangement,
        state,
        compare,
        all,
        explain,
        plots,
        showing,
    } = flow;
    let (boat, explain) = meant(boat, explain);
    let loaded = Loaded::from_path(&boat)?;
    if loaded.stopped() {
        return Ok(loaded.refusal(showing.json, terminal));
    }
    for name in arrangement.iter().chain(&compare) {
        loaded.has_arrangement(name)?;
    }
    if let Some(name) = &state {
        has_state(&loaded, name)?;
    }
    let parts = if all { Parts::All } else { Parts::Largest };
    match compare.as_slice() {
        [] => {}
        [one, other] => {
            let sides = Sides {
                one,
                other,
                state: state.as_deref(),
                parts,
            };
            return Ok(compared(&loaded, &sides, showing, terminal));
        }
        _ => {
            return Err(Fault::Flags(
                "--compare takes two arrangements, and is given once.".into(),
            ));
        }
    }

    let steps = &loaded.boat.arrangements;
    let several = all && arrangement.is_none() && !steps.is_empty();
    let usual = steps
        .iter()
        .map(|step| step.key.as_str())
        .find(|name| *name == "after");
    let names: Vec<Option<&str>> = if several {
        steps.iter().map(|step| Some(step.key.as_str())).collect()
    } else {
        vec![arrangement.as_deref().or(usual)]
    };
    let mut flows = side_by_side(&loaded.boat, &names);
    if let Some(name) = &state {
        narrow(&loaded.boat, &mut flows, name)?;
    }
    let verdicts: Vec<reckon::Verdict> = flows
        .iter()
        .flat_map(|flow| flow.verdicts.clone())
        .collect();
    let sources = if all || explain.is_some() {
        Sources::Named
    } else {
        Sources::Left
    };
    let explain = explained(explain, &[], &verdicts)?;
    let summary = Summary::of(verdicts.iter().map(|verdict| verdict.grade));
    let exit = exit_for(&summary, false);
    let units: System = showing.units.into();
    let drawn = match &plots {
        Some(folder) => plots_of(&loaded, &flows, folder, units),
        None => Plots::default(),
    };
    drawn.may_be_written()?;
    // Writing comes last, so that a defect on the way there has written nothing.
    let done = |outcome: Outcome| {
        drawn.write()?;
        Ok(outcome)
    };

    if showing.json {
        let about = match names.as_slice() {
            [only] if !several => loaded.about(*only),
            _ => loaded.about(None),
        };
        let document = api::Flow {
            schema: FlowSchema::V1,
            about,
            state,
            summary,
            remarks: loaded.sent_remarks(),
            arrangements: flows
                .into_iter()
                .map(|flow| api::FlowArrangement::of(flow, &loaded.chart))
                .collect(),
            compared: None,
            plots: drawn.shown(),
        };
        return done(Outcome::said(api::to_json(&document), exit));
    }
    let mut page = Page::new(terminal);
    if loaded.boat.runs.is_empty() {
        head::head(&mut page, loaded.name(), None, &loaded.held);
        page.paragraph(0, "No runs yet: write a run with its two ends.");
        drawn.tell(&mut page);
        return Ok(Outcome::said(page.finish(), exit));
    }
    if several {
        head::head(&mut page, loaded.name(), None, &loaded.held);
        let rows: Vec<&FlowRow> = flows.iter().map(|flow| &flow.row).collect();
        lines::side_by_side(&mut page, &rows, units);
    }
    let manner = loaded.manner(units);
    let show = verdict::Show { all, explain };
    for flow in &flows {
        page.gap();
        head::head(
            &mut page,
            loaded.name(),
            flow.row.arrangement.as_deref(),
            &loaded.held,
        );
        let own = Summary::of(flow.verdicts.iter().map(|verdict| verdict.grade));
        head::summary(&mut page, &own);
        if state.is_some() {
            flow_state::states(&mut page, &flow.row, &manner);
            lines::rests_on(&mut page, &flow.row, &manner, sources);
        } else {
            lines::flow(&mut page, &flow.row, &manner, parts, sources);
        }
        verdict::verdicts(&mut page, &flow.verdicts, &show, &manner);
    }
    drawn.tell(&mut page);
    loaded.write_remarks(&mut page);
    done(Outcome::said(page.finish(), exit))
}

/// Two arrangements to be set beside one another.
#[derive(Clone, Copy, Debug)]
struct Sides<'a> {
    one: &'a str,
    other: &'a str,
    state: Option<&'a str>,
    parts: Parts,
}

/// The comparison. It judges nothing, so that it ends with 0.
fn compared(
    loaded: &Loaded,
    sides: &Sides<'_>,
    showing: cli::Showing,
    terminal: Terminal,
) -> Outcome {
    let mut compared = reckon::flow_compare(&loaded.boat, Some(sides.one), Some(sides.other));
    if let (Some(compared), Some(name)) = (&mut compared, sides.state) {
        compared
            .states
            .retain(|state| is_state(name, &state.key, state.duty));
        compared.changes.retain(|change| {
            compared
                .states
                .iter()
                .any(|state| state.key == change.state)
        });
    }
    if showing.json {
        let document = api::Flow {
            schema: FlowSchema::V1,
            about: loaded.about(None),
            state: sides.state.map(str::to_owned),
            summary: Summary::default(),
            remarks: loaded.sent_remarks(),
            arrangements: Vec::new(),
            compared: compared.map(api::FlowCompared::of),
            plots: Vec::new(),
        };
        return Outcome::said(api::to_json(&document), Exit::Sound);
    }
    let mut page = Page::new(terminal);
    let both = format!("{} beside {}", sides.one, sides.other);
    head::head(&mut page, loaded.name(), Some(&both), &loaded.held);
    match &compared {
        Some(compared) => {
            let has = |key: &str| compared.states.iter().any(|state| state.key == key);
            let without: Vec<&str> = loaded
                .boat
                .states
                .iter()
                .map(|state| state.key.as_str())
                .filter(|key| sides.state.is_none_or(|name| is_named(name, key)) && !has(key))
                .collect();
            let units = showing.units.into();
            flow_compare::compared(&mut page, compared, &without, units, sides.parts);
        }
        None => page.paragraph(
            0,
            "There is nothing to compare: `hosewright flow` with each of them says what is missing.",
        ),
    }
    loaded.write_remarks(&mut page);
    Outcome::said(page.finish(), Exit::Sound)
}

/// Whether a state is the one that was named: by its key, or by its key and whether she moves, as in ids.
fn is_state(name: &str, key: &str, duty: Duty) -> bool {
    name == key
        || name
            .strip_prefix(key)
            .and_then(|rest| rest.strip_prefix('.'))
            .is_some_and(|rest| rest == duty_key(duty))
}

/// Whether a state is named, in whatever duty.
fn is_named(name: &str, key: &str) -> bool {
    is_state(name, key, Duty::Moving) || is_state(name, key, Duty::Tied)
}

/// Refuses a state that the file does not have.
fn has_state(loaded: &Loaded, name: &str) -> Result<(), Fault> {
    let known: Vec<&str> = loaded
        .boat
        .states
        .iter()
        .map(|state| state.key.as_str())
        .collect();
    let has = known.iter().any(|key| is_named(name, key));
    if has {
        return Ok(());
    }
    let why = match (nearest(name, known.iter().copied()), known.as_slice()) {
        (_, []) => "the boat file has no state; write one into `[states]`".to_owned(),
        (near, known) if near == "." => {
            format!("the boat file has no such state; it has {}", listed(known))
        }
        (near, known) => format!(
            "{}; it has {}",
            near.trim_start_matches(": ").trim_end_matches('?'),
            listed(known)
        ),
    };
    Err(Fault::Flag {
        flag: "--state".into(),
        found: name.into(),
        why,
    })
}

/// Reckons several arrangements at once, in their order.
fn side_by_side(boat: &boat::Boat, names: &[Option<&str>]) -> Vec<reckon::Flow> {
    if let [one] = names {
        return reckon::flow(boat, *one).into_iter().collect();
    }
    std::thread::scope(|scope| {
        let under_way: Vec<_> = names
            .iter()
            .map(|name| scope.spawn(move || reckon::flow(boat, *name)))
            .collect();
        under_way
            .into_iter()
            .filter_map(|one| match one.join() {
                Ok(flow) => flow,
                // A defect is told by the hook of this thread as it would be by its own.
                Err(defect) => std::panic::resume_unwind(defect),
            })
            .collect()
    })
}

/// Leaves the one state, judged alone.
fn narrow(boat: &boat::Boat, flows: &mut [reckon::Flow], name: &str) -> Result<(), Fault> {
    let told = flows.iter().any(|flow| !flow.row.states.is_empty());
    for flow in flows.iter_mut() {
        flow.narrow(boat, |state| is_state(name, &state.key, state.duty));
    }
    if told && flows.iter().all(|flow| flow.row.states.is_empty()) {
        return Err(Fault::Flag {
            flag: "--state".into(),
            found: name.into(),
            why: "the state is not used so; name it without the part after the point".into(),
        });
    }
    Ok(())
}

/// Plots that were asked for.
#[derive(Debug, Default)]
struct Plots {
    drawn: Vec<Plot>,
    /// Why one of them could not be drawn, in whole sentences.
    missing: Vec<String>,
}

/// One plot, not written yet.
#[derive(Debug)]
struct Plot {
    path: PathBuf,
    text: String,
}

impl Plots {
    /// Refuses before the first is written, so that it is all of them or none.
    fn may_be_written(&self) -> Result<(), Fault> {
        match self
            .drawn
            .iter()
            .find(|plot| !files::may_be_placed(&plot.path, files::holds(plot::MARK)))
        {
            Some(plot) => Err(Fault::ThereAlready {
                path: files::shown(&plot.path),
            }),
            None => Ok(()),
        }
    }
    fn write(&self) -> Result<(), Fault> {
        for plot in &self.drawn {
            files::place(&plot.path, plot.text.as_bytes(), files::holds(plot::MARK))?;
        }
        Ok(())
    }
    fn shown(&self) -> Vec<String> {
        self.drawn
            .iter()
            .map(|plot| files::shown(&plot.path))
            .collect()
    }
    fn tell(&self, page: &mut Page) {
        if self.drawn.is_empty() && self.missing.is_empty() {
            return;
        }
        page.gap();
        for path in self.shown() {
            page.hanging("", "  ", &format!("Drawn: {path}"));
        }
        for missing in &self.missing {
            page.hanging("", "  ", missing);
        }
    }
}

/// The plots of each arrangement.
fn plots_of(loaded: &Loaded, flows: &[reckon::Flow], folder: &Path, units: System) -> Plots {
    let mut plots = Plots::default();
    let mut used: Vec<String> = Vec::new();
    let boat = loaded.name().unwrap_or("a boat without a name");
    for flow in flows {
        let name = lines::arrangement(&flow.row);
        let base = file_base(name, &mut used);
        let kinds: [(&str, &str, Option<String>); 2] = [
            (
                "grade-line",
                "grade line",
                plot::grade_line_svg(&flow.row, &format!("{boat}, {name}: grade line"), units),
            ),
            (
                "temperatures",
                "temperatures",
                plot::temperatures_svg(&flow.row, &format!("{boat}, {name}: temperatures"), units),
            ),
        ];
        for (file, words, drawn) in kinds {
            match drawn {
                Some(text) => plots.drawn.push(Plot {
                    path: folder.join(format!("{base}-{file}.svg")),
                    text,
                }),
                None => plots.missing.push(format!(
                    "Not drawn: {words} of {name}, as no state has the figures for it."
                )),
            }
        }
    }
    plots
}

/// The name of an arrangement as a part of a file's name, each once.
fn file_base(name: &str, used: &mut Vec<String>) -> String {
    let plain: String = name
        .chars()
        .map(|letter| {
            if letter.is_alphanumeric() || letter == '-' || letter == '_' {
                letter
            } else {
                '-'
            }
        })
        .collect();
    let mut base = plain.clone();
    let mut number = 2;
    // Some file systems take large and small letters for the same.
    while used.contains(&base.to_lowercase()) {
        base = format!("{plain}-{number}");
        number += 1;
    }
    used.push(base.to_lowercase());
    base
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_state_is_named_with_or_without_its_duty() {
        assert!(is_state("cruise", "cruise", Duty::Tied));
        assert!(is_state("cruise.tied", "cruise", Duty::Tied));
        assert!(!is_state("cruise.tied", "cruise", Duty::Moving));
        assert!(!is_state("cruise", "cruise.slow", Duty::Moving));
        assert!(is_state("cruise.slow", "cruise.slow", Duty::Moving));
    }

    #[test]
    fn two_arrangements_never_share_a_file() {
        let mut used = Vec::new();
        assert_eq!(file_base("as it stands", &mut used), "as-it-stands");
        assert_eq!(file_base("a/b", &mut used), "a-b");
        assert_eq!(file_base("A-b", &mut used), "A-b-2");
    }

    #[test]
    fn a_file_of_somebody_else_stays_as_it_is() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("after-grade-line.svg");
        let plot = |text: &str| Plots {
            drawn: vec![Plot {
                path: path.clone(),
                text: text.to_owned(),
            }],
            missing: Vec::new(),
        };
        let ours = format!("<svg>{}</svg>\n", plot::MARK);
        plot(&ours).may_be_written().unwrap();
        plot(&ours).write().unwrap();
        // Our own is written anew.
        plot(&format!("{ours}<!-- again -->\n")).write().unwrap();
        assert!(std::fs::read_to_string(&path).unwrap().contains("again"));
        std::fs::write(&path, "<svg>mine</svg>\n").unwrap();
        assert!(matches!(
            plot(&ours).may_be_written(),
            Err(Fault::ThereAlready { .. })
        ));
        assert!(plot(&ours).write().is_err());
        assert_eq!(std::fs::read_to_string(&path).unwrap(), "<svg>mine</svg>\n");
    }
}
