//! The card to get home by: sides of half a sheet to cut out, in large type, the most urgent first.

use quantity::System;
use reckon::{Card, CardFact, CardValve, Grade, OtherLoop, Words};

use super::card_set::{Piece, Row, SMALL, Side, WIDTH, bound, high};
use crate::doc::{Block, Head, Sheet};
use crate::draw::Face;

/// What stands on a card beside its answer.
#[derive(Clone, Copy, Debug)]
struct Told<'a> {
    card: &'a Card,
    units: System,
}

/// The card of a boat.
#[must_use]
pub fn card(card: &Card, head: &Head, units: System) -> Sheet {
    let told = Told { card, units };
    let mut rows: Vec<Row> = Vec::new();
    for line in &card.first {
        rows.push(Row::first(line));
    }
    told.valves(&mut rows);
    told.signs(&mut rows);
    told.cautions(&mut rows);
    told.limits(&mut rows);
    told.others(&mut rows);
    told.spares(&mut rows);
    let high = high(head.paper);
    let sides = Side::filled(rows, high);
    let pages = bound(&sides, head, high, card.cooling.words());
    let mut blocks = Vec::new();
    for (at, page) in pages.into_iter().enumerate() {
        if at > 0 {
            blocks.push(Block::NewPage);
        }
        blocks.push(Block::Picture(page));
    }
    Sheet {
        name: "card",
        title: "Get-home card".into(),
        blocks,
    }
}

fn plain(text: &str) -> Piece {
    Piece::Text(Face::Plain, text.to_owned())
}

fn bold(text: &str) -> Piece {
    Piece::Text(Face::Bold, text.to_owned())
}

/// An empty box, the word, and what to find out.
fn unmeasured(how: &str) -> Vec<Piece> {
    vec![
        Piece::Shape(Grade::Unmeasured),
        plain("unmeasured: "),
        plain(how),
    ]
}

impl Told<'_> {
    fn words<'b>(&self, words: &'b Words) -> &'b str {
        words.in_units(self.units)
    }

    /// Which valve shuts what, where it is and which way.
    fn valves(&self, rows: &mut Vec<Row>) {
        rows.push(Row::head("Which valve shuts what"));
        if self.card.valves.is_empty() {
            rows.push(Row::text(&unmeasured(
                "no valve is written. Look for each and write its stack or its run.",
            )));
        }
        // How valves of one kind are shut is said once.
        let mut ways: Vec<(&str, Vec<&str>)> = Vec::new();
        for valve in &self.card.valves {
            let (CardFact::Known(way, _), Some(kind)) = (&valve.way, &valve.kind) else {
                continue;
            };
            let way = self.words(way);
            match ways.iter_mut().find(|(own, _)| *own == way) {
                Some((_, kinds)) if kinds.contains(&kind.as_str()) => {}
                Some((_, kinds)) => kinds.push(kind),
                None => ways.push((way, vec![kind])),
            }
        }
        for (way, kinds) in ways {
            rows.push(Row::text(&[
                bold(&format!("{}: ", capital(&kinds.join(", ")))),
                plain(&format!("{way}; usual, so try each and tick its box.")),
            ]));
        }
        // What costs the same is said once, for all that belong together.
        let mut groups: Vec<Vec<&CardValve>> = Vec::new();
        for valve in &self.card.valves {
            let beside = groups.iter_mut().find(|group| {
                group[0].costs == valve.costs
                    && group
                        .iter()
                        .all(|own| valve.with.iter().any(|key| key == &own.title))
            });
            match beside {
                Some(group) => group.push(valve),
                None => groups.push(vec![valve]),
            }
        }
        for group in &groups {
            let pieces: Vec<Vec<Piece>> = group.iter().map(|valve| self.valve(valve)).collect();
            let shuts = match (group.as_slice(), &group[0].cuts_off) {
                _ if group.iter().any(|valve| valve.kind.is_none()) => String::new(),
                ([_, _], Some(off)) => format!("Both shut, {off} is cut off. "),
                ([_, _, ..], Some(off)) => format!("All shut, {off} is cut off. "),
                ([one], _) if one.hull => format!("{} ", one.shuts),
                _ => String::new(),
            };
            let cost = format!("{shuts}{}", group[0].costs);
            rows.push(Row::group(&pieces, &[plain(&cost)]));
        }
    }

    /// The line of a valve: a box for who tried it, its name and marks, where it is, what hinders.
    fn valve(&self, valve: &CardValve) -> Vec<Piece> {
        let marks = if valve.marks.is_empty() {
            String::new()
        } else {
            format!(" ({})", valve.marks.join(", "))
        };
        let mut pieces = vec![Piece::Box, bold(&format!("{}{marks} ", valve.title))];
        if valve.kind.is_none() {
            pieces.push(bold("has no valve "));
        }
        if valve.shut_now {
            pieces.push(bold("is shut now "));
        }
        match &valve.place {
            CardFact::Known(place, _) => pieces.push(plain(self.words(place))),
            // Room to write it on the card itself.
            CardFact::Unmeasured(_) => pieces.extend(unmeasured("it is ________________")),
        }
        if let Some(secs) = valve.secs {
            pieces.push(plain(&format!(" · {secs:.0} s")));
        }
        if let Some(feels) = valve
            .feels
            .as_ref()
            .filter(|feels| feels.as_str() != "free")
        {
            pieces.push(plain(&format!(" · “{feels}”")));
        }
        if let Some(drowned) = &valve.drowned_at {
            pieces.push(plain(&format!(
                " · under\u{a0}water\u{a0}at\u{a0}{}",
                self.words(drowned).replace(' ', "\u{a0}")
            )));
        }
        if let (CardFact::Unmeasured(settles), true) = (&valve.way, valve.kind.is_some()) {
            pieces.push(plain(" · "));
            pieces.extend(unmeasured(&settles.how));
        }
        pieces
    }

    fn signs(&self, rows: &mut Vec<Row>) {
        rows.push(Row::head("By what you see"));
        for sign in &self.card.signs {
            rows.push(Row::text(&[
                bold(&format!("{}: ", sign.sign)),
                plain(&sign.act),
            ]));
        }
    }

    fn cautions(&self, rows: &mut Vec<Row>) {
        for caution in &self.card.cautions {
            rows.push(Row::caution(caution));
        }
    }

    fn limits(&self, rows: &mut Vec<Row>) {
        rows.push(Row::head("Limits"));
        if let reckon::Exhaust::Unknown(settles) = &self.card.exhaust {
            let mut pieces = vec![bold("Exhaust: ")];
            pieces.extend(unmeasured(&settles.how));
            rows.push(Row::hung(&pieces));
        }
        for limit in &self.card.limits {
            let mut pieces = vec![bold(&format!("{}: ", limit.what))];
            match &limit.is {
                CardFact::Known(words, from) => {
                    pieces.push(plain(&format!("{} · {from}", self.words(words))));
                }
                CardFact::Unmeasured(settles) => pieces.extend(unmeasured(&settles.how)),
            }
            rows.push(Row::hung(&pieces));
        }
        rows.push(Row::hung(&[
            bold("No time at all "),
            plain("where the water stands still: stop."),
        ]));
    }

    fn others(&self, rows: &mut Vec<Row>) {
        if self.card.others.is_empty() {
            rows.push(Row::head("Going over to another loop"));
            rows.push(Row::text(&[plain(
                "The file has none: count on sail, anchor or a tow.",
            )]));
        }
        for other in &self.card.others {
            self.other(other, rows);
        }
    }

    fn other(&self, other: &OtherLoop, rows: &mut Vec<Row>) {
        rows.push(Row::head(&format!("Going over to {}", other.key)));
        rows.push(Row::hung(&[
            Piece::Shape(other.grade),
            plain(&format!("{}. ", capital(&other.tried))),
            plain("Going back is the reverse."),
        ]));
        for (at, step) in other.steps.iter().enumerate() {
            rows.push(Row::hung(&[
                Piece::Box,
                bold(&format!("{}. ", at + 1)),
                plain(step),
            ]));
        }
        let mut pieces = vec![bold("Greatest steady power there: ")];
        match &other.power {
            CardFact::Known(words, from) => {
                pieces.push(plain(&format!("{} · {from}", self.words(words))));
            }
            CardFact::Unmeasured(settles) => pieces.extend(unmeasured(&settles.how)),
        }
        rows.push(Row::hung(&pieces));
    }

    fn spares(&self, rows: &mut Vec<Row>) {
        rows.push(Row::head("Aboard, by the file"));
        let aboard = if self.card.spares.is_empty() {
            "nothing is written.".to_owned()
        } else {
            format!("{}.", self.card.spares.join("; "))
        };
        rows.push(Row::text(&[plain(&aboard)]));
        if !self.card.spares_unsaid.is_empty() {
            let mut pieces = vec![Piece::Shape(Grade::Unmeasured), bold("Not written: ")];
            pieces.push(plain(&format!(
                "{}. Look, and write what is aboard.",
                self.card.spares_unsaid.join("; ")
            )));
            rows.push(Row::text(&pieces));
        }
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

// The type is set for this width; a narrower card would set it anew.
const _: () = assert!(WIDTH > 600.0 && SMALL >= 14.0 * 96.0 / 72.0 - 0.01);
