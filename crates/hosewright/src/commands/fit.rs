//! `fit`: the joints of a boat, or one joint from flags.

use boat::{ClipWord, HoseBuild};
use quantity::{Length, Reading, Unit};
use reckon::{Set, Stage};

use super::{exit_for, must_explain};
use crate::api::{self, About, FitSchema, JointRow, Summary, Verdict, Where};
use crate::cli;
use crate::fault::Fault;
use crate::load::{Judge, Loaded, meant};
use crate::render::{Manner, fit as rows, head, verdict};
use crate::run::Outcome;
use crate::text::{Page, Terminal};

/// Runs it.
pub fn run(fit: cli::Fit, terminal: Terminal) -> Result<Outcome, Fault> {
    let cli::Fit {
        boat,
        joint,
        mut judging,
        showing,
    } = fit;
    if joint.given() {
        if boat.is_some() {
            return Err(Fault::Flags(
                "A boat and a joint from flags don't go together: give one or the other.".into(),
            ));
        }
        return quick(&joint, &judging, showing, terminal);
    }
    let (boat, explain) = meant(boat, judging.explain.take());
    judging.explain = explain;
    of(&Loaded::from_path(&boat)?, &judging, showing, terminal)
}

/// The joints of a boat that is read already.
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
        set: set(judging),
        seed: judging.seed,
    })?;
    answer
        .verdicts
        .retain(|verdict| verdict.stage == Stage::Fit);
    must_explain(judging.explain.as_deref(), &answer.verdicts)?;
    let summary = Summary::of(answer.verdicts.iter().map(|verdict| verdict.grade));
    let exit = exit_for(&summary, judging.strict);
    let arrangement = answer.arrangement.as_deref();

    if showing.json {
        let chart: &dyn Where = &loaded.chart;
        let document = api::Fit {
            schema: FitSchema::V1,
            about: loaded.about(arrangement),
            quick: judging.quick,
            seed: judging.seed,
            summary,
            remarks: loaded.sent_remarks(),
            joints: answer.joints.into_iter().map(JointRow::from).collect(),
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
    head::summary(&mut page, &summary);
    let manner = loaded.manner(showing.units.into());
    rows::table(&mut page, &answer.joints, manner.units);
    let show = verdict::Show {
        all: judging.all,
        explain: judging.explain.clone(),
    };
    verdict::verdicts(&mut page, &answer.verdicts, &show, &manner);
    loaded.write_remarks(&mut page);
    head::next_steps(&mut page, &answer.verdicts, &loaded.held);
    Ok(Outcome::said(page.finish(), exit))
}

/// One joint from flags.
fn quick(
    joint: &cli::Joint,
    judging: &cli::Judging,
    showing: cli::Showing,
    terminal: Terminal,
) -> Result<Outcome, Fault> {
    if judging.arrangement.is_some() {
        return Err(Fault::Flags(
            "--arrangement wants a boat: one joint from flags has none.".into(),
        ));
    }
    let input = quick_input(joint, judging)?;
    let (row, verdicts) = reckon::quick(&input);
    must_explain(judging.explain.as_deref(), &verdicts)?;
    let summary = Summary::of(verdicts.iter().map(|verdict| verdict.grade));
    let exit = exit_for(&summary, judging.strict);
    if showing.json {
        let document = api::Fit {
            schema: FitSchema::V1,
            about: About {
                tool: api::TOOL.into(),
                version: api::VERSION.into(),
                boat: None,
                file: None,
                file_hash: None,
                arrangement: None,
            },
            quick: judging.quick,
            seed: judging.seed,
            summary,
            remarks: Vec::new(),
            joints: vec![row.into()],
            verdicts: verdicts
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
    rows::one(&mut page, &row, manner.units);
    head::summary(&mut page, &summary);
    let show = verdict::Show {
        all: true,
        explain: judging.explain.clone(),
    };
    verdict::verdicts(&mut page, &verdicts, &show, &manner);
    Ok(Outcome::said(page.finish(), exit))
}

fn set(judging: &cli::Judging) -> Set {
    if judging.quick { Set::Prompt } else { Set::All }
}

fn quick_input(joint: &cli::Joint, judging: &cli::Judging) -> Result<reckon::QuickInput, Fault> {
    let cli::Joint {
        bore,
        over,
        spigot,
        bead,
        behind_bead,
        clip,
        hose,
    } = joint;
    let due = |flag: &str, given: &Option<String>| match given {
        Some(text) => length(flag, text),
        None => Err(Fault::Flags(format!(
            "One joint wants --bore, --over and --spigot: {flag} is missing."
        ))),
    };
    let perhaps = |flag: &str, given: &Option<String>| {
        given.as_deref().map(|text| length(flag, text)).transpose()
    };
    Ok(reckon::QuickInput {
        bore: due("--bore", bore)?,
        over: due("--over", over)?,
        spigot: due("--spigot", spigot)?,
        bead: perhaps("--bead", bead)?,
        behind_bead: perhaps("--behind-bead", behind_bead)?,
        clip: clip.map(|clip| match clip {
            cli::ClipKind::Worm => ClipWord::Worm,
            cli::ClipKind::SingleEar => ClipWord::SingleEar,
            cli::ClipKind::TwoEar => ClipWord::TwoEar,
            cli::ClipKind::TBolt => ClipWord::TBolt,
            cli::ClipKind::Spring => ClipWord::SpringBand,
        }),
        hose: match hose.unwrap_or(cli::HoseBuild::Epdm) {
            cli::HoseBuild::Epdm => HoseBuild::Epdm,
            cli::HoseBuild::Wired => HoseBuild::Wired,
            cli::HoseBuild::Silicone => HoseBuild::Silicone,
            cli::HoseBuild::PlainRubber => HoseBuild::PlainRubber,
            cli::HoseBuild::PlainSilicone => HoseBuild::PlainSilicone,
        },
        seed: judging.seed,
        set: set(judging),
    })
}

/// A length from a flag; a bare number is millimetres.
fn length(flag: &str, text: &str) -> Result<Reading<Length>, Fault> {
    quantity::parse_reading(text, Some(millimetre())).map_err(|error| Fault::Flag {
        flag: flag.into(),
        found: text.into(),
        why: error.message,
    })
}

/// The unit of bare numbers in flags.
fn millimetre() -> &'static Unit {
    // OK because the table of units has the millimetre.
    quantity::unit::UNITS
        .iter()
        .find(|unit| unit.name == "mm")
        .expect("the table of units has mm")
}
