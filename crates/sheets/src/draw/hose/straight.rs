//! A hose straight as cut: its length, the rings to push on to, and its lay line.

use quantity::{Length, show};
use reckon::{JointRow, LaidPart};

use super::super::ink::PX_IN_MM;
use super::super::number::{self, Origin};
use super::super::shape::{Anchor, Class, Picture};
use super::board::{Board, FEED, HEAD, P, SIZE, SMALL, Type};
use super::{HoseForm, WIDE};

/// The scales of the bar: the first that fits is taken.
const SCALES: [f64; 5] = [2.0, 5.0, 10.0, 20.0, 50.0];
/// The longest bar [mm].
const LONGEST: f64 = 140.0;
/// The highest bar [mm].
const HIGHEST: f64 = 22.0;

/// A piece of hose as a bar, with its cut length and window, and the rings to push on to; `None` where it is not
/// cut off a length.
#[must_use]
pub fn straight(form: &HoseForm<'_>, part: &LaidPart) -> Option<Picture> {
    let cut = part.cut?;
    let across = 2.0 * part.radius * 1000.0;
    let fits = |scale: &&f64| cut * 1000.0 / **scale <= LONGEST && across / **scale <= HIGHEST;
    let scale = SCALES.iter().find(fits).copied().unwrap_or(100.0);
    let ends = form.ends_of(part);
    let text = cut_text(form, part, cut);
    let mut board = Board::new(
        WIDE,
        format!("{} straight as cut, {text}, at 1 to {scale}", part.title),
    );

    let mut y = FEED * SIZE;
    board.text(Type::BOLD, None, (0.0, y - 0.3 * SIZE), "Straight, as cut");
    let about = about(form, part, ends, scale);
    let lead = Type::BOLD.width("Straight, as cut") + 3.0;
    let left = WIDE - lead;
    y = board
        .lines(Type::SOFT, (lead, y - FEED * SMALL), left, &about)
        .max(y);
    let rest = match &part.window_text {
        Some(told) => told.in_units(form.units),
        None => "what else would do is not reckoned: cut to this",
    };
    y = cut_line(part, y, (&text, rest), &mut board);

    let (long, high) = (cut * 1000.0 / scale, (across / scale).max(1.5));
    let (x0, x1) = ((WIDE - long) / 2.0, (WIDE + long) / 2.0);
    y = flow(&mut board, y);
    let bar = (y, y + high);
    for (mark, at, anchor) in [
        (ends[0], x0 - 2.0, Anchor::End),
        (ends[1], x1 + 2.0, Anchor::Start),
    ] {
        if let Some(row) = mark {
            let middle = (bar.0 + bar.1) / 2.0 + 0.36 * HEAD;
            board.text(
                Type::HEAD.at(anchor),
                Some(&row.joint),
                (at, middle),
                &row.mark,
            );
        }
    }
    let corners = [(x0, bar.0), (x1, bar.0), (x1, bar.1), (x0, bar.1)];
    board.closed(Class::Loop, Some(&part.key), &[corners.to_vec()]);
    let middle = (bar.0 + bar.1) / 2.0;
    board.line(Class::LayLine, (x0 + 0.5, middle), (x1 - 0.5, middle));

    let under = bar.1 + 4.0;
    for (row, end, way) in [(ends[0], x0, 1.0), (ends[1], x1, -1.0)] {
        let Some(push) = row.and_then(|row| Some((row, row.push_on.as_ref()?))) else {
            continue;
        };
        let ring = end + way * push.1.si * 1000.0 / scale;
        let line = vec![(ring, bar.0 - 1.2), (ring, bar.1 + 1.2)];
        board.open(Class::PushMark, Some(&push.0.joint), &[line]);
        board.line(Class::Fine, (ring, bar.1 + 1.8), (ring, under + 1.0));
        board.dimension((end.min(ring), under), (end.max(ring), under));
    }
    y = push_words(form, ends, (x0, x1), under + 1.2, &mut board);

    // The whole length, under all.
    let whole = y + 2.4;
    for x in [x0, x1] {
        board.line(Class::Fine, (x, bar.1 + 0.8), (x, whole + 1.0));
    }
    board.dimension((x0, whole), (x1, whole));
    y = whole + 2.6;
    let how = Type::BOLD.at(Anchor::Middle);
    if how.width(&text) + 8.0 < long {
        board.patch(how, None, (WIDE / 2.0, whole + 0.36 * SIZE), &text);
    } else {
        board.text(how, None, (WIDE / 2.0, y + 0.6 * SIZE), &text);
        y += FEED * SIZE;
    }
    let note = "Dashed: the rings to push on to, measured from each end. Chain-dotted: the lay line; keep it uppermost at both ends, no twist.";
    y = board.lines(Type::SOFT, (0.0, y), WIDE, note);
    Some(board.finish(y + 0.4))
}

/// The cut length as printed.
fn cut_text(form: &HoseForm<'_>, part: &LaidPart, cut: f64) -> String {
    let told = part.cut_text.as_ref();
    told.map_or_else(
        || show(Length::of_si(cut), Some(Length::mm(2.0)), form.units),
        |told| told.in_units(form.units).to_owned(),
    )
}

/// What hose it is, and how it is drawn.
fn about(form: &HoseForm<'_>, part: &LaidPart, ends: [Option<&JointRow>; 2], scale: f64) -> String {
    let mut about = format!("{}, drawn 1:{scale}", part.title);
    let Some(row) = ends.into_iter().flatten().next() else {
        return about;
    };
    let sizes = [
        ("bore", &row.sizes.bore),
        ("outside", &row.sizes.over),
        ("wall", &row.sizes.wall),
    ];
    for (name, size) in sizes {
        if let Some(size) = size {
            let text = size.text.in_units(form.units);
            // A guess brings its own word where it is printed; else it gets one.
            let word = match size.guessed && !text.contains("assumed") && !text.contains("guessed")
            {
                true if size.from == "guessed" => " guessed",
                true => " assumed",
                false => "",
            };
            about.push_str(&format!(", {name} {text}{word}"));
        }
    }
    about
}

/// The length in bold, and how much longer or shorter would do.
fn cut_line(part: &LaidPart, top: f64, (cut, rest): (&str, &str), board: &mut Board) -> f64 {
    let words = format!("cut {cut}");
    let base = top + 1.1 * HEAD;
    board.text(Type::HEAD, Some(&part.key), (0.0, base), &words);
    let left = Type::HEAD.width(&words) + 5.0;
    if left + Type::PLAIN.width(rest) <= WIDE {
        board.text(Type::PLAIN, None, (left, base), rest);
        return top + FEED * HEAD;
    }
    board.lines(Type::PLAIN, (0.0, top + FEED * HEAD), WIDE, rest)
}

/// The arrow of the flow over the bar.
fn flow(board: &mut Board, top: f64) -> f64 {
    let y = top + 2.6;
    let (from, to) = (WIDE / 2.0 - 9.0, WIDE / 2.0 + 9.0);
    board.line(Class::Thin, (from, y), (to - 1.5, y));
    board.arrow((to, y), (1.0, 0.0));
    board.text(
        Type::SOFT.at(Anchor::End),
        None,
        (from - 1.5, y + 0.36 * SMALL),
        "flow",
    );
    y + 2.2
}

/// How far each end is pushed on, in words under its ring.
fn push_words(
    form: &HoseForm<'_>,
    ends: [Option<&JointRow>; 2],
    (x0, x1): P,
    top: f64,
    board: &mut Board,
) -> f64 {
    let base = top + 1.1 * SIZE;
    let middle = WIDE / 2.0;
    for (at, row) in ends.into_iter().enumerate() {
        let Some(row) = row else { continue };
        let lead = "push on ";
        let (text, origin) = match &row.push_on {
            Some(push) => {
                let text = push.text.in_units(form.units).to_owned();
                if row.by_hand.push_on_assumes.is_empty() {
                    (text, Origin::Measured(String::new()))
                } else {
                    (text, Origin::Assumed)
                }
            }
            None => ("unmeasured".to_owned(), Origin::LeftOut),
        };
        let size = SIZE * PX_IN_MM;
        let set = |x: f64| number::placed(&text, &origin, x * PX_IN_MM, base * PX_IN_MM, size);
        let wide = Type::PLAIN.width(lead) + set(0.0).width / PX_IN_MM;
        let x = if at == 0 {
            (x0 + 1.0).min(middle - 2.0 - wide).max(0.0)
        } else {
            (x1 - 1.0 - wide).max(middle + 2.0).min(WIDE - wide)
        };
        board.text(Type::PLAIN, None, (x, base), lead);
        board.lay(set(x + Type::PLAIN.width(lead)).placed);
    }
    base + 0.6 * SIZE
}
