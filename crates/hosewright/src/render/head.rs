//! The first two lines: which boat and file, and how it stands.

use reckon::{Grade, Verdict};

use super::grade_word;
use crate::api::Summary;
use crate::files::{BOAT_FILE, Held};
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

/// What can be typed next, where there is something to mend or to explain.
pub fn next_steps(page: &mut Page, verdicts: &[Verdict], held: &Held) {
    let open = |verdict: &&Verdict| matches!(verdict.grade, Grade::Unsound | Grade::Marginal);
    let boat = given(held);
    let mendable = verdicts
        .iter()
        .filter(open)
        .find(|verdict| !verdict.edits.is_empty());
    if let Some(verdict) = mendable {
        page.gap();
        page.hanging(
            "",
            "  ",
            &format!(
                "`hosewright mend {boat} {}` carries that remedy out.",
                verdict.id
            ),
        );
    }
    if let Some(verdict) = verdicts.iter().find(open) {
        if mendable.is_none() {
            page.gap();
        }
        page.hanging(
            "",
            "  ",
            &format!(
                "`hosewright check {boat} --explain {}` shows the working.",
                verdict.id
            ),
        );
    }
}

/// The boat as an owner would type her: the folder where the file has its usual name.
fn given(held: &Held) -> String {
    let shown = held.shown();
    match shown.strip_suffix(BOAT_FILE) {
        Some("") => ".".to_owned(),
        Some(folder) => folder.trim_end_matches('/').to_owned(),
        None => shown,
    }
}
