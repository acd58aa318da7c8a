//! The hose sheet: one run on one page, to cut, mark, slide on and set by. A run of several hoses, or of more than
//! two clips, goes on overleaf.

use reckon::{JointRow, LayOrder};

use super::sheet;
use super::words::{HOT, bold, listed, plain, soft};
use crate::doc::{Block, Paper, Sheet, Span, left_over};
use crate::draw::Picture;
use crate::draw::hose::{HoseForm, clocks, head, lies, lies_least, straight};
use crate::draw::ink::PX_IN_MM;

/// The greatest height of the three views: higher, a page looks empty [mm].
const HIGHEST: f64 = 190.0;
/// What no view is lower than, where all is to go on one page [mm].
const LOWEST: f64 = 78.0;

/// The sheet of one run as it is to hang, for a paper. Its name is `hose-` and the run's mark.
#[must_use]
pub fn hose(form: &HoseForm<'_>, paper: Paper) -> Sheet {
    let first = [
        // It says its title itself.
        Block::NewPage,
        Block::Picture(head(form)),
        Block::Caution(HOT.into()),
    ];
    let bars: Vec<Block> = form
        .hoses()
        .into_iter()
        .filter_map(|part| straight(form, part))
        .map(Block::Picture)
        .collect();
    let faces: Vec<Block> = clocks(form).into_iter().map(Block::Picture).collect();
    let order = slide_on(form);
    let facts = facts(form);
    let least = lies_least(form).max(LOWEST);

    // All on one page where that leaves the views room; else what is set by hand goes overleaf.
    let on_one: Vec<Block> = [
        &first[..],
        &bars[..],
        &[placeholder()],
        &faces[..],
        &order[..],
        &facts[..],
    ]
    .concat();
    let left = left_over(&on_one, paper) / PX_IN_MM - 0.5;
    let blocks = if bars.len() <= 1 && faces.len() <= 1 && left >= least {
        let views = Block::Picture(lies(form, left.min(HIGHEST)));
        [&first[..], &bars[..], &[views], &faces[..], &order[..]].concat()
    } else {
        let here: Vec<Block> = [&first[..], &[placeholder()], &order[..]].concat();
        let left = left_over(&here, paper) / PX_IN_MM - 0.5;
        let views = Block::Picture(lies(form, left.max(least).min(HIGHEST)));
        let overleaf = Block::Head(format!(
            "{}: straight, as cut, and its clips",
            form.run.mark
        ));
        [
            &first[..],
            &[views],
            &order[..],
            &[Block::NewPage, overleaf],
            &bars[..],
            &faces[..],
        ]
        .concat()
    };
    let blocks = [&blocks[..], &facts[..]].concat();
    let run = form.run;
    sheet(
        &format!("hose-{}", run.mark),
        &format!("Hose {}, {}", run.mark, run.run),
        blocks,
    )
}

/// A picture of no height, where the views will stand.
fn placeholder() -> Block {
    Block::Picture(Picture::default())
}

/// What else there is to tell of the run.
fn facts(form: &HoseForm<'_>) -> Vec<Block> {
    let facts = form.run.facts.iter();
    let words: Vec<String> = facts
        .map(|(name, words)| format!("{name}: {}", words.in_units(form.units)))
        .collect();
    match words.is_empty() {
        true => Vec::new(),
        false => vec![Block::Text(vec![soft(format!("{}.", words.join("; ")))])],
    }
}

/// What slides on before an end is pushed on, hose by hose from left to right as in the bar; then the boxes to tick.
fn slide_on(form: &HoseForm<'_>) -> Vec<Block> {
    let mut blocks = Vec::new();
    for part in form.hoses() {
        let [first, last] = form.ends_of(part);
        let mut spans = vec![
            bold("Slide on first:"),
            plain(format!(
                " onto {}, from left to right, before an end is pushed on:",
                part.title
            )),
        ];
        let ends: Vec<&JointRow> = [first, last].into_iter().flatten().collect();
        if ends.is_empty() {
            spans.push(plain("its joints are not known."));
        }
        for (at, row) in ends.iter().enumerate() {
            if at > 0 {
                spans.push(plain(" then"));
            }
            spans.push(bold(format!("{} {}", row.mark, clips(row))));
        }
        if !ends.is_empty() {
            spans.push(plain("."));
        }
        if part.cut.is_none() {
            spans.push(plain(
                " How long it is cut is not known yet: it is not drawn as cut.",
            ));
        }
        for row in ends {
            if row.by_hand.ring_on_first {
                spans.push(plain(format!(
                    " At {} the ring goes onto the bare spigot first, then the hose.",
                    row.mark
                )));
            }
        }
        blocks.push(Block::Text(spans));
    }
    if let Some(turn) = turn(form) {
        // It ends the last of them, or stands alone where nothing is slid on.
        match blocks.last_mut() {
            Some(Block::Text(spans)) => spans.push(plain(format!(" {turn}"))),
            _ => blocks.push(Block::Text(vec![plain(turn)])),
        }
    }
    let mut boxes: Vec<Span> = Vec::new();
    let screws = form.own().into_iter().any(|row| {
        let close = row.by_hand.close.as_deref();
        close.is_some_and(|close| close.starts_with("tighten"))
    });
    let mut steps = vec!["cut", "marks on", "clips on", "pushed to mark"];
    if screws {
        steps.extend(["screw o’clock", "nipped", "nipped again"]);
    } else {
        steps.push("clips closed");
    }
    for step in steps {
        boxes.push(Span::Tick);
        boxes.push(plain(format!(
            "{}\u{a0}\u{a0}",
            step.replace(' ', "\u{a0}")
        )));
    }
    blocks.push(Block::Text(boxes));
    blocks
}

/// How many clips of which kind at a joint.
fn clips(row: &JointRow) -> String {
    match (&row.clip, row.clips) {
        (Some(clip), Some(1)) => format!("one {clip}"),
        (Some(clip), Some(2)) => format!("two {clip}"),
        (Some(clip), Some(many)) => format!("{many} {clip}"),
        (Some(clip), None) => clip.clone(),
        (None, _) => "its clips, which are unmeasured".to_owned(),
    }
}

/// When this run goes in, by the reach of the clips.
fn turn(form: &HoseForm<'_>) -> Option<String> {
    let named = |key: &String| {
        let runs = form.route.runs.iter();
        let mut own = runs.filter(|run| run.run == *key);
        own.next()
            .map_or_else(|| key.clone(), |run| run.mark.clone())
    };
    match form.route.order.as_ref()? {
        LayOrder::Works(order) if order.len() > 1 => {
            let at = order.iter().position(|run| *run == form.run.run)?;
            let before: Vec<String> = order.iter().take(at).map(named).collect();
            let after: Vec<String> = order.iter().skip(at + 1).map(named).collect();
            Some(match (before.is_empty(), after.is_empty()) {
                (true, _) => format!(
                    "It goes in first, before {}, so that each clip is reached.",
                    listed(&after)
                ),
                (_, true) => format!(
                    "It goes in last, after {}, so that each clip is reached.",
                    listed(&before)
                ),
                _ => format!(
                    "It goes in after {} and before {}, so that each clip is reached.",
                    listed(&before),
                    listed(&after)
                ),
            })
        }
        LayOrder::Blocked(runs) if runs.contains(&form.run.run) => {
            let others: Vec<String> = runs
                .iter()
                .filter(|run| **run != form.run.run)
                .map(named)
                .collect();
            Some(match others.is_empty() {
                true => "It can’t go in last: a clip of its own is out of reach then.".to_owned(),
                false => format!(
                    "Of it and {} none can go in last: whichever does, one of its clips is out of reach.",
                    listed(&others)
                ),
            })
        }
        _ => None,
    }
}
