//! The grade lines of the states, what the cap adds to them and what the pump gives.

use reckon::StripState;

use super::super::shape::{Anchor, Class, Face, Shape};
use super::labels::{Rect, Wanted, along_line, over};
use super::layers::Point;
use super::{Desk, Form};

impl Desk<'_> {
    /// The grade line of a state, bent where it passes the break.
    pub(super) fn grade_line(&self, state: &StripState) -> Vec<Vec<Point>> {
        let mut lines: Vec<Vec<Point>> = Vec::new();
        let mut line: Vec<Point> = Vec::new();
        let mut before: Option<(f64, f64)> = None;
        let high = self.up.high;
        for (i, z) in state.line.iter().enumerate() {
            let Some(z) = z else {
                lines.push(std::mem::take(&mut line));
                before = None;
                continue;
            };
            // OK because a way has few pieces.
            let at = i as f64;
            if let Some((was_at, was)) = before
                && (was - high) * (z - high) < 0.0
            {
                let share = (high - was) / (z - was);
                let x = self.x(was_at + share * (at - was_at));
                let over = self.up.y(high + 1e-9);
                let under = self.up.y(high);
                let (first, second) = if *z < high {
                    (over, under)
                } else {
                    (under, over)
                };
                // The break itself is left free.
                line.push((x, first));
                lines.push(std::mem::take(&mut line));
                line.push((x, second));
            }
            line.push((self.x(at), self.up.y(*z)));
            before = Some((at, *z));
        }
        lines.push(line);
        lines.retain(|line| line.len() > 1);
        lines
    }

    pub(super) fn grade_lines(&mut self) {
        let (strip, main) = (self.strip, self.main);
        for (i, state) in strip.states.iter().enumerate().rev().filter(|_| main) {
            let class = if i == 0 {
                Class::GradeLine
            } else {
                Class::GradeOther
            };
            for line in self.grade_line(state) {
                self.picture.put(class, Shape::through(&line));
            }
        }
    }

    /// The names of the lines, and what the cap adds.
    pub(super) fn names_of_lines(&mut self) {
        let (strip, main) = (self.strip, self.main);
        for (i, state) in strip.states.iter().enumerate().filter(|_| main) {
            let lines = self.grade_line(state);
            let (words, class) = if i == 0 {
                (format!("grade line, {}", state.key), Class::Text)
            } else {
                (state.key.clone(), Class::Soft)
            };
            let mut places = Vec::new();
            for line in lines.iter().rev() {
                places.extend(along_line(line, i > 0));
            }
            // Where several states have one line their names can't all stand on it: a leader says whose it is.
            self.labels.want(Wanted {
                rank: if i == 0 { 3 } else { 6 },
                class,
                key: None,
                text: words,
                shorter: None,
                grade: None,
                places,
                leads: lines,
            });
            if i == 0 && !state.cap_text.metric.is_empty() {
                let words = state.cap_text.in_units(self.units);
                let (left, _) = self.ends();
                let y = state.line[0].map_or(self.up.top, |z| self.up.y(z));
                let places = [-8.0, 16.0, -22.0, 30.0, -36.0, 44.0]
                    .map(|off| (left + 12.0, y + off, Anchor::Start));
                self.say(4, Class::Text, None, words, places.to_vec());
                if let (Some(line), Some(cap)) = (state.line[0], state.cap) {
                    self.cap_bracket(line, line + cap);
                }
            }
        }
    }

    /// A bracket at the axis, to scale: the whole line is so much higher under the cap. Where that is above the
    /// panel there is none, and the figure stands by itself.
    fn cap_bracket(&mut self, from: f64, to: f64) {
        let (left, _) = self.ends();
        let (low, high) = (self.up.y(from), self.up.y(to));
        if high < self.up.top || high >= low {
            return;
        }
        let (tip, back) = (left + 8.0, left + 3.0);
        match self.up.break_at() {
            // The break itself is left free.
            Some(gap) if high < gap && gap < low => {
                let over = [(tip, high), (back, high), (back, gap - 5.0)];
                let under = [(back, gap + 5.0), (back, low), (tip, low)];
                for part in [over, under] {
                    self.picture.put(Class::Thin, Shape::through(&part));
                }
            }
            _ => {
                let whole = [(tip, high), (back, high), (back, low), (tip, low)];
                self.picture.put(Class::Thin, Shape::through(&whole));
            }
        }
    }

    /// Where the coolant of the suction side would boil: as a line where that lies on the panel. Mostly it lies metres
    /// under it, and a figure at the foot tells how far.
    pub(super) fn boil_line(&mut self) {
        let Some(state) = self.state else { return };
        let Some(from) = self.strip.suction_from.filter(|_| self.main) else {
            return;
        };
        let bottom = self.up.bottom;
        let line: Vec<Point> = state
            .boil
            .iter()
            .map(|(at, z)| (self.x(*at), self.up.y(*z)))
            .collect();
        let seen = above(&line, bottom);
        let (left, right) = self.ends();
        let mut places = Vec::new();
        for part in &seen {
            self.picture.put(Class::Boil, Shape::through(part));
            self.labels.take_line(part, 1.0, false);
            places.extend(along_line(part, true));
        }
        // A ribbon has no room for it.
        if self.form.form == Form::Ribbon {
            return;
        }
        let from = self.x(from);
        for up in [6.0, 21.0, 36.0, 51.0] {
            places.push((from + 8.0, bottom - up, Anchor::Start));
            places.push((right - 6.0, bottom - up, Anchor::End));
        }
        places.extend(over(Rect {
            left,
            top: self.up.top,
            right,
            bottom,
        }));
        let words = state.margin_text.in_units(self.units);
        self.labels.want(Wanted {
            rank: 2,
            class: Class::Text,
            key: None,
            text: words.to_owned(),
            shorter: words.strip_prefix("suction side ").map(str::to_owned),
            grade: None,
            places,
            leads: seen,
        });
    }

    /// What the pump gives, between the two ends of the line.
    pub(super) fn pump_head(&mut self) {
        let Some(state) = self.state else { return };
        let (Some(first), Some(last)) = (
            state.line.first().copied().flatten(),
            state.line.last().copied().flatten(),
        ) else {
            return;
        };
        let (_, right) = self.ends();
        let x = right + 10.0;
        let (high, low) = (self.up.y(first), self.up.y(last));
        self.picture
            .put(Class::Fine, Shape::line((x, high), (x, low)));
        for (y, way) in [(high, 1.0), (low, -1.0)] {
            self.picture
                .put(Class::Fine, Shape::line((right, y), (x + 4.0, y)));
            if low - high > 16.0 {
                let head = [(x, y), (x - 2.5, y + 6.0 * way), (x + 2.5, y + 6.0 * way)];
                self.picture.put(Class::Solid, Shape::figure(&head));
            }
        }
        let words = state.pump_text.in_units(self.units).to_owned();
        let (name, figure) = words.split_once(' ').unwrap_or(("", &words));
        let middle = (0.5 * (high + low)).clamp(self.up.top + 14.0, self.up.bottom - 18.0);
        for (text, y) in [(name, middle - 2.0), (figure, middle + 12.0)] {
            self.text(Class::Text, x + 8.0, y, Anchor::Start, Face::Plain, text);
        }
        self.labels.take(Rect {
            left: right + 2.0,
            top: high.min(middle - 14.0),
            right: self.picture.width,
            bottom: low.max(middle + 16.0),
        });
    }
}

/// The parts of a line that lie over the foot of the panel.
fn above(line: &[Point], foot: f64) -> Vec<Vec<Point>> {
    let mut parts: Vec<Vec<Point>> = Vec::new();
    let mut part: Vec<Point> = Vec::new();
    for pair in line.windows(2) {
        let ((xa, ya), (xb, yb)) = (pair[0], pair[1]);
        let cross = || (xa + (foot - ya) / (yb - ya) * (xb - xa), foot);
        if ya <= foot && part.is_empty() {
            part.push((xa, ya));
        }
        match (ya <= foot, yb <= foot) {
            (true, true) => part.push((xb, yb)),
            (true, false) => {
                part.push(cross());
                parts.push(std::mem::take(&mut part));
            }
            (false, true) => part.extend([cross(), (xb, yb)]),
            (false, false) => {}
        }
    }
    parts.push(part);
    parts.retain(|part| part.len() > 1);
    parts
}
