//! Words beside the lines: figures in flags, what is written on the hoses, names of hull fittings.

use reckon::{AroundSpot, ThingKind};

use super::paint::{Painter, WATER, base, longest, set};
use super::path::{Line, Stroke};
use super::place::{Rect, name, sign};
use super::{EDGE, LINE, SIZE};
use crate::draw::grade::{self, Place as GradePlace};
use crate::draw::{Anchor, Class, Face, Shape, text};

/// Room that was found: where, to which point of the line it belongs, and whether a line runs under it.
struct Found {
    rect: Rect,
    at: (f64, f64),
    over: bool,
}

impl Painter<'_> {
    /// Places beside a line: over and under level parts, right and left of upright ones, the longest first;
    /// with each the point of the line that it belongs to.
    fn beside(points: &[(f64, f64)], w: f64, h: f64, gap: f64) -> Vec<(Rect, (f64, f64))> {
        let mut parts: Vec<((f64, f64), (f64, f64))> =
            points.windows(2).map(|pair| (pair[0], pair[1])).collect();
        let long = |part: &((f64, f64), (f64, f64))| {
            (part.0.0 - part.1.0).abs() + (part.0.1 - part.1.1).abs()
        };
        parts.sort_by(|a, b| long(b).total_cmp(&long(a)));
        let mut out = Vec::new();
        for (a, b) in parts {
            for share in [0.5, 0.3, 0.7, 0.4, 0.6, 0.2, 0.8, 0.1, 0.9] {
                let (x, y) = (a.0 + (b.0 - a.0) * share, a.1 + (b.1 - a.1) * share);
                if (a.1 - b.1).abs() < 0.01 {
                    out.push((Rect::new(x - w / 2.0, y - gap - h, w, h), (x, y)));
                    out.push((Rect::new(x - w / 2.0, y + gap, w, h), (x, y)));
                } else {
                    out.push((Rect::new(x + gap, y - h / 2.0, w, h), (x, y)));
                    out.push((Rect::new(x - gap - w, y - h / 2.0, w, h), (x, y)));
                }
            }
        }
        out
    }

    /// Finds room beside a line, else on it.
    fn find(&mut self, id: usize, line: &Line, w: f64, h: f64, gap: f64) -> Option<Found> {
        let beside = Self::beside(&line.points, w, h, gap);
        // On a line only between its ends: a corner that is hidden is no corner.
        let within = |rect: &Rect| {
            line.points.windows(2).any(|pair| {
                let (a, b) = (pair[0], pair[1]);
                let (x, y) = rect.centre();
                if (a.1 - b.1).abs() < 0.01 {
                    (y - a.1).abs() < 0.5
                        && rect.x > a.0.min(b.0) + 8.0
                        && rect.right() < a.0.max(b.0) - 8.0
                } else {
                    (x - a.0).abs() < 0.5
                        && rect.y > a.1.min(b.1) + 8.0
                        && rect.bottom() < a.1.max(b.1) - 8.0
                }
            })
        };
        let on = beside
            .iter()
            .map(|(_, at)| (Rect::round(at.0, at.1, w, h), *at));
        let on: Vec<(Rect, (f64, f64))> = on.filter(|(rect, _)| within(rect)).collect();
        let clear = beside.into_iter().find(|(rect, _)| self.room.clear(rect));
        let found = match clear {
            Some((rect, at)) => Found {
                rect,
                at,
                over: false,
            },
            None => {
                let own = |(rect, _): &(Rect, (f64, f64))| self.room.clear_but(rect, Some(id));
                let (rect, at) = on.into_iter().find(own)?;
                Found {
                    rect,
                    at,
                    over: true,
                }
            }
        };
        self.room.take(found.rect);
        Some(found)
    }

    /// Finds room near a line, where a leader can be drawn to it; from rings beyond 60 on at any price.
    fn near(&mut self, line: &Line, sizes: &[(f64, f64)], most: i32) -> Option<Found> {
        let (a, b) = longest(&line.points)?;
        let along = |a: (f64, f64), b: (f64, f64), share: f64| {
            (a.0 + (b.0 - a.0) * share, a.1 + (b.1 - a.1) * share)
        };
        let middle = along(a, b, 0.5);
        let mut points = vec![middle];
        for pair in line.points.windows(2) {
            points.extend([0.25, 0.5, 0.75].map(|share| along(pair[0], pair[1], share)));
        }
        let far = [4, 8, 20, 60].into_iter().filter(|far| *far <= most);
        for far in far {
            for (w, h) in sizes {
                for at in &points {
                    if let Some(rect) = self.room.led(*w, *h, *at, far) {
                        self.room.leader(&rect, *at);
                        return Some(Found {
                            rect,
                            at: *at,
                            over: true,
                        });
                    }
                }
            }
        }
        if most <= 60 {
            return None;
        }
        let (w, h) = *sizes.first()?;
        let rect = self.room.near(w, h, middle, most)?;
        self.room.leader(&rect, middle);
        Some(Found {
            rect,
            at: middle,
            over: true,
        })
    }

    pub(super) fn leader(&mut self, rect: &Rect, at: (f64, f64)) {
        let x = at.0.clamp(rect.x, rect.right());
        let y = at.1.clamp(rect.y, rect.bottom());
        if (x - at.0).abs() + (y - at.1).abs() > 1.0 {
            self.picture.put(Class::Fine, Shape::line((x, y), at));
        }
    }

    /// The figures of a line in a small flag.
    pub(super) fn flag(&mut self, id: usize, line: &Line, needed: bool) {
        let Some(leg) = line.leg.map(|leg| &self.around.legs[leg]) else {
            return;
        };
        // A branch and what comes back to the engine may go without, where there is no room.
        let heart = self.around.heart.map(AroundSpot::Thing);
        let back = line.stroke == Stroke::Cold && heart == Some(leg.to);
        let may_go = line.stroke == Stroke::Branch || (back && leg.from_joint.is_none());
        if may_go == needed {
            return;
        }
        let Some(figures) = &leg.figures else { return };
        let units = self.form.units;
        let rows = |flow: &str, t: &str, open: &str, close: &str| -> Vec<String> {
            if self.plan.dress.wide {
                vec![format!("{open}{flow} · {t}{close}")]
            } else {
                vec![format!("{open}{flow}"), format!("{t}{close}")]
            }
        };
        let now = rows(
            figures.flow.in_units(units),
            figures.temperature.in_units(units),
            "= ",
            "",
        );
        let same = |then: &&reckon::AroundFigures| {
            then.flow.in_units(units) != figures.flow.in_units(units)
                || then.temperature.in_units(units) != figures.temperature.in_units(units)
        };
        // Brackets and dashes are those of what is assumed as well: the word parts the two.
        let then = leg.before.as_ref().filter(same).map_or(Vec::new(), |then| {
            let (flow, t) = (then.flow.in_units(units), then.temperature.in_units(units));
            if self.plan.dress.wide {
                rows(flow, t, "before (", ")")
            } else {
                let mut all = vec!["before".to_owned()];
                all.extend(rows(flow, t, "(", ")"));
                all
            }
        });
        let wide = |rows: &[String]| {
            let widths = rows.iter().map(|row| text::width(row, Face::Plain, SIZE));
            widths.fold(0.0, f64::max) + 10.0
        };
        let count = |n: usize| f64::from(u32::try_from(n).unwrap_or(u32::MAX));
        let tall = |rows: &[String]| count(rows.len()) * LINE + 4.0;
        let (w, h) = (wide(&now), tall(&now));
        // Both under each other, else side by side, else under each other somewhere near.
        let (stack, row) = if then.is_empty() {
            ((w, h), (w, h))
        } else {
            let (w2, h2) = (wide(&then), tall(&then));
            ((w.max(w2), h + 2.0 + h2), (w + 2.0 + w2, h.max(h2)))
        };
        // A flag to which no clear leader leads would be read as another's.
        let most = if needed { 60 } else { 4 };
        let mut beside = false;
        let mut found = self.find(id, line, stack.0, stack.1, 6.0);
        if found.as_ref().is_none_or(|found| found.over) && !then.is_empty() {
            if let Some(found) = &found {
                self.room.give(&found.rect);
            }
            found = self.find(id, line, row.0, row.1, 6.0);
            beside = found.is_some();
        }
        let found = found.or_else(|| {
            let near = self.near(line, &[stack, row], most)?;
            beside = !then.is_empty() && (near.rect.h - row.1).abs() < 0.01;
            Some(near)
        });
        let Some(Found { rect, at, .. }) = found else {
            return;
        };
        self.leader(&rect, at);
        let first = if beside { w } else { rect.w };
        let mut boxes = vec![(Rect::new(rect.x, rect.y, first, h), Class::Fine, now)];
        if !then.is_empty() {
            let under = if beside {
                Rect::new(rect.x + w + 2.0, rect.y, rect.w - w - 2.0, h)
            } else {
                Rect::new(rect.x, rect.y + h + 2.0, rect.w, rect.h - h - 2.0)
            };
            boxes.push((under, Class::Before, then));
        }
        for (own, class, rows) in boxes {
            let shape = Shape::rectangle(own.x, own.y, own.w, own.h);
            self.picture.put(Class::Sheet, shape.clone());
            self.picture.put_for(&line.key, class, shape);
            let ink = if class == Class::Before {
                Class::Soft
            } else {
                Class::Text
            };
            for (i, row) in rows.iter().enumerate() {
                let at = (own.centre().0, base(own.y + 2.0 + count(i) * LINE));
                set(
                    self.picture,
                    Some(&line.key),
                    ink,
                    Face::Plain,
                    at,
                    Anchor::Middle,
                    row,
                );
            }
        }
    }

    /// What is written on a run, with the owner's name for it where there is room.
    pub(super) fn mark(&mut self, id: usize, line: &Line) {
        let Some(leg) = line.leg.map(|leg| &self.around.legs[leg]) else {
            return;
        };
        if !leg.first && line.onward.is_none() {
            return;
        }
        let mark = if leg.first {
            leg.mark.clone()
        } else {
            String::new()
        };
        let mut name = line.onward.clone().unwrap_or_else(|| leg.run.clone());
        let grade = leg.grade.filter(|_| leg.first);
        let sign = grade.map_or(0.0, |grade| grade::width(grade, GradePlace::Mark) + 4.0);
        let bold = text::width(&mark, Face::Bold, SIZE);
        let gap = if mark.is_empty() { 0.0 } else { 4.0 };
        let short = sign + bold + 2.0;
        let long = sign + bold + gap + text::width(&name, Face::Plain, SIZE);
        let tall = LINE.max(sign);
        let mut found = None;
        if let (Some(_), [.., (x, y)]) = (&line.onward, &line.points[..]) {
            let ahead = Rect::new(x + 8.0, y - tall / 2.0, long, tall);
            found = self.room.first([ahead]).map(|rect| Found {
                rect,
                at: (*x, *y),
                over: false,
            });
        }
        let mut found = found.or_else(|| self.find(id, line, long, tall, 5.0));
        // Without its mark a name is all there is, and where it goes on must be said.
        let names = mark.is_empty() || line.onward.is_some();
        if found.is_none() && !names {
            found = self.find(id, line, short, tall, 5.0);
            if found.is_some() {
                name.clear();
            }
        }
        if found.is_none() {
            found = self.near(line, &[(if names { long } else { short }, tall)], 90);
            if !names {
                name.clear();
            }
            if let Some(Found { rect, at, .. }) = &found {
                let (rect, at) = (*rect, *at);
                self.leader(&rect, at);
            }
        }
        let Some(Found { rect, over, .. }) = found else {
            return;
        };
        if over {
            self.picture.put(
                Class::Sheet,
                Shape::rectangle(rect.x, rect.y, rect.w, rect.h),
            );
        }
        let mut x = rect.x;
        let y = rect.centre().1;
        if let Some(grade) = grade {
            let w = grade::width(grade, GradePlace::Mark);
            self.picture
                .placed
                .extend(grade::shape(grade, x + w / 2.0, y, Some(&line.key)));
            x += w + 4.0;
        }
        let level = base(y - LINE / 2.0);
        let key = Some(line.key.as_str());
        if !mark.is_empty() {
            set(
                self.picture,
                key,
                Class::Text,
                Face::Bold,
                (x, level),
                Anchor::Start,
                &mark,
            );
        }
        if !name.is_empty() {
            let at = (x + bold + gap, level);
            set(
                self.picture,
                key,
                Class::Soft,
                Face::Plain,
                at,
                Anchor::Start,
                &name,
            );
        }
    }

    /// Names of hull fittings: right of the bow-tie, else left of it.
    pub(super) fn ties(&mut self) {
        for (thing, it) in self.around.things.iter().enumerate() {
            let Some(own) = self.plan.boxes.get(&AroundSpot::Thing(thing)) else {
                continue;
            };
            if it.kind != Some(ThingKind::HullFitting) {
                continue;
            }
            let y = own.centre().1;
            let grade = sign(it, self.plan.dress);
            let sign = grade.map_or(0.0, |grade| grade::width(grade, GradePlace::Mark) + 4.0);
            let words = name(it, self.plan.dress);
            let w = sign + text::width(&words, Face::Bold, SIZE);
            let h = LINE.max(sign - 2.0);
            let top = y - h / 2.0;
            let places = [4.0, 10.0, 16.0, 24.0, 32.0, 40.0, 50.0, 60.0]
                .into_iter()
                .flat_map(|off| {
                    [
                        Rect::new(own.right() + off, top, w, h),
                        Rect::new(own.x - off - w, top, w, h),
                    ]
                });
            let found = self
                .room
                .first(places)
                .or_else(|| self.room.near(w, h, own.centre(), 90));
            let Some(found) = found else { continue };
            let mut at = found.x;
            if let Some(grade) = grade {
                let middle = at + (sign - 4.0) / 2.0;
                let level = found.centre().1;
                self.picture
                    .placed
                    .extend(grade::shape(grade, middle, level, Some(&it.key)));
                at += sign;
            }
            let level = found.centre().1 + 4.2;
            set(
                self.picture,
                Some(&it.key),
                Class::Text,
                Face::Bold,
                (at, level),
                Anchor::Start,
                &words,
            );
        }
    }

    /// The name of the waterline, with its sign.
    pub(super) fn water(&mut self) {
        let words = "waterline";
        let level = self.plan.water;
        let wide = 18.0 + text::width(words, Face::Plain, SIZE);
        let last = self.plan.width - EDGE - wide;
        let mut x = self.plan.heart_right + 6.0;
        let mut places = Vec::new();
        while x <= last {
            places.push(Rect::new(x, level - LINE - 2.0, wide, LINE + 2.0));
            places.push(Rect::new(x, level - 10.0, wide, LINE + 13.0));
            x += 6.0;
        }
        let open = |rect: &Rect| self.room.clear_but(rect, Some(WATER));
        let Some(found) = places.into_iter().find(open) else {
            return;
        };
        self.room.take(found);
        let sign = [
            (found.x, level - 8.0),
            (found.x + 10.0, level - 8.0),
            (found.x + 5.0, level),
        ];
        self.picture.put(Class::Sheet, Shape::figure(&sign));
        self.picture.put(Class::Waterline, Shape::figure(&sign));
        let top = if found.y < level - 12.0 {
            level - LINE - 2.0
        } else {
            level + 2.0
        };
        let at = (found.x + 16.0, base(top));
        set(
            self.picture,
            None,
            Class::Soft,
            Face::Plain,
            at,
            Anchor::Start,
            words,
        );
    }
}
