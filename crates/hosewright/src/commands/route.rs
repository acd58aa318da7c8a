//! `route`: how each hose will hang, what it touches, and whether a tool reaches its clips.

use reckon::{Set, Stage};

use super::{exit_for, explained};
use crate::api::{self, Summary, Where};
use crate::cli;
use crate::fault::Fault;
use crate::load::{Judge, Loaded, meant};
use crate::render::{head, route as lines, verdict};
use crate::run::Outcome;
use crate::text::{Page, Terminal};

/// Runs it.
pub fn run(route: cli::Route, terminal: Terminal) -> Result<Outcome, Fault> {
    let cli::Route {
        boat,
        judging,
        showing,
    } = route;
    let (boat, explain) = meant(boat, judging.explain.clone());
    let loaded = Loaded::from_path(&boat)?;
    if loaded.stopped() {
        return Ok(loaded.refusal(showing.json, terminal));
    }
    let answer = loaded.judge(Judge {
        arrangement: judging.arrangement.as_deref(),
        set: if judging.quick { Set::Prompt } else { Set::All },
        seed: judging.seed,
        bay: true,
    })?;
    let found = answer
        .route
        .map(|route| (*route).clone())
        .unwrap_or_default();
    let verdicts: Vec<reckon::Verdict> = answer
        .verdicts
        .into_iter()
        .filter(|verdict| verdict.stage == Stage::Route)
        .collect();
    let explain = explained(explain, &answer.joints, &verdicts)?;
    let summary = Summary::of(verdicts.iter().map(|verdict| verdict.grade));
    let exit = exit_for(&summary, judging.strict);
    let name = answer.arrangement.as_deref();
    if showing.json {
        let chart: &dyn Where = &loaded.chart;
        let sent = verdicts
            .into_iter()
            .map(|verdict| api::Verdict::of(verdict, Some(chart)))
            .collect();
        let head = (loaded.about(name), summary, loaded.sent_remarks());
        let document = api::Route::of(found, head, sent);
        return Ok(Outcome::said(api::to_json(&document), exit));
    }
    let units = showing.units.into();
    let mut page = Page::new(terminal);
    head::head(&mut page, loaded.name(), name, &loaded.held);
    head::summary(&mut page, &summary);
    let show = verdict::Show {
        all: judging.all,
        explain,
    };
    if show.explain.is_none() {
        lines::route(&mut page, &found, units);
    }
    verdict::verdicts(&mut page, &verdicts, &show, &loaded.manner(units));
    loaded.write_remarks(&mut page);
    Ok(Outcome::said(page.finish(), exit))
}
