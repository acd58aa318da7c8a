//! The girth tape: a strip to cut out and lay round a pipe, which reads the diameter.

use std::f64::consts::PI;

use quantity::{Length, System, show};

use super::ruler::{SIZE, SMALL, bar, line, picture, words};
use super::sheet;
use crate::doc::{Block, Sheet};
use crate::draw::ink::PX_IN_MM;
use crate::draw::{Anchor, Class, Face, Picture, Shape, text as type_};

/// How long a strip is [mm]: as much as Letter takes.
const LONG: f64 = 209.0;
/// How long its tab is [mm].
const TAB: f64 = 8.0;
/// How wide a strip is [mm]: it goes between a bead and a bracket on a short spigot.
const WIDE: f64 = 12.0;
/// From one strip to the next [mm].
const STEP: f64 = 15.0;
/// Where the words begin [mm].
const WORDS: f64 = 71.0;

/// What a strip reads.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Reads {
    Millimetres,
    Inches,
}

/// The tape. Two strips read millimetres and two inches, whatever the units; only what is said beside them
/// follows those.
pub fn tape(units: System) -> Sheet {
    let blocks = vec![
        Block::Head("Girth tape".into()),
        Block::Picture(strips(units)),
    ];
    sheet("tape", "Girth tape", blocks)
}

/// How the tape is made and read.
const HOW: [&str; 5] = [
    "Print at full size, 100 %, nothing fitted to the page. Lay a steel rule on both bars. Where one is more than 0.5 mm off its 100 mm, print again: this sheet is of no use.",
    "Cut out along their lines the two strips that you read in, millimetres or inches. They are 12 mm wide; where there is less room, trim the edge without the scale.",
    "Lay one round the pipe or hose, square to it and tight, its first line under the rest. Read where that line meets the scale.",
    "The scale is the way round over π: it reads the diameter. Paper is 0.1 mm thick, so on a pipe the tape reads 0.1 mm too much.",
    "For what is thicker, glue the second strip's tab under the end of the first, its first line on the last of the first. Type it with its instrument: `49.4 mm girth`.",
];

/// Strips that go on from each other, two in millimetres and two in inches, and the bars to check the printer by.
fn strips(units: System) -> Picture {
    let mut drawn = picture(
        170.0,
        LONG + 10.0,
        "Four strips to cut out, whose scale is the diameter of what they go round, two in millimetres and two in inches, with a bar of 100 mm across and one down, full size",
    );
    // The strip ends at a whole millimetre of diameter.
    let most = ((LONG - TAB) / PI).floor();
    let all = [
        (0.0, Reads::Millimetres),
        (most, Reads::Millimetres),
        (0.0, Reads::Inches),
        (most, Reads::Inches),
    ];
    for (at, (from, reads)) in all.into_iter().enumerate() {
        // OK because there are four.
        let left = 1.0 + at as f64 * STEP;
        strip(&mut drawn, left, (from, from + most), reads);
        let whole = |mm: f64| show(Length::mm(mm), Some(Length::mm(2.0)), units);
        for (says, down) in [
            (format!("{} to", whole(from)), 4.0),
            (whole(from + most), 7.5),
        ] {
            let at = (left + WIDE / 2.0, LONG + down);
            words(&mut drawn, at, Anchor::Middle, (Face::Plain, SMALL), &says);
        }
    }
    bar(&mut drawn, (62.0, 6.0), false);
    bar(&mut drawn, (62.0, 14.0), true);
    let mut y = 17.0;
    let bold = (Face::Bold, SIZE);
    words(
        &mut drawn,
        (WORDS, y),
        Anchor::Start,
        bold,
        "measure me first: 100 mm both ways",
    );
    for how in HOW {
        y += 3.0;
        for line in type_::wrap(how, Face::Plain, SIZE, 98.0 * PX_IN_MM) {
            y += 5.0;
            words(
                &mut drawn,
                (WORDS, y),
                Anchor::Start,
                (Face::Plain, SIZE),
                &line,
            );
        }
    }
    y += 8.0;
    for unit in ["mm across", "mm down"] {
        let box_at = (WORDS * PX_IN_MM, (y - 5.0) * PX_IN_MM);
        let shape = Shape::rectangle(box_at.0, box_at.1, 20.0 * PX_IN_MM, 7.0 * PX_IN_MM);
        drawn.put(Class::Empty, shape);
        words(
            &mut drawn,
            (WORDS + 22.0, y),
            Anchor::Start,
            (Face::Plain, SMALL),
            unit,
        );
        y += 10.0;
    }
    drawn
}

/// One strip from a diameter to another [mm], with its scale at its left edge.
fn strip(drawn: &mut Picture, left: f64, (from, to): (f64, f64), reads: Reads) {
    let right = left + WIDE;
    let y = |across: f64| TAB + (across - from) * PI;
    let (first, last) = (y(from), y(to));
    // The tab, which lies under.
    for (a, b) in [
        ((left, 0.0), (right, 0.0)),
        ((left, 0.0), (left, last)),
        ((right, 0.0), (right, last)),
        ((left, last), (right, last)),
    ] {
        line(drawn, Class::Thin, a, b);
    }
    line(drawn, Class::Middle, (left, first), (right, first));
    let tab_says = if from > 0.0 {
        ["glue", "here"]
    } else {
        ["zero:", "under"]
    };
    for (says, down) in tab_says.into_iter().zip([3.2, 6.8]) {
        let at = ((left + right) / 2.0, down);
        words(drawn, at, Anchor::Middle, (Face::Plain, SMALL), says);
    }
    let mut tick = |across: f64, long: f64, number: Option<String>| {
        let level = y(across);
        line(drawn, Class::Fine, (left, level), (left + long, level));
        if let Some(number) = number.filter(|_| across > from + 0.8 && across + 0.8 < to) {
            let at = (left + long + 0.6, level + 0.95);
            words(drawn, at, Anchor::Start, (Face::Plain, SMALL), &number);
        }
    };
    match reads {
        Reads::Millimetres => {
            // Halves of a millimetre, whole ones, fives and tens.
            let mut half = from as u32 * 2;
            while f64::from(half) / 2.0 <= to {
                let across = f64::from(half) / 2.0;
                let long = match half % 20 {
                    0 => 6.0,
                    10 => 5.0,
                    _ if half.is_multiple_of(2) => 3.5,
                    _ => 2.0,
                };
                let number = half.is_multiple_of(4).then(|| format!("{across:.0}"));
                tick(across, long, number);
                half += 1;
            }
        }
        Reads::Inches => {
            // Sixteenths of an inch, eighths, quarters.
            let sixteenth = 25.4 / 16.0;
            let mut count = (from / sixteenth).ceil() as u32;
            while f64::from(count) * sixteenth <= to {
                let long = match count % 16 {
                    0 => 5.0,
                    8 => 4.2,
                    4 | 12 => 3.4,
                    _ => 2.0,
                };
                let number = count.is_multiple_of(4).then(|| inches(count));
                tick(f64::from(count) * sixteenth, long, number);
                count += 1;
            }
        }
    }
}

/// `1 1/4` of twenty sixteenths.
fn inches(sixteenths: u32) -> String {
    let (whole, rest) = (sixteenths / 16, sixteenths % 16);
    let part = match rest {
        4 => "1/4",
        8 => "1/2",
        12 => "3/4",
        _ => "",
    };
    match (whole, part) {
        (0, part) => part.to_owned(),
        (whole, "") => format!("{whole} in"),
        (whole, part) => format!("{whole} {part}"),
    }
}
