//! The order list by shop, with boxes to tick, and what waits for a measurement.

use quantity::{Length, System, show, show_fraction};
use reckon::{Cut, Done, Grade, JointRow, Line, Measure, Order, Waits};

use super::sheet;
use super::words::{bold, counted, listed, plain, soft, text};
use crate::doc::{Block, Sheet, Span};

/// What a key of the file is called on paper: by the marks on its joints.
struct Marks<'a>(&'a [JointRow]);

impl Marks<'_> {
    /// `A1` for a joint, `cold.hose2 (B3, B4)` for a piece, `cold (B)` for a run, else the key alone.
    fn of(&self, key: &str) -> String {
        if let Some(row) = self.0.iter().find(|row| row.joint == key) {
            return row.mark.clone();
        }
        if let Some(row) = self.0.iter().find(|row| row.run == key) {
            let letter = row
                .mark
                .trim_end_matches(|sign: char| sign.is_ascii_digit());
            return format!("{key} ({letter})");
        }
        let inside = format!("{key}.");
        let of_it = |row: &&JointRow| {
            row.by_hand.piece.as_deref() == Some(key) || row.joint.starts_with(&inside)
        };
        let marks: Vec<&str> = self
            .0
            .iter()
            .filter(of_it)
            .map(|row| row.mark.as_str())
            .collect();
        if marks.is_empty() {
            key.to_owned()
        } else {
            format!("{key} ({})", marks.join(", "))
        }
    }

    /// The same for several. Pieces that are cut from one length come as one name: `hot.hose and hot.hose2`.
    fn all<S: AsRef<str>>(&self, keys: &[S]) -> String {
        let each = keys.iter().flat_map(|key| key.as_ref().split(" and "));
        let names: Vec<String> = each.map(|key| self.of(key)).collect();
        listed(&names)
    }

    /// The joint that an edit is about, with what the hose goes on there: `B1, on keel-aft tail`.
    fn whose(&self, done: &Done) -> Option<String> {
        let own = |row: &&JointRow| {
            let rest = done.id.strip_prefix(&row.id_prefix);
            // `fit.hot.to` is no prefix of what `fit.hot.tee.a.clip` is about, nor of `fit.hot.to.x.clip`.
            rest.and_then(|rest| rest.strip_prefix('.'))
                .is_some_and(|rule| !rule.contains('.'))
        };
        let row = self.0.iter().find(own)?;
        Some(format!("{}, on {}", row.mark, row.spigot_name))
    }
}

/// The order of a boat.
pub fn order(order: &Order, units: System) -> Sheet {
    let marks = Marks(&order.built.joints);
    let mut blocks = vec![
        Block::Head("Order list".into()),
        text(
            "A letter is a run, and a letter with a number is a joint: the marks of the joint list.",
        ),
    ];
    if !order.done.is_empty() {
        blocks.push(Block::Head("The list takes as done".into()));
        for done in &order.done {
            let whose = marks.whose(done);
            blocks.push(Block::Text(vec![
                bold(match whose {
                    Some(whose) => format!("{whose}: {}. ", done.edit.label),
                    None => format!("{}: ", done.edit.label),
                }),
                plain(done.because.in_units(units)),
            ]));
        }
    }
    let bought: Vec<&Line> = order
        .list
        .lines
        .iter()
        .filter(|line| line.buy > 0.0)
        .collect();
    if bought.is_empty() {
        blocks.push(text(
            "Nothing to buy: the shelf gives all that can be bought for yet.",
        ));
    }
    let mut shops: Vec<&str> = Vec::new();
    for line in &bought {
        if !shops.contains(&line.shop.as_str()) {
            shops.push(&line.shop);
        }
    }
    for shop in shops {
        blocks.push(Block::Head(format!("To buy: {shop}")));
        for line in bought.iter().filter(|line| line.shop == shop) {
            blocks.push(buy(line, order, &marks, units));
        }
    }
    blocks.extend(sums(order));
    blocks.push(Block::Text(vec![
        Span::Grade(order.list.verdict.grade),
        plain(format!(" {}", order.list.verdict.because.in_units(units))),
        bold(arrow(order.list.verdict.remedy.in_units(units))),
    ]));
    shelf(order, &marks, units, &mut blocks);
    waits(order, &marks, units, &mut blocks);
    blocked(order, &marks, units, &mut blocks);
    if !order.stays.is_empty() {
        blocks.push(text(format!(
            "Kept as found, as you decided: {}.",
            marks.all(&order.stays)
        )));
    }
    sheet("order", "Order list", blocks)
}

fn arrow(remedy: &str) -> String {
    if remedy.is_empty() {
        String::new()
    } else {
        format!(" → {remedy}")
    }
}

/// An amount with its measure: `3`, `1.4 m`, `9.5 L`.
fn amount(amount: f64, measure: Measure) -> String {
    let number = format!("{}", (amount * 100.0).round() / 100.0);
    match measure {
        Measure::Pieces => number,
        Measure::Metres => format!("{number} m"),
        Measure::Litres => format!("{number} L"),
    }
}

fn days(days: u32) -> String {
    match days {
        0 => "at once".to_owned(),
        1 => "1 day".to_owned(),
        days => format!("{days} days"),
    }
}

/// A length of hose as one cuts it: whole millimetres, or sixteenths of an inch.
fn length(metres: f64, units: System) -> String {
    let length = Length::of_si(metres);
    match units {
        System::Metric => show(length, Some(Length::mm(2.0)), units),
        System::Imperial => show_fraction(length),
    }
}

/// How the order stage begins the note that tells the cuts of a line by their keys.
const CUTS: &str = "cut from it: ";

/// What is cut from the hose of a line, by the marks at both ends of each piece.
fn cuts(line: &Line, order: &Order, marks: &Marks, units: System) -> Option<String> {
    let wanted = |cut: &&Cut| {
        let of_it = |key: &String| {
            let names = line.wanted_by.iter();
            names
                .flat_map(|name| name.split(" and "))
                .any(|name| name == key)
        };
        cut.from.is_none() && !cut.pieces.is_empty() && cut.pieces.iter().all(of_it)
    };
    let each: Vec<String> = order
        .cuts
        .iter()
        .filter(wanted)
        .map(|cut| {
            let most = if cut.at_most { "at most " } else { "" };
            format!(
                "{} {most}{}",
                marks.all(&cut.pieces),
                length(cut.length, units)
            )
        })
        .collect();
    (!each.is_empty()).then(|| format!("{CUTS}{}", listed(&each)))
}

fn buy(line: &Line, order: &Order, marks: &Marks, units: System) -> Block {
    let mut spans = vec![bold(format!(
        "{} × {}",
        amount(line.buy, line.measure),
        line.name
    ))];
    let mut said: Vec<String> = Vec::new();
    if let (Some(total), Some((_, currency))) = (line.total, &line.each) {
        said.push(format!("{total:.2} {currency}"));
    }
    said.extend(line.days.map(days));
    if line.needed > line.buy {
        let have: f64 = line.have.iter().map(|have| have.amount).sum();
        if have > 0.0 {
            said.push(format!(
                "{} needed, {} on your shelf",
                amount(line.needed, line.measure),
                amount(have, line.measure)
            ));
        }
    }
    if !said.is_empty() {
        spans.push(plain(format!("  {}", said.join(" · "))));
    }
    if !line.wanted_by.is_empty() {
        spans.push(plain(format!(" · for {}", marks.all(&line.wanted_by))));
    }
    let cut = cuts(line, order, marks, units);
    let mut notes: Vec<String> = line
        .notes
        .iter()
        .map(|note| match &cut {
            Some(cut) if note.in_units(units).starts_with(CUTS) => cut.clone(),
            _ => note.in_units(units).to_owned(),
        })
        .collect();
    if line.spare > 0.0 && line.returnable == Some(true) {
        notes.push("what is not used goes back to the shop".to_owned());
    }
    if !notes.is_empty() {
        spans.push(soft(format!(" · {}", notes.join("; "))));
    }
    Block::Tick(spans)
}

fn sums(order: &Order) -> Vec<Block> {
    let list = &order.list;
    let mut blocks = Vec::new();
    if !list.totals.is_empty() {
        let sums: Vec<String> = list
            .totals
            .iter()
            .map(|(currency, sum)| format!("{sum:.2} {currency}"))
            .collect();
        let rest = match list.unpriced {
            0 => String::new(),
            count => format!("; {} without a price", counted(count, "line")),
        };
        blocks.push(Block::Text(vec![bold(format!(
            "In all {}{rest}.",
            listed(&sums)
        ))]));
    }
    if let Some(last) = list.days.filter(|days| *days > 0) {
        let slow: Vec<&str> = list
            .lines
            .iter()
            .filter(|line| line.buy > 0.0 && line.days == Some(last))
            .map(|line| line.name.as_str())
            .collect();
        blocks.push(text(format!(
            "Last to come, after {}: {}. Order before she is taken apart.",
            days(last),
            listed(&slow)
        )));
    }
    blocks
}

fn shelf(order: &Order, marks: &Marks, units: System, blocks: &mut Vec<Block>) {
    let used: Vec<&Line> = order
        .list
        .lines
        .iter()
        .filter(|line| !line.have.is_empty())
        .collect();
    if used.is_empty() && order.shelf.is_empty() {
        return;
    }
    let at = |place: &Option<String>| {
        place
            .as_ref()
            .map_or_else(String::new, |place| format!(", at {place}"))
    };
    blocks.push(Block::Head("From your own shelf".into()));
    for line in used {
        for have in &line.have {
            blocks.push(Block::Tick(vec![
                bold(format!(
                    "{} × {}",
                    amount(have.amount, line.measure),
                    line.name
                )),
                plain(at(&have.place)),
                plain(format!(" · for {}", marks.all(&line.wanted_by))),
            ]));
        }
    }
    for shelf in &order.shelf {
        let cuts: Vec<String> = shelf
            .pieces
            .iter()
            .map(|(key, metres)| {
                let most = if shelf.at_most.contains(key) {
                    "at most "
                } else {
                    ""
                };
                format!("{} {most}{}", marks.all(&[key]), length(*metres, units))
            })
            .collect();
        blocks.push(Block::Tick(vec![
            bold(format!(
                "{} of {}",
                amount(shelf.length, Measure::Metres),
                shelf.hose
            )),
            plain(format!("{}: cut {}", at(&shelf.place), listed(&cuts))),
            soft(format!(" · {} are left", length(shelf.left, units))),
        ]));
    }
}

fn waits(order: &Order, marks: &Marks, units: System, blocks: &mut Vec<Block>) {
    for (hidden, title) in [
        (true, "Waits until the old hose is off"),
        (false, "Waits for a measurement"),
    ] {
        // What waits for one reason and one remedy stands together.
        let mut grouped: Vec<(&Waits, Vec<&str>)> = Vec::new();
        for waits in order
            .list
            .waits
            .iter()
            .filter(|waits| waits.hidden == hidden)
        {
            let keys = waits.wanted_by.iter().map(String::as_str);
            let alike = grouped.iter_mut().find(|(first, _)| {
                first.what == waits.what
                    && first.because == waits.because
                    && first.settles.how == waits.settles.how
            });
            match alike {
                Some((_, wanted_by)) => wanted_by.extend(keys),
                None => grouped.push((waits, keys.collect())),
            }
        }
        if grouped.is_empty() {
            continue;
        }
        blocks.push(Block::Head(title.into()));
        for (waits, wanted_by) in grouped {
            blocks.push(Block::Text(vec![
                Span::Grade(Grade::Unmeasured),
                bold(format!(" {}", waits.what)),
                plain(format!(
                    " for {}: {}",
                    marks.all(&wanted_by),
                    waits.because.in_units(units)
                )),
                bold(arrow(&waits.settles.how)),
            ]));
        }
    }
}

fn blocked(order: &Order, marks: &Marks, units: System, blocks: &mut Vec<Block>) {
    if order.blocked.is_empty() {
        return;
    }
    blocks.push(Block::Head(
        "Nothing is bought for these yet: they can't be made up as written".into(),
    ));
    for blocked in &order.blocked {
        blocks.push(Block::Text(vec![
            bold(format!("{}: ", marks.of(&blocked.joint))),
            plain(blocked.because.in_units(units)),
            soft(format!(" {}", blocked.id)),
        ]));
    }
}
