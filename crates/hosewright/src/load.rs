//! A boat read and judged: the steps that every command with a boat takes.

use std::path::{Path, PathBuf};

use boat::Boat;
use quantity::System;
use reckon::{Answer, Memo, Set};
use tracing::debug;

use crate::api::{self, About, Where};
use crate::fault::{Exit, Fault, nearest};
use crate::files::{self, Held};
use crate::render::{self, FilePlaces, Manner};
use crate::run::Outcome;
use crate::scan;
use crate::text::{Page, Terminal, listed};

/// A boat file, read.
#[derive(Debug)]
pub struct Loaded {
    /// The file.
    pub held: Held,
    /// The boat, as far as the file could be read.
    pub boat: Boat,
    /// Where its values lie.
    pub chart: Chart,
    /// Its faults.
    pub remarks: Vec<boat::Remark>,
}

/// The places of a file's values.
#[derive(Debug)]
pub struct Chart(boat::Places);

impl Chart {
    /// The places themselves.
    pub fn places(&self) -> &boat::Places {
        &self.0
    }
}

impl Where for Chart {
    fn position(&self, path: &str) -> (usize, usize) {
        let boat::Position { line, column } = self.0.position(path);
        (line, column)
    }
}

/// How to judge.
#[derive(Clone, Copy, Debug)]
pub struct Judge<'a> {
    /// Which arrangement, where one was named.
    pub arrangement: Option<&'a str>,
    /// Which verdicts.
    pub set: Set,
    /// Seed of all sampling.
    pub seed: u64,
    /// Whether her runs are hung in the bay too, where the file tells of one: the dearest part.
    pub bay: bool,
}

impl Loaded {
    /// Reads the boat file that a folder or file stands for.
    pub fn from_path(given: &Path) -> Result<Self, Fault> {
        let path = files::boat_file(given)?;
        let held = files::read(&path)?;
        debug!(
            path = held.shown(),
            bytes = held.text.len(),
            hash = held.hash.short(),
            "read"
        );
        Ok(Self::from_held(held))
    }

    /// Makes the model of a file that was read already.
    pub fn from_held(held: Held) -> Self {
        let (boat, places, remarks) = boat::read(&held.text);
        debug!(
            things = boat.things.len(),
            runs = boat.runs.len(),
            remarks = remarks.len(),
            "understood"
        );
        Self {
            held,
            boat,
            chart: Chart(places),
            remarks,
        }
    }

    /// Whether a fault of the file keeps anything from being judged.
    pub fn stopped(&self) -> bool {
        self.remarks
            .iter()
            .any(|remark| remark.severity == boat::Severity::Stop)
    }

    /// Judges the boat.
    pub fn judge(&self, judge: Judge) -> Result<Answer, Fault> {
        self.judge_knowing(judge, &mut Memo::default())
    }

    /// Judges the boat by the help of what was reckoned before of one like her.
    pub fn judge_knowing(&self, judge: Judge, memo: &mut Memo) -> Result<Answer, Fault> {
        if let Some(name) = judge.arrangement {
            self.has_arrangement(name)?;
        }
        let input = reckon::Input {
            boat: &self.boat,
            arrangement: judge.arrangement,
            seed: judge.seed,
            set: judge.set,
            flow: None,
            bay: judge.bay.then(|| self.bay()),
        };
        let answer = reckon::reckon(&input, memo);
        debug!(verdicts = answer.verdicts.len(), "judged");
        Ok(answer)
    }

    /// What the bay is reckoned by: the scan that the file names, where it lies in her folder and can be read.
    pub fn bay(&self) -> reckon::BayAsk {
        reckon::BayAsk {
            scan: scan::shelf::of(&self.held.path, &self.boat),
        }
    }

    /// Refuses an arrangement that the file does not have.
    pub fn has_arrangement(&self, name: &str) -> Result<(), Fault> {
        let known: Vec<&str> = self
            .boat
            .arrangements
            .iter()
            .map(|arrangement| arrangement.key.as_str())
            .collect();
        if known.contains(&name) {
            return Ok(());
        }
        let known = match (nearest(name, known.iter().copied()), known.as_slice()) {
            (_, []) => "it has none".to_owned(),
            (near, known) if near == "." => format!("it has {}", listed(known)),
            (near, known) => {
                format!(
                    "{}; it has {}",
                    near.trim_start_matches(": ").trim_end_matches('?'),
                    listed(known)
                )
            }
        };
        Err(Fault::NoArrangement {
            name: name.to_owned(),
            known,
        })
    }

    /// The boat's name, where the file gives one.
    pub fn name(&self) -> Option<&str> {
        self.boat.about.name.given().map(String::as_str)
    }

    /// How answers about this file are shown.
    pub fn manner(&self, units: System) -> Manner<'_> {
        Manner {
            units,
            file: Some(FilePlaces {
                held: &self.held,
                places: &self.chart,
            }),
        }
    }

    /// The head of a document about this file.
    pub fn about(&self, arrangement: Option<&str>) -> About {
        About {
            tool: api::TOOL.into(),
            version: api::VERSION.into(),
            boat: self.name().map(str::to_owned),
            file: Some(self.held.shown()),
            file_hash: Some(self.held.hash.long()),
            arrangement: arrangement.map(str::to_owned),
        }
    }

    /// The file's faults as sent.
    pub fn sent_remarks(&self) -> Vec<api::Remark> {
        self.remarks
            .iter()
            .map(|remark| sent(remark.clone(), &self.chart))
            .collect()
    }

    /// The file's faults on a page.
    pub fn write_remarks(&self, page: &mut Page) {
        for remark in &self.remarks {
            render::remarks::remark(
                page,
                &self.held,
                &sent(remark.clone(), &self.chart),
                remark.span.clone(),
            );
        }
    }

    /// What a command answers that can't go on because of them.
    pub fn refusal(&self, json: bool, terminal: Terminal) -> Outcome {
        let stops = self
            .remarks
            .iter()
            .filter(|remark| remark.severity == boat::Severity::Stop)
            .count();
        let (faults, them) = if stops == 1 {
            ("1 fault", "it")
        } else {
            (&*format!("{stops} faults"), "them")
        };
        let told = format!(
            "{faults} of {} must be mended before anything is judged.",
            self.held.shown()
        );
        let exit = Exit::WrongInput;
        if json {
            return Outcome::said(
                api::to_json(&api::Refusal {
                    schema: api::FaultSchema::V1,
                    tool: api::TOOL.into(),
                    version: api::VERSION.into(),
                    fault: told,
                    exit: exit as u8,
                    remarks: self.sent_remarks(),
                }),
                exit,
            );
        }
        let mut page = Page::new(terminal);
        self.write_remarks(&mut page);
        page.gap();
        page.paragraph(0, &format!("{told} Mend {them} and run this again."));
        Outcome::refused(page.finish(), exit)
    }
}

fn sent(remark: boat::Remark, chart: &Chart) -> api::Remark {
    let boat::Remark {
        code,
        severity,
        span,
        place,
        message,
        expected,
        found,
    } = remark;
    let mut at = chart.place(place);
    if at.path.is_empty() {
        // A text that is no TOML has no keys; the fault itself has a place.
        let boat::Position { line, column } = chart.places().position_of(span.start);
        (at.line, at.column) = (line, column);
    }
    api::Remark {
        code: code.to_string(),
        severity: match severity {
            boat::Severity::Stop => api::Severity::Stop,
            boat::Severity::Check => api::Severity::Check,
            boat::Severity::Note => api::Severity::Note,
        },
        message,
        expected,
        found,
        place: at,
    }
}

/// The boat that was meant: the one given, else the present folder.
///
/// After `--explain` a boat may be taken for the id that can follow it; an id never has a file of its name, so
/// where no boat was given and there is one, it is the boat.
pub fn meant(boat: Option<PathBuf>, explain: Option<String>) -> (PathBuf, Option<String>) {
    match (boat, explain) {
        (Some(boat), explain) => (boat, explain),
        (None, Some(path)) if !path.is_empty() && Path::new(&path).exists() => {
            (path.into(), Some(String::new()))
        }
        (None, explain) => (".".into(), explain),
    }
}
