//! `bends`: the bends of a run in order of flow: `90 down, S 60 across`.

use std::ops::Range;

use quantity::{Angle, Kind, Unit};

use crate::model::Bend;
use crate::remark::{Code, Fault, Faulty};
use crate::scan::{Scan, parts};

/// Reads bends; `bare` is the unit of a bare length.
pub(crate) fn bends(text: &str, bare: Option<&'static Unit>) -> Faulty<Vec<(Bend, Range<usize>)>> {
    let mut items = Vec::new();
    let mut faults = Vec::new();
    let mut spans = parts(text, ',').into_iter();
    while let Some(mut span) = spans.next() {
        // Both `S 60 across` and `S, 60 across` are written.
        if text[span.clone()].eq_ignore_ascii_case("s")
            && let Some(second) = spans.next()
        {
            span.end = second.end;
        }
        match bend(Scan::new(text, span.clone()), bare) {
            Ok(bend) => items.push((bend, span)),
            Err(fault) => faults.push(if fault.expected.is_none() {
                fault.expecting("90 down, or S 60 across")
            } else {
                fault
            }),
        }
    }
    if faults.is_empty() {
        Ok(items)
    } else {
        Err(faults)
    }
}

fn bend(mut scan: Scan, bare: Option<&'static Unit>) -> Result<Bend, Fault> {
    let offset = scan.eat_word(&["S"]);
    if offset {
        scan.eat(",");
    }
    if scan.is_done() {
        return Err(scan.ends(if offset {
            "how far an S sets over"
        } else {
            "a bend"
        }));
    }
    let bend = if offset {
        let by = scan.length(bare)?;
        Bend::Offset {
            by,
            towards: scan.due_word()?,
        }
    } else {
        let bit = scan.next_bit();
        let text = scan.read(bit.clone());
        let angle = quantity::parse::<Angle>(text, Unit::find(Kind::Angle, "°"))
            .map_err(|error| Fault::from(error).moved(bit.start))?;
        if !(angle.to_degrees() > 0.0 && angle.to_degrees() <= 360.0) {
            let message = format!("{text} is no angle of a bend: one is over 0° and at most 360°");
            return Err(Fault::new(Code::BadQuantity, bit, message));
        }
        scan.eat(text);
        scan.eat_word(&["degrees", "deg"]);
        Bend::Turn {
            angle,
            towards: scan.due_word()?,
        }
    };
    if scan.is_done() {
        Ok(bend)
    } else {
        Err(scan.left_over("the bend"))
    }
}

#[cfg(test)]
mod tests {
    use quantity::Length;

    use super::*;
    use crate::model::Direction;

    fn check(text: &str, expected: &[Bend]) {
        let read: Vec<_> = bends(text, Some(Unit::mm()))
            .unwrap()
            .into_iter()
            .map(|(bend, _)| bend)
            .collect();
        assert_eq!(read, expected, "{text}");
    }

    #[test]
    fn bends_are_read() {
        let turn = |degrees, towards| Bend::Turn {
            angle: Angle::degrees(degrees),
            towards,
        };
        let offset = Bend::Offset {
            by: Length::mm(60.0),
            towards: Direction::Across,
        };
        check(
            "90 down, 45° aft",
            &[turn(90.0, Direction::Down), turn(45.0, Direction::Aft)],
        );
        check("S, 60 across", std::slice::from_ref(&offset));
        check(
            "90 up, s 6 cm across, 90 deg port",
            &[
                turn(90.0, Direction::Up),
                offset,
                turn(90.0, Direction::Port),
            ],
        );
    }

    #[test]
    fn every_fault_is_found() {
        let faults = bends("90 dwn, 45, S", Some(Unit::mm())).unwrap_err();
        let said: Vec<_> = faults.iter().map(|fault| fault.message.as_str()).collect();
        assert_eq!(
            said,
            [
                "“dwn” is no direction; did you mean down?",
                "a direction is due, but it ends after “90 dwn, 45”",
                "how far an S sets over is due, but it ends after “dwn, 45, S”",
            ]
        );
    }
}
