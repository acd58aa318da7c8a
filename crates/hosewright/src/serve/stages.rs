//! What single chapters show beside the verdicts: flow, order, filling, the card; and files to take along.

use quantity::System;
use reckon::{Memo, OrderAsk};
use serde::Deserialize;

use super::App;
use super::answers::{SEED, meant};
use super::refused::Refused;
use super::values::Units;
use crate::api::{self, Card, FillSchema, FlowSchema, Summary, Where};
use crate::cli;
use crate::commands::sheets;

/// Which arrangement.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Which {
    pub(crate) arrangement: Option<String>,
    /// The number of the answer that whoever writes holds already.
    pub(crate) held: Option<u64>,
    /// Whether that answer was settled.
    pub(crate) settled: bool,
    /// The mark that whoever writes has chosen.
    pub(crate) chosen: Option<String>,
}

/// What whoever writes holds already.
#[derive(Clone, Debug)]
pub(crate) struct Writer {
    /// The number of the answer, and whether it was settled: only what differs from it need be sent.
    pub(crate) held: (u64, bool),
    /// The mark that is chosen: what became of it is told first.
    pub(crate) chosen: Option<String>,
}

impl Which {
    /// Who writes, where somebody does.
    pub(crate) fn writer(&self) -> Option<Writer> {
        self.held.map(|number| Writer {
            held: (number, self.settled),
            chosen: self.chosen.clone(),
        })
    }
}

/// Which arrangement, on which paper.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Print {
    pub(crate) arrangement: Option<String>,
    paper: Option<String>,
    pub(crate) units: Units,
}

impl Print {
    /// The paper that is meant.
    pub(crate) fn paper(&self) -> cli::Paper {
        match self.paper.as_deref() {
            Some("letter") => cli::Paper::Letter,
            _ => cli::Paper::A4,
        }
    }
}

impl Which {
    pub(crate) fn name(&self) -> Option<&str> {
        self.arrangement.as_deref()
    }
}

impl App {
    /// Flow, pressure and heat in every state.
    pub(crate) fn flow(&self, which: &Which) -> Result<api::Flow, Refused> {
        let sheet = self.sheet()?;
        let arrangement = meant(&sheet, which.name())?;
        let answers = self.answers(&sheet, &arrangement);
        let flow = answers.flow().cloned();
        let verdicts = flow.iter().flat_map(|flow| &flow.verdicts);
        Ok(api::Flow {
            schema: FlowSchema::V1,
            about: sheet.loaded.about(arrangement.as_deref()),
            state: None,
            summary: Summary::of(verdicts.map(|verdict| verdict.grade)),
            remarks: sheet.loaded.sent_remarks(),
            arrangements: flow
                .into_iter()
                .map(|flow| api::FlowArrangement::of(flow, &sheet.loaded.chart))
                .collect(),
            compared: None,
            plots: Vec::new(),
        })
    }

    /// The list for the shop.
    pub(crate) fn order(&self, which: &Which) -> Result<api::Order, Refused> {
        let sheet = self.sheet()?;
        let arrangement = meant(&sheet, which.name())?;
        let ask = OrderAsk {
            arrangement: arrangement.as_deref(),
            seed: SEED,
            risk: None,
        };
        let loaded = &sheet.loaded;
        let order = reckon::order(sheet.text(), &loaded.boat, ask, &mut Memo::default());
        let about = loaded.about(arrangement.as_deref());
        let remarks = loaded.sent_remarks();
        Ok(api::Order::of(order, about, SEED, remarks, &loaded.chart))
    }

    /// What to pour.
    pub(crate) fn fill(&self, which: &Which) -> Result<api::Fill, Refused> {
        let sheet = self.sheet()?;
        let arrangement = meant(&sheet, which.name())?;
        let answers = self.answers(&sheet, &arrangement);
        let chart: &dyn Where = &sheet.loaded.chart;
        let verdicts: Vec<&reckon::Verdict> = answers
            .answer()
            .verdicts
            .iter()
            .filter(|verdict| verdict.stage == reckon::Stage::Fill)
            .collect();
        Ok(api::Fill {
            schema: FillSchema::V1,
            about: sheet.loaded.about(arrangement.as_deref()),
            summary: Summary::of(verdicts.iter().map(|verdict| verdict.grade)),
            remarks: sheet.loaded.sent_remarks(),
            fill: answers.answer().fill.clone().map(api::FillRow::from),
            verdicts: verdicts
                .into_iter()
                .map(|verdict| api::Verdict::of(verdict.clone(), Some(chart)))
                .collect(),
        })
    }

    /// The card to get home by.
    pub(crate) fn card(&self, which: &Which) -> Result<Card, Refused> {
        let sheet = self.sheet()?;
        let arrangement = meant(&sheet, which.name())?;
        let answers = self.answers(&sheet, &arrangement);
        let flow = answers.flow();
        let card = reckon::card(&sheet.loaded.boat, arrangement.as_deref(), flow, None)
            .ok_or_else(|| Refused::missing("There is no such arrangement."))?;
        Ok(Card::of(sheet.number, card, &sheet.loaded.chart))
    }

    /// A sheet by its name, or all of them by `all`, as PDF.
    pub(crate) fn printed(&self, file: &str, print: &Print) -> Result<Vec<u8>, Refused> {
        let Some(name) = file.strip_suffix(".pdf") else {
            return Err(Refused::missing(
                "Sheets are PDF files: ask for joints.pdf.",
            ));
        };
        let sheet = self.sheet()?;
        let arrangement = meant(&sheet, print.arrangement.as_deref())?;
        let units: System = print.units.into();
        let named = arrangement.as_deref();
        let bytes = sheets::bytes(&sheet.loaded, name, print.paper(), named, units)?;
        bytes.ok_or_else(|| Refused::missing("There is no sheet of that name."))
    }

    /// Every verdict as a table.
    pub(crate) fn table(&self, which: &Which) -> Result<Vec<u8>, Refused> {
        let sheet = self.sheet()?;
        let arrangement = meant(&sheet, which.name())?;
        let answers = self.answers(&sheet, &arrangement);
        let mut table = csv::Writer::from_writer(Vec::new());
        let heads = [
            "id", "stage", "subject", "title", "grade", "because", "remedy", "chance", "basis",
            "place", "line",
        ];
        let mut rows: Vec<Vec<String>> = vec![heads.map(str::to_owned).to_vec()];
        for verdict in &answers.answer().verdicts {
            let (line, _) = sheet.loaded.chart.position(&verdict.place);
            rows.push(vec![
                verdict.id.clone(),
                verdict.stage.key().to_owned(),
                verdict.subject.clone(),
                verdict.title.clone(),
                verdict.grade.word().to_owned(),
                verdict.because.metric.clone(),
                verdict.remedy.metric.clone(),
                verdict
                    .chance
                    .map_or_else(String::new, |chance| format!("{chance:.3}")),
                match verdict.basis {
                    reckon::Basis::Rule => "rule",
                    reckon::Basis::Practice => "good practice",
                    reckon::Basis::Physics => "physics",
                }
                .to_owned(),
                verdict.place.clone(),
                line.to_string(),
            ]);
        }
        for row in rows {
            // A spreadsheet takes a cell that begins so for a formula; the mark before it makes it a text.
            let cells = row.into_iter().map(|cell| match cell.chars().next() {
                Some('=' | '+' | '-' | '@') => format!("'{cell}"),
                _ => cell,
            });
            table.write_record(cells).map_err(|_| Refused::defect())?;
        }
        table.into_inner().map_err(|_| Refused::defect())
    }

    /// The boat file as it stands.
    pub(crate) fn file(&self) -> Result<Vec<u8>, Refused> {
        Ok(self.sheet()?.text().as_bytes().to_vec())
    }
}
