//! `fit`: the joints of a boat, or one joint from flags.

use boat::{ClipWord, HoseBuild};
use quantity::{Length, Reading, Tolerance, Unit};
use reckon::{Set, Stage};

use super::{exit_for, explained};
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
        bay: false,
    })?;
    answer
        .verdicts
        .retain(|verdict| verdict.stage == Stage::Fit);
    let explain = explained(judging.explain.clone(), &answer.joints, &answer.verdicts)?;
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
    head::standing(&mut page, &summary, &answer, &loaded.boat);
    let manner = loaded.manner(showing.units.into());
    rows::table(&mut page, &answer.joints, manner.units);
    let show = verdict::Show {
        all: judging.all,
        explain,
    };
    verdict::verdicts(&mut page, &answer.verdicts, &show, &manner);
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
    let explain = explained(
        judging.explain.clone(),
        std::slice::from_ref(&row),
        &verdicts,
    )?;
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
    let show = verdict::Show { all: true, explain };
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
        plain,
        behind_bead,
        clip,
        hose,
    } = joint;
    if *plain && bead.is_some() {
        return Err(Fault::Flags(
            "--plain and --bead don't go together: a plain spigot has no bead.".into(),
        ));
    }
    let due = |flag: &str, given: &Option<String>| match given {
        Some(text) => length(flag, text),
        None => Err(Fault::Flags(format!(
            "One joint wants --bore, --over and --spigot: {flag} is missing."
        ))),
    };
    let perhaps = |flag: &str, given: &Option<String>| {
        given.as_deref().map(|text| length(flag, text)).transpose()
    };
    let (bore_read, over_read, spigot_read) = (
        due("--bore", bore)?,
        due("--over", over)?,
        due("--spigot", spigot)?,
    );
    let bead_read = perhaps("--bead", bead)?;
    // Of two that can't both be right, the flag that is named is the one measured round the other.
    let wider = |flag: &str, found: &Option<String>, why: &str| Fault::Flag {
        flag: flag.into(),
        found: found.clone().unwrap_or_default(),
        why: why.into(),
    };
    if over_read.value <= bore_read.value {
        let why = "the outside of a hose is wider than its bore; give both of the free hose.";
        return Err(wider("--over", over, why));
    }
    if bead_read.is_some_and(|bead| bead.value < spigot_read.value) {
        let why = "a bead stands out over its spigot; measure the spigot behind the bead.";
        return Err(wider("--bead", bead, why));
    }
    Ok(reckon::QuickInput {
        bore: bore_read,
        over: over_read,
        spigot: spigot_read,
        bead: bead_read,
        plain: *plain,
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
    let fault = |why: String| Fault::Flag {
        flag: flag.into(),
        found: text.into(),
        why,
    };
    let reading: Reading<Length> =
        quantity::parse_reading(text, Some(millimetre())).map_err(|error| fault(error.message))?;
    let least = match reading.tolerance {
        Tolerance::PlusMinus(half) => reading.value - half,
        Tolerance::Between(low, _) => low,
        Tolerance::Unstated | Tolerance::Share(_) => reading.value,
    };
    if least <= Length::mm(0.0) {
        return Err(fault(
            "a length over 0 is due, its tolerance taken off.".into(),
        ));
    }
    if reading.value > Length::mm(LARGEST_MM) {
        return Err(fault(format!(
            "a length of {LARGEST_MM} mm at most is due: no hose is so wide."
        )));
    }
    Ok(reading)
}

/// No hose of a boat's engine is wider [mm].
const LARGEST_MM: f64 = 1000.0;

/// The unit of bare numbers in flags.
fn millimetre() -> &'static Unit {
    // OK because the table of units has the millimetre.
    quantity::unit::UNITS
        .iter()
        .find(|unit| unit.name == "mm")
        .expect("the table of units has mm")
}
