//! `survey`: what was written down, what is missing, and a form to take along.

use reckon::{Ask, Grade, Memo, Set};

use crate::api::{self, SurveySchema, SurveyState, Where};
use crate::cli;
use crate::fault::{Exit, Fault};
use crate::load::{Judge, Loaded, meant};
use crate::render::{head, places, survey as lines};
use crate::run::Outcome;
use crate::text::{Page, Terminal, USUAL_WIDTH};

/// Seed of the trials, which draw nothing.
const SEED: u64 = 1;

/// Runs it.
pub fn run(survey: cli::Survey, terminal: Terminal) -> Result<Outcome, Fault> {
    let cli::Survey {
        boat,
        next: all_next,
        blank: form,
        arrangement,
        showing,
    } = survey;
    let (boat, _) = meant(boat, None);
    let loaded = Loaded::from_path(&boat)?;
    if loaded.stopped() {
        return Ok(loaded.refusal(showing.json, terminal));
    }
    let answer = loaded.judge(Judge {
        arrangement: arrangement.as_deref(),
        set: Set::Prompt,
        seed: SEED,
        bay: true,
    })?;
    let named = answer.arrangement.as_deref();
    let boxes = reckon::boxes(&loaded.boat, loaded.chart.places(), named);
    let empty: Vec<_> = boxes.iter().filter(|own| own.is_empty()).cloned().collect();
    let waits = |verdict: &&reckon::Verdict| verdict.grade == Grade::Unmeasured;
    let state = SurveyState {
        values: boxes.len() - empty.len(),
        empty: empty.len(),
        waiting: answer.verdicts.iter().filter(waits).count(),
    };
    let next = || {
        let ask = Ask {
            arrangement: named,
            seed: SEED,
        };
        reckon::next(&loaded.held.text, &loaded.boat, ask, &mut Memo::default())
    };

    if showing.json {
        let chart: &dyn Where = &loaded.chart;
        let document = api::Survey {
            schema: SurveySchema::V1,
            about: loaded.about(named),
            remarks: loaded.sent_remarks(),
            state,
            next: next()
                .into_iter()
                .map(|next| api::Next::of(next, chart))
                .collect(),
            blank: empty
                .into_iter()
                .map(|own| api::Blank::of(own, chart))
                .collect(),
            taped: answer.surveyed.map(|taped| api::Taped::of(taped, chart)),
        };
        return Ok(Outcome::said(api::to_json(&document), Exit::Sound));
    }
    if form {
        // A form is printed, so that its width is that of paper, not of the terminal.
        let paper = Terminal {
            width: USUAL_WIDTH,
            bold: false,
            ..terminal
        };
        let mut page = Page::new(paper);
        lines::blank(
            &mut page,
            loaded.name(),
            named,
            &loaded.held,
            showing.units.into(),
            &empty,
        );
        return Ok(Outcome::said(page.finish(), Exit::Sound));
    }
    let mut page = Page::new(terminal);
    head::head(&mut page, loaded.name(), named, &loaded.held);
    if all_next {
        lines::next(&mut page, state, &next());
    } else {
        lines::state(&mut page, state, &next(), &head::given(&loaded.held));
        if let Some(taped) = &answer.surveyed {
            places::places(&mut page, taped, &answer.verdicts, showing.units.into());
        }
    }
    loaded.write_remarks(&mut page);
    Ok(Outcome::said(page.finish(), Exit::Sound))
}
