//! Places of a tape survey: `P1`, `engine.out dowel`, `P1 engine.out`, `left of P1 P2`.

use super::ends::dotted;
use crate::model::{SideWord, Spot, SpotPart};
use crate::remark::{Code, Fault, Faulty};

/// Reads places until the words are used up; `None` where a word is no place.
fn spots(words: &[&str]) -> Option<Vec<Spot>> {
    let mut spots: Vec<Spot> = Vec::new();
    for word in words {
        let part = match word.to_lowercase().as_str() {
            "dowel" => Some(SpotPart::Dowel),
            "root" => Some(SpotPart::Root),
            "mouth" => Some(SpotPart::Mouth),
            _ => None,
        };
        match (part, spots.last_mut()) {
            (Some(part), Some(last)) if last.part == SpotPart::Mouth => last.part = part,
            (Some(_), _) => return None,
            (None, _) => {
                let (first, second) = dotted(word).ok()?;
                spots.push(Spot {
                    first,
                    second,
                    part: SpotPart::Mouth,
                });
            }
        }
    }
    Some(spots)
}

fn all(text: &str) -> Option<Vec<Spot>> {
    spots(&text.split_whitespace().collect::<Vec<_>>())
}

/// One place: `engine.out dowel`.
pub(crate) fn spot(text: &str) -> Faulty<Spot> {
    if let Some([one]) = all(text).as_deref() {
        return Ok(one.clone());
    }
    let message =
        format!("“{text}” names no place: a pin, or a spigot with “dowel” or “root” after it");
    Err(vec![
        Fault::new(Code::BadName, 0..text.len(), message).expecting("engine.out dowel"),
    ])
}

/// Two places with a space between: `P1 engine.out`.
pub(crate) fn tape(text: &str) -> Faulty<(Spot, Spot)> {
    let bad = |message: String| {
        Err(vec![
            Fault::new(Code::BadName, 0..text.len(), message).expecting("P1 engine.out"),
        ])
    };
    match all(text).as_deref() {
        Some([from, to]) if from == to => bad(format!(
            "“{text}” goes from a place to itself; a tape has two ends"
        )),
        Some([from, to]) => Ok((from.clone(), to.clone())),
        _ => bad(format!(
            "“{text}” names no tape: one goes from a place to another, with a space between"
        )),
    }
}

/// Where a place lies: `left of P1 P2`, `clockwise P1 P2 P3`.
pub(crate) fn side(text: &str) -> Faulty<SideWord> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let lower: Vec<String> = words.iter().map(|word| word.to_lowercase()).collect();
    let first = lower.first().map(String::as_str);
    let skip = 1 + usize::from(lower.get(1).is_some_and(|word| word == "of"));
    let of = words.get(skip..).and_then(spots).unwrap_or_default();
    let read = match (first, of.as_slice()) {
        (Some("left"), [a, b]) => Some(SideWord::Left([a.clone(), b.clone()])),
        (Some("right"), [a, b]) => Some(SideWord::Right([a.clone(), b.clone()])),
        (Some("clockwise"), [a, b, c]) => {
            Some(SideWord::Clockwise([a.clone(), b.clone(), c.clone()]))
        }
        (Some("anticlockwise" | "counterclockwise"), [a, b, c]) => {
            Some(SideWord::Anticlockwise([a.clone(), b.clone(), c.clone()]))
        }
        _ => None,
    };
    read.ok_or_else(|| {
        let message = format!(
            "“{text}” is no side: left or right of two places, or clockwise or anticlockwise with three"
        );
        vec![Fault::new(Code::BadForm, 0..text.len(), message).expecting("left of P1 P2")]
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_tapes_and_sides_are_read() {
        let texts = |text: &str| {
            let (from, to) = tape(text).unwrap();
            (from.text(), to.text())
        };
        assert_eq!(texts("P1 P2"), ("P1".into(), "P2".into()));
        assert_eq!(
            texts("engine.out dowel  keel-fwd"),
            ("engine.out dowel".into(), "keel-fwd".into())
        );
        assert_eq!(spot("gearbox.a root").unwrap().part, SpotPart::Root);
        assert!(matches!(side("Left of P1 P2"), Ok(SideWord::Left(_))));
        assert!(matches!(
            side("anticlockwise P1 P2 P3"),
            Ok(SideWord::Anticlockwise(_))
        ));
        for fails in [
            "",
            "P1",
            "P1 P1",
            "P1 P2 P3",
            "dowel P1",
            "P1 dowel root P2",
        ] {
            assert!(tape(fails).is_err(), "{fails}");
        }
        for fails in ["", "left", "left of P1", "clockwise P1 P2", "above P1 P2"] {
            assert!(side(fails).is_err(), "{fails}");
        }
    }
}
