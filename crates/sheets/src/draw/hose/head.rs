//! The head of a hose sheet: the mark to copy onto the hose, and what the run is.

use super::super::grade;
use super::super::ink::PX_IN_MM;
use super::super::shape::{Class, Face, Picture};
use super::board::{Board, P, SIZE, Type};
use super::{HoseForm, WIDE};

/// How high the mark stands, to be copied by eye [mm].
const MARK: f64 = 14.0;
/// Height of a capital, in sizes of the type: B612, measured.
const CAPITAL: f64 = 0.75;

/// The mark 14 mm high, and beside it from where to where, which way it flows, and what it is made of.
#[must_use]
pub fn head(form: &HoseForm<'_>) -> Picture {
    let run = form.run;
    let spoken = format!("The mark {} to copy onto the hose: {}", run.mark, run.title);
    let mut board = Board::new(WIDE, spoken);
    let mark = Type {
        face: Face::Bold,
        size: MARK / CAPITAL,
        ..Type::PLAIN
    };
    board.text(mark, Some(&run.run), (0.0, MARK + 0.5), &run.mark);
    let left = mark.width(&run.mark) + 6.0;
    let wide = WIDE - left;
    let mut y = board.lines(Type::HEAD, (left, -0.6), wide, &run.title);
    if !form.ends.is_empty() {
        y = board.lines(Type::PLAIN, (left, y), wide, form.ends);
    }
    y = flow(form, &mut board, (left, y), wide);
    y = board.lines(Type::PLAIN, (left, y), wide, &what(form));
    // The rule under the head.
    let foot = y.max(MARK + 1.5) + 1.2;
    board.line(Class::Middle, (0.0, foot), (WIDE, foot));
    board.finish(foot + 0.4)
}

/// Which way it flows, on which side, and the worst of what is judged.
fn flow(form: &HoseForm<'_>, board: &mut Board, (left, top): P, wide: f64) -> f64 {
    let own = form.own();
    let mut words = match (own.first(), own.last()) {
        (Some(first), Some(last)) if first.joint != last.joint => {
            format!("Flows from {} to {}", first.mark, last.mark)
        }
        _ => "Drawn in the direction of flow".to_owned(),
    };
    if !form.side.is_empty() {
        words.push_str(
            &format!(", on the {} side", form.side).replace("raw water side", "raw-water side"),
        );
    }
    words.push_str(". As it lies it is");
    let grade = form.run.grade;
    let shape = grade::width(grade, grade::Place::Mark) / PX_IN_MM;
    let word = format!("{}.", grade.word());
    let both = Type::PLAIN.width(&words) + shape + 2.4 + Type::PLAIN.width(&word);
    let y = board.lines(Type::PLAIN, (left, top), wide, &words);
    // Shape and word stand behind the words, or on the next line.
    let (x, base, foot) = if both <= wide {
        (left + Type::PLAIN.width(&words) + 1.2, y - 0.3 * SIZE, y)
    } else {
        let foot = y + 1.35 * SIZE;
        (left, foot - 0.3 * SIZE, foot)
    };
    let middle = (x + shape / 2.0, base - 0.36 * SIZE);
    let px = (middle.0 * PX_IN_MM, middle.1 * PX_IN_MM);
    board.lay(grade::shape(grade, px.0, px.1, Some(&form.run.run)));
    board.text(Type::PLAIN, None, (x + shape + 1.2, base), &word);
    foot
}

/// What it is made of, piece by piece.
fn what(form: &HoseForm<'_>) -> String {
    let parts: Vec<&str> = form
        .run
        .parts
        .iter()
        .map(|part| part.title.as_str())
        .collect();
    match parts.as_slice() {
        [] => String::new(),
        [one] => format!("One piece: {one}."),
        many => format!("In order of flow: {}.", many.join(" – ")),
    }
}
