//! The first two lines: which boat and file, and how it stands.

use boat::Boat;
use reckon::{Answer, Grade, Verdict};

use super::grade_word;
use super::verdict::Show;
use crate::api::Summary;
use crate::files::{BOAT_FILE, Held, for_shell};
use crate::text::Page;

/// Boat, arrangement and file.
pub fn head(page: &mut Page, boat: Option<&str>, arrangement: Option<&str>, held: &Held) {
    let boat = boat.unwrap_or("a boat without a name");
    let arrangement = arrangement.map_or_else(
        || "as the file stands".to_owned(),
        |name| format!("arrangement {name}"),
    );
    page.hanging_bold(
        "",
        "  ",
        &format!(
            "{boat} · {arrangement} · {} {}",
            held.shown(),
            held.hash.short()
        ),
    );
}

/// The counts, the unmeasured first: what isn't known comes before what is.
pub fn summary(page: &mut Page, summary: &Summary) {
    page.paragraph(0, &summary_line(summary));
}

/// The counts, and what to begin with where there is nothing to count.
pub fn standing(page: &mut Page, counts: &Summary, answer: &Answer, boat: &Boat) {
    let empty = boat.runs.is_empty() && answer.joints.is_empty();
    // Four noughts alone would read like a boat without faults.
    if !empty || !answer.verdicts.is_empty() {
        summary(page, counts);
    }
    if empty {
        page.paragraph(0, "No runs yet: write a run with its two ends.");
    }
}

/// `6 unmeasured, 2 unsound, 3 marginal, 21 sound`.
pub fn summary_line(summary: &Summary) -> String {
    let Summary {
        unmeasured,
        unsound,
        marginal,
        sound,
    } = *summary;
    [
        (unmeasured, Grade::Unmeasured),
        (unsound, Grade::Unsound),
        (marginal, Grade::Marginal),
        (sound, Grade::Sound),
    ]
    .map(|(count, grade)| format!("{count} {}", grade_word(grade)))
    .join(", ")
}

/// What an owner types to come to the same answer again.
#[derive(Clone, Copy, Debug)]
pub struct Typed<'a> {
    /// The boat file.
    pub held: &'a Held,
    /// The arrangement, where one was named.
    pub arrangement: Option<&'a str>,
}

/// What can be typed next about the verdicts as they are shown, the first of which is the worst.
pub fn next_steps(page: &mut Page, shown: &[&Verdict], show: &Show, typed: &Typed) {
    let open = |verdict: &&&Verdict| matches!(verdict.grade, Grade::Unsound | Grade::Marginal);
    let boat = for_shell(&given(typed.held));
    let arrangement = typed.arrangement.map_or_else(String::new, |name| {
        format!(" --arrangement {}", for_shell(name))
    });
    let mut say = Vec::new();
    let mendable = shown
        .iter()
        .filter(open)
        .find(|verdict| !verdict.edits.is_empty());
    if let Some(Verdict { id, .. }) = mendable {
        say.push(format!(
            "`hosewright mend {boat} {id}{arrangement}` carries its remedy out."
        ));
    }
    if let Some(Verdict { id, .. }) = shown
        .iter()
        .find(open)
        .filter(|verdict| !show.explains(verdict))
    {
        say.push(format!(
            "`hosewright check {boat} --explain {id}{arrangement}` shows the working."
        ));
    }
    if !say.is_empty() {
        page.gap();
    }
    for line in say {
        page.hanging("", "  ", &line);
    }
}

/// The boat as an owner would type her: the folder where the file has its usual name.
pub fn given(held: &Held) -> String {
    let shown = held.shown();
    match shown.strip_suffix(BOAT_FILE) {
        Some("") => ".".to_owned(),
        Some(folder) => folder.trim_end_matches('/').to_owned(),
        None => shown,
    }
}
