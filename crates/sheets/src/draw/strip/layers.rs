//! The layers of the panel, from the sea at the back to the signs on the loop.

use quantity::{Length, Quantity, System, show_signed};
use reckon::{PieceForm, StripState, TraceKind};

use super::super::hatch::{self, Slope};
use super::super::shape::{Anchor, Class, Face, Shape};
use super::labels::{Rect, Wanted, along_line, around, over};
use super::{Desk, Form, MARKS};

/// Steps of the axis of heights: metric [mm], imperial [in].
const METRIC: [f64; 7] = [50.0, 100.0, 200.0, 250.0, 500.0, 1000.0, 2000.0];
const IMPERIAL: [f64; 7] = [2.0, 3.0, 6.0, 12.0, 24.0, 36.0, 72.0];
/// Least room from one height of the axis to the next [px].
const TICKS: f64 = 22.0;

/// A point of the picture.
pub(super) type Point = (f64, f64);

impl Desk<'_> {
    /// The whole panel.
    pub(super) fn panel(&mut self) {
        let (left, right) = self.ends();
        let (top, bottom) = (self.up.top, self.up.bottom);
        let still = self.up.y(0.0);
        self.keep_clear();
        self.picture.put(
            Class::Sea,
            Shape::rectangle(left, still, right - left, bottom - still),
        );
        self.suction();
        self.below_air();
        self.frame();
        self.waterline();
        self.traces();
        self.header_lines();
        self.vents();
        self.drop_lines();
        self.before();
        self.blocks();
        self.the_loop();
        self.whiskers();
        self.grade_lines();
        self.boil_line();
        self.pump_head();
        self.signs();
        self.header_tank();
        self.level_sign();
        self.names();
        self.words(top);
        self.labels.settle(&mut self.picture);
    }

    /// The way in the picture, piece by piece.
    pub(super) fn line_of(&self, piece: usize) -> Vec<Point> {
        let own = &self.way.pieces[piece];
        // OK because a way has few pieces.
        let at = |share: f64| self.x(piece as f64 + share);
        if own.poly.is_empty() {
            let y = 0.5 * (self.up.top + self.up.bottom);
            return vec![(at(0.0), y), (at(1.0), y)];
        }
        own.poly
            .iter()
            .map(|(share, z)| (at(*share), self.up.y(*z)))
            .collect()
    }

    /// Where a place of the way lies in the picture.
    pub(super) fn spot(&self, at: f64) -> Point {
        let last = self.way.pieces.len() - 1;
        // OK because a place is never under 0.
        let piece = (at.floor() as usize).min(last);
        let x = self.x(at);
        let line = self.line_of(piece);
        let pair = line
            .windows(2)
            .find(|pair| pair[0].0 <= x && x <= pair[1].0 && pair[1].0 > pair[0].0);
        let y = pair.map_or_else(
            || line.last().map_or(self.up.bottom, |(_, y)| *y),
            |pair| {
                let share = (x - pair[0].0) / (pair[1].0 - pair[0].0);
                pair[0].1 + share * (pair[1].1 - pair[0].1)
            },
        );
        (x, y)
    }

    /// No text may hide the loop; it goes over other lines only where there is no room beside them.
    fn keep_clear(&mut self) {
        for piece in 0..self.way.pieces.len() {
            let line = self.line_of(piece);
            self.labels.take_line(&line, 4.0, true);
        }
        let (left, right) = self.ends();
        let still = self.up.y(0.0);
        self.labels
            .take_line(&[(left, still), (right, still)], 1.0, false);
        let states: Vec<Vec<Vec<Point>>> = self
            .states()
            .iter()
            .map(|state| self.grade_line(state))
            .collect();
        for line in states.iter().flatten() {
            self.labels.take_line(line, 1.5, false);
        }
        let strip = self.strip;
        if let Some(header) = strip.header.as_ref().filter(|_| self.main) {
            for z in [header.cap, header.level].into_iter().flatten() {
                let y = self.up.y(z);
                self.labels.take_line(&[(left, y), (right, y)], 1.0, false);
            }
        }
        if let Some(y) = self.up.break_at() {
            self.labels.take_line(&[(left, y), (right, y)], 3.0, true);
        }
    }

    fn states(&self) -> &[StripState] {
        let strip = self.strip;
        if self.main { &strip.states } else { &[] }
    }

    fn suction(&mut self) {
        let Some(from) = self.strip.suction_from.filter(|_| self.main) else {
            return;
        };
        let (_, right) = self.ends();
        let (x, top, bottom) = (self.x(from), self.up.top, self.up.bottom);
        let area = [(x, top), (right, top), (right, bottom), (x, bottom)];
        // Black on white is heavier than the tone that a page gives it.
        let apart = if self.form.form == Form::Paper {
            20.0
        } else {
            10.0
        };
        for line in hatch::lines(&area, Slope::Rising, apart) {
            self.picture.put(Class::Suction, line);
        }
        self.labels.hatch(Rect {
            left: x,
            top,
            right,
            bottom,
        });
    }

    /// Between hose and grade line, where the grade line is the lower.
    fn below_air(&mut self) {
        let Some(state) = self.state else { return };
        let mut where_to: Option<Point> = None;
        for (i, piece) in self.way.pieces.iter().enumerate() {
            let (Some(a), Some(b)) = (state.line[i], state.line[i + 1]) else {
                continue;
            };
            if !piece.below_air {
                continue;
            }
            for pair in piece.poly.windows(2) {
                let level = |share: f64| a + share * (b - a);
                let (mut from, mut to) = (pair[0], pair[1]);
                let over = [from.1 - level(from.0), to.1 - level(to.0)];
                if over[0] <= 0.0 && over[1] <= 0.0 {
                    continue;
                }
                // Where the two cross, the hatch begins or ends.
                if over[0] * over[1] < 0.0 {
                    let share = over[0] / (over[0] - over[1]);
                    let cross = from.0 + share * (to.0 - from.0);
                    let point = (cross, level(cross));
                    if over[0] < 0.0 {
                        from = point;
                    } else {
                        to = point;
                    }
                }
                // OK because a way has few pieces.
                let at = |(share, z): (f64, f64)| (self.x(i as f64 + share), self.up.y(z));
                let area = [
                    at(from),
                    at(to),
                    at((to.0, level(to.0))),
                    at((from.0, level(from.0))),
                ];
                for slope in [Slope::Rising, Slope::Falling] {
                    for line in hatch::lines(&area, slope, 5.0) {
                        self.picture.put(Class::BelowAir, line);
                    }
                }
                where_to.get_or_insert((0.5 * (area[0].0 + area[1].0), area[2].1.max(area[3].1)));
            }
        }
        if let Some((x, y)) = where_to {
            self.say(
                2,
                Class::Text,
                None,
                "below air pressure",
                around(x, y, 8.0),
            );
        }
    }

    /// Axis of heights, break, ratio.
    fn frame(&mut self) {
        let (left, right) = self.ends();
        let (top, bottom) = (self.up.top, self.up.bottom);
        self.picture
            .put(Class::Fine, Shape::line((left, bottom), (right, bottom)));
        if let Some(y) = self.up.break_at() {
            self.picture
                .put(Class::Fine, Shape::line((left, top), (left, y - 5.0)));
            let zigzag = [
                (left, y - 5.0),
                (left - 4.0, y - 2.5),
                (left + 4.0, y + 2.5),
                (left, y + 5.0),
            ];
            self.picture.put(Class::Fine, Shape::through(&zigzag));
            self.picture
                .put(Class::Fine, Shape::line((left, y + 5.0), (left, bottom)));
            self.picture.put(
                Class::SeaTemperature,
                Shape::line((left + 6.0, y), (right, y)),
            );
        } else {
            self.picture
                .put(Class::Fine, Shape::line((left, top), (left, bottom)));
        }
        if !self.way.measured {
            return;
        }
        let (unit, steps) = match self.units {
            System::Metric => (1e-3, METRIC),
            System::Imperial => (0.0254, IMPERIAL),
        };
        let (low, high) = self.up.reach();
        let wanted = steps
            .iter()
            .find(|step| **step * unit * self.up.scale >= TICKS);
        // Beyond the steps of a boat it is a power of ten, so that the axis has no more steps than room for them.
        let far = || 10_f64.powf((TICKS / (unit * self.up.scale)).log10().ceil());
        let step = wanted.copied().unwrap_or_else(far) * unit;
        if !step.is_finite() {
            return;
        }
        let mut free = bottom - 2.0;
        // OK because a panel has few steps.
        for i in (low / step).ceil() as i64..=(high.min(self.up.high) / step).floor() as i64 {
            free = free.min(self.tick(step * i as f64, free));
        }
        if self.up.squeeze.is_some() {
            self.squeezed_ticks(high, free);
        }
    }

    /// One height of the axis, where it keeps clear of the one below; gives how far up it is taken.
    fn tick(&mut self, z: f64, free: f64) -> f64 {
        let y = self.up.y(z);
        if y + 5.0 > free || y < self.up.top + 4.0 {
            return free;
        }
        let words = Length::from_si(z).map_or_else(String::new, |length| {
            let half = match self.units {
                System::Metric => Length::from_si(2e-3),
                System::Imperial => Length::from_si(0.0508),
            };
            show_signed(length, half, self.units)
        });
        self.notch(y, &words)
    }

    /// The stroke of a height and its words; gives back what is free above it.
    fn notch(&mut self, y: f64, words: &str) -> f64 {
        let (left, _) = self.ends();
        self.picture
            .put(Class::Fine, Shape::line((left - 4.0, y), (left, y)));
        self.text(
            Class::Soft,
            left - 8.0,
            y + 4.5,
            Anchor::End,
            Face::Plain,
            words,
        );
        y - 7.0
    }

    /// Whole metres or yards in the squeezed zone: two at most.
    fn squeezed_ticks(&mut self, high: f64, mut free: f64) {
        let unit = match self.units {
            System::Metric => 1.0,
            System::Imperial => 0.3048,
        };
        let room = high - self.up.high;
        let step = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0]
            .into_iter()
            .map(|step| step * unit)
            .find(|step| 2.0 * step >= room)
            .unwrap_or(room);
        let first = (self.up.high / step).ceil();
        for i in 0..3_u8 {
            let z = step * (first + f64::from(i));
            if z <= high {
                free = self.metre_tick(z, free);
            }
        }
    }

    fn metre_tick(&mut self, z: f64, free: f64) -> f64 {
        let y = self.up.y(z);
        if y + 6.0 > free || y < self.up.top + 5.0 {
            return free;
        }
        let (unit, name) = match self.units {
            System::Metric => (1.0, "m"),
            System::Imperial => (0.3048, "ft"),
        };
        let words = format!("+{:.0} {name}", z / unit);
        self.notch(y, &words)
    }

    fn waterline(&mut self) {
        let (left, right) = self.ends();
        let y = self.up.y(0.0);
        self.picture
            .put(Class::Waterline, Shape::line((left, y), (right, y)));
    }

    /// The sign of a level: a triangle that stands on it, two strokes under it.
    fn level_sign(&mut self) {
        let (left, _) = self.ends();
        let y = self.up.y(0.0);
        let sign = |x: f64| Rect {
            left: x - 8.0,
            top: y - 12.0,
            right: x + 8.0,
            bottom: y + 8.0,
        };
        let place = (0..12_u8)
            .map(|step| left + 14.0 + 18.0 * f64::from(step))
            .find(|x| self.labels.is_free(&sign(*x)));
        let x = place.unwrap_or(left + 14.0);
        let triangle = [(x, y - 1.0), (x - 6.0, y - 10.0), (x + 6.0, y - 10.0)];
        self.picture.put(Class::Thin, Shape::figure(&triangle));
        for (half, off) in [(6.0, 3.5), (3.0, 6.5)] {
            self.picture.put(
                Class::Fine,
                Shape::line((x - half, y + off), (x + half, y + off)),
            );
        }
        self.labels.take(sign(x));
    }

    /// Heeled and trimmed waterlines: named where they stand farthest from the still one.
    fn traces(&mut self) {
        let (strip, main) = (self.strip, self.main);
        for trace in strip.traces.iter().filter(|_| main) {
            let class = match trace.kind {
                TraceKind::Starboard => Class::HeelStarboard,
                TraceKind::Port => Class::HeelPort,
                TraceKind::Trim => Class::Trim,
            };
            let mut near = Vec::new();
            for stretch in &trace.lines {
                let line: Vec<Point> = stretch
                    .iter()
                    .map(|(at, z)| (self.x(*at), self.up.y(*z)))
                    .collect();
                self.picture.put(class, Shape::through(&line));
                self.labels.take_line(&line, 1.0, false);
                near.extend(along_line(&line, true));
                near.extend(along_line(&line, false));
            }
            let points = trace.lines.iter().flatten();
            let Some(farthest) = points.max_by(|a, b| a.1.abs().total_cmp(&b.1.abs())) else {
                continue;
            };
            let mut places = around(self.x(farthest.0), self.up.y(farthest.1), 6.0);
            places.extend(near);
            self.say(3, Class::Soft, None, &trace.name, places);
        }
    }

    /// Dashes from where a vent rises up to an arrow.
    fn vents(&mut self) {
        let (strip, main) = (self.strip, self.main);
        for vent in strip.vents.iter().filter(|_| main) {
            let (x, line) = self.spot(vent.from);
            // OK because a place is never under 0.
            let (block, _) = self.block((vent.from as usize).min(self.way.pieces.len() - 1));
            let from = vent.z.map_or(line, |z| self.up.y(z)).min(line).min(block);
            let to = (from - 34.0).max(self.up.top + 6.0);
            if from - to < 10.0 {
                continue;
            }
            self.picture.put_for(
                &vent.key,
                Class::Vent,
                Shape::line((x, from), (x, to + 5.0)),
            );
            let head = [(x, to), (x - 3.5, to + 7.0), (x + 3.5, to + 7.0)];
            self.picture.put(Class::Solid, Shape::figure(&head));
            self.labels.take(Rect {
                left: x - 4.0,
                top: to,
                right: x + 4.0,
                bottom: from,
            });
            let words = format!("to {}", vent.to);
            let places = [
                (x + 7.0, to + 9.0, Anchor::Start),
                (x - 7.0, to + 9.0, Anchor::End),
                (x + 7.0, to + 22.0, Anchor::Start),
                (x - 7.0, to + 22.0, Anchor::End),
            ];
            self.say(6, Class::Soft, Some(&vent.key), &words, places.to_vec());
        }
    }

    fn drop_lines(&mut self) {
        let way = self.way;
        for station in &way.stations {
            let (x, y) = self.spot(station.at);
            self.picture
                .put(Class::Hair, Shape::line((x, MARKS), (x, y)));
        }
    }

    /// The arrangement before: stretched from mark to mark.
    fn before(&mut self) {
        let Some(before) = self.form.before.filter(|_| self.main) else {
            return;
        };
        let old = &before.main;
        let mut pairs: Vec<(f64, f64)> = old
            .stations
            .iter()
            .filter_map(|was| {
                let is = self.way.stations.iter().find(|is| is.key == was.key)?;
                Some((was.at, is.at))
            })
            .collect();
        // A thing or piece that stands in both is one of the marks as well. OK because a way has few pieces.
        for (i, was) in old.pieces.iter().enumerate() {
            let is = self.way.pieces.iter().position(|is| is.key == was.key);
            if let Some(is) = is.filter(|_| i > 0 && i + 1 < old.pieces.len()) {
                pairs.push((i as f64, is as f64));
                pairs.push((i as f64 + 1.0, is as f64 + 1.0));
            }
        }
        pairs.push((0.0, 0.0));
        pairs.push((old.pieces.len() as f64, self.way.pieces.len() as f64));
        pairs.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
        let mut last = f64::NEG_INFINITY;
        pairs.retain(|(_, is)| {
            let rises = *is >= last;
            last = last.max(*is);
            rises
        });
        let x = |at: f64| {
            let pair = pairs
                .windows(2)
                .find(|pair| at >= pair[0].0 && at <= pair[1].0);
            pair.map_or_else(
                || self.x(0.0),
                |pair| {
                    let wide = pair[1].0 - pair[0].0;
                    let share = if wide > 0.0 {
                        (at - pair[0].0) / wide
                    } else {
                        0.0
                    };
                    self.x(pair[0].1) + share * (self.x(pair[1].1) - self.x(pair[0].1))
                },
            )
        };
        let mut lines: Vec<Vec<Point>> = Vec::new();
        let mut line: Vec<Point> = Vec::new();
        for (i, piece) in old.pieces.iter().enumerate() {
            // OK because a way has few pieces.
            line.extend(
                piece
                    .poly
                    .iter()
                    .map(|(share, z)| (x(i as f64 + share), self.up.y(*z))),
            );
        }
        lines.push(line);
        if let Some(state) = before.states.first() {
            let points = state.line.iter().enumerate();
            // OK because a way has few pieces.
            lines.push(
                points
                    .filter_map(|(i, z)| Some((x(i as f64), self.up.y((*z)?))))
                    .collect(),
            );
        }
        let (top, bottom) = (self.up.top, self.up.bottom);
        for mut line in lines.into_iter().filter(|line| line.len() > 1) {
            line.iter_mut().for_each(|(_, y)| *y = y.clamp(top, bottom));
            self.picture.put(Class::Before, Shape::through(&line));
        }
    }

    /// A block for each thing, behind the line that goes through it.
    fn blocks(&mut self) {
        let way = self.way;
        for (i, piece) in way.pieces.iter().enumerate() {
            if piece.form != PieceForm::Within {
                continue;
            }
            let line = self.line_of(i);
            let (top, bottom) = self.block(i);
            let (from, to) = (line[0].0 + 3.0, line[line.len() - 1].0 - 3.0);
            let block = Shape::rectangle(from, top, to - from, bottom - top);
            self.picture
                .put_for(&piece.key, Class::Sheet, block.clone());
            self.picture.put_for(&piece.key, Class::Hair, block);
        }
    }

    /// How far up and down the block of a thing reaches: over its line, and to its ports and spots.
    pub(super) fn block(&self, piece: usize) -> (f64, f64) {
        let line = self.line_of(piece);
        let mut top = line.iter().map(|(_, y)| *y).fold(f64::INFINITY, f64::min) - 10.0;
        let mut bottom = line
            .iter()
            .map(|(_, y)| *y)
            .fold(f64::NEG_INFINITY, f64::max)
            + 10.0;
        // OK because a way has few pieces.
        let inside = |at: f64| at > piece as f64 && at < piece as f64 + 1.0;
        if self.way.measured && self.way.pieces[piece].form == PieceForm::Within {
            let signs = self.way.signs.iter().filter(|sign| inside(sign.at));
            for y in signs.filter_map(|sign| sign.z).map(|z| self.up.y(z)) {
                top = top.min(y);
                bottom = bottom.max(y);
            }
        }
        (top.max(self.up.top), bottom.min(self.up.bottom))
    }

    fn the_loop(&mut self) {
        let way = self.way;
        let lines: Vec<Vec<Point>> = (0..way.pieces.len()).map(|i| self.line_of(i)).collect();
        for line in &lines {
            self.picture.put(Class::Halo, Shape::through(line));
        }
        for (i, piece) in way.pieces.iter().enumerate() {
            let line = &lines[i];
            if matches!(piece.form, PieceForm::Pipe | PieceForm::Outside) {
                for side in [-4.5, 4.5] {
                    self.picture
                        .put(Class::LoopSecond, Shape::through(&beside(line, side)));
                }
            }
            // What is under water has a second line under it; the casing of a pipe says as much.
            if piece.form != PieceForm::Outside {
                for wet in self.wet(line) {
                    self.picture.put(Class::LoopSecond, Shape::through(&wet));
                }
            }
            let class = if piece.assumed {
                Class::LoopAssumed
            } else {
                Class::Loop
            };
            self.picture
                .put_for(&piece.key, class, Shape::through(line));
        }
    }

    /// The parts of a line under the still waterline, moved down by five.
    fn wet(&self, line: &[Point]) -> Vec<Vec<Point>> {
        if !self.way.measured {
            return Vec::new();
        }
        let still = self.up.y(0.0);
        let mut parts: Vec<Vec<Point>> = Vec::new();
        for pair in line.windows(2) {
            let ((xa, ya), (xb, yb)) = (pair[0], pair[1]);
            if xb - xa < 1.0 || (ya <= still && yb <= still) {
                continue;
            }
            let cross = |y: f64| xa + (y - ya) / (yb - ya) * (xb - xa);
            let from = if ya < still {
                (cross(still), still)
            } else {
                (xa, ya)
            };
            let to = if yb < still {
                (cross(still), still)
            } else {
                (xb, yb)
            };
            parts.push(vec![(from.0, from.1 + 5.0), (to.0, to.1 + 5.0)]);
        }
        parts
    }

    /// How well each height was measured, where that is seen.
    fn whiskers(&mut self) {
        let way = self.way;
        for station in &way.stations {
            let Some(dev) = station.z_dev else { continue };
            let half = dev * self.up.scale;
            if half > 3.0 {
                let (x, y) = self.spot(station.at);
                self.picture
                    .put(Class::Fine, Shape::line((x, y - half), (x, y + half)));
                for end in [y - half, y + half] {
                    self.picture
                        .put(Class::Fine, Shape::line((x - 3.0, end), (x + 3.0, end)));
                }
            }
        }
    }

    /// Words that belong to the panel as a whole, last of all, for they give way to the rest.
    fn words(&mut self, top: f64) {
        self.names_of_lines();
        let (left, right) = self.ends();
        let bottom = self.up.bottom;
        if let Some(state) = self.state.filter(|state| !state.too_hot.metric.is_empty()) {
            // Before all else that is written here: without it the line looks like that of any other state.
            let words = state.too_hot.in_units(self.units);
            let field = Rect {
                left,
                top,
                right,
                bottom,
            };
            self.labels.want(Wanted {
                rank: 0,
                class: Class::Text,
                key: None,
                text: words.to_owned(),
                shorter: words.split_once(": ").map(|(_, says)| says.to_owned()),
                grade: None,
                places: over(field),
                leads: Vec::new(),
            });
        }
        if let Some(from) = self.strip.suction_from.filter(|_| self.main) {
            let (from, y) = (self.x(from), bottom - 6.0);
            let middle = 0.5 * (from + right);
            let places = [
                (from + 8.0, top + self.size + 4.0, Anchor::Start),
                (from + 8.0, y, Anchor::Start),
                (middle, top + self.size + 4.0, Anchor::Middle),
                (middle, y, Anchor::Middle),
                (right - 6.0, y, Anchor::End),
                (right - 6.0, y - 16.0, Anchor::End),
                (right - 6.0, top + 2.0 * self.size + 8.0, Anchor::End),
            ];
            self.say(5, Class::Text, None, "suction side", places.to_vec());
        }
        if !self.way.measured {
            let y = 0.5 * (top + bottom);
            let places = around(0.5 * (left + right), y, 10.0);
            self.say(0, Class::Text, None, "heights unmeasured", places);
            return;
        }
        if let Some(squeeze) = self.up.squeeze
            && let Some(y) = self.up.break_at()
        {
            let words = format!("scale 1:{squeeze:.0} above");
            let places = [0.55, 0.75, 0.3, 0.15]
                .map(|share| (left + share * (right - left), y - 7.0, Anchor::Start));
            let under = places.map(|(x, _, anchor)| (x, y + 17.0, anchor));
            let places: Vec<_> = places.into_iter().chain(under).collect();
            self.say(8, Class::Soft, None, &words, places);
        }
        let y = bottom - 5.0;
        let corner =
            |x: f64, anchor| [(x, y, anchor), (x, y - 15.0, anchor), (x, y - 30.0, anchor)];
        if let Some(k) = self.along.factor.filter(|k| *k > 0.5) {
            let words = format!("heights ×{:.1}", self.up.scale / k);
            let mut places = corner(left + 8.0, Anchor::Start).to_vec();
            places.extend(corner(left + 130.0, Anchor::Start));
            places.extend(corner(right - 6.0, Anchor::End));
            self.say(8, Class::Soft, None, &words, places);
        }
        if self.way.pieces.iter().any(|piece| piece.assumed) {
            let places = over(Rect {
                left,
                top,
                right,
                bottom,
            });
            self.say(3, Class::Soft, None, "dashed: height not measured", places);
        }
        let (strip, main) = (self.strip, self.main);
        for trace in strip.traces.iter().filter(|_| main) {
            if !trace.says.is_empty() {
                // At the foot, before it is looked for elsewhere.
                let mut places = corner(left + 8.0, Anchor::Start).to_vec();
                places.extend(corner(right - 6.0, Anchor::End));
                places.extend(over(Rect {
                    left,
                    top,
                    right,
                    bottom,
                }));
                self.say(5, Class::Soft, None, &trace.says, places);
            }
            if let Some(missing) = &trace.missing {
                let places: Vec<_> = [20.0, 36.0, 52.0, 68.0]
                    .map(|off| (left + 8.0, top + off, Anchor::Start))
                    .into_iter()
                    .chain(corner(left + 8.0, Anchor::Start))
                    .collect();
                self.say(7, Class::Soft, None, missing, places);
            }
        }
    }
}

/// A line beside another, so far to its right.
fn beside(line: &[Point], off: f64) -> Vec<Point> {
    let normal = |a: Point, b: Point| {
        let long = (b.0 - a.0).hypot(b.1 - a.1).max(1e-9);
        (-(b.1 - a.1) / long * off, (b.0 - a.0) / long * off)
    };
    let mut out = Vec::with_capacity(line.len());
    for (i, point) in line.iter().enumerate() {
        let before = i.checked_sub(1).map(|before| normal(line[before], *point));
        let after = line.get(i + 1).map(|next| normal(*point, *next));
        let (dx, dy) = match (before, after) {
            (Some(a), Some(b)) => {
                // At a right angle both offsets hold; on a straight line they are one.
                let turns = (a.0 * b.0 + a.1 * b.1).abs() < 0.5 * off * off;
                if turns { (a.0 + b.0, a.1 + b.1) } else { b }
            }
            (Some(one), None) | (None, Some(one)) => one,
            (None, None) => (0.0, 0.0),
        };
        out.push((point.0 + dx, point.1 + dy));
    }
    out
}
