//! The lanes beside the panel: marks, names of runs, leaks, temperatures.

use quantity::System;
use reckon::{Grade, Leak};

use super::super::grade;
use super::super::shape::{Anchor, Class, Face, Shape};
use super::labels::{Labels, Place, Rect, Wanted};
use super::signs::arrow;
use super::{Desk, Form, MARKS, RUNS};
use crate::draw::text;

/// Height of the lane of leaks [px]: stopped and running.
pub(super) const LEAKS: f64 = 36.0;

/// The order in which labels that would meet give way: the first of these stays.
fn stays(grade: Option<Grade>) -> u8 {
    match grade {
        Some(Grade::Unsound) => 0,
        Some(Grade::Unmeasured) => 1,
        Some(Grade::Marginal) => 2,
        Some(Grade::Sound) | None => 3,
    }
}

impl Desk<'_> {
    /// Grade shape and mark of every joint; the shape is never left out.
    pub(super) fn mark_lane(&mut self) {
        let way = self.way;
        let mut order: Vec<usize> = (0..way.stations.len()).collect();
        order.sort_by_key(|i| (stays(way.stations[*i].grade), *i));
        for station in &way.stations {
            let x = self.x(station.at);
            let mut shapes = grade::shape(
                station.grade.unwrap_or(Grade::Unmeasured),
                x,
                10.0,
                Some(&station.key),
            );
            if let Some(first) = shapes.first_mut() {
                first.spoken = Some(station.spoken.in_units(self.units).to_owned());
            }
            self.picture.placed.extend(shapes);
        }
        let mut taken: Vec<(f64, f64)> = Vec::new();
        for i in order {
            let station = &way.stations[i];
            let x = self.x(station.at);
            let half = self.wide(&station.mark, Face::Bold) / 2.0 + 1.5;
            if taken
                .iter()
                .any(|(from, to)| x - half < *to && *from < x + half)
            {
                continue;
            }
            taken.push((x - half, x + half));
            let shape = Shape::Text {
                x,
                y: MARKS - 2.0,
                anchor: Anchor::Middle,
                face: Face::Bold,
                size: self.size,
                text: station.mark.clone(),
            };
            self.picture.put_for(&station.key, Class::Text, shape);
        }
    }

    /// A bracket from the first to the last mark of a run, and the owner's name of it.
    pub(super) fn run_lane(&mut self) {
        let way = self.way;
        for run in &way.runs {
            let (from, to) = (self.x(run.from), self.x(run.to));
            let top = MARKS + 2.0;
            let bracket = [
                (from + 1.0, top),
                (from + 1.0, top + 3.0),
                (to - 1.0, top + 3.0),
                (to - 1.0, top),
            ];
            self.picture
                .put_for(&run.key, Class::Fine, Shape::through(&bracket));
            // Where the owner's name has no room, the letter that stands on the hose does.
            let room = to - from - 4.0;
            let name = if self.wide(&run.key, Face::Plain) <= room {
                run.key.clone()
            } else {
                text::fits(&run.mark, Face::Plain, self.size, room)
            };
            let (x, y) = (0.5 * (from + to), MARKS + RUNS - 1.0);
            // The drop lines of its marks pass here.
            let half = self.wide(&name, Face::Plain) / 2.0 + 1.0;
            self.picture.put(
                Class::Sheet,
                Shape::rectangle(x - half, y - 10.0, 2.0 * half, 13.0),
            );
            let shape = Shape::Text {
                x,
                y,
                anchor: Anchor::Middle,
                face: Face::Plain,
                size: self.size,
                text: name,
            };
            self.picture.put_for(&run.key, Class::Soft, shape);
        }
    }

    /// Which way it would leak at each place in the sea, stopped and in the chosen state.
    pub(super) fn leak_lane(&mut self, top: f64) {
        let strip = self.strip;
        let (left, right) = self.ends();
        let mut lane = Labels::within(
            Rect {
                left: left - 4.0,
                top,
                right: right + 60.0,
                bottom: top + LEAKS,
            },
            self.size,
        );
        let state = strip.states.first().map(|state| state.key.clone());
        let rows = [(top + 13.0, 0_u8), (top + 30.0, 1)];
        for (y, row) in rows {
            let head = if row == 0 {
                "stopped".to_owned()
            } else {
                state.clone().unwrap_or_default()
            };
            let head = text::fits(&head, Face::Plain, self.size, left - 12.0);
            if !head.is_empty() {
                self.text(Class::Soft, 4.0, y, Anchor::Start, Face::Plain, &head);
            }
            let said: Vec<(&Leak, f64, &str)> = strip
                .leaks
                .iter()
                .filter_map(|leak| {
                    let (over, words) = if row == 0 {
                        (leak.stopped, leak.stopped_text.as_str())
                    } else {
                        leak.running
                            .as_ref()
                            .map(|(over, words)| (*over, words.as_str()))?
                    };
                    Some((leak, over, words))
                })
                .collect();
            for (leak, over, words) in &said {
                let x = self.x(leak.at);
                if *words == "even" {
                    let bar = Shape::line((x - 5.0, y - 4.0), (x + 5.0, y - 4.0));
                    self.picture.put_for(&leak.key, Class::Middle, bar);
                } else {
                    // Out of the hose is down into the sea, in is up.
                    for (i, shape) in arrow(x, y - 2.0, *over < 0.0).into_iter().enumerate() {
                        let class = if i == 0 { Class::Thin } else { Class::Solid };
                        self.picture.put_for(&leak.key, class, shape);
                    }
                }
                lane.take_around(x, y - 4.0, 6.0);
            }
            for (i, (leak, _, words)) in said.iter().enumerate() {
                let x = self.x(leak.at);
                let mut places = [(x + 10.0, y, Anchor::Start), (x - 10.0, y, Anchor::End)];
                // The first of several speaks to the left, where no other is.
                if i == 0 && said.len() > 1 {
                    places.reverse();
                }
                lane.want(Wanted {
                    rank: 0,
                    class: Class::Text,
                    key: Some(leak.key.clone()),
                    text: (*words).to_owned(),
                    shorter: None,
                    grade: None,
                    places: places.to_vec(),
                    leads: Vec::new(),
                });
            }
        }
        lane.settle(&mut self.picture);
    }

    /// Coolant, alarm, sea and boiling over the same distance.
    pub(super) fn temperatures(&mut self, top: f64, bottom: f64) {
        let Some(state) = self.state else { return };
        let strip = self.strip;
        let (left, right) = self.ends();
        let (top, bottom) = (top + 6.0, bottom - 5.0);
        let all = state
            .temperature
            .iter()
            .chain(&state.boils)
            .filter_map(|t| *t)
            .chain([state.sea])
            .chain(strip.alarm);
        let (low, high) = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), t| {
            (low.min(t), high.max(t))
        });
        if high <= low {
            return;
        }
        // Over the highest line there is room for its name on paper.
        let name = if self.form.form == Form::Paper {
            self.size + 4.0
        } else {
            0.0
        };
        let tall = bottom - top - 4.0 - name;
        let y = |t: f64| bottom - 2.0 - (t - low) / (high - low) * tall;
        self.picture
            .put(Class::Fine, Shape::line((left, top - 2.0), (left, bottom)));
        self.picture
            .put(Class::Fine, Shape::line((left, bottom), (right, bottom)));
        self.warm_axis(low, high, y);
        let line = |values: &[Option<f64>]| -> Vec<(f64, f64)> {
            let points = values.iter().enumerate();
            // OK because a way has few pieces.
            points
                .filter_map(|(i, t)| Some((self.x(i as f64), y((*t)?))))
                .collect()
        };
        let (coolant, boils) = (line(&state.temperature), line(&state.boils));
        let level = |t: f64| vec![(left, y(t)), (right, y(t))];
        let mut lane = Labels::within(
            Rect {
                left: left + 2.0,
                top: top - 6.0,
                right: self.picture.width - 2.0,
                bottom: bottom + 4.0,
            },
            self.size,
        );
        let mut lines = vec![
            (Class::Temperature, coolant.clone()),
            (Class::SeaTemperature, level(state.sea)),
        ];
        if boils.len() > 1 {
            lines.push((Class::Boil, boils.clone()));
        }
        if let Some(alarm) = strip.alarm {
            lines.push((Class::Alarm, level(alarm)));
        }
        for (class, line) in &lines {
            if line.len() > 1 {
                lane.take_line(line, 1.0, *class == Class::Temperature);
                self.picture.put(*class, Shape::through(line));
            }
        }
        let units = self.units;
        let mut named: Vec<(Class, Class, &str, Vec<f64>)> = Vec::new();
        // The hottest is at the outlet, which is the end of the first piece.
        if let Some(out) = coolant.get(1) {
            let words = state.warm[1].in_units(units);
            named.push((Class::Temperature, Class::Text, words, vec![out.0 + 6.0]));
        }
        let shares = |first: f64| -> Vec<f64> {
            let others = [0.36, 0.2, 0.5, 0.64, 0.04, 0.8];
            let all = std::iter::once(first).chain(others);
            all.map(|share| left + share * (right - left)).collect()
        };
        if strip.alarm.is_some() {
            let words = strip.alarm_text.in_units(units);
            named.push((Class::Alarm, Class::Soft, words, shares(0.36)));
        }
        let words = state.sea_text.in_units(units);
        named.push((Class::SeaTemperature, Class::Soft, words, shares(0.36)));
        named.push((Class::Boil, Class::Soft, "boils, cap open", shares(0.6)));
        for (of, class, words, along) in named {
            let Some((_, own)) = lines
                .iter()
                .find(|(own, line)| *own == of && line.len() > 1)
            else {
                continue;
            };
            let off = [-4.0, self.size + 1.0];
            let beside = off
                .into_iter()
                .flat_map(|off| along.iter().map(move |x| (*x, off)));
            // A name that finds no room beside its line breaks that line, and no other.
            let on = along.iter().map(|x| (*x, 0.36 * self.size));
            let mut places: Vec<Place> = beside
                .chain(on)
                .filter_map(|(x, off)| Some((x, level_of(own, x)? + off, Anchor::Start)))
                .collect();
            let wide = self.wide(words, Face::Plain);
            let others = || lines.iter().filter(move |(own, _)| *own != of);
            let alone = |place: &Place| {
                let rect = lane.rect(wide, *place);
                !others().any(|(_, line)| passes(line, &rect))
            };
            if places.iter().any(alone) || self.form.form == Form::Paper {
                places.retain(alone);
            }
            lane.want(Wanted {
                rank: u8::from(of != Class::Temperature),
                class,
                key: None,
                text: words.to_owned(),
                shorter: None,
                grade: None,
                places,
                leads: Vec::new(),
            });
        }
        if let Some((x, y)) = coolant.last().copied() {
            let x = x + 6.0;
            let places = [-4.0, 13.0, 4.5].map(|off| (x, y + off, Anchor::Start));
            lane.want(Wanted {
                rank: 0,
                class: Class::Text,
                key: None,
                text: state.warm[0].in_units(units).to_owned(),
                shorter: None,
                grade: None,
                places: places.to_vec(),
                leads: Vec::new(),
            });
        }
        lane.settle(&mut self.picture);
    }

    /// Round temperatures at the left.
    fn warm_axis(&mut self, low: f64, high: f64, y: impl Fn(f64) -> f64) {
        let (left, _) = self.ends();
        let (unit, degree, ice) = match self.units {
            System::Metric => ("°C", 1.0, 0.0),
            System::Imperial => ("°F", 1.8, 32.0),
        };
        let of = |shown: f64| (shown - ice) / degree;
        let to = |celsius: f64| celsius * degree + ice;
        let room = |step: f64| y(of(0.0)) - y(of(step));
        let step = [10.0, 20.0, 25.0, 50.0, 100.0, 200.0]
            .into_iter()
            .find(|step| room(*step) >= 15.0)
            .unwrap_or(500.0);
        // OK because a panel has few steps.
        for i in (to(low) / step).ceil() as i64..=(to(high) / step).floor() as i64 {
            let t = step * i as f64;
            let at = y(of(t));
            self.picture
                .put(Class::Fine, Shape::line((left - 4.0, at), (left, at)));
            let words = format!("{t:.0} {unit}");
            self.text(
                Class::Soft,
                left - 8.0,
                at + 4.5,
                Anchor::End,
                Face::Plain,
                &words,
            );
        }
    }
}

/// Where a line that goes from left to right stands at a place; `None` where it is not.
fn level_of(line: &[(f64, f64)], x: f64) -> Option<f64> {
    let pair = line
        .windows(2)
        .find(|pair| pair[0].0 <= x && x <= pair[1].0 && pair[1].0 > pair[0].0)?;
    let share = (x - pair[0].0) / (pair[1].0 - pair[0].0);
    Some(pair[0].1 + share * (pair[1].1 - pair[0].1))
}

/// Whether a line that goes from left to right passes a box.
fn passes(line: &[(f64, f64)], rect: &Rect) -> bool {
    line.windows(2).any(|pair| {
        let (from, to) = (pair[0].0.max(rect.left), pair[1].0.min(rect.right));
        let ends = level_of(pair, from).zip(level_of(pair, to));
        ends.is_some_and(|(a, b)| from <= to && a.min(b) <= rect.bottom && a.max(b) >= rect.top)
    })
}
