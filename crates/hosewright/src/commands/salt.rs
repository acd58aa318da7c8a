//! `salt`: what the sea holds, and how much of it came into the coolant.

use quantity::{Concentration, Reading, Temperature};
use reckon::{RiseAsk, SaltAsk};
use reference::salt::PracticalSalinity;

use super::fill::{over_nought, read};
use super::{exit_for, explained};
use crate::api::{self, Summary, Verdict};
use crate::cli;
use crate::fault::Fault;
use crate::render::{Manner, fill as figures, head, verdict};
use crate::run::Outcome;
use crate::text::{Page, Terminal};

/// Runs it.
pub fn run(salt: &cli::Salt, terminal: Terminal) -> Result<Outcome, Fault> {
    let answer = reckon::brine(&ask(salt)?).map_err(|unknown| {
        Fault::Flags(format!(
            "This can't be told: {}. It takes {}.",
            unknown.why, unknown.settles
        ))
    })?;
    let explain = explained(salt.explain.clone(), &[], &answer.verdicts)?;
    let summary = Summary::of(answer.verdicts.iter().map(|verdict| verdict.grade));
    let exit = exit_for(&summary, false);
    if salt.showing.json {
        let verdicts = answer
            .verdicts
            .into_iter()
            .map(|verdict| Verdict::of(verdict, None))
            .collect();
        let document = api::Salt::of(answer.row, summary, verdicts);
        return Ok(Outcome::said(api::to_json(&document), exit));
    }
    let manner = Manner {
        units: salt.showing.units.into(),
        file: None,
    };
    let mut page = Page::new(terminal);
    if !answer.verdicts.is_empty() {
        head::summary(&mut page, &summary);
    }
    if answer.row.salinity.is_some() {
        figures::brine(&mut page, &answer.row, manner.units);
    }
    let show = verdict::Show { all: true, explain };
    if !answer.verdicts.is_empty() {
        verdict::verdicts(&mut page, &answer.verdicts, &show, &manner);
    }
    Ok(Outcome::said(page.finish(), exit))
}

fn ask(salt: &cli::Salt) -> Result<SaltAsk, Fault> {
    let conductivity = over_nought("--conductivity", &salt.conductivity)?;
    let at: Option<Reading<Temperature>> = read("--at", &salt.at, None)?;
    match (&conductivity, &at) {
        (Some(_), None) => {
            return Err(Fault::Flags(
                "A conductivity means nothing without the water's temperature: --at is missing."
                    .into(),
            ));
        }
        (None, Some(_)) => {
            return Err(Fault::Flags("--at goes with --conductivity.".into()));
        }
        _ => {}
    }
    if conductivity.is_some() && salt.sea.is_some() {
        return Err(Fault::Flags(
            "--sea and --conductivity don't go together: give the one that you trust.".into(),
        ));
    }
    let sea = |text: &String| {
        let number: Option<f64> = text.trim().parse().ok();
        number
            .and_then(PracticalSalinity::of)
            .ok_or_else(|| Fault::Flag {
                flag: "--sea".into(),
                found: text.clone(),
                why: "a practical salinity from 0 to 42 is due, without a unit: 35 for the open sea, 7 for the central Baltic.".into(),
            })
    };
    let sea = salt.sea.as_ref().map(sea).transpose()?;
    let (rise, level) = rise(salt, conductivity.is_some() || sea.is_some())?;
    Ok(SaltAsk {
        conductivity,
        at: at.map(|at| at.value),
        sea,
        rise,
        level,
    })
}

/// A rise of chloride, or its level alone.
type Chloride = (Option<RiseAsk>, Option<Reading<Concentration>>);

fn rise(salt: &cli::Salt, sea_known: bool) -> Result<Chloride, Fault> {
    let now: Option<Reading<Concentration>> = read("--chloride", &salt.chloride, None)?;
    let before = read("--before", &salt.before, None)?;
    let volume = over_nought("--volume", &salt.volume)?;
    let lacks = [
        ("--chloride", now.is_none()),
        ("--before", before.is_none()),
        ("--volume", volume.is_none()),
        ("--sea or --conductivity", !sea_known),
    ];
    match (now, before, volume) {
        (None, None, None) if !salt.kept => Ok((None, None)),
        // A strip alone can still be held against what is borne in service.
        (Some(now), None, None) if !salt.kept => Ok((None, Some(now))),
        (Some(now), Some(before), Some(volume)) if sea_known => Ok((
            Some(RiseAsk {
                now,
                before,
                volume,
                kept: salt.kept,
            }),
            None,
        )),
        _ => {
            let lacks: Vec<&str> = lacks
                .into_iter()
                .filter_map(|(flag, lacks)| lacks.then_some(flag))
                .collect();
            let is = if lacks.len() == 1 { "is" } else { "are" };
            Err(Fault::Flags(format!(
                "Sea water taken in wants --chloride, --before, --volume and how salt the sea is: {} {is} missing.",
                lacks.join(", ")
            )))
        }
    }
}
