//! Clips as written: `worm 32-50 316`, `single-ear 19.8`, `spring 36 band 12`.

use quantity::{Kind, Unit};

use crate::model::{ClipSpec, ClipWord, Metal};
use crate::remark::{Code, Fault, Faulty};
use crate::scan::Scan;
use crate::words::Word;

const EXAMPLES: &str = "worm 32-50, t-bolt 43-47, two-ear 15-18, single-ear 19.8 or spring 36";

/// Reads a clip.
pub(crate) fn clip(text: &str) -> Faulty<ClipSpec> {
    let mut scan = Scan::new(text, 0..text.len());
    clip_at(&mut scan).map_err(|fault| vec![fault])
}

/// A clip that fills the rest.
pub(crate) fn clip_at(scan: &mut Scan) -> Result<ClipSpec, Fault> {
    let example = |fault: Fault| {
        if fault.expected.is_none() {
            fault.expecting(EXAMPLES)
        } else {
            fault
        }
    };
    let kind: ClipWord = scan.due_word().map_err(example)?;
    let mut clip = ClipSpec {
        kind,
        range: None,
        size: None,
        band: None,
        metal: None,
    };
    match kind {
        ClipWord::Worm | ClipWord::TwoEar | ClipWord::TBolt => {
            let range = scan.range().unwrap_or_else(|| Err(no_range(scan, kind)));
            clip.range = Some(range.map_err(example)?);
        }
        ClipWord::SingleEar | ClipWord::SpringBand => {
            if scan.clone().range().is_some() {
                let bit = scan.next_bit();
                let message = format!(
                    "a {} clip is sold by one diameter, not by a range",
                    kind.word()
                );
                return Err(example(Fault::new(Code::BadForm, bit, message)));
            }
            let size = scan
                .size(&format!("a {} clip", kind.word()))
                .map_err(|fault| fault.expecting(EXAMPLES))?;
            clip.size = Some(size.as_length());
        }
    }
    while !scan.is_done() {
        if clip.band.is_none() && scan.eat_word(&["band"]) {
            clip.band = Some(scan.length(Unit::find(Kind::Length, "mm"))?);
        } else if clip.metal.is_none() {
            clip.metal = Some(match scan.word::<Metal>() {
                Some(metal) => metal,
                None => return Err(scan.no_word("metal", Metal::LIST.printed())),
            });
        } else {
            return Err(example(scan.left_over("the clip")));
        }
    }
    Ok(clip)
}

fn no_range(scan: &mut Scan, kind: ClipWord) -> Fault {
    let bit = scan.next_bit();
    let read = scan.read(bit.clone());
    if read.is_empty() {
        return scan.ends(&format!("the range of the {} clip", kind.word()));
    }
    let message =
        format!("“{read}” is no range of a clip: closed and open diameter, as stamped on it");
    Fault::new(Code::BadForm, bit, message)
}

#[cfg(test)]
mod tests {
    use quantity::Length;

    use super::*;

    #[test]
    fn clips_are_read() {
        let check =
            |text: &str, expected: ClipSpec| assert_eq!(clip(text).unwrap(), expected, "{text}");
        let plain = |kind| ClipSpec {
            kind,
            range: None,
            size: None,
            band: None,
            metal: None,
        };
        let mm = Length::mm;
        check(
            "worm 32-50 316",
            ClipSpec {
                range: Some((mm(32.0), mm(50.0))),
                metal: Some(Metal::Stainless316),
                ..plain(ClipWord::Worm)
            },
        );
        check(
            "single-ear 19.8",
            ClipSpec {
                size: Some(mm(19.8)),
                ..plain(ClipWord::SingleEar)
            },
        );
        check(
            "Spring 36 band 12 steel",
            ClipSpec {
                size: Some(mm(36.0)),
                band: Some(mm(12.0)),
                metal: Some(Metal::Steel),
                ..plain(ClipWord::SpringBand)
            },
        );
        check(
            "t-bolt 43 to 47 mm",
            ClipSpec {
                range: Some((mm(43.0), mm(47.0))),
                ..plain(ClipWord::TBolt)
            },
        );
        check(
            "worm 1-1/4 to 2 in",
            ClipSpec {
                range: Some((Length::inches(1.25), Length::inches(2.0))),
                ..plain(ClipWord::Worm)
            },
        );
    }

    #[test]
    fn what_is_wrong_is_said_where_it_is() {
        let check = |text: &str, code, at: &str, message: &str| {
            let fault = &clip(text).unwrap_err()[0];
            assert_eq!(
                (
                    fault.code,
                    &text[fault.span.clone()],
                    fault.message.as_str()
                ),
                (code, at, message),
                "{text}"
            );
        };
        check(
            "hoop 32-50",
            Code::UnknownWord,
            "hoop",
            "“hoop” is no kind of clip",
        );
        check(
            "worm",
            Code::BadForm,
            "m",
            "the range of the worm clip is due, but it ends after “worm”",
        );
        check(
            "worm 40",
            Code::BadForm,
            "40",
            "“40” is no range of a clip: closed and open diameter, as stamped on it",
        );
        check(
            "worm 50-32",
            Code::BadQuantity,
            "50-32",
            "50-32 does not run upward: the closed diameter stands first",
        );
        check(
            "spring 30-40",
            Code::BadForm,
            "30-40",
            "a spring clip is sold by one diameter, not by a range",
        );
        check(
            "worm 32-50 tin",
            Code::UnknownWord,
            "tin",
            "“tin” is no metal",
        );
    }
}
