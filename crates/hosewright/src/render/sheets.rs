//! What was printed on paper, for people.

use crate::api::{RunWithout, SheetFile};
use crate::text::{Column, Page};

/// The list of what was written. `folder` is where, `paper` and `date` as they stand on it.
pub fn written(
    page: &mut Page,
    sheets: &[SheetFile],
    all: Option<&str>,
    (folder, paper, date): (&str, &str, &str),
) {
    let pages: usize = sheets.iter().map(|sheet| sheet.pages).sum();
    let counted = |count: usize, one: &str| {
        if count == 1 {
            format!("1 {one}")
        } else {
            format!("{count} {one}s")
        }
    };
    page.paragraph(
        0,
        &format!(
            "{}, {}, {paper}, {date}, in {folder}",
            counted(sheets.len(), "sheet"),
            counted(pages, "page")
        ),
    );
    page.gap();
    let columns = [
        Column::words("").at_most(14),
        Column::figures("").at_most(6),
        Column::words("").at_most(10),
        Column::words("").at_most(44),
    ];
    let mut rows = vec![
        ["sheet", "pages", "answer", "what it is"]
            .map(str::to_owned)
            .to_vec(),
    ];
    for sheet in sheets {
        rows.push(vec![
            sheet.name.clone(),
            sheet.pages.to_string(),
            sheet.hash[..8].to_owned(),
            sheet.title.clone(),
        ]);
    }
    page.table(0, &columns, &rows);
    page.hanging(
        "  ",
        "    ",
        "Each is NAME.pdf. A sheet is old when the eight signs on it differ from those here.",
    );
    if let Some(all) = all {
        page.hanging("  ", "    ", &format!("All of them in one: {all}"));
    }
}

/// The runs that have no hose sheet, and what would settle that; nothing where there are none.
pub fn without(page: &mut Page, runs: &[RunWithout]) {
    for run in runs {
        let settles = match run.settles.as_str() {
            "" => String::new(),
            how => format!(" {how}"),
        };
        let words = format!(
            "No hose sheet of {} ({}), unmeasured: {}.{settles}",
            run.run,
            run.mark,
            run.why.trim_end_matches('.')
        );
        page.hanging("  ", "    ", &words);
    }
}
