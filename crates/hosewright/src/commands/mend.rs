//! `mend`: a verdict's remedy, done by an edit of the boat file.

use std::collections::BTreeMap;

use boat::Boat;
use reckon::{Answer, Edit, Grade, Memo, Set, Verdict};

use crate::api::{self, MendRefusal, MendSchema, Moved, RemedyEdit, Where};
use crate::change;
use crate::cli;
use crate::fault::{Exit, Fault, nearest};
use crate::files::{self, Hash, Held};
use crate::load::{Judge, Loaded};
use crate::render::{grade_word, head, verdict};
use crate::run::Outcome;
use crate::text::{Page, Terminal, listed};

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
        bay: true,
    };
    let mut memo = Memo::default();
    let answer = loaded.judge_knowing(judge, &mut memo)?;
    let before = named(&answer.verdicts, &mend)?;
    let (choice, edit) = chosen(before, &mend)?;
    let edited = apply(&loaded, before, edit)?;
    let after = edited.judge_knowing(judge, &mut memo)?;
    let now = after
        .verdicts
        .iter()
        .find(|verdict| verdict.id == before.id);
    let refused = refusal(before, &answer.verdicts, &after, &edited.boat);
    let written = !mend.dry_run && refused.is_none();
    let exit = if refused.is_some() || now.is_some_and(|now| now.grade == Grade::Unsound) {
        Exit::Unsound
    } else {
        Exit::Sound
    };
    let also = moved(&answer.verdicts, &after.verdicts, &before.id);
    let change = change::between(&loaded.held.text, &edited.held.text);
    let comment = change::comment(&edited, &edit.place);
    let arrangement = answer.arrangement.as_deref();

    if mend.showing.json {
        let (old, new): (&dyn Where, &dyn Where) = (&loaded.chart, &edited.chart);
        let document = api::Mend {
            schema: MendSchema::V1,
            about: loaded.about(arrangement),
            written,
            refused,
            file_hash_after: edited.held.hash.long(),
            choice,
            edit: RemedyEdit::of(edit.clone(), old),
            change,
            comment,
            before: api::Verdict::of(before.clone(), Some(old)),
            after: now.map(|now| api::Verdict::of(now.clone(), Some(new))),
            also,
        };
        let told = api::to_json(&document);
        return done(&loaded, &edited, written, Outcome::said(told, exit));
    }

    let mut page = Page::new(terminal);
    head::head(&mut page, loaded.name(), arrangement, &loaded.held);
    page.gap();
    page.hanging("", "  ", &format!("{}: {}", edit.place, edit.label));
    change::write(&mut page, &change);
    if let Some(comment) = &comment {
        page.hanging("  ", "  ", &comment.told);
    }
    let above = if written {
        "Now:"
    } else {
        "With this edit (nothing is written):"
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
    if let Some(refused) = &refused {
        page.gap();
        page.paragraph(0, &refused.told);
    }
    done(
        &loaded,
        &edited,
        written,
        Outcome::said(page.finish(), exit),
    )
}

/// Writes the file last, when nothing is left that could fail but the writing itself: a defect
/// on the way here has then written nothing.
fn done(
    loaded: &Loaded,
    edited: &Loaded,
    written: bool,
    outcome: Outcome,
) -> Result<Outcome, Fault> {
    if written {
        files::replace(&loaded.held, &edited.held.text)?;
    }
    Ok(outcome)
}

/// Why the edit is no mending: its verdict would be no better, or another would become unsound.
fn refusal(
    mended: &Verdict,
    before: &[Verdict],
    after: &Answer,
    boat: &Boat,
) -> Option<MendRefusal> {
    let now = after
        .verdicts
        .iter()
        .find(|verdict| verdict.id == mended.id);
    let no_better = match now {
        // Carrying out a choice that is sound already makes nothing better, and need not.
        Some(now) if mended.grade == Grade::Sound => now.grade != Grade::Sound,
        Some(now) => now.grade >= mended.grade,
        None => is_there(&mended.subject, after, boat),
    };
    let was_unsound = |id: &str| {
        before
            .iter()
            .any(|verdict| verdict.id == id && verdict.grade == Grade::Unsound)
    };
    let made_unsound: Vec<String> = after
        .verdicts
        .iter()
        .filter(|verdict| verdict.id != mended.id)
        .filter(|verdict| verdict.grade == Grade::Unsound && !was_unsound(&verdict.id))
        .map(|verdict| verdict.id.clone())
        .collect();
    if !no_better && made_unsound.is_empty() {
        return None;
    }
    let stays = no_better.then(|| match now {
        Some(now) if now.grade == mended.grade => {
            format!("{} would still be {}", mended.id, grade_word(now.grade))
        }
        Some(now) => format!("{} would be {}", mended.id, grade_word(now.grade)),
        None => format!("{} could no longer be judged", mended.id),
    });
    let worse = (!made_unsound.is_empty())
        .then(|| format!("{} would become unsound", listed(&made_unsound)));
    let why: Vec<String> = [stays, worse].into_iter().flatten().collect();
    Some(MendRefusal {
        no_better,
        told: format!("Nothing is written: with this edit {}.", listed(&why)),
        made_unsound,
    })
}

/// Whether what a verdict was about is still there: a joint, a piece of a run, a thing.
fn is_there(subject: &str, answer: &Answer, boat: &Boat) -> bool {
    let piece = |run: &boat::Run| {
        run.way.given().into_iter().flatten().any(|piece| {
            subject == format!("{}.{}", run.key, piece.name)
                || subject.starts_with(&format!("{}.{}.", run.key, piece.name))
        })
    };
    answer.joints.iter().any(|row| row.joint == subject)
        || answer
            .verdicts
            .iter()
            .any(|verdict| verdict.subject == subject)
        || boat.runs.iter().any(|run| run.key == subject || piece(run))
        || boat.things.iter().any(|thing| thing.key == subject)
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

#[cfg(test)]
mod tests {
    use super::*;
    use reckon::{Basis, Stage, Words, Working};

    fn verdict(subject: &str, grade: Grade) -> Verdict {
        Verdict {
            id: format!("fit.{subject}.clip"),
            stage: Stage::Fit,
            subject: subject.into(),
            title: subject.into(),
            grade,
            because: Words::default(),
            remedy: Words::default(),
            chance: None,
            basis: Basis::Practice,
            caution: None,
            place: String::new(),
            margin: None,
            edits: Vec::new(),
            settles: None,
            spoken: Words::default(),
            working: Working::default(),
        }
    }

    #[track_caller]
    fn check(before: &[Verdict], after: &[Verdict], file: &str, told: Option<&str>) {
        let (boat, _, _) = boat::read(file);
        let answer = Answer {
            verdicts: after.to_vec(),
            ..Answer::default()
        };
        let refused = refusal(&before[0], before, &answer, &boat);
        assert_eq!(
            refused.map(|refused| refused.told),
            told.map(|told| format!("Nothing is written: with this edit {told}."))
        );
    }

    #[test]
    fn an_edit_that_mends_nothing_or_harms_is_refused() {
        use Grade::{Marginal, Sound, Unmeasured, Unsound};
        let (a, b) = (
            |grade| verdict("hot", grade),
            |grade| verdict("cold", grade),
        );
        let gone = "version = 1\n";
        let there = "version = 1\n[runs]\nhot = { from = \"engine.out\", to = \"engine.in\" }\n";
        check(&[a(Unsound)], &[a(Sound)], gone, None);
        check(&[a(Unsound)], &[a(Marginal)], gone, None);
        check(&[a(Sound)], &[a(Sound)], gone, None);
        check(&[a(Unsound)], &[], gone, None);
        let lost = "fit.hot.clip could no longer be judged";
        check(&[a(Unsound)], &[], there, Some(lost));
        let still = "fit.hot.clip would still be unsound";
        check(&[a(Unsound)], &[a(Unsound)], gone, Some(still));
        let worse = "fit.hot.clip would be unsound";
        check(&[a(Marginal)], &[a(Unsound)], gone, Some(worse));
        let other = "fit.cold.clip would become unsound";
        check(
            &[a(Unsound), b(Unmeasured)],
            &[a(Sound), b(Unsound)],
            gone,
            Some(other),
        );
        check(&[a(Unsound)], &[a(Sound), b(Unsound)], gone, Some(other));
        check(
            &[a(Unsound), b(Unsound)],
            &[a(Sound), b(Unsound)],
            gone,
            None,
        );
    }
}
