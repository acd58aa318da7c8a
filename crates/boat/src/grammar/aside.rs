//! Where something lies in the boat: `420 mm to port` of her centre line, `1.2 m ahead of amidships`.

use quantity::{Length, Quantity, Reading, Tolerance, Unit};

use crate::remark::{Code, Fault, Faulty};

/// A line or plane of the boat, with the words for what lies on it and on either side of it.
struct Middle {
    /// What the text is, as in “is no distance from the centre line”.
    what: &'static str,
    /// On it, in lower case.
    on: &'static [&'static str],
    /// On the side that counts over 0; word by word, the longer ones first.
    over: &'static [&'static [&'static str]],
    /// On the side that counts under 0.
    under: &'static [&'static [&'static str]],
    example: &'static str,
    /// Which words are due behind a distance.
    due: &'static str,
}

const CENTRE_LINE: Middle = Middle {
    what: "distance from the centre line",
    on: &[
        "on the centre line",
        "on the centreline",
        "on the center line",
        "on the centerline",
    ],
    over: &[&["to", "starboard"], &["starboard"]],
    under: &[&["to", "port"], &["port"]],
    example: "420 mm to port",
    due: "“to port” or “to starboard”",
};

const AMIDSHIPS: Middle = Middle {
    what: "distance from amidships",
    on: &["amidships"],
    over: &[
        &["ahead", "of", "amidships"],
        &["forward", "of", "amidships"],
    ],
    under: &[&["abaft", "amidships"], &["aft", "of", "amidships"]],
    example: "1.2 m ahead of amidships",
    due: "“ahead of amidships” or “abaft amidships”",
};

/// Reads `420 mm to port`, `300 to starboard`, `0`, `on the centre line`: to starboard over 0, to port under. `bare`
/// is the unit of a bare length.
pub(crate) fn aside(text: &str, bare: Option<&'static Unit>) -> Faulty<Reading<Length>> {
    read(&CENTRE_LINE, text, bare)
}

/// Reads `1.2 m ahead of amidships`, `2.4 m abaft amidships`, `0`, `amidships`: ahead over 0, abaft under.
pub(crate) fn along(text: &str, bare: Option<&'static Unit>) -> Faulty<Reading<Length>> {
    read(&AMIDSHIPS, text, bare)
}

fn read(middle: &Middle, text: &str, bare: Option<&'static Unit>) -> Faulty<Reading<Length>> {
    let length = |text: &str| {
        quantity::parse_reading::<Length>(text, bare).map_err(|error| vec![Fault::from(error)])
    };
    let words: Vec<String> = text.split_whitespace().map(str::to_lowercase).collect();
    if middle.on.contains(&words.join(" ").as_str()) {
        return length("0 mm");
    }
    let before = |sides: &[&[&str]]| sides.iter().find_map(|side| without(text, side));
    let (rest, sign) = match (before(middle.over), before(middle.under)) {
        (Some(rest), _) => (rest, 1.0),
        (_, Some(rest)) => (rest, -1.0),
        (None, None) => (text, 0.0),
    };
    // Nought needs neither unit nor side.
    if rest.trim() == "0" {
        return length("0 mm");
    }
    let bad = |code: Code, message: String| {
        Err(vec![
            Fault::new(code, 0..text.len(), message).expecting(middle.example),
        ])
    };
    let reading = match length(rest) {
        Ok(reading) => reading,
        // A slip in the number is told by what reads numbers, where there is one.
        Err(faults) if sign != 0.0 && rest.contains(char::is_numeric) => return Err(faults),
        Err(_) => {
            let (what, due) = (middle.what, middle.due);
            return bad(
                Code::BadForm,
                format!("“{text}” is no {what}: it says how far, and {due}"),
            );
        }
    };
    let far = reading.value.si();
    if far < 0.0 {
        let message = format!(
            "{} is out of range: 0 or more is due, the side stands in words",
            rest.trim()
        );
        return bad(Code::BadQuantity, message);
    }
    if far == 0.0 {
        return Ok(reading);
    }
    if sign == 0.0 {
        let due = middle.due;
        return bad(
            Code::BadForm,
            format!("“{text}” does not say on which side: {due} is due"),
        );
    }
    Ok(if sign < 0.0 {
        mirrored(reading)
    } else {
        reading
    })
}

/// The text before these words, where it ends with them; case does not count.
fn without<'t>(text: &'t str, words: &[&str]) -> Option<&'t str> {
    let mut rest = text.trim_end();
    for word in words.iter().rev() {
        let (before, last) = rest.split_at_checked(rest.len().checked_sub(word.len())?)?;
        if !last.eq_ignore_ascii_case(word) || !before.ends_with(char::is_whitespace) {
            return None;
        }
        rest = before.trim_end();
    }
    Some(rest)
}

/// The same distance on the other side.
fn mirrored(reading: Reading<Length>) -> Reading<Length> {
    Reading {
        value: -reading.value,
        tolerance: match reading.tolerance {
            Tolerance::Between(low, high) => Tolerance::Between(-high, -low),
            same => same,
        },
        ..reading
    }
}

#[cfg(test)]
mod tests {
    use quantity::{Instrument, Kind};

    use super::*;

    fn mm() -> Option<&'static Unit> {
        Unit::find(Kind::Length, "mm")
    }

    #[test]
    fn starboard_and_ahead_are_over_0_port_and_abaft_under() {
        let check = |read: Faulty<Reading<Length>>, metres: f64| {
            let found = read.unwrap().value.si();
            assert!((found - metres).abs() < 1e-12, "{found} for {metres}");
        };
        check(aside("420 mm to port", None), -0.420);
        check(aside("300 to starboard", mm()), 0.300);
        check(aside("12 in  To  Starboard ", None), 0.3048);
        check(aside("420 port", mm()), -0.420);
        check(aside("0", None), 0.0);
        check(aside("0 mm", None), 0.0);
        check(aside("0 to port", None), 0.0);
        check(aside("On the centre  line", None), 0.0);
        check(aside("on the centerline", None), 0.0);
        check(along("1.2 m ahead of amidships", None), 1.2);
        check(along("2.4 m abaft amidships", None), -2.4);
        check(along("8 ft aft of amidships", None), -2.4384);
        check(along("amidships", None), 0.0);
    }

    #[test]
    fn how_far_off_and_by_what_go_to_the_other_side_too() {
        let read = aside("400 to 450 mm to port", None).unwrap();
        let Tolerance::Between(low, high) = read.tolerance else {
            panic!("{read:?}");
        };
        assert!((low.si() + 0.450).abs() < 1e-12 && (high.si() + 0.400).abs() < 1e-12);
        let read = aside("420 ± 20 mm guessed to port", None).unwrap();
        assert_eq!(read.instrument, Some(Instrument::Guessed));
        assert!(matches!(read.tolerance, Tolerance::PlusMinus(half) if half.si() > 0.0));
    }

    #[test]
    fn a_distance_without_a_side_and_a_side_without_a_distance_are_refused() {
        let code = |read: Faulty<Reading<Length>>| read.unwrap_err()[0].code;
        for fails in ["420", "420 to the left", "to port", "port", "by the ladder"] {
            assert!(aside(fails, mm()).is_err(), "{fails}");
        }
        assert_eq!(code(aside("420", mm())), Code::BadForm);
        assert_eq!(code(aside("to port", mm())), Code::BadForm);
        assert_eq!(code(aside("-420 to port", mm())), Code::BadQuantity);
        // Without a unit of the file's own a bare length is none.
        assert_eq!(code(aside("420 to port", None)), Code::BadQuantity);
        assert_eq!(code(aside("42o mm to port", None)), Code::BadQuantity);
        assert_eq!(code(along("1.2 m to port", None)), Code::BadForm);
        assert_eq!(code(along("1.2 m", None)), Code::BadForm);
    }
}
