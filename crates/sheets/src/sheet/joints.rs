//! The joint list: for each joint what to buy, how far to push, how tight.

use quantity::{Length, System, show};
use reckon::{Answer, Craft, Grade, JointRow, Order, Verdict, Ware};

use super::sheet;
use super::words::{
    HOT, HULL, Warned, aside, bold, cited, column, nobody_measured, of_joint, plain, reason, size,
    soft, text,
};
use crate::doc::{Block, Cell, Sheet, Span, Table};

/// The joint list of the boat as the order list builds her; `written` is what is judged of the file as it stands.
pub fn joints(order: &Order, written: &Answer, craft: &Craft, units: System) -> Sheet {
    let answer = &order.built;
    let mut blocks = vec![
        text(
            "For each joint: what to buy, how far to push, how tight. Write the mark on hose and spigot with a felt pen. Draw a ring round the hose at the push-on length from its end, and one round the spigot at the same length from its mouth: the hose is home when its end has reached the ring on the spigot, and the ring on the hose stands over the spigot's mouth.",
        ),
        text("Tighten cold, once now and once more, cold, after the first hot runs: hose beds in."),
        text(
            "Slide on first: the clips, in the order in which they lie on the hose, before the end is pushed on; the clips of a piece's other end too. Then push to the ring, set the clip so that a driver reaches its screw, write where that points, tighten, and tick.",
        ),
        Block::Caution(HOT.into()),
        Block::Caution(HULL.into()),
        aside(
            "Clips, lengths and “your shelf” are those of the order list of the same day. What nobody measured stands in a dashed box.",
        ),
    ];
    blocks.extend(taken_as_done(order));
    if answer.joints.is_empty() {
        blocks.push(text(
            "No joint is written yet: write a run with its two ends and its way.",
        ));
    }
    let sources = Sources::of(answer);
    let mut warned = Warned::default();
    let mut from = 0;
    while let Some(first) = answer.joints.get(from) {
        let of_run = answer.joints[from..]
            .iter()
            .take_while(|row| row.run == first.run)
            .count();
        let rows = &answer.joints[from..from + of_run];
        from += of_run;
        blocks.push(Block::Head(format!(
            "Run {} ({})",
            first.run,
            letter(first)
        )));
        blocks.push(Block::Table(Table {
            columns: vec![
                column("joint", 0.25),
                column("buy", 0.29),
                column("push on", 0.16),
                column("tighten", 0.17),
                column("done", 0.13),
            ],
            rows: rows
                .iter()
                .map(|row| line(row, order, written, &sources, units))
                .collect(),
        }));
        for row in rows {
            blocks.extend(notes(row, &answer.verdicts, &mut warned, units));
        }
    }
    blocks.extend(sources.told());
    blocks.push(Block::Head("At every joint".into()));
    for says in craft.place.iter().chain(&craft.soften) {
        blocks.push(Block::Text(cited(says, units)));
    }
    for closing in &craft.closing {
        let used = answer
            .joints
            .iter()
            .any(|row| row.by_hand.clip_kind.as_deref() == Some(closing.kind.as_str()));
        for says in closing.steps.iter().filter(|_| used) {
            let mut spans = vec![bold(format!("{}: ", closing.kind))];
            spans.extend(cited(says, units));
            blocks.push(Block::Text(spans));
        }
    }
    sheet("joints", "Joint list", blocks)
}

/// The changes of the file that the order list takes as done, each with the mark of its joint.
fn taken_as_done(order: &Order) -> Vec<Block> {
    if order.done.is_empty() {
        return Vec::new();
    }
    let mut blocks = vec![Block::Text(vec![
        bold("Taken as done: "),
        plain(
            "the file still says otherwise here; the order list and this list go by these changes. Write them into the file, or order anew:",
        ),
    ])];
    for done in &order.done {
        let row = order.built.joints.iter().find(|row| {
            let rest = done.id.strip_prefix(row.id_prefix.as_str());
            rest.is_some_and(|rest| rest.starts_with('.'))
        });
        let whose = row.map_or_else(|| done.id.clone(), |row| row.mark.clone());
        blocks.push(Block::Text(vec![
            bold(format!("{whose}: ")),
            plain(format!("{}.", done.edit.label)),
        ]));
    }
    blocks
}

/// The letter of a run, from the mark of one of its joints.
fn letter(row: &JointRow) -> &str {
    row.mark
        .trim_end_matches(|sign: char| sign.is_ascii_digit())
}

/// The sources of the torques, each by a letter, so that no row says one in full.
pub(super) struct Sources<'a>(Vec<&'a str>);

impl<'a> Sources<'a> {
    pub(super) fn of(answer: &'a Answer) -> Self {
        let mut all: Vec<&str> = Vec::new();
        for row in &answer.joints {
            if let Some(source) = row.by_hand.torque_source.as_deref()
                && !all.contains(&source)
            {
                all.push(source);
            }
        }
        Self(all)
    }

    /// `a` for the first.
    pub(super) fn letter(&self, source: &str) -> String {
        let at = self.0.iter().position(|own| *own == source);
        // More sources than letters there are not: the tables have a handful.
        at.and_then(|at| char::from_u32('a' as u32 + at as u32))
            .map_or_else(|| source.to_owned(), String::from)
    }

    /// Each in full, under its letter.
    pub(super) fn told(&self) -> Vec<Block> {
        let head = (!self.0.is_empty()).then(|| Block::Head("Sources of the torques".into()));
        let each = self.0.iter().map(|source| {
            Block::Text(vec![
                bold(format!("{}: ", self.letter(source))),
                plain(*source),
            ])
        });
        head.into_iter().chain(each).collect()
    }
}

fn line(
    row: &JointRow,
    order: &Order,
    written: &Answer,
    sources: &Sources,
    units: System,
) -> Vec<Cell> {
    let answer = &order.built;
    vec![
        whose(row, units),
        buy(row, order, written, units),
        push(row, &answer.verdicts, units),
        tighten(row, &answer.verdicts, sources, units),
        done(row),
    ]
}

/// Boxes to tick; none where the joint can't be made up as it is.
fn done(row: &JointRow) -> Cell {
    if row.grade == Grade::Unsound {
        return vec![vec![plain("not yet: see below")]];
    }
    let has_screw = screw(row);
    let acts = if has_screw || row.clip.is_none() {
        &["cut", "pushed", "tight", "again"][..]
    } else {
        &["cut", "pushed", "shut"]
    };
    let mut cell: Cell = acts
        .iter()
        .map(|act| vec![Span::Tick, plain(format!(" {act}"))])
        .collect();
    if has_screw {
        cell.push(vec![soft("screw to "), Span::Empty(9.0, String::new())]);
    }
    cell
}

fn whose(row: &JointRow, units: System) -> Cell {
    vec![
        vec![bold(format!("{} ", row.mark)), Span::Grade(row.grade)],
        vec![plain(format!("on {}", row.spigot_name))],
        size("spigot", row.sizes.spigot.as_ref(), units),
        vec![soft(row.joint.clone())],
    ]
}

/// Hose, fitting and clip, each with whether it is bought.
fn buy(row: &JointRow, order: &Order, written: &Answer, units: System) -> Cell {
    let mut cell: Cell = match &row.by_hand.piece {
        Some(piece) => hose(row, piece, order, units),
        None => vec![
            vec![bold(row.hose.clone())],
            size("bore", row.sizes.bore.as_ref(), units),
        ],
    };
    cell.extend(fitting(row, order));
    let Some(clip) = &row.clip else {
        cell.push(vec![plain("clip: "), Span::Grade(Grade::Unmeasured)]);
        return cell;
    };
    let count = row
        .clips
        .map_or_else(String::new, |count| format!("{count} × "));
    cell.push(vec![bold(format!("{count}{clip}"))]);
    let wanted = order
        .list
        .lines
        .iter()
        .find(|line| line.ware == Ware::Clip && line.wanted_by.contains(&row.joint));
    cell.push(vec![plain(match wanted {
        Some(line) => {
            let own: f64 = line.have.iter().map(|have| have.amount).sum();
            let place = line.have.iter().find_map(|have| have.place.as_deref());
            let place = place.map_or_else(String::new, |place| format!(", at {place}"));
            if line.buy <= 0.0 {
                format!("your shelf{place}")
            } else if own > 0.0 {
                format!("your shelf{place}, the rest to buy")
            } else {
                "buy".to_owned()
            }
        }
        None => "not on the order list".to_owned(),
    })]);
    let before = written.joints.iter().find(|own| own.joint == row.joint);
    let typed = before.filter(|own| !own.clip_chosen).and_then(|own| {
        let clip = own.clip.as_ref()?;
        let count = own.clips.filter(|count| *count > 1);
        let count = count.map_or_else(String::new, |count| format!("{count} × "));
        Some((format!("{count}{clip}"), own))
    });
    if let Some((typed, own)) = typed
        && (own.clip != row.clip || own.clips != row.clips)
    {
        cell.push(vec![soft(format!("in place of the file's {typed}"))]);
    }
    cell
}

/// The piece of hose: in full at its first end, and by that end's mark at the other.
fn hose(row: &JointRow, piece: &str, order: &Order, units: System) -> Cell {
    let ends: Vec<&JointRow> = order
        .built
        .joints
        .iter()
        .filter(|own| own.by_hand.piece.as_deref() == Some(piece))
        .collect();
    if let Some(first) = ends.first().filter(|first| first.joint != row.joint) {
        return vec![vec![
            bold(row.hose.clone()),
            plain(format!(" from {}", first.mark)),
        ]];
    }
    let mut head = vec![bold(row.hose.clone())];
    if let [_, .., last] = ends.as_slice() {
        head.push(plain(format!(" to {}", last.mark)));
    }
    let Some(cut) = order.cuts.iter().find(|cut| cut.is_for(piece)) else {
        return vec![
            head,
            size("bore", row.sizes.bore.as_ref(), units),
            vec![plain("not on the order list")],
        ];
    };
    let length = show(Length::of_si(cut.length), Some(Length::mm(2.0)), units);
    let most = if cut.at_most { "at most " } else { "" };
    let shared = match cut.pieces.as_slice() {
        [_] => String::new(),
        all => format!(", for {} pieces together", all.len()),
    };
    let cut_to = vec![bold(format!("cut {most}{length}{shared}"))];
    match &cut.from {
        Some(shelf) => {
            let place = shelf.place.as_ref();
            let place = place.map_or_else(String::new, |place| format!(", at {place}"));
            vec![
                head,
                cut_to,
                size("bore", row.sizes.bore.as_ref(), units),
                vec![plain(format!("your shelf{place}"))],
            ]
        }
        // What is bought has been measured by nobody.
        None => {
            let mut cell = vec![head, cut_to];
            cell.push(match &cut.bore {
                Some(bore) => vec![plain(format!(
                    "buy: take a caliper, a bore of {} goes on",
                    bore.in_units(units)
                ))],
                None => vec![plain("buy")],
            });
            cell.push(vec![soft("its bore "), Span::Empty(12.0, String::new())]);
            cell
        }
    }
}

/// The fitting whose end the hose goes over, where that is bought.
fn fitting(row: &JointRow, order: &Order) -> Cell {
    let of_it = |key: &String| {
        let rest = row.joint.strip_prefix(key.as_str());
        rest.is_some_and(|rest| rest.starts_with('.'))
    };
    let lines = order.list.lines.iter();
    let made = [Ware::Fitting, Ware::Reducer, Ware::Joiner, Ware::Elbow];
    lines
        .filter(|line| made.contains(&line.ware) && line.wanted_by.iter().any(of_it))
        .map(|line| {
            let from = if line.buy > 0.0 { "buy" } else { "your shelf" };
            vec![plain(format!("{}: {from}", line.name))]
        })
        .collect()
}

/// The worst verdict of a joint by one of these rules.
fn worst<'a>(row: &'a JointRow, verdicts: &'a [Verdict], rules: &[&str]) -> Option<&'a Verdict> {
    of_joint(row, verdicts)
        .filter(|verdict| {
            let rule = verdict.id.rsplit('.').next().unwrap_or_default();
            rules.is_empty() || rules.contains(&rule)
        })
        .max_by_key(|verdict| verdict.grade)
}

fn push(row: &JointRow, verdicts: &[Verdict], units: System) -> Cell {
    let mut cell: Cell = Vec::new();
    match &row.push_on {
        Some(length) => {
            let length = length.text.in_units(units);
            if row.by_hand.push_on_assumes.is_empty() {
                cell.push(vec![bold(format!("= {length}"))]);
                cell.push(vec![soft("mark from the end")]);
            } else {
                cell.push(vec![nobody_measured(length, "assumed")]);
                cell.push(vec![soft(format!(
                    "mark from the end; assumed: {}",
                    row.by_hand.push_on_assumes.join(", ")
                ))]);
            }
        }
        // What is known not to go together is no question of measuring.
        None if worst(row, verdicts, &["clips"])
            .is_some_and(|verdict| verdict.grade == Grade::Unsound) =>
        {
            cell.push(vec![bold("mend first")]);
            cell.push(vec![soft("no length holds its clips: see below")]);
        }
        None => cell.push(vec![Span::Grade(Grade::Unmeasured)]),
    }
    let soft_end = of_joint(row, verdicts).any(|verdict| {
        verdict.id.ends_with(".soften") || verdict.remedy.metric.starts_with("Soften")
    });
    if soft_end {
        cell.push(vec![plain("soften the end first")]);
    }
    if row.by_hand.ring_on_first {
        cell.push(vec![plain(
            "ring onto the bare spigot first, then the hose",
        )]);
    }
    cell
}

fn tighten(row: &JointRow, verdicts: &[Verdict], sources: &Sources, units: System) -> Cell {
    let Some(_) = &row.clip else {
        return vec![vec![Span::Grade(Grade::Unmeasured)]];
    };
    let mut cell: Cell = Vec::new();
    match &row.torque {
        Some(torque) => {
            cell.push(vec![bold(torque.in_units(units))]);
            if let Some(source) = &row.by_hand.torque_source {
                cell.push(vec![soft(format!("source {}", sources.letter(source)))]);
            }
            cell.push(vec![plain("nip again after the first hot runs")]);
        }
        None if screw(row) => {
            cell.push(vec![plain("torque: "), Span::Grade(Grade::Unmeasured)]);
            let waits = worst(row, verdicts, &["torque"]);
            let how = waits.and_then(|verdict| verdict.settles.as_ref());
            cell.extend(how.map(|settles| vec![soft(settles.how.clone())]));
        }
        None => {
            let close = row.by_hand.close.as_deref();
            cell.push(vec![bold(close.unwrap_or("by its kind"))]);
            cell.push(vec![soft("by its kind: see the clips' sheet")]);
        }
    }
    cell
}

/// Whether its clip has a screw, which is tightened and nipped again.
fn screw(row: &JointRow) -> bool {
    let close = row.by_hand.close.as_deref();
    close.is_some_and(|close| close.starts_with("tighten"))
}

/// Why it is not sound, and what to do; the worst first.
fn notes(row: &JointRow, verdicts: &[Verdict], warned: &mut Warned, units: System) -> Vec<Block> {
    let mut own: Vec<&Verdict> = of_joint(row, verdicts)
        .filter(|verdict| verdict.grade != Grade::Sound)
        .collect();
    own.sort_by_key(|verdict| std::cmp::Reverse(verdict.grade));
    own.into_iter()
        .flat_map(|verdict| {
            let mut spans = vec![bold(format!("{} ", row.mark)), Span::Grade(verdict.grade)];
            spans.extend(reason(verdict, units));
            let caution = warned.first(verdict);
            caution.into_iter().chain([Block::Text(spans)])
        })
        .collect()
}
