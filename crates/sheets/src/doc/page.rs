//! A page: the paper, its frame, and the title block along its foot.

use super::inline::set;
use super::{Head, Paper, Sheet};
use crate::draw::ink::PX_IN_MM;
use crate::draw::shape::{Anchor, Class, Face, Picture, Shape};
use crate::draw::{check::Extent, text};

/// The least size of type, px.
pub(super) const LEAST: f64 = 2.6 * PX_IN_MM;
/// The size of running text, px.
pub(super) const TEXT: f64 = 3.2 * PX_IN_MM;
/// The size of heads, px.
pub(super) const HEAD: f64 = 4.4 * PX_IN_MM;

/// Width of the frame, px.
const FRAME_WIDE: f64 = 180.0 * PX_IN_MM;
/// Height of the title block, px.
const BLOCK_HIGH: f64 = 18.0 * PX_IN_MM;
/// Room between the frame and what stands in it, px.
const INSET: f64 = 4.0 * PX_IN_MM;

/// Where things go on a paper, px.
#[derive(Clone, Copy, Debug)]
pub(super) struct Room {
    /// The paper.
    pub(super) width: f64,
    pub(super) height: f64,
    /// The frame.
    pub(super) frame: Extent,
    /// What blocks may fill.
    pub(super) body: Extent,
}

impl Room {
    pub(super) fn of(paper: Paper) -> Room {
        let (wide, high) = match paper {
            Paper::A4 => (210.0, 297.0),
            Paper::Letter => (215.9, 279.4),
        };
        let (width, height) = (wide * PX_IN_MM, high * PX_IN_MM);
        // 20 mm at the left for filing holes, 10 elsewhere; what Letter is wider is shared.
        let left = 20.0 * PX_IN_MM + (width - 30.0 * PX_IN_MM - FRAME_WIDE) / 2.0;
        let margin = 10.0 * PX_IN_MM;
        let frame = Extent {
            left,
            top: margin,
            right: left + FRAME_WIDE,
            bottom: height - margin,
        };
        let body = Extent {
            left: frame.left + INSET,
            top: frame.top + INSET,
            right: frame.right - INSET,
            bottom: frame.bottom - BLOCK_HIGH - 0.5 * INSET,
        };
        Room {
            width,
            height,
            frame,
            body,
        }
    }

    pub(super) fn wide(&self) -> f64 {
        self.body.right - self.body.left
    }

    pub(super) fn high(&self) -> f64 {
        self.body.bottom - self.body.top
    }
}

/// An empty page with its frame and title block.
pub(super) fn empty(sheet: &Sheet, head: &Head, number: usize, of: usize) -> Picture {
    let room = Room::of(head.paper);
    let mut page = Picture {
        width: room.width,
        height: room.height,
        spoken: format!("{}, {}, page {number} of {of}", head.boat, sheet.title),
        placed: Vec::new(),
    };
    let Extent {
        left,
        top,
        right,
        bottom,
    } = room.frame;
    page.put(
        Class::Frame,
        Shape::rectangle(left, top, right - left, bottom - top),
    );
    let block = bottom - BLOCK_HIGH;
    page.put(Class::Middle, Shape::line((left, block), (right, block)));

    let pages = format!("{number} of {of}");
    let mut at = left;
    let cells: [(&str, &str, f64, Face); 3] = [
        ("boat", head.boat.as_str(), 42.0, Face::Bold),
        ("sheet", sheet.title.as_str(), 36.0, Face::Plain),
        ("arrangement", head.arrangement.as_str(), 25.0, Face::Plain),
    ];
    for (caption, value, wide, face) in cells {
        let wide = wide * PX_IN_MM;
        cell(
            &mut page,
            caption,
            value,
            face,
            Extent {
                left: at,
                top: block,
                right: at + wide,
                bottom,
            },
        );
        if caption == "sheet" {
            let end = at + wide - 1.5 * PX_IN_MM;
            let shape = Shape::Text {
                x: end,
                y: block + 3.6 * PX_IN_MM,
                anchor: Anchor::End,
                face: Face::Bold,
                size: LEAST,
                text: pages.clone(),
            };
            page.put(Class::Text, shape);
        }
        at += wide;
        page.put(Class::Thin, Shape::line((at, block), (at, bottom)));
    }
    // Date over hash.
    let wide = 23.0 * PX_IN_MM;
    let middle = (block + bottom) / 2.0;
    for (caption, value, top, foot) in [
        ("date", head.date.as_str(), block, middle),
        ("answer", head.hash.as_str(), middle, bottom),
    ] {
        let extent = Extent {
            left: at,
            top,
            right: at + wide,
            bottom: foot,
        };
        cell(&mut page, caption, value, Face::Plain, extent);
    }
    page.put(Class::Thin, Shape::line((at, middle), (at + wide, middle)));
    at += wide;
    page.put(Class::Thin, Shape::line((at, block), (at, bottom)));
    bar(&mut page, at, right, block);
    page
}

/// A cell of the title block: a caption and, under it, its words on as many lines as it has.
fn cell(page: &mut Picture, caption: &str, value: &str, face: Face, extent: Extent) {
    let inset = 1.5 * PX_IN_MM;
    let x = extent.left + inset;
    let wide = extent.right - extent.left - 2.0 * inset;
    page.put(
        Class::Soft,
        set(caption, Face::Plain, LEAST, x, extent.top + 3.6 * PX_IN_MM),
    );
    let high = extent.bottom - extent.top - 4.4 * PX_IN_MM;
    // As large as it may be; what is still too long for the least size ends with dots.
    let (size, lines) = [TEXT, LEAST]
        .into_iter()
        .map(|size| (size, text::wrap(value, face, size, wide)))
        .find(|(size, lines)| lines.len() as f64 * 1.3 * size <= high)
        .unwrap_or_else(|| (LEAST, cut(value, face, wide, high)));
    let mut y = extent.top + 4.2 * PX_IN_MM;
    for line in &lines {
        y += 1.3 * size;
        page.put(Class::Text, set(line, face, size, x, y - 0.4 * size));
    }
}

/// As many lines as fit, the last one with dots.
fn cut(value: &str, face: Face, wide: f64, high: f64) -> Vec<String> {
    let mut lines = text::wrap(value, face, LEAST, wide);
    let mut most = 1;
    while (most + 1) as f64 * 1.3 * LEAST <= high {
        most += 1;
    }
    lines.truncate(most);
    if let Some(last) = lines.last_mut() {
        let longer = format!("{last} …");
        *last = if text::width(&longer, face, LEAST) <= wide {
            longer
        } else {
            text::fits(&format!("{last}……"), face, LEAST, wide)
        };
    }
    lines
}

/// The bar that shows whether the printer kept the size, and what `±` means.
fn bar(page: &mut Picture, left: f64, right: f64, top: f64) {
    let long = 50.0 * PX_IN_MM;
    let (x, y) = ((left + right - long) / 2.0, top + 7.6 * PX_IN_MM);
    let tick = 1.6 * PX_IN_MM;
    page.put(
        Class::Soft,
        set(
            "measure me: 50 mm",
            Face::Plain,
            LEAST,
            x,
            top + 3.6 * PX_IN_MM,
        ),
    );
    page.put(Class::Middle, Shape::line((x, y), (x + long, y)));
    for tenth in 0..=5 {
        let at = x + f64::from(tenth) * long / 5.0;
        let reach = if tenth == 0 || tenth == 5 {
            tick
        } else {
            0.5 * tick
        };
        page.put(Class::Fine, Shape::line((at, y - reach), (at, y + reach)));
    }
    let words = "± = sure it lies between";
    page.put(
        Class::Soft,
        set(words, Face::Plain, LEAST, x, top + 14.2 * PX_IN_MM),
    );
}
