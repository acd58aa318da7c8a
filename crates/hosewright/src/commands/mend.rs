//! `mend`: a verdict's remedy, done by an edit of the boat file.

use std::collections::BTreeMap;

use reckon::{Edit, Grade, Set, Verdict};

use crate::api::{self, MendSchema, Moved, RemedyEdit, Where};
use crate::change;
use crate::cli;
use crate::fault::{Exit, Fault, nearest};
use crate::files::{self, Hash, Held};
use crate::load::{Judge, Loaded};
use crate::render::{grade_word, head, verdict};
use crate::run::Outcome;
use crate::text::{Page, Terminal};

/// Runs it.
pub fn run(mend: cli::Mend, terminal: Terminal) -> Result<Outcome, Fault> {
    let loaded = Loaded::from_path(&mend.boat)?;
    if loaded.stopped() {
        return Ok(loaded.refusal(mend.showing.json, terminal));
    }
    let judge = Judge {
        arrangement: mend.arrangement.as_deref(),
        set: Set::All,
        seed: mend.seed,
    };
    let answer = loaded.judge(judge)?;
    let before = named(&answer.verdicts, &mend)?;
    let (choice, edit) = chosen(before, &mend)?;
    let edited = apply(&loaded, before, edit)?;
    let after = edited.judge(judge)?;
    if !mend.dry_run {
        files::replace(&loaded.held, &edited.held.text)?;
    }

    let now = after
        .verdicts
        .iter()
        .find(|verdict| verdict.id == before.id);
    let exit = if now.is_some_and(|now| now.grade == Grade::Unsound) {
        Exit::Unsound
    } else {
        Exit::Sound
    };
    let also = moved(&answer.verdicts, &after.verdicts, &before.id);
    let change = change::between(&loaded.held.text, &edited.held.text);
    let arrangement = answer.arrangement.as_deref();

    if mend.showing.json {
        let (old, new): (&dyn Where, &dyn Where) = (&loaded.chart, &edited.chart);
        let document = api::Mend {
            schema: MendSchema::V1,
            about: loaded.about(arrangement),
            written: !mend.dry_run,
            file_hash_after: edited.held.hash.long(),
            choice,
            edit: RemedyEdit::of(edit.clone(), old),
            change,
            before: api::Verdict::of(before.clone(), Some(old)),
            after: now.map(|now| api::Verdict::of(now.clone(), Some(new))),
            also,
        };
        return Ok(Outcome::said(api::to_json(&document), exit));
    }

    let mut page = Page::new(terminal);
    head::head(&mut page, loaded.name(), arrangement, &loaded.held);
    page.gap();
    page.hanging("", "  ", &format!("{}: {}", edit.place, edit.label));
    change::write(&mut page, &change);
    let above = if mend.dry_run {
        "With this edit (nothing is written):"
    } else {
        "Now:"
    };
    match now {
        Some(now) => verdict::single(
            &mut page,
            above,
            now,
            &edited.manner(mend.showing.units.into()),
        ),
        None => {
            page.gap();
            page.hanging(
                "",
                "  ",
                &format!("{above} the verdict {} falls away.", before.id),
            );
        }
    }
    if !also.is_empty() {
        page.gap();
        page.paragraph(0, "The edit moves other verdicts too:");
        for Moved { id, before, after } in &also {
            let word = |grade: &Option<api::Grade>| grade.map_or("not there", word_of);
            page.hanging(
                "  – ",
                "    ",
                &format!("{id}: {} → {}", word(before), word(after)),
            );
        }
    }
    Ok(Outcome::said(page.finish(), exit))
}

fn named<'a>(verdicts: &'a [Verdict], mend: &cli::Mend) -> Result<&'a Verdict, Fault> {
    verdicts
        .iter()
        .find(|verdict| verdict.id == mend.verdict)
        .ok_or_else(|| Fault::NoVerdict {
            id: mend.verdict.clone(),
            nearest: nearest(
                &mend.verdict,
                verdicts.iter().map(|verdict| verdict.id.as_str()),
            ),
            boat: files::shown(&mend.boat),
        })
}

/// The edit to make, with its number from 1.
fn chosen<'a>(verdict: &'a Verdict, mend: &cli::Mend) -> Result<(usize, &'a Edit), Fault> {
    let id = verdict.id.clone();
    if verdict.edits.is_empty() {
        let remedy = verdict.remedy.in_units(mend.showing.units.into());
        return Err(match (verdict.grade, remedy) {
            (Grade::Sound, _) | (_, "") => Fault::NothingToMend {
                id,
                grade: grade_word(verdict.grade),
            },
            _ => Fault::NoEdit {
                id,
                remedy: remedy.to_owned(),
            },
        });
    }
    let choice = match (mend.choice, verdict.edits.len()) {
        (None, 1) => 1,
        (Some(choice), count) if (1..=count).contains(&choice) => choice,
        (Some(choice), count) => return Err(Fault::NoChoice { id, choice, count }),
        (None, _) => {
            let ways = verdict
                .edits
                .iter()
                .enumerate()
                .map(|(at, edit)| format!("{}  {}", at + 1, edit.label));
            return Err(Fault::WhichEdit {
                id,
                ways: ways.collect::<Vec<_>>().join("\n"),
            });
        }
    };
    Ok((choice, &verdict.edits[choice - 1]))
}

/// The file as it would stand, read again so that no edit can leave a file that does not read.
fn apply(loaded: &Loaded, verdict: &Verdict, edit: &Edit) -> Result<Loaded, Fault> {
    let bad = |why: String| Fault::BadEdit {
        id: verdict.id.clone(),
        why,
    };
    let text = boat::set_value(&loaded.held.text, &edit.place, &edit.to)
        .map_err(|error| bad(error.to_string()))?;
    let hash = Hash::of(text.as_bytes());
    let edited = Loaded::from_held(Held {
        path: loaded.held.path.clone(),
        text,
        hash,
    });
    match edited
        .remarks
        .iter()
        .find(|remark| remark.severity == boat::Severity::Stop)
    {
        Some(remark) => Err(bad(format!(
            "the file would no longer read: {}",
            remark.message
        ))),
        None => Ok(edited),
    }
}

/// Other verdicts whose grade the edit moved, in the order of the job.
fn moved(before: &[Verdict], after: &[Verdict], but: &str) -> Vec<Moved> {
    let grades = |verdicts: &[Verdict]| -> BTreeMap<String, Grade> {
        verdicts
            .iter()
            .map(|verdict| (verdict.id.clone(), verdict.grade))
            .collect()
    };
    let (old, new) = (grades(before), grades(after));
    let mut ids: Vec<&str> = before.iter().map(|verdict| verdict.id.as_str()).collect();
    ids.extend(
        after
            .iter()
            .map(|verdict| verdict.id.as_str())
            .filter(|id| !old.contains_key(*id)),
    );
    ids.into_iter()
        .filter(|id| *id != but && old.get(*id) != new.get(*id))
        .map(|id| Moved {
            id: id.to_owned(),
            before: old.get(id).map(|grade| (*grade).into()),
            after: new.get(id).map(|grade| (*grade).into()),
        })
        .collect()
}

fn word_of(grade: api::Grade) -> &'static str {
    match grade {
        api::Grade::Sound => grade_word(Grade::Sound),
        api::Grade::Unmeasured => grade_word(Grade::Unmeasured),
        api::Grade::Marginal => grade_word(Grade::Marginal),
        api::Grade::Unsound => grade_word(Grade::Unsound),
    }
}
