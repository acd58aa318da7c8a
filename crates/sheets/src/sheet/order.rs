//! The order list by shop, with boxes to tick, and what waits for a measurement.

use quantity::{Length, System, show};
use reckon::{Grade, Line, Measure, Order, Waits};

use super::sheet;
use super::words::{bold, counted, listed, plain, soft, text};
use crate::doc::{Block, Sheet, Span};

/// The order of a boat.
pub fn order(order: &Order, units: System) -> Sheet {
    let mut blocks = Vec::new();
    if !order.done.is_empty() {
        blocks.push(Block::Head("The list takes as done".into()));
        for done in &order.done {
            blocks.push(Block::Text(vec![
                bold(format!("{}: ", done.edit.label)),
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
            blocks.push(buy(line, units));
        }
    }
    blocks.extend(sums(order));
    blocks.push(Block::Text(vec![
        Span::Grade(order.list.verdict.grade),
        plain(format!(" {}", order.list.verdict.because.in_units(units))),
        bold(arrow(order.list.verdict.remedy.in_units(units))),
    ]));
    shelf(order, units, &mut blocks);
    waits(order, units, &mut blocks);
    blocked(order, units, &mut blocks);
    if !order.stays.is_empty() {
        blocks.push(text(format!(
            "Kept as found, as you decided: {}.",
            listed(&order.stays)
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

fn buy(line: &Line, units: System) -> Block {
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
        spans.push(soft(format!(" · for {}", listed(&line.wanted_by))));
    }
    let mut notes: Vec<String> = line
        .notes
        .iter()
        .map(|note| note.in_units(units).to_owned())
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

fn shelf(order: &Order, units: System, blocks: &mut Vec<Block>) {
    let used: Vec<&Line> = order
        .list
        .lines
        .iter()
        .filter(|line| !line.have.is_empty())
        .collect();
    if used.is_empty() && order.shelf.is_empty() {
        return;
    }
    let whole = |metres: f64| show(Length::of_si(metres), Some(Length::mm(2.0)), units);
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
                soft(format!(" · for {}", listed(&line.wanted_by))),
            ]));
        }
    }
    for shelf in &order.shelf {
        let cuts: Vec<String> = shelf
            .pieces
            .iter()
            .map(|(key, length)| {
                let most = if shelf.at_most.contains(key) {
                    "at most "
                } else {
                    ""
                };
                format!("{key} {most}{}", whole(*length))
            })
            .collect();
        blocks.push(Block::Tick(vec![
            bold(format!(
                "{} of {}",
                amount(shelf.length, Measure::Metres),
                shelf.hose
            )),
            plain(format!("{}: cut {}", at(&shelf.place), listed(&cuts))),
            soft(format!(" · {} are left", whole(shelf.left))),
        ]));
    }
}

fn waits(order: &Order, units: System, blocks: &mut Vec<Block>) {
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
                    listed(&wanted_by),
                    waits.because.in_units(units)
                )),
                bold(arrow(&waits.settles.how)),
            ]));
        }
    }
}

fn blocked(order: &Order, units: System, blocks: &mut Vec<Block>) {
    if order.blocked.is_empty() {
        return;
    }
    blocks.push(Block::Head(
        "Nothing is bought for these yet: they can't be made up as written".into(),
    ));
    for blocked in &order.blocked {
        blocks.push(Block::Text(vec![
            bold(format!("{}: ", blocked.joint)),
            plain(blocked.because.in_units(units)),
            soft(format!(" {}", blocked.id)),
        ]));
    }
}
