//! `chain`: a screwed stack from the sea inward, its parts joined by ` + `.

use std::ops::Range;

use quantity::{Kind, Unit};

use super::thread::thread_at;
use super::{each, numbered};
use crate::model::{ChainKind, ChainPart, Metal, Sex};
use crate::remark::{Code, Fault, Faulty};
use crate::scan::Scan;
use crate::words::Word;

const EXAMPLE: &str = "ball valve G1-1/4 F F bronze bore 25";

/// Reads a chain.
pub(crate) fn chain(text: &str) -> Faulty<Vec<(ChainPart, Range<usize>)>> {
    let mut parts = each(text, '+', "a part", |span| {
        part(Scan::new(text, span)).map_err(|fault| {
            if fault.expected.is_none() {
                fault.expecting(EXAMPLE)
            } else {
                fault
            }
        })
    })?;
    if let Some((first, span)) = parts.first()
        && first.engaged.is_some()
    {
        let message = format!(
            "the {} is the first of the stack and engages with no part before it",
            first.kind.word()
        );
        return Err(vec![
            Fault::new(Code::BadForm, span.clone(), message)
                .expecting("engaged 16, after a part that is screwed to one before it"),
        ]);
    }
    let name = |kind: ChainKind| {
        if kind.is_valve() {
            "valve"
        } else {
            kind.word()
        }
    };
    numbered(
        &mut parts,
        |(part, _)| name(part.kind),
        |(part, _), name| part.name = name,
    );
    Ok(parts)
}

fn part(mut scan: Scan) -> Result<ChainPart, Fault> {
    let kind: ChainKind = scan.due_word()?;
    scan.skip_space();
    let begin = scan.at();
    let mut part = ChainPart {
        name: String::new(),
        kind,
        ends: Vec::new(),
        bore: None,
        metal: None,
        tail: None,
        engaged: None,
        open: None,
    };
    ends(&mut scan, &mut part)?;
    if part.ends.len() > 2 {
        let message = format!("a {} has at most two threaded ends", kind.word());
        return Err(Fault::new(Code::BadForm, begin..scan.at(), message));
    }
    if kind == ChainKind::Tail && part.tail.is_none() {
        return Err(scan.ends("the spigot of the tail (x 38 barbed)"));
    }
    while !scan.is_done() {
        if scan.eat_word(&["bore"]) {
            part.bore = Some(scan.length(Unit::find(Kind::Length, "mm"))?);
        } else if scan.eat_word(&["engaged"]) {
            part.engaged = Some(scan.length(Unit::find(Kind::Length, "mm"))?);
        } else if kind.is_valve() && part.open.is_none() && scan.eat_word(&["open"]) {
            part.open = Some(scan.share()?);
        } else if part.metal.is_none() {
            part.metal = Some(match scan.word::<Metal>() {
                Some(metal) => metal,
                None => return Err(scan.no_word("metal", Metal::LIST.printed())),
            });
        } else {
            return Err(scan.left_over(&format!("the {}", kind.word())));
        }
    }
    Ok(part)
}

/// `G1-1/4 F F`, `G1 M x G3/4 F`, `G1-1/4 M x 38 barbed`.
fn ends(scan: &mut Scan, part: &mut ChainPart) -> Result<(), Fault> {
    loop {
        let thread = thread_at(scan)?;
        let before = part.ends.len();
        while let Some(sex) = scan.word::<Sex>() {
            part.ends.push((thread, sex));
        }
        if part.ends.len() == before {
            return Err(scan.no_word(Sex::LIST.what, Sex::LIST.printed()));
        }
        if !(scan.eat("x") || scan.eat("×")) {
            return Ok(());
        }
        if part.kind == ChainKind::Tail {
            part.tail = Some((scan.size("a tail")?, scan.due_word()?));
            return Ok(());
        }
    }
}

#[cfg(test)]
mod tests {
    use quantity::{Length, NominalSize, Quantity, Ratio};

    use super::*;
    use crate::model::{SpigotForm, Thread, ThreadStandard};

    fn g(sixty_fourths: u32) -> Thread {
        let size = NominalSize::sixty_fourths(sixty_fourths);
        Thread {
            standard: ThreadStandard::G,
            size,
            pitch_micrometres: None,
        }
    }

    #[test]
    fn a_stack_is_read() {
        let text = "stub G1-1/4 male steel + ball valve G1-1/4 F F bronze bore 25 + tail G1-1/4 M x 38 barbed DZR engaged 14";
        let parts: Vec<_> = chain(text)
            .unwrap()
            .into_iter()
            .map(|(part, _)| part)
            .collect();
        let part = |name: &str, kind| ChainPart {
            name: name.into(),
            kind,
            ends: vec![],
            bore: None,
            metal: None,
            tail: None,
            engaged: None,
            open: None,
        };
        let male = (g(80), Sex::Male);
        let female = (g(80), Sex::Female);
        assert_eq!(
            parts,
            [
                ChainPart {
                    ends: vec![male],
                    metal: Some(Metal::Steel),
                    ..part("stub", ChainKind::Stub)
                },
                ChainPart {
                    ends: vec![female, female],
                    metal: Some(Metal::Bronze),
                    bore: Some(Length::mm(25.0)),
                    ..part("valve", ChainKind::BallValve)
                },
                ChainPart {
                    ends: vec![male],
                    metal: Some(Metal::Dzr),
                    tail: Some((NominalSize::mm(38), SpigotForm::Barbed)),
                    engaged: Some(Length::mm(14.0)),
                    ..part("tail", ChainKind::Tail)
                },
            ]
        );
        let bush = &chain("bush G1 M x G3/4 F bronze").unwrap()[0].0;
        assert_eq!(bush.ends, [(g(64), Sex::Male), (g(48), Sex::Female)]);
        let gate = &chain("gate valve G1 F F bronze bore 24 open 30 %").unwrap()[0].0;
        assert_eq!(gate.open, Ratio::from_si(0.3));
        assert_eq!(gate.bore, Some(Length::mm(24.0)));
    }

    #[test]
    fn what_is_wrong_is_said_where_it_is() {
        let check = |text: &str, at: &str, message: &str| {
            let fault = &chain(text).unwrap_err()[0];
            assert_eq!(
                (&text[fault.span.clone()], fault.message.as_str()),
                (at, message),
                "{text}"
            );
        };
        check("stub G1 steel", "steel", "“steel” is no sex");
        check(
            "bal valve G1 F F",
            "bal",
            "“bal” is no part of a screwed stack; did you mean ball valve?",
        );
        check(
            "tail G1 M bronze",
            "e",
            "the spigot of the tail (x 38 barbed) is due, but it ends after “G1 M bronze”",
        );
        check(
            "tail G1 M x 38 ribbed",
            "ribbed",
            "“ribbed” is no form of spigot",
        );
        check(
            "stub G1 M engaged 12 + ball valve G1 F F",
            "stub G1 M engaged 12",
            "the stub is the first of the stack and engages with no part before it",
        );
        check("nipple G1 M M open 30 %", "open", "“open” is no metal");
        check(
            "ball valve G1 F F open 130 %",
            "130 %",
            "130 % is out of range: 0 to 100 % is due",
        );
        check(
            "nipple G1 M M M",
            "G1 M M M",
            "a nipple has at most two threaded ends",
        );
    }
}
