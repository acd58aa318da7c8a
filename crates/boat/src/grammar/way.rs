//! `way`: the pieces of a run in order of flow, joined by ` + `.

use std::ops::Range;

use quantity::{Angle, Length, Ratio, Unit};

use super::{each, numbered};
use crate::model::{HoseBuild, Metal, Piece, PieceKind, Stuff, ValveForm};
use crate::remark::{Code, Fault, Faulty};
use crate::scan::Scan;
use crate::words::{Word, listed, nearest};

const KINDS: [&str; 10] = [
    "hose", "elbow", "reducer", "joiner", "valve", "gate", "cone", "check", "pipe", "tee",
];

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
        PieceKind::Valve { form, .. } => form.word(),
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
    let mut open = None;
    let mut shuts = |scan: &mut Scan, form| {
        let (kind, share) = valve(scan, form, bare)?;
        open = share;
        Ok(kind)
    };
    let mut ribbed = false;
    let mut hoses = |scan: &mut Scan| {
        let (kind, ribs) = hose(scan)?;
        ribbed = ribs;
        Ok(kind)
    };
    let (kind, example) = match word {
        "hose" => (
            hoses(scan),
            "hose 38, hose 38 wired, hose 38 wired ribbed or hose choose",
        ),
        "elbow" => (
            elbow(scan, bare),
            "elbow 90 38 bronze or elbow 45 38 moulded epdm legs 150 x 100 radius 57",
        ),
        "reducer" => (reducer(scan), "reducer 42>38 bronze"),
        "joiner" => (joiner(scan, bare), "joiner 38 bronze"),
        "valve" => (shuts(scan, ValveForm::Ball), "valve 16 full bronze"),
        "gate" => (shuts(scan, ValveForm::Gate), "gate 38 bronze"),
        "cone" => (shuts(scan, ValveForm::Cone), "cone 25 bronze"),
        "check" => (shuts(scan, ValveForm::Check), "check 16 brass"),
        "pipe" => (pipe(scan, bare), "pipe 38 copper 600 mm long"),
        _ => (tee(scan, bare), "tee 38 x 38 x 16 brass"),
    };
    let example = |fault: Fault| {
        if fault.expected.is_none() {
            fault.expecting(example)
        } else {
            fault
        }
    };
    let kind = kind.map_err(example)?;
    let long = if scan
        .rest()
        .trim_start()
        .starts_with(|c: char| c.is_ascii_digit())
    {
        Some(long(scan, bare).map_err(example)?)
    } else {
        None
    };
    if scan.is_done() {
        return Ok(Piece {
            long,
            open,
            ribbed,
            ..Piece::of(kind)
        });
    }
    Err(example(scan.left_over(&format!("the {word}"))))
}

/// A hose, and whether its wire stands out inside.
fn hose(scan: &mut Scan) -> Result<(PieceKind, bool), Fault> {
    let size = scan.size_or_choose("a hose")?;
    let mut ribbed = scan.eat_word(&["ribbed"]);
    let build = if ribbed || scan.is_done() || !begins_with_letter(scan) {
        None
    } else {
        Some(scan.due_word()?)
    };
    ribbed = ribbed || scan.eat_word(&["ribbed"]);
    Ok((PieceKind::Hose { size, build }, ribbed))
}

fn elbow(scan: &mut Scan, bare: Option<&'static Unit>) -> Result<PieceKind, Fault> {
    let angle = angle(scan)?;
    let size = scan.size_or_choose("an elbow")?;
    let stuff = stuff(scan)?;
    let (mut legs, mut radius, mut bore) = (None, None, None);
    // A moulded one is sold by its bore.
    let bored = !matches!(stuff, Stuff::Moulded(_));
    loop {
        if legs.is_none() && scan.eat_word(&["legs"]) {
            let one = scan.length(bare)?;
            if !(scan.eat("x") || scan.eat("X") || scan.eat("×")) {
                return Err(scan.ends("“x” and the other leg of the elbow"));
            }
            legs = Some([one, scan.length(bare)?]);
        } else if radius.is_none() && scan.eat_word(&["radius"]) {
            radius = Some(scan.length(bare)?);
        } else if bored && bore.is_none() && scan.eat_word(&["bore"]) {
            bore = Some(scan.length(bare)?);
        } else {
            return Ok(PieceKind::Elbow {
                angle,
                size,
                stuff,
                legs,
                radius,
                bore,
            });
        }
    }
}

/// How long a piece is: `600 mm long`.
fn long(scan: &mut Scan, bare: Option<&'static Unit>) -> Result<Length, Fault> {
    let length = scan.length(bare)?;
    if scan.eat_word(&["long"]) {
        Ok(length)
    } else {
        Err(scan.ends("“long” after the length of a piece"))
    }
}

fn begins_with_letter(scan: &mut Scan) -> bool {
    scan.skip_space();
    scan.rest().starts_with(char::is_alphabetic)
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

/// The free bore of a piece, which may be left out: `bore 3`.
fn bore(scan: &mut Scan, bare: Option<&'static Unit>) -> Result<Option<Length>, Fault> {
    if scan.eat_word(&["bore"]) {
        scan.length(bare).map(Some)
    } else {
        Ok(None)
    }
}

fn joiner(scan: &mut Scan, bare: Option<&'static Unit>) -> Result<PieceKind, Fault> {
    let size = scan.size_or_choose("a joiner")?;
    Ok(PieceKind::Joiner {
        size,
        stuff: stuff(scan)?,
        bore: bore(scan, bare)?,
    })
}

/// A valve, and how far it stands open where that is typed.
fn valve(
    scan: &mut Scan,
    form: ValveForm,
    bare: Option<&'static Unit>,
) -> Result<(PieceKind, Option<Ratio>), Fault> {
    if form != ValveForm::Ball {
        scan.eat_word(&["valve"]);
    }
    let size = scan.size_or_choose("a valve")?;
    let full_bore = scan.eat_word(&["full bore", "full"]);
    let stuff = stuff(scan)?;
    let (mut bore, mut kv, mut open) = (None, None, None);
    loop {
        if bore.is_none() && scan.eat_word(&["bore"]) {
            bore = Some(scan.length(bare)?);
        } else if kv.is_none() && scan.eat_word(&["kv"]) {
            kv = Some(scan.kv()?);
        } else if open.is_none() && form != ValveForm::Check && scan.eat_word(&["open"]) {
            // How far a check valve opens is up to the water.
            open = Some(scan.share()?);
        } else {
            let kind = PieceKind::Valve {
                form,
                size,
                full_bore,
                stuff,
                bore,
                kv,
            };
            return Ok((kind, open));
        }
    }
}

fn pipe(scan: &mut Scan, bare: Option<&'static Unit>) -> Result<PieceKind, Fault> {
    Ok(PieceKind::Pipe {
        size: scan.size_or_choose("a pipe")?,
        stuff: stuff(scan)?,
        bore: bore(scan, bare)?,
    })
}

fn tee(scan: &mut Scan, bare: Option<&'static Unit>) -> Result<PieceKind, Fault> {
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
        bore: bore(scan, bare)?,
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
    // A length, a sign, the shape of an elbow or the way through is left for whoever comes next.
    let shape = ["legs", "radius", "bore", "kv", "open"].iter().any(|word| {
        let next = scan.next_bit();
        scan.read(next).eq_ignore_ascii_case(word)
    });
    if shape || !begins_with_letter(scan) {
        return Ok(Stuff::SomeMetal);
    }
    Err(scan.no_word("metal", Metal::LIST.printed().chain(["metal", "moulded"])))
}

#[cfg(test)]
mod tests {
    use quantity::{NominalSize, Quantity, VolumeFlow};

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
                        legs: None,
                        radius: None,
                        bore: None,
                    },
                ),
                (
                    "joiner",
                    PieceKind::Joiner {
                        size: mm(38),
                        stuff: Stuff::Metal(Metal::Stainless316),
                        bore: None,
                    },
                ),
                (
                    "elbow2",
                    PieceKind::Elbow {
                        angle: Angle::degrees(90.0),
                        size: Size::Named(NominalSize::sixty_fourths(96)),
                        stuff: Stuff::Metal(Metal::CastIron),
                        legs: None,
                        radius: None,
                        bore: None,
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
                        form: ValveForm::Ball,
                        bore: None,
                        kv: None,
                    },
                ),
                (
                    "pipe",
                    PieceKind::Pipe {
                        size: mm(38),
                        stuff: Stuff::Metal(Metal::Copper),
                        bore: None,
                    },
                ),
                (
                    "tee",
                    PieceKind::Tee {
                        sizes: [mm(38), mm(38), mm(16)],
                        stuff: Stuff::Metal(Metal::Brass),
                        bore: None,
                    },
                ),
                (
                    "valve2",
                    PieceKind::Valve {
                        size: mm(38),
                        full_bore: true,
                        stuff: bronze,
                        form: ValveForm::Ball,
                        bore: None,
                        kv: None,
                    },
                ),
            ],
        );
    }

    #[test]
    fn lengths_and_shapes_are_read() {
        let read = |text: &str| way(text, Some(Unit::mm())).unwrap().remove(0).0;
        for (text, long) in [
            ("pipe 38 copper 600 long", 600.0),
            ("hose 38 0.4 m long", 400.0),
            ("hose 38 epdm 400 long", 400.0),
            ("reducer 38>32 bronze 45 mm long", 45.0),
        ] {
            assert_eq!(read(text).long, Some(Length::mm(long)), "{text}");
        }
        let text = "elbow 90 38 moulded silicone legs 150 x 100 radius 57";
        let PieceKind::Elbow { legs, radius, .. } = read(text).kind else {
            panic!("{text}");
        };
        assert_eq!(legs, Some([Length::mm(150.0), Length::mm(100.0)]));
        assert_eq!(radius, Some(Length::mm(57.0)));
        fails(
            "hose 38 epdm 0 long",
            Code::BadQuantity,
            "0",
            "0 is no length here: one is over 0",
        );
    }

    #[test]
    fn valves_and_free_bores_are_read() {
        let read = |text: &str| way(text, Some(Unit::mm())).unwrap();
        let pieces = read(
            "check 8 brass + gate valve 38 bronze bore 30 + cone 25 bore 20 kv 11.5 open 30 % 70 long + valve 16 kv 4.5 m3/h open 50",
        );
        let names: Vec<&str> = pieces
            .iter()
            .map(|(piece, _)| piece.name.as_str())
            .collect();
        assert_eq!(names, ["check", "gate", "cone", "valve"]);
        let forms = [
            ValveForm::Check,
            ValveForm::Gate,
            ValveForm::Cone,
            ValveForm::Ball,
        ];
        for ((piece, _), due) in pieces.iter().zip(forms) {
            assert!(
                matches!(piece.kind, PieceKind::Valve { form, .. } if form == due),
                "{piece:?}"
            );
            assert_eq!(piece.kind.can_be_shut(), due != ValveForm::Check);
        }
        let kv = |at: usize| match pieces[at].0.kind {
            PieceKind::Valve { kv, .. } => kv.map(VolumeFlow::si),
            _ => None,
        };
        assert_eq!((kv(2), kv(3)), (Some(11.5 / 3600.0), Some(4.5 / 3600.0)));
        let cone = &pieces[2].0;
        assert_eq!(cone.kind.bore(), Some(Length::mm(20.0)));
        assert_eq!(cone.long, Some(Length::mm(70.0)));
        assert_eq!(cone.open, Ratio::from_si(0.3));
        assert_eq!(pieces[3].0.open, Ratio::from_si(0.5));
        for (text, bore) in [
            ("joiner 8 brass bore 2.5 40 long", 2.5),
            ("pipe 38 copper bore 35", 35.0),
            ("tee 38 x 38 x 16 bore 33", 33.0),
            ("elbow 90 38 bronze radius 40 bore 32", 32.0),
        ] {
            let bore = Some(Length::mm(bore));
            assert_eq!(read(text)[0].0.kind.bore(), bore, "{text}");
        }
        fails(
            "joiner 8 brass open 30 %",
            Code::BadForm,
            "open",
            "“open” after the joiner belongs to nothing",
        );
        fails(
            "check 8 brass open 30 %",
            Code::BadForm,
            "open",
            "“open” after the check belongs to nothing",
        );
        fails(
            "elbow 90 38 moulded epdm bore 36",
            Code::BadForm,
            "bore",
            "“bore” after the elbow belongs to nothing",
        );
        fails(
            "valve 16 brass open 110 %",
            Code::BadQuantity,
            "110 %",
            "110 % is out of range: 0 to 100 % is due",
        );
        fails(
            "valve 16 brass kv 0",
            Code::BadQuantity,
            "0",
            "0 is no Kv: one is over 0",
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
