//! The order as a page, as a list for the shop, and as a table for other programs.

use quantity::{Length, System};
use reckon::{FromShelf, Line, Measure, Order, Waits};

use super::heading;
use crate::text::{Column, Page, listed};

/// An amount with its measure: `3`, `1.4 m`, `9.5 L`.
fn amount(amount: f64, measure: Measure) -> String {
    let number = format!("{}", (amount * 100.0).round() / 100.0);
    match measure {
        Measure::Pieces => number,
        Measure::Metres => format!("{number} m"),
        Measure::Litres => format!("{number} L"),
    }
}

/// A length to the millimetre: `494 mm`, `19.4 in`.
fn whole(metres: f64, units: System) -> String {
    quantity::show(Length::of_si(metres), Some(Length::mm(2.0)), units)
}

fn money(amount: f64, currency: &str) -> String {
    format!("{amount:.2} {currency}")
}

/// The whole order.
pub fn order(page: &mut Page, order: &Order, days_off: Option<u32>, units: System) {
    done(page, order, units);
    let bought: Vec<&Line> = order
        .list
        .lines
        .iter()
        .filter(|line| line.buy > 0.0)
        .collect();
    heading(page, "To buy");
    if bought.is_empty() {
        page.paragraph(
            0,
            "Nothing: the shelf gives all that can be bought for yet.",
        );
    } else {
        table(page, &bought);
    }
    // Lines that say the same of themselves say it together.
    let mut said: Vec<(Vec<&str>, Vec<String>)> = Vec::new();
    for line in &bought {
        let notes: Vec<&str> = line.notes.iter().map(|note| note.in_units(units)).collect();
        match said.iter_mut().find(|(known, _)| *known == notes) {
            _ if notes.is_empty() => {}
            Some((_, names)) => names.push(line.name.clone()),
            None => said.push((notes, vec![line.name.clone()])),
        }
    }
    for (notes, names) in said {
        let told = format!("{}: {}.", listed(&names), notes.join("; "));
        page.hanging("  – ", "    ", &told);
    }
    sums(page, order);
    slowest(page, order, days_off);
    page.gap();
    page.paragraph(0, order.list.verdict.because.in_units(units));
    shelf(page, order, units);
    waits(page, order, units);
    blocked(page, order, units);
    if !order.stays.is_empty() {
        page.gap();
        page.paragraph(
            0,
            &format!("Kept as found, as you decided: {}.", listed(&order.stays)),
        );
    }
}

fn done(page: &mut Page, order: &Order, units: System) {
    if order.done.is_empty() {
        return;
    }
    heading(page, "The list takes as done");
    for done in &order.done {
        page.hanging(
            "  – ",
            "    ",
            &format!(
                "{} ({}): {}",
                done.edit.label,
                done.id,
                done.because.in_units(units)
            ),
        );
    }
}

fn table(page: &mut Page, lines: &[&Line]) {
    let columns = [
        Column::figures("buy"),
        Column::words("what").at_most(36),
        Column::figures("needed"),
        Column::figures("shelf"),
        Column::figures("price"),
        Column::words("days"),
    ];
    let rows: Vec<Vec<String>> = lines
        .iter()
        .map(|line| {
            let have: f64 = line.have.iter().map(|have| have.amount).sum();
            let price = match (&line.each, line.total) {
                (Some((_, currency)), Some(total)) => money(total, currency),
                _ => "–".into(),
            };
            vec![
                amount(line.buy, line.measure),
                line.name.clone(),
                amount(line.needed, line.measure),
                if have > 0.0 {
                    amount(have, line.measure)
                } else {
                    "–".into()
                },
                price,
                line.days
                    .map_or_else(|| "–".into(), |days| days.to_string()),
            ]
        })
        .collect();
    page.table(0, &columns, &rows);
}

fn sums(page: &mut Page, order: &Order) {
    let list = &order.list;
    if !list.totals.is_empty() {
        let sums: Vec<String> = list
            .totals
            .iter()
            .map(|(currency, sum)| money(*sum, currency))
            .collect();
        let rest = match list.unpriced {
            0 => String::new(),
            1 => "; one line has no price".to_owned(),
            count => format!("; {count} lines have no price"),
        };
        page.gap();
        page.paragraph(0, &format!("In all {}{rest}.", listed(&sums)));
    }
}

/// What takes longest to come, beside the days that the job is to take.
fn slowest(page: &mut Page, order: &Order, days_off: Option<u32>) {
    let Some(days) = order.list.days.filter(|days| *days > 0) else {
        return;
    };
    let last: Vec<String> = order
        .list
        .lines
        .iter()
        .filter(|line| line.buy > 0.0 && line.days == Some(days))
        .map(|line| line.name.clone())
        .collect();
    let comes = if last.len() == 1 { "comes" } else { "come" };
    let count = if days == 1 {
        "1 day".to_owned()
    } else {
        format!("{days} days")
    };
    let job = match days_off {
        Some(off) if off < days => {
            format!(" The job is to take {off}: order before she is taken apart.")
        }
        _ => String::new(),
    };
    page.gap();
    page.paragraph(
        0,
        &format!("Last {comes} {}, after {count}.{job}", listed(&last)),
    );
}

fn shelf(page: &mut Page, order: &Order, units: System) {
    let used: Vec<&Line> = order
        .list
        .lines
        .iter()
        .filter(|line| !line.have.is_empty())
        .collect();
    if used.is_empty() && order.shelf.is_empty() {
        return;
    }
    heading(page, "From your own shelf");
    for line in used {
        for have in &line.have {
            let place = have
                .place
                .as_ref()
                .map_or_else(String::new, |place| format!(", at {place}"));
            let taken = amount(have.amount, line.measure);
            page.hanging("  – ", "    ", &format!("{taken} × {}{place}", line.name));
        }
    }
    for FromShelf {
        hose,
        length,
        place,
        pieces,
        at_most,
        left,
    } in &order.shelf
    {
        let cuts: Vec<String> = pieces
            .iter()
            .map(|(key, length)| {
                let most = if at_most.contains(key) {
                    "at most "
                } else {
                    ""
                };
                format!("{key} {most}{}", whole(*length, units))
            })
            .collect();
        let place = place
            .as_ref()
            .map_or_else(String::new, |place| format!(", at {place}"));
        page.hanging(
            "  – ",
            "    ",
            &format!(
                "{} of {hose}{place}: cut {}; {} are left",
                amount(*length, Measure::Metres),
                listed(&cuts),
                whole(*left, units)
            ),
        );
    }
}

/// What waits: for a hidden spigot first, then for any other measurement.
fn waits(page: &mut Page, order: &Order, units: System) {
    for (hidden, title) in [
        (true, "Waits until the old hose is off"),
        (false, "Waits for a measurement"),
    ] {
        let waits: Vec<&Waits> = order
            .list
            .waits
            .iter()
            .filter(|waits| waits.hidden == hidden)
            .collect();
        if waits.is_empty() {
            continue;
        }
        heading(page, title);
        // What waits for the same reason and the same remedy stands together.
        let mut grouped: Vec<(&Waits, Vec<&str>)> = Vec::new();
        for waits in waits {
            let alike = grouped.iter_mut().find(|(first, _)| {
                first.what == waits.what
                    && first.because == waits.because
                    && first.settles.how == waits.settles.how
            });
            let keys = waits.wanted_by.iter().map(String::as_str);
            match alike {
                Some((_, wanted_by)) => wanted_by.extend(keys),
                None => grouped.push((waits, keys.collect())),
            }
        }
        for (waits, wanted_by) in grouped {
            page.hanging(
                "  – ",
                "    ",
                &format!(
                    "{} for {}: {} {}",
                    waits.what,
                    listed(&wanted_by),
                    waits.because.in_units(units),
                    waits.settles.how
                ),
            );
        }
    }
}

fn blocked(page: &mut Page, order: &Order, units: System) {
    if order.blocked.is_empty() {
        return;
    }
    heading(
        page,
        "Nothing is bought for these yet: they can't be made up as written",
    );
    for blocked in &order.blocked {
        page.hanging(
            "  – ",
            "    ",
            &format!(
                "{}: {} ({})",
                blocked.joint,
                blocked.because.in_units(units),
                blocked.id
            ),
        );
    }
}

/// A plain list to take along, by kind of shop, with boxes to tick.
pub fn list(page: &mut Page, order: &Order, units: System) {
    let mut shops: Vec<&str> = Vec::new();
    let bought = || order.list.lines.iter().filter(|line| line.buy > 0.0);
    for line in bought() {
        if !shops.contains(&line.shop.as_str()) {
            shops.push(&line.shop);
        }
    }
    for shop in shops {
        heading(page, shop);
        let mut of_shop = bought().filter(|line| line.shop == shop).peekable();
        while let Some(line) = of_shop.next() {
            let days = match line.days {
                Some(0) | None => String::new(),
                Some(1) => " (1 day)".to_owned(),
                Some(days) => format!(" ({days} days)"),
            };
            page.hanging(
                "  [ ] ",
                "      ",
                &format!("{} × {}{days}", amount(line.buy, line.measure), line.name),
            );
            // What several lines say of themselves stands below the last of them.
            let again = of_shop.peek().is_some_and(|next| next.notes == line.notes);
            for note in line.notes.iter().filter(|_| !again) {
                page.hanging("        ", "        ", note.in_units(units));
            }
            if line.spare > 0.0 && line.returnable == Some(true) {
                page.hanging(
                    "        ",
                    "        ",
                    "what is not used goes back to the shop",
                );
            }
        }
    }
    if !order.blocked.is_empty() {
        page.gap();
        let mut joints: Vec<&str> = Vec::new();
        for blocked in &order.blocked {
            if !joints.contains(&blocked.joint.as_str()) {
                joints.push(&blocked.joint);
            }
        }
        page.paragraph(
            0,
            &format!(
                "Nothing is on this list for what can't be made up as it is written: {}.",
                listed(&joints)
            ),
        );
    }
    if !order.list.waits.is_empty() {
        page.gap();
        let count = order.list.waits.len();
        let waits = if count == 1 {
            "1 thing waits".to_owned()
        } else {
            format!("{count} things wait")
        };
        let mut names: Vec<String> = Vec::new();
        for waits in &order.list.waits {
            names.push(format!("{} for {}", waits.what, listed(&waits.wanted_by)));
        }
        page.paragraph(
            0,
            &format!(
                "{waits} for a measurement and are not on this list: {}.",
                listed(&names)
            ),
        );
    }
}

/// Comma-separated values with a heading line, as RFC 4180 has them.
pub fn csv(order: &Order) -> String {
    let mut table = csv::Writer::from_writer(Vec::new());
    let head = [
        "list",
        "shop",
        "ware",
        "name",
        "buy",
        "measure",
        "needed",
        "have",
        "spare",
        "each",
        "total",
        "currency",
        "days",
        "returnable",
        "for",
        "notes",
    ];
    let rows = order.list.lines.iter().map(|line| {
        let have: f64 = line.have.iter().map(|have| have.amount).sum();
        // An empty sum is −0; adding 0 makes it 0.
        let number = |number: f64| format!("{}", (number * 1000.0).round() / 1000.0 + 0.0);
        let notes: Vec<&str> = line
            .notes
            .iter()
            .map(|note| note.in_units(System::Metric))
            .collect();
        vec![
            "buy".to_owned(),
            line.shop.clone(),
            line.ware.word().to_owned(),
            line.name.clone(),
            number(line.buy),
            crate::api::measure(line.measure).to_owned(),
            number(line.needed),
            number(have),
            number(line.spare),
            line.each
                .as_ref()
                .map_or_else(String::new, |(each, _)| number(*each)),
            line.total.map_or_else(String::new, number),
            line.each
                .as_ref()
                .map_or_else(String::new, |(_, currency)| currency.clone()),
            line.days.map_or_else(String::new, |days| days.to_string()),
            line.returnable
                .map_or_else(String::new, |back| back.to_string()),
            line.wanted_by.join(" "),
            notes.join("; "),
        ]
    });
    // What is not bought stands below what is, so that nobody takes the table for the whole job.
    let waits = order.list.waits.iter().map(|waits| {
        let why = format!(
            "{} {}",
            waits.because.in_units(System::Metric),
            waits.settles.how
        );
        not_bought("wait", &waits.what, &waits.wanted_by.join(" "), &why)
    });
    let blocked = order.blocked.iter().map(|blocked| {
        let why = format!(
            "{} ({})",
            blocked.because.in_units(System::Metric),
            blocked.id
        );
        not_bought("blocked", "", &blocked.joint, &why)
    });
    // OK because writing to memory does not fail and every row has as many fields as the first.
    table.write_record(head).expect("memory takes the heading");
    for row in rows.chain(waits).chain(blocked) {
        // OK because every row has as many fields as the heading.
        table.write_record(&row).expect("memory takes the row");
    }
    // OK because flushing into memory does not fail.
    let bytes = table.into_inner().expect("memory takes all");
    String::from_utf8_lossy(&bytes).into_owned()
}

/// A row of what is not bought: which list, what, for which joints, and why.
fn not_bought(list: &str, name: &str, wanted_by: &str, why: &str) -> Vec<String> {
    let mut row = vec![String::new(); 16];
    row[0] = list.to_owned();
    row[3] = name.to_owned();
    row[14] = wanted_by.to_owned();
    row[15] = why.to_owned();
    row
}
