//! `way`: the pieces of a run in order of flow, joined by ` + `.

use std::ops::Range;

use quantity::{Angle, Unit};

use super::{each, numbered};
use crate::model::{HoseBuild, Metal, Piece, PieceKind, Stuff};
use crate::remark::{Code, Fault, Faulty};
use crate::scan::Scan;
use crate::words::{Word, listed, nearest};

const KINDS: [&str; 7] = ["hose", "elbow", "reducer", "joiner", "valve", "pipe", "tee"];

/// Reads a way; `bare` is the unit of a bare length.
pub(crate) fn way(text: &str, bare: Option<&'static Unit>) -> Faulty<Vec<(Piece, Range<usize>)>> {
    let mut pieces = each(text, '+', "a piece", |span| {
        piece_at(&mut Scan::new(text, span), bare)
    })?;
    numbered(
        &mut pieces,
        |(piece, _)| kind_word(&piece.kind),
        |(piece, _), name| piece.name = name,
    );
    Ok(pieces)
}

/// The word with which a piece of this kind begins.
fn kind_word(kind: &PieceKind) -> &'static str {
    match kind {
        PieceKind::Hose { .. } => "hose",
        PieceKind::Elbow { .. } => "elbow",
        PieceKind::Reducer { .. } => "reducer",
        PieceKind::Joiner { .. } => "joiner",
        PieceKind::Valve { .. } => "valve",
        PieceKind::Pipe { .. } => "pipe",
        PieceKind::Tee { .. } => "tee",
    }
}

/// A piece that fills the rest.
pub(super) fn piece_at(scan: &mut Scan, bare: Option<&'static Unit>) -> Result<Piece, Fault> {
    let Some(word) = KINDS.into_iter().find(|word| scan.eat_word(&[word])) else {
        let bit = scan.next_bit();
        let read = scan.read(bit.clone());
        let message = match nearest(read, KINDS) {
            Some(near) => format!("“{read}” is no piece of a run; did you mean {near}?"),
            None => format!("“{read}” is no piece of a run"),
        };
        return Err(Fault::new(Code::UnknownWord, bit, message).expecting(listed(KINDS, "or")));
    };
    let (kind, example) = match word {
        "hose" => (hose(scan), "hose 38, hose 38 wired or hose choose"),
        "elbow" => (
            elbow(scan),
            "elbow 90 38 bronze or elbow 45 38 moulded epdm",
        ),
        "reducer" => (reducer(scan), "reducer 42>38 bronze"),
        "joiner" => (joiner(scan), "joiner 38 bronze"),
        "valve" => (valve(scan), "valve 16 full bronze"),
        "pipe" => (pipe(scan, bare), "pipe 38 copper 600 mm long"),
        _ => (tee(scan), "tee 38 x 38 x 16 brass"),
    };
    let example = |fault: Fault| {
        if fault.expected.is_none() {
            fault.expecting(example)
        } else {
            fault
        }
    };
    let kind = kind.map_err(example)?;
    if scan.is_done() {
        return Ok(Piece {
            name: String::new(),
            kind,
        });
    }
    Err(example(scan.left_over(&format!("the {word}"))))
}

fn hose(scan: &mut Scan) -> Result<PieceKind, Fault> {
    let size = scan.size_or_choose("a hose")?;
    let build = if scan.is_done() {
        None
    } else {
        Some(scan.due_word()?)
    };
    Ok(PieceKind::Hose { size, build })
}

fn elbow(scan: &mut Scan) -> Result<PieceKind, Fault> {
    let angle = angle(scan)?;
    let size = scan.size_or_choose("an elbow")?;
    Ok(PieceKind::Elbow {
        angle,
        size,
        stuff: stuff(scan)?,
    })
}

fn reducer(scan: &mut Scan) -> Result<PieceKind, Fault> {
    let from = scan.size_or_choose("a reducer")?;
    if !scan.eat(">") {
        let bit = scan.next_bit();
        if bit.is_empty() {
            return Err(scan.ends("“>” and the size downstream"));
        }
        let message = format!(
            "“>” is due between the two sizes of a reducer, not “{}”",
            scan.read(bit.clone())
        );
        return Err(Fault::new(Code::BadForm, bit, message));
    }
    let to = scan.size_or_choose("a reducer")?;
    Ok(PieceKind::Reducer {
        from,
        to,
        stuff: stuff(scan)?,
    })
}

fn joiner(scan: &mut Scan) -> Result<PieceKind, Fault> {
    let size = scan.size_or_choose("a joiner")?;
    Ok(PieceKind::Joiner {
        size,
        stuff: stuff(scan)?,
    })
}

fn valve(scan: &mut Scan) -> Result<PieceKind, Fault> {
    let size = scan.size_or_choose("a valve")?;
    let full_bore = scan.eat_word(&["full bore", "full"]);
    Ok(PieceKind::Valve {
        size,
        full_bore,
        stuff: stuff(scan)?,
    })
}

fn pipe(scan: &mut Scan, bare: Option<&'static Unit>) -> Result<PieceKind, Fault> {
    let size = scan.size_or_choose("a pipe")?;
    let stuff = stuff(scan)?;
    if scan.is_done() {
        return Ok(PieceKind::Pipe {
            size,
            stuff,
            length: None,
        });
    }
    let length = scan.length(bare)?;
    if !scan.eat_word(&["long"]) {
        return Err(scan.ends("“long” after the length of a pipe"));
    }
    Ok(PieceKind::Pipe {
        size,
        stuff,
        length: Some(length),
    })
}

fn tee(scan: &mut Scan) -> Result<PieceKind, Fault> {
    let mut sizes = [crate::model::Size::Choose; 3];
    for (at, size) in sizes.iter_mut().enumerate() {
        if at > 0 && !(scan.eat("x") || scan.eat("X") || scan.eat("×")) {
            let due = "a tee has three sizes with “x” between: upstream, downstream, branch";
            let bit = scan.next_bit();
            return Err(if bit.is_empty() {
                scan.ends("the next size of the tee")
            } else {
                Fault::new(Code::BadForm, bit, due)
            });
        }
        *size = scan.size_or_choose("a tee")?;
    }
    Ok(PieceKind::Tee {
        sizes,
        stuff: stuff(scan)?,
    })
}

/// Degrees, with or without their sign.
fn angle(scan: &mut Scan) -> Result<Angle, Fault> {
    let bit = scan.next_bit();
    let text = scan.read(bit.clone());
    if text.is_empty() {
        return Err(scan.ends("the angle of the elbow"));
    }
    let angle = quantity::parse::<Angle>(text, Unit::find(quantity::Kind::Angle, "°"))
        .map_err(|error| Fault::from(error).moved(bit.start))?;
    if !(angle.to_degrees() > 0.0 && angle.to_degrees() <= 180.0) {
        let message = format!("{text} is no angle of an elbow: one is over 0° and at most 180°");
        return Err(Fault::new(Code::BadQuantity, bit, message));
    }
    scan.eat(text);
    scan.eat_word(&["degrees", "deg"]);
    Ok(angle)
}

/// What a fitting is made of. Left out, it is some metal that nobody named.
fn stuff(scan: &mut Scan) -> Result<Stuff, Fault> {
    if scan.eat_word(&["moulded", "molded"]) {
        return scan.due_word::<HoseBuild>().map(Stuff::Moulded);
    }
    if scan.eat_word(&["metal"]) || scan.is_done() {
        return Ok(Stuff::SomeMetal);
    }
    if let Some(metal) = scan.word::<Metal>() {
        return Ok(Stuff::Metal(metal));
    }
    // A length or a sign is left for whoever comes next.
    if scan.rest().starts_with(|c: char| !c.is_alphabetic()) {
        return Ok(Stuff::SomeMetal);
    }
    Err(scan.no_word("metal", Metal::LIST.printed().chain(["metal", "moulded"])))
}

#[cfg(test)]
mod tests {
    use quantity::{Length, NominalSize};

    use super::*;
    use crate::model::Size;

    fn mm(size: u32) -> Size {
        Size::Named(NominalSize::mm(size))
    }

    fn check(text: &str, expected: &[(&str, PieceKind)]) {
        let read: Vec<_> = way(text, Some(Unit::mm()))
            .unwrap()
            .into_iter()
            .map(|(piece, _)| (piece.name, piece.kind))
            .collect();
        let expected: Vec<_> = expected
            .iter()
            .map(|(name, kind)| ((*name).to_owned(), kind.clone()))
            .collect();
        assert_eq!(read, expected, "{text}");
    }

    fn fails(text: &str, code: Code, at: &str, message: &str) {
        let faults = way(text, Some(Unit::mm())).unwrap_err();
        let fault = &faults[0];
        assert_eq!(
            (
                fault.code,
                &text[fault.span.clone()],
                fault.message.as_str()
            ),
            (code, at, message),
            "{text}"
        );
    }

    #[test]
    fn every_piece_is_read() {
        let bronze = Stuff::Metal(Metal::Bronze);
        check(
            "hose 38 epdm + reducer 38>32 bronze + hose 32",
            &[
                (
                    "hose",
                    PieceKind::Hose {
                        size: mm(38),
                        build: Some(HoseBuild::Epdm),
                    },
                ),
                (
                    "reducer",
                    PieceKind::Reducer {
                        from: mm(38),
                        to: mm(32),
                        stuff: bronze,
                    },
                ),
                (
                    "hose2",
                    PieceKind::Hose {
                        size: mm(32),
                        build: None,
                    },
                ),
            ],
        );
        check(
            "hose choose+reducer choose > 38 metal",
            &[
                (
                    "hose",
                    PieceKind::Hose {
                        size: Size::Choose,
                        build: None,
                    },
                ),
                (
                    "reducer",
                    PieceKind::Reducer {
                        from: Size::Choose,
                        to: mm(38),
                        stuff: Stuff::SomeMetal,
                    },
                ),
            ],
        );
        check(
            "Elbow 45° 38 moulded silicone + joiner 38 316 + elbow 90 1 1/2 in cast iron",
            &[
                (
                    "elbow",
                    PieceKind::Elbow {
                        angle: Angle::degrees(45.0),
                        size: mm(38),
                        stuff: Stuff::Moulded(HoseBuild::Silicone),
                    },
                ),
                (
                    "joiner",
                    PieceKind::Joiner {
                        size: mm(38),
                        stuff: Stuff::Metal(Metal::Stainless316),
                    },
                ),
                (
                    "elbow2",
                    PieceKind::Elbow {
                        angle: Angle::degrees(90.0),
                        size: Size::Named(NominalSize::sixty_fourths(96)),
                        stuff: Stuff::Metal(Metal::CastIron),
                    },
                ),
            ],
        );
        check(
            "valve 1/2 + pipe 38 copper 600 long + tee 38x38x16 brass + valve 38 full bore bronze",
            &[
                (
                    "valve",
                    PieceKind::Valve {
                        size: Size::Named(NominalSize::sixty_fourths(32)),
                        full_bore: false,
                        stuff: Stuff::SomeMetal,
                    },
                ),
                (
                    "pipe",
                    PieceKind::Pipe {
                        size: mm(38),
                        stuff: Stuff::Metal(Metal::Copper),
                        length: Some(Length::mm(600.0)),
                    },
                ),
                (
                    "tee",
                    PieceKind::Tee {
                        sizes: [mm(38), mm(38), mm(16)],
                        stuff: Stuff::Metal(Metal::Brass),
                    },
                ),
                (
                    "valve2",
                    PieceKind::Valve {
                        size: mm(38),
                        full_bore: true,
                        stuff: bronze,
                    },
                ),
            ],
        );
    }

    #[test]
    fn what_is_wrong_is_said_where_it_is() {
        fails(
            "hose 38 + redcer 38>32",
            Code::UnknownWord,
            "redcer",
            "“redcer” is no piece of a run; did you mean reducer?",
        );
        fails(
            "hose 38 + ",
            Code::BadForm,
            "+",
            "a piece is due on each side of “+”",
        );
        fails(
            "hose wide",
            Code::BadForm,
            "wide",
            "“wide” is no size of a hose",
        );
        fails(
            "hose 38 silicon",
            Code::UnknownWord,
            "silicon",
            "“silicon” is no build of hose; did you mean silicone?",
        );
        fails(
            "reducer 38 32 bronze",
            Code::BadForm,
            "32",
            "“>” is due between the two sizes of a reducer, not “32”",
        );
        fails(
            "tee 38 x 38",
            Code::BadForm,
            "8",
            "the next size of the tee is due, but it ends after “38 x 38”",
        );
        fails(
            "elbow 270 38 bronze",
            Code::BadQuantity,
            "270",
            "270 is no angle of an elbow: one is over 0° and at most 180°",
        );
        fails(
            "joiner 38 bronze shiny",
            Code::BadForm,
            "shiny",
            "“shiny” after the joiner belongs to nothing",
        );
    }
}
