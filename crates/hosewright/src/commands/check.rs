//! `check`: every verdict.

use reckon::Set;

use super::{exit_for, explained};
use crate::api::{self, CheckSchema, Summary, Verdict, Where};
use crate::cli;
use crate::fault::Fault;
use crate::load::{Judge, Loaded, meant};
use crate::render::{head, verdict};
use crate::run::Outcome;
use crate::text::{Page, Terminal};

/// Runs it.
pub fn run(check: cli::Check, terminal: Terminal) -> Result<Outcome, Fault> {
    let cli::Check {
        boat,
        mut judging,
        showing,
    } = check;
    let (boat, explain) = meant(boat, judging.explain.take());
    judging.explain = explain;
    of(&Loaded::from_path(&boat)?, &judging, showing, terminal)
}

/// Judges a boat that is read already.
pub fn of(
    loaded: &Loaded,
    judging: &cli::Judging,
    showing: cli::Showing,
    terminal: Terminal,
) -> Result<Outcome, Fault> {
    if loaded.stopped() {
        return Ok(loaded.refusal(showing.json, terminal));
    }
    let set = if judging.quick { Set::Prompt } else { Set::All };
    let answer = loaded.judge(Judge {
        arrangement: judging.arrangement.as_deref(),
        set,
        seed: judging.seed,
        bay: true,
    })?;
    let explain = explained(judging.explain.clone(), &answer.joints, &answer.verdicts)?;
    let summary = Summary::of(answer.verdicts.iter().map(|verdict| verdict.grade));
    let exit = exit_for(&summary, judging.strict);
    let arrangement = answer.arrangement.as_deref();

    if showing.json {
        let chart: &dyn Where = &loaded.chart;
        let document = api::Check {
            schema: CheckSchema::V1,
            about: loaded.about(arrangement),
            quick: judging.quick,
            seed: judging.seed,
            summary,
            remarks: loaded.sent_remarks(),
            verdicts: answer
                .verdicts
                .into_iter()
                .map(|verdict| Verdict::of(verdict, Some(chart)))
                .collect(),
        };
        return Ok(Outcome::said(api::to_json(&document), exit));
    }

    let mut page = Page::new(terminal);
    head::head(&mut page, loaded.name(), arrangement, &loaded.held);
    head::standing(&mut page, &summary, &answer, &loaded.boat);
    let show = verdict::Show {
        all: judging.all,
        explain,
    };
    verdict::verdicts(
        &mut page,
        &answer.verdicts,
        &show,
        &loaded.manner(showing.units.into()),
    );
    loaded.write_remarks(&mut page);
    let boat = head::Typed {
        held: &loaded.held,
        arrangement: judging.arrangement.as_deref(),
    };
    head::next_steps(
        &mut page,
        &verdict::in_order(&answer.verdicts, &show),
        &show,
        &boat,
    );
    Ok(Outcome::said(page.finish(), exit))
}
