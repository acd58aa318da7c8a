//! `order`: one list of what the job needs, less what lies on the shelf.

use quantity::{Quantity, Ratio};
use reckon::{Memo, OrderAsk};

use super::{exit_for, explained};
use crate::api::{self, Summary};
use crate::cli;
use crate::fault::{Exit, Fault};
use crate::load::{Loaded, meant};
use crate::render::{head, order as rows, verdict};
use crate::run::Outcome;
use crate::text::{Page, Terminal};

/// Runs it.
pub fn run(order: cli::Order, terminal: Terminal) -> Result<Outcome, Fault> {
    let cli::Order {
        boat,
        arrangement,
        seed,
        risk,
        list,
        csv,
        explain,
        all,
        showing,
    } = order;
    let risk = risk.as_deref().map(risk_of).transpose()?;
    let (boat, explain) = meant(boat, explain);
    let loaded = Loaded::from_path(&boat)?;
    if loaded.stopped() {
        return Ok(loaded.refusal(showing.json, terminal));
    }
    if let Some(name) = &arrangement {
        loaded.has_arrangement(name)?;
    }
    let ask = OrderAsk {
        arrangement: arrangement.as_deref(),
        seed,
        risk,
    };
    let order = reckon::order(&loaded.held.text, &loaded.boat, ask, &mut Memo::default());
    let explain = explained(explain, &[], &order.verdicts)?;
    let summary = Summary::of(order.verdicts.iter().map(|verdict| verdict.grade));
    let exit = if order.blocked.is_empty() {
        exit_for(&summary, false)
    } else {
        Exit::Unsound
    };
    let arrangement = order.arrangement.clone();
    if showing.json {
        let about = loaded.about(arrangement.as_deref());
        let sent = api::Order::of(order, about, seed, loaded.sent_remarks(), &loaded.chart);
        return Ok(Outcome::said(api::to_json(&sent), exit));
    }
    if csv {
        return Ok(Outcome::said(rows::csv(&order), exit));
    }
    let units = showing.units.into();
    let mut page = Page::new(terminal);
    head::head(
        &mut page,
        loaded.name(),
        arrangement.as_deref(),
        &loaded.held,
    );
    if loaded.boat.runs.is_empty() {
        page.paragraph(0, "No runs yet: write a run with its two ends.");
        return Ok(Outcome::said(page.finish(), exit));
    }
    if list {
        rows::list(&mut page, &order, units);
        return Ok(Outcome::said(page.finish(), exit));
    }
    head::summary(&mut page, &summary);
    let days_off = loaded.boat.job.days_off.given().copied();
    rows::order(&mut page, &order, days_off, units);
    let show = verdict::Show { all, explain };
    verdict::verdicts(&mut page, &order.verdicts, &show, &loaded.manner(units));
    loaded.write_remarks(&mut page);
    Ok(Outcome::said(page.finish(), exit))
}

/// A risk from the flag: `2 %`, over nothing and under a half.
fn risk_of(text: &str) -> Result<f64, Fault> {
    let wrong = |why: String| Fault::Flag {
        flag: "--risk".into(),
        found: text.into(),
        why,
    };
    let risk: Ratio = quantity::parse(text, None).map_err(|error| wrong(error.message))?;
    if risk.si() > 0.0 && risk.si() < 0.5 {
        Ok(risk.si())
    } else {
        Err(wrong("a risk is over 0 % and under 50 %".into()))
    }
}
