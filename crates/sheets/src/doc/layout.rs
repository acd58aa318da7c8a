//! Blocks laid out on pages: what belongs together stays together, and nothing is cut off.

use super::inline::{self, Line, Style};
use super::page::{self, HEAD, LEAST, Room, TEXT};
use super::{Block, Cell, Column, Head, Paper, Sheet, Span, Table};
use crate::draw::ink::{PX_IN_MM, THIN};
use crate::draw::shape::{Class, Face, Picture, Placed, Shape};

/// A strip of a page that is never cut: its primitives relative to the upper left corner of what
/// blocks may fill.
#[derive(Clone, Debug, Default)]
struct Chunk {
    placed: Vec<Placed>,
    height: f64,
    /// Room above it, left away at the top of a page.
    gap: f64,
    /// Whether it must stand on the page of the next one.
    keeps: bool,
    /// The head of its table, said again where a page begins with it.
    table: Option<Box<Chunk>>,
    /// Whether a fresh page begins with it.
    fresh: bool,
}

/// The pages of a sheet.
#[must_use]
pub fn lay(sheet: &Sheet, head: &Head) -> Vec<Picture> {
    let room = Room::of(head.paper);
    let mut chunks = Vec::new();
    // A sheet that begins with a head of its own, or with a fresh page, says its title itself.
    if !matches!(sheet.blocks.first(), Some(Block::Head(_) | Block::NewPage)) {
        self::head(&sheet.title, &room, &mut chunks);
    }
    blocks(&sheet.blocks, &room, &mut chunks);
    let pages = pages(chunks, &room);
    let of = pages.len();
    pages
        .into_iter()
        .enumerate()
        .map(|(at, placed)| {
            let mut page = page::empty(sheet, head, at + 1, of);
            page.placed.extend(
                placed
                    .iter()
                    .map(|one| one.moved(room.body.left, room.body.top)),
            );
            page
        })
        .collect()
}

/// How much of a page's height is left where blocks are set one under another on it, px; under 0 where they are
/// higher than a page.
#[must_use]
pub fn left_over(set: &[Block], paper: Paper) -> f64 {
    let room = Room::of(paper);
    let mut chunks = Vec::new();
    blocks(set, &room, &mut chunks);
    match chunks.is_empty() {
        true => room.high(),
        false => room.high() - high(&chunks, 0.0),
    }
}

/// Shares chunks out on pages.
fn pages(chunks: Vec<Chunk>, room: &Room) -> Vec<Vec<Placed>> {
    let mut pages: Vec<Vec<Placed>> = vec![Vec::new()];
    let mut y = 0.0;
    let mut at = 0;
    while at < chunks.len() {
        let mut end = at + 1;
        while end < chunks.len() && chunks[end - 1].keeps && !chunks[end].fresh {
            end += 1;
        }
        let group = &chunks[at..end];
        at = end;
        let fits_a_page = high(group, 0.0) <= room.high();
        if y > 0.0 && (group[0].fresh || high(group, y) > room.high() - y) {
            pages.push(Vec::new());
            y = 0.0;
        }
        if fits_a_page {
            for chunk in group {
                place(chunk, &mut pages, &mut y);
            }
            continue;
        }
        // Higher than a page: as much as fits, and what is kept stays at least with the next one.
        for (n, chunk) in group.iter().enumerate() {
            let pair = match group.get(n + 1) {
                Some(next) if chunk.keeps => chunk.height + next.gap + next.height,
                _ => chunk.height,
            };
            let pair = if pair <= room.high() {
                pair
            } else {
                chunk.height
            };
            if y > 0.0 && y + chunk.gap + pair > room.high() {
                pages.push(Vec::new());
                y = 0.0;
            }
            place(chunk, &mut pages, &mut y);
        }
    }
    // A page without anything on it is none, unless it is the only one.
    while pages.len() > 1 && pages.last().is_some_and(Vec::is_empty) {
        pages.pop();
    }
    pages
}

/// How high a group is when it begins at `y`.
fn high(group: &[Chunk], y: f64) -> f64 {
    let mut sum = if y > 0.0 { 0.0 } else { -group[0].gap };
    if y <= 0.0
        && let Some(head) = &group[0].table
    {
        sum += head.height;
    }
    for chunk in group {
        sum += chunk.gap + chunk.height;
    }
    sum
}

fn place(chunk: &Chunk, pages: &mut [Vec<Placed>], y: &mut f64) {
    // OK because there is always a page.
    let page = pages.last_mut().expect("a page");
    if *y <= 0.0 {
        if let Some(head) = &chunk.table {
            page.extend(head.placed.iter().map(|one| one.moved(0.0, *y)));
            *y += head.height;
        }
    } else {
        *y += chunk.gap;
    }
    page.extend(chunk.placed.iter().map(|one| one.moved(0.0, *y)));
    *y += chunk.height;
}

fn blocks(all: &[Block], room: &Room, chunks: &mut Vec<Chunk>) {
    for block in all {
        match block {
            Block::Head(words) => head(words, room, chunks),
            Block::Text(spans) => paragraph(spans, room, chunks),
            Block::Caution(words) => caution(words, room, chunks),
            Block::Table(table) => self::table(table, room, chunks),
            Block::Picture(picture) => self::picture(picture, room, chunks),
            Block::Together(inner) => {
                let from = chunks.len();
                blocks(inner, room, chunks);
                if chunks.len() > from {
                    let last = chunks.len() - 1;
                    for chunk in &mut chunks[from..last] {
                        chunk.keeps = true;
                    }
                }
            }
            Block::Tick(spans) => tick(spans, room, chunks),
            Block::NewPage => chunks.push(Chunk {
                fresh: true,
                ..Chunk::default()
            }),
            Block::Gap(mm) => {
                // Room parts nothing that is kept together.
                let keeps = chunks.last().is_some_and(|before| before.keeps);
                chunks.push(Chunk {
                    gap: mm * PX_IN_MM,
                    keeps,
                    ..Chunk::default()
                });
            }
        }
    }
}

const RUNNING: Style = Style {
    size: TEXT,
    face: Face::Plain,
};

/// Lines under each other, `x` from the left, `y` from the top. Gives how high they are.
fn stack(lines: &[Line], x: f64, y: f64, placed: &mut Vec<Placed>) -> f64 {
    let mut high = 0.0;
    for line in lines {
        placed.extend(line.placed.iter().map(|one| one.moved(x, y + high)));
        high += line.height;
    }
    high
}

fn head(words: &str, room: &Room, chunks: &mut Vec<Chunk>) {
    let style = Style {
        size: HEAD,
        face: Face::Bold,
    };
    let lines = inline::lines(&[Span::Bold(words.to_owned())], style, room.wide());
    for (n, line) in lines.iter().enumerate() {
        let mut chunk = Chunk {
            keeps: true,
            ..Chunk::default()
        };
        chunk.gap = if n == 0 { 4.5 * PX_IN_MM } else { 0.0 };
        let foot = if n + 1 == lines.len() {
            0.8 * PX_IN_MM
        } else {
            0.0
        };
        chunk.height = stack(std::slice::from_ref(line), 0.0, 0.0, &mut chunk.placed) + foot;
        chunks.push(chunk);
    }
}

fn paragraph(spans: &[Span], room: &Room, chunks: &mut Vec<Chunk>) {
    let lines = inline::lines(spans, RUNNING, room.wide());
    let count = lines.len();
    for (n, line) in lines.iter().enumerate() {
        let mut chunk = Chunk {
            gap: if n == 0 { 1.6 * PX_IN_MM } else { 0.0 },
            // Neither the first nor the last line stands alone on a page.
            keeps: n + 1 < count && (n == 0 || n + 2 == count),
            ..Chunk::default()
        };
        chunk.height = stack(std::slice::from_ref(line), 0.0, 0.0, &mut chunk.placed);
        chunks.push(chunk);
    }
}

fn caution(words: &str, room: &Room, chunks: &mut Vec<Chunk>) {
    let bar = 6.0;
    let indent = bar + 2.0 * PX_IN_MM;
    // The word may have come with the sentence.
    let sentence = words
        .strip_prefix("Caution")
        .unwrap_or(words)
        .trim_start_matches([':', ' ']);
    let spans = [
        Span::Bold("Caution".to_owned()),
        Span::Plain(sentence.to_owned()),
    ];
    let lines = inline::lines(&spans, RUNNING, room.wide() - indent);
    let inset = 0.6 * PX_IN_MM;
    for (n, line) in lines.iter().enumerate() {
        let (first, last) = (n == 0, n + 1 == lines.len());
        let above = if first { inset } else { 0.0 };
        let below = if last { inset } else { 0.0 };
        let mut chunk = Chunk {
            keeps: true,
            ..Chunk::default()
        };
        chunk.gap = if first { 2.4 * PX_IN_MM } else { 0.0 };
        let high =
            above + stack(std::slice::from_ref(line), indent, above, &mut chunk.placed) + below;
        // The bars of its lines are one bar.
        chunk.placed.push(Placed::of(
            Class::Solid,
            Shape::rectangle(0.0, 0.0, bar, high),
        ));
        chunk.height = if last { high + 0.8 * PX_IN_MM } else { high };
        chunks.push(chunk);
    }
}

fn tick(spans: &[Span], room: &Room, chunks: &mut Vec<Chunk>) {
    let indent = 7.0 * PX_IN_MM;
    let lines = inline::lines(spans, RUNNING, room.wide() - indent);
    let boxes = inline::lines(&[Span::Tick], RUNNING, room.wide());
    let mut first = Chunk {
        gap: 1.0 * PX_IN_MM,
        keeps: lines.len() > 1,
        ..Chunk::default()
    };
    // Box and first line stand on one middle.
    let high = boxes
        .iter()
        .chain(lines.first())
        .map(|line| line.height)
        .fold(0.0, f64::max);
    for (line, x) in boxes
        .iter()
        .map(|line| (line, 0.0))
        .chain(lines.first().map(|l| (l, indent)))
    {
        stack(
            std::slice::from_ref(line),
            x,
            (high - line.height) / 2.0,
            &mut first.placed,
        );
    }
    first.height = high;
    chunks.push(first);
    for (n, line) in lines.iter().enumerate().skip(1) {
        let mut chunk = Chunk {
            keeps: n + 1 < lines.len(),
            ..Chunk::default()
        };
        chunk.height = stack(std::slice::from_ref(line), indent, 0.0, &mut chunk.placed);
        chunks.push(chunk);
    }
}

/// A picture keeps its size: a gauge is of use only at full size.
fn picture(picture: &Picture, room: &Room, chunks: &mut Vec<Chunk>) {
    let x = (room.wide() - picture.width) / 2.0;
    // What is narrower than the text begins with it.
    let x = x.min(0.0);
    chunks.push(Chunk {
        placed: picture.placed.iter().map(|one| one.moved(x, 0.0)).collect(),
        height: picture.height,
        gap: 2.0 * PX_IN_MM,
        ..Chunk::default()
    });
}

/// Room beside and above the words of a cell, px.
const CELL_SIDE: f64 = 1.5 * PX_IN_MM;
const CELL_ABOVE: f64 = 0.7 * PX_IN_MM;

/// Room for setting the first lines of a row on one base line, px.
const LIFT: f64 = 8.0;

/// The narrowest column, px: the shape of a grade and a box to tick go into it.
const NARROWEST: f64 = 18.2 + 2.0 * CELL_SIDE;

/// How a table is set: smaller where it has many columns.
fn style_of(table: &Table) -> Style {
    let size = if table.columns.len() > 5 {
        2.8 * PX_IN_MM
    } else {
        TEXT
    };
    Style {
        size,
        face: Face::Plain,
    }
}

fn table(table: &Table, room: &Room, chunks: &mut Vec<Chunk>) {
    let style = style_of(table);
    let widths = widths(table, style, room.wide());
    let head = heads(&table.columns, &widths, room);
    let first = chunks.len();
    for row in &table.rows {
        let laid: Vec<Vec<Line>> = row
            .iter()
            .zip(&widths)
            .map(|(cell, wide)| {
                cell.iter()
                    .flat_map(|spans| inline::lines(spans, style, wide - 2.0 * CELL_SIDE))
                    .collect()
            })
            .collect();
        let most = room.high() - head.height;
        for part in parted(laid, most - 2.0 * CELL_ABOVE - LIFT) {
            let mut chunk = self::row(&part, &table.columns, &widths, room);
            chunk.table = Some(Box::new(head.clone()));
            chunks.push(chunk);
        }
    }
    // The head stands before the first row and is kept with it.
    let head = Chunk {
        gap: 2.4 * PX_IN_MM,
        keeps: chunks.len() > first,
        ..head
    };
    chunks.insert(first, head);
}

/// A row in parts none of which is higher than `most`: one, but for a row higher than a page.
fn parted(cells: Vec<Vec<Line>>, most: f64) -> Vec<Vec<Vec<Line>>> {
    let mut rest: Vec<std::collections::VecDeque<Line>> =
        cells.into_iter().map(Into::into).collect();
    let mut parts = Vec::new();
    loop {
        let part: Vec<Vec<Line>> = rest
            .iter_mut()
            .map(|lines| {
                let mut taken = Vec::new();
                let mut high = 0.0;
                while let Some(line) = lines.front() {
                    if !taken.is_empty() && high + line.height > most {
                        break;
                    }
                    high += line.height;
                    taken.extend(lines.pop_front());
                }
                taken
            })
            .collect();
        parts.push(part);
        if rest.iter().all(std::collections::VecDeque::is_empty) {
            return parts;
        }
    }
}

fn heads(columns: &[Column], widths: &[f64], room: &Room) -> Chunk {
    let style = Style {
        size: LEAST,
        face: Face::Bold,
    };
    let cells: Vec<Vec<Line>> = columns
        .iter()
        .zip(widths)
        .map(|(column, wide)| {
            let words = [Span::Bold(column.head.clone())];
            inline::lines(&words, style, wide - 2.0 * CELL_SIDE)
        })
        .collect();
    let mut chunk = row(&cells, columns, widths, room);
    // A firmer rule than between rows.
    if let Some(rule) = chunk.placed.last_mut() {
        rule.class = Class::Middle;
    }
    chunk.height += THIN * PX_IN_MM;
    chunk
}

fn row(cells: &[Vec<Line>], columns: &[Column], widths: &[f64], room: &Room) -> Chunk {
    let mut chunk = Chunk::default();
    let mut left = 0.0;
    // A row without words is still a row.
    let mut high: f64 = 2.0 * CELL_ABOVE + 1.35 * LEAST;
    // The first lines of all cells stand on one base line.
    let firsts = cells.iter().filter_map(|lines| lines.first());
    let base = firsts.map(|line| line.base).fold(0.0, f64::max);
    for ((lines, column), wide) in cells.iter().zip(columns).zip(widths) {
        let lift = lines.first().map_or(0.0, |line| base - line.base);
        let mut y = CELL_ABOVE + lift;
        for line in lines {
            let x = if column.right {
                left + wide - CELL_SIDE - line.width
            } else {
                left + CELL_SIDE
            };
            y += stack(std::slice::from_ref(line), x, y, &mut chunk.placed);
        }
        high = high.max(y + CELL_ABOVE);
        left += wide;
    }
    chunk.placed.push(Placed::of(
        Class::Hair,
        Shape::line((0.0, high), (room.wide(), high)),
    ));
    chunk.height = high;
    chunk
}

/// The widths of the columns: by their shares, but none so narrow that a word must be broken as
/// long as others have room to give.
fn widths(table: &Table, style: Style, wide: f64) -> Vec<f64> {
    let shares: f64 = table
        .columns
        .iter()
        .map(|column| column.share.max(0.0))
        .sum();
    let even = 1.0 / table.columns.len().max(1) as f64;
    let mut widths: Vec<f64> = table
        .columns
        .iter()
        .map(|column| {
            wide * if shares > 0.0 {
                column.share.max(0.0) / shares
            } else {
                even
            }
        })
        .collect();
    let bold = Style {
        size: LEAST,
        face: Face::Bold,
    };
    let mut least: Vec<f64> = table
        .columns
        .iter()
        .enumerate()
        .map(|(at, column)| {
            let cells = table.rows.iter().filter_map(|row| row.get(at));
            let of_cell = |cell: &Cell| {
                cell.iter()
                    .map(|spans| inline::least(spans, style))
                    .fold(0.0, f64::max)
            };
            let body = cells.map(of_cell).fold(0.0, f64::max);
            let head = inline::least(&[Span::Bold(column.head.clone())], bold);
            // One long word may not starve the others.
            (body.max(head) + 2.0 * CELL_SIDE + 0.1).clamp(NARROWEST, 0.4 * wide)
        })
        .collect();
    let all: f64 = least.iter().sum();
    if all > wide {
        // Not every word can be whole: what is over the narrowest is shared.
        let fixed = NARROWEST * least.len() as f64;
        let part = ((wide - fixed) / (all - fixed)).max(0.0);
        for one in &mut least {
            *one = NARROWEST + (*one - NARROWEST) * part;
        }
    }
    let wanted: f64 = least
        .iter()
        .zip(&widths)
        .map(|(least, have)| (least - have).max(0.0))
        .sum();
    let spare: f64 = least
        .iter()
        .zip(&widths)
        .map(|(least, have)| (have - least).max(0.0))
        .sum();
    if wanted <= 0.0 || spare <= 0.0 {
        return widths;
    }
    let given = wanted.min(spare);
    for (have, least) in widths.iter_mut().zip(&least) {
        if *have < *least {
            *have += (least - *have) * given / wanted;
        } else {
            *have -= (*have - least) * given / spare;
        }
    }
    widths
}
