//! The owner's shelf: `8 x worm 32-50 316 at forepeak`, `1.8 m x 38 wired, id 38.4 od 50.2`,
//! `2 x joiner 38 bronze`.

use std::ops::Range;

use quantity::{GaugePressure, Length, Quantity, Reading, Temperature, Unit};

use super::clip::clip_at;
use super::way::piece_at;
use crate::model::{Piece, PieceKind, StockClip, StockHose, StockPart};
use crate::remark::{Code, Fault, Faulty};
use crate::scan::Scan;

const CLIPS: &str = "8 x worm 32-50 316 at forepeak";
const HOSE: &str = "1.8 m x 38 wired, id 38.4 od 50.2, Rmin 150 inside at forepeak";
const PART: &str = "2 x joiner 38 bronze at forepeak";

/// Reads clips in stock.
pub(crate) fn stock_clip(text: &str) -> Faulty<StockClip> {
    let (what, place) = placed(text, CLIPS)?;
    let mut scan = Scan::new(text, what);
    let read = |scan: &mut Scan| {
        let count = count(scan, "clips")?;
        cross(scan)?;
        Ok(StockClip {
            count,
            clip: clip_at(scan)?,
            place,
        })
    };
    read(&mut scan).map_err(|fault| vec![example(fault, CLIPS)])
}

/// Reads hose in stock; `bare` is the unit of a bare length.
pub(crate) fn stock_hose(text: &str, bare: Option<&'static Unit>) -> Faulty<StockHose> {
    let (what, place) = placed(text, HOSE)?;
    let mut scan = Scan::new(text, what);
    hose(&mut scan, bare, place).map_err(|fault| vec![example(fault, HOSE)])
}

/// Reads pieces in stock; `bare` is the unit of a bare length.
pub(crate) fn stock_part(text: &str, bare: Option<&'static Unit>) -> Faulty<StockPart> {
    let (what, place) = placed(text, PART)?;
    let mut scan = Scan::new(text, what);
    let read = |scan: &mut Scan| {
        let count = count(scan, "pieces")?;
        cross(scan)?;
        scan.skip_space();
        let begin = scan.at();
        let choose = scan.rest().to_ascii_lowercase().find("choose");
        let Piece {
            kind, long, open, ..
        } = piece_at(scan, bare)?;
        if open.is_some() {
            let span = begin..scan.at();
            let message = "how far a valve stands open is said where it stands, in a run";
            return Err(Fault::new(Code::BadForm, span, message));
        }
        if matches!(kind, PieceKind::Hose { .. }) {
            let span = begin..begin + "hose".len();
            let message = "hose on the shelf stands under `hose`, by its length";
            return Err(Fault::new(Code::BadForm, span, message).expecting(HOSE));
        }
        if let Some(at) = choose {
            let span = begin + at..begin + at + "choose".len();
            let message = "“choose” can't stand here: what lies on the shelf has its size";
            return Err(Fault::new(Code::NothingToChoose, span, message));
        }
        Ok(StockPart {
            count,
            kind,
            long,
            place,
        })
    };
    read(&mut scan).map_err(|fault| vec![example(fault, PART)])
}

fn hose(
    scan: &mut Scan,
    bare: Option<&'static Unit>,
    place: Option<String>,
) -> Result<StockHose, Fault> {
    let length = scan.length(bare)?;
    cross(scan)?;
    let size = scan.size("a hose")?;
    let mut hose = StockHose {
        length,
        size,
        build: None,
        id: None,
        od: None,
        least_radius: None,
        works_at: None,
        place,
    };
    loop {
        while scan.eat(",") {}
        if scan.is_done() {
            return Ok(hose);
        }
        if hose.id.is_none() && scan.eat_word(&["id"]) {
            hose.id = Some(reading(scan, bare)?);
        } else if hose.od.is_none() && scan.eat_word(&["od"]) {
            hose.od = Some(reading(scan, bare)?);
        } else if hose.least_radius.is_none() && scan.eat_word(&["Rmin"]) {
            let radius = scan.length(bare)?;
            let inside = scan.eat_word(&["inside", "to the inside"]);
            if !inside {
                scan.eat_word(&["centre", "center", "to the centre", "to the centre line"]);
            }
            hose.least_radius = Some((radius, inside));
        } else if hose.works_at.is_none() && scan.eat_word(&["works"]) {
            hose.works_at = Some(works(scan)?);
        } else if hose.build.is_none() {
            hose.build = Some(scan.due_word()?);
        } else {
            return Err(scan.left_over("the hose"));
        }
    }
}

/// A measured diameter: up to the next comma (but not a decimal one) or the next property.
fn reading(scan: &mut Scan, bare: Option<&'static Unit>) -> Result<Reading<Length>, Fault> {
    scan.skip_space();
    let rest = scan.rest();
    let comma = rest.char_indices().find(|(at, c)| {
        *c == ',' && !rest[at + 1..].starts_with(|next: char| next.is_ascii_digit())
    });
    let mut end = comma.map_or(rest.len(), |(at, _)| at);
    for property in [" id ", " od ", " Rmin "] {
        end = end.min(rest.find(property).unwrap_or(end));
    }
    let begin = scan.at();
    let read = &rest[..end];
    let reading = quantity::parse_reading::<Length>(read, bare)
        .map_err(|error| Fault::from(error).moved(begin))?;
    if reading.value.si() <= 0.0 {
        let message = format!("{} is no diameter: one is over 0", read.trim());
        return Err(Fault::new(Code::BadQuantity, begin..begin + end, message));
    }
    scan.eat(read);
    Ok(reading)
}

/// `works 3 bar @ 100 °C`: up to the next comma that is no decimal one.
fn works(scan: &mut Scan) -> Result<(Reading<GaugePressure>, Option<Reading<Temperature>>), Fault> {
    scan.skip_space();
    let (begin, rest) = (scan.at(), scan.rest());
    let comma = rest.char_indices().find(|(at, c)| {
        *c == ',' && !rest[at + 1..].starts_with(|next: char| next.is_ascii_digit())
    });
    let read = &rest[..comma.map_or(rest.len(), |(at, _)| at)];
    let moved = |error: quantity::ParseError| Fault::from(error).moved(begin);
    let works = if read.contains('@') {
        let at =
            quantity::parse_at::<GaugePressure, Temperature>(read, None, None).map_err(moved)?;
        (at.what, Some(at.at))
    } else {
        (quantity::parse_reading(read, None).map_err(moved)?, None)
    };
    if works.0.value.si() <= 0.0 {
        return Err(Fault::new(
            Code::BadQuantity,
            begin..begin + read.len(),
            "a working pressure is over 0",
        ));
    }
    scan.eat(read);
    Ok(works)
}

/// How many of `what`.
fn count(scan: &mut Scan, what: &str) -> Result<u32, Fault> {
    scan.skip_space();
    let rest = scan.rest();
    let digits = &rest[..rest.bytes().take_while(u8::is_ascii_digit).count()];
    match digits.parse::<u32>() {
        Ok(count) if count > 0 => {
            scan.eat(digits);
            Ok(count)
        }
        _ => {
            let bit = scan.next_bit();
            let read = scan.read(bit.clone());
            Err(if read.is_empty() {
                scan.ends(&format!("how many {what}"))
            } else {
                Fault::new(
                    Code::BadForm,
                    bit,
                    format!("“{read}” is no count of {what}"),
                )
            })
        }
    }
}

fn cross(scan: &mut Scan) -> Result<(), Fault> {
    if scan.eat("x") || scan.eat("X") || scan.eat("×") {
        return Ok(());
    }
    let bit = scan.next_bit();
    let read = scan.read(bit.clone());
    Err(if read.is_empty() {
        scan.ends("“x” and what there is")
    } else {
        Fault::new(
            Code::BadForm,
            bit,
            format!("“x” is due between how much and what, not “{read}”"),
        )
    })
}

/// What stands before ` at `, and the place after it.
fn placed(text: &str, example: &str) -> Faulty<(Range<usize>, Option<String>)> {
    // A text that ends with the word lacks its place; no other word of these grammars is so called.
    let bare = text.trim_end();
    if bare.ends_with(" at") {
        let span = bare.len() - "at".len()..bare.len();
        let fault = Fault::new(Code::BadForm, span, "a place is due after “at”");
        return Err(vec![fault.expecting(example)]);
    }
    Ok(match text.find(" at ") {
        Some(at) => (0..at, Some(text[at + 4..].trim().to_owned())),
        None => (0..text.len(), None),
    })
}

fn example(fault: Fault, example: &str) -> Fault {
    if fault.expected.is_none() {
        fault.expecting(example)
    } else {
        fault
    }
}

#[cfg(test)]
mod tests {
    use quantity::NominalSize;

    use super::*;
    use crate::model::{ClipWord, HoseBuild};

    #[test]
    fn stock_is_read() {
        let clips = stock_clip("8 x worm 32-50 316 at the forepeak").unwrap();
        assert_eq!(
            (clips.count, clips.clip.kind, clips.place.as_deref()),
            (8, ClipWord::Worm, Some("the forepeak"))
        );

        let mm = Some(Unit::mm());
        let hose = stock_hose(
            "1.8 m x 38 wired, id 38,4 od 50.2 ± 0.2, Rmin 150 inside",
            mm,
        )
        .unwrap();
        assert_eq!(
            (hose.length, hose.size, hose.build),
            (Length::m(1.8), NominalSize::mm(38), Some(HoseBuild::Wired))
        );
        assert_eq!(hose.id.map(|id| id.value), Some(Length::mm(38.4)));
        assert_eq!(hose.od.map(|od| od.value), Some(Length::mm(50.2)));
        assert_eq!(hose.least_radius, Some((Length::mm(150.0), true)));

        let hose = stock_hose("600 x 1 1/2 in", mm).unwrap();
        assert_eq!(
            (hose.length, hose.size),
            (Length::mm(600.0), NominalSize::sixty_fourths(96))
        );
    }

    #[test]
    fn pieces_are_read() {
        let parts = stock_part("3 x tee 38 x 38 x 16 brass at the locker", None).unwrap();
        assert_eq!(
            (parts.count, parts.place.as_deref()),
            (3, Some("the locker"))
        );
        assert_eq!(
            crate::print::piece_text(&parts.kind),
            "tee 38 x 38 x 16 brass"
        );
        let parts = stock_part("1x pipe 38 copper 600 long", Some(Unit::mm())).unwrap();
        let long = Some(Length::mm(600.0));
        assert_eq!((parts.count, parts.long, parts.place), (1, long, None));
        let fails = |text: &str, at: &str, message: &str| {
            let fault = &stock_part(text, None).unwrap_err()[0];
            let found = (&text[fault.span.clone()], fault.message.as_str());
            assert_eq!(found, (at, message), "{text}");
        };
        fails("joiner 38", "joiner", "“joiner” is no count of pieces");
        fails("2 x 38", "38", "“38” is no piece of a run");
        fails(
            "2 x hose 38",
            "hose",
            "hose on the shelf stands under `hose`, by its length",
        );
        fails(
            "2 x reducer 38>Choose",
            "Choose",
            "“choose” can't stand here: what lies on the shelf has its size",
        );
        fails(
            "1 x valve 16 brass open 50 %",
            "valve 16 brass open 50 %",
            "how far a valve stands open is said where it stands, in a run",
        );
        fails("2 x joiner 38 at ", "at", "a place is due after “at”");
    }

    #[test]
    fn what_is_wrong_is_said_where_it_is() {
        let clips = |text: &str| stock_clip(text).unwrap_err()[0].message.clone();
        assert_eq!(clips("worm 32-50"), "“worm” is no count of clips");
        assert_eq!(
            clips("8 worm 32-50"),
            "“x” is due between how much and what, not “worm”"
        );
        let hose = |text: &str| stock_hose(text, None).unwrap_err()[0].message.clone();
        assert_eq!(
            hose("1.8 x 38"),
            "1.8 has no unit; a length is due: mm, cm, m, in or ft"
        );
        assert_eq!(
            hose("1.8 m x 38 wired, id 0 mm"),
            "0 mm is no diameter: one is over 0"
        );
        assert_eq!(
            hose("1.8 m x 38 wired, bore 38 mm"),
            "“bore” after the hose belongs to nothing"
        );
    }
}
