//! `fill`: what to pour into a boat, or into a circuit from flags.

use quantity::{Quantity, Ratio, Reading, Unit};
use reckon::{FillAsk, Set, Stage};

use super::{exit_for, explained};
use crate::api::{self, About, FillSchema, Summary, Verdict, Where};
use crate::cli;
use crate::fault::Fault;
use crate::load::{Judge, Loaded, meant};
use crate::render::{Manner, fill as figures, head, verdict};
use crate::run::Outcome;
use crate::text::{Page, Terminal};

/// Runs it.
pub fn run(fill: cli::Fill, terminal: Terminal) -> Result<Outcome, Fault> {
    let cli::Fill {
        boat,
        circuit,
        mut judging,
        showing,
    } = fill;
    if circuit.given() {
        if boat.is_some() {
            return Err(Fault::Flags(
                "A boat and a circuit from flags don't go together: give one or the other.".into(),
            ));
        }
        return quick(&circuit, &judging, showing, terminal);
    }
    let (boat, explain) = meant(boat, judging.explain.take());
    judging.explain = explain;
    of(&Loaded::from_path(&boat)?, &judging, showing, terminal)
}

/// The filling of a boat that is read already.
pub fn of(
    loaded: &Loaded,
    judging: &cli::Judging,
    showing: cli::Showing,
    terminal: Terminal,
) -> Result<Outcome, Fault> {
    if loaded.stopped() {
        return Ok(loaded.refusal(showing.json, terminal));
    }
    let mut answer = loaded.judge(Judge {
        arrangement: judging.arrangement.as_deref(),
        set: Set::Prompt,
        seed: judging.seed,
        bay: true,
    })?;
    answer
        .verdicts
        .retain(|verdict| verdict.stage == Stage::Fill);
    let explain = explained(judging.explain.clone(), &[], &answer.verdicts)?;
    let summary = Summary::of(answer.verdicts.iter().map(|verdict| verdict.grade));
    let exit = exit_for(&summary, judging.strict);
    let arrangement = answer.arrangement.as_deref();
    if showing.json {
        let chart: &dyn Where = &loaded.chart;
        let document = api::Fill {
            schema: FillSchema::V1,
            about: loaded.about(arrangement),
            summary,
            remarks: loaded.sent_remarks(),
            fill: answer.fill.map(api::FillRow::from),
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
    let manner = loaded.manner(showing.units.into());
    match &answer.fill {
        Some(row) => {
            head::summary(&mut page, &summary);
            figures::filling(&mut page, row, manner.units);
        }
        None => page.paragraph(
            0,
            "The file says nothing of coolant yet: write [coolant] with what is wanted and what the circuit holds.",
        ),
    }
    let show = verdict::Show {
        all: judging.all,
        explain,
    };
    verdict::verdicts(&mut page, &answer.verdicts, &show, &manner);
    loaded.write_remarks(&mut page);
    Ok(Outcome::said(page.finish(), exit))
}

/// A circuit from flags.
fn quick(
    circuit: &cli::FillFlags,
    judging: &cli::Judging,
    showing: cli::Showing,
    terminal: Terminal,
) -> Result<Outcome, Fault> {
    if judging.arrangement.is_some() {
        return Err(Fault::Flags(
            "--arrangement wants a boat: a circuit from flags has none.".into(),
        ));
    }
    let filling = reckon::filling(&ask(circuit)?);
    let explain = explained(judging.explain.clone(), &[], &filling.verdicts)?;
    let summary = Summary::of(filling.verdicts.iter().map(|verdict| verdict.grade));
    let exit = exit_for(&summary, judging.strict);
    if showing.json {
        let document = api::Fill {
            schema: FillSchema::V1,
            about: About {
                tool: api::TOOL.into(),
                version: api::VERSION.into(),
                boat: None,
                file: None,
                file_hash: None,
                arrangement: None,
            },
            summary,
            remarks: Vec::new(),
            fill: Some(filling.row.into()),
            verdicts: filling
                .verdicts
                .into_iter()
                .map(|verdict| Verdict::of(verdict, None))
                .collect(),
        };
        return Ok(Outcome::said(api::to_json(&document), exit));
    }
    let manner = Manner {
        units: showing.units.into(),
        file: None,
    };
    let mut page = Page::new(terminal);
    head::summary(&mut page, &summary);
    figures::filling(&mut page, &filling.row, manner.units);
    let show = verdict::Show { all: true, explain };
    verdict::verdicts(&mut page, &filling.verdicts, &show, &manner);
    Ok(Outcome::said(page.finish(), exit))
}

fn ask(circuit: &cli::FillFlags) -> Result<FillAsk, Fault> {
    let cli::FillFlags {
        volume,
        wanted,
        kind,
        inside,
        inside_strength,
        product_strength,
        least_dose,
        header,
        frost,
        cap,
    } = circuit;
    let ask = FillAsk {
        volume: over_nought("--volume", volume)?,
        wanted: share("--wanted", wanted)?.map(|wanted| wanted.value),
        kind: kind.map(|kind| {
            match kind {
                cli::Glycol::Ethylene => "ethylene",
                cli::Glycol::Propylene => "propylene",
                cli::Glycol::Waterless => "waterless",
            }
            .to_owned()
        }),
        inside: read("--inside", inside, None)?,
        inside_strength: share("--inside-strength", inside_strength)?,
        product_strength: share("--product-strength", product_strength)?,
        least_dose: share("--least-dose", least_dose)?,
        header: over_nought("--header", header)?,
        frost: read("--frost", frost, None)?,
        cap: read("--cap", cap, None)?,
    };
    let wrong = |flag: &str, found: &Option<String>, why: &str| {
        Err(Fault::Flag {
            flag: flag.into(),
            found: found.clone().unwrap_or_default(),
            why: why.into(),
        })
    };
    if ask.inside.is_some_and(|inside| inside.value.si() < 0.0) {
        return wrong("--inside", inside, "a volume of 0 or more is due.");
    }
    if let (Some(all), Some(stays)) = (ask.volume, ask.inside)
        && stays.value > all.value
    {
        return wrong(
            "--inside",
            inside,
            "more stays inside than the circuit holds.",
        );
    }
    if ask
        .product_strength
        .is_some_and(|share| share.value.si() <= 0.0)
    {
        return wrong(
            "--product-strength",
            product_strength,
            "a share over 0 % is due.",
        );
    }
    Ok(ask)
}

/// A quantity from a flag.
pub(super) fn read<Q: Quantity>(
    flag: &str,
    given: &Option<String>,
    bare: Option<&'static Unit>,
) -> Result<Option<Reading<Q>>, Fault> {
    let parse = |text: &String| {
        quantity::parse_reading(text, bare).map_err(|error| Fault::Flag {
            flag: flag.into(),
            found: text.clone(),
            why: error.message,
        })
    };
    given.as_ref().map(parse).transpose()
}

/// A quantity from a flag that is over nought.
pub(super) fn over_nought<Q: Quantity>(
    flag: &str,
    given: &Option<String>,
) -> Result<Option<Reading<Q>>, Fault> {
    let reading: Option<Reading<Q>> = read(flag, given, None)?;
    if reading.is_some_and(|reading| reading.value.si() <= 0.0) {
        return Err(Fault::Flag {
            flag: flag.into(),
            found: given.clone().unwrap_or_default(),
            why: format!("{} over 0 is due.", Q::KIND.with_article()),
        });
    }
    Ok(reading)
}

/// A share from a flag; a bare number is per cent.
fn share(flag: &str, given: &Option<String>) -> Result<Option<Reading<Ratio>>, Fault> {
    let share: Option<Reading<Ratio>> = read(flag, given, Unit::find(Ratio::KIND, "%"))?;
    // A number of one or less without its sign may be meant as a share of one.
    let bare: Option<f64> = given.as_ref().and_then(|text| text.trim().parse().ok());
    if let Some(bare) = bare.filter(|bare| *bare > 0.0 && *bare <= 1.0) {
        return Err(Fault::Flag {
            flag: flag.into(),
            found: given.clone().unwrap_or_default(),
            // To a tenth, and without the tenths that rounding leaves.
            why: format!(
                "{bare} % or {} %? Write it with its sign.",
                (bare * 1000.0).round() / 10.0
            ),
        });
    }
    if share.is_some_and(|share| !(0.0..=1.0).contains(&share.value.si())) {
        return Err(Fault::Flag {
            flag: flag.into(),
            found: given.clone().unwrap_or_default(),
            why: "a share from 0 to 100 % is due.".into(),
        });
    }
    Ok(share)
}
