//! The card to get home by: sides of half a sheet to cut out, in large type. The first is the card itself: what to do
//! first, what never, and the valves.

use quantity::System;
use reckon::{Card, CardFact, CardSign, CardValve, Grade, OtherLoop, Words};

use super::card_set::{Piece, Row, SMALL, Section, Side, WIDTH, bound, high};
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
    let high = high(head.paper);
    let mut sections = vec![told.top(), told.valves()];
    sections.extend(told.signs(high));
    sections.push(told.limits());
    sections.push(told.spares());
    sections.extend(told.others());
    let sides = Side::filled(sections, high);
    let pages = bound(&sides, head, high, card.cooling.words());
    let mut blocks = Vec::new();
    for (at, page) in pages.into_iter().enumerate() {
        if at > 0 {
            blocks.push(Block::NewPage);
        }
        blocks.push(Block::Picture(page));
    }
    Sheet {
        name: "card".to_owned(),
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

    /// What to do before all else, and what is never done.
    fn top(&self) -> Section {
        let mut top = Section::bare();
        for line in &self.card.first {
            top.push(Row::first(line));
        }
        if !self.card.never.is_empty() {
            let never = format!("{}.", self.card.never.join("; "));
            top.push(Row::caution("Caution. Never:", &never));
        }
        top
    }

    /// Which valve shuts what, where it is and which way.
    fn valves(&self) -> Section {
        // How valves of one kind are shut is said once; in the head where all are shut alike.
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
        let mut section = match ways.as_slice() {
            [(way, _)] => Section::flowing(&format!("Valves: {way}; usual, so try and tick")),
            _ => Section::flowing("Which valve shuts what"),
        };
        if self.card.valves.is_empty() {
            section.push(Row::text(&unmeasured(
                "no valve is written. Look for each and write its stack or its run.",
            )));
        }
        if ways.len() > 1 {
            for (way, kinds) in ways {
                section.push(Row::text(&[
                    bold(&format!("{}: ", capital(&kinds.join(", ")))),
                    plain(&format!("{way}; usual, so try and tick.")),
                ]));
            }
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
            section.push(self.group(group));
        }
        section
    }

    /// Valves that belong together, and what it costs to shut them.
    fn group(&self, group: &[&CardValve]) -> Row {
        let first = group[0];
        let shuts = match (group, &first.cuts_off) {
            _ if group.iter().any(|valve| valve.kind.is_none()) => String::new(),
            ([_, _], Some(off)) => format!("Both shut: {off} cut off. "),
            ([_, _, ..], Some(off)) => format!("All shut: {off} cut off. "),
            ([one], _) if one.hull => format!("{} ", one.shuts),
            _ => String::new(),
        };
        let cost = format!("{shuts}{}", first.costs);
        let bare = |valve: &&CardValve| {
            matches!(valve.place, CardFact::Unmeasured(_))
                && valve.kind.is_some()
                && matches!(valve.way, CardFact::Known(..))
                && !valve.shut_now
                && details(valve, self.units).is_empty()
        };
        // Of several of which nothing is known the room to write is shared.
        if group.len() > 1 && group.iter().all(bare) {
            let mut pieces: Vec<Piece> = group.iter().flat_map(|valve| name(valve)).collect();
            pieces.extend(unmeasured("they are ________________"));
            return Row::group(&[pieces], &[plain(&cost)]);
        }
        if let ([one], false) = (group, first.hull) {
            // A valve in a run has little to say, and says it in one go.
            return Row::hung(&self.valve(one, &format!(". {cost}")));
        }
        let lines: Vec<Vec<Piece>> = group.iter().map(|valve| self.valve(valve, "")).collect();
        Row::group(&lines, &[plain(&cost)])
    }

    /// The line of a valve: a box for who tried it, its name and marks, where it is, what hinders, and what comes
    /// after that.
    fn valve(&self, valve: &CardValve, after: &str) -> Vec<Piece> {
        let mut pieces = name(valve);
        if valve.kind.is_none() {
            pieces.push(bold("has no valve "));
        }
        if valve.shut_now {
            pieces.push(bold("is shut now "));
        }
        let details = details(valve, self.units);
        match &valve.place {
            CardFact::Known(place, _) => {
                pieces.push(plain(&format!("{}{details}{after}", self.words(place))));
            }
            // Room to write it on the card itself.
            CardFact::Unmeasured(_) => {
                pieces.extend(unmeasured(&format!(
                    "it is ________________{details}{after}"
                )));
            }
        }
        if let (CardFact::Unmeasured(settles), true) = (&valve.way, valve.kind.is_some()) {
            pieces.push(plain(" "));
            pieces.extend(unmeasured(&settles.how));
        }
        pieces
    }

    /// What to do by what is seen, and by what is found: one section where both go on a side.
    fn signs(&self, high: f64) -> Vec<Section> {
        let mut seen = Section::headed("By what you see");
        seen.push(Row::text(&[
            bold("The boat first: "),
            plain(&self.card.boat_first),
        ]));
        for sign in &self.card.signs {
            seen.push(sign_row(sign));
        }
        let mut both = seen.clone();
        let mut found = Section::headed("By what you find");
        for sign in &self.card.finds {
            both.push(sign_row(sign));
            found.push(sign_row(sign));
        }
        if both.fits(high) {
            vec![both]
        } else {
            vec![seen, found]
        }
    }

    fn limits(&self) -> Section {
        let mut section = Section::headed("Limits");
        if let reckon::Exhaust::Unknown(settles) = &self.card.exhaust {
            let mut pieces = vec![bold("Exhaust: ")];
            pieces.extend(unmeasured(&settles.how));
            section.push(Row::hung(&pieces));
        }
        // What is short stands in one paragraph.
        let mut brief: Vec<Piece> = Vec::new();
        for limit in self.card.limits.iter().filter(|limit| limit.brief) {
            if let CardFact::Known(words, from) = &limit.is {
                brief.push(bold(&format!("{}: ", limit.what)));
                brief.push(plain(&format!("{}{}. ", self.words(words), source(from))));
            }
        }
        if !brief.is_empty() {
            section.push(Row::text(&brief));
        }
        for limit in &self.card.limits {
            let mut pieces = vec![bold(&format!("{}: ", limit.what))];
            match &limit.is {
                CardFact::Known(..) if limit.brief => continue,
                CardFact::Known(words, from) => {
                    pieces.push(plain(&format!("{}{}", self.words(words), source(from))));
                }
                CardFact::Unmeasured(settles) => pieces.extend(unmeasured(&settles.how)),
            }
            section.push(Row::hung(&pieces));
        }
        section.push(Row::text(&[
            plain("Times: nothing cooling, water moving. "),
            bold("Standing still: none, stop."),
        ]));
        section
    }

    fn others(&self) -> Vec<Section> {
        if self.card.others.is_empty() {
            let mut none = Section::headed("Going over to another loop");
            none.push(Row::text(&[plain(
                "The file has none: count on anchor or a tow.",
            )]));
            return vec![none];
        }
        let others = self.card.others.iter();
        others.map(|other| self.other(other)).collect()
    }

    fn other(&self, other: &OtherLoop) -> Section {
        let mut section = Section::headed(&format!("Going over to {}", other.key));
        section.push(Row::hung(&[
            Piece::Shape(other.grade),
            plain(&format!("{}.", capital(&other.tried))),
        ]));
        if !other.wants.is_empty() {
            let mut pieces = vec![
                bold("It wants: "),
                plain(&format!("{}. ", other.wants.join("; "))),
            ];
            if other.lacks.is_empty() {
                pieces.push(plain("The shelf has it."));
            } else {
                pieces.push(bold("Not aboard: "));
                pieces.push(plain(&format!("{}.", other.lacks.join("; "))));
            }
            section.push(Row::hung(&pieces));
        }
        for (at, step) in other.steps.iter().enumerate() {
            section.push(Row::hung(&[
                Piece::Box,
                bold(&format!("{}. ", at + 1)),
                plain(step),
            ]));
        }
        let mut pieces = vec![bold("Steady power: ")];
        match &other.power {
            CardFact::Known(words, _) => pieces.push(plain(self.words(words))),
            CardFact::Unmeasured(settles) => pieces.extend(unmeasured(&settles.how)),
        }
        section.push(Row::hung(&pieces));
        section
    }

    fn spares(&self) -> Section {
        let mut section = Section::headed(if self.card.refitted {
            "Aboard once the refit is done"
        } else {
            "Aboard, by the file"
        });
        let aboard = if self.card.spares.is_empty() {
            "nothing is written.".to_owned()
        } else {
            format!("{}.", self.card.spares.join("; "))
        };
        section.push(Row::text(&[plain(&aboard)]));
        if !self.card.spares_unsaid.is_empty() {
            let mut pieces = vec![Piece::Shape(Grade::Unmeasured), bold("Not written: ")];
            pieces.push(plain(&format!(
                "{}. Look.",
                self.card.spares_unsaid.join("; ")
            )));
            section.push(Row::text(&pieces));
        }
        section
    }
}

/// A box for who tried it, and the name of a valve with what is written on its runs.
fn name(valve: &CardValve) -> Vec<Piece> {
    let marks = if valve.marks.is_empty() {
        String::new()
    } else {
        format!(" ({})", valve.marks.join(", "))
    };
    vec![Piece::Box, bold(&format!("{}{marks} ", valve.title))]
}

/// How long a valve takes and what hinders, to go on after where it is.
fn details(valve: &CardValve, units: System) -> String {
    let mut details = String::new();
    if let Some(secs) = valve.secs {
        details.push_str(&format!("; {secs:.0}\u{a0}s"));
    }
    if valve.untried {
        details.push_str("; new valve: not tried");
    }
    let feels = valve.feels.as_deref();
    if let Some(feels) = feels.filter(|feels| *feels != "free") {
        details.push_str(&format!("; “{feels}”"));
    }
    if let Some(drowned) = &valve.drowned_at {
        let height = drowned.in_units(units).replace(' ', "\u{a0}");
        details.push_str(&format!("; under\u{a0}water\u{a0}at\u{a0}{height}"));
    }
    details
}

fn sign_row(sign: &CardSign) -> Row {
    Row::text(&[bold(&format!("{}: ", sign.sign)), plain(&sign.act)])
}

/// Whence a value is, to go on after it; nothing where it is a text of the file, and of what is reckoned only up to
/// where.
fn source(from: &str) -> String {
    match (from, from.strip_prefix("reckoned")) {
        ("the file", _) => String::new(),
        (_, Some(up_to)) => up_to.to_owned(),
        (_, None) => format!(" · {from}"),
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
