//! `thread`: the threads of a boat, or one thread from flags.

use quantity::{Length, Reading, Tolerance, Unit};
use reckon::{Identified, QuickThread, Set, THREAD_RULES, Verdict as Judged};
use reference::thread::ThreadSex;

use super::{exit_for, explained};
use crate::api::{self, About, Candidate, Look, Summary, ThreadSchema, Verdict, Where};
use crate::cli;
use crate::fault::Fault;
use crate::load::{Judge, Loaded, meant};
use crate::render::{Manner, head, thread as lines, verdict};
use crate::run::Outcome;
use crate::text::{Page, Terminal};

/// Seed of the judging, which draws nothing for a thread.
const SEED: u64 = 1;

/// Runs it.
pub fn run(mut thread: cli::Thread, terminal: Terminal) -> Result<Outcome, Fault> {
    if thread.read.given() {
        if thread.boat.is_some() || thread.arrangement.is_some() {
            return Err(Fault::Flags(
                "A boat and a thread from flags don't go together: give one or the other.".into(),
            ));
        }
        return quick(&thread, terminal);
    }
    let (boat, explain) = meant(thread.boat.take(), thread.explain.take());
    thread.explain = explain;
    of(&Loaded::from_path(&boat)?, &thread, terminal)
}

/// Whether a verdict is about a thread, by the last part of its id.
fn about_threads(verdict: &Judged) -> bool {
    let rule = verdict.id.rsplit('.').next().unwrap_or_default();
    verdict.stage == reckon::Stage::Fit && THREAD_RULES.contains(&rule)
}

/// The threads of a boat.
fn of(loaded: &Loaded, thread: &cli::Thread, terminal: Terminal) -> Result<Outcome, Fault> {
    let showing = thread.showing;
    if loaded.stopped() {
        return Ok(loaded.refusal(showing.json, terminal));
    }
    let mut answer = loaded.judge(Judge {
        arrangement: thread.arrangement.as_deref(),
        set: Set::Prompt,
        seed: SEED,
        bay: false,
    })?;
    answer.verdicts.retain(about_threads);
    let explain = explained(thread.explain.clone(), &[], &answer.verdicts)?;
    let summary = Summary::of(answer.verdicts.iter().map(|verdict| verdict.grade));
    let exit = exit_for(&summary, thread.strict);
    let arrangement = answer.arrangement.as_deref();
    if showing.json {
        let chart: &dyn Where = &loaded.chart;
        let document = api::Thread {
            schema: ThreadSchema::V1,
            about: loaded.about(arrangement),
            summary,
            remarks: loaded.sent_remarks(),
            candidates: Vec::new(),
            looks: Vec::new(),
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
    if answer.verdicts.is_empty() {
        page.paragraph(
            0,
            "The file tells of no thread yet: write a thing's `ports`, or its `chain`.",
        );
    }
    let show = verdict::Show {
        all: thread.all,
        explain,
    };
    let manner = loaded.manner(showing.units.into());
    verdict::verdicts(&mut page, &answer.verdicts, &show, &manner);
    loaded.write_remarks(&mut page);
    let boat = head::Typed {
        held: &loaded.held,
        arrangement: thread.arrangement.as_deref(),
    };
    head::next_steps(
        &mut page,
        &verdict::in_order(&answer.verdicts, &show),
        &show,
        &boat,
    );
    Ok(Outcome::said(page.finish(), exit))
}

/// One thread from flags.
fn quick(thread: &cli::Thread, terminal: Terminal) -> Result<Outcome, Fault> {
    let identified = reckon::quick_thread(&quick_input(&thread.read)?);
    let verdicts = std::slice::from_ref(&identified.verdict);
    let explain = explained(thread.explain.clone(), &[], verdicts)?;
    let summary = Summary::of([identified.verdict.grade]);
    let exit = exit_for(&summary, thread.strict);
    if thread.showing.json {
        let Identified {
            rows,
            others: _,
            tells,
            only: _,
            verdict,
        } = identified;
        let document = api::Thread {
            schema: ThreadSchema::V1,
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
            candidates: rows.into_iter().map(Candidate::from).collect(),
            looks: tells.into_iter().map(Look::from).collect(),
            verdicts: vec![Verdict::of(verdict, None)],
        };
        return Ok(Outcome::said(api::to_json(&document), exit));
    }
    let manner = Manner {
        units: thread.showing.units.into(),
        file: None,
    };
    let mut page = Page::new(terminal);
    lines::table(&mut page, &identified, manner.units);
    page.gap();
    head::summary(&mut page, &summary);
    let show = verdict::Show { all: true, explain };
    verdict::verdicts(&mut page, verdicts, &show, &manner);
    Ok(Outcome::said(page.finish(), exit))
}

fn quick_input(read: &cli::ThreadRead) -> Result<QuickThread, Fault> {
    let (sex, diameter) = match (&read.major, &read.minor) {
        (Some(major), _) => (ThreadSex::Male, length("--major", major)?),
        (_, Some(minor)) => (ThreadSex::Female, length("--minor", minor)?),
        _ => {
            return Err(Fault::Flags(
                "One thread wants its diameter: --major of a male, --minor of a female.".into(),
            ));
        }
    };
    let pitch = if let Some(ten) = &read.ten_pitches {
        Some((length("--ten-pitches", ten)?, 10.0))
    } else if let (Some(count), Some(over)) = (&read.pitches, &read.over) {
        let count = number("--pitches", count, 1.0, 200.0)?;
        Some((length("--over", over)?, count))
    } else if let Some(per_inch) = &read.per_inch {
        Some(turns(per_inch)?)
    } else {
        None
    };
    let taper = read.taper.as_deref().map(taper).transpose()?;
    Ok(QuickThread {
        sex,
        diameter,
        pitch,
        taper,
    })
}

/// A count by a gauge or a rule, off by at most this where nothing else is said. Common practice, no source.
const TURNS_OFF: f64 = 0.2;

/// Turns to the inch, as the length of an inch over so many pitches.
fn turns(text: &str) -> Result<(Reading<Length>, f64), Fault> {
    let flag = "--per-inch";
    let (count, off) = match text.split_once('±') {
        Some((count, off)) => (count, number(flag, off, 0.0, 10.0)?),
        None => (text, TURNS_OFF),
    };
    let count = number(flag, count, 1.0, 200.0)?;
    let inch = Length::inches(1.0);
    let over = Reading {
        tolerance: Tolerance::PlusMinus(inch * (off / count)),
        // A thread gauge is held to the thread, a rule to its crests: both are read as a length.
        instrument: Some(quantity::Instrument::ThreadGauge),
        ..Reading::plain(inch, millimetre())
    };
    Ok((over, count))
}

fn number(flag: &str, text: &str, low: f64, high: f64) -> Result<f64, Fault> {
    let read: Option<f64> = text.trim().parse().ok();
    read.filter(|number| (low..=high).contains(number))
        .ok_or_else(|| Fault::Flag {
            flag: flag.into(),
            found: text.into(),
            why: format!("a number from {low} to {high} is due."),
        })
}

/// `0.5 mm over 8 mm`.
fn taper(text: &str) -> Result<(Reading<Length>, Reading<Length>), Fault> {
    let flag = "--taper";
    let Some((change, over)) = text.split_once(" over ") else {
        return Err(Fault::Flag {
            flag: flag.into(),
            found: text.into(),
            why: "how much over what length is due: \"0.5 mm over 8 mm\".".into(),
        });
    };
    let change: Reading<Length> =
        quantity::parse_reading(change, Some(millimetre())).map_err(|error| Fault::Flag {
            flag: flag.into(),
            found: text.into(),
            why: error.message,
        })?;
    Ok((change, length(flag, over)?))
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
            "a length of {LARGEST_MM} mm at most is due: no thread of a boat's engine is so wide."
        )));
    }
    Ok(reading)
}

/// No thread of a boat's engine is wider [mm].
const LARGEST_MM: f64 = 1000.0;

/// The unit of bare numbers in flags.
fn millimetre() -> &'static Unit {
    Unit::mm()
}
