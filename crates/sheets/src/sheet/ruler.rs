//! Things that are drawn at their own size: bars to check the printer by, and lines in millimetres.

use crate::doc::{Block, Span};
use crate::draw::ink::PX_IN_MM;
use crate::draw::{Anchor, Class, Face, Picture, Shape};

/// The least size of type, px.
pub(super) const SMALL: f64 = 2.6 * PX_IN_MM;
/// The size of running text, px.
pub(super) const SIZE: f64 = 3.2 * PX_IN_MM;

/// A picture so many millimetres wide and high.
pub(super) fn picture(width: f64, height: f64, spoken: &str) -> Picture {
    Picture {
        width: width * PX_IN_MM,
        height: height * PX_IN_MM,
        spoken: spoken.to_owned(),
        placed: Vec::new(),
    }
}

/// A straight line, in millimetres.
pub(super) fn line(picture: &mut Picture, class: Class, from: (f64, f64), to: (f64, f64)) {
    let px = |(x, y): (f64, f64)| (x * PX_IN_MM, y * PX_IN_MM);
    picture.put(class, Shape::line(px(from), px(to)));
}

/// One line of text with its base line at a place in millimetres.
pub(super) fn words(
    picture: &mut Picture,
    (x, y): (f64, f64),
    anchor: Anchor,
    (face, size): (Face, f64),
    text: &str,
) {
    picture.put(
        Class::Text,
        Shape::Text {
            x: x * PX_IN_MM,
            y: y * PX_IN_MM,
            anchor,
            face,
            size,
            text: text.to_owned(),
        },
    );
}

/// A bar of 100 mm from a corner, along or down, with its tens.
pub(super) fn bar(picture: &mut Picture, (x, y): (f64, f64), down: bool) {
    let at = |along: f64, across: f64| match down {
        true => (x + across, y + along),
        false => (x + along, y + across),
    };
    line(picture, Class::Middle, at(0.0, 0.0), at(100.0, 0.0));
    for ten in 0..=10 {
        let along = f64::from(ten) * 10.0;
        let tall = if ten % 5 == 0 { 4.0 } else { 2.5 };
        line(picture, Class::Thin, at(along, 0.0), at(along, tall));
    }
}

/// A picture with the two bars along its upper and its left edge: what is drawn from [`INSIDE`] on stands
/// clear of them. Printers stretch paper unequally along and across.
pub(super) fn measured(width: f64, height: f64, spoken: &str) -> Picture {
    let spoken = format!(
        "A bar of 100 mm across the page and one down it, to be measured before the sheet is used. {spoken}"
    );
    let mut bars = picture(width, height, &spoken);
    bar(&mut bars, (14.0, 6.0), false);
    bar(&mut bars, (5.0, 10.0), true);
    words(
        &mut bars,
        (14.0, 15.0),
        Anchor::Start,
        (Face::Bold, SIZE),
        "measure me first: 100 mm across, 100 mm down",
    );
    bars
}

/// Where the room inside the two bars begins [mm].
pub(super) const INSIDE: (f64, f64) = (14.0, 18.0);

/// What to do with the two bars, and they themselves.
pub(super) fn measure_me(bars: Picture) -> Vec<Block> {
    vec![
        Block::Text(vec![
            Span::Bold("Print at full size, 100 %, nothing fitted to the page. ".into()),
            Span::Plain("Lay a steel rule on both bars before you use this sheet, each way by itself: printers stretch the two unequally. Where one is more than 0.5 mm off its 100 mm, the sheet is of no use that way: print it again.".into()),
        ]),
        Block::Picture(bars),
        Block::Text(vec![
            Span::Plain("Read".into()),
            Span::Empty(18.0, "mm across".into()),
            Span::Empty(18.0, "mm down".into()),
        ]),
    ]
}
