//! The thread gauge: combs of every pitch, bars of every diameter over the crests, and circles of every
//! bore, at full size.

use quantity::{Length, System, show, show_range};
use reckon::{Comb, CombSize};

use super::ruler::{INSIDE, SMALL, line, measure_me, measured, picture, words};
use super::sheet;
use super::words::{aside, text};
use crate::doc::{Block, Sheet};
use crate::draw::ink::PX_IN_MM;
use crate::draw::{Anchor, Class, Face, Picture, Shape, text as type_};

/// How wide the pictures are [mm].
const WIDE: f64 = 170.0;
/// How long a comb is, at most [mm].
const COMB: f64 = 34.0;
/// From one line of small type to the next [mm].
const LINE: f64 = 3.0;
/// How much longer the next bar must be, to be told apart by eye from the one before [mm].
const TOLD: f64 = 0.5;

/// The gauge for these combs.
pub fn gauge(combs: &[Comb], units: System) -> Sheet {
    let mut sizes: Vec<&CombSize> = combs.iter().flat_map(|comb| &comb.sizes).collect();
    let nests = Nests::of(&sizes);
    let mut blocks = vec![Block::Head("Thread gauge".into())];
    blocks.extend(measure_me(nests.drawn()));
    blocks.push(Block::Head("Female threads: the circle is the hole".into()));
    blocks.push(text(
        "Lay the circle over the mouth of the hole against the light, or cut along the largest and go on inward until the disc just drops in. New and at its gauge plane the hole is as wide over the crests of its thread; worn or corroded it is wider. Circles of one number lie too near each other to be told apart: the pitch tells.",
    ));
    blocks.push(aside(nests.key(units)));
    blocks.push(Block::NewPage);
    blocks.push(Block::Head("Pitch: hold the thread on the comb".into()));
    blocks.push(text(
        "Cut along the teeth and lay the comb along the thread against the light; for a female, press a strip of paper into it first and lay that on. The right comb meets every crest over its whole length. 55° and 60° are alike on paper: a steel gauge tells them apart.",
    ));
    blocks.push(Block::Picture(teeth(combs, units)));
    blocks.push(Block::Head("Male threads: the bar is the diameter".into()));
    blocks.push(text(
        "Stand the male end on its bar. The bar is as long as the thread is wide over its crests, new and at its gauge plane; a worn thread is smaller, and a taper thread at its end. Bars joined by a stroke at their left differ by less than 0.5 mm from the next: no bar tells these apart, the pitch does.",
    ));
    sizes.sort_by(|a, b| a.male.total_cmp(&b.male));
    blocks.push(Block::Picture(bars(&sizes)));
    let mut sources: Vec<&str> = Vec::new();
    for size in &sizes {
        if !sources.contains(&size.source.as_str()) {
            sources.push(&size.source);
        }
    }
    blocks.push(aside(format!("Sizes: {}.", sources.join("; "))));
    sheet("gauge", "Thread gauge", blocks)
}

/// `55°`, `55° and 60°`.
fn angles(comb: &Comb) -> String {
    let mut angles = comb.angles.clone();
    angles.sort_by(f64::total_cmp);
    let each: Vec<String> = angles.iter().map(|angle| format!("{angle:.0}°")).collect();
    each.join(" and ")
}

/// All combs, in two columns.
fn teeth(combs: &[Comb], units: System) -> Picture {
    let right = COMB + 4.0;
    let cells: Vec<(&Comb, String, Vec<String>)> = combs
        .iter()
        .map(|comb| {
            let names: Vec<&str> = comb.sizes.iter().map(|size| size.name.as_str()).collect();
            let room = (WIDE / 2.0 - right - 1.0) * PX_IN_MM;
            let lines = type_::wrap(&names.join(" · "), Face::Plain, SMALL, room);
            let name = format!("{}, {}", comb.name.in_units(units), angles(comb));
            (comb, name, lines)
        })
        .collect();
    // OK because a comb has few sizes.
    let tall = |lines: &[String]| LINE * (lines.len() + 1) as f64 + 1.8;
    let whole: f64 = cells.iter().map(|(_, _, lines)| tall(lines)).sum();
    let (mut x, mut y, mut most) = (0.0, 0.0, 0.0_f64);
    let mut placed: Vec<(f64, f64)> = Vec::new();
    for (_, _, lines) in &cells {
        if x < 1.0 && y >= whole / 2.0 {
            (x, y) = (WIDE / 2.0, 0.0);
        }
        placed.push((x, y));
        y += tall(lines);
        most = most.max(y);
    }
    let mut drawn = picture(WIDE, most, "Combs of each pitch, full size");
    for ((comb, name, lines), (x, y)) in cells.iter().zip(placed) {
        drawn.put(Class::Thin, profile(comb, (x + 1.0, y + 1.5)));
        let mut base = y + 3.0;
        let at = (x + right, base);
        words(&mut drawn, at, Anchor::Start, (Face::Bold, SMALL), name);
        for names in lines {
            base += LINE;
            let at = (x + right, base);
            words(&mut drawn, at, Anchor::Start, (Face::Plain, SMALL), names);
        }
    }
    drawn
}

/// A comb as the profile of its thread, from its left upper corner [mm].
fn profile(comb: &Comb, (x, y): (f64, f64)) -> Shape {
    let pitch = comb.pitch * 1000.0;
    let teeth = (COMB / pitch).floor();
    // The standards cut the sharp tips off: so much of a thread's height is left.
    let deep = pitch * 0.6;
    let angle = comb.angles.iter().copied().fold(60.0, f64::min);
    let flank = deep * (angle.to_radians() / 2.0).tan();
    let flat = (pitch - 2.0 * flank).max(0.0) / 2.0;
    let mut points = vec![(x * PX_IN_MM, (y + deep) * PX_IN_MM)];
    for tooth in 0..(teeth as usize) {
        // OK because a comb has few teeth.
        let left = x + tooth as f64 * pitch;
        for (dx, dy) in [
            (flat, deep),
            (flat + flank, 0.0),
            (2.0 * flat + flank, 0.0),
            (pitch, deep),
        ] {
            points.push(((left + dx) * PX_IN_MM, (y + dy) * PX_IN_MM));
        }
    }
    Shape::through(&points)
}

/// From one bar to the next [mm].
const ROW: f64 = 3.2;
/// Room for the name of a bar [mm].
const NAME: f64 = 20.0;

/// All bars, the shortest first and down the columns: three columns as long as they have room, then two.
fn bars(sizes: &[&CombSize]) -> Picture {
    let short = WIDE / 3.0 - NAME - 4.0;
    let few = sizes.partition_point(|size| size.male * 1000.0 <= short);
    let mut places: Vec<(f64, f64)> = Vec::new();
    let mut top = 0.0;
    for (count, columns) in [(few, 3), (sizes.len() - few, 2)] {
        let rows = usize::div_ceil(count, columns);
        for at in 0..count {
            // OK because there are some dozens of sizes.
            let (column, row) = ((at / rows) as f64, (at % rows) as f64);
            places.push((column * WIDE / columns as f64, top + row * ROW));
        }
        top += rows as f64 * ROW;
    }
    let mut drawn = picture(WIDE, top + 1.0, "Bars of each diameter, full size");
    for (at, (size, (x, y))) in sizes.iter().zip(&places).enumerate() {
        let (name, bar) = (x + 3.0, x + NAME + 3.0);
        let middle = y + ROW / 2.0;
        let near = |other: Option<&&CombSize>| {
            other.is_some_and(|other| (other.male - size.male).abs() * 1000.0 < TOLD)
        };
        // A stroke joins it with the neighbours that it can't be told from.
        let (before, after) = (near(sizes.get(at.wrapping_sub(1))), near(sizes.get(at + 1)));
        if before || after {
            let up = if before { middle - ROW / 2.0 } else { middle };
            let down = if after { middle + ROW / 2.0 } else { middle };
            line(&mut drawn, Class::Middle, (x + 1.2, up), (x + 1.2, down));
            line(
                &mut drawn,
                Class::Fine,
                (x + 1.2, middle),
                (x + 2.6, middle),
            );
        }
        let says = type_::fits(&size.name, Face::Bold, SMALL, (NAME - 1.0) * PX_IN_MM);
        let at = (name, middle + 0.9);
        words(&mut drawn, at, Anchor::Start, (Face::Bold, SMALL), &says);
        let end = bar + size.male * 1000.0;
        line(&mut drawn, Class::Middle, (bar, middle), (end, middle));
        for x in [bar, end] {
            line(
                &mut drawn,
                Class::Thin,
                (x, middle - 1.4),
                (x, middle + 1.4),
            );
        }
    }
    drawn
}

/// Bores that differ by less than this stand under one number [mm].
const ALIKE: f64 = 1.2;
/// From a circle to the next further in, so that a number stands between them [mm of diameter].
const APART: f64 = 6.0;
/// Between two nests [mm].
const BETWEEN: f64 = 2.0;

/// Circles of all bores, one in another, in several nests.
struct Nests<'a> {
    /// Sizes that lie near each other, from the smallest.
    groups: Vec<Vec<&'a CombSize>>,
    /// For each nest the numbers of its groups, from the innermost.
    nests: Vec<Vec<usize>>,
}

/// The bore of a size [mm].
fn bore(size: &CombSize) -> f64 {
    size.hole * 1000.0
}

impl<'a> Nests<'a> {
    fn of(sizes: &[&'a CombSize]) -> Self {
        let mut sizes = sizes.to_vec();
        sizes.sort_by(|a, b| a.hole.total_cmp(&b.hole));
        let mut groups: Vec<Vec<&CombSize>> = Vec::new();
        for size in sizes {
            match groups.last_mut() {
                Some(group) if bore(size) - bore(group[0]) < ALIKE => group.push(size),
                _ => groups.push(vec![size]),
            }
        }
        let mut nests: Vec<Vec<usize>> = Vec::new();
        for (number, group) in groups.iter().enumerate() {
            let outside = |nest: &&mut Vec<usize>| {
                let last = nest.last().and_then(|last| groups[*last].last());
                last.is_none_or(|last| bore(group[0]) - bore(last) >= APART)
            };
            match nests.iter_mut().find(outside) {
                Some(nest) => nest.push(number),
                None => nests.push(vec![number]),
            }
        }
        Self { groups, nests }
    }

    /// How wide a nest is [mm].
    fn wide(&self, nest: &[usize]) -> f64 {
        let last = nest.last().and_then(|last| self.groups[*last].last());
        last.map_or(0.0, |size| bore(size))
    }

    /// The bars to check the printer by, and the nests inside them, row by row.
    fn drawn(&self) -> Picture {
        let (left, top) = INSIDE;
        let (mut x, mut y, mut tall) = (left, top, 0.0_f64);
        let mut middles: Vec<(f64, f64)> = Vec::new();
        for nest in &self.nests {
            let wide = self.wide(nest);
            if x > left && x + wide > WIDE {
                (x, y, tall) = (left, y + tall + BETWEEN, 0.0);
            }
            middles.push((x + wide / 2.0, y + wide / 2.0));
            x += wide + BETWEEN;
            tall = tall.max(wide);
        }
        // The bar down the page ends at 110.
        let high = (y + tall + 1.0).max(111.0);
        let mut drawn = measured(
            WIDE,
            high,
            "Circles of each bore, one in another, full size",
        );
        for (nest, (x, y)) in self.nests.iter().zip(middles) {
            for number in nest {
                let group = &self.groups[*number];
                for size in group {
                    let circle = Shape::Circle {
                        x: x * PX_IN_MM,
                        y: y * PX_IN_MM,
                        r: bore(size) / 2.0 * PX_IN_MM,
                    };
                    drawn.put(Class::Fine, circle);
                }
                // The number stands right inside the smallest of the group.
                let base = y - bore(group[0]) / 2.0 + 2.5;
                let number = format!("{}", number + 1);
                words(
                    &mut drawn,
                    (x, base),
                    Anchor::Middle,
                    (Face::Bold, SMALL),
                    &number,
                );
            }
        }
        drawn
    }

    /// What the numbers are: `1: 8.6 to 9.1 mm, G, R 1/8 · M10x1`.
    fn key(&self, units: System) -> String {
        let each = self.groups.iter().enumerate().map(|(at, group)| {
            let names: Vec<&str> = group.iter().map(|size| size.name.as_str()).collect();
            // OK because a group is begun with a size.
            let (low, high) = (
                Length::of_si(group[0].hole),
                Length::of_si(group[group.len() - 1].hole),
            );
            let wide = if group.len() == 1 {
                show(low, Some(Length::mm(0.2)), units)
            } else {
                show_range(low, high, units)
            };
            format!("{}: {wide}, {}", at + 1, names.join(" · "))
        });
        let each: Vec<String> = each.collect();
        format!("{}.", each.join("; "))
    }
}
