//! A pump's curve: `0 L/min 9.5 m, 60 L/min 7 m, 90 L/min 4 m @ 2600 rpm`.

use std::ops::Range;

use quantity::{Length, PressureDifference, Quantity, RotationalSpeed, VolumeFlow};

use crate::model::{Head, PumpCurve};
use crate::remark::{Code, Fault, Faulty};

const EXAMPLE: &str = "0 L/min 9.5 m, 60 L/min 7 m, 90 L/min 4 m @ 2600 rpm";
/// With fewer points than this nobody knows how a curve bends.
const LEAST: usize = 3;

/// Reads a curve; all points that can't be read are found, not only the first.
pub(crate) fn curve(text: &str) -> Faulty<PumpCurve> {
    read(text).map_err(|faults| {
        let expecting = |fault: Fault| match fault.expected {
            None => fault.expecting(EXAMPLE),
            Some(_) => fault,
        };
        faults.into_iter().map(expecting).collect()
    })
}

fn read(text: &str) -> Faulty<PumpCurve> {
    let (all, speed) = match text.split_once('@') {
        Some((points, _)) => (0..points.len(), Some(points.len() + 1..text.len())),
        None => (0..text.len(), None),
    };
    let mut faults = Vec::new();
    let mut points: Vec<(VolumeFlow, Head)> = Vec::new();
    let mut spans = Vec::new();
    for span in points_in(text, all.clone()) {
        match point(text, span.clone()) {
            Ok(read) => {
                points.push(read);
                spans.push(span);
            }
            Err(fault) => faults.push(fault),
        }
    }
    let at = match speed.map(|span| speed_at(text, span)) {
        Some(Ok(speed)) => Some(speed),
        Some(Err(fault)) => {
            faults.push(fault);
            None
        }
        None => None,
    };
    if !faults.is_empty() {
        return Err(faults);
    }
    if points.len() < LEAST {
        let here = match points.len() {
            1 => "is 1 point".to_owned(),
            count => format!("are {count} points"),
        };
        let message = format!("a curve has {LEAST} points or more, and here {here}");
        return Err(vec![Fault::new(Code::BadForm, trimmed(text, all), message)]);
    }
    for (pair, span) in points.windows(2).zip(spans.iter().skip(1)) {
        if pair[0].0 >= pair[1].0 {
            let read = &text[span.clone()];
            let message =
                format!("the points of a curve stand by rising flow, and {read} does not");
            return Err(vec![Fault::new(Code::BadForm, span.clone(), message)]);
        }
    }
    Ok(PumpCurve { points, at })
}

/// The points between commas that are no decimal ones.
fn points_in(text: &str, within: Range<usize>) -> Vec<Range<usize>> {
    let bytes = text.as_bytes();
    let digit = |at: Option<usize>| {
        at.and_then(|at| bytes.get(at))
            .is_some_and(u8::is_ascii_digit)
    };
    let is_comma =
        |at: &usize| bytes[*at] == b',' && !(digit(at.checked_sub(1)) && digit(Some(at + 1)));
    let mut begin = within.start;
    let mut points = Vec::new();
    for comma in within.clone().filter(is_comma).chain([within.end]) {
        points.push(trimmed(text, begin..comma));
        begin = comma + 1;
    }
    points
}

fn trimmed(text: &str, span: Range<usize>) -> Range<usize> {
    let part = &text[span.clone()];
    let begin = span.start + (part.len() - part.trim_start().len());
    begin..begin + part.trim().len()
}

/// `60 L/min 7 m`.
fn point(text: &str, span: Range<usize>) -> Result<(VolumeFlow, Head), Fault> {
    let part = &text[span.clone()];
    if part.is_empty() {
        let all = trimmed(text, 0..text.len());
        return Err(Fault::new(
            Code::BadForm,
            all,
            "a point is due on each side of “,”: a flow and the head at it",
        ));
    }
    let (flow, taken) = quantity::parse_prefix::<VolumeFlow>(part, None)
        .map_err(|error| Fault::from(error).moved(span.start))?;
    if flow.si() < 0.0 {
        return Err(Fault::new(
            Code::BadQuantity,
            span,
            format!("{part} is out of range: a flow of 0 or more is due"),
        ));
    }
    let rest = trimmed(text, span.start + taken..span.end);
    let read = &text[rest.clone()];
    if read.is_empty() {
        let message = format!("the head after {part} is due: metres or feet, or a pressure");
        return Err(Fault::new(Code::BadForm, span, message));
    }
    let head = match quantity::parse::<Length>(read, None) {
        Ok(metres) => Head::Metres(metres),
        Err(_) => match quantity::parse::<PressureDifference>(read, None) {
            Ok(pressure) => Head::Pressure(pressure),
            Err(_) => {
                let message = format!(
                    "“{read}” is no head: one is in m or ft, or a pressure in kPa, bar or psi"
                );
                return Err(Fault::new(Code::BadQuantity, rest, message));
            }
        },
    };
    let si = match head {
        Head::Metres(metres) => metres.si(),
        Head::Pressure(pressure) => pressure.si(),
    };
    if si < 0.0 {
        let message = format!("{read} is out of range: a head of 0 or more is due");
        return Err(Fault::new(Code::BadQuantity, rest, message));
    }
    Ok((flow, head))
}

/// The speed of the pump after the `@`.
fn speed_at(text: &str, span: Range<usize>) -> Result<RotationalSpeed, Fault> {
    let span = trimmed(text, span);
    let read = &text[span.clone()];
    if read.is_empty() {
        let at = text.find('@').unwrap_or(0);
        let message = "the speed of the pump is due after “@”";
        return Err(Fault::new(Code::BadForm, at..at + 1, message));
    }
    let speed = quantity::parse::<RotationalSpeed>(read, None)
        .map_err(|error| Fault::from(error).moved(span.start))?;
    if speed.si() > 0.0 {
        Ok(speed)
    } else {
        let message = format!("{read} is out of range: a value over 0 is due");
        Err(Fault::new(Code::BadQuantity, span, message))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn litres(flow: f64) -> VolumeFlow {
        VolumeFlow::litres_per_minute(flow)
    }

    #[test]
    fn curves_are_read_as_sheets_give_them() {
        let read = curve("0 L/min 9.5 m, 60 L/min 7 m, 90 L/min 4 m @ 2600 rpm").unwrap();
        let metres = |flow: f64, head: f64| (litres(flow), Head::Metres(Length::m(head)));
        assert_eq!(
            read,
            PumpCurve {
                points: vec![metres(0.0, 9.5), metres(60.0, 7.0), metres(90.0, 4.0)],
                at: Some(RotationalSpeed::rpm(2600.0)),
            }
        );
        // Decimal commas, no space, pressures, and no speed.
        let read = curve("10 L/min 0,9 bar,60,5 L/min 70 kPa, 90 L/min 5 psi").unwrap();
        assert_eq!(read.at, None);
        assert_eq!(read.points.len(), 3);
        assert_eq!(
            read.points[0],
            (litres(10.0), Head::Pressure(PressureDifference::bar(0.9)))
        );
        assert_eq!(read.points[1].0, litres(60.5));
        let read = curve("0 US gal/min 30 ft, 10 US gal/min 24 ft, 20 US gal/min 11 ft").unwrap();
        assert_eq!(read.points[2].1, Head::Metres(Length::m(11.0 * 0.3048)));
    }

    #[test]
    fn what_is_wrong_is_said_where_it_is() {
        let check = |text: &str, code, at: &str, message: &str| {
            let fault = &curve(text).unwrap_err()[0];
            let found = (
                fault.code,
                &text[fault.span.clone()],
                fault.message.as_str(),
            );
            assert_eq!(found, (code, at, message), "{text}");
        };
        check(
            "0 L/min 9.5 m, 60 L/min 7 m @ 2600 rpm",
            Code::BadForm,
            "0 L/min 9.5 m, 60 L/min 7 m",
            "a curve has 3 points or more, and here are 2 points",
        );
        check(
            "0 L/min 9.5 m, 60 L/min 7 m, 60 L/min 4 m",
            Code::BadForm,
            "60 L/min 4 m",
            "the points of a curve stand by rising flow, and 60 L/min 4 m does not",
        );
        check(
            "0 L/min 9.5, 60 L/min 7 m, 90 L/min 4 m",
            Code::BadQuantity,
            "9.5",
            "“9.5” is no head: one is in m or ft, or a pressure in kPa, bar or psi",
        );
        check(
            "0 L/min 9.5 m, 60 L/min, 90 L/min 4 m",
            Code::BadForm,
            "60 L/min",
            "the head after 60 L/min is due: metres or feet, or a pressure",
        );
        check(
            "0 L/min 9.5 m, 60 L/min -7 m, 90 L/min 4 m",
            Code::BadQuantity,
            "-7 m",
            "-7 m is out of range: a head of 0 or more is due",
        );
        check(
            "0 L/min 9.5 m, , 90 L/min 4 m",
            Code::BadForm,
            "0 L/min 9.5 m, , 90 L/min 4 m",
            "a point is due on each side of “,”: a flow and the head at it",
        );
        check(
            "0 L/min 9.5 m, 60 L/min 7 m, 90 L/min 4 m @ ",
            Code::BadForm,
            "@",
            "the speed of the pump is due after “@”",
        );
        check(
            "0 L/min 9.5 m, 60 L/min 7 m, 90 L/min 4 m @ 0 rpm",
            Code::BadQuantity,
            "0 rpm",
            "0 rpm is out of range: a value over 0 is due",
        );
        // Every point that can't be read is told.
        assert_eq!(curve("0 9 m, 60 L/min 7 m, 90 4 m").unwrap_err().len(), 2);
    }
}
