//! One module a grammar: text in, typed list with spans out. The grammars stand in
//! `docs/boat-file.md`, in the same order.

mod aside;
mod bay;
mod bends;
mod chain;
mod clip;
mod curve;
mod ends;
mod misc;
mod paths;
mod price;
mod stock;
mod tape;
mod thread;
mod way;

pub(crate) use aside::{along, aside};
pub use bay::is_scan_file;
pub(crate) use bay::{SCAN_FILES, heading, headings, hose_name, scan_file};
pub(crate) use bends::bends;
pub(crate) use chain::chain;
pub(crate) use clip::clip;
pub(crate) use curve::curve;
pub(crate) use ends::{dotted, mark, moment, name};
pub(crate) use misc::taper;
pub(crate) use paths::path;
pub(crate) use price::price;
pub(crate) use stock::{stock_clip, stock_hose, stock_part};
pub(crate) use tape::{side, spot, tape};
pub(crate) use thread::thread;
pub(crate) use way::way;

use std::ops::Range;

use crate::remark::{Code, Fault, Faulty};
use crate::scan::parts;

/// The parts of a text, each read by `read`; all faults are found, not only the first.
fn each<T>(
    text: &str,
    separator: char,
    due: &str,
    mut read: impl FnMut(Range<usize>) -> Result<T, Fault>,
) -> Faulty<Vec<(T, Range<usize>)>> {
    let mut items = Vec::new();
    let mut faults = Vec::new();
    for span in parts(text, separator) {
        if span.is_empty() {
            // The separator before the gap, or the whole of a text that has nothing else.
            let sign = text[..span.start]
                .rfind(separator)
                .or_else(|| text.find(separator));
            let span = sign.map_or(0..text.len(), |at| at..at + separator.len_utf8());
            faults.push(Fault::new(
                Code::BadForm,
                span,
                format!("{due} is due on each side of “{separator}”"),
            ));
            continue;
        }
        match read(span.clone()) {
            Ok(item) => items.push((item, span)),
            Err(fault) => faults.push(fault),
        }
    }
    if faults.is_empty() {
        Ok(items)
    } else {
        Err(faults)
    }
}

/// Gives each item its kind as name, numbered from 2 where a kind repeats.
fn numbered<T>(items: &mut [T], kind: impl Fn(&T) -> &'static str, put: impl Fn(&mut T, String)) {
    let mut seen: Vec<(&'static str, usize)> = Vec::new();
    for item in items {
        let kind = kind(item);
        let count = match seen.iter_mut().find(|(known, _)| *known == kind) {
            Some((_, count)) => {
                *count += 1;
                *count
            }
            None => {
                seen.push((kind, 1));
                1
            }
        };
        put(
            item,
            if count == 1 {
                kind.to_owned()
            } else {
                format!("{kind}{count}")
            },
        );
    }
}
