//! `marks`: the letter of each run, kept in the boat file once it is given.

use crate::api::{self, Mark, MarksSchema};
use crate::cli;
use crate::fault::{Exit, Fault};
use crate::files::{self, Hash};
use crate::load::{Loaded, meant};
use crate::render::head;
use crate::run::Outcome;
use crate::text::{Column, Page, Terminal};

/// Runs it.
pub fn run(marks: cli::Marks, terminal: Terminal) -> Result<Outcome, Fault> {
    let cli::Marks {
        boat,
        dry_run,
        showing,
    } = marks;
    let (boat, _) = meant(boat, None);
    let loaded = Loaded::from_path(&boat)?;
    if loaded.stopped() {
        return Ok(loaded.refusal(showing.json, terminal));
    }
    let had = |run: &str| {
        loaded
            .boat
            .runs
            .iter()
            .chain(
                loaded
                    .boat
                    .arrangements
                    .iter()
                    .flat_map(|arrangement| &arrangement.add_runs),
            )
            .any(|known| known.key == run && known.mark.is_some())
    };
    let marks: Vec<Mark> = reckon::marks(&loaded.boat)
        .into_iter()
        .map(|(run, mark)| Mark {
            new: !had(&run),
            run,
            mark,
        })
        .collect();
    let text = with_marks(&loaded, &marks)?;
    let changed = text != loaded.held.text;
    let written = changed && !dry_run;
    // Writing comes last, so that a defect on the way there has written nothing.
    let done = |outcome: Outcome| {
        if written {
            files::replace(&loaded.held, &text)?;
        }
        Ok(outcome)
    };

    if showing.json {
        let document = api::Marks {
            schema: MarksSchema::V1,
            about: loaded.about(None),
            written,
            file_hash_after: Hash::of(text.as_bytes()).long(),
            marks,
        };
        return done(Outcome::said(api::to_json(&document), Exit::Sound));
    }
    let mut page = Page::new(terminal);
    head::head(&mut page, loaded.name(), None, &loaded.held);
    page.gap();
    let rows: Vec<Vec<String>> = marks
        .iter()
        .map(|mark| {
            vec![
                mark.mark.clone(),
                mark.run.clone(),
                if mark.new {
                    "new".into()
                } else {
                    String::new()
                },
            ]
        })
        .collect();
    page.table(
        0,
        &[
            Column::words("mark"),
            Column::words("run"),
            Column::words(""),
        ],
        &rows,
    );
    page.gap();
    let count = marks.iter().filter(|mark| mark.new).count();
    let told = match (count, dry_run) {
        (0, _) => "Every run has its mark in the file already.".to_owned(),
        (1, true) => "1 mark is new; nothing is written.".to_owned(),
        (count, true) => format!("{count} marks are new; nothing is written."),
        (1, false) => {
            "1 mark is new and now stands in the file; it will not move again.".to_owned()
        }
        (count, false) => {
            format!("{count} marks are new and now stand in the file; they will not move again.")
        }
    };
    page.paragraph(0, &told);
    done(Outcome::said(page.finish(), Exit::Sound))
}

fn with_marks(loaded: &Loaded, marks: &[Mark]) -> Result<String, Fault> {
    let mut text = loaded.held.text.clone();
    for Mark { run, mark, .. } in marks.iter().filter(|mark| mark.new) {
        let place = format!("{}.mark", place_of(&loaded.boat, run));
        text = boat::set_value(&text, &place, &boat::quoted(mark)).map_err(|error| {
            Fault::BadEdit {
                id: format!("the mark of {run}"),
                why: error.to_string(),
            }
        })?;
    }
    Ok(text)
}

/// Where a run stands in the file: among the runs, or in the arrangement that first adds it.
fn place_of(boat: &boat::Boat, run: &str) -> String {
    let key = boat::key_text(run);
    let adds = |arrangement: &&boat::Arrangement| {
        arrangement.add_runs.iter().any(|added| added.key == run)
    };
    let own = boat.runs.iter().any(|known| known.key == run);
    match boat.arrangements.iter().find(adds) {
        Some(arrangement) if !own => {
            let name = boat::key_text(&arrangement.key);
            format!("arrangements.{name}.add.{key}")
        }
        _ => format!("runs.{key}"),
    }
}
